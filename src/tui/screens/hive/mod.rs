//! At a hive: who it is, what to look at now, and the prompts, which change as findings are typed.

mod acts;
pub(crate) mod draw;

use std::collections::BTreeSet;

use super::safety::SafetyScreen;
use super::{Screen, Turn, card, note, put_off, why, wrap_up};
use crate::advice::Prompt;
use crate::model::{Finding, HiveId, Reply, RuleId, Value};
use crate::store::DraftStep;
use crate::tui::app::{App, HiveView};
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::input::{self, Typed};
use crate::tui::keys::Place;

/// What has the focus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Focus {
    /// A field.
    Field(Finding),
    /// A prompt, by its rule.
    Prompt(&'static str),
    /// The line that ends the hive.
    GoOn,
}

/// The screen at a hive.
#[derive(Debug)]
pub(crate) struct HiveScreen {
    /// The hive.
    pub(crate) hive: HiveId,
    /// What has the focus.
    pub(crate) focus: Focus,
    /// What is typed into the field, not taken yet.
    pub(crate) text: String,
    /// Whether all fields are shown.
    pub(crate) all: bool,
    /// Fields shown since the hive was come to: none goes away under the hand.
    shown: BTreeSet<Finding>,
}

impl HiveScreen {
    /// At a hive; `field` is the place of the focus where a draft was taken up.
    pub(crate) fn at(app: &mut App, hive: HiveId, field: Option<usize>) -> Self {
        let now = app.now;
        if let Some(walk) = &mut app.walk {
            walk.arrive(now);
        }
        let mut screen =
            Self { hive, focus: Focus::GoOn, text: String::new(), all: false, shown: BTreeSet::new() };
        if let Some(view) = app.view(&screen.hive) {
            screen.shown.extend(view.looks.iter().copied());
            let places = screen.places(&view);
            screen.focus = places.get(field.unwrap_or(0)).or(places.first()).copied().unwrap_or(Focus::GoOn);
        }
        screen
    }

    /// The fields shown, in the order a hive is opened.
    pub(crate) fn fields(&self) -> Vec<Finding> {
        if self.all { Finding::ALL.to_vec() } else { self.shown.iter().copied().collect() }
    }

    /// Everything the focus can stand on: fields, prompts, the end.
    fn places(&self, view: &HiveView) -> Vec<Focus> {
        let fields = self.fields().into_iter().map(Focus::Field);
        let prompts = view.advice.prompts.iter().map(|p| Focus::Prompt(p.rule));
        fields.chain(prompts).chain([Focus::GoOn]).collect()
    }

    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        let Some(view) = app.view(&self.hive) else { return Turn::Close };
        let before = self.places(&view);
        let at = before.iter().position(|f| *f == self.focus).unwrap_or(0);
        let turn = self.act(app, &view, command, effects);
        // The focus stays where it was, or goes to what has moved up into its place.
        if let Some(view) = app.view(&self.hive) {
            self.shown.extend(view.looks.iter().copied());
            let after = self.places(&view);
            if !after.contains(&self.focus) {
                self.focus = after.get(at.min(after.len().saturating_sub(1))).copied().unwrap_or(Focus::GoOn);
            }
            let place = after.iter().position(|f| *f == self.focus).unwrap_or(0);
            if !effects.is_empty() || place != at {
                effects.push(Effect::Draft(DraftStep::At { hive: self.hive.clone(), field: place }));
            }
        }
        turn
    }

    fn act(&mut self, app: &mut App, view: &HiveView, command: Command, effects: &mut Vec<Effect>) -> Turn {
        match command {
            Command::Type(c) => self.type_char(app, view, c, effects),
            // Letters of other commands are values too, where the field takes them: y and n, and units.
            other => {
                if let Some(c) = app.look.keys.letter_of(Place::Hive, other)
                    && let Focus::Field(finding) = self.focus
                    && self.field_takes(finding, c)
                {
                    return self.type_char(app, view, c, effects);
                }
                self.command(app, view, other, effects)
            }
        }
    }

    fn field_takes(&self, finding: Finding, c: char) -> bool {
        let mut text = self.text.clone();
        input::type_into(finding.kind(), &mut text, c) != Typed::Nothing
    }

    fn command(
        &mut self,
        app: &mut App,
        view: &HiveView,
        command: Command,
        effects: &mut Vec<Effect>,
    ) -> Turn {
        if !matches!(command, Command::Erase | Command::Left | Command::Right)
            && !self.take_text(app, view, effects)
        {
            return Turn::Stay;
        }
        match command {
            Command::Up => self.step(view, false),
            Command::Down => self.step(view, true),
            Command::Switch => self.switch(view),
            Command::Left | Command::Right => self.turn_choice(app, view, command == Command::Right, effects),
            Command::Erase => self.erase(app, effects),
            Command::Take => return self.take(app, view, effects),
            Command::GoOn => return self.go_on(app, effects),
            Command::GoBack => {
                if let Some(walk) = &mut app.walk {
                    walk.step_back();
                    if let Some(hive) = walk.hive().cloned() {
                        *self = Self::at(app, hive, None);
                    }
                }
            }
            Command::PutOff => match self.prompt(view) {
                Some(prompt) => {
                    return Turn::Open(Screen::PutOff(put_off::PutOffScreen::of(
                        &self.hive, prompt, app.today,
                    )));
                }
                None => app.say("Go to a prompt first (Tab), then p puts it off."),
            },
            Command::NotNeeded => match self.prompt(view) {
                Some(prompt) => {
                    let rule = prompt.rule;
                    self.answer(app, rule, Reply::NotNeeded, effects);
                    app.say("Noted as not needed. u undoes it.");
                }
                None => app.say("Go to a prompt first (Tab), then x notes it as not needed."),
            },
            Command::Why => match self.prompt(view).or(view.advice.prompts.first()) {
                Some(prompt) => return Turn::Open(Screen::Why(why::WhyScreen::of(prompt, app.book.units))),
                None => app.say("There is no prompt here now."),
            },
            Command::More => self.all = !self.all,
            Command::Note => return Turn::Open(Screen::Note(note::NoteScreen::of(view.entry.clone()))),
            Command::Undo | Command::Redo => self.undo(app, command == Command::Undo, effects),
            Command::Card => return Turn::Open(Screen::Card(card::CardScreen::of(app, self.hive.clone()))),
            Command::WrapUp => return Turn::Open(Screen::WrapUp(wrap_up::WrapUpScreen::of(app))),
            Command::Back => return Turn::Close,
            other => {
                if let Some(turn) = self.beyond(app, view, other, effects) {
                    return turn;
                }
            }
        }
        Turn::Stay
    }

    fn prompt<'a>(&self, view: &'a HiveView) -> Option<&'a Prompt> {
        match self.focus {
            Focus::Prompt(rule) => view.advice.prompts.iter().find(|p| p.rule == rule),
            Focus::Field(_) | Focus::GoOn => None,
        }
    }

    fn step(&mut self, view: &HiveView, down: bool) {
        let places = self.places(view);
        let at = places.iter().position(|f| *f == self.focus).unwrap_or(0);
        let to = if down { at + 1 } else { at.saturating_sub(1) };
        if let Some(focus) = places.get(to) {
            self.focus = *focus;
        }
    }

    fn switch(&mut self, view: &HiveView) {
        let first_field = self.fields().first().copied().map(Focus::Field);
        let first_prompt = view.advice.prompts.first().map(|p| Focus::Prompt(p.rule));
        self.focus = match self.focus {
            Focus::Field(_) => first_prompt.unwrap_or(Focus::GoOn),
            Focus::Prompt(_) | Focus::GoOn => first_field.or(first_prompt).unwrap_or(Focus::GoOn),
        };
    }

    fn type_char(&mut self, app: &mut App, view: &HiveView, c: char, effects: &mut Vec<Effect>) -> Turn {
        match self.focus {
            Focus::Field(finding) => match input::type_into(finding.kind(), &mut self.text, c) {
                Typed::Whole(value) => {
                    self.set(app, finding, Some(value), effects);
                    self.step(view, true);
                }
                Typed::Part => {}
                Typed::Nothing => app.say(format!(
                    "{}: {}",
                    finding.label(),
                    input::keys_of(finding.kind(), app.book.units)
                )),
            },
            Focus::Prompt(_) => {
                let place = input::place_of(c);
                if let (Some(prompt), Some(at)) = (self.prompt(view), place)
                    && at < prompt.offers.len()
                {
                    return self.accept(app, view, prompt, at, effects);
                }
            }
            Focus::GoOn => {}
        }
        Turn::Stay
    }

    /// Takes what was typed into the field; `false` where it cannot be, and then the text stays.
    fn take_text(&mut self, app: &mut App, view: &HiveView, effects: &mut Vec<Effect>) -> bool {
        let (Focus::Field(finding), false) = (self.focus, self.text.is_empty()) else { return true };
        match input::value_of(finding.kind(), &self.text, app.book.units) {
            Ok(value) => {
                let mut entry = view.entry.clone();
                entry.findings.set(finding, Some(value));
                let known: BTreeSet<String> = view.entry.faults().into_iter().collect();
                if let Some(fault) = entry.faults().into_iter().find(|f| !known.contains(f)) {
                    app.fail(fault);
                    self.text.clear();
                    return false;
                }
                self.text.clear();
                self.set(app, finding, Some(value), effects);
                true
            }
            Err(why) => {
                app.fail(format!("{}: {why}", finding.label()));
                self.text.clear();
                false
            }
        }
    }

    fn set(&mut self, app: &mut App, finding: Finding, value: Option<Value>, effects: &mut Vec<Effect>) {
        app.change(&self.hive, effects, |entry| {
            entry.findings.set(finding, value);
        });
    }

    fn turn_choice(&mut self, app: &mut App, view: &HiveView, forward: bool, effects: &mut Vec<Effect>) {
        if let Focus::Field(finding) = self.focus
            && let Some(value) = input::step(finding.kind(), view.entry.findings.get(finding), forward)
        {
            self.set(app, finding, Some(value), effects);
        }
    }

    fn erase(&mut self, app: &mut App, effects: &mut Vec<Effect>) {
        if self.text.pop().is_none()
            && let Focus::Field(finding) = self.focus
        {
            self.set(app, finding, None, effects);
        }
    }

    fn take(&mut self, app: &mut App, view: &HiveView, effects: &mut Vec<Effect>) -> Turn {
        match self.focus {
            Focus::Field(_) => self.step(view, true),
            Focus::Prompt(_) => {
                if let Some(prompt) = self.prompt(view) {
                    return self.accept(app, view, prompt, 0, effects);
                }
            }
            Focus::GoOn => return self.go_on(app, effects),
        }
        Turn::Stay
    }

    /// Takes a prompt's offer and logs it; where there is only something to look at, goes to its field.
    fn accept(
        &mut self,
        app: &mut App,
        view: &HiveView,
        prompt: &Prompt,
        offer: usize,
        effects: &mut Vec<Effect>,
    ) -> Turn {
        if prompt.offers.get(offer).is_some_and(|o| app.cautions_first(&o.actions)) {
            return Turn::Open(Screen::Safety(SafetyScreen::before_treatment()));
        }
        let unmade = prompt.asks.iter().find(|f| view.entry.findings.get(**f).is_none());
        match (prompt.offers.get(offer), unmade) {
            (Some(offer), _) => {
                let (rule, today, taken) = (prompt.rule, app.today, offer.clone());
                let words: Vec<String> = offer.actions.iter().map(|a| a.words(app.book.units)).collect();
                app.change(&self.hive, effects, |entry| taken.log(rule, entry, today));
                let words = if words.is_empty() { offer.label.clone() } else { words.join(", ") };
                app.say(format!("Logged: {words}. u undoes it."));
            }
            (None, Some(finding)) => {
                self.shown.insert(*finding);
                self.focus = Focus::Field(*finding);
                app.say(format!("{}: {}", finding.label(), finding.help()));
            }
            (None, None) => self.answer(app, prompt.rule, Reply::Done, effects),
        }
        Turn::Stay
    }

    fn answer(&mut self, app: &mut App, rule: &'static str, reply: Reply, effects: &mut Vec<Effect>) {
        let rule = RuleId::new(rule);
        app.change(&self.hive, effects, |entry| entry.answer(rule, reply));
    }

    fn undo(&mut self, app: &mut App, back: bool, effects: &mut Vec<Effect>) {
        let Some(walk) = &mut app.walk else { return };
        let step = if back { walk.undo() } else { walk.redo() };
        let hive = walk.hive().cloned();
        let nothing = step.is_none();
        effects.extend(step.map(Effect::Draft));
        if let Some(hive) = hive.filter(|h| *h != self.hive) {
            *self = Self::at(app, hive, None);
        }
        app.say(match (nothing, back) {
            (true, true) => "Nothing to undo.",
            (true, false) => "Nothing to do again.",
            (false, true) => "Undone. r does it again.",
            (false, false) => "Done again.",
        });
    }

    fn go_on(&mut self, app: &mut App, effects: &mut Vec<Effect>) -> Turn {
        let now = app.now;
        let Some(walk) = &mut app.walk else { return Turn::Close };
        walk.stand_at(&self.hive);
        let (steps, more) = walk.finish_hive(now);
        effects.extend(steps.into_iter().map(Effect::Draft));
        let next = walk.hive().cloned();
        match next.filter(|_| more) {
            Some(hive) => {
                *self = Self::at(app, hive, None);
                Turn::Stay
            }
            None => Turn::Replace(Screen::WrapUp(wrap_up::WrapUpScreen::of(app))),
        }
    }
}
