//! Results of drawn cuts: what the kernel worked out, and the time that they take.

use rust_decimal::Decimal;

use crate::kernel::pattern::{self, SpeedMissing, Speeds, WrittenLength, passes};
use crate::kernel::{Input, Repeats, tidied};
use crate::model::Band;
use crate::money::{self, Cutting};
use crate::quantity::Number;
use crate::schema::{FieldId, ResultId};

use super::evaluation::Evaluation;

/// A result of drawn cuts, in the unit of its row; none where there are none.
pub(super) fn result(id: ResultId, evaluation: &Evaluation) -> Option<f64> {
    if let (ResultId::PatternTime, Some(stated)) =
        (id, evaluation.band.field(FieldId::PatternMinutes))
    {
        return Some(stated.value.quantity()?.number.to_f64() / 60.0);
    }
    let drawn = evaluation.input.drawn.as_ref()?;
    let on_band = drawn.worked.as_ref()?;
    let figures = &on_band.worked.figures;
    let under = || evaluation.figures.bodies.drawn;
    let pitch = evaluation.figures.pitch;
    match id {
        ResultId::PatternCover => Some(figures.cover),
        ResultId::PatternMeanDepth => Some(figures.mean_depth),
        ResultId::PatternDeepest => Some(figures.deepest),
        ResultId::PatternGrooveLength => Some(figures.groove_length),
        ResultId::PatternPlunges => Some(figures.plunges as f64),
        ResultId::PatternTime | ResultId::PatternTimeComputed => {
            minutes(&evaluation.band, &evaluation.input)?.ok()
        }
        ResultId::PatternPitch => pitch,
        ResultId::PatternAngle => Some(pattern::degrees(on_band.repeats)),
        ResultId::PatternStretch => match drawn.repeats {
            Repeats::Motif(motif, _) => Some(pattern::stretch(motif, pitch?)),
            Repeats::Stated(_) => None,
        },
        ResultId::PatternError => Some(figures.error),
        ResultId::SectionCutLeast => Some(on_band.section.least),
        ResultId::SectionCutHarmonic => Some(on_band.section.harmonic),
        ResultId::WallUnderCutU => under().map(|least| tidied(least.u)),
        ResultId::WallUnderCutV => under().map(|least| tidied(least.v)),
        _ => None,
    }
}

/// The minutes that a recipe states of its pattern, exact.
pub(super) fn stated_minutes(id: ResultId, evaluation: &Evaluation) -> Option<Decimal> {
    let stated = evaluation.band.fields.quantity(FieldId::PatternMinutes);
    let seconds = stated
        .filter(|_| id == ResultId::PatternTime)?
        .number
        .exact()?;
    let minutes = seconds.checked_div(Decimal::from(60))?;
    (minutes.checked_mul(Decimal::from(60))? == seconds).then_some(minutes)
}

/// What is not stated, so that no time can be computed: the cut, by its place, and what of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NoTime {
    /// The cut.
    pub cut: usize,
    /// The field that would say it.
    pub field: FieldId,
}

/// How long the machine cuts a pattern, as stated or by the speeds of its cutters.
pub(super) fn cutting(band: &Band, input: &Input) -> Cutting {
    if let Some(stated) = band.fields.quantity(FieldId::PatternMinutes) {
        return Cutting::Seconds(money::seconds(stated.number));
    }
    match minutes(band, input) {
        None => Cutting::Seconds(Decimal::ZERO),
        Some(Ok(minutes)) => Cutting::Seconds(money::seconds(Number::computed(minutes * 60.0))),
        Some(Err(NoTime { cut, field })) => Cutting::Unknown(cut, field),
    }
}

/// Minutes that the drawn cuts of a band take by the speeds of their cutters; none where it has none.
pub fn minutes(band: &Band, input: &Input) -> Option<Result<f64, NoTime>> {
    let on_band = input.drawn.as_ref()?.worked.as_ref()?;
    let mut sum = 0.0;
    for (place, (cut, way)) in band
        .cuts
        .iter()
        .zip(&on_band.worked.figures.ways)
        .enumerate()
    {
        let missing = |field| Some(Err(NoTime { cut: place, field }));
        let Some(made) = &cut.cutter else {
            return missing(cut.kind.cutter);
        };
        let by_minute = |id| made.values.number(id).map(|speed| speed * 60.0);
        let depths = [cut.depth(&band.fields), cut.ramp(&band.fields)];
        let depths = depths.into_iter().flatten();
        let decimals = depths.filter_map(|field| field.value.quantity()?.number.exact());
        let depth = decimals.max().map(written);
        let pass = made.values.decimal(FieldId::CutterPass).map(written);
        let times = match depth {
            Some(depth) => passes(depth, pass),
            None => made
                .values
                .number(FieldId::CutterPass)
                .map_or(Some(1), |pass| {
                    // A depth that is computed has no decimals of its own.
                    Some((way.depth / pass - 1e-9).ceil().max(1.0) as u32)
                }),
        };
        let speeds = Speeds {
            feed: by_minute(FieldId::CutterFeed),
            plunge: by_minute(FieldId::CutterPlunge),
            rapid: by_minute(FieldId::CutterRapid),
            lift: made.values.number(FieldId::CutterLift).unwrap_or(0.5),
            passes: times.unwrap_or(1),
        };
        match pattern::minutes(way, &speeds) {
            Ok(minutes) => sum += minutes + pattern::travel(&on_band.worked.layout, place, &speeds),
            Err(SpeedMissing::Feed) => return missing(FieldId::CutterFeed),
            Err(SpeedMissing::Plunge) => return missing(FieldId::CutterPlunge),
            Err(SpeedMissing::StepOver) => {
                return missing(match cut.kind.block {
                    FieldId::PatternDrawing => FieldId::PatternDrawingStepOver,
                    _ => FieldId::PatternPocketStepOver,
                });
            }
        }
    }
    Some(Ok(sum))
}

fn written(number: Decimal) -> WrittenLength {
    WrittenLength {
        digits: number.mantissa(),
        scale: number.scale(),
    }
}
