//! The README's pictures: made from the real screens, and compared, so that none shows what is no longer so.
//! After a wanted change: `PICTURES=write cargo test --lib pictures`.

use std::fmt::Write as _;
use std::path::Path;

use ratatui::buffer::Buffer;
use ratatui::style::{Modifier, Style};
use unicode_width::UnicodeWidthStr;

use super::tests::{BEGIN, drawn};
use crate::tui::contrast::rgb;
use crate::tui::theme::Theme;

/// Width and height of a cell, in the picture's units.
const CELL: (f64, f64) = (8.4, 17.0);

fn hex(color: Option<ratatui::style::Color>) -> String {
    let (r, g, b) = color.and_then(rgb).unwrap_or((0, 0, 0));
    format!("#{r:02x}{g:02x}{b:02x}")
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

/// A screen as SVG: a ground, a rectangle for each run on another ground, a text for each run of one style.
pub(super) fn svg(buffer: &Buffer, theme: &Theme, title: &str) -> String {
    let area = buffer.area;
    let (wide, high) = (f64::from(area.width) * CELL.0, f64::from(area.height) * CELL.1);
    let ground = hex(theme.text.bg);
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {wide:.0} {high:.0}\" font-family=\"monospace\" \
         font-size=\"14\" role=\"img\">\n<title>{}</title>\n<rect width=\"100%\" height=\"100%\" fill=\"{ground}\"/>\n",
        escaped(title)
    );
    for line in 0..area.height {
        let mut column = 0;
        while column < area.width {
            let style: Style = buffer[(column, line)].style();
            let from = column;
            let mut text = String::new();
            while column < area.width && buffer[(column, line)].style() == style {
                let symbol = buffer[(column, line)].symbol();
                text.push_str(symbol);
                column += u16::try_from(symbol.width().max(1)).unwrap();
            }
            let (x, y) = (f64::from(from) * CELL.0, f64::from(line) * CELL.1);
            let run = f64::from(column - from) * CELL.0;
            if hex(style.bg) != ground {
                let _ = writeln!(
                    out,
                    "<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{run:.1}\" height=\"{:.1}\" fill=\"{}\"/>",
                    CELL.1,
                    hex(style.bg)
                );
            }
            let words = text.trim_end();
            if !words.is_empty() {
                let weight =
                    if style.add_modifier.contains(Modifier::BOLD) { " font-weight=\"bold\"" } else { "" };
                let long = words.width() as f64 * CELL.0;
                let _ = writeln!(
                    out,
                    "<text x=\"{x:.1}\" y=\"{:.1}\" fill=\"{}\"{weight} textLength=\"{long:.1}\" \
                     xml:space=\"preserve\">{}</text>",
                    y + 13.0,
                    hex(style.fg),
                    escaped(words)
                );
            }
        }
    }
    out + "</svg>\n"
}

#[test]
fn the_pictures_of_the_readme_are_the_screens() {
    let hive = format!("Down {BEGIN} 1 3 Down Down Down Down Down Down Down Down 1 Down Down");
    let readme = include_str!("../../../README.md");
    for (name, title, theme, on, size, keys) in [
        ("today", "Today: which hives need what, and why", "dark", "2026-05-03", (80, 24), "Down"),
        (
            "hive",
            "At a hive: what to look at, and what it needs now",
            "sun",
            "2026-05-03",
            (80, 24),
            hive.as_str(),
        ),
        (
            "card",
            "A hive's boxes and what its counts did in a year",
            "dark",
            "2026-08-08",
            (100, 40),
            "Right c Tab",
        ),
    ] {
        let theme = Theme::built_in().into_iter().find(|t| t.name == theme).unwrap();
        let made = svg(&drawn(on, size, keys, &theme), &theme, title);
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/pictures/{name}.svg"));
        if std::env::var_os("PICTURES").is_some() {
            crate::store::write_export(&path, &made).unwrap();
        }
        let kept = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(kept == made, "{name}.svg is not the screen: PICTURES=write cargo test --lib pictures");
        assert!(readme.contains(&format!("](tests/pictures/{name}.svg)")), "the README shows {name}.svg");
    }
}
