//! The month of a day, drawn as a grid: the day in hand between brackets, today with a point.

use chrono::{Datelike, Days, NaiveDate, Weekday};
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Span;

use super::Rows;
use crate::session::Session;
use crate::tui::view::Canvas;
use crate::wording;

/// Columns of a month.
const WIDE: u16 = 32;
/// Lines of a month.
pub(crate) const MONTH_HIGH: u16 = 8;

/// Draws the month of a day, from a column on; nothing where there is no room.
pub(crate) fn draw_month(
    session: &Session,
    canvas: &mut Canvas<'_, '_>,
    area: Rect,
    column: u16,
    day: NaiveDate,
    today: NaiveDate,
) {
    if area.height < MONTH_HIGH || area.width < column + WIDE {
        return;
    }
    let [_, area] = Layout::horizontal([Constraint::Length(column), Constraint::Min(WIDE)]).areas(area);
    let theme = canvas.theme;
    let mut rows = Rows::new();
    rows.line(format!("   {}", wording::month_and_year(day)), theme.heading);
    let first = session.settings().first_weekday(session.book().units);
    let names: Vec<String> =
        weekdays(first).iter().map(|d| d.to_string().chars().take(2).collect()).collect();
    rows.line(format!("   {} ", names.join("  ")), theme.muted);
    for week in weeks(day, first) {
        let mut spans = vec![Span::styled("  ", theme.text)];
        for each in week {
            let (text, style) = match each {
                None => ("    ".to_owned(), theme.text),
                // Not by color alone.
                Some(d) if d == day => (format!("[{:>2}]", d.day()), theme.focus),
                Some(d) if d == today => (format!(" {:>2}.", d.day()), theme.heading),
                Some(d) => (format!(" {:>2} ", d.day()), theme.text),
            };
            spans.push(Span::styled(text, style));
        }
        rows.spans(spans);
    }
    rows.draw(canvas, area);
}

fn weekdays(first: Weekday) -> Vec<Weekday> {
    let mut days = vec![first];
    for _ in 1..7 {
        days.extend(days.last().map(Weekday::succ));
    }
    days
}

/// The weeks of a day's month, each from the first day of the week on; `None` is a day of another month.
fn weeks(day: NaiveDate, first: Weekday) -> Vec<Vec<Option<NaiveDate>>> {
    let Some(start) = day.with_day(1) else { return Vec::new() };
    let lead = start.weekday().days_since(first);
    let mut cells: Vec<Option<NaiveDate>> = vec![None; lead as usize];
    let mut at = Some(start);
    while let Some(date) = at.filter(|d| d.month() == start.month()) {
        cells.push(Some(date));
        at = date.checked_add_days(Days::new(1));
    }
    while !cells.len().is_multiple_of(7) {
        cells.push(None);
    }
    cells.chunks(7).map(<[_]>::to_vec).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_month_has_all_its_days_under_their_weekdays() {
        let day: NaiveDate = "2026-05-20".parse().unwrap();
        for first in [Weekday::Mon, Weekday::Sun] {
            let weeks = weeks(day, first);
            let days: Vec<NaiveDate> = weeks.iter().flatten().flatten().copied().collect();
            assert_eq!(days.len(), 31);
            for week in &weeks {
                for (at, cell) in week.iter().enumerate() {
                    assert!(cell.is_none_or(|d| d.weekday() == weekdays(first)[at]));
                }
            }
        }
        assert_eq!(weekdays(Weekday::Sun)[6], Weekday::Sat);
    }
}
