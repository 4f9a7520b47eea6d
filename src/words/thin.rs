//! Walls that are thinner than they may be, in words.

use crate::kernel::{ThinWall, WallId};
use crate::model::{Band, BandCut};
use crate::schema::FieldId;
use crate::suggest::listed;

use super::error::MetalError;
use super::length::{apart, mm, set};

/// What a wall is called.
#[must_use]
pub fn wall(id: WallId) -> &'static str {
    match id {
        WallId::Band => "band",
        WallId::BandUnderCut => "band under the cut",
        WallId::ShellUnderCut => "shell under the cut",
        WallId::Shell => "roof and side walls of the shell",
        WallId::SideFace => "shell at its side face",
        WallId::SleeveEdge => "sleeve at its edge",
        WallId::Relief => "sleeve where it is turned down",
        WallId::BandUnderMark => "band under the mark",
        WallId::ShellUnderMark => "shell under the mark",
        WallId::SleeveUnderMark => "sleeve under the mark",
        WallId::BandStruck => "band where the mark is struck",
        WallId::ShellStruck => "shell where the mark is struck",
        WallId::SleeveStruck => "sleeve where the mark is struck",
    }
}

/// The word by which programs know a wall.
#[must_use]
pub fn word(id: WallId) -> &'static str {
    match id {
        WallId::Band => "band",
        WallId::BandUnderCut => "band-under-cut",
        WallId::ShellUnderCut => "shell-under-cut",
        WallId::Shell => "shell",
        WallId::SideFace => "side-face",
        WallId::SleeveEdge => "sleeve-edge",
        WallId::Relief => "relief",
        WallId::BandUnderMark => "band-under-mark",
        WallId::ShellUnderMark => "shell-under-mark",
        WallId::SleeveUnderMark => "sleeve-under-mark",
        WallId::BandStruck => "band-struck",
        WallId::ShellStruck => "shell-struck",
        WallId::SleeveStruck => "sleeve-struck",
    }
}

pub(super) fn thin_wall(band: &Band, thin: &ThinWall) -> MetalError {
    let what = wall(thin.wall.id);
    let [thickness, left, limit] = apart([thin.wall.thickness, thin.left(), thin.limit]);
    let thickness = format!("{thickness} mm");
    let under = cut_called(band, thin);
    let label = match thin.wall.x {
        Some(x) if !under.is_empty() => format!("{what} `{under}` is {thickness} at v = {}", mm(x)),
        Some(x) => format!("{what} is {thickness} at x = {}", mm(x)),
        None => format!("{what} is {thickness}"),
    };
    let cut = thin
        .wall
        .cut
        .and_then(|cut| band.cuts.get(usize::from(cut)));
    let at = match (band.fields.at(thin.field), cut) {
        (None, Some(cut)) => cut.at,
        (Some(_), Some(cut)) if cut.own.is_some() && thin.field == FieldId::PatternDepth => {
            let own = cut.depth(&band.fields).and_then(|depth| depth.at);
            own.unwrap_or(cut.at)
        }
        _ => band.place(match thin.field {
            FieldId::Mark => of_mark(band),
            field => field,
        }),
    };
    MetalError::ThinWall {
        at,
        bound: match thin.field {
            FieldId::Mark => "a punch needs",
            _ => "the least wall is",
        },
        band: band.name.clone(),
        wall: left,
        limit,
        what,
        label,
        help: help(band, thin),
    }
}

/// The field of a mark that the recipe states.
fn of_mark(band: &Band) -> FieldId {
    let stated = |id: &FieldId| band.field(*id).is_some_and(|field| field.at.is_some());
    let fields = [FieldId::MarkBy, FieldId::MarkDeep, FieldId::MarkOn];
    fields.into_iter().find(stated).unwrap_or(FieldId::Mark)
}

fn help(band: &Band, thin: &ThinWall) -> String {
    let lasered = band.marking.mark.as_ref().is_some_and(|mark| mark.lasered);
    let mends = thin.mends.iter().flatten();
    let offers: Vec<String> = mends.map(|(field, value)| set(*field, *value)).collect();
    let offers = listed(offers.iter().map(String::as_str));
    match (thin.field, offers.is_empty()) {
        (FieldId::Mark, _) => format!(
            "a punch needs {}{} of metal behind it: have the mark lasered, as in `by laser`, which takes its own depth only; or state what yours needs, `limit {{ struck }}`",
            mm(thin.limit),
            match band.field(FieldId::LimitStruck) {
                Some(field) if field.at.is_some() => "",
                _ => " (from memory)",
            }
        ),
        (FieldId::MarkDeep, true) => "the wall is too thin for any mark".to_owned(),
        (FieldId::MarkDeep, false) if lasered => format!("{offers} would keep the least wall"),
        (FieldId::MarkDeep, false) => {
            format!(
                "{offers} would keep the least wall; or have a shallower mark lasered, `by laser`"
            )
        }
        (_, true) => format!(
            "{} is missing; no single length would keep the least wall everywhere",
            mm(thin.missing())
        ),
        (_, false) => format!("{offers} would keep the least wall everywhere"),
    }
}

/// What the drawn cut over a wall is called; empty where it is none.
fn cut_called(band: &Band, thin: &ThinWall) -> String {
    let cut = thin
        .wall
        .cut
        .and_then(|cut| band.cuts.get(usize::from(cut)));
    cut.map_or_else(String::new, BandCut::called)
}
