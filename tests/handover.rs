//! What is handed to others and taken from them: calendars exported again, sheets to print, schemas, manual pages, and old
//! notebooks of any program's tables.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

mod support;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use support::run;

const SAMPLE: &str = "sample-yard.ron";

fn done(home: &Path, arguments: &[&str]) -> String {
    let (code, out, err) = run(home, arguments);
    assert_eq!(code, 0, "{arguments:?}: {out}{err}");
    out
}

type Events = BTreeMap<String, BTreeMap<String, String>>;

fn events(text: &str) -> Events {
    let mut found = BTreeMap::new();
    for calendar in ical::IcalParser::new(text.as_bytes()) {
        for event in calendar.unwrap().events {
            let properties: BTreeMap<String, String> =
                event.properties.into_iter().map(|p| (p.name, p.value.unwrap_or_default())).collect();
            found.insert(properties["UID"].clone(), properties);
        }
    }
    found
}

/// Exported over the former file, what is gone is cancelled once under its old name, what stays keeps its name, numbers grow.
#[test]
fn a_calendar_exported_again_moves_cancels_and_only_grows() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("bees.ics");
    let to = file.to_str().unwrap();
    let export = |on: &str| {
        done(home.path(), &["export", "ics", "--to", to, "--book", SAMPLE, "--on", on]);
        events(&fs::read_to_string(&file).unwrap())
    };
    let first = export("2026-08-08");
    assert!(first.values().all(|e| e["STATUS"] == "CONFIRMED"), "nothing to cancel yet");
    let later = export("2026-08-20");
    for (uid, event) in &later {
        let number = |e: &BTreeMap<String, String>| e["SEQUENCE"].parse::<u32>().unwrap();
        if let Some(before) = first.get(uid) {
            assert!(number(event) > number(before) && event["DTSTAMP"] > before["DTSTAMP"], "{uid}");
        }
        assert!(uid.ends_with("@yardwalk.invalid"));
    }
    // Made on an earlier day than the file: it is the newer one all the same, and what is no longer planned is cancelled
    // where it stood.
    let back = export("2026-08-09");
    let cancelled: Vec<&String> =
        back.iter().filter(|(_, e)| e["STATUS"] == "CANCELLED").map(|(uid, _)| uid).collect();
    assert!(!cancelled.is_empty());
    for uid in cancelled {
        assert_eq!(later[uid]["DTSTART"], back[uid]["DTSTART"], "{uid}");
        assert_eq!(later[uid]["SUMMARY"], back[uid]["SUMMARY"], "{uid}");
    }
    let newest = |events: &Events| {
        let numbers = events.values().map(|e| (e["SEQUENCE"].parse::<u32>().unwrap(), e["DTSTAMP"].clone()));
        numbers.max().unwrap()
    };
    assert!(newest(&back) >= newest(&later));
}

#[test]
fn an_alarm_is_there_where_it_is_asked_for_and_texts_agree_with_their_days() {
    let home = tempfile::tempdir().unwrap();
    let text = done(
        home.path(),
        &["export", "ics", "--to", "-", "--alarm", "12", "--book", SAMPLE, "--on", "2026-08-08"],
    );
    assert!(
        text.starts_with("BEGIN:VCALENDAR") && text.contains("TRIGGER") && text.contains("-PT43200S"),
        "{text}"
    );
    let again = &["export", "ics", "--alarm", "12", "--book", SAMPLE, "--on", "2026-08-08"];
    assert_eq!(done(home.path(), again), text, "the same on every run");
    let silent = done(home.path(), &["export", "ics", "--book", SAMPLE, "--on", "2026-08-08"]);
    assert!(!silent.contains("VALARM"));
    for (uid, event) in events(&silent).iter().filter(|(uid, _)| uid.starts_with("trip-")) {
        let on = chrono::NaiveDate::parse_from_str(&event["DTSTART"], "%Y%m%d").unwrap();
        let words = event["DESCRIPTION"].replace('\\', "");
        if let Some(rest) = words.strip_prefix("Can be moved to ") {
            let until = rest.split(" at the latest").next().unwrap();
            let until = chrono::NaiveDate::parse_from_str(until, "%b %d, %Y").unwrap();
            assert!(until > on, "{uid}: {words}");
        } else {
            assert!(words.starts_with("This is the last day for it."), "{uid}: {words}");
        }
    }
}

#[test]
fn nothing_of_the_keepers_is_written_over_unasked() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("mine.txt");
    fs::write(&file, "mine").unwrap();
    let to = file.to_str().unwrap();
    for what in [&["ics"][..], &["json"], &["book"], &["md"], &["sheet"], &["csv", "--table", "hives"]] {
        let mut arguments = vec!["export"];
        arguments.extend(what);
        arguments.extend(["--to", to, "--book", SAMPLE]);
        let (code, _, err) = run(home.path(), &arguments);
        assert!(
            code == 1 && err.contains("is there already") && err.contains("--replace"),
            "{what:?}: {err}"
        );
        assert_eq!(fs::read_to_string(&file).unwrap(), "mine");
    }
    done(home.path(), &["export", "json", "--to", to, "--replace", "--book", SAMPLE]);
    assert!(fs::read_to_string(&file).unwrap().starts_with('{'));
}

#[test]
fn sheets_to_print_are_sound_pages_without_scripts() {
    let home = tempfile::tempdir().unwrap();
    for more in [&[][..], &["--hive", "T1"][..]] {
        let mut arguments = vec!["export", "sheet", "--book", SAMPLE, "--on", "2026-08-08"];
        arguments.extend(more);
        let text = done(home.path(), &arguments);
        let page = scraper::Html::parse_document(&text);
        assert!(page.errors.is_empty(), "{:?}", page.errors);
        let count = |of: &str| page.select(&scraper::Selector::parse(of).unwrap()).count();
        assert_eq!(count("script") + count("link") + count("img"), 0, "it needs nothing from elsewhere");
        assert_eq!((count("h1"), count("title")), (1, 1));
        assert!(text.contains("T1") && text.contains("Wash for mites") && text.contains("epinephrine"));
    }
}

#[test]
fn markup_in_a_name_is_no_markup_on_a_sheet() {
    let home = tempfile::tempdir().unwrap();
    let book = fs::read_to_string(SAMPLE).unwrap().replace("Top Orchard", "<script>alert(1)</script>");
    let file = home.path().join("odd.ron");
    fs::write(&file, book).unwrap();
    let text =
        done(home.path(), &["export", "sheet", "--book", file.to_str().unwrap(), "--on", "2026-08-08"]);
    assert!(text.contains("&lt;script&gt;") && !text.contains("<script>"));
}

/// Each JSON report is as its schema says, and the schema says enough to refuse what is not.
#[test]
fn every_json_report_fits_its_schema() {
    let home = tempfile::tempdir().unwrap();
    let reports: [(&str, &[&str]); 8] = [
        ("plan", &["plan", "--json", "--yard", "Top Orchard", "--book", SAMPLE, "--on", "2026-08-08"]),
        ("load", &["load", "--json", "--book", SAMPLE, "--on", "2026-08-08"]),
        ("hive", &["hive", "T1", "--json", "--book", SAMPLE, "--on", "2026-08-08"]),
        ("season", &["season", "--json", "--yard", "Top Orchard", "--book", SAMPLE]),
        ("practice", &["practice", "--json", "--book", SAMPLE]),
        ("calc", &["calc", "wash", "--mites", "6", "--bees", "300", "--json"]),
        ("calc", &["calc", "queen", "--event", "split", "--date", "2026-05-03", "--json"]),
        ("calc", &["calc", "syrup", "--sugar", "10lb", "--mix", "1:1", "--json"]),
    ];
    for (name, arguments) in reports {
        let schema: serde_json::Value = serde_json::from_str(&done(home.path(), &["schema", name])).unwrap();
        let report: serde_json::Value = serde_json::from_str(&done(home.path(), arguments)).unwrap();
        let checked = jsonschema::validator_for(&schema).unwrap();
        let faults: Vec<String> =
            checked.iter_errors(&report).map(|e| format!("{}: {e}", e.instance_path())).collect();
        assert!(faults.is_empty(), "{name}: {faults:?}");
        assert!(!checked.is_valid(&serde_json::json!({})), "{name} asks for something");
        assert!(!checked.is_valid(&serde_json::json!([report])), "{name}");
    }
}

#[test]
fn there_is_a_manual_page_of_every_command_with_files_and_exit_status() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("man1");
    fs::create_dir(&folder).unwrap();
    done(home.path(), &["man", "--to", folder.to_str().unwrap()]);
    let pages: Vec<String> = fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    for page in [
        "yardwalk.1",
        "yardwalk-plan.1",
        "yardwalk-export.1",
        "yardwalk-export-ics.1",
        "yardwalk-calc-wash.1",
    ] {
        assert!(pages.contains(&page.to_owned()), "{page} in {pages:?}");
    }
    for page in &pages {
        let text = fs::read_to_string(folder.join(page)).unwrap();
        for head in [".SH NAME", ".SH SYNOPSIS", ".SH FILES", ".SH \"EXIT STATUS\""] {
            assert!(text.contains(head), "{page} has no {head}");
        }
    }
    let whole = fs::read_to_string(folder.join("yardwalk.1")).unwrap();
    assert!(whole.contains(".SH KEYS") && whole.contains("first aid"));
    assert!(done(home.path(), &["man", "export ics"]).contains("alarm"));
    let (code, _, err) = run(home.path(), &["man", "fly"]);
    assert!(code == 1 && err.contains("no command `fly`"), "{err}");
}

/// A book of one yard in a home, made from a file.
fn own_book(home: &Path, text: &str) {
    let file = home.join("mine.ron");
    fs::write(&file, text).unwrap();
    done(home, &["import", file.to_str().unwrap(), "--name", "bees"]);
}

const ONE_HIVE: &str = r#"(format: 1, keeper: "K", yards: [(name: "Creek", hives: [(id: "A1", origin: Overwintered,
    since: "2024-04-01", boxes: [(depth: Deep, role: Nest)], queen: (status: Laying))])])"#;

#[test]
fn an_old_notebook_comes_in_from_any_programs_table() {
    let utf16: Vec<u8> = "\u{feff}Datum;Hive;Bees;Notes\r\n14.06.2025;A1;7,5;größer\r\n"
        .encode_utf16()
        .flat_map(u16::to_le_bytes)
        .collect();
    let windows: Vec<u8> = b"Date\tHive\tBees\tNotes\r\n14/06/2025\tA1\t7.5\tgr\xf6\xdfer\r\n".to_vec();
    let marked = "\u{feff}date,hive,bees,notes\n2025-06-14,A1,7.5,größer\n".as_bytes().to_vec();
    for bytes in [utf16, windows, marked] {
        let home = tempfile::tempdir().unwrap();
        own_book(home.path(), ONE_HIVE);
        let file = home.path().join("old.csv");
        fs::write(&file, bytes).unwrap();
        let file = file.to_str().unwrap();
        let preview = done(home.path(), &["import", file, "--dry-run"]);
        assert!(
            preview.contains("read as frames of bees") && preview.contains("nothing was changed"),
            "{preview}"
        );
        assert!(!done(home.path(), &["hive", "A1"]).contains("7.5"));
        let said = done(home.path(), &["import", file]);
        assert!(said.contains("1 entry at 1 visit, 0 refused; added"), "{said}");
        let card = done(home.path(), &["hive", "A1"]);
        assert!(card.contains("frames of bees 7.5") && card.contains("größer"), "{card}");
        done(home.path(), &["check"]);
        // Brought in again it changes nothing.
        let (code, again, _) = run(home.path(), &["import", file]);
        assert!(code == 1 && again.contains("already") && again.contains("nothing was changed"), "{again}");
    }
}

#[test]
fn a_day_that_could_be_two_is_said_to_be_and_settled_by_an_option() {
    let home = tempfile::tempdir().unwrap();
    own_book(home.path(), ONE_HIVE);
    let file = home.path().join("old.csv");
    fs::write(&file, "date,hive,bees\n3/4/2025,A1,7\n").unwrap();
    let file = file.to_str().unwrap();
    let (code, _, err) = run(home.path(), &["import", file]);
    assert!(code == 1 && err.contains("two days") && err.contains("--days"), "{err}");
    let said = done(home.path(), &["import", file, "--days", "day-first"]);
    assert!(said.contains("2025-04-03"), "{said}");
}

/// Out as a table, into a new book, and out again: what was found, when and at which hive, is the same.
#[test]
fn entries_go_out_as_a_table_and_come_back_into_a_new_book() {
    let home = tempfile::tempdir().unwrap();
    own_book(home.path(), r#"(format: 1, keeper: "K", yards: [])"#);
    let table = |book: &[&str]| {
        let mut arguments = vec!["export", "csv", "--table", "entries", "--on", "2026-08-08"];
        arguments.extend(book);
        done(home.path(), &arguments)
    };
    let out = table(&["--book", SAMPLE]);
    let file = home.path().join("entries.csv");
    fs::write(&file, &out).unwrap();
    let (_, said, err) =
        run(home.path(), &["import", file.to_str().unwrap(), "--add-hives", "--on", "2026-08-08"]);
    assert!(said.contains("added"), "{said}{err}");
    let rows = |text: &str| -> BTreeMap<(String, String), Vec<String>> {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let heads = reader.headers().unwrap().clone();
        let at = |name: &str| heads.iter().position(|h| h == name).unwrap();
        let (from, to) = (at("fine"), at("in_words"));
        let all = reader.records().map(Result::unwrap);
        all.map(|r| {
            let found = (from..to).map(|n| r[n].to_owned()).chain([r[at("note")].to_owned()]).collect();
            ((r[at("date")].to_owned(), r[at("hive")].to_owned()), found)
        })
        .filter(|(_, found): &(_, Vec<String>)| found.iter().any(|cell| !cell.is_empty()))
        .collect()
    };
    let (before, after) = (rows(&out), rows(&table(&[])));
    assert!(before.len() > 80, "{}", before.len());
    for (key, found) in &before {
        assert_eq!(after.get(key), Some(found), "{key:?}");
    }
}

/// A treatment's record goes with it into the inspector's table, with the day from which honey may be taken.
#[test]
fn the_record_of_a_treatment_stands_in_a_table_of_its_own() {
    let home = tempfile::tempdir().unwrap();
    let book = r#"(format: 5, keeper: "K", yards: [(name: "Creek", place: (latitude: 44.5, longitude: -72.7, elevation: "200 m"),
        hives: [(id: "A1", origin: Overwintered, since: "2024-04-01", boxes: [(depth: Deep, role: Nest)],
        queen: (status: Laying))])], visits: [(id: "v1", yard: "Creek", on: "2025-08-20", entries: [(hive: "A1", actions: [
        Treat(treatment: ThymolGel, until: "2025-09-15"), RecordMedicine(treatment: ThymolGel, record: (product: "Gel, 25 %",
        amount: "2 trays", lot: "L-77", withdrawal_days: 10, by: "K. Keeper"))])])])"#;
    let file = home.path().join("b.ron");
    fs::write(&file, book).unwrap();
    let out = done(
        home.path(),
        &["export", "csv", "--table", "medicine", "--to", "-", "--book", file.to_str().unwrap()],
    );
    let mut reader = csv::Reader::from_reader(out.as_bytes());
    let heads = reader.headers().unwrap().clone();
    let row = reader.records().next().unwrap().unwrap();
    let cell = |name: &str| &row[heads.iter().position(|h| h == name).unwrap()];
    for (name, wanted) in [
        ("active_ingredient", "thymol gel"),
        ("product", "Gel, 25 %"),
        ("amount", "2 trays"),
        ("lot", "L-77"),
        ("withdrawal_days", "10"),
        ("no_honey_before", "2025-09-25"),
        ("given_by", "K. Keeper"),
        ("latitude", "44.5"),
    ] {
        assert_eq!(cell(name), wanted, "{name}");
    }
}
