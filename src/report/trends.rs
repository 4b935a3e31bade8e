//! What a hive's counts did over a year: points for a chart, and the same in words.

use chrono::NaiveDate;

use crate::colony::model::Forecast;
use crate::colony::spread::Spread;
use crate::colony::{stores, wash};
use crate::model::{HiveState, Mass, MiteCount, Practice, Units, days_after, trimmed};
use crate::season::Calendar;
use crate::wording;

/// Something done, marked on a chart's axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Done {
    /// A treatment begun.
    Treated,
    /// Food given.
    Fed,
}

/// Where a figure is expected on a day to come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ahead {
    /// The day.
    pub on: NaiveDate,
    /// 1 in 20, 1 in 4, half, 3 in 4 and 19 in 20 of such hives are under it.
    pub spread: Spread,
}

/// One chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Trend {
    /// What is shown, with its unit.
    pub what: &'static str,
    /// What it says, in words.
    pub words: String,
    /// What was counted, the oldest first.
    pub counted: Vec<(NaiveDate, f64)>,
    /// The doubt of a count: its low and its high end.
    pub doubt: Vec<(NaiveDate, f64, f64)>,
    /// A second count on the same scale: brood beside bees.
    pub second: Vec<(NaiveDate, f64)>,
    /// A limit or a target.
    pub limit: Option<f64>,
    /// Whether its axis begins at nothing, as that of a weight need not.
    pub is_from_nothing: bool,
    /// What was done that bears on it.
    pub done: Vec<(NaiveDate, Done)>,
    /// What is expected, the nearest day first.
    pub ahead: Vec<Ahead>,
}

/// Days a chart reaches back.
pub const DAYS: i64 = 365;
/// Days a chart reaches ahead.
pub const DAYS_AHEAD: i64 = 42;
/// Days between two days of a forecast.
const STEP: usize = 7;
/// Days without a count over which no line is drawn.
pub const GAP: i64 = 60;

/// A figure of a forecast, week by week from today on; nothing of a hive that is dead or was never counted.
fn ahead(
    hive: &HiveState,
    calendar: &Calendar,
    today: NaiveDate,
    figure: impl Fn(&Forecast, NaiveDate) -> Option<Spread>,
) -> Vec<Ahead> {
    if !hive.is_alive() {
        return Vec::new();
    }
    let forecast = Forecast::for_hive(hive, calendar, today);
    let days = (0..=DAYS_AHEAD).step_by(STEP).map(|days| days_after(today, days));
    days.filter_map(|on| Some(Ahead { on, spread: figure(&forecast, on)? })).collect()
}

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
        mites(hive, calendar, practice, units, (from, today)),
        strength(hive, calendar, units, (from, today)),
        weight(hive, target, calendar, units, (from, today)),
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
    calendar: &Calendar,
    practice: &Practice,
    units: Units,
    (from, today): (NaiveDate, NaiveDate),
) -> Option<Trend> {
    let washes: Vec<_> = hive.washes.iter().filter(|w| w.on >= from).collect();
    let last = washes.last()?;
    let limit = practice.mite_limit();
    let interval = wash::wilson(last.mites, last.bees);
    let counted: Vec<(NaiveDate, f64)> = washes.iter().map(|w| (w.on, w.percent())).collect();
    let doubt = |w: &&MiteCount| {
        let range = wash::wilson(w.mites, w.bees);
        (w.on, range.low, range.high)
    };
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
    Some(Trend {
        what: "Mites, % of bees",
        words,
        doubt: washes.iter().map(doubt).collect(),
        counted,
        second: Vec::new(),
        limit: Some(limit),
        is_from_nothing: true,
        done: since(&hive.courses.iter().map(|c| (c.began, Done::Treated)).collect::<Vec<_>>(), from),
        ahead: ahead(hive, calendar, today, Forecast::mites),
    })
}

/// What was counted before the last, in words.
fn before(units: Units, points: &[(NaiveDate, f64)], words: impl Fn(f64) -> String) -> String {
    match points {
        [.., (on, value), _] => format!(", {} on {} before", words(*value), wording::day(units, on)),
        _ => String::new(),
    }
}

fn strength(
    hive: &HiveState,
    calendar: &Calendar,
    units: Units,
    (from, today): (NaiveDate, NaiveDate),
) -> Option<Trend> {
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
    Some(Trend {
        what: "Frames of bees and brood",
        words: words.join("; "),
        counted: bees,
        doubt: Vec::new(),
        second: brood,
        limit: None,
        is_from_nothing: true,
        done: Vec::new(),
        ahead: ahead(hive, calendar, today, Forecast::bees),
    })
}

fn weight(
    hive: &HiveState,
    target: Mass,
    calendar: &Calendar,
    units: Units,
    (from, today): (NaiveDate, NaiveDate),
) -> Option<Trend> {
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
    let what = match units {
        Units::Us => "Weight, lb",
        Units::Metric => "Weight, kg",
    };
    Some(Trend {
        what,
        words,
        counted: points,
        doubt: Vec::new(),
        second: Vec::new(),
        limit: Some(shown(target)),
        is_from_nothing: false,
        done: since(&hive.fed.iter().map(|f| (f.on(), Done::Fed)).collect::<Vec<_>>(), from),
        // With the boxes it has now.
        ahead: ahead(hive, calendar, today, |forecast, on| {
            let each = |kilograms: f64| shown(Mass::from_kilograms(kilograms.max(0.0)));
            forecast.weight(on).map(|spread| spread.each(each))
        }),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
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
        assert_eq!(found[0].doubt.len(), 2, "what is older than a year is left out");
        let ahead = &found[0].ahead;
        assert_eq!(ahead.first().map(|a| a.on), Some(on("2026-07-10")));
        assert_eq!(ahead.last().map(|a| a.on), Some(on("2026-08-21")));
        assert!(ahead.iter().all(|a| a.spread.lowest <= a.spread.low && a.spread.high <= a.spread.highest));
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
