//! Laying sheets out on pages of A4: runs of text and lines, each in its place.

use super::{
    fonts::Font,
    layout::{columns, wrapped},
};
use crate::lists::{Card, Section, Sheet, SheetTable};

/// A4 in points (ISO 216: 210 by 297 mm).
pub(super) const PAGE: (f32, f32) = (595.28, 841.89);
/// Margin on every side: 15 mm.
const MARGIN: f32 = 42.5;
/// Between columns.
const GAP: f32 = 10.0;
/// Sizes of the letters in points; nothing on a fridge door is smaller than 9.5.
const TITLE: f32 = 22.0;
const HEADING: f32 = 13.0;
const TEXT: f32 = 10.0;
const CELL: f32 = 9.5;
const CARD_TITLE: f32 = 12.5;
/// How much larger the letters are of what is read with the hands full, an arm's length away: 14 points and 13.3.
const AT_ARMS_LENGTH: f32 = 1.4;
/// From line to line, in sizes.
const LEADING: f32 = 1.35;

/// A run of text with its baseline.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Run {
    pub x: f32,
    pub y: f32,
    pub size: f32,
    pub font: Font,
    pub text: String,
}

/// A line from point to point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rule {
    pub from: (f32, f32),
    pub to: (f32, f32),
    pub thick: f32,
}

/// One page.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Page {
    pub runs: Vec<Run>,
    pub rules: Vec<Rule>,
}

/// The pages of all sheets; each sheet begins a new one.
pub(super) fn pages(sheets: &[Sheet]) -> Vec<Page> {
    let mut pen = Pen { pages: Vec::new(), y: 0.0, scale: 1.0 };
    for sheet in sheets {
        pen.page();
        pen.scale = if sheet.at_arms_length { AT_ARMS_LENGTH } else { 1.0 };
        pen.paragraph(&sheet.title, Font::Title, TITLE, 0.0);
        pen.paragraph(&sheet.subtitle, Font::Plain, TEXT * pen.scale, 0.0);
        sheet.sections.iter().for_each(|s| pen.section(s));
    }
    let (count, mut pages) = (pen.pages.len(), pen.pages);
    for (i, page) in pages.iter_mut().enumerate() {
        let text = format!("{} of {count}", i + 1);
        let x = PAGE.0 - MARGIN - Font::Plain.width(&text, CELL);
        page.runs.push(Run { x, y: PAGE.1 - MARGIN / 2.0, size: CELL, font: Font::Plain, text });
    }
    pages
}

const WIDTH: f32 = PAGE.0 - 2.0 * MARGIN;
const BOTTOM: f32 = PAGE.1 - MARGIN - 6.0;

/// Where the next line goes.
struct Pen {
    pages: Vec<Page>,
    y: f32,
    /// How much larger the letters are than usual.
    scale: f32,
}

impl Pen {
    fn page(&mut self) {
        self.pages.push(Page::default());
        self.y = MARGIN;
    }

    fn room_for(&mut self, height: f32) {
        if self.y + height > BOTTOM && self.y > MARGIN {
            self.page();
        }
    }

    fn put(&mut self, x: f32, y: f32, text: &str, font: Font, size: f32) {
        if let Some(page) = self.pages.last_mut().filter(|_| !text.is_empty()) {
            page.runs.push(Run { x, y, size, font, text: text.into() });
        }
    }

    fn rule(&mut self, from: (f32, f32), to: (f32, f32), thick: f32) {
        if let Some(page) = self.pages.last_mut() {
            page.rules.push(Rule { from, to, thick });
        }
    }

    fn paragraph(&mut self, text: &str, font: Font, size: f32, indent: f32) {
        for line in wrapped(text, font, size, WIDTH - indent) {
            self.room_for(size * LEADING);
            self.put(MARGIN + indent, self.y + size, &line, font, size);
            self.y += size * LEADING;
        }
    }

    fn section(&mut self, section: &Section) {
        if !section.heading.is_empty() {
            // A heading takes at least a row or two with it.
            self.room_for(HEADING * self.scale * 5.0);
            self.y += HEADING * self.scale * 0.8;
            self.paragraph(&section.heading, Font::Strong, HEADING * self.scale, 0.0);
        }
        for line in &section.lead {
            self.paragraph(line, Font::Plain, TEXT * self.scale, 0.0);
        }
        if let Some(table) = &section.table {
            self.table(table);
        }
        self.cards(&section.cards);
        for note in &section.notes {
            let size = TEXT * self.scale;
            self.y += 2.0;
            self.room_for(size * LEADING);
            self.put(MARGIN, self.y + size, "–", Font::Plain, size);
            self.paragraph(note, Font::Plain, size, 10.0 * self.scale);
        }
    }

    fn table(&mut self, table: &SheetTable) {
        let count = table.head.len();
        let cell = CELL * self.scale;
        let wanted: Vec<f32> = (0..count)
            .map(|i| {
                let cells = table.rows.iter().filter_map(|r| r.get(i)).map(|c| Font::Plain.width(c, cell));
                // A hair more, lest a cell be broken that just fits.
                cells.chain([Font::Strong.width(&table.head[i], cell)]).fold(0.0, f32::max) + 0.1
            })
            .collect();
        // Large letters leave no room for wide columns before the one with the sentences.
        let most = if self.scale > 1.0 { WIDTH * 0.21 } else { WIDTH };
        let wanted: Vec<f32> = wanted.iter().enumerate().map(|(i, w)| if i + 1 < count { w.min(most) } else { *w }).collect();
        let widths = columns(&wanted, WIDTH - GAP * count.saturating_sub(1) as f32);
        self.row(&table.head, Font::Strong, &widths, table.right, 1.0);
        for row in &table.rows {
            let height = row_height(row, Font::Plain, &widths, cell);
            if self.y + height > BOTTOM && self.y > MARGIN {
                self.page();
                self.row(&table.head, Font::Strong, &widths, table.right, 1.0);
            }
            self.row(row, Font::Plain, &widths, table.right, 0.4);
        }
        self.y += 4.0;
    }

    fn row(&mut self, cells: &[String], font: Font, widths: &[f32], right: &[usize], thick: f32) {
        let cell_size = CELL * self.scale;
        let height = row_height(cells, font, widths, cell_size);
        self.room_for(height);
        let mut x = MARGIN;
        for (i, (cell, width)) in cells.iter().zip(widths).enumerate() {
            for (n, line) in wrapped(cell, font, cell_size, *width).iter().enumerate() {
                let inset = if right.contains(&i) { (width - font.width(line, cell_size)).max(0.0) } else { 0.0 };
                self.put(x + inset, self.y + 2.0 + cell_size + n as f32 * cell_size * LEADING, line, font, cell_size);
            }
            x += width + GAP;
        }
        self.y += height;
        self.rule((MARGIN, self.y), (MARGIN + WIDTH, self.y), thick);
    }

    /// Two abreast in frames, each pair as high as the higher.
    fn cards(&mut self, cards: &[Card]) {
        let width = (WIDTH - GAP) / 2.0;
        let inner = width - 16.0;
        for pair in cards.chunks(2) {
            let height = pair.iter().map(|c| card_height(c, inner)).fold(0.0, f32::max);
            self.room_for(height + GAP);
            self.y += GAP * 0.6;
            for (i, card) in pair.iter().enumerate() {
                let (left, top) = (MARGIN + i as f32 * (width + GAP), self.y);
                let corners = [(left, top), (left + width, top), (left + width, top + height), (left, top + height)];
                for c in 0..4 {
                    self.rule(corners[c], corners[(c + 1) % 4], 0.8);
                }
                let mut y = top + 6.0;
                let title = wrapped(&card.title, Font::Strong, CARD_TITLE, inner).into_iter();
                let lines = card.lines.iter().flat_map(|l| wrapped(l, Font::Plain, TEXT, inner));
                let styled = title.map(|t| (t, Font::Strong, CARD_TITLE)).chain(lines.map(|l| (l, Font::Plain, TEXT)));
                for (text, font, size) in styled {
                    self.put(left + 8.0, y + size, &text, font, size);
                    y += size * LEADING;
                }
            }
            self.y += height;
        }
    }
}

fn row_height(cells: &[String], font: Font, widths: &[f32], size: f32) -> f32 {
    let lines = cells.iter().zip(widths).map(|(c, w)| wrapped(c, font, size, *w).len()).max().unwrap_or(1);
    lines as f32 * size * LEADING + 4.0
}

fn card_height(card: &Card, inner: f32) -> f32 {
    let title = wrapped(&card.title, Font::Strong, CARD_TITLE, inner).len() as f32 * CARD_TITLE * LEADING;
    let lines: usize = card.lines.iter().map(|l| wrapped(l, Font::Plain, TEXT, inner).len()).sum();
    title + lines as f32 * TEXT * LEADING + 12.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(proptest::test_runner::Config { failure_persistence: None, ..Default::default() })]
        #[test]
        fn whatever_is_printed_stays_on_the_paper(
            rows in prop::collection::vec(prop::collection::vec("[ a-zA-Z0-9é]{0,60}", 4), 0..80),
            cards in prop::collection::vec(("[a-z ]{1,60}", prop::collection::vec("[a-z ]{1,120}", 0..6)), 0..9),
            at_arms_length in any::<bool>(),
        ) {
            let table = SheetTable { head: vec!["one".into(), "two".into(), "three".into(), "four".into()], right: &[1], rows };
            let cards = cards.into_iter().map(|(title, lines)| Card { title, lines }).collect();
            let section = Section { heading: "Monday".into(), table: Some(table), cards, ..Section::default() };
            let sheet = Sheet { title: "List".into(), subtitle: "of things".into(), sections: vec![section.clone(), section], at_arms_length };
            for page in pages(&[sheet]) {
                for run in &page.runs {
                    prop_assert!(run.x >= MARGIN - 0.1 && run.y <= PAGE.1 - MARGIN / 2.0 + 0.1, "{run:?}");
                    prop_assert!(run.x + run.font.width(&run.text, run.size) <= PAGE.0 - MARGIN + 0.5, "{run:?}");
                }
                for rule in &page.rules {
                    prop_assert!(rule.to.1 <= BOTTOM + 6.0 && rule.to.0 <= PAGE.0 - MARGIN + 0.1);
                }
            }
        }
    }
}
