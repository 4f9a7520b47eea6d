//! What is drawn of any recipe that is sound: contours and sections hold finite numbers alone, inside the ring; what is
//! written of them holds no character that a reader would act on.

use annulet::drawing;
use annulet::explore::{ContourOf, contours};
use annulet::kernel::lathe::LatheState;
use annulet::report::{self, SectionKinds, SectionOf};
use annulet::source::is_safe;

use super::run::Run;

/// Points may stand beside the ring by this, mm: a width is rounded where it is written.
const CLOSE: f64 = 1e-6;

pub fn holds(text: &str) {
    let run = Run::of(text);
    if run.is_wrong() {
        return;
    }
    for one in run.outcome.evaluations.iter().take(2) {
        let shape = &one.input.shape;
        for (state, nose) in [
            (LatheState::Machined, None),
            (LatheState::Finished, None),
            (LatheState::Finished, Some(0.2)),
        ] {
            let of = ContourOf {
                part: None,
                state,
                step: shape.width / 16.0,
                nose,
            };
            let found = contours(one, of);
            for (part, paths) in &found.parts {
                for path in paths {
                    for point in &path.rows {
                        let finite = point.x.is_finite() && point.diameter.is_finite();
                        assert!(finite && point.diameter >= -CLOSE, "{part:?} {point:?}");
                        let reach = shape.width + 2.0 * nose.unwrap_or(0.0) + 1.0;
                        assert!(point.x.abs() <= reach, "{part:?} {point:?}");
                    }
                }
            }
            let table = report::contours_csv(&found);
            assert!(!table.contains("NaN") && !table.contains("inf"), "{table}");
        }
        let title = one.band.name.clone();
        let of = [SectionOf {
            title,
            evaluation: one,
        }];
        let kinds = SectionKinds {
            finished: true,
            machined: true,
            stages: true,
        };
        let picture = report::section(&of, kinds, 10.0);
        let svg = drawing::svg(&picture);
        let dxf = drawing::dxf::dxf(&picture);
        assert_eq!(dxf.lines().count() % 2, 0, "a code has no value");
        assert!(drawing::pdf(&[picture]).starts_with(b"%PDF-"));
        for written in [&svg, &dxf, &report::section_text(&of, kinds, 80)] {
            assert!(
                !written.contains("NaN") && !written.contains("inf "),
                "{written}"
            );
            let seen = |c: char| is_safe(c) || matches!(c, '\n' | '\r');
            assert!(written.chars().all(seen));
        }
    }
}
