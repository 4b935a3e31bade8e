//! An older yard file beside newer versions.

use crate::model::{Book, Side, Units};
use crate::store::{BookFolder, Files};

/// A synchronizer that brings an older `yard.ron` takes nothing back; it is told until the next change is written.
#[test]
fn an_older_yard_file_gives_way_to_the_newest_version() {
    let root = tempfile::tempdir().unwrap();
    let (folder, today) = (root.path().join("book"), "2026-05-03".parse().unwrap());
    let made = BookFolder::create(&folder, &Book::empty("Ann", Units::Us)).unwrap();
    let files = Files::default();
    let yard = folder.join("yard.ron");
    let first = files.read_text(&yard).unwrap();
    made.save_yards(&Book::empty("Bea", Units::Us), true).unwrap();
    files.replace(&yard, &first).unwrap();
    let (again, read) = BookFolder::open(&folder, today).unwrap();
    assert_eq!((read.keeper.as_str(), again.left_out().len()), ("Bea", 1));
    assert!(
        again.left_out()[0].is_copy && again.left_out()[0].what.contains("is older than former/yard-000001-")
    );
    // What is changed then is changed of the newest.
    let mut next = Book { visits: Vec::new(), ..read };
    next.practice.set("winter_honey", Some(95.0));
    assert!(!again.save_yards(&next, true).unwrap().was_joined);
    let (last, read) = BookFolder::open(&folder, today).unwrap();
    assert_eq!((read.keeper.as_str(), read.practice.own("winter_honey")), ("Bea", Some(95.0)));
    assert!(last.left_out().is_empty() && last.differences().is_empty());
}

/// The older file may be what two ends came of: they are joined, and settled, against what it holds.
#[test]
fn two_ends_are_settled_against_an_older_yard_file_as_it_is() {
    let root = tempfile::tempdir().unwrap();
    let (folder, today) = (root.path().join("book"), "2026-05-03".parse().unwrap());
    let with = |keeper: &str, field: &str, value: f64| {
        let mut book = Book::empty(keeper, Units::Us);
        assert!(book.practice.set(field, Some(value)));
        book
    };
    BookFolder::create(&folder, &Book::empty("Ann", Units::Us)).unwrap();
    let files = Files::default();
    let yard = folder.join("yard.ron");
    let first = files.read_text(&yard).unwrap();
    for end in [with("Bea", "winter_honey", 95.0), with("Cal", "mite_limit", 1.5)] {
        files.replace(&yard, &first).unwrap();
        // Known before the other end was there: each is made of the first alone.
        let former = folder.join("former");
        let hidden = root.path().join("hidden");
        files.rename(&former, &hidden).unwrap();
        let (place, _) = BookFolder::open(&folder, today).unwrap();
        place.save_yards(&end, true).unwrap();
        for path in files.list(&former).unwrap() {
            files.rename(&path, &hidden.join(path.file_name().unwrap())).unwrap();
        }
        files.remove_folder(&former).unwrap();
        files.rename(&hidden, &former).unwrap();
    }
    files.replace(&yard, &first).unwrap();
    let (place, read) = BookFolder::open(&folder, today).unwrap();
    assert_eq!(place.differences().len(), 1, "{:?}", place.differences());
    assert_eq!((read.practice.own("winter_honey"), read.practice.own("mite_limit")), (Some(95.0), Some(1.5)));
    let settled = place.settle(&[Side::One]).unwrap().unwrap();
    assert_eq!(settled.book.practice, read.practice, "only the difference is settled");
    assert_ne!(settled.book.keeper, read.keeper);
    assert!(BookFolder::open(&folder, today).unwrap().0.differences().is_empty());
}
