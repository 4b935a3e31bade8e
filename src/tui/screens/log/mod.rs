//! The log: visits left unfinished, then every visit, the newest first, to be corrected or withdrawn. Nothing is
//! rewritten: a correction is a visit of its own that names the one it replaces, and both stay on the disk.

mod draw;

use std::cmp::Reverse;

use crate::model::{Corrections, LeftDraft, Visit, VisitId, VisitStatus};
use crate::session::{Intent, Refusal, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::search::Search;
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::row_after;
use crate::wording;

#[derive(Debug, Default)]
pub(crate) struct LogScreen {
    /// Which row: those left come first.
    row: usize,
    /// What is searched among the visits: day, yard, hives.
    search: Search,
    /// What waits for its second key, and of which visit.
    asked: Option<(Asked, VisitId)>,
    /// The visits that fit the search.
    rows: Vec<Row>,
}

/// A visit of the log, in words.
#[derive(Debug)]
struct Row {
    id: VisitId,
    day: String,
    yard: String,
    status: &'static str,
    hives: String,
}

/// What is asked of a visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Asked {
    Withdraw,
    Keep,
}

impl LogScreen {
    /// The visit in hand; none on a row of those that were left.
    fn visit<'a>(&self, session: &'a Session) -> Option<&'a Visit> {
        let row = self.rows.get(self.row.checked_sub(session.left().len())?)?;
        session.book().visits.iter().find(|v| v.id == row.id)
    }

    /// One that was left unfinished is taken up by Enter, and by no other key.
    fn take_up(left: &LeftDraft, command: Command) -> Step {
        match &left.visit {
            _ if command != Command::Take => {
                Step::say("It is kept until it is taken up with Enter, finished and saved.")
            }
            Ok(visit) => Step::want(Intent::TakeUp { path: left.path.clone(), visit: visit.id.clone() }),
            Err(why) => Step::fail(why),
        }
    }

    /// Enter: what was asked is done, else the visit is corrected.
    fn take(session: &Session, visit: &Visit, asked: Option<(Asked, VisitId)>) -> Step {
        match asked {
            // The key that asks is not the key that confirms.
            Some((Asked::Withdraw, id)) if id == visit.id => Step::want(Intent::Withdraw(id)),
            Some((Asked::Keep, id)) if id == visit.id => Step::want(Intent::KeepOne(id)),
            Some(_) => Step::stay(),
            None => match session.may_correct(visit) {
                Ok(()) => Step::want(Intent::Correct(visit.id.clone())),
                Err(refusal) => refused(&refusal),
            },
        }
    }

    fn ask(&mut self, session: &Session, visit: &Visit, asked: Asked) -> Step {
        let may = match asked {
            Asked::Keep => session.may_keep_one(visit),
            Asked::Withdraw => session.may_withdraw(visit),
        };
        if let Err(refusal) = may {
            return refused(&refusal);
        }
        self.asked = Some((asked, visit.id.clone()));
        let on = wording::day(session.book().units, visit.on);
        Step::say(match asked {
            Asked::Keep => {
                format!("Keep this correction of {on} alone? Enter withdraws the other, Esc leaves both.")
            }
            Asked::Withdraw => format!("Withdraw the visit of {on}? Enter withdraws it, Esc leaves it."),
        })
    }
}

fn refused(refusal: &Refusal) -> Step {
    match refusal {
        Refusal::Cannot(words) => Step::fail(words),
        Refusal::NotHere(words) => Step::say(words),
        Refusal::ReadCautions => Step::say(refusal.words()),
    }
}

impl View for LogScreen {
    fn id(&self) -> ScreenId {
        if self.search.is_typed { ScreenId::Search } else { ScreenId::Log }
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        if self.asked.is_none() && self.search.update(command) {
            self.row = 0;
            self.refresh(session);
            return Step::stay();
        }
        let asked = self.asked.take();
        let last = (session.left().len() + self.rows.len()).saturating_sub(1);
        if let Some(row) = row_after(command, self.row, last) {
            self.row = row;
            return Step::stay();
        }
        let left = session.left().get(self.row);
        let visit = self.visit(session);
        match (command, left, visit) {
            (Command::Back, ..) if asked.is_some() => Step::say("Nothing was changed."),
            (Command::Back, ..) => Step::close(),
            (Command::Take | Command::Withdraw | Command::Keep, Some(left), _) => {
                Self::take_up(left, command)
            }
            (Command::Take, None, Some(visit)) => Self::take(session, visit, asked),
            (Command::Withdraw, None, Some(visit)) => self.ask(session, visit, Asked::Withdraw),
            (Command::Keep, None, Some(visit)) => self.ask(session, visit, Asked::Keep),
            _ => Step::stay(),
        }
    }

    fn refresh(&mut self, session: &Session) {
        self.rows = rows(session, &self.search);
        self.row = self.row.min((session.left().len() + self.rows.len()).saturating_sub(1));
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}

/// Every visit up to the day that fits a search, the newest first.
fn rows(session: &Session, search: &Search) -> Vec<Row> {
    let (book, today) = (session.book(), session.today());
    // What has been corrected stands under its correction.
    let corrections = Corrections::of(book, today);
    let is_past = |status| matches!(status, VisitStatus::Corrected | VisitStatus::Withdrawn);
    let mut visits: Vec<(&Visit, VisitStatus)> = book
        .visits
        .iter()
        .filter(|visit| visit.on <= today)
        .map(|visit| (visit, corrections.stand(visit)))
        .collect();
    visits.sort_by_cached_key(|(visit, status)| {
        (Reverse(visit.on), Reverse(visit.began), is_past(*status), Reverse(visit.id.clone()))
    });
    let rows = visits.into_iter().map(|(visit, status)| {
        let hives: Vec<&str> = visit.entries.iter().map(|e| e.hive.as_str()).collect();
        Row {
            id: visit.id.clone(),
            day: wording::day_and_year(book.units, visit.on),
            yard: crate::model::visible(visit.yard.as_str()),
            status: status.words(),
            hives: hives.join(" "),
        }
    });
    rows.filter(|row| search.fits(&format!("{} {} {}", row.day, row.yard, row.hives))).collect()
}
