//! Properties that hold for any input: reading back what was printed, exactness, monotony.
//!
//! Cases are drawn by `proptest`; a failure prints the smallest input that shows it. Held against the
//! acceptance list's points 20, 21 and 37, and the style's list of properties.

use annulet::finding::Finding;
use annulet::quantity::{Number, from_f64, to_f64};
use annulet::session::{Request, Session};
use annulet::source::Sources;
use annulet::syntax::{self, ast::Tree};
use proptest::prelude::*;
use rust_decimal::Decimal;

use crate::support::{band_with, files_under, read};
use crate::trees;

/// Reads a text: its tree, and the codes of what was found.
fn parsed(text: &str) -> (Tree, Vec<String>) {
    let mut sources = Sources::default();
    let id = sources.add("r", text);
    let parsed = syntax::parse(sources.get(id).unwrap());
    let codes = parsed.findings.iter().map(Finding::code).collect();
    (parsed.value, codes)
}

/// A figure of the only band of a recipe, by the library; the recipe must be sound.
fn figure(recipe: &str, path: &str) -> f64 {
    let mut session = Session::default();
    let outcome = session.run("r", recipe, &Request::default());
    let (value, findings) = session.ask(path, &outcome);
    let value = value.unwrap_or_else(|| panic!("{recipe}\n{:?}{findings:?}", outcome.findings));
    value.quantity().unwrap().number.to_f64()
}

/// A length in steps of a hundredth of a millimetre, as a recipe writes it.
fn hundredths(value: u32) -> String {
    format!("{}.{:02} mm", value / 100, value % 100)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, max_shrink_iters: 200_000, ..ProptestConfig::default() })]

    #[test]
    fn a_printed_tree_reads_back_as_itself(tree in trees::tree()) {
        let text = syntax::print(&tree);
        let (again, _) = parsed(&text);
        prop_assert!(again == tree, "{text}\n--- read as\n{}", syntax::print(&again));
        prop_assert_eq!(syntax::print(&again), text);
    }

    #[test]
    fn mutated_recipes_that_still_read_keep_their_tree(
        seed in 0..1000_usize,
        edits in prop::collection::vec((any::<prop::sample::Index>(), 0..3_u8, "[ -~\n\t{}#,\"\u{B1}\u{BD}]"), 1..6),
    ) {
        let files = files_under("examples", ".annulet");
        let mut text: Vec<char> = read(&files[seed % files.len()]).chars().collect();
        for (place, kind, character) in edits {
            let place = place.index(text.len());
            let character = character.chars().next().unwrap();
            match kind {
                0 => { text.remove(place); }
                1 => text.insert(place, character),
                _ => text[place] = character,
            }
        }
        let text: String = text.into_iter().collect();
        let (tree, codes) = parsed(&text);
        let printed = syntax::print(&tree);
        let (again, codes_again) = parsed(&printed);
        if codes.is_empty() {
            prop_assert!(again == tree, "{text}\n--- printed\n{printed}");
            prop_assert_eq!(codes_again, Vec::<String>::new(), "{}", printed);
            prop_assert_eq!(syntax::print(&again), printed);
        }
    }

    #[test]
    fn printing_changes_no_figure(width in 100..2000_u32, spaces in "[ \t]{1,4}") {
        let recipe = band_with(&[&format!("width{spaces}{}", hundredths(width)), "comfort 0.1 mm"]);
        let printed = syntax::print(&parsed(&recipe).0);
        prop_assert_eq!(figure(&recipe, "weight"), figure(&printed, "weight"));
    }

    #[test]
    fn sums_of_decimals_are_exact(a in 0..10_u64.pow(12), b in 0..10_u64.pow(12), scale in 0..9_u32) {
        let (a, b) = (Decimal::new(a as i64, scale), Decimal::new(b as i64, scale));
        let recipe = format!("let sum = {a} mm + {b} mm\n{}", band_with(&[]));
        let mut session = Session::default();
        let outcome = session.run("r", &recipe, &Request::default());
        let (value, _) = session.ask("sum", &outcome);
        let number = value.unwrap().quantity().unwrap().number;
        prop_assert_eq!(number.exact(), Some(a + b));
    }

    #[test]
    fn a_number_prints_as_what_reads_back(bits in any::<u64>()) {
        let value = f64::from_bits(bits);
        // Nothing has no sign.
        prop_assume!(value.is_finite() && (value != 0.0 || value.is_sign_positive()));
        let printed = Number::Computed(value).to_string();
        prop_assert_eq!(printed.parse::<f64>().unwrap().to_bits(), bits, "{}", printed);
    }

    #[test]
    fn decimals_and_floats_meet_in_the_nearest(digits in any::<i64>(), scale in 0..18_u32) {
        let decimal = Decimal::new(digits, scale);
        prop_assert_eq!(to_f64(decimal), decimal.to_string().parse::<f64>().unwrap());
        let printed = Number::Exact(decimal).to_string();
        prop_assert_eq!(Decimal::from_str_exact(&printed).unwrap(), decimal);
    }

    #[test]
    fn floats_of_workshop_size_become_the_decimal_they_print_as(value in 1e-6..1e6_f64) {
        let decimal = from_f64(value).unwrap();
        prop_assert_eq!(decimal.to_string().parse::<f64>().unwrap(), value);
    }

    #[test]
    fn weight_grows_with_width_and_thickness(
        width in 300..1500_u32,
        thickness in 120..400_u32,
        more in 1..300_u32,
        comfort in 0..40_u32,
        domed in any::<bool>(),
    ) {
        // The dome rises by a twentieth of a millimetre, which every width here can carry.
        let profile = if domed { "profile domed { edge thickness - comfort - 0.05 mm }" } else { "profile flat" };
        let weight = |width: u32, thickness: u32| {
            let lines = [
                format!("width {}", hundredths(width)),
                format!("thickness {}", hundredths(thickness)),
                format!("comfort {}", hundredths(comfort)),
            ];
            let recipe = band_with(&[&lines[0], &lines[1], &lines[2], profile]);
            figure(&recipe, "weight")
        };
        let least = weight(width, thickness);
        prop_assert!(least > 0.0);
        prop_assert!(weight(width + more, thickness) > least);
        prop_assert!(weight(width, thickness + more) > least);
    }

    #[test]
    fn a_deeper_or_wider_cut_leaves_less(depth in 5..60_u32, cover in 1..90_u32, more in 1..10_u32) {
        let left = |depth: u32, cover: u32| {
            let pattern = format!("pattern {{ depth {}, cover {cover} % }}", hundredths(depth));
            let recipe = band_with(&[&pattern]);
            let (whole, cut) = (figure(&recipe, "weight.uncut"), figure(&recipe, "weight.cut"));
            let weight = figure(&recipe, "weight");
            assert!((whole - cut - weight).abs() < 1e-12 * whole);
            weight
        };
        let most = left(depth, cover);
        prop_assert!(left(depth + more, cover) < most);
        prop_assert!(left(depth, cover + more) < most);
    }
}

#[test]
fn a_tenth_and_two_tenths_are_three_tenths() {
    let recipe = band_with(&["width 0.1 mm + 0.2 mm", "thickness 1 mm"]);
    assert_eq!(crate::support::plain(&recipe, "width"), "0.3");
}

#[test]
fn a_wider_worst_case_holds_the_narrower() {
    let spread = |half: u32| {
        let recipe = band_with(&[&format!("width 5 mm \u{B1} {}", hundredths(half))]);
        let results = crate::support::results(&recipe);
        results["b.weight"]["spread"]["high"].as_f64().unwrap()
    };
    // The weight of a flat band is linear in its width, so the spread is too.
    let one = spread(1);
    for half in [2, 5, 20] {
        let times = f64::from(half);
        assert!((spread(half) - times * one).abs() < 1e-9, "{half}");
    }
}
