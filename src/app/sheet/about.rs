//! The sheet about the program: what its figures are worth, and under which licences it travels.

use super::{
    frame::{self, Head, Keyboard},
    parts,
};
use crate::app::{action::Action, marks::Level, theme::Lettering, widget::Button};
use egui::{Context, Ui};

const LICENCE: &str = include_str!("../../../LICENSE");
const INTER: &str = include_str!("../../../assets/fonts/OFL-Inter.txt");
const VOLLKORN: &str = include_str!("../../../assets/fonts/OFL-Vollkorn.txt");

/// Which licence is folded open.
#[derive(Default)]
pub(super) struct AboutSheet {
    unfolded: Option<usize>,
}

/// Draws the sheet.
pub(super) fn ui(ctx: &Context, keyboard: &mut Keyboard, sheet: &mut AboutSheet, actions: &mut Vec<Action>) {
    let under = format!("version {}", env!("CARGO_PKG_VERSION"));
    let head = Head {
        title: "Tranche",
        under: &under,
        name: "about",
        width: 520.0,
        edits: false,
        holds_answers: false,
        fills_in: false,
    };
    let body = |ui: &mut Ui, sheet: &mut AboutSheet, _: &mut Vec<Action>| {
        parts::plain(
            ui,
            "Plans several days of meals that differ, around one big perishable piece: all of it eaten, safely and gladly. \
             Everything is reckoned on this machine; nothing is sent anywhere, and every plan is a plain file of your own.",
        );
        parts::section(ui, "What the figures are worth");
        for caution in [
            "Figures are guidance. Local food-safety codes, the label on what you bought and licensed advice come first.",
            "Keeping times hold for a fridge at 5 °C or below and food put there within two hours. When in doubt, throw it out.",
            "Allergens are those that the book knows of a dish. Read the label of every pack, every time.",
            "Likeness of meals is a rule of thumb about what households complain of, not a measurement of yours.",
        ] {
            parts::remark(ui, Level::Caution, caution);
        }
        parts::section(ui, "Licences");
        let licences = [
            ("Tranche: MIT", LICENCE),
            ("Inter, for all plain words: SIL Open Font License 1.1", INTER),
            ("Vollkorn, for names: SIL Open Font License 1.1", VOLLKORN),
        ];
        for (place, (name, text)) in licences.into_iter().enumerate() {
            let open = sheet.unfolded == Some(place);
            let icon = if open { crate::app::marks::Icon::ChevronUp } else { crate::app::marks::Icon::ChevronDown };
            if ui.add(Button::quiet(name).icon(icon).selected(open).fill_width()).clicked() {
                sheet.unfolded = (!open).then_some(place);
            }
            if open {
                let ink = crate::app::theme::palette(ui).soft;
                ui.add(egui::Label::new(Lettering::Small.text(text.trim()).color(ink)).wrap().selectable(true));
            }
        }
        parts::quiet(ui, "Other parts of the program carry licences of their own; they are named with its source.");
    };
    frame::show(ctx, &head, keyboard, sheet, actions, body, None::<fn(&mut Ui, &mut AboutSheet, &mut Vec<Action>)>);
}
