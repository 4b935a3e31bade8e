//! Drawing the safety cards.

use ratatui::Frame;

use super::SafetyScreen;
use super::cards::{BEFORE, CARDS, Card};
use crate::tui::app::App;
use crate::tui::keys::Place;
use crate::tui::theme::Theme;
use crate::tui::widgets::{Page, Rows, page};

pub(crate) fn draw(screen: &SafetyScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let body = page(
        frame,
        theme,
        &Page {
            title: "Safety".to_owned(),
            hint: if screen.before_treatment {
                "Read once a day; then take the prompt again, and it is logged.".to_owned()
            } else {
                "First steps only: the emergency number, the label and the doctor come first.".to_owned()
            },
            ..Page::at(app, Place::Safety)
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
    rows.draw_from(frame, body, theme.text, screen.scroll);
}

fn card(rows: &mut Rows, theme: &Theme, card: &Card, width: usize) {
    rows.line(format!(" {}", card.title), theme.caution);
    for (at, step) in card.steps.iter().enumerate() {
        rows.text(&format!("{} {step}", at + 1), width, 2, theme.text);
    }
    rows.gap();
}
