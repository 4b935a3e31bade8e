//! A count under the limit, and what it comes to by the time honey boxes go on or winter bees are raised.
//!
//! No rule of its own: what `mites.treat` says of such a count.

use super::mites_treat::RULE;
use super::{Prompt, Situation, mites_winter_bees};
use crate::advice::prompt::{Deed, Due, Offer, Urgency};
use crate::model::{Finding, MiteCount, days_after};
use crate::season::DateId;

/// A count that is under the limit now and will not be when the winter bees are raised.
pub(super) fn forward(s: &Situation<'_>, count: MiteCount, limit: f64, due: Due) -> Option<Prompt> {
    let window = s.day.calendar.window(DateId::MitesInCheck);
    let spring_over = s.day.calendar.opens(DateId::MainFlow);
    // In the last weeks before the date `mites.winter-bees` speaks.
    let near = mites_winter_bees::opens(&s.day);
    if s.today() < spring_over {
        return spring(s, count);
    }
    if s.today() >= near || count.mites == 0 {
        return None;
    }
    let ahead = s.forecast();
    if ahead.chance_over(window.closes, limit)? <= SURE {
        return None;
    }
    let passes = ahead.passes(limit)?.middle?;
    let spread = ahead.mites(window.closes)?;
    let latest = window.closes;
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(due.opens, window.opens.max(s.today()), latest),
            "It will pass the limit: plan a treatment",
            format!(
                "{:.1} % on {} comes to {:.1} to {:.1} % in 9 of 10 hives by {}, when the winter bees begin; most \
                 likely it passes {limit} % about {}.",
                count.percent(),
                s.date(count.on),
                spread.lowest,
                spread.highest,
                s.date(window.closes),
                s.date(passes)
            ),
        )
        .how(&["Choose one that may go in with what is on the hive, or plan it for the day the honey boxes come off."])
        .offer(Offer::noted("noted: a treatment is planned")),
    )
}

/// Chance of passing the limit by the date for mites from which a treatment is planned months ahead.
const SURE: f64 = 0.74;

/// From this share of the bees on a count in spring is early for that (published spring limits of 1 %, without a base).
const SPRING: f64 = 1.0;

/// Days before it is due from which the next count may be made, and days after which the month's count is due.
const EARLY: i64 = 4;
const MONTH: i64 = 30;

/// A count that is low for August and early for spring.
fn spring(s: &Situation<'_>, count: MiteCount) -> Option<Prompt> {
    let percent = count.percent();
    if percent < SPRING {
        return None;
    }
    let near = percent >= s.day.practice.mite_limit() * 0.9;
    let again = days_after(count.on, if near { 14 } else { 21 });
    // It is said with the count, and again once the next would tell more; a month after it the next is due anyway.
    let opens = days_after(again, -EARLY);
    let is_told = s.today() == count.on;
    if !is_told && (s.today() < opens || s.today() > days_after(count.on, MONTH)) {
        return None;
    }
    let words = if near { "Near the limit in spring" } else { "Early for so many mites" };
    let prompt = Prompt::new(
            RULE.id,
            if near { Urgency::Should } else { Urgency::May },
            Due::new(opens, again, again),
            format!("{words}: count again by {}", s.date(again)),
            format!(
                "{percent:.1} % on {}. Mites double in about a month while there is brood (from memory), and the honey boxes \
                 soon stand in the way of most treatments.",
                s.date(count.on)
            ),
        )
        .how(&["Or treat now, with what is out and waited for before the honey boxes go on."]);
    Some(if is_told {
        prompt.offer(Offer::noted("noted"))
    } else {
        prompt.asks(&[Finding::Mites, Finding::WashBees]).doing(&[Deed::LiftsFrames, Deed::Washes], 6.0)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, hive};

    fn told(mites: u16, on: &str) -> Option<Prompt> {
        let mut state = hive(2);
        state.washes.push(MiteCount { on: day(on), mites, bees: 300 });
        Case::of(state).on(on).speak(&RULE)
    }

    #[test]
    fn what_will_pass_the_limit_is_planned_for_and_a_jar_of_none_is_not() {
        let later = told(4, "2026-06-20").unwrap();
        assert_eq!(later.title, "It will pass the limit: plan a treatment");
        assert!(told(0, "2026-06-20").is_none());
    }

    #[test]
    fn in_spring_a_count_of_one_in_a_hundred_is_early() {
        assert!(told(2, "2026-05-01").is_none());
        assert!(told(3, "2026-05-01").unwrap().title.starts_with("Early for so many mites"));
        assert!(told(6, "2026-05-01").unwrap().title.starts_with("Near the limit in spring"));
    }
}
