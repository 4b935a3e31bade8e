//! Drawing the day.

use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Span;
use unicode_width::UnicodeWidthStr as _;

use super::TodayScreen;
use crate::advice::Urgency;
use crate::model::{HiveState, visible};
use crate::plan::Stop;
use crate::report::facts;
use crate::session::Session;
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::text::{fit, fit_whole, pad, wrap};
use crate::tui::theme::Theme;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, aside, bar, page};
use crate::wording;

/// Columns from which the chosen hive's prompts stand beside the queue.
const WIDE: u16 = 110;
/// Lines below them from which its boxes and counts are drawn there.
const PICTURED: u16 = 12;

pub(super) fn draw(screen: &TodayScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let pretended = if session.read_only().is_some() {
        " READ-ONLY"
    } else if session.is_pretended() && session.rehearsal().is_none() {
        " (day set by you)"
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
            first: keys_now(screen, session),
            is_rehearsed: session.rehearsal().is_some(),
        },
    );
    let lines = head_lines(screen, usize::from(body.width).saturating_sub(2));
    // The yards, the day's bars and the words, with a line of air where there is room.
    let air = usize::from(body.height >= 30);
    let tall = u16::try_from(lines.len() + 2 + air).unwrap_or(2).max(3);
    let [head, rest] = Layout::vertical([Constraint::Length(tall), Constraint::Min(1)]).areas(body);
    draw_head(screen, session, &lines, canvas, head);
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
    if !screen.search.text.is_empty() || screen.search.is_typed {
        rows.line(format!(" search: {}", screen.search.text), theme.heading);
    }
    if let Some(without) = session.without() {
        let key = canvas.keys.name_of(ScreenId::Today, Command::LeftOut);
        rows.text(
            &format!("{without} {key} says why, and what to do."),
            width.saturating_sub(2),
            1,
            theme.caution,
        );
    }
    if plan.queue.is_empty() {
        rows.line(" Nothing is due in this yard today.", theme.done);
    }
    // The column of what is late is there for every hive or for none.
    let stops = screen.stops(session);
    let any_late = stops.iter().any(|stop| is_late(stop, session));
    let mut group = "";
    for (at, stop) in stops.iter().copied().enumerate() {
        let is_due = plan.queue.iter().any(|due| due.hive == stop.hive);
        let is_alive = session.folded().hive(&stop.hive).is_none_or(HiveState::is_alive);
        let its = match (is_due, is_alive) {
            (true, _) => "",
            (false, true) => " Need nothing today",
            (false, false) => " Dead",
        };
        if its != group {
            group = its;
            rows.gap();
            rows.group(its, width.saturating_sub(2), theme);
        }
        let from = rows.len();
        row(&mut rows, session, theme, stop, at == screen.row, (width, wide, any_late));
        rows.target(from, at);
    }
    rows.draw_tapped(canvas, list);
    if wide && let Some(stop) = stops.get(screen.row) {
        let used = draw_beside(session, stop, canvas, beside);
        let left = beside.height.saturating_sub(used + 1);
        if left >= PICTURED
            && let Some(picture) = screen.picture(session)
        {
            let below = Rect { y: beside.bottom() - left, height: left, x: beside.x + 1, ..beside };
            picture.draw(canvas, Rect { width: beside.width - 1, ..below });
        }
    }
}

fn hint(screen: &TodayScreen, session: &Session) -> String {
    let lone = session.yards_of_day().len() < 2;
    match (session.visit(), screen.plan(session)) {
        (Some(walk), Some(plan)) if walk.visit.yard == plan.yard => {
            "The visit is open and safe on the disk. Enter goes to the hive; s wraps up.".to_owned()
        }
        _ if lone => "Enter walks the yard from the chosen hive.".to_owned(),
        _ => "Left and Right change the yard; Enter walks it from the chosen hive.".to_owned(),
    }
}

/// The keys of the moment.
fn keys_now(screen: &TodayScreen, session: &Session) -> &'static [Command] {
    let is_open = session.visit().is_some();
    if session.rehearsal().is_some() && !is_open {
        return &[Command::Rehearsal, Command::Walk, Command::Load];
    }
    match (is_open, screen.plan(session).is_some_and(|plan| plan.queue.is_empty())) {
        (true, _) => &[Command::Walk, Command::WrapUp, Command::Filter],
        (false, true) => &[Command::Weeks, Command::Season, Command::Right, Command::Walk],
        (false, false) => &[Command::Walk, Command::Load],
    }
}

/// What stands over the hives, in lines of a width.
fn head_lines(screen: &TodayScreen, width: usize) -> Vec<(String, bool)> {
    let day = screen.head.day.iter().map(|words| (words, true));
    let more = [&screen.head.mites, &screen.head.deadline].into_iter().flatten().map(|words| (words, false));
    let wrapped = |(words, is_day): (&String, bool)| {
        wrap(words, width).into_iter().map(move |line| (line, is_day)).collect::<Vec<_>>()
    };
    day.chain(more).flat_map(wrapped).collect()
}

/// Columns of a yard's name with what stands about it.
const YARD: usize = 24;

fn draw_head(
    screen: &TodayScreen,
    session: &Session,
    lines: &[(String, bool)],
    canvas: &mut Canvas<'_, '_>,
    area: Rect,
) {
    let theme = canvas.theme;
    let mut rows = Rows::new();
    let mut spans = vec![Span::styled(" Yard ", theme.muted)];
    let names: Vec<String> = session.yards_of_day().map(|yard| fit(yard.as_str(), YARD)).collect();
    // What is not in sight is not planned for it.
    let due = |at: usize| session.yard_plan_at(at).map_or(0, |plan| plan.queue.len());
    let wide = |at: usize| -> usize {
        let due = due(at);
        names.get(at).map_or(0, |name| name.width()) + due.to_string().len() + 5
    };
    // The chosen yard is always on the screen: those before it give way.
    let room = usize::from(area.width).saturating_sub(16);
    let (mut first, mut taken) = (screen.yard, wide(screen.yard));
    while let Some(before) = first.checked_sub(1) {
        taken += wide(before);
        if taken > room {
            break;
        }
        first = before;
    }
    if first > 0 {
        spans.push(Span::styled("< ", theme.muted));
    }
    let mut used = 0;
    for (at, name) in names.iter().enumerate().skip(first) {
        used += wide(at);
        if used > room && at > screen.yard {
            spans.push(Span::styled(format!("> {} yards", names.len()), theme.muted));
            break;
        }
        if at == screen.yard {
            spans.push(Span::styled(format!("[{name}]"), theme.focus));
        } else {
            spans.push(Span::styled(format!(" {name} "), theme.text));
        }
        spans.push(Span::styled(format!(" {}  ", due(at)), theme.muted));
    }
    rows.spans(spans);
    for (line, is_day) in lines {
        rows.line(format!(" {line}"), if *is_day { theme.text } else { theme.muted });
        if *is_day && !lines.iter().skip_while(|(l, _)| l != line).skip(1).any(|(_, day)| *day) {
            rows.spans(bars(screen, theme));
        }
    }
    rows.draw(canvas, area);
}

/// Columns of the bar of what is done, and of the day's.
const DONE_BAR: usize = 12;
const DAY_BAR: usize = 24;

/// How much is done, and where in the day's light the work lies.
fn bars(screen: &TodayScreen, theme: &Theme) -> Vec<Span<'static>> {
    let (done, due) = screen.head.done;
    let mut spans = Vec::new();
    if due > 0 {
        spans.push(Span::styled(" done ", theme.muted));
        spans.extend(bar(done as f64 / due as f64, DONE_BAR, theme.done, theme));
        spans.push(Span::styled(format!(" {done} of {due}  "), theme.text));
    }
    let Some(light) = &screen.head.light else { return spans };
    spans.push(Span::styled(" day ", theme.muted));
    for column in 0..DAY_BAR {
        let hour = (column as f64 + 0.5) * 24.0 / DAY_BAR as f64;
        let within = |(from, to): (f64, f64)| (from..to).contains(&hour);
        // A short visit still shows: it has the column it begins in.
        let is_planned = light.planned.is_some_and(|(from, to)| {
            within((from, to))
                || (column as f64..column as f64 + 1.0).contains(&(from * DAY_BAR as f64 / 24.0))
        });
        let (sign, style) = if is_planned {
            ("█", theme.heading)
        } else if within(light.worked) {
            ("▒", theme.muted)
        } else if within(light.sun) {
            ("░", theme.muted)
        } else {
            ("─", theme.rule)
        };
        spans.push(Span::styled(sign, style));
    }
    spans.push(Span::styled(format!(" {}", light.words), theme.muted));
    spans
}

/// Whether anything a hive needs is past its last day.
fn is_late(stop: &Stop, session: &Session) -> bool {
    stop.advice.prompts.iter().any(|prompt| prompt.is_late(session.today()))
}

/// One hive: tick, name, minutes and its prompts, the most pressing first.
fn row(
    rows: &mut Rows,
    session: &Session,
    theme: &Theme,
    stop: &Stop,
    chosen: bool,
    (width, wide, any_late): (usize, bool, bool),
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
    let late = match (is_late(stop, session), any_late) {
        (true, _) => "LATE ",
        (false, true) => "     ",
        (false, false) => "",
    };
    let room = width.saturating_sub(lead.width() + 8 + late.len());
    let (lead_style, text_style) = if chosen { (theme.focus, theme.focus) } else { (theme.text, theme.text) };
    let title = fit_whole(&titles, room);
    rows.spans(vec![
        Span::styled(lead, lead_style),
        Span::styled(pad(word, 7), if chosen { theme.focus } else { theme.urgency(urgency) }),
        Span::styled(late, if chosen { theme.focus } else { theme.must }),
        Span::styled(if chosen { pad(&title, room + 1) } else { title }, text_style),
    ]);
    if chosen && !wide {
        for prompt in &stop.advice.prompts {
            let mut lines =
                wrap(&prompt.by_when(session.today(), units), width.saturating_sub(15)).into_iter();
            rows.spans(vec![
                Span::styled(format!("      {:<7}", prompt.urgency.word()), theme.urgency(prompt.urgency)),
                Span::styled(lines.next().unwrap_or_default(), theme.text),
            ]);
            for line in lines {
                rows.line(format!("             {line}"), theme.text);
            }
        }
        if let Some(prompt) = stop.advice.prompts.first() {
            rows.text(&prompt.why, width.saturating_sub(2), 13, theme.muted);
        }
        if !stop.reason.is_empty() {
            rows.text(&format!("order: {}", stop.reason), width.saturating_sub(2), 6, theme.muted);
        }
        for held in stop.advice.held.iter().take(2) {
            let words = format!("waits: {} ({})", held.prompt.title, held.because);
            rows.text(&words, width.saturating_sub(2), 6, theme.muted);
        }
    }
    if chosen {
        rows.focus_from(from);
    }
}

/// Draws what the chosen hive needs; gives the lines it took.
fn draw_beside(session: &Session, stop: &Stop, canvas: &mut Canvas<'_, '_>, area: Rect) -> u16 {
    let (theme, units) = (canvas.theme, session.book().units);
    let width = usize::from(area.width).saturating_sub(3);
    let mut rows = Rows::new();
    rows.group(&format!("  {}", stop.hive), width, theme);
    if let Some(state) = session.folded().hive(&stop.hive) {
        rows.text(&facts::stack_and_queen(state, units), width, 2, theme.text);
        rows.text(&facts::last(state, units), width, 2, theme.muted);
    }
    if !stop.reason.is_empty() {
        rows.text(&format!("order: {}", stop.reason), width, 2, theme.muted);
    }
    for prompt in &stop.advice.prompts {
        let mut titles = wrap(&prompt.title, width.saturating_sub(9)).into_iter();
        rows.gap();
        rows.spans(vec![
            Span::styled(format!("  {:<7}", prompt.urgency.word()), theme.urgency(prompt.urgency)),
            Span::styled(titles.next().unwrap_or_default(), theme.text),
        ]);
        for line in titles {
            rows.line(format!("         {line}"), theme.text);
        }
        let by = if prompt.is_late(session.today()) { theme.must } else { theme.muted };
        rows.line(format!("         {}", prompt.by(session.today(), units)), by);
        rows.text(&prompt.why, width, 9, theme.muted);
    }
    for held in &stop.advice.held {
        rows.gap();
        rows.text(&format!("waits: {} ({})", held.prompt.title, held.because), width, 2, theme.muted);
    }
    let used = u16::try_from(rows.len()).unwrap_or(u16::MAX).min(area.height);
    rows.draw(canvas, area);
    used
}
