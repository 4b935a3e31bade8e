//! How far long work is, on the way of errors where a person watches: what is in a pipe stays as it was.

use std::io::{self, IsTerminal as _, Write as _};
use std::sync::Mutex;
use std::time::{Duration, Instant};

/// Work shorter than this is not spoken of.
const QUIET: Duration = Duration::from_millis(700);
/// Least time between two words.
const EVERY: Duration = Duration::from_millis(200);

/// Counts the parts of some work, from any core.
pub(super) struct Progress {
    what: &'static str,
    of: usize,
    is_watched: bool,
    state: Mutex<State>,
}

struct State {
    done: usize,
    began: Instant,
    said: Option<Instant>,
}

impl Progress {
    /// Of so many parts, called `what` in the plural.
    pub(super) fn of(what: &'static str, of: usize) -> Self {
        let state = State { done: 0, began: Instant::now(), said: None };
        Self { what, of, is_watched: io::stderr().is_terminal(), state: Mutex::new(state) }
    }

    /// One part more is done.
    pub(super) fn step(&self) {
        let Ok(mut state) = self.state.lock() else { return };
        state.done += 1;
        let waits = state.said.is_none_or(|said| said.elapsed() >= EVERY);
        if self.is_watched && state.began.elapsed() >= QUIET && waits {
            state.said = Some(Instant::now());
            // A line that is written over; Ctrl-C stops the work, and nothing was changed.
            let _ = write!(io::stderr(), "\r{} of {} {}; Ctrl-C stops\x1b[K", state.done, self.of, self.what);
            let _ = io::stderr().flush();
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.state.lock().is_ok_and(|state| state.said.is_some()) {
            let _ = write!(io::stderr(), "\r\x1b[K");
        }
    }
}
