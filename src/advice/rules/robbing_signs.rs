//! `robbing.signs`: stop it at once, for a robbed hive is lost in a day.

use super::{Colony, Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Need, Offer, Urgency};
use crate::model::{Action, Entrance, FeederKind, Finding, Robbing};

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

/// Days after which the entrance is looked at again.
const FRESH: i64 = 3;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let signs = s.within(s.hive.seen.robbing, FRESH).filter(|r| *r != Robbing::None)?;
    let due = Due::on(s.today());
    let fierce = signs == Robbing::Robbed;
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
            if fierce {
                "Fighting and wax crumbs: a weak hive is emptied in a day, and robbers carry disease home."
            } else {
                "They are probing, and it can turn into robbing within the hour."
            },
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
    fn any_sign_speaks_for_three_days() {
        assert!(Case::of(robbed(Robbing::None)).on("2026-09-05").speak(&RULE).is_none());
        for signs in [Robbing::Probing, Robbing::Robbed] {
            assert!(Case::of(robbed(signs)).on("2026-09-05").speak(&RULE).is_some());
            assert!(Case::of(robbed(signs)).on("2026-09-08").speak(&RULE).is_some());
            assert!(Case::of(robbed(signs)).on("2026-09-09").speak(&RULE).is_none());
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
