//! Chips to say how a dish eats.

use super::{figure::break_row, words::graded_word};
use crate::{
    app::{
        sheet::parts,
        widget::{Chip, Stepper},
    },
    book::{Colour, Family, Form, Graded, Heat, Method, Profile, Protein, Starch, Taste, Texture},
};
use egui::Ui;

/// The grade of an accent.
const LITTLE: f64 = 0.5;

pub(super) fn ui(ui: &mut Ui, profile: &mut Profile) {
    parts::quiet(
        ui,
        "Press once for what it is, again for a little of it, a third time to take it off. The first is the main one.",
    );
    graded(ui, "Texture", &mut profile.texture, Texture::ALL, Texture::word);
    graded(ui, "Flavour", &mut profile.family, Family::ALL, Family::word);
    tastes(ui, &mut profile.taste);
    graded(ui, "Cooked", &mut profile.method, Method::ALL, Method::word);
    one(ui, "Served", &mut profile.heat, Heat::ALL, Heat::word);
    one(ui, "Looks like", &mut profile.form, Form::ALL, Form::word);
    graded(ui, "Colour", &mut profile.colour, Colour::ALL, Colour::word);
    one(ui, "Protein beside it", &mut profile.protein, Protein::ALL, Protein::word);
    one(ui, "Starch beside it", &mut profile.starch, Starch::ALL, Starch::word);
}

/// Values that may be there, or a little there.
fn graded<T: Copy + PartialEq>(ui: &mut Ui, title: &str, set: &mut Vec<Graded<T>>, all: &[T], word: fn(T) -> &'static str) {
    parts::chips_label(ui, title);
    parts::flow(ui, |ui| {
        for value in all {
            let grade = set.iter().find(|g| g.0 == *value).map(|g| g.1);
            let words = grade.map_or_else(|| word(*value).to_string(), |g| graded_word(word(*value), g));
            let name = format!("{title}: {words}");
            if ui.add(Chip::new(&words).name(&name).selected(grade.is_some())).clicked() {
                press(set, *value);
            }
        }
    });
}

/// None, then whole, then a little, then none.
fn press<T: Copy + PartialEq>(set: &mut Vec<Graded<T>>, value: T) {
    match set.iter_mut().find(|g| g.0 == value) {
        Some(graded) if graded.1 > LITTLE => graded.1 = LITTLE,
        Some(_) => set.retain(|g| g.0 != value),
        None => set.push(Graded(value, 1.0)),
    }
}

/// A value that there is one of, or none.
pub(super) fn one<T: Copy + PartialEq>(ui: &mut Ui, title: &str, now: &mut Option<T>, all: &[T], word: fn(T) -> &'static str) {
    one_named(ui, title, title, now, all, word);
}

/// The same, called `name` by a screen reader where several have the same title.
pub(super) fn one_named<T: Copy + PartialEq>(
    ui: &mut Ui,
    title: &str,
    name: &str,
    now: &mut Option<T>,
    all: &[T],
    word: fn(T) -> &'static str,
) {
    parts::chips_label(ui, title);
    parts::flow(ui, |ui| {
        for value in all {
            let chosen = *now == Some(*value);
            if parts::choice(ui, word(*value), &format!("{name}: {}", word(*value)), chosen) {
                *now = if chosen { None } else { Some(*value) };
            }
        }
    });
}

/// The graded tastes, 0 to 3 each.
fn tastes(ui: &mut Ui, taste: &mut Option<Taste>) {
    parts::chips_label(ui, "Tastes, from 0 for none to 3 for very");
    let mut now = taste.unwrap_or_default();
    ui.horizontal_wrapped(|ui| {
        let all: [(&str, &mut u8); 6] = [
            ("Sweet", &mut now.sweet),
            ("Sour", &mut now.sour),
            ("Bitter", &mut now.bitter),
            ("Savoury", &mut now.umami),
            ("Hot", &mut now.hot),
            ("Rich", &mut now.rich),
        ];
        for (label, value) in all {
            let mut number = f64::from(*value);
            break_row(ui, 112.0);
            Stepper::new(label, &mut number).bounds(0.0..=3.0).width(112.0).show(ui);
            *value = number as u8;
        }
    });
    if taste.is_some() || now != Taste::default() {
        *taste = Some(now);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chip_goes_from_nothing_to_whole_to_a_little_and_back() {
        let mut set = vec![Graded(Texture::Crisp, 1.0)];
        press(&mut set, Texture::Chewy);
        assert_eq!(set, [Graded(Texture::Crisp, 1.0), Graded(Texture::Chewy, 1.0)], "the first stays the main one");
        press(&mut set, Texture::Chewy);
        assert_eq!(set[1], Graded(Texture::Chewy, LITTLE));
        press(&mut set, Texture::Chewy);
        assert_eq!(set, [Graded(Texture::Crisp, 1.0)]);
    }
}
