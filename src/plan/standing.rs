//! Where a hive stands against the dates it must meet before winter.

use chrono::NaiveDate;

use crate::colony::stores;
use crate::model::{Entrance, HiveState, Practice, QueenStatus, Treatment, days_after};
use crate::season::{Calendar, DateId};

/// How a hive stands to one of its dates.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DateStatus {
    /// It is as the date asks.
    Met,
    /// Begun, and to be counted when it is over: a treatment in the hive or just out of it.
    InHand,
    /// Not yet, and there is time.
    Open,
    /// Not, and the date has passed.
    Late,
}

/// One date a hive must meet.
#[derive(Debug, Clone, PartialEq)]
pub struct HiveDate {
    /// Which.
    pub date: DateId,
    /// In a few words: what must be so.
    pub what: &'static str,
    /// By when.
    pub by: NaiveDate,
    /// How it stands.
    pub status: DateStatus,
}

/// The dates a hive is held to, in the order of the year.
pub const DEADLINES: &[(DateId, &str)] = &[
    (DateId::LateWinterHeft, "lifted or weighed"),
    (DateId::MitesInCheck, "mites in check"),
    (DateId::HoneyBoxesOff, "honey boxes off"),
    (DateId::EntrancesNarrowed, "entrance narrowed"),
    (DateId::FeedingDone, "fed to weight"),
    (DateId::MouseGuards, "mouse guard on"),
    (DateId::UpperEntrances, "upper entrance open"),
];

/// Days before a date from which it is counted down: six weeks, so that a keeper who comes every third week hears of it at
/// least three ahead.
pub const AHEAD: i64 = 42;

/// Days before a weighing or a heft from which it counts for its date.
const EARLY: i64 = 15;
/// Days before the date for mites from which a count speaks for it.
const COUNT: i64 = 31;

/// The dates of this year that are less than six weeks off or past and not met, and those met since they came in sight.
///
/// In winter the last autumn is over and done with: there is nothing until spring comes in sight.
pub fn standing(
    hive: &HiveState,
    calendar: &Calendar,
    practice: &Practice,
    today: NaiveDate,
) -> Vec<HiveDate> {
    // By guessed dates nobody is held to one.
    if !hive.is_alive() || calendar.shift.is_guess() {
        return Vec::new();
    }
    DEADLINES
        .iter()
        .filter(|(date, _)| *date != DateId::UpperEntrances || calendar.has_long_winter())
        .filter_map(|(date, what)| {
            let window = calendar.window(*date);
            let by = window.closes;
            // The spring date is over when frames may be lifted, the autumn ones in the cluster.
            let over = if *date == DateId::LateWinterHeft {
                calendar.opens(DateId::FramesMayBeLifted)
            } else {
                calendar.opens(DateId::Cluster).max(days_after(by, 1))
            };
            if today < days_after(by, -AHEAD) || today >= over {
                return None;
            }
            // Nobody is held to a day before the book was begun.
            if by < hive.known_from {
                return None;
            }
            let is_met = is_met(*date, hive, calendar, practice, today);
            let stand = match (is_met, today > by) {
                (true, _) => DateStatus::Met,
                (false, _) if *date == DateId::MitesInCheck && is_in_hand(hive, by) => DateStatus::InHand,
                (false, _) if waits_for_formic(*date, hive, today) => DateStatus::InHand,
                (false, false) => DateStatus::Open,
                (false, true) => DateStatus::Late,
            };
            Some(HiveDate { date: *date, what, by, status: stand })
        })
        .collect()
}

/// A date as a whole yard stands to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Deadline {
    /// Which.
    pub date: DateId,
    /// In a few words: what must be so.
    pub what: &'static str,
    /// By when.
    pub by: NaiveDate,
    /// Hives that meet it.
    pub met: usize,
    /// Hives in which it is begun.
    pub in_hand: usize,
    /// Hives that are held to it.
    pub of: usize,
}

impl Deadline {
    /// `2 of 7 met, 1 in hand`, and `LATE` where the date has passed.
    pub fn words(&self, today: NaiveDate) -> String {
        let in_hand = if self.in_hand == 0 { String::new() } else { format!(", {} in hand", self.in_hand) };
        let late = if today > self.by && self.met + self.in_hand < self.of { ", LATE" } else { "" };
        format!("{} of {} met{in_hand}{late}", self.met, self.of)
    }
}

/// How the hives of a yard stand to the dates in sight, in the order of the year.
pub fn deadlines(
    stands: &[&HiveState],
    calendar: &Calendar,
    practice: &Practice,
    today: NaiveDate,
) -> Vec<Deadline> {
    let all: Vec<HiveDate> = stands.iter().flat_map(|h| standing(h, calendar, practice, today)).collect();
    DEADLINES
        .iter()
        .filter_map(|(date, what)| {
            let of: Vec<&HiveDate> = all.iter().filter(|s| s.date == *date).collect();
            let count = |stand| of.iter().filter(|s| s.status == stand).count();
            let by = of.first()?.by;
            Some(Deadline {
                date: *date,
                what,
                by,
                met: count(DateStatus::Met),
                in_hand: count(DateStatus::InHand),
                of: of.len(),
            })
        })
        .collect()
}

/// Days after the end of a course in which its recount is still to come.
const RECOUNT: i64 = 21;

/// Whether mites are being treated for the date: begun within six weeks before it, or just over, and not counted since.
///
/// A colony that raises a queen is neither washed nor treated until she lays: that waits, too.
fn is_in_hand(hive: &HiveState, by: NaiveDate) -> bool {
    if matches!(hive.queen.status, QueenStatus::Cell | QueenStatus::RipeCell | QueenStatus::Virgin) {
        return true;
    }
    hive.courses.last().is_some_and(|c| {
        let begun = (days_after(by, -AHEAD)..=by).contains(&c.began);
        let just_over = c.ended.is_some_and(|on| (days_after(by, -RECOUNT)..=by).contains(&on));
        let since = if begun { c.began } else { c.ended.unwrap_or(c.began) };
        (begun || just_over) && hive.last_wash().is_none_or(|w| w.on <= since)
    })
}

/// Whether a guard or a reducer waits for formic acid, which needs the full entrance as long as it is in.
fn waits_for_formic(date: DateId, hive: &HiveState, today: NaiveDate) -> bool {
    let is_entrance = matches!(date, DateId::MouseGuards | DateId::EntrancesNarrowed);
    let in_force = hive.course_on(today).is_some_and(|c| c.treatment == Treatment::FormicStrips);
    is_entrance && in_force
}

/// Whether a hive is as a date asks.
pub fn is_met(
    date: DateId,
    hive: &HiveState,
    calendar: &Calendar,
    practice: &Practice,
    today: NaiveDate,
) -> bool {
    let window = calendar.window(date);
    match date {
        DateId::LateWinterHeft => {
            let from = days_after(window.opens, -EARLY);
            hive.seen.heft.is_some_and(|h| h.on >= from) || hive.seen.weight.is_some_and(|w| w.on >= from)
        }
        DateId::MitesInCheck => {
            let from = days_after(window.closes, -COUNT);
            hive.last_wash().is_some_and(|w| w.on >= from && w.percent() <= practice.mite_limit())
        }
        DateId::HoneyBoxesOff => hive.super_boxes() == 0,
        DateId::EntrancesNarrowed => hive.entrance != Entrance::Open,
        DateId::FeedingDone => {
            let since = (today - calendar.closes(DateId::MainFlow)).num_days();
            let target = stores::winter_target_at(hive, practice, calendar.days_of_cluster());
            stores::judged(hive, today, since, practice)
                .is_some_and(|s| stores::short_of(&s, hive, target).is_none())
        }
        DateId::MouseGuards => hive.mouse_guard,
        DateId::UpperEntrances => hive.upper_entrance,
        DateId::FirstPollen
        | DateId::FramesMayBeLifted
        | DateId::SwarmSeason
        | DateId::MainFlow
        | DateId::LastSplit
        | DateId::FallFlow
        | DateId::Cluster => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::{day, frames, hive, seen, with_super};
    use crate::model::{Heft, MiteCount};
    use crate::season::Shift;

    fn at(hive: &HiveState, on: &str) -> Vec<(DateId, DateStatus)> {
        let calendar = Calendar::shifted(Shift::none(), 2026);
        standing(hive, &calendar, &Practice::default(), day(on))
            .into_iter()
            .map(|s| (s.date, s.status))
            .collect()
    }

    #[test]
    fn each_date_comes_in_sight_six_weeks_ahead() {
        let hive = with_super();
        let calendar = Calendar::shifted(Shift::none(), 2026);
        for (date, _) in DEADLINES {
            let by = calendar.closes(*date);
            let has = |days: i64| at(&hive, &days_after(by, days).to_string()).iter().any(|(d, _)| d == date);
            assert!(has(-AHEAD) && !has(-AHEAD - 1), "{date:?}");
        }
    }

    #[test]
    fn it_is_open_then_late_then_met_and_in_winter_there_is_none() {
        let hive = with_super();
        let of = |on: &str| at(&hive, on).into_iter().find(|(d, _)| *d == DateId::HoneyBoxesOff);
        assert_eq!(of("2026-08-31"), Some((DateId::HoneyBoxesOff, DateStatus::Open)));
        assert_eq!(of("2026-09-01"), Some((DateId::HoneyBoxesOff, DateStatus::Late)));
        assert_eq!(of("2026-11-10"), None);
        assert_eq!(at(&hive, "2026-12-20"), []);
    }

    #[test]
    fn a_yard_is_counted_hive_by_hive() {
        let (bare, supered) = (hive(1), with_super());
        let calendar = Calendar::shifted(Shift::none(), 2026);
        let of = |on: &str| {
            deadlines(&[&bare, &supered], &calendar, &Practice::default(), day(on))
                .into_iter()
                .find(|d| d.date == DateId::HoneyBoxesOff)
                .unwrap()
        };
        assert_eq!(of("2026-08-08").words(day("2026-08-08")), "1 of 2 met");
        assert_eq!(of("2026-09-01").words(day("2026-09-01")), "1 of 2 met, LATE");
    }

    #[test]
    fn each_date_is_met_by_what_it_asks() {
        let mut done = hive(1);
        done.seen.heft = seen("2026-03-05", Heft::Fair);
        done.washes.push(MiteCount { on: day("2026-07-20"), mites: 6, bees: 300 });
        done.entrance = Entrance::Reduced;
        done.seen.honey = frames("2026-09-10", 15.0);
        done.mouse_guard = true;
        done.upper_entrance = true;
        let calendar = Calendar::shifted(Shift::none(), 2026);
        let met =
            |hive: &HiveState, date| is_met(date, hive, &calendar, &Practice::default(), day("2026-09-20"));
        for (date, what) in DEADLINES {
            assert!(met(&done, *date), "{what}");
            assert!(!met(&with_super(), *date), "{what}");
        }
        let mut high = done.clone();
        high.washes.push(MiteCount { on: day("2026-08-10"), mites: 7, bees: 300 });
        assert!(!met(&high, DateId::MitesInCheck));
        let mut treated = high.clone();
        let began = day("2026-08-12");
        treated.courses.push(crate::model::Course {
            treatment: crate::model::Treatment::FormicStrips,
            began,
            until: day("2026-08-26"),
            ended: None,
        });
        let of =
            |hive: &HiveState| at(hive, "2026-08-20").into_iter().find(|(d, _)| *d == DateId::MitesInCheck);
        assert_eq!(of(&high), Some((DateId::MitesInCheck, DateStatus::Late)));
        assert_eq!(of(&treated), Some((DateId::MitesInCheck, DateStatus::InHand)));
        let mut early = done;
        early.washes = vec![MiteCount { on: day("2026-07-14"), mites: 0, bees: 300 }];
        assert!(!met(&early, DateId::MitesInCheck), "a count of a month before says nothing of the date");
    }
}
