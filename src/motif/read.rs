//! A drawing's elements, walked one by one: what each draws, by its look and its place.

use kurbo::{Affine, BezPath};
use roxmltree::{Document, Node, ParsingOptions};
use rustc_hash::FxHashMap;

use super::error::MotifError;
use super::look::{Look, property, styled};
use super::page::Page;
use super::runs::{Flat, Run, flat, over_each_other};
use super::shape::{curve, length, transform};
use super::{Motif, MotifMark, Unread};

/// Longest text, in bytes.
const LONGEST: usize = 1 << 20;
/// Most elements, `use` followed.
const ELEMENTS: u32 = 20_000;
/// Most points of all lines.
const POINTS: usize = 20_000;
/// How deep groups may stand in each other, `use` followed.
const DEEPEST: u32 = 48;
/// Of how many kinds and places it is said that they are not understood.
const UNREAD: usize = 20;
/// The namespace of SVG.
const SVG: &str = "http://www.w3.org/2000/svg";

/// Elements that draw nothing by themselves, and may stand anywhere.
const SILENT: &[&str] = &["defs", "symbol", "title", "desc", "metadata"];
/// Elements that hold others.
const GROUPS: &[&str] = &["g", "a"];
/// Elements that are drawn.
const SHAPES: &[&str] = &[
    "path", "line", "polyline", "polygon", "rect", "circle", "ellipse",
];
/// Properties that would change where something is drawn.
const CHANGING: &[&str] = &[
    "clip-path",
    "mask",
    "filter",
    "stroke-dasharray",
    "marker-start",
    "marker-mid",
    "marker-end",
];

/// Reads a drawing.
///
/// # Errors
/// It is too large, no SVG, states no size, or draws nothing.
///
/// # Example
/// ```
/// use annulet::motif::read;
/// let text = r#"<svg xmlns="http://www.w3.org/2000/svg" width="4mm" height="6mm" viewBox="0 0 4 6">
///   <path id="vein" d="M1 3H3" fill="none" stroke="black"/></svg>"#;
/// let motif = read(text).unwrap();
/// assert!((motif.wide - 4.0).abs() < 1e-12);
/// let points = &motif.marks[0].points;
/// assert!((points[0].0 - 1.0).abs() < 1e-12 && points[0].1.abs() < 1e-12);
/// ```
pub fn read(text: &str) -> Result<Motif, MotifError> {
    if text.len() > LONGEST {
        return Err(MotifError::new(
            format!(
                "it has {} bytes, and a drawing {LONGEST} at most",
                text.len()
            ),
            "leave pictures and hidden layers out of it",
        ));
    }
    if text.trim().is_empty() {
        return Err(MotifError::new(
            "it is empty",
            "draw one repeat of the motif in it",
        ));
    }
    let options = ParsingOptions {
        allow_dtd: false,
        nodes_limit: 4 * ELEMENTS,
        ..ParsingOptions::default()
    };
    let document = Document::parse_with_options(text, options).map_err(|error| {
        let help = match error {
            roxmltree::Error::DtdDetected => {
                "a drawing may declare no entities: save it as plain SVG, without a document type"
            }
            _ => "save it as plain SVG",
        };
        MotifError::new(format!("it cannot be read as XML: {error}"), help)
    })?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" || !is_svg(root) {
        return Err(MotifError::new(
            format!(
                "it is a `<{}>`, not an SVG",
                crate::source::printable(root.tag_name().name())
            ),
            "save the drawing as plain SVG",
        ));
    }
    let page = Page::of(root)?;
    let mut ids = FxHashMap::default();
    for node in document.descendants() {
        if let Some(id) = node.attribute("id") {
            ids.entry(id).or_insert(node);
        }
    }
    let mut reader = Reader {
        document: &document,
        ids,
        motif: Motif {
            wide: page.wide,
            high: page.high,
            ..Motif::default()
        },
        elements: 0,
        points: 0,
    };
    reader.group(root, page.to_mm, Look::default(), &mut Vec::new(), 0)?;
    let motif = reader.motif;
    if motif.marks.is_empty() {
        let message = match motif.unread.first() {
            None => "it draws no line and no filled outline".to_owned(),
            Some(first) => format!(
                "nothing that it draws is understood; the first is `{}` (line {})",
                first.what, first.line
            ),
        };
        return Err(MotifError::new(
            message,
            "draw centre lines with a stroke, or pockets as filled outlines",
        ));
    }
    Ok(motif)
}

/// Whether an element is of SVG, or of no namespace at all, as in a drawing written by hand.
fn is_svg(node: Node<'_, '_>) -> bool {
    node.tag_name().namespace().is_none_or(|space| space == SVG)
}

struct Reader<'a, 'i> {
    document: &'a Document<'i>,
    /// The first element of each `id`.
    ids: FxHashMap<&'a str, Node<'a, 'i>>,
    motif: Motif,
    elements: u32,
    points: usize,
}

impl<'a, 'i> Reader<'a, 'i> {
    /// An element that holds others: the first one, a group, or a symbol that is used.
    fn group(
        &mut self,
        node: Node<'a, 'i>,
        to_mm: Affine,
        look: Look,
        names: &mut Vec<String>,
        depth: u32,
    ) -> Result<(), MotifError> {
        let Some(own) = self.place(node, names) else {
            return Ok(());
        };
        let look = look.of(node);
        if look.hidden {
            return Ok(());
        }
        for child in node.children().filter(Node::is_element) {
            self.element(child, to_mm * own, look, names, depth)?;
        }
        Ok(())
    }

    fn element(
        &mut self,
        node: Node<'a, 'i>,
        to_mm: Affine,
        look: Look,
        names: &mut Vec<String>,
        depth: u32,
    ) -> Result<(), MotifError> {
        self.elements += 1;
        if self.elements > ELEMENTS {
            return Err(MotifError::new(
                format!("it has more than {ELEMENTS} elements"),
                "draw one repeat alone",
            ));
        }
        if depth > DEEPEST {
            return Err(MotifError::new(
                format!(
                    "its groups stand more than {DEEPEST} deep in each other, or a `use` leads back to itself"
                ),
                "flatten its groups",
            ));
        }
        let word = node.tag_name().name();
        // What is of another standard no program draws.
        if !is_svg(node) || SILENT.contains(&word) {
            return Ok(());
        }
        let own = node.attribute("id").map(str::to_owned);
        let named = own.is_some();
        names.extend(own);
        let done = self.drawn(node, word, to_mm, look, names, depth);
        if named {
            names.pop();
        }
        done
    }

    fn drawn(
        &mut self,
        node: Node<'a, 'i>,
        word: &str,
        to_mm: Affine,
        look: Look,
        names: &mut Vec<String>,
        depth: u32,
    ) -> Result<(), MotifError> {
        let inner = look.of(node);
        if inner.hidden {
            return Ok(());
        }
        if GROUPS.contains(&word) {
            return self.group(node, to_mm, look, names, depth + 1);
        }
        if !SHAPES.contains(&word) && word != "use" {
            self.unread(node, &format!("<{word}>"), names);
            return Ok(());
        }
        let Some(own) = self.place(node, names) else {
            return Ok(());
        };
        if word == "use" {
            return self.used(node, to_mm * own, inner, names, depth);
        }
        match curve(node) {
            Some(curve) => self.marked(node, &(to_mm * own * curve), inner, names),
            None => {
                self.unread(node, &format!("<{word}> as it is written"), names);
                Ok(())
            }
        }
    }

    /// How an element is moved inside what holds it; `None` where something changes it that is not understood, which is
    /// noted: a line in dashes is no line, and what is clipped or masked is not all of it.
    fn place(&mut self, node: Node<'a, 'i>, names: &[String]) -> Option<Affine> {
        let changes = |name: &&&str| property(node, name).is_some_and(|value| value != "none");
        let painted =
            |name: &&&str| property(node, name).is_some_and(|value| value.starts_with("url("));
        let changing = CHANGING.iter().find(changes).map(|name| (*name).to_owned());
        let painted = ["fill", "stroke"].iter().find(painted);
        let painted = painted.map(|name| format!("{name} of a gradient or pattern"));
        let styled = styled(node, "transform").map(|_| "transform in a style".to_owned());
        let what = changing.or(painted).or(styled);
        let own = transform(node);
        let what = what.or_else(|| {
            own.is_none()
                .then(|| "transform as it is written".to_owned())
        });
        if let Some(what) = what {
            self.unread(node, &what, names);
            return None;
        }
        own
    }

    /// What stands elsewhere in the drawing, drawn here.
    fn used(
        &mut self,
        node: Node<'a, 'i>,
        to_mm: Affine,
        look: Look,
        names: &mut Vec<String>,
        depth: u32,
    ) -> Result<(), MotifError> {
        let xlink = ("http://www.w3.org/1999/xlink", "href");
        let href = node.attribute("href").or_else(|| node.attribute(xlink));
        let id = href.and_then(|href| href.strip_prefix('#'));
        let Some(target) = id.and_then(|id| self.ids.get(id).copied()) else {
            self.unread(node, "<use> of what is not in the file", names);
            return Ok(());
        };
        let by = |name: &str| match node.has_attribute(name) {
            true => length(node, name),
            false => Some(0.0),
        };
        let (Some(x), Some(y)) = (by("x"), by("y")) else {
            self.unread(node, "<use> as it is written", names);
            return Ok(());
        };
        let to_mm = to_mm * Affine::translate((x, y));
        if target.tag_name().name() != "symbol" {
            return self.element(target, to_mm, look, names, depth + 1);
        }
        if target.has_attribute("viewBox") {
            self.unread(node, "<use> of a symbol with a `viewBox`", names);
            return Ok(());
        }
        self.group(target, to_mm, look, names, depth + 1)
    }

    /// The lines and outlines of one curve in millimetres.
    fn marked(
        &mut self,
        node: Node<'a, 'i>,
        curve: &BezPath,
        look: Look,
        names: &[String],
    ) -> Result<(), MotifError> {
        let word = node.tag_name().name();
        let mut runs = match flat(curve, POINTS - self.points) {
            Flat::Runs(runs) => runs,
            Flat::Beyond => {
                self.unread(node, &format!("<{word}> beyond all measure"), names);
                return Ok(());
            }
            Flat::TooMany => {
                return Err(MotifError::new(
                    format!("its lines have more than {POINTS} points"),
                    "draw one repeat alone, with fewer curves",
                ));
            }
        };
        self.points += runs.iter().map(|run| run.points.len()).sum::<usize>();
        let drawn = runs.len();
        runs.retain(|run| run.points.len() > 1);
        if runs.len() < drawn || drawn == 0 {
            self.unread(node, &format!("<{word}> of no length"), names);
        }
        let filled = look.is_filled();
        if filled && over_each_other(&runs) {
            let what = format!("<{word}> with outlines over or inside each other");
            self.unread(node, &what, names);
            return Ok(());
        }
        for Run { points, closed } in runs {
            let mark = |filled, points| MotifMark {
                names: names.to_vec(),
                filled,
                points,
            };
            if filled {
                let mut outline = points.clone();
                if outline.first() == outline.last() {
                    outline.pop();
                }
                match outline.len() {
                    0..=2 if look.stroked => {}
                    0..=2 => self.unread(node, &format!("<{word}> without an inside"), names),
                    _ => self.motif.marks.push(mark(true, outline)),
                }
            }
            if look.stroked {
                let mut line = points;
                let first = line.first().copied();
                line.extend(first.filter(|first| closed && line.last() != Some(first)));
                self.motif.marks.push(mark(false, line));
            }
        }
        Ok(())
    }

    fn unread(&mut self, node: Node<'_, '_>, what: &str, names: &[String]) {
        let what = crate::source::printable(what);
        let mut known = self.motif.unread.iter_mut();
        if let Some(known) = known.find(|one| one.what == what && one.names == names) {
            known.count += 1;
            return;
        }
        let line = self.document.text_pos_at(node.range().start).row;
        if self.motif.unread.len() < UNREAD {
            self.motif.unread.push(Unread {
                what,
                names: names.to_vec(),
                line,
                count: 1,
            });
        }
    }
}
