//! The session: all a keeper can do with an open book, with no screen and no terminal in it.
//!
//! In: an [`Intent`]. Out: [`Done`] with what to say and what to carry to the disk, or a [`Refusal`] that changed
//! nothing. What the disk made of an [`Effect`] comes back as an [`Outcome`]; nothing else writes into the session.
//! [`OpenBook`] joins a session with its desk, the one place that touches the store.

mod at_hive;
mod day;
mod desk;
mod effect;
mod evening;
mod intent;
mod left_out;
mod log;
pub mod notebook;
mod open_visit;
mod outcomes;
mod pad;
mod plans;
mod queue;
mod rehearsed;
mod set_up;
mod split;
pub mod typing;
mod undone;

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use chrono::{FixedOffset, NaiveDate, NaiveDateTime, NaiveTime, Timelike};

pub use desk::{Config, Desk, OpenBook, OpenError, Opening, read_config, read_rows};
pub use effect::{Effect, Outcome};
pub use evening::{Evening, Written};
pub use intent::{Answers, Done, Intent, News, Refusal, Said, Trouble};
pub use open_visit::OpenVisit;
pub use set_up::names_from;
pub use split::{OLD_QUEEN, OTHER_HALF, is_seen};

use crate::advice::{Advice, Day, Prompt, Situation, advise, looks};
use crate::model::{
    Book, Corrections, DayWish, Difference, DraftStep, Entry, Finding, Folded, Hive, HiveId, HiveState,
    Jotting, LeftDraft, LeftOut, LoggedNames, Rehearsal, SeenBloom, Settings, Visit, VisitId, Yard, YardId,
    days_after,
};
use crate::plan::{self, LoadList, Outlook, Stop, YardPlan};
use crate::season::Calendar;
use plans::Plans;

/// What a session starts from, besides the book.
#[derive(Debug, Clone)]
pub struct Start {
    /// The day acted on.
    pub today: NaiveDate,
    /// The clock.
    pub now: NaiveDateTime,
    /// The offset of the laptop's clock from UTC on that day.
    pub offset: FixedOffset,
    /// A number by which this start's visits differ from another's.
    pub seed: u16,
    /// The settings of this laptop.
    pub settings: Settings,
}

/// An open book on a day, and the visit in hand.
#[derive(Debug)]
pub struct Session {
    book: Book,
    folded: Folded,
    today: NaiveDate,
    opened_on: NaiveDate,
    /// The clock's day on which it was last said which day is acted on.
    asked_on: NaiveDate,
    /// Whether the day acted on is the clock's, and not one the keeper set.
    follows_clock: bool,
    now: NaiveDateTime,
    offset: FixedOffset,
    seed: u16,
    plans: Plans,
    wishes: BTreeMap<YardId, DayWish>,
    /// What is typed in a place and not logged.
    jottings: Vec<Jotting>,
    /// Whether it was said that the disk does not keep them.
    pad_is_refused: bool,
    read_only: Option<String>,
    unwritten: Option<String>,
    /// What the disk refused last, until it takes it.
    trouble: Option<Trouble>,
    /// The visit the disk refused to write, to be tried again.
    refused_visit: Option<Box<Visit>>,
    left: Vec<LeftDraft>,
    /// Files that were not taken in.
    left_out: Vec<LeftOut>,
    /// What was set up in two ways, on two laptops or by hand.
    differences: Vec<Difference>,
    visit: Option<OpenVisit>,
    settings: Settings,
    /// The yards as they were before each change of this start, and those that were undone.
    set_ups: (Vec<Book>, Vec<Book>),
    /// The names under which something was logged since the program started: undoing a renaming must not lose them.
    logged_names: LoggedNames,
    /// Yards that would drop comments written by hand, until the keeper has answered.
    undecided: Option<Box<Book>>,
    /// What follows once the yards are on the disk.
    after_yards: Option<split::Then>,
    /// The hives whose splits were undone, with their yards: doing a split again sets its hive up again.
    taken_away: Vec<(YardId, Hive)>,
    /// The day on which the cautions before a treatment were last read.
    cautioned: Option<NaiveDate>,
    /// Where the keeper was last known to stand.
    stood: Option<(HiveId, usize)>,
    revision: u64,
    /// The rehearsal this book is of.
    rehearsal: Option<Rehearsal>,
}

/// A hive as the keeper sees it now: today's entry taken in, and the advice on it.
#[derive(Debug, Clone)]
pub struct HiveView {
    /// The state with today's entry taken in.
    pub state: HiveState,
    /// Today's entry.
    pub entry: Entry,
    /// The advice.
    pub advice: Advice,
    /// The findings worth making now, in the order a hive is opened.
    pub looks: Vec<Finding>,
}

impl Session {
    /// Opens a book on a day. Nothing is read from the disk or written to it.
    pub fn new(book: Book, start: Start) -> Self {
        let folded = Folded::of(&book, start.today);
        Self {
            plans: Plans::of(&book),
            book,
            folded,
            today: start.today,
            opened_on: start.today,
            asked_on: start.now.date(),
            follows_clock: start.today == start.now.date(),
            now: start.now,
            offset: start.offset,
            seed: start.seed,
            wishes: BTreeMap::new(),
            jottings: Vec::new(),
            pad_is_refused: false,
            read_only: None,
            unwritten: None,
            trouble: None,
            refused_visit: None,
            left: Vec::new(),
            left_out: Vec::new(),
            differences: Vec::new(),
            visit: None,
            settings: start.settings,
            set_ups: (Vec::new(), Vec::new()),
            logged_names: LoggedNames::default(),
            undecided: None,
            after_yards: None,
            taken_away: Vec::new(),
            cautioned: None,
            stood: None,
            revision: 0,
            rehearsal: None,
        }
    }

    /// Carries out what the keeper wants.
    ///
    /// # Errors
    /// Where it does not apply or cannot be; then nothing has changed.
    pub fn carry_out(&mut self, intent: Intent) -> Result<Done, Refusal> {
        self.revision += 1;
        match intent {
            Intent::Begin { yard, hive, weather, blooms } => self.begin(&yard, hive, weather, &blooms),
            Intent::ActOn(day) => self.act_on(day),
            Intent::LookAt { hive, finding } => self.look_at(&hive, finding),
            Intent::ComeBack(day) => self.come_back(day),
            Intent::ReadAgain => self.read_again(),
            Intent::PutFileAside(file) => self.put_file_aside(&file),
            Intent::KeepFile(file) => self.keep_file(&file),
            Intent::Settle(chosen) => self.settle_set_up(chosen),
            Intent::GoTo(hive) => self.go_to(&hive),
            Intent::Jot(jotting) => Ok(self.jot(jotting)),
            Intent::Jotted(place) => Ok(self.jotted(&place)),
            Intent::Stand { hive, field } => Ok(self.stand(hive, field)),
            Intent::FinishHive(hive) => self.finish_hive(&hive),
            Intent::StepBack => self.step_back(),
            Intent::Find { hive, finding, value } => self.find(&hive, finding, value),
            Intent::Accept { hive, rule, offer } => self.accept(&hive, &rule, offer),
            Intent::PutOff { hive, rule, reason, until } => self.put_off(&hive, &rule, &reason, until),
            Intent::NotNeeded { hive, rule } => self.not_needed(&hive, &rule),
            Intent::Log { hive, actions, answers, instead } => {
                self.log_actions(&hive, actions, answers.as_ref(), instead)
            }
            Intent::Split { from, hive, left, answers } => self.split(&from, *hive, left, answers),
            Intent::MindCautions(actions) => self.cautions_first(&actions).map(|()| Done::default()),
            Intent::SetWeather { weather, blooms } => self.correct_weather(weather, blooms),
            Intent::LikeLast(hive) => self.like_last(&hive),
            Intent::CopyOn { hive, count } => self.copy_on(&hive, count),
            Intent::Note { hive, text } => self.note(&hive, &text),
            Intent::Undo => self.undo(),
            Intent::Redo => self.redo(),
            Intent::Save => self.save(),
            Intent::PutAside => self.put_aside(),
            Intent::TakeUp { path, visit } => self.take_up(path, visit),
            Intent::TryAgain => Ok(self.try_again()),
            Intent::Correct(visit) => self.correct(&visit),
            Intent::Withdraw(visit) => self.withdraw(&visit),
            Intent::KeepOne(visit) => self.keep_one(&visit),
            Intent::Tick { yard, item } => Ok(self.tick(&yard, &item)),
            Intent::Pin(hive) => self.pin(&hive),
            Intent::Move { hive, later } => self.move_in_queue(&hive, later),
            Intent::SetUpYard { old, yard } => self.set_up_yard(old.as_ref(), *yard),
            Intent::AddHives { yard, hives } => self.add_hives(&yard, hives),
            Intent::ChangeHive { old, yard, hive } => self.change_hive(&old, &yard, *hive),
            Intent::MoveStand { hive, later } => self.move_stand(&hive, later),
            Intent::SetPractice(practice) => self.set_practice(*practice),
            Intent::SetUnits(units) => self.set_units(units),
            Intent::UndoSetUp => self.undo_set_up(true),
            Intent::RedoSetUp => self.undo_set_up(false),
            Intent::DropComments => self.drop_comments(),
            Intent::KeepComments => Ok(self.keep_comments()),
            Intent::SetLook(settings) => Ok(self.set_look(settings)),
        }
    }

    /// Tells the session what the clock shows.
    pub fn set_clock(&mut self, now: NaiveDateTime) {
        // What is shown of it is whole minutes.
        let minute = |at: NaiveDateTime| (at.date(), at.hour(), at.minute());
        if minute(now) != minute(self.now) {
            self.revision += 1;
        }
        self.now = now;
    }

    /// Nothing is to be written from now on, and why.
    pub fn set_read_only(&mut self, why: String) {
        self.read_only = Some(why);
    }

    /// A number that changes whenever something may have changed.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// The book.
    pub fn book(&self) -> &Book {
        &self.book
    }

    /// What each hive is, as of the day, before the visit in hand.
    pub fn folded(&self) -> &Folded {
        &self.folded
    }

    /// The day acted on.
    pub fn today(&self) -> NaiveDate {
        self.today
    }

    /// Whether that is not the clock's day.
    pub fn is_pretended(&self) -> bool {
        self.today != self.now.date()
    }

    /// The clock.
    pub fn now(&self) -> NaiveDateTime {
        self.now
    }

    /// The offset of the clock from UTC.
    pub fn offset(&self) -> FixedOffset {
        self.offset
    }

    /// Why nothing may be written, where that is so.
    pub fn read_only(&self) -> Option<&str> {
        self.read_only.as_deref()
    }

    /// Why the last of what was entered is not on the disk, where that is so.
    pub fn unwritten(&self) -> Option<&str> {
        self.unwritten.as_deref()
    }

    /// What the disk refused last, where it has not taken it since.
    pub fn trouble(&self) -> Option<&Trouble> {
        self.trouble.as_ref()
    }

    /// Visits that were left unfinished.
    pub fn left(&self) -> &[LeftDraft] {
        &self.left
    }

    /// The visit in hand.
    pub fn visit(&self) -> Option<&OpenVisit> {
        self.visit.as_ref()
    }

    /// The settings of this laptop.
    pub fn settings(&self) -> &Settings {
        &self.settings
    }

    /// The last day a visit may be logged on.
    pub fn last_day(&self) -> NaiveDate {
        self.book.last_day(self.now.date())
    }

    /// Of a yard's queue: how many hives are done with, and the minutes the others are likely to take.
    pub fn progress(&self, plan: &YardPlan) -> (usize, u32) {
        let is_past = |stop: &&Stop| self.visit.as_ref().is_some_and(|v| v.finished.contains(&stop.hive));
        // A hive passed with nothing written down is not done, though no more time goes to it today.
        let is_written = |stop: &&Stop| self.visit.as_ref().is_some_and(|v| !v.entry(&stop.hive).is_blank());
        let done = plan.queue.iter().filter(is_past).filter(is_written).count();
        let left = plan.queue.iter().filter(|stop| !is_past(stop)).map(|stop| stop.minutes).sum();
        (done, left)
    }

    /// The yard of that name.
    pub fn yard(&self, name: &YardId) -> Option<&Yard> {
        self.book.yards.iter().find(|y| y.name == *name)
    }

    /// The yard's dates this year, with what is in bloom at the visit in hand.
    pub fn calendar(&self, yard: &Yard) -> Calendar {
        let mut blooms = self.folded.blooms(&yard.name).to_vec();
        if let Some(open) = self.visit.as_ref().filter(|v| v.visit.yard == yard.name) {
            blooms.extend(SeenBloom::at(&open.visit));
        }
        Calendar::of(yard, &self.book.practice, &blooms, self.today)
    }

    /// The yard on days to come.
    pub fn outlook<'a>(&'a self, yard: &'a Yard) -> Outlook<'a> {
        Outlook::of(&self.book, &self.folded, yard)
    }

    /// The load list of a yard of the day.
    pub fn load_list(&self, yard: &YardId) -> LoadList {
        self.yard_plan(yard).map_or_else(LoadList::default, |plan| {
            plan::load(plan, &self.folded, &self.book.practice, self.today)
        })
    }

    /// What is ticked as on the truck for a yard.
    pub fn ticked(&self, yard: &YardId) -> BTreeSet<String> {
        self.wishes.get(yard).map(|w| w.ticked.iter().cloned().collect()).unwrap_or_default()
    }

    /// The start of today's work at the earliest: now, where today is the clock's day.
    pub fn earliest(&self) -> Option<NaiveTime> {
        (!self.is_pretended()).then(|| self.now.time())
    }

    /// What is known of a hive now, today's entry taken in; none for a hive that does not stand today.
    pub fn view(&self, hive: &HiveId) -> Option<HiveView> {
        let mut state = self.folded.hive(hive)?.clone();
        let yard = self.yard(&state.yard)?;
        let calendar = self.calendar(yard);
        let outlook = self.outlook(yard);
        let open = self.visit.as_ref();
        let entry = open.map_or_else(|| Entry::blank(hive.clone()), |v| v.entry(hive));
        state.apply(&entry, self.today);
        // The other hives as today's visit found them: what robs one keeps the next one shut.
        let found = |h: &HiveState| open.and_then(|v| v.visit.entry(&h.id)).filter(|_| h.id != *hive);
        let around: Vec<Cow<'_, HiveState>> = outlook
            .stands()
            .iter()
            .map(|&h| match found(h) {
                Some(entry) => {
                    let mut state = h.clone();
                    state.apply(entry, self.today);
                    Cow::Owned(state)
                }
                None => Cow::Borrowed(h),
            })
            .collect();
        let stands: Vec<&HiveState> = around.iter().map(AsRef::as_ref).collect();
        let day = Day {
            today: self.today,
            calendar: &calendar,
            weather: open.map(|v| v.visit.weather).unwrap_or_default(),
            practice: &self.book.practice,
            units: self.book.units,
            stands: &stands,
        };
        let situation = Situation::of(&state, Some(&entry), day);
        let advice = advise(&situation);
        let looks = looks(&situation, &advice);
        Some(HiveView { state, entry, advice, looks })
    }

    /// Every hive that stands on the day, in the order of the yards and stands.
    pub fn hives(&self) -> Vec<HiveId> {
        let all = self.book.yards.iter().flat_map(|y| &y.hives);
        all.filter(|h| self.folded.hive(&h.id).is_some()).map(|h| h.id.clone()).collect()
    }

    /// The day to which a prompt is put off unless the keeper says another: in a week, or by its last day.
    pub fn put_off_to(&self, prompt: &Prompt) -> NaiveDate {
        let week = days_after(self.today, 7);
        let latest = prompt.due.latest;
        if latest > self.today { week.min(latest) } else { days_after(self.today, 1) }
    }

    /// Corrections of one visit that stand beside each other, as after two laptops were merged: the day of the first.
    pub fn conflict(&self) -> Option<NaiveDate> {
        let corrections = Corrections::of(&self.book, self.today);
        corrections.conflicts().first().and_then(|c| c.versions.first().map(|v| v.on))
    }

    /// Refuses where nothing may be written.
    fn may_write(&self) -> Result<(), Refusal> {
        match &self.read_only {
            Some(why) => Err(Refusal::Cannot(format!("Nothing is written: {why}. Close it first."))),
            None => Ok(()),
        }
    }

    /// The visit in hand, to be changed.
    fn open_visit(&mut self) -> Result<&mut OpenVisit, Refusal> {
        self.visit.as_mut().ok_or_else(|| Refusal::NotHere("No visit is open: begin one first.".to_owned()))
    }

    /// Refuses while a visit is open: it knows its yard and hives by name.
    fn no_visit_open(&self) -> Result<(), Refusal> {
        match &self.visit {
            Some(_) => {
                Err(Refusal::Cannot("A visit is open: save it first, or leave it unsaved.".to_owned()))
            }
            None => Ok(()),
        }
    }

    /// Changes what is written of a hive in the visit in hand, so that it can be undone.
    fn change(&mut self, hive: &HiveId, with: impl FnOnce(&mut Entry)) -> Result<Vec<Effect>, Refusal> {
        let open = self.open_visit()?;
        let mut entry = open.entry(hive);
        with(&mut entry);
        Ok(open.change(entry).map(Effect::Draft).into_iter().collect())
    }

    /// Stands at a hive of the visit in hand, and tells the front end so.
    fn arrive_at(&mut self, hive: &HiveId, field: Option<usize>) -> Done {
        let now = self.now;
        if let Some(open) = &mut self.visit {
            open.stand_at(hive);
            open.arrive(now);
        }
        self.stood = None;
        Done::default().news(News::AtHive { hive: hive.clone(), field })
    }

    fn stand(&mut self, hive: HiveId, field: usize) -> Done {
        let here = Some((hive, field));
        if self.visit.is_none() || self.stood == here {
            return Done::default();
        }
        self.stood.clone_from(&here);
        let step = here.map(|(hive, field)| Effect::Draft(DraftStep::At { hive, field }));
        Done::default().with(step)
    }

    fn set_look(&mut self, settings: Box<Settings>) -> Done {
        self.settings.clone_from(&settings);
        Done::default().with([Effect::SaveSettings(settings)])
    }

    /// What each hive is on the day, as it looked but for a visit that is being corrected.
    fn fold_anew(&mut self) {
        let corrected: Option<&VisitId> = self.visit.as_ref().and_then(|v| v.visit.replaces.as_ref());
        self.folded = match corrected {
            Some(old) => Folded::emptied_of(&self.book, old, self.today),
            None => Folded::of(&self.book, self.today),
        };
        self.replan();
    }
}

#[cfg(test)]
mod tests;
