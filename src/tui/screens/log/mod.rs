//! The log: every visit, the newest first, to be corrected or withdrawn. Nothing is rewritten: a correction is a visit of
//! its own that names the one it replaces, and both stay on the disk.

pub(crate) mod draw;

use std::cmp::Reverse;

use crate::model::{Visit, VisitId};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::screens::{Screen, Turn, hive};

/// The log's screen.
#[derive(Debug, Default)]
pub(crate) struct LogScreen {
    /// Which visit.
    pub(crate) row: usize,
    /// The visit whose withdrawal waits for its second key.
    pub(crate) asked: Option<VisitId>,
}

/// Every visit up to the day, the newest first.
pub(crate) fn visits(app: &App) -> Vec<&Visit> {
    let mut visits: Vec<&Visit> = app.book.visits.iter().filter(|v| v.on <= app.today).collect();
    // What has been corrected stands under its correction.
    let is_past = |visit: &Visit| app.book.visits.iter().any(|v| v.replaces.as_ref() == Some(&visit.id));
    visits.sort_by_cached_key(|v| (Reverse(v.on), Reverse(v.began), is_past(v), Reverse(v.id.clone())));
    visits
}

impl LogScreen {
    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        let last = visits(app).len().saturating_sub(1);
        let chosen = visits(app).get(self.row).map(|v| (*v).clone());
        let asked = self.asked.take();
        match command {
            Command::Up => self.row = self.row.saturating_sub(1),
            Command::Down => self.row = (self.row + 1).min(last),
            Command::PageUp => self.row = self.row.saturating_sub(10),
            Command::PageDown => self.row = (self.row + 10).min(last),
            Command::Back if asked.is_some() => app.say("Nothing was withdrawn."),
            Command::Back => return Turn::Close,
            Command::Take | Command::Withdraw if app.refuses_to_write() => {}
            // The key that asks is not the key that confirms.
            Command::Take if asked.is_some() => {
                if let Some(visit) = chosen.filter(|v| Some(&v.id) == asked.as_ref()) {
                    effects.push(Effect::SaveVisit(app.withdrawal(&visit)));
                }
            }
            Command::Take => {
                if let Some(visit) = chosen.filter(|v| may_change(app, v)) {
                    effects.extend(app.amend(&visit));
                    if let Some(first) = visit.entries.first().map(|e| e.hive.clone()) {
                        return Turn::Replace(Screen::Hive(hive::HiveScreen::at(app, first, None)));
                    }
                    app.say("There is no hive in this visit: withdraw it with x.");
                }
            }
            Command::Withdraw => {
                if let Some(visit) = chosen.filter(|v| may_change(app, v)) {
                    app.say(format!(
                        "Withdraw the visit of {}? Enter withdraws it, Esc leaves it. Its file stays.",
                        visit.on.format("%-d %b")
                    ));
                    self.asked = Some(visit.id);
                }
            }
            _ => {}
        }
        Turn::Stay
    }
}

/// Whether a visit can be changed now; says why not.
fn may_change(app: &mut App, visit: &Visit) -> bool {
    if app.walk.is_some() {
        app.fail("A visit is open: wrap it up first.");
        return false;
    }
    if app.book.visits.iter().any(|v| v.replaces.as_ref() == Some(&visit.id)) {
        app.fail("This one has been corrected or withdrawn already: change the newer one.");
        return false;
    }
    if app.yard(&visit.yard).is_none() || visit.entries.is_empty() {
        app.fail("There is nothing in it to change.");
        return false;
    }
    true
}
