//! Exports: what of the book goes where, and in which form.

use std::io::Write;
use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use clap::{Args as ClapArgs, Subcommand, ValueEnum};

use super::outputs::{Open, load_lists, no_hive, open, yards};
use super::{Args, CliError, Surroundings};
use crate::model::{Book, Folded, Visit, visible};
use crate::plan::{self, Outlook};
use crate::report::{self, ForSheet, Table};
use crate::store;

/// What to export, and how.
#[derive(Debug, Clone, ClapArgs)]
pub struct ExportArgs {
    /// What
    #[command(subcommand)]
    pub what: Export,
    /// Write over a file that is there already
    #[arg(long, global = true)]
    pub replace: bool,
}

/// What to export.
#[derive(Debug, Clone, Subcommand)]
pub enum Export {
    /// Trips, deadlines and treatments to take out, for a calendar program (iCalendar)
    Ics {
        /// This yard only
        #[arg(long, value_name = "NAME")]
        yard: Option<String>,
        /// The file, or - for standard output; written over a former export, what is no longer so is cancelled
        #[arg(long, value_name = "FILE")]
        to: Option<PathBuf>,
        /// Sound so many hours before the day begins: 12 is at noon of the day before
        #[arg(long, value_name = "HOURS", value_parser = clap::value_parser!(u16).range(0..=720))]
        alarm: Option<u16>,
    },
    /// Tables for a spreadsheet (CSV): what stands, and what was found, done, taken, split and lost
    Csv {
        /// One table
        #[arg(long, value_enum, required_unless_present = "to")]
        table: Option<TableName>,
        /// A folder for all tables, one file each; with --table a file, or - for standard output
        #[arg(long, value_name = "PATH")]
        to: Option<PathBuf>,
        /// As a spreadsheet program of your locale opens it: with a byte-order mark, and ; and a decimal comma where it writes so
        #[arg(long)]
        excel: bool,
    },
    /// A sheet to print and fill in by pencil: the day's hives and the load list, or one hive (HTML)
    Sheet {
        /// This yard only
        #[arg(long, value_name = "NAME", conflicts_with = "hive")]
        yard: Option<String>,
        /// This hive only, with every finding
        #[arg(long, value_name = "NAME")]
        hive: Option<String>,
        /// The file, or - for standard output; printed where none is named
        #[arg(long, value_name = "FILE")]
        to: Option<PathBuf>,
    },
    /// A visit's report to print or mail, or an inspector's list (Markdown)
    Md {
        /// The visit by its name; the last one where none is named
        #[arg(long, value_name = "ID", conflicts_with = "inspector")]
        visit: Option<String>,
        /// Hives, treatments and disease, for an inspector
        #[arg(long)]
        inspector: bool,
        /// The file, or - for standard output; printed where none is named
        #[arg(long, value_name = "FILE")]
        to: Option<PathBuf>,
    },
    /// The whole book, for programs (JSON)
    Json {
        /// The file, or - for standard output; printed where none is named
        #[arg(long, value_name = "FILE")]
        to: Option<PathBuf>,
    },
    /// The whole book in one file, to be imported or opened without loss (RON)
    Book {
        /// The file, or - for standard output; printed where none is named
        #[arg(long, value_name = "FILE")]
        to: Option<PathBuf>,
    },
}

/// A table by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum TableName {
    /// The hives as they stand
    Hives,
    /// What was found and done
    Entries,
    /// The mite counts
    Counts,
    /// What was fed
    Feed,
    /// The mite treatments
    Treatments,
    /// The records of treatments, for an inspector
    Medicine,
    /// The honey taken
    Honey,
    /// The splits
    Splits,
    /// The colonies lost
    Losses,
    /// The visits, with their weather
    Visits,
}

impl TableName {
    fn table(self) -> Table {
        match self {
            Self::Hives => Table::Hives,
            Self::Entries => Table::Entries,
            Self::Counts => Table::Counts,
            Self::Feed => Table::Feed,
            Self::Treatments => Table::Treatments,
            Self::Medicine => Table::Medicine,
            Self::Honey => Table::Honey,
            Self::Splits => Table::Splits,
            Self::Losses => Table::Losses,
            Self::Visits => Table::Visits,
        }
    }
}

/// Exports what was asked for.
pub(super) fn run(
    asked: &ExportArgs,
    args: &Args,
    around: &Surroundings,
    out: &mut impl Write,
) -> Result<(), CliError> {
    let Open { reading, folded } = open(args, around)?;
    let (book, today) = (&reading.book, reading.today);
    let replace = asked.replace;
    let mut give = |text: &str, to: Option<&Path>| give(text, to, replace, out);
    match &asked.what {
        Export::Ics { yard, to, alarm } => {
            let former = former_calendar(to.as_deref(), replace)?;
            let again = report::Again { former, alarm_hours: *alarm };
            let pace = plan::pace(book, today);
            let text =
                report::ics_again(book, &yards(book, yard.as_deref())?, &folded, (today, pace), &again)?;
            // A former export of this program's is what the file is for.
            self::give(&text, to.as_deref(), replace || again.former.is_some(), out)
        }
        Export::Csv { table: Some(name), to, excel } => {
            let text = report::table_for(book, &folded, name.table(), today, for_sheet(*excel, around))?;
            if around.is_terminal && to.is_none() {
                // To be read, not to be read in again: nothing in a note moves the cursor.
                let lines: Vec<String> = text.lines().map(visible).collect();
                return give(&(lines.join("\n") + "\n"), None);
            }
            give(&text, to.as_deref())
        }
        Export::Csv { table: None, to, excel } => {
            let folder = to.clone().unwrap_or_default();
            let paths: Vec<(Table, PathBuf)> =
                Table::ALL.iter().map(|t| (*t, folder.join(format!("{}.csv", t.name())))).collect();
            // All or none: a folder half written is worse than one that is as it was.
            if let Some((_, taken)) = paths.iter().find(|(_, path)| !replace && path.exists()) {
                return Err(CliError::FileIsThere(visible(&taken.display().to_string())));
            }
            for (table, path) in paths {
                let sheet = for_sheet(*excel, around);
                give(&report::table_for(book, &folded, table, today, sheet)?, Some(&path))?;
            }
            Ok(())
        }
        Export::Sheet { hive: Some(name), to, .. } => {
            give(&hive_sheet(book, &folded, name, today)?, to.as_deref())
        }
        Export::Sheet { hive: None, yard, to } => {
            let wanted = yards(book, yard.as_deref())?;
            let day = reading.day(&folded, &wanted);
            let loads = load_lists(book, &folded, &day, today);
            give(&report::day_sheet(book, &folded, &day, &loads), to.as_deref())
        }
        Export::Md { inspector: true, to, .. } => {
            give(&report::inspectors_list(book, &folded, today), to.as_deref())
        }
        Export::Md { visit, to, .. } => {
            let standing = book.standing_visits(today);
            let found: Option<&&Visit> = match visit {
                Some(id) => standing.iter().find(|v| v.id.as_str() == id),
                None => standing.last(),
            };
            let found = found.ok_or_else(|| CliError::NoVisit {
                asked: visit.as_ref().map(|v| visible(v)),
                last: standing.last().map(|v| visible(v.id.as_str())),
            })?;
            give(&report::visit_report(book, found), to.as_deref())
        }
        Export::Json { to } => give(&report::book_json(book, today)?, to.as_deref()),
        Export::Book { to } => {
            let path = to.clone().unwrap_or_else(|| PathBuf::from("the book"));
            give(&store::book_to_text(book, &path)?, to.as_deref())
        }
    }
}

/// The calendar that was exported to a file before; none where there is none.
fn former_calendar(to: Option<&Path>, replace: bool) -> Result<Option<String>, CliError> {
    let Some(path) = to.filter(|path| !is_standard_output(path) && path.exists()) else { return Ok(None) };
    store::may_be_exported_to(path)?;
    match store::read_text(path) {
        Ok(text) if report::is_our_ics(&text) => Ok(Some(text)),
        Ok(_) | Err(_) if replace => Ok(None),
        Ok(_) => Err(CliError::FileIsThere(visible(&path.display().to_string()))),
        Err(err) => Err(err.into()),
    }
}

/// What a spreadsheet program of this laptop's locale wants.
fn for_sheet(excel: bool, around: &Surroundings) -> ForSheet {
    if excel { ForSheet::of_locale(&around.locale) } else { ForSheet::default() }
}

fn hive_sheet(book: &Book, folded: &Folded, name: &str, today: NaiveDate) -> Result<String, CliError> {
    let (yard, state) = book
        .hive_named(name)
        .and_then(|(yard, hive)| folded.hive(&hive.id).map(|state| (yard, state)))
        .ok_or_else(|| no_hive(book, folded, name))?;
    let mut outlook = Outlook::of(book, folded, yard);
    let advice = outlook.advice(state, today);
    Ok(report::hive_sheet(book, state, &advice, today))
}

/// Whether a path means standard output, as it does elsewhere.
fn is_standard_output(path: &Path) -> bool {
    path == Path::new("-")
}

/// Prints a text, or writes it to a file and says so. A file that is there is written over only where that was asked for.
fn give(text: &str, to: Option<&Path>, replace: bool, out: &mut impl Write) -> Result<(), CliError> {
    match to.filter(|path| !is_standard_output(path)) {
        None => out.write_all(text.as_bytes())?,
        Some(path) => {
            store::may_be_exported_to(path)?;
            if path.exists() && !replace {
                return Err(CliError::FileIsThere(visible(&path.display().to_string())));
            }
            store::write_export(path, text)?;
            writeln!(out, "wrote {}", visible(&path.display().to_string()))?;
        }
    }
    Ok(())
}
