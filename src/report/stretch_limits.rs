//! What the metal of a band bears in the report: stretch in one pull, allowances apart, two opposed forces.

use crate::evaluate::Evaluation;
use crate::kernel::join::{Strain, pulls};
use crate::kernel::section::Body;
use crate::model::{Value, check};
use crate::quantity::Number;
use crate::schema::{FieldId, ResultId};
use crate::words;

use super::page::Page;

pub(super) fn strains(page: &mut Page, evaluation: &Evaluation) {
    let strains = evaluation.stretch().strains(&evaluation.input);
    if strains.is_empty() {
        return;
    }
    page.heading("stretch in one pull, at the bore");
    for Strain {
        part,
        strain,
        allowed,
    } in &strains
    {
        let per_cent = |strain: f64| Number::Computed((libm::exp(strain) - 1.0) * 100.0);
        let holds = if allowed.bears(*strain) {
            "holds"
        } else {
            "falls short"
        };
        let (is, most) = (
            page.number(per_cent(*strain), "%"),
            page.number(per_cent(allowed.strain), "%"),
        );
        let more = match pulls(*strain, allowed) {
            Some(pulls) if pulls > 1 && *part != Body::Shell => {
                format!("; anneal first and between, {pulls} pulls")
            }
            _ => String::new(),
        };
        page.row(
            words::body(*part),
            &format!("{is} of the {most} allowed: {holds}{more}"),
        );
        page.words("", words::basis(allowed.basis));
        if let Some(pulls) = pulls(*strain, allowed).filter(|pulls| *pulls > 1)
            && *part != Body::Shell
        {
            let text = anneals(page, evaluation, *strain, pulls);
            page.words("", &text);
        }
    }
    if let Some(reach) = reach(evaluation) {
        page.words("serves", &reach);
    }
}

/// At which bores to anneal between even pulls.
fn anneals(page: &mut Page, evaluation: &Evaluation, strain: f64, pulls: u32) -> String {
    const MOST: u32 = 6;
    let stretch = evaluation.stretch();
    let start = match (&stretch.hollow, &stretch.solid) {
        (Some(joined), _) => joined.start,
        (None, Some(small)) => small.start,
        (None, None) => return String::new(),
    };
    let each = strain / f64::from(pulls);
    if pulls > MOST {
        let each = page.number(Number::Computed((libm::exp(each) - 1.0) * 100.0), "%");
        return format!("anneal as machined and after each {each} of the bore");
    }
    let bores: Vec<String> = (1..pulls)
        .map(|pull| {
            let bore = page.mm(start * libm::exp(each * f64::from(pull)));
            format!("\u{D8} {bore}")
        })
        .collect();
    format!(
        "anneal as machined, and at a bore of {}, after release",
        bores.join(", ")
    )
}

/// Which ordered sizes the same blank or shell can serve.
fn reach(evaluation: &Evaluation) -> Option<String> {
    let stretch = evaluation.stretch();
    let size = evaluation.band.inside().size?;
    let named = |bore: f64| {
        crate::quantity::RingSize::nearest(size.system, std::f64::consts::PI * bore)
            .map_or_else(|| format!("\u{D8} {bore:.2} mm"), |near| format!("{near}"))
    };
    match (&stretch.hollow, &stretch.solid) {
        (Some(joined), _) => {
            let least = evaluation.input.stretch.walls.sleeve + evaluation.input.shape.comfort;
            let foot = joined.shell.bore;
            Some(format!(
                "same shell with the thinnest sleeve: about {}; each 0.1 mm of sleeve takes 0.2 mm off the bore",
                named(foot - 2.0 * least)
            ))
        }
        (None, Some(small)) => {
            let strains = evaluation.stretch().strains(&evaluation.input);
            let most = small.start * libm::exp(strains.first()?.allowed.strain);
            Some(format!(
                "the same blank makes sizes from about {} to {} in one pull",
                named(small.start),
                named(most)
            ))
        }
        _ => None,
    }
}

/// Every allowance on a line of its own: they are never one figure.
pub(super) fn allowances(page: &mut Page, evaluation: &Evaluation) {
    let band = &evaluation.band;
    let given = &evaluation.input.stretch;
    let stated = |id: FieldId| band.field(id).filter(|field| field.at.is_some());
    let written = [FieldId::AllowWide, FieldId::AllowComfort]
        .iter()
        .any(|id| stated(*id).is_some());
    let stretched = band.hollow.is_some() || given.start.is_some();
    let finish = given.layers.any();
    if !written && !finish && !stretched {
        return;
    }
    page.heading("allowances, each on its own");
    for (label, why, id) in [
        ("wide band", "width", FieldId::AllowWide),
        ("comfort bore", "comfort", FieldId::AllowComfort),
    ] {
        let steps = stated(id).map(|field| check::shown(&field.value));
        let text = match steps {
            Some(steps) => format!("{steps} size added for {why}"),
            None => "none".to_owned(),
        };
        page.row(label, &text);
    }
    if let Some(Value::Size { size, .. }) = band.field(FieldId::Size).map(|field| &field.value) {
        let within = if written {
            ", with these allowances in it"
        } else {
            ""
        };
        page.row("finished size", &format!("{size}{within}"));
    }
    if stretched {
        let stretch = evaluation.stretch();
        let start = match (&stretch.hollow, &stretch.solid) {
            (Some(joined), _) => joined.start,
            (None, Some(small)) => small.start,
            _ => return,
        };
        let opened = page.mm(2.0 * evaluation.input.shape.radius - start);
        page.row(
            "stretch",
            &format!("bore {opened} smaller before stretching"),
        );
    }
    let layers = &given.layers;
    let places = ["on the bore", "outside", "on each face"];
    let each: Vec<String> = (layers.left.into_iter().zip(layers.early).zip(places))
        .map(|((left, early), place)| {
            let when = match (left > 0.0, early) {
                (false, _) => "",
                (true, true) => ", off before the stretch",
                (true, false) => ", off last",
            };
            format!("{} {place}{when}", page.mm(left))
        })
        .collect();
    page.words("finish", &format!("{}; per side", each.join("; ")));
}

/// What it bears between two opposed forces.
pub(super) fn strength(page: &mut Page, evaluation: &Evaluation) {
    let Some(bears) = evaluation
        .bears()
        .filter(|bears| bears.stiffness.is_some() || bears.load.is_some())
    else {
        return;
    };
    page.heading("strength between two opposed forces: a bound, no safety rating");
    let ratio = |page: &mut Page, ratio: Option<f64>| match ratio {
        Some(ratio) => format!(
            ", {} of the solid's",
            page.number(Number::Computed(ratio * 100.0), "%")
        ),
        None => String::new(),
    };
    if bears.stiffness.is_some() {
        let stiffness = page.result(evaluation, ResultId::StrengthStiffness);
        let of = ratio(page, bears.stiffness_ratio);
        page.row("stiffness", &format!("{stiffness}{of}"));
    }
    if bears.load.is_some() {
        let load = page.result(evaluation, ResultId::StrengthLoad);
        let of = ratio(page, bears.load_ratio);
        page.row("first yield", &format!("{load}{of}"));
    } else {
        page.row("first yield", "not known: a temper states no yield");
    }
    if evaluation.band.hollow.is_some() {
        page.words(
            "",
            "shell and sleeve side by side; denting of the roof is not covered",
        );
    }
    let Some(roof) = bears.roof else {
        return;
    };
    let number = |page: &mut Page, value: f64| page.number(Number::Computed(value), "");
    let (wide, carries) = (
        number(page, roof.wide),
        page.number(Number::Computed(roof.share * 100.0), "%"),
    );
    let (least, most) = crate::kernel::strength::CHECKED;
    match bears.most {
        Some(stiffest) => {
            let stiffest = page.number(Number::Computed(stiffest), "N/mm");
            page.words("", &format!(
                "an estimate: {carries} of the roof carries, since an arched roof flattens out; the stiffness lies between that and {stiffest}. Checked for level roofs with half-span^2 / (radius * wall) from {least} to {most}; here {wide}"
            ));
        }
        None => page.words("", &format!(
            "{carries} of the roof carries; checked for level roofs with half-span^2 / (radius * wall) from {least} to {most}; here {wide}"
        )),
    }
}
