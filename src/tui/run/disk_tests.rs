//! The whole program on a disk that refuses one operation: it is told, one key tries again, and the visit is whole.

use std::rc::Rc;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::tests::{clock, sample};
use super::*;
use crate::store::Files;
use crate::store::faulty::{FaultyDisk, Refuses};
use crate::tui::screens::Screen;

/// A visit to one hive: weather, two findings, an action, a note, saved.
const VISIT: &str = "⏎68⏎4⏎n⏎⏎13↓8↓⇥⏎ocalm⏎s⏎";

fn code(c: char) -> KeyCode {
    match c {
        '⏎' => KeyCode::Enter,
        '↓' => KeyCode::Down,
        '⇥' => KeyCode::Tab,
        other => KeyCode::Char(other),
    }
}

/// Walks the visit with the n-th operation refused; how often the keeper was told, and how many operations there were.
fn visit(refuses: Option<u64>) -> (usize, u64) {
    let root = tempfile::tempdir().unwrap();
    let path = root.path().join("book");
    let before = BookFolder::create(&path, &sample()).unwrap();
    drop(before);
    let disk = FaultyDisk::new(Refuses::Never);
    let files = Files::on(Rc::new(disk.clone()));
    let (folder, book) = BookFolder::open_on(files, &path, "2026-08-08".parse().unwrap()).unwrap();
    let opened = disk.asked();
    if let Some(n) = refuses {
        disk.set(Refuses::At(opened + n));
    }
    let mut desk = Desk::new(folder, None, vec![root.path().join("emergency")]);
    let mut app = App::new(book, "2026-05-03".parse().unwrap(), clock(), 7, Theme::none());
    let mut told = 0;
    let mut press = |app: &mut App, desk: &mut Desk, code| {
        for effect in super::press(app, &KeyEvent::new(code, KeyModifiers::NONE)) {
            desk.carry_out(effect, app);
        }
        if let Some(Screen::Trouble(trouble)) = app.screens.last() {
            assert!(
                trouble.what.contains("the test disk refuses") || trouble.what.contains("no longer there")
            );
            assert!(!trouble.mend.is_empty());
            told += 1;
            return true;
        }
        false
    };
    for c in VISIT.chars() {
        // One key tries again.
        if press(&mut app, &mut desk, code(c)) {
            assert!(!press(&mut app, &mut desk, KeyCode::Enter), "the disk is sound again");
            assert_eq!(app.unwritten, None);
        }
    }
    assert!(app.walk.is_none(), "saved: {:?}", app.message);
    let (place, again) = BookFolder::open(&path, "2026-08-08".parse().unwrap()).unwrap();
    assert_eq!(again.visits.len(), sample().visits.len() + 1);
    let saved = again.visits.iter().find(|v| v.on.to_string() == "2026-05-03").unwrap();
    let entry = &saved.entries[0];
    assert!(entry.note == "calm" && entry.findings.bees.is_some() && !entry.answers.is_empty(), "{entry:?}");
    let left = place.left_drafts(&[root.path().join("emergency")]).unwrap();
    assert!(left.iter().all(|l| l.visit.as_ref().unwrap().id == saved.id), "{left:?}");
    (told, disk.asked() - opened)
}

#[test]
fn each_operation_that_is_refused_is_told_and_tried_again_by_one_key() {
    let (told, operations) = visit(None);
    assert_eq!(told, 0);
    assert!(operations > 40, "{operations}");
    let mut quiet = Vec::new();
    for n in 1..=operations {
        let (told, _) = visit(Some(n));
        assert!(told <= 1, "operation {n} was told {told} times");
        if told == 0 {
            quiet.push(n);
        }
    }
    // Only what follows the saved visit is not told of: the draft that stays is put away at the next start.
    let first = quiet.first().copied().unwrap_or(operations);
    assert!(quiet.len() <= 4 && first + 4 > operations, "{quiet:?} of {operations}");
}
