//! How a warm fridge shortens what keeps: the published models, their constants and ranges, and what they come to.

use crate::{
    app::{
        sheet::parts,
        theme::{self, Lettering},
        view::View,
    },
    judge::spoilage::{Growth, LISTERIA, Model, PSEUDOMONAS, SAFE_FRIDGE_C, Spell, safe_rate, shorten},
    quantity::Days,
};
use egui::Ui;

/// Temperatures that the table shows, in degrees Celsius.
const SHOWN: [f64; 5] = [6.0, 7.0, 8.0, 10.0, 12.0];
/// Published limits that it shortens, in days.
const LIMITS: [i16; 4] = [1, 2, 3, 4];

pub(super) fn ui(ui: &mut Ui, view: &View<'_>) {
    let runs_at = view.rotation.fridge.runs_at.unwrap_or(SAFE_FRIDGE_C);
    if safe_rate(runs_at) > 1.0 {
        parts::plain(
            ui,
            format!(
                "This fridge runs at {runs_at:.0}\u{a0}°C: its clocks go {:.1} times as fast as published.",
                safe_rate(runs_at)
            ),
        );
    }
    let head = Lettering::Small.text("How a warm fridge shortens it");
    egui::CollapsingHeader::new(head).id_salt("how a warm fridge shortens").show(ui, |ui| {
        table(ui);
        for model in [LISTERIA, PSEUDOMONAS] {
            parts::quiet(ui, words(&model));
        }
        parts::quiet(
            ui,
            format!(
                "At every temperature the stricter of the two counts, against a fridge at {SAFE_FRIDGE_C:.0}\u{a0}°C (FDA Food Code \
                 2022, 3-501.16). Hours add up over a history: a power cut counts for as long as it was warm. A colder fridge \
                 lengthens no published limit."
            ),
        );
    });
}

/// "Listeria: its rate rises with the square of the degrees above -1.2 °C; made for 3 to 35 °C (…)".
fn words(model: &Model) -> String {
    let law = match model.growth {
        Growth::SquareRoot { t_min } => {
            format!("its rate rises with the square of the degrees above {t_min}\u{a0}°C (Ratkowsky et al. 1982)")
                .replace('-', "−")
        }
        Growth::Exponential { slope } => format!("its rate rises by {:.0}\u{a0}% with each degree", 100.0 * (slope.exp() - 1.0)),
        Growth::Arrhenius { energy } => format!("its rate follows Arrhenius with {energy}\u{a0}kJ/mol"),
    };
    let (low, high) = model.range;
    format!("{}: {law}; made for {low:.0} to {high:.0}\u{a0}°C; {}.", model.name, model.source)
}

fn table(ui: &mut Ui) {
    let palette = theme::palette(ui);
    let cell = |ui: &mut Ui, words: String, strong: bool| {
        let lettering = if strong { Lettering::SmallStrong } else { Lettering::Small };
        ui.label(lettering.text(words).color(if strong { palette.ink } else { palette.soft }));
    };
    egui::Grid::new("shortened").num_columns(2 + LIMITS.len()).spacing([24.0, 4.0]).show(ui, |ui| {
        cell(ui, "the fridge runs at".into(), false);
        cell(ui, "clocks go".into(), false);
        for limit in LIMITS {
            cell(ui, if limit == 1 { "1 day".into() } else { format!("{limit} days") }, false);
        }
        ui.end_row();
        for c in SHOWN {
            cell(ui, format!("{c:.0}\u{a0}°C"), true);
            cell(ui, format!("{:.1} ×", safe_rate(c)), true);
            for limit in LIMITS {
                let history = [Spell { hours: 24.0 * f64::from(limit), c }];
                let left = shorten(Days(limit), &history).limit.0;
                let words = match left {
                    0 => "its own day".into(),
                    1 => "1 day".into(),
                    n => format!("{n} days"),
                };
                cell(ui, words, true);
            }
            ui.end_row();
        }
    });
}
