//! Every row of the table, by itself: what is typed into its fields is what is logged.

use super::*;
use crate::model::testing::{day, hive};
use crate::model::units::Units;
use crate::model::{Asking, FeederKind, Volume};

fn about(units: Units, neighbours: &[HiveId]) -> About<'_> {
    About { units, today: day("2026-05-03"), neighbours, asking: Asking::Logged }
}

fn around(state: &HiveState) -> Around<'_> {
    let neighbour = Some(HiveId::new("T2"));
    Around { state, today: day("2026-05-03"), free_name: HiveId::new("T9"), neighbour }
}

/// Another value than the one proposed, of the same kind.
fn other(asked: &Asked, units: Units) -> Given {
    match (&asked.value, &asked.takes) {
        (Given::Pick(at), Takes::Choice(words)) => Given::Pick((at + 1) % words.len()),
        (Given::Day(day), _) => Given::Day(crate::model::days_after(*day, 5)),
        (Given::Words(words), Takes::Figures) if words.is_empty() => {
            Given::Words(if units == Units::Us { "7 lb" } else { "7 kg" }.to_owned())
        }
        (Given::Words(words), Takes::Figures) => match words.split_once(' ') {
            Some((_, unit)) => Given::Words(format!("7 {unit}")),
            None => Given::Words("7".to_owned()),
        },
        (Given::Words(_), Takes::Words(_) | Takes::Choice(_) | Takes::Day) => {
            Given::Words("Zebra".to_owned())
        }
        (Given::Open, _) | (Given::Pick(_), Takes::Words(_) | Takes::Figures | Takes::Day) => {
            panic!("{asked:?}")
        }
    }
}

#[test]
fn every_field_typed_is_in_what_is_logged() {
    let state = hive(2);
    let neighbours = [HiveId::new("T2"), HiveId::new("T3")];
    for units in [Units::Us, Units::Metric] {
        let about = about(units, &neighbours);
        let mut fields = 0;
        for Offered { words, action } in Action::offered(&around(&state)) {
            let asks = action.asks(&about);
            for at in 0..asks.len() {
                let mut given: Vec<Given> = asks.iter().map(|a| a.value.clone()).collect();
                let typed = match asks[at].label {
                    "Raised in" => Given::Words("2024".to_owned()),
                    "Honey held back" => Given::Words("14".to_owned()),
                    _ => other(&asks[at], units),
                };
                given[at] = typed.clone();
                if words.starts_with("put on a ") && asks[at].label != "Drawn frames" {
                    // No more drawn frames than the box takes.
                    for (each, asked) in given.iter_mut().zip(&asks) {
                        if asked.label == "Drawn frames" {
                            *each = Given::Words("3".to_owned());
                        }
                    }
                }
                if matches!(action, Action::Other { .. } | Action::RecordMedicine { .. })
                    || words == "gave it another queen, or know more of her"
                {
                    // Words may not be left empty.
                    for (each, asked) in given.iter_mut().zip(&asks) {
                        if *each == Given::Words(String::new()) && matches!(asked.takes, Takes::Words(_)) {
                            *each = Given::Words("x".to_owned());
                        }
                    }
                    given[at] = typed.clone();
                }
                let logged = action.given(&about, &mut given.iter()).unwrap();
                let again = logged.asks(&about);
                assert_eq!(again[at].value, typed, "{words}: {}", asks[at].label);
                fields += 1;
            }
        }
        assert!(fields >= 25, "{fields}");
    }
}

#[test]
fn what_only_the_keeper_knows_is_not_proposed_unless_a_prompt_says_how_much() {
    let open = |action: &Action, asking| -> Vec<&'static str> {
        let about = About { asking, ..about(Units::Us, &[]) };
        let asks = action.asks(&about).into_iter();
        asks.filter(|asked| asked.value == Given::Open).map(|asked| asked.label).collect()
    };
    let syrup = Action::FeedSyrup { mix: Mix::Thin, volume: Volume::from_gallons(1.0) };
    let feeder = Action::SetFeeder { feeder: Some(FeederKind::Pail) };
    assert_eq!(open(&syrup, Asking::Listed), ["Syrup", "How much"]);
    assert!(open(&syrup, Asking::Prompted).is_empty() && open(&syrup, Asking::Logged).is_empty());
    assert_eq!(open(&feeder, Asking::Prompted), ["Feeder now on"]);
    let listed = |name: &str| {
        let state = hive(2);
        let offered = Action::offered(&around(&state)).into_iter().find(|o| o.action.name() == name);
        open(&offered.unwrap().action, Asking::Listed)
    };
    assert_eq!(listed("Treat"), ["Treatment"]);
    assert_eq!(listed("TakeHoney"), ["Frames taken"]);
    assert_eq!(listed("DiseaseCleared"), ["Cleared by", "Cleared on"]);
}

#[test]
fn a_field_out_of_its_range_is_refused_by_its_name_and_a_file_with_it_has_a_fault() {
    let about = about(Units::Us, &[]);
    let action = Action::SwapFrames { frames: 2 };
    for bad in ["0", "61", "two", ""] {
        let why = action.given(&about, &mut [Given::Words(bad.to_owned())].iter()).unwrap_err();
        assert!(why.contains("Frames changed: write a whole number, 1 to 60"), "{why}");
    }
    assert!(Action::SwapFrames { frames: 0 }.fault().is_some_and(|f| f.contains("1 to 60")));
    assert!(Action::TakeHoney { frames: 61, mass: None }.fault().is_some());
    let box_of = |frames, drawn| Action::AddBox {
        depth: Depth::Deep,
        frames,
        role: Role::Nest,
        drawn,
        level: Level::Top,
    };
    assert!(box_of(8, 9).fault().is_some_and(|f| f.contains("cannot hold 9")));
    assert_eq!(box_of(10, 10).fault(), None);
    assert!(box_of(20, 1).fault().is_some());
}

#[test]
fn every_action_is_named_once_and_says_what_was_done() {
    let state = hive(2);
    let offered = Action::offered(&around(&state));
    for name in Action::NAMES {
        // The partner of a union is logged by the union itself; who cleared a suspicion is asked since format 4.
        assert!(
            ["JoinInto", "ClearDisease"].contains(name) || offered.iter().any(|o| o.action.name() == *name),
            "{name} is offered nowhere"
        );
    }
    for each in offered {
        let words = each.action.words(Units::Us);
        assert!(!words.is_empty() || each.words == "did something else", "{}", each.words);
    }
}
