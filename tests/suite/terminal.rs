//! The bench on a pseudo-terminal: keys as a person presses them, the screen as a person sees it.
//!
//! The screen is what a terminal emulator (the `vt100` crate) makes of the bytes. Held against the acceptance
//! list's points 1 to 5, 8, 19 and 25, and the language page's section on the bench.

use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::Child;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use pty_process::blocking::{Command, Pty};
use tempfile::TempDir;

use crate::support::root;

/// How long a screen may take to show what is waited for; only a broken bench takes as long.
const PATIENCE: Duration = Duration::from_secs(20);

/// A history whose place is not said.
const NOWHERE: &str = "not said";

const PAIR: &str = "examples/workshop-pair.annulet";

/// A bench on a terminal.
pub(crate) struct Terminal {
    pub(crate) pty: Arc<Pty>,
    child: Child,
    pub(crate) screen: Arc<Mutex<vt100::Parser>>,
    bytes: Arc<Mutex<Vec<u8>>>,
    _folder: tempfile::TempDir,
}

/// How it is started.
pub(crate) struct Start<'a> {
    pub(crate) arguments: &'a [&'a str],
    pub(crate) columns: u16,
    pub(crate) lines: u16,
    pub(crate) history: Option<PathBuf>,
    pub(crate) environment: &'a [(&'a str, &'a str)],
    /// What the screen shows once it has started.
    pub(crate) shows: &'a str,
}

impl Default for Start<'_> {
    fn default() -> Self {
        Self {
            arguments: &["bench", PAIR],
            columns: 100,
            lines: 50,
            history: None,
            environment: &[],
            shows: "> ",
        }
    }
}

impl Terminal {
    pub(crate) fn start(start: &Start<'_>) -> Self {
        let (pty, pts) = pty_process::blocking::open().unwrap();
        pty.resize(pty_process::Size::new(start.lines, start.columns))
            .unwrap();
        let history = start.history.clone().unwrap_or_else(|| "off".into());
        // A bench that is ended keeps what was not saved beside its recipe: an example is opened as a copy.
        let folder = tempfile::tempdir().unwrap();
        let examples = start
            .arguments
            .iter()
            .filter(|word| word.starts_with("examples/"));
        for example in examples.clone() {
            let copy = folder.path().join(example);
            std::fs::create_dir_all(copy.parent().unwrap()).unwrap();
            std::fs::copy(root().join(example), copy).unwrap();
        }
        let of_examples = examples.count() > 0;
        let stands_in = if of_examples {
            folder.path().to_owned()
        } else {
            root()
        };
        let mut command = Command::new(env!("CARGO_BIN_EXE_annulet"))
            .args(start.arguments)
            .current_dir(stands_in)
            .env("ANNULET_HISTORY", &history)
            .env("TERM", "xterm-256color")
            .env_remove("NO_COLOR")
            .env_remove("COLUMNS");
        if history == Path::new(NOWHERE) {
            command = command.env_remove("ANNULET_HISTORY");
        }
        for (name, value) in start.environment {
            command = command.env(name, value);
        }
        let child = command.spawn(pts).unwrap();
        let pty = Arc::new(pty);
        let screen = Arc::new(Mutex::new(vt100::Parser::new(
            start.lines.try_into().unwrap(),
            start.columns.try_into().unwrap(),
            5000,
        )));
        let bytes = Arc::new(Mutex::new(Vec::new()));
        let (reader, shown, kept) = (Arc::clone(&pty), Arc::clone(&screen), Arc::clone(&bytes));
        std::thread::spawn(move || {
            let mut chunk = [0; 4096];
            while let Ok(count) = (&*reader).read(&mut chunk) {
                if count == 0 {
                    break;
                }
                shown.lock().unwrap().process(&chunk[..count]);
                kept.lock().unwrap().extend_from_slice(&chunk[..count]);
            }
        });
        let terminal = Self {
            pty,
            child,
            screen,
            bytes,
            _folder: folder,
        };
        terminal.until(start.shows);
        terminal
    }

    pub(crate) fn default() -> Self {
        Self::start(&Start::default())
    }

    pub(crate) fn press(&self, keys: &str) {
        self.send(keys.as_bytes());
    }

    pub(crate) fn send(&self, bytes: &[u8]) {
        (&*self.pty).write_all(bytes).unwrap();
    }

    pub(crate) fn screen(&self) -> String {
        self.screen.lock().unwrap().screen().contents()
    }

    /// Waits until the screen shows a text.
    pub(crate) fn until(&self, text: &str) -> String {
        self.wait(&format!("`{text}`"), |screen| screen.contains(text))
    }

    pub(crate) fn wait(&self, what: &str, holds: impl Fn(&str) -> bool) -> String {
        let start = Instant::now();
        loop {
            let screen = self.screen();
            if holds(&screen) {
                return screen;
            }
            assert!(start.elapsed() < PATIENCE, "waited for {what}:\n{screen}");
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// The last line that is not empty.
    pub(crate) fn last_line(screen: &str) -> &str {
        screen
            .lines()
            .rfind(|line| !line.trim().is_empty())
            .unwrap_or("")
    }

    /// Types a line and waits for the prompt behind its answer.
    pub(crate) fn line(&self, line: &str) -> String {
        self.press("\u{15}");
        self.press(line);
        self.press("\r");
        // An answer of its own shows that the line was taken.
        self.press("digits nothing\r");
        let screen = self.until("write `digits all`");
        self.press("\u{c}");
        self.wait("an empty screen", |screen| {
            !screen.contains("write `digits all`")
        });
        screen
    }

    /// Waits for the end; its status.
    pub(crate) fn end(mut self) -> i32 {
        let start = Instant::now();
        loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                return status.code().unwrap_or(-1);
            }
            assert!(
                start.elapsed() < PATIENCE,
                "it does not end:\n{}",
                self.screen()
            );
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// Sends it a signal by its name.
    pub(crate) fn signal(&self, name: &str) {
        let signal = format!("-{name}");
        let process = self.child.id().to_string();
        let sent = std::process::Command::new("kill")
            .args([&signal, &process])
            .status();
        assert!(sent.unwrap().success());
    }

    pub(crate) fn kill(mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }
}

pub(crate) const UP: &str = "\u{1b}[A";
const CTRL_C: &str = "\u{3}";
const CTRL_D: &str = "\u{4}";

const BLOCK: [&str; 3] = [
    "band plain { # mine",
    "  size ISO 54, width 4 mm, thickness 1.6 mm",
    "  profile flat, alloy sterling }",
];

#[test]
fn a_block_is_typed_over_lines_with_marks_and_comes_back_whole() {
    let terminal = Terminal::default();
    for line in BLOCK {
        terminal.press(&format!("{line}\r"));
    }
    let screen = terminal.until("plain: ");
    let marks = screen
        .lines()
        .filter(|line| line.starts_with("  … "))
        .count();
    assert_eq!(marks, 2, "{screen}");
    terminal.until("plain*> ");
    terminal.press("\u{c}");
    terminal.press(UP);
    let screen = terminal.until("alloy sterling }");
    for line in BLOCK {
        assert!(
            screen.lines().any(|shown| shown.ends_with(line)),
            "{screen}"
        );
    }
}

#[test]
fn half_a_block_is_forgotten_with_ctrl_c() {
    let terminal = Terminal::default();
    terminal.press("band half {\r  width 3 mm\r");
    terminal.wait("a second mark", |screen| {
        screen.matches("  … ").count() == 2
    });
    terminal.press(CTRL_C);
    terminal.press("width in cm\r");
    terminal.until("0.52 cm");
    // And at an empty prompt it ends nothing.
    terminal.press(CTRL_C);
    terminal.press(CTRL_C);
    terminal.press("width in in\r");
    terminal.until("0.2047 in");
    terminal.press(CTRL_D);
    assert_eq!(terminal.end(), 0);
}

#[test]
fn a_paste_comes_to_the_same_with_and_without_brackets() {
    let text: String = (0..80)
        .map(|n| {
            format!("band b{n} {{\n  size ISO {}\n  width 4 mm\n  thickness 1.6 mm\n  profile flat, alloy sterling }}\n", 45 + n % 20)
        })
        .collect();
    assert_eq!(text.lines().count(), 400);
    let folder = TempDir::new().unwrap();
    let saved = |name: &str, paste: &str| {
        let file = folder.path().join(format!("{name}.annulet"));
        let terminal = Terminal::start(&Start {
            arguments: &["bench"],
            ..Start::default()
        });
        terminal.press(paste);
        terminal.until("b79");
        terminal.press(&format!("\rsave {}\r", file.display()));
        // Between two prompts Ctrl-D is nobody's key.
        terminal.wait("the prompt", |screen| {
            screen.contains("saved ") && Terminal::last_line(screen).trim_end().ends_with('>')
        });
        terminal.press(CTRL_D);
        assert_eq!(terminal.end(), 0);
        std::fs::read_to_string(file).unwrap()
    };
    let plain = saved("plain", &text.replace('\n', "\r"));
    let bracketed = saved("bracketed", &format!("\u{1b}[200~{text}\u{1b}[201~\r"));
    let piped = folder.path().join("piped.annulet");
    let input = format!("{text}save {}\n", piped.display());
    let ran = crate::support::run(&["bench"], &input);
    assert_eq!(ran.status, 0, "{}", ran.stderr);
    let piped = std::fs::read_to_string(piped).unwrap();
    assert_eq!(plain, piped);
    assert_eq!(bracketed, piped);
}

#[test]
fn lines_survive_a_kill_and_two_sessions_keep_both() {
    let folder = TempDir::new().unwrap();
    let start = Start {
        history: Some(folder.path().join("lines")),
        ..Start::default()
    };
    let first = Terminal::start(&start);
    let second = Terminal::start(&start);
    first.line("weight in dwt");
    second.line("weight in ozt");
    first.kill();
    second.kill();
    let kept = std::fs::read_to_string(folder.path().join("lines")).unwrap();
    assert!(
        kept.contains("weight in dwt") && kept.contains("weight in ozt"),
        "{kept}"
    );
    let third = Terminal::start(&start);
    third.press(UP);
    third.until("digits nothing");
    third.press(UP);
    third.wait("an earlier line", |screen| {
        Terminal::last_line(screen).contains("weight in ")
    });
    third.kill();
}

#[test]
fn a_file_that_holds_no_earlier_lines_is_left_as_it_is() {
    let folder = TempDir::new().unwrap();
    let recipe = folder.path().join("r.annulet");
    let text = crate::support::band_with(&[]);
    for held in [text.as_str(), "#V", "#V20\n", "\u{e9}\n"] {
        std::fs::write(&recipe, held).unwrap();
        let terminal = Terminal::start(&Start {
            history: Some(recipe.clone()),
            ..Start::default()
        });
        terminal.until("holds something else");
        terminal.line("weight in dwt");
        let screen = terminal.line("weight in ozt");
        assert!(!screen.contains("for later"), "{screen}");
        terminal.kill();
        assert_eq!(std::fs::read_to_string(&recipe).unwrap(), held);
    }
    // An empty file holds nothing that could be lost.
    std::fs::write(&recipe, "").unwrap();
    let terminal = Terminal::start(&Start {
        history: Some(recipe.clone()),
        ..Start::default()
    });
    terminal.line("weight in dwt");
    terminal.kill();
    let kept = std::fs::read_to_string(&recipe).unwrap();
    assert!(kept.contains("weight in dwt"), "{kept}");
}

#[test]
fn history_can_be_off_or_stand_in_the_folder_for_state() {
    let folder = TempDir::new().unwrap();
    let state = folder.path().to_str().unwrap();
    let kept = || {
        let lines = Path::new(state).join("annulet/history");
        std::fs::read_to_string(lines).unwrap_or_default()
    };
    for off in ["off", ""] {
        let terminal = Terminal::start(&Start {
            environment: &[("XDG_STATE_HOME", state), ("ANNULET_HISTORY", off)],
            ..Start::default()
        });
        terminal.line("weight in dwt");
        terminal.kill();
        assert_eq!(kept(), "");
    }
    let terminal = Terminal::start(&Start {
        history: Some(PathBuf::from(NOWHERE)),
        environment: &[("XDG_STATE_HOME", state)],
        ..Start::default()
    });
    terminal.line("weight in dwt");
    terminal.kill();
    assert!(kept().contains("weight in dwt"));
}

#[test]
fn tab_offers_what_fits_the_place_and_the_dimension() {
    let terminal = Terminal::default();
    let offered = |typed: &str, wanted: &[&str], unwanted: &[&str]| {
        terminal.press("\u{15}\u{c}");
        terminal.press(typed);
        terminal.press("\t\t");
        let screen = terminal.wait(wanted[0], |screen| {
            wanted
                .iter()
                .all(|word| screen.split_whitespace().any(|shown| shown == *word))
        });
        for word in unwanted {
            assert!(
                !screen.split_whitespace().any(|shown| shown == *word),
                "{word}:\n{screen}"
            );
        }
        terminal.press(CTRL_C);
    };
    offered("try width 1.5 ", &["mm", "cm", "in"], &["g", "N", "ozt"]);
    offered("weight in ", &["g", "dwt", "ozt"], &["mm", "cm"]);
    offered("alloy ste", &["sterling", "sterling-silver"], &["annealed"]);
    offered(
        "try profile ",
        &["domed", "flat", "knife-edge"],
        &["sterling"],
    );
    offered("on ", &["millstone", "millstone-light"], &["width"]);
    // One word that fits is put in whole.
    terminal.press("\u{15}try thick\t1.6 m\tm\r");
    terminal.until("1.65 mm");
}

#[test]
fn what_a_line_comes_to_is_hinted_behind_it_where_there_is_room() {
    let terminal = Terminal::default();
    terminal.press("try width 5 mm");
    let screen = terminal.until("weight ≈ 5.816 g");
    assert!(
        Terminal::last_line(&screen).contains("\u{2212}0.233 g"),
        "{screen}"
    );
    terminal.press("\u{15}weight in dwt");
    // 6.049 g at 1.55517384 g to the pennyweight.
    terminal.until("= ≈ 3.89 dwt");
    let narrow = Terminal::start(&Start {
        columns: 32,
        ..Start::default()
    });
    narrow.line("try width 5 mm");
    narrow.press("try width 5.5 mm");
    let screen = narrow.until("try width 5.5 mm");
    assert!(!Terminal::last_line(&screen).contains('≈'), "{screen}");
}

#[test]
fn a_narrow_terminal_gets_every_line_whole() {
    let narrow = Terminal::start(&Start {
        columns: 32,
        ..Start::default()
    });
    let screen = narrow.line("try width 5 mm");
    assert!(screen.contains("→ ≈ 5.816 g"), "{screen}");
    let answers = screen.lines().filter(|line| line.starts_with("  "));
    for line in answers {
        assert!(annulet::source::cells(line) <= 32, "{line}");
    }
}

#[test]
fn carets_stand_under_the_right_cell_behind_wide_characters() {
    let terminal = Terminal::default();
    terminal.press("title \"環\", width 5 mmm\r");
    let screen = terminal.until("did you mean `mm`");
    let lines: Vec<&str> = screen.lines().collect();
    let place = lines.iter().position(|line| line.contains("mmm")).unwrap();
    let cells = |line: &str, before: &str| {
        let at = line.find(before).unwrap();
        annulet::source::cells(&line[..at])
    };
    let unit = cells(lines[place], "mmm");
    let caret = cells(lines[place + 1], "^");
    assert_eq!(unit, caret, "{screen}");
}

#[test]
fn colour_is_used_only_where_it_is_wanted() {
    let colours = |environment: &[(&str, &str)]| {
        let terminal = Terminal::start(&Start {
            environment,
            ..Start::default()
        });
        terminal.press("width 5 g # no\r");
        terminal.until("a mass");
        let bytes = terminal.bytes.lock().unwrap().clone();
        let text = String::from_utf8_lossy(&bytes).into_owned();
        // Any selection of colour or weight, beside a reset.
        text.split("\u{1b}[").skip(1).any(|rest| {
            let end = rest.find(|c: char| c.is_ascii_alphabetic()).unwrap_or(0);
            rest[end..].starts_with('m') && !matches!(&rest[..end], "" | "0")
        })
    };
    assert!(colours(&[]));
    assert!(!colours(&[("NO_COLOR", "1")]));
    assert!(colours(&[("NO_COLOR", "")]));
    // An option beats the environment, in the line that is typed too.
    let terminal = Terminal::start(&Start {
        arguments: &["bench", PAIR, "--color", "always"],
        environment: &[("NO_COLOR", "1")],
        ..Start::default()
    });
    terminal.press("width");
    terminal.until("> width");
    let bytes = terminal.bytes.lock().unwrap().clone();
    let text = String::from_utf8_lossy(&bytes).into_owned();
    assert!(text.contains("\u{1b}[36mwidth"), "{text:?}");
    terminal.kill();
}

#[test]
fn a_terminal_that_can_do_nothing_is_served_plainly() {
    let terminal = Terminal::start(&Start {
        environment: &[("TERM", "dumb")],
        ..Start::default()
    });
    terminal.press("weight in g\r");
    terminal.until("6.049 g");
    let bytes = terminal.bytes.lock().unwrap().clone();
    assert!(
        !bytes.contains(&0x1b),
        "{}",
        String::from_utf8_lossy(&bytes)
    );
    terminal.press(CTRL_D);
    assert_eq!(terminal.end(), 0);
}

#[test]
fn leaving_with_unsaved_changes_is_asked_about() {
    let folder = TempDir::new().unwrap();
    let file = folder.path().join("r.annulet");
    std::fs::copy(root().join(PAIR), &file).unwrap();
    let name = file.to_str().unwrap();
    let begin = || {
        let terminal = Terminal::start(&Start {
            arguments: &["bench", name],
            ..Start::default()
        });
        terminal.press("width 5 mm\r");
        terminal.until("millstone*> ");
        terminal.press(CTRL_D);
        terminal.until("save them first?");
        terminal
    };
    let terminal = begin();
    // A held Ctrl-D loses nothing.
    terminal.press(CTRL_D);
    terminal.wait("the prompt", |screen| {
        Terminal::last_line(screen).starts_with("r:millstone*>")
    });
    terminal.press(CTRL_D);
    terminal.wait("the question", |screen| {
        screen.matches("save them first?").count() == 2
    });
    terminal.press("no\r");
    assert_eq!(terminal.end(), 0);
    assert!(
        std::fs::read_to_string(&file)
            .unwrap()
            .contains("width 5.2 mm")
    );
    let terminal = begin();
    terminal.press("yes\r");
    assert_eq!(terminal.end(), 0);
    assert!(
        std::fs::read_to_string(&file)
            .unwrap()
            .contains("width 5 mm")
    );
}

/// A bench on a copy of the pair in a folder of its own.
fn on_a_copy(folder: &TempDir) -> Terminal {
    let file = folder.path().join("r.annulet");
    std::fs::copy(root().join(PAIR), &file).unwrap();
    Terminal::start(&Start {
        arguments: &["bench", file.to_str().unwrap()],
        ..Start::default()
    })
}

#[test]
fn a_byte_that_is_no_text_takes_its_line_and_nothing_else() {
    let folder = TempDir::new().unwrap();
    let terminal = on_a_copy(&folder);
    terminal.press("width 5 mm\r");
    terminal.until("r:millstone*> ");
    // A letter of another encoding, in a line and within a block.
    for typed in [
        &b"title \"caf\xE9\"\r"[..],
        b"band n {\r",
        b"  title \"caf\xE9\"",
    ] {
        terminal.send(typed);
        if typed.ends_with(b"{\r") {
            terminal.until("\u{2026}");
        } else {
            terminal.until("is not text");
            terminal.press("\r\u{c}");
            terminal.wait("an empty screen", |screen| !screen.contains("is not text"));
        }
    }
    terminal.press("\u{15}weight in dwt\r");
    terminal.until("dwt\n");
    let screen = terminal.line("width");
    assert!(screen.contains("\n5 mm"), "{screen}");
    // Also in answer to a question.
    terminal.press(CTRL_D);
    terminal.until("save them first?");
    terminal.send(b"\xFFyes\r");
    terminal.until("is not text");
    let at_the_prompt = |prompt: &str| {
        let shown = |screen: &str| Terminal::last_line(screen).starts_with(prompt);
        terminal.wait("the prompt", shown);
    };
    at_the_prompt("r:millstone*>");
    terminal.press("\r\u{15}save\r");
    terminal.until("saved");
    // Keys are lost while the line editor is not yet back.
    at_the_prompt("r:millstone>");
    terminal.press(CTRL_D);
    assert_eq!(terminal.end(), 0);
    let text = std::fs::read_to_string(folder.path().join("r.annulet")).unwrap();
    assert!(
        text.contains("width 5 mm") && !text.contains("caf"),
        "{text}"
    );
}

#[test]
fn undo_behind_a_save_under_another_name_is_asked_about() {
    let folder = TempDir::new().unwrap();
    let terminal = on_a_copy(&folder);
    let other = folder.path().join("s.annulet");
    terminal.press("width 5 mm\r");
    terminal.until("r:millstone*> ");
    terminal.press(&format!("save {}\r", other.display()));
    terminal.until("s:millstone> ");
    terminal.press("undo\r");
    terminal.until("which file does `save` write");
    terminal.press("stay\r");
    terminal.wait("the prompt", |screen| {
        Terminal::last_line(screen).starts_with("s:millstone>")
    });
    terminal.press("\u{c}undo\r");
    terminal.until("which file does `save` write");
    terminal.press("new\r");
    terminal.until("s:millstone*> ");
    terminal.press("save\r");
    terminal.wait("the prompt behind `saved`", |screen| {
        screen.contains("saved ") && Terminal::last_line(screen).starts_with("s:millstone>")
    });
    terminal.press(CTRL_D);
    assert_eq!(terminal.end(), 0);
    let width = |name: &str| {
        let text = std::fs::read_to_string(folder.path().join(name)).unwrap();
        text.matches("width 5.2 mm").count()
    };
    assert_eq!((width("r.annulet"), width("s.annulet")), (2, 2));
}

#[test]
fn nothing_that_is_pasted_or_completed_steers_the_terminal() {
    let folder = TempDir::new().unwrap();
    std::fs::write(folder.path().join("x\u{1b}]52;c;aGk=\u{7}1.annulet"), "").unwrap();
    std::fs::write(folder.path().join("x\u{1b}]52;c;aGk=\u{7}2.annulet"), "").unwrap();
    for color in ["", "1"] {
        let terminal = Terminal::start(&Start {
            environment: &[("NO_COLOR", color)],
            ..Start::default()
        });
        terminal.press("\u{1b}[200~title \"a\u{1b}]52;c;aGk=\u{7}b\u{9b}2Jc\"\u{1b}[201~");
        terminal.until("title");
        terminal.press("\r\u{15}digits nothing\r");
        terminal.until("write `digits all`");
        terminal.press(&format!("open {}/\t\t", folder.path().display()));
        terminal.until("2.annulet");
        let bytes = terminal.bytes.lock().unwrap().clone();
        let shown = String::from_utf8_lossy(&bytes).into_owned();
        assert!(!shown.contains("\u{1b}]52"), "{shown:?}");
        assert!(!shown.contains('\u{9b}'), "{shown:?}");
        terminal.kill();
    }
}

#[test]
fn lines_are_kept_in_a_file_and_nowhere_else() {
    let folder = TempDir::new().unwrap();
    let pipe = folder.path().join("history");
    let made = std::process::Command::new("mkfifo").arg(&pipe).status();
    if !made.is_ok_and(|status| status.success()) {
        return;
    }
    // A pipe would be waited for.
    let terminal = Terminal::start(&Start {
        history: Some(pipe),
        ..Start::default()
    });
    let screen = terminal.until("is a pipe");
    assert!(screen.contains("lines are not kept"), "{screen}");
    terminal.press("width\r");
    terminal.until("5.2 mm");
    terminal.press(CTRL_D);
    assert_eq!(terminal.end(), 0);
}

#[test]
fn a_kill_while_saving_leaves_the_old_file_or_the_new_one() {
    let folder = TempDir::new().unwrap();
    let file = folder.path().join("r.annulet");
    let texts: Vec<String> = (0..2)
        .map(|n| {
            format!(
                "# {n}\n{}",
                "# a line that makes the file long\n".repeat(3000)
            )
        })
        .collect();
    std::fs::write(&file, &texts[0]).unwrap();
    // Saves over and over, killed at moments of all kinds.
    for wait in [0, 1, 2, 3, 5, 8, 13, 21] {
        let script = "width 5 mm\nsave\nundo\nsave\n".repeat(200);
        std::fs::write(&file, format!("{}{}", texts[0], "band b {\n  size ISO 54, width 4 mm, thickness 1.6 mm\n  profile flat, alloy sterling\n}\n")).unwrap();
        let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_annulet"))
            .args(["bench", file.to_str().unwrap()])
            .stdin(std::process::Stdio::piped())
            .stdout(std::process::Stdio::null())
            .stderr(std::process::Stdio::null())
            .spawn()
            .unwrap();
        let mut pipe = child.stdin.take().unwrap();
        let writer = std::thread::spawn(move || {
            let _ = pipe.write_all(script.as_bytes());
        });
        std::thread::sleep(Duration::from_millis(20 + 7 * wait));
        child.kill().unwrap();
        child.wait().unwrap();
        writer.join().unwrap();
        let text = std::fs::read_to_string(&file).unwrap();
        let whole =
            text.starts_with(&texts[0]) && text.ends_with("profile flat, alloy sterling\n}\n");
        let width = text.contains("width 4 mm") != text.contains("width 5 mm");
        assert!(whole && width, "{} bytes", text.len());
    }
}
