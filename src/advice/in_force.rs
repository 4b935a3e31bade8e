//! What is in force at a hive on a day, by its log: worked out once, before any rule speaks.
//!
//! A course of treatment holds boxes, honey, entrance and the bees' peace for its whole time and its waiting time; a
//! robbed hive stays shut, and its yard with it; a virgin is left alone. The engine holds back what would break one of
//! these, and rules read them here instead of asking the log anew.

use chrono::NaiveDate;

use super::situation::Day;
use crate::colony::brood::{self, Beginning};
use crate::colony::treatment;
use crate::model::{
    CellKind, Cleared, Course, Disease, Fed, FeederLevel, HiveId, HiveState, Practice, QueenStatus,
    Treatment, days_after,
};

/// Days after which robbing that nobody has seen since is taken to be over (common practice, no single source).
pub(super) const ROBBING_LASTS: i64 = 2;
/// Days that syrup lasts, a full feeder too (our choice).
const SYRUP_LASTS: i64 = 4;
/// Days that dry sugar or fondant lasts: a look every three to four weeks (extension guides, from memory).
const SUGAR_LASTS: i64 = 21;
/// Days that a frame of honey lasts a colony with brood (our choice).
const HONEY_LASTS: i64 = 10;

/// Why honey is not for people.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unfit {
    /// It was on during a course, or its waiting time, that forbids it.
    Treated(Treatment),
    /// Syrup was given while it was on.
    Fed,
}

/// Why the nest is left in peace.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quiet {
    /// A young queen flies and mates.
    Mating,
    /// A queen is new in her cage.
    Caged,
    /// The bees replace their queen.
    Supersedure,
}

impl Quiet {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Mating => "a virgin may be out mating",
            Self::Caged => "a new queen is in her cage",
            Self::Supersedure => "they are replacing their queen",
        }
    }
}

/// Food given that is there still.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct FoodGiven {
    /// The day by which solid food is gone, for food that is there.
    pub solid_until: Option<NaiveDate>,
    /// The day by which syrup is gone, for syrup that is there.
    pub syrup_until: Option<NaiveDate>,
}

/// What is in force at a hive.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct InForce {
    /// The treatment that keeps honey boxes off, and the first day they may go on.
    pub boxes_from: Option<(Treatment, NaiveDate)>,
    /// Why the honey on the hive is not for people.
    pub unfit: Option<Unfit>,
    /// The course that needs the full entrance and the bees left in peace: formic acid.
    pub vapor: Option<Course>,
    /// The first day without robbing, where it was seen within its days.
    pub robbed_until: Option<NaiveDate>,
    /// Another hive of the yard that is being robbed.
    pub robbed_neighbor: Option<HiveId>,
    /// Another hive of the yard that is suspected of brood disease.
    pub suspect_neighbor: Option<HiveId>,
    /// Why no brood frame is lifted, and the first day one may be.
    pub peace: Option<(Quiet, NaiveDate)>,
    /// Food that was given and is there still.
    pub food: FoodGiven,
    /// The suspicion of disease, which outlives the colony, and its signs.
    pub suspected: Option<(NaiveDate, Disease)>,
    /// The suspicion that was cleared last: when and by whom.
    pub cleared: Option<Cleared>,
}

impl InForce {
    /// Of a hive on a day.
    pub fn of(hive: &HiveState, day: &Day<'_>) -> Self {
        let today = day.today;
        let robbed = |hive: &HiveState| hive.is_alive() && hive.robbed_within(ROBBING_LASTS, today);
        let until = hive.seen.robbing.map(|r| days_after(r.on, ROBBING_LASTS + 1));
        let neighbor = |is_meant: &dyn Fn(&HiveState) -> bool| {
            day.stands
                .iter()
                .find(|other| other.id != hive.id && is_meant(other))
                .map(|other| other.id.clone())
        };
        Self {
            boxes_from: boxes_from(hive, today, day.practice),
            unfit: unfit(hive, today, day.practice),
            vapor: hive.course_on(today).copied().filter(|c| c.treatment == Treatment::FormicStrips),
            robbed_until: until.filter(|_| robbed(hive)),
            robbed_neighbor: neighbor(&robbed),
            suspect_neighbor: neighbor(&|other| other.disease_suspected.is_some()),
            peace: peace(hive, today),
            food: food(hive, today),
            suspected: hive.disease_suspected,
            cleared: hive.cleared.last().copied(),
        }
    }
}

/// Why the nest is left in peace on a day, and until when.
fn peace(hive: &HiveState, today: NaiveDate) -> Option<(Quiet, NaiveDate)> {
    let began = Beginning::of(hive.queen.status).zip(hive.queen.since);
    // Cells of a supersedure that were seen and left, whether or not the keeper wrote down what they are.
    let cells = || {
        let kind = hive.seen.cell_kind.filter(|k| k.value == CellKind::Supersedure)?;
        let has_some = hive.seen.cells.is_some_and(|c| c.on >= kind.on && c.value.0 > 0);
        (has_some && hive.queen.status == QueenStatus::Laying).then_some((Beginning::Supersedure, kind.on))
    };
    let (beginning, since) = began.or_else(cells)?;
    let (from, to) = brood::timeline(beginning, since).keep_out?;
    let why = match beginning {
        Beginning::Caged | Beginning::Package => Quiet::Caged,
        Beginning::Supersedure => Quiet::Supersedure,
        Beginning::WalkAway
        | Beginning::RipeCell
        | Beginning::SealedCell
        | Beginning::Virgin
        | Beginning::PrimeSwarm => Quiet::Mating,
    };
    (from <= today && today < to).then_some((why, to))
}

/// Food that was given and is there still; a feeder seen empty since holds none.
fn food(hive: &HiveState, today: NaiveDate) -> FoodGiven {
    let mut food = FoodGiven::default();
    for fed in hive.fed.iter().filter(|f| f.on() <= today && f.on() >= hive.came) {
        let lasts = |days| Some(days_after(fed.on(), days)).filter(|until| *until > today);
        match fed {
            Fed::Sugar { .. } => food.solid_until = food.solid_until.max(lasts(SUGAR_LASTS)),
            Fed::Honey { .. } => food.solid_until = food.solid_until.max(lasts(HONEY_LASTS)),
            Fed::Syrup { on, .. } => {
                let is_empty = hive.seen.feeder.is_some_and(|f| f.value == FeederLevel::Empty && f.on >= *on);
                food.syrup_until = food.syrup_until.max(lasts(SYRUP_LASTS).filter(|_| !is_empty));
            }
        }
    }
    let full = hive.seen.feeder.filter(|f| f.value == FeederLevel::Full && f.on <= today);
    let until = full.map(|f| days_after(f.on, SYRUP_LASTS)).filter(|until| *until > today);
    food.syrup_until = food.syrup_until.max(until);
    food
}

/// The day a course and its waiting time are over; for one that is still in, counted from the day it is to come out,
/// or from today where that has passed.
fn free_on(course: &Course, today: NaiveDate, practice: &Practice) -> NaiveDate {
    let out = course.ended.unwrap_or_else(|| course.until.max(today));
    days_after(out, treatment::limits(course.treatment, practice).wait_days.value)
}

fn forbids_honey(course: &Course, practice: &Practice) -> bool {
    !treatment::limits(course.treatment, practice).with_supers.value
}

fn boxes_from(hive: &HiveState, today: NaiveDate, practice: &Practice) -> Option<(Treatment, NaiveDate)> {
    let forbids = |c: &&Course| forbids_honey(c, practice) && c.began <= today;
    let last = hive.courses.iter().filter(forbids).max_by_key(|c| free_on(c, today, practice))?;
    let free = free_on(last, today, practice);
    // What is still in keeps them off today, whatever day it was to come out.
    (free > today || last.ended.is_none()).then_some((last.treatment, free))
}

fn unfit(hive: &HiveState, today: NaiveDate, practice: &Practice) -> Option<Unfit> {
    let on_since = hive.supers_since?;
    let met = |c: &&Course| {
        let over = if c.ended.is_none() { today } else { free_on(c, today, practice) };
        // Boxes put on the very day the waiting is over met nothing; a course of one day counts for its day.
        forbids_honey(c, practice) && c.began <= today && (over > on_since || c.began >= on_since)
    };
    if let Some(course) = hive.courses.iter().rev().find(met) {
        return Some(Unfit::Treated(course.treatment));
    }
    let fed = |f: &Fed| matches!(f, Fed::Syrup { on, .. } if *on > on_since && *on <= today);
    hive.fed.iter().any(fed).then_some(Unfit::Fed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::{day, hive, with_super};
    use crate::model::{Mix, Volume};

    fn course(treatment: Treatment, began: &str, ended: Option<&str>) -> Course {
        let began = day(began);
        Course { treatment, began, until: days_after(began, 42), ended: ended.map(day) }
    }

    fn with(courses: &[Course], mut state: HiveState) -> HiveState {
        state.courses = courses.to_vec();
        state
    }

    fn honey_since(on: &str) -> HiveState {
        let mut state = with_super();
        state.supers_since = Some(day(on));
        state
    }

    #[test]
    fn amitraz_keeps_boxes_off_for_fourteen_days_after_it_is_out() {
        let out = with(&[course(Treatment::AmitrazStrips, "2026-04-24", Some("2026-06-05"))], hive(1));
        let from = |on: &str| boxes_from(&out, day(on), &Practice::default()).map(|(_, free)| free);
        assert_eq!(from("2026-06-10"), Some(day("2026-06-19")));
        assert_eq!(from("2026-06-18"), Some(day("2026-06-19")));
        assert_eq!(from("2026-06-19"), None);
        let formic = with(&[course(Treatment::FormicStrips, "2026-06-01", None)], hive(1));
        assert_eq!(boxes_from(&formic, day("2026-06-05"), &Practice::default()), None);
    }

    #[test]
    fn honey_that_was_on_during_a_course_that_forbids_it_stays_unfit() {
        let amitraz = |ended| [course(Treatment::AmitrazStrips, "2026-07-01", ended)];
        let told = |state: &HiveState, on: &str| unfit(state, day(on), &Practice::default());
        let on = honey_since("2026-06-10");
        assert_eq!(
            told(&with(&amitraz(None), on.clone()), "2026-07-20"),
            Some(Unfit::Treated(Treatment::AmitrazStrips))
        );
        let out = with(&amitraz(Some("2026-08-01")), on.clone());
        assert!(told(&out, "2026-08-25").is_some(), "three weeks after the strips came out it is no better");
        // A box put on within the waiting time, on its last day, and after it.
        for (put_on, bad) in [("2026-08-14", true), ("2026-08-15", false), ("2026-08-20", false)] {
            let state = with(&amitraz(Some("2026-08-01")), honey_since(put_on));
            assert_eq!(told(&state, "2026-09-01").is_some(), bad, "{put_on}");
        }
        let formic = with(&[course(Treatment::FormicStrips, "2026-07-01", None)], on.clone());
        assert_eq!(told(&formic, "2026-07-20"), None);
        let mut fed = on;
        fed.fed.push(Fed::Syrup { on: day("2026-07-01"), mix: Mix::Thin, volume: Volume::from_gallons(1.0) });
        assert_eq!(told(&fed, "2026-07-20"), Some(Unfit::Fed));
        assert_eq!(told(&hive(1), "2026-07-20"), None);
    }
}
