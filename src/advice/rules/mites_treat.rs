//! `mites.treat`: over the limit, each treatment allowed today and why the others are not.

use super::{Holds, Prompt, Rule, Situation, mites_ahead, mites_halfway};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::colony::treatment::{self, Conditions, Limits};
use crate::colony::wash::{self, Reading};
use crate::model::{Action, CountBy, Entrance, Finding, Reply, Treatment, days_after};
use crate::season::DateId;
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "mites.treat",
    name: "mite treatment",
    about: "Over the limit, or likely so given the count's doubt: treatments allowed today, and why not the others",
    caution: Some(
        "The label in hand decides dose, temperature, protection and honey boxes; local law and the veterinarian come \
         before this page. Acids burn skin, eyes and lungs: gloves, goggles, and a respirator for vapor.",
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
    if mites_halfway::holds(s, *count) {
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
    let rolled = s.hive.seen.count_by.is_some_and(|by| by.on == count.on && by.value == CountBy::Roll);
    let numbers =
        if rolled { format!("{numbers} A sugar roll finds fewer than there are.") } else { numbers };
    let due = Due::new(count.on, days_after(count.on, 3), days_after(count.on, 7));
    match wash::read(count, limit) {
        Reading::Under | Reading::MayBeOver => mites_ahead::forward(s, *count, limit, due),
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

fn treat(s: &Situation<'_>, prompt: Prompt) -> Prompt {
    let flow = s.day.calendar.opens(DateId::MainFlow);
    // So few bees in spring get no honey box by then, and cannot wait for the end of the flow.
    let too_few = s.within(s.hive.seen.bees, FRESH).is_some_and(|bees| bees.0 < NO_BOX);
    let waits = s.today() < flow && !too_few;
    let conditions = Conditions { supers_on: waits.then_some(flow), ..conditions(s) };
    // Who comes back with the strips does not open the hive again before they go in.
    let prompt = if is_put_off(s) { prompt } else { prompt.asks(&[Finding::Bees]) };
    let prompt = prompt.doing(&[Deed::OpensLid, Deed::Treats], 5.0);
    let mut prompt = mites_halfway::in_place(s, prompt, &conditions);
    if s.hive.last_wash().is_some_and(|w| w.bees < wash::FEWEST_BEES) {
        prompt.how.insert(
            0,
            "Too few bees in the jar to be certain: count again with half a cup, as well.".to_owned(),
        );
    }
    prompt.how.push(
        "Check the forecast for all the days it is in, and treat the whole yard on one day.".to_owned(),
    );
    prompt
}

/// Frames of bees in spring under which no honey box is wanted for the main flow (our choice).
const NO_BOX: f64 = 4.0;

/// What a treatment is judged by here, beside the day honey boxes go on.
pub(super) fn conditions(s: &Situation<'_>) -> Conditions {
    let calendar = s.day.calendar;
    let (warm, moving) = (calendar.opens(DateId::UpperEntrances), calendar.opens(DateId::Cluster));
    let (today, soon) = s.highs();
    Conditions {
        reading: s.day.weather.temperature,
        warmest: today,
        coming: soon.map(|high| (high, high)),
        supers_on: None,
        in_season: s.today() >= calendar.at_widest(DateId::FirstPollen).opens
            && s.today() < calendar.at_widest(DateId::UpperEntrances).closes,
        ends_by: (s.today() >= calendar.opens(DateId::MitesInCheck) && !calendar.shift.is_guess())
            .then_some((warm, moving)),
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
    let practice = s.day.practice;
    let last = s.hive.courses.last().map(|c| c.treatment);
    let mut rows: Vec<Limits> = Treatment::ALL
        .iter()
        .filter(|t| is_meant(**t))
        .map(|t| treatment::limits(*t, practice))
        .filter(|row| row.offered)
        .collect();
    // Another ingredient than the last time comes first, but for formic acid, which no mites are known to withstand (from
    // memory). What is weak while there is brood comes last; one that takes weeks to work comes after those that work at
    // once, and those after the one that works under the caps.
    let is_last = |row: &Limits| Some(row.treatment) == last && row.treatment != Treatment::FormicStrips;
    rows.sort_by_key(|row| {
        let t = row.treatment;
        (is_weak(t), is_last(row), is_slow(t), t != Treatment::FormicStrips)
    });
    let after_harvest = super::mites_after_harvest::ways(s, prompt.urgency, &rows, conditions);
    if !after_harvest.is_empty() {
        prompt.how.insert(0, super::mites_after_harvest::words(s));
        prompt = prompt.offers(after_harvest);
    }
    let mut asks_highs = false;
    let mut tomorrow = None;
    for row in &rows {
        // What works at once but not today comes before what works at once never; what must be done is worth coming back for.
        let waits = prompt.urgency <= Urgency::Must || is_slow(row.treatment) || is_weak(row.treatment);
        if waits && let Some(offer) = tomorrow.take() {
            prompt = prompt.offer(offer);
        }
        let name = treatment::name(row.treatment, practice);
        let why_not = treatment::refusals(row, s.hive, s.today(), conditions);
        if !why_not.is_empty() {
            prompt.how.push(format!("Not {name}: {}.", why_not.join("; ")));
            let hides = row.treatment == Treatment::OxalicVapour && !row.outlasts_brood && why_not.len() == 1;
            if hides && why_not.iter().any(|why| why.contains("brood")) {
                prompt.how.push(AS_A_COURSE.to_owned());
            }
            continue;
        }
        // The vapor of formic acid harms brood and queen where it cannot leave, and where the days are too warm.
        if row.full_entrance {
            match formic(s, row, conditions) {
                Formic::Not(why) => {
                    prompt.how.push(format!("Not {name}: {why}."));
                    continue;
                }
                Formic::AskHighs => {
                    asks_highs = true;
                    prompt.how.push(format!(
                        "Not known yet, {name}: {}. The reading now is not the high: give the highs of today and of the \
                         next three days. If you do not know them, not today.",
                        details(s, row)
                    ));
                    if prompt.needs.is_empty() {
                        prompt = prompt.needs(Need::Treatment { treatment: row.treatment });
                    }
                    continue;
                }
                Formic::Tomorrow => {
                    prompt.how.push(format!(
                        "From tomorrow, {name}: {}. 24 hours between working the bees and the strips.{}",
                        details(s, row),
                        if is_shut(s) { " First the entrance at full width, no guard on." } else { "" }
                    ));
                    if prompt.needs.is_empty() {
                        prompt = prompt.needs(Need::Treatment { treatment: row.treatment });
                    }
                    // Where that day went by, it is not put off once more.
                    if !is_put_off(s) {
                        let label = format!("{name} from tomorrow, before the hive is opened");
                        tomorrow = Some(Offer::later(label, 1));
                    }
                    continue;
                }
                Formic::Allowed => {}
            }
        }
        let head = match (row.full_entrance && is_shut(s), is_weak(row.treatment)) {
            (true, _) => "Allowed by these highs, once the entrance is at full width with no guard on",
            (false, true) => "Weak while there is brood, so repeat it by its label",
            (false, false) => "Allowed",
        };
        let again = if is_last(row) { " Used last: another ingredient is better." } else { "" };
        prompt.how.push(format!("{head}: {name}, {}.{again}", details(s, row)));
        if prompt.needs.is_empty() {
            prompt = prompt.needs(Need::Treatment { treatment: row.treatment });
        }
        prompt = prompt.offer(offer(s, row, &name));
    }
    if asks_highs {
        prompt = prompt.asks(&[Finding::HighToday, Finding::HighSoon]);
    }
    if prompt.offers.is_empty() && !asks_highs {
        prompt.how.push(
            "None is allowed today. The ways out: take off what stands in the way (honey boxes), or wait for the weather."
                .to_owned(),
        );
    }
    if conditions.reading.is_none() && conditions.warmest.is_none() {
        prompt.how.push("Temperature not entered: check each range against today's forecast.".to_owned());
    }
    prompt
}

/// What oxalic vapor is worth while there is brood.
const AS_A_COURSE: &str = "Oxalic vapor with brood only as a course, again every 5 to 7 days: seven at the label's rate held \
    counts level at best (Berry et al. 2022). One alone is no treatment.";

/// Whether it does little while most mites are under the caps.
pub(super) fn is_weak(treatment: Treatment) -> bool {
    matches!(treatment, Treatment::HopAcidStrips | Treatment::OxalicVapour | Treatment::OxalicDribble)
}

/// Whether mites go on rising for weeks while it is in.
pub(super) fn is_slow(treatment: Treatment) -> bool {
    matches!(treatment, Treatment::OxalicStrips)
}

/// Whether a treatment was put off until now.
fn is_put_off(s: &Situation<'_>) -> bool {
    [RULE.id, super::mites_winter_bees::RULE.id].iter().any(|rule| {
        let answer = s.hive.answers.get(*rule);
        answer.is_some_and(|a| matches!(a.reply, Reply::PutOff { until, .. } if until <= s.today()))
    })
}

fn is_shut(s: &Situation<'_>) -> bool {
    s.hive.entrance != Entrance::Open || s.hive.mouse_guard
}

/// What stands in the way of formic acid beside its limits.
pub(super) enum Formic {
    Not(String),
    AskHighs,
    Tomorrow,
    Allowed,
}

pub(super) fn formic(s: &Situation<'_>, row: &Limits, conditions: &Conditions) -> Formic {
    if let Some((why, until)) = s.in_force.peace {
        return Formic::Not(format!("{}, until {}", why.words(), s.date(until)));
    }
    let (high, soon) = (conditions.warmest, conditions.coming);
    if high.is_none() || soon.is_none() {
        return Formic::AskHighs;
    }
    // A maker's FAQ: a day between working the bees and the strips.
    if s.hive.last_opened == Some(s.today()) && row.days.value > 1 {
        return Formic::Tomorrow;
    }
    Formic::Allowed
}

fn details(s: &Situation<'_>, row: &Limits) -> String {
    let memory = row.from_memory();
    let doubt = if memory.is_empty() {
        String::new()
    } else {
        format!(" From memory, so check the label: {}", memory.join(", "))
    };
    format!(
        "{}, {}. Dose {}: {}. Wear {}{}{doubt}",
        treatment::temperature_words(row),
        wording::days(row.days.value),
        treatment::dose(row, s.hive),
        row.how,
        row.wear,
        if doubt.is_empty() { "" } else { "." }
    )
}

pub(super) fn offer(s: &Situation<'_>, row: &Limits, name: &str) -> Offer {
    let treatment = row.treatment;
    let until = s.in_days(row.days.value);
    let mut offer = Offer::of(name, Action::Treat { treatment, until });
    if row.full_entrance && is_shut(s) {
        offer.label = format!("entrance opened full, {name}");
        offer.actions.insert(0, Action::SetEntrance { entrance: Entrance::Open });
        if s.hive.mouse_guard {
            offer.actions.insert(0, Action::SetMouseGuard { on: false });
        }
    }
    if let Some((days, what)) = row.again {
        offer = offer.promising(days, what);
    }
    if row.days.value <= 1 {
        offer.actions.push(Action::EndTreatment { treatment });
    }
    offer
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::fold::{Answered, Course, MiteCount};
    use crate::model::testing::{day, frames, hive, seen, with_super};
    use crate::model::{HiveState, RuleId, Temperature, Treatment};

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
    fn once_the_flow_is_over_boxes_come_off_for_it_or_what_may_go_in_with_them_does() {
        let mut state = counted(with_super(), 20);
        state.seen.bees = frames("2026-08-01", 12.0);
        state.seen.high_today = seen("2026-08-01", Temperature::from_fahrenheit(82.0));
        state.seen.high_soon = seen("2026-08-01", Temperature::from_fahrenheit(82.0));
        let prompt = Case::of(state).on("2026-08-01").fahrenheit(80.0).speak(&RULE).unwrap();
        let offered: Vec<_> = prompt.offers.iter().map(|o| o.label.as_str()).collect();
        let (first, with_them) = offered.split_at(4);
        assert_eq!(first[0], "boxes off, honey taken, then formic acid strips from tomorrow");
        assert!(first.iter().all(|label| label.starts_with("boxes off, honey taken, then ")), "{offered:?}");
        assert_eq!(with_them, ["formic acid strips", "slow-release oxalic strips", "hop acid strips"]);
        assert!(prompt.how.iter().any(|h| h.starts_with("Not thymol gel: honey boxes are on")));
    }

    #[test]
    fn strong_acid_tomorrow_comes_before_slow_strips_today() {
        let mut state = counted(with_super(), 20);
        state.last_opened = Some(day("2026-08-01"));
        state.seen.bees = frames("2026-08-01", 12.0);
        let high = || seen("2026-08-01", Temperature::from_fahrenheit(82.0));
        (state.seen.high_today, state.seen.high_soon) = (high(), high());
        let prompt = Case::of(state).on("2026-08-01").fahrenheit(80.0).speak(&RULE).unwrap();
        let at = |what: &str| prompt.offers.iter().position(|o| o.label.starts_with(what)).unwrap();
        assert!(at("formic acid strips from tomorrow") < at("slow-release"), "{:?}", prompt.offers);
        let tomorrow = &prompt.offers[at("formic")];
        assert!(tomorrow.actions.is_empty());
        assert_eq!(tomorrow.later, Some(1));
    }

    #[test]
    fn who_comes_back_with_the_strips_is_not_sent_into_the_hive_first() {
        let mut state = counted(hive(2), 20);
        state.last_opened = Some(day("2026-08-01"));
        state.seen.bees = frames("2026-08-01", 12.0);
        let high = |on| seen(on, Temperature::from_fahrenheit(82.0));
        (state.seen.high_today, state.seen.high_soon) = (high("2026-08-02"), high("2026-08-02"));
        let until = day("2026-08-02");
        let reply = Reply::PutOff { reason: "formic acid strips from tomorrow".to_owned(), until };
        state.answers.insert(RuleId::new(RULE.id), Answered { on: day("2026-08-01"), reply });
        let prompt = Case::of(state).on("2026-08-02").fahrenheit(80.0).speak(&RULE).unwrap();
        assert!(!prompt.asks.contains(&Finding::Bees), "{:?}", prompt.asks);
        assert_eq!(prompt.offers[0].label, "formic acid strips");
    }

    #[test]
    fn formic_acid_may_follow_formic_acid_and_no_other_itself() {
        let mut state = counted(hive(2), 20);
        state.entrance = Entrance::Open;
        let high = || seen("2026-08-01", Temperature::from_fahrenheit(82.0));
        (state.seen.high_today, state.seen.high_soon) = (high(), high());
        for treatment in [Treatment::FormicStrips, Treatment::AmitrazStrips] {
            let (began, until) = (day("2026-05-01"), day("2026-05-20"));
            state.courses = vec![Course { treatment, began, until, ended: Some(until) }];
            let prompt = Case::of(state.clone()).on("2026-08-01").fahrenheit(80.0).speak(&RULE).unwrap();
            assert_eq!(prompt.offers[0].label, "formic acid strips");
            let warned = prompt.how.iter().any(|how| how.contains("Not amitraz strips: used last"));
            assert_eq!(warned, treatment == Treatment::AmitrazStrips, "{:?}", prompt.how);
        }
    }

    #[test]
    fn few_bees_in_spring_are_treated_without_a_thought_for_honey_boxes() {
        for (bees, allowed) in [(3.75, true), (4.0, false)] {
            let mut state = hive(1);
            state.washes.push(MiteCount { on: day("2026-05-10"), mites: 20, bees: 300 });
            state.seen.bees = frames("2026-05-10", bees);
            let prompt = Case::of(state).on("2026-05-10").fahrenheit(70.0).speak(&RULE).unwrap();
            let amitraz = prompt.offers.iter().any(|o| o.label == "amitraz strips");
            assert_eq!(amitraz, allowed, "{bees} {:?}", prompt.offers);
        }
    }

    #[test]
    fn in_the_heat_formic_acid_is_refused() {
        let at = |f| Case::of(counted(with_super(), 20)).on("2026-08-01").fahrenheit(f).speak(&RULE).unwrap();
        assert!(at(93.0).how.iter().any(|h| h.starts_with("Not formic acid strips: too warm")));
        let prompt = at(107.0);
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
