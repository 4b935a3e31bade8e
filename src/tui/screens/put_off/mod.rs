//! Putting a prompt off: why, and until when.

pub(crate) mod draw;

use chrono::NaiveDate;

use crate::advice::Prompt;
use crate::model::{HiveId, Reply, RuleId, days_after};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::input;
use crate::tui::screens::Turn;

/// Common reasons; the last stands for own words.
pub(crate) const REASONS: &[&str] =
    &["wrong weather", "no time today", "not on the truck", "not ready yet", "hive too hot today"];
/// Longest own words.
const LONGEST: usize = 80;

/// The put-off screen.
#[derive(Debug)]
pub(crate) struct PutOffScreen {
    hive: HiveId,
    rule: &'static str,
    /// What is put off.
    pub(crate) title: String,
    /// The last day it is of use.
    pub(crate) latest: NaiveDate,
    /// Until when.
    pub(crate) until: NaiveDate,
    today: NaiveDate,
    /// Which reason; past the last, own words.
    pub(crate) reason: usize,
    /// Own words.
    pub(crate) own: String,
}

impl PutOffScreen {
    /// For a prompt of a hive; a week is proposed, or the last day it is of use where that is sooner.
    pub(crate) fn of(hive: &HiveId, prompt: &Prompt, today: NaiveDate) -> Self {
        let latest = prompt.due.latest;
        let week = days_after(today, 7);
        let until = if latest > today { week.min(latest) } else { days_after(today, 1) };
        Self {
            hive: hive.clone(),
            rule: prompt.rule,
            title: prompt.title.clone(),
            latest,
            until,
            today,
            reason: 0,
            own: String::new(),
        }
    }

    /// The reason in words; `None` while own words are empty.
    fn words(&self) -> Option<String> {
        match REASONS.get(self.reason) {
            Some(reason) => Some((*reason).to_owned()),
            None => (!self.own.trim().is_empty()).then(|| self.own.trim().to_owned()),
        }
    }

    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        match command {
            Command::Up => self.reason = self.reason.saturating_sub(1),
            Command::Down => self.reason = (self.reason + 1).min(REASONS.len()),
            Command::PageUp => self.until = days_after(self.until, -7).max(days_after(self.today, 1)),
            Command::PageDown => self.until = days_after(self.until, 7).min(days_after(self.today, 365)),
            Command::Left => self.until = days_after(self.until, -1).max(days_after(self.today, 1)),
            Command::Right => self.until = days_after(self.until, 1).min(days_after(self.today, 365)),
            Command::Type(c) => self.typed(c),
            Command::Erase => {
                self.own.pop();
            }
            Command::Back => return Turn::Close,
            Command::Take => match self.words() {
                Some(reason) => {
                    self.put_off(app, reason, effects);
                    return Turn::Close;
                }
                None => app.fail("Say why in a few words, or choose a reason above."),
            },
            _ => {}
        }
        Turn::Stay
    }

    fn typed(&mut self, c: char) {
        let place = input::place_of(c);
        match place.filter(|at| *at < REASONS.len()) {
            Some(at) if self.reason < REASONS.len() => self.reason = at,
            Some(_) | None => {
                if self.own.chars().count() < LONGEST && !c.is_control() {
                    self.reason = REASONS.len();
                    self.own.push(c);
                }
            }
        }
    }

    fn put_off(&self, app: &mut App, reason: String, effects: &mut Vec<Effect>) {
        let reply = Reply::PutOff { reason, until: self.until };
        app.change(&self.hive, effects, |entry| entry.answer(RuleId::new(self.rule), reply));
        app.say(format!("Put off to {}. u undoes it.", self.until.format("%-d %b")));
    }
}
