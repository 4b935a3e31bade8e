//! A prompt's reasons: this hive's numbers, the steps, what to bring, the caution, the source.

pub(crate) mod draw;

use crate::advice::{Prompt, rule};
use crate::model::Units;
use crate::tui::command::Command;
use crate::tui::screens::Turn;
use crate::tui::widgets::Scroll;

/// The why screen.
#[derive(Debug)]
pub(crate) struct WhyScreen {
    /// The prompt.
    pub(crate) prompt: Prompt,
    /// What to bring, in words.
    pub(crate) needs: Vec<String>,
    /// What could hurt whom.
    pub(crate) caution: Option<&'static str>,
    /// Where it is from.
    pub(crate) source: &'static str,
    /// How far it is scrolled.
    pub(crate) scroll: Scroll,
}

impl WhyScreen {
    /// For a prompt.
    pub(crate) fn of(prompt: &Prompt, units: Units) -> Self {
        let rule = rule(prompt.rule);
        Self {
            needs: prompt.needs.iter().map(|n| n.words(units)).collect(),
            caution: rule.and_then(|r| r.caution),
            source: rule.map_or("", |r| r.source),
            prompt: prompt.clone(),
            scroll: Scroll::default(),
        }
    }

    pub(super) fn update(&mut self, command: Command) -> Turn {
        if command == Command::Back {
            return Turn::Close;
        }
        self.scroll.update(command);
        Turn::Stay
    }
}
