//! The walk line by line: the same questions and deeds as on the screen, each said back, undone and asked again.

#![cfg(unix)]
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

mod support;

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Child, Command, Stdio};

use support::{files_below, sample_book};

fn begin(book: &Path, args: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_yardwalk"))
        .args(["walk", "--plain", "--book"])
        .arg(book)
        .args(args)
        .env_clear()
        .env("HOME", book.parent().unwrap())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap()
}

/// Walks with these answers, one a line; all that was said.
fn walk(book: &Path, yard: &str, on: &str, answers: &str) -> String {
    let mut child = begin(book, &["--yard", yard, "--on", on]);
    child.stdin.take().unwrap().write_all(answers.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success());
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(!text.contains('\x1b') && !text.contains('│'), "no color and no boxes: {text}");
    text
}

/// The text of the one draft there is.
fn draft(book: &Path) -> String {
    let drafts = files_below(&book.join("drafts"), ".ron");
    assert_eq!(drafts.len(), 1);
    fs::read_to_string(&drafts[0]).unwrap()
}

#[test]
fn the_same_visit_is_walked_line_by_line() {
    let home = tempfile::tempdir().unwrap();
    let book = sample_book(home.path());
    // Weather; a value refused and then given; the rest passed over; the hive left by g; out by q.
    let text = walk(&book, "alder bottom", "2026-08-08", "75\n\nn\n9\n\nabc\ng\nq\n");
    assert!(text.contains("Hive ") && text.contains("is not "), "{text}");
    assert!(text.contains("`9` is not one of 1 to 4."), "a bloom nobody knows is asked again: {text}");
    assert!(text.contains("safe on the disk"), "{text}");
    assert_eq!(files_below(&book.join("drafts"), ".ron").len(), 1, "the visit is kept");
    // It goes on where it was left. Each question is answered as it is read: a note at the first hive, the first way of
    // the first prompt, all else passed over, and the visit saved.
    let mut child = begin(&book, &["--on", "2026-08-08"]);
    let (mut to, mut from) = (child.stdin.take().unwrap(), child.stdout.take().unwrap());
    let (mut said, mut noted, mut logged) = (String::new(), false, false);
    let mut byte = [0];
    while std::io::Read::read(&mut from, &mut byte).unwrap() == 1 {
        said.push(char::from(byte[0]));
        if !said.ends_with(": ") {
            continue;
        }
        // Asked on one line after another: what is typed, with its end of line, is not in what is said.
        let asked = said.trim_end_matches(": ").rsplit(['\n', ':']).next().unwrap();
        let question = asked.trim().to_owned();
        let answer = if question.starts_with("A note") && !noted {
            noted = true;
            "calm, in the shade"
        } else if question.starts_with("A number logs it") && !logged && said.contains("  1 ") {
            logged = true;
            "1"
        } else if question.starts_with("Save the visit") {
            "y"
        } else if question.ends_with(')') || question.starts_with("A n") {
            ""
        } else {
            // A colon in the midst of a line.
            continue;
        };
        writeln!(to, "{answer}").unwrap();
    }
    assert!(child.wait().unwrap().success());
    assert!(noted && logged, "{said}");
    assert!(said.contains("Saved: "), "{said}");
    assert!(files_below(&book.join("drafts"), ".ron").is_empty());
    let visit = files_below(&book.join("visits/2026"), ".ron").pop().unwrap();
    let visit = fs::read_to_string(visit).unwrap();
    assert!(visit.contains("calm, in the shade") && visit.contains("reply: Done"), "{visit}");
}

/// Line by line, too, what is logged is said back, what is undone is asked again, and there is a way back.
#[test]
fn line_by_line_an_answer_is_said_back_undone_and_asked_again() {
    let home = tempfile::tempdir().unwrap();
    let book = sample_book(home.path());
    let walk = |answers: &str| walk(&book, "top orchard", "2026-05-03", answers);
    // The flight said back, undone, asked again and answered otherwise.
    let text = walk("70\n\nn\n2\nsoon\nMay 9\nApr 20\nmany\nu\n2\nq\n");
    assert!(text.contains("`soon` is not a day") && text.contains("May 9 is after this visit"), "{text}");
    let kept = draft(&book);
    assert!(kept.contains("Dandelion:\"2026-04-20\""), "{kept}");
    assert!(text.contains("  Flight: many") && text.contains("  Flight: few"), "{text}");
    assert!(text.contains("Undone: T1: Flight many.") && text.matches("Flight (").count() == 2, "{text}");
    // A deed that no question asks for, its amount not invented; the weather put right; and a word nobody knows.
    let text = walk("a\nfed syrup\n1\n\n1 gal\na\nxyz\nweather\n60\n\ny\n\nq\n");
    assert!(text.contains("Logged: fed 1 gal of thin (1:1) syrup"), "{text}");
    assert!(text.contains("How much") && text.contains("Nothing is called that"), "{text}");
    // On to the next hive and back to the first, where all is asked that is open.
    let text = walk("g\nb\nq\n");
    let heads: Vec<&str> = text.lines().filter(|l| l.starts_with("Hive ")).collect();
    assert!(heads.len() == 3 && heads[0] == heads[2] && heads[0] != heads[1], "{text}");
}
