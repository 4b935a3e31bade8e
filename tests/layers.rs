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
    ("wording", &["model"]),
    ("season", &["model", "wording"]),
    ("colony", &["model", "wording", "season"]),
    ("advice", &["model", "wording", "season", "colony"]),
    ("plan", &["model", "wording", "season", "colony", "advice"]),
    ("report", &["model", "wording", "season", "colony", "advice", "plan", "rehearsal"]),
    ("store", &["model"]),
    ("session", &["model", "wording", "season", "colony", "advice", "plan", "store", "rehearsal"]),
    ("simulated", &["model"]),
    ("rehearsal", &["model", "wording", "season", "advice", "simulated"]),
    ("plain", &["model", "wording", "advice", "plan", "report", "session"]),
    ("tui", &["model", "wording", "season", "colony", "advice", "plan", "report", "session", "rehearsal"]),
];

/// The one file of the session and its front ends that calls the store.
const CALLS_THE_STORE: &str = "src/session/desk.rs";

/// Words of files, clock and terminal, which the pure rooms may not hold outside their tests.
const IMPURE: &[&str] =
    &["std::fs", "std::env", "std::io", "Local::now", "Utc::now", "SystemTime", "crossterm", "ratatui"];

/// Files of one idea that are long as a table is long.
const TABLES: &[(&str, usize)] = &[("src/advice/rules/table.rs", 600)];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

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

/// Files under a folder of `src` that are no tests, with their text as far as their own tests.
fn code(folder: &str) -> Vec<(String, String)> {
    let is_test = |path: &Path| {
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        // The table of the rules' cases lies among them.
        let is_table = ["table.rs", "table_more.rs"]
            .iter()
            .any(|name| path.ends_with(Path::new("advice/rules").join(name)));
        name == "tests" || name.ends_with("_tests") || name == "testing" || is_table
    };
    files(&root().join("src").join(folder))
        .into_iter()
        .filter(|path| !is_test(path))
        .map(|path| {
            let text = fs::read_to_string(&path).unwrap();
            let code = text.split("#[cfg(test)]\nmod tests").next().unwrap().to_owned();
            (path.strip_prefix(root()).unwrap().to_string_lossy().replace('\\', "/"), code)
        })
        .collect()
}

fn named_after(text: &str, start: &str) -> Vec<String> {
    text.match_indices(start)
        .map(|(at, _)| {
            text[at + start.len()..]
                .chars()
                .take_while(|c| c.is_ascii_alphanumeric() || *c == '_')
                .collect::<String>()
        })
        .filter(|name| !name.is_empty())
        .collect()
}

#[test]
fn every_room_names_only_the_rooms_it_may() {
    let mut read = 0;
    for (room, may) in MAY_NAME {
        for (file, text) in code(room) {
            assert!(!text.contains("use crate::{"), "{file}: name the room, `use crate::room::...`");
            for named in named_after(&text, "crate::") {
                let known = MAY_NAME.iter().any(|(r, _)| *r == named);
                assert!(
                    !known || named == *room || may.contains(&named.as_str()),
                    "{file} names `{named}`, which `{room}` may not"
                );
            }
            read += 1;
        }
    }
    assert!(read > 60, "only {read} files were read");
}

#[test]
fn the_store_is_called_from_one_file() {
    for room in ["session", "plain", "tui"] {
        for (file, text) in code(room) {
            let names = named_after(&text, "crate::").iter().any(|r| r == "store");
            assert!(!names || file == CALLS_THE_STORE, "{file} calls the store: ask the desk");
        }
    }
}

#[test]
fn no_screen_knows_another() {
    let screens: Vec<String> = fs::read_dir(root().join("src/tui/screens"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_dir())
        .map(|path| path.file_name().unwrap().to_string_lossy().into_owned())
        .collect();
    assert!(screens.len() > 20, "{screens:?}");
    for screen in &screens {
        for (file, text) in code(&format!("tui/screens/{screen}")) {
            let named = named_after(&text, "screens::");
            let others: Vec<&String> = named.iter().filter(|n| screens.contains(n) && *n != screen).collect();
            assert!(others.is_empty(), "{file} knows {others:?}: say where to go by a `To`");
        }
    }
}

#[test]
fn the_session_knows_no_screen_and_the_terminal_program_draws_alone() {
    for (file, text) in code("session").into_iter().chain(code("plain")) {
        for word in ["ratatui", "crossterm", "tui_input"] {
            assert!(!text.contains(word), "{file} holds `{word}`");
        }
    }
}

/// A rule's name stands in its own file. Others take it from there, so that a rule can be renamed or go by itself.
#[test]
fn a_rules_name_stands_in_its_own_file_only() {
    let ids: Vec<(String, String)> = code("advice/rules")
        .into_iter()
        .flat_map(|(file, text)| {
            let ids: Vec<String> = text
                .match_indices("    id: \"")
                .map(|(at, start)| text[at + start.len()..].split('"').next().unwrap().to_owned())
                .collect();
            ids.into_iter().map(move |id| (file.clone(), id))
        })
        .collect();
    assert!(ids.len() > 25, "{ids:?}");
    // What former formats meant is history.
    let is_history = |file: &str| file == "src/model/former.rs";
    for room in
        ["model", "season", "colony", "advice", "plan", "report", "store", "session", "plain", "tui", "cli"]
    {
        for (file, text) in code(room) {
            for (own, id) in &ids {
                let quoted = format!("\"{id}\"");
                assert!(
                    file == *own || is_history(&file) || !text.contains(&quoted),
                    "{file} names the rule {id}, which {own} is about"
                );
            }
        }
    }
}

#[test]
fn the_pure_rooms_touch_no_file_clock_or_terminal() {
    for room in ["model", "wording", "season", "colony", "advice", "plan", "report"] {
        for (file, text) in code(room) {
            for word in IMPURE {
                assert!(!text.contains(word), "{file} holds `{word}`");
            }
        }
    }
}

/// A day is written in one room only, so that it reads the same everywhere. It takes the shortest form from the units,
/// since an action says itself what was done.
#[test]
fn days_and_hours_are_written_by_the_wording_room_only() {
    for room in ["model", "season", "colony", "advice", "plan", "report", "session", "plain", "tui", "cli"] {
        for (file, text) in code(room).into_iter().filter(|(file, _)| !file.ends_with("model/units.rs")) {
            for (at, _) in text.match_indices(".format(\"%") {
                let line = text[..at].lines().count();
                // File names hold a day in figures, as ISO 8601 writes it.
                let is_iso = text[at..].starts_with(".format(\"%Y");
                assert!(is_iso, "{file}:{line} writes a day by itself: use `wording`");
            }
        }
    }
}

#[test]
fn every_file_says_what_it_is_and_none_grows_beyond_500_lines() {
    for file in files(&root().join("src")).into_iter().chain(files(&root().join("tests"))) {
        let text = fs::read_to_string(&file).unwrap();
        let most = TABLES.iter().find(|(name, _)| file.ends_with(name)).map_or(500, |(_, most)| *most);
        assert!(text.starts_with("//! "), "{} does not begin with its page", file.display());
        assert!(text.lines().count() <= most, "{} is too long", file.display());
    }
}
