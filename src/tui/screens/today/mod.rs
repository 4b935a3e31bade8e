//! The day: which yard, which hives need what and why, what is done, and how long the rest takes.

mod draw;

use std::cell::OnceCell;

use chrono::{NaiveDate, NaiveTime, Timelike as _};

use crate::colony::wash;
use crate::model::{HiveId, HiveState, VisitId, Yard};
use crate::plan::{self, Stop, YardPlan};
use crate::season::{Daylight, daylight};
use crate::session::{Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::search::Search;
use crate::tui::to::{Sheet, To};
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::{Picture, row_after};
use crate::wording;

#[derive(Debug, Default)]
pub(crate) struct TodayScreen {
    yard: usize,
    /// Which row of its hives.
    row: usize,
    /// The visit whose yard is shown, so that one that begins elsewhere is turned to once.
    follows: Option<VisitId>,
    /// Hives of which something is written today, with what they need now.
    now: Vec<Stop>,
    /// The lines over the hives.
    head: Head,
    /// What is searched among them.
    search: Search,
    /// The chosen hive as a picture: made when it is first drawn, for a narrow terminal shows none.
    picture: OnceCell<Option<Picture>>,
}

/// What stands over a yard's hives.
#[derive(Debug, Default)]
struct Head {
    /// The season, how many hives are due, and when the day's work ends.
    day: Option<String>,
    /// Hives done and due.
    done: (usize, usize),
    /// The day's light, where it is known.
    light: Option<DayLight>,
    /// What the washes of the last weeks say.
    mites: Option<String>,
    /// The next date that not every hive meets.
    deadline: Option<String>,
}

impl View for TodayScreen {
    fn id(&self) -> ScreenId {
        if self.search.is_typed { ScreenId::Search } else { ScreenId::Today }
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        if self.search.update(command) {
            self.row = 0;
            self.picture = OnceCell::new();
            return Step::stay();
        }
        let yards = session.yards_of_day().len();
        let last = self.stops(session).len().saturating_sub(1);
        if let Some(row) = row_after(command, self.row, last) {
            self.row = row;
            self.picture = OnceCell::new();
            return Step::stay();
        }
        match command {
            Command::Left | Command::Right if yards > 0 => {
                let step = if command == Command::Right { 1 } else { yards - 1 };
                self.yard = (self.yard + step) % yards;
                self.row = 0;
                self.refresh(session);
            }
            Command::Walk => return self.walk(session),
            Command::Card => return self.hive(session).map_or_else(Step::stay, |h| Step::open(To::Card(h))),
            Command::Load => return Step::open(To::Load(self.yard)),
            Command::Log => return Step::open(To::Log),
            Command::LeftOut => return Step::open(To::LeftOut),
            Command::Weather if session.visit().is_some() => return Step::open(To::OpenWeather),
            Command::Weather => {
                return Step::say("No visit is open: Enter walks the yard and asks for the weather.");
            }
            Command::Weeks => return Step::open(To::Sheet(Sheet::Weeks, self.yard)),
            Command::Readiness => return Step::open(To::Sheet(Sheet::Readiness, self.yard)),
            Command::Worth => return Step::open(To::Sheet(Sheet::Worth, self.yard)),
            Command::Season => return Step::open(To::Season(self.yard)),
            Command::Calc => return Step::open(To::Calc),
            Command::Settings => return Step::open(To::Settings(0)),
            Command::Practice => return Step::open(To::Practice(None)),
            Command::Roster => return Step::open(To::Roster),
            Command::Rehearsal if session.rehearsal().is_some() => return Step::open(To::Rehearsal),
            Command::Rehearsal => {
                return Step::say("Only in a rehearsal is a day chosen: `yardwalk rehearse` begins one.");
            }
            Command::WrapUp if session.visit().is_some() => return Step::open(To::WrapUp),
            Command::WrapUp => return Step::say("No visit is open: Enter walks the yard."),
            Command::Pin | Command::Earlier | Command::Later => return self.arrange(session, command),
            _ => {}
        }
        Step::stay()
    }

    fn refresh(&mut self, session: &Session) {
        let open = session.visit().map(|v| &v.visit);
        if let Some(visit) = open.filter(|v| self.follows.as_ref() != Some(&v.id)) {
            self.follows = Some(visit.id.clone());
            if let Some(at) = session.yards_of_day().position(|y| *y == visit.yard) {
                self.yard = at;
                self.row = 0;
            }
        }
        self.now = self.seen_today(session);
        self.row = self.row.min(self.stops(session).len().saturating_sub(1));
        let plan = self.plan(session);
        let yard = plan.and_then(|plan| session.yard(&plan.yard));
        self.head = match (plan, yard) {
            (Some(plan), Some(yard)) => Head {
                day: Some(day_words(session, plan, yard)),
                done: (session.progress(plan).0, plan.queue.len()),
                light: DayLight::of(session, plan, yard),
                mites: mites_words(session, plan),
                deadline: deadline_words(session, yard),
            },
            _ => Head::default(),
        };
        self.picture = OnceCell::new();
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}

impl TodayScreen {
    fn plan<'a>(&self, session: &'a Session) -> Option<&'a YardPlan> {
        session.yard_plan_at(self.yard)
    }

    fn hive(&self, session: &Session) -> Option<HiveId> {
        self.stops(session).get(self.row).map(|stop| stop.hive.clone())
    }

    /// The hives of which something is written today, with what they need now.
    fn seen_today(&self, session: &Session) -> Vec<Stop> {
        let stops = self.plan(session).into_iter().flat_map(|plan| plan.queue.iter().chain(&plan.rest));
        let is_written = |stop: &&Stop| session.visit().is_some_and(|v| !v.entry(&stop.hive).is_blank());
        let as_now = |stop: &Stop| Some(Stop { advice: session.view(&stop.hive)?.advice, ..stop.clone() });
        stops.filter(is_written).filter_map(as_now).collect()
    }

    /// The picture of the chosen hive.
    fn picture(&self, session: &Session) -> Option<&Picture> {
        let made = || Some(Picture::of(session.folded().hive(&self.hive(session)?)?, session));
        self.picture.get_or_init(made).as_ref()
    }

    /// The hives shown, those that are due first and those that are dead last: all of the yard, or what is searched.
    fn stops<'a>(&'a self, session: &'a Session) -> Vec<&'a Stop> {
        let (alive, dead): (Vec<&Stop>, Vec<&Stop>) = self
            .plan(session)
            .into_iter()
            .flat_map(|plan| &plan.rest)
            .partition(|stop| session.folded().hive(&stop.hive).is_none_or(HiveState::is_alive));
        let due = self.plan(session).into_iter().flat_map(|plan| &plan.queue);
        // What today's entry says of a hive takes the place of what the morning's plan did.
        let as_now = |stop: &'a Stop| self.now.iter().find(|now| now.hive == stop.hive).unwrap_or(stop);
        let stops = due.chain(alive).chain(dead).map(as_now);
        let words = |stop: &Stop| {
            let titles: Vec<&str> = stop.advice.prompts.iter().map(|p| p.title.as_str()).collect();
            format!("{} {}", stop.hive, titles.join(" "))
        };
        stops.filter(|stop| self.search.text.is_empty() || self.search.fits(&words(stop))).collect()
    }

    /// Moves or pins the chosen hive in the queue, and goes with it where it stays in sight.
    fn arrange(&mut self, session: &Session, command: Command) -> Step {
        let Some(hive) = self.hive(session) else { return Step::stay() };
        if !self.search.text.is_empty() {
            return Step::say("Show all hives first (Esc): you cannot see its place among a few.");
        }
        let due = self.plan(session).map_or(0, |p| p.queue.len());
        let may_move = self.row < due && session.visit().is_none();
        match command {
            Command::Pin => {
                if may_move {
                    self.row = 0;
                }
                Step::want(Intent::Pin(hive))
            }
            Command::Earlier => {
                if may_move {
                    self.row = self.row.saturating_sub(1);
                }
                Step::want(Intent::Move { hive, later: false })
            }
            _ => {
                if may_move {
                    self.row = (self.row + 1).min(due.saturating_sub(1));
                }
                Step::want(Intent::Move { hive, later: true })
            }
        }
    }

    /// Goes to the hive in the visit that is open, or begins one.
    fn walk(&self, session: &Session) -> Step {
        let Some(yard) = self.plan(session).map(|p| p.yard.clone()) else {
            return Step::say("This book has no yard yet: h, then A sets one up.");
        };
        let Some(hive) = self.hive(session) else {
            return Step::say("This yard has no hive yet: h, then a adds hives.");
        };
        if session.visit().is_some_and(|v| v.visit.yard == yard) {
            return Step::want(Intent::GoTo(hive));
        }
        match session.may_begin(&yard) {
            Ok(()) => Step::open(To::Weather(yard, hive)),
            Err(refusal) => Step::fail(refusal.words()),
        }
    }
}

fn day_words(session: &Session, plan: &YardPlan, yard: &Yard) -> String {
    let phase = session.calendar(yard).phase(session.today()).word();
    let (_, left) = session.progress(plan);
    format!(
        "{phase} · {} of {} due · {left} min left{}",
        plan.queue.len(),
        wording::count(plan.queue.len() + plan.rest.len(), "hive"),
        hours_words(session, plan, yard)
    )
}

/// The hours of a day, 0 to 24 each: when the sun is up, when hives are worked, when the day's work is.
#[derive(Debug, Clone, PartialEq)]
struct DayLight {
    sun: (f64, f64),
    worked: (f64, f64),
    planned: Option<(f64, f64)>,
    words: String,
}

impl DayLight {
    fn of(session: &Session, plan: &YardPlan, yard: &Yard) -> Option<Self> {
        let Daylight::Rises(light) = daylight(&yard.place?, session.today(), session.offset()) else {
            return None;
        };
        let hour = |at: NaiveTime| f64::from(at.num_seconds_from_midnight()) / 3600.0;
        let (book, units) = (session.book(), session.book().units);
        let hours = plan::hours(&book.practice, yard, session.today(), session.offset());
        let open = still_open(session, plan);
        let fit = plan::fit(&open, hours, session.earliest());
        Some(Self {
            sun: (hour(light.sunrise.time()), hour(light.sunset.time())),
            worked: (hour(hours.from), hour(hours.to)),
            planned: (!open.is_empty()).then(|| (hour(fit.start), hour(fit.finish))),
            words: format!(
                "sun {} to {}",
                wording::clock(units, light.sunrise.time()),
                wording::clock(units, light.sunset.time())
            ),
        })
    }
}

/// The hives of a queue that were not gone to yet.
fn still_open(session: &Session, plan: &YardPlan) -> Vec<Stop> {
    let is_open = |s: &&Stop| !session.visit().is_some_and(|v| v.finished.contains(&s.hive));
    plan.queue.iter().filter(is_open).cloned().collect()
}

/// The most hives to leave out that are named: the list below has them all, and needs the lines.
const FEW: usize = 5;

/// When the day's work begins and ends, and what to leave out where the hours are too short.
fn hours_words(session: &Session, plan: &YardPlan, yard: &Yard) -> String {
    let open = still_open(session, plan);
    if open.is_empty() {
        return String::new();
    }
    let (book, units) = (session.book(), session.book().units);
    let hours = plan::hours(&book.practice, yard, session.today(), session.offset());
    let fit = plan::fit(&open, hours, session.earliest());
    if fit.fits {
        let (start, finish) = (wording::clock(units, fit.start), wording::clock(units, fit.finish));
        return format!(" · {start} to {finish}");
    }
    let end = if hours.is_dusk { "dusk" } else { "warm" };
    format!(
        " · TOO LONG: {end} to {}, leave {}",
        wording::clock(units, hours.to),
        wording::list_of_few(&fit.leave_out, FEW)
    )
}

/// The next date that not every hive of the yard meets.
fn deadline_words(session: &Session, yard: &Yard) -> Option<String> {
    let (book, today) = (session.book(), session.today());
    let stands: Vec<_> = yard.hives.iter().filter_map(|h| session.folded().hive(&h.id)).collect();
    let open = plan::deadlines(&stands, &session.calendar(yard), &book.practice, today)
        .into_iter()
        .find(|d| d.met + d.in_hand < d.of)?;
    let by = wording::day(book.units, open.by);
    Some(format!("by {by} ({}) {}: {}", wording::days_from(today, open.by), open.what, open.words(today)))
}

/// What the washes of the last forty days say of the yard.
fn mites_words(session: &Session, plan: &YardPlan) -> Option<String> {
    let stops = plan.queue.iter().chain(&plan.rest);
    let states: Vec<_> = stops.filter_map(|s| session.folded().hive(&s.hive)).collect();
    let living = states.iter().filter(|s| s.is_alive()).count();
    let is_recent = |on: NaiveDate| (0..=40).contains(&(session.today() - on).num_days());
    let washes = states.iter().filter_map(|s| s.last_wash().filter(|w| is_recent(w.on)).copied());
    let limit = session.book().practice.mite_limit();
    let reading = wash::yard(&washes.collect::<Vec<_>>(), living, limit)?;
    let enough = if reading.is_enough { "" } else { "; wash more to speak for the yard" };
    Some(format!(
        "mites in 40 days: {} of {living} hives, mean {:.1} % ({:.1} to {:.1}), {} over {limit} %{enough}",
        reading.washed, reading.mean, reading.range.low, reading.range.high, reading.above
    ))
}
