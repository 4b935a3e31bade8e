//! The record of a medicine: what an inspector asks of a treatment, as the keeper typed it.

use serde::{Deserialize, Serialize};

use super::names::visible;

/// Longest text of a part, in characters.
pub(super) const LONGEST_PART: usize = 60;
/// Longest withdrawal, in days.
pub(super) const LONGEST_WITHDRAWAL: u16 = 365;

/// What was given, how much, from which lot, how long honey is held back for it, and by whom. Any part may be left out.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Medicine {
    /// The product, as its package calls it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub product: String,
    /// How much.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub amount: String,
    /// The lot or batch on the package.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub lot: String,
    /// Days after its end in which no honey is taken, as the label says.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub withdrawal_days: Option<u16>,
    /// Who gave it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub by: String,
}

impl Medicine {
    /// Whether nothing was written down.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// What was written down, in words.
    pub fn words(&self) -> String {
        let said = |what: &str, text: &str| {
            let text = visible(text);
            (!text.is_empty()).then(|| format!("{what}{text}"))
        };
        let days = self
            .withdrawal_days
            .map(|days| format!("no honey for {days} day{} after", if days == 1 { "" } else { "s" }));
        let parts = [
            said("", &self.product),
            said("", &self.amount),
            said("lot ", &self.lot),
            days,
            said("given by ", &self.by),
        ];
        parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    /// What is wrong with one read from a file, in words.
    pub fn fault(&self) -> Option<String> {
        let parts = [&self.product, &self.amount, &self.lot, &self.by];
        if parts.iter().any(|part| part.chars().count() > LONGEST_PART) {
            return Some(format!(
                "has a part of over {LONGEST_PART} characters in the record of a treatment"
            ));
        }
        self.withdrawal_days
            .filter(|days| *days > LONGEST_WITHDRAWAL)
            .map(|days| format!("holds honey back for {days} days, over {LONGEST_WITHDRAWAL}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_reads_as_a_keeper_would_say_it_and_an_empty_one_says_nothing() {
        let record = Medicine {
            product: "Strips \u{1b}[2J".to_owned(),
            amount: "2 strips".to_owned(),
            withdrawal_days: Some(1),
            ..Medicine::default()
        };
        assert!(record.words().ends_with("2 strips, no honey for 1 day after"), "{}", record.words());
        assert!(!record.words().contains('\u{1b}'));
        assert_eq!((Medicine::default().words().as_str(), Medicine::default().is_empty()), ("", true));
    }

    #[test]
    fn what_is_too_long_is_a_fault() {
        let long = Medicine { lot: "x".repeat(61), ..Medicine::default() };
        assert!(long.fault().is_some_and(|fault| fault.contains("60 characters")));
        let late = Medicine { withdrawal_days: Some(400), ..Medicine::default() };
        assert!(late.fault().is_some_and(|fault| fault.contains("365")));
        assert_eq!(Medicine::default().fault(), None);
    }
}
