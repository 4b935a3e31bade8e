//! A yard's year as text and as JSON.

use std::fmt::Write as _;

use chrono::{FixedOffset, NaiveDate};
use schemars::JsonSchema;
use serde::Serialize;

use super::json;
use crate::model::{Sense, Units, Yard, visible};
use crate::season::{Calendar, Daylight, SeasonDate, Shift, daylight, zone};
use crate::wording;

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct SeasonOut<'a> {
    place: PlaceOut,
    year: i32,
    shift_days: ShiftOut,
    asks: Option<&'a str>,
    bloom: Option<BloomOut>,
    sun: Option<SunOut>,
    dates: Vec<DateOut>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct PlaceOut {
    name: String,
    latitude: Option<f64>,
    longitude: Option<f64>,
    elevation: Option<String>,
    last_freeze: Option<String>,
    first_freeze: Option<String>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct ShiftOut {
    spring: i64,
    autumn: i64,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct BloomOut {
    bloom: &'static str,
    on: NaiveDate,
    days_late: i64,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct SunOut {
    date: NaiveDate,
    sunrise: Option<String>,
    sunset: Option<String>,
    zone: String,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct DateOut {
    id: &'static str,
    name: &'static str,
    opens: NaiveDate,
    closes: NaiveDate,
    sense: Sense,
    from: String,
}

/// A yard's year as JSON: `{"place":{..}, "year", "shift_days":{"spring","autumn"}, "asks", "bloom", "sun",
/// "dates":[{"id","name","opens","closes","sense","from"}]}`. Spring is days later, autumn days earlier than the reference.
///
/// # Errors
/// None in practice; serde's own are passed on.
pub fn season_json(
    yard: &Yard,
    calendar: &Calendar,
    today: NaiveDate,
    laptop: FixedOffset,
) -> Result<String, serde_json::Error> {
    json::text(&out(yard, calendar, today, laptop))
}

fn out<'a>(yard: &Yard, calendar: &'a Calendar, today: NaiveDate, laptop: FixedOffset) -> SeasonOut<'a> {
    let dates = calendar.dates.iter().map(|d| DateOut {
        id: d.id.word(),
        name: d.id.reference().name,
        opens: d.window.opens,
        closes: d.window.closes,
        sense: d.id.reference().opens_sense,
        from: d.from(Units::Us),
    });
    let sun = yard.place.map(|place| {
        let (sunrise, sunset) = match daylight(&place, today, laptop) {
            Daylight::Rises(light) => (
                Some(wording::clock(Units::Metric, light.sunrise.time())),
                Some(wording::clock(Units::Metric, light.sunset.time())),
            ),
            Daylight::NeverSets | Daylight::NeverRises => (None, None),
        };
        SunOut { date: today, sunrise, sunset, zone: format!("UTC{}", zone(&place, laptop)) }
    });
    SeasonOut {
        place: PlaceOut {
            name: yard.name.as_str().to_owned(),
            latitude: yard.place.map(|p| p.latitude),
            longitude: yard.place.map(|p| p.longitude),
            elevation: yard.place.map(|p| p.elevation.to_string()),
            last_freeze: yard.freezes.map(|f| f.last_spring.to_string()),
            first_freeze: yard.freezes.map(|f| f.first_autumn.to_string()),
        },
        year: calendar.year,
        shift_days: ShiftOut { spring: calendar.shift.spring, autumn: calendar.shift.autumn },
        asks: calendar.shift.asks.as_deref(),
        bloom: calendar.bloom.map(|b| BloomOut { bloom: b.bloom.word(), on: b.on, days_late: b.days }),
        sun,
        dates: dates.collect(),
    }
}

/// How a date stands to a day: `in 12 days`, `open, 5 days left`, `over`.
pub fn countdown(date: &SeasonDate, today: NaiveDate) -> String {
    let days = |n: i64| wording::count(usize::try_from(n).unwrap_or(0), "day");
    let (opens, closes) = (date.window.opens, date.window.closes);
    if today < opens {
        format!("in {}", days((opens - today).num_days()))
    } else if today < closes {
        format!("open, {} left", days((closes - today).num_days()))
    } else if today == closes {
        "open, last day".to_owned()
    } else {
        "over".to_owned()
    }
}

/// The sun of a yard on a day, in words; none where the yard has no place.
pub fn sun_words(yard: &Yard, today: NaiveDate, laptop: FixedOffset, units: Units) -> Option<String> {
    let place = yard.place?;
    Some(match daylight(&place, today, laptop) {
        Daylight::Rises(light) => {
            let other = zone(&place, laptop) != laptop;
            let clock = if other { format!(" (UTC{} clock)", zone(&place, laptop)) } else { String::new() };
            format!(
                "sun {} to {}{clock}; hives are worked {} to {}",
                wording::clock(units, light.sunrise.time()),
                wording::clock(units, light.sunset.time()),
                wording::clock(units, light.from().time()),
                wording::clock(units, light.to().time())
            )
        }
        Daylight::NeverSets => "the sun does not set".to_owned(),
        Daylight::NeverRises => "the sun does not rise".to_owned(),
    })
}

/// Where a yard is, in words.
pub fn place_words(yard: &Yard, units: Units) -> String {
    let place = yard.place.map(|place| wording::place(place, units));
    let freezes = yard.freezes.map(|f| {
        let day = |day| wording::day_of_year(day, units);
        format!("last freeze about {}, first about {}", day(f.last_spring), day(f.first_autumn))
    });
    match (place, freezes) {
        (None, None) => "no place given".to_owned(),
        (place, freezes) => place.into_iter().chain(freezes).collect::<Vec<_>>().join("; "),
    }
}

/// A yard's year as text, to read or print.
pub fn season_text(
    yard: &Yard,
    calendar: &Calendar,
    units: Units,
    today: NaiveDate,
    laptop: FixedOffset,
) -> String {
    let mut out = String::new();
    let _ = writeln!(
        out,
        "Season of {} on {}: {}",
        visible(yard.name.as_str()),
        wording::day_and_year(units, today),
        calendar.phase(today).word()
    );
    let _ = writeln!(out, "  {}", place_words(yard, units));
    let shift = &calendar.shift;
    let _ = writeln!(out, "  {} (reference: 43 N, 86 W, 650 ft)", shift_words(shift));
    if let Some(bloom) = &calendar.bloom {
        let _ = writeln!(out, "  this year: {}", bloom.words(units));
    }
    if let Some(sun) = sun_words(yard, today, laptop, units) {
        let _ = writeln!(out, "  {sun}");
    }
    if let Some(asks) = &shift.asks {
        let _ = writeln!(out, "  NOTE {asks}");
    }
    let _ = writeln!(out);
    for date in &calendar.dates {
        let _ = writeln!(
            out,
            "  {:<36} {:>12} to {:>12}   {}",
            date.id.reference().name,
            wording::day_and_year(units, date.window.opens),
            wording::day_and_year(units, date.window.closes),
            countdown(date, today)
        );
        let _ = writeln!(out, "    {}", date.from(units));
    }
    out
}

/// A shift in words: `spring 18 days later, autumn 18 days earlier`.
fn shift_words(shift: &Shift) -> String {
    let apart = |days: i64| match days {
        0 => "as usual".to_owned(),
        _ => format!("{} {}", crate::wording::days(days.abs()), if days > 0 { "later" } else { "earlier" }),
    };
    format!("spring {}, autumn {}", apart(shift.spring), apart(-shift.autumn))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::day;
    use crate::season::DateId;

    #[test]
    fn a_date_is_counted_down_to_its_last_day() {
        let calendar = Calendar::shifted(Shift::none(), 2026);
        let date = calendar.dates.iter().find(|d| d.id == DateId::HoneyBoxesOff).unwrap();
        for (on, words) in [
            ("2026-08-13", "in 2 days"),
            ("2026-08-14", "in 1 day"),
            ("2026-08-15", "open, 16 days left"),
            ("2026-08-30", "open, 1 day left"),
            ("2026-08-31", "open, last day"),
            ("2026-09-01", "over"),
        ] {
            assert_eq!(countdown(date, day(on)), words, "{on}");
        }
    }
}
