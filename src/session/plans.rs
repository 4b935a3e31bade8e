//! The day's plan, yard by yard: each is worked out when it is first asked for, so that a start and a key cost what is shown.

use std::cell::OnceCell;

use super::Session;
use crate::model::{Book, YardId};
use crate::plan::{self, Pace, YardPlan};

/// The plans of the day that were asked for.
#[derive(Debug)]
pub(super) struct Plans {
    pace: OnceCell<Pace>,
    yards: Vec<OnceCell<YardPlan>>,
}

impl Plans {
    /// Nothing planned yet.
    pub(super) fn of(book: &Book) -> Self {
        Self { pace: OnceCell::new(), yards: book.yards.iter().map(|_| OnceCell::new()).collect() }
    }
}

impl Session {
    /// The yards of the day, in the order of the book.
    pub fn yards_of_day(&self) -> impl ExactSizeIterator<Item = &YardId> {
        self.book.yards.iter().map(|yard| &yard.name)
    }

    /// The plan of a yard on the day, its queue as the keeper wants it.
    pub fn yard_plan(&self, yard: &YardId) -> Option<&YardPlan> {
        self.yard_plan_at(self.yards_of_day().position(|name| name == yard)?)
    }

    /// The same, by the yard's place in the book.
    pub fn yard_plan_at(&self, at: usize) -> Option<&YardPlan> {
        let (yard, cell) = (self.book.yards.get(at)?, self.plans.yards.get(at)?);
        Some(cell.get_or_init(|| {
            let mut plan = plan::yard_day(&self.book, &self.folded, yard, self.today, self.pace());
            if let Some(wishes) = self.wishes.get(&yard.name) {
                plan::arrange(&mut plan.queue, &wishes.pinned, &wishes.moved);
            }
            plan
        }))
    }

    /// How the keeper's minutes stand to the plan's.
    pub fn pace(&self) -> Pace {
        *self.plans.pace.get_or_init(|| plan::pace(&self.book, self.folded.as_of))
    }

    /// The pace, where it has been worked out.
    pub(super) fn known_pace(&self) -> Option<Pace> {
        self.plans.pace.get().copied()
    }

    /// The pace as it was worked out on this day from the same log.
    pub(super) fn set_pace(&mut self, pace: Pace) {
        self.plans.pace = OnceCell::from(pace);
    }

    /// The log has changed: the day is planned anew from it.
    pub(super) fn replan(&mut self) {
        self.plans = Plans::of(&self.book);
    }

    /// The order the keeper wants has changed, and nothing else.
    pub(super) fn reorder(&mut self) {
        let yards = Plans::of(&self.book).yards;
        self.plans.yards = yards;
    }
}
