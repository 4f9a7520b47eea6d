//! Long lines told to end, and sessions ended by a signal: nothing is lost, nothing is half done.
//!
//! Held against the promise that Ctrl-C ends any work at the prompt within 200 ms; here it must do so within seconds, since
//! the tests run beside each other in a slow build.

use std::sync::atomic::Ordering;
use std::time::{Duration, Instant};

use tempfile::TempDir;

use crate::bench::{bench_on, typed};
use crate::terminal::{Start, Terminal};

/// A band whose pattern takes long to work out, and of which much may be off.
const LONG: &str = "annulet 1
cutter vee vee { angle 90 deg, tip 0.05 mm, feed 600 mm/min, plunge 120 mm/min, pass 0.15 mm }
band b {
  size ISO 56, width 6 mm ± 0.05 mm, thickness 1.6 mm ± 0.05 mm, profile flat, alloy silver-925
  pattern { repeats 12, cutter vee, depth 0.22 mm
    path up { from 1.15 mm -1.15 mm, to 4.25 mm -1.15 mm, to 2.7 mm 1.55 mm, to 1.15 mm -1.15 mm }
    ring border { from-edge 0.4 mm, both yes, depth 0.15 mm } }
}
";

/// What a line that is told to end may still take in a build for tests.
const SOON: Duration = Duration::from_secs(4);

#[test]
fn a_line_that_is_told_to_end_changes_nothing() {
    let many: String = (0..40)
        .map(|one| format!("try width 5.{one:02} mm\n"))
        .collect();
    // A line, and whether it says how far it came.
    let lines = [
        ("sweep width 3 mm .. 8 mm by 0.01 mm show weight", true),
        ("solve width 2 mm .. 7 mm for weight = 4 g", false),
        (
            "choose width 3 mm .. 8 mm, thickness 1 mm .. 3 mm least weight",
            false,
        ),
        ("run 15 mm .. 24 mm by 0.05 mm", false),
        ("try width 3 mm .. 6 mm by 0.02 mm", false),
        ("sure", false),
        ("keep", false),
    ];
    let (mut bench, _) = bench_on(LONG);
    let weight = typed(&mut bench, &["weight"]);
    for (line, partly) in lines {
        if line == "keep" {
            bench.step(&many.lines().take(12).collect::<Vec<_>>().join("\n"));
        }
        let (text, tries) = (bench.text().to_owned(), bench.tries());
        let stop = bench.interrupts();
        let raised = std::thread::spawn(move || {
            std::thread::sleep(Duration::from_millis(25));
            stop.store(true, Ordering::Relaxed);
            Instant::now()
        });
        let reply = bench.step(line);
        let took = raised.join().unwrap().elapsed();
        assert!(reply.stopped, "{line}: {reply:?}");
        assert!(took < SOON, "{line}: {took:?}");
        assert_eq!(reply.refused, !partly, "{line}: {reply:?}");
        assert!(
            reply.text.contains("interrupted after") == partly,
            "{line}: {reply:?}"
        );
        assert_eq!(
            (bench.text(), bench.tries()),
            (text.as_str(), tries),
            "{line}"
        );
        if line != "keep" {
            assert_eq!(typed(&mut bench, &["weight"]), weight, "{line}");
        }
    }
    // What was not kept is still tried, and can be.
    assert!(bench.tries() > 0);
    typed(&mut bench, &["drop", "weight"]);
}

#[test]
fn a_signal_leaves_unsaved_work_in_a_file_that_it_names() {
    let folder = TempDir::new().unwrap();
    let file = folder.path().join("r.annulet");
    let text = LONG.split("  pattern").next().unwrap().to_owned() + "}\n";
    std::fs::write(&file, &text).unwrap();
    let arguments = ["bench", file.to_str().unwrap()];
    let start = || {
        Terminal::start(&Start {
            arguments: &arguments,
            ..Start::default()
        })
    };
    let terminal = start();
    terminal.press("thickness 1.7 mm\rtry width 5 mm\r");
    terminal.until("+1> ");
    terminal.signal("TERM");
    let screen = terminal.until("unsaved");
    assert!(screen.contains("ended by a signal"), "{screen}");
    assert_eq!(terminal.end(), -1, "it ends by the signal");
    let left = std::fs::read_to_string(folder.path().join("r.annulet.unsaved")).unwrap();
    assert!(left.contains("thickness 1.7 mm"), "{left}");
    assert!(left.ends_with("# tried (on b): width 5 mm\n"), "{left}");
    assert_eq!(std::fs::read_to_string(&file).unwrap(), text);
    let terminal = start();
    let screen = terminal.until("> ");
    assert!(screen.contains("had not saved"), "{screen}");
    terminal.kill();
}
