//! Drawing a form; beside a day its month.

use chrono::{Datelike, Days, NaiveDate, Weekday};
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Span;
use unicode_width::UnicodeWidthStr;

use super::FormScreen;
use crate::tui::app::App;
use crate::tui::field::{Field, Takes};
use crate::tui::keys::Place;
use crate::tui::text::{fit, pad};
use crate::tui::widgets::{Page, Rows, page};

/// Columns of a label.
const LABEL: usize = 24;
/// Columns of a value.
const VALUE: usize = 34;

pub(crate) fn draw(screen: &FormScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let field = screen.fields.get(screen.row);
    let body = page(
        frame,
        theme,
        &Page { title: screen.title.clone(), hint: hint(screen, field), ..Page::at(app, Place::Form) },
    );
    let width = usize::from(body.width);
    let room = VALUE.min(width.saturating_sub(LABEL + 6));
    let mut rows = Rows::new();
    let mut cursor = None;
    for (at, field) in screen.fields.iter().enumerate() {
        let chosen = at == screen.row;
        let from = rows.len();
        let shown = if chosen { windowed(field, room) } else { (fit(&field.shown(), room), 0) };
        let mark = if chosen { ">" } else { " " };
        let style = if chosen { theme.focus } else { theme.text };
        rows.spans(vec![
            Span::styled(format!(" {mark} {}", pad(&field.label, LABEL)), theme.text),
            Span::styled(format!("[{}]", pad(&shown.0, room)), style),
        ]);
        rows.target(from, at);
        if chosen {
            rows.focus_from(from);
            cursor = Some((from, LABEL + 4 + shown.1));
        }
    }
    let from = rows.len();
    let chosen = screen.row >= screen.fields.len();
    let line = pad(&format!(" {} {}", if chosen { ">" } else { " " }, screen.keep), LABEL + room + 5);
    rows.line(line, if chosen { theme.focus } else { theme.key });
    if chosen {
        rows.focus_from(from);
    }
    rows.target(from, screen.fields.len());
    let lines = rows.len();
    let top = rows.draw_tapped(app, frame, body);
    if let Some((line, column)) = cursor
        && let Some(below) = line.checked_sub(top)
        && below < usize::from(body.height)
    {
        let to = |base: u16, n: usize| base + u16::try_from(n).unwrap_or(0);
        frame.set_cursor_position((to(body.x, column), to(body.y, below)));
    }
    if let Some(field) = field
        && let (Takes::Day(today), Ok(day)) = (&field.takes, field.the_day())
    {
        let used = u16::try_from(lines + 1).unwrap_or(u16::MAX);
        draw_month(app, frame, body, used, day, *today);
    }
}

fn hint(screen: &FormScreen, field: Option<&Field>) -> String {
    let Some(field) = field else {
        return format!("Enter: {}. Esc leaves all as it was.", screen.keep.to_lowercase());
    };
    let keys = field.keys();
    match (field.help.is_empty(), keys.is_empty()) {
        (true, true) => "Enter goes to the next, Tab to the last line.".to_owned(),
        (false, true) => format!("{}  (Tab to the last line)", field.help),
        (true, false) => keys,
        (false, false) => format!("{}  ({keys})", field.help),
    }
}

/// What of a long text is shown, and where in it the cursor stands.
fn windowed(field: &Field, room: usize) -> (String, usize) {
    match field.takes {
        Takes::Words(_) | Takes::Figures => {
            let scroll = field.text.visual_scroll(room.saturating_sub(1).max(1));
            let shown: String = field.text.value().chars().skip(scroll).collect();
            (fit(&shown, room), field.text.visual_cursor().saturating_sub(scroll).min(room))
        }
        Takes::Choice(_) => (format!("< {} >", fit(&field.shown(), room.saturating_sub(4))), 2),
        Takes::Day(_) => (fit(&field.shown(), room), field.text.value().width().min(room)),
    }
}

/// The month of a day: below the fields where there is room, else right of them.
fn draw_month(app: &App, frame: &mut Frame<'_>, body: Rect, used: u16, day: NaiveDate, today: NaiveDate) {
    const WIDE: u16 = 30;
    const HIGH: u16 = 8;
    let area = if body.height >= used + HIGH {
        let [_, below] = Layout::vertical([Constraint::Length(used), Constraint::Min(HIGH)]).areas(body);
        below
    } else if body.width >= 66 + WIDE {
        let [_, right] = Layout::horizontal([Constraint::Min(66), Constraint::Length(WIDE)]).areas(body);
        right
    } else {
        return;
    };
    let theme = &app.theme;
    let mut rows = Rows::new();
    rows.line(format!("   {}", day.format("%B %Y")), theme.key);
    let first_weekday = app.week_begins();
    let names: Vec<String> =
        weekdays(first_weekday).iter().map(|d| format!("{d:?}")[..2].to_owned()).collect();
    rows.line(format!("   {} ", names.join("  ")), theme.muted);
    for week in weeks(day, first_weekday) {
        let mut spans = vec![Span::styled("  ", theme.text)];
        for each in week {
            let (text, style) = match each {
                None => ("    ".to_owned(), theme.text),
                // The day in hand between brackets, today with a point: not by colour alone.
                Some(d) if d == day => (format!("[{:>2}]", d.day()), theme.focus),
                Some(d) if d == today => (format!(" {:>2}.", d.day()), theme.key),
                Some(d) => (format!(" {:>2} ", d.day()), theme.text),
            };
            spans.push(Span::styled(text, style));
        }
        rows.spans(spans);
    }
    rows.draw(frame, area, theme.text);
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
    while cells.len() % 7 != 0 {
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
