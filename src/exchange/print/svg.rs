//! Pages as a drawing, one below the other.

use super::{
    fonts::Font,
    html::escaped,
    pages::{PAGE, Page},
};
use std::fmt::Write as _;

/// Where the reader of the drawing has the letters from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lettering {
    /// The drawing carries the fonts.
    Carried,
    /// The reader has them already.
    Known,
}

/// The drawing: black on white, text as text.
pub(super) fn svg(pages: &[Page], lettering: Lettering) -> String {
    let height = PAGE.1 * pages.len().max(1) as f32;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}pt\" height=\"{height:.2}pt\" viewBox=\"0 0 {0} {height:.2}\">\n",
        PAGE.0
    );
    if lettering == Lettering::Carried {
        out.push_str("<style>");
        for font in Font::ALL {
            let (family, weight) = font.style();
            // Writing to a string does not fail.
            let _ = write!(
                out,
                "@font-face{{font-family:{family};font-weight:{weight};src:url(data:font/otf;base64,{})}}",
                base64(font.bytes())
            );
        }
        out.push_str("</style>\n");
    }
    out.push_str("<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n");
    for (i, page) in pages.iter().enumerate() {
        let _ = writeln!(out, "<g transform=\"translate(0 {:.2})\">", PAGE.1 * i as f32);
        for r in &page.rules {
            let ((x1, y1), (x2, y2), thick) = (r.from, r.to, r.thick);
            let _ = writeln!(
                out,
                "<line x1=\"{x1:.2}\" y1=\"{y1:.2}\" x2=\"{x2:.2}\" y2=\"{y2:.2}\" stroke=\"#000\" stroke-width=\"{thick}\"/>"
            );
        }
        for r in &page.runs {
            let (family, weight) = r.font.style();
            let _ = writeln!(
                out,
                "<text x=\"{:.2}\" y=\"{:.2}\" font-family=\"{family}\" font-weight=\"{weight}\" font-size=\"{}\">{}</text>",
                r.x,
                r.y,
                r.size,
                escaped(&r.text)
            );
        }
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
    out
}

/// Base 64 (RFC 4648, section 4).
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for chunk in bytes.chunks(3) {
        let word = chunk.iter().fold(0u32, |w, b| w << 8 | u32::from(*b)) << (8 * (3 - chunk.len()));
        for i in 0..4 {
            let letter = LETTERS[(word >> (18 - 6 * i) & 63) as usize];
            out.push(if i <= chunk.len() { char::from(letter) } else { '=' });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::base64;

    #[test]
    fn base_64_as_the_standard_prints_it() {
        // The test vectors of RFC 4648, section 10.
        for (plain, coded) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }
}
