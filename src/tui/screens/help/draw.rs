//! Drawing the keys.

use ratatui::Frame;
use ratatui::text::Span;

use super::HelpScreen;
use crate::tui::app::App;
use crate::tui::keys::{self, Place};
use crate::tui::widgets::{Page, Rows, page};

/// What the words on the screens mean.
const WORDS: &[(&str, &str)] = &[
    ("MUST", "left undone, the colony or the honey is at risk"),
    ("should", "good practice, by its date"),
    ("may", "worth knowing; nothing is lost"),
    ("STOP", "do nothing else at this hive"),
    ("waits", "cannot be done today, and why"),
    ("[x] [-] [ ]", "done, begun, to do"),
];

pub(crate) fn draw(screen: &HelpScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let body = page(
        frame,
        theme,
        &Page {
            title: format!("Keys: {}", screen.place.words()),
            aside: String::new(),
            place: Place::Help,
            message: None,
            hint: "Ctrl-C leaves from anywhere; the draft of the visit is on the disk.".to_owned(),
        },
    );
    let mut rows = Rows::new();
    for binding in keys::of(screen.place) {
        rows.spans(vec![
            Span::styled(format!("  {:>5}", keys::name(binding.key)), theme.key),
            Span::styled(format!("  {}", binding.words), theme.text),
        ]);
    }
    if screen.place == Place::Hive {
        rows.gap();
        for (keys, words) in [
            ("1-9", "in a field: the choice; at a prompt: the offer"),
            ("0-9 .", "a number; Enter or an arrow takes it"),
            ("y n", "yes, no"),
        ] {
            rows.spans(vec![
                Span::styled(format!("  {keys:>5}"), theme.key),
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
    rows.draw_from(frame, body, theme.text, screen.scroll);
}
