//! Drawing a disk that refuses.

use super::TroubleScreen;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};

pub(super) fn draw(screen: &TroubleScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let body = page(
        canvas,
        &Page {
            title: "Not on the disk".to_owned(),
            hint: "Enter tries again, as often as you like.".to_owned(),
            ..Page::at(session, ScreenId::Trouble)
        },
    );
    let width = usize::from(body.width).saturating_sub(2);
    let mut rows = Rows::new();
    rows.gap().text(&screen.what, width, 1, theme.caution).gap();
    if !screen.mend.is_empty() {
        rows.text(&screen.mend, width, 1, theme.text).gap();
    }
    rows.text(
        "Nothing is lost: everything you entered stays in memory as long as the program runs.",
        width,
        1,
        theme.text,
    );
    match &screen.kept_in {
        Some(path) => rows.text(
            &format!("It is also kept in {path}, and offered when this book is opened again."),
            width,
            1,
            theme.text,
        ),
        None => &mut rows,
    };
    rows.gap();
    rows.text("Enter tries the disk again.", width, 1, theme.text);
    rows.text(
        "Esc goes on with the visit; every field you leave tries again by itself.",
        width,
        1,
        theme.text,
    );
    if screen.is_leaving {
        rows.text("q leaves anyway: what is only in memory is then gone.", width, 1, theme.caution);
    }
    rows.draw(canvas, body);
}
