//! A storm of random keys over the whole program, on a disk that refuses now and then.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use ratatui::backend::TestBackend;

use super::tests::{Script, clock, sample};
use super::*;
use crate::store::faulty::{FaultyDisk, Refuses};
use crate::store::{BookFolder, Files};

/// Opens a book as a start of the program does, on a disk of the test's.
fn opened_on(disk: &FaultyDisk, path: &std::path::Path, start: u16) -> App {
    disk.set(Refuses::Never);
    let files = Files::on(std::rc::Rc::new(disk.clone()));
    let (folder, book) = BookFolder::open_on(files, path, "2026-08-08".parse().unwrap()).unwrap();
    let opening = crate::session::Opening {
        today: "2026-05-03".parse().unwrap(),
        clock,
        offset: |_| chrono::FixedOffset::east_opt(0).unwrap(),
        seed: start,
        emergency: Vec::new(),
        config: None,
    };
    let settings = crate::model::Settings::default();
    let (open, done) = OpenBook::open(folder, book, settings, &opening).unwrap();
    // The disk refuses now and then, for some thirty operations on end.
    disk.set(Refuses::Runs(997, 30));
    App::new(open, Appearance::default(), done)
}

/// A book on the disk as `check` finds it: nothing is left out, at fault or set up in two ways.
fn is_whole(path: &std::path::Path) -> crate::store::Contents {
    let found = crate::store::read_all(path).unwrap();
    assert!(found.left_out.is_empty() && found.differences.is_empty(), "{:?}", found.left_out);
    let faults = found.book.faults("2026-08-08".parse().unwrap());
    assert!(faults.is_empty(), "{faults:?}");
    found
}

/// Random keys over the whole program, led now and then to the hives and to the set-up, with a restart in between. So many
/// as `STORM_KEYS` says: half a million take some minutes.
#[test]
fn a_storm_of_keys_breaks_nothing() {
    let strokes: usize = std::env::var("STORM_KEYS").ok().and_then(|n| n.parse().ok()).unwrap_or(50_000);
    let keys: Vec<KeyCode> = "0123456789ynpxwmourbcsg?ht.kldviejafzAW*,!-+/="
        .chars()
        .map(KeyCode::Char)
        .chain([KeyCode::Enter, KeyCode::Esc, KeyCode::Esc, KeyCode::Enter, KeyCode::Tab, KeyCode::Backspace])
        .chain([KeyCode::Up, KeyCode::Down, KeyCode::Left, KeyCode::Right, KeyCode::Down, KeyCode::Enter])
        .chain([KeyCode::F(1), KeyCode::F(2), KeyCode::F(3), KeyCode::PageUp, KeyCode::PageDown])
        .collect();
    let root = tempfile::tempdir().unwrap();
    let path = root.path().join("book");
    BookFolder::create(&path, &sample()).unwrap();
    let disk = FaultyDisk::new(Refuses::Never);
    let mut app = opened_on(&disk, &path, 0);
    let mut terminal = Terminal::new(TestBackend::new(80, 24)).unwrap();
    // A linear congruential generator (Numerical Recipes' constants): the same storm every time.
    let mut state: u32 = 20_260_503;
    let mut places = std::collections::BTreeSet::new();
    let (mut set_ups, mut starts, mut was_refused) = (0, 0, false);
    for step in 0..strokes {
        // A random walk alone hardly ever gets through the weather to the hives, or through a form: now and then it is led.
        let led: Vec<KeyCode> = match step % 1_200 {
            0 | 600 => Script::of("Esc Esc Esc Esc Esc Enter Enter Enter Enter Enter Tab p").0,
            300 | 900 => Script::of("Esc Esc Esc Esc Esc Enter Enter Enter Enter Enter").0,
            450 => Script::of("Esc Esc Esc Esc Esc h A y Enter Enter Enter Enter Enter Enter").0,
            750 => {
                Script::of("Esc Esc Esc Esc Esc h e 7 Enter Enter Enter Enter Enter Enter Enter Enter u").0
            }
            1_050 => Script::of("Esc Esc Esc Esc Esc t 3 Enter Esc h u").0,
            _ => {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                vec![keys[(state >> 8) as usize % keys.len()]]
            }
        };
        for code in led.into_iter().rev() {
            let before = app.session().book().yards.clone();
            let at = app.screen().words();
            press(&mut app, &KeyEvent::new(code, KeyModifiers::NONE));
            let was_told = app.message.as_ref().is_some_and(|said| said.text.contains("NOT ON THE DISK"));
            was_refused |= was_told || app.session().trouble().is_some();
            if app.is_over {
                // The finder lists the way out too. Nothing else ends it without a `q`.
                assert_eq!(at, ScreenId::Help.words());
                starts += 1;
                drop(app);
                app = opened_on(&disk, &path, starts);
                break;
            }
            set_ups += usize::from(app.session().book().yards != before);
        }
        places.insert(app.screen().words());
        assert!(!app.is_over && !app.screens().is_empty());
        // Drawn and checked whole now and then: each time it would be a minute.
        if step % 25 == 0 {
            terminal.draw(|frame| app.draw(frame)).unwrap();
            let faults = app.session().book().faults(app.session().last_day());
            assert!(faults.is_empty(), "what the keys made holds together: {faults:?}");
        }
        if let Some(open) = app.session().visit() {
            assert!(open.at < open.queue.len() && open.visit.entries.iter().all(|e| e.faults().is_empty()));
        }
        if step % 1_000 == 999 {
            let found = is_whole(&path);
            let held = app.session().book();
            // One that was refused may be in its place all the same, where the disk did not take it back either.
            let is_held = found.book.yards == held.yards;
            assert!(is_held || was_refused, "key {step}: the set-up on the disk is that of the program");
            let are_there =
                held.visits.iter().all(|visit| found.book.visits.iter().any(|v| v.id == visit.id));
            assert!(are_there, "key {step}: every visit is on the disk");
            assert!(found.book.visits.len() == held.visits.len() || was_refused, "key {step}: and no other");
        }
        if step % 7_000 == 6_999 {
            starts += 1;
            drop(app);
            app = opened_on(&disk, &path, starts);
            was_refused = false;
        }
    }
    let logged = app.session().book().visits.len();
    assert!(logged > sample().visits.len(), "the storm saved no visit, so it went nowhere");
    assert!(set_ups > strokes / 2_000, "the storm set up {set_ups} times");
    assert_eq!(
        places.len(),
        ScreenId::ALL.len() - 5,
        "all but the first steps, a book to mend, midnight, comments and a rehearsal: {places:?}"
    );
}
