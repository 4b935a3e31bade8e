//! Robbing. Sources: a practical manual of beekeeping on robbing; a Florida association's page; maker's FAQ on the
//! entrance under formic acid; the rest common practice.

use yardwalk::advice::{Deed, Urgency};
use yardwalk::model::{Action, Disease, Entrance, Frames, Mass, Percent, Robbing, Treatment};

use crate::case::Case;

const OPENINGS: &[Deed] = &[
    Deed::OpensLid,
    Deed::CracksLid,
    Deed::LiftsFrames,
    Deed::GivesSyrup,
    Deed::TakesHoney,
    Deed::TakesSupers,
    Deed::Treats,
    Deed::Washes,
    Deed::Unites,
    Deed::OpensUpper,
];

/// R1, C1.
#[test]
fn a_robbed_hive_is_shut_and_all_else_waits() {
    let told = Case::deeps(1, "2026-08-28")
        .did("2026-08-20", &[Action::SetEntrance { entrance: Entrance::Reduced }])
        .air(76.0)
        .sees(|f| {
            f.robbing = Some(Robbing::Robbed);
            f.weight = Some(Mass::from_pounds(80.0));
            f.bees = Some(Frames(6.0));
        })
        .advice();
    told.says("robbing.signs", Urgency::Must);
    told.never(OPENINGS);
}

/// R2.
#[test]
fn treatment_harvest_and_boxes_are_named_as_waiting() {
    let told = Case::deeps(2, "2026-08-20")
        .honey_box("2026-06-10")
        .air(76.0)
        .sees(|f| {
            f.robbing = Some(Robbing::Probing);
            f.capped = Some(Percent(90.0));
            f.mites = Some(yardwalk::model::Mites(12));
            f.wash_bees = Some(yardwalk::model::Bees(300));
        })
        .advice();
    told.never(OPENINGS);
    for rule in ["honey.pull", "super.off"] {
        assert!(told.waits(rule).is_some_and(|why| why.contains("robbing")), "{rule}: {}", told.list());
    }
}

#[test]
fn what_waits_is_not_said_twice() {
    let told = Case::deeps(2, "2026-08-08")
        .saw("2026-07-06", |f| {
            f.mites = Some(yardwalk::model::Mites(2));
            f.wash_bees = Some(yardwalk::model::Bees(300));
        })
        .air(76.0)
        .sees(|f| f.robbing = Some(Robbing::Robbed))
        .advice();
    assert!(told.waits("mites.wash").is_some(), "{}", told.list());
    assert!(told.waits("mites.winter-bees").is_none(), "{}", told.list());
}

/// R3.
#[test]
fn there_are_not_two_widths_of_one_entrance() {
    let told = Case::deeps(1, "2026-10-15").air(60.0).sees(|f| f.robbing = Some(Robbing::Robbed)).advice();
    told.says("robbing.signs", Urgency::Must);
    assert!(told.by("entrance.narrow").is_none(), "{}", told.list());
    told.never(&[Deed::OpensUpper]);
}

/// R4.
#[test]
fn over_formic_acid_their_air_is_kept() {
    let told = Case::deeps(2, "2026-08-06")
        .treated(Treatment::FormicStrips, "2026-08-01", "2026-08-15", None)
        .air(80.0)
        .sees(|f| f.robbing = Some(Robbing::Probing))
        .advice();
    let prompt = told.says("robbing.signs", Urgency::Must);
    assert!(prompt.title.contains("keep its air"), "{}", prompt.title);
    told.never(&[Deed::Narrows]);
    for offer in &prompt.offers {
        let narrows = offer.actions.contains(&Action::SetEntrance { entrance: Entrance::Small });
        let out = offer.actions.contains(&Action::EndTreatment { treatment: Treatment::FormicStrips });
        assert!(!narrows || out, "{} narrows over the strips", offer.label);
    }
}

/// R6 and R7.
#[test]
fn a_neighbors_long_opening_waits_and_none_is_none() {
    let told =
        Case::deeps(1, "2026-08-28").air(76.0).beside("R", |f| f.robbing = Some(Robbing::Robbed)).advice();
    told.never(&[Deed::LiftsFrames]);
    assert!(told.waits("mites.wash").is_some_and(|why| why.contains("R is being robbed")), "{}", told.list());
    let none = Case::deeps(1, "2026-08-28").air(76.0).sees(|f| f.robbing = Some(Robbing::None)).advice();
    assert!(none.by("robbing.signs").is_none());
}

/// D1, C2.
#[test]
fn strips_of_a_suspected_hive_wait_for_the_inspector() {
    let told = Case::deeps(1, "2026-06-15")
        .treated(Treatment::AmitrazStrips, "2026-04-20", "2026-06-01", None)
        .air(75.0)
        .sees(|f| f.disease = Some(Disease::Sunken))
        .advice();
    told.says("disease.suspect", Urgency::Stop);
    assert!(told.by("followup").is_none(), "{}", told.list());
}

/// R5.
#[test]
fn where_it_is_narrow_already_it_is_kept_shut() {
    let told = Case::deeps(1, "2026-08-28")
        .did("2026-08-20", &[Action::SetEntrance { entrance: Entrance::Small }])
        .air(76.0)
        .sees(|f| f.robbing = Some(Robbing::Robbed))
        .advice();
    assert!(told.says("robbing.signs", Urgency::Must).title.contains("Keep it shut"));
    told.never(&[Deed::Narrows, Deed::GivesSyrup]);
    told.mentions(&["wet sheet"]);
}

/// R8: what made it weak is asked, and its combs stay.
#[test]
fn robbed_out_is_closed_and_asked_why() {
    let told = Case::deeps(1, "2026-09-02")
        .saw("2026-08-30", |f| f.robbing = Some(Robbing::Robbed))
        .sees(|f| f.dead = Some(true))
        .advice();
    told.says("dead-out", Urgency::Must);
    told.mentions(&["bee-tight", "after dark", "what made it weak", "until then the stack stays together"]);
    told.never(&[Deed::MovesComb]);
}
