//! `followup`: what was promised last time, and what is in the hive and must come out.

use super::{Colony, Holds, Prompt, Rule, Situation};
use crate::advice::promise;
use crate::advice::prompt::{Due, Offer, Urgency};
use crate::colony::treatment;
use crate::model::fold::OpenPromise;
use crate::model::{Action, Finding, Reply, Treatment, days_after};
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "followup",
    name: "follow-up",
    about: "Treatments to take out, promises made, prompts put off until now",
    caution: None,
    source: "the keeper's own log",
    answer_holds: Holds::Days(1),
    also_to: &[Colony::Suspect, Colony::Dead],
    speak,
    ..Rule::PLAIN
};

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    // At a suspected hive strips wait for the inspector, too.
    let course = s.hive.course_on(today).filter(|c| c.until <= today && s.hive.disease_suspected.is_none());
    let is_due = |p: &&OpenPromise| p.on <= today && p.made < today && promise::is_open(p, s.hive, today);
    let promises: Vec<_> = s.hive.promises.iter().filter(is_due).collect();
    let put_off: Vec<_> = s
        .hive
        .answers
        .iter()
        .filter_map(|(rule, answer)| match &answer.reply {
            // A rule that still has its reason speaks for itself; this is for one that fell silent meanwhile.
            Reply::PutOff { reason, until }
                if *until <= today
                    && s.hive.last_visit.is_none_or(|v| v < *until)
                    && super::rule(rule.as_str())
                        .is_none_or(|r| r.id != RULE.id && (r.speak)(s).is_none()) =>
            {
                Some((*until, format!("{}, put off: {reason}", super::rule_name(rule))))
            }
            Reply::PutOff { .. } | Reply::Done | Reply::NotNeeded => None,
        })
        .collect();
    let mut lines: Vec<(chrono::NaiveDate, String)> =
        promises.iter().map(|p| (p.on, p.what.clone())).chain(put_off).chain(next_dose(s)).collect();
    lines.sort();
    let listed: Vec<String> = lines.iter().map(|(on, what)| format!("{}: {what}", s.date(on))).collect();
    if let Some(course) = course {
        let late = (today - course.until).num_days();
        let mut prompt = Prompt::new(
            RULE.id,
            Urgency::Must,
            Due::new(course.until, course.until, days_after(course.until, 7)),
            format!("Take out: {}", course.treatment.word()),
            format!(
                "In since {}, due out on {} ({} ago). {}",
                s.date(course.began),
                s.date(course.until),
                wording::days(late),
                left_in(course.treatment)
            ),
        )
        .how(&[if s.hive.is_alive() {
            "Take it out and bag it as the label says. Then a wash says whether it worked."
        } else {
            "Take it out and bag it as the label says, before the gear is used again."
        }])
        .doing(&[], 3.0)
        .asks(&looks(&lines))
        .offer(Offer::of("taken out", Action::EndTreatment { treatment: course.treatment }))
        .keeping_promises();
        prompt.how.extend(listed);
        return Some(prompt);
    }
    let (first, what) = lines.first()?.clone();
    let more = lines.len() - 1;
    let title = if more == 0 {
        crate::wording::capital(&what)
    } else {
        format!("{}, and {more} more", crate::wording::capital(&what))
    };
    let made =
        promises.first().map_or_else(String::new, |p| format!("You noted this on {}. ", s.date(p.made)));
    // A dose of a course that is running is not left out.
    let is_dose = s.hive.course_on(today).and_then(|c| treatment::limits(c.treatment, s.day.practice).again);
    let is_dose = is_dose.is_some_and(|(_, dose)| lines.iter().any(|(_, line)| line == dose));
    let mut prompt = Prompt::new(
        RULE.id,
        if is_dose { Urgency::Must } else { Urgency::Should },
        Due::new(first, first, days_after(first, 7)),
        title,
        format!("{made}It was due on {}.", s.date(first)),
    )
    .doing(&[], 3.0)
    .asks(&looks(&lines))
    .offer(Offer::noted("seen to"))
    .keeping_promises();
    prompt.how = listed;
    prompt.is_look = !is_dose && lines.iter().all(|(_, line)| !promise::looks_of(line).is_empty());
    Some(prompt)
}

/// What is to be looked at where a look was promised: 'seen to' alone would leave the figure out of the log.
fn looks(lines: &[(chrono::NaiveDate, String)]) -> Vec<Finding> {
    let mut asked: Vec<Finding> =
        lines.iter().flat_map(|(_, line)| promise::looks_of(line).iter().copied()).collect();
    asked.sort_unstable();
    asked.dedup();
    asked
}

/// The next dose of the course that is in, where no promise stands for it and none was given: it follows from the course.
fn next_dose(s: &Situation<'_>) -> Option<(chrono::NaiveDate, String)> {
    let course =
        s.hive.course_on(s.today()).filter(|_| s.hive.disease_suspected.is_none() && s.hive.is_alive())?;
    let (days, what) = treatment::limits(course.treatment, s.day.practice).again?;
    let due = days_after(course.began, days);
    let is_promised = s.hive.promises.iter().any(|p| p.what == what);
    let is_given = s.hive.answers.get(RULE.id).is_some_and(|a| a.on >= due);
    (due <= s.today() && !is_promised && !is_given).then(|| (due, what.to_owned()))
}

/// Why it comes out on its day.
fn left_in(treatment: Treatment) -> &'static str {
    match treatment {
        Treatment::AmitrazStrips => "Left in, a weak dose breeds resistant mites.",
        Treatment::FluvalinateStrips | Treatment::CoumaphosStrips => {
            "Left in, a weak dose breeds resistant mites, and more of it goes into the wax."
        }
        Treatment::FormicStrips
        | Treatment::ThymolGel
        | Treatment::ThymolWafers
        | Treatment::OxalicStrips
        | Treatment::HopAcidStrips => {
            "It is spent: it does nothing more against mites, and until it is out the next thing waits."
        }
        Treatment::Own => "Its label says how long it may stay: until it is out the next thing waits.",
        Treatment::OxalicDribble | Treatment::OxalicVapour => "It is done: log its end.",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::fold::{Answered, Course, OpenPromise};
    use crate::model::testing::{day, hive};
    use crate::model::{RuleId, Treatment};

    #[test]
    fn a_look_that_was_promised_is_asked_for_beside_strips_that_come_out_too() {
        let promise = |what: &str| OpenPromise {
            made: day("2026-08-01"),
            on: day("2026-08-10"),
            what: what.to_owned(),
        };
        let mut state = hive(1);
        state.promises = vec![promise("weigh again, fill the feeder"), promise("count mites again")];
        let asked = |state: &crate::model::HiveState| {
            Case::of(state.clone()).on("2026-08-10").speak(&RULE).unwrap().asks
        };
        let looks = [Finding::Weight, Finding::Mites, Finding::WashBees];
        assert_eq!(asked(&state), looks);
        let (began, until) = (day("2026-07-13"), day("2026-08-10"));
        state.courses.push(Course { treatment: Treatment::ThymolGel, began, until, ended: None });
        assert_eq!(asked(&state), looks);
        state.promises = vec![promise("paint the stand")];
        assert_eq!(asked(&state), []);
    }

    #[test]
    fn strips_come_out_on_their_day_and_every_day_after() {
        let mut state = hive(1);
        state.courses.push(Course {
            treatment: Treatment::AmitrazStrips,
            began: day("2026-08-20"),
            until: day("2026-10-01"),
            ended: None,
        });
        assert_eq!(Case::of(state.clone()).days_of(&RULE), Some((day("2026-10-01"), day("2026-12-31"))));
        state.courses[0].ended = Some(day("2026-10-01"));
        assert_eq!(Case::of(state).days_of(&RULE), None);
    }

    #[test]
    fn a_promise_speaks_from_its_day() {
        let mut state = hive(1);
        let promise = |on: &str, what: &str| OpenPromise {
            made: day("2026-05-01"),
            on: day(on),
            what: what.to_owned(),
        };
        state.promises =
            vec![promise("2026-05-08", "look at the feeder"), promise("2026-05-20", "look for eggs")];
        assert!(Case::of(state.clone()).on("2026-05-07").speak(&RULE).is_none());
        assert_eq!(
            Case::of(state.clone()).on("2026-05-08").speak(&RULE).unwrap().title,
            "Look at the feeder"
        );
        assert_eq!(
            Case::of(state).on("2026-05-20").speak(&RULE).unwrap().title,
            "Look at the feeder, and 1 more"
        );
    }

    #[test]
    fn what_was_put_off_comes_back_even_where_its_rule_fell_silent() {
        let mut state = hive(1);
        let reply = Reply::PutOff { reason: "no boxes left".to_owned(), until: day("2026-05-10") };
        state
            .answers
            .insert(RuleId::new("upper-entrance"), Answered { on: day("2026-05-03"), reply: reply.clone() });
        let prompt = Case::of(state.clone()).on("2026-05-10").speak(&RULE).unwrap();
        assert!(prompt.title.contains("no boxes left"));
        // Where the rule speaks it brings the reason itself.
        state.answers.clear();
        state.answers.insert(RuleId::new("mites.wash"), Answered { on: day("2026-05-03"), reply });
        let advice = Case::of(state).on("2026-05-10").advise();
        assert!(advice.prompts.iter().any(|p| p.rule == "mites.wash" && p.why.contains("no boxes left")));
        assert!(advice.prompts.iter().all(|p| p.rule != RULE.id));
    }
}
