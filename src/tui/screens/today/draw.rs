//! Drawing the day.

use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Span;

use super::TodayScreen;
use crate::advice::Urgency;
use crate::model::visible;
use crate::plan::Stop;
use crate::report::facts;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::text::{fit, pad};
use crate::tui::theme::Theme;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, aside, page};
use crate::wording;

/// Columns from which the chosen hive's prompts stand beside the queue.
const WIDE: u16 = 110;

pub(super) fn draw(screen: &TodayScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let pretended = if session.read_only().is_some() {
        " READ-ONLY"
    } else if session.is_pretended() {
        " (not the clock's day)"
    } else {
        ""
    };
    let body = page(
        canvas,
        &Page {
            title: format!("Today, {}{pretended}", wording::whole_day(session.book().units, session.today())),
            aside: aside(session, &fit(&visible(&session.book().keeper), 30)),
            screen: ScreenId::Today,
            hint: hint(screen, session),
        },
    );
    let [head, rest] = Layout::vertical([Constraint::Length(4), Constraint::Min(1)]).areas(body);
    draw_head(screen, session, canvas, head);
    let Some(plan) = screen.plan(session) else {
        let mut rows = Rows::new();
        rows.line(" This book has no yard yet: h, then A sets one up.", theme.text);
        rows.draw(canvas, rest);
        return;
    };
    let wide = rest.width >= WIDE;
    let [list, beside] = if wide {
        Layout::horizontal([Constraint::Percentage(55), Constraint::Percentage(45)]).areas(rest)
    } else {
        Layout::horizontal([Constraint::Percentage(100), Constraint::Length(0)]).areas(rest)
    };
    let mut rows = Rows::new();
    let width = usize::from(list.width);
    for (at, stop) in plan.queue.iter().enumerate() {
        let from = rows.len();
        row(&mut rows, session, theme, stop, at == screen.row, (width, wide));
        rows.target(from, at);
    }
    if plan.queue.is_empty() {
        rows.line(" Nothing is due in this yard today.", theme.done);
    }
    if !plan.rest.is_empty() {
        rows.gap();
        rows.line(" Need nothing today", theme.muted);
        for (at, stop) in plan.rest.iter().enumerate() {
            let (from, at) = (rows.len(), plan.queue.len() + at);
            row(&mut rows, session, theme, stop, at == screen.row, (width, wide));
            rows.target(from, at);
        }
    }
    rows.draw_tapped(canvas, list);
    if wide && let Some(stop) = plan.queue.iter().chain(&plan.rest).nth(screen.row) {
        draw_beside(session, stop, canvas, beside);
    }
}

fn hint(screen: &TodayScreen, session: &Session) -> String {
    let lone = session.plan().yards.len() < 2;
    match (session.visit(), screen.plan(session)) {
        (Some(walk), Some(plan)) if walk.visit.yard == plan.yard => {
            "The visit is open and safe on the disk. Enter goes to the hive; s wraps up.".to_owned()
        }
        _ if lone => "Enter walks the yard from the chosen hive.".to_owned(),
        _ => "Left and Right change the yard; Enter walks it from the chosen hive.".to_owned(),
    }
}

fn draw_head(screen: &TodayScreen, session: &Session, canvas: &mut Canvas<'_, '_>, area: Rect) {
    let theme = canvas.theme;
    let mut rows = Rows::new();
    let mut spans = vec![Span::styled(" Yard ", theme.muted)];
    for (at, yard) in session.plan().yards.iter().enumerate() {
        let name = fit(yard.yard.as_str(), 24);
        if at == screen.yard {
            spans.push(Span::styled(format!("[{name}]"), theme.focus));
        } else {
            spans.push(Span::styled(format!(" {name} "), theme.text));
        }
        spans.push(Span::styled(format!(" {}  ", yard.queue.len()), theme.muted));
    }
    rows.spans(spans);
    let width = usize::from(area.width);
    if let Some(words) = &screen.head.day {
        rows.line(format!(" {}", fit(words, width.saturating_sub(2))), theme.text);
    }
    for words in [&screen.head.mites, &screen.head.deadline].into_iter().flatten() {
        rows.line(format!(" {}", fit(words, width.saturating_sub(2))), theme.muted);
    }
    rows.draw(canvas, area);
}

/// One hive: tick, name, minutes and its prompts, the most pressing first.
fn row(
    rows: &mut Rows,
    session: &Session,
    theme: &Theme,
    stop: &Stop,
    chosen: bool,
    (width, wide): (usize, bool),
) {
    let units = session.book().units;
    let from = rows.len();
    let done = session.visit().is_some_and(|w| w.finished.contains(&stop.hive));
    let seen = session.visit().is_some_and(|w| !w.entry(&stop.hive).is_blank());
    let tick = match (done, seen) {
        (true, true) => "[x]",
        // Gone past with nothing written down: not done.
        (true, false) => "[>]",
        (false, true) => "[-]",
        (false, false) => "[ ]",
    };
    let first = stop.advice.prompts.first();
    let urgency = first.map_or(Urgency::May, |p| p.urgency);
    let titles: Vec<&str> = stop.advice.prompts.iter().map(|p| p.title.as_str()).collect();
    let minutes = if stop.minutes == 0 { String::new() } else { format!("{} min", stop.minutes) };
    let mark = if chosen { ">" } else { " " };
    let name = pad(stop.hive.as_str(), 8);
    let lead = format!("{mark}{tick} {name} {minutes:>6}  ");
    let word = first.map_or("", |_| urgency.word());
    let room = width.saturating_sub(lead.len() + 8);
    let (lead_style, text_style) = if chosen { (theme.focus, theme.focus) } else { (theme.text, theme.text) };
    let title = fit(&titles.join("; "), room);
    rows.spans(vec![
        Span::styled(lead, lead_style),
        Span::styled(pad(word, 7), if chosen { theme.focus } else { theme.urgency(urgency) }),
        Span::styled(if chosen { pad(&title, room + 1) } else { title }, text_style),
    ]);
    if chosen && !wide {
        for prompt in stop.advice.prompts.iter().take(5) {
            rows.spans(vec![
                Span::styled(format!("      {:<7}", prompt.urgency.word()), theme.urgency(prompt.urgency)),
                Span::styled(fit(&prompt.title, width.saturating_sub(32)), theme.text),
                Span::styled(format!("  by {}", wording::day(units, prompt.due.latest)), theme.muted),
            ]);
        }
        if let Some(prompt) = stop.advice.prompts.first() {
            rows.text(&prompt.why, width.saturating_sub(2), 13, theme.muted);
        }
        if !stop.reason.is_empty() {
            rows.text(&format!("place  {}", stop.reason), width.saturating_sub(2), 6, theme.muted);
        }
        for held in stop.advice.held.iter().take(2) {
            rows.line(
                format!(
                    "      waits  {}",
                    fit(&format!("{} ({})", held.prompt.title, held.because), width.saturating_sub(14))
                ),
                theme.muted,
            );
        }
    }
    if chosen {
        rows.focus_from(from);
    }
}

fn draw_beside(session: &Session, stop: &Stop, canvas: &mut Canvas<'_, '_>, area: Rect) {
    let (theme, units) = (canvas.theme, session.book().units);
    let width = usize::from(area.width).saturating_sub(3);
    let mut rows = Rows::new();
    rows.heading(&format!("  {}", stop.hive), width, theme.key);
    if let Some(state) = session.folded().hive(&stop.hive) {
        rows.text(&facts::stack_and_queen(state, units), width, 2, theme.text);
        rows.text(&facts::last(state, units), width, 2, theme.muted);
    }
    if !stop.reason.is_empty() {
        rows.text(&format!("place in the queue: {}", stop.reason), width, 2, theme.muted);
    }
    for prompt in &stop.advice.prompts {
        rows.gap();
        rows.spans(vec![
            Span::styled(format!("  {:<7}", prompt.urgency.word()), theme.urgency(prompt.urgency)),
            Span::styled(fit(&prompt.title, width.saturating_sub(9)), theme.text),
        ]);
        rows.line(format!("         by {}", wording::day(units, prompt.due.latest)), theme.muted);
        rows.text(&prompt.why, width, 9, theme.muted);
    }
    for held in &stop.advice.held {
        rows.gap();
        rows.text(&format!("waits: {} ({})", held.prompt.title, held.because), width, 2, theme.muted);
    }
    rows.draw(canvas, area);
}
