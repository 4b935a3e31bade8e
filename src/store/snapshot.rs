//! A disposable copy of what the visit files hold, in the cache folder: at a start only new and changed files are parsed.
//!
//! It is never the only place of anything. A file is taken from it only where its size, its times and its place on the disk
//! are those it had; whatever is damaged, old or another's is passed over without a word, and made anew.

use std::cell::{Cell, RefCell};
use std::collections::HashMap;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use chrono::NaiveDate;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use super::disk::{Disk as _, SystemDisk};
use super::files::Files;
use crate::model::{FORMAT, Visit, mark};

/// What is at the head of every one. The number is raised where the form changes.
const HEAD: &[u8] = b"yardwalk visits 1\n";
/// Most octets that are read of one.
const MOST: u64 = 512 * 1024 * 1024;
/// A file changed so shortly before it was read may change again within the same tick of its clock: it is not trusted.
pub(super) const SETTLED: Duration = Duration::from_secs(2);

/// What tells one state of a file from another, short of reading it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Stamp {
    /// Octets.
    pub(super) size: u64,
    /// When its words last changed, in nanoseconds since 1970.
    pub(super) modified: i128,
    /// When the file itself last changed, where the system tells it.
    pub(super) changed: i128,
    /// Its place on the disk, where the system tells it.
    pub(super) place: u64,
}

/// Nanoseconds since 1970.
pub(super) fn nanoseconds(at: SystemTime) -> i128 {
    match at.duration_since(UNIX_EPOCH) {
        Ok(since) => i128::try_from(since.as_nanos()).unwrap_or(i128::MAX),
        Err(before) => -i128::try_from(before.duration().as_nanos()).unwrap_or(i128::MAX),
    }
}

/// Now, by the clock that also stamps files: no day of a record depends on it, only whether a file is trusted.
#[expect(clippy::disallowed_methods, reason = "it is held to the times of files, not to days")]
pub(super) fn now() -> i128 {
    nanoseconds(SystemTime::now())
}

/// For which program, format and folder one is made.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
struct MadeFor {
    program: String,
    format: u32,
    folder: PathBuf,
}

impl MadeFor {
    fn this(folder: &Path) -> Self {
        Self { program: env!("CARGO_PKG_VERSION").to_owned(), format: FORMAT, folder: folder.to_owned() }
    }
}

/// A visit with its file, from the book's folder on.
#[derive(Debug, Serialize, Deserialize)]
struct Page<V> {
    file: PathBuf,
    stamp: Stamp,
    visit: V,
}

#[derive(Debug, Serialize, Deserialize)]
struct Whole<V> {
    made_for: MadeFor,
    /// When the files were looked at, in nanoseconds since 1970.
    looked_at: i128,
    pages: Vec<Page<V>>,
}

/// The program's own file as it is: what is learned goes by its rules, which change from one build to the next under the
/// same number.
fn this_program() -> Option<Stamp> {
    SystemDisk::PRIVATE.stamp(&std::env::current_exe().ok()?.canonicalize().ok()?)
}

/// A head, a checksum and what is kept, as octets.
fn octets_of<T: Serialize>(what: &T, head: &[u8]) -> Option<Vec<u8>> {
    let body = rmp_serde::to_vec_named(what).ok()?;
    let mut octets = head.to_vec();
    octets.extend_from_slice(&crc32fast::hash(&body).to_le_bytes());
    octets.extend_from_slice(&body);
    Some(octets)
}

/// What is kept in a file; `None` where it is damaged or of another form.
fn sound<T: DeserializeOwned>(path: &Path, head: &[u8]) -> Option<T> {
    let octets = SystemDisk::PRIVATE.read(path, MOST).ok()?;
    let (sum, body) = octets.strip_prefix(head)?.split_first_chunk::<4>()?;
    if crc32fast::hash(body) != u32::from_le_bytes(*sum) {
        return None;
    }
    rmp_serde::from_slice(body).ok()
}

/// The folder of snapshots, and one that is yet to be written there.
#[derive(Debug)]
pub(super) struct Snapshots {
    cache: PathBuf,
    /// How long before it was looked at a file must have changed last to be trusted.
    settled: Duration,
    unwritten: RefCell<Option<(PathBuf, Vec<u8>)>>,
    /// Files taken from the last one that was read, and files parsed beside it.
    counts: Cell<(usize, usize)>,
    /// The state of all files of the book at the last reading; none where one of them is not to be trusted, or has been
    /// written since.
    state: Cell<Option<u64>>,
}

impl Snapshots {
    pub(super) fn in_folder(cache: &Path, settled: Duration) -> Rc<Self> {
        let cache = cache.to_owned();
        Rc::new(Self {
            cache,
            settled,
            unwritten: RefCell::default(),
            counts: Cell::default(),
            state: Cell::default(),
        })
    }

    /// Files taken at the last reading, and files parsed.
    pub(super) fn counts(&self) -> (usize, usize) {
        self.counts.get()
    }

    fn file(&self, folder: &Path, ending: &str) -> PathBuf {
        self.cache.join(format!("{}.{ending}", mark(&folder.to_string_lossy())))
    }

    /// The book is read for a day: what is of a later one is left out of it.
    pub(super) fn read_for(&self, today: NaiveDate) {
        let with_day = |state: u64| {
            let mut hasher = DefaultHasher::new();
            (state, today).hash(&mut hasher);
            hasher.finish()
        };
        self.state.set(self.state.get().map(with_day));
    }

    /// All files of a book were looked at: its visits, and what is read beside them. There is no state where one of them may
    /// change again within a tick of the clock.
    pub(super) fn looked_over<'a>(
        &self,
        visits: impl Iterator<Item = (&'a Path, Option<Stamp>)>,
        others: &[Option<Stamp>],
        looked_at: i128,
    ) {
        let mut hasher = DefaultHasher::new();
        let all = visits.chain(others.iter().map(|stamp| (Path::new(""), *stamp)));
        let is_settled = all.map(|(file, stamp)| {
            let stamp = stamp.filter(|stamp| stamp.is_settled(self.settled, looked_at))?;
            file.as_os_str().hash(&mut hasher);
            stamp.hash(&mut hasher);
            Some(())
        });
        let is_settled = is_settled.collect::<Option<()>>().is_some();
        self.state.set(is_settled.then(|| hasher.finish()));
    }

    /// A file of the book is written: what was learned so far does not hold with it.
    pub(super) fn forget_state(&self) {
        self.state.set(None);
    }

    /// Something learned of a book, by its name, on the same day from files as they are now.
    pub(super) fn learned<T: DeserializeOwned>(&self, folder: &Path, name: &str, on: NaiveDate) -> Option<T> {
        let folder = folder.canonicalize().ok()?;
        sound(&self.file(&folder, name), &self.head_of_learned(&folder, on)?)
    }

    /// The head of what is learned of a book on a day. What it was learned by is in it, so that what holds no longer is refused
    /// unread; none where nothing holds now.
    fn head_of_learned(&self, folder: &Path, on: NaiveDate) -> Option<Vec<u8>> {
        let mut hasher = DefaultHasher::new();
        (MadeFor::this(folder), this_program()?, self.state.get()?, on).hash(&mut hasher);
        // The number is raised where the form changes.
        Some(format!("yardwalk learned 3 {:016x}\n", hasher.finish()).into_bytes())
    }

    /// Keeps something learned of a book, by its files as they were read. That it cannot be kept is no harm.
    pub(super) fn keep_learned<T: Serialize>(&self, folder: &Path, name: &str, on: NaiveDate, what: &T) {
        let Ok(folder) = folder.canonicalize() else { return };
        let head = self.head_of_learned(&folder, on);
        if let Some(octets) = head.and_then(|head| octets_of(what, &head)) {
            let _ = Files::default().replace_octets(&self.file(&folder, name), &octets);
        }
    }

    /// Writes what is yet to be written. That it cannot be costs the next start some time and nothing else.
    pub(super) fn write(&self) {
        if let Some((path, octets)) = self.unwritten.borrow_mut().take() {
            let _ = Files::default().replace_octets(&path, &octets);
        }
    }
}

/// What is known of a book's visit files from before, and what is learned of them now.
#[derive(Debug)]
pub(super) struct Kept {
    snapshots: Rc<Snapshots>,
    /// The folder as it was named, and whole.
    given: PathBuf,
    folder: PathBuf,
    looked_at: i128,
    known: HashMap<PathBuf, (Stamp, Visit)>,
    /// How many files it knew.
    before: usize,
    /// How many of them were taken.
    taken: usize,
}

/// A visit with its file, as it was read or taken, and its place among the files.
#[derive(Debug)]
pub(super) struct Seen {
    pub(super) at: usize,
    pub(super) file: PathBuf,
    pub(super) stamp: Option<Stamp>,
    pub(super) visit: Visit,
}

impl Kept {
    /// What is known of a folder; nothing where there is no snapshot of it, or none that is sound.
    pub(super) fn of(snapshots: &Rc<Snapshots>, folder: &Path) -> Self {
        let given = folder.to_owned();
        let folder = folder.canonicalize().unwrap_or_else(|_| folder.to_owned());
        let looked_at = now();
        let known = read(&snapshots.file(&folder, "visits"), &folder, snapshots.settled).unwrap_or_default();
        let before = known.len();
        let snapshots = Rc::clone(snapshots);
        Self { snapshots, given, folder, looked_at, known, before, taken: 0 }
    }

    /// A file's name from the book's folder on.
    pub(super) fn name(&self, file: &Path) -> PathBuf {
        file.strip_prefix(&self.given).unwrap_or(file).to_owned()
    }

    /// The visit of a file that is as it was.
    pub(super) fn take(&mut self, file: &Path, stamp: Stamp) -> Option<Visit> {
        let name = self.name(file);
        let (was, visit) = self.known.remove(&name)?;
        let is_same = was == stamp;
        self.taken += usize::from(is_same);
        is_same.then_some(visit)
    }

    /// Makes the next one ready to be written, where anything changed. `others` are the stamps of the book's files beside its
    /// visits.
    pub(super) fn finish(self, seen: &[Seen], others: &[Option<Stamp>]) {
        let visits = seen.iter().map(|each| (each.file.as_path(), each.stamp));
        self.snapshots.looked_over(visits, others, self.looked_at);
        self.snapshots.counts.set((self.taken, seen.len() - self.taken));
        if self.taken == self.before && self.taken == seen.len() {
            return;
        }
        let pages: Vec<Page<&Visit>> = seen
            .iter()
            .filter_map(|each| {
                Some(Page { file: self.name(&each.file), stamp: each.stamp?, visit: &each.visit })
            })
            .collect();
        let whole = Whole { made_for: MadeFor::this(&self.folder), looked_at: self.looked_at, pages };
        let Some(octets) = octets_of(&whole, HEAD) else { return };
        let file = self.snapshots.file(&self.folder, "visits");
        *self.snapshots.unwritten.borrow_mut() = Some((file, octets));
    }
}

impl Stamp {
    /// Whether it was so long unchanged when it was looked at that it is no longer in the same tick of the clock.
    fn is_settled(&self, settled: Duration, looked_at: i128) -> bool {
        let settled = i128::try_from(settled.as_nanos()).unwrap_or(i128::MAX);
        self.modified.max(self.changed).checked_add(settled).is_some_and(|at| at < looked_at)
    }
}

/// Reads a snapshot of a folder; `None` where it is damaged, of another program or of another folder.
fn read(path: &Path, folder: &Path, settled: Duration) -> Option<HashMap<PathBuf, (Stamp, Visit)>> {
    let whole: Whole<Visit> = sound(path, HEAD)?;
    if whole.made_for != MadeFor::this(folder) {
        return None;
    }
    let pages = whole.pages.into_iter().filter(|page| page.stamp.is_settled(settled, whole.looked_at));
    Some(pages.map(|page| (page.file, (page.stamp, page.visit))).collect())
}
