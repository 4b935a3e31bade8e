//! Books of a stated size, the same on every machine: hives in yards of 25, walked in turn, with what a keeper logs.

use std::path::{Path, PathBuf};

use chrono::{Days, FixedOffset, NaiveDate, NaiveDateTime};
use yardwalk::model::{
    Book, Depth, Entry, Finding, Hive, HiveBox, HiveId, Kind, Origin, Queen, QueenStatus, Role, Settings,
    Units, Value, Visit, VisitId, Yard, YardId,
};
use yardwalk::session::Start;
use yardwalk::store::BookFolder;

/// How large a book is.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Size {
    /// Its name, and that of its folder.
    pub(crate) name: &'static str,
    hives: usize,
    /// Visits to each yard.
    visits: usize,
    /// Days between two of them.
    every: u64,
}

impl std::fmt::Display for Size {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.name)
    }
}

/// The books that are measured.
pub(crate) const SIZES: [Size; 5] = [
    Size { name: "40 hives, 5 years", hives: 40, visits: 90, every: 20 },
    Size { name: "300 hives, 5 years", hives: 300, visits: 90, every: 20 },
    Size { name: "2,000 hives, 2,000 entries", hives: 2_000, visits: 1, every: 14 },
    Size { name: "2,000 hives, 20,000 entries", hives: 2_000, visits: 10, every: 14 },
    Size { name: "2,000 hives, 100,000 entries", hives: 2_000, visits: 50, every: 14 },
];

/// Hives in a yard.
const YARD: usize = 25;

/// The day on which the books are opened: after the last visit.
pub(crate) fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 6, 15).unwrap_or_default()
}

/// The hour of that day.
pub(crate) fn clock() -> NaiveDateTime {
    today().and_hms_opt(10, 0, 0).unwrap_or_default()
}

/// How a session on one of them begins.
pub(crate) fn start() -> Start {
    Start {
        today: today(),
        now: clock(),
        offset: FixedOffset::east_opt(0).unwrap(),
        seed: 1,
        settings: Settings::default(),
    }
}

/// Every octet below a folder.
pub(crate) fn read_all(folder: &Path) -> usize {
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    entries.map(|path| if path.is_dir() { read_all(&path) } else { std::fs::read(path).unwrap().len() }).sum()
}

fn hive(number: usize) -> Hive {
    let boxes = vec![HiveBox::with_drawn(Depth::Deep, 10, Role::Nest, 10)];
    let since = today() - Days::new(6 * 365);
    let queen = Queen::of_status(QueenStatus::Laying, None);
    Hive::new(HiveId::new(format!("H{number:04}")), Origin::Overwintered, since, boxes, queen)
}

/// What is logged at a hive: frames at each visit, a wash at every other, a look for disease once in a while.
fn entry(number: usize, visit: usize) -> Entry {
    let mut entry = Entry::blank(HiveId::new(format!("H{number:04}")));
    // Every hive a little different, and the same each time.
    let varied = (number * 7 + visit * 3) % 5;
    let mut find = |finding: Finding, value: Value| {
        debug_assert!(!matches!(finding.kind(), Kind::Choice(_)));
        let _ = entry.findings.set(finding, Some(value));
    };
    find(Finding::Bees, Value::Frames(6.0 + varied as f64));
    find(Finding::Brood, Value::Frames(3.0 + (varied % 3) as f64));
    find(Finding::Eggs, Value::YesNo(true));
    if visit.is_multiple_of(2) {
        find(Finding::Mites, Value::Count(u16::try_from(varied).unwrap_or_default()));
        find(Finding::WashBees, Value::Count(300));
    }
    entry.minutes = Some(12);
    if visit % 9 == 4 {
        "Calm on the comb; the lid sticks.".clone_into(&mut entry.note);
    }
    entry
}

/// The book of a size, made once under a folder.
pub(crate) fn made(size: Size, under: &Path) -> PathBuf {
    let folder = under.join(size.name.replace([' ', ','], "-"));
    if folder.join("yard.ron").is_file() {
        return folder;
    }
    let mut book = Book::empty("Bench", Units::Us);
    for first in (0..size.hives).step_by(YARD) {
        let mut yard = Yard::named(YardId::new(format!("Yard {}", first / YARD + 1)));
        yard.hives = (first..(first + YARD).min(size.hives)).map(hive).collect();
        book.yards.push(yard);
    }
    for visit in 0..size.visits {
        let back = size.every * (size.visits - visit) as u64;
        for (at, yard) in book.yards.iter().enumerate() {
            let on = today() - Days::new(back + at as u64 % 7);
            let id = VisitId::new(format!("{on}T0915-yard-{at}-{visit:04}"));
            let number = |hive: &Hive| hive.id.as_str().trim_start_matches('H').parse().unwrap_or_default();
            let entries = yard.hives.iter().map(|hive| entry(number(hive), visit)).collect();
            book.visits.push(Visit { entries, ..Visit::begun(id, yard.name.clone(), on) });
        }
    }
    let _ = BookFolder::create(&folder, &book);
    folder
}
