//! Whether solder is what the rulebook wants.

use rust_decimal::Decimal;
use smallvec::SmallVec;

use super::article::{Article, Soldered};
use super::claim::Claim;
use super::groups::Group;
use super::judgement::Judgement;
use super::precious::Precious;
use super::reason::{Leave, Reason, ReasonKind};
use super::thresholds::{SolderLeast, Thresholds};

/// What solder does to the marks.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Soldering {
    /// Lower solder is used with leave.
    pub lower: bool,
    caps: [Option<Decimal>; 4],
}

impl Soldering {
    /// The highest figure of a metal that the solder goes with, where it is lower than that of the metal.
    pub fn cap(&self, metal: Precious) -> Option<Decimal> {
        self.caps.get(metal as usize).copied().flatten()
    }
}

/// Judges the solder: against what is claimed, else against the highest standard that it goes with.
pub(super) fn judge(
    article: &Article,
    rules: &Thresholds,
    groups: &[Group<'_>],
    claim: Option<&Claim>,
    judged: &mut Judgement,
) -> Soldering {
    let mut done = Soldering::default();
    let Some(solder) = &article.solder else {
        return done;
    };
    for group in groups {
        let least = group.least().unwrap_or_default();
        let by_parts = rules.of(group.metal).part.is_some();
        let melted = || article.melted(&group.parts, group.metal);
        let held = if by_parts {
            least
        } else {
            melted().unwrap_or(least)
        };
        let white = group.parts.iter().all(|(fine, _)| fine.part.white);
        // The article's fineness is the standard that it is to be marked with.
        let standards = rules.of(group.metal).standards.iter().rev().copied();
        let mut figures: SmallVec<[Decimal; 8]> = standards.filter(|one| *one <= held).collect();
        // A claim is made of one metal; the others carry what they do without it.
        if let Some(claim) = claim.filter(|claim| claim.metal == group.metal) {
            figures = SmallVec::from_iter([claim.figure()]);
        } else if figures.is_empty() {
            figures.push(held);
        }
        let against = |of: Decimal| against(solder, rules, group.metal, of, white);
        let Some(first) = figures.first().copied() else {
            continue;
        };
        let Some(reason) = against(first) else {
            continue;
        };
        if given(&reason) {
            done.lower = true;
            judged.reasons.push(reason);
            continue;
        }
        let lower = figures.iter().skip(1).copied();
        let fits = |of: &Decimal| against(*of).is_none_or(|reason| given(&reason));
        let cap = lower.into_iter().find(fits);
        match (cap, reason) {
            (Some(cap), Reason::Solder { row, found, .. }) => {
                if let Some(place) = done.caps.get_mut(group.metal as usize) {
                    *place = Some(cap);
                }
                judged.reasons.push(Reason::SolderCaps {
                    found,
                    wanted: first,
                    row,
                });
            }
            (_, reason) => judged.reasons.push(reason),
        }
    }
    done
}

fn given(reason: &Reason) -> bool {
    matches!(
        reason,
        Reason::Solder {
            leave: Leave::Given,
            ..
        }
    )
}

/// What solder lacks for a figure; none where it is what the rulebook wants.
fn against(
    solder: &Soldered,
    rules: &Thresholds,
    metal: Precious,
    of: Decimal,
    white: bool,
) -> Option<Reason> {
    let mut rows = (0..).zip(&rules.solder);
    let (row, rule) = rows.find(|(_, row)| fits(row, metal, of, white))?;
    let wanted = rule.least.unwrap_or(of);
    let metal = Some(metal).filter(|_| !rule.sum);
    let found = solder.fineness(metal);
    let leave = match (rule.authorised, solder.authorised) {
        (true, Some(true)) => Leave::Given,
        (true, None) => Leave::Unsaid,
        _ => Leave::No,
    };
    (found < wanted).then_some(Reason::Solder {
        row,
        metal,
        found,
        wanted,
        leave,
    })
}

/// Whether solder was refused.
pub(super) fn unlawful(judged: &Judgement) -> bool {
    let refused = |reason: &Reason| {
        matches!(reason, Reason::SolderCaps { .. })
            || matches!(reason, Reason::Solder { .. }) && reason.kind() == ReasonKind::Refused
    };
    judged.reasons.iter().any(refused)
}

fn fits(row: &SolderLeast, metal: Precious, of: Decimal, white: bool) -> bool {
    row.metal.is_none_or(|wanted| wanted == Some(metal))
        && row.from.is_none_or(|from| of >= from)
        && row.to.is_none_or(|to| of <= to)
        && (!row.white || white)
}
