//! Drawing the put-off screen.

use ratatui::layout::Rect;
use ratatui::text::Span;
use unicode_width::UnicodeWidthStr;

use super::{PutOffScreen, REASONS};
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::text::{fit, pad};
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, draw_month, page};
use crate::wording;

pub(super) fn draw(screen: &PutOffScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let (theme, units) = (canvas.theme, session.book().units);
    let body = page(
        canvas,
        &Page {
            title: format!("Put off at {}", screen.hive),
            hint: "A digit or your own words say why; Left and Right move the day.".to_owned(),
            ..Page::at(session, ScreenId::PutOff)
        },
    );
    let width = usize::from(body.width).saturating_sub(4);
    let mut rows = Rows::new();
    rows.gap();
    rows.line(format!("  {}", fit(&screen.title, width)), theme.text);
    rows.gap();
    let late = screen.until > screen.latest;
    rows.spans(vec![
        Span::styled("  until  < ", theme.text),
        Span::styled(wording::weekday_day_and_year(units, screen.until), theme.focus),
        Span::styled(format!(" >  {}", wording::days_from(session.today(), screen.until)), theme.text),
    ]);
    let latest = wording::day_and_year(units, screen.latest);
    if late {
        rows.line(format!("  LATE: it is due by {latest}"), theme.caution);
    } else {
        rows.line(format!("  it is due by {latest}"), theme.muted);
    }
    rows.gap();
    rows.line("  why", theme.heading);
    for (at, reason) in REASONS.iter().enumerate() {
        let chosen = screen.reason == Some(at);
        let mark = if chosen { ">" } else { " " };
        rows.line(
            pad(&format!("  {mark} {} {reason}", at + 1), 40),
            if chosen { theme.focus } else { theme.text },
        );
    }
    let chosen = screen.reason == Some(REASONS.len());
    let own = fit(&screen.own, width.saturating_sub(18));
    let line = rows.len();
    rows.spans(vec![
        Span::styled(format!("  {} own words: ", if chosen { ">" } else { " " }), theme.text),
        Span::styled(pad(&own, 24.max(own.width() + 1)), if chosen { theme.focus } else { theme.text }),
    ]);
    rows.draw(canvas, body);
    // Beside the reasons, below the title and above the own words.
    let beside = Rect { y: body.y + 5, height: body.height.saturating_sub(5), ..body };
    draw_month(session, canvas, beside, 46, screen.until, session.today());
    let y = |line: usize| body.y + u16::try_from(line).unwrap_or(0);
    if chosen {
        canvas.frame.set_cursor_position((body.x + 15 + u16::try_from(own.width()).unwrap_or(0), y(line)));
    } else {
        canvas.frame.set_cursor_position((body.x + 2, y(7 + screen.reason.unwrap_or(0))));
    }
}
