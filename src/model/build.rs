//! One band's settings to a typed [`Band`]: every field resolved, what is missing named, parts put together.

use std::sync::Arc;

use crate::finding::{Finding, Weight};
use crate::schema::{self, FieldId, PLACED, Under};
use crate::source::Span;

use super::assayed;
use super::band::{Band, Build, Caught, Metal, Profile, Roof};
use super::check;
use super::error::ModelError;
use super::field_value;
use super::fineness::per_thousand;
use super::idle::idle;
use super::lacks::{lacking, missing};
use super::marking::{Assay, BandSolder, Mark, Marking};
use super::merge::Node;
use super::merge::node;
use super::metals::metal;
use super::money;
use super::outline::Outline;
use super::resolve::{LONGEST_CHAIN, Progress, Resolver, Sought, too_long};
use super::review::review;
use super::unlikely::unlikely;
use super::value::Value;
use super::values::{FieldValue, Values};
use super::workshop::follows;
use super::written_cuts;

impl Resolver<'_> {
    /// A band, resolved and typed once.
    pub fn band(&mut self, place: usize, findings: &mut Vec<Finding>) -> Option<Arc<Band>> {
        let key = Sought::Band(place);
        if let Some(Progress::DoneBand(band)) = self.states.get(&key) {
            return band.clone();
        }
        let at = self.bands.get(place).map(|settings| settings.at)?;
        if self.chain.len() >= LONGEST_CHAIN {
            return too_long(at, findings);
        }
        self.states.insert(key, Progress::Working);
        self.chain.push(key);
        let band = typed(self, place, findings).map(Arc::new);
        self.chain.pop();
        // Its fields stand in the band from now on.
        for value in band.iter().flat_map(|band| band.fields.iter()) {
            self.states.remove(&Sought::Field(place, value.field.id));
        }
        self.states.insert(key, Progress::DoneBand(band.clone()));
        band
    }
}

/// Resolves and types one band; `None` after saying what is wrong with it.
fn typed(resolver: &mut Resolver<'_>, place: usize, findings: &mut Vec<Finding>) -> Option<Band> {
    let before = findings.len();
    let settings = resolver.bands.get(place)?;
    if !settings.damaged {
        review(&settings.nodes, "", None, findings);
        written_cuts::review_named(&settings.named_cuts, findings);
    }
    let (name, at, used) = (settings.name.clone(), settings.at, settings.used);
    let parent = settings.parent;
    // What is not there, or could not be read, was reported; so was what a parent lacks.
    let excused = settings.broken || settings.orphan || used;
    let written = written(&settings.nodes);
    let mut values = Values::default();
    for ((field, _, holder), is_written) in PLACED.iter().zip(&written) {
        // The defaults of a block count only where the block is written.
        let kind = || {
            let holder = schema::find(field.holder())?;
            values.get(holder.id).map(|value| &value.value)
        };
        let fits = || {
            field.only.is_empty()
                || matches!(kind(), Some(Value::Word(kind)) if field.only.contains(&kind.as_str()))
        };
        let stands = || match *holder {
            Under::Band | Under::Always => fits(),
            Under::Field(holder) => written.get(holder) == Some(&true) && fits(),
        };
        if (*is_written || field.default.is_some() && stands())
            && let Some(value) = resolver.field(place, field, at, findings)
        {
            values.put(value);
        }
    }
    let fields = Fields {
        values,
        written,
        at,
    };
    let outline = resolver.outline(place, fields.values.length(FieldId::Width), findings);
    let meant = findings.iter().skip(before).filter_map(Finding::meant);
    let mut slips: Vec<String> = meant.map(str::to_owned).collect();
    // A field that ran into the one before it, for want of a comma, is written: what is wrong is said of that one.
    run_in(&resolver.bands.get(place)?.nodes, &mut slips);
    if !excused {
        // What a parent of the recipe's own lacks is said of the parent.
        let said = parent
            .and_then(|parent| resolver.bands.get(parent))
            .filter(|parent| !parent.used)
            .map_or_else(Vec::new, |parent| {
                lacking(&parent.nodes, !parent.named_cuts.is_empty())
            });
        let settings = resolver.bands.get(place)?;
        let wanted = lacking(&settings.nodes, !settings.named_cuts.is_empty())
            .into_iter()
            .filter(|id| !said.contains(id))
            .collect();
        missing(&name, at, wanted, &slips, findings);
    }
    let whole = fields.metal(FieldId::Alloy, FieldId::Temper, None, resolver, findings);
    let hollow = whole
        .as_ref()
        .and_then(|whole| fields.hollow(whole, resolver, findings));
    let marking = fields.marking(&name, resolver, findings);
    conflicts(&fields, findings);
    let cuts = resolver.cuts(place, &fields.values, &|id| fields.is_written(id), findings);
    let against = money::against(&fields.values, place, resolver, findings);
    let terms = money::terms(&fields.values, place, resolver, findings);
    if findings
        .iter()
        .skip(before)
        .any(|finding| finding.weight() == Weight::Wrong)
    {
        return None;
    }
    let band = fields.band(name, used, whole?, outline, hollow)?;
    let band = Band {
        cuts: cuts.into(),
        ..band
    };
    if let Some(problem) = follows(&band) {
        findings.push(problem.into());
        return None;
    }
    let mut inherits = Vec::new();
    if let Some(settings) = parent.and_then(|parent| resolver.bands.get(parent)) {
        places(&settings.nodes, &mut inherits);
    }
    let band = Band {
        inherits: inherits.into(),
        ..band
    };
    if !used {
        findings.extend(assayed::review(&band, &marking));
    }
    let band = Band {
        against: against.filter(|_| terms.is_some()),
        terms,
        marking,
        ..band
    };
    if !used {
        findings.extend(unlikely(&band).into_iter().map(Finding::from));
        findings.extend(idle(&band).into_iter().map(Finding::from));
    }
    Some(band)
}

/// The words that ran into the values of fields, blocks included.
fn run_in(nodes: &[Node<'_>], found: &mut Vec<String>) {
    for node in nodes {
        let values = node.winner().map_or(&[][..], |place| place.values);
        found.extend(field_value::surplus(values).into_iter().map(str::to_owned));
        run_in(&node.children, found);
    }
}

/// Where each line of some settings stands.
fn places(nodes: &[Node<'_>], found: &mut Vec<Span>) {
    for node in nodes {
        found.extend(node.winner().map(|place| place.at));
        places(&node.children, found);
    }
}

/// Which fields the recipe writes, in the order of the vocabulary, blocks included.
fn written(nodes: &[Node<'_>]) -> Vec<bool> {
    let mut found: Vec<Option<&Node<'_>>> = Vec::with_capacity(schema::of_band().len());
    for (field, word, holder) in &*PLACED {
        let head = |nodes: &'_ [Node<'_>]| nodes.iter().position(|node| node.head == *word);
        found.push(match *holder {
            Under::Band => head(nodes).and_then(|place| nodes.get(place)),
            Under::Always => node(nodes, field.path),
            Under::Field(holder) => found.get(holder).copied().flatten().and_then(|holder| {
                head(&holder.children).and_then(|place| holder.children.get(place))
            }),
        });
    }
    found.iter().map(Option::is_some).collect()
}

/// The fields of a band that have a value.
struct Fields {
    values: Values,
    /// Which fields the recipe writes, in the order of the vocabulary, blocks included.
    written: Vec<bool>,
    at: Span,
}

impl Fields {
    fn word(&self, id: FieldId) -> Option<&str> {
        self.values.word(id)
    }

    fn is_written(&self, id: FieldId) -> bool {
        self.written.get(id as usize) == Some(&true)
    }

    fn place(&self, id: FieldId) -> Span {
        self.values.at(id).unwrap_or(self.at)
    }

    /// The alloy and temper of a part; what it does not state is that of the whole.
    fn metal(
        &self,
        alloy: FieldId,
        temper: FieldId,
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
        Some(metal(found, state, self.values.at(temper), findings))
    }

    fn hollow(
        &self,
        whole: &Metal,
        resolver: &mut Resolver<'_>,
        findings: &mut Vec<Finding>,
    ) -> Option<Build> {
        if !self.is_written(FieldId::Hollow) {
            return None;
        }
        let shell = self.metal(
            FieldId::HollowShellAlloy,
            FieldId::HollowShellTemper,
            Some(whole),
            resolver,
            findings,
        )?;
        let sleeve = self.metal(
            FieldId::HollowSleeveAlloy,
            FieldId::HollowSleeveTemper,
            Some(whole),
            resolver,
            findings,
        )?;
        let full = self.word(FieldId::HollowShell) == Some("full");
        let states = |id: FieldId| self.values.length(id).is_some();
        Some(Build {
            roof: match (full, self.word(FieldId::HollowShellRoof)) {
                (true, _) => Roof::Full,
                (false, Some("straight")) => Roof::Straight,
                _ => Roof::Uniform,
            },
            shell,
            sleeve,
            caught: if states(FieldId::HollowRidge) && states(FieldId::HollowRidgeWide) {
                Caught::ByRidges
            } else if states(FieldId::HollowLip) && states(FieldId::HollowLipWide) {
                Caught::ByLips
            } else {
                Caught::Nowhere
            },
            turning: self.word(FieldId::HollowStage) == Some("turning"),
        })
    }

    /// What the band states of its marks.
    fn marking(
        &self,
        name: &str,
        resolver: &mut Resolver<'_>,
        findings: &mut Vec<Finding>,
    ) -> Marking {
        let value = |id: FieldId| self.values.get(id).map(|value| &value.value);
        let text = |id: FieldId| self.values.text(id).map(str::to_owned);
        let fineness = |id: FieldId| value(id).and_then(per_thousand);
        let yes = |id: FieldId| self.word(id).map(|word| word == "yes");
        let assay = |id: FieldId, dated: FieldId, lot: FieldId| {
            let notes = [
                value(dated).map(check::shown),
                text(lot).map(|lot| format!("lot {lot}")),
            ];
            let note: Vec<String> = notes.into_iter().flatten().collect();
            fineness(id).map(|figure| Assay {
                figure,
                note: note.join(", "),
            })
        };
        let solder = self.word(FieldId::Solder).filter(|word| *word != "none");
        let solder = solder.and_then(|word| {
            let amount = self.values.quantity(FieldId::SolderAmount);
            Some(BandSolder {
                alloy: resolver.alloy(word, self.place(FieldId::Solder), findings)?,
                amount: amount.and_then(super::values::decimal),
                authorised: yes(FieldId::SolderAuthorised),
            })
        });
        let asked = resolver.rules.asked.get(name);
        Marking {
            own: resolver.rules.own.clone(),
            asked: asked.cloned().unwrap_or_default(),
            assay: assay(FieldId::Assay, FieldId::AssayDated, FieldId::AssayLot),
            shell: assay(
                FieldId::HollowShellAssay,
                FieldId::HollowShellAssayDated,
                FieldId::HollowShellAssayLot,
            ),
            sleeve: assay(
                FieldId::HollowSleeveAssay,
                FieldId::HollowSleeveAssayDated,
                FieldId::HollowSleeveAssayLot,
            ),
            whole: fineness(FieldId::AssayWhole),
            solder_stated: self.is_written(FieldId::Solder),
            solder,
            apart: yes(FieldId::HollowApart),
            mark: self.is_written(FieldId::Mark).then(|| Mark {
                deep: self.values.length(FieldId::MarkDeep),
                on: self.word(FieldId::MarkOn).map(str::to_owned),
                lasered: self.word(FieldId::MarkBy) == Some("laser"),
            }),
            tag: text(FieldId::Tag),
            plating: self
                .word(FieldId::Plating)
                .filter(|word| *word != "none")
                .map(str::to_owned),
            plating_thick: self.values.length(FieldId::PlatingThickness),
        }
    }

    fn profile(&self, outline: Option<Outline>) -> Option<Profile> {
        let states = |id: FieldId| self.values.length(id).map(drop);
        Some(match self.word(FieldId::Profile)? {
            "domed" => {
                states(FieldId::ProfileEdge)?;
                Profile::Domed
            }
            "bevelled" => {
                states(FieldId::ProfileAcross).and(states(FieldId::ProfileDown))?;
                Profile::Bevelled
            }
            "knife-edge" => {
                states(FieldId::ProfileEdge)?;
                Profile::KnifeEdge
            }
            "concave" => {
                states(FieldId::ProfileDip)?;
                Profile::Concave
            }
            "custom" => Profile::Custom(outline?),
            _ => Profile::Flat,
        })
    }

    /// The band; every value was checked when its field was.
    fn band(
        self,
        name: String,
        used: bool,
        whole: Metal,
        outline: Option<Outline>,
        hollow: Option<Build>,
    ) -> Option<Band> {
        let band = Band {
            profile: self.profile(outline)?,
            settled: false,
            alloy: whole.alloy,
            temper: whole.temper,
            hollow,
            marking: Marking::default(),
            inherits: Arc::default(),
            name,
            used,
            at: self.at,
            terms: None,
            against: None,
            cuts: Arc::default(),
            fields: self.values,
        };
        // What a faulty recipe lacks was said; nothing can be computed of it.
        let stated = [FieldId::Size, FieldId::Width, FieldId::LimitWall];
        let sleeve = band.hollow.is_none() || band.fields.get(FieldId::HollowSleeve).is_some();
        let whole = sleeve && stated.iter().all(|id| band.fields.get(*id).is_some());
        band.thickness().filter(|_| whole).map(|_| band)
    }
}

/// Fields that exclude each other.
fn conflicts(fields: &Fields, findings: &mut Vec<Finding>) {
    let mut report = |first: FieldId,
                      second: FieldId,
                      message: &'static str,
                      help: &'static str| {
        if let (Some(first), Some(second)) = (fields.values.get(first), fields.values.get(second)) {
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
        FieldId::HollowRidge,
        FieldId::HollowLip,
        "a ring is caught by ridges or by lips, not by both",
        "keep one of the two",
    );
    if fields.word(FieldId::HollowShell) == Some("full") {
        let help = "state a wall instead of `full`, or leave the other out";
        report(
            FieldId::HollowShell,
            FieldId::HollowRidge,
            "a full shell has no cavity for a ridge to stand in",
            help,
        );
        report(
            FieldId::HollowShell,
            FieldId::HollowSleeveRelief,
            "a full shell rests on the whole sleeve: none of it can be turned down",
            help,
        );
        if fields.word(FieldId::HollowShellRoof) == Some("straight") {
            report(
                FieldId::HollowShell,
                FieldId::HollowShellRoof,
                "a full shell has no cavity with a roof",
                help,
            );
        }
        if fields.is_written(FieldId::HollowShellNose) {
            report(
                FieldId::HollowShell,
                FieldId::HollowShellNose,
                "a full shell has no cavity with corners",
                help,
            );
        }
    }
    if let Some(count) = fields
        .values
        .count(FieldId::HollowRidgeCount)
        .filter(|count| *count > 2)
    {
        findings.push(
            ModelError::OutOfRange {
                at: fields.place(FieldId::HollowRidgeCount),
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
