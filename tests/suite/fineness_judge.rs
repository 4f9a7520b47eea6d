//! Fineness against a second judge: exact fractions, written from the texts and sharing no code with the program.
//!
//! The table below is copied from the texts named beside each row, not from the program's own tables. The judge knows
//! articles of one or two parts, each of one precious metal and copper, and those of one metal with solder (`solder`). That the figure offered is
//! never above the fineness of the metal is a rule of the house: no text words a tolerance as a licence to mark higher.
//! Random articles lie a unit in some last place around every border; the same seed always draws the same ones.

use annulet::catalogue::{rulebook, rulebook_words};
use annulet::fineness::{
    Article, ArticlePart, Assayed, Claim, Judgement, OfficialMark, Portion, Precious, Soldered,
    compiled, judge,
};
use num_rational::Ratio;
use rust_decimal::Decimal;

mod solder;

type Exact = Ratio<i128>;

const PT: usize = 0;
const AU: usize = 1;
const PD: usize = 2;
const METALS: [(&str, Precious); 4] = [
    ("platinum", Precious::Platinum),
    ("gold", Precious::Gold),
    ("palladium", Precious::Palladium),
    ("silver", Precious::Silver),
];

/// How two precious metals in one ring are taken.
#[derive(Clone, Copy, PartialEq)]
enum Two {
    /// Nothing was read: no verdict.
    Unread,
    /// The eye must tell them apart.
    Apart,
    /// Unless the eye tells them apart, the dearer bears no mark.
    LeastUnlessApart,
    /// Each is marked.
    Each,
    /// Only platinum with gold, told apart.
    PlatinumGold,
}

/// What a text says, in parts per thousand.
struct Text {
    word: &'static str,
    /// Standards of platinum, gold, palladium and silver; none where the text does not cover the metal.
    standards: [&'static [i128]; 4],
    /// Any figure from this on is stated as it is.
    any: [Option<i128>; 4],
    /// Any figure above the highest standard is stated as it is.
    above: bool,
    /// What a part may be found short; none where only the whole counts.
    part: Option<[i128; 4]>,
    /// What the whole may be found short.
    whole: Option<[i128; 4]>,
    /// A shortfall helps metal alone that is mixed to the figure and was assayed.
    mixed: bool,
    two: Two,
    /// Two finenesses of one metal are refused.
    alike: bool,
}

const NONE: &[i128] = &[];
const USUAL: Text = Text {
    word: "",
    standards: [NONE; 4],
    any: [None; 4],
    above: false,
    part: Some([0; 4]),
    whole: None,
    mixed: false,
    two: Two::Unread,
    alike: false,
};

#[rustfmt::skip]
const TEXTS: &[Text] = &[
    // Hallmarking Act 1973 s.22(1), s.4(3A); Hallmarking Convention country profile.
    Text { word: "UK", standards: [&[850, 900, 950, 999], &[375, 585, 750, 916, 990, 999], &[500, 950, 999], &[800, 925, 958, 999]], two: Two::Apart, ..USUAL },
    // Vienna Convention Annex I 2.2, 2.3.1, Annex II 4.6; SI 2011/3039.
    Text { word: "VC", standards: [&[850, 900, 950, 999], &[375, 585, 750, 916, 999], &[500, 950, 999], &[800, 830, 925, 999]], two: Two::LeastUnlessApart, ..USUAL },
    // 15 USC 295, 296, 297(b)(B); 16 CFR 23.3, 23.5, 23.6.
    Text { word: "US", standards: [&[850, 900, 950], NONE, NONE, NONE], any: [None, Some(1), None, Some(1)], part: Some([0, 3, 0, 4]), whole: Some([i128::MAX, 7, 0, 10]), two: Two::Each, ..USUAL },
    // IS 1417 amendment 2, IS 2112:2025, press.
    Text { word: "IN", standards: [NONE, &[375, 585, 750, 833, 916, 958, 995, 999], NONE, &[800, 835, 925, 958, 970, 990, 999]], ..USUAL },
    // SR 941.31 art. 7(2), SR 941.311 art. 47; Botschaft 93.049.
    Text { word: "CH", standards: [&[850, 900, 950, 999], &[375, 585, 750, 916, 999], &[500, 950, 999], &[800, 925, 999]], two: Two::LeastUnlessApart, ..USUAL },
    // FeinGehG s.5(1), (2).
    Text { word: "DE", standards: [NONE; 4], any: [None, Some(1), None, Some(1)], part: None, whole: Some([0, 10, 0, 10]), mixed: true, ..USUAL },
    // Code de commerce L832-2.
    Text { word: "FR", standards: [&[850, 900, 950, 999], &[375, 585, 750, 916, 999], NONE, &[800, 925, 999]], ..USUAL },
    // D.P.R. 150/2002 art. 3, 4, 6, 22.
    Text { word: "IT", standards: [&[850, 900, 950], &[375, 585, 750], &[500, 950], &[800, 925]], above: true, part: Some([5, 0, 5, 0]), whole: Some([5, i128::MAX, 5, i128::MAX]), mixed: true, two: Two::Each, ..USUAL },
    // Japan Mint, rules after April 2012.
    Text { word: "JP", standards: [&[850, 900, 950, 999], &[375, 416, 585, 750, 916, 999], NONE, &[800, 900, 925, 950, 999]], two: Two::PlatinumGold, alike: true, ..USUAL },
    // GB 11887-2012 amendment 1, 4.1 table 1.
    Text { word: "CN", standards: [&[850, 900, 950, 990], &[375, 585, 750, 916, 990], &[500, 950, 990], &[800, 925, 990]], part: None, whole: Some([0; 4]), two: Two::Each, ..USUAL },
    // PunzG s.2, 3.
    Text { word: "AT", standards: [&[950], &[585, 750, 900, 986], NONE, &[800, 835, 900, 925]], whole: Some([0; 4]), two: Two::Apart, ..USUAL },
    // Waarborgwet 2019 art. 7, 14 to 17.
    Text { word: "NL", standards: [&[850, 900, 950], &[585, 750, 833, 916], NONE, &[800, 835, 925]], two: Two::Each, ..USUAL },
    // Dublin Assay Office, legislation page.
    Text { word: "IE", standards: [&[600, 850, 900, 950, 999], &[375, 417, 585, 750, 833, 916, 990, 999], &[500, 950, 999], &[800, 925, 958, 999]], two: Two::Apart, ..USUAL },
    // Ley 17/1985 art. 3, 9.
    Text { word: "ES", standards: [&[850, 900, 950, 999], &[375, 585, 750, 916, 999], NONE, &[800, 925, 999]], alike: true, ..USUAL },
    // Lei 98/2015 art. 56, 58.
    Text { word: "PT", standards: [&[850, 900, 950, 999], &[375, 585, 750, 800, 916, 999], &[500, 950, 999], &[800, 830, 835, 925, 999]], two: Two::Apart, ..USUAL },
    // Prawo probiercze art. 13, 24.
    Text { word: "PL", standards: [&[850, 950, 999], &[333, 375, 500, 585, 750, 960, 999], &[500, 850, 999], &[800, 830, 875, 925, 999]], ..USUAL },
    // Precious Metals Marking Regulations s.6, 13.
    Text { word: "CA", standards: [&[950], NONE, &[950], NONE], any: [None, Some(375), None, Some(925)], part: Some([0, 3, 0, 2]), whole: Some([i128::MAX, 3, i128::MAX, 2]), mixed: true, two: Two::Each, ..USUAL },
    // Singapore Assay Office.
    Text { word: "SG", standards: [&[850, 900, 950, 999], &[375, 585, 750, 900, 916, 999], NONE, &[800, 925, 958, 999]], ..USUAL },
    // ISO 9202, the table from memory.
    Text { word: "ISO", standards: [&[850, 900, 950, 999], &[375, 585, 750, 916, 999], &[500, 950, 999], &[800, 830, 925, 999]], ..USUAL },
];

/// A part: its metal, what it is mixed to hold and what an assay found, and its weight in micrograms.
#[derive(Clone, Copy, Debug)]
struct Piece {
    metal: usize,
    mixed: Exact,
    assayed: Option<Exact>,
    weight: i128,
}

impl Piece {
    fn found(&self) -> Exact {
        self.assayed.unwrap_or(self.mixed)
    }
}

/// What a text says of a ring: the figure of each metal, and whether it passes; none where it does not tell.
#[derive(Debug, PartialEq)]
struct Said {
    figures: Vec<(usize, Option<Exact>)>,
    passes: Option<bool>,
}

impl Text {
    /// The figure that may be struck on some pieces of one metal.
    fn figure(&self, metal: usize, pieces: &[Piece]) -> Option<Exact> {
        let standards = self.standards[metal];
        let held = match self.part {
            Some(_) => pieces.iter().map(Piece::found).min()?,
            None => melted(pieces),
        };
        let last = standards.last().map(|last| whole(*last));
        let free = self.any[metal].is_some_and(|least| held >= whole(least))
            || (self.above && last.is_some_and(|last| held > last));
        if free {
            return Some(held.floor());
        }
        let reached = standards.iter().rev().map(|one| whole(*one));
        reached.into_iter().find(|standard| *standard <= held)
    }

    fn covers(&self, metal: usize) -> bool {
        !self.standards[metal].is_empty() || self.any[metal].is_some()
    }

    /// The verdict, of any mark or of a claim in a metal.
    fn verdict(
        &self,
        pieces: &[Piece],
        apart: Option<bool>,
        claim: Option<(usize, Exact)>,
    ) -> Said {
        let mut metals: Vec<usize> = pieces.iter().map(|piece| piece.metal).collect();
        // The least precious first.
        metals.sort_unstable_by(|one, other| other.cmp(one));
        metals.dedup();
        let of = |metal: usize| -> Vec<Piece> {
            let own = pieces.iter().filter(|piece| piece.metal == metal);
            own.copied().collect()
        };
        let figures: Vec<(usize, Option<Exact>)> = metals
            .iter()
            .filter(|metal| self.covers(**metal))
            .map(|metal| (*metal, self.figure(*metal, &of(*metal))))
            .collect();
        let (mut refused, mut open) = (false, figures.len() < metals.len());
        let differ = metals.iter().any(|metal| {
            let own = of(*metal);
            own.iter().any(|piece| piece.mixed != own[0].mixed)
        });
        refused |= differ && self.alike;
        let least_alone = self.two == Two::LeastUnlessApart && apart == Some(false);
        if metals.len() > 1 {
            match (self.two, apart) {
                (Two::Unread, _) => open = true,
                (Two::Each, _) => {}
                (Two::PlatinumGold, _) if metals != [AU, PT] => refused = true,
                (Two::Apart | Two::PlatinumGold, None) => open = true,
                (Two::Apart | Two::PlatinumGold, Some(apart)) => refused |= !apart,
                (Two::LeastUnlessApart, _) => {}
            }
            let dearer = claim.is_some_and(|(metal, _)| metal != metals[0]);
            if self.two == Two::LeastUnlessApart && dearer {
                refused |= apart == Some(false);
                open |= apart.is_none();
            }
        }
        let reached = match claim {
            None => figures.first().is_some_and(|(_, figure)| figure.is_some()),
            Some((metal, figure)) => self.covers(metal) && self.holds(metal, &of(metal), figure),
        };
        let covered = match claim {
            None => !figures.is_empty(),
            Some((metal, _)) => self.covers(metal),
        };
        refused |= covered && !reached;
        let others = figures.iter().all(|(metal, figure)| {
            least_alone || figure.is_some() || claim.is_some_and(|(own, _)| own == *metal)
        });
        let passes = match (refused, open) {
            (true, _) => Some(false),
            (false, true) => None,
            (false, false) => Some(reached && others),
        };
        Said { figures, passes }
    }

    /// Whether a figure may be claimed of some pieces of one metal. Claims here are standards and names of the trade.
    fn holds(&self, metal: usize, pieces: &[Piece], claim: Exact) -> bool {
        let true_of = |piece: &Piece| piece.found() >= claim;
        let meant = |piece: &Piece| piece.mixed >= claim && piece.assayed.is_some();
        let within = |found: Exact, short: i128, meant: bool| {
            let reached = short == i128::MAX || found + whole(short) >= claim;
            found >= claim || (reached && (meant || !self.mixed))
        };
        let parts = self.part.is_none_or(|short| {
            let mut all = pieces.iter();
            all.all(|piece| within(piece.found(), short[metal], meant(piece)))
        });
        let melt = self.whole.is_none_or(|short| {
            let all_true = self.part.is_some() && pieces.iter().all(true_of);
            let mixed = pieces.iter().all(|piece| piece.mixed >= claim);
            let assayed = pieces.iter().any(|piece| piece.assayed.is_some());
            short[metal] == i128::MAX
                || all_true
                || within(melted(pieces), short[metal], mixed && assayed)
        });
        parts && melt
    }
}

fn whole(figure: i128) -> Exact {
    Exact::from_integer(figure)
}

/// The fineness of some pieces melted together.
fn melted(pieces: &[Piece]) -> Exact {
    if pieces
        .iter()
        .all(|piece| piece.found() == pieces[0].found())
    {
        return pieces[0].found();
    }
    let fine: Exact = pieces
        .iter()
        .map(|piece| piece.found() * piece.weight)
        .sum();
    fine / pieces.iter().map(|piece| piece.weight).sum::<i128>()
}

/// Numbers that look random, always the same for a seed.
struct Draw(u64);

impl Draw {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % u64::try_from(limit).unwrap()).unwrap()
    }

    fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())]
    }

    /// A fineness at a border of some text, one unit in some last place beside it, or anywhere.
    fn fineness(&mut self, metal: usize) -> Exact {
        let borders: Vec<i128> = TEXTS
            .iter()
            .flat_map(|text| text.standards[metal].to_vec())
            .collect();
        let border = match metal {
            _ if self.below(5) == 0 => whole(330 + i128::try_from(self.below(670)).unwrap()),
            _ => whole(self.of(&borders)),
        };
        let short = whole(self.of(&[0, 0, 0, 2, 3, 4, 5, 7, 10]));
        let unit = self.of(&[1_i128, 10, 1_000_000_000, 1_000_000_000_000]);
        let off = whole(self.of(&[0, -1, 1])) / unit;
        (border - short + off).min(whole(1000))
    }

    fn piece(&mut self, metal: usize) -> Piece {
        let mixed = self.fineness(metal);
        let near = whole(self.of(&[0, -1, 1, -3, -10])) / self.of(&[1, 10, 1_000_000_000]);
        let assayed = (self.below(3) == 0).then(|| (mixed + near).min(whole(1000)));
        Piece {
            metal,
            mixed,
            assayed,
            weight: i128::try_from(1 + self.below(6_000_000)).unwrap(),
        }
    }

    fn pieces(&mut self) -> Vec<Piece> {
        let metal = self.below(4);
        let first = self.piece(metal);
        match self.below(4) {
            0 => vec![first],
            1 => {
                let other = self.below(4);
                vec![first, self.piece(other)]
            }
            2 => vec![first, self.piece(metal)],
            _ => {
                let weight = i128::try_from(1 + self.below(6_000_000)).unwrap();
                vec![first, Piece { weight, ..first }]
            }
        }
    }
}

fn decimal(exact: Exact) -> Decimal {
    let (over, under) = (*exact.numer(), *exact.denom());
    let digits = 1_000_000_000_000 / under;
    Decimal::from_i128_with_scale(over * digits, 12).normalize()
}

/// The same ring for the program.
fn article(pieces: &[Piece], apart: Option<bool>) -> Article {
    let portions: &[Portion] = match pieces {
        [_] => &[Portion::Band],
        _ => &[Portion::Shell, Portion::Sleeve],
    };
    let parts: Vec<ArticlePart> = portions
        .iter()
        .zip(pieces)
        .map(|(portion, piece)| ArticlePart {
            portion: *portion,
            contents: vec![
                (METALS[piece.metal].0.to_owned(), decimal(piece.mixed)),
                ("copper".to_owned(), decimal(whole(1000) - piece.mixed)),
            ],
            weight: Decimal::from_i128_with_scale(piece.weight, 6),
            assay: piece.assayed.map(|found| Assayed {
                figure: decimal(found),
                note: String::new(),
            }),
            ..ArticlePart::default()
        })
        .collect();
    Article {
        weight: parts.iter().map(|part| part.weight).sum(),
        parts,
        apart,
        ..Article::default()
    }
}

fn figures(judged: &Judgement) -> Vec<(usize, Option<Decimal>)> {
    let marks = judged.marks.iter();
    marks
        .map(|mark| {
            let metal = METALS.iter().position(|(_, metal)| *metal == mark.metal);
            (metal.unwrap(), mark.figure.map(|figure| figure.normalize()))
        })
        .collect()
}

#[test]
fn a_second_judge_says_the_same() {
    let mut draw = Draw(0x005e_ed0f_9a1d);
    let apart = [None, Some(true), Some(false)];
    let (mut passed, mut failed, mut open) = (0, 0, 0);
    for round in 0..3000 {
        let (pieces, apart) = (draw.pieces(), draw.of(&apart));
        let article = article(&pieces, apart);
        for text in TEXTS {
            let rules = compiled(rulebook(text.word).unwrap());
            let told = |what: &str| format!("{round}: {} {what} {apart:?} {pieces:?}", text.word);
            let judged = judge(&article, &rules, None);
            let said = text.verdict(&pieces, apart, None);
            let expected: Vec<(usize, Option<Decimal>)> = said
                .figures
                .iter()
                .map(|(metal, figure)| (*metal, figure.map(decimal)))
                .collect();
            assert_eq!(figures(&judged), expected, "{}", told("marks"));
            assert_eq!(judged.passes(), said.passes, "{}", told("any mark"));
            // A claim of a standard, or of a whole karat of gold.
            let metal = pieces[draw.below(pieces.len())].metal;
            let karats = i128::try_from(9 + draw.below(16)).unwrap();
            let names: &[i128] = match metal {
                PT => &[850, 900, 950, 999],
                AU => &[375, 585, 750, 916, 999],
                PD => &[500, 950, 999],
                _ => &[800, 830, 925, 999],
            };
            // Where any figure is stated, from a least one on.
            let least = text.any[metal].unwrap_or(0);
            let known: Vec<i128> = match text.standards[metal] {
                [] => names
                    .iter()
                    .copied()
                    .filter(|name| *name >= least)
                    .collect(),
                known => known.to_vec(),
            };
            let figure = draw.of(&known);
            let (claim, exact) = if metal == AU && draw.below(3) == 0 {
                let claim = Claim::karats(Precious::Gold, Decimal::from_i128_with_scale(karats, 0));
                (claim, Exact::new(1000 * karats, 24))
            } else {
                let claim = Claim::parts(METALS[metal].1, Decimal::from_i128_with_scale(figure, 0));
                (claim, whole(figure))
            };
            let judged = judge(&article, &rules, Some(&claim));
            let said = text.verdict(&pieces, apart, Some((metal, exact)));
            assert_eq!(
                judged.passes(),
                said.passes,
                "{}",
                told(&format!("claim {exact}"))
            );
            match said.passes {
                Some(true) => passed += 1,
                Some(false) => failed += 1,
                None => open += 1,
            }
        }
    }
    // The draw reaches every outcome often.
    assert!(
        passed > 5000 && failed > 5000 && open > 5000,
        "{passed} {failed} {open}"
    );
}

#[test]
fn every_rulebook_with_a_text_is_judged_twice() {
    let silent = ["TR", "AE", "HK"];
    let read: Vec<&str> = rulebook_words()
        .filter(|word| !silent.contains(word))
        .collect();
    let mut judged: Vec<&str> = TEXTS.iter().map(|text| text.word).collect();
    judged.sort_unstable();
    let mut read_sorted = read.clone();
    read_sorted.sort_unstable();
    assert_eq!(judged, read_sorted);
}

/// No outcome of another judge: what must hold of every article, soldered ones too, whatever a text says.
#[test]
fn no_tolerance_is_a_licence_and_marks_may_be_claimed() {
    let mut draw = Draw(0x011c_e25e);
    let apart = [None, Some(true), Some(false)];
    for round in 0..1500 {
        let (pieces, apart) = (draw.pieces(), draw.of(&apart));
        let mut article = article(&pieces, apart);
        if draw.below(2) == 0 {
            let metal = pieces[0].metal;
            let held = draw.fineness(metal);
            article.solder = Some(Soldered {
                contents: vec![
                    (METALS[metal].0.to_owned(), decimal(held)),
                    ("zinc".to_owned(), decimal(whole(1000) - held)),
                ],
                weight: (draw.below(4) > 0)
                    .then(|| Decimal::new(i64::try_from(draw.below(500)).unwrap(), 4)),
                authorised: draw.of(&apart_like()),
            });
        }
        for word in rulebook_words() {
            let rules = compiled(rulebook(word).unwrap());
            let judged = judge(&article, &rules, None);
            let told = || format!("{round}: {word} {article:?}\n{judged:?}");
            for mark in &judged.marks {
                let Some(figure) = mark.figure else { continue };
                let own = article
                    .parts
                    .iter()
                    .filter(|part| mark.parts.contains(part.portion));
                let held: Vec<Decimal> = own
                    .filter_map(|part| part.sold_as(&rules))
                    .map(|(_, found)| found)
                    .collect();
                // A rulebook that melts the whole knows no part of its own.
                let whole_alone = matches!(word, "DE" | "CN");
                let solder = article
                    .solder
                    .iter()
                    .map(|one| one.fineness(Some(mark.metal)));
                let most = match whole_alone {
                    true => held.iter().copied().chain(solder).max(),
                    false => held.iter().copied().min(),
                };
                assert!(figure <= most.unwrap(), "{}", told());
                let claim = Claim::parts(mark.metal, figure);
                let claimed = judge(&article, &rules, Some(&claim));
                if judged.passes() == Some(true) && mark.metal == judged.marks[0].metal {
                    assert_eq!(claimed.passes(), Some(true), "{}", told());
                }
            }
        }
    }
}

fn apart_like() -> [Option<bool>; 3] {
    [None, Some(true), Some(false)]
}

/// Who marks, and up to which weight nobody must, in micrograms by metal; whether that weight itself is exempt, and
/// whether the fine metal alone is weighed.
type Marking = (
    &'static str,
    [OfficialMark; 4],
    [Option<i128>; 4],
    bool,
    bool,
);

#[rustfmt::skip]
const MARKING: &[Marking] = {
    use OfficialMark::{Office, Own, Unsaid, Voluntary};
    const NO: [Option<i128>; 4] = [None; 4];
    &[
        // Hallmarking Act 1973 Sch.1 Pt II paras 12A to 12D: strictly under, all metal.
        ("UK", [Office; 4], [Some(500_000), Some(1_000_000), Some(1_000_000), Some(7_780_000)], false, false),
        ("VC", [Voluntary; 4], NO, false, false),
        ("US", [Voluntary; 4], NO, false, false),
        // Hallmarking Order 2020: an article of gold under two grams; press of September 2025: silver is voluntary.
        ("IN", [Office, Office, Office, Voluntary], [None, Some(2_000_000), None, None], false, false),
        ("CH", [Own; 4], NO, false, false),
        ("DE", [Voluntary; 4], NO, false, false),
        // CGI annexe III art. 186 ter.
        ("FR", [Office; 4], [Some(3_000_000), Some(3_000_000), None, Some(30_000_000)], false, false),
        // D.P.R. 150/2002 art. 20, note.
        ("IT", [Own; 4], [Some(1_000_000); 4], false, false),
        ("JP", [Voluntary; 4], NO, false, false),
        ("CN", [Own; 4], NO, false, false),
        // PunzG s.6(2): up to and including.
        ("AT", [Own; 4], [Some(2_000_000), Some(2_000_000), None, Some(30_000_000)], true, false),
        // Waarborgbesluit art. 1: fine metal, strictly under.
        ("NL", [Office; 4], [Some(500_000), Some(1_000_000), None, Some(8_000_000)], false, true),
        ("IE", [Office; 4], NO, false, false),
        ("ES", [Office; 4], NO, false, false),
        // Lei 98/2015 art. 9(4), (5): up to and including.
        ("PT", [Office; 4], [Some(500_000), Some(500_000), None, Some(2_000_000)], true, false),
        // Prawo probiercze art. 6.
        ("PL", [Office; 4], [Some(1_000_000), Some(1_000_000), None, Some(5_000_000)], false, false),
        ("CA", [Voluntary; 4], NO, false, false),
        ("SG", [Voluntary; 4], NO, false, false),
        ("ISO", [Unsaid; 4], NO, false, false),
    ]
};

#[test]
fn who_must_mark_and_what_is_light_enough_is_judged_twice() {
    assert_eq!(MARKING.len(), TEXTS.len());
    let mut draw = Draw(0x0e1e_3a91);
    let (mut exempt, mut marked) = (0, 0);
    for _ in 0..4000 {
        let text = &TEXTS[draw.below(TEXTS.len())];
        let row = MARKING.iter().find(|row| row.0 == text.word).unwrap();
        let (_, system, limits, through, fine) = row;
        let metal = draw.below(4);
        let Some(standard) = text.standards[metal].last() else {
            continue;
        };
        let standard = match draw.below(2) {
            0 => whole(*standard),
            _ => whole(draw.of(text.standards[metal])),
        };
        // A microgram on either side of the limit, in one part or in two.
        let limit = limits[metal].unwrap_or(1_000_000);
        let at = match fine {
            true => (whole(limit * 1000) / standard).round().to_integer(),
            false => limit,
        };
        let weight = at + draw.of(&[-1, 0, 1, 5_000, -5_000]);
        let piece = |weight| Piece {
            metal,
            mixed: standard,
            assayed: None,
            weight,
        };
        let pieces = match draw.below(2) {
            0 => vec![piece(weight)],
            _ => vec![piece(weight / 3), piece(weight - weight / 3)],
        };
        let counted = match fine {
            true => whole(weight) * standard / 1000,
            false => whole(weight),
        };
        let light = limits[metal]
            .is_some_and(|limit| counted < whole(limit) || (*through && counted == whole(limit)));
        let wanted = match (light, system[metal]) {
            (true, _) => OfficialMark::Exempt,
            (false, system) => system,
        };
        let rules = compiled(rulebook(text.word).unwrap());
        let judged = judge(&article(&pieces, None), &rules, None);
        assert_eq!(judged.official, wanted, "{} {pieces:?}", text.word);
        match light {
            true => exempt += 1,
            false => marked += 1,
        }
    }
    assert!(exempt > 300 && marked > 300, "{exempt} {marked}");
}
