//! A colony on one day, and what a day does to it.

use chrono::{Days, NaiveDate};

use super::deed::Deed;
use super::figures::{FRAME_OF_BEES, FRAME_OF_BROOD, FRAME_OF_HONEY, Figures, SUPER};
use super::kill::Course;
use super::line::Line;
use super::year::Daily;
use crate::colony::stores::FLOOR_AND_LIDS;
use crate::colony::syrup;
use crate::model::QueenStatus;

/// From when a queen lays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Laying {
    /// She lays.
    Now,
    /// From a day on.
    From(NaiveDate),
    /// No more.
    Never,
}

/// A colony: bees and cells in their number, mites in theirs, stores in kilograms.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Colony {
    open: Line<9>,
    sealed: Line<12>,
    drones_open: Line<10>,
    drones_sealed: Line<14>,
    under_workers: Line<12>,
    under_drones: Line<14>,
    summer: f64,
    winter: f64,
    on_bees: f64,
    nest: f64,
    above: f64,
    /// Sugar in the feeder, and laid on dry.
    syrup: f64,
    dry: f64,
    frames: f64,
    supers: f64,
    pub(super) laying: Laying,
    courses: [Option<Course>; COURSES],
    /// Honey taken so far.
    taken: f64,
    /// Eaten and dried away so far, brought in and given so far: stores are what came less what went.
    gone: f64,
    came: f64,
}

/// What a colony begins with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Beginning {
    pub(super) bees: f64,
    pub(super) brood_frames: f64,
    /// Mites for each bee.
    pub(super) mites: f64,
    /// Honey, kg.
    pub(super) honey: f64,
    /// Whether its bees are winter bees.
    pub(super) wintered: bool,
}

/// Courses that may be in at once.
const COURSES: usize = 4;
/// Frames of comb without honey or brood: pollen and edges (a guess).
const OTHER_COMB: f64 = 0.8;
/// Honey kept beside the brood before the rest goes up, kg (a guess).
const BESIDE_BROOD: f64 = 8.0;
/// Frames the queen holds against nectar until late summer (a guess).
const HELD: f64 = 4.5;
/// Syrup twenty thousand bees take down in a day, kg of sugar (common practice, no single source).
const TAKEN_DOWN: f64 = 1.6;
/// Share of sugar fed that is put by, after work and drying (trade practice).
const PUT_BY: f64 = 0.93;
/// Highs from which they come up to syrup, and leave the cluster, C.
const TAKES_SYRUP: f64 = 10.0;
const CLUSTERS: f64 = 8.0;
/// High from which all of them move, C (a guess).
const MOVES: f64 = 18.0;

impl Colony {
    pub(super) fn begin(start: &Beginning) -> Self {
        let cells = start.brood_frames.max(0.0) * FRAME_OF_BROOD;
        let bees = start.bees.max(0.0);
        Self {
            open: Line::even(cells * 9.0 / 21.0),
            sealed: Line::even(cells * 12.0 / 21.0),
            drones_open: Line::even(0.0),
            drones_sealed: Line::even(0.0),
            // With brood two mites in three are under the caps (Lee et al. 2010: half to three quarters).
            under_workers: Line::even(if cells > 0.0 { 1.5 * start.mites * bees } else { 0.0 }),
            under_drones: Line::even(0.0),
            summer: if start.wintered { 0.0 } else { bees },
            winter: if start.wintered { bees } else { 0.0 },
            on_bees: start.mites.max(0.0) * bees,
            nest: start.honey.max(0.0),
            above: 0.0,
            syrup: 0.0,
            dry: 0.0,
            frames: 10.0,
            supers: 0.0,
            laying: Laying::Now,
            courses: [None; COURSES],
            taken: 0.0,
            gone: 0.0,
            came: start.honey.max(0.0),
        }
    }

    /// Another colony in the boxes of this one.
    pub(super) fn refilled(&self, with: &Self) -> Self {
        Self { frames: self.frames, supers: self.supers, ..*with }
    }

    /// Adult bees.
    pub fn adults(&self) -> f64 {
        self.summer + self.winter
    }

    /// Deep frames covered with bees.
    pub fn frames_of_bees(&self) -> f64 {
        self.adults() / FRAME_OF_BEES
    }

    /// Cells of worker and drone brood.
    pub fn cells(&self) -> f64 {
        self.open.sum() + self.sealed.sum() + self.drones_open.sum() + self.drones_sealed.sum()
    }

    /// Deep frames of brood.
    pub fn frames_of_brood(&self) -> f64 {
        self.cells() / FRAME_OF_BROOD
    }

    /// Mites for each hundred bees, on the bees.
    pub fn mite_percent(&self) -> f64 {
        (100.0 * self.on_bees / self.adults().max(1.0)).min(100.0)
    }

    /// All mites, on bees and under caps.
    pub fn mites(&self) -> f64 {
        self.on_bees + self.under_workers.sum() + self.under_drones.sum()
    }

    /// Honey in the nest, and in the honey boxes, kg.
    pub fn honey(&self) -> (f64, f64) {
        (self.nest, self.above)
    }

    /// All it can eat: honey, and sugar not yet taken down, kg.
    pub fn food(&self) -> f64 {
        self.nest + self.above + self.syrup + self.dry
    }

    /// Honey that went: eaten, dried away, taken, kg; and what came, with what it began with.
    pub fn balance(&self) -> (f64, f64) {
        (self.gone + self.taken, self.came)
    }

    /// Bees, brood and stores as the scale weighs them, kg (an eighth of a gram a bee or cell, ours).
    pub fn weighs(&self) -> f64 {
        self.food() + (self.adults() + self.cells()) * 0.000_13
    }

    /// Boxes, floor and lids, kg: 20 lb a deep, 14 a medium box, 16 for floor and lids (trade figures, from memory).
    pub(super) fn boxes_weigh(&self) -> f64 {
        (2.0 * self.frames + 14.0 * self.supers + FLOOR_AND_LIDS) * 0.4536
    }

    /// How full it is of bees: 1 where every frame, below and above, is covered.
    pub fn crowding(&self) -> f64 {
        self.frames_of_bees() / (self.frames + 5.0 * self.supers).max(1.0)
    }

    /// A day passes.
    pub(super) fn day(&mut self, on: NaiveDate, daily: &Daily, f: &Figures) {
        self.treat(on, daily, f);
        self.forage(daily, f);
        self.eat(daily, f);
        let eggs = self.eggs(on, daily, f);
        self.breed(daily, f, eggs);
        if daily.carried > 0.0 {
            self.on_bees += f.carried_in * daily.flight;
        }
    }

    fn treat(&mut self, on: NaiveDate, daily: &Daily, f: &Figures) {
        for slot in &mut self.courses {
            let Some(course) = slot else { continue };
            let (bees, caps) = course.day(on, daily.high, f.works);
            self.on_bees *= 1.0 - bees;
            if caps > 0.0 {
                self.under_workers.scale(1.0 - caps);
                self.under_drones.scale(1.0 - caps);
            }
            if on >= course.until {
                *slot = None;
            }
        }
    }

    fn forage(&mut self, daily: &Daily, f: &Figures) {
        let nectar = daily.nectar * f.flow * self.adults() / 30_000.0 * daily.flight;
        let held = if daily.winter < 0.25 { HELD } else { 0.0 };
        let free = self.frames - self.frames_of_brood().max(held) - OTHER_COMB / 2.0;
        let room = free.max(0.0) * FRAME_OF_HONEY;
        let first = if self.supers > 0.0 { room.min(BESIDE_BROOD) } else { room };
        let below = nectar.min((first - self.nest).max(0.0));
        let up = (nectar - below).min((self.supers * SUPER - self.above).max(0.0));
        // What finds no room above is crammed in below; what finds none at all stays in the field.
        let crammed = (nectar - below - up).min((room - self.nest - below).max(0.0));
        self.nest += below + crammed;
        self.above += up;
        self.came += below + crammed + up;
        if self.syrup > 0.0 && daily.high >= TAKES_SYRUP {
            let a_day = (TAKEN_DOWN * self.adults() / 20_000.0).min(self.syrup);
            let down = a_day.min((room - self.nest).max(0.0));
            self.syrup -= down;
            self.nest += down * PUT_BY;
            self.gone += down * (1.0 - PUT_BY);
        }
    }

    fn eat(&mut self, daily: &Daily, f: &Figures) {
        // Between the cluster and full warmth they eat the more the more of them move (ours).
        let warmth = ((daily.high - CLUSTERS) / (MOVES - CLUSTERS)).clamp(0.0, 1.0);
        let a_bee = f.bee_winters + (f.bee_eats - f.bee_winters) * warmth;
        let grams = self.adults() * a_bee + self.open.sum() * f.larva_eats * 0.6 + self.cells() * f.warmth;
        let need = grams * f.eaten / 1_000.0;
        let mut left = need;
        let warm = daily.high > CLUSTERS;
        let reaches = [true, warm, true, daily.high >= TAKES_SYRUP];
        let stores = [&mut self.nest, &mut self.above, &mut self.dry, &mut self.syrup];
        for (store, reached) in stores.into_iter().zip(reaches) {
            let eaten = if reached { left.min(*store) } else { 0.0 };
            *store -= eaten;
            left -= eaten;
        }
        self.gone += need - left;
        // Without food a fifth of them die in a day.
        if left > need * 0.7 && need > 0.0 {
            self.summer *= 0.8;
            self.winter *= 0.8;
            self.on_bees *= 0.8;
        }
    }

    fn eggs(&mut self, on: NaiveDate, daily: &Daily, f: &Figures) -> f64 {
        if matches!(self.laying, Laying::From(from) if from <= on) {
            self.laying = Laying::Now;
        }
        if self.laying != Laying::Now {
            return 0.0;
        }
        let free = self.frames - self.nest / FRAME_OF_HONEY - OTHER_COMB - self.frames_of_brood();
        let hungry = if self.food() < 1.5 { 0.3 } else { 1.0 };
        (f.most_eggs * daily.laying * hungry)
            .min(f.eggs_a_bee * self.adults())
            .min((free * FRAME_OF_BROOD * 0.5).max(0.0))
    }

    /// Brood a day older, mites into the cells and out of them, bees hatched and dead.
    fn breed(&mut self, daily: &Daily, f: &Figures, eggs: f64) {
        let drones = eggs * f.drone_share * daily.drones;
        let sealing = self.open.turn((eggs - drones) * f.brood_lives);
        let drones_sealing = self.drones_open.turn(drones * f.brood_lives);
        let hatched = self.sealed.turn(sealing) * f.sealed_lives;
        self.drones_sealed.turn(drones_sealing);

        let grams = (self.adults() * 0.1).max(1.0);
        let to_workers = f.invasion * f.enters_worker * sealing / grams;
        let to_drones = f.invasion * f.enters_drone * drones_sealing / grams;
        let pace = to_workers + to_drones;
        let going = self.on_bees * (1.0 - (-pace).exp());
        let share = if pace > 0.0 { to_workers / pace } else { 0.0 };
        let mothers = self.under_workers.turn(going * share);
        let drone_mothers = self.under_drones.turn(going * (1.0 - share));
        // Several mothers in a cell have fewer daughters each (Martin 1998: 0.91 for two, 0.86 for three).
        let crowd = if hatched > 1.0 { (1.0 - 0.1 * mothers / hatched).max(0.5) } else { 0.5 };
        let born = f.daughters * crowd;
        let back = mothers * (1.0 + f.worker_daughters * born) * (1.0 - f.fall_worker)
            + drone_mothers * (1.0 + f.drone_daughters * born) * (1.0 - f.fall_drone);
        let death = if sealing > 0.0 { f.mite_dies } else { f.mite_winters };
        self.on_bees = ((self.on_bees - going) * (1.0 - death) + back).max(0.0);

        let ill = f.harm * (self.on_bees / self.adults().max(1.0)).min(1.0);
        let flown = f.at_rest + f.in_flight * daily.flight;
        let summer = (flown * f.summer_life + ill).min(1.0);
        // Winter bees that fly in spring wear out like the others.
        let spring = if daily.winter > 0.5 { 0.0 } else { 0.9 * f.in_flight * daily.flight };
        let winter = ((f.in_winter * f.winter_life) + spring + ill).min(1.0);
        self.summer += hatched * (1.0 - daily.winter) - self.summer * summer;
        self.winter += hatched * daily.winter - self.winter * winter;
    }

    /// Takes in what is done. `wait` are the days until a queen lays, by how she begins.
    pub(super) fn take(
        &mut self,
        deed: &Deed,
        on: NaiveDate,
        f: &Figures,
        wait: impl Fn(QueenStatus) -> f64,
    ) {
        match *deed {
            Deed::Syrup { mix, volume } => {
                let kg = syrup::sugar(mix, volume).kilograms();
                self.syrup += kg;
                self.came += kg;
            }
            Deed::Sugar(kg) => {
                self.dry += kg;
                self.came += kg;
            }
            Deed::Honey(frames) => {
                self.nest += frames * FRAME_OF_HONEY;
                self.came += frames * FRAME_OF_HONEY;
            }
            // A frame of a medium box.
            Deed::Harvest(frames) => {
                let taken = (frames * SUPER / 10.0).min(self.above);
                self.above -= taken;
                self.taken += taken;
            }
            Deed::Treat(treatment, until) => self.begin_course(Course { treatment, began: on, until }),
            Deed::EndTreatment(treatment) => {
                for slot in self.courses.iter_mut().filter(|c| c.is_some_and(|c| c.treatment == treatment)) {
                    *slot = None;
                }
            }
            Deed::Room { frames, supers } => {
                self.frames = frames.max(1.0);
                self.supers = supers.max(0.0);
                let over = (self.above - self.supers * SUPER).max(0.0);
                self.above -= over;
                self.taken += over;
            }
            Deed::Queen(status) => self.set_queen(status, on, wait(status)),
            Deed::Parted => self.part(f.parted),
            // It is the member's figures that change.
            Deed::Dearth => {}
        }
    }

    /// A course goes in beside those that are in; were there more than are ever given, for the one that ends first.
    fn begin_course(&mut self, course: Course) {
        if let Some(slot) = self.courses.iter_mut().min_by_key(|slot| slot.map(|c| c.until)) {
            *slot = Some(course);
        }
    }

    fn set_queen(&mut self, status: QueenStatus, on: NaiveDate, wait: f64) {
        self.laying = match status {
            QueenStatus::Laying | QueenStatus::Unknown | QueenStatus::Superseded => Laying::Now,
            QueenStatus::Missing | QueenStatus::DroneLayer => Laying::Never,
            QueenStatus::Caged | QueenStatus::Cell | QueenStatus::RipeCell | QueenStatus::Virgin => {
                #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 400")]
                let days = wait.clamp(0.0, 400.0) as u64;
                Laying::From(on.checked_add_days(Days::new(days)).unwrap_or(on))
            }
        };
    }

    /// A share of bees and brood leaves, with its mites and a third of the nest's honey.
    fn part(&mut self, share: f64) {
        self.scale_bees(1.0 - share);
        self.scale_brood(1.0 - share * 0.8);
        let honey = self.nest * share * 0.5;
        self.nest -= honey;
        self.taken += honey;
    }

    /// More or fewer bees, their mites with them: mites for each bee stay.
    pub(super) fn scale_bees(&mut self, by: f64) {
        self.summer *= by;
        self.winter *= by;
        self.on_bees *= by;
    }

    /// More or less brood, its mites with it.
    pub(super) fn scale_brood(&mut self, by: f64) {
        self.open.scale(by);
        self.sealed.scale(by);
        self.drones_open.scale(by);
        self.drones_sealed.scale(by);
        self.under_workers.scale(by);
        self.under_drones.scale(by);
    }

    /// More or fewer mites.
    pub(super) fn scale_mites(&mut self, by: f64) {
        self.on_bees *= by;
        self.under_workers.scale(by);
        self.under_drones.scale(by);
    }

    /// More or less honey; what is more or less than thought came or went unseen.
    pub(super) fn scale_stores(&mut self, by: f64) {
        let before = self.nest + self.above;
        self.nest *= by;
        self.above *= by;
        self.came += before * (by - 1.0);
    }
}
