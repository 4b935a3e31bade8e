//! Reading a day as people write it: whole, without its year, or counted from today.

use chrono::{Datelike, NaiveDate};

use crate::model::{Units, days_after};

/// The furthest a day is counted ahead, in days.
const FURTHEST: i64 = 3_660;

/// The day a text means: `2026-05-03`, `5/3/2026` in the order of the place (day first in a metric book), `3.5.2026` with
/// the day first, `May 3` or `3 May`, any of these without its year, or `+10` and `-10`, counted in days. Without a year it is the one
/// nearest to today.
pub fn read_day(text: &str, today: NaiveDate, units: Units) -> Option<NaiveDate> {
    let text = text.trim();
    let is_counted = text.starts_with(['+', '-']);
    let day = if is_counted {
        text.parse::<i64>().ok().filter(|n| n.abs() <= FURTHEST).map(|n| days_after(today, n))
    } else {
        written(text, today, units)
    };
    day.filter(|d| (1990..=2200).contains(&d.year()))
}

/// Examples for the one who has to write a day.
pub fn day_examples(units: Units) -> &'static str {
    match units {
        Units::Us => "5/3/2026, May 3 or +10",
        Units::Metric => "3.5.2026, 3 May or +10",
    }
}

fn written(text: &str, today: NaiveDate, units: Units) -> Option<NaiveDate> {
    let parts = |mark: char| -> Option<Vec<u32>> {
        text.trim_end_matches('.').split(mark).map(|part| part.trim().parse().ok()).collect()
    };
    let order = |first: u32, second: u32, is_day_first: bool| {
        if is_day_first { (second, first) } else { (first, second) }
    };
    for (mark, is_day_first) in [('-', false), ('/', units == Units::Metric), ('.', true)] {
        if !text.contains(mark) {
            continue;
        }
        return match parts(mark)?.as_slice() {
            [year, month, day] if *year > 31 => on(*year, *month, *day),
            [first, second, year] => {
                let (month, day) = order(*first, *second, is_day_first);
                on(if *year < 100 { 2000 + year } else { *year }, month, day)
            }
            [first, second] => {
                let (month, day) = order(*first, *second, is_day_first);
                nearest(month, day, today)
            }
            _ => None,
        };
    }
    named(text, today)
}

/// A day with its month in letters, three of them at least: `May 3, 2026`, `3 May`.
fn named(text: &str, today: NaiveDate) -> Option<NaiveDate> {
    const MONTHS: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    let spaced = text.to_lowercase().replace([',', '.'], " ");
    let (mut month, mut numbers) = (None, Vec::new());
    for word in spaced.split_whitespace() {
        if let Ok(number) = word.parse::<u32>() {
            numbers.push(number);
        } else {
            let at = MONTHS.iter().zip(1..).find(|(name, _)| word.len() >= 3 && name.starts_with(word));
            month = match (month, at) {
                (None, Some((_, at))) => Some(at),
                _ => return None,
            };
        }
    }
    match (month?, numbers.as_slice()) {
        (month, [day]) => nearest(month, *day, today),
        (month, [day, year]) => on(*year, month, *day),
        _ => None,
    }
}

fn on(year: u32, month: u32, day: u32) -> Option<NaiveDate> {
    NaiveDate::from_ymd_opt(i32::try_from(year).ok()?, month, day)
}

fn nearest(month: u32, day: u32, today: NaiveDate) -> Option<NaiveDate> {
    let years = [today.year(), today.year() - 1, today.year() + 1];
    let days = years.into_iter().filter_map(|year| NaiveDate::from_ymd_opt(year, month, day));
    days.min_by_key(|d| (*d - today).num_days().abs())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_is_read_in_the_order_of_the_place_whole_short_or_counted() {
        let today = "2026-01-03".parse().unwrap();
        let read = |text: &str, units| read_day(text, today, units).map(|d| d.to_string());
        for (text, us, metric) in [
            ("2026-05-03", "2026-05-03", "2026-05-03"),
            ("5/3/2026", "2026-05-03", "2026-03-05"),
            ("5/3/26", "2026-05-03", "2026-03-05"),
            ("5.3.2026", "2026-03-05", "2026-03-05"),
            ("5.3.", "2026-03-05", "2026-03-05"),
            ("05-20", "2026-05-20", "2026-05-20"),
            ("12/11", "2025-12-11", "2025-11-12"),
            ("+10", "2026-01-13", "2026-01-13"),
        ] {
            assert_eq!(read(text, Units::Us).as_deref(), Some(us), "{text}");
            assert_eq!(read(text, Units::Metric).as_deref(), Some(metric), "{text}");
        }
        for text in ["", "5", "2/30", "13/13/2026", "5/3/20266", "+9999", "+-3", "1/2/3/4", "today", "5//3"] {
            assert_eq!(read(text, Units::Us), None, "{text}");
        }
        // The last of February is of a leap year.
        assert_eq!(read("2/29", Units::Us), None);
        assert_eq!(read("2/29/2028", Units::Us).as_deref(), Some("2028-02-29"));
    }
}
