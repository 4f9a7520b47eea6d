//! What must be said, done, asked or refused beside the figure itself.

use super::article::Article;
use super::groups::Groups;
use super::judgement::Judgement;
use super::reason::{BaseCase, Mixed, Reason};
use super::thresholds::{BaseRule, Facts, SayRule, TagRule, Thresholds};

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
        two_metals(article, rules.mixed, judged);
    }
    if !groups.base.is_empty() {
        judged.reasons.push(Reason::Base {
            parts: groups.base,
            case: base(article, rules.base),
        });
    }
    for (row, rule) in (0..).zip(&rules.tags) {
        if facts.all(rule.when) {
            tag(article, row, rule, judged);
        }
    }
    for (row, rule) in (0..).zip(&rules.says) {
        if facts.all(rule.when) && within(rule, groups) {
            let kind = rule.kind;
            judged.reasons.push(Reason::Say { row, kind });
        }
    }
}

/// Parts of two precious metals.
fn two_metals(article: &Article, rule: Option<Mixed>, judged: &mut Judgement) {
    let Some(rule) = rule else {
        judged.reasons.push(Reason::MetalsNotFound);
        return;
    };
    let apart = article.apart;
    judged.reasons.push(Reason::Metals { rule, apart });
    if apart.is_none() && matches!(rule, Mixed::FullOnLeast | Mixed::ApartByColour) {
        judged.reasons.push(Reason::TellApart);
    }
}

/// A part of base metal.
fn base(article: &Article, rule: Option<BaseRule>) -> BaseCase {
    let unseen = article.apart == Some(false);
    match rule {
        None => BaseCase::NotFound,
        Some(BaseRule::Refused) => BaseCase::Refused,
        Some(BaseRule::LeftOutIfCold) if article.solder.is_some() => BaseCase::Joined,
        Some(BaseRule::LeftOutIfCold) if unseen => BaseCase::Unseen,
        Some(BaseRule::LeftOutIfCold) => BaseCase::LeftOut,
        Some(BaseRule::ApartOrNamed) if unseen => BaseCase::StruckName,
        Some(BaseRule::ApartOrNamed) => BaseCase::ToldOrStruck,
        Some(BaseRule::Ask) => BaseCase::AskOffice,
    }
}

/// The words that it is sold under.
fn tag(article: &Article, row: u32, rule: &TagRule, judged: &mut Judgement) {
    let Some(text) = &article.tag else { return };
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).collect();
    let there = |word: &String| words.contains(&word.as_str());
    let never = (0..).zip(&rule.never).find(|(_, word)| there(word));
    if let Some((word, _)) = never {
        judged.reasons.push(Reason::TagNever { row, word });
    }
    let missing = (0..).zip(&rule.needs).find(|(_, word)| !there(word));
    if let Some((word, _)) = missing
        && rule.has.iter().any(there)
    {
        judged.reasons.push(Reason::TagNeeds { row, word });
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
