//! A saved page as a tree, or a JSON file as text: decoded, and refused by what it is.

use super::parse::{MAX_ATTRIBUTES, MAX_DEPTH, MAX_NODES, parse};
use scraper::{ElementRef, Html};

/// Why a file holds no recipe for us. Each sentence goes behind the file's name.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoRecipe {
    /// Zero bytes in it.
    #[error("is no text: it has a zero byte at byte {0}; save the page as HTML or JSON")]
    NotText(usize),
    /// No tags and no JSON.
    #[error("is neither an HTML page nor JSON: save the recipe's page as HTML and name that")]
    NotHtml,
    /// Tags within tags within tags.
    #[error("is nested more than {MAX_DEPTH} tags deep, which no page needs: save the page again")]
    TooDeep,
    /// A tag of nothing but attributes.
    #[error("has a tag with more than {MAX_ATTRIBUTES} attributes, which no page needs: save the page again")]
    TooManyAttributes,
    /// Elements without end.
    #[error("has more than {MAX_NODES} elements, which no recipe needs: save the page of the one recipe")]
    TooMuch,
    /// The parser runs on and on.
    #[error("takes too long to read: save the page of the one recipe, without its scripts")]
    TooSlow,
    /// A .json file that is none.
    #[error("is broken JSON ({0}): save it again")]
    BrokenJson(String),
    /// A page without one.
    #[error("holds no recipe: neither its JSON-LD nor its microdata names a schema.org Recipe{0}")]
    None(String),
    /// A recipe without anything in it.
    #[error("names the recipe \"{0}\" but lists neither ingredients nor steps: save the recipe's own page")]
    Hollow(String),
}

/// What the bytes are.
pub(super) enum Page {
    /// A JSON text.
    Json(String),
    /// A page.
    Html(Box<Html>),
}

/// The page in `bytes`.
pub(super) fn page(bytes: &[u8]) -> Result<Page, NoRecipe> {
    let text = decode(bytes)?;
    let start = text.trim_start();
    if start.starts_with(['{', '[']) {
        return Ok(Page::Json(text));
    }
    if !looks_like_html(&text) {
        return Err(NoRecipe::NotHtml);
    }
    parse(&text).map(|html| Page::Html(Box::new(html)))
}

/// Whether there is one tag in it that a page has.
fn looks_like_html(text: &str) -> bool {
    const TAGS: [&str; 14] =
        ["!doctype", "html", "head", "body", "script", "div", "meta", "article", "section", "main", "p", "span", "ul", "b"];
    text.match_indices('<').any(|(at, _)| {
        let rest = &text[at + 1..];
        let end = rest.find(|c: char| !(c.is_ascii_alphanumeric() || c == '!')).unwrap_or(rest.len()).min(12);
        TAGS.iter().any(|t| rest.get(..end).is_some_and(|r| r.eq_ignore_ascii_case(t)))
    })
}

/// UTF-8, UTF-16 with its mark, or else Windows-1252, which old pages are saved in.
fn decode(bytes: &[u8]) -> Result<String, NoRecipe> {
    let wide = |order: fn([u8; 2]) -> u16| {
        let (pairs, _) = bytes[2..].as_chunks::<2>();
        String::from_utf16_lossy(&pairs.iter().map(|p| order(*p)).collect::<Vec<_>>())
    };
    let text = match bytes {
        [0xFF, 0xFE, ..] => wide(u16::from_le_bytes),
        [0xFE, 0xFF, ..] => wide(u16::from_be_bytes),
        _ => match std::str::from_utf8(bytes) {
            Ok(text) => text.strip_prefix('\u{feff}').unwrap_or(text).to_string(),
            Err(_) => bytes.iter().map(|b| windows_1252(*b)).collect(),
        },
    };
    match text.find('\0') {
        Some(at) => Err(NoRecipe::NotText(at)),
        None => Ok(text),
    }
}

fn windows_1252(byte: u8) -> char {
    const HIGH: [char; 32] = [
        '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}', '\u{90}', '‘', '’', '“',
        '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
    ];
    match byte {
        0x80..=0x9F => HIGH[usize::from(byte - 0x80)],
        _ => char::from(byte),
    }
}

/// Every element of the page, in the order of the document's making.
pub(super) fn elements(html: &Html) -> impl Iterator<Item = ElementRef<'_>> {
    html.tree.nodes().filter_map(ElementRef::wrap)
}

/// The texts of all `script` elements that hold JSON-LD.
pub(super) fn json_blocks(html: &Html) -> Vec<String> {
    elements(html)
        .filter(|e| e.value().name() == "script")
        .filter(|e| {
            e.attr("type")
                .is_some_and(|t| t.split(';').next().is_some_and(|t| t.trim().eq_ignore_ascii_case("application/ld+json")))
        })
        .map(|e| e.text().collect())
        .collect()
}
