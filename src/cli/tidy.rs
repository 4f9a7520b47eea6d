//! `annulet tidy`: recipes in their one canonical form, or what would change.

use similar::TextDiff;

use crate::source::{Sources, printable};
use crate::syntax;

use super::Status;
use super::arguments::Tidy;
use super::folders;
use super::input::{self, Text};
use super::output::Output;
use super::saved;

pub(super) fn run(tidy: &Tidy, output: &mut Output) -> Status {
    let texts: Vec<Text> = if tidy.files.is_empty() {
        match input::one(None) {
            Ok(text) => vec![text],
            Err(unread) => {
                output.unread(&unread);
                return Status::Wrong;
            }
        }
    } else {
        let files = folders::expanded(&tidy.files, output);
        files.iter().map(|file| input::read(file)).collect()
    };
    let done = texts.into_iter().map(|text| one(text, tidy.check, output));
    done.max().unwrap_or(Status::Well)
}

/// Tidies one recipe: a file in its place, what was piped to standard output.
fn one(Text { name, text }: Text, check: bool, output: &mut Output) -> Status {
    let found = match text {
        Ok(text) => text,
        Err(message) => {
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let shown = printable(&name);
    let mut sources = Sources::default();
    let id = sources.add(&name, &found);
    let Some(source) = sources.get(id) else {
        return Status::Wrong;
    };
    let parsed = syntax::parse(source);
    if !parsed.findings.is_empty() {
        output.findings(&parsed.findings, &sources);
        output.complain(&format!("`{shown}` is left as it is until that is mended"));
        return Status::Wrong;
    }
    let tidied = syntax::print(&parsed.value);
    let again = sources.add(&name, &tidied);
    let same = sources.get(again).map(|again| syntax::parse(again).value);
    if same.as_ref() != Some(&parsed.value) {
        output.complain(&format!(
            "`{shown}` is left as it is: its tidied form would not read the same"
        ));
        return Status::Wrong;
    }
    let is_tidy = tidied == found;
    if check {
        if !is_tidy {
            let changes = TextDiff::from_lines(&found, &tidied);
            let tidied = format!("{shown} (tidied)");
            output.result(&changes.unified_diff().header(&shown, &tidied).to_string());
        }
        return if is_tidy { Status::Well } else { Status::Short };
    }
    if name == input::PIPED {
        output.result(&tidied);
    } else if !is_tidy {
        if let Err(message) = saved::write(&name, &tidied) {
            output.complain(&message);
            return Status::Wrong;
        }
        output.result(&format!("{shown}: tidied\n"));
    }
    Status::Well
}
