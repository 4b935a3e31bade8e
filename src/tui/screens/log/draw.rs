//! Drawing the log.

use super::LogScreen;
use crate::model::visible;
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
