//! Drawing a disk that refuses.

use ratatui::Frame;

use super::TroubleScreen;
use crate::tui::app::App;
use crate::tui::keys::Place;
use crate::tui::widgets::{Page, Rows, page};

pub(crate) fn draw(screen: &TroubleScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let body = page(
        frame,
        theme,
        &Page {
            title: "Not on the disk".to_owned(),
            hint: "Enter tries again, as often as you like.".to_owned(),
            ..Page::at(app, Place::Trouble)
        },
    );
    let width = usize::from(body.width).saturating_sub(2);
    let mut rows = Rows::new();
    rows.gap().text(&screen.what, width, 1, theme.caution).gap();
    if !screen.mend.is_empty() {
        rows.text(&screen.mend, width, 1, theme.text).gap();
    }
    rows.text(
        "Nothing is lost: all that was entered is kept in memory as long as the program runs.",
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
        "Esc goes on with the visit; each field that is left tries again by itself.",
        width,
        1,
        theme.text,
    );
    if screen.is_leaving {
        rows.text("q leaves all the same: what is in memory only is then gone.", width, 1, theme.caution);
    }
    rows.draw(frame, body, theme.text);
}
