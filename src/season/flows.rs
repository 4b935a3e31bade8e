//! When nectar flows at a yard, and when it has ended.

use chrono::NaiveDate;

use super::calendar::{Calendar, Window};

impl Calendar {
    /// Whether it is known when nectar flows here.
    pub fn knows_its_flow(&self) -> bool {
        !self.flows.is_empty()
    }

    /// The flow that is on, or the next of this year, or the last; none where none is known.
    pub fn flow_about(&self, day: NaiveDate) -> Option<Window> {
        self.flows.iter().find(|flow| day <= flow.closes).or(self.flows.last()).copied()
    }

    /// Whether a known flow is on.
    pub fn is_flow(&self, day: NaiveDate) -> bool {
        self.flows.iter().any(|flow| flow.holds(day))
    }

    /// The last day of the flow that ended last before a day; none where one is on or none has been.
    pub fn flow_ended(&self, day: NaiveDate) -> Option<NaiveDate> {
        if self.is_flow(day) {
            return None;
        }
        self.flows.iter().map(|flow| flow.closes).filter(|closes| *closes < day).max()
    }
}
