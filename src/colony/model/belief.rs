//! What is believed of a colony: its ensemble on a day, with its log replayed.

use std::sync::Arc;

use chrono::NaiveDate;

use super::colony::Colony;
use super::deed::Deed;
use super::member::{MEMBERS, Member};
use super::record::{Item, Record};
use super::start::start;
use super::weigh::Looked;
use super::year::Year;
use crate::model::HiveState;
use crate::season::Calendar;

/// A colony as it is believed to be on a day.
#[derive(Debug, Clone, PartialEq)]
pub struct Belief {
    /// The day.
    pub on: NaiveDate,
    pub(super) members: Vec<Member>,
    pub(super) year: Arc<Year>,
    /// When each quantity was last looked at.
    pub(super) looked: Looked,
}

impl Belief {
    /// A hive's colony on a day, by its log up to then, where one figure stands so many standard deviations from its middle in every member: what it is worth.
    pub fn with_figure(hive: &HiveState, calendar: &Calendar, on: NaiveDate, figure: &str, z: f64) -> Self {
        let (year, record) = (Arc::new(Year::of(calendar)), Record::of(hive));
        Self::replayed(hive, year, &record, on, Some((figure, z)))
    }

    /// A hive's colony on a day, by its log up to then.
    ///
    /// `held` is a figure that stands at so many standard deviations in every member.
    pub(super) fn replayed(
        hive: &HiveState,
        year: Arc<Year>,
        record: &Record,
        on: NaiveDate,
        held: Option<(&str, f64)>,
    ) -> Self {
        let (from, origin) = start(hive, &year, record, on);
        let members = (0..MEMBERS).map(|at| Member::of(hive.came, at, from, origin, held)).collect();
        let mut belief = Self { on: from, members, year, looked: Looked::at(from) };
        let (before, after): (Vec<_>, Vec<_>) = record.items.iter().partition(|(day, _)| *day < from);
        // Of what was before only what still stands counts: the boxes, the queen, a treatment that is in.
        for (day, item) in before {
            if let Item::Deed(
                deed @ (Deed::Room { .. } | Deed::Queen(_) | Deed::Treat(..) | Deed::EndTreatment(_)),
            ) = item
            {
                belief.take(&deed, day);
            }
        }
        belief.carried(&after, on)
    }

    /// The same colony on a later day, with what its log says of the days between.
    pub(super) fn carried(mut self, log: &[(NaiveDate, Item)], on: NaiveDate) -> Self {
        let mut items = log.iter().filter(|(day, _)| *day <= on).peekable();
        loop {
            while let Some((_, item)) = items.next_if(|(day, _)| *day <= self.on) {
                self.revive();
                match item {
                    Item::Look(look) => self.weigh(look),
                    Item::Deed(deed) => self.take(deed, self.on),
                }
            }
            match self.on.succ_opt() {
                Some(next) if next <= on => self.day(next),
                _ => return self,
            }
        }
    }

    /// The same colony on a later day, left alone until then.
    #[must_use]
    pub fn left_until(&self, on: NaiveDate) -> Self {
        self.clone().carried(&[], on)
    }

    /// Chance, 0 to 1, to come through the winter, by what is known on its day.
    pub fn comes_through(&self) -> f64 {
        self.members.iter().map(|member| member.fall.chance()).sum::<f64>() / self.members.len().max(1) as f64
    }

    pub(super) fn day(&mut self, on: NaiveDate) {
        self.on = on;
        for member in &mut self.members {
            member.day(on, &self.year);
        }
    }

    /// Someone was at the hive and it lives: members that died are begun again as the living are.
    fn revive(&mut self) {
        let living: Vec<Colony> = self.members.iter().filter(|m| m.lives()).map(|m| m.colony).collect();
        let fresh = living.len() < self.members.len() / 4;
        for (at, member) in self.members.iter_mut().enumerate().filter(|(_, m)| !m.lives()) {
            let like = living.get(at % living.len().max(1)).filter(|_| !fresh);
            member.begin_again(like);
        }
    }

    /// Takes in what is done on a day.
    fn take(&mut self, deed: &Deed, on: NaiveDate) {
        for member in &mut self.members {
            member.take(deed, on);
        }
    }

    /// Takes in what is done on its day; on the first day of a run what was to be done before it, too.
    pub(super) fn take_due(&mut self, deeds: &[(NaiveDate, Deed)], is_first: bool) {
        for (on, deed) in deeds {
            if *on == self.on || (is_first && *on < self.on) {
                self.take(deed, self.on);
            }
        }
    }

    /// Its colonies.
    pub fn colonies(&self) -> impl Iterator<Item = &Colony> {
        self.members.iter().map(|member| &member.colony)
    }
}
