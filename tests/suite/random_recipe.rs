//! Recipes as trees of entries whose numbers can be moved, drawn by dice: see [`crate::random_bands`] for what
//! they are of.
//!
//! No test of its own: a tree prints as a recipe, knows the path of each of its numbers, and can be had again with
//! one of them a little larger.

use rust_decimal::Decimal;

/// Numbers by chance that always come again from the same seed, on every machine.
#[derive(Clone, Debug)]
pub struct Dice {
    values: Vec<u32>,
    next: usize,
}

impl Dice {
    /// As they were drawn; zeros once they are used up.
    pub fn of(values: Vec<u32>) -> Self {
        Self { values, next: 0 }
    }

    /// Those of a seed, by the published `splitmix64`.
    pub fn seeded(seed: u64) -> Self {
        let mut state = seed;
        let mut draw = || {
            state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let mut z = state;
            z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            ((z ^ (z >> 31)) >> 32) as u32
        };
        Self::of((0..400).map(|_| draw()).collect())
    }

    fn draw(&mut self) -> u32 {
        self.next += 1;
        self.values.get(self.next - 1).copied().unwrap_or(0)
    }

    /// A whole number between two, both included; the lower one where they are in the wrong order.
    pub fn between(&mut self, low: i64, high: i64) -> i64 {
        let span = (high - low).max(0) as u64 + 1;
        low + ((u64::from(self.draw()) * span) >> 32) as i64
    }

    /// A length in micrometres, in whole hundredths of a millimetre where there is room for them.
    pub fn length(&mut self, low: i64, high: i64) -> i64 {
        let drawn = self.between(low, high);
        (drawn / 10 * 10).max(low)
    }

    /// Whether something of so many per cent happens.
    pub fn chance(&mut self, percent: i64) -> bool {
        self.between(0, 99) >= 100 - percent
    }

    /// One of some.
    pub fn one(&mut self, of: &[&'static str]) -> &'static str {
        of[self.between(0, of.len() as i64 - 1) as usize]
    }
}

/// A number that can be moved.
#[derive(Clone, Debug)]
pub struct Amount {
    pub value: Decimal,
    pub unit: &'static str,
    /// What is written behind a `±`.
    pub off: Option<Decimal>,
    /// How far it is moved.
    pub step: Decimal,
}

/// What stands behind an entry's head.
#[derive(Clone, Debug)]
pub enum Written {
    Nothing,
    Word(String),
    Number(Amount),
    /// A size in quarters of a step of its system, moved by so many of them.
    Size(&'static str, i64, i64),
}

impl Written {
    pub fn text(&self) -> String {
        match self {
            Self::Nothing => String::new(),
            Self::Word(word) => word.clone(),
            Self::Number(amount) => {
                let with_unit = |value: Decimal| match amount.unit {
                    "" => value.normalize().to_string(),
                    unit => format!("{} {unit}", value.normalize()),
                };
                let off = amount.off.map(|off| format!(" \u{B1} {}", with_unit(off)));
                with_unit(amount.value) + &off.unwrap_or_default()
            }
            Self::Size(system, quarters, _) => {
                let part = ["", " 1/4", " 1/2", " 3/4"][(quarters % 4) as usize];
                format!("{system} {}{part}", quarters / 4)
            }
        }
    }

    fn moved(&self) -> Self {
        match self {
            Self::Number(amount) => Self::Number(Amount {
                value: amount.value + amount.step,
                ..amount.clone()
            }),
            Self::Size(system, quarters, by) => Self::Size(system, quarters + by, *by),
            other => other.clone(),
        }
    }

    fn is_number(&self) -> bool {
        matches!(self, Self::Number(_) | Self::Size(..))
    }
}

/// One entry of a recipe.
#[derive(Clone, Debug)]
pub struct Entry {
    /// The words before its value.
    head: String,
    /// What it adds to a path; empty where no path reaches it.
    path: String,
    pub written: Written,
    pub block: Vec<Entry>,
}

/// A length in micrometres.
pub fn mm(path: &str, micrometres: i64) -> Entry {
    Entry {
        written: Written::Number(Amount {
            value: Decimal::new(micrometres, 3),
            unit: "mm",
            off: None,
            step: Decimal::new(1, 3),
        }),
        ..word(path, "")
    }
}

/// A number of `unit`, of so many decimals, moved by `step` of the last of them.
pub fn number(path: &str, digits: i64, scale: u32, unit: &'static str, step: i64) -> Entry {
    Entry {
        written: Written::Number(Amount {
            value: Decimal::new(digits, scale),
            unit,
            off: None,
            step: Decimal::new(step, scale),
        }),
        ..word(path, "")
    }
}

/// A size in quarters of a step.
pub fn size(path: &str, system: &'static str, quarters: i64, by: i64) -> Entry {
    Entry {
        written: Written::Size(system, quarters, by),
        ..word(path, "")
    }
}

/// A word, or whatever else is no number.
pub fn word(path: &str, text: &str) -> Entry {
    Entry {
        head: path.to_owned(),
        path: path.to_owned(),
        written: match text {
            "" => Written::Nothing,
            text => Written::Word(text.to_owned()),
        },
        block: Vec::new(),
    }
}

/// An entry whose head holds a name, as in `temper hard`: the path joins both with a point.
pub fn named(head: &str) -> Entry {
    Entry {
        path: head.replace(' ', "."),
        ..word(head, "")
    }
}

/// An entry that no path reaches, such as a requirement, or one whose path is not its head.
pub fn called(head: &str, path: &str, text: &str) -> Entry {
    Entry {
        head: head.to_owned(),
        path: path.to_owned(),
        ..word("", text)
    }
}

impl Entry {
    /// Whether paths begin so at it.
    pub fn is_of(&self, path: &str) -> bool {
        self.path == path
    }

    /// The same with other words before its value.
    pub fn headed(self, head: &str) -> Self {
        Self {
            head: head.to_owned(),
            ..self
        }
    }

    /// The same with a block behind it.
    pub fn with(mut self, block: impl IntoIterator<Item = Self>) -> Self {
        self.block.extend(block);
        self
    }

    /// The same number with a deviation behind it, of the same scale.
    pub fn off(mut self, digits: i64) -> Self {
        if let Written::Number(amount) = &mut self.written {
            amount.off = Some(Decimal::new(digits, amount.value.scale()));
        }
        self
    }

    fn print(&self, depth: usize, text: &mut String) {
        let parts = [self.head.clone(), self.written.text()];
        let line: Vec<&str> = parts
            .iter()
            .map(String::as_str)
            .filter(|part| !part.is_empty())
            .collect();
        let indent = "  ".repeat(depth);
        text.push_str(&format!("{indent}{}", line.join(" ")));
        if !self.block.is_empty() {
            text.push_str(" {\n");
            for entry in &self.block {
                entry.print(depth + 1, text);
            }
            text.push_str(&format!("{indent}}}"));
        }
        text.push('\n');
    }

    fn walk<'a>(&'a mut self, before: &str, found: &mut Vec<(String, &'a mut Written)>) {
        if self.path.is_empty() {
            return;
        }
        let path = match before {
            "" => self.path.clone(),
            before => format!("{before}.{}", self.path),
        };
        for entry in &mut self.block {
            entry.walk(&path, found);
        }
        if self.written.is_number() {
            found.push((path, &mut self.written));
        }
    }
}

/// A recipe: what stands at its top level.
#[derive(Clone, Debug)]
pub struct Recipe(pub Vec<Entry>);

/// A number of a recipe, and the recipe with it moved.
#[derive(Clone, Debug)]
pub struct Moved {
    pub path: String,
    /// The value as the moved recipe writes it.
    pub value: String,
    /// The step that leads there, where the number can be stepped.
    pub step: Option<String>,
    /// Whether a `±` stands behind it.
    pub had_deviation: bool,
    /// With the new value; a `±` stays where it is stepped only.
    pub set: String,
    pub stepped: String,
}

impl Recipe {
    pub fn text(&self) -> String {
        let mut text = String::new();
        for entry in &self.0 {
            entry.print(0, &mut text);
        }
        text
    }

    fn numbers(&mut self) -> Vec<(String, &mut Written)> {
        let mut found = Vec::new();
        for entry in &mut self.0 {
            entry.walk("", &mut found);
        }
        found
    }

    /// The paths of its numbers.
    pub fn paths(&self) -> Vec<String> {
        let mut copy = self.clone();
        copy.numbers().into_iter().map(|(path, _)| path).collect()
    }

    /// The recipe with the number at `place` of [`Recipe::paths`] a little larger.
    pub fn moved(&self, place: usize) -> Moved {
        let mut copy = self.clone();
        let (path, step) = {
            let (path, written) = &mut copy.numbers()[place];
            let step = match &**written {
                Written::Number(Amount { step, unit, .. }) => {
                    Some(format!("{} {unit}", step.normalize()).trim_end().to_owned())
                }
                _ => None,
            };
            **written = written.moved();
            (path.clone(), step)
        };
        let stepped = copy.text();
        let (value, had_deviation) = {
            let (_, written) = &mut copy.numbers()[place];
            let off = match &mut **written {
                Written::Number(amount) => amount.off.take(),
                _ => None,
            };
            (written.text(), off.is_some())
        };
        Moved {
            path,
            value,
            step,
            had_deviation,
            set: copy.text(),
            stepped,
        }
    }
}
