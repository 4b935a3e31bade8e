//! The page: title above, body between, message and keys below.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use crate::session::{Said, Session};
use crate::tui::command::Command;
use crate::tui::keymap;
use crate::tui::keys::{Binding, ScreenId};
use crate::tui::text::{fit, pad, wrap};
use crate::tui::theme::Theme;
use crate::tui::view::Canvas;
use crate::tui::widgets::Tap;
use crate::wording;
use unicode_width::UnicodeWidthStr;

/// What stands around a body.
#[derive(Debug)]
pub(crate) struct Page {
    /// Left in the title.
    pub(crate) title: String,
    /// Right in the title.
    pub(crate) aside: String,
    /// Whose keys stand below.
    pub(crate) screen: ScreenId,
    /// What stands above the keys when there is nothing to tell.
    pub(crate) hint: String,
    /// The keys of the moment, the one most likely next before all others.
    pub(crate) first: &'static [Command],
    /// Whether these are hives of a rehearsal, which must not be taken for real ones.
    pub(crate) is_rehearsed: bool,
}

impl Page {
    /// A screen on its day: the title and the hint are the screen's own.
    pub(crate) fn at(session: &Session, screen: ScreenId) -> Self {
        let day = wording::day_and_year(session.book().units, session.today());
        Self {
            title: String::new(),
            aside: aside(session, &day),
            screen,
            hint: String::new(),
            first: &[],
            is_rehearsed: session.rehearsal().is_some(),
        }
    }
}

/// What stands right in the title: that something is not on the disk, before all else.
pub(crate) fn aside(session: &Session, words: &str) -> String {
    match session.unwritten() {
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
pub(crate) fn page(canvas: &mut Canvas<'_, '_>, page: &Page) -> Rect {
    let area = canvas.frame.area();
    let theme = canvas.theme;
    let width = usize::from(area.width);
    let (text, style) = match canvas.message {
        Some(Said { text, is_error: true }) => (text.as_str(), theme.caution),
        Some(Said { text, is_error: false }) => (text.as_str(), theme.done),
        None => (page.hint.as_str(), theme.muted),
    };
    let said = said_lines(text, width.saturating_sub(2));
    let [title, body, message, foot] = Layout::vertical([
        Constraint::Length(1),
        Constraint::Min(1),
        Constraint::Length(u16::try_from(said.len()).unwrap_or(1)),
        Constraint::Length(2),
    ])
    .areas(area);
    let aside = fit(&page.aside, width / 2);
    let left = width.saturating_sub(aside.width() + 2);
    // A title that would run into what stands to the right of it gives way.
    let title_words =
        if page.is_rehearsed { format!("REHEARSAL · {}", page.title) } else { page.title.clone() };
    let text = format!(" {} {aside} ", pad(&title_words, left.saturating_sub(1)));
    canvas.frame.render_widget(Paragraph::new(fit(&text, width)).style(theme.title), title);
    let said: Vec<Line<'_>> = said.into_iter().map(|line| Line::from(format!(" {line}"))).collect();
    canvas.frame.render_widget(Paragraph::new(said).style(style), message);
    let keys = key_lines(canvas, page, foot);
    canvas.frame.render_widget(Paragraph::new(keys).style(theme.text), foot);
    body
}

/// Lines of a message at most.
const SAID: usize = 2;

/// A message in as many lines as it takes, two at most.
fn said_lines(text: &str, width: usize) -> Vec<String> {
    let mut lines = wrap(text, width);
    if lines.len() > SAID {
        let rest = lines.split_off(SAID - 1).join(" ");
        lines.push(fit(&rest, width));
    }
    if lines.is_empty() {
        lines.push(String::new());
    }
    lines
}

/// The keys of a screen in two lines; what does not fit is in the finder, whose key always shows, as does that of safety.
///
/// The arrows that only move need no words: they are left to the finder.
fn key_lines(canvas: &Canvas<'_, '_>, page: &Page, area: Rect) -> Vec<Line<'static>> {
    let screen = page.screen;
    let (theme, keys) = (canvas.theme, canvas.keys);
    let width = usize::from(area.width);
    let is_help = |b: &&Binding| b.command == Command::Help;
    let moves =
        |b: &&Binding| matches!(b.command, Command::Up | Command::Down | Command::PageUp | Command::PageDown);
    // The keys without F where there are such.
    let always: Vec<&Binding> = keys
        .beyond(screen)
        .find(|b| is_help(b))
        .into_iter()
        .chain(keys.beyond(screen).find(|b| b.command == Command::Safety))
        // The first steps have neither a book to find in nor bees yet.
        .filter(|b| screen != ScreenId::Welcome && !(is_help(b) && screen == ScreenId::Help))
        .collect();
    let reserve: usize = always.iter().map(|b| cell_width(b)).sum();
    let mut lines: [Vec<Span<'static>>; 2] =
        [vec![Span::styled(" ", theme.text)], vec![Span::styled(" ", theme.text)]];
    let mut used = [1, 1 + reserve];
    let mut at = 0;
    let mut put = |line: usize, column: usize, binding: &Binding| {
        if let Some(spans) = lines.get_mut(line) {
            spans.push(Span::styled(keymap::name(binding.key), theme.key));
            spans.push(Span::styled(format!(" {}  ", binding.words), theme.text));
        }
        if let (Ok(x), Ok(y), Ok(wide)) =
            (u16::try_from(column), u16::try_from(line), u16::try_from(cell_width(binding)))
        {
            let place = Rect { x: area.x + x, y: area.y + y, width: wide.saturating_sub(1), height: 1 };
            canvas.taps.note(place, Tap::Key(binding.key));
        }
    };
    let rank = |b: &Binding| page.first.iter().position(|c| *c == b.command).unwrap_or(page.first.len());
    let mut shown: Vec<&Binding> = keys.of(screen).filter(|b| !is_help(b) && !moves(b)).collect();
    shown.sort_by_key(|b| rank(b));
    for binding in shown {
        let wide = cell_width(binding);
        if used.get(at).is_some_and(|used| used + wide > width) {
            at += 1;
        }
        let Some(used) = used.get_mut(at) else { break };
        if *used + wide > width {
            break;
        }
        let column = if at == 1 { *used - reserve } else { *used };
        *used += wide;
        put(at, column, binding);
    }
    let [first, second] = used;
    let mut column = if at == 0 && first + reserve <= width { first } else { second - reserve };
    let line = usize::from(!(at == 0 && first + reserve <= width));
    for binding in always {
        put(line, column, binding);
        column += cell_width(binding);
    }
    lines.into_iter().map(Line::from).collect()
}

/// Columns of a key with its words and the space after them.
fn cell_width(binding: &Binding) -> usize {
    keymap::name(binding.key).width() + 1 + binding.words.width() + 2
}
