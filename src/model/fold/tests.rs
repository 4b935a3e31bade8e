//! The fold's tests: each action's mark on the state, and the independence from the order of arrival.

use chrono::NaiveDate;
use proptest::prelude::*;

use super::*;
use crate::model::*;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn book() -> Book {
    let mut book = Book::empty("T", Units::Us);
    let hive = |id: &str, nests: usize| {
        Hive::new(
            HiveId::new(id),
            Origin::Overwintered,
            day("2025-08-01"),
            vec![HiveBox::new(Depth::Deep, 10, Role::Nest); nests],
            Queen::of_status(QueenStatus::Laying, None),
        )
    };
    book.yards = vec![Yard {
        name: YardId::new("Creek"),
        place: None,
        formerly: Vec::new(),
        freezes: None,
        flows: Vec::new(),
        note: String::new(),
        hives: vec![hive("C1", 2), hive("C2", 1)],
    }];
    book
}

fn visit(id: &str, on: &str, entries: Vec<Entry>) -> Visit {
    Visit { entries, ..Visit::begun(VisitId::new(id), YardId::new("Creek"), day(on)) }
}

fn did(hive: &str, actions: Vec<Action>) -> Entry {
    Entry { actions, ..Entry::blank(HiveId::new(hive)) }
}

fn state_after(actions: Vec<Action>) -> HiveState {
    let mut book = book();
    book.visits = vec![visit("a", "2026-05-01", vec![did("C1", actions)])];
    Folded::of(&book, day("2026-05-01")).hive(&HiveId::new("C1")).unwrap().clone()
}

#[test]
fn a_super_goes_above_the_nest_or_on_top() {
    let add = |role, level, depth| Action::AddBox { depth, frames: 10, role, drawn: 10, level };
    let state = state_after(vec![
        add(Role::Super, Level::Top, Depth::Medium),
        add(Role::Super, Level::AboveNest, Depth::Shallow),
        add(Role::Nest, Level::Bottom, Depth::Medium),
    ]);
    let depths: Vec<_> = state.boxes.iter().map(|b| b.depth).collect();
    assert_eq!(depths, [Depth::Medium, Depth::Deep, Depth::Deep, Depth::Shallow, Depth::Medium]);
    assert_eq!(state.stack_words(), "1 medium + 2 deep + 1 shallow super + 1 medium super");
    assert_eq!((state.nest_boxes(), state.super_boxes()), (3, 2));
    assert!((state.nest_deeps() - 2.66).abs() < 1e-9);
}

#[test]
fn the_only_nest_box_cannot_be_taken_and_a_single_cannot_be_reversed() {
    let mut book = book();
    let take = Action::RemoveBox { role: Role::Nest, level: Level::Bottom };
    let supers = Action::RemoveBox { role: Role::Super, level: Level::Top };
    book.visits = vec![visit("a", "2026-05-01", vec![did("C2", vec![take, Action::ReverseBoxes, supers])])];
    let folded = Folded::of(&book, day("2026-05-01"));
    let state = folded.hive(&HiveId::new("C2")).unwrap();
    assert_eq!(state.nest_boxes(), 1);
    assert_eq!(state.oddities.len(), 3);
}

#[test]
fn reversing_puts_the_brood_at_the_bottom() {
    let state = state_after(vec![Action::ReverseBoxes]);
    assert_eq!(state.seen.bottom_box.map(|s| s.value), Some(BottomBox::Brood));
    assert_eq!(state.nest_changed, Some(day("2026-05-01")));
}

#[test]
fn a_treatment_runs_until_it_is_ended() {
    let until = day("2026-05-15");
    let treatment = Treatment::FormicStrips;
    let state = state_after(vec![Action::Treat { treatment, until }]);
    assert!(state.course_on(day("2026-05-01")).is_some());
    assert!(state.course_on(day("2026-04-30")).is_none());
    assert!(state.course_on(day("2026-06-30")).is_some(), "strips forgotten in a hive are still in it");
    let state = state_after(vec![Action::Treat { treatment, until }, Action::EndTreatment { treatment }]);
    assert!(state.course_on(day("2026-05-01")).is_none());
}

#[test]
fn eggs_say_that_the_split_has_its_queen() {
    let mut book = book();
    let waiting = Action::SetQueen { queen: Queen::of_status(QueenStatus::Cell, None) };
    let eggs = Findings { eggs: Some(true), ..Findings::default() };
    book.visits = vec![
        visit("a", "2026-05-01", vec![did("C1", vec![waiting])]),
        visit("b", "2026-05-28", vec![Entry { findings: eggs, ..Entry::blank(HiveId::new("C1")) }]),
    ];
    let c1 = HiveId::new("C1");
    let before = Folded::of(&book, day("2026-05-27"));
    assert_eq!(before.hive(&c1).unwrap().queen.status, QueenStatus::Cell);
    assert_eq!(before.hive(&c1).unwrap().queen.since, Some(day("2026-05-01")));
    let after = Folded::of(&book, day("2026-05-28"));
    assert_eq!(after.hive(&c1).unwrap().queen.status, QueenStatus::Laying);
}

#[test]
fn a_promise_is_open_until_it_is_seen_to_on_or_after_its_day() {
    let mut book = book();
    let promise = Promise { on: day("2026-05-10"), what: "fill the feeder".to_owned() };
    let entry = Entry { promises: vec![promise], ..Entry::blank(HiveId::new("C1")) };
    let seen_to = |on| {
        let answers = vec![Answer { keeps_promises: true, ..Answer::to(RuleId::new("any"), Reply::Done) }];
        visit(on, on, vec![Entry { answers, ..Entry::blank(HiveId::new("C1")) }])
    };
    let looked =
        |on| visit(on, on, vec![Entry { note: "looked".to_owned(), ..Entry::blank(HiveId::new("C1")) }]);
    book.visits = vec![visit("a", "2026-05-01", vec![entry]), seen_to("2026-05-09"), looked("2026-05-10")];
    let open = |book: &Book, on| Folded::of(book, day(on)).hive(&HiveId::new("C1")).unwrap().promises.len();
    assert_eq!(open(&book, "2026-05-09"), 1);
    assert_eq!(open(&book, "2026-05-10"), 1, "looking at the hive alone keeps no promise");
    book.visits.push(seen_to("2026-05-11"));
    assert_eq!(open(&book, "2026-05-11"), 0);
}

#[test]
fn a_promise_nobody_kept_is_dropped_when_the_season_has_moved_on() {
    let mut book = book();
    let promise = Promise { on: day("2026-05-10"), what: "fill the feeder".to_owned() };
    let looked =
        |on| visit(on, on, vec![Entry { note: "looked".to_owned(), ..Entry::blank(HiveId::new("C1")) }]);
    let entry = Entry { promises: vec![promise], ..Entry::blank(HiveId::new("C1")) };
    book.visits = vec![visit("a", "2026-05-01", vec![entry]), looked("2026-07-09"), looked("2026-07-10")];
    let open = |on| Folded::of(&book, day(on)).hive(&HiveId::new("C1")).unwrap().promises.len();
    assert_eq!((open("2026-07-09"), open("2026-07-10")), (1, 0));
}

#[test]
fn a_new_colony_on_an_old_stand_carries_nothing_over() {
    let mut book = book();
    let wash = Findings { mites: Some(Mites(20)), ..Findings::default() };
    book.visits = vec![
        visit("a", "2026-04-01", vec![Entry { findings: wash, ..Entry::blank(HiveId::new("C1")) }]),
        visit("b", "2026-04-02", vec![did("C1", vec![Action::Retire { loss: Loss::Mites }])]),
        visit("c", "2026-05-01", vec![did("C1", vec![Action::Restock { origin: Origin::Package }])]),
    ];
    let c1 = HiveId::new("C1");
    assert!(!Folded::of(&book, day("2026-04-02")).hive(&c1).unwrap().is_alive());
    let folded = Folded::of(&book, day("2026-05-01"));
    let state = folded.hive(&c1).unwrap();
    assert!(state.is_alive() && state.washes.is_empty());
    assert_eq!((state.origin, state.came), (Origin::Package, day("2026-05-01")));
}

fn any_action() -> impl Strategy<Value = Action> {
    prop_oneof![
        Just(Action::ReverseBoxes),
        Just(Action::CutCells),
        Just(Action::CallInspector),
        Just(Action::ClearDisease),
        Just(Action::RemoveBox { role: Role::Nest, level: Level::Bottom }),
        Just(Action::RemoveBox { role: Role::Super, level: Level::Top }),
        (0u8..=10).prop_map(|drawn| Action::AddBox {
            depth: Depth::Medium,
            frames: 10,
            role: Role::Super,
            drawn,
            level: Level::AboveNest
        }),
        Just(Action::Retire { loss: Loss::Starved }),
        Just(Action::Restock { origin: Origin::Swarm }),
        Just(Action::EndTreatment { treatment: Treatment::ThymolGel }),
        (0i64..90).prop_map(|d| Action::Treat {
            treatment: Treatment::ThymolGel,
            until: day("2026-05-01") + chrono::TimeDelta::days(d)
        }),
    ]
}

fn any_visits() -> impl Strategy<Value = Vec<Visit>> {
    let entry = (
        prop::sample::select(vec!["C1", "C2", "C9"]),
        prop::collection::vec(any_action(), 0..4),
        prop::option::of(0.0f64..20.0),
        prop::option::of(0u16..60),
    )
        .prop_map(|(hive, actions, bees, mites)| Entry {
            findings: Findings { bees: bees.map(Frames), mites: mites.map(Mites), ..Findings::default() },
            ..did(hive, actions)
        });
    prop::collection::vec((0i64..300, entry, prop::option::of(0usize..12)), 0..12).prop_map(|all| {
        all.into_iter()
            .enumerate()
            .map(|(at, (days, entry, replaces))| Visit {
                on: day("2026-01-01") + chrono::TimeDelta::days(days),
                replaces: replaces.map(|r| VisitId::new(format!("v{r}"))),
                ..visit(&format!("v{at}"), "2026-01-01", vec![entry])
            })
            .collect()
    })
}

proptest! {
    /// Whatever was logged, in whatever order the files arrive, one state comes out; and taking the visits in one
    /// by one gives the same as folding the whole book.
    #[test]
    fn the_fold_does_not_depend_on_the_order_of_arrival(
        (visits, shuffled) in any_visits().prop_flat_map(|v| (Just(v.clone()), Just(v).prop_shuffle()))
    ) {
        let as_of = day("2026-09-01");
        let mut whole = book();
        whole.visits = visits;
        let expected = Folded::of(&whole, as_of);
        let mut growing = book();
        let mut folded = Folded::of(&growing, as_of);
        for visit in shuffled {
            growing.visits.push(visit.clone());
            folded.add(&growing, &visit);
        }
        prop_assert_eq!(&Folded::of(&growing, as_of), &expected);
        prop_assert_eq!(&folded, &expected);
        prop_assert!(expected.hives().all(|s| s.nest_boxes() >= 1));
    }
}

#[test]
fn a_hive_is_known_from_the_day_the_book_was_begun() {
    let mut book = book();
    let c2 = HiveId::new("C2");
    let known = |book: &Book, on: &str| Folded::of(book, day(on)).hive(&c2).unwrap().known_from;
    // Before the first visit it begins today; then with the first visit, to whichever hive.
    assert_eq!(known(&book, "2026-05-03"), day("2026-05-03"));
    book.visits.push(visit("a", "2026-04-18", vec![did("C1", vec![Action::CutCells])]));
    assert_eq!(known(&book, "2026-05-03"), day("2026-04-18"));
    book.yards[0].hives[1].since = day("2026-05-01");
    assert_eq!(known(&book, "2026-05-03"), day("2026-05-01"));
}
