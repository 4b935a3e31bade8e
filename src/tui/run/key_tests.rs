//! Every key that is shown works, and every key that works is shown.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::tests::{BEGIN, play};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::keymap::{Keymap, name};
use crate::tui::keys::Place;
use crate::tui::screens::Screen;
use crate::tui::screens::help::{Found, Item};

/// How to come to each place, on which day, and what makes room for its keys to do something.
fn ways() -> Vec<(Place, &'static str, String)> {
    let hive = |keys: &str| format!("Down {BEGIN} {keys}");
    vec![
        (Place::Today, "2026-08-08", "Down".to_owned()),
        (Place::Weather, "2026-05-03", "Enter Down 6".to_owned()),
        (Place::Hive, "2026-05-03", hive("1 3 Down")),
        (Place::PutOff, "2026-05-03", hive("Tab p Right Down x")),
        (Place::Why, "2026-05-03", hive("Tab w Down")),
        (Place::Note, "2026-05-03", hive("o a b Left")),
        (Place::WrapUp, "2026-05-03", hive("1 3 Down s Down")),
        (Place::Roster, "2026-05-03", "h Down Down".to_owned()),
        (Place::Card, "2026-08-08", "c Down".to_owned()),
        (Place::Load, "2026-08-08", "l Down".to_owned()),
        (Place::Log, "2026-08-08", "o Down".to_owned()),
        (Place::Sheet, "2026-05-03", "n Down".to_owned()),
        (Place::Season, "2026-08-08", "y Down".to_owned()),
        (Place::Practice, "2026-08-08", "p Down 3".to_owned()),
        (Place::Search, "2026-05-03", "h / a Down".to_owned()),
        (Place::Act, "2026-05-03", hive("a o Down")),
        (Place::Form, "2026-05-03", hive("a t r e a t Enter Esc Enter Down")),
        (Place::Stack, "2026-05-03", hive("k Left Down")),
        (Place::Settings, "2026-05-03", "g Down".to_owned()),
        (Place::Safety, "2026-05-03", "F2 Down".to_owned()),
        (Place::Help, "2026-05-03", "F1 a Down".to_owned()),
    ]
}

/// All that a key may change, in words.
fn seen(app: &App) -> String {
    format!(
        "{:?} {:?} {:?} {} {:?} {:?}",
        app.screens, app.message, app.walk, app.is_over, app.theme, app.plan
    )
}

fn press(app: &mut App, code: KeyCode) -> bool {
    let before = seen(app);
    let key = KeyEvent::new(code, KeyModifiers::NONE);
    let Some(command) = app.look.keys.command(app.place(), &key) else { return false };
    let effects = app.update(command);
    !effects.is_empty() || seen(app) != before
}

#[test]
fn every_key_that_is_shown_does_something() {
    let ways = ways();
    // The first steps and a disk that refuses have stories of their own.
    assert_eq!(ways.len(), Place::ALL.len() - 2);
    for (place, on, keys) in ways {
        for binding in Keymap::default().of(place) {
            // In one of these states, for a key cannot go up from the top.
            let worked = ["", "Up Up", "Down", "Tab", "Down Down Down"].iter().any(|more| {
                let mut app = play(on, (80, 24), &format!("{keys} {more}")).app;
                assert!(app.place() == place || !more.is_empty(), "{place:?}: {:?} by {keys}", app.place());
                app.place() == place && press(&mut app, binding.key)
            });
            assert!(worked, "{} at {} ({})", name(binding.key), place.words(), binding.words);
        }
    }
}

/// Whether a place takes typed text, so that letters without a row of their own are text.
fn is_typed_into(place: Place) -> bool {
    matches!(
        place,
        Place::Weather
            | Place::Hive
            | Place::PutOff
            | Place::Note
            | Place::Practice
            | Place::Search
            | Place::Act
            | Place::Form
            | Place::Help
    )
}

#[test]
fn every_key_that_works_is_shown() {
    let named = [
        KeyCode::Enter,
        KeyCode::Esc,
        KeyCode::Tab,
        KeyCode::Backspace,
        KeyCode::Up,
        KeyCode::Down,
        KeyCode::Left,
        KeyCode::Right,
        KeyCode::PageUp,
        KeyCode::PageDown,
        KeyCode::Home,
        KeyCode::End,
        KeyCode::Delete,
        KeyCode::Insert,
    ];
    for (place, on, keys) in ways() {
        let map = Keymap::default();
        let shown: Vec<KeyCode> = map.of(place).chain(map.everywhere()).map(|b| b.key).collect();
        let letters = ('!'..='~').map(KeyCode::Char).filter(|_| !is_typed_into(place));
        let mut app = play(on, (80, 24), &keys).app;
        app.message = None;
        for code in named.into_iter().chain((1..=12).map(KeyCode::F)).chain(letters) {
            if !shown.contains(&code) {
                assert!(!press(&mut app, code), "{} at {} is not shown", name(code), place.words());
            }
        }
    }
}

/// A screen is found by its name, also from elsewhere and where its key has another word.
#[test]
fn a_screen_is_found_by_its_name() {
    let app = play("2026-05-03", (80, 24), &format!("Down {BEGIN} F1 s e a s o n Enter")).app;
    assert!(matches!(app.screens.last(), Some(Screen::Season(_))), "{:?}", app.screens.last());
    assert!(matches!(app.screens.get(1), Some(Screen::Hive(_))), "the hive is under it");
    let app = play("2026-05-03", (80, 24), "F1 r o s t e r Enter").app;
    assert!(matches!(app.screens.last(), Some(Screen::Roster(_))));
}

/// What the finder offers is what the keys do: each line of it, run by Enter, does something or says why not.
#[test]
fn each_line_of_the_finder_runs() {
    let items = match play("2026-05-03", (80, 24), "F1").app.screens.last() {
        Some(Screen::Help(help)) => help.items(&play("2026-05-03", (80, 24), "F1").app),
        other => panic!("{other:?}"),
    };
    assert!(items.len() > 15, "{}", items.len());
    // The line that opens the finder opens it.
    let opens_itself = |item: &&(usize, Item)| matches!(item.1.found, Found::Key(_, Command::Help));
    for (row, _) in items.into_iter().enumerate().filter(|item| !opens_itself(&item)) {
        let mut app = play("2026-05-03", (80, 24), "F1").app;
        app.update(Command::GoTo(row));
        let before = seen(&app);
        let effects = app.update(Command::Take);
        assert!(!effects.is_empty() || seen(&app) != before, "line {row}");
        assert!(
            !matches!(app.screens.last(), Some(Screen::Help(_))) || app.is_over,
            "line {row} left it open"
        );
    }
}
