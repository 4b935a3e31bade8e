//! The loop: draw, wait for one event, update, carry out the effects. The one file of this room that names the
//! store's doings.

use std::io;

use chrono::{FixedOffset, NaiveDate, NaiveDateTime};
use crossterm::event::{self, Event, KeyEventKind};
use ratatui::Terminal;
use ratatui::backend::Backend;

use super::app::App;
use super::effect::Effect;
use super::guard::Guard;
use super::keys;
use super::screens::welcome::{Chosen, WelcomeScreen};
use super::screens::{self};
use super::theme::Theme;
use super::walk::Walk;
use crate::model::Book;
use crate::store::{self, BookFolder, Draft, Lock, Locked, StoreError};

/// How the program opens.
#[derive(Debug, Clone, Copy)]
pub struct Opening {
    /// The day acted on.
    pub today: NaiveDate,
    /// Reads the clock.
    pub clock: fn() -> NaiveDateTime,
    /// The offset of the laptop's clock from UTC on a day.
    pub offset: fn(NaiveDate) -> FixedOffset,
    /// A number by which this start's visits differ from another's.
    pub seed: u16,
    /// Whether colour is unwanted.
    pub no_color: bool,
}

/// What the first steps ended in.
#[derive(Debug)]
pub enum Welcomed {
    /// The demonstration.
    Demo,
    /// A new book.
    NewBook(Box<Book>),
    /// Nothing.
    Left,
}

/// Where events come from.
pub(crate) trait Events {
    /// The next one; blocks until there is one, `None` at the end.
    fn next(&mut self) -> io::Result<Option<Event>>;
}

/// The terminal's own events.
struct TerminalEvents;

impl TerminalEvents {
    /// Listens from now on: a change of size between the first drawing and the first wait is not missed.
    fn listen() -> io::Result<Self> {
        event::poll(std::time::Duration::ZERO)?;
        Ok(Self)
    }
}

impl Events for TerminalEvents {
    fn next(&mut self) -> io::Result<Option<Event>> {
        event::read().map(Some)
    }
}

fn theme(no_color: bool) -> Theme {
    if no_color { Theme::none() } else { Theme::built_in("dark") }
}

/// Asks the first questions where there is no book.
///
/// # Errors
/// Where the terminal fails.
pub fn welcome(no_color: bool, today: NaiveDate) -> io::Result<Welcomed> {
    let mut guard = Guard::enter()?;
    let theme = theme(no_color);
    let mut screen = WelcomeScreen::on(today);
    let mut events = TerminalEvents::listen()?;
    loop {
        guard.terminal.draw(|frame| screens::welcome::draw::draw(&screen, &theme, frame))?;
        let Some(event) = events.next()? else { return Ok(Welcomed::Left) };
        let Event::Key(key) = event else { continue };
        if key.kind == KeyEventKind::Release {
            continue;
        }
        let chosen = keys::command(keys::Place::Welcome, &key).and_then(|c| screen.update(c));
        match chosen {
            Some(Chosen::Demo) => return Ok(Welcomed::Demo),
            Some(Chosen::New(book)) => return Ok(Welcomed::NewBook(book)),
            Some(Chosen::Left) => return Ok(Welcomed::Left),
            None => {}
        }
    }
}

/// Walks the yard on a book.
///
/// # Errors
/// Where the terminal fails, or a draft that was left cannot be read.
pub fn walk(folder: BookFolder, book: Book, opening: Opening) -> Result<(), WalkError> {
    let who = format!("process {}, since {}", std::process::id(), (opening.clock)().format("%-d %b %H:%M"));
    let (lock, read_only) = match store::lock(folder.folder(), &who)? {
        Locked::Ours(lock) => (Some(lock), None),
        Locked::Theirs(who) => (None, Some(format!("open in another window ({who})"))),
        Locked::None(why) => (None, Some(format!("this folder cannot be written ({why})"))),
    };
    let mut desk = Desk { folder, draft: None, _lock: lock };
    let mut app = App::new(book, opening.today, (opening.clock)(), opening.seed, theme(opening.no_color));
    app.offset = (opening.offset)(opening.today);
    match read_only {
        // The draft is the other's.
        Some(why) => app.open_read_only(why),
        None => desk.take_up_draft(&mut app)?,
    }
    let mut guard = Guard::enter()?;
    let mut events = TerminalEvents::listen()?;
    event_loop(&mut guard.terminal, &mut events, &mut app, &mut desk, opening.clock)
        .map_err(|err| WalkError::Terminal(io::Error::other(err)))
}

/// What can go wrong while walking.
#[derive(Debug, thiserror::Error)]
pub enum WalkError {
    /// With the terminal.
    #[error("the terminal failed")]
    Terminal(#[from] io::Error),
    /// With files.
    #[error(transparent)]
    Store(#[from] StoreError),
}

/// Draws and waits, in turn, until the program is over.
pub(crate) fn event_loop<B: Backend>(
    terminal: &mut Terminal<B>,
    events: &mut impl Events,
    app: &mut App,
    desk: &mut Desk,
    clock: fn() -> NaiveDateTime,
) -> Result<(), String> {
    loop {
        terminal.draw(|frame| screens::draw(app, frame)).map_err(|err| err.to_string())?;
        let Some(event) = events.next().map_err(|err| err.to_string())? else { return Ok(()) };
        app.now = clock();
        let effects = match event {
            Event::Key(key) if key.kind != KeyEventKind::Release => {
                keys::command(app.place(), &key).map(|command| app.update(command)).unwrap_or_default()
            }
            Event::Paste(text) => app.paste(&text),
            // A resize draws anew; focus, mouse and releases change nothing.
            _ => Vec::new(),
        };
        for effect in effects {
            desk.carry_out(effect, app);
        }
        if app.is_over {
            return Ok(());
        }
    }
}

/// The book's folder and the draft that is open: what effects are carried out on.
#[derive(Debug)]
pub(crate) struct Desk {
    pub(crate) folder: BookFolder,
    pub(crate) draft: Option<Draft>,
    /// Held while the program runs.
    pub(crate) _lock: Option<Lock>,
}

impl Desk {
    /// Takes up the newest draft that was left, if there is one.
    fn take_up_draft(&mut self, app: &mut App) -> Result<(), StoreError> {
        let Some(path) = self.folder.drafts()?.pop() else { return Ok(()) };
        let (draft, steps) = Draft::resume(&path)?;
        match Walk::resume(steps) {
            // A visit that was saved, its draft left by a kill in between: the book holds it.
            Some((walk, _)) if app.book.visits.iter().any(|v| v.id == walk.visit.id) => draft.finish(),
            Some((walk, field)) if app.yard(&walk.visit.yard).is_some() => {
                self.draft = Some(draft);
                app.resume(walk, field);
                Ok(())
            }
            // Too little in it to take up, or a yard that is gone: kept, out of the way.
            Some(_) | None => draft.set_aside(),
        }
    }

    fn carry_out(&mut self, effect: Effect, app: &mut App) {
        let result = match effect {
            Effect::BeginDraft(id) => self.folder.begin_draft(&id).map(|draft| self.draft = Some(draft)),
            Effect::Draft(step) => match &mut self.draft {
                Some(draft) => draft.append(&step),
                None => Ok(()),
            },
            Effect::SaveVisit(visit) => self.save(&visit, app),
            Effect::SavePractice(practice) => return self.save_practice(*practice, app),
        };
        if let Err(err) = result {
            let err = err.with_cause();
            app.fail(format!("NOT ON THE DISK. {err}. Kept in memory; the next key tries again."));
        }
    }

    /// What could not be written does not hold either.
    fn save_practice(&mut self, practice: crate::model::Practice, app: &mut App) {
        let book = Book { practice, visits: Vec::new(), ..app.book.clone() };
        match self.folder.save_yards(&book) {
            Ok(()) => app.practice_saved(book.practice),
            Err(err) => {
                let err = err.with_cause();
                app.fail(format!("NOT ON THE DISK, nothing changed. {err}. Try again when it is mended."));
            }
        }
    }

    fn save(&mut self, visit: &crate::model::Visit, app: &mut App) -> Result<(), StoreError> {
        self.folder.add_visit(visit)?;
        app.visit_saved(visit);
        match self.draft.take() {
            Some(draft) => draft.finish(),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests;
