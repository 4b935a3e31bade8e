//! The loop: draw, wait for one event, update, carry out the effects.

use std::io;

use chrono::{NaiveDate, NaiveDateTime};
use crossterm::event::{
    self, Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers, MouseEvent, MouseEventKind,
};
use ratatui::Terminal;
use ratatui::backend::Backend;

use super::app::App;
use super::command::Command;
use super::glance::Glanced;
use super::glyphs;
use super::guard::Guard;
use super::keys::ScreenId;
use super::look::{Appearance, Wear};
use super::screens::bring_back::{self, Offered};
use super::screens::welcome::{self, Chosen, WelcomeScreen};
use super::widgets::Tap;
use crate::model::{Book, Jotting, Settings};
use crate::session::{Config, Done, OpenBook};

/// What the first steps ended in.
#[derive(Debug)]
pub enum Welcomed {
    /// The demonstration.
    Demo,
    /// A rehearsal of a year.
    Rehearsal,
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

/// Asks the first questions where there is no book, from where they were left: `kept` is what was typed before, and
/// `keep` is given what is typed, as it is typed, and `wear_on` the settings when the colors are changed.
///
/// # Errors
/// Where the terminal fails.
pub fn welcome(
    config: Config,
    wear: Wear,
    today: NaiveDate,
    kept: Option<&Jotting>,
    keep: &mut dyn FnMut(Jotting),
    wear_on: &mut dyn FnMut(&Settings),
) -> io::Result<Welcomed> {
    let mut guard = Guard::enter(wear.depth)?;
    let mut settings = config.settings.clone();
    let look = Appearance::of(config, wear);
    let mut screen = WelcomeScreen::on(today);
    if let Some(kept) = kept {
        screen.put_back(kept);
    }
    let mut last = screen.typed();
    let mut events = TerminalEvents::listen()?;
    loop {
        guard.terminal.draw(|frame| {
            welcome::draw::draw(&screen, &look.theme(&settings), &look.keys, frame);
            if look.in_letters(&settings) {
                glyphs::in_letters(frame.buffer_mut());
            }
        })?;
        let Some(event) = events.next()? else { return Ok(Welcomed::Left) };
        let command = match event {
            Event::Paste(text) => {
                screen.paste(&text);
                None
            }
            Event::Key(key) if key.kind == KeyEventKind::Release => continue,
            Event::Key(key) if is_suspend(&key) => {
                super::guard::suspend()?;
                guard.terminal.swap_buffers();
                continue;
            }
            Event::Key(key) => look.keys.command(ScreenId::Welcome, &key),
            _ => continue,
        };
        if command == Some(Command::Theme) {
            settings.is_night = !settings.is_night;
            wear_on(&settings);
            continue;
        }
        let chosen = command.and_then(|c| screen.update(c));
        let now = screen.typed();
        if now != last {
            keep(now.clone());
            last = now;
        }
        match chosen {
            Some(Chosen::Demo) => return Ok(Welcomed::Demo),
            Some(Chosen::Rehearsal) => return Ok(Welcomed::Rehearsal),
            Some(Chosen::New(book)) => return Ok(Welcomed::NewBook(book)),
            Some(Chosen::Left) => return Ok(Welcomed::Left),
            None => {}
        }
    }
}

/// Offers a former `yard.ron` in the place of one that cannot be read: whether it is to be brought back.
///
/// # Errors
/// Where the terminal fails.
pub fn bring_back(config: Config, wear: Wear, offered: &Offered) -> io::Result<bool> {
    let mut guard = Guard::enter(wear.depth)?;
    let theme = config.settings.clone();
    let look = Appearance::of(config, wear);
    let mut events = TerminalEvents::listen()?;
    loop {
        guard.terminal.draw(|frame| bring_back::draw(offered, &look.theme(&theme), &look.keys, frame))?;
        let Some(event) = events.next()? else { return Ok(false) };
        let Event::Key(key) = event else { continue };
        if key.kind == KeyEventKind::Release {
            continue;
        }
        match look.keys.command(ScreenId::BringBack, &key) {
            Some(Command::Take) => return Ok(true),
            Some(Command::Back | Command::Quit) => return Ok(false),
            _ => {}
        }
    }
}

/// Walks the yard on an open book.
///
/// # Errors
/// Where the terminal fails.
pub fn walk(
    opened: (OpenBook, Done),
    config: Config,
    wear: Wear,
    clock: fn() -> NaiveDateTime,
) -> io::Result<()> {
    walk_from(None, opened, config, wear, clock)
}

/// The same where its first screen may stand there already.
///
/// # Errors
/// Where the terminal fails.
pub fn walk_from(
    glanced: Option<Glanced>,
    (open, opened): (OpenBook, Done),
    config: Config,
    wear: Wear,
    clock: fn() -> NaiveDateTime,
) -> io::Result<()> {
    let look = Appearance::of(config, wear);
    let depth = look.wear.depth;
    let fault = look.faults.first().map(|fault| crate::model::visible(fault));
    let mut app = App::new(open, look, opened);
    super::guard::take_mouse(app.session().settings().mouse);
    if let (None, Some(fault)) = (&app.message, fault) {
        app.fail(format!("{fault} The default is used; the settings show all of it."));
    }
    let mut guard = match glanced {
        Some(Glanced { guard, shown }) => {
            app.shown = Some(shown);
            guard
        }
        None => Guard::enter(depth)?,
    };
    let mut events = TerminalEvents::listen()?;
    event_loop(&mut guard.terminal, &mut events, &mut app, clock).map_err(|err| {
        super::guard::end_if_hung_up();
        io::Error::other(err)
    })
}

fn is_suspend(key: &KeyEvent) -> bool {
    cfg!(unix) && key.code == KeyCode::Char('z') && key.modifiers.contains(KeyModifiers::CONTROL)
}

fn press(app: &mut App, key: &KeyEvent) {
    if let Some(command) = app.look.keys.command(app.screen(), key) {
        app.update(command);
    }
}

/// A tap on a key of the footer presses it, a tap on a row goes there; a wheel goes up and down.
fn tap(app: &mut App, mouse: MouseEvent) {
    match mouse.kind {
        MouseEventKind::Down(_) => match app.taps.at(mouse.column, mouse.row) {
            Some(Tap::Key(code)) => press(app, &KeyEvent::new(code, KeyModifiers::NONE)),
            Some(Tap::Row(row)) => app.update(Command::GoTo(row)),
            None => {}
        },
        MouseEventKind::ScrollUp => app.update(Command::Up),
        MouseEventKind::ScrollDown => app.update(Command::Down),
        _ => {}
    }
}

/// Draws and waits, in turn, until the program is over.
pub(crate) fn event_loop<B: Backend>(
    terminal: &mut Terminal<B>,
    events: &mut impl Events,
    app: &mut App,
    clock: fn() -> NaiveDateTime,
) -> Result<(), String> {
    let mut is_first = true;
    loop {
        if super::guard::was_away() {
            terminal.swap_buffers();
        }
        let drawn = terminal.draw(|frame| app.draw(frame)).map_err(|err| err.to_string())?;
        if std::mem::take(&mut is_first) {
            app.is_seen(drawn.buffer);
        }
        let Some(event) = events.next().map_err(|err| err.to_string())? else { return Ok(()) };
        app.set_clock(clock());
        let is_of_the_keeper = matches!(event, Event::Key(_) | Event::Paste(_) | Event::Mouse(_));
        if is_of_the_keeper && app.asks_the_day() {
            continue;
        }
        match event {
            Event::Key(key) if is_suspend(&key) => {
                app.settle();
                super::guard::suspend().map_err(|err| err.to_string())?;
                // The screen is another's now: the next drawing is to begin from nothing.
                terminal.swap_buffers();
            }
            Event::Key(key) if key.kind != KeyEventKind::Release => press(app, &key),
            Event::Paste(text) => app.paste(&text),
            Event::FocusLost => app.settle(),
            Event::Mouse(mouse) => tap(app, mouse),
            // A resize draws anew; releases change nothing.
            _ => {}
        }
        if app.is_over {
            return Ok(());
        }
    }
}

#[cfg(test)]
mod day_tests;
#[cfg(test)]
mod disk_tests;
#[cfg(test)]
mod gallery_tests;
#[cfg(test)]
mod glance_tests;
#[cfg(test)]
mod key_tests;
#[cfg(test)]
mod momentum_tests;
#[cfg(test)]
mod picture_tests;
#[cfg(test)]
mod rehearsal_tests;
#[cfg(test)]
mod storm_tests;
#[cfg(test)]
mod tests;
