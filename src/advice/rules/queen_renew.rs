//! `queen.renew`: another queen by age, temper or brood, while there is time for her to raise winter bees.

use chrono::Datelike;

use super::{Gear, Holds, Need, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Offer, Urgency};
use crate::model::{Action, Finding, Pattern, Queen, QueenStatus, Temper, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "queen.renew",
    name: "another queen",
    about: "An old queen, a hot temper or lasting gaps in the brood: another queen before August",
    caution: Some(super::STINGS),
    source: "Bee Culture, spring 2018: a queen serves one or two years; the rest common practice, no single source",
    answer_holds: Holds::Days(60),
    silent_beside: &[super::queen_missing::RULE.id, super::combine_weak::RULE.id],
    may_need: |_, _, _| vec![Need::Gear(Gear::MatedQueen)],
    speak,
    ..Rule::PLAIN
};

/// Days a look stands for.
const FRESH: i64 = 30;
/// Days that gaps must have been seen before, to be lasting.
const BEFORE_END: i64 = 15;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let calendar = s.day.calendar;
    let opens = calendar.at_widest(DateId::FramesMayBeLifted).opens;
    let closes = days_after(calendar.closes(DateId::MitesInCheck), -BEFORE_END)
        .max(calendar.closes(DateId::LastSplit));
    if s.hive.queen.status != QueenStatus::Laying
        || today < opens
        || today > closes
        || s.in_force.peace.is_some()
    {
        return None;
    }
    let summers = s.hive.queen.year.map(|year| today.year() - year);
    let old = summers.filter(|summers| f64::from(*summers) > s.day.practice.queen_years());
    let hot = s.within(s.hive.seen.temper, FRESH) == Some(Temper::Hot);
    let spotty = s.within(s.hive.seen.pattern, FRESH) == Some(Pattern::Spotty);
    let reasons: Vec<String> = [
        old.map(|summers| format!("she is in her summer number {}", summers + 1)),
        hot.then(|| "they are hot to work".to_owned()),
        spotty.then(|| "her brood has many gaps".to_owned()),
    ]
    .into_iter()
    .flatten()
    .collect();
    // One sign alone may pass: a hot day, a cold week. An age alone is a choice.
    let urgency = match reasons.len() {
        0 => return None,
        1 if old.is_none() && !hot => return None,
        1 => Urgency::May,
        _ => Urgency::Should,
    };
    let by = closes;
    Some(
        Prompt::new(
            RULE.id,
            urgency,
            Due::new(opens, days_after(by, -14), by),
            format!("Think of another queen by {}", s.date(by)),
            format!(
                "{}. A young queen lays on later in the year, and the bees that winter are hers.",
                crate::wording::capital(&reasons.join(", and "))
            ),
        )
        .how(&[
            "Order a mated queen for a day you can be there. Find the old one and take her out the day before.",
            "Hang the cage between brood frames; look at the cage on day 3 to 5, for eggs about day 8.",
            "Count mites first: gaps and temper are theirs as often as hers.",
        ])
        .asks(&[Finding::QueenSeen, Finding::Pattern, Finding::Temper])
        .doing(&[Deed::LiftsFrames, Deed::TakesQueen], 12.0)
        .needs(Need::Gear(Gear::MatedQueen))
        .offer(Offer::of(
            "old queen out, caged queen given",
            Action::SetQueen { queen: Queen::of_status(QueenStatus::Caged, Some(today)) },
        )),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{hive, seen};

    #[test]
    fn age_temper_and_gaps_are_weighed_together() {
        for (year, temper, pattern, urgency) in [
            (Some(2023), None, None, Some(Urgency::May)),
            (Some(2024), None, None, None),
            (None, Some(Temper::Hot), None, Some(Urgency::May)),
            (None, None, Some(Pattern::Spotty), None),
            (Some(2023), Some(Temper::Hot), Some(Pattern::Spotty), Some(Urgency::Should)),
        ] {
            let mut state = hive(1);
            state.queen.year = year;
            state.seen.temper = temper.and_then(|t| seen("2026-07-10", t));
            state.seen.pattern = pattern.and_then(|p| seen("2026-07-10", p));
            let told = Case::of(state).on("2026-07-10").speak(&RULE).map(|p| p.urgency);
            assert_eq!(told, urgency, "{year:?} {temper:?} {pattern:?}");
        }
    }
}
