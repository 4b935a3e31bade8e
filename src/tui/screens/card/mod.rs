//! A hive's card: what it is, what it needs, and its history.

pub(crate) mod draw;

use super::roster;
use crate::advice::Urgency;
use crate::model::HiveId;
use crate::plan::{NextDue, next_due};
use crate::tui::app::{App, HiveView};
use crate::tui::command::Command;
use crate::tui::screens::Turn;
use crate::tui::widgets::Scroll;

/// The card screen.
#[derive(Debug)]
pub(crate) struct CardScreen {
    /// The hive.
    pub(crate) hive: HiveId,
    /// What it needs next, where nothing is due today.
    pub(crate) next: Option<NextDue>,
    /// How far it is scrolled.
    pub(crate) scroll: Scroll,
    /// Whether the boxes and trends are shown in place of the words.
    pub(crate) pictured: bool,
}

impl CardScreen {
    /// Of a hive.
    pub(crate) fn of(app: &App, hive: HiveId) -> Self {
        let idle = |v: &HiveView| v.advice.urgency().is_none_or(|u| u > Urgency::Should);
        let next = app
            .view(&hive)
            .filter(idle)
            .and_then(|v| next_due(&mut app.outlook(app.yard(&v.state.yard)?), &v.state, app.today));
        Self { hive, next, scroll: Scroll::default(), pictured: false }
    }

    pub(super) fn update(&mut self, app: &App, command: Command) -> Turn {
        match command {
            Command::Left | Command::Right => {
                let hives = roster::hives(app);
                let at = hives.iter().position(|h| *h == self.hive).unwrap_or(0);
                let step = if command == Command::Right { 1 } else { hives.len().saturating_sub(1) };
                if let Some(hive) = hives.get((at + step) % hives.len().max(1)) {
                    *self = Self { pictured: self.pictured, ..Self::of(app, hive.clone()) };
                }
            }
            Command::Switch => self.pictured = !self.pictured,
            Command::Back => return Turn::Close,
            other => self.scroll.update(other),
        }
        Turn::Stay
    }
}
