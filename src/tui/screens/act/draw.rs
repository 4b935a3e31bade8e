//! Drawing what can be logged.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout};
use unicode_width::UnicodeWidthStr;

use super::ActScreen;
use crate::tui::app::App;
use crate::tui::keys::Place;
use crate::tui::text::pad;
use crate::tui::widgets::{Page, Rows, page};

pub(crate) fn draw(screen: &ActScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let body = page(
        frame,
        theme,
        &Page {
            title: format!("What was done at {}", screen.hive),
            hint: "Type a part of the words to search; Enter goes to the amounts.".to_owned(),
            ..Page::at(app, Place::Act)
        },
    );
    let [head, list] = Layout::vertical([Constraint::Length(1), Constraint::Min(1)]).areas(body);
    let mut title = Rows::new();
    title.line(format!(" search: {}", screen.search.text), theme.key);
    title.draw(frame, head, theme.text);
    let mut rows = Rows::new();
    let fitting = screen.fitting();
    if fitting.is_empty() {
        rows.line("   nothing is called so", theme.muted);
    }
    for (at, (words, _)) in fitting.iter().enumerate() {
        let (from, chosen) = (rows.len(), at == screen.row);
        let line = pad(&format!(" {} {words}", if chosen { ">" } else { " " }), 48);
        rows.line(line, if chosen { theme.focus } else { theme.text });
        rows.target(from, at);
        if chosen {
            rows.focus_from(from);
        }
    }
    rows.draw_tapped(app, frame, list);
    let column = u16::try_from(9 + screen.search.text.width()).unwrap_or(0);
    frame.set_cursor_position((head.x + column.min(head.width.saturating_sub(1)), head.y));
}
