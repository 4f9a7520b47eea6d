//! What a batch takes of a stock, and whether the stock can make the part at all.

use crate::quantity::Number;
use crate::schema::{FieldId, ResultId};
use rust_decimal::Decimal;

use crate::evaluate::Evaluation;
use crate::evaluate::error::LimitError;
use crate::kernel::section::Catch;
use crate::model::Band;
use crate::model::money::{Stock, Terms};

/// What a batch takes of one stock; mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Need {
    /// Length of the stock that one part takes, its share of facing and parting included.
    pub piece: f64,
    /// Length that goes as offcut, in all.
    pub offcut: f64,
    /// Length to buy, in all.
    pub length: f64,
    /// Lengths or blanks to buy; none where the stock states no length.
    pub lengths: Option<u32>,
}

/// What a batch of parts of one width takes of a stock.
///
/// # Formula
/// Tube and rod: piece = width + 2 * facing + kerf; of a length, floor((length - rest) / piece) pieces; offcut is
/// what is left of each length that is used up, and the rest of the last. Blanks: one each.
///
/// # Units
/// Millimetres.
#[must_use]
pub fn need(stock: &Stock, width: f64, batch: u32) -> Need {
    let count = f64::from(batch.max(1));
    let length = stock.length.map(crate::quantity::Length::to_mm);
    if !stock.form.is_parted() {
        let piece = length.unwrap_or(width);
        return Need {
            piece,
            offcut: 0.0,
            length: piece * count,
            lengths: Some(batch.max(1)),
        };
    }
    let piece = width + 2.0 * stock.facing.to_mm() + stock.kerf.to_mm();
    let rest = stock.rest.to_mm();
    let Some(length) = length else {
        return Need {
            piece,
            offcut: rest,
            length: piece * count + rest,
            lengths: None,
        };
    };
    // A piece that ends with the length to within rounding still comes out of it.
    let pieces = ((length - rest) / piece + 1e-9).floor().max(1.0);
    let lengths = (count / pieces).ceil();
    Need {
        piece,
        offcut: (lengths - 1.0) * (length - pieces * piece) + rest,
        length: lengths * length,
        lengths: Some(lengths as u32),
    }
}

/// The dimensions that a part must come out of, as machined; mm.
struct Wanted {
    name: &'static str,
    outside: f64,
    bore: f64,
    width: f64,
}

/// A finding for every dimension of a stock that cannot make its part.
pub(crate) fn unfit_stock(evaluation: &Evaluation) -> Vec<LimitError> {
    let band = &evaluation.band;
    let Some(terms) = &band.terms else {
        return Vec::new();
    };
    let mut findings = Vec::new();
    for (wanted, stock, field) in wanted(evaluation, terms) {
        let Some(stock) = stock else { continue };
        judge(&wanted, stock, band, field, &mut findings);
    }
    findings
}

type Part<'a> = (Wanted, Option<&'a Stock>, FieldId);

fn wanted<'a>(evaluation: &Evaluation, terms: &'a Terms) -> Vec<Part<'a>> {
    let figures = &evaluation.figures;
    // As machined, where that is computed; else as finished.
    let known = |id: ResultId, finished: f64| machined(evaluation, id).unwrap_or(finished);
    let Some(hollow) = &evaluation.input.shape.hollow else {
        let whole = Wanted {
            name: "band",
            outside: known(ResultId::MachinedOutside, figures.outside),
            bore: known(ResultId::MachinedBore, figures.bore),
            width: width(evaluation, "band"),
        };
        return vec![(whole, terms.solid.as_deref(), FieldId::Stock)];
    };
    let floor = figures.bore + 2.0 * hollow.sleeve;
    let (out, inwards) = match hollow.catch {
        Catch::Ridge { height, .. } => (2.0 * height, 0.0),
        Catch::Lip { height, .. } => (0.0, 2.0 * height),
        Catch::None => (0.0, 0.0),
    };
    let foot = known(ResultId::MachinedShellBore, floor + hollow.play - inwards);
    let shell = Wanted {
        name: "shell",
        outside: known(ResultId::MachinedShellOutside, figures.outside),
        bore: known(ResultId::MachinedShellLipBore, foot),
        width: width(evaluation, "shell"),
    };
    let ridge_top = known(ResultId::MachinedSleeveFloor, floor + out);
    let sleeve = Wanted {
        name: "sleeve",
        outside: known(ResultId::MachinedSleeveRidgeTop, ridge_top),
        bore: known(ResultId::MachinedSleeveBore, figures.bore),
        width: width(evaluation, "sleeve"),
    };
    vec![
        (shell, terms.shell.as_deref(), FieldId::HollowShellStock),
        (sleeve, terms.sleeve.as_deref(), FieldId::HollowSleeveStock),
    ]
}

/// A result of the parts as machined; none where it is not computed.
fn machined(evaluation: &Evaluation, id: ResultId) -> Option<f64> {
    evaluation.number(id).map(Number::to_f64)
}

/// The width that a part is parted off to: as machined, where that is computed; mm.
pub(super) fn width(evaluation: &Evaluation, part: &str) -> f64 {
    let id = match part {
        "shell" => ResultId::MachinedShellWidth,
        "sleeve" => ResultId::MachinedSleeveWidth,
        _ => ResultId::MachinedWidth,
    };
    machined(evaluation, id).unwrap_or(evaluation.input.shape.width)
}

fn judge(
    wanted: &Wanted,
    stock: &Stock,
    band: &Band,
    field: FieldId,
    findings: &mut Vec<LimitError>,
) {
    let place = |id: FieldId| {
        let value = stock.fields.iter().find(|value| value.field.id == id);
        value.and_then(|value| value.at).unwrap_or(stock.at)
    };
    let mut say = |id: FieldId, what: &'static str, found: f64, due: f64, least: bool| {
        let short = if least { due - found } else { found - due };
        if short <= ROUNDING {
            return;
        }
        let word = id.word();
        let fits = if least { up(due) } else { down(due) };
        findings.push(LimitError::Stock {
            at: place(id),
            used: band.place(field),
            stock: stock.name.clone(),
            part: format!("{} of `{}`", wanted.name, band.name),
            what,
            found: millimetres(found),
            due: format!(
                "{} {}",
                if least { "at least" } else { "at most" },
                millimetres(due)
            ),
            help: format!("`{word} {fits} mm` would just do"),
        });
    };
    say(
        FieldId::StockOutside,
        "outside",
        stock.outside.to_mm(),
        wanted.outside,
        true,
    );
    say(
        FieldId::StockBore,
        "bore",
        stock.bore.to_mm(),
        wanted.bore,
        false,
    );
    let facing = 2.0 * stock.facing.to_mm();
    if let Some(length) = stock.length {
        let parted = stock.kerf.to_mm() + stock.rest.to_mm();
        let due = wanted.width + facing + if stock.form.is_parted() { parted } else { 0.0 };
        say(FieldId::StockLength, "length", length.to_mm(), due, true);
    }
}

/// Computed lengths are compared within this, in mm.
const ROUNDING: f64 = 1e-9;

fn millimetres(value: f64) -> String {
    format!("{} mm", (value * 1e6).round() / 1e6)
}

/// Up to the next micrometre.
fn up(value: f64) -> Decimal {
    on_grid((value * 1000.0 - 1e-6).ceil())
}

/// Down to the next micrometre.
fn down(value: f64) -> Decimal {
    on_grid((value * 1000.0 + 1e-6).floor())
}

fn on_grid(micrometres: f64) -> Decimal {
    Decimal::new(micrometres as i64, 3).normalize()
}
