//! Wording: how days, times, counts and lists read, everywhere the same.
//!
//! In: values and the book's units, for a US book puts the month first and counts the hours by twelve. Out: a few
//! words. Nothing else in the program formats a date for a reader; `tests/layers.rs` holds that.

mod day_text;
mod place_text;
pub mod safety;

pub use day_text::{day_examples, read_day};
pub use place_text::{Where, day_of_year, place, read_day_of_year, read_where};

use std::borrow::Borrow;

use chrono::{NaiveDate, NaiveTime};

use crate::model::{Mass, Measure, Units};

/// `May 3`, or `3 May` in a metric book.
pub fn day(units: Units, on: impl Borrow<NaiveDate>) -> String {
    units.day(*on.borrow())
}

/// `May 3, 2026`, or `3 May 2026`.
pub fn day_and_year(units: Units, on: impl Borrow<NaiveDate>) -> String {
    let on = on.borrow();
    match units {
        Units::Us => on.format("%b %-d, %Y").to_string(),
        Units::Metric => on.format("%-d %b %Y").to_string(),
    }
}

/// `Sun, May 3`, or `Sun 3 May`.
pub fn weekday_and_day(units: Units, on: impl Borrow<NaiveDate>) -> String {
    let on = on.borrow();
    match units {
        Units::Us => on.format("%a, %b %-d").to_string(),
        Units::Metric => on.format("%a %-d %b").to_string(),
    }
}

/// `Sun, May 3, 2026`, or `Sun 3 May 2026`.
pub fn weekday_day_and_year(units: Units, on: impl Borrow<NaiveDate>) -> String {
    let on = on.borrow();
    match units {
        Units::Us => on.format("%a, %b %-d, %Y").to_string(),
        Units::Metric => on.format("%a %-d %b %Y").to_string(),
    }
}

/// `Sunday, May 3, 2026`, or `Sunday 3 May 2026`.
pub fn whole_day(units: Units, on: impl Borrow<NaiveDate>) -> String {
    let on = on.borrow();
    match units {
        Units::Us => on.format("%A, %B %-d, %Y").to_string(),
        Units::Metric => on.format("%A %-d %B %Y").to_string(),
    }
}

/// `Sun`.
pub fn weekday(on: NaiveDate) -> String {
    on.format("%a").to_string()
}

/// A chance, 0 to 1, as so many of ten: `7`, or `fewer than 1` and `more than 9` at the ends.
pub fn of_ten(chance: f64) -> String {
    match (10.0 * chance).round() {
        none if none < 1.0 => "fewer than 1".to_owned(),
        all if all >= 10.0 => "more than 9".to_owned(),
        some => format!("{some:.0}"),
    }
}

/// `May`.
pub fn month(on: NaiveDate) -> String {
    on.format("%b").to_string()
}

/// `May 2026`, with the month written out.
pub fn month_and_year(on: NaiveDate) -> String {
    on.format("%B %Y").to_string()
}

/// `9:15 AM`, or `09:15`.
pub fn clock(units: Units, at: NaiveTime) -> String {
    match units {
        Units::Us => at.format("%-I:%M %p").to_string(),
        Units::Metric => at.format("%H:%M").to_string(),
    }
}

/// `1 hive`, `2 hives`. The thing is written in the singular; its plural takes an `s`, or `es` after a hiss.
pub fn count(number: usize, thing: &str) -> String {
    format!("{number} {}", of_number(number, thing))
}

/// `1 day`, `42 days`.
pub fn days(number: i64) -> String {
    format!("{number} {}", of_number(usize::from(number != 1) + 1, "day"))
}

/// `hive` of one, `hives` of any other number.
pub fn of_number(number: usize, thing: &str) -> String {
    let hisses = ["s", "x", "ch", "sh"].iter().any(|end| thing.ends_with(end));
    match (number, hisses) {
        (1, _) => thing.to_owned(),
        (_, true) => format!("{thing}es"),
        (_, false) => format!("{thing}s"),
    }
}

/// `today`, `tomorrow`, `in 5 days`, `yesterday`, `5 days ago`.
pub fn days_from(today: NaiveDate, on: NaiveDate) -> String {
    let days = (on - today).num_days();
    let number = usize::try_from(days.unsigned_abs()).unwrap_or(usize::MAX);
    match days {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        -1 => "yesterday".to_owned(),
        2.. => format!("in {}", count(number, "day")),
        _ => format!("{} ago", count(number, "day")),
    }
}

/// `A1`, `A1 and A2`, `A1, A2 and A3`.
pub fn list<T: ToString>(items: &[T]) -> String {
    let words: Vec<String> = items.iter().map(ToString::to_string).collect();
    match words.as_slice() {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// The first few of a list, and how many more there are: `1, 2, 3 and 41 more`. One more is named rather than counted.
pub fn list_of_few<T: ToString>(items: &[T], few: usize) -> String {
    match items.split_at_checked(few) {
        Some((named, left)) if left.len() > 1 => {
            let mut words: Vec<String> = named.iter().map(ToString::to_string).collect();
            words.push(format!("{} more", left.len()));
            list(&words)
        }
        _ => list(items),
    }
}

/// The text with its first letter large.
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().chain(chars).collect())
}

/// A figure a scenario is judged by, in words.
pub fn measure(what: Measure, figure: f64, units: Units) -> String {
    let mass = |pounds: f64| units.mass(Mass::from_pounds(pounds.round()));
    match what {
        Measure::Alive => if figure > 0.0 { "alive" } else { "not alive" }.to_owned(),
        Measure::QueenLays => if figure > 0.0 { "its queen lays" } else { "no queen lays" }.to_owned(),
        Measure::Swarms => if figure > 0.0 { "it swarmed" } else { "no swarm" }.to_owned(),
        Measure::Mites => format!("mites {figure:.1} %"),
        Measure::Bees => format!("{figure:.1} frames of bees"),
        Measure::Brood => format!("{figure:.1} frames of brood"),
        Measure::Food => format!("{} of food", mass(figure)),
        Measure::Honey => format!("{} of honey taken", mass(figure)),
        Measure::Sugar => format!("{} of sugar given", mass(figure)),
    }
}

/// With a large first letter and a full stop; nothing of nothing.
pub fn sentence(words: &str) -> String {
    match words.trim_end_matches('.') {
        "" => String::new(),
        words => format!("{}.", capital(words)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn on(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn days_are_written_in_the_order_of_the_books_units() {
        let may = on("2026-05-03");
        assert_eq!((day(Units::Us, may), day(Units::Metric, may)), ("May 3".to_owned(), "3 May".to_owned()));
        assert_eq!(day_and_year(Units::Us, may), "May 3, 2026");
        assert_eq!(weekday_and_day(Units::Us, may), "Sun, May 3");
        assert_eq!(whole_day(Units::Metric, may), "Sunday 3 May 2026");
        let noon = NaiveTime::from_hms_opt(13, 5, 0).unwrap();
        assert_eq!(
            (clock(Units::Us, noon), clock(Units::Metric, noon)),
            ("1:05 PM".to_owned(), "13:05".to_owned())
        );
    }

    #[test]
    fn one_is_not_many_and_a_list_ends_with_and() {
        assert_eq!(count(1, "hive"), "1 hive");
        assert_eq!(count(0, "hive"), "0 hives");
        assert_eq!(count(2, "box"), "2 boxes");
        assert_eq!(list(&["A1"]), "A1");
        assert_eq!(list(&["A1", "A2", "A3"]), "A1, A2 and A3");
        assert_eq!(list::<String>(&[]), "");
        assert_eq!(sentence("try again"), "Try again.");
        assert_eq!(sentence(""), "");
    }

    #[test]
    fn a_day_is_told_by_how_far_off_it_is() {
        let today = on("2026-05-03");
        for (day, words) in [
            ("2026-05-03", "today"),
            ("2026-05-04", "tomorrow"),
            ("2026-05-13", "in 10 days"),
            ("2026-05-02", "yesterday"),
            ("2026-05-01", "2 days ago"),
        ] {
            assert_eq!(days_from(today, on(day)), words);
        }
    }
}
