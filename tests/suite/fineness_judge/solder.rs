//! The second judge on soldered articles of one precious metal: what each text asks of solder, written from the texts
//! named beside it, and what solder takes off the whole.
//!
//! Each text's own words decide which figure solder is held against: the standard that the article is to carry. That an
//! article whose solder is too low for its metal carries the highest lower standard that the solder goes with is a rule of
//! the house.

use annulet::catalogue::rulebook;
use annulet::fineness::{Claim, OfficialMark, Soldered, compiled, judge};
use rust_decimal::Decimal;

use super::{
    AU, Draw, Exact, METALS, PD, PT, Piece, TEXTS, Text, article, decimal, figures, whole,
};

const AG: usize = 3;

/// What a text asks of solder.
struct Asked {
    /// Parts per thousand, at least.
    least: Exact,
    /// All precious metals count together.
    together: bool,
    /// Lower solder may be allowed.
    leave: bool,
}

/// What a text asks of the solder of an article that is to carry a figure; nothing where none was read to say anything.
fn asked(word: &str, metal: usize, of: Exact, white: bool) -> Option<Asked> {
    let same = |leave| Asked {
        least: of,
        together: false,
        leave,
    };
    let least = |least| Asked {
        least: whole(least),
        ..same(false)
    };
    let together = |least| Asked {
        least,
        together: true,
        leave: false,
    };
    let from = |figure| of >= whole(figure);
    Some(match (word, metal) {
        // Hallmarking Act 1973 s.4(3)(b): 916.6 is what 22 carat means, and 916 how it is marked.
        ("UK", AU) if from(916) && of <= Exact::new(9166, 10) => least(750),
        ("UK", AU) if white && from(585) && of <= whole(750) => least(500),
        ("UK", AU) => same(false),
        ("UK", AG) => least(650),
        ("UK", PT) => together(whole(950)),
        ("UK", PD) if from(950) => together(whole(700)),
        ("UK", PD) => together(of),
        // Vienna Convention Annex I 2.4.1, in principle; the exceptions were not read.
        ("VC", _) => same(false),
        // SR 941.311 art. 36; Japan Mint, acceptance rules: unless it cannot be helped.
        ("CH" | "JP", _) => same(true),
        // D.P.R. 150/2002 art. 8.
        ("IT", AU) if of > whole(750) => least(750),
        ("IT", AU) => same(false),
        ("IT", PT) => together(whole(800)),
        ("IT", PD) => together(whole(700)),
        ("IT", AG) => least(550),
        // GB 11887-2012 4.2: findings as the body, but for four grades.
        ("CN", AU) if from(916) => least(900),
        ("CN", PT | PD) if from(950) => least(900),
        ("CN", AG) if from(990) => least(925),
        ("CN", _) => same(false),
        // Lei 98/2015 art. 56(1)(e).
        ("PT", AU) if from(916) => least(750),
        ("PT", AU) if white && of < whole(585) => least(375),
        ("PT", AU) if white => least(585),
        ("PT", AG) if from(925) => least(650),
        ("PT", _) => same(false),
        // No text on solder was read: the safe reading, from memory.
        ("IN" | "IE" | "SG" | "PL" | "ES", _) => same(false),
        // 15 USC 295, 296; FeinGehG s.5; C.R.C. c. 1303 s.13; PunzG s.2(1): the whole is melted with it. Code de commerce,
        // Waarborgwet and ISO 9202: nothing was read, or solders are excluded.
        ("US" | "DE" | "CA" | "AT" | "FR" | "NL" | "ISO", _) => return None,
        _ => unreachable!("{word}"),
    })
}

/// What the whole of a soldered article may be found short; none where the whole is not asked for.
fn of_whole(text: &Text, metal: usize, white: bool, lower: bool) -> Option<Exact> {
    let short = match (text.word, metal) {
        // C.R.C. c. 1303 s.13: white gold from 18 karat on.
        ("CA", AU) if white => 15,
        ("CA", AU) => 7,
        ("CA", AG) => 6,
        // D.P.R. 150/2002 art. 6(1).
        ("IT", PT | PD) => 10,
        // SR 941.311 art. 36(3).
        ("CH", _) if lower => 10,
        _ => text.whole.map_or(i128::MAX, |short| short[metal]),
    };
    (short != i128::MAX).then(|| whole(short))
}

/// Solder: what it holds of the article's metal and of another precious one, its weight in micrograms, and whether lower
/// solder is allowed.
#[derive(Clone, Copy, Debug)]
struct Solder {
    held: Exact,
    other: Exact,
    weight: Option<i128>,
    leave: Option<bool>,
}

/// The fineness of all that is melted; none where the solder's weight is not known.
fn melted(pieces: &[Piece], solder: &Solder) -> Option<Exact> {
    let weight = solder.weight?;
    let all = pieces.iter().map(|one| (one.found(), one.weight));
    let all: Vec<(Exact, i128)> = all.chain([(solder.held, weight)]).collect();
    let fine: Exact = all.iter().map(|(found, weight)| found * weight).sum();
    Some(fine / all.iter().map(|(_, weight)| weight).sum::<i128>())
}

/// The figure that pieces of one metal carry, and whether they pass: without a claim, or with one of a standard.
fn verdict(
    text: &Text,
    pieces: &[Piece],
    solder: &Solder,
    white: bool,
    claim: Option<Exact>,
) -> (Option<Exact>, Option<bool>) {
    let metal = pieces[0].metal;
    let least = pieces.iter().map(Piece::found).min().unwrap();
    let melt = melted(pieces, solder);
    let held = match text.part {
        Some(_) => least,
        None => melt.unwrap_or(least),
    };
    let standards = text.standards[metal].iter().rev().map(|one| whole(*one));
    let mut due: Vec<Exact> = standards.filter(|one| *one <= held).collect();
    if due.is_empty() {
        due.push(held);
    }
    if let Some(claim) = claim {
        due = vec![claim];
    }
    let lacks = |of: &Exact| {
        let asked = asked(text.word, metal, *of, white)?;
        let counts = match asked.together {
            true => solder.held + solder.other,
            false => solder.held,
        };
        (counts < asked.least).then_some(asked.leave && solder.leave == Some(true))
    };
    let (mut lower, mut cap, mut refused) = (false, None, false);
    match lacks(&due[0]) {
        None => {}
        Some(true) => lower = true,
        Some(false) => {
            let goes = |of: &&Exact| lacks(of).is_none_or(|given| given);
            cap = due.iter().skip(1).find(goes).copied();
            refused = cap.is_none();
        }
    }
    let differ = pieces.iter().any(|one| one.mixed != pieces[0].mixed);
    refused |= differ && text.alike;
    // Each part without solder, then the whole with it: what is found, and how far it may be short.
    let mut tests: Vec<(Exact, Exact)> = Vec::new();
    let of_part = text.part.map_or(0, |short| short[metal]);
    if text.part.is_some() {
        tests.extend(pieces.iter().map(|one| (one.found(), whole(of_part))));
    }
    let parts = tests.len();
    let eighteen = |one: &Piece| one.found() + whole(of_part) >= whole(750);
    let white = white && pieces.iter().all(eighteen);
    let short = of_whole(text, metal, white, lower);
    let open = short.is_some() && melt.is_none();
    tests.extend(melt.zip(short));
    let deciding = tests.iter().min_by_key(|(found, short)| found + short);
    let struck = deciding.map(|(found, _)| match parts {
        0 => *found,
        _ => least.min(*found),
    });
    let struck = struck.map(|struck| cap.map_or(struck, |cap| cap.min(struck)));
    let figure = struck.and_then(|struck| {
        let standards = text.standards[metal];
        let last = standards.last().map(|last| whole(*last));
        let free = text.any[metal].is_some_and(|least| struck >= whole(least))
            || (text.above && last.is_some_and(|last| struck > last));
        let mut reached = standards.iter().rev().map(|one| whole(*one));
        match free {
            true => Some(struck.floor()),
            false => reached.find(|one| *one <= struck),
        }
    });
    let reached = match claim {
        None => figure.is_some() || tests.is_empty(),
        Some(claim) => {
            let all_true = parts > 0 && tests[..parts].iter().all(|(found, _)| *found >= claim);
            (0..).zip(&tests).all(|(place, (found, short))| {
                let of_whole = place >= parts;
                let meant = match of_whole {
                    true => {
                        pieces.iter().all(|one| one.mixed >= claim)
                            && pieces.iter().any(|one| one.assayed.is_some())
                    }
                    false => pieces[place].mixed >= claim && pieces[place].assayed.is_some(),
                };
                *found + short >= claim
                    && (*found >= claim || (of_whole && all_true) || meant || !text.mixed)
            })
        }
    };
    let passes = match (refused || !reached, open) {
        (true, _) => Some(false),
        (false, true) => None,
        (false, false) => Some(true),
    };
    (figure, passes)
}

#[test]
fn a_second_judge_says_the_same_of_solder() {
    let mut draw = Draw(0x0501_de4e_d000);
    let leasts = [375, 500, 550, 585, 650, 700, 750, 800, 900, 916, 925, 950];
    let (mut passed, mut failed, mut open, mut capped) = (0, 0, 0, 0);
    for round in 0..2500 {
        let metal = draw.below(4);
        let first = draw.piece(metal);
        let pieces = match draw.below(3) {
            0 => vec![first],
            1 => vec![first, draw.piece(metal)],
            _ => vec![first, first],
        };
        let border = match draw.below(3) {
            0 => first.found(),
            1 => draw.fineness(metal),
            _ => whole(draw.of(&leasts)),
        };
        let off = whole(draw.of(&[0, 0, -1, 1])) / draw.of(&[1, 1_000_000_000, 1_000_000_000_000]);
        let held = (border + off).min(whole(1000));
        let rest = whole(1000) - held;
        let solder = Solder {
            held,
            other: rest.min(whole(draw.of(&[0, 0, 50, 200]))),
            weight: (draw.below(5) > 0).then(|| draw.of(&[1, 1_000, 20_000, 90_000])),
            leave: draw.of(&[None, Some(true), Some(false)]),
        };
        let white = metal == AU && draw.below(2) == 0;
        let mut ring = article(&pieces, None);
        ring.parts.iter_mut().for_each(|part| part.white = white);
        // Platinum metals are eked out with gold, all others with silver or, where they are silver, with palladium.
        let other = match metal {
            PT | PD => AU,
            AU => AG,
            _ => PD,
        };
        ring.solder = Some(Soldered {
            contents: vec![
                (METALS[metal].0.to_owned(), decimal(held)),
                (METALS[other].0.to_owned(), decimal(solder.other)),
                ("zinc".to_owned(), decimal(rest - solder.other)),
            ],
            weight: solder
                .weight
                .map(|weight| Decimal::from_i128_with_scale(weight, 6)),
            authorised: solder.leave,
        });
        for text in TEXTS.iter().filter(|text| text.covers(metal)) {
            let rules = compiled(rulebook(text.word).unwrap());
            let told = |what: &str| {
                format!(
                    "{round}: {} {what} {white} {solder:?} {pieces:?}",
                    text.word
                )
            };
            let judged = judge(&ring, &rules, None);
            let (figure, passes) = verdict(text, &pieces, &solder, white, None);
            assert_eq!(
                figures(&judged),
                [(metal, figure.map(decimal))],
                "{}",
                told("mark")
            );
            assert_eq!(judged.passes(), passes, "{}", told("any mark"));
            let plain = text.figure(metal, &pieces);
            capped += usize::from(figure.is_some() && figure < plain);
            // Solder that is refused, or lowers the mark, does away with the exemption of an article that weighs little.
            let lightest = judged.official == OfficialMark::Exempt;
            assert!(
                !(lightest && text.word == "UK" && figure < plain),
                "{}",
                told("exempt")
            );
            let known: &[i128] = match (text.standards[metal], metal) {
                ([], AU) => &[375, 585, 750, 916, 999],
                ([], _) => &[925, 999],
                (known, _) => known,
            };
            let figure = draw.of(known);
            let claim = Claim::parts(METALS[metal].1, Decimal::from_i128_with_scale(figure, 0));
            let judged = judge(&ring, &rules, Some(&claim));
            let (_, passes) = verdict(text, &pieces, &solder, white, Some(whole(figure)));
            assert_eq!(
                judged.passes(),
                passes,
                "{}",
                told(&format!("claim {figure}"))
            );
            match passes {
                Some(true) => passed += 1,
                Some(false) => failed += 1,
                None => open += 1,
            }
        }
    }
    // The draw reaches every outcome often.
    assert!(
        passed > 4000 && failed > 4000 && open > 500 && capped > 1000,
        "{passed} {failed} {open} {capped}"
    );
}
