//! Drawing a prompt's reasons.

use ratatui::Frame;

use super::WhyScreen;
use crate::tui::app::App;
use crate::tui::keys::Place;
use crate::tui::widgets::{Page, Rows, page};

pub(crate) fn draw(screen: &WhyScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let prompt = &screen.prompt;
    let body = page(
        frame,
        theme,
        &Page {
            title: format!("Why: {}", prompt.title),
            aside: prompt.rule.to_owned(),
            hint: format!(
                "{}: opens {}, aim for {}, latest {}",
                prompt.urgency.word(),
                prompt.due.opens.format("%-d %b"),
                prompt.due.aim.format("%-d %b"),
                prompt.due.latest.format("%-d %b %Y")
            ),
            ..Page::at(app, Place::Why)
        },
    );
    let width = usize::from(body.width).saturating_sub(2);
    let mut rows = Rows::new();
    rows.line(" WHY", theme.key);
    rows.text(&prompt.why, width, 2, theme.text);
    if !prompt.how.is_empty() {
        rows.line(" HOW", theme.key);
        for (at, step) in prompt.how.iter().enumerate() {
            rows.text(&format!("{}. {step}", at + 1), width, 2, theme.text);
        }
    }
    if !screen.needs.is_empty() {
        rows.line(" BRING", theme.key);
        rows.text(&screen.needs.join(", "), width, 2, theme.text);
    }
    if let Some(caution) = screen.caution {
        rows.line(" CAUTION", theme.caution);
        rows.text(caution, width, 2, theme.caution);
    }
    rows.line(" SOURCE", theme.key);
    rows.text(screen.source, width, 2, theme.muted);
    rows.draw_from(frame, body, theme.text, screen.scroll);
}
