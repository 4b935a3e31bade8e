//! The day's plan, yard by yard: each is worked out when it is first asked for, so that a start and a key cost what is shown.

use std::cell::OnceCell;

use serde::{Deserialize, Serialize};

use super::Session;
use crate::model::{Book, YardId};
use crate::plan::{self, Pace, Weeks, YardPlan};

/// The plans of the day that were asked for.
#[derive(Debug)]
pub(super) struct Plans {
    pace: OnceCell<Pace>,
    yards: Vec<Planned>,
}

/// A yard's.
#[derive(Debug, Default)]
struct Planned {
    /// As the rules have it.
    by_the_rules: OnceCell<YardPlan>,
    /// Its queue as the keeper wants it.
    wished: OnceCell<YardPlan>,
    weeks: OnceCell<Weeks>,
}

impl Plans {
    /// Nothing planned yet.
    pub(super) fn of(book: &Book) -> Self {
        Self { pace: OnceCell::new(), yards: book.yards.iter().map(|_| Planned::default()).collect() }
    }
}

/// What the first screen of a day goes by: it follows from the log and the day alone.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct AtStart {
    pace: Pace,
    yards: Vec<YardPlan>,
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
        let (yard, planned) = (self.book.yards.get(at)?, self.plans.yards.get(at)?);
        let by_the_rules = planned
            .by_the_rules
            .get_or_init(|| plan::yard_day(&self.book, &self.folded, yard, self.today, self.pace()));
        let Some(wishes) = self.wishes.get(&yard.name) else { return Some(by_the_rules) };
        Some(planned.wished.get_or_init(|| {
            let mut plan = by_the_rules.clone();
            plan::arrange(&mut plan.queue, &wishes.pinned, &wishes.moved);
            plan
        }))
    }

    /// The weeks ahead of a yard, by its place in the book.
    pub fn weeks_at(&self, at: usize) -> Option<&Weeks> {
        let (yard, planned) = (self.book.yards.get(at)?, self.plans.yards.get(at)?);
        let queue = self.yard_plan_at(at)?;
        Some(planned.weeks.get_or_init(|| Weeks::of(&mut self.outlook(yard), queue, self.today, self.pace())))
    }

    /// How the keeper's minutes stand to the plan's.
    pub fn pace(&self) -> Pace {
        *self.plans.pace.get_or_init(|| plan::pace(&self.book, self.folded.as_of))
    }

    /// What was worked out so far for the first screen, where it is of more yards than a start before had, whose number is
    /// given; none while a correction is open, for which the log is another.
    pub(super) fn at_start(&self, before: Option<usize>) -> Option<AtStart> {
        let pace = self.plans.pace.get().copied().filter(|_| !self.corrects())?;
        let yards = || self.plans.yards.iter().filter_map(|planned| planned.by_the_rules.get());
        (Some(yards().count()) > before).then(|| AtStart { pace, yards: yards().cloned().collect() })
    }

    /// Takes what was worked out for the first screen on this day from the same log, and says of how many yards that is.
    pub(super) fn take_at_start(&mut self, start: AtStart) -> usize {
        let found = start.yards.len();
        if self.corrects() {
            return found;
        }
        self.plans.pace = OnceCell::from(start.pace);
        for plan in start.yards {
            let place = self.book.yards.iter().position(|yard| yard.name == plan.yard);
            if let Some(planned) = place.and_then(|at| self.plans.yards.get_mut(at)) {
                planned.by_the_rules = OnceCell::from(plan);
            }
        }
        found
    }

    /// Whether the visit in hand corrects another, without which the log is read meanwhile.
    fn corrects(&self) -> bool {
        self.visit.as_ref().is_some_and(|open| open.visit.replaces.is_some())
    }

    /// The log has changed: the day is planned anew from it.
    pub(super) fn replan(&mut self) {
        self.plans = Plans::of(&self.book);
    }

    /// The order the keeper wants has changed, and nothing else.
    pub(super) fn reorder(&mut self) {
        for planned in &mut self.plans.yards {
            planned.wished = OnceCell::new();
        }
    }
}
