//! Markdown with tables.

use crate::lists::{Section, Sheet};

/// All sheets, one below the other.
pub(super) fn markdown(sheets: &[Sheet]) -> String {
    let mut out = String::new();
    for sheet in sheets {
        if !out.is_empty() {
            out.push_str("\n---\n\n");
        }
        out.push_str(&format!("# {}\n\n{}\n", escaped(&sheet.title), escaped(&sheet.subtitle)));
        sheet.sections.iter().for_each(|s| section(s, &mut out));
    }
    out
}

fn section(section: &Section, out: &mut String) {
    if !section.heading.is_empty() {
        out.push_str(&format!("\n## {}\n", escaped(&section.heading)));
    }
    for line in &section.lead {
        out.push_str(&format!("\n{}\n", escaped(line)));
    }
    if let Some(table) = &section.table {
        let row = |cells: &[String]| format!("| {} |\n", cells.iter().map(|c| escaped(c)).collect::<Vec<_>>().join(" | "));
        let rule: Vec<&str> = (0..table.head.len()).map(|i| if table.right.contains(&i) { "---:" } else { "---" }).collect();
        out.push_str(&format!("\n{}| {} |\n", row(&table.head), rule.join(" | ")));
        table.rows.iter().for_each(|r| out.push_str(&row(r)));
    }
    for card in &section.cards {
        out.push_str(&format!("\n### {}\n\n", escaped(&card.title)));
        card.lines.iter().for_each(|l| out.push_str(&format!("- {}\n", escaped(l))));
    }
    if !section.notes.is_empty() {
        out.push('\n');
        section.notes.iter().for_each(|n| out.push_str(&format!("- {}\n", escaped(n))));
    }
}

/// Text that no reader of Markdown takes for anything else: marks are escaped, angle brackets and ampersands are entities.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    let starts_item =
        text.trim_start().split_once(['.', ')']).is_some_and(|(n, _)| !n.is_empty() && n.chars().all(|c| c.is_ascii_digit()));
    let mut number_mark = starts_item;
    for (i, c) in text.char_indices() {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '\\' | '`' | '*' | '_' | '[' | ']' | '|' | '~' | '#' | '!' => out.extend(['\\', c]),
            '-' | '+' if i == 0 => out.extend(['\\', c]),
            '.' | ')' if number_mark => {
                out.extend(['\\', c]);
                number_mark = false;
            }
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::escaped;

    #[test]
    fn no_name_becomes_a_mark() {
        assert_eq!(escaped("1. *Bo's* <b>|rolls|</b> & _pie_"), "1\\. \\*Bo's\\* &lt;b&gt;\\|rolls\\|&lt;/b&gt; &amp; \\_pie\\_");
        assert_eq!(escaped("- item"), "\\- item");
        assert_eq!(escaped("two\nlines"), "two lines");
        assert_eq!(escaped("2.6 units"), "2\\.6 units");
    }
}
