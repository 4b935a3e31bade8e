//! Drawing a stack of boxes.

use ratatui::text::Span;

use super::StackScreen;
use crate::model::stack_words;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page, stack_legend, stack_lines};

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
    for line in stack_lines(&screen.boxes, theme) {
        let from = rows.len();
        let chosen = line.of == Some(screen.at);
        let mark = if chosen { ">" } else { " " };
        let words = if line.words.is_empty() { String::new() } else { format!(" {} ", line.words) };
        let mut spans = vec![Span::styled(format!(" {mark} "), theme.text)];
        spans.extend(line.drawn);
        spans.push(Span::styled("  ", theme.text));
        spans.push(Span::styled(words, if chosen { theme.focus } else { theme.text }));
        rows.spans(spans);
        if let Some(at) = line.of {
            rows.target(from, at);
        }
        if chosen {
            rows.focus_from(from);
        }
    }
    rows.gap();
    let legend = stack_legend(theme, false);
    rows.spans(std::iter::once(Span::styled("   ", theme.text)).chain(legend).collect());
    rows.draw_tapped(canvas, body);
}
