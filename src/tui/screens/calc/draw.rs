//! Drawing the calculator: its fields, and under them the answer.

use ratatui::text::Span;

use super::CalcScreen;
use crate::report::calc_ask::Which;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::text::{fit, pad};
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};

/// Columns of a label, and of what is typed.
const LABEL: usize = 18;
const VALUE: usize = 30;

pub(super) fn draw(screen: &CalcScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let hint = screen.fields.get(screen.row).map_or_else(String::new, |field| {
        let keys = field.keys();
        if field.help.is_empty() { keys } else { format!("{}: {}", field.label, field.help) }
    });
    let body =
        page(canvas, &Page { title: "Calculator".to_owned(), hint, ..Page::at(session, ScreenId::Calc) });
    let width = usize::from(body.width).saturating_sub(2);
    let mut rows = Rows::new();
    let mut names = vec![Span::styled(" ", theme.text)];
    for which in Which::ALL {
        let chosen = *which == screen.which;
        let word = if chosen { format!("[{}]", which.word()) } else { format!(" {} ", which.word()) };
        names.push(Span::styled(word, if chosen { theme.focus } else { theme.muted }));
    }
    rows.spans(names);
    rows.gap();
    for (at, field) in screen.fields.iter().enumerate() {
        let chosen = at == screen.row;
        let from = rows.len();
        let mark = if chosen { ">" } else { " " };
        rows.spans(vec![
            Span::styled(format!(" {mark} {}", pad(field.label.as_str(), LABEL)), theme.text),
            Span::styled(
                format!("[{}]", pad(&fit(&field.shown(), VALUE), VALUE)),
                if chosen { theme.focus } else { theme.text },
            ),
        ]);
        rows.target(from, at);
        if chosen {
            rows.focus_from(from);
        }
    }
    rows.gap();
    match &screen.sum {
        Ok(sum) => {
            rows.line(format!(" {}", sum.title), theme.heading);
            for figure in &sum.figures {
                rows.spans(vec![
                    Span::styled(format!("   {}", pad(&fit(&figure.words, 30), 31)), theme.text),
                    Span::styled(figure.shown.clone(), theme.heading),
                ]);
            }
            for note in &sum.notes {
                rows.text(note, width, 3, theme.muted);
            }
        }
        Err(why) => {
            rows.text(why, width, 1, theme.caution);
        }
    }
    rows.draw_tapped(canvas, body);
}
