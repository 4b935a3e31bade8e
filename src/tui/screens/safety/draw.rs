//! Drawing the safety cards.

use super::SafetyScreen;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::theme::Theme;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};
use crate::wording::safety::{BEFORE, CARDS, Card};

pub(super) fn draw(screen: &SafetyScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let body = page(
        canvas,
        &Page {
            title: "Safety".to_owned(),
            hint: if screen.before_treatment {
                "Read this once a day. Then take the prompt again, and it is logged.".to_owned()
            } else {
                "First steps only. The emergency number, the label and the doctor come first.".to_owned()
            },
            ..Page::at(session, ScreenId::Safety)
        },
    );
    let width = usize::from(body.width).saturating_sub(2);
    let mut rows = Rows::new();
    if screen.before_treatment {
        card(&mut rows, theme, &BEFORE, width);
    }
    for each in CARDS {
        card(&mut rows, theme, each, width);
    }
    rows.draw_scrolled(canvas, body, &screen.scroll);
}

fn card(rows: &mut Rows, theme: &Theme, card: &Card, width: usize) {
    rows.line(format!(" {}", card.title), theme.caution);
    for (at, step) in card.steps.iter().enumerate() {
        rows.text(&format!("{} {step}", at + 1), width, 2, theme.text);
    }
    rows.gap();
}
