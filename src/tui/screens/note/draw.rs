//! Drawing a note.

use unicode_width::UnicodeWidthChar as _;

use super::NoteScreen;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};

pub(super) fn draw(screen: &NoteScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let body = page(
        canvas,
        &Page {
            title: format!("Note on {}", screen.hive),
            hint: "Enter or Esc keeps the note with the visit; Alt-Enter or Ctrl-J begins a new line."
                .to_owned(),
            ..Page::at(session, ScreenId::Note)
        },
    );
    let width = usize::from(body.width).saturating_sub(4).max(1);
    let (lines, (line, column)) = laid_out(screen.input.value(), screen.input.cursor(), width);
    let mut rows = Rows::new();
    rows.gap();
    for (at, text) in lines.iter().enumerate() {
        let from = rows.len();
        rows.line(format!("  {text}"), theme.text);
        if at == line {
            rows.focus_from(from);
        }
    }
    rows.line(format!("  {}", "-".repeat(width)), theme.muted);
    let top = rows.draw(canvas, body);
    let cell = |base: u16, n: usize| base + u16::try_from(n).unwrap_or(0);
    let below = (line + 1).saturating_sub(top);
    if below < usize::from(body.height) {
        canvas.frame.set_cursor_position((cell(body.x, column + 2), cell(body.y, below)));
    }
}

/// A text laid out in lines of a width, cut between cells, and where in them the cursor stands: line and column.
fn laid_out(text: &str, cursor: usize, width: usize) -> (Vec<String>, (usize, usize)) {
    let mut lines = vec![String::new()];
    let mut used = 0;
    let mut place = None;
    for (at, c) in text.chars().enumerate() {
        let cells = c.width().unwrap_or(0);
        if used + cells > width {
            lines.push(String::new());
            used = 0;
        }
        if at == cursor {
            place = Some((lines.len() - 1, used));
        }
        if c == '\n' {
            lines.push(String::new());
            used = 0;
            continue;
        }
        if let Some(line) = lines.last_mut() {
            line.push(c);
        }
        used += cells;
    }
    (lines.clone(), place.unwrap_or((lines.len() - 1, used)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cursor_stands_where_its_character_is_also_among_wide_ones() {
        let (lines, at) = laid_out("abcdef", 4, 3);
        assert_eq!((lines, at), (vec!["abc".to_owned(), "def".to_owned()], (1, 1)));
        let (lines, at) = laid_out("\u{8702}\u{8702}\u{8702}", 3, 5);
        assert_eq!((lines.len(), at), (2, (1, 2)), "a wide one is not cut in half");
        assert_eq!(laid_out("ab\nc", 3, 10), (vec!["ab".to_owned(), "c".to_owned()], (1, 0)));
        assert_eq!(laid_out("", 0, 10), (vec![String::new()], (0, 0)));
    }
}
