//! Reading a book from the disk: each file by itself, so that one odd file costs what is in it and nothing else.

use std::collections::{BTreeMap, BTreeSet};
use std::io;
use std::path::{Path, PathBuf};

use chrono::NaiveDate;

use super::book_folder::{Source, safe_stem};
use super::error::StoreError;
use super::files::Files;
use super::parse;
use super::snapshot::{Seen, Stamp, now};
use super::versions::{self, SetUp};
use crate::model::{
    Book, Difference, Fault, FaultAt, HiveId, LeftOut, Visit, VisitId, file_words, on_every_core, visible,
};

/// Files read before they are parsed together: what bounds the text held at once.
const BATCH: usize = 512;
/// Files for which another core is worth its start.
const LEAST_SHARE: usize = 24;

/// A book as its files have it, whether or not it holds together: for a check.
#[derive(Debug)]
pub struct Contents {
    /// The book.
    pub book: Book,
    /// Where it was read from.
    pub source: Source,
    /// The file of each visit that has one.
    pub files: BTreeMap<VisitId, PathBuf>,
    /// Files that cannot be read, and further files of one visit.
    pub left_out: Vec<LeftOut>,
    /// Where two laptops set up the same thing differently.
    pub differences: Vec<Difference>,
}

/// What the files of a book's folder hold.
#[derive(Debug)]
struct InFiles {
    /// The yards of all versions joined.
    set_up: SetUp,
    /// The visits that can be read, each with its file.
    visits: Vec<(PathBuf, Visit)>,
    /// Why the others cannot be.
    unread: Vec<StoreError>,
}

/// Reads a book folder or a whole-book file, without checking that it holds together.
///
/// # Errors
/// The first file that cannot be read or parsed.
pub fn read(path: &Path) -> Result<(Book, Source), StoreError> {
    let files = Files::default();
    if path.is_file() {
        let book = parse::book_from_text(&files.read_text(path)?, path)?;
        return Ok((book, Source::File(path.to_owned())));
    }
    let InFiles { set_up, visits, mut unread } = in_files(&files, path)?;
    if !unread.is_empty() {
        return Err(unread.swap_remove(0));
    }
    let visits = visits.into_iter().map(|(_, visit)| visit).collect();
    let book = Book { visits, ..set_up.book };
    Ok((book.under_present_names(), Source::Folder(path.to_owned())))
}

/// Reads as much of a book as holds together: the visits in whose files nothing is wrong, and what was left out.
///
/// `today` bounds the days of visits. Of a whole-book file nothing is left out.
///
/// # Errors
/// Where there is no book, or its yards cannot be read or do not hold together: without them no visit makes sense.
pub fn read_usable(path: &Path, today: NaiveDate) -> Result<(Book, Source, Vec<LeftOut>), StoreError> {
    read_usable_on(&Files::default(), path, today)
}

/// The same through files of one's own, such as those that keep what they read.
///
/// # Errors
/// As there.
pub fn read_usable_on(
    files: &Files,
    path: &Path,
    today: NaiveDate,
) -> Result<(Book, Source, Vec<LeftOut>), StoreError> {
    if path.is_file() {
        let (book, source) = read(path)?;
        super::refuse_faults(&book, &source, today)?;
        return Ok((book, source, Vec::new()));
    }
    let (book, left_out, _) = read_folder(files, path, today)?;
    Ok((book, Source::Folder(path.to_owned()), left_out))
}

/// Reads a book and its faults alike, with what cannot be read left out: for a check.
///
/// # Errors
/// Where there is no book, or its yards cannot be read: without them no visit makes sense.
pub fn read_all(path: &Path) -> Result<Contents, StoreError> {
    if path.is_file() {
        let (book, source) = read(path)?;
        let (files, left_out, differences) = (BTreeMap::new(), Vec::new(), Vec::new());
        return Ok(Contents { book, source, files, left_out, differences });
    }
    let (set_up, visits, left_out) = sorted_out(in_files(&Files::default(), path)?, path);
    let files = visits.iter().map(|(file, visit)| (visit.id.clone(), file.clone())).collect();
    let visits = visits.into_iter().map(|(_, visit)| visit).collect();
    let book = Book { visits, ..set_up.book }.under_present_names();
    let (source, differences) = (Source::Folder(path.to_owned()), set_up.differences);
    Ok(Contents { book, source, files, left_out, differences })
}

/// The yards, the visits with their files from the book's folder on, and the files that are out of the question.
type SortedOut = (SetUp, Vec<(PathBuf, Visit)>, Vec<LeftOut>);

/// What holds together, what was left out, and the yards as all versions have them.
type HoldingTogether = (Book, Vec<LeftOut>, SetUp);

fn sorted_out(InFiles { mut set_up, visits, unread }: InFiles, path: &Path) -> SortedOut {
    let from_here = |file: &Path| file.strip_prefix(path).unwrap_or(file).to_owned();
    let unread = unread.iter().map(|err| err.left_out(err.path().unwrap_or(path), path));
    let mut left_out: Vec<LeftOut> = set_up.left_out.drain(..).chain(unread).collect();
    let visits = visits.into_iter().map(|(file, visit)| (from_here(&file), visit)).collect();
    let (visits, copies) = one_of_each(visits);
    left_out.extend(copies);
    (set_up, visits, left_out)
}

/// Reads what holds together of a folder, on a disk of one's own.
pub(super) fn read_folder(
    files: &Files,
    path: &Path,
    today: NaiveDate,
) -> Result<HoldingTogether, StoreError> {
    let found = in_files(files, path)?;
    files.read_for(today);
    holding_together(sorted_out(found, path), path, today)
}

/// The same, but for a disk that refuses: to one who has the book already, it is better as it was than with holes in it.
pub(super) fn read_folder_whole(
    files: &Files,
    path: &Path,
    today: NaiveDate,
) -> Result<HoldingTogether, StoreError> {
    let mut found = in_files(files, path)?;
    files.read_for(today);
    match found.unread.iter().position(is_of_the_disk) {
        Some(at) => Err(found.unread.swap_remove(at)),
        None => holding_together(sorted_out(found, path), path, today),
    }
}

/// Whether it is the disk that refuses, and not the file that is odd.
fn is_of_the_disk(err: &StoreError) -> bool {
    use io::ErrorKind::{InvalidData, NotFound, Other, PermissionDenied};
    match err {
        StoreError::Io { source, .. } => {
            !matches!(source.kind(), Other | PermissionDenied | NotFound | InvalidData)
        }
        _ => false,
    }
}

fn holding_together(
    (set_up, visits, mut left_out): SortedOut,
    path: &Path,
    today: NaiveDate,
) -> Result<HoldingTogether, StoreError> {
    let with_file = |(file, visit): (PathBuf, Visit)| ((file, visit.id.clone()), visit);
    let (mut files, visits): (Vec<(PathBuf, VisitId)>, Vec<Visit>) =
        visits.into_iter().map(with_file).unzip();
    let mut book = Book { visits, ..set_up.book.clone() };
    loop {
        book = book.under_present_names();
        let faults = book.faults(book.last_day(today));
        if let Some(err) = yards_at_fault(&faults, path) {
            return Err(err);
        }
        let mut wrong: BTreeMap<VisitId, (String, String)> = BTreeMap::new();
        for fault in faults {
            if let FaultAt::Visit(id) = fault.at {
                wrong.entry(id).or_insert((fault.what, fault.mend));
            }
        }
        if wrong.is_empty() {
            return Ok((book, left_out, set_up));
        }
        for (file, id) in &files {
            if let Some((what, mend)) = wrong.get(id) {
                let (file, what, mend) = (file.clone(), what.clone(), mend.clone());
                left_out.push(LeftOut { file, instead: None, is_copy: false, what, mend });
            }
        }
        files.retain(|(_, id)| !wrong.contains_key(id));
        book.visits.retain(|visit| !wrong.contains_key(&visit.id));
    }
}

/// What is wrong with `yard.ron`, the first of it.
fn yards_at_fault(faults: &[Fault], folder: &Path) -> Option<StoreError> {
    let mut of_yards = faults.iter().filter(|fault| fault.at == FaultAt::Yards);
    let first = of_yards.next()?;
    Some(StoreError::Faulty {
        path: folder.join("yard.ron"),
        what: first.what.clone(),
        mend: first.mend.clone(),
        more: of_yards.count(),
    })
}

/// Of several files of the same visit the one whose name is the visit's own; the others are left out.
fn one_of_each(visits: Vec<(PathBuf, Visit)>) -> (Vec<(PathBuf, Visit)>, Vec<LeftOut>) {
    let mut kept: Vec<(PathBuf, Visit)> = Vec::new();
    let mut places: BTreeMap<VisitId, usize> = BTreeMap::new();
    let mut copies: Vec<(PathBuf, Visit)> = Vec::new();
    let is_own = |(file, visit): &(PathBuf, Visit)| {
        file.file_stem().is_some_and(|stem| stem.to_string_lossy() == safe_stem(&visit.id))
    };
    for mut each in visits {
        let there = places.get(&each.1.id).and_then(|at| kept.get_mut(*at));
        let Some(there) = there else {
            places.insert(each.1.id.clone(), kept.len());
            kept.push(each);
            continue;
        };
        if is_own(&each) && !is_own(there) {
            std::mem::swap(&mut each, there);
        }
        copies.push(each);
    }
    let left_out = copies.into_iter().filter_map(|(file, visit)| {
        let (instead, other) = places.get(&visit.id).and_then(|at| kept.get(*at))?;
        let there = file_words(instead);
        let (what, mend) = if *other == visit {
            (format!("holds the same visit as {there}"), "one of the two can go".to_owned())
        } else {
            (
                format!(
                    "holds another version of the visit in {there}; they differ {}",
                    differences(&visit, other)
                ),
                "look at both and keep the one that is right".to_owned(),
            )
        };
        Some(LeftOut { file, instead: Some(instead.clone()), is_copy: *other == visit, what, mend })
    });
    let left_out = left_out.collect();
    (kept, left_out)
}

/// Where two versions of a visit differ, in words.
fn differences(one: &Visit, other: &Visit) -> String {
    let hives: BTreeSet<&HiveId> =
        one.entries.iter().chain(&other.entries).map(|entry| &entry.hive).collect();
    let at: Vec<String> = hives
        .into_iter()
        .filter(|hive| one.entry(hive) != other.entry(hive))
        .map(|hive| visible(hive.as_str()))
        .collect();
    let with = |visit: &Visit| Visit { entries: Vec::new(), ..visit.clone() };
    match (at.as_slice(), with(one) == with(other)) {
        ([], _) => "in the weather, the day or the note".to_owned(),
        (_, true) => format!("at {}", at.join(" ")),
        (_, false) => format!("at {}, and in the weather, the day or the note", at.join(" ")),
    }
}

fn in_files(files: &Files, path: &Path) -> Result<InFiles, StoreError> {
    let yard_file = path.join("yard.ron");
    files.refuse_link(&yard_file)?;
    if !files.is_there(&yard_file)? {
        return Err(StoreError::NoBook { path: path.to_owned() });
    }
    // Before they are read, as with the visits.
    let mut kept = files.kept(path);
    let others = kept.as_ref().map_or_else(Vec::new, |_| stamps_beside(files, path, &yard_file));
    let mut book = parse::book_from_text(&files.read_text(&yard_file)?, &yard_file)?;
    // Visits written into it by hand.
    let mut visits: Vec<(PathBuf, Visit)> =
        std::mem::take(&mut book.visits).into_iter().map(|visit| (yard_file.clone(), visit)).collect();
    let (found, mut unread) = visit_files(files, path);
    let mut seen: Vec<Seen> = Vec::new();
    for (batch, first) in found.chunks(BATCH).zip((0..).step_by(BATCH)) {
        let read = |file: &PathBuf| files.refuse_link(file).and_then(|()| files.read_small(file));
        let mut texts: Vec<(usize, &PathBuf, Option<Stamp>, String)> = Vec::new();
        for (file, at) in batch.iter().zip(first..) {
            // Before its words are read: what changes meanwhile has another stamp the next time.
            let stamp = kept.as_ref().and_then(|_| files.stamp(file));
            let known = kept.as_mut().and_then(|kept| kept.take(file, stamp?));
            if let Some(visit) = known {
                seen.push(Seen { at, file: file.clone(), stamp, visit });
                continue;
            }
            match read(file) {
                Ok(text) => texts.push((at, file, stamp, text)),
                Err(err) => unread.push(err),
            }
        }
        let parsed =
            on_every_core(&texts, LEAST_SHARE, |(_, file, _, text)| parse::visit_from_text(text, file));
        for ((at, file, stamp, _), visit) in texts.into_iter().zip(parsed) {
            match visit {
                Ok(visit) => seen.push(Seen { at, file: file.clone(), stamp, visit }),
                Err(err) => unread.push(err),
            }
        }
    }
    seen.sort_by_key(|each| each.at);
    if let Some(kept) = kept {
        kept.finish(&seen, &others);
    }
    visits.extend(seen.into_iter().map(|each| (each.file, each.visit)));
    Ok(InFiles { set_up: versions::read(files, path, book)?, visits, unread })
}

/// Looks at a book's files and reads none of them: whether what was learned of it on a day still holds is told by that.
pub(super) fn look_over(files: &Files, path: &Path, today: NaiveDate) {
    let looked_at = now();
    let others = stamps_beside(files, path, &path.join("yard.ron"));
    let (found, unread) = visit_files(files, path);
    if unread.is_empty() {
        files.looked_over(found.iter().map(|file| (file.as_path(), files.stamp(file))), &others, looked_at);
        files.read_for(today);
    }
}

/// The stamps of what is read of a book beside its visits: its yards, and former versions of them.
fn stamps_beside(files: &Files, folder: &Path, yard_file: &Path) -> Vec<Option<Stamp>> {
    let former = files.list(&folder.join("former")).unwrap_or_default();
    let copies = files.list(folder).unwrap_or_default();
    let is_read = |path: &PathBuf| path.extension().is_some_and(|end| end.eq_ignore_ascii_case("ron"));
    let beside = former.iter().chain(copies.iter().filter(|path| is_read(path) && *path != yard_file));
    std::iter::once(files.stamp(yard_file)).chain(beside.map(|path| files.stamp(path))).collect()
}

/// The visit files of a book folder, `visits/YEAR/*.ron`, also those that lie beside the years; and the folders that cannot be
/// listed.
fn visit_files(files: &Files, folder: &Path) -> (Vec<PathBuf>, Vec<StoreError>) {
    let (mut found, mut unread) = (Vec::new(), Vec::new());
    let visits = folder.join("visits");
    let is_visit = |path: &Path| {
        path.extension().is_some_and(|e| e == "ron")
            && !path.file_name().is_some_and(|n| n.to_string_lossy().starts_with('.'))
    };
    let mut list = |path: &Path| match files.refuse_link(path).and_then(|()| files.list(path)) {
        Ok(entries) => entries,
        Err(err) => {
            unread.push(err);
            Vec::new()
        }
    };
    for entry in list(&visits) {
        if is_visit(&entry) {
            found.push(entry);
        } else if entry.is_dir() {
            found.extend(list(&entry).into_iter().filter(|path| is_visit(path)));
        }
    }
    (found, unread)
}
