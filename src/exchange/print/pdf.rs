//! Pages as a PDF with the program's own fonts in it, so that the text can be searched and reads the same everywhere.

use super::{
    PrintError,
    fonts::Font,
    pages::{PAGE, Page, Run},
};
use crate::lists::Sheet;
use krilla::{
    Document,
    color::luma,
    geom::{PathBuilder, Point},
    metadata::Metadata,
    num::NormalizedF32,
    page::PageSettings,
    paint::{Fill, Stroke},
    text::{GlyphId, KrillaGlyph},
};

/// The document.
pub(super) fn pdf(sheets: &[Sheet], pages: &[Page]) -> Result<Vec<u8>, PrintError> {
    let failed = |why: &str| PrintError::Failed { what: "PDF", why: why.into() };
    let mut fonts = Vec::new();
    for font in Font::ALL {
        let read = krilla::text::Font::new(font.bytes().to_vec().into(), 0);
        fonts.push(read.ok_or_else(|| failed("a font cannot be read"))?);
    }
    let mut document = Document::new();
    let title = sheets.first().map_or("Tranche", |s| s.title.as_str());
    document.set_metadata(Metadata::new().title(title.into()).language("en".into()).creator("Tranche".into()));
    for page in pages {
        let settings = PageSettings::from_wh(PAGE.0, PAGE.1).ok_or_else(|| failed("the page has no size"))?;
        let mut sheet = document.start_page_with(settings);
        let mut surface = sheet.surface();
        for rule in &page.rules {
            let mut path = PathBuilder::new();
            path.move_to(rule.from.0, rule.from.1);
            path.line_to(rule.to.0, rule.to.1);
            let Some(path) = path.finish() else { continue };
            surface.set_fill(None);
            surface.set_stroke(Some(Stroke { paint: luma::Color::black().into(), width: rule.thick, ..Stroke::default() }));
            surface.draw_path(&path);
        }
        surface.set_stroke(None);
        surface.set_fill(Some(Fill { paint: luma::Color::black().into(), opacity: NormalizedF32::ONE, ..Fill::default() }));
        for run in &page.runs {
            let font = fonts[run.font as usize].clone();
            surface.draw_glyphs(Point::from_xy(run.x, run.y), &glyphs(run), font, &run.text, run.size, false);
        }
        surface.finish();
        sheet.finish();
    }
    document.finish().map_err(|e| failed(&format!("{e:?}")))
}

/// The glyphs of a run, each with the place of its character in the text.
fn glyphs(run: &Run) -> Vec<KrillaGlyph> {
    let one = |(at, c): (usize, char)| {
        let (id, advance) = run.font.glyph(c);
        KrillaGlyph::new(GlyphId::new(u32::from(id)), advance, 0.0, 0.0, 0.0, at..at + c.len_utf8(), None)
    };
    run.text.char_indices().map(one).collect()
}
