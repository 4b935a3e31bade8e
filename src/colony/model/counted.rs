//! A colony of which nothing is known but one count: half of a split to be, or a sum without a book.

use chrono::NaiveDate;

use crate::model::{Frames, Hive, HiveBox, HiveId, HiveState, Origin, Queen, QueenStatus, Seen, YardId};

/// So many deep frames of bees and of brood in these boxes on a day, with a queen who begins as this on it.
pub fn counted(on: NaiveDate, boxes: &[HiveBox], queen: QueenStatus, bees: f64, brood: f64) -> HiveState {
    let queen = Queen::of_status(queen, Some(on));
    let hive = Hive::new(HiveId::new("counted"), Origin::Split, on, boxes.to_vec(), queen);
    let mut state = HiveState::start(&hive, &YardId::new("counted"));
    let frames = |n: f64| Some(Seen { on, value: Frames(n) });
    state.seen.bees = frames(bees);
    state.seen.brood = frames(brood);
    state
}
