//! An override is an edit not yet written: over random recipes and overrides, `--set` comes to the very same
//! results, requirements and codes of findings as the recipe with that text in it.
//!
//! The edited text is written by this test, from the same fields with one of them changed.

use annulet::session::{Request, Session};
use proptest::prelude::*;
use proptest::sample::select;

/// Fields of a parent, of its variant, and a `let`, each written or not, as hundredths of a millimetre.
#[derive(Clone, Debug)]
struct Recipe {
    values: Vec<Option<u32>>,
    hollow: bool,
}

/// What can be laid over: the path of the option, and the place in [`Recipe::values`].
const PATHS: &[&str] = &[
    "cut",
    "p.width",
    "p.thickness",
    "p.profile.edge",
    "p.comfort",
    "p.pattern.depth",
    "v.width",
    "v.thickness",
    "v.comfort",
    "v.pattern.depth",
    "v.hollow.shell",
    "v.hollow.sleeve",
];

/// The least and the most of each, and whether it may be left out.
const RANGES: &[(u32, u32, bool)] = &[
    (5, 40, false),
    (200, 700, false),
    (120, 220, false),
    (60, 200, false),
    (0, 30, true),
    (5, 40, true),
    (200, 700, true),
    (120, 220, true),
    (0, 30, true),
    (5, 40, true),
    (30, 70, false),
    (20, 60, false),
];

fn mm(hundredths: u32) -> String {
    format!("{}.{:02} mm", hundredths / 100, hundredths % 100)
}

impl Recipe {
    fn text(&self) -> String {
        let value = |path: &str| {
            let place = PATHS.iter().position(|known| *known == path).unwrap();
            self.values[place].map(mm)
        };
        let field = |word: &str, path: &str| {
            value(path).map_or_else(String::new, |value| format!("  {word} {value}\n"))
        };
        let depth = value("p.pattern.depth").unwrap_or_else(|| "cut".to_owned());
        let inner = value("v.pattern.depth").map_or_else(String::new, |depth| {
            format!("  pattern {{ depth {depth} }}\n")
        });
        let hollow = if self.hollow {
            format!(
                "  hollow {{ shell {}, sleeve {} }}\n",
                value("v.hollow.shell").unwrap(),
                value("v.hollow.sleeve").unwrap()
            )
        } else {
            String::new()
        };
        format!(
            "let cut = {}\nband p {{\n  size ISO 54\n{}{}  profile domed {{ edge {} }}\n{}  alloy sterling\n  \
             pattern {{ repeats 18, depth {depth}, cover 90 % }}\n}}\nvariant v of p {{\n{}{}{}{inner}{hollow}}}\n\
             require v.weight <= p.weight\n",
            value("cut").unwrap(),
            field("width", "p.width"),
            field("thickness", "p.thickness"),
            value("p.profile.edge").unwrap(),
            field("comfort", "p.comfort"),
            field("width", "v.width"),
            field("thickness", "v.thickness"),
            field("comfort", "v.comfort"),
        )
    }
}

fn recipe() -> impl Strategy<Value = Recipe> {
    let values: Vec<_> = RANGES
        .iter()
        .map(|(least, most, optional)| {
            let written = (*least..=*most).prop_map(Some);
            if *optional {
                prop_oneof![Just(None), written].boxed()
            } else {
                written.boxed()
            }
        })
        .collect();
    (values, any::<bool>()).prop_map(|(values, hollow)| Recipe { values, hollow })
}

/// Results, requirements, orders and codes; places are left out, since an override stands in none.
pub fn outcome(text: &str, sets: Vec<String>) -> (String, Vec<String>) {
    let mut session = Session::default();
    let outcome = session.run(
        "r",
        text,
        &Request {
            sets,
            ..Request::default()
        },
    );
    // Places lie in other texts.
    let mut json = outcome.json(&session.sources);
    for requirement in json["requirements"].as_array_mut().unwrap() {
        for key in ["line", "column"] {
            requirement[key] = serde_json::Value::Null;
        }
    }
    let mut codes: Vec<String> = outcome
        .findings
        .iter()
        .map(annulet::finding::Finding::code)
        .collect();
    codes.sort();
    (json.to_string(), codes)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn an_override_equals_the_edited_text(recipe in recipe(), place in select((0..PATHS.len()).collect::<Vec<_>>()), share in 0.0..1.0) {
        prop_assume!(recipe.hollow || !PATHS[place].contains("hollow"));
        let (least, most, _) = RANGES[place];
        let value = least + (f64::from(most - least) * share) as u32;
        let mut edited = recipe.clone();
        edited.values[place] = Some(value);
        let laid = outcome(&recipe.text(), vec![format!("{}={}", PATHS[place], mm(value))]);
        prop_assert_eq!(laid, outcome(&edited.text(), Vec::new()), "{}\n{}", recipe.text(), PATHS[place]);
    }
}
