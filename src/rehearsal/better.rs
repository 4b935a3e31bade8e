//! Three things to do better: by what cost the most, each with its hive and day.

use super::review::{HiveReview, Verdict};
use crate::model::{Finding, Value};
use crate::simulated::Death;

/// Mites on a hundred bees above which the winter bees are raised sick (the limit of the fall in extension guides).
const OVER: f64 = 3.0;
/// The most that is said.
const THREE: usize = 3;

/// What to do better, the costliest first: a colony lost, mites on the winter bees, a swarm, honey left, sugar wasted.
pub(super) fn of(hives: &[HiveReview], verdicts: &[Verdict]) -> Vec<String> {
    let mut all: Vec<(u32, String)> = verdicts
        .iter()
        .filter(|verdict| !verdict.is_good)
        .map(|verdict| (0, format!("{}: {}", verdict.hive, verdict.judged.bad)))
        .collect();
    for hive in hives {
        all.extend(lost(hive).map(|words| (1, words)));
        all.extend(mites(hive).map(|words| (2, words)));
        all.extend(swarm(hive).map(|words| (3, words)));
        all.extend(left(hive).map(|words| (4, words)));
        all.extend(washes(hive).map(|words| (5, words)));
    }
    // Of one kind the first hive stands for all.
    all.sort_by_key(|(rank, _)| *rank);
    let mut said: Vec<(u32, String)> = Vec::new();
    for (rank, words) in all {
        if rank == 0 || said.iter().all(|(other, _)| *other != rank) {
            said.push((rank, words));
        }
    }
    said.into_iter().map(|(_, words)| words).take(THREE).collect()
}

fn lost(hive: &HiveReview) -> Option<String> {
    let (on, of) = hive.came_to.died?;
    let saved = hive.others.iter().find(|(_, other)| other.died.is_none()).map(|(name, _)| *name);
    let why = match of {
        Death::Starved => "heft or weigh it earlier, and feed while it is warm enough to take syrup",
        Death::Mites => "count mites every month and treat as soon as they are over the limit",
        Death::Queenless => {
            "look for eggs at every visit, and give a queen or unite it when there are none twice"
        }
        Death::TooFew => "unite it with a strong hive in the fall, before it is too small to winter",
        Death::Robbed => "narrow the entrance at the first fighting, and spill no syrup",
    };
    let saved = saved.map_or_else(String::new, |name| format!(" ({name} would have kept it)"));
    Some(format!("{}: {}{saved}; {} days after the beginning it was dead.", hive.hive, why, age(hive, on)))
}

fn age(hive: &HiveReview, on: chrono::NaiveDate) -> i64 {
    hive.days.first().map_or(0, |day| (on - day.on).num_days())
}

fn mites(hive: &HiveReview) -> Option<String> {
    let percent = hive.came_to.in_fall.filter(|percent| *percent > OVER)?;
    Some(format!(
        "{}: mites were {percent:.1} % while its winter bees were raised; bring them under {OVER} % before late August.",
        hive.hive
    ))
}

fn swarm(hive: &HiveReview) -> Option<String> {
    (hive.came_to.swarms > 0).then(|| {
        format!(
            "{}: it swarmed; from May on give room before it is full and look for cells every week.",
            hive.hive
        )
    })
}

fn left(hive: &HiveReview) -> Option<String> {
    let most = hive.others.iter().map(|(_, other)| other.honey).fold(0.0, f64::max);
    (most > hive.came_to.honey + 20.0).then(|| {
        format!(
            "{}: {:.0} lb of honey where {most:.0} lb could be had; put honey boxes on before the flow.",
            hive.hive, hive.came_to.honey
        )
    })
}

/// A month of the season or more in which mites were not counted.
fn washes(hive: &HiveReview) -> Option<String> {
    let (first, last) = (hive.days.first()?.on, hive.days.last()?.on);
    let washed = hive
        .entries
        .iter()
        .filter(|(_, entry)| matches!(entry.findings.get(Finding::Mites), Some(Value::Count(_))));
    let (count, months) = (washed.count(), (last - first).num_days() / 30);
    (months >= 5 && count < 3).then(|| {
        format!("{}: {count} mite counts in {months} months; a wash a month tells in time.", hive.hive)
    })
}
