//! Drawing the log.

use ratatui::layout::{Constraint, Layout, Rect};

use super::LogScreen;
use crate::model::{Visit, visible};
use crate::report::facts;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::text::{fit, pad};
use crate::tui::view::{Canvas, View};
use crate::tui::widgets::{Page, Rows, is_out_of_sight, page};
use crate::wording;

pub(super) fn draw(screen: &LogScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let (theme, units) = (canvas.theme, session.book().units);
    let body = page(
        canvas,
        &Page {
            title: title(screen),
            hint: hint(screen, session).to_owned(),
            ..Page::at(session, screen.id())
        },
    );
    // In a wide terminal what was found and done stands beside the list.
    let [body, beside] = if body.width >= WIDE {
        Layout::horizontal([Constraint::Percentage(50), Constraint::Percentage(50)]).areas(body)
    } else {
        Layout::horizontal([Constraint::Percentage(100), Constraint::Length(0)]).areas(body)
    };
    if let Some(visit) = screen.visit(session).filter(|_| beside.width > 0) {
        draw_visit(visit, session, canvas, beside);
    }
    let width = usize::from(body.width);
    let mut rows = Rows::new();
    let line = |rows: &mut Rows, at: usize, text: String, style| {
        let (from, is_chosen) = (rows.len(), at == screen.row);
        let text = format!("{} {text}", if is_chosen { ">" } else { " " });
        rows.line(pad(&fit(&text, width), width), if is_chosen { theme.focus } else { style });
        rows.target(from, at);
        if is_chosen {
            rows.focus_from(from);
        }
    };
    for (at, left) in session.left().iter().enumerate() {
        let state = if left.is_aside { "left unsaved" } else { "UNFINISHED" };
        let words = match &left.visit {
            Ok(visit) => format!(
                "{} {} {}",
                pad(&wording::day_and_year(units, visit.on), 12),
                pad(&visible(visit.yard.as_str()), 14),
                pad(state, 24),
            ),
            Err(why) => {
                let file = left.path.file_name().map(|n| visible(&n.to_string_lossy())).unwrap_or_default();
                format!("{} {file}: {}", pad("?", 12), visible(why))
            }
        };
        line(&mut rows, at, words, theme.should);
    }
    if screen.rows.is_empty() {
        let is_all = screen.search.text.is_empty();
        rows.line(if is_all { " No visit is logged yet." } else { " No visit fits the search." }, theme.text);
    }
    for (at, row) in screen.rows.iter().enumerate() {
        let at = session.left().len() + at;
        if is_out_of_sight(at, screen.row, body) {
            rows.out_of_sight();
            continue;
        }
        let words =
            format!("{} {} {} {}", pad(&row.day, 12), pad(&row.yard, 14), pad(row.status, 24), row.hives);
        line(&mut rows, at, words, theme.text);
    }
    rows.draw_tapped(canvas, body);
}

/// Columns from which the visit in hand stands beside the list.
const WIDE: u16 = 140;

/// A visit: its weather, and at each hive what was found, done and noted.
fn draw_visit(visit: &Visit, session: &Session, canvas: &mut Canvas<'_, '_>, area: Rect) {
    let (theme, units) = (canvas.theme, session.book().units);
    let width = usize::from(area.width).saturating_sub(3);
    let mut rows = Rows::new();
    let day = wording::weekday_and_day(units, visit.on);
    rows.group(&format!("  {}, {day}", visible(visit.yard.as_str())), width, theme);
    let weather = [
        visit.weather.temperature.map(|t| units.temperature(t)),
        visit.weather.wind.map(|w| format!("wind {}", units.wind(w))),
        visit.weather.rain.map(|rain| if rain { "rain" } else { "dry" }.to_owned()),
    ];
    let weather: Vec<String> = weather.into_iter().flatten().collect();
    if !weather.is_empty() {
        rows.text(&weather.join(" · "), width, 2, theme.muted);
    }
    for entry in &visit.entries {
        rows.line(format!("  {}", visible(entry.hive.as_str())), theme.heading);
        let found = facts::findings_words(&entry.findings, units);
        if !found.is_empty() {
            rows.text(&found, width, 4, theme.text);
        }
        for action in &entry.actions {
            rows.text(&format!("did: {}", action.words(units)), width, 4, theme.done);
        }
        if !entry.note.is_empty() {
            rows.text(&visible(&entry.note), width, 4, theme.muted);
        }
    }
    if !visit.note.is_empty() {
        rows.text(&visible(&visit.note), width, 2, theme.muted);
    }
    rows.draw(canvas, area);
}

fn title(screen: &LogScreen) -> String {
    let visits = wording::count(screen.rows.len(), "visit");
    match (screen.id(), screen.search.text.as_str()) {
        (ScreenId::Search, search) => format!("Log, search: {search}"),
        (_, "") => format!("Log: {visits}"),
        (_, search) => format!("Log: {visits}, \"{search}\""),
    }
}

fn hint(screen: &LogScreen, session: &Session) -> &'static str {
    if screen.row < session.left().len() {
        "Enter takes up the visit that was left; it is kept until it is finished and saved."
    } else {
        "Enter corrects a visit, x withdraws it; what it was stays in the log."
    }
}
