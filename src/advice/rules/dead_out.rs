//! `dead-out`: why it died, and what of it may be used again.

use super::{Colony, Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Offer, Urgency};
use crate::model::{Action, Entrance, Finding, Loss, Robbing};

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
        return brood_first(s, on);
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
    if s.hive.seen.robbing.is_some_and(|r| r.value != Robbing::None && (on - r.on).num_days().abs() <= 14) {
        prompt.how.insert(
            0,
            "Robbed out: close it bee-tight now, take it away after dark. Ask what made it weak: mites, queen, disease."
                .to_owned(),
        );
    }
    for loss in
        [Loss::Starved, Loss::Mites, Loss::Small, Loss::Queen, Loss::Damp, Loss::Robbed, Loss::Disease]
    {
        let mut offer = Offer::of(loss.word(), Action::Retire { loss });
        offer.actions.push(Action::SetEntrance { entrance: Entrance::Small });
        prompt = prompt.offer(offer);
    }
    Some(prompt)
}

/// Days in which a look at the brood must have been made before comb goes on to others.
const LOOKED: i64 = 365;

/// The cause is noted, and nobody has looked at the brood for disease: the stack stays together.
fn brood_first(s: &Situation<'_>, on: chrono::NaiveDate) -> Option<Prompt> {
    let looked = s.hive.seen.disease.is_some_and(|d| (s.today() - d.on).num_days() <= LOOKED);
    let is_gone = s.hive.lost.is_some_and(|(_, loss)| loss == Loss::GivenUp);
    (!looked && !is_gone && (s.today() - on).num_days() <= LOOKED).then(|| {
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(on, on, crate::model::days_after(on, 14)),
            "Look at the dead brood before comb is used",
            "No one has looked at this brood for disease within the year. A clean look proves little, and no look nothing.",
        )
        .how(&[
            "Scale stuck to the lower cell wall, sunken or holed caps, brood off color or smell: stop, and call the inspector.",
            "Until then the stack stays together and closed, and no comb goes to another hive.",
        ])
        .asks(&[Finding::Disease])
        .doing(&[], 5.0)
    })
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
        let advice = Case::of(hive(1)).on("2026-03-20").entry(told.clone()).advise();
        assert!(advice.prompts[0].title.contains("dead brood"));
        let looked = Findings { disease: Some(crate::model::Disease::None), ..dead };
        let told = Entry { findings: looked, ..told };
        assert!(Case::of(hive(1)).on("2026-03-20").entry(told).advise().prompts.is_empty());
    }

    #[test]
    fn a_living_hive_hears_nothing_of_it() {
        assert_eq!(Case::of(hive(1)).days_of(&RULE), None);
    }
}
