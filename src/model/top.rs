//! The top level of a recipe and of the files it uses, sorted by what its entries are.
//!
//! A name of this file stands before the same name of a used file; two used files must not give one name
//! twice, since nobody could say which of them is meant.

use std::collections::HashMap;

use crate::finding::Finding;
use crate::schema::BlockId;
use crate::source::{Span, Spanned};
use crate::syntax::ast::{Entry, Expr, ExprKind, Item, Operator, entries};
use crate::syntax::looks;

use super::error::ModelError;
use super::field_value::is_exponent;
use super::headers::{
    block_name, edition, plain_block, profile_name, unknown_block, variant_names,
};
use super::merge::deviates;
use super::money;
use super::note::ModelNote;
use super::resolve::Let;
use super::review::{name_of, no_block};
use super::written_cutter;

/// A band or a variant as written.
pub(super) struct BandEntry<'t> {
    pub name: String,
    pub entry: &'t Entry,
    /// The band that a variant is made of.
    pub parent: Option<Spanned<String>>,
    /// It comes from a used file: it defines, and is not reported.
    pub used: bool,
}

/// A requirement as written.
pub(super) struct WrittenRequirement<'t> {
    pub values: &'t [Expr],
    pub at: Span,
}

/// A name that was given, under its kind and what it looks like.
type Looks = HashMap<(&'static str, String), (String, Span)>;

/// Names that were given, per kind of thing, and where first.
#[derive(Default)]
struct Seen {
    names: HashMap<(&'static str, String), Span>,
    /// The same by what they look like, from the first name on that is not plain ASCII.
    looks: Option<Looks>,
}

impl Seen {
    fn insert(&mut self, (kind, name): (&'static str, String), at: Span) {
        if let Some(all) = &mut self.looks {
            all.entry((kind, looks(&name)))
                .or_insert((name.clone(), at));
        }
        self.names.insert((kind, name), at);
    }

    /// Where a name is given that cannot be told from this one and is another.
    fn alike(&mut self, kind: &'static str, name: &str) -> Option<Span> {
        if self.looks.is_none() && name.is_ascii() {
            return None;
        }
        let names = &self.names;
        let all = self.looks.get_or_insert_with(|| {
            let all = names.iter();
            all.map(|((kind, name), at)| ((*kind, looks(name)), (name.clone(), *at)))
                .collect()
        });
        let (known, at) = all.get(&(kind, looks(name)))?;
        let plain = known.is_ascii() && name.is_ascii();
        (known != name && !plain).then_some(*at)
    }
}

/// A value that could not be read, which was said.
static UNREAD: Expr = Expr {
    kind: ExprKind::Unread(String::new()),
    span: Span { start: 0, end: 0 },
};

/// Everything at the top level.
#[derive(Default)]
pub(super) struct Top<'t> {
    pub lets: Vec<Let<'t>>,
    pub alloys: Vec<(String, &'t Entry)>,
    pub bands: Vec<BandEntry<'t>>,
    pub profiles: Vec<(String, &'t Entry)>,
    pub rules: Vec<(String, &'t Entry)>,
    pub cutters: Vec<(String, &'t Entry)>,
    pub requirements: Vec<WrittenRequirement<'t>>,
    /// What was measured of rings: the word of the block, the band with its place, and the entry as an item.
    pub of_rings: Vec<(&'static str, Spanned<String>, &'t [Item])>,
    pub money: money::MoneyState<'t>,
    /// What each name was first given as, per kind of thing: in this file, and in used ones.
    own: Seen,
    used: Seen,
    let_places: HashMap<&'t str, usize>,
}

impl<'t> Top<'t> {
    /// Takes in a file: the recipe itself first, then the files that it uses.
    pub fn read(&mut self, items: &'t [Item], used: bool, findings: &mut Vec<Finding>) {
        for entry in entries(items) {
            // A header that could not be read was reported, and its block goes with it.
            let Some(head) = entry.head.as_ref() else {
                if !entry.values.is_empty() {
                    findings.push(unknown_block(entry.span, "\u{2026}").into());
                }
                continue;
            };
            match head.value.0.as_str() {
                "annulet" => {
                    edition(entry, findings);
                    self.is_new("annulet", "annulet", entry.header_span(), used, findings);
                }
                // Followed before anything is resolved; here it only has to be well written.
                "use" => {}
                "let" => self.read_let(entry, used, findings),
                "alloy" => {
                    if let Some(name) =
                        block_name(entry, "alloy", "alloy rose-585 { \u{2026} }", findings)
                        && self.is_new("alloy", &name, entry.header_span(), used, findings)
                    {
                        self.alloys.push((name, entry));
                    }
                }
                "rules" => {
                    if let Some(name) =
                        block_name(entry, "rules", "rules house { \u{2026} }", findings)
                        && self.is_new("rules", &name, entry.header_span(), used, findings)
                    {
                        self.rules.push((name, entry));
                    }
                }
                "profile" => {
                    if let Some(name) = profile_name(entry, findings)
                        && self.is_new("profile", &name, entry.header_span(), used, findings)
                    {
                        self.profiles.push((name, entry));
                    }
                }
                "cutter" => {
                    if let Some(name) = written_cutter::name(entry, findings)
                        && self.is_new("cutter", &name, entry.header_span(), used, findings)
                    {
                        self.cutters.push((name, entry));
                    }
                }
                "band" => {
                    if let Some(name) =
                        block_name(entry, "band", "band harvest { \u{2026} }", findings)
                        && self.is_new("band", &name, entry.header_span(), used, findings)
                    {
                        self.bands.push(BandEntry {
                            name,
                            entry,
                            parent: None,
                            used,
                        });
                    }
                }
                "variant" => {
                    if let Some((name, parent)) = variant_names(entry, findings)
                        && self.is_new("band", &name, entry.header_span(), used, findings)
                    {
                        self.bands.push(BandEntry {
                            name,
                            entry,
                            parent: Some(parent),
                            used,
                        });
                    }
                }
                word @ ("prices" | "shop") => {
                    if let Some(at) = plain_block(entry, word, findings)
                        && self.is_new("block", word, at, used, findings)
                    {
                        let written = &mut self.money.written;
                        let all = if word == "shop" {
                            &mut written.shop
                        } else {
                            &mut written.prices
                        };
                        // Weakest first: the recipe itself is read before the files that it uses.
                        all.insert(0, entry);
                    }
                }
                "stock" => {
                    if let Some(name) = money::stock_name(entry, findings)
                        && self.is_new("stock", &name, entry.header_span(), used, findings)
                    {
                        self.money.written.stocks.push((name, entry));
                    }
                }
                // Orders of a used file are that file's business.
                "order" if used => {}
                "order" => {
                    if let Some(name) = money::order_name(entry, findings) {
                        let known = name.clone().unwrap_or_default();
                        if self.is_new("order", &known, entry.header_span(), used, findings) {
                            self.money.written.orders.push((name, entry));
                        }
                    }
                }
                // Requirements of a used file are that file's business.
                "require" if used => {}
                // What was measured with a used file is that file's business.
                word if used && BlockId::of_ring(word).is_some() => {}
                word if BlockId::of_ring(word).is_some() => {
                    self.read_of_ring(word, items, entry, findings);
                }
                "require" => {
                    if let Some(block) = &entry.block {
                        let example = "require harvest.weight <= 2.9 g";
                        findings.push(no_block(block.open, "require", example).into());
                    }
                    self.requirements.push(WrittenRequirement {
                        values: &entry.values,
                        at: entry.span,
                    });
                }
                word => findings.push(unknown_block(head.span, word).into()),
            }
        }
        self.unread_lets(items);
    }

    /// Whether a name is given for the first time; a second time in one file is a finding.
    fn is_new(
        &mut self,
        kind: &'static str,
        name: &str,
        at: Span,
        used: bool,
        findings: &mut Vec<Finding>,
    ) -> bool {
        let key = (kind, name.to_owned());
        if used && (kind == "annulet" || self.own.names.contains_key(&key)) {
            // A block without a name of its own is laid over that of a used file.
            return kind == "block";
        }
        let seen = if used { &mut self.used } else { &mut self.own };
        if let Some(first) = seen.alike(kind, name) {
            let codes: Vec<String> = name
                .chars()
                .filter(|c| !c.is_ascii())
                .map(|c| format!("U+{:04X}", u32::from(c)))
                .collect();
            findings.push(
                ModelError::TwoMeanings {
                    at,
                    other: Some(first),
                    name: name.to_owned(),
                    meanings: format!(
                        "two names look alike and differ in their letters ({})",
                        codes.join(", ")
                    ),
                    help: "give one of them a name that can be told from the other".to_owned(),
                }
                .into(),
            );
            return false;
        }
        match seen.names.get(&key).copied() {
            Some(first) => {
                let problem = match name {
                    "" => ModelError::ValueCount {
                        at,
                        field: kind.to_owned(),
                        wanted: "a name where there are several".to_owned(),
                        label: "one of several",
                        help: format!("give each a name, as in `{kind} spring {{ \u{2026} }}`"),
                    },
                    name => ModelError::GivenTwice {
                        again: at,
                        first,
                        name: name.to_owned(),
                    },
                };
                findings.push(problem.into());
                false
            }
            None => {
                seen.insert(key, at);
                true
            }
        }
    }

    /// `made BAND { … }`, `weighed BAND { … }`: what was measured of a ring, laid into the band as its block.
    fn read_of_ring(
        &mut self,
        word: &str,
        items: &'t [Item],
        entry: &'t Entry,
        findings: &mut Vec<Finding>,
    ) {
        let Some(word) = BlockId::of_ring(word) else {
            return;
        };
        let example = match word {
            "made" => "made harvest-light { shell-bore 17.52 mm }",
            _ => "weighed harvest { finished 4.27 g }",
        };
        let at = entry.head_span();
        let Some(name) = name_of(&entry.values, word, at, example, findings) else {
            return;
        };
        let is_this = |item: &&Item| matches!(item, Item::Entry(one) if one.span == entry.span);
        if self.is_new(word, &name.value, entry.header_span(), false, findings)
            && let Some(item) = items.iter().find(is_this)
        {
            self.of_rings.push((word, name, std::slice::from_ref(item)));
        }
    }

    /// The names of `let`s whose lines could not be read: who uses them makes no mistake of its own.
    fn unread_lets(&mut self, items: &'t [Item]) {
        for item in items {
            let Item::Broken(line) = item else { continue };
            let behind = line.value.trim_start().strip_prefix("let ");
            let name = behind.and_then(|text| text.trim_start().split([' ', '=']).next());
            if let Some(name) = name.filter(|name| !name.is_empty()) {
                self.unread_let(name, line.span);
            }
        }
    }

    fn unread_let(&mut self, name: &'t str, at: Span) {
        if !self.let_places.contains_key(name) {
            self.let_places.insert(name, self.lets.len());
            self.lets.push(Let {
                name,
                at,
                value: &UNREAD,
                places: vec![at],
            });
        }
    }

    /// `let name = value`.
    fn read_let(&mut self, entry: &'t Entry, used: bool, findings: &mut Vec<Finding>) {
        if let Some(block) = &entry.block {
            findings.push(no_block(block.open, "let", "let cut = 0.30 mm").into());
        }
        // Of a range, what stands before its mark is read with the name.
        let said = entry.values.first().map(|value| match &value.kind {
            ExprKind::Range { from, .. } => (&**from, Some(value)),
            _ => (value, None),
        });
        if let Some((value, range)) = said
            && let ExprKind::Binary {
                operator,
                left,
                right,
            } = &value.kind
            && operator.value == Operator::Equal
            && (entry.values.len() == 1 || is_exponent(right))
            && let ExprKind::Path(path) = &left.kind
            && let Some(name) = path.single()
        {
            let at = entry.header_span();
            if self.is_new("let", name, at, used, findings) {
                self.let_places.insert(name, self.lets.len());
                self.lets.push(Let {
                    name,
                    at: left.span,
                    value: range.unwrap_or(right),
                    places: vec![at],
                });
            } else if used && let Some(own) = self.own_let(name) {
                own.places.insert(0, at);
            }
            return;
        }
        let named = entry.values.first().map(|value| match &value.kind {
            ExprKind::Binary { left, .. } => &left.kind,
            kind => kind,
        });
        if let Some(ExprKind::Path(path)) = named {
            self.unread_let(&path.0, entry.header_span());
        }
        findings.push(
            ModelError::ValueCount {
                at: entry
                    .values
                    .first()
                    .map_or(entry.head_span().after(), |value| value.span),
                field: "let".to_owned(),
                wanted: "a name, `=` and a value".to_owned(),
                label: "here",
                help: "as in `let cut = 0.30 mm`".to_owned(),
            }
            .into(),
        );
    }

    /// The `let` of this file that stands before one of a used file.
    fn own_let(&mut self, name: &str) -> Option<&mut Let<'t>> {
        let is_own = self.own.names.contains_key(&("let", name.to_owned()));
        let place = self.let_places.get(name).filter(|_| is_own)?;
        self.lets.get_mut(*place)
    }

    /// A `let` of the same name takes the overriding value.
    pub fn override_let(&mut self, items: &'t [Item], findings: &mut Vec<Finding>) {
        for entry in entries(items) {
            let (Some(head), Some(value)) = (entry.head_name(), entry.values.first()) else {
                continue;
            };
            for one in self.lets.iter_mut().filter(|one| one.name == head) {
                let written = std::slice::from_ref(one.value);
                if deviates(written) && !deviates(&entry.values) {
                    let (at, written) = (entry.header_span(), one.value.span);
                    findings.push(ModelNote::DeviationDropped { at, written }.into());
                }
                one.value = value;
                one.places.push(entry.header_span());
            }
        }
    }
}

/// The paths of the `use` entries of a file, each with its place.
pub fn uses(items: &[Item], findings: &mut Vec<Finding>) -> Vec<Spanned<String>> {
    let mut paths = Vec::new();
    for entry in entries(items).filter(|entry| entry.head_name() == Some("use")) {
        match entry.values.as_slice() {
            [
                Expr {
                    kind: ExprKind::Text(path),
                    span,
                },
            ] if entry.block.is_none() => paths.push(Spanned::new(path.clone(), *span)),
            [
                Expr {
                    kind: ExprKind::Unread(_),
                    span,
                },
            ] => findings.push(ModelError::Unread { at: *span }.into()),
            values => findings.push(
                ModelError::ValueCount {
                    at: values
                        .first()
                        .map_or(entry.head_span().after(), |value| value.span),
                    field: "use".to_owned(),
                    wanted: "the path of a file, in quotes".to_owned(),
                    label: "here",
                    help: "as in `use \"house/alloys.annulet\"`".to_owned(),
                }
                .into(),
            ),
        }
    }
    paths
}
