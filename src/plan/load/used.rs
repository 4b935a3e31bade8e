//! What was on the truck last time and came home again.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::item::number_words;
use crate::model::{Book, Visit, YardId};

/// Something that was ticked for the last visit to a yard and not all used there.
#[derive(Debug, Clone, PartialEq)]
pub struct Unused {
    /// The item.
    pub item: String,
    /// How much of it came home: pieces, liters or kilograms.
    pub amount: f64,
    /// When.
    pub on: NaiveDate,
}

impl Unused {
    /// In words: `2 of deep nest box`.
    pub fn words(&self) -> String {
        format!("{} of {}", number_words(self.amount), self.item)
    }
}

/// What was on the truck at the last visit to a yard that had a load list, and was not used there.
///
/// Tools are left out: they always come home.
pub fn unused(book: &Book, yard: &YardId, as_of: NaiveDate) -> Vec<Unused> {
    let standing = book.standing_visits(as_of);
    let last: Option<&&Visit> = standing.iter().rev().find(|v| v.yard == *yard && !v.truck.is_empty());
    let Some(visit) = last else { return Vec::new() };
    let mut used: BTreeMap<String, f64> = BTreeMap::new();
    for action in visit.entries.iter().flat_map(|e| &e.actions) {
        if let Some((supply, amount)) = action.uses() {
            *used.entry(supply.name()).or_default() += amount;
        }
    }
    visit
        .truck
        .iter()
        .filter(|loaded| !loaded.comes_home)
        .filter_map(|loaded| {
            let left = loaded.amount - used.get(&loaded.item).copied().unwrap_or(0.0);
            (left > 0.05).then(|| Unused { item: loaded.item.clone(), amount: left, on: visit.on })
        })
        .collect()
}
