//! Hives from a CSV table: columns matched by name, each row taken or refused with its reason.

use chrono::NaiveDate;

use super::error::StoreError;
use crate::model::{
    Book, DayOrder, Depth, Entrance, FeederKind, Hive, HiveBox, HiveId, Mark, Orders, Origin, Queen,
    QueenStatus, Role, Yard, YardId, day_of_cell, delimiter_of, stack_from, uncell,
};

/// A column that is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Column {
    field: &'static str,
    aliases: &'static [&'static str],
}

const COLUMNS: &[Column] = &[
    Column { field: "yard", aliases: &["place", "site", "location"] },
    Column { field: "hive", aliases: &["name", "number", "no", "id", "colony", "stand"] },
    Column { field: "origin", aliases: &["kind", "came_as"] },
    Column { field: "since", aliases: &["date", "started", "came"] },
    Column { field: "boxes", aliases: &["stack", "box"] },
    Column { field: "queen", aliases: &["queen_status"] },
    Column { field: "queen_since", aliases: &[] },
    Column { field: "queen_year", aliases: &["year", "queen_born"] },
    Column { field: "queen_mark", aliases: &["mark", "color", "color"] },
    Column { field: "queen_origin", aliases: &["queen_from"] },
    Column { field: "entrance", aliases: &[] },
    Column { field: "upper_entrance", aliases: &["upper"] },
    Column { field: "feeder", aliases: &[] },
    Column { field: "mouse_guard", aliases: &["guard"] },
    Column { field: "note", aliases: &["notes", "remark", "comment"] },
];

/// Columns of our own table that the log tells better.
const TOLD_BY_THE_LOG: &[&str] =
    &["alive", "last_visit", "frames_of_bees", "frames_of_brood", "mites_percent"];

/// What an import found and would do.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Imported {
    /// Columns of the file and the fields they were taken for.
    pub matched: Vec<(String, &'static str)>,
    /// Columns that were not read, with the field they may have been meant for.
    pub ignored: Vec<(String, Option<&'static str>)>,
    /// Hives to be added, with their yards.
    pub hives: Vec<(YardId, Hive)>,
    /// Rows refused: the line, and why.
    pub refused: Vec<(u64, String)>,
}

/// How a header is compared: lower case, words joined by `_`.
fn key(header: &str) -> String {
    let plain: String = header
        .trim()
        .trim_start_matches('\u{feff}')
        .chars()
        .map(|c| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '_' })
        .collect();
    plain.trim_matches('_').to_owned()
}

fn field_of(header: &str) -> Option<&'static str> {
    let key = key(header);
    COLUMNS.iter().find(|c| c.field == key || c.aliases.contains(&key.as_str())).map(|c| c.field)
}

/// The field a header that is none may have been meant for.
fn nearest(header: &str) -> Option<&'static str> {
    let key = key(header);
    COLUMNS
        .iter()
        .map(|c| (strsim::damerau_levenshtein(c.field, &key), c.field))
        .filter(|(far, _)| *far <= 2)
        .min()
        .map(|(_, field)| field)
}

/// Reads hives from a CSV text. Nothing is changed: see [`add`].
///
/// `into` is the yard of rows that name none; `today` the day since which a hive stands that names none.
///
/// # Errors
/// Where the table has no header, or no column that names the hive.
pub fn hives_from_csv(
    text: &str,
    path: &std::path::Path,
    book: &Book,
    into: Option<&YardId>,
    today: NaiveDate,
) -> Result<Imported, StoreError> {
    hives_from_table(text, path, book, into, (today, None))
}

/// Reads hives from a table as [`hives_from_csv`] does, with its days in an order that was asked for.
///
/// # Errors
/// As there, and where its days can be read in two ways and nobody said in which.
pub fn hives_from_table(
    text: &str,
    path: &std::path::Path,
    book: &Book,
    into: Option<&YardId>,
    (today, order): (NaiveDate, Option<DayOrder>),
) -> Result<Imported, StoreError> {
    let fault = |line: usize, what: String, mend: &str| StoreError::Syntax {
        path: path.to_owned(),
        line,
        column: 1,
        what,
        mend: mend.to_owned(),
    };
    let delimiter = delimiter_of(text);
    let mut reader =
        csv::ReaderBuilder::new().flexible(true).delimiter(delimiter).from_reader(text.as_bytes());
    let headers = reader
        .headers()
        .map_err(|err| {
            fault(
                1,
                format!("the header cannot be read: {err}"),
                "save it as a table of text: CSV, or with ; or tabs",
            )
        })?
        .clone();
    let mut imported = Imported::default();
    let mut columns: Vec<Option<&'static str>> = Vec::new();
    for header in &headers {
        let field = field_of(header).filter(|f| !columns.contains(&Some(f)));
        columns.push(field);
        match field {
            Some(field) => imported.matched.push((header.to_owned(), field)),
            None if TOLD_BY_THE_LOG.contains(&key(header).as_str()) => {}
            None => imported.ignored.push((header.to_owned(), nearest(header))),
        }
    }
    if !columns.contains(&Some("hive")) {
        return Err(fault(
            1,
            "no column names the hive".to_owned(),
            "name one column `hive`; the others are yard, boxes, origin, since, queen, queen_year, queen_mark, note",
        ));
    }
    let records: Vec<Result<csv::StringRecord, csv::Error>> = reader.records().collect();
    let day_columns: Vec<usize> = (0..columns.len())
        .filter(|at| columns.get(*at).is_some_and(|c| matches!(c, Some("since" | "queen_since"))))
        .collect();
    let days = records
        .iter()
        .flatten()
        .flat_map(|record| day_columns.iter().filter_map(|at| record.get(*at)))
        .filter(|cell| !cell.trim().is_empty());
    let order = match (order, Orders::of(days)) {
        (Some(order), _) | (None, Orders::Told(order)) => order,
        (None, Orders::Either | Orders::Mixed) => {
            return Err(fault(
                1,
                "its days can be read with the day or the month first".to_owned(),
                "say which: --days day-first or --days month-first",
            ));
        }
    };
    for record in records {
        let record = match record {
            Ok(record) => record,
            Err(err) => {
                let line = err.position().map_or(0, csv::Position::line);
                imported.refused.push((line, format!("cannot be read: {err}")));
                continue;
            }
        };
        let line = record.position().map_or(0, csv::Position::line);
        let get = |field: &str| {
            let at = columns.iter().position(|c| *c == Some(field))?;
            record.get(at).map(|text| uncell(text.trim()).trim()).filter(|text| !text.is_empty())
        };
        if record.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        match row(get, book, into, (today, order), &imported.hives) {
            Ok(hive) => imported.hives.push(hive),
            Err(why) => imported.refused.push((line, why)),
        }
    }
    Ok(imported)
}

fn row<'a>(
    get: impl Fn(&str) -> Option<&'a str>,
    book: &Book,
    into: Option<&YardId>,
    (today, order): (NaiveDate, DayOrder),
    taken: &[(YardId, Hive)],
) -> Result<(YardId, Hive), String> {
    let id = HiveId::new(get("hive").ok_or("no name in the column of hives")?);
    if let Some(fault) = id.fault() {
        return Err(format!("the name {:?} {fault}", id.as_str()));
    }
    if book.hive(&id).is_some() {
        return Err(format!("hive `{id}` is in the book already"));
    }
    if taken.iter().any(|(_, h)| h.id == id) {
        return Err(format!("hive `{id}` stands twice in the file"));
    }
    let only = match book.yards.as_slice() {
        [only] => Some(&only.name),
        _ => None,
    };
    let yard = match get("yard") {
        Some(name) => book.yard(name).map_or_else(|| YardId::new(name), |y| y.name.clone()),
        None => into
            .or(only)
            .cloned()
            .ok_or("names no yard, and several or none are in the book: give --yard NAME")?,
    };
    if let Some(fault) = yard.fault() {
        return Err(format!("the yard {:?} {fault}", yard.as_str()));
    }
    let since = get("since").map(|text| day(text, order)).transpose()?.unwrap_or(today);
    if since > today {
        return Err(format!("stands since {since}, which has not come"));
    }
    let boxes = match get("boxes") {
        Some(text) => stack_from(text)?,
        None => vec![HiveBox::new(Depth::Deep, 10, Role::Nest)],
    };
    let queen = Queen {
        status: get("queen")
            .map(|t| word(t, QueenStatus::ALL, QueenStatus::word))
            .transpose()?
            .unwrap_or(QueenStatus::Unknown),
        year: get("queen_year").map(|t| t.parse().map_err(|_| format!("`{t}` is no year"))).transpose()?,
        mark: get("queen_mark").map(|t| word(t, Mark::ALL, Mark::word)).transpose()?,
        origin: get("queen_origin").unwrap_or_default().to_owned(),
        since: get("queen_since").map(|text| day(text, order)).transpose()?,
    };
    let origin = get("origin").map(|t| word(t, Origin::ALL, Origin::word)).transpose()?;
    let mut hive = Hive::new(id, origin.unwrap_or(Origin::Overwintered), since, boxes, queen);
    if let Some(text) = get("entrance") {
        hive.entrance = word(text, Entrance::ALL, Entrance::word)?;
    }
    hive.upper_entrance = get("upper_entrance").map(yes_no).transpose()?.unwrap_or(false);
    hive.mouse_guard = get("mouse_guard").map(yes_no).transpose()?.unwrap_or(false);
    hive.feeder = get("feeder").map(|t| word(t, FeederKind::ALL, FeederKind::word)).transpose()?;
    get("note").unwrap_or_default().clone_into(&mut hive.note);
    match hive.faults().into_iter().next() {
        Some(fault) => Err(format!("hive `{}` {fault}", hive.id)),
        None => Ok((yard, hive)),
    }
}

fn day(text: &str, order: DayOrder) -> Result<NaiveDate, String> {
    day_of_cell(text, order)
        .ok_or_else(|| format!("`{text}` is no day: write year, month and day, such as 2026-05-09"))
}

fn yes_no(text: &str) -> Result<bool, String> {
    match text.to_ascii_lowercase().as_str() {
        "yes" | "y" | "true" | "1" | "x" | "on" => Ok(true),
        "no" | "n" | "false" | "0" | "off" => Ok(false),
        _ => Err(format!("`{text}` is neither yes nor no")),
    }
}

fn word<T: Copy>(text: &str, all: &[T], words: fn(T) -> &'static str) -> Result<T, String> {
    all.iter().copied().find(|v| words(*v).eq_ignore_ascii_case(text)).ok_or_else(|| {
        let known: Vec<&str> = all.iter().map(|v| words(*v)).collect();
        format!("`{text}` is none of: {}", known.join(", "))
    })
}

/// The book with imported hives added, in new yards where theirs are not there yet.
pub fn add(book: &Book, imported: &Imported) -> Book {
    let mut book = book.clone();
    for (name, hive) in &imported.hives {
        match book.yards.iter_mut().find(|y| y.name == *name) {
            Some(yard) => yard.hives.push(hive.clone()),
            None => book.yards.push(Yard { hives: vec![hive.clone()], ..Yard::named(name.clone()) }),
        }
    }
    book
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Units;

    fn import(text: &str) -> Imported {
        let book = Book::empty("T", Units::Us);
        let yard = YardId::new("Creek");
        let today = "2026-05-03".parse().unwrap();
        hives_from_csv(text, std::path::Path::new("hives.csv"), &book, Some(&yard), today).unwrap()
    }

    #[test]
    fn columns_are_matched_by_name_and_what_is_near_is_said() {
        let found = import("Number,Queen Year,Boxs,Weather\r\nA1,2025,2 deep,fine\r\n");
        assert_eq!(found.matched, [("Number".to_owned(), "hive"), ("Queen Year".to_owned(), "queen_year")]);
        assert_eq!(found.ignored, [("Boxs".to_owned(), Some("boxes")), ("Weather".to_owned(), None)]);
        let (yard, hive) = &found.hives[0];
        assert_eq!((yard.as_str(), hive.id.as_str(), hive.queen.year), ("Creek", "A1", Some(2025)));
    }

    #[test]
    fn every_refused_row_has_its_line_and_reason() {
        let found = import(
            "hive,boxes,since,queen_mark\nA1,2 deep; 1 medium super,2026-04-01,white\n,deep,,\nA1,deep,,\nA2,tall,,\n\
             A3,deep,yesterday,\nA4,deep,,pink\nA5,medium super,,\nA6,deep,2027-01-01,\n",
        );
        assert_eq!(found.hives.len(), 1);
        assert_eq!(found.hives[0].1.boxes.len(), 3);
        let lines: Vec<u64> = found.refused.iter().map(|(line, _)| *line).collect();
        assert_eq!(lines, [3, 4, 5, 6, 7, 8, 9]);
        let said: Vec<&str> = found.refused.iter().map(|(_, why)| why.as_str()).collect();
        for (at, part) in
            ["no name", "twice", "no box", "no day", "none of: white", "only supers", "has not come"]
                .iter()
                .enumerate()
        {
            assert!(said[at].contains(part), "{} in {}", part, said[at]);
        }
    }

    #[test]
    fn a_table_without_hives_is_refused_whole() {
        let book = Book::empty("T", Units::Us);
        let today = "2026-05-03".parse().unwrap();
        let read = |text: &str| hives_from_csv(text, std::path::Path::new("x.csv"), &book, None, today);
        assert!(read("yard,boxes\nA,deep\n").unwrap_err().to_string().contains("no column names the hive"));
        assert!(read("").is_err());
        let found = read("hive\nA1\n").unwrap();
        assert!(found.refused[0].1.contains("--yard"), "{:?}", found.refused);
    }
}
