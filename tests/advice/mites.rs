//! Mites and counts. Sources: published spring limits of 1 % (without a base); growth a day and the fall of bees: Martin
//! 1998 and field counts of the Univ. of Vermont; DeGrandi-Hoffman et al. 2016 on mites carried in; the rest common practice.

use yardwalk::advice::{Deed, Urgency};
use yardwalk::model::{Bees, CountBy, Frames, Mites, MitesADay, Reply, RuleId, Treatment};

use crate::case::{At, Case, day};

fn counted(case: Case, mites: u16, bees: u16) -> Case {
    case.sees(move |f| {
        f.mites = Some(Mites(mites));
        f.wash_bees = Some(Bees(bees));
    })
}

const TREATS: &[Deed] = &[Deed::Treats];

/// M1.
#[test]
fn none_in_may_is_counted_again_in_a_month() {
    let told = counted(Case::deeps(1, "2026-05-01").air(68.0), 0, 300).advice();
    told.never(TREATS);
    let later = |on: &str| {
        Case::deeps(1, on).air(68.0).saw("2026-05-01", |f| {
            f.mites = Some(Mites(0));
            f.wash_bees = Some(Bees(300));
        })
    };
    assert!(later("2026-05-25").advice().by("mites.wash").is_none());
    later("2026-06-01").advice().says("mites.wash", Urgency::Should);
}

/// M2 and M3.
#[test]
fn one_percent_in_may_is_early_and_two_is_near() {
    let told = counted(Case::deeps(1, "2026-05-01").air(68.0), 3, 300).advice();
    let prompt = told.says("mites.treat", Urgency::May);
    assert!(prompt.title.contains("count again"), "{}", prompt.title);
    told.never_in_words(&["over the limit"]);
    let told = counted(Case::deeps(1, "2026-05-01").air(68.0), 6, 300).advice();
    let prompt = told.by("mites.treat").unwrap();
    assert!(prompt.urgency <= Urgency::Should, "{}", prompt.title);
}

/// M4: what is not out and waited for by the flow is not offered.
#[test]
fn three_percent_in_may_is_treated_with_what_is_out_in_time() {
    let told =
        counted(Case::deeps(1, "2026-05-01").air(68.0), 9, 300).sees(|f| f.bees = Some(Frames(8.0))).advice();
    let prompt = told.says("mites.treat", Urgency::Must);
    let amitraz = prompt.offers.iter().any(|o| {
        o.actions
            .iter()
            .any(|a| matches!(a, yardwalk::model::Action::Treat { treatment: Treatment::AmitrazStrips, .. }))
    });
    assert!(!amitraz, "42 days and 14 of waiting end on Jun 26");
}

/// M5: a day does not make it.
#[test]
fn a_day_before_the_date_a_count_does_not_jump() {
    for (at, on) in [(At::Lakes, "2026-08-14"), (At::Prairie, "2026-08-08")] {
        let told = counted(Case::deeps(1, on).at(at).air(76.0), 4, 300).advice();
        told.never_in_words(&["over the limit", "will be over"]);
        let prompt = told.says("mites.winter-bees", Urgency::Should);
        assert!(prompt.how.iter().any(|line| line.contains("wash again by")), "{:?}", prompt.how);
    }
}

/// M6: the winter bees are being raised.
#[test]
fn after_the_date_a_count_near_the_limit_is_not_left_for_a_month() {
    let told = counted(Case::deeps(1, "2026-08-20").air(76.0), 5, 300).advice();
    told.says("mites.winter-bees", Urgency::Should);
    let later = Case::deeps(1, "2026-09-03").air(72.0).saw("2026-08-20", |f| {
        f.mites = Some(Mites(5));
        f.wash_bees = Some(Bees(300));
    });
    assert!(later.advice().by("mites.wash").is_some(), "{}", later.advice().list());
}

/// M7: a count over the limit is not wiped out by its age.
#[test]
fn five_percent_of_five_weeks_ago_is_still_five_percent() {
    let told = Case::deeps(1, "2026-08-05")
        .air(76.0)
        .saw("2026-07-01", |f| {
            f.mites = Some(Mites(15));
            f.wash_bees = Some(Bees(300));
        })
        .advice();
    let prompt = told.says("mites.wash", Urgency::Must);
    assert!(prompt.why.contains("5.0 %") && prompt.why.contains("nothing was done"), "{}", prompt.why);
}

/// M8: the temperature decides.
#[test]
fn a_few_frames_on_a_warm_day_in_march_are_washed_first() {
    let case = |air| Case::deeps(1, "2026-03-28").air(air).sees(|f| f.bees = Some(Frames(3.0)));
    let told = case(66.0).advice();
    told.says_today("mites.wash", Urgency::Should);
    assert!(case(50.0).advice().by("mites.wash").is_none());
}

/// M9: too few bees, as well as what the figure says.
#[test]
fn a_jar_of_110_bees_is_counted_again_and_its_figure_told() {
    let told = counted(Case::deeps(1, "2026-06-10").air(76.0), 2, 110).advice();
    let prompt = told.says("mites.treat", Urgency::Should);
    assert!(
        prompt.title.contains("Too few bees") && prompt.why.contains("1.8 %"),
        "{} {}",
        prompt.title,
        prompt.why
    );
    let over = counted(Case::deeps(1, "2026-06-10").air(76.0), 3, 110).advice();
    assert!(
        over.text().contains("2.7 %") && over.text().to_lowercase().contains("few bees"),
        "{}",
        over.text()
    );
    over.never_in_words(&["sure"]);
}

/// M10: did it work?
#[test]
fn twelve_days_after_the_strips_it_is_counted() {
    let told = Case::deeps(1, "2026-09-12")
        .treated(Treatment::FormicStrips, "2026-08-17", "2026-08-31", Some("2026-08-31"))
        .saw("2026-08-15", |f| {
            f.mites = Some(Mites(9));
            f.wash_bees = Some(Bees(300));
        })
        .air(72.0)
        .advice();
    assert!(told.by("mites.wash").is_some_and(|p| p.why.contains("whether it worked")), "{}", told.list());
}

/// M11: the queen first.
#[test]
fn without_open_brood_no_wash_is_asked_from_open_brood() {
    let told = Case::deeps(1, "2026-05-12")
        .air(68.0)
        .sees(|f| {
            f.eggs = Some(false);
            f.larvae = Some(false);
            f.sealed = Some(true);
        })
        .advice();
    told.never(&[Deed::Washes]);
    assert!(told.by("queen.missing").is_some(), "{}", told.list());
}

/// A wash that is refused is followed by another way.
#[test]
fn where_alcohol_is_refused_sugar_or_a_board_is_asked_for() {
    let refused = |case: Case| {
        case.with(|h| {
            let answered = yardwalk::model::fold::Answered { on: day("2026-06-01"), reply: Reply::NotNeeded };
            h.answers.insert(RuleId::new("mites.wash"), answered);
        })
    };
    let told = refused(Case::deeps(1, "2026-06-08").air(75.0)).advice();
    told.says("mites.other-count", Urgency::Should);
    let board =
        refused(Case::deeps(1, "2026-07-08").air(75.0).sees(|f| f.board = Some(MitesADay(22)))).advice();
    board.says("mites.other-count", Urgency::Must);
    let rolled =
        counted(Case::deeps(1, "2026-07-08").air(75.0), 9, 300).sees(|f| f.count_by = Some(CountBy::Roll));
    assert!(rolled.advice().text().contains("sugar roll finds fewer"));
}
