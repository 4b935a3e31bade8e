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

use std::path::{Path, PathBuf};

use chrono::FixedOffset;
use divan::{Bencher, black_box};
use generate::{SIZES, Size, made, today};
use yardwalk::model::{Book, Folded, Settings, VisitId};
use yardwalk::session::{Session, Start};
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

/// Every octet below a folder.
fn read_all(folder: &Path) -> usize {
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    entries.map(|path| if path.is_dir() { read_all(&path) } else { std::fs::read(path).unwrap().len() }).sum()
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
    let start = || Start {
        today: today(),
        now: today().and_hms_opt(10, 0, 0).unwrap(),
        offset: FixedOffset::east_opt(0).unwrap(),
        seed: 1,
        settings: Settings::default(),
    };
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
