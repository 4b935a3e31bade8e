//! Mite treatments by active ingredient and form: what is allowed on a hive today, and why the rest is not.
//!
//! Labels change and differ by country: the label in hand decides. Each row says where its figures are from.

use chrono::NaiveDate;

use crate::model::{HiveState, Temperature, Treatment};

/// How sure a row's figures are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Read in a published page.
    Read,
    /// From memory of the label; not opened.
    Memory,
}

impl Status {
    /// In words, for the screen.
    pub fn words(self) -> &'static str {
        match self {
            Self::Read => "read in a published page",
            Self::Memory => "from memory: check the label",
        }
    }
}

/// One treatment's limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Which.
    pub treatment: Treatment,
    /// Lowest daytime temperature, Fahrenheit.
    pub from_f: f64,
    /// Highest daytime temperature, Fahrenheit.
    pub to_f: f64,
    /// Days it stays.
    pub days: i64,
    /// Whether honey boxes may be on.
    pub with_supers: bool,
    /// Days after its end before honey boxes go on.
    pub wait_days: i64,
    /// Least frames of bees.
    pub least_bees: f64,
    /// Whether it reaches mites under the caps.
    pub reaches_brood: bool,
    /// Dose, in words.
    pub dose: &'static str,
    /// What to wear.
    pub wear: &'static str,
    /// Where the figures are from.
    pub source: &'static str,
    /// How sure they are.
    pub status: Status,
}

/// Every treatment.
pub const TABLE: &[Limits] = &[
    Limits {
        treatment: Treatment::FormicStrips,
        from_f: 50.0,
        to_f: 85.0,
        days: 14,
        with_supers: true,
        wait_days: 0,
        least_bees: 6.0,
        reaches_brood: true,
        dose: "2 strips on the top bars; entrance full width",
        wear: "acid-proof gloves, eye cover",
        source: "maker's pages for the US 14-day form: 50 to 85 F on the day",
        status: Status::Read,
    },
    Limits {
        treatment: Treatment::ThymolGel,
        from_f: 59.0,
        to_f: 105.0,
        days: 28,
        with_supers: false,
        wait_days: 0,
        least_bees: 5.0,
        reaches_brood: false,
        dose: "1 tray of 50 g, a second after 14 days",
        wear: "gloves",
        source: "US label",
        status: Status::Memory,
    },
    Limits {
        treatment: Treatment::OxalicDribble,
        from_f: 37.0,
        to_f: 60.0,
        days: 1,
        with_supers: false,
        wait_days: 0,
        least_bees: 2.0,
        reaches_brood: false,
        dose: "5 mL of 35 g/L in 1:1 syrup a seam, 50 mL at most",
        wear: "acid-proof gloves, eye cover",
        source: "mix 35 g/L read in published pages; the rest US label",
        status: Status::Memory,
    },
    Limits {
        treatment: Treatment::OxalicVapour,
        from_f: 37.0,
        to_f: 80.0,
        days: 1,
        with_supers: false,
        wait_days: 0,
        least_bees: 2.0,
        reaches_brood: false,
        dose: "1 g a brood box by the 2015 label; the label in hand decides",
        wear: "respirator for acid gas with P100, goggles, gloves; no one downwind",
        source: "dose read in published pages; the rest US label",
        status: Status::Memory,
    },
    Limits {
        treatment: Treatment::AmitrazStrips,
        from_f: 50.0,
        to_f: 105.0,
        days: 42,
        with_supers: false,
        wait_days: 14,
        least_bees: 3.0,
        reaches_brood: false,
        dose: "1 strip for 5 frames of bees, 2 a brood box",
        wear: "gloves",
        source: "US label",
        status: Status::Memory,
    },
    Limits {
        treatment: Treatment::HopAcidStrips,
        from_f: 50.0,
        to_f: 92.0,
        days: 14,
        with_supers: true,
        wait_days: 0,
        least_bees: 3.0,
        reaches_brood: false,
        dose: "2 strips a ten-frame brood box",
        wear: "gloves",
        source: "US label, little confidence",
        status: Status::Memory,
    },
];

/// The row of a treatment.
pub fn limits(treatment: Treatment) -> Option<&'static Limits> {
    TABLE.iter().find(|row| row.treatment == treatment)
}

/// Why a treatment is not allowed on this hive today: every reason, none where it is allowed.
///
/// `warmest` is the day's temperature where it is known. `sealed_brood` is whether most mites may be under caps.
pub fn refusals(
    row: &Limits,
    hive: &HiveState,
    warmest: Option<Temperature>,
    today: NaiveDate,
) -> Vec<String> {
    let mut why = Vec::new();
    if let Some(warm) = warmest {
        let f = warm.fahrenheit();
        if f < row.from_f {
            why.push(format!("too cold: from {:.0} F ({:.0} C)", row.from_f, celsius(row.from_f)));
        } else if f > row.to_f {
            why.push(format!("too warm: to {:.0} F ({:.0} C)", row.to_f, celsius(row.to_f)));
        }
    }
    if hive.super_boxes() > 0 && !row.with_supers {
        why.push("honey boxes are on".to_owned());
    }
    if let Some(bees) = hive.seen.bees
        && bees.value.0 < row.least_bees
    {
        why.push(format!("too weak: from {} frames of bees", row.least_bees));
    }
    if !row.reaches_brood
        && row.days < 7
        && hive.seen.sealed.is_some_and(|s| s.value && (today - s.on).num_days() < 21)
    {
        why.push("sealed brood hides most mites from it".to_owned());
    }
    if let Some(last) = hive.courses.last()
        && last.treatment == row.treatment
        && (today - last.began).num_days() < 300
    {
        why.push(format!("used last, on {}: change the ingredient", last.began));
    }
    why
}

fn celsius(f: f64) -> f64 {
    (f - 32.0) / 1.8
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::{day, hive, with_super};
    use crate::model::{Course, Frames, Seen};

    fn row(treatment: Treatment) -> &'static Limits {
        limits(treatment).unwrap()
    }

    #[test]
    fn every_treatment_has_one_row() {
        for treatment in Treatment::ALL {
            assert_eq!(TABLE.iter().filter(|r| r.treatment == *treatment).count(), 1, "{treatment:?}");
        }
        assert_eq!(TABLE.len(), Treatment::ALL.len());
    }

    /// 50 to 85 F on the day: the maker's pages for the US 14-day form.
    #[test]
    fn a_treatment_is_never_allowed_outside_its_temperature() {
        let today = day("2026-08-01");
        for row in TABLE {
            for f in -20..120 {
                let allowed =
                    refusals(row, &hive(2), Some(Temperature::from_fahrenheit(f64::from(f))), today)
                        .is_empty();
                let inside = (row.from_f..=row.to_f).contains(&f64::from(f));
                assert_eq!(allowed, inside, "{:?} at {f} F", row.treatment);
            }
        }
    }

    #[test]
    fn honey_boxes_weakness_and_last_use_each_give_their_reason() {
        let today = day("2026-08-01");
        let amitraz = row(Treatment::AmitrazStrips);
        assert_eq!(refusals(amitraz, &with_super(), None, today), ["honey boxes are on"]);
        assert!(refusals(row(Treatment::FormicStrips), &with_super(), None, today).is_empty());
        let mut weak = hive(1);
        weak.seen.bees = Some(Seen { on: today, value: Frames(5.75) });
        assert!(refusals(row(Treatment::FormicStrips), &weak, None, today)[0].contains("too weak"));
        let mut used = hive(1);
        let began = day("2026-05-01");
        used.courses.push(Course {
            treatment: Treatment::AmitrazStrips,
            began,
            until: began,
            ended: Some(began),
        });
        assert!(refusals(amitraz, &used, None, today)[0].contains("used last"));
    }
}
