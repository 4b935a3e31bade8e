//! Stories by keys alone, in a pseudo-terminal: plan, walk, log, plan again.

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

use support::keys::*;
use support::{Terminal, files_below, run};

#[test]
fn plan_walk_log_and_plan_again() {
    let home = tempfile::tempdir().unwrap();
    let mut t = demo(home.path());
    walk_to_a1(&mut t);

    // A1: an empty bottom box under a strong cluster. The prompt changes as the findings come in.
    t.wait_for("Look into the bottom box");
    field(&mut t, "Frames of bees", "13");
    field(&mut t, "Bottom box", "1");
    t.wait_for("Reverse the two boxes");
    assert!(!t.text().contains("Look into the bottom box"));
    // Accept it: the action is logged.
    prompt(&mut t, "should Reverse the");
    t.wait_for("1 reversed the boxes");
    t.press(ENTER, "done: reversed the two lowest boxes");
    // Put the wash off, with a reason.
    prompt(&mut t, "Wash for mi");
    t.press("p", "Put off at A1");
    t.press("3", "> 3 not on the truck");
    t.press(RIGHT, "May 5, 2026");
    t.press(ENTER, "put off to May 5: mite wash");

    // A2: brood across the joint is left alone.
    t.press("g", "A2 · Alder Bottom");
    field(&mut t, "Frames of bees", "12");
    field(&mut t, "Bottom box", "5");
    t.wait_for("Leave the boxes as they are");
    assert!(!t.text().contains("Reverse the two boxes"));

    // A3: three frames of bees over an empty box: take it off.
    t.press("g", "A3 · Alder Bottom");
    field(&mut t, "Frames of bees", "3");
    field(&mut t, "Bottom box", "1");
    t.wait_for("Take the bottom box off");

    // Wrap up, save, and the new plan no longer holds what was done.
    t.press("s", "Wrap-up of Alder Bottom");
    t.wait_for("reversed the two lowest boxes");
    t.wait_for("mite wash put off to May 5: not on the truck");
    t.press(ENTER, "Saved: 3 hives at Alder Bottom");
    t.keys("q");
    assert_eq!(t.end(), 0);
    assert!(t.is_given_back());

    let book = home.path().join(".local/share/yardwalk/scratch/sample-yard");
    assert!(files_below(&book.join("drafts"), ".ron").is_empty(), "the draft has done its work");
    let visits: Vec<_> = files_below(&book.join("visits/2026"), ".ron")
        .into_iter()
        .filter(|p| p.to_string_lossy().contains("2026-05-03T"))
        .collect();
    assert_eq!(visits.len(), 1);
    let text = fs::read_to_string(&visits[0]).unwrap();
    for part in
        ["ReverseBoxes", "not on the truck", "\"2026-05-05\"", "bottom_box: Joint", "temperature: \"68 F\""]
    {
        assert!(text.contains(part), "{part} not in\n{text}");
    }

    let book = book.to_str().unwrap();
    let plan = |on: &str| {
        run(home.path(), &["plan", "--json", "--book", book, "--on", on, "--yard", "Alder Bottom"]).1
    };
    let rules = |on: &str, hive: &str| -> Vec<String> {
        let plan: serde_json::Value = serde_json::from_str(&plan(on)).unwrap();
        let queue = plan["yards"][0]["queue"].as_array().unwrap();
        let stop = queue.iter().find(|s| s["hive"] == hive);
        stop.map_or_else(Vec::new, |s| {
            s["prompts"].as_array().unwrap().iter().map(|p| p["rule"].as_str().unwrap().to_owned()).collect()
        })
    };
    let may_4 = rules("2026-05-04", "A1");
    assert!(
        !may_4.contains(&"nest.bottom-box".to_owned()) && !may_4.contains(&"mites.wash".to_owned()),
        "{may_4:?}"
    );
    assert!(plan("2026-05-05").contains("not on the truck"), "put off until today, with the reason");
    assert!(rules("2026-05-05", "A1").contains(&"mites.wash".to_owned()));
    // The sample's own visit of 10 May washes A1; the promise made on 3 May falls due on the 17th.
    let may_17 = rules("2026-05-17", "A1");
    assert!(
        may_17.contains(&"followup".to_owned()),
        "the nest was to be looked at after a fortnight: {may_17:?}"
    );
}

#[test]
fn undo_takes_back_what_a_key_logged_and_redo_brings_it_again() {
    let home = tempfile::tempdir().unwrap();
    let mut t = demo(home.path());
    t.press(ENTER, "Weather at");
    t.keys(&ENTER.repeat(4));
    t.wait_for("A4 · Alder Bottom");
    t.press(TAB, "1 feeder filled");
    t.press(ENTER, "done: fed 1 gal of thin (1:1) syrup");
    t.press("u", "Undone");
    t.wait_gone("done: fed 1 gal");
    t.press("r", "done: fed 1 gal of thin (1:1) syrup");
}

#[test]
fn a_new_size_is_drawn_right_and_too_small_a_one_says_so() {
    let home = tempfile::tempdir().unwrap();
    let mut t = demo(home.path());
    t.resize(17, 59);
    t.wait_for("yardwalk needs 60 by 18");
    t.resize(40, 120);
    t.wait_for("Fill the feeder: 1 gal of thin syrup");
    t.wait_for("package");
    t.keys("\x03");
    assert_eq!(t.end(), 0);
    assert!(t.is_given_back());
}

#[test]
fn with_no_book_the_first_steps_make_one_and_the_first_visit_is_saved() {
    let home = tempfile::tempdir().unwrap();
    let mut t = Terminal::start(home.path(), &["--on", "2026-05-03"], 24, 80);
    t.wait_for("There is no book yet");
    t.press("2", "> 2 Begin a book of my own");
    t.press(ENTER, "Which units");
    t.press(ENTER, "Your name?");
    t.press("Ann", "Ann");
    t.press(ENTER, "first yard");
    t.press("Meadow", "Meadow");
    t.press(ENTER, "Where is it?");
    t.keys("43.2, -86.1 650 ft");
    t.press(ENTER, "43.2 N, 86.1 W, 650 ft (northern");
    t.press(ENTER, "How many hives");
    t.press("3", "> 3");
    t.press(ENTER, "Which boxes");
    t.press(ENTER, "How did most of them come?");
    t.press(ENTER, "What is on most of them now?");
    t.press("2", "[x] upper entrances open");
    t.press(ENTER, "In how many boxes");
    t.press(ENTER, "first one called");
    t.press(ENTER, "Yard [Meadow]");
    t.press(ENTER, "Weather at Meadow");
    t.keys(&ENTER.repeat(4));
    t.wait_for("1 · Meadow");
    t.press("s", "Wrap-up of Meadow");
    t.press(ENTER, "Nothing was written at any hive");
    t.press(ESC, "1 · Meadow");
    field(&mut t, "Frames of bees", "8");
    t.press("s", "still due: ");
    t.press(ENTER, "Saved: 1 hive at Meadow");
    t.keys("q");
    assert_eq!(t.end(), 0);
    let (code, out, _) = run(home.path(), &["check"]);
    assert!(code == 0 && out.contains("1 yard, 3 hives, 1 visit"), "{out}");
}

#[test]
fn question_mark_shows_the_real_keys_of_the_place() {
    let home = tempfile::tempdir().unwrap();
    let mut t = demo(home.path());
    t.press("?", "Keys: Today");
    t.wait_for("next weeks");
    t.press(ESC, "Today, Sunday");
    t.press("h", "Roster: 11 hives");
    t.press(ENTER, "Card of A1");
    t.wait_for("HISTORY");
}

#[test]
fn a_bloom_noted_moves_the_spring_and_an_own_threshold_is_saved() {
    let home = tempfile::tempdir().unwrap();
    let mut t = demo(home.path());
    t.press("y", "Season of Alder Bottom");
    t.wait_for("What the bees do");
    t.wait_for("Frames may be lifted");
    t.press(ESC, "Today, Sunday");
    // Dandelion was noted on 25 April in the sample; the main bloom is noted now, five weeks early, and tells more.
    t.press(ENTER, "Weather at");
    t.keys(&ENTER.repeat(3));
    t.press("3", "[main flow");
    t.press(ENTER, ">   since");
    t.press(ENTER, "0 of 6 done");
    t.press(ESC, "Today, Sunday");
    t.press("y", "main flow on May 3, 21 days early");
    t.press("t", "Practice: what the advice goes by");
    t.press(ESC, "Season of");
    t.press(ESC, "Today, Sunday");
    t.press("t", "> Treat above");
    t.keys("30");
    t.press(ENTER, "`30` does not fit treat above");
    t.press("\x7f\x7f\x1b", "> Treat above                            2 mites");
    t.keys("3,5");
    t.press(ENTER, "Saved in yard.ron");
    t.wait_for("3.5 mites per 100 bees");
    t.press(ESC, "Today, Sunday");
    t.keys("q");
    assert_eq!(t.end(), 0);
    let book = home.path().join(".local/share/yardwalk/scratch/sample-yard");
    let text = fs::read_to_string(book.join("yard.ron")).unwrap();
    assert!(text.contains("mite_limit: 3.5"), "{text}");
    assert_eq!(files_below(&book.join("former"), ".ron").len(), 2, "the former yard.ron is kept");
    let practice = run(home.path(), &["practice", "--json", "--book", book.to_str().unwrap()]).1;
    let practice: serde_json::Value = serde_json::from_str(&practice).unwrap();
    assert_eq!(practice["thresholds"][0]["value"], 3.5);
    assert_eq!(practice["thresholds"][0]["from"], "yours");
    // The draft with the bloom is taken up where it was left.
    let mut t = Terminal::start(home.path(), &["demo", "--on", "2026-05-03"], 24, 80);
    t.wait_for("Taken up where it was left");
    t.press(ESC, "Today, Sunday");
    t.press("y", "main flow on May 3, 21 days early");
    t.keys("\x03");
    assert_eq!(t.end(), 0);
}

#[test]
fn a_week_from_the_load_list_to_the_next_plan_with_a_surprise_between() {
    let home = tempfile::tempdir().unwrap();
    let mut t = demo(home.path());
    // The load list: two things are put on the truck.
    t.press("l", "Load list for Alder Bottom");
    t.wait_for("LIKELY");
    t.wait_for("wash kit");
    t.press(ENTER, "[x]");
    go_to_row(&mut t, "] 0.2 gal of alcohol");
    t.press(ENTER, "[x] 0.2 gal of alcohol");
    t.press(ESC, "Today, Sunday");
    // A3 is pinned first, the reason says so, and the visit begins there.
    go_to_row(&mut t, "] A3");
    t.press("*", "order: pinned by you");
    t.press(ENTER, "Weather at Alder Bottom");
    t.keys("68");
    t.keys(&ENTER.repeat(4));
    t.wait_for("A3 · Alder Bottom");
    // The surprise: sunken caps. All else falls silent, and the inspector is to be called.
    field(&mut t, "Frames of bees", "9");
    field(&mut t, "Disease signs", "4");
    t.wait_for("STOP");
    assert!(!t.text().contains("Wash for mites"), "{}", t.text());
    prompt(&mut t, "STOP");
    t.keys(ENTER);
    t.press("s", "Wrap-up of Alder Bottom");
    t.wait_for("called the inspector");
    t.press(ENTER, "Saved: 1 hive at Alder Bottom");
    // The weeks ahead are planned anew from it.
    t.press("n", "Weeks ahead");
    t.press(TAB, "Ready for winter?");
    t.press(TAB, "What each hive is worth");
    t.press(ESC, "Today, Sunday");
    t.keys("q");
    assert_eq!(t.end(), 0);

    let book = home.path().join(".local/share/yardwalk/scratch/sample-yard");
    let visit = files_below(&book.join("visits/2026"), ".ron")
        .into_iter()
        .find(|p| p.to_string_lossy().contains("2026-05-03T"))
        .unwrap();
    let text = fs::read_to_string(visit).unwrap();
    for part in ["truck: [", "item: \"alcohol, 70 %\"", "CallInspector", "disease: Sunken"] {
        assert!(text.contains(part), "{part} not in\n{text}");
    }
    let book = book.to_str().unwrap();
    let (code, out, _) = run(home.path(), &["plan", "--json", "--book", book, "--on", "2026-05-09"]);
    assert_eq!(code, 0);
    let plan: serde_json::Value = serde_json::from_str(&out).unwrap();
    let queue = plan["yards"][0]["queue"].as_array().unwrap();
    let last = queue.last().unwrap();
    assert_eq!(last["hive"], "A3", "suspected disease is last of the queue next week: {queue:?}");
    assert!(last["prompts"].as_array().unwrap().iter().any(|p| p["rule"] == "disease.suspect"), "{last}");
    let (_, ics, _) = run(home.path(), &["export", "ics", "--book", book, "--on", "2026-05-09"]);
    assert!(ics.contains("A3:"), "the next trip goes there");
}
