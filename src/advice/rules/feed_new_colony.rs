//! `feed.new-colony`: a package, nuc, swarm or split is kept fed until its nest is drawn or the flow is on.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::model::{Action, FeederKind, FeederLevel, Finding, Mix, Origin, Volume, days_after};
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
/// Share of the nest's frames drawn at which it can do without.
const DRAWN: f64 = 0.8;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let age = (today - s.hive.came).num_days();
    let on_flow = s.day.calendar.window(DateId::MainFlow).holds(today);
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
    let dry_on = match (fed_on, level) {
        (_, Some(FeederLevel::Empty)) => today,
        (None, _) => s.hive.came,
        (Some(on), _) => days_after(on, FILL_LASTS),
    };
    if today < dry_on || level == Some(FeederLevel::Full) {
        return None;
    }
    let volume = Volume::from_gallons(s.hive.feeder.map_or(1.0, FeederKind::gallons).min(1.0));
    let progress = drawn.map_or_else(
        || "How much of the nest is drawn is not known.".to_owned(),
        |d| format!("{d} of {frames:.0} frames are drawn."),
    );
    let mut prompt = Prompt::new(
        RULE.id,
        Urgency::Must,
        Due::new(dry_on, dry_on, days_after(dry_on, 3)),
        format!("Fill the feeder: {} of thin syrup", s.day.units.volume(volume)),
        format!(
            "A {} that came {} ago. {progress} Until its nest is built or the flow is on it lives from the \
             feeder; dry, it stops building and laying.",
            s.hive.origin.word(),
            wording::days(age)
        ),
    )
    .how(&[
        "1:1 white sugar and water by weight, at dusk. Not a drop outside the hive.",
        "Count the drawn frames while the lid is off. At eight of ten the feeder comes off.",
    ])
    .asks(&[Finding::Feeder, Finding::Drawn, Finding::Bees, Finding::Eggs])
    .doing(&[Deed::OpensLid, Deed::GivesSyrup], 3.0)
    .needs(Need::Syrup { mix: Mix::Thin, volume });
    let mut offer = Offer::of("feeder filled", Action::FeedSyrup { mix: Mix::Thin, volume });
    if s.hive.feeder.is_none() {
        prompt = prompt.needs(Need::Feeder { kind: FeederKind::Frame });
        offer.actions.insert(0, Action::SetFeeder { feeder: Some(FeederKind::Frame) });
    }
    Some(prompt.offer(offer))
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
