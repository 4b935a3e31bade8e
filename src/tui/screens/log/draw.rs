//! Drawing the log.

use ratatui::Frame;

use super::{LogScreen, visits};
use crate::model::{Visit, visible};
use crate::tui::app::App;
use crate::tui::keys::Place;
use crate::tui::text::{fit, pad};
use crate::tui::widgets::{Page, Rows, page};

pub(crate) fn draw(screen: &LogScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let visits = visits(app);
    let body = page(
        frame,
        theme,
        &Page {
            title: format!("Log: {} visits", visits.len()),
            hint: "Enter corrects a visit, x withdraws it; what it was stays in the log.".to_owned(),
            ..Page::at(app, Place::Log)
        },
    );
    let width = usize::from(body.width);
    let mut rows = Rows::new();
    if visits.is_empty() {
        rows.line(" No visit is logged yet.", theme.text);
    }
    for (at, visit) in visits.iter().enumerate() {
        let chosen = at == screen.row;
        let from = rows.len();
        let hives: Vec<&str> = visit.entries.iter().map(|e| e.hive.as_str()).collect();
        let line = format!(
            "{} {} {} {} {}",
            if chosen { ">" } else { " " },
            pad(&visit.on.format("%-d %b %Y").to_string(), 11),
            pad(&visible(visit.yard.as_str()), 14),
            pad(&standing(app, visit), 24),
            hives.join(" ")
        );
        rows.line(pad(&fit(&line, width), width), if chosen { theme.focus } else { theme.text });
        if chosen {
            rows.focus_from(from);
        }
    }
    rows.draw(frame, body, theme.text);
}

/// How a visit stands: corrected by another, a correction, withdrawn, or one of two corrections to settle.
fn standing(app: &App, visit: &Visit) -> String {
    let by: Vec<&Visit> = app.book.visits.iter().filter(|v| v.replaces.as_ref() == Some(&visit.id)).collect();
    let rivals = visit.replaces.as_ref().map_or(0, |old| {
        app.book.visits.iter().filter(|v| v.replaces.as_ref() == Some(old) && v.id != visit.id).count()
    });
    match by.as_slice() {
        [] if rivals > 0 => "TWO CORRECTIONS: keep one".to_owned(),
        [] if visit.replaces.is_some() && visit.entries.is_empty() => "a withdrawal".to_owned(),
        [] if visit.replaces.is_some() => "a correction".to_owned(),
        [] => String::new(),
        [one] if one.entries.is_empty() => "withdrawn".to_owned(),
        [_] => "corrected".to_owned(),
        _ => "corrected twice".to_owned(),
    }
}
