//! Drawing a hive's card.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Span;

use super::CardScreen;
use crate::advice::rule_name;
use crate::model::fold::whole_history;
use crate::model::{Entry, Reply, Visit, VisitStand};
use crate::plan::{self, Stand};
use crate::report::{facts, findings_words, trends, worked_out};
use crate::tui::app::{App, HiveView};
use crate::tui::keys::Place;
use crate::tui::widgets::{Page, Rows, draw_trend, page, stack_lines};

pub(crate) fn draw(screen: &CardScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let Some(view) = app.view(&screen.hive) else { return };
    let body = page(
        frame,
        theme,
        &Page {
            title: format!("Card of {} · {}", screen.hive, view.state.yard),
            hint: if screen.pictured {
                "The year up to today. Dots: limit or target; uprights: the doubt of a count.".to_owned()
            } else {
                "The newest entry stands first; Tab shows the boxes and the year's counts.".to_owned()
            },
            ..Page::at(app, Place::Card)
        },
    );
    if body.width >= WIDE {
        let [words, picture] =
            Layout::horizontal([Constraint::Percentage(55), Constraint::Percentage(45)]).areas(body);
        draw_words(screen, app, &view, frame, words);
        draw_picture(app, &view, frame, picture);
    } else if screen.pictured {
        draw_picture(app, &view, frame, body);
    } else {
        draw_words(screen, app, &view, frame, body);
    }
}

/// Lines of a chart with its words.
const CHART: u16 = 8;
/// Columns from which words and picture stand side by side.
const WIDE: u16 = 130;

/// The stack of boxes, and a chart of each thing that was counted.
pub(crate) fn draw_picture(app: &App, view: &HiveView, frame: &mut Frame<'_>, area: Rect) {
    let theme = &app.theme;
    let state = &view.state;
    let stack: Vec<String> = stack_lines(&state.boxes).into_iter().map(|(line, _)| line).collect();
    let trends = trends(state, &app.book.practice, app.book.units, app.today);
    let mut rows = Rows::new();
    rows.line(" BOXES", theme.key);
    for line in stack {
        rows.line(format!(" {line}"), theme.text);
    }
    let high = u16::try_from(rows.len()).unwrap_or(u16::MAX);
    // Under one another where it is high enough, else beside one another.
    let [left, right] = if area.height >= high + 8 * u16::try_from(trends.len().max(1)).unwrap_or(1) {
        Layout::vertical([Constraint::Length(high), Constraint::Min(0)]).areas(area)
    } else {
        Layout::horizontal([Constraint::Length(36), Constraint::Min(0)]).areas(area)
    };
    rows.draw(frame, left, theme.text);
    if trends.is_empty() {
        let mut none = Rows::new();
        none.text(
            "Nothing was counted in the year that a line could be drawn of.",
            usize::from(right.width),
            0,
            theme.muted,
        );
        none.draw(frame, right, theme.text);
        return;
    }
    // Where not all have the lines for a chart, the last have their words.
    let charts = usize::from(right.height / CHART);
    let each = |at: usize| if at < charts.max(1) { Constraint::Fill(1) } else { Constraint::Length(4) };
    let parts = Layout::vertical((0..trends.len()).map(each)).split(right);
    for (trend, part) in trends.iter().zip(parts.iter()) {
        draw_trend(trend, theme, app.today, frame, *part);
    }
}

fn draw_words(screen: &CardScreen, app: &App, view: &HiveView, frame: &mut Frame<'_>, body: Rect) {
    let theme = &app.theme;
    let width = usize::from(body.width).saturating_sub(2);
    let mut rows = Rows::new();
    rows.text(&facts::stack_and_queen(&view.state), width, 1, theme.text);
    rows.text(&facts::last(&view.state, app.book.units), width, 1, theme.text);
    rows.text(&facts::fittings(&view.state), width, 1, theme.text);
    for prompt in &view.advice.prompts {
        rows.spans(vec![
            Span::styled(format!(" {:<7}", prompt.urgency.word()), theme.urgency(prompt.urgency)),
            Span::styled(crate::tui::text::fit(&prompt.title, width.saturating_sub(20)), theme.text),
            Span::styled(format!("  by {}", prompt.due.latest.format("%-d %b")), theme.muted),
        ]);
    }
    if let Some(next) = &screen.next {
        let words = format!("next {}: {}. {}", next.on.format("%-d %b %Y"), next.title, next.why);
        rows.text(&words, width, 1, theme.muted);
    }
    if let Some(yard) = app.yard(&view.state.yard) {
        let (calendar, practice) = (app.calendar(yard), &app.book.practice);
        let worked = worked_out(&view.state, &calendar, practice, app.book.units, app.today);
        if !worked.is_empty() {
            rows.line(" WORKED OUT", theme.key);
        }
        for line in worked {
            rows.text(&line, width, 3, theme.text);
        }
    }
    if let Some(words) = dates_words(app, view) {
        rows.line(" AGAINST ITS DATES", theme.key);
        rows.text(&words, width, 3, theme.text);
    }
    for oddity in &view.state.oddities {
        rows.text(&format!("odd in the log: {oddity}"), width, 1, theme.caution);
    }
    rows.gap();
    rows.line(" HISTORY", theme.key);
    let entries = whole_history(&app.book, &screen.hive, app.today);
    if entries.is_empty() {
        rows.line("   no visit yet", theme.muted);
    }
    for (visit, entry, stand) in entries {
        draw_entry(&mut rows, app, (visit, entry, stand), width);
    }
    rows.draw_from(frame, body, theme.text, screen.scroll);
}

/// How the hive stands to its dates in sight; none where there are none.
fn dates_words(app: &App, view: &HiveView) -> Option<String> {
    let calendar = app.calendar(app.yard(&view.state.yard)?);
    let words: Vec<String> = plan::standing(&view.state, &calendar, &app.book.practice, app.today)
        .into_iter()
        .map(|s| {
            let days = (s.by - app.today).num_days();
            let stand = match s.stand {
                Stand::Met => "met".to_owned(),
                Stand::InHand => "in hand".to_owned(),
                Stand::Open => format!("not yet, {days} day{} left", if days == 1 { "" } else { "s" }),
                Stand::Late => format!("LATE since {}", s.by.format("%-d %b")),
            };
            format!("{} by {}: {stand}", s.what, s.by.format("%-d %b"))
        })
        .collect();
    (!words.is_empty()).then(|| words.join(" · "))
}

fn draw_entry(rows: &mut Rows, app: &App, (visit, entry, stand): (&Visit, &Entry, VisitStand), width: usize) {
    let theme = &app.theme;
    let units = app.book.units;
    let minutes = entry.minutes.map_or_else(String::new, |m| format!(", {m} min"));
    let stood = match stand.words() {
        "" => String::new(),
        words => format!(", {words}"),
    };
    let style = if stand.holds() { theme.key } else { theme.muted };
    rows.line(format!(" {}{minutes}{stood}", visit.on.format("%-d %b %Y")), style);
    let seen = findings_words(&entry.findings, units);
    if !seen.is_empty() {
        rows.text(&seen, width, 3, theme.text);
    }
    for action in &entry.actions {
        rows.text(&format!("did: {}", action.words(units)), width, 3, theme.done);
    }
    for answer in &entry.answers {
        if let Reply::PutOff { reason, until } = &answer.reply {
            let text =
                format!("put off to {}: {} ({reason})", until.format("%-d %b"), rule_name(&answer.rule));
            rows.text(&text, width, 3, theme.muted);
        }
    }
    if !entry.note.is_empty() {
        rows.text(&entry.note, width, 3, theme.muted);
    }
}
