//! `disease.suspect`: stop, last in the queue, no comb moved, call the inspector.

use chrono::NaiveDate;

use super::{Colony, Gear, Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Need, Offer, Urgency};
use crate::model::{Action, Authority, Disease, Finding};

pub(super) const RULE: Rule = Rule {
    id: "disease.suspect",
    name: "suspected disease",
    about: "Signs of foulbrood: stop, last in the queue, no comb moved, the inspector called",
    caution: Some(
        "American foulbrood is notifiable in most places: the inspector and the law decide what is done, not this page. \
         No honey, comb, bees or tools leave this hive. Scorch the tools, change the gloves.",
    ),
    source: "WOAH Terrestrial Code ch. 9.2 and 9.3; a thread of 1 in (2.5 cm) or more from a roped larva: published \
        handbook and FAQ pages, which differ",
    // It is said every day until it is cleared.
    answer_holds: Holds::Days(1),
    also_to: &[Colony::Suspect],
    speak,
    ..Rule::PLAIN
};

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let (on, kind) = s.hive.disease_suspected?;
    let due = Due::on(on);
    let which = match kind {
        Disease::Sunken => {
            "Sunken or holed caps, larvae that rope: American foulbrood until a laboratory rules it out."
        }
        Disease::Twisted => "Twisted, yellowed larvae in open cells: think of European foulbrood first.",
        Disease::None | Disease::Chalk | Disease::Wings | Disease::Sac => "Signs of disease.",
    };
    let stays =
        "Bee-tight, marked, nothing used again: the inspector or a laboratory decides about the gear.";
    if !s.hive.is_alive() {
        return Some(gone(s, due, "Stop: it died under suspicion of disease", which, on).how(&[stays]));
    }
    if s.hive.came > on {
        return Some(
            gone(s, due, "Stop: new bees on suspected gear", which, on)
                .how(&["Keep it apart: no frame, bee or tool goes from it to another. Ask the inspector before anything else.", stays]),
        );
    }
    if let Some(called) = s.hive.inspector_called {
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Stop,
                due,
                "Keep it closed until the inspector has been",
                format!("{which} The inspector was called on {}.", s.date(called)),
            )
            .how(&["Keep the entrance narrow against robbers, and put nothing in and take nothing out. Ask again after a week.", "All else here waits until then, strips that should come out included."])
            .asks(&[Finding::Robbing])
            .offer(Offer::noted("still closed, nothing moved"))
            .offer(cleared(s)),
        );
    }
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Stop,
            due,
            "Stop: suspected brood disease",
            format!("{which} Seen on {}.", s.date(on)),
        )
        .how(&[
            "Close the hive and mark it. No frame, bee or tool goes from it to another.",
            "Draw a matchstick out of a dead larva: a brown thread an inch long is a strong sign.",
            "Call the apiary inspector today. Do this hive last, scorch the tools, change the gloves.",
            "All else at this hive waits until the inspector has been, strips that should come out included.",
        ])
        .asks(&[Finding::Disease])
        .doing(&[], 6.0)
        .needs(Need::Gear(Gear::SampleKit))
        .offer(
            Offer::of("closed, inspector called", Action::CallInspector)
                .promising(7, "ask what the inspector found"),
        )
        .offer(cleared(s)),
    )
}

/// Who cleared it, and when, is asked before it is logged.
fn cleared(s: &Situation<'_>) -> Offer {
    Offer::of(
        "cleared: by whom, and when",
        Action::DiseaseCleared { by: Authority::Inspector, on: s.today() },
    )
    .asking()
}

/// What is left of a suspected colony: the danger stays in comb and boxes for years.
fn gone(s: &Situation<'_>, due: Due, title: &str, which: &str, on: NaiveDate) -> Prompt {
    let called = s
        .hive
        .inspector_called
        .map_or_else(String::new, |called| format!(" The inspector was called on {}.", s.date(called)));
    Prompt::new(
        RULE.id,
        Urgency::Stop,
        due,
        title,
        format!("{which} Suspected on {}; spores in comb and boxes last for decades.{called}", s.date(on)),
    )
    .asks(&[Finding::Disease])
    .offer(
        Offer::of("closed, inspector called", Action::CallInspector)
            .promising(7, "ask what the inspector found"),
    )
    .offer(cleared(s))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::prompt::Deed;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, hive};
    use crate::model::{Entry, Findings, HiveId};

    #[test]
    fn sunken_caps_stop_everything_else() {
        let entry = |disease| Entry {
            findings: Findings { disease: Some(disease), ..Findings::default() },
            ..Entry::blank(HiveId::new("T1"))
        };
        for (disease, stops) in [
            (Disease::None, false),
            (Disease::Chalk, false),
            (Disease::Wings, false),
            (Disease::Twisted, true),
            (Disease::Sunken, true),
        ] {
            let advice = Case::of(hive(2)).on("2026-06-01").entry(entry(disease)).advise();
            assert_eq!(advice.prompts[0].urgency == Urgency::Stop, stops, "{disease:?}");
            if stops {
                assert!(advice.prompts.iter().all(|p| !p.deeds.contains(&Deed::LiftsFrames)));
                assert_eq!(advice.prompts.len(), 1);
            }
        }
    }

    #[test]
    fn once_the_inspector_is_called_it_waits_for_the_word() {
        let mut state = hive(1);
        state.disease_suspected = Some((day("2026-06-01"), Disease::Sunken));
        state.inspector_called = Some(day("2026-06-01"));
        let prompt = Case::of(state).on("2026-06-10").speak(&RULE).unwrap();
        assert!(prompt.title.contains("until the inspector"));
        // The first way, which Enter takes, clears nothing.
        assert!(prompt.offers[0].actions.is_empty());
        assert!(prompt.offers[1].actions[0].name() == "DiseaseCleared" && prompt.offers[1].asks);
    }
}
