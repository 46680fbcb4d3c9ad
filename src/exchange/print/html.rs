//! One page of HTML that carries its look and asks for nothing from anywhere.

use crate::lists::{Section, Sheet};

/// Black on white, each list on a page of its own when it is printed, cards two abreast and never torn.
const LOOK: &str = "\
body{font:11pt/1.4 Inter,'Helvetica Neue',Arial,sans-serif;color:#000;background:#fff;max-width:52rem;margin:1.5rem auto;padding:0 1rem}\
h1{font:600 20pt/1.2 Vollkorn,Georgia,serif;margin:0}h2{font-size:12.5pt;margin:1.4em 0 .3em}p{margin:.3em 0}\
table{border-collapse:collapse;width:100%}th,td{text-align:left;vertical-align:top;padding:.25em .6em .25em 0;border-bottom:1px solid #999}\
th{border-bottom:1.5px solid #000}.n{text-align:right}ul{margin:.4em 0;padding-left:1.2em}\
.cards{display:grid;grid-template-columns:1fr 1fr;gap:.6rem}.card{border:1.5px solid #000;padding:.5rem .7rem;break-inside:avoid}\
.card b{display:block;font-size:12.5pt}section{break-inside:auto}.arm{font-size:15pt}.arm td{padding:.35em .7em .35em 0}article+article{margin-top:3rem}\
@media print{body{margin:0;max-width:none;padding:0}article+article{break-before:page;margin-top:0}tr{break-inside:avoid}h2{break-after:avoid}}\
@page{size:A4;margin:15mm}";

/// All sheets in one document.
pub(super) fn html(sheets: &[Sheet]) -> String {
    let title = sheets.first().map_or("Tranche", |s| s.title.as_str());
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width\">\n\
         <title>{}</title>\n<style>{LOOK}</style>\n</head>\n<body>\n",
        escaped(title)
    );
    for sheet in sheets {
        let class = if sheet.at_arms_length { " class=\"arm\"" } else { "" };
        out.push_str(&format!("<article{class}>\n<h1>{}</h1>\n<p>{}</p>\n", escaped(&sheet.title), escaped(&sheet.subtitle)));
        sheet.sections.iter().for_each(|s| section(s, &mut out));
        out.push_str("</article>\n");
    }
    out.push_str("</body>\n</html>\n");
    out
}

fn section(section: &Section, out: &mut String) {
    out.push_str("<section>\n");
    if !section.heading.is_empty() {
        out.push_str(&format!("<h2>{}</h2>\n", escaped(&section.heading)));
    }
    section.lead.iter().for_each(|l| out.push_str(&format!("<p>{}</p>\n", escaped(l))));
    if let Some(table) = &section.table {
        let class = |i: usize| if table.right.contains(&i) { " class=\"n\"" } else { "" };
        let cells = |tag: &str, scope: &str, row: &[String]| -> String {
            row.iter().enumerate().map(|(i, c)| format!("<{tag}{scope}{}>{}</{tag}>", class(i), escaped(c))).collect()
        };
        out.push_str(&format!("<table>\n<thead><tr>{}</tr></thead>\n<tbody>\n", cells("th", " scope=\"col\"", &table.head)));
        table.rows.iter().for_each(|r| out.push_str(&format!("<tr>{}</tr>\n", cells("td", "", r))));
        out.push_str("</tbody>\n</table>\n");
    }
    if !section.cards.is_empty() {
        out.push_str("<div class=\"cards\">\n");
        for card in &section.cards {
            let lines: Vec<String> = card.lines.iter().map(|l| escaped(l)).collect();
            out.push_str(&format!("<div class=\"card\"><b>{}</b>{}</div>\n", escaped(&card.title), lines.join("<br>")));
        }
        out.push_str("</div>\n");
    }
    if !section.notes.is_empty() {
        out.push_str("<ul>\n");
        section.notes.iter().for_each(|n| out.push_str(&format!("<li>{}</li>\n", escaped(n))));
        out.push_str("</ul>\n");
    }
    out.push_str("</section>\n");
}

/// Text for HTML and SVG: no mark of theirs is left, and no control character.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            // Neither is a character that XML may hold.
            '\u{fffe}' | '\u{ffff}' => out.push(char::REPLACEMENT_CHARACTER),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}
