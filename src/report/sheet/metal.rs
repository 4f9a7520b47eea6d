//! What of a sheet is metal and money: stock, weights to be found on the scale, marks and tests, minutes, price.

use crate::evaluate::Evaluation;
use crate::kernel::lathe::{LatheState, Moment, Part, outline};
use crate::model::Metal;
use crate::quantity::Number;
use crate::report::money::money;
use crate::schema::ResultId;
use crate::source::printable;

use super::facts::{Facts, SheetBlock};

/// Metals, and the stock that they are turned from.
pub(super) fn stock(evaluation: &Evaluation) -> Option<SheetBlock> {
    let mut facts = Facts::of(evaluation);
    let band = &evaluation.band;
    match &band.hollow {
        None => facts.say("metal", format!("{}, {}", band.alloy.name, band.temper)),
        Some(build) => {
            let text = |metal: &Metal| format!("{}, {}", metal.alloy.name, metal.temper);
            facts.say("shell", text(&build.shell));
            facts.say("sleeve", text(&build.sleeve));
        }
    }
    let mut told = false;
    for part in evaluation
        .account()
        .iter()
        .flat_map(|one| &one.balance.parts)
    {
        if let (Some(stock), Some(need)) = (&part.stock, &part.need) {
            told = true;
            let length = facts.number(need.length, "mm");
            facts.say(
                &format!("{} from", part.of.word()),
                format!(
                    "{} `{}`, {length} a batch",
                    stock.form.word(),
                    printable(&stock.name)
                ),
            );
        }
    }
    if !told {
        facts.say("stock", "none stated");
    }
    facts.result("issued", ResultId::WeightIssued);
    facts.done("metal and stock")
}

/// What a part weighs as it comes off the machine, metal for finishing included, g.
fn machined(evaluation: &Evaluation, part: Part) -> Option<f64> {
    let input = &evaluation.input;
    let density = match part {
        Part::Band => input.density,
        Part::Shell => input.shell_density,
        Part::Sleeve => input.sleeve_density,
    };
    let moment = Moment::On(LatheState::Machined);
    let outline = outline(input, evaluation.stretch(), part, moment)?;
    Some(outline.swept() * density)
}

/// Weights after each stage of the work, each with a box for what the scale says.
pub(super) fn weights(evaluation: &Evaluation) -> Option<SheetBlock> {
    let mut facts = Facts::of(evaluation);
    let before = evaluation.input.stretch.cut_before;
    let cut = evaluation.figures.weight_cut;
    let mut sum = 0.0;
    for (label, part) in [
        ("band turned", Part::Band),
        ("shell turned", Part::Shell),
        ("sleeve turned", Part::Sleeve),
    ] {
        let Some(weight) = machined(evaluation, part) else {
            continue;
        };
        sum += weight;
        let text = facts.number(weight, "g");
        facts.boxed(label, text);
        if cut > 0.0 && before && part != Part::Sleeve {
            let text = facts.number(weight - cut, "g");
            facts.boxed("the same, cut", text);
        }
    }
    if evaluation.band.hollow.is_some() {
        let joined = if before { sum - cut } else { sum } + evaluation.input.solder;
        let text = facts.number(joined, "g");
        facts.boxed("joined", text);
    }
    if cut > 0.0 && !before {
        let text = facts.number(cut, "g");
        facts.say("cut takes off", text);
    }
    if let Some(text) = facts.text(ResultId::Weight) {
        facts.boxed("finished", text);
    }
    facts.done("weights: computed, found")
}

/// Marks, and what is tried by hand before a ring is sold.
pub(super) fn marking(evaluation: &Evaluation) -> Option<SheetBlock> {
    let mut facts = Facts::of(evaluation);
    let band = &evaluation.band;
    match &band.marking.mark {
        None => facts.say("struck mark", "none stated"),
        Some(mark) => {
            let on = mark.on.as_deref().unwrap_or("the band");
            let deep = match mark.deep {
                Some(deep) => format!(", {} mm deep", deep.value().normalize()),
                None => String::new(),
            };
            facts.boxed("mark", format!("on {on}{deep}"));
        }
    }
    for rules in &band.marking.asked {
        facts.boxed("assay", format!("to be judged by {}", printable(rules)));
    }
    if band.hollow.is_some() {
        facts.boxed("pull test", "the shell does not come off by hand");
        let turning = evaluation.input.stretch.turning;
        facts.boxed(
            "twist test",
            match turning {
                true => "it turns freely all round",
                false => "it does not turn; whether it grips is an estimate until then",
            },
        );
    }
    facts.boxed("bore tried", size(evaluation));
    facts.done("marks and tests")
}

fn size(evaluation: &Evaluation) -> String {
    let size = evaluation.band.inside().size;
    size.map_or_else(
        || "on the stick".to_owned(),
        |size| format!("{size} on the stick"),
    )
}

/// Minutes of one ring.
pub(super) fn minutes(evaluation: &Evaluation) -> Option<SheetBlock> {
    let mut facts = Facts::of(evaluation);
    let account = evaluation.account()?;
    facts.result("labour", ResultId::TimeLabour);
    facts.result("machine", ResultId::TimeMachine);
    if account.balance.batch > 1 {
        let batch = account.balance.batch;
        facts.say("batch", format!("of {batch}; set-up is shared out"));
    }
    facts.done("minutes of one ring")
}

/// Cost and price.
pub(super) fn price(evaluation: &Evaluation) -> SheetBlock {
    let mut facts = Facts::of(evaluation);
    let code = evaluation.account().and_then(|account| account.currency);
    for (label, id) in [
        ("cost", ResultId::Cost),
        ("price", ResultId::Price),
        ("with tax", ResultId::PriceTotal),
    ] {
        if let (Some(Number::Exact(amount)), Some(code)) = (evaluation.number(id), &code) {
            facts.say(label, money(amount, code.code()));
        }
    }
    let none = || {
        let told = "the recipe says too little of prices to give one";
        SheetBlock::Words("price".to_owned(), vec![told.to_owned()])
    };
    facts.done("price").unwrap_or_else(none)
}
