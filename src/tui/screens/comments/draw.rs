//! Drawing the question about comments.

use super::CommentsScreen;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};
use crate::wording;

pub(super) fn draw(screen: &CommentsScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let body = page(
        canvas,
        &Page {
            title: "Your comments in yard.ron".to_owned(),
            hint: "s saves and drops them; Esc leaves the file as it is.".to_owned(),
            ..Page::at(session, ScreenId::Comments)
        },
    );
    let width = usize::from(body.width).saturating_sub(2);
    let stand = if screen.count == 1 { "stands" } else { "stand" };
    let comments = wording::count(screen.count, "comment");
    let mut rows = Rows::new();
    rows.gap();
    rows.text(
        &format!("{comments} written by hand {stand} in yard.ron. The program writes the file anew and cannot keep them."),
        width,
        1,
        theme.caution,
    );
    rows.gap();
    rows.text(
        "The file as it is now goes into the folder `former`, comments and all; the last hundred are kept there.",
        width,
        1,
        theme.text,
    );
    rows.gap();
    rows.text(
        "s saves the change. Esc changes nothing, so that you can move the comments first.",
        width,
        1,
        theme.text,
    );
    rows.draw(canvas, body);
}
