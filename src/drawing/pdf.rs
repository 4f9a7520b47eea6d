//! Pictures as the pages of a PDF, in true size: standard fonts, nothing compressed, no date, no maker's name.
//!
//! What a standard font lacks is written as a question mark; [`super::plain`] tells whether a text has any of it.

use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, Str, TextStr};

use super::letters::{Face, byte, measured};
use super::picture::{
    Anchor, Hatching, Ink, Lettering, Panel, Picture, Region, Sign, Spot, Trace, head,
};

/// Points of a millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// Fonts: plain, bold, signs.
const FONTS: [(Name<'static>, Name<'static>); 3] = [
    (Name(b"L"), Name(b"Helvetica")),
    (Name(b"B"), Name(b"Helvetica-Bold")),
    (Name(b"S"), Name(b"Symbol")),
];

/// Pages with these pictures, each as large as its picture.
#[must_use]
pub fn pdf(pages: &[Picture]) -> Vec<u8> {
    let mut next = 0;
    let mut new = || {
        next += 1;
        Ref::new(next)
    };
    let (catalogue, tree, info) = (new(), new(), new());
    let fonts: Vec<Ref> = FONTS.iter().map(|_| new()).collect();
    let kids: Vec<(Ref, Ref)> = pages.iter().map(|_| (new(), new())).collect();
    let mut pdf = Pdf::new();
    let mut root = pdf.catalog(catalogue);
    root.pages(tree);
    root.lang(TextStr("en"));
    let mut seen = root.viewer_preferences();
    // A print in true size is what it is for.
    seen.pair(Name(b"PrintScaling"), Name(b"None"));
    seen.pair(Name(b"DisplayDocTitle"), true);
    seen.finish();
    root.finish();
    if let Some(first) = pages.first() {
        let mut told = pdf.document_info(info);
        told.title(TextStr(&first.title));
        told.subject(TextStr(&first.description));
    }
    let count = i32::try_from(kids.len()).unwrap_or(i32::MAX);
    pdf.pages(tree)
        .kids(kids.iter().map(|kid| kid.0))
        .count(count);
    for (id, (_, name)) in fonts.iter().zip(FONTS) {
        let mut font = pdf.type1_font(*id);
        font.base_font(name);
        if name != Name(b"Symbol") {
            font.encoding_predefined(Name(b"WinAnsiEncoding"));
        }
    }
    for (picture, (page, content)) in pages.iter().zip(kids) {
        let (width, height) = (picture.width * POINTS, picture.height * POINTS);
        let mut written = pdf.page(page);
        written.media_box(Rect::new(0.0, 0.0, width as f32, height as f32));
        written.parent(tree);
        written.contents(content);
        let mut resources = written.resources();
        let mut named = resources.fonts();
        for (id, (name, _)) in fonts.iter().zip(FONTS) {
            named.pair(name, *id);
        }
        named.finish();
        resources.finish();
        written.finish();
        pdf.stream(content, &drawn(picture));
    }
    pdf.finish()
}

/// The operators of a page; its lengths are millimetres.
fn drawn(picture: &Picture) -> Vec<u8> {
    let mut content = Content::new();
    let points = POINTS as f32;
    content.transform([points, 0.0, 0.0, points, 0.0, 0.0]);
    for panel in &picture.panels {
        draw(&mut content, panel);
    }
    content.finish().into_vec()
}

fn draw(content: &mut Content, panel: &Panel) {
    if !panel.regions.is_empty() || !panel.lines.is_empty() {
        content.save_state();
        let scale = panel.scale as f32;
        let (x, y) = (panel.origin.x as f32, panel.origin.y as f32);
        content.transform([scale, 0.0, 0.0, scale, x, y]);
        for region in &panel.regions {
            part(content, region, panel.scale);
        }
        for (trace, ink) in &panel.lines {
            line(content, trace, *ink, panel.scale);
        }
        content.restore_state();
    }
    for sign in &panel.signs {
        match sign {
            Sign::Line(trace, ink) => line(content, trace, *ink, 1.0),
            Sign::Arrow(at, way) => {
                let [tip, left, right] = head(*at, *way);
                let corners = Trace::straight(&[tip, left, right]);
                way_of(content, &corners);
                content.close_path();
                content.fill_nonzero();
            }
            Sign::Dot(at) => {
                let half = |x: f64| Spot::at(at.x + x, at.y);
                let bend = |to: Spot| super::picture::Bend { to, bulge: 1.0 };
                let round = Trace {
                    from: half(-0.35),
                    bends: vec![bend(half(0.35)), bend(half(-0.35))],
                    closed: true,
                };
                way_of(content, &round);
                content.fill_nonzero();
            }
            Sign::Text(text) => words(content, text),
        }
    }
}

fn inked(content: &mut Content, ink: Ink, scale: f64) {
    content.set_line_width((ink.width() / scale) as f32);
    let dashes = ink.dashes().iter().map(|dash| (dash / scale) as f32);
    content.set_dash_pattern(dashes, 0.0);
}

fn line(content: &mut Content, trace: &Trace, ink: Ink, scale: f64) {
    inked(content, ink, scale);
    way_of(content, trace);
    content.stroke();
}

/// A section: hatched inside its edge, then the edge.
fn part(content: &mut Content, region: &Region, scale: f64) {
    content.save_state();
    way_of(content, &region.trace);
    content.clip_nonzero();
    content.end_path();
    content.set_line_width((0.13 / scale) as f32);
    content.set_dash_pattern([], 0.0);
    for [from, to] in hatches(region, scale) {
        content.move_to(from.x as f32, from.y as f32);
        content.line_to(to.x as f32, to.y as f32);
    }
    content.stroke();
    content.restore_state();
    line(content, &region.trace, Ink::Edge, scale);
}

/// Lines at 45 degrees over all that a section can reach: no bend goes further beyond its ends than their distance.
fn hatches(region: &Region, scale: f64) -> Vec<[Spot; 2]> {
    let places = || {
        region
            .trace
            .sides()
            .flat_map(|(from, bend)| [from, bend.to])
    };
    let least = |read: fn(Spot) -> f64| places().map(read).fold(f64::INFINITY, f64::min);
    let most = |read: fn(Spot) -> f64| places().map(read).fold(f64::NEG_INFINITY, f64::max);
    let (left, right) = (least(|at| at.x), most(|at| at.x));
    let (low, high) = (least(|at| at.y), most(|at| at.y));
    let beyond = (right - left) / 2.0;
    let (low, high) = (low - beyond, high + beyond);
    if !(right > left && high > low) {
        return Vec::new();
    }
    let step = region.hatching.apart() / scale * std::f64::consts::SQRT_2;
    let tall = high - low;
    let count = ((right - left + tall) / step) as u32;
    let lines = (0..=count).map(|place| {
        let x = left - tall + step * f64::from(place);
        match region.hatching {
            Hatching::Rising => [Spot::at(x, low), Spot::at(x + tall, high)],
            Hatching::Falling => [Spot::at(x, high), Spot::at(x + tall, low)],
        }
    });
    lines.collect()
}

fn way_of(content: &mut Content, trace: &Trace) {
    content.move_to(trace.from.x as f32, trace.from.y as f32);
    for (from, bend) in trace.sides() {
        if bend.bulge == 0.0 {
            content.line_to(bend.to.x as f32, bend.to.y as f32);
            continue;
        }
        for [one, two, to] in curves(from, bend.to, bend.bulge) {
            let at = |spot: Spot| (spot.x as f32, spot.y as f32);
            let ((x1, y1), (x2, y2), (x3, y3)) = (at(one), at(two), at(to));
            content.cubic_to(x1, y1, x2, y2, x3, y3);
        }
    }
    if trace.closed {
        content.close_path();
    }
}

/// An arc as cubic curves of an eighth of a circle at most, which depart from it by 4 millionths of its radius.
fn curves(from: Spot, to: Spot, bulge: f64) -> Vec<[Spot; 3]> {
    let angle = 4.0 * libm::atan(bulge);
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let off = (1.0 - bulge * bulge) / (4.0 * bulge);
    let centre = Spot::at(
        (from.x + to.x) / 2.0 - off * dy,
        (from.y + to.y) / 2.0 + off * dx,
    );
    let radius = libm::hypot(from.x - centre.x, from.y - centre.y);
    let first = libm::atan2(from.y - centre.y, from.x - centre.x);
    let parts = (angle.abs() / std::f64::consts::FRAC_PI_4).ceil().max(1.0) as u32;
    let step = angle / f64::from(parts);
    let reach = 4.0 / 3.0 * libm::tan(step / 4.0) * radius;
    let place = |at: f64| {
        let (sine, cosine) = (libm::sin(at), libm::cos(at));
        let here = Spot::at(centre.x + radius * cosine, centre.y + radius * sine);
        (here, Spot::at(-reach * sine, reach * cosine))
    };
    let all = (0..parts).map(|part| {
        let (here, way) = place(first + step * f64::from(part));
        let (there, back) = place(first + step * f64::from(part + 1));
        let there = if part + 1 == parts { to } else { there };
        [
            Spot::at(here.x + way.x, here.y + way.y),
            Spot::at(there.x - back.x, there.y - back.y),
            there,
        ]
    });
    all.collect()
}

fn words(content: &mut Content, text: &Lettering) {
    let width = measured(&text.text, text.size, text.bold);
    let x = match text.anchor {
        Anchor::Start => text.at.x,
        Anchor::Middle => text.at.x - width / 2.0,
        Anchor::End => text.at.x - width,
    };
    content.begin_text();
    content.next_line(x as f32, text.at.y as f32);
    let mut piece: Vec<u8> = Vec::new();
    let mut face = Face::Letters;
    for letter in text.text.chars() {
        let (wanted, byte) = byte(letter).unwrap_or((Face::Letters, b'?'));
        if wanted != face {
            show(content, &mut piece, face, text);
            face = wanted;
        }
        piece.push(byte);
    }
    show(content, &mut piece, face, text);
    content.end_text();
}

fn show(content: &mut Content, piece: &mut Vec<u8>, face: Face, text: &Lettering) {
    if piece.is_empty() {
        return;
    }
    let [plain, bold, signs] = FONTS.map(|(name, _)| name);
    let font = match (face, text.bold) {
        (Face::Signs, _) => signs,
        (Face::Letters, true) => bold,
        (Face::Letters, false) => plain,
    };
    content.set_font(font, text.size as f32);
    content.show(Str(piece));
    piece.clear();
}
