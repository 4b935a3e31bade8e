//! The screens, a folder each: state and keys in `mod.rs`, drawing in `draw.rs`.

pub(crate) mod act;
pub(crate) mod card;
pub(crate) mod form;
pub(crate) mod help;
pub(crate) mod hive;
pub(crate) mod load;
pub(crate) mod log;
pub(crate) mod note;
pub(crate) mod practice;
pub(crate) mod put_off;
pub(crate) mod roster;
pub(crate) mod safety;
pub(crate) mod season;
pub(crate) mod settings;
pub(crate) mod sheet;
pub(crate) mod stack;
pub(crate) mod today;
pub(crate) mod trouble;
pub(crate) mod weather;
pub(crate) mod welcome;
pub(crate) mod why;
pub(crate) mod wrap_up;

use ratatui::Frame;

use super::app::App;
use super::command::Command;
use super::effect::Effect;
use super::keys::Place;
use super::widgets;

/// Smallest terminal anything is shown on.
const LEAST: (u16, u16) = (60, 18);

/// A screen.
#[derive(Debug)]
pub(crate) enum Screen {
    /// The day.
    Today(today::TodayScreen),
    /// The weather, before a visit.
    Weather(weather::WeatherScreen),
    /// At a hive.
    Hive(hive::HiveScreen),
    /// Putting a prompt off.
    PutOff(put_off::PutOffScreen),
    /// A prompt's reasons.
    Why(why::WhyScreen),
    /// A note.
    Note(note::NoteScreen),
    /// The end of a visit.
    WrapUp(wrap_up::WrapUpScreen),
    /// All hives.
    Roster(roster::RosterScreen),
    /// One hive.
    Card(card::CardScreen),
    /// The load list.
    Load(load::LoadScreen),
    /// Every visit.
    Log(log::LogScreen),
    /// A sheet on a yard.
    Sheet(sheet::SheetScreen),
    /// A yard's year.
    Season(season::SeasonScreen),
    /// The thresholds and dates.
    Practice(practice::PracticeScreen),
    /// A disk that refuses.
    Trouble(trouble::TroubleScreen),
    /// What can be logged.
    Act(act::ActScreen),
    /// A form.
    Form(form::FormScreen),
    /// The boxes of a hive.
    Stack(stack::StackScreen),
    /// The settings.
    Settings(settings::SettingsScreen),
    /// What to do when something goes wrong.
    Safety(safety::SafetyScreen),
    /// The keys.
    Help(help::HelpScreen),
}

/// What a screen wants to come next.
#[derive(Debug)]
pub(crate) enum Turn {
    /// The same screen.
    Stay,
    /// The one below.
    Close,
    /// Another on top.
    Open(Screen),
    /// Another in its place.
    Replace(Screen),
    /// The day.
    Home,
    /// What the finder found: a command of a place.
    Run(Place, Command),
}

impl Screen {
    /// Where its keys are.
    pub(crate) fn place(&self) -> Place {
        match self {
            Self::Today(_) => Place::Today,
            Self::Weather(_) => Place::Weather,
            Self::Hive(_) => Place::Hive,
            Self::PutOff(_) => Place::PutOff,
            Self::Why(_) => Place::Why,
            Self::Note(_) => Place::Note,
            Self::WrapUp(_) => Place::WrapUp,
            Self::Roster(screen) => screen.place(),
            Self::Card(_) => Place::Card,
            Self::Load(_) => Place::Load,
            Self::Log(screen) => screen.place(),
            Self::Sheet(_) => Place::Sheet,
            Self::Season(_) => Place::Season,
            Self::Practice(_) => Place::Practice,
            Self::Trouble(_) => Place::Trouble,
            Self::Act(_) => Place::Act,
            Self::Form(_) => Place::Form,
            Self::Stack(_) => Place::Stack,
            Self::Settings(_) => Place::Settings,
            Self::Safety(_) => Place::Safety,
            Self::Help(_) => Place::Help,
        }
    }

    /// Whether free text is typed here, so that a paste means text.
    pub(crate) fn takes_text(&self) -> bool {
        matches!(self, Self::Note(_) | Self::PutOff(_) | Self::Form(_) | Self::Act(_) | Self::Help(_))
    }

    /// Does what a command says.
    pub(crate) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        match self {
            Self::Today(screen) => screen.update(app, command, effects),
            Self::Weather(screen) => screen.update(app, command, effects),
            Self::Hive(screen) => screen.update(app, command, effects),
            Self::PutOff(screen) => screen.update(app, command, effects),
            Self::Why(screen) => screen.update(command),
            Self::Note(screen) => screen.update(app, command, effects),
            Self::WrapUp(screen) => screen.update(app, command, effects),
            Self::Roster(screen) => screen.update(app, command, effects),
            Self::Card(screen) => screen.update(app, command),
            Self::Load(screen) => screen.update(app, command, effects),
            Self::Log(screen) => screen.update(app, command, effects),
            Self::Sheet(screen) => screen.update(app, command),
            Self::Season(screen) => screen.update(app, command),
            Self::Practice(screen) => screen.update(app, command, effects),
            Self::Trouble(screen) => screen.update(app, command, effects),
            Self::Act(screen) => screen.update(app, command, effects),
            Self::Form(screen) => screen.update(app, command, effects),
            Self::Stack(screen) => screen.update(app, command, effects),
            Self::Settings(screen) => screen.update(app, command, effects),
            Self::Safety(screen) => screen.update(command),
            Self::Help(screen) => screen.update(app, command),
        }
    }
}

/// Draws the uppermost screen. Changes nothing.
pub(crate) fn draw(app: &App, frame: &mut Frame<'_>) {
    let area = frame.area();
    app.taps.clear();
    widgets::ground(frame, area, &app.theme);
    if area.width < LEAST.0 || area.height < LEAST.1 {
        widgets::too_small(frame, area, &app.theme, LEAST);
        return;
    }
    match app.screens.last() {
        Some(Screen::Today(screen)) => today::draw::draw(screen, app, frame),
        Some(Screen::Weather(screen)) => weather::draw::draw(screen, app, frame),
        Some(Screen::Hive(screen)) => hive::draw::draw(screen, app, frame),
        Some(Screen::PutOff(screen)) => put_off::draw::draw(screen, app, frame),
        Some(Screen::Why(screen)) => why::draw::draw(screen, app, frame),
        Some(Screen::Note(screen)) => note::draw::draw(screen, app, frame),
        Some(Screen::WrapUp(screen)) => wrap_up::draw::draw(screen, app, frame),
        Some(Screen::Roster(screen)) => roster::draw::draw(screen, app, frame),
        Some(Screen::Card(screen)) => card::draw::draw(screen, app, frame),
        Some(Screen::Load(screen)) => load::draw::draw(screen, app, frame),
        Some(Screen::Log(screen)) => log::draw::draw(screen, app, frame),
        Some(Screen::Sheet(screen)) => sheet::draw::draw(screen, app, frame),
        Some(Screen::Season(screen)) => season::draw::draw(screen, app, frame),
        Some(Screen::Practice(screen)) => practice::draw::draw(screen, app, frame),
        Some(Screen::Trouble(screen)) => trouble::draw::draw(screen, app, frame),
        Some(Screen::Act(screen)) => act::draw::draw(screen, app, frame),
        Some(Screen::Form(screen)) => form::draw::draw(screen, app, frame),
        Some(Screen::Stack(screen)) => stack::draw::draw(screen, app, frame),
        Some(Screen::Settings(screen)) => settings::draw::draw(screen, app, frame),
        Some(Screen::Safety(screen)) => safety::draw::draw(screen, app, frame),
        Some(Screen::Help(screen)) => help::draw::draw(screen, app, frame),
        None => {}
    }
}
