//! Lays RON text out so that a cook can read it and a change shows as few changed lines.
//!
//! A bracket that fits on its line stands on one; a wider one is broken, one member a line. The two outermost levels are
//! always broken, so that adding a batch adds a line.

/// The widest line that is kept whole, in characters.
const WIDTH: usize = 110;
/// Levels that are broken whatever their width.
const ALWAYS_BROKEN: usize = 2;

/// `key: head(members)`, or just `key: value`.
struct Item {
    text: String,
    group: Option<Group>,
}

struct Group {
    open: char,
    close: char,
    items: Vec<Item>,
}

/// `compact` (RON as [`ron::to_string`] writes it: no comment, no raw string) on lines, with one at the end.
pub(super) fn lay_out(compact: &str) -> String {
    let mut letters = compact.chars().peekable();
    let item = read_item(&mut letters);
    let mut out = String::with_capacity(compact.len() * 2);
    write_item(&item, 0, 0, &mut out);
    out.push('\n');
    out
}

type Letters<'a> = std::iter::Peekable<std::str::Chars<'a>>;

fn read_item(letters: &mut Letters) -> Item {
    let mut item = Item { text: String::new(), group: None };
    while let Some(&c) = letters.peek() {
        match c {
            ',' | ')' | ']' | '}' => break,
            '(' | '[' | '{' => {
                letters.next();
                item.group = Some(read_group(c, letters));
            }
            '"' => read_string(letters, &mut item.text),
            ':' => {
                letters.next();
                item.text.push_str(": ");
            }
            '#' if item.text.ends_with('r') => {
                // `r#None`, as ron marks a word of ours that is a word of its own; it reads the bare word as well.
                letters.next();
                item.text.pop();
            }
            _ => {
                letters.next();
                item.text.push(c);
            }
        }
    }
    item
}

fn read_group(open: char, letters: &mut Letters) -> Group {
    let close = match open {
        '(' => ')',
        '[' => ']',
        _ => '}',
    };
    let mut items = Vec::new();
    while let Some(&c) = letters.peek() {
        if c == close {
            letters.next();
            break;
        }
        if c == ',' {
            letters.next();
            continue;
        }
        items.push(read_item(letters));
    }
    Group { open, close, items }
}

/// Takes a string as it is, but for the escape before `'`, which needs none.
fn read_string(letters: &mut Letters, text: &mut String) {
    text.extend(letters.next());
    while let Some(c) = letters.next() {
        if c == '\\' {
            let escaped = letters.next();
            if escaped != Some('\'') {
                text.push(c);
            }
            text.extend(escaped);
            continue;
        }
        text.push(c);
        if c == '"' {
            return;
        }
    }
}

impl Item {
    fn width(&self) -> usize {
        self.text.chars().count() + self.group.as_ref().map_or(0, Group::width)
    }
}

impl Group {
    fn width(&self) -> usize {
        2 + self.items.iter().map(|i| i.width() + 2).sum::<usize>().saturating_sub(2)
    }
}

fn write_item(item: &Item, depth: usize, indent: usize, out: &mut String) {
    out.push_str(&item.text);
    let Some(group) = &item.group else { return };
    let fits = indent * 4 + item.width() < WIDTH;
    out.push(group.open);
    if group.items.is_empty() || (fits && depth >= ALWAYS_BROKEN) {
        for (i, member) in group.items.iter().enumerate() {
            if i > 0 {
                out.push_str(", ");
            }
            // Narrower than the whole, so it fits as well.
            write_item(member, depth.max(ALWAYS_BROKEN), indent, out);
        }
    } else if let [only] = group.items.as_slice()
        && group.open == '('
        && (only.text.is_empty() || only.group.is_none())
        && !only.text.contains(": ")
    {
        // `Some((` opens one level, not two, and `Some(word)` none.
        write_item(only, depth, indent, out);
    } else {
        for member in &group.items {
            out.push('\n');
            out.extend(std::iter::repeat_n("    ", indent + 1));
            write_item(member, depth + 1, indent + 1, out);
            out.push(',');
        }
        out.push('\n');
        out.extend(std::iter::repeat_n("    ", indent));
    }
    out.push(group.close);
}

#[cfg(test)]
mod tests {
    use super::lay_out;

    #[test]
    fn short_things_stand_on_one_line_and_long_ones_are_broken() {
        let compact = r#"(version:1,title:"Cook\'s \"week\", (a)",list:[(id:1,at:Some("18:30:00"))],none:[],deep:Some((a:1)),starch:Some(r#None))"#;
        let expected = r#"(
    version: 1,
    title: "Cook's \"week\", (a)",
    list: [
        (id: 1, at: Some("18:30:00")),
    ],
    none: [],
    deep: Some((
        a: 1,
    )),
    starch: Some(None),
)
"#;
        assert_eq!(lay_out(compact), expected);
    }

    #[test]
    fn a_wide_member_is_broken_one_value_a_line() {
        let word = "x".repeat(60);
        let compact = format!(r#"(list:[(a:"{word}",b:"{word}")])"#);
        let expected =
            format!("(\n    list: [\n        (\n            a: \"{word}\",\n            b: \"{word}\",\n        ),\n    ],\n)\n");
        assert_eq!(lay_out(&compact), expected);
    }
}
