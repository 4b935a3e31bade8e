//! The load list and a hive's card, the import of a whole book, backup and restore.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use chrono::NaiveDate;
use clap::{Args as ClapArgs, ValueEnum};

use super::planned::Reading;
use super::progress::Progress;
use super::season::no_yard;
use super::{Args, CliError, Surroundings, data_folder, read_book, refuse_faults};
use crate::model::{Book, Folded, Yard, visible};
use crate::plan::{self, Outlook};
use crate::report::{self, Card, YardLoad};
use crate::store::{self, BookFolder, StoreError};

/// How days of numbers are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum DaysWritten {
    /// Day, month, year
    DayFirst,
    /// Month, day, year
    MonthFirst,
}

/// What to import.
#[derive(Debug, Clone, ClapArgs)]
pub struct ImportArgs {
    /// A table of hives or of past visits, counts and weights (.csv, .tsv, .txt), or a whole book (.ron, or .json as exported)
    pub(super) file: PathBuf,
    /// How its days are written, where that cannot be told
    #[arg(long, value_enum, value_name = "ORDER")]
    pub(super) days: Option<DaysWritten>,
    /// With past visits: add the hives that the book does not know
    #[arg(long)]
    pub(super) add_hives: bool,
    /// The yard of hives that name none
    #[arg(long, value_name = "NAME")]
    pub(super) yard: Option<String>,
    /// Say what would be done, and change nothing
    #[arg(long)]
    pub(super) dry_run: bool,
    /// The name of the new book, for a whole book; its file's name where none is given
    #[arg(long, value_name = "NAME")]
    pub(super) name: Option<String>,
    /// Write yard.ron anew although comments written into it by hand will go
    #[arg(long)]
    pub(super) drop_comments: bool,
}

/// A book that is sound, with the day and its fold.
pub(super) struct Open {
    pub(super) reading: Reading,
    pub(super) folded: Folded,
}

pub(super) fn open(args: &Args, around: &Surroundings) -> Result<Open, CliError> {
    let reading = Reading::of(args, around)?;
    let folded = Folded::of(&reading.book, reading.today);
    Ok(Open { reading, folded })
}

pub(super) fn yards<'a>(book: &'a Book, asked: Option<&str>) -> Result<Vec<&'a Yard>, CliError> {
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
    let Open { reading, folded } = open(args, around)?;
    let (book, today) = (&reading.book, reading.today);
    let wanted = yards(book, yard)?;
    let day = reading.day(&folded, &wanted);
    let lists = load_lists(book, &folded, &day, today);
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
    let Open { reading: Reading { book, today, .. }, folded } = open(args, around)?;
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

pub(super) fn no_hive(book: &Book, folded: &Folded, asked: &str) -> CliError {
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

pub(super) fn load_lists(
    book: &Book,
    folded: &Folded,
    day: &plan::DayPlan,
    today: NaiveDate,
) -> Vec<YardLoad> {
    let list = |y: &plan::YardPlan| YardLoad {
        yard: y.yard.clone(),
        list: plan::load(y, folded, &book.practice, today),
        unused: plan::unused(book, &y.yard, today),
    };
    day.yards.iter().map(list).collect()
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
        Some("csv" | "tsv" | "txt" | "ron" | "json") if !asked.file.exists() => Err(no_file(&asked.file)),
        Some("csv" | "tsv" | "txt") => super::tables::import(asked, args, around, out),
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

/// Makes a book folder, saying how far it is. Stopped, it leaves none: it is put in its place whole.
fn make(folder: &Path, book: &Book) -> Result<(), StoreError> {
    let progress = Progress::of("visits written", book.visits.len());
    BookFolder::create_watched(folder, book, &|| progress.step())?;
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
    make(to, &book)?;
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
    make(&folder, book)?;
    let (_, again) = BookFolder::open(&folder, around.today())?;
    writeln!(out, "made {}: {words}", visible(&folder.display().to_string()))?;
    // Read back: an import that lost something says so at once.
    if store::is_same(&again, book) {
        Ok(ExitCode::SUCCESS)
    } else {
        Err(CliError::NotWhole(visible(&folder.display().to_string())))
    }
}
