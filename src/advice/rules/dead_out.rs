//! `dead-out`: why it died, and what of it may be used again.

use super::{Colony, Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Offer, Urgency};
use crate::model::{Action, Entrance, Finding, Loss};

pub(super) const RULE: Rule = Rule {
    id: "dead-out",
    name: "dead colony",
    about: "A dead colony: close it against robbers, find out why, keep what is safe",
    caution: Some(
        "Comb from a colony that may have died of brood disease is a danger to every other: ask the inspector.",
    ),
    source: "common practice, no single source",
    answer_holds: Holds::Days(14),
    also_to: &[Colony::Dead],
    speak,
    ..Rule::PLAIN
};

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let (on, loss) = s.hive.lost?;
    if loss != Loss::Unknown {
        return None;
    }
    let mut prompt = Prompt::new(
        RULE.id,
        Urgency::Must,
        Due::new(on, on, crate::model::days_after(on, 7)),
        "Dead: close it and note why",
        format!(
            "Found dead on {}.{} Left open it is robbed, and what killed it spreads through the yard.",
            s.date(on),
            last_count(s)
        ),
    )
    .how(&[
        "Bees head first in empty cells, no food nearby: starved. Scattered capped brood, few bees, white specks: mites.",
        "A handful of bees on a patch of brood: too small. Wet, moldy pile: damp. Drone caps: queen.",
        "Close the entrance today. Look at the brood for scale, sunken caps and off smell: until then the stack stays together.",
    ])
    .asks(&[Finding::Disease])
    .doing(&[], 8.0);
    for loss in
        [Loss::Starved, Loss::Mites, Loss::Small, Loss::Queen, Loss::Damp, Loss::Robbed, Loss::Disease]
    {
        let mut offer = Offer::of(loss.word(), Action::Retire { loss });
        offer.actions.push(Action::SetEntrance { entrance: Entrance::Small });
        prompt = prompt.offer(offer);
    }
    Some(prompt)
}

/// What the log knows of its mites: the likeliest cause is asked first.
fn last_count(s: &Situation<'_>) -> String {
    let Some(count) = s.hive.last_wash() else { return " Its mites were never counted.".to_owned() };
    let treated = s.hive.courses.iter().any(|c| c.began >= count.on);
    let then = if treated { "treated since" } else { "not treated since" };
    let first =
        if count.percent() > s.day.practice.mite_limit() && !treated { ": think of mites first" } else { "" };
    format!(" Last count {:.1} % on {}, {then}{first}.", count.percent(), s.date(count.on))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::hive;
    use crate::model::{Entry, Findings, HiveId};

    #[test]
    fn a_dead_hive_is_asked_why_and_nothing_else() {
        let dead = Findings { dead: Some(true), ..Findings::default() };
        let entry = Entry { findings: dead, ..Entry::blank(HiveId::new("T1")) };
        let advice = Case::of(hive(1)).on("2026-03-20").entry(entry.clone()).advise();
        assert_eq!(advice.prompts.iter().map(|p| p.rule).collect::<Vec<_>>(), [RULE.id]);
        let told = Entry { actions: vec![Action::Retire { loss: Loss::Starved }], ..entry };
        assert!(Case::of(hive(1)).on("2026-03-20").entry(told).advise().prompts.is_empty());
    }

    #[test]
    fn a_living_hive_hears_nothing_of_it() {
        assert_eq!(Case::of(hive(1)).days_of(&RULE), None);
    }
}
