//! At a hive: who it is, what to look at now, and the prompts, which change as findings are typed.

mod acts;
mod draw;

use std::rc::Rc;

use chrono::NaiveDate;

use crate::advice::{Prompt, Urgency};
use crate::model::{Finding, HiveId, Jotting, LastSeen, RuleId, Value};
use crate::report::facts;
use crate::session::typing::{self, Typed};
use crate::session::{HiveView, Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::look::Appearance;
use crate::tui::to::To;
use crate::tui::view::{Canvas, Step, Unlogged, View};
use crate::tui::widgets::Picture;
use crate::wording;

/// What has the focus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Focus {
    /// Nothing: no key logs anything until something is chosen.
    Rest,
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
    /// The rest of a word whose first letter was the whole answer: `es` after the y of yes.
    rest_of_word: &'static str,
    /// Whether all fields are shown.
    all: bool,
    /// Fields shown since the hive was come to, in their order: none goes away under the hand, and none comes above it.
    shown: Vec<Finding>,
    look: Rc<Appearance>,
    /// What is known of the hive, as of the last change.
    seen: Option<Seen>,
}

/// What is shown of a hive.
#[derive(Debug)]
struct Seen {
    view: HiveView,
    today: NaiveDate,
    /// What was seen and done before today.
    last: String,
    /// What was found before today, by finding.
    before: LastSeen,
    /// How far the visit is.
    progress: String,
    picture: Picture,
}

impl HiveScreen {
    /// At a hive; `field` is the place of the field among all findings where a draft was taken up, past them where the
    /// keeper stood on none.
    pub(crate) fn at(hive: HiveId, field: Option<usize>, session: &Session, look: Rc<Appearance>) -> Self {
        let mut screen = Self {
            hive,
            focus: Focus::Rest,
            place: 0,
            text: String::new(),
            rest_of_word: "",
            all: false,
            shown: Vec::new(),
            look,
            seen: None,
        };
        screen.refresh(session);
        let first = screen.fields().first().map_or(Focus::Rest, |first| Focus::Field(*first));
        screen.focus = match field.map(|at| Finding::ALL.get(at)) {
            Some(Some(finding)) => {
                screen.show(&[*finding]);
                Focus::Field(*finding)
            }
            // A deed is chosen anew, by a key.
            Some(None) => Focus::Rest,
            None => first,
        };
        screen.settle_focus();
        screen
    }

    /// The fields shown, in the order a hive is opened.
    fn fields(&self) -> Vec<Finding> {
        if self.all { Finding::ALL.to_vec() } else { self.shown.clone() }
    }

    /// Shows fields too: each where it is looked at as a hive is opened, but none above the one in focus, where it would
    /// not be seen.
    fn show(&mut self, fields: &[Finding]) {
        let under = match self.focus {
            Focus::Field(finding) => self.shown.iter().position(|f| *f == finding).map_or(0, |at| at + 1),
            Focus::Rest | Focus::Prompt(_) | Focus::GoOn => 0,
        };
        for field in fields {
            if self.shown.contains(field) {
                continue;
            }
            let natural = self.shown.iter().position(|there| there > field).unwrap_or(self.shown.len());
            self.shown.insert(natural.max(under.min(self.shown.len())), *field);
        }
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

    /// Notes where the focus stands now. What it stood on may have gone: then it stands on nothing, for what moved up
    /// in its place was not chosen.
    fn settle_focus(&mut self) {
        let places = self.places();
        let at = places.iter().position(|f| *f == self.focus);
        if at.is_none() {
            self.focus = Focus::Rest;
        }
        self.place = at.unwrap_or(places.len());
    }

    /// How much was logged here today.
    fn logged(&self) -> Option<(usize, usize)> {
        self.seen.as_ref().map(|seen| (seen.view.entry.actions.len(), seen.view.entry.answers.len()))
    }

    fn prompt(&self) -> Option<&Prompt> {
        match self.focus {
            Focus::Prompt(rule) => self.prompts().iter().find(|p| p.rule == rule),
            Focus::Rest | Focus::Field(_) | Focus::GoOn => None,
        }
    }

    fn act(&mut self, session: &Session, command: Command) -> Step {
        if self.is_rest_of_word(command) {
            return Step::stay();
        }
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

    /// Whether it only finishes the word whose first letter was taken for the whole answer.
    fn is_rest_of_word(&mut self, command: Command) -> bool {
        let rest = std::mem::take(&mut self.rest_of_word);
        let typed = match command {
            Command::Type(c) => Some(c),
            other => self.look.keys.letter_of(ScreenId::Hive, other),
        };
        let after = typed.and_then(|c| rest.strip_prefix(c.to_ascii_lowercase()));
        self.rest_of_word = after.unwrap_or_default();
        after.is_some()
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
        self.step_of(session, command, typed.is_some()).after(typed)
    }

    fn step_of(&mut self, session: &Session, command: Command, was_typed: bool) -> Step {
        let hive = self.hive.clone();
        match command {
            Command::Up | Command::Down => return self.move_focus(command == Command::Down),
            Command::Switch => self.switch(),
            Command::Left | Command::Right => return self.turn_choice(command == Command::Right),
            Command::Erase => return self.erase(),
            Command::Take => return self.take(session, was_typed),
            Command::GoOn => return Step::want(Intent::FinishHive(hive)),
            Command::GoBack => return Step::want(Intent::StepBack),
            Command::PutOff => {
                return match self.prompt() {
                    Some(prompt) => Step::open(To::PutOff(hive, Box::new(prompt.clone()))),
                    None => Step::say("Choose what to put off first: Tab goes there, then p."),
                };
            }
            Command::NotNeeded => return self.not_needed(),
            Command::Why => {
                return match self.prompt().or(self.prompts().first()) {
                    Some(prompt) => Step::open(To::Why(hive, Box::new(prompt.clone()))),
                    None => Step::say("This hive needs nothing now, so there is no why."),
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

    /// Up and down, among the fields or among the prompts: the border between them is crossed by Tab alone, so that
    /// going through the fields never comes to rest on a deed.
    fn move_focus(&mut self, down: bool) -> Step {
        let places = self.places();
        let beside = if down { Some(self.place + 1) } else { self.place.checked_sub(1) };
        let beside = beside.and_then(|at| places.get(at).copied());
        let is_field = |focus: Focus| matches!(focus, Focus::Field(_));
        match (self.focus, beside) {
            (Focus::Rest, _) => match self.fields().last() {
                Some(last) if !down => self.focus = Focus::Field(*last),
                _ => return Step::say(self.at_rest()),
            },
            (now, Some(next)) if is_field(now) == is_field(next) => self.focus = next,
            (now, _) if is_field(now) && down => {
                self.focus = Focus::Rest;
                return Step::say(self.past_the_fields());
            }
            _ => {}
        }
        Step::stay()
    }

    /// What to press where nothing is chosen.
    fn at_rest(&self) -> String {
        let on = self.look.keys.name_of(ScreenId::Hive, Command::GoOn);
        if self.prompts().is_empty() {
            format!("Nothing more is asked here: {on} goes on to the next hive.")
        } else {
            format!("Nothing is chosen: Tab goes to what this hive needs, {on} goes on.")
        }
    }

    fn past_the_fields(&self) -> String {
        if self.prompts().is_empty() {
            let on = self.look.keys.name_of(ScreenId::Hive, Command::GoOn);
            format!("That was the last to look at: {on} goes on to the next hive.")
        } else {
            "That was the last to look at: Tab goes to what this hive needs.".to_owned()
        }
    }

    fn switch(&mut self) {
        let first_field = self.fields().first().copied().map(Focus::Field);
        let first_prompt = self.prompts().first().map_or(Focus::GoOn, |p| Focus::Prompt(p.rule));
        self.focus = match self.focus {
            Focus::Rest | Focus::Field(_) => first_prompt,
            Focus::Prompt(_) | Focus::GoOn => first_field.unwrap_or(Focus::Rest),
        };
    }

    /// A prompt is not needed. A STOP is no matter of opinion.
    fn not_needed(&self) -> Step {
        match self.prompt() {
            Some(prompt) if prompt.urgency == Urgency::Stop => {
                Step::fail("A STOP stays until what it says has been done; x does not take it away.")
            }
            Some(prompt) => {
                Step::want(Intent::NotNeeded { hive: self.hive.clone(), rule: RuleId::new(prompt.rule) })
            }
            None => Step::say("Choose what is not needed first: Tab goes there, then x."),
        }
    }

    fn type_char(&mut self, session: &Session, c: char) -> Step {
        match self.focus {
            Focus::Field(finding) => match typing::type_into(finding.kind(), &mut self.text, c) {
                Typed::Whole(value) => {
                    self.rest_of_word = typing::rest_of_word(finding.kind(), c);
                    let moved = self.move_focus(true);
                    Step { say: moved.say, ..self.find(finding, Some(value)) }
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
            Focus::Rest | Focus::GoOn => Step::say(self.at_rest()),
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

    fn take(&mut self, session: &Session, was_typed: bool) -> Step {
        match self.focus {
            Focus::Rest => Step::say(self.at_rest()),
            Focus::Field(finding) => {
                let is_empty =
                    self.seen.as_ref().is_some_and(|seen| seen.view.entry.findings.get(finding).is_none());
                let moved = self.move_focus(true);
                // In a rehearsal an empty field is looked at, and the bees answer.
                if session.rehearsal().is_some() && is_empty && !was_typed {
                    let hive = self.hive.clone();
                    return Step { say: moved.say, ..Step::want(Intent::LookAt { hive, finding }) };
                }
                moved
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
        let logged = self.logged();
        self.seen = session.view(&self.hive).map(|view| Seen {
            today: session.today(),
            last: session
                .folded()
                .hive(&self.hive)
                .map(|state| facts::last(state, session.book().units))
                .unwrap_or_default(),
            before: session.folded().hive(&self.hive).map(|state| state.seen).unwrap_or_default(),
            progress: progress(session),
            picture: Picture::of(&view.state, session),
            view,
        });
        let (looks, fine) = match &self.seen {
            Some(seen) => (seen.view.looks.clone(), seen.view.entry.findings.fine.map(|_| Finding::Fine)),
            None => (Vec::new(), None),
        };
        self.show(&looks);
        self.show(fine.as_slice());
        // The key that logged one thing must not stand on the next; and letters are commands again, to change it.
        if let (Some(before), Some(now)) = (logged, self.logged())
            && (now.0 > before.0 || now.1 > before.1)
        {
            self.focus = Focus::Rest;
        }
        self.settle_focus();
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        if let Some(seen) = &self.seen {
            draw::draw(self, seen, session, canvas);
        }
    }

    fn takes_text(&self) -> bool {
        matches!(self.focus, Focus::Field(_))
    }

    fn typed(&self) -> Option<Unlogged> {
        let cell = match self.focus {
            Focus::Field(finding) if !self.text.is_empty() => {
                Some((finding.label().to_owned(), self.text.clone()))
            }
            Focus::Field(_) | Focus::Rest | Focus::Prompt(_) | Focus::GoOn => None,
        };
        Some(Unlogged {
            place: format!("at {}", self.hive),
            what: cell.as_ref().map(|(label, _)| format!("{label} at {}", self.hive)).unwrap_or_default(),
            cells: cell.into_iter().collect(),
            ..Unlogged::default()
        })
    }

    fn put_back(&mut self, session: &Session, typed: &Jotting) -> bool {
        let found = |finding: &&Finding| typed.cell(finding.label()).is_some();
        // What was typed at a hive on another day is not what is seen today.
        if typed.on == session.today()
            && let Some(finding) = Finding::ALL.iter().find(found)
        {
            self.look_at(*finding);
            typed.cell(finding.label()).unwrap_or_default().clone_into(&mut self.text);
            return true;
        }
        false
    }

    fn standing(&self) -> Option<(HiveId, usize)> {
        let all = Finding::ALL;
        let at = match self.focus {
            Focus::Field(finding) => all.iter().position(|f| *f == finding),
            Focus::Rest | Focus::Prompt(_) | Focus::GoOn => None,
        };
        Some((self.hive.clone(), at.unwrap_or(all.len())))
    }

    fn look_at(&mut self, finding: Finding) {
        self.show(&[finding]);
        self.focus = Focus::Field(finding);
        self.settle_focus();
    }
}

fn progress(session: &Session) -> String {
    let Some(open) = session.visit() else { return String::new() };
    let plan = session.yard_plan(&open.visit.yard);
    let (done, minutes) = plan.map_or((0, 0), |plan| session.progress(plan));
    let day = wording::day(session.book().units, open.visit.on);
    format!("{done} of {} done, {minutes} min left · {day}", open.due)
}
