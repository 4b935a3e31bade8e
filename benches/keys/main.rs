//! How long a key takes to its frame, on every screen of a large book: `cargo bench --bench keys`; `-- roster` measures the
//! screens with that name, `-- 100,000` the books.
//!
//! Each screen is come to by its keys and then moved about on; the slowest of twenty keys is given beside the middle one, and
//! the key that opens the screen by itself. Times are held to reading the book's octets in the same run.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    missing_docs,
    reason = "a bench may stop where it likes"
)]

#[path = "../size/generate.rs"]
mod generate;

use std::path::Path;
use std::time::{Duration, Instant};

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use generate::{SIZES, clock, made, read_all, start, today};
use yardwalk::session::{Desk, OpenBook, Session};
use yardwalk::store::BookFolder;
use yardwalk::tui::key_times;

/// Screens by the keys that lead to them from Today, and the keys pressed there.
const SCREENS: [(&str, &str, &str); 14] = [
    ("Today", "", ABOUT),
    ("at the hive", "\n68\n4\nn\n\n", "13↓8↓y↓1↓2↓5↓↓1↓2↓↓1↓2"),
    ("wrap up", "\n68\n4\nn\n\n13↓8↓s", ""),
    ("a visit saved", "\n68\n4\nn\n\n13↓8↓s\n", ABOUT),
    ("roster", "h", ABOUT),
    ("visits", "v", ABOUT),
    ("a visit", "v\n", ABOUT),
    ("a hive's card", "c", ABOUT),
    ("load list", "l", ABOUT),
    ("weeks ahead", "n", ABOUT),
    ("ready for winter", "n\t", ABOUT),
    ("what hives are worth", "n\t\t", ABOUT),
    ("season", "y", ABOUT),
    ("keys", "?", ABOUT),
];
/// Moving about in a list.
const ABOUT: &str = "↓↓↓↓↓↓↓↓↓↓↓↓↓↓↑↑↑↑↑↑";

fn keys(text: &str) -> impl Iterator<Item = KeyEvent> {
    text.chars().map(|key| {
        let code = match key {
            '\n' => KeyCode::Enter,
            '\t' => KeyCode::Tab,
            '↓' => KeyCode::Down,
            '↑' => KeyCode::Up,
            other => KeyCode::Char(other),
        };
        KeyEvent::new(code, KeyModifiers::NONE)
    })
}

fn open(folder: &Path) -> OpenBook {
    let (place, book) = BookFolder::open(folder, today()).unwrap();
    OpenBook::new(Session::new(book, start()), Desk::new(place, Vec::new(), None))
}

fn main() {
    let asked: Vec<String> = std::env::args().skip(1).filter(|arg| !arg.starts_with('-')).collect();
    for size in SIZES {
        let is_asked = |name: &str| {
            let name = format!("{size} {name}");
            asked.iter().all(|part| name.contains(part.as_str()))
        };
        if !SCREENS.iter().any(|(name, ..)| is_asked(name)) {
            continue;
        }
        let folder = made(size, &std::env::temp_dir().join("yardwalk-bench"));
        let began = Instant::now();
        let octets = read_all(&folder);
        println!("{size}: {octets} octets read in {:?}", began.elapsed());
        println!("{:<22} {:>10} {:>10} {:>10}", "", "opening", "middle", "slowest");
        for (name, way, about) in SCREENS.into_iter().filter(|(name, ..)| is_asked(name)) {
            // What is typed at a hive is written into the book: that of the bench stays as it was made.
            let copy = tempfile::tempdir().unwrap();
            let copied = copy.path().join("book");
            let is_written = way.starts_with('\n');
            if is_written {
                BookFolder::create(&copied, &BookFolder::open(&folder, today()).unwrap().1).unwrap();
            }
            let open = open(if is_written { &copied } else { &folder });
            let pressed = keys(way).chain(keys(about)).collect();
            let took = key_times(open, (160, 50), pressed, clock).unwrap();
            let (way, about) = took.split_at(way.chars().count());
            let mut about = about.to_vec();
            about.sort_unstable();
            let opening = way.last().map_or_else(String::new, |took| ms(*took));
            let middle = about.get(about.len() / 2).copied().unwrap_or_default();
            let slowest = about.last().copied().unwrap_or_default();
            println!("{name:<22} {opening:>10} {:>10} {:>10}", ms(middle), ms(slowest));
        }
    }
}

fn ms(took: Duration) -> String {
    format!("{:.2} ms", took.as_secs_f64() * 1_000.0)
}
