//! The load list: what the truck must carry for a day in a yard, added up, with a spare share and weights.
//!
//! *Likely* is what the musts and shoulds need as they stand; *possible* is what a look may turn up, and what may be
//! done. Carried once, whatever the number of hives, are tools: the wash kit, the clearer boards, the smoker.

mod item;
mod possible;
mod used;

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::day::{Stop, YardPlan};
use crate::advice::{Deed, Kept, Need, Prompt, Urgency};
use crate::colony::treatment;
use crate::model::{Folded, HiveId, HiveState, Loaded, Mark, Mass, Practice, Treatment, Units};

pub use item::{Amount, item_of};
pub use possible::possible;
pub use used::{Unused, unused};

/// One line of the list.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadLine {
    /// What, in words; by this it is ticked and remembered.
    pub item: String,
    /// How much the prompts need.
    pub needed: Amount,
    /// How much more to take along.
    pub spare: Amount,
    /// What all of it weighs, the spare too.
    pub weight: Mass,
    /// For which hives; none for a tool of the whole yard.
    pub hives: Vec<HiveId>,
}

impl LoadLine {
    /// What to load: the need and the spare.
    pub fn load(&self) -> Amount {
        self.needed.and(self.spare)
    }

    /// What a visit remembers of it once it is on the truck.
    pub fn loaded(&self) -> Loaded {
        let comes_home = self.hives.is_empty();
        Loaded { item: self.item.clone(), amount: self.load().in_file(), comes_home }
    }

    /// The spare in words; none where there is none.
    pub fn spare_words(&self, units: Units) -> Option<String> {
        match self.spare {
            Amount::Count(0) => None,
            Amount::Count(n) => Some(n.to_string()),
            Amount::Volume(v) => (v.gallons() > 0.0).then(|| units.volume(v)),
            Amount::Mass(m) => (m.pounds() > 0.0).then(|| units.mass(m)),
        }
    }

    /// In words and the book's units: `3 x medium super` or `4 gal of thick (2:1) syrup`.
    pub fn words(&self, units: Units) -> String {
        self.load().of(&self.item, units)
    }
}

/// What the truck must carry to a yard on a day.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LoadList {
    /// What the prompts need.
    pub likely: Vec<LoadLine>,
    /// What a look may turn up.
    pub possible: Vec<LoadLine>,
}

impl LoadList {
    /// What the likely and, if asked, the possible lines weigh together.
    pub fn weight(&self, with_possible: bool) -> Mass {
        let possible = self.possible.iter().filter(|_| with_possible);
        Mass::from_pounds(self.likely.iter().chain(possible).map(|l| l.weight.pounds()).sum())
    }

    /// Both halves, the likely first.
    pub fn lines(&self) -> impl Iterator<Item = &LoadLine> {
        self.likely.iter().chain(&self.possible)
    }
}

/// The load list of a yard's queue.
pub fn load(plan: &YardPlan, folded: &Folded, practice: &Practice, date: NaiveDate) -> LoadList {
    let mut likely = Sum::default();
    let mut maybe = Sum::default();
    for stop in &plan.queue {
        let Some(state) = folded.hive(&stop.hive) else { continue };
        for prompt in &stop.advice.prompts {
            // What may be done, and nothing is lost if it is not, is no more than possible.
            let sum = if prompt.urgency <= Urgency::Should { &mut likely } else { &mut maybe };
            for need in &prompt.needs {
                sum.add(*need, state);
            }
            for need in possible(prompt, state, practice, date) {
                maybe.add(need, state);
            }
        }
    }
    let tools = tools(&plan.queue, &likely, practice, date);
    let spare = practice.spare_share() / 100.0;
    let mut list = LoadList { likely: likely.lines(spare), possible: maybe.lines(spare) };
    list.likely.extend(tools);
    // What is carried once for the likely needs no second for the possible.
    let carried: Vec<String> =
        list.likely.iter().filter(|l| l.hives.is_empty()).map(|l| l.item.clone()).collect();
    list.possible.retain(|l| !(l.hives.is_empty() && carried.contains(&l.item)));
    list
}

/// Needs added up by item.
#[derive(Debug, Default)]
struct Sum {
    items: BTreeMap<String, (Amount, f64, Kept, Vec<HiveId>)>,
    washes: u32,
    treatments: Vec<Treatment>,
}

impl Sum {
    fn add(&mut self, need: Need, hive: &HiveState) {
        if need == Need::WashKit {
            self.washes += 1;
        }
        if let Need::Treatment { treatment } = need
            && !self.treatments.contains(&treatment)
        {
            self.treatments.push(treatment);
        }
        let item = item_of(need, hive);
        let entry = self
            .items
            .entry(item.words)
            .or_insert_with(|| (item.amount.none(), item.pounds_each, item.kept, Vec::new()));
        entry.0 = match item.kept {
            Kept::Used => entry.0.and(item.amount),
            // Once for the yard.
            Kept::Tool => item.amount,
        };
        if item.kept == Kept::Used && !entry.3.contains(&hive.id) {
            entry.3.push(hive.id.clone());
        }
    }

    fn lines(self, spare_share: f64) -> Vec<LoadLine> {
        let washes = self.washes;
        let mut lines: Vec<LoadLine> = self
            .items
            .into_iter()
            .map(|(item, (needed, pounds, kept, hives))| {
                let spare = match kept {
                    Kept::Used => needed.share(spare_share),
                    Kept::Tool => needed.none(),
                };
                let weight = Mass::from_pounds(pounds * needed.and(spare).number());
                LoadLine { item, needed, spare, weight, hives }
            })
            .collect();
        if washes > 0 {
            lines.push(item::alcohol(washes));
        }
        lines
    }
}

/// What is carried once for the whole yard because of what is done there.
fn tools(queue: &[Stop], likely: &Sum, practice: &Practice, date: NaiveDate) -> Vec<LoadLine> {
    use chrono::Datelike;
    let prompts = || queue.iter().flat_map(|s| &s.advice.prompts);
    let does = |deeds: &[Deed]| prompts().any(|p: &Prompt| p.deeds.iter().any(|d| deeds.contains(d)));
    let mut lines = Vec::new();
    if !queue.is_empty() {
        lines.push(item::tool("veil, gloves, hive tool, epinephrine pen", 6.0));
    }
    if does(&[Deed::LiftsFrames, Deed::OpensLid]) {
        lines.push(item::tool("smoker, fuel and water", 15.0));
    }
    for treatment in &likely.treatments {
        let row = treatment::limits(*treatment, practice);
        lines.push(item::tool(&format!("{} for {}", row.wear, treatment.word()), 1.0));
    }
    // A queen that is looked for may be marked, in the color of her year.
    if prompts().any(|p| p.asks.contains(&crate::model::Finding::QueenSeen)) {
        lines.push(item::tool(&format!("marking pen, {}", Mark::of_year(date.year()).word()), 0.1));
    }
    lines
}
