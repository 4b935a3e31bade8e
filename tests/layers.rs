//! The arrows between the rooms go one way: every `use crate::room` is read, and the others are refused.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

use std::fs;
use std::path::{Path, PathBuf};

/// A room, and the rooms it may name.
const MAY_NAME: &[(&str, &[&str])] = &[
    ("model", &[]),
    ("season", &["model"]),
    ("colony", &["model", "season"]),
    ("advice", &["model", "season", "colony"]),
    ("plan", &["model", "season", "colony", "advice"]),
    ("report", &["model", "season", "colony", "advice", "plan"]),
    ("store", &["model"]),
    ("tui", &["model", "season", "colony", "advice", "plan", "report", "store"]),
];

/// In `tui` only these name the store: `desk` carries effects out, the others name a draft's steps.
const NAME_THE_STORE: &[&str] = &[
    "desk.rs",
    "run.rs",
    "run/tests.rs",
    "effect.rs",
    "walk.rs",
    "app.rs",
    "amend.rs",
    "hive/mod.rs",
    "look.rs",
    "plain.rs",
    "run/picture_tests.rs",
    "run/disk_tests.rs",
];

/// Words of files, clock and terminal, which the pure rooms may not hold outside their tests.
const IMPURE: &[&str] =
    &["std::fs", "std::env", "std::io", "Local::now", "Utc::now", "SystemTime", "crossterm", "ratatui"];

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files(&path));
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
    found
}

fn rooms_named(text: &str) -> Vec<String> {
    text.match_indices("crate::")
        .map(|(at, _)| {
            text[at + 7..].chars().take_while(|c| c.is_ascii_alphanumeric() || *c == '_').collect::<String>()
        })
        .filter(|room| !room.is_empty())
        .collect()
}

#[test]
fn every_room_names_only_the_rooms_it_may() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut read = 0;
    for (room, may) in MAY_NAME {
        for file in files(&src.join(room)) {
            let text = fs::read_to_string(&file).unwrap();
            assert!(
                !text.contains("use crate::{"),
                "{}: name the room, `use crate::room::...`",
                file.display()
            );
            for named in rooms_named(&text) {
                let known = MAY_NAME.iter().any(|(r, _)| *r == named);
                assert!(
                    !known || named == *room || may.contains(&named.as_str()),
                    "{} names `{named}`, which `{room}` may not",
                    file.display()
                );
            }
            read += 1;
        }
    }
    assert!(read > 60, "only {read} files were read");
}

#[test]
fn only_a_few_files_of_the_screens_name_the_store() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/tui");
    for file in files(&src) {
        let allowed = NAME_THE_STORE.iter().any(|name| file.ends_with(name));
        let named = rooms_named(&fs::read_to_string(&file).unwrap()).iter().any(|r| r == "store");
        assert!(allowed || !named, "{} names the store", file.display());
    }
}

#[test]
fn the_pure_rooms_touch_no_file_clock_or_terminal() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    for room in ["model", "season", "colony", "advice", "plan", "report"] {
        for file in files(&src.join(room)) {
            let text = fs::read_to_string(&file).unwrap();
            for word in IMPURE {
                assert!(!text.contains(word), "{} holds `{word}`", file.display());
            }
        }
    }
}

#[test]
fn every_file_says_what_it_is_and_none_grows_beyond_500_lines() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for file in files(&root.join("src")).into_iter().chain(files(&root.join("tests"))) {
        let text = fs::read_to_string(&file).unwrap();
        assert!(text.starts_with("//! "), "{} does not begin with its page", file.display());
        assert!(text.lines().count() <= 500, "{} is too long", file.display());
    }
}
