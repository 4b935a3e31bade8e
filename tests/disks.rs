//! Disks that refuse, for real: one that is full, one that may not be written, a limit on files, a book that goes away, links
//! and pipes where files should be. Each ends in words and an intact book.

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
use std::io::Write as _;
use std::os::unix::fs::{PermissionsExt as _, symlink};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use support::keys::*;
use support::{Terminal, files_below, run};
use yardwalk::store::{self, BookFolder};

/// The demonstration's scratch book, made by a first start.
fn scratch(home: &Path) -> PathBuf {
    let mut t = demo(home);
    t.keys("q");
    assert_eq!(t.end(), 0);
    home.join(".local/share/yardwalk/scratch/sample-yard")
}

const DEMO: &[&str] = &["demo", "--on", "2026-05-03"];

/// Types a count of bees and leaves the field, again and again, until the disk says no.
fn type_until_refused(t: &mut Terminal, rounds: usize) {
    let is_refused = |screen: &str| screen.contains("Not on the disk");
    for round in 0..rounds {
        if is_refused(&t.text()) {
            return;
        }
        if round == 0 {
            go_down_to(t, "Frames of bees");
        }
        let digit = 3 + round % 7;
        t.keys(&digit.to_string());
        t.wait_for(&format!("> Frames of bees    [{digit} "));
        for (key, label) in [(DOWN, "> Frames of brood"), ("\x1b[A", "> Frames of bees")] {
            t.keys(key);
            t.wait_until(label, |screen| is_refused(screen) || screen.contains(label));
            if is_refused(&t.text()) {
                return;
            }
        }
    }
}

/// Whether this system lets its user mount things in a room of its own; elsewhere these tests have nothing to stand on.
fn may_mount() -> bool {
    let made = Command::new("unshare").args(["-Urm", "true"]).status().is_ok_and(|s| s.success());
    if !made {
        eprintln!("not run: this system lets no user mount a file system");
    }
    made
}

#[test]
fn a_full_disk_is_told_and_tried_again_and_nothing_is_lost() {
    if !may_mount() {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let book = scratch(home.path());
    let copy = home.path().join("copy");
    fs::rename(&book, &copy).unwrap();
    fs::create_dir(&book).unwrap();
    let (at, from) = (book.display(), copy.display());
    let line = format!("mount -t tmpfs -o size=512k tmpfs '{at}' && cp -r '{from}/.' '{at}' && exec \"$@\"");
    let mut t = Terminal::start_behind(home.path(), &["unshare", "-Urm", "sh"], &line, DEMO);
    t.wait_for("Today, Sunday, May 3, 2026");
    walk_to_a1(&mut t);
    // From outside the small disk is filled to the last byte.
    let inside = PathBuf::from(format!("/proc/{}/root{}", t.process(), book.display()));
    let filler = inside.join("filler");
    let fill =
        Command::new("dd").args(["if=/dev/zero", &format!("of={}", filler.display()), "bs=512"]).output();
    assert!(!fill.unwrap().status.success(), "it is full");
    // What a page of the draft still takes is typed until the disk says no.
    type_until_refused(&mut t, 60);
    t.wait_for("Not on the disk");
    t.wait_for("Nothing is lost");
    t.wait_for("It is also kept in");
    t.press(ESC, "Kept in memory");
    t.wait_for("NOT ON THE DISK");
    t.press("\x03", "q leaves anyway");
    fs::remove_file(&filler).unwrap();
    t.press(ENTER, "On the disk again");
    t.wait_gone("NOT ON THE DISK");
    t.press("s", "Wrap-up of Alder Bottom");
    t.press(ENTER, "Saved: 1 hive");
    let emergency = files_below(&home.path().join(".local/state/yardwalk/emergency"), ".ron");
    assert!(emergency.is_empty(), "what was kept elsewhere is put away: {emergency:?}");
    let saved = files_below(&inside.join("visits"), ".ron").len();
    assert_eq!(saved, files_below(&copy.join("visits"), ".ron").len() + 1);
    assert!(store::read_all(&inside).unwrap().left_out.is_empty(), "no file is torn");
    t.keys("q");
    assert_eq!(t.end(), 0);
}

#[test]
fn a_limit_on_files_is_a_full_disk_too_and_what_was_kept_elsewhere_is_offered_again() {
    let home = tempfile::tempdir().unwrap();
    scratch(home.path());
    // Files may grow to four blocks of 512 bytes, the unit of POSIX; the signal that goes with it is ignored.
    let line = "trap '' XFSZ; ulimit -f 4; exec \"$@\"";
    let mut t = Terminal::start_behind(home.path(), &["sh"], line, DEMO);
    t.wait_for("Today, Sunday, May 3, 2026");
    t.wait_for("A1 ");
    t.press(DOWN, ">[ ] A1");
    t.press(ENTER, "Weather at Alder Bottom");
    t.keys("68");
    t.press(DOWN, "> Wind");
    t.press(DOWN, "> Rain");
    t.press(DOWN, "> In bloom");
    t.keys(ENTER);
    t.wait_until("the hive or the trouble", |s| {
        s.contains("A1 · Alder Bottom") || s.contains("Not on the disk")
    });
    type_until_refused(&mut t, 40);
    t.wait_for("Not on the disk");
    t.wait_for("File too large");
    // Tried again it is refused again, and the visit goes on in memory.
    t.press(ENTER, "File too large");
    t.press(ESC, "Kept in memory");
    t.kill();
    // Without the limit the visit comes back as far as the disk had it.
    let mut t = Terminal::start(home.path(), DEMO, 24, 80);
    t.wait_for("Taken up where it was left");
    t.wait_for("A1 · Alder Bottom");
    t.keys("\x03");
    assert_eq!(t.end(), 0);
    let book = home.path().join(".local/share/yardwalk/scratch/sample-yard");
    assert_eq!(run(home.path(), &["check", "--book", book.to_str().unwrap()]).0, 0);
}

#[test]
fn a_book_that_may_not_be_written_opens_to_be_read_and_says_why() {
    if !may_mount() {
        return;
    }
    let home = tempfile::tempdir().unwrap();
    let book = scratch(home.path());
    let at = book.display();
    let line = format!("mount --bind '{at}' '{at}' && mount -o remount,ro,bind '{at}' && exec \"$@\"");
    let mut t = Terminal::start_behind(home.path(), &["unshare", "-Urm", "sh"], &line, DEMO);
    t.wait_for("READ-ONLY");
    t.wait_for("this folder cannot be written (Read-only file system");
    t.press(ENTER, "Nothing is written: this folder");
    t.keys("q");
    assert_eq!(t.end(), 0);
}

#[test]
fn a_stick_pulled_in_mid_visit_is_told_and_put_back_it_goes_on() {
    let home = tempfile::tempdir().unwrap();
    let book = scratch(home.path());
    let mut t = demo(home.path());
    walk_to_a1(&mut t);
    field(&mut t, "Frames of bees", "13");
    t.press(DOWN, " > Frames of brood");
    let away = home.path().join("pulled");
    fs::rename(&book, &away).unwrap();
    t.keys("8");
    t.press(DOWN, "Not on the disk");
    t.wait_for("the book is no");
    t.wait_for("Was the disk pulled out");
    assert!(!book.exists(), "nothing is written where it was");
    t.press(ESC, "Kept in memory");
    // Wrapped up while it is away: refused, and kept.
    t.press("s", "Wrap-up of Alder Bottom");
    t.press(ENTER, "Not on the disk");
    let folder = home.path().join(".local/state/yardwalk/emergency");
    let kept = files_below(&folder, ".ron");
    assert_eq!(kept.len(), 1, "kept in the user's own folder");
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    assert_eq!((mode(&folder), mode(&kept[0])), (0o700, 0o600), "for nobody else to read");
    t.kill();
    fs::rename(&away, &book).unwrap();
    // Killed: the emergency file, which has more in it than the draft, is offered and taken up by a key.
    let mut t = Terminal::start(home.path(), DEMO, 24, 80);
    t.wait_for("A visit was kept elsewhere while the disk refused");
    t.press(ENTER, "Taken up where it was left");
    t.wait_for("Frames of bees    [13 ");
    t.wait_for("Frames of brood   [8 ");
    // Undone over the kill.
    t.press("u", "Frames of brood   [  ");
    t.press("r", "Frames of brood   [8 ");
    t.press("s", "Wrap-up of Alder Bottom");
    t.press(ENTER, "Saved: 1 hive");
    assert!(!kept[0].exists());
    t.keys("q");
    assert_eq!(t.end(), 0);
    assert_eq!(run(home.path(), &["check", "--book", book.to_str().unwrap()]).0, 0);
}

#[test]
fn a_visit_left_unsaved_is_kept_and_taken_up_from_the_log() {
    let home = tempfile::tempdir().unwrap();
    let book = scratch(home.path());
    let mut t = demo(home.path());
    walk_to_a1(&mut t);
    field(&mut t, "Frames of bees", "13");
    t.press(DOWN, " > Frames of brood");
    t.press("s", "Wrap-up of Alder Bottom");
    t.press("q", "Left unsaved and kept");
    t.press("v", "left unsaved");
    t.press(ENTER, "Taken up where it was left");
    t.wait_for("Frames of bees    [13 ");
    t.keys("\x03");
    assert_eq!(t.end(), 0);
    // A second draft beside it, from the other laptop: the keeper chooses, none is dropped.
    let drafts = files_below(&book.join("drafts"), ".ron");
    assert_eq!(drafts.len(), 1);
    let other = fs::read_to_string(&drafts[0]).unwrap().replace("2026-05-03T", "2026-05-01T");
    fs::write(book.join("drafts/2026-05-01T0915-other-0001.ron"), other).unwrap();
    fs::write(book.join("drafts/from-the-future.ron"), "Format(99)\n").unwrap();
    let mut t = Terminal::start(home.path(), DEMO, 24, 80);
    t.wait_for("3 unfinished visits in the log");
    t.wait_for("from-the-future.ron");
    t.wait_for("UNFINISHED");
    t.press(ENTER, "Taken up where it was left");
    t.keys("\x03");
    assert_eq!(t.end(), 0);
    assert_eq!(files_below(&book.join("drafts"), ".ron").len(), 3, "none is dropped");
}

#[test]
fn links_and_pipes_in_a_book_are_refused_by_name() {
    let home = tempfile::tempdir().unwrap();
    let book = scratch(home.path());
    let outside = home.path().join("outside");
    fs::create_dir(&outside).unwrap();
    let today = "2026-08-08".parse().unwrap();
    let refused = |part: &str| {
        let told = match BookFolder::open(&book, today) {
            Ok((open, _)) => open.left_out().iter().map(yardwalk::model::LeftOut::words).collect(),
            Err(err) => err.with_cause(),
        };
        assert!(told.contains(part), "{told}");
        let (code, out, err) = run(home.path(), &["check", "--book", book.to_str().unwrap()]);
        assert_ne!(code, 0);
        assert!(format!("{out}{err}").contains(part), "{out}{err}");
    };
    // A visit that is a link to a file outside.
    let visit = files_below(&book.join("visits"), ".ron").remove(0);
    fs::rename(&visit, outside.join("visit.ron")).unwrap();
    symlink(outside.join("visit.ron"), &visit).unwrap();
    refused("is a symbolic link");
    fs::remove_file(&visit).unwrap();
    // A pipe: waited on, it would never end.
    assert!(Command::new("mkfifo").arg(&visit).status().unwrap().success());
    refused("it is no plain file");
    fs::remove_file(&visit).unwrap();
    // A year that leads elsewhere: nothing is read from there, and nothing written.
    let year = book.join("visits/2026");
    fs::rename(&year, outside.join("2026")).unwrap();
    symlink(outside.join("2026"), &year).unwrap();
    refused("is a symbolic link");
    fs::remove_file(&year).unwrap();
    let (place, read) = BookFolder::open(&book, today).unwrap();
    symlink(&outside, &year).unwrap();
    let visit = yardwalk::model::Visit::begun(
        yardwalk::model::VisitId::new("../../../evil"),
        read.yards[0].name.clone(),
        today,
    );
    assert!(place.add_visit(&visit).unwrap_err().to_string().contains("is a symbolic link"));
    assert_eq!(fs::read_dir(&outside).unwrap().count(), 2, "the visit and the year that were put there");
    fs::remove_file(&year).unwrap();
    // The yards' own file.
    fs::rename(book.join("yard.ron"), outside.join("yard.ron")).unwrap();
    symlink(outside.join("yard.ron"), book.join("yard.ron")).unwrap();
    refused("is a symbolic link");
}

/// What is written to is a plain file of the keeper's choosing: no file of a book, no pipe, no device, nothing through a link.
#[test]
fn exports_and_locks_write_to_plain_files_of_their_own() {
    let home = tempfile::tempdir().unwrap();
    let book = scratch(home.path());
    let folder = book.to_str().unwrap();
    let visit = files_below(&book.join("visits"), ".ron").remove(0);
    let pipe = home.path().join("pipe");
    assert!(Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let outside = home.path().join("outside.csv");
    fs::write(&outside, "mine").unwrap();
    let link = home.path().join("link.csv");
    symlink(&outside, &link).unwrap();
    let roundabout = book.join("visits/../yard.ron");
    for to in [&book.join("yard.ron"), &roundabout, &visit, &book.join("drafts/new.ics"), &pipe, &link] {
        let before = if to.is_file() { fs::read(to).ok() } else { None };
        let to_text = to.to_str().unwrap();
        let (code, _, err) =
            run(home.path(), &["export", "ics", "--to", to_text, "--book", folder, "--on", "2026-05-03"]);
        assert_ne!(code, 0, "{to_text}");
        assert!(
            err.contains("file of a book") || err.contains("a link, a pipe or a device"),
            "{to_text}: {err}"
        );
        assert_eq!(if to.is_file() { fs::read(to).ok() } else { None }, before, "{to_text}");
    }
    let own = home.path().join("bees.ics");
    let args = ["export", "ics", "--to", own.to_str().unwrap(), "--book", folder, "--on", "2026-05-03"];
    for _ in 0..2 {
        assert_eq!(run(home.path(), &args).0, 0, "an older export is written over");
    }
    // A lock that is a link or a pipe is neither followed nor waited on: the book is only read.
    for make in [
        |path: &Path, to: &Path| symlink(to, path).unwrap(),
        |path: &Path, _: &Path| {
            assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
        },
    ] {
        let lock = book.join("drafts/.lock");
        let _ = fs::remove_file(&lock);
        make(&lock, &outside);
        let mut t = demo(home.path());
        t.wait_for("READ-ONLY");
        t.keys("q");
        assert_eq!(t.end(), 0);
        assert_eq!(fs::read_to_string(&outside).unwrap(), "mine");
    }
}

/// Line by line the same is said of a disk that refuses as on the screen: where it is kept, that it is not saved, how it ends.
#[test]
fn line_by_line_a_disk_that_refuses_is_told_and_nothing_is_said_to_be_safe_that_is_not() {
    let homes = [tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap()];
    let told = |home: &tempfile::TempDir, last: &str, limit: &str| {
        let book = home.path().join(".local/share/yardwalk/scratch/sample-yard");

        let line = format!("trap '' XFSZ; {limit}exec \"$@\"");
        let mut child = Command::new("sh")
            .args(["-c", &line, "sh", env!("CARGO_BIN_EXE_yardwalk"), "walk", "--plain", "--book"])
            .arg(book)
            .args(["--yard", "Alder Bottom", "--on", "2026-05-03"])
            .env_clear()
            .env("HOME", home.path())
            .env("PATH", "/usr/bin:/bin")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        child.stdin.take().unwrap().write_all(last.as_bytes()).unwrap();
        let out = child.wait_with_output().unwrap();
        let text = String::from_utf8(out.stdout).unwrap();
        (out.status.code().unwrap(), text, String::from_utf8(out.stderr).unwrap())
    };
    let [first, second] = &homes;
    scratch(first.path());
    // The weather, then answers until the two blocks are full, then the end.
    let answers = format!("68\n\n\n\n{}q\n", "1\nu\n".repeat(40));
    let (code, text, err) = told(first, &answers, "ulimit -f 2; ");
    assert!(text.contains("NOT ON THE DISK") && text.contains("It is kept in memory"), "{text}");
    assert!(text.contains("NOT ALL OF IT IS ON THE DISK") && !text.contains("safe on the disk"), "{text}");
    assert!(code == 1 && err.contains("not all that was answered is on the disk"), "{code}: {err}");
    // With the disk mended the visit is offered, and goes on.
    let (code, text, _) = told(first, "q\n", "");
    assert!(code == 0 && text.contains("safe on the disk"), "{text}");
    // At the end of the yard the visit itself is refused: it is said, asked again, and left as it is.
    let book = scratch(second.path());
    let answers = format!("68\n5\nn\n\n1\n7\n4\ny\n0\n2\n5\n1\n{}y\ny\nn\n", "g\n".repeat(20));
    let (code, text, _) = told(second, &answers, "ulimit -f 1; ");
    assert_eq!(text.matches("NOT SAVED").count(), 2, "{text}");
    assert!(code == 1 && text.contains("Try once more, y or n") && !text.contains("Saved:"), "{text}");
    let (code, text, _) = told(second, &format!("{}y\n", "g\n".repeat(20)), "");
    assert!(code == 0 && text.contains("Saved:"), "{text}");
    assert_eq!(run(second.path(), &["check", "--book", book.to_str().unwrap()]).0, 0);
}
