//! Drawing the sheets.

use ratatui::text::Span;

use super::{SheetPage, SheetScreen};
use crate::model::{Units, trimmed, visible};
use crate::plan::readiness::{Goal, Ready, Row, Winter};
use crate::plan::{Trip, TripNeed, Worth};
use crate::report::or_by;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::text::{fit, pad};
use crate::tui::theme::Theme;
use crate::tui::to::Sheet;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};
use crate::wording;

pub(super) fn draw(screen: &SheetScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let yard = session.book().yards.get(screen.yard);
    let name = yard.map_or_else(|| "no yard".to_owned(), |y| visible(y.name.as_str()));
    let hint = match screen.sheet {
        Sheet::Weeks => "The fewest trips that meet every window. Tab: ready for winter?",
        Sheet::Readiness => "A date is the last day to fix it; ? is not looked at lately. Tab: worth.",
        Sheet::Worth => "Gain: frames of bees in spring. You decide. Tab: weeks ahead.",
    };
    let body = page(
        canvas,
        &Page {
            title: format!("{} · {name}", screen.sheet.title()),
            hint: hint.to_owned(),
            ..Page::at(session, ScreenId::Sheet)
        },
    );
    if yard.is_none() {
        return;
    }
    let width = usize::from(body.width).saturating_sub(2);
    let mut rows = Rows::new();
    match &screen.page {
        SheetPage::Weeks(trips, best) => {
            for words in best.words() {
                rows.text(&words, width, 1, theme.text);
            }
            weeks(&mut rows, trips, session, theme, width);
        }
        SheetPage::Readiness(grid, winter) => {
            ready(&mut rows, grid, winter.as_ref(), (theme, session.book().units), width);
        }
        SheetPage::Worth(table) => worth(&mut rows, table, (theme, session.book().units), width),
    }
    rows.draw_scrolled(canvas, body, &screen.scroll);
}

fn weeks(rows: &mut Rows, trips: &[Trip], session: &Session, theme: &Theme, width: usize) {
    let units = session.book().units;
    if trips.is_empty() {
        rows.line(" Nothing has to be done here in the next eight weeks.", theme.text);
    }
    for trip in trips {
        let when = wording::days_from(session.today(), trip.on);
        let late = trip.needs.iter().any(|n| n.is_late);
        rows.spans(vec![
            Span::styled(format!(" {} ", wording::weekday_and_day(units, trip.on)), theme.key),
            Span::styled(
                format!(
                    "({when}){}: {}, {} min",
                    or_by(trip, units),
                    wording::count(trip.hives().len(), "hive"),
                    trip.minutes
                ),
                theme.text,
            ),
            Span::styled(if late { "  some LATE" } else { "" }, theme.caution),
        ]);
        for (title, hives, late) in by_title(&trip.needs) {
            let text = format!("{title}: {}{}", hives.join(" "), if late { " (LATE)" } else { "" });
            rows.text(&text, width, 5, if late { theme.caution } else { theme.muted });
        }
    }
}

/// A trip's needs by what is to be done, with the hives it is done at.
fn by_title(needs: &[TripNeed]) -> Vec<(String, Vec<String>, bool)> {
    let mut found: Vec<(String, Vec<String>, bool)> = Vec::new();
    for need in needs {
        let hive = need.hive.to_string();
        match found.iter_mut().find(|(title, _, _)| *title == need.title) {
            Some((_, hives, late)) => {
                hives.push(hive);
                *late |= need.is_late;
            }
            None => found.push((need.title.clone(), vec![hive], need.is_late)),
        }
    }
    found
}

fn ready(
    rows: &mut Rows,
    grid: &[Row],
    winter: Option<&Winter>,
    (theme, units): (&Theme, Units),
    width: usize,
) {
    let heads: Vec<String> = Goal::ALL.iter().map(|i| pad(i.word(), 9)).collect();
    rows.line(format!(" {} {}", pad("hive", 6), heads.join("")), theme.key);
    for row in grid {
        let mut spans = vec![Span::styled(format!(" {} ", pad(row.hive.as_str(), 6)), theme.key)];
        for cell in &row.cells {
            let style = match cell {
                Ready::Met => theme.done,
                Ready::InHand => theme.text,
                Ready::AtRisk(_) => theme.must,
                Ready::NotKnown => theme.muted,
            };
            spans.push(Span::styled(pad(cell.words(units).trim_start_matches("by "), 9), style));
        }
        rows.spans(spans);
    }
    rows.gap();
    let whole = grid.iter().filter(|r| r.is_ready()).count();
    rows.line(format!(" {whole} of {} have everything met or in hand", grid.len()), theme.text);
    let last = winter.map_or_else(|| "how the last winter ended is not in the log".to_owned(), Winter::words);
    rows.text(&last, width, 1, theme.text);
}

fn worth(rows: &mut Rows, table: &[Worth], (theme, units): (&Theme, Units), width: usize) {
    rows.line(
        format!(
            " {} {:>5} {:>14} {:>6} {:>12} {:>6}  {} {}",
            pad("hive", 8),
            "years",
            "honey",
            "gain",
            "mites",
            "losses",
            pad("temper", 7),
            "suggests"
        ),
        theme.key,
    );
    for w in table {
        let honey = if w.honey.pounds() > 0.0 {
            format!("{} fr, {}", w.honey_frames, units.mass(w.honey))
        } else {
            format!("{} frames", w.honey_frames)
        };
        let line = format!(
            " {} {:>5} {honey:>14} {:>6} {:>12} {:>6}  {} {}",
            pad(w.hive.as_str(), 8),
            w.years,
            w.spring_gain.map_or_else(|| "-".to_owned(), |g| trimmed(g, 1)),
            w.mites.map_or_else(|| "-".to_owned(), |m| format!("{m:.1} % ({})", w.washes)),
            w.losses,
            pad(w.temper.map_or("-", crate::model::Temper::word), 7),
            w.verdict.word()
        );
        rows.line(fit(&line, width + 2), theme.text);
    }
    rows.gap();
    rows.text(
        "breeder: in the upper quarter for honey, two washes or more under your limit, no loss, no disease, not hot. \
         requeen: hot, washes over your limit, or a queen of three years.",
        width,
        1,
        theme.muted,
    );
}
