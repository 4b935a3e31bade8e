//! `cover.state`: a damp or broken cover is mended before it costs a colony.

use super::{Gear, Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Need, Offer, Urgency};
use crate::model::{Action, Cover, Finding, days_after};

pub(super) const RULE: Rule = Rule {
    id: "cover.state",
    name: "state of the cover",
    about: "Damp under the cover, or a cover that is old or broken: dry it, air it, change it",
    caution: None,
    source: "common practice, no single source",
    answer_holds: Holds::Days(60),
    speak,
    ..Rule::PLAIN
};

/// Days a look stands for.
const FRESH: i64 = 60;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let found = s.hive.seen.cover.filter(|c| (0..=FRESH).contains(&(s.today() - c.on).num_days()))?;
    let due = Due::new(found.on, days_after(found.on, 14), days_after(found.on, 45));
    match found.value {
        Cover::Sound => None,
        Cover::Damp => Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                due,
                "Damp under the cover: dry it and air it",
                "Wet drips back on the cluster, and a wet cluster eats more and dies sooner than a cold one.",
            )
            .how(&[
                "Wipe it dry, wet quilt or boards out. Tip the hive a little forward so that water runs out.",
                "A finger's gap or a small upper entrance; a dry board or wood shavings above the inner cover.",
            ])
            .doing(&[], 3.0)
            .offer(Offer::of("dried and aired", Action::Other { what: "dried the cover, gave air".to_owned() })),
        ),
        Cover::Broken => Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                due,
                "Change the cover for a sound one",
                "Rain, robbers and wind come in where it is cracked, rotten or warped.",
            )
            .how(&["Bring a sound one on the next trip. Until then a board and a stone, tight to the front."])
            .asks(&[Finding::Cover])
            .doing(&[], 3.0)
            .needs(Need::Gear(Gear::OuterCover))
            .offer(Offer::of("cover changed", Action::Other { what: "changed the cover".to_owned() })),
        ),
    }
}
