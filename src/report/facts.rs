//! Who a hive is, in a few lines of words.

use std::fmt::Write as _;

use chrono::NaiveDate;

use crate::advice::is_open;
use crate::model::{Finding, Findings, HiveState, QueenStatus, Units, trimmed};
use crate::wording;

/// What was found, in words: `frames of bees 12 · eggs yes`.
pub fn findings_words(findings: &Findings, units: Units) -> String {
    Finding::ALL
        .iter()
        .filter_map(|f| {
            let value = findings.get(*f)?;
            Some(format!("{} {}", f.label().to_lowercase(), value.words(f.kind(), units)))
        })
        .collect::<Vec<_>>()
        .join(" · ")
}

/// Boxes and queen.
pub fn stack_and_queen(state: &HiveState, units: Units) -> String {
    let mut parts = vec![state.stack_words()];
    let queen = &state.queen;
    let mut words = format!("queen {}", queen.status.word());
    if let Some(year) = queen.year {
        let _ = write!(words, ", {year}");
    }
    if let Some(mark) = queen.mark {
        let _ = write!(words, ", {} mark", mark.word());
    }
    if let (Some(since), false) = (queen.since, queen.status == QueenStatus::Laying) {
        let _ = write!(words, ", since {}", wording::day(units, since));
    }
    parts.push(words);
    parts.push(state.origin.word().to_owned());
    if let Some((on, loss)) = state.lost {
        parts.push(format!("dead since {} ({})", wording::day(units, on), loss.word()));
    }
    parts.join(" · ")
}

/// The last visit, and the trends in words.
pub fn last(state: &HiveState, units: Units) -> String {
    let mut parts = Vec::new();
    match state.last_visit {
        Some(on) => parts.push(format!("last visit {}", wording::day_and_year(units, on))),
        None => parts.push("not visited yet".to_owned()),
    }
    if let Some(words) = trend(units, "bees", &state.series.bees) {
        parts.push(words);
    }
    if let Some(words) = trend(units, "brood", &state.series.brood) {
        parts.push(words);
    }
    if let Some(wash) = state.last_wash() {
        parts.push(format!("mites {:.1} % on {}", wash.percent(), wording::day(units, wash.on)));
    }
    if let Some((on, weight)) = state.series.weight.last() {
        parts.push(format!("{} on {}", units.mass(*weight), wording::day(units, on)));
    }
    if let Some(course) = state.courses.iter().find(|c| c.ended.is_none()) {
        parts.push(format!("{} in until {}", course.treatment.word(), wording::day(units, course.until)));
    }
    parts.join(" · ")
}

/// `bees 16 on May 3 (12 before)`: the last reading and the one before.
fn trend(units: Units, what: &str, series: &[(chrono::NaiveDate, f64)]) -> Option<String> {
    let (on, now) = series.last()?;
    let day = wording::day(units, on);
    match series.len().checked_sub(2).and_then(|at| series.get(at)) {
        Some((_, before)) => {
            Some(format!("{what} {} on {day} ({} before)", trimmed(*now, 2), trimmed(*before, 2)))
        }
        None => Some(format!("{what} {} on {day}", trimmed(*now, 2))),
    }
}

/// Fittings and promises.
pub fn fittings(state: &HiveState, today: NaiveDate, units: Units) -> String {
    let mut parts = vec![format!("entrance {}", state.entrance.word())];
    if state.upper_entrance {
        parts.push("upper entrance open".to_owned());
    }
    if let Some(feeder) = state.feeder {
        parts.push(format!("{} on", feeder.word()));
    }
    if state.mouse_guard {
        parts.push("mouse guard on".to_owned());
    }
    for promise in state.promises.iter().filter(|p| is_open(p, state, today)).take(2) {
        parts.push(format!("{}: {}", wording::day(units, promise.on), promise.what));
    }
    if !state.note.is_empty() {
        parts.push(state.note.clone());
    }
    parts.join(" · ")
}
