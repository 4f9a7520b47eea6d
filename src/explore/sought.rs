//! What was sought and found: numbers for a target, values for an aim.

use crate::model::Value;
use crate::quantity::Number;

use super::axis::Axis;
use super::reading::Readout;

/// What a solve came to.
#[derive(Clone, Debug)]
pub struct Solution {
    /// What is sought, with its bounds.
    pub axis: Axis,
    /// What is to become something.
    pub left: Readout,
    /// What it is to become, as it was said.
    pub target: String,
    /// All values that do, in the order of the axis.
    pub roots: Vec<FoundRoot>,
    /// The nearest where none does; none where nothing between the bounds can be made.
    pub nearest: Option<Nearest>,
}

/// A value that does.
#[derive(Clone, Debug)]
pub struct FoundRoot {
    /// As a recipe says it.
    pub at: Value,
    /// What comes of it, in the unit of what is to become something.
    pub left: Number,
    /// The ends between which that stays so.
    pub flat: Option<(Value, Value)>,
}

/// The value that comes nearest.
#[derive(Clone, Debug)]
pub struct Nearest {
    /// As a recipe says it.
    pub at: Value,
    /// What comes of it.
    pub left: Number,
    /// What it was to become.
    pub right: Number,
    /// What stops it from coming nearer, in words.
    pub why: String,
}

/// One set of values, with what comes of it.
#[derive(Clone, Debug)]
pub struct Choice {
    /// The values, in the order of the axes.
    pub values: Vec<Value>,
    /// What is aimed at.
    pub aim: Number,
    /// What is aimed at second, where something is.
    pub second: Option<Number>,
}

/// A limit that binds, or would have to give.
#[derive(Clone, Debug)]
pub struct Binding {
    /// The limit, as it was said.
    pub text: String,
    /// How much the aim moves for one unit that the limit gives; none where it cannot be told.
    pub worth: Option<f64>,
    /// What its left side comes to.
    pub found: Option<Number>,
    /// Its left side; none of `holds`.
    pub of: Option<Readout>,
    /// What falls short first where it gives a little, in words; of `holds` alone.
    pub inside: Option<String>,
}

/// What a choice came to.
#[derive(Clone, Debug)]
pub struct Chosen {
    /// What is chosen.
    pub axes: Vec<Axis>,
    /// What is aimed at, and whether the more of it the better.
    pub aim: (Readout, bool),
    /// What is aimed at second.
    pub second: Option<(Readout, bool)>,
    /// The best; none where nothing keeps all limits, or nothing can be made.
    pub best: Option<Choice>,
    /// The limits that stop the best from being better.
    pub binding: Vec<Binding>,
    /// The fields of it that stand at a bound.
    pub at_bounds: Vec<String>,
    /// Where nothing keeps all limits: each that would have to give alone, and to what.
    pub gives: Vec<Binding>,
    /// The way from the best by one aim to the best by the other.
    pub traded: Vec<Choice>,
    /// The sets of stepped values that could not be chosen.
    pub left_out: Option<LeftOut>,
    /// The places of what moves nothing that is asked.
    pub still: Vec<usize>,
}

/// Sets of stepped values that cannot be made, or have nothing of what is asked.
#[derive(Clone, Debug)]
pub struct LeftOut {
    /// How many.
    pub count: usize,
    /// Of how many.
    pub of: usize,
    /// The first, as lines of a recipe; empty where nothing is stepped.
    pub first: String,
    /// Why it cannot be made; none where it lacks a value.
    pub why: Option<String>,
}

impl Chosen {
    /// Puts fields and limits into the order in which they are named.
    pub fn reorder(&mut self, axes: &[String], limits: &[String]) {
        let order: Vec<usize> = axes
            .iter()
            .filter_map(|path| self.axes.iter().position(|axis| axis.path == *path))
            .collect();
        let put = |values: &mut Vec<Value>| {
            *values = order
                .iter()
                .filter_map(|at| values.get(*at).cloned())
                .collect();
        };
        for choice in self.best.iter_mut().chain(&mut self.traded) {
            put(&mut choice.values);
        }
        self.axes = order
            .iter()
            .filter_map(|at| self.axes.get(*at).cloned())
            .collect();
        let new = |old: &usize| order.iter().position(|at| at == old);
        self.still = self.still.iter().filter_map(new).collect();
        let place = |names: &[String], name: &str| names.iter().position(|one| one == name);
        self.at_bounds.sort_by_key(|path| place(axes, path));
        self.binding.sort_by_key(|one| place(limits, &one.text));
        self.gives.sort_by_key(|one| place(limits, &one.text));
    }
}
