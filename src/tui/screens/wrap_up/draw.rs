//! Drawing the wrap-up.

use ratatui::text::Span;

use super::WrapUpScreen;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::text::pad;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};

pub(super) fn draw(screen: &WrapUpScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let body = page(
        canvas,
        &Page {
            title: format!("Wrap-up of {}", screen.yard),
            hint: "Enter saves the visit; until then the draft keeps it.".to_owned(),
            ..Page::at(session, ScreenId::WrapUp)
        },
    );
    let width = usize::from(body.width).saturating_sub(2);
    let mut rows = Rows::new();
    if screen.lines.is_empty() {
        rows.line(" Nothing is written yet.", theme.text);
    }
    for line in &screen.lines {
        let mut done = crate::tui::text::wrap(&line.done, width.saturating_sub(11)).into_iter();
        rows.spans(vec![
            Span::styled(format!(" {} ", pad(line.hive.as_str(), 8)), theme.heading),
            Span::styled(done.next().unwrap_or_default(), theme.text),
        ]);
        for more in done {
            rows.line(format!("          {more}"), theme.text);
        }
        if !line.found.is_empty() {
            rows.text(&format!("found: {}", line.found), width, 10, theme.text);
        }
        for (is_put_off, open) in &line.open {
            rows.text(open, width, 10, if *is_put_off { theme.caution } else { theme.muted });
        }
        if let Some(next) = &line.next {
            rows.text(next, width, 10, theme.muted);
        }
    }
    if !screen.passed_over.is_empty() {
        rows.gap();
        let names: Vec<String> = screen.passed_over.iter().map(ToString::to_string).collect();
        rows.text(
            &format!("Passed over today, and still due: {}", names.join(", ")),
            width,
            1,
            theme.caution,
        );
    }
    rows.draw_scrolled(canvas, body, &screen.scroll);
}
