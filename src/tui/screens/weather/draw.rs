//! Drawing the weather fields.

use ratatui::text::Span;

use super::{BLOOM, FIELDS, WeatherScreen};
use crate::model::{Bloom, Units};
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::text::pad;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};

pub(super) fn draw(screen: &WeatherScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let body = page(
        canvas,
        &Page {
            title: format!("Weather at {}", crate::model::visible(screen.yard.as_str())),
            hint: "Leave a field empty if you do not know; Enter goes on.".to_owned(),
            ..Page::at(session, ScreenId::Weather)
        },
    );
    let (degrees, speed) = match session.book().units {
        Units::Us => ("F, or with C", "mph, or with km/h"),
        Units::Metric => ("C, or with F", "km/h, or with mph"),
    };
    let mut rows = Rows::new();
    rows.gap();
    rows.line("  The weather decides what may be opened today.", theme.text);
    rows.gap();
    let bloom: Vec<&str> = screen.blooms.iter().map(|b| b.word()).collect();
    let texts: Vec<String> = screen.texts.iter().take(BLOOM).cloned().chain([bloom.join(", ")]).collect();
    let labels =
        [("Temperature", degrees), ("Wind", speed), ("Rain", "y or n"), ("In bloom", "figures, below")];
    for (at, ((label, unit), text)) in labels.iter().zip(&texts).enumerate() {
        let chosen = at == screen.field;
        let style = if chosen { theme.focus } else { theme.text };
        rows.spans(vec![
            Span::styled(format!(" {} {label:<14}", if chosen { ">" } else { " " }), theme.text),
            Span::styled(format!("[{}]", pad(text, if at == BLOOM { 22 } else { 11 })), style),
            Span::styled(format!("  {unit}"), theme.muted),
        ]);
    }
    let choices: Vec<String> =
        Bloom::ALL.iter().enumerate().map(|(at, b)| format!("{} {}", at + 1, b.word())).collect();
    rows.line(format!("                   {}", choices.join("   ")), theme.muted);
    for (at, bloom) in (FIELDS..).zip(&screen.blooms) {
        let chosen = at == screen.field;
        let day = screen.since.get(bloom).map_or("", String::as_str);
        rows.spans(vec![
            Span::styled(format!(" {} {:<14}", if chosen { ">" } else { " " }, "  since"), theme.text),
            Span::styled(format!("[{}]", pad(day, 22)), if chosen { theme.focus } else { theme.text }),
            Span::styled(format!("  {}; empty: seen today", bloom.word()), theme.muted),
        ]);
    }
    rows.gap();
    rows.text(
        "Stings: veil on, phone and epinephrine pen at hand, someone who knows where you are. Smoker: lit on bare \
         ground, water beside it, none in dry grass or under a fire ban.",
        usize::from(body.width).saturating_sub(4),
        2,
        theme.caution,
    );
    rows.draw(canvas, body);
    let day = || screen.field.checked_sub(FIELDS).and_then(|at| screen.since.get(screen.blooms.get(at)?));
    let text = texts.get(screen.field).or_else(day);
    let typed = text.map_or(0, |text| text.chars().count()).min(22);
    let x = 18 + u16::try_from(typed).unwrap_or(0);
    // The line of what may be in bloom stands between the field and its days.
    let row = screen.field + usize::from(screen.field >= FIELDS);
    let y = body.y + 3 + u16::try_from(row).unwrap_or(0);
    canvas.frame.set_cursor_position((body.x + x, y));
}
