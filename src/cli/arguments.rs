//! The one definition of the command line's words.

use clap::builder::PossibleValuesParser;
use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::engine::ArgValueCompleter;

use crate::report::ReportPart;

use super::common::{Common, Laid, Many};
use super::digits::HowMany;
use super::drawing::{Section, Sheet};
use super::late::Late;
use super::lathe_calls::{Contour, Strip};
use super::look::Look;
use super::names::{Names, Recipes};
use super::scale_calls::{Gauge, Settle, Sure, Tally};
use super::sought_calls::{Choose, PlotFile, Seek, Sweep};

/// What the program is told.
#[derive(Debug, Parser)]
#[command(
    name = "annulet",
    version,
    about = "Finger-ring bands before the metal is cut: weight, cost, stretch and fineness from a written recipe",
    after_help = "Example:\n  annulet eval examples/harvest.annulet\n\nExit status: 0 all well; 1 sound, but a limit falls short; 2 the recipe, a file or the call is wrong; 3 what is sought cannot be met; 130 interrupted."
)]
pub(super) struct Arguments {
    #[command(subcommand)]
    pub command: Option<Command>,
    #[command(flatten)]
    pub common: Common,
}

/// A command over one recipe, with what it takes beside its own.
#[derive(Debug, Args)]
pub(super) struct OfRecipe<T: Args> {
    #[command(flatten)]
    pub call: T,
    #[command(flatten)]
    pub laid: Laid,
    #[command(flatten)]
    pub look: Look,
}

/// A command over any number of recipes.
#[derive(Debug, Args)]
pub(super) struct OfRecipes<T: Args> {
    #[command(flatten)]
    pub call: T,
    #[command(flatten)]
    pub laid: Laid,
    #[command(flatten)]
    pub many: Many,
    #[command(flatten)]
    pub look: Look,
}

/// A command over no recipe.
#[derive(Debug, Args)]
pub(super) struct OfNone<T: Args> {
    #[command(flatten)]
    pub call: T,
    #[command(flatten)]
    pub look: Look,
}

/// The words of all commands.
pub(super) const WORDS: &[&str] = &[
    "ask",
    "bench",
    "check",
    "choose",
    "compare",
    "completions",
    "contour",
    "diff",
    "eval",
    "gauge",
    "help",
    "list",
    "man",
    "offer",
    "run",
    "settle",
    "sure",
    "tally",
    "section",
    "serve",
    "sheet",
    "solve",
    "strip",
    "sweep",
    "tidy",
    "why",
];

/// The commands.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// The interactive bench: what-ifs at a prompt, or lines from a pipe
    #[command(
        after_help = "Example:\n  annulet bench examples/workshop-pair.annulet\n  echo \"try width 5 mm\" | annulet bench examples/harvest.annulet\n\n`annulet` alone does the same without a recipe. Earlier lines are kept in the file that ANNULET_HISTORY names; `off` keeps none."
    )]
    Bench(Late<OfRecipe<Bench>>),
    /// Each band on one screen; the whole report with `--full`
    #[command(
        after_help = "Example:\n  annulet eval examples/harvest.annulet --set \"width=5 mm\"\n  annulet eval examples/ferrule.annulet --part enlarger\n\nWith `--lines`: printf 'width 5 mm\\nsize US 7\\n' | annulet eval --lines --in examples/harvest.annulet\n\n`-` reads standard input; without a file: piped input, else the one *.annulet file of this folder. A folder stands for all recipes in it, at any depth."
    )]
    Eval(Late<OfRecipes<Eval>>),
    /// Mistakes and limits; prints nothing where all holds
    #[command(
        after_help = "Example:\n  annulet check examples && echo sound\n  annulet check --findings line -- examples/harvest.annulet\n  annulet check --junit examples > annulet.xml"
    )]
    Check(Late<OfRecipes<Check>>),
    /// Just the results asked for, one a line
    #[command(
        after_help = "Example:\n  annulet ask weight \"strip.length in in\" --in examples/harvest.annulet\n\n`annulet list results` and `annulet list fields` show all paths. What begins with a minus is a question too: `annulet ask \"-weight\"`."
    )]
    Ask(Late<OfRecipe<Ask>>),
    /// Bands side by side, differences first; `solid` is the solid band of the same look
    #[command(
        after_help = "Example:\n  annulet compare millstone millstone-light --in examples/workshop-pair.annulet\n  annulet compare millstone-light solid --in examples/workshop-pair.annulet --csv"
    )]
    Compare(Late<OfRecipe<Compare>>),
    /// Contour points of each part for the turning program: x and diameter, as machined or finished
    #[command(
        after_help = "Example:\n  annulet contour ferrule --part shell --in examples/ferrule.annulet --step \"0.2 mm\" --csv\n\nWith `--nose` the path of a round nose's centre stands beside the points; the channel's corners take the recipe's `nose`."
    )]
    Contour(Late<OfRecipe<Contour>>),
    /// The script by which a shell completes commands, options and names of the recipe with Tab
    #[command(
        after_help = "Examples:\n  annulet completions bash > ~/.local/share/bash-completion/completions/annulet\n  annulet completions zsh > ~/.zfunc/_annulet\n  annulet completions fish > ~/.config/fish/completions/annulet.fish\n\nThe zsh folder stands in `fpath`. From then on the shell asks the program itself."
    )]
    Completions(Late<OfNone<Completions>>),
    /// What changed between two states of a recipe or folder: fields, and every result that they moved
    #[command(
        after_help = "Example:\n  annulet diff examples/harvest.annulet examples/ferrule.annulet\n\nNothing is printed, and the status is 0, where only layout, order, comments or the spelling of units differ. git calls it too:\n  git config diff.annulet.command \"annulet diff\"\n  echo \"*.annulet diff=annulet\" >> .gitattributes"
    )]
    Diff(Late<OfRecipe<Diff>>),
    /// What the program knows: alloys, fields, moved, profiles, results, rules, schema, sizes, units
    #[command(after_help = "Example:\n  annulet list alloys yellow-750")]
    List(Late<OfNone<List>>),
    /// The manual, in the form that `man` reads
    #[command(
        after_help = "Example:\n  annulet man > annulet.1 && man ./annulet.1\n  annulet man ask > annulet-ask.1"
    )]
    Man(Late<OfNone<Manual>>),
    /// Orders as they are handed to the customer: rings, price, old metal, deposit, until when
    #[command(after_help = "Example:\n  annulet offer fair --in examples/market-day.annulet")]
    Offer(Late<OfRecipe<Offer>>),
    /// One band over many sizes: weight, strip, cost, price and limits of each
    #[command(
        after_help = "Example:\n  annulet run harvest-light --sizes \"ISO 48 .. ISO 62 by 2\" --in examples/market-day.annulet\n\nSizes are a range, a list (\"[US 6, US 7 1/2]\") or inside diameters (\"16 mm .. 20 mm by 0.5 mm\")."
    )]
    Run(Late<OfRecipe<Run>>),
    /// From a ring in the hand to a recipe: few readings in, every band that fits them out, or what contradicts
    #[command(
        after_help = "Example:\n  annulet gauge weight 5.86 g, width 5 mm, inside 16 mm, outside 20 mm, mark 925\n  annulet gauge --in in-hand.txt > found.annulet\n\nWords are `weight`, `width`, `thickness`, `inside` or `size`, `outside`; `alloy` or `mark` where known; `profile domed`, `hollow no`, `pattern no` or a block of what is known of them; `scale` and `caliper`, what these tell apart; and any line of a band. A `\u{B1}` behind a reading is what it may be off by. Alloys of your own stand beside them, or are fetched with `use`."
    )]
    Gauge(Late<OfRecipe<Gauge>>),
    /// What a reading of the scale says of one number: its value, how far that may be off, and the line to write
    #[command(
        after_help = "Example:\n  annulet settle width --in ring.annulet\n  annulet settle sterling.density --by turned --in ring.annulet\n\nOne reading settles one number; a recipe weighs a ring as in `weighed harvest { finished 4.27 g }`."
    )]
    Settle(Late<OfRecipe<Settle>>),
    /// How far figures may be off, what that comes from, and every limit at its worst
    #[command(
        after_help = "Example:\n  annulet sure examples/harvest.annulet\n  annulet sure examples/harvest.annulet --set \"shop.tolerance.turning=0.02 mm\"\n\nWhat may be off is what carries a `\u{B1}`, and what the shop's `tolerance` says of written lengths."
    )]
    Sure(Late<OfRecipe<Sure>>),
    /// A batch of weighings beside the recipe: mean, spread, drift, outliers, a control chart
    #[command(
        after_help = "Example:\n  annulet tally weighings.csv --in ring.annulet --least \"4.2 g\" --most \"4.5 g\"\n\nThe file has one ring a line, its weight in grams in the column `weight`; `-` is standard input. Without `--least` and `--most` readings are held against the range that the recipe gives."
    )]
    Tally(Late<OfRecipe<Tally>>),
    /// Recipes in an editor: a language server over standard input and output
    #[command(
        after_help = "The editor starts `annulet serve` for files that end in .annulet (Language Server Protocol 3.17): findings as in `check`, completion, values with their reasons, definitions, renaming, tidy form, repairs, weights beside the bands."
    )]
    Serve(Late<OfNone<Serve>>),
    /// Sections drawn with their figures, finished, as machined and at the enlarger: SVG, DXF, PDF or text
    #[command(
        after_help = "Example:\n  annulet section ferrule --in examples/ferrule.annulet --text\n  annulet section ferrule solid --in examples/ferrule.annulet --svg --scale 20:1\n\nSeveral bands stand side by side; `solid` is the solid band of the same look. On a terminal text, else SVG; `--out NAME.dxf` writes a file, whose ending says the form. In DXF lengths are true millimetres, x along the axis and y the radius; the scale is that of its letters."
    )]
    Section(Late<OfRecipe<Section>>),
    /// The job sheet of a ring, or of each line of an order: one page to pin beside the lathe, HTML or PDF
    #[command(
        after_help = "Example:\n  annulet sheet ferrule --in examples/ferrule.annulet --html\n\nNames are bands or orders; all bands, where none is named. `--out NAME.pdf` or `--out NAME.html` writes a file. The only date on it is one that is given: `--on`, or the order's."
    )]
    Sheet(Late<OfRecipe<Sheet>>),
    /// The outside unrolled, with its drawn cuts: SVG, DXF, or a picture in characters
    #[command(
        after_help = "Example:\n  annulet strip wicker --in examples/wicker.annulet --text\n\nOn a terminal a picture in characters, else SVG; a file's ending says which (.svg, .dxf, .txt). A band without drawn cuts gives a blank strip with its repeats."
    )]
    Strip(Late<OfRecipe<Strip>>),
    /// The best values of several fields within limits, or which limit would have to give
    #[command(
        after_help = "Example:\n  annulet choose \"shell 0.35 mm .. 0.9 mm\" \"sleeve 0.25 mm .. 0.6 mm\" least weight where \"wall.least >= 0.2 mm\" --band harvest-light --in examples/market-day.annulet\n\nA range without a step stands for all numbers in it, a list or a range with a step for those values alone. `against most PATH` after the limits shows what a second aim costs. Status 3 where nothing keeps to all limits."
    )]
    Choose(Late<OfRecipe<Choose>>),
    /// The values of one field that meet a target, or the nearest
    #[command(
        after_help = "Example:\n  annulet solve \"thickness 1.2 mm .. 2 mm\" for \"weight = 4.2 g\" --band harvest --in examples/market-day.annulet\n\nWithout bounds: from a quarter of the present value to four times as much. Status 3 where nothing between them gives the target; the nearest is shown, and what stops it."
    )]
    Solve(Late<OfRecipe<Seek>>),
    /// Many what-ifs at once: fields over ranges and lists, any results as columns
    #[command(
        after_help = "Example:\n  annulet sweep \"shell 0.45 mm .. 0.60 mm by 0.05 mm\" \"cut [0.2 mm, 0.3 mm]\" show weight, wall.least --band harvest-light --in examples/market-day.annulet\n  annulet sweep \"thickness 1.5 mm .. 2 mm by 0.1 mm\" \"width [4 mm, 5 mm]\" show weight where \"wall.least >= 0.8 mm\" least weight best 3 --in examples/harvest.annulet --csv\n\nWhat is varied stands first, then `show` the columns, `where` what must hold (`holds`: all limits), `least` or `most` what is aimed at, `best` how many rows. CSV and JSON lines are written as they come."
    )]
    Sweep(Late<OfRecipe<Sweep>>),
    /// Recipes laid out in their one form; comments and results stay as they are
    #[command(
        after_help = "Example:\n  annulet tidy --check examples/*.annulet && echo tidy\n\n`-` reads standard input and prints the tidied recipe. A recipe with a broken line is left as it is."
    )]
    Tidy(Late<OfNone<Tidy>>),
    /// Where a value comes from: formula and inputs, or every place that set it
    #[command(
        after_help = "Example:\n  annulet why weight --in examples/harvest.annulet\n  annulet why width --depth 0"
    )]
    Why(Late<OfRecipe<Why>>),
}

#[derive(Debug, Default, Args)]
pub(super) struct Bench {
    /// The recipe; on a terminal a new one where there is no such file
    #[arg(value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct Eval {
    /// Recipes, or folders of them; `-` is standard input
    #[arg(value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub files: Vec<String>,
    /// Machine output: one JSON document
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// A table with one line for each band
    #[arg(long)]
    pub csv: bool,
    /// The whole report
    #[arg(long, conflicts_with_all = ["json", "csv", "read"])]
    pub full: bool,
    /// One part of the report: made, size, dimensions, parts, weights, money, limits, fineness, machining, curves, enlarger, grip, stretch, allowances, strength, care, orders, requirements
    #[arg(
        long,
        value_name = "NAME",
        conflicts_with_all = ["full", "json", "csv", "read"],
        hide_possible_values = true,
        value_parser = PossibleValuesParser::new(ReportPart::ALL.iter().map(|(word, _)| *word)),
    )]
    pub part: Option<String>,
    /// Just the files that are read, one a line: for makefiles
    #[arg(long = "files", conflicts_with_all = ["json", "csv"])]
    pub read: bool,
    /// A recipe a line from standard input, a line of machine output for each
    #[arg(long, conflicts_with_all = ["json", "csv", "read", "digits"])]
    pub lines: bool,
    /// The recipe that lines of overrides are laid over, as `width 5 mm, size US 7`
    #[arg(long = "in", value_name = "FILE", requires = "lines", add = ArgValueCompleter::new(Recipes))]
    pub base: Option<String>,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct Offer {
    /// The order; all, where none is named
    #[arg(value_name = "ORDER", add = ArgValueCompleter::new(Names::Orders))]
    pub order: Option<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// Machine output: one JSON document
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct Run {
    /// The band; the only one, where there is but one
    #[arg(value_name = "BAND", add = ArgValueCompleter::new(Names::Bands))]
    pub band_name: Option<String>,
    /// The sizes, in any system
    #[arg(long, value_name = "SIZES")]
    pub sizes: String,
    /// What of the pattern stays the same in each size, a row for each: `repeats`, `motif` (the length of one), `outside`
    #[arg(long, value_name = "WHAT", value_delimiter = ',', value_parser = ["repeats", "motif", "outside"])]
    pub keep: Vec<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// Machine output: one JSON document
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// The table as CSV
    #[arg(long)]
    pub csv: bool,
    #[command(flatten)]
    pub plot: PlotFile,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct Serve {}

#[derive(Debug, Args)]
pub(super) struct Tidy {
    /// Recipes, or folders of them; `-` is standard input
    #[arg(value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub files: Vec<String>,
    /// Write nothing: show what would change, status 1 where anything would
    #[arg(long)]
    pub check: bool,
}

#[derive(Debug, Args)]
pub(super) struct Why {
    /// A field or a result
    #[arg(value_name = "PATH", add = ArgValueCompleter::new(Names::Paths))]
    pub path: String,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// How many levels of inputs are shown
    #[arg(long, value_name = "N", default_value_t = 9)]
    pub depth: usize,
    /// Machine output: one JSON document
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct Compare {
    /// Bands by their names, and `solid`; with `all` before them what is the same too
    #[arg(value_name = "BAND", add = ArgValueCompleter::new(Names::Bands))]
    pub bands: Vec<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// Machine output: one JSON document
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// A table with one line for each path and band
    #[arg(long)]
    pub csv: bool,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct Completions {
    /// bash, fish or zsh
    #[arg(value_name = "SHELL")]
    pub shell: ShellName,
}

/// A shell whose calls are completed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum ShellName {
    Bash,
    Fish,
    Zsh,
}

impl ShellName {
    /// Its name.
    pub fn word(self) -> &'static str {
        match self {
            Self::Bash => "bash",
            Self::Fish => "fish",
            Self::Zsh => "zsh",
        }
    }
}

#[derive(Debug, Args)]
pub(super) struct Manual {
    /// A command with a page of its own
    #[arg(value_name = "COMMAND")]
    pub command: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct Diff {
    /// The old state and the new one: recipes, or folders of them
    #[arg(value_names = ["OLD", "NEW"], num_args = 1..=9, required = true, add = ArgValueCompleter::new(Recipes))]
    pub files: Vec<String>,
    /// One recipe, tidied, followed by its results: for programs that compare texts
    #[arg(long, conflicts_with = "json")]
    pub text: bool,
    /// Machine output: one JSON document
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct Check {
    /// Recipes, or folders of them; `-` is standard input
    #[arg(value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub files: Vec<String>,
    /// Machine output: one JSON document
    #[arg(long)]
    pub json: bool,
    /// Just the files that are read, one a line: for makefiles
    #[arg(long = "files", conflicts_with_all = ["json", "held"])]
    pub read: bool,
    /// Requirements, limits and mistakes as test cases: JUnit XML
    #[arg(long, conflicts_with_all = ["json", "held", "read", "tap"])]
    pub junit: bool,
    /// The same as TAP, version 14
    #[arg(long, conflicts_with_all = ["json", "held", "read"])]
    pub tap: bool,
    /// Print every requirement with its margin, those that hold too
    #[arg(long)]
    pub held: bool,
}

#[derive(Debug, Args)]
pub(super) struct Ask {
    /// Paths or expressions
    #[arg(value_name = "PATH", required = true, add = ArgValueCompleter::new(Names::Paths))]
    pub questions: Vec<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// The bare number, all digits
    #[arg(long)]
    pub plain: bool,
    /// Lines of overrides from standard input laid over the recipe, or recipes where none is named: the answers to each,
    /// with tabs between them
    #[arg(long, conflicts_with = "json")]
    pub lines: bool,
    /// Machine output: one JSON document
    #[arg(long, conflicts_with = "plain")]
    pub json: bool,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct List {
    /// alloys, fields, moved, profiles, results, rules, schema, sizes or units; alone: what there is
    #[arg(add = ArgValueCompleter::new(Names::Lists))]
    pub what: Option<String>,
    /// A row of it, shown whole, or the beginning of some; a size as in `US 7 1/2`
    pub name: Vec<String>,
    /// Machine output: one JSON document
    #[arg(long)]
    pub json: bool,
}

impl Default for Command {
    /// The bench without a recipe.
    fn default() -> Self {
        Self::Bench(Late(OfRecipe {
            call: Bench::default(),
            laid: Laid::default(),
            look: Look::default(),
        }))
    }
}
