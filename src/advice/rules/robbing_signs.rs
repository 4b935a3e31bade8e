//! `robbing.signs`: stop it at once, for a robbed hive is lost in a day.

use super::{Colony, Gear, Holds, Prompt, Rule, Situation};
use crate::advice::in_force::ROBBING_LASTS;
use crate::advice::prompt::{Due, Need, Offer, Urgency};
use crate::model::{Action, Course, Entrance, FeederKind, Finding, Robbing};

pub(super) const RULE: Rule = Rule {
    id: "robbing.signs",
    name: "robbing",
    about: "Signs of robbing: narrow to a bee's width, close cracks, no open feed, no frames out",
    caution: Some(super::STINGS),
    source: "common practice, no single source; opening of 1/2 in (1 cm) for a weak hive from forum and trade pages",
    answer_holds: Holds::Days(2),
    also_to: &[Colony::Suspect],
    speak,
    ..Rule::PLAIN
};

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let signs = s.within(s.hive.seen.robbing, ROBBING_LASTS).filter(|r| *r != Robbing::None)?;
    let due = Due::on(s.known_since(&[s.hive.seen.robbing.map(|r| r.on)]));
    let fierce = signs == Robbing::Robbed;
    let fierce_words = if fierce {
        "Fighting and wax crumbs: a weak hive is emptied in a day, and robbers carry disease home."
    } else {
        "They are probing, and it can turn into robbing within the hour."
    };
    if let Some(course) = s.in_force.vapor {
        return Some(over_formic(s, due, fierce_words, &course));
    }
    if s.hive.entrance == Entrance::Small {
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Must,
                due,
                "Keep it shut: robbing here",
                "The entrance is narrow already. Opening the hive only draws more robbers.",
            )
            .how(&["A wet sheet over the hive until evening; look again tomorrow at noon."])
            .asks(&[Finding::Robbing, Finding::Cracks]),
        );
    }
    let mut offer = Offer::of("narrowed to a bee's width", Action::SetEntrance { entrance: Entrance::Small })
        .promising(2, "robbing: look at the entrance at noon");
    if s.hive.upper_entrance {
        offer.actions.push(Action::SetUpperEntrance { open: false });
    }
    if s.hive.feeder == Some(FeederKind::Entrance) {
        offer.actions.push(Action::SetFeeder { feeder: None });
    }
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Must,
            due,
            "Robbing: narrow the entrance now",
            fierce_words,
        )
        .how(&[
            "Entrance to 1/2 in (1 cm), upper entrance and cracks closed; loose grass in front breaks the robbers' flight.",
            "No honey, syrup or comb in the open, and open no other hive beside it today.",
            "Robbed out already: close it, take it away after dark, and ask what made it weak.",
        ])
        .asks(&[Finding::Cracks])
        .doing(&[], 4.0)
        .needs(Need::Reducer)
        .offer(offer),
    )
}

/// Robbed with formic acid in: the strips need the full width, so their air is kept or they come out first.
fn over_formic(s: &Situation<'_>, due: Due, why: &str, course: &Course) -> Prompt {
    let out = Offer::doing(
        "strips out, then narrowed",
        vec![
            Action::EndTreatment { treatment: course.treatment },
            Action::SetEntrance { entrance: Entrance::Small },
        ],
    );
    Prompt::new(
        RULE.id,
        Urgency::Must,
        due,
        "Robbing over formic acid: keep its air",
        format!("{why} Formic acid is in until {} and needs the full width of the entrance.", s.date(course.until)),
    )
    .how(&[
        "A robbing screen or a wet sheet over the whole front, the entrance left at full width behind it.",
        "If that does not stop it: strips out first, then narrow to 1/2 in (1 cm). Never narrow over the strips.",
        "No honey, syrup or comb in the open, and open no other hive beside it today.",
    ])
    .asks(&[Finding::Cracks])
    .doing(&[], 4.0)
    .needs(Need::Gear(Gear::RobbingScreen))
    .offer(Offer::noted("screened at full width").promising(1, "robbing: look at the entrance at noon"))
    .offer(out.promising(1, "robbing: look at the entrance at noon"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::HiveState;
    use crate::model::testing::{hive, seen};

    fn robbed(signs: Robbing) -> HiveState {
        let mut state = hive(1);
        state.seen.robbing = seen("2026-09-05", signs);
        state
    }

    #[test]
    fn any_sign_speaks_as_long_as_robbing_is_in_force() {
        assert!(Case::of(robbed(Robbing::None)).on("2026-09-05").speak(&RULE).is_none());
        for signs in [Robbing::Probing, Robbing::Robbed] {
            assert!(Case::of(robbed(signs)).on("2026-09-05").speak(&RULE).is_some());
            assert!(Case::of(robbed(signs)).on("2026-09-07").speak(&RULE).is_some());
            assert!(Case::of(robbed(signs)).on("2026-09-08").speak(&RULE).is_none());
        }
    }

    #[test]
    fn upper_entrance_and_entrance_feeder_go_with_it() {
        let mut state = robbed(Robbing::Robbed);
        state.upper_entrance = true;
        state.feeder = Some(FeederKind::Entrance);
        let prompt = Case::of(state).on("2026-09-05").speak(&RULE).unwrap();
        assert_eq!(prompt.offers[0].actions.len(), 3);
    }

    #[test]
    fn no_wash_is_asked_for_in_robbing() {
        let advice = Case::of(robbed(Robbing::Robbed)).on("2026-09-05").advise();
        assert!(advice.prompts.iter().all(|p| p.rule != "mites.wash"));
        assert!(advice.held.iter().any(|h| h.prompt.rule == "mites.wash"));
    }
}
