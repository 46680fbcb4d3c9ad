//! The look of the window: lettering, spacing and the one place that turns a [`Palette`] into an
//! egui style.
//!
//! [`install_fonts`] once and [`apply`] at the start and whenever the setting changes; everything
//! that draws then asks [`palette`] for its colours and [`Lettering`] for its type. Sizes are in
//! points, which egui scales to the screen's pixels. The rhythm is eight points, four inside small
//! things.

use egui::style::{
    HandleShape, ScrollAnimation, ScrollFadeStyle, ScrollStyle, Selection, Spacing, TextCursorStyle, WidgetVisuals, Widgets,
};
use egui::{Color32, Context, CornerRadius, Margin, Shadow, Stroke, Style, TextStyle, Theme, ThemePreference, Ui, Vec2, Visuals};

pub mod contrast;
mod lettering;
mod palette;

pub use contrast::{contrast, mix, relative_luminance};
pub use lettering::{Lettering, SIGNS, fonts};
pub use palette::Palette;

/// Rounding of a card's corners, in points.
pub const CARD_CORNER: u8 = 12;
/// Rounding of fields, buttons and menu entries, in points.
pub const FIELD_CORNER: u8 = 8;
/// Room between a card's edge and its words, in points.
pub const CARD_ROOM: i8 = 14;
/// The step of the layout, in points.
pub const STEP: f32 = 8.0;
/// The step inside small things, in points.
pub const SMALL_STEP: f32 = 4.0;
/// The least height and width of anything to be hit, in points.
pub const TARGET: f32 = 28.0;
/// Height of mends, fields and buttons of full size, in points.
pub const TALL_TARGET: f32 = 34.0;
/// Width of the ring around what the keyboard is on, in points.
pub const RING: f32 = 2.0;
/// How long a dropped thing takes to settle, in seconds.
pub const SETTLE: f32 = 0.12;

/// Which look the person asked for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Look {
    /// Light or dark, as the desktop says.
    #[default]
    System,
    /// Always light.
    Light,
    /// Always dark.
    Dark,
    /// High contrast, light or dark as the desktop says.
    HighContrast,
    /// High contrast, black on white.
    HighContrastLight,
    /// High contrast, white on black.
    HighContrastDark,
}

impl Look {
    /// Every look, in the order a settings list shows them.
    pub const ALL: [Self; 6] =
        [Self::System, Self::Light, Self::Dark, Self::HighContrast, Self::HighContrastLight, Self::HighContrastDark];

    /// Its name on the screen.
    pub const fn words(self) -> &'static str {
        match self {
            Self::System => "As the desktop",
            Self::Light => "Light",
            Self::Dark => "Dark",
            Self::HighContrast => "High contrast, as the desktop",
            Self::HighContrastLight => "High contrast, light",
            Self::HighContrastDark => "High contrast, dark",
        }
    }

    /// Whether edges are heavy and text is all but black or white.
    pub const fn is_high_contrast(self) -> bool {
        matches!(self, Self::HighContrast | Self::HighContrastLight | Self::HighContrastDark)
    }

    const fn preference(self) -> ThemePreference {
        match self {
            Self::System | Self::HighContrast => ThemePreference::System,
            Self::Light | Self::HighContrastLight => ThemePreference::Light,
            Self::Dark | Self::HighContrastDark => ThemePreference::Dark,
        }
    }
}

/// Gives the window its fonts. Once, when the window is made; they count from the next frame on.
pub fn install_fonts(ctx: &Context) {
    ctx.set_fonts(fonts());
}

/// Dresses the window in a look, without animations if `reduce_motion`.
///
/// Call at the start and when the setting changes, not every frame.
pub fn apply(ctx: &Context, look: Look, reduce_motion: bool) {
    for theme in [Theme::Light, Theme::Dark] {
        let palette = Palette::of(theme, look.is_high_contrast());
        ctx.set_style_of(theme, style(palette, reduce_motion));
    }
    ctx.set_theme(look.preference());
}

/// The palette a piece of the window is drawn in.
pub fn palette(ui: &Ui) -> &'static Palette {
    palette_of(ui.visuals())
}

/// The palette the whole window is drawn in.
pub fn palette_in(ctx: &Context) -> &'static Palette {
    palette_of(&ctx.global_style().visuals)
}

/// The palette a set of visuals was made from, found by its paper, which no two palettes share.
fn palette_of(visuals: &Visuals) -> &'static Palette {
    Palette::ALL
        .into_iter()
        .map(|(_, palette)| palette)
        .find(|palette| palette.paper == visuals.panel_fill && palette.dark == visuals.dark_mode)
        .unwrap_or(if visuals.dark_mode { &Palette::DARK } else { &Palette::LIGHT })
}

/// A whole egui style from a palette.
pub fn style(palette: &Palette, reduce_motion: bool) -> Style {
    let mut style = Style {
        visuals: visuals(palette),
        spacing: spacing(),
        animation_time: if reduce_motion { 0.0 } else { SETTLE },
        explanation_tooltips: false,
        ..Style::default()
    };
    style.text_styles = Lettering::ALL.into_iter().map(|lettering| (lettering.style(), lettering.font())).collect();
    style.text_styles.insert(TextStyle::Button, Lettering::Body.font());
    style.text_styles.insert(TextStyle::Monospace, egui::FontId::monospace(Lettering::Body.size()));
    style.drag_value_text_style = TextStyle::Body;
    style.interaction.selectable_labels = false;
    style.interaction.tooltip_delay = 0.4;
    if reduce_motion {
        style.scroll_animation = ScrollAnimation::none();
        style.spacing.scroll.kinetic.decay_time = 0.0;
        style.spacing.scroll.kinetic.rubber_band = false;
    }
    style
}

fn spacing() -> Spacing {
    Spacing {
        item_spacing: Vec2::splat(STEP),
        window_margin: Margin::same(16),
        menu_margin: Margin::same(8),
        button_padding: Vec2::new(12.0, 6.0),
        indent: 16.0,
        interact_size: Vec2::new(40.0, TARGET),
        slider_width: 160.0,
        combo_width: 120.0,
        text_edit_width: 240.0,
        icon_width: 20.0,
        icon_width_inner: 12.0,
        icon_spacing: STEP,
        tooltip_width: 320.0,
        menu_width: 280.0,
        menu_spacing: SMALL_STEP,
        combo_height: 280.0,
        // A menu is as high as its entries: what scrolls in it says itself how high it may be.
        default_area_size: Vec2::new(600.0, 2_000.0),
        scroll: ScrollStyle {
            bar_width: 10.0,
            floating_width: 4.0,
            floating_allocated_width: 8.0,
            handle_min_length: TARGET,
            bar_inner_margin: SMALL_STEP,
            bar_outer_margin: 2.0,
            foreground_color: true,
            dormant_background_opacity: 0.0,
            active_background_opacity: 0.0,
            interact_background_opacity: 0.2,
            dormant_handle_opacity: 0.45,
            active_handle_opacity: 0.7,
            interact_handle_opacity: 1.0,
            fade: ScrollFadeStyle { strength: 0.0, size: 0.0 },
            ..ScrollStyle::thin()
        },
        ..Spacing::default()
    }
}

fn visuals(palette: &Palette) -> Visuals {
    let field = CornerRadius::same(FIELD_CORNER);
    let base = if palette.dark { Visuals::dark() } else { Visuals::light() };
    let wash = mix(palette.card, palette.focus, 0.14);
    Visuals {
        override_text_color: None,
        weak_text_color: Some(palette.soft),
        widgets: widgets(palette),
        selection: Selection { bg_fill: wash, stroke: Stroke::new(RING, palette.focus) },
        hyperlink_color: palette.focus,
        faint_bg_color: mix(palette.paper, palette.sunk, 0.5),
        extreme_bg_color: palette.sunk,
        text_edit_bg_color: Some(palette.card),
        code_bg_color: palette.sunk,
        warn_fg_color: palette.warn,
        error_fg_color: palette.stop,
        window_corner_radius: CornerRadius::same(CARD_CORNER),
        window_shadow: shadow(palette, 12, 32),
        window_fill: palette.card,
        window_stroke: Stroke::new(palette.edge_width(), palette.line),
        window_highlight_topmost: false,
        menu_corner_radius: field,
        panel_fill: palette.paper,
        popup_shadow: shadow(palette, 6, 18),
        text_cursor: TextCursorStyle {
            stroke: Stroke::new(2.0, palette.ink),
            preview: false,
            // Nothing here blinks.
            blink: false,
            ..TextCursorStyle::default()
        },
        indent_has_left_vline: false,
        slider_trailing_fill: true,
        handle_shape: HandleShape::Circle,
        interact_cursor: None,
        disabled_alpha: 0.55,
        ..base
    }
}

/// How an egui widget of its own looks, so that a stray one still belongs to the house.
fn widgets(palette: &Palette) -> Widgets {
    let edge = palette.edge_width();
    let state = |ground: Color32, edge: Stroke, ink: Color32| WidgetVisuals {
        bg_fill: ground,
        weak_bg_fill: ground,
        bg_stroke: edge,
        corner_radius: CornerRadius::same(FIELD_CORNER),
        fg_stroke: Stroke::new(1.5, ink),
        expansion: 0.0,
    };
    let pressed = mix(palette.card, palette.sunk, 0.8);
    Widgets {
        noninteractive: state(palette.card, Stroke::new(edge, palette.hair), palette.ink),
        inactive: WidgetVisuals {
            // The ground of check boxes and the rail of sliders: let in, as a shelf is.
            bg_fill: palette.sunk,
            ..state(palette.card, Stroke::new(edge, palette.line), palette.ink)
        },
        hovered: state(mix(palette.card, palette.sunk, 0.5), Stroke::new(edge, palette.ink), palette.ink),
        // egui draws what has the focus in this state too, hence the ring.
        active: state(pressed, Stroke::new(RING, palette.focus), palette.ink),
        open: state(pressed, Stroke::new(edge, palette.ink), palette.ink),
    }
}

fn shadow(palette: &Palette, drop: i8, blur: u8) -> Shadow {
    Shadow {
        offset: [0, drop],
        blur,
        spread: 0,
        color: Color32::from_black_alpha(if palette.high_contrast {
            0
        } else if palette.dark {
            110
        } else {
            34
        }),
    }
}
