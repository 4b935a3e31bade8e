//! Drawing what can be logged.

use ratatui::layout::{Constraint, Layout};
use unicode_width::UnicodeWidthStr;

use super::ActScreen;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::text::pad;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};

pub(super) fn draw(screen: &ActScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let body = page(
        canvas,
        &Page {
            title: format!("What was done at {}", screen.hive),
            hint: "Type part of the words to search; Enter goes to the amounts.".to_owned(),
            ..Page::at(session, ScreenId::Act)
        },
    );
    let [head, list] = Layout::vertical([Constraint::Length(1), Constraint::Min(1)]).areas(body);
    let mut title = Rows::new();
    title.line(format!(" search: {}", screen.search.text), theme.heading);
    title.draw(canvas, head);
    let mut rows = Rows::new();
    let fitting = screen.fitting();
    if fitting.is_empty() {
        rows.line("   nothing is called that", theme.muted);
    }
    for (at, offered) in fitting.iter().enumerate() {
        let words = offered.words;
        let (from, chosen) = (rows.len(), screen.row == Some(at));
        let line = pad(&format!(" {} {words}", if chosen { ">" } else { " " }), 48);
        rows.line(line, if chosen { theme.focus } else { theme.text });
        rows.target(from, at);
        if chosen {
            rows.focus_from(from);
        }
    }
    rows.draw_tapped(canvas, list);
    let column = u16::try_from(9 + screen.search.text.width()).unwrap_or(0);
    canvas.frame.set_cursor_position((head.x + column.min(head.width.saturating_sub(1)), head.y));
}
