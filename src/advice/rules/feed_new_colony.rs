//! `feed.new-colony`: a package, nuc, swarm or split is kept fed until its nest is drawn or the flow is on.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::model::{Action, FeederKind, FeederLevel, Finding, Mass, Mix, Origin, Volume, days_after};
use crate::season::DateId;
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "feed.new-colony",
    name: "feeding a new colony",
    about: "Package, nuc, swarm or split: the feeder kept filled until the nest is drawn or the flow is on",
    caution: None,
    source: "common practice, no single source; wax costs about 8 lb of honey a pound (quoted from Michigan State)",
    answer_holds: Holds::Days(4),
    speak,
    ..Rule::PLAIN
};

/// Days from its coming a colony counts as new.
const NEW: i64 = 75;
/// Days a gallon lasts a new colony.
const FILL_LASTS: i64 = 7;
/// Frames of honey from which the flow is seen to feed them.
const FED_BY_FLOW: f64 = 2.0;
/// Share of the nest's frames drawn at which it can do without.
const DRAWN: f64 = 0.8;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let age = (today - s.hive.came).num_days();
    // The flow feeds them only where it is seen to: honey in the nest, or comb built.
    let on_flow = s.day.calendar.is_flow(today)
        && s.within(s.hive.seen.honey, 14).is_none_or(|h| h.0 >= FED_BY_FLOW)
        && !super::feed_starving::is_light(s);
    if s.hive.origin == Origin::Overwintered
        || !(0..=NEW).contains(&age)
        || on_flow
        || s.day.calendar.is_winter(today)
    {
        return None;
    }
    let drawn = s.hive.seen.drawn.filter(|d| d.on >= s.hive.came).map(|d| d.value.0);
    let frames = s.hive.nest_frames();
    if drawn.is_some_and(|d| d >= DRAWN * frames) {
        return None;
    }
    let level = s.within(s.hive.seen.feeder, FILL_LASTS);
    let fed_on = s.hive.fed.iter().map(crate::model::fold::Fed::on).filter(|on| *on >= s.hive.came).max();
    // Seen dry, it stays dry until it is filled.
    let dry = s.hive.seen.feeder.filter(|f| f.value == FeederLevel::Empty && f.on >= s.hive.came);
    let dry_on = match (fed_on, dry) {
        (_, Some(dry)) => dry.on,
        (None, _) => s.hive.came,
        (Some(on), _) => days_after(on, FILL_LASTS),
    };
    if today < dry_on || level == Some(FeederLevel::Full) {
        return None;
    }
    let progress = drawn.map_or_else(
        || "How much of the nest is drawn is not known.".to_owned(),
        |d| format!("{d} of {frames:.0} frames are drawn."),
    );
    let why = format!(
        "A {} that came {} ago. {progress} It lives off the feeder until its nest is built or the flow is on; when the \
         feeder runs dry, it stops building and laying.",
        s.hive.origin.word(),
        wording::days(age)
    );
    let due = Due::new(dry_on, dry_on, days_after(dry_on, 3));
    if s.takes_syrup() == Some(false) {
        return Some(touching(due, &why));
    }
    let feeder = s.hive.feeder.map_or(1.0, FeederKind::gallons).min(1.0);
    // Late in the season thin syrup is water to dry.
    let late = today >= s.day.calendar.opens(DateId::FeedingDone);
    let mix = if late { Mix::Thick } else { Mix::Thin };
    let volume = Volume::from_gallons(feeder);
    let mut prompt = Prompt::new(
        RULE.id,
        Urgency::Must,
        due,
        format!(
            "Fill the feeder: {} of {} syrup",
            s.day.units.volume(volume),
            if late { "thick" } else { "thin" }
        ),
        why,
    )
    .how(&[
        if late {
            "2:1 white sugar and hot water by weight, inside the hive, at dusk. Not a drop outside it."
        } else {
            "1:1 white sugar and water by weight, inside the hive, at dusk. Not a drop outside it."
        },
        "Count the drawn frames while the lid is off. At eight of ten the feeder comes off.",
    ])
    .asks(&[Finding::Feeder, Finding::Drawn, Finding::Bees, Finding::Eggs])
    .doing(&[Deed::OpensLid, Deed::GivesSyrup, if late { Deed::FeedsThick } else { Deed::FeedsThin }], 3.0)
    .needs(Need::Syrup { mix, volume });
    let mut offer = Offer::of("feeder filled", Action::FeedSyrup { mix, volume });
    if s.hive.feeder.is_none() {
        prompt = prompt.needs(Need::Feeder { kind: FeederKind::Frame });
        offer.actions.insert(0, Action::SetFeeder { feeder: Some(FeederKind::Frame) });
    }
    Some(prompt.offer(offer))
}

/// Too cold to walk to a feeder: a new colony has no stores, so the food must touch the bees.
fn touching(due: Due, why: &str) -> Prompt {
    let sugar = Mass::from_pounds(2.0);
    Prompt::new(
        RULE.id,
        Urgency::Must,
        due,
        "Food touching the cluster today",
        format!("{why} It is too cold to walk to it."),
    )
    .how(&[
        "A pail or jar of syrup upside down right over the cluster, touching it; or fondant on the top bars.",
        "The lid off for seconds. No frame is lifted.",
    ])
    .asks(&[Finding::Feeder])
    .doing(&[Deed::CracksLid, Deed::FeedsSolid], 3.0)
    .needs(Need::Sugar { mass: sugar })
    .offer(
        Offer::of("fondant laid on", Action::FeedSugar { mass: sugar })
            .promising(4, "look at the food over the cluster"),
    )
    .offer(
        Offer::doing(
            "pail set over the cluster",
            vec![
                Action::SetFeeder { feeder: Some(FeederKind::Pail) },
                Action::FeedSyrup { mix: Mix::Thin, volume: Volume::from_gallons(0.5) },
            ],
        )
        .promising(4, "look at the food over the cluster"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::HiveState;
    use crate::model::fold::Fed;
    use crate::model::testing::{day, frames, hive, seen};

    fn package() -> HiveState {
        let mut state = hive(1);
        state.origin = Origin::Package;
        state.came = day("2026-04-20");
        state.feeder = Some(FeederKind::Frame);
        state
    }

    fn fed(on: &str) -> HiveState {
        let mut state = package();
        state.fed.push(Fed::Syrup { on: day(on), mix: Mix::Thin, volume: Volume::from_gallons(1.0) });
        state
    }

    #[test]
    fn a_package_is_fed_from_its_first_day_to_the_flow() {
        assert_eq!(Case::of(package()).days_of(&RULE), Some((day("2026-04-20"), day("2026-06-09"))));
        let mut old = package();
        old.origin = Origin::Overwintered;
        assert_eq!(Case::of(old).days_of(&RULE), None);
    }

    #[test]
    fn a_fill_lasts_a_week_unless_it_is_seen_dry() {
        assert!(Case::of(fed("2026-05-01")).on("2026-05-07").speak(&RULE).is_none());
        assert!(Case::of(fed("2026-05-01")).on("2026-05-08").speak(&RULE).is_some());
        let mut dry = fed("2026-05-01");
        dry.seen.feeder = seen("2026-05-04", FeederLevel::Empty);
        assert!(Case::of(dry).on("2026-05-04").speak(&RULE).is_some());
        let mut full = fed("2026-05-01");
        full.seen.feeder = seen("2026-05-08", FeederLevel::Full);
        assert!(Case::of(full).on("2026-05-08").speak(&RULE).is_none());
    }

    #[test]
    fn eight_of_ten_frames_drawn_ends_it() {
        for (drawn, speaks) in [(7.75, true), (8.0, false)] {
            let mut state = package();
            state.seen.drawn = frames("2026-05-20", drawn);
            assert_eq!(Case::of(state).on("2026-05-20").speak(&RULE).is_some(), speaks, "{drawn}");
        }
    }

    #[test]
    fn without_a_feeder_one_is_put_on() {
        let mut state = package();
        state.feeder = None;
        let prompt = Case::of(state).on("2026-05-20").speak(&RULE).unwrap();
        assert!(matches!(prompt.offers[0].actions[0], Action::SetFeeder { feeder: Some(_) }));
        assert_eq!(prompt.needs.len(), 2);
    }
}
