//! Parts as they came off the machine, and what they come to, for a person.

use crate::evaluate::Evaluation;
use crate::kernel::section::Catch;
use crate::quantity::{Number, RingSize};
use crate::schema::ResultId;

use super::page::Page;

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
            "caught from",
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
    let system = evaluation.band.inside().size.map(|size| size.system);
    let near = system
        .and_then(|system| RingSize::nearest(system, std::f64::consts::PI * made.bore))
        .map_or(String::new(), |near| format!(", nearest {near}"));
    let percent = page.number(Number::Computed(made.strain * 100.0), "%");
    page.row(
        "comes to",
        &format!("\u{D8} {bore}{near}, stretched by {percent}"),
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
    page.row("wide", &format!("{width}{faces}"));
    let (weight, deepest) = (
        page.result(evaluation, ResultId::MadeWeight),
        page.result(evaluation, ResultId::MadeDeepestCut),
    );
    page.row("weighs", &weight);
    page.row("cut at most", &format!("{deepest} deep, radial"));
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
    page.row("wide", &width);
    let weight = page.result(evaluation, ResultId::MadeWeight);
    page.row("weighs", &weight);
    let deepest = page.result(evaluation, ResultId::MadeDeepestCut);
    page.row("cut at most", &format!("{deepest} deep, radial"));
}
