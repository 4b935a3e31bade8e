//! `mites.winter-bees`: mites in check before the bees that winter are raised.

use chrono::NaiveDate;

use super::mites_treat::is_slow;
use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Offer, Urgency};
use crate::advice::situation::Day;
use crate::colony::treatment;
use crate::model::{MiteCount, Treatment, days_after};
use crate::season::DateId;
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "mites.winter-bees",
    name: "mites and winter bees",
    about: "Nearing the date for mites in check: what the last count comes to by then, and the last day for each treatment",
    caution: Some(
        "The label in hand decides dose, temperature, protection and honey boxes; local law and the veterinarian come \
         before this page.",
    ),
    source: "the colony's model: its range for the next wash held 95 in 100 of 122 second counts of real colonies \
        (Aurell et al. 2025); its growth held to counts of untreated colonies, University of Vermont 2021 to 2023",
    answer_holds: Holds::DaysOrNextWash(14),
    silent_beside: &[super::mites_treat::RULE.id, super::mites_wash::RULE.id],
    speak,
    ..Rule::PLAIN
};

/// Days ahead of the date from which it looks.
const AHEAD: i64 = 35;
/// Days ahead of the date from which what is sure to pass the limit must be treated.
const PRESSING: i64 = 21;

/// Days a count may be old to be carried forward: beyond that it is counted anew.
const FRESH: i64 = 45;

/// Days after the date in which winter bees are raised and mites come in with robbers (DeGrandi-Hoffman et al. 2016).
const AFTER: i64 = 45;
/// Chance of passing the limit while winter bees are raised from which to treat as a caution, or to count again after two weeks:
/// too late costs a colony, too early a treatment. Weighed by the trial of keepers (`benches/README.md`).
const CAUTION: f64 = 0.25;
/// The same after a jar of none, for which few would treat: below it is counted again (our choice).
const AFTER_NONE: f64 = 0.6;
/// Chance of passing the limit by the date, or within two weeks, from which it is no caution any more.
const SURE: f64 = 0.74;
/// Days ahead of a count that are judged, to the last of the days in which winter bees are raised.
const RAISED: i64 = 42;
/// Days after a count to the next where it is not sure.
const SOON: i64 = 14;

/// The first day on which it looks.
pub(super) fn opens(day: &Day<'_>) -> NaiveDate {
    days_after(day.calendar.closes(DateId::MitesInCheck), -AHEAD)
}

/// The last day on which it looks.
fn ends(day: &Day<'_>) -> NaiveDate {
    days_after(day.calendar.closes(DateId::MitesInCheck), AFTER)
}

/// The day a count is carried forward to: six weeks on, no further than winter bees are raised.
fn judged_on(s: &Situation<'_>, count: MiteCount) -> NaiveDate {
    let date = s.day.calendar.closes(DateId::MitesInCheck);
    days_after(count.on, RAISED).min(days_after(date, AFTER)).max(date)
}

/// The last count and its chance, 0 to 1, to pass the limit, where it was not treated since; none where it needs no look.
pub(super) fn coming(s: &Situation<'_>) -> Option<(MiteCount, f64)> {
    let fresh = |on: NaiveDate| (0..=FRESH).contains(&(s.today() - on).num_days());
    rising(s).filter(|(count, _)| fresh(count.on))
}

/// The same of a count of any age: what it called for does not go away by waiting.
pub(super) fn rising(s: &Situation<'_>) -> Option<(MiteCount, f64)> {
    let count = s.hive.last_wash().filter(|w| s.day.calendar.holds(w.on) && w.on <= s.today())?;
    // A jar of none is worth another look only where winter bees are raised before the next month's count.
    let date = s.day.calendar.closes(DateId::MitesInCheck);
    if count.mites == 0 && count.on < days_after(date, -SOON) {
        return None;
    }
    let limit = s.day.practice.mite_limit();
    let treated = s.hive.courses.iter().any(|c| c.began >= count.on);
    if treated || count.percent() > limit {
        return None;
    }
    let chance = s.forecast().chance_over(judged_on(s, *count), limit)?;
    (chance > CAUTION).then_some((*count, chance))
}

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let closes = s.day.calendar.closes(DateId::MitesInCheck);
    if today < opens(&s.day)
        || today > ends(&s.day)
        || s.hive.course_on(today).is_some_and(|course| !is_slow(course.treatment))
        || s.day.calendar.shift.is_guess()
    {
        return None;
    }
    let (count, chance) = coming(s)?;
    let limit = s.day.practice.mite_limit();
    let is_before = today <= closes;
    let soon = closes.max(days_after(count.on, SOON));
    let chance_soon = s.forecast().chance_over(soon, limit)?;
    let sure = chance_soon > SURE;
    let (on, chance) = if sure { (soon, chance_soon) } else { (judged_on(s, count), chance) };
    let spread = s.forecast().mites(on)?;
    let pressing = sure && is_before && (closes - today).num_days() <= PRESSING;
    let treats = sure || count.mites > 0 || chance > AFTER_NONE;
    let title = match (sure, treats, is_before) {
        (true, _, true) => "It will be over the limit for winter bees: treat now",
        (true, _, false) => "It will pass the limit within two weeks: treat now",
        (false, true, _) => "Treat for the winter bees, as a caution",
        (false, false, _) => "May pass the limit for winter bees: count again",
    };
    let mut prompt = Prompt::new(
        RULE.id,
        if pressing { Urgency::Must } else { Urgency::Should },
        Due::new(opens(&s.day).min(today), today, closes.max(days_after(count.on, SOON))),
        title,
        format!(
            "{:.1} % on {} comes to about {:.1} % by {}, in 9 of 10 hives to between {:.1} and {:.1} %: over your \
             limit of {limit} % in {} of 10. Winter bees raised with mites do not live to spring.",
            count.percent(),
            s.date(count.on),
            spread.middle,
            s.date(on),
            spread.lowest,
            spread.highest,
            wording::of_ten(chance)
        ),
    );
    // Once the date has come, what still ends while the days are warm.
    let closes = if is_before { closes } else { s.day.calendar.opens(DateId::UpperEntrances) };
    prompt.how.extend(last_days(s, closes));
    let again = Offer::noted("count again instead")
        .promising(SOON.min((days_after(count.on, SOON) - today).num_days().max(1)), "count mites again");
    if !sure {
        let by = s.date(days_after(count.on, SOON));
        prompt.how.push(match (treats, chance > SURE) {
            (true, true) => {
                format!("Not yet, but all but certain by then: treat now, or wash again by {by}.")
            }
            (true, false) => format!("Not certain yet: treat now as a caution, or wash again by {by}."),
            (false, _) => format!("Not certain yet: wash again by {by}."),
        });
    }
    if !treats {
        return Some(prompt.offer(Offer { label: "noted".to_owned(), ..again }));
    }
    let conditions = super::mites_treat::conditions(s);
    let prompt = prompt.doing(&[Deed::OpensLid, Deed::Treats], 5.0);
    let prompt = super::mites_halfway::in_place(s, prompt, &conditions);
    Some(if sure { prompt } else { prompt.offer(again) })
}

/// The last day for each treatment to go in and be out by a date; where it is past for all of them, that.
fn last_days(s: &Situation<'_>, by: NaiveDate) -> Vec<String> {
    let all = Treatment::ALL.iter().map(|treatment| treatment::limits(*treatment, s.day.practice));
    let rows: Vec<_> =
        all.filter(|row| row.outlasts_brood).map(|row| (days_after(by, -row.days.value), row)).collect();
    if rows.iter().all(|(last, _)| *last < s.today()) {
        return vec![format!(
            "None can be in and out again by {} any more: the sooner the better.",
            s.date(by)
        )];
    }
    let words = rows.iter().map(|(last, row)| {
        let (word, days) = (row.treatment.word(), wording::days(row.days.value));
        let boxes = if row.with_supers.value { "honey boxes may stay" } else { "honey boxes off" };
        if *last < s.today() {
            format!("{word}: {days}, too late to be out by then.")
        } else {
            format!("{word}: in by {}, {days}, {boxes}.", s.date(*last))
        }
    });
    words.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, hive};
    use crate::model::{Course, HiveState};

    fn counted(on: &str, mites: u16) -> HiveState {
        let mut state = hive(2);
        state.washes.push(MiteCount { on: day(on), mites, bees: 300 });
        state
    }

    #[test]
    fn from_five_weeks_ahead_as_long_as_the_count_stands() {
        let case = Case::of(counted("2026-07-10", 5));
        for (on, speaks) in
            [("2026-07-10", false), ("2026-07-11", true), ("2026-08-24", true), ("2026-08-25", false)]
        {
            assert_eq!(case.clone().on(on).speak(&RULE).is_some(), speaks, "{on}");
        }
    }

    /// By the model: of colonies counted three weeks before the date 7 of 10 with 1 of 300 pass the limit in six weeks. A jar of
    /// none asks for another only from two weeks before.
    #[test]
    fn a_count_counts_by_what_it_will_be() {
        for (on, mites, speaks) in [
            ("2026-07-25", 0, false),
            ("2026-07-31", 0, false),
            ("2026-08-01", 0, true),
            ("2026-07-25", 1, true),
            ("2026-07-25", 6, true),
            ("2026-07-25", 7, false),
        ] {
            let said = Case::of(counted(on, mites)).on(on).speak(&RULE);
            assert_eq!(said.is_some(), speaks, "{on} {mites}");
        }
    }

    #[test]
    fn what_is_sure_to_pass_is_treated_now_and_within_three_weeks_it_must() {
        let on = |on: &str, mites| Case::of(counted(on, mites)).on(on).fahrenheit(80.0).speak(&RULE).unwrap();
        let sure = on("2026-07-25", 5);
        assert!(sure.title.contains("treat now") && !sure.offers.is_empty());
        assert_eq!(sure.urgency, Urgency::Must);
        assert_eq!(on("2026-07-24", 5).urgency, Urgency::Should);
        // By the model 3 of 300 on 5 August pass the limit by the 19th in 4 of 10 colonies, by mid September in nearly all.
        let caution = on("2026-08-05", 3);
        assert_eq!(
            (caution.title.as_str(), caution.urgency),
            ("Treat for the winter bees, as a caution", Urgency::Should)
        );
        assert_eq!(caution.offers.last().unwrap().label, "count again instead");
        assert!(on("2026-08-05", 0).title.contains("count again"));
    }

    /// Slow strips that have brought a count down so far may lose the race once they are out: by the model nine in ten
    /// of those with 30 of 300 before and 4 of 300 halfway pass the limit by mid September. Others are left to end their work.
    #[test]
    fn slow_strips_are_not_trusted_with_the_winter_bees() {
        let mut state = counted("2026-07-14", 30);
        let (began, until) = (day("2026-07-14"), day("2026-08-25"));
        state.washes.push(MiteCount { on: day("2026-08-08"), mites: 4, bees: 300 });
        for (treatment, speaks) in [(Treatment::OxalicStrips, true), (Treatment::AmitrazStrips, false)] {
            let mut state = state.clone();
            state.courses.push(Course { treatment, began, until, ended: None });
            let said = Case::of(state).on("2026-08-08").fahrenheit(80.0).speak(&RULE);
            assert_eq!(said.is_some(), speaks, "{treatment:?}");
            let Some(prompt) = said else { continue };
            assert!(prompt.how.first().unwrap().contains("may not be enough"), "{:?}", prompt.how);
            let first = prompt.offers.first().unwrap();
            assert_eq!((first.label.as_str(), prompt.urgency), ("strips out, thymol gel", Urgency::Should));
            assert_eq!(prompt.offers.last().unwrap().label, "count again instead");
        }
    }

    #[test]
    fn a_count_of_spring_is_not_carried_into_august() {
        for (washed, speaks) in [("2026-06-20", false), ("2026-06-21", true)] {
            let said = Case::of(counted(washed, 4)).on("2026-08-05").speak(&RULE);
            assert_eq!(said.is_some(), speaks, "{washed}");
        }
    }

    #[test]
    fn each_treatment_has_its_last_day_and_a_treated_hive_is_left() {
        let prompt = Case::of(counted("2026-07-25", 4)).on("2026-07-25").speak(&RULE).unwrap();
        let how = prompt.how.join("\n");
        assert!(how.contains("formic acid strips: in by Aug 1, 14 days, honey boxes may stay"), "{how}");
        assert!(how.contains("thymol gel: 28 days, too late to be out by then"), "{how}");
        let late = Case::of(counted("2026-08-10", 2)).on("2026-08-10").speak(&RULE).unwrap();
        let [first, words, ..] = late.how.as_slice() else { panic!("{:?}", late.how) };
        assert_eq!(first, "None can be in and out again by Aug 15 any more: the sooner the better.");
        assert_eq!(words, "Not yet, but all but certain by then: treat now, or wash again by Aug 24.");
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
