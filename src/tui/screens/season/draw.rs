//! Drawing the season.

use ratatui::layout::Rect;
use ratatui::text::Span;

use super::strip::{LEGEND, strip};
use super::{SeasonScreen, Seen};
use crate::model::visible;
use crate::session::Session;
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::text::{fit, pad, wrap};
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};

pub(super) fn draw(screen: &SeasonScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let yards = &session.book().yards;
    let name = yards.get(screen.yard).map_or_else(|| "no yard".to_owned(), |y| visible(y.name.as_str()));
    let own = canvas.keys.name_of(ScreenId::Season, Command::Practice);
    let first = if yards.len() > 1 {
        "Left and Right change the yard"
    } else {
        "The chosen date says where it comes from"
    };
    let body = page(
        canvas,
        &Page {
            title: format!("Season of {name}"),
            hint: format!("{first}; {own} sets dates of your own."),
            ..Page::at(session, ScreenId::Season)
        },
    );
    let Some(seen) = &screen.seen else { return };
    let width = usize::from(body.width);
    let mut rows = Rows::new();
    rows.line(format!(" {}", fit(&seen.place, width - 2)), theme.text);
    let known = wrap(&seen.known, width - 2);
    for line in &known {
        rows.line(format!(" {line}"), theme.muted);
    }
    let year = strip(&seen.calendar, session.today(), session.book().units, width.saturating_sub(4).min(146));
    rows.line(format!("  {}", year.months), theme.muted);
    rows.line(format!("  {}", year.phases), theme.text);
    rows.line(format!("  {}", year.today), theme.key);
    if body.height >= 24 {
        rows.line(format!("  {}", fit(LEGEND, width - 4)), theme.muted);
    }
    if let Some(asks) = &seen.calendar.shift.asks {
        rows.text(asks, width - 2, 1, theme.caution);
    }
    let above = rows.len();
    rows.draw(canvas, body);
    draw_dates(screen, seen, canvas, body, above);
}

/// The dates under the strip, so that the chosen one shows with where it comes from.
fn draw_dates(screen: &SeasonScreen, seen: &Seen, canvas: &mut Canvas<'_, '_>, body: Rect, above: usize) {
    let theme = canvas.theme;
    let width = usize::from(body.width);
    let above = u16::try_from(above).unwrap_or(0);
    let area = Rect { y: body.y + above.min(body.height), height: body.height.saturating_sub(above), ..body };
    let mut rows = Rows::new();
    for (at, date) in seen.dates.iter().enumerate() {
        let chosen = at == screen.row;
        let from = rows.len();
        let window = format!("{:>6} to {:<6}", date.opens, date.closes);
        let line = format!(
            "{} {} {window}  {}  {}",
            if chosen { ">" } else { " " },
            pad(date.name, 28),
            pad(&date.countdown, 19),
            date.met
        );
        let style = match (chosen, date.is_over) {
            (true, _) => theme.focus,
            (false, true) => theme.muted,
            (false, false) => theme.text,
        };
        rows.spans(vec![Span::styled(pad(&fit(&line, width), width), style)]);
        if chosen {
            rows.text(&date.from, width.saturating_sub(2), 4, theme.muted);
            rows.focus_from(from);
        }
    }
    rows.draw(canvas, area);
}
