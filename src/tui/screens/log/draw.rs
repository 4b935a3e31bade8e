//! Drawing the log.

use ratatui::Frame;

use super::{LogScreen, visits};
use crate::model::{Corrections, visible};
use crate::tui::app::App;
use crate::tui::keys::Place;
use crate::tui::text::{fit, many, pad};
use crate::tui::widgets::{Page, Rows, page};

pub(crate) fn draw(screen: &LogScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let visits = visits(app, &screen.search);
    let body = page(
        frame,
        theme,
        &Page {
            title: title(screen, visits.len()),
            hint: hint(screen, app).to_owned(),
            ..Page::at(app, screen.place())
        },
    );
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
    for (at, left) in app.left.iter().enumerate() {
        let state = if left.is_aside { "left unsaved" } else { "UNFINISHED" };
        let words = match &left.visit {
            Ok(visit) => format!(
                "{} {} {}",
                pad(&visit.on.format("%-d %b %Y").to_string(), 11),
                pad(&visible(visit.yard.as_str()), 14),
                pad(state, 24),
            ),
            Err(why) => {
                format!(
                    "{} {}: {}",
                    pad("?", 11),
                    left.path.file_name().map(|n| visible(&n.to_string_lossy())).unwrap_or_default(),
                    visible(why)
                )
            }
        };
        line(&mut rows, at, words, theme.should);
    }
    let corrections = Corrections::of(&app.book, app.today);
    if visits.is_empty() {
        rows.line(" No visit is logged yet.", theme.text);
    }
    for (at, visit) in visits.iter().enumerate() {
        let hives: Vec<&str> = visit.entries.iter().map(|e| e.hive.as_str()).collect();
        let words = format!(
            "{} {} {} {}",
            pad(&visit.on.format("%-d %b %Y").to_string(), 11),
            pad(&visible(visit.yard.as_str()), 14),
            pad(corrections.stand(visit).words(), 24),
            hives.join(" ")
        );
        line(&mut rows, app.left.len() + at, words, theme.text);
    }
    rows.draw_tapped(app, frame, body);
}

fn title(screen: &LogScreen, visits: usize) -> String {
    match (screen.place(), screen.search.text.as_str()) {
        (Place::Search, search) => format!("Log, search: {search}"),
        (_, "") => format!("Log: {}", many(visits, "visit")),
        (_, search) => format!("Log: {}, \"{search}\"", many(visits, "visit")),
    }
}

fn hint(screen: &LogScreen, app: &App) -> &'static str {
    if screen.row < app.left.len() {
        "Enter takes up the visit that was left; it is kept until it is finished and saved."
    } else {
        "Enter corrects a visit, x withdraws it; what it was stays in the log."
    }
}
