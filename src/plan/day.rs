//! The day's queue of a yard: which hives, in which order, with what and for how long.

use chrono::NaiveDate;

use super::Outlook;
use crate::advice::{Advice, Deed, Urgency};
use crate::model::{Book, Folded, HiveId, Yard, YardId};

/// A hive in the day's queue.
#[derive(Debug, Clone, PartialEq)]
pub struct Stop {
    /// The hive.
    pub hive: HiveId,
    /// Minutes it is likely to take.
    pub minutes: u32,
    /// What it needs.
    pub advice: Advice,
}

/// A yard on a day.
#[derive(Debug, Clone, PartialEq)]
pub struct YardPlan {
    /// The yard.
    pub yard: YardId,
    /// Hives that need something, in the order to see them.
    pub queue: Vec<Stop>,
    /// The others, in stand order.
    pub rest: Vec<Stop>,
}

/// All yards on a day.
#[derive(Debug, Clone, PartialEq)]
pub struct DayPlan {
    /// The day.
    pub date: NaiveDate,
    /// The yards, in the order of the book.
    pub yards: Vec<YardPlan>,
}

/// Minutes at a hive whatever is done there: walking up, smoke, noting (common practice, no single source).
const STEP: f64 = 2.0;
/// Minutes for opening and closing the boxes once.
const OPENING: f64 = 4.0;

/// Plans all yards on a day.
pub fn day(book: &Book, folded: &Folded, date: NaiveDate) -> DayPlan {
    DayPlan { date, yards: book.yards.iter().map(|yard| yard_day(book, folded, yard, date)).collect() }
}

/// Plans one yard on a day.
///
/// Order: suspected disease last, always; then the most pressing first; then as the stands stand.
pub fn yard_day(book: &Book, folded: &Folded, yard: &Yard, date: NaiveDate) -> YardPlan {
    let mut outlook = Outlook::of(book, folded, yard);
    let mut queue = Vec::new();
    let mut rest = Vec::new();
    for state in outlook.stands().to_vec() {
        let advice = outlook.advice(state, date);
        let stop = Stop { hive: state.id.clone(), minutes: minutes(&advice), advice };
        match stop.advice.urgency() {
            Some(Urgency::Stop | Urgency::Must | Urgency::Should) => queue.push(stop),
            Some(Urgency::May) | None => rest.push(stop),
        }
    }
    queue.sort_by_key(|stop| {
        let urgency = stop.advice.urgency();
        (urgency == Some(Urgency::Stop), urgency)
    });
    YardPlan { yard: yard.name.clone(), queue, rest }
}

fn minutes(advice: &Advice) -> u32 {
    if advice.prompts.is_empty() {
        return 0;
    }
    let opened = advice
        .prompts
        .iter()
        .any(|p| p.deeds.iter().any(|d| matches!(d, Deed::LiftsFrames | Deed::OpensLid)));
    let work: f64 = advice.prompts.iter().map(|p| p.minutes).sum();
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a sum of a few dozen minutes"
    )]
    let whole = (STEP + if opened { OPENING } else { 0.0 } + work).round().clamp(0.0, 600.0) as u32;
    whole
}
