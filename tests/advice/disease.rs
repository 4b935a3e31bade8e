//! Disease and dead-outs. Sources: WOAH Terrestrial Code ch. 9.2 and 9.3; New Zealand's American foulbrood agency on
//! dead hives; National Bee Unit on standstill; Am. Bee J., Mar. 2020, on dead-outs.

use yardwalk::advice::{Deed, Urgency};
use yardwalk::model::{Action, Bees, Disease, Frames, Loss, Mites, Origin};

use crate::case::Case;

/// D4.
#[test]
fn suspicion_outlives_the_colony_whatever_cause_is_typed() {
    for loss in Loss::ALL {
        let told = Case::deeps(1, "2026-09-15")
            .saw("2026-06-15", |f| f.disease = Some(Disease::Sunken))
            .did("2026-09-15", &[Action::Retire { loss: *loss }])
            .advice();
        told.says("disease.suspect", Urgency::Stop);
        assert!(!told.text().to_lowercase().contains("healthy comb"), "{loss:?}: {}", told.text());
    }
}

#[test]
fn a_colony_lost_to_disease_is_suspected_though_no_sign_was_logged() {
    let told =
        Case::deeps(1, "2026-09-15").did("2026-09-10", &[Action::Retire { loss: Loss::Disease }]).advice();
    told.says("disease.suspect", Urgency::Stop);
}

/// D5.
#[test]
fn new_bees_on_suspected_gear_are_a_stop() {
    let told = Case::deeps(1, "2027-04-25")
        .saw("2026-06-15", |f| f.disease = Some(Disease::Sunken))
        .did("2026-09-15", &[Action::Retire { loss: Loss::Small }])
        .did("2027-04-20", &[Action::Restock { origin: Origin::Package }])
        .advice();
    let prompt = told.says("disease.suspect", Urgency::Stop);
    assert!(prompt.title.contains("new bees on suspected gear"), "{}", prompt.title);
    assert!(told.by("feed.new-colony").is_none(), "{}", told.list());
}

/// D7.
#[test]
fn cleared_is_cleared() {
    let told = Case::deeps(1, "2026-06-20")
        .saw("2026-06-01", |f| f.disease = Some(Disease::Sunken))
        .did("2026-06-15", &[Action::ClearDisease])
        .air(75.0)
        .advice();
    assert!(told.by("disease.suspect").is_none());
    assert!(!told.live.prompts.is_empty(), "the season's ordinary prompts");
}

/// D2 and D3.
#[test]
fn nothing_goes_from_hive_to_hive_in_the_yard_of_a_suspect() {
    let told = Case::deeps(1, "2026-08-20")
        .air(76.0)
        .beside("S", |f| f.disease = Some(Disease::Twisted))
        .sees(|f| f.bees = Some(Frames(4.0)))
        .advice();
    told.never(&[Deed::Unites, Deed::MovesComb]);
    assert!(told.by("disease.suspect").is_none());
}

/// D10, L6.
#[test]
fn a_dead_hive_is_told_by_its_own_count() {
    let told = Case::deeps(1, "2026-03-20")
        .saw("2025-09-10", |f| {
            f.mites = Some(Mites(24));
            f.wash_bees = Some(Bees(300));
        })
        .sees(|f| f.dead = Some(true))
        .advice();
    let prompt = told.says("dead-out", Urgency::Must);
    assert!(prompt.why.contains("8.0 %") && prompt.why.contains("mites first"), "{}", prompt.why);
    assert!(told.text().contains("until then the stack stays together"));
    told.never(&[Deed::Washes]);
}

/// D8: no stop, no silence; its combs stay its own.
#[test]
fn chalkbrood_is_kept_dry_and_its_combs_to_itself() {
    let told = Case::deeps(2, "2026-05-20")
        .air(70.0)
        .sees(|f| {
            f.disease = Some(Disease::Chalk);
            f.pattern = Some(yardwalk::model::Pattern::Spotty);
            f.bees = Some(Frames(6.0));
        })
        .advice();
    told.says("brood.signs", Urgency::Should);
    assert!(told.by("disease.suspect").is_none());
    told.never(&[Deed::MovesComb]);
    told.mentions(&["requeen", "no drug"]);
}

/// D6: a record is not wiped by a new colony.
#[test]
fn who_cleared_it_and_when_stays_on_the_record() {
    use yardwalk::model::Authority;
    let on = crate::case::day("2026-06-12");
    let case = Case::deeps(1, "2026-06-20")
        .saw("2026-06-01", |f| f.disease = Some(Disease::Sunken))
        .did("2026-06-15", &[Action::DiseaseCleared { by: Authority::Laboratory, on }])
        .did(
            "2026-06-18",
            &[Action::Retire { loss: Loss::Queen }, Action::Restock { origin: Origin::Package }],
        );
    assert!(case.advice().by("disease.suspect").is_none());
    case.with(|h| {
        let cleared = h.cleared.last().unwrap();
        assert_eq!((cleared.by, cleared.on), (Some(Authority::Laboratory), on));
        assert_eq!(h.former.len(), 1);
    });
}

/// D11: dead bees are not washed, and the strips come out with the rest.
#[test]
fn strips_come_out_of_a_dead_hive() {
    use yardwalk::model::Treatment;
    let told = Case::deeps(1, "2026-03-20")
        .treated(Treatment::AmitrazStrips, "2025-10-10", "2025-11-21", None)
        .sees(|f| f.dead = Some(true))
        .advice();
    told.says("followup", Urgency::Must);
    told.never(&[Deed::Washes]);
    told.never_in_words(&["wash again"]);
}

/// D12: none proves nothing.
#[test]
fn a_dead_nest_nobody_looked_at_stays_together() {
    let told =
        Case::deeps(1, "2026-03-20").did("2026-03-15", &[Action::Retire { loss: Loss::Small }]).advice();
    told.says("dead-out", Urgency::Should);
    told.mentions(&["no comb goes to another hive", "scale"]);
    let looked = Case::deeps(1, "2026-03-20")
        .did("2026-03-15", &[Action::Retire { loss: Loss::Small }])
        .sees(|f| f.disease = Some(Disease::None))
        .advice();
    assert!(looked.by("dead-out").is_none());
}

/// Sacbrood, droppings, poisoning, pests, a wet cover: each has its word.
#[test]
fn what_the_keeper_can_tell_has_its_answer() {
    use yardwalk::model::{Cover, Findings, Pests};
    type Set = fn(&mut Findings);
    let seen: [(&str, Set); 8] = [
        ("brood.signs", |f| f.disease = Some(Disease::Sac)),
        ("droppings", |f| f.droppings = Some(true)),
        ("poisoning", |f| f.dying = Some(true)),
        ("pests", |f| f.pests = Some(Pests::Beetles)),
        ("pests", |f| f.pests = Some(Pests::Bear)),
        ("pests", |f| f.pests = Some(Pests::Wasps)),
        ("cover.state", |f| f.cover = Some(Cover::Damp)),
        ("cover.state", |f| f.cover = Some(Cover::Broken)),
    ];
    for (rule, set) in seen {
        let told = Case::deeps(1, "2026-06-20").air(75.0).sees(set).advice();
        assert!(told.by(rule).is_some(), "{rule}: {}", told.list());
    }
}
