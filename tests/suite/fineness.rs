//! Fineness against the texts of the rulebooks: worked cases with the section that decides them, and their borders
//! from both sides.
//!
//! The cases (F01 to F37) were worked by hand from the sections named beside each before the program read them; the
//! texts, and where each was read, stand in the rulebooks. Karats are 1000/24 parts per thousand by common practice.
//! None of the figures comes from this program.

use annulet::catalogue::{rulebook, rulebook_words};
use annulet::fineness::{
    Article, ArticlePart as Part, Assayed, Claim, FinenessShortfall, Judgement,
    OfficialMark as Need, Portion, Portions, Precious, ReasonKind as Kind, Soldered, compiled,
    judge, restricted,
};
use annulet::session::{Request, Session};
use annulet::words::fineness::{Judged, ReasonSaid, statement};
use rust_decimal::{Decimal, dec};
use serde_json::Value;

use crate::support::{band_with, findings, run};

fn metal(name: &str, parts: Decimal) -> Vec<(String, Decimal)> {
    let rest = if name == "copper" { "zinc" } else { "copper" };
    vec![
        (name.to_owned(), parts),
        (rest.to_owned(), dec!(1000) - parts),
    ]
}

fn part(portion: Portion, of: &str, parts: Decimal, weight: Decimal) -> Part {
    Part {
        portion,
        contents: metal(of, parts),
        weight,
        ..Part::default()
    }
}

/// A ring of gold in two parts of 2 g each.
fn gold(shell: Decimal, sleeve: Decimal) -> Article {
    two(("gold", shell, dec!(2)), ("gold", sleeve, dec!(2)))
}

fn two(shell: (&str, Decimal, Decimal), sleeve: (&str, Decimal, Decimal)) -> Article {
    let parts = vec![
        part(Portion::Shell, shell.0, shell.1, shell.2),
        part(Portion::Sleeve, sleeve.0, sleeve.1, sleeve.2),
    ];
    Article {
        weight: shell.2 + sleeve.2,
        parts,
        cavity: true,
        ..Article::default()
    }
}

/// A solid ring.
fn solid(of: &str, parts: Decimal, weight: Decimal) -> Article {
    Article {
        parts: vec![part(Portion::Band, of, parts, weight)],
        weight,
        ..Article::default()
    }
}

fn judged(article: &Article, book: &str, claim: Option<Claim>) -> Judgement {
    let rules = compiled(rulebook(book).unwrap());
    let judged = judge(article, &rules, claim.as_ref());
    // A claim against the judgement without one comes to the same.
    let against = claim.map(|claim| judge(article, &rules, None).against(&claim, article, &rules));
    assert_eq!(against.as_ref().unwrap_or(&judged), &judged);
    judged
}

/// What a judgement says, in words.
fn words<'a>(judgement: &'a Judgement, article: &'a Article, book: &str) -> Judged<'a> {
    Judged {
        judgement,
        book: rulebook(book).unwrap(),
        article,
    }
}

/// Its statements of one kind.
fn statements(judged: &Judgement, article: &Article, book: &str, kind: Kind) -> Vec<ReasonSaid> {
    let words = words(judged, article, book);
    let reasons = judged.of_kind(kind);
    reasons.map(|reason| statement(reason, &words)).collect()
}

/// Whether a claim passes, and the highest mark.
fn outcome(article: &Article, book: &str, claim: Claim) -> (bool, Option<Decimal>) {
    let judged = judged(article, book, Some(claim));
    (judged.passes().unwrap(), judged.best())
}

fn cites(judged: &Judgement, article: &Article, book: &str) -> String {
    let words = words(judged, article, book);
    let tests = judged.tests.iter().map(|test| words.cite(test));
    let reasons = judged.refused().chain(judged.says());
    let said = reasons.map(|reason| statement(reason, &words).cite);
    tests
        .chain(said)
        .chain([words.official()])
        .collect::<Vec<_>>()
        .join(" | ")
}

/// One row: the section, the case, what is expected.
struct Row {
    section: &'static str,
    article: Article,
    book: &'static str,
    claim: Claim,
    passes: bool,
    best: Option<Decimal>,
}

fn row(
    section: &'static str,
    article: Article,
    book: &'static str,
    claim: Claim,
    passes: bool,
    best: Option<Decimal>,
) -> Row {
    Row {
        section,
        article,
        book,
        claim,
        passes,
        best,
    }
}

#[test]
#[rustfmt::skip]
fn the_worked_cases() {
    let g = |figure| Claim::parts(Precious::Gold, figure);
    let s = |figure| Claim::parts(Precious::Silver, figure);
    let k = |karats| Claim::karats(Precious::Gold, karats);
    let p = |figure| Claim::parts(Precious::Platinum, figure);
    let assayed = |figure| {
        let mut article = solid("gold", dec!(750), dec!(4));
        article.parts[0].assay = Some(Assayed { figure, note: String::new() });
        article
    };
    let found_in_italy = |figure, whole: Option<Decimal>| {
        let mut article = solid("platinum", dec!(950), dec!(4));
        article.parts[0].assay = Some(Assayed { figure, note: String::new() });
        let solder = || Soldered { contents: metal("platinum", dec!(900)), weight: None, authorised: None };
        article.solder = whole.map(|_| solder());
        article.whole = whole;
        article
    };
    let whole = |parts: Decimal, whole| Article { whole: Some(whole), ..gold(parts, parts) };
    let sterling = |parts| solid("silver", parts, dec!(5));
    let sterling_whole = |whole| Article { whole: Some(whole), ..solid("silver", dec!(925), dec!(5)) };
    let authorised = |whole| Article {
        whole: Some(whole),
        solder: Some(Soldered { contents: metal("gold", dec!(700)), weight: None, authorised: Some(true) }),
        ..gold(dec!(750), dec!(750))
    };
    let rows = [
        // F01, F02 and the border between them.
        row("s.22(1), s.4(1), s.1(4A)-(4D)", gold(dec!(749.9), dec!(749.9)), "UK", g(dec!(750)), false, Some(dec!(585))),
        row("s.22(1), s.4(1), s.1(4A)-(4D)", gold(dec!(750.0), dec!(750.0)), "UK", g(dec!(750)), true, Some(dec!(750))),
        row("s.22(1)", gold(dec!(749.999999999), dec!(750)), "UK", g(dec!(750)), false, Some(dec!(585))),
        row("s.22(1)", gold(dec!(750.000000001), dec!(750)), "UK", g(dec!(750)), true, Some(dec!(750))),
        // F03: 14/24 is not 585.
        row("s.22(1)", gold(dec!(583.3333), dec!(583.3333)), "UK", g(dec!(585)), false, Some(dec!(375))),
        // F04, F05: the floor of a part marked 14 K is 14/24 less 3, 580.333…
        row("s.295", gold(dec!(580.4), dec!(580.4)), "US", k(dec!(14)), true, Some(dec!(580))),
        row("s.295", gold(dec!(580.3), dec!(583.4)), "US", k(dec!(14)), false, Some(dec!(580))),
        row("s.295", gold(dec!(580.3333333333), dec!(583.4)), "US", k(dec!(14)), false, Some(dec!(580))),
        row("s.295", gold(dec!(580.3333333334), dec!(583.4)), "US", k(dec!(14)), true, Some(dec!(580))),
        // F06 to F08: both tests on their line; each broken alone.
        row("s.295", whole(dec!(582.0), dec!(578.0)), "US", g(dec!(585)), true, Some(dec!(582))),
        row("s.295", whole(dec!(585.0), dec!(577.9)), "US", g(dec!(585)), false, Some(dec!(577))),
        row("s.295", whole(dec!(585.0), dec!(578.0)), "US", g(dec!(585)), true, Some(dec!(578))),
        row("s.295", whole(dec!(581.9), dec!(581.9)), "US", g(dec!(585)), false, Some(dec!(581))),
        // F09, F10 and Switzerland: the lower figure stands for the whole.
        row("s.22(1)", gold(dec!(750), dec!(375)), "UK", g(dec!(750)), false, Some(dec!(375))),
        row("s.22(1)", gold(dec!(750), dec!(375)), "UK", g(dec!(375)), true, Some(dec!(375))),
        row("Annex II 4.4", gold(dec!(750), dec!(375)), "VC", g(dec!(375)), true, Some(dec!(375))),
        row("Annex I 2.3.1", gold(dec!(750), dec!(374.9)), "VC", g(dec!(375)), false, None),
        row("art. 46(3)", gold(dec!(750), dec!(375)), "CH", g(dec!(375)), true, Some(dec!(375))),
        // F12: 750 x 4 g and 375 x 2 g melt to 625, which is the figure to stamp; ten is an error limit.
        row("s.5(2)", two(("gold", dec!(750), dec!(4)), ("gold", dec!(375), dec!(2))), "DE", g(dec!(750)), false, Some(dec!(625))),
        row("s.5(2)", two(("gold", dec!(750), dec!(4)), ("gold", dec!(375), dec!(2))), "DE", g(dec!(625)), true, Some(dec!(625))),
        row("s.5(2)", two(("gold", dec!(750), dec!(4)), ("gold", dec!(375), dec!(2))), "DE", g(dec!(635)), false, Some(dec!(625))),
        // F18, F19: ten less only with authorised lower solder.
        row("art. 36(3)", authorised(dec!(740.0)), "CH", g(dec!(750)), true, Some(dec!(750))),
        row("art. 36(3)", authorised(dec!(739.9)), "CH", g(dec!(750)), false, Some(dec!(585))),
        row("art. 7(2)", gold(dec!(750), dec!(749.9)), "CH", g(dec!(750)), false, Some(dec!(585))),
        row("art. 7(2)", gold(dec!(750), dec!(750)), "CH", g(dec!(750)), true, Some(dec!(750))),
        // F20: sterling, 4 in a part and 10 in the whole.
        row("s.296", sterling(dec!(921.0)), "US", s(dec!(925)), true, Some(dec!(921))),
        row("s.296", sterling(dec!(920.9)), "US", s(dec!(925)), false, Some(dec!(920))),
        row("s.296", sterling_whole(dec!(915.0)), "US", s(dec!(925)), true, Some(dec!(915))),
        row("s.296", sterling_whole(dec!(914.9)), "US", s(dec!(925)), false, Some(dec!(914))),
        row("s.296", sterling(dec!(896)), "US", s(dec!(900)), true, Some(dec!(896))),
        row("s.296", sterling(dec!(895.9)), "US", s(dec!(900)), false, Some(dec!(895))),
        // F23: between two standards the lower; above the highest any figure.
        row("4(1)", solid("gold", dec!(690), dec!(4)), "IT", g(dec!(750)), false, Some(dec!(585))),
        row("4(1)", solid("gold", dec!(916), dec!(4)), "IT", g(dec!(916)), true, Some(dec!(916))),
        // F28, F29: Italy allows 5 of a part of platinum and 10 of the whole soldered, on control: of metal mixed to 950.
        row("art. 6(2)", found_in_italy(dec!(945), None), "IT", p(dec!(950)), true, Some(dec!(900))),
        row("art. 6(2)", found_in_italy(dec!(944.9), None), "IT", p(dec!(950)), false, Some(dec!(900))),
        row("art. 6(2)", solid("platinum", dec!(945), dec!(4)), "IT", p(dec!(950)), false, Some(dec!(900))),
        row("art. 6(2)", found_in_italy(dec!(941), Some(dec!(941))), "IT", p(dec!(950)), false, Some(dec!(900))),
        row("art. 6(1)", found_in_italy(dec!(945), Some(dec!(940))), "IT", p(dec!(950)), true, Some(dec!(900))),
        row("art. 6(1)", found_in_italy(dec!(945), Some(dec!(939.9))), "IT", p(dec!(950)), false, Some(dec!(900))),
        // F26: ten is an error limit on control. F27: within s.295, but not the correct designation.
        row("s.5(2)", solid("gold", dec!(750), dec!(4)), "DE", g(dec!(760)), false, Some(dec!(750))),
        row("s.5(2)", solid("gold", dec!(750), dec!(4)), "DE", g(dec!(750)), true, Some(dec!(750))),
        row("s.295", solid("gold", dec!(750), dec!(4)), "US", g(dec!(753)), false, Some(dec!(750))),
        row("s.295", solid("gold", dec!(750), dec!(4)), "US", g(dec!(750)), true, Some(dec!(750))),
        // F31: the highest named fineness is 990. F34, F37: the next lower.
        row("4.1", solid("gold", dec!(999.5), dec!(4)), "CN", g(dec!(990)), true, Some(dec!(990))),
        row("s.3(3)", solid("gold", dec!(749.9), dec!(1.9)), "AT", g(dec!(750)), false, Some(dec!(585))),
        row("L832-2", solid("gold", dec!(749.9), dec!(4)), "FR", g(dec!(750)), false, Some(dec!(585))),
        // F33: 3 may be found short of what was mixed to 750, and no more.
        row("s.13", assayed(dec!(747)), "CA", k(dec!(18)), true, Some(dec!(747))),
        row("s.13", assayed(dec!(746.9)), "CA", k(dec!(18)), false, Some(dec!(746))),
        row("s.13", solid("gold", dec!(747), dec!(4)), "CA", k(dec!(18)), false, Some(dec!(747))),
        row("23.6", solid("platinum", dec!(949.9), dec!(4)), "US", Claim::parts(Precious::Platinum, dec!(950)), false, Some(dec!(900))),
        // China: the whole, no shortfall.
        row("4.1", Article { whole: Some(dec!(749.9)), ..gold(dec!(750), dec!(750)) }, "CN", g(dec!(750)), false, Some(dec!(585))),
        row("4.1", gold(dec!(750), dec!(750)), "CN", g(dec!(750)), true, Some(dec!(750))),
    ];
    for Row { section, article, book, claim, passes, best } in rows {
        let found = outcome(&article, book, claim);
        assert_eq!(found, (passes, best), "{book} {claim:?} by {section}: {article:?}");
        let judged = judged(&article, book, Some(claim));
        let cites = cites(&judged, &article, book);
        assert!(cites.contains(section), "{section} not in {cites}");
    }
}

#[test]
fn platinum_with_palladium_in_the_united_states() {
    // 16 CFR 23.6(b)(5), (c)(4): from 500 on, where the platinum group makes 950, each figure stated; else under 850 none.
    let ring = |platinum: Decimal, palladium: Decimal| {
        let mut article = solid("platinum", platinum, dec!(5));
        article.parts[0].contents = vec![
            ("platinum".to_owned(), platinum),
            ("palladium".to_owned(), palladium),
            ("copper".to_owned(), dec!(1000) - platinum - palladium),
        ];
        article
    };
    let best = |platinum, palladium| {
        let article = ring(platinum, palladium);
        let judged = judged(&article, "US", None);
        judged.passes().filter(|passes| *passes).and(judged.best())
    };
    assert_eq!(best(dec!(600), dec!(350)), Some(dec!(600)));
    assert_eq!(best(dec!(600), dec!(349.999)), None);
    assert_eq!(best(dec!(500), dec!(450)), Some(dec!(500)));
    assert_eq!(best(dec!(849.9), dec!(150)), Some(dec!(849)));
    assert_eq!(best(dec!(850), dec!(100)), Some(dec!(850)));
    let claim = Claim::parts(Precious::Platinum, dec!(600));
    let passes =
        |platinum, palladium| judged(&ring(platinum, palladium), "US", Some(claim)).passes();
    assert_eq!(passes(dec!(600), dec!(350)), Some(true));
    assert_eq!(passes(dec!(599.9), dec!(360)), Some(false));
    assert_eq!(passes(dec!(600), dec!(300)), Some(false));
}

#[test]
fn one_alloy_with_an_assay_of_one_part_is_not_two_finenesses() {
    // 15 USC 297(b)(B) speaks of parts that are not of one quality; what an assay finds of a lot makes no other quality.
    let mut article = gold(dec!(750), dec!(750));
    article.marked = Some([Portion::Shell].into_iter().collect());
    article.parts[0].assay = Some(Assayed {
        figure: dec!(749.2),
        note: String::new(),
    });
    let found = judged(
        &article,
        "US",
        Some(Claim::karats(Precious::Gold, dec!(18))),
    );
    assert_eq!((found.passes(), found.refused().count()), (Some(true), 0));
    assert!(found.each.is_empty());
}

#[test]
fn a_shell_marked_alone() {
    // F11: 15 USC s.297(b)(B): the sleeve must carry its own 9K, in the same pattern and size.
    let article = Article {
        marked: Some([Portion::Shell].into_iter().collect()),
        ..gold(dec!(750), dec!(375))
    };
    let found = judged(
        &article,
        "US",
        Some(Claim::karats(Precious::Gold, dec!(18))),
    );
    assert_eq!(found.passes(), Some(false));
    let refused = &statements(&found, &article, "US", Kind::Refused)[0];
    assert!(
        refused.text.contains("9K") && refused.text.contains("sleeve"),
        "{refused:?}"
    );
    assert!(refused.cite.contains("s.297(b)(B)"));
    // Where each carries its own, neither is refused.
    let both = Article {
        marked: Some(Portions::default()),
        ..article
    };
    assert_eq!(judged(&both, "US", None).refused().count(), 0);
}

#[test]
fn silver_and_gold_in_one_ring() {
    // F13: Hallmarking Act Sch.1 Pt II 12A(2)(a), Sch.2 paras 6, 7, 10, s.4(3A).
    let ring = |apart| Article {
        apart,
        ..two(("silver", dec!(925), dec!(3)), ("gold", dec!(375), dec!(2)))
    };
    let found = judged(&ring(Some(true)), "UK", None);
    assert_eq!(found.passes(), Some(true));
    assert_eq!(found.official, Need::Office);
    let ringed = ring(Some(true));
    let official = words(&found, &ringed, "UK").official();
    assert!(official.contains("12A"), "{official}");
    let marks: Vec<_> = found
        .marks
        .iter()
        .map(|mark| (mark.metal.word(), mark.figure))
        .collect();
    assert_eq!(
        marks,
        [("silver", Some(dec!(925))), ("gold", Some(dec!(375)))]
    );
    let says = &statements(&found, &ringed, "UK", Kind::Condition)
        .into_iter()
        .find(|said| said.cite.contains("s.4(3A)"))
        .unwrap()
        .text;
    assert!(
        says.contains("925 on the shell (silver)") && says.contains("375 on the sleeve (gold)"),
        "{says}"
    );
    // It must be possible to tell the parts apart.
    assert_eq!(judged(&ring(Some(false)), "UK", None).passes(), Some(false));
    // Vienna, Annex II 4.6.2: not told apart, the dearer bears no mark.
    let vienna = judged(&ring(Some(false)), "VC", None);
    assert_eq!(
        (vienna.passes(), vienna.best()),
        (Some(true), Some(dec!(925)))
    );
    let says = statements(&vienna, &ring(Some(false)), "VC", Kind::Condition);
    assert!(says.iter().any(|said| said.cite.contains("4.6.2") && said.text.contains("no mark for the dearer")));
}

#[test]
fn exempt_by_weight() {
    // F14, F15: under 1 g of gold, Sch.1 12B; F24: under 2 g in India; France 3 g; silver 7.78 g, platinum 0.5 g.
    let rows = [
        ("UK", "gold", dec!(750), dec!(0.99), Need::Exempt),
        ("UK", "gold", dec!(750), dec!(0.999999), Need::Exempt),
        ("UK", "gold", dec!(750), dec!(1.00), Need::Office),
        ("UK", "silver", dec!(925), dec!(7.779999), Need::Exempt),
        ("UK", "silver", dec!(925), dec!(7.78), Need::Office),
        ("UK", "platinum", dec!(950), dec!(0.49), Need::Exempt),
        ("UK", "platinum", dec!(950), dec!(0.5), Need::Office),
        ("UK", "palladium", dec!(950), dec!(0.99), Need::Exempt),
        ("UK", "palladium", dec!(950), dec!(1), Need::Office),
        // 12B(2)(b): every part at least of the least standard.
        ("UK", "gold", dec!(374.9), dec!(0.5), Need::Office),
        ("IN", "gold", dec!(916.0), dec!(1.99), Need::Exempt),
        ("IN", "gold", dec!(916.0), dec!(2.00), Need::Office),
        ("FR", "gold", dec!(750), dec!(2.99), Need::Exempt),
        ("FR", "gold", dec!(750), dec!(3), Need::Office),
        ("FR", "silver", dec!(925), dec!(29.99), Need::Exempt),
        // F34: Austria up to and including 2 g. F35: 1.3 g of 750 hold 0.975 g, and 1 g fine is not exempt.
        ("AT", "gold", dec!(750), dec!(2), Need::Exempt),
        ("AT", "gold", dec!(750), dec!(2.000001), Need::Own),
        ("NL", "gold", dec!(750), dec!(1.3), Need::Exempt),
        ("NL", "gold", dec!(750), dec!(1.333333), Need::Exempt),
        ("NL", "gold", dec!(750), dec!(1.333334), Need::Office),
        ("PT", "gold", dec!(750), dec!(0.5), Need::Exempt),
        ("PT", "gold", dec!(750), dec!(0.500001), Need::Office),
        ("PL", "silver", dec!(925), dec!(4.999999), Need::Exempt),
        ("PL", "silver", dec!(925), dec!(5), Need::Office),
        ("IE", "gold", dec!(750), dec!(0.1), Need::Office),
        ("IT", "gold", dec!(750), dec!(0.999999), Need::Exempt),
        ("IT", "gold", dec!(750), dec!(1), Need::Own),
        ("VC", "gold", dec!(750), dec!(0.1), Need::Voluntary),
        ("DE", "gold", dec!(750), dec!(0.1), Need::Voluntary),
    ];
    for (book, of, parts, weight, need) in rows {
        let article = solid(of, parts, weight);
        let found = judged(&article, book, None);
        assert_eq!(
            found.official,
            need,
            "{book} {of} {weight} g: {}",
            words(&found, &article, book).official()
        );
    }
}

#[test]
fn solder_in_britain() {
    let ring = |white, solder: Vec<(String, Decimal)>| {
        let mut article = solid("gold", dec!(750), dec!(0.99));
        article.parts[0].white = white;
        article.solder = Some(Soldered {
            contents: solder,
            ..Soldered::default()
        });
        article
    };
    // F16: yellow 750 with solder 700: exemption lost (14AA) and refusable (s.4(3)(b)(i)).
    let claim = Claim::parts(Precious::Gold, dec!(750));
    let found = judged(&ring(false, metal("gold", dec!(700))), "UK", Some(claim));
    assert_eq!(
        (found.passes(), found.official),
        (Some(false), Need::Office)
    );
    // Without a claim it is of the highest standard that its solder goes with, and still not exempt.
    let found = judged(&ring(false, metal("gold", dec!(700))), "UK", None);
    assert_eq!(
        (found.passes(), found.best()),
        (Some(true), Some(dec!(585)))
    );
    assert_eq!(found.official, Need::Office);
    let cited = cites(&found, &ring(false, metal("gold", dec!(700))), "UK");
    assert!(
        cited.contains("14AA") && cited.contains("s.4(3)(b)(i)"),
        "{cited}"
    );
    // Solder of the article's fineness keeps it.
    let found = judged(&ring(false, metal("gold", dec!(750))), "UK", None);
    assert_eq!((found.passes(), found.official), (Some(true), Need::Exempt));
    // F17: white 750 with solder 500, s.4(3)(b)(i)(c); a tenth less is not enough.
    let found = judged(&ring(true, metal("gold", dec!(500))), "UK", None);
    assert_eq!(found.passes(), Some(true));
    let found = judged(&ring(true, metal("gold", dec!(499.9))), "UK", Some(claim));
    assert_eq!(found.passes(), Some(false));
    let cited = cites(&found, &ring(true, metal("gold", dec!(499.9))), "UK");
    assert!(cited.contains("s.4(3)(b)(i)(c)"));
    // s.4(3)(b)(i)(a) lets 750 join gold of 916.6 alone: fine gold of 999 or 990 takes solder of its own fineness.
    for (held, solder, best) in [
        (dec!(999), dec!(750), dec!(916)),
        (dec!(999), dec!(990), dec!(990)),
        (dec!(990), dec!(990), dec!(990)),
        (dec!(990), dec!(750), dec!(916)),
        (dec!(917), dec!(750), dec!(916)),
    ] {
        let mut article = ring(false, metal("gold", solder));
        article.parts[0].contents = metal("gold", held);
        let found = judged(&article, "UK", None);
        assert_eq!(found.best(), Some(best), "{held} with {solder}");
        let claim = Claim::parts(Precious::Gold, best);
        assert_eq!(judged(&article, "UK", Some(claim)).passes(), Some(true));
    }
    // Silver 650, s.4(3)(b)(ii).
    let silver = |parts| {
        let mut article = solid("silver", dec!(925), dec!(9));
        article.solder = Some(Soldered {
            contents: metal("silver", parts),
            ..Soldered::default()
        });
        article
    };
    assert_eq!(judged(&silver(dec!(650)), "UK", None).passes(), Some(true));
    assert_eq!(
        judged(&silver(dec!(649.9)), "UK", None).passes(),
        Some(false)
    );
}

/// Ley 17/1985 art. 9: up to 5 parts of iridium count as platinum; Code de commerce L832-2: all of it does.
#[test]
fn iridium_counts_up_to_five_in_spain() {
    let ring = |platinum: Decimal, iridium: Decimal| {
        let mut article = solid("platinum", platinum, dec!(4));
        article.parts[0].contents = vec![
            ("platinum".to_owned(), platinum),
            ("iridium".to_owned(), iridium),
            ("cobalt".to_owned(), dec!(1000) - platinum - iridium),
        ];
        article
    };
    let of = |article: &Article, book| {
        outcome(article, book, Claim::parts(Precious::Platinum, dec!(950)))
    };
    let (held, lower) = ((true, Some(dec!(950))), (false, Some(dec!(900))));
    for (platinum, iridium, spain, france) in [
        (dec!(945), dec!(5), held, held),
        (dec!(944.9), dec!(5), lower, lower),
        // 944 and 6 are 950 in France, and 949 in Spain.
        (dec!(944), dec!(6), lower, held),
        (dec!(946), dec!(4), held, held),
        (dec!(895), dec!(55), lower, held),
    ] {
        let ring = ring(platinum, iridium);
        assert_eq!(of(&ring, "ES"), spain, "{platinum} {iridium}");
        assert_eq!(of(&ring, "FR"), france, "{platinum} {iridium}");
        // The Act of 1973 counts the platinum alone.
        assert!(!of(&ring, "UK").0, "{platinum} {iridium}");
    }
}

/// CGI annexe III art. 212 A: gold and platinum 3 micrometres, silver 10, vermeil 5.
#[test]
fn a_plating_has_a_least_thickness_in_france() {
    let ring = |with: &str, tag: Option<&str>, thick: Option<Decimal>| {
        let mut article = solid("silver", dec!(925), dec!(4));
        article.plating = Some(with.to_owned());
        article.tag = tag.map(str::to_owned);
        article.plating_thick = thick;
        article
    };
    let claim = || Some(Claim::parts(Precious::Silver, dec!(925)));
    let vermeil = Some("Vermeil band");
    for (with, tag, thick, passes) in [
        ("gold", None, Some(dec!(0.003)), Some(true)),
        ("gold", None, Some(dec!(0.0029)), Some(false)),
        ("gold", None, None, None),
        ("gold", vermeil, Some(dec!(0.005)), Some(true)),
        ("gold", vermeil, Some(dec!(0.004999)), Some(false)),
        ("platinum", None, Some(dec!(0.002)), Some(false)),
        ("silver", None, Some(dec!(0.01)), Some(true)),
        ("silver", None, Some(dec!(0.009)), Some(false)),
        // Of rhodium nothing was read.
        ("rhodium", None, None, Some(true)),
    ] {
        let ring = ring(with, tag, thick);
        let found = judged(&ring, "FR", claim());
        assert_eq!(found.passes(), passes, "{with} {tag:?} {thick:?}");
        let kind = match passes {
            Some(true) => continue,
            Some(false) => Kind::Refused,
            None => Kind::Undecided,
        };
        let said = statements(&found, &ring, "FR", kind);
        assert!(said[0].cite.contains("art. 212 A"), "{said:?}");
        assert_eq!(judged(&ring, "UK", claim()).passes(), Some(true));
    }
}

#[test]
fn a_sleeve_of_steel() {
    let steel = vec![
        ("iron".to_owned(), dec!(900)),
        ("nickel".to_owned(), dec!(100)),
    ];
    let told = |solder: bool, apart: Option<bool>| {
        let mut article = gold(dec!(750), dec!(750));
        article.parts[1].contents = steel.clone();
        article.apart = apart;
        article.solder = solder.then(|| Soldered {
            contents: metal("gold", dec!(750)),
            weight: Some(dec!(0.05)),
            authorised: None,
        });
        article
    };
    let ring = |solder| told(solder, Some(true));
    let claim = Claim::parts(Precious::Gold, dec!(750));
    // s.8(3) counts on what is outwardly seen: unseen it is refused, and unsaid it is open. So is F36.
    for book in ["DE", "CH"] {
        let passes = |apart| judged(&told(false, apart), book, Some(claim)).passes();
        assert_eq!(passes(Some(false)), Some(false), "{book}");
        assert_eq!(passes(None), None, "{book}");
    }
    // F36: Act art. 7a, ordinance art. 48.
    let multi = judged(&ring(false), "CH", Some(claim));
    assert_eq!(multi.passes(), Some(true));
    assert!(cites(&multi, &ring(false), "CH").contains("art. 48"));
    // F21, F22: FeinGehG s.8(3) no. 3 and s.8(2).
    let cold = judged(&ring(false), "DE", Some(claim));
    assert_eq!(cold.passes(), Some(true));
    assert!(cites(&cold, &ring(false), "DE").contains("s.8(3) no. 3"));
    let soldered = judged(&ring(true), "DE", Some(claim));
    assert_eq!(soldered.passes(), Some(false));
    let refused = &statements(&soldered, &ring(true), "DE", Kind::Refused)[0];
    assert!(refused.text.contains("no fineness mark"));
    // Italy, D.P.R. 150/2002 art. 39(1); United States, s.297(a).
    for (book, section) in [("IT", "art. 39(1)"), ("US", "s.297(a)")] {
        let found = judged(&ring(false), book, Some(claim));
        assert_eq!(found.passes(), Some(false), "{book}");
        let cited = cites(&found, &ring(false), book);
        assert!(cited.contains(section), "{book}: {cited}");
    }
}

#[test]
fn words_of_a_tag() {
    // F25: 16 CFR 23.3, note to (c)(1).
    let ring = |tag: &str, cavity| Article {
        tag: Some(tag.to_owned()),
        cavity,
        ..gold(dec!(750), dec!(750))
    };
    let claim = Claim::karats(Precious::Gold, dec!(18));
    let passes = |tag, cavity| {
        judged(&ring(tag, cavity), "US", Some(claim))
            .passes()
            .unwrap()
    };
    assert!(!passes("solid 18K gold", true));
    assert!(!passes("18 karat gold", true));
    assert!(passes("18 Karat Gold-Hollow Center", true));
    assert!(
        passes("18K", true),
        "a karat without the word gold is not named there"
    );
    assert!(passes("solid 18K gold", false));
    let found = judged(&ring("solid 18K gold", true), "US", Some(claim));
    let solid = ring("solid 18K gold", true);
    assert!(cites(&found, &solid, "US").contains("23.3, note to (c)(1)"));
    let says = statements(&found, &solid, "US", Kind::Say);
    let disclosed = says.iter().any(|said| said.text.contains("hollow centre"));
    assert!(disclosed);
}

#[test]
fn an_assay_decides() {
    let mut article = gold(dec!(750), dec!(750));
    article.parts[1].assay = Some(Assayed {
        figure: dec!(749.6),
        note: String::new(),
    });
    let found = judged(
        &article,
        "UK",
        Some(Claim::parts(Precious::Gold, dec!(750))),
    );
    assert_eq!(
        (found.passes(), found.margin()),
        (Some(false), Some(dec!(-0.4)))
    );
    assert_eq!(found.nominal, [Portion::Shell].into_iter().collect());
}

#[test]
fn lower_solder_needs_its_weight_for_the_whole() {
    // 15 USC s.295: (2.00 x 750 + 2.00 x 750 + w x 500) / (4.00 + w) >= 743 <=> w <= 28 / 243 g = 0.115226…
    let ring = |weight: Option<Decimal>| Article {
        solder: Some(Soldered {
            contents: metal("gold", dec!(500)),
            weight,
            authorised: None,
        }),
        ..gold(dec!(750), dec!(750))
    };
    let claim = Claim::parts(Precious::Gold, dec!(750));
    let passes = |weight| judged(&ring(weight), "US", Some(claim)).passes();
    assert_eq!(passes(Some(dec!(0.115226))), Some(true));
    assert_eq!(passes(Some(dec!(0.115227))), Some(false));
    assert_eq!(passes(None), None);
}

#[test]
fn no_verdict_without_a_text() {
    for book in ["TR", "AE", "HK"] {
        let article = solid("gold", dec!(750), dec!(4));
        let found = judged(&article, book, None);
        assert_eq!(found.passes(), None, "{book}");
        let undecided = statements(&found, &article, book, Kind::Undecided);
        assert!(!undecided[0].text.is_empty());
    }
    // Palladium is in neither the German nor the French text.
    for book in ["DE", "FR"] {
        let found = judged(&solid("palladium", dec!(950), dec!(4)), book, None);
        assert_eq!(found.passes(), None, "{book}");
    }
}

#[test]
fn every_rulebook_reads_and_cites_its_own_texts() {
    let words: Vec<&str> = rulebook_words().collect();
    assert_eq!(words.len(), 22);
    for word in words {
        let book = rulebook(word).unwrap_or_else(|| panic!("{word} cannot be read"));
        assert_eq!(book.word, word);
        let shown = run(&["list", "rules", word], "");
        assert_eq!(shown.status, 0);
        assert!(shown.stdout.contains("The assay office decides"));
        let mut cites = Vec::new();
        cites.extend(book.system.iter().map(|row| row.cite()));
        cites.extend(book.standards.values().map(|row| row.cite()));
        cites.extend(book.any.values().map(|row| row.cite()));
        cites.extend(
            book.part
                .values()
                .chain(book.whole.values())
                .map(|row| row.cite()),
        );
        cites.extend(book.exempt.values().map(|row| row.cite()));
        cites.extend(book.solder.iter().map(|row| row.cite()));
        cites.extend(book.say.iter().map(|row| row.cite()));
        cites.extend(book.tag.iter().map(|row| row.cite()));
        cites.extend(book.among.values().map(|row| row.cite()));
        cites.extend(book.assayed.iter().map(|row| row.cite()));
        cites.extend(book.plating.iter().map(|row| row.cite()));
        cites.extend(book.plated.iter().map(|row| row.cite()));
        let words = [&book.finenesses, &book.metals, &book.base];
        cites.extend(words.into_iter().flatten().map(|row| row.cite()));
        for cite in cites {
            assert!(book.text(cite.text).is_some(), "{word} cites {}", cite.text);
            assert!(
                ["read", "from memory"].contains(&cite.status),
                "{word}: {}",
                cite.status
            );
            assert!(!cite.clause.is_empty());
            let at = &book.text(cite.text).unwrap().read_at;
            assert!(!at.is_empty(), "{word}: where is {} read?", cite.text);
        }
        for row in book.standards.values() {
            assert!(row.value.windows(2).all(|pair| pair[0] < pair[1]), "{word}");
        }
        for row in &book.say {
            assert!(
                ["say", "condition", "ask", "note"].contains(&row.kind.as_str()),
                "{word}: {}",
                row.kind
            );
        }
    }
}

#[test]
fn a_rulebook_judges_a_band_once() {
    let recipe = format!(
        "rules house {{ like UK }}\n{}",
        band_with(&["alloy yellow-750"])
    );
    let outcome = Session::default().run("r", &recipe, &Request::default());
    let band = &outcome.evaluations[0];
    for word in rulebook_words().chain(["house"]) {
        let (first, again) = (band.fineness(word).unwrap(), band.fineness(word).unwrap());
        assert!(std::ptr::eq(first, again), "{word}");
    }
    assert!(band.fineness("elsewhere").is_none());
}

#[test]
fn shortfalls_have_the_codes_that_findings_have() {
    let claim = |requirement: &str| required("yellow-750", requirement).1;
    let metal = Some(Precious::Platinum);
    let rows = [
        (
            "b meets UK 725",
            FinenessShortfall::UnknownStandard {
                metal,
                figure: None,
            },
        ),
        (
            "b meets UK platinum 950",
            FinenessShortfall::MetalNotThere { metal },
        ),
        ("b meets TR 750", FinenessShortfall::NoVerdict),
    ];
    for (requirement, shortfall) in rows {
        assert_eq!(claim(requirement), shortfall.code(), "{requirement}");
    }
    let lead = "alloy mine { silver 925, copper 74.5, lead 0.5 }\n";
    let recipe = format!("{lead}{}", band_with(&["alloy mine"]));
    let outcome = Session::default().run("r", &recipe, &Request::default());
    let broken: Vec<FinenessShortfall> = restricted(&outcome.evaluations[0].band).collect();
    assert_eq!(broken[0].found(), Some(dec!(0.5)));
    assert!(broken[0].found() >= broken[0].wanted());
    let codes: Vec<String> = outcome.findings.iter().map(|one| one.code()).collect();
    assert!(codes.contains(&broken[0].code().to_owned()), "{codes:?}");
}

/// What one requirement of a plain band of an alloy comes to: status, and the first code.
fn required(alloy: &str, requirement: &str) -> (i32, String) {
    let recipe = format!(
        "{}require {requirement}\n",
        band_with(&[&format!("alloy {alloy}")])
    );
    let ran = run(&["check", "--json", "-"], &recipe);
    let json: Value = serde_json::from_str(&ran.stdout).unwrap();
    let code = json["findings"][0]["code"]
        .as_str()
        .unwrap_or("")
        .to_owned();
    (ran.status, code)
}

#[test]
fn a_requirement_as_a_maker_writes_it() {
    let rows = [
        ("yellow-750", "b meets UK 750", 0, ""),
        ("yellow-750", "b meets UK", 0, ""),
        ("yellow-750", "b meets UK gold 750", 0, ""),
        ("yellow-750", "b meets UK 18 karat", 0, ""),
        ("yellow-750", "b meets US 18 karat", 0, ""),
        ("yellow-750", "b meets US 18K", 0, ""),
        ("yellow-750", "b meets UK gold 75 %", 0, ""),
        ("yellow-750", "b meets UK 916", 1, "session::broken"),
        ("silver-925", "b meets UK silver 925", 0, ""),
        ("silver-925", "b meets US sterling", 0, ""),
        ("silver-925", "b meets US coin", 0, ""),
        ("silver-800", "b meets US sterling", 1, "session::broken"),
        // Bad input, each with its own word.
        ("yellow-750", "b meets UKK 750", 2, "model::unknown_name"),
        ("yellow-750", "b meets uk 750", 2, "model::unknown_name"),
        ("yellow-750", "c meets UK 750", 2, "model::unknown_name"),
        (
            "yellow-750",
            "b.shell meets UK 750",
            2,
            "model::unknown_name",
        ),
        (
            "yellow-750",
            "b meets UK 725",
            2,
            "evaluate::unknown_standard",
        ),
        // F30 to F32: no grades of GB 11887 and of IS 2112:2025.
        (
            "yellow-750",
            "b meets CN 752",
            2,
            "evaluate::unknown_standard",
        ),
        (
            "yellow-750",
            "b meets CN 999",
            2,
            "evaluate::unknown_standard",
        ),
        (
            "silver-925",
            "b meets IN 900",
            2,
            "evaluate::unknown_standard",
        ),
        // F26, F27: no licence from a tolerance.
        ("yellow-750", "b meets DE 760", 1, "session::broken"),
        ("yellow-750", "b meets US 753", 1, "session::broken"),
        ("yellow-750", "b meets US 740", 1, "session::broken"),
        ("yellow-750", "b meets UK 18", 2, "model::bare_fineness"),
        (
            "yellow-750",
            "b meets UK sterling",
            2,
            "evaluate::unknown_standard",
        ),
        (
            "silver-925",
            "b meets US 18 karat",
            2,
            "evaluate::metal_not_there",
        ),
        (
            "silver-925",
            "b meets UK gold 750",
            2,
            "evaluate::metal_not_there",
        ),
        ("yellow-750", "b meets UK 18 ct", 2, "model::ambiguous_unit"),
        (
            "yellow-750",
            "b meets UK 750 karat",
            2,
            "model::out_of_range",
        ),
        ("yellow-750", "b meets UK 750 g", 2, "model::wrong_kind"),
        ("yellow-750", "b meets", 2, "model::value_count"),
        ("yellow-750", "b meets TR 750", 1, "evaluate::no_verdict"),
    ];
    for (alloy, requirement, status, code) in rows {
        let found = required(alloy, requirement);
        assert_eq!(found, (status, code.to_owned()), "{alloy}: {requirement}");
    }
}

#[test]
fn slips_are_offered_the_nearest() {
    let one = |requirement: &str| {
        let recipe = format!(
            "{}require {requirement}\n",
            band_with(&["alloy yellow-750"])
        );
        findings(&recipe).into_iter().next().unwrap()
    };
    let standard = one("b meets UK 725");
    assert_eq!(
        (standard.text.as_str(), standard.repair.as_deref()),
        ("725", None)
    );
    assert!(
        standard.help.contains("375, 585, 750, 916, 990 or 999"),
        "{}",
        standard.help
    );
    let book = one("b meets uk 750");
    assert_eq!(
        (book.text.as_str(), book.repair.as_deref()),
        ("uk", Some("UK"))
    );
    assert!(book.help.contains("UK, VC, US"), "{}", book.help);
    let karat = one("b meets UK 18");
    assert!(karat.help.contains("`18 karat`"), "{}", karat.help);
    let carat = one("b meets UK 18 ct");
    assert!(carat.help.contains("`18 karat`"), "{}", carat.help);
}
