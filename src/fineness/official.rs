//! Whether an official mark is needed, or the article is light enough to do without.

use rust_decimal::Decimal;

use super::article::Article;
use super::groups::{Group, Groups};
use super::judgement::{Judgement, OfficialMark, Weighed};
use super::precious::Precious;
use super::reason::Reason;
use super::solder;
use super::thresholds::{ExemptWeight, Exemption, MarkSystem, Thresholds};

/// Fills in whether an office must mark the article; its marks and solder are judged by then.
pub(super) fn judge(
    article: &Article,
    rules: &Thresholds,
    groups: &Groups<'_>,
    judged: &mut Judgement,
) {
    judged.official = match rules.system {
        Some(MarkSystem::Compulsory) => OfficialMark::Office,
        Some(MarkSystem::OwnMark) => OfficialMark::Own,
        Some(MarkSystem::Voluntary) => OfficialMark::Voluntary,
        Some(MarkSystem::Recommended) | None => OfficialMark::Unsaid,
    };
    let free = |metal: Precious| rules.voluntary.get(metal as usize) == Some(&true);
    if !groups.of.is_empty() && groups.of.iter().all(|group| free(group.metal)) {
        judged.official = OfficialMark::Voluntary;
    }
    if !matches!(judged.official, OfficialMark::Office | OfficialMark::Own) {
        return;
    }
    let is_lost = |row: &Exemption| {
        let beside = Precious::ALL.into_iter().zip(row.lost_beside);
        beside
            .filter(|(_, lost)| *lost)
            .any(|(metal, _)| groups.holds(metal))
    };
    let (mut standing, mut light) = (false, true);
    for group in &groups.of {
        let Some(row) = &rules.of(group.metal).exempt else {
            judged.weighed.clear();
            return;
        };
        let lost = is_lost(row);
        if !lost {
            standing = true;
            let weight = weighed(article, group, row);
            light &= weight < row.below || (row.through && weight == row.below);
        }
        judged.weighed.push(Weighed {
            metal: group.metal,
            lost,
        });
    }
    let reached = judged.marks.iter().all(|mark| mark.figure.is_some());
    if !(standing && light && reached) {
        return;
    }
    if rules.exempt_solder && solder::unlawful(judged) {
        judged.reasons.push(Reason::SolderLosesExemption);
        judged.weighed.clear();
    } else {
        judged.official = OfficialMark::Exempt;
    }
}

/// What an exemption weighs of an article, in grams.
fn weighed(article: &Article, group: &Group<'_>, row: &Exemption) -> Decimal {
    let parts = group.parts.iter();
    match row.of {
        ExemptWeight::All => article.weight,
        ExemptWeight::Parts => parts.map(|(fine, _)| fine.part.weight).sum(),
        ExemptWeight::Fine => {
            let fine = parts.map(|(fine, found)| fine.part.weight * *found);
            fine.sum::<Decimal>() / Decimal::ONE_THOUSAND
        }
    }
}
