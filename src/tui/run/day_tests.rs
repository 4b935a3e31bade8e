//! The program left open over midnight, and a clock that goes back.

use chrono::{NaiveDate, NaiveDateTime};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

use super::event_loop;
use super::tests::{BEGIN, Script, play};
use crate::tui::app::App;
use crate::tui::keys::ScreenId;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// Half past midnight after the day of the stories.
fn after_midnight() -> NaiveDateTime {
    "2026-05-04T00:30:00".parse().unwrap()
}

/// A day and a half later: the laptop was shut.
fn two_days_on() -> NaiveDateTime {
    "2026-05-05T18:00:00".parse().unwrap()
}

/// The clock set back by a day and some.
fn the_day_before() -> NaiveDateTime {
    "2026-05-02T08:00:00".parse().unwrap()
}

/// Plays keys at a time of the clock; what is on the screen then.
fn at(app: &mut App, clock: fn() -> NaiveDateTime, keys: &str) -> String {
    let mut terminal = Terminal::new(TestBackend::new(80, 24)).unwrap();
    event_loop(&mut terminal, &mut Script::of(keys), app, clock).unwrap();
    terminal.backend().to_string()
}

#[test]
fn over_midnight_it_is_asked_which_day_is_acted_on() {
    // The first key after midnight asks, and does nothing else.
    let mut played = play("2026-05-03", (80, 24), "");
    let app = &mut played.app;
    let asked = at(app, after_midnight, "q");
    assert!(!app.is_over && asked.contains("It is Mon, May 4 now"), "{asked}");
    assert!(asked.contains("opened on Sun, May 3"), "{asked}");
    // Enter turns to the new day.
    let turned = at(app, after_midnight, "Enter");
    assert_eq!((app.session().today(), app.screen()), (day("2026-05-04"), ScreenId::Today));
    assert!(
        turned.contains("Today, Monday, May 4") && turned.contains("Now acting on Mon, May 4"),
        "{turned}"
    );
    // Esc stays with the old one, and it is not asked again until the next midnight.
    let mut played = play("2026-05-03", (80, 24), "");
    let app = &mut played.app;
    at(app, after_midnight, "h Esc l");
    assert_eq!((app.session().today(), app.screen()), (day("2026-05-03"), ScreenId::Load));
    let again = at(app, two_days_on, "Esc");
    assert!(again.contains("It is Tue, May 5 now"), "{again}");
}

#[test]
fn a_visit_keeps_the_day_it_was_begun_on() {
    let mut played = play("2026-05-03", (80, 24), &format!("Down {BEGIN} 1 3 Down"));
    let app = &mut played.app;
    // Over midnight in mid visit nothing is asked: it goes on, and is saved, as of its own day.
    at(app, after_midnight, "8 Down s Enter");
    assert!(app.session().visit().is_none(), "it is saved");
    let saved = app.session().book().visits.last().unwrap();
    assert_eq!(saved.on, day("2026-05-03"));
    assert_eq!(saved.entries[0].findings.brood, Some(crate::model::Frames(8.0)));
    // Then it is asked.
    let asked = at(app, after_midnight, "n");
    assert!(asked.contains("It is Mon, May 4 now"), "{asked}");
}

#[test]
fn a_clock_that_goes_back_changes_nothing_and_a_day_the_keeper_set_is_the_keepers() {
    let mut played = play("2026-05-03", (80, 24), &format!("Down {BEGIN} 1 3 Down"));
    let app = &mut played.app;
    let before = app.session().visit().unwrap().visit.clone();
    at(app, the_day_before, "8 Down");
    let after = app.session().visit().unwrap().visit.clone();
    assert_eq!((&after.id, after.on, after.began), (&before.id, before.on, before.began));
    assert_eq!(app.session().today(), day("2026-05-03"));
    at(app, the_day_before, "s Enter");
    assert_eq!(app.session().book().visits.last().unwrap().on, day("2026-05-03"));
    // Opened on a day of the keeper's own.
    let mut played = play("2026-08-08", (80, 24), "");
    let app = &mut played.app;
    at(app, two_days_on, "l");
    assert_eq!((app.session().today(), app.screen()), (day("2026-08-08"), ScreenId::Load));
}
