//! The commands that need no screen: plan, check, and what bad input gets.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

mod support;

use std::fs;

use support::run;

const SAMPLE: &str = "sample-yard.ron";

#[test]
fn plan_json_has_the_documented_shape() {
    let home = tempfile::tempdir().unwrap();
    let (code, out, _) = run(home.path(), &["plan", "--json", "--book", SAMPLE, "--on", "2026-05-03"]);
    assert_eq!(code, 0);
    let plan: serde_json::Value = serde_json::from_str(&out).unwrap();
    assert_eq!(plan["date"], "2026-05-03");
    assert_eq!(plan["yards"].as_array().unwrap().len(), 2);
    let stop = &plan["yards"][0]["queue"][0];
    assert_eq!(stop["hive"], "A4");
    assert!(stop["minutes"].as_u64().unwrap() > 0);
    let prompt = &stop["prompts"][0];
    assert_eq!(prompt["rule"], "feed.new-colony");
    assert_eq!(prompt["urgency"], "must");
    for key in ["title", "why"] {
        assert!(!prompt[key].as_str().unwrap().is_empty());
    }
    for key in ["opens", "aim", "latest"] {
        assert!(prompt["due"][key].as_str().unwrap().parse::<chrono::NaiveDate>().is_ok());
    }
}

#[test]
fn the_sample_opens_on_its_own_day_and_any_other() {
    let home = tempfile::tempdir().unwrap();
    let (_, out, _) = run(home.path(), &["plan", "--book", SAMPLE]);
    assert!(out.starts_with("Plan for Saturday, August 8, 2026"), "{out}");
    let (_, out, _) =
        run(home.path(), &["--on", "2026-03-22", "plan", "--book", SAMPLE, "--yard", "top orchard"]);
    assert!(out.contains("Top Orchard") && !out.contains("Alder Bottom"), "{out}");
}

#[test]
fn check_never_ends_in_no_fault_after_a_fault() {
    let home = tempfile::tempdir().unwrap();
    let book = home.path().join("book");
    fs::create_dir_all(book.join("visits/2026")).unwrap();
    fs::write(book.join("yard.ron"), "(format: 1, keeper: \"K\", units: Us, yards: [])").unwrap();
    let at = book.display().to_string();
    let (code, out, err) = run(home.path(), &["check", "--book", &at]);
    assert!(code == 0 && out.ends_with("no fault found\n"), "{out} {err}");
    fs::write(book.join("visits/2026/2026-05-03T0900-torn-0001.ron"), "(format: 1, id: \"2026").unwrap();
    let (code, out, err) = run(home.path(), &["check", "--book", &at]);
    assert!(code == 1 && out.ends_with("1 fault\n") && !out.contains("no fault"), "{out} {err}");
}

#[test]
fn a_mistyped_path_of_an_import_is_answered_with_the_file_beside_it() {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("hives.csv"), "hive,yard,boxes\n").unwrap();
    let typed = home.path().join("hivse.csv").display().to_string();
    let (code, _, err) = run(home.path(), &["import", &typed, "--book", SAMPLE]);
    assert!(code == 1 && err.contains("did you mean hives.csv"), "{err}");
    let far = home.path().join("apiary-list.json").display().to_string();
    let (code, _, err) = run(home.path(), &["import", &far, "--book", SAMPLE]);
    assert!(code == 1 && err.contains("check the path") && !err.contains("did you mean"), "{err}");
}

#[test]
fn each_case_of_the_sample_shows_on_its_day() {
    let home = tempfile::tempdir().unwrap();
    let plan = |on: &str| run(home.path(), &["plan", "--book", SAMPLE, "--on", on]).1;
    for (on, part) in [
        ("2025-09-12", "Feed thick syrup"),
        ("2026-03-21", "Lift the back of the hive"),
        ("2026-05-09", "Look into the bottom box"),
        ("2026-05-03", "Fill the feeder"),
        ("2026-06-01", "Keep out of the nest until"),
        ("2026-07-19", "Keep it closed until the inspector has been"),
        ("2026-07-24", "Frame with eggs: are there cells?"),
        ("2026-08-04", "Keep it shut: robbing here"),
    ] {
        assert!(plan(on).contains(part), "{on}: {part} not in\n{}", plan(on));
    }
}

#[test]
fn check_passes_the_sample_and_lists_every_fault_of_a_bad_book() {
    let home = tempfile::tempdir().unwrap();
    let (code, out, _) = run(home.path(), &["check", "--book", SAMPLE]);
    assert_eq!((code, out.contains("no fault found")), (0, true), "{out}");
    let (code, out, _) = run(home.path(), &["check", "--book", "tests/bad/many-faults.ron"]);
    assert_eq!(code, 1);
    for part in [
        "two hives are named `C1`",
        "hive `C2` has no boxes",
        "hive `ghost` that is not in the book",
        "after today",
        "`bees` must be 0 to 60 frames",
        "9000 mites on 300 bees cannot be a wash",
        "a rule `nest.botom-box` that there is none of",
        "a box of 10 frames cannot hold 12 drawn",
        "`mite_limit` is 40",
        "to mend:",
    ] {
        assert!(out.contains(part), "{part} not in\n{out}");
    }
}

#[test]
fn a_broken_file_says_file_line_column_and_mend_and_stays_as_it_is() {
    let home = tempfile::tempdir().unwrap();
    for (name, place, part) in [
        ("cut-short.ron", "cut-short.ron:", "cut short"),
        ("unknown-field.ron", "unknown-field.ron:9:", "did you mean `bees`"),
        ("newer.ron", "newer.ron", "newer yardwalk"),
        ("no-unit.ron", "no-unit.ron:9:", "is not a quantity"),
    ] {
        let path = format!("tests/bad/{name}");
        let before = fs::read(&path).unwrap();
        let (code, out, err) = run(home.path(), &["plan", "--book", &path]);
        assert_eq!((code, out.as_str()), (1, ""), "{name}");
        assert!(err.contains(place) && err.contains(part) && err.contains("to mend:"), "{name}: {err}");
        assert_eq!(fs::read(&path).unwrap(), before);
    }
    assert!(fs::read_dir(home.path()).unwrap().next().is_none(), "nothing was written");
}

#[test]
fn wrong_usage_is_2_and_a_wrong_request_is_1() {
    let home = tempfile::tempdir().unwrap();
    assert_eq!(run(home.path(), &["plan", "--on", "yesterday"]).0, 2);
    assert_eq!(run(home.path(), &["dance"]).0, 2);
    let (code, _, err) = run(home.path(), &["plan", "--book", SAMPLE, "--yard", "Nowhere"]);
    assert!(
        code == 1 && err.contains("no yard `Nowhere`") && err.contains("Alder Bottom, Top Orchard"),
        "{err}"
    );
    let (code, _, err) = run(home.path(), &["plan", "--book", "no/such/book"]);
    assert!(code == 1 && err.contains("no book here"), "{err}");
    let (code, _, err) = run(home.path(), &["plan"]);
    assert!(code == 1 && err.contains("no book yet") && err.contains("yardwalk demo"), "{err}");
    for command in [&["--book", SAMPLE][..], &["demo"][..], &[][..]] {
        let (code, out, err) = run(home.path(), command);
        assert!(code == 1 && err.contains("not a terminal") && out.is_empty(), "{command:?} {err}");
    }
    assert!(fs::read_dir(home.path()).unwrap().next().is_none(), "nothing was written");
}

#[test]
fn several_books_must_be_named_and_a_name_is_enough() {
    let home = tempfile::tempdir().unwrap();
    let data = home.path().join(".local/share/yardwalk");
    for name in ["north", "south"] {
        fs::create_dir_all(data.join(name)).unwrap();
        let text = format!("(format: 1, keeper: \"{name}\", yards: [])\n");
        fs::write(data.join(name).join("yard.ron"), text).unwrap();
    }
    let (code, _, err) = run(home.path(), &["plan"]);
    assert!(code == 1 && err.contains("north, south") && err.contains("--book NAME"), "{err}");
    assert_eq!(run(home.path(), &["plan", "--book", "north"]).0, 0);
}

#[test]
fn the_rules_are_listed_with_their_sources() {
    let home = tempfile::tempdir().unwrap();
    let (code, out, _) = run(home.path(), &["rules"]);
    assert_eq!(code, 0);
    assert!(out.matches("source: ").count() >= 20 && out.contains("nest.bottom-box"));
}

#[test]
fn season_json_has_the_documented_shape_at_any_place() {
    let home = tempfile::tempdir().unwrap();
    let season = |args: &[&str]| {
        let (code, out, err) = run(home.path(), &[&["season", "--json"], args].concat());
        assert_eq!(code, 0, "{err}");
        serde_json::from_str::<serde_json::Value>(&out).unwrap()
    };
    let north = season(&["--lat", "46", "--lon", "-81", "--elev", "1050ft", "--on", "2026-05-03"]);
    assert_eq!((&north["shift_days"]["spring"], &north["shift_days"]["autumn"]), (&20.into(), &20.into()));
    let ids: Vec<&str> =
        north["dates"].as_array().unwrap().iter().map(|d| d["id"].as_str().unwrap()).collect();
    assert_eq!(
        ids,
        [
            "late-winter-heft",
            "first-pollen",
            "frames-may-be-lifted",
            "swarm-season",
            "main-flow",
            "last-split",
            "mites-in-check",
            "honey-boxes-off",
            "fall-flow",
            "entrances-narrowed",
            "feeding-done",
            "mouse-guards",
            "upper-entrances",
            "cluster"
        ]
    );
    let date = |season: &serde_json::Value, id: &str, end: &str| {
        let dates = season["dates"].as_array().unwrap();
        dates.iter().find(|d| d["id"] == id).unwrap()[end].as_str().unwrap().to_owned()
    };
    // Twenty days later in spring, earlier in autumn, midsummer unmoved.
    assert_eq!(date(&north, "frames-may-be-lifted", "opens"), "2026-05-15");
    assert_eq!(date(&north, "feeding-done", "closes"), "2026-09-10");
    assert_eq!(date(&north, "main-flow", "opens"), "2026-06-10");
    for (id, sense) in
        [("frames-may-be-lifted", "spring"), ("main-flow", "midsummer"), ("mouse-guards", "autumn")]
    {
        assert_eq!(date(&north, id, "sense"), sense);
        assert!(date(&north, id, "from").len() > 10 && !date(&north, id, "name").is_empty());
    }
    let south = season(&["--lat", "-43", "--lon", "172", "--elev", "650ft", "--on", "2027-02-01"]);
    assert_eq!(south["shift_days"]["spring"], 0);
    assert_eq!(date(&south, "main-flow", "opens"), "2026-12-10");
    assert_eq!(date(&south, "cluster", "opens"), "2027-05-10");
    assert!(south["asks"].as_str().unwrap().contains("first autumn freeze"));
    let frozen = season(&[
        "--lat",
        "46",
        "--lon",
        "-81",
        "--elev",
        "1050ft",
        "--last-freeze",
        "05-12",
        "--first-freeze",
        "09-30",
    ]);
    assert_eq!((&frozen["shift_days"]["spring"], &frozen["shift_days"]["autumn"]), (&7.into(), &10.into()));
    let yard = season(&["--book", SAMPLE, "--yard", "top orchard"]);
    assert_eq!(yard["place"]["name"], "Top Orchard");
}

#[test]
fn season_refuses_what_is_no_place_and_says_how_to_mend_it() {
    let home = tempfile::tempdir().unwrap();
    for (args, code, parts) in [
        (vec!["--lat", "99", "--lon", "0", "--elev", "1m"], 1, vec!["latitude 99", "-90 to 90"]),
        (vec!["--lat", "43", "--lon", "-86", "--elev", "300"], 2, vec!["650 ft"]),
        (vec!["--lat", "43"], 2, vec!["--lon"]),
        (vec!["--last-freeze", "05-40", "--first-freeze", "09-30"], 2, vec!["month and day"]),
        (
            vec![
                "--lat",
                "43",
                "--lon",
                "0",
                "--elev",
                "1m",
                "--last-freeze",
                "10-20",
                "--first-freeze",
                "04-20",
            ],
            1,
            vec!["other side of the equator"],
        ),
        (vec!["--book", SAMPLE, "--yard", "Nowhere"], 1, vec!["no yard `Nowhere`", "Alder Bottom"]),
        (vec!["--book", SAMPLE, "--json"], 1, vec!["--yard", "Top Orchard"]),
    ] {
        let (got, _, err) = run(home.path(), &[vec!["season"], args.clone()].concat());
        assert_eq!(got, code, "{args:?} {err}");
        for part in parts {
            assert!(err.contains(part), "{part} not in {err}");
        }
    }
}

#[test]
fn without_a_book_the_reference_year_and_the_defaults_are_shown() {
    let home = tempfile::tempdir().unwrap();
    let (code, out, _) = run(home.path(), &["season", "--on", "2026-05-03"]);
    assert_eq!(code, 0);
    assert!(out.contains("the reference place") && out.contains("NOTE Give this yard a place"), "{out}");
    let (code, out, _) = run(home.path(), &["practice"]);
    assert_eq!(code, 0);
    assert!(
        out.contains("Treat above") && out.contains("Honey boxes off") && !out.contains("yours   "),
        "{out}"
    );
}
