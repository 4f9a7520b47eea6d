//! The verdict: every test of every part and of the whole, the highest marks that pass, and what stands against.
//!
//! A test holds when `found + allowed >= figure`, exact. Whether a rulebook tests each part, the whole with its
//! solder, or both together is the rulebook's data.

use rust_decimal::Decimal;
use smallvec::{SmallVec, smallvec};

use super::article::{Article, Fine, content};
use super::claim::Claim;
use super::groups::{Group, Groups};
use super::judgement::{FineMark, Judgement, OfficialMark, Ruling, Test, Tests};
use super::precious::Portion;
use super::reason::{Clause, Differing, Mixed, Reason};
use super::thresholds::{AllowedShort, OfMetal, Thresholds};
use super::{conditions, official, solder, tag};

/// Judges an article under a rulebook, and a claim if there is one.
///
/// # Source
/// The texts that the rulebook names, clause by clause.
///
/// # Example
/// ```
/// use annulet::catalogue::rulebook;
/// use annulet::fineness::{Article, ArticlePart, Claim, Portion, Precious, Ruling, compiled, judge};
/// use rust_decimal::{Decimal, dec};
/// let part = |portion, gold: Decimal| ArticlePart {
///     portion,
///     contents: vec![("gold".to_owned(), gold), ("copper".to_owned(), dec!(1000) - gold)],
///     weight: dec!(2),
///     ..ArticlePart::default()
/// };
/// let article = Article {
///     parts: vec![part(Portion::Shell, dec!(750)), part(Portion::Sleeve, dec!(375))],
///     weight: dec!(4),
///     ..Article::default()
/// };
/// let uk = compiled(rulebook("UK").unwrap());
/// let judged = judge(&article, &uk, Some(&Claim::parts(Precious::Gold, dec!(750))));
/// assert_eq!(judged.ruling, Ruling::Fails);
/// assert_eq!(judged.best(), Some(dec!(375)));
/// ```
#[must_use]
pub fn judge(article: &Article, rules: &Thresholds, claim: Option<&Claim>) -> Judgement {
    let nominal = article.parts.iter().filter(|part| part.assay.is_none());
    let mut judged = Judgement {
        ruling: Ruling::Open,
        marks: SmallVec::new(),
        each: Vec::new(),
        tests: Tests::new(),
        official: OfficialMark::Unsaid,
        weighed: SmallVec::new(),
        reasons: SmallVec::new(),
        memory: SmallVec::new(),
        nominal: nominal.map(|part| part.portion).collect(),
    };
    if rules.silent {
        judged.reasons.push(Reason::Silent);
        return judged;
    }
    let groups = Groups::of(article, rules);
    let soldered = solder::judge(article, rules, &groups.of, claim, &mut judged);
    let judge = Judge {
        article,
        rules,
        soldered,
    };
    for group in &groups.of {
        judge.mark(group, &mut judged);
        judged
            .memory
            .extend_from_slice(&rules.of(group.metal).memory);
    }
    // The mark of the whole article stands on the least precious metal.
    judged
        .marks
        .sort_by_key(|mark| std::cmp::Reverse(mark.metal));
    judge.each(&groups, &mut judged);
    conditions::judge(article, rules, &groups, &mut judged);
    official::judge(article, rules, &groups, &mut judged);
    tag::judge(article, rules, &groups, &mut judged);
    judged.settle(claim, article, rules);
    judged
}

impl Judgement {
    /// The same with a claim: the tests at its figure, and the verdict on it. Solder is judged by the figure
    /// that is claimed, so an article with solder is judged again.
    #[must_use]
    pub fn against(&self, claim: &Claim, article: &Article, rules: &Thresholds) -> Self {
        if article.solder.is_some() {
            return judge(article, rules, Some(claim));
        }
        let mut judged = self.clone();
        judged.settle(Some(claim), article, rules);
        judged
    }

    /// The tests that decide, and the verdict.
    fn settle(&mut self, claim: Option<&Claim>, article: &Article, rules: &Thresholds) {
        if self.reasons.contains(&Reason::Silent) {
            return;
        }
        self.tests = match claim {
            Some(claim) => {
                let mark = self.marks.iter().find(|mark| mark.metal == claim.metal);
                let tests = mark.map(|mark| mark.tests.clone());
                let mut tests = tests.unwrap_or_default();
                for test in &mut tests {
                    test.spare = claim.spare(test.found + test.allowed);
                }
                tests
            }
            None => self
                .marks
                .first()
                .map(|mark| mark.tests.clone())
                .unwrap_or_default(),
        };
        if let Some(claim) = claim {
            self.of_claim(claim, article, rules);
        }
        let first = self.marks.first();
        // Where nothing could be tested, nothing is missing yet.
        let no_standard = claim.is_none()
            && first.is_some_and(|mark| mark.figure.is_none() && !mark.tests.is_empty());
        let missed = no_standard || self.tests.iter().any(|test| !test.holds());
        let reached = match claim {
            Some(_) => !self.tests.is_empty() && !missed,
            None => first.is_some_and(|mark| mark.figure.is_some()),
        };
        // Of a metal that the eye does not tell apart no mark is struck, so that it needs none.
        let unseen = rules.mixed == Some(Mixed::EachIfApart) && article.apart == Some(false);
        // A part of another metal must be of a standard of its own.
        let others = self.marks.iter().all(|mark| {
            unseen || mark.figure.is_some() || claim.is_some_and(|claim| claim.metal == mark.metal)
        });
        self.ruling = if self.refused().next().is_some() || missed {
            Ruling::Fails
        } else if self.undecided().next().is_some() {
            Ruling::Open
        } else if reached && others {
            Ruling::Passes
        } else {
            Ruling::Fails
        };
    }
}

impl Judgement {
    /// What stands between a claim and its tests: a tolerance is no licence, and a mark must be seen on its metal.
    fn of_claim(&mut self, claim: &Claim, article: &Article, rules: &Thresholds) {
        let of = rules.of(claim.metal);
        let least = self.marks.first().map(|mark| mark.metal);
        if rules.mixed == Some(Mixed::EachIfApart)
            && self.marks.len() > 1
            && least != Some(claim.metal)
        {
            match article.apart {
                Some(true) => {}
                Some(false) => self.reasons.push(Reason::DearerUnmarked(claim.metal)),
                None => self.reasons.push(Reason::TellApart),
            }
        }
        let figure = claim.figure();
        let mut parts = self.tests.iter().filter(|test| test.what != Portion::Whole);
        let of_parts = parts.clone().next().is_some();
        let parts_true = of_parts && parts.all(|test| !claim.spare(test.found).is_sign_negative());
        let mut said = None;
        // What is missing outright weighs more than what a shortfall would have to make up for.
        let missed = self.tests.iter().any(|test| !test.holds());
        for test in self.tests.iter().filter(|_| !missed) {
            let spare = claim.spare(test.found);
            // What solder takes off a whole whose parts are what they are called is what the text allows it for.
            if !spare.is_sign_negative() || (test.what == Portion::Whole && parts_true) {
                continue;
            }
            let mixed = claim.is_mixed_in(test.what, article, rules);
            let meant = mixed && article.is_assayed(test.what);
            if meant || (!rules.assayed_only && claim.is_designation(rules)) {
                said = said.or(Some(Reason::WithinShortfall {
                    what: test.what,
                    missing: -spare,
                    allowed: test.allowed,
                    clause: test.clause,
                }));
                continue;
            }
            said = Some(Reason::AboveTrue {
                what: test.what,
                figure,
                found: test.found,
                allowed: test.allowed,
                clause: test.clause,
            });
            break;
        }
        // Where any figure may be stated it is the true one, or one that the trade calls by.
        let free = self
            .marks
            .iter()
            .any(|mark| mark.metal == claim.metal && mark.free);
        let found = self.tests.iter().map(|test| test.found).min();
        if said.is_none()
            && let Some(found) = found.filter(|_| free)
            && found - figure >= Decimal::ONE
            && !claim.is_designation(rules)
        {
            said = Some(Reason::NotTrue {
                figure,
                found,
                clause: Clause::Any(claim.metal),
            });
        }
        // Under its least standard a metal is named among others of its group alone.
        let first = of.standards.first();
        if said.is_none()
            && found.is_some()
            && !free
            && of.among.is_some()
            && first.is_some_and(|first| figure < *first)
        {
            said = Some(Reason::NotAmong(claim.metal));
        }
        self.reasons.extend(said);
    }
}

/// What is judged, and by what.
struct Judge<'a> {
    article: &'a Article,
    rules: &'a Thresholds,
    /// What its solder does to the marks.
    soldered: solder::Soldering,
}

impl Judge<'_> {
    /// The highest mark of some parts of one metal.
    fn mark(&self, group: &Group<'_>, judged: &mut Judgement) {
        if !self.rules.of(group.metal).is_known() {
            judged.reasons.push(Reason::NotInTexts(group.metal));
            return;
        }
        let (best, unknown) = self.best(group);
        if let Some(unknown) = unknown.filter(|unknown| !judged.reasons.contains(unknown)) {
            judged.reasons.push(unknown);
        }
        judged.marks.push(best);
    }

    /// Every test of a metal, with all that is found and allowed to spare; and why the whole cannot be tested.
    fn tests(&self, group: &Group<'_>) -> (Tests, Option<Reason>) {
        let of = self.rules.of(group.metal);
        // White metal of a fineness: each part, as far as it may be found short of that.
        let part_short = of.part.as_ref().map_or(Decimal::ZERO, |row| row.plain);
        let is_white = |from: Decimal| {
            let mut parts = group.parts.iter();
            parts.all(|(fine, found)| fine.part.white && *found + part_short >= from)
        };
        let test = |what, found: Decimal, row: &AllowedShort| {
            let allowed = match (&self.article.solder, row.white) {
                (Some(_), Some((from, white))) if is_white(from) => white,
                (Some(_), _) => row.soldered,
                (None, _) => row.plain,
            };
            Test {
                what,
                found: found.normalize(),
                allowed,
                spare: (found + allowed).normalize(),
                clause: row.clause,
            }
        };
        let mut all = Tests::new();
        if let Some(row) = &of.part {
            let parts = group.parts.iter();
            all.extend(parts.map(|(fine, found)| test(fine.part.portion, *found, row)));
        }
        let lowered = self
            .rules
            .whole_soldered
            .as_ref()
            .filter(|_| self.soldered.lower);
        let Some(row) = of.whole.as_ref().or(lowered) else {
            return (all, None);
        };
        match self.article.melted(&group.parts, group.metal) {
            Some(found) => {
                all.push(test(Portion::Whole, found, row));
                (all, None)
            }
            None => (all, Some(Reason::WholeUnknown(row.clause))),
        }
    }

    /// The highest mark of some parts of one metal, and why the whole cannot be tested.
    fn best(&self, group: &Group<'_>) -> (FineMark, Option<Reason>) {
        let (mut tests, unknown) = self.tests(group);
        let highest = struck(&tests);
        let cap = self.soldered.cap(group.metal);
        let highest = highest.map(|highest| cap.map_or(highest, |cap| cap.min(highest)));
        let of = self.rules.of(group.metal);
        let is_free = |highest: &Decimal| {
            of.free
                .is_some_and(|least| *highest >= least && !highest.is_zero())
                || of.above.is_some_and(|last| *highest > last)
        };
        // A figure that is stated is the true one, rounded down.
        let free = highest.filter(is_free).map(|highest| highest.floor());
        let standard = || highest.and_then(|highest| of.standard_under(highest));
        let among = || highest.filter(|highest| is_among(group, of, self.rules, *highest));
        let among = free.or_else(standard).is_none().then(among).flatten();
        let free = free.or(among.map(|highest| highest.floor()));
        let figure = free.or_else(standard);
        let least = of.standards.first().copied().or(of.free);
        match figure.or(least) {
            Some(shown) => {
                for test in &mut tests {
                    test.spare -= shown;
                }
            }
            None => tests.clear(),
        }
        let mark = FineMark {
            metal: group.metal,
            parts: group.portions(),
            figure,
            free: free.is_some(),
            tests,
        };
        (mark, unknown)
    }

    /// Each part on its own, where it carries its own mark; and whether the marks are where they must be.
    fn each(&self, groups: &Groups<'_>, judged: &mut Judgement) {
        let clause = if self.rules.finenesses == Some(Differing::EachOwn) && groups.differ() {
            Clause::Finenesses
        } else if self.rules.mixed == Some(Mixed::EachOwn) && groups.of.len() > 1 {
            Clause::Metals
        } else {
            return;
        };
        for group in &groups.of {
            for held in &group.parts {
                let alone = Group {
                    metal: group.metal,
                    differs: false,
                    parts: smallvec![*held],
                };
                // What cannot be decided of a part was said of the whole.
                judged.each.push(self.best(&alone).0);
            }
        }
        let marked = self.article.marked.filter(|marked| !marked.is_empty());
        let Some(marked) = marked else { return };
        for part in &self.article.parts {
            let light = clause == Clause::Metals
                && self
                    .rules
                    .mixed_over
                    .is_some_and(|over| part.weight <= over);
            if light || marked.contains(part.portion) {
                continue;
            }
            let fine = Fine::of(part);
            let metal = fine.metal(self.rules);
            judged.reasons.push(Reason::Unmarked {
                part: part.portion,
                metal,
                found: metal.map_or(Decimal::ZERO, |metal| fine.fineness(metal, self.rules)),
                clause,
            });
        }
    }
}

/// The highest figure that may be struck: what the deciding test finds, and no more than any part holds. What may be
/// found short on control is no licence to strike more.
fn struck(tests: &Tests) -> Option<Decimal> {
    let deciding = tests.iter().min_by_key(|test| test.spare)?;
    let parts = tests.iter().filter(|test| test.what != Portion::Whole);
    let least = parts.map(|test| test.found).min();
    Some(least.map_or(deciding.found, |least| least.min(deciding.found)))
}

/// Whether parts of a metal under its least standard may be named among metals of its group. What an assay finds less of
/// the metal, the group holds less too.
fn is_among(group: &Group<'_>, of: &OfMetal, rules: &Thresholds, held: Decimal) -> bool {
    let Some((least, sum, metals)) = &of.among else {
        return false;
    };
    let together = |(fine, found): &(Fine<'_>, Decimal)| -> Decimal {
        let parts = metals
            .iter()
            .map(|metal| content(&fine.part.contents, metal));
        parts.sum::<Decimal>() - fine.composed(group.metal, rules) + found
    };
    held >= *least && group.parts.iter().all(|part| together(part) >= *sum)
}
