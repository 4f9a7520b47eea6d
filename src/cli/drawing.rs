//! What drawings are asked for, in which form, and where they go.

use clap::{Args, ValueEnum};
use clap_complete::engine::ArgValueCompleter;

use crate::source::printable;
use crate::suggest::listed;

use super::input;
use super::names::{Names, Recipes};
use super::output::Output;
use super::saved;

#[derive(Debug, Args)]
pub(super) struct Section {
    /// Bands by their names, and `solid`; the only band, where there is but one
    #[arg(value_name = "BAND", add = ArgValueCompleter::new(Names::Bands))]
    pub bands: Vec<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// What is drawn: of one band all, of several the finished rings
    #[arg(long = "view", value_name = "VIEW", value_delimiter = ',')]
    pub views: Vec<SectionPart>,
    /// How many times larger than life
    #[arg(long, value_name = "SCALE", default_value = "10:1")]
    pub scale: String,
    #[command(flatten)]
    pub drawn: DrawnAs,
}

#[derive(Debug, Args)]
pub(super) struct Sheet {
    /// Bands or orders; all bands, where none is named
    #[arg(value_name = "NAME", add = ArgValueCompleter::new(Names::Bands))]
    pub names: Vec<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// A page of HTML that needs nothing else
    #[arg(long, conflicts_with = "pdf")]
    pub html: bool,
    /// A PDF in true size
    #[arg(long)]
    pub pdf: bool,
    /// The paper
    #[arg(long, value_name = "PAPER", default_value = "a4", ignore_case = true)]
    pub paper: Paper,
    /// Cost and price stand on it
    #[arg(long)]
    pub price: bool,
    /// Where it is written, whose ending says the form: .html or .pdf; default: standard output
    #[arg(long, short, value_name = "FILE")]
    pub out: Option<String>,
}

/// The paper of a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Paper {
    A4,
    Letter,
}

/// What of a section is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum SectionPart {
    Finished,
    Machined,
    Stages,
}

/// The form of a drawing, and the file that it goes to.
#[derive(Clone, Debug, Default, Args)]
pub(super) struct DrawnAs {
    /// SVG, in true size to its scale
    #[arg(long, conflicts_with_all = ["dxf", "pdf", "text"])]
    pub svg: bool,
    /// DXF of release 12, in true millimetres
    #[arg(long, conflicts_with_all = ["pdf", "text"])]
    pub dxf: bool,
    /// A page of PDF, in true size to its scale
    #[arg(long, conflicts_with = "text")]
    pub pdf: bool,
    /// A sketch and its figures in characters
    #[arg(long)]
    pub text: bool,
    /// Where it is written, whose ending says the form: .svg, .dxf or .pdf; default: standard output
    #[arg(long, short, value_name = "FILE")]
    pub out: Option<String>,
}

/// A form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum DrawnForm {
    Svg,
    Dxf,
    Pdf,
    Text,
}

impl DrawnAs {
    /// The form: as said, by the ending of the file, or by where it goes.
    ///
    /// # Errors
    /// What to say where none can be told, or the file is none to be written over.
    pub fn form(&self, output: &Output) -> Result<DrawnForm, String> {
        let said = match (self.svg, self.dxf, self.pdf, self.text) {
            (true, ..) => Some(DrawnForm::Svg),
            (_, true, ..) => Some(DrawnForm::Dxf),
            (_, _, true, _) => Some(DrawnForm::Pdf),
            (.., true) => Some(DrawnForm::Text),
            _ => None,
        };
        if self.out.is_none() && output.is_terminal() {
            return match said {
                Some(DrawnForm::Pdf) => Err(
                    "a PDF is nothing for a terminal; write it with `--out NAME.pdf`".to_owned(),
                ),
                said => Ok(said.unwrap_or(DrawnForm::Text)),
            };
        }
        let endings = [
            (".svg", DrawnForm::Svg),
            (".dxf", DrawnForm::Dxf),
            (".pdf", DrawnForm::Pdf),
            (".txt", DrawnForm::Text),
        ];
        Written::to(&self.out).form(said, &endings, DrawnForm::Svg)
    }

    /// Where it goes.
    pub fn written(&self) -> Written<'_> {
        Written::to(&self.out)
    }
}

/// Where what is drawn goes: a file, or standard output.
#[derive(Clone, Copy)]
pub(super) struct Written<'a>(Option<&'a str>);

impl<'a> Written<'a> {
    pub fn to(out: &'a Option<String>) -> Self {
        Self(out.as_deref())
    }

    /// The form that is said, else that of the file's ending, else the usual one on standard output.
    ///
    /// # Errors
    /// What to say where both differ, none can be told, or a recipe would be written over.
    pub fn form<F: Copy + PartialEq>(
        self,
        said: Option<F>,
        endings: &[(&str, F)],
        usual: F,
    ) -> Result<F, String> {
        let Some(file) = self.0 else {
            return Ok(said.unwrap_or(usual));
        };
        let (lower, shown) = (file.to_lowercase(), printable(file));
        if lower.ends_with(input::ENDING) {
            return Err(format!(
                "`{shown}` is the name of a recipe: write the drawing under another"
            ));
        }
        let ended = endings.iter().find(|(ending, _)| lower.ends_with(ending));
        match (said, ended) {
            (Some(said), Some((ending, form))) if said != *form => Err(format!(
                "`{shown}` ends in `{ending}`, and another form is asked for; which one?"
            )),
            (Some(said), _) => Ok(said),
            (None, Some((_, form))) => Ok(*form),
            (None, None) => {
                let all = endings.iter().map(|(ending, _)| *ending);
                Err(format!(
                    "`{shown}`: the ending says the form; one of {}",
                    listed(all)
                ))
            }
        }
    }

    /// Writes text there.
    ///
    /// # Errors
    /// Why it cannot be written.
    pub fn write(self, text: &str, output: &mut Output) -> Result<(), String> {
        match self.0 {
            Some(file) => saved::write(file, text),
            None => {
                output.result(text);
                Ok(())
            }
        }
    }

    /// Writes bytes there.
    ///
    /// # Errors
    /// Why they cannot be written.
    pub fn write_bytes(self, bytes: &[u8], output: &mut Output) -> Result<(), String> {
        match self.0 {
            Some(file) => saved::write(file, bytes),
            None => {
                output.bytes(bytes);
                Ok(())
            }
        }
    }
}
