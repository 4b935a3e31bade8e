//! What is foretold held to what was counted later: the next wash, frames of bees, first eggs, on 177 real splits.
//!
//! Aurell, Bruckner, Steury and Williams 2025, doi 10.1093/jee/toaf126; the table is in `alabama/`. A range that is to
//! hold nine in ten must hold 85 to 97 in 100 of them, one that is to hold half 42 to 65.

use chrono::NaiveDate;
use yardwalk::colony::next_count::Ahead;
use yardwalk::colony::spread::Spread;
use yardwalk::model::MiteCount;

pub(crate) type Row = std::collections::HashMap<String, String>;

pub(crate) fn splits() -> Vec<Row> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/published/alabama/alabama-splits-2022.csv");
    csv::Reader::from_path(path).unwrap().deserialize().map(Result::unwrap).collect()
}

pub(crate) fn number(row: &Row, column: &str) -> Option<f64> {
    row[column].parse().ok()
}

/// Shares of the later figures within the halves and within the nine in tenths, and the share over the middle.
#[derive(Debug)]
pub(crate) struct Held {
    pub(crate) of: usize,
    pub(crate) half: f64,
    pub(crate) nine_in_ten: f64,
    pub(crate) over: f64,
}

pub(crate) fn held(pairs: &[(Spread, f64)]) -> Held {
    let share = |is: &dyn Fn(&Spread, f64) -> bool| {
        pairs.iter().filter(|(spread, seen)| is(spread, *seen)).count() as f64 / pairs.len() as f64
    };
    Held {
        of: pairs.len(),
        half: share(&|s, seen| s.low <= seen && seen <= s.high),
        nine_in_ten: share(&|s, seen| s.lowest <= seen && seen <= s.highest),
        over: share(&|s, seen| seen > s.middle),
    }
}

#[track_caller]
pub(crate) fn holds_what_it_says(held: &Held) {
    assert!((0.85..=0.97).contains(&held.nine_in_ten), "{held:?}");
    assert!((0.42..=0.65).contains(&held.half), "{held:?}");
}

pub(crate) fn wash(row: &Row, day: &str) -> Option<MiteCount> {
    let whole = |column: String| number(row, &column).and_then(|n| n.to_string().parse().ok());
    Some(MiteCount {
        on: row[&format!("{day}_on")].parse::<NaiveDate>().ok()?,
        mites: whole(format!("{day}_mites"))?,
        bees: whole(format!("{day}_bees"))?,
    })
}

/// Day 77 to about day 115, nothing given between.
#[test]
fn the_next_wash_lies_where_it_was_foretold() {
    let pairs: Vec<(Spread, f64)> = splits()
        .iter()
        .filter_map(|row| {
            let (first, next) = (wash(row, "d77")?, wash(row, "post")?);
            Some((Ahead::of(&first, next.on).jar(next.bees), next))
        })
        // A jar of no mite is half a mite, as it is when it is carried forward.
        .map(|(spread, next)| (spread, 100.0 * (f64::from(next.mites) + 0.5) / (f64::from(next.bees) + 1.0)))
        .collect();
    let held = held(&pairs);
    assert_eq!(held.of, 122);
    holds_what_it_says(&held);
    assert!((0.4..=0.6).contains(&held.over), "{held:?}");
}

/// A range of growth alone, 2.0 to 2.5 % a day, is what this one replaces: it held few.
#[test]
fn a_range_of_growth_alone_held_few_of_them() {
    let pairs: Vec<bool> = splits()
        .iter()
        .filter_map(|row| {
            let (first, next) = (wash(row, "d77")?, wash(row, "post")?);
            let days = (next.on - first.on).num_days() as f64;
            let at = |growth: f64| first.percent() * (growth * days).exp();
            Some((at(0.020)..=at(0.025)).contains(&next.percent()))
        })
        .collect();
    let share = pairs.iter().filter(|held| **held).count() as f64 / pairs.len() as f64;
    assert!(share < 0.2, "{share}");
}
