//! The rules, one small file a topic. [`ALL`] lists them; a new rule is a file, a line there and its tests.

mod bottom_box;
mod brood_signs;
mod comb_renew;
mod combine_weak;
mod cover_prop;
mod cover_state;
mod dates_unknown;
mod dead_out;
mod disease_suspect;
mod drone_comb;
mod droppings;
mod entrance_narrow;
mod entrance_open;
mod feed_first_syrup;
mod feed_new_colony;
mod feed_starving;
mod feed_winter_weight;
mod followup;
mod heat;
mod heft_late_winter;
mod honey_pull;
mod leave_alone;
mod mites_after_harvest;
mod mites_ahead;
mod mites_broodless;
mod mites_halfway;
mod mites_new_colony;
mod mites_other_count;
mod mites_repeat;
mod mites_treat;
mod mites_wash;
mod mites_winter_bees;
mod mouse_guard;
mod nest_backfilled;
mod nest_nuc;
mod nest_size;
mod pests;
mod poisoning;
mod queen_after_formic;
mod queen_missing;
mod queen_renew;
mod queen_timeline;
mod registration;
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
mod table_more;
#[cfg(test)]
pub(in crate::advice) mod testing;
#[cfg(test)]
mod tests;

use chrono::NaiveDate;

use super::gear::Gear;
use super::prompt::{Deed, Need, Offer, Prompt};
use super::situation::Situation;
use crate::colony::treatment::{self, Conditions};
use crate::model::{Action, HiveState, Practice, Treatment};

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
    /// Colonies it speaks to beside the living that are not suspected of disease.
    pub also_to: &'static [Colony],
    /// How long an answer of done or not needed holds.
    pub answer_holds: Holds,
    /// Rules beside which it is silent, since they say the same and more.
    pub silent_beside: &'static [&'static str],
    /// Whether a trip is planned for it even where it only may be done: what comes once a year and is missed else.
    pub once_a_year: bool,
    /// Deeds that answer it where another prompt that stands does them: a look does not, nor what has to wait.
    pub answered_by: &'static [Deed],
    /// What a look it asks for may turn up a need for, beyond what its prompt needs as it stands.
    pub may_need: fn(&HiveState, &Practice, NaiveDate) -> Vec<Need>,
    /// What it says to a hive on a day.
    pub speak: fn(&Situation<'_>) -> Option<Prompt>,
}

/// A colony to which most rules have nothing to say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Colony {
    /// Suspected of brood disease.
    Suspect,
    /// Dead.
    Dead,
}

/// How long an answer holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holds {
    /// So many days, one at least.
    Days(i64),
    /// So many days, or until the next wash: it was given on the count of its day.
    DaysOrNextWash(i64),
}

impl Holds {
    /// The days.
    pub fn days(self) -> i64 {
        match self {
            Self::Days(days) | Self::DaysOrNextWash(days) => days,
        }
    }
}

impl Rule {
    /// A rule with no relations to others, whose answer holds for the day; a rule's own file fills in the rest.
    const PLAIN: Self = Self {
        id: "",
        name: "",
        about: "",
        caution: None,
        source: "",
        also_to: &[],
        answer_holds: Holds::Days(1),
        silent_beside: &[],
        once_a_year: false,
        answered_by: &[],
        may_need: |_, _, _| Vec::new(),
        speak: |_| None,
    };
}

/// Every rule, in the order they are listed.
pub const ALL: &[Rule] = &[
    weather_guard::RULE,
    disease_suspect::RULE,
    poisoning::RULE,
    dead_out::RULE,
    brood_signs::RULE,
    pests::RULE,
    robbing_signs::RULE,
    followup::RULE,
    dates_unknown::RULE,
    heft_late_winter::RULE,
    feed_starving::RULE,
    feed_first_syrup::RULE,
    bottom_box::RULE,
    comb_renew::RULE,
    space_nest::RULE,
    nest_nuc::RULE,
    swarm_check::RULE,
    feed_new_colony::RULE,
    queen_timeline::RULE,
    queen_missing::RULE,
    queen_after_formic::RULE,
    queen_renew::RULE,
    mites_wash::RULE,
    mites_other_count::RULE,
    mites_treat::RULE,
    mites_repeat::RULE,
    mites_new_colony::RULE,
    drone_comb::RULE,
    super_add::RULE,
    nest_backfilled::RULE,
    heat::RULE,
    cover_prop::RULE,
    honey_pull::RULE,
    split_last::RULE,
    mites_winter_bees::RULE,
    super_off::RULE,
    nest_size::RULE,
    combine_weak::RULE,
    feed_winter_weight::RULE,
    entrance_narrow::RULE,
    entrance_open::RULE,
    mouse_guard::RULE,
    upper_entrance::RULE,
    cover_state::RULE,
    droppings::RULE,
    wind_sun_cracks::RULE,
    mites_broodless::RULE,
    registration::RULE,
    leave_alone::RULE,
];

/// A rule by its name.
pub fn rule(id: &str) -> Option<&'static Rule> {
    ALL.iter().find(|r| r.id == id)
}

/// A rule's name as [`ALL`] has it.
pub(crate) type RuleName = &'static str;

/// A rule's name written down, and read again where there is such a rule.
pub(crate) mod by_name {
    use serde::de::Error;
    use serde::{Deserialize, Deserializer, Serializer};

    use super::RuleName;

    pub(crate) fn serialize<S: Serializer>(name: &RuleName, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(name)
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<RuleName, D::Error> {
        let name = String::deserialize(from)?;
        super::rule(&name).map(|rule| rule.id).ok_or_else(|| D::Error::custom("there is no such rule"))
    }
}

/// What a rule is about, in words, by the name an answer remembers.
pub fn rule_name(id: &crate::model::RuleId) -> String {
    rule(id.as_str()).map_or_else(|| crate::model::visible(id.as_str()), |r| r.name.to_owned())
}

/// A treatment for the hive, the first that nothing known of it forbids on the day; none where all are.
fn a_treatment(hive: &HiveState, practice: &Practice, date: NaiveDate) -> Vec<Need> {
    let is_allowed = |t: &Treatment| {
        let limits = treatment::limits(*t, practice);
        treatment::refusals(&limits, hive, date, &Conditions::default()).is_empty()
    };
    let first = Treatment::ALL.iter().copied().find(is_allowed);
    first.map(|treatment| Need::Treatment { treatment }).into_iter().collect()
}

/// Food that the cluster reaches in the cold.
fn honey_frame() -> Offer {
    Offer::of("honey frame set in", Action::GiveHoney { frames: 1 })
        .promising(10, "honey frame: lift it again")
}

/// Lifting a full box.
const LIFTING: &str = "A full deep box weighs 80 lb (36 kg), over the 51 lb (23 kg) limit of the NIOSH lifting \
    equation: take frames out first, or lift with two.";

const STINGS: &str = "Stings: veil on, and help within call. Swelling of the face, short breath or faintness is an \
    emergency: use the epinephrine pen and call for help. Smoker: never unwatched in dry grass.";
