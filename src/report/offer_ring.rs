//! A ring as an offer describes it: how it is built, of what, how fine, and what its buyer should know.

use rust_decimal::{Decimal, dec};

use crate::evaluate::{Evaluation, Spread, spread_of};
use crate::fineness::{
    ArticlePart, FinenessShortfall, Portion, Precious, Reason, ReasonKind, restricted,
};
use crate::model::Roof;
use crate::quantity::Number;
use crate::schema::ResultId;
use crate::source::printable;

use super::fineness::micrometres;
use super::page::{Page, wrapped};

/// From how much on a metal is named beside another, in parts per thousand.
const THIRD: Decimal = dec!(330);

/// What is told of a ring beside its precious metals.
const HARMFUL: [&str; 7] = [
    "nickel",
    "cobalt",
    "cadmium",
    "lead",
    "beryllium",
    "mercury",
    "arsenic",
];

/// What the rings of an offer call for at its end.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Told {
    /// One has an empty space inside.
    hollow: bool,
    /// One is of two parts, whether hollow or full.
    two_part: bool,
    /// One is joined with solder.
    soldered: bool,
    /// A fineness is as mixed, not assayed.
    nominal: bool,
    /// One holds nickel, or is plated with it.
    nickel: bool,
}

impl Told {
    /// Adds what a ring calls for.
    pub fn add(&mut self, ring: &Evaluation) {
        let (band, article) = (&ring.band, ring.article());
        self.hollow |= article.cavity;
        self.two_part |= band.hollow.is_some();
        self.soldered |= article.solder.is_some();
        self.nominal |= article.parts.iter().any(|part| part.assay.is_none());
        let plated = article.plating.as_deref() == Some("nickel");
        let solder = article.solder.iter().map(|solder| &solder.contents);
        let mut held = article
            .parts
            .iter()
            .map(|part| &part.contents)
            .chain(solder);
        self.nickel |= plated
            || held.any(|contents| {
                let mut parts = contents.iter();
                parts.any(|(element, parts)| element == "nickel" && !parts.is_zero())
            });
    }

    /// The sentences, in the order of their weight.
    pub fn sentences(self) -> Vec<&'static str> {
        let mut all = vec!["Weights are computed before the rings are made."];
        if self.nominal {
            all.push("Fineness marked nominal is as the metal is mixed, not assayed.");
        }
        if self.hollow {
            all.push("Rings in two parts around a space are hollow, not solid.");
        }
        if self.two_part {
            all.push("Rings in two parts cannot be soldered, heated or resized later.");
        }
        if self.soldered {
            all.push("Soldered rings are joined with solder of the fineness stated above.");
        }
        if self.nickel {
            all.push(
                "Rings that hold nickel do not suit every skin; ask for the nickel release test.",
            );
        }
        all
    }
}

/// How a ring is built, of what, and what its words may say.
pub(super) fn describe(page: &mut Page, ring: &Evaluation) {
    let (band, article) = (&ring.band, ring.article());
    let build = match &band.hollow {
        None => "solid",
        Some(hollow) if hollow.roof == Roof::Full => "in two parts, without a space inside",
        Some(_) => "hollow, in two parts",
    };
    let mut parts = article.parts.iter();
    let alike = parts.next().is_some_and(|first| {
        article
            .parts
            .iter()
            .all(|part| part.contents == first.contents && part.assay == first.assay)
    });
    let names: Vec<&str> = match &band.hollow {
        None => vec![&band.alloy.name],
        Some(hollow) => vec![&hollow.shell.alloy.name, &hollow.sleeve.alloy.name],
    };
    let of = |part: &ArticlePart, name: &str| format!("{}, {}", printable(name), fineness(part));
    match (article.parts.as_slice(), names.as_slice()) {
        ([first, ..], [name, rest @ ..]) if alike && rest.iter().all(|other| other == name) => {
            line(page, &format!("{build}, of {}", of(first, name)));
        }
        (parts, names) => {
            line(page, build);
            for (part, name) in parts.iter().zip(names) {
                line(
                    page,
                    &format!("{}: {}", part.portion.word(), of(part, name)),
                );
            }
        }
    }
    if let (Some(solder), Some(stated)) = (&article.solder, &band.marking.solder) {
        let held = Precious::ALL
            .into_iter()
            .map(|metal| (metal, solder.fineness(Some(metal))));
        let held: Vec<String> = held
            .filter(|(_, parts)| !parts.is_zero())
            .map(|(metal, parts)| format!("{} {}", metal.word(), parts.normalize()))
            .collect();
        let name = printable(&stated.alloy.name);
        line(page, &format!("joined with {name}, {}", held.join(", ")));
    }
    if let Some(plating) = &article.plating {
        let what = printable(plating);
        let thick = band.marking.plating_thick.map(micrometres);
        let thick = thick.unwrap_or_default();
        line(
            page,
            &format!("plated with {what}{thick}, which does not count in the fineness"),
        );
    }
    for text in harmful(ring) {
        line(page, &text);
    }
    if let Some(tag) = &article.tag {
        let tag = printable(tag);
        match refused(ring) {
            false => line(page, &format!("sold as \"{tag}\"")),
            true => line(page, "sold as described here, not as its tag says"),
        }
    }
}

/// What of it the wearer, or whoever repairs it, must know of: elements that do not suit every skin, or that harm.
fn harmful(ring: &Evaluation) -> Vec<String> {
    let article = ring.article();
    let parts = article.parts.iter();
    let parts = parts.map(|part| (part.portion, &part.contents));
    let solder = article.solder.iter();
    let solder = solder.map(|solder| (Portion::Solder, &solder.contents));
    let each = parts.chain(solder).filter_map(|(part, contents)| {
        let held = contents.iter().filter(|(_, parts)| !parts.is_zero());
        let held = held.map(|(element, _)| element.as_str());
        let held: Vec<&str> = held.filter(|held| HARMFUL.contains(held)).collect();
        let what = match part {
            Portion::Band => "holds".to_owned(),
            part => format!("the {} holds", part.word()),
        };
        (!held.is_empty()).then(|| format!("{what} {}", held.join(" and ")))
    });
    let banned = restricted(&ring.band).filter_map(|short| match short {
        FinenessShortfall::Restricted {
            part, limit, most, ..
        } => Some(format!(
            "{} of {most} per thousand or more in the {} is banned in the {}",
            limit.element,
            part.word(),
            limit.market
        )),
        _ => None,
    });
    each.chain(banned).collect()
}

/// Whether some rulebook that the recipe asks refuses the words of the tag; without any, what holds everywhere.
fn refused(ring: &Evaluation) -> bool {
    let asked = ring.band.marking.asked.iter().map(String::as_str);
    let mut books = asked.chain(["ISO"]).filter_map(|word| ring.fineness(word));
    books.any(|judged| {
        let mut refused = judged.of_kind(ReasonKind::Refused);
        refused.any(|reason| {
            matches!(
                reason,
                Reason::TagNever { .. }
                    | Reason::TagNeeds { .. }
                    | Reason::TagOver { .. }
                    | Reason::TagMetal(_)
                    | Reason::TagSolid
            )
        })
    })
}

/// What a part holds of precious metal, or what an assay found of it.
fn fineness(part: &ArticlePart) -> String {
    let precious = part.contents.iter();
    let precious = precious.filter(|(element, _)| Precious::of(element).is_some());
    let most = precious.clone().map(|(_, held)| *held).max();
    // What it is sold as: the precious metal of which it holds most, and any that makes a third of it.
    let sold = precious.filter(|(_, held)| Some(*held) == most || *held >= THIRD);
    let assayed = part.assayed();
    let held: Vec<String> = sold
        .map(|(element, held)| {
            let found = assayed.filter(|(metal, _)| metal.word() == element);
            let found = found.map(|(_, assay)| assay.figure);
            format!("{element} {}", found.unwrap_or(*held).normalize())
        })
        .collect();
    let held = match held.as_slice() {
        [] => "base metal".to_owned(),
        held => held.join(", "),
    };
    match assayed {
        Some((_, assay)) if assay.note.is_empty() => format!("{held}, assayed"),
        Some((_, assay)) => format!("{held}, assayed ({})", printable(&assay.note)),
        None => format!("{held}, nominal"),
    }
}

/// What one weighs: between two figures where the recipe states deviations, else about one.
pub(super) fn weight(page: &mut Page, ring: &Evaluation, grams: Number) -> String {
    let spread = spread_of(ring, ResultId::Weight.row());
    let spread = spread.filter(|spread| spread.low < 0.0 || spread.high > 0.0);
    let about = |page: &mut Page, grams: f64| {
        let shown = page.number(Number::Computed(grams), "g");
        shown.trim_start_matches("\u{2248} ").to_owned()
    };
    match spread {
        Some(Spread { low, high, .. }) => {
            let (least, most) = (grams.to_f64() + low, grams.to_f64() + high);
            format!(
                "between {} and {} each",
                about(page, least),
                about(page, most)
            )
        }
        None => format!("about {} each", about(page, grams.to_f64())),
    }
}

fn line(page: &mut Page, text: &str) {
    for line in wrapped(text, 73) {
        page.line(&format!("     {line}"));
    }
}
