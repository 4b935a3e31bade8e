//! The weeks ahead as an iCalendar file (RFC 5545), for any calendar program.
//!
//! All-day events with names that stay the same and hold the book's own: exported again over the former file, a trip that
//! has moved moves, one that is no longer needed is cancelled, and numbers only grow; nothing doubles. A first export
//! cancels nothing.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use chrono::{DateTime, NaiveDate, NaiveTime, TimeDelta, Utc};
use icalendar::{Alarm, Calendar as Ical, Component, Event, EventLike, EventStatus, Property, Trigger};

use crate::advice::is_open;
use crate::colony::treatment;
use crate::model::{Book, Folded, HiveState, Practice, Units, Yard, days_after, mark, visible};
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
    ics_again(book, yards, folded, (from, pace), &Again::default())
}

/// What a calendar that is exported again goes by.
#[derive(Debug, Clone, Default)]
pub struct Again {
    /// The file that was exported before, where there is one.
    pub former: Option<String>,
    /// Hours before its day at which an event is to sound; silent where it is none.
    pub alarm_hours: Option<u16>,
}

/// Whether a text is a calendar of this program's.
pub fn is_our_ics(text: &str) -> bool {
    in_one_line(text).lines().any(|line| line == format!("PRODID:{PRODUCT}"))
}

const PRODUCT: &str = "-//yardwalk//yardwalk//EN";

/// The calendar as [`ics`] has it, after the one that was exported before.
///
/// # Errors
/// None in practice; the writer's own are passed on.
pub fn ics_again(
    book: &Book,
    yards: &[&Yard],
    folded: &Folded,
    (from, pace): (NaiveDate, Pace),
    again: &Again,
) -> Result<String, std::fmt::Error> {
    let former = again.former.as_deref().map(former_events).unwrap_or_default();
    let mut calendar = Ical::empty();
    calendar.append_property(Property::new("VERSION", "2.0"));
    calendar.append_property(Property::new("PRODID", PRODUCT));
    calendar.append_property(Property::new("CALSCALE", "GREGORIAN"));
    calendar.append_property(Property::new("METHOD", "PUBLISH"));
    let stamp = Stamp::of(book, from, &former, again.alarm_hours);
    let mut events = Vec::new();
    for yard in yards {
        let site = Where::of(yard);
        let mut outlook = Outlook::of(book, folded, yard);
        let planned = trips(&mut outlook, from, pace);
        for (slot, trip) in planned.iter().enumerate().take(SLOTS) {
            events.push(trip_event(yard, slot, trip, &site, &stamp));
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
            // What is past is no deadline any more.
            if by >= from {
                events.push(event(&uid, &format!("{name}: {what} by today"), &about, by, &site, &stamp));
            }
        }
        for state in outlook.stands().to_vec() {
            events.extend(course_events(state, &site, &stamp));
            events.extend(promise_events(state, &book.practice, &site, &stamp));
        }
    }
    let present: Vec<String> = events.iter().filter_map(|e| e.get_uid().map(str::to_owned)).collect();
    let here: Vec<String> = yards.iter().map(|yard| visible(yard.name.as_str())).collect();
    for gone in former.iter().filter(|gone| gone.is_of(&stamp.book) && here.contains(&gone.yard)) {
        // A day that has come is history: it stays in the calendar as it was.
        if !present.contains(&gone.uid) && gone.on >= from {
            events.push(cancelled(gone, &stamp));
        }
    }
    for event in events {
        calendar.push(event);
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
    let mut in_alarm = false;
    for line in text.split_inclusive("\r\n") {
        // The writer gives an alarm a name by chance and the time of the clock; it has neither (RFC 5545, 3.6.6).
        in_alarm = (in_alarm || line.starts_with("BEGIN:VALARM")) && !line.starts_with("END:VALARM");
        if in_alarm && (line.starts_with("UID:") || line.starts_with("DTSTAMP:")) {
            continue;
        }
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

/// An event of the calendar that was exported before.
struct Former {
    uid: String,
    summary: String,
    yard: String,
    on: NaiveDate,
    sequence: u32,
    stamp: Option<DateTime<Utc>>,
}

impl Former {
    fn is_of(&self, book: &str) -> bool {
        self.uid.ends_with(&format!("-{book}@yardwalk.invalid"))
    }
}

/// A text with its long lines in one.
fn in_one_line(text: &str) -> String {
    text.replace("\r\n ", "").replace("\r\n", "\n").replace("\n ", "")
}

/// The events of a calendar; none where it cannot be read.
fn former_events(text: &str) -> Vec<Former> {
    let Ok(calendar) = text.parse::<Ical>() else { return Vec::new() };
    let of = |event: &Event| {
        let property = |name: &str| event.property_value(name).map(str::to_owned);
        Some(Former {
            uid: event.get_uid()?.to_owned(),
            summary: event.get_summary().unwrap_or_default().to_owned(),
            yard: event.get_location().unwrap_or_default().to_owned(),
            on: NaiveDate::parse_from_str(&property("DTSTART")?, "%Y%m%d").ok()?,
            sequence: property("SEQUENCE").and_then(|n| n.parse().ok()).unwrap_or(0),
            stamp: event.get_timestamp(),
        })
    };
    calendar.components.iter().filter_map(|part| part.as_event().and_then(of)).collect()
}

/// Where a yard is, for a calendar that leads there.
struct Where {
    name: String,
    point: Option<String>,
}

impl Where {
    fn of(yard: &Yard) -> Self {
        let point = yard.place.map(|place| format!("{:.5};{:.5}", place.latitude, place.longitude));
        Self { name: visible(yard.name.as_str()), point }
    }
}

/// When the record last changed, and how often: what tells a calendar which of two exports is the newer.
struct Stamp {
    /// The book's own name, by which its events are told from those of another.
    book: String,
    at: DateTime<Utc>,
    sequence: u32,
    units: Units,
    /// The day the calendar is made on.
    from: NaiveDate,
    alarm_hours: Option<u16>,
}

impl Stamp {
    fn of(book: &Book, from: NaiveDate, former: &[Former], alarm_hours: Option<u16>) -> Self {
        // Every visit ever logged, the withdrawn too: their number only grows. The day the plan is made on changes it too.
        let logged = u32::try_from(book.visits.len()).unwrap_or(u32::MAX);
        let days = u32::try_from((from - NaiveDate::default()).num_days()).unwrap_or(0);
        let seconds = TimeDelta::seconds(i64::from(logged.min(86_399)));
        let at = from.and_time(NaiveTime::MIN).and_utc() + seconds;
        let sequence = days.saturating_add(logged);
        // Made on an earlier day, or of a book brought back, it is the newer file all the same.
        let before = former.iter().map(|event| event.sequence).max();
        let stamped = former.iter().filter_map(|event| event.stamp).max();
        Self {
            book: book.own_name(),
            at: stamped.map_or(at, |stamped| stamped.max(at)),
            sequence: before.map_or(sequence, |before| before.max(sequence)),
            units: book.units,
            from,
            alarm_hours,
        }
    }
}

fn trip_event(yard: &Yard, slot: usize, trip: &Trip, place: &Where, stamp: &Stamp) -> Event {
    let uid = format!("trip-{}-{}", slug(yard.name.as_str()), slot + 1);
    let name = visible(yard.name.as_str());
    let hives = wording::count(trip.hives().len(), "hive");
    let summary = format!("Bees at {name}: {hives}, {} min", trip.minutes);
    let mut lines = Vec::new();
    if trip.until > trip.on {
        lines.push(format!(
            "Can be moved to {} at the latest.",
            wording::day_and_year(stamp.units, trip.until)
        ));
    } else {
        lines.push("This is the last day for it.".to_owned());
    }
    for need in &trip.needs {
        let late = if need.is_late { " (LATE)" } else { "" };
        lines.push(format!("{}: {}{late}", visible(need.hive.as_str()), need.title));
    }
    event(&uid, &summary, &lines.join("\n"), trip.on, place, stamp)
}

/// Treatments to take out.
fn course_events(state: &HiveState, place: &Where, stamp: &Stamp) -> Vec<Event> {
    // One event a treatment and day: of the same one begun twice on a day, the last logged.
    let mut events = BTreeMap::new();
    let open = state.courses.iter().filter(|c| c.ended.is_none() && c.until > c.began && state.is_alive());
    for c in open.filter(|c| (stamp.from - c.until).num_days() < 60) {
        let uid = format!("out-{}-{}-{}", slug(state.id.as_str()), c.began, slug(c.treatment.word()));
        let hive = visible(state.id.as_str());
        let about = format!("In since {}. Bag it as the label says; wash again after 12 days.", c.began);
        let summary = format!("{hive}: take out {}", c.treatment.word());
        let made = event(&uid, &summary, &about, c.until, place, stamp);
        events.insert(uid, made);
    }
    events.into_values().collect()
}

/// Promises to come back for, and the next dose of a course that is in.
fn promise_events(state: &HiveState, practice: &Practice, place: &Where, stamp: &Stamp) -> Vec<Event> {
    let hive = visible(state.id.as_str());
    let mut events = BTreeMap::new();
    let mut put = |uid: String, on: NaiveDate, what: &str, about: String| {
        let made = event(&uid, &format!("{hive}: {}", visible(what)), &about, on, place, stamp);
        events.insert(uid, made);
    };
    let today = stamp.from;
    for promise in state.promises.iter().filter(|p| p.on >= today && is_open(p, state, today)) {
        let about = format!("You noted this on {}.", wording::day_and_year(stamp.units, promise.made));
        let uid = format!("promise-{}-{}-{}", slug(state.id.as_str()), promise.made, mark(&promise.what));
        put(uid, promise.on, &promise.what, about);
    }
    for course in state.courses.iter().filter(|c| c.ended.is_none() && state.is_alive()) {
        let Some((days, what)) = treatment::limits(course.treatment, practice).again else { continue };
        let on = days_after(course.began, days);
        let is_promised = state.promises.iter().any(|p| p.what == what);
        if !is_promised && on >= stamp.from {
            let uid = format!("dose-{}-{}", slug(state.id.as_str()), course.began);
            put(uid, on, what, format!("{} is in.", crate::wording::capital(course.treatment.word())));
        }
    }
    events.into_values().collect()
}

fn event(uid: &str, summary: &str, about: &str, on: NaiveDate, place: &Where, stamp: &Stamp) -> Event {
    let uid = format!("{uid}-{}@yardwalk.invalid", stamp.book);
    let mut event = bare(&uid, summary, on, stamp);
    if !about.is_empty() {
        event.description(&one_kind_of_newline(about));
    }
    event.location(&one_kind_of_newline(&place.name));
    if let Some(point) = &place.point {
        event.add_property("GEO", point);
    }
    if let Some(hours) = stamp.alarm_hours {
        let before = Trigger::before_start(TimeDelta::hours(i64::from(hours)));
        event.alarm(Alarm::display(&one_kind_of_newline(summary), before));
    }
    event.status(EventStatus::Confirmed);
    event.done()
}

/// What was in the calendar before and is no longer so.
fn cancelled(gone: &Former, stamp: &Stamp) -> Event {
    let mut event = bare(&gone.uid, &gone.summary, gone.on, stamp);
    event.location(&gone.yard).status(EventStatus::Cancelled);
    event.done()
}

fn bare(uid: &str, summary: &str, on: NaiveDate, stamp: &Stamp) -> Event {
    let mut event = Event::new();
    event
        .uid(uid)
        .timestamp(stamp.at)
        .sequence(stamp.sequence)
        .summary(&one_kind_of_newline(summary))
        .starts(on)
        // The day after: an all-day event ends where the next day begins.
        .ends(days_after(on, 1))
        .add_property("TRANSP", "TRANSPARENT");
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
