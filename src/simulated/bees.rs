//! Bees and brood of a simulated colony.

use super::figures as f;
use super::weather::Weather;

/// Adult bees and brood by age.
#[derive(Debug, Clone)]
pub(super) struct Bees {
    /// Summer bees, sound and sick.
    pub(super) summer: [f64; 2],
    /// Winter bees, sound and sick.
    pub(super) winter: [f64; 2],
    /// Worker brood by its age in days.
    pub(super) workers: [f64; f::WORKER_DAYS],
    /// Drone brood by its age in days.
    pub(super) drones: [f64; f::DRONE_DAYS],
}

impl Bees {
    pub(super) fn of(summer: f64, winter: f64) -> Self {
        Self {
            summer: [summer, 0.0],
            winter: [winter, 0.0],
            workers: [0.0; f::WORKER_DAYS],
            drones: [0.0; f::DRONE_DAYS],
        }
    }

    pub(super) fn adults(&self) -> f64 {
        self.summer.iter().chain(&self.winter).sum()
    }

    pub(super) fn open(&self) -> f64 {
        self.workers.iter().take(f::WORKER_SEALED).sum()
    }

    pub(super) fn eggs(&self) -> f64 {
        self.workers.iter().take(3).sum()
    }

    pub(super) fn sealed(&self) -> f64 {
        self.workers.iter().skip(f::WORKER_SEALED).sum()
    }

    pub(super) fn brood(&self) -> f64 {
        self.open() + self.sealed()
    }

    /// Frames of brood.
    pub(super) fn brood_frames(&self) -> f64 {
        self.brood() / (f::CELLS * f::CELLS_FILLED)
    }

    /// Takes a share of bees and brood away, and gives it.
    pub(super) fn part(&mut self, bees: f64, brood: f64) -> Self {
        let take = |all: &mut f64, share: f64| {
            let part = *all * share;
            *all -= part;
            part
        };
        Self {
            summer: std::array::from_fn(|i| self.summer.get_mut(i).map_or(0.0, |n| take(n, bees))),
            winter: std::array::from_fn(|i| self.winter.get_mut(i).map_or(0.0, |n| take(n, bees))),
            workers: std::array::from_fn(|i| self.workers.get_mut(i).map_or(0.0, |n| take(n, brood))),
            drones: std::array::from_fn(|i| self.drones.get_mut(i).map_or(0.0, |n| take(n, brood))),
        }
    }

    /// What it has more than another.
    pub(super) fn less(&self, other: &Self) -> Self {
        let mut rest = self.clone();
        let take = |from: &mut [f64], other: &[f64]| from.iter_mut().zip(other).for_each(|(a, b)| *a -= b);
        take(&mut rest.summer, &other.summer);
        take(&mut rest.winter, &other.winter);
        take(&mut rest.workers, &other.workers);
        take(&mut rest.drones, &other.drones);
        rest
    }

    /// Takes another's bees and brood in.
    pub(super) fn join(&mut self, other: &Self) {
        let add = |to: &mut [f64], from: &[f64]| to.iter_mut().zip(from).for_each(|(a, b)| *a += b);
        add(&mut self.summer, &other.summer);
        add(&mut self.winter, &other.winter);
        add(&mut self.workers, &other.workers);
        add(&mut self.drones, &other.drones);
    }

    /// A day: the dead, the brood a day older, the eggs laid, the young hatched, of whom a share is sick.
    pub(super) fn day(&mut self, weather: &Weather, eggs: f64, sick: f64, mites_a_bee: f64) {
        let t = weather.t();
        let summer = f::SUMMER_DEATH.0 + f::SUMMER_DEATH.1 * weather.flight();
        // Winter bees that fly in spring wear out like the others.
        let spring = if (60.0..160.0).contains(&t) { 0.022 * weather.flight() } else { 0.0 };
        let winter = f::WINTER_DEATH + spring;
        let deaths = [(&mut self.summer, summer), (&mut self.winter, winter)];
        for (bees, death) in deaths {
            let [sound, ill] = bees;
            *sound *= 1.0 - death;
            *ill *= 1.0 - (death + f::SICK_DEATH).min(1.0);
            let bitten = *sound * (1.0 - (-f::BITTEN * mites_a_bee).exp());
            *sound -= bitten;
            *ill += bitten;
        }
        let lost = |age: usize, sealed: usize| {
            f::BROOD_LOST.get(if age < 3 {
                0
            } else if age < sealed {
                1
            } else {
                2
            })
        };
        let age = |brood: &mut [f64], sealed: usize| {
            let out = brood.last().copied().unwrap_or(0.0);
            brood.rotate_right(1);
            for (at, cells) in brood.iter_mut().enumerate() {
                *cells *= 1.0 - lost(at, sealed).copied().unwrap_or(0.0);
            }
            out
        };
        let hatched = age(&mut self.workers, f::WORKER_SEALED);
        age(&mut self.drones, f::DRONE_SEALED);
        let drone_share = if (115.0..240.0).contains(&t) { 0.04 } else { 0.0 };
        if let Some(first) = self.workers.first_mut() {
            *first = eggs * (1.0 - drone_share);
        }
        if let Some(first) = self.drones.first_mut() {
            *first = eggs * drone_share;
        }
        // Half of those hatched on 28 August are winter bees (Mattila et al. 2001, from memory; a guess on its shape).
        let share = if t < 60.0 { 1.0 } else { 1.0 / (1.0 + (-(t - 240.0) / 7.0).exp()) };
        for (bees, share) in [(&mut self.summer, 1.0 - share), (&mut self.winter, share)] {
            let [sound, ill] = bees;
            *sound += hatched * share * (1.0 - sick);
            *ill += hatched * share * sick;
        }
    }
}
