//! Sheets as HTML: one article a ring, each on a page of its own when printed.

use std::fmt::Write;

use crate::drawing::{STYLE, escape, inline};

use super::facts::{Fact, SheetBlock};
use super::of::{SheetLaid, SheetPaper};
use super::pages::letters;

const RULES: &str = "*{box-sizing:border-box}\
body{margin:0;font-family:Helvetica,Arial,sans-serif;color:#000;background:#fff}\
article{margin:0 auto;break-after:page;line-height:1.25}\
article:last-child{break-after:auto}\
header{display:flex;justify-content:space-between;align-items:baseline;border-bottom:.35mm solid}\
h1{font-size:4.5mm;margin:0}\
h2{font-size:1.08em;margin:0 0 .3em}\
.blocks{columns:2;column-gap:6mm}\
section{break-inside:avoid;margin:0 0 1.6mm}\
section.long{break-inside:auto}\
table{border-collapse:collapse;width:100%}\
th,td{text-align:left;vertical-align:top;font-weight:normal;padding:0 1mm 0 0}\
th[scope=row]{width:34%}\
td.box{border:.25mm solid;width:16mm;min-width:16mm}\
table.points td,table.points th{text-align:right;font-variant-numeric:tabular-nums}\
p{margin:0 0 .4em}\
svg{display:block;max-width:100%}\
footer{display:flex;justify-content:space-between;border-top:.18mm solid}\
@media screen{article{padding:8mm}}\
@media screen and (prefers-color-scheme:dark){body{background:#15181c;color:#e8e6e1}}";

/// A page that needs nothing else.
pub(super) fn html(all: &[SheetLaid], paper: SheetPaper) -> String {
    let mut out = String::from(
        "<!DOCTYPE html>\n<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n",
    );
    let titles: Vec<String> = all.iter().map(|one| escape(&one.head)).collect();
    let width = paper.size().0;
    // Writing to a string never fails, here and below.
    let _ = writeln!(out, "<title>Job sheet: {}</title>", titles.join("; "));
    let _ = writeln!(
        out,
        "<style>{RULES}{STYLE}@page{{size:{};margin:8mm}}article{{max-width:{width}mm}}</style>\n</head>\n<body>",
        paper.word()
    );
    for (place, one) in all.iter().enumerate() {
        article(&mut out, one, paper, place + 1);
    }
    out.push_str("</body>\n</html>\n");
    out
}

fn article(out: &mut String, one: &SheetLaid, paper: SheetPaper, place: usize) {
    let size = letters(one, paper);
    let _ = writeln!(
        out,
        "<article style=\"font-size:{size}mm\">\n<header><h1>{}</h1><span>{}</span></header>",
        escape(&one.head),
        escape(&one.line)
    );
    out.push_str(&inline(&one.picture, &format!("s{place}-")));
    out.push_str("<div class=\"blocks\">\n");
    for block in &one.blocks {
        self::block(out, block);
    }
    let _ = writeln!(
        out,
        "</div>\n<footer><span>{}</span><span>\u{2248} rounded for reading</span></footer>\n</article>",
        escape(&one.foot)
    );
}

fn block(out: &mut String, block: &SheetBlock) {
    match block {
        SheetBlock::Facts(heading, facts) => {
            let _ = writeln!(out, "<section><h2>{}</h2><table>", escape(heading));
            let wide = facts.iter().any(|fact| fact.boxed);
            for fact in facts {
                self::fact(out, fact, wide);
            }
            out.push_str("</table></section>\n");
        }
        SheetBlock::Table(heading, head, rows) => {
            let _ = writeln!(
                out,
                "<section class=\"long\"><h2>{}</h2><table class=\"points\"><tr>",
                escape(heading)
            );
            for cell in head {
                let _ = write!(out, "<th scope=\"col\">{}</th>", escape(cell));
            }
            out.push_str("</tr>\n");
            for row in rows {
                out.push_str("<tr>");
                for cell in row {
                    // What is found is written into what is empty.
                    let class = if cell.is_empty() {
                        " class=\"box\""
                    } else {
                        ""
                    };
                    let _ = write!(out, "<td{class}>{}</td>", escape(cell));
                }
                out.push_str("</tr>\n");
            }
            out.push_str("</table></section>\n");
        }
        SheetBlock::Words(heading, texts) => {
            let _ = writeln!(out, "<section class=\"long\"><h2>{}</h2>", escape(heading));
            for text in texts {
                let _ = writeln!(out, "<p>{}</p>", escape(text));
            }
            out.push_str("</section>\n");
        }
    }
}

fn fact(out: &mut String, fact: &Fact, wide: bool) {
    let span = if wide && !fact.boxed {
        " colspan=\"2\""
    } else {
        ""
    };
    let boxed = if fact.boxed {
        "<td class=\"box\"></td>"
    } else {
        ""
    };
    let _ = writeln!(
        out,
        "<tr><th scope=\"row\">{}</th><td{span}>{}</td>{boxed}</tr>",
        escape(&fact.label),
        escape(&fact.text)
    );
}
