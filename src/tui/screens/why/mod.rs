//! A prompt's reasons: this hive's numbers, the steps, what to bring, the caution, the source.

mod draw;

use crate::advice::{Prompt, rule};
use crate::model::{HiveId, Units};
use crate::report::what_if::{Asked, WhatIf, of_prompt};
use crate::session::Session;
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::Scroll;

#[derive(Debug)]
pub(crate) struct WhyScreen {
    hive: HiveId,
    pub(crate) prompt: Prompt,
    /// What to bring, in words.
    pub(crate) needs: Vec<String>,
    /// What could hurt whom.
    pub(crate) caution: Option<&'static str>,
    /// What would come of each way.
    pub(crate) what_if: Option<WhatIf>,
    /// Where it is from.
    pub(crate) source: &'static str,
    /// How far it is scrolled.
    pub(crate) scroll: Scroll,
}

impl WhyScreen {
    pub(crate) fn of(hive: HiveId, prompt: Prompt, units: Units) -> Self {
        let rule = rule(prompt.rule);
        Self {
            hive,
            what_if: None,
            needs: prompt.needs.iter().map(|n| n.words(units)).collect(),
            caution: rule.and_then(|r| r.caution),
            source: rule.map_or("", |r| r.source),
            prompt,
            scroll: Scroll::default(),
        }
    }
}

impl View for WhyScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Why
    }

    fn update(&mut self, _: &Session, command: Command) -> Step {
        if command == Command::Back {
            return Step::close();
        }
        self.scroll.update(command);
        Step::stay()
    }

    fn refresh(&mut self, session: &Session) {
        self.what_if = session.view(&self.hive).and_then(|view| {
            let calendar = session.calendar(session.yard(&view.state.yard)?);
            let (book, today) = (session.book(), session.today());
            of_prompt(
                &self.prompt,
                &Asked {
                    hive: &view.state,
                    calendar: &calendar,
                    practice: &book.practice,
                    units: book.units,
                    today,
                },
            )
        });
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
