//! Drawing the files that were left out, and what was set up in two ways.

use super::LeftOutScreen;
use crate::model::{Side, file_words, visible};
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};
use crate::wording;

pub(super) fn draw(screen: &LeftOutScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let (files, differences) = (session.left_out(), session.differences());
    let body = page(
        canvas,
        &Page {
            title: format!("Files to mend: {}", files.len() + differences.len()),
            hint: if files.is_empty() && !differences.is_empty() {
                "Keep the one that is right; the other stays in former/.".to_owned()
            } else {
                "Mend a file by hand, then Enter reads the book again.".to_owned()
            },
            ..Page::at(session, ScreenId::LeftOut)
        },
    );
    let width = usize::from(body.width).saturating_sub(4);
    let mut rows = Rows::new();
    if files.is_empty() && !differences.is_empty() {
        rows.line(" Every file is read, but something was set up differently in two places.", theme.text);
    } else if files.is_empty() {
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
            if chosen { theme.focus } else { theme.heading },
        );
        rows.text(&wording::sentence(&visible(&left_out.what)), width, 4, theme.text);
        rows.text(&format!("To mend: {}.", visible(&left_out.mend)), width, 4, theme.muted);
        rows.target(from, at);
        if chosen {
            rows.focus_from(from);
        }
    }
    for (at, difference) in differences.iter().enumerate() {
        rows.gap();
        rows.text(
            &format!("Set up differently in two places: {}", visible(&difference.at)),
            width,
            1,
            theme.heading,
        );
        let chosen = screen.chosen.get(at).copied().flatten();
        // Of each difference two rows, after those of the files.
        let first = files.len() + 2 * at;
        for (row, side) in [(first, Side::One), (first + 1, Side::Other)] {
            let has_focus = row == screen.row;
            let from = rows.len();
            let state = match chosen {
                Some(taken) if taken == side => "to be kept",
                Some(_) => "to go",
                None if difference.holds == side => "holds for now",
                None => "the other way",
            };
            let mark = if has_focus { ">" } else { " " };
            rows.line(format!("{mark}   {state}:"), if has_focus { theme.focus } else { theme.muted });
            rows.text(&visible(difference.words(side)), width, 6, theme.text);
            rows.target(from, row);
            if has_focus {
                rows.focus_from(from);
            }
        }
    }
    rows.draw_tapped(canvas, body);
}
