//! What a colony begins with where no one has counted: by how it came, and wide.

use chrono::NaiveDate;

use super::colony::{Beginning, Colony};
use super::figures::{FRAME_OF_BEES, Figures};
use super::record::{Item, Record};
use super::year::Year;
use crate::model::{HiveState, Origin};

/// Bees and honey by how a colony came: a middle and a spread of its logarithm; brood, mites a hundred bees alike.
struct Usual {
    bees: (f64, f64),
    brood: f64,
    mites: (f64, f64),
    honey: (f64, f64),
    wintered: bool,
}

/// Common practice, no single source, but where named.
fn usual(origin: Option<Origin>) -> Usual {
    match origin {
        // Three pounds, 3,500 bees a pound.
        Some(Origin::Package) => {
            Usual { bees: (10_500.0, 0.1), brood: 0.0, mites: (1.0, 0.9), honey: (0.3, 0.5), wintered: false }
        }
        // Five frames, three of brood.
        Some(Origin::Nuc) => Usual {
            bees: (4.5 * FRAME_OF_BEES, 0.2),
            brood: 3.0,
            mites: (0.8, 0.9),
            honey: (3.0, 0.4),
            wintered: false,
        },
        Some(Origin::Swarm) => {
            Usual { bees: (12_000.0, 0.4), brood: 0.0, mites: (1.0, 0.9), honey: (0.8, 0.5), wintered: false }
        }
        Some(Origin::Split) => Usual {
            bees: (4.5 * FRAME_OF_BEES, 0.3),
            brood: 2.5,
            mites: (0.8, 0.9),
            honey: (4.0, 0.5),
            wintered: false,
        },
        // On 1 March: ten thousand bees (medians of a published model between 1 January and 30 April); mites by where the counts
        // of Vermont in May lead back to; stores what is left of a full box.
        Some(Origin::Overwintered) | None => Usual {
            bees: (9_500.0, 0.25),
            brood: 0.4,
            mites: (0.15, 1.0),
            honey: (12.0, 0.4),
            wintered: true,
        },
    }
}

/// The day a hive's model begins and how: its arrival where that is since the spring it begins with, else 1 March there.
///
/// That spring is this year's; until July it is last year's where someone looked since then, so that what was learned
/// before the winter is carried over it.
pub(super) fn start(
    hive: &HiveState,
    year: &Year,
    record: &Record,
    on: NaiveDate,
) -> (NaiveDate, Option<Origin>) {
    let spring = year.last_like(3, 1, on);
    let before = year.last_like(3, 1, spring.pred_opt().unwrap_or(spring));
    let known = record.items.iter().any(|(day, item)| {
        matches!(item, Item::Look(_)) && (year.last_like(7, 1, spring)..spring).contains(day)
    });
    let from = if known && year.last_like(7, 1, on) < spring { before } else { spring };
    if hive.came > from && hive.origin != Origin::Overwintered {
        (hive.came.min(on), Some(hive.origin))
    } else {
        (from, None)
    }
}

/// A colony as it begins, by its figures.
pub(super) fn begin(origin: Option<Origin>, f: &Figures) -> Colony {
    let usual = usual(origin);
    let at = |(middle, sd): (f64, f64), z: f64| middle * (sd * z).exp();
    Colony::begin(&Beginning {
        bees: at(usual.bees, f.start_bees),
        brood_frames: usual.brood * (0.4 * f.start_bees).exp(),
        mites: at(usual.mites, f.start_mites) / 100.0,
        honey: at(usual.honey, f.start_stores),
        wintered: usual.wintered,
    })
}
