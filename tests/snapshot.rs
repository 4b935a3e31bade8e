//! What is kept from one start to the next gives the book the files give, whatever was done to them meanwhile; and whatever is
//! done to what is kept.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

mod support;

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use proptest::prelude::*;
use support::{files_below, run};
use yardwalk::model::{Book, Entry, Folded, HiveId, Visit, VisitId, days_after};
use yardwalk::plan::{self, Pace, Weeks};
use yardwalk::store::{self, BookFolder, Files};

fn today() -> chrono::NaiveDate {
    "2026-12-31".parse().unwrap()
}

fn sample() -> Book {
    store::read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-yard.ron")).unwrap().0
}

/// Longer than a tick of this disk's clock.
const TICK: Duration = Duration::from_millis(30);

/// The book by its files alone, and by what was kept with them; what is new is kept.
fn both(folder: &Path, cache: &Path) -> (Book, Book) {
    let (full, quick, _) = both_and_known(folder, cache);
    (full, quick)
}

/// The same, with how many files were known.
fn both_and_known(folder: &Path, cache: &Path) -> (Book, Book, usize) {
    let full = BookFolder::open(folder, today()).unwrap().1;
    let files = Files::keeping_settled(cache, TICK);
    let (place, quick) = BookFolder::open_on(files.clone(), folder, today()).unwrap();
    place.write_snapshot();
    // The keeper's pace, where it was kept, is that of the log.
    let by_the_log = plan::pace(&full, today());
    let kept: Option<Pace> = place.learned("pace", today());
    assert!(kept.is_none_or(|kept| kept == by_the_log), "another log's pace");
    place.keep_learned("pace", today(), &by_the_log);
    (full, quick, files.known_and_parsed().0)
}

/// Sets when a file was last changed.
fn set_time(file: &Path, at: SystemTime) {
    File::options().write(true).open(file).unwrap().set_modified(at).unwrap();
}

/// All files as of an hour ago, so that they are settled.
fn settle(folder: &Path) {
    for file in files_below(folder, ".ron") {
        set_time(&file, SystemTime::now() - Duration::from_hours(1));
    }
}

/// Something done to the files of a book behind the program's back.
#[derive(Debug, Clone)]
enum Meddling {
    /// A note is changed by hand, to one as long, with the time of the file put back.
    EditAndBackDate(usize),
    /// The file goes.
    Delete(usize),
    /// Two files change places.
    Swap(usize, usize),
    /// A copy comes under another name.
    Copy(usize),
    /// It becomes no visit.
    Break(usize),
    /// A visit corrects another.
    Amend(usize),
    /// The clock of the disk is years ahead, or behind.
    Skew(usize, i64),
}

fn meddling() -> impl Strategy<Value = Meddling> {
    let at = 0..64_usize;
    prop_oneof![
        at.clone().prop_map(Meddling::EditAndBackDate),
        at.clone().prop_map(Meddling::Delete),
        (at.clone(), at.clone()).prop_map(|(a, b)| Meddling::Swap(a, b)),
        at.clone().prop_map(Meddling::Copy),
        at.clone().prop_map(Meddling::Break),
        at.clone().prop_map(Meddling::Amend),
        (at, -100_000_000..100_000_000_i64).prop_map(|(a, s)| Meddling::Skew(a, s)),
    ]
}

fn meddle(folder: &Path, what: &Meddling, number: usize) {
    let files: Vec<PathBuf> = files_below(&folder.join("visits"), ".ron");
    if files.is_empty() {
        return;
    }
    let file = |at: usize| files[at % files.len()].clone();
    match what {
        Meddling::EditAndBackDate(at) => {
            let (file, before) = (file(*at), fs::metadata(file(*at)).unwrap().modified().unwrap());
            let text = fs::read_to_string(&file).unwrap();
            // As long as before: only its times tell.
            let changed = text.replace("minutes: 1", "minutes: 2").replace("brood: 7", "brood: 6");
            fs::write(&file, changed).unwrap();
            set_time(&file, before);
        }
        Meddling::Delete(at) => fs::remove_file(file(*at)).unwrap(),
        Meddling::Swap(a, b) => {
            let (a, b, aside) = (file(*a), file(*b), folder.join("aside.tmp"));
            if a != b {
                fs::rename(&a, &aside).unwrap();
                fs::rename(&b, &a).unwrap();
                fs::rename(&aside, &b).unwrap();
            }
        }
        Meddling::Copy(at) => {
            let from = file(*at);
            fs::copy(&from, from.with_file_name(format!("copy-{number}.ron"))).unwrap();
        }
        Meddling::Break(at) => fs::write(file(*at), "(format: 5, visit: (").unwrap(),
        Meddling::Amend(at) => {
            let (place, book) = BookFolder::open(folder, today()).unwrap();
            let Some(visit) = book.visits.get(at % book.visits.len().max(1)) else { return };
            let mut entry =
                Entry::blank(visit.entries.first().map_or_else(|| HiveId::new("A1"), |e| e.hive.clone()));
            entry.note = format!("looked again, {number}");
            let correction = Visit {
                replaces: Some(visit.id.clone()),
                logged: visit.on.and_hms_opt(20, 0, 0),
                entries: vec![entry],
                ..Visit::begun(
                    VisitId::new(format!("{}-again-{number}", visit.id)),
                    visit.yard.clone(),
                    days_after(visit.on, 0),
                )
            };
            let _ = place.add_visit(&correction);
        }
        Meddling::Skew(at, seconds) => {
            let by = Duration::from_secs(seconds.unsigned_abs());
            let now = SystemTime::now();
            set_time(&file(*at), if *seconds < 0 { now - by } else { now + by });
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn whatever_is_done_to_the_files_what_was_kept_gives_the_same_book(
        rounds in prop::collection::vec(prop::collection::vec(meddling(), 1..4), 1..5)
    ) {
        let root = tempfile::tempdir().unwrap();
        let (folder, cache) = (root.path().join("book"), root.path().join("cache"));
        BookFolder::create(&folder, &sample()).unwrap();
        settle(&folder);
        let (full, quick) = both(&folder, &cache);
        prop_assert_eq!(&full, &quick);
        std::thread::sleep(2 * TICK);
        let (full, quick, mut known) = both_and_known(&folder, &cache);
        prop_assert_eq!(&full, &quick);
        for (round, meddlings) in rounds.iter().enumerate() {
            for (at, what) in meddlings.iter().enumerate() {
                meddle(&folder, what, round * 10 + at);
            }
            std::thread::sleep(2 * TICK);
            let (full, quick, more) = both_and_known(&folder, &cache);
            prop_assert!(full == quick, "{:?}", rounds);
            known += more;
        }
        prop_assert!(known > 20, "most files were taken from what was kept: {known}");
    }

    #[test]
    fn a_damaged_snapshot_is_passed_over_without_a_word(cut in 0..4_000_usize, flip in 0..4_000_usize, bit in 0..8_u32) {
        let root = tempfile::tempdir().unwrap();
        let (folder, cache) = (root.path().join("book"), root.path().join("cache"));
        BookFolder::create(&folder, &sample()).unwrap();
        settle(&folder);
        let _ = both(&folder, &cache);
        let file = files_below(&cache, ".visits").remove(0);
        let whole = fs::read(&file).unwrap();
        let mut octets = whole.clone();
        let at = flip * (whole.len() / 4_000).max(1) % whole.len();
        octets[at] ^= 1 << bit;
        fs::write(&file, &octets).unwrap();
        let (full, quick) = both(&folder, &cache);
        prop_assert_eq!(full, quick);
        fs::write(&file, &whole[..cut.min(whole.len())]).unwrap();
        let (full, quick) = both(&folder, &cache);
        prop_assert_eq!(full, quick);
    }
}

/// A start that finds all as it was parses no visit, and one that finds a file changed parses that one.
#[test]
fn a_start_parses_only_what_is_new() {
    let root = tempfile::tempdir().unwrap();
    let (folder, cache) = (root.path().join("book"), root.path().join("cache"));
    BookFolder::create(&folder, &sample()).unwrap();
    let visits = sample().visits.len();
    let start = || {
        // What was written just now is not trusted: it may be written again within a tick.
        std::thread::sleep(2 * TICK);
        let files = Files::keeping_settled(&cache, TICK);
        let (place, _) = BookFolder::open_on(files.clone(), &folder, today()).unwrap();
        place.write_snapshot();
        files.known_and_parsed()
    };
    assert_eq!(start(), (0, visits));
    assert_eq!(start(), (visits, 0));
    let file = files_below(&folder.join("visits"), ".ron").remove(3);
    let (text, before) =
        (fs::read_to_string(&file).unwrap(), fs::metadata(&file).unwrap().modified().unwrap());
    fs::write(&file, text).unwrap();
    set_time(&file, before);
    assert_eq!(start(), (visits - 1, 1), "written anew, though its size and its time are what they were");
    fs::remove_file(&file).unwrap();
    assert_eq!(start(), (visits - 1, 0));
    // Another book has a snapshot of its own, and what is another's is not taken.
    let other = root.path().join("other");
    BookFolder::create(&other, &sample()).unwrap();
    let files = Files::keeping_settled(&cache, TICK);
    BookFolder::open_on(files.clone(), &other, today()).unwrap();
    assert_eq!(files.known_and_parsed(), (0, visits));
}

/// What was learned of a day holds for that day, and as long as no file of the book is another.
#[test]
fn what_was_learned_holds_for_its_day_and_its_files() {
    let root = tempfile::tempdir().unwrap();
    let (folder, cache) = (root.path().join("book"), root.path().join("cache"));
    BookFolder::create(&folder, &sample()).unwrap();
    let learned = |keep: Option<f64>, on| {
        std::thread::sleep(2 * TICK);
        let files = Files::keeping_settled(&cache, TICK);
        let (place, _) = BookFolder::open_on(files, &folder, today()).unwrap();
        let found: Option<f64> = place.learned("figure", on);
        assert_eq!(place.learned::<f64>("another", on), None);
        if let Some(what) = keep {
            place.keep_learned("figure", on, &what);
        }
        found
    };
    assert_eq!(learned(Some(1.5), today()), None);
    assert_eq!(learned(None, today()), Some(1.5));
    assert_eq!(learned(None, days_after(today(), 1)), None);
    for file in [folder.join("yard.ron"), files_below(&folder.join("visits"), ".ron").remove(0)] {
        let text = fs::read_to_string(&file).unwrap();
        fs::write(&file, format!("{text}\n")).unwrap();
        assert_eq!(learned(Some(2.5), today()), None, "{}", file.display());
        assert_eq!(learned(None, today()), Some(2.5));
    }
    let kept = files_below(&cache, ".figure").remove(0);
    let mut octets = fs::read(&kept).unwrap();
    let last = octets.len() - 1;
    octets[last] ^= 1;
    fs::write(&kept, octets).unwrap();
    assert_eq!(learned(None, today()), None, "damaged");
}

/// What is learned of a book holds neither after something is written into it nor, of what is left out as yet to come, on a
/// later day.
#[test]
fn what_was_learned_ends_with_the_next_word_written() {
    let root = tempfile::tempdir().unwrap();
    let (folder, cache) = (root.path().join("book"), root.path().join("cache"));
    BookFolder::create(&folder, &sample()).unwrap();
    let open = |read_on| {
        std::thread::sleep(2 * TICK);
        BookFolder::open_on(Files::keeping_settled(&cache, TICK), &folder, read_on).unwrap()
    };
    let (place, book) = open(today());
    place.keep_learned("figure", today(), &1.5);
    assert_eq!(place.learned::<f64>("figure", today()), Some(1.5));
    assert_eq!(
        open(days_after(today(), -1)).0.learned::<f64>("figure", today()),
        None,
        "read for another day"
    );
    let mut visit = book.visits[0].clone();
    visit.id = VisitId::new("one-more");
    place.add_visit(&visit).unwrap();
    assert_eq!(place.learned::<f64>("figure", today()), None);
    place.keep_learned("figure", today(), &2.5);
    assert_eq!(open(today()).0.learned::<f64>("figure", today()), None, "it was of the log before");
}

/// A plan out of the cache is that which was put in, to the last figure.
#[test]
fn a_plan_is_kept_as_it_is() {
    let root = tempfile::tempdir().unwrap();
    let (folder, cache) = (root.path().join("book"), root.path().join("cache"));
    BookFolder::create(&folder, &sample()).unwrap();
    std::thread::sleep(2 * TICK);
    let files = Files::keeping_settled(&cache, TICK);
    let (place, book) = BookFolder::open_on(files, &folder, today()).unwrap();
    let mut prompts = 0;
    for on in ["2026-04-20", "2026-05-20", "2026-07-01", "2026-08-08", "2026-09-20", "2026-12-31"] {
        let on = on.parse().unwrap();
        let then = Folded::of(&book, on);
        let day = plan::day(&book, &then, on);
        let weeks: Vec<Weeks> = book
            .yards
            .iter()
            .zip(&day.yards)
            .map(|(yard, plan)| Weeks::of(&mut plan::Outlook::of(&book, &then, yard), plan, on, day.pace))
            .collect();
        place.keep_learned("day", on, &day);
        place.keep_learned("weeks", on, &weeks);
        prompts += day
            .yards
            .iter()
            .flat_map(|yard| &yard.queue)
            .map(|stop| stop.advice.prompts.len())
            .sum::<usize>();
        assert!(weeks.iter().any(|weeks| !weeks.trips.is_empty()));
        assert_eq!(place.learned("day", on), Some(day));
        assert_eq!(place.learned("weeks", on), Some(weeks));
    }
    assert!(prompts > 30, "{prompts}");
}

/// The commands keep it too, for the user alone, and do without it where the cache cannot be written.
#[test]
fn the_commands_say_the_same_with_and_without_it() {
    let home = tempfile::tempdir().unwrap();
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-yard.ron");
    let (code, _, err) = run(home.path(), &["import", sample.to_str().unwrap(), "--name", "bees"]);
    assert_eq!(code, 0, "{err}");
    let plan = || {
        let asked: [&[&str]; 5] = [
            &["plan", "--on", "2026-08-08"],
            &["plan", "--on", "2026-08-08", "--json"],
            &["plan", "--on", "2026-08-08", "--yard", "Top Orchard"],
            &["load", "--on", "2026-08-08"],
            &["export", "sheet", "--on", "2026-08-08"],
        ];
        asked.map(|asked| run(home.path(), asked))
    };
    let first = plan();
    let kept = files_below(&home.path().join(".cache/yardwalk"), ".visits");
    assert_eq!(kept.len(), 1);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        assert_eq!(fs::metadata(&kept[0]).unwrap().permissions().mode() & 0o077, 0, "others do not read it");
    }
    assert!(first.iter().all(|(code, said, _)| *code == 0 && !said.is_empty()));
    // What was written just now is not trusted yet, and nothing learned of it is kept.
    assert!(files_below(&home.path().join(".cache/yardwalk"), ".day").is_empty());
    std::thread::sleep(Duration::from_millis(2_500));
    assert!(plan() == first, "worked out and kept");
    let kept: Vec<PathBuf> = [".day", ".weeks"]
        .iter()
        .flat_map(|end| files_below(&home.path().join(".cache/yardwalk"), end))
        .collect();
    assert_eq!(kept.len(), 2);
    let written =
        || kept.iter().map(|file| fs::metadata(file).unwrap().modified().unwrap()).collect::<Vec<_>>();
    let before = written();
    assert!(plan() == first, "as it was kept");
    assert_eq!(written(), before, "and nothing was worked out anew");
    fs::remove_dir_all(home.path().join(".cache/yardwalk")).unwrap();
    fs::write(home.path().join(".cache/yardwalk"), "in the way").unwrap();
    assert!(plan() == first, "without a cache");
}
