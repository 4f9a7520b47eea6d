//! The bench as a person sees it on terminals of several widths: no line wider than the screen, no reply longer; keys
//! that lead back to earlier lines; slips told under the line. Held against the acceptance list, points 1, 8, 47, 49.

use annulet::bench::WORDS;
use annulet::source::cells;
use tempfile::TempDir;

use crate::support::read;
use crate::terminal::{Start, Terminal, UP};

/// Widths of terminals that are tried.
const WIDTHS: [u16; 4] = [60, 80, 100, 200];

const MARKET: &str = "examples/market-day.annulet";

/// Lines whose replies are looked at.
const LINES: &[&str] = &[
    "help",
    "help recipe",
    "help prices",
    "help hollow",
    "help keys",
    "eval",
    "eval money",
    "eval enlarger",
    "list",
    "list fields shell",
    "list results machined",
    "list units",
    "list alloys",
    "list sizes",
    "try width 4 mm .. 6 mm by 1 mm",
    "try width 5 mm",
    "try",
    "drop",
    "compare all",
    "why all cost",
    "run ISO 50 .. ISO 54 by 2",
    "check",
    "show",
    "offer",
];

/// Lines of a screen that the terminal had to wrap: its contents give such rows as one.
fn too_long(screen: &str, columns: u16) -> Vec<&str> {
    screen
        .lines()
        .filter(|line| cells(line) > usize::from(columns))
        .collect()
}

#[test]
fn no_line_of_any_reply_is_wider_than_the_screen() {
    for columns in WIDTHS {
        let terminal = Terminal::start(&Start {
            arguments: &["bench", MARKET],
            columns,
            ..Start::default()
        });
        let helps: Vec<String> = WORDS
            .iter()
            .map(|word| format!("help {}", word.word))
            .collect();
        let helps = helps.iter().map(String::as_str);
        for line in LINES.iter().copied().chain(helps) {
            let screen = terminal.line(line);
            let long = too_long(&screen, columns);
            assert!(
                long.is_empty(),
                "{line} at {columns}\n{}\n{screen}",
                long.join("\n")
            );
        }
        terminal.kill();
    }
}

#[test]
fn a_reply_leaves_its_line_and_the_prompt_on_the_screen() {
    let terminal = Terminal::start(&Start {
        arguments: &["bench", MARKET],
        columns: 80,
        lines: 24,
        ..Start::default()
    });
    terminal.press("eval full\r");
    let screen = terminal.until("more lines: `more`");
    assert!(screen.contains("harvest  Harvest, solid"), "{screen}");
    terminal.press("more\r");
    terminal.wait("the next lines", |screen| {
        screen.contains("> more") && screen.contains("`more`")
    });
    terminal.kill();
}

#[test]
fn a_slip_is_told_in_two_lines_under_the_line() {
    let terminal = Terminal::default();
    for (line, mark, help) in [
        ("widht 5 mm", "^^^^^", "did you mean `width`?"),
        ("try width 5 mmm", "^^^", "did you mean `mm`?"),
        ("wieght", "^^^^^^", "weight"),
    ] {
        terminal.press("\u{c}");
        terminal.press(&format!("{line}\r"));
        let screen = terminal.wait(help, |screen| {
            screen.contains(help) && screen.trim_end().ends_with('>')
        });
        let lines: Vec<&str> = screen.lines().collect();
        let place = lines.iter().position(|shown| shown.contains(line)).unwrap();
        let under = lines[place + 1];
        let word = line
            .split(' ')
            .rfind(|word| word.len() == mark.len())
            .unwrap();
        assert_eq!(
            cells(&lines[place][..lines[place].rfind(word).unwrap()]),
            under.find(mark).unwrap_or(usize::MAX),
            "{screen}"
        );
        // The prompt stands two lines further down.
        assert!(lines[place + 2].contains(help), "{screen}");
        assert!(lines[place + 3].contains("> "), "{screen}");
    }
    terminal.kill();
}

#[test]
fn up_leads_to_earlier_lines_that_begin_so() {
    let terminal = Terminal::default();
    for line in ["weight in dwt", "width", "try thickness 1.6 mm", "drop"] {
        terminal.line(line);
    }
    let shows = |wanted: &str| {
        terminal.wait(wanted, |screen| {
            Terminal::last_line(screen).contains(wanted)
        });
    };
    terminal.press(&format!("we{UP}"));
    shows("> weight in dwt");
    terminal.press("\u{3}tr");
    terminal.press(UP);
    shows("> try thickness 1.6 mm");
    terminal.kill();
}

#[test]
fn a_block_is_edited_where_up_brings_it_back() {
    let terminal = Terminal::default();
    for line in [
        "band plain {",
        "  size ISO 54, width 4 mm",
        "  thickness 1.6 mm, profile flat, alloy sterling }",
    ] {
        terminal.press(&format!("{line}\r"));
    }
    terminal.until("plain*> ");
    terminal.press(UP);
    terminal.until("alloy sterling }");
    // One line up, to its end: the width of four becomes forty.
    terminal.press(&format!("{UP}\u{1b}[F"));
    for _ in 0.." mm".len() {
        terminal.press("\u{1b}[D");
    }
    terminal.press("0\r");
    terminal.until("width  ");
    terminal.press("plain.width\r");
    terminal.until("40 mm");
    terminal.kill();
}

#[test]
fn a_reply_fits_the_window_as_it_is_when_the_line_is_sent() {
    let terminal = Terminal::default();
    terminal.press("eva");
    terminal.until("eva");
    terminal.pty.resize(pty_process::Size::new(50, 60)).unwrap();
    terminal
        .screen
        .lock()
        .unwrap()
        .screen_mut()
        .set_size(50.try_into().unwrap(), 60.try_into().unwrap());
    terminal.press("l full\r");
    let screen = terminal.until("weights");
    let long = too_long(&screen, 60);
    assert!(long.is_empty(), "{}", long.join("\n"));
    terminal.kill();
}

#[test]
fn a_file_changed_on_disk_is_told_and_taken_in() {
    let folder = TempDir::new().unwrap();
    let (file, house) = (
        folder.path().join("r.annulet"),
        folder.path().join("house.annulet"),
    );
    let band = "use \"house.annulet\"\nband b { size ISO 54, width 4 mm, thickness 1.6 mm, profile flat, alloy mine }\n";
    let alloy = |density: &str| {
        format!("alloy mine {{ silver 925, copper 75, density {density} g/cm3 }}\n")
    };
    std::fs::write(&file, band).unwrap();
    std::fs::write(&house, alloy("10.3")).unwrap();
    let name = file.to_str().unwrap();
    let terminal = Terminal::start(&Start {
        arguments: &["bench", name],
        ..Start::default()
    });
    terminal.line("weight");
    std::fs::write(&house, alloy("20.6")).unwrap();
    terminal.press("density\r");
    let screen = terminal.until("`reload` takes it in");
    assert!(screen.contains("10.3 g/cm3"), "{screen}");
    terminal.press("reload\r");
    terminal.until("read again");
    terminal.press("\u{c}density\r");
    terminal.until("20.6 g/cm3");
    // The recipe itself: with changes that are not saved it is not read over.
    terminal.line("width 4.5 mm");
    std::fs::write(&file, band.replace("4 mm", "5 mm")).unwrap();
    terminal.press("reload\r");
    terminal.until("`reload over` forgets them");
    terminal.press("reload over\r");
    terminal.until("read again");
    terminal.press("\u{c}width\r");
    terminal.until("5 mm");
    terminal.press("undo\r");
    terminal.until("undone: reload");
    terminal.kill();
    assert!(read(name).contains("5 mm"));
}

#[test]
fn findings_of_a_paste_say_which_line() {
    let terminal = Terminal::default();
    terminal.press("\u{1b}[200~width 5 mm\nwidht 6 mm\ndrop\nthickness 1.7 mm\u{1b}[201~\r");
    let screen = terminal.until("paste:2:1");
    assert!(screen.contains("did you mean `width`?"), "{screen}");
    terminal.until("line 3: nothing is tried");
    terminal.kill();
}

/// A ring that falls short in two ways, and what its card begins with.
const SHORT: &str =
    "band b { size ISO 54, width 5 mm, thickness 1.6 mm, profile flat, alloy yellow-750
  hollow { shell 0.15 mm, sleeve 0.35 mm, ridge 0.12 mm { wide 0.4 mm } } }
";

#[test]
fn a_card_is_what_stays_on_the_screen() {
    let folder = TempDir::new().unwrap();
    let file = folder.path().join("short.annulet");
    std::fs::write(&file, SHORT).unwrap();
    let file = file.to_str().unwrap();
    let shown = |more: &[&str], end: &str| {
        let arguments = [&["eval", file], more].concat();
        let terminal = Terminal::start(&Start {
            arguments: &arguments,
            columns: 80,
            lines: 32,
            shows: end,
            ..Start::default()
        });
        let screen = terminal.screen();
        assert_eq!(terminal.end(), 1);
        screen
    };
    let card = shown(&[], "`--part NAME` one part");
    assert!(card.contains("\nb\n  hollow band, flat"), "{card}");
    assert!(card.contains("  short    in `b` only"), "{card}");
    assert!(!card.contains("evaluate::"), "{card}");
    let part = shown(&["--part", "weights"], "shows every digit");
    let (told, weights) = part.split_once("\n  weights\n").unwrap();
    assert!(told.contains("evaluate::never_seated"), "{part}");
    assert!(weights.contains("finished "), "{part}");
    // A mistake has no card.
    std::fs::write(file, SHORT.replace("flat", "falt")).unwrap();
    let arguments = ["eval", file];
    let terminal = Terminal::start(&Start {
        arguments: &arguments,
        columns: 80,
        lines: 24,
        shows: "did you mean `flat`?",
        ..Start::default()
    });
    assert_eq!(terminal.end(), 2);
}
