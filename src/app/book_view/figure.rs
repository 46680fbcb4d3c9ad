//! Figures as they are typed, and the fields they are typed in.

use crate::{
    app::widget::Field,
    quantity::{Days, PerMille, System, read_grams},
};
use egui::Ui;

/// The most days or minutes that are taken: a year of days, a week of minutes.
const MOST_DAYS: u32 = 366;
const MOST_MINUTES: u32 = 10_080;
/// The most minutes that a cooking is longer or shorter, ten hours; the most days that a whole piece is stored, three years.
const MOST_MORE: i16 = 600;
const MOST_STORE_DAYS: u32 = 1_096;

/// A whole number within bounds.
fn whole(text: &str, most: u32, what: &str) -> Result<u32, String> {
    let text = text.trim();
    match text.replace(',', "").parse::<u32>() {
        Ok(n) if n <= most => Ok(n),
        _ if text.is_empty() => Err(format!("Type {what}, as a whole number.")),
        _ => Err(format!("\"{}\" is not {what}: type a whole number from 0 to {most}.", brief(text))),
    }
}

/// At most 24 letters of what was typed.
fn brief(text: &str) -> String {
    text.chars().take(24).collect()
}

/// A mass in grams.
pub(super) fn grams(text: &str) -> Result<u32, String> {
    read_grams(text, System::Metric, None).map_err(|e| format!("{}.", crate::rotation::capital(&e.to_string())))
}

/// Days.
pub(super) fn days(text: &str) -> Result<Days, String> {
    whole(text, MOST_DAYS, "days").map(|n| Days(n as i16))
}

/// Minutes.
pub(super) fn minutes(text: &str) -> Result<u16, String> {
    whole(text, MOST_MINUTES, "minutes").map(|n| n as u16)
}

/// Minutes more or less: "10", "+10", "-5".
pub(super) fn minutes_by(text: &str) -> Result<i16, String> {
    let text = text.trim().replace(['\u{2212}', '\u{2013}'], "-");
    match text.parse::<i16>() {
        Ok(by) if by.abs() <= MOST_MORE => Ok(by),
        _ if text.is_empty() => Err("Type the minutes: 10 for longer, -5 for less.".into()),
        _ => Err(format!(
            "\"{}\" is not minutes: type a whole number from -{MOST_MORE} to {MOST_MORE}, below 0 for less.",
            brief(&text)
        )),
    }
}

/// Whole days as plain numbers, up to the years that a store keeps something.
pub(super) fn store_days(text: &str) -> Result<u16, String> {
    whole(text, MOST_STORE_DAYS, "days").map(|n| n as u16)
}

/// A number of oven shelves.
pub(super) fn shelves(text: &str) -> Result<u8, String> {
    match whole(text, 9, "shelves")? {
        0 => Err("A step in the oven takes at least one shelf.".into()),
        n => Ok(n as u8),
    }
}

/// An amount over 0.
pub(super) fn some_amount(text: &str) -> Result<f64, String> {
    match amount(text)? {
        0.0 => Err("Type an amount over 0, such as 80 or 1.5.".into()),
        more => Ok(more),
    }
}

/// Degrees Celsius of an oven.
pub(super) fn degrees(text: &str) -> Result<u16, String> {
    whole(text, 500, "degrees").map(|n| n as u16)
}

/// Thousandths.
pub(super) fn thousandths(text: &str) -> Result<PerMille, String> {
    let n = whole(text, u32::from(PerMille::MAX), "thousandths")?;
    PerMille::new(n as u16).ok_or_else(|| format!("Type thousandths from 0 to {}.", PerMille::MAX))
}

/// An amount: "80", "1.5", "1/2". Nothing typed is none.
pub(super) fn amount(text: &str) -> Result<f64, String> {
    let text = text.trim().replace(',', ".");
    if text.is_empty() {
        return Ok(0.0);
    }
    let read = match text.split_once('/') {
        Some((over, under)) => match (over.trim().parse::<f64>(), under.trim().parse::<f64>()) {
            (Ok(over), Ok(under)) => over / under,
            _ => f64::NAN,
        },
        None => text.parse().unwrap_or(f64::NAN),
    };
    if read.is_finite() && (0.0..=1e6).contains(&read) {
        Ok(read)
    } else {
        Err(format!("\"{}\" is not an amount: type a number such as 80, 1.5 or 1/2.", brief(&text)))
    }
}

/// The same where nothing may be typed.
pub(super) fn or_nothing<T>(text: &str, read: impl Fn(&str) -> Result<T, String>) -> Result<Option<T>, String> {
    if text.trim().is_empty() { Ok(None) } else { read(text).map(Some) }
}

/// A value as it is shown in a field; nothing for none.
pub(super) fn shown(value: Option<impl ToString>) -> String {
    value.map_or_else(String::new, |v| v.to_string())
}

/// An amount as it is shown in a field; nothing for none of it.
pub(super) fn shown_amount(value: f64) -> String {
    if value == 0.0 { String::new() } else { value.to_string() }
}

/// A short field for a figure, that says what is wrong with it.
pub(super) fn field<T>(
    ui: &mut Ui,
    label: &str,
    name: &str,
    text: &mut String,
    width: f32,
    read: impl Fn(&str) -> Result<T, String>,
) {
    let error = read(text).err();
    break_row(ui, width);
    Field::new(label, text).name(name).width(width).error(error.as_deref()).show(ui);
    note_unread(ui, read(text).is_err());
}

fn unread_place() -> egui::Id {
    egui::Id::unique("writing: fields that cannot be read")
}

/// How many fields were drawn so far whose text cannot be read; it only ever grows.
pub(super) fn unread(ui: &Ui) -> u64 {
    ui.data(|d| d.get_temp(unread_place())).unwrap_or(0)
}

/// Counts a field that cannot be read; asked once it was typed in, so that its section knows before it is drawn again.
pub(super) fn note_unread(ui: &Ui, wrong: bool) {
    if wrong {
        ui.data_mut(|d| *d.get_temp_mut_or_default::<u64>(unread_place()) += 1);
    }
}

/// Goes to the next row of a wrapped row where there is no room for `width` more: a column of things does not wrap by itself.
pub(super) fn break_row(ui: &mut Ui, width: f32) {
    if ui.layout().main_wrap() && ui.available_size_before_wrap().x < width {
        ui.end_row();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_read_as_cooks_type_them() {
        for (text, value) in [("80", 80.0), ("1.5", 1.5), ("1,5", 1.5), ("1/2", 0.5), ("", 0.0), (" 2 ", 2.0)] {
            assert_eq!(amount(text), Ok(value), "{text}");
        }
        for wrong in ["-1", "a pinch", "1/0", "inf", "NaN", "1e9"] {
            let said = amount(wrong).unwrap_err();
            assert!(said.contains("is not an amount"), "{said}");
        }
    }

    #[test]
    fn minutes_more_or_less_are_read_with_every_sign() {
        for (text, by) in [("10", 10), ("+10", 10), ("-5", -5), ("\u{2212}5", -5), (" 0 ", 0)] {
            assert_eq!(minutes_by(text), Ok(by), "{text}");
        }
        for wrong in ["", "ten", "+-5", "601", "-601", "1.5", "++5"] {
            assert!(minutes_by(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn figures_past_their_bounds_are_refused_in_words() {
        assert_eq!(days("3"), Ok(Days(3)));
        for said in [days("400").unwrap_err(), minutes("x").unwrap_err(), thousandths("2001").unwrap_err()] {
            assert!(said.contains("type a whole number from 0 to"), "{said}");
        }
        assert_eq!(minutes("").unwrap_err(), "Type minutes, as a whole number.");
        assert!(grams("two").unwrap_err().contains("no number"));
    }
}
