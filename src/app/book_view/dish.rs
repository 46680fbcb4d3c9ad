//! A dish as it is shown.

use super::{
    filter::role_word,
    words::{fact, fact_with, graded_word, number, section, texture_ui},
};
use crate::{
    app::{
        marks::Level,
        sheet::parts,
        theme::{self, Lettering},
        view::View,
        widget::Button,
    },
    book::{Care, Companion, Diet, Dish, DishId, Fare, Graded, Leftover, Step, StepPlace, Taste, Twin},
    store::EntryId,
};
use egui::{Ui, vec2};

/// Draws the dish; gives the entry that the person turned to from it.
pub(super) fn ui(ui: &mut Ui, view: &View<'_>, dish: &Dish) -> Option<EntryId> {
    eats(ui, dish);
    let mut turned = figures(ui, view, dish);
    needs(ui, dish);
    steps(ui, dish);
    turned = leftovers(ui, view, dish).or(turned);
    who(ui, dish);
    sources(ui, &dish.sources);
    turned
}

fn eats(ui: &mut Ui, dish: &Dish) {
    let p = &dish.profile;
    section(ui, "How it eats");
    if !p.texture.is_empty() {
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing = vec2(14.0, 4.0);
            p.texture.iter().for_each(|t| texture_ui(ui, t));
        });
    }
    fact(
        ui,
        "Tastes",
        [graded(&p.family, |f| f.word()), taste_words(p.taste)]
            .into_iter()
            .filter(|s| !s.is_empty())
            .collect::<Vec<_>>()
            .join("; "),
    );
    let heat = p.heat.map_or(String::new(), |h| format!("served {}", h.word()));
    fact(ui, "Cooked", join([graded(&p.method, |m| m.word()), heat]));
    let form = p.form.map_or(String::new(), |f| f.word().to_string());
    fact(ui, "Looks", join([form, graded(&p.colour, |c| c.word())]));
    let with = [p.protein.map(|x| x.word().to_string()), p.starch.map(|x| x.word().to_string())];
    fact(ui, "With it", join(with.into_iter().flatten()));
}

fn join(words: impl IntoIterator<Item = String>) -> String {
    words.into_iter().filter(|w| !w.is_empty()).collect::<Vec<_>>().join(", ")
}

fn graded<T: Copy>(set: &[Graded<T>], word: impl Fn(T) -> &'static str) -> String {
    set.iter().map(|g| graded_word(word(g.0), g.1)).collect::<Vec<_>>().join(", ")
}

/// "very sour, rich, a little sweet and hot".
fn taste_words(taste: Option<Taste>) -> String {
    let Some(taste) = taste else { return String::new() };
    let named = [
        ("sweet", taste.sweet),
        ("sour", taste.sour),
        ("bitter", taste.bitter),
        ("savoury", taste.umami),
        ("hot", taste.hot),
        ("rich", taste.rich),
    ];
    let of = |much: u8| -> Vec<&str> { named.iter().filter(|n| n.1.min(3) == much).map(|n| n.0).collect() };
    let said = [(3, "very "), (2, ""), (1, "a little ")];
    let said = said.into_iter().map(|(much, how)| (how, of(much))).filter(|(_, words)| !words.is_empty());
    said.map(|(how, words)| format!("{how}{}", and(&words))).collect::<Vec<_>>().join(", ")
}

/// "sweet, sour and hot".
fn and(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_string(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

fn figures(ui: &mut Ui, view: &View<'_>, dish: &Dish) -> Option<EntryId> {
    section(ui, "For one");
    let (least, typical, most) = dish.grams;
    if most > 0 {
        let words = format!("{} {}; from {} to {}", view.grams(typical), dish.state.word(), view.grams(least), view.grams(most));
        fact(ui, "Takes", words);
    }
    if let Some((word, grams)) = &dish.unit {
        fact(ui, "One", format!("{word} holds {}", view.grams(*grams)));
    }
    fact(ui, "Gives", format!("{} from {}", view.grams(u32::from(dish.yields.get())), view.grams(1_000)));
    fact(ui, "Use", role_word(dish.role));
    fact(ui, "Suits", dish.families.join(", "));
    fact(ui, "Made of", part_words(view, dish));
    fact(ui, "Cut", dish.cut.map_or(String::new(), |c| c.word().into()));
    let mut turned = None;
    if !dish.from.is_empty() {
        fact_with(ui, "Made from", |ui| turned = dishes_ui(ui, view, &dish.from));
    }
    let (hands, total) = dish.minutes;
    fact(ui, "Time", format!("{hands}\u{a0}min of hands, {total}\u{a0}min in all, for four"));
    if let Some((best, low, high)) = dish.oven {
        fact(ui, "Oven", format!("{best}\u{a0}°C; bears {low} to {high}\u{a0}°C"));
    }
    let nice = dish.nice_days.map_or(String::new(), |n| format!(", eats well for {n}"));
    let cooked = if dish.cooked { "" } else { "; raw, so the clock of the piece runs on" };
    fact(ui, "Keeps", format!("{}{nice}{cooked}", dish.keeps));
    turned
}

/// The names of the parts, of the piece on the bench first.
fn part_words(view: &View<'_>, dish: &Dish) -> String {
    if dish.parts.is_empty() {
        return "any part".into();
    }
    let own = &view.rotation.kind;
    let kinds = || std::iter::once(own).chain(view.book.kinds()).filter(|k| dish.suits_family(&k.family));
    let mut names: Vec<&str> = Vec::new();
    for id in &dish.parts {
        if let Some(part) = kinds().find_map(|k| k.part(id))
            && !names.contains(&part.name.as_str())
        {
            names.push(&part.name);
        }
    }
    names.join(", ")
}

/// Other dishes that one can turn to.
fn dishes_ui(ui: &mut Ui, view: &View<'_>, ids: &[DishId]) -> Option<EntryId> {
    let mut turned = None;
    ui.horizontal_wrapped(|ui| {
        for id in ids {
            match view.book.dish(id) {
                Some(dish) if ui.add(Button::quiet(&dish.name).name(&format!("Show {}", dish.name))).clicked() => {
                    turned = Some(EntryId::Dish(id.clone()));
                }
                Some(_) => {}
                None => {
                    parts::plain(ui, id.as_str());
                }
            }
        }
    });
    turned
}

fn needs(ui: &mut Ui, dish: &Dish) {
    if dish.companions.is_empty() {
        return;
    }
    section(ui, "What it needs");
    dish.companions.iter().for_each(|c| fact(ui, &c.name, amount_words(c)));
}

/// "80 g a head and 2 g more; a pot of 300 g, opened it keeps 5 days".
fn amount_words(c: &Companion) -> String {
    let sign = c.measure.sign();
    let amount = match (c.per_unit > 0.0, c.per_batch > 0.0) {
        (true, true) => format!("{}{sign} a head and {}{sign} more", number(c.per_unit), number(c.per_batch)),
        (true, false) => format!("{}{sign} a head", number(c.per_unit)),
        (false, true) => format!("{}{sign} for all", number(c.per_batch)),
        (false, false) => String::new(),
    };
    let word = c.pack_word.as_deref().unwrap_or("pack");
    let pack = c.pack.map(|p| format!("a {word} of {}{sign}", number(p)));
    let opened = c.opened_days.map(|d| format!("opened it keeps {d}"));
    let rest = [pack, opened].into_iter().flatten().collect::<Vec<_>>().join(", ");
    [amount, rest].into_iter().filter(|s| !s.is_empty()).collect::<Vec<_>>().join("; ")
}

fn steps(ui: &mut Ui, dish: &Dish) {
    section(ui, "How it is made");
    for (at, step) in dish.steps.iter().enumerate() {
        ui.horizontal_top(|ui| {
            let palette = theme::palette(ui);
            ui.add_sized([20.0, 20.0], egui::Label::new(Lettering::Strong.text((at + 1).to_string()).color(palette.accent)));
            ui.vertical(|ui| {
                ui.spacing_mut().item_spacing.y = 1.0;
                parts::plain(ui, &step.text);
                parts::quiet(ui, step_words(step));
            });
        });
    }
}

/// "8 min of hands", "25 min in the oven, without hands".
fn step_words(step: &Step) -> String {
    let place = match step.place {
        StepPlace::Bench => "",
        StepPlace::Ring => " on a ring",
        StepPlace::Oven => " in the oven",
        StepPlace::Fridge => " in the fridge",
    };
    let hands = if step.hands { "hands busy" } else { "no hands" };
    let after: Vec<String> = step.after.iter().map(|a| (a + 1).to_string()).collect();
    let after = if after.is_empty() { String::new() } else { format!(" · after step {}", after.join(" and ")) };
    let appliance = step.appliance.as_ref().map_or(String::new(), |a| format!(" · {a}"));
    let wait = step.may_wait.map_or(String::new(), |m| format!(" · waits at most {m}\u{a0}min"));
    format!("{}\u{a0}min{place} · {hands}{after}{appliance}{wait}", step.minutes)
}

fn leftovers(ui: &mut Ui, view: &View<'_>, dish: &Dish) -> Option<EntryId> {
    section(ui, "What is left of it");
    match &dish.leftover {
        Leftover::AsIs => {
            parts::plain(ui, "May be served again as it is.");
            None
        }
        Leftover::No => {
            parts::plain(ui, "Is eaten at once or not at all.");
            None
        }
        Leftover::Turned(into) if into.is_empty() => {
            parts::plain(ui, "Only turned into something of another texture.");
            None
        }
        Leftover::Turned(into) => {
            parts::plain(ui, "Is turned into:");
            dishes_ui(ui, view, into)
        }
    }
}

fn who(ui: &mut Ui, dish: &Dish) {
    section(ui, "Who may eat it");
    fact(ui, "Diet", fare_words(&dish.fare()));
    let allergens: Vec<&str> = dish.allergens.iter().map(|a| a.word()).collect();
    fact(ui, "Allergens", if allergens.is_empty() { "none beside the piece's own".into() } else { allergens.join(", ") });
    fact(ui, "Some dislike", dish.forms.join(", "));
    dish.twins.iter().for_each(|twin| fact(ui, "Or instead", twin_words(twin)));
    for caution in &dish.cautions {
        parts::remark(ui, Level::Caution, &format!("{}{}", care_words(&caution.for_whom), caution.text));
    }
}

/// "seared halloumi, without the piece: vegetarian; milk; goes without raw onion; needs halloumi 60 g a head".
fn twin_words(twin: &Twin) -> String {
    let holds = if twin.holds_piece { "" } else { ", without the piece" };
    let mut said = vec![format!("{}{holds}: {}", twin.name, fare_words(&twin.fare()))];
    said.extend((!twin.allergens.is_empty()).then(|| join(twin.allergens.iter().map(|a| a.word().into()))));
    said.extend((!twin.without_forms.is_empty()).then(|| format!("goes without {}", twin.without_forms.join(", "))));
    let needs = twin.companions.iter().map(|c| format!("{} {}", c.name, amount_words(c).replace("; ", ", ")));
    said.extend((!twin.companions.is_empty()).then(|| format!("needs {}", join(needs))));
    said.join("; ")
}

/// "Pregnant, elderly: ".
fn care_words(whom: &[Care]) -> String {
    if whom.is_empty() {
        return String::new();
    }
    let words: Vec<&str> = whom.iter().map(|c| c.word()).collect();
    format!("{}: ", crate::rotation::capital(&words.join(", ")))
}

/// The diet, or what nobody knows of it.
fn fare_words(fare: &Fare) -> String {
    fare.doubt().map_or_else(|| diet_words(fare.diet).into(), |doubt| format!("not known: {doubt}"))
}

/// "for vegetarians too".
pub(super) fn diet_words(diet: Diet) -> &'static str {
    match diet {
        Diet::Everything => "has meat in it",
        Diet::Pescatarian => "has fish but no meat in it",
        Diet::Vegetarian => "vegetarian",
        Diet::Vegan => "vegan",
    }
}

/// Where the figures come from.
pub(super) fn sources(ui: &mut Ui, sources: &[String]) {
    section(ui, "Sources");
    sources.iter().for_each(|s| {
        parts::quiet(ui, s);
    });
}
