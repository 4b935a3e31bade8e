//! Drawing the season.

use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Span;

use super::strip::{LEGEND, Strip};
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
    let columns = Columns::of(width);
    let strip = Strip::of(&seen.calendar, session.today(), columns.strip);
    let lead = " ".repeat(columns.before_strip());
    let mut rows = Rows::new();
    rows.line(format!(" {}", fit(&seen.place, width - 2)), theme.text);
    for line in wrap(&seen.known, width - 2) {
        rows.line(format!(" {line}"), theme.muted);
    }
    if let Some(asks) = &seen.calendar.shift.asks {
        rows.text(asks, width - 2, 1, theme.caution);
    }
    rows.line(format!("{lead}{}", strip.months()), theme.muted);
    let mut year = vec![Span::styled(pad(" What the bees do", columns.before_strip()), theme.heading)];
    year.extend(strip.phases(&seen.calendar, theme));
    rows.spans(year);
    let above = rows.len();
    let legend = wrap(LEGEND, width - 2);
    let below = u16::try_from(legend.len()).unwrap_or(2);
    rows.draw(canvas, body);
    let above = u16::try_from(above).unwrap_or(0).min(body.height);
    let [_, list, foot] =
        Layout::vertical([Constraint::Length(above), Constraint::Min(1), Constraint::Length(below)])
            .areas(body);
    draw_dates(screen, seen, (&strip, columns), canvas, list);
    let mut rows = Rows::new();
    for line in legend {
        rows.line(format!(" {line}"), theme.muted);
    }
    rows.draw(canvas, foot);
}

/// How wide each part of a date's row is.
#[derive(Debug, Clone, Copy)]
struct Columns {
    name: usize,
    countdown: usize,
    strip: usize,
}

/// Columns of a window in words.
const WINDOW: usize = 16;
/// Columns from which a row says how far off its date is.
const WIDE: usize = 110;

impl Columns {
    fn of(width: usize) -> Self {
        let (name, countdown) = if width >= WIDE { (28, 36) } else { (22, 0) };
        let without = Self { name, countdown, strip: 0 };
        let strip = width.saturating_sub(without.before_strip() + 1).min(146);
        Self { strip, ..without }
    }

    fn before_strip(self) -> usize {
        2 + self.name + 1 + WINDOW + 1 + self.countdown
    }
}

/// The dates under the strip, so that the chosen one shows with where it comes from.
fn draw_dates(
    screen: &SeasonScreen,
    seen: &Seen,
    (strip, columns): (&Strip, Columns),
    canvas: &mut Canvas<'_, '_>,
    area: Rect,
) {
    let theme = canvas.theme;
    let width = usize::from(area.width);
    let mut rows = Rows::new();
    for (at, date) in seen.dates.iter().enumerate() {
        let chosen = at == screen.row;
        let from = rows.len();
        let window = format!("{:>6} to {}", date.opens, date.closes);
        let told = [date.countdown.as_str(), date.met.as_str()].into_iter().filter(|w| !w.is_empty());
        let told = told.collect::<Vec<_>>().join(" · ");
        let beside = if columns.countdown > 0 { pad(&told, columns.countdown) } else { String::new() };
        let style = match (chosen, date.is_over) {
            (true, _) => theme.focus,
            (false, true) => theme.muted,
            (false, false) => theme.text,
        };
        let mark = if chosen { ">" } else { " " };
        let words = format!("{mark} {} {} {beside}", pad(date.name, columns.name), pad(&window, WINDOW));
        let mut spans = vec![Span::styled(words, style)];
        spans.extend(strip.window(date.window.opens, date.window.closes, theme));
        rows.spans(spans);
        if chosen {
            if columns.countdown == 0 && !told.is_empty() {
                rows.text(&told, width.saturating_sub(2), 4, theme.text);
            }
            rows.text(&date.from, width.saturating_sub(2), 4, theme.muted);
            if !seen.elsewhere.is_empty() {
                let others = seen.elsewhere.iter().filter_map(|(yard, windows)| {
                    let window = windows.get(at)?;
                    Some(format!("{yard} {} to {}", window.0, window.1))
                });
                let others = others.collect::<Vec<_>>().join(" · ");
                rows.text(&format!("Elsewhere: {others}"), width.saturating_sub(2), 4, theme.muted);
            }
            rows.focus_from(from);
        }
    }
    rows.draw(canvas, area);
}
