//! Every key that is shown works, and every key that works is shown.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::tests::{BEGIN, play};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::keymap::{Keymap, name};
use crate::tui::keys::ScreenId;

/// How to come to each place, on which day, and what makes room for its keys to do something.
fn ways() -> Vec<(ScreenId, &'static str, String)> {
    let hive = |keys: &str| format!("Down {BEGIN} {keys}");
    vec![
        (ScreenId::Today, "2026-08-08", "Down".to_owned()),
        (ScreenId::Weather, "2026-05-03", "Enter Down 6".to_owned()),
        (ScreenId::Hive, "2026-05-03", hive("1 3 Down")),
        (ScreenId::PutOff, "2026-05-03", hive("Tab p Right Down x")),
        (ScreenId::Why, "2026-05-03", hive("Tab w Down")),
        (ScreenId::Note, "2026-05-03", hive("o a b Left")),
        (ScreenId::WrapUp, "2026-05-03", hive("1 3 Down g 1 2 Down g 9 Down g 8 Down s Down")),
        (ScreenId::Roster, "2026-05-03", "h Down Down".to_owned()),
        (ScreenId::Card, "2026-08-08", "c Down".to_owned()),
        (ScreenId::Load, "2026-08-08", "l Down".to_owned()),
        (ScreenId::Log, "2026-08-08", "v Down".to_owned()),
        (ScreenId::Sheet, "2026-05-03", "n Down".to_owned()),
        (ScreenId::Season, "2026-08-08", "y Down".to_owned()),
        (ScreenId::Practice, "2026-08-08", "t Down 3".to_owned()),
        (ScreenId::Search, "2026-05-03", "h / a Down".to_owned()),
        (ScreenId::Act, "2026-05-03", hive("a o Down")),
        (ScreenId::Form, "2026-05-03", hive("a t r e a t Enter Esc Enter Down")),
        (ScreenId::Stack, "2026-05-03", hive("k Left Down")),
        (ScreenId::Calc, "2026-05-03", "= 9 Tab Down Down".to_owned()),
        (ScreenId::Settings, "2026-05-03", ", Down".to_owned()),
        (ScreenId::Safety, "2026-05-03", "F2 Down".to_owned()),
        (ScreenId::Help, "2026-05-03", "F1 a Down".to_owned()),
    ]
}

fn press(app: &mut App, code: KeyCode) -> bool {
    let before = app.seen();
    let key = KeyEvent::new(code, KeyModifiers::NONE);
    let Some(command) = app.look.keys.command(app.screen(), &key) else { return false };
    app.update(command);
    app.seen() != before
}

#[test]
fn every_key_that_is_shown_does_something() {
    let ways = ways();
    // The first steps, a disk that refuses, comments that would go, files that are odd, midnight and a
    // rehearsal have their own stories.
    assert_eq!(ways.len(), ScreenId::ALL.len() - 7);
    for (place, on, keys) in ways {
        for binding in Keymap::default().of(place) {
            // In one of these states, for a key cannot go up from the top.
            let states = ["", "Up Up", "Down", "Tab", "Down Down Down"]
                .map(|more| [(80, 24), (60, 18)].map(|size| (more, size)));
            let worked = states.iter().flatten().any(|(more, size)| {
                let mut app = play(on, *size, &format!("{keys} {more}")).app;
                assert!(app.screen() == place || !more.is_empty(), "{place:?}: {:?} by {keys}", app.screen());
                app.screen() == place && press(&mut app, binding.key)
            });
            assert!(worked, "{} at {} ({})", name(binding.key), place.words(), binding.words);
        }
    }
}

/// Whether letters without a row of their own mean something: at a hive a field or a prompt takes them too.
fn takes_letters(place: ScreenId) -> bool {
    place.is_typed_into() || place == ScreenId::Hive
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
        let shown: Vec<KeyCode> = map.of(place).chain(map.beyond(place)).map(|b| b.key).collect();
        let letters = ('!'..='~').map(KeyCode::Char).filter(|_| !takes_letters(place));
        let mut app = play(on, (80, 24), &keys).app;
        app.message = None;
        for code in named.into_iter().chain((1..=12).map(KeyCode::F)).chain(letters) {
            if !shown.contains(&code) {
                assert!(!press(&mut app, code), "{} at {} is not shown", name(code), place.words());
            }
        }
    }
}

/// The day a treatment comes out follows the treatment that is chosen, until a day is typed.
#[test]
fn the_end_of_a_treatment_follows_the_one_chosen() {
    let form = format!("Down {BEGIN} a b e g a n Enter Esc Enter");
    let shown = |keys: &str| play("2026-08-08", (80, 24), &format!("{form} {keys}")).screen;
    // Gel strips stay two weeks, amitraz strips longer.
    assert!(shown("").contains("Aug 22, 2026"), "{}", shown(""));
    let amitraz = shown("a m i");
    assert!(amitraz.contains("amitraz strips") && !amitraz.contains("Aug 22, 2026"), "{amitraz}");
    let typed = shown("Down 9 / 1 / 2 0 2 6 Up a m i");
    assert!(typed.contains("9/1/2026"), "{typed}");
}

/// A hive found fine takes two keys, and the wrap-up says so; one gone past is passed, not done.
#[test]
fn a_fine_hive_takes_two_keys_and_a_passed_one_is_not_done() {
    let played = play("2026-05-03", (80, 24), &format!("Down {BEGIN} i g g s"));
    assert!(played.screen.contains("A1       fine, not opened"), "{}", played.screen);
    assert!(played.screen.contains("Passed over today"), "{}", played.screen);
    let day = play("2026-05-03", (80, 24), &format!("Down {BEGIN} i g g Esc")).screen;
    assert!(day.contains("[x] A1") && day.contains("[>] A2") && day.contains("1 of 6"), "{day}");
}

/// A screen is found by its name, also from elsewhere and where its key has another word.
#[test]
fn a_screen_is_found_by_its_name() {
    let app = play("2026-05-03", (80, 24), &format!("Down {BEGIN} F1 s e a s o n Enter")).app;
    assert_eq!(app.screens(), [ScreenId::Today, ScreenId::Hive, ScreenId::Season]);
    let app = play("2026-05-03", (80, 24), "F1 r o s t e r Enter").app;
    assert_eq!(app.screen(), ScreenId::Roster);
}

/// What the finder offers is what the keys do: each line of it, run by Enter, does something or says why not.
#[test]
fn each_line_of_the_finder_runs() {
    let map = Keymap::default();
    let lines: Vec<Command> =
        map.of(ScreenId::Today).chain(map.beyond(ScreenId::Today)).map(|binding| binding.command).collect();
    assert!(lines.len() > 15, "{}", lines.len());
    for (row, command) in lines.into_iter().enumerate() {
        // The line that opens the finder opens it.
        if command == Command::Help {
            continue;
        }
        let mut app = play("2026-05-03", (80, 24), "F1").app;
        app.update(Command::GoTo(row));
        let before = app.seen();
        app.update(Command::Take);
        assert_ne!(app.seen(), before, "line {row}");
        assert!(app.screen() != ScreenId::Help || app.is_over, "line {row} left it open");
    }
}
