//! Can everything the window says be read, told apart, reached and named?

use std::collections::BTreeSet;
use std::time::Duration;

use egui::accesskit::Role;
use egui::{Color32, FontFamily, Key, Pos2, Rect, Shape, Ui, Vec2, pos2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};

use tranche::app::marks::{self, Icon, Level, TextureMark};
use tranche::app::theme::{self, Lettering, Look, Palette};
use tranche::app::widget::{Button, Chip, Field, IconButton, Stepper, level_head, tell_places};

/// Colours of pieces, strong and pale, dark and light.
const PIECES: [(&str, u32); 8] = [
    ("red cabbage", 0x7A4A78),
    ("salmon", 0xE08A6B),
    ("turkey", 0xA9743F),
    ("tomato", 0xC23B2B),
    ("celeriac", 0xD9CFA8),
    ("black radish", 0x1E1A1B),
    ("cauliflower", 0xFBF7EC),
    ("savoy", 0x6FA84A),
];

fn colour(rgb: u32) -> Color32 {
    let [_, r, g, b] = rgb.to_be_bytes();
    Color32::from_rgb(r, g, b)
}

/// Contrast ratio after WCAG 2.2 ("relative luminance", "contrast ratio"), written out here a
/// second time so that the program's own arithmetic is checked as well.
fn wcag(one: Color32, other: Color32) -> f64 {
    let luminance = |c: Color32| {
        let part = |byte: u8, weight: f64| {
            let s = f64::from(byte) / 255.0;
            weight * if s <= 0.04045 { s / 12.92 } else { ((s + 0.055) / 1.055).powf(2.4) }
        };
        part(c.r(), 0.2126) + part(c.g(), 0.7152) + part(c.b(), 0.0722)
    };
    let (a, b) = (luminance(one) + 0.05, luminance(other) + 0.05);
    a.max(b) / a.min(b)
}

#[test]
fn does_the_program_reckon_contrast_as_wcag_does() {
    assert!((f64::from(theme::contrast(Color32::BLACK, Color32::WHITE)) - 21.0).abs() < 1e-3);
    for (name, palette) in Palette::ALL {
        for (_, ground) in palette.grounds() {
            let own = f64::from(theme::contrast(palette.soft, ground));
            assert!((own - wcag(palette.soft, ground)).abs() < 1e-3, "{name}");
        }
    }
}

#[test]
fn can_every_text_be_read_on_every_ground() {
    for (name, palette) in Palette::ALL {
        let least = if palette.high_contrast { 7.0 } else { 4.5 };
        let texts = [("ink", palette.ink), ("soft", palette.soft), ("accent", palette.accent), ("link", palette.focus)]
            .into_iter()
            .chain(Level::ALL.map(|level| (level.word(), level.colour(palette))));
        for (text, ink) in texts {
            for (ground_name, ground) in palette.grounds() {
                let ratio = wcag(ink, ground);
                assert!(ratio >= least, "{name}: {text} on {ground_name} is {ratio:.2}:1");
            }
        }
        let pressed = theme::mix(palette.accent, palette.ink, 0.24);
        for ground in [palette.accent, pressed] {
            let ratio = wcag(palette.text_on(ground), ground);
            assert!(ratio >= least, "{name}: primary button is {ratio:.2}:1");
        }
    }
}

#[test]
fn can_every_edge_that_means_something_be_seen() {
    for (name, palette) in Palette::ALL {
        let edges = [("line", palette.line), ("focus", palette.focus)]
            .into_iter()
            .chain(Level::ALL.map(|level| (level.word(), level.colour(palette))));
        for (edge, line) in edges {
            for (ground_name, ground) in palette.grounds() {
                let ratio = wcag(line, ground);
                assert!(ratio >= 3.0, "{name}: {edge} on {ground_name} is {ratio:.2}:1");
            }
        }
    }
}

#[test]
fn does_the_colour_of_any_piece_leave_words_readable() {
    for (name, palette) in Palette::ALL {
        for (piece, rgb) in PIECES {
            let own = colour(rgb);
            let tint = palette.piece_tint(own);
            for (text, ink) in [("ink", palette.ink), ("soft", palette.soft)] {
                let ratio = wcag(ink, tint);
                assert!(ratio >= 4.5, "{name}, {piece}: {text} is {ratio:.2}:1");
            }
            let grounds = palette.grounds().into_iter().chain([("its wash", tint)]);
            for (ground_name, ground) in grounds {
                let edge = wcag(palette.piece_edge(own), ground);
                assert!(edge >= 3.0, "{name}, {piece}: edge on {ground_name} {edge:.2}");
                let text = wcag(palette.piece_text(own), ground);
                assert!(text >= 4.5, "{name}, {piece}: text on {ground_name} {text:.2}");
            }
            let (fill, ink) = palette.piece_solid(own);
            let ratio = wcag(fill, ink);
            assert!(ratio >= 4.5, "{name}, {piece}: chip in hand is {ratio:.2}:1");
        }
        // A wash must be seen to be one, for a piece with a colour of its own.
        let (cabbage, card) = (palette.piece_tint(colour(0x7A4A78)), palette.card);
        assert!(wcag(cabbage, card) >= 1.1, "{name}: the wash is not seen");
    }
}

#[test]
fn is_a_palette_known_by_its_paper() {
    for (index, (name, one)) in Palette::ALL.into_iter().enumerate() {
        for (other_name, other) in &Palette::ALL[index + 1..] {
            assert_ne!(one.paper, other.paper, "{name} and {other_name}");
        }
    }
}

#[test]
fn does_each_look_dress_the_window_in_its_palette() {
    let expected = [
        (Look::Light, &Palette::LIGHT),
        (Look::Dark, &Palette::DARK),
        (Look::HighContrastLight, &Palette::HIGH_CONTRAST_LIGHT),
        (Look::HighContrastDark, &Palette::HIGH_CONTRAST_DARK),
    ];
    for (look, palette) in expected {
        let mut harness = dressed(look, |ui| {
            ui.label("slaw");
        });
        harness.run();
        assert_eq!(theme::palette_in(&harness.ctx), palette, "{look:?}");
    }
}

#[test]
fn does_reduced_motion_still_everything() {
    let style = theme::style(&Palette::LIGHT, true);
    assert_eq!(style.animation_time, 0.0);
    assert_eq!(style.scroll_animation.duration.max, 0.0);
    for reduce in [false, true] {
        let style = theme::style(&Palette::DARK, reduce);
        assert!(!style.visuals.text_cursor.blink);
    }
}

#[test]
fn is_nothing_written_smaller_than_twelve_points() {
    let style = theme::style(&Palette::LIGHT, false);
    for (name, font) in &style.text_styles {
        assert!(font.size >= 12.0, "{name:?} is {}", font.size);
    }
    assert!(style.spacing.interact_size.y >= 28.0);
}

/// A window with nothing but the program's own font files, no help from egui's or the system's.
#[test]
fn do_the_bundled_fonts_hold_every_sign_we_print() {
    const WORDS: &str = "Crème brûlée Žluťoučký Ørsted jalapeño Łódź Grüße őű ğ ș Ελλάδα Жаркое";
    let mut fonts = theme::fonts();
    let bundled: BTreeSet<String> = ["Vollkorn SemiBold", "Inter", "Inter SemiBold"].map(str::to_owned).into();
    for (family, names) in &mut fonts.families {
        if *family != FontFamily::Monospace {
            names.retain(|name| bundled.contains(name));
        }
    }
    let ctx = egui::Context::default();
    ctx.set_fonts(fonts);
    ctx.run_ui(Default::default(), |_| {}).textures_delta.clear();
    for lettering in Lettering::ALL {
        for sign in theme::SIGNS.chars().chain(WORDS.chars()) {
            let has = ctx.fonts_mut(|fonts| fonts.has_glyph(&lettering.font(), sign));
            assert!(has, "{lettering:?} lacks {sign:?} (U+{:04X})", sign as u32);
        }
    }
    // The test itself can fail: no bundled font has this.
    let has = ctx.fonts_mut(|fonts| fonts.has_glyph(&Lettering::Body.font(), '🥕'));
    assert!(!has);
}

/// Which of 24 by 24 fields the lines of a drawing run through, whatever their colour.
fn traces(shapes: &[Shape]) -> BTreeSet<(i32, i32)> {
    let mut fields = BTreeSet::new();
    let mut walk = |points: &[Pos2]| {
        for ends in points.windows(2) {
            for step in 0..=48 {
                let at = ends[0].lerp(ends[1], step as f32 / 48.0);
                fields.insert((at.x.floor() as i32, at.y.floor() as i32));
            }
        }
    };
    for shape in shapes {
        match shape {
            Shape::Path(path) => {
                let mut points = path.points.clone();
                if path.closed {
                    points.extend(path.points.first());
                }
                walk(&points);
            }
            Shape::Circle(circle) => {
                let around: Vec<Pos2> = (0..=48)
                    .map(|step| {
                        let turn = step as f32 / 48.0 * std::f32::consts::TAU;
                        circle.center + circle.radius * Vec2::angled(turn)
                    })
                    .collect();
                walk(&around);
            }
            Shape::CubicBezier(curve) => walk(&curve.flatten(Some(0.1))),
            other => panic!("marks are lines, curves and circles, not {other:?}"),
        }
    }
    fields
}

/// The share of two drawings' fields that only one of them runs through.
fn unlike(one: &BTreeSet<(i32, i32)>, other: &BTreeSet<(i32, i32)>) -> f32 {
    let both = one.intersection(other).count() as f32;
    1.0 - both / one.union(other).count() as f32
}

fn grid() -> Rect {
    Rect::from_min_size(Pos2::ZERO, Vec2::splat(24.0))
}

#[test]
fn can_levels_be_told_apart_without_colour() {
    let drawn = Level::ALL.map(|level| traces(&marks::level_shapes(grid(), level, Color32::BLACK, 1.0)));
    for one in 0..drawn.len() {
        for other in one + 1..drawn.len() {
            let apart = unlike(&drawn[one], &drawn[other]);
            assert!(apart > 0.6, "{:?} and {:?} are {apart:.2} apart", Level::ALL[one], Level::ALL[other]);
        }
    }
}

#[test]
fn can_textures_and_icons_be_told_apart() {
    let textures = TextureMark::ALL.map(|mark| (format!("{mark:?}"), marks::texture_shapes(grid(), mark, Color32::BLACK, 1.0)));
    let icons = Icon::ALL.map(|icon| (format!("{icon:?}"), marks::icon_shapes(grid(), icon, Color32::BLACK, 1.0)));
    for set in [&textures[..], &icons[..]] {
        for (index, (name, shapes)) in set.iter().enumerate() {
            for (other, others) in &set[index + 1..] {
                let apart = unlike(&traces(shapes), &traces(others));
                assert!(apart > 0.3, "{name} and {other} are {apart:.2} apart");
            }
        }
    }
}

#[test]
fn do_marks_stay_in_their_place_at_every_scale() {
    for pixels in [1.0, 1.25, 1.5, 2.0] {
        for side in [14.0, 16.0, 20.0, 28.0] {
            let place = Rect::from_min_size(pos2(33.3, 17.7), Vec2::splat(side));
            let drawings = TextureMark::ALL
                .map(|mark| marks::texture_shapes(place, mark, Color32::BLACK, pixels))
                .into_iter()
                .chain(Level::ALL.map(|level| marks::level_shapes(place, level, Color32::BLACK, pixels)))
                .chain(Icon::ALL.map(|icon| marks::icon_shapes(place, icon, Color32::BLACK, pixels)));
            for shapes in drawings {
                assert!(!shapes.is_empty());
                for shape in shapes {
                    let bounds = shape.visual_bounding_rect();
                    assert!(place.expand(1.0).contains_rect(bounds), "{bounds:?} leaves {place:?} at {pixels}");
                }
            }
        }
    }
}

#[test]
fn are_level_lines_laid_on_whole_pixels() {
    for pixels in [1.0_f32, 1.25, 1.5, 2.0] {
        let place = Rect::from_min_size(pos2(33.3, 17.7), Vec2::splat(20.0));
        let shapes = marks::texture_shapes(place, TextureMark::Smooth, Color32::BLACK, pixels);
        let line = shapes
            .iter()
            .find_map(|shape| match shape {
                Shape::Path(path) => Some(path),
                _ => None,
            })
            .expect("smooth is a flat line");
        let flank = (line.points[0].y - line.stroke.width / 2.0) * pixels;
        assert!((flank - flank.round()).abs() < 0.01, "{flank} at {pixels}");
        assert_eq!(line.points[0].y, line.points[1].y);
    }
}

/// A window in a look, with the program's fonts from its second frame on.
fn dressed<'a>(look: Look, mut add: impl FnMut(&mut Ui) + 'a) -> Harness<'a> {
    let mut begun = false;
    Harness::builder().with_size(Vec2::new(480.0, 640.0)).build_ui(move |ui| {
        if begun {
            add(ui);
        } else {
            theme::install_fonts(ui.ctx());
            tell_places(ui.ctx());
            theme::apply(ui.ctx(), look, true);
            ui.ctx().request_repaint();
            begun = true;
        }
    })
}

#[test]
fn does_every_widget_say_who_it_is() {
    let (mut reason, mut search) = (String::from("Kim is away"), String::new());
    let mut mass = 520.0;
    let mut harness = dressed(Look::Light, move |ui| {
        ui.add(Button::primary("Arrange the rest"));
        ui.add(Button::quiet("Save"));
        ui.add(Button::mend("Fry the roll").detail("5 min more"));
        ui.add(Button::plain("Undo").name("Undo move slaw"));
        ui.add(Button::tab("Bench", true));
        ui.add(IconButton::new(Icon::Menu, "Menu"));
        ui.add(Chip::new("fine: both hot").level(Level::Fine));
        ui.add(Chip::new("vegetarian").selected(false));
        level_head(ui, Level::Warn);
        Field::new("Why", &mut reason).error(Some("Say more.")).show(ui);
        Field::new("Search dishes", &mut search).label_hidden().icon(Icon::Search).show(ui);
        Stepper::new("Mass", &mut mass).unit("g").show(ui);
    });
    harness.run();
    for name in
        ["Arrange the rest", "Save", "Fry the roll", "Undo move slaw", "Bench", "Menu", "vegetarian", "Mass, less", "Mass, more"]
    {
        let button = harness.get_by_role_and_label(Role::Button, name);
        let size = button.rect().size();
        assert!(size.x >= 28.0 && size.y >= 28.0, "{name} is {size:?}");
    }
    for name in ["fine: both hot", "Warning"] {
        harness.get_by_role_and_label(Role::Label, name);
    }
    harness.get_by_role_and_label(Role::TextInput, "Search dishes");
    let why = harness.get_by_role_and_label(Role::TextInput, "Why");
    assert_eq!(why.accesskit_node().description(), Some("Say more.".to_owned()));
    let mass = harness.get_by_role_and_label(Role::SpinButton, "Mass");
    assert_eq!(mass.accesskit_node().numeric_value(), Some(520.0));
    assert_eq!(mass.value(), Some("520\u{a0}g".to_owned()));
}

/// Readers on Linux pass over a thing without a place, with all that is in it.
#[test]
fn does_a_screen_reader_find_its_way_into_a_panel() {
    let mut harness = dressed(Look::Light, |ui| {
        egui::CentralPanel::default().show(ui, |ui| {
            ui.add(Button::quiet("Save"));
        });
    });
    harness.run();
    let save = harness.get_by_label("Save");
    let mut above = save.accesskit_node().parent();
    let mut panes = 0;
    while let Some(node) = above {
        if node.role() == Role::Pane {
            assert!(node.bounding_box().is_some(), "a pane without a place");
            panes += 1;
        }
        above = node.parent();
    }
    assert_eq!(panes, 1);
}

#[test]
fn does_a_settled_window_rest() {
    let mut reason = String::new();
    let mut mass = 520.0;
    for look in [Look::Light, Look::Dark] {
        let mut harness = dressed(look, |ui| {
            ui.add(Button::primary("Arrange the rest"));
            Field::new("Why", &mut reason).show(ui);
            Stepper::new("Mass", &mut mass).unit("g").show(ui);
            ui.add(Chip::new("vegetarian").selected(true));
        });
        harness.run();
        // With the keyboard in a field too: the cursor does not blink.
        harness.get_by_role(Role::TextInput).focus();
        harness.run();
        harness.step();
        let delays: Vec<Duration> = harness.output().viewport_output.values().map(|viewport| viewport.repaint_delay).collect();
        assert_eq!(delays, [Duration::MAX]);
    }
}

#[test]
fn does_what_the_keyboard_is_on_wear_a_ring() {
    let mut mass = 520.0;
    let mut harness = dressed(Look::Light, |ui| {
        ui.add(Button::quiet("Save"));
        ui.add(IconButton::new(Icon::Menu, "Menu"));
        ui.add(Chip::new("vegetarian").selected(true));
        Stepper::new("Mass", &mut mass).show(ui);
    });
    harness.run();
    let rings = |harness: &Harness<'_>| {
        harness
            .output()
            .shapes
            .iter()
            .filter(|clipped| match &clipped.shape {
                Shape::Rect(rect) => rect.stroke.color == Palette::LIGHT.focus && rect.stroke.width >= 2.0,
                _ => false,
            })
            .count()
    };
    assert_eq!(rings(&harness), 0);
    for stop in ["Save", "Menu", "vegetarian", "less", "Mass", "more"] {
        harness.key_press(Key::Tab);
        harness.run();
        assert_eq!(rings(&harness), 1, "on {stop}");
    }
}

#[test]
fn does_a_stepper_step_by_hand_and_by_key() {
    let mut harness = stepper();
    harness.get_by_label("Mass, more").click();
    harness.run();
    assert_eq!(*harness.state(), 530.0);
    harness.get_by_label("Mass, less").click();
    harness.run();
    harness.get_by_role(Role::SpinButton).focus();
    harness.run();
    harness.key_press(Key::ArrowDown);
    harness.run();
    assert_eq!(*harness.state(), 510.0);
}

#[test]
fn does_a_stepper_take_what_is_typed_only_when_it_is_done() {
    let mut harness = stepper();
    type_over(&mut harness, "1,250");
    assert_eq!(*harness.state(), 520.0, "half typed");
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(*harness.state(), 1250.0);

    type_over(&mut harness, "700");
    harness.key_press(Key::Escape);
    harness.run();
    assert_eq!(*harness.state(), 1250.0, "Escape takes it back");
}

#[test]
fn does_a_stepper_say_what_is_wrong_and_change_nothing() {
    let mut harness = stepper();
    for (typed, said) in [("9000", "The most is 1,500\u{a0}g."), ("some", "“some” is not a number; type one like 520\u{a0}g.")]
    {
        type_over(&mut harness, typed);
        harness.key_press(Key::Enter);
        harness.run();
        assert_eq!(*harness.state(), 520.0);
        harness.get_by_label(said);
        let number = harness.get_by_role(Role::SpinButton);
        assert_eq!(number.accesskit_node().description(), Some(said.to_owned()));
    }
}

fn stepper() -> Harness<'static, f64> {
    let mut begun = false;
    let mut harness = Harness::builder().build_ui_state(
        move |ui, mass: &mut f64| {
            if begun {
                Stepper::new("Mass", mass).unit("g").step(10.0).bounds(0.0..=1500.0).show(ui);
            } else {
                theme::install_fonts(ui.ctx());
                theme::apply(ui.ctx(), Look::Light, true);
                ui.ctx().request_repaint();
                begun = true;
            }
        },
        520.0,
    );
    harness.run();
    harness
}

fn type_over(harness: &mut Harness<'static, f64>, words: &str) {
    harness.get_by_role(Role::SpinButton).focus();
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
    harness.run();
    harness.get_by_role(Role::SpinButton).type_text(words);
    harness.run();
}
