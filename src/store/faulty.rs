//! A disk that refuses: for tests of what becomes of a book then.

use std::cell::Cell;
use std::io;
use std::path::{Path, PathBuf};
use std::rc::Rc;

use super::disk::{Disk, OpenFile, SystemDisk};

/// When it refuses, by the number of the operation, from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Refuses {
    /// Never.
    Never,
    /// At one operation.
    At(u64),
    /// At one operation and all that follow: a pulled stick, or the moment of a kill.
    From(u64),
    /// At runs of operations now and then: so many, each so many.
    Runs(u64, u64),
}

/// A disk that counts what it is asked and refuses some of it. What it refuses to write it writes half.
#[derive(Debug, Clone)]
pub(crate) struct FaultyDisk {
    asked: Rc<Cell<u64>>,
    refuses: Rc<Cell<Refuses>>,
}

impl FaultyDisk {
    pub(crate) fn new(refuses: Refuses) -> Self {
        Self { asked: Rc::new(Cell::new(0)), refuses: Rc::new(Cell::new(refuses)) }
    }

    /// How many operations it was asked for.
    pub(crate) fn asked(&self) -> u64 {
        self.asked.get()
    }

    /// Refuses otherwise from now on.
    pub(crate) fn set(&self, refuses: Refuses) {
        self.refuses.set(refuses);
    }

    fn ask(&self) -> io::Result<()> {
        let now = self.asked.get() + 1;
        self.asked.set(now);
        let refused = match self.refuses.get() {
            Refuses::Never => false,
            Refuses::At(n) => now == n,
            Refuses::From(n) => now >= n,
            Refuses::Runs(every, long) => now % every < long,
        };
        if refused {
            Err(io::Error::new(io::ErrorKind::StorageFull, "the test disk refuses"))
        } else {
            Ok(())
        }
    }
}

#[derive(Debug)]
struct FaultyFile {
    disk: FaultyDisk,
    file: Box<dyn OpenFile>,
}

impl OpenFile for FaultyFile {
    fn write_all(&mut self, bytes: &[u8]) -> io::Result<()> {
        match self.disk.ask() {
            Ok(()) => self.file.write_all(bytes),
            Err(err) => {
                self.file.write_all(&bytes[..bytes.len() / 2])?;
                Err(err)
            }
        }
    }

    fn sync(&mut self) -> io::Result<()> {
        self.disk.ask()?;
        self.file.sync()
    }

    fn sync_all(&mut self) -> io::Result<()> {
        self.disk.ask()?;
        self.file.sync_all()
    }
}

impl Disk for FaultyDisk {
    fn read(&self, path: &Path, most: u64) -> io::Result<Vec<u8>> {
        self.ask()?;
        SystemDisk::PRIVATE.read(path, most)
    }

    fn remove_folder(&self, path: &Path) -> io::Result<()> {
        self.ask()?;
        SystemDisk::PRIVATE.remove_folder(path)
    }

    fn list(&self, path: &Path) -> io::Result<Vec<PathBuf>> {
        self.ask()?;
        SystemDisk::PRIVATE.list(path)
    }

    fn make_folder(&self, path: &Path) -> io::Result<()> {
        self.ask()?;
        SystemDisk::PRIVATE.make_folder(path)
    }

    fn create_in(&self, folder: &Path) -> io::Result<(PathBuf, Box<dyn OpenFile>)> {
        self.ask()?;
        let (path, file) = SystemDisk::PRIVATE.create_in(folder)?;
        Ok((path, Box::new(FaultyFile { disk: self.clone(), file })))
    }

    fn open_append(&self, path: &Path) -> io::Result<Box<dyn OpenFile>> {
        self.ask()?;
        let file = SystemDisk::PRIVATE.open_append(path)?;
        Ok(Box::new(FaultyFile { disk: self.clone(), file }))
    }

    fn put_new(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.ask()?;
        SystemDisk::PRIVATE.put_new(from, to)
    }

    fn put_over(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.ask()?;
        SystemDisk::PRIVATE.put_over(from, to)
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        self.ask()?;
        SystemDisk::PRIVATE.sync_folder(folder)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.ask()?;
        SystemDisk::PRIVATE.remove(path)
    }

    fn is_there(&self, path: &Path) -> io::Result<bool> {
        self.ask()?;
        SystemDisk::PRIVATE.is_there(path)
    }

    fn is_link(&self, path: &Path) -> io::Result<bool> {
        self.ask()?;
        SystemDisk::PRIVATE.is_link(path)
    }
}

mod tests {
    use super::super::*;
    use super::{FaultyDisk, Refuses};
    use crate::model::{
        Book, Depth, DraftStep, Entry, Frames, Hive, HiveBox, HiveId, Origin, Queen, QueenStatus, Role,
        Units, Visit, VisitId, Yard, YardId,
    };
    use std::path::Path;
    use std::rc::Rc;

    fn book() -> Book {
        let mut book = Book::empty("A", Units::Us);
        book.yards = vec![Yard {
            name: YardId::new("Creek"),
            place: None,
            formerly: Vec::new(),
            freezes: None,
            flows: Vec::new(),
            note: String::new(),
            hives: vec![Hive::new(
                HiveId::new("C1"),
                Origin::Overwintered,
                "2026-01-01".parse().unwrap(),
                vec![HiveBox::new(Depth::Deep, 10, Role::Nest)],
                Queen::of_status(QueenStatus::Laying, None),
            )],
        }];
        book
    }

    fn day() -> chrono::NaiveDate {
        "2026-06-04".parse().unwrap()
    }

    fn bees(count: f64) -> Entry {
        let mut entry = Entry::blank(HiveId::new("C1"));
        entry.findings.bees = Some(Frames(count));
        entry
    }

    fn visit() -> Visit {
        let mut visit = Visit::begun(VisitId::new("2026-06-03T0915-creek-3f9a"), YardId::new("Creek"), day());
        visit.entries = vec![bees(8.0)];
        visit
    }

    fn steps() -> Vec<DraftStep> {
        let head = Visit { entries: Vec::new(), ..visit() };
        vec![
            DraftStep::Head(head),
            DraftStep::Queue { hives: vec![HiveId::new("C1")], due: 1 },
            DraftStep::Changed(bees(7.0)),
            DraftStep::At { hive: HiveId::new("C1"), field: 2 },
            DraftStep::Changed(bees(8.0)),
            DraftStep::Finished(HiveId::new("C1")),
        ]
    }

    /// What the disk has said yes to.
    #[derive(Debug, Default)]
    struct Said {
        steps: usize,
        visit: bool,
        yards: bool,
    }

    /// A whole visit and a change of practice; `again` says whether what was refused is tried once more.
    fn visit_and_practice(disk: &FaultyDisk, folder: &Path, again: bool) -> (Said, bool) {
        let mut said = Said::default();
        let files = Files::on(Rc::new(disk.clone()));
        // Opening fails as a whole: the program says why and does not start.
        let opened = BookFolder::open_on(files.clone(), folder, day());
        let (place, _) = match opened {
            Ok(opened) => opened,
            Err(_) if again => BookFolder::open_on(files, folder, day()).unwrap(),
            Err(_) => return (said, false),
        };
        let mut draft = place.draft_of(&visit().id);
        for (at, step) in steps().into_iter().enumerate() {
            if draft.append(step).is_err() && (!again || draft.catch_up().is_err()) {
                return (said, false);
            }
            said.steps = at + 1;
        }
        if place.add_visit(&visit()).is_err() && (!again || place.add_visit(&visit()).is_err()) {
            return (said, false);
        }
        said.visit = true;
        // A draft that stays is in the way, not lost: the next start removes it.
        let finished = draft.finish().is_ok();
        let mut changed = book();
        changed.practice.set("winter_honey", Some(95.0));
        if place.save_yards(&changed, true).is_err() && (!again || place.save_yards(&changed, true).is_err())
        {
            return (said, false);
        }
        said.yards = true;
        (said, finished)
    }

    fn fresh() -> (tempfile::TempDir, std::path::PathBuf) {
        let root = tempfile::tempdir().unwrap();
        let folder = root.path().join("book");
        BookFolder::create(&folder, &book()).unwrap();
        (root, folder)
    }

    /// How many operations it takes on a sound disk.
    fn operations() -> u64 {
        let disk = FaultyDisk::new(Refuses::Never);
        let (_root, folder) = fresh();
        let (said, finished) = visit_and_practice(&disk, &folder, false);
        assert!(said.visit && said.yards && finished);
        disk.asked()
    }

    #[test]
    fn whichever_operation_is_refused_once_a_second_try_brings_all_to_the_disk() {
        let operations = operations();
        assert!(operations > 40, "{operations}");
        for n in 1..=operations {
            let (_root, folder) = fresh();
            let disk = FaultyDisk::new(Refuses::At(n));
            let (said, _) = visit_and_practice(&disk, &folder, true);
            assert!(said.visit && said.yards, "operation {n}: {said:?}");
            let (place, read) = BookFolder::open(&folder, day()).unwrap();
            assert_eq!(read.visits, [visit()], "operation {n}");
            assert_eq!(read.practice.own("winter_honey"), Some(95.0), "operation {n}");
            let left = place.left_drafts(&[]).unwrap();
            assert!(
                left.iter().all(|l| l.visit.as_ref().unwrap().id == visit().id),
                "operation {n}: {left:?}"
            );
        }
    }

    #[test]
    fn a_disk_that_goes_at_any_operation_leaves_a_whole_book_with_all_it_said_yes_to() {
        for n in 1..=operations() {
            let (_root, folder) = fresh();
            let disk = FaultyDisk::new(Refuses::From(n));
            let (said, _) = visit_and_practice(&disk, &folder, false);
            let (place, read) = BookFolder::open(&folder, day()).unwrap_or_else(|err| panic!("{n}: {err}"));
            if said.visit {
                assert_eq!(read.visits, [visit()], "operation {n}");
            } else {
                let left = place.left_drafts(&[]).unwrap();
                let steps_there: Vec<DraftStep> = left
                    .iter()
                    .flat_map(|l| place.take_up(&l.path, &visit().id).unwrap().steps().to_vec())
                    .filter(|step| !matches!(step, DraftStep::Format(_)))
                    .collect();
                assert!(steps_there.len() >= said.steps, "operation {n}: {said:?} {steps_there:?}");
                assert_eq!(steps_there[..said.steps], steps()[..said.steps], "operation {n}");
            }
            if said.yards {
                assert_eq!(read.practice.own("winter_honey"), Some(95.0), "operation {n}");
            }
        }
    }

    #[test]
    fn a_draft_that_was_refused_in_mid_line_is_whole_after_the_second_try() {
        let mut refused = 0;
        for n in 1..=40 {
            let (_root, folder) = fresh();
            let disk = FaultyDisk::new(Refuses::Never);
            let (place, _) = BookFolder::open_on(Files::on(Rc::new(disk.clone())), &folder, day()).unwrap();
            disk.set(Refuses::At(disk.asked() + n));
            let mut draft = place.draft_of(&visit().id);
            for step in steps() {
                // The next step brings what the one before could not.
                refused += usize::from(draft.append(step).is_err());
            }
            draft.catch_up().or_else(|_| draft.catch_up()).unwrap();
            let path = folder.join("drafts").join(format!("{}.ron", visit().id));
            let read = super::super::draft::read(&Files::default(), &path).unwrap();
            assert!(!read.has_unread, "operation {n}");
            assert_eq!(read.steps[1..], steps(), "operation {n}");
        }
        assert!(refused > 10, "{refused}");
    }

    #[test]
    fn a_visit_changed_after_a_refused_save_is_saved_as_it_is_now() {
        for n in 1..=12 {
            let (_root, folder) = fresh();
            let disk = FaultyDisk::new(Refuses::Never);
            let (place, _) = BookFolder::open_on(Files::on(Rc::new(disk.clone())), &folder, day()).unwrap();
            disk.set(Refuses::At(disk.asked() + n));
            let refused = place.add_visit(&visit()).is_err();
            let mut later = visit();
            later.note = "more was seen".to_owned();
            if refused {
                place.add_visit(&later).unwrap_or_else(|err| panic!("operation {n}: {}", err.with_cause()));
                assert_eq!(BookFolder::open(&folder, day()).unwrap().1.visits, [later], "operation {n}");
            } else {
                assert!(place.add_visit(&later).is_err(), "a visit that is saved is never written over");
            }
        }
    }

    #[test]
    fn while_the_disk_refuses_the_visit_is_kept_elsewhere_and_offered_again() {
        let (root, folder) = fresh();
        let disk = FaultyDisk::new(Refuses::Never);
        let (place, _) = BookFolder::open_on(Files::on(Rc::new(disk.clone())), &folder, day()).unwrap();
        let elsewhere = [root.path().join("emergency")];
        let mut draft = place.draft_of(&visit().id);
        let mut steps = steps().into_iter();
        draft.append(steps.next().unwrap()).unwrap();
        draft.append(steps.next().unwrap()).unwrap();
        disk.set(Refuses::From(0));
        assert!(draft.append(steps.next().unwrap()).is_err());
        assert_eq!(draft.rescue(&elsewhere), None, "the same disk does not take it either");
        let text = |path: &Path| std::fs::read_to_string(path).unwrap();
        // The emergency folder is on another disk.
        let (sound, _) = BookFolder::open(&folder, day()).unwrap();
        let mut other = sound.draft_of(&visit().id);
        for step in draft.steps()[1..].iter().cloned() {
            other.append(step).unwrap();
        }
        let kept = other.rescue(&elsewhere).unwrap().to_owned();
        assert!(text(&kept).contains("Of("), "{}", text(&kept));
        drop(other);
        std::fs::remove_file(folder.join("drafts/2026-06-03T0915-creek-3f9a.ron")).unwrap();
        // Another book of the same keeper is not offered it.
        let elsewhere_book = root.path().join("second");
        let second = BookFolder::create(&elsewhere_book, &book()).unwrap();
        assert_eq!(second.left_drafts(&elsewhere).unwrap(), []);
        let left = sound.left_drafts(&elsewhere).unwrap();
        assert_eq!(left.len(), 1);
        assert_eq!(left[0].visit.as_ref().unwrap().id, visit().id);
        let again = sound.take_up(&left[0].path, &visit().id).unwrap();
        assert_eq!(again.steps(), draft.steps());
        assert!(!kept.exists(), "back in the book");
    }

    #[test]
    fn a_book_that_has_gone_is_not_made_anew_where_it_was() {
        let (root, folder) = fresh();
        let (place, _) = BookFolder::open(&folder, day()).unwrap();
        let mut draft = place.draft_of(&visit().id);
        draft.append(steps().remove(0)).unwrap();
        let away = root.path().join("pulled");
        std::fs::rename(&folder, &away).unwrap();
        assert!(matches!(draft.append(steps().remove(1)), Err(StoreError::Gone { .. })));
        assert!(matches!(place.add_visit(&visit()), Err(StoreError::Gone { .. })));
        assert!(!folder.exists(), "nothing is written where the stick was");
        std::fs::rename(&away, &folder).unwrap();
        draft.catch_up().unwrap();
        place.add_visit(&visit()).unwrap();
        assert_eq!(BookFolder::open(&folder, day()).unwrap().1.visits, [visit()]);
    }

    /// A book that is made, as by an import or from a backup: refused or killed at any operation there is no book of half of
    /// it, and a second try makes it.
    #[test]
    fn a_book_is_made_whole_or_not_at_all_and_a_second_try_makes_it() {
        let whole = Book { visits: vec![visit()], ..book() };
        let mut refused = 0;
        for n in 1..=200 {
            for refuses in [Refuses::At(n), Refuses::From(n)] {
                let root = tempfile::tempdir().unwrap();
                let folder = root.path().join("new/book");
                let disk = FaultyDisk::new(refuses);
                let made = BookFolder::create_on(Files::on(Rc::new(disk.clone())), &folder, &whole);
                if made.is_err() {
                    refused += 1;
                    // Put in its place it is whole, even where the disk then refused to say so.
                    let there = BookFolder::open(&folder, day());
                    assert!(there.is_err() || there.unwrap().1 == whole, "operation {n}");
                    if !folder.exists() {
                        BookFolder::create(&folder, &whole).unwrap();
                    }
                }
                let (place, read) = BookFolder::open(&folder, day()).unwrap();
                assert_eq!((read, place.left_out()), (whole.clone(), &[][..]), "operation {n}");
                let beside = std::fs::read_dir(root.path().join("new")).unwrap().count();
                assert_eq!(beside, 1, "operation {n}: nothing is left beside it");
            }
        }
        assert!(refused > 20, "{refused}");
    }

    /// What a kill left half written is swept; whatever else lies there is let be.
    #[test]
    fn what_a_kill_left_half_written_is_swept_at_the_next_start() {
        let (_root, folder) = fresh();
        let (place, _) = BookFolder::open(&folder, day()).unwrap();
        let files = Files::default();
        let half = ["", "visits", "visits/2026", "drafts", "former"]
            .map(|f| folder.join(f).join(".yardwalk-x1y2z3"));
        let other = folder.join("visits/2026/.hidden");
        for path in half.iter().chain([&other]) {
            files.write_new(path, "half").unwrap();
        }
        place.sweep();
        assert!(half.iter().all(|path| !path.exists()) && other.exists() && folder.join("yard.ron").exists());
    }
}
