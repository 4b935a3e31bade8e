//! Putting a prompt off: why, and until when.

mod draw;

use chrono::NaiveDate;

use crate::advice::Prompt;
use crate::model::{HiveId, Jotting, RuleId, days_after};
use crate::session::{Intent, Session, typing};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, Unlogged, View};

/// Common reasons; past the last stand own words.
const REASONS: &[&str] =
    &["wrong weather", "no time today", "not on the truck", "not ready yet", "hive too hot today"];
/// The names of its fields on the pad.
const REASON: &str = "reason";
const OWN: &str = "own words";
const UNTIL: &str = "until";
/// Longest own words, in characters.
const LONGEST: usize = 80;
/// The furthest day to put off to, in days.
const FURTHEST: i64 = 365;

#[derive(Debug)]
pub(crate) struct PutOffScreen {
    hive: HiveId,
    rule: RuleId,
    /// What is put off.
    title: String,
    /// The last day it is of use.
    latest: NaiveDate,
    /// Until when.
    until: NaiveDate,
    /// Until when unless the keeper says another day.
    proposed: NaiveDate,
    today: NaiveDate,
    /// Which reason; past the last, own words; none until it is given.
    reason: Option<usize>,
    /// Own words.
    own: String,
}

impl PutOffScreen {
    /// For a prompt of a hive.
    pub(crate) fn of(hive: HiveId, prompt: &Prompt, session: &Session) -> Self {
        Self {
            hive,
            rule: RuleId::new(prompt.rule),
            title: prompt.title.clone(),
            latest: prompt.due.latest,
            until: session.put_off_to(prompt),
            proposed: session.put_off_to(prompt),
            today: session.today(),
            reason: None,
            own: String::new(),
        }
    }

    fn put_off_by(&mut self, days: i64) {
        let (first, last) = (days_after(self.today, 1), days_after(self.today, FURTHEST));
        self.until = days_after(self.until, days).clamp(first, last);
    }

    fn typed(&mut self, c: char) {
        match typing::place_of(c).filter(|at| *at < REASONS.len()) {
            Some(at) if self.reason != Some(REASONS.len()) => self.reason = Some(at),
            Some(_) | None => {
                if self.own.chars().count() < LONGEST && !c.is_control() {
                    self.reason = Some(REASONS.len());
                    self.own.push(c);
                }
            }
        }
    }
}

impl View for PutOffScreen {
    fn id(&self) -> ScreenId {
        ScreenId::PutOff
    }

    fn takes_text(&self) -> bool {
        true
    }

    fn typed(&self) -> Option<Unlogged> {
        let is_own = self.reason == Some(REASONS.len());
        let reason = self.reason.and_then(|at| REASONS.get(at)).map(|reason| (REASON, (*reason).to_owned()));
        let own = (is_own || !self.own.is_empty()).then(|| (OWN, self.own.clone()));
        let until = (self.until != self.proposed).then(|| (UNTIL, self.until.to_string()));
        let cells = [own, reason, until].into_iter().flatten();
        Some(Unlogged {
            place: format!("put off {} {}", self.hive, self.rule),
            what: format!("why \"{}\" was put off at {}", self.title, self.hive),
            cells: cells.map(|(name, text)| (name.to_owned(), text)).collect(),
            ..Unlogged::default()
        })
    }

    fn put_back(&mut self, _: &Session, typed: &Jotting) -> bool {
        if let Some(own) = typed.cell(OWN) {
            own.clone_into(&mut self.own);
            self.reason = Some(REASONS.len());
        }
        let reason = typed.cell(REASON).and_then(|text| REASONS.iter().position(|reason| *reason == text));
        self.reason = reason.or(self.reason);
        // A day that has passed meanwhile is no day to put it off to.
        let until = typed.cell(UNTIL).and_then(|text| text.parse().ok());
        self.until = until.filter(|day| *day > self.today).unwrap_or(self.until);
        true
    }

    fn update(&mut self, _: &Session, command: Command) -> Step {
        match command {
            Command::Up => self.reason = Some(self.reason.unwrap_or(0).saturating_sub(1)),
            Command::Down => self.reason = Some(self.reason.map_or(0, |at| (at + 1).min(REASONS.len()))),
            Command::Left => self.put_off_by(-1),
            Command::Right => self.put_off_by(1),
            Command::Type(c) => self.typed(c),
            Command::Erase => {
                self.own.pop();
            }
            Command::Back => return Step::close(),
            Command::Take => {
                let Some(reason) = self.reason else {
                    return Step::fail("Say why first: a digit, or your own words.");
                };
                let reason = REASONS.get(reason).map_or(self.own.as_str(), |reason| *reason);
                let (hive, rule) = (self.hive.clone(), self.rule.clone());
                let intent = Intent::PutOff { hive, rule, reason: reason.to_owned(), until: self.until };
                return Step::want(intent).and_close();
            }
            _ => {}
        }
        Step::stay()
    }

    fn refresh(&mut self, _: &Session) {}

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
