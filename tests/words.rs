//! Every sentence of a bee year of advice and every screen, in one file to be read; and what can be held by a machine is:
//! number, spelling, order of month and day, and nothing said twice.
//!
//! The file is `target/tmp/words.txt` after `cargo test --test words`.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

#[path = "support/archetypes.rs"]
mod archetypes;

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use chrono::NaiveDate;
use yardwalk::advice::{ALL, Day, Situation, advise};
use yardwalk::model::{Action, Finding, HiveState, Practice, Units};
use yardwalk::season::{Calendar, Shift};
use yardwalk::wording::safety;

/// What is said of hives of every kind over a year, by the rule that says it.
fn advice(units: Units) -> BTreeMap<&'static str, Vec<String>> {
    let mut said: BTreeMap<&'static str, Vec<String>> = BTreeMap::new();
    let calendar = Calendar::shifted(Shift::none(), 2026);
    let practice = Practice::default();
    let first: NaiveDate = "2026-01-01".parse().unwrap();
    for today in first.iter_days().take(365).step_by(6) {
        for hive in archetypes::on(today) {
            let stands: [&HiveState; 1] = [&hive];
            let weather = archetypes::usual_weather(today);
            let (practice, calendar) = (&practice, &calendar);
            let day = Day { today, calendar, weather, practice, units, stands: &stands };
            let advice = advise(&Situation::of(&hive, None, day));
            let mut say = |rule, words: String| {
                let lines = said.entry(rule).or_default();
                if !lines.contains(&words) {
                    lines.push(words);
                }
            };
            for prompt in &advice.prompts {
                say(prompt.rule, format!("{} | {}", prompt.by_when(today, units), prompt.why));
                prompt.how.iter().for_each(|step| say(prompt.rule, step.clone()));
                for offer in &prompt.offers {
                    let done: Vec<String> = offer.actions.iter().map(|a: &Action| a.words(units)).collect();
                    let promises: Vec<&str> = offer.promises.iter().map(|(_, what)| what.as_str()).collect();
                    say(
                        prompt.rule,
                        format!("{} -> {}; {}", offer.label, done.join(", "), promises.join(", ")),
                    );
                }
            }
            for held in &advice.held {
                say(held.prompt.rule, format!("waits: {} ({})", held.prompt.title, held.because));
            }
        }
    }
    said
}

/// Every sentence, with where it is said.
fn sentences(units: Units) -> Vec<(String, String)> {
    let mut all = Vec::new();
    for (rule, lines) in advice(units) {
        all.extend(lines.into_iter().map(|line| (rule.to_owned(), line)));
    }
    for rule in ALL {
        let own = [Some(rule.about), rule.caution].into_iter().flatten();
        all.extend(own.map(|line| (format!("{} (rule)", rule.id), line.to_owned())));
    }
    for finding in Finding::ALL {
        all.push(("finding".to_owned(), format!("{}: {}", finding.label(), finding.help())));
    }
    for card in safety::CARDS {
        all.extend(card.steps.iter().map(|step| (card.title.to_owned(), (*step).to_owned())));
    }
    all
}

/// Spellings that are not American, and words that are not a keeper's.
const NOT_OURS: &[&str] = &[
    "colour",
    "grey ",
    "litre",
    "metre",
    "neighbour",
    "mould",
    "favour",
    "centre",
    "vapour",
    "odour",
    "wintre",
    "sulphur",
    "does most",
    "hive's bees' ",
    "EpiPen",
    "the the ",
    "a a ",
    "  ",
];

/// What is wrong with a sentence.
fn fault(line: &str, units: Units) -> Option<String> {
    let lower = line.to_lowercase();
    if let Some(word) = NOT_OURS.iter().find(|word| lower.contains(&word.to_lowercase())) {
        return Some(format!("says {word:?}"));
    }
    let words: Vec<&str> = line.split(' ').collect();
    for pair in words.windows(2) {
        let (number, noun) = (pair[0], pair[1].trim_matches(|c: char| !c.is_alphanumeric()));
        let is_plural =
            ["boxes", "frames", "days", "weeks", "hives", "combs", "supers", "strips", "cells", "bees"]
                .contains(&noun);
        if number == "1" && is_plural {
            return Some(format!("says `1 {noun}`"));
        }
    }
    let months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    for pair in words.windows(2) {
        let [first, second] = [pair[0], pair[1]].map(|w| w.trim_matches(|c: char| !c.is_alphanumeric()));
        let is_day = |word: &str| word.parse::<u32>().is_ok_and(|n| (1..=31).contains(&n));
        if units == Units::Us && is_day(first) && pair[0] == first && months.contains(&second) {
            return Some(format!("says `{first} {second}`: the month comes first here"));
        }
        let is_plain = pair[0] == first && pair[1].starts_with(second);
        if units == Units::Metric && months.contains(&first) && is_day(second) && is_plain {
            return Some(format!("says `{first} {second}`: the day comes first here"));
        }
    }
    // A day is said once in a line of its own.
    let title = line.split(" | ").next().unwrap_or_default();
    if title.matches(" by ").count() > 1 && title.contains(", LATE by") {
        return Some("says by when twice".to_owned());
    }
    // A sentence begins with a capital.
    let bytes: Vec<char> = line.chars().collect();
    for at in 3..bytes.len() {
        let is_end = bytes[at - 2] == '.' && bytes[at - 1] == ' ' && bytes[at].is_lowercase();
        let word: String = bytes[..at - 2].iter().rev().take_while(|c| c.is_alphabetic()).collect();
        if is_end && word.chars().count() > 2 {
            return Some("begins a sentence without a capital".to_owned());
        }
    }
    None
}

#[test]
fn every_sentence_is_written_into_one_file_and_what_a_machine_can_hold_holds() {
    let mut file = String::new();
    let mut faults = Vec::new();
    for units in [Units::Us, Units::Metric] {
        let said = sentences(units);
        assert!(said.len() > 600, "{}", said.len());
        for (place, line) in said {
            if let Some(fault) = fault(&line, units) {
                faults.push(format!("{place}: {fault}: {line}"));
            }
            if units == Units::Us {
                let _ = writeln!(file, "[{place}] {line}");
            }
        }
    }
    let screens = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/tui/run/snapshots");
    let mut names: Vec<_> = std::fs::read_dir(screens).unwrap().map(|entry| entry.unwrap().path()).collect();
    names.sort();
    for path in names.iter().filter(|path| path.to_string_lossy().ends_with("80x24.snap")) {
        file.push_str(&std::fs::read_to_string(path).unwrap());
    }
    let out = Path::new(env!("CARGO_TARGET_TMPDIR")).join("words.txt");
    std::fs::write(out, file).unwrap();
    assert!(faults.is_empty(), "{} of:\n{}", faults.len(), faults.join("\n"));
}
