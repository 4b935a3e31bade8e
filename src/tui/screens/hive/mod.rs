//! At a hive: who it is, what to look at now, and the prompts, which change as findings are typed.

mod acts;
mod draw;

use std::collections::BTreeSet;
use std::rc::Rc;

use crate::advice::Prompt;
use crate::model::{Finding, HiveId, RuleId, Value};
use crate::report::facts;
use crate::session::typing::{self, Typed};
use crate::session::{HiveView, Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::look::Appearance;
use crate::tui::to::To;
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::Picture;
use crate::wording;

/// What has the focus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Focus {
    Field(Finding),
    /// A prompt, by its rule.
    Prompt(&'static str),
    /// The line that ends the hive.
    GoOn,
}

/// The screen at a hive.
#[derive(Debug)]
pub(crate) struct HiveScreen {
    hive: HiveId,
    focus: Focus,
    /// Where the focus stood among all it can stand on.
    place: usize,
    /// What is typed into the field, not taken yet.
    text: String,
    /// Whether all fields are shown.
    all: bool,
    /// Fields shown since the hive was come to: none goes away under the hand.
    shown: BTreeSet<Finding>,
    look: Rc<Appearance>,
    /// What is known of the hive, as of the last change.
    seen: Option<Seen>,
}

/// What is shown of a hive.
#[derive(Debug)]
struct Seen {
    view: HiveView,
    /// What was seen and done before today.
    last: String,
    /// How far the visit is.
    progress: String,
    picture: Picture,
}

impl HiveScreen {
    /// At a hive; `field` is the position of the focus where a draft was taken up.
    pub(crate) fn at(hive: HiveId, field: Option<usize>, session: &Session, look: Rc<Appearance>) -> Self {
        let mut screen = Self {
            hive,
            focus: Focus::GoOn,
            place: 0,
            text: String::new(),
            all: false,
            shown: BTreeSet::new(),
            look,
            seen: None,
        };
        screen.refresh(session);
        let places = screen.places();
        screen.place = field.filter(|at| *at < places.len()).unwrap_or(0);
        screen.focus = places.get(screen.place).copied().unwrap_or(Focus::GoOn);
        screen
    }

    /// The fields shown, in the order a hive is opened.
    fn fields(&self) -> Vec<Finding> {
        if self.all { Finding::ALL.to_vec() } else { self.shown.iter().copied().collect() }
    }

    fn prompts(&self) -> &[Prompt] {
        self.seen.as_ref().map_or(&[], |seen| &seen.view.advice.prompts)
    }

    /// Everything the focus can stand on: fields, prompts, the end.
    fn places(&self) -> Vec<Focus> {
        let fields = self.fields().into_iter().map(Focus::Field);
        let prompts = self.prompts().iter().map(|p| Focus::Prompt(p.rule));
        fields.chain(prompts).chain([Focus::GoOn]).collect()
    }

    /// Notes where the focus stands now; what it stood on may have gone, and then it takes what moved up in its place.
    fn settle_focus(&mut self) {
        let places = self.places();
        if let Some(at) = places.iter().position(|f| *f == self.focus) {
            self.place = at;
        } else {
            self.place = self.place.min(places.len().saturating_sub(1));
            self.focus = places.get(self.place).copied().unwrap_or(Focus::GoOn);
        }
    }

    fn prompt(&self) -> Option<&Prompt> {
        match self.focus {
            Focus::Prompt(rule) => self.prompts().iter().find(|p| p.rule == rule),
            Focus::Field(_) | Focus::GoOn => None,
        }
    }

    fn act(&mut self, session: &Session, command: Command) -> Step {
        match command {
            Command::Type(c) => self.type_char(session, c),
            // Letters of other commands are values too, where the field takes them: y and n, and units.
            other => {
                if let Some(c) = self.look.keys.letter_of(ScreenId::Hive, other)
                    && let Focus::Field(finding) = self.focus
                    && self.field_takes(finding, c)
                {
                    return self.type_char(session, c);
                }
                self.command(session, other)
            }
        }
    }

    fn field_takes(&self, finding: Finding, c: char) -> bool {
        let mut text = self.text.clone();
        typing::type_into(finding.kind(), &mut text, c) != Typed::Nothing
    }

    fn command(&mut self, session: &Session, command: Command) -> Step {
        let mut typed = None;
        if !matches!(command, Command::Erase | Command::Left | Command::Right) {
            match self.take_text(session) {
                Ok(intent) => typed = intent,
                Err(why) => return Step::fail(why),
            }
        }
        self.step_of(session, command).after(typed)
    }

    fn step_of(&mut self, session: &Session, command: Command) -> Step {
        let hive = self.hive.clone();
        match command {
            Command::Up => self.move_focus(false),
            Command::Down => self.move_focus(true),
            Command::Switch => self.switch(),
            Command::Left | Command::Right => return self.turn_choice(command == Command::Right),
            Command::Erase => return self.erase(),
            Command::Take => return self.take(session),
            Command::GoOn => return Step::want(Intent::FinishHive(hive)),
            Command::GoBack => return Step::want(Intent::StepBack),
            Command::PutOff => {
                return match self.prompt() {
                    Some(prompt) => Step::open(To::PutOff(hive, Box::new(prompt.clone()))),
                    None => Step::say("Go to a prompt first (Tab), then p puts it off."),
                };
            }
            Command::NotNeeded => {
                return match self.prompt() {
                    Some(prompt) => Step::want(Intent::NotNeeded { hive, rule: RuleId::new(prompt.rule) }),
                    None => Step::say("Go to a prompt first (Tab), then x notes it as not needed."),
                };
            }
            Command::Why => {
                return match self.prompt().or(self.prompts().first()) {
                    Some(prompt) => Step::open(To::Why(hive, Box::new(prompt.clone()))),
                    None => Step::say("There is no prompt here now."),
                };
            }
            Command::More => self.all = !self.all,
            Command::Note => return Step::open(To::Note(hive)),
            Command::Undo => return Step::want(Intent::Undo),
            Command::Redo => return Step::want(Intent::Redo),
            Command::Card => return Step::open(To::Card(hive)),
            Command::WrapUp => return Step::open(To::WrapUp),
            Command::Back => return Step::close(),
            other => return self.beyond(session, other),
        }
        Step::stay()
    }

    fn move_focus(&mut self, down: bool) {
        let places = self.places();
        let to = if down { self.place + 1 } else { self.place.saturating_sub(1) };
        if let Some(focus) = places.get(to) {
            self.focus = *focus;
        }
    }

    fn switch(&mut self) {
        let first_field = self.fields().first().copied().map(Focus::Field);
        let first_prompt = self.prompts().first().map(|p| Focus::Prompt(p.rule));
        self.focus = match self.focus {
            Focus::Field(_) => first_prompt.unwrap_or(Focus::GoOn),
            Focus::Prompt(_) | Focus::GoOn => first_field.or(first_prompt).unwrap_or(Focus::GoOn),
        };
    }

    fn type_char(&mut self, session: &Session, c: char) -> Step {
        match self.focus {
            Focus::Field(finding) => match typing::type_into(finding.kind(), &mut self.text, c) {
                Typed::Whole(value) => {
                    self.move_focus(true);
                    self.find(finding, Some(value))
                }
                Typed::Part => Step::stay(),
                Typed::Nothing => {
                    let keys = typing::keys_of(finding.kind(), session.book().units);
                    Step::say(format!("{}: {keys}", finding.label()))
                }
            },
            Focus::Prompt(rule) => {
                let offers = self.prompt().map_or(0, |p| p.offers.len());
                match typing::place_of(c).filter(|at| *at < offers) {
                    Some(offer) => self.accept(session, rule, offer),
                    None => Step::stay(),
                }
            }
            Focus::GoOn => Step::stay(),
        }
    }

    /// What was typed into the field, to be written down; why it cannot be, and then the field is as it was.
    fn take_text(&mut self, session: &Session) -> Result<Option<Intent>, String> {
        let (Focus::Field(finding), false) = (self.focus, self.text.is_empty()) else { return Ok(None) };
        let text = std::mem::take(&mut self.text);
        let value = typing::value_of(finding.kind(), &text, session.book().units)
            .map_err(|why| format!("{}: {why}", finding.label()))?;
        session.may_find(&self.hive, finding, Some(value)).map_err(|refusal| refusal.words().to_owned())?;
        Ok(Some(Intent::Find { hive: self.hive.clone(), finding, value: Some(value) }))
    }

    fn find(&self, finding: Finding, value: Option<Value>) -> Step {
        Step::want(Intent::Find { hive: self.hive.clone(), finding, value })
    }

    fn turn_choice(&self, forward: bool) -> Step {
        let Focus::Field(finding) = self.focus else { return Step::stay() };
        let now = self.seen.as_ref().and_then(|seen| seen.view.entry.findings.get(finding));
        match typing::step(finding.kind(), now, forward) {
            Some(value) => self.find(finding, Some(value)),
            None => Step::stay(),
        }
    }

    fn erase(&mut self) -> Step {
        match (self.text.pop(), self.focus) {
            (None, Focus::Field(finding)) => self.find(finding, None),
            _ => Step::stay(),
        }
    }

    fn take(&mut self, session: &Session) -> Step {
        match self.focus {
            Focus::Field(_) => {
                self.move_focus(true);
                Step::stay()
            }
            Focus::Prompt(rule) => self.accept(session, rule, 0),
            Focus::GoOn => Step::want(Intent::FinishHive(self.hive.clone())),
        }
    }

    /// One way of a prompt; where only the keeper knows its amounts they are asked for first.
    fn accept(&self, session: &Session, rule: &'static str, offer: usize) -> Step {
        let way = self.prompt().and_then(|p| p.offers.get(offer).filter(|o| o.asks).map(|o| (p, o)));
        if let Some((prompt, way)) = way {
            return self.with_amounts(session, prompt, way);
        }
        Step::want(Intent::Accept { hive: self.hive.clone(), rule: RuleId::new(rule), offer })
    }
}

impl View for HiveScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Hive
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        if self.seen.is_none() {
            return Step::close();
        }
        let step = self.act(session, command);
        self.settle_focus();
        step
    }

    fn refresh(&mut self, session: &Session) {
        self.seen = session.view(&self.hive).map(|view| Seen {
            last: session
                .folded()
                .hive(&self.hive)
                .map(|state| facts::last(state, session.book().units))
                .unwrap_or_default(),
            progress: progress(session),
            picture: Picture::of(&view, session),
            view,
        });
        if let Some(seen) = &self.seen {
            self.shown.extend(seen.view.looks.iter().copied());
        }
        self.settle_focus();
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        if let Some(seen) = &self.seen {
            draw::draw(self, seen, session, canvas);
        }
    }

    fn standing(&self) -> Option<(HiveId, usize)> {
        Some((self.hive.clone(), self.place))
    }

    fn look_at(&mut self, finding: Finding) {
        self.shown.insert(finding);
        self.focus = Focus::Field(finding);
        self.settle_focus();
    }
}

fn progress(session: &Session) -> String {
    let Some(open) = session.visit() else { return String::new() };
    let plan = session.plan().yards.iter().find(|y| y.yard == open.visit.yard);
    let (done, minutes) = plan.map_or((0, 0), |plan| session.progress(plan));
    let day = wording::day(session.book().units, open.visit.on);
    format!("{done} of {} done, {minutes} min left · {day}", open.due)
}
