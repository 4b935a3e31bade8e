//! Stores: what a hive has, what it needs for winter.

use chrono::NaiveDate;

use crate::colony::strength::{self, FrameSize};
use crate::colony::syrup;
use crate::model::{Depth, Fed, Heft, HiveBox, HiveState, Mass, Practice, Role};

/// Honey in a full frame, pounds: deep 6 (range 6 to 8), medium 4 (3 to 5), shallow 3. Reference pages disagree;
/// the lower figure is taken, since a colony starves by the difference.
fn honey_per_frame(depth: Depth) -> f64 {
    match depth {
        Depth::Deep => 6.0,
        Depth::Medium => 4.0,
        Depth::Shallow => 3.0,
    }
}

/// A box with drawn frames and no honey, pounds: 20, 14 or 12 for ten frames by depth (trade figures, from memory).
pub fn box_tare(each: &HiveBox) -> f64 {
    let ten = match each.depth {
        Depth::Deep => 20.0,
        Depth::Medium => 14.0,
        Depth::Shallow => 12.0,
    };
    ten * f64::from(each.frames) / 10.0
}

/// Floor, inner cover and lid, pounds (maker lists, from memory).
pub const FLOOR_AND_LIDS: f64 = 5.0 + 3.0 + 8.0;
/// A winter cluster of 20,000 bees, pounds, at 3,500 a pound (package practice, from memory): where nobody counted.
const BEES: f64 = 6.0;
/// A frame of brood beyond its wax, pounds: some 5,000 cells at an eighth of a gram (our estimate).
const BROOD_FRAME: f64 = 1.4;
/// A full frame of pollen, pounds (our estimate).
const POLLEN_FRAME: f64 = 3.0;

/// How stores were judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// Weight less boxes, lids and bees.
    Weighed,
    /// Frames of honey counted.
    Frames,
    /// One lift of the back.
    Hefted,
}

/// Stores as they were judged, with what was fed since.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stores {
    /// Honey and the like in the nest.
    pub mass: Mass,
    /// When they were judged.
    pub on: NaiveDate,
    /// How.
    pub method: Method,
}

impl Stores {
    /// How sure the figure is, in words.
    pub fn doubt(&self) -> &'static str {
        match self.method {
            Method::Weighed => "weighed, less boxes, lids, bees and brood: give or take 10 lb (5 kg)",
            Method::Frames => "from frames counted at 6 lb (2.7 kg) a deep: give or take a quarter",
            Method::Hefted => "from one lift: a guess, give or take 20 lb (9 kg)",
        }
    }
}

/// What of a hive's weight is no honey, as far as it was counted.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Occupants {
    /// Deep frames of bees; a winter cluster where nobody counted.
    pub bees: Option<f64>,
    /// Deep frames of brood.
    pub brood: f64,
    /// Deep frames of pollen.
    pub pollen: f64,
}

/// Boxes, floor, lids, bees, brood and pollen of a hive: its weight with no honey.
pub fn tare(boxes: &[HiveBox], in_it: Occupants) -> Mass {
    let bees = in_it.bees.map_or(BEES, |frames| {
        strength::bees(frames, FrameSize::Inch(Depth::Deep)).mid / strength::BEES_PER_POUND
    });
    let contents = bees + in_it.brood.max(0.0) * BROOD_FRAME + in_it.pollen.max(0.0) * POLLEN_FRAME;
    Mass::from_pounds(boxes.iter().map(box_tare).sum::<f64>() + FLOOR_AND_LIDS + contents)
}

/// What lives in a hive by the last counts within three weeks of a day.
fn occupants(hive: &HiveState, on: NaiveDate) -> Occupants {
    let near = |seen: Option<crate::model::Seen<crate::model::Frames>>| {
        seen.filter(|s| (on - s.on).num_days().abs() <= 21).map(|s| s.value.0)
    };
    Occupants { bees: near(hive.seen.bees), brood: near(hive.seen.brood).unwrap_or(0.0), pollen: 0.0 }
}

/// The last judgement of a hive's stores no older than `days`, with the syrup fed since at `per_gallon` pounds.
pub fn judged(hive: &HiveState, today: NaiveDate, days: i64, practice: &Practice) -> Option<Stores> {
    let fresh = |on: NaiveDate| (today - on).num_days() <= days && on <= today;
    let weighed = hive.seen.weight.filter(|w| fresh(w.on)).map(|w| Stores {
        mass: Mass::from_pounds(
            (w.value.pounds() - tare(&hive.boxes, occupants(hive, w.on)).pounds()).max(0.0),
        ),
        on: w.on,
        method: Method::Weighed,
    });
    let counted = hive.seen.honey.filter(|h| fresh(h.on)).map(|h| Stores {
        mass: Mass::from_pounds(h.value.0 * honey_per_frame(hive.nest_depth())),
        on: h.on,
        method: Method::Frames,
    });
    let hefted = hive.seen.heft.filter(|h| fresh(h.on)).map(|h| Stores {
        mass: Mass::from_pounds(
            capacity(hive).pounds()
                * match h.value {
                    Heft::Light => 0.2,
                    Heft::Fair => 0.55,
                    Heft::Heavy => 0.85,
                },
        ),
        on: h.on,
        method: Method::Hefted,
    });
    // The latest counts; of one day, the surest.
    let best = [hefted, counted, weighed].into_iter().flatten().max_by_key(|s| s.on)?;
    let since: f64 = hive.fed.iter().filter(|f| f.on() >= best.on).map(|f| put_by(f, hive, practice)).sum();
    Some(Stores { mass: Mass::from_pounds(best.mass.pounds() + since), ..best })
}

/// Pounds a feeding puts by.
fn put_by(fed: &Fed, hive: &HiveState, practice: &Practice) -> f64 {
    match fed {
        Fed::Syrup { mix, volume, .. } => syrup::stored(*mix, *volume, practice.pounds_per_gallon()).pounds(),
        Fed::Sugar { mass, .. } => mass.pounds(),
        Fed::Honey { frames, .. } => f64::from(*frames) * honey_per_frame(hive.nest_depth()),
    }
}

/// What the nest's frames hold at most, at the higher figure of 7 lb a deep frame, less two frames for the cluster.
pub fn capacity(hive: &HiveState) -> Mass {
    let pounds: f64 = hive
        .boxes
        .iter()
        .filter(|b| b.role == Role::Nest)
        // Foundation holds nothing.
        .map(|b| {
            f64::from(b.holds.drawn.unwrap_or(b.frames).min(b.frames)) * honey_per_frame(b.depth) * 7.0 / 6.0
        })
        .sum();
    Mass::from_pounds((pounds - 14.0).max(0.0))
}

/// Honey wanted for winter by the size of the nest: the practice's figure for a single deep and more for each
/// further deep of comb, at most 150 lb and never more than the frames hold.
pub fn winter_target(hive: &HiveState, practice: &Practice) -> Mass {
    let further = hive.nest_deeps() - 1.0;
    let pounds = practice.winter_honey() + further * practice.winter_honey_more();
    Mass::from_pounds(pounds.clamp(0.0, 150.0).min(capacity(hive).pounds()))
}

/// What the scale should show for winter: the whole hive with a winter cluster, no brood, and honey to the target.
pub fn winter_weight(hive: &HiveState, target: Mass) -> Mass {
    Mass::from_pounds(tare(&hive.boxes, Occupants::default()).pounds() + target.pounds())
}

/// What less is wanted where the cluster is short: 30 lb under 75 days of it, 15 lb under 100.
///
/// Univ. of Georgia's synopsis and clubs of the south ask for 20 to 40 lb less than the north; the steps are our choice.
pub fn less_for_climate(days_of_cluster: i64) -> Mass {
    Mass::from_pounds(match days_of_cluster {
        ..75 => 30.0,
        75..100 => 15.0,
        100.. => 0.0,
    })
}

/// Honey wanted for winter at a place whose cluster lasts so many days: the keeper's own figure as it stands, the
/// program's less where winters are mild.
pub fn winter_target_at(hive: &HiveState, practice: &Practice, days_of_cluster: i64) -> Mass {
    let target = winter_target(hive, practice);
    if practice.own("winter_honey").is_some() {
        return target;
    }
    Mass::from_pounds((target.pounds() - less_for_climate(days_of_cluster).pounds()).max(0.0))
}

/// Pounds short that are not worth a feeding.
const NEAR_ENOUGH: f64 = 5.0;

/// What stores want of the winter target; none where it is near enough.
pub fn short(stores: &Stores, hive: &HiveState, practice: &Practice) -> Option<Mass> {
    short_of(stores, hive, winter_target(hive, practice))
}

/// What stores want of a target; none where it is near enough, and never more than the frames have room for.
///
/// A weight is compared with what the scale should show, for the brood and the summer bees of its day make room.
pub fn short_of(stores: &Stores, hive: &HiveState, target: Mass) -> Option<Mass> {
    let gone_by_winter = match stores.method {
        Method::Weighed => {
            let of = |in_it| tare(&hive.boxes, in_it).pounds();
            (of(occupants(hive, stores.on)) - of(Occupants::default())).max(0.0)
        }
        Method::Frames | Method::Hefted => 0.0,
    };
    let room = capacity(hive).pounds() - stores.mass.pounds();
    let pounds = (target.pounds() - stores.mass.pounds() - gone_by_winter).min(room);
    (pounds > NEAR_ENOUGH).then(|| Mass::from_pounds(pounds))
}

/// The whole hive from its two sides, each lifted by a scale at the outer edge of the floor.
///
/// Left and right added: exact where it tips on the other outer edge (a UK association's note).
pub fn weighed_by_sides(left: Mass, right: Mass) -> Mass {
    Mass::from_kilograms(left.kilograms() + right.kilograms())
}

/// The whole hive from two lifts of a floor whose rails stand in from the edge.
///
/// `between` is the distance between the rails, `l1` and `l2` from rail to lifting point for each lift, `inset` how far
/// the rail stands in; all in the same unit: W = (F1 (l1 + x2) + F2 (l2 - x2)) / l1, in the notation of the Exeter
/// beekeepers' note on weighing. `None` where `l1` is not above 0.
pub fn weighed_on_rails(f1: Mass, f2: Mass, l1: f64, l2: f64, x2: f64) -> Option<Mass> {
    (l1 > 0.0).then(|| Mass::from_kilograms((f1.kilograms() * (l1 + x2) + f2.kilograms() * (l2 - x2)) / l1))
}

/// The whole hive from one side: twice it, for a level hive with its load in the middle, and its doubt.
///
/// The far side may hold a quarter more or less (common practice, no single source): read both sides when you can.
pub fn hefted_one_side(side: Mass) -> (Mass, Mass, Mass) {
    let whole = |factor| Mass::from_kilograms(side.kilograms() * factor);
    (whole(1.75), whole(2.0), whole(2.25))
}

/// A climate, for the stores wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Climate {
    /// Bees fly in most weeks.
    Mild,
    /// Some weeks of cluster.
    Middle,
    /// Months of cluster.
    Cold,
}

/// Honey wanted for winter by climate, for a full colony: 40, 60, and 80 to 90 lb (a columnist's survey of guides for
/// south, middle and north of the US).
pub fn target_by_climate(climate: Climate) -> (Mass, Mass) {
    let pounds = |low, high| (Mass::from_pounds(low), Mass::from_pounds(high));
    match climate {
        Climate::Mild => pounds(40.0, 40.0),
        Climate::Middle => pounds(60.0, 60.0),
        Climate::Cold => pounds(80.0, 90.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::{day, hive, single};
    use crate::model::{Frames, Mix, Seen, Volume};

    /// Worked from the trade figures: two deeps at 20, floor and lids 16, bees 6 are 62 lb.
    #[test]
    fn a_double_deep_weighs_62_pounds_without_stores() {
        let nobody_counted = tare(&hive(2).boxes, Occupants::default());
        assert!((nobody_counted.pounds() - 62.0).abs() < 1e-9);
        let summer = tare(&hive(2).boxes, Occupants { bees: Some(16.0), brood: 8.0, pollen: 1.0 });
        assert!((summer.pounds() - (56.0 + 11.1 + 11.2 + 3.0)).abs() < 0.1, "{}", summer.pounds());
    }

    #[test]
    fn the_latest_judgement_counts_with_what_was_fed_since() {
        let practice = Practice::default();
        let mut state = single();
        assert_eq!(judged(&state, day("2026-09-10"), 30, &practice), None);
        state.seen.honey = Some(Seen { on: day("2026-09-01"), value: Frames(4.0) });
        let counted = judged(&state, day("2026-09-10"), 30, &practice).unwrap();
        assert!((counted.mass.pounds() - 24.0).abs() < 1e-9);
        state.fed.push(Fed::Syrup {
            on: day("2026-09-02"),
            mix: Mix::Thick,
            volume: Volume::from_gallons(2.0),
        });
        let fed = judged(&state, day("2026-09-10"), 30, &practice).unwrap();
        assert!((fed.mass.pounds() - 38.0).abs() < 1e-9);
        state.seen.weight = Some(Seen { on: day("2026-09-09"), value: Mass::from_pounds(92.0) });
        let weighed = judged(&state, day("2026-09-10"), 30, &practice).unwrap();
        assert!((weighed.mass.pounds() - 50.0).abs() < 1e-9);
        assert_eq!(weighed.method, Method::Weighed);
        assert_eq!(judged(&state, day("2026-12-31"), 30, &practice), None);
    }

    #[test]
    fn one_side_is_doubled_with_its_doubt_said() {
        let (low, mid, high) = hefted_one_side(Mass::from_kilograms(20.0));
        assert!((low.kilograms() - 35.0).abs() < 1e-9);
        assert!((mid.kilograms() - 40.0).abs() < 1e-9);
        assert!((high.kilograms() - 45.0).abs() < 1e-9);
    }

    #[test]
    fn the_winter_target_goes_with_the_size_of_the_nest() {
        let practice = Practice::default();
        for (boxes, pounds) in [(1, 50.0), (2, 80.0), (3, 110.0), (4, 140.0)] {
            assert!((winter_target(&hive(boxes), &practice).pounds() - pounds).abs() < 1e-9, "{boxes}");
        }
    }
}
