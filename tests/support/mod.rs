//! The real binary in a pseudo-terminal: keys in, screen out. Waits for text, never sleeps for time.

#![allow(dead_code, reason = "each story uses its part")]

pub(crate) mod keys;
pub(crate) mod names;

use std::io::{Read, Write};
use std::num::NonZeroU16;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};

/// Longest wait for a screen; a machine under load is slow, a hung program is not waited for.
const PATIENCE: Duration = Duration::from_secs(30);

fn cells(count: u16) -> NonZeroU16 {
    NonZeroU16::new(count).unwrap()
}

/// A running program and its screen.
pub(crate) struct Terminal {
    master: Box<dyn MasterPty + Send>,
    child: Box<dyn Child + Send + Sync>,
    writer: Box<dyn Write + Send>,
    output: Receiver<Vec<u8>>,
    screen: vt100::Parser,
    /// All that was written to it.
    raw: Vec<u8>,
}

impl Terminal {
    /// Starts the program with a home of its own.
    pub(crate) fn start(home: &Path, arguments: &[&str], rows: u16, cols: u16) -> Self {
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_yardwalk"));
        command.args(arguments);
        Self::spawn(home, command, rows, cols)
    }

    /// Starts the program in a terminal of a kind, with more variables set.
    pub(crate) fn start_under(home: &Path, variables: &[(&str, &str)], arguments: &[&str]) -> Self {
        let mut command = CommandBuilder::new("/usr/bin/env");
        command.args(variables.iter().map(|(name, value)| format!("{name}={value}")));
        command.arg(env!("CARGO_BIN_EXE_yardwalk"));
        command.args(arguments);
        Self::spawn(home, command, 24, 80)
    }

    /// Starts the program behind a line of shell, which ends in `"$@"` where the program is to run.
    #[cfg(unix)]
    pub(crate) fn start_behind(home: &Path, shell: &[&str], line: &str, arguments: &[&str]) -> Self {
        let mut command = CommandBuilder::new(shell[0]);
        command.args(&shell[1..]);
        command.args(["-c", line, "sh", env!("CARGO_BIN_EXE_yardwalk")]);
        command.args(arguments);
        Self::spawn(home, command, 24, 80)
    }

    /// Starts this very test program again, in a terminal, on one of its tests.
    pub(crate) fn start_test(home: &Path, name: &str) -> Self {
        let mut command = CommandBuilder::new(std::env::current_exe().unwrap());
        command.args(["--exact", name, "--nocapture", "--include-ignored"]);
        Self::spawn(home, command, 24, 80)
    }

    fn spawn(home: &Path, mut command: CommandBuilder, rows: u16, cols: u16) -> Self {
        let size = PtySize { rows, cols, pixel_width: 0, pixel_height: 0 };
        let pair = native_pty_system().openpty(size).unwrap();
        command.env_clear();
        command.env("HOME", home);
        command.env("TERM", "xterm-256color");
        command.env("TZ", "UTC");
        command.env("PATH", "/usr/bin:/bin:/usr/sbin:/sbin");
        command.cwd(env!("CARGO_MANIFEST_DIR"));
        let child = pair.slave.spawn_command(command).unwrap();
        let mut reader = pair.master.try_clone_reader().unwrap();
        let writer = pair.master.take_writer().unwrap();
        let (send, output) = channel();
        std::thread::spawn(move || {
            let mut buffer = [0; 8192];
            while let Ok(count) = reader.read(&mut buffer) {
                if count == 0 || send.send(buffer[..count].to_vec()).is_err() {
                    break;
                }
            }
        });
        Self {
            master: pair.master,
            child,
            writer,
            output,
            screen: vt100::Parser::new(cells(rows), cells(cols), 0),
            raw: Vec::new(),
        }
    }

    fn take(&mut self, bytes: &[u8]) {
        self.screen.process(bytes);
        self.raw.extend(bytes);
    }

    /// All that was written to it, octet for octet.
    pub(crate) fn raw(&self) -> String {
        String::from_utf8(self.raw.clone()).unwrap()
    }

    /// Types text as it is.
    pub(crate) fn keys(&mut self, keys: &str) {
        self.writer.write_all(keys.as_bytes()).unwrap();
        self.writer.flush().unwrap();
    }

    /// Types keys and waits until a text stands on the screen.
    pub(crate) fn press(&mut self, keys: &str, wanted: &str) {
        self.keys(keys);
        self.wait_for(wanted);
    }

    /// Waits until a text stands on the screen.
    pub(crate) fn wait_for(&mut self, wanted: &str) {
        self.wait_until(wanted, |screen| screen.contains(wanted));
    }

    /// Waits until a text is gone from the screen.
    pub(crate) fn wait_gone(&mut self, unwanted: &str) {
        self.wait_until(unwanted, |screen| !screen.contains(unwanted));
    }

    /// Waits until something holds of the screen.
    pub(crate) fn wait_until(&mut self, what: &str, holds: impl Fn(&str) -> bool) {
        let end = Instant::now() + PATIENCE;
        while !holds(&self.text()) {
            let left = end.saturating_duration_since(Instant::now());
            match self.output.recv_timeout(left) {
                Ok(bytes) => self.take(&bytes),
                Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => {
                    panic!("waited for {what:?} in vain; the screen:\n{}", self.text())
                }
            }
        }
    }

    /// The screen as text.
    pub(crate) fn text(&self) -> String {
        self.screen.screen().contents()
    }

    /// Changes the size.
    pub(crate) fn resize(&mut self, rows: u16, cols: u16) {
        self.screen.screen_mut().set_size(cells(rows), cells(cols));
        self.master.resize(PtySize { rows, cols, pixel_width: 0, pixel_height: 0 }).unwrap();
    }

    /// The color of the ground in the upper left corner of the body.
    pub(crate) fn ground(&self) -> vt100::Color {
        self.screen.screen().cell(3, 79).unwrap().bgcolor()
    }

    /// Taps on the first place where a text stands.
    pub(crate) fn tap_on(&mut self, wanted: &str) {
        self.wait_for(wanted);
        let text = self.text();
        let (line, words) = text.lines().enumerate().find(|(_, l)| l.contains(wanted)).unwrap();
        let column = words.split(wanted).next().unwrap().chars().count();
        // A press and a release of the left button, as terminals report them (SGR).
        self.keys(&format!("\x1b[<0;{};{}M", column + 1, line + 1));
        self.keys(&format!("\x1b[<0;{};{}m", column + 1, line + 1));
    }

    /// Kills it as a power loss would.
    pub(crate) fn kill(&mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }

    /// The number of its process.
    pub(crate) fn process(&self) -> u32 {
        self.child.process_id().unwrap()
    }

    /// Sends a signal by number.
    pub(crate) fn signal(&mut self, name: &str) {
        let id = self.child.process_id().unwrap().to_string();
        assert!(std::process::Command::new("kill").args([name, &id]).status().unwrap().success());
    }

    /// Waits for the end; the exit code.
    pub(crate) fn end(&mut self) -> u32 {
        let end = Instant::now() + PATIENCE;
        let code = loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                break status.exit_code();
            }
            if Instant::now() > end {
                let _ = self.child.kill();
                panic!("it does not end; the screen:\n{}", self.text());
            }
            // What it writes on its way out must be read, or it waits for us.
            if let Ok(bytes) = self.output.recv_timeout(Duration::from_millis(20)) {
                self.take(&bytes);
            }
        };
        while let Ok(bytes) = self.output.recv_timeout(Duration::from_millis(200)) {
            self.take(&bytes);
        }
        code
    }

    /// Whether the terminal was given back: main screen, cursor shown.
    pub(crate) fn is_given_back(&self) -> bool {
        !self.screen.screen().alternate_screen() && !self.screen.screen().hide_cursor()
    }
}

/// The files below a folder whose name ends so.
pub(crate) fn files_below(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let Ok(entries) = std::fs::read_dir(folder) else { return found };
    for entry in entries {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files_below(&path, ending));
        } else if path.to_string_lossy().ends_with(ending) {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// The sample in a book of its own, under a home.
pub(crate) fn sample_book(home: &Path) -> PathBuf {
    let book = home.join("book");
    assert_eq!(run(home, &["restore", "sample-yard.ron", "--to", book.to_str().unwrap()]).0, 0);
    book
}

/// Runs the program without a terminal: exit code, standard output, standard error.
pub(crate) fn run(home: &Path, arguments: &[&str]) -> (i32, String, String) {
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_yardwalk"))
        .env_clear()
        .env("HOME", home)
        .env("TZ", "UTC")
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(arguments)
        .output()
        .unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code().unwrap_or(-1), text(output.stdout), text(output.stderr))
}

/// Starts the demonstration behind a shell command, closes its terminal once a text is shown, and gives the exit code
/// it ends with of itself.
#[cfg(unix)]
pub(crate) fn hang_up(home: &Path, first: &str, wanted: &'static str) -> u32 {
    let size = PtySize { rows: 24, cols: 80, pixel_width: 0, pixel_height: 0 };
    let pair = native_pty_system().openpty(size).unwrap();
    let mut command = CommandBuilder::new("sh");
    command.env_clear();
    command.env("HOME", home);
    command.env("TERM", "xterm-256color");
    command.env("PATH", "/usr/bin:/bin");
    command.cwd(env!("CARGO_MANIFEST_DIR"));
    let program = env!("CARGO_BIN_EXE_yardwalk");
    command.args(["-c", &format!("{first}; exec '{program}' demo --on 2026-05-03")]);
    let mut child = pair.slave.spawn_command(command).unwrap();
    drop(pair.slave);
    let mut reader = pair.master.try_clone_reader().unwrap();
    let (send, shown) = channel();
    std::thread::spawn(move || {
        let mut screen = vt100::Parser::new(cells(24), cells(80), 0);
        let mut buffer = [0; 8192];
        while !screen.screen().contents().contains(wanted) {
            let count = reader.read(&mut buffer).unwrap();
            screen.process(&buffer[..count]);
        }
        drop(reader);
        let _ = send.send(());
    });
    shown.recv_timeout(PATIENCE).unwrap();
    // The last end of the line is let go: the terminal is closed.
    drop(pair.master);
    let mut killer = child.clone_killer();
    let (send, ended) = channel();
    std::thread::spawn(move || send.send(child.wait().unwrap().exit_code()));
    ended.recv_timeout(PATIENCE).unwrap_or_else(|_| {
        let _ = killer.kill();
        panic!("it goes on with its terminal closed")
    })
}
