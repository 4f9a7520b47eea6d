//! Rows of cells in columns; one under the other where the page is too narrow for columns.

use crate::source::cells;

use super::page::wrapped;

/// Lays rows out in columns, two spaces apart, each line indented by `indent`; where the widest line would be
/// longer than `width`, each row's first cell stands alone and the others under it.
pub(super) fn table(rows: &[Vec<String>], indent: usize, width: usize) -> String {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let widths: Vec<usize> = (0..columns)
        .map(|column| {
            let of = rows.iter().filter_map(|row| row.get(column));
            of.map(|cell| cells(cell)).max().unwrap_or(0)
        })
        .collect();
    let whole = indent + widths.iter().sum::<usize>() + 2 * columns.saturating_sub(1);
    let mut text = String::new();
    for row in rows {
        if whole > width {
            for (place, cell) in row.iter().enumerate().filter(|(_, cell)| !cell.is_empty()) {
                let deeper = if place > 0 { 2 } else { 0 };
                text.push_str(&format!("{:1$}{cell}\n", "", indent + deeper));
            }
            continue;
        }
        let mut line = " ".repeat(indent);
        for (cell, width) in row.iter().zip(&widths) {
            let pad = width.saturating_sub(cells(cell)) + 2;
            line.push_str(&format!("{cell}{:pad$}", ""));
        }
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}

/// Columns in tables one under the other, where they do not fit beside each other: each table begins with the first
/// `keep` columns.
pub(super) fn banks(rows: &[Vec<String>], keep: usize, width: usize) -> String {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    if keep >= count {
        return table(rows, 0, usize::MAX);
    }
    let wide = |column: usize| {
        let of = rows.iter().filter_map(|row| row.get(column));
        of.map(|cell| cells(cell)).max().unwrap_or(0) + 2
    };
    let first: usize = (0..keep).map(wide).sum();
    let mut tables: Vec<Vec<usize>> = Vec::new();
    let mut taken = usize::MAX;
    for column in keep..count {
        if taken.saturating_add(wide(column)) > width + 2 {
            tables.push((0..keep).collect());
            taken = first;
        }
        taken += wide(column);
        if let Some(last) = tables.last_mut() {
            last.push(column);
        }
    }
    let texts: Vec<String> = tables
        .iter()
        .map(|columns| {
            let part: Vec<Vec<String>> = rows
                .iter()
                .map(|row| {
                    let cell = |column: &usize| row.get(*column).cloned().unwrap_or_default();
                    columns.iter().map(cell).collect()
                })
                .collect();
            table(&part, 0, usize::MAX)
        })
        .collect();
    texts.join("\n")
}

/// Rows without heads: a label, and what stands behind it wrapped beside it, or under it on a narrow page.
pub(super) fn listed(rows: &[Vec<String>], width: usize) -> String {
    let plain = table(rows, 0, width);
    if plain.lines().count() == rows.len() {
        return plain;
    }
    let label = rows.iter().filter_map(|row| row.first());
    let label = label.map(|label| cells(label)).max().unwrap_or(0) + 2;
    let beside = width.saturating_sub(label) >= 30;
    let mut text = String::new();
    for row in rows {
        let Some((first, rest)) = row.split_first() else {
            continue;
        };
        let rest: Vec<&str> = rest
            .iter()
            .map(String::as_str)
            .filter(|cell| !cell.is_empty())
            .collect();
        let indent = if beside { label } else { 2 };
        let lines = wrapped(&rest.join("  "), width.saturating_sub(indent).max(20));
        if !beside {
            text.push_str(&format!("{first}\n"));
        }
        for (place, line) in lines.iter().enumerate() {
            let label = if place == 0 && beside { first } else { "" };
            let pad = indent.saturating_sub(cells(label));
            text.push_str(format!("{label}{:pad$}{line}", "").trim_end());
            text.push('\n');
        }
    }
    text
}

pub(super) fn row<const N: usize>(cells: [&str; N]) -> Vec<String> {
    cells.iter().map(|cell| (*cell).to_owned()).collect()
}

/// Heads of columns whose cells say themselves what they are.
const SELF_SAID: &[&str] = &[
    "meaning",
    "takes",
    "is",
    "what it is",
    "what they are",
    "title",
];

/// Rows in columns, the first row their heads; where they do not fit, an entry a row, each cell behind its head.
pub(super) fn fitted(rows: &[Vec<String>], indent: usize, width: usize) -> String {
    let plain = table(rows, indent, width);
    let (Some((heads, rest)), true) = (rows.split_first(), plain.lines().count() != rows.len())
    else {
        return plain;
    };
    let mut text = String::new();
    for row in rest {
        let mut said = heads.iter().zip(row).filter(|(_, cell)| !cell.is_empty());
        let Some((_, first)) = said.next() else {
            continue;
        };
        for line in wrapped(first, width.saturating_sub(indent).max(20)) {
            text.push_str(&format!("{:indent$}{line}\n", ""));
        }
        let all: Vec<String> = said
            .map(|(head, cell)| match SELF_SAID.contains(&head.as_str()) {
                true => cell.clone(),
                false => format!("{head} {cell}").trim_start().to_owned(),
            })
            .collect();
        for line in wrapped(&all.join("; "), width.saturating_sub(indent + 2).max(20)) {
            if !line.is_empty() {
                text.push_str(&format!("{:indent$}  {line}\n", ""));
            }
        }
    }
    text
}
