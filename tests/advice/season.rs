//! Places, the season's edges and what is said once a year. Sources: the law of dates for eastern North America
//! (Hopkins); Univ. of Georgia for the south; a cold-winter honey bee centre on single brood chambers; the rest common
//! practice.

use yardwalk::advice::{Deed, Urgency};
use yardwalk::model::{Bees, BottomBox, Frames, Heft, Mass, Mites, Percent};

use crate::case::{At, Case, day};

/// P1: the bees outrank the calendar, and the south does not wait for June.
#[test]
fn a_strong_colony_of_the_south_gets_its_honey_box_in_april() {
    let strong =
        |on: &str| Case::deeps(2, on).at(At::Piedmont).air(72.0).sees(|f| f.bees = Some(Frames(18.0)));
    let told = strong("2026-04-10").advice();
    assert!(!told.doing(&[Deed::AddsSuper]).is_empty(), "{}", told.list());
    let told =
        strong("2026-04-20").honey_box("2026-04-08").sees(|f| f.super_full = Some(Percent(90.0))).advice();
    assert_eq!(told.says("super.add", Urgency::Must).title, "Add the next super");
}

/// P2: ripe is ripe.
#[test]
fn ripe_honey_is_pulled_in_may_where_it_is_ripe_in_may() {
    let told = Case::deeps(2, "2026-05-25")
        .at(At::Piedmont)
        .honey_box("2026-04-10")
        .air(80.0)
        .sees(|f| {
            f.capped = Some(Percent(95.0));
            f.super_full = Some(Percent(95.0));
            f.moisture = Some(Percent(17.4));
        })
        .advice();
    told.says("honey.pull", Urgency::Should);
}

/// P3: a keeper's own flow is taken as written.
#[test]
fn a_flow_of_the_keepers_own_is_any_flow() {
    use yardwalk::model::{DateId, OwnDate, Practice};
    let mut practice = Practice::default();
    let own = OwnDate {
        date: DateId::MainFlow,
        opens: Some("04-01".parse().unwrap()),
        closes: Some("06-05".parse().unwrap()),
    };
    assert_eq!(practice.set_date(own), Ok(()));
    assert!(practice.faults().is_empty());
    let told = Case::deeps(2, "2026-04-20")
        .practice(|p| *p = practice)
        .honey_box("2026-04-02")
        .air(70.0)
        .sees(|f| {
            f.bees = Some(Frames(16.0));
            f.super_full = Some(Percent(80.0));
        })
        .advice();
    told.says("super.add", Urgency::Must);
}

/// P4: once, where it is seen; and no deadline from a law that was not drawn there.
#[test]
fn a_place_beyond_the_law_is_asked_for_its_dates_and_given_no_deadline() {
    for on in ["2026-08-15", "2026-09-05", "2026-10-05"] {
        let told = Case::deeps(1, on).at(At::Valley).air(72.0).advice();
        let asked = told.says("dates.unknown", Urgency::Should);
        assert!(asked.why.contains("freeze") && asked.why.contains("flow"), "{}", asked.why);
        for rule in ["mouse-guard", "upper-entrance", "super.off", "entrance.narrow", "mites.winter-bees"] {
            assert!(told.by(rule).is_none(), "{on} {rule}: {}", told.list());
        }
        told.never_in_words(&["Heavy feeding is over when Aug", "Heavy feeding is over when Sep"]);
        let second = Case::deeps(1, on).at(At::Valley).air(72.0).beside("A", |_| ()).advice();
        assert!(second.by("dates.unknown").is_none(), "said once a yard");
    }
}

/// P5.
#[test]
fn by_its_freeze_dates_the_valley_has_its_swarm_check() {
    let told = Case::deeps(2, "2026-05-10")
        .at(At::ValleyByFreezes)
        .air(68.0)
        .sees(|f| f.bees = Some(Frames(18.0)))
        .advice();
    told.says("swarm.check", Urgency::Should);
}

/// P6: room and swarm check by the bees, though the law would have it late winter.
#[test]
fn on_the_front_range_the_bees_say_that_it_is_spring() {
    let told = Case::deeps(1, "2026-05-05")
        .at(At::FrontRange)
        .air(70.0)
        .sees(|f| {
            f.bees = Some(Frames(9.0));
            f.brood = Some(Frames(7.0));
        })
        .advice();
    assert!(told.by("space.nest").is_some(), "{}", told.list());
    assert!(told.by("swarm.check").is_some(), "{}", told.list());
    assert!(told.by("dates.unknown").is_some());
    told.never_in_words(&["late winter is when"]);
}

/// P7.
#[test]
fn boxes_stay_in_the_high_park_while_nectar_comes() {
    let told = Case::deeps(2, "2026-07-12")
        .at(At::HighPark)
        .honey_box("2026-06-20")
        .air(76.0)
        .sees(|f| {
            f.super_full = Some(Percent(50.0));
            f.capped = Some(Percent(10.0));
        })
        .advice();
    told.never(&[Deed::TakesSupers, Deed::TakesHoney]);
}

/// P8: as the nights allow, not by the date alone.
#[test]
fn boxes_are_reversed_in_the_high_park_as_the_nights_allow() {
    let told = Case::deeps(2, "2026-05-20")
        .at(At::HighPark)
        .air(65.0)
        .sees(|f| {
            f.bees = Some(Frames(12.0));
            f.bottom_box = Some(BottomBox::Empty);
        })
        .advice();
    let prompt = told.by("nest.bottom-box").unwrap();
    assert!(prompt.title.contains("nights"), "{}", prompt.title);
}

/// P9: the year turned by half.
#[test]
fn the_isle_has_spring_in_october_and_its_winter_bees_in_february() {
    let spring = Case::deeps(2, "2026-10-25")
        .at(At::Isle)
        .air(68.0)
        .sees(|f| {
            f.bees = Some(Frames(14.0));
            f.brood = Some(Frames(8.0));
        })
        .advice();
    assert!(spring.by("swarm.check").is_some(), "{}", spring.list());
    for rule in ["mouse-guard", "upper-entrance", "feed.winter-weight", "entrance.narrow"] {
        assert!(spring.by(rule).is_none(), "{rule}");
    }
    let summer = Case::deeps(1, "2027-02-10")
        .at(At::Isle)
        .air(72.0)
        .sees(|f| {
            f.mites = Some(Mites(9));
            f.wash_bees = Some(Bees(300));
        })
        .advice();
    summer.says("mites.treat", Urgency::Must);
}

/// S1.
#[test]
fn before_frost_is_over_boxes_stay_as_they_are() {
    let told =
        Case::deeps(2, "2026-04-10").air(65.0).sees(|f| f.bottom_box = Some(BottomBox::Empty)).advice();
    told.never(&[Deed::Reverses, Deed::TakesNestBox]);
    told.says("nest.bottom-box", Urgency::May);
}

/// S2: reverse, leave, take off, by what is in the bottom box and by the bees.
#[test]
fn on_the_first_of_may_the_bottom_box_has_its_word() {
    let with = |bottom, bees| {
        Case::deeps(2, "2026-05-01").air(65.0).sees(move |f| {
            f.bottom_box = Some(bottom);
            f.bees = Some(Frames(bees));
        })
    };
    let reversed = with(BottomBox::Empty, 9.0).advice();
    assert!(reversed.says("nest.bottom-box", Urgency::Should).deeds.contains(&Deed::Reverses));
    let left = with(BottomBox::Joint, 9.0).advice();
    left.never(&[Deed::Reverses]);
    let small = with(BottomBox::Empty, 3.0).advice();
    small.never(&[Deed::Reverses]);
    assert!(small.says("nest.bottom-box", Urgency::Should).deeds.contains(&Deed::TakesNestBox));
    assert!(small.by("mites.wash").is_some() || small.waits("mites.wash").is_some(), "{}", small.list());
}

/// S3: from memory, three frames build alone.
#[test]
fn a_handful_in_late_april_is_united_or_nursed() {
    let told = Case::deeps(1, "2026-04-28")
        .air(65.0)
        .sees(|f| {
            f.bees = Some(Frames(1.5));
            f.brood = Some(Frames(0.5));
            f.mites = Some(Mites(1));
            f.wash_bees = Some(Bees(300));
        })
        .advice();
    let prompt = told.says("combine.weak", Urgency::Should);
    assert!(prompt.title.contains("Too small"), "{}", prompt.title);
}

/// S4.
#[test]
fn three_frames_in_october_are_united_while_it_is_mild() {
    let told = Case::deeps(1, "2026-10-05")
        .air(65.0)
        .beside("N", |f| {
            f.bees = Some(Frames(10.0));
            f.eggs = Some(true);
            f.disease = Some(yardwalk::model::Disease::None);
            f.mites = Some(Mites(1));
            f.wash_bees = Some(Bees(300));
        })
        .sees(|f| {
            f.bees = Some(Frames(3.0));
            f.weight = Some(Mass::from_pounds(60.0));
            f.disease = Some(yardwalk::model::Disease::None);
            f.mites = Some(Mites(1));
            f.wash_bees = Some(Bees(300));
        })
        .advice();
    let prompt = told.says_today("combine.weak", Urgency::Should);
    assert!(prompt.deeds.contains(&Deed::Unites), "{}", told.list());
}

/// S5: the one that dwindles is the suspect.
#[test]
fn a_weak_colony_never_looked_at_is_looked_at_before_it_is_united() {
    let told = Case::deeps(1, "2026-08-20")
        .air(76.0)
        .beside("N", |f| {
            f.bees = Some(Frames(10.0));
            f.disease = Some(yardwalk::model::Disease::None);
            f.mites = Some(Mites(1));
            f.wash_bees = Some(Bees(300));
        })
        .sees(|f| f.bees = Some(Frames(4.0)))
        .advice();
    told.never(&[Deed::Unites]);
    let prompt = told.says("combine.weak", Urgency::Should);
    assert!(prompt.title.contains("look at its brood"), "{}", prompt.title);
    told.never_in_words(&["wintered down"]);
}

/// S6.
#[test]
fn a_split_in_late_july_winters_only_with_a_mated_queen_and_its_sum_is_shown() {
    let told = Case::deeps(2, "2026-07-25")
        .air(78.0)
        .sees(|f| {
            f.bees = Some(Frames(14.0));
            f.brood = Some(Frames(7.0));
        })
        .advice();
    let prompt = told.says("split.last", Urgency::May);
    assert!(prompt.why.contains("frames of bees"), "{}", prompt.why);
}

/// S7, L1, F2 in winter: a reason to do nothing is not a must.
#[test]
fn in_january_nothing_is_a_must_and_nothing_is_opened() {
    let told = Case::deeps(1, "2026-01-10").air(25.0).sees(|f| f.heft = Some(Heft::Heavy)).advice();
    assert!(told.all().all(|p| p.urgency > Urgency::Must), "{}", told.list());
    told.never(&[Deed::OpensLid, Deed::LiftsFrames, Deed::CracksLid]);
}

/// S8: all done and heavy, no invented work.
#[test]
fn a_hive_that_is_ready_is_left_alone() {
    let told = Case::deeps(1, "2026-10-20")
        .with(|h| {
            h.mouse_guard = true;
            h.upper_entrance = true;
            h.entrance = yardwalk::model::Entrance::Reduced;
        })
        .air(55.0)
        .saw("2026-09-28", |f| {
            f.mites = Some(Mites(1));
            f.wash_bees = Some(Bees(300));
        })
        .sees(|f| {
            f.heft = Some(Heft::Heavy);
            f.cracks = Some(false);
        })
        .advice();
    let asked: Vec<_> = told.live.prompts.iter().filter(|p| p.urgency <= Urgency::Should).collect();
    assert!(asked.is_empty(), "{}", told.list());
}

/// W6, P7: in the high park cold comes early, and it is said as a guess.
#[test]
fn in_the_high_park_it_is_fed_now_and_never_too_late() {
    let told = Case::deeps(2, "2026-08-28")
        .at(At::HighPark)
        .air(72.0)
        .sees(|f| f.weight = Some(Mass::from_pounds(120.0)))
        .advice();
    let prompt = told.says("feed.winter-weight", Urgency::Must);
    assert!(prompt.title.contains("Feed thick syrup"), "{}", prompt.title);
    told.never_in_words(&["late since", "too late"]);
}

/// The season's reminder, and how it ends.
#[test]
fn registration_is_recalled_once_a_year_and_can_be_turned_off() {
    let on = |today: &str| Case::deeps(1, today).air(60.0);
    on("2026-04-05").advice().says("registration", Urgency::May);
    assert!(on("2026-05-05").advice().by("registration").is_none());
    let off = on("2026-04-05").practice(|p| assert!(p.set("register_month", Some(0.0))));
    assert!(off.advice().by("registration").is_none());
    assert_eq!(day("2026-04-05").to_string(), "2026-04-05");
}
