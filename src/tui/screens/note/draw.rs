//! Drawing a note.

use ratatui::Frame;

use super::NoteScreen;
use crate::tui::app::App;
use crate::tui::keys::Place;
use crate::tui::text::fit;
use crate::tui::widgets::{Page, Rows, page};

pub(crate) fn draw(screen: &NoteScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let body = page(
        frame,
        theme,
        &Page {
            title: format!("Note on {}", screen.entry.hive),
            hint: "Enter or Esc keeps the note with the visit.".to_owned(),
            ..Page::at(app, Place::Note)
        },
    );
    let width = usize::from(body.width).saturating_sub(4).max(1);
    let scroll = screen.input.visual_scroll(width);
    let shown: String = screen.input.value().chars().skip(scroll).collect();
    let mut rows = Rows::new();
    rows.gap();
    rows.line(format!("  {}", fit(&shown, width)), theme.text);
    rows.line(format!("  {}", "-".repeat(width)), theme.muted);
    rows.draw(frame, body, theme.text);
    let column = screen.input.visual_cursor().saturating_sub(scroll);
    frame.set_cursor_position((body.x + 2 + u16::try_from(column).unwrap_or(0), body.y + 1));
}
