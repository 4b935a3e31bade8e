//! An old notebook as a table: past visits, counts and weights, a hive a line, each with its day.
//!
//! In: the text of a table. Out: the visits it holds, and which lines were refused and why. Nothing is changed here.

mod columns;

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::model::{
    Action, Book, DayOrder, Entry, Finding, Hive, HiveBox, HiveId, Kind, Orders, Origin, Queen, QueenStatus,
    Role, Units, Value, Visit, Weather, YardId, day_of_cell, delimiter_of, uncell, visit_id,
};
use crate::session::typing::{value_of, word_of};

use columns::Column;
pub use columns::Field;

/// What a notebook holds, and would do.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Notebook {
    /// Columns of the file and what they were taken for.
    pub matched: Vec<(String, Field)>,
    /// Columns that were not read.
    pub ignored: Vec<String>,
    /// The visits, the oldest first.
    pub visits: Vec<Visit>,
    /// Hives of which the book knows nothing, with their yards: added where that was asked for.
    pub hives: Vec<(YardId, Hive)>,
    /// Lines refused, and why.
    pub refused: Vec<(u64, String)>,
}

/// How a notebook is read.
#[derive(Debug, Clone, Default)]
pub struct Reading {
    /// The yard of hives that the book does not know and that name none.
    pub into: Option<YardId>,
    /// The order of its days, where the keeper said so.
    pub order: Option<DayOrder>,
    /// Whether hives the book does not know are added.
    pub adds_hives: bool,
}

/// Why a table is no notebook.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NotebookFault {
    /// No line, or no column of days, hives and findings.
    #[error("{0}")]
    NoTable(String),
    /// Each of its days can be read in two ways.
    #[error("`{0}` can be two days: day or month first is not told by any day of the table")]
    TwoDays(String),
}

/// Whether a table is a notebook: it has a day, a hive, and something found or done.
pub fn is_notebook(text: &str) -> bool {
    let mut reader =
        csv::ReaderBuilder::new().flexible(true).delimiter(delimiter_of(text)).from_reader(text.as_bytes());
    let Ok(headers) = reader.headers() else { return false };
    let columns: Vec<Option<Column>> = headers.iter().map(Column::of).collect();
    let has = |field: Field| columns.iter().flatten().any(|c| c.field == field);
    has(Field::Day) && has(Field::Hive) && columns.iter().flatten().any(|c| c.field.is_of_a_visit())
}

/// Reads the visits of a notebook.
///
/// # Errors
/// Where it is no notebook, or its days can be read in two ways and nobody said in which.
pub fn read(text: &str, book: &Book, reading: &Reading, today: NaiveDate) -> Result<Notebook, NotebookFault> {
    let delimiter = delimiter_of(text);
    let mut reader =
        csv::ReaderBuilder::new().flexible(true).delimiter(delimiter).from_reader(text.as_bytes());
    let no_table = |why: String| NotebookFault::NoTable(why);
    let headers =
        reader.headers().map_err(|err| no_table(format!("the head cannot be read: {err}")))?.clone();
    let mut found = Notebook::default();
    let mut columns: Vec<Option<Column>> = Vec::new();
    for header in &headers {
        let column = Column::of(header).filter(|c| !columns.iter().flatten().any(|d| d.field == c.field));
        match &column {
            Some(column) => found.matched.push((header.trim().to_owned(), column.field)),
            None => found.ignored.push(header.trim().to_owned()),
        }
        columns.push(column);
    }
    let mut records = Vec::new();
    for record in reader.records() {
        match record {
            Ok(record) => records.push(record),
            Err(err) => {
                let line = err.position().map_or(0, csv::Position::line);
                found.refused.push((line, format!("cannot be read: {err}")));
            }
        }
    }
    let days_at = columns.iter().position(|c| c.is_some_and(|c| c.field == Field::Day));
    let days = || records.iter().filter_map(|r| r.get(days_at?)).map(str::trim).filter(|d| !d.is_empty());
    let order = match (reading.order, Orders::of(days())) {
        (Some(order), _) | (None, Orders::Told(order)) => order,
        (None, Orders::Either | Orders::Mixed) => {
            return Err(NotebookFault::TwoDays(days().next().unwrap_or_default().to_owned()));
        }
    };
    let mut pages = Pages { book, reading, today, order, comma: delimiter != b',', taken: BTreeMap::new() };
    for record in &records {
        let line = record.position().map_or(0, csv::Position::line);
        let cells: Vec<(Column, &str)> = columns
            .iter()
            .zip(record)
            .filter_map(|(column, cell)| Some(((*column)?, uncell(cell.trim()).trim())))
            .filter(|(_, cell)| !cell.is_empty())
            .collect();
        if record.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        if let Err(why) = pages.take(&cells, &mut found.hives) {
            found.refused.push((line, why));
        }
    }
    found.visits = pages.visits();
    Ok(found)
}

/// The visits as they are gathered.
struct Pages<'a> {
    book: &'a Book,
    reading: &'a Reading,
    today: NaiveDate,
    order: DayOrder,
    /// Whether numbers have a decimal comma.
    comma: bool,
    taken: BTreeMap<(NaiveDate, YardId), Vec<Entry>>,
}

impl Pages<'_> {
    /// Takes a line in.
    fn take(&mut self, cells: &[(Column, &str)], hives: &mut Vec<(YardId, Hive)>) -> Result<(), String> {
        let get = |field: Field| cells.iter().find(|(c, _)| c.field == field).map(|(_, cell)| *cell);
        let text = get(Field::Day).ok_or("no day")?;
        let on = day_of_cell(text, self.order).ok_or_else(|| format!("`{text}` is no day"))?;
        if on > self.today {
            return Err(format!("{on} has not come"));
        }
        let hive = HiveId::new(get(Field::Hive).ok_or("no hive")?);
        if let Some(fault) = hive.fault() {
            return Err(format!("the name {:?} {fault}", hive.as_str()));
        }
        let yard = self.yard_of(&hive, get(Field::Yard), on, hives)?;
        let entry = self.entry(&hive, cells)?;
        let key = (on, yard);
        let is_logged = self.book.standing_visits(self.today).iter().any(|visit| {
            visit.on == on && visit.yard == key.1 && visit.entries.iter().any(|e| e.hive == hive)
        });
        if is_logged {
            return Err(format!("hive `{hive}` has an entry on {on} already"));
        }
        let entries = self.taken.entry(key).or_default();
        if entries.iter().any(|e| e.hive == hive) {
            return Err(format!("hive `{hive}` stands twice on {on}"));
        }
        entries.push(entry);
        Ok(())
    }

    /// The yard of a hive on a day; a hive the book does not know is set up where that was asked for.
    fn yard_of(
        &self,
        hive: &HiveId,
        named: Option<&str>,
        on: NaiveDate,
        hives: &mut Vec<(YardId, Hive)>,
    ) -> Result<YardId, String> {
        if let Some((yard, known)) = self.book.hive_named(hive.as_str()) {
            return if known.since > on {
                Err(format!(
                    "hive `{hive}` stands since {}: set an earlier day in the roster first",
                    known.since
                ))
            } else {
                Ok(yard.name.clone())
            };
        }
        if let Some((yard, known)) = hives.iter_mut().find(|(_, known)| known.id == *hive) {
            known.since = known.since.min(on);
            return Ok(yard.clone());
        }
        if !self.reading.adds_hives {
            return Err(format!("there is no hive `{hive}` in the book: add it first, or give --add-hives"));
        }
        let named =
            named.map(|name| self.book.yard(name).map_or_else(|| YardId::new(name), |y| y.name.clone()));
        let only = match self.book.yards.as_slice() {
            [only] => Some(only.name.clone()),
            _ => None,
        };
        let yard = named.or_else(|| self.reading.into.clone()).or(only);
        let yard = yard.ok_or("names no yard, and several or none are in the book: give --yard NAME")?;
        if let Some(fault) = yard.fault() {
            return Err(format!("the yard {:?} {fault}", yard.as_str()));
        }
        let boxes = vec![HiveBox::new(crate::model::Depth::Deep, 10, Role::Nest)];
        let queen = Queen {
            status: QueenStatus::Unknown,
            year: None,
            mark: None,
            origin: String::new(),
            since: None,
        };
        hives.push((yard.clone(), Hive::new(hive.clone(), Origin::Overwintered, on, boxes, queen)));
        Ok(yard)
    }

    /// What a line says was found and done.
    fn entry(&self, hive: &HiveId, cells: &[(Column, &str)]) -> Result<Entry, String> {
        let mut entry = Entry::blank(hive.clone());
        for (column, cell) in cells {
            match column.field {
                Field::Day | Field::Hive | Field::Yard => {}
                Field::Note => (*cell).clone_into(&mut entry.note),
                Field::Did => entry.actions.push(Action::Other { what: (*cell).to_owned() }),
                Field::Minutes => {
                    entry.minutes =
                        Some(cell.parse().map_err(|_| format!("`{cell}` is no number of minutes"))?);
                }
                Field::MitesPercent => {
                    // A share without its jar: as if it had been of 300 bees.
                    if entry.findings.mites.is_none() {
                        let share = self.number(cell)?;
                        let of_300 = Value::Count(whole(share * 3.0));
                        set(&mut entry, Finding::Mites, of_300, cell)?;
                        set(&mut entry, Finding::WashBees, Value::Count(300), cell)?;
                    }
                }
                Field::Finding(finding) => {
                    let value = self.value(finding.kind(), cell, column.units.unwrap_or(self.book.units))?;
                    set(&mut entry, finding, value, cell)?;
                }
            }
        }
        match entry
            .findings
            .faults()
            .into_iter()
            .next()
            .or_else(|| entry.actions.iter().find_map(Action::fault))
        {
            Some(fault) => Err(fault),
            None if entry.is_blank() => Err("nothing was found or done".to_owned()),
            None => Ok(entry),
        }
    }

    fn number(&self, cell: &str) -> Result<f64, String> {
        let plain = cell.trim_end_matches('%').trim();
        let plain = if self.comma { plain.replace(',', ".") } else { plain.to_owned() };
        plain.parse().ok().filter(|n: &f64| n.is_finite()).ok_or_else(|| format!("`{cell}` is no number"))
    }

    fn value(&self, kind: Kind, cell: &str, units: Units) -> Result<Value, String> {
        match kind {
            Kind::YesNo => match cell.to_ascii_lowercase().as_str() {
                "yes" | "y" | "true" | "1" | "x" | "seen" | "ja" | "oui" | "si" => Ok(Value::YesNo(true)),
                "no" | "n" | "false" | "0" | "-" | "not seen" | "nein" | "non" => Ok(Value::YesNo(false)),
                _ => Err(format!("`{cell}` is neither yes nor no")),
            },
            Kind::Choice(words) => word_of(words, cell)
                .map(Value::Choice)
                .ok_or_else(|| format!("`{cell}` is none of: {}", words.join(", "))),
            Kind::Count(_) => {
                let number = self.number(cell)?;
                if number.fract().abs() > 1e-9 || number < 0.0 {
                    return Err(format!("`{cell}` is no whole number"));
                }
                Ok(Value::Count(whole(number)))
            }
            Kind::Frames(_) => self.number(cell).map(Value::Frames),
            Kind::Percent => self.number(cell).map(Value::Percent),
            Kind::Mass | Kind::Temperature => {
                let text = if self.comma { cell.replace(',', ".") } else { cell.to_owned() };
                value_of(kind, &text, units)
            }
        }
    }

    /// The visits, each under a name made from what is in it: the same notebook read again has the same names.
    fn visits(self) -> Vec<Visit> {
        let noon = chrono::NaiveTime::from_hms_opt(12, 0, 0).unwrap_or_default();
        self.taken
            .into_iter()
            .map(|((on, yard), entries)| {
                let names: Vec<&str> = entries.iter().map(|e| e.hive.as_str()).collect();
                let tail =
                    names.join(" ").bytes().fold(0x1d0f_u16, |sum, b| sum.rotate_left(5) ^ u16::from(b));
                let id = visit_id(&yard, on.and_time(noon), tail);
                Visit { entries, weather: Weather::default(), ..Visit::begun(id, yard, on) }
            })
            .collect()
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rounded, and held to a range when it is set"
)]
fn whole(number: f64) -> u16 {
    number.round().clamp(0.0, f64::from(u16::MAX)) as u16
}

fn set(entry: &mut Entry, finding: Finding, value: Value, cell: &str) -> Result<(), String> {
    if entry.findings.set(finding, Some(value)) {
        Ok(())
    } else {
        Err(format!("{} `{cell}`: it must be {}", finding.label().to_lowercase(), finding.kind().range()))
    }
}

#[cfg(test)]
mod tests;
