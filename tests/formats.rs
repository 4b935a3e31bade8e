//! Books of former formats, as the program of their time wrote them: they are read as they stand, and written again in the
//! format of today. The files in `tests/formats` are never changed.

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
use yardwalk::model::{Corrections, FORMAT, Folded, VisitStand};
use yardwalk::store::{self, BookFolder};

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let there = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copy(&path, &there);
        } else {
            fs::copy(&path, &there).unwrap();
        }
    }
}

fn of_format(number: u32) -> (tempfile::TempDir, std::path::PathBuf) {
    let root = tempfile::tempdir().unwrap();
    let folder = root.path().join("book");
    copy(&Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/formats/{number}")), &folder);
    (root, folder)
}

#[test]
fn format_1_is_read_as_it_stands_and_written_again_as_the_format_of_today() {
    let (_root, folder) = of_format(1);
    let today = "2026-05-03".parse().unwrap();
    let (place, book) = BookFolder::open(&folder, today).unwrap();
    assert_eq!((book.format, book.visits.len()), (FORMAT, 7));
    let state = Folded::of(&book, today);
    let t1 = state.hive(&yardwalk::model::HiveId::new("T1")).unwrap();
    assert_eq!(t1.seen.bees.unwrap().value, yardwalk::model::Frames(8.0));
    // A withdrawal of format 1 replaces a visit by nothing.
    let corrections = Corrections::of(&book, today);
    let stand =
        |part: &str| corrections.stand(book.visits.iter().find(|v| v.id.as_str().contains(part)).unwrap());
    assert_eq!((stand("7d60"), stand("8e17")), (VisitStand::Corrected, VisitStand::Correction));
    assert_eq!((stand("81b3"), stand("8e16")), (VisitStand::Corrected, VisitStand::Correction));
    // Written again it is of today's format; the visits' files are never rewritten, and the former yards are kept.
    let visits = files_below(&folder.join("visits"), ".ron");
    let texts: Vec<String> = visits.iter().map(|p| fs::read_to_string(p).unwrap()).collect();
    place.save_yards(&book).unwrap();
    assert!(fs::read_to_string(folder.join("yard.ron")).unwrap().contains(&format!("format: {FORMAT}")));
    assert!(fs::read_to_string(folder.join("former/yard-000001.ron")).unwrap().contains("format: 1"));
    assert_eq!(visits.iter().map(|p| fs::read_to_string(p).unwrap()).collect::<Vec<_>>(), texts);
    assert!(store::is_same(&BookFolder::open(&folder, today).unwrap().1, &book));
}

#[test]
fn a_draft_of_format_1_is_taken_up_and_a_backup_of_it_comes_back() {
    let (root, folder) = of_format(1);
    let book = folder.to_str().unwrap();
    let backup = root.path().join("backup.ron");
    assert_eq!(run(root.path(), &["backup", backup.to_str().unwrap(), "--book", book]).0, 0);
    let again = root.path().join("again");
    assert_eq!(
        run(root.path(), &["restore", backup.to_str().unwrap(), "--to", again.to_str().unwrap()]).0,
        0
    );
    assert_eq!(run(root.path(), &["check", "--book", again.to_str().unwrap()]).0, 0);
    let mut t = Terminal::start(root.path(), &["--book", book, "--on", "2026-05-03"], 24, 80);
    t.wait_for("Taken up where it was left: the visit of 3 May");
    t.wait_for("T1 · Top Orchard");
    t.wait_for("Flight            [none");
    t.press("s", "Wrap-up of Top Orchard");
    t.press(ENTER, "Saved: 1 hive");
    t.keys("q");
    assert_eq!(t.end(), 0);
    assert_eq!(run(root.path(), &["check", "--book", book]).0, 0);
}
