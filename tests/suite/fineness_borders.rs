//! Metal that lies between two marks, and solder between the finenesses of two parts.
//!
//! Standards stand beside the text that they were read in; what lies between two
//! of them takes the lower (Hallmarking Act 1973 s.22(1): not less than the standard; Vienna Convention Annex I
//! 2.3.1: no negative tolerance; Code de commerce L832-2: no negative tolerance; Swiss act art. 7; the Italian
//! chamber of commerce: between two the lower is marked). Solder: Hallmarking Act s.4(3)(b). Sterling and coin: 15 USC 296.

use annulet::session::{Outcome, Request, Session};
use rust_decimal::{Decimal, dec};

use crate::support::{band_with, run};

/// Rulebook, metal, standards, and whether a tenth below one is the next lower: no shortfall is allowed.
#[rustfmt::skip]
const STANDARDS: &[(&str, &str, &[i64], bool)] = &[
    // Country profile of the Hallmarking Convention.
    ("UK", "gold", &[375, 585, 750, 916, 990, 999], true),
    ("UK", "silver", &[800, 925, 958, 999], true),
    ("UK", "platinum", &[850, 900, 950, 999], true),
    ("UK", "palladium", &[500, 950, 999], true),
    // Vienna Convention Annex I 2.2; SI 2011/3039 art. 3.
    ("VC", "gold", &[375, 585, 750, 916, 999], true),
    ("VC", "silver", &[800, 830, 925, 999], true),
    ("VC", "platinum", &[850, 900, 950, 999], true),
    ("VC", "palladium", &[500, 950, 999], true),
    // Federal Council dispatch 93.049 and SR 0.941.347.0; annex 2 of the act itself was not read.
    ("CH", "gold", &[375, 585, 750, 916, 999], true),
    ("CH", "silver", &[800, 925, 999], true),
    ("CH", "platinum", &[850, 900, 950, 999], true),
    ("CH", "palladium", &[500, 950, 999], true),
    // Code de commerce L832-2.
    ("FR", "gold", &[375, 585, 750, 916, 999], true),
    ("FR", "silver", &[800, 925, 999], true),
    ("FR", "platinum", &[850, 900, 950, 999], true),
    // Italian chambers of commerce; 5 may be missing of platinum and palladium, so their borders lie elsewhere.
    ("IT", "gold", &[375, 585, 750], true),
    ("IT", "silver", &[800, 925], true),
    ("IT", "platinum", &[850, 900, 950], false),
    ("IT", "palladium", &[500, 950], false),
    // GB 11887-2012 amendment 1, 4.1 table 1.
    ("CN", "gold", &[375, 585, 750, 916, 990], true),
    ("CN", "silver", &[800, 925, 990], true),
    ("CN", "platinum", &[850, 900, 950, 990], true),
    ("CN", "palladium", &[500, 950, 990], true),
    // PunzG s.3(2).
    ("AT", "gold", &[585, 750, 900, 986], true),
    ("AT", "silver", &[800, 835, 900, 925], true),
    // Waarborgwet 2019 art. 7.
    ("NL", "gold", &[585, 750, 833, 916], true),
    ("NL", "silver", &[800, 835, 925], true),
    // Dublin assay office, since 2019-10-01.
    ("IE", "gold", &[375, 417, 585, 750, 833, 916, 990, 999], true),
    ("IE", "platinum", &[600, 850, 900, 950, 999], true),
    // Ley 17/1985 art. 9; Lei 98/2015; Prawo probiercze art. 24; Singapore assay office.
    ("ES", "gold", &[375, 585, 750, 916, 999], true),
    ("PT", "gold", &[375, 585, 750, 800, 916, 999], true),
    ("PT", "silver", &[800, 830, 835, 925, 999], true),
    ("PL", "gold", &[333, 375, 500, 585, 750, 960, 999], true),
    ("PL", "palladium", &[500, 850, 999], true),
    ("SG", "gold", &[375, 585, 750, 900, 916, 999], true),
    // IS 2112:2025.
    ("IN", "silver", &[800, 835, 925, 958, 970, 990, 999], true),
    // IS 1417 with amendment 2.
    ("IN", "gold", &[375, 585, 750, 833, 916, 958, 995, 999], true),
];

fn outcome(recipe: &str) -> Outcome {
    let outcome = Session::default().run("r", recipe, &Request::default());
    let wrong = outcome.findings.iter().map(|one| one.message());
    let wrong: Vec<String> = wrong.collect();
    assert!(!outcome.evaluations.is_empty(), "{wrong:?}");
    outcome
}

/// The highest mark under a rulebook of each of these finenesses of a metal, each a band of its own.
fn marks(book: &str, metal: &str, finenesses: &[Decimal]) -> Vec<Option<Decimal>> {
    let bands = finenesses.iter().enumerate().map(|(place, fine)| {
        let rest = Decimal::from(1000) - fine;
        format!(
            "alloy a{place} {{ {metal} {fine}, copper {rest} }}\n{}",
            band_with(&[&format!("alloy a{place}")]).replace("band b", &format!("band b{place}"))
        )
    });
    let outcome = outcome(&bands.collect::<String>());
    let evaluations = outcome.evaluations.iter();
    evaluations
        .map(|one| one.fineness(book).unwrap().best())
        .collect()
}

#[test]
fn between_two_marks_the_lower_one_is_struck() {
    for (book, metal, standards, none_missing) in STANDARDS {
        let standards: Vec<Decimal> = standards.iter().map(|one| Decimal::from(*one)).collect();
        let (mut fine, mut wanted) = (Vec::new(), Vec::new());
        for pair in standards.windows(2) {
            fine.push((pair[0] + pair[1]) / Decimal::TWO);
            wanted.push(Some(pair[0]));
        }
        for (place, standard) in standards.iter().enumerate().filter(|_| *none_missing) {
            fine.push(*standard);
            wanted.push(Some(*standard));
            fine.push(standard - dec!(0.1));
            wanted.push(place.checked_sub(1).map(|lower| standards[lower]));
        }
        assert_eq!(marks(book, metal, &fine), wanted, "{book} {metal} {fine:?}");
    }
}

/// Status and output of checking a plain band of an alloy against one requirement.
fn meets(alloy: &str, claim: &str) -> (i32, String) {
    let recipe = format!(
        "alloy mine {{ {alloy} }}\n{}require b meets {claim}\n",
        band_with(&["alloy mine"])
    );
    let ran = run(&["check", "-"], &recipe);
    (ran.status, ran.stderr)
}

#[test]
fn silver_of_910_is_coin_and_not_sterling() {
    let silver = "silver 910, copper 90";
    // 15 USC 296: coin is 900, sterling 925; without solder 4 may be missing, and 910 + 4 = 914 is under 925.
    assert_eq!(meets(silver, "US coin"), (0, String::new()));
    assert_eq!(meets(silver, "US sterling").0, 1);
    assert_eq!(meets(silver, "US silver 925").0, 1);
    // Country profile: 800 and 925 are standards, and no word is; 910 takes the lower.
    assert_eq!(meets(silver, "UK 800"), (0, String::new()));
    assert_eq!(meets(silver, "UK 925").0, 1);
    // Either side of coin, and of sterling: 900 - 4 = 896, 925 - 4 = 921.
    for (parts, coin, sterling) in [
        ("895.9", 1, 1),
        ("896", 0, 1),
        ("920.9", 0, 1),
        ("921", 0, 0),
    ] {
        let alloy = format!(
            "silver {parts}, copper {}",
            Decimal::from(1000) - parts.parse::<Decimal>().unwrap()
        );
        assert_eq!(meets(&alloy, "US coin").0, coin, "{parts}");
        assert_eq!(meets(&alloy, "US sterling").0, sterling, "{parts}");
    }
}

/// A shell and a sleeve of two golds, joined with a third.
fn soldered(shell: &str, sleeve: &str, solder: &str, claim: &str) -> (i32, String) {
    let gold = |name: &str, parts: &str| {
        let rest = Decimal::from(1000) - parts.parse::<Decimal>().unwrap();
        format!("alloy {name} {{ gold {parts}, silver {rest} }}\n")
    };
    let recipe = format!(
        "{}{}{}{}require b meets {claim}\n",
        gold("outer", shell),
        gold("inner", sleeve),
        gold("low", solder),
        band_with(&[
            "alloy outer",
            "solder low { amount 0.05 g }",
            "hollow { shell 0.5 mm { alloy outer }, sleeve 0.4 mm { alloy inner }, ridge 0.1 mm { wide 0.3 mm } }",
        ])
    );
    let ran = run(&["check", "-"], &recipe);
    (ran.status, ran.stderr)
}

#[test]
fn solder_is_judged_by_the_fineness_of_the_article() {
    // s.22(1): an article is of a standard only if it is so in all its parts, so 750 over 585 is of 585; s.4(3)(b)(i):
    // solder of gold is of the article's fineness, so 650 does, and so does 585, but a tenth less does not.
    for (shell, sleeve) in [("750", "585"), ("585", "750")] {
        for solder in ["650", "585"] {
            let (status, said) = soldered(shell, sleeve, solder, "UK 585");
            assert_eq!(
                (status, said.as_str()),
                (0, ""),
                "{shell} {sleeve} {solder}"
            );
            // The highest mark of all is the same: no claim, the lower part's standard.
            assert_eq!(soldered(shell, sleeve, solder, "UK").0, 0);
        }
        let (status, said) = soldered(shell, sleeve, "584.9", "UK 585");
        assert_eq!(status, 1);
        assert!(said.contains("solder"), "{said}");
        // Without a claim it takes the standard that its solder goes with, until there is none.
        assert_eq!(soldered(shell, sleeve, "584.9", "UK").0, 0);
        assert_eq!(soldered(shell, sleeve, "374.9", "UK").0, 1);
        // The finer part does not lift the article to 750.
        assert_eq!(soldered(shell, sleeve, "750", "UK 750").0, 1);
        // An article marked 375 needs solder of 375 alone.
        assert_eq!(soldered(shell, sleeve, "375", "UK 375").0, 0);
        assert_eq!(soldered(shell, sleeve, "374.9", "UK 375").0, 1);
    }
    // Both parts of 750: the article is of 750, and 650 is under it by 100.
    let (status, said) = soldered("750", "750", "650", "UK 750");
    assert!(status == 1 && said.contains(", 100 missing"), "{said}");
}
