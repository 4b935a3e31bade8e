//! Tables that come in: hives, or an old notebook of visits, counts and weights.

use std::io::{self, BufRead as _, Write};
use std::process::ExitCode;

use super::outputs::{DaysWritten, ImportArgs};
use super::progress::Progress;
use super::{Args, CliError, Surroundings, book_path};
use crate::model::{Book, DayOrder, YardId, visible};
use crate::session::notebook::{self, NotebookFault};
use crate::store::{self, BookFolder, Lock, Locked, import};
use crate::wording;

/// A book that nothing else writes meanwhile.
struct Held {
    folder: BookFolder,
    book: Book,
    _lock: Lock,
}

fn hold(args: &Args, around: &Surroundings) -> Result<Held, CliError> {
    let path = book_path(args, around)?;
    if path.is_file() {
        return Err(CliError::NotAFolder(visible(&path.display().to_string())));
    }
    let lock = match store::lock(&path, "an import")? {
        Locked::Ours(lock) => lock,
        Locked::Theirs(who) => return Err(CliError::Held(who)),
        Locked::None(why) => return Err(CliError::Held(why)),
    };
    let (folder, book) = BookFolder::open(&path, around.today())?;
    Ok(Held { folder, book, _lock: lock })
}

/// Imports a table, by what its columns say it is.
pub(super) fn import(
    asked: &ImportArgs,
    args: &Args,
    around: &Surroundings,
    out: &mut impl Write,
) -> Result<ExitCode, CliError> {
    let text = store::read_table(&asked.file)?;
    let held = hold(args, around)?;
    if notebook::is_notebook(&text) {
        visits(&text, &held, asked, args, around, out)
    } else {
        hives(&text, &held, asked, args, around, out)
    }
}

fn into(asked: &ImportArgs, book: &Book) -> Option<YardId> {
    let named = asked.yard.as_deref();
    named.map(|name| book.yard(name).map_or_else(|| YardId::new(name), |y| y.name.clone()))
}

fn order(asked: &ImportArgs) -> Option<DayOrder> {
    asked.days.map(|days| match days {
        DaysWritten::DayFirst => DayOrder::DayFirst,
        DaysWritten::MonthFirst => DayOrder::MonthFirst,
    })
}

/// Asks the keeper, at a terminal, how a day is meant; `None` where nobody answers.
fn ask_order(day: &str, around: &Surroundings, out: &mut impl Write) -> io::Result<Option<DayOrder>> {
    if !around.is_terminal {
        return Ok(None);
    }
    write!(out, "{}: is the day first (d) or the month (m)? ", visible(day))?;
    out.flush()?;
    let mut answer = String::new();
    io::stdin().lock().read_line(&mut answer)?;
    Ok(match answer.trim().to_ascii_lowercase().as_str() {
        "d" => Some(DayOrder::DayFirst),
        "m" => Some(DayOrder::MonthFirst),
        _ => None,
    })
}

fn refused(rows: &[(u64, String)], out: &mut impl Write) -> io::Result<()> {
    for (line, why) in rows {
        writeln!(out, "line {line} refused: {}", visible(why))?;
    }
    Ok(())
}

/// Adds the visits of a notebook, each as a file of its own; nothing that is there is changed.
fn visits(
    text: &str,
    held: &Held,
    asked: &ImportArgs,
    args: &Args,
    around: &Surroundings,
    out: &mut impl Write,
) -> Result<ExitCode, CliError> {
    let today = args.on.unwrap_or_else(|| around.today());
    let mut reading =
        notebook::Reading { into: into(asked, &held.book), order: order(asked), adds_hives: asked.add_hives };
    let mut read = notebook::read(text, &held.book, &reading, today);
    if let Err(NotebookFault::TwoDays(day)) = &read {
        reading.order = ask_order(day, around, out)?;
        if reading.order.is_some() {
            read = notebook::read(text, &held.book, &reading, today);
        }
    }
    let found = read.map_err(CliError::Notebook)?;
    for (column, field) in &found.matched {
        writeln!(out, "column {:?} is read as {}", visible(column), field.words().to_lowercase())?;
    }
    for column in &found.ignored {
        writeln!(out, "column {:?} is not read", visible(column))?;
    }
    refused(&found.refused, out)?;
    let entries: usize = found.visits.iter().map(|visit| visit.entries.len()).sum();
    for visit in &found.visits {
        let names: Vec<String> = visit.entries.iter().map(|e| visible(e.hive.as_str())).collect();
        writeln!(out, "{} {}: {}", visit.on, visible(visit.yard.as_str()), names.join(" "))?;
    }
    let what = format!(
        "{} at {}, {} refused",
        wording::count(entries, "entry"),
        wording::count(found.visits.len(), "visit"),
        found.refused.len()
    );
    if asked.dry_run || entries == 0 {
        writeln!(out, "{what}; nothing was changed")?;
    } else {
        if !found.hives.is_empty() {
            save_hives(held, &import::Imported { hives: found.hives.clone(), ..Default::default() }, asked)?;
            writeln!(
                out,
                "{} new to the book, in one deep box: set them up in the roster",
                wording::count(found.hives.len(), "hive")
            )?;
        }
        let progress = Progress::of("visits written", found.visits.len());
        for visit in &found.visits {
            // Each is whole on the disk or not there: stopped between two, the rest comes with the same table again.
            held.folder.add_visit(visit)?;
            progress.step();
        }
        drop(progress);
        writeln!(out, "{what}; added")?;
    }
    Ok(if found.refused.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

fn save_hives(held: &Held, found: &import::Imported, asked: &ImportArgs) -> Result<(), CliError> {
    match held.folder.comments()? {
        count if count > 0 && !asked.drop_comments => Err(CliError::Comments(count)),
        _ => {
            held.folder.save_yards(&import::add(&held.book, found), true)?;
            Ok(())
        }
    }
}

fn hives(
    text: &str,
    held: &Held,
    asked: &ImportArgs,
    args: &Args,
    around: &Surroundings,
    out: &mut impl Write,
) -> Result<ExitCode, CliError> {
    let today = args.on.unwrap_or_else(|| around.today());
    let into = into(asked, &held.book);
    let how = (today, order(asked));
    let found = import::hives_from_table(text, &asked.file, &held.book, into.as_ref(), how)?;
    for (column, field) in &found.matched {
        writeln!(out, "column {:?} is read as {field}", visible(column))?;
    }
    for (column, near) in &found.ignored {
        let near = near.map_or_else(String::new, |n| format!("; did you mean {n}?"));
        writeln!(out, "column {:?} is not read{near}", visible(column))?;
    }
    refused(&found.refused, out)?;
    for (yard, hive) in &found.hives {
        writeln!(out, "{}: {} at {}", if asked.dry_run { "would add" } else { "adds" }, hive.id, yard)?;
    }
    if asked.dry_run {
        writeln!(out, "{} to add, {} refused; nothing was changed", found.hives.len(), found.refused.len())?;
    } else if found.hives.is_empty() {
        writeln!(out, "nothing to add, {} refused; nothing was changed", found.refused.len())?;
    } else {
        save_hives(held, &found, asked)?;
        writeln!(
            out,
            "{} added, {} refused; the former yard.ron is kept in former/",
            found.hives.len(),
            found.refused.len()
        )?;
    }
    Ok(if found.refused.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(1) })
}
