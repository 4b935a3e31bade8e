//! The short names by which a book's parts know each other: hive, yard, visit and rule.

use std::fmt;

use serde::{Deserialize, Serialize};

/// Longest name of a hive or a yard, in characters: it must fit a column.
pub const LONGEST_NAME: usize = 32;

macro_rules! name {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(String);

        impl $name {
            /// Takes the text as it is; [`fault`](Self::fault) says whether it can stand in a book.
            pub fn new(text: impl Into<String>) -> Self {
                Self(text.into())
            }

            /// The text.
            pub fn as_str(&self) -> &str {
                &self.0
            }

            /// What is wrong with it as a name, or `None`.
            pub fn fault(&self) -> Option<&'static str> {
                name_fault(&self.0)
            }
        }

        impl std::borrow::Borrow<str> for $name {
            fn borrow(&self) -> &str {
                &self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(&self.0)
            }
        }
    };
}

name! {
    /// A hive's number or name on its stand, unique in the book (`C3`).
    HiveId
}
name! {
    /// A yard's name, unique in the book (`Creek`).
    YardId
}
name! {
    /// A visit's name, the stem of its file: day, time, yard and a random tail.
    VisitId
}
name! {
    /// A rule's name (`nest.bottom-box`), so that an answer remembers what it answered.
    RuleId
}

fn name_fault(text: &str) -> Option<&'static str> {
    if text.trim().is_empty() {
        Some("is empty")
    } else if text.chars().count() > LONGEST_NAME {
        Some("is longer than 32 characters")
    } else if text.trim() != text {
        Some("begins or ends with a space")
    } else if text.chars().any(|c| c.is_control() || is_unseen(c)) {
        Some("holds a control or invisible character")
    } else {
        None
    }
}

/// Characters that change how others show, or do not show at all: they could disguise one name as another.
pub fn is_unseen(c: char) -> bool {
    matches!(c,
        '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{2069}' | '\u{FEFF}' | '\u{00AD}')
}

/// The text with control and invisible characters taken out, for the screen and for a file name.
pub fn visible(text: &str) -> String {
    // A line break is a space between words.
    let spaced = text.chars().map(|c| if matches!(c, '\n' | '\t') { ' ' } else { c });
    spaced.filter(|c| !c.is_control() && !is_unseen(*c)).collect()
}

/// A number made from all of a text, by which it is told from others (FNV-1a).
pub fn mark(text: &str) -> String {
    let hash = text.bytes().fold(0x811c_9dc5_u32, |hash, b| (hash ^ u32::from(b)).wrapping_mul(0x0100_0193));
    format!("{hash:08x}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_short_visible_text() {
        for good in ["C3", "Stand 7", "Büel 2", "養蜂 1"] {
            assert_eq!(HiveId::new(good).fault(), None, "{good}");
        }
        for bad in ["", "  ", " C3", "C3\n", "C\u{202E}3", &"x".repeat(33)] {
            assert!(HiveId::new(bad).fault().is_some(), "{bad:?}");
        }
        assert_eq!(HiveId::new("x".repeat(32)).fault(), None);
    }
}
