//! The log: visits left unfinished, then every visit, the newest first, to be corrected or withdrawn. Nothing is rewritten:
//! a correction is a visit of its own that names the one it replaces, and both stay on the disk.

pub(crate) mod draw;

use std::cmp::Reverse;

use crate::model::{Corrections, Visit, VisitId, VisitStand};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::keys::Place;
use crate::tui::screens::{Screen, Turn, hive};
use crate::tui::search::Search;
use crate::tui::widgets::row_after;

/// The log's screen.
#[derive(Debug, Default)]
pub(crate) struct LogScreen {
    /// Which row: those left come first.
    pub(crate) row: usize,
    /// What is searched among the visits: day, yard, hives.
    pub(crate) search: Search,
    /// What waits for its second key, and of which visit.
    asked: Option<(Asked, VisitId)>,
}

/// What is asked of a visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Asked {
    Withdraw,
    Keep,
}

/// Every visit up to the day that fits a search, the newest first.
pub(crate) fn visits<'a>(app: &'a App, search: &Search) -> Vec<&'a Visit> {
    let fits = |visit: &&Visit| {
        let hives: Vec<&str> = visit.entries.iter().map(|e| e.hive.as_str()).collect();
        let words = format!("{} {} {}", visit.on.format("%-d %b %Y"), visit.yard, hives.join(" "));
        visit.on <= app.today && search.fits(&words)
    };
    let mut visits: Vec<&Visit> = app.book.visits.iter().filter(fits).collect();
    // What has been corrected stands under its correction.
    let corrections = Corrections::of(&app.book, app.today);
    let is_past =
        |visit: &Visit| matches!(corrections.stand(visit), VisitStand::Corrected | VisitStand::Withdrawn);
    visits.sort_by_cached_key(|v| (Reverse(v.on), Reverse(v.began), is_past(v), Reverse(v.id.clone())));
    visits
}

impl LogScreen {
    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        let left = app.left.len();
        if self.asked.is_none() && self.search.update(command) {
            self.row = 0;
            return Turn::Stay;
        }
        let visits = visits(app, &self.search);
        let last = (left + visits.len()).saturating_sub(1);
        let chosen = self.row.checked_sub(left).and_then(|at| visits.get(at)).map(|v| (*v).clone());
        let asked = self.asked.take();
        if let Some(row) = row_after(command, self.row, last) {
            self.row = row;
            return Turn::Stay;
        }
        match command {
            Command::Back if asked.is_some() => app.say("Nothing was changed."),
            Command::Back => return Turn::Close,
            Command::Take | Command::Withdraw | Command::Keep if app.refuses_to_write() => {}
            Command::Take | Command::Withdraw | Command::Keep if self.row < left => {
                self.take_up(app, command, effects);
            }
            Command::Take => match (asked, chosen) {
                // The key that asks is not the key that confirms.
                (Some((asked, id)), Some(visit)) => {
                    if visit.id == id {
                        effects.extend(match asked {
                            Asked::Withdraw => vec![Effect::SaveVisit(app.withdrawal(&visit))],
                            Asked::Keep => app.keep_alone(&visit),
                        });
                    }
                }
                (None, Some(visit)) if may_change(app, &visit) => return correct(app, &visit, effects),
                (_, _) => {}
            },
            Command::Withdraw | Command::Keep => {
                if let Some(visit) = chosen {
                    self.ask(app, command, &visit);
                }
            }
            _ => {}
        }
        Turn::Stay
    }

    /// Where its keys are.
    pub(crate) fn place(&self) -> Place {
        if self.search.is_typed { Place::Search } else { Place::Log }
    }

    fn take_up(&self, app: &mut App, command: Command, effects: &mut Vec<Effect>) {
        let Some(left) = app.left.get(self.row).cloned() else { return };
        match left.visit {
            _ if command != Command::Take => {
                app.say("It is kept until it is taken up with Enter, finished and saved.");
            }
            _ if app.walk.is_some() => {
                app.fail("A visit is open: wrap it up first, or leave it unsaved there.");
            }
            Ok(visit) => effects.push(Effect::TakeUp(left.path, visit.id)),
            Err(why) => app.fail(why),
        }
    }

    fn ask(&mut self, app: &mut App, command: Command, visit: &Visit) {
        let on = visit.on.format("%-d %b");
        let stand = Corrections::of(&app.book, app.today).stand(visit);
        let is_rival = matches!(stand, VisitStand::RivalThatHolds | VisitStand::RivalThatWaits);
        if command == Command::Keep {
            if is_rival {
                app.say(format!(
                    "Keep this correction of {on} alone? Enter withdraws the other, Esc leaves both."
                ));
                self.asked = Some((Asked::Keep, visit.id.clone()));
            } else {
                app.say("There is one of it only: k is for two corrections of the same visit.");
            }
        } else if may_withdraw(app, stand) {
            app.say(format!("Withdraw the visit of {on}? Enter withdraws it, Esc leaves it."));
            self.asked = Some((Asked::Withdraw, visit.id.clone()));
        }
    }
}

fn correct(app: &mut App, visit: &Visit, effects: &mut Vec<Effect>) -> Turn {
    let Some(first) = visit.entries.first().map(|e| e.hive.clone()) else {
        app.say("There is no hive in this visit: withdraw it with x.");
        return Turn::Stay;
    };
    effects.extend(app.amend(visit));
    Turn::Replace(Screen::Hive(hive::HiveScreen::at(app, first, None)))
}

fn may_withdraw(app: &mut App, stand: VisitStand) -> bool {
    match stand {
        _ if app.walk.is_some() => app.fail("A visit is open: wrap it up first."),
        VisitStand::Corrected => app.fail("This one has been corrected already: change the newer one."),
        VisitStand::Withdrawn => {
            app.fail("This one is withdrawn already; withdraw its withdrawal to have it again.");
        }
        _ => return true,
    }
    false
}

/// Whether a visit can be corrected now; says why not.
fn may_change(app: &mut App, visit: &Visit) -> bool {
    let stand = Corrections::of(&app.book, app.today).stand(visit);
    if !may_withdraw(app, stand) {
        return false;
    }
    if stand == VisitStand::Withdrawal || app.yard(&visit.yard).is_none() {
        app.fail("There is nothing in it to correct.");
        return false;
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Book, Entry, HiveId, Units, Yard, YardId};
    use crate::tui::theme::Theme;

    fn visit(id: &str, replaces: Option<&str>) -> Visit {
        let mut visit = Visit::begun(VisitId::new(id), YardId::new("Y"), "2026-05-01".parse().unwrap());
        visit.replaces = replaces.map(VisitId::new);
        visit.entries = vec![Entry { note: id.to_owned(), ..Entry::blank(HiveId::new("C1")) }];
        visit
    }

    fn app() -> App {
        let mut book = Book::empty("T", Units::Us);
        book.yards.push(Yard::named(YardId::new("Y")));
        book.visits = vec![visit("a", None), visit("b", Some("a")), visit("c", Some("a"))];
        let now = "2026-05-03T09:00:00".parse().unwrap();
        App::new(book, "2026-05-03".parse().unwrap(), now, 1, Theme::none())
    }

    #[test]
    fn of_two_corrections_the_one_in_hand_is_kept_and_the_other_withdrawn() {
        let mut app = app();
        app.tell_of_conflicts();
        assert!(app.message.as_ref().unwrap().text.contains("corrected twice"), "{:?}", app.message);
        let mut log = LogScreen::default();
        let at = visits(&app, &log.search).iter().position(|v| v.id.as_str() == "b").unwrap();
        log.row = at;
        let mut effects = Vec::new();
        log.update(&mut app, Command::Keep, &mut effects);
        assert!(effects.is_empty(), "the key that asks does not do it");
        log.update(&mut app, Command::Take, &mut effects);
        let [Effect::SaveVisit(withdrawal)] = effects.as_slice() else { panic!("{effects:?}") };
        assert_eq!(withdrawal.withdraws.as_ref().map(VisitId::as_str), Some("c"));
        app.visit_saved(&withdrawal.clone());
        let standing: Vec<&str> = app.book.standing_visits(app.today).iter().map(|v| v.id.as_str()).collect();
        assert_eq!(standing, ["b"]);
        assert!(Corrections::of(&app.book, app.today).conflicts().is_empty());
    }

    #[test]
    fn a_visit_that_stands_alone_has_nothing_to_keep_and_a_corrected_one_is_left() {
        let mut app = app();
        app.book.visits.truncate(2);
        let mut effects = Vec::new();
        for (id, command, part) in
            [("b", Command::Keep, "one of it only"), ("a", Command::Withdraw, "corrected already")]
        {
            let mut log = LogScreen::default();
            log.row = visits(&app, &log.search).iter().position(|v| v.id.as_str() == id).unwrap();
            log.update(&mut app, command, &mut effects);
            assert!(app.message.as_ref().unwrap().text.contains(part), "{:?}", app.message);
        }
        assert!(effects.is_empty());
    }
}
