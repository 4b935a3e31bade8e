//! What the findings of one look say together: whether frames were lifted, and what cannot be.

use super::finding::{Disease, Finding, Findings, Fine, Part};

impl Findings {
    /// Whether nothing was found.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Whether any finding was made that needs frames lifted.
    pub fn opened(&self) -> bool {
        self.fine == Some(Fine::LookedThrough)
            || Finding::ALL
                .iter()
                .any(|f| matches!(f.part(), Part::Nest | Part::Bottom) && self.get(*f).is_some())
    }

    /// What was found by which a hive is not fine, in words; nothing where nothing denies it.
    pub fn not_fine(&self) -> Option<&'static str> {
        if self.dead == Some(true) {
            return Some("the colony is dead");
        }
        match self.disease {
            None | Some(Disease::None) => None,
            Some(_) => Some("there are signs of disease"),
        }
    }

    /// What cannot be, in words: numbers out of range, and findings that deny each other.
    pub fn faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        self.each_made(|finding, value| {
            if !finding.kind().admits(value) {
                faults.push(format!("`{}` must be {}", finding.field(), finding.kind().range()));
            }
        });
        if let (Some(mites), bees) = (self.mites, self.wash_bees.map_or(300, |b| b.0))
            && (bees == 0 || mites.0 > bees.saturating_mul(2))
        {
            faults.push(format!(
                "{} mites on {bees} bees cannot be a wash: at most two a bee, from at least one bee",
                mites.0
            ));
        }
        if let (Some(bees), Some(brood)) = (self.bees, self.brood)
            && brood.0 > 2.0 * bees.0 + 2.0
        {
            faults.push(format!(
                "{} frames of brood under {} frames of bees cannot be kept warm",
                brood.0, bees.0
            ));
        }
        faults
    }
}
