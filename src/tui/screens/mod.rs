//! The screens, a folder each: state and keys in `mod.rs`, drawing in `draw.rs`. [`open`] is the one place that knows
//! them all.

mod act;
pub(crate) mod bring_back;
mod calc;
mod card;
mod comments;
mod form;
mod help;
mod hive;
mod left_out;
mod load;
mod log;
mod new_day;
mod note;
mod practice;
mod put_off;
mod rehearsal;
mod roster;
mod safety;
mod season;
mod settings;
mod sheet;
mod stack;
mod today;
mod trouble;
mod weather;
pub(crate) mod welcome;
mod why;
mod wrap_up;

use std::rc::Rc;

use crate::report::calc_ask::Which;

use super::look::Appearance;
use super::to::To;
use super::view::{Canvas, View};
use super::widgets;
use crate::session::Session;

/// Smallest terminal anything is shown on.
const LEAST: (u16, u16) = (60, 18);

/// The screen to go to.
pub(crate) fn open(to: To, session: &Session, look: &Rc<Appearance>) -> Box<dyn View> {
    match to {
        To::Today => Box::new(today::TodayScreen::default()),
        To::Weather(yard, hive) => {
            let (weather, units) = (session.rehearsed_weather(), session.book().units);
            Box::new(weather::WeatherScreen::of(yard, hive).knowing(weather, units))
        }
        To::Hive(hive, field) => Box::new(hive::HiveScreen::at(hive, field, session, Rc::clone(look))),
        To::PutOff(hive, prompt) => Box::new(put_off::PutOffScreen::of(hive, &prompt, session)),
        To::Why(hive, prompt) => Box::new(why::WhyScreen::of(hive, *prompt, session.book().units)),
        To::Note(hive) => Box::new(note::NoteScreen::of(hive, session)),
        To::WrapUp => Box::new(wrap_up::WrapUpScreen::default()),
        To::Roster => Box::new(roster::RosterScreen::open()),
        To::Card(hive) => Box::new(card::CardScreen::of(hive)),
        To::Load(yard) => Box::new(load::LoadScreen::of(yard)),
        To::Log => Box::new(log::LogScreen::default()),
        To::Sheet(sheet, yard) => Box::new(sheet::SheetScreen::of(sheet, yard)),
        To::Season(yard) => Box::new(season::SeasonScreen::of(session, yard)),
        To::Practice(date) => Box::new(practice::PracticeScreen::at(date)),
        To::Trouble(trouble) => Box::new(trouble::TroubleScreen::of(trouble)),
        To::Leaving(why) => Box::new(trouble::TroubleScreen::leaving(why)),
        To::NewDay => Box::new(new_day::NewDayScreen),
        To::Rehearsal => Box::new(rehearsal::RehearsalScreen::default()),
        To::LeftOut => Box::new(left_out::LeftOutScreen::default()),
        To::Comments(count) => Box::new(comments::CommentsScreen::of(count)),
        To::Act(hive) => Box::new(act::ActScreen::of(hive, session)),
        To::Form(purpose) => Box::new(form::FormScreen::of(purpose, session)),
        To::Stack(hive, boxes) => Box::new(stack::StackScreen::of(hive, boxes)),
        To::Calc => Box::new(calc::CalcScreen::of(Which::Wash, session)),
        To::OpenWeather => match session.visit() {
            Some(open) => Box::new(weather::WeatherScreen::of_open(&open.visit, session.book().units)),
            None => Box::new(today::TodayScreen::default()),
        },
        To::Settings(row) => Box::new(settings::SettingsScreen::of(look, row)),
        To::Safety(before_treatment) => Box::new(safety::SafetyScreen::of(before_treatment)),
        To::Help(screen) => Box::new(help::HelpScreen::of(screen, Rc::clone(look))),
    }
}

/// Draws the uppermost screen. Changes nothing.
pub(crate) fn draw(top: Option<&dyn View>, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let area = canvas.frame.area();
    widgets::ground(canvas.frame, area, canvas.theme);
    if area.width < LEAST.0 || area.height < LEAST.1 {
        widgets::too_small(canvas.frame, area, canvas.theme, LEAST);
        return;
    }
    if let Some(view) = top {
        view.draw(session, canvas);
    }
}
