//! Drawing a stack of boxes.

use super::StackScreen;
use crate::model::stack_words;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page, stack_lines};

pub(super) fn draw(screen: &StackScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let body = page(
        canvas,
        &Page {
            title: format!("Boxes of {}", screen.hive),
            hint: "Make the picture match the hive. Enter logs it, Esc changes nothing.".to_owned(),
            ..Page::at(session, ScreenId::Stack)
        },
    );
    let mut rows = Rows::new();
    rows.line(format!(" {}", stack_words(&screen.boxes)), theme.text);
    for (line, of) in stack_lines(&screen.boxes) {
        let from = rows.len();
        let chosen = of == Some(screen.at);
        let mark = if chosen { ">" } else { " " };
        rows.line(format!(" {mark} {line}"), if chosen { theme.focus } else { theme.text });
        if let Some(at) = of {
            rows.target(from, at);
        }
        if chosen {
            rows.focus_from(from);
        }
    }
    rows.draw_tapped(canvas, body);
}
