//! The end of a visit: what was done, what each hive needs next and when, what was put off; then saved.

mod draw;

use crate::model::HiveId;
use crate::report::{Wrapped, wrapped};
use crate::session::{Intent, Session, Written};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::Scroll;

#[derive(Debug, Default)]
pub(crate) struct WrapUpScreen {
    yard: String,
    /// The hives looked at.
    lines: Vec<Wrapped>,
    /// Hives that were due and of which nothing is written.
    passed_over: Vec<HiveId>,
    scroll: Scroll,
}

impl View for WrapUpScreen {
    fn id(&self) -> ScreenId {
        ScreenId::WrapUp
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        match command {
            // Nothing goes by it, so it is not asked twice: the draft waits in the log.
            Command::PutAside if session.visit().is_some() => Step::want(Intent::PutAside),
            Command::Back => Step::close(),
            Command::Take => Step::want(Intent::Save),
            other => {
                self.scroll.update(other);
                Step::stay()
            }
        }
    }

    fn refresh(&mut self, session: &Session) {
        let Some(open) = session.visit() else { return };
        let visit = open.finished_visit();
        self.yard = visit.yard.to_string();
        let when = (session.today(), session.book().units);
        let line = |hive: Written| wrapped(&hive.entry, hive.advice.as_ref(), hive.next.as_ref(), when);
        self.lines = session.evening().hives().map(line).collect();
        let due = open.queue.iter().take(open.due);
        self.passed_over = due.filter(|hive| visit.entry(hive).is_none()).cloned().collect();
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
