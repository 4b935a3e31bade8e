//! Book folders: made, read, written to, and what is refused.

use super::*;
use crate::model::Units;
use crate::model::YardId;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn book() -> Book {
    let mut book = Book::empty("A", Units::Us);
    book.yards = vec![crate::model::Yard {
        name: YardId::new("Creek"),
        place: None,
        formerly: Vec::new(),
        freezes: None,
        flows: Vec::new(),
        note: String::new(),
        hives: Vec::new(),
    }];
    book
}

fn visit(id: &str) -> Visit {
    Visit::begun(VisitId::new(id), YardId::new("Creek"), day("2026-05-03"))
}

/// A restore that is stopped between two visits leaves no book behind, and the next try begins anew.
#[test]
fn a_book_stopped_in_the_making_is_not_there() {
    let root = tempfile::tempdir().unwrap();
    let folder = root.path().join("mine");
    let book = Book { visits: ["a", "b", "c"].map(visit).to_vec(), ..book() };
    let written = std::cell::Cell::new(0);
    let stop = || {
        written.set(written.get() + 1);
        assert!(written.get() < 2, "stopped");
    };
    let stopped = std::panic::AssertUnwindSafe(|| BookFolder::create_watched(&folder, &book, &stop));
    assert!(std::panic::catch_unwind(stopped).is_err());
    assert!(!folder.exists());
    written.set(0);
    BookFolder::create_watched(&folder, &book, &|| written.set(written.get() + 1)).unwrap();
    assert_eq!(written.get(), 3);
    assert_eq!(BookFolder::open(&folder, day("2026-05-04")).unwrap().1.visits.len(), 3);
}

#[test]
fn a_book_folder_comes_back_with_its_visits() {
    let root = tempfile::tempdir().unwrap();
    let folder = root.path().join("mine");
    let made = BookFolder::create(&folder, &book()).unwrap();
    let path = made.add_visit(&visit("2026-05-03T0915-creek-3f9a")).unwrap();
    assert!(path.ends_with("visits/2026/2026-05-03T0915-creek-3f9a.ron"));
    let (_, read) = BookFolder::open(&folder, day("2026-05-04")).unwrap();
    assert_eq!(read.visits, [visit("2026-05-03T0915-creek-3f9a")]);
    assert!(matches!(BookFolder::create(&folder, &book()), Err(StoreError::Taken { .. })));
    made.add_visit(&visit("2026-05-03T0915-creek-3f9a")).unwrap();
    let mut other = visit("2026-05-03T0915-creek-3f9a");
    other.note = "another".to_owned();
    assert!(matches!(made.add_visit(&other), Err(StoreError::Taken { .. })), "never written over");
}

#[test]
fn a_visit_in_the_future_is_left_out_until_its_day_and_an_empty_folder_is_refused() {
    let root = tempfile::tempdir().unwrap();
    let folder = root.path().join("mine");
    BookFolder::create(&folder, &book()).unwrap().add_visit(&visit("a")).unwrap();
    let (early, read) = BookFolder::open(&folder, day("2026-05-02")).unwrap();
    assert!(read.visits.is_empty() && early.left_out()[0].what.contains("after today"));
    assert_eq!(BookFolder::open(&folder, day("2026-05-03")).unwrap().1.visits, [visit("a")]);
    assert!(matches!(BookFolder::open(root.path(), day("2026-05-02")), Err(StoreError::NoBook { .. })));
}

#[test]
fn every_version_of_the_yards_is_kept_and_every_visit() {
    let root = tempfile::tempdir().unwrap();
    let folder = root.path().join("mine");
    let made = BookFolder::create(&folder, &book()).unwrap();
    // A whole book copied into the folder by hand, a visit in it.
    let whole = Book { visits: vec![visit("by-hand")], ..book() };
    Files::default()
        .replace(&folder.join("yard.ron"), &parse::book_to_text(&whole, &folder).unwrap())
        .unwrap();
    for limit in 1..=110 {
        let mut next = book();
        next.practice.set("winter_honey", Some(80.0 + f64::from(limit) / 10.0));
        made.save_yards(&next, true).unwrap();
    }
    let former = Files::default().list(&folder.join("former")).unwrap();
    // The one that was there, and those that were written: the newest hundred whole, of the others the name.
    assert_eq!(former.len(), 111);
    let texts: Vec<String> = former.iter().map(|path| Files::default().read_text(path).unwrap()).collect();
    assert!(texts[..11].iter().all(String::is_empty));
    assert!(texts[11..].iter().all(|text| text.contains("winter_honey")));
    assert_eq!(texts.last().unwrap(), &Files::default().read_text(&folder.join("yard.ron")).unwrap());
    let (_, read) = BookFolder::open(&folder, day("2026-05-04")).unwrap();
    assert_eq!(read.visits, [visit("by-hand")]);
    assert_eq!(read.practice.own("winter_honey"), Some(91.0));
}

#[test]
fn a_visits_name_never_leaves_its_folder() {
    let root = tempfile::tempdir().unwrap();
    let made = BookFolder::create(&root.path().join("mine"), &book()).unwrap();
    let path = made.add_visit(&visit("../../evil/x")).unwrap();
    assert!(path.starts_with(root.path().join("mine/visits/2026")), "{}", path.display());
}

/// Names that are alike once they are cleaned are names of two files.
#[test]
fn two_visits_whose_names_are_cleaned_alike_are_two_files() {
    let root = tempfile::tempdir().unwrap();
    let folder = root.path().join("mine");
    let names = ["a/b", "a b", "a-b", "../a-b", &"x".repeat(90), &"x".repeat(91), "/", "//"];
    let visits: Vec<Visit> = names.iter().map(|name| visit(name)).collect();
    BookFolder::create(&folder, &Book { visits: visits.clone(), ..book() }).unwrap();
    let (place, mut read) = BookFolder::open(&folder, day("2026-05-04")).unwrap();
    assert!(place.left_out().is_empty());
    read.visits.sort_by_key(|visit| names.iter().position(|name| *name == visit.id.as_str()));
    assert_eq!(read.visits, visits);
}

/// What others of the computer may not read, and what no history keeps.
#[cfg(unix)]
#[test]
fn a_new_book_is_the_users_alone_and_its_drafts_are_in_no_history() {
    use std::os::unix::fs::PermissionsExt as _;
    let root = tempfile::tempdir().unwrap();
    let folder = root.path().join("mine");
    let made = BookFolder::create(&folder, &book()).unwrap();
    let file = made.add_visit(&visit("a")).unwrap();
    let bits = |path: &Path| std::fs::metadata(path).unwrap().permissions().mode() & 0o777;
    assert_eq!([bits(&folder), bits(file.parent().unwrap())], [0o700, 0o700]);
    assert_eq!([bits(&folder.join("yard.ron")), bits(&file)], [0o600, 0o600]);
    let ignored = Files::default().read_text(&folder.join(".gitignore")).unwrap();
    assert_eq!(ignored, "/drafts/\n.yardwalk-*\n");
}
