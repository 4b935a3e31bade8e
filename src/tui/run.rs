//! The loop: draw, wait for one event, update, carry out the effects.

use std::io;
use std::path::{Path, PathBuf};

use chrono::{FixedOffset, NaiveDate, NaiveDateTime};
use crossterm::event::{
    self, Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers, MouseEvent, MouseEventKind,
};
use ratatui::Terminal;
use ratatui::backend::Backend;

use super::app::App;
use super::command::Command;
use super::desk::Desk;
use super::effect::Effect;
use super::guard::Guard;
use super::keys::Place;
use super::look::Look;
use super::screens::welcome::{Chosen, WelcomeScreen};
use super::screens::{self};
use super::theme::Theme;
use super::widgets::Tap;
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
    /// The folder of settings, where one is known.
    pub config: Option<PathBuf>,
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

/// The look of the settings' folder; without colour where none is wanted.
fn look(config: Option<&Path>, no_color: bool) -> Look {
    let mut look = config.map_or_else(Look::default, |folder| Look::of(store::read_config(folder)));
    if no_color {
        look.themes = vec![Theme::none()];
    }
    look
}

/// Asks the first questions where there is no book.
///
/// # Errors
/// Where the terminal fails.
pub fn welcome(no_color: bool, config: Option<&Path>, today: NaiveDate) -> io::Result<Welcomed> {
    let mut guard = Guard::enter()?;
    let mut look = look(config, no_color);
    let mut screen = WelcomeScreen::on(today);
    let mut events = TerminalEvents::listen()?;
    loop {
        guard
            .terminal
            .draw(|frame| screens::welcome::draw::draw(&screen, &look.theme(), &look.keys, frame))?;
        let Some(event) = events.next()? else { return Ok(Welcomed::Left) };
        let Event::Key(key) = event else { continue };
        if key.kind == KeyEventKind::Release {
            continue;
        }
        if is_suspend(&key) {
            super::guard::suspend()?;
            guard.terminal.swap_buffers();
            continue;
        }
        let command = look.keys.command(Place::Welcome, &key);
        if command == Some(Command::Theme) {
            look.settings.is_night = !look.settings.is_night;
            continue;
        }
        let chosen = command.and_then(|c| screen.update(c));
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
pub fn walk(folder: BookFolder, book: Book, opening: &Opening) -> Result<(), WalkError> {
    let look = look(opening.config.as_deref(), opening.no_color);
    let (mut app, mut desk) = open_app(folder, book, opening, look.theme())?;
    super::guard::take_mouse(look.settings.mouse);
    let fault = look.faults.first().map(|fault| crate::model::visible(fault));
    app.wear(look);
    if let (None, Some(fault)) = (&app.message, fault) {
        app.fail(format!("{fault} The default is used; all of it stands in the settings (g)."));
    }
    let mut guard = Guard::enter()?;
    let mut events = TerminalEvents::listen()?;
    event_loop(&mut guard.terminal, &mut events, &mut app, &mut desk, opening.clock).map_err(|err| {
        super::guard::end_if_hung_up();
        WalkError::Terminal(io::Error::other(err))
    })
}

/// The program's state on a book, with the lock and the visit that was left, before anything is drawn.
pub(crate) fn open_app(
    folder: BookFolder,
    book: Book,
    opening: &Opening,
    theme: Theme,
) -> Result<(App, Desk), WalkError> {
    let who = format!("process {}, since {}", std::process::id(), (opening.clock)().format("%-d %b %H:%M"));
    let (lock, read_only) = match store::lock(folder.folder(), &who)? {
        Locked::Ours(lock) => (Some(lock), None),
        Locked::Theirs(who) => (None, Some(format!("open in another window ({who})"))),
        Locked::None(why) => (None, Some(format!("this folder cannot be written ({why})"))),
    };
    let mut desk = Desk::new(folder, lock, opening.emergency.clone()).with_config(opening.config.clone());
    let mut app = App::new(book, opening.today, (opening.clock)(), opening.seed, theme);
    app.offset = (opening.offset)(opening.today);
    match read_only {
        // The draft is the other's.
        Some(why) => app.open_read_only(why),
        None => desk.take_up_left(&mut app)?,
    }
    app.tell_of_conflicts();
    Ok((app, desk))
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

fn is_suspend(key: &KeyEvent) -> bool {
    cfg!(unix) && key.code == KeyCode::Char('z') && key.modifiers.contains(KeyModifiers::CONTROL)
}

fn press(app: &mut App, key: &KeyEvent) -> Vec<Effect> {
    app.look.keys.command(app.place(), key).map(|command| app.update(command)).unwrap_or_default()
}

/// A tap on a key of the footer presses it, a tap on a row goes there; a wheel goes up and down.
fn tap(app: &mut App, mouse: MouseEvent) -> Vec<Effect> {
    match mouse.kind {
        MouseEventKind::Down(_) => match app.taps.at(mouse.column, mouse.row) {
            Some(Tap::Key(code)) => press(app, &KeyEvent::new(code, KeyModifiers::NONE)),
            Some(Tap::Row(row)) => app.update(Command::GoTo(row)),
            None => Vec::new(),
        },
        MouseEventKind::ScrollUp => app.update(Command::Up),
        MouseEventKind::ScrollDown => app.update(Command::Down),
        _ => Vec::new(),
    }
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
            Event::Key(key) if is_suspend(&key) => {
                let effects = app.settle();
                for effect in effects {
                    desk.carry_out(effect, app);
                }
                super::guard::suspend().map_err(|err| err.to_string())?;
                // The screen is another's now: the next drawing is to begin from nothing.
                terminal.swap_buffers();
                Vec::new()
            }
            Event::Key(key) if key.kind != KeyEventKind::Release => press(app, &key),
            Event::Paste(text) => app.paste(&text),
            Event::FocusLost => app.settle(),
            Event::Mouse(mouse) => tap(app, mouse),
            // A resize draws anew; releases change nothing.
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
mod disk_tests;
#[cfg(test)]
mod key_tests;
#[cfg(test)]
mod picture_tests;
#[cfg(test)]
mod tests;
