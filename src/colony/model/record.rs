//! What a hive's log says to the model: what was seen and done, in order.

use chrono::NaiveDate;

use super::deed::Deed;
use crate::colony::strength::FrameSize;
use crate::model::{Depth, Fed, Frames, Heft, HiveBox, HiveState, MiteCount, Role, Seen};

/// Something that was seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Look {
    /// Deep frames of bees.
    Bees(f64),
    /// Deep frames of brood.
    Brood(f64),
    /// A wash.
    Wash(MiteCount),
    /// Deep frames of honey in the nest.
    Honey(f64),
    /// One lift.
    Heft(Heft),
    /// The whole hive, kg.
    Weight(f64),
    /// Eggs, or none where someone looked.
    Eggs(bool),
}

/// Seen or done.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Item {
    Look(Look),
    Deed(Deed),
}

/// What a hive's log says, by day; on one day what was seen comes before what was done.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    pub(super) items: Vec<(NaiveDate, Item)>,
}

/// The room of a stack: deep frames of drawn comb in the nest, honey boxes in mediums.
fn room(boxes: &[HiveBox]) -> Deed {
    let comb = |each: &HiveBox| {
        let drawn = f64::from(each.holds.drawn.unwrap_or(each.frames).min(each.frames));
        drawn * FrameSize::Inch(each.depth).deep_share()
    };
    let medium = FrameSize::Inch(Depth::Medium).deep_share() * 10.0;
    let of = |role| boxes.iter().filter(move |b| b.role == role).map(comb).sum::<f64>();
    Deed::Room { frames: of(Role::Nest), supers: of(Role::Super) / medium }
}

impl Record {
    /// What a hive's log says of the present colony.
    pub fn of(hive: &HiveState) -> Self {
        let mut items = Vec::new();
        let deep = FrameSize::Inch(hive.nest_depth()).deep_share();
        looks(hive, deep, &mut items);
        deeds(hive, deep, &mut items);
        items.retain(|(on, item)| *on >= hive.came || matches!(item, Item::Deed(Deed::Room { .. })));
        let rank = |item: &Item| u8::from(matches!(item, Item::Deed(_)));
        items.sort_by(|(a, x), (b, y)| (a, rank(x)).cmp(&(b, rank(y))));
        Self { items }
    }

    /// What was seen and done before a day.
    pub(super) fn before(&self, on: NaiveDate) -> Self {
        Self { items: self.items.iter().copied().take_while(|(day, _)| *day < on).collect() }
    }

    /// The last day on which something was seen or done.
    pub fn last(&self) -> Option<NaiveDate> {
        self.items.last().map(|(on, _)| *on)
    }
}

/// All readings of a series, with the last one seen where the series does not have it.
fn readings<T: Copy, S: Copy>(
    series: &[(NaiveDate, T)],
    last: Option<Seen<S>>,
    same: impl Fn(S) -> T,
) -> Vec<(NaiveDate, T)> {
    let mut all = series.to_vec();
    if let Some(seen) = last
        && !all.iter().any(|(on, _)| *on == seen.on)
    {
        all.push((seen.on, same(seen.value)));
    }
    all
}

fn looks(hive: &HiveState, deep: f64, items: &mut Vec<(NaiveDate, Item)>) {
    let (series, seen) = (&hive.series, &hive.seen);
    let frames = |Frames(n): Frames| n;
    let mut add = |on, look| items.push((on, Item::Look(look)));
    let counted = readings(&series.bees, seen.bees, frames);
    for (on, n) in &counted {
        add(*on, Look::Bees(n * deep));
    }
    // Seams from above are frames of bees, where no one lifted them that day.
    if let Some(seams) = seen.seams.filter(|s| !counted.iter().any(|(on, _)| *on == s.on)) {
        add(seams.on, Look::Bees(seams.value.0 * deep));
    }
    for (on, n) in readings(&series.brood, seen.brood, frames) {
        add(on, Look::Brood(n * deep));
    }
    for (on, n) in readings(&series.honey, seen.honey, frames) {
        add(on, Look::Honey(n * deep));
    }
    for (on, heft) in readings(&series.heft, seen.heft, |heft| heft) {
        add(on, Look::Heft(heft));
    }
    for (on, mass) in readings(&series.weight, seen.weight, |mass| mass) {
        add(on, Look::Weight(mass.kilograms()));
    }
    for (on, eggs) in readings(&series.eggs, seen.eggs, |eggs| eggs) {
        add(on, Look::Eggs(eggs));
    }
    for wash in &hive.washes {
        add(wash.on, Look::Wash(*wash));
    }
}

fn deeds(hive: &HiveState, deep: f64, items: &mut Vec<(NaiveDate, Item)>) {
    let mut add = |on, deed| items.push((on, Item::Deed(deed)));
    for fed in &hive.fed {
        match fed {
            Fed::Syrup { on, mix, volume } => {
                add(*on, Deed::Syrup { mix: *mix, volume: *volume });
            }
            Fed::Sugar { on, mass } => add(*on, Deed::Sugar(mass.kilograms())),
            Fed::Honey { on, frames } => add(*on, Deed::Honey(f64::from(*frames) * deep)),
        }
    }
    for course in &hive.courses {
        add(course.began, Deed::Treat(course.treatment, course.until));
        if let Some(ended) = course.ended {
            add(ended, Deed::EndTreatment(course.treatment));
        }
    }
    for (on, frames) in &hive.harvest {
        add(*on, Deed::Harvest(f64::from(*frames)));
    }
    for on in &hive.series.parted {
        add(*on, Deed::Parted);
    }
    for (on, status) in &hive.series.queens {
        add(*on, Deed::Queen(*status));
    }
    if hive.series.queens.last().map(|(_, status)| *status) != Some(hive.queen.status) {
        add(hive.queen.since.unwrap_or(hive.came).max(hive.came), Deed::Queen(hive.queen.status));
    }
    for (on, boxes) in &hive.series.boxes {
        add(*on, room(boxes));
    }
    if hive.series.boxes.last().map(|(_, boxes)| boxes) != Some(&hive.boxes) {
        add(hive.box_added.unwrap_or(hive.came), room(&hive.boxes));
    }
}
