//! What is in the house already, and so is not bought.

use crate::{
    app::{
        action::Action,
        hearth::HouseChange,
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::View,
    },
    lists::ShoppingList,
    rotation::capital,
};
use egui::Ui;

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, shopping: &ShoppingList, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    ui.spacing_mut().item_spacing.y = STEP / 2.0;
    ui.label(Lettering::Head.text("In the house").color(palette.ink));
    parts::quiet(
        ui,
        "Press what there is always enough of: it is taken from the cupboard and not bought, in this plan and in others.",
    );
    let cupboard = view.hearth.cupboard();
    let mut names: Vec<_> = shopping.lines.iter().map(|l| (l.name.clone(), l.need.measure)).collect();
    names.sort_by(|a, b| a.0.cmp(&b.0));
    names.dedup();
    ui.add_space(STEP / 2.0);
    parts::flow(ui, |ui| {
        for (name, measure) in &names {
            let has = cupboard.items.iter().any(|i| i.is(name, *measure) && i.amount.is_none());
            let said = format!("There is always enough {name} in the house");
            if parts::choice(ui, &capital(name), &said, has) {
                actions.push(Action::House(HouseChange { name: name.clone(), measure: *measure, enough: !has }));
            }
        }
    });
    let counted: Vec<_> = cupboard.items.iter().filter(|i| i.amount.is_some()).collect();
    if !counted.is_empty() {
        ui.add_space(STEP);
        ui.label(Lettering::SmallStrong.text("Counted in the cupboard file").color(palette.soft));
        for item in counted {
            let amount = crate::lists::CompanionAmount::of(item.amount.unwrap_or(0.0), item.measure).said(view.system);
            let until = item.use_by.map(|d| format!(", use by {d}")).unwrap_or_default();
            parts::quiet(ui, format!("{}: {amount}{until}", capital(&item.name)));
        }
    }
    if !cupboard.garden.is_empty() {
        ui.add_space(STEP);
        ui.label(Lettering::SmallStrong.text("Picked, not bought").color(palette.soft));
        parts::quiet(ui, cupboard.garden.iter().map(|g| capital(g)).collect::<Vec<_>>().join(", "));
    }
}
