//! A band on one screen: what a maker needs first.

use crate::evaluate::{Evaluation, Shortfall};
use crate::finding::Weight;
use crate::kernel::join::{Grip, Joined, Lock, Small, Strain};
use crate::model::{Metal, Value};
use crate::quantity::{Currency, Number, RingSize};
use crate::schema::{FieldId, ResultId};
use crate::{catalogue, words};

use super::drawn_section::drawing;
use super::money::{money, unpriced};
use super::number::signed;
use super::page::{Page, TextLayout};
use super::stretch_grip::overstrained;
use super::stretch_steps::last_pins;
use super::text;

/// Lines of a card, on a page of 80 columns; with what closes a run it fills a screen of 24.
const LINES: usize = 17;

/// Lines of a section: of a solid band at least, of a hollow one, so that its parts can be told, and at most.
const SECTION: (usize, usize, usize) = (3, 4, 6);

/// How many shortfalls are told on a card.
const SHORT: usize = 3;

/// The card of a band.
#[must_use]
pub(super) fn card(evaluation: &Evaluation, layout: TextLayout) -> String {
    let mut page = Page::new(layout);
    verdict(&mut page, evaluation);
    weight(&mut page, evaluation);
    super::weighed::in_short(&mut page, evaluation);
    cost(&mut page, evaluation);
    size(&mut page, evaluation);
    to_turn(&mut page, evaluation);
    super::drawn_cuts::in_short(&mut page, evaluation);
    opening(&mut page, evaluation);
    row(
        &mut page,
        "fineness",
        &super::fineness::in_short(evaluation),
    );
    let mut head = Page::new(layout);
    head.indented_if_long(&text::title(evaluation));
    let what = format!("{}; {}", kind(evaluation), metals(evaluation));
    head.indented(2, &what);
    let taken = page.text.lines().count() + head.text.lines().count();
    let least = match evaluation.band.hollow {
        Some(_) => SECTION.1,
        None => SECTION.0,
    };
    let room = LINES.saturating_sub(taken).clamp(least, SECTION.2);
    let columns = columns(evaluation, room);
    drawing(&mut head, evaluation, (2, columns, room));
    head.text + &page.text
}

/// Build and outside in words; a bore is told where it is no plain one.
fn kind(evaluation: &Evaluation) -> String {
    let band = &evaluation.band;
    let build = match &band.hollow {
        Some(hollow) if hollow.turning => "hollow band that turns",
        Some(_) => "hollow band",
        None => "solid band",
    };
    let bore = match band.written(FieldId::Comfort).is_zero() {
        true => "",
        false => ", comfort bore",
    };
    format!("{build}, {}{bore}", band.profile.word())
}

/// As many columns as leave a section to scale in so many lines.
fn columns(evaluation: &Evaluation, lines: usize) -> usize {
    let shape = &evaluation.input.shape;
    let columns = libm::floor(2.0 * lines as f64 * shape.width / shape.thickness);
    (columns as usize).clamp(20, 26)
}

fn row(page: &mut Page, label: &str, text: &str) {
    page.card_row(label, text);
}

/// The metals by name, with their states.
fn metals(evaluation: &Evaluation) -> String {
    let band = &evaluation.band;
    let whole = format!("{}, {}", band.alloy.name, band.temper);
    let Some(hollow) = &band.hollow else {
        return whole;
    };
    let of = |one: &Metal| format!("{}, {}", one.alloy.name, one.temper);
    let (shell, sleeve) = (of(&hollow.shell), of(&hollow.sleeve));
    match (
        hollow.shell.alloy.name == hollow.sleeve.alloy.name,
        shell == sleeve,
    ) {
        (_, true) => shell,
        (true, false) => format!(
            "{}, shell {}, sleeve {}",
            hollow.shell.alloy.name, hollow.shell.temper, hollow.sleeve.temper
        ),
        (false, false) => format!("shell {shell}; sleeve {sleeve}"),
    }
}

/// What falls short, in words; or that all holds.
fn verdict(page: &mut Page, evaluation: &Evaluation) {
    let mut made = Page::new(TextLayout {
        digits: page.digits,
        width: page.width,
    });
    super::stretch_made::first_lines(&mut made, evaluation);
    let made = made.text.trim_start_matches('\n');
    page.text.push_str(made);
    let mut found = words::findings(evaluation);
    found.retain(|one| one.weight() > Weight::Note);
    let told: Vec<String> = found.iter().map(|one| one.message()).collect();
    for (place, text) in told.iter().take(SHORT).enumerate() {
        row(page, if place == 0 { "short" } else { "" }, text);
    }
    match told.len().checked_sub(SHORT) {
        Some(0) | None => {}
        Some(more) => row(page, "", &format!("and {more} more")),
    }
    let of_made = |short: &Shortfall| matches!(short, Shortfall::Made(_));
    let what = match told.is_empty() && !evaluation.shortfalls.iter().any(of_made) {
        true => "holds",
        false => "walls",
    };
    least_wall(page, evaluation, what);
}

fn weight(page: &mut Page, evaluation: &Evaluation) {
    let mut text = page.result(evaluation, ResultId::Weight);
    if let Some(hollow) = &evaluation.figures.hollow {
        let solid = page.result(evaluation, ResultId::SolidWeight);
        let saving = page.number(Number::Computed(hollow.saving * 100.0), "%");
        text.push_str(&format!("; solid {solid}, saving {saving}"));
    }
    if let Some(account) = evaluation.account() {
        let issued = page.number(Number::Exact(account.weights().issued), "g");
        text.push_str(&format!("; issued {issued}"));
    }
    row(page, "weight", &text);
}

fn cost(page: &mut Page, evaluation: &Evaluation) {
    let Some(account) = evaluation.account() else {
        return row(page, "cost", words::money::NO_PRICES);
    };
    let currency = account.currency.as_ref().map_or("", Currency::code);
    let Some(cost) = account.cost() else {
        let missing = words::money::all_missing(evaluation);
        let missing: Vec<&str> = missing.iter().map(|one| one.what.as_str()).collect();
        return row(
            page,
            "cost",
            &format!("not given: no {} is stated", missing.join(", no ")),
        );
    };
    // The currency stands once, behind the last amount.
    let plain = |amount| money(amount, currency).replace(&format!(" {currency}"), "");
    let mut text = format!("{} (metal {})", plain(cost.total), plain(cost.metal));
    if let Some(net) = account.net {
        text.push_str(&format!("; price {}", plain(net)));
        if let Some(gross) = account.gross.filter(|gross| *gross != net) {
            text.push_str(&format!(", with tax {}", plain(gross)));
        }
    }
    text.push_str(&format!(" {currency}"));
    if let Some(unpriced) = evaluation
        .band
        .terms
        .as_ref()
        .and_then(|terms| unpriced(terms, account))
    {
        text.push_str(&format!("; {unpriced} counted as nothing"));
    }
    row(page, "cost", &text);
}

fn size(page: &mut Page, evaluation: &Evaluation) {
    let band = &evaluation.band;
    let bore = page.result(evaluation, ResultId::Bore);
    let own = band.inside().size.map(|size| size.system.word.as_str());
    let name = match band.field(FieldId::Size).map(|field| &field.value) {
        Some(Value::Size { size, .. }) => format!("{size}, "),
        _ => String::new(),
    };
    let inside = evaluation.figures.circumference;
    let near: Vec<String> = ["ISO", "US", "UK", "JP"]
        .into_iter()
        .filter(|word| own != Some(word))
        .filter_map(|word| RingSize::nearest(catalogue::system(word)?, inside))
        .map(|near| {
            let off = inside - near.circumference().to_f64();
            let off = crate::quantity::from_f64(off).unwrap_or_default();
            match off.abs() < rust_decimal::dec!(0.005) {
                true => near.to_string(),
                false => format!("{near} {}", signed(off, 2)),
            }
        })
        .collect();
    let near = match near.is_empty() {
        true => String::new(),
        false => format!("; near {}", near.join(", ")),
    };
    row(page, "size", &format!("{name}\u{D8} {bore}{near}"));
}

/// The diameters and widths to turn, a line a part.
fn to_turn(page: &mut Page, evaluation: &Evaluation) {
    let stretch = evaluation.stretch();
    // All of them are in mm, which is said once, behind the last.
    let list = |page: &mut Page, label: &str, diameters: &[(&str, ResultId)], wide: ResultId| {
        let mut shown = |id: ResultId| page.result(evaluation, id).replace(" mm", "");
        let said: Vec<String> = diameters
            .iter()
            .filter(|(_, id)| evaluation.number(*id).is_some())
            .map(|(what, id)| format!("{what} {}", shown(*id)))
            .collect();
        let wide = shown(wide);
        let text = format!("\u{D8} {}; width {wide} mm", said.join(", "));
        row(page, label, &text.replace(", by", " by"));
    };
    if stretch.hollow.is_some() {
        list(
            page,
            "shell",
            &[
                ("feet", ResultId::MachinedShellBore),
                ("lips", ResultId::MachinedShellLipBore),
                ("channel", ResultId::MachinedShellChannel),
                ("by", ResultId::MachinedShellChannelWidth),
                ("outside", ResultId::MachinedShellOutside),
            ],
            ResultId::MachinedShellWidth,
        );
        return list(
            page,
            "sleeve",
            &[
                ("bore", ResultId::MachinedSleeveBore),
                ("outside", ResultId::MachinedSleeveFloor),
                ("ridge", ResultId::MachinedSleeveRidgeTop),
            ],
            ResultId::MachinedSleeveWidth,
        );
    }
    let label = match evaluation.input.stretch.start {
        Some(_) => "blank",
        None => "to turn",
    };
    if evaluation.number(ResultId::MachinedBore).is_some() {
        return list(
            page,
            label,
            &[
                ("bore", ResultId::MachinedBore),
                ("outside", ResultId::MachinedOutside),
            ],
            ResultId::MachinedWidth,
        );
    }
    let outside = page.result(evaluation, ResultId::Outside);
    let width = page.mm(evaluation.input.shape.width);
    row(
        page,
        label,
        &format!("outside \u{D8} {outside}, width {width}"),
    );
}

/// What to aim at on the enlarger, what it asks of the metal, and whether it grips.
fn opening(page: &mut Page, evaluation: &Evaluation) {
    let stretch = evaluation.stretch();
    match (&stretch.hollow, &stretch.solid) {
        (Some(joined), _) => {
            open_hollow(page, evaluation, joined);
            stretched(page, evaluation);
            grip(page, evaluation, joined);
        }
        (None, Some(small)) if evaluation.input.stretch.start.is_some() => {
            open_solid(page, evaluation, small);
            stretched(page, evaluation);
        }
        _ => {}
    }
}

fn open_hollow(page: &mut Page, evaluation: &Evaluation, joined: &Joined) {
    let done = joined.finished.bore;
    let released = page.mm(done);
    let mandrel = match joined.finished.mandrel {
        Some(mandrel) => format!("mandrel \u{D8} {}", page.mm(mandrel)),
        None => "mandrel not known".to_owned(),
    };
    let turning = evaluation.input.stretch.turning;
    if !turning && joined.grip_window.is_some() && joined.aim.is_none() {
        return row(page, "open to", "no opening is safe: see `--part grip`");
    }
    let (goes, not) = last_pins(done);
    row(
        page,
        "open to",
        &format!("{mandrel}, let go \u{D8} {released}; pin {goes} in, {not} not"),
    );
}

fn open_solid(page: &mut Page, evaluation: &Evaluation, small: &Small) {
    let mandrel = match small.mandrel {
        Some(mandrel) => format!("mandrel \u{D8} {}", page.mm(mandrel)),
        None => "mandrel not known".to_owned(),
    };
    let (goes, not) = last_pins(2.0 * evaluation.input.shape.radius);
    row(
        page,
        "open to",
        &format!("{mandrel}; pin {goes} in, {not} not"),
    );
}

fn stretched(page: &mut Page, evaluation: &Evaluation) {
    let strains = evaluation.stretch().strains(&evaluation.input);
    let per_cent = |strain: f64| Number::Computed((libm::exp(strain) - 1.0) * 100.0);
    let said: Vec<String> = strains
        .iter()
        .map(
            |Strain {
                 part,
                 strain,
                 allowed,
             }| {
                let (is, most) = (
                    page.number(per_cent(*strain), "%"),
                    page.number(per_cent(allowed.strain), "%"),
                );
                format!("{} {is} of {most}", words::body(*part))
            },
        )
        .collect();
    if !said.is_empty() {
        row(page, "stretch", &format!("{} allowed", said.join(", ")));
    }
}

fn grip(page: &mut Page, evaluation: &Evaluation, joined: &Joined) {
    let given = &evaluation.input.stretch;
    if given.turning {
        return;
    }
    let verdict = match joined.grip {
        Grip::Grips if overstrained(evaluation) => "grips, but its shell takes more than it bears",
        Grip::Grips => "grips, an estimate",
        Grip::MayGrip => "may grip, an estimate",
        Grip::Loose => "does not grip",
        Grip::Unknown => "not judged: no yield or modulus stated",
        Grip::Seated if joined.seated.is_none() => "never seated: the shell yields first",
        Grip::Seated => "seated: no opening past touch is stated",
    };
    let held = match given.lock {
        Some(Lock::Key(_)) => "locked by a key",
        Some(Lock::Tack) => "locked by tacks",
        Some(Lock::Stake) => "locked by stakes",
        None => "friction only, not reliable",
    };
    row(page, "grip", &format!("{verdict}; {held}"));
}

fn least_wall(page: &mut Page, evaluation: &Evaluation, label: &str) {
    // The wall with the least to spare over what is wanted of it.
    let walls = evaluation.walls().into_iter().map(|(wall, worst)| {
        let least = evaluation.input.stretch.walls.of(wall.id);
        (wall.thickness - worst - least, wall, worst, least)
    });
    let Some((_, wall, worst, least)) = walls.min_by(|one, other| one.0.total_cmp(&other.0)) else {
        return;
    };
    let [thick, least] = [wall.thickness, least].map(|length| page.mm(length));
    let off = match worst > 0.0 {
        true => format!(" \u{2212} {} at worst", page.mm(worst)),
        false => String::new(),
    };
    let place = words::wall(wall.id);
    row(
        page,
        label,
        &format!("least wall {thick}{off} ({place}), {least} allowed"),
    );
}
