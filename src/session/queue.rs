//! The day's queue as the keeper wants it, and what is on the truck.

use super::{Done, Effect, Refusal, Session};
use crate::model::{DraftStep, HiveId, Loaded, Visit, YardId};
use crate::plan::{YardPlan, load};

impl Session {
    /// Ticks an item of a yard's load list, or unticks it; the visit in hand remembers it.
    pub(super) fn tick(&mut self, yard: &YardId, item: &str) -> Done {
        let ticked = &mut self.wishes.entry(yard.clone()).or_default().ticked;
        if ticked.iter().any(|there| there == item) {
            ticked.retain(|there| there != item);
        } else {
            ticked.push(item.to_owned());
        }
        let done = self.wished(yard);
        let truck = self.truck(yard);
        let Some(open) = self.visit.as_mut().filter(|v| v.visit.yard == *yard) else {
            return done;
        };
        open.visit.truck = truck;
        let head = Visit { entries: Vec::new(), ..open.visit.clone() };
        done.with([Effect::Draft(DraftStep::Head(head))])
    }

    /// What is ticked for a yard, with how much of it there is.
    pub(super) fn truck(&self, yard: &YardId) -> Vec<Loaded> {
        let ticked = self.ticked(yard);
        let list = self.load_list(yard);
        list.lines().filter(|line| ticked.contains(&line.item)).map(load::LoadLine::loaded).collect()
    }

    pub(super) fn pin(&mut self, hive: &HiveId) -> Result<Done, Refusal> {
        let yard = self.queued(hive)?.yard.clone();
        let wishes = self.wishes.entry(yard.clone()).or_default();
        if wishes.pinned.contains(hive) {
            wishes.pinned.retain(|h| h != hive);
        } else {
            wishes.pinned.push(hive.clone());
        }
        self.reorder();
        Ok(self.wished(&yard))
    }

    pub(super) fn move_in_queue(&mut self, hive: &HiveId, later: bool) -> Result<Done, Refusal> {
        let plan = self.queued(hive)?;
        let yard = plan.yard.clone();
        let mut order: Vec<HiveId> = plan.queue.iter().map(|s| s.hive.clone()).collect();
        let from = order.iter().position(|h| h == hive).unwrap_or(0);
        let to = if later { (from + 1).min(order.len() - 1) } else { from.saturating_sub(1) };
        let moved = order.remove(from);
        order.insert(to, moved);
        let wishes = self.wishes.entry(yard.clone()).or_default();
        // The pins are part of the order now.
        wishes.pinned.clear();
        wishes.moved.clone_from(&order);
        self.reorder();
        let plan = self.yard_plan(&yard);
        let is_as_wanted = plan.is_some_and(|p| p.queue.iter().map(|s| &s.hive).eq(&order));
        let done = self.wished(&yard);
        Ok(if is_as_wanted {
            done
        } else {
            let words = "A hive with suspected disease stays last: hands and tools carry it to the next.";
            done.and_then(Done::saying(words))
        })
    }

    /// The yard whose queue a hive stands in, where its order may still be changed.
    fn queued(&self, hive: &HiveId) -> Result<&YardPlan, Refusal> {
        let yard = self.book.hive(hive).map(|(yard, _)| &yard.name);
        let plan = yard.and_then(|yard| self.yard_plan(yard));
        let Some(plan) = plan.filter(|plan| plan.queue.iter().any(|s| s.hive == *hive)) else {
            return Err(Refusal::NotHere("Only hives that are due stand in the queue.".to_owned()));
        };
        if self.visit.is_some() {
            return Err(Refusal::NotHere("The visit is under way: go to the hive you want next.".to_owned()));
        }
        Ok(plan)
    }
}
