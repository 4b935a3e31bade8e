//! Drawing a hive's card.

use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Span;

use super::{CardPage, CardScreen, Past, Seen};
use crate::report::facts;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::text::wrap;
use crate::tui::theme::Theme;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page, what_if_rows};
use crate::wording;

/// Columns from which words and picture stand side by side.
const WIDE: u16 = 130;

pub(super) fn draw(screen: &CardScreen, seen: &Seen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let body = page(
        canvas,
        &Page {
            title: format!("Card of {} · {}", screen.hive, seen.view.state.yard),
            hint: match screen.page {
                CardPage::Words => "The newest entry comes first. Tab: what if.",
                CardPage::WhatIf => "What would come of each choice by its log. Tab: boxes and counts.",
                CardPage::Picture => {
                    "● counted, │ its doubt, dashes: limit or target; shaded: expected; T treated, F fed."
                }
            }
            .to_owned(),
            ..Page::at(session, ScreenId::Card)
        },
    );
    if body.width >= WIDE {
        let [words, picture] =
            Layout::horizontal([Constraint::Percentage(55), Constraint::Percentage(45)]).areas(body);
        if screen.page == CardPage::WhatIf {
            draw_what_if(screen, seen, canvas, words);
        } else {
            draw_words(screen, seen, session, canvas, words);
        }
        seen.picture.draw(canvas, picture);
        return;
    }
    match screen.page {
        CardPage::Words => draw_words(screen, seen, session, canvas, body),
        CardPage::WhatIf => draw_what_if(screen, seen, canvas, body),
        CardPage::Picture => seen.picture.draw(canvas, body),
    }
}

fn draw_words(screen: &CardScreen, seen: &Seen, session: &Session, canvas: &mut Canvas<'_, '_>, body: Rect) {
    let theme = canvas.theme;
    let units = session.book().units;
    let state = &seen.view.state;
    let width = usize::from(body.width).saturating_sub(2);
    let mut rows = Rows::new();
    rows.text(&facts::stack_and_queen(state, units), width, 1, theme.text);
    rows.text(&facts::last(state, units), width, 1, theme.text);
    rows.text(&facts::fittings(state, seen.today, units), width, 1, theme.text);
    for prompt in &seen.view.advice.prompts {
        let mut lines = wrap(&prompt.by_when(seen.today, units), width.saturating_sub(8)).into_iter();
        rows.spans(vec![
            Span::styled(format!(" {:<7}", prompt.urgency.word()), theme.urgency(prompt.urgency)),
            Span::styled(lines.next().unwrap_or_default(), theme.text),
        ]);
        for line in lines {
            rows.line(format!("        {line}"), theme.text);
        }
    }
    if let Some(next) = &seen.next {
        let words = format!("next {}: {}. {}", wording::day_and_year(units, next.on), next.title, next.why);
        rows.text(&words, width, 1, theme.muted);
    }
    if let Some(without) = session.without() {
        rows.text(&without, width, 1, theme.caution);
    }
    if !seen.worked_out.is_empty() {
        rows.group(" WORKED OUT", width, theme);
    }
    for line in &seen.worked_out {
        rows.text(line, width, 3, theme.text);
    }
    if let Some(words) = &seen.dates {
        rows.group(" AGAINST ITS DATES", width, theme);
        rows.text(words, width, 3, theme.text);
    }
    for oddity in &state.oddities {
        rows.text(&format!("odd in the log: {oddity}"), width, 1, theme.caution);
    }
    rows.gap();
    rows.group(" HISTORY", width, theme);
    if seen.history.is_empty() {
        rows.line("   no visit yet", theme.muted);
    }
    for past in &seen.history {
        draw_past(&mut rows, theme, past, width);
    }
    rows.draw_scrolled(canvas, body, &screen.scroll);
}

fn draw_what_if(screen: &CardScreen, seen: &Seen, canvas: &mut Canvas<'_, '_>, body: Rect) {
    let theme = canvas.theme;
    let width = usize::from(body.width).saturating_sub(2);
    let mut rows = Rows::new();
    for what_if in &seen.what_if {
        rows.line(format!(" {}", what_if.topic.title()), theme.heading);
        what_if_rows(&mut rows, what_if, width, theme);
        rows.gap();
    }
    if seen.what_if.is_empty() {
        rows.text(
            "Nothing is compared here now: in winter, and where no one has looked or counted.",
            width,
            1,
            theme.text,
        );
    }
    rows.draw_scrolled(canvas, body, &screen.scroll);
}

fn draw_past(rows: &mut Rows, theme: &Theme, past: &Past, width: usize) {
    rows.line(format!(" {}", past.head), if past.holds { theme.heading } else { theme.muted });
    if !past.seen.is_empty() {
        rows.text(&past.seen, width, 3, theme.text);
    }
    for did in &past.did {
        rows.text(&format!("did: {did}"), width, 3, theme.done);
    }
    for put_off in &past.put_off {
        rows.text(put_off, width, 3, theme.muted);
    }
    if !past.note.is_empty() {
        rows.text(&past.note, width, 3, theme.muted);
    }
}
