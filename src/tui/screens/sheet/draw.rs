//! Drawing the sheets.

use chrono::NaiveDate;
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
use crate::tui::widgets::{Page, Rows, bar, page};
use crate::wording;

pub(super) fn draw(screen: &SheetScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let yard = session.book().yards.get(screen.yard);
    let name = yard.map_or_else(|| "no yard".to_owned(), |y| visible(y.name.as_str()));
    let hint = match screen.sheet {
        Sheet::Weeks => "The fewest trips that meet every window. Tab: ready for winter?",
        Sheet::Readiness => "Every hive against every goal of the fall. Tab: worth.",
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
        SheetPage::Weeks => {
            let Some(ahead) = session.weeks_at(screen.yard) else { return };
            for words in ahead.best.words() {
                rows.text(&words, width, 1, theme.text);
            }
            weeks(&mut rows, &ahead.trips, session, theme, width);
        }
        SheetPage::Readiness(grid, winter) => {
            let how = (theme, session.book().units, session.today());
            ready(&mut rows, grid, winter.as_ref(), how, width);
        }
        SheetPage::Worth(table) => {
            let limit = session.book().practice.mite_limit();
            worth(&mut rows, table, (theme, session.book().units, limit), width);
        }
    }
    rows.draw_scrolled(canvas, body, &screen.scroll);
}

fn weeks(rows: &mut Rows, trips: &[Trip], session: &Session, theme: &Theme, width: usize) {
    let units = session.book().units;
    if trips.is_empty() {
        rows.line(" Nothing has to be done here in the next eight weeks.", theme.text);
    }
    let longest = trips.iter().map(|trip| trip.minutes).max().unwrap_or(1).max(1);
    let bar_wide = (width / 8).clamp(8, 30);
    for (at, trip) in trips.iter().enumerate() {
        if at > 0 {
            rows.gap();
        }
        let when = wording::days_from(session.today(), trip.on);
        let late = trip.needs.iter().any(|n| n.is_late);
        let mut spans = vec![
            Span::styled(pad(&format!(" {}", wording::weekday_and_day(units, trip.on)), 13), theme.heading),
            Span::styled(pad(&format!("{when}{}", or_by(trip, units)), 25), theme.text),
        ];
        spans.extend(bar(f64::from(trip.minutes) / f64::from(longest), bar_wide, theme.may, theme));
        let hives = wording::count(trip.hives().len(), "hive");
        spans.push(Span::styled(format!(" {} min, {hives}", trip.minutes), theme.text));
        spans.push(Span::styled(if late { "  LATE" } else { "" }, theme.must));
        rows.spans(spans);
        for (title, hives, late) in by_title(&trip.needs) {
            let from = rows.len();
            rows.text(&format!("{title}: {}", hives.join(" ")), width, 13, theme.muted);
            if late {
                rows.mark(from, 8, "LATE", theme.must);
            }
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

/// Days before its last one in which a thing is to be done now.
const SOON: i64 = 7;
/// What the signs of the grid mean.
const LEGEND: &str = "■ met  ▒ in hand  □ open, with its last day  ! to do now  ? not looked at lately";

fn ready(
    rows: &mut Rows,
    grid: &[Row],
    winter: Option<&Winter>,
    (theme, units, today): (&Theme, Units, NaiveDate),
    width: usize,
) {
    let wide = (width.saturating_sub(8) / Goal::ALL.len().max(1)).clamp(9, 18);
    let heads: Vec<String> = Goal::ALL.iter().map(|i| pad(i.word(), wide)).collect();
    rows.line(format!(" {} {}", pad("hive", 6), heads.join("")), theme.heading);
    for row in grid {
        let mut spans = vec![Span::styled(format!(" {} ", pad(row.hive.as_str(), 6)), theme.heading)];
        for cell in &row.cells {
            let (sign, style) = match cell {
                Ready::Met => ("■", theme.done),
                Ready::InHand => ("▒", theme.text),
                // Loud only where it is to be done now.
                Ready::AtRisk(by) if (*by - today).num_days() <= SOON => ("!", theme.must),
                Ready::AtRisk(_) => ("□", theme.text),
                Ready::NotKnown => ("?", theme.muted),
            };
            let words = cell.words(units);
            let words = words.trim_start_matches("by ").trim_start_matches('?');
            spans.push(Span::styled(pad(&format!("{sign} {words}"), wide), style));
        }
        rows.spans(spans);
    }
    rows.gap();
    let mut totals = vec![Span::styled(pad(" met", 8), theme.muted)];
    for at in 0..Goal::ALL.len() {
        let met = grid.iter().filter(|row| matches!(row.cells.get(at), Some(Ready::Met | Ready::InHand)));
        let (met, of) = (met.count(), grid.len());
        let share = met as f64 / of.max(1) as f64;
        totals.extend(bar(share, wide.saturating_sub(6).max(3), theme.done, theme));
        totals.push(Span::styled(pad(&format!(" {met}"), wide - wide.saturating_sub(6).max(3)), theme.text));
    }
    rows.spans(totals);
    rows.text(LEGEND, width, 1, theme.muted);
    rows.gap();
    let whole = grid.iter().filter(|r| r.is_ready()).count();
    rows.line(format!(" {whole} of {} have everything met or in hand", grid.len()), theme.text);
    let last = winter.map_or_else(|| "how the last winter ended is not in the log".to_owned(), Winter::words);
    rows.text(&last, width, 1, theme.text);
}

/// Columns from which the figures of a hive have bars.
const BARS_FROM: usize = 116;
/// Columns of such a bar.
const WORTH_BAR: usize = 16;

fn worth(rows: &mut Rows, table: &[Worth], (theme, units, limit): (&Theme, Units, f64), width: usize) {
    let has_bars = width >= BARS_FROM;
    let most_honey = table.iter().map(|w| w.honey_frames).max().unwrap_or(0).max(1);
    let most_mites = table.iter().filter_map(|w| w.mites).fold(0.1_f64, f64::max);
    let head = if has_bars {
        format!("  {}  {}", pad("honey", WORTH_BAR), pad("mites", WORTH_BAR))
    } else {
        String::new()
    };
    rows.line(
        format!(
            " {} {:>5} {:>14} {:>6} {:>12} {:>6}  {} {}{head}",
            pad("hive", 8),
            "years",
            "honey",
            "gain",
            "mites",
            "losses",
            pad("temper", 7),
            pad("suggests", 9)
        ),
        theme.heading,
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
            pad(w.verdict.word(), 9)
        );
        let mut spans = vec![Span::styled(fit(&line, width + 2), theme.text)];
        if has_bars {
            spans.push(Span::styled("  ", theme.text));
            let honey = f64::from(w.honey_frames) / f64::from(most_honey);
            spans.extend(bar(honey, WORTH_BAR, theme.honey, theme));
            spans.push(Span::styled("  ", theme.text));
            // Loud only over the limit.
            let mites = w.mites.unwrap_or(0.0);
            let style = if mites > limit { theme.must } else { theme.muted };
            spans.extend(bar(mites / most_mites, WORTH_BAR, style, theme));
        }
        rows.spans(spans);
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
