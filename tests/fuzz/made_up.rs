//! Made-up texts: seeds cut, joined and changed by the words of the language. The same seed always makes the same texts.

/// Draws numbers: the 64-bit step of Knuth's MMIX.
pub struct Draws(pub u64);

impl Draws {
    /// A number below another.
    pub fn below(&mut self, most: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % most.max(1)
    }
}

/// The most bytes of a text.
const MOST: usize = 4096;

/// Figures at the ends of what is read, and signs that a text might lack.
const PIECES: &[&str] = &[
    "0",
    "1",
    "9",
    "0.5",
    "-1",
    "1e9",
    "79228162514264337593543950335",
    "0.0000000000000000000000000001",
    " mm",
    " g",
    " in",
    " %",
    " ± 0.1 mm",
    "{",
    "}",
    "{ }",
    "\"",
    "#",
    ",",
    "\n",
    " .. ",
    " by ",
    "[",
    "]",
    "(",
    ")",
    "ISO ",
    "US ",
    "é",
    "\u{200B}",
    "\u{FE0F}",
    "=",
    ">=",
    "*",
    "/",
    ".",
    "<",
    ">",
    "M0 0L1 1Z",
];

/// Texts made of seeds and words.
pub struct MadeUp {
    pub seeds: Vec<String>,
    pub words: Vec<String>,
    pub draws: Draws,
}

/// The first place of a text at or before a byte that lies between two characters.
fn between(text: &str, mut place: usize) -> usize {
    while !text.is_char_boundary(place) {
        place -= 1;
    }
    place
}

impl MadeUp {
    fn seed(&mut self) -> String {
        let place = self.draws.below(self.seeds.len());
        self.seeds.get(place).cloned().unwrap_or_default()
    }

    fn place(&mut self, text: &str) -> usize {
        let place = self.draws.below(text.len() + 1);
        between(text, place)
    }

    fn piece(&mut self) -> String {
        if !self.words.is_empty() && self.draws.below(2) == 0 {
            let place = self.draws.below(self.words.len());
            return self.words[place].clone();
        }
        PIECES[self.draws.below(PIECES.len())].to_owned()
    }

    /// One more text.
    pub fn next(&mut self) -> String {
        let mut text = self.seed();
        for _ in 0..=self.draws.below(5) {
            self.change(&mut text);
            if text.len() > MOST {
                text.truncate(between(&text, MOST));
            }
        }
        text
    }

    fn change(&mut self, text: &mut String) {
        let (one, other) = (self.place(text), self.place(text));
        let (from, to) = (one.min(other), one.max(other));
        match self.draws.below(9) {
            0 => text.insert_str(from, &self.piece()),
            // A word in place of another.
            1..=3 => {
                let apart = |c: char| c.is_whitespace() || matches!(c, ',' | '{' | '}');
                let ends: Vec<(usize, &str)> = text.match_indices(apart).collect();
                let place = self.draws.below(ends.len());
                if let Some((start, sign)) = ends.get(place) {
                    let start = start + sign.len();
                    let end = ends.get(place + 1).map_or(text.len(), |(end, _)| *end);
                    let piece = self.piece();
                    text.replace_range(start..end, &piece);
                }
            }
            // A figure becomes another.
            4 | 5 => {
                let digits = text.match_indices(|c: char| c.is_ascii_digit());
                let digits: Vec<usize> = digits.map(|(at, _)| at).collect();
                if !digits.is_empty() {
                    let at = digits[self.draws.below(digits.len())];
                    let digit = self.draws.below(10).to_string();
                    text.replace_range(at..=at, &digit);
                }
            }
            // A line goes, or stands twice.
            6 => {
                let lines: Vec<&str> = text.split_inclusive('\n').collect();
                let (place, twice) = (self.draws.below(lines.len()), self.draws.below(3) == 0);
                let count = |at: usize| match at == place {
                    true => 2 * usize::from(twice),
                    false => 1,
                };
                let lines = lines.iter().enumerate();
                *text = lines
                    .flat_map(|(at, line)| std::iter::repeat_n(*line, count(at)))
                    .collect();
            }
            7 => text.replace_range(from..between(text, to.min(from + 40)), ""),
            // Part of another text.
            _ => {
                let other = self.seed();
                let (one, two) = (self.place(&other), self.place(&other));
                text.insert_str(from, &other[one.min(two)..one.max(two)]);
            }
        }
    }
}

/// The words of a dictionary of the fuzzer: a quoted text a line.
pub fn words(dictionary: &str) -> Vec<String> {
    let lines = dictionary.lines().filter(|line| !line.starts_with('#'));
    let words = lines.filter_map(|line| {
        let (_, rest) = line.split_once('"')?;
        let (word, _) = rest.rsplit_once('"')?;
        (!word.contains('\\')).then(|| word.to_owned())
    });
    words.collect()
}

/// What a target starts from beside recipes, or in place of them.
pub fn own(target: &str) -> Option<&'static [&'static str]> {
    match target {
        "ask" => Some(QUESTIONS),
        "sought" => Some(SOUGHT),
        "drawing" => Some(DRAWINGS),
        "bench" => Some(LINES),
        "scale" => Some(WEIGHED),
        _ => None,
    }
}

const QUESTIONS: &[&str] = &[
    "solid.weight",
    "parts.saving in %",
    "(solid.weight - 2 * parts.weight) / 3 in dwt",
    "solid.size + 1/2",
    "parts.size = US 7 1/2",
    "solid.width ± 0.1 mm",
    "odd * 2 in in",
    "max(solid.width, parts.width, 3 mm) - min(1 mm, rim)",
    "[1, 2, 3 mm]",
    "1 mm .. 5 mm by 0.1 mm",
    "\"text\" = solid.title",
    "solid.weight / solid.volume in g/cm3 >= 10 g/cm3",
    "2024-02-29",
];

const SOUGHT: &[&str] = &[
    "sweep solid.width 4 mm .. 6 mm by 0.5 mm, solid.thickness [1.6 mm, 1.8 mm] show solid.weight, solid.volume where solid.weight >= 4 g",
    "sweep parts.shell 0.45 mm .. 0.6 mm by 0.05 mm show parts.weight, parts.wall.least least parts.weight best 2",
    "sweep rim 0.1 mm .. 0.3 mm by 0.1 mm show solid.weight",
    "sweep solid.alloy [sterling, yellow-585] show solid.weight, solid.volume",
    "sweep solid.size [ISO 50, ISO 54] show solid.weight, solid.strip.length",
    "solve solid.thickness 1.4 mm .. 2.4 mm for solid.weight = 7 g",
    "solve parts.sleeve for parts.weight = 4 g",
    "solve solid.width 3 mm .. 8 mm for solid.weight = 6 g",
    "choose parts.shell 0.4 mm .. 0.7 mm least parts.weight where parts.wall.least >= 0.2 mm",
    "choose solid.width 3 mm .. 6 mm most solid.weight where solid.weight <= 6 g",
];

const DRAWINGS: &[&str] = &[
    r##"<svg xmlns="http://www.w3.org/2000/svg" width="4mm" height="5mm" viewBox="0 0 4 5"><path id="a" d="M1 1H3V4" fill="none" stroke="black"/></svg>"##,
    r##"<svg xmlns="http://www.w3.org/2000/svg" width="4mm" height="5mm"><g id="g" transform="rotate(10) scale(2)"><circle cx="2" cy="2" r="1"/><path d="M1 1 C 1 2, 3 2, 3 1 S 2 0 1 1 A 1 1 0 0 1 2 2 Z"/></g></svg>"##,
    r##"<svg xmlns="http://www.w3.org/2000/svg" width="40" height="50" viewBox="-2 -2 4 4"><defs><path id="p" d="m0 0 1 1q1 0 1 1t-1 0"/></defs><use href="#p" x="1"/><rect x="0" y="0" width="1" height="1" rx="0.2" style="fill:none;stroke:#000"/><polyline points="0,0 1,1 2,0" fill="none" stroke="red"/></svg>"##,
];

const LINES: &[&str] = &[
    "band b { size ISO 54, width 5 mm, thickness 1.8 mm, profile flat, alloy silver-925 }\nwidth 4 mm\ntry thickness 2 mm\nkeep\nundo\nredo\nlet w = 5 mm\nwidth w\nwidth\nwhy weight\n",
    "band b { size ISO 54 }\nwidth 5 mm\nthickness 1.8 mm # mine\nprofile flat\nalloy silver-925\nvariant c of b { width 4 mm }\non c\ntry width 4 mm + 0.5 mm\ntry size ISO 60\nkeep 2\ndrop\nhollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.12 mm { wide 0.35 mm } }\nprofile domed { edge 1.2 mm }\n",
];

const WEIGHED: &[&str] = &[
    "annulet 1\nband b { size ISO 54, width 5 mm ± 0.05 mm, thickness 1.8 mm, profile flat, alloy silver-925 }\nweighed b { finished 5.6 g ± 0.01 g }\nrequire b.weight >= 5 g\n",
    "4.31, 4.29, 4.35 4.30\n4.41 4.28 4.33 4.32 4.36 4.35 4.37",
];
