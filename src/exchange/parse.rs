//! A page parsed within limits that a page cannot get around.
//!
//! Three things make a parser's work grow faster than the page: nesting (each open tag is looked at for each new one),
//! attributes (each is compared with all before it in its tag) and formatting that a page leaves open (it is made anew in every
//! paragraph). Each has a limit here by depth, by count and by count; the clock is only there for what nobody thought of.

use super::page::NoRecipe;
use html5ever::{
    TokenizerResult,
    buffer_queue::BufferQueue,
    tendril::StrTendril,
    tokenizer::{Token, TokenSink, TokenSinkResult, Tokenizer, TokenizerOpts},
    tree_builder::{TreeBuilder, TreeBuilderOpts, TreeSink},
};
use scraper::{Html, HtmlTreeSink};
use std::{
    cell::Cell,
    time::{Duration, Instant},
};

/// The deepest nesting that is read; real pages stay under 100 (house limit).
pub const MAX_DEPTH: usize = 1_000;
/// The most attributes of one tag; real pages stay under 60 (house limit).
pub const MAX_ATTRIBUTES: usize = 256;
/// The most elements and texts of one page; real pages stay under 30,000 (house limit).
pub const MAX_NODES: usize = 1_000_000;
/// How much is parsed between two looks, in bytes.
const BITE: usize = 4_096;
/// The longest that parsing may take; a page of 8 MiB takes a few seconds even unoptimised (house limit).
const PATIENCE: Duration = Duration::from_secs(20);

type Builder = TreeBuilder<<HtmlTreeSink as TreeSink>::Handle, HtmlTreeSink>;

/// The tree builder, with a count of what the tokenizer gave it.
struct Counting {
    builder: Builder,
    given: Cell<usize>,
}

impl TokenSink for Counting {
    type Handle = <Builder as TokenSink>::Handle;

    fn process_token(&self, token: Token, line: u64) -> TokenSinkResult<Self::Handle> {
        // Complaints come in the midst of a tag; whatever else comes says that the tag before is done, or was none.
        if !matches!(token, Token::ParseError(_)) {
            self.given.set(self.given.get() + 1);
        }
        self.builder.process_token(token, line)
    }

    fn end(&self) {
        self.builder.end();
    }

    fn adjusted_current_node_present_but_not_in_html_namespace(&self) -> bool {
        self.builder.adjusted_current_node_present_but_not_in_html_namespace()
    }
}

/// What began at the last `<`, as long as the tokenizer gives nothing away. Whether `<p` begins a tag or stands in a script or a
/// comment depends on all before it; but the tokenizer keeps a tag or a comment to itself until its end, and text it gives at once.
#[derive(Clone, Copy)]
enum Begun {
    /// A tag, if it is one.
    Tag(TagCount),
    /// A comment or a declaration.
    Other,
}

/// The page in `text`, or why it is not worth the work.
pub(super) fn parse(text: &str) -> Result<Html, NoRecipe> {
    let builder = TreeBuilder::new(HtmlTreeSink::new(Html::new_document()), TreeBuilderOpts::default());
    let mut page = Parsing {
        tokenizer: Tokenizer::new(Counting { builder, given: Cell::new(0) }, TokenizerOpts::default()),
        queue: BufferQueue::default(),
        unseen: 0,
        patience: Instant::now() + PATIENCE,
    };
    let mut rest = text;
    let mut begun: Option<Begun> = None;
    // What had been given away when it began.
    let mut given = 0;
    while !rest.is_empty() {
        if rest.starts_with('<') {
            rest = page.feed(rest, 1)?;
            if let Some(within) = begun.as_mut().filter(|_| page.given() == given) {
                within.read("<");
                continue;
            }
            given = page.given();
            let (head, what) = beginning(rest);
            begun = what;
            rest = page.feed(rest, head)?;
        } else {
            let mut end = rest.find('<').unwrap_or(rest.len()).min(BITE);
            while !rest.is_char_boundary(end) {
                end += 1;
            }
            if let Some(within) = begun.as_mut()
                && within.read(&rest[..end])
            {
                begun = None;
            }
            rest = page.feed(rest, end)?;
        }
        match begun {
            Some(_) if page.given() != given => begun = None,
            Some(Begun::Tag(tag)) if tag.attributes > MAX_ATTRIBUTES => return Err(NoRecipe::TooManyAttributes),
            _ => {}
        }
    }
    page.look()?;
    page.tokenizer.end();
    Ok(page.tokenizer.sink.builder.sink.finish())
}

/// What begins behind a `<`, and how many bytes of it say so.
fn beginning(rest: &str) -> (usize, Option<Begun>) {
    let name = rest.strip_prefix('/').unwrap_or(rest);
    let before = rest.len() - name.len();
    match name.chars().next() {
        Some(c) if c.is_ascii_alphabetic() => (before + 1, Some(Begun::Tag(TagCount::default()))),
        // Nothing comes of "</>", and what is in CDATA is given away as text.
        Some('>') if before > 0 => (2, None),
        _ if rest.starts_with("![CDATA[") => ("![CDATA[".len(), None),
        Some(c) if before > 0 || matches!(c, '!' | '?') => (1, Some(Begun::Other)),
        _ => (0, None),
    }
}

impl Begun {
    /// Reads on in it; whether it ends there, if it is a tag.
    fn read(&mut self, text: &str) -> bool {
        match self {
            Begun::Tag(tag) => text.bytes().any(|b| tag.ends_with(b)),
            Begun::Other => false,
        }
    }
}

/// The parser at work.
struct Parsing {
    tokenizer: Tokenizer<Counting>,
    queue: BufferQueue,
    /// Bytes since the last look.
    unseen: usize,
    patience: Instant,
}

impl Parsing {
    /// Parses the first `bytes` of `text` and gives the rest.
    fn feed<'t>(&mut self, text: &'t str, bytes: usize) -> Result<&'t str, NoRecipe> {
        let (bite, rest) = text.split_at(bytes);
        if !bite.is_empty() {
            self.queue.push_back(StrTendril::from_slice(bite));
            // A script is not run and a page's word for its encoding comes too late: on with it.
            while !matches!(self.tokenizer.feed(&self.queue), TokenizerResult::Done) {}
            self.unseen += bytes;
            if self.unseen >= BITE {
                self.look()?;
            }
        }
        Ok(rest)
    }

    fn given(&self) -> usize {
        self.tokenizer.sink.given.get()
    }

    /// Refuses what has grown too deep, too large or too slow.
    fn look(&mut self) -> Result<(), NoRecipe> {
        self.unseen = 0;
        let html = self.tokenizer.sink.builder.sink.0.borrow();
        let mut nodes = html.tree.nodes();
        if nodes.len() > MAX_NODES {
            return Err(NoRecipe::TooMuch);
        }
        let depth = nodes.next_back().map_or(0, |last| last.ancestors().take(MAX_DEPTH + 1).count());
        if depth > MAX_DEPTH {
            return Err(NoRecipe::TooDeep);
        }
        if Instant::now() > self.patience {
            return Err(NoRecipe::TooSlow);
        }
        Ok(())
    }
}

/// Where in a tag the reading stands: the states of the HTML standard, section 13.2.5, from the tag's name on.
#[derive(Clone, Copy, Default)]
enum At {
    #[default]
    TagName,
    BeforeName,
    Name,
    AfterName,
    BeforeValue,
    Quoted(u8),
    Bare,
    AfterQuoted,
    Slash,
}

/// Counts the attributes of one tag.
#[derive(Clone, Copy, Default)]
struct TagCount {
    at: At,
    attributes: usize,
}

impl TagCount {
    /// Whether the tag ends with this byte.
    fn ends_with(&mut self, byte: u8) -> bool {
        let blank = matches!(byte, b' ' | b'\t' | b'\n' | b'\r' | 0x0C);
        self.at = match (self.at, byte) {
            (At::Quoted(mark), _) if byte == mark => At::AfterQuoted,
            (At::Quoted(mark), _) => At::Quoted(mark),
            (_, b'>') => return true,
            (At::TagName, _) if blank => At::BeforeName,
            (At::TagName, b'/') => At::Slash,
            (At::TagName, _) => At::TagName,
            (At::Name, _) if blank => At::AfterName,
            (At::Name | At::AfterName, b'=') => At::BeforeValue,
            (At::Name, b'/') => At::Slash,
            (At::Name, _) => At::Name,
            (At::BeforeValue, _) if blank => At::BeforeValue,
            (At::BeforeValue, b'"' | b'\'') => At::Quoted(byte),
            (At::BeforeValue, _) => At::Bare,
            (At::Bare, _) if blank => At::BeforeName,
            (At::Bare, _) => At::Bare,
            (At::AfterName, _) if blank => At::AfterName,
            (_, _) if blank => At::BeforeName,
            (_, b'/') => At::Slash,
            (At::BeforeName | At::AfterName | At::AfterQuoted | At::Slash, _) => {
                self.attributes += 1;
                At::Name
            }
        };
        false
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn attributes(tag: &str) -> Option<usize> {
        let mut count = TagCount::default();
        tag.bytes().position(|b| count.ends_with(b)).map(|_| count.attributes)
    }

    #[test]
    fn attributes_are_counted_as_the_standard_reads_them() {
        for (tag, want) in [
            ("p>", Some(0)),
            ("p a b c>", Some(3)),
            ("p/a/b/>", Some(2)),
            ("p a=1 b='x y > z' c=\"/\"d>", Some(4)),
            ("p a = b>", Some(1)),
            ("p a=b/c d>", Some(2)),
            ("p =a>", Some(1)),
            ("p a=>", Some(1)),
            ("p a=\"never ends > b c d", None),
        ] {
            assert_eq!(attributes(tag), want, "{tag}");
        }
    }

    #[test]
    fn many_attributes_are_refused_in_any_guise_and_words_elsewhere_are_none() {
        let many: String = (0..2_000).map(|i| format!(" a{i}")).collect();
        for page in [
            format!("<p{many}>"),
            format!("<p{many}"),
            format!("<p{}>", many.replace(' ', "/")),
            format!("<p x{}>", many.replace(' ', "=''")),
            format!("<p x='<!--' {many}>"),
            format!("<p x='<script>'{many}>"),
            format!("</p{many}>"),
            format!("</><p{many}>"),
            format!("<!><p{many}>"),
            format!("<script><!</script{many}>"),
            format!("<script></</script{many}>"),
            format!("<style></st</style{many}>"),
            format!("<title>&am</title{many}>"),
            format!("<svg><![CDATA[]]><p{many}>"),
            format!("<!-- --><p{many}>"),
            format!("<p a<b{many}>"),
            format!("<p \u{e9}{many}>"),
        ] {
            let refused = parse(&format!("<html>{page}")).err();
            assert_eq!(refused, Some(NoRecipe::TooManyAttributes), "{}", &page[..40]);
        }
        for page in [
            format!("<!-- <p{many}> -->"),
            format!("<!-- <p{many} -->"),
            format!("<!doctype html{many}>"),
            format!("<script>if (i<n {many}) {{}}</script>"),
            format!("<script>'<!--' + i<n {many}; '</p {many}'</script>"),
            format!("<style>a<b {many}</style>"),
            format!("<textarea><p {many}</textarea>"),
            format!("<p>2 < 3 {many}</p>"),
            format!("<img src='data:{many}'>"),
            format!("<?php {many}>"),
        ] {
            assert_eq!(parse(&format!("<html>{page}")).err(), None, "{}", &page[..20]);
        }
    }

    #[test]
    fn a_page_comes_out_as_the_parser_makes_it_in_one_go() {
        for page in [
            "<!doctype html><p class=a>One<p>Two &amp; three<br/></p><script>a<b && '</p>'</script><!-- <p> -->end",
            "<svg><![CDATA[x<y]]></svg><table><tr><td>1<td>2</table>\u{e9}<b>bold<i>both</b>slanted</i>",
            "<title>a<b</title><textarea>\n<p></textarea></><?x><style>p<q{}</style><p a='<' b=\"'\">&lt;<<p",
        ] {
            assert_eq!(parse(page).unwrap().html(), Html::parse_document(page).html(), "{page}");
        }
    }

    #[test]
    fn open_formatting_that_multiplies_is_refused() {
        let open: String = (0..900).map(|i| format!("<b id={i}>")).collect();
        let page = format!("<html><p>{open}</p>{}", "<p>x</p>".repeat(10_000));
        assert!(matches!(parse(&page).err(), Some(NoRecipe::TooMuch)));
    }
}
