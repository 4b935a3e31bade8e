//! At a hive, what no prompt asks for, and what is done again: other amounts, the boxes, as at the last hive, on to the
//! next.

use super::{Focus, HiveScreen};
use crate::advice::{Offer, Prompt};
use crate::model::{Action, Answerable, Asking, Finding, Fine};
use crate::session::{Answers, Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::to::{Purpose, To};
use crate::tui::view::Step;

impl HiveScreen {
    /// What goes beyond the prompts.
    pub(super) fn beyond(&mut self, session: &Session, command: Command) -> Step {
        let Some(seen) = &self.seen else { return Step::stay() };
        let hive = self.hive.clone();
        match command {
            Command::Weather => Step::open(To::OpenWeather),
            Command::Act => Step::open(To::Act(hive)),
            Command::Boxes => Step::open(To::Stack(hive, seen.view.state.boxes.clone())),
            Command::Amounts => self.amounts(session),
            Command::Fine => self.fine(),
            Command::LikeLast if session.last_logged(&hive).is_some() => {
                Step::open(To::Form(Purpose::LikeLast(hive)))
            }
            Command::LikeLast => Step::say("Nothing was logged at a hive before this one today."),
            Command::CopyOn if seen.view.entry.actions.is_empty() => {
                Step::say("Nothing was logged here yet that the next hives could have too.")
            }
            Command::CopyOn => Step::open(To::Form(Purpose::CopyOn(hive))),
            Command::GoTo(place) => {
                if let Some(focus) = self.places().get(place) {
                    self.focus = *focus;
                }
                Step::stay()
            }
            _ => Step::stay(),
        }
    }

    /// Found fine: not opened, at the second press looked through, at the third not said after all.
    fn fine(&self) -> Step {
        let now = self.seen.as_ref().and_then(|seen| seen.view.entry.findings.fine);
        let next = match now {
            None => Some(Fine::NotOpened),
            Some(Fine::NotOpened) => Some(Fine::LookedThrough),
            Some(Fine::LookedThrough) => None,
        };
        let [fine, on] =
            [Command::Fine, Command::GoOn].map(|command| self.look.keys.name_of(ScreenId::Hive, command));
        let words = match next {
            Some(Fine::NotOpened) => format!("Fine, not opened. {fine} again: looked through. {on} goes on."),
            Some(Fine::LookedThrough) => {
                format!("Fine, looked through. {fine} again takes it back. {on} goes on.")
            }
            None => "Taken back: nothing is said of how the hive was found.".to_owned(),
        };
        Step { say: Step::say(words).say, ..self.find(Finding::Fine, next.map(Answerable::value)) }
    }

    /// The first way of the prompt in hand with its amounts to be changed, or what was logged here last.
    fn amounts(&self, session: &Session) -> Step {
        let offer = match self.focus {
            Focus::Prompt(_) => self.prompt().and_then(|p| p.offers.first().map(|o| (p, o))),
            Focus::Rest | Focus::Field(_) | Focus::GoOn => None,
        };
        let last = self.seen.as_ref().and_then(|seen| seen.view.entry.actions.last());
        match (offer, last) {
            (Some((prompt, offer)), _) => self.with_amounts(session, prompt, offer),
            (None, Some(last)) => self.form(session, vec![last.clone()], None, true),
            (None, None) => Step::say("Go to a prompt (Tab) to change its amounts, or log something first."),
        }
    }

    /// One way of a prompt, its amounts typed before it is logged.
    pub(super) fn with_amounts(&self, session: &Session, prompt: &Prompt, offer: &Offer) -> Step {
        let answers =
            Answers { answer: prompt.taken(Some(offer), session.today()), promises: offer.promises.clone() };
        self.form(session, session.named(&self.hive, &offer.actions), Some(answers), false)
    }

    fn form(&self, session: &Session, actions: Vec<Action>, answers: Option<Answers>, instead: bool) -> Step {
        let hive = self.hive.clone();
        let cautions = Step::want(Intent::MindCautions(actions.clone()));
        if let [Action::SetBoxes { boxes }] = actions.as_slice() {
            return cautions.and_open(To::Stack(hive, boxes.clone()));
        }
        let neighbours = session.neighbours(&hive);
        if actions.iter().all(|a| a.asks(&session.about(&neighbours, Asking::Logged)).is_empty()) {
            return Step::say("There is no amount in it to change.");
        }
        cautions.and_open(To::Form(Purpose::Log { hive, actions, answers, instead }))
    }
}
