//! Drawing the practice.

use ratatui::layout::{Constraint, Layout};

use super::{PracticeRow, PracticeScreen, items};
use crate::model::Threshold;
use crate::report::{DATES_SOURCE, end_of, from_word, threshold_words};
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::text::{fit, pad};
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};
use crate::wording;

pub(super) fn draw(screen: &PracticeScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let body = page(
        canvas,
        &Page {
            title: "Practice: what the advice goes by".to_owned(),
            hint: "Type a value, Enter keeps it; Bksp and Enter go back to the default.".to_owned(),
            ..Page::at(session, ScreenId::Practice)
        },
    );
    let width = usize::from(body.width);
    let [list, foot] = Layout::vertical([Constraint::Min(1), Constraint::Length(3)]).areas(body);
    let mut rows = Rows::new();
    for (at, item) in items().iter().enumerate() {
        if at == 0 {
            rows.group(" THRESHOLDS", width, theme);
        }
        if matches!(item, PracticeRow::Date(date, true) if Some(date) == crate::model::DateId::ALL.first()) {
            rows.group(" DATES, month and day; yours hold as written at every yard", width, theme);
        }
        let chosen = at == screen.row;
        let from = rows.len();
        let (name, value, own) = words(item, session);
        let typed = screen.typed.as_ref().filter(|_| chosen);
        let value = typed.map_or(value, |t| format!("[{t}_]"));
        let line = format!(
            "{} {} {} {}",
            if chosen { ">" } else { " " },
            pad(&name, 38),
            pad(&value, 28),
            from_word(own)
        );
        rows.line(pad(&fit(&line, width), width), if chosen { theme.focus } else { theme.text });
        rows.target(from, at);
        if chosen {
            rows.focus_from(from);
        }
    }
    let first = rows.draw_tapped(canvas, list);
    let mut about = Rows::new();
    if let Some(item) = items().get(screen.row) {
        let (range, source) = match item {
            PracticeRow::Threshold(t) => (range_words(t, session), t.source.to_owned()),
            PracticeRow::Date(date, is_opening) => {
                let reference = date.reference();
                let base = if *is_opening { reference.opens } else { reference.closes };
                let south = base.half_a_year_on();
                let day = |day| wording::day_of_year(day, session.book().units);
                (
                    format!("default {}, {} in the south; yours may be any day", day(base), day(south)),
                    DATES_SOURCE.to_owned(),
                )
            }
        };
        about.line(format!(" {}", fit(&range, width - 2)), theme.text);
        about.text(&format!("source: {source}"), width - 2, 1, theme.muted);
    }
    about.draw(canvas, foot);
    // Two headings stand above the rows of dates, one above the thresholds.
    let heads = if matches!(items().get(screen.row), Some(PracticeRow::Date(..))) { 2 } else { 1 };
    let y = list.y + u16::try_from((screen.row + heads).saturating_sub(first)).unwrap_or(0);
    let typed = screen.typed.as_ref().map_or(0, |t| 1 + u16::try_from(t.len()).unwrap_or(0));
    canvas.frame.set_cursor_position((list.x + 41 + typed, y.min(list.bottom().saturating_sub(1))));
}

fn range_words(threshold: &Threshold, session: &Session) -> String {
    let units = session.book().units;
    format!("default {}; {} is the range", threshold.words(threshold.default, units), threshold.range(units))
}

/// A line's name and value, and whether it is the keeper's own.
fn words(item: &PracticeRow, session: &Session) -> (String, String, bool) {
    let practice = &session.book().practice;
    match item {
        PracticeRow::Threshold(t) => (
            t.words.to_owned(),
            threshold_words(practice, t, session.book().units),
            practice.own(t.field).is_some(),
        ),
        PracticeRow::Date(date, is_opening) => {
            let (day, own) = end_of(practice, *date, *is_opening);
            let end = if *is_opening { "opens" } else { "closes" };
            (
                format!("{} {end}", fit(date.reference().name, 30)),
                wording::day_of_year(day, session.book().units),
                own,
            )
        }
    }
}
