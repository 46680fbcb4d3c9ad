//! Comma-separated values: every table with its list and section before each row.

use super::PrintError;
use crate::lists::Sheet;

/// All tables and cards as records of one length, lines ended by CR LF as RFC 4180 has them. The name of the list and of the
/// section stand first in every record; the first record of a table names its columns.
pub(super) fn csv(sheets: &[Sheet]) -> Result<Vec<u8>, PrintError> {
    let mut records: Vec<Vec<String>> = Vec::new();
    for sheet in sheets {
        for section in &sheet.sections {
            let mut put = |cells: &[String]| {
                let first = [sheet.title.clone(), section.heading.clone()];
                records.push(first.iter().chain(cells).map(|c| guarded(c)).collect());
            };
            if let Some(table) = &section.table {
                put(&table.head);
                table.rows.iter().for_each(|r| put(r));
            }
            section.cards.iter().for_each(|c| put(&[std::slice::from_ref(&c.title), c.lines.as_slice()].concat()));
        }
    }
    let width = records.iter().map(Vec::len).max().unwrap_or(0);
    let mut out = csv_writer();
    for mut record in records {
        record.resize(width, String::new());
        out.write_record(&record).map_err(|e| failed(&e))?;
    }
    out.into_inner().map_err(|e| failed(&e))
}

fn csv_writer() -> ::csv::Writer<Vec<u8>> {
    ::csv::WriterBuilder::new().terminator(::csv::Terminator::CRLF).from_writer(Vec::new())
}

fn failed(error: &dyn std::fmt::Display) -> PrintError {
    PrintError::Failed { what: "table", why: error.to_string() }
}

/// A cell that a spreadsheet takes for text: what it would reckon as a formula gets an apostrophe before it, plain numbers none.
/// No-break spaces are plain ones, so that figures can be searched for.
fn guarded(cell: &str) -> String {
    let plain: String = cell.chars().map(|c| if c == '\u{a0}' { ' ' } else { c }).collect();
    let first = plain.trim_start().chars().next();
    let formula = matches!(first, Some('=' | '+' | '-' | '@' | '|' | '\u{ff1d}' | '\u{ff0b}' | '\u{ff0d}' | '\u{ff20}'))
        && plain.trim().parse::<f64>().is_err();
    if formula || plain.starts_with(['\t', '\r', '\n']) { format!("'{plain}") } else { plain }
}

#[cfg(test)]
mod tests {
    use super::guarded;

    #[test]
    fn no_cell_is_a_formula() {
        for wrong in ["=1+2", "+cmd|x", "-2+3", "@sum(a)", "\t=1", "  =1", "＝1", "\r1"] {
            assert!(guarded(wrong).starts_with('\''), "{wrong}");
        }
        for fine in ["-5", "Bo's rolls", "1,500\u{a0}g", "", "3 = 3"] {
            assert_eq!(guarded(fine), fine.replace('\u{a0}', " "));
        }
    }
}
