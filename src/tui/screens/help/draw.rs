//! Drawing the keys and the finder.

use ratatui::layout::{Constraint, Layout};
use ratatui::text::Span;
use unicode_width::UnicodeWidthStr;

use super::HelpScreen;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::text::pad;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};

/// What the words on the screens mean.
const WORDS: &[(&str, &str)] = &[
    ("MUST", "left undone, the colony or the honey is at risk"),
    ("should", "good practice, by its date"),
    ("may", "worth knowing; nothing is lost"),
    ("STOP", "do nothing else at this hive"),
    ("waits", "cannot be done today, and why"),
    ("[x] [>]", "done; passed with nothing written down"),
    ("[-] [ ]", "begun; to do"),
];

pub(super) fn draw(screen: &HelpScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let body = page(
        canvas,
        &Page {
            title: format!("Keys: {}", screen.screen.words()),
            hint: "Type to find a key, a screen or a hive; Enter runs it. Ctrl-C leaves.".to_owned(),
            ..Page::at(session, ScreenId::Help)
        },
    );
    let [head, list] = Layout::vertical([Constraint::Length(1), Constraint::Min(1)]).areas(body);
    let mut title = Rows::new();
    title.line(format!(" find: {}", screen.search.text), theme.key);
    title.draw(canvas, head);
    let mut rows = Rows::new();
    let items = &screen.items;
    if items.is_empty() {
        rows.line("   nothing is called that", theme.muted);
    }
    for (at, item) in items.iter().enumerate() {
        let (from, chosen) = (rows.len(), at == screen.row);
        let style = if chosen { theme.focus } else { theme.text };
        rows.spans(vec![
            Span::styled(format!(" {} {:>5}  ", if chosen { ">" } else { " " }, item.key), theme.key),
            Span::styled(pad(&item.words, 40), style),
        ]);
        rows.target(from, at);
        if chosen {
            rows.focus_from(from);
        }
    }
    if screen.search.text.is_empty() {
        if screen.screen == ScreenId::Hive {
            rows.gap();
            for (keys, words) in [
                ("1-9", "in a field: the choice; at a prompt: one of its ways"),
                ("0-9 .", "a number; Enter or an arrow takes it"),
                ("y n", "yes, no"),
            ] {
                rows.spans(vec![
                    Span::styled(format!("   {keys:>5}"), theme.key),
                    Span::styled(format!("  {words}"), theme.text),
                ]);
            }
        }
        rows.gap();
        for (word, meaning) in WORDS {
            rows.spans(vec![
                Span::styled(format!("  {word:>11}"), theme.key),
                Span::styled(format!("  {meaning}"), theme.text),
            ]);
        }
    }
    rows.draw_tapped(canvas, list);
    let column = u16::try_from(7 + screen.search.text.width()).unwrap_or(0);
    canvas.frame.set_cursor_position((head.x + column.min(head.width.saturating_sub(1)), head.y));
}
