//! The weeks ahead as an iCalendar file (RFC 5545), for any calendar program.
//!
//! All-day events with names that stay the same: exported again, a trip that has moved moves, and one that is no longer
//! needed is cancelled; nothing doubles.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use chrono::{DateTime, NaiveDate, NaiveTime, Utc};
use icalendar::{Calendar as Ical, Component, Event, EventLike, EventStatus, Property};

use crate::advice::is_open;
use crate::colony::treatment;
use crate::model::{Book, Folded, HiveState, Practice, Units, Yard, days_after, visible};
use crate::plan::{DEADLINES, Outlook, Pace, Trip, trips};
use crate::wording;

/// Trips of a yard that have a name of their own; what is beyond is told by the next export.
const SLOTS: usize = 16;

/// The calendar of the book's yards from a day on: trips of eight weeks, the deadlines of the year, treatments to take out.
///
/// # Errors
/// None in practice; the writer's own are passed on.
pub fn ics(
    book: &Book,
    yards: &[&Yard],
    folded: &Folded,
    from: NaiveDate,
    pace: Pace,
) -> Result<String, std::fmt::Error> {
    let mut calendar = Ical::empty();
    calendar.append_property(Property::new("VERSION", "2.0"));
    calendar.append_property(Property::new("PRODID", "-//yardwalk//yardwalk//EN"));
    calendar.append_property(Property::new("CALSCALE", "GREGORIAN"));
    calendar.append_property(Property::new("METHOD", "PUBLISH"));
    let stamp = Stamp::of(book, from);
    for yard in yards {
        let mut outlook = Outlook::of(book, folded, yard);
        let planned = trips(&mut outlook, from, pace);
        for slot in 0..SLOTS {
            calendar.push(trip_event(yard, slot, planned.get(slot), from, &stamp));
        }
        let dates = outlook.calendar(from).clone();
        // By guessed dates there is no deadline to put into a calendar.
        let deadlines = if dates.shift.is_guess() { &[] } else { DEADLINES };
        for (id, what) in deadlines {
            let by = dates.closes(*id);
            let uid = format!("date-{}-{}-{}", slug(yard.name.as_str()), dates.year, id.word());
            let name = visible(yard.name.as_str());
            let about =
                dates.dates.iter().find(|d| d.id == *id).map_or_else(String::new, |d| d.from(book.units));
            let event = event(&uid, &format!("{name}: {what} by today"), &about, by, false, &stamp);
            calendar.push(event);
        }
        for state in outlook.stands().to_vec() {
            for event in
                course_events(state, &stamp).into_iter().chain(promise_events(state, &book.practice, &stamp))
            {
                calendar.push(event);
            }
        }
    }
    let mut text = String::new();
    write!(text, "{calendar}")?;
    Ok(in_lines(&text))
}

/// Octets of a line at most (RFC 5545, 3.1).
const LINE: usize = 75;

/// Breaks what the writer left an octet too long: a line that goes on may go on again.
fn in_lines(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for line in text.split_inclusive("\r\n") {
        let (mut rest, end) = line.strip_suffix("\r\n").map_or((line, ""), |line| (line, "\r\n"));
        while rest.len() > LINE {
            let at = (1..=LINE).rev().find(|at| rest.is_char_boundary(*at)).unwrap_or(LINE);
            let (head, tail) = rest.split_at(at);
            out.push_str(head);
            out.push_str("\r\n ");
            rest = tail;
        }
        out.push_str(rest);
        out.push_str(end);
    }
    out
}

/// When the record last changed, and how often: what tells a calendar which of two exports is the newer.
struct Stamp {
    at: DateTime<Utc>,
    sequence: u32,
    units: Units,
}

impl Stamp {
    fn of(book: &Book, from: NaiveDate) -> Self {
        let standing = book.standing_visits(from);
        // The day the plan is made on changes it too.
        let at = from.and_time(NaiveTime::MIN).and_utc();
        let days = u32::try_from((from - NaiveDate::default()).num_days()).unwrap_or(0);
        let sequence = days.saturating_add(u32::try_from(standing.len()).unwrap_or(0));
        Self { at, sequence, units: book.units }
    }
}

fn trip_event(yard: &Yard, slot: usize, trip: Option<&Trip>, from: NaiveDate, stamp: &Stamp) -> Event {
    let uid = format!("trip-{}-{}", slug(yard.name.as_str()), slot + 1);
    let name = visible(yard.name.as_str());
    let Some(trip) = trip else {
        return event(&uid, &format!("{name}: no trip"), "", from, true, stamp);
    };
    let hives = wording::count(trip.hives().len(), "hive");
    let summary = format!("Bees at {name}: {hives}, {} min", trip.minutes);
    let mut lines =
        vec![format!("Can be moved to {} at the latest.", wording::day_and_year(stamp.units, trip.until))];
    for need in &trip.needs {
        let late = if need.is_late { " (LATE)" } else { "" };
        lines.push(format!("{}: {}{late}", visible(need.hive.as_str()), need.title));
    }
    event(&uid, &summary, &lines.join("\n"), trip.on, false, stamp)
}

/// Treatments to take out; those taken out in the last weeks are cancelled.
fn course_events(state: &HiveState, stamp: &Stamp) -> Vec<Event> {
    // One event a treatment and day: of the same one begun twice on a day, the last logged.
    let mut events = BTreeMap::new();
    let recent = state
        .courses
        .iter()
        .filter(|c| c.until > c.began && (stamp.at.date_naive() - c.until).num_days() < 60);
    for c in recent {
        let uid = format!("out-{}-{}-{}", slug(state.id.as_str()), c.began, slug(c.treatment.word()));
        let hive = visible(state.id.as_str());
        let about = format!("In since {}. Bag it as the label says; wash again after 12 days.", c.began);
        let summary = format!("{hive}: take out {}", c.treatment.word());
        let made = event(&uid, &summary, &about, c.until, c.ended.is_some(), stamp);
        events.insert(uid, made);
    }
    events.into_values().collect()
}

/// Promises to come back for, and the next dose of a course that is in.
fn promise_events(state: &HiveState, practice: &Practice, stamp: &Stamp) -> Vec<Event> {
    let hive = visible(state.id.as_str());
    let mut events = BTreeMap::new();
    let mut put = |uid: String, on: NaiveDate, what: &str, about: String| {
        let made = event(&uid, &format!("{hive}: {}", visible(what)), &about, on, false, stamp);
        events.insert(uid, made);
    };
    let today = stamp.at.date_naive();
    for promise in state.promises.iter().filter(|p| p.on >= today && is_open(p, state, today)) {
        let about = format!("You noted this on {}.", wording::day_and_year(stamp.units, promise.made));
        let uid = format!("promise-{}-{}-{}", slug(state.id.as_str()), promise.made, mark(&promise.what));
        put(uid, promise.on, &promise.what, about);
    }
    for course in state.courses.iter().filter(|c| c.ended.is_none() && state.is_alive()) {
        let Some((days, what)) = treatment::limits(course.treatment, practice).again else { continue };
        let on = days_after(course.began, days);
        let is_promised = state.promises.iter().any(|p| p.what == what);
        if !is_promised && on >= stamp.at.date_naive() {
            let uid = format!("dose-{}-{}", slug(state.id.as_str()), course.began);
            put(uid, on, what, format!("{} is in.", crate::wording::capital(course.treatment.word())));
        }
    }
    events.into_values().collect()
}

fn event(uid: &str, summary: &str, about: &str, on: NaiveDate, is_off: bool, stamp: &Stamp) -> Event {
    let mut event = Event::new();
    event
        .uid(&format!("{uid}@yardwalk.invalid"))
        .timestamp(stamp.at)
        .sequence(stamp.sequence)
        .summary(&one_kind_of_newline(summary))
        .starts(on)
        // The day after: an all-day event ends where the next day begins.
        .ends(days_after(on, 1))
        .add_property("TRANSP", "TRANSPARENT");
    if !about.is_empty() {
        event.description(&one_kind_of_newline(about));
    }
    event.status(if is_off { EventStatus::Cancelled } else { EventStatus::Confirmed });
    event.done()
}

/// A carriage return alone would pass through and break the line: every end of line is one kind.
fn one_kind_of_newline(text: &str) -> String {
    text.replace("\r\n", "\n").replace('\r', "\n")
}

/// A name that is safe in an identifier, and differs where the names differ.
fn slug(name: &str) -> String {
    let plain: String =
        name.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
    if plain.chars().all(|c| c != '-') && plain == name.to_lowercase() {
        return plain;
    }
    // What was not plain is told apart by a number made from all of it.
    format!("{}-{}", plain.trim_matches('-'), mark(name))
}

/// A number made from all of a text, by which it is told from others (FNV-1a).
fn mark(text: &str) -> String {
    let hash = text.bytes().fold(0x811c_9dc5_u32, |hash, b| (hash ^ u32::from(b)).wrapping_mul(0x0100_0193));
    format!("{hash:08x}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_too_long_goes_on_and_reads_as_before() {
        let long = format!("A:{}\r\nB\r\n", "é".repeat(60));
        let out = in_lines(&long);
        assert!(out.split("\r\n").all(|line| line.len() <= LINE), "{out}");
        assert_eq!(out.replace("\r\n ", ""), long);
    }

    #[test]
    fn names_that_differ_have_slugs_that_differ() {
        assert_eq!(slug("A1"), "a1");
        assert_ne!(slug("Top Orchard"), slug("Top-Orchard"));
        assert_ne!(slug("蜂場"), slug("蜂"));
        assert!(slug("Top Orchard").starts_with("top-orchard-"));
    }
}
