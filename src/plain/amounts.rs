//! The amounts of one way of a prompt, asked for line by line before it is logged.

use std::io::{self, BufRead, Write};

use super::numbered::place_among;
use super::{Plain, Reply, read_day};
use crate::advice::{Offer, Prompt};
use crate::model::{Action, Asked, Asking, Given, HiveId, Takes};
use crate::session::{Answers, Intent};
use crate::wording;

impl<R: BufRead, W: Write> Plain<'_, R, W> {
    /// One way of a prompt with its amounts asked for; `None` at the end of the input.
    pub(super) fn amounts(
        &mut self,
        hive: &HiveId,
        prompt: &Prompt,
        way: &Offer,
    ) -> io::Result<Option<Intent>> {
        let proposed = self.session().named(hive, &way.actions);
        let Some(actions) = self.fill(hive, &proposed, Asking::Prompted)? else { return Ok(None) };
        let answers =
            Answers { answer: prompt.answered(crate::model::Reply::Done), promises: way.promises.clone() };
        if let [Action::SplitInto { hive: new }] = actions.as_slice() {
            return self.split(hive, new, Some(&answers));
        }
        Ok(Some(Intent::Log { hive: hive.clone(), actions, answers: Some(answers), instead: false }))
    }

    /// The actions with what is typed for them; `None` at the end of the input.
    pub(super) fn fill(
        &mut self,
        hive: &HiveId,
        proposed: &[Action],
        asking: Asking,
    ) -> io::Result<Option<Vec<Action>>> {
        let neighbours = self.session().neighbours(hive);
        let mut actions = Vec::new();
        for action in proposed {
            let about = self.session().about(&neighbours, asking);
            loop {
                let mut given = Vec::new();
                for asked in action.asks(&about) {
                    let Some(answer) = self.amount(&asked)? else { return Ok(None) };
                    given.push(answer);
                }
                match action.given(&about, &mut given.iter()) {
                    Ok(action) => {
                        actions.push(action);
                        break;
                    }
                    Err(why) => self.say(&why)?,
                }
            }
        }
        Ok(Some(actions))
    }

    /// One amount: typed, or chosen by its number; `None` at the end of the input.
    fn amount(&mut self, asked: &Asked) -> io::Result<Option<Given>> {
        let (units, today) = (self.units(), self.session().today());
        let proposed = match (&asked.takes, &asked.value) {
            (Takes::Choice(words), Given::Pick(at)) => words.get(*at).cloned().unwrap_or_default(),
            (_, Given::Day(on)) => wording::day(units, on),
            (_, Given::Words(words)) => words.clone(),
            (_, Given::Pick(at)) => at.to_string(),
            (_, Given::Open) => String::new(),
        };
        if let Takes::Choice(words) = &asked.takes {
            self.list(words)?;
        }
        let question = if proposed.is_empty() {
            format!("{} ({})", asked.label, asked.help)
        } else {
            format!("{} ({}; Enter: {proposed})", asked.label, asked.help)
        };
        let reply = loop {
            let reply = self.ask_until(&question, |text| match &asked.takes {
                Takes::Choice(words) => place_among(text, words.len()).map(Given::Pick),
                Takes::Day => read_day(text, today, units).map(Given::Day),
                Takes::Words(_) | Takes::Figures => Ok(Given::Words(text.to_owned())),
            })?;
            if matches!(reply, Reply::PassedOver) && asked.value == Given::Open {
                self.say("Only you know that: write it.")?;
                continue;
            }
            break reply;
        };
        if matches!(reply, Reply::End) {
            return Ok(None);
        }
        Ok(reply.or_else(|| Some(asked.value.clone())))
    }
}
