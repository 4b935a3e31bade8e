//! What a size of book costs: reading its octets, opening it, the first frame, the plan as JSON, a key, saving a visit.
//!
//! `cargo bench --bench size` runs all, `cargo bench --bench size -- open` those with a name. The figures of two lines of one run
//! are compared, never those of two machines. The books are made once, in the system's folder for temporary files.

#![allow(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    missing_docs,
    reason = "a bench may stop where it likes"
)]

mod generate;

use std::path::PathBuf;

use divan::{Bencher, black_box};
use generate::{SIZES, Size, made, read_all, start, today};
use yardwalk::model::{Book, Folded, VisitId};
use yardwalk::session::Session;
use yardwalk::store::{BookFolder, Files};
use yardwalk::{plan, report};

fn main() {
    divan::main();
}

fn folder(size: Size) -> PathBuf {
    made(size, &std::env::temp_dir().join("yardwalk-bench"))
}

fn book(size: Size) -> Book {
    BookFolder::open(&folder(size), today()).unwrap().1
}

/// What all the others stand against.
#[divan::bench(args = SIZES, sample_count = 7, sample_size = 1)]
fn a_reading_all_octets(bencher: Bencher<'_, '_>, size: Size) {
    let folder = folder(size);
    bencher.bench_local(|| read_all(black_box(&folder)));
}

/// From the files to the book.
#[divan::bench(args = SIZES, sample_count = 7, sample_size = 1)]
fn b_open(bencher: Bencher<'_, '_>, size: Size) {
    let folder = folder(size);
    bencher.bench_local(|| BookFolder::open(black_box(&folder), today()).unwrap());
}

/// The same where a start before kept what it read.
#[divan::bench(args = SIZES, sample_count = 7, sample_size = 1)]
fn b_open_kept(bencher: Bencher<'_, '_>, size: Size) {
    let folder = folder(size);
    let cache = std::env::temp_dir().join("yardwalk-bench").join("cache");
    let open = || BookFolder::open_on(Files::keeping(&cache), black_box(&folder), today()).unwrap();
    open().0.write_snapshot();
    bencher.bench_local(open);
}

/// From the book to what the first screen shows.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn c_session(bencher: Bencher<'_, '_>, size: Size) {
    let book = book(size);
    // On a thread of its own, as at a start: nothing is kept in mind from the run before.
    bencher.with_inputs(|| book.clone()).bench_values(|book| {
        std::thread::scope(|scope| {
            scope
                .spawn(|| Session::new(book, start()).yard_plan_at(0).map(|plan| plan.queue.len()))
                .join()
                .unwrap()
        })
    });
}

/// The state of every hive from the whole log.
#[divan::bench(args = SIZES, sample_count = 7, sample_size = 1)]
fn d_fold(bencher: Bencher<'_, '_>, size: Size) {
    let book = book(size);
    bencher.bench_local(|| Folded::of(black_box(&book), today()));
}

/// The pace of the last visits.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn e_pace(bencher: Bencher<'_, '_>, size: Size) {
    let book = book(size);
    bencher.bench(|| std::thread::scope(|scope| scope.spawn(|| plan::pace(&book, today())).join().unwrap()));
}

/// The trips of one yard, eight weeks ahead.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn f_trips_of_a_yard(bencher: Bencher<'_, '_>, size: Size) {
    let book = book(size);
    let folded = Folded::of(&book, today());
    let pace = plan::pace(&book, today());
    bencher.bench(|| {
        let trips = || {
            let yard = book.yards.first().unwrap();
            let mut outlook = plan::Outlook::of(&book, &folded, yard);
            plan::trips(&mut outlook, today(), pace).len()
        };
        std::thread::scope(|scope| scope.spawn(trips).join().unwrap())
    });
}

/// The whole book as one JSON text.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn g_export_json(bencher: Bencher<'_, '_>, size: Size) {
    let book = book(size);
    bencher.bench_local(|| report::book_json(black_box(&book), today()).unwrap().len());
}

/// A visit to one hive, onto the disk.
#[divan::bench(args = SIZES, sample_count = 7, sample_size = 1)]
fn h_save_a_visit(bencher: Bencher<'_, '_>, size: Size) {
    let (place, book) = BookFolder::open(&folder(size), today()).unwrap();
    let mut visit = book.visits.last().unwrap().clone();
    visit.entries.truncate(1);
    let mut number = 0;
    bencher.bench_local(|| {
        number += 1;
        visit.id = VisitId::new(format!("bench-{number}"));
        let path = place.add_visit(&visit).unwrap();
        std::fs::remove_file(path).unwrap();
    });
}
