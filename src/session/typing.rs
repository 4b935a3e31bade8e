//! Typing a value into a field: one or two keystrokes for the common answers.

use chrono::NaiveDate;

use crate::colony::stores::weighed_by_sides;
use crate::model::{Kind, Mass, Temperature, Units, Value, days_after};
use crate::wording;

/// What a typed character did.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Typed {
    /// It is the whole answer.
    Whole(Value),
    /// It was taken as part of the answer.
    Part,
    /// It means nothing in this field.
    Nothing,
}

/// Longest text of a number in a field.
const LONGEST: usize = 24;

/// The place of the row that a figure names, counted from 1 on the screen and from 0 here.
pub fn place_of(c: char) -> Option<usize> {
    c.to_digit(10).and_then(|d| usize::try_from(d).ok()).and_then(|d| d.checked_sub(1))
}

/// The most days before a visit that a bloom began: the dandelion is in flower for a month or more.
const IN_FLOWER: i64 = 90;

/// Since when something blooms, seen on a day: nothing where the field is empty.
///
/// # Errors
/// Where it is no day, or none on which a bloom seen on `on` began.
pub fn bloom_since(text: &str, on: NaiveDate, units: Units) -> Result<Option<NaiveDate>, String> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    let Some(since) = wording::read_day(text, on, units) else {
        let example = wording::day(units, days_after(on, -5));
        return Err(format!(
            "`{}` is not a day; write {example}, or -5 for days back, or leave it empty.",
            text.trim()
        ));
    };
    match (on - since).num_days() {
        ..0 => Err(format!("{} is after this visit; it blooms now.", wording::day(units, since))),
        0..=IN_FLOWER => Ok(Some(since)),
        _ => Err(format!("{} is more than {IN_FLOWER} days back.", wording::whole_day(units, since))),
    }
}

/// Types a character into a field of a kind, `text` being what stands there so far.
pub fn type_into(kind: Kind, text: &mut String, c: char) -> Typed {
    match kind {
        Kind::YesNo => match c.to_ascii_lowercase() {
            'y' => Typed::Whole(Value::YesNo(true)),
            'n' => Typed::Whole(Value::YesNo(false)),
            _ => Typed::Nothing,
        },
        Kind::Choice(words) => {
            if let Some(at) = place_of(c).filter(|at| *at < words.len()) {
                text.clear();
                return Typed::Whole(Value::Choice(at));
            }
            // A word may be typed as far as it takes to tell it from the others.
            let longer = format!("{text}{c}").to_lowercase();
            part(text, c, words.iter().any(|word| word.starts_with(&longer)))
        }
        Kind::Count(_) | Kind::Frames(_) | Kind::Percent => {
            let point = matches!(c, '.' | ',') && !matches!(kind, Kind::Count(_));
            part(text, c, c.is_ascii_digit() || point)
        }
        Kind::Mass => {
            let unit = !text.is_empty() && matches!(c, 'k' | 'g' | 'l' | 'b' | ' ');
            // Both sides of a hive may be typed as they are weighed: `62+58`.
            let plus = c == '+' && !text.is_empty() && !text.contains('+');
            part(text, c, c.is_ascii_digit() || matches!(c, '.' | ',') || unit || plus)
        }
        Kind::Temperature => {
            let unit = !text.is_empty() && matches!(c.to_ascii_lowercase(), 'f' | 'c' | ' ');
            let sign = c == '-' && text.is_empty();
            part(text, c, c.is_ascii_digit() || matches!(c, '.' | ',') || unit || sign)
        }
    }
}

/// What is left of a word whose first letter is the whole answer.
pub fn rest_of_word(kind: Kind, c: char) -> &'static str {
    match (kind, c.to_ascii_lowercase()) {
        (Kind::YesNo, 'y') => "es",
        (Kind::YesNo, 'n') => "o",
        _ => "",
    }
}

/// Which of some words is meant by the beginning of one.
pub fn word_of(words: &[impl AsRef<str>], text: &str) -> Option<usize> {
    let text = text.trim().to_lowercase();
    let begins =
        |(at, word): (usize, &dyn AsRef<str>)| word.as_ref().to_lowercase().starts_with(&text).then_some(at);
    let whole = words.iter().position(|word| word.as_ref().to_lowercase() == text);
    let mut fitting = words.iter().map(|w| w as &dyn AsRef<str>).enumerate().filter_map(begins);
    whole.or(match (fitting.next(), fitting.next()) {
        (Some(at), None) if !text.is_empty() => Some(at),
        _ => None,
    })
}

fn part(text: &mut String, c: char, fits: bool) -> Typed {
    if fits && text.len() < LONGEST {
        text.push(c);
        Typed::Part
    } else {
        Typed::Nothing
    }
}

/// The value of a typed text.
pub fn value_of(kind: Kind, text: &str, units: Units) -> Result<Value, String> {
    let number = || text.replace(',', ".").parse::<f64>().map_err(|_| format!("`{text}` is not a number"));
    let value = match kind {
        Kind::YesNo => return Err(format!("choose one of {}", kind.range())),
        Kind::Choice(words) => {
            let at = word_of(words, text);
            Value::Choice(at.ok_or_else(|| format!("`{text}` could be several: {}", kind.range()))?)
        }
        Kind::Count(_) => Value::Count(text.parse().map_err(|_| format!("{text} is not {}", kind.range()))?),
        Kind::Frames(_) => Value::Frames(number()?),
        Kind::Percent => Value::Percent(number()?),
        Kind::Mass => Value::Mass(mass(text, units)?),
        Kind::Temperature => {
            Value::Temperature(Temperature::parse_in(text, units).map_err(|err| err.to_string())?)
        }
    };
    if kind.admits(value) { Ok(value) } else { Err(format!("{text} is not {}", kind.range())) }
}

/// A mass, or two sides of a hive added.
fn mass(text: &str, units: Units) -> Result<Mass, String> {
    let one = |text: &str| Mass::parse_in(text, units).map_err(|err| err.to_string());
    let whole = match text.split_once('+') {
        Some((left, right)) => weighed_by_sides(one(left)?, one(right)?),
        None => one(text)?,
    };
    // The sum, too, must be believable.
    one(&whole.to_string())
}

/// The next or former word of a choice, for the arrow keys.
pub fn step(kind: Kind, value: Option<Value>, forward: bool) -> Option<Value> {
    match kind {
        Kind::Choice(words) => {
            let at = match value {
                Some(Value::Choice(at)) if forward => (at + 1) % words.len(),
                Some(Value::Choice(at)) => at.checked_sub(1).unwrap_or(words.len() - 1),
                _ if forward => 0,
                _ => words.len() - 1,
            };
            Some(Value::Choice(at))
        }
        Kind::YesNo => Some(Value::YesNo(value != Some(Value::YesNo(true)))),
        Kind::Count(_) | Kind::Frames(_) | Kind::Percent | Kind::Mass | Kind::Temperature => None,
    }
}

/// What may be typed, for the line under the fields.
pub fn keys_of(kind: Kind, units: Units) -> String {
    match kind {
        Kind::YesNo => "y or n".to_owned(),
        Kind::Choice(words) => words
            .iter()
            .enumerate()
            .map(|(at, word)| format!("{} {word}", at + 1))
            .collect::<Vec<_>>()
            .join("  "),
        Kind::Count(most) => format!("0 to {most}"),
        Kind::Frames(_) => "as 7 or 7.5".to_owned(),
        Kind::Percent => "0 to 100".to_owned(),
        Kind::Mass => match units {
            Units::Us => "pounds, or with kg; two sides as 62+58".to_owned(),
            Units::Metric => "kilograms, or with lb; two sides as 28+26".to_owned(),
        },
        Kind::Temperature => match units {
            Units::Us => "degrees F, or with C".to_owned(),
            Units::Metric => "degrees C, or with F".to_owned(),
        },
    }
}

#[cfg(test)]
mod tests {
    use crate::model::Units;
    use crate::model::testing::day;

    #[test]
    fn since_when_a_plant_blooms_is_a_day_gone_by_of_this_season() {
        let on = day("2026-05-03");
        let since = |text: &str| super::bloom_since(text, on, Units::Us);
        assert_eq!(since(" "), Ok(None));
        assert_eq!(since("-5"), Ok(Some(day("2026-04-28"))));
        assert_eq!(since("4/20"), Ok(Some(day("2026-04-20"))));
        assert_eq!(since("May 3"), Ok(Some(on)));
        for wrong in ["soon", "May 4", "+1", "1/20/2026", "-91"] {
            assert!(since(wrong).is_err(), "{wrong}");
        }
    }

    use super::*;
    use crate::model::Finding;

    #[test]
    fn common_answers_take_one_keystroke() {
        let mut text = String::new();
        assert_eq!(type_into(Kind::YesNo, &mut text, 'Y'), Typed::Whole(Value::YesNo(true)));
        assert_eq!(type_into(Finding::BottomBox.kind(), &mut text, '5'), Typed::Whole(Value::Choice(4)));
        assert_eq!(type_into(Finding::BottomBox.kind(), &mut text, '6'), Typed::Nothing);
        assert_eq!(type_into(Finding::BottomBox.kind(), &mut text, '0'), Typed::Nothing);
        assert_eq!(type_into(Finding::Bees.kind(), &mut text, 'x'), Typed::Nothing);
        assert!(text.is_empty());
    }

    #[test]
    fn a_number_takes_point_and_comma_and_is_refused_out_of_range() {
        let frames = Finding::Bees.kind();
        assert_eq!(value_of(frames, "7,5", Units::Us), Ok(Value::Frames(7.5)));
        assert_eq!(value_of(frames, "7.5", Units::Us), Ok(Value::Frames(7.5)));
        assert!(value_of(frames, "400", Units::Us).unwrap_err().contains("0 to 60 frames"));
        assert!(value_of(Finding::Mites.kind(), "9000", Units::Us).unwrap_err().contains("0 to 2000"));
        assert!(value_of(Finding::Mites.kind(), "99999999", Units::Us).is_err());
        assert!(value_of(frames, "7.5.5", Units::Us).is_err());
        let weight = Finding::Weight.kind();
        assert_eq!(value_of(weight, "60", Units::Us), Ok(Value::Mass(Mass::from_pounds(60.0))));
        assert_eq!(value_of(weight, "60kg", Units::Us), Ok(Value::Mass(Mass::from_kilograms(60.0))));
        let both = value_of(weight, "62+58", Units::Us);
        assert!(matches!(both, Ok(Value::Mass(m)) if (m.pounds() - 120.0).abs() < 1e-9), "{both:?}");
        assert!(value_of(weight, "900+900", Units::Us).is_err());
        assert!(value_of(weight, "62+", Units::Us).is_err());
    }

    #[test]
    fn a_choice_takes_its_word_as_far_as_it_tells_it_from_the_others() {
        let heft = Finding::Heft.kind();
        let mut text = String::new();
        for c in "Light".chars() {
            assert_eq!(type_into(heft, &mut text, c), Typed::Part);
        }
        assert_eq!(value_of(heft, &text, Units::Us), Ok(Value::Choice(0)));
        assert_eq!(value_of(heft, "h", Units::Us), Ok(Value::Choice(2)));
        assert_eq!(type_into(heft, &mut text, 'x'), Typed::Nothing);
        let disease = Finding::Disease.kind();
        assert!(value_of(disease, "s", Units::Us).unwrap_err().contains("several"), "sunken or sacbrood");
        assert_eq!(value_of(disease, "su", Units::Us), Ok(Value::Choice(3)));
        assert_eq!((rest_of_word(Kind::YesNo, 'Y'), rest_of_word(heft, 'y')), ("es", ""));
    }

    #[test]
    fn unit_letters_count_only_after_a_figure() {
        let mut text = String::new();
        assert_eq!(type_into(Kind::Mass, &mut text, 'g'), Typed::Nothing);
        type_into(Kind::Mass, &mut text, '6');
        assert_eq!(type_into(Kind::Mass, &mut text, 'k'), Typed::Part);
    }

    #[test]
    fn arrows_go_round_the_choices() {
        let kind = Kind::Choice(&["a", "b"]);
        assert_eq!(step(kind, None, true), Some(Value::Choice(0)));
        assert_eq!(step(kind, Some(Value::Choice(1)), true), Some(Value::Choice(0)));
        assert_eq!(step(kind, Some(Value::Choice(0)), false), Some(Value::Choice(1)));
        assert_eq!(step(Kind::Percent, None, true), None);
    }
}
