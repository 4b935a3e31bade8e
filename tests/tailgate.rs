//! Worked with gloves, by keys alone in a pseudo-terminal: few keystrokes, nothing lost in undo, resize, suspend or theme, taps
//! where they are taken, yards and hives set up and changed.

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

/// A terminal whose keystrokes are counted.
struct Counted {
    t: Terminal,
    strokes: usize,
}

impl Counted {
    fn press(&mut self, keys: &str, wanted: &str) {
        self.strokes += if keys.starts_with('\x1b') { 1 } else { keys.chars().count() };
        self.t.press(keys, wanted);
    }

    /// Answers the field in focus, whichever it is, as on a good day in June, and goes on to the next.
    fn answer(&mut self) {
        let line = focused(&self.t.text());
        let (keys, shown) = match line.trim_start_matches(" > ") {
            l if l.starts_with("Frames of bees") => ("9", "[9 "),
            l if l.starts_with("Frames of brood") => ("6", "[6 "),
            l if l.starts_with("Super filled") => ("70", "[70"),
            l if l.starts_with("Queen cells") => ("0", "[0 "),
            l if l.starts_with("Mites in the wash") => ("2", "[2 "),
            l if l.starts_with("Eggs") => ("y", "[yes"),
            l if l.starts_with("Disease signs") => ("1", "[none"),
            // The rest is passed over, the bees of the wash too: half a cup is about 300.
            _ => ("", ""),
        };
        let label = line.get(3..21).unwrap_or_default().to_owned();
        if keys.is_empty() {
            self.strokes += 1;
            self.t.keys(DOWN);
        } else if matches!(keys, "y" | "1") {
            // One keystroke answers and goes on.
            self.press(keys, &format!("{label}{shown}"));
        } else {
            self.press(keys, &format!("{label}{shown}"));
            self.strokes += 1;
            self.t.keys(DOWN);
        }
        // The label of the line in focus, a single one: a screen may be read while it is drawn.
        let left: String = line.chars().take(21).collect();
        self.t.wait_until("the focus to move", |s| {
            s.contains(LAST) || (marks(s).len() == 1 && marks(s)[0] != left)
        });
    }
}

/// Said at the last field.
const LAST: &str = "That was the last to look at";

fn focused(screen: &str) -> String {
    let fields = screen.lines().map(|l| l.chars().take(36).collect::<String>());
    fields.into_iter().find(|l| l.starts_with(" > ")).unwrap_or_default()
}

#[test]
fn a_summer_visit_to_five_hives_takes_few_keystrokes_a_hive() {
    let home = tempfile::tempdir().unwrap();
    let mut t = Terminal::start(home.path(), &["demo", "--on", "2026-06-21"], 24, 80);
    t.wait_for("Today, Sunday, June 21, 2026");
    let mut c = Counted { t, strokes: 0 };
    c.press(ENTER, "Weather at Alder Bottom");
    c.t.keys("75");
    c.t.keys(&ENTER.repeat(4));
    c.t.wait_for("NEEDS NOW");
    // The weather is asked once a yard.
    c.strokes = 0;
    let mut counts = Vec::new();
    for _ in 0..5 {
        let before = c.strokes;
        let hive = c.t.text().lines().next().unwrap().trim().split(' ').next().unwrap().to_owned();
        while !focused(&c.t.text()).is_empty() && !c.t.text().contains(LAST) {
            c.answer();
        }
        c.strokes += 1;
        c.t.keys(TAB);
        c.t.wait_until("the focus to cross", |s| focused(s).is_empty() && marks(s).len() == 1);
        // The first prompt is done as it asks, or answered with what has been seen; then on.
        if c.t.text().lines().any(|l| l.contains("> MUST") || l.contains("> should") || l.contains("> may")) {
            c.strokes += 1;
            c.t.keys(ENTER);
            c.t.wait_until("an answer", |s| {
                s.contains("Logged") || s.contains("done:") || s.contains("Noted") || !focused(s).is_empty()
            });
        }
        c.strokes += 1;
        c.t.keys("g");
        let here = format!(" {hive} · ");
        c.t.wait_until("the next hive", |s| !s.starts_with(&here));
        counts.push((hive, c.strokes - before));
    }
    println!("keystrokes a hive: {counts:?}");
    for (hive, count) in &counts {
        assert!(*count <= 18, "{hive} took {count} keystrokes");
        assert!(*count >= 4, "{hive} took {count} keystrokes: nothing was asked");
    }
    c.t.press("s", "Wrap-up of Alder Bottom");
    c.t.press(ENTER, "Saved: 5 hives");
    c.t.keys("q");
    assert_eq!(c.t.end(), 0);
}

#[test]
fn a_new_size_in_mid_field_keeps_what_is_typed_and_focus_lost_puts_it_on_the_disk() {
    let home = tempfile::tempdir().unwrap();
    let mut t = demo(home.path());
    walk_to_a1(&mut t);
    go_down_to(&mut t, "Frames of bees");
    t.keys("1");
    t.wait_for("[1 ");
    t.resize(50, 160);
    t.wait_for("BOXES");
    t.wait_for("[1 ");
    t.resize(24, 80);
    t.wait_until("the small screen", |s| !s.contains("BOXES") && s.contains("m more fields"));
    t.keys("3");
    t.wait_for("[13 ");
    // The terminal tells that it has lost its focus; then the program is killed.
    t.keys("\x1b[O");
    let drafts = home.path().join(".local/share/yardwalk/scratch/sample-yard/drafts");
    t.wait_until("the draft", |_| {
        let draft = files_below(&drafts, ".ron");
        fs::read_to_string(&draft[0]).unwrap().contains("bees:13.0")
    });
    t.kill();
    let mut t = Terminal::start(home.path(), &["demo", "--on", "2026-05-03"], 24, 80);
    t.wait_for("Frames of bees    [13 ");
}

#[test]
fn suspended_and_brought_back_it_draws_all_anew() {
    let home = tempfile::tempdir().unwrap();
    let shell = Path::new("/bin/bash");
    assert!(shell.exists(), "a shell with job control is wanted");
    let line = "stty -echo; PS1='$ ' exec bash --norc --noprofile -i";
    let mut t = Terminal::start_behind(home.path(), &["bash"], line, &[]);
    t.wait_for("$ ");
    t.keys(&format!("'{}' demo --on 2026-05-03\r", env!("CARGO_BIN_EXE_yardwalk")));
    t.wait_for("Today, Sunday, May 3, 2026");
    t.press("h", "Roster: 11 hives");
    t.press("\x1a", "Stopped");
    assert!(!t.text().contains("Roster"), "the shell has its screen back:\n{}", t.text());
    t.keys("fg\r");
    t.wait_for("Roster: 11 hives");
    t.wait_for("T5");
    // Stopped from outside, by another window: the same.
    let of_home = home.path().to_str().unwrap();
    let find = "for p in /proc/[0-9]*; do tr '\\0' '\\n' < $p/environ 2>/dev/null | grep -qx \"HOME=$1\" && \
                tr '\\0' ' ' < $p/cmdline | grep -q 'yardwalk demo' && kill -TSTP ${p#/proc/}; done";
    std::process::Command::new("sh").args(["-c", find, "sh", of_home]).status().unwrap();
    t.wait_for("Stopped");
    assert!(!t.text().contains("Roster"), "the shell has its screen back:\n{}", t.text());
    t.keys("fg\r");
    t.wait_for("Roster: 11 hives");
    t.wait_for("T5");
    t.press(ESC, "Today, Sunday");
    t.keys("q");
    t.wait_gone("Today, Sunday");
    t.keys("exit\r");
    assert_eq!(t.end(), 0);
}

#[test]
fn day_and_night_are_one_key_and_remembered_and_a_broken_theme_is_told() {
    let home = tempfile::tempdir().unwrap();
    let mut t = demo(home.path());
    let day = t.ground();
    t.press("\x1bOR", "Colors: dark.");
    let night = t.ground();
    assert_ne!(day, night);
    t.keys("q");
    assert_eq!(t.end(), 0);
    let mut t = demo(home.path());
    assert_eq!(t.ground(), night, "remembered");
    t.press("\x1bOR", "Colors: sun.");
    assert_eq!(t.ground(), day);
    t.press(",", "Settings of this laptop");
    t.press(DOWN, "> Theme by day");
    t.keys(RIGHT);
    t.wait_until("the dark theme by day", |s| {
        s.lines().any(|l| l.contains("> Theme by day") && l.contains("< dark"))
    });
    assert_eq!(t.ground(), night);
    t.keys("\x03");
    assert_eq!(t.end(), 0);
    // A theme and keys of one's own, one of them broken.
    let config = home.path().join(".config/yardwalk");
    fs::create_dir_all(config.join("themes")).unwrap();
    fs::write(config.join("themes/mine.ron"), "(\n  grund: \"#000000\",\n)").unwrap();
    fs::write(config.join("keys.ron"), r#"[(at: "Today", does: "hives", key: "j")]"#).unwrap();
    let mut t = demo(home.path());
    t.wait_for("mine.ron:2:");
    t.press("j", "Roster: 11 hives");
    t.keys("\x03");
    assert_eq!(t.end(), 0);
}

#[test]
fn a_tap_goes_to_a_row_and_presses_a_key_where_taps_are_taken() {
    let home = tempfile::tempdir().unwrap();
    let mut t = demo(home.path());
    // Not taken at first: the terminal keeps its own selection.
    t.tap_on("A3 ");
    t.press(",", "Settings of this laptop");
    for label in ["> Theme by day", "> Theme by night", "> Taps and clicks"] {
        t.press(DOWN, label);
    }
    t.press(RIGHT, "< taken");
    t.press(ESC, "Today, Sunday");
    t.tap_on("A3 ");
    t.wait_for(">[ ] A3");
    t.tap_on("h hives");
    t.wait_for("Roster: 11 hives");
    t.tap_on("T4 ");
    t.wait_until("the row", |s| s.lines().any(|l| l.starts_with("> T4")));
    t.tap_on("Esc back");
    t.wait_for("Today, Sunday");
    t.keys("q");
    assert_eq!(t.end(), 0);
}

#[test]
fn yards_and_hives_are_set_up_renamed_moved_split_and_united() {
    let home = tempfile::tempdir().unwrap();
    let mut t = demo(home.path());
    let book = home.path().join(".local/share/yardwalk/scratch/sample-yard");
    t.press("h", "Roster: 11 hives");
    // A new yard, its name and no more; then three hives.
    t.press("A", "A new yard");
    t.keys("Hill Top");
    t.press(TAB, "> Keep it");
    t.press(ENTER, "Saved in yard.ron");
    go_to_line(&mut t, "Hill Top:");
    t.press("a", "New hives at Hill Top");
    t.keys("3");
    t.press(DOWN, "> First one's name");
    t.keys("\x7fH7");
    t.press(TAB, "> Set them up");
    t.press(ENTER, "Roster: 14 hives");
    // One is renamed and moved to another yard; what was logged stays with it.
    go_to_line(&mut t, "> A1 ");
    t.press("e", "Hive A1");
    t.keys("x");
    t.press(DOWN, "> Yard");
    t.press(RIGHT, "< Top Orchard");
    t.press(TAB, "> Keep it");
    t.press(ENTER, "Saved in yard.ron");
    go_to_line(&mut t, "> A1x ");
    t.press(ENTER, "Card of A1x · Top Orchard");
    t.wait_for("Apr 18, 2026");
    t.press(ESC, "Roster");
    // Its stand goes up by one.
    t.press("-", "Saved in yard.ron");
    // An impossible name is refused, and nothing is changed.
    t.press("e", "Hive A1x");
    t.keys("\x7f\x7f\x7f");
    t.press(TAB, "> Keep it");
    t.press(ENTER, "The name is empty");
    t.press(ESC, "what you typed is kept");
    t.press(ESC, "Today, Sunday");
    // At a hive: split, with another hive joined to it, and what was logged last with other amounts.
    t.press(ENTER, "Weather at Alder Bottom");
    t.keys(&ENTER.repeat(4));
    t.wait_for("NEEDS NOW");
    t.keys("a");
    t.wait_for("search:");
    t.keys("split");
    t.press(ENTER, "New hive's name");
    t.keys("9");
    // What became of the queen only the keeper knows: nothing is logged before it is said.
    t.press(TAB, "> Log it");
    t.press(ENTER, "Its boxes: write them");
    t.press(TAB, "> New hive");
    t.press(DOWN, "> Its boxes");
    t.press("1 5-frame deep", "5-frame deep");
    t.press(DOWN, "> The old queen");
    t.press("1", "stayed here");
    t.press(DOWN, "> The half without");
    t.press("r", "raises its own");
    t.press(TAB, "> Log it");
    t.press(ENTER, "split into ");
    t.press("u", "is taken away");
    t.press("r", "stands again");
    t.keys("a");
    t.wait_for("search:");
    t.keys("syrup");
    // How much it was only the keeper knows.
    t.press(ENTER, "How much");
    t.press(TAB, "> Log it");
    t.press(ENTER, "Syrup: choose one");
    t.press(TAB, "> Syrup");
    t.press("1", "thin (1:1)");
    t.press(DOWN, "> How much");
    t.keys("1");
    t.press(TAB, "> Log it");
    t.press(ENTER, "fed 1 gal");
    t.keys("e");
    t.wait_for("How much");
    t.press(DOWN, "> How much");
    t.keys("2");
    t.press(TAB, "> Log it");
    t.press(ENTER, "fed 2 gal");
    t.press("u", "Undone");
    t.wait_for("fed 1 gal");
    t.press("r", "Done again");
    t.wait_for("fed 2 gal");
    t.press("k", "Boxes of ");
    t.press("a", " 2 deep");
    t.press(ENTER, "the boxes are ");
    t.press("j", "The same for the next hives");
    t.press(ESC, "Nothing was changed");
    t.press("s", "Wrap-up of Alder Bottom");
    t.press(ENTER, "Saved: 1 hive");
    t.keys("q");
    assert_eq!(t.end(), 0);
    let (code, out, _) = run(home.path(), &["check", "--book", book.to_str().unwrap()]);
    assert_eq!(code, 0, "{out}");
    let yards = fs::read_to_string(book.join("yard.ron")).unwrap();
    for part in ["\"Hill Top\"", "\"H7\"", "\"H9\"", "formerly", "origin: Split"] {
        assert!(yards.contains(part), "{part} not in\n{yards}");
    }
}

/// Goes down the roster, from its top, to the line that holds a text.
fn go_to_line(t: &mut Terminal, wanted: &str) {
    let chosen = |s: &str| s.lines().find(|l| l.starts_with('>')).unwrap_or_default().to_owned();
    t.keys(&"\x1b[5~".repeat(5));
    t.wait_until("the top", |s| chosen(s).contains("Alder Bottom:"));
    for _ in 0..40 {
        let before = chosen(&t.text());
        if before.contains(wanted) {
            return;
        }
        t.keys(DOWN);
        t.wait_until("the next row", |s| !chosen(s).is_empty() && chosen(s) != before);
    }
    panic!("no row {wanted:?}:\n{}", t.text());
}

#[test]
fn before_the_first_treatment_of_a_day_what_to_mind_is_shown_once() {
    let home = tempfile::tempdir().unwrap();
    let mut t = Terminal::start(home.path(), &["demo", "--on", "2026-08-08"], 24, 80);
    t.wait_for("Today, Saturday, August 8, 2026");
    t.press("\x1bOQ", "STINGS, AND A BODY");
    t.press(ESC, "Today, Saturday");
    t.press(RIGHT, "[Top Orchard]");
    t.press(ENTER, "Weather at Top Orchard");
    t.keys("75");
    t.keys(&ENTER.repeat(4));
    t.wait_for("NEEDS NOW");
    t.keys("a");
    t.wait_for("search:");
    t.keys("began");
    t.press(ENTER, "BEFORE THE FIRST TREATMENT TODAY");
    t.press(ESC, "search:");
    t.press(ENTER, "> Treatment");
    t.press("1", "formic acid strips");
    t.press(TAB, "> Log it");
    t.press(ENTER, "Logged: began formic acid strips");
    // The second is logged without it.
    t.press("j", "The same for the next hives");
    t.press(ESC, "Nothing was changed");
    t.keys("\x03");
    assert_eq!(t.end(), 0);
}

#[test]
fn completions_manual_and_log_are_made_on_request() {
    let home = tempfile::tempdir().unwrap();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let (code, out, _) = run(home.path(), &["completions", shell]);
        assert!(code == 0 && out.contains("yardwalk") && out.contains("export"), "{shell}");
    }
    let (code, out, _) = run(home.path(), &["man"]);
    assert!(code == 0 && out.starts_with(".ie") && out.contains(".TH yardwalk 1"), "{out}");
    for command in ["plan", "load", "walk", "export", "restore"] {
        assert!(out.contains(command), "{command}");
    }
    let (_, help, _) = run(home.path(), &["--help"]);
    assert!(help.contains("Examples:") && help.contains("yardwalk walk --plain"), "{help}");
    // To a full disk and into a pipe nobody reads it ends with a word, or without one: never with a panic.
    for args in ["completions bash", "completions zsh", "man", "--help", "--version", "keys", "rules"] {
        for (line, ends, said) in [("exec \"$@\" > /dev/full", 1, "No space left"), ("\"$@\" | true", 0, "")]
        {
            let mut command = std::process::Command::new("sh");
            command.args(["-c", line, "sh", env!("CARGO_BIN_EXE_yardwalk")]).args(args.split(' '));
            let output = command.output().unwrap();
            let err = String::from_utf8(output.stderr).unwrap();
            assert_eq!(output.status.code(), Some(ends), "{args}: {err}");
            assert!(err.contains(said) && !err.contains("panicked"), "{args}: {err}");
        }
    }
    let log = home.path().join("yardwalk.log");
    let args = ["plan", "--book", "sample-yard.ron", "--log", log.to_str().unwrap()];
    assert_eq!(run(home.path(), &args).0, 0);
    let text = fs::read_to_string(&log).unwrap();
    assert!(text.contains("started") && !text.contains("Halloway"), "{text}");
}
