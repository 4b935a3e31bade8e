//! The loop: draw, wait for one event, update, carry out the effects.

use std::io;
use std::path::PathBuf;

use chrono::{FixedOffset, NaiveDate, NaiveDateTime};
use crossterm::event::{self, Event, KeyEventKind};
use ratatui::Terminal;
use ratatui::backend::Backend;

use super::app::App;
use super::desk::Desk;
use super::guard::Guard;
use super::keys;
use super::screens::welcome::{Chosen, WelcomeScreen};
use super::screens::{self};
use super::theme::Theme;
use crate::model::Book;
use crate::store::{self, BookFolder, Locked, StoreError};

/// How the program opens.
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
    /// Whether colour is unwanted.
    pub no_color: bool,
    /// Folders in which a visit is kept while the book's disk refuses.
    pub emergency: Vec<PathBuf>,
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
/// Where the terminal fails, or the drafts cannot be listed.
pub fn walk(folder: BookFolder, book: Book, opening: Opening) -> Result<(), WalkError> {
    let who = format!("process {}, since {}", std::process::id(), (opening.clock)().format("%-d %b %H:%M"));
    let (lock, read_only) = match store::lock(folder.folder(), &who)? {
        Locked::Ours(lock) => (Some(lock), None),
        Locked::Theirs(who) => (None, Some(format!("open in another window ({who})"))),
        Locked::None(why) => (None, Some(format!("this folder cannot be written ({why})"))),
    };
    let mut desk = Desk::new(folder, lock, opening.emergency);
    let mut app = App::new(book, opening.today, (opening.clock)(), opening.seed, theme(opening.no_color));
    app.offset = (opening.offset)(opening.today);
    match read_only {
        // The draft is the other's.
        Some(why) => app.open_read_only(why),
        None => desk.take_up_left(&mut app)?,
    }
    app.tell_of_conflicts();
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

#[cfg(test)]
mod tests;
