//! How long something takes, as pages say it: ISO 8601 ("PT1H30M"), or in words ("1 hr 15 min").

/// The longest time that a recipe may take: 60 days, for what ripens (house limit).
const MOST: f64 = 60.0 * 24.0 * 60.0;

/// Whole minutes, seconds rounded up. `None` for what is no duration, for years and months that say something, and for 60 days
/// or more. "PT0M" is 0.
pub(super) fn minutes(text: &str) -> Option<u32> {
    let text = text.trim();
    let total = iso(text).or_else(|| words(text))?;
    (0.0..MOST).contains(&total).then_some(total.ceil() as u32)
}

fn iso(text: &str) -> Option<f64> {
    let upper = text.to_ascii_uppercase();
    let mut rest = upper.strip_prefix('P')?;
    let (mut total, mut in_time, mut any) = (0.0, false, false);
    while !rest.is_empty() {
        if let Some(after) = rest.strip_prefix('T') {
            if in_time {
                return None;
            }
            (in_time, rest) = (true, after);
            continue;
        }
        let end = rest.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))?;
        let value: f64 = rest[..end].replace(',', ".").parse().ok()?;
        let unit = rest[end..].chars().next()?;
        total += value
            * match (unit, in_time) {
                ('W', false) => 7.0 * 24.0 * 60.0,
                ('D', false) => 24.0 * 60.0,
                ('H', true) => 60.0,
                ('M', true) => 1.0,
                ('S', true) => 1.0 / 60.0,
                // A year or a month has no fixed length; "P0Y0M0DT35M" says none.
                ('Y' | 'M', false) if value == 0.0 => 0.0,
                _ => return None,
            };
        any = true;
        rest = &rest[end + unit.len_utf8()..];
    }
    any.then_some(total)
}

fn words(text: &str) -> Option<f64> {
    let lower = text.to_lowercase();
    let mut rest = lower.as_str();
    let (mut total, mut any) = (0.0, false);
    loop {
        rest = rest.trim_start_matches([' ', ',', '&', '+']);
        rest = rest.strip_prefix("and ").unwrap_or(rest);
        if rest.is_empty() {
            return any.then_some(total);
        }
        let end = rest.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(rest.len());
        let value: f64 = rest[..end].parse().ok()?;
        let after = rest[end..].trim_start();
        let end = after.find(|c: char| !c.is_alphabetic()).unwrap_or(after.len());
        total += value
            * match &after[..end] {
                "d" | "day" | "days" => 24.0 * 60.0,
                "h" | "hr" | "hrs" | "hour" | "hours" => 60.0,
                "m" | "min" | "mins" | "minute" | "minutes" => 1.0,
                _ => return None,
            };
        any = true;
        rest = after[end..].trim_start_matches('.');
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn durations_are_read_and_others_are_not() {
        for (text, found) in [
            ("PT1H30M", Some(90)),
            ("PT90M", Some(90)),
            ("pt45m", Some(45)),
            ("P0DT0H35M", Some(35)),
            ("P0Y0M0DT0H35M0.000S", Some(35)),
            ("P1DT2H", Some(1_560)),
            ("PT30S", Some(1)),
            ("PT1.5H", Some(90)),
            ("PT0M", Some(0)),
            ("1 hr 15 min", Some(75)),
            ("2 hours and 5 minutes", Some(125)),
            ("P1Y", None),
            ("P1M", None),
            ("PT", None),
            ("P", None),
            ("30", None),
            ("overnight", None),
            ("PT99999999999H", None),
            ("PT-5M", None),
            ("PT5é", None),
            ("PTT5M", None),
            ("", None),
        ] {
            assert_eq!(minutes(text), found, "{text}");
        }
    }
}
