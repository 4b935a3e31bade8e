//! Lines of a body, one of which has the focus: gathered first, then cut to what the body shows.

use std::cell::Cell;

use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Paragraph, Scrollbar, ScrollbarOrientation, ScrollbarState};
use unicode_width::UnicodeWidthStr as _;

use super::taps::Tap;
use crate::tui::command::Command;
use crate::tui::text::{fit, wrap};
use crate::tui::theme::Theme;
use crate::tui::view::Canvas;

/// How far a body that is only read is scrolled: its first line shown. How long the body is only drawing knows, so
/// drawing brings it back to the end, behind a shared reference.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Scroll {
    top: Cell<usize>,
}

/// Lines a page key goes.
const PAGE: usize = 10;

impl Scroll {
    /// Moves by the keys that move; any other command leaves it where it is.
    pub(crate) fn update(&mut self, command: Command) {
        let top = self.top.get();
        self.top.set(match command {
            Command::Up => top.saturating_sub(1),
            Command::Down => top + 1,
            Command::PageUp => top.saturating_sub(PAGE),
            Command::PageDown => top + PAGE,
            _ => top,
        });
    }
}

/// The row a list stands on after a command that moves among its rows; `None` for any other.
pub(crate) fn row_after(command: Command, row: usize, last: usize) -> Option<usize> {
    Some(match command {
        Command::Up => row.saturating_sub(1),
        Command::Down => (row + 1).min(last),
        Command::PageUp => row.saturating_sub(PAGE),
        Command::PageDown => (row + PAGE).min(last),
        Command::GoTo(to) => to.min(last),
        _ => return None,
    })
}

/// Lines, and where the focus is among them.
#[derive(Debug, Default)]
pub(crate) struct Rows {
    lines: Vec<Line<'static>>,
    focus: Option<(usize, usize)>,
    targets: Vec<(usize, usize, usize)>,
}

impl Rows {
    pub(crate) fn new() -> Self {
        Self::default()
    }

    /// A line in one style.
    pub(crate) fn line(&mut self, text: impl Into<String>, style: Style) -> &mut Self {
        self.lines.push(Line::from(Span::styled(text.into(), style)));
        self
    }

    /// A line that is too far from the focus to be seen: its place is kept, its words are not made.
    pub(crate) fn out_of_sight(&mut self) -> &mut Self {
        self.lines.push(Line::default());
        self
    }

    /// A line of several styles.
    pub(crate) fn spans(&mut self, spans: Vec<Span<'static>>) -> &mut Self {
        self.lines.push(Line::from(spans));
        self
    }

    /// Text over as many lines as it takes.
    pub(crate) fn text(&mut self, text: &str, width: usize, indent: usize, style: Style) -> &mut Self {
        let lead = " ".repeat(indent);
        for line in wrap(text, width.saturating_sub(indent)) {
            self.line(format!("{lead}{line}"), style);
        }
        self
    }

    /// The head of a group: its words, and a line as far as the group goes.
    pub(crate) fn group(&mut self, words: &str, width: usize, theme: &Theme) -> &mut Self {
        let words = fit(words, width);
        let rest = width.saturating_sub(words.width() + 1);
        self.spans(vec![
            Span::styled(words, theme.heading),
            Span::styled(format!(" {}", "─".repeat(rest)), theme.rule),
        ])
    }

    /// Writes a word into the blanks a line begins with, from a column on.
    pub(crate) fn mark(&mut self, line: usize, column: usize, word: &'static str, style: Style) {
        let Some(line) = self.lines.get_mut(line) else { return };
        let text: String = line.spans.iter().map(|s| s.content.as_ref()).collect();
        let rest: String = text.chars().skip(column + word.width()).collect();
        let of_rest = line.spans.first().map_or(Style::new(), |span| span.style);
        *line = Line::from(vec![
            Span::styled(" ".repeat(column), of_rest),
            Span::styled(word, style),
            Span::styled(rest, of_rest),
        ]);
    }

    pub(crate) fn gap(&mut self) -> &mut Self {
        self.line("", Style::new())
    }

    pub(crate) fn len(&self) -> usize {
        self.lines.len()
    }

    /// The lines from `from` on have the focus.
    pub(crate) fn focus_from(&mut self, from: usize) -> &mut Self {
        self.focus = Some((from, self.lines.len()));
        self
    }

    /// The lines from `from` on are a row that can be tapped, of that number.
    pub(crate) fn target(&mut self, from: usize, row: usize) -> &mut Self {
        self.targets.push((from, self.lines.len(), row));
        self
    }

    /// Draws them so that the focus shows, and notes where each row is, to be tapped; gives the first line shown.
    pub(crate) fn draw_tapped(mut self, canvas: &mut Canvas<'_, '_>, area: Rect) -> usize {
        let targets = std::mem::take(&mut self.targets);
        let focus = self.focus;
        let top = self.draw(canvas, area);
        // The terminal's own cursor sits on what has the focus, for input methods and screen readers; a screen with a
        // place to type in puts it there afterwards.
        if let Some(below) = focus.and_then(|(from, _)| from.checked_sub(top))
            && let Ok(below) = u16::try_from(below)
            && below < area.height
        {
            canvas.frame.set_cursor_position((area.x, area.y + below));
        }
        for (from, to, row) in targets {
            let seen = |line: usize| line.saturating_sub(top).min(usize::from(area.height));
            let (first, last) = (seen(from), seen(to));
            if from >= top && first < last {
                let line = |n: usize| u16::try_from(n).unwrap_or(0);
                let place = Rect { y: area.y + line(first), height: line(last - first), ..area };
                canvas.taps.note(place, Tap::Row(row));
            }
        }
        top
    }

    /// Draws them so that the focus shows; gives the first line shown.
    pub(crate) fn draw(self, canvas: &mut Canvas<'_, '_>, area: Rect) -> usize {
        let height = usize::from(area.height);
        let top = match self.focus {
            // The whole of it where it fits and a line of what follows, its head in any case.
            Some((from, to)) => (to + usize::from(to < self.lines.len())).saturating_sub(height).min(from),
            None => 0,
        };
        self.draw_lines(canvas, area, top)
    }

    /// Draws them as far as they are scrolled. Scrolled past the end, the place is brought back to it, so that the first
    /// step back is seen.
    pub(crate) fn draw_scrolled(self, canvas: &mut Canvas<'_, '_>, area: Rect, scroll: &Scroll) {
        let top = scrolled(scroll.top.get(), self.lines.len(), usize::from(area.height));
        scroll.top.set(top);
        self.draw_lines(canvas, area, top);
    }

    fn draw_lines(mut self, canvas: &mut Canvas<'_, '_>, area: Rect, from: usize) -> usize {
        let style = canvas.theme.text;
        let height = usize::from(area.height);
        let top = scrolled(from, self.lines.len(), height);
        let all = self.lines.len();
        let shown: Vec<Line<'static>> = self.lines.drain(..).skip(top).take(height).collect();
        canvas.frame.render_widget(Paragraph::new(shown).style(style), area);
        if all > height && height > 1 {
            draw_scroll_bar(canvas, area, (top, all - height));
        }
        top
    }
}

/// A bar at the right edge: where in a longer list what is shown lies.
fn draw_scroll_bar(canvas: &mut Canvas<'_, '_>, area: Rect, (top, most): (usize, usize)) {
    let bar = Scrollbar::new(ScrollbarOrientation::VerticalRight)
        .begin_symbol(None)
        .end_symbol(None)
        .track_symbol(Some("│"))
        .thumb_symbol("█")
        .track_style(canvas.theme.rule)
        .thumb_style(canvas.theme.muted);
    // The last place is where the end is seen: there the bar is at its end.
    let mut state =
        ScrollbarState::new(most + 1).position(top).viewport_content_length(usize::from(area.height));
    canvas.frame.render_stateful_widget(bar, area, &mut state);
}

/// Whether a row of a list is so far from the one in focus that an area cannot show both: each row is a line or more.
pub(crate) fn is_out_of_sight(row: usize, focus: usize, area: Rect) -> bool {
    row.abs_diff(focus) > usize::from(area.height)
}

/// The first line to show, so that no more is scrolled away than there is.
fn scrolled(top: usize, lines: usize, height: usize) -> usize {
    top.min(lines.saturating_sub(height))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_scrolled_away_that_would_fit() {
        assert_eq!(scrolled(5, 3, 10), 0);
        assert_eq!(scrolled(5, 20, 10), 5);
        assert_eq!(scrolled(50, 20, 10), 10);
    }

    /// Whatever row has the focus, a list drawn without the words of what is out of sight looks as it does with them.
    #[test]
    fn what_is_out_of_sight_is_not_missed() {
        use crate::tui::keymap::Keymap;
        use crate::tui::widgets::taps::Taps;
        let (theme, keys) = (Theme::none(), Keymap::default());
        let drawn = |focus: usize, height: u16, skips: bool| {
            let mut terminal =
                ratatui::Terminal::new(ratatui::backend::TestBackend::new(30, height)).unwrap();
            let whole = terminal.draw(|frame| {
                let area = frame.area();
                let taps = Taps::default();
                let mut canvas = Canvas { frame, theme: &theme, keys: &keys, taps: &taps, message: None };
                let mut rows = Rows::new();
                for at in 0..70 {
                    if skips && is_out_of_sight(at, focus, area) {
                        rows.out_of_sight();
                        continue;
                    }
                    let from = rows.len();
                    rows.line(format!("row {at}"), Style::new());
                    if at == focus {
                        rows.focus_from(from);
                    }
                }
                rows.draw_tapped(&mut canvas, area);
            });
            whole.unwrap().buffer.clone()
        };
        for height in [1, 2, 7, 24, 90] {
            for focus in 0..70 {
                assert_eq!(drawn(focus, height, true), drawn(focus, height, false), "{focus} of {height}");
            }
        }
    }
}
