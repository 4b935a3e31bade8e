//! What holds for every rule alike, and for the rules together.

use std::collections::BTreeSet;

use super::testing::Case;
use super::*;
use crate::model::testing::{frames, hive, seen, with_super};
use crate::model::{Cells, Entry, HiveId, HiveState};
use crate::model::{Reply, RuleId};

fn states() -> Vec<HiveState> {
    let mut strong = hive(2);
    strong.seen.bees = frames("2026-05-01", 16.0);
    strong.seen.brood = frames("2026-05-01", 9.0);
    strong.seen.cells = seen("2026-05-01", Cells(9));
    let mut light = hive(1);
    light.seen.honey = frames("2026-09-05", 2.0);
    vec![hive(1), hive(2), with_super(), strong, light]
}

fn every_day(mut look: impl FnMut(&Case)) {
    for state in states() {
        for day in crate::model::testing::day("2026-01-01").iter_days().take(365) {
            look(&Case::of(state.clone()).on(&day.to_string()));
        }
    }
}

#[test]
fn names_are_unique_well_formed_and_sourced() {
    let mut ids = BTreeSet::new();
    for rule in ALL {
        assert!(ids.insert(rule.id), "{} twice", rule.id);
        assert!(rule.id.chars().all(|c| c.is_ascii_lowercase() || "-.".contains(c)), "{}", rule.id);
        assert!(rule.source.len() > 10 && !rule.about.is_empty(), "{}", rule.id);
        assert!(rule.answer_holds.days() >= 1, "{}", rule.id);
    }
}

#[test]
fn words_fit_the_panel_and_windows_are_in_order() {
    every_day(|case| {
        for prompt in case.advise().prompts {
            assert!(prompt.title.chars().count() <= 56, "{}: {}", prompt.rule, prompt.title);
            assert!(!prompt.why.is_empty(), "{}", prompt.rule);
            assert!(prompt.due.opens <= prompt.due.aim && prompt.due.aim <= prompt.due.latest, "{prompt:?}");
            assert!(!prompt.why.contains("  "), "{}", prompt.why);
        }
    });
}

#[test]
fn nothing_is_asked_twice_and_the_most_pressing_comes_first() {
    every_day(|case| {
        let advice = case.advise();
        let rules: Vec<_> = advice.prompts.iter().map(|p| p.rule).collect();
        assert_eq!(rules.iter().collect::<BTreeSet<_>>().len(), rules.len());
        assert!(advice.prompts.windows(2).all(|w| w[0].urgency <= w[1].urgency));
    });
}

#[test]
fn in_frost_nobody_is_told_to_lift_frames() {
    every_day(|case| {
        let cold = case.clone().fahrenheit(40.0).advise();
        assert!(cold.prompts.iter().all(|p| !p.deeds.contains(&super::super::Deed::LiftsFrames)));
    });
}

#[test]
fn every_answer_quiets_its_rule_for_the_day() {
    every_day(|case| {
        for prompt in case.advise().prompts {
            for reply in [
                Reply::Done,
                Reply::NotNeeded,
                Reply::PutOff { reason: "rain".to_owned(), until: crate::model::testing::day("2027-12-31") },
            ] {
                let answers = vec![prompt.answered(reply)];
                let entry = Entry { answers, ..Entry::blank(HiveId::new("T1")) };
                let after = case.clone().entry(entry).advise();
                assert!(after.prompts.iter().all(|p| p.rule != prompt.rule), "{}", prompt.rule);
            }
        }
    });
}

#[test]
fn put_off_is_silent_until_its_day_and_then_says_why() {
    let until = crate::model::testing::day("2026-05-10");
    let reply = Reply::PutOff { reason: "no jar".to_owned(), until };
    let mut state = hive(1);
    state.answers.insert(
        RuleId::new("mites.wash"),
        crate::model::fold::Answered { on: crate::model::testing::day("2026-05-03"), reply },
    );
    let has =
        |on| Case::of(state.clone()).on(on).advise().prompts.into_iter().find(|p| p.rule == "mites.wash");
    assert!(has("2026-05-09").is_none());
    assert!(has("2026-05-10").unwrap().why.contains("You put it off on May 3: no jar."));
}
