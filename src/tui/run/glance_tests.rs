//! The first screen is there before the book is read, and never another than the one that is drawn after it.

#![expect(clippy::disallowed_methods, reason = "files are changed behind the program's back")]
use std::fs;
use std::path::{Path, PathBuf};

use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;

use super::tests::{Script, clock, drawn, opening, sample, screens};
use super::*;
use crate::model::days_after;
use crate::session::Opening;
use crate::store::{BookFolder, Files};
use crate::tui::glance::Glance;
use crate::tui::theme::Theme;

/// What the clock of the disk ticks in, and less than that a file is not trusted.
const TICK: std::time::Duration = std::time::Duration::from_millis(30);

/// A book and what is beside it.
struct Place {
    root: tempfile::TempDir,
    today: NaiveDate,
}

impl Place {
    fn at(&self, name: &str) -> PathBuf {
        self.root.path().join(name)
    }

    fn opening(&self) -> Opening {
        Opening { emergency: vec![self.at("emergency")], ..opening(&self.today.to_string()) }
    }

    /// What a start would show before it reads the book.
    fn glance(&self) -> Option<Glance> {
        std::thread::sleep(2 * TICK);
        let files = Files::keeping_settled(&self.at("cache"), TICK);
        files.glance(&self.at("book"), self.today, self.today, &[self.at("emergency")])
    }

    /// A start: what it shows before it reads the book, which is what it shows then, if anything.
    fn start(&self) -> Option<Glance> {
        let shown = self.glance();
        let files = Files::keeping_settled(&self.at("cache"), TICK);
        let (folder, book) = BookFolder::open_on(files, &self.at("book"), self.today).unwrap();
        let (open, done) =
            OpenBook::open(folder, book, crate::model::Settings::default(), &self.opening()).unwrap();
        let mut app = App::new(open, Appearance::default(), done);
        app.shown.clone_from(&shown);
        let mut terminal = Terminal::new(TestBackend::new(80, 24)).unwrap();
        event_loop(&mut terminal, &mut Script::of(""), &mut app, clock).unwrap();
        if let Some(shown) = &shown {
            assert_eq!(redrawn(shown, (80, 24)), *terminal.backend().buffer());
        }
        shown
    }
}

fn redrawn(glance: &Glance, (width, height): (u16, u16)) -> Buffer {
    let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
    terminal.draw(|frame| glance.draw(frame.buffer_mut())).unwrap();
    terminal.backend().buffer().clone()
}

fn place() -> Place {
    let place = Place { root: tempfile::tempdir().unwrap(), today: "2026-08-08".parse().unwrap() };
    BookFolder::create(&place.at("book"), &sample()).unwrap();
    place
}

/// A pin of the day, as the program puts it on the pad.
const PINNED: &str =
    "\nDay(yard:\"Alder Bottom\",on:\"2026-08-08\",wish:(pinned:[\"A4\"],moved:[],ticked:[]))\n";

fn add_a_line(path: &Path) {
    let text = fs::read_to_string(path).unwrap();
    fs::write(path, format!("{text}\n")).unwrap();
}

#[test]
fn a_screen_is_kept_cell_by_cell() {
    for (at, (name, on, keys)) in screens().into_iter().enumerate() {
        let size = [(80, 24), (160, 50), (120, 40)][at % 3];
        for theme in [Theme::none(), Theme::built_in().remove(0)] {
            let screen = drawn(on, size, &keys, &theme);
            let text = serde_json::to_string(&Glance::of(&screen, 1)).unwrap();
            let kept: Glance = serde_json::from_str(&text).unwrap();
            assert!(redrawn(&kept, size) == screen, "{name}");
        }
    }
}

#[test]
fn the_first_screen_is_shown_again_while_nothing_it_shows_has_changed() {
    let mut place = place();
    assert!(place.start().is_none(), "nothing is kept yet");
    assert!(place.start().is_some());
    assert!(place.start().is_some(), "it holds as long as nothing changes");

    for file in ["book/yard.ron", "book/visits/2026"] {
        let file = place.at(file);
        let file =
            if file.is_dir() { fs::read_dir(file).unwrap().next().unwrap().unwrap().path() } else { file };
        add_a_line(&file);
        assert!(place.start().is_none(), "{}", file.display());
        assert!(place.start().is_some());
    }
    let kept = fs::read_dir(place.at("cache")).unwrap().map(|entry| entry.unwrap().path());
    let kept = kept.into_iter().find(|path| path.extension().is_some_and(|end| end == "glance")).unwrap();
    let mut octets = fs::read(&kept).unwrap();
    *octets.last_mut().unwrap() ^= 1;
    fs::write(&kept, octets).unwrap();
    assert!(place.start().is_none(), "damaged");
    assert!(place.start().is_some());

    // What else is told at a start: each for itself, and taken away again.
    for (name, text) in [
        ("book/drafts/2026-08-08-1.ron", ""),
        ("book/drafts/2026-08-01-1.ron.left", ""),
        ("book/drafts/pad.lines", "a line"),
        ("emergency/2026-08-08-1.ron", ""),
        ("book/visits/2026/unreadable.ron", "("),
        ("book/former/another.ron", "("),
    ] {
        let path = place.at(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, text).unwrap();
        assert!(place.glance().is_none(), "{name}");
        fs::remove_file(&path).unwrap();
        assert!(place.glance().is_some(), "{name} is gone");
    }
    // A pad that stays as it is, with the day's pins or none, is no reason to wait for the book.
    fs::write(place.at("book/drafts/pad.lines"), PINNED).unwrap();
    assert!(place.start().is_none(), "a pad");
    assert!(place.start().is_some(), "the same pad");
    fs::remove_file(place.at("book/drafts/pad.lines")).unwrap();
    assert!(place.start().is_none(), "no pad");
    assert!(place.start().is_some());
    let files = Files::default();
    let (folder, book) = BookFolder::open_on(files, &place.at("book"), place.today).unwrap();
    let settings = crate::model::Settings::default();
    let open = OpenBook::open(folder, book, settings, &place.opening()).unwrap();
    assert!(place.glance().is_none(), "another window has the book");
    drop(open);
    assert!(place.glance().is_some());
    place.today = days_after(place.today, 1);
    assert!(place.start().is_none(), "another day");
    assert!(place.start().is_some());
}

#[test]
fn a_look_is_told_from_another() {
    use crate::tui::look::mark_of;
    let wear = Wear::default();
    let own = mark_of(&Config::default(), &wear);
    assert_eq!(own, mark_of(&Config::default(), &wear));
    assert_eq!(own, Appearance::default().mark);
    let night = crate::model::Settings { is_night: true, ..Default::default() };
    assert_ne!(own, mark_of(&Config { settings: night, ..Config::default() }, &wear));
    assert_ne!(own, mark_of(&Config::default(), &Wear { letters_only: true, ..wear.clone() }));
    assert_ne!(own, mark_of(&Config::default(), &Wear { depth: crate::tui::Depth::Sixteen, ..wear }));
}
