//! Texts out of markup: tags taken away, entities decoded, blocks told apart.

use scraper::{Html, Node};

/// The longest text that is kept, in characters (house limit).
pub(super) const MAX_TEXT: usize = 4_000;
/// The most tags within one text; more are taken out without a look at their sense (house limit).
const MAX_TAGS: usize = 2_000;

/// Elements that stand on a line of their own.
const BLOCKS: [&str; 19] = [
    "p",
    "li",
    "br",
    "div",
    "h1",
    "h2",
    "h3",
    "h4",
    "h5",
    "h6",
    "tr",
    "ol",
    "ul",
    "section",
    "article",
    "dt",
    "dd",
    "blockquote",
    "hr",
];

/// `text` on one line, without tags and entities, cut to [`MAX_TEXT`].
pub(super) fn plain(text: &str) -> String {
    let joined = lines(text).join(" ");
    if joined.chars().count() > MAX_TEXT { joined.chars().take(MAX_TEXT).collect() } else { joined }
}

/// The lines of `text`: its blocks and line breaks, without tags and entities; no empty ones.
pub(super) fn lines(text: &str) -> Vec<String> {
    let mut text = text.to_string();
    // Twice, for "&lt;p&gt;" within JSON is common; a third time would be a game.
    for _ in 0..2 {
        if !text.contains('<') && !has_entity(&text) {
            break;
        }
        text = strip(&text);
    }
    let tidy = |line: &str| line.split_whitespace().collect::<Vec<_>>().join(" ");
    text.lines().map(tidy).filter(|l| !l.is_empty()).collect()
}

fn has_entity(text: &str) -> bool {
    text.match_indices('&').any(|(at, _)| {
        let rest = &text[at + 1..];
        let end = rest.bytes().take(12).position(|b| b == b';');
        end.is_some_and(|end| end > 1 && rest.as_bytes()[..end].iter().all(|b| b.is_ascii_alphanumeric() || *b == b'#'))
    })
}

fn strip(text: &str) -> String {
    if text.matches('<').count() > MAX_TAGS {
        let mut within = false;
        return text
            .chars()
            .filter(|&c| {
                let was = within;
                within = c == '<' || within && c != '>';
                !was && !within
            })
            .collect();
    }
    let html = Html::parse_fragment(text);
    let mut out = String::with_capacity(text.len());
    // In markup with blocks a line's end is only layout; in a bare text it parts lines.
    let blocks = html.tree.nodes().any(|n| n.value().as_element().is_some_and(|e| BLOCKS.contains(&e.name())));
    write_text(html.tree.root(), !blocks, &mut out);
    out
}

/// The text within a node, blocks on lines of their own, scripts and styles left out. Ends of lines in the text stand or
/// become blanks, by `keep_ends`.
pub(super) fn write_text(node: ego_tree::NodeRef<'_, Node>, keep_ends: bool, out: &mut String) {
    use ego_tree::iter::Edge;
    let mut silent = 0usize;
    for edge in node.traverse() {
        let (node, opens) = match edge {
            Edge::Open(n) => (n, true),
            Edge::Close(n) => (n, false),
        };
        match node.value() {
            Node::Text(text) if opens && silent == 0 => {
                out.extend(text.chars().map(|c| if c == '\n' && !keep_ends { ' ' } else { c }));
            }
            Node::Element(e) => {
                if matches!(e.name(), "script" | "style" | "noscript" | "template") {
                    silent = if opens { silent + 1 } else { silent.saturating_sub(1) };
                }
                if BLOCKS.contains(&e.name()) {
                    out.push('\n');
                }
            }
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tags_go_and_entities_are_read() {
        assert_eq!(plain("1&frac12; cups cr&egrave;me&nbsp;fra&icirc;che &amp; <b>salt</b>"), "1½ cups crème fraîche & salt");
        assert_eq!(plain("&amp;frac12; cup"), "½ cup");
        assert_eq!(lines("<ol><li>Chop.</li><li>Fry.<br>Stir.</li></ol>"), ["Chop.", "Fry.", "Stir."]);
        assert_eq!(lines("<p>Chop\nit.</p><p>Fry.</p>"), ["Chop it.", "Fry."]);
        assert_eq!(lines("Chop.\nFry &amp; stir."), ["Chop.", "Fry & stir."]);
        assert_eq!(plain("a<script>alert(1)</script>b"), "ab");
        assert_eq!(plain("Salt & pepper, 2 < 3"), "Salt & pepper, 2 < 3");
        assert_eq!(lines(&"<b>".repeat(100_000)), Vec::<String>::new());
    }
}
