//! One band's settings to a typed [`Band`]: every field resolved, what is missing named, parts put together.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::finding::{Finding, Weight};
use crate::quantity::{Length, Number, Quantity, Ratio, from_f64};
use crate::source::Span;

use super::band::{Band, Catch, FieldValue, Hollow, Inside, Metal, Pattern, Profile, Roof};
use super::check;
use super::error::ModelError;
use super::expression::diameter_of;
use super::fields::{self, FIELDS, Holder, PLACED};
use super::marking::{Assay, BandSolder, Marking, StruckMark};
use super::merge::Node;
use super::metals::metal;
use super::money;
use super::outline::Outline;
use super::resolve::{Resolver, node};
use super::review::review;
use super::value::Value;
use super::workshop::follows;

/// Resolves and types one band; `None` after saying what is wrong with it.
pub(super) fn band(
    resolver: &mut Resolver<'_>,
    place: usize,
    findings: &mut Vec<Finding>,
) -> Option<Band> {
    let before = findings.len();
    let settings = resolver.bands.get(place)?;
    if !settings.damaged {
        review(&settings.nodes, "", None, false, findings);
    }
    let (name, at, used) = (settings.name.clone(), settings.at, settings.used);
    let parent = settings.parent;
    // What is not there, or could not be read, was reported; so was what a parent lacks.
    let excused = settings.broken || settings.orphan || used;
    let written = written(&settings.nodes);
    let mut values: Vec<Arc<FieldValue>> = Vec::new();
    for ((field, _, holder), is_written) in PLACED.iter().zip(&written) {
        // The defaults of a block count only where the block is written.
        let kind = || {
            let mut values = values.iter();
            let found = values.find(|value| value.field.path == field.holder());
            found.map(|value| &value.value)
        };
        let fits = field.only.is_empty()
            || matches!(kind(), Some(Value::Word(kind)) if field.only.contains(&kind.as_str()));
        let stands = match *holder {
            Holder::Band | Holder::Always => fits,
            Holder::Field(holder) => fits && written.get(holder) == Some(&true),
        };
        if *is_written || field.default.is_some() && stands {
            values.extend(resolver.field(place, field, at, findings));
        }
    }
    let fields = Fields {
        values,
        written,
        at,
    };
    let outline = resolver.outline(place, fields.length("width"), findings);
    let slips: Vec<String> = findings
        .iter()
        .skip(before)
        .filter_map(Finding::repair)
        .map(|repair| repair.text)
        .collect();
    if !excused {
        // What a parent of the recipe's own lacks is said of the parent.
        let said = parent
            .and_then(|parent| resolver.bands.get(parent))
            .filter(|parent| !parent.used)
            .map_or_else(Vec::new, |parent| lacking(&parent.nodes));
        let settings = resolver.bands.get(place)?;
        let wanted = lacking(&settings.nodes)
            .into_iter()
            .filter(|path| !said.contains(path))
            .collect();
        missing(&name, at, wanted, &slips, findings);
    }
    let whole = fields.metal("alloy", "temper", None, resolver, findings);
    let hollow = whole
        .as_ref()
        .and_then(|whole| fields.hollow(whole, resolver, findings));
    let marking = fields.marking(&name, resolver, findings);
    conflicts(&fields, findings);
    let terms = money::terms(&fields.values, place, resolver, findings);
    if findings
        .iter()
        .skip(before)
        .any(|finding| finding.weight() == Weight::Wrong)
    {
        return None;
    }
    let outside = fields.get("outside").and_then(|value| value.at);
    let (given, profile) = (fields.get("thickness").is_some(), fields.place("profile"));
    let band = fields.band(name, used, whole?, outline, hollow)?;
    if let Some(problem) = follows(band.thickness, outside, profile).filter(|_| !given) {
        findings.push(problem.into());
        return None;
    }
    Some(Band {
        terms,
        marking,
        ..band
    })
}

/// Which fields the recipe writes, in the order of the vocabulary, blocks included.
fn written(nodes: &[Node<'_>]) -> Vec<bool> {
    let mut found: Vec<Option<&Node<'_>>> = Vec::with_capacity(FIELDS.len());
    for (field, word, holder) in &*PLACED {
        let head = |nodes: &'_ [Node<'_>]| nodes.iter().position(|node| node.head == *word);
        found.push(match *holder {
            Holder::Band => head(nodes).and_then(|place| nodes.get(place)),
            Holder::Always => node(nodes, field.path),
            Holder::Field(holder) => found.get(holder).copied().flatten().and_then(|holder| {
                head(&holder.children).and_then(|place| holder.children.get(place))
            }),
        });
    }
    found.iter().map(Option::is_some).collect()
}

/// The fields of a band that have a value.
struct Fields {
    values: Vec<Arc<FieldValue>>,
    /// Which fields the recipe writes, in the order of the vocabulary, blocks included.
    written: Vec<bool>,
    at: Span,
}

impl Fields {
    fn get(&self, path: &str) -> Option<&FieldValue> {
        let mut values = self.values.iter().map(|value| &**value);
        values.find(|value| value.field.path == path)
    }

    fn quantity(&self, path: &str) -> Option<&Quantity> {
        self.get(path)?.value.quantity()
    }

    fn length(&self, path: &str) -> Option<Length> {
        self.quantity(path).and_then(Length::from_quantity)
    }

    fn word(&self, path: &str) -> Option<&str> {
        match &self.get(path)?.value {
            Value::Word(word) => Some(word),
            _ => None,
        }
    }

    fn count(&self, path: &str) -> Option<u32> {
        self.quantity(path)?
            .number
            .exact()
            .and_then(|count| u32::try_from(count.trunc().mantissa()).ok())
    }

    fn is_written(&self, path: &str) -> bool {
        let place = FIELDS.iter().position(|field| field.path == path);
        place.and_then(|place| self.written.get(place)) == Some(&true)
    }

    fn place(&self, path: &str) -> Span {
        self.get(path).and_then(|value| value.at).unwrap_or(self.at)
    }

    /// The alloy and temper of a part; what it does not state is that of the whole.
    fn metal(
        &self,
        alloy: &str,
        temper: &str,
        whole: Option<&Metal>,
        resolver: &mut Resolver<'_>,
        findings: &mut Vec<Finding>,
    ) -> Option<Metal> {
        let found = match (self.word(alloy), whole) {
            (Some(name), _) => resolver.alloy(name, self.place(alloy), findings)?,
            (None, Some(whole)) => whole.alloy.clone(),
            (None, None) => return None,
        };
        let state = self
            .word(temper)
            .or(whole.map(|whole| whole.temper.as_str()))
            .unwrap_or("annealed");
        Some(metal(
            found,
            state,
            self.get(temper).and_then(|value| value.at),
            findings,
        ))
    }

    fn hollow(
        &self,
        whole: &Metal,
        resolver: &mut Resolver<'_>,
        findings: &mut Vec<Finding>,
    ) -> Option<Hollow> {
        if !self.is_written("hollow") {
            return None;
        }
        let shell = self.metal(
            "hollow.shell.alloy",
            "hollow.shell.temper",
            Some(whole),
            resolver,
            findings,
        )?;
        let sleeve_metal = self.metal(
            "hollow.sleeve.alloy",
            "hollow.sleeve.temper",
            Some(whole),
            resolver,
            findings,
        )?;
        let zero = Length::mm(Decimal::ZERO);
        let full = self.word("hollow.shell") == Some("full");
        Some(Hollow {
            wall: self.length("hollow.shell"),
            roof: match (full, self.word("hollow.shell.roof")) {
                (true, _) => Roof::Full,
                (false, Some("straight")) => Roof::Straight,
                _ => Roof::Uniform,
            },
            nose: self.length("hollow.shell.nose").unwrap_or(zero),
            shell,
            sleeve: self.length("hollow.sleeve")?,
            relief: self.length("hollow.sleeve.relief"),
            sleeve_metal,
            catch: self.catch(),
            running_play: (self.word("hollow.stage") == Some("turning"))
                .then(|| self.length("hollow.stage.play"))
                .flatten(),
        })
    }

    fn catch(&self) -> Catch {
        let zero = Length::mm(Decimal::ZERO);
        let play = |path: &str| self.length(path).unwrap_or(zero);
        if let (Some(height), Some(wide)) = (
            self.length("hollow.ridge"),
            self.length("hollow.ridge.wide"),
        ) {
            let count = self.count("hollow.ridge.count").unwrap_or(2);
            return Catch::Ridge {
                height,
                wide,
                count,
                play: play("hollow.ridge.play"),
            };
        }
        if let (Some(height), Some(wide)) =
            (self.length("hollow.lip"), self.length("hollow.lip.wide"))
        {
            return Catch::Lip {
                height,
                wide,
                play: play("hollow.lip.play"),
            };
        }
        Catch::None
    }

    /// What the band states of its marks.
    fn marking(
        &self,
        name: &str,
        resolver: &mut Resolver<'_>,
        findings: &mut Vec<Finding>,
    ) -> Marking {
        let value = |path: &str| self.get(path).map(|value| &value.value);
        let text = |path: &str| match value(path) {
            Some(Value::Text(text)) => Some(text.clone()),
            _ => None,
        };
        let fineness = |path: &str| value(path).and_then(check::per_thousand);
        let yes = |path: &str| self.word(path).map(|word| word == "yes");
        let assay = |path: &str| {
            let notes = [
                value(&format!("{path}.dated")).map(check::shown),
                text(&format!("{path}.lot")).map(|lot| format!("lot {lot}")),
            ];
            let note: Vec<String> = notes.into_iter().flatten().collect();
            fineness(path).map(|figure| Assay {
                figure,
                note: note.join(", "),
            })
        };
        let solder = self.word("solder").filter(|word| *word != "none");
        let solder = solder.and_then(|word| {
            let amount = self.quantity("solder.amount");
            Some(BandSolder {
                alloy: resolver.alloy(word, self.place("solder"), findings)?,
                amount: amount.and_then(|amount| check::in_unit(amount, Some("g")).0.exact()),
                authorised: yes("solder.authorised"),
            })
        });
        let asked = resolver.rules.asked.iter();
        Marking {
            own: resolver.rules.own.clone(),
            asked: asked
                .filter(|(band, _)| band == name)
                .map(|(_, word)| word.clone())
                .collect(),
            assay: assay("assay"),
            shell: assay("hollow.shell.assay"),
            sleeve: assay("hollow.sleeve.assay"),
            whole: fineness("assay.whole"),
            solder_stated: self.is_written("solder"),
            solder,
            apart: yes("hollow.apart"),
            mark: self.is_written("mark").then(|| StruckMark {
                deep: self.length("mark.deep"),
                on: self.word("mark.on").map(str::to_owned),
            }),
            tag: text("tag"),
        }
    }

    fn profile(&self, outline: Option<Outline>) -> Option<Profile> {
        let length = |path: &str| self.length(path);
        Some(match self.word("profile")? {
            "domed" => Profile::Domed {
                edge: length("profile.edge")?,
            },
            "bevelled" => Profile::Bevelled {
                across: length("profile.across")?,
                down: length("profile.down")?,
            },
            "knife-edge" => Profile::KnifeEdge {
                edge: length("profile.edge")?,
                crown: length("profile.crown").unwrap_or(Length::mm(Decimal::ZERO)),
            },
            "concave" => Profile::Concave {
                dip: length("profile.dip")?,
            },
            "custom" => Profile::Custom(outline?),
            _ => Profile::Flat,
        })
    }

    fn pattern(&self) -> Option<Pattern> {
        let depth = self.length("pattern.depth")?;
        Some(Pattern {
            repeats: self.count("pattern.repeats"),
            depth,
            mean_depth: self.length("pattern.mean-depth").unwrap_or(depth),
            cover: Ratio::from_quantity(self.quantity("pattern.cover")?)?,
        })
    }

    /// The typed band; every value was checked when its field was.
    fn band(
        self,
        name: String,
        used: bool,
        whole: Metal,
        outline: Option<Outline>,
        hollow: Option<Hollow>,
    ) -> Option<Band> {
        let inside = match &self.get("size")?.value {
            Value::Size { size, .. } => Inside {
                size: Some(*size),
                diameter: diameter_of(size),
            },
            Value::Quantity { quantity, .. } => Inside {
                size: None,
                diameter: quantity.number,
            },
            _ => return None,
        };
        let thickness = self
            .length("thickness")
            .or_else(|| {
                self.quantity("outside")
                    .and_then(|outside| from_outside(outside, inside.diameter))
            })
            .or_else(|| {
                outline
                    .as_ref()
                    .and_then(|outline| from_f64(outline.crown()))
                    .map(Length::mm)
            })?;
        let zero = Length::mm(Decimal::ZERO);
        let title = match self.get("title").map(|value| &value.value) {
            Some(Value::Text(title)) => Some(title.clone()),
            _ => None,
        };
        Some(Band {
            title,
            inside,
            thickness,
            width: self.length("width")?,
            profile: self.profile(outline)?,
            comfort: self.length("comfort")?,
            alloy: whole.alloy,
            temper: whole.temper,
            ease_outer: self.length("ease.outer").unwrap_or(zero),
            ease_bore: self.length("ease.bore").unwrap_or(zero),
            pattern: self.pattern(),
            hollow,
            least_wall: self.length("limit.wall")?,
            marking: Marking::default(),
            name,
            used,
            at: self.at,
            terms: None,
            fields: self.values,
        })
    }
}

/// Thickness from the largest outside diameter.
fn from_outside(outside: &Quantity, bore: Number) -> Option<Length> {
    let twice = outside.number.minus(bore)?;
    let thickness = twice.over(Number::Exact(Decimal::TWO))?;
    match thickness {
        Number::Exact(value) => Some(Length::mm(value)),
        Number::Computed(value) => from_f64(value).map(Length::mm),
    }
}

/// Fields without which nothing can be computed, and which are not written.
fn lacking(nodes: &[Node<'_>]) -> Vec<&'static str> {
    let is_written = |path: &str| node(nodes, path).is_some();
    let word = |path: &str| node(nodes, path).and_then(Node::word).unwrap_or("");
    let mut wanted = vec!["size", "width", "profile", "alloy"];
    let kind = word("profile");
    if !is_written("outside") && kind != "custom" {
        wanted.insert(2, "thickness");
    }
    wanted.extend(match kind {
        "domed" | "knife-edge" => &["profile.edge"][..],
        "bevelled" => &["profile.across", "profile.down"],
        "concave" => &["profile.dip"],
        _ => &[],
    });
    if is_written("pattern") {
        wanted.extend(["pattern.depth", "pattern.cover"]);
    }
    if is_written("hollow") {
        wanted.extend(["hollow.shell", "hollow.sleeve"]);
    }
    for (holder, inner) in [
        ("hollow.ridge", "hollow.ridge.wide"),
        ("hollow.lip", "hollow.lip.wide"),
    ] {
        wanted.extend(is_written(holder).then_some(inner));
    }
    if word("hollow.stage") == "turning" {
        wanted.push("hollow.stage.play");
    }
    wanted.retain(|path| !is_written(path));
    wanted
}

/// Says what a band lacks; what was meant by a slip is not missing.
fn missing(
    name: &str,
    at: Span,
    mut wanted: Vec<&'static str>,
    slips: &[String],
    findings: &mut Vec<Finding>,
) {
    let meant = |path: &str| {
        slips
            .iter()
            .any(|slip| path.rsplit('.').next() == Some(slip))
    };
    wanted.retain(|path| !meant(path));
    let Some((last, rest)) = wanted.split_last() else {
        return;
    };
    let quoted = |path: &&str| format!("`{path}`");
    let named = match rest {
        [] => quoted(last),
        rest => format!(
            "{} and {}",
            rest.iter().map(quoted).collect::<Vec<_>>().join(", "),
            quoted(last)
        ),
    };
    let lines: Vec<String> = wanted
        .iter()
        .filter_map(|path| fields::find(path))
        .map(|field| format!("`{}`", check::example(field)))
        .collect();
    let help = format!("add {}", lines.join(", "));
    findings.push(
        ModelError::MissingField {
            at,
            band: name.to_owned(),
            fields: named,
            help,
        }
        .into(),
    );
}

/// Fields that exclude each other.
fn conflicts(fields: &Fields, findings: &mut Vec<Finding>) {
    let mut report = |first: &str, second: &str, message: &'static str, help: &'static str| {
        if let (Some(first), Some(second)) = (fields.get(first), fields.get(second)) {
            let place = |value: &FieldValue| value.at.unwrap_or(fields.at);
            findings.push(
                ModelError::Conflict {
                    second: place(second),
                    first: place(first),
                    message,
                    help,
                }
                .into(),
            );
        }
    };
    report(
        "hollow.ridge",
        "hollow.lip",
        "a ring is caught by ridges or by lips, not by both",
        "keep one of the two",
    );
    if fields.word("hollow.shell") == Some("full") {
        let help = "state a wall instead of `full`, or leave the other out";
        report(
            "hollow.shell",
            "hollow.ridge",
            "a full shell has no cavity for a ridge to stand in",
            help,
        );
        report(
            "hollow.shell",
            "hollow.sleeve.relief",
            "a full shell rests on the whole sleeve: none of it can be turned down",
            help,
        );
        if fields.is_written("hollow.shell.nose") {
            report(
                "hollow.shell",
                "hollow.shell.nose",
                "a full shell has no cavity with corners",
                help,
            );
        }
    }
    if let Some(count) = fields
        .count("hollow.ridge.count")
        .filter(|count| *count > 2)
    {
        findings.push(
            ModelError::OutOfRange {
                at: fields.place("hollow.ridge.count"),
                field: "count".to_owned(),
                found: count.to_string(),
                range: "1 or 2".to_owned(),
                help: "one ridge stands at mid width, two stand as far out as the roof allows"
                    .to_owned(),
            }
            .into(),
        );
    }
}
