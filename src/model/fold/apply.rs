//! One entry taken into a hive's state. Total: whatever the entry says, a state comes out.

use chrono::NaiveDate;

use super::state::{Answered, Cleared, Course, Fed, FormerColony, HiveState, MiteCount, OpenPromise};
use crate::model::action::{Authority, Level, Loss, Mix, Treatment, queen_of_origin};
use crate::model::answerable::Frames;
use crate::model::finding::{BottomBox, Disease, Findings, LastSeen, Seen};
use crate::model::hive::{FeederKind, HiveBox, Origin, Queen, QueenStatus, Role};
use crate::model::units::{Mass, Volume};
use crate::model::visit::{Answer, Entry, Reply};

/// Days after which a promise nobody kept is dropped: the season has moved on.
const STALE: i64 = 60;
/// Days after which eggs at a supersedure are taken to be the young queen's: a cell of day 9 and three weeks to lay.
const SUPERSEDED: i64 = 24;

impl HiveState {
    /// Takes in one entry made on a day. Entries must come in order of their days.
    pub fn apply(&mut self, entry: &Entry, on: NaiveDate) {
        let blank = entry.is_blank();
        let keeps = |a: &Answer| a.keeps_promises && matches!(a.reply, Reply::Done | Reply::NotNeeded);
        let seen_to = entry.answers.iter().any(keeps);
        self.promises.retain(|p| p.on > on || (!seen_to && (on - p.on).num_days() <= STALE));
        self.findings(&entry.findings, on);
        for action in &entry.actions {
            action.change(self, on);
            self.supers_since = self.supers_since.or(Some(on)).filter(|_| self.super_boxes() > 0);
        }
        for answer in &entry.answers {
            self.answers.insert(answer.rule.clone(), Answered { on, reply: answer.reply.clone() });
            if let Reply::PutOff { until, .. } = answer.reply {
                // Put off to a day that has come is no putting off.
                if until <= on {
                    self.answers.remove(&answer.rule);
                }
            }
        }
        for promise in &entry.promises {
            self.promises.push(OpenPromise { made: on, on: promise.on, what: promise.what.clone() });
        }
        self.promises.sort_by(|a, b| (a.on, &a.what).cmp(&(b.on, &b.what)));
        if !blank {
            self.last_visit = Some(on);
            if self.series.visits.last() != Some(&on) {
                self.series.visits.push(on);
            }
        }
        self.note_changes(on);
    }

    /// Notes queen and boxes where they are not as they were noted last.
    fn note_changes(&mut self, on: NaiveDate) {
        if self.series.queens.last().map(|(_, status)| *status) != Some(self.queen.status) {
            put(&mut self.series.queens, self.queen.since.unwrap_or(on), self.queen.status);
        }
        if self.series.boxes.last().map(|(_, boxes)| boxes) != Some(&self.boxes) {
            put(&mut self.series.boxes, on, self.boxes.clone());
        }
    }

    fn findings(&mut self, found: &Findings, on: NaiveDate) {
        self.seen.absorb(found, on);
        if found.opened() {
            self.last_opened = Some(on);
        }
        if let Some(Frames(bees)) = found.bees {
            put(&mut self.series.bees, on, bees);
        }
        if let Some(Frames(brood)) = found.brood {
            put(&mut self.series.brood, on, brood);
        }
        if let Some(weight) = found.weight {
            put(&mut self.series.weight, on, weight);
        }
        if let Some(Frames(honey)) = found.honey {
            put(&mut self.series.honey, on, honey);
        }
        if let Some(heft) = found.heft {
            put(&mut self.series.heft, on, heft);
        }
        if let Some(eggs) = found.eggs {
            put(&mut self.series.eggs, on, eggs);
        }
        if let Some(mites) = found.mites {
            self.washes.retain(|w| w.on != on);
            let bees = found.wash_bees.map_or(300, |b| b.0);
            self.washes.push(MiteCount { on, mites: mites.0, bees });
        }
        match found.disease {
            Some(kind) if kind.is_brood_disease() => self.disease_suspected = Some((on, kind)),
            Some(_) | None => {}
        }
        let by_now = |days: i64| self.queen.since.is_none_or(|since| (on - since).num_days() >= days);
        // The old one may lay on beside the cells for weeks.
        let replaced = self.queen.status == QueenStatus::Superseded && by_now(SUPERSEDED);
        if found.eggs == Some(true)
            && (replaced
                || matches!(
                    self.queen.status,
                    QueenStatus::Caged
                        | QueenStatus::Cell
                        | QueenStatus::RipeCell
                        | QueenStatus::Virgin
                        | QueenStatus::Missing
                        | QueenStatus::Unknown
                ))
        {
            self.queen.status = QueenStatus::Laying;
            self.queen.since = Some(on);
        }
        if found.dead == Some(true) && self.lost.is_none() {
            self.lost = Some((on, Loss::Unknown));
        }
        if let Some(Frames(drawn)) = found.drawn {
            spread_drawn(&mut self.boxes, drawn);
        }
    }

    pub(in crate::model) fn add_box(&mut self, added: HiveBox, level: Level, on: NaiveDate) {
        let at = match level {
            Level::Bottom => 0,
            Level::Top => self.boxes.len(),
            Level::AboveNest => self.boxes.iter().rposition(|b| b.role == Role::Nest).map_or(0, |at| at + 1),
        };
        let role = added.role;
        self.forget_weight();
        self.boxes.insert(at.min(self.boxes.len()), added);
        self.box_added = Some(on);
        if role == Role::Super {
            // The share filled was said of the box that was on top until now.
            self.seen.super_full = None;
        }
    }

    pub(in crate::model) fn set_boxes(&mut self, boxes: &[HiveBox], on: NaiveDate) {
        self.boxes = boxes.to_vec();
        self.forget_weight();
        self.box_added = Some(on);
        self.seen.bottom_box = None;
        self.seen.super_full = None;
    }

    pub(in crate::model) fn reverse_boxes(&mut self, on: NaiveDate) {
        let is_nest = |(_, b): &(usize, &HiveBox)| b.role == Role::Nest;
        let nests: Vec<usize> = self.boxes.iter().enumerate().filter(is_nest).map(|(at, _)| at).collect();
        if let [lowest, next, ..] = nests[..] {
            self.boxes.swap(lowest, next);
            self.seen.bottom_box = Some(Seen { on, value: BottomBox::Brood });
            self.nest_changed = Some(on);
        } else {
            self.oddities.push(format!("{on}: boxes reversed, but there is one nest box"));
        }
    }

    pub(in crate::model) fn feed_syrup(&mut self, mix: Mix, volume: Volume, on: NaiveDate) {
        self.fed.push(Fed::Syrup { on, mix, volume });
        self.seen.feeder = None;
    }

    pub(in crate::model) fn feed_sugar(&mut self, mass: Mass, on: NaiveDate) {
        self.fed.push(Fed::Sugar { on, mass });
    }

    /// Honey given is in the boxes: a weight or a lift of before says nothing of them.
    pub(in crate::model) fn give_honey(&mut self, frames: u8, on: NaiveDate) {
        self.fed.push(Fed::Honey { on, frames });
        self.forget_weight();
    }

    pub(in crate::model) fn set_feeder(&mut self, feeder: Option<FeederKind>) {
        self.feeder = feeder;
        self.seen.feeder = None;
    }

    pub(in crate::model) fn swap_frames(&mut self, on: NaiveDate) {
        self.swapped = Some(on);
        self.seen.backfill = None;
    }

    pub(in crate::model) fn begin_treatment(
        &mut self,
        treatment: Treatment,
        until: NaiveDate,
        on: NaiveDate,
    ) {
        self.courses.push(Course { treatment, began: on, until, ended: None });
    }

    pub(in crate::model) fn end_treatment(&mut self, treatment: Treatment, on: NaiveDate) {
        match self.courses.iter_mut().rev().find(|c| c.treatment == treatment && c.ended.is_none()) {
            Some(course) => course.ended = Some(on),
            None => self.oddities.push(format!("{on}: {} ended, but none was begun", treatment.word())),
        }
    }

    pub(in crate::model) fn set_queen(&mut self, queen: &Queen, on: NaiveDate) {
        self.queen = queen.clone();
        self.queen.since = self.queen.since.or(Some(on));
        self.forget_cells();
    }

    pub(in crate::model) fn take_honey(&mut self, frames: u8, on: NaiveDate) {
        self.honey_taken = Some(on);
        self.forget_weight();
        self.harvest.push((on, frames));
        self.seen.capped = None;
        self.seen.super_full = None;
    }

    pub(in crate::model) fn clear_disease(&mut self, by: Option<Authority>, on: NaiveDate) {
        if let Some(suspected) = self.disease_suspected.take() {
            self.cleared.push(Cleared { suspected, on, by });
        }
        self.inspector_called = None;
        self.seen.disease = None;
    }

    pub(in crate::model) fn remove_box(&mut self, role: Role, level: Level, on: NaiveDate) {
        let at = match level {
            Level::Bottom => self.boxes.iter().position(|b| b.role == role),
            Level::Top | Level::AboveNest => self.boxes.iter().rposition(|b| b.role == role),
        };
        match at {
            Some(_) if role == Role::Nest && self.nest_boxes() == 1 => {
                self.oddities.push(format!("{on}: the only nest box taken off"));
            }
            Some(at) => {
                self.boxes.remove(at);
                self.forget_weight();
                if role == Role::Nest {
                    self.nest_changed = Some(on);
                    self.seen.bottom_box = Some(Seen { on, value: BottomBox::Brood });
                } else {
                    self.seen.super_full = None;
                }
            }
            None => self.oddities.push(format!("{on}: a {} taken off, but there is none", role.word())),
        }
    }

    /// A weight or a lift is of the boxes of its day: it says nothing of another stack.
    fn forget_weight(&mut self) {
        self.seen.weight = None;
        self.seen.heft = None;
    }

    /// The colony is gone. One lost to disease is suspected until it is cleared, whoever stands here next.
    pub(in crate::model) fn lose(&mut self, loss: Loss, on: NaiveDate) {
        self.lost = Some((on, loss));
        if loss == Loss::Disease && self.disease_suspected.is_none() {
            let signs = self.seen.disease.map(|d| d.value).filter(|d| d.is_brood_disease());
            self.disease_suspected = Some((on, signs.unwrap_or(Disease::Sunken)));
        }
    }

    pub(in crate::model) fn forget_cells(&mut self) {
        self.seen.cells = None;
        self.seen.cell_kind = None;
    }

    /// Part of it leaves with a split.
    pub(in crate::model) fn part(&mut self, on: NaiveDate) {
        self.series.parted.push(on);
        self.forget_cells();
    }

    /// A new colony on the stand: what was known of the old one does not hold for it, but for a suspected disease,
    /// which stays in the gear.
    pub(in crate::model) fn restock(&mut self, origin: Origin, on: NaiveDate) {
        let courses = std::mem::take(&mut self.courses);
        self.former.push(FormerColony { lost: self.lost.take(), courses });
        self.origin = origin;
        self.came = on;
        self.seen = LastSeen::default();
        self.washes.clear();
        self.fed.clear();
        self.eggs_given = None;
        self.drone_comb = None;
        self.answers.clear();
        self.series = super::state::Series::default();
        self.queen = Queen::of_status(queen_of_origin(origin), Some(on));
    }
}

/// Puts a reading into a series; the last one of a day stands.
fn put<T>(series: &mut Vec<(NaiveDate, T)>, on: NaiveDate, value: T) {
    series.retain(|(day, _)| *day != on);
    series.push((on, value));
}

/// A count of drawn nest frames, laid into the nest boxes from below.
fn spread_drawn(boxes: &mut [HiveBox], drawn: f64) {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a finding of 0 to 60, checked"
    )]
    let mut left = drawn.clamp(0.0, 255.0) as u8;
    for each in boxes.iter_mut().filter(|b| b.role == Role::Nest) {
        let here = left.min(each.frames);
        each.holds.drawn = Some(here);
        left -= here;
    }
}
