//! A rehearsed year in a terminal, by keys: a long visit, a short one, a kill, the winter, and what really was.

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

/// Chooses when to come back by typing a day, and waits for that day's Today.
fn come_back(t: &mut Terminal, day: &str, wanted: &str) {
    t.press("D", "When do you come back?");
    t.press(&DOWN.repeat(9), "> 7 another day");
    t.press(day, &format!("{day}_"));
    t.press(ENTER, wanted);
}

/// Begins a visit at the first hive.
fn begin(t: &mut Terminal) {
    t.press(ENTER, "REHEARSAL · Weather");
    t.press(ENTER, "> Wind");
    t.press(ENTER, "> Rain");
    t.press(ENTER, "> In bloom");
    t.press(ENTER, "NEEDS NOW");
    t.wait_for("REHEARSAL · R1");
}

/// A year of one colony; gives what is printed of it.
fn year(home: &Path) -> String {
    let arguments =
        ["rehearse", "--hives", "1", "--start", "overwintered", "--seed", "5", "--on", "2026-11-27"];
    let mut t = Terminal::start(home, &arguments, 24, 80);
    t.wait_for("REHEARSAL · Today, Friday, March 20");
    // A long visit: the bees answer what is looked at.
    begin(&mut t);
    t.press(ENTER, "[no ");
    for field in ["Pollen", "Heft", "Seams"] {
        t.press(ENTER, &format!("> {field}"));
    }
    t.press(ENTER, "That was the last to look at");
    t.press("s", "Wrap-up of Home yard");
    t.wait_for("found:");
    t.press(ENTER, "Today, Friday, March 20");
    come_back(&mut t, "Jun 20", "REHEARSAL · Today, Saturday, June 20");
    // Killed between two keys, nothing is lost: it is still that day.
    t.kill();
    let mut t = Terminal::start(home, &["rehearse"], 24, 80);
    t.wait_for("REHEARSAL · Today, Saturday, June 20");
    // A short visit: it is fine.
    begin(&mut t);
    t.press(TAB, "REHEARSAL · R1");
    t.press("i", "fine");
    t.press("s", "Wrap-up of Home yard");
    t.press(ENTER, "REHEARSAL · Today, Saturday, June 20");
    let (code, _, err) = run(home, &["rehearse", "--report"]);
    assert_eq!(code, 1);
    assert!(err.contains("the rehearsal runs until May 1"), "{err}");
    come_back(&mut t, "Nov 25", "REHEARSAL · Today, Wednesday, November 25");
    t.press("D", "When do you come back?");
    t.press(&DOWN.repeat(9), "> 7 another day");
    t.press("\x1b[A", "> 6 ");
    t.press(ENTER, "REHEARSAL · Today, Saturday, May 1");
    t.press("D", "REHEARSAL · What really was");
    t.wait_for("came to the end alive");
    t.press(ESC, "REHEARSAL · Today");
    t.press(ENTER, "This rehearsal is over");
    t.keys("q");
    assert_eq!(t.end(), 0);
    let (code, report, err) = run(home, &["rehearse", "--report"]);
    assert_eq!((code, err.as_str()), (0, ""));
    report
}

#[test]
fn a_year_is_rehearsed_by_keys_and_the_same_seed_is_the_same_year() {
    let (one, two) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let report = year(one.path());
    assert_eq!(report, year(two.path()));
    for part in
        ["# Rehearsal: A year", "## R1: ", "- seen: ", "- really: ", "| the same colony | you | the advice |"]
    {
        assert!(report.contains(part), "{part}\n{report}");
    }
    // It stands among the scratch books; there is still no book of real hives.
    let data = one.path().join(".local/share/yardwalk");
    assert!(data.join("scratch/rehearsal/rehearsal.ron").is_file());
    assert!(!data.join("bees").exists());
    let (code, _, err) = run(one.path(), &["plan"]);
    assert!(code == 1 && err.contains("no book"), "{err}");
    assert_eq!(files_below(&data.join("scratch/rehearsal/visits"), ".ron").len(), 2);
}

#[test]
fn another_is_begun_only_when_that_is_asked_for_and_the_former_is_moved_aside() {
    let home = tempfile::tempdir().unwrap();
    let start = |arguments: &[&str]| {
        let mut t = Terminal::start(home.path(), arguments, 24, 80);
        t.wait_for("REHEARSAL · Today");
        t.keys("q");
        assert_eq!(t.end(), 0);
    };
    start(&["rehearse", "--seed", "5"]);
    let mut t = Terminal::start(home.path(), &["rehearse", "--seed", "6"], 24, 80);
    t.wait_for("a rehearsal is under way");
    assert_eq!(t.end(), 1);
    start(&["rehearse", "--seed", "6", "--fresh"]);
    let scratch = home.path().join(".local/share/yardwalk/scratch");
    let seed = |folder: &str| fs::read_to_string(scratch.join(folder).join("rehearsal.ron")).unwrap();
    assert!(seed("rehearsal").contains("seed: 6") && seed("rehearsal.old1").contains("seed: 5"));
}

#[test]
fn a_club_writes_its_own_scenario_and_a_fault_in_it_is_told() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("ours.ron");
    let text = r#"(
        name: "ours", title: "Our first visit", story: "One hive in June.", seed: 1, from: "06-01", until: "06-20",
        hives: [(hive: "C1", start: Overwintered, made: [Bees(8), Honey(20)])],
        judged: [(what: Alive, at_least: Some(1), good: "it lives.", bad: "it died.")],
    )"#;
    fs::write(&path, text).unwrap();
    let named = path.display().to_string();
    let mut t =
        Terminal::start(home.path(), &["rehearse", "--scenario", &named, "--on", "2026-11-27"], 24, 80);
    t.wait_for("REHEARSAL · Today, Monday, June 1");
    t.press("D", "One hive in June.");
    t.press(ESC, "REHEARSAL · Today");
    t.keys("q");
    assert_eq!(t.end(), 0);
    for (from, to, told) in [
        ("Bees(8)", "Bees(80)", "frames of bees 80: write 0 to 30"),
        ("\"06-20\"", "\"06-02\"", "it runs 1 days"),
        ("what: Alive, at_least: Some(1)", "what: Alive", "is judged by nothing"),
        ("Honey(20)", "NestAbove", "needs two `boxes`"),
        ("seed: 1", "sead: 1", "sead"),
    ] {
        assert!(text.contains(from));
        fs::write(&path, text.replace(from, to)).unwrap();
        let mut t = Terminal::start(home.path(), &["rehearse", "--scenario", &named, "--fresh"], 24, 80);
        t.wait_for(told);
        assert_eq!(t.end(), 1);
    }
    let (code, out, _) = run(home.path(), &["rehearse", "--list"]);
    assert!(code == 0 && out.contains("swarm-week") && out.contains("light-september"), "{out}");
    let (code, _, err) = run(home.path(), &["rehearse", "--scenario", "nothing-such"]);
    assert!(code == 1 && err.contains("scenarios are spring-reversal"), "{err}");
}

#[test]
fn a_place_moves_the_season_and_one_that_is_too_far_is_refused() {
    let home = tempfile::tempdir().unwrap();
    let at = |place: &'static str| ["rehearse", "--place", place, "--on", "2026-11-27", "--fresh"];
    // Farther north: spring is later than at the reference, and so is the first day.
    let mut t = Terminal::start(home.path(), &at("44.47, -72.69, 650 ft"), 24, 80);
    t.wait_for("REHEARSAL · Today");
    let first = t.text();
    assert!(!first.contains("March 20, 2026"), "{first}");
    t.keys("q");
    assert_eq!(t.end(), 0);
    for (place, told) in
        [("52.5, 13.4, 120 ft", "within three weeks"), ("nowhere", "no place"), ("May 9, Oct 4", "degrees")]
    {
        let mut t = Terminal::start(home.path(), &at(place), 24, 80);
        t.wait_for(told);
        assert_eq!(t.end(), 1, "{place}");
    }
}
