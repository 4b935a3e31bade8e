//! How a simulated colony begins: a package, a nucleus colony, one that came through a winter, or as a scenario makes it.

use super::bees::Bees;
use super::colony::{Colony, Nest};
use super::figures as f;
use super::mites::Mites;
use super::queen::{FROM_CELL, Queen, RAISED_IN};
use super::random::Random;
use crate::model::{Beginning, Made, Mass, QueenStatus, Start};

/// Days a packaged queen is in her cage (common practice, no single source).
const CAGED: u32 = 5;
/// Mites under the caps for each on the bees, where there is brood (two thirds of all; Martin 1998, from memory).
const UNDER_CAPS: f64 = 2.0;

impl Colony {
    /// A colony as it begins, differing by its seed. An overwintered one begins on 1 March.
    pub fn begun(beginning: &Beginning, seed: u64) -> Self {
        let mut colony = match beginning.start {
            Start::Overwintered => Self::overwintered(u32::from(beginning.boxes), seed),
            Start::Package => Self::package(seed),
            Start::Nuc => Self::nuc(seed),
        };
        colony.takes_eggs = true;
        colony
    }

    /// Three pounds of bees, about 3,500 to the pound, with a caged queen on bare frames (common practice, no single source;
    /// its mites are a guess).
    fn package(seed: u64) -> Self {
        let mut package = Self::overwintered(1, seed);
        let bees = package.random.normal(10_500.0, 900.0).max(7_500.0);
        package.bees = Bees::of(bees, 0.0);
        package.mites = Mites::of(bees * 0.006 * package.random.factor(0.6));
        package.queen = Queen::Caged { days: CAGED };
        package.stores = [1.0, 0.0];
        package.drawn = 0.0;
        package
    }

    /// Five frames: bees on four of them, brood of all ages on three, a young queen (common practice, no single source; its
    /// mites are a guess).
    fn nuc(seed: u64) -> Self {
        let mut nuc = Self::overwintered(1, seed);
        let bees = nuc.random.normal(9_500.0, 1_200.0).max(6_000.0);
        nuc.bees = Bees::of(bees, 0.0);
        let a_day = 3.0 * f::CELLS * f::CELLS_FILLED / f::WORKER_DAYS as f64;
        nuc.bees.workers = [a_day; f::WORKER_DAYS];
        nuc.mites = Mites::of(bees * 0.004 * nuc.random.factor(0.6));
        nuc.queen = Queen::young(&mut nuc.random);
        nuc.stores = [3.5, 0.0];
        nuc.drawn = 5.0;
        nuc
    }

    /// Makes it what a scenario says. First it is sound: a laying queen, no cells, nothing told of it yet.
    pub fn make(&mut self, beginning: &Beginning) {
        self.begin_anew();
        if !self.queen.lays() {
            self.queen = Queen::young(&mut self.random);
        }
        let (boxes, supers) = (u32::from(beginning.boxes), u32::from(beginning.supers));
        (self.nest_boxes, self.supers) = (boxes, supers);
        self.drawn = f64::from(boxes) * super::colony::BOX;
        // Honey of boxes that are off already is gone with them.
        self.stores[1] = self.stores[1].min(f64::from(supers) * super::colony::SUPER * 0.6);
        for made in &beginning.made {
            self.make_one(*made);
        }
    }

    fn make_one(&mut self, made: Made) {
        match made {
            Made::Bees(frames) => {
                let by = frames * f::FRAME_OF_BEES / self.adults().max(1.0);
                let bees = &mut self.bees;
                let adults = bees.summer.iter_mut().chain(&mut bees.winter);
                // Brood goes with the bees that nurse it.
                for n in adults.chain(&mut bees.workers).chain(&mut bees.drones) {
                    *n *= by;
                }
            }
            Made::Mites(percent) => {
                let on_bees = self.adults() * percent / 100.0;
                self.mites = Mites::with_capped(on_bees, on_bees * UNDER_CAPS, self.bees.sealed() > 1_000.0);
            }
            Made::Honey(pounds) => self.stores[0] = Mass::from_pounds(pounds).kilograms(),
            Made::SwarmCells(days) => self.cells = Some(days),
            Made::Queenless => self.queen = Queen::Raising { days: RAISED_IN },
            Made::Hopeless => self.lose_queen(),
            Made::NestAbove => self.nest = Nest::Above,
            Made::NestAcross => self.nest = Nest::Across,
            Made::Robbed(pounds) => self.robbers = Mass::from_pounds(pounds).kilograms(),
            Made::Entrance(entrance) => self.entrance = entrance,
        }
    }

    /// No queen, no brood and no young bees to make one of.
    fn lose_queen(&mut self) {
        self.queen = Queen::Gone { days: 12 };
        for cells in self.bees.workers.iter_mut().take(f::WORKER_SEALED) {
            *cells = 0.0;
        }
    }

    /// The half a split takes away: so much of the bees and of the brood, with food, in a box of its own.
    fn part_off(&mut self, seed: u64) -> Self {
        let mut half = self.clone();
        half.random = Random::of(seed);
        let before = self.clone();
        self.split();
        half.bees = before.bees.less(&self.bees);
        half.mites = before.mites.less(&self.mites);
        half.stores = [(before.honey() - self.honey()).max(0.0), 0.0];
        half.queen = before.queen;
        half.cells = None;
        (half.nest_boxes, half.supers) = (1, 0);
        half.drawn = 5.0;
        half.begin_anew();
        half
    }

    /// Parts a colony as a keeper wrote it down of the new half: with the old queen, or with what it has in her place while
    /// she stays. Where that is not known, either half may have her.
    #[must_use]
    pub fn part_off_as(&mut self, new_half: QueenStatus, seed: u64) -> Self {
        let had_cells = self.cells.is_some();
        let mut half = self.part_off(seed);
        let stays = match new_half {
            QueenStatus::Laying => false,
            QueenStatus::Unknown => half.random.happens(0.5),
            _ => true,
        };
        if stays {
            std::mem::swap(&mut self.queen, &mut half.queen);
            half.queen = match new_half {
                QueenStatus::RipeCell => Queen::Raising { days: FROM_CELL },
                QueenStatus::Caged => Queen::Caged { days: CAGED },
                _ => Queen::Raising { days: RAISED_IN },
            };
        } else {
            // What stays raises one from the youngest larvae, or from the cells that were there.
            let days = if had_cells { FROM_CELL } else { RAISED_IN };
            self.queen = Queen::Raising { days };
        }
        half
    }
}
