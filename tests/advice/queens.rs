//! Queens. Sources: a Welsh association on cells, a UK keeper's page and Trunch on a hive that has swarmed, Norfolk
//! beekeepers on when a queen lays and on drone layers, Am. Bee J., Oct. 2019, on queenless colonies; Univ. of Georgia.

use yardwalk::advice::{Deed, Urgency};
use yardwalk::model::{
    Action, CellKind, Cells, Depth, Frames, HiveBox, Origin, Pattern, Queen, QueenStatus, Role,
};

use crate::case::{Case, day};

fn offers(case: &Case, status: QueenStatus) -> bool {
    let told = case.advice();
    let mut actions = told.0.prompts.iter().flat_map(|p| &p.offers).flat_map(|o| &o.actions);
    actions.any(|a| matches!(a, Action::SetQueen { queen } if queen.status == status))
}

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
    assert!(offers(&case, QueenStatus::Cell));
}

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
