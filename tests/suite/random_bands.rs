//! Random but sound recipes over everything that a band can be: every profile, bore, build and stage, patterns,
//! starts, metals, prices, marks and parts as made.
//!
//! No test of its own; `random_properties` and `stage_order` hold. A recipe is drawn from the bore outwards, so that
//! sleeve, ridge, cavity and wall have room: see sections 1 and 2 of the physical model for the bounds.

use std::sync::OnceLock;

use annulet::session::{Outcome, Request, Session};
use proptest::prelude::*;

use crate::random_cuts;
use crate::random_recipe::{Dice, Entry, Recipe, Written, called, mm, named, number, size, word};

/// A drawn recipe and what it is of.
#[derive(Clone)]
pub struct Drawn {
    pub recipe: Recipe,
    /// Profile, bore, build and whatever else tells kinds of recipes apart.
    pub kinds: Vec<&'static str>,
}

impl std::fmt::Debug for Drawn {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:?}\n{}", self.kinds, self.recipe.text())
    }
}

/// The recipe of a seed; the same seed always draws the same one.
pub fn of_seed(seed: u64) -> Drawn {
    drawn(Dice::seeded(seed))
}

/// How many seeds the suite walks.
pub const SEEDS: u64 = 1200;

/// The recipes of these seeds with what they come to, evaluated once for all tests that read them.
pub fn evaluated() -> &'static [(Drawn, Outcome)] {
    static EVALUATED: OnceLock<Vec<(Drawn, Outcome)>> = OnceLock::new();
    EVALUATED.get_or_init(|| {
        let outcome = |seed| {
            let drawn = of_seed(seed);
            let text = drawn.recipe.text();
            let outcome = Session::default().run("r", &text, &Request::default());
            (drawn, outcome)
        };
        (0..SEEDS).map(outcome).collect()
    })
}

/// Recipes for `proptest`, which shrinks their dice towards the plainest one.
pub fn recipes() -> impl Strategy<Value = Drawn> {
    prop::collection::vec(any::<u32>(), 400).prop_map(|dice| drawn(Dice::of(dice)))
}

/// Metals of the catalogue.
const METALS: &[&str] = &[
    "silver-925",
    "silver-958",
    "yellow-750",
    "rose-750",
    "yellow-585-deep",
    "white-750-palladium",
    "platinum-950-ruthenium",
    "palladium-950-gallium",
    "yellow-375",
];

/// Standards that rulebooks know for a metal.
const MARKS: &[(&str, &[&str])] = &[
    ("silver", &["UK 925", "US 925", "FR 925", "FR 800"]),
    ("platinum", &["UK 950", "UK 900", "FR 950"]),
    ("palladium", &["UK 950", "UK 500", "FR 950"]),
    ("gold", &["UK 750", "UK 585", "FR 750", "VC 750", "FR 375"]),
];

/// The band as it is drawn; lengths in micrometres.
struct Band<'a> {
    dice: &'a mut Dice,
    kinds: Vec<&'static str>,
    /// What stands at the top level beside the band.
    beside: Vec<Entry>,
    /// Bore in the plain case of a diameter.
    bore: Option<i64>,
    width: i64,
    comfort: i64,
    thickness: i64,
    /// The lowest outside at the side faces.
    edge: i64,
    /// The thinnest metal that a pattern may be cut into.
    metal: i64,
    own_alloys: bool,
    /// The alloy of the band.
    alloy: &'static str,
}

fn drawn(mut dice: Dice) -> Drawn {
    let mut band = Band {
        bore: None,
        width: 0,
        comfort: 0,
        thickness: 0,
        edge: 0,
        metal: 0,
        kinds: Vec::new(),
        beside: Vec::new(),
        own_alloys: dice.chance(50),
        alloy: "own",
        dice: &mut dice,
    };
    let entries = band.entries();
    let band_entry = called("band b", "b", "").with(entries);
    let (bore, alloy) = (band.bore, band.alloy);
    let (kinds, mut blocks) = (band.kinds, band.beside);
    blocks.insert(0, word("annulet", "1"));
    blocks.push(band_entry);
    let mut rest = Rest {
        solid: kinds.contains(&"solid"),
        outline: kinds.contains(&"custom"),
        patterned: kinds.contains(&"patterned"),
        drawn: kinds.contains(&"drawn"),
        bore,
        alloy,
        dice: &mut dice,
        kinds,
    };
    rest.add(&mut blocks);
    Drawn {
        recipe: Recipe(blocks),
        kinds: rest.kinds,
    }
}

impl Band<'_> {
    fn entries(&mut self) -> Vec<Entry> {
        let hollow = self.dice.chance(60);
        let mut entries = self.frame(hollow);
        let (profile, hollow) = if hollow {
            self.hollow()
        } else {
            self.kinds.push("solid");
            let metal = self.dice.length(800, 1700);
            (self.outside(metal + self.comfort, 0, false), None)
        };
        let tall = self.kinds.contains(&"custom");
        if !tall {
            match self.bore.filter(|_| self.dice.chance(20)) {
                Some(bore) => entries.push(mm("outside", bore + 2 * self.thickness)),
                None => entries.push(mm("thickness", self.thickness)),
            }
        }
        entries.push(profile);
        if self.comfort > 0 {
            self.kinds.push("comfort");
            entries.push(mm("comfort", self.comfort));
        } else {
            self.kinds.push("cylinder");
        }
        self.metals(&mut entries, hollow.is_some());
        self.pattern(&mut entries, hollow.is_some());
        self.finish(&mut entries);
        match hollow {
            Some(hollow) => entries.push(hollow),
            None => self.start(&mut entries),
        }
        self.money(&mut entries);
        self.marking(&mut entries);
        if self.dice.chance(20) {
            entries.push(word("limit", "").with([
                mm("wall", self.dice.length(100, 250)),
                mm("size", self.dice.length(30, 200)),
                mm("under-cut", self.dice.length(100, 250)),
                mm("roof", self.dice.length(100, 250)),
                mm("side", self.dice.length(100, 250)),
                mm("sleeve", self.dice.length(100, 250)),
                mm("mark", self.dice.length(20, 250)),
                mm("float", self.dice.length(50, 300)),
                mm("struck", 450),
                number("strain", self.dice.between(2, 8), 0, "%", 1),
                number("working", self.dice.between(20, 50), 0, "%", 1),
            ]));
        }
        entries
    }

    /// Size, width and bore.
    fn frame(&mut self, hollow: bool) -> Vec<Entry> {
        let mut entries = Vec::new();
        let mut sized = true;
        entries.push(match self.dice.between(0, 4) {
            0 => size("size", "ISO", 4 * self.dice.between(46, 66), 4),
            1 => size("size", "US", self.dice.between(14, 46), 1),
            2 => size("size", "JP", 4 * self.dice.between(5, 24), 4),
            _ => {
                sized = false;
                let bore = self.dice.length(14_500, 21_500);
                self.bore = Some(bore);
                let entry = mm("size", bore);
                if self.dice.chance(15) {
                    entry.off(20)
                } else {
                    entry
                }
            }
        });
        self.kinds.push(if sized { "size" } else { "diameter" });
        if sized && self.dice.chance(25) {
            entries.push(word("allow", "").with([
                number("wide", self.dice.between(0, 4), 1, "", 1),
                number("comfort", self.dice.between(0, 4), 1, "", 1),
            ]));
        }
        self.width = 2 * self.dice.length(if hollow { 1800 } else { 1250 }, 4500);
        let width = mm("width", self.width);
        entries.push(if self.dice.chance(15) {
            width.off(50)
        } else {
            width
        });
        self.comfort = if self.dice.chance(45) {
            self.dice.length(30, 300)
        } else {
            0
        };
        if self.dice.chance(25) {
            let legs = [self.dice.length(20, 100), self.dice.length(20, 80)];
            entries.push(word("ease", "").with([mm("outer", legs[0]), mm("bore", legs[1])]));
        }
        entries
    }

    /// An outside whose side faces reach `least` over the bore, and its middle `over` (nothing: wherever it comes
    /// to); `level`: nearly so all over.
    fn outside(&mut self, least: i64, over: i64, level: bool) -> Entry {
        let half = self.width / 2;
        let rise = self
            .dice
            .length(50, if level { 150 } else { 700 }.min(half - 100));
        let kind = self.dice.between(0, 5);
        // The side faces: high enough for themselves, or for what must have room under the middle.
        let edge = if level {
            least.max(over)
        } else {
            least.max(over - rise)
        };
        (self.edge, self.thickness) = (edge, edge + rise);
        self.metal = edge - self.comfort;
        let entry = match kind {
            0 => {
                self.kinds.push("flat");
                self.edge = least.max(over);
                (self.thickness, self.metal) = (self.edge, self.edge - self.comfort);
                word("profile", "flat")
            }
            1 => {
                self.kinds.push("domed");
                word("profile", "domed").with([mm("edge", edge - self.comfort)])
            }
            2 => {
                self.kinds.push("bevelled");
                let across = self.dice.length(200, half - 50);
                word("profile", "bevelled").with([mm("across", across), mm("down", rise)])
            }
            3 => {
                self.kinds.push("knife-edge");
                // The crown must leave some flank.
                let most = (half * half + rise * rise) / (2 * rise) * 8 / 10;
                let crown = if self.dice.chance(50) {
                    self.dice.length(50, most.min(3000))
                } else {
                    0
                };
                let fields = [mm("edge", edge - self.comfort), mm("crown", crown)];
                word("profile", "knife-edge").with(fields)
            }
            4 => {
                self.kinds.push("concave");
                let most = if over > 0 { 300 } else { self.metal - 600 };
                let dip = self.dice.length(40, most.min(half - 50));
                self.thickness = (over + dip).max(least);
                self.edge = self.thickness;
                self.metal = self.thickness - dip - self.comfort.min(50);
                word("profile", "concave").with([mm("dip", dip)])
            }
            _ => {
                self.kinds.push("custom");
                self.outline(edge, over.max(edge))
            }
        };
        let word_of = match &entry.written {
            Written::Word(word) => word.clone(),
            _ => String::new(),
        };
        if !entry.block.is_empty() && word_of != "custom" && self.dice.chance(20) {
            self.kinds.push("named profile");
            let block = called(&format!("profile form {word_of}"), "profile.form", "");
            self.beside.push(block.with(entry.block));
            return word("profile", "form");
        }
        entry
    }

    /// An outline of points and an arc; its edges may differ.
    fn outline(&mut self, edge: i64, middle: i64) -> Entry {
        let half = self.width / 2;
        let third = half / 3;
        let mut more = |most: i64| self.dice.length(0, most);
        let (left, right) = (edge + more(200), edge + more(200));
        let (from, top, to) = (
            middle + more(150),
            middle + 40 + more(150),
            middle + more(150),
        );
        self.edge = left.min(right);
        let at = |x: i64, y: i64| {
            let sign = if x < 0 { "-" } else { "" };
            let length = |um: i64| format!("{}.{:03} mm", um.abs() / 1000, um.abs() % 1000);
            format!("{sign}{} {}", length(x), length(y))
        };
        word("profile", "custom").with([
            called("from", "", &at(-half, left)),
            called("to", "", &at(-third, from)),
            called("arc", "", &format!("{} to {}", at(0, top), at(third, to))),
            called("to", "", &at(half, right)),
        ])
    }

    /// The outside of a hollow band, and its hollow block.
    fn hollow(&mut self) -> (Entry, Option<Entry>) {
        let full = self.dice.chance(12);
        let straight = !full && self.dice.chance(25);
        self.kinds.push(match (full, straight) {
            (true, _) => "full",
            (_, true) => "straight",
            _ => "uniform",
        });
        let sleeve = self.comfort + self.dice.length(250, 500);
        let wall = self.dice.length(300, 650);
        let gap = self.dice.length(180, 450);
        let catch = if full {
            self.dice.one(&["plain", "lip"])
        } else {
            self.dice.one(&["one ridge", "two ridges", "lip", "plain"])
        };
        self.kinds.push(catch);
        let turning = self.dice.chance(30);
        self.kinds.push(if turning { "turning" } else { "fixed" });
        let play = if turning {
            self.dice.length(40, 120)
        } else {
            0
        };
        let foot = sleeve + play / 2;
        let ridge = if catch.ends_with("ridge") || catch.ends_with("ridges") {
            self.dice.length(60, 200)
        } else {
            0
        };
        // A wall is normal to the surface: over a slope it takes more of the height.
        let over = foot + ridge + gap + wall * 13 / 10;
        let profile = self.outside(foot + 260, over, straight || catch == "two ridges");
        let mut shell = match full {
            true => word("shell", "full"),
            false => mm("shell", wall),
        };
        if !full && self.dice.chance(10) {
            shell = shell.off(20);
        }
        if straight {
            shell.block.push(word("roof", "straight"));
        }
        if !full && catch != "two ridges" && self.dice.chance(30) {
            shell.block.push(mm("nose", self.dice.length(30, gap / 2)));
        }
        let mut inner = mm("sleeve", sleeve);
        if !full && self.dice.chance(20) {
            self.kinds.push("relief");
            inner
                .block
                .push(mm("relief", self.dice.length(200, sleeve - 30)));
        }
        if self.own_alloys {
            shell.block.push(word("alloy", "own"));
            shell.block.push(word("temper", "hard"));
            inner.block.push(word("alloy", "own"));
        } else if self.dice.chance(20) {
            inner.block.push(word("alloy", self.dice.one(METALS)));
        }
        let mut entries = vec![shell, inner];
        match catch {
            "one ridge" | "two ridges" => {
                let wide = self.dice.length(200, 450);
                let mut ridge = mm("ridge", ridge).with([mm("wide", wide)]);
                let two = catch == "two ridges";
                ridge
                    .block
                    .push(number("count", 1 + i64::from(two), 0, "", 1));
                if two && self.dice.chance(50) {
                    ridge.block.push(mm("play", self.dice.length(20, 120)));
                }
                entries.push(ridge);
            }
            "lip" => {
                let height = self.dice.length(50, (sleeve - self.comfort) * 6 / 10);
                let mut lip = mm("lip", height.min(180));
                lip.block.push(mm("wide", self.dice.length(80, wall - 100)));
                if self.dice.chance(40) {
                    lip.block.push(mm("play", self.dice.length(20, 80)));
                }
                entries.push(lip);
            }
            _ => {}
        }
        if self.dice.chance(40) {
            entries.push(mm("entry", self.dice.length(20, 100)));
        }
        if self.dice.chance(15) {
            entries.push(mm("hold", self.dice.length(80, 200)));
        }
        if !turning && self.dice.chance(25) {
            let count = number("count", self.dice.between(2, 6), 0, "", 1);
            entries.push(match self.dice.between(0, 2) {
                0 => word("lock", "tack").with([count]),
                1 => word("lock", "stake").with([count]),
                _ => word("lock", "key").with([mm("deep", self.dice.length(10, 60)), count]),
            });
        }
        entries.push(self.stage(turning, play));
        if self.dice.chance(25) {
            entries.push(word("kinematics", self.dice.one(&["free", "held"])));
        }
        if self.dice.chance(25) {
            entries.push(number("friction", self.dice.between(5, 30), 2, "", 1));
        }
        if self.dice.chance(25) {
            entries.push(mm("enlarger", self.dice.length(10, 50)));
        }
        if self.dice.chance(20) {
            entries.push(word("apart", self.dice.one(&["yes", "no"])));
        }
        self.made(sleeve, turning);
        self.metal = self.metal.min(wall).min(self.edge - foot);
        (profile, Some(word("hollow", "").with(entries)))
    }

    fn stage(&mut self, turning: bool, play: i64) -> Entry {
        if turning {
            return word("stage", "turning").with([mm("play", play)]);
        }
        let mut stage = word("stage", "fixed");
        if self.dice.chance(60) {
            self.kinds.push("past");
            stage.block.push(mm("past", self.dice.length(20, 200)));
            if self.dice.chance(20) {
                stage.block.push(mm("key", self.dice.length(10, 60)));
            }
        }
        stage
    }

    /// Parts as they came off the machine, close to those ordered.
    fn made(&mut self, sleeve: i64, turning: bool) {
        let Some(bore) = self.bore.filter(|_| self.dice.chance(15)) else {
            return;
        };
        self.kinds.push("made");
        let mut near = |value: i64| value + self.dice.length(0, 30);
        let mut figures = vec![mm("shell-width", near(self.width))];
        figures.push(mm("shell-outside", near(bore + 2 * self.thickness)));
        if !turning && !self.kinds.contains(&"past") && !self.kinds.contains(&"lip") {
            figures.push(mm("shell-bore", near(bore + 2 * sleeve)));
        }
        self.beside
            .push(called("made b", "b.made", "").with(figures));
    }

    fn metals(&mut self, entries: &mut Vec<Entry>, hollow: bool) {
        let temper = |dice: &mut Dice, name: &str, hard: bool| {
            let (low, high) = if hard { (350, 600) } else { (120, 320) };
            let tensile = if hard { 620 } else { 340 };
            let mut figures = vec![
                number("yield", dice.between(low, high), 0, "MPa", 5),
                number("modulus", dice.between(80, 168), 0, "GPa", 1),
                number("elongation", if hard { 6 } else { 40 }, 0, "%", 1),
            ];
            match dice.between(0, 2) {
                0 => figures.push(number("hardening", dice.between(300, 1500), 0, "MPa", 10)),
                1 => figures.push(number("tensile", tensile, 0, "MPa", 5)),
                _ => {}
            }
            if dice.chance(30) {
                figures.push(number("hardness", dice.between(60, 240), 0, "", 5));
            }
            if dice.chance(30) {
                figures.push(number("poisson", dice.between(34, 42), 2, "", 1));
            }
            named(&format!("temper {name}")).with(figures)
        };
        if !self.own_alloys {
            self.alloy = self.dice.one(METALS);
            entries.push(word("alloy", self.alloy));
            return;
        }
        self.kinds.push("own alloy");
        let silver = self.dice.between(100, 200);
        let density = number("density", self.dice.between(1500, 1560), 2, "g/cm3", 1);
        let own = named("alloy own").with([
            number("gold", 750, 0, "", 1),
            number("silver", silver, 0, "", 1),
            number("copper", 250 - silver, 0, "", 1),
            if self.dice.chance(20) {
                density.off(5)
            } else {
                density
            },
            temper(self.dice, "annealed", false),
            temper(self.dice, "hard", true),
        ]);
        self.beside.push(own);
        entries.push(word("alloy", "own"));
        if !hollow && self.dice.chance(30) {
            entries.push(word("temper", self.dice.one(&["annealed", "hard"])));
        }
    }

    fn pattern(&mut self, entries: &mut Vec<Entry>, hollow: bool) {
        if !self.dice.chance(60) {
            return;
        }
        if self.dice.chance(25) {
            self.drawn_cuts(entries, hollow);
            return;
        }
        self.kinds.push("patterned");
        // Not through the broken edges either, which are judged with it.
        let depth = self.dice.length(40, (self.metal * 45 / 100).max(50));
        let mut fields = Vec::new();
        if self.dice.chance(25) {
            self.beside.push(mm("cut", depth).headed("let cut ="));
            fields.push(word("depth", "cut"));
        } else {
            let depth = mm("depth", depth);
            fields.push(if self.dice.chance(10) {
                depth.off(10)
            } else {
                depth
            });
        }
        if self.dice.chance(50) {
            fields.push(mm("mean-depth", self.dice.length(20, depth)));
        }
        fields.push(number("cover", self.dice.between(5, 95), 0, "%", 1));
        if self.dice.chance(60) {
            fields.push(number("repeats", self.dice.between(6, 48), 0, "", 1));
        }
        self.when_cut(&mut fields, hollow);
        entries.push(word("pattern", "").with(fields));
    }

    fn when_cut(&mut self, fields: &mut Vec<Entry>, hollow: bool) {
        if self.dice.chance(40) {
            let when = self.dice.one(&["before", "after"]);
            self.kinds.push(if when == "before" {
                "cut before"
            } else {
                "cut after"
            });
            fields.push(word("cut", when));
        } else if hollow {
            self.kinds.push("cut before");
        }
    }

    fn drawn_cuts(&mut self, entries: &mut Vec<Entry>, hollow: bool) {
        self.kinds.push("drawn");
        let deepest = (self.metal * 25 / 100).clamp(40, 150);
        let mut cuts = random_cuts::cuts(self.dice, self.width, deepest);
        self.when_cut(&mut cuts.fields, hollow);
        self.beside.extend(cuts.cutters);
        entries.push(word("pattern", "").with(cuts.fields));
    }

    fn finish(&mut self, entries: &mut Vec<Entry>) {
        if !self.dice.chance(25) {
            return;
        }
        self.kinds.push("finish");
        let mut layer = |path| {
            let layer = mm(path, self.dice.length(0, 60));
            match self.dice.between(0, 3) {
                0 => layer.with([word("when", "before")]),
                1 => layer.with([word("when", "after")]),
                _ => layer,
            }
        };
        entries.push(word("finish", "").with([layer("bore"), layer("outside"), layer("faces")]));
    }

    /// A solid band that is made small, and its blank.
    fn start(&mut self, entries: &mut Vec<Entry>) {
        if self.dice.chance(40) {
            self.kinds.push("start");
            entries.push(match self.bore.filter(|_| self.dice.chance(50)) {
                Some(bore) => mm("start", bore - self.dice.length(50, 900)),
                None => called(
                    "start",
                    "start",
                    &format!("stretch {} %", self.dice.between(1, 6)),
                ),
            });
            if self.dice.chance(40) {
                entries.push(word("kinematics", self.dice.one(&["free", "held"])));
            }
        }
        if self.dice.chance(15) {
            self.kinds.push("made");
            let width = mm("blank-width", self.width + self.dice.length(0, 200));
            self.beside
                .push(called("made b", "b.made", "").with([width]));
        }
    }

    /// What the band is made of, and how it is sold.
    fn money(&mut self, entries: &mut Vec<Entry>) {
        let Some(bore) = self.bore.filter(|_| self.dice.chance(30)) else {
            return;
        };
        self.kinds.push("stock");
        let outside = bore + 2 * self.thickness + 800;
        let form = self.dice.one(&["tube", "rod", "ring", "cast"]);
        let mut fields = vec![mm("outside", outside)];
        if form != "rod" {
            fields.push(mm("bore", bore - 2200));
        }
        if matches!(form, "tube" | "rod") {
            fields.push(mm("length", 300_000));
            fields.push(mm("kerf", self.dice.length(0, 800)));
            fields.push(mm("rest", self.dice.length(0, 20_000)));
        } else {
            fields.push(mm("length", self.width + 1200));
        }
        if form == "cast" {
            fields.push(number("sprue", self.dice.between(5, 30), 1, "g", 1));
        }
        fields.push(mm("facing", self.dice.length(0, 200)));
        if self.dice.chance(30) {
            fields.push(number(
                "fabrication",
                self.dice.between(10, 300),
                2,
                "EUR/g",
                1,
            ));
        }
        let stock = called(&format!("stock bar {form}"), "stock.bar", "");
        self.beside.push(stock.with(fields));
        if self.kinds.contains(&"solid") {
            entries.push(word("stock", "bar"));
        } else {
            self.kinds.push("stock of parts");
        }
    }

    fn marking(&mut self, entries: &mut Vec<Entry>) {
        if self.dice.chance(20) {
            self.kinds.push("mark");
            let deep = self.dice.length(20, 120.min(self.metal / 3));
            let mut mark = word("mark", "").with([mm("deep", deep)]);
            if !self.kinds.contains(&"solid") {
                mark.block
                    .push(word("on", self.dice.one(&["sleeve", "shell", "both"])));
                mark.block
                    .push(word("struck", self.dice.one(&["before", "after"])));
            }
            entries.push(mark);
        }
        if self.dice.chance(15) {
            self.kinds.push("solder");
            let amount = number("amount", self.dice.between(5, 60), 3, "g", 1);
            entries.push(word("solder", self.dice.one(METALS)).with([amount]));
        } else if self.dice.chance(10) {
            entries.push(word("solder", "none"));
        }
        if self.dice.chance(15) {
            entries.push(word("tag", "\"ring, by weight\""));
        }
        if self.own_alloys && self.dice.chance(25) {
            self.kinds.push("assay");
            let dated = word("dated", "2026-11-18");
            let assay = number("assay", self.dice.between(7495, 7520), 1, "", 1);
            entries.push(assay.with([dated, word("lot", "\"melt 12\"")]));
        }
    }
}

/// What stands beside the band.
struct Rest<'a> {
    dice: &'a mut Dice,
    kinds: Vec<&'static str>,
    solid: bool,
    outline: bool,
    patterned: bool,
    drawn: bool,
    bore: Option<i64>,
    alloy: &'static str,
}

impl Rest<'_> {
    fn add(&mut self, blocks: &mut Vec<Entry>) {
        let variant = self.dice.chance(25);
        if variant {
            self.kinds.push("variant");
            blocks.push(self.variant());
        }
        let priced = self.dice.chance(60);
        if priced {
            self.kinds.push("prices");
            blocks.push(self.prices());
            blocks.push(self.shop());
            let sale = self.sale();
            let band = blocks.iter_mut().find(|entry| entry.is_of("b"));
            band.unwrap().block.push(sale);
            if self.dice.chance(40) {
                self.kinds.push("order");
                blocks.push(self.order(variant));
            }
        }
        if self.dice.chance(30) {
            self.kinds.push("require");
            let most = self.dice.between(2, 30);
            blocks.push(called("require", "", &format!("b.weight <= {most} g")));
        }
        if self.dice.chance(30) {
            self.kinds.push("meets");
            let of_metal = MARKS
                .iter()
                .find(|(metal, _)| self.alloy.starts_with(metal));
            let mark = self
                .dice
                .one(of_metal.map_or(MARKS[3].1, |(_, marks)| marks));
            blocks.push(called("require", "", &format!("b meets {mark}")));
        }
        if self.dice.chance(15) {
            self.kinds.push("weighed");
            blocks.push(self.weighed());
        }
    }

    /// Readings of the scale, each less than the one before.
    fn weighed(&mut self) -> Entry {
        let words: &[&str] = match self.solid {
            true => &["issued", "turned", "cut", "finished", "returned"],
            false => &[
                "shell-issued",
                "shell-turned",
                "shell-cut",
                "sleeve-issued",
                "sleeve-turned",
                "joined",
                "finished",
            ],
        };
        let mut grams = self.dice.between(900, 1400);
        let mut readings = vec![number("scale", self.dice.between(1, 10), 3, "g", 1)];
        for word in words {
            readings.push(number(word, grams, 2, "g", 1));
            grams -= self.dice.between(5, 100);
        }
        called("weighed b", "b.weighed", "").with(readings)
    }

    fn variant(&mut self) -> Entry {
        let mut fields = Vec::new();
        if self.patterned {
            let cover = number("cover", self.dice.between(10, 90), 0, "%", 1);
            fields.push(word("pattern", "").with([cover]));
        }
        if self.drawn {
            let depth = mm("depth", self.dice.length(30, 60));
            fields.push(word("pattern", "").with([depth]));
        }
        if !self.outline && self.dice.chance(60) {
            fields.push(mm("width", 2 * self.dice.length(2000, 4000)));
        }
        if !self.solid && self.dice.chance(40) {
            fields.push(called("without hollow", "", ""));
        }
        if fields.is_empty() {
            fields.push(word("title", "\"the same again\""));
        }
        called("variant v of b", "v", "").with(fields)
    }

    fn prices(&mut self) -> Entry {
        let mut fields = vec![
            word("dated", "2026-11-20"),
            word("source", "\"illustrative\""),
        ];
        fields.push(number(
            "gold",
            self.dice.between(9000, 11_000),
            2,
            "EUR/g",
            1,
        ));
        fields.push(number(
            "platinum",
            self.dice.between(2800, 3600),
            2,
            "EUR/g",
            1,
        ));
        fields.push(number(
            "palladium",
            self.dice.between(2700, 3500),
            2,
            "EUR/g",
            1,
        ));
        if self.dice.chance(50) {
            fields.push(number("silver", self.dice.between(30, 40), 0, "USD/ozt", 1));
            fields.push(called("rate 1 USD = 0.92 EUR", "", ""));
        } else {
            fields.push(number("silver", self.dice.between(90, 130), 2, "EUR/g", 1));
        }
        if self.dice.chance(50) {
            fields.push(number("copper", self.dice.between(8, 12), 0, "EUR/kg", 1));
        }
        if self.dice.chance(60) {
            fields.push(number("premium", self.dice.between(0, 30), 1, "%", 1));
        }
        if self.dice.chance(60) {
            fields.push(number(
                "fabrication",
                self.dice.between(20, 300),
                2,
                "EUR/g",
                1,
            ));
        }
        if self.dice.chance(40) {
            fields.push(number("oldest", self.dice.between(3, 30), 0, "days", 1));
        }
        word("prices", "").with(fields)
    }

    fn shop(&mut self) -> Entry {
        let d = &mut *self.dice;
        let mut fields = vec![
            number("labour", d.between(30, 60), 0, "EUR/h", 1),
            number("machine", d.between(10, 30), 0, "EUR/h", 1),
            number("batch", d.between(1, 25), 0, "", 1),
        ];
        for name in ["turning", "finishing"] {
            let mut operation = named(&format!("operation {name}")).with([
                number("set-up", d.between(0, 30), 0, "min", 1),
                number("run", d.between(1, 20), 0, "min", 1),
            ]);
            operation
                .block
                .push(word("at", d.one(&["labour", "machine", "both"])));
            operation
                .block
                .push(word("for", d.one(&["every", "solid", "hollow"])));
            fields.push(operation);
        }
        if d.chance(60) {
            let mut overhead = number("overhead", d.between(0, 60), 0, "%", 1);
            overhead.block.push(word("on", d.one(&["work", "cost"])));
            fields.push(overhead);
        }
        if d.chance(50) {
            fields.push(word("rejects", "").with([
                number("solid", d.between(0, 5), 0, "%", 1),
                number("hollow", d.between(0, 9), 0, "%", 1),
            ]));
        }
        if d.chance(60) {
            let stream = |d: &mut Dice, name: &str| {
                word(name, "").with([
                    number("collected", d.between(70, 99), 0, "%", 1),
                    number("paid", d.between(80, 98), 0, "%", 1),
                ])
            };
            let polishings =
                stream(d, "polishings").with([number("part", d.between(5, 25), 1, "%", 1)]);
            fields.push(word("scrap", "").with([
                stream(d, "offcuts"),
                stream(d, "turnings"),
                polishings,
                number("charge", d.between(10, 60), 2, "EUR/g", 1),
                number("minimum", d.between(0, 40), 0, "EUR", 1),
            ]));
        }
        if d.chance(50) {
            fields.push(named("fee hallmark").with([
                number("article", d.between(50, 200), 2, "EUR", 1),
                number("consignment", d.between(5, 20), 0, "EUR", 1),
                number("minimum", d.between(10, 40), 0, "EUR", 1),
            ]));
        }
        if d.chance(60) {
            fields.push(number("tax", d.between(0, 25), 0, "%", 1));
        }
        word("shop", "").with(fields)
    }

    fn sale(&mut self) -> Entry {
        let d = &mut *self.dice;
        match d.between(0, 3) {
            0 => word("sale", "piece").with([number("markup", d.between(20, 200), 0, "%", 1)]),
            1 => word("sale", "piece").with([number("margin", d.between(10, 60), 0, "%", 1)]),
            2 => word("sale", "piece").with([number("at", d.between(100, 900), 0, "EUR", 1)]),
            _ => word("sale", "weight").with([
                number("making", d.between(500, 3000), 2, "EUR/g", 1),
                number("add", d.between(0, 10), 0, "%", 1),
            ]),
        }
    }

    fn order(&mut self, variant: bool) -> Entry {
        // What stands as a diameter (stock, start, parts as made) suits no other size.
        let wanted = match self.bore {
            Some(bore) => mm("", bore).written.text(),
            None => "ISO 54".to_owned(),
        };
        let d = &mut *self.dice;
        let mut of = |band: &str| {
            let lines = format!("{{ {} of {wanted} }}", d.between(1, 9));
            called(band, "", &lines)
        };
        let mut fields = vec![word("dated", "2026-11-25"), of("b")];
        if variant {
            fields.push(of("v"));
        }
        if d.chance(50) {
            fields.push(word("exchange", "").with([
                number("weight", d.between(20, 120), 1, "g", 1),
                word("alloy", "yellow-750"),
                number("paid", d.between(80, 98), 0, "%", 1),
            ]));
        }
        if d.chance(60) {
            fields.push(word("quote", "").with([
                number("valid", d.between(3, 30), 0, "days", 1),
                number("deposit", d.between(0, 50), 0, "%", 1),
                number("trigger", d.between(1, 9), 0, "%", 1),
            ]));
        }
        called("order fair", "order.fair", "").with(fields)
    }
}
