//! The colours of the window, by what they are for.
//!
//! A palette is paper, three inks and a colour for each level of finding. The colour of the piece
//! is not in it: it comes from the piece's kind and is fitted to the palette by
//! [`Palette::piece_tint`], [`Palette::piece_edge`] and [`Palette::piece_solid`]. It never stands
//! for a level.

use egui::{Color32, Theme};

use super::contrast::{EDGE, TEXT, contrast, mix};

/// Every colour of one look, by role.
///
/// All text roles reach 4.5:1 on [`paper`](Self::paper), [`card`](Self::card) and
/// [`sunk`](Self::sunk); all edges that mean something reach 3:1 on them. [`hair`](Self::hair) is
/// decoration and promises nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Palette {
    /// The sheet everything lies on.
    pub paper: Color32,
    /// What lies on the sheet: cards, fields, menus.
    pub card: Color32,
    /// What is let into the sheet: shelves, drawers.
    pub sunk: Color32,
    /// Text.
    pub ink: Color32,
    /// Text that says less.
    pub soft: Color32,
    /// Edges of cards and fields, brackets, rules that mean something.
    pub line: Color32,
    /// Edges that are only decoration.
    pub hair: Color32,
    /// The chosen thing, and the one button that matters.
    pub accent: Color32,
    /// All is well.
    pub fine: Color32,
    /// The ring around what the keyboard is on.
    pub focus: Color32,
    /// Unsafe, an allergy, or impossible.
    pub stop: Color32,
    /// Should be changed.
    pub warn: Color32,
    /// Worth a thought.
    pub caution: Color32,
    /// Good to know.
    pub note: Color32,
    /// Whether the paper is dark.
    pub dark: bool,
    /// Whether this is a look of high contrast, where edges are drawn heavier.
    pub high_contrast: bool,
}

const fn hex(rgb: u32) -> Color32 {
    Color32::from_rgb((rgb >> 16) as u8, (rgb >> 8) as u8, rgb as u8)
}

impl Palette {
    /// Ink on warm paper.
    pub const LIGHT: Self = Self {
        paper: hex(0xF7F2E8),
        card: hex(0xFFFDF8),
        sunk: hex(0xECE4D4),
        ink: hex(0x2A251F),
        soft: hex(0x655B4E),
        line: hex(0x8C8070),
        hair: hex(0xD9CDB8),
        accent: hex(0x2F6B4F),
        fine: hex(0x2F6B4F),
        focus: hex(0x1F5FBF),
        stop: hex(0xA3231F),
        warn: hex(0x8A4B00),
        caution: hex(0x6B5A00),
        note: hex(0x46586B),
        dark: false,
        high_contrast: false,
    };

    /// The same kitchen with the lamp low.
    pub const DARK: Self = Self {
        paper: hex(0x1F1C19),
        card: hex(0x2A2622),
        sunk: hex(0x171512),
        ink: hex(0xF2EBDD),
        soft: hex(0xBDB1A0),
        line: hex(0x8F8474),
        hair: hex(0x463F37),
        accent: hex(0x7FC79F),
        fine: hex(0x7FC79F),
        focus: hex(0x8DB8FF),
        stop: hex(0xFF9C94),
        warn: hex(0xFFB867),
        caution: hex(0xE8D36A),
        note: hex(0xA9C0D8),
        dark: true,
        high_contrast: false,
    };

    /// Black on white, all text over 7:1.
    pub const HIGH_CONTRAST_LIGHT: Self = Self {
        paper: hex(0xFFFFFF),
        card: hex(0xFFFFFF),
        sunk: hex(0xF0F0F0),
        ink: hex(0x000000),
        soft: hex(0x2E2E2E),
        line: hex(0x303030),
        hair: hex(0x6E6E6E),
        accent: hex(0x00482B),
        fine: hex(0x00482B),
        focus: hex(0x003EAA),
        stop: hex(0x8A0010),
        warn: hex(0x663000),
        caution: hex(0x4A3E00),
        note: hex(0x1F3347),
        dark: false,
        high_contrast: true,
    };

    /// White on black, all text over 7:1.
    pub const HIGH_CONTRAST_DARK: Self = Self {
        paper: hex(0x000000),
        card: hex(0x0C0C0C),
        sunk: hex(0x1A1A1A),
        ink: hex(0xFFFFFF),
        soft: hex(0xE2E2E2),
        line: hex(0xD0D0D0),
        hair: hex(0x949494),
        accent: hex(0x8CF0B8),
        fine: hex(0x8CF0B8),
        focus: hex(0x9CC7FF),
        stop: hex(0xFFB3AD),
        warn: hex(0xFFC98A),
        caution: hex(0xFFE96B),
        note: hex(0xC4DDF5),
        dark: true,
        high_contrast: true,
    };

    /// All palettes, with the name each goes by.
    pub const ALL: [(&'static str, &'static Self); 4] = [
        ("light", &Self::LIGHT),
        ("dark", &Self::DARK),
        ("high contrast, light", &Self::HIGH_CONTRAST_LIGHT),
        ("high contrast, dark", &Self::HIGH_CONTRAST_DARK),
    ];

    /// The palette for a theme of egui's, plain or of high contrast.
    pub const fn of(theme: Theme, high_contrast: bool) -> &'static Self {
        match (theme, high_contrast) {
            (Theme::Light, false) => &Self::LIGHT,
            (Theme::Dark, false) => &Self::DARK,
            (Theme::Light, true) => &Self::HIGH_CONTRAST_LIGHT,
            (Theme::Dark, true) => &Self::HIGH_CONTRAST_DARK,
        }
    }

    /// The three grounds text may stand on, with their names.
    pub const fn grounds(&self) -> [(&'static str, Color32); 3] {
        [("paper", self.paper), ("card", self.card), ("sunk", self.sunk)]
    }

    /// Width of an ordinary edge, in points.
    pub const fn edge_width(&self) -> f32 {
        if self.high_contrast { 2.0 } else { 1.0 }
    }

    /// A pale wash of a colour on card, for a share of the piece or a cell that takes a drop.
    ///
    /// Strong colours are thinned more than pale ones, so that all washes stand off the card about
    /// equally, and ink and soft text keep 4.5:1 on every one.
    pub fn piece_tint(&self, colour: Color32) -> Color32 {
        // How far a wash may stand off the card, as a contrast ratio: tried by eye, no source.
        let stand_off = match (self.dark, self.high_contrast) {
            (false, false) => 1.28,
            (true, false) => 1.40,
            (false, true) => 1.20,
            (true, true) => 1.35,
        };
        let most = if self.dark { 0.32 } else { 0.60 };
        (0..=60)
            .rev()
            .map(|step| mix(self.card, colour, most * step as f32 / 60.0))
            .find(|tint| {
                contrast(*tint, self.card) <= stand_off
                    && contrast(self.soft, *tint) >= TEXT + 0.1
                    && contrast(self.ink, *tint) >= TEXT + 0.1
            })
            .unwrap_or(self.card)
    }

    /// The colour itself as an edge or drawing: moved toward ink only as far as it takes to reach
    /// 3:1 on every ground and on its own wash.
    pub fn piece_edge(&self, colour: Color32) -> Color32 {
        let tint = self.piece_tint(colour);
        self.toward_ink(colour, EDGE + 0.05, Some(tint))
    }

    /// The colour itself as text, moved toward ink until it reaches 4.5:1 everywhere.
    pub fn piece_text(&self, colour: Color32) -> Color32 {
        let tint = self.piece_tint(colour);
        self.toward_ink(colour, TEXT + 0.05, Some(tint))
    }

    /// The colour as a solid ground, and the text colour that reads on it: the thing in the hand.
    pub fn piece_solid(&self, colour: Color32) -> (Color32, Color32) {
        let edge = self.piece_edge(colour);
        let fill = (0..=50)
            .map(|step| mix(edge, self.ink, step as f32 / 50.0))
            .find(|fill| contrast(*fill, self.text_on(*fill)) >= TEXT + 0.05)
            .unwrap_or(self.ink);
        (fill, self.text_on(fill))
    }

    /// Whichever of the palette's two ends reads better on a ground.
    pub fn text_on(&self, ground: Color32) -> Color32 {
        let (light, dark) = if self.dark { (self.ink, self.sunk) } else { (self.card, self.ink) };
        if contrast(light, ground) >= contrast(dark, ground) { light } else { dark }
    }

    fn toward_ink(&self, colour: Color32, least: f32, also: Option<Color32>) -> Color32 {
        let enough = |candidate: Color32| {
            self.grounds().into_iter().map(|(_, ground)| ground).chain(also).all(|ground| contrast(candidate, ground) >= least)
        };
        (0..=50).map(|step| mix(colour, self.ink, step as f32 / 50.0)).find(|candidate| enough(*candidate)).unwrap_or(self.ink)
    }
}
