//! Dates and clock times as people type and read them.

use crate::rotation::{MONTHS, month_name, weekday_name};
use jiff::civil::{Date, Time};

const WEEKDAYS: [&str; 7] = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];

/// "Mon 7 Dec 2026": what stands in a field, and is read again.
pub(super) fn write_date(date: Date) -> String {
    format!("{} {}", short_date(date), date.year())
}

/// "Mon 7 Dec".
pub(super) fn short_date(date: Date) -> String {
    let (weekday, month) = (weekday_name(date), month_name(date));
    format!("{} {} {}", &weekday[..3], date.day(), &month[..3])
}

/// "Monday 7 December".
pub(in crate::app) fn long_date(date: Date) -> String {
    format!("{} {} {}", weekday_name(date), date.day(), month_name(date))
}

/// Reads "2026-12-07", "7 Dec 2026", "Mon 7 December", "Dec 7, 2026" or "7.12.2026". Without a year it is the one nearest to `near`.
///
/// Figures parted by strokes are refused: half the world reads 7/12 as July.
pub(super) fn read_date(text: &str, near: Date) -> Result<Date, String> {
    let bare = text.trim();
    if bare.is_empty() {
        return Err("Type a date, such as 7 Dec 2026.".into());
    }
    let no_date = || format!("“{}” is no date: type one such as 7 Dec 2026.", bare.chars().take(40).collect::<String>());
    if let Ok(date) = bare.parse::<Date>() {
        return Ok(date);
    }
    let (day, month, year) = day_month_year(bare).ok_or_else(no_date)?;
    let made = |year: i16| Date::new(year, month, day).ok();
    match year {
        Some(year) => made(year).ok_or_else(no_date),
        None => [near.year() - 1, near.year(), near.year() + 1]
            .into_iter()
            .filter_map(made)
            .min_by_key(|date| days_between(*date, near))
            .ok_or_else(no_date),
    }
}

fn days_between(a: Date, b: Date) -> i32 {
    a.since(b).map_or(i32::MAX, |span| span.get_days().abs())
}

fn day_month_year(text: &str) -> Option<(i8, i8, Option<i16>)> {
    let figures: Vec<&str> = text.split('.').map(str::trim).collect();
    if let [day, month, year] = figures[..]
        && year.len() == 4
        && let (Ok(day), Ok(month), Ok(year)) = (day.parse(), month.parse(), year.parse())
    {
        return Some((day, month, Some(year)));
    }
    let (mut day, mut month, mut year) = (None, None, None);
    for word in text.split([' ', ',', '\u{a0}']).filter(|w| !w.is_empty()) {
        let word = word.trim_end_matches('.').to_lowercase();
        if let Some(figure) = figure(&word) {
            if day.is_none() && (1..=31).contains(&figure) {
                day = Some(figure as i8);
            } else if year.is_none() && word.len() == 4 {
                year = Some(figure);
            } else {
                return None;
            }
        } else if let Some(number) = month_number(&word) {
            if month.replace(number).is_some() {
                return None;
            }
        } else if !(word.len() >= 3 && WEEKDAYS.iter().any(|w| w.starts_with(&word))) {
            return None;
        }
    }
    Some((day?, month?, year))
}

fn figure(word: &str) -> Option<i16> {
    let ending = ["st", "nd", "rd", "th"].into_iter().find_map(|end| word.strip_suffix(end));
    let digits = ending.unwrap_or(word);
    if !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit()) { digits.parse().ok() } else { None }
}

fn month_number(word: &str) -> Option<i8> {
    let place = MONTHS.iter().position(|m| word.len() >= 3 && m.to_lowercase().starts_with(word))?;
    Some(place as i8 + 1)
}

/// "18:30", or nothing where no time is set.
pub(super) fn write_clock(at: Option<Time>) -> String {
    at.map_or_else(String::new, |at| format!("{:02}:{:02}", at.hour(), at.minute()))
}

/// Reads "18:30", "18.30", "6:30 pm", "noon"; a bare "18" only once it is `done`. Blank is no time at all.
pub(super) fn read_clock(text: &str, done: bool) -> Result<Option<Time>, String> {
    let bare = text.trim().to_lowercase();
    let wrong = || format!("“{}” is no time: type one such as 18:30.", bare.chars().take(40).collect::<String>());
    if bare.is_empty() {
        return Ok(None);
    }
    if bare == "noon" {
        return Time::new(12, 0, 0, 0).map(Some).map_err(|_| wrong());
    }
    let (digits, half) = match (bare.strip_suffix("pm"), bare.strip_suffix("am")) {
        (Some(rest), _) => (rest.trim(), Some(12)),
        (_, Some(rest)) => (rest.trim(), Some(0)),
        _ => (bare.as_str(), None),
    };
    let (hour, minute) = match digits.split_once([':', '.']) {
        Some((hour, minute)) if minute.len() == 2 => (hour, minute),
        None if done || half.is_some() => (digits, "00"),
        _ => return Err(wrong()),
    };
    let plain = |t: &str| if t.bytes().all(|b| b.is_ascii_digit()) { t.parse::<i8>().ok() } else { None };
    let (Some(mut hour), Some(minute)) = (plain(hour), plain(minute)) else { return Err(wrong()) };
    if let Some(add) = half {
        if !(1..=12).contains(&hour) {
            return Err(wrong());
        }
        hour = hour % 12 + add;
    }
    Time::new(hour, minute, 0, 0).map(Some).map_err(|_| wrong())
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn dates_are_read_as_people_write_them() {
        let near = date(2026, 11, 25);
        let meant = date(2026, 12, 7);
        for text in [
            "2026-12-07",
            "7 Dec 2026",
            " 7 december 2026 ",
            "Mon 7 Dec 2026",
            "Dec 7, 2026",
            "7th Dec",
            "7.12.2026",
            "7 Dec",
            &write_date(meant),
            &long_date(meant),
        ] {
            assert_eq!(read_date(text, near), Ok(meant), "{text}");
        }
        assert_eq!(read_date("2 Jan", date(2026, 12, 28)), Ok(date(2027, 1, 2)));
    }

    #[test]
    fn what_is_no_date_is_refused_in_words() {
        for text in
            ["", "soon", "31 Feb 2026", "7/12/2026", "7", "December", "7 Dec 26", "7 Dec Jan 2026", "99999 Dec", "2026-13-01"]
        {
            let said = read_date(text, date(2026, 1, 1)).expect_err(text);
            assert!(said.contains("7 Dec 2026"), "{said}");
        }
    }

    #[test]
    fn clock_times_are_read_as_people_write_them() {
        for (text, hour, minute) in
            [("18:30", 18, 30), ("7.05", 7, 5), ("6:30 pm", 18, 30), ("12 am", 0, 0), ("noon", 12, 0), ("12:15pm", 12, 15)]
        {
            assert_eq!(read_clock(text, false), Ok(Time::new(hour, minute, 0, 0).ok()), "{text}");
        }
        assert_eq!(read_clock("", false), Ok(None));
        assert!(read_clock("18", false).is_err());
        assert_eq!(read_clock("18", true).map(write_clock), Ok("18:00".into()));
        for text in ["24:00", "18:60", "half six", "1:2", "-1:30", "13 pm"] {
            assert!(read_clock(text, true).is_err(), "{text}");
        }
    }
}
