//! The desk: the book's folder and the draft that is open. Effects are carried out here, and this is the one file of
//! the session and its front ends that names the store.

use std::path::{Path, PathBuf};

use chrono::{FixedOffset, NaiveDate, NaiveDateTime};
use serde::Serialize;
use serde::de::DeserializeOwned;

use super::intent::{Done, Intent, News, Refusal, Trouble};
use super::plans::AtStart;
use super::{Effect, Outcome, Session, Start};
use crate::model::{Book, LeftDraft, PadLine, Settings, Visit};
use crate::store::{self, BookFolder, Draft, Lock, Locked, Pad, StoreError};
use crate::wording;

pub use crate::store::{Config, StoreError as OpenError, read_config};

/// How a book is opened.
#[derive(Debug, Clone)]
pub struct Opening {
    /// The day acted on.
    pub today: NaiveDate,
    /// Reads the clock.
    pub clock: fn() -> NaiveDateTime,
    /// The offset of the laptop's clock from UTC on a day.
    pub offset: fn(NaiveDate) -> FixedOffset,
    /// A number by which this start's visits differ from another's.
    pub seed: u16,
    /// Folders in which a visit is kept while the book's disk refuses.
    pub emergency: Vec<PathBuf>,
    /// The folder of settings, where one is known.
    pub config: Option<PathBuf>,
}

/// Reads what is sound of a text of the user's own; what is wrong with the rest in words.
pub fn read_rows<T: DeserializeOwned + Default>(text: &str, path: &Path) -> (T, Vec<String>) {
    let (value, faults) = store::sound_rows(text, path);
    (value, faults.iter().map(|err| format!("{err}; {}", err.hint())).collect())
}

/// The book's folder and the draft that is open.
#[derive(Debug)]
pub struct Desk {
    folder: BookFolder,
    draft: Option<Draft>,
    /// What is typed and not logged.
    pad: Option<Pad>,
    /// Held while the program runs: dropping it gives the lock back.
    lock: Option<Lock>,
    /// Folders in which a visit is kept while the book's disk refuses.
    emergency: Vec<PathBuf>,
    /// The folder of settings, where one is known.
    config: Option<PathBuf>,
}

impl Desk {
    /// A desk on a book's folder, with no draft open.
    pub fn new(folder: BookFolder, emergency: Vec<PathBuf>, config: Option<PathBuf>) -> Self {
        Self { folder, draft: None, pad: None, lock: None, emergency, config }
    }

    /// Keeps what was read of the book, so that the next start need not read it again.
    pub fn write_snapshot(&self) {
        self.folder.write_snapshot();
    }

    /// Does what the session asks of the disk.
    pub fn carry_out(&mut self, effect: Effect) -> Outcome {
        tracing::debug!(effect = kind_of(&effect), "to do");
        match effect {
            Effect::BeginDraft(id) => {
                self.draft = Some(self.folder.draft_of(&id));
                Outcome::Nothing
            }
            Effect::Draft(step) => self.write(|draft| draft.append(step), false),
            Effect::Pad(line) => match self.pad.as_mut().map(|pad| pad.append(&line)) {
                Some(Err(err)) => Outcome::PadRefused(err.with_cause()),
                Some(Ok(())) | None => Outcome::Nothing,
            },
            Effect::CatchUp => self.write(Draft::catch_up, true),
            Effect::SaveVisit(visit) => self.save(visit),
            Effect::SaveYards { yards, drop_comments, may_join } => {
                self.save_yards(&yards, drop_comments, may_join)
            }
            Effect::Settle(chosen) => match self.folder.settle(&chosen) {
                Ok(Some(saved)) => saved_as(saved),
                Ok(None) => Outcome::NotRead(
                    "it has changed again meanwhile: Enter reads the book, then choose again".to_owned(),
                ),
                Err(err) => Outcome::YardsRefused(err.with_cause()),
            },
            Effect::SaveRehearsal(rehearsal) => match self.folder.save_rehearsal(&rehearsal) {
                Ok(()) => Outcome::RehearsalSaved(rehearsal),
                Err(err) => Outcome::RehearsalRefused(err.with_cause()),
            },
            Effect::SaveSettings(settings) => self.save_settings(&settings),
            Effect::TakeUp { path, visit } => match self.folder.take_up(&path, &visit) {
                Ok(draft) => {
                    let steps = draft.steps().to_vec();
                    self.draft = Some(draft);
                    Outcome::TakenUp { path, steps }
                }
                Err(err) => Outcome::NotTakenUp(err.with_cause()),
            },
            Effect::PutAside { is_unusable } => self.put_aside(is_unusable),
            Effect::ReadAgain { until } => self.read_again(until, None),
            Effect::PutFileAside { file, until } => match self.folder.put_aside(&file) {
                Ok(aside) => self.read_again(until, Some(aside)),
                Err(err) => Outcome::NotRead(err.with_cause()),
            },
            Effect::ListLeft => self.left().map_or(Outcome::Nothing, Outcome::Left),
            Effect::Forget { path, visit } => {
                // It is only in the way: the next start tries again.
                let _ = self.folder.take_up(&path, &visit).and_then(Draft::finish);
                Outcome::Nothing
            }
        }
    }

    fn left(&self) -> Result<Vec<LeftDraft>, StoreError> {
        self.folder.left_drafts(&self.emergency)
    }

    fn write(&mut self, step: impl FnOnce(&mut Draft) -> Result<(), StoreError>, asked_for: bool) -> Outcome {
        let Some(draft) = &mut self.draft else { return Outcome::Nothing };
        match step(draft) {
            Ok(()) => Outcome::Written,
            Err(err) => self.refused(&err, None, asked_for),
        }
    }

    fn save(&mut self, visit: Box<Visit>) -> Outcome {
        match self.folder.add_visit(&visit) {
            Ok(_) => {
                if let Some(draft) = self.draft.take() {
                    // The visit is safe; a draft that stays is found to be saved at the next start.
                    let _ = draft.finish();
                }
                Outcome::VisitSaved(visit)
            }
            Err(err) => self.refused(&err, Some(visit), true),
        }
    }

    fn save_yards(&self, yards: &Book, drop_comments: bool, may_join: bool) -> Outcome {
        if !drop_comments {
            match self.folder.comments() {
                Ok(0) => {}
                Ok(count) => return Outcome::CommentsAtStake(count),
                Err(err) => return Outcome::YardsRefused(err.with_cause()),
            }
        }
        match self.folder.save_yards(yards, may_join) {
            Ok(saved) => saved_as(saved),
            Err(err) => Outcome::YardsRefused(err.with_cause()),
        }
    }

    fn save_settings(&self, settings: &Settings) -> Outcome {
        match self.config.as_deref().map(|folder| store::write_settings(folder, settings)) {
            Some(Err(err)) => Outcome::SettingsRefused(err.with_cause()),
            Some(Ok(())) | None => Outcome::Nothing,
        }
    }

    fn read_again(&mut self, until: NaiveDate, aside: Option<PathBuf>) -> Outcome {
        match self.folder.read_again(until) {
            Ok(book) => {
                let left_out = self.folder.left_out().to_vec();
                let differences = self.folder.differences();
                Outcome::BookRead { book: Box::new(book), left_out, differences, aside }
            }
            Err(err) => Outcome::NotRead(err.with_cause()),
        }
    }

    fn put_aside(&mut self, is_unusable: bool) -> Outcome {
        let Some(draft) = &mut self.draft else { return Outcome::Nothing };
        let kept = draft.set_aside();
        if kept.is_ok() || is_unusable {
            self.draft = None;
        }
        match kept {
            Ok(()) => Outcome::PutAside { is_unusable },
            Err(err) => Outcome::NotPutAside(err.with_cause()),
        }
    }

    fn refused(&mut self, err: &StoreError, visit: Option<Box<Visit>>, asked_for: bool) -> Outcome {
        let kept_in = match &mut self.draft {
            Some(draft) => draft.rescue(&self.emergency).map(Path::to_owned),
            None => None,
        };
        tracing::warn!(kept_elsewhere = kept_in.is_some(), cause = ?std::error::Error::source(err), "the disk refuses");
        let trouble = Trouble {
            what: err.with_cause(),
            mend: wording::sentence(&err.hint()),
            kept_in: kept_in.map(|path| path.display().to_string()),
            is_new: true,
        };
        Outcome::Refused { trouble, visit, has_draft: self.draft.is_some(), asked_for }
    }
}

fn saved_as(store::Saved { book, differences, was_joined }: store::Saved) -> Outcome {
    Outcome::YardsSaved { yards: Box::new(book), differences, was_joined }
}

/// What an effect is, for the log: never what the keeper wrote.
fn kind_of(effect: &Effect) -> &'static str {
    match effect {
        Effect::BeginDraft(_) => "begin a draft",
        Effect::Draft(_) => "put a step on the disk",
        Effect::Pad(_) => "put a line on the pad",
        Effect::CatchUp => "try the disk again",
        Effect::SaveYards { .. } => "write the yards",
        Effect::Settle(_) => "settle what was set up in two ways",
        Effect::SaveRehearsal(_) => "write how far the rehearsal has come",
        Effect::SaveSettings(_) => "write the settings",
        Effect::TakeUp { .. } => "take up a visit",
        Effect::PutAside { .. } => "put a visit aside",
        Effect::SaveVisit(_) => "write a visit",
        Effect::ReadAgain { .. } => "read the book again",
        Effect::PutFileAside { .. } => "put a file aside",
        Effect::ListLeft => "list the drafts that were left",
        Effect::Forget { .. } => "remove the draft of a saved visit",
    }
}

/// A book that is open: the session, and the desk that carries its effects to the disk.
#[derive(Debug)]
pub struct OpenBook {
    session: Session,
    desk: Desk,
    /// Of how many yards a start before had worked out the first screen.
    found: Option<usize>,
}

/// The name of what the first screen goes by, in the cache.
const AT_START: &str = "start";

impl OpenBook {
    /// Joins a session and a desk.
    pub fn new(session: Session, desk: Desk) -> Self {
        Self { session, desk, found: None }
    }

    /// Keeps what was read of the book and worked out from it for the next start: once something is on the screen.
    pub fn write_snapshot(&self) {
        self.desk.write_snapshot();
        if let Some(start) = self.session.at_start(self.found) {
            self.desk.folder.keep_learned(AT_START, self.session.today(), &start);
        }
    }

    /// Keeps the first screen as it is drawn, to be shown at the next start before the book is read.
    pub fn keep_glance<T: Serialize>(&self, screen: &T) {
        let desk = &self.desk;
        if desk.lock.is_some() && self.session.rehearsal().is_none() {
            desk.folder.keep_glance(self.session.today(), &desk.emergency, screen);
        }
    }

    /// Opens a book that was read from a folder: takes the lock, and goes on with the one visit that was left unfinished.
    ///
    /// # Errors
    /// Where the folder fails, or its drafts cannot be listed.
    pub fn open(
        folder: BookFolder,
        book: Book,
        settings: Settings,
        opening: &Opening,
    ) -> Result<(Self, Done), StoreError> {
        let now = (opening.clock)();
        let rehearsal = folder.rehearsal()?;
        let start = Start {
            today: rehearsal.as_ref().map_or(opening.today, |rehearsal| rehearsal.today),
            now,
            offset: (opening.offset)(opening.today),
            seed: opening.seed,
            settings,
        };
        let units = book.units;
        let since = format!("{}, {}", wording::day(units, now.date()), wording::clock(units, now.time()));
        let who = format!("process {}, since {since}", std::process::id());
        let (lock, read_only) = match store::lock(folder.folder(), &who)? {
            Locked::Ours(lock) => (Some(lock), None),
            Locked::Theirs(who) => (None, Some(format!("open in another window ({who})"))),
            Locked::None(why) => (None, Some(format!("this folder cannot be written ({why})"))),
        };
        let mut desk = Desk::new(folder, opening.emergency.clone(), opening.config.clone());
        desk.lock = lock;
        if desk.lock.is_some() {
            desk.folder.sweep();
        }
        let mut open = Self::new(Session::new(book, start), desk);
        open.session.set_rehearsal(rehearsal);
        open.session.left_out = open.desk.folder.left_out().to_vec();
        open.session.differences = open.desk.folder.differences();
        let greeting = open.session.greeting();
        let mut done = match read_only {
            // The draft is the other's.
            Some(why) => {
                open.session.set_read_only(why.clone());
                Done::failing(format!("Read-only: {why}."))
            }
            None => open.take_up()?,
        };
        if let (None, Some(words)) = (&done.said, greeting) {
            done = done.and_then(Done::saying(words));
        }
        if let (None, Some(first)) = (&done.said, open.session.conflict()) {
            let on = wording::day(units, first);
            done = done.and_then(Done::saying(format!(
                "The visit of {on} was corrected twice, on two laptops: settle it in the log."
            )));
        }
        let start: Option<AtStart> = open.desk.folder.learned(AT_START, open.session.today());
        if let Some(start) = start {
            open.found = Some(open.session.take_at_start(start));
        }
        Ok((open, done))
    }

    /// Takes up what was left: what stands typed, and the unfinished visit. Both are heard.
    fn take_up(&mut self) -> Result<Done, StoreError> {
        let typed = self.take_up_pad();
        let taken = self.take_up_left()?;
        let both = match (&typed.said, &taken.said) {
            (Some(typed), Some(taken)) if taken.is_error == typed.is_error => {
                format!("{} {}", taken.text, typed.text)
            }
            (Some(typed), None) if !typed.is_error => typed.text.clone(),
            _ => return Ok(typed.and_then(taken)),
        };
        Ok(taken.and_then(Done::saying(both)))
    }

    /// Takes in the pad as it was left. Where it cannot be read it is left alone, and nothing is kept on it.
    fn take_up_pad(&mut self) -> Done {
        let (pad, lines) = match self.desk.folder.pad() {
            Ok(read) => read,
            Err(err) => return self.session.pad_refused(&err.with_cause()),
        };
        let were = lines.len();
        let done = self.session.take_in_pad(lines);
        self.desk.pad = Some(pad);
        if were != self.session.pad_lines().len() {
            self.clear_pad();
        }
        done
    }

    /// Writes the pad anew with what still stands on it. A disk that refuses costs nothing: the old lines hold.
    fn clear_pad(&mut self) {
        let lines: Vec<PadLine> = self.session.pad_lines();
        if let Some(pad) = &mut self.desk.pad {
            let _ = pad.write_anew(&lines);
        }
    }

    /// Takes up the visit that was left; of several the keeper chooses.
    fn take_up_left(&mut self) -> Result<Done, StoreError> {
        let left = Outcome::Left(self.desk.left()?);
        let mut done = Done::default();
        self.follow(left, &mut done);
        let open: Vec<LeftDraft> = self.session.left().iter().filter(|l| !l.is_aside).cloned().collect();
        match open.as_slice() {
            [] => Ok(done),
            // One that was kept elsewhere while the disk refused is somebody's word on this book: the keeper takes it up.
            [LeftDraft { path, visit: Ok(visit), .. }]
                if path.starts_with(self.desk.folder.folder())
                    && self.session.yard(&visit.yard).is_some() =>
            {
                let intent = Intent::TakeUp { path: path.clone(), visit: visit.id.clone() };
                Ok(match self.carry_out(intent) {
                    Ok(taken) => done.and_then(taken),
                    Err(refusal) => done.and_then(Done::failing(refusal.words())),
                })
            }
            several => {
                let words = match several {
                    [only] if !only.path.starts_with(self.desk.folder.folder()) => {
                        "A visit was kept elsewhere while the disk refused: take it up in the log.".to_owned()
                    }
                    _ => format!(
                        "{} in the log: take one up there; the others are kept.",
                        wording::count(several.len(), "unfinished visit")
                    ),
                };
                Ok(done.and_then(Done::saying(words)).news(News::SeveralLeft))
            }
        }
    }

    /// The session.
    pub fn session(&self) -> &Session {
        &self.session
    }

    /// Tells the session what the clock shows.
    pub fn set_clock(&mut self, now: NaiveDateTime) {
        self.session.set_clock(now);
    }

    /// Carries out what the keeper wants, to the disk and back.
    ///
    /// # Errors
    /// Where it does not apply or cannot be; then nothing has changed.
    pub fn carry_out(&mut self, intent: Intent) -> Result<Done, Refusal> {
        let mut done = self.session.carry_out(intent)?;
        for effect in std::mem::take(&mut done.effects) {
            let outcome = self.desk.carry_out(effect);
            self.follow(outcome, &mut done);
        }
        if self.desk.pad.as_ref().is_some_and(Pad::is_full) {
            self.clear_pad();
        }
        Ok(done)
    }

    /// Takes an outcome in, and carries out what follows from it.
    fn follow(&mut self, outcome: Outcome, done: &mut Done) {
        let mut later = self.session.take_in(outcome);
        let effects = std::mem::take(&mut later.effects);
        *done = std::mem::take(done).and_then(later);
        for effect in effects {
            let outcome = self.desk.carry_out(effect);
            self.follow(outcome, done);
        }
    }
}
