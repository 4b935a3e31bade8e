//! Drawing the roster.

use ratatui::layout::{Constraint, Layout};
use unicode_width::UnicodeWidthStr;

use super::{Columns, RosterScreen, Row};
use crate::model::{HiveId, visible};
use crate::session::Session;
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::text::pad;
use crate::tui::view::{Canvas, View};
use crate::tui::widgets::{Page, Rows, is_out_of_sight, page};
use crate::wording;

/// Columns from which the hive in hand stands beside the list.
const WIDE: u16 = 150;

pub(super) fn draw(screen: &RosterScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let hives = screen.rows.iter().filter(|r| matches!(r, Row::Hive(..))).count();
    let searched =
        if screen.search.text.is_empty() { String::new() } else { format!(", \"{}\"", screen.search.text) };
    let body = page(
        canvas,
        &Page {
            title: format!("Roster: {}{}", wording::count(hives, "hive"), visible(&searched)),
            hint: "Bees and brood in frames; mites in percent of the last wash.".to_owned(),
            ..Page::at(session, screen.id())
        },
    );
    // In a wide terminal the hive in hand stands beside the list.
    let body = match screen.picture.as_ref().filter(|_| body.width >= WIDE) {
        Some(picture) => {
            let [list, beside] =
                Layout::horizontal([Constraint::Percentage(55), Constraint::Percentage(45)]).areas(body);
            picture.draw(canvas, beside);
            list
        }
        None => body,
    };
    let [head, list] = Layout::vertical([Constraint::Length(1), Constraint::Min(1)]).areas(body);
    let width = usize::from(body.width);
    let wide = width.saturating_sub(63) / 2;
    let is_searched = screen.id() == ScreenId::Search;
    let mut title = Rows::new();
    if is_searched {
        title.line(format!(" search: {}", screen.search.text), theme.heading);
    } else {
        let words = format!(
            "  {} {} {:>5} {:>5} {:>6}  {} {}",
            pad("hive", 9),
            pad("boxes", 16 + wide),
            "bees",
            "brood",
            "mites",
            pad("queen", 10),
            "seen"
        );
        title.line(words, theme.heading);
    }
    title.draw(canvas, head);
    let mut rows = Rows::new();
    if screen.rows.is_empty() {
        let is_all = screen.search.text.is_empty();
        let words = if is_all {
            let new = canvas.keys.name_of(ScreenId::Roster, Command::NewYard);
            format!("No yard yet: {new} sets one up.")
        } else {
            "Nothing is called that.".to_owned()
        };
        rows.line(format!("   {words}"), theme.text);
    }
    for (at, row) in screen.rows.iter().enumerate() {
        if is_out_of_sight(at, screen.at(), list) {
            rows.out_of_sight();
            continue;
        }
        let chosen = at == screen.at();
        let from = rows.len();
        let mark = if chosen { ">" } else { " " };
        let (text, plain) = match row {
            Row::Yard(_, words) => (words.clone(), theme.heading),
            Row::Hive(hive, columns) => (line(hive, columns, wide), theme.text),
        };
        rows.line(pad(&format!("{mark}{text}"), width), if chosen { theme.focus } else { plain });
        rows.target(from, at);
        if chosen {
            rows.focus_from(from);
        }
    }
    rows.draw_tapped(canvas, list);
    if is_searched {
        let column = u16::try_from(9 + screen.search.text.width()).unwrap_or(0);
        canvas.frame.set_cursor_position((head.x + column.min(head.width.saturating_sub(1)), head.y));
    }
}

fn line(hive: &HiveId, columns: &Columns, wide: usize) -> String {
    format!(
        " {} {} {:>5} {:>5} {:>6}  {} {}",
        pad(hive.as_str(), 9),
        pad(&columns.boxes, 16 + wide),
        columns.bees,
        columns.brood,
        columns.mites,
        pad(columns.queen, 10),
        columns.seen,
    )
}
