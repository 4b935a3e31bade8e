//! What others can use: the load list, a hive's card, exports, and the import of hives or of a whole book.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use chrono::NaiveDate;
use clap::{Args as ClapArgs, Subcommand, ValueEnum};

use super::season::no_yard;
use super::{Args, CliError, Surroundings, book_path, data_folder, day_of, read_book, refuse_faults};
use crate::model::{Book, Folded, Visit, Yard, YardId, visible};
use crate::plan::{self, Outlook};
use crate::report::{self, Card, Table, YardLoad};
use crate::store::{self, BookFolder, Locked, StoreError, import};

/// What to export.
#[derive(Debug, Clone, Subcommand)]
pub enum Export {
    /// Trips, deadlines and treatments to take out, for a calendar program (iCalendar)
    Ics {
        /// This yard only
        #[arg(long, value_name = "NAME")]
        yard: Option<String>,
        /// The file; printed where none is named
        #[arg(long, value_name = "FILE")]
        to: Option<PathBuf>,
    },
    /// Tables for a spreadsheet (CSV): hives, entries, counts, feed, treatments
    Csv {
        /// One table, printed
        #[arg(long, value_enum, required_unless_present = "to", conflicts_with = "to")]
        table: Option<TableName>,
        /// A folder for all five, one file each
        #[arg(long, value_name = "FOLDER")]
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
        /// The file; printed where none is named
        #[arg(long, value_name = "FILE")]
        to: Option<PathBuf>,
    },
    /// The whole book, for programs (JSON)
    Json {
        /// The file; printed where none is named
        #[arg(long, value_name = "FILE")]
        to: Option<PathBuf>,
    },
    /// The whole book in one file, to be imported or opened without loss (RON)
    Book {
        /// The file; printed where none is named
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
}

impl TableName {
    fn table(self) -> Table {
        match self {
            Self::Hives => Table::Hives,
            Self::Entries => Table::Entries,
            Self::Counts => Table::Counts,
            Self::Feed => Table::Feed,
            Self::Treatments => Table::Treatments,
        }
    }
}

/// What to import.
#[derive(Debug, Clone, ClapArgs)]
pub struct ImportArgs {
    /// A table of hives (.csv), or a whole book (.ron, or .json as exported)
    file: PathBuf,
    /// The yard of hives that name none
    #[arg(long, value_name = "NAME")]
    yard: Option<String>,
    /// Say what would be done, and change nothing
    #[arg(long)]
    dry_run: bool,
    /// The name of the new book, for a whole book; its file's name where none is given
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// Write yard.ron anew although comments written into it by hand will go
    #[arg(long)]
    drop_comments: bool,
}

/// A book that is sound, with the day and its fold.
struct Open {
    book: Book,
    today: NaiveDate,
    folded: Folded,
}

fn open(args: &Args, around: &Surroundings) -> Result<Open, CliError> {
    let (book, source) = read_book(args, around)?;
    let today = day_of(args, around, &book, &source);
    let folded = Folded::of(&book, today);
    Ok(Open { book, today, folded })
}

fn yards<'a>(book: &'a Book, asked: Option<&str>) -> Result<Vec<&'a Yard>, CliError> {
    match asked {
        Some(name) => Ok(vec![book.yard(name).ok_or_else(|| no_yard(book, name))?]),
        None => Ok(book.yards.iter().collect()),
    }
}

/// Prints the load lists of the day.
pub(super) fn load(
    args: &Args,
    around: &Surroundings,
    yard: Option<&str>,
    json: bool,
    out: &mut impl Write,
) -> Result<(), CliError> {
    let Open { book, today, folded } = open(args, around)?;
    let wanted = yards(&book, yard)?;
    let day = plan::day(&book, &folded, today);
    let lists: Vec<YardLoad> = day
        .yards
        .iter()
        .filter(|y| wanted.iter().any(|w| w.name == y.yard))
        .map(|y| YardLoad {
            yard: y.yard.clone(),
            list: plan::load(y, &folded, &book.practice, today),
            unused: plan::unused(&book, &y.yard, today),
        })
        .collect();
    let text =
        if json { report::load_json(&lists, today)? } else { report::load_text(&lists, today, book.units) };
    out.write_all(text.as_bytes())?;
    Ok(())
}

/// Prints a hive's card.
pub(super) fn hive(
    args: &Args,
    around: &Surroundings,
    name: &str,
    json: bool,
    out: &mut impl Write,
) -> Result<(), CliError> {
    let Open { book, today, folded } = open(args, around)?;
    let (yard, state) = book
        .hive_named(name)
        .and_then(|(yard, hive)| folded.hive(&hive.id).map(|state| (yard, state)))
        .ok_or_else(|| no_hive(&book, &folded, name))?;
    let mut outlook = Outlook::of(&book, &folded, yard);
    let advice = outlook.advice(state, today);
    let calendar = outlook.calendar(today).clone();
    let standing = plan::standing(state, &calendar, &book.practice, today);
    let next = plan::next_due(&mut outlook, state, today);
    let card = Card {
        book: &book,
        state,
        calendar: &calendar,
        advice: &advice,
        standing: &standing,
        next: next.as_ref(),
        today,
    };
    let text = if json { report::card_json(&card)? } else { report::card_text(&card) };
    out.write_all(text.as_bytes())?;
    Ok(())
}

fn no_hive(book: &Book, folded: &Folded, asked: &str) -> CliError {
    let near = book
        .yards
        .iter()
        .flat_map(|y| &y.hives)
        .map(|h| (strsim::damerau_levenshtein(h.id.as_str(), asked), &h.id))
        .min_by_key(|(far, _)| *far)
        .filter(|(far, _)| *far <= 2)
        .map(|(_, id)| visible(id.as_str()));
    let is_later = book.hive_named(asked).is_some_and(|(_, h)| folded.hive(&h.id).is_none());
    CliError::NoHive { asked: visible(asked), near, is_later }
}

/// Exports what was asked for.
pub(super) fn export(
    what: &Export,
    args: &Args,
    around: &Surroundings,
    out: &mut impl Write,
) -> Result<(), CliError> {
    let Open { book, today, folded } = open(args, around)?;
    match what {
        Export::Ics { yard, to } => {
            let pace = plan::pace(&book, today);
            let text = report::ics(&book, &yards(&book, yard.as_deref())?, &folded, today, pace)?;
            give(&text, to.as_deref(), out)
        }
        Export::Csv { table: Some(name), .. } => {
            let text = report::table(&book, &folded, name.table(), today)?;
            if around.is_terminal {
                // To be read, not to be read in again: nothing in a note moves the cursor.
                let lines: Vec<String> = text.lines().map(visible).collect();
                return give(&(lines.join("\n") + "\n"), None, out);
            }
            give(&text, None, out)
        }
        Export::Csv { table: None, to } => {
            let folder = to.clone().unwrap_or_default();
            for table in Table::ALL {
                let path = folder.join(format!("{}.csv", table.name()));
                give(&report::table(&book, &folded, *table, today)?, Some(&path), out)?;
            }
            Ok(())
        }
        Export::Md { inspector: true, to, .. } => {
            give(&report::inspectors_list(&book, &folded, today), to.as_deref(), out)
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
            give(&report::visit_report(&book, found), to.as_deref(), out)
        }
        Export::Json { to } => give(&report::book_json(&book, today)?, to.as_deref(), out),
        Export::Book { to } => {
            let path = to.clone().unwrap_or_else(|| PathBuf::from("the book"));
            give(&store::book_to_text(&book, &path)?, to.as_deref(), out)
        }
    }
}

/// Prints a text, or writes it to a file and says so.
fn give(text: &str, to: Option<&Path>, out: &mut impl Write) -> Result<(), CliError> {
    match to {
        None => out.write_all(text.as_bytes())?,
        Some(path) => {
            store::write_export(path, text)?;
            writeln!(out, "wrote {}", visible(&path.display().to_string()))?;
        }
    }
    Ok(())
}

/// Imports hives into the book, or a whole book as a new one.
pub(super) fn import(
    asked: &ImportArgs,
    args: &Args,
    around: &Surroundings,
    out: &mut impl Write,
) -> Result<ExitCode, CliError> {
    let kind = asked.file.extension().map(|e| e.to_string_lossy().to_ascii_lowercase());
    match kind.as_deref() {
        Some("csv" | "ron" | "json") if !asked.file.exists() => Err(no_file(&asked.file)),
        Some("csv") => import_hives(asked, args, around, out),
        Some("ron") => {
            let (book, _) = store::read(&asked.file)?;
            import_book(&book, asked, around, out)
        }
        Some("json") => {
            let book = report::book_from_json(&store::read_text(&asked.file)?)?;
            import_book(&book, asked, around, out)
        }
        _ => Err(CliError::NoImport(visible(&asked.file.display().to_string()))),
    }
}

/// A path that leads nowhere, with the file beside it that is most like it.
fn no_file(path: &Path) -> CliError {
    let asked = path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."));
    let near = std::fs::read_dir(folder)
        .into_iter()
        .flatten()
        .filter_map(|entry| Some(entry.ok()?.file_name().to_string_lossy().into_owned()))
        .map(|name| (strsim::jaro_winkler(&name, &asked), name))
        .filter(|(like, _)| *like > 0.85)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, name)| visible(&name));
    CliError::NoFile { path: visible(&path.display().to_string()), near }
}

fn import_hives(
    asked: &ImportArgs,
    args: &Args,
    around: &Surroundings,
    out: &mut impl Write,
) -> Result<ExitCode, CliError> {
    let text = store::read_text(&asked.file)?;
    let path = book_path(args, around)?;
    if path.is_file() {
        return Err(CliError::NotAFolder(visible(&path.display().to_string())));
    }
    let _lock = match store::lock(&path, "an import")? {
        Locked::Ours(lock) => lock,
        Locked::Theirs(who) => return Err(CliError::Held(who)),
        Locked::None(why) => return Err(CliError::Held(why)),
    };
    let (folder, book) = BookFolder::open(&path, around.today())?;
    let today = args.on.unwrap_or_else(|| around.today());
    let into = asked
        .yard
        .as_deref()
        .map(|name| book.yard(name).map_or_else(|| YardId::new(name), |y| y.name.clone()));
    let found = import::hives_from_csv(&text, &asked.file, &book, into.as_ref(), today)?;
    for (column, field) in &found.matched {
        writeln!(out, "column {:?} is read as {field}", visible(column))?;
    }
    for (column, near) in &found.ignored {
        let near = near.map_or_else(String::new, |n| format!("; did you mean {n}?"));
        writeln!(out, "column {:?} is not read{near}", visible(column))?;
    }
    for (line, why) in &found.refused {
        writeln!(out, "line {line} refused: {}", visible(why))?;
    }
    for (yard, hive) in &found.hives {
        writeln!(out, "{}: {} at {}", if asked.dry_run { "would add" } else { "adds" }, hive.id, yard)?;
    }
    if asked.dry_run {
        writeln!(out, "{} to add, {} refused; nothing was changed", found.hives.len(), found.refused.len())?;
    } else if found.hives.is_empty() {
        writeln!(out, "nothing to add, {} refused; nothing was changed", found.refused.len())?;
    } else {
        match folder.comments()? {
            count if count > 0 && !asked.drop_comments => return Err(CliError::Comments(count)),
            _ => drop(folder.save_yards(&import::add(&book, &found), true)?),
        }
        writeln!(
            out,
            "{} added, {} refused; the former yard.ron is kept in former/",
            found.hives.len(),
            found.refused.len()
        )?;
    }
    Ok(if found.refused.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

/// Writes the whole book to a new file and reads it back.
pub(super) fn backup(
    file: &Path,
    args: &Args,
    around: &Surroundings,
    out: &mut impl Write,
) -> Result<(), CliError> {
    let (book, _) = read_book(args, around)?;
    store::write_backup(file, &book)?;
    let hives: usize = book.yards.iter().map(|y| y.hives.len()).sum();
    writeln!(
        out,
        "wrote {} and read it back: {} yards, {hives} hives, {} visits",
        visible(&file.display().to_string()),
        book.yards.len(),
        book.visits.len()
    )?;
    Ok(())
}

/// Makes a book folder from a backup and reads it back. Nothing that is there is written over.
pub(super) fn restore(
    file: &Path,
    to: &Path,
    around: &Surroundings,
    out: &mut impl Write,
) -> Result<(), CliError> {
    let (book, source) = store::read(file)?;
    refuse_faults(&book, &source, around)?;
    if to.exists() {
        return Err(StoreError::Taken { path: to.to_owned() }.into());
    }
    BookFolder::create(to, &book)?;
    let (_, again) = BookFolder::open(to, around.today())?;
    if !store::is_same(&again, &book) {
        return Err(CliError::NotWhole(visible(&to.display().to_string())));
    }
    writeln!(
        out,
        "made {} and read it back: {} visits",
        visible(&to.display().to_string()),
        again.visits.len()
    )?;
    Ok(())
}

fn import_book(
    book: &Book,
    asked: &ImportArgs,
    around: &Surroundings,
    out: &mut impl Write,
) -> Result<ExitCode, CliError> {
    let source = store::Source::File(asked.file.clone());
    refuse_faults(book, &source, around)?;
    let stem = asked.file.file_stem().map(|s| s.to_string_lossy().into_owned());
    let name = asked.name.clone().or(stem).unwrap_or_else(|| "bees".to_owned());
    let is_plain = !name.is_empty()
        && name.chars().all(|c| c.is_alphanumeric() || "-_ ".contains(c))
        && name != "scratch";
    if !is_plain {
        return Err(CliError::BookName(visible(&name)));
    }
    let folder = data_folder(around)?.join(&name);
    if folder.exists() {
        return Err(StoreError::Taken { path: folder }.into());
    }
    let hives: usize = book.yards.iter().map(|y| y.hives.len()).sum();
    let words = format!("{} yards, {hives} hives, {} visits", book.yards.len(), book.visits.len());
    if asked.dry_run {
        writeln!(out, "would make the book {name}: {words}; nothing was changed")?;
        return Ok(ExitCode::SUCCESS);
    }
    BookFolder::create(&folder, book)?;
    let (_, again) = BookFolder::open(&folder, around.today())?;
    writeln!(out, "made {}: {words}", visible(&folder.display().to_string()))?;
    // Read back: an import that lost something says so at once.
    if store::is_same(&again, book) {
        Ok(ExitCode::SUCCESS)
    } else {
        Err(CliError::NotWhole(visible(&folder.display().to_string())))
    }
}
