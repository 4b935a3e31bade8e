//! `pests`: hive beetles, wax moth, mice, wasps, a bear: what to do about each.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Offer, Urgency};
use crate::model::{Finding, Pests, days_after};

pub(super) const RULE: Rule = Rule {
    id: "pests",
    name: "pests",
    about: "Hive beetles, wax moth, mice, wasps or a bear seen: what to do, and who to call",
    caution: Some(
        "An electric fence is set up by its maker's page and local law. Some places ask that hive beetles are reported.",
    ),
    source: "common practice, no single source; beetles are notifiable in many countries (WOAH Terrestrial Code ch. 9.4)",
    answer_holds: Holds::Days(21),
    speak,
    ..Rule::PLAIN
};

/// Days a sighting stands for.
const FRESH: i64 = 14;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let found = s.hive.seen.pests.filter(|p| (0..=FRESH).contains(&(s.today() - p.on).num_days()))?;
    let (urgency, title, why, how): (_, _, _, &[&str]) = match found.value {
        Pests::None => return None,
        Pests::Beetles => (
            Urgency::Should,
            "Hive beetles: no comb they cannot guard",
            "A strong colony corners them; where combs stand unguarded their larvae turn honey to slime.",
            &[
                "No more boxes than the bees cover. Traps between frames; sun on the stand; no scraps of comb left about.",
                "Extract within a day or two of pulling. Slimed combs are frozen, not given back.",
                "Where they are new, or must be reported: tell the inspector first.",
            ],
        ),
        Pests::Moth => (
            Urgency::Should,
            "Wax moth: it is weak, ask why",
            "Moth takes what bees do not guard. In a strong colony it comes to nothing.",
            &[
                "Look for the reason first: queen, mites, disease, robbing.",
                "Webbed combs out, and frozen two days or melted. No more boxes than they cover. Stored comb cold, airy, in light.",
            ],
        ),
        Pests::Mice => (
            Urgency::Should,
            "Mice: out first, then the guard",
            "One in the hive chews comb and disturbs the cluster all winter.",
            &[
                "Make sure it is out before the guard goes on. Chewed combs and nest out on the first warm day.",
                "Guard with 3/8 in (9-10 mm) holes; grass cut short round the stand.",
            ],
        ),
        Pests::Wasps => (
            Urgency::Must,
            "Wasps: a smaller entrance today",
            "They test every hive, and a weak one is emptied in days.",
            &[
                "Entrance to what the bees can guard, 1/2 in (1 cm) for a weak one; cracks shut; no syrup spilled.",
                "Traps away from the hives. A nest near people: leave it to one who does that for a living.",
                "A hornet you do not know: photograph it and report it.",
            ],
        ),
        Pests::Bear => (
            Urgency::Must,
            "A bear or skunk: fence it today",
            "It comes back the next night, and every night until there is nothing left.",
            &[
                "Put the boxes together and strap them, veil on. What is left at dusk it will have.",
                "An electric fence round the yard, on tonight, or move the hives. Skunks: raise the stand over 12 in (30 cm).",
                "Tell the wildlife office: in many places it helps with the fence, and shooting is against the law.",
            ],
        ),
    };
    Some(
        Prompt::new(RULE.id, urgency, Due::new(found.on, found.on, days_after(found.on, 7)), title, why)
            .how(how)
            .asks(&[Finding::Pests])
            .doing(&[], 5.0)
            .offer(Offer::noted("seen to").promising(14, "pests: look again")),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{hive, seen};

    #[test]
    fn each_pest_has_its_own_words() {
        let title = |pest| {
            let mut state = hive(1);
            state.seen.pests = seen("2026-05-03", pest);
            Case::of(state).on("2026-05-03").speak(&RULE).map(|p| p.title)
        };
        assert_eq!(title(Pests::None), None);
        let told: Vec<_> = Pests::ALL.iter().filter_map(|pest| title(*pest)).collect();
        let mut apart = told.clone();
        apart.dedup();
        assert_eq!((told.len(), apart.len()), (Pests::ALL.len() - 1, told.len()));
    }
}
