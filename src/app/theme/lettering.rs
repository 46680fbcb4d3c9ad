//! Type: two families, five sizes, nothing under 12 points.
//!
//! Vollkorn SemiBold carries the names (the piece, the dishes) and the one big figure; Inter
//! carries everything else. Both travel inside the program, so that every machine shows the same.

use std::sync::Arc;

use egui::{FontData, FontDefinitions, FontFamily, FontId, RichText, TextStyle};

const VOLLKORN: &str = "Vollkorn SemiBold";
const INTER: &str = "Inter";
const INTER_STRONG: &str = "Inter SemiBold";

/// The signs the program prints beyond plain letters; the bundled fonts must have them all.
pub const SIGNS: &str = "¼½¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚°–—×·…←→↑↓‘’“”«»‚„−±≈≤≥€£%•✓\u{a0}\u{2009}\u{202f}";

/// A kind of lettering: a family and a size, named for what is written in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Lettering {
    /// Vollkorn 24: the piece's name, the title of a view.
    Title,
    /// Vollkorn 20: the one big figure.
    Figure,
    /// Vollkorn 15.5: a dish's name.
    Dish,
    /// Inter SemiBold 15.5: the head of a day or a panel.
    Head,
    /// Inter 14: what is said.
    Body,
    /// Inter SemiBold 14: grams, and words that must be found at once.
    Strong,
    /// Inter 12.5: what is said quietly.
    Small,
    /// Inter SemiBold 12.5: words in a pill, the name of a level.
    SmallStrong,
}

impl Lettering {
    /// Every kind, largest first.
    pub const ALL: [Self; 8] =
        [Self::Title, Self::Figure, Self::Dish, Self::Head, Self::Body, Self::Strong, Self::Small, Self::SmallStrong];

    /// Its size in points.
    pub const fn size(self) -> f32 {
        match self {
            Self::Title => 24.0,
            Self::Figure => 20.0,
            Self::Dish | Self::Head => 15.5,
            Self::Body | Self::Strong => 14.0,
            Self::Small | Self::SmallStrong => 12.5,
        }
    }

    /// Its font family.
    pub fn family(self) -> FontFamily {
        match self {
            Self::Title | Self::Figure | Self::Dish => FontFamily::Name(VOLLKORN.into()),
            Self::Head | Self::Strong | Self::SmallStrong => FontFamily::Name(INTER_STRONG.into()),
            Self::Body | Self::Small => FontFamily::Proportional,
        }
    }

    /// Family and size, as egui asks for them.
    pub fn font(self) -> FontId {
        FontId::new(self.size(), self.family())
    }

    /// The egui text style it goes by.
    pub fn style(self) -> TextStyle {
        match self {
            Self::Title => TextStyle::Name("Title".into()),
            Self::Figure => TextStyle::Name("Figure".into()),
            Self::Dish => TextStyle::Name("Dish".into()),
            Self::Head => TextStyle::Heading,
            Self::Body => TextStyle::Body,
            Self::Strong => TextStyle::Name("Strong".into()),
            Self::Small => TextStyle::Small,
            Self::SmallStrong => TextStyle::Name("SmallStrong".into()),
        }
    }

    /// Words in this lettering, in the colour of the place they are put.
    pub fn text(self, words: impl Into<String>) -> RichText {
        RichText::new(words).text_style(self.style())
    }
}

/// The fonts of the program: its own two families first, egui's own behind them for rare signs.
pub fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    let files: [(&str, &'static [u8]); 3] = [
        (VOLLKORN, include_bytes!("../../../assets/fonts/Vollkorn-SemiBold.ttf")),
        (INTER, include_bytes!("../../../assets/fonts/Inter-Regular.otf")),
        (INTER_STRONG, include_bytes!("../../../assets/fonts/Inter-SemiBold.otf")),
    ];
    for (name, bytes) in files {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
    }
    let behind = fonts.families.get(&FontFamily::Proportional).cloned().unwrap_or_default();
    let chain = |first: &[&str]| {
        let mut names: Vec<String> = first.iter().map(|&name| name.to_owned()).collect();
        names.extend(behind.iter().cloned());
        names
    };
    let (vollkorn, strong) = (FontFamily::Name(VOLLKORN.into()), FontFamily::Name(INTER_STRONG.into()));
    fonts.families.insert(FontFamily::Proportional, chain(&[INTER]));
    fonts.families.insert(strong, chain(&[INTER_STRONG, INTER]));
    fonts.families.insert(vollkorn, chain(&[VOLLKORN, INTER_STRONG]));
    fonts
}
