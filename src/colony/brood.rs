//! The brood clock: days from egg to bee for worker, queen and drone, what the ages of brood say about the queen, and
//! when to look and when to keep out after a split, a cell, a cage, a swarm or a package.
//!
//! Stages: Winston, The Biology of the Honey Bee, 1987, ch. 4, as read in a secondary page. Sources differ by a day
//! either way, and warmth shifts it: at half a degree under 35 C a queen takes a day longer (a UK practice page).

use chrono::NaiveDate;

use crate::model::{QueenStatus, days_after};

/// A caste.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Caste {
    /// Worker.
    Worker,
    /// Queen.
    Queen,
    /// Drone.
    Drone,
}

/// Days of the three stages.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stages {
    /// Egg.
    pub egg: f64,
    /// Open larva.
    pub open: f64,
    /// Sealed.
    pub sealed: f64,
}

impl Stages {
    /// Day from the egg on which the cell is sealed.
    pub fn sealed_on(self) -> f64 {
        self.egg + self.open
    }

    /// Day from the egg on which the bee comes out.
    pub fn emerges_on(self) -> f64 {
        self.egg + self.open + self.sealed
    }
}

impl Caste {
    /// Its stages.
    pub fn stages(self) -> Stages {
        match self {
            Self::Worker => Stages { egg: 3.0, open: 6.0, sealed: 12.0 },
            Self::Queen => Stages { egg: 3.0, open: 5.5, sealed: 7.5 },
            Self::Drone => Stages { egg: 3.0, open: 6.5, sealed: 14.5 },
        }
    }
}

/// Days a worker is an egg.
pub const EGG: i64 = 3;
/// Day from the egg on which a worker's cell is sealed.
pub const SEALED: i64 = 9;
/// Day from the egg on which a worker comes out.
pub const WORKER: i64 = 21;

/// When a queen was last laying, by the youngest brood seen: the earliest and the latest day; `None` without brood,
/// which says three weeks or more.
pub fn last_laid(
    seen_on: NaiveDate,
    eggs: bool,
    larvae: bool,
    sealed: bool,
) -> Option<(NaiveDate, NaiveDate)> {
    let ago = |days: i64| days_after(seen_on, -days);
    if eggs {
        Some((ago(EGG), seen_on))
    } else if larvae {
        Some((ago(SEALED), ago(EGG)))
    } else if sealed {
        Some((ago(WORKER), ago(SEALED)))
    } else {
        None
    }
}

/// An earliest, a usual and a latest day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    /// Earliest.
    pub earliest: NaiveDate,
    /// Usual.
    pub usual: NaiveDate,
    /// Latest.
    pub latest: NaiveDate,
}

/// What a new queen's beginning was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beginning {
    /// A split left to raise its own from larvae up to 36 hours old.
    WalkAway,
    /// A ripe cell given, a day or two before she comes out.
    RipeCell,
    /// Sealed cells left by the keeper: she comes out within eight days.
    SealedCell,
    /// A virgin seen: she came out that day or before.
    Virgin,
    /// The bees replace a laying queen by a cell of their own.
    Supersedure,
    /// A mated queen hung in her cage.
    Caged,
    /// A prime swarm, caught with its old queen.
    PrimeSwarm,
    /// A package with a mated queen in her cage.
    Package,
}

impl Beginning {
    /// What a queen's status says of how she began; none for one that lays, is gone or is not known.
    pub fn of(status: QueenStatus) -> Option<Self> {
        match status {
            QueenStatus::Cell => Some(Self::WalkAway),
            QueenStatus::RipeCell => Some(Self::SealedCell),
            QueenStatus::Virgin => Some(Self::Virgin),
            QueenStatus::Superseded => Some(Self::Supersedure),
            QueenStatus::Caged => Some(Self::Caged),
            QueenStatus::Laying | QueenStatus::DroneLayer | QueenStatus::Missing | QueenStatus::Unknown => {
                None
            }
        }
    }
}

/// What to expect, and when to look and to keep out. `None` where it does not come up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Timeline {
    /// Cells are sealed.
    pub cell_sealed: Option<Span>,
    /// The virgin comes out of her cell, or the queen out of her cage.
    pub out: Option<Span>,
    /// Mating flights, from the first to the last day that is likely.
    pub mating: Option<(NaiveDate, NaiveDate)>,
    /// First eggs.
    pub eggs: Span,
    /// Sealed worker brood shows.
    pub sealed_brood: Span,
    /// First new workers come out.
    pub workers: Span,
    /// No brood frame is lifted from the first to before the second.
    pub keep_out: Option<(NaiveDate, NaiveDate)>,
    /// Without eggs and without a queen by this day it has failed.
    pub failed_by: NaiveDate,
}

/// The timeline of a beginning on a day.
///
/// Walk-away: worked from the queen's 16 days and a larva 0 to 36 hours old (egg age 3 to 4.5 days), mating 5 to 12
/// days after she comes out, eggs 8 to 16 days after. Ripe cell: first eggs on day 10 to 28, the middle one on day 16
/// (177 splits of Aurell et al. 2025, J. Econ. Entomol.: 12 % after day 24). Sealed cell: up to eight days more in the
/// cell. Virgin: eggs two to three weeks on (Norfolk beekeepers); called failed in the fourth week. Cage: out on day 3 to 5, eggs within the week after. Swarm: the old queen lays as soon as there is comb
/// (common practice, no single source).
pub fn timeline(beginning: Beginning, on: NaiveDate) -> Timeline {
    let at = |days| days_after(on, days);
    let span =
        |earliest, usual, latest| Span { earliest: at(earliest), usual: at(usual), latest: at(latest) };
    // Eggs, and what follows from them: sealed nine days on, workers twenty-one.
    let from_eggs = |eggs: (i64, i64, i64)| {
        let on = |more| span(eggs.0 + more, eggs.1 + more, eggs.2 + more);
        (on(0), on(SEALED), on(WORKER))
    };
    match beginning {
        Beginning::WalkAway => {
            let (eggs, sealed_brood, workers) = from_eggs((19, 24, 29));
            Timeline {
                cell_sealed: Some(span(4, 5, 6)),
                out: Some(span(11, 12, 13)),
                mating: Some((at(16), at(25))),
                eggs,
                sealed_brood,
                workers,
                keep_out: Some((at(10), at(24))),
                failed_by: at(30),
            }
        }
        Beginning::RipeCell => {
            let (eggs, sealed_brood, workers) = from_eggs((10, 16, 28));
            Timeline {
                cell_sealed: None,
                out: Some(span(0, 1, 3)),
                mating: Some((at(6), at(15))),
                eggs,
                sealed_brood,
                workers,
                keep_out: Some((at(1), at(14))),
                failed_by: at(29),
            }
        }
        Beginning::SealedCell => {
            let (eggs, sealed_brood, workers) = from_eggs((11, 20, 33));
            Timeline {
                cell_sealed: None,
                out: Some(span(0, 4, 8)),
                mating: Some((at(6), at(20))),
                eggs,
                sealed_brood,
                workers,
                keep_out: Some((at(1), at(21))),
                failed_by: at(34),
            }
        }
        Beginning::Virgin => {
            let (eggs, sealed_brood, workers) = from_eggs((8, 15, 21));
            Timeline {
                cell_sealed: None,
                out: None,
                mating: Some((at(4), at(14))),
                eggs,
                sealed_brood,
                workers,
                keep_out: Some((at(0), at(14))),
                failed_by: at(26),
            }
        }
        Beginning::Supersedure => {
            let (eggs, sealed_brood, workers) = from_eggs((21, 26, 32));
            Timeline {
                cell_sealed: Some(span(0, 3, 8)),
                out: Some(span(0, 8, 14)),
                mating: Some((at(9), at(24))),
                eggs,
                sealed_brood,
                workers,
                keep_out: Some((at(0), at(24))),
                failed_by: at(35),
            }
        }
        Beginning::Caged | Beginning::Package => {
            let (eggs, sealed_brood, workers) = from_eggs((5, 8, 12));
            Timeline {
                cell_sealed: None,
                out: Some(span(3, 4, 5)),
                mating: None,
                eggs,
                sealed_brood,
                workers,
                keep_out: Some((at(0), at(6))),
                failed_by: at(14),
            }
        }
        // The old queen comes with it: nothing to wait for but comb.
        Beginning::PrimeSwarm => {
            let (eggs, sealed_brood, workers) = from_eggs((2, 4, 10));
            Timeline {
                out: None,
                keep_out: None,
                eggs,
                sealed_brood,
                workers,
                ..timeline(Beginning::Caged, on)
            }
        }
    }
}

/// Last day to count the cells of a walk-away split.
pub fn cells_until(split_on: NaiveDate) -> NaiveDate {
    days_after(split_on, 7)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn on(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn the_youngest_brood_dates_the_queen() {
        let seen = on("2026-06-22");
        let cases = [
            ((true, true, true), Some((on("2026-06-19"), seen))),
            ((false, true, true), Some((on("2026-06-13"), on("2026-06-19")))),
            ((false, false, true), Some((on("2026-06-01"), on("2026-06-13")))),
            ((false, false, false), None),
        ];
        for ((eggs, larvae, sealed), expected) in cases {
            assert_eq!(last_laid(seen, eggs, larvae, sealed), expected);
        }
    }

    #[test]
    fn every_timeline_runs_in_order() {
        let begun = on("2026-05-18");
        for beginning in [
            Beginning::WalkAway,
            Beginning::RipeCell,
            Beginning::SealedCell,
            Beginning::Virgin,
            Beginning::Supersedure,
            Beginning::Caged,
            Beginning::PrimeSwarm,
            Beginning::Package,
        ] {
            let t = timeline(beginning, begun);
            for span in [Some(t.eggs), Some(t.sealed_brood), Some(t.workers), t.out, t.cell_sealed]
                .into_iter()
                .flatten()
            {
                assert!(span.earliest <= span.usual && span.usual <= span.latest, "{beginning:?} {span:?}");
            }
            assert!(t.eggs.usual < t.sealed_brood.usual && t.sealed_brood.usual < t.workers.usual);
            assert!(t.failed_by > t.eggs.latest, "{beginning:?}: not called failed while eggs may come");
            if let (Some(out), Some((first, last))) = (t.out, t.mating) {
                assert!(out.usual < first && first < last);
            }
            if let Some((from, to)) = t.keep_out {
                assert!(from < to && t.failed_by > to);
            }
        }
    }
}
