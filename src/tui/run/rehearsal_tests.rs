//! Rehearsals by keys alone: each scenario to a good and to a bad ending, and the mark on every screen.

use std::path::Path;

use chrono::FixedOffset;
use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

use super::tests::clock;
use crate::advice::Urgency;
use crate::model::{HiveId, Rehearsal, Settings, Start, Units};
use crate::rehearsal::plot;
use crate::session::{OpenBook, Opening};
use crate::store::{self, BookFolder};
use crate::tui::app::App;
use crate::tui::keys::ScreenId;
use crate::tui::look::Appearance;

fn scenario(name: &str) -> Rehearsal {
    let (_, text) = plot::SCENARIOS.iter().find(|(n, _)| *n == name).unwrap();
    plot::of_scenario(store::scenario_from_text(text, Path::new(name)).unwrap(), None, 2026).unwrap()
}

/// The program on a rehearsal, with its files in a folder.
fn begun(rehearsal: &Rehearsal) -> (App, tempfile::TempDir) {
    let root = tempfile::tempdir().unwrap();
    let book = plot::book_of(rehearsal, Units::Us);
    let folder = BookFolder::create(&root.path().join("book"), &book).unwrap();
    folder.save_rehearsal(rehearsal).unwrap();
    let opening = Opening {
        today: rehearsal.today,
        clock,
        offset: |_| FixedOffset::east_opt(0).unwrap(),
        seed: 7,
        emergency: Vec::new(),
        config: None,
    };
    let (open, done) = OpenBook::open(folder, book, Settings::default(), &opening).unwrap();
    (App::new(open, Appearance::default(), done), root)
}

fn press(app: &mut App, code: KeyCode) {
    let key = KeyEvent::new(code, KeyModifiers::NONE);
    if let Some(command) = app.look.keys.command(app.screen(), &key) {
        app.update(command);
    }
}

fn type_keys(app: &mut App, text: &str) {
    text.chars().for_each(|c| press(app, KeyCode::Char(c)));
}

fn shown(app: &App) -> String {
    let mut terminal = Terminal::new(TestBackend::new(80, 24)).unwrap();
    terminal.draw(|frame| app.draw(frame)).unwrap();
    let screen = terminal.backend().to_string();
    assert!(screen.contains("REHEARSAL"), "{screen}");
    screen
}

/// Whether the last line said contains these words.
fn says(app: &App, words: &str) -> bool {
    app.message.as_ref().is_some_and(|said| said.text.contains(words))
}

fn entry(app: &App, hive: &HiveId) -> crate::model::Entry {
    app.session().view(hive).unwrap().entry
}

/// Back at the hive, past what asks first.
fn settle(app: &mut App) {
    for _ in 0..12 {
        match app.screen() {
            ScreenId::Hive => return,
            ScreenId::Form | ScreenId::Safety => press(app, KeyCode::Enter),
            _ => press(app, KeyCode::Esc),
        }
    }
    press(app, KeyCode::Esc);
}

/// At a hive: Enter through the fields, then Tab and Enter for each thing that must or should be done.
fn obey(app: &mut App, hive: &HiveId) {
    let mut left = Vec::new();
    for _ in 0..30 {
        for _ in 0..60 {
            press(app, KeyCode::Enter);
            shown(app);
            if says(app, "That was the last to look at")
                || says(app, "Nothing")
                || app.screen() != ScreenId::Hive
            {
                break;
            }
        }
        settle(app);
        let view = app.session().view(hive).unwrap();
        let is_due = |p: &crate::advice::Prompt| p.makes_a_trip() || p.urgency <= Urgency::Should;
        let Some(at) = view.advice.prompts.iter().position(|p| is_due(p) && !left.contains(&p.rule)) else {
            return;
        };
        let (rule, before) = (view.advice.prompts[at].rule, entry(app, hive));
        press(app, KeyCode::Tab);
        (0..at).for_each(|_| press(app, KeyCode::Down));
        press(app, KeyCode::Enter);
        let asked = app.screen();
        settle(app);
        if asked == ScreenId::Safety {
            // What to mind was read: asked for again it is done.
            press(app, KeyCode::Enter);
            settle(app);
        }
        // It asks for a look first: the focus is on it.
        if entry(app, hive) == before {
            press(app, KeyCode::Enter);
        }
        if entry(app, hive) == before {
            left.push(rule);
        }
    }
}

/// A visit to every hive that is due.
fn walk(app: &mut App) {
    press(app, KeyCode::Enter);
    for _ in 0..10 {
        if app.screen() == ScreenId::Weather {
            press(app, KeyCode::Enter);
        }
    }
    for _ in 0..14 {
        let Some(hive) = app.session().visit().and_then(|open| open.hive().cloned()) else { break };
        if app.screen() != ScreenId::Hive {
            break;
        }
        obey(app, &hive);
        press(app, KeyCode::Char('g'));
    }
    if app.session().visit().is_some() {
        if app.screen() != ScreenId::WrapUp {
            press(app, KeyCode::Char('s'));
        }
        shown(app);
        press(app, KeyCode::Enter);
        // Nothing was seen or done anywhere: it is left.
        if app.session().visit().is_some() {
            press(app, KeyCode::Char('q'));
        }
    }
    assert!(!app.is_over && app.session().visit().is_none(), "{}", shown(app));
    for _ in 0..4 {
        if app.screen() != ScreenId::Today {
            press(app, KeyCode::Esc);
        }
    }
}

/// Comes back so many days on.
fn come_back(app: &mut App, days: u32) {
    press(app, KeyCode::Char('D'));
    assert_eq!(app.screen(), ScreenId::Rehearsal);
    (0..9).for_each(|_| press(app, KeyCode::Down));
    type_keys(app, &format!("+{days}"));
    assert!(shown(app).contains(&format!("+{days}_")), "{}", shown(app));
    press(app, KeyCode::Enter);
}

/// Lets the season go on to the end.
fn stay_at_home(app: &mut App) {
    press(app, KeyCode::Char('D'));
    (0..9).for_each(|_| press(app, KeyCode::Down));
    press(app, KeyCode::Up);
    press(app, KeyCode::Enter);
}

fn ending(app: &mut App) -> String {
    assert!(app.session().rehearsal().unwrap().is_over(), "{}", shown(app));
    press(app, KeyCode::Char('D'));
    let mut screen = shown(app);
    assert!(screen.contains("What really was"), "{screen}");
    for _ in 0..3 {
        press(app, KeyCode::PageDown);
        screen.push_str(&shown(app));
    }
    screen
}

#[test]
fn every_scenario_has_a_good_and_a_bad_ending_by_keys() {
    for (name, _) in plot::SCENARIOS {
        let rehearsal = scenario(name);
        let (mut app, _root) = begun(&rehearsal);
        stay_at_home(&mut app);
        let bad = ending(&mut app);
        assert!(bad.contains("Not a good ending."), "{name}\n{bad}");

        let (mut app, _root) = begun(&rehearsal);
        for _ in 0..80 {
            if app.session().rehearsal().unwrap().is_over() {
                break;
            }
            walk(&mut app);
            come_back(&mut app, 4);
        }
        let good = ending(&mut app);
        assert!(good.contains("A good ending."), "{name}\n{good}");
    }
}

#[test]
fn what_really_was_is_not_shown_before_the_end_and_a_day_that_is_past_is_refused() {
    let rehearsal = plot::whole_year(5, 1, Start::Nuc, None, 2026);
    let (mut app, root) = begun(&rehearsal);
    press(&mut app, KeyCode::Char('D'));
    let screen = shown(&app);
    assert!(screen.contains("When do you come back?") && !screen.contains("really:"), "{screen}");
    (0..9).for_each(|_| press(&mut app, KeyCode::Down));
    press(&mut app, KeyCode::Enter);
    assert!(says(&app, "Type a day"), "{}", shown(&app));
    type_keys(&mut app, "+0");
    press(&mut app, KeyCode::Enter);
    assert!(says(&app, "already"), "{}", shown(&app));
    assert_eq!(app.session().today(), rehearsal.began);
    // A visit that is open holds the day.
    press(&mut app, KeyCode::Esc);
    press(&mut app, KeyCode::Enter);
    (0..6).for_each(|_| press(&mut app, KeyCode::Enter));
    assert!(app.session().visit().is_some(), "{}", shown(&app));
    (0..3).for_each(|_| press(&mut app, KeyCode::Esc));
    press(&mut app, KeyCode::Char('D'));
    press(&mut app, KeyCode::Enter);
    assert_eq!(app.session().today(), rehearsal.began);
    // No file tells the truth.
    let kept = std::fs::read_to_string(root.path().join("book/rehearsal.ron")).unwrap();
    assert!(!kept.contains("mites") && !kept.contains("adults"), "{kept}");
}
