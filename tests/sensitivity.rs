//! How much each assumption moves *nest full on* and *passes on*: the table of DEVELOPERS.md, made here and compared.

#![allow(clippy::unwrap_used, reason = "a test may stop where it likes")]

use std::fmt::Write as _;

use chrono::NaiveDate;
use yardwalk::colony::growth::{Assumptions, HIGH, LOW, MID, Start, run};
use yardwalk::colony::next_count::{GROWTH, passes_on};
use yardwalk::model::MiteCount;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// Days until ten frames are covered, or `>120`.
fn full_in(start: &Start, assume: &Assumptions) -> String {
    run(start, 120, assume)
        .iter()
        .find(|(_, frames)| *frames >= 10.0)
        .map_or_else(|| ">120".to_owned(), |(on, _)| (*on - start.on).num_days().to_string())
}

fn passes_in(mites: u16, bees: u16, limit: f64, rate: f64) -> String {
    let count = MiteCount { on: day("2026-07-01"), mites, bees };
    passes_on(&count, limit, rate)
        .map_or_else(|| ">365".to_owned(), |on| (on - count.on).num_days().to_string())
}

fn table() -> String {
    let start = Start::laying(day("2026-05-01"), 7.0, 5.0, 20.0, yardwalk::model::Hemisphere::North);
    let full = |assume: Assumptions| full_in(&start, &assume);
    let from = |change: fn(&mut Start)| {
        let mut changed = start;
        change(&mut changed);
        full_in(&changed, &MID)
    };
    let rows = [
        ("all assumptions at once", full(LOW), full(MID), full(HIGH)),
        (
            "cells a frame of brood",
            full(Assumptions { cells_a_frame: LOW.cells_a_frame, ..MID }),
            full(MID),
            full(Assumptions { cells_a_frame: HIGH.cells_a_frame, ..MID }),
        ),
        (
            "most eggs a day",
            full(Assumptions { most_eggs: LOW.most_eggs, ..MID }),
            full(MID),
            full(Assumptions { most_eggs: HIGH.most_eggs, ..MID }),
        ),
        (
            "eggs a bee",
            full(Assumptions { eggs_a_bee: LOW.eggs_a_bee, ..MID }),
            full(MID),
            full(Assumptions { eggs_a_bee: HIGH.eggs_a_bee, ..MID }),
        ),
        (
            "life of a bee",
            full(Assumptions { life: LOW.life, ..MID }),
            full(MID),
            full(Assumptions { life: HIGH.life, ..MID }),
        ),
        ("the count of bees, one frame", from(|s| s.bees -= 1.0), full(MID), from(|s| s.bees += 1.0)),
        ("the count of brood, one frame", from(|s| s.brood -= 1.0), full(MID), from(|s| s.brood += 1.0)),
    ];
    let mut out = String::from(
        "| *Nest full on*: 7 frames of bees, 5 of brood, May 1, to 10 frames | low | middle | high |\n|---|---|---|---|\n",
    );
    for (what, low, mid, high) in rows {
        let _ = writeln!(out, "| {what} | {low} | {mid} | {high} |");
    }
    let (rate, spread) = GROWTH;
    let passes = [
        (
            "daily growth, 0.020 to 0.046",
            passes_in(3, 300, 2.0, rate - spread),
            passes_in(3, 300, 2.0, rate + spread),
        ),
        ("the count, 2 to 4 mites", passes_in(2, 300, 2.0, rate), passes_in(4, 300, 2.0, rate)),
        ("the limit, 3 to 1 %", passes_in(3, 300, 3.0, rate), passes_in(3, 301, 1.0, rate)),
    ];
    let middle = passes_in(3, 300, 2.0, rate);
    out.push_str(
        "\n| *Passes on*: 3 mites on 300 bees, limit 2 % | low | middle | high |\n|---|---|---|---|\n",
    );
    for (what, low, high) in passes {
        let _ = writeln!(out, "| {what} | {low} | {middle} | {high} |");
    }
    out
}

#[test]
fn the_table_of_the_developers_page_is_what_the_program_works_out() {
    let page = include_str!("../DEVELOPERS.md");
    let printed = page
        .split_once("compares it -->\n")
        .and_then(|(_, rest)| rest.split_once("<!-- /sensitivity -->"))
        .map(|(table, _)| table)
        .unwrap();
    assert_eq!(printed, table(), "put the right side of this into DEVELOPERS.md");
}
