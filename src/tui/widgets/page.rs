//! The page: title above, body between, message and keys below.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use crate::tui::app::{App, Message};
use crate::tui::command::Command;
use crate::tui::keys::{self, Place};
use crate::tui::text::{fit, pad};
use crate::tui::theme::Theme;
use unicode_width::UnicodeWidthStr;

/// What stands around a body.
#[derive(Debug)]
pub(crate) struct Page<'a> {
    /// Left in the title.
    pub(crate) title: String,
    /// Right in the title.
    pub(crate) aside: String,
    /// Whose keys stand below.
    pub(crate) place: Place,
    /// What to tell the keeper.
    pub(crate) message: Option<&'a Message>,
    /// What stands there when there is nothing to tell.
    pub(crate) hint: String,
}

impl<'a> Page<'a> {
    /// A place of the program on its day: the title and the hint are the screen's own.
    pub(crate) fn at(app: &'a App, place: Place) -> Self {
        Self {
            title: String::new(),
            aside: aside(app, &app.today.format("%-d %B %Y").to_string()),
            place,
            message: app.message.as_ref(),
            hint: String::new(),
        }
    }
}

/// What stands right in the title: that something is not on the disk, before all else.
pub(crate) fn aside(app: &App, words: &str) -> String {
    match app.unwritten {
        Some(_) => format!("! NOT ON THE DISK · {words}"),
        None => words.to_owned(),
    }
}

/// Paints the ground of every cell.
pub(crate) fn ground(frame: &mut Frame<'_>, area: Rect, theme: &Theme) {
    frame.buffer_mut().set_style(area, theme.text);
}

/// Says which size is needed.
pub(crate) fn too_small(frame: &mut Frame<'_>, area: Rect, theme: &Theme, least: (u16, u16)) {
    let text = format!(
        "This terminal is {} by {}.\nyardwalk needs {} by {}:\nmake it larger, nothing is lost.",
        area.width, area.height, least.0, least.1
    );
    frame.render_widget(Paragraph::new(text).style(theme.text), area);
}

/// Draws title, message and keys; gives the body's area.
pub(crate) fn page(frame: &mut Frame<'_>, theme: &Theme, page: &Page<'_>) -> Rect {
    let area = frame.area();
    let [title, body, message, foot] = Layout::vertical([
        Constraint::Length(1),
        Constraint::Min(1),
        Constraint::Length(1),
        Constraint::Length(2),
    ])
    .areas(area);
    let width = usize::from(area.width);
    let aside = fit(&page.aside, width / 2);
    let left = width.saturating_sub(aside.width() + 2);
    let text = format!(" {}{aside} ", pad(&page.title, left));
    frame.render_widget(Paragraph::new(fit(&text, width)).style(theme.title), title);
    let (text, style) = match page.message {
        Some(message) if message.is_error => (message.text.as_str(), theme.caution),
        Some(message) => (message.text.as_str(), theme.done),
        None => (page.hint.as_str(), theme.muted),
    };
    frame.render_widget(
        Paragraph::new(format!(" {}", fit(text, width.saturating_sub(2)))).style(style),
        message,
    );
    frame.render_widget(Paragraph::new(key_lines(theme, page.place, width)).style(theme.text), foot);
    body
}

/// The keys of a place in two lines; what does not fit is under `?`, which always shows.
///
/// The arrows that only move need no words: they are left to `?`.
fn key_lines(theme: &Theme, place: Place, width: usize) -> Vec<Line<'static>> {
    let cell = |name: String, words: &str| -> (usize, [Span<'static>; 2]) {
        let wide = name.width() + 1 + words.width() + 2;
        (wide, [Span::styled(name, theme.key), Span::styled(format!(" {words}  "), theme.text)])
    };
    let is_help = |b: &&keys::Binding| b.command == Command::Help;
    let moves = |b: &&keys::Binding| {
        matches!(b.command, Command::Up | Command::Down | Command::PageUp | Command::PageDown)
    };
    let help = keys::of(place).any(|b| is_help(&b)).then(|| cell("?".to_owned(), "keys"));
    let reserve = help.as_ref().map_or(0, |(wide, _)| *wide);
    let mut lines: [Vec<Span<'static>>; 2] =
        [vec![Span::styled(" ", theme.text)], vec![Span::styled(" ", theme.text)]];
    let mut used = [1, 1 + reserve];
    let mut at = 0;
    for binding in keys::of(place).filter(|b| !is_help(b) && !moves(b)) {
        let (wide, parts) = cell(keys::name(binding.key), binding.words);
        if used.get(at).is_some_and(|used| used + wide > width) {
            at += 1;
        }
        let (Some(line), Some(used)) = (lines.get_mut(at), used.get_mut(at)) else { break };
        if *used + wide > width {
            break;
        }
        *used += wide;
        line.extend(parts);
    }
    if let (Some((_, parts)), Some(line)) = (help, lines.get_mut(at.min(1))) {
        line.extend(parts);
    }
    lines.into_iter().map(Line::from).collect()
}
