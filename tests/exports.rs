//! What others can use: iCalendar read by another crate, CSV by a reader written here from RFC 4180, round trips without
//! loss on the sample book and on generated books, and hives that go out and come in again.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

#[path = "support/generate.rs"]
mod generate;
mod support;

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use chrono::NaiveDate;
use generate::value;
use proptest::prelude::*;
use support::run;
use yardwalk::model::{
    Action, Answer, Book, Depth, Entry, Finding, Folded, Hive, HiveBox, HiveId, Mass, Mix, Origin, Promise,
    Queen, QueenStatus, Reply, Role, RuleId, Temperature, Treatment, Units, Visit, VisitId, Volume, Weather,
    Yard, YardId, days_after,
};
use yardwalk::plan::Pace;
use yardwalk::report::{self, Table};
use yardwalk::store::{self, import};

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn sample() -> Book {
    store::read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-yard.ron")).unwrap().0
}

/// A calendar's events by their UID, as the `ical` crate reads them; fails where two have one name.
fn events(text: &str) -> BTreeMap<String, BTreeMap<String, String>> {
    let mut found = BTreeMap::new();
    for calendar in ical::IcalParser::new(text.as_bytes()) {
        for event in calendar.unwrap().events {
            let properties: BTreeMap<String, String> =
                event.properties.into_iter().map(|p| (p.name, p.value.unwrap_or_default())).collect();
            let before = found.insert(properties["UID"].clone(), properties.clone());
            assert!(before.is_none(), "{} twice", properties["UID"]);
        }
    }
    found
}

fn ics(book: &Book, on: &str) -> String {
    let folded = Folded::of(book, day(on));
    let yards: Vec<&Yard> = book.yards.iter().collect();
    report::ics(book, &yards, &folded, day(on), Pace::PLAN).unwrap()
}

#[test]
fn the_calendar_is_read_by_another_crate_and_each_event_is_one_whole_day() {
    let text = ics(&sample(), "2026-08-08");
    let events = events(&text);
    assert!(events.len() > 20, "{}", events.len());
    for (uid, event) in &events {
        let date = |name: &str| NaiveDate::parse_from_str(&event[name], "%Y%m%d").unwrap();
        assert_eq!(date("DTEND"), days_after(date("DTSTART"), 1), "{uid}");
        assert!(event["DTSTAMP"].ends_with('Z') && event["SEQUENCE"].parse::<u32>().is_ok());
        // A first export has nothing to cancel.
        assert_eq!(event["STATUS"], "CONFIRMED", "{uid}");
        assert!(!event["LOCATION"].is_empty() && event["GEO"].contains(';'), "{uid}");
        assert!(uid.ends_with("@yardwalk.invalid"));
    }
    // RFC 5545, 3.1: lines end in CRLF and are at most 75 octets; commas and line ends in text are escaped.
    assert!(text.split("\r\n").all(|line| line.len() <= 75 && !line.contains(['\r', '\n'])));
    assert!(text.contains("6 hives\\, ") && text.contains("\\n"));
    assert_eq!(text.matches("PRODID").count(), 1);
}

#[test]
fn exported_again_a_trip_moves_and_nothing_doubles() {
    let book = sample();
    let (first, later) = (events(&ics(&book, "2026-08-08")), events(&ics(&book, "2026-08-20")));
    let names = |events: &BTreeMap<String, BTreeMap<String, String>>| {
        events.keys().filter(|uid| uid.starts_with("trip-")).cloned().collect::<BTreeSet<_>>()
    };
    let both: BTreeSet<String> = names(&first).intersection(&names(&later)).cloned().collect();
    assert!(both.len() > 10, "a trip has the name of the trip that stood in its place");
    let moved = both.iter().filter(|uid| first[*uid]["DTSTART"] != later[*uid]["DTSTART"]).count();
    assert!(moved > 0, "the trips have moved on");
    for uid in both {
        let sequence = |events: &BTreeMap<String, BTreeMap<String, String>>| {
            events[&uid]["SEQUENCE"].parse::<u32>().unwrap()
        };
        assert!(sequence(&later) > sequence(&first), "the newer export is the newer");
    }
    assert_eq!(events(&ics(&book, "2026-08-08")), first, "the same book on the same day is the same file");
}

#[test]
fn hostile_names_and_notes_break_no_line_of_the_calendar() {
    let mut book = sample();
    book.yards[0].name = YardId::new("Odd; yard, \\ with\ttab");
    let folded = Folded::of(&book, day("2026-05-03"));
    let text = report::ics(&book, &[&book.yards[0]], &folded, day("2026-05-03"), Pace::PLAN).unwrap();
    let found = events(&text);
    assert!(found.values().any(|e| e["SUMMARY"].contains("Odd\\; yard\\, \\\\ with")), "{text}");
}

/// RFC 4180: quoted cells, doubled quotes, lines ended by CRLF.
fn read_csv(text: &str) -> Vec<Vec<String>> {
    let mut rows = vec![vec![String::new()]];
    let mut chars = text.chars().peekable();
    let mut quoted = false;
    while let Some(c) = chars.next() {
        let row = rows.last_mut().unwrap();
        match c {
            '"' if quoted && chars.peek() == Some(&'"') => {
                chars.next();
                row.last_mut().unwrap().push('"');
            }
            '"' => quoted = !quoted,
            ',' if !quoted => row.push(String::new()),
            '\r' if !quoted => {
                assert_eq!(chars.next(), Some('\n'), "a line ends in CRLF");
                rows.push(vec![String::new()]);
            }
            '\n' if !quoted => panic!("a bare line feed outside quotes"),
            other => row.last_mut().unwrap().push(other),
        }
    }
    assert_eq!(rows.pop().unwrap(), [""], "the last line is ended too");
    rows
}

fn tables(book: &Book, on: NaiveDate) -> BTreeMap<&'static str, Vec<Vec<String>>> {
    let folded = Folded::of(book, on);
    let all = Table::ALL.iter();
    all.map(|t| (t.name(), read_csv(&report::table(book, &folded, *t, on).unwrap()))).collect()
}

#[test]
fn tables_are_square_complete_and_cannot_run() {
    let mut book = sample();
    book.visits[0].entries[0].note = "=HYPERLINK(\"http://x\"), \"quoted\"\nsecond line".to_owned();
    book.yards[0].hives[0].note = "@SUM(A1)".to_owned();
    let on = day("2026-08-08");
    let found = tables(&book, on);
    for (name, rows) in &found {
        assert!(rows.iter().all(|r| r.len() == rows[0].len()), "{name}");
        for cell in rows.iter().skip(1).flatten() {
            let is_number = cell.parse::<f64>().is_ok();
            assert!(is_number || !cell.starts_with(['=', '+', '-', '@', '\t', '\r']), "{name}: {cell}");
        }
    }
    let entries: usize = book.standing_visits(on).iter().map(|v| v.entries.len()).sum();
    assert_eq!(found["entries"].len(), entries + 1);
    assert!(
        found["entries"].iter().flatten().any(|c| c == "'=HYPERLINK(\"http://x\"), \"quoted\"\nsecond line")
    );
    assert!(found["hives"].iter().flatten().any(|c| c == "'@SUM(A1)"));
    let counted = book.visits.iter().flat_map(|v| &v.entries).filter(|e| e.findings.mites.is_some()).count();
    assert_eq!(found["counts"].len(), counted + 1);
    let treated = |a: &&Action| matches!(a, Action::Treat { .. });
    let actions = || book.visits.iter().flat_map(|v| &v.entries).flat_map(|e| &e.actions);
    assert_eq!(found["treatments"].len(), actions().filter(treated).count() + 1);
    let fed = |a: &&Action| matches!(a, Action::FeedSyrup { .. } | Action::FeedSugar { .. });
    assert_eq!(found["feed"].len(), actions().filter(fed).count() + 1);
}

#[test]
fn the_sample_book_goes_out_and_comes_in_without_loss() {
    let book = sample();
    let text = store::book_to_text(&book, Path::new("x.ron")).unwrap();
    assert_eq!(store::book_from_text(&text, Path::new("x.ron")).unwrap(), book);
    let json = report::book_json(&book, day("2026-08-08")).unwrap();
    assert_eq!(report::book_from_json(&json).unwrap(), book);
    let newer = json.replacen("\"yardwalk_export\": 1", "\"yardwalk_export\": 2", 1);
    assert!(report::book_from_json(&newer).unwrap_err().to_string().contains("version 2"));
}

#[test]
fn hives_go_out_as_a_table_and_come_in_as_the_same_table() {
    let book = sample();
    let on = day("2026-08-08");
    let text = report::table(&book, &Folded::of(&book, on), Table::Hives, on).unwrap();
    let empty = Book::empty("Another", Units::Us);
    let found = import::hives_from_csv(&text, Path::new("hives.csv"), &empty, None, on).unwrap();
    assert_eq!((found.refused.len(), found.ignored.len()), (0, 0), "{:?} {:?}", found.refused, found.ignored);
    let again = import::add(&empty, &found);
    assert!(again.faults(on).is_empty());
    let setup = |book: &Book| -> Vec<Vec<String>> {
        let rows = read_csv(&report::table(book, &Folded::of(book, on), Table::Hives, on).unwrap());
        rows.into_iter().map(|r| r.into_iter().take(15).collect()).collect()
    };
    assert_eq!(setup(&again), setup(&book));
}

/// Words with all that has ever broken a file.
fn words() -> impl Strategy<Value = String> {
    proptest::collection::vec(
        proptest::sample::select(vec![
            "a", "B", "7", " ", "\"", "'", "\\", ",", ";", "\n", "\r\n", "(", ")", "=", "é", "蜂", "\u{301}",
            "#", "//", "{",
        ]),
        0..12,
    )
    .prop_map(|parts| parts.concat())
}

fn findings() -> impl Strategy<Value = Vec<(usize, f64)>> {
    proptest::collection::vec((0..Finding::ALL.len(), 0.0f64..=1.0), 0..8)
}

prop_compose! {
    fn entry()(found in findings(), share in 0.0f64..=1.0, note in words(), what in words(), minutes in proptest::option::of(1u16..200)) -> Entry {
        let mut entry = Entry::blank(HiveId::new("H"));
        for (at, share) in found {
            entry.findings.set(Finding::ALL[at], Some(value(Finding::ALL[at], share)));
        }
        entry.minutes = minutes;
        entry.actions = vec![
            Action::FeedSyrup { mix: Mix::Thick, volume: Volume::from_gallons(4.0 * share) },
            Action::Treat { treatment: Treatment::ThymolGel, until: day("2026-09-01") },
            Action::AddBox { depth: Depth::Medium, frames: 8, role: Role::Super, drawn: 3, level: yardwalk::model::Level::Top },
            Action::TakeHoney { frames: 7, mass: Some(Mass::from_pounds(31.0 * share)) },
            Action::Other { what: what.clone() },
        ];
        let reply = Reply::PutOff { reason: what, until: day("2026-09-03") };
        entry.answers = vec![Answer::to(RuleId::new("mites.wash"), reply)];
        entry.promises = vec![Promise { on: day("2026-09-02"), what: note.clone() }];
        entry.note = note;
        entry
    }
}

prop_compose! {
    fn book()(
        entries in proptest::collection::vec((entry(), 0i64..200), 0..6),
        keeper in words(), note in words(), f in proptest::option::of(-20.0f64..110.0), metric in any::<bool>(),
    ) -> Book {
        let mut book = Book::empty(&keeper, if metric { Units::Metric } else { Units::Us });
        book.practice.set("mite_limit", Some(2.5));
        let boxes = vec![HiveBox::new(Depth::Deep, 10, Role::Nest)];
        let queen = Queen::of_status(QueenStatus::Laying, None);
        let mut hive = Hive::new(HiveId::new("H"), Origin::Nuc, day("2025-05-01"), boxes, queen);
        hive.note.clone_from(&note);
        book.yards = vec![Yard { name: YardId::new("Y"), place: None, formerly: Vec::new(), freezes: None, flows: Vec::new(), note, hives: vec![hive] }];
        for (at, (entry, days)) in entries.into_iter().enumerate() {
            let weather = Weather { temperature: f.map(Temperature::from_fahrenheit), ..Weather::default() };
            let on = days_after(day("2026-01-01"), days);
            let id = VisitId::new(format!("v{at}"));
            book.visits.push(Visit { entries: vec![entry], weather, ..Visit::begun(id, YardId::new("Y"), on) });
        }
        book
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn any_book_goes_out_and_comes_in_without_loss(book in book()) {
        let text = store::book_to_text(&book, Path::new("x.ron")).unwrap();
        prop_assert_eq!(&store::book_from_text(&text, Path::new("x.ron")).unwrap(), &book);
        let json = report::book_json(&book, day("2026-08-08")).unwrap();
        prop_assert_eq!(&report::book_from_json(&json).unwrap(), &book);
        let found = tables(&book, day("2026-12-31"));
        prop_assert_eq!(found["entries"].len(), book.visits.len() + 1);
        // The note is the last column, and comes back as it was.
        let mut notes: Vec<String> =
            found["entries"].iter().skip(1).map(|r| yardwalk::model::uncell(r.last().unwrap()).to_owned()).collect();
        let mut written: Vec<String> = book.visits.iter().map(|v| v.entries[0].note.clone()).collect();
        notes.sort();
        written.sort();
        prop_assert_eq!(notes, written);
        let _ = events(&ics(&book, "2026-08-08"));
    }
}

#[test]
fn commands_write_read_and_refuse() {
    let home = tempfile::tempdir().unwrap();
    let at = |name: &str| home.path().join(name).to_str().unwrap().to_owned();
    let sample = concat!(env!("CARGO_MANIFEST_DIR"), "/sample-yard.ron");
    let done = |args: &[&str]| {
        let (code, out, err) = run(home.path(), args);
        assert_eq!(code, 0, "{args:?} {err}");
        out
    };
    assert!(done(&["export", "ics", "--book", sample, "--to", &at("a.ics")]).contains("wrote"));
    assert!(
        done(&["export", "csv", "--book", sample, "--table", "counts"]).starts_with("date,yard,hive,mites")
    );
    done(&["export", "csv", "--book", sample, "--to", &at("tables")]);
    assert!(done(&["export", "md", "--book", sample]).starts_with("# Visit to Top Orchard"));
    assert!(done(&["export", "md", "--book", sample, "--inspector"]).contains("SUSPECTED"));
    done(&["export", "json", "--book", sample, "--to", &at("whole.json")]);
    done(&["export", "book", "--book", sample, "--to", &at("whole.ron")]);
    // A whole book comes in as a book of its own, from either form, and is not written over.
    assert!(done(&["import", &at("whole.ron"), "--name", "first"]).contains("34 visits"));
    assert!(done(&["import", &at("whole.json"), "--name", "second"]).contains("34 visits"));
    let (code, _, err) = run(home.path(), &["import", &at("whole.ron"), "--name", "first"]);
    assert_eq!(code, 1, "{err}");
    let plan = |book: &str| done(&["plan", "--json", "--book", book, "--on", "2026-08-08"]);
    assert_eq!(plan("first"), plan("second"));
    assert_eq!(plan("first"), plan(sample));
    // A backup reads back, and neither it nor a restored book is written over.
    assert!(done(&["backup", &at("b.ron"), "--book", "first"]).contains("34 visits"));
    assert_eq!(run(home.path(), &["backup", &at("b.ron"), "--book", "first"]).0, 1);
    assert!(done(&["restore", &at("b.ron"), "--to", &at("again")]).contains("read it back"));
    let (code, _, err) = run(home.path(), &["restore", &at("b.ron"), "--to", &at("again")]);
    assert!(code == 1 && err.contains("again"), "{err}");
    assert_eq!(plan(&at("again")), plan("first"));
    for name in ["../evil", "", "a/b", "scratch"] {
        let (code, _, err) = run(home.path(), &["import", &at("whole.ron"), "--name", name]);
        assert!(code == 1 && err.contains("name of a book"), "{name} {err}");
    }
    // Hives: a dry run changes nothing, then they are added, and refused rows are told and set the exit code.
    std::fs::write(at("new.csv"), "hive,yard,boxes\nN1,Alder Bottom,2 deep\nA1,Alder Bottom,deep\n").unwrap();
    let (code, out, _) = run(home.path(), &["import", &at("new.csv"), "--book", "first", "--dry-run"]);
    assert!(code == 1 && out.contains("would add: N1") && out.contains("line 3 refused"), "{out}");
    assert!(!done(&["export", "csv", "--book", "first", "--table", "hives"]).contains("N1"));
    let (code, out, _) = run(home.path(), &["import", &at("new.csv"), "--book", "first"]);
    assert!(code == 1 && out.contains("1 added, 1 refused"), "{out}");
    assert!(done(&["export", "csv", "--book", "first", "--table", "hives"]).contains("Alder Bottom,N1,"));
    for (args, part) in [
        (vec!["import", "x.pdf"], ".csv table of hives"),
        (vec!["hive", "A77", "--book", sample], "did you mean A7"),
        (vec!["export", "md", "--visit", "nothing", "--book", sample], "no such visit"),
        (vec!["load", "--yard", "Nowhere", "--book", sample], "no yard `Nowhere`"),
    ] {
        let (code, _, err) = run(home.path(), &args);
        assert!(code == 1 && err.contains(part), "{args:?} {err}");
    }
    let load: serde_json::Value = serde_json::from_str(&done(&["load", "--json", "--book", sample])).unwrap();
    let line = &load["yards"][1]["likely"][0];
    for key in ["item", "unit", "needed", "spare", "weight_kg", "hives"] {
        assert!(!line[key].is_null(), "{key} {line}");
    }
    let card: serde_json::Value =
        serde_json::from_str(&done(&["hive", "a1", "--json", "--book", sample])).unwrap();
    assert_eq!(card["hive"], "A1");
    assert!(card["history"].as_array().unwrap().len() > 10 && !card["dates"].as_array().unwrap().is_empty());
}
