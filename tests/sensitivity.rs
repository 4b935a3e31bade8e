//! How much each figure of the colony's model moves what is foretold: the table of DEVELOPERS.md, made here and compared.

#![allow(clippy::unwrap_used, reason = "a test may stop where it likes")]

use std::fmt::Write as _;

use chrono::NaiveDate;
use yardwalk::colony::model::figures::FIGURES;
use yardwalk::colony::model::{Belief, Forecast, counted};
use yardwalk::model::{Depth, HiveBox, HiveState, MiteCount, QueenStatus, Role};
use yardwalk::season::{Calendar, Shift};

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// A colony of 7 frames of bees and 5 of brood on 1 May, 3 mites on 300 bees.
fn colony() -> HiveState {
    let boxes = vec![HiveBox::new(Depth::Deep, 10, Role::Nest); 2];
    let mut state = counted(day("2026-05-01"), &boxes, QueenStatus::Laying, 7.0, 5.0);
    state.washes.push(MiteCount { on: day("2026-05-01"), mites: 3, bees: 300 });
    state
}

/// Frames of bees on 1 June, mites a hundred bees and food in pounds on 15 August.
fn comes_to(belief: &Belief) -> [f64; 3] {
    let (june, august) = (day("2026-06-01"), day("2026-08-15"));
    let ahead = Forecast::of(belief, august, &[]);
    let pounds = ahead.stores(august).unwrap().middle * 2.204_6;
    [ahead.bees(june).unwrap().middle, ahead.mites(august).unwrap().middle, pounds]
}

fn table() -> String {
    let (calendar, on) = (Calendar::shifted(Shift::none(), 2026), day("2026-05-01"));
    let hive = colony();
    let [bees, mites, food] = comes_to(&Belief::of(&hive, &calendar, on));
    let mut out = format!(
        "| 7 frames of bees, 5 of brood, 3 mites on 300 bees on May 1: low to high | frames of bees, June 1 | mites %, Aug 15 | food lb, Aug \
         15 |\n|---|---|---|---|\n| the middle of all | {bees:.1} | {mites:.1} | {food:.0} |\n"
    );
    for row in FIGURES.iter().filter(|row| row.low < row.high) {
        let at = |z| comes_to(&Belief::with_figure(&hive, &calendar, on, row.name, z));
        let ([b_low, m_low, f_low], [b_high, m_high, f_high]) = (at(-1.645), at(1.645));
        let _ = writeln!(
            out,
            "| {} | {b_low:.1} to {b_high:.1} | {m_low:.1} to {m_high:.1} | {f_low:.0} to {f_high:.0} |",
            row.name.replace('_', " ")
        );
    }
    out
}

#[test]
fn the_table_of_the_developers_page_is_what_the_model_works_out() {
    let page = include_str!("../DEVELOPERS.md");
    let printed = page
        .split_once("compares it -->\n")
        .and_then(|(_, rest)| rest.split_once("<!-- /sensitivity -->"))
        .map(|(table, _)| table)
        .unwrap();
    assert_eq!(printed, table(), "put the right side of this into DEVELOPERS.md");
}
