//! What must be said, done, asked or refused beside the figure itself.

use super::article::{Article, ArticlePart, Fine, content};
use super::groups::Groups;
use super::judgement::Judgement;
use super::precious::{Portion, Precious};
use super::reason::{BaseCase, Mixed, Reason};
use super::thresholds::{BaseRule, Facts, SayRule, Thresholds};

/// Adds all that an article calls for.
pub(super) fn judge(
    article: &Article,
    rules: &Thresholds,
    groups: &Groups<'_>,
    judged: &mut Judgement,
) {
    let facts = groups.facts(article);
    if facts.all(Facts::FINENESSES_DIFFER) {
        let rule = rules.finenesses.map(Reason::Finenesses);
        judged.reasons.extend(rule);
    }
    if facts.all(Facts::METALS_DIFFER) {
        two_metals(article, rules, groups, judged);
    }
    if !groups.base.is_empty() {
        judged.reasons.push(Reason::Base {
            parts: groups.base,
            case: base(article, rules.base),
        });
    }
    harmful(article, rules, judged);
    if let Some(plating) = &article.plating {
        let admitted = rules.plating.as_ref();
        let admitted = admitted.is_none_or(|all| all.contains(plating));
        judged.reasons.push(Reason::Plated { admitted });
        judged.reasons.extend(plated(article, rules, plating));
    }
    for (row, rule) in (0..).zip(&rules.says) {
        if facts.all(rule.when) && within(rule, groups) {
            let kind = rule.kind;
            judged.reasons.push(Reason::Say { row, kind });
        }
    }
}

/// Parts of two precious metals.
fn two_metals(article: &Article, rules: &Thresholds, groups: &Groups<'_>, judged: &mut Judgement) {
    let Some(rule) = rules.mixed else {
        judged.reasons.push(Reason::MetalsNotFound);
        return;
    };
    let apart = article.apart;
    let pair = groups.holds(Precious::Platinum) && groups.holds(Precious::Gold);
    if rule == Mixed::PlatinumGold && !pair {
        judged.reasons.push(Reason::MetalsRefused);
        return;
    }
    judged.reasons.push(Reason::Metals { rule, apart });
    let white =
        |part: &&ArticlePart| part.white && Fine::of(part).metal(rules) == Some(Precious::Gold);
    if rules.white_alike && pair && article.parts.iter().any(|part| white(&part)) {
        judged.reasons.push(Reason::WhiteAlike);
    }
    if let Some(least) = rules.least_thickness {
        let thin = article.parts.iter().filter_map(|part| {
            let thickness = part.thickness.filter(|thickness| *thickness < least)?;
            let part = part.portion;
            Some(Reason::Thin { part, thickness })
        });
        judged.reasons.extend(thin);
    }
    let by_eye = [
        Mixed::FullOnLeast,
        Mixed::ApartByColour,
        Mixed::PlatinumGold,
    ];
    if apart.is_none() && by_eye.contains(&rule) {
        judged.reasons.push(Reason::TellApart);
    }
}

/// Elements of which no part, nor its solder, may hold more.
fn harmful(article: &Article, rules: &Thresholds, judged: &mut Judgement) {
    let parts = article.parts.iter();
    let parts = parts.map(|part| (part.portion, &part.contents));
    let solder = article.solder.iter();
    let solder = solder.map(|solder| (Portion::Solder, &solder.contents));
    for (part, contents) in parts.chain(solder) {
        for (row, (element, most)) in (0..).zip(&rules.harmful) {
            let held = content(contents, element);
            if held > *most {
                judged.reasons.push(Reason::Harmful { row, part, held });
            }
        }
    }
}

/// A plating that is thinner than it must be, or may be.
fn plated(article: &Article, rules: &Thresholds, plating: &str) -> Option<Reason> {
    let tag = article.tag.as_deref().unwrap_or_default().to_lowercase();
    let said = |has: &[String]| has.is_empty() || has.iter().any(|word| tag.contains(word));
    let mut rows = (0..).zip(&rules.plated);
    let (row, rule) = rows.find(|(_, rule)| rule.with == plating && said(&rule.has))?;
    let thick = article.plating_thick;
    let enough = thick.is_some_and(|thick| thick >= rule.least);
    (!enough).then_some(Reason::PlatedThin { row, thick })
}

/// A part of base metal.
fn base(article: &Article, rule: Option<BaseRule>) -> BaseCase {
    let unseen = article.apart == Some(false);
    match rule {
        None => BaseCase::NotFound,
        Some(BaseRule::Refused) => BaseCase::Refused,
        Some(BaseRule::LeftOutIfCold) if article.solder.is_some() => BaseCase::Joined,
        Some(BaseRule::LeftOutIfCold) if unseen => BaseCase::Unseen,
        Some(BaseRule::LeftOutIfCold | BaseRule::MultiMetal) if article.apart.is_none() => {
            BaseCase::SeenUnsaid
        }
        Some(BaseRule::LeftOutIfCold) => BaseCase::LeftOut,
        Some(BaseRule::MultiMetal) if unseen => BaseCase::Unseen,
        Some(BaseRule::MultiMetal) => BaseCase::MultiMetal,
        Some(BaseRule::ApartOrNamed) if unseen => BaseCase::StruckName,
        Some(BaseRule::ApartOrNamed) => BaseCase::ToldOrStruck,
        Some(BaseRule::Ask) => BaseCase::AskOffice,
    }
}

/// Whether the least part of an article of one metal lies where a row speaks of it.
fn within(rule: &SayRule, groups: &Groups<'_>) -> bool {
    let least = match groups.of.as_slice() {
        [only] => only.least(),
        _ => None,
    };
    rule.from
        .is_none_or(|from| least.is_some_and(|least| least >= from))
        && rule
            .below
            .is_none_or(|below| least.is_some_and(|least| least < below))
}
