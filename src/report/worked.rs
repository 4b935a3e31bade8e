//! What the arithmetic makes of a hive's counts, each line with its doubt.

use chrono::NaiveDate;

use crate::colony::model::Forecast;
use crate::colony::strength::{FrameSize, WINTER_FRAMES, bees, brood_cells};
use crate::colony::{stores, wash};
use crate::model::{Depth, HiveState, Mass, MiteCount, Practice, Units, trimmed};
use crate::season::{Calendar, DateId};
use crate::wording;

/// Days a count of frames is carried forward from.
const FRESH: i64 = 30;

/// The lines for a hive on a day; none where nothing was counted lately.
pub fn worked_out(
    hive: &HiveState,
    calendar: &Calendar,
    practice: &Practice,
    units: Units,
    today: NaiveDate,
) -> Vec<String> {
    let mut lines = Vec::new();
    if !hive.is_alive() {
        return lines;
    }
    mites(hive, calendar, practice, (units, today), &mut lines);
    treated(hive, &mut lines);
    strength(hive, calendar, practice, (units, today), &mut lines);
    weight(hive, calendar, (units, today), &mut lines);
    if let Some(judged) = stores::judged(hive, today, 45, practice) {
        let target = stores::winter_target_at(hive, practice, calendar.days_of_cluster());
        let soon = Forecast::without_flow(hive, calendar, today).stores_end().and_then(|end| end.early);
        let gone = soon.map_or_else(String::new, |on| {
            format!("; in 1 such hive of 4 gone by {} if nothing comes in", wording::day(units, on))
        });
        lines.push(format!(
            "stores about {} ({}); {} wanted for winter{gone}",
            units.mass(judged.mass),
            judged.doubt(),
            units.mass(target)
        ));
    }
    lines
}

fn mites(
    hive: &HiveState,
    calendar: &Calendar,
    practice: &Practice,
    (units, today): (Units, NaiveDate),
    lines: &mut Vec<String>,
) {
    let Some(count) = hive.last_wash().filter(|w| (0..=60).contains(&(today - w.on).num_days())) else {
        return;
    };
    let limit = practice.mite_limit();
    let interval = wash::wilson(count.mites, count.bees);
    let mut line = format!(
        "mites {:.1} % ({:.1} to {:.1}) on {}; chance over {limit} %: {:.0} %",
        count.percent(),
        interval.low,
        interval.high,
        wording::day(units, count.on),
        100.0 * wash::chance_above(count.mites, count.bees, limit)
    );
    if count.mites == 0 {
        line = format!("{line}; {}", wash::zero_means(count.bees));
    }
    let until = calendar.closes(DateId::MitesInCheck);
    let untreated = hive.courses.iter().all(|c| c.began < count.on);
    if untreated && today < until {
        let ahead = Forecast::for_hive(hive, calendar, today);
        if let (Some(spread), Some(over)) = (ahead.mites(until), ahead.chance_over(until, limit)) {
            line = format!(
                "{line}; {:.1} to {:.1} % by {} untreated, in 9 of 10 hives, {:.1} to {:.1} % in half; over the limit in {} of 10",
                spread.lowest,
                spread.highest,
                wording::day(units, until),
                spread.low,
                spread.high,
                wording::of_ten(over)
            );
        }
    }
    lines.push(line);
}

/// Days a weighing is carried forward.
const WEIGHED: i64 = 150;

/// What the scale should show today of a hive that was weighed: what weighs less is looked at for robbing or a lost queen.
fn weight(
    hive: &HiveState,
    calendar: &Calendar,
    (units, today): (Units, NaiveDate),
    lines: &mut Vec<String>,
) {
    let last = hive.series.weight.last().map(|(on, _)| *on);
    let Some(on) = last.filter(|on| (1..=WEIGHED).contains(&(today - *on).num_days())) else { return };
    let Some(spread) = Forecast::for_hive(hive, calendar, today).weight(today) else { return };
    let mass = |kilograms: f64| units.mass(Mass::from_kilograms(kilograms.max(0.0)));
    lines.push(format!(
        "the scale should show about {} ({} to {} in half of such hives, {} to {} in 9 of 10), by its weight of {}",
        mass(spread.middle),
        mass(spread.low),
        mass(spread.high),
        mass(spread.lowest),
        mass(spread.highest),
        wording::day(units, on)
    ));
}

/// What the last treatment did, where it was counted before and after.
fn treated(hive: &HiveState, lines: &mut Vec<String>) {
    let Some(course) = hive.courses.iter().rev().find(|c| c.ended.is_some()) else { return };
    let Some(ended) = course.ended else { return };
    let before: Option<&MiteCount> =
        hive.washes.iter().rfind(|w| w.on <= course.began && (course.began - w.on).num_days() <= 45);
    let after = hive.washes.iter().find(|w| w.on > ended && (w.on - ended).num_days() <= 45);
    if let (Some(before), Some(after)) = (before, after)
        && let Some(seen) = wash::efficacy(before, after)
    {
        lines.push(format!(
            "{}: {} mites before, {} after, {:.0} % gone ({:.0} to {:.0} %), what was carried in included",
            course.treatment.word(),
            before.mites,
            after.mites,
            seen.percent,
            seen.low.max(-999.0),
            seen.high
        ));
    }
}

fn strength(
    hive: &HiveState,
    calendar: &Calendar,
    practice: &Practice,
    (units, today): (Units, NaiveDate),
    lines: &mut Vec<String>,
) {
    let fresh = |on: NaiveDate| (0..=FRESH).contains(&(today - on).num_days());
    let Some(counted) = hive.seen.bees.filter(|b| fresh(b.on)) else { return };
    let deep = FrameSize::Inch(Depth::Deep);
    let size = bees(counted.value.0, deep);
    let brood = hive.seen.brood.filter(|b| fresh(b.on)).map(|b| b.value.0);
    let mut line = format!(
        "{} frames are {:.0} to {:.0} thousand bees",
        trimmed(counted.value.0, 2),
        size.low / 1_000.0,
        size.high / 1_000.0
    );
    if let Some(frames) = brood {
        let cells = brood_cells(frames, deep);
        line = format!(
            "{line}; {} of brood, {:.0} to {:.0} thousand cells",
            trimmed(frames, 2),
            cells.low / 1_000.0,
            cells.high / 1_000.0
        );
    }
    let ahead = Forecast::for_hive(hive, calendar, today);
    let growing = calendar.window(DateId::SwarmSeason).holds(today);
    let (what, found) = if growing {
        let frames: f64 = hive.boxes.iter().map(|b| f64::from(b.frames)).sum();
        ("nest full", ahead.full_on(frames * practice.add_box_at() / 100.0))
    } else if today > calendar.closes(DateId::SwarmSeason) && counted.value.0 < WINTER_FRAMES {
        ("winter size", ahead.full_on(WINTER_FRAMES))
    } else {
        ("", None)
    };
    // Where fewer than half come to it, it is not in sight.
    if let Some((on, likely)) = found.and_then(|on| Some((on, on.middle?))) {
        let latest = on.late.map_or_else(|| "later".to_owned(), |l| wording::day(units, l));
        line = format!(
            "{line}; {what} about {} ({} to {latest})",
            wording::day(units, likely),
            wording::day(units, on.early.unwrap_or(on.earliest))
        );
    } else if what == "winter size" {
        line = format!("{line}; winter size is not in sight: unite or feed brood to it in time");
    }
    lines.push(line);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::{day, frames, hive};
    use crate::model::{Course, Treatment};
    use crate::season::Shift;

    fn lines(hive: &HiveState, on: &str) -> Vec<String> {
        let calendar = Calendar::shifted(Shift::none(), 2026);
        worked_out(hive, &calendar, &Practice::default(), Units::Us, day(on))
    }

    #[test]
    fn nothing_counted_is_nothing_worked_out() {
        assert!(lines(&hive(2), "2026-06-01").is_empty());
    }

    #[test]
    fn a_count_is_given_with_its_doubt_and_its_future() {
        let mut state = hive(2);
        state.washes.push(MiteCount { on: day("2026-07-01"), mites: 3, bees: 300 });
        let line = lines(&state, "2026-07-05").remove(0);
        assert!(line.contains("mites 1.0 % (0.3 to 2.9)"), "{line}");
        // The count alone, carried on at 0.033 a day: 1.2 % comes to 5.1, in 9 of 10 hives to 1.3 to 20.7.
        let range = |line: &str| -> (f64, f64) {
            let (_, rest) = line.split_once("; chance over 2 %: 10 %; ").unwrap();
            let (range, _) = rest.split_once(" % by Aug 15 untreated, in 9 of 10 hives").unwrap();
            let (low, high) = range.split_once(" to ").unwrap();
            (low.parse().unwrap(), high.parse().unwrap())
        };
        let (low, high) = range(&line);
        assert!((0.7..2.0).contains(&low) && (14.0..32.0).contains(&high), "{line}");
        // Two and a half months ahead it is wider.
        state.washes = vec![MiteCount { on: day("2026-05-31"), mites: 3, bees: 300 }];
        let (earlier_low, earlier_high) = range(&lines(&state, "2026-06-05").remove(0));
        assert!(earlier_high / earlier_low > high / low, "{earlier_low} {earlier_high}");
    }

    #[test]
    fn what_a_scale_should_show_has_its_doubt_and_falls_in_winter() {
        let mut state = hive(1);
        state.series.weight.push((day("2025-11-10"), Mass::from_pounds(120.0)));
        let shown = |on: &str| -> f64 {
            let all = lines(&state, on).join("\n");
            let (_, rest) = all.split_once("should show about ").unwrap_or_else(|| panic!("{all}"));
            rest.split(' ').next().unwrap().parse().unwrap()
        };
        assert!(shown("2026-02-20") < shown("2025-11-20"), "food is eaten");
        assert!(lines(&state, "2026-07-01").iter().all(|line| !line.contains("scale")), "too long ago");
    }

    #[test]
    fn a_treatment_counted_before_and_after_says_what_it_did() {
        let mut state = hive(2);
        state.washes.push(MiteCount { on: day("2026-05-10"), mites: 14, bees: 300 });
        state.courses.push(Course {
            treatment: Treatment::HopAcidStrips,
            began: day("2026-05-10"),
            until: day("2026-05-24"),
            ended: Some(day("2026-05-25")),
        });
        state.washes.push(MiteCount { on: day("2026-06-07"), mites: 3, bees: 300 });
        let all = lines(&state, "2026-06-08").join("\n");
        assert!(all.contains("14 mites before, 3 after, 79 % gone"), "{all}");
    }

    #[test]
    fn a_growing_nest_has_its_day_and_a_small_one_in_august_its_warning() {
        let mut state = hive(1);
        state.seen.bees = frames("2026-05-03", 6.0);
        state.seen.brood = frames("2026-05-03", 6.0);
        assert!(lines(&state, "2026-05-03")[0].contains("nest full about"));
        state.seen.bees = frames("2026-09-10", 3.0);
        state.seen.brood = frames("2026-09-10", 1.0);
        assert!(lines(&state, "2026-09-10")[0].contains("winter size is not in sight"));
    }
}
