//! The load list is what the queue's prompts need, no more and no less.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

use std::collections::BTreeMap;

use chrono::NaiveDate;
use yardwalk::advice::{Kept, Need, Urgency};
use yardwalk::model::{Action, Book, Depth, Entry, Folded, Level, Loaded, Mix, Role, Visit, VisitId, Volume};
use yardwalk::plan::{self, Amount, Unused, YardPlan, item_of, load, unused};
use yardwalk::store;

fn sample() -> Book {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-yard.ron");
    store::read(&path).unwrap().0
}

fn each_day(mut look: impl FnMut(&Book, &Folded, &YardPlan, NaiveDate)) {
    let book = sample();
    for on in [
        "2025-08-20",
        "2025-09-15",
        "2026-01-15",
        "2026-03-20",
        "2026-05-03",
        "2026-06-14",
        "2026-08-08",
        "2026-10-12",
    ] {
        let date: NaiveDate = on.parse().unwrap();
        let folded = Folded::of(&book, date);
        for yard in plan::day(&book, &folded, date).yards {
            look(&book, &folded, &yard, date);
        }
    }
}

/// Walks the queue and takes from the truck what each prompt needs: nothing wants, and nothing but the spare is left.
#[test]
fn walking_the_queue_uses_the_list_up_to_the_spare() {
    let mut walked = 0;
    each_day(|book, folded, yard, date| {
        let list = load(yard, folded, &book.practice, date);
        let mut truck: BTreeMap<String, f64> =
            list.likely.iter().map(|l| (l.item.clone(), l.load().number())).collect();
        for stop in &yard.queue {
            let state = folded.hive(&stop.hive).unwrap();
            let (asked, may): (Vec<_>, Vec<_>) =
                stop.advice.prompts.iter().partition(|p| p.urgency <= Urgency::Should);
            for need in may.iter().flat_map(|p| &p.needs) {
                let words = item_of(*need, state).words;
                assert!(list.lines().any(|l| l.item == words), "{words} is nowhere on the list");
            }
            for need in asked.iter().flat_map(|p| &p.needs) {
                let item = item_of(*need, state);
                let there = truck.get_mut(&item.words).unwrap_or_else(|| panic!("{} not loaded", item.words));
                match item.kept {
                    Kept::Used => *there -= item.amount.number(),
                    Kept::Tool => assert!(*there >= 1.0, "{}", item.words),
                }
                walked += 1;
            }
        }
        for line in list.likely.iter().filter(|l| !l.hives.is_empty()) {
            let left = truck[&line.item];
            assert!((left - line.spare.number()).abs() < 1e-6, "{date} {}: {left} left", line.item);
        }
    });
    assert!(walked > 50, "only {walked} needs were walked");
}

#[test]
fn every_line_has_a_weight_and_the_total_is_their_sum() {
    each_day(|book, folded, yard, date| {
        let list = load(yard, folded, &book.practice, date);
        assert!(list.lines().all(|l| l.weight.pounds() > 0.0), "{date} {list:?}");
        let sum: f64 = list.lines().map(|l| l.weight.pounds()).sum();
        assert!((list.weight(true).pounds() - sum).abs() < 1e-9);
        assert!(list.weight(false) <= list.weight(true));
        assert_eq!(yard.queue.is_empty(), list.likely.is_empty(), "{date}");
    });
}

#[test]
fn the_spare_is_a_share_rounded_up() {
    for (n, share, spare) in [(10, 0.1, 1), (11, 0.1, 2), (1, 0.1, 1), (5, 0.0, 0), (0, 0.5, 0)] {
        assert_eq!(Amount::Count(n).share(share), Amount::Count(spare), "{n} {share}");
    }
    let gallons = |g| Amount::Volume(Volume::from_gallons(g));
    assert_eq!(gallons(8.0).share(0.1), gallons(1.0), "0.8 to the next quarter");
}

#[test]
fn weights_are_those_of_boxes_and_of_syrup() {
    let book = sample();
    let folded = Folded::of(&book, "2026-05-03".parse().unwrap());
    let hive = folded.hives().next().unwrap();
    let deep = item_of(Need::Box { depth: Depth::Deep, role: Role::Nest }, hive);
    assert_eq!((deep.words.as_str(), deep.pounds_each), ("deep nest box", 20.0));
    // 66.7 % sugar is 1.33 kg a liter: 5.03 kg or 11.1 lb a gallon.
    let syrup = item_of(Need::Syrup { mix: Mix::Thick, volume: Volume::from_gallons(4.0) }, hive);
    assert!((syrup.pounds_each - 11.1).abs() < 0.1, "{}", syrup.pounds_each);
}

#[test]
fn what_came_home_unused_is_named_and_tools_are_not() {
    let mut book = sample();
    let yard = book.yards[0].name.clone();
    let hive = book.yards[0].hives[0].id.clone();
    let on: NaiveDate = "2026-08-20".parse().unwrap();
    let loaded = |item: &str, amount, comes_home| Loaded { item: item.to_owned(), amount, comes_home };
    let mut entry = Entry::blank(hive);
    entry.actions = vec![Action::AddBox {
        depth: Depth::Medium,
        frames: 10,
        role: Role::Super,
        drawn: 0,
        level: Level::Top,
    }];
    book.visits.push(Visit {
        truck: vec![
            loaded("medium super", 3.0, false),
            loaded("mouse guard", 1.0, false),
            loaded("smoker, fuel and water", 1.0, true),
        ],
        entries: vec![entry],
        ..Visit::begun(VisitId::new("t"), yard.clone(), on)
    });
    let words: Vec<String> = unused(&book, &yard, on).iter().map(Unused::words).collect();
    assert_eq!(words, ["2 of medium super", "1 of mouse guard"]);
    assert!(unused(&book, &yard, "2026-08-19".parse().unwrap()).is_empty());
}
