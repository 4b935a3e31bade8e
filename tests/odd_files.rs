//! One odd file never locks the book: with each kind of it the book opens with all the rest, says so and where, and a key
//! leads to mending it.

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
use std::path::{Path, PathBuf};

use support::keys::*;
use support::{Terminal, files_below, run, sample_book};

const ON: &str = "2026-08-08";
/// The visit of the sample that is tampered with.
const VISIT: &str = "2026-08-02";

struct Odd {
    /// What is odd.
    name: &'static str,
    /// Makes it so, in the folder of the book; the file that is left out.
    make: fn(&Path) -> PathBuf,
    /// What is said of it.
    said: &'static str,
}

/// The file of the visit that is tampered with.
fn visit(book: &Path) -> PathBuf {
    let name = |path: &PathBuf| path.file_name().unwrap().to_string_lossy().into_owned();
    files_below(&book.join("visits/2026"), ".ron")
        .into_iter()
        .find(|path| name(path).starts_with(VISIT))
        .unwrap()
}

fn rewritten(book: &Path, with: impl Fn(&str) -> String) -> PathBuf {
    let path = visit(book);
    let text = fs::read_to_string(&path).unwrap();
    let changed = with(&text);
    assert_ne!(changed, text);
    fs::write(&path, changed).unwrap();
    path
}

/// A copy of the visit's file under another name, changed or not.
fn copied(book: &Path, with: impl Fn(&str) -> String) -> PathBuf {
    let path = visit(book);
    let copy = path
        .with_file_name(format!("{} (copy of laptop 2).ron", path.file_stem().unwrap().to_string_lossy()));
    fs::write(&copy, with(&fs::read_to_string(&path).unwrap())).unwrap();
    copy
}

const ODD: &[Odd] = &[
    Odd {
        name: "torn",
        make: |book| {
            let path = visit(book);
            let bytes = fs::read(&path).unwrap();
            fs::write(&path, &bytes[..bytes.len() / 2]).unwrap();
            path
        },
        said: "cannot be read: line",
    },
    Odd {
        name: "foreign",
        make: |book| {
            let path = book.join("visits/2026/minutes of the club.ron");
            fs::write(&path, b"\x89PNG\r\n\x1a\n\xff\xfe").unwrap();
            path
        },
        said: "not UTF-8 text",
    },
    Odd {
        name: "newer",
        make: |book| rewritten(book, |text| text.replacen("format: 5", "format: 50", 1)),
        said: "newer than this program reads",
    },
    Odd {
        name: "a link that leads out of the book",
        make: |book| {
            let path = book.join("visits/2026/link.ron");
            std::os::unix::fs::symlink("/etc/hostname", &path).unwrap();
            path
        },
        said: "symbolic link",
    },
    Odd {
        name: "the same twice",
        make: |book| copied(book, str::to_owned),
        said: "holds the same visit as visits/2026/",
    },
    Odd {
        name: "another version",
        make: |book| copied(book, |text| text.replacen("minutes: 10", "minutes: 11", 1)),
        said: "holds another version of the visit in visits/2026/",
    },
    Odd {
        name: "a hive nobody knows",
        make: |book| rewritten(book, |text| text.replacen("hive: \"T1\"", "hive: \"Q9\"", 1)),
        said: "for a hive `Q9` that is not in the book",
    },
    Odd {
        name: "a yard nobody knows",
        make: |book| rewritten(book, |text| text.replace("yard: \"Top Orchard\"", "yard: \"Elsewhere\"")),
        said: "to a yard `Elsewhere` that is not in the book",
    },
    Odd {
        name: "dated after today",
        make: |book| rewritten(book, |text| text.replace("on: \"2026-08-02\"", "on: \"2199-08-02\"")),
        said: "is dated 2199-08-02, after today",
    },
    Odd {
        name: "an absurd number",
        make: |book| rewritten(book, |text| text.replacen("bees: 15.0", "bees: 1500.0", 1)),
        said: "must be 0 to 60 frames",
    },
];

#[test]
fn with_any_odd_file_the_book_opens_and_says_what_it_is_without() {
    for Odd { name, make, said } in ODD {
        let home = tempfile::tempdir().unwrap();
        let book = sample_book(home.path());
        let visits = files_below(&book.join("visits"), ".ron").len();
        let odd = make(&book);
        let odd_name = odd.strip_prefix(&book).unwrap().to_str().unwrap().to_owned();
        let folder = book.to_str().unwrap();
        // A check names the file as it is on the disk.
        let (code, out, _) = run(home.path(), &["check", "--book", folder]);
        assert_eq!(code, 1, "{name}: {out}");
        assert!(out.contains(&odd_name) && out.contains(said) && out.contains("to mend:"), "{name}: {out}");
        // The plan is printed with all the rest, and it says so beside it.
        let (code, out, err) = run(home.path(), &["plan", "--book", folder, "--on", ON]);
        assert!(code == 0 && out.contains("Top Orchard"), "{name}: {err}");
        assert!(err.contains(&odd_name) && err.contains(said), "{name}: {err}");
        // On the screen: said on the day, shown by a key, and the rest can be written in.
        let mut t = Terminal::start(home.path(), &["--book", folder, "--on", ON], 24, 80);
        t.wait_until("that it is without it", |s| {
            s.contains("The advice is without") || s.contains("a copy it has no use for")
        });
        t.press("f", "Files to mend: 1");
        // As far as the name goes in one line.
        let shown: String = odd_name.chars().take(60).collect();
        t.wait_for(&shown);
        t.press(ESC, "Today, Saturday");
        log_a_fine_hive(&mut t);
        // Put aside it is out of the way, and nothing is deleted.
        t.press("f", "Files to mend: 1");
        t.press("x", "Enter does it");
        t.press(ENTER, "Every file of the book is taken in.");
        t.press(ESC, "Today, Saturday");
        t.wait_gone("no use for");
        t.wait_gone("is without");
        t.keys("q");
        assert_eq!(t.end(), 0, "{name}");
        assert!(
            !odd.exists() && book.join("aside").join(odd.file_name().unwrap()).symlink_metadata().is_ok()
        );
        let (code, out, _) = run(home.path(), &["check", "--book", folder]);
        assert_eq!(code, 0, "{name}: {out}");
        let left = files_below(&book.join("visits"), ".ron").len();
        assert!(left == visits + 1 || left == visits, "{name}: {visits} and then {left}");
    }
}

/// Of two versions of a visit the keeper keeps the one that is right; a file mended by hand is read again by a key.
#[test]
fn of_two_versions_one_is_kept_and_a_mended_file_is_read_again() {
    let home = tempfile::tempdir().unwrap();
    let book = sample_book(home.path());
    let own = visit(&book);
    let copy = copied(&book, |text| text.replacen("minutes: 10", "minutes: 11", 1));
    let mut t = Terminal::start(home.path(), &["--book", book.to_str().unwrap(), "--on", ON], 24, 80);
    t.wait_for("The advice is without");
    t.press("f", "Holds another version of the visit");
    t.keys("z");
    t.wait_for("Esc leaves both");
    t.press(ESC, "Nothing was changed");
    t.press("z", "Esc leaves both");
    t.press(ENTER, "Every file of the book is taken in.");
    assert!(!own.exists() && copy.exists());
    // Torn by something else, and mended by hand.
    let text = fs::read_to_string(&copy).unwrap();
    fs::write(&copy, &text[..40]).unwrap();
    t.press(ENTER, "Files to mend: 1");
    t.wait_for("Cannot be read");
    fs::write(&copy, text).unwrap();
    t.press(ENTER, "Every file of the book is taken in.");
    t.press(ESC, "Today, Saturday");
    t.keys("q");
    assert_eq!(t.end(), 0);
}

/// A `yard.ron` that cannot be read: the last good one is offered and brought back by a key; left, it is left as it is.
#[test]
fn a_yard_file_that_cannot_be_read_offers_the_last_good_one() {
    let home = tempfile::tempdir().unwrap();
    let book = sample_book(home.path());
    let folder = book.to_str().unwrap();
    let start = || Terminal::start(home.path(), &["--book", folder, "--on", ON], 24, 80);
    // A change keeps the one before in former/.
    let mut t = start();
    t.press("t", "Practice: what");
    t.press("3", "[3_]");
    t.press(ENTER, "Saved in yard.ron");
    t.press(ESC, "Today, Saturday");
    t.keys("q");
    assert_eq!(t.end(), 0);
    let torn = "(format: 5,\n<<<<<<< this laptop\n  keeper: \"Wren";
    fs::write(book.join("yard.ron"), torn).unwrap();
    let (code, _, err) = run(home.path(), &["plan", "--book", folder]);
    assert!(code == 1 && err.contains("yard.ron:2:") && err.contains("former"), "{err}");
    let mut t = start();
    t.wait_for("yard.ron cannot be read");
    t.wait_for("former/yard-000001-");
    t.keys(ESC);
    assert_eq!(t.end(), 1);
    assert_eq!(fs::read_to_string(book.join("yard.ron")).unwrap(), torn);
    let mut t = start();
    t.wait_for("yard.ron cannot be read");
    t.press(ENTER, "Today, Saturday");
    t.keys("q");
    assert_eq!(t.end(), 0);
    assert_eq!(fs::read_to_string(book.join("aside/yard.ron")).unwrap(), torn);
    let (code, out, _) = run(home.path(), &["check", "--book", folder]);
    assert_eq!(code, 0, "{out}");
}

/// A threshold in `yard.ron` is set by hand while the program is open.
fn set_by_hand(book: &Path, field: &str) {
    let path = book.join("yard.ron");
    let text = fs::read_to_string(&path).unwrap();
    let changed = text.replacen("practice: (", &format!("practice: (\n    {field},"), 1);
    assert_ne!(text, changed);
    fs::write(path, changed).unwrap();
}

/// What is written into `yard.ron` under the program is taken in with what the keeper changes there.
#[test]
fn a_yard_file_changed_under_the_program_is_joined_with_what_is_set_up_in_it() {
    let home = tempfile::tempdir().unwrap();
    let book = sample_book(home.path());
    let folder = book.to_str().unwrap();
    let mut t = Terminal::start(home.path(), &["--book", folder, "--on", ON], 24, 80);
    t.wait_for("Today, Saturday");
    set_by_hand(&book, "winter_honey: 95.0");
    t.press("t", "Practice: what");
    t.press("3", "[3_]");
    t.press(ENTER, "what was changed meanwhile by hand or elsewhere is");
    let both = |text: &str| text.contains("winter_honey: 95.0") && text.contains("mite_limit: 3.0");
    assert!(both(&fs::read_to_string(book.join("yard.ron")).unwrap()));
    t.press(ESC, "Today, Saturday");
    t.keys("q");
    assert_eq!(t.end(), 0);
    let (code, out, _) = run(home.path(), &["check", "--book", folder]);
    assert_eq!(code, 0, "{out}");
}

/// The same threshold set by hand and by keys: neither is lost, both are shown, and the keeper chooses.
#[test]
fn what_is_set_up_in_two_ways_is_shown_side_by_side_and_chosen_from() {
    let home = tempfile::tempdir().unwrap();
    let book = sample_book(home.path());
    let folder = book.to_str().unwrap();
    let mut t = Terminal::start(home.path(), &["--book", folder, "--on", ON], 24, 80);
    t.wait_for("Today, Saturday");
    set_by_hand(&book, "mite_limit: 1.5");
    t.press("t", "Practice: what");
    t.press("3", "[3_]");
    t.press(ENTER, "choose under Files to mend");
    t.press(ESC, "Set up differently in two places: the threshold");
    let held = || fs::read_to_string(book.join("yard.ron")).unwrap();
    assert!(held().contains("mite_limit: 1.5"), "what was written by hand is not written over");
    // The next start knows of it too, and a check.
    t.keys("q");
    assert_eq!(t.end(), 0);
    let (code, out, _) = run(home.path(), &["check", "--book", folder]);
    assert!(
        code == 1 && out.contains("the threshold 'Treat above' was set up differently in two places"),
        "{out}"
    );
    assert!(out.contains("1.5 mites per 100 bees") && out.contains("3 mites per 100 bees"), "{out}");
    let mut t = Terminal::start(home.path(), &["--book", folder, "--on", ON], 24, 80);
    t.wait_for("Set up differently in two places");
    t.press("f", "Files to mend: 1");
    t.press("x", "This is no file");
    t.press("z", "Keep this one?");
    t.press(ESC, "Nothing was changed");
    let ways = t.text();
    let (first, second) = (ways.find("1.5 mites per").unwrap(), ways.find("3 mites per").unwrap());
    if second > first {
        t.press(DOWN, ">   the other way:");
        t.wait_gone(">   holds for now");
    }
    t.press("z", "Keep this one?");
    t.press(ENTER, "Saved in yard.ron");
    t.press(ESC, "Today, Saturday");
    t.wait_gone("differently");
    t.keys("q");
    assert_eq!(t.end(), 0);
    assert!(held().contains("mite_limit: 3.0"));
    let (code, out, _) = run(home.path(), &["check", "--book", folder]);
    assert_eq!(code, 0, "{out}");
}

/// A copy of `yard.ron` that a synchronizer left under another name: what it holds is taken in, also once it is put aside.
#[test]
fn a_copy_of_the_yard_file_left_by_a_synchronizer_is_taken_in() {
    let home = tempfile::tempdir().unwrap();
    let book = sample_book(home.path());
    let folder = book.to_str().unwrap();
    let yard = book.join("yard.ron");
    let text = fs::read_to_string(&yard).unwrap();
    // The other laptop's, as it came; here something else was set by hand.
    let copy = book.join("yard (conflicted copy 2026-08-07).ron");
    fs::write(&copy, text.replacen("practice: (", "practice: (\n    winter_honey: 95.0,", 1)).unwrap();
    fs::write(&yard, text.replacen("practice: (", "practice: (\n    mite_limit: 1.5,", 1)).unwrap();
    let practice = || {
        let (code, out, err) = run(home.path(), &["practice", "--json", "--book", folder]);
        assert_eq!(code, 0, "{err}");
        let read: serde_json::Value = serde_json::from_str(&out).unwrap();
        let of = |field: &str| {
            let all = read["thresholds"].as_array().unwrap();
            all.iter().find(|each| each["field"] == field).unwrap()["value"].as_f64().unwrap()
        };
        (of("winter_honey"), of("mite_limit"))
    };
    assert_eq!(practice(), (95.0, 1.5));
    let (code, out, _) = run(home.path(), &["check", "--book", folder]);
    assert!(code == 1 && out.contains("conflicted copy 2026-08-07).ron is a copy of yard.ron"), "{out}");
    let mut t = Terminal::start(home.path(), &["--book", folder, "--on", ON], 24, 80);
    t.wait_for("The book holds a copy it has no use for");
    t.press("f", "Files to mend: 1");
    t.press("x", "Enter does it");
    t.press(ENTER, "Every file of the book is taken in.");
    t.press(ESC, "Today, Saturday");
    t.keys("q");
    assert_eq!(t.end(), 0);
    assert!(!copy.exists());
    assert_eq!(practice(), (95.0, 1.5), "nothing of it is lost");
    assert_eq!(run(home.path(), &["check", "--book", folder]).0, 0);
}
