//! Where a yard is, written and read as people and maps write it.

use chrono::{Datelike, NaiveDate};

use super::read_day;
use crate::model::{DayOfYear, Elevation, FreezeDates, Place, Units, trimmed};

/// The furthest from the equator that the dates reach, in degrees.
const FURTHEST: f64 = 66.0;

/// A place in words: `44.47 N, 72.69 W, 650 ft`.
pub fn place(place: Place, units: Units) -> String {
    let side = |degrees: f64, plus, minus| {
        format!("{} {}", trimmed(degrees.abs(), 4), if degrees < 0.0 { minus } else { plus })
    };
    format!(
        "{}, {}, {}",
        side(place.latitude, "N", "S"),
        side(place.longitude, "E", "W"),
        units.elevation(place.elevation)
    )
}

/// A day of the year in words: `May 9`.
pub fn day_of_year(day: DayOfYear, units: Units) -> String {
    // Any leap year holds every day.
    day.in_year(2024).map_or_else(|| day.to_string(), |on| units.day(on))
}

/// A day of the year as people write it: `May 9`, `9 May`, `5/9` in the order of the place, `05-09`.
pub fn read_day_of_year(text: &str, units: Units) -> Option<DayOfYear> {
    let any: NaiveDate = NaiveDate::from_ymd_opt(2024, 7, 1)?;
    if text.trim().starts_with(['+', '-']) {
        return None;
    }
    read_day(text, any, units).and_then(|on| DayOfYear::new(on.month(), on.day()))
}

/// What was written of where a yard is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Where {
    /// Degrees and height.
    Place(Place),
    /// The average freeze dates.
    Freezes(FreezeDates),
    /// Nothing.
    Unsaid,
}

/// Reads a place as a map gives it (`44.47, -72.69`), as the program writes it (`44.47 N, 72.69 W, 650 ft`), in degrees and
/// minutes (`44°28'N 72°41'W`), or two freeze dates (`May 9, Oct 4`).
///
/// # Errors
/// In words: what cannot be, and how it is written.
pub fn read_where(text: &str, units: Units) -> Result<Where, String> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(Where::Unsaid);
    }
    if let Some(freezes) = freezes(text, units) {
        return Ok(Where::Freezes(freezes));
    }
    degrees(text, units).map(Where::Place)
}

fn freezes(text: &str, units: Units) -> Option<FreezeDates> {
    let spaced = text.replace([',', ';', '\u{2013}'], " ");
    let words: Vec<&str> =
        spaced.split_whitespace().filter(|word| !matches!(*word, "to" | "and" | "-")).collect();
    // Two plain numbers are degrees.
    if words.iter().all(|word| word.parse::<f64>().is_ok()) {
        return None;
    }
    let (spring, autumn) = words.split_at_checked(words.len() / 2).filter(|(a, b)| a.len() == b.len())?;
    let read = |words: &[&str]| read_day_of_year(&words.join(" "), units);
    Some(FreezeDates { last_spring: read(spring)?, first_autumn: read(autumn)? })
}

/// A part of a place as it is written.
#[derive(Debug, Clone, PartialEq)]
enum Part {
    Number(f64),
    /// Degrees, minutes or seconds follow a number: 1, 60 or 3600 of them to the degree.
    Mark(f64),
    /// North or south, and whether it is south.
    North(bool),
    /// East or west, and whether it is west.
    East(bool),
    /// The rest: a unit of height.
    Word(String),
}

/// An angle or a height while it is put together.
#[derive(Debug, Clone, Default)]
struct Angle {
    degrees: f64,
    /// Whether minutes or seconds may follow.
    is_marked: bool,
    north: Option<bool>,
    east: Option<bool>,
}

fn degrees(text: &str, units: Units) -> Result<Place, String> {
    let (angles, height) = angles(&parts(text));
    let [first, second] = angles.as_slice() else { return Err(refusal()) };
    let (north, east) =
        if first.east.is_some() || second.north.is_some() { (second, first) } else { (first, second) };
    let signed = |angle: &Angle, is_minus: Option<bool>| {
        if is_minus == Some(true) { -angle.degrees.abs() } else { angle.degrees }
    };
    let (latitude, longitude) = (signed(north, north.north), signed(east, east.east));
    if latitude.abs() > FURTHEST && longitude.abs() <= FURTHEST {
        return Err(format!(
            "{} degrees north is too far: is the longitude written first? Latitude comes first.",
            trimmed(latitude, 4)
        ));
    }
    if latitude.abs() > FURTHEST || longitude.abs() > 180.0 {
        return Err(refusal());
    }
    let elevation = match height.as_str() {
        "" => Elevation::from_metres(0.0),
        height => Elevation::parse_in(height, units).map_err(|err| err.to_string())?,
    };
    Ok(Place { latitude, longitude, elevation })
}

fn refusal() -> String {
    "Write it as a map gives it, such as 44.47, -72.69, with the height if you know it (650 ft); or the average last \
     and first freeze, such as May 9, Oct 4; or nothing."
        .to_owned()
}

/// The text in parts. A comma between two figures is a decimal comma where no point stands in the text.
fn parts(text: &str) -> Vec<Part> {
    let has_point = text.contains('.');
    let chars: Vec<char> = text.chars().collect();
    let mut parts = Vec::new();
    let mut at = 0;
    while let Some(c) = chars.get(at).copied() {
        let next_is_digit = chars.get(at + 1).is_some_and(char::is_ascii_digit);
        if c.is_ascii_digit() || (matches!(c, '-' | '\u{2212}' | '+') && next_is_digit) {
            let mut number = String::from(if c == '\u{2212}' { '-' } else { c });
            while let Some(next) = chars.get(at + 1).copied() {
                let before_digit = chars.get(at + 2).is_some_and(char::is_ascii_digit);
                let is_point = before_digit && (next == '.' || (next == ',' && !has_point));
                if !next.is_ascii_digit() && !is_point {
                    break;
                }
                number.push(if next == ',' { '.' } else { next });
                at += 1;
            }
            parts.extend(number.parse().map(Part::Number));
        } else if c.is_alphabetic() {
            let mut word = String::from(c);
            while let Some(next) = chars.get(at + 1).copied().filter(|next| next.is_alphabetic()) {
                word.push(next);
                at += 1;
            }
            parts.push(word_of(&word));
        } else {
            parts.extend(match c {
                '\u{b0}' | '\u{ba}' => Some(Part::Mark(1.0)),
                '\'' | '\u{2032}' | '\u{2019}' => Some(Part::Mark(60.0)),
                '"' | '\u{2033}' | '\u{201d}' => Some(Part::Mark(3600.0)),
                _ => None,
            });
        }
        at += 1;
    }
    parts
}

fn word_of(word: &str) -> Part {
    match word.to_lowercase().as_str() {
        "n" | "north" => Part::North(false),
        "s" | "south" => Part::North(true),
        "e" | "east" => Part::East(false),
        "w" | "west" => Part::East(true),
        _ => Part::Word(word.to_owned()),
    }
}

/// The angles written, and the height with its unit.
fn angles(parts: &[Part]) -> (Vec<Angle>, String) {
    let mut angles: Vec<Angle> = Vec::new();
    let mut height = String::new();
    // A letter may stand before its figures: N44.47.
    let mut ahead = Angle::default();
    for (at, part) in parts.iter().enumerate() {
        let per_degree = parts.get(at + 1).and_then(|next| match next {
            Part::Mark(per) => Some(*per),
            Part::Number(_) | Part::North(_) | Part::East(_) | Part::Word(_) => None,
        });
        match part {
            Part::Number(number) => {
                let is_full = angles.len() == 2;
                match (angles.last_mut().filter(|angle| angle.is_marked), per_degree) {
                    (Some(angle), Some(per)) if per > 1.0 => {
                        angle.degrees += number / per * if angle.degrees < 0.0 { -1.0 } else { 1.0 };
                    }
                    _ if is_full => height = number.to_string(),
                    (_, per) => {
                        let letter = std::mem::take(&mut ahead);
                        angles.push(Angle { degrees: *number, is_marked: per.is_some(), ..letter });
                    }
                }
            }
            Part::Mark(_) => {}
            Part::North(is_south) => {
                match angles.last_mut().filter(|a| a.north.is_none() && a.east.is_none()) {
                    Some(angle) => angle.north = Some(*is_south),
                    None => ahead.north = Some(*is_south),
                }
            }
            Part::East(is_west) => {
                match angles.last_mut().filter(|a| a.north.is_none() && a.east.is_none()) {
                    Some(angle) => angle.east = Some(*is_west),
                    None => ahead.east = Some(*is_west),
                }
            }
            Part::Word(word) => {
                height.push(' ');
                height.push_str(word);
            }
        }
    }
    (angles, height.trim().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (f64, f64, f64) {
        match read_where(text, Units::Us) {
            Ok(Where::Place(p)) => {
                let round = |v: f64| (v * 10_000.0).round() / 10_000.0;
                (round(p.latitude), round(p.longitude), p.elevation.metres().round())
            }
            other => panic!("{text}: {other:?}"),
        }
    }

    #[test]
    fn a_place_is_read_as_a_map_gives_it_and_as_the_program_prints_it() {
        for text in [
            "44.47, -72.69",
            "44.47,-72.69",
            "44.47 -72.69",
            "44,47 -72,69",
            "44.47 N, 72.69 W",
            "44.47N 72.69W",
            "N44.47 W72.69",
            "72.69 W, 44.47 N",
            "44.47\u{b0}, \u{2212}72.69\u{b0}",
            "(44.47, -72.69)",
        ] {
            assert_eq!(read(text), (44.47, -72.69, 0.0), "{text}");
        }
        assert_eq!(read("44\u{b0}28'12\"N 72\u{b0}41'24\"W"), (44.47, -72.69, 0.0));
        assert_eq!(read("43.2 -86.1 650 ft"), (43.2, -86.1, 198.0));
        assert_eq!(read("43 N, 86 W, 200 m"), (43.0, -86.0, 200.0));
        assert_eq!(read("46,5 7,5 500 m"), (46.5, 7.5, 500.0));
        assert_eq!(read("-43.5, 172.6"), (-43.5, 172.6, 0.0));
        let there = Place { latitude: -43.5312, longitude: 172.6, elevation: Elevation::from_metres(30.0) };
        assert_eq!(read(&place(there, Units::Metric)), (-43.5312, 172.6, 30.0));
        for bad in ["north", "44.47", "44.47, -72.69, 10 parsecs", "200, 300", "May 9"] {
            assert!(read_where(bad, Units::Us).is_err(), "{bad}");
        }
        assert!(read_where("-72.69, 44.47", Units::Us).unwrap_err().contains("longitude written first"));
    }

    #[test]
    fn freeze_dates_are_read_as_people_write_them() {
        let dates = |text: &str, units| match read_where(text, units) {
            Ok(Where::Freezes(f)) => format!("{} {}", f.last_spring, f.first_autumn),
            other => panic!("{text}: {other:?}"),
        };
        for text in [
            "May 9, Oct 4",
            "may 9 oct 4",
            "May 9 to October 4",
            "9 May and 4 Oct",
            "05-09 10-04",
            "5/9 10/4",
            "5/9 - 10/4",
        ] {
            assert_eq!(dates(text, Units::Us), "05-09 10-04", "{text}");
        }
        assert_eq!(dates("9.5. 4.10.", Units::Metric), "05-09 10-04");
        assert_eq!(dates("9/5, 4/10", Units::Metric), "05-09 10-04");
        assert_eq!(read_where(" ", Units::Us), Ok(Where::Unsaid));
        assert_eq!(day_of_year(DayOfYear::new(5, 9).unwrap(), Units::Metric), "9 May");
    }
}
