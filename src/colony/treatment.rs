//! Mite treatments by active ingredient and form: what is allowed on a hive today, every reason why another is not,
//! and the dose for these boxes and seams.
//!
//! Labels change and differ by country: the label in hand decides. Each figure says whether it was read in a
//! published page or is from memory, and the keeper's own practice replaces it.

use chrono::NaiveDate;

pub use super::dose::dose;
use crate::colony::treatment_table;
use crate::model::{
    HiveState, LabelLimits, Practice, QueenStatus, Temperature, Treatment, Units, days_after,
};
use crate::wording;

/// How sure a figure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Read in a published page.
    Read,
    /// From memory of the label; not opened.
    Memory,
    /// The keeper's own, from the label in hand.
    Own,
}

/// A figure and how sure it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure<T> {
    /// The figure.
    pub value: T,
    /// How sure.
    pub status: Status,
}

impl<T: Copy> Figure<T> {
    /// Read in a published page.
    pub(super) const fn read(value: T) -> Self {
        Self { value, status: Status::Read }
    }

    pub(super) const fn memory(value: T) -> Self {
        Self { value, status: Status::Memory }
    }

    fn or_own(self, own: Option<T>) -> Self {
        own.map_or(self, |value| Self { value, status: Status::Own })
    }
}

/// How a dose is measured out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DoseRule {
    /// So many pieces a hive, for up to so many brood boxes.
    PerHive {
        /// Pieces.
        pieces: u32,
        /// Brood boxes at most.
        boxes: usize,
        /// What a piece is.
        what: &'static str,
    },
    /// So many pieces a brood box.
    PerBox {
        /// Pieces.
        pieces: u32,
        /// What a piece is.
        what: &'static str,
    },
    /// A piece for so many frames of bees, at most so many a brood box.
    PerFrames {
        /// Frames of bees a piece.
        frames: f64,
        /// Pieces a brood box at most.
        most: u32,
        /// What a piece is.
        what: &'static str,
    },
    /// Milliliters a seam of bees, at most so many a hive.
    PerSeam {
        /// Milliliters a seam.
        millilitres: f64,
        /// Milliliters at most.
        most: f64,
    },
    /// Grams a brood box.
    GramsPerBox {
        /// Grams.
        grams: f64,
    },
    /// As its label says: not known here.
    ByLabel,
}

/// One treatment's limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Which.
    pub treatment: Treatment,
    /// Lowest daytime temperature, Fahrenheit.
    pub from_f: Figure<f64>,
    /// Highest daytime temperature, Fahrenheit.
    pub to_f: Figure<f64>,
    /// Days it stays in, or takes with its repeats.
    pub days: Figure<i64>,
    /// Whether honey boxes may be on.
    pub with_supers: Figure<bool>,
    /// Days after its end before honey boxes go on.
    pub wait_days: Figure<i64>,
    /// Least frames of bees.
    pub least_bees: Figure<f64>,
    /// Courses a year at most.
    pub per_year: Figure<u32>,
    /// Whether it works on mites under the caps, or long enough to outlast them.
    pub outlasts_brood: bool,
    /// The next dose of one course: after how many days, and what is then due.
    pub again: Option<(i64, &'static str)>,
    /// Days from the end of one course to the beginning of the next.
    pub rest_days: Figure<i64>,
    /// Whether its vapor needs the full entrance, without a mouse guard.
    pub full_entrance: bool,
    /// Whether it is proposed; one that is not can be logged all the same.
    pub offered: bool,
    /// The dose.
    pub dose: Figure<DoseRule>,
    /// How it is given and repeated.
    pub how: &'static str,
    /// What to wear.
    pub wear: &'static str,
    /// Where the figures are from.
    pub source: &'static str,
}

impl Limits {
    /// Its figures that are from memory, in words; empty where none is.
    pub fn from_memory(&self) -> Vec<&'static str> {
        let is_memory = |status| status == Status::Memory;
        [
            ("temperature", is_memory(self.from_f.status) || is_memory(self.to_f.status)),
            ("days", is_memory(self.days.status)),
            ("honey boxes", is_memory(self.with_supers.status) || is_memory(self.wait_days.status)),
            ("strength", is_memory(self.least_bees.status)),
            ("courses a year", is_memory(self.per_year.status) || is_memory(self.rest_days.status)),
            ("dose", is_memory(self.dose.status)),
        ]
        .into_iter()
        .filter_map(|(what, memory)| memory.then_some(what))
        .collect()
    }

    fn with_label(self, label: &LabelLimits) -> Self {
        Self {
            from_f: self.from_f.or_own(label.from.map(Temperature::fahrenheit)),
            to_f: self.to_f.or_own(label.to.map(Temperature::fahrenheit)),
            days: self.days.or_own(label.days.map(i64::from)),
            with_supers: self.with_supers.or_own(label.with_supers),
            wait_days: self.wait_days.or_own(label.wait_days.map(i64::from)),
            least_bees: self.least_bees.or_own(label.least_bees),
            per_year: self.per_year.or_own(label.per_year.map(u32::from)),
            outlasts_brood: label.with_brood.unwrap_or(self.outlasts_brood),
            again: label.again_days.map_or(self.again, |days| Some((i64::from(days), AGAIN))),
            rest_days: self.rest_days.or_own(label.rest_days.map(i64::from)),
            full_entrance: label.full_entrance.unwrap_or(self.full_entrance),
            // One of the keeper's own is proposed once its label is there.
            offered: self.offered || self.treatment == Treatment::Own,
            ..self
        }
    }
}

/// What is due where a keeper's label asks for another dose.
const AGAIN: &str = "give the next dose";

/// A treatment's name: the keeper's own word where its label has one.
pub fn name(treatment: Treatment, practice: &Practice) -> String {
    let own = practice.label(treatment).map(|label| label.name.trim()).filter(|name| !name.is_empty());
    own.map_or_else(|| treatment.word().to_owned(), crate::model::visible)
}

/// A treatment's limits, the keeper's own label in place of the table where it says something.
pub fn limits(treatment: Treatment, practice: &Practice) -> Limits {
    let row = treatment_table::row(treatment);
    practice.label(treatment).map_or(*row, |label| row.with_label(label))
}

/// What a treatment is judged by, beside the hive itself.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Conditions {
    /// The reading now: it decides for what is done within the hour; of a course it says only what is too warm already.
    pub reading: Option<Temperature>,
    /// Today's highest temperature, where it is known.
    pub warmest: Option<Temperature>,
    /// Lowest and highest daytime temperature to come while it is in, where a forecast is known.
    pub coming: Option<(Temperature, Temperature)>,
    /// The day honey boxes are wanted on next.
    pub supers_on: Option<NaiveDate>,
    /// Whether a laying queen in season means brood, where nobody looked.
    pub in_season: bool,
    /// The last day for what needs warm days, and for what needs moving bees.
    pub ends_by: Option<(NaiveDate, NaiveDate)>,
    /// The units to speak in.
    pub units: Units,
}

/// Why a treatment is not allowed on this hive today: every reason, none where it is allowed.
///
/// Where a temperature is not known it gives no reason: the caller says so.
pub fn refusals(row: &Limits, hive: &HiveState, today: NaiveDate, conditions: &Conditions) -> Vec<String> {
    let mut why = Vec::new();
    temperature(row, conditions, &mut why);
    if hive.super_boxes() > 0 && !row.with_supers.value {
        why.push(match row.with_supers.status {
            // Labels have changed on it.
            Status::Memory => "honey boxes are on (from memory: the label in hand decides)".to_owned(),
            Status::Read | Status::Own => "honey boxes are on".to_owned(),
        });
    }
    if let Some(on) = conditions.supers_on
        && !row.with_supers.value
        && on > today
    {
        let free = days_after(today, row.days.value + row.wait_days.value);
        if free > on {
            why.push(format!(
                "out and waited for by {} only, and honey boxes go on about {}",
                wording::day(conditions.units, free),
                wording::day(conditions.units, on)
            ));
        }
    }
    if let Some(bees) = hive.seen.bees
        && bees.value.0 < row.least_bees.value
    {
        why.push(format!("too weak: from {} frames of bees", row.least_bees.value));
    }
    if let DoseRule::PerHive { boxes, .. } = row.dose.value
        && hive.nest_boxes() > boxes
    {
        why.push(format!("for {boxes} brood boxes at most"));
    }
    let laying = conditions.in_season && hive.queen.status == QueenStatus::Laying;
    let looked = hive.seen.sealed.is_some_and(|s| (today - s.on).num_days() < 10)
        || hive.seen.brood.is_some_and(|b| (today - b.on).num_days() < 10);
    let has_brood = (laying && !looked)
        || hive.seen.sealed.is_some_and(|s| s.value && (today - s.on).num_days() < 21)
        || hive.seen.brood.is_some_and(|b| b.value.0 > 0.5 && (today - b.on).num_days() < 21);
    if !row.outlasts_brood && has_brood {
        why.push("sealed brood hides most mites from it".to_owned());
    }
    if let Some((warm, moving)) = conditions.ends_by
        && row.days.value > 1
    {
        let needs_warmth = row.from_f.value > 55.0;
        let (last, what) =
            if needs_warmth { (warm, "days are warm enough") } else { (moving, "bees move among it") };
        if days_after(today, row.days.value) > last {
            let last = wording::day(conditions.units, last);
            why.push(format!("takes {} and {what} until about {last}", wording::days(row.days.value)));
        }
    }
    courses(row, hive, today, conditions.units, &mut why);
    why
}

/// Highest temperature of the first three days under formic acid, Fahrenheit: above it brood and queen are at risk (a
/// maker's FAQ).
const SOON_TO: f64 = 92.0;

fn temperature(row: &Limits, conditions: &Conditions, why: &mut Vec<String>) {
    let (from, to) = (row.from_f.value, row.to_f.value);
    let reading = conditions.reading.map(Temperature::fahrenheit);
    let high = conditions.warmest.map(Temperature::fahrenheit);
    // The morning's reading is not the day's high, but the high is no lower.
    if row.days.value > 1 && high.is_none() && reading.is_some_and(|f| f > to) {
        why.push(format!("too warm: to {}", both_scales(to)));
    }
    let decides = if row.days.value > 1 { high } else { reading.or(high) };
    if let Some(f) = decides {
        if f < from {
            why.push(format!("too cold: from {}", both_scales(from)));
        } else if f > to {
            why.push(format!("too warm: to {}", both_scales(to)));
        }
    }
    if let Some((low, high)) = conditions.coming {
        if low.fahrenheit() < from {
            why.push(format!("too cold in the days to come: from {}", both_scales(from)));
        }
        let to = if row.full_entrance { to.max(SOON_TO) } else { to };
        if high.fahrenheit() > to {
            why.push(format!("too warm in the days to come: to {}", both_scales(to)));
        }
    }
}

/// Days within which two courses are of one winter: what is given once each winter is counted by winters.
const A_WINTER: i64 = 190;

fn courses(row: &Limits, hive: &HiveState, today: NaiveDate, units: Units, why: &mut Vec<String>) {
    if let Some(course) = hive.course_on(today) {
        why.push(format!("{} is in the hive", course.treatment.word()));
    }
    let once = row.per_year.value == 1;
    let within = if once { A_WINTER } else { 365 };
    let this_year = hive
        .courses
        .iter()
        .filter(|c| c.treatment == row.treatment && (0..within).contains(&(today - c.began).num_days()))
        .count();
    if this_year >= row.per_year.value as usize {
        why.push(format!(
            "{} within a {} is the most",
            wording::count(row.per_year.value as usize, "course"),
            if once { "winter" } else { "year" }
        ));
    }
    let ended = hive.courses.iter().filter(|c| c.treatment == row.treatment).filter_map(|c| c.ended).max();
    if let Some(free) = ended.map(|on| days_after(on, row.rest_days.value)).filter(|free| *free > today) {
        let rest = wording::days(row.rest_days.value);
        why.push(format!("{rest} between courses: not before {}", wording::day(units, free)));
    }
    if let Some(last) = hive.courses.last()
        && last.treatment == row.treatment
        && (today - last.began).num_days() < within.min(300)
        && row.per_year.value < 4
    {
        why.push(format!("used last, on {}: change the ingredient", wording::day(units, last.began)));
    }
}

/// `50 F (10 C)`.
fn both_scales(f: f64) -> String {
    let t = Temperature::from_fahrenheit(f);
    format!("{} ({})", Units::Us.temperature(t), Units::Metric.temperature(t))
}

/// `50 F (10 C) to 85 F (29 C)`.
pub fn temperature_words(row: &Limits) -> String {
    format!("{} to {}", both_scales(row.from_f.value), both_scales(row.to_f.value))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::{day, frames, hive, seen, with_super};
    use crate::model::{Course, Frames};

    const TODAY: &str = "2026-08-01";

    fn row(treatment: Treatment) -> Limits {
        limits(treatment, &Practice::default())
    }

    fn warm(f: f64) -> Conditions {
        Conditions { warmest: Some(Temperature::from_fahrenheit(f)), ..Conditions::default() }
    }

    fn why(treatment: Treatment, hive: &HiveState, conditions: &Conditions) -> Vec<String> {
        refusals(&row(treatment), hive, day(TODAY), conditions)
    }

    #[test]
    fn every_treatment_has_one_row() {
        for treatment in Treatment::ALL {
            assert_eq!(treatment_table::row(*treatment).treatment, *treatment);
        }
    }

    #[test]
    fn a_treatment_is_never_allowed_outside_its_temperature_now_or_to_come() {
        for treatment in Treatment::ALL {
            let row = row(*treatment);
            for f in -20..120 {
                let f = f64::from(f);
                let inside = (row.from_f.value..=row.to_f.value).contains(&f);
                assert_eq!(why(*treatment, &hive(2), &warm(f)).is_empty(), inside, "{treatment:?} at {f} F");
                // In the first days formic acid bears a little more than on the first.
                let to = if row.full_entrance { row.to_f.value.max(SOON_TO) } else { row.to_f.value };
                let soon = (row.from_f.value..=to).contains(&f);
                let t = Temperature::from_fahrenheit(f);
                let coming = Conditions { coming: Some((t, t)), ..Conditions::default() };
                assert_eq!(
                    why(*treatment, &hive(2), &coming).is_empty(),
                    soon,
                    "{treatment:?} at {f} F to come"
                );
            }
        }
    }

    #[test]
    fn the_reading_decides_for_an_hour_and_says_of_a_course_only_what_is_too_warm() {
        let at = |f| Conditions { reading: Some(Temperature::from_fahrenheit(f)), ..Conditions::default() };
        for (treatment, f, allowed) in [
            (Treatment::OxalicDribble, 36.0, false),
            (Treatment::OxalicDribble, 40.0, true),
            (Treatment::OxalicDribble, 61.0, false),
            (Treatment::ThymolGel, 45.0, true),
            (Treatment::FormicStrips, 72.0, true),
            (Treatment::FormicStrips, 86.0, false),
        ] {
            assert_eq!(why(treatment, &hive(1), &at(f)).is_empty(), allowed, "{treatment:?} {f}");
        }
    }

    #[test]
    fn each_hindrance_gives_its_reason() {
        let none = Conditions::default();
        assert!(why(Treatment::AmitrazStrips, &with_super(), &none)[0].starts_with("honey boxes are on"));
        assert!(why(Treatment::FormicStrips, &with_super(), &none).is_empty());
        let mut weak = hive(1);
        weak.seen.bees = frames(TODAY, 5.75);
        assert!(why(Treatment::FormicStrips, &weak, &none)[0].contains("too weak: from 6 frames"));
        let mut brood = hive(1);
        brood.seen.sealed = seen(TODAY, true);
        assert!(why(Treatment::OxalicDribble, &brood, &none)[0].contains("sealed brood"));
        assert!(why(Treatment::AmitrazStrips, &brood, &none).is_empty());
        assert!(why(Treatment::FormicStrips, &hive(3), &none)[0].contains("2 brood boxes"));
        let spring = Conditions { supers_on: Some(day("2026-09-25")), ..none };
        assert!(why(Treatment::AmitrazStrips, &hive(1), &spring)[0].contains("Sep 26 only"));
        let later = Conditions { supers_on: Some(day("2026-09-26")), ..none };
        assert!(why(Treatment::AmitrazStrips, &hive(1), &later).is_empty());
    }

    #[test]
    fn ingredients_are_rotated_and_courses_counted() {
        let course = |began: &str| {
            let began = day(began);
            Course { treatment: Treatment::AmitrazStrips, began, until: began, ended: Some(began) }
        };
        let mut used = hive(1);
        used.courses = vec![course("2026-05-01")];
        let none = Conditions::default();
        assert!(why(Treatment::AmitrazStrips, &used, &none).iter().any(|w| w.contains("used last")));
        used.courses = vec![course("2025-09-01"), course("2026-03-01")];
        assert!(
            why(Treatment::AmitrazStrips, &used, &none).iter().any(|w| w.contains("2 courses within a year"))
        );
        let mut inside = hive(1);
        inside.courses = vec![Course { ended: None, ..course("2026-07-20") }];
        assert!(why(Treatment::ThymolGel, &inside, &none)[0].contains("amitraz strips is in the hive"));
    }

    #[test]
    fn doses_follow_boxes_and_seams() {
        let mut state = hive(2);
        state.seen.seams = Some(crate::model::Seen { on: day(TODAY), value: Frames(12.0) });
        state.seen.bees = frames(TODAY, 11.0);
        for (treatment, dose_words) in [
            (Treatment::FormicStrips, "2 strips"),
            (Treatment::OxalicDribble, "50 mL (5 mL a seam, 12 seams)"),
            (Treatment::OxalicVapour, "2 g (1 g a brood box)"),
            (Treatment::AmitrazStrips, "3 strips"),
            (Treatment::HopAcidStrips, "4 strips"),
        ] {
            assert_eq!(dose(&row(treatment), &state), dose_words, "{treatment:?}");
        }
        state.seen.seams = Some(crate::model::Seen { on: day(TODAY), value: Frames(6.0) });
        assert!(dose(&row(Treatment::OxalicDribble), &state).starts_with("30 mL"));
    }

    #[test]
    fn the_label_in_hand_replaces_the_table() {
        let label = LabelLimits { with_supers: Some(true), ..LabelLimits::of(Treatment::OxalicVapour) };
        let mut practice = Practice::default();
        practice.labels.push(label);
        let row = limits(Treatment::OxalicVapour, &practice);
        assert_eq!(row.with_supers, Figure { value: true, status: Status::Own });
        assert!(refusals(&row, &with_super(), day(TODAY), &Conditions::default()).is_empty());
        assert!(!row.from_memory().contains(&"days") || row.days.status == Status::Memory);
    }
}
