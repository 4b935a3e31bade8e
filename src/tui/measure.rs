//! How long keys take to their frames, for `benches/`: the program under keys from a list, drawn into memory.

use std::io;
use std::time::{Duration, Instant};

use chrono::NaiveDateTime;
use crossterm::event::{Event, KeyEvent};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

use super::app::App;
use super::look::Appearance;
use super::run::{Events, event_loop};
use crate::session::{Done, OpenBook};

/// Keys from a list, and how long each took to its frame.
struct Listed {
    keys: std::vec::IntoIter<KeyEvent>,
    pressed: Option<Instant>,
    took: Vec<Duration>,
}

impl Events for Listed {
    fn next(&mut self) -> io::Result<Option<Event>> {
        // The next one is asked for once the frame of the last is drawn.
        self.took.extend(self.pressed.take().map(|pressed| pressed.elapsed()));
        let key = self.keys.next();
        self.pressed = Some(Instant::now());
        Ok(key.map(Event::Key))
    }
}

/// An open book under keys from a list: how long each takes to its frame.
///
/// # Errors
/// Where the drawing fails.
pub fn key_times(
    open: OpenBook,
    (width, height): (u16, u16),
    keys: Vec<KeyEvent>,
    clock: fn() -> NaiveDateTime,
) -> io::Result<Vec<Duration>> {
    let mut app = App::new(open, Appearance::default(), Done::default());
    let mut terminal = Terminal::new(TestBackend::new(width, height)).map_err(io::Error::other)?;
    let mut listed = Listed { keys: keys.into_iter(), pressed: None, took: Vec::new() };
    event_loop(&mut terminal, &mut listed, &mut app, clock).map_err(io::Error::other)?;
    Ok(listed.took)
}
