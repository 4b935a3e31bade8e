//! The day's queue of a yard: which hives, in which order, with what and for how long.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::Outlook;
use super::pace::{Pace, pace};
use super::queue::in_order;
use crate::advice::{Advice, Deed};
use crate::model::{Book, Folded, HiveId, Yard, YardId};

/// A hive in the day's queue.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stop {
    /// The hive.
    pub hive: HiveId,
    /// Minutes it is likely to take.
    pub minutes: u32,
    /// What it needs.
    pub advice: Advice,
    /// Why it stands where it does in the queue; empty where it is in none.
    pub reason: String,
}

/// A yard on a day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct YardPlan {
    /// The yard.
    pub yard: YardId,
    /// Hives that need something, in the order to see them.
    pub queue: Vec<Stop>,
    /// The others, in stand order.
    pub rest: Vec<Stop>,
}

/// All yards on a day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DayPlan {
    /// The day.
    pub date: NaiveDate,
    /// How this keeper's minutes stand to the plan's; they are counted in.
    pub pace: Pace,
    /// The yards, in the order of the book.
    pub yards: Vec<YardPlan>,
}

/// Minutes at a hive whatever is done there: walking up, smoke, noting (common practice, no single source).
const STEP: f64 = 2.0;
/// Minutes for opening and closing the boxes once.
const OPENING: f64 = 4.0;

/// Plans all yards on a day, at the pace of this keeper.
pub fn day(book: &Book, folded: &Folded, date: NaiveDate) -> DayPlan {
    day_at(book, folded, date, pace(book, folded.as_of))
}

/// Plans all yards on a day at a pace that is known: to learn it takes the log apart again.
pub fn day_at(book: &Book, folded: &Folded, date: NaiveDate, pace: Pace) -> DayPlan {
    DayPlan { date, pace, yards: book.yards.iter().map(|y| yard_day(book, folded, y, date, pace)).collect() }
}

/// Plans one yard on a day.
///
/// For the order of the queue see `queue`.
pub fn yard_day(book: &Book, folded: &Folded, yard: &Yard, date: NaiveDate, pace: Pace) -> YardPlan {
    let mut outlook = Outlook::of(book, folded, yard);
    let mut queue = Vec::new();
    let mut rest = Vec::new();
    for (at, state) in outlook.stands().to_vec().into_iter().enumerate() {
        let advice = outlook.advice(state, date);
        let minutes = minutes(&advice, pace.factor);
        let stop = Stop { hive: state.id.clone(), minutes, advice, reason: String::new() };
        if stop.advice.makes_a_trip() {
            queue.push((at, stop, state));
        } else {
            rest.push(stop);
        }
    }
    let queue = in_order(queue, outlook.calendar(date), date);
    YardPlan { yard: yard.name.clone(), queue, rest }
}

/// Minutes a hive is likely to take: its prompts, and the way there, at a pace.
pub(super) fn minutes(advice: &Advice, pace: f64) -> u32 {
    if advice.prompts.is_empty() {
        return 0;
    }
    let opened = advice
        .prompts
        .iter()
        .any(|p| p.deeds.iter().any(|d| matches!(d, Deed::LiftsFrames | Deed::OpensLid)));
    // What only may be done is the keeper's to choose, and takes no time of the plan.
    let asked = advice.prompts.iter().filter(|p| p.makes_a_trip());
    let work: f64 = asked.map(|p| p.minutes).sum();
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a sum of a few dozen minutes"
    )]
    let whole = ((STEP + if opened { OPENING } else { 0.0 } + work) * pace).round().clamp(0.0, 600.0) as u32;
    whole
}
