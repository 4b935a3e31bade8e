//! What the keys may and may not do, in a terminal: one meaning a letter, nothing logged by holding a key down, a STOP that
//! takes a name and a day to clear, and a book of 1,200 hives gone through at 80 by 24.

#![cfg(unix)]
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    clippy::wildcard_imports,
    reason = "a test may stop where it likes"
)]

mod support;

use std::fs;
use std::path::Path;

use support::keys::*;
use support::{Terminal, files_below, run};
use yardwalk::model::{HiveId, Yard, YardId};
use yardwalk::store::{book_from_text, book_to_text};

/// What is kept of the visit in hand.
fn draft(home: &Path) -> String {
    let book = home.join(".local/share/yardwalk/scratch/sample-yard");
    let drafts = files_below(&book.join("drafts"), ".ron");
    assert_eq!(drafts.len(), 1, "{drafts:?}");
    fs::read_to_string(&drafts[0]).unwrap()
}

/// The letter that opens a screen does not close it, Esc does, and first aid is on `!` from each.
#[test]
fn a_letter_opens_a_screen_and_esc_closes_it() {
    let home = tempfile::tempdir().unwrap();
    let mut t = demo(home.path());
    let screens = [
        ("l", "Load list for", "Load list"),
        ("n", "Weeks ahead", "Yard sheets"),
        ("h", "Roster: ", "Roster"),
        ("y", "Season of", "Season"),
        ("v", "Log: ", "Log"),
        (",", "Settings", "Settings"),
        ("c", "Card of A4", "Hive card"),
    ];
    for (key, title, name) in screens {
        t.press(key, title);
        t.keys(key);
        for (help, shown) in [("\x1bOP", format!("Keys: {name}")), ("!", "STINGS, AND A BODY".to_owned())] {
            t.press(help, &shown);
            t.keys(ESC);
            t.wait_gone(&shown);
            t.wait_for(title);
        }
        t.press(ESC, "Today, Sunday");
    }
    t.keys("q");
    assert_eq!(t.end(), 0);
}

/// Enter held down at a hive fills no answer in and logs no deed; it stops at the last field.
#[test]
fn holding_enter_logs_nothing() {
    let home = tempfile::tempdir().unwrap();
    let mut t = demo(home.path());
    walk_to_a1(&mut t);
    t.keys(&ENTER.repeat(200));
    // The next key finds the program at the same hive.
    t.press("o", "Note on A1");
    t.press(ESC, "A1 · Alder Bottom");
    t.press(ESC, "Today, Sunday");
    t.keys("q");
    assert_eq!(t.end(), 0);
    let kept = draft(home.path());
    assert!(kept.contains("A1") && !kept.contains("reply:") && !kept.contains("actions:[("), "{kept}");
}

/// Suspected foulbrood: no key held down clears it or puts it away. To clear it the keeper types who looked, and when.
#[test]
fn a_stop_is_cleared_by_a_name_and_a_day_and_by_nothing_less() {
    let home = tempfile::tempdir().unwrap();
    let mut t = demo(home.path());
    walk_to_a1(&mut t);
    field(&mut t, "Disease signs", "4");
    t.wait_for("[sunken or ropy]");
    t.wait_for("STOP");
    for key in ["x", "i", "9", " "] {
        prompt(&mut t, "STOP");
        t.keys(&key.repeat(20));
        // First aid opens from each place this may have come to, and all of it is left for the day.
        t.press("!", "STINGS, AND A BODY");
        t.keys(ESC);
        t.wait_gone("STINGS, AND A BODY");
        t.wait_for("STOP");
        t.press(ESC, "Today, Sunday");
        go_to_row(&mut t, "] A1");
        t.press(ENTER, "A1 · Alder Bottom");
    }
    t.press(ESC, "Today, Sunday");
    t.keys("q");
    assert_eq!(t.end(), 0);
    let kept = draft(home.path());
    assert!(
        !kept.contains("DiseaseCleared") && !kept.contains("reply:") && !kept.contains("fine:"),
        "{kept}"
    );
    // By a name and a day: Enter alone goes nowhere.
    let mut t = Terminal::start(home.path(), &["demo", "--on", "2026-05-03"], 24, 80);
    t.wait_for("A1 · Alder Bottom");
    prompt(&mut t, "STOP");
    t.press("2", "Cleared by");
    t.keys(&ENTER.repeat(20));
    t.press("\x1b[A", "> Cleared by");
    t.press("lab", "< a laboratory >");
    t.press(DOWN, "> Cleared on");
    t.press("May 3", "[May 3");
    t.press(TAB, "> Log it");
    t.press(ENTER, "Logged");
    t.press(ESC, "Today, Sunday");
    t.keys("q");
    assert_eq!(t.end(), 0);
    let kept = draft(home.path());
    assert!(kept.contains("DiseaseCleared(by:Laboratory,on:\"2026-05-03\")"), "{kept}");
}

/// Twenty yards of sixty hives: the chosen yard is always on the screen, and the list goes by pages and by search.
#[test]
fn a_book_of_1200_hives_is_gone_through_at_80_by_24() {
    let home = tempfile::tempdir().unwrap();
    let sample = fs::read_to_string("sample-yard.ron").unwrap();
    let mut book = book_from_text(&sample, Path::new("sample-yard.ron")).unwrap();
    let mut hive = book.yards[0].hives[0].clone();
    hive.formerly.clear();
    book.visits.clear();
    book.yards = (1..=20)
        .map(|at| {
            let mut yard = Yard::named(YardId::new(format!("Long Meadow {at}")));
            for stand in 1..=60 {
                hive.id = HiveId::new(format!("{at}-{stand}"));
                yard.hives.push(hive.clone());
            }
            yard
        })
        .collect();
    let (file, folder) = (home.path().join("large.ron"), home.path().join("large"));
    fs::write(&file, book_to_text(&book, &file).unwrap()).unwrap();
    let (file, folder) = (file.to_str().unwrap(), folder.to_str().unwrap());
    assert_eq!(run(home.path(), &["restore", file, "--to", folder]).0, 0);
    let mut t = Terminal::start(home.path(), &["--book", folder, "--on", "2026-05-03"], 24, 80);
    for yard in 1..=20 {
        t.wait_for(&format!("[Long Meadow {yard}]"));
        t.keys(RIGHT);
    }
    let chosen = |screen: &str| screen.lines().find(|l| l.starts_with(">[ ]")).unwrap_or_default().to_owned();
    t.wait_until("a chosen hive", |screen| !chosen(screen).is_empty());
    let first = chosen(&t.text());
    t.keys("\x1b[6~");
    t.wait_until("another page", |screen| !chosen(screen).is_empty() && chosen(screen) != first);
    t.press("/", "search:");
    t.keys("-57");
    t.wait_until("the one hive", |screen| {
        chosen(screen).contains("-57") && screen.matches("[ ] ").count() == 1
    });
    t.keys(ESC);
    t.wait_until("the whole list", |screen| screen.matches("[ ] ").count() > 1);
    t.keys("q");
    assert_eq!(t.end(), 0);
}
