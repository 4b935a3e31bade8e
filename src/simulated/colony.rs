//! One simulated colony: what a day does to it, and what a keeper does to it.

use chrono::NaiveDate;

use super::bees::Bees;
use super::figures as f;
use super::mites::{Course, Mites};
use super::queen::{FROM_CELL, Queen, RAISED_IN, Turn};
use super::random::Random;
use super::weather::Weather;
use crate::model::{Action, Entrance, Mix, QueenStatus, Role, Treatment};

/// What a colony died of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Death {
    /// Nothing left to eat.
    Starved,
    /// Mites and the virus they carry.
    Mites,
    /// No queen.
    Queenless,
    /// Too few bees for the winter.
    TooFew,
    /// Robbed out.
    Robbed,
}

/// What a colony came to so far.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Told {
    /// Honey taken from it, kg.
    pub honey: f64,
    /// Sugar given, kg.
    pub sugar: f64,
    /// Swarms lost.
    pub swarms: u32,
    /// Courses of treatment.
    pub treatments: u32,
}

/// Where the brood nest stands in its boxes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Nest {
    /// All boxes are used.
    Used,
    /// All brood is above, and the lowest box stands empty until it is brought up.
    Above,
    /// One nest stands in two boxes: parted, its edge is chilled.
    Across,
}

/// A simulated colony.
#[derive(Debug, Clone)]
pub struct Colony {
    pub(super) bees: Bees,
    pub(super) mites: Mites,
    pub(super) queen: Queen,
    /// Honey in the nest and in the honey boxes, kg.
    pub(super) stores: [f64; 2],
    /// Share of the honey boxes' honey under wax.
    pub(super) capped: f64,
    pub(super) nest_boxes: u32,
    pub(super) supers: u32,
    /// Nest frames with comb.
    pub(super) drawn: f64,
    /// Sugar in the feeder and laid on dry, kg.
    pub(super) sugar: [f64; 2],
    pub(super) entrance: Entrance,
    /// Days since swarm cells were begun.
    pub(super) cells: Option<u32>,
    course: Option<Course>,
    carried_in: f64,
    pub(super) nest: Nest,
    /// Whether bees without a queen raise one from a frame of eggs; the trial of keepers does without.
    pub(super) takes_eggs: bool,
    /// Honey that robbers carry out in a warm day through an open entrance, kg.
    pub(super) robbers: f64,
    dead: Option<(NaiveDate, Death)>,
    told: Told,
    pub(super) random: Random,
}

/// Honey a medium honey box holds, kg.
pub(super) const SUPER: f64 = 13.0;
/// Frames of a nest box.
pub(super) const BOX: f64 = 10.0;
/// Honey kept beside the brood before the rest goes up into honey boxes, kg.
const BESIDE_BROOD: f64 = 9.0;
/// Days from the first swarm cell to the swarm (Winston 1987, from memory).
const SWARMS_ON: u32 = 9;

impl Colony {
    /// An overwintered colony on 1 March, in so many deep boxes, differing by its seed.
    pub fn overwintered(boxes: u32, seed: u64) -> Self {
        let mut random = Random::of(seed);
        let bees = random.normal(10_500.0, 2_200.0).max(4_500.0);
        let mites = bees * f::MITES_IN_MARCH.0 * random.factor(f::MITES_IN_MARCH.1);
        let honey = random.normal(14.0, 4.5).max(4.0);
        let queen = match Queen::young(&mut random) {
            Queen::Laying { most, .. } => {
                Queen::Laying { most, age: if random.happens(0.6) { 280 } else { 640 } }
            }
            other => other,
        };
        Self {
            bees: Bees::of(0.0, bees),
            mites: Mites::of(mites),
            queen,
            stores: [honey, 0.0],
            capped: 0.0,
            nest_boxes: boxes,
            supers: 0,
            drawn: f64::from(boxes) * BOX,
            sugar: [0.0; 2],
            entrance: Entrance::Reduced,
            cells: None,
            course: None,
            carried_in: f::CARRIED_IN.0 * random.factor(f::CARRIED_IN.1),
            nest: Nest::Used,
            takes_eggs: false,
            robbers: 0.0,
            dead: None,
            told: Told::default(),
            random,
        }
    }

    /// When and of what it died, if it did.
    pub fn died(&self) -> Option<(NaiveDate, Death)> {
        self.dead
    }

    /// What it came to so far.
    pub fn told(&self) -> Told {
        self.told
    }

    /// Adult bees, as they really are.
    pub fn adults(&self) -> f64 {
        self.bees.adults()
    }

    /// Mites per hundred bees, on the bees, as they really are.
    pub fn mite_percent(&self) -> f64 {
        100.0 * self.mites.on_bees / self.adults().max(1.0)
    }

    /// Frames of bees, as they really are.
    pub fn frames_of_bees(&self) -> f64 {
        self.adults() / f::FRAME_OF_BEES
    }

    /// Frames of brood, as they really are.
    pub fn frames_of_brood(&self) -> f64 {
        self.bees.brood_frames()
    }

    /// Whether its queen lays.
    pub fn queen_lays(&self) -> bool {
        self.queen.lays()
    }

    /// Honey in the nest, kg, as it really is.
    pub fn honey(&self) -> f64 {
        self.stores.first().copied().unwrap_or(0.0)
    }

    fn nest_frames(&self) -> f64 {
        let unused = if self.nest == Nest::Above { BOX } else { 0.0 };
        ((f64::from(self.nest_boxes) * BOX).min(self.drawn.max(1.0)) - unused).max(1.0)
    }

    /// Empty cells the queen can lay in.
    pub(super) fn free_cells(&self) -> f64 {
        let honey = self.honey() / f::FRAME_OF_HONEY;
        let free = self.nest_frames() - honey - 0.8 - self.bees.brood_frames();
        (free * f::CELLS * f::CELLS_FILLED).max(0.0)
    }

    /// How full the hive is of bees: 1 where every frame is covered.
    pub(super) fn crowding(&self) -> f64 {
        let frames = 0.9 * self.nest_frames() + 5.0 * f64::from(self.supers);
        self.adults() / f::FRAME_OF_BEES / frames.max(1.0)
    }

    /// A day passes.
    pub fn day(&mut self, weather: &Weather) {
        if self.dead.is_some() {
            return;
        }
        self.treat(weather);
        let robbed = self.rob(weather);
        self.forage(weather);
        let is_fed = self.eat(weather);
        let eggs = self.eggs(weather);
        let hatched = self.bees.workers.last().copied().unwrap_or(0.0);
        let sick = self.mites.day(&self.bees, hatched);
        let mites_a_bee = self.mites.on_bees / self.adults().max(1.0);
        self.bees.day(weather, eggs, sick, mites_a_bee);
        let t = weather.t();
        if (208.0..305.0).contains(&t) {
            let come = (self.carried_in * self.random.factor(0.5)).max(0.0);
            self.mites.on_bees += come * weather.flight();
        }
        self.swarm(weather);
        let (has_young, drones) = (self.bees.open() > 200.0, (115.0..252.0).contains(&t));
        if self.queen.day(has_young, drones, &mut self.random) == Turn::Superseded {
            self.cells = None;
        }
        self.die(weather, is_fed);
        if robbed && self.dead.is_none() {
            self.dead = Some((weather.on, Death::Robbed));
        }
    }

    fn treat(&mut self, weather: &Weather) {
        if let Some(course) = &mut self.course {
            course.day(&mut self.mites, weather.high);
            // Great heat in the first days of formic acid costs queens.
            let hot = course.treatment == Treatment::FormicStrips && course.days <= 3 && weather.high > 33.3;
            if hot && self.random.happens(0.05) && self.queen.lays() {
                self.queen = Queen::Raising { days: RAISED_IN };
            }
        }
    }

    fn forage(&mut self, weather: &Weather) {
        let flight = weather.flight();
        let nectar = weather.nectar * self.adults() / 30_000.0 * flight;
        // However much comes in, they leave the queen the middle of her nest until she slows down.
        let kept = if weather.t() < 232.0 { f::NEST_KEPT } else { 0.0 };
        let nest_frames = self.nest_frames() - self.bees.brood_frames().max(kept) - 0.5;
        let room = nest_frames.max(0.0) * f::FRAME_OF_HONEY;
        let [nest, boxes] = &mut self.stores;
        let cap = if self.supers > 0 { room.min(BESIDE_BROOD) } else { room };
        let to_nest = nectar.min((cap - *nest).max(0.0));
        let to_boxes = (nectar - to_nest).min((f64::from(self.supers) * SUPER - *boxes).max(0.0));
        // What finds no room above is crammed into the nest.
        let crammed = (nectar - to_nest - to_boxes).min((room - *nest - to_nest).max(0.0));
        *nest += to_nest + crammed;
        let before = *boxes;
        *boxes += to_boxes;
        if *boxes > 0.1 {
            let ripening = if nectar > 0.4 { 0.03 } else { 0.08 };
            self.capped = (self.capped * before / *boxes + ripening).clamp(0.0, 1.0);
        }
        let [syrup, _] = &mut self.sugar;
        if weather.high >= 10.0 && *syrup > 0.0 {
            let a_day = (1.6 * self.bees.adults() / 20_000.0).min(2.2).min(*syrup);
            let taken = a_day.min((room - *nest).max(0.0));
            *syrup -= taken;
            *nest += taken * 0.95;
        }
        // Comb is built where food comes in.
        let built = if nectar > 0.5 || (*syrup > 0.0 && weather.high > 14.0) { 0.25 } else { 0.0 };
        self.drawn = (self.drawn + built).min(f64::from(self.nest_boxes) * BOX);
    }

    /// Eats; gives whether there was enough.
    fn eat(&mut self, weather: &Weather) -> bool {
        let rest = if weather.high < 6.0 { f::EATEN.1 } else { f::EATEN.0 };
        let need = (self.adults() * rest
            + self.bees.open() * f::BROOD_EATS.0 * 0.5
            + self.bees.brood() * f::BROOD_EATS.1 * 0.3)
            / 1_000.0;
        let mut left = need;
        let [nest, boxes] = &mut self.stores;
        let [syrup, dry] = &mut self.sugar;
        for (store, reached) in
            [(nest, true), (boxes, weather.high > 5.0), (dry, true), (syrup, weather.high >= 10.0)]
        {
            let taken = if reached { left.min(*store) } else { 0.0 };
            *store -= taken;
            left -= taken;
        }
        left < need * 0.3
    }

    fn eggs(&mut self, weather: &Weather) -> f64 {
        let t = weather.t();
        let up = 1.0 / (1.0 + (-(t - 79.0 - 0.6 * weather.late) / 11.0).exp());
        let down = 1.0 / (1.0 + ((t - f::SLOWS.0) / f::SLOWS.1).exp());
        let food = if self.honey() + self.sugar.iter().sum::<f64>() < 1.5 { 0.3 } else { 1.0 };
        let prep = if self.cells.is_some() { 0.6 } else { 1.0 };
        (self.queen.most() * up * down * food * prep)
            .min(f::NURSED * self.adults())
            .min(self.free_cells() * 0.5)
    }

    fn swarm(&mut self, weather: &Weather) {
        let t = weather.t();
        match self.cells {
            Some(days) if days >= SWARMS_ON && !weather.rain && self.queen.lays() => {
                self.bees.part(0.55, 0.0);
                self.mites.part(0.35, 0.0);
                self.take_from_nest(2.5);
                self.queen = Queen::Raising { days: FROM_CELL };
                self.cells = None;
                self.told.swarms += 1;
            }
            Some(days) => self.cells = Some(days + 1),
            None => {
                let season = (118.0 + 0.5 * weather.late..174.0).contains(&t);
                let strong = self.adults() > 5.5 * f::FRAME_OF_BEES && self.bees.brood_frames() > 3.0;
                let over = (self.crowding() - 0.82).max(0.0);
                let old =
                    if matches!(self.queen, Queen::Laying { age, .. } if age > 420) { 1.7 } else { 1.0 };
                let hazard = (0.004 + 0.12 * over) * old;
                if season && strong && self.queen.lays() && self.random.happens(hazard.min(0.12)) {
                    self.cells = Some(0);
                }
            }
        }
    }

    pub(super) fn take_from_nest(&mut self, kg: f64) {
        if let Some(nest) = self.stores.first_mut() {
            *nest = (*nest - kg).max(0.0);
        }
    }

    fn die(&mut self, weather: &Weather, is_fed: bool) {
        let t = weather.t();
        if !is_fed {
            // A day of hunger kills a part; a cluster without food dies within days.
            for bees in self.bees.summer.iter_mut().chain(self.bees.winter.iter_mut()) {
                *bees *= 0.8;
            }
        }
        let adults = self.adults();
        let cold = !(90.0..300.0).contains(&t);
        let least = if cold { f::TOO_FEW.0 } else { f::TOO_FEW.1 };
        let weak_and_open =
            adults < 9_000.0 && self.entrance == Entrance::Open && (215.0..290.0).contains(&t);
        let cause = if weak_and_open && self.random.happens(0.006) {
            Some(Death::Robbed)
        } else if adults >= least {
            None
        } else if !is_fed {
            Some(Death::Starved)
        } else if matches!(self.queen, Queen::Gone { days } if days > 20) {
            Some(Death::Queenless)
        } else if self.is_sick() {
            Some(Death::Mites)
        } else {
            Some(Death::TooFew)
        };
        self.dead = cause.map(|cause| (weather.on, cause));
    }

    /// Whether mites made it what it is.
    pub(super) fn is_sick(&self) -> bool {
        let sick: f64 = [self.bees.summer, self.bees.winter].iter().filter_map(|b| b.get(1)).sum();
        sick > 0.15 * self.adults() || self.mite_percent() > 8.0
    }

    /// Takes in what a keeper does.
    pub fn take(&mut self, action: &Action, weather: &Weather) {
        match action {
            Action::AddBox { role: Role::Nest, drawn, .. } => {
                self.nest_boxes += 1;
                self.drawn += f64::from(*drawn);
                self.room_given();
            }
            Action::AddBox { role: Role::Super, .. } => {
                self.supers += 1;
                self.room_given();
            }
            Action::RemoveBox { role: Role::Nest, .. } if self.nest_boxes > 1 => {
                self.nest_boxes -= 1;
                self.nest = Nest::Used;
                self.drawn = self.drawn.min(f64::from(self.nest_boxes) * BOX);
            }
            Action::RemoveBox { role: Role::Super, .. } => {
                self.supers = self.supers.saturating_sub(1);
                let [nest, boxes] = &mut self.stores;
                // Honey left in boxes that come off unharvested is the keeper's, too, but no yield.
                *boxes = boxes.min(f64::from(self.supers) * SUPER);
                *nest = nest.max(0.0);
            }
            Action::ReverseBoxes => self.reverse(weather),
            Action::FeedSyrup { mix, volume } => {
                let kg = volume.litres() * if *mix == Mix::Thin { 0.615 } else { 0.88 };
                self.told.sugar += kg;
                self.sugar[0] += kg;
            }
            Action::FeedSugar { mass } => {
                self.told.sugar += mass.kilograms();
                self.sugar[1] += mass.kilograms();
            }
            Action::GiveHoney { frames } => self.stores[0] += f64::from(*frames) * 2.7,
            Action::SetEntrance { entrance } => self.entrance = *entrance,
            Action::SwapFrames { frames } => self.take_from_nest(f64::from(*frames) * f::FRAME_OF_HONEY),
            Action::CutCells if self.cells.is_some() => {
                self.cells = if self.random.happens(0.3) { None } else { Some(1) };
            }
            Action::Treat { treatment, .. } => self.begin(*treatment, weather),
            Action::EndTreatment { .. } => {
                if let Some(mut course) = self.course.take()
                    && course.days == 0
                {
                    course.day(&mut self.mites, weather.high);
                }
            }
            Action::SetQueen { queen } => self.set_queen(queen.status),
            Action::GiveEggs { .. } if self.takes_eggs => self.raise_one(),
            Action::SplitInto { .. } => self.split(),
            Action::TakeHoney { .. } => {
                self.told.honey += self.stores[1] * 0.88;
                self.stores[1] = 0.0;
                self.capped = 0.0;
            }
            _ => {}
        }
    }

    fn begin(&mut self, treatment: Treatment, _weather: &Weather) {
        // Efficacy of trials, by ingredient: formic 60 to 95 %, thymol 70 to 90 %, oxalic acid 90 to 99 % of those on bees.
        let (mean, sd) = match treatment {
            Treatment::FormicStrips => (0.85, 0.08),
            Treatment::ThymolGel | Treatment::ThymolWafers => (0.82, 0.07),
            Treatment::OxalicDribble | Treatment::OxalicVapour => (0.93, 0.04),
            Treatment::HopAcidStrips => (0.40, 0.10),
            Treatment::AmitrazStrips => (1.0, 0.12),
            Treatment::FluvalinateStrips | Treatment::CoumaphosStrips => (0.6, 0.2),
            Treatment::OxalicStrips | Treatment::Own => (0.9, 0.2),
        };
        let works = self.random.normal(mean, sd).clamp(0.05, if mean >= 1.0 { 1.3 } else { 0.99 });
        self.course = Some(Course { treatment, works, days: 0 });
        self.told.treatments += 1;
        if treatment == Treatment::FormicStrips && self.random.happens(0.03) && self.queen.lays() {
            self.queen = Queen::Raising { days: RAISED_IN };
        }
    }

    /// Room in time makes them think better of it.
    pub(super) fn room_given(&mut self) {
        if self.cells.is_some_and(|days| days < 4) && self.random.happens(0.5) {
            self.cells = None;
        }
    }

    /// From eggs that were given, where they have no queen.
    fn raise_one(&mut self) {
        if matches!(self.queen, Queen::Gone { .. }) {
            self.queen = Queen::Raising { days: RAISED_IN };
        }
    }

    fn set_queen(&mut self, status: QueenStatus) {
        match status {
            // The old queen went out with bees and brood, the cells stayed.
            QueenStatus::Cell | QueenStatus::RipeCell if self.cells.is_some() => self.split(),
            QueenStatus::Caged if !self.queen.lays() => self.queen = Queen::Caged { days: 8 },
            QueenStatus::Missing => self.queen = Queen::Gone { days: 0 },
            QueenStatus::Laying
            | QueenStatus::Caged
            | QueenStatus::Cell
            | QueenStatus::RipeCell
            | QueenStatus::Virgin
            | QueenStatus::Superseded
            | QueenStatus::DroneLayer
            | QueenStatus::Unknown => {}
        }
    }

    /// The old queen leaves with two frames of brood and bees.
    pub(super) fn split(&mut self) {
        self.bees.part(0.3, 0.25);
        self.mites.part(0.3, 0.25);
        self.take_from_nest(3.0);
        self.queen = Queen::Raising { days: FROM_CELL };
        self.cells = None;
    }

    /// What it came to is told from now on.
    pub(super) fn begin_anew(&mut self) {
        self.told = Told::default();
        (self.cells, self.course, self.dead) = (None, None, None);
    }

    /// Another colony's bees and brood come in.
    pub fn unite(&mut self, other: &Self) {
        self.bees.join(&other.bees);
        self.mites.join(&other.mites);
        self.stores[0] += other.stores[0];
    }
}
