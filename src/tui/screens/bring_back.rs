//! A `yard.ron` that cannot be read: the last good one of `former/` is offered before there is a book to open.

use ratatui::Frame;

use crate::tui::keymap::Keymap;
use crate::tui::keys::ScreenId;
use crate::tui::theme::Theme;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, Taps, ground, page};

/// What is offered.
#[derive(Debug, Clone)]
pub struct Offered {
    /// What is wrong with the file there is.
    pub fault: String,
    /// The former file, from the book's folder on.
    pub former: String,
    /// What it holds, in a few words.
    pub holds: String,
}

pub(crate) fn draw(offered: &Offered, theme: &Theme, keys: &Keymap, frame: &mut Frame<'_>) {
    ground(frame, frame.area(), theme);
    let taps = Taps::default();
    let mut canvas = Canvas { frame, theme, keys, taps: &taps, message: None };
    let body = page(
        &mut canvas,
        &Page {
            title: "yard.ron cannot be read".to_owned(),
            aside: String::new(),
            screen: ScreenId::BringBack,
            hint: "Enter brings it back; Esc leaves everything as it is.".to_owned(),
            first: &[],
            is_rehearsed: false,
        },
    );
    let width = usize::from(body.width).saturating_sub(4);
    let mut rows = Rows::new();
    rows.gap();
    rows.text(&offered.fault, width, 2, theme.caution);
    rows.gap();
    let former = format!("The last good one is {}: {}.", offered.former, offered.holds);
    rows.text(&former, width, 2, theme.text);
    rows.text(
        "Brought back, it takes the place of yard.ron; the one that cannot be read is kept in the folder aside. The visits \
         are files of their own and stay as they are.",
        width,
        2,
        theme.text,
    );
    rows.gap();
    rows.text("What was set up since then has to be set up again.", width, 2, theme.muted);
    rows.draw(&mut canvas, body);
}
