//! Any text as a drawing that a pattern is cut by: what is read of it is finite and lies in its lines, the same again; a
//! band that is cut by it holds no more metal than without, and not less than none.

use annulet::motif::read;
use annulet::session::{Library, Opened, Request, Session};

const RECIPE: &str = r#"annulet 1
cutter fine vee { angle 60 deg, tip 0.05 mm, feed 600 mm/min, plunge 120 mm/min, pass 0.15 mm }
band b {
  size ISO 56, width 6 mm, thickness 1.8 mm, profile flat, alloy silver-925
  pattern { repeats 6, cutter fine, depth 0.2 mm
    drawing all { file "drawn.svg" } }
}
"#;

/// Every file that is asked for is this drawing.
struct Only<'t>(&'t str);

impl Library for Only<'_> {
    fn open(&mut self, _: Option<&str>, path: &str) -> Result<Opened, (String, String)> {
        Ok(Opened {
            id: path.to_owned(),
            name: path.to_owned(),
            text: self.0.to_owned(),
        })
    }
}

pub fn holds(text: &str) {
    let found = read(text);
    let lines = text.split('\n').count();
    match &found {
        Ok(motif) => {
            let sizes = [motif.wide, motif.high];
            assert!(
                sizes.iter().all(|size| size.is_finite() && *size > 0.0),
                "{sizes:?}"
            );
            for mark in &motif.marks {
                assert!(!mark.points.is_empty());
                let finite = |(x, y): &(f64, f64)| x.is_finite() && y.is_finite();
                assert!(mark.points.iter().all(finite), "{mark:?}");
            }
            for one in &motif.unread {
                assert!(
                    one.count >= 1 && (1..=lines).contains(&(one.line as usize)),
                    "{one:?}"
                );
            }
            assert_eq!(Ok(motif), read(text).as_ref(), "read twice");
        }
        Err(error) => assert!(!error.message.is_empty()),
    }
    // Dense drawings take long, and what they take is bounded elsewhere.
    let points = found
        .iter()
        .flat_map(|motif| &motif.marks)
        .map(|mark| mark.points.len());
    if points.sum::<usize>() > 200 {
        return;
    }
    let mut session = Session::default();
    let outcome = session.run_with("recipe", RECIPE, &Request::default(), &mut Only(text));
    super::spans::check(&outcome.findings, &session.sources);
    assert!(
        found.is_ok() || !outcome.findings.is_empty(),
        "refused, and no word of it"
    );
    for one in &outcome.evaluations {
        let (cut, uncut) = (one.figures.weight, one.figures.weight_uncut);
        assert!(
            cut.is_finite() && cut >= 0.0 && cut <= uncut * (1.0 + 1e-9),
            "{cut} of {uncut}"
        );
    }
}
