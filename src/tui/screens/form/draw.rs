//! Drawing a form; beside a day its month.

use ratatui::layout::{Constraint, Layout};
use ratatui::text::Span;
use unicode_width::UnicodeWidthStr;

use super::FormScreen;
use crate::session::Session;
use crate::tui::field::{Field, Takes};
use crate::tui::keys::ScreenId;
use crate::tui::text::{fit, pad};
use crate::tui::view::Canvas;
use crate::tui::widgets::{MONTH_HIGH, Page, Rows, draw_month, page};

/// Columns of a label.
const LABEL: usize = 24;
/// Columns of a value.
const VALUE: usize = 34;

pub(super) fn draw(screen: &FormScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let field = screen.fields.get(screen.row);
    let body = page(
        canvas,
        &Page { title: screen.title.clone(), hint: hint(screen, field), ..Page::at(session, ScreenId::Form) },
    );
    let width = usize::from(body.width);
    let room = VALUE.min(width.saturating_sub(LABEL + 6));
    let mut rows = Rows::new();
    let mut cursor = None;
    for line in &screen.shows {
        rows.text(line, width.saturating_sub(4), 3, theme.text);
    }
    if !screen.shows.is_empty() {
        rows.gap();
    }
    for (at, field) in screen.fields.iter().enumerate() {
        let chosen = at == screen.row;
        let from = rows.len();
        let shown = if chosen { windowed(field, room) } else { (fit(&field.shown(), room), 0) };
        let mark = if chosen { ">" } else { " " };
        let style = if chosen { theme.focus } else { theme.text };
        rows.spans(vec![
            Span::styled(format!(" {mark} {}", pad(&field.label, LABEL)), theme.text),
            Span::styled(format!("[{}]", pad(&shown.0, room)), style),
        ]);
        rows.target(from, at);
        if chosen {
            rows.focus_from(from);
            cursor = Some((from, LABEL + 4 + shown.1));
        }
    }
    let from = rows.len();
    let chosen = screen.row >= screen.fields.len();
    let line = pad(&format!(" {} {}", if chosen { ">" } else { " " }, screen.keep), LABEL + room + 5);
    rows.line(line, if chosen { theme.focus } else { theme.heading });
    if chosen {
        rows.focus_from(from);
    }
    rows.target(from, screen.fields.len());
    if !screen.understood.is_empty() {
        rows.gap();
    }
    for line in &screen.understood {
        rows.text(line, width.saturating_sub(4), 3, theme.muted);
    }
    let lines = rows.len();
    let top = rows.draw_tapped(canvas, body);
    if let Some((line, column)) = cursor
        && let Some(below) = line.checked_sub(top)
        && below < usize::from(body.height)
    {
        let to = |base: u16, n: usize| base + u16::try_from(n).unwrap_or(0);
        canvas.frame.set_cursor_position((to(body.x, column), to(body.y, below)));
    }
    if let Some(field) = field
        && let (Takes::Day(today, _), Ok(day)) = (&field.takes, field.the_day())
    {
        let used = u16::try_from(lines + 1).unwrap_or(u16::MAX);
        // Below the fields where there is room, else right of them.
        let [_, below] = Layout::vertical([Constraint::Length(used), Constraint::Min(0)]).areas(body);
        if below.height >= MONTH_HIGH {
            draw_month(session, canvas, below, 0, day, *today);
        } else {
            draw_month(session, canvas, body, 64, day, *today);
        }
    }
}

fn hint(screen: &FormScreen, field: Option<&Field>) -> String {
    let Some(field) = field else {
        return format!("Enter: {}. Esc changes nothing.", screen.keep.to_lowercase());
    };
    let keys = field.keys();
    match (field.help.is_empty(), keys.is_empty()) {
        (true, true) => "Enter goes to the next; Tab to the line that keeps them.".to_owned(),
        (false, true) => format!("{}  (Tab when done)", field.help),
        (true, false) => keys,
        (false, false) => format!("{}  ({keys})", field.help),
    }
}

/// What of a long text is shown, and where in it the cursor stands.
fn windowed(field: &Field, room: usize) -> (String, usize) {
    match field.takes {
        Takes::Words(_) | Takes::Figures => {
            let scroll = field.text.visual_scroll(room.saturating_sub(1).max(1));
            let shown: String = field.text.value().chars().skip(scroll).collect();
            (fit(&shown, room), field.text.visual_cursor().saturating_sub(scroll).min(room))
        }
        Takes::Choice(_) if field.shown().is_empty() => ("< choose >".to_owned(), 2),
        Takes::Choice(_) => (format!("< {} >", fit(&field.shown(), room.saturating_sub(4))), 2),
        Takes::Day(..) => (fit(&field.shown(), room), field.text.value().width().min(room)),
    }
}
