//! `split.last`: whether a split made today can still build up and be fed before winter.

use super::{Gear, Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::colony::model::{Belief, Deed as Done, Forecast, counted};
use crate::colony::strength::WINTER_FRAMES;
use crate::colony::{stores, syrup};
use crate::model::{
    Action, Finding, HiveBox, HiveId, HiveState, Mass, QueenStatus, Role, Treatment, days_after,
};
use crate::season::DateId;
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "split.last",
    name: "the last split",
    about: "As the last date nears, a strong colony: can a split made today still build up and be fed? After it, none",
    caution: Some(super::STINGS),
    source: "dates and winter size common practice, no single source; bees and brood by the colony's model",
    answer_holds: Holds::Days(14),
    speak,
    ..Rule::PLAIN
};

/// Days before the date from which it is spoken of.
const AHEAD: i64 = 21;
/// Days a count stands for.
const FRESH: i64 = 14;
/// Frames of bees from which a colony can be halved.
const STRONG: f64 = 10.0;
/// Frames of brood from which a colony can be halved.
const BROOD: f64 = 4.0;
/// Pounds of honey a half takes with it: two frames (from memory: 6 lb a deep frame).
const TAKEN: f64 = 12.0;

/// What becomes of a half by the end of feeding.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Half {
    /// Frames of bees, the middle of what may be.
    frames: f64,
    /// Days of feeding it needs, and has.
    feed: (i64, i64),
}

impl Half {
    fn winters(self) -> bool {
        self.frames >= WINTER_FRAMES && self.feed.0 <= self.feed.1
    }
}

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let window = s.day.calendar.window(DateId::LastSplit);
    let opens = days_after(window.opens, -AHEAD);
    if today < opens
        || today > window.closes
        || s.hive.queen.status != QueenStatus::Laying
        || s.day.calendar.shift.is_guess()
    {
        return None;
    }
    let bees = s.within(s.hive.seen.bees, FRESH).filter(|b| b.0 >= STRONG)?.0;
    let brood = s.within(s.hive.seen.brood, FRESH)?.0;
    if brood < BROOD {
        return None;
    }
    let half = |queen| half(s, bees / 2.0, brood / 2.0, queen);
    let (cell, mated) = (half(QueenStatus::Cell), half(QueenStatus::Caged));
    let words = |how: &str, half: Half| {
        let size = format!("{how} {:.0} frames of bees", half.frames);
        match half {
            _ if half.winters() => size,
            _ if half.frames < WINTER_FRAMES => format!("{size}, too few"),
            _ => format!("{size}, but {} of feeding and {} left", wording::days(half.feed.0), half.feed.1),
        }
    };
    let by = if today <= window.opens { window.opens } else { window.closes };
    let title = if cell.winters() {
        format!("Split by {} if at all: it can still winter", s.date(by))
    } else if mated.winters() {
        "A split now winters only with a mated queen".to_owned()
    } else {
        "Do not split it: neither half would winter".to_owned()
    };
    let why = format!(
        "Half of {bees} frames of bees and {brood} of brood, made today, comes by {} to: {}; {}. {:.0} frames winter.",
        s.date(s.day.calendar.closes(DateId::FeedingDone)),
        words("raising its own queen", cell),
        words("with a mated queen", mated),
        WINTER_FRAMES
    );
    let mut prompt =
        Prompt::new(RULE.id, Urgency::May, Due::new(opens, window.opens, window.closes), title, why).how(&[
            "Never over the last date: the winter bees would not be raised in time.",
            "Both halves are counted for mites and fed from the day they are made.",
        ]);
    if cell.winters() || mated.winters() {
        prompt = prompt
            .doing(&[Deed::LiftsFrames, Deed::Splits], 20.0)
            .needs(Need::Box { depth: s.hive.nest_depth(), role: Role::Nest })
            .needs(Need::Gear(Gear::FloorAndLid))
            .needs(Need::Gear(Gear::MatedQueen))
            .offer(
                // Its name, its boxes and where the queen is are asked for; the new hive has its own dates.
                Offer::of("split made", Action::SplitInto { hive: HiveId::new("") }).asking(),
            );
    }
    Some(prompt.asks(&[Finding::Bees, Finding::Brood]))
}

fn half(s: &Situation<'_>, bees: f64, brood: f64, queen: QueenStatus) -> Half {
    let (today, calendar) = (s.today(), s.day.calendar);
    let end = calendar.closes(DateId::FeedingDone);
    let boxes: Vec<HiveBox> = s.hive.nest().take(1).cloned().collect();
    let colony = counted(today, &boxes, queen, bees, brood);
    // Mites are kept in check, as every colony's are: else none would winter.
    let check = calendar.closes(DateId::MitesInCheck).max(today);
    let treated = [(check, Done::Treat(Treatment::FormicStrips, days_after(check, 14)))];
    let ahead = Forecast::of(&Belief::of(&colony, calendar, today), end, &treated);
    let frames = ahead.bees(end).map_or(bees, |spread| spread.middle);
    let target = stores::winter_target_at(&alone(s.hive), s.day.practice, calendar.days_of_cluster());
    let short = Mass::from_pounds((target.pounds() - TAKEN).max(0.0));
    let gallons = syrup::thick_for(short, s.day.practice.pounds_per_gallon());
    let from = calendar.closes(DateId::MainFlow).max(today);
    let has = (end - from).num_days();
    Half { frames, feed: (i64::from(syrup::days_to_take(gallons, Some(frames.max(bees)))), has) }
}

/// The half as a hive of its own, on one box.
fn alone(hive: &HiveState) -> HiveState {
    let mut half = hive.clone();
    half.boxes = hive.nest().take(1).cloned().collect();
    half
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, frames, hive};

    fn strong(on: &str, bees: f64, brood: f64) -> Case {
        let mut state = hive(2);
        state.seen.bees = frames(on, bees);
        state.seen.brood = frames(on, brood);
        Case::of(state).on(on)
    }

    #[test]
    fn three_weeks_ahead_it_speaks_and_after_the_very_last_day_no_more() {
        for (on, speaks) in
            [("2026-06-28", false), ("2026-06-29", true), ("2026-07-31", true), ("2026-08-01", false)]
        {
            assert_eq!(strong(on, 16.0, 8.0).speak(&RULE).is_some(), speaks, "{on}");
        }
    }

    #[test]
    fn only_a_colony_that_can_be_halved_is_spoken_to() {
        for (bees, brood, speaks) in [(10.0, 4.0, true), (9.75, 4.0, false), (10.0, 3.75, false)] {
            assert_eq!(strong("2026-07-01", bees, brood).speak(&RULE).is_some(), speaks, "{bees} {brood}");
        }
    }

    #[test]
    fn the_later_and_weaker_the_less_can_still_be_done() {
        let title = |case: Case| case.speak(&RULE).unwrap().title;
        assert!(title(strong("2026-06-29", 24.0, 12.0)).starts_with("Split by Jul 20"));
        assert!(title(strong("2026-07-12", 24.0, 12.0)).starts_with("Split by Jul 20"));
        assert!(title(strong("2026-07-21", 24.0, 12.0)).contains("only with a mated queen"));
        let late = strong("2026-07-31", 10.0, 4.0).speak(&RULE).unwrap();
        assert!(late.title.starts_with("Do not split it"), "{}", late.why);
        assert!(late.offers.is_empty());
    }

    #[test]
    fn a_split_on_the_last_day_is_the_last_the_engine_lets_through() {
        use crate::advice::Deed;
        for on in ["2026-07-20", "2026-08-05"] {
            let advice = strong(on, 24.0, 12.0).advise();
            let splits = advice.prompts.iter().any(|p| p.deeds.contains(&Deed::Splits));
            assert!(!splits || day(on) <= day("2026-07-31"), "{on}");
        }
    }
}
