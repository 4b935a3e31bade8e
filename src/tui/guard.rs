//! The terminal in and out: every way out, normal, error, panic or signal, goes through [`leave`].

use std::io::{self, Stdout, Write};
use std::sync::Once;
use std::sync::atomic::{AtomicBool, Ordering};

use crossterm::{cursor, event, execute, terminal};
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;

use super::depth::Depth;
use super::sgr::SixteenColors;

/// Whether the terminal is ours now, so that leaving twice does nothing.
static ENTERED: AtomicBool = AtomicBool::new(false);
/// Whether taps and clicks are taken.
static MOUSE: AtomicBool = AtomicBool::new(false);
/// Whether the screen was another's while the program was stopped from outside.
static DRAW_ANEW: AtomicBool = AtomicBool::new(false);
static HOOKS: Once = Once::new();

/// The terminal, given back when dropped.
pub(super) struct Guard {
    pub(super) terminal: Terminal<CrosstermBackend<SixteenColors<Stdout>>>,
}

impl Guard {
    pub(super) fn enter(depth: Depth) -> io::Result<Self> {
        let out = SixteenColors::new(io::stdout(), depth == Depth::Sixteen);
        HOOKS.call_once(|| {
            let former = std::panic::take_hook();
            std::panic::set_hook(Box::new(move |info| {
                leave();
                former(info);
            }));
            watch_signals();
            watch_hang_up();
        });
        let entered = take().and_then(|()| Terminal::new(CrosstermBackend::new(out)));
        match entered {
            Ok(terminal) => Ok(Self { terminal }),
            Err(err) => {
                leave();
                Err(err)
            }
        }
    }
}

impl Drop for Guard {
    fn drop(&mut self) {
        leave();
    }
}

fn take() -> io::Result<()> {
    terminal::enable_raw_mode()?;
    ENTERED.store(true, Ordering::SeqCst);
    execute!(
        io::stdout(),
        terminal::EnterAlternateScreen,
        event::EnableBracketedPaste,
        event::EnableFocusChange,
        cursor::Hide
    )?;
    take_mouse(MOUSE.load(Ordering::SeqCst));
    Ok(())
}

/// Takes taps and clicks from now on, or leaves them to the terminal.
pub(super) fn take_mouse(on: bool) {
    let was = MOUSE.swap(on, Ordering::SeqCst);
    if !ENTERED.load(Ordering::SeqCst) {
        return;
    }
    // That a terminal knows no mouse is no reason to stop.
    if on {
        let _ = execute!(io::stdout(), event::EnableMouseCapture);
    } else if was {
        let _ = execute!(io::stdout(), event::DisableMouseCapture);
    }
}

/// Stops the program as its shell's key does, with the terminal given back, and takes it again when it goes on.
#[cfg(unix)]
pub(super) fn suspend() -> io::Result<()> {
    leave();
    signal_hook::low_level::emulate_default_handler(signal_hook::consts::SIGTSTP)?;
    take()
}

/// There is no such key here.
#[cfg(not(unix))]
pub(super) fn suspend() -> io::Result<()> {
    Ok(())
}

/// Gives the terminal back: each step is tried, even if one fails.
fn leave() {
    if !ENTERED.swap(false, Ordering::SeqCst) {
        return;
    }
    let mut out = io::stdout();
    if MOUSE.load(Ordering::SeqCst) {
        let _ = execute!(out, event::DisableMouseCapture);
    }
    let _ = execute!(out, event::DisableFocusChange);
    let _ = execute!(out, event::DisableBracketedPaste);
    let _ = execute!(out, terminal::LeaveAlternateScreen);
    let _ = execute!(out, cursor::Show);
    let _ = out.flush();
    let _ = terminal::disable_raw_mode();
}

/// A closed terminal or a `kill` ends the program at once: all state is on the disk already. Stopped from outside, it gives
/// the terminal back as it does for its own key.
#[cfg(unix)]
fn watch_signals() {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGTSTP, SIGWINCH};
    let watched = [SIGHUP, SIGTERM, SIGINT, SIGQUIT, SIGTSTP];
    if let Ok(mut signals) = signal_hook::iterator::Signals::new(watched) {
        std::thread::spawn(move || {
            for signal in signals.forever() {
                if signal != SIGTSTP {
                    leave();
                    std::process::exit(128 + signal);
                }
                // Taken or not: the one who asked for it has the terminal now.
                let _ = suspend();
                DRAW_ANEW.store(true, Ordering::SeqCst);
                // Wakes the one that waits for keys.
                let _ = signal_hook::low_level::raise(SIGWINCH);
            }
        });
    }
}

/// Whether the screen was another's since it was last asked: then all of it is drawn anew.
pub(super) fn was_away() -> bool {
    DRAW_ANEW.swap(false, Ordering::SeqCst)
}

/// A closed terminal ends the program also where its signal is ignored: its reader would spin for ever on a dead line.
///
/// Asked for nothing, `poll` answers only when the line hangs up, so this thread sleeps until then.
#[cfg(unix)]
fn watch_hang_up() {
    use rustix::event::{PollFd, PollFlags, poll};
    std::thread::spawn(|| {
        let input = io::stdin();
        loop {
            let mut lines = [PollFd::new(&input, PollFlags::empty())];
            let answer = poll(&mut lines, None);
            match answer {
                Ok(_) if is_gone(&lines) => hung_up(),
                Ok(_) | Err(rustix::io::Errno::INTR) => {}
                Err(_) => return,
            }
        }
    });
}

/// Whether a line that was polled has hung up.
#[cfg(unix)]
fn is_gone(lines: &[rustix::event::PollFd<'_>; 1]) -> bool {
    use rustix::event::PollFlags;
    lines.iter().any(|line| line.revents().intersects(PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL))
}

/// Ends as the signal would have it: with 128 and its number, 1.
#[cfg(unix)]
fn hung_up() -> ! {
    leave();
    std::process::exit(129)
}

/// Where drawing or reading failed because the line has hung up, ends as for that: it may be found here before the threads
/// that watch for it.
#[cfg(unix)]
pub(super) fn end_if_hung_up() {
    use rustix::event::{PollFd, PollFlags, poll};
    let input = io::stdin();
    let mut lines = [PollFd::new(&input, PollFlags::empty())];
    let at_once = rustix::event::Timespec::default();
    if poll(&mut lines, Some(&at_once)).is_ok() && is_gone(&lines) {
        hung_up();
    }
}

#[cfg(not(unix))]
pub(super) fn end_if_hung_up() {}

#[cfg(not(unix))]
fn watch_signals() {}

#[cfg(not(unix))]
fn watch_hang_up() {}
