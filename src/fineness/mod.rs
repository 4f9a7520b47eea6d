//! Fineness: whether a band will carry a mark under a rulebook, and what must be said with it.
//!
//! Input: an [`Article`] (parts with their contents as exact decimals, solder, what the eye sees), the
//! [`Thresholds`] of a rulebook, compiled once, and perhaps a [`Claim`]. Output: a [`Judgement`] with every
//! test, its clause and its margin, and every [`Reason`] as a value; no text. All figures are exact decimals;
//! nothing is rounded before it is compared: what is found, with the shortfall that the text allows, must reach
//! the figure.

mod article;
mod claim;
mod compile;
mod conditions;
mod groups;
mod judge;
mod judgement;
mod judgements;
mod official;
mod precious;
mod read;
mod reason;
mod shortfall;
mod skin;
mod solder;
mod tag;
mod thresholds;

pub use article::{Article, ArticlePart, Assayed, Contents, Soldered};
pub use claim::Claim;
pub use compile::compiled;
pub use judge::judge;
pub use judgement::{FineMark, Judgement, OfficialMark, Ruling, Test, Tests, Weighed};
pub use judgements::{Judgements, RulesAsked};
pub use precious::{Portion, Portions, Precious};
pub use read::FinenessRead;
pub use reason::{BaseCase, Clause, Differing, Leave, Mixed, Reason, ReasonKind};
pub use shortfall::FinenessShortfall;
pub use skin::{Contact, contacts, overstated, restricted};
pub use thresholds::{
    AllowedShort, BaseRule, ExemptWeight, Exemption, Facts, MarkSystem, OfMetal, SayRule,
    SolderLeast, TagRule, Thresholds,
};
