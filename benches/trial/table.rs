//! The trial's table.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::keepers::Outcome;
use yardwalk::simulated::Death;

/// A mean and half the width of its 95 % interval, by yards: hives of a yard share its weather.
pub(crate) fn mean(outcomes: &[Outcome], of: impl Fn(&Outcome) -> Option<f64>) -> (f64, f64) {
    let mut yards: BTreeMap<u64, Vec<f64>> = BTreeMap::new();
    for outcome in outcomes {
        if let Some(value) = of(outcome) {
            yards.entry(outcome.yard).or_default().push(value);
        }
    }
    let means: Vec<f64> = yards.values().map(|v| v.iter().sum::<f64>() / v.len() as f64).collect();
    let n = means.len().max(2) as f64;
    let all = means.iter().sum::<f64>() / n;
    let spread = means.iter().map(|m| (m - all).powi(2)).sum::<f64>() / (n - 1.0);
    (all, 1.96 * (spread / n).sqrt())
}

/// One line of the table.
type Line = (&'static str, fn(&Outcome) -> Option<f64>);

fn yes(is: bool) -> f64 {
    if is { 100.0 } else { 0.0 }
}

/// What is compared.
pub(crate) const LINES: &[Line] = &[
    ("lost by 1 May, %", |o| (!o.united).then(|| yes(o.died.is_some()))),
    ("of mites, %", |o| (!o.united).then(|| yes(o.died == Some(Death::Mites)))),
    ("starved, %", |o| (!o.united).then(|| yes(o.died == Some(Death::Starved)))),
    ("queenless, %", |o| (!o.united).then(|| yes(o.died == Some(Death::Queenless)))),
    ("too few bees, %", |o| (!o.united).then(|| yes(o.died == Some(Death::TooFew)))),
    ("robbed, %", |o| (!o.united).then(|| yes(o.died == Some(Death::Robbed)))),
    ("united, %", |o| Some(yes(o.united))),
    // A colony that was united is there no more, but its figures go on.
    ("mites over 3 % on 25 Sep, %", |o| (!o.united).then(|| yes(o.mites_on_date > 3.0))),
    ("honey, lb a hive", |o| Some(o.honey)),
    ("sugar fed, lb", |o| Some(o.sugar)),
    ("swarms lost, per 100", |o| Some(100.0 * f64::from(o.swarms))),
    ("courses of treatment", |o| Some(f64::from(o.treatments))),
    ("minutes a hive", |o| Some(o.minutes)),
];

/// The table in Markdown.
pub(crate) fn of(all: &[(&str, Vec<Outcome>)]) -> String {
    let mut out = String::from("# A trial of keepers\n\n");
    let count = all.first().map_or(0, |(_, outcomes)| outcomes.len());
    let _ = writeln!(
        out,
        "{count} bee years of simulated colonies a keeper: three winters in a row, each colony with the same start and weather \
         under every keeper, and another in its place where it died. Means with 95 % intervals by yards. Made by `cargo bench --bench trial`; nothing is claimed of \
         real colonies.\n"
    );
    let heads: Vec<&str> = all.iter().map(|(name, _)| *name).collect();
    let _ = writeln!(out, "| | {} |\n|---{}|", heads.join(" | "), "|---".repeat(heads.len()));
    for (words, of) in LINES {
        let cells: Vec<String> = all
            .iter()
            .map(|(_, outcomes)| {
                let (mean, half) = mean(outcomes, of);
                format!("{mean:.1} ± {half:.1}")
            })
            .collect();
        let _ = writeln!(out, "| {words} | {} |", cells.join(" | "));
    }
    out
}
