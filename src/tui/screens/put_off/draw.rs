//! Drawing the put-off screen.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Span;
use unicode_width::UnicodeWidthStr;

use super::{PutOffScreen, REASONS};
use crate::tui::app::App;
use crate::tui::keys::Place;
use crate::tui::text::{fit, pad};
use crate::tui::widgets::{Page, Rows, draw_month, page};

pub(crate) fn draw(screen: &PutOffScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let body = page(
        frame,
        theme,
        &Page {
            title: format!("Put off at {}", screen.hive),
            hint: "Left Right a day, PgUp PgDn a week; a figure or letters say why.".to_owned(),
            ..Page::at(app, Place::PutOff)
        },
    );
    let width = usize::from(body.width).saturating_sub(4);
    let mut rows = Rows::new();
    rows.gap();
    rows.line(format!("  {}", fit(&screen.title, width)), theme.text);
    rows.gap();
    let days = (screen.until - app.today).num_days();
    let late = screen.until > screen.latest;
    rows.spans(vec![
        Span::styled("  until  < ", theme.key),
        Span::styled(screen.until.format("%a %-d %b %Y").to_string(), theme.focus),
        Span::styled(format!(" >  in {days} day{}", if days == 1 { "" } else { "s" }), theme.text),
    ]);
    let latest = screen.latest.format("%-d %b %Y");
    if late {
        rows.line(format!("  LATE: it is of use until {latest} only"), theme.caution);
    } else {
        rows.line(format!("  it is of use until {latest}"), theme.muted);
    }
    rows.gap();
    rows.line("  why", theme.key);
    for (at, reason) in REASONS.iter().enumerate() {
        let chosen = at == screen.reason;
        let mark = if chosen { ">" } else { " " };
        rows.line(
            pad(&format!("  {mark} {} {reason}", at + 1), 40),
            if chosen { theme.focus } else { theme.text },
        );
    }
    let chosen = screen.reason >= REASONS.len();
    let own = fit(&screen.own, width.saturating_sub(18));
    let line = rows.len();
    rows.spans(vec![
        Span::styled(format!("  {} own words: ", if chosen { ">" } else { " " }), theme.text),
        Span::styled(pad(&own, 24.max(own.width() + 1)), if chosen { theme.focus } else { theme.text }),
    ]);
    rows.draw(frame, body, theme.text);
    // Beside the reasons, below the title and above the own words.
    let beside = Rect { y: body.y + 5, height: body.height.saturating_sub(5), ..body };
    draw_month(app, frame, beside, 46, screen.until, app.today);
    let y = |line: usize| body.y + u16::try_from(line).unwrap_or(0);
    if chosen {
        frame.set_cursor_position((body.x + 15 + u16::try_from(own.width()).unwrap_or(0), y(line)));
    } else {
        frame.set_cursor_position((body.x + 2, y(7 + screen.reason)));
    }
}
