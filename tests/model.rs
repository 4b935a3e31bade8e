//! What must be true of the colony model whatever is logged: nothing out of nothing, and nothing that helps hurts.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test may stop where it likes")]

use chrono::{Days, NaiveDate, NaiveTime};
use proptest::prelude::*;
use yardwalk::colony::model::{Belief, Deed, Forecast, MEMBERS};
use yardwalk::model::{
    Action, Book, Depth, Entry, FORMAT, Folded, Frames, Hive, HiveBox, HiveId, HiveState, Mass, MiteCount,
    Mites, Mix, Origin, Practice, Queen, QueenStatus, Role, Treatment, Units, Visit, VisitId, Volume, Yard,
    YardId,
};
use yardwalk::season::Calendar;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn calendar() -> Calendar {
    Calendar::of(&Yard::named(YardId::new("Y")), &Practice::default(), &[], day("2026-06-01"))
}

fn hive(name: &str, origin: Origin) -> Hive {
    let nest = vec![HiveBox::new(Depth::Deep, 10, Role::Nest); 2];
    let queen = Queen::of_status(QueenStatus::Laying, None);
    Hive::new(HiveId::new(name), origin, day("2026-04-20"), nest, queen)
}

fn state() -> HiveState {
    HiveState::start(&hive("A", Origin::Overwintered), &YardId::new("Y"))
}

/// One thing that was logged on a day.
#[derive(Debug, Clone)]
enum Logged {
    Bees(f64),
    Brood(f64),
    Honey(f64),
    Eggs(bool),
    Wash(u16),
    Weight(f64),
    Syrup(f64),
    Treat(usize),
    Split,
}

fn logged() -> impl Strategy<Value = Logged> {
    prop_oneof![
        (0.0f64..20.0).prop_map(Logged::Bees),
        (0.0f64..12.0).prop_map(Logged::Brood),
        (0.0f64..10.0).prop_map(Logged::Honey),
        any::<bool>().prop_map(Logged::Eggs),
        (0u16..80).prop_map(Logged::Wash),
        (20.0f64..120.0).prop_map(Logged::Weight),
        (0.1f64..4.0).prop_map(Logged::Syrup),
        (0usize..11).prop_map(Logged::Treat),
        Just(Logged::Split),
    ]
}

/// A log of this year: days after 1 May, and what was logged.
fn log() -> impl Strategy<Value = Vec<(u64, Logged)>> {
    prop::collection::vec((0u64..180, logged()), 0..12)
}

fn entry(one: &Logged, on: NaiveDate) -> Entry {
    let mut entry = Entry::blank(HiveId::new("A"));
    let found = &mut entry.findings;
    match one {
        Logged::Bees(n) => found.bees = Some(Frames(*n)),
        Logged::Brood(n) => found.brood = Some(Frames(*n)),
        Logged::Honey(n) => found.honey = Some(Frames(*n)),
        Logged::Eggs(seen) => found.eggs = Some(*seen),
        Logged::Wash(n) => found.mites = Some(Mites(*n)),
        Logged::Weight(kg) => found.weight = Some(Mass::from_kilograms(*kg)),
        Logged::Syrup(gallons) => {
            let volume = Volume::from_gallons(*gallons);
            entry.actions.push(Action::FeedSyrup { mix: Mix::Thin, volume });
        }
        Logged::Treat(at) => {
            let treatment = Treatment::ALL[*at % Treatment::ALL.len()];
            entry.actions.push(Action::Treat { treatment, until: on + Days::new(14) });
        }
        Logged::Split => entry.actions.push(Action::SplitInto { hive: HiveId::new("B") }),
    }
    entry
}

fn replayed(log: &[(u64, Logged)]) -> HiveState {
    let mut log: Vec<_> = log.to_vec();
    log.sort_by_key(|(after, _)| *after);
    let mut state = state();
    for (after, one) in &log {
        let on = day("2026-05-01") + Days::new(*after);
        state.apply(&entry(one, on), on);
    }
    state
}

fn ahead(belief: &Belief, days: u64, deeds: &[(NaiveDate, Deed)]) -> Forecast {
    Forecast::of(belief, belief.on + Days::new(days), deeds)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn nothing_is_negative_and_honey_is_neither_made_nor_lost(log in log(), on in 60u64..420) {
        let belief = Belief::of(&replayed(&log), &calendar(), day("2026-05-01") + Days::new(on));
        prop_assert_eq!(belief.colonies().count(), MEMBERS);
        for colony in belief.colonies() {
            let (nest, above) = colony.honey();
            for amount in [colony.adults(), colony.cells(), colony.mites(), nest, above, colony.food()] {
                prop_assert!(amount.is_finite() && amount >= -1e-9, "{colony:?}");
            }
            prop_assert!((0.0..=100.0).contains(&colony.mite_percent()));
            let (gone, came) = colony.balance();
            prop_assert!((came - gone - colony.food()).abs() < 1e-6 * came.abs().max(1.0), "{came} {gone} {}", colony.food());
        }
    }

    #[test]
    fn the_same_book_gives_the_same_belief(log in log()) {
        let on = day("2026-11-01");
        prop_assert_eq!(Belief::of(&replayed(&log), &calendar(), on), Belief::of(&replayed(&log), &calendar(), on));
    }

    #[test]
    fn in_whatever_order_visits_arrive_the_belief_is_the_same(log in log(), seed in any::<u64>()) {
        let on = day("2026-11-01");
        let mut visits: Vec<Visit> = Vec::new();
        for (at, (after, one)) in log.iter().enumerate() {
            let on = day("2026-05-01") + Days::new(*after);
            let at = u32::try_from(at).unwrap();
            let mut visit = Visit::begun(VisitId::new(format!("{on}-{at:04}")), YardId::new("Y"), on);
            visit.began = NaiveTime::from_hms_opt(9, at, 0);
            visit.entries.push(entry(one, on));
            visits.push(visit);
        }
        let book = |visits: Vec<Visit>| {
            let mut yard = Yard::named(YardId::new("Y"));
            yard.hives.push(hive("A", Origin::Overwintered));
            Book {
                format: FORMAT,
                version: None,
                id: None,
                keeper: String::new(),
                units: Units::Us,
                demo_on: None,
                practice: Practice::default(),
                yards: vec![yard],
                visits,
            }
        };
        let believed = |book: &Book| {
            let folded = Folded::of(book, on);
            Belief::of(folded.hive(&HiveId::new("A")).unwrap(), &calendar(), on)
        };
        let mut shuffled = visits.clone();
        let mut turn = seed;
        for at in (1..shuffled.len()).rev() {
            turn = turn.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            shuffled.swap(at, usize::try_from(turn >> 33).unwrap() % (at + 1));
        }
        prop_assert_eq!(believed(&book(visits)), believed(&book(shuffled)));
    }

    #[test]
    fn more_mites_in_the_jar_never_make_fewer_mites_to_come(log in log(), mites in 0u16..60) {
        let washed = |mites| {
            let mut state = replayed(&log);
            let on = day("2026-11-01");
            state.washes.retain(|w| w.on < on);
            state.washes.push(MiteCount { on, mites, bees: 300 });
            ahead(&Belief::of(&state, &calendar(), on), 0, &[]).mites(on).unwrap().middle
        };
        prop_assert!(washed(mites + 1) >= washed(mites) - 1e-9);
    }

    #[test]
    fn no_treatment_makes_mites_and_no_feed_starves(log in log(), at in 0usize..11, gallons in 0.1f64..4.0) {
        // The model holds four courses at once: no label allows so many.
        prop_assume!(log.iter().filter(|(_, one)| matches!(one, Logged::Treat(_))).count() <= 3);
        let on = day("2026-08-10");
        let belief = Belief::of(&replayed(&log), &calendar(), on);
        let until = on + Days::new(42);
        let treatment = Treatment::ALL[at % Treatment::ALL.len()];
        let (idle, treated) =
            (ahead(&belief, 42, &[]), ahead(&belief, 42, &[(on, Deed::Treat(treatment, until))]));
        prop_assert!(treated.mites(until).unwrap().middle <= idle.mites(until).unwrap().middle + 1e-9);
        let fed = ahead(&belief, 42, &[(on, Deed::Syrup { mix: Mix::Thick, volume: Volume::from_gallons(gallons) })]);
        prop_assert!(fed.stores(until).unwrap().middle >= idle.stores(until).unwrap().middle - 0.5);
        let hungry = |forecast: &Forecast| forecast.stores_end().map_or(NaiveDate::MAX, |end| end.earliest);
        prop_assert!(hungry(&fed) >= hungry(&idle));
    }

    #[test]
    fn every_range_is_in_order_and_every_chance_a_chance(log in log(), days in 0u64..200) {
        let belief = Belief::of(&replayed(&log), &calendar(), day("2026-06-15"));
        let forecast = ahead(&belief, 200, &[]);
        let on = belief.on + Days::new(days);
        let spreads = [forecast.mites(on), forecast.jar(on, 300), forecast.bees(on), forecast.brood(on), forecast.stores(on), forecast.weight(on)];
        for s in spreads.into_iter().map(Option::unwrap) {
            prop_assert!(0.0 <= s.lowest && s.lowest <= s.low && s.low <= s.middle && s.middle <= s.high && s.high <= s.highest, "{s:?}");
        }
        for chance in [forecast.chance_over(on, 2.0), forecast.swarms_by(on), forecast.comes_through()] {
            prop_assert!((0.0..=1.0).contains(&chance.unwrap()));
        }
    }
}

#[test]
fn a_finding_draws_the_members_together_and_nothing_known_is_wide() {
    let on = day("2026-07-01");
    let wide = ahead(&Belief::of(&state(), &calendar(), on), 0, &[]).bees(on).unwrap();
    let mut counted = state();
    let mut entry = Entry::blank(HiveId::new("A"));
    entry.findings.bees = Some(Frames(9.0));
    counted.apply(&entry, on);
    let narrow = ahead(&Belief::of(&counted, &calendar(), on), 0, &[]).bees(on).unwrap();
    assert!(wide.highest / wide.lowest > 2.5, "{wide:?}");
    assert!(narrow.highest / narrow.lowest < 1.8, "{narrow:?}");
    assert!((8.0..=10.5).contains(&narrow.middle), "{narrow:?}");
}

#[test]
fn a_wash_weighs_by_how_much_it_counted() {
    let on = day("2026-07-01");
    let after = |mites, bees| {
        let mut state = state();
        state.washes.push(MiteCount { on, mites, bees });
        let s = ahead(&Belief::of(&state, &calendar(), on), 0, &[]).mites(on).unwrap();
        (s.middle, s.highest / s.lowest)
    };
    let ((few, few_wide), (many, many_wide)) = (after(1, 50), after(30, 1_500));
    assert!(many_wide < few_wide, "{few_wide} {many_wide}");
    assert!((many - 2.0).abs() < (few - 2.0).abs() + 0.5, "{few} {many}");
}
