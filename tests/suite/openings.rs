//! Openings that are suggested: put back, each passes at both ends of what the enlarger repeats within.
//!
//! Held against section 3 of the model page: gripping is judged at the low end, the shell's strain at the high end, and a
//! suggested opening must pass both, or there is said to be none. No figure of its own: the program is asked again.

use annulet::finding::Finding;
use annulet::session::{Request, Session};

use crate::support::run;

fn band(
    shell: u32,
    sleeve: u32,
    depth: Option<&str>,
    past: &str,
    enlarger: &str,
    more: &str,
) -> String {
    let pattern = depth.map_or_else(String::new, |depth| {
        format!("pattern {{ cover 60 %, depth {depth} }}")
    });
    format!(
        "alloy a {{ silver 1000\n temper soft {{ yield {sleeve} MPa, modulus 90 GPa, hardening 1100 MPa, elongation 40 % }}\n temper hard {{ yield {shell} MPa, modulus 90 GPa, elongation 5 % }} }}
band b {{ size 17.2 mm, width 6 mm, thickness 1.8 mm, profile flat, alloy a
 {pattern}
 hollow {{ shell 0.5 mm {{ temper hard }}, sleeve 0.4 mm {{ temper soft }}, ridge 0.14 mm {{ wide 0.4 mm, count 2, play 0.06 mm }}, enlarger {enlarger}, stage fixed {{ past {past} }}{more} }} }}\n"
    )
}

fn findings(recipe: &str) -> Vec<Finding> {
    Session::default()
        .run("r", recipe, &Request::default())
        .findings
}

const OF_OPENINGS: &[&str] = &[
    "evaluate::no_grip",
    "evaluate::shell_yields",
    "evaluate::stretch_limit",
    "evaluate::key_not_reached",
];

/// The opening that a finding suggests.
fn suggested(finding: &Finding) -> Option<String> {
    let help = finding.help()?;
    let (_, rest) = help.split_once("`past ")?;
    Some(rest.split_once('`')?.0.to_owned())
}

#[test]
fn a_suggested_opening_passes_at_both_ends() {
    let (mut put_back, mut none) = (0, 0);
    for shell in [300, 400, 560] {
        for sleeve in [150, 250, 350] {
            for depth in [None, Some("0.1 mm"), Some("0.25 mm")] {
                for past in ["0.02 mm", "0.07 mm", "0.1 mm", "0.2 mm"] {
                    for enlarger in ["0.01 mm", "0.03 mm"] {
                        let recipe = band(shell, sleeve, depth, past, enlarger, "");
                        for finding in findings(&recipe) {
                            if !OF_OPENINGS.contains(&finding.code().as_str()) {
                                continue;
                            }
                            let Some(opening) = suggested(&finding) else {
                                none += 1;
                                continue;
                            };
                            let mended = band(shell, sleeve, depth, &opening, enlarger, "");
                            let again = findings(&mended);
                            let left: Vec<String> = again.iter().map(Finding::code).collect();
                            let left: Vec<&String> = left
                                .iter()
                                .filter(|code| OF_OPENINGS.contains(&code.as_str()))
                                .collect();
                            assert!(
                                left.is_empty(),
                                "{}: {:?}\n{left:?}\n{recipe}",
                                finding.code(),
                                finding.help()
                            );
                            put_back += 1;
                        }
                    }
                }
            }
        }
    }
    assert!(put_back > 30 && none > 30, "{put_back} {none}");
}

#[test]
fn no_opening_is_said_where_none_is_safe_and_the_verdict_says_so() {
    // A shell as soft as the sleeve yields a hair past where it grips: the window is narrower than any enlarger's.
    let soft = band(250, 250, None, "0.09 mm", "0.03 mm", "");
    let ran = run(&["eval", "--full", "-"], &soft);
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let (said, report) = (flat(&ran.stderr), flat(&ran.stdout));
    assert!(
        ran.status == 1 && said.contains("no opening is safe at both ends"),
        "{said}"
    );
    assert!(
        report.contains("its shell takes more than it bears: see the findings")
            || !report.contains("verdict grips"),
        "{report}"
    );
    // What may or may not grip is not called fixed.
    let may = run(
        &["eval", "--full", "-"],
        &band(560, 250, None, "0.06 mm", "0.03 mm", ""),
    )
    .stdout;
    assert!(
        may.contains("    opened  ") && !may.contains("    fixed  "),
        "{may}"
    );
    let grips = run(
        &["eval", "--full", "-"],
        &band(560, 250, None, "0.09 mm", "0.03 mm", ""),
    )
    .stdout;
    assert!(grips.contains("    fixed  "), "{grips}");
    // A stake holds whether or not it grips, so that only the shell's yield counts.
    let staked = band(250, 250, None, "0.09 mm", "0.03 mm", ", lock stake");
    let found = findings(&staked);
    let yields = found
        .iter()
        .find(|one| one.code() == "evaluate::shell_yields")
        .unwrap();
    let opening = suggested(yields).unwrap();
    let again = findings(&band(250, 250, None, &opening, "0.03 mm", ", lock stake"));
    assert!(
        again
            .iter()
            .all(|one| one.code() != "evaluate::shell_yields"),
        "{opening}"
    );
}
