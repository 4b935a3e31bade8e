//! The terminal program: an open book, the screens over one another, and how they look.

use std::rc::Rc;

use ratatui::buffer::Buffer;

use super::command::Command;
use super::glance::Glance;
use super::keys::ScreenId;
use super::look::{Appearance, NO_COLOR};
use super::screens;
use super::theme::Theme;
use super::to::{Found, To};
use super::view::{Canvas, Step, Turn, Unlogged, View};
use super::widgets::Taps;
use crate::model::{HiveId, Jotting, Settings};
use crate::session::{Done, Intent, News, OpenBook, Refusal, Said, Session};
use crate::wording;

/// A screen, and the session it was last worked out for.
#[derive(Debug)]
struct Layer {
    view: Box<dyn View>,
    revision: u64,
}

/// The most that is pasted at once, in characters: one more than a note holds, so that what is not taken is said.
const LONGEST_PASTE: usize = 2_001;

#[derive(Debug)]
pub(crate) struct App {
    open: OpenBook,
    /// Screens, the uppermost last; the day is the first.
    layers: Vec<Layer>,
    /// What to tell the keeper.
    pub(crate) message: Option<Said>,
    /// The themes and keys in force.
    pub(crate) look: Rc<Appearance>,
    /// The theme in use.
    pub(crate) theme: Theme,
    /// The settings the theme was chosen by.
    worn: Settings,
    /// Where taps land on the screen as it was drawn.
    pub(crate) taps: Taps,
    /// The screen as it stood there before the book was read.
    pub(crate) shown: Option<Glance>,
    pub(crate) is_over: bool,
}

impl App {
    /// The program on an open book, and what its opening came to.
    pub(crate) fn new(open: OpenBook, look: Appearance, opened: Done) -> Self {
        let worn = open.session().settings().clone();
        let theme = look.theme(&worn);
        let mut app = Self {
            open,
            layers: Vec::new(),
            message: None,
            look: Rc::new(look),
            theme,
            worn,
            taps: Taps::default(),
            shown: None,
            is_over: false,
        };
        app.push(To::Today);
        app.take_in(opened);
        app.refresh();
        app
    }

    pub(crate) fn session(&self) -> &Session {
        self.open.session()
    }

    /// The first frame is on the screen: what can wait for it is done.
    pub(crate) fn is_seen(&self, screen: &Buffer) {
        self.open.write_snapshot();
        let drawn = Glance::of(screen, self.look.mark);
        if self.shown.as_ref() != Some(&drawn) {
            self.open.keep_glance(&drawn);
        }
    }

    /// Tells the session what the clock shows.
    pub(crate) fn set_clock(&mut self, now: chrono::NaiveDateTime) {
        self.open.set_clock(now);
    }

    /// Whose keys hold now.
    pub(crate) fn screen(&self) -> ScreenId {
        self.top().map_or(ScreenId::Today, View::id)
    }

    /// The screens over one another, the uppermost last; for tests.
    #[cfg(test)]
    pub(crate) fn screens(&self) -> Vec<ScreenId> {
        self.layers.iter().map(|layer| layer.view.id()).collect()
    }

    fn top(&self) -> Option<&dyn View> {
        self.layers.last().map(|layer| &*layer.view)
    }

    /// Draws the uppermost screen. Changes nothing.
    pub(crate) fn draw(&self, frame: &mut ratatui::Frame<'_>) {
        self.taps.clear();
        let mut canvas = Canvas {
            frame,
            theme: &self.theme,
            keys: &self.look.keys,
            taps: &self.taps,
            message: self.message.as_ref(),
        };
        screens::draw(self.top(), self.session(), &mut canvas);
        if self.look.in_letters(&self.worn) {
            super::glyphs::in_letters(frame.buffer_mut());
        }
    }

    /// Asks which day is acted on, where the clock has gone over midnight since that was last said. The key that came first
    /// then does nothing else: it was meant for another day.
    pub(crate) fn asks_the_day(&mut self) -> bool {
        if !self.session().day_has_turned() || self.screen() == ScreenId::NewDay {
            return false;
        }
        self.message = None;
        self.push(To::NewDay);
        true
    }

    /// Does what a command says.
    pub(crate) fn update(&mut self, command: Command) {
        self.message = None;
        self.act(command);
        self.note_where();
        self.jot(true);
    }

    fn act(&mut self, command: Command) {
        match command {
            Command::Quit => self.leave(),
            Command::Help | Command::Safety => self.open_aid(command),
            Command::Theme => self.switch_theme(),
            _ => {
                self.refresh();
                if let Some(layer) = self.layers.last_mut() {
                    let step = layer.view.update(self.open.session(), command);
                    self.take(step);
                }
            }
        }
        self.refresh();
    }

    /// Leaves, or first says what is in memory only.
    fn leave(&mut self) {
        let is_warned = self.top().is_some_and(View::warns_of_leaving);
        match self.session().unwritten() {
            Some(why) if !is_warned => {
                let why = why.to_owned();
                self.push(To::Leaving(why));
            }
            _ => self.is_over = true,
        }
    }

    /// Text pasted: it is typed into the field that has the focus, and no letter of it is a command. A field of one line
    /// takes a line break for a space.
    pub(crate) fn paste(&mut self, text: &str) {
        self.message = None;
        if !self.top().is_some_and(View::takes_text) {
            return self.say("There is no field here to paste into.");
        }
        let takes_lines = self.top().is_some_and(View::takes_lines);
        let text = text.trim_end_matches(['\r', '\n']).replace("\r\n", "\n").replace(['\r', '\t'], " ");
        let place = self.top().and_then(View::standing);
        for c in text.chars().filter(|c| *c == '\n' || !c.is_control()).take(LONGEST_PASTE) {
            let c = if c == '\n' && !takes_lines { ' ' } else { c };
            self.act(Command::Type(c));
            if self.message.is_some() || self.top().and_then(View::standing) != place {
                // The field takes no more of it, or has its whole answer: the rest is not another's.
                break;
            }
        }
        self.note_where();
        self.jot(true);
    }

    /// Puts what is typed where it belongs: the terminal has lost its focus, and may not come back.
    pub(crate) fn settle(&mut self) {
        let message = self.message.clone();
        self.update(Command::Settle);
        self.message = self.message.take().or(message);
    }

    /// Tells the keeper that something went wrong.
    pub(crate) fn fail(&mut self, text: impl Into<String>) {
        self.message = Some(Said { text: text.into(), is_error: true });
    }

    fn say(&mut self, text: impl Into<String>) {
        self.message = Some(Said { text: text.into(), is_error: false });
    }

    /// Carries out a step: what is wanted, in order, and then where to go. A refusal ends it.
    fn take(&mut self, step: Step) {
        self.message = step.say.or(self.message.take());
        let was_trouble = self.screen() == ScreenId::Trouble;
        let (asks, place) = (!step.intents.is_empty(), self.typed_place());
        let mut dones = Vec::new();
        for intent in step.intents {
            match self.open.carry_out(intent) {
                Ok(done) => dones.push(done),
                Err(refusal) => {
                    for done in dones {
                        self.take_in(done);
                    }
                    return self.refused(refusal);
                }
            }
        }
        if !asks && matches!(step.turn, Turn::Close | Turn::Replace(_)) {
            self.jot(false);
        }
        self.turn(step.turn);
        let is_refused = dones.iter().any(|done| {
            done.said.as_ref().is_some_and(|said| said.is_error)
                || done.news.iter().any(|news| matches!(news, News::CommentsAtStake(_)))
        });
        // What was done may lead elsewhere, over what the screen wanted: to a disk that refuses.
        for done in dones {
            self.take_in(done);
        }
        if was_trouble && self.screen() == ScreenId::Trouble && self.session().trouble().is_none() {
            self.layers.pop();
        }
        // The place was gone away from with its work done: what was typed there is logged.
        if let (true, false, Some(place)) = (asks, is_refused, place)
            && self.typed_place().as_ref() != Some(&place)
        {
            self.pad(Intent::Jotted(place));
        }
    }

    fn turn(&mut self, turn: Turn) {
        match turn {
            Turn::Stay => {}
            Turn::Close => drop(self.layers.pop().filter(|_| !self.layers.is_empty())),
            Turn::Open(to) => self.push(to),
            Turn::Replace(to) => {
                self.layers.pop();
                self.push(to);
            }
            Turn::Run(found) => {
                self.layers.pop();
                self.run_found(found);
            }
        }
        if self.layers.is_empty() {
            self.push(To::Today);
        }
    }

    fn refused(&mut self, refusal: Refusal) {
        match refusal {
            Refusal::NotHere(words) => self.say(words),
            Refusal::Cannot(words) => self.fail(words),
            Refusal::ReadCautions => self.push(To::Safety(true)),
        }
    }

    /// Goes where what was done leaves the keeper.
    fn take_in(&mut self, done: Done) {
        self.message = done.said.or(self.message.take());
        for news in done.news {
            match news {
                News::AtHive { hive, field } => self.go_to_hive(To::Hive(hive, field)),
                News::Look(finding) => {
                    if let Some(layer) = self.layers.last_mut() {
                        layer.view.look_at(finding);
                    }
                }
                News::AllSeen => {
                    self.layers.truncate(1);
                    self.push(To::WrapUp);
                }
                News::VisitClosed => self.layers.truncate(1),
                News::SeveralLeft => self.push(To::Log),
                News::NotOnDisk(trouble) => {
                    if trouble.is_new && self.screen() != ScreenId::Trouble {
                        self.push(To::Trouble(trouble));
                    }
                }
                News::CommentsAtStake(count) => self.push(To::Comments(count)),
            }
        }
        self.put_on_settings();
    }

    /// To the hive in hand: over the day, and over nothing else. The hive that is there already stays as it is.
    fn go_to_hive(&mut self, to: To) {
        let To::Hive(hive, field) = &to else { return };
        let here = self.top().and_then(View::standing);
        if field.is_none() && here.is_some_and(|(there, _)| there == *hive) {
            return;
        }
        self.layers.truncate(1);
        self.push(to);
    }

    fn push(&mut self, to: To) {
        let view = screens::open(to, self.open.session(), &self.look);
        // Opened before the session may have changed under it: worked out at once.
        let mut layer = Layer { view, revision: self.open.session().revision() };
        layer.view.refresh(self.open.session());
        self.layers.push(layer);
        self.put_back();
    }

    /// The place of what is typed on the uppermost screen.
    fn typed_place(&self) -> Option<String> {
        self.top().and_then(View::typed).map(|typed| typed.place)
    }

    /// Puts back what was typed on the uppermost screen before.
    fn put_back(&mut self) {
        let Some(place) = self.typed_place() else { return };
        let session = self.open.session();
        let Some(jotting) = session.jotting(&place) else { return };
        let on = wording::day(session.book().units, jotting.on);
        let words = if jotting.on == session.today() {
            "What you typed here is back: look it over.".to_owned()
        } else {
            format!("What you typed here on {on} is back: look it over.")
        };
        let is_back = self.layers.last_mut().is_some_and(|layer| layer.view.put_back(session, jotting));
        // What led here has more to say.
        if is_back && self.message.is_none() {
            self.say(words);
        }
    }

    /// Keeps what stands typed on the uppermost screen, so that no kill costs it.
    fn jot(&mut self, is_open: bool) {
        let Some(typed) = self.top().and_then(View::typed) else { return };
        if typed.is_empty() {
            return self.pad(Intent::Jotted(typed.place));
        }
        let on = self.session().today();
        let Unlogged { place, what, cells, boxes } = typed;
        self.pad(Intent::Jot(Jotting { place, on, what, is_open, cells, boxes }));
    }

    /// Puts something on the pad; what the key itself came to is heard first.
    fn pad(&mut self, intent: Intent) {
        let revision = self.session().revision();
        if let Ok(done) = self.open.carry_out(intent) {
            let said = self.message.take();
            self.take_in(done);
            self.message = said.or(self.message.take());
        }
        // Nothing that is shown has changed.
        if let Some(layer) = self.layers.last_mut().filter(|layer| layer.revision == revision) {
            layer.revision = self.open.session().revision();
        }
    }

    /// Works the uppermost screen out anew where the session has changed since.
    fn refresh(&mut self) {
        let session = self.open.session();
        if let Some(layer) = self.layers.last_mut()
            && layer.revision != session.revision()
        {
            layer.view.refresh(session);
            layer.revision = session.revision();
        }
    }

    /// Notes where the keeper stands, for a killed program to come back to.
    fn note_where(&mut self) {
        if let Some((hive, field)) = self.top().and_then(View::standing)
            && let Ok(done) = self.open.carry_out(Intent::Stand { hive, field })
        {
            // What the key itself came to is heard first.
            let said = self.message.take();
            self.take_in(done);
            self.message = said.or(self.message.take());
        }
    }

    /// Opens the keys of the screen or first aid; the key that opened them closes them.
    fn open_aid(&mut self, command: Command) {
        let is_safety = command == Command::Safety;
        match self.screen() {
            ScreenId::Safety if is_safety => drop(self.layers.pop()),
            ScreenId::Help if !is_safety => drop(self.layers.pop()),
            _ if is_safety => self.push(To::Safety(false)),
            screen => self.push(To::Help(screen)),
        }
    }

    /// Runs what the finder found: something of the hive in hand, a command of the screen below, or one of the day.
    fn run_found(&mut self, found: Found) {
        match found {
            Found::Key(screen, command) => self.run_command(screen, command),
            Found::Hive(hive) => self.push(To::Card(hive)),
            Found::Setting(row) => self.push(To::Settings(row)),
            Found::Deed(action) => {
                if let Some(hive) = self.hive_in_hand() {
                    self.push(To::Act(hive));
                    let session = self.open.session();
                    if let Some(layer) = self.layers.last_mut() {
                        let step = layer.view.take_found(session, *action);
                        self.take(step);
                    }
                }
            }
            Found::Field(finding) => {
                if let Some(hive) = self.hive_in_hand() {
                    self.layers.truncate(1);
                    self.push(To::Hive(hive, None));
                    if let Some(layer) = self.layers.last_mut() {
                        layer.view.look_at(finding);
                    }
                }
            }
        }
    }

    /// The hive the keeper is at; where there is none it says what to do first.
    fn hive_in_hand(&mut self) -> Option<HiveId> {
        let hive = self.session().visit().and_then(|open| open.hive().cloned());
        if hive.is_none() {
            self.say("Walk the yard first (Enter on Today): that is written down at a hive.");
        }
        hive
    }

    /// Runs a command of the screen below, or one of the day.
    fn run_command(&mut self, screen: ScreenId, command: Command) {
        if screen == self.screen() || matches!(command, Command::Quit | Command::Theme) {
            return self.update(command);
        }
        let session = self.open.session();
        let Some(day) = self.layers.first_mut() else { return };
        day.view.refresh(session);
        let step = day.view.update(session, command);
        self.take(step);
    }

    /// Changes between the colors of day and night.
    fn switch_theme(&mut self) {
        if self.look.is_colorless() {
            return self.say(NO_COLOR);
        }
        let mut settings = self.session().settings().clone();
        settings.is_night = !settings.is_night;
        self.take(Step::want(Intent::SetLook(Box::new(settings))));
        let words = format!("Colors: {}.", self.theme.name);
        if self.message.is_none() {
            self.say(words);
        }
    }

    /// Puts other settings in force.
    fn put_on_settings(&mut self) {
        let settings = self.open.session().settings();
        if *settings == self.worn {
            return;
        }
        self.worn = settings.clone();
        self.theme = self.look.theme(&self.worn);
        super::guard::take_mouse(self.worn.mouse);
    }

    /// Carries out an intent as a key would; for tests.
    #[cfg(test)]
    pub(crate) fn carry_out(&mut self, intent: Intent) {
        self.take(Step::want(intent));
        self.refresh();
    }

    /// All that a key may change, in words; for tests.
    #[cfg(test)]
    pub(crate) fn seen(&self) -> String {
        let views: Vec<&Box<dyn View>> = self.layers.iter().map(|layer| &layer.view).collect();
        format!(
            "{views:?} {:?} {:?} {} {:?} {:?}",
            self.message,
            self.session().visit(),
            self.is_over,
            self.theme,
            self.session().yards_of_day().map(|y| self.session().yard_plan(y)).collect::<Vec<_>>()
        )
    }
}
