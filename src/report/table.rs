//! Rows of cells in columns; one under the other where the page is too narrow for columns.

use crate::source::cells;

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

/// Rows in columns, each as wide as its widest cell.
pub(super) fn columns(rows: &[Vec<String>]) -> String {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| {
        rows.iter()
            .filter_map(|row| row.get(column))
            .map(|cell| cells(cell))
            .max()
            .unwrap_or(0)
    };
    let widths: Vec<usize> = (0..count).map(width).collect();
    let mut text = String::new();
    for row in rows {
        let mut line = String::new();
        for (cell, width) in row.iter().zip(&widths) {
            line.push_str(cell);
            line.extend(std::iter::repeat_n(
                ' ',
                width.saturating_sub(cells(cell)) + 2,
            ));
        }
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}

pub(super) fn row<const N: usize>(cells: [&str; N]) -> Vec<String> {
    cells.iter().map(|cell| (*cell).to_owned()).collect()
}
