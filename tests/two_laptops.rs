//! Two laptops with one book: whatever is set up, visited, corrected and withdrawn on each, and in whatever order the files are
//! copied, both open and hold the same; nothing that was set up on one is lost, and what was set up in two ways is shown.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

mod support {
    pub(crate) mod steps;
}

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use proptest::prelude::*;
use support::steps::{Step, opened, small_book, step, take, today};
use yardwalk::model::{Book, Hive, LeftOut, Side};
use yardwalk::session::Intent;
use yardwalk::store::{self, BookFolder};

/// The files of a book that are carried from laptop to laptop, from its folder on.
fn files(folder: &Path) -> Vec<PathBuf> {
    let (mut found, mut folders) = (Vec::new(), vec![folder.to_owned()]);
    while let Some(next) = folders.pop() {
        for entry in fs::read_dir(next).unwrap() {
            let path = entry.unwrap().path();
            let here = path.strip_prefix(folder).unwrap().to_owned();
            if path.is_dir() && here != Path::new("drafts") {
                folders.push(path);
            } else if path.is_file() {
                found.push(here);
            }
        }
    }
    found.sort();
    found
}

/// Copies what the other has not; and `yard.ron`, which both have, only where it is to be written over.
fn copy(from: &Path, to: &Path, writes_over: bool) {
    for file in files(from) {
        let there = to.join(&file);
        if !there.exists() || (writes_over && file == Path::new("yard.ron")) {
            fs::create_dir_all(there.parent().unwrap()).unwrap();
            fs::copy(from.join(&file), there).unwrap();
        }
    }
}

/// What is done on the two laptops until they are brought together.
#[derive(Debug, Clone)]
struct Round {
    steps: Vec<(bool, Step)>,
    /// Which is copied first, and whether `yard.ron` is written over on either.
    copied: (bool, bool, bool),
    chosen: Option<bool>,
}

fn round() -> impl Strategy<Value = Round> {
    let steps = prop::collection::vec((any::<bool>(), step()), 0..10);
    (steps, any::<(bool, bool, bool)>(), prop::option::of(any::<bool>()))
        .prop_map(|(steps, copied, chosen)| Round { steps, copied, chosen })
}

/// Every name by which its hives are known.
fn names(book: &Book) -> BTreeSet<String> {
    let of =
        |hive: &Hive| hive.formerly.iter().chain([&hive.id]).map(ToString::to_string).collect::<Vec<_>>();
    book.yards.iter().flat_map(|yard| &yard.hives).flat_map(of).collect()
}

/// What is missing: a `yard.ron` that is only older than another is not.
fn missing(left_out: &[LeftOut]) -> Vec<PathBuf> {
    left_out.iter().filter(|left_out| !left_out.is_copy).map(|left_out| left_out.file.clone()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn two_copies_of_a_book_come_together_in_any_order(rounds in prop::collection::vec(round(), 1..4)) {
        let root = tempfile::tempdir().unwrap();
        let places = [root.path().join("one"), root.path().join("two")];
        BookFolder::create(&places[0], &small_book()).unwrap();
        copy(&places[0], &places[1], true);
        let mut starts = [0, 300];
        let mut visits: BTreeSet<PathBuf> = BTreeSet::new();
        for round in rounds {
            let (was, before_book) = BookFolder::open(&places[0], today()).unwrap();
            let (before, mut is_quiet) = (names(&before_book), false);
            let mut set_up: Vec<BTreeSet<String>> = Vec::new();
            for (which, place) in places.iter().enumerate() {
                starts[which] += 1;
                let mut open = opened(place, starts[which]);
                for (_, step) in round.steps.iter().filter(|(on_two, _)| usize::from(*on_two) == which) {
                    if matches!(step, Step::Restart) {
                        drop(open);
                        starts[which] += 1;
                        open = opened(place, starts[which]);
                    }
                    take(&mut open, step);
                }
                set_up.push(names(open.session().book()));
                is_quiet |= open.session().book().yards == before_book.yards;
                visits.extend(files(place).into_iter().filter(|file| file.starts_with("visits")));
            }
            let (first_over, over_one, over_two) = round.copied;
            let (first, second) = if first_over { (0, 1) } else { (1, 0) };
            copy(&places[first], &places[second], [over_one, over_two][second]);
            copy(&places[second], &places[first], [over_one, over_two][first]);

            let read = || places.clone().map(|place| BookFolder::open(&place, today()).unwrap());
            let [(one, one_book), (two, two_book)] = read();
            prop_assert!(store::is_same(&one_book, &two_book), "{one_book:#?}\n{two_book:#?}");
            prop_assert_eq!(one.differences(), two.differences());
            prop_assert_eq!(missing(one.left_out()), missing(two.left_out()));
            let there: BTreeSet<PathBuf> = files(&places[0]).into_iter().filter(|f| f.starts_with("visits")).collect();
            prop_assert_eq!(&there, &visits);
            prop_assert_eq!(one_book.visits.len() + missing(one.left_out()).len(), visits.len());
            // Where one laptop set up nothing there is nothing to choose.
            let is_clear = one.differences().is_empty();
            prop_assert!(is_clear || !is_quiet || !was.differences().is_empty(), "{:?}", one.differences());
            let as_a_whole = one.differences().iter().any(|d| d.at.starts_with("the whole set-up"));
            for added in set_up.iter().flatten().filter(|name| !before.contains(*name)) {
                prop_assert!(as_a_whole || names(&one_book).contains(added), "{added} is lost");
            }

            if let Some(other) = round.chosen && !one.differences().is_empty() {
                let side = if other { Side::Other } else { Side::One };
                let chosen = vec![side; one.differences().len()];
                starts[0] += 1;
                let settled = opened(&places[0], starts[0]).carry_out(Intent::Settle(chosen)).unwrap();
                prop_assert!(settled.said.is_none_or(|said| !said.is_error));
                copy(&places[0], &places[1], over_two);
                let [(one, one_book), (two, two_book)] = read();
                prop_assert!(one.differences().is_empty() && two.differences().is_empty());
                prop_assert!(store::is_same(&one_book, &two_book));
            }
        }
    }
}
