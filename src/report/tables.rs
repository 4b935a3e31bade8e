//! The book as tables in CSV (RFC 4180): what stands and what was found, done, taken, split and lost.
//!
//! Units stand in the heads of their columns, and are metric whatever the book shows, so that a column is one unit.
//! Lines end in CRLF. Words that a spreadsheet would run as a formula get an apostrophe in front; numbers stay numbers.

use chrono::NaiveDate;
use csv::{Terminator, WriterBuilder};

use crate::model::{Action, Book, Finding, Folded, HiveBox, Kind, Role, Units, Value, cell, trimmed};

mod records;

use super::facts::findings_words;

/// A table of the book.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Table {
    /// The hives as they stand.
    Hives,
    /// What was found and done, a hive a visit a line.
    Entries,
    /// The mite counts.
    Counts,
    /// What was fed.
    Feed,
    /// The mite treatments.
    Treatments,
    /// The records of treatments, for an inspector.
    Medicine,
    /// The honey taken.
    Honey,
    /// The splits, and the hives they came to.
    Splits,
    /// The colonies lost.
    Losses,
    /// The visits, with their weather.
    Visits,
}

impl Table {
    /// Every table.
    pub const ALL: &'static [Self] = &[
        Self::Hives,
        Self::Entries,
        Self::Counts,
        Self::Feed,
        Self::Treatments,
        Self::Medicine,
        Self::Honey,
        Self::Splits,
        Self::Losses,
        Self::Visits,
    ];

    /// Its name, and its file's.
    pub fn name(self) -> &'static str {
        match self {
            Self::Hives => "hives",
            Self::Entries => "entries",
            Self::Counts => "counts",
            Self::Feed => "feed",
            Self::Treatments => "treatments",
            Self::Medicine => "medicine",
            Self::Honey => "honey",
            Self::Splits => "splits",
            Self::Losses => "losses",
            Self::Visits => "visits",
        }
    }
}

pub(super) fn number(value: Option<f64>) -> String {
    value.map_or_else(String::new, |v| trimmed(v, 3))
}

fn yes(value: bool) -> String {
    if value { "yes".to_owned() } else { "no".to_owned() }
}

/// The boxes of a hive, bottom to top: `deep nest; 8-frame medium super`.
fn boxes(boxes: &[HiveBox]) -> String {
    let words = |b: &HiveBox| {
        let role = match b.role {
            Role::Nest => "nest",
            Role::Super => "super",
        };
        format!("{} {role}", b.words())
    };
    boxes.iter().map(words).collect::<Vec<_>>().join("; ")
}

/// A table as CSV, as it stood at the end of a day.
///
/// # Errors
/// None in practice; the writer's own are passed on.
pub fn table(book: &Book, folded: &Folded, which: Table, as_of: NaiveDate) -> Result<String, csv::Error> {
    table_for(book, folded, which, as_of, ForSheet::default())
}

/// A table as CSV, as it stood at the end of a day, as a spreadsheet program wants it.
///
/// # Errors
/// None in practice; the writer's own are passed on.
pub fn table_for(
    book: &Book,
    folded: &Folded,
    which: Table,
    as_of: NaiveDate,
    sheet: ForSheet,
) -> Result<String, csv::Error> {
    let rows = match which {
        Table::Hives => hives(book, folded),
        Table::Entries => entries(book, as_of),
        Table::Counts => counts(book, as_of),
        Table::Feed => feed(book, as_of),
        Table::Treatments => treatments(book, as_of),
        Table::Medicine => records::medicine(book, as_of),
        Table::Honey => records::honey(book, as_of),
        Table::Splits => records::splits(book, as_of),
        Table::Losses => records::losses(book, as_of),
        Table::Visits => records::visits(book, as_of),
    };
    let delimiter = if sheet.has_decimal_comma { b';' } else { b',' };
    let mut writer =
        WriterBuilder::new().terminator(Terminator::CRLF).delimiter(delimiter).from_writer(Vec::new());
    for row in rows {
        if sheet.has_decimal_comma {
            writer.write_record(row.iter().map(|cell| with_decimal_comma(cell)))?;
        } else {
            writer.write_record(&row)?;
        }
    }
    let bytes = writer.into_inner().map_err(|err| csv::Error::from(err.into_error()))?;
    let mark = if sheet.has_mark { "\u{feff}" } else { "" };
    Ok(format!("{mark}{}", String::from_utf8_lossy(&bytes)))
}

/// A number with a comma for its point; any other cell as it is.
fn with_decimal_comma(cell: &str) -> String {
    let digits = cell.strip_prefix('-').unwrap_or(cell);
    let is_number = digits.matches('.').count() == 1
        && digits.chars().all(|c| c.is_ascii_digit() || c == '.')
        && digits.starts_with(|c: char| c.is_ascii_digit());
    if is_number { cell.replace('.', ",") } else { cell.to_owned() }
}

/// What a spreadsheet program wants of a table besides what it says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct ForSheet {
    /// The mark by which it knows the letters (UTF-8's byte-order mark).
    pub has_mark: bool,
    /// Whether its place writes a comma in numbers, and so a semicolon between cells.
    pub has_decimal_comma: bool,
}

/// Languages whose numbers have a decimal comma (Unicode's Common Locale Data Repository; from memory), English and the
/// rest being told by a point.
const COMMA: &[&str] = &[
    "be", "bg", "ca", "cs", "da", "de", "el", "es", "et", "fi", "fr", "gl", "hr", "hu", "is", "it", "lt",
    "lv", "nb", "nl", "nn", "no", "pl", "pt", "ro", "ru", "sk", "sl", "sr", "sv", "tr", "uk",
];
/// Places of those languages that write a point.
const POINT: &[&str] =
    &["de_CH", "de_LI", "es_MX", "es_US", "es_GT", "es_HN", "es_NI", "es_PA", "es_PE", "es_SV", "it_CH"];

impl ForSheet {
    /// For a spreadsheet program of a locale such as `de_DE.UTF-8`.
    pub fn of_locale(locale: &str) -> Self {
        let place = locale.split(['.', '@']).next().unwrap_or_default();
        let language = place.split('_').next().unwrap_or_default();
        Self { has_mark: true, has_decimal_comma: COMMA.contains(&language) && !POINT.contains(&place) }
    }
}

/// The head of a finding's column, with its unit.
pub fn finding_column(finding: Finding) -> String {
    let unit = match finding.kind() {
        Kind::Mass => "_kg",
        Kind::Temperature => "_C",
        Kind::Percent => "_percent",
        Kind::YesNo | Kind::Choice(_) | Kind::Count(_) | Kind::Frames(_) => "",
    };
    let field = finding.field();
    if field.ends_with(unit) { field.to_owned() } else { format!("{field}{unit}") }
}

fn head(names: &[&str]) -> Vec<String> {
    names.iter().map(|n| (*n).to_owned()).collect()
}

/// The columns of the table of hives; what `import` knows of them is in the store.
pub const HIVE_COLUMNS: &[&str] = &[
    "yard",
    "hive",
    "origin",
    "since",
    "boxes",
    "queen",
    "queen_since",
    "queen_year",
    "queen_mark",
    "queen_origin",
    "entrance",
    "upper_entrance",
    "feeder",
    "mouse_guard",
    "note",
    "alive",
    "last_visit",
    "frames_of_bees",
    "frames_of_brood",
    "mites_percent",
];

fn hives(book: &Book, folded: &Folded) -> Vec<Vec<String>> {
    let mut rows = vec![head(HIVE_COLUMNS)];
    for yard in &book.yards {
        for state in yard.hives.iter().filter_map(|h| folded.hive(&h.id)) {
            let queen = &state.queen;
            rows.push(vec![
                cell(yard.name.as_str()),
                cell(state.id.as_str()),
                state.origin.word().to_owned(),
                state.came.to_string(),
                boxes(&state.boxes),
                queen.status.word().to_owned(),
                queen.since.map_or_else(String::new, |d| d.to_string()),
                queen.year.map_or_else(String::new, |y| y.to_string()),
                queen.mark.map_or_else(String::new, |m| m.word().to_owned()),
                cell(&queen.origin),
                state.entrance.word().to_owned(),
                yes(state.upper_entrance),
                state.feeder.map_or_else(String::new, |f| f.word().to_owned()),
                yes(state.mouse_guard),
                cell(&state.note),
                yes(state.is_alive()),
                state.last_visit.map_or_else(String::new, |d| d.to_string()),
                number(state.seen.bees.map(|b| b.value.0)),
                number(state.seen.brood.map(|b| b.value.0)),
                number(state.last_wash().map(crate::model::MiteCount::percent)),
            ]);
        }
    }
    rows
}

fn entries(book: &Book, as_of: NaiveDate) -> Vec<Vec<String>> {
    let mut names = head(&["visit", "date", "yard", "hive", "minutes"]);
    names.extend(Finding::ALL.iter().map(|f| finding_column(*f)));
    names.extend(head(&["in_words", "did", "put_off", "note"]));
    let mut rows = vec![names];
    for visit in book.standing_visits(as_of) {
        for entry in &visit.entries {
            let mut row = vec![
                cell(visit.id.as_str()),
                visit.on.to_string(),
                cell(visit.yard.as_str()),
                cell(entry.hive.as_str()),
                entry.minutes.map_or_else(String::new, |m| m.to_string()),
            ];
            for finding in Finding::ALL {
                let value = entry.findings.get(*finding);
                // Masses in kilograms whatever the book shows, so that a column is one unit.
                row.push(value.map_or_else(String::new, |v| match v {
                    Value::Mass(mass) => trimmed(mass.kilograms(), 3),
                    Value::Temperature(t) => trimmed(t.celsius(), 1),
                    Value::Percent(p) => trimmed(p, 3),
                    Value::YesNo(_) | Value::Choice(_) | Value::Count(_) | Value::Frames(_) => {
                        v.words(finding.kind(), Units::Metric)
                    }
                }));
            }
            let did: Vec<String> = entry.actions.iter().map(|a| a.words(book.units)).collect();
            let put_off: Vec<String> = entry
                .answers
                .iter()
                .filter_map(|a| match &a.reply {
                    crate::model::Reply::PutOff { reason, until } => {
                        Some(format!("{} to {until}: {reason}", a.rule))
                    }
                    crate::model::Reply::Done | crate::model::Reply::NotNeeded => None,
                })
                .collect();
            row.push(cell(&findings_words(&entry.findings, book.units)));
            row.push(cell(&did.join("; ")));
            row.push(cell(&put_off.join("; ")));
            row.push(cell(&entry.note));
            rows.push(row);
        }
    }
    rows
}

fn counts(book: &Book, as_of: NaiveDate) -> Vec<Vec<String>> {
    let mut rows = vec![head(&["date", "yard", "hive", "mites", "bees", "percent"])];
    for visit in book.standing_visits(as_of) {
        for entry in &visit.entries {
            let Some(mites) = entry.findings.mites else { continue };
            let bees = entry.findings.wash_bees.map_or(300, |b| b.0);
            rows.push(vec![
                visit.on.to_string(),
                cell(visit.yard.as_str()),
                cell(entry.hive.as_str()),
                mites.0.to_string(),
                bees.to_string(),
                number(Some(100.0 * f64::from(mites.0) / f64::from(bees.max(1)))),
            ]);
        }
    }
    rows
}

/// From the log itself, so that what was fed to a colony that is gone is in it.
fn feed(book: &Book, as_of: NaiveDate) -> Vec<Vec<String>> {
    let mut rows = vec![head(&["date", "yard", "hive", "what", "volume_L", "mass_kg"])];
    for visit in book.standing_visits(as_of) {
        for (entry, action) in visit.entries.iter().flat_map(|e| e.actions.iter().map(move |a| (e, a))) {
            let (what, litres, kilograms) = if let Action::FeedSyrup { mix, volume } = action {
                (mix.word(), Some(volume.litres()), None)
            } else if let Action::FeedSugar { mass } = action {
                ("dry sugar", None, Some(mass.kilograms()))
            } else {
                continue;
            };
            rows.push(vec![
                visit.on.to_string(),
                cell(visit.yard.as_str()),
                cell(entry.hive.as_str()),
                what.to_owned(),
                number(litres),
                number(kilograms),
            ]);
        }
    }
    rows
}

/// From the log itself, as `feed`; the end of a course is the next one logged at that hive.
fn treatments(book: &Book, as_of: NaiveDate) -> Vec<Vec<String>> {
    const ENDED: usize = 2;
    let mut rows = vec![head(&["began", "until", "ended", "yard", "hive", "treatment"])];
    for visit in book.standing_visits(as_of) {
        for (entry, action) in visit.entries.iter().flat_map(|e| e.actions.iter().map(move |a| (e, a))) {
            let hive = cell(entry.hive.as_str());
            if let Action::Treat { treatment, until } = action {
                rows.push(vec![
                    visit.on.to_string(),
                    until.to_string(),
                    String::new(),
                    cell(visit.yard.as_str()),
                    hive,
                    treatment.word().to_owned(),
                ]);
            } else if let Action::EndTreatment { treatment } = action {
                let open = rows.iter_mut().rev().find(|row| {
                    row.get(ENDED).is_some_and(String::is_empty)
                        && row.contains(&hive)
                        && row.last().is_some_and(|t| t == treatment.word())
                });
                if let Some(ended) = open.and_then(|row| row.get_mut(ENDED)) {
                    *ended = visit.on.to_string();
                }
            }
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spreadsheet_of_a_place_with_a_decimal_comma_gets_one() {
        let german = ForSheet::of_locale("de_DE.UTF-8");
        assert!(german.has_decimal_comma && german.has_mark);
        assert!(!ForSheet::of_locale("en_US.UTF-8").has_decimal_comma);
        assert!(!ForSheet::of_locale("de_CH.UTF-8").has_decimal_comma);
        let as_written = |cell: &str| with_decimal_comma(cell);
        assert_eq!((as_written("1.5").as_str(), as_written("-0.25").as_str()), ("1,5", "-0,25"));
        for same in ["A1.5", "2026-05-03", "1.2.3", ".5", "5", ""] {
            assert_eq!(as_written(same), same);
        }
    }

    #[test]
    fn a_number_stays_a_number() {
        assert_eq!(number(Some(-3.0)), "-3");
        assert_eq!(number(Some(1.23456)), "1.235");
        assert_eq!(number(None), "");
    }
}
