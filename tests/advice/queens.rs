//! Queens. Sources: a Welsh association on cells, a UK keeper's page and Trunch on a hive that has swarmed, Norfolk
//! beekeepers on when a queen lays and on drone layers, Am. Bee J., Oct. 2019, on queenless colonies; Univ. of Georgia.

use yardwalk::advice::{Deed, Urgency};
use yardwalk::model::{
    Action, CellKind, Cells, Depth, Frames, HiveBox, Origin, Pattern, Queen, QueenStatus, Role,
};

use crate::case::{Case, day};

fn offers(case: &Case, status: QueenStatus) -> bool {
    let told = case.advice();
    let mut actions = told.live.prompts.iter().flat_map(|p| &p.offers).flat_map(|o| &o.actions);
    actions.any(|a| matches!(a, Action::SetQueen { queen } if queen.status == status))
}

/// Q1.
#[test]
fn swarm_cells_with_eggs_are_made_the_swarm() {
    let told = Case::deeps(2, "2026-05-20")
        .air(70.0)
        .sees(|f| {
            f.cells = Some(Cells(8));
            f.cell_kind = Some(CellKind::Swarm);
            f.eggs = Some(true);
            f.bees = Some(Frames(14.0));
        })
        .advice();
    let prompt = told.says("swarm.check", Urgency::Must);
    assert!(prompt.deeds.contains(&Deed::Splits), "{}", prompt.title);
}

/// Q2.
#[test]
fn a_hive_that_has_swarmed_is_not_split_and_keeps_one_cell() {
    let case = Case::deeps(2, "2026-05-20").air(70.0).sees(|f| {
        f.cells = Some(Cells(8));
        f.cell_kind = Some(CellKind::Swarm);
        f.eggs = Some(false);
        f.larvae = Some(true);
        f.sealed = Some(true);
    });
    let told = case.advice();
    let prompt = told.says("swarm.check", Urgency::Must);
    assert!(prompt.title.contains("have swarmed"), "{}", prompt.title);
    told.never(&[Deed::Splits]);
    assert!(told.by("queen.missing").is_none(), "{}", told.list());
    assert!(offers(&case, QueenStatus::RipeCell));
}

/// Q4, L7.
#[test]
fn emergency_cells_are_read_and_no_test_frame_is_given() {
    let told = Case::deeps(1, "2026-08-20")
        .air(76.0)
        .sees(|f| {
            f.cells = Some(Cells(3));
            f.cell_kind = Some(CellKind::Emergency);
            f.eggs = Some(false);
            f.larvae = Some(false);
            f.sealed = Some(true);
            f.bees = Some(Frames(9.0));
        })
        .advice();
    let prompt = told.says("queen.missing", Urgency::Must);
    assert!(prompt.title.contains("best cell"), "{}", prompt.title);
    assert!(!told.text().contains("give a frame with eggs"));
}

/// Q5.
#[test]
fn in_september_it_is_a_mated_queen_or_a_union() {
    let told = Case::deeps(1, "2026-09-15")
        .air(70.0)
        .sees(|f| {
            f.cells = Some(Cells(0));
            f.eggs = Some(false);
            f.larvae = Some(false);
            f.sealed = Some(true);
            f.bees = Some(Frames(8.0));
        })
        .advice();
    assert!(told.says("queen.missing", Urgency::Must).title.contains("mated queen now, or unite"));
}

/// Q6.
#[test]
fn weeks_without_any_brood_are_one_course() {
    let gone = Queen { since: Some(day("2026-05-01")), ..Queen::of_status(QueenStatus::Missing, None) };
    let case = Case::deeps(1, "2026-06-05")
        .did("2026-05-01", &[Action::SetQueen { queen: gone }])
        .air(72.0)
        .sees(|f| {
            f.eggs = Some(false);
            f.larvae = Some(false);
            f.sealed = Some(false);
            f.bees = Some(Frames(5.0));
        });
    let told = case.advice();
    assert!(told.says("queen.missing", Urgency::Must).title.contains("unite"));
    assert!(!offers(&case, QueenStatus::Caged));
    told.never(&[Deed::Washes]);
}

/// Q7 and Q8.
#[test]
fn a_caged_queen_is_not_the_first_answer_to_drone_brood() {
    let drones = |seen: Option<bool>| {
        Case::deeps(1, "2026-06-05").air(72.0).sees(move |f| {
            f.pattern = Some(Pattern::Drone);
            f.eggs = Some(true);
            f.queen_seen = seen;
        })
    };
    let unknown = drones(None);
    assert!(!offers(&unknown, QueenStatus::Caged), "{}", unknown.advice().list());
    let layer = drones(Some(true)).advice();
    assert!(layer.says("queen.missing", Urgency::Must).title.contains("take her out first"));
}

/// Q9.
#[test]
fn what_stands_on_record_is_not_forgotten() {
    for (status, words) in
        [(QueenStatus::DroneLayer, "requeen or unite"), (QueenStatus::Missing, "look for eggs")]
    {
        let queen = Queen { since: Some(day("2026-05-01")), ..Queen::of_status(status, None) };
        let told =
            Case::deeps(1, "2026-06-05").did("2026-05-01", &[Action::SetQueen { queen }]).air(72.0).advice();
        let prompt = told.says("queen.missing", Urgency::Must);
        assert!(prompt.title.contains(words), "{}", prompt.title);
    }
}

/// Q14, L10.
#[test]
fn a_swarm_hived_two_days_ago_is_given_its_time() {
    let told =
        Case::of(vec![HiveBox::new(Depth::Deep, 10, Role::Nest)], Origin::Swarm, "2026-06-03", "2026-06-05")
            .air(72.0)
            .sees(|f| {
                f.eggs = Some(false);
                f.larvae = Some(false);
                f.sealed = Some(false);
            })
            .advice();
    assert!(told.by("queen.missing").is_none(), "{}", told.list());
    assert!(!told.text().contains("three weeks or more"));
}

fn since(status: QueenStatus, on: &str) -> Action {
    Action::SetQueen { queen: Queen { since: Some(day(on)), ..Queen::of_status(status, None) } }
}

/// Q3: left alone, and quiet for three weeks, whether or not the keeper wrote it down.
#[test]
fn supersedure_cells_are_left_and_the_nest_is_quiet() {
    let seen = |today: &str| {
        Case::deeps(2, today).air(70.0).saw("2026-05-20", |f| {
            f.cells = Some(Cells(2));
            f.cell_kind = Some(CellKind::Supersedure);
            f.eggs = Some(true);
        })
    };
    let same_day = Case::deeps(2, "2026-05-20").air(70.0).sees(|f| {
        f.cells = Some(Cells(2));
        f.cell_kind = Some(CellKind::Supersedure);
        f.eggs = Some(true);
    });
    let told = same_day.advice();
    assert!(told.says("swarm.check", Urgency::Should).title.contains("leave the cells"));
    told.never(&[Deed::Splits, Deed::CutsCells]);
    for on in ["2026-06-01", "2026-06-08"] {
        let told = seen(on).advice();
        told.never(&[Deed::LiftsFrames, Deed::Splits, Deed::CutsCells, Deed::Washes]);
        assert!(told.by("swarm.check").is_none(), "{}", told.list());
        let noted =
            Case::deeps(2, on).did("2026-05-20", &[since(QueenStatus::Superseded, "2026-05-20")]).air(70.0);
        noted.advice().says("queen.timeline", Urgency::Should);
        noted.advice().never(&[Deed::LiftsFrames]);
    }
}

/// Q10: it is called, not looked at again and again.
#[test]
fn a_cage_without_eggs_on_the_sixteenth_day_is_called() {
    let told = Case::deeps(1, "2026-05-17")
        .did("2026-05-01", &[since(QueenStatus::Caged, "2026-05-01")])
        .air(72.0)
        .sees(|f| {
            f.eggs = Some(false);
            f.queen_seen = Some(false);
        })
        .advice();
    let prompt = told.says("queen.timeline", Urgency::Must);
    assert!(prompt.title.contains("then decide"), "{}", prompt.title);
    told.mentions(&["unite", "frame with eggs"]);
}

/// Q11: its own days, not a split's.
#[test]
fn a_virgin_has_her_own_days() {
    let on = |today: &str| {
        Case::deeps(1, today)
            .did("2026-06-01", &[since(QueenStatus::Virgin, "2026-06-01")])
            .air(75.0)
            .advice()
    };
    let early = on("2026-06-06");
    assert!(early.says("queen.timeline", Urgency::Must).title.contains("Keep out"));
    early.never(&[Deed::LiftsFrames]);
    early.never_in_words(&["count the cells"]);
    let look = on("2026-06-15");
    assert!(look.says("queen.timeline", Urgency::Should).title.contains("first eggs"));
    look.never(&[Deed::MovesComb]);
    assert!(on("2026-06-28").says("queen.timeline", Urgency::Must).title.contains("give a queen or unite"));
}

/// Q12: she hatches or has.
#[test]
fn ripe_cells_left_six_days_ago_are_not_counted() {
    let told = Case::deeps(1, "2026-05-26")
        .did("2026-05-20", &[since(QueenStatus::RipeCell, "2026-05-20")])
        .air(72.0)
        .advice();
    assert!(told.says("queen.timeline", Urgency::Must).title.contains("Keep out"));
    told.never(&[Deed::LiftsFrames]);
    told.never_in_words(&["count the cells"]);
}

/// Q13: day 12, day 24 without eggs, day 31 without eggs.
#[test]
fn a_walk_away_split_is_kept_out_of_waited_for_and_called_on_its_day() {
    let on = |today: &str, looked: bool| {
        let case =
            Case::deeps(1, today).did("2026-05-20", &[since(QueenStatus::Cell, "2026-05-20")]).air(75.0);
        if looked { case.sees(|f| f.eggs = Some(false)).advice() } else { case.advice() }
    };
    let twelve = on("2026-06-01", false);
    assert!(twelve.says("queen.timeline", Urgency::Must).title.contains("Keep out"));
    twelve.never(&[Deed::Washes, Deed::LiftsFrames]);
    let day_24 = on("2026-06-13", true);
    assert!(day_24.says("queen.timeline", Urgency::Should).title.contains("wait until"));
    day_24.never_in_words(&["has failed"]);
    let day_31 = on("2026-06-20", true);
    assert!(day_31.says("queen.timeline", Urgency::Must).title.contains("give a queen or unite"));
    day_31.never_in_words(&["wait until"]);
}

/// Q15.
#[test]
fn an_old_queen_with_gaps_and_temper_is_thought_of_before_august() {
    let told = Case::deeps(1, "2026-07-10")
        .with(|h| h.queen.year = Some(2022))
        .air(78.0)
        .sees(|f| {
            f.pattern = Some(Pattern::Spotty);
            f.temper = Some(yardwalk::model::Temper::Hot);
            f.eggs = Some(true);
        })
        .advice();
    told.says("queen.renew", Urgency::Should);
}

/// C10: none is hung beside another.
#[test]
fn no_queen_is_hung_beside_a_queen() {
    for status in [QueenStatus::Laying, QueenStatus::Caged] {
        let told =
            Case::deeps(1, "2026-06-10").did("2026-06-01", &[since(status, "2026-06-01")]).air(75.0).advice();
        told.never(&[Deed::BringsQueen]);
    }
}
