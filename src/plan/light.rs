//! Whether the day's work fits into the light and the warm hours, and what to leave out if it does not.

use chrono::{FixedOffset, NaiveDate, NaiveTime, TimeDelta, Timelike};

use super::day::Stop;
use crate::advice::Urgency;
use crate::model::{HiveId, Practice, Yard};
use crate::season::{Daylight, daylight};

/// The hours in which hives are worked on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hours {
    /// From.
    pub from: NaiveTime,
    /// To.
    pub to: NaiveTime,
    /// Whether the light, and not the keeper's warm hours, ends the day.
    pub is_dusk: bool,
}

/// How a queue fits into the hours.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// When it begins.
    pub start: NaiveTime,
    /// When it would be done.
    pub finish: NaiveTime,
    /// Whether that is within the hours.
    pub fits: bool,
    /// What to leave for another day, the least pressing first, so that the rest fits.
    pub leave_out: Vec<HiveId>,
}

fn hour(hours: f64) -> NaiveTime {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a practice of 5 to 21 o'clock"
    )]
    let minutes = (hours * 60.0).round().clamp(0.0, 1_439.0) as u32;
    NaiveTime::from_hms_opt(minutes / 60, minutes % 60, 0).unwrap_or_default()
}

/// The keeper's warm hours, cut to the light where the yard has a place.
pub fn hours(practice: &Practice, yard: &Yard, date: NaiveDate, laptop: FixedOffset) -> Hours {
    let (warm_from, warm_to) = (hour(practice.warm_from()), hour(practice.warm_to()));
    match yard.place.map(|place| daylight(&place, date, laptop)) {
        Some(Daylight::Rises(light)) => {
            let (light_from, light_to) = (light.from().time(), light.to().time());
            Hours { from: warm_from.max(light_from), to: warm_to.min(light_to), is_dusk: light_to < warm_to }
        }
        Some(Daylight::NeverRises) => Hours { from: warm_from, to: warm_from, is_dusk: true },
        Some(Daylight::NeverSets) | None => Hours { from: warm_from, to: warm_to, is_dusk: false },
    }
}

fn minutes_between(from: NaiveTime, to: NaiveTime) -> u32 {
    (to.num_seconds_from_midnight().saturating_sub(from.num_seconds_from_midnight())) / 60
}

/// Fits a queue into the hours, begun at their opening or now, whichever is later.
pub fn fit(queue: &[Stop], hours: Hours, now: Option<NaiveTime>) -> Fit {
    let start = now.map_or(hours.from, |now| now.max(hours.from));
    let room = minutes_between(start, hours.to);
    let mut total: u32 = queue.iter().map(|s| s.minutes).sum();
    let (finish, past_midnight) = start.overflowing_add_signed(TimeDelta::minutes(i64::from(total)));
    let finish =
        if past_midnight > 0 { NaiveTime::from_hms_opt(23, 59, 0).unwrap_or(finish) } else { finish };
    let fits = total <= room;
    // The least pressing and latest due first; what is left of the musts last of all.
    let mut by_need: Vec<&Stop> = queue.iter().collect();
    by_need.sort_by_key(|stop| {
        let latest = stop.advice.prompts.iter().map(|p| p.due.latest).min();
        (std::cmp::Reverse(stop.advice.urgency().unwrap_or(Urgency::May)), std::cmp::Reverse(latest))
    });
    let mut leave_out = Vec::new();
    for stop in by_need {
        if total <= room {
            break;
        }
        total = total.saturating_sub(stop.minutes);
        leave_out.push(stop.hive.clone());
    }
    Fit { start, finish, fits, leave_out }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::{Advice, Due, Prompt};
    use crate::model::testing::day;
    use crate::model::{Elevation, Place, YardId};

    fn stop(id: &str, minutes: u32, urgency: Urgency, latest: &str) -> Stop {
        let due = Due::new(day("2026-05-01"), day("2026-05-01"), day(latest));
        let prompts = vec![Prompt::new("mites.wash", urgency, due, "Wash", "why")];
        Stop {
            hive: HiveId::new(id),
            minutes,
            advice: Advice { prompts, held: Vec::new() },
            reason: String::new(),
        }
    }

    fn time(hours: u32, minutes: u32) -> NaiveTime {
        NaiveTime::from_hms_opt(hours, minutes, 0).unwrap()
    }

    fn from_eleven(to: NaiveTime) -> Hours {
        Hours { from: time(11, 0), to, is_dusk: false }
    }

    #[test]
    fn what_does_not_fit_is_left_out_the_least_pressing_and_latest_due_first() {
        let queue = [
            stop("must", 30, Urgency::Must, "2026-05-02"),
            stop("soon", 30, Urgency::Should, "2026-05-03"),
            stop("late", 30, Urgency::Should, "2026-05-20"),
        ];
        let whole = fit(&queue, from_eleven(time(12, 30)), None);
        assert!(whole.fits && whole.leave_out.is_empty());
        assert_eq!((whole.start, whole.finish), (time(11, 0), time(12, 30)));
        for (to, left) in [
            (time(12, 29), vec!["late"]),
            (time(11, 59), vec!["late", "soon"]),
            (time(11, 10), vec!["late", "soon", "must"]),
        ] {
            let part = fit(&queue, from_eleven(to), None);
            assert!(!part.fits);
            assert_eq!(part.leave_out, left.iter().map(|h| HiveId::new(*h)).collect::<Vec<_>>(), "{to}");
        }
        let late = fit(&queue, from_eleven(time(17, 0)), Some(time(16, 0)));
        assert_eq!((late.start, late.fits), (time(16, 0), false));
    }

    #[test]
    fn dusk_cuts_the_warm_hours_in_late_fall() {
        let yard = Yard {
            name: YardId::new("Y"),
            place: Some(Place { latitude: 47.0, longitude: -90.0, elevation: Elevation::default() }),
            formerly: Vec::new(),
            freezes: None,
            flows: Vec::new(),
            note: String::new(),
            hives: Vec::new(),
        };
        let zone = FixedOffset::west_opt(6 * 3600).unwrap();
        let summer = hours(&Practice::default(), &yard, day("2026-06-21"), zone);
        assert_eq!((summer.from, summer.to, summer.is_dusk), (time(11, 0), time(17, 0), false));
        let fall = hours(&Practice::default(), &yard, day("2026-11-20"), zone);
        assert!(fall.is_dusk && fall.to < time(16, 0), "{fall:?}");
    }
}
