//! Drawing a hive's card.

use ratatui::Frame;
use ratatui::text::Span;

use super::CardScreen;
use crate::advice::rule_name;
use crate::model::fold::whole_history;
use crate::model::{Entry, Reply, Visit, VisitStand};
use crate::plan::{self, Stand};
use crate::report::{facts, findings_words, worked_out};
use crate::tui::app::{App, HiveView};
use crate::tui::keys::Place;
use crate::tui::widgets::{Page, Rows, page};

pub(crate) fn draw(screen: &CardScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let Some(view) = app.view(&screen.hive) else { return };
    let body = page(
        frame,
        theme,
        &Page {
            title: format!("Card of {} · {}", screen.hive, view.state.yard),
            hint: "The newest entry stands first.".to_owned(),
            ..Page::at(app, Place::Card)
        },
    );
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
    if let Some(words) = dates_words(app, &view) {
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
