//! Drawing the settings.

use ratatui::text::Span;

use super::SettingsScreen;
use crate::model::{Signs, Units, WeekBegins};
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::setting::{ALL, Setting};
use crate::tui::text::pad;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};

pub(super) fn draw(screen: &SettingsScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let body = page(
        canvas,
        &Page {
            title: "Settings of this laptop".to_owned(),
            hint: "Left and Right change it right away; it is remembered.".to_owned(),
            ..Page::at(session, ScreenId::Settings)
        },
    );
    let width = usize::from(body.width).saturating_sub(2);
    let mut rows = Rows::new();
    for (at, setting) in ALL.iter().enumerate() {
        let (from, chosen) = (rows.len(), at == screen.row);
        let (label, value) = (setting.label(), words(session, *setting));
        rows.spans(vec![
            Span::styled(format!(" {} {}", if chosen { ">" } else { " " }, pad(label, 22)), theme.text),
            Span::styled(format!("< {} >", pad(&value, 26)), if chosen { theme.focus } else { theme.text }),
        ]);
        rows.target(from, at);
        if chosen {
            rows.focus_from(from);
        }
    }
    rows.gap();
    for (word, style) in [
        ("STOP", theme.stop),
        ("MUST", theme.must),
        ("should", theme.should),
        ("may", theme.may),
        ("done", theme.done),
        ("a caution", theme.caution),
        ("less important text", theme.muted),
        ("the head of a group", theme.heading),
        ("a key", theme.key),
        ("in focus", theme.focus),
        ("▓ bees", theme.bees),
        ("▓ brood", theme.brood),
        ("▓ honey", theme.honey),
    ] {
        rows.spans(vec![Span::styled("   ", theme.text), Span::styled(format!(" {word} "), style)]);
    }
    for fault in &screen.faults {
        rows.gap();
        rows.text(&crate::model::visible(fault), width, 1, theme.caution);
    }
    rows.draw_tapped(canvas, body);
}

fn words(session: &Session, setting: Setting) -> String {
    let settings = session.settings();
    let fixed = match setting {
        Setting::Day => return settings.day_theme.clone(),
        Setting::Night => return settings.night_theme.clone(),
        Setting::Week => match settings.week_begins {
            Some(WeekBegins::Monday) => "Monday",
            Some(WeekBegins::Sunday) => "Sunday",
            None => {
                return format!("{} (with the units)", settings.first_weekday(session.book().units));
            }
        },
        Setting::Now => {
            if settings.is_night {
                "night"
            } else {
                "day"
            }
        }
        Setting::Mouse => {
            if settings.mouse {
                "taken"
            } else {
                "left alone"
            }
        }
        Setting::Signs => match settings.signs {
            Signs::Auto => "as the terminal has them",
            Signs::Drawn => "drawn",
            Signs::Letters => "plain letters (ASCII)",
        },
        Setting::Units => match session.book().units {
            Units::Us => "US: lb, gal, F",
            Units::Metric => "metric: kg, L, C",
        },
    };
    fixed.to_owned()
}
