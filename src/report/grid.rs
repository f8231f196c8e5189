//! A table for a terminal: columns as wide as their texts.

/// Where a column's texts stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    /// At its left edge.
    Left,
    /// At its right edge.
    Right,
}

/// Rows of cells as lines, two blanks before each column, none at a line's end.
pub(super) fn grid(rows: &[Vec<String>], sides: &[Side]) -> String {
    let length = |text: &str| text.chars().count();
    let width = |column: usize| rows.iter().filter_map(|row| row.get(column)).map(|text| length(text)).max();
    let widths: Vec<usize> = (0..sides.len()).map(|column| width(column).unwrap_or(0)).collect();
    let mut out = String::new();
    for row in rows {
        let mut line = String::new();
        for ((text, width), side) in row.iter().zip(&widths).zip(sides) {
            let blanks = " ".repeat(width - length(text));
            match side {
                Side::Left => line.push_str(&format!("  {text}{blanks}")),
                Side::Right => line.push_str(&format!("  {blanks}{text}")),
            }
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
    // A number and its unit stay on one line; a terminal and its `grep` want plain blanks.
    out.replace('\u{a0}', " ")
}
