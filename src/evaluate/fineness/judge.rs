//! The verdict: every test of every part and of the whole, the highest marks that pass, and what stands against.
//!
//! A test holds when `found + allowed >= figure`, exact. Whether a rulebook tests each part, the whole with its
//! solder, or both together is the rulebook's data.

use rust_decimal::Decimal;

use crate::catalogue::{Cite, Parts, Rulebook};

use super::article::{Article, Part};
use super::claim::Claim;
use super::sayings::{self, Kind, Said};
use super::solder;

/// One comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct Test {
    /// `band`, `shell`, `sleeve`, or `whole`.
    pub what: String,
    /// Parts per thousand found.
    pub found: Decimal,
    /// How far it may fall short.
    pub allowed: Decimal,
    /// What is to spare; negative where it is missing.
    pub spare: Decimal,
    /// Whether it holds.
    pub holds: bool,
    /// Where the text says so.
    pub cite: String,
}

/// A mark that the article may carry.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// The metal.
    pub metal: String,
    /// The parts that it stands for.
    pub parts: Vec<String>,
    /// Parts per thousand; none where the metal reaches no standard.
    pub figure: Option<Decimal>,
    /// Any figure up to this one is allowed, not only standards.
    pub free: bool,
    /// The tests at that figure.
    pub tests: Vec<Test>,
}

/// Whether an official mark is needed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// An office must mark it.
    Office,
    /// It would have to be marked, but weighs less than the text says.
    Exempt,
    /// The maker must mark it.
    Own,
    /// Marking is free.
    Voluntary,
    /// No law, or nothing found.
    Unsaid,
}

/// What a rulebook says of an article.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    /// Whether it passes: the claim, or where there is none any mark at all. None: no verdict.
    pub passes: Option<bool>,
    /// The highest marks that it may carry, that of the whole article first.
    pub marks: Vec<Mark>,
    /// Each part on its own, where each carries its own mark.
    pub each: Vec<Mark>,
    /// Tests of the claim; of the first mark where there is no claim.
    pub tests: Vec<Test>,
    /// Whether an official mark is needed.
    pub need: Need,
    /// The clause of that.
    pub need_cite: String,
    /// Why it is refused whatever its fineness.
    pub refused: Vec<Said>,
    /// Why there is no verdict.
    pub undecided: Vec<Said>,
    /// What must be said, done or asked.
    pub says: Vec<Said>,
    /// Values used that are from memory.
    pub memory: Vec<String>,
    /// Parts judged by their composition alone.
    pub nominal: Vec<String>,
}

/// Parts of one metal.
struct Group<'a> {
    metal: &'static str,
    parts: Vec<&'a Part>,
}

/// Judges an article under a rulebook, and a claim if there is one.
///
/// # Source
/// The texts that the rulebook names, clause by clause.
///
/// # Example
/// ```
/// use annulet::catalogue::rulebook;
/// use annulet::evaluate::fineness::{Article, Claim, Part, judge};
/// use rust_decimal::{Decimal, dec};
/// let part = |name: &str, gold: Decimal| Part {
///     name: name.to_owned(),
///     contents: vec![("gold".to_owned(), gold), ("copper".to_owned(), dec!(1000) - gold)],
///     weight: dec!(2),
///     ..Part::default()
/// };
/// let article = Article {
///     parts: vec![part("shell", dec!(750)), part("sleeve", dec!(375))],
///     weight: dec!(4),
///     ..Article::default()
/// };
/// let uk = rulebook("UK").unwrap();
/// let judged = judge(&article, uk, Some(&Claim::parts("gold", dec!(750))));
/// assert_eq!(judged.passes, Some(false));
/// assert_eq!(judged.best(), Some(dec!(375)));
/// ```
#[must_use]
pub fn judge(article: &Article, book: &Rulebook, claim: Option<&Claim>) -> Judgement {
    let mut judged = Judgement {
        passes: None,
        marks: Vec::new(),
        each: Vec::new(),
        tests: Vec::new(),
        need: Need::Unsaid,
        need_cite: String::new(),
        refused: Vec::new(),
        undecided: Vec::new(),
        says: Vec::new(),
        memory: Vec::new(),
        nominal: nominal(article),
    };
    if let Some(silent) = &book.silent {
        judged
            .undecided
            .push(Said::plain(Kind::Undecided, silent.clone()));
        return judged;
    }
    let groups = groups(article, book);
    let standing = claim.map(Claim::figure);
    let lower = solder::judge(article, book, &groups_of(&groups), standing, &mut judged);
    for group in &groups {
        if !book.standards.contains_key(group.metal) && !book.any.contains_key(group.metal) {
            judged.undecided.push(Said::plain(
                Kind::Undecided,
                format!("{} is not in the texts read", group.metal),
            ));
            continue;
        }
        let best = best(article, book, group, lower, &mut judged);
        judged.marks.push(best);
    }
    // The mark of the whole article stands on the least precious metal.
    let rank = |metal: &str| super::PRECIOUS.iter().position(|known| *known == metal);
    judged
        .marks
        .sort_by_key(|mark| std::cmp::Reverse(rank(&mark.metal)));
    each(article, book, &groups, lower, &mut judged);
    sayings::judge(article, book, &mut judged);
    memory(book, &groups, &mut judged);
    judged.tests = match claim {
        Some(claim) => {
            let group = groups.iter().find(|group| group.metal == claim.metal);
            let tests =
                group.map(|group| tests(article, book, group, claim, lower, &mut Vec::new()));
            tests.unwrap_or_default()
        }
        None => judged
            .marks
            .first()
            .map(|mark| mark.tests.clone())
            .unwrap_or_default(),
    };
    let reached = match claim {
        Some(_) => !judged.tests.is_empty() && judged.tests.iter().all(|test| test.holds),
        None => judged.marks.iter().all(|mark| mark.figure.is_some()) && !judged.marks.is_empty(),
    };
    // A part of another metal must be of a standard of its own.
    let others = judged
        .marks
        .iter()
        .all(|mark| mark.figure.is_some() || claim.is_some_and(|claim| claim.metal == mark.metal));
    let missed = judged.tests.iter().any(|test| !test.holds);
    judged.passes = if !judged.refused.is_empty() || missed {
        Some(false)
    } else if judged.undecided.is_empty() {
        Some(reached && others)
    } else {
        None
    };
    need(article, book, &groups, &mut judged);
    judged
}

impl Judgement {
    /// The highest figure that the whole article may carry; in two metals that on the less precious.
    #[must_use]
    pub fn best(&self) -> Option<Decimal> {
        self.marks.first().and_then(|mark| mark.figure)
    }

    /// What the tightest test has to spare; negative where it is missing.
    #[must_use]
    pub fn margin(&self) -> Option<Decimal> {
        self.tests.iter().map(|test| test.spare).min()
    }

    /// The test that decides: the one with the least to spare.
    #[must_use]
    pub fn deciding(&self) -> Option<&Test> {
        self.tests.iter().min_by_key(|test| test.spare)
    }
}

fn nominal(article: &Article) -> Vec<String> {
    let unassayed = article.parts.iter().filter(|part| part.assay.is_none());
    unassayed.map(|part| part.name.clone()).collect()
}

fn groups<'a>(article: &'a Article, book: &Rulebook) -> Vec<Group<'a>> {
    let mut groups: Vec<Group<'a>> = Vec::new();
    for part in &article.parts {
        let Some(metal) = part.metal(book) else {
            continue;
        };
        match groups.iter_mut().find(|group| group.metal == metal) {
            Some(group) => group.parts.push(part),
            None => groups.push(Group {
                metal,
                parts: vec![part],
            }),
        }
    }
    groups
}

fn groups_of<'a>(groups: &'a [Group<'a>]) -> Vec<(&'static str, Vec<&'a Part>)> {
    groups
        .iter()
        .map(|group| (group.metal, group.parts.clone()))
        .collect()
}

/// Every test of one figure; what cannot be tested is added to `undecided`.
fn tests(
    article: &Article,
    book: &Rulebook,
    group: &Group<'_>,
    claim: &Claim,
    lower: bool,
    undecided: &mut Vec<Said>,
) -> Vec<Test> {
    let test = |what: &str, found: Decimal, row: &Parts| {
        let allowed = match row.soldered {
            Some(soldered) if article.solder.is_some() => soldered,
            _ => row.value,
        };
        let spare = claim.spare(found + allowed);
        Test {
            what: what.to_owned(),
            found: found.normalize(),
            allowed,
            spare,
            holds: !spare.is_sign_negative() || spare.is_zero(),
            cite: book.cited(row.cite()),
        }
    };
    let mut all = Vec::new();
    if let Some(row) = book.part.get(group.metal) {
        for part in &group.parts {
            all.push(test(&part.name, part.fineness(group.metal, book), row));
        }
    }
    let lowered = book.whole_soldered.as_ref().filter(|_| lower);
    if let Some(row) = book.whole.get(group.metal).or(lowered) {
        match article.melted(&group.parts, group.metal, book) {
            Some(found) => all.push(test("whole", found, row)),
            None => undecided.push(Said {
                kind: Kind::Undecided,
                text: "the whole melted with its solder cannot be computed: state the solder's weight, as in `solder NAME { amount 0.05 g }`, or `assay { whole 749 }`".to_owned(),
                cite: book.cited(row.cite()),
            }),
        }
    }
    all
}

/// The highest mark of some parts of one metal.
fn best(
    article: &Article,
    book: &Rulebook,
    group: &Group<'_>,
    lower: bool,
    judged: &mut Judgement,
) -> Mark {
    let mut unknown = Vec::new();
    let zero = Claim::parts(group.metal, Decimal::ZERO);
    // What the tests leave at 0 is the highest figure that passes them all.
    let tests = tests(article, book, group, &zero, lower, &mut unknown);
    let highest = tests.iter().map(|test| test.spare).min();
    let highest = highest.map(|highest| highest.min(Decimal::ONE_THOUSAND));
    let at = |figure: Decimal| {
        let mut tests = tests.clone();
        for test in &mut tests {
            test.spare -= figure;
            test.holds = !test.spare.is_sign_negative() || test.spare.is_zero();
        }
        tests
    };
    let mut mark = Mark {
        metal: group.metal.to_owned(),
        parts: group.parts.iter().map(|part| part.name.clone()).collect(),
        figure: None,
        free: false,
        tests: Vec::new(),
    };
    let standards = book.standards.get(group.metal);
    let above = standards
        .filter(|row| row.above)
        .and_then(|row| row.value.last().copied());
    let free = book.any.get(group.metal).map(|row| row.value);
    if let Some(highest) = highest.filter(|highest| {
        free.is_some_and(|least| *highest > least) || above.is_some_and(|last| *highest > last)
    }) {
        mark.figure = Some(highest);
        mark.free = true;
        mark.tests = at(highest);
    } else {
        let listed = standards
            .map(|row| row.value.as_slice())
            .unwrap_or_default();
        let reached = |figure: &&Decimal| highest.is_some_and(|highest| **figure <= highest);
        let found = listed.iter().rev().find(reached);
        mark.figure = found.copied();
        let shown = found.or_else(|| listed.first());
        mark.tests = shown.map(|figure| at(*figure)).unwrap_or_default();
    }
    for said in unknown {
        if !judged.undecided.contains(&said) {
            judged.undecided.push(said);
        }
    }
    mark
}

/// Each part on its own, where it carries its own mark; and whether the marks are where they must be.
fn each(
    article: &Article,
    book: &Rulebook,
    groups: &[Group<'_>],
    lower: bool,
    judged: &mut Judgement,
) {
    let own = |word: &Option<crate::catalogue::Word>| {
        word.as_ref()
            .filter(|word| word.value == "each-own")
            .cloned()
    };
    let differ = groups.iter().any(|group| differs(group, book));
    let rule = own(&book.finenesses)
        .filter(|_| differ)
        .or_else(|| own(&book.metals).filter(|_| groups.len() > 1));
    let Some(rule) = rule else { return };
    // What cannot be decided of a part was said of the whole.
    let mut aside = judged.clone();
    for group in groups {
        for part in &group.parts {
            let alone = Group {
                metal: group.metal,
                parts: vec![part],
            };
            let mark = best(article, book, &alone, lower, &mut aside);
            judged.each.push(mark);
        }
    }
    let cite = book.cited(rule.cite());
    if let Some(marked) = &article.marked {
        for part in article
            .parts
            .iter()
            .filter(|part| !marked.is_empty() && !marked.contains(&part.name))
        {
            let metal = part.metal(book).unwrap_or("");
            let found = part.fineness(metal, book);
            let own =
                if metal == "gold" && (found * Decimal::from(24) % Decimal::from(1000)).is_zero() {
                    format!(
                        "{}K",
                        (found * Decimal::from(24) / Decimal::from(1000)).normalize()
                    )
                } else {
                    found.normalize().to_string()
                };
            judged.refused.push(Said {
                kind: Kind::Refused,
                text: format!("the {} is not marked: it must carry its own {metal} {own}, in the same pattern and size", part.name),
                cite: cite.clone(),
            });
        }
    }
}

/// Whether parts of one metal differ in fineness.
fn differs(group: &Group<'_>, book: &Rulebook) -> bool {
    let mut found = group
        .parts
        .iter()
        .map(|part| part.fineness(group.metal, book));
    let first = found.next();
    found.any(|other| Some(other) != first)
}

/// The values used that are from memory.
fn memory(book: &Rulebook, groups: &[Group<'_>], judged: &mut Judgement) {
    for group in groups {
        let cites: [Option<(&str, Cite<'_>)>; 4] = [
            book.standards
                .get(group.metal)
                .map(|row| ("standards", row.cite())),
            book.any.get(group.metal).map(|row| ("figures", row.cite())),
            book.part
                .get(group.metal)
                .map(|row| ("shortfall of a part", row.cite())),
            book.whole
                .get(group.metal)
                .map(|row| ("shortfall of the whole", row.cite())),
        ];
        for (what, cite) in cites.into_iter().flatten() {
            if cite.status == "from memory" {
                judged
                    .memory
                    .push(format!("{what} of {}: {}", group.metal, book.cited(cite)));
            }
        }
    }
}

/// Whether an official mark is needed.
fn need(article: &Article, book: &Rulebook, groups: &[Group<'_>], judged: &mut Judgement) {
    let Some(system) = &book.system else { return };
    let says = system
        .says
        .as_ref()
        .map(|says| format!(" ({says})"))
        .unwrap_or_default();
    judged.need_cite = format!("{}{says}", book.cited(system.cite()));
    judged.need = match system.value.as_str() {
        "compulsory" => Need::Office,
        "own-mark" => Need::Own,
        "voluntary" => Need::Voluntary,
        _ => Need::Unsaid,
    };
    if judged.need != Need::Office || groups.is_empty() {
        return;
    }
    let there = |metal: &String| groups.iter().any(|group| group.metal == metal);
    let rows: Vec<_> = groups
        .iter()
        .map(|group| book.exempt.get(group.metal))
        .collect();
    if rows.iter().any(Option::is_none) {
        return;
    }
    let standing: Vec<_> = rows
        .into_iter()
        .flatten()
        .filter(|row| !row.lost_beside.iter().any(there))
        .collect();
    let light = !standing.is_empty() && standing.iter().all(|row| article.weight < row.below);
    let lost: Vec<String> = groups
        .iter()
        .filter_map(|group| book.exempt.get(group.metal))
        .filter(|row| row.lost_beside.iter().any(there))
        .map(|row| {
            format!(
                "not exempt beside a dearer metal: {}",
                book.cited(row.cite())
            )
        })
        .collect();
    let clauses: Vec<String> = standing
        .iter()
        .map(|row| {
            format!(
                "{} g against {} g, {}",
                article.weight.normalize(),
                row.below,
                book.cited(row.cite())
            )
        })
        .collect();
    let reached = judged.marks.iter().all(|mark| mark.figure.is_some());
    if light && reached {
        let lost = book
            .exempt_solder
            .as_ref()
            .filter(|_| solder::unlawful(judged));
        match lost {
            Some(row) => judged.says.push(Said {
                kind: Kind::Condition,
                text: "light enough to be exempt, but its solder does away with the exemption"
                    .to_owned(),
                cite: book.cited(row.cite()),
            }),
            None => {
                judged.need = Need::Exempt;
                judged.need_cite = clauses.join("; ");
            }
        }
    } else {
        let under = clauses
            .into_iter()
            .map(|clause| format!("exempt under that weight: {clause}"));
        let all: Vec<String> = lost.into_iter().chain(under).collect();
        judged.need_cite = format!("{}; {}", judged.need_cite, all.join("; "));
    }
}
