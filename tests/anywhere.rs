//! Advice at any place on earth, on any day, to a hive in any state: no panic, windows in order, the same answer twice.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a test may stop where it likes"
)]

#[path = "support/generate.rs"]
mod generate;

use std::collections::BTreeSet;

use chrono::NaiveDate;
use generate::value;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use yardwalk::advice::{Advice, Day, Deed, PAIRS, Situation, Urgency, advise, looks};
use yardwalk::colony::{stores, treatment};
use yardwalk::model::{
    Action, Depth, Elevation, Entrance, Entry, FeederKind, Finding, Hive, HiveBox, HiveId, HiveState, Level,
    Mix, Origin, Place, Practice, Queen, QueenStatus, Role, SeenBloom, Temperature, Treatment, Units, Volume,
    Weather, Wind, Yard, YardId, days_after,
};
use yardwalk::plan;
use yardwalk::season::{Calendar, DateId};

fn place() -> impl Strategy<Value = Option<Place>> {
    proptest::option::of((-89.0f64..89.0, -179.0f64..179.0, -400.0f64..15_000.0).prop_map(
        |(latitude, longitude, feet)| Place { latitude, longitude, elevation: Elevation::from_feet(feet) },
    ))
}

/// A finding and a place in its range.
fn finding() -> impl Strategy<Value = (usize, f64)> {
    (0..Finding::ALL.len(), 0.0f64..=1.0)
}

fn action(pick: usize, share: f64, today: NaiveDate) -> Action {
    let treatment = Treatment::ALL[((share * 11.0) as usize).min(10)];
    match pick {
        0 => Action::AddBox {
            depth: Depth::Medium,
            frames: 10,
            role: Role::Super,
            drawn: 0,
            level: Level::Top,
        },
        1 => {
            Action::AddBox { depth: Depth::Deep, frames: 10, role: Role::Nest, drawn: 10, level: Level::Top }
        }
        2 => Action::RemoveBox { role: Role::Nest, level: Level::Bottom },
        3 => Action::RemoveBox { role: Role::Super, level: Level::Top },
        4 => Action::ReverseBoxes,
        5 => Action::FeedSyrup { mix: Mix::Thick, volume: Volume::from_gallons(4.0 * share) },
        6 => Action::SetFeeder { feeder: Some(FeederKind::Pail) },
        7 => Action::SetEntrance { entrance: Entrance::ALL[((share * 3.0) as usize).min(2)] },
        8 => Action::Treat { treatment, until: days_after(today, (30.0 * share) as i64) },
        9 => Action::EndTreatment { treatment },
        10 => Action::SetQueen {
            queen: Queen::of_status(QueenStatus::ALL[((share * 9.0) as usize).min(8)], Some(today)),
        },
        11 => Action::TakeHoney { frames: 10, mass: None },
        12 => Action::Restock { origin: Origin::ALL[((share * 5.0) as usize).min(4)] },
        13 => Action::DroneComb { given: share > 0.3 },
        14 => Action::GiveHoney { frames: 2 },
        15 => Action::Retire { loss: yardwalk::model::Loss::ALL[((share * 9.0) as usize).min(8)] },
        _ => Action::CutCells,
    }
}

#[derive(Debug, Clone)]
struct Past {
    days_ago: i64,
    found: Vec<(usize, f64)>,
    did: Vec<(usize, f64)>,
}

fn past() -> impl Strategy<Value = Past> {
    (
        0i64..300,
        proptest::collection::vec(finding(), 0..10),
        proptest::collection::vec((0usize..17, 0.0f64..=1.0), 0..4),
    )
        .prop_map(|(days_ago, found, did)| Past { days_ago, found, did })
}

fn entry(past: &Past, on: NaiveDate) -> Entry {
    let mut entry = Entry::blank(HiveId::new("H"));
    for (at, share) in &past.found {
        let finding = Finding::ALL[*at];
        entry.findings.set(finding, Some(value(finding, *share)));
    }
    entry.actions = past.did.iter().map(|(pick, share)| action(*pick, *share, on)).collect();
    entry
}

/// No more syrup is asked for than the frames have room for.
fn no_more_than_fits(advice: &Advice, state: &HiveState, practice: &Practice) -> bool {
    let room = stores::capacity(state).pounds();
    let words = advice.prompts.iter().filter_map(|p| p.title.strip_prefix("Feed thick syrup: "));
    let gallons = words.filter_map(|rest| rest.split(' ').next()?.parse::<f64>().ok());
    gallons.into_iter().all(|gallons| gallons * practice.pounds_per_gallon() <= room + 3.5)
}

/// No course is offered that is not out while the days are warm, or the bees move, where the dates are known.
fn ends_in_time(advice: &Advice, calendar: &Calendar, practice: &Practice, today: NaiveDate) -> bool {
    let offered = advice.prompts.iter().flat_map(|p| &p.offers).flat_map(|o| &o.actions);
    let treatments = offered.filter_map(|a| {
        if let Action::Treat { treatment, until } = a { Some((*treatment, *until)) } else { None }
    });
    let is_autumn = today >= calendar.opens(DateId::MitesInCheck) && !calendar.shift.is_guess();
    treatments.into_iter().all(|(treatment, until)| {
        let row = treatment::limits(treatment, practice);
        let last = if row.from_f.value > 55.0 { DateId::UpperEntrances } else { DateId::Cluster };
        !is_autumn || row.days.value <= 1 || until <= calendar.opens(last)
    })
}

/// A number from the environment, or another.
fn from_env(name: &str, otherwise: u64) -> u64 {
    std::env::var(name).ok().and_then(|n| n.parse().ok()).unwrap_or(otherwise)
}

proptest! {
    // The same states at every run; `STATES` and `SEED` look at more and at others.
    #![proptest_config(ProptestConfig {
        max_shrink_iters: 2_000,
        rng_seed: RngSeed::Fixed(from_env("SEED", 20_260_302)),
        failure_persistence: None,
        ..ProptestConfig::with_cases(u32::try_from(from_env("STATES", 100_000)).unwrap())
    })]

    #[test]
    fn any_place_day_and_state_gets_sound_advice_and_the_same_twice(
        place in place(),
        at in 0i64..4_000,
        mut pasts in proptest::collection::vec(past(), 0..8),
        today_entry in past(),
        f in proptest::option::of(-30.0f64..115.0),
        mph in proptest::option::of(0.0f64..60.0),
        rain in proptest::option::of(any::<bool>()),
        deeps in 1usize..4,
        origin in 0usize..5,
        bloom in proptest::option::of((0usize..4, -200i64..0)),
        later in 1i64..20,
    ) {
        let today = days_after("2020-01-01".parse().unwrap(), at);
        let yard = Yard { name: YardId::new("Y"), place, formerly: Vec::new(), freezes: None, flows: Vec::new(), note: String::new(), hives: Vec::new() };
        let practice = Practice::default();
        let blooms: Vec<SeenBloom> = bloom
            .map(|(which, days)| SeenBloom { on: days_after(today, days), bloom: yardwalk::model::Bloom::ALL[which] })
            .into_iter()
            .collect();
        let calendar = Calendar::of(&yard, &practice, &blooms, today);
        let hive = Hive::new(
            HiveId::new("H"),
            Origin::ALL[origin],
            days_after(today, -300),
            vec![HiveBox::new(Depth::Deep, 10, Role::Nest); deeps],
            Queen::of_status(QueenStatus::Laying, None),
        );
        let mut before = HiveState::start(&hive, &yard.name);
        pasts.sort_by_key(|p| -p.days_ago);
        for past in pasts.iter().filter(|p| p.days_ago > 0) {
            let on = days_after(today, -past.days_ago);
            before.apply(&entry(past, on), on);
        }
        let now = entry(&today_entry, today);
        let mut state = before.clone();
        state.apply(&now, today);
        let weather = Weather {
            temperature: f.map(Temperature::from_fahrenheit),
            wind: mph.map(Wind::from_miles_per_hour),
            rain,
        };
        let stands = [&before];
        let day = Day { today, calendar: &calendar, weather, practice: &practice, units: Units::Us, stands: &stands };
        let situation = Situation::of(&state, Some(&now), day);
        let advice = advise(&situation);
        prop_assert_eq!(&advise(&situation), &advice, "the same answer twice");
        let rules: BTreeSet<&str> = advice.prompts.iter().map(|p| p.rule).collect();
        prop_assert_eq!(rules.len(), advice.prompts.len());
        prop_assert!(advice.prompts.windows(2).all(|w| w[0].urgency <= w[1].urgency));
        for prompt in advice.prompts.iter().chain(advice.held.iter().map(|h| &h.prompt)) {
            prop_assert!(prompt.due.opens <= prompt.due.aim && prompt.due.aim <= prompt.due.latest, "{:?}", prompt);
            prop_assert!(!prompt.title.is_empty() && !prompt.why.is_empty());
            prop_assert!(prompt.title.chars().count() <= 56, "{}", prompt.title);
        }
        for conflict in PAIRS {
            let does = |p: &&yardwalk::advice::Prompt| p.deeds.contains(&conflict.first);
            let stands = advice.prompts.iter().any(|p| does(&p));
            let breaks = |p: &&yardwalk::advice::Prompt| p.deeds.contains(&conflict.waits) && !does(p);
            let broken = advice.prompts.iter().find(breaks);
            prop_assert!(!stands || broken.is_none(), "{:?}: {:?}", conflict, broken);
        }
        for prompt in &advice.prompts {
            let frames = prompt.deeds.contains(&Deed::LiftsFrames);
            prop_assert!(!(frames && (f.is_some_and(|f| f < 60.0) || rain == Some(true) || mph.is_some_and(|w| w > 15.0))));
            prop_assert!(!(prompt.deeds.contains(&Deed::GivesSyrup) && state.super_boxes() > 0));
        }
        if state.disease_suspected.is_some() {
            let alone = ["disease.suspect", "robbing.signs", "entrance.narrow", "followup"];
            prop_assert!(rules.iter().all(|r| alone.contains(r)), "{:?} at a suspected hive", rules);
            prop_assert!(advice.prompts.iter().all(|p| !p.deeds.contains(&Deed::MovesComb)));
        }
        for prompt in advice.prompts.iter().filter(|p| p.urgency == Urgency::Must) {
            let is_told = !prompt.offers.is_empty() || !prompt.asks.is_empty() || !prompt.how.is_empty();
            prop_assert!(is_told, "a must that cannot be acted on: {:?}", prompt);
        }
        prop_assert!(no_more_than_fits(&advice, &state, &practice));
        prop_assert!(ends_in_time(&advice, &calendar, &practice, today));
        // Asked again some days on, with nothing new known, a deadline has not moved.
        let plan = |on: NaiveDate, calendar: &Calendar| {
            let day = Day { today: on, calendar, weather: Weather::default(), practice: &practice, units: Units::Us, stands: &[] };
            advise(&Situation::of(&state, None, day))
        };
        let later = days_after(today, later);
        let then = Calendar::of(&yard, &practice, &blooms, later);
        if then.year == calendar.year {
            let (first, second) = (plan(today, &calendar), plan(later, &then));
            for again in second.prompts.iter().filter(|p| p.due.latest >= later) {
                let before = first.prompts.iter().find(|p| p.rule == again.rule && p.title == again.title);
                prop_assert!(before.is_none_or(|p| p.due.latest == again.due.latest), "slides: {:?} {:?}", before, again);
            }
        }
        let worth = looks(&situation, &advice);
        prop_assert!(worth.windows(2).all(|w| w[0] < w[1]), "fields stand in the order a hive is opened");
        let _ = plan::standing(&state, &calendar, &practice, today);
        prop_assert!(advice.urgency().is_none_or(|u| u <= Urgency::May));
    }
}
