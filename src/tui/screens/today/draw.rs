//! Drawing the day.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout};
use ratatui::text::Span;

use super::TodayScreen;
use crate::advice::Urgency;
use crate::colony::wash;
use crate::model::visible;
use crate::plan::{self, Stop};
use crate::report::facts;
use crate::tui::app::App;
use crate::tui::keys::Place;
use crate::tui::text::{fit, pad};
use crate::tui::widgets::{Page, Rows, aside, page};

/// Columns from which the chosen hive's prompts stand beside the queue.
const WIDE: u16 = 110;

pub(crate) fn draw(screen: &TodayScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let pretended = if app.read_only.is_some() {
        " READ-ONLY"
    } else if app.is_pretended {
        " (not the clock's day)"
    } else {
        ""
    };
    let body = page(
        frame,
        theme,
        &Page {
            title: format!("Today, {}{pretended}", app.today.format("%A %-d %B %Y")),
            aside: aside(app, &fit(&visible(&app.book.keeper), 30)),
            place: Place::Today,
            keys: &app.look.keys,
            taps: Some(&app.taps),
            message: app.message.as_ref(),
            hint: hint(screen, app),
        },
    );
    let [head, rest] = Layout::vertical([Constraint::Length(4), Constraint::Min(1)]).areas(body);
    draw_head(screen, app, frame, head);
    let Some(plan) = screen.plan(app) else {
        let mut rows = Rows::new();
        rows.line(
            " This book has no yard yet. Quit, and describe one in yard.ron as the README shows.",
            theme.text,
        );
        rows.draw(frame, rest, theme.text);
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
        row(&mut rows, app, stop, at == screen.row, width, wide);
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
            row(&mut rows, app, stop, at == screen.row, width, wide);
            rows.target(from, at);
        }
    }
    rows.draw_tapped(app, frame, list);
    if wide && let Some(stop) = plan.queue.iter().chain(&plan.rest).nth(screen.row) {
        draw_beside(app, stop, frame, beside);
    }
}

fn hint(screen: &TodayScreen, app: &App) -> String {
    let lone = app.plan.yards.len() < 2;
    match (&app.walk, screen.plan(app)) {
        (Some(walk), Some(plan)) if walk.visit.yard == plan.yard => {
            "The visit is open and safe on the disk. Enter goes to the hive; s wraps up.".to_owned()
        }
        _ if lone => "Enter walks the yard from the hive chosen.".to_owned(),
        _ => "Left and Right change the yard; Enter walks it from the hive chosen.".to_owned(),
    }
}

fn draw_head(screen: &TodayScreen, app: &App, frame: &mut Frame<'_>, area: ratatui::layout::Rect) {
    let theme = &app.theme;
    let mut rows = Rows::new();
    let mut spans = vec![Span::styled(" Yard ", theme.muted)];
    for (at, yard) in app.plan.yards.iter().enumerate() {
        let name = fit(yard.yard.as_str(), 24);
        if at == screen.yard {
            spans.push(Span::styled(format!("[{name}]"), theme.focus));
        } else {
            spans.push(Span::styled(format!(" {name} "), theme.text));
        }
        spans.push(Span::styled(format!(" {}  ", yard.queue.len()), theme.muted));
    }
    rows.spans(spans);
    if let Some(plan) = screen.plan(app)
        && let Some(yard) = app.yard(&plan.yard)
    {
        let phase = app.calendar(yard).phase(app.today).word();
        let (done, left) = app.progress(plan);
        let line = format!(
            " {phase} · {} of {} hives due · {done} done · {left} min left{}",
            plan.queue.len(),
            plan.queue.len() + plan.rest.len(),
            fit_words(app, plan, yard)
        );
        rows.line(fit(&line, usize::from(area.width).saturating_sub(1)), theme.text);
    }
    if let Some(words) = screen.plan(app).and_then(|plan| mites_of(app, plan)) {
        rows.line(format!(" {}", fit(&words, usize::from(area.width).saturating_sub(2))), theme.muted);
    }
    if let Some(words) = screen.plan(app).and_then(|plan| next_deadline(app, plan)) {
        rows.line(format!(" {}", fit(&words, usize::from(area.width).saturating_sub(2))), theme.muted);
    }
    rows.draw(frame, area, theme.text);
}

/// When the day's work begins and ends, and what to leave out where the hours are too short.
fn fit_words(app: &App, plan: &crate::plan::YardPlan, yard: &crate::model::Yard) -> String {
    let open: Vec<Stop> = plan
        .queue
        .iter()
        .filter(|s| !app.walk.as_ref().is_some_and(|w| w.finished.contains(&s.hive)))
        .cloned()
        .collect();
    if open.is_empty() {
        return String::new();
    }
    let hours = plan::hours(&app.book.practice, yard, app.today, app.offset);
    let fit = plan::fit(&open, hours, app.earliest());
    if fit.fits {
        return format!(" · {} to {}", fit.start.format("%H:%M"), fit.finish.format("%H:%M"));
    }
    let end = if hours.is_dusk { "dusk" } else { "warm" };
    let names: Vec<&str> = fit.leave_out.iter().map(crate::model::HiveId::as_str).collect();
    format!(" · TOO LONG: {end} to {}, leave {}", hours.to.format("%H:%M"), names.join(" "))
}

/// The next date that not every hive of the yard meets.
fn next_deadline(app: &App, plan: &crate::plan::YardPlan) -> Option<String> {
    let yard = app.yard(&plan.yard)?;
    let stands: Vec<_> = yard.hives.iter().filter_map(|h| app.folded.hive(&h.id)).collect();
    let calendar = app.calendar(yard);
    let open = plan::deadlines(&stands, &calendar, &app.book.practice, app.today)
        .into_iter()
        .find(|d| d.met + d.in_hand < d.of)?;
    let days = (open.by - app.today).num_days();
    let when = match days {
        0 => "today".to_owned(),
        1 => "1 day".to_owned(),
        2.. => format!("{days} days"),
        _ => format!("{} days ago", -days),
    };
    Some(format!("by {} ({when}) {}: {}", open.by.format("%-d %b"), open.what, open.words(app.today)))
}

/// What the washes of the last month say of the yard.
fn mites_of(app: &App, plan: &crate::plan::YardPlan) -> Option<String> {
    let states: Vec<_> =
        plan.queue.iter().chain(&plan.rest).filter_map(|s| app.folded.hive(&s.hive)).collect();
    let living = states.iter().filter(|s| s.is_alive()).count();
    let counts: Vec<_> = states
        .iter()
        .filter_map(|s| s.last_wash().filter(|w| (0..=40).contains(&(app.today - w.on).num_days())).copied())
        .collect();
    let limit = app.book.practice.mite_limit();
    let reading = wash::yard(&counts, living, limit)?;
    let enough = if reading.is_enough { "" } else { "; wash more to speak for the yard" };
    Some(format!(
        "mites in 40 days: {} of {living} hives, mean {:.1} % ({:.1} to {:.1}), {} over {limit} %{enough}",
        reading.washed, reading.mean, reading.range.low, reading.range.high, reading.above
    ))
}

/// One hive: tick, name, minutes and its prompts, the most pressing first.
fn row(rows: &mut Rows, app: &App, stop: &Stop, chosen: bool, width: usize, wide: bool) {
    let theme = &app.theme;
    let from = rows.len();
    let done = app.walk.as_ref().is_some_and(|w| w.finished.contains(&stop.hive));
    let seen = app.walk.as_ref().is_some_and(|w| !w.entry(&stop.hive).is_blank());
    let tick = if done {
        "[x]"
    } else if seen {
        "[-]"
    } else {
        "[ ]"
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
                Span::styled(format!("  by {}", prompt.due.latest.format("%-d %b")), theme.muted),
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

fn draw_beside(app: &App, stop: &Stop, frame: &mut Frame<'_>, area: ratatui::layout::Rect) {
    let theme = &app.theme;
    let width = usize::from(area.width).saturating_sub(3);
    let mut rows = Rows::new();
    rows.heading(&format!("  {}", stop.hive), width, theme.key);
    if let Some(state) = app.folded.hive(&stop.hive) {
        rows.text(&facts::stack_and_queen(state), width, 2, theme.text);
        rows.text(&facts::last(state, app.book.units), width, 2, theme.muted);
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
        rows.line(format!("         by {}", prompt.due.latest.format("%-d %b")), theme.muted);
        rows.text(&prompt.why, width, 9, theme.muted);
    }
    for held in &stop.advice.held {
        rows.gap();
        rows.text(&format!("waits: {} ({})", held.prompt.title, held.because), width, 2, theme.muted);
    }
    rows.draw(frame, area, theme.text);
}
