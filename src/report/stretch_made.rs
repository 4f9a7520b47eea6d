//! Parts as they came off the machine, and what they come to, for a person.

use crate::evaluate::{Evaluation, Shortfall};
use crate::kernel::made::saves;
use crate::kernel::section::Catch;
use crate::quantity::{Number, RingSize};
use crate::schema::ResultId;

use super::number::signed;
use super::page::Page;

/// In the first lines: whether parts or blank as made will do, and what saves them where they do not.
pub(super) fn first_lines(page: &mut Page, evaluation: &Evaluation) {
    let stretch = evaluation.stretch();
    if stretch.made.is_none() && stretch.blank.is_none() {
        return;
    }
    let of_made = |short: &&Shortfall| matches!(short, Shortfall::Made(_));
    let count = evaluation.shortfalls.iter().filter(of_made).count();
    let what = match stretch.made {
        Some(_) => "parts as made",
        None => "blank as made",
    };
    let bore = page.result(evaluation, ResultId::MadeBore);
    let verdict = match count {
        0 => "hold".to_owned(),
        1 => "fall short in one thing".to_owned(),
        more => format!("fall short in {more} things"),
    };
    let verdict = match (stretch.made, count) {
        (Some(_), _) => verdict,
        (None, 0) => "holds".to_owned(),
        (None, _) => verdict.replacen("fall", "falls", 1),
    };
    // What cannot be judged is no pass.
    let joined = stretch.hollow.as_ref();
    let unjudged =
        joined.is_some_and(|joined| joined.hold.is_none() && joined.loose_ends.is_some());
    let unjudged = match unjudged {
        true => "; what keeps them together is not judged",
        false => "",
    };
    page.line("");
    page.indented(
        2,
        &format!("{what}: {verdict}; \u{D8} {bore} when done{unjudged}"),
    );
    let (Some(made), Some(joined)) = (&stretch.made, &stretch.hollow) else {
        return;
    };
    let Some(saves) = saves(&evaluation.input, &evaluation.figures, joined, made) else {
        return;
    };
    let and_cut = |page: &mut Page, cut: Option<f64>| match cut {
        Some(cut) => format!(", and a cut no deeper than {}", page.mm(cut)),
        None => String::new(),
    };
    let mut label = "saved by";
    if let Some(cut) = saves.cut {
        let cut = page.mm(cut);
        page.words(label, &format!("a thinner cut, no deeper than {cut}"));
        label = "or by";
    }
    if let Some((sleeve, cut)) = saves.sleeve {
        let (bore, floor) = (page.mm(sleeve.bore), page.mm(sleeve.floor));
        let ridge = sleeve.ridge_top.map_or(String::new(), |top| {
            format!(", ridge \u{D8} {}", page.mm(top))
        });
        let cut = and_cut(page, cut);
        page.words(
            label,
            &format!("another sleeve: bore \u{D8} {bore}, outside \u{D8} {floor}{ridge}{cut}"),
        );
        label = "or by";
    }
    if let Some((bore, cut)) = saves.size {
        let near = near(evaluation, bore);
        let (bore, cut) = (page.mm(bore), and_cut(page, cut));
        page.words(
            label,
            &format!(
                "another size: \u{D8} {bore}{near}{cut}; weight and price are then that one's"
            ),
        );
    }
    if saves.is_empty() {
        page.words(
            "saved by",
            "no other sleeve, size or cut: make the parts anew",
        );
    }
}

/// The nearest size of the band's own system, in words behind a diameter.
fn near(evaluation: &Evaluation, bore: f64) -> String {
    let system = evaluation.band.inside().size.map(|size| size.system);
    system
        .and_then(|system| RingSize::nearest(system, std::f64::consts::PI * bore))
        .map_or(String::new(), |near| {
            let off = std::f64::consts::PI * bore - near.circumference().to_f64();
            let off = crate::quantity::from_f64(off).unwrap_or_default();
            // Less than is shown is no difference.
            if off.abs() < rust_decimal::dec!(0.005) {
                return format!(", nearest {near}");
            }
            format!(", nearest {near} {} mm of circumference", signed(off, 2))
        })
}

/// What parts as they came off the machine come to.
pub(super) fn made(page: &mut Page, evaluation: &Evaluation) {
    let Some(made) = &evaluation.stretch().made else {
        return;
    };
    page.heading("parts as made, forward");
    if made.turned {
        page.words(
            "sleeve",
            "as planned it does not go in: reckoned with the one to turn",
        );
    }
    let spare = page.result(evaluation, ResultId::MadeClearance);
    page.row(
        "go together",
        &format!("\u{D8} {spare} to spare on the diameter"),
    );
    for (label, ids) in [
        (
            "catching from",
            [ResultId::MadeLooseEndsBore, ResultId::MadeLooseEndsMandrel],
        ),
        (
            "turning from",
            [ResultId::MadeTurningBore, ResultId::MadeTurningMandrel],
        ),
        (
            "seated at",
            [ResultId::MadeSeatedBore, ResultId::MadeSeatedMandrel],
        ),
        (
            "fixed at",
            [ResultId::MadeFixedBore, ResultId::MadeFixedMandrel],
        ),
    ] {
        let [bore, mandrel] = ids.map(|id| page.result(evaluation, id));
        if bore == "none" {
            continue;
        }
        let mandrel = match mandrel.as_str() {
            "none" => String::new(),
            mandrel => format!(", mandrel \u{D8} {mandrel}"),
        };
        page.row(label, &format!("\u{D8} {bore} after release{mandrel}"));
    }
    let bore = page.result(evaluation, ResultId::MadeBore);
    let near = near(evaluation, made.bore);
    let percent = page.number(Number::Computed(made.strain * 100.0), "%");
    page.row(
        "comes to",
        &format!("bore \u{D8} {bore}{near}, stretched by {percent}"),
    );
    let width = page.result(evaluation, ResultId::MadeWidth);
    // A hundredth of a millimetre cannot be felt, and is polished flush.
    let proud = made.proud.abs();
    let faces = if proud > 0.01 {
        let than = if made.proud > 0.0 {
            "wider"
        } else {
            "narrower"
        };
        let proud = page.number(Number::Computed(proud), "mm");
        match evaluation.input.shape.hollow.map(|hollow| hollow.catch) {
            Some(Catch::Lip { .. }) => {
                format!(", the sleeve {proud} {than} than lips and play leave")
            }
            _ => format!(", the sleeve {proud} {than}: face them flush"),
        }
    } else {
        String::new()
    };
    page.row("width", &format!("{width}{faces}"));
    if made.float.is_some() {
        let float = page.result(evaluation, ResultId::MadeFloat);
        let most = page.mm(evaluation.input.stretch.most_float);
        page.row(
            "axial float",
            &format!("{float} in all; {most} are allowed"),
        );
    }
    let (weight, deepest) = (
        page.result(evaluation, ResultId::MadeWeight),
        page.result(evaluation, ResultId::MadeDeepestCut),
    );
    page.row("weighs", &weight);
    page.row("deepest cut", &format!("{deepest}, radial"));
    let (bore, floor) = (
        page.result(evaluation, ResultId::MadeTurnBore),
        page.result(evaluation, ResultId::MadeTurnFloor),
    );
    let ridge = page.result(evaluation, ResultId::MadeTurnRidgeTop);
    let ridge = if ridge == "none" {
        String::new()
    } else {
        format!(", ridge \u{D8} {ridge}")
    };
    let mut sleeve = format!(
        "for this shell and the ordered size: bore \u{D8} {bore}, outside \u{D8} {floor}{ridge}"
    );
    let from = page.result(evaluation, ResultId::MadeTurnRidgeFromFace);
    if from != "none" {
        sleeve.push_str(&format!(" and {from} from the face"));
    }
    sleeve.push_str(&format!(
        ", {} wide",
        page.result(evaluation, ResultId::MadeTurnWidth)
    ));
    if evaluation.input.shape.comfort > 0.0 {
        sleeve.push_str(&format!(
            ", bore at the faces \u{D8} {}",
            page.result(evaluation, ResultId::MadeTurnEdgeBore)
        ));
    }
    page.words("sleeve to turn", &sleeve);
}

/// What a solid blank as it came off the machine comes to.
pub(super) fn blank(page: &mut Page, evaluation: &Evaluation) {
    let Some(blank) = &evaluation.stretch().blank else {
        return;
    };
    page.heading("blank as made, forward");
    let bore = page.result(evaluation, ResultId::MadeBore);
    let percent = page.number(Number::Computed(blank.strain * 100.0), "%");
    page.row(
        "comes to",
        &format!("\u{D8} {bore}, the ordered bore, stretched by {percent}"),
    );
    let mandrel = page.result(evaluation, ResultId::MadeMandrel);
    if mandrel != "none" {
        page.row("mandrel", &format!("open to \u{D8} {mandrel} under load"));
    }
    let outside = page.result(evaluation, ResultId::MadeOutside);
    page.row("outside", &format!("\u{D8} {outside}"));
    let width = page.result(evaluation, ResultId::MadeWidth);
    page.row("width", &width);
    let weight = page.result(evaluation, ResultId::MadeWeight);
    page.row("weighs", &weight);
    let deepest = page.result(evaluation, ResultId::MadeDeepestCut);
    page.row("deepest cut", &format!("{deepest}, radial"));
}
