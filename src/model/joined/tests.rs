//! Two set-ups joined: what one changed, what both changed, and what cannot stand in one book.

use super::*;
use crate::model::{Depth, HiveBox, HiveId, Origin, Queen, QueenStatus, Role, YardId};

fn hive(name: &str) -> Hive {
    let boxes = vec![HiveBox::new(Depth::Deep, 10, Role::Nest)];
    let queen = Queen::of_status(QueenStatus::Laying, None);
    Hive::new(HiveId::new(name), Origin::Nuc, "2026-01-01".parse().unwrap(), boxes, queen)
}

fn book(yards: &[(&str, &[&str])]) -> Book {
    let mut book = Book::empty("Ann", Units::Us);
    for (name, hives) in yards {
        let mut yard = Yard::named(YardId::new(*name));
        yard.hives = hives.iter().map(|name| hive(name)).collect();
        book.yards.push(yard);
    }
    book
}

fn with(book: &Book, change: impl FnOnce(&mut Book)) -> Book {
    let mut book = book.clone();
    change(&mut book);
    book
}

fn rename(book: &mut Book, yard: usize, hive: usize, name: &str) {
    let hive = &mut book.yards[yard].hives[hive];
    hive.formerly.push(std::mem::replace(&mut hive.id, HiveId::new(name)));
}

#[test]
fn what_one_of_two_changed_is_taken_from_it() {
    let base = book(&[("Creek", &["A1", "A2", "A3"]), ("Hill", &[])]);
    let one = with(&base, |book| {
        book.yards[0].hives[0].note = "gentle".to_owned();
        book.yards[0].hives.push(hive("A4"));
        book.practice.set("winter_honey", Some(95.0));
        rename(book, 0, 1, "Anna");
    });
    let other = with(&base, |book| {
        book.yards[0].hives[0].mouse_guard = true;
        book.yards[0].hives[1].note = "moved".to_owned();
        let moved = book.yards[0].hives.remove(1);
        book.yards[1].hives = vec![moved, hive("B1")];
        book.yards[1].name = YardId::new("Ridge");
        book.yards[1].formerly = vec![YardId::new("Hill")];
        book.keeper = "Bea".to_owned();
    });
    let found = joined(Some(&base), &one, &other, &[]);
    assert_eq!(found.differences, []);
    let names: Vec<(&str, Vec<&str>)> = found
        .book
        .yards
        .iter()
        .map(|yard| (yard.name.as_str(), yard.hives.iter().map(|hive| hive.id.as_str()).collect()))
        .collect();
    assert_eq!(names, [("Creek", vec!["A1", "A3", "A4"]), ("Ridge", vec!["Anna", "B1"])]);
    let a1 = &found.book.yards[0].hives[0];
    assert_eq!((a1.note.as_str(), a1.mouse_guard), ("gentle", true));
    let anna = &found.book.yards[1].hives[0];
    assert_eq!((anna.note.as_str(), anna.formerly.as_slice()), ("moved", &[HiveId::new("A2")][..]));
    assert_eq!((found.book.keeper.as_str(), found.book.practice.own("winter_honey")), ("Bea", Some(95.0)));
    // The other way round it is the same.
    assert_eq!(joined(Some(&base), &other, &one, &[]).book.yards, found.book.yards);
}

#[test]
fn what_both_changed_is_shown_and_goes_as_it_is_chosen() {
    let base = book(&[("Creek", &["A1", "A2"])]);
    let one = with(&base, |book| {
        book.yards[0].hives[0].note = "gentle".to_owned();
        book.yards[0].hives.remove(1);
        book.yards[0].note = "gate".to_owned();
    });
    let other = with(&base, |book| {
        book.yards[0].hives[0].note = "stings".to_owned();
        book.yards[0].hives[1].note = "new queen".to_owned();
        book.yards[0].note = "gate".to_owned();
    });
    let found = joined(Some(&base), &one, &other, &[]);
    let at: Vec<(&str, Side)> = found.differences.iter().map(|d| (d.at.as_str(), d.holds)).collect();
    assert_eq!(at, [("the note of hive A1", Side::Other), ("hive A2", Side::Other)]);
    assert_eq!(
        found.differences[0].sentence(),
        "the note of hive A1 was set up differently in two places: \"stings\" holds for now, the other is \"gentle\""
    );
    assert_eq!(found.book, other, "nothing is taken out while it is not settled");
    let chosen = joined(Some(&base), &one, &other, &[Side::One, Side::One]);
    assert_eq!(chosen.book, one);
    let mixed = joined(Some(&base), &one, &other, &[Side::One, Side::Other]);
    assert_eq!(mixed.book.yards[0].hives.len(), 2);
    assert_eq!(mixed.book.yards[0].hives[0].note, "gentle");
    assert_eq!(mixed.differences.len(), 2, "they are the same whatever is chosen");
}

#[test]
fn two_renamings_of_one_hive_keep_both_names_and_two_hives_of_one_name_differ_as_a_whole() {
    let base = book(&[("Creek", &["A1", "A2"])]);
    let one = with(&base, |book| rename(book, 0, 0, "Ada"));
    let other = with(&base, |book| rename(book, 0, 0, "Ida"));
    let found = joined(Some(&base), &one, &other, &[]);
    assert_eq!(found.differences.len(), 1);
    let hive = &found.book.yards[0].hives[0];
    let former: Vec<&str> = hive.formerly.iter().map(HiveId::as_str).collect();
    assert_eq!((hive.id.as_str(), former), ("Ida", vec!["A1", "Ada"]));
    let clash = with(&base, |book| rename(book, 0, 1, "Ada"));
    let found = joined(Some(&base), &one, &clash, &[]);
    assert_eq!(found.differences.len(), 1);
    assert!(found.differences[0].at.starts_with("the whole set-up"), "{:?}", found.differences);
    assert_eq!(found.book, clash);
    assert_eq!(joined(Some(&base), &one, &clash, &[Side::One]).book, one);
}

#[test]
fn without_a_common_version_both_are_taken_together() {
    let one = book(&[("Creek", &["A1", "A2"])]);
    let other = with(&book(&[("Creek", &["A2", "A3"]), ("Hill", &["B1"])]), |book| {
        book.yards[0].hives[0].mouse_guard = true;
    });
    let found = joined(None, &one, &other, &[]);
    assert_eq!(found.differences.len(), 1, "{:?}", found.differences);
    assert_eq!(found.differences[0].at, "the mouse guard of hive A2");
    let hives: Vec<&str> = found.book.yards.iter().flat_map(|y| &y.hives).map(|h| h.id.as_str()).collect();
    assert_eq!(hives, ["A1", "A2", "A3", "B1"]);
}

#[test]
fn the_order_of_the_one_who_moved_a_stand_holds() {
    let base = book(&[("Creek", &["A1", "A2", "A3"])]);
    let one = with(&base, |book| book.yards[0].hives.swap(0, 2));
    let other = with(&base, |book| book.yards[0].hives.insert(1, hive("A9")));
    for (one, other) in [(&one, &other), (&other, &one)] {
        let found = joined(Some(&base), one, other, &[]);
        let hives: Vec<&str> = found.book.yards[0].hives.iter().map(|h| h.id.as_str()).collect();
        assert_eq!((hives, found.differences.len()), (vec!["A3", "A2", "A1", "A9"], 0));
    }
}
