//! `brood.signs`: chalkbrood, sacbrood and a spotty pattern: what to do, and when to call someone.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Offer, Urgency};
use crate::model::{Disease, Finding, Pattern, days_after};

pub(super) const RULE: Rule = Rule {
    id: "brood.signs",
    name: "sick-looking brood",
    about: "Chalk mummies, sacbrood or a spotty pattern: dry, sunny and strong; when to requeen, when to call someone",
    caution: Some(
        "Foulbrood can look like this at first: where a larva ropes, smells or is discolored, stop and call the inspector.",
    ),
    source: "COLOSS BEEBOOK on chalkbrood and Minnesota Dept. of Agriculture, read in part; sacbrood from memory",
    answer_holds: Holds::Days(21),
    speak,
    ..Rule::PLAIN
};

/// Days a look at the brood stands for.
const FRESH: i64 = 21;

/// Days after a closer look that showed no disease in which it is not asked for again.
const LOOKED: i64 = 14;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let signs = s.hive.seen.disease.filter(|d| (0..=FRESH).contains(&(s.today() - d.on).num_days()));
    let pattern = s.hive.seen.pattern.filter(|p| (0..=FRESH).contains(&(s.today() - p.on).num_days()));
    let (on, title, why, first) = match (signs.map(|d| (d.on, d.value)), pattern.map(|p| (p.on, p.value))) {
        (Some((on, Disease::Chalk)), _) => (
            on,
            "Chalkbrood: dry, sunny and strong",
            "Hard white or gray mummies: a fungus of damp, cool brood. Most colonies grow out of it in warm weather.",
            "A dry, sunny stand; the floor cleaned of mummies; the nest no larger than they cover. No drug helps.",
        ),
        (Some((on, Disease::Sac)), _) => (
            on,
            "Sacbrood: keep it strong, and look again",
            "Larvae dead on their backs like a sac of fluid: a virus, worst in spring and where food is short.",
            "Lift one with tweezers: whole, like a sac, it is sacbrood; a rope is foulbrood. Feed where food is short.",
        ),
        // Someone has looked closer: gaps take two rounds of brood to tell more.
        (Some((looked, Disease::None | Disease::Wings)), Some((on, Pattern::Spotty)))
            if looked >= on && (1..LOOKED).contains(&(s.today() - looked).num_days()) =>
        {
            return None;
        }
        (None | Some((_, Disease::None | Disease::Wings)), Some((on, Pattern::Spotty))) => (
            on,
            "Spotty brood: look closer at it",
            "Gaps in the brood come from a failing queen, mites, chilled brood, or disease: each shows another sign.",
            "Open a few cells: dead, off-color or off-smelling larvae are disease. Clean cells and old larvae between are the queen.",
        ),
        (Some((_, Disease::None | Disease::Twisted | Disease::Sunken | Disease::Wings)) | None, _) => {
            return None;
        }
    };
    Some(
        Prompt::new(RULE.id, Urgency::Should, Due::new(on, days_after(on, 7), days_after(on, 21)), title, why)
            .how(&[
                first,
                "Keep its combs to itself: none goes to another hive.",
                "If it lasts longer than two rounds of brood, requeen it.",
                "Anything that ropes, smells foul or sinks under its caps: close the hive and call the inspector.",
            ])
            .asks(&[Finding::Disease, Finding::Pattern])
            .doing(&[], 3.0)
            .offer(Offer::noted("seen to, combs kept here").promising(21, "sick-looking brood: look again")),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{hive, seen};

    #[test]
    fn each_sign_has_its_words_and_an_old_look_none() {
        for (disease, pattern, words) in [
            (Some(Disease::Chalk), Some(Pattern::Spotty), Some("Chalkbrood")),
            (Some(Disease::Sac), None, Some("Sacbrood")),
            (Some(Disease::None), Some(Pattern::Spotty), Some("Spotty")),
            (None, Some(Pattern::Solid), None),
            (Some(Disease::Sunken), Some(Pattern::Spotty), None),
        ] {
            let mut state = hive(1);
            state.seen.disease = disease.and_then(|d| seen("2026-05-03", d));
            state.seen.pattern = pattern.and_then(|p| seen("2026-05-03", p));
            let title = |on: &str| Case::of(state.clone()).on(on).speak(&RULE).map(|p| p.title);
            assert_eq!(title("2026-05-24").is_some(), words.is_some(), "{disease:?}");
            assert!(title("2026-05-24").unwrap_or_default().contains(words.unwrap_or_default()));
            assert_eq!(title("2026-05-25"), None);
        }
    }
}
