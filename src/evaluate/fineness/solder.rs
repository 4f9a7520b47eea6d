//! Whether solder is what the rulebook wants.

use rust_decimal::Decimal;

use crate::catalogue::{Rulebook, SolderRule};

use super::article::{Article, Part};
use super::judge::Judgement;
use super::sayings::{Kind, Said};

/// How a finding about solder begins, by which it is known again.
const MARK: &str = "solder of ";

/// Judges the solder; whether lower solder is used with leave.
pub(super) fn judge(
    article: &Article,
    book: &Rulebook,
    groups: &[(&'static str, Vec<&Part>)],
    claimed: Option<Decimal>,
    judged: &mut Judgement,
) -> bool {
    let Some(solder) = &article.solder else {
        return false;
    };
    let mut lower = false;
    for (metal, parts) in groups {
        let least = parts.iter().map(|part| part.fineness(metal, book)).min();
        let held = least.unwrap_or_default();
        let white = parts.iter().all(|part| part.white);
        // The article's fineness is the standard that it is to be marked with.
        let listed = book.standards.get(*metal).map(|row| row.value.as_slice());
        let standard = listed
            .unwrap_or_default()
            .iter()
            .rev()
            .find(|standard| **standard <= held)
            .copied();
        let of = claimed.or(standard).unwrap_or(held);
        let Some(row) = book.solder.iter().find(|row| fits(row, metal, of, white)) else {
            continue;
        };
        let wanted = row.least.unwrap_or(of);
        let found = solder.fineness(metal, row.sum);
        if found >= wanted {
            continue;
        }
        let what = if row.sum {
            "precious metals together"
        } else {
            metal
        };
        let cite = book.cited(row.cite());
        if row.authorised && solder.authorised == Some(true) {
            lower = true;
            judged.says.push(Said {
                kind: Kind::Condition,
                text: format!(
                    "{MARK}{what} {} is under {wanted}: only where that is authorised",
                    found.normalize()
                ),
                cite,
            });
            continue;
        }
        let leave = if row.authorised && solder.authorised.is_none() {
            "; where it is authorised, state `solder NAME { authorised yes }`"
        } else {
            ""
        };
        judged.refused.push(Said {
            kind: Kind::Refused,
            text: format!(
                "{MARK}{what} {} is under the {wanted} wanted, {} missing{leave}",
                found.normalize(),
                (wanted - found).normalize()
            ),
            cite,
        });
    }
    lower
}

/// Whether solder was refused.
pub(super) fn unlawful(judged: &Judgement) -> bool {
    judged
        .refused
        .iter()
        .any(|said| said.text.starts_with(MARK))
}

fn fits(row: &SolderRule, metal: &str, of: Decimal, white: bool) -> bool {
    row.metal.as_deref().is_none_or(|wanted| wanted == metal)
        && row.from.is_none_or(|from| of >= from)
        && row.to.is_none_or(|to| of <= to)
        && (!row.white || white)
}
