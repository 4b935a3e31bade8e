//! `comb.renew`: a few old brood combs changed each spring, so that none grows too old.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::model::{Action, Origin, days_after};
use crate::season::DateId;
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "comb.renew",
    name: "new brood comb",
    about: "Each spring a share of the oldest brood combs out, so that all are renewed in the years of the practice",
    caution: None,
    source: "National Bee Unit (England and Wales): no brood comb over three years; others ask for three to five",
    answer_holds: Holds::Days(300),
    speak,
    ..Rule::PLAIN
};

/// Days from the first day frames may be lifted in which the nest is small enough for it.
const SPRING: i64 = 45;
/// Days within which combs were changed this year already.
const THIS_YEAR: i64 = 300;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let years = s.day.practice.comb_years();
    let opens = s.day.calendar.opens(DateId::FramesMayBeLifted);
    let closes = days_after(opens, SPRING);
    let new = s.hive.origin != Origin::Overwintered && (today - s.hive.came).num_days() < 365;
    let done = s.hive.comb_renewed.is_some_and(|on| (today - on).num_days() < THIS_YEAR);
    if years < 1.0 || new || done || today < opens || today > closes {
        return None;
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 40")]
    let frames = (s.hive.nest_frames() / years).round().clamp(1.0, 40.0) as u8;
    Some(
        Prompt::new(
            RULE.id,
            Urgency::May,
            Due::new(opens, days_after(opens, 14), closes),
            format!("Change {} for new", wording::count(frames.into(), "old brood comb")),
            format!("All are renewed in {years} years that way. Old comb keeps spores, residues and small cells."),
        )
        .how(&[
            "The blackest, empty of brood: worked to the edge this year, out next spring. New ones beside the brood, not within it.",
            "Melt the old ones; do not hand them on.",
        ])
        .doing(&[Deed::LiftsFrames], 5.0)
        .needs(Need::DrawnFrames { count: frames })
        .offer(Offer::of(format!("{} changed", wording::count(frames.into(), "comb")), Action::RenewComb { frames }).asking()),
    )
}
