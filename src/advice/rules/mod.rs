//! The rules, one small file a topic. [`ALL`] lists them; a new rule is a file, a line there and its tests.

mod bottom_box;
mod combine_weak;
mod cover_prop;
mod dead_out;
mod disease_suspect;
mod entrance_narrow;
mod feed_first_syrup;
mod feed_new_colony;
mod feed_winter_weight;
mod followup;
mod heft_late_winter;
mod honey_pull;
mod leave_alone;
mod mites_broodless;
mod mites_treat;
mod mites_wash;
mod mites_winter_bees;
mod mouse_guard;
mod nest_backfilled;
mod nest_size;
mod queen_missing;
mod queen_timeline;
mod robbing_signs;
mod space_nest;
mod split_last;
mod super_add;
mod super_off;
mod swarm_check;
mod upper_entrance;
mod weather_guard;
mod wind_sun_cracks;

#[cfg(test)]
mod table;
#[cfg(test)]
pub(in crate::advice) mod testing;
#[cfg(test)]
mod tests;

use super::prompt::Prompt;
use super::situation::Situation;

pub(super) use queen_timeline::quiet;

/// One rule of the trade.
#[derive(Debug, Clone, Copy)]
pub struct Rule {
    /// Its name, as answers remember it.
    pub id: &'static str,
    /// What it is about, in two or three words.
    pub name: &'static str,
    /// When it speaks and what it says, in one line.
    pub about: &'static str,
    /// What could hurt whom.
    pub caution: Option<&'static str>,
    /// Where it is from, and how sure that is.
    pub source: &'static str,
    /// Days it is silent after it was answered done or not needed.
    pub rest_days: i64,
    /// What it says to a hive on a day.
    pub speak: fn(&Situation<'_>) -> Option<Prompt>,
}

/// Every rule, in the order they are listed.
pub const ALL: &[Rule] = &[
    weather_guard::RULE,
    disease_suspect::RULE,
    dead_out::RULE,
    robbing_signs::RULE,
    followup::RULE,
    heft_late_winter::RULE,
    feed_first_syrup::RULE,
    bottom_box::RULE,
    space_nest::RULE,
    swarm_check::RULE,
    feed_new_colony::RULE,
    queen_timeline::RULE,
    queen_missing::RULE,
    mites_wash::RULE,
    mites_treat::RULE,
    super_add::RULE,
    nest_backfilled::RULE,
    cover_prop::RULE,
    honey_pull::RULE,
    split_last::RULE,
    mites_winter_bees::RULE,
    super_off::RULE,
    nest_size::RULE,
    combine_weak::RULE,
    feed_winter_weight::RULE,
    entrance_narrow::RULE,
    mouse_guard::RULE,
    upper_entrance::RULE,
    wind_sun_cracks::RULE,
    mites_broodless::RULE,
    leave_alone::RULE,
];

/// A rule by its name.
pub fn rule(id: &str) -> Option<&'static Rule> {
    ALL.iter().find(|r| r.id == id)
}

/// What a rule is about, in words, by the name an answer remembers.
pub fn rule_name(id: &crate::model::RuleId) -> String {
    rule(id.as_str()).map_or_else(|| crate::model::visible(id.as_str()), |r| r.name.to_owned())
}

/// A text with its first letter large.
fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().chain(chars).collect())
}

/// Lifting a full box.
const LIFTING: &str = "A full deep box weighs 80 lb (36 kg), over the 51 lb (23 kg) limit of the NIOSH lifting \
    equation: take frames out first, or lift with two.";

/// Opening a hive.
const STINGS: &str = "Stings: veil on, and help within call. Swelling of the face, short breath or faintness is an \
    emergency: use the epinephrine pen and call for help. Smoker: never unwatched in dry grass.";
