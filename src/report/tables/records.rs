//! Tables of what is done rarely and asked for by others: medicine, honey, splits, losses, visits. All from the log itself,
//! so that what was done to a colony that is gone is in them.

use chrono::NaiveDate;

use super::{head, number};
use crate::model::{Action, Book, Entry, Medicine, Treatment, Visit, cell, days_after, visible};

/// Every action with its visit and entry, up to a day.
fn done(book: &Book, as_of: NaiveDate) -> Vec<(&Visit, &Entry, &Action)> {
    let mut all = Vec::new();
    for visit in book.standing_visits(as_of) {
        for entry in &visit.entries {
            all.extend(entry.actions.iter().map(|action| (visit, entry, action)));
        }
    }
    all
}

/// A course with its record, as far as one was written down.
struct Given<'a> {
    visit: &'a Visit,
    entry: &'a Entry,
    treatment: Treatment,
    until: NaiveDate,
    ended: Option<NaiveDate>,
    record: Medicine,
}

/// Each treatment with its record: the product as the keeper typed it, and the last day on which no honey is taken.
pub(super) fn medicine(book: &Book, as_of: NaiveDate) -> Vec<Vec<String>> {
    let mut courses: Vec<Given<'_>> = Vec::new();
    for (visit, entry, action) in done(book, as_of) {
        let of_this =
            |c: &&mut Given<'_>, treatment: Treatment| c.entry.hive == entry.hive && c.treatment == treatment;
        if let Action::Treat { treatment, until } = action {
            courses.push(Given {
                visit,
                entry,
                treatment: *treatment,
                until: *until,
                ended: None,
                record: Medicine::default(),
            });
        } else if let Action::EndTreatment { treatment } = action {
            let mut open = courses.iter_mut().rev().filter(|c| of_this(c, *treatment));
            if let Some(course) = open.find(|c| c.ended.is_none()) {
                course.ended = Some(visit.on);
            }
        } else if let Action::RecordMedicine { treatment, record } = action
            && let Some(course) = courses.iter_mut().rev().find(|c| of_this(c, *treatment))
        {
            course.record = record.clone();
        }
    }
    let mut rows = vec![head(&[
        "began",
        "ended",
        "yard",
        "latitude",
        "longitude",
        "hive",
        "active_ingredient",
        "product",
        "amount",
        "lot",
        "withdrawal_days",
        "no_honey_before",
        "given_by",
    ])];
    for course in courses {
        let place = book.yard(course.visit.yard.as_str()).and_then(|yard| yard.place);
        let last = course.ended.unwrap_or(course.until);
        let free = course.record.withdrawal_days.map(|days| days_after(last, i64::from(days)));
        rows.push(vec![
            course.visit.on.to_string(),
            course.ended.map_or_else(String::new, |on| on.to_string()),
            cell(course.visit.yard.as_str()),
            place.map_or_else(String::new, |p| number(Some(p.latitude))),
            place.map_or_else(String::new, |p| number(Some(p.longitude))),
            cell(course.entry.hive.as_str()),
            course.treatment.word().to_owned(),
            cell(&course.record.product),
            cell(&course.record.amount),
            cell(&course.record.lot),
            course.record.withdrawal_days.map_or_else(String::new, |days| days.to_string()),
            free.map_or_else(String::new, |on| on.to_string()),
            cell(&course.record.by),
        ]);
    }
    rows
}

pub(super) fn honey(book: &Book, as_of: NaiveDate) -> Vec<Vec<String>> {
    let mut rows = vec![head(&["date", "yard", "hive", "frames", "mass_kg"])];
    for (visit, entry, action) in done(book, as_of) {
        if let Action::TakeHoney { frames, mass } = action {
            rows.push(vec![
                visit.on.to_string(),
                cell(visit.yard.as_str()),
                cell(entry.hive.as_str()),
                frames.to_string(),
                number(mass.map(crate::model::Mass::kilograms)),
            ]);
        }
    }
    rows
}

pub(super) fn splits(book: &Book, as_of: NaiveDate) -> Vec<Vec<String>> {
    let mut rows = vec![head(&["date", "yard", "from_hive", "new_hive"])];
    for (visit, entry, action) in done(book, as_of) {
        if let Action::SplitInto { hive } = action {
            rows.push(vec![
                visit.on.to_string(),
                cell(visit.yard.as_str()),
                cell(entry.hive.as_str()),
                cell(hive.as_str()),
            ]);
        }
    }
    rows
}

pub(super) fn losses(book: &Book, as_of: NaiveDate) -> Vec<Vec<String>> {
    let mut rows = vec![head(&["date", "yard", "hive", "cause"])];
    for (visit, entry, action) in done(book, as_of) {
        let cause = if let Action::Retire { loss } = action {
            loss.word().to_owned()
        } else if let Action::JoinInto { hive } = action {
            format!("united into {}", visible(hive.as_str()))
        } else {
            continue;
        };
        rows.push(vec![
            visit.on.to_string(),
            cell(visit.yard.as_str()),
            cell(entry.hive.as_str()),
            cell(&cause),
        ]);
    }
    rows
}

pub(super) fn visits(book: &Book, as_of: NaiveDate) -> Vec<Vec<String>> {
    let mut rows = vec![head(&[
        "visit",
        "date",
        "yard",
        "hives",
        "minutes",
        "temperature_C",
        "wind_km_h",
        "rain",
        "notes",
    ])];
    for visit in book.standing_visits(as_of) {
        let minutes: Vec<u32> = visit.entries.iter().filter_map(|e| e.minutes.map(u32::from)).collect();
        let names: Vec<&str> = visit.entries.iter().map(|e| e.hive.as_str()).collect();
        let weather = visit.weather;
        let notes = visit.entries.iter().filter(|e| !e.note.is_empty());
        let notes: Vec<String> = notes.map(|e| format!("{}: {}", e.hive, e.note)).collect();
        rows.push(vec![
            cell(visit.id.as_str()),
            visit.on.to_string(),
            cell(visit.yard.as_str()),
            cell(&names.join(" ")),
            if minutes.is_empty() { String::new() } else { minutes.iter().sum::<u32>().to_string() },
            number(weather.temperature.map(crate::model::Temperature::celsius)),
            number(weather.wind.map(crate::model::Wind::kilometres_per_hour)),
            weather.rain.map_or("", |rain| if rain { "yes" } else { "no" }).to_owned(),
            cell(&notes.join("; ")),
        ]);
    }
    rows
}
