//! Drawing a prompt's reasons.

use super::WhyScreen;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page, what_if_rows};
use crate::wording;

pub(super) fn draw(screen: &WhyScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let (prompt, units) = (&screen.prompt, session.book().units);
    let body = page(
        canvas,
        &Page {
            title: format!("Why: {}", prompt.title),
            aside: prompt.rule.to_owned(),
            hint: format!(
                "{}: from {}, best by {}, at the latest {}",
                prompt.urgency.word(),
                wording::day(units, prompt.due.opens),
                wording::day(units, prompt.due.aim),
                wording::day_and_year(units, prompt.due.latest)
            ),
            ..Page::at(session, ScreenId::Why)
        },
    );
    let width = usize::from(body.width).saturating_sub(2);
    let mut rows = Rows::new();
    rows.group(" WHY", width, theme);
    rows.text(&prompt.why, width, 2, theme.text);
    if let Some(without) = session.without() {
        rows.text(&without, width, 2, theme.caution);
    }
    if !prompt.how.is_empty() {
        rows.group(" HOW", width, theme);
        for (at, step) in prompt.how.iter().enumerate() {
            rows.text(&format!("{}. {step}", at + 1), width, 2, theme.text);
        }
    }
    if let Some(what_if) = &screen.what_if {
        rows.group(" WHAT IF", width, theme);
        what_if_rows(&mut rows, what_if, width, theme);
    }
    if !screen.needs.is_empty() {
        rows.group(" BRING", width, theme);
        rows.text(&screen.needs.join(", "), width, 2, theme.text);
    }
    if let Some(caution) = screen.caution {
        rows.line(" CAUTION", theme.caution);
        rows.text(caution, width, 2, theme.caution);
    }
    rows.group(" SOURCE", width, theme);
    rows.text(screen.source, width, 2, theme.muted);
    rows.draw_scrolled(canvas, body, &screen.scroll);
}
