//! The program's whole state, and what a command does to it.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{FixedOffset, NaiveDate, NaiveDateTime, Offset, Timelike, Utc};

use super::command::Command;
use super::effect::Effect;
use super::keys::Place;
use super::look::Look;
use super::screens::{Screen, Turn};
use super::theme::Theme;
use super::walk::Walk;
use super::widgets::Taps;
use crate::advice::{Advice, Day, Situation, advise};
use crate::model::{
    Bloom, Book, Entry, Folded, HiveId, HiveState, Loaded, Practice, SeenBloom, Visit, Yard, YardId,
};
use crate::plan::{self, DayPlan, LoadList, Outlook, Stop, YardPlan};
use crate::season::Calendar;
use crate::store::{DraftStep, LeftDraft, visit_id};

/// A line for the keeper, under the body of the screen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Message {
    /// What.
    pub(crate) text: String,
    /// Whether something went wrong.
    pub(crate) is_error: bool,
}

/// How the keeper wants a yard's day.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Wishes {
    /// Hives to see first.
    pinned: Vec<HiveId>,
    /// The order of the others as they were moved by hand.
    moved: Vec<HiveId>,
    /// What is on the truck, by the load list's words.
    pub(super) ticked: BTreeSet<String>,
}

/// The program's whole state.
#[derive(Debug)]
pub(crate) struct App {
    /// The book.
    pub(crate) book: Book,
    /// What each hive is, as of the day.
    pub(crate) folded: Folded,
    /// The day acted on.
    pub(crate) today: NaiveDate,
    /// The day the program was opened on, to come back to.
    pub(super) opened_on: NaiveDate,
    /// Whether that is not the clock's day.
    pub(crate) is_pretended: bool,
    /// The clock, as of the last key.
    pub(crate) now: NaiveDateTime,
    /// The offset of the clock from UTC.
    pub(crate) offset: FixedOffset,
    /// A number by which visits of this start differ from another's.
    pub(crate) seed: u16,
    /// The day's plan, before the visit in progress.
    pub(crate) plan: DayPlan,
    /// How the keeper wants the queues of the day, by yard.
    pub(super) wishes: BTreeMap<YardId, Wishes>,
    /// Why nothing may be written, where that is so.
    pub(crate) read_only: Option<String>,
    /// Why the last of what was entered is not on the disk, where that is so.
    pub(crate) unwritten: Option<String>,
    /// Visits that were left unfinished.
    pub(crate) left: Vec<LeftDraft>,
    /// The visit in progress.
    pub(crate) walk: Option<Walk>,
    /// What to tell the keeper.
    pub(crate) message: Option<Message>,
    /// The theme worn.
    pub(crate) theme: Theme,
    /// Themes, keys and settings.
    pub(crate) look: Look,
    /// The yards as they were before each change of this start, and those that were undone.
    pub(super) yards_before: (Vec<Book>, Vec<Book>),
    /// Where taps land on the screen as it was drawn.
    pub(crate) taps: Taps,
    /// The day on which what to mind before a treatment was last shown.
    pub(crate) cautioned: Option<NaiveDate>,
    /// Screens, the uppermost last.
    pub(crate) screens: Vec<Screen>,
    /// Whether to leave.
    pub(crate) is_over: bool,
}

/// What is known of a hive in the visit in progress: its state with today's entry, and the advice on it.
#[derive(Debug)]
pub(crate) struct HiveView {
    /// The state with today's entry taken in.
    pub(crate) state: HiveState,
    /// Today's entry.
    pub(crate) entry: Entry,
    /// The advice.
    pub(crate) advice: Advice,
    /// The fields worth looking at.
    pub(crate) looks: Vec<crate::model::Finding>,
}

impl App {
    /// The program on a book and a day.
    pub(crate) fn new(book: Book, today: NaiveDate, now: NaiveDateTime, seed: u16, theme: Theme) -> Self {
        let folded = Folded::of(&book, today);
        let plan = plan::day(&book, &folded, today);
        Self {
            book,
            folded,
            today,
            opened_on: today,
            is_pretended: today != now.date(),
            now,
            offset: Utc.fix(),
            seed,
            plan,
            wishes: BTreeMap::new(),
            read_only: None,
            unwritten: None,
            left: Vec::new(),
            walk: None,
            message: None,
            theme,
            look: Look::default(),
            yards_before: (Vec::new(), Vec::new()),
            taps: Taps::default(),
            cautioned: None,
            screens: vec![Screen::Today(super::screens::today::TodayScreen::default())],
            is_over: false,
        }
    }

    /// Where the keys hold now.
    pub(crate) fn place(&self) -> Place {
        self.screens.last().map_or(Place::Today, Screen::place)
    }

    /// Does what a command says.
    pub(crate) fn update(&mut self, command: Command) -> Vec<Effect> {
        self.message = None;
        match command {
            Command::Quit => {
                let is_leaving = matches!(self.screens.last(), Some(Screen::Trouble(t)) if t.is_leaving);
                match &self.unwritten {
                    Some(why) if !is_leaving => {
                        let trouble = super::screens::trouble::TroubleScreen::leaving(why.clone());
                        self.screens.push(Screen::Trouble(trouble));
                    }
                    _ => self.is_over = true,
                }
                return Vec::new();
            }
            Command::Help | Command::Safety => {
                self.open_aid(command);
                return Vec::new();
            }
            Command::Theme => return self.switch_theme(),
            _ => {}
        }
        let mut effects = Vec::new();
        if let Some(mut screen) = self.screens.pop() {
            match screen.update(self, command, &mut effects) {
                Turn::Stay => self.screens.push(screen),
                Turn::Close => {
                    if self.screens.is_empty() {
                        self.screens.push(screen);
                    }
                }
                Turn::Open(over) => {
                    self.screens.push(screen);
                    self.screens.push(over);
                }
                Turn::Replace(other) => self.screens.push(other),
                Turn::Home => self.screens.truncate(1),
                Turn::Run(place, command) => return self.run_found(place, command),
            }
        }
        effects
    }

    /// Text pasted: it goes into a text field, and nowhere else.
    pub(crate) fn paste(&mut self, text: &str) -> Vec<Effect> {
        let mut effects = Vec::new();
        if self.screens.last().is_some_and(Screen::takes_text) {
            for c in text.chars().filter(|c| !c.is_control()).take(2_000) {
                effects.extend(self.update(Command::Type(c)));
            }
        }
        effects
    }

    /// Tells the keeper something.
    pub(crate) fn say(&mut self, text: impl Into<String>) {
        self.message = Some(Message { text: text.into(), is_error: false });
    }

    /// Tells the keeper that something went wrong.
    pub(crate) fn fail(&mut self, text: impl Into<String>) {
        self.message = Some(Message { text: text.into(), is_error: true });
    }

    /// Nothing is to be written from now on.
    pub(crate) fn open_read_only(&mut self, why: String) {
        self.fail(format!("Read-only: {why}."));
        self.read_only = Some(why);
    }

    /// Says so and stops where nothing may be written.
    pub(crate) fn refuses_to_write(&mut self) -> bool {
        let Some(why) = self.read_only.clone() else { return false };
        self.fail(format!("Nothing is written: {why}. Close it first."));
        true
    }

    /// The last day a visit may be logged on.
    pub(crate) fn last_day(&self) -> NaiveDate {
        self.book.last_day(self.now.date())
    }

    /// Of a yard's queue: how many hives are done with, and the minutes the others are likely to take.
    pub(crate) fn progress(&self, plan: &YardPlan) -> (usize, u32) {
        let is_done = |stop: &&Stop| self.walk.as_ref().is_some_and(|w| w.finished.contains(&stop.hive));
        let done = plan.queue.iter().filter(is_done).count();
        let left = plan.queue.iter().filter(|stop| !is_done(stop)).map(|stop| stop.minutes).sum();
        (done, left)
    }

    /// The yard of that name.
    pub(crate) fn yard(&self, name: &YardId) -> Option<&Yard> {
        self.book.yards.iter().find(|y| y.name == *name)
    }

    /// The yard's dates this year.
    pub(crate) fn calendar(&self, yard: &Yard) -> Calendar {
        let mut blooms = self.folded.blooms(&yard.name).to_vec();
        if let Some(walk) = self.walk.as_ref().filter(|w| w.visit.yard == yard.name) {
            blooms
                .extend(walk.visit.blooms.iter().map(|bloom| SeenBloom { on: walk.visit.on, bloom: *bloom }));
        }
        Calendar::of(yard, &self.book.practice, &blooms, self.today)
    }

    /// The yard on days to come.
    pub(crate) fn outlook<'a>(&'a self, yard: &'a Yard) -> Outlook<'a> {
        Outlook::of(&self.book, &self.folded, yard)
    }

    /// The load list of a yard of the day.
    pub(crate) fn load_list(&self, yard: usize) -> LoadList {
        self.plan.yards.get(yard).map_or_else(LoadList::default, |plan| {
            plan::load(plan, &self.folded, &self.book.practice, self.today)
        })
    }

    /// What is ticked as on the truck for a yard.
    pub(crate) fn ticked(&self, yard: usize) -> BTreeSet<String> {
        let name = self.plan.yards.get(yard).map(|y| &y.yard);
        name.and_then(|n| self.wishes.get(n)).map(|w| w.ticked.clone()).unwrap_or_default()
    }

    /// Ticks an item of a yard's load list, or takes the tick away; the visit in progress remembers it.
    pub(crate) fn tick(&mut self, yard: usize, item: &str) -> Vec<Effect> {
        let Some(name) = self.plan.yards.get(yard).map(|y| y.yard.clone()) else { return Vec::new() };
        let ticked = &mut self.wishes.entry(name.clone()).or_default().ticked;
        if !ticked.remove(item) {
            ticked.insert(item.to_owned());
        }
        let truck = self.truck(yard);
        match self.walk.as_mut().filter(|w| w.visit.yard == name) {
            Some(walk) => {
                walk.visit.truck = truck;
                let head = Visit { entries: Vec::new(), ..walk.visit.clone() };
                vec![Effect::Draft(DraftStep::Head(head))]
            }
            None => Vec::new(),
        }
    }

    /// What is ticked for a yard, with how much of it there is.
    fn truck(&self, yard: usize) -> Vec<Loaded> {
        let ticked = self.ticked(yard);
        let list = self.load_list(yard);
        let is_on = |line: &&plan::load::Line| ticked.contains(&line.item);
        let lines = list.lines().filter(is_on);
        lines.map(plan::load::Line::loaded).collect()
    }

    /// Pins a hive to the front of its yard's queue, or lets it go.
    pub(crate) fn pin(&mut self, yard: usize, hive: &HiveId) {
        let Some(name) = self.plan.yards.get(yard).map(|y| y.yard.clone()) else { return };
        let wishes = self.wishes.entry(name).or_default();
        if wishes.pinned.contains(hive) {
            wishes.pinned.retain(|h| h != hive);
        } else {
            wishes.pinned.push(hive.clone());
        }
        self.reorder();
    }

    /// Moves a hive of a yard's queue from one place to another.
    pub(crate) fn shift(&mut self, yard: usize, from: usize, to: usize) {
        let Some(plan) = self.plan.yards.get(yard) else { return };
        let mut order: Vec<HiveId> = plan.queue.iter().map(|s| s.hive.clone()).collect();
        if from >= order.len() || to >= order.len() {
            return;
        }
        let hive = order.remove(from);
        order.insert(to, hive);
        let name = plan.yard.clone();
        let wishes = self.wishes.entry(name).or_default();
        // The pins are part of the order now.
        wishes.pinned.clear();
        wishes.moved = order;
        self.reorder();
        let is_there = |p: &YardPlan| {
            p.queue.iter().map(|s| &s.hive).eq(self.wishes.get(&p.yard).map_or([].iter(), |w| w.moved.iter()))
        };
        if !self.plan.yards.get(yard).is_some_and(is_there) {
            self.say("A hive with suspected disease stays last: hands and tools carry it to the next.");
        }
    }

    /// The yards and hives with another practice, to be written.
    pub(crate) fn yards_with(&self, practice: Practice) -> Book {
        Book { practice, visits: Vec::new(), ..self.book.clone() }
    }

    /// Plans the day anew from the log.
    pub(super) fn replan(&mut self) {
        self.plan.pace = plan::pace(&self.book, self.folded.as_of);
        self.reorder();
    }

    /// Plans the day in the order the keeper wants.
    fn reorder(&mut self) {
        self.plan = plan::day_at(&self.book, &self.folded, self.today, self.plan.pace);
        for yard in &mut self.plan.yards {
            if let Some(wishes) = self.wishes.get(&yard.yard) {
                plan::arrange(&mut yard.queue, &wishes.pinned, &wishes.moved);
            }
        }
    }

    /// The start of today's work at the earliest: now, where today is the clock's day.
    pub(crate) fn earliest(&self) -> Option<chrono::NaiveTime> {
        (!self.is_pretended).then(|| self.now.time())
    }

    /// What is known of a hive now, today's entry taken in.
    pub(crate) fn view(&self, hive: &HiveId) -> Option<HiveView> {
        let mut state = self.folded.hive(hive)?.clone();
        let yard = self.yard(&state.yard)?;
        let calendar = self.calendar(yard);
        let outlook = self.outlook(yard);
        let entry = self.walk.as_ref().map_or_else(|| Entry::blank(hive.clone()), |w| w.entry(hive));
        let weather = self.walk.as_ref().map(|w| w.visit.weather).unwrap_or_default();
        state.apply(&entry, self.today);
        let day = Day {
            today: self.today,
            calendar: &calendar,
            weather,
            practice: &self.book.practice,
            units: self.book.units,
            stands: outlook.stands(),
        };
        let situation = Situation { hive: &state, entry: Some(&entry), day };
        let advice = advise(&situation);
        let looks = crate::advice::looks(&situation, &advice);
        Some(HiveView { state, entry, advice, looks })
    }

    /// Changes what is written of a hive in the visit that is open, so that it can be undone and is put on the disk.
    pub(crate) fn change(&mut self, hive: &HiveId, effects: &mut Vec<Effect>, with: impl FnOnce(&mut Entry)) {
        if let Some(walk) = &mut self.walk {
            let mut entry = walk.entry(hive);
            with(&mut entry);
            effects.extend(walk.change(entry).map(Effect::Draft));
        }
    }

    /// Stands at a hive of the visit that is open; what is to be put on the disk, so that a kill comes back there.
    pub(crate) fn stand_at(&mut self, hive: &HiveId) -> Option<Effect> {
        let walk = self.walk.as_mut()?;
        walk.stand_at(hive);
        Some(Effect::Draft(DraftStep::At { hive: hive.clone(), field: 0 }))
    }

    /// Begins a visit to a yard.
    pub(crate) fn begin_walk(
        &mut self,
        yard: &YardId,
        weather: crate::model::Weather,
        blooms: Vec<Bloom>,
    ) -> Vec<Effect> {
        let Some(plan) = self.plan.yards.iter().find(|y| y.yard == *yard) else { return Vec::new() };
        let due = plan.queue.len();
        let queue: Vec<HiveId> = plan.queue.iter().chain(&plan.rest).map(|s| s.hive.clone()).collect();
        let began = self.now.time().with_nanosecond(0);
        let at = self.plan.yards.iter().position(|y| y.yard == *yard);
        let truck = at.map(|at| self.truck(at)).unwrap_or_default();
        let visit = Visit {
            began,
            weather,
            blooms,
            truck,
            ..Visit::begun(
                visit_id(yard, self.today.and_time(self.now.time()), self.seed),
                yard.clone(),
                self.today,
            )
        };
        self.seed = self.seed.wrapping_add(1);
        let effects = vec![
            Effect::BeginDraft(visit.id.clone()),
            Effect::Draft(DraftStep::Head(visit.clone())),
            Effect::Draft(DraftStep::Queue { hives: queue.clone(), due }),
        ];
        self.walk = Some(Walk::begin(visit, queue, due));
        effects
    }
}
