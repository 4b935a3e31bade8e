//! Hives for tests: a healthy colony in so many deeps, to be bent to each case.

#![allow(
    clippy::unwrap_used,
    clippy::unnecessary_wraps,
    reason = "test fixtures, shaped as the fields they fill"
)]

use chrono::NaiveDate;

use super::{
    Depth, Frames, Hive, HiveBox, HiveId, HiveState, Origin, Queen, QueenStatus, Role, Seen, YardId,
};

/// A day from its text.
pub(crate) fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// A hive of so many deep nest boxes, overwintered, queen laying, nothing seen yet.
pub(crate) fn hive(deeps: usize) -> HiveState {
    let set_up = Hive::new(
        HiveId::new("T1"),
        Origin::Overwintered,
        day("2025-08-01"),
        vec![HiveBox::new(Depth::Deep, 10, Role::Nest); deeps],
        Queen::of_status(QueenStatus::Laying, None),
    );
    HiveState::start(&set_up, &YardId::new("Test"))
}

pub(crate) fn single() -> HiveState {
    hive(1)
}

/// A double deep with one medium super.
pub(crate) fn with_super() -> HiveState {
    let mut state = hive(2);
    state.boxes.push(HiveBox::new(Depth::Medium, 10, Role::Super));
    state
}

/// So many frames of bees, seen on a day.
pub(crate) fn frames(on: &str, count: f64) -> Option<Seen<Frames>> {
    Some(Seen { on: day(on), value: Frames(count) })
}

/// A finding seen on a day.
pub(crate) fn seen<T>(on: &str, value: T) -> Option<Seen<T>> {
    Some(Seen { on: day(on), value })
}
