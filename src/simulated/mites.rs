//! Mites of a simulated colony: on the bees, and under the caps by the day they went in.

use super::bees::Bees;
use super::figures as f;
use crate::model::Treatment;

const WORKER_CAPPED: usize = f::WORKER_DAYS - f::WORKER_SEALED;
const DRONE_CAPPED: usize = f::DRONE_DAYS - f::DRONE_SEALED;

/// Mites.
#[derive(Debug, Clone)]
pub(super) struct Mites {
    pub(super) on_bees: f64,
    workers: [f64; WORKER_CAPPED],
    drones: [f64; DRONE_CAPPED],
}

impl Mites {
    pub(super) fn of(on_bees: f64) -> Self {
        Self { on_bees, workers: [0.0; WORKER_CAPPED], drones: [0.0; DRONE_CAPPED] }
    }

    /// With so many under the caps of worker brood, where there is any.
    pub(super) fn with_capped(on_bees: f64, capped: f64, has_brood: bool) -> Self {
        let a_day = if has_brood { capped / WORKER_CAPPED as f64 } else { 0.0 };
        Self { workers: [a_day; WORKER_CAPPED], ..Self::of(on_bees) }
    }

    /// What it has more than another.
    pub(super) fn less(&self, other: &Self) -> Self {
        let mut rest = self.clone();
        rest.on_bees -= other.on_bees;
        let take = |from: &mut [f64], other: &[f64]| from.iter_mut().zip(other).for_each(|(a, b)| *a -= b);
        take(&mut rest.workers, &other.workers);
        take(&mut rest.drones, &other.drones);
        rest
    }

    pub(super) fn all(&self) -> f64 {
        self.on_bees + self.workers.iter().sum::<f64>() + self.drones.iter().sum::<f64>()
    }

    /// A day; gives the share of the workers hatched that are sick of the virus.
    pub(super) fn day(&mut self, bees: &Bees, hatched: f64) -> f64 {
        let grams = (bees.adults() * 0.1).max(1.0);
        let sealing = |brood: &[f64], at: usize| brood.get(at).copied().unwrap_or(0.0);
        let (worker, drone) =
            (sealing(&bees.workers, f::WORKER_SEALED), sealing(&bees.drones, f::DRONE_SEALED));
        let (to_workers, to_drones) = (f::INVASION.0 * worker / grams, f::INVASION.1 * drone / grams);
        let going = self.on_bees * (1.0 - (-(to_workers + to_drones)).exp());
        let share = if to_workers + to_drones > 0.0 { to_workers / (to_workers + to_drones) } else { 0.0 };
        let out = |cells: &mut [f64], into: f64| {
            let mothers = cells.last().copied().unwrap_or(0.0);
            cells.rotate_right(1);
            if let Some(first) = cells.first_mut() {
                *first = into;
            }
            mothers
        };
        let mothers = out(&mut self.workers, going * share);
        let drone_mothers = out(&mut self.drones, going * (1.0 - share));
        let death = if worker > 0.0 { f::MITE_DEATH.0 } else { f::MITE_DEATH.1 };
        // Where several mothers share a cell each has fewer daughters (Martin 1998, roughly).
        let load = if hatched > 1.0 { mothers / hatched } else { 0.0 };
        let crowd = (1.0 - 0.12 * load).max(0.5);
        let back = mothers * (1.0 + f::DAUGHTERS.0 * crowd) * (1.0 - f::FALL.0)
            + drone_mothers * (1.0 + f::DAUGHTERS.1 * crowd) * (1.0 - f::FALL.1);
        self.on_bees = ((self.on_bees - going) * (1.0 - death) + back).max(0.0);
        let infested = 1.0 - (-load).exp();
        (infested * f::VIRUS.0 * (1.0 - f::VIRUS.1)).clamp(0.0, 0.95)
    }

    /// Kills shares of those on the bees and of those under the caps.
    pub(super) fn kill(&mut self, on_bees: f64, capped: f64) {
        self.on_bees *= 1.0 - on_bees.clamp(0.0, 1.0);
        for cells in self.workers.iter_mut().chain(self.drones.iter_mut()) {
            *cells *= 1.0 - capped.clamp(0.0, 1.0);
        }
    }

    /// Takes a share away, and gives it.
    pub(super) fn part(&mut self, bees: f64, brood: f64) -> Self {
        let mut part = self.clone();
        part.on_bees *= bees;
        self.on_bees *= 1.0 - bees;
        let split = |mine: &mut [f64], theirs: &mut [f64]| {
            for (a, b) in mine.iter_mut().zip(theirs) {
                *b = *a * brood;
                *a -= *b;
            }
        };
        split(&mut self.workers, &mut part.workers);
        split(&mut self.drones, &mut part.drones);
        part
    }

    pub(super) fn join(&mut self, other: &Self) {
        self.on_bees += other.on_bees;
        self.workers.iter_mut().zip(&other.workers).for_each(|(a, b)| *a += b);
        self.drones.iter_mut().zip(&other.drones).for_each(|(a, b)| *a += b);
    }
}

/// A course that is in.
#[derive(Debug, Clone, Copy)]
pub(super) struct Course {
    pub(super) treatment: Treatment,
    /// How well this one works, 0 to 1 of all mites over its time.
    pub(super) works: f64,
    pub(super) days: u32,
}

impl Course {
    /// Days it works at most.
    fn lasts(self) -> u32 {
        match self.treatment {
            Treatment::FormicStrips => 14,
            Treatment::ThymolGel => 28,
            Treatment::OxalicDribble | Treatment::OxalicVapour => 1,
            Treatment::HopAcidStrips => 10,
            Treatment::AmitrazStrips
            | Treatment::FluvalinateStrips
            | Treatment::CoumaphosStrips
            | Treatment::OxalicStrips
            | Treatment::ThymolWafers
            | Treatment::Own => 42,
        }
    }

    /// A day of it. Formic acid and thymol reach what their share says of all mites, formic under the caps; the others kill
    /// those on the bees.
    pub(super) fn day(&mut self, mites: &mut Mites, high: f64) {
        self.days += 1;
        if self.days > self.lasts() {
            return;
        }
        let over = |share: f64, days: f64| 1.0 - (1.0 - share.clamp(0.0, 0.999)).powf(1.0 / days);
        let warmth = |from: f64, full: f64| ((high - from) / (full - from)).clamp(0.15, 1.0);
        match self.treatment {
            Treatment::FormicStrips => {
                let share = over(self.works * warmth(8.0, 17.0), 14.0);
                mites.kill(share, share);
            }
            Treatment::ThymolGel | Treatment::ThymolWafers => {
                let share = over(self.works * warmth(10.0, 18.0), 28.0);
                mites.kill(share * 2.2, share * 0.3);
            }
            Treatment::OxalicDribble | Treatment::OxalicVapour => mites.kill(self.works, 0.0),
            Treatment::AmitrazStrips | Treatment::FluvalinateStrips | Treatment::CoumaphosStrips => {
                mites.kill(0.115 * self.works, 0.0);
            }
            Treatment::HopAcidStrips => mites.kill(over(self.works, 10.0) * 2.0, 0.0),
            Treatment::OxalicStrips | Treatment::Own => mites.kill(0.06 * self.works, 0.0),
        }
    }
}
