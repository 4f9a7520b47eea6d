//! Whether solder is what the rulebook wants.

use rust_decimal::Decimal;

use super::article::Article;
use super::groups::Group;
use super::judgement::Judgement;
use super::precious::Precious;
use super::reason::{Leave, Reason, ReasonKind};
use super::thresholds::{SolderLeast, Thresholds};

/// Judges the solder; whether lower solder is used with leave.
pub(super) fn judge(
    article: &Article,
    rules: &Thresholds,
    groups: &[Group<'_>],
    claimed: Option<Decimal>,
    judged: &mut Judgement,
) -> bool {
    let Some(solder) = &article.solder else {
        return false;
    };
    let mut lower = false;
    for group in groups {
        let held = group.least().unwrap_or_default();
        let white = group.parts.iter().all(|(fine, _)| fine.part.white);
        // The article's fineness is the standard that it is to be marked with.
        let standard = || rules.of(group.metal).standard_under(held);
        let of = claimed.or_else(standard).unwrap_or(held);
        let mut rows = (0..).zip(&rules.solder);
        let Some((row, rule)) = rows.find(|(_, row)| fits(row, group.metal, of, white)) else {
            continue;
        };
        let wanted = rule.least.unwrap_or(of);
        let metal = Some(group.metal).filter(|_| !rule.sum);
        let found = solder.fineness(metal);
        if found >= wanted {
            continue;
        }
        let leave = match (rule.authorised, solder.authorised) {
            (true, Some(true)) => Leave::Given,
            (true, None) => Leave::Unsaid,
            _ => Leave::No,
        };
        lower |= leave == Leave::Given;
        judged.reasons.push(Reason::Solder {
            row,
            metal,
            found,
            wanted,
            leave,
        });
    }
    lower
}

/// Whether solder was refused.
pub(super) fn unlawful(judged: &Judgement) -> bool {
    let refused = |reason: &Reason| {
        matches!(reason, Reason::Solder { .. }) && reason.kind() == ReasonKind::Refused
    };
    judged.reasons.iter().any(refused)
}

fn fits(row: &SolderLeast, metal: Precious, of: Decimal, white: bool) -> bool {
    row.metal.is_none_or(|wanted| wanted == Some(metal))
        && row.from.is_none_or(|from| of >= from)
        && row.to.is_none_or(|to| of <= to)
        && (!row.white || white)
}
