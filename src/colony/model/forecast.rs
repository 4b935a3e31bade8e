//! What lies ahead of a colony, day by day, as ranges.
//!
//! Days are worked out as they are asked for: most questions are of the next weeks, few of the spring.

use std::cell::RefCell;

use chrono::NaiveDate;
use statrs::distribution::{ContinuousCDF, Normal};

use super::belief::Belief;
use super::deed::Deed;
use super::figures::{DRIFT, UNEVEN, drift};
use super::member::{MEMBERS, Member};
use super::weigh::mean_variance;
use crate::colony::spread::Spread;

/// A positive quantity over the members: mean and variance of its logarithm.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Marks {
    mean: f64,
    variance: f64,
}

impl Marks {
    fn of(values: impl Iterator<Item = f64>, drift: f64) -> Self {
        // The logarithms once, for they are gone through twice.
        let mut logs = [0.0; MEMBERS];
        let filled = logs.iter_mut().zip(values).map(|(log, value)| *log = value.max(1e-3).ln()).count();
        let (mean, variance) = mean_variance(logs.iter().take(filled).copied());
        Self { mean, variance: variance + drift }
    }

    fn spread(self) -> Spread {
        Spread::log_normal(self.mean.exp(), self.variance.sqrt())
    }

    fn chance_over(self, limit: f64) -> f64 {
        if limit <= 0.0 {
            return 1.0;
        }
        let sd = self.variance.sqrt().max(1e-6);
        1.0 - Normal::standard().cdf((limit.ln() - self.mean) / sd)
    }
}

/// One day ahead.
#[derive(Debug, Clone, Copy, PartialEq)]
struct DayMarks {
    on: NaiveDate,
    bees: Marks,
    brood: Marks,
    mites: Marks,
    /// Food, kg, and what stands beside nothing.
    stores: Marks,
    /// Bees, brood and stores, kg, alike.
    inside: Marks,
    /// Share of members whose food ran out by then.
    hungry: f64,
    /// Share that has not swarmed.
    unswarmed: f64,
    /// Share whose queen lays by then.
    laying: f64,
    /// Chance to come through the winter, by what is known on the day.
    winter: f64,
}

/// What lies ahead of a colony.
#[derive(Debug, Clone)]
pub struct Forecast {
    first: NaiveDate,
    until: NaiveDate,
    tare: f64,
    run: RefCell<Run>,
}

/// The days so far, and the colony on the last of them.
#[derive(Debug, Clone)]
struct Run {
    days: Vec<DayMarks>,
    ahead: Belief,
    deeds: Vec<(NaiveDate, Deed)>,
    /// Members whose food ran out.
    out: Vec<bool>,
}

impl Run {
    /// Goes on to a day's place in the row.
    fn reach(&mut self, at: usize, until: NaiveDate) -> Option<DayMarks> {
        while self.days.len() <= at {
            if !self.days.is_empty() {
                let next = self.ahead.on.succ_opt().filter(|next| *next <= until)?;
                self.ahead.day(next);
            }
            self.ahead.take_due(&self.deeds, self.days.is_empty());
            self.days.push(day_marks(&self.ahead, &mut self.out));
        }
        self.days.get(at).copied()
    }
}

/// A day that comes sooner or later: the first on which one in twenty, one in four, half and three in four are there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WhenMarks {
    /// 1 in 20.
    pub earliest: NaiveDate,
    /// 1 in 4; none where fewer come to it.
    pub early: Option<NaiveDate>,
    /// Half.
    pub middle: Option<NaiveDate>,
    /// 3 in 4.
    pub late: Option<NaiveDate>,
    /// 19 in 20.
    pub latest: Option<NaiveDate>,
}

/// Food under which a colony is out of it, kg.
const OUT: f64 = 0.3;

/// Added to food before its logarithm is taken, kg: a hive may have none.
const BESIDE_NOTHING: f64 = 3.0;

impl Forecast {
    /// The days from a belief's to another, with what is done on the way.
    pub fn of(belief: &Belief, until: NaiveDate, deeds: &[(NaiveDate, Deed)]) -> Self {
        let out = vec![false; belief.members.len()];
        let run = Run { days: Vec::new(), ahead: belief.clone(), deeds: deeds.to_vec(), out };
        Self { first: belief.on, until: until.max(belief.on), tare: belief.tare(), run: RefCell::new(run) }
    }

    /// Whether it reaches a day.
    pub(super) fn reaches(&self, on: NaiveDate) -> bool {
        on <= self.until
    }

    fn day(&self, on: NaiveDate) -> Option<DayMarks> {
        let at = usize::try_from((on - self.first).num_days().max(0)).ok()?;
        self.run.borrow_mut().reach(at, self.until)
    }

    /// Mites a hundred bees on a day.
    pub fn mites(&self, on: NaiveDate) -> Option<Spread> {
        Some(self.day(on)?.mites.spread().at_most(100.0))
    }

    /// What a jar of so many bees will show on a day, in mites a hundred bees.
    pub fn jar(&self, on: NaiveDate, bees: u16) -> Option<Spread> {
        let Marks { mean, variance } = self.day(on)?.mites;
        let mites = mean.exp() / 100.0 * f64::from(bees);
        Some(Marks { mean, variance: variance + 1.0 / (mites + 0.5) + UNEVEN }.spread().at_most(100.0))
    }

    /// Chance, 0 to 1, that mites a hundred bees are over a limit on a day.
    pub fn chance_over(&self, on: NaiveDate, limit: f64) -> Option<f64> {
        Some(self.day(on)?.mites.chance_over(limit))
    }

    /// Deep frames of bees on a day.
    pub fn bees(&self, on: NaiveDate) -> Option<Spread> {
        Some(self.day(on)?.bees.spread())
    }

    /// Deep frames of brood on a day.
    pub fn brood(&self, on: NaiveDate) -> Option<Spread> {
        Some(self.day(on)?.brood.spread())
    }

    /// Honey and sugar on a day, kg.
    pub fn stores(&self, on: NaiveDate) -> Option<Spread> {
        Some(self.day(on)?.stores.spread().moved(-BESIDE_NOTHING))
    }

    /// The whole hive on the scale on a day, kg, with the boxes it has now.
    pub fn weight(&self, on: NaiveDate) -> Option<Spread> {
        Some(self.day(on)?.inside.spread().moved(self.tare - BESIDE_NOTHING))
    }

    /// Chance that it swarms from the first day to another.
    pub fn swarms_by(&self, on: NaiveDate) -> Option<f64> {
        let now = self.day(self.first)?.unswarmed;
        (now > 0.0).then_some(())?;
        Some((1.0 - self.day(on)?.unswarmed / now).clamp(0.0, 1.0))
    }

    /// When so many deep frames are covered with bees.
    pub fn full_on(&self, frames: f64) -> Option<WhenMarks> {
        self.when(|day| day.bees.chance_over(frames))
    }

    /// When its food runs out.
    pub fn stores_end(&self) -> Option<WhenMarks> {
        self.when(|day| day.hungry)
    }

    /// When mites pass a limit, in mites a hundred bees.
    pub fn passes(&self, limit: f64) -> Option<WhenMarks> {
        self.when(|day| day.mites.chance_over(limit))
    }

    /// When the first eggs are there.
    pub fn first_eggs(&self) -> Option<WhenMarks> {
        self.when(|day| day.laying)
    }

    /// Chance, 0 to 1, to come through the winter, as far as the last day lies.
    pub fn comes_through(&self) -> Option<f64> {
        Some(self.day(self.until)?.winter)
    }

    /// The first day, up to another, on which so large a share of such colonies covers so many deep frames.
    pub fn full_by(&self, frames: f64, share: f64, by: NaiveDate) -> Option<NaiveDate> {
        self.first(|day| day.bees.chance_over(frames), share, by)
    }

    /// The first day, up to another, on which so large a share of such colonies has no food.
    pub fn hungry_by(&self, share: f64, by: NaiveDate) -> Option<NaiveDate> {
        self.first(|day| day.hungry, share, by)
    }

    fn first(&self, chance: impl Fn(&DayMarks) -> f64, share: f64, by: NaiveDate) -> Option<NaiveDate> {
        let days = self.first.iter_days().take_while(|on| *on <= by.min(self.until));
        days.map_while(|on| self.day(on)).find(|day| chance(day) >= share).map(|day| day.on)
    }

    fn when(&self, chance: impl Fn(&DayMarks) -> f64) -> Option<WhenMarks> {
        let first = |share: f64| self.first(&chance, share, self.until);
        Some(WhenMarks {
            earliest: first(0.05)?,
            early: first(0.25),
            middle: first(0.5),
            late: first(0.75),
            latest: first(0.95),
        })
    }
}

fn day_marks(belief: &Belief, out: &mut [bool]) -> DayMarks {
    let (on, members, looked) = (belief.on, &belief.members, &belief.looked);
    let drift = |last: NaiveDate, a_day: f64| drift(a_day, (on - last).num_days());
    for (member, out) in members.iter().zip(out.iter_mut()) {
        *out |= member.colony.food() < OUT;
    }
    let n = members.len().max(1) as f64;
    let share = |is: &dyn Fn(&Member) -> f64| members.iter().map(is).sum::<f64>() / n;
    let of = |of: fn(&Member) -> f64, drift| Marks::of(members.iter().map(of), drift);
    let stores_drift = drift(looked.stores, DRIFT.stores);
    DayMarks {
        on,
        bees: of(|m| m.colony.frames_of_bees(), drift(looked.bees, DRIFT.bees)),
        brood: of(|m| m.colony.frames_of_brood(), drift(looked.brood, DRIFT.brood)),
        mites: of(|m| m.colony.mite_percent(), drift(looked.mites, DRIFT.mites)),
        stores: of(|m| m.colony.food() + BESIDE_NOTHING, stores_drift),
        inside: of(|m| m.colony.weighs() + BESIDE_NOTHING, stores_drift),
        hungry: out.iter().filter(|out| **out).count() as f64 / n,
        unswarmed: share(&|m| m.unswarmed),
        laying: share(&|m| f64::from(u8::from(m.lays()))),
        winter: belief.comes_through(),
    }
}
