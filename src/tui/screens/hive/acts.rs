//! At a hive, what no prompt asks for, and what is done again: other amounts, the boxes, as at the last hive, on to the next.

use super::{Focus, HiveScreen};
use crate::model::{Action, HiveId};
use crate::tui::app::{App, HiveView};
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::screens::act::ActScreen;
use crate::tui::screens::form::{FormScreen, Purpose, has_fields};
use crate::tui::screens::safety::SafetyScreen;
use crate::tui::screens::stack::StackScreen;
use crate::tui::screens::{Screen, Turn};

impl HiveScreen {
    /// What goes beyond the prompts; `None` where the command is none of these.
    pub(super) fn beyond(
        &mut self,
        app: &mut App,
        view: &HiveView,
        command: Command,
        effects: &mut Vec<Effect>,
    ) -> Option<Turn> {
        Some(match command {
            Command::Act => Turn::Open(Screen::Act(ActScreen::of(&self.hive, app))),
            Command::Boxes => {
                Turn::Open(Screen::Stack(StackScreen::of(self.hive.clone(), view.state.boxes.clone())))
            }
            Command::Amounts => self.amounts(app, view),
            Command::LikeLast => {
                self.like_last(app, effects);
                Turn::Stay
            }
            Command::CopyOn if view.entry.actions.is_empty() => {
                app.say("Nothing was logged here yet that the next hives could have too.");
                Turn::Stay
            }
            Command::CopyOn => {
                Turn::Open(Screen::Form(FormScreen::of(Purpose::CopyOn { hive: self.hive.clone() }, app)))
            }
            Command::GoTo(place) => {
                if let Some(focus) = self.places(view).get(place) {
                    self.focus = *focus;
                }
                Turn::Stay
            }
            _ => return None,
        })
    }

    /// The first way of the prompt in hand with its amounts to be changed, or what was logged here last.
    fn amounts(&self, app: &mut App, view: &HiveView) -> Turn {
        let offer = match self.focus {
            Focus::Prompt(_) => self.prompt(view).and_then(|p| p.offers.first().map(|o| (p.rule, o))),
            Focus::Field(_) | Focus::GoOn => None,
        };
        let (actions, prompt, instead) = match (offer, view.entry.actions.last()) {
            (Some((rule, offer)), _) => (offer.actions.clone(), Some((rule, offer.promises.clone())), false),
            (None, Some(last)) => (vec![last.clone()], None, true),
            (None, None) => {
                app.say("Go to a prompt (Tab) to change its amounts, or log something first.");
                return Turn::Stay;
            }
        };
        if app.cautions_first(&actions) {
            return Turn::Open(Screen::Safety(SafetyScreen::before_treatment()));
        }
        if let [Action::SetBoxes { boxes }] = actions.as_slice() {
            return Turn::Open(Screen::Stack(StackScreen::of(self.hive.clone(), boxes.clone())));
        }
        if !actions.iter().any(|a| has_fields(a, &self.hive, app)) {
            app.say("There is no amount in it to change.");
            return Turn::Stay;
        }
        let purpose = Purpose::Log { hive: self.hive.clone(), actions, prompt, instead };
        Turn::Open(Screen::Form(FormScreen::of(purpose, app)))
    }

    /// Logs here what was logged at the hive before in this visit.
    fn like_last(&mut self, app: &mut App, effects: &mut Vec<Effect>) {
        let Some((from, actions)) = last_logged(app, &self.hive) else {
            app.say("Nothing was logged at a hive before this one today.");
            return;
        };
        let words: Vec<String> = actions.iter().map(|a| a.words(app.book.units)).collect();
        app.change(&self.hive, effects, |entry| entry.actions.extend(actions));
        app.say(format!("Logged as at {from}: {}. u undoes it.", words.join(", ")));
    }
}

/// The hive before this one in the queue at which something was logged today, and what. A split, a union or a queen is
/// one hive's own and not done again.
fn last_logged(app: &App, here: &HiveId) -> Option<(HiveId, Vec<Action>)> {
    let walk = app.walk.as_ref()?;
    let at = walk.queue.iter().position(|h| h == here)?;
    walk.queue.iter().take(at).rev().find_map(|hive| {
        let again: Vec<Action> = walk
            .entry(hive)
            .actions
            .into_iter()
            .filter(|a| {
                !matches!(
                    a,
                    Action::SplitInto { .. }
                        | Action::Joined { .. }
                        | Action::JoinInto { .. }
                        | Action::SetQueen { .. }
                        | Action::SetBoxes { .. }
                        | Action::Retire { .. }
                )
            })
            .collect();
        (!again.is_empty()).then(|| (hive.clone(), again))
    })
}
