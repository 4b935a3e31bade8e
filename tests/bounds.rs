//! Bounds: files of any size, lines without an end, bursts of input, and characters that would move the cursor. What is too
//! large is refused with a word, in little memory; what is typed arrives whole; what is printed is plain text.

#![cfg(target_os = "linux")]
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
use std::io::Write as _;
use std::path::Path;

use support::keys::*;
use support::{Terminal, files_below, run, sample_book};

const ON: &str = "2026-08-08";

/// The most memory the program has held until now, in MB.
fn most_held(t: &Terminal) -> usize {
    let status = fs::read_to_string(format!("/proc/{}/status", t.process())).unwrap();
    let line = status.lines().find(|line| line.starts_with("VmHWM:")).unwrap();
    line.split_whitespace().nth(1).unwrap().parse::<usize>().unwrap() / 1024
}

/// Writes a piece of text again and again until a file is of so many MB.
fn fill(path: &Path, head: &str, piece: &str, megabytes: usize) {
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    let mut file = std::io::BufWriter::new(fs::File::create(path).unwrap());
    file.write_all(head.as_bytes()).unwrap();
    for _ in 0..megabytes * 1024 * 1024 / piece.len() {
        file.write_all(piece.as_bytes()).unwrap();
    }
    file.flush().unwrap();
}

/// A draft, a pad, a visit and a former version of 60 MB each, of lines or of one line: the book opens, says so, and holds
/// less than 100 MB.
#[test]
fn files_of_sixty_megabytes_cost_less_than_a_hundred() {
    let head = "Format(5)\nOf(id: \"2026-08-08T0900-x-0001\")\n";
    let line = "Undone\n";
    let files: [(&str, &str, &str); 6] = [
        ("drafts/2026-08-08T0900-x-0001.ron", head, line),
        ("drafts/2026-08-08T0901-x-0002.ron", head, "endless"),
        ("drafts/pad.lines", "", "Jotted(at: \"x\", text: \"y\")\n"),
        ("drafts/pad.lines", "", "endless"),
        ("visits/2026/2026-08-01T0900-x-0003.ron", "(format: 5, visit: (id: \"", "endless"),
        ("visits/2026/2026-08-01T0900-x-0004.ron", "", "// a comment line\n"),
    ];
    for (file, head, piece) in files {
        let home = tempfile::tempdir().unwrap();
        let book = sample_book(home.path());
        fill(&book.join(file), head, piece, 60);
        let folder = book.to_str().unwrap();
        let mut t = Terminal::start(home.path(), &["--book", folder, "--on", ON], 24, 80);
        // A draft that cannot be read is shown in the log.
        t.wait_until("the day or the log", |s| {
            s.contains("Today, Saturday") || s.contains("1 unfinished visit")
        });
        let most = most_held(&t);
        assert!(most < 100, "{file}: {most} MB");
        if file.starts_with("drafts/2026") {
            t.press(ESC, "Today, Saturday");
        }
        if file.starts_with("visits") {
            t.wait_for("The advice is without");
            t.press("f", "16 MB is the most");
            t.press(ESC, "Today, Saturday");
        }
        // And it is written in.
        log_a_fine_hive(&mut t);
        let most = most_held(&t);
        assert!(most < 100, "{file}: {most} MB at the end");
        t.keys("q");
        assert_eq!(t.end(), 0, "{file}");
    }
}

/// What comes in one burst, longer than any buffer on the way, is read to its end: nothing is lost or out of order.
#[test]
fn a_burst_of_input_is_read_to_its_end() {
    let home = tempfile::tempdir().unwrap();
    let book = sample_book(home.path());
    let mut t = Terminal::start(home.path(), &["--book", book.to_str().unwrap(), "--on", ON], 24, 80);
    t.wait_for("Today, Saturday");
    walk_the_yard(&mut t);
    let words = |from: usize, to: usize| -> String {
        let all: Vec<String> = (from..to).map(|n| format!("w{n:04} ")).collect();
        all.concat()
    };
    // Typed, with no bracket about it: 1,902 octets; then pasted, to nearly all that a note holds.
    let (typed, pasted) = (words(0, 317), words(317, 332));
    t.press("o", "Note on A");
    t.keys(&typed);
    t.wait_for("w0315");
    t.keys(&format!("\x1b[200~{pasted}end\x1b[201~"));
    t.wait_for("end");
    // What a note does not hold is said, not dropped.
    t.keys("\x1b[200~and more than it holds\x1b[201~");
    t.wait_for("The note is full at 2000 characters");
    t.press(ENTER, "NEEDS NOW");
    t.kill();
    let draft = files_below(&book.join("drafts"), ".ron").remove(0);
    let draft = fs::read_to_string(draft).unwrap();
    assert!(draft.contains(&format!("{typed}{pasted}endand m\"")), "{draft}");
}

/// The log for a report of a fault: nothing in it says whose laptop it is, or what was written in the book.
#[test]
fn the_log_holds_no_path_under_the_home_folder_and_no_word_of_the_book() {
    let home = tempfile::tempdir().unwrap();
    let book = sample_book(home.path());
    let log = home.path().join("a.log");
    let arguments = ["--book", book.to_str().unwrap(), "--on", ON, "--log", log.to_str().unwrap()];
    fs::write(book.join("visits/2026/odd.ron"), "(format: 5, visit: (").unwrap();
    let mut t = Terminal::start(home.path(), &arguments, 24, 80);
    t.wait_for("Today, Saturday");
    walk_the_yard(&mut t);
    // The stick with the book on it is pulled.
    fs::rename(&book, home.path().join("gone")).unwrap();
    t.press("i", "Not on the disk");
    t.kill();
    assert_eq!(run(home.path(), &["plan", "--book", "/nowhere/at/all", "--log", arguments[5]]).0, 1);
    let text = fs::read_to_string(&log).unwrap();
    assert!(text.contains("started") && text.contains("the disk refuses"), "{text}");
    for secret in [home.path().to_str().unwrap(), "Alder", "A1", "odd.ron", "Halloway", "/nowhere"] {
        assert!(!text.contains(secret), "{secret}: {text}");
    }
}

/// A book in whose every text stands what would clear the screen, ring the bell or turn the line about: nothing that is printed
/// from it does, on either way out.
#[test]
fn nothing_that_is_printed_moves_the_cursor() {
    let home = tempfile::tempdir().unwrap();
    let book = sample_book(home.path());
    let evil = "\\u{1b}[2J\\u{7}\\u{202e}\\u{9b}31m\\r";
    let yard = book.join("yard.ron");
    let text = fs::read_to_string(&yard).unwrap();
    let label = format!("practice: (labels: [(treatment: Own, name: \"{evil}\", days: 28)],");
    let text = text
        .replacen("keeper: \"", &format!("keeper: \"{evil}"), 1)
        .replacen("practice: (", &label, 1)
        .replace("note: \"", &format!("note: \"{evil}"))
        .replace("origin: \"", &format!("origin: \"{evil}"));
    fs::write(&yard, text).unwrap();
    for visit in files_below(&book.join("visits"), ".ron") {
        let text = fs::read_to_string(&visit).unwrap();
        fs::write(&visit, text.replace("note: \"", &format!("note: \"{evil}"))).unwrap();
    }
    // Names of files, of rules and of hives nobody knows.
    let odd = "(format: 5, visit: (id: \"v\\u{1b}[2J\", yard: \"Alder Bottom\", on: \"2026-08-01\", entries: [(hive: \
               \"A\\u{1b}c\\u{7}\")]))";
    fs::write(book.join("visits/2026/odd\x1b[2J\x07.ron"), odd).unwrap();
    fs::write(book.join("visits/2026/torn\x1b[2J.ron"), "(format: 5, visit: (gates\u{1b}[2J: 1").unwrap();
    let folder = book.to_str().unwrap();
    let commands = [
        "check",
        "plan",
        "plan --json",
        "load",
        "season",
        "practice",
        "hive A1",
        "hive A1 --json",
        "rules",
        "keys",
        "export csv --table hives",
        "export csv --table entries",
        "export md",
        "export md --inspector",
        "export json",
        "export ics",
    ];
    for command in commands {
        let mut arguments: Vec<&str> = command.split(' ').collect();
        arguments.extend(["--book", folder, "--on", ON]);
        // A table is data where it goes into a pipe, and text where it is read.
        let (code, out, err) = if command.starts_with("export csv") {
            let mut t = Terminal::start(home.path(), &arguments, 24, 80);
            let code = t.end();
            (i32::try_from(code).unwrap(), t.raw().replace("\r\n", "\n"), String::new())
        } else {
            run(home.path(), &arguments)
        };
        assert!(code == 0 || command == "check", "{command}: {err}");
        assert!(!out.is_empty(), "{command}");
        for (way, text) in [("out", &out), ("err", &err)] {
            let is_of_a_file = command.starts_with("export");
            let moves = |c: &char| {
                (c.is_control() && *c != '\n' && !(is_of_a_file && matches!(c, '\r' | '\t')))
                    || *c == '\u{202e}'
            };
            let found: Vec<char> = text.chars().filter(moves).collect();
            assert!(found.is_empty(), "{command}, {way}: {found:?} in {text}");
        }
    }
}
