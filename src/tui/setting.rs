//! The settings there are, by name and by what else a keeper may call them.

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Setting {
    /// The theme by day.
    Day,
    /// The theme by night.
    Night,
    /// Which of the two is worn.
    Now,
    /// Taps and clicks.
    Mouse,
    /// The first day of a week.
    Week,
    /// What lines and bars are drawn with.
    Signs,
    /// The book's units.
    Units,
}

/// Every setting, as they stand on the screen.
pub(crate) const ALL: &[Setting] = &[
    Setting::Now,
    Setting::Day,
    Setting::Night,
    Setting::Mouse,
    Setting::Week,
    Setting::Signs,
    Setting::Units,
];

impl Setting {
    pub(crate) fn label(self) -> &'static str {
        match self {
            Self::Now => "Colors now",
            Self::Day => "Theme by day",
            Self::Night => "Theme by night",
            Self::Mouse => "Taps and clicks",
            Self::Week => "A week begins on",
            Self::Signs => "Lines and bars",
            Self::Units => "Units of the book",
        }
    }

    /// What it may be turned to, to be found by.
    pub(crate) fn also(self) -> &'static str {
        match self {
            Self::Now | Self::Day | Self::Night => "dark light night day",
            Self::Mouse => "mouse touch",
            Self::Week => "Monday Sunday",
            Self::Signs => "ASCII letters blocks boxes glyphs font",
            Self::Units => "metric US pounds kilograms Fahrenheit Celsius",
        }
    }
}
