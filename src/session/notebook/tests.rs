//! Notebooks as keepers write them, and every line that is refused.

use super::*;
use crate::model::{Mass, Yard};

fn book() -> Book {
    let mut book = Book::empty("T", Units::Us);
    let mut yard = Yard::named(YardId::new("Creek"));
    let boxes = vec![HiveBox::new(crate::model::Depth::Deep, 10, Role::Nest)];
    let queen =
        Queen { status: QueenStatus::Laying, year: None, mark: None, origin: String::new(), since: None };
    let since = "2024-04-01".parse().unwrap();
    yard.hives.push(Hive::new(HiveId::new("A1"), Origin::Overwintered, since, boxes, queen));
    book.yards.push(yard);
    book
}

fn today() -> NaiveDate {
    "2026-05-03".parse().unwrap()
}

fn notebook(text: &str) -> Notebook {
    read(text, &book(), &Reading::default(), today()).unwrap()
}

#[test]
fn columns_are_known_by_the_names_keepers_give_them_and_units_by_their_heads() {
    let found = notebook(
        "Date,Colony,Frames of bees,Brood frames,Varroa,Sample,Hive weight (kg),Eggs,Temper,Moon,Notes\n\
         2025-06-01,A1,8.5,5,6,300,40,yes,calm,full,\"swarmy, marked\"\n",
    );
    assert_eq!(found.ignored, ["Moon"]);
    assert!(found.refused.is_empty(), "{:?}", found.refused);
    let entry = &found.visits[0].entries[0];
    let findings = &entry.findings;
    assert_eq!((findings.bees.map(|f| f.0), findings.brood.map(|f| f.0)), (Some(8.5), Some(5.0)));
    assert_eq!((findings.mites.map(|m| m.0), findings.wash_bees.map(|b| b.0)), (Some(6), Some(300)));
    assert_eq!(findings.weight, Some(Mass::from_kilograms(40.0)));
    assert_eq!((findings.eggs, entry.note.as_str()), (Some(true), "swarmy, marked"));
    assert_eq!(found.visits[0].on, "2025-06-01".parse().unwrap());
}

#[test]
fn semicolons_bring_decimal_commas_and_days_tell_their_order() {
    let found = notebook("datum;hive;bees;mites_percent\n14.06.2025;A1;7,5;2,0\n1.07.2025;A1;9;\n");
    assert_eq!(found.visits.len(), 2, "{:?}", found.refused);
    let first = &found.visits[0];
    assert_eq!(first.on, "2025-06-14".parse().unwrap());
    assert_eq!(first.entries[0].findings.bees.map(|f| f.0), Some(7.5));
    assert_eq!(first.entries[0].findings.mites.map(|m| m.0), Some(6), "2 % as of 300");
}

#[test]
fn a_day_that_could_be_two_is_asked_about_once() {
    let text = "date,hive,bees\n3/4/2025,A1,7\n5/6/2025,A1,8\n";
    let asked = read(text, &book(), &Reading::default(), today());
    assert_eq!(asked, Err(NotebookFault::TwoDays("3/4/2025".to_owned())));
    for (order, on) in [(DayOrder::DayFirst, "2025-04-03"), (DayOrder::MonthFirst, "2025-03-04")] {
        let reading = Reading { order: Some(order), ..Reading::default() };
        assert_eq!(read(text, &book(), &reading, today()).unwrap().visits[0].on, on.parse().unwrap());
    }
}

#[test]
fn every_refused_line_has_its_reason_and_the_others_stand() {
    let found = notebook(
        "date,hive,bees,eggs\n2025-05-01,A1,8,yes\nsoon,A1,8,\n2027-01-01,A1,8,\n2025-05-02,B9,8,\n2025-05-01,A1,9,\n\
         2024-01-01,A1,9,\n2025-05-03,A1,99,\n2025-05-04,A1,,maybe\n2025-05-05,A1,,\n",
    );
    let lines: Vec<u64> = found.refused.iter().map(|(line, _)| *line).collect();
    assert_eq!(lines, [3, 4, 5, 6, 7, 8, 9, 10], "{:?}", found.refused);
    for ((_, why), part) in found.refused.iter().zip([
        "no day",
        "has not come",
        "--add-hives",
        "stands twice",
        "stands since",
        "it must be",
        "neither yes nor no",
        "nothing was found",
    ]) {
        assert!(why.contains(part), "{part} in {why}");
    }
    assert_eq!(found.visits.len(), 1);
}

#[test]
fn hives_the_book_does_not_know_come_with_their_first_day_where_that_is_asked_for() {
    let reading = Reading { adds_hives: true, ..Reading::default() };
    let text = "date,hive,bees\n2025-05-20,B2,8\n2025-05-01,B2,6\n";
    let found = read(text, &book(), &reading, today()).unwrap();
    assert_eq!(found.hives.len(), 1);
    assert_eq!((found.hives[0].0.as_str(), found.hives[0].1.since), ("Creek", "2025-05-01".parse().unwrap()));
    assert_eq!(found.visits.len(), 2);
}

#[test]
fn the_same_notebook_read_again_is_refused_line_by_line() {
    let text = "date,hive,bees\n2025-05-01,A1,6\n";
    let mut with = book();
    with.visits = notebook(text).visits;
    let again = read(text, &with, &Reading::default(), today()).unwrap();
    assert!(again.visits.is_empty() && again.refused[0].1.contains("already"), "{:?}", again.refused);
}
