//! The versions of `yard.ron`: each is kept in `former/` under a name that says which versions it was made of, so that
//! set-ups changed in two places at once are seen and joined, in whatever order their files arrive.

mod id;

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use super::error::StoreError;
use super::files::Files;
use super::parse;
use crate::model::{Book, Difference, Joined, LeftOut, Side, file_words, joined};
use id::{Id, Made};

/// Versions that are kept whole; of older ones the name alone is kept, which says what was made of what.
const KEPT_WHOLE: usize = 100;
/// Most versions that are joined: more ends than laptops are a fault, and not a way to work.
const MOST_HEADS: usize = 16;

/// A version that nothing was made of yet.
#[derive(Debug, Clone)]
struct Head {
    made: Made,
    book: Book,
}

/// The yards, hives and practice of a book as all its versions have them.
#[derive(Debug, Clone)]
pub(super) struct SetUp {
    /// All ends joined, without visits.
    pub(super) book: Book,
    /// Where they differ.
    pub(super) differences: Vec<Difference>,
    /// What could not be taken in.
    pub(super) left_out: Vec<LeftOut>,
    heads: Vec<Head>,
}

/// What came of writing yards.
#[derive(Debug, Clone)]
pub struct Saved {
    /// The yards as they stand now.
    pub book: Book,
    /// Where two laptops set them differently.
    pub differences: Vec<Difference>,
    /// Whether something was taken in that was changed meanwhile, by hand or elsewhere.
    pub was_joined: bool,
}

impl SetUp {
    fn ids(&self) -> Vec<Id> {
        self.heads.iter().map(|head| head.made.id).collect()
    }

    fn saved(&self, was_joined: bool) -> Saved {
        Saved { book: self.book.clone(), differences: self.differences.clone(), was_joined }
    }
}

/// The versions whose files are there, by what they are.
struct Kept<'a> {
    files: &'a Files,
    by_id: BTreeMap<Id, (Made, PathBuf)>,
    /// The one that stands in `yard.ron`, which is read already.
    own: Option<(Id, Book)>,
}

impl<'a> Kept<'a> {
    fn list(files: &'a Files, folder: &Path) -> Result<Self, StoreError> {
        let former = folder.join("former");
        files.refuse_link(&former)?;
        let found = files.list(&former)?.into_iter();
        let by_id = found.filter_map(|path| Made::of_file(&path).map(|made| (made.id, (made, path))));
        Ok(Self { files, by_id: by_id.collect(), own: None })
    }

    /// What a version holds; none where only its name was kept.
    fn book(&self, id: Id) -> Result<Option<Book>, StoreError> {
        if let Some((_, yards)) = self.own.as_ref().filter(|(own, _)| *own == id) {
            return Ok(Some(yards.clone()));
        }
        let Some((_, path)) = self.by_id.get(&id) else { return Ok(None) };
        self.files.refuse_link(path)?;
        let text = self.files.read_text(path)?;
        if text.is_empty() {
            return Ok(None);
        }
        let read = parse::book_from_text(&text, path)?;
        Ok(Some(bare(read)))
    }

    /// The ends, in the order of their names. One that cannot be read is told and taken out; what it was made of is an end again.
    fn heads(&mut self, mut tell: impl FnMut(&Path, &StoreError)) -> Vec<Head> {
        loop {
            let of: BTreeSet<Id> =
                self.by_id.values().flat_map(|(made, _)| made.of.iter().copied()).collect();
            let (mut heads, mut unread) = (Vec::new(), Vec::new());
            for (made, path) in self.by_id.values().filter(|(made, _)| !of.contains(&made.id)) {
                match self.book(made.id) {
                    Ok(Some(book)) => heads.push(Head { made: made.clone(), book }),
                    Ok(None) => unread.push(made.id),
                    Err(err) => {
                        tell(path, &err);
                        unread.push(made.id);
                    }
                }
            }
            if unread.is_empty() {
                return heads;
            }
            self.by_id.retain(|id, _| !unread.contains(id));
        }
    }

    /// A version and all it came of.
    fn ancestry(&self, made: &Made) -> BTreeSet<Id> {
        let mut found = BTreeSet::from([made.id]);
        let mut next = made.of.clone();
        while let Some(id) = next.pop() {
            if found.insert(id)
                && let Some((made, _)) = self.by_id.get(&id)
            {
                next.extend(&made.of);
            }
        }
        found
    }
}

/// The yards alone.
fn bare(book: Book) -> Book {
    Book { visits: Vec::new(), version: None, ..book }
}

/// What a book holds in short: FNV-1a, 32 bits (Fowler, Noll and Vo), of its text.
fn mark_of(book: &Book) -> Result<u32, StoreError> {
    let text = parse::book_to_text(book, Path::new("yard.ron"))?;
    Ok(super::book_folder::hash(&text))
}

/// Which version `yard.ron` holds: the one it says, or, changed by hand since, one made of that. One that says nothing is the
/// first of the book, or made of that.
fn made_of(version: Option<&str>, yards: &Book, kept: &Kept<'_>) -> Result<Made, StoreError> {
    let mark = mark_of(yards)?;
    let Some(said) = version.and_then(Made::of_marker) else {
        let first = first_of(mark);
        let of: Vec<Id> = kept.by_id.keys().filter(|id| id.number == 0).copied().collect();
        if of.is_empty() || of.contains(&first.id) {
            return Ok(first);
        }
        return Ok(Made { id: Id { number: 1, mark, apart: 0 }, of });
    };
    if said.id.mark == mark {
        return Ok(said);
    }
    let number = said.id.number.saturating_add(1);
    Ok(Made { id: Id { number, mark, apart: 0 }, of: vec![said.id] })
}

/// The first version of a book.
fn first_of(mark: u32) -> Made {
    Made { id: Id { number: 0, mark, apart: 0 }, of: Vec::new() }
}

/// Writes the yards of a new book, and keeps them as its first version.
///
/// # Errors
/// Where there are yards already, or the disk refuses.
pub(super) fn begin(files: &Files, folder: &Path, book: &Book) -> Result<(), StoreError> {
    let (yards, path) = (bare(book.clone()), folder.join("yard.ron"));
    let made = first_of(mark_of(&yards)?);
    keep(files, folder, &made, &yards)?;
    files.write_new(&path, &text_of(&made, &yards, &path)?)
}

/// Joins what stands in `yard.ron` with the versions that were made elsewhere.
///
/// # Errors
/// None for a version that cannot be read: it is left out and told. The writer's own are passed on.
pub(super) fn read(files: &Files, folder: &Path, yards: Book) -> Result<SetUp, StoreError> {
    read_with_versions(files, folder, yards).map(|(set_up, _)| set_up)
}

fn read_with_versions<'a>(
    files: &'a Files,
    folder: &Path,
    mut yards: Book,
) -> Result<(SetUp, Kept<'a>), StoreError> {
    let version = yards.version.take();
    let yards = bare(yards);
    let mut left_out = Vec::new();
    let tell = |path: &Path, err: &StoreError| err.left_out(path, folder);
    let mut kept = Kept::list(files, folder).unwrap_or_else(|err| {
        left_out.push(tell(&folder.join("former"), &err));
        Kept { files, by_id: BTreeMap::new(), own: None }
    });
    let own = made_of(version.as_deref(), &yards, &kept)?;
    kept.own = Some((own.id, yards.clone()));
    kept.by_id.entry(own.id).or_insert_with(|| (own.clone(), folder.join("yard.ron")));
    for path in copies(files, folder) {
        match copy_of(files, &path, &mut kept) {
            Ok(()) => left_out.push(LeftOut {
                file: path.strip_prefix(folder).unwrap_or(&path).to_owned(),
                instead: None,
                is_copy: true,
                what: "is a copy of yard.ron, as a synchronizer leaves it; what it holds is taken in"
                    .to_owned(),
                mend: "put it aside: nothing of it is lost".to_owned(),
            }),
            Err(err) => left_out.push(tell(&path, &err)),
        }
    }
    let heads = kept.heads(|path, err| left_out.push(tell(path, err)));
    let too_many = heads.len().saturating_sub(MOST_HEADS);
    let heads: Vec<Head> = heads.into_iter().skip(too_many).collect();
    if let [newer] = heads.as_slice()
        && newer.made.id != own.id
        && newer.book != yards
        && let Some((_, path)) = kept.by_id.get(&newer.made.id)
    {
        let newer = file_words(path.strip_prefix(folder).unwrap_or(path));
        left_out.push(LeftOut {
            file: PathBuf::from("yard.ron"),
            instead: None,
            is_copy: true,
            what: format!("is older than {newer}, which is taken in its place"),
            mend: format!(
                "nothing need be done; to go back to the older one, take {newer} out of the folder"
            ),
        });
    }
    let Joined { book, differences } =
        join(&kept, &heads, &[]).unwrap_or(Joined { book: yards, differences: Vec::new() });
    Ok((SetUp { book, differences, left_out, heads }, kept))
}

/// Further `yard.ron` as synchronizers leave them beside it: `yard (conflicted copy).ron`, `yard.sync-conflict-1.ron`,
/// `yard (1).ron`. A copy by any other name is the keeper's own, and no business of ours.
fn copies(files: &Files, folder: &Path) -> Vec<PathBuf> {
    let is_copy = |path: &PathBuf| {
        let stem = path.file_stem().map(|stem| stem.to_string_lossy().to_lowercase()).unwrap_or_default();
        let is_numbered = stem.strip_prefix("yard (").and_then(|rest| rest.strip_suffix(')'));
        let is_numbered = is_numbered.is_some_and(|number| number.chars().all(|c| c.is_ascii_digit()));
        let is_ron = path.extension().is_some_and(|end| end.eq_ignore_ascii_case("ron"));
        is_ron && stem.starts_with("yard") && (is_numbered || stem.contains("conflict")) && path.is_file()
    };
    files.list(folder).unwrap_or_default().into_iter().filter(is_copy).collect()
}

/// Takes a copy of `yard.ron` in as the version it holds.
fn copy_of(files: &Files, path: &Path, kept: &mut Kept<'_>) -> Result<(), StoreError> {
    files.refuse_link(path)?;
    let mut read = parse::book_from_text(&files.read_text(path)?, path)?;
    let version = read.version.take();
    let made = made_of(version.as_deref(), &bare(read), kept)?;
    kept.by_id.entry(made.id).or_insert_with(|| (made, path.to_owned()));
    Ok(())
}

/// Joins the ends, in the order of their names: the same on every laptop that has them. None where there is none.
fn join(kept: &Kept<'_>, heads: &[Head], chosen: &[Side]) -> Option<Joined> {
    let (first, others) = heads.split_first()?;
    let mut so_far = Joined { book: first.book.clone(), differences: Vec::new() };
    let mut known = kept.ancestry(&first.made);
    for head in others {
        let of_head = kept.ancestry(&head.made);
        let common = known.intersection(&of_head).copied().collect();
        let common = common_of(kept, &common);
        let chosen = chosen.get(so_far.differences.len()..).unwrap_or_default();
        let next = joined(common.as_ref(), &so_far.book, &head.book, chosen);
        so_far.book = next.book;
        so_far.differences.extend(next.differences);
        known.extend(of_head);
    }
    Some(so_far)
}

/// What two ends have in common: the last version both came of; of several, as where two laptops joined the same ends each for
/// itself, those joined.
fn common_of(kept: &Kept<'_>, common: &BTreeSet<Id>) -> Option<Book> {
    let made: Vec<&Made> = common.iter().filter_map(|id| kept.by_id.get(id).map(|(made, _)| made)).collect();
    let passed: BTreeSet<Id> = made.iter().flat_map(|made| made.of.iter().copied()).collect();
    let last: Vec<Head> = made
        .into_iter()
        .filter(|made| !passed.contains(&made.id))
        .filter_map(|made| Some(Head { made: made.clone(), book: kept.book(made.id).ok()?? }))
        .collect();
    join(kept, &last, &[]).map(|joined| joined.book)
}

/// Writes yards on top of what was known when they were changed; what was changed meanwhile by hand or elsewhere is joined with
/// them, and where both changed the same it is for the keeper to choose. Unless it `may_join`, that waits: the yards are kept
/// as a version of their own.
///
/// # Errors
/// Where the disk refuses; then `yard.ron` stands as it was.
pub(super) fn save(
    files: &Files,
    folder: &Path,
    known: &SetUp,
    new: &Book,
    may_join: bool,
) -> Result<(SetUp, Saved), StoreError> {
    let new = bare(new.clone());
    keep_heads(files, folder, known)?;
    let now = read(files, folder, yard_file(files, folder)?)?;
    if now.ids() == known.ids() && now.differences.is_empty() {
        let set_up = write(files, folder, &now, new)?;
        let saved = set_up.saved(false);
        return Ok((set_up, saved));
    }
    // On each end of what was known the same change, so that no difference is taken for settled by it.
    let mut mine = known.clone();
    for head in &mut mine.heads {
        let changed = joined(Some(&known.book), &head.book, &new, &[]).book;
        if changed != head.book {
            let made = version_of(&[head.made.id], &changed)?;
            keep(files, folder, &made, &changed)?;
            *head = Head { made, book: changed };
        }
    }
    if !may_join && now.ids() != known.ids() {
        mine.book = new;
        let saved = mine.saved(false);
        return Ok((mine, saved));
    }
    let both = read(files, folder, yard_file(files, folder)?)?;
    let was_joined = now.ids() != known.ids();
    let set_up = if both.differences.is_empty() {
        keep_heads(files, folder, &both)?;
        let book = both.book.clone();
        write(files, folder, &both, book)?
    } else {
        both
    };
    let saved = set_up.saved(was_joined);
    Ok((set_up, saved))
}

/// Writes the one version in which every difference is settled as chosen.
///
/// # Errors
/// Where the disk refuses, or the differences are not those that were chosen from any more.
pub(super) fn settle(
    files: &Files,
    folder: &Path,
    known: &SetUp,
    chosen: &[Side],
) -> Result<Option<(SetUp, Saved)>, StoreError> {
    let (now, kept) = read_with_versions(files, folder, yard_file(files, folder)?)?;
    if now.ids() != known.ids() || chosen.len() != now.differences.len() {
        return Ok(None);
    }
    let Some(Joined { book, .. }) = join(&kept, &now.heads, chosen) else { return Ok(None) };
    keep_heads(files, folder, &now)?;
    let set_up = write(files, folder, &now, book)?;
    let saved = set_up.saved(false);
    Ok(Some((set_up, saved)))
}

fn yard_file(files: &Files, folder: &Path) -> Result<Book, StoreError> {
    let path = folder.join("yard.ron");
    parse::book_from_text(&files.read_text(&path)?, &path)
}

fn version_of(of: &[Id], book: &Book) -> Result<Made, StoreError> {
    let number = of.iter().map(|id| id.number).max().unwrap_or(0).saturating_add(1);
    // Of the system's own chance: nobody else makes the same.
    let apart = std::hash::BuildHasher::hash_one(&std::hash::RandomState::new(), 0);
    let apart = u32::try_from(apart & u64::from(u32::MAX)).unwrap_or(1).max(1);
    Ok(Made { id: Id { number, mark: mark_of(book)?, apart }, of: of.to_vec() })
}

fn text_of(made: &Made, book: &Book, path: &Path) -> Result<String, StoreError> {
    parse::book_to_text(&Book { version: Some(made.marker()), ..book.clone() }, path)
}

/// Puts a version in the place of `yard.ron`, and beside it into `former/`, where the ends it is made of are kept already.
fn write(files: &Files, folder: &Path, now: &SetUp, book: Book) -> Result<SetUp, StoreError> {
    let made = version_of(&now.ids(), &book)?;
    let path = folder.join("yard.ron");
    let (before, text) = (files.read_text(&path)?, text_of(&made, &book, &path)?);
    if parse::comments_in(&before) > 0 {
        // Of one version only what it says is kept; what was written beside it by hand goes with this.
        let former = folder.join("former");
        let free = files.free_name(&former, "yard-by-hand.ron")?;
        files.write_new(&former.join(free), &before)?;
    }
    if let Err(err) = files.replace(&path, &text) {
        // It may be in its place all the same, and only not known to be on the disk: then it is, or the former one is put back.
        let is_there = files.read_text(&path).is_ok_and(|there| there == text);
        if !is_there || files.sync_folder_of(&path).is_err() {
            if is_there {
                let _ = files.replace(&path, &before);
            }
            return Err(err);
        }
    }
    // It holds from here on. That it is kept beside can be made up for: the next change does it.
    let _ = keep(files, folder, &made, &book);
    let _ = thin_out(files, folder);
    let head = Head { made, book: book.clone() };
    Ok(SetUp { book, differences: Vec::new(), left_out: Vec::new(), heads: vec![head] })
}

/// Keeps every end, as one laptop alone may know it; `yard.ron` octet for octet, with the comments in it.
pub(super) fn keep_heads(files: &Files, folder: &Path, known: &SetUp) -> Result<(), StoreError> {
    let kept = Kept::list(files, folder)?;
    let is_missing = |head: &&Head| !kept.by_id.contains_key(&head.made.id);
    for head in known.heads.iter().filter(is_missing) {
        let yards = folder.join("yard.ron");
        let text = files.read_text(&yards)?;
        let read = parse::book_from_text(&text, &yards)?;
        if bare(read) == head.book {
            put(files, &folder.join("former").join(head.made.file_name()), &text)?;
        } else {
            keep(files, folder, &head.made, &head.book)?;
        }
    }
    Ok(())
}

fn keep(files: &Files, folder: &Path, made: &Made, book: &Book) -> Result<(), StoreError> {
    let path = folder.join("former").join(made.file_name());
    put(files, &path, &text_of(made, book, &path)?)
}

fn put(files: &Files, path: &Path, text: &str) -> Result<(), StoreError> {
    match files.write_new(path, text) {
        Ok(()) | Err(StoreError::Taken { .. }) => Ok(()),
        Err(err) => Err(err),
    }
}

/// Empties the files of all versions but the newest; their names go on saying what was made of what.
fn thin_out(files: &Files, folder: &Path) -> Result<(), StoreError> {
    let kept = Kept::list(files, folder)?;
    for (_, path) in kept.by_id.values().rev().skip(KEPT_WHOLE) {
        if files.read_text(path)?.is_empty() {
            break;
        }
        files.replace(path, "")?;
    }
    Ok(())
}

#[cfg(test)]
mod tests;
