//! A picture of the pages.

use super::{
    PrintError,
    fonts::Font,
    pages::{PAGE, Page},
    svg::{Lettering, svg},
};
use resvg::{tiny_skia, usvg};
use std::sync::Arc;

/// Dots for a point: 144 to the inch.
const SCALE: f32 = 2.0;
/// The most pages in one picture: eight megabytes of it a page.
const MOST: usize = 16;

/// The pages one below the other, lettered with the program's own fonts and no others.
pub(super) fn png(pages: &[Page]) -> Result<Vec<u8>, PrintError> {
    if pages.len() > MOST {
        return Err(PrintError::TooLong { pages: pages.len(), most: MOST });
    }
    let failed = |why: String| PrintError::Failed { what: "picture", why };
    let mut options = usvg::Options::default();
    let fonts = Arc::make_mut(&mut options.fontdb);
    Font::ALL.iter().for_each(|f| fonts.load_font_data(f.bytes().to_vec()));
    let tree = usvg::Tree::from_str(&svg(pages, Lettering::Known), &options).map_err(|e| failed(e.to_string()))?;
    let (width, height) = (PAGE.0 * SCALE, PAGE.1 * SCALE * pages.len().max(1) as f32);
    let mut picture = tiny_skia::Pixmap::new(width.ceil() as u32, height.ceil() as u32)
        .ok_or_else(|| failed("there is no room for it".into()))?;
    let size = tree.size();
    let fit = tiny_skia::Transform::from_scale(width / size.width(), height / size.height());
    resvg::render(&tree, fit, &mut picture.as_mut());
    picture.encode_png().map_err(|e| failed(e.to_string()))
}
