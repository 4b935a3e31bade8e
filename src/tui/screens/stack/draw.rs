//! Drawing a stack of boxes.

use ratatui::Frame;

use super::StackScreen;
use crate::model::stack_words;
use crate::tui::app::App;
use crate::tui::keys::Place;
use crate::tui::widgets::{Page, Rows, page, stack_lines};

pub(crate) fn draw(screen: &StackScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let body = page(
        frame,
        theme,
        &Page {
            title: format!("Boxes of {}", screen.hive),
            hint: "Make the picture as the hive stands; Enter logs it, Esc leaves it.".to_owned(),
            ..Page::at(app, Place::Stack)
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
    rows.draw_tapped(app, frame, body);
}
