//! Plain tables and lines for a terminal.

/// Rows of cells in columns, two blanks apart.
pub(super) struct Table {
    /// Which columns stand to the right: those of figures.
    right: &'static [usize],
    rows: Vec<Vec<String>>,
}

impl Table {
    /// An empty table; columns in `right` stand to the right.
    pub(super) fn new(right: &'static [usize]) -> Table {
        Table { right, rows: Vec::new() }
    }

    /// Adds a row.
    pub(super) fn row<const N: usize>(&mut self, cells: [String; N]) {
        self.rows.push(cells.into());
    }

    /// Adds a row of any length.
    pub(super) fn row_of(&mut self, cells: Vec<String>) {
        self.rows.push(cells);
    }

    /// The rows, each indented by two blanks and ended.
    pub(super) fn write(&self, out: &mut String) {
        let columns = self.rows.iter().map(Vec::len).max().unwrap_or(0);
        let width = |i: usize| self.rows.iter().filter_map(|r| r.get(i)).map(|c| c.chars().count()).max().unwrap_or(0);
        let widths: Vec<usize> = (0..columns).map(width).collect();
        for row in &self.rows {
            let mut line = String::from(" ");
            for (i, cell) in row.iter().enumerate().filter(|(i, _)| widths[*i] > 0) {
                let wide = widths[i];
                let padded = if self.right.contains(&i) { format!(" {cell:>wide$}") } else { format!(" {cell:<wide$}") };
                line.push_str(&padded);
                line.push(' ');
            }
            out.push_str(line.trim_end());
            out.push('\n');
        }
    }
}

/// A heading with a blank line before it.
pub(super) fn heading(out: &mut String, words: &str) {
    if !out.is_empty() {
        out.push('\n');
    }
    out.push_str(words);
    out.push('\n');
}

/// `text` with a capital and a full stop.
pub(super) fn sentence(text: &str) -> String {
    let mut said = crate::rotation::capital(text);
    if !said.ends_with(['.', '!', '?']) {
        said.push('.');
    }
    said
}
