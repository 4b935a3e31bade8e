//! `mites.winter-bees`: mites in check before the bees that winter are raised.

use super::{Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Need, Offer, Urgency};
use crate::colony::{treatment, varroa};
use crate::model::{Treatment, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "mites.winter-bees",
    name: "mites and winter bees",
    about: "Nearing the date for mites in check: what the last count comes to by then, and the last day for each treatment",
    caution: Some(
        "The label in hand decides dose, temperature, protection and honey boxes; local law and the veterinarian come \
         before this page.",
    ),
    source: "growth with brood 2.0 to 2.5 % a day: Martin 1998 and Fries et al. 1994, from memory; bees falling by a third \
        from high summer: common practice, no single source",
    rest_days: 14,
    speak,
};

/// Days ahead of the date from which it looks.
const AHEAD: i64 = 28;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let closes = s.day.calendar.closes(DateId::MitesInCheck);
    let opens = days_after(closes, -AHEAD);
    if today < opens || today > closes || s.hive.course_on(today).is_some() {
        return None;
    }
    let count = s.hive.last_wash().filter(|w| s.day.calendar.holds(w.on) && w.mites > 0)?;
    if s.hive.courses.iter().any(|c| c.began >= count.on) {
        return None;
    }
    let limit = s.day.practice.mite_limit();
    let then = varroa::forecast(count, closes, varroa::Course::TO_WINTER_BEES);
    if count.percent() > limit || then.high <= limit {
        return None;
    }
    let sure = then.low > limit;
    let mut prompt = Prompt::new(
        RULE.id,
        Urgency::Should,
        Due::new(opens, today, closes),
        if sure {
            "Over the limit when winter bees begin: treat by then"
        } else {
            "May pass the limit as winter bees begin"
        },
        format!(
            "{:.1} % on {} comes to {:.1} to {:.1} % by {}, for mites grow while the bees grow fewer; your limit is {limit} %. \
             Bees raised under mites do not live to spring.",
            count.percent(),
            count.on.format("%-d %b"),
            then.low,
            then.high,
            closes.format("%-d %b")
        ),
    );
    for treatment in Treatment::ALL {
        let row = treatment::limits(*treatment, s.day.practice);
        if !row.outlasts_brood {
            continue;
        }
        let last = days_after(closes, -row.days.value);
        let boxes = if row.with_supers.value { "honey boxes may stay" } else { "honey boxes off" };
        prompt.how.push(if last < today {
            format!("{}: {} days, no longer done in time.", treatment.word(), row.days.value)
        } else {
            format!(
                "{}: in by {}, {} days, {boxes}.",
                treatment.word(),
                last.format("%-d %b"),
                row.days.value
            )
        });
    }
    Some(prompt.needs(Need::WashKit).offer(Offer {
        label: "count again in two weeks".to_owned(),
        actions: Vec::new(),
        promises: vec![(
            14.min((closes - today).num_days()).max(1),
            "mites before the winter bees: wash".to_owned(),
        )],
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, hive};
    use crate::model::{Course, HiveState, MiteCount};

    fn counted(on: &str, mites: u16) -> HiveState {
        let mut state = hive(2);
        state.washes.push(MiteCount { on: day(on), mites, bees: 300 });
        state
    }

    #[test]
    fn from_four_weeks_ahead_to_the_date() {
        let case = Case::of(counted("2026-07-10", 5));
        for (on, speaks) in
            [("2026-07-17", false), ("2026-07-18", true), ("2026-08-15", true), ("2026-08-16", false)]
        {
            assert_eq!(case.clone().on(on).speak(&RULE).is_some(), speaks, "{on}");
        }
    }

    /// By hand: 21 days at 2.5 % grow by e^0.525 = 1.69, over bees fallen to 0.67: 2.52 times. 2 mites on 300 bees, 0.67 %,
    /// come to 1.68 %; 3 mites, 1 %, to 2.52 %.
    #[test]
    fn a_count_counts_by_what_it_will_be() {
        for (mites, speaks) in [(0, false), (2, false), (3, true), (6, true), (7, false)] {
            let said = Case::of(counted("2026-07-25", mites)).on("2026-07-25").speak(&RULE);
            assert_eq!(said.is_some(), speaks, "{mites}");
        }
    }

    #[test]
    fn each_treatment_has_its_last_day_and_a_treated_hive_is_left() {
        let prompt = Case::of(counted("2026-07-25", 4)).on("2026-07-25").speak(&RULE).unwrap();
        let how = prompt.how.join("\n");
        assert!(how.contains("formic acid strips: in by 1 Aug, 14 days, honey boxes may stay"), "{how}");
        assert!(how.contains("thymol gel: 28 days, no longer done in time"), "{how}");
        let mut state = counted("2026-07-25", 4);
        let began = day("2026-07-25");
        state.courses.push(Course {
            treatment: Treatment::FormicStrips,
            began,
            until: began,
            ended: Some(began),
        });
        assert!(Case::of(state).on("2026-07-26").speak(&RULE).is_none());
    }
}
