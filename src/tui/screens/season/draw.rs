//! Drawing the season.

use ratatui::Frame;
use ratatui::text::Span;

use super::SeasonScreen;
use super::strip::{LEGEND, strip};
use crate::model::{Yard, visible};
use crate::plan;
use crate::report::{countdown, place_words, sun_words};
use crate::season::{Calendar, DateId};
use crate::tui::app::App;
use crate::tui::keys::Place;
use crate::tui::text::{fit, pad};
use crate::tui::widgets::{Page, Rows, page};

pub(crate) fn draw(screen: &SeasonScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let yard = app.book.yards.get(screen.yard);
    let name = yard.map_or_else(|| "no yard".to_owned(), |y| visible(y.name.as_str()));
    let hint = if app.book.yards.len() > 1 {
        "Left and Right change the yard; p sets dates of your own."
    } else {
        "The chosen date says where it comes from; p sets dates of your own."
    };
    let body = page(
        frame,
        theme,
        &Page { title: format!("Season of {name}"), hint: hint.to_owned(), ..Page::at(app, Place::Season) },
    );
    let Some(yard) = yard else { return };
    let calendar = app.calendar(yard);
    let width = usize::from(body.width);
    let mut rows = Rows::new();
    let phase = calendar.phase(app.today).word();
    rows.line(
        format!(" {}", fit(&format!("{phase} · {}", place_words(yard, app.book.units)), width - 2)),
        theme.text,
    );
    let known: Vec<String> = [calendar.bloom.map(|b| b.words()), sun_words(yard, app.today, app.offset)]
        .into_iter()
        .flatten()
        .collect();
    rows.line(format!(" {}", fit(&known.join(" · "), width - 2)), theme.muted);
    let year = strip(&calendar, app.today, width.saturating_sub(4).min(146));
    rows.line(format!("  {}", year.months), theme.muted);
    rows.line(format!("  {}", year.phases), theme.text);
    rows.line(format!("  {}", year.today), theme.key);
    if body.height >= 24 {
        rows.line(format!("  {}", fit(LEGEND, width - 4)), theme.muted);
    }
    if let Some(asks) = &calendar.shift.asks {
        rows.text(asks, width - 2, 1, theme.caution);
    }
    rows.draw(frame, body, theme.text);
    draw_dates(screen, app, yard, &calendar, frame, body);
}

/// The dates under the strip, so that the chosen one shows with where it comes from.
fn draw_dates(
    screen: &SeasonScreen,
    app: &App,
    yard: &Yard,
    calendar: &Calendar,
    frame: &mut Frame<'_>,
    body: ratatui::layout::Rect,
) {
    let theme = &app.theme;
    let width = usize::from(body.width);
    let asks = calendar.shift.asks.as_ref().map_or(0, |a| crate::tui::text::wrap(a, width - 3).len());
    let above = 5 + u16::try_from(asks).unwrap_or(0) + u16::from(body.height >= 24);
    let area = ratatui::layout::Rect {
        y: body.y + above.min(body.height),
        height: body.height.saturating_sub(above),
        ..body
    };
    let stands: Vec<_> = yard.hives.iter().filter_map(|h| app.folded.hive(&h.id)).collect();
    let deadlines = plan::deadlines(&stands, calendar, &app.book.practice, app.today);
    let mut rows = Rows::new();
    for (at, date) in calendar.dates.iter().enumerate() {
        let chosen = at == screen.row;
        let from = rows.len();
        let window = format!(
            "{:>6} to {:<6}",
            date.window.opens.format("%-d %b"),
            date.window.closes.format("%-d %b")
        );
        let met = met_words(app, &deadlines, date.id);
        let line = format!(
            "{} {} {window}  {}  {met}",
            if chosen { ">" } else { " " },
            pad(date.id.reference().name, 28),
            pad(&countdown(date, app.today), 19),
        );
        let over = app.today > date.window.closes;
        let style = match (chosen, over) {
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
    rows.draw(frame, area, theme.text);
}

/// For a date that hives are held to, once it is in sight: how many meet it.
fn met_words(app: &App, deadlines: &[plan::Deadline], date: DateId) -> String {
    deadlines.iter().find(|d| d.date == date).map_or_else(String::new, |d| d.words(app.today))
}
