//! Drawing the hive's screen: fields left, prompts right, in a narrow terminal too.

use chrono::NaiveDate;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Span;
use unicode_width::UnicodeWidthStr;

use super::{Focus, HiveScreen, Seen};
use crate::advice::{Prompt, rule_name};
use crate::model::{Finding, Reply, Units, visible};
use crate::report::facts;
use crate::session::{HiveView, Session, typing};
use crate::tui::command::Command;
use crate::tui::keymap::Keymap;
use crate::tui::keys::ScreenId;
use crate::tui::text::{fit, pad};
use crate::tui::theme::Theme;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, aside, page};
use crate::wording;

/// Columns of the fields.
const FIELDS: u16 = 36;
/// Columns of what was found last time, beside them.
const LAST: u16 = 16;
/// Columns from which it stands there.
const LAST_FROM: u16 = 94;
/// Columns between two parts.
const GUTTER: u16 = 2;
/// Lines from which every prompt says why, not only the one in hand.
const ROOMY: u16 = 26;
/// Columns from which boxes and charts stand beside the fields and prompts.
const PICTURED_FROM: u16 = 150;
/// Lines from which they stand below, and how many they then have.
const HIGH: u16 = 44;
/// Lines of the picture below.
const PICTURE: u16 = 18;
/// Longest line that is read with ease.
const READABLE: usize = 76;
/// Columns of a field's label, with its mark.
const LABEL: usize = 21;

pub(super) fn draw(screen: &HiveScreen, seen: &Seen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let units = session.book().units;
    let body = page(
        canvas,
        &Page {
            title: format!("{} · {}", screen.hive, seen.view.state.yard),
            aside: aside(session, &seen.progress),
            screen: ScreenId::Hive,
            hint: hint(screen, seen, session, canvas.keys),
            first: keys_now(screen),
            is_rehearsed: session.rehearsal().is_some(),
        },
    );
    let [who, rest] = Layout::vertical([Constraint::Length(4), Constraint::Min(1)]).areas(body);
    draw_who(seen, units, canvas, who);
    let [rest, picture] = if rest.width >= PICTURED_FROM {
        Layout::horizontal([Constraint::Min(92), Constraint::Percentage(38)]).areas(rest)
    } else if rest.height >= HIGH {
        Layout::vertical([Constraint::Min(20), Constraint::Length(PICTURE)]).areas(rest)
    } else {
        Layout::vertical([Constraint::Min(1), Constraint::Length(0)]).areas(rest)
    };
    if picture.height > 0 {
        seen.picture.draw(canvas, picture);
    }
    let last = if rest.width >= LAST_FROM { LAST } else { 0 };
    let [left, _, right] = Layout::horizontal([
        Constraint::Length(FIELDS + last),
        Constraint::Length(GUTTER),
        Constraint::Min(20),
    ])
    .areas(rest);
    draw_fields(screen, seen, units, canvas, left);
    draw_prompts(screen, seen, units, canvas, right);
}

fn hint(screen: &HiveScreen, seen: &Seen, session: &Session, keys: &Keymap) -> String {
    let units = session.book().units;
    let key = |command| keys.name_of(ScreenId::Hive, command);
    match screen.focus {
        Focus::Field(finding) => {
            let last = last_text(seen, units, finding).map_or_else(String::new, |l| format!("  Last: {l}."));
            let is_open = seen.view.entry.findings.get(finding).is_none() && screen.text.is_empty();
            if session.rehearsal().is_some() && is_open {
                return format!("Enter looks, and the bees answer. {}{last}", finding.help());
            }
            format!("{}  ({}){last}", finding.help(), typing::keys_of(finding.kind(), units))
        }
        Focus::Prompt(_) => match screen.prompt() {
            Some(p) if p.offers.len() > 1 => {
                let offers: Vec<String> =
                    p.offers.iter().enumerate().map(|(at, o)| format!("{} {}", at + 1, o.label)).collect();
                format!("Enter or a digit logs it: {}", offers.join("  "))
            }
            Some(p) if !p.offers.is_empty() => {
                let [later, no, why] = [Command::PutOff, Command::NotNeeded, Command::Why].map(key);
                format!("Enter logs it as done; {later} puts it off; {no} not needed; {why} why.")
            }
            Some(p) if !p.asks.is_empty() => "Enter goes to the field to look at.".to_owned(),
            Some(_) => "Enter notes it as read.".to_owned(),
            None => String::new(),
        },
        Focus::GoOn => "Enter goes on to the next hive that needs something.".to_owned(),
        Focus::Rest if screen.prompts().is_empty() => {
            format!("Nothing more is asked here. {} goes on.", key(Command::GoOn))
        }
        Focus::Rest => format!("Tab goes to what this hive needs. {} goes on.", key(Command::GoOn)),
    }
}

fn draw_who(seen: &Seen, units: Units, canvas: &mut Canvas<'_, '_>, area: Rect) {
    let theme = canvas.theme;
    let width = usize::from(area.width).saturating_sub(2);
    let mut rows = Rows::new();
    rows.line(format!(" {}", fit(&facts::stack_and_queen(&seen.view.state, units), width)), theme.text);
    for line in crate::tui::text::wrap(&seen.last, width).into_iter().take(2) {
        rows.line(format!(" {line}"), theme.muted);
    }
    rows.line(format!(" {}", fit(&facts::fittings(&seen.view.state, seen.today, units), width)), theme.muted);
    rows.draw(canvas, area);
}

/// The keys of the moment, by what has the focus.
fn keys_now(screen: &HiveScreen) -> &'static [Command] {
    match screen.focus {
        Focus::Rest if screen.prompts().is_empty() => &[Command::GoOn, Command::Fine, Command::Undo],
        Focus::Rest => &[Command::Switch, Command::GoOn, Command::Undo, Command::More],
        Focus::Field(_) => &[Command::Take, Command::Switch, Command::GoOn, Command::More, Command::Fine],
        Focus::Prompt(_) => &[
            Command::Take,
            Command::Amounts,
            Command::Why,
            Command::PutOff,
            Command::NotNeeded,
            Command::GoOn,
        ],
        Focus::GoOn => &[Command::Take, Command::Act, Command::WrapUp],
    }
}

/// What was found last time, and when: `16, Sep 13`.
fn last_text(seen: &Seen, units: Units, finding: Finding) -> Option<String> {
    let (on, value) = seen.before.get(finding)?;
    Some(format!("{}, {}", value.words(finding.kind(), units), wording::day(units, on)))
}

fn draw_fields(screen: &HiveScreen, seen: &Seen, units: Units, canvas: &mut Canvas<'_, '_>, area: Rect) {
    let (theme, view) = (canvas.theme, &seen.view);
    let [head, list] = Layout::vertical([Constraint::Length(1), Constraint::Min(1)]).areas(area);
    let mut title = Rows::new();
    let words = if screen.all { " LOOK (all fields)" } else { " LOOK" };
    title.group(words, usize::from(area.width), theme);
    title.draw(canvas, head);
    let last_wide = usize::from(area.width.saturating_sub(FIELDS));
    let mut rows = Rows::new();
    let mut part = None;
    let mut cursor = None;
    let room = usize::from(area.width.min(FIELDS)).saturating_sub(LABEL + 3);
    for (at, finding) in screen.fields().into_iter().enumerate() {
        if screen.all && part != Some(finding.part()) {
            part = Some(finding.part());
            rows.line(format!("  {}", finding.part().word()), theme.muted);
        }
        let chosen = screen.focus == Focus::Field(finding);
        let from = rows.len();
        let value = value_text(screen, view, units, finding, chosen);
        // A long value takes the room a short label leaves: what was found is read whole.
        let beyond = value.width().saturating_sub(room);
        let spare = (LABEL - 4).saturating_sub(finding.label().width());
        let (labels, room) = (LABEL - 3 - beyond.min(spare), room + beyond.min(spare));
        let label = format!("{}{}", if chosen { " > " } else { "   " }, pad(finding.label(), labels));
        let style = if chosen { theme.focus } else { theme.text };
        rows.spans(vec![
            Span::styled(label, theme.text),
            Span::styled(format!("[{}]", pad(&value, room)), style),
            Span::styled(last_cell(seen, units, finding, last_wide), theme.muted),
        ]);
        rows.target(from, at);
        if chosen {
            rows.focus_from(from);
            cursor = Some((from, 3 + labels + 1 + value.width().min(room)));
        }
    }
    let top = rows.draw_tapped(canvas, list);
    if let Some((line, column)) = cursor
        && let Some(below) = line.checked_sub(top)
        && below < usize::from(list.height)
    {
        let x = list.x + u16::try_from(column).unwrap_or(0);
        let y = list.y + u16::try_from(below).unwrap_or(0);
        canvas.frame.set_cursor_position((x, y));
    }
}

/// What was found last time in so many columns, none where there is no room.
fn last_cell(seen: &Seen, units: Units, finding: Finding, width: usize) -> String {
    let last = last_text(seen, units, finding).filter(|_| width > 2);
    last.map_or_else(String::new, |last| format!("  {}", fit(&last, width - 2)))
}

/// What a field shows: what is being typed, else today's value, else nothing.
fn value_text(screen: &HiveScreen, view: &HiveView, units: Units, finding: Finding, chosen: bool) -> String {
    if chosen && !screen.text.is_empty() {
        return screen.text.clone();
    }
    view.entry.findings.get(finding).map_or_else(String::new, |v| v.words(finding.kind(), units))
}

fn draw_prompts(screen: &HiveScreen, seen: &Seen, units: Units, canvas: &mut Canvas<'_, '_>, area: Rect) {
    let (view, today, theme) = (&seen.view, seen.today, canvas.theme);
    let width = usize::from(area.width).saturating_sub(1);
    let [head, list] = Layout::vertical([Constraint::Length(1), Constraint::Min(1)]).areas(area);
    let mut title = Rows::new();
    title.group("NEEDS NOW", width, theme);
    title.draw(canvas, head);
    let mut rows = Rows::new();
    if view.advice.prompts.is_empty() {
        rows.line("nothing more today", theme.done);
    }
    let roomy = list.height >= ROOMY;
    let fields = screen.fields().len();
    for (at, prompt) in view.advice.prompts.iter().enumerate() {
        let from = rows.len();
        draw_prompt(&mut rows, screen, prompt, (theme, today, units), (width, roomy));
        rows.target(from, fields + at);
    }
    let from = rows.len();
    let chosen = screen.focus == Focus::GoOn;
    let mark = if chosen { ">" } else { " " };
    rows.line(
        pad(&format!("{mark} Go on to the next hive"), width),
        if chosen { theme.focus } else { theme.text },
    );
    rows.target(from, fields + view.advice.prompts.len());
    if chosen {
        rows.focus_from(from);
    }
    draw_done(&mut rows, view, (theme, units), width);
    for held in &view.advice.held {
        rows.text(&format!("waits: {} ({})", held.prompt.title, held.because), width, 0, theme.muted);
    }
    rows.draw_tapped(canvas, list);
}

fn draw_prompt(
    rows: &mut Rows,
    screen: &HiveScreen,
    prompt: &Prompt,
    (theme, today, units): (&Theme, NaiveDate, Units),
    (width, roomy): (usize, bool),
) {
    let chosen = screen.focus == Focus::Prompt(prompt.rule);
    let from = rows.len();
    let mark = if chosen { "> " } else { "  " };
    let word = pad(prompt.urgency.word(), 7);
    // Said in full below where there is room for it.
    let late = if prompt.is_late(today) && !(chosen || roomy) { "LATE " } else { "" };
    let mut lines = crate::tui::text::wrap(&prompt.title, width.saturating_sub(9 + late.len())).into_iter();
    let style = if chosen { theme.focus } else { theme.text };
    rows.spans(vec![
        Span::styled(mark, theme.text),
        Span::styled(word, theme.urgency(prompt.urgency)),
        Span::styled(late, theme.must),
        Span::styled(lines.next().unwrap_or_default(), style),
    ]);
    for line in lines {
        rows.line(format!("         {line}"), style);
    }
    if chosen || roomy {
        let style = if chosen { theme.text } else { theme.muted };
        rows.text(&prompt.why, width.min(READABLE), 9, style);
        let by = if prompt.is_late(today) { theme.must } else { theme.muted };
        rows.line(format!("         {}", prompt.by(today, units)), by);
    }
    if chosen {
        for (at, offer) in prompt.offers.iter().enumerate() {
            let mut lines = crate::tui::text::wrap(&offer.label, width.saturating_sub(11)).into_iter();
            rows.spans(vec![
                Span::styled(format!("         {} ", at + 1), theme.key),
                Span::styled(lines.next().unwrap_or_default(), theme.heading),
            ]);
            for line in lines {
                rows.line(format!("           {line}"), theme.heading);
            }
        }
        rows.focus_from(from);
    }
}

/// What was done and answered today.
fn draw_done(rows: &mut Rows, view: &HiveView, (theme, units): (&Theme, Units), width: usize) {
    for action in &view.entry.actions {
        rows.text(&format!("done: {}", action.words(units)), width, 0, theme.done);
    }
    for answer in &view.entry.answers {
        let text = match &answer.reply {
            Reply::PutOff { reason, until } => {
                format!("put off to {}: {} ({reason})", wording::day(units, *until), rule_name(&answer.rule))
            }
            Reply::NotNeeded => format!("not needed: {}", rule_name(&answer.rule)),
            Reply::Done if view.entry.actions.is_empty() => format!("done: {}", rule_name(&answer.rule)),
            Reply::Done => continue,
        };
        rows.text(&text, width, 0, theme.done);
    }
    if !view.entry.note.is_empty() {
        rows.text(&format!("note: {}", visible(&view.entry.note)), width, 0, theme.done);
    }
}
