//! What lies ahead of a yard: the trips of eight weeks, and what a visit today is worth most for.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::{Best, Outlook, Pace, Trip, YardPlan, trips};

/// The weeks ahead of a yard.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Weeks {
    /// What a visit today is worth most for.
    pub best: Best,
    /// The trips, in order.
    pub trips: Vec<Trip>,
}

impl Weeks {
    /// Of a yard from a day on, by its plan of that day.
    pub fn of(outlook: &mut Outlook<'_>, plan: &YardPlan, from: NaiveDate, pace: Pace) -> Self {
        let calendar = outlook.calendar(from).clone();
        // While its hives are in mind as the log has them: trips go on from there.
        let best = Best::of(plan, outlook.folded, &calendar, from);
        Self { best, trips: trips(outlook, from, pace) }
    }
}
