//! Drawing the roster.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout};
use unicode_width::UnicodeWidthStr;

use super::{RosterScreen, Row};
use crate::model::{HiveState, YardId, trimmed, visible};
use crate::tui::app::{App, HiveView};
use crate::tui::keys::Place;
use crate::tui::screens::card::draw::draw_picture;
use crate::tui::text::{many, pad};
use crate::tui::widgets::{Page, Rows, page};

pub(crate) fn draw(screen: &RosterScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let found = super::rows(app, &screen.search);
    let hives = found.iter().filter(|r| matches!(r, Row::Hive(_))).count();
    let searched =
        if screen.search.text.is_empty() { String::new() } else { format!(", \"{}\"", screen.search.text) };
    let body = page(
        frame,
        theme,
        &Page {
            title: format!("Roster: {}{}", many(hives, "hive"), visible(&searched)),
            hint: "Bees and brood in frames; mites in percent of the last wash.".to_owned(),
            ..Page::at(app, screen.place())
        },
    );
    // In a wide terminal the hive in hand stands beside the list.
    let body = match chosen_view(screen, app, &found).filter(|_| body.width >= WIDE) {
        Some(view) => {
            let [list, beside] =
                Layout::horizontal([Constraint::Percentage(55), Constraint::Percentage(45)]).areas(body);
            draw_picture(app, &view, frame, beside);
            list
        }
        None => body,
    };
    let [head, list] = Layout::vertical([Constraint::Length(1), Constraint::Min(1)]).areas(body);
    let width = usize::from(body.width);
    let wide = width.saturating_sub(63);
    let mut title = Rows::new();
    if screen.place() == Place::Search {
        title.line(format!(" search: {}", screen.search.text), theme.key);
    } else {
        let words = format!(
            "  {} {} {:>5} {:>5} {:>6}  {} {}",
            pad("hive", 9),
            pad("boxes", 16 + wide / 2),
            "bees",
            "brood",
            "mites",
            pad("queen", 10),
            "seen"
        );
        title.line(words, theme.key);
    }
    title.draw(frame, head, theme.text);
    let mut rows = Rows::new();
    if found.is_empty() {
        let words =
            if screen.search.text.is_empty() { "no yard yet: n sets one up" } else { "nothing is called so" };
        rows.line(format!("   {words}"), theme.text);
    }
    for (at, row) in found.iter().enumerate() {
        let chosen = at == screen.row.min(found.len().saturating_sub(1));
        let from = rows.len();
        let mark = if chosen { ">" } else { " " };
        let (text, plain) = match row {
            Row::Yard(yard) => (yard_words(app, yard), theme.key),
            Row::Hive(hive) => match app.folded.hive(hive) {
                Some(state) => (line(state, wide / 2), theme.text),
                None => continue,
            },
        };
        rows.line(pad(&format!("{mark}{text}"), width), if chosen { theme.focus } else { plain });
        rows.target(from, at);
        if chosen {
            rows.focus_from(from);
        }
    }
    rows.draw_tapped(app, frame, list);
    if screen.place() == Place::Search {
        let column = u16::try_from(9 + screen.search.text.width()).unwrap_or(0);
        frame.set_cursor_position((head.x + column.min(head.width.saturating_sub(1)), head.y));
    }
}

/// Columns from which the hive in hand stands beside the list.
const WIDE: u16 = 150;

fn chosen_view(screen: &RosterScreen, app: &App, found: &[Row]) -> Option<HiveView> {
    match found.get(screen.row.min(found.len().saturating_sub(1)))? {
        Row::Hive(hive) => app.view(hive),
        Row::Yard(_) => None,
    }
}

fn yard_words(app: &App, name: &YardId) -> String {
    let place = match app.yard(name).map(|y| (y.place, y.freezes)) {
        Some((_, Some(freezes))) => {
            format!("freezes until {}, from {}", freezes.last_spring, freezes.first_autumn)
        }
        Some((Some(place), None)) => {
            let (north, east) = (place.latitude, place.longitude);
            format!(
                "{} {}, {} {}, {}",
                trimmed(north.abs(), 2),
                if north < 0.0 { "S" } else { "N" },
                trimmed(east.abs(), 2),
                if east < 0.0 { "W" } else { "E" },
                app.book.units.elevation(place.elevation)
            )
        }
        _ => "no place given: the dates are those of 43 N, 86 W".to_owned(),
    };
    format!("{}: {place}", visible(name.as_str()))
}

fn line(state: &HiveState, wide: usize) -> String {
    let number = |seen: Option<f64>| seen.map_or_else(|| "-".to_owned(), |n| trimmed(n, 2));
    let mites = state.last_wash().map_or_else(|| "-".to_owned(), |w| format!("{:.1} %", w.percent()));
    let queen = if state.is_alive() { state.queen.status.word() } else { "DEAD" };
    format!(
        " {} {} {:>5} {:>5} {mites:>6}  {} {}",
        pad(state.id.as_str(), 9),
        pad(&state.stack_words(), 16 + wide),
        number(state.seen.bees.map(|b| b.value.0)),
        number(state.seen.brood.map(|b| b.value.0)),
        pad(queen, 10),
        state.last_visit.map_or_else(|| "never".to_owned(), |on| on.format("%-d %b").to_string()),
    )
}
