//! More unknowns than one reading settles: what one would be for some values of the other, and what to measure; and all
//! that came out as a recipe's text.

use crate::evaluate::{Evaluation, Range};
use crate::schema::FieldId;
use crate::words::grams;

use super::fit::Gauging;
use super::found::GaugedOpen;
use super::hand::{Hand, Has, InHand, Line, words_of};
use super::metals::OfMetal;
use super::unknown::{Unknown, unknowns};

/// Columns of a remark in the recipe.
const COLUMNS: usize = 78;

/// Metals that are told of at most.
const MOST: usize = 6;

impl Gauging<'_> {
    /// Adds what is left open.
    pub fn leave(&mut self, what: &str, unknowns: &[&str], rows: Vec<String>, tell: &str) {
        self.found.open.push(GaugedOpen {
            what: what.to_owned(),
            unknowns: unknowns.iter().map(|one| (*one).to_owned()).collect(),
            rows,
            tell: tell.to_owned(),
        });
    }

    /// One size is open and the metal too: what it would be in each.
    pub fn of_one_and_the_metal(&mut self, hand: &Hand, unknown: Unknown, weight: &InHand) {
        let metals = self.metals.clone();
        let mut rows = Vec::new();
        // From the lightest to the densest, evenly.
        let step = (metals.len().saturating_sub(1)).max(1) as f64 / (MOST - 1) as f64;
        let mut places: Vec<usize> = (0..MOST)
            .map(|one| (one as f64 * step).round() as usize)
            .collect();
        places.dedup();
        let mut some = false;
        // Whether the ring is lighter than the lightest of them would be with some value.
        let mut lighter = None;
        for metal in places.into_iter().filter_map(|at| metals.get(at)) {
            let Some((evaluation, at)) = self.somewhere(hand, &metal.name, unknown, "flat") else {
                return;
            };
            let with = evaluation.grams_with(unknown.id, at);
            lighter = lighter.or(with.map(|grams| grams > weight.value));
            let value = evaluation.sought_at(unknown.id, unknown.bounds, weight.value, &[]);
            some |= value.is_some();
            rows.push(match value {
                Some(value) => format!(
                    "in {}: {} {}",
                    metal.name,
                    unknown.path(),
                    unknown.written(value)
                ),
                None => format!("in {}: none", metal.name),
            });
        }
        let nearest = match lighter {
            Some(true) => metals.first(),
            _ => metals.last(),
        };
        if let (false, Some(metal)) = (some, nearest) {
            // In none of them does any value do.
            return self.no_value(hand, metal, unknown, weight);
        }
        let what = format!(
            "`{}` and the metal are two unknowns, and one weight settles one",
            unknown.path()
        );
        let tell = format!("`{}`, or name the alloy or its mark", unknown.path());
        self.leave(&what, &[unknown.path(), "alloy"], rows, &tell);
    }

    /// More than one unknown, or one and no weight.
    pub fn of_several(&mut self, hand: &Hand, unknowns: &[Unknown]) {
        let paths: Vec<&str> = unknowns.iter().map(|one| one.path()).collect();
        let weight = hand.get("weight").cloned();
        let metals = self.metals.clone();
        if let ([one, other], Some(weight), [metal]) = (unknowns, &weight, metals.as_slice())
            && self.pair(hand, metal, (*one, *other), weight)
        {
            return;
        }
        let what = match (&weight, unknowns) {
            (None, [_]) => format!("{} is not known, and it was not weighed", words_of(&paths)),
            _ => format!(
                "{} are {} unknowns, and one weight settles one",
                paths.join(", "),
                paths.len()
            ),
        };
        let tell = match &weight {
            None => format!("the weight, and all but one of {}", paths.join(", ")),
            Some(_) => format!("all but one of {}", paths.join(", ")),
        };
        self.leave(&what, &paths, Vec::new(), &tell);
    }

    /// Two unknowns that belong together: what the first would be for some values of the second; whether they do.
    fn pair(
        &mut self,
        hand: &Hand,
        metal: &OfMetal,
        (one, other): (Unknown, Unknown),
        weight: &InHand,
    ) -> bool {
        let thick = one.bounds.1.max(0.2);
        let (values, tell): (Vec<f64>, &str) = match (one.id, other.id) {
            (FieldId::HollowShell, FieldId::HollowSleeve) => (
                [0.15, 0.2, 0.25, 0.3]
                    .iter()
                    .map(|part| (part * thick * 20.0).round() / 20.0)
                    .collect(),
                "the sleeve's wall at the edge, or the shell's wall where it can be reached: `hollow { sleeve 0.3 mm }`",
            ),
            (FieldId::PatternDepth, FieldId::PatternCover) => (
                vec![1.0, 0.75, 0.5, 0.25],
                "how deep the cuts are, or what part of the outside they cover: `pattern { depth 0.3 mm }` or `pattern { cover 60 % }`",
            ),
            _ => return false,
        };
        let mut rows = Vec::new();
        for value in values {
            let mut found = None;
            for part in [0.3, 0.1, 0.6, 0.03] {
                let at = one.bounds.0 + part * (one.bounds.1 - one.bounds.0);
                let before = self.findings.len();
                let draft = self.draft(hand, &metal.name, &[(other, value), (one, at)]);
                found = self.evaluated(hand, &draft);
                self.findings.truncate(before);
                if found.is_some() {
                    break;
                }
            }
            let Some((evaluation, _)) = found else {
                continue;
            };
            let first = evaluation.sought_at(one.id, one.bounds, weight.value, &[]);
            rows.push(match first {
                Some(first) => format!(
                    "{} {}: {} {}",
                    other.path(),
                    other.written(value),
                    one.path(),
                    one.written(first)
                ),
                None => format!(
                    "{} {}: no {} does",
                    other.path(),
                    other.written(value),
                    one.path()
                ),
            });
        }
        let what = format!(
            "`{}` and `{}` are two unknowns, and one weight settles one",
            one.path(),
            other.path()
        );
        self.leave(&what, &[one.path(), other.path()], rows, tell);
        true
    }

    /// Lighter than a filled ring in the one metal that it may be of: what may be missing.
    pub fn lighter(
        &mut self,
        hand: &Hand,
        metal: &OfMetal,
        evaluation: &Evaluation,
        volume: &Range,
        weight: &InHand,
    ) {
        let missing = Self::missing(volume, metal, weight);
        self.found.says.push(missing);
        let settled =
            hand.hollow != Has::Unsaid && hand.pattern != Has::Unsaid && hand.profile.is_some();
        if settled {
            return self.too_light(hand, metal, evaluation, volume, weight);
        }
        let mut ways = Vec::new();
        if hand.pattern == Has::Unsaid {
            ways.push("cut");
            let mut cut = hand.clone();
            cut.pattern = Has::Yes;
            self.other(&cut, metal, weight, "a cut outside");
        }
        if hand.hollow == Has::Unsaid {
            ways.push("hollow");
            let mut hollow = hand.clone();
            hollow.hollow = Has::Yes;
            self.other(&hollow, metal, weight, "hollow, in two parts");
        }
        if hand.profile.is_none() {
            ways.push("domed");
            let edge = self.edge(hand);
            if !self.settle(hand, metal, edge, weight, "-domed", "domed") {
                let says = "no dome over this width takes so much away";
                self.found.says.push(says.to_owned());
            }
        }
        let tell = match ways.as_slice() {
            ["cut", "hollow", ..] => {
                "a weighing in water: a cut solid ring shows the density of its metal, a closed hollow one less; a cut can be seen and felt, a dome too"
            }
            ["hollow", ..] => {
                "a weighing in water: a closed hollow ring shows less than the density of its metal"
            }
            _ => "look at the outside: a cut and a dome can be seen and felt",
        };
        let rows = vec![format!(
            "or it is no {}: the readings need the density given above",
            metal.name
        )];
        self.leave(
            &format!(
                "how it comes to be lighter than filled: {}",
                ways.join(", ")
            ),
            &ways,
            rows,
            tell,
        );
    }

    /// The edge of a dome, where no profile is said.
    fn edge(&self, hand: &Hand) -> Unknown {
        let mut domed = hand.clone();
        domed.profile = Some("domed".to_owned());
        let all = unknowns(&domed);
        let edge = all.into_iter().find(|one| one.id == FieldId::ProfileEdge);
        edge.unwrap_or(Unknown {
            id: FieldId::ProfileEdge,
            bounds: (0.02, 2.0),
        })
    }

    /// Another build than was looked at: settled where it has one unknown, else left open.
    fn other(&mut self, hand: &Hand, metal: &OfMetal, weight: &InHand, what: &str) {
        let unknowns = unknowns(hand);
        if let [one, other] = unknowns.as_slice()
            && self.pair(hand, metal, (*one, *other), weight)
            && let Some(last) = self.found.open.last_mut()
        {
            last.what = format!("{what}: {}", last.what);
        }
    }

    /// Metals that are denser than the readings: such a ring would be hollow, cut or domed; whether it may be.
    pub fn denser(&mut self, hand: &Hand, denser: &[OfMetal], none: bool) -> bool {
        let ways = [
            ("hollow", "hollow", hand.hollow == Has::Unsaid),
            ("cut", "pattern", hand.pattern == Has::Unsaid),
            ("domed", "profile", hand.profile.is_none()),
        ];
        let ways = ways.iter().filter(|(_, _, may_be)| *may_be);
        let (words, fields): (Vec<&str>, Vec<&str>) =
            ways.map(|(word, field, _)| (*word, *field)).unzip();
        if words.is_empty() {
            return false;
        }
        let names = denser.iter().take(MOST).map(|one| one.name.clone());
        let mut names: Vec<String> = names.collect();
        if denser.len() > MOST {
            names.push(format!("{} more", denser.len() - MOST));
        }
        let or = if none { "" } else { "or " };
        let what = format!(
            "{or}{}, in a denser metal ({}): the metal and what is missing are two unknowns",
            words.join(", or "),
            names.join(", ")
        );
        let tell = match hand.hollow {
            Has::Unsaid => {
                "name the alloy or its mark; a weighing in water shows whether it is hollow"
            }
            _ => "name the alloy or its mark; a cut and a dome can be seen and felt",
        };
        let unknowns = [&["alloy"], fields.as_slice()].concat();
        self.leave(&what, &unknowns, Vec::new(), tell);
        true
    }

    /// All of it as a recipe, remarked.
    pub fn write(&mut self) {
        let found = &self.found;
        let mut text = String::from("annulet 1\n\n");
        let say = |text: &mut String, lead: &str, said: &str| {
            let hang = " ".repeat(lead.chars().count());
            for (place, line) in wrap(said, COLUMNS - 2 - hang.len()).into_iter().enumerate() {
                let lead = if place == 0 { lead } else { &hang };
                text.push_str(&format!("# {lead}{line}\n"));
            }
        };
        say(&mut text, "", "A ring in the hand: what fits its readings.");
        for said in &found.says {
            say(&mut text, "- ", said);
        }
        for clash in &found.clashes {
            say(
                &mut text,
                "- ",
                &format!("cannot hold together: {}", clash.message),
            );
            for (word, would) in &clash.each {
                say(
                    &mut text,
                    "    ",
                    &format!("{word} would have to be {would}, all else as read"),
                );
            }
        }
        for open in &found.open {
            say(&mut text, "- ", &format!("open: {}", open.what));
            for row in &open.rows {
                say(&mut text, "    ", row);
            }
            say(
                &mut text,
                "    ",
                &format!("what would tell: {}", open.tell),
            );
        }
        let beside: Vec<&Line> = self.hand.beside.iter().collect();
        if !beside.is_empty() {
            text.push('\n');
        }
        for line in beside {
            text.push_str(&line.text);
            text.push('\n');
        }
        for fit in &found.fits {
            text.push('\n');
            for remark in &fit.remarks {
                say(&mut text, "", remark);
            }
            say(
                &mut text,
                "",
                &format!("weighs {} as written", grams(fit.grams)),
            );
            text.push_str(&fit.text);
        }
        self.found.recipe = text;
    }
}

/// Words in lines of so many columns.
fn wrap(text: &str, columns: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(last) if last.chars().count() + 1 + word.chars().count() <= columns => {
                last.push(' ');
                last.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
