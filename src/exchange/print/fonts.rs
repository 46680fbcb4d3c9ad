//! The program's own fonts, measured.

use std::sync::LazyLock;
use ttf_parser::{Face, GlyphId};

/// A lettering of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Font {
    /// Inter, for reading.
    Plain,
    /// Inter, semi-bold.
    Strong,
    /// Vollkorn, semi-bold, for titles.
    Title,
}

impl Font {
    pub const ALL: [Font; 3] = [Font::Plain, Font::Strong, Font::Title];

    /// The font file.
    pub fn bytes(self) -> &'static [u8] {
        match self {
            Font::Plain => include_bytes!("../../../assets/fonts/Inter-Regular.otf"),
            Font::Strong => include_bytes!("../../../assets/fonts/Inter-SemiBold.otf"),
            Font::Title => include_bytes!("../../../assets/fonts/Vollkorn-SemiBold.ttf"),
        }
    }

    /// Family and weight as style sheets name them.
    pub fn style(self) -> (&'static str, u16) {
        match self {
            Font::Plain => ("Inter", 400),
            Font::Strong => ("Inter", 600),
            Font::Title => ("Vollkorn", 600),
        }
    }

    fn face(self) -> Option<&'static Face<'static>> {
        static FACES: LazyLock<[Option<Face<'static>>; 3]> = LazyLock::new(|| Font::ALL.map(|f| Face::parse(f.bytes(), 0).ok()));
        FACES[self as usize].as_ref()
    }

    /// The glyph of a character and its advance in parts of the size; a character that the font lacks has its blank box.
    pub fn glyph(self, c: char) -> (u16, f32) {
        let Some(face) = self.face() else { return (0, 0.5) };
        // A no-break space is as wide as a space, and not in every font.
        let c = if c == '\u{a0}' { ' ' } else { c };
        let id = face.glyph_index(c).unwrap_or(GlyphId(0));
        (id.0, f32::from(face.glyph_hor_advance(id).unwrap_or(0)) / f32::from(face.units_per_em().max(1)))
    }

    /// How wide `text` stands at `size`.
    pub fn width(self, text: &str, size: f32) -> f32 {
        text.chars().map(|c| self.glyph(c).1).sum::<f32>() * size
    }
}

#[cfg(test)]
mod tests {
    use super::Font;

    #[test]
    fn the_fonts_are_read_and_hold_what_the_lists_print() {
        for font in Font::ALL {
            for c in "abcxyzÄéß0123456789.,:;()½¼¾°%–'".chars() {
                assert!(font.glyph(c).0 > 0, "{c} in {font:?}");
            }
        }
        assert!(Font::Plain.width("mm", 10.0) > Font::Plain.width("ii", 10.0));
        assert_eq!(Font::Plain.width("a\u{a0}b", 10.0), Font::Plain.width("a b", 10.0));
    }
}
