//! Wrap-up, card, plan and trips tell one truth: a due date stands where it fell, an answer is taken, and what is said in the
//! evening is what the next morning says.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

#[path = "support/generate.rs"]
mod generate;

use std::collections::{BTreeMap, BTreeSet};

use chrono::{FixedOffset, NaiveDate, NaiveTime};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use yardwalk::advice::Prompt;
use yardwalk::model::{
    Book, Entry, Finding, Folded, HiveId, RuleId, Settings, Temperature, Units, Weather, days_after,
};
use yardwalk::plan::{Outlook, Pace, trips};
use yardwalk::session::{Effect, HiveView, Intent, Outcome, Session, Start};
use yardwalk::store;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn sample() -> Book {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-yard.ron");
    store::read(&path).unwrap().0
}

/// Days to look from: all seasons, on days of no meaning.
fn days() -> Vec<NaiveDate> {
    (0..24).map(|n| days_after(day("2025-09-03"), n * 15)).collect()
}

/// The words of a title without its figures and dates, which may count.
fn bare(title: &str) -> String {
    title.split(' ').filter(|word| !word.chars().any(|c| c.is_ascii_digit())).collect::<Vec<_>>().join(" ")
}

#[test]
fn a_due_date_stands_where_it_fell_and_does_not_slide_with_the_day() {
    let book = sample();
    let mut slid: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for from in days() {
        let folded = Folded::of(&book, from);
        for yard in &book.yards {
            let mut outlook = Outlook::of(&book, &folded, yard);
            for state in outlook.stands().to_vec() {
                let mut before: Vec<Prompt> = Vec::new();
                for on in (0..30).map(|n| days_after(from, n)) {
                    let now = outlook.advice(state, on).prompts;
                    for prompt in &now {
                        let same = before
                            .iter()
                            .find(|b| b.rule == prompt.rule && bare(&b.title) == bare(&prompt.title));
                        if let Some(then) = same
                            && prompt.due.latest > then.due.latest
                        {
                            slid.entry(format!("{}: {}", prompt.rule, bare(&prompt.title)))
                                .or_default()
                                .push(format!(
                                    "{on} {}: {} to {}",
                                    state.id, then.due.latest, prompt.due.latest
                                ));
                        }
                    }
                    before = now;
                }
            }
        }
    }
    let told: Vec<String> =
        slid.iter().map(|(what, all)| format!("{what} ({}): {}", all.len(), all[0])).collect();
    assert!(slid.is_empty(), "{}", told.join("\n"));
}

#[test]
fn what_was_answered_today_is_not_asked_tomorrow() {
    let book = sample();
    let mut again: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for from in days() {
        let folded = Folded::of(&book, from);
        for yard in &book.yards {
            let mut outlook = Outlook::of(&book, &folded, yard);
            for state in outlook.stands().to_vec() {
                let mut entry = Entry::blank(state.id.clone());
                for prompt in &outlook.advice(state, from).prompts {
                    for finding in &prompt.asks {
                        let found =
                            state.seen.get(*finding).map(|(_, value)| value).or_else(|| finding.all_well());
                        entry.findings.set(*finding, found);
                    }
                }
                let answered: BTreeSet<_> =
                    Finding::ALL.iter().filter(|f| entry.findings.get(**f).is_some()).copied().collect();
                let mut after = state.clone();
                after.apply(&entry, from);
                for prompt in outlook.advice(&after, days_after(from, 1)).prompts {
                    let only_asks = prompt.offers.iter().all(|offer| offer.actions.is_empty());
                    if only_asks
                        && prompt.makes_a_trip()
                        && !prompt.asks.is_empty()
                        && prompt.asks.iter().all(|f| answered.contains(f))
                    {
                        again
                            .entry(format!("{}: {}", prompt.rule, bare(&prompt.title)))
                            .or_default()
                            .push(format!("{from} {}", state.id));
                    }
                }
            }
        }
    }
    let told: Vec<String> =
        again.iter().map(|(what, all)| format!("{what} ({}): {}", all.len(), all[0])).collect();
    assert!(again.is_empty(), "{}", told.join("\n"));
}

/// A disk that takes everything.
fn on_a_sound_disk(session: &mut Session, intent: Intent) -> bool {
    let Ok(done) = session.carry_out(intent) else { return false };
    let mut effects = done.effects;
    while !effects.is_empty() {
        let outcome = match effects.remove(0) {
            Effect::SaveVisit(visit) => Outcome::VisitSaved(visit),
            Effect::SaveYards { yards, .. } => {
                Outcome::YardsSaved { yards, differences: Vec::new(), was_joined: false }
            }
            _ => Outcome::Nothing,
        };
        effects.extend(session.take_in(outcome).effects);
    }
    true
}

fn session_on(book: Book, today: NaiveDate) -> Session {
    let offset = FixedOffset::east_opt(0).unwrap();
    let now = today.and_time(NaiveTime::from_hms_opt(10, 0, 0).unwrap());
    Session::new(book, Start { today, now, offset, seed: 1, settings: Settings::default() })
}

/// The rules at a hive for which a trip is made.
fn speaking(view: &HiveView) -> BTreeSet<&'static str> {
    let prompts = view.advice.prompts.iter().filter(|p| p.makes_a_trip());
    prompts.map(|p| p.rule).collect()
}

/// Does at a hive what some numbers say: looks are made or left, found any way; prompts are done, put off or left.
fn visit(session: &mut Session, hive: &HiveId, shares: &[f64]) {
    let looks = session.view(hive).unwrap().looks;
    for (finding, pair) in looks.into_iter().zip(shares.chunks(2)) {
        if let [is_made, share] = pair
            && *is_made < 0.6
        {
            let value = Some(generate::value(finding, *share));
            on_a_sound_disk(session, Intent::Find { hive: hive.clone(), finding, value });
        }
    }
    for share in shares.iter().rev().take(3) {
        let prompts = session.view(hive).unwrap().advice.prompts;
        let Some(prompt) = prompts.first() else { return };
        let (hive, rule) = (hive.clone(), RuleId::new(prompt.rule));
        let until = days_after(session.today(), 5);
        let intent = match *share {
            s if s < 0.5 && !prompt.offers.is_empty() => Intent::Accept { hive, rule, offer: 0 },
            s if s < 0.7 => Intent::PutOff { hive, rule, reason: "no time".to_owned(), until },
            _ => return,
        };
        on_a_sound_disk(session, intent);
    }
}

proptest! {
    #![proptest_config(ProptestConfig {
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(26),
        ..ProptestConfig::with_cases(96)
    })]

    #[test]
    fn what_is_said_in_the_evening_is_what_the_next_morning_says(
        at in 0usize..24,
        which in 0usize..2,
        shares in proptest::collection::vec(proptest::collection::vec(0.0f64..1.0, 24), 1..4),
    ) {
        let (mut book, today) = (sample(), days()[at]);
        // What the sample logs on the next day itself is news by then.
        book.visits.retain(|visit| visit.on <= today);
        let yard = book.yards[which].name.clone();
        let mut session = session_on(book, today);
        let weather = Weather { temperature: Temperature::parse_in("72", Units::Us).ok(), ..Weather::default() };
        let begin = Intent::Begin { yard: yard.clone(), hive: None, weather, blooms: Vec::new() };
        prop_assume!(on_a_sound_disk(&mut session, begin));
        let hives: Vec<HiveId> =
            session.hives().into_iter().filter(|h| session.view(h).is_some_and(|v| v.state.yard == yard)).collect();
        for (hive, shares) in hives.iter().zip(&shares) {
            visit(&mut session, hive, shares);
        }
        let evening = session.evening();
        let said: Vec<_> = hives
            .iter()
            .map(|hive| {
                let view = session.view(hive).unwrap();
                (hive.clone(), speaking(&view), evening.next_due(&view).map(|next| (next.on, next.rule)))
            })
            .collect();
        prop_assume!(on_a_sound_disk(&mut session, Intent::Save));
        let morning = session_on(session.book().clone(), days_after(today, 1));
        let plan = &morning.yard_plan(&yard).unwrap().queue;
        for (hive, open, next) in said {
            let view = morning.view(&hive).unwrap();
            let speaks = speaking(&view);
            let is_planned = plan.iter().any(|stop| stop.hive == hive);
            prop_assert_eq!(is_planned, !speaks.is_empty(), "{} {}: the plan and the hive", today, hive);
            match next {
                Some((on, rule)) if on == morning.today() => {
                    prop_assert!(speaks.contains(rule), "{today} {hive}: {rule} was said, {speaks:?} speak");
                }
                Some(next) => {
                    prop_assert!(speaks.is_empty(), "{today} {hive}: {next:?} was said, {speaks:?} speak");
                    let then = morning.evening().next_due(&view).map(|next| (next.on, next.rule));
                    prop_assert_eq!(then, Some(next), "{} {}", today, hive);
                }
                None if open.is_empty() => prop_assert!(speaks.is_empty(), "{today} {hive}: {speaks:?}"),
                None => {}
            }
        }
    }
}

#[test]
fn trips_hold_the_same_undone_work_once() {
    let book = sample();
    for from in days() {
        let folded = Folded::of(&book, from);
        for yard in &book.yards {
            let mut outlook = Outlook::of(&book, &folded, yard);
            let mut last: BTreeMap<(HiveId, &'static str), NaiveDate> = BTreeMap::new();
            for trip in trips(&mut outlook, from, Pace::PLAN) {
                for need in &trip.needs {
                    let key = (need.hive.clone(), need.rule);
                    if let Some(before) = last.insert(key, trip.on) {
                        let days = (trip.on - before).num_days();
                        assert!(
                            days >= 3,
                            "{from}: {} at {} on {before} and again {days} days later",
                            need.title,
                            need.hive
                        );
                    }
                }
            }
        }
    }
}
