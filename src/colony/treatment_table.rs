//! The table of mite treatments: every figure with its status. See `treatment` for what is made of it.

use super::treatment::{DoseRule, Figure, Limits};
use crate::model::Treatment;

const FORMIC: Limits = Limits {
    treatment: Treatment::FormicStrips,
    from_f: Figure::read(50.0),
    to_f: Figure::read(85.0),
    days: Figure::read(14),
    with_supers: Figure::memory(true),
    wait_days: Figure::memory(0),
    least_bees: Figure::read(6.0),
    per_year: Figure::memory(4),
    outlasts_brood: true,
    again: None,
    rest_days: Figure::memory(30),
    full_entrance: true,
    dose: Figure::memory(DoseRule::PerHive { pieces: 2, boxes: 2, what: "strips" }),
    how: "on the top bars; entrance full width, 1/2 in (13 mm) high; a month between courses; above 92 F (33 C) in \
          the first three days brood and queen are at risk",
    wear: "acid-proof gloves, eye cover",
    source: "maker's pages for the US 14-day form and its FAQ for a 7-day form; the rest from memory of the US label",
};

const THYMOL_GEL: Limits = Limits {
    treatment: Treatment::ThymolGel,
    from_f: Figure::read(59.0),
    to_f: Figure::memory(105.0),
    days: Figure::memory(28),
    with_supers: Figure::memory(false),
    wait_days: Figure::memory(0),
    least_bees: Figure::memory(5.0),
    per_year: Figure::memory(2),
    outlasts_brood: true,
    again: Some((14, "give the second thymol tray")),
    rest_days: Figure::memory(0),
    full_entrance: false,
    dose: Figure::memory(DoseRule::PerHive {
        pieces: 1,
        boxes: 2,
        what: "tray of 50 g, a second after 14 days",
    }),
    how: "on the top bars, a rim for room above it",
    wear: "gloves",
    source: "weak below 15 C: read in a published page; the rest from memory of the US label",
};

const OXALIC_DRIBBLE: Limits = Limits {
    treatment: Treatment::OxalicDribble,
    from_f: Figure::memory(37.0),
    to_f: Figure::memory(60.0),
    days: Figure::memory(1),
    with_supers: Figure::memory(false),
    wait_days: Figure::memory(0),
    least_bees: Figure::memory(2.0),
    per_year: Figure::memory(1),
    outlasts_brood: false,
    again: None,
    rest_days: Figure::memory(0),
    full_entrance: false,
    dose: Figure::read(DoseRule::PerSeam { millilitres: 5.0, most: 50.0 }),
    how: "35 g of the dihydrate in 1 L of 1:1 syrup, along each seam; once a winter, without brood",
    wear: "acid-proof gloves, eye cover",
    source: "mix of 35 g/L and 5 mL a seam read in published pages; the rest from memory of the US label",
};

const OXALIC_VAPOR: Limits = Limits {
    treatment: Treatment::OxalicVapour,
    from_f: Figure::memory(37.0),
    to_f: Figure::memory(80.0),
    days: Figure::read(1),
    with_supers: Figure::memory(false),
    wait_days: Figure::memory(0),
    least_bees: Figure::memory(2.0),
    per_year: Figure::memory(12),
    outlasts_brood: false,
    again: None,
    rest_days: Figure::memory(0),
    full_entrance: false,
    dose: Figure::read(DoseRule::GramsPerBox { grams: 1.0 }),
    how: "hive closed ten minutes; with brood again every 5 to 7 days; up to 4 g a box since the June 2025 US label",
    wear: "respirator for acid gas with P100 (NIOSH TC-23C), goggles, gloves; no one downwind",
    source: "1 g a box (2015 label) and up to 4 g (2025 label) read in published pages; the rest from memory",
};

const AMITRAZ: Limits = Limits {
    treatment: Treatment::AmitrazStrips,
    from_f: Figure::memory(50.0),
    to_f: Figure::memory(105.0),
    days: Figure::memory(42),
    with_supers: Figure::memory(false),
    wait_days: Figure::memory(14),
    least_bees: Figure::memory(3.0),
    per_year: Figure::memory(2),
    outlasts_brood: true,
    again: None,
    rest_days: Figure::memory(0),
    full_entrance: false,
    dose: Figure::memory(DoseRule::PerFrames { frames: 5.0, most: 2, what: "strips" }),
    how: "hung between brood frames; never used twice; 56 days at most",
    wear: "gloves",
    source: "from memory of the US label",
};

const HOP_ACIDS: Limits = Limits {
    treatment: Treatment::HopAcidStrips,
    from_f: Figure::memory(50.0),
    to_f: Figure::memory(92.0),
    days: Figure::memory(14),
    with_supers: Figure::memory(true),
    wait_days: Figure::memory(0),
    least_bees: Figure::memory(3.0),
    per_year: Figure::memory(3),
    outlasts_brood: true,
    again: None,
    rest_days: Figure::memory(0),
    full_entrance: false,
    dose: Figure::memory(DoseRule::PerBox { pieces: 2, what: "strips" }),
    how: "over the brood frames; works best without brood",
    wear: "gloves",
    source: "from memory of the US label, with little confidence",
};

/// A treatment's row; one without does not compile.
pub(super) fn row(treatment: Treatment) -> &'static Limits {
    match treatment {
        Treatment::FormicStrips => &FORMIC,
        Treatment::ThymolGel => &THYMOL_GEL,
        Treatment::OxalicDribble => &OXALIC_DRIBBLE,
        Treatment::OxalicVapour => &OXALIC_VAPOR,
        Treatment::AmitrazStrips => &AMITRAZ,
        Treatment::HopAcidStrips => &HOP_ACIDS,
    }
}
