//! The engine: runs every rule, settles what contradicts, and puts the rest in order.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use crate::model::{Action, Disease, Finding, QueenStatus, Reply, days_after};
use crate::season::DateId;

use super::conflicts::PAIRS;
use super::prompt::{Deed, Due, Prompt, Urgency};
use super::rules::{self, Colony, Holds, Rule};
use super::situation::Situation;

/// A prompt that must wait, and why.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Held {
    /// What would be asked.
    pub prompt: Prompt,
    /// Why not today.
    pub because: String,
}

/// What a hive needs on a day.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Advice {
    /// What to do, the most pressing first.
    pub prompts: Vec<Prompt>,
    /// What cannot be done today.
    pub held: Vec<Held>,
}

impl Advice {
    /// Whether a trip is made for any of it: then the hive is due.
    pub fn makes_a_trip(&self) -> bool {
        self.prompts.iter().any(Prompt::makes_a_trip)
    }

    /// The most pressing of its prompts.
    pub fn urgency(&self) -> Option<Urgency> {
        self.prompts.iter().map(|p| p.urgency).min()
    }
}

#[cfg(test)]
thread_local! {
    /// How often advice was asked for on this thread: drawing asks for none.
    static ASKED: std::cell::Cell<usize> = const { std::cell::Cell::new(0) };
}

/// How often advice was asked for on this thread so far.
#[cfg(test)]
pub(crate) fn asked() -> usize {
    ASKED.get()
}

/// Asks every rule about a hive on a day.
pub fn advise(s: &Situation<'_>) -> Advice {
    #[cfg(test)]
    ASKED.set(ASKED.get() + 1);
    let mut advice = Advice::default();
    let colony = colony(s);
    for rule in rules::ALL {
        // At a suspected hive the disease's own prompt says that all else waits: a list of it would only bury that.
        if colony.is_some_and(|colony| !rule.also_to.contains(&colony)) || is_answered(rule, s) {
            continue;
        }
        let Some(mut prompt) = (rule.speak)(s) else { continue };
        not_before_the_book(&mut prompt, s);
        // Which feeder went on only the keeper knows.
        let puts_on = |action: &Action| matches!(action, Action::SetFeeder { feeder: Some(_) });
        for offer in prompt.offers.iter_mut().filter(|offer| offer.actions.iter().any(puts_on)) {
            offer.asks = true;
        }
        if let Some(words) = put_off_before(rule, s) {
            prompt.why = format!("{} {words}", prompt.why);
        }
        match prompt.deeds.iter().find_map(|deed| hindrance(*deed, s)) {
            Some(because) => advice.held.push(Held { prompt, because }),
            None => advice.prompts.push(prompt),
        }
    }
    say_once(&mut advice);
    settle(&mut advice);
    advice.prompts.sort_by_key(|p| (p.urgency, p.due.latest));
    keep_to_one_visit(&mut advice);
    advice
}

/// Days that a new book has for what fell due before it was begun.
const CATCHING_UP: i64 = 7;

/// Nobody is late for a day before the book was begun.
fn not_before_the_book(prompt: &mut Prompt, s: &Situation<'_>) {
    let from = s.hive.known_from;
    if prompt.due.latest < from {
        prompt.due = Due::new(prompt.due.opens, from, days_after(from, CATCHING_UP));
    }
}

/// A look that was promised goes without saying where other prompts ask for it.
fn say_once(advice: &mut Advice) {
    let others = advice.prompts.iter().filter(|p| !p.is_look && p.makes_a_trip());
    let asked: BTreeSet<Finding> = others.flat_map(|p| p.asks.iter().copied()).collect();
    advice.prompts.retain(|p| !p.is_look || p.asks.iter().any(|look| !asked.contains(look)));
}

/// A colony to which only some rules speak; none where all do. Suspicion outlives the colony.
fn colony(s: &Situation<'_>) -> Option<Colony> {
    if s.hive.disease_suspected.is_some() {
        Some(Colony::Suspect)
    } else if !s.hive.is_alive() {
        Some(Colony::Dead)
    } else {
        None
    }
}

/// Whether a rule has had its answer for now.
fn is_answered(rule: &Rule, s: &Situation<'_>) -> bool {
    let Some(answer) = s.hive.answers.get(rule.id) else { return false };
    let is_counted_anew = s.hive.last_wash().is_some_and(|w| w.on > answer.on);
    if matches!(rule.answer_holds, Holds::DaysOrNextWash(_)) && is_counted_anew {
        return false;
    }
    let days = (s.today() - answer.on).num_days();
    match &answer.reply {
        Reply::Done | Reply::NotNeeded => (0..rule.answer_holds.days().max(1)).contains(&days),
        Reply::PutOff { until, .. } => days >= 0 && s.today() < *until,
    }
}

/// What was said when a prompt was put off until now.
fn put_off_before(rule: &Rule, s: &Situation<'_>) -> Option<String> {
    let answer = s.hive.answers.get(rule.id)?;
    match &answer.reply {
        Reply::PutOff { reason, until } if *until <= s.today() && (s.today() - *until).num_days() < 30 => {
            Some(format!("You put it off on {}: {reason}.", s.date(answer.on)))
        }
        Reply::PutOff { .. } | Reply::Done | Reply::NotNeeded => None,
    }
}

/// Why a deed would do harm today.
fn hindrance(deed: Deed, s: &Situation<'_>) -> Option<String> {
    let force = &s.in_force;
    if let Some(until) = force.robbed_until.filter(|_| feeds_robbers(deed)) {
        return Some(format!("robbing here: it stays shut until that is over, about {}", s.date(until)));
    }
    match deed {
        Deed::LiftsFrames => {
            no_frames(s).or_else(|| quiet(s)).or_else(|| in_peace(s)).or_else(|| beside_robbers(s))
        }
        Deed::CracksLid => lid_below(s, CRACK_FROM),
        Deed::OpensLid => lid_below(s, s.day.practice.lid_from()),
        Deed::AddsSuper => force.boxes_from.map(|(treatment, free)| {
            format!("honey boxes may go on from {}: {} and its waiting time", s.date(free), treatment.word())
        }),
        Deed::GivesSyrup if s.hive.super_boxes() > 0 => {
            Some("honey boxes are on: syrup would get into the honey".to_owned())
        }
        Deed::GivesSyrup => {
            force.food.syrup_until.map(|until| format!("there is syrup: look at it about {}", s.date(until)))
        }
        Deed::FeedsSolid => force
            .food
            .solid_until
            .map(|until| format!("there is solid food: look at it about {}", s.date(until))),
        Deed::BringsQueen => has_queen(s).or_else(|| quiet(s)),
        Deed::Reverses | Deed::TakesNestBox | Deed::TakesQueen | Deed::CutsCells => quiet(s),
        Deed::TakesHoney => force.unfit.map(|_| "this honey is not for people".to_owned()),
        Deed::Narrows | Deed::Guards => force
            .vapor
            .map(|c| format!("formic acid needs the full entrance until {}", s.date(c.until.max(s.today())))),
        Deed::MovesComb | Deed::Unites => no_comb_moved(s),
        Deed::Washes => in_peace(s).or_else(|| quiet(s)),
        Deed::Splits => {
            let last = s.day.calendar.closes(DateId::LastSplit);
            (s.today() > last && !s.day.calendar.shift.is_guess())
                .then(|| format!("the last date for a split was {}: neither half would winter", s.date(last)))
        }
        Deed::AddsNestBox
        | Deed::FeedsThin
        | Deed::FeedsThick
        | Deed::TakesSupers
        | Deed::Treats
        | Deed::Widens
        | Deed::OpensUpper => None,
    }
}

/// Whether a deed draws robbers: all that opens the hive or widens a way in. A guard and a reducer do not.
fn feeds_robbers(deed: Deed) -> bool {
    !matches!(deed, Deed::Narrows | Deed::Guards)
}

/// Why the bees are left in peace: formic acid drives them, and an open hive loses its vapor.
fn in_peace(s: &Situation<'_>) -> Option<String> {
    let course = s.in_force.vapor?;
    (s.today() > course.began && s.today() < course.until)
        .then(|| format!("formic acid is in: leave them in peace until {}", s.date(course.until)))
}

/// Why the nest is left alone: a queen is new, or mates.
fn quiet(s: &Situation<'_>) -> Option<String> {
    let (why, until) = s.in_force.peace?;
    Some(format!("{}: no brood frame is lifted until {}", why.words(), s.date(until)))
}

/// Why no queen is brought in: she would be killed beside another.
fn has_queen(s: &Situation<'_>) -> Option<String> {
    let is_there = match s.hive.queen.status {
        QueenStatus::Laying | QueenStatus::Superseded => {
            // Not where the brood says that she is gone.
            s.hive.seen.eggs.is_none_or(|eggs| eggs.value)
        }
        QueenStatus::Caged => true,
        QueenStatus::Cell
        | QueenStatus::RipeCell
        | QueenStatus::Virgin
        | QueenStatus::DroneLayer
        | QueenStatus::Missing
        | QueenStatus::Unknown => false,
    };
    is_there.then(|| "there is a queen: a second one beside her is killed".to_owned())
}

/// Why a long opening waits while a neighbor is robbed.
fn beside_robbers(s: &Situation<'_>) -> Option<String> {
    let name = s.in_force.robbed_neighbor.as_ref()?;
    Some(format!("{name} is being robbed: no long opening in this yard until that is over"))
}

/// Why no comb goes from hive to hive: signs at this one, or a suspected hive in the yard, for which a standstill holds.
fn no_comb_moved(s: &Situation<'_>) -> Option<String> {
    let signs = s.within(s.hive.seen.disease, 60);
    if signs.is_some_and(|d| d != Disease::None && d != Disease::Wings) {
        return Some("no comb leaves a hive with signs of disease".to_owned());
    }
    let name = s.in_force.suspect_neighbor.as_ref()?;
    Some(format!(
        "{name} is suspected of disease: no comb or bees from hive to hive until the inspector has been"
    ))
}

/// Why frames must not be lifted today, if they must not.
pub(super) fn no_frames(s: &Situation<'_>) -> Option<String> {
    let (weather, practice, units) = (&s.day.weather, s.day.practice, s.day.units);
    let least = crate::model::Temperature::from_fahrenheit(practice.frames_from());
    let windiest = crate::model::Wind::from_miles_per_hour(practice.wind_to());
    if weather.rain == Some(true) {
        return Some("it is raining: no frames out".to_owned());
    }
    if let Some(wind) = weather.wind.filter(|w| *w > windiest) {
        return Some(format!("wind of {}: no frames out above {}", units.wind(wind), units.wind(windiest)));
    }
    match weather.temperature {
        Some(now) if now < least => Some(format!(
            "{} now: frames are lifted from {}",
            units.temperature(now),
            units.temperature(least)
        )),
        Some(_) => None,
        None if s.day.calendar.frames_may_be_lifted(s.today()) => None,
        None => {
            let opens = s.day.calendar.opens(DateId::FramesMayBeLifted);
            Some(if s.today() < opens {
                format!(
                    "no frames out before {}, unless it is {} and you enter that at the yard",
                    s.date(opens),
                    units.temperature(least)
                )
            } else {
                format!(
                    "no frames out this late, unless it is {} and you enter that at the yard",
                    units.temperature(least)
                )
            })
        }
    }
}

/// Least temperature for lifting the lid a few seconds, Fahrenheit (a northern grower's note: high 30s to 40s).
const CRACK_FROM: f64 = 37.0;

/// Why the lid must stay on today, if it must.
fn lid_below(s: &Situation<'_>, least_f: f64) -> Option<String> {
    let (weather, units) = (&s.day.weather, s.day.units);
    let least = crate::model::Temperature::from_fahrenheit(least_f);
    if weather.rain == Some(true) {
        return Some("it is raining: the lid stays on".to_owned());
    }
    weather.temperature.filter(|now| *now < least).map(|now| {
        format!("{} now: the lid is lifted from {}", units.temperature(now), units.temperature(least))
    })
}

/// Prompts beside the musts that one visit to a hive can do, and the minutes they may take together (our choice: longer
/// open, a hive is robbed and chilled).
const MOST_PROMPTS: usize = 6;
const MOST_MINUTES: f64 = 30.0;

/// Holds over what is more than one visit can do: the musts stay, then the most pressing; the rest is asked next time.
fn keep_to_one_visit(advice: &mut Advice) {
    let mut minutes = 0.0;
    let mut kept = Vec::with_capacity(advice.prompts.len());
    for prompt in std::mem::take(&mut advice.prompts) {
        let fits = kept.len() < MOST_PROMPTS && minutes + prompt.minutes <= MOST_MINUTES;
        if fits || prompt.urgency <= Urgency::Must || prompt.minutes == 0.0 {
            minutes += prompt.minutes;
            kept.push(prompt);
        } else {
            advice.held.push(Held { prompt, because: "enough for one visit; next time".to_owned() });
        }
    }
    advice.prompts = kept;
}

/// What two rules must not both ask: one is silent beside another, or one of a pair of deeds waits.
fn settle(advice: &mut Advice) {
    let said: Vec<&'static str> = advice.prompts.iter().map(|p| p.rule).collect();
    let done: Vec<(&'static str, Deed)> =
        advice.prompts.iter().flat_map(|p| p.deeds.iter().map(|deed| (p.rule, *deed))).collect();
    let is_silent = |rule: &Rule| {
        rule.silent_beside.iter().any(|other| *other != rule.id && said.contains(other))
            || done.iter().any(|(by, deed)| *by != rule.id && rule.answered_by.contains(deed))
    };
    advice.prompts.retain(|p| !rules::rule(p.rule).is_some_and(is_silent));
    // What waits is not said twice either: beside what stands, or beside what waits with it.
    let waiting: Vec<&'static str> =
        advice.held.iter().map(|h| h.prompt.rule).chain(said.iter().copied()).collect();
    let is_said = |rule: &Rule| rule.silent_beside.iter().any(|o| *o != rule.id && waiting.contains(o));
    advice.held.retain(|h| !rules::rule(h.prompt.rule).is_some_and(is_said));
    for conflict in PAIRS {
        if !advice.prompts.iter().any(|p| p.deeds.contains(&conflict.first)) {
            continue;
        }
        let waits = |p: &Prompt| p.deeds.contains(&conflict.waits) && !p.deeds.contains(&conflict.first);
        let (waiting, stay): (Vec<Prompt>, Vec<Prompt>) =
            std::mem::take(&mut advice.prompts).into_iter().partition(waits);
        advice.prompts = stay;
        let because = conflict.because.to_owned();
        advice.held.extend(waiting.into_iter().map(|prompt| Held { prompt, because: because.clone() }));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::prompt::Due;
    use crate::model::testing::day;

    fn prompt(rule: &'static str, urgency: Urgency, minutes: f64) -> Prompt {
        Prompt::new(rule, urgency, Due::on(day("2026-05-03")), rule, "why").doing(&[], minutes)
    }

    fn kept(prompts: Vec<Prompt>) -> (Vec<&'static str>, Vec<&'static str>) {
        let mut advice = Advice { prompts, held: Vec::new() };
        settle(&mut advice);
        keep_to_one_visit(&mut advice);
        assert!(advice.held.iter().all(|h| h.because.contains("next time")));
        (advice.prompts.iter().map(|p| p.rule).collect(), advice.held.iter().map(|h| h.prompt.rule).collect())
    }

    #[test]
    fn a_visit_is_asked_no_more_than_it_can_do_and_the_rest_waits() {
        let should = |rule| prompt(rule, Urgency::Should, 10.0);
        let (asked, waits) = kept(vec![should("a"), should("b"), should("c"), should("d")]);
        assert_eq!((asked, waits), (vec!["a", "b", "c"], vec!["d"]), "thirty minutes are the most");
        // The musts are never left; what takes no time is no burden.
        let must = |rule| prompt(rule, Urgency::Must, 40.0);
        let word = prompt("word", Urgency::May, 0.0);
        let (asked, waits) = kept(vec![must("a"), must("b"), should("c"), word]);
        assert_eq!((asked, waits), (vec!["a", "b", "word"], vec!["c"]));
        let small = ["a", "b", "c", "d", "e", "f", "g"].map(|rule| prompt(rule, Urgency::Should, 1.0));
        let (asked, waits) = kept(small.to_vec());
        assert_eq!((asked.len(), waits), (6, vec!["g"]), "six are the most");
    }

    #[test]
    fn whatever_a_rule_says_none_splits_after_the_last_date() {
        use crate::advice::rules::testing::Case;
        for (on, held) in [("2026-07-31", false), ("2026-08-01", true)] {
            let case = Case::of(crate::model::testing::hive(2)).on(on);
            assert_eq!(case.with(|s| hindrance(Deed::Splits, s)).is_some(), held, "{on}");
        }
    }

    #[test]
    fn what_another_rule_says_better_is_not_said_twice() {
        let of = |rule| prompt(rule, Urgency::Should, 1.0);
        let mut pairs = 0;
        for rule in rules::ALL {
            assert_eq!(kept(vec![of(rule.id)]).0, [rule.id], "alone it speaks");
            for other in rule.silent_beside {
                assert_eq!(kept(vec![of(other), of(rule.id)]).0, [*other]);
                assert!(rules::rule(other).is_some(), "{other}");
                pairs += 1;
            }
        }
        assert!(pairs >= 5, "{pairs}");
    }
}
