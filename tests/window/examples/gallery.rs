//! All widgets, marks and type sizes of the window on one sheet.
//!
//! `cargo run -p tranche-window-tests --example gallery -- [light|dark|contrast|contrast-dark] [ZOOM]`

use eframe::egui;
use egui::{Align, Color32, Layout, Rect, ScrollArea, Sense, Stroke, Ui, Vec2, pos2, vec2};
use tranche::app::marks::{self, Icon, Level, TextureMark};
use tranche::app::theme::{self, Lettering, Look};
use tranche::app::widget::{
    Button, Card, Chip, Edge, Field, IconButton, Stepper, level_head, paint_card, path, sunk, tell_places,
};

const CABBAGE: Color32 = Color32::from_rgb(0x7A, 0x4A, 0x78);

/// Colours of some pieces, to see each wash and edge.
const PIECES: [(&str, Color32); 5] = [
    ("red cabbage", CABBAGE),
    ("salmon", Color32::from_rgb(0xE0, 0x8A, 0x6B)),
    ("turkey", Color32::from_rgb(0xA9, 0x74, 0x3F)),
    ("tomatoes", Color32::from_rgb(0xC2, 0x3B, 0x2B)),
    ("celeriac", Color32::from_rgb(0xD9, 0xCF, 0xA8)),
];

fn main() -> eframe::Result {
    let mut words = std::env::args().skip(1);
    let look = match words.next().as_deref() {
        Some("dark") => Look::Dark,
        Some("contrast") => Look::HighContrastLight,
        Some("contrast-dark") => Look::HighContrastDark,
        _ => Look::Light,
    };
    let zoom = words.next().and_then(|zoom| zoom.parse().ok()).unwrap_or(1.0);
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default().with_inner_size([1440.0, 900.0]),
        ..Default::default()
    };
    eframe::run_native(
        "Gallery",
        options,
        Box::new(move |cc| {
            theme::install_fonts(&cc.egui_ctx);
            tell_places(&cc.egui_ctx);
            theme::apply(&cc.egui_ctx, look, false);
            cc.egui_ctx.set_zoom_factor(zoom);
            Ok(Box::new(Gallery::new()))
        }),
    )
}

struct Gallery {
    name: String,
    mass: f64,
    search: String,
    reason: String,
    chosen: bool,
    share: f32,
    look: Look,
    tab: usize,
}

impl Gallery {
    fn new() -> Self {
        Self {
            name: "Red cabbag".to_owned(),
            mass: 520.0,
            search: String::new(),
            reason: String::new(),
            chosen: true,
            share: 0.4,
            look: Look::System,
            tab: 0,
        }
    }
}

impl eframe::App for Gallery {
    fn ui(&mut self, ui: &mut Ui, _: &mut eframe::Frame) {
        egui::CentralPanel::default().show(ui, |ui| {
            ScrollArea::both().show(ui, |ui| {
                self.head_ui(ui);
                ui.add_space(16.0);
                pieces_ui(ui);
                ui.add_space(16.0);
                ui.horizontal_top(|ui| {
                    ui.spacing_mut().item_spacing.x = 24.0;
                    column(ui, 230.0, shelf_ui);
                    column(ui, 400.0, calendar_ui);
                    column(ui, 300.0, findings_ui);
                    column(ui, 400.0, |ui| self.fields_ui(ui));
                });
                ui.add_space(16.0);
                marks_ui(ui);
                ui.add_space(16.0);
                type_ui(ui);
            });
        });
    }
}

fn column(ui: &mut Ui, width: f32, add: impl FnOnce(&mut Ui)) {
    ui.vertical(|ui| {
        ui.set_width(width);
        ui.spacing_mut().item_spacing.x = theme::STEP;
        add(ui);
    });
}

impl Gallery {
    fn head_ui(&mut self, ui: &mut Ui) {
        let palette = theme::palette(ui);
        ui.horizontal(|ui| {
            ui.label(Lettering::Title.text("Red cabbage"));
            ui.label(Lettering::Body.text("Mon 7 – Thu 10 December · Asta, Bo, Kim").color(palette.soft));
            ui.add_space(24.0);
            for (index, words) in ["Bench", "Cut list", "Run sheet", "Shopping", "Larder"].into_iter().enumerate() {
                if ui.add(Button::tab(words, self.tab == index)).clicked() {
                    self.tab = index;
                }
            }
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                ui.add(IconButton::new(Icon::Menu, "Menu"));
                ui.add_enabled(false, IconButton::new(Icon::Redo, "Redo"));
                ui.add(IconButton::new(Icon::Undo, "Undo move slaw to Tuesday"));
                ui.add(Button::primary("Arrange the rest"));
                ui.add(Button::quiet("Save").icon(Icon::Tick));
                ui.add(Button::plain("Print"));
            });
        });
    }

    fn fields_ui(&mut self, ui: &mut Ui) {
        Card::new().fill_width().show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 12.0;
            ui.label(Lettering::Head.text("Fields"));
            let wrong = (!self.name.ends_with('e')).then_some("Not in the book.");
            Field::new("Piece", &mut self.name).width(200.0).error(wrong).show(ui);
            Stepper::new("Mass", &mut self.mass).unit("g").step(10.0).bounds(0.0..=800.0).show(ui);
            Field::new("Why overrule", &mut self.reason).rows(2).hint("In a few words").width(f32::INFINITY).show(ui);
            ui.horizontal(|ui| {
                ui.add(Chip::new("vegetarian").selected(true));
                ui.add(Chip::new("under 30 min").selected(false));
                ui.add(Chip::new("uncut, wrapped").colour(CABBAGE));
            });
            ui.checkbox(&mut self.chosen, "Reduce motion");
            ui.add(egui::Slider::new(&mut self.share, 0.0..=1.0).show_value(false)).accessible_name("Share");
            let combo = egui::ComboBox::from_id_salt("look").selected_text(self.look.words()).width(220.0).show_ui(ui, |ui| {
                for look in Look::ALL {
                    ui.selectable_value(&mut self.look, look, look.words());
                }
            });
            let _ = combo.response.accessible_name("Look");
            ui.horizontal(|ui| {
                let _ = ui.button("An egui button");
                ui.add_enabled(false, Button::quiet("Not now"));
            });
            ui.hyperlink_to("Where the figures come from", "about:blank");
            Field::new("Search dishes", &mut self.search)
                .label_hidden()
                .icon(Icon::Search)
                .hint("Search dishes")
                .width(f32::INFINITY)
                .show(ui);
        });
    }
}

fn pieces_ui(ui: &mut Ui) {
    let palette = theme::palette(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(1390.0, 84.0), Sense::hover());
    let width = (rect.width() - 5.0 * 4.0) / 6.0;
    for (index, (name, colour)) in PIECES.into_iter().chain([("free", palette.line)]).enumerate() {
        let place = Rect::from_min_size(rect.min + vec2(index as f32 * (width + 4.0), 0.0), vec2(width, rect.height()));
        let free = index == PIECES.len();
        let (ground, line, manner) = if free {
            (palette.card, palette.line, Edge::Dashed)
        } else {
            (palette.piece_tint(colour), palette.piece_edge(colour), Edge::Thin)
        };
        paint_card(ui.painter(), place, ground, manner, Stroke::new(palette.edge_width(), line));
        let mut at = place.min + vec2(14.0, 12.0);
        for (words, lettering, colour) in [
            (name, Lettering::Strong, palette.ink),
            ("250 g", Lettering::Body, palette.soft),
            ("drag from here", Lettering::Small, palette.soft),
        ] {
            ui.painter().text(at, egui::Align2::LEFT_TOP, words, lettering.font(), colour);
            at.y += 20.0;
        }
        if !free {
            let (fill, ink) = palette.piece_solid(colour);
            let chip = Rect::from_min_size(place.right_top() + vec2(-88.0, 12.0), vec2(76.0, 26.0));
            ui.painter().rect_filled(chip, 8.0, fill);
            ui.painter().text(chip.center(), egui::Align2::CENTER_CENTER, "in hand", Lettering::SmallStrong.font(), ink);
            ui.painter().text(
                place.right_bottom() + vec2(-14.0, -10.0),
                egui::Align2::RIGHT_BOTTOM,
                "in words",
                Lettering::SmallStrong.font(),
                palette.piece_text(colour),
            );
        }
    }
}

fn dish_ui(ui: &mut Ui, mark: TextureMark, name: &str, profile: &str, mass: &str, level: Level) {
    let palette = theme::palette(ui);
    Card::new().colour(palette.hair).room(egui::Margin::symmetric(14, 10)).fill_width().show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 4.0;
        ui.horizontal(|ui| {
            let (place, _) = ui.allocate_exact_size(Vec2::splat(20.0), Sense::hover());
            marks::texture(ui.painter(), place, mark, palette.piece_edge(CABBAGE));
            ui.label(Lettering::Dish.text(name));
        });
        ui.label(Lettering::Small.text(profile).color(palette.soft));
        ui.horizontal(|ui| {
            ui.label(Lettering::Small.text(mass));
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let words = level.word().to_lowercase();
                ui.label(Lettering::SmallStrong.text(words).color(level.colour(palette)));
            });
        });
    });
}

fn shelf_ui(ui: &mut Ui) {
    sunk(ui).show(ui, |ui| {
        ui.label(Lettering::Head.text("Dishes for Thursday"));
        for (mark, name, profile, mass, level) in [
            (TextureMark::Crunchy, "Shred pancakes", "crunchy · umami · fried, hot", "280 g · 35 min", Level::Fine),
            (TextureMark::Charred, "Wedges, tahini", "charred · smoky · roast, hot", "520 g · 45 min", Level::Warn),
            (TextureMark::Smooth, "Apple soup", "smooth · sweet · boiled, hot", "420 g · 40 min", Level::Fine),
            (TextureMark::Set, "Layered bake", "set · cheesy · baked, hot", "380 g · 70 min", Level::Caution),
        ] {
            dish_ui(ui, mark, name, profile, mass, level);
        }
    });
}

fn calendar_ui(ui: &mut Ui) {
    let palette = theme::palette(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(400.0, 340.0), Sense::hover());
    let cell = |column: f32, row: f32| Rect::from_min_size(rect.min + vec2(column * 205.0, row * 136.0), vec2(190.0, 120.0));
    let line = Stroke::new(palette.edge_width(), palette.line);
    let manners = [
        (cell(0.0, 0.0), palette.paper, Edge::Dashed, palette.line, "lunch, empty"),
        (cell(1.0, 0.0), palette.card, Edge::Thin, palette.line, "an ordinary card"),
        (cell(0.0, 1.0), palette.card, Edge::Double, palette.stop, "stop"),
        (cell(1.0, 1.0), palette.piece_tint(palette.accent), Edge::Thick, palette.accent, "takes the drop"),
    ];
    for (place, ground, manner, colour, words) in manners {
        paint_card(ui.painter(), place, ground, manner, Stroke::new(line.width, colour));
        ui.painter().text(place.center(), egui::Align2::CENTER_CENTER, words, Lettering::Small.font(), palette.soft);
    }
    let y = cell(0.0, 1.0).bottom();
    for (index, level) in Level::ALL.into_iter().enumerate() {
        let left = rect.left() + 80.0 * index as f32 + 8.0;
        let points = [pos2(left, y), pos2(left, y + 24.0), pos2(left + 64.0, y + 24.0), pos2(left + 64.0, y)];
        path(ui.painter(), &points, Edge::of(level), Stroke::new(1.5, level.colour(palette)));
    }
    ui.horizontal_wrapped(|ui| {
        ui.add(Chip::new("fine: both hot").level(Level::Fine));
        ui.add(Chip::new("getting alike: both stewed").level(Level::Caution));
        ui.add(Chip::new("too alike").level(Level::Warn));
        ui.add(Chip::new("unsafe").level(Level::Stop));
        ui.add(Chip::new("one thing").level(Level::Note));
    });
}

fn findings_ui(ui: &mut Ui) {
    let palette = theme::palette(ui);
    sunk(ui).show(ui, |ui| {
        ui.horizontal(|ui| {
            ui.label(Lettering::Head.text("What to mend"));
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                ui.label(Lettering::Small.text("4 findings").color(palette.soft));
            });
        });
        for (level, words, mends) in [
            (Level::Stop, "Kim is allergic to mustard: the slaw has 15 g.", &["Leave the mustard out"][..]),
            (
                Level::Warn,
                "Bo eats the leaf roll twice: Wednesday supper and Thursday lunch are the same meal.",
                &["Fry the roll in slices", "Give it to Asta"][..],
            ),
            (Level::Caution, "Two suppers in a row are hot and brown.", &[][..]),
            (Level::Note, "Yoghurt: 50 g of the pot is left after Thursday; eat by Saturday.", &[][..]),
        ] {
            Card::of(level, palette).fill_width().show(ui, |ui| {
                level_head(ui, level);
                ui.label(words);
                for mend in mends {
                    ui.add(Button::mend(mend));
                }
                if level == Level::Stop {
                    ui.add(Button::mend("Serve Kim the soup").detail("10 min more, 120 g less slaw").fill_width());
                }
            });
        }
    });
}

fn marks_ui(ui: &mut Ui) {
    let palette = theme::palette(ui);
    ui.horizontal_wrapped(|ui| {
        for mark in TextureMark::ALL {
            ui.vertical(|ui| {
                ui.set_width(64.0);
                let (place, _) = ui.allocate_exact_size(vec2(48.0, 40.0), Sense::hover());
                marks::texture(ui.painter(), place, mark, palette.piece_edge(CABBAGE));
                let (place, _) = ui.allocate_exact_size(vec2(48.0, 20.0), Sense::hover());
                marks::texture(ui.painter(), place, mark, palette.piece_edge(CABBAGE));
                ui.label(Lettering::Small.text(mark.word()));
            });
        }
    });
    ui.horizontal(|ui| {
        for level in Level::ALL {
            for side in [40.0, 20.0, 16.0] {
                let (place, _) = ui.allocate_exact_size(Vec2::splat(side), Sense::hover());
                marks::level(ui.painter(), place, level, level.colour(palette));
            }
            ui.label(Lettering::Small.text(level.word()));
        }
    });
    ui.horizontal(|ui| {
        for icon in Icon::ALL {
            let (place, _) = ui.allocate_exact_size(Vec2::splat(32.0), Sense::hover());
            marks::icon(ui.painter(), place, icon, palette.ink);
        }
    });
    ui.horizontal(|ui| {
        for icon in Icon::ALL {
            let name = format!("{icon:?}");
            ui.add(IconButton::new(icon, &name).framed());
        }
    });
}

fn type_ui(ui: &mut Ui) {
    for lettering in Lettering::ALL {
        ui.label(lettering.text(format!("{lettering:?}: Charred wedges, 1,500 g, 3 meals that feel like 2.9 {}", theme::SIGNS)));
    }
}
