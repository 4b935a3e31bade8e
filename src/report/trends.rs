//! What a hive's counts did over a year: points for a chart, and the same in words.

use chrono::NaiveDate;

use crate::colony::{stores, wash};
use crate::model::{HiveState, Mass, Practice, Units, days_after, trimmed};
use crate::season::Calendar;
use crate::wording;

/// What a line of a chart is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Series {
    /// What was counted.
    Counted,
    /// A second count on the same scale.
    Second,
    /// The doubt of a count: its low and its high end.
    Doubt,
    /// A limit or a target.
    Limit,
}

/// One chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Trend {
    /// What is shown, with its unit.
    pub what: &'static str,
    /// What it says, in words.
    pub words: String,
    /// Its lines: what each is, and its points.
    pub lines: Vec<(Series, Vec<(NaiveDate, f64)>)>,
}

/// Days a chart reaches back.
pub const DAYS: i64 = 365;

/// Mites with their interval and the limit, frames of bees and brood, and weight with its target; only those of which
/// something was counted in the year.
pub fn trends(
    hive: &HiveState,
    calendar: &Calendar,
    practice: &Practice,
    units: Units,
    today: NaiveDate,
) -> Vec<Trend> {
    let wanted = stores::winter_target_at(hive, practice, calendar.days_of_cluster());
    let target = stores::winter_weight(hive, wanted);
    let from = days_after(today, -DAYS);
    [
        mites(hive, practice, units, from, today),
        strength(hive, units, from),
        weight(hive, target, units, from, today),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn since<T: Copy>(points: &[(NaiveDate, T)], from: NaiveDate) -> Vec<(NaiveDate, T)> {
    points.iter().copied().filter(|(on, _)| *on >= from).collect()
}

fn mites(
    hive: &HiveState,
    practice: &Practice,
    units: Units,
    from: NaiveDate,
    today: NaiveDate,
) -> Option<Trend> {
    let washes: Vec<_> = hive.washes.iter().filter(|w| w.on >= from).collect();
    let last = washes.last()?;
    let limit = practice.mite_limit();
    let interval = wash::wilson(last.mites, last.bees);
    let counted: Vec<(NaiveDate, f64)> = washes.iter().map(|w| (w.on, w.percent())).collect();
    let mut lines = vec![(Series::Limit, vec![(from, limit), (today, limit)])];
    for wash in &washes {
        let doubt = wash::wilson(wash.mites, wash.bees);
        lines.push((Series::Doubt, vec![(wash.on, doubt.low), (wash.on, doubt.high)]));
    }
    let words = format!(
        "{:.1} % on {} ({:.1} to {:.1}), {}{}; limit {limit} %",
        last.percent(),
        wording::day(units, last.on),
        interval.low,
        interval.high,
        if interval.low > limit {
            "over"
        } else if interval.high < limit {
            "under"
        } else {
            "not surely under"
        },
        before(units, &counted, |v| format!("{v:.1} %")),
    );
    lines.push((Series::Counted, counted));
    Some(Trend { what: "Mites, % of bees", words, lines })
}

/// What was counted before the last, in words.
fn before(units: Units, points: &[(NaiveDate, f64)], words: impl Fn(f64) -> String) -> String {
    match points {
        [.., (on, value), _] => format!(", {} on {} before", words(*value), wording::day(units, on)),
        _ => String::new(),
    }
}

fn strength(hive: &HiveState, units: Units, from: NaiveDate) -> Option<Trend> {
    let bees = since(&hive.series.bees, from);
    let brood = since(&hive.series.brood, from);
    let last = |points: &[(NaiveDate, f64)], what: &str| {
        points.last().map(|(on, value)| {
            let frames = |v: f64| trimmed(v, 2);
            format!(
                "{what} {} on {}{}",
                frames(*value),
                wording::day(units, on),
                before(units, points, frames)
            )
        })
    };
    let words: Vec<String> = [last(&bees, "bees"), last(&brood, "brood")].into_iter().flatten().collect();
    if words.is_empty() {
        return None;
    }
    let lines = vec![(Series::Second, brood), (Series::Counted, bees)];
    Some(Trend { what: "Frames of bees (dots: brood)", words: words.join("; "), lines })
}

fn weight(hive: &HiveState, target: Mass, units: Units, from: NaiveDate, today: NaiveDate) -> Option<Trend> {
    let shown = |mass: Mass| match units {
        Units::Us => mass.pounds(),
        Units::Metric => mass.kilograms(),
    };
    let weighed = since(&hive.series.weight, from);
    let (on, last) = weighed.last().copied()?;
    let points: Vec<(NaiveDate, f64)> = weighed.iter().map(|(on, mass)| (*on, shown(*mass))).collect();
    let words = format!(
        "{} on {}; about {} as it stands now with the winter's stores",
        units.mass(last),
        wording::day(units, on),
        units.mass(target)
    );
    let lines =
        vec![(Series::Limit, vec![(from, shown(target)), (today, shown(target))]), (Series::Counted, points)];
    let what = match units {
        Units::Us => "Weight, lb",
        Units::Metric => "Weight, kg",
    };
    Some(Trend { what, words, lines })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::MiteCount;
    use crate::model::testing::{day, hive};

    fn calendar() -> Calendar {
        Calendar::shifted(crate::season::Shift::none(), 2026)
    }

    #[test]
    fn each_count_has_its_doubt_and_the_limit_spans_the_year() {
        let mut state = hive(1);
        let on = |d: &str| day(d);
        state.washes = vec![
            MiteCount { on: on("2024-06-01"), mites: 30, bees: 300 },
            MiteCount { on: on("2026-05-01"), mites: 1, bees: 300 },
            MiteCount { on: on("2026-07-01"), mites: 9, bees: 300 },
        ];
        state.series.bees = vec![(on("2026-05-01"), 7.0), (on("2026-07-01"), 9.5)];
        state.series.weight = vec![(on("2026-07-01"), Mass::from_pounds(120.0))];
        let found = trends(&state, &calendar(), &Practice::default(), Units::Us, on("2026-07-10"));
        assert_eq!(found.len(), 3);
        let doubts = found[0].lines.iter().filter(|(line, _)| *line == Series::Doubt).count();
        assert_eq!(doubts, 2, "what is older than a year is left out");
        assert!(
            found[0]
                .words
                .starts_with("3.0 % on Jul 1 (1.6 to 5.6), not surely under, 0.3 % on May 1 before"),
            "{}",
            found[0].words
        );
        assert_eq!(found[1].words, "bees 9.5 on Jul 1, 7 on May 1 before");
        assert!(found[2].words.contains("120 lb on Jul 1"), "{}", found[2].words);
        assert!(trends(&hive(1), &calendar(), &Practice::default(), Units::Us, on("2026-07-10")).is_empty());
    }
}
