//! What was sought for a target, and what was chosen for an aim, as text and as machine output.

use rust_decimal::Decimal;
use serde_json::{Map, Value as Json, json};

use crate::explore::{Axis, Binding, Choice, Chosen, LeftOut, Readout, Solution};
use crate::model::{Value, check};
use crate::quantity::Number;

use super::json::quantity_json;
use super::number::{Digits, Shown, places, shown, shown_in};
use super::plot::traded_plot;
use super::table::banks;

/// A number of a reading with its unit.
fn with_unit(number: Number, unit: &str, digits: Digits) -> String {
    let shown = shown_in(number, unit, digits).marked();
    format!("{shown} {unit}").trim_end().to_owned()
}

/// The same as people read it.
fn read(of: &Readout, number: Number, digits: Digits) -> String {
    let (number, unit) = of.read(number);
    with_unit(number, unit, digits)
}

/// Two numbers of a reading that are not the same, with as many digits as tell them apart.
fn apart(of: &Readout, both: [Number; 2], digits: Digits) -> (String, String) {
    let (_, unit) = of.read(Number::ZERO);
    let shown_by = |more: u32| {
        both.map(|number| match more {
            0 => shown_in(of.read(number).0, unit, digits),
            more => shown(of.read(number).0, places(unit) + more, digits),
        })
    };
    let differ = |[left, right]: &[Shown; 2]| {
        left.text.parse::<f64>().ok() != right.text.parse::<f64>().ok()
    };
    let mut finer = (0..=FINER).map(shown_by);
    let found = finer.find(differ).unwrap_or_else(|| shown_by(0));
    let [left, right] = found.map(|one| format!("{} {unit}", one.marked()).trim_end().to_owned());
    (left, right)
}

/// How many digits more are shown at most to tell two numbers apart.
const FINER: u32 = 9;

/// What a solve came to, a line for each value that does; each is a line that `try` takes.
#[must_use]
pub fn solution(solution: &Solution, digits: Digits) -> String {
    let (axis, left) = (&solution.axis, &solution.left);
    let line = |at: &Value| axis.line(at);
    let of = |number: Number| read(left, number, digits);
    let mut text = String::new();
    for root in &solution.roots {
        text.push_str(&format!(
            "{}   {}: {}",
            line(&root.at),
            left.name,
            of(root.left)
        ));
        if let Some((from, to)) = &root.flat {
            let (from, to) = (check::written(from), check::written(to));
            text.push_str(&format!("   the same from {from} to {to}"));
        }
        text.push('\n');
    }
    if solution.roots.is_empty() {
        text.push_str(&format!("nothing gives {}", solution.target));
        text.push_str(&match (axis.value(0), axis.value(1)) {
            (Some(from), Some(to)) if axis.free() => format!(
                " with {} from {} to {}\n",
                axis.path,
                check::written(&from),
                check::written(&to)
            ),
            _ => format!(" with any of the values of {}\n", axis.path),
        });
        text.push_str(&match &solution.nearest {
            Some(near) => {
                let (left_is, right_is) = apart(left, [near.left, near.right], digits);
                format!(
                    "nearest: {}   {}: {left_is}, which was to be {right_is}\nwhat stops it: {}\n",
                    line(&near.at),
                    left.name,
                    near.why
                )
            }
            None => "none of these bands can be made, or none has what is asked\n".to_owned(),
        });
    }
    text
}

/// The same as machine output.
#[must_use]
pub fn solution_json(solution: &Solution) -> Json {
    let unit = &solution.left.unit;
    let number = |number: Number| Json::Object(quantity_json(number, unit));
    let roots: Vec<Json> = solution
        .roots
        .iter()
        .map(|root| {
            let flat = root.flat.as_ref();
            let flat = flat.map(|(from, to)| [check::written(from), check::written(to)]);
            json!({ "value": check::written(&root.at), "result": number(root.left), "same": flat })
        })
        .collect();
    let nearest = solution.nearest.as_ref().map(|near| {
        json!({
            "value": check::written(&near.at),
            "result": number(near.left),
            "wanted": number(near.right),
            "stopped": near.why,
        })
    });
    json!({
        "sought": solution.axis.path,
        "target": solution.target,
        "met": !solution.roots.is_empty(),
        "found": roots,
        "nearest": nearest,
    })
}

/// What was chosen.
#[must_use]
pub fn chosen(chosen: &Chosen, digits: Digits, width: usize) -> String {
    let (aim, most) = &chosen.aim;
    let mut text = String::new();
    let Some(best) = &chosen.best else {
        text.push_str("nothing keeps all limits\n");
        if chosen.gives.is_empty() {
            text.push_str("no single limit giving way would be enough, or nothing between these bounds can be made\n");
        } else {
            text.push_str("what would have to give, alone:\n");
        }
        for one in &chosen.gives {
            let to = match (one.found.zip(one.of.as_ref()), &one.inside) {
                (Some((found, of)), _) => format!(": {} can be had", read(of, found, digits)),
                (None, Some(inside)) => format!(": {inside}"),
                (None, None) => String::new(),
            };
            text.push_str(&format!("  {}{to}\n", one.text));
        }
        text.extend(chosen.left_out.as_ref().map(left_out));
        return text;
    };
    for (place, (axis, value)) in chosen.axes.iter().zip(&best.values).enumerate() {
        let at_bound = if chosen.still.contains(&place) {
            "   moves nothing that is asked"
        } else if chosen.at_bounds.contains(&axis.path) {
            "   at its bound"
        } else {
            ""
        };
        text.push_str(&format!("{}{at_bound}\n", axis.line(value)));
    }
    let word = if *most { "most" } else { "least" };
    text.push_str(&format!(
        "{word} {}: {}\n",
        aim.name,
        read(aim, best.aim, digits)
    ));
    for one in &chosen.binding {
        text.push_str(&format!(
            "  binds: {}{}\n",
            one.text,
            worth(one, aim, *most)
        ));
    }
    text.extend(chosen.left_out.as_ref().map(left_out));
    if !chosen.traded.is_empty() {
        text.push('\n');
        text.push_str(&traded(chosen, digits, width));
        if let Some(plot) = traded_plot(chosen, width) {
            text.push('\n');
            text.push_str(&plot);
        }
    }
    text
}

/// What of stepped values was left out, a line.
fn left_out(left: &LeftOut) -> String {
    let why = (left.why.as_deref()).unwrap_or("something that is asked has no value there");
    match (left.first.as_str(), left.of) {
        ("", _) => format!("why: {why}\n"),
        (first, 1) => format!("left out: `{first}`: {why}\n"),
        (first, of) => format!("left out: {} of {of}, first `{first}`: {why}\n", left.count),
    }
}

/// What one unit of a binding limit is worth, or which limit it is of all that hold, in words.
fn worth(one: &Binding, aim: &Readout, most: bool) -> String {
    if let Some(inside) = &one.inside {
        return format!("; else {inside}");
    }
    let Some((worth, of)) = one.worth.zip(one.of.as_ref()) else {
        return String::new();
    };
    let (part, unit) = of.read(Number::Exact(Decimal::ONE));
    let worth = Number::Computed(worth / part.to_f64());
    let shown = read(aim, worth, Digits::Useful);
    // What is less than can be shown is not told.
    if !shown.contains(|digit: char| ('1'..='9').contains(&digit)) {
        return String::new();
    }
    let unit = match unit {
        "" | "%" => format!("1 {unit}"),
        unit => unit.to_owned(),
    };
    let way = if most { "more" } else { "less" };
    format!("; each {} that it gives is {shown} {way}", unit.trim_end())
}

/// The way from one aim to the other as a table.
fn traded(chosen: &Chosen, digits: Digits, width: usize) -> String {
    let Some((second, _)) = &chosen.second else {
        return String::new();
    };
    let (aim, _) = &chosen.aim;
    let mut header: Vec<String> = vec![aim.name.clone(), second.name.clone()];
    header.extend(chosen.axes.iter().map(|axis| axis.path.clone()));
    let unit = |one: &Readout| one.read(Number::ZERO).1.to_owned();
    let mut under = vec![unit(aim), unit(second)];
    under.extend(chosen.axes.iter().map(|axis| axis.unit.clone()));
    let mut rows = vec![header, under];
    for choice in &chosen.traded {
        let number = |number: Option<Number>, of: &Readout| {
            number.map_or_else(String::new, |one| {
                let (number, unit) = of.read(one);
                shown_in(number, unit, digits).marked()
            })
        };
        let mut row = vec![number(Some(choice.aim), aim), number(choice.second, second)];
        row.extend(
            chosen
                .axes
                .iter()
                .zip(&choice.values)
                .map(|(axis, value)| bare(axis, value)),
        );
        rows.push(row);
    }
    banks(&rows, 2, width)
}

/// A value without the unit that stands in its column's header.
fn bare(axis: &Axis, value: &Value) -> String {
    let text = check::written(value);
    let short = text.strip_suffix(axis.unit.as_str()).map(str::trim_end);
    short
        .filter(|_| !axis.unit.is_empty())
        .map_or_else(|| text.clone(), str::to_owned)
}

/// The same as machine output.
#[must_use]
pub fn chosen_json(chosen: &Chosen) -> Json {
    let (aim, most) = &chosen.aim;
    let number = |number: Number, unit: &str| Json::Object(quantity_json(number, unit));
    let choice = |choice: &Choice| {
        let axes = chosen.axes.iter().zip(&choice.values);
        let values: Map<String, Json> = axes
            .map(|(axis, value)| (axis.path.clone(), Json::from(check::written(value))))
            .collect();
        let second = choice.second.zip(chosen.second.as_ref());
        let second = second.map(|(found, (second, _))| number(found, &second.unit));
        json!({ "values": values, "aim": number(choice.aim, &aim.unit), "second": second })
    };
    let binding = |one: &Binding| {
        json!({
            "limit": one.text,
            "worth": one.worth,
            "found": one.found.zip(one.of.as_ref()).map(|(found, of)| number(found, &of.unit)),
            "inside": one.inside,
        })
    };
    json!({
        "aim": aim.name,
        "most": most,
        "best": chosen.best.as_ref().map(choice),
        "bounds": chosen.at_bounds,
        "binding": chosen.binding.iter().map(binding).collect::<Vec<_>>(),
        "gives": chosen.gives.iter().map(binding).collect::<Vec<_>>(),
        "traded": chosen.traded.iter().map(choice).collect::<Vec<_>>(),
        "still": chosen.still.iter().filter_map(|place| Some(&chosen.axes.get(*place)?.path)).collect::<Vec<_>>(),
        "left_out": chosen.left_out.as_ref().map(|left| json!({
            "count": left.count,
            "of": left.of,
            "first": left.first,
            "why": left.why,
        })),
    })
}
