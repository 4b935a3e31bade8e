//! The whole program on a list of keys: each screen at two sizes, read by eye.

use chrono::NaiveDateTime;
use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use ratatui::backend::TestBackend;
use unicode_width::UnicodeWidthStr as _;

use super::*;
use crate::session::{Desk, Session, Start};
use crate::store::{BookFolder, book_from_text};
use crate::tui::theme::Theme;

pub(super) use crate::store::sample;

/// A start on a day, with nowhere to keep a visit beside the book.
pub(super) fn opening(today: &str) -> crate::session::Opening {
    crate::session::Opening {
        today: today.parse().unwrap(),
        clock,
        offset: |_| chrono::FixedOffset::east_opt(0).unwrap(),
        seed: 1,
        emergency: Vec::new(),
        config: None,
    }
}

pub(super) fn clock() -> NaiveDateTime {
    "2026-05-03T09:15:00".parse().unwrap()
}

/// Keys by name, apart by spaces: `Enter Down 6 8`.
pub(super) struct Script(pub(super) Vec<KeyCode>);

impl Script {
    pub(super) fn of(text: &str) -> Self {
        let code = |name: &str| match name {
            "Enter" => KeyCode::Enter,
            "Esc" => KeyCode::Esc,
            "Tab" => KeyCode::Tab,
            "Up" => KeyCode::Up,
            "Down" => KeyCode::Down,
            "Left" => KeyCode::Left,
            "Right" => KeyCode::Right,
            "Space" => KeyCode::Char(' '),
            "Bksp" => KeyCode::Backspace,
            "PgUp" => KeyCode::PageUp,
            "PgDn" => KeyCode::PageDown,
            "F1" => KeyCode::F(1),
            "F2" => KeyCode::F(2),
            "F3" => KeyCode::F(3),
            other => KeyCode::Char(other.chars().next().unwrap()),
        };
        Self(text.split_whitespace().rev().map(code).collect())
    }
}

impl Events for Script {
    fn next(&mut self) -> io::Result<Option<Event>> {
        Ok(self.0.pop().map(|code| Event::Key(KeyEvent::new(code, KeyModifiers::NONE))))
    }
}

pub(super) struct Played {
    pub(super) app: App,
    pub(super) screen: String,
    _root: tempfile::TempDir,
}

pub(super) fn play(on: &str, size: (u16, u16), keys: &str) -> Played {
    let (app, terminal, root) = played(on, size, keys, Theme::none());
    Played { app, screen: terminal.backend().to_string(), _root: root }
}

/// What is drawn after some keys, in a theme.
pub(super) fn drawn(on: &str, size: (u16, u16), keys: &str, theme: &Theme) -> ratatui::buffer::Buffer {
    played(on, size, keys, theme.clone()).1.backend().buffer().clone()
}

fn played(
    on: &str,
    size: (u16, u16),
    keys: &str,
    theme: Theme,
) -> (App, Terminal<TestBackend>, tempfile::TempDir) {
    played_on(sample(), on, size, keys, theme)
}

/// A program on a book on a day, with its files in a folder.
pub(super) fn app_on(book: Book, folder: BookFolder, emergency: Vec<std::path::PathBuf>, on: &str) -> App {
    let start = Start {
        today: on.parse().unwrap(),
        now: clock(),
        offset: chrono::FixedOffset::east_opt(0).unwrap(),
        seed: 0x3f9a,
        settings: crate::model::Settings::default(),
    };
    let open = OpenBook::new(Session::new(book, start), Desk::new(folder, emergency, None));
    App::new(open, Appearance::default(), Done::default())
}

pub(super) fn played_on(
    book: Book,
    on: &str,
    (width, height): (u16, u16),
    keys: &str,
    theme: Theme,
) -> (App, Terminal<TestBackend>, tempfile::TempDir) {
    let root = tempfile::tempdir().unwrap();
    let folder = BookFolder::create(&root.path().join("book"), &book).unwrap();
    let mut app = app_on(book, folder, Vec::new(), on);
    app.theme = theme;
    let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
    event_loop(&mut terminal, &mut Script::of(keys), &mut app, clock).unwrap();
    (app, terminal, root)
}

pub(super) const BEGIN: &str = "Enter 6 8 Enter 4 Enter n Enter Enter";

/// Each screen: its name, the day, and the keys that lead to it.
pub(super) fn screens() -> Vec<(&'static str, &'static str, String)> {
    let hive = |keys: &str| format!("Down {BEGIN} {keys}");
    vec![
        ("today_spring", "2026-05-03", String::new()),
        ("today_august", "2026-08-08", "Right Down".to_owned()),
        ("today_winter", "2026-01-20", String::new()),
        ("weather", "2026-05-03", "Enter 6 8".to_owned()),
        ("hive", "2026-05-03", hive("1 3")),
        (
            "hive_reverse",
            "2026-05-03",
            hive("1 3 Down Down Down Down Down Down Down Down 1 Tab Down Down Down"),
        ),
        ("hive_all_fields", "2026-05-03", hive("m")),
        ("hive_done_and_put_off", "2026-05-03", hive("Tab p 2 Enter Tab x")),
        ("put_off", "2026-05-03", hive("Tab p Right Down")),
        ("why", "2026-05-03", hive("Tab Down w")),
        ("note", "2026-05-03", hive("o h u m s")),
        ("wrap_up", "2026-05-03", hive("1 3 Down 8 Down y g 1 2 Down s")),
        ("roster", "2026-05-03", "h Down".to_owned()),
        ("card", "2026-08-08", "Right c".to_owned()),
        ("card_what_if", "2026-08-08", "Right c Tab".to_owned()),
        ("bloom", "2026-05-03", "Enter 6 8 Enter Enter Enter 2 3".to_owned()),
        ("load", "2026-08-08", "Right l Enter".to_owned()),
        ("log", "2026-08-08", "v Down x".to_owned()),
        ("weeks", "2026-05-03", "n".to_owned()),
        ("readiness", "2026-09-10", "n Tab".to_owned()),
        ("worth", "2026-08-08", "n Tab Tab".to_owned()),
        ("today_pinned", "2026-08-08", "Right Down Down Down * -".to_owned()),
        ("season", "2026-08-08", "y".to_owned()),
        ("season_winter", "2026-01-20", "y Right".to_owned()),
        ("calculator", "2026-08-08", "= 9".to_owned()),
        ("practice", "2026-08-08", "t 3".to_owned()),
        ("practice_dates", "2026-08-08", "y t".to_owned()),
        ("card_picture", "2026-08-08", "Right c Tab Tab".to_owned()),
        ("help", "2026-05-03", hive("?")),
        ("finder", "2026-05-03", hive("F1 c a r d")),
        ("act", "2026-05-03", hive("a Down Down")),
        ("act_search", "2026-05-03", hive("a b o x")),
        ("form_box", "2026-05-03", hive("a Down Enter Down")),
        ("form_treat", "2026-05-03", hive("a t r e a t Enter Esc Enter Down Right")),
        ("stack", "2026-05-03", hive("k a 1 2")),
        ("form_yard", "2026-05-03", "h Up Enter Down 4".to_owned()),
        ("form_hives", "2026-05-03", "h a".to_owned()),
        ("form_hive", "2026-05-03", "h e".to_owned()),
        ("roster_search", "2026-05-03", "h / t 1".to_owned()),
        ("log_search", "2026-08-08", "v / o r c h".to_owned()),
        ("settings", "2026-05-03", ", Down".to_owned()),
        ("safety", "2026-05-03", "F2".to_owned()),
    ]
}

#[test]
fn every_screen_is_as_it_was_read_by_eye() {
    for (width, height) in [(80, 24), (120, 40), (200, 60)] {
        for (name, on, keys) in screens() {
            let played = play(on, (width, height), &keys);
            insta::assert_snapshot!(format!("{name}_{width}x{height}"), played.screen);
        }
    }
}

/// Which meaning each cell is painted for, a letter each, in a theme that tells all apart.
#[test]
fn every_screen_is_painted_as_it_was_read_by_eye() {
    let theme = told_apart();
    let letters = ["t", "m", "h", "r", "T", "k", "F", "S", "!", "s", "y", "d", "c", "B", "b", "H"];
    for (name, on, keys) in screens() {
        let buffer = drawn(on, (80, 24), &keys, &theme);
        let mut painted = String::new();
        for line in 0..24 {
            for column in 0..80 {
                let style = buffer[(column, line)].style();
                let at = theme.pairs().iter().position(|(_, s)| s.fg == style.fg && s.bg == style.bg);
                painted.push_str(at.map_or("?", |at| letters[at]));
            }
            painted.push('\n');
        }
        assert!(!painted.contains('?'), "{name}: a cell is painted for nothing:\n{painted}");
        insta::assert_snapshot!(format!("{name}_painted"), painted);
    }
}

/// A theme in which no two meanings look alike.
fn told_apart() -> Theme {
    use ratatui::style::{Color, Style};
    let mut n = 0;
    // As in the real ones, only title, focus and stop have a ground of their own.
    Theme::none().each("told apart", |meaning, _| {
        n += 1;
        let ground = if matches!(meaning, "title" | "focus" | "stop") { n } else { 0 };
        Style::new().fg(Color::Rgb(n, n, n)).bg(Color::Rgb(ground, 0, 0))
    })
}

/// What a screen shows is worked out when it opens or the session changes: drawing it again asks no rule.
#[test]
fn drawing_works_nothing_out() {
    for (name, on, keys) in screens() {
        let app = play(on, (200, 60), &keys).app;
        let before = crate::advice::asked();
        assert!(before > 0);
        for size in [(80, 24), (200, 60)] {
            let mut terminal = Terminal::new(TestBackend::new(size.0, size.1)).unwrap();
            terminal.draw(|frame| app.draw(frame)).unwrap();
        }
        assert_eq!(crate::advice::asked(), before, "{name}");
    }
}

/// A start asks the rules of the hives in sight, however many there are in the book; a change of the yard, of those that come
/// into sight.
#[test]
fn a_start_plans_the_yards_in_sight_and_no_other() {
    let mut book = sample();
    let yard = book.yards.remove(0);
    book.visits.clear();
    for number in 0..60 {
        let mut copy =
            crate::model::Yard { name: crate::model::YardId::new(format!("Yard {number}")), ..yard.clone() };
        for hive in &mut copy.hives {
            hive.id = crate::model::HiveId::new(format!("{}-{number}", hive.id));
        }
        book.yards.push(copy);
    }
    let hives = yard.hives.len();
    let before = crate::advice::asked();
    let (mut app, mut terminal, _root) = played_on(book, "2026-08-08", (80, 24), "", Theme::none());
    terminal.draw(|frame| app.draw(frame)).unwrap();
    let at_start = crate::advice::asked() - before;
    assert!((hives..=6 * hives).contains(&at_start), "{at_start} times for {hives} hives a yard");
    event_loop(&mut terminal, &mut Script::of("Right"), &mut app, clock).unwrap();
    let after = crate::advice::asked() - before - at_start;
    assert!(after <= 2 * hives, "{after} times for {hives} hives a yard");
}

/// The keeper's pace is worked out from past visits once, and taken from the cache by the next start.
#[test]
fn the_next_start_of_the_day_asks_no_rule() {
    let root = tempfile::tempdir().unwrap();
    let (path, cache) = (root.path().join("book"), root.path().join("cache"));
    BookFolder::create(&path, &sample()).unwrap();
    let opening = opening("2026-08-08");
    let tick = std::time::Duration::from_millis(30);
    let start = || {
        std::thread::sleep(2 * tick);
        let files = crate::store::Files::keeping_settled(&cache, tick);
        let (folder, book) = BookFolder::open_on(files, &path, opening.today).unwrap();
        let (open, done) = OpenBook::open(folder, book, crate::model::Settings::default(), &opening).unwrap();
        let before = crate::advice::asked();
        let mut app = App::new(open, Appearance::default(), done);
        let mut terminal = Terminal::new(TestBackend::new(80, 24)).unwrap();
        event_loop(&mut terminal, &mut Script::of(""), &mut app, clock).unwrap();
        let queue = app.session().yard_plan_at(0).cloned();
        (crate::advice::asked() - before, app.session().pace(), queue)
    };
    let (first, second) = (start(), start());
    assert!(first.1.hives > 0, "{:?}", first.1);
    assert!(first.2.as_ref().is_some_and(|plan| !plan.queue.is_empty()), "Today has a queue");
    assert_eq!((first.1, &first.2), (second.1, &second.2));
    assert!(first.0 > first.1.hives && second.0 == 0, "{} and then {}", first.0, second.0);
}

#[test]
fn without_colour_no_cell_of_any_screen_has_one() {
    for (name, on, keys) in screens() {
        let buffer = drawn(on, (120, 40), &keys, &Theme::none());
        for cell in &buffer.content {
            let style = cell.style();
            let bare = |color| matches!(color, None | Some(ratatui::style::Color::Reset));
            assert!(bare(style.fg) && bare(style.bg), "{name}: {style:?}");
        }
    }
}

/// The sample book with other names for two hives and a yard.
fn renamed(first: &str, second: &str, yard: &str) -> Book {
    let text = include_str!("../../../sample-yard.ron")
        .replace("\"A1\"", &format!("{first:?}"))
        .replace("\"A2\"", &format!("{second:?}"))
        .replace("\"Alder Bottom\"", &format!("{yard:?}"));
    let book = book_from_text(&text, std::path::Path::new("renamed.ron")).unwrap();
    assert!(book.faults("2026-12-31".parse().unwrap()).is_empty());
    book
}

/// The lines of a screen, each as its cells show it: a wide character fills two.
fn lines(buffer: &ratatui::buffer::Buffer) -> Vec<String> {
    let area = buffer.area;
    let line = |y: u16| {
        let mut text = String::new();
        let mut x = 0;
        while x < area.width {
            let symbol = buffer[(x, y)].symbol();
            text.push_str(symbol);
            x += u16::try_from(symbol.width().max(1)).unwrap();
        }
        text
    };
    (0..area.height).map(line).collect()
}

/// Names of wide and of combining characters take the cells they show, no more and no fewer: each screen is the one
/// with plain names as wide as they are.
#[test]
fn names_of_any_script_keep_the_columns() {
    let wide = ["\u{990a}\u{8702}\u{5834}", "E\u{301}te\u{301} n\u{303}u\u{301}", "Wald \u{6797}\u{306e}"];
    // Sorted among the others as those are.
    let plain = ["zABCDE", "EFGHIJ", "Wald WXYZ"];
    let pairs: Vec<(&str, &str)> = wide.into_iter().zip(plain).collect();
    for (wide, plain) in &pairs {
        assert_eq!(wide.width(), plain.width(), "{wide}");
    }
    let books = [wide, plain].map(|[first, second, yard]| renamed(first, second, yard));
    let mut compared = 0;
    for (name, on, keys) in screens() {
        for size in [(80, 24), (200, 60)] {
            let [shown, expected] = books.clone().map(|book| {
                let (app, _, _root) = played_on(book, on, size, &keys, Theme::none());
                // Drawn by itself: a test terminal keeps what a wide character hides, a real one does not.
                let mut terminal = Terminal::new(TestBackend::new(size.0, size.1)).unwrap();
                terminal.draw(|frame| app.draw(frame)).unwrap();
                lines(terminal.backend().buffer())
            });
            for (mut line, expected) in shown.into_iter().zip(expected) {
                // Where a name is cut, a wide one may end a cell sooner.
                if line.contains('~')
                    || expected.contains('~')
                    || !wide.iter().any(|name| line.contains(name))
                {
                    continue;
                }
                for (wide, plain) in &pairs {
                    line = line.replace(wide, plain);
                }
                assert_eq!(line, expected, "{name} at {size:?}");
                compared += 1;
            }
        }
    }
    assert!(compared > 100, "{compared}");
}

/// The README's picture is the screen itself, without the spaces and the empty lines at its end.
#[test]
fn the_picture_in_the_readme_is_the_screen() {
    let played = play(
        "2026-05-03",
        (80, 24),
        &format!("Down {BEGIN} 1 3 Down Down Down Down Down Down Down Down 1 Tab Down"),
    );
    let lines: Vec<&str> =
        played.screen.lines().map(|l| l.trim_matches('"').trim_end()).filter(|l| !l.is_empty()).collect();
    let readme = include_str!("../../../README.md");
    let picture = readme.split("```text\n").nth(1).and_then(|rest| rest.split("\n```").next()).unwrap();
    let shown: Vec<&str> = picture.lines().filter(|l| !l.is_empty()).collect();
    assert_eq!(shown, lines, "put the screen into the README:\n{}", played.screen);
}

#[test]
fn at_every_size_every_screen_is_drawn_or_says_what_it_needs() {
    for (name, on, keys) in screens() {
        for size in [(1, 1), (20, 5), (59, 40), (100, 17), (60, 18), (200, 60), (300, 20)] {
            let played = play(on, size, &keys);
            let small = size.0 < 60 || size.1 < 18;
            if size.0 >= 30 && size.1 >= 3 {
                assert_eq!(played.screen.contains("yardwalk needs"), small, "{name} at {size:?}");
            }
        }
    }
}

/// A press of `q` on the day leaves; its release, as some terminals report it, does not leave once more.
#[test]
fn a_release_is_no_key() {
    struct One(Option<Event>);
    impl Events for One {
        fn next(&mut self) -> io::Result<Option<Event>> {
            Ok(self.0.take())
        }
    }
    for (kind, leaves) in
        [(KeyEventKind::Press, true), (KeyEventKind::Repeat, true), (KeyEventKind::Release, false)]
    {
        let mut app = play("2026-05-03", (80, 24), "").app;
        let key = KeyEvent::new_with_kind(KeyCode::Char('q'), KeyModifiers::NONE, kind);
        let mut terminal = Terminal::new(TestBackend::new(80, 24)).unwrap();
        event_loop(&mut terminal, &mut One(Some(Event::Key(key))), &mut app, clock).unwrap();
        assert_eq!(app.is_over, leaves, "{kind:?}");
    }
}

#[test]
fn a_paste_is_text_only_in_a_text_field() {
    let mut app = play("2026-05-03", (80, 24), "").app;
    app.paste("q");
    assert!(!app.is_over, "a pasted q does not quit");
    let mut app = play("2026-05-03", (80, 24), &format!("{BEGIN} o")).app;
    app.paste("two\r\nlines\u{1b}[2J\n");
    app.update(Command::Take);
    let visit = &app.session().visit().unwrap().visit;
    assert_eq!(visit.entries[0].note, "two\nlines[2J", "a note keeps its lines");
    // At a hive it answers the field in focus; no letter of it is a command, and nothing of it goes to the next field.
    let mut app = play("2026-05-03", (80, 24), &format!("Down {BEGIN}")).app;
    for (text, bees) in [("7.5\n", Some(7.5)), ("go x", Some(7.5))] {
        app.paste(text);
        app.update(Command::Down);
        app.update(Command::Up);
        let visit = &app.session().visit().unwrap().visit;
        assert_eq!(
            visit.entries[0].findings.get(crate::model::Finding::Bees),
            bees.map(crate::model::Value::Frames),
            "{text}"
        );
        assert!(visit.entries[0].actions.is_empty() && visit.entries[0].note.is_empty());
    }
    app.update(Command::Switch);
    app.paste("1");
    assert!(app.session().visit().unwrap().visit.entries[0].actions.is_empty());
    assert!(app.message.is_some_and(|said| said.text.contains("no field here")));
}

/// First aid scrolled far past its end answers the first step back.
#[test]
fn a_page_scrolled_past_its_end_answers_the_first_step_back() {
    for keys in ["F2", "c", &format!("Down {BEGIN} Tab w")] {
        let down = "Down ".repeat(60);
        let end = play("2026-05-03", (60, 18), &format!("{keys} {down}")).screen;
        let back = play("2026-05-03", (60, 18), &format!("{keys} {down} Up")).screen;
        let top = play("2026-05-03", (60, 18), keys).screen;
        assert!(end == top || end != back, "{keys}: {end}");
    }
    let end = play("2026-05-03", (60, 18), &format!("F2 {}", "Down ".repeat(60))).screen;
    let back = play("2026-05-03", (60, 18), &format!("F2 {} Up", "Down ".repeat(60))).screen;
    assert_ne!(end, back);
}

/// The page and the key that cannot walk name one and the same way to a first yard, and it works.
#[test]
fn without_a_yard_one_way_is_named_and_it_leads_to_the_form() {
    let empty = || Book { yards: Vec::new(), visits: Vec::new(), ..sample() };
    let way = "This book has no yard yet: h, then A sets one up.";
    let screen = |keys: &str| {
        let (_, terminal, _root) = played_on(empty(), "2026-05-03", (80, 24), keys, Theme::none());
        terminal.backend().to_string()
    };
    assert_eq!(screen("").matches(way).count(), 1, "{}", screen(""));
    assert_eq!(screen("Enter").matches(way).count(), 2, "{}", screen("Enter"));
    assert!(screen("h A").contains("yard"), "{}", screen("h A"));
}

#[test]
fn absurd_numbers_are_refused_with_the_range_and_leave_the_entry_as_it_was() {
    let played = play("2026-05-03", (80, 24), &format!("Down {BEGIN} 4 0 0 Down"));
    assert!(played.screen.contains("0 to 60 frames"), "{}", played.screen);
    assert!(played.app.session().visit().unwrap().visit.entries.is_empty());
}
