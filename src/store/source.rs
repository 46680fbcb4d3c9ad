//! Finding one's way in the text of a file: where the version stands, and on which line something is written.

/// What stands at the start of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Head {
    /// `(version: N`, with its line.
    Version { found: u64, line: usize },
    /// Something else, on this line.
    Other { line: usize },
}

/// Reads no further than the version, so that a newer file may be written quite otherwise behind it.
pub(super) fn head(text: &str) -> Head {
    let line = |rest: &str| 1 + text[..text.len() - rest.len()].matches('\n').count();
    let first = skip_blank(text);
    let inner = first.strip_prefix('(').map(skip_blank);
    let number = inner
        .and_then(|t| t.strip_prefix("version"))
        .map(skip_blank)
        .and_then(|t| t.strip_prefix(':'))
        .map(skip_blank)
        .unwrap_or_default();
    let digits = number.len() - number.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    if digits == 0 {
        return Head::Other { line: line(inner.unwrap_or(first)) };
    }
    // A number past 64 bits is newer than any program.
    Head::Version { found: number[..digits].parse().unwrap_or(u64::MAX), line: line(number) }
}

/// `text` from the first character that is neither white space nor comment.
fn skip_blank(mut text: &str) -> &str {
    loop {
        text = text.trim_start();
        if let Some(comment) = text.strip_prefix("//") {
            text = comment.find('\n').map_or("", |end| &comment[end..]);
        } else if text.starts_with("/*") {
            text = skip_block(text);
        } else {
            return text;
        }
    }
}

/// `text` behind the block comment that it begins with; such comments nest.
fn skip_block(text: &str) -> &str {
    let mut depth = 0usize;
    let mut at = 0;
    let bytes = text.as_bytes();
    while at + 1 < bytes.len() {
        match &bytes[at..at + 2] {
            b"/*" => {
                depth += 1;
                at += 2;
            }
            b"*/" => {
                depth -= 1;
                at += 2;
                if depth == 0 {
                    return &text[at..];
                }
            }
            _ => at += 1,
        }
    }
    ""
}

/// The names of the fields in the outermost brackets, in their order, each as far as it can be made out.
pub(super) fn top_fields(text: &str) -> Vec<&str> {
    let mut fields = Vec::new();
    let (mut depth, mut quoted, mut escaped) = (0usize, false, false);
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        if quoted {
            quoted = c != '"' || escaped;
            escaped = c == '\\' && !escaped;
        } else if rest.starts_with("//") || rest.starts_with("/*") {
            rest = skip_blank(rest);
            continue;
        } else if c.is_alphabetic() || c == '_' {
            let end = rest.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(rest.len());
            let (word, behind) = rest.split_at(end);
            if depth == 1 && skip_blank(behind).starts_with(':') {
                fields.push(word);
            }
            rest = behind;
            continue;
        } else {
            match c {
                '"' => quoted = true,
                '(' | '[' | '{' => depth += 1,
                ')' | ']' | '}' => depth = depth.saturating_sub(1),
                _ => {}
            }
        }
        rest = &rest[c.len_utf8()..];
    }
    fields
}

/// The line of the innermost of `near` that is found, each sought behind the one before; white space does not count.
pub(super) fn line_of<S: AsRef<str>>(text: &str, near: &[S]) -> Option<usize> {
    let letters = condensed(text);
    let mut found = None;
    let mut from = 0;
    for needle in near {
        let needle: Vec<char> = needle.as_ref().chars().filter(|c| !c.is_whitespace()).collect();
        let Some(at) = find(&letters, &needle, from) else { break };
        found = Some(letters[at].line);
        from = at + needle.len();
    }
    found
}

/// A character that counts, where it stands.
struct Letter {
    c: char,
    line: usize,
    /// Whether it stands within quotation marks; the opening mark itself does not.
    quoted: bool,
}

fn condensed(text: &str) -> Vec<Letter> {
    let mut out = Vec::with_capacity(text.len());
    let (mut line, mut quoted, mut escaped) = (1, false, false);
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        if !quoted && (rest.starts_with("//") || rest.starts_with("/*")) {
            let behind = skip_blank(rest);
            line += rest[..rest.len() - behind.len()].matches('\n').count();
            rest = behind;
            continue;
        }
        rest = &rest[c.len_utf8()..];
        if c == '\n' {
            line += 1;
        }
        if !c.is_whitespace() {
            out.push(Letter { c, line, quoted });
        }
        if c == '"' && !escaped {
            quoted = !quoted;
        }
        escaped = quoted && c == '\\' && !escaped;
    }
    out
}

/// The first place from `from` on where `needle` begins outside quotation marks and is no piece of a longer word.
fn find(letters: &[Letter], needle: &[char], from: usize) -> Option<usize> {
    let (&first, &last) = (needle.first()?, needle.last()?);
    let in_word = |c: char| c.is_alphanumeric() || c == '_' || c == '.';
    let end = letters.len().checked_sub(needle.len())?;
    (from..=end).find(|&at| {
        !letters[at].quoted
            && letters[at..at + needle.len()].iter().zip(needle).all(|(l, n)| l.c == *n)
            && !(in_word(first) && at > 0 && in_word(letters[at - 1].c))
            && !(in_word(last) && letters.get(at + needle.len()).is_some_and(|l| in_word(l.c)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_version_is_read_without_the_rest() {
        assert_eq!(head("(version: 7, whatever ]]"), Head::Version { found: 7, line: 1 });
        assert_eq!(head("// a plan\n/* of /* mine */ */\n(\n  version : 1,"), Head::Version { found: 1, line: 4 });
        assert_eq!(head("(version: 99999999999999999999999)"), Head::Version { found: u64::MAX, line: 1 });
        assert_eq!(head("\n(title: \"x\", version: 1)"), Head::Other { line: 2 });
        assert_eq!(head("(version: one)"), Head::Other { line: 1 });
        assert_eq!(head(""), Head::Other { line: 1 });
        assert_eq!(head("/* open"), Head::Other { line: 1 });
    }

    #[test]
    fn a_place_is_found_outermost_first() {
        let text = "(\n title: \"batches id: 7\",\n // batches\n batches: [\n (id: 70),\n (id:7, dish: \"x\"),\n ],\n)";
        assert_eq!(line_of(text, &["batches", "id: 7"]), Some(6));
        assert_eq!(line_of(text, &["batches", "id: 8"]), Some(4), "as near as can be");
        assert_eq!(line_of(text, &["dish: \"x\""]), Some(6));
        assert_eq!(line_of(text, &["meals"]), None);
    }
}
