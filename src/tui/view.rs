//! What a screen is to the rest: it turns a command into a step and draws itself; it changes nothing else.

use ratatui::Frame;

use super::command::Command;
use super::keymap::Keymap;
use super::keys::ScreenId;
use super::theme::Theme;
use super::to::{Found, To};
use super::widgets::Taps;
use crate::model::{Action, Finding, HiveBox, HiveId, Jotting};
use crate::session::{Intent, Said, Session};

pub(crate) trait View: std::fmt::Debug {
    fn id(&self) -> ScreenId;

    /// Does what a command says to the screen itself, and asks for the rest.
    fn update(&mut self, session: &Session, command: Command) -> Step;

    /// Works out what is shown. Called when the screen opens and whenever the session has changed; drawing works
    /// nothing out.
    fn refresh(&mut self, session: &Session);

    /// Draws what was worked out.
    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>);

    /// Whether free text is typed here, so that a paste means text.
    fn takes_text(&self) -> bool {
        false
    }

    /// Whether a line break may be part of that text.
    fn takes_lines(&self) -> bool {
        false
    }

    /// What is typed here and not logged; none where nothing is typed here that could be lost. A place where nothing
    /// stands typed now has no cells.
    fn typed(&self) -> Option<Unlogged> {
        None
    }

    /// Puts back what was typed here before; whether it still belongs here.
    fn put_back(&mut self, _: &Session, _typed: &Jotting) -> bool {
        false
    }

    /// Where the keeper stands at a hive, for a killed program to come back to.
    fn standing(&self) -> Option<(HiveId, usize)> {
        None
    }

    /// A finding is to be made first: goes to its field, where the screen has one.
    fn look_at(&mut self, _finding: Finding) {}

    /// Goes on with an action the finder found.
    fn take_found(&mut self, _: &Session, _action: Action) -> Step {
        Step::stay()
    }

    /// Whether Ctrl-C leaves from here although something is in memory only.
    fn warns_of_leaving(&self) -> bool {
        false
    }
}

/// What stands typed on a screen and is not logged.
#[derive(Debug, Default)]
pub(crate) struct Unlogged {
    /// The place, such as `note C1`.
    pub(crate) place: String,
    /// What it is called before the keeper.
    pub(crate) what: String,
    /// What was typed or chosen, by field.
    pub(crate) cells: Vec<(String, String)>,
    /// The boxes of a stack, where they were changed.
    pub(crate) boxes: Vec<HiveBox>,
}

impl Unlogged {
    pub(crate) fn is_empty(&self) -> bool {
        self.cells.is_empty() && self.boxes.is_empty()
    }
}

/// What a screen wants to come next.
#[derive(Debug, Default)]
pub(crate) struct Step {
    /// What the keeper wants done, in order; the first that is refused ends the step.
    pub(crate) intents: Vec<Intent>,
    /// Where to go once that is done.
    pub(crate) turn: Turn,
    pub(crate) say: Option<Said>,
}

#[derive(Debug, Default)]
pub(crate) enum Turn {
    /// The same screen.
    #[default]
    Stay,
    /// The one below.
    Close,
    /// Another on top.
    Open(To),
    /// Another in its place.
    Replace(To),
    /// What the finder found.
    Run(Found),
}

impl Step {
    pub(crate) fn stay() -> Self {
        Self::default()
    }

    /// To the screen below.
    pub(crate) fn close() -> Self {
        Self { turn: Turn::Close, ..Self::default() }
    }

    /// To another screen, on top.
    pub(crate) fn open(to: To) -> Self {
        Self { turn: Turn::Open(to), ..Self::default() }
    }

    /// To another screen, in place of this one.
    pub(crate) fn replace(to: To) -> Self {
        Self { turn: Turn::Replace(to), ..Self::default() }
    }

    pub(crate) fn want(intent: Intent) -> Self {
        Self { intents: vec![intent], ..Self::default() }
    }

    pub(crate) fn say(text: impl Into<String>) -> Self {
        Self { say: Some(Said { text: text.into(), is_error: false }), ..Self::default() }
    }

    /// Says that something went wrong.
    pub(crate) fn fail(text: impl Into<String>) -> Self {
        Self { say: Some(Said { text: text.into(), is_error: true }), ..Self::default() }
    }

    /// And then to the screen below.
    pub(crate) fn and_close(self) -> Self {
        Self { turn: Turn::Close, ..self }
    }

    /// And then to another screen, in place of this one.
    pub(crate) fn and_replace(self, to: To) -> Self {
        Self { turn: Turn::Replace(to), ..self }
    }

    /// And then to another screen, on top.
    pub(crate) fn and_open(self, to: To) -> Self {
        Self { turn: Turn::Open(to), ..self }
    }

    /// With something to be done before all else.
    pub(crate) fn after(mut self, intent: Option<Intent>) -> Self {
        self.intents.splice(0..0, intent);
        self
    }
}

/// What a screen is drawn on.
pub(crate) struct Canvas<'a, 'f> {
    pub(crate) frame: &'a mut Frame<'f>,
    /// The theme in use.
    pub(crate) theme: &'a Theme,
    /// The keys in force.
    pub(crate) keys: &'a Keymap,
    /// Where taps land, noted while drawing.
    pub(crate) taps: &'a Taps,
    /// What to tell the keeper.
    pub(crate) message: Option<&'a Said>,
}
