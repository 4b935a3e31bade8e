//! Setting up, undoing it, visits, corrections and withdrawals in any order: after each, the book on the disk opens whole,
//! and holds what the program holds.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

mod support {
    pub(crate) mod steps;
}

use proptest::prelude::*;
use support::steps::{Step, opened, small_book, step, take, today};
use yardwalk::model::{Book, Folded, Frames};
use yardwalk::store::{self, BookFolder};

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn any_sequence_leaves_a_book_that_opens_whole(steps in prop::collection::vec(step(), 1..24)) {
        let root = tempfile::tempdir().unwrap();
        let folder = root.path().join("book");
        BookFolder::create(&folder, &small_book()).unwrap();
        let (mut open, mut starts) = (opened(&folder, 0), 0);
        for step in steps {
            if matches!(step, Step::Restart) {
                drop(open);
                starts += 1;
                open = opened(&folder, starts);
            }
            take(&mut open, &step);
            let (again, read) = BookFolder::open(&folder, today()).unwrap();
            prop_assert!(again.left_out().is_empty(), "{step:?}: {:?}", again.left_out());
            let held = Book { visits: open.session().book().visits.clone(), ..read.clone() };
            prop_assert!(store::is_same(&read, &held), "{step:?}");
            let seen: Vec<Option<Frames>> = open.session().folded().hives().map(|h| h.seen.bees.map(|s| s.value)).collect();
            let folded = Folded::of(&read, today());
            let seen_again: Vec<Option<Frames>> = folded.hives().map(|h| h.seen.bees.map(|s| s.value)).collect();
            prop_assert_eq!(seen, seen_again, "{:?}", step);
        }
    }
}
