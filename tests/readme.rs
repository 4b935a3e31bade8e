//! The README says what the program does: its keys and its commands are held to it. Its picture is held in `src/tui/run/tests.rs`.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

#[path = "support/archetypes.rs"]
mod archetypes;

use std::collections::BTreeSet;
use std::fmt::Write as _;

use chrono::{Datelike, NaiveDate};
use yardwalk::advice::{ALL, Day, Rule, Situation};
use yardwalk::model::{HiveState, Practice, Units};
use yardwalk::season::{Calendar, Shift};

const README: &str = include_str!("../README.md");

#[test]
fn the_keys_in_the_readme_are_the_keys_of_the_program() {
    let (head, rest) =
        README.split_once("<!-- keys: made from the program's table; a test compares -->\n").unwrap();
    let (table, tail) = rest.split_once("<!-- /keys -->").unwrap();
    let made = yardwalk::tui::readme_table();
    if std::env::var_os("README_KEYS").is_some() {
        let text = format!(
            "{head}<!-- keys: made from the program's table; a test compares -->\n{made}<!-- /keys -->{tail}"
        );
        std::fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md"), text).unwrap();
        return;
    }
    assert_eq!(table, made, "README_KEYS=write cargo test --test readme puts it into README.md");
}

#[test]
fn the_readme_gives_one_command_that_runs_and_one_that_tests() {
    let commands: Vec<&str> = README
        .split("```sh\n")
        .skip(1)
        .filter_map(|rest| rest.split_once("\n```").map(|(command, _)| command))
        .collect();
    assert_eq!(commands, ["cargo run --release -- --book sample-yard.ron", "cargo test --locked"]);
    let ci = include_str!("../.ci/run");
    assert!(ci.contains("\ncargo test --locked\n"), "the check runs what the README says");
}

/// What it is, what it looks like, how to run, install and test it: on the first screen.
#[test]
fn the_first_thirty_lines_show_run_and_install_it() {
    let first: Vec<&str> = README.lines().take(30).collect();
    let first = first.join("\n");
    for part in [
        "walks you through a visit",
        "](tests/pictures/",
        "cargo run",
        "cargo install --path .",
        "cargo test",
    ] {
        assert!(first.contains(part), "{part} is not in the first thirty lines");
    }
    let keys = README.find("<details>").unwrap();
    assert!(README[keys..].contains("<!-- keys:"), "the key table folds away");
}

#[test]
fn every_command_in_the_readme_is_known() {
    for command in [
        "plan",
        "load",
        "hive",
        "export",
        "import",
        "season",
        "practice",
        "calc",
        "backup",
        "restore",
        "check",
        "rules",
        "demo",
        "walk",
        "keys",
        "completions",
        "man",
    ] {
        assert!(README.contains(&format!("yardwalk {command}")));
        let output = std::process::Command::new(env!("CARGO_BIN_EXE_yardwalk"))
            .args([command, "--help"])
            .output()
            .unwrap();
        assert!(output.status.success(), "{command}");
    }
}

const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/// The months in which a rule speaks to any of the hives, at the reference place.
fn months(rule: &Rule, calendar: &Calendar) -> BTreeSet<u32> {
    let practice = Practice::default();
    let first: NaiveDate = "2026-01-01".parse().unwrap();
    let days = first.iter_days().take(365).step_by(5);
    days.filter(|today| {
        archetypes::on(*today).iter().any(|hive| {
            let stands: [&HiveState; 1] = [hive];
            let weather = archetypes::usual_weather(*today);
            let (today, practice, units) = (*today, &practice, Units::Us);
            let day = Day { today, calendar, weather, practice, units, stands: &stands };
            (rule.speak)(&Situation::of(hive, None, day)).is_some()
        })
    })
    .map(|today| today.month())
    .collect()
}

/// `all year`, `Apr to Jun`, `Oct to Mar`, or several such.
fn when(months: &BTreeSet<u32>) -> String {
    if months.len() == 12 {
        return "all year".to_owned();
    }
    let holds = |month: u32| months.contains(&((month + 11) % 12 + 1));
    let name = |month: u32| MONTHS[((month + 11) % 12) as usize];
    let mut spans = Vec::new();
    for first in (1..=12).filter(|month| holds(*month) && !holds(month + 11)) {
        let last = (first..first + 12).take_while(|month| holds(*month)).last().unwrap();
        spans.push(if first == last {
            name(first).to_owned()
        } else {
            format!("{} to {}", name(first), name(last))
        });
    }
    spans.join(", ")
}

/// What is asked when, by running every rule over a year of hives of every kind at the reference place.
#[test]
fn the_table_of_what_is_asked_when_is_that_of_the_rules() {
    let mut made = String::from("| What | When | It speaks |\n|---|---|---|\n");
    for rule in ALL {
        // One rule is for yards whose dates are a guess.
        let known = months(rule, &Calendar::shifted(Shift::none(), 2026));
        let guessed = || months(rule, &Calendar::shifted(Shift { doubt: 28, ..Shift::none() }, 2026));
        let months = if known.is_empty() { guessed() } else { known };
        assert!(!months.is_empty(), "{} speaks to none of the hives", rule.id);
        writeln!(made, "| {} | {} | {} |", rule.name, when(&months), rule.about).unwrap();
    }
    let (head, rest) = README.split_once("<!-- rules: a test compares -->\n").unwrap();
    let (table, tail) = rest.split_once("<!-- /rules -->").unwrap();
    if std::env::var_os("README_RULES").is_some() {
        let text = format!("{head}<!-- rules: a test compares -->\n{made}<!-- /rules -->{tail}");
        std::fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md"), text).unwrap();
        return;
    }
    assert_eq!(table, made, "README_RULES=write cargo test --test readme puts it into README.md");
}
