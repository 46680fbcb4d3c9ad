//! Dates and times of day as they stand in a file or are typed.

use jiff::civil::{Date, Time};
use serde::{Deserialize, Deserializer, de};

/// Reads a date written YYYY-MM-DD. The error is one sentence that says what is right.
pub fn read_date(text: &str) -> Result<Date, String> {
    text.trim().parse().map_err(|_| format!("{} is not a date: write it as 2026-12-07", brief(text)))
}

/// Reads a time of day written HH:MM, seconds allowed. The error is one sentence that says what is right.
pub fn read_time(text: &str) -> Result<Time, String> {
    text.trim().parse().map_err(|_| format!("{} is not a time of day: write it as 18:30", brief(text)))
}

/// A date of a file, refused in a cook's words.
pub(crate) fn date_in_file<'de, D: Deserializer<'de>>(from: D) -> Result<Date, D::Error> {
    read_date(&String::deserialize(from)?).map_err(de::Error::custom)
}

/// A time of a file that may be missing, refused in a cook's words.
pub(crate) fn time_in_file<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Time>, D::Error> {
    Option::<String>::deserialize(from)?.map(|text| read_time(&text)).transpose().map_err(de::Error::custom)
}

/// At most 40 characters of what was written, without signs that command a terminal; a word for nothing.
fn brief(text: &str) -> String {
    if text.trim().is_empty() { "nothing".into() } else { text.chars().take(40).flat_map(char::escape_debug).collect() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_date_or_time_is_told_how_to_write_one() {
        for wrong in ["2026-13-40", "-9999-01-01", "soon", "7.12.2026"] {
            assert_eq!(read_date(wrong), Err(format!("{wrong} is not a date: write it as 2026-12-07")));
        }
        for wrong in ["25:00", "18.30", "noon"] {
            assert_eq!(read_time(wrong), Err(format!("{wrong} is not a time of day: write it as 18:30")));
        }
        assert!(read_date("\u{1b}[2J").is_err_and(|said| !said.contains('\u{1b}')));
        assert!(read_date("2026-12-07").is_ok() && read_time("18:30").is_ok() && read_time("18:30:00").is_ok());
    }
}
