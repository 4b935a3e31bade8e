//! A key that is held down, or pressed again and again, writes answers at the most: it logs nothing, clears nothing and
//! dismisses nothing.

use std::collections::HashSet;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::tests::{BEGIN, app_on, play, sample};
use crate::model::Weather;
use crate::session::Intent;
use crate::store::BookFolder;
use crate::tui::app::App;
use crate::tui::keys::{KEYS, ScreenId};

/// Ten days over a year.
const DATES: [&str; 10] = [
    "2026-01-20",
    "2026-03-15",
    "2026-04-22",
    "2026-05-03",
    "2026-06-10",
    "2026-07-12",
    "2026-08-08",
    "2026-09-10",
    "2026-10-05",
    "2026-11-20",
];

/// How often a held key repeats.
const HELD: usize = 200;

/// All keys that are bound anywhere, and figures.
fn keys() -> Vec<KeyCode> {
    let mut keys: Vec<KeyCode> = KEYS.iter().map(|b| b.key).chain(('0'..='9').map(KeyCode::Char)).collect();
    keys.sort_by_key(|k| format!("{k:?}"));
    keys.dedup();
    keys
}

fn press(app: &mut App, code: KeyCode) {
    super::press(app, &KeyEvent::new(code, KeyModifiers::NONE));
}

/// What is written: the visits of the book, and of the open visit the deeds, answers and the state of each hive.
fn written(app: &App) -> (usize, Vec<String>) {
    // A correction begins with what the corrected visit holds.
    let open = app.session().visit().filter(|open| open.visit.replaces.is_none());
    let open = open.map(|open| open.visit.entries.clone()).unwrap_or_default();
    let deeds = open.iter().filter(|e| !e.actions.is_empty() || !e.answers.is_empty());
    (
        app.session().book().visits.len(),
        deeds.map(|e| format!("{}: {:?} {:?}", e.hive, e.actions, e.answers)).collect(),
    )
}

/// Holds a key until nothing new comes of it; whether it wrote anything but answers.
fn hold(app: &mut App, code: KeyCode) -> Option<String> {
    let before = written(app);
    let mut known = HashSet::new();
    for _ in 0..HELD {
        press(app, code);
        let now = written(app);
        if now != before {
            return Some(format!("{before:?} became {now:?}"));
        }
        if app.is_over || !known.insert(app.seen()) {
            break;
        }
    }
    None
}

/// At every hive of the sample on each of the days, with each key in turn.
#[test]
fn a_key_held_down_at_a_hive_logs_nothing() {
    let book = sample();
    let root = tempfile::tempdir().unwrap();
    let folder = |n: usize| BookFolder::create(&root.path().join(n.to_string()), &book).unwrap();
    let (mut tried, mut made) = (0, 0);
    for (d, on) in DATES.into_iter().enumerate() {
        let yards: Vec<_> =
            book.yards.iter().flat_map(|y| y.hives.iter().map(|h| (y.name.clone(), h.id.clone()))).collect();
        for (h, (yard, hive)) in yards.into_iter().enumerate() {
            for (k, code) in keys().into_iter().enumerate() {
                // Enter everywhere; the others go round, each on each day and at each hive in turn.
                if code != KeyCode::Enter && (d + h + k) % 6 != 0 {
                    continue;
                }
                made += 1;
                let mut app = app_on(book.clone(), folder(made), Vec::new(), on);
                let begin = Intent::Begin {
                    yard: yard.clone(),
                    hive: Some(hive.clone()),
                    weather: Weather::default(),
                    blooms: Vec::new(),
                };
                app.carry_out(begin);
                if app.screen() != ScreenId::Hive {
                    continue;
                }
                if let Some(wrote) = hold(&mut app, code) {
                    panic!("{code:?} held at {hive} on {on}: {wrote}");
                }
                tried += 1;
            }
        }
    }
    assert!(tried > 500, "{tried}");
}

/// The screens a visit leads to, before anything is chosen in them, with each key of theirs and Enter.
#[test]
fn a_key_held_down_on_any_screen_logs_nothing() {
    let hive = |keys: &str| format!("Down {BEGIN} {keys}");
    let ways = [
        (ScreenId::Today, "2026-08-08", String::new()),
        (ScreenId::Weather, "2026-05-03", "Enter".to_owned()),
        (ScreenId::Hive, "2026-05-03", hive("")),
        (ScreenId::PutOff, "2026-05-03", hive("Tab p")),
        (ScreenId::Why, "2026-05-03", hive("Tab w")),
        (ScreenId::Note, "2026-05-03", hive("o")),
        (ScreenId::Roster, "2026-05-03", "h".to_owned()),
        (ScreenId::Card, "2026-08-08", "c".to_owned()),
        (ScreenId::Load, "2026-08-08", "l".to_owned()),
        (ScreenId::Log, "2026-08-08", "v".to_owned()),
        (ScreenId::Sheet, "2026-05-03", "n".to_owned()),
        (ScreenId::Season, "2026-08-08", "y".to_owned()),
        (ScreenId::Practice, "2026-08-08", "t".to_owned()),
        (ScreenId::Search, "2026-05-03", "h /".to_owned()),
        (ScreenId::Act, "2026-05-03", hive("a")),
        (ScreenId::Form, "2026-05-03", hive("a t r e a t Enter Esc Enter")),
        (ScreenId::Form, "2026-05-03", hive("a f e d Enter")),
        (ScreenId::Stack, "2026-05-03", hive("k")),
        (ScreenId::Calc, "2026-05-03", "=".to_owned()),
        (ScreenId::Settings, "2026-05-03", ",".to_owned()),
        (ScreenId::Safety, "2026-05-03", "F2".to_owned()),
    ];
    for (place, on, way) in ways {
        let bound = KEYS.iter().filter(|b| b.place == place).map(|b| b.key);
        for code in bound.chain([KeyCode::Char('1'), KeyCode::Char('y'), KeyCode::Tab]) {
            let mut played = play(on, (80, 24), &way);
            assert_eq!(played.app.screen(), place, "{way}");
            if let Some(wrote) = hold(&mut played.app, code) {
                panic!("{code:?} held at {place:?}: {wrote}");
            }
        }
    }
}

/// After a prompt was chosen, a held Enter logs that prompt and no other.
#[test]
fn enter_on_a_chosen_prompt_logs_it_alone() {
    let mut logged = 0;
    for (d, on) in DATES.into_iter().enumerate() {
        for hives in 0..6 {
            let down = "Down ".repeat((hives + d) % 6);
            let mut played = play(on, (80, 24), &format!("{down} {BEGIN} Tab"));
            for _ in 0..HELD {
                press(&mut played.app, KeyCode::Enter);
            }
            let open =
                played.app.session().visit().map(|open| open.visit.entries.clone()).unwrap_or_default();
            let answers: usize = open.iter().map(|e| e.answers.len()).sum();
            let hives = open.iter().filter(|e| !e.actions.is_empty()).count();
            assert!(answers <= 1 && hives <= 1, "{on}: {open:?}");
            logged += answers;
        }
    }
    assert!(logged > 5, "{logged}");
}

/// A suspected disease is neither cleared nor put away by any key held on its STOP.
#[test]
fn a_stop_is_not_cleared_by_one_key() {
    // Sunken caps are found; then Tab goes to the STOP.
    let found = format!("Down {BEGIN} F1 l o o k Space d i s e a s e Enter 4 Tab");
    let screen = play("2026-06-10", (80, 24), &found);
    assert!(screen.screen.contains("STOP"), "{}", screen.screen);
    for code in keys() {
        let mut played = play("2026-06-10", (80, 24), &found);
        for _ in 0..HELD {
            press(&mut played.app, code);
        }
        let Some(open) = played.app.session().visit() else { continue };
        let hive = open.visit.entries.iter().find(|e| e.findings.disease.is_some());
        let cleared = hive.is_some_and(|e| {
            e.actions.iter().any(|a| a.name().contains("lear"))
                || e.answers.iter().any(|a| a.reply != crate::model::Reply::Done)
        });
        assert!(!cleared, "{code:?}: {hive:?}");
    }
}

/// What was found at a hive holds on Today at once: its row says STOP, and no longer what the morning's plan did.
#[test]
fn the_queue_shows_what_was_found_at_a_hive_of_the_open_visit() {
    let found = format!("Down {BEGIN} F1 l o o k Space d i s e a s e Enter 4 Esc");
    let played = play("2026-06-10", (80, 24), &found);
    assert_eq!(played.app.screen(), ScreenId::Today);
    let open = played.app.session().visit().unwrap();
    let hive = open.visit.entries.iter().find(|e| e.findings.disease.is_some()).unwrap().hive.clone();
    let row = played.screen.lines().find(|line| line.contains(&format!("] {hive} "))).unwrap();
    assert!(row.contains("STOP"), "{}", played.screen);
}
