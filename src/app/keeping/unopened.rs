//! How long another piece of the kind keeps that nobody has opened yet, place by place, sound or not.

use crate::{
    app::{
        sheet::parts,
        theme::{self, Lettering},
        view::{View, spoken},
    },
    judge::whole_keeping,
    rotation::Condition,
};
use egui::Ui;

/// The conditions, with their heads.
const CONDITIONS: [(Condition, &str); 4] = [
    (Condition::Sound, "sound"),
    (Condition::Bruised, "bruised"),
    (Condition::Wounded, "wounded"),
    (Condition::SoftSpot, "with a soft spot"),
];

pub(super) fn ui(ui: &mut Ui, view: &View<'_>) {
    let kind = &view.rotation.kind;
    let sound = whole_keeping(kind, Condition::Sound);
    if sound.is_empty() {
        return;
    }
    parts::section(ui, &format!("Another {}, unopened", kind.name));
    let palette = theme::palette(ui);
    let small = |words: &str| Lettering::Small.text(words).color(palette.soft);
    egui::Grid::new("unopened").num_columns(2 + CONDITIONS.len()).spacing([24.0, 4.0]).show(ui, |ui| {
        ui.label("");
        for (_, head) in CONDITIONS {
            ui.label(small(head));
        }
        ui.end_row();
        let columns: Vec<_> = CONDITIONS.iter().map(|(condition, _)| whole_keeping(kind, *condition)).collect();
        for (row, whole) in sound.iter().enumerate() {
            ui.label(Lettering::Body.text(whole.place).color(palette.ink));
            for (column, (_, head)) in columns.iter().zip(CONDITIONS) {
                let Some(keeps) = column.get(row) else { continue };
                let words = days_words(keeps.days);
                let response = ui.label(Lettering::Strong.text(&words).color(palette.ink));
                let said = spoken(&format!("{head}, {}: {words}", whole.place));
                response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &said));
                if let Some(because) = keeps.because {
                    response.on_hover_text(because);
                }
            }
            ui.label(small(whole.source));
            ui.end_row();
        }
    });
    parts::quiet(
        ui,
        "By the fewer days it should be looked over, by the more be opened. What is not sound: common practice, no source.",
    );
}

/// "7 to 14 days", "1 day".
fn days_words((least, most): (u16, u16)) -> String {
    match (least, most) {
        (1, 1) => "1 day".into(),
        (a, b) if a == b => format!("{a} days"),
        (a, b) => format!("{a} to {b} days"),
    }
}
