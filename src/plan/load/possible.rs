//! What a look may turn up, and what it would take: the second half of the load list.

use chrono::NaiveDate;

use crate::advice::{Need, Prompt};
use crate::colony::treatment::{self, Conditions};
use crate::model::{Depth, FeederKind, HiveState, Mass, Mix, Practice, Role, Treatment, Volume};

/// What a prompt that asks to look may need in the end, beyond what it needs as it stands.
pub fn possible(prompt: &Prompt, hive: &HiveState, practice: &Practice, date: NaiveDate) -> Vec<Need> {
    // A prompt that knows what it needs has had its look.
    if prompt.asks.is_empty() || !prompt.offers.is_empty() {
        return Vec::new();
    }
    let nest = Need::Box { depth: hive.nest_depth(), role: Role::Nest };
    let depth = hive.supers().next_back().map_or(Depth::Medium, |b| b.depth);
    let super_box = Need::Box { depth, role: Role::Super };
    match prompt.rule {
        "swarm.check" => vec![nest, Need::FloorAndLid, Need::QueenCage],
        "mites.wash" | "mites.treat" => first_allowed(hive, practice, date)
            .map(|treatment| Need::Treatment { treatment })
            .into_iter()
            .collect(),
        "super.add" => vec![super_box],
        "nest.backfilled" => vec![Need::DrawnFrames { count: 3 }, super_box],
        "heft.late-winter" => vec![Need::Sugar { mass: Mass::from_pounds(4.0) }],
        "feed.winter-weight" => {
            let kind = hive.feeder.unwrap_or(FeederKind::Top);
            let volume = Volume::from_gallons(kind.gallons());
            let mut needs = vec![Need::Syrup { mix: Mix::Thick, volume }];
            if hive.feeder.is_none() {
                needs.push(Need::Feeder { kind });
            }
            needs
        }
        "queen.timeline" | "queen.missing" => vec![Need::CagedQueen],
        "wind-sun-cracks" => vec![Need::Tape],
        _ => Vec::new(),
    }
}

/// The first treatment that nothing known of the hive forbids on the day.
fn first_allowed(hive: &HiveState, practice: &Practice, date: NaiveDate) -> Option<Treatment> {
    Treatment::ALL.iter().copied().find(|t| {
        treatment::refusals(&treatment::limits(*t, practice), hive, date, &Conditions::default()).is_empty()
    })
}
