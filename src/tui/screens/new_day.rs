//! The clock has gone over midnight while the program was open: the keeper says which day is acted on.

use crate::session::{Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::{Page, Rows, page};
use crate::wording;

#[derive(Debug)]
pub(crate) struct NewDayScreen;

impl View for NewDayScreen {
    fn id(&self) -> ScreenId {
        ScreenId::NewDay
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        match command {
            Command::Take => Step::want(Intent::ActOn(session.now().date())).and_close(),
            Command::Back => Step::want(Intent::ActOn(session.today())).and_close(),
            _ => Step::stay(),
        }
    }

    fn refresh(&mut self, _: &Session) {}

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        let theme = canvas.theme;
        let units = session.book().units;
        let (then, now) = (session.today(), session.now());
        let [then, now_day] = [then, now.date()].map(|day| wording::weekday_and_day(units, day));
        let body = page(
            canvas,
            &Page {
                title: format!("It is {now_day} now"),
                hint: format!("Enter turns to {now_day}; Esc goes on with {then}."),
                ..Page::at(session, ScreenId::NewDay)
            },
        );
        let width = usize::from(body.width).saturating_sub(4);
        let mut rows = Rows::new();
        rows.gap();
        let clock = wording::clock(units, now.time());
        rows.text(
            &format!("The program was opened on {then}, and the laptop's clock says {now_day}, {clock}."),
            width,
            2,
            theme.text,
        );
        rows.text(
            "Which day are you acting on? What is due, and the day of the next visit, go by it. What was logged before keeps \
             its day.",
            width,
            2,
            theme.text,
        );
        rows.draw(canvas, body);
    }
}
