//! Nothing typed is lost: each entry of text, each tick and pin, against Ctrl-C, a closed window, and two kills. After each
//! the program is started again, and what was typed stands where it was typed.

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

use support::Terminal;
use support::keys::*;

/// One entry: how to come to it, what is typed there, what then stands on the screen, and how to go away from it.
struct Entry {
    come: fn(&mut Terminal),
    typed: &'static str,
    stands: &'static str,
    leave: fn(&mut Terminal),
}

fn to_today(t: &mut Terminal) {
    t.press(ESC, "Today, Sunday");
}

fn to_hive(t: &mut Terminal) {
    t.press(ESC, "NEEDS NOW");
}

/// From the day, before the first visit, to what may be typed there; then at the hive.
fn to_bloom(t: &mut Terminal) {
    for label in ["> Wind", "> Rain", "> In bloom"] {
        if !t.text().contains("> In bloom") {
            t.press(DOWN, label);
        }
    }
}

const ENTRIES: &[Entry] = &[
    Entry { come: |t| t.press("l", "Load list"), typed: " ", stands: "[x] 1.25 gal", leave: to_today },
    Entry {
        come: |t| {
            go_to_row(t, "] A1");
        },
        typed: "*",
        stands: "pinned",
        leave: |t| t.press("*", "[ ] A1"),
    },
    Entry {
        come: |t| {
            t.press("h", "Roster: 11");
            t.press("A", "A new yard");
        },
        typed: "Birch Lane",
        stands: "Birch Lane",
        leave: |t| {
            t.press(ESC, "Roster: 11");
            to_today(t);
        },
    },
    Entry { come: |t| t.press("t", "Practice: what"), typed: "2.5", stands: "2.5", leave: to_today },
    Entry { come: |t| t.press("=", "Calculator"), typed: "12", stands: "12", leave: to_today },
    Entry {
        come: |t| {
            go_to_row(t, "] A1");
            t.press(ENTER, "Weather at Alder Bottom");
        },
        typed: "68",
        stands: "[68",
        leave: |t| to_bloom(t),
    },
    Entry {
        come: |t| {
            // Where it is kept, the focus is on it.
            if !t.text().contains("Weather at") {
                go_to_row(t, "] A1");
                t.press(ENTER, "Weather at Alder Bottom");
            }
            t.wait_until("the focus", |screen| screen.contains(" > "));
            if !t.text().contains("empty: seen today") {
                to_bloom(t);
                t.press("2", "dandelion; empty: seen today");
                t.press(DOWN, ">   since");
            }
        },
        typed: "Apr 20",
        stands: "[Apr 20",
        leave: |t| t.press(ENTER, "A1 · Alder Bottom"),
    },
    Entry {
        come: |t| go_down_to(t, "Frames of bees"),
        typed: "13",
        stands: "Frames of bees    [13",
        leave: |t| t.press(DOWN, "> Frames of brood"),
    },
    Entry {
        come: |t| t.press("o", "Note on A1"),
        typed: "the queen is marked blue",
        stands: "the queen is marked blue",
        leave: to_hive,
    },
    Entry {
        come: |t| {
            prompt(t, "Look for q");
            t.press("p", "Put off");
        },
        typed: "rain later on",
        stands: "rain later on",
        leave: to_hive,
    },
    Entry {
        come: |t| {
            t.press("a", "What was done at A1");
            t.press("dry sugar", "fed dry sugar");
            t.press(ENTER, "Log it");
        },
        typed: "7 lb",
        stands: "[7 lb",
        leave: to_hive,
    },
    Entry { come: |t| t.press("k", "Boxes"), typed: "a", stands: "3 deep", leave: to_hive },
];

fn begin(home: &Path) -> Terminal {
    Terminal::start(home, &["demo", "--on", "2026-05-03"], 24, 80)
}

/// Types each entry, ends the program in a way, and finds it again.
fn survives(end: fn(&mut Terminal)) {
    let home = tempfile::tempdir().unwrap();
    let mut t = demo(home.path());
    for entry in ENTRIES {
        (entry.come)(&mut t);
        t.press(entry.typed, entry.stands);
        end(&mut t);
        t = begin(home.path());
        t.wait_until("the day or the hive", |s| s.contains("Today, Sunday") || s.contains("NEEDS NOW"));
        (entry.come)(&mut t);
        t.wait_for(entry.stands);
        (entry.leave)(&mut t);
    }
}

/// The first steps, where there is no book yet: each field is typed, the program ended, and the field stands as it did.
fn first_steps_survive(end: fn(&mut Terminal)) {
    let home = tempfile::tempdir().unwrap();
    let start = || Terminal::start(home.path(), &["--on", "2026-05-03"], 24, 80);
    let mut t = start();
    t.wait_for("There is no book yet");
    t.press("2", "> 2 Begin a book of my own");
    t.press(ENTER, "Which units");
    t.press("2", "> 2 Metric");
    t.press(ENTER, "Your name?");
    let steps = [
        ("Ann", "Ann", "first yard"),
        // As it is copied from a map.
        ("\x1b[200~Meadow\x1b[201~", "Meadow", "Where is it?"),
        ("\x1b[200~45.10, 6.20 400 m\n\x1b[201~", "45.10, 6.20 400 m", "(northern"),
        ("", "(northern", "How many hives"),
        ("12", "12", "Which boxes"),
    ];
    for (typed, stands, next) in steps {
        t.press(typed, stands);
        end(&mut t);
        t = start();
        t.wait_for(stands);
        t.press(ENTER, next);
    }
    t.press(ENTER, "How did most of them come?");
    t.press(ENTER, "What is on most of them now?");
    t.press("2", "[x] upper entrances open");
    end(&mut t);
    t = start();
    t.wait_for("[x] upper entrances open");
    t.press(ENTER, "In how many boxes");
    t.press(ENTER, "first one called");
    t.press(ENTER, "Yard [Meadow]");
    t.keys("q");
    assert_eq!(t.end(), 0);
    let data = home.path().join(".local/share/yardwalk");
    assert!(!data.join("first-steps.lines").exists(), "they are done");
    let book = fs::read_to_string(data.join("bees/yard.ron")).unwrap();
    assert!(book.contains("units: Metric") && book.contains("keeper: \"Ann\""), "{book}");
}

fn ctrl_c(t: &mut Terminal) {
    t.keys("\x03");
    t.end();
}

fn close_the_window(t: &mut Terminal) {
    t.signal("-HUP");
    t.end();
}

fn ask_to_end(t: &mut Terminal) {
    t.signal("-TERM");
    t.end();
}

#[test]
fn nothing_typed_is_lost_by_ctrl_c() {
    survives(ctrl_c);
    first_steps_survive(ctrl_c);
}

#[test]
fn nothing_typed_is_lost_by_a_closed_window() {
    survives(close_the_window);
    first_steps_survive(close_the_window);
}

#[test]
fn nothing_typed_is_lost_by_a_request_to_end() {
    survives(ask_to_end);
    first_steps_survive(ask_to_end);
}

#[test]
fn nothing_typed_is_lost_by_a_kill() {
    survives(Terminal::kill);
    first_steps_survive(Terminal::kill);
}
