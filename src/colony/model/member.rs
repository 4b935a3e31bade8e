//! One member of an ensemble: a colony with its own figures.

use chrono::{Datelike, NaiveDate};
use statrs::distribution::{ContinuousCDF, Normal};

use super::colony::{Colony, Laying};
use super::deed::Deed;
use super::figures::{FIGURES, Figures};
use super::start::begin;
use super::winter::Fall;
use super::year::{Daily, Year};
use crate::model::{Origin, QueenStatus};

/// Members of an ensemble.
pub const MEMBERS: usize = 48;

/// A colony with its own figures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Member {
    /// As it is.
    pub colony: Colony,
    /// Its figures as they are thought of now.
    pub(super) figures: Figures,
    /// As they were drawn.
    drawn: Figures,
    /// Chance that it has not swarmed since it was last looked at.
    pub(super) unswarmed: f64,
    /// Its fall, as far as it has come.
    pub(super) fall: Fall,
    /// Share of winter bees among those hatched yesterday.
    wintering: f64,
    /// Its queen as the log has her, and since when.
    queen: (QueenStatus, NaiveDate),
}

/// First primes, whose roots spread the members evenly over all figures at once (Richtmyer 1951, from memory).
const PRIMES: [u32; 36] = [
    2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71, 73, 79, 83, 89, 97, 101, 103,
    107, 109, 113, 127, 131, 137, 139, 149, 151,
];

/// Days over which what was learned of a colony's figures fades by two thirds: colonies and seasons change (a guess).
const FADES: f64 = 120.0;

/// Bees under which a colony is dead (a guess).
const A_HANDFUL: f64 = 1_000.0;
/// Share of winter bees among those hatched from which the winter's bees are raised: mid-September at 43 N.
const RAISED: f64 = 0.9;
/// Share of her most at which a queen has stopped: late October at 43 N.
const STOPPED: f64 = 0.01;

/// Days until a queen lays, a middle and the spread of its logarithm.
///
/// A ripe cell: 16 days, 10 to 28 (Aurell et al. 2025). The others by the brood clock: a cell of young larvae takes 9 to 12
/// days more, a virgin 6 fewer; a caged queen is let out and lays within 4 to 12.
fn wait(status: QueenStatus) -> (f64, f64) {
    match status {
        QueenStatus::RipeCell => (16.0, 0.31),
        QueenStatus::Cell => (26.0, 0.20),
        QueenStatus::Virgin => (11.0, 0.40),
        _ => (7.0, 0.33),
    }
}

/// Where each member stands in each figure, in standard deviations, moved by the day the colony came: a name may change.
fn stands(came: NaiveDate, member: usize, figure: usize) -> f64 {
    let golden = 0.618_033_988_749_894_8;
    let shift = (f64::from(came.num_days_from_ce()) * golden).fract();
    let prime = PRIMES.get(figure % PRIMES.len()).copied().unwrap_or(2);
    let root = f64::from(prime).sqrt();
    let even = (0.5 + shift * (figure + 1) as f64 + (member + 1) as f64 * root).fract();
    let edge = 0.5 / MEMBERS as f64;
    Normal::standard().inverse_cdf(even.clamp(edge, 1.0 - edge))
}

impl Member {
    /// A hive's member by its number, begun by what its figures say.
    ///
    /// `held` is a figure that stands at so many standard deviations in every member.
    pub(super) fn of(
        came: NaiveDate,
        at: usize,
        on: NaiveDate,
        origin: Option<Origin>,
        held: Option<(&str, f64)>,
    ) -> Self {
        let name = |figure: usize| FIGURES.get(figure).map(|row| row.name);
        let figures = Figures::drawn(|figure| match held {
            Some((held, z)) if name(figure) == Some(held) => z,
            _ => stands(came, at, figure),
        });
        let queen = (QueenStatus::Unknown, on);
        Self {
            colony: begin(origin, &figures),
            figures,
            drawn: figures,
            unswarmed: 1.0,
            fall: Fall::default(),
            wintering: 1.0,
            queen,
        }
    }

    /// A day passes, its usual weather with it.
    pub(super) fn day(&mut self, on: NaiveDate, year: &Year) {
        #[allow(clippy::cast_possible_truncation, reason = "days of a late spring, under 30")]
        let daily = year.day(on, self.figures.late as i64);
        self.colony.day(on, &daily, &self.figures);
        if daily.swarms > 0.0 && self.colony.laying == Laying::Now {
            self.unswarmed *= 1.0 - swarms_in_a_day(&self.colony);
        }
        self.note_fall(&daily);
        let fade = 1.0 / FADES;
        for (now, drawn) in [
            (&mut self.figures.most_eggs, self.drawn.most_eggs),
            (&mut self.figures.summer_life, self.drawn.summer_life),
            (&mut self.figures.daughters, self.drawn.daughters),
            (&mut self.figures.flow, self.drawn.flow),
            (&mut self.figures.eaten, self.drawn.eaten),
        ] {
            *now += (drawn - *now) * fade;
        }
    }

    /// Whether it is more than a handful of bees.
    pub(super) fn lives(&self) -> bool {
        self.colony.adults() > A_HANDFUL
    }

    /// Another colony in its place: one like it that lives, or one of an early spring with its boxes.
    pub(super) fn begin_again(&mut self, like: Option<&Colony>) {
        let fresh = || self.colony.refilled(&begin(None, &self.drawn));
        self.colony = like.copied().unwrap_or_else(fresh);
        self.figures = self.drawn;
        self.fall.starved = false;
    }

    /// Notes of the fall what decides the winter.
    fn note_fall(&mut self, daily: &Daily) {
        if self.wintering < RAISED && daily.winter >= RAISED {
            self.fall = Fall { mites: Some(self.colony.mite_percent()), ..Fall::default() };
        }
        self.wintering = daily.winter;
        if self.fall.mites.is_some() && self.fall.frames.is_none() && daily.laying < STOPPED {
            self.fall.frames = Some(self.colony.frames_of_bees());
            self.fall.queenless = self.colony.laying != Laying::Now;
        }
        self.fall.starved |= self.colony.food() < 0.1;
    }

    /// Whether its queen lays.
    pub(super) fn lays(&self) -> bool {
        self.colony.laying == Laying::Now
    }

    /// Takes in what is done.
    pub(super) fn take(&mut self, deed: &Deed, on: NaiveDate) {
        if let Deed::Queen(status) = deed {
            self.queen = (*status, on);
        } else if *deed == Deed::Dearth {
            self.figures.flow = 0.0;
            self.drawn.flow = 0.0;
        }
        let z = self.figures.wait;
        self.colony.take(deed, on, &self.figures, |status| {
            let (middle, sd) = wait(status);
            middle * (sd * z).exp()
        });
    }

    /// Eggs were seen, or none where someone looked.
    ///
    /// Where none was seen of a queen that is awaited, the days that are left are drawn from what is left of her range. Where
    /// she should lay, every other member takes her for gone.
    pub(super) fn eggs(&mut self, seen: bool, on: NaiveDate, laying_season: bool) {
        let normal = Normal::standard();
        let (status, since) = self.queen;
        let awaited = !matches!(
            status,
            QueenStatus::Laying
                | QueenStatus::Unknown
                | QueenStatus::Superseded
                | QueenStatus::Missing
                | QueenStatus::DroneLayer
        );
        if seen {
            self.colony.laying = Laying::Now;
            self.queen = (QueenStatus::Laying, on);
        } else if awaited {
            let (middle, sd) = wait(status);
            let cdf = |days: f64| normal.cdf((days.max(0.1) / middle).ln() / sd);
            let passed = cdf((on - since).num_days() as f64);
            let place = passed + (1.0 - passed) * normal.cdf(self.figures.wait);
            let days = middle * (sd * normal.inverse_cdf(place.clamp(0.001, 0.999))).exp();
            self.colony.laying = laying_from(since, days, on);
        } else if laying_season && self.figures.sees > 0.0 {
            self.colony.laying = Laying::Never;
        }
    }
}

/// So many days after a day, but not before another.
fn laying_from(since: NaiveDate, days: f64, not_before: NaiveDate) -> Laying {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 400")]
    let days = days.clamp(0.0, 400.0).ceil() as u64;
    let on = since.checked_add_days(chrono::Days::new(days)).unwrap_or(since);
    Laying::From(on.max(not_before.succ_opt().unwrap_or(not_before)))
}

/// Chance to swarm in a day of the season: few while there is room, most within weeks once every frame is covered (a guess).
fn swarms_in_a_day(colony: &Colony) -> f64 {
    if colony.frames_of_bees() < 5.0 {
        return 0.0;
    }
    0.002 + 0.05 / (1.0 + (-(colony.crowding() - 1.0) / 0.08).exp())
}
