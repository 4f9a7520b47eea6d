//! Completion and manual: from the one definition of the command line, with names of the recipe at hand.
//!
//! Held against the acceptance list's point 39. The script for bash is run by bash itself; where zsh or fish is
//! installed, it reads its script.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use tempfile::TempDir;

use crate::support::{read, root, run};

const PAIR: &str = "examples/workshop-pair.annulet";

fn shell(folder: &Path, program: &str, arguments: &[&str]) -> Option<Output> {
    let own = Path::new(env!("CARGO_BIN_EXE_annulet")).parent().unwrap();
    let path = format!("{}:{}", own.display(), std::env::var("PATH").unwrap());
    let ran = Command::new(program)
        .args(arguments)
        .current_dir(folder)
        .env("PATH", path)
        .output();
    ran.ok()
}

/// What bash offers behind a line, the cursor at its end.
fn offered_in(folder: &Path, line: &str) -> Vec<String> {
    let words: Vec<&str> = line.split(' ').collect();
    let quoted: Vec<String> = words.iter().map(|word| format!("'{word}'")).collect();
    let script = format!(
        "source <(annulet completions bash)\n\
         COMP_WORDS=({})\nCOMP_CWORD={}\nCOMP_LINE='{line}'\nCOMP_POINT={}\nCOMP_TYPE=9\n\
         \"$(complete -p annulet | sed 's/.*-F \\([^ ]*\\) .*/\\1/')\" annulet '{}' 2>/dev/null\n\
         printf '%s\\n' \"${{COMPREPLY[@]}}\"",
        quoted.join(" "),
        words.len() - 1,
        line.len(),
        words.last().unwrap(),
    );
    let ran = shell(folder, "bash", &["-c", &script]).expect("bash is there");
    let text = String::from_utf8(ran.stdout).unwrap();
    text.lines()
        .map(|line| line.trim().to_owned())
        .filter(|line| !line.is_empty())
        .collect()
}

fn offered(line: &str) -> Vec<String> {
    offered_in(&root(), line)
}

#[test]
fn words_options_and_names_are_offered() {
    assert_eq!(offered("annulet comp"), ["compare", "completions"]);
    assert!(offered("annulet eval --di").contains(&"--digits".to_owned()));
    let bands = offered(&format!("annulet compare --in {PAIR} mill"));
    assert_eq!(bands, ["millstone", "millstone-light"]);
    let bands = offered(&format!("annulet ask weight --in {PAIR} --band millstone-"));
    assert_eq!(bands, ["millstone-light"]);
    let paths = offered(&format!("annulet ask --in {PAIR} millstone-light.wall."));
    assert!(
        paths.contains(&"millstone-light.wall.least".to_owned()),
        "{paths:?}"
    );
    let paths = offered(&format!("annulet ask --in {PAIR} strip."));
    assert!(paths.contains(&"strip.length".to_owned()), "{paths:?}");
    let sets = offered(&format!("annulet ask weight --in {PAIR} --set thick"));
    assert_eq!(sets, ["thickness="]);
    assert!(offered("annulet list pro").contains(&"profiles".to_owned()));
    let orders = offered("annulet offer --in examples/market-day.annulet f");
    assert_eq!(orders, ["fair"]);
    let files = offered("annulet eval examples/har");
    assert_eq!(files, ["examples/harvest.annulet"]);
}

#[test]
fn the_one_recipe_of_the_folder_serves_and_a_faulty_one_is_no_noise() {
    let folder = TempDir::new().unwrap();
    let write = |text: &str| fs::write(folder.path().join("r.annulet"), text).unwrap();
    write("band quay {\n  widht 5 mm\n}\nvariant quay-light of quay {\n");
    assert_eq!(
        offered_in(folder.path(), "annulet ask qua"),
        ["quay.", "quay-light."]
    );
    write("\u{1}{{{");
    for line in [
        "annulet ask wei",
        "annulet ask --in gone.annulet wei",
        "annulet compare a",
    ] {
        let words: Vec<&str> = line.split(' ').collect();
        let ran = Command::new(env!("CARGO_BIN_EXE_annulet"))
            .arg("--")
            .args(&words)
            .current_dir(folder.path())
            .env("ANNULET_COMPLETE", "bash")
            .env("_CLAP_COMPLETE_INDEX", (words.len() - 1).to_string())
            .output()
            .unwrap();
        assert!(
            ran.stderr.is_empty(),
            "{line}: {}",
            String::from_utf8_lossy(&ran.stderr)
        );
        assert_eq!(ran.status.code(), Some(0), "{line}");
    }
}

#[test]
fn each_shell_reads_its_script() {
    for (name, check) in [("bash", "-n"), ("zsh", "-n"), ("fish", "--no-execute")] {
        let script = run(&["completions", name], "");
        assert_eq!((script.status, script.stderr.as_str()), (0, ""));
        assert!(script.stdout.contains("ANNULET_COMPLETE"), "{name}");
        let folder = TempDir::new().unwrap();
        let file = folder.path().join("script");
        fs::write(&file, &script.stdout).unwrap();
        if let Some(ran) = shell(folder.path(), name, &[check, file.to_str().unwrap()]) {
            assert!(
                ran.status.success(),
                "{name}: {}",
                String::from_utf8_lossy(&ran.stderr)
            );
        }
    }
    let ran = run(&["completions", "tcsh"], "");
    assert_eq!(ran.status, 2);
}

/// The commands that the help lists.
fn commands() -> Vec<String> {
    let help = run(&["--help"], "").stdout;
    let lines = help
        .lines()
        .skip_while(|line| !line.starts_with("Commands:"));
    let lines = lines.skip(1).take_while(|line| !line.is_empty());
    let begin = lines.filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    begin
        .map(|line| line.split_whitespace().next().unwrap().to_owned())
        .collect()
}

#[test]
fn the_manual_has_every_command_and_option() {
    let plain = |page: &str| {
        page.replace("\\-", "-")
            .replace("\\fB", "")
            .replace("\\fR", "")
            .replace("\\fI", "")
    };
    let whole = plain(&run(&["man"], "").stdout);
    assert!(whole.contains(".TH annulet 1"), "{whole}");
    assert!(commands().len() > 12);
    for command in commands() {
        assert!(whole.contains(&command), "{command}");
        if command == "help" {
            continue;
        }
        let ran = run(&["man", &command], "");
        assert_eq!((ran.status, ran.stderr.as_str()), (0, ""), "{command}");
        let page = plain(&ran.stdout);
        assert!(page.contains(&format!("annulet-{command}")), "{command}");
        let help = run(&[&command, "--help"], "").stdout;
        for word in help.split_whitespace() {
            let option = word.trim_end_matches([',', '.', '`', '"', ')']);
            if option.starts_with("--")
                && option.len() > 2
                && help.contains(&format!("      {option}"))
            {
                assert!(page.contains(option), "{command}: {option}\n{page}");
            }
        }
    }
    let ran = run(&["man", "evla"], "");
    assert_eq!(ran.status, 2);
    assert!(
        ran.stderr.contains("did you mean `eval`?"),
        "{}",
        ran.stderr
    );
}

/// The words of a quoted list in a text, between two marks.
fn between<'t>(text: &'t str, from: &str, to: &str) -> &'t str {
    let (_, behind) = text.split_once(from).unwrap();
    behind.split_once(to).unwrap().0
}

#[test]
fn editors_highlight_every_word_that_opens_a_line_of_the_top_level() {
    let vim = read("grammar/annulet.vim");
    let vim: Vec<&str> = between(&vim, "syntax keyword annuletBlock ", "\n")
        .split_whitespace()
        .collect();
    let mate: serde_json::Value =
        serde_json::from_str(&read("grammar/annulet.tmLanguage.json")).unwrap();
    let pattern = mate["repository"]["block"]["match"].as_str().unwrap();
    let mate: Vec<&str> = between(pattern, "(?:", ")").split('|').collect();
    for word in annulet::syntax::TOP_WORDS {
        assert!(vim.contains(word), "Vim: {word}");
        assert!(mate.contains(word), "TextMate: {word}");
    }
    assert_eq!(vim.len(), annulet::syntax::TOP_WORDS.len());
    assert_eq!(mate.len(), annulet::syntax::TOP_WORDS.len());
}
