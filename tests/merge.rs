//! Two keepers, two laptops, one book: whatever each logs, corrects and withdraws, and in whatever order the files come
//! together, the state is the same, and no visit is lost.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

mod support;

use std::fs;
use std::path::Path;

use chrono::{Days, NaiveDate};
use proptest::prelude::*;
use yardwalk::model::{
    Book, Corrections, Depth, Entry, Folded, Frames, Hive, HiveBox, HiveId, Origin, Queen, QueenStatus, Role,
    Units, Visit, VisitId, Yard, YardId,
};
use yardwalk::store::BookFolder;

fn day() -> NaiveDate {
    "2026-05-01".parse().unwrap()
}

const END: &str = "2026-07-01";

fn book() -> Book {
    let hive = |name: &str| {
        Hive::new(
            HiveId::new(name),
            Origin::Overwintered,
            day(),
            vec![HiveBox::new(Depth::Deep, 10, Role::Nest)],
            Queen::of_status(QueenStatus::Laying, None),
        )
    };
    let mut book = Book::empty("T", Units::Us);
    book.yards = vec![Yard {
        name: YardId::new("Creek"),
        place: None,
        formerly: Vec::new(),
        freezes: None,
        flows: Vec::new(),
        note: String::new(),
        hives: ["C1", "C2", "C3"].map(hive).to_vec(),
    }];
    book
}

/// What a keeper does: a visit of a day with a count at a hive, a correction of a visit known, a withdrawal of one.
#[derive(Debug, Clone)]
enum Deed {
    Visit { day: u64, hive: usize, bees: u8 },
    Correct { which: usize, bees: u8 },
    Withdraw { which: usize },
}

fn deeds() -> impl Strategy<Value = Vec<Deed>> {
    let deed = prop_oneof![
        (0u64..40, 0usize..3, 1u8..12).prop_map(|(day, hive, bees)| Deed::Visit { day, hive, bees }),
        (0usize..50, 1u8..12).prop_map(|(which, bees)| Deed::Correct { which, bees }),
        (0usize..50).prop_map(|which| Deed::Withdraw { which }),
    ];
    prop::collection::vec(deed, 0..7)
}

fn entry(hive: usize, bees: u8) -> Entry {
    let mut entry = Entry::blank(HiveId::new(format!("C{}", hive + 1)));
    entry.findings.bees = Some(Frames(f64::from(bees)));
    entry
}

/// The visits one keeper makes who knows those of `base` and his own.
fn visits_of(keeper: &str, base: &[Visit], deeds: &[Deed]) -> Vec<Visit> {
    let mut known = base.to_vec();
    for (at, deed) in deeds.iter().enumerate() {
        let id = |on: NaiveDate| VisitId::new(format!("{on}T0900-creek-{keeper}{at:03}"));
        let made = match deed {
            Deed::Visit { day: n, hive, bees } => {
                let on = day() + Days::new(*n);
                let mut visit = Visit::begun(id(on), YardId::new("Creek"), on);
                visit.entries = vec![entry(*hive, *bees)];
                visit
            }
            Deed::Correct { which, bees } if !known.is_empty() => {
                let old = &known[which % known.len()];
                if old.withdraws.is_some() {
                    continue;
                }
                let mut visit = Visit { id: id(old.on), replaces: Some(old.id.clone()), ..old.clone() };
                visit.entries = vec![entry(at % 3, *bees)];
                visit
            }
            Deed::Withdraw { which } if !known.is_empty() => {
                let old = &known[which % known.len()];
                let blank = Visit::begun(id(old.on), old.yard.clone(), old.on);
                Visit { withdraws: Some(old.id.clone()), ..blank }
            }
            Deed::Correct { .. } | Deed::Withdraw { .. } => continue,
        };
        known.push(made);
    }
    known.split_off(base.len())
}

fn copy_visits(from: &Path, to: &Path) {
    for year in fs::read_dir(from.join("visits")).into_iter().flatten() {
        let year = year.unwrap().path();
        let there = to.join("visits").join(year.file_name().unwrap());
        fs::create_dir_all(&there).unwrap();
        for file in fs::read_dir(&year).unwrap() {
            let file = file.unwrap().path();
            fs::copy(&file, there.join(file.file_name().unwrap())).unwrap();
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn any_interleaving_folds_to_the_same_state(
        base in deeds(),
        ours in deeds(),
        theirs in deeds(),
        order in prop::collection::vec(any::<prop::sample::Index>(), 24),
    ) {
        let base = visits_of("b", &[], &base);
        let ours = visits_of("o", &base, &ours);
        let theirs = visits_of("t", &base, &theirs);
        let end: NaiveDate = END.parse().unwrap();
        let whole: Vec<Visit> = base.iter().chain(&ours).chain(&theirs).cloned().collect();
        let one = Folded::of(&Book { visits: whole.clone(), ..book() }, end);
        // Arrived one by one in any order, each taken in as it comes.
        let mut rest = whole.clone();
        let mut grown = book();
        let mut state = Folded::of(&grown, end);
        for index in order.iter().cycle() {
            if rest.is_empty() {
                break;
            }
            let visit = rest.remove(index.index(rest.len()));
            grown.visits.push(visit.clone());
            state.add(&grown, &visit);
        }
        prop_assert_eq!(&state, &one);
        // Every visit is in the log, and each stands in one way; of two corrections one holds.
        let corrections = Corrections::of(&grown, end);
        for conflict in corrections.conflicts() {
            let holding = conflict.versions.iter().filter(|v| corrections.stand(v).holds()).count();
            prop_assert_eq!(holding, 1);
        }
        let standing = corrections.standing();
        for visit in &grown.visits {
            prop_assert_eq!(corrections.stand(visit).holds(), standing.iter().any(|v| v.id == visit.id));
        }
        prop_assert!(grown.faults(end).is_empty());
    }
}

/// The same through files: two folders that began as one, copied into each other both ways.
#[test]
fn folders_copied_into_each_other_either_way_are_the_same_book() {
    let deed = |hive, bees| Deed::Visit { day: 3, hive, bees };
    let base = visits_of("b", &[], &[deed(0, 5)]);
    let ours = visits_of("o", &base, &[deed(1, 6), Deed::Correct { which: 0, bees: 7 }]);
    let theirs = visits_of("t", &base, &[deed(2, 8), Deed::Correct { which: 0, bees: 9 }]);
    let root = tempfile::tempdir().unwrap();
    let end = END.parse().unwrap();
    for (name, own) in [("ours", &ours), ("theirs", &theirs)] {
        let visits = base.iter().chain(own).cloned().collect();
        BookFolder::create(&root.path().join(name), &Book { visits, ..book() }).unwrap();
    }
    let (a, b) = (root.path().join("ours"), root.path().join("theirs"));
    copy_visits(&a, &b);
    copy_visits(&b, &a);
    let read = |folder: &Path| BookFolder::open(folder, end).unwrap().1;
    assert_eq!(read(&a), read(&b));
    assert_eq!(read(&a).visits.len(), 5, "none is lost");
    let merged = read(&a);
    let corrections = Corrections::of(&merged, end);
    assert_eq!(corrections.conflicts().len(), 1, "two corrections of one visit are a conflict to settle");
    let (code, out, _) = support::run(root.path(), &["check", "--book", a.to_str().unwrap()]);
    assert!(code == 1 && out.contains("has 2 corrections") && out.contains("z on the one to keep"), "{out}");
    // Both of the same day and yard count, and one of the two corrections.
    assert_eq!(corrections.standing().len(), 3);
}
