//! Drawing the roster.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout};

use super::RosterScreen;
use crate::model::{HiveState, trimmed};
use crate::tui::app::App;
use crate::tui::keys::Place;
use crate::tui::text::pad;
use crate::tui::widgets::{Page, Rows, page};

pub(crate) fn draw(screen: &RosterScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let hives = super::hives(app);
    let body = page(
        frame,
        theme,
        &Page {
            title: format!("Roster: {} hives", hives.len()),
            hint: "Bees and brood in frames; mites in percent of the last wash.".to_owned(),
            ..Page::at(app, Place::Roster)
        },
    );
    let [head, list] = Layout::vertical([Constraint::Length(1), Constraint::Min(1)]).areas(body);
    let width = usize::from(body.width);
    let wide = width.saturating_sub(76);
    let mut title = Rows::new();
    title.line(
        format!(
            "  {} {} {} {:>5} {:>5} {:>6}  {} {}",
            pad("hive", 8),
            pad("yard", 12),
            pad("boxes", 16 + wide / 2),
            "bees",
            "brood",
            "mites",
            pad("queen", 10),
            "seen"
        ),
        theme.key,
    );
    title.draw(frame, head, theme.text);
    let mut rows = Rows::new();
    for (at, state) in hives.iter().filter_map(|h| app.folded.hive(h)).enumerate() {
        let chosen = at == screen.row;
        let from = rows.len();
        let style = if chosen { theme.focus } else { theme.text };
        rows.line(pad(&line(state, chosen, wide / 2), width), style);
        if chosen {
            rows.focus_from(from);
        }
    }
    rows.draw(frame, list, theme.text);
}

fn line(state: &HiveState, chosen: bool, wide: usize) -> String {
    let number = |seen: Option<f64>| seen.map_or_else(|| "-".to_owned(), |n| trimmed(n, 2));
    let mites = state.last_wash().map_or_else(|| "-".to_owned(), |w| format!("{:.1} %", w.percent()));
    let queen = if state.is_alive() { state.queen.status.word() } else { "DEAD" };
    format!(
        "{} {} {} {} {:>5} {:>5} {mites:>6}  {} {}",
        if chosen { ">" } else { " " },
        pad(state.id.as_str(), 8),
        pad(state.yard.as_str(), 12),
        pad(&state.stack_words(), 16 + wide),
        number(state.seen.bees.map(|b| b.value.0)),
        number(state.seen.brood.map(|b| b.value.0)),
        pad(queen, 10),
        state.last_visit.map_or_else(|| "never".to_owned(), |on| on.format("%-d %b").to_string()),
    )
}
