//! How ready each hive is for winter, and how the last one ended.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};

use super::standing::is_met;
use crate::colony::model::Forecast;
use crate::colony::stores;
use crate::colony::strength::WINTER_FRAMES;
use crate::model::{
    Action, Book, Disease, HiveId, HiveState, Loss, Practice, QueenStatus, Units, Yard, days_after,
};
use crate::season::{Calendar, DateId};
use crate::wording;

/// One of the things a hive must have to winter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Goal {
    /// Mites in check.
    Mites,
    /// Stores.
    Weight,
    /// Bees.
    Strength,
    /// A laying queen.
    Queen,
    /// A narrow entrance.
    Entrance,
    /// An upper entrance.
    Upper,
    /// A mouse guard.
    Guard,
    /// No disease.
    Disease,
}

impl Goal {
    /// Every item, in the order of the grid.
    pub const ALL: &'static [Self] = &[
        Self::Mites,
        Self::Weight,
        Self::Strength,
        Self::Queen,
        Self::Entrance,
        Self::Upper,
        Self::Guard,
        Self::Disease,
    ];

    /// In a word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Mites => "mites",
            Self::Weight => "weight",
            Self::Strength => "strength",
            Self::Queen => "queen",
            Self::Entrance => "entrance",
            Self::Upper => "upper",
            Self::Guard => "guard",
            Self::Disease => "disease",
        }
    }
}

/// How a hive stands to one item.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ready {
    /// As it must be.
    Met,
    /// Begun and on the way.
    InHand,
    /// Not so; the last day on which it can be mended.
    AtRisk(NaiveDate),
    /// Nobody looked lately.
    NotKnown,
}

impl Ready {
    /// In a word or two: `met`, `in hand`, `by 30 Sep`, `?`.
    pub fn words(self, units: Units) -> String {
        match self {
            Self::Met => "met".to_owned(),
            Self::InHand => "in hand".to_owned(),
            Self::AtRisk(by) => format!("by {}", wording::day(units, by)),
            Self::NotKnown => "?".to_owned(),
        }
    }
}

/// One hive's row of the grid.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The hive.
    pub hive: HiveId,
    /// How it stands to each of [`Goal::ALL`].
    pub cells: Vec<Ready>,
}

impl Row {
    /// Whether all is met or in hand.
    pub fn is_ready(&self) -> bool {
        self.cells.iter().all(|c| matches!(c, Ready::Met | Ready::InHand))
    }
}

/// Days a count of bees, a look for eggs or for disease stands for.
const LOOKED: i64 = 45;
/// Days since a feeding in which more is on the way.
const FED: i64 = 14;

/// The grid of a yard: each living hive in the order of its stand.
pub fn readiness(
    stands: &[&HiveState],
    calendar: &Calendar,
    practice: &Practice,
    today: NaiveDate,
) -> Vec<Row> {
    stands
        .iter()
        .filter(|h| h.is_alive())
        .map(|hive| Row {
            hive: hive.id.clone(),
            cells: Goal::ALL.iter().map(|item| ready(*item, hive, calendar, practice, today)).collect(),
        })
        .collect()
}

/// How a hive stands to one item.
pub fn ready(
    item: Goal,
    hive: &HiveState,
    calendar: &Calendar,
    practice: &Practice,
    today: NaiveDate,
) -> Ready {
    let met = |date| is_met(date, hive, calendar, practice, today);
    let fresh = |on: NaiveDate| (0..=LOOKED).contains(&(today - on).num_days());
    // What missed its own date may still be mended until the cluster.
    let by = |date| {
        let last = calendar.closes(date);
        if today <= last { last } else { days_after(calendar.opens(DateId::Cluster), -1).max(today) }
    };
    let fitting = |date| if met(date) { Ready::Met } else { Ready::AtRisk(by(date)) };
    match item {
        Goal::Entrance => fitting(DateId::EntrancesNarrowed),
        // Where winters are short it does little, and keepers differ on it.
        Goal::Upper if !calendar.has_long_winter() => Ready::Met,
        Goal::Upper => fitting(DateId::UpperEntrances),
        Goal::Guard => fitting(DateId::MouseGuards),
        Goal::Mites => mites(hive, calendar, practice, today, by(DateId::MitesInCheck)),
        Goal::Weight => {
            let since = (today - calendar.closes(DateId::MainFlow)).num_days();
            if met(DateId::FeedingDone) {
                Ready::Met
            } else if since < 0 || stores::judged(hive, today, since, practice).is_none() {
                Ready::NotKnown
            } else if hive.fed.last().is_some_and(|f| (0..=FED).contains(&(today - f.on()).num_days()))
                && today <= calendar.closes(DateId::FeedingDone)
            {
                Ready::InHand
            } else {
                Ready::AtRisk(by(DateId::FeedingDone))
            }
        }
        Goal::Strength => match hive.seen.bees.filter(|b| fresh(b.on)) {
            None => Ready::NotKnown,
            Some(bees) if bees.value.0 >= WINTER_FRAMES => Ready::Met,
            Some(_) => {
                let cluster = calendar.opens(DateId::Cluster);
                match Forecast::for_hive(hive, calendar, today).full_by(WINTER_FRAMES, 0.5, cluster) {
                    Some(_) => Ready::InHand,
                    None => Ready::AtRisk(by(DateId::FeedingDone)),
                }
            }
        },
        Goal::Queen => match hive.queen.status {
            QueenStatus::Caged
            | QueenStatus::Cell
            | QueenStatus::RipeCell
            | QueenStatus::Superseded
            | QueenStatus::Virgin => Ready::InHand,
            QueenStatus::Missing | QueenStatus::DroneLayer => Ready::AtRisk(by(DateId::FeedingDone)),
            QueenStatus::Laying | QueenStatus::Unknown => {
                match hive.seen.eggs.filter(|e| fresh(e.on)).map(|e| e.value) {
                    Some(true) => Ready::Met,
                    Some(false) => Ready::AtRisk(by(DateId::FeedingDone)),
                    None => Ready::NotKnown,
                }
            }
        },
        Goal::Disease => {
            if hive.disease_suspected.is_some() {
                Ready::AtRisk(today)
            } else if hive.seen.disease.is_some_and(|d| fresh(d.on) && d.value == Disease::None) {
                Ready::Met
            } else {
                Ready::NotKnown
            }
        }
    }
}

fn mites(
    hive: &HiveState,
    calendar: &Calendar,
    practice: &Practice,
    today: NaiveDate,
    by: NaiveDate,
) -> Ready {
    let count = hive.last_wash().filter(|w| calendar.holds(w.on) && (today - w.on).num_days() <= LOOKED);
    let treated = hive.courses.last().filter(|c| count.is_none_or(|w| c.began >= w.on));
    if treated.is_some_and(|c| (0..=LOOKED).contains(&(today - c.began).num_days())) {
        return Ready::InHand;
    }
    match count {
        None => Ready::NotKnown,
        Some(w) if w.percent() <= practice.mite_limit() => Ready::Met,
        Some(_) => Ready::AtRisk(by),
    }
}

/// How a winter ended for a yard.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Winter {
    /// The year it began in.
    pub year: i32,
    /// Colonies that went into it.
    pub went_in: usize,
    /// Those lost in it, by cause, the commonest first.
    pub lost: Vec<(Loss, usize)>,
}

impl Winter {
    /// In words: `winter 2025: 7 went in, 1 lost (starved 1)`.
    pub fn words(&self) -> String {
        let lost: usize = self.lost.iter().map(|(_, n)| n).sum();
        let causes: Vec<String> = self.lost.iter().map(|(loss, n)| format!("{} {n}", loss.word())).collect();
        let causes = if causes.is_empty() { String::new() } else { format!(" ({})", causes.join(", ")) };
        format!("winter {}: {} went in, {lost} lost{causes}", self.year, self.went_in)
    }
}

/// How the last winter before a day ended for a yard; none where the log does not reach back to it.
///
/// A colony given up on purpose is no loss. A loss is counted from the wrap-up to three weeks after frames may be lifted.
pub fn last_winter(book: &Book, yard: &Yard, calendar: &Calendar, today: NaiveDate) -> Option<Winter> {
    let spring_over = days_after(calendar.opens(DateId::FramesMayBeLifted), 21);
    let ended =
        if today >= calendar.opens(DateId::LateWinterHeft) { calendar.year } else { calendar.year - 1 };
    let shift = |day: NaiveDate, years: i32| day.with_year(day.year() + years).unwrap_or(day);
    let years = ended - calendar.year;
    let until = shift(spring_over, years);
    let from = shift(calendar.opens(DateId::UpperEntrances), years - 1);
    let mut first: BTreeMap<&HiveId, (NaiveDate, Loss)> = BTreeMap::new();
    for visit in book.standing_visits(today.min(until)) {
        for entry in visit.entries.iter().filter(|_| visit.on >= from) {
            if !yard.hives.iter().any(|h| h.id == entry.hive) {
                continue;
            }
            let told = entry
                .actions
                .iter()
                .find_map(|a| if let Action::Retire { loss } = a { Some(*loss) } else { None });
            let found = (entry.findings.dead == Some(true)).then_some(Loss::Unknown);
            if let Some(loss) = told.or(found) {
                let known = first.entry(&entry.hive).or_insert((visit.on, loss));
                // What killed it is often said on a later look.
                if known.1 == Loss::Unknown {
                    known.1 = loss;
                }
            }
        }
    }
    let before = crate::model::Folded::of_yard(book, yard, from);
    let went_in = yard.hives.iter().filter_map(|h| before.hive(&h.id)).filter(|h| h.is_alive()).count();
    if went_in == 0 {
        return None;
    }
    let mut causes: BTreeMap<Loss, usize> = BTreeMap::new();
    for (_, loss) in first.values().filter(|(_, loss)| *loss != Loss::GivenUp) {
        *causes.entry(*loss).or_default() += 1;
    }
    let mut lost: Vec<(Loss, usize)> = causes.into_iter().collect();
    lost.sort_by_key(|(loss, n)| (std::cmp::Reverse(*n), *loss));
    Some(Winter { year: from.year(), went_in, lost })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::{day, frames, hive, seen};
    use crate::model::{Course, Entrance, MiteCount, Queen, Treatment};
    use crate::season::Shift;

    const DAY: &str = "2026-09-10";

    fn of(item: Goal, change: impl FnOnce(&mut HiveState)) -> String {
        let mut state = hive(1);
        change(&mut state);
        let calendar = Calendar::shifted(Shift::none(), 2026);
        ready(item, &state, &calendar, &Practice::default(), day(DAY)).words(Units::Us)
    }

    #[test]
    fn each_item_is_met_in_hand_at_risk_or_not_known() {
        let wash = |mites| MiteCount { on: day("2026-08-20"), mites, bees: 300 };
        assert_eq!(of(Goal::Mites, |h| h.washes = vec![wash(6)]), "met");
        assert_eq!(of(Goal::Mites, |h| h.washes = vec![wash(7)]), "by Nov 9");
        assert_eq!(of(Goal::Mites, |_| {}), "?");
        let course = Course {
            treatment: Treatment::ThymolGel,
            began: day("2026-08-25"),
            until: day("2026-09-22"),
            ended: None,
        };
        assert_eq!(
            of(Goal::Mites, |h| {
                h.washes = vec![wash(20)];
                h.courses = vec![course];
            }),
            "in hand"
        );
        assert_eq!(of(Goal::Weight, |_| {}), "?");
        assert_eq!(of(Goal::Weight, |h| h.seen.honey = frames(DAY, 15.0)), "met");
        assert_eq!(of(Goal::Weight, |h| h.seen.honey = frames(DAY, 5.0)), "by Sep 30");
        assert_eq!(of(Goal::Strength, |h| h.seen.bees = frames(DAY, 8.0)), "met");
        assert_eq!(of(Goal::Strength, |h| h.seen.bees = frames(DAY, 3.0)), "by Sep 30");
        assert_eq!(of(Goal::Strength, |_| {}), "?");
        assert_eq!(of(Goal::Queen, |h| h.seen.eggs = seen(DAY, true)), "met");
        assert_eq!(of(Goal::Queen, |h| h.queen = Queen::of_status(QueenStatus::Caged, None)), "in hand");
        assert_eq!(of(Goal::Queen, |h| h.queen = Queen::of_status(QueenStatus::Missing, None)), "by Sep 30");
        assert_eq!(of(Goal::Entrance, |h| h.entrance = Entrance::Reduced), "met");
        assert_eq!(of(Goal::Entrance, |_| {}), "by Nov 9", "its own date, Sep 1, has passed");
        assert_eq!(of(Goal::Guard, |_| {}), "by Oct 1");
        assert_eq!(of(Goal::Upper, |h| h.upper_entrance = true), "met");
        assert_eq!(of(Goal::Disease, |h| h.seen.disease = seen(DAY, Disease::None)), "met");
        assert_eq!(of(Goal::Disease, |_| {}), "?");
    }
}
