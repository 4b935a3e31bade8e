//! Quantities: mass, volume, temperature, wind speed and length, held in SI and written with a unit.
//!
//! A quantity is read with a unit suffix (`62 lb`, `12kg`, `58F`) and written in the unit it was entered in,
//! so a hand-written file stays as the keeper wrote it. Within a program run only SI is used.
//! Conversions: 1 lb = 0.45359237 kg and 1 US gal = 3.785411784 L exactly (NIST Handbook 44, appendix C).

use std::fmt;
use std::str::FromStr;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// Which units the book shows. Entry fields take either, with a suffix.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Units {
    /// Pounds, US gallons, Fahrenheit, miles an hour.
    #[default]
    Us,
    /// Kilograms, liters, Celsius, kilometers an hour.
    Metric,
}

/// Why a quantity could not be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum QuantityError {
    /// Not a number followed by a unit.
    #[error("`{0}` is not a quantity: write it as {1}")]
    Unreadable(String, &'static str),
    /// A number outside what can be believed.
    #[error("{0} is outside the believable range, {1}")]
    Absurd(String, &'static str),
}

/// Splits `62 lb` into the number and the unit; takes a decimal point or a decimal comma.
fn split(text: &str) -> Option<(f64, &str)> {
    let text = text.trim();
    let end = text
        .char_indices()
        .find(|(_, c)| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+')))
        .map_or(text.len(), |(at, _)| at);
    let (number, unit) = text.split_at_checked(end)?;
    let value: f64 = number.replace(',', ".").parse().ok()?;
    value.is_finite().then_some((value, unit.trim()))
}

/// A number with at most `places` decimals and no trailing zeros.
pub fn trimmed(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    if text.contains('.') {
        let cut = text.trim_end_matches('0').trim_end_matches('.');
        if cut == "-0" { "0".to_owned() } else { cut.to_owned() }
    } else {
        text
    }
}

macro_rules! quantity {
    (
        $(#[$doc:meta])* $name:ident, si: $si:ident, example: $example:literal, range: $low:literal ..= $high:literal, $range_words:literal,
        default: $us_name:literal / $metric_name:literal,
        units: [ $( $unit:literal $( | $alias:literal )* => $make:ident, $get:ident, $scale:expr, $offset:expr );+ $(;)? ]
    ) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name { $si: f64 }

        impl $name {
            $(
                #[doc = concat!("Makes it from a number of ", $unit, ".")]
                pub fn $make(value: f64) -> Self { Self { $si: value * $scale + $offset } }

                #[doc = concat!("Its number of ", $unit, ".")]
                pub fn $get(self) -> f64 { (self.$si - $offset) / $scale }
            )+

            /// Reads a number with a unit; a bare number takes the unit `units` stands for.
            ///
            /// # Errors
            /// When it is no number, the unit is unknown, or the value cannot be believed.
            pub fn parse_in(text: &str, units: Units) -> Result<Self, QuantityError> {
                let unreadable = || QuantityError::Unreadable(text.trim().to_owned(), $example);
                let (value, unit) = split(text).ok_or_else(unreadable)?;
                let unit = if unit.is_empty() {
                    match units { Units::Us => $us_name, Units::Metric => $metric_name }
                } else { unit };
                $(
                    if unit.eq_ignore_ascii_case($unit) $( || unit.eq_ignore_ascii_case($alias) )* {
                        return Self::$make(value).believable(text);
                    }
                )+
                Err(unreadable())
            }

            fn believable(self, text: &str) -> Result<Self, QuantityError> {
                if ($low..=$high).contains(&self.$si) {
                    Ok(self)
                } else {
                    Err(QuantityError::Absurd(text.trim().to_owned(), $range_words))
                }
            }

            /// The text for a file: the unit in which the number is short, without any loss.
            fn exact(self) -> String {
                // Of the two units of the systems the one in which it is whole: 4 C, not 39.2 F.
                let whole = [$( (trimmed(self.$get(), 2), $unit, Self::$make as fn(f64) -> Self) ),+];
                for (number, unit, make) in whole.into_iter().take(2) {
                    if !number.contains('.') && number.parse::<f64>().is_ok_and(|v| make(v) == self) {
                        return format!("{number} {unit}");
                    }
                }
                $(
                    let short = trimmed(self.$get(), 2);
                    if short.parse::<f64>().is_ok_and(|v| Self::$make(v) == self) {
                        return format!("{short} {}", $unit);
                    }
                )+
                let mut full = String::new();
                $( if $scale == 1.0 && $offset == 0.0 { full = format!("{} {}", self.$si, $unit); } )+
                full
            }
        }

        impl FromStr for $name {
            type Err = QuantityError;
            fn from_str(text: &str) -> Result<Self, QuantityError> {
                // A file must name its unit: a bare number could be either.
                match split(text) {
                    Some((_, "")) | None => {
                        Err(QuantityError::Unreadable(text.trim().to_owned(), $example))
                    }
                    Some(_) => Self::parse_in(text, Units::Us),
                }
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result { f.write_str(&self.exact()) }
        }

        impl Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
                s.serialize_str(&self.exact())
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
                let text = String::deserialize(d)?;
                text.parse().map_err(serde::de::Error::custom)
            }
        }
    };
}

quantity! {
    /// A mass: of a hive, of honey, of sugar. 0 to 500 kg.
    Mass, si: kg, example: "`62 lb` or `28 kg`", range: 0.0..=500.0, "0 to 500 kg (1,100 lb)",
    default: "lb" / "kg",
    units: [
        "lb" | "lbs" | "pound" | "pounds" => from_pounds, pounds, 0.453_592_37, 0.0;
        "kg" | "kilogram" | "kilograms" => from_kilograms, kilograms, 1.0, 0.0;
        "oz" => from_ounces, ounces, 0.028_349_523_125, 0.0;
        "g" => from_grams, grams, 0.001, 0.0;
    ]
}

quantity! {
    /// A volume of syrup. 0 to 2,000 liters.
    Volume, si: l, example: "`1.5 gal` or `5 L`", range: 0.0..=2000.0, "0 to 2,000 L (528 gal)",
    default: "gal" / "L",
    units: [
        "gal" | "gallon" | "gallons" => from_gallons, gallons, 3.785_411_784, 0.0;
        "L" | "litre" | "litres" | "liter" | "liters" => from_litres, litres, 1.0, 0.0;
        "qt" | "quart" | "quarts" => from_quarts, quarts, 0.946_352_946, 0.0;
        "pt" | "pint" | "pints" => from_pints, pints, 0.473_176_473, 0.0;
        "mL" => from_millilitres, millilitres, 0.001, 0.0;
    ]
}

quantity! {
    /// An air temperature. -60 to 60 degrees Celsius.
    Temperature, si: c, example: "`58 F` or `14 C`", range: -60.0..=60.0, "-76 to 140 F (-60 to 60 C)",
    default: "F" / "C",
    units: [
        "F" => from_fahrenheit, fahrenheit, (1.0 / 1.8), (-32.0 / 1.8);
        "C" => from_celsius, celsius, 1.0, 0.0;
    ]
}

quantity! {
    /// A wind speed. 0 to 200 km/h.
    Wind, si: kmh, example: "`12 mph` or `20 km/h`", range: 0.0..=200.0, "0 to 124 mph (200 km/h)",
    default: "mph" / "km/h",
    units: [
        "mph" => from_miles_per_hour, miles_per_hour, 1.609_344, 0.0;
        "km/h" | "kmh" | "kph" => from_kilometres_per_hour, kilometres_per_hour, 1.0, 0.0;
    ]
}

quantity! {
    /// A height above the sea. -430 to 6,000 m, the lowest and the highest ground bees are kept on.
    Elevation, si: m, example: "`650 ft` or `200 m`", range: -430.0..=6000.0, "-1,400 to 19,700 ft",
    default: "ft" / "m",
    units: [
        "ft" | "feet" => from_feet, feet, 0.3048, 0.0;
        "m" => from_metres, metres, 1.0, 0.0;
    ]
}

/// Shows quantities in the book's units, rounded as a keeper would say them.
impl Units {
    /// `May 3`, or `3 May` in a metric book. The other ways to write a day are in `wording`, which begins with this one.
    pub fn day(self, on: NaiveDate) -> String {
        match self {
            Self::Us => on.format("%b %-d").to_string(),
            Self::Metric => on.format("%-d %b").to_string(),
        }
    }

    /// `62 lb` or `28 kg`.
    pub fn mass(self, mass: Mass) -> String {
        match self {
            Self::Us => format!("{} lb", trimmed(mass.pounds(), usize::from(mass.pounds() < 10.0))),
            Self::Metric => {
                format!("{} kg", trimmed(mass.kilograms(), usize::from(mass.kilograms() < 10.0)))
            }
        }
    }

    /// `1.5 gal` or `5.7 L`.
    pub fn volume(self, volume: Volume) -> String {
        match self {
            Self::Us => format!("{} gal", trimmed(volume.gallons(), 2)),
            Self::Metric => format!("{} L", trimmed(volume.litres(), 1)),
        }
    }

    /// `58 F` or `14 C`.
    pub fn temperature(self, temperature: Temperature) -> String {
        match self {
            Self::Us => format!("{} F", trimmed(temperature.fahrenheit(), 0)),
            Self::Metric => format!("{} C", trimmed(temperature.celsius(), 0)),
        }
    }

    /// `650 ft` or `198 m`.
    pub fn elevation(self, elevation: Elevation) -> String {
        match self {
            Self::Us => format!("{} ft", trimmed(elevation.feet(), 0)),
            Self::Metric => format!("{} m", trimmed(elevation.metres(), 0)),
        }
    }

    /// `12 mph` or `19 km/h`.
    pub fn wind(self, wind: Wind) -> String {
        match self {
            Self::Us => format!("{} mph", trimmed(wind.miles_per_hour(), 0)),
            Self::Metric => format!("{} km/h", trimmed(wind.kilometres_per_hour(), 0)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quantity_reads_either_unit_with_point_or_comma() {
        let cases =
            [("62 lb", 28.122_726_94), ("28.5kg", 28.5), ("28,5 kg", 28.5), ("62 POUNDS", 28.122_726_94)];
        for (text, kg) in cases {
            assert!((text.parse::<Mass>().unwrap().kilograms() - kg).abs() < 1e-9, "{text}");
        }
    }

    #[test]
    fn a_bare_number_takes_the_unit_of_the_book_but_not_in_a_file() {
        assert_eq!(Mass::parse_in("10", Units::Us).unwrap(), Mass::from_pounds(10.0));
        assert_eq!(Mass::parse_in("10", Units::Metric).unwrap(), Mass::from_kilograms(10.0));
        assert!("10".parse::<Mass>().is_err());
    }

    #[test]
    fn nonsense_and_absurd_numbers_are_refused_in_words() {
        for text in ["", "lb", "12 stone", "-4 lb", "NaN lb", "1e9 kg", "90000 lb", "--3 kg"] {
            assert!(text.parse::<Mass>().is_err(), "{text}");
        }
        assert!("90000 lb".parse::<Mass>().unwrap_err().to_string().contains("0 to 500 kg"));
    }

    #[test]
    fn a_quantity_is_written_as_it_was_entered_and_without_loss() {
        for text in ["62 lb", "12.5 kg", "0.3 lb", "1.75 gal", "5 L"] {
            if let Ok(mass) = text.parse::<Mass>() {
                assert_eq!(mass.to_string(), text);
            } else {
                assert_eq!(text.parse::<Volume>().unwrap().to_string(), text);
            }
        }
        let odd = Mass::from_kilograms(1.0 / 3.0);
        assert_eq!(odd.to_string().parse::<Mass>().unwrap(), odd);
        let warm = Temperature::from_fahrenheit(58.0);
        assert_eq!(warm.to_string(), "58 F");
        for text in ["4 C", "16 C", "39.5 F", "1.75 gal", "12 L"] {
            let written = if text.ends_with(['C', 'F']) {
                text.parse::<Temperature>().unwrap().to_string()
            } else {
                text.parse::<Volume>().unwrap().to_string()
            };
            assert_eq!(written, text);
        }
        assert_eq!("58 F".parse::<Temperature>().unwrap(), warm);
    }

    /// Fixed points of the Celsius and Fahrenheit scales: -40 is the same, 32 F is 0 C, 212 F is 100 C.
    #[test]
    fn temperatures_convert_at_the_fixed_points() {
        for (f, c) in [(32.0, 0.0), (-40.0, -40.0), (50.0, 10.0), (212.0, 100.0)] {
            assert!((Temperature::from_fahrenheit(f).celsius() - c).abs() < 1e-9);
        }
    }
}
