//! What a finding's value can be, so that one screen and one check serve all findings.

use serde::{Deserialize, Serialize};

use super::units::{Mass, Temperature, Units, trimmed};

/// How a finding is answered, with its range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Kind {
    /// Yes or no.
    YesNo,
    /// One of a few words.
    Choice(&'static [&'static str]),
    /// A whole number, 0 to the given highest.
    Count(u16),
    /// Frames, in quarters, 0 to the given highest.
    Frames(f64),
    /// A share, 0 to 100 %.
    Percent,
    /// A mass with its unit.
    Mass,
    /// A temperature with its unit.
    Temperature,
}

/// A finding's value, whatever its type.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Value {
    /// Yes or no.
    YesNo(bool),
    /// The place of the word in [`Kind::Choice`].
    Choice(usize),
    /// A whole number.
    Count(u16),
    /// Frames.
    Frames(f64),
    /// Percent, 0 to 100.
    Percent(f64),
    /// A mass.
    Mass(Mass),
    /// A temperature.
    Temperature(Temperature),
}

impl Value {
    /// In words and the book's units.
    pub fn words(self, kind: Kind, units: Units) -> String {
        match (kind, self) {
            (_, Self::YesNo(true)) => "yes".to_owned(),
            (_, Self::YesNo(false)) => "no".to_owned(),
            (Kind::Choice(words), Self::Choice(at)) => words.get(at).copied().unwrap_or("").to_owned(),
            (_, Self::Choice(_)) => String::new(),
            (_, Self::Count(n)) => n.to_string(),
            (_, Self::Frames(n)) => trimmed(n, 2),
            (_, Self::Percent(n)) => format!("{} %", trimmed(n, 1)),
            (_, Self::Mass(mass)) => units.mass(mass),
            (_, Self::Temperature(t)) => units.temperature(t),
        }
    }
}

/// A type that can stand as a finding.
pub trait Answerable: Copy {
    /// How it is answered.
    const KIND: Kind;
    /// The value, for a screen or a check.
    fn value(self) -> Value;
    /// From a value of the same kind; `None` for another kind or a word that is not there.
    fn from_value(value: Value) -> Option<Self>;
}

impl Kind {
    /// Whether `value` is of this kind and within its range.
    pub fn admits(self, value: Value) -> bool {
        match (self, value) {
            (Self::YesNo, Value::YesNo(_))
            | (Self::Mass, Value::Mass(_))
            | (Self::Temperature, Value::Temperature(_)) => true,
            (Self::Choice(words), Value::Choice(at)) => at < words.len(),
            (Self::Count(most), Value::Count(n)) => n <= most,
            (Self::Frames(most), Value::Frames(n)) => (0.0..=most).contains(&n),
            (Self::Percent, Value::Percent(n)) => (0.0..=100.0).contains(&n),
            _ => false,
        }
    }

    /// The range in words, for an error or a prompt line.
    pub fn range(self) -> String {
        match self {
            Self::YesNo => "yes or no".to_owned(),
            Self::Choice(words) => words.join(", "),
            Self::Count(most) => format!("0 to {most}"),
            Self::Frames(most) => format!("0 to {most} frames"),
            Self::Percent => "0 to 100 %".to_owned(),
            Self::Mass => "0 to 500 kg (1,100 lb)".to_owned(),
            Self::Temperature => "-76 to 140 F (-60 to 60 C)".to_owned(),
        }
    }
}

impl Answerable for bool {
    const KIND: Kind = Kind::YesNo;
    fn value(self) -> Value {
        Value::YesNo(self)
    }
    fn from_value(value: Value) -> Option<Self> {
        if let Value::YesNo(yes) = value { Some(yes) } else { None }
    }
}

impl Answerable for Mass {
    const KIND: Kind = Kind::Mass;
    fn value(self) -> Value {
        Value::Mass(self)
    }
    fn from_value(value: Value) -> Option<Self> {
        if let Value::Mass(mass) = value { Some(mass) } else { None }
    }
}

impl Answerable for Temperature {
    const KIND: Kind = Kind::Temperature;
    fn value(self) -> Value {
        Value::Temperature(self)
    }
    fn from_value(value: Value) -> Option<Self> {
        if let Value::Temperature(t) = value { Some(t) } else { None }
    }
}

macro_rules! number {
    ($(#[$doc:meta])* $name:ident($inner:ty), $kind:expr, $variant:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub $inner);

        impl Answerable for $name {
            const KIND: Kind = $kind;
            fn value(self) -> Value { Value::$variant(self.0) }
            fn from_value(value: Value) -> Option<Self> {
                if let Value::$variant(n) = value { Some(Self(n)) } else { None }
            }
        }
    };
}

number! {
    /// Frames of bees, brood or honey, both sides counted as one; quarters are as fine as the eye goes. 0 to 60.
    Frames(f64), Kind::Frames(60.0), Frames
}
number! {
    /// A share in percent, 0 to 100.
    Percent(f64), Kind::Percent, Percent
}
number! {
    /// Mites counted in one wash, 0 to 2,000. More in one jar than that has not been seen.
    Mites(u16), Kind::Count(2_000), Count
}
number! {
    /// Bees in one wash, 0 to 1,000: half a US cup is about 300 (extension wash guides).
    Bees(u16), Kind::Count(1_000), Count
}
number! {
    /// Mites fallen on a sticky board, a day: the whole count by the days it lay. 0 to 2,000.
    MitesADay(u16), Kind::Count(2_000), Count
}
number! {
    /// Queen cells, 0 to 200.
    Cells(u16), Kind::Count(200), Count
}

/// An enum whose variants are words on the screen: derives the words, the order and the [`Answerable`].
macro_rules! choice {
    ($(#[$doc:meta])* $name:ident { $( $(#[$vdoc:meta])* $variant:ident => $word:literal ),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(
            Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize,
        )]
        pub enum $name { $( $(#[$vdoc])* $variant ),+ }

        impl $name {
            /// Every value, in the order it is offered.
            pub const ALL: &'static [Self] = &[ $( Self::$variant ),+ ];

            /// The word on the screen.
            pub fn word(self) -> &'static str {
                match self { $( Self::$variant => $word ),+ }
            }
        }

        impl $crate::model::Answerable for $name {
            const KIND: $crate::model::Kind = $crate::model::Kind::Choice(&[ $( $word ),+ ]);
            fn value(self) -> $crate::model::Value {
                $crate::model::Value::Choice(Self::ALL.iter().position(|v| *v == self).unwrap_or(0))
            }
            fn from_value(value: $crate::model::Value) -> Option<Self> {
                if let $crate::model::Value::Choice(at) = value { Self::ALL.get(at).copied() } else { None }
            }
        }
    };
}
pub(crate) use choice;

#[cfg(test)]
mod tests {
    use super::*;

    #[allow(unreachable_pub, reason = "the macro is for public findings")]
    mod sample {
        choice! {
        /// For the test.
        Sample { /// a
            First => "first", /// b
            Second => "second" }
        }
    }
    use sample::Sample;

    #[test]
    fn a_choice_goes_to_its_place_and_back() {
        assert_eq!(Sample::Second.word(), "second");
        assert_eq!(Sample::from_value(Sample::Second.value()), Some(Sample::Second));
        assert_eq!(Sample::from_value(Value::Choice(2)), None);
        assert_eq!(Sample::from_value(Value::YesNo(true)), None);
    }

    #[test]
    fn ranges_admit_their_ends_and_nothing_beyond() {
        for (kind, inside, outside) in [
            (Kind::Count(5), Value::Count(5), Value::Count(6)),
            (Kind::Frames(60.0), Value::Frames(60.0), Value::Frames(60.25)),
            (Kind::Frames(60.0), Value::Frames(0.0), Value::Frames(-0.25)),
            (Kind::Percent, Value::Percent(100.0), Value::Percent(f64::NAN)),
            (Kind::Choice(&["a"]), Value::Choice(0), Value::Choice(1)),
            (Kind::YesNo, Value::YesNo(false), Value::Count(0)),
        ] {
            assert!(kind.admits(inside), "{inside:?}");
            assert!(!kind.admits(outside), "{outside:?}");
        }
    }
}
