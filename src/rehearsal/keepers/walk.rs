//! A keeper who walks the yard and does what the program asks.

use chrono::NaiveDate;

use super::Tended;
use crate::advice::{Day, Deed, Prompt, Situation, Urgency, advise};
use crate::model::{
    Action, Entry, HiveId, HiveState, Practice, Promise, Temperature, Units, Yard, days_after,
};
use crate::season::Calendar;
use crate::simulated::Weather;

/// A visit to the yard, hive by hive, or to those alone for which something was promised: all that must or should be done is
/// done, what only may be is left.
pub(super) fn walk(
    kept: &mut [Tended],
    (yard, practice): (&Yard, &Practice),
    weather: &Weather,
    to_all: bool,
    tell: &mut impl FnMut(usize, &Prompt),
) {
    let calendar = Calendar::of(yard, practice, &[], weather.on);
    for at in 0..kept.len() {
        // The yard as it stood when this hive was come to.
        let stands: Vec<HiveState> = kept.iter().map(|k| k.state.clone()).collect();
        let Some(each) = kept.get_mut(at) else { continue };
        let promised = each.back.take_if(|back| *back <= weather.on).is_some();
        let alone = each.united || !(to_all || promised);
        if alone || (!each.lives() && each.state.lost.is_some()) {
            continue;
        }
        let yard: Vec<&HiveState> = stands.iter().collect();
        let day = Day {
            today: weather.on,
            calendar: &calendar,
            weather: crate::model::Weather {
                temperature: Some(Temperature::from_celsius(weather.at_visit())),
                wind: None,
                rain: Some(weather.rain),
            },
            practice,
            units: Units::Us,
            stands: &yard,
        };
        let entry = visit(each, day, weather, &mut |prompt| tell(at, prompt));
        for action in &entry.actions {
            if let Action::JoinInto { hive } = action {
                unite(kept, at, hive);
            }
        }
    }
}

/// Whether something that a trip is made for has its last day, at one of the hives.
pub(super) fn calls(kept: &[Tended], (yard, practice): (&Yard, &Practice), on: NaiveDate) -> bool {
    let calendar = Calendar::of(yard, practice, &[], on);
    let stands: Vec<&HiveState> = kept.iter().map(|k| &k.state).collect();
    let day = Day {
        today: on,
        calendar: &calendar,
        weather: crate::model::Weather::default(),
        practice,
        units: Units::Us,
        stands: &stands,
    };
    let is_last = |prompt: &Prompt| prompt.makes_a_trip() && prompt.due.latest <= on;
    kept.iter()
        .filter(|each| !each.united && each.state.lost.is_none())
        .any(|each| advise(&Situation::of(&each.state, None, day)).prompts.iter().any(is_last))
}

/// At one hive: all that must or should be done.
fn visit(kept: &mut Tended, day: Day<'_>, weather: &Weather, tell: &mut dyn FnMut(&Prompt)) -> Entry {
    let mut entry = Entry::blank(kept.state.id.clone());
    if !kept.lives() {
        entry.findings.dead = Some(true);
    }
    let (mut opened, mut worked) = (false, 0.0);
    for _ in 0..40 {
        let mut state = kept.state.clone();
        state.apply(&entry, weather.on);
        let advice = advise(&Situation::of(&state, Some(&entry), day));
        let is_done = |p: &&Prompt| p.makes_a_trip() || p.urgency <= Urgency::Should;
        let Some(prompt) = advice.prompts.iter().find(is_done) else { break };
        tell(prompt);
        let before = entry.clone();
        if !obey(prompt, &mut entry, kept, weather) {
            worked += prompt.minutes;
            opened |= prompt.deeds.iter().any(|d| matches!(d, Deed::LiftsFrames | Deed::OpensLid));
        }
        if before == entry {
            break;
        }
    }
    if !entry.is_blank() {
        kept.minutes += 2.0 + if opened { 3.0 } else { 0.0 } + worked;
    }
    kept.state.apply(&entry, weather.on);
    entry
}

/// Looks at what is asked, and gives whether anything was looked at; else takes the first way.
fn obey(prompt: &Prompt, entry: &mut Entry, kept: &mut Tended, weather: &Weather) -> bool {
    let mut looked = false;
    for finding in &prompt.asks {
        if entry.findings.get(*finding).is_none()
            && let Some(value) = kept.reader.look(&kept.colony, *finding, weather)
        {
            looked |= entry.findings.set(*finding, Some(value));
        }
    }
    if looked {
        return true;
    }
    if let Some(offer) = prompt.offers.first() {
        for action in &offer.actions {
            kept.colony.take(action, weather);
            entry.actions.push(action.clone());
        }
        let promise =
            |(days, what): &(i64, String)| Promise { on: days_after(weather.on, *days), what: what.clone() };
        entry.promises.extend(offer.promises.iter().map(promise));
        // What must be done tomorrow is worth the way.
        if prompt.urgency == Urgency::Must && offer.later == Some(1) {
            kept.back = Some(days_after(weather.on, 1));
        }
    }
    entry.answer(prompt.taken(prompt.offers.first(), weather.on));
    false
}

fn unite(kept: &mut [Tended], at: usize, into: &HiveId) {
    let Some(partner) = kept.iter().position(|k| k.state.id == *into && k.lives()) else { return };
    if partner == at {
        return;
    }
    let Some(weak) = kept.get_mut(at) else { return };
    weak.united = true;
    let colony = weak.colony.clone();
    if let Some(partner) = kept.get_mut(partner) {
        partner.colony.unite(&colony);
    }
}
