//! How wide text is, and what a PDF can say of it: Helvetica, one of the fonts that every reader of PDF has.
//!
//! Widths are those of the font's published metrics, in thousandths of the letters' height: from memory, and not
//! held against a library.

/// Widths from the space to the tilde.
#[rustfmt::skip]
const WIDTHS: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
    333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];

/// Width of a letter in thousandths of the height; of those that are not known that of a digit or, beyond Latin,
/// of a full square.
fn width(letter: char) -> f64 {
    let known = |place: usize| WIDTHS.get(place).copied();
    let plain = (letter as usize).checked_sub(32).and_then(known);
    f64::from(plain.unwrap_or(match letter {
        '\u{D8}' => 778,
        '\u{B1}' | '\u{D7}' | '\u{2212}' => 584,
        '\u{2248}' => 549,
        '\u{B0}' => 400,
        '\u{B7}' => 278,
        '\u{2013}' => 556,
        letter if (letter as u32) < 0x250 => 611,
        _ => 1000,
    }))
}

/// About how wide a line of text is at a size, mm. Bold letters are taken to be a tenth wider.
///
/// # Example
/// ```
/// use annulet::drawing::measured;
/// assert!((measured("18.007", 3.0, false) - 3.0 * (5.0 * 0.556 + 0.278)).abs() < 1e-12);
/// ```
#[must_use]
pub fn measured(text: &str, size: f64, bold: bool) -> f64 {
    let sum: f64 = text.chars().map(width).sum();
    let heavier = if bold { 1.1 } else { 1.0 };
    sum / 1000.0 * size * heavier
}

/// Words in lines of at most that width, mm; a word that is wider is broken.
#[must_use]
pub fn fits(text: &str, size: f64, most: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        let space = if line.is_empty() { "" } else { " " };
        let longer = format!("{line}{space}{word}");
        if measured(&longer, size, false) <= most {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for letter in word.chars() {
            line.push(letter);
            if measured(&line, size, false) > most && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::replace(&mut line, letter.into()));
            }
        }
    }
    lines.push(line);
    lines
}

/// The fonts of a piece of text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Face {
    /// Letters.
    Letters,
    /// Signs of mathematics that the letters' font lacks.
    Signs,
}

/// Bytes of a letter in a PDF's standard fonts (ISO 32000-1, annex D: WinAnsi and Symbol); none where neither has it.
pub(super) fn byte(letter: char) -> Option<(Face, u8)> {
    let letters = |byte: u8| Some((Face::Letters, byte));
    match letter {
        ' '..='~' | '\u{A0}'..='\u{FF}' => u8::try_from(letter as u32).ok().and_then(letters),
        '\u{20AC}' => letters(0x80),
        '\u{2026}' => letters(0x85),
        '\u{2018}' => letters(0x91),
        '\u{2019}' => letters(0x92),
        '\u{201C}' => letters(0x93),
        '\u{201D}' => letters(0x94),
        '\u{2022}' => letters(0x95),
        '\u{2013}' => letters(0x96),
        '\u{2014}' => letters(0x97),
        '\u{0160}' => letters(0x8A),
        '\u{0161}' => letters(0x9A),
        '\u{017D}' => letters(0x8E),
        '\u{017E}' => letters(0x9E),
        '\u{0152}' => letters(0x8C),
        '\u{0153}' => letters(0x9C),
        '\u{2212}' => Some((Face::Signs, 0x2D)),
        '\u{2248}' => Some((Face::Signs, 0xBB)),
        '\u{2264}' => Some((Face::Signs, 0xA3)),
        '\u{2265}' => Some((Face::Signs, 0xB3)),
        '\u{2192}' => Some((Face::Signs, 0xAE)),
        _ => None,
    }
}

/// Whether a PDF's standard fonts have every letter of a text.
#[must_use]
pub fn plain(text: &str) -> bool {
    text.chars().all(|letter| byte(letter).is_some())
}
