//! The reasons of a judgement as sentences, each with the clause that says so.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::catalogue::{Cite, Rulebook, Word};
use crate::fineness::{
    BaseCase, Clause, Differing, FineMark, Leave, Mixed, OfficialMark, Portions, Precious, Reason,
    ReasonKind,
};

use super::claim::short;
use super::judged::Judged;

/// One statement with its clause.
#[derive(Clone, Debug, PartialEq)]
pub struct ReasonSaid {
    /// What it asks for.
    pub kind: ReasonKind,
    /// The statement.
    pub text: String,
    /// Where the text says so; empty where it is no text's.
    pub cite: String,
}

const WHOLE_UNKNOWN: &str = "the whole melted with its solder cannot be computed: state the solder's weight, as in `solder NAME { amount 0.05 g }`, or `assay { whole 749 }`";
const TOLD: &str = "the eye must tell which part is which metal; state `apart yes` or `apart no` in the hollow block";

/// A reason as a sentence.
#[must_use]
pub fn statement(reason: &Reason, judged: &Judged<'_>) -> ReasonSaid {
    let book = judged.book;
    ReasonSaid {
        kind: reason.kind(),
        text: text(reason, judged),
        cite: cite(reason.clause(), book),
    }
}

fn text(reason: &Reason, judged: &Judged<'_>) -> String {
    let book = judged.book;
    match *reason {
        Reason::Silent => book.silent.clone().unwrap_or_default(),
        Reason::NotInTexts(metal) => format!("{} is not in the texts read", metal.word()),
        Reason::WholeUnknown(_) => WHOLE_UNKNOWN.to_owned(),
        Reason::Solder {
            metal,
            found,
            wanted,
            leave,
            ..
        } => format!(
            "{}{}",
            solder(metal, found, wanted, leave),
            if_white(judged, found, wanted)
        ),
        Reason::Unmarked {
            part, metal, found, ..
        } => format!(
            "the {} is not marked: it must carry its own {} {}, in the same pattern and size",
            part.word(),
            metal.map_or("", Precious::word),
            own_mark(metal, found)
        ),
        Reason::Finenesses(rule) => with_more(differing(rule), book.finenesses.as_ref()),
        Reason::MetalsNotFound => {
            "how two precious metals are marked was not found in the texts read".to_owned()
        }
        Reason::Metals { rule, apart } => {
            let marks = &judged.judgement.marks;
            with_more(&two_metals(rule, apart, marks), book.metals.as_ref())
        }
        Reason::TellApart => with_more(TOLD, book.metals.as_ref()),
        Reason::Base { parts, case } => match case {
            BaseCase::NotFound => base(parts, case),
            _ => with_more(&base(parts, case), book.base.as_ref()),
        },
        Reason::TagNever { row, word } => {
            let row = at(&book.tag, row);
            let of = match row.and_then(|row| row.below.zip(row.when.first())) {
                Some((below, metal)) => format!("{metal} under {below}"),
                None => "a hollow article".to_owned(),
            };
            let word = nth(row.map(|row| &row.never), word);
            tag(judged, &format!("says `{word}` of {of}"))
        }
        Reason::TagNeeds { row, word } => {
            let row = at(&book.tag, row).map(|row| &row.needs);
            tag(
                judged,
                &format!(
                    "does not say `{}`: the hollow centre stands right beside the metal's name",
                    nth(row, word)
                ),
            )
        }
        Reason::Say { row, .. } => at(&book.say, row)
            .map(|row| row.says.clone())
            .unwrap_or_default(),
        Reason::SolderLosesExemption => {
            "light enough to be exempt, but its solder does away with the exemption".to_owned()
        }
        Reason::SolderCaps { found, wanted, .. } => format!(
            "solder of {} goes with a lower standard only: {wanted} wants solder to match",
            found.normalize()
        ),
        Reason::AboveTrue {
            what,
            figure,
            found,
            allowed,
            ..
        } => format!(
            "{} is more than the {} of the {}; the {} that may be found short on control are no figure to strike",
            short(figure),
            short(found),
            what.word(),
            allowed.normalize()
        ),
        Reason::WithinShortfall {
            what,
            missing,
            allowed,
            ..
        } => format!(
            "the {} is {} short, within the {} that may be found short on control",
            what.word(),
            short(missing),
            allowed.normalize()
        ),
        Reason::NotTrue { figure, found, .. } => format!(
            "{} is neither a standard nor the true figure, which is {}",
            short(figure),
            short(found.floor())
        ),
        Reason::DearerUnmarked(metal) => format!(
            "no mark is struck for the {}: the eye does not tell it from the less precious metal",
            metal.word()
        ),
        Reason::MetalsRefused => with_more(
            "two precious metals that are not accepted together",
            book.metals.as_ref(),
        ),
        Reason::TagOver {
            metal,
            figure,
            found,
        } => tag(
            judged,
            &format!(
                "claims {} {}, but it is {}",
                metal.word(),
                short(figure),
                short(found)
            ),
        ),
        Reason::TagMetal(metal) => tag(
            judged,
            &format!("names {}, which no part holds", metal.word()),
        ),
        Reason::TagSolid => tag(judged, "calls a hollow article solid"),
        Reason::Plated { admitted } => plated(judged, admitted),
        Reason::PlatedThin { row, thick } => plated_thin(judged, row, thick),
        Reason::NotAmong(metal) => not_among(metal, book),
        Reason::Thin { part, thickness } => format!(
            "the {} is {thickness} mm thick, and each of two metals must be at least {} mm",
            part.word(),
            book.least_thickness
                .as_ref()
                .map_or(Decimal::ZERO, |row| row.value)
        ),
        Reason::WhiteAlike => "platinum and white gold are not told apart".to_owned(),
        Reason::Harmful { row, part, held } => {
            let row = at(&book.harmful, row);
            format!(
                "the {} holds {} {} per thousand, and no part may hold more than {}",
                part.word(),
                row.map_or("", |row| row.element.as_str()),
                short(held),
                row.map_or(Decimal::ZERO, |row| row.most)
            )
        }
    }
}

fn not_among(metal: Precious, book: &Rulebook) -> String {
    let word = metal.word();
    let least = book.standards.get(word).and_then(|row| row.value.first());
    let row = book.among.get(word);
    format!(
        "{word} under {} is named by a figure only where {} make {} of it together",
        least.copied().unwrap_or_default(),
        row.map(|row| row.group.join(", ")).unwrap_or_default(),
        row.map(|row| row.sum).unwrap_or_default()
    )
}

fn plated(judged: &Judged<'_>, admitted: bool) -> String {
    let with = judged.article.plating.as_deref().unwrap_or_default();
    if admitted {
        return format!("plated with {with}: disclosed, and never counted as fineness");
    }
    let row = judged.book.plating.as_ref();
    let all = row.map(|row| crate::suggest::listed(row.value.iter().map(String::as_str)));
    format!(
        "plated with {with}: only {} may be plated on",
        all.unwrap_or_default()
    )
}

fn plated_thin(judged: &Judged<'_>, row: u32, thick: Option<Decimal>) -> String {
    let with = judged.article.plating.as_deref().unwrap_or_default();
    let row = at(&judged.book.plated, row);
    let micrometres = |mm: Decimal| (mm * Decimal::ONE_THOUSAND).normalize();
    let least = micrometres(row.map_or(Decimal::ZERO, |row| row.least));
    let named = row.and_then(|row| row.has.first());
    let named = named
        .map(|word| format!(" sold as {word}"))
        .unwrap_or_default();
    match thick {
        Some(thick) => format!(
            "a plating of {with}{named} is {least} \u{00B5}m thick or more, and this one is {} \u{00B5}m",
            micrometres(thick)
        ),
        None => format!(
            "a plating of {with}{named} is {least} \u{00B5}m thick or more: state how thick it is, as in `plating {with} {{ thickness {least} um }}`"
        ),
    }
}

fn at<T>(rows: &[T], place: u32) -> Option<&T> {
    rows.get(usize::try_from(place).ok()?)
}

fn nth(words: Option<&Vec<String>>, place: u32) -> &str {
    words
        .and_then(|words| at(words, place))
        .map_or("", String::as_str)
}

/// A statement, and what else its row says.
fn with_more(text: &str, row: Option<&Word>) -> String {
    let more = row.and_then(|row| row.says.as_ref());
    let more = more.map(|says| format!(": {says}")).unwrap_or_default();
    format!("{text}{more}")
}

fn solder(metal: Option<Precious>, found: Decimal, wanted: Decimal, leave: Leave) -> String {
    let what = metal.map_or("precious metals together", Precious::word);
    let is = format!("solder of {what} {}", found.normalize());
    let state = match leave {
        Leave::Given => return format!("{is} is under {wanted}: only where that is authorised"),
        Leave::Unsaid => "; where it is authorised, state `solder NAME { authorised yes }`",
        Leave::No => "",
    };
    format!(
        "{is} is under the {wanted} wanted, {} missing{state}",
        (wanted - found).normalize()
    )
}

/// What solder of gold may hold where the gold is white, which the recipe does not say; empty where that is no less.
fn if_white(judged: &Judged<'_>, found: Decimal, wanted: Decimal) -> String {
    let mut parts = judged.article.parts.iter();
    let mut rows = judged.book.solder.iter();
    let row = rows.find(|row| {
        row.white
            && row.metal.as_deref() == Some("gold")
            && row.from.is_none_or(|from| wanted >= from)
            && row.to.is_none_or(|to| wanted <= to)
            && row.least.is_some_and(|least| found >= least)
    });
    match row.and_then(|row| row.least) {
        Some(least) if parts.all(|part| !part.white) => {
            format!(
                "; {least} would do for white gold: where it is, state `colour white` in its alloy"
            )
        }
        _ => String::new(),
    }
}

/// The mark of a part on its own: in karats where they come out.
fn own_mark(metal: Option<Precious>, found: Decimal) -> String {
    let karats = found * Decimal::from(24);
    if metal == Some(Precious::Gold) && (karats % Decimal::ONE_THOUSAND).is_zero() {
        format!("{}K", (karats / Decimal::ONE_THOUSAND).normalize())
    } else {
        found.normalize().to_string()
    }
}

fn differing(rule: Differing) -> &'static str {
    match rule {
        Differing::Lowest => "two finenesses of one metal: the lower figure stands for the whole",
        Differing::EachOwn => {
            "two finenesses: each part carries its own mark, in the same pattern and size"
        }
        Differing::Whole => "two finenesses: one figure, judged on the whole melted together",
        Differing::Refused => "two finenesses of one metal",
    }
}

fn two_metals(rule: Mixed, apart: Option<bool>, marks: &[FineMark]) -> String {
    let named = |mark: &FineMark| {
        let figure = mark
            .figure
            .map_or_else(|| "no mark".to_owned(), |figure| figure.to_string());
        let parts = listed(mark.parts);
        format!("{figure} on the {parts} ({})", mark.metal.word())
    };
    let least = marks.first().map(named).unwrap_or_default();
    let dearer: Vec<String> = marks.iter().skip(1).map(named).collect();
    let dearer = dearer.join(", ");
    match (rule, apart) {
        (Mixed::FullOnLeast, Some(false)) => {
            "two precious metals that the eye cannot tell apart".to_owned()
        }
        (Mixed::FullOnLeast, _) => {
            format!("two precious metals: full marks with {least}, and {dearer}")
        }
        (Mixed::EachIfApart, Some(true)) => {
            format!("two precious metals, told apart: {least}, and {dearer}")
        }
        (Mixed::EachIfApart, Some(false)) => format!(
            "two precious metals, not told apart: {least} alone, and no mark for the dearer"
        ),
        (Mixed::EachIfApart, None) => format!(
            "two precious metals: {least}; and {dearer} only where the eye tells which part is which metal"
        ),
        (Mixed::ApartByColour | Mixed::PlatinumGold, Some(false)) => {
            "two precious metals whose colours do not separate".to_owned()
        }
        (Mixed::ApartByColour | Mixed::PlatinumGold, _) => {
            format!("two precious metals: {least}, and {dearer}")
        }
        (Mixed::EachOwn, _) => "two precious metals: each part carries its own mark".to_owned(),
    }
}

fn listed(parts: Portions) -> String {
    let parts: Vec<&str> = parts.iter().map(|part| part.word()).collect();
    parts.join(" and ")
}

fn base(parts: Portions, case: BaseCase) -> String {
    let rest = match case {
        BaseCase::NotFound => ": nothing was found on it in the texts read",
        BaseCase::Refused => "",
        BaseCase::Joined => ", metallically joined: no fineness mark at all",
        BaseCase::Unseen => " that is not seen as such: no fineness mark at all",
        BaseCase::SeenUnsaid => {
            ": whether it is seen as such is not stated; state `apart yes` or `apart no` in the hollow block"
        }
        BaseCase::MultiMetal => {
            ", seen and of another colour: it is named, and struck with its kind or METAL"
        }
        BaseCase::LeftOut => ", joined cold: left out of account, as long as it is seen as such",
        BaseCase::StruckName => {
            ": struck with its name or METAL, since its colour does not tell it apart"
        }
        BaseCase::ToldOrStruck => ": told apart by its colour, or struck with its name or METAL",
        BaseCase::AskOffice => ": ask the office",
    };
    format!("{} of base metal{rest}", listed(parts))
}

fn tag(judged: &Judged<'_>, what: &str) -> String {
    let tag = judged.article.tag.as_deref().unwrap_or_default();
    format!("\u{201C}{tag}\u{201D} {what}")
}

/// A clause as it is cited; empty where no text says so.
pub(super) fn cite(clause: Clause, book: &Rulebook) -> String {
    row(clause, book)
        .map(|cite| book.cited(cite))
        .unwrap_or_default()
}

fn row(clause: Clause, book: &Rulebook) -> Option<Cite<'_>> {
    fn of<T>(rows: &BTreeMap<String, T>, metal: Precious) -> Option<&T> {
        rows.get(metal.word())
    }
    Some(match clause {
        Clause::Standards(metal) => of(&book.standards, metal)?.cite(),
        Clause::Any(metal) => of(&book.any, metal)?.cite(),
        Clause::Part(metal) => of(&book.part, metal)?.cite(),
        Clause::Whole(metal) => of(&book.whole, metal)?.cite(),
        Clause::WholeSoldered => book.whole_soldered.as_ref()?.cite(),
        Clause::Solder(row) => at(&book.solder, row)?.cite(),
        Clause::Finenesses => book.finenesses.as_ref()?.cite(),
        Clause::Metals => book.metals.as_ref()?.cite(),
        Clause::Base => book.base.as_ref()?.cite(),
        Clause::Tag(row) => at(&book.tag, row)?.cite(),
        Clause::Say(row) => at(&book.say, row)?.cite(),
        Clause::ExemptSolder => book.exempt_solder.as_ref()?.cite(),
        Clause::Plating => book.plating.as_ref()?.cite(),
        Clause::Plated(row) => at(&book.plated, row)?.cite(),
        Clause::Among(metal) => of(&book.among, metal)?.cite(),
        Clause::Thickness => book.least_thickness.as_ref()?.cite(),
        Clause::WhiteAlike => book.white_alike.as_ref()?.cite(),
        Clause::Harmful(row) => at(&book.harmful, row)?.cite(),
        Clause::None => return None,
    })
}

/// A value that is known from memory alone.
pub(super) fn memory(clause: Clause, book: &Rulebook) -> String {
    let (what, metal) = match clause {
        Clause::Standards(metal) => ("standards", metal),
        Clause::Any(metal) => ("figures", metal),
        Clause::Part(metal) => ("shortfall of a part", metal),
        Clause::Whole(metal) => ("shortfall of the whole", metal),
        other => return cite(other, book),
    };
    format!("{what} of {}: {}", metal.word(), cite(clause, book))
}

/// The clause on the official mark, and on the exemptions that the article was held against.
pub(super) fn official(judged: &Judged<'_>) -> String {
    let (judgement, book) = (judged.judgement, judged.book);
    let Some(system) = &book.system else {
        return String::new();
    };
    if book.silent.is_some() {
        return String::new();
    }
    let says = system.says.as_ref().map(|says| format!(" ({says})"));
    let system = format!("{}{}", book.cited(system.cite()), says.unwrap_or_default());
    let of = |lost: bool| {
        let weighed = judgement.weighed.iter();
        let weighed = weighed.filter(move |row| row.lost == lost);
        weighed.filter_map(|row| book.exempt.get(row.metal.word()))
    };
    let standing = of(false).map(|row| {
        format!(
            "{} g of metal, exempt under {} g, {}",
            judged.article.weight.normalize(),
            row.below,
            book.cited(row.cite())
        )
    });
    if judgement.official == OfficialMark::Exempt {
        return standing.collect::<Vec<String>>().join("; ");
    }
    let lost = of(true).map(|row| {
        format!(
            "not exempt beside a dearer metal: {}",
            book.cited(row.cite())
        )
    });
    let under = standing;
    let all: Vec<String> = [system].into_iter().chain(lost).chain(under).collect();
    all.join("; ")
}
