//! Drawing the files that were left out.

use super::LeftOutScreen;
use crate::model::{file_words, visible};
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};
use crate::wording;

pub(super) fn draw(screen: &LeftOutScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let files = session.left_out();
    let body = page(
        canvas,
        &Page {
            title: format!("Left out of the book: {}", wording::count(files.len(), "file")),
            hint: "Mend a file by hand, then Enter reads the book again.".to_owned(),
            ..Page::at(session, ScreenId::LeftOut)
        },
    );
    let width = usize::from(body.width).saturating_sub(4);
    let mut rows = Rows::new();
    if files.is_empty() {
        rows.line(" Every file of the book is taken in.", theme.done);
    } else {
        rows.text(
            "The book is open with all the rest; the advice is without what only these hold.",
            width,
            1,
            theme.text,
        );
    }
    for (at, left_out) in files.iter().enumerate() {
        rows.gap();
        let chosen = at == screen.row;
        let from = rows.len();
        let mark = if chosen { ">" } else { " " };
        rows.line(
            format!("{mark} {}", file_words(&left_out.file)),
            if chosen { theme.focus } else { theme.key },
        );
        rows.text(&wording::sentence(&visible(&left_out.what)), width, 4, theme.text);
        rows.text(&format!("To mend: {}.", visible(&left_out.mend)), width, 4, theme.muted);
        rows.target(from, at);
        if chosen {
            rows.focus_from(from);
        }
    }
    rows.draw_tapped(canvas, body);
}
