//! `mites.treat`: over the limit, each treatment allowed today and why the others are not.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::colony::treatment::{self, Conditions};
use crate::colony::varroa;
use crate::colony::wash::{self, Reading};
use crate::model::{Action, Entrance, Finding, MiteCount, Treatment};
use crate::season::DateId;
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "mites.treat",
    name: "mite treatment",
    about: "Over the limit, or likely so given the count's doubt: treatments allowed today, and why not the others",
    caution: Some(
        "The label in hand decides dose, temperature, protection and honey boxes; local law and the veterinarian come \
         before this page. Acids burn skin, eyes and lungs: gloves, goggles, and a respirator for vapour.",
    ),
    source: "Oliver, American Bee Journal 2020: hold under 2 %; Wilson's 95 % interval; treatment rows name their own",
    answer_holds: Holds::DaysOrNextWash(10),
    may_need: super::a_treatment,
    speak,
    ..Rule::PLAIN
};

/// Days a count stands for.
const FRESH: i64 = 30;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let count = s.hive.last_wash().filter(|w| (0..=FRESH).contains(&(today - w.on).num_days()))?;
    if s.hive.courses.iter().any(|c| c.began >= count.on) {
        return None;
    }
    let limit = s.day.practice.mite_limit();
    let interval = wash::wilson(count.mites, count.bees);
    let numbers = format!(
        "{} mites on {} bees: {:.1} %, and with one jar's doubt between {:.1} and {:.1} %; your limit is {limit} %, \
         and the chance that it is passed is {:.0} %.",
        count.mites,
        count.bees,
        count.percent(),
        interval.low,
        interval.high,
        100.0 * wash::chance_above(count.mites, count.bees, limit)
    );
    let due = Due::new(count.on, s.today(), s.in_days(7));
    match wash::read(count, limit) {
        Reading::Under | Reading::MayBeOver => forward(s, *count, limit, due),
        Reading::TooFew => Some(
            Prompt::new(RULE.id, Urgency::Should, due, "Too few bees in the jar: count again", numbers)
                .how(&["A half cup, about 300. Under 200 bees a low count says little."])
                .asks(&[Finding::Mites, Finding::WashBees])
                .doing(&[Deed::LiftsFrames, Deed::Washes], 6.0)
                .needs(Need::WashKit),
        ),
        reading @ (Reading::LikelyOver | Reading::Over) => {
            let sure = if reading == Reading::Over { "Over the limit" } else { "Likely over the limit" };
            Some(treat(
                s,
                Prompt::new(RULE.id, Urgency::Must, due, format!("{sure}: treat for mites"), numbers),
            ))
        }
    }
}

/// A count that is under the limit now and will not be when the winter bees are raised.
fn forward(s: &Situation<'_>, count: MiteCount, limit: f64, due: Due) -> Option<Prompt> {
    let window = s.day.calendar.window(DateId::MitesInCheck);
    let spring_over = s.day.calendar.opens(DateId::MainFlow);
    // In the last weeks before the date `mites.winter-bees` speaks.
    let near = super::mites_winter_bees::opens(&s.day);
    if s.today() < spring_over || s.today() >= near || count.mites == 0 {
        return None;
    }
    let then = varroa::forecast(&count, window.closes, varroa::Course::LEVEL);
    let crosses = varroa::crosses_on(&count, limit, varroa::SLOW)?;
    if then.low <= limit {
        return None;
    }
    let latest = window.closes.max(s.in_days(1));
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(due.opens, window.opens.max(s.today()), latest),
            "It will pass the limit: plan a treatment",
            format!(
                "{:.1} % on {} grows to {:.1} to {:.1} % by {}, when the winter bees begin; it crosses {limit} % about \
                 {} even if growth is slow.",
                count.percent(),
                s.date(count.on),
                then.low,
                then.high,
                s.date(window.closes),
                s.date(crosses)
            ),
        )
        .how(&["Choose one that may go in with what is on the hive, or plan it for the day the honey boxes come off."])
        .offer(Offer::noted("noted: a treatment is planned")),
    )
}

fn treat(s: &Situation<'_>, prompt: Prompt) -> Prompt {
    let flow = s.day.calendar.opens(DateId::MainFlow);
    let conditions = Conditions { supers_on: (s.today() < flow).then_some(flow), ..conditions(s) };
    let prompt = prompt.asks(&[Finding::Bees]).doing(&[Deed::OpensLid, Deed::Treats], 5.0);
    let mut prompt = allowed(s, prompt, &conditions, |_| true);
    prompt.how.push(
        "Check the forecast for all the days it is in, and treat the whole yard on one day.".to_owned(),
    );
    prompt
}

/// What a treatment is judged by here, beside the day honey boxes go on.
pub(super) fn conditions(s: &Situation<'_>) -> Conditions {
    let calendar = s.day.calendar;
    let (warm, moving) = (calendar.opens(DateId::UpperEntrances), calendar.opens(DateId::Cluster));
    Conditions {
        warmest: s.day.weather.temperature,
        coming: None,
        supers_on: None,
        in_season: s.today() >= calendar.opens(DateId::FirstPollen)
            && s.today() < calendar.closes(DateId::UpperEntrances),
        ends_by: (s.today() >= calendar.opens(DateId::MitesInCheck)).then_some((warm, moving)),
        units: s.day.units,
    }
}

/// Offers those of some treatments that are allowed today, and says why the others are not.
pub(super) fn allowed(
    s: &Situation<'_>,
    mut prompt: Prompt,
    conditions: &Conditions,
    is_meant: impl Fn(Treatment) -> bool,
) -> Prompt {
    for treatment in Treatment::ALL.iter().filter(|t| is_meant(**t)) {
        let row = treatment::limits(*treatment, s.day.practice);
        let name = treatment.word();
        let why_not = treatment::refusals(&row, s.hive, s.today(), conditions);
        if !why_not.is_empty() {
            prompt.how.push(format!("Not {name}: {}.", why_not.join("; ")));
            continue;
        }
        // The vapor of formic acid harms brood and queen where it cannot leave, and where the days are too warm.
        let formic = row.full_entrance;
        if formic && let Some(quiet) = super::quiet(s) {
            prompt.how.push(format!("Not {name}: {quiet}."));
            continue;
        }
        let is_shut = formic && (s.hive.entrance != Entrance::Open || s.hive.mouse_guard);
        let head = match (formic, is_shut) {
            (true, true) => "Only with a forecast, and once the entrance is at full width with no guard on",
            (true, false) => "Only with a forecast",
            (false, _) => "Allowed",
        };
        let until = s.in_days(row.days.value);
        let memory = row.from_memory();
        let doubt = if memory.is_empty() {
            String::new()
        } else {
            format!(" From memory, so check the label: {}.", memory.join(", "))
        };
        prompt.how.push(format!(
            "{head}: {name}, {}, {}. Dose {}: {}. Wear {}.{doubt}",
            treatment::temperature_words(&row),
            wording::days(row.days.value),
            treatment::dose(&row, s.hive),
            row.how,
            row.wear
        ));
        if prompt.needs.is_empty() {
            prompt = prompt.needs(Need::Treatment { treatment: *treatment });
        }
        if formic {
            prompt.how.push(
                "Its highs, today and for three days, must stay in that range. The reading now is not the high: if you \
                 do not know them, not today."
                    .to_owned(),
            );
        }
        let mut offer = Offer::of(name, Action::Treat { treatment: *treatment, until });
        if is_shut {
            offer.label = format!("entrance opened full, {name}");
            offer.actions.insert(0, Action::SetEntrance { entrance: Entrance::Open });
            if s.hive.mouse_guard {
                offer.actions.insert(0, Action::SetMouseGuard { on: false });
            }
        }
        if let Some((days, what)) = row.again {
            offer = offer.promising(days, what);
        }
        if formic {
            offer =
                offer.promising(row.days.value + 28, "a month after formic acid: does she lay? Cut no cells");
        }
        if row.days.value <= 1 {
            offer.actions.push(Action::EndTreatment { treatment: *treatment });
        }
        prompt = prompt.offer(offer);
    }
    if prompt.offers.is_empty() {
        let what =
            "None is allowed today: take off what stands in the way (honey boxes), or wait for the weather.";
        prompt.how.push(what.to_owned());
    }
    if conditions.warmest.is_none() {
        prompt.how.push("Temperature not entered: check each range against today's forecast.".to_owned());
    }
    prompt
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::fold::{Course, MiteCount};
    use crate::model::testing::{day, frames, hive, with_super};
    use crate::model::{HiveState, Treatment};

    fn counted(mut state: HiveState, mites: u16) -> HiveState {
        state.washes.push(MiteCount { on: day("2026-08-01"), mites, bees: 300 });
        state
    }

    fn prompt(mites: u16) -> Option<Prompt> {
        Case::of(counted(hive(2), mites)).on("2026-08-01").speak(&RULE)
    }

    #[test]
    fn two_in_a_hundred_is_the_boundary() {
        assert!(prompt(4).is_none());
        assert!(prompt(6).is_none(), "the winter bees' rule speaks of it");
        assert!(prompt(7).unwrap().title.starts_with("Likely over the limit"));
        assert!(prompt(12).unwrap().title.starts_with("Over the limit"));
        let early = Case::of(HiveState {
            washes: vec![MiteCount { on: day("2026-06-20"), mites: 4, bees: 300 }],
            ..hive(2)
        });
        assert!(early.on("2026-06-20").speak(&RULE).unwrap().title.starts_with("It will pass the limit"));
    }

    #[test]
    fn a_count_stands_thirty_days() {
        let case = Case::of(counted(hive(2), 20));
        assert!(case.clone().on("2026-08-31").speak(&RULE).is_some());
        assert!(case.on("2026-09-01").speak(&RULE).is_none());
    }

    #[test]
    fn honey_boxes_leave_what_may_go_in_with_them() {
        let mut state = counted(with_super(), 20);
        state.seen.bees = frames("2026-08-01", 12.0);
        let prompt = Case::of(state).on("2026-08-01").fahrenheit(80.0).speak(&RULE).unwrap();
        let offered: Vec<_> = prompt.offers.iter().map(|o| o.label.as_str()).collect();
        assert_eq!(offered, ["formic acid strips", "hop acid strips"]);
        assert!(prompt.how.iter().any(|h| h.starts_with("Not thymol gel: honey boxes are on")));
    }

    #[test]
    fn in_the_heat_formic_acid_is_refused() {
        let prompt =
            Case::of(counted(with_super(), 20)).on("2026-08-01").fahrenheit(93.0).speak(&RULE).unwrap();
        assert!(prompt.offers.is_empty());
        assert!(prompt.how.iter().any(|h| h.starts_with("None is allowed today")));
    }

    #[test]
    fn once_treated_it_is_silent() {
        let mut state = counted(hive(2), 20);
        let began = day("2026-08-01");
        state.courses.push(Course { treatment: Treatment::ThymolGel, began, until: began, ended: None });
        assert!(Case::of(state).on("2026-08-02").speak(&RULE).is_none());
    }
}
