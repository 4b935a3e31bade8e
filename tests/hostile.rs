//! Whatever is in a file, reading it ends in a book or in an error with a place and a mend: no panic, bounded time, nothing
//! changed. Arbitrary bytes, and the sample's own files bent in every way.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

use std::path::Path;
use std::sync::LazyLock;

use proptest::prelude::*;
use yardwalk::model::{Book, Folded, Units};
use yardwalk::report;
use yardwalk::store::{self, BookFolder, import};

/// Cases of each property; more on demand: `HOSTILE_CASES=200000 cargo test --release --test hostile`.
fn cases() -> ProptestConfig {
    let asked = std::env::var("HOSTILE_CASES").ok().and_then(|n| n.parse().ok());
    ProptestConfig::with_cases(asked.unwrap_or(7_000))
}

fn today() -> chrono::NaiveDate {
    "2026-08-08".parse().unwrap()
}

/// A small book with one visit, as it stands on the disk.
static SEED: LazyLock<(String, String, String)> = LazyLock::new(|| {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-yard.ron");
    let mut book = store::read(&path).unwrap().0;
    book.yards.truncate(1);
    book.yards[0].hives.truncate(2);
    book.visits.retain(|v| v.yard == book.yards[0].name);
    book.visits.truncate(1);
    let names: Vec<_> = book.yards[0].hives.iter().map(|h| h.id.clone()).collect();
    for visit in &mut book.visits {
        visit.entries.retain(|e| names.contains(&e.hive));
    }
    assert!(book.faults(today()).is_empty());
    let ron = store::book_to_text(&book, Path::new("x.ron")).unwrap();
    let json = report::book_json(&book, today()).unwrap();
    let folded = Folded::of(&book, today());
    let csv = report::table(&book, &folded, report::Table::Hives, today()).unwrap();
    (ron, json, csv)
});

/// A draft as the program writes it.
const DRAFT: &str = r#"Format(2)
Head((id:"2026-05-03T0915-creek-3f9a",yard:"Creek",on:"2026-05-03",weather:(temperature:"68 F"),entries:[]))
Queue(hives:["C1","C2"],due:2)
At(hive:"C1",field:0)
Changed((hive:"C1",findings:(bees:7.5)))
Undone
Redone
Entry((hive:"C1",minutes:4,findings:(bees:7.5),note:"calm"))
Finished("C1")
"#;

/// A bend of a text: at a place, so many bytes out, and others in.
type Bend = (prop::sample::Index, usize, Vec<u8>);

fn bends() -> impl Strategy<Value = Vec<Bend>> {
    let odd = prop::sample::select(vec![
        b"(".to_vec(),
        b")".to_vec(),
        b"\"".to_vec(),
        b"9999999999999999999999".to_vec(),
        b"NaN".to_vec(),
        b"-1".to_vec(),
        b"1e400".to_vec(),
        b"None".to_vec(),
        b"\x1b[2J".to_vec(),
        "\u{202e}".as_bytes().to_vec(),
        b"\xff\xfe".to_vec(),
        b"../..".to_vec(),
        b"[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[".to_vec(),
        b"/*".to_vec(),
        b"\0".to_vec(),
        Vec::new(),
    ]);
    prop::collection::vec((any::<prop::sample::Index>(), 0usize..12, odd), 1..4)
}

fn bent(text: &str, bends: &[Bend]) -> String {
    let mut bytes = text.as_bytes().to_vec();
    for (at, out, new) in bends {
        let at = at.index(bytes.len() + 1);
        let end = (at + out).min(bytes.len());
        bytes.splice(at..end, new.iter().copied());
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

/// What a text is read to is sound or is told to be at fault, with a mend; nothing that is shown breaks the screen.
fn holds(read: Result<Book, store::StoreError>) -> Result<(), TestCaseError> {
    match read {
        Ok(book) => {
            for fault in book.faults(today()) {
                prop_assert!(!fault.what.is_empty() && !fault.mend.is_empty());
            }
            // Whatever it says, it folds and is planned.
            let folded = Folded::of(&book, today());
            let _ = yardwalk::plan::day(&book, &folded, today());
        }
        Err(err) => {
            let words = format!("{err}\n{}", err.hint());
            prop_assert!(!err.to_string().is_empty() && words.len() < 2_000, "{words}");
            prop_assert!(!words.contains('\x1b') && !words.contains('\u{202e}'), "{words:?}");
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn a_bent_book_is_read_or_refused(bends in bends()) {
        let text = bent(&SEED.0, &bends);
        holds(store::book_from_text(&text, Path::new("x.ron")))?;
    }

    #[test]
    fn a_bent_draft_is_read_as_far_as_it_goes(bends in bends()) {
        let text = bent(DRAFT, &bends);
        match store::steps_from_text(&text, Path::new("x.ron")) {
            Ok(steps) => prop_assert!(steps.len() <= text.lines().count()),
            Err(err) => prop_assert!(matches!(err, store::StoreError::Newer { .. }), "{err}"),
        }
    }

    #[test]
    fn bent_settings_are_read_or_refused(bends in bends()) {
        let text = bent("(day_theme: \"sun\", night_theme: \"dark\", is_night: true, mouse: false)", &bends);
        if let Err(err) = store::from_ron::<yardwalk::model::Settings>(&text, Path::new("settings.ron")) {
            prop_assert!(!err.to_string().contains('\x1b'), "{err:?}");
        }
    }

    #[test]
    fn a_bent_export_is_read_or_refused(bends in bends()) {
        if let Ok(book) = report::book_from_json(&bent(&SEED.1, &bends)) {
            holds(Ok(book))?;
        }
    }

    #[test]
    fn a_bent_table_of_hives_is_taken_row_by_row(bends in bends()) {
        let text = bent(&SEED.2, &bends);
        let empty = Book::empty("T", Units::Us);
        if let Ok(found) = import::hives_from_csv(&text, Path::new("x.csv"), &empty, None, today()) {
            let book = import::add(&empty, &found);
            let faults = book.faults(today());
            prop_assert!(faults.is_empty(), "what was taken holds together: {:?}", faults);
        }
    }

    #[test]
    fn any_text_at_all_is_refused_or_read(text in "\\PC{0,400}", bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        holds(store::book_from_text(&text, Path::new("x.ron")))?;
        let any = String::from_utf8_lossy(&bytes).into_owned();
        holds(store::book_from_text(&any, Path::new("x.ron")))?;
        let _ = report::book_from_json(&any);
        let _ = import::hives_from_csv(&any, Path::new("x.csv"), &Book::empty("T", Units::Us), None, today());
    }
}

/// Deep nesting and a large note end in an answer, and what lies about in the folder is let be.
#[test]
fn depth_size_and_stray_files_are_borne() {
    let deep = format!("(format: 1, keeper: {}", "[".repeat(100_000));
    assert!(store::book_from_text(&deep, Path::new("x.ron")).is_err());
    let large = SEED.0.replacen("keeper: \"", &format!("keeper: \"{}", "x".repeat(1_000_000)), 1);
    assert!(store::book_from_text(&large, Path::new("x.ron")).is_ok());
    let root = tempfile::tempdir().unwrap();
    let folder = root.path().join("mine");
    BookFolder::create(&folder, &store::book_from_text(&SEED.0, Path::new("x.ron")).unwrap()).unwrap();
    std::fs::write(folder.join("visits/2026-notes.txt"), b"\xff").unwrap();
    std::fs::create_dir_all(folder.join("visits/2025/not-a-file.ron.d")).unwrap();
    assert!(BookFolder::open(&folder, today()).is_ok());
    std::fs::write(folder.join("visits/2025/torn.ron"), "(format: 1, visit: (").unwrap();
    let read = store::read_all(&folder).unwrap();
    assert_eq!((read.book.visits.len(), read.left_out.len()), (1, 1));
    assert_eq!(read.left_out[0].file, Path::new("visits/2025/torn.ron"));
}
