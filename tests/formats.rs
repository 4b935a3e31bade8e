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
use support::names::names_of;
use support::{Terminal, files_below, run};
use yardwalk::model::{Book, Corrections, Disease, DraftStep, FORMAT, Folded, VisitStatus};
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

/// Whether a former `yard.ron` holds a text.
fn is_in_former(book: &Path, text: &str) -> bool {
    files_below(&book.join("former"), ".ron").iter().any(|p| fs::read_to_string(p).unwrap().contains(text))
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
    assert_eq!((stand("7d60"), stand("8e17")), (VisitStatus::Corrected, VisitStatus::Correction));
    assert_eq!((stand("81b3"), stand("8e16")), (VisitStatus::Corrected, VisitStatus::Correction));
    // Written again it is of today's format; the visits' files are never rewritten, and the former yards are kept.
    let visits = files_below(&folder.join("visits"), ".ron");
    let texts: Vec<String> = visits.iter().map(|p| fs::read_to_string(p).unwrap()).collect();
    place.save_yards(&book, true).unwrap();
    assert!(fs::read_to_string(folder.join("yard.ron")).unwrap().contains(&format!("format: {FORMAT}")));
    assert!(is_in_former(&folder, "format: 1"));
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
    t.wait_for("Taken up where it was left: the visit of May 3");
    t.wait_for("T1 · Top Orchard");
    t.wait_for("Flight            [none");
    t.press("s", "Wrap-up of Top Orchard");
    t.press(ENTER, "Saved: 1 hive");
    t.keys("q");
    assert_eq!(t.end(), 0);
    assert_eq!(run(root.path(), &["check", "--book", book]).0, 0);
}

/// Format 2 knew by the name of one rule that promises were kept, and wrote an answer of none as `r#None`.
#[test]
fn format_2_means_what_it_meant() {
    let (_root, folder) = of_format(2);
    let today = "2026-05-03".parse().unwrap();
    let (_, book) = BookFolder::open(&folder, today).unwrap();
    let state = Folded::of(&book, today);
    let hive = |id: &str| state.hive(&yardwalk::model::HiveId::new(id)).unwrap();
    assert_eq!(hive("A2").promises, [], "it was answered on the day it fell due");
    assert_eq!(hive("A1").promises.len(), 1, "nobody answered this one");
    assert_eq!(hive("A1").seen.disease.unwrap().value, Disease::None);
    let answers = book.visits.iter().flat_map(|v| &v.entries).flat_map(|e| &e.answers);
    let kept: Vec<bool> = answers.map(|a| a.keeps_promises).collect();
    assert!(kept.contains(&true) && kept.contains(&false), "{kept:?}");
}

/// Format 3 did not ask who cleared a suspicion of disease.
#[test]
fn format_3_means_what_it_meant() {
    let (_root, folder) = of_format(3);
    let today = "2026-05-15".parse().unwrap();
    let (_, book) = BookFolder::open(&folder, today).unwrap();
    let state = Folded::of(&book, today);
    let hive = |id: &str| state.hive(&yardwalk::model::HiveId::new(id)).unwrap();
    assert!(hive("A1").disease_suspected.is_some());
    assert_eq!(hive("A2").disease_suspected, None);
    let cleared = hive("A2").cleared.last().unwrap();
    assert_eq!((cleared.by, cleared.on), (None, "2026-05-14".parse().unwrap()));
    assert_eq!(hive("A3").courses.len(), 1);
}

/// Every name a file of ours may hold, a type a line.
fn names() -> String {
    let mut names = names_of::<Book>();
    names.extend(names_of::<DraftStep>());
    let lines: Vec<String> = names.iter().map(|(of, names)| format!("{of}: {}\n", names.join(" "))).collect();
    lines.concat()
}

/// A field or a variant that comes, goes or is renamed makes a new format: raise `FORMAT`, say in `model/former.rs` what
/// the former one meant, and write the names anew with `FORMAT_NAMES=write cargo test --test formats`.
#[test]
fn the_names_of_the_format_are_those_of_its_number() {
    let path = format!("{}/tests/formats/names-{FORMAT}.txt", env!("CARGO_MANIFEST_DIR"));
    if std::env::var_os("FORMAT_NAMES").is_some() {
        fs::write(&path, names()).unwrap();
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    let (kept, now): (Vec<&str>, String) = (kept.lines().collect(), names());
    let changed: Vec<&str> = now.lines().filter(|line| !kept.contains(line)).collect();
    let gone: Vec<&&str> = kept.iter().filter(|line| !now.lines().any(|n| n == **line)).collect();
    assert!(
        changed.is_empty() && gone.is_empty(),
        "the names have changed, and format {FORMAT} has not been raised\nnow: {changed:#?}\nwere: {gone:#?}"
    );
    // The probe sees what it is to see.
    for part in [
        "Findings: ",
        "Action::AddBox: depth frames role drawn level",
        "DraftStep: ",
        "Disease: None NoneSeen",
    ] {
        assert!(now.contains(part), "{part} not in\n{now}");
    }
}

#[test]
fn a_newer_format_is_called_newer_in_every_file_and_never_a_slip_of_the_pen() {
    let root = tempfile::tempdir().unwrap();
    let home = root.path();
    let book = home.join("book");
    let path = book.to_str().unwrap();
    assert_eq!(run(home, &["restore", "sample-yard.ron", "--to", path]).0, 0);
    let visit = files_below(&book.join("visits"), ".ron").remove(0);
    // Without its yards there is no book; without a visit there is all the rest.
    for (file, text, ends) in [
        (book.join("yard.ron"), "(format: 6, gates: 3, yards: [])", 1),
        (book.join("yard.ron"), "(format: 99999999999, yards: Unheard(of: [1, 2]))", 1),
        (visit.clone(), "(format: 6, visit: (id: \"x\", stars: Nine))", 0),
        (visit, "(visit: (yard: 7), format: 6)", 0),
    ] {
        let before = fs::read_to_string(&file).unwrap();
        fs::write(&file, text).unwrap();
        let (code, _, err) = run(home, &["plan", "--book", path]);
        assert_eq!(code, ends, "{text}");
        assert!(err.contains("newer yardwalk") && !err.contains("did you mean"), "{text}: {err}");
        fs::write(&file, before).unwrap();
    }
    let drafts = book.join("drafts");
    fs::create_dir_all(&drafts).unwrap();
    fs::write(drafts.join("2026-05-03T0915-x-0001.ron"), "Format(6)\nSeenFrom(\"above\")\n").unwrap();
    let (_, today) = BookFolder::open(&book, "2026-08-08".parse().unwrap()).unwrap();
    assert!(!today.visits.is_empty(), "a draft of a newer program does not close the book");
}

/// `None` written by hand says that none was seen; what was not looked at is left out.
#[test]
fn none_written_by_hand_is_an_answer() {
    let text = |finding: &str| {
        format!(
            "(format: 3, keeper: \"T\", yards: [(name: \"Y\", hives: [(id: \"A\", origin: Nuc, since: \"2026-01-01\", \
             boxes: [(depth: Deep, role: Nest)], queen: (status: Laying))])], visits: [(id: \"v\", yard: \"Y\", \
             on: \"2026-05-01\", entries: [(hive: \"A\", findings: ({finding}))])])"
        )
    };
    for (finding, is_seen) in [
        ("disease: None", true),
        ("disease: r#None", true),
        ("disease: NoneSeen", true),
        ("disease: Some(NoneSeen)", true),
        ("bees: 7", false),
    ] {
        let book = store::book_from_text(&text(finding), Path::new("x.ron")).unwrap();
        let seen = book.visits[0].entries[0].findings.disease;
        assert_eq!(seen, is_seen.then_some(Disease::None), "{finding}");
        let again = store::book_to_text(&book, Path::new("x.ron")).unwrap();
        assert!(!again.contains("disease: None,"), "{again}");
        assert_eq!(store::book_from_text(&again, Path::new("x.ron")).unwrap(), book);
    }
    // The sample's own: nothing of what its keeper answered is lost.
    let sample = include_str!("../sample-yard.ron");
    let book = store::book_from_text(sample, Path::new("sample-yard.ron")).unwrap();
    let entries = || book.visits.iter().flat_map(|v| &v.entries);
    let none = entries().filter(|e| e.findings.disease == Some(Disease::None)).count()
        + entries().filter(|e| e.findings.robbing == Some(yardwalk::model::Robbing::None)).count()
        + entries().filter(|e| e.findings.backfill == Some(yardwalk::model::Backfill::None)).count()
        + entries().filter(|e| e.findings.flight == Some(yardwalk::model::Flight::None)).count();
    let written = ["disease", "robbing", "backfill", "flight"]
        .iter()
        .map(|field| {
            sample.matches(&format!("{field}: None")).count()
                + sample.matches(&format!("{field}: r#None")).count()
        })
        .sum::<usize>();
    assert!(written > 25, "{written}");
    assert_eq!(none, written);
}

/// A comment written into `yard.ron` by hand is not taken away unasked, and the file that held it is kept.
#[test]
fn comments_are_asked_about_before_they_go() {
    let root = tempfile::tempdir().unwrap();
    let home = root.path();
    let book = home.join("book");
    let path = book.to_str().unwrap();
    assert_eq!(run(home, &["restore", "sample-yard.ron", "--to", path]).0, 0);
    let yard = book.join("yard.ron");
    let commented = format!("// gate code 4711\n{}", fs::read_to_string(&yard).unwrap());
    fs::write(&yard, &commented).unwrap();
    let mut t = Terminal::start(home, &["--book", path, "--on", "2026-05-03"], 24, 80);
    t.wait_for("Today, Sunday");
    t.press("t", "Practice");
    t.keys("3");
    t.press(ENTER, "1 comment written by hand stands in yard.ron");
    t.press(ESC, "yard.ron is as it was");
    assert_eq!(fs::read_to_string(&yard).unwrap(), commented);
    t.keys("3");
    t.press(ENTER, "1 comment written by hand stands in yard.ron");
    t.press("s", "Saved in yard.ron");
    t.keys(ESC);
    t.wait_for("Today, Sunday");
    t.keys("q");
    assert_eq!(t.end(), 0);
    assert!(!fs::read_to_string(&yard).unwrap().contains("4711"));
    assert!(is_in_former(&book, "4711"));
    // The command line asks too.
    fs::write(&yard, &commented).unwrap();
    let table = home.join("hives.csv");
    fs::write(&table, "hive,yard,boxes\nZ9,Alder Bottom,1 deep\n").unwrap();
    let import = ["import", table.to_str().unwrap(), "--book", path];
    let (code, _, err) = run(home, &import);
    assert!(
        code == 1 && err.contains("1 comment written by hand") && err.contains("--drop-comments"),
        "{err}"
    );
    assert_eq!(fs::read_to_string(&yard).unwrap(), commented);
    assert_eq!(run(home, &[&import[..], &["--drop-comments"]].concat()).0, 0);
}
