//! Mites and honey boxes at the end of the flow: the boxes come off, and the same day what they stood in the way of goes in.
//!
//! No rule of its own: what the mite rules offer beside what may go in with the boxes on.

use super::Situation;
use super::mites_treat::{Formic, formic, is_slow, is_weak, offer};
use crate::advice::prompt::{Offer, Urgency};
use crate::colony::treatment::{self, Conditions, Limits};
use crate::model::{HiveState, Role, days_after};

/// Days before the end of the flow from which the boxes may come off for the mites' sake.
const BEFORE_END: i64 = 10;

/// The ways to treat with the boxes taken off first; none while the flow lasts, or where none is on.
pub(super) fn ways(
    s: &Situation<'_>,
    urgency: Urgency,
    rows: &[Limits],
    conditions: &Conditions,
) -> Vec<Offer> {
    let flow_over = s.day.calendar.flow_about(s.today()).is_some_and(|flow| {
        s.today() >= days_after(flow.closes, -BEFORE_END) && !s.day.calendar.shift.is_guess()
    });
    if s.hive.super_boxes() == 0 || !flow_over {
        return Vec::new();
    }
    let bare = HiveState { boxes: s.hive.nest().cloned().collect(), ..s.hive.clone() };
    let goes_in = |row: &&Limits| {
        // Formic acid waits a day after the boxes were worked, and by the day's highs.
        let at_once = !is_weak(row.treatment) && !is_slow(row.treatment) && !row.full_entrance;
        at_once && !row.with_supers.value && treatment::refusals(row, &bare, s.today(), conditions).is_empty()
    };
    // What must be done is worth coming back for the next day, by the highs of these days.
    let goes_in_tomorrow = |row: &&Limits| {
        urgency <= Urgency::Must
            && row.full_entrance
            && matches!(formic(s, row, conditions), Formic::Tomorrow | Formic::Allowed)
            && treatment::refusals(row, &bare, s.today(), conditions).is_empty()
    };
    let Some(off) = super::super_off::ways(s).into_iter().next() else { return Vec::new() };
    let after = |mut treat: Offer| {
        treat.label = format!("boxes {}, then {}", off.label, treat.label);
        treat.actions.splice(0..0, off.actions.iter().cloned());
        treat
    };
    let name = |row: &Limits| treatment::name(row.treatment, s.day.practice);
    let tomorrow = rows
        .iter()
        .filter(goes_in_tomorrow)
        .map(|row| Offer::later(format!("{} from tomorrow", name(row)), 1));
    let today = rows.iter().filter(goes_in).map(|row| offer(s, row, &name(row)));
    tomorrow.chain(today).map(after).collect()
}

/// Said once where that is a way.
pub(super) fn words(s: &Situation<'_>) -> String {
    let boxes = s.hive.boxes.iter().filter(|b| b.role == Role::Super).count();
    let them = if boxes == 1 { "the honey box" } else { "the honey boxes" };
    format!("The flow is over or nearly so: {them} off first, and what works best may go in today.")
}
