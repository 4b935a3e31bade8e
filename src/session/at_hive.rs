//! At a hive: what was seen, what was done, what was put off, and on to the next.

use chrono::{NaiveDate, Timelike};

use super::{Answers, Done, Effect, HiveView, News, OpenVisit, Refusal, Session};
use crate::advice::{Offer, Prompt};
use crate::colony::treatment::limits;
use crate::model::{
    About, Action, Around, Asking, DraftStep, Entry, Finding, HiveId, InBloom, Offered, Rehearsal, Reply,
    RuleId, Treatment, Value, Visit, Weather, YardId, days_after, visit_id,
};
use crate::wording;

impl Session {
    /// Whether a visit to a yard can be begun today.
    ///
    /// # Errors
    /// Why it cannot.
    pub fn may_begin(&self, yard: &YardId) -> Result<(), Refusal> {
        self.may_write()?;
        if self.rehearsal().is_some_and(Rehearsal::is_over) {
            return Err(Refusal::NotHere("This rehearsal is over: D shows what really was.".to_owned()));
        }
        if let Some(open) = &self.visit {
            let there = &open.visit.yard;
            return Err(Refusal::Cannot(format!("The visit to {there} is still open: wrap it up first.")));
        }
        if self.today > self.last_day() {
            let day = wording::day_and_year(self.book.units, self.today);
            return Err(Refusal::Cannot(format!(
                "{day} has not come yet: a visit is logged on its day. Plans can be looked at."
            )));
        }
        if self.yard_plan(yard).is_some_and(|y| !(y.queue.is_empty() && y.rest.is_empty())) {
            Ok(())
        } else {
            Err(Refusal::NotHere("There is no hive to see in that yard.".to_owned()))
        }
    }

    pub(super) fn begin(
        &mut self,
        yard: &YardId,
        hive: Option<HiveId>,
        weather: Weather,
        blooms: &[InBloom],
    ) -> Result<Done, Refusal> {
        self.may_begin(yard)?;
        let (due, queue) = self.yard_plan(yard).map_or((0, Vec::new()), |plan| {
            let stops = plan.queue.iter().chain(&plan.rest);
            (plan.queue.len(), stops.map(|s| s.hive.clone()).collect::<Vec<_>>())
        });
        let at = self.today.and_time(self.now.time());
        let mut visit = Visit {
            began: self.now.time().with_nanosecond(0),
            weather,
            truck: self.truck(yard),
            ..Visit::begun(visit_id(yard, at, self.next_seed()), yard.clone(), self.today)
        };
        visit.set_in_bloom(blooms);
        let effects = vec![
            Effect::BeginDraft(visit.id.clone()),
            Effect::Draft(DraftStep::Head(visit.clone())),
            Effect::Draft(DraftStep::Queue { hives: queue.clone(), due }),
        ];
        let first = hive.filter(|h| queue.contains(h)).or_else(|| queue.first().cloned());
        self.visit = Some(OpenVisit::begin(visit, queue, due));
        let arrived = first.map(|hive| self.arrive_at(&hive, None)).unwrap_or_default();
        Ok(Done::default().with(effects).and_then(arrived))
    }

    /// A number by which the next visit differs from every other.
    pub(super) fn next_seed(&mut self) -> u16 {
        let seed = self.seed;
        self.seed = self.seed.wrapping_add(1);
        seed
    }

    /// Corrects the weather and the bloom of the open visit.
    pub(super) fn correct_weather(
        &mut self,
        weather: Weather,
        blooms: Vec<InBloom>,
    ) -> Result<Done, Refusal> {
        let step = self.open_visit()?.change_weather(weather, blooms);
        let said = Done::saying("Weather and bloom are noted; u undoes it.");
        Ok(said.with(step.into_iter().map(Effect::Draft)))
    }

    pub(super) fn go_to(&mut self, hive: &HiveId) -> Result<Done, Refusal> {
        let open = self.open_visit()?;
        if !open.queue.contains(hive) {
            return Err(Refusal::NotHere(format!("{hive} is not in the yard of this visit.")));
        }
        Ok(self.arrive_at(hive, None))
    }

    pub(super) fn finish_hive(&mut self, hive: &HiveId) -> Result<Done, Refusal> {
        let now = self.now;
        let open = self.open_visit()?;
        open.stand_at(hive);
        let (steps, has_more) = open.finish_hive(now);
        let next = open.hive().cloned().filter(|_| has_more);
        let done = Done::default().with(steps.into_iter().map(Effect::Draft));
        Ok(match next {
            Some(next) => done.and_then(self.arrive_at(&next, None)),
            None => done.news(News::AllSeen),
        })
    }

    pub(super) fn step_back(&mut self) -> Result<Done, Refusal> {
        let open = self.open_visit()?;
        open.step_back();
        let hive = open.hive().cloned();
        Ok(hive.map(|hive| self.arrive_at(&hive, None)).unwrap_or_default())
    }

    /// Whether a finding can be written down at a hive as it stands.
    ///
    /// # Errors
    /// Why it cannot: out of its range, or at odds with what was found beside it.
    pub fn may_find(&self, hive: &HiveId, finding: Finding, value: Option<Value>) -> Result<Entry, Refusal> {
        let open = self.visit.as_ref();
        let before = open.map_or_else(|| Entry::blank(hive.clone()), |v| v.entry(hive));
        let mut after = before.clone();
        if !after.findings.set(finding, value) {
            let range = finding.kind().range();
            return Err(Refusal::Cannot(format!("{}: it is answered by {range}.", finding.label())));
        }
        // What is found later is the truer word: a hive is no longer fine where it is seen to be ill.
        if let Some(why) = after.findings.not_fine() {
            if finding == Finding::Fine && value.is_some() {
                return Err(Refusal::Cannot(format!("A hive is not fine where {why}.")));
            }
            after.findings.fine = None;
        }
        // What was odd before is not this field's fault.
        let known = before.faults();
        if let Some(fault) = after.faults().into_iter().find(|f| !known.contains(f)) {
            return Err(Refusal::Cannot(wording::sentence(&fault)));
        }
        Ok(after)
    }

    pub(super) fn find(
        &mut self,
        hive: &HiveId,
        finding: Finding,
        value: Option<Value>,
    ) -> Result<Done, Refusal> {
        let after = self.may_find(hive, finding, value)?;
        let open = self.open_visit()?;
        Ok(Done::default().with(open.change(after).map(Effect::Draft)))
    }

    /// The prompt of a rule at a hive, as it stands now.
    fn prompt_at(&self, hive: &HiveId, rule: &RuleId) -> Result<(HiveView, Prompt), Refusal> {
        let view = self.view(hive).ok_or_else(|| no_hive(hive))?;
        let prompt = view.advice.prompts.iter().find(|p| p.rule == rule.as_str()).cloned();
        let prompt = prompt.ok_or_else(|| Refusal::NotHere("That is not asked here any more.".to_owned()))?;
        Ok((view, prompt))
    }

    pub(super) fn accept(&mut self, hive: &HiveId, rule: &RuleId, offer: usize) -> Result<Done, Refusal> {
        let (view, prompt) = self.prompt_at(hive, rule)?;
        let Some(offer) = prompt.offers.get(offer).cloned() else {
            if let Some(finding) = prompt.asks.iter().find(|f| view.entry.findings.get(**f).is_none()) {
                let words = format!("{}: {}", finding.label(), finding.help());
                return Ok(Done::saying(words).news(News::Look(*finding)));
            }
            let effects = self.change(hive, |entry| entry.answer(prompt.answered(Reply::Done)))?;
            return Ok(Done::default().with(effects));
        };
        if offer.asks {
            return Err(Refusal::Cannot("Its amounts are typed before it is logged.".to_owned()));
        }
        self.cautions_first(&offer.actions)?;
        let words = match self.done_words(&offer.actions) {
            words if words.is_empty() => offer.label.clone(),
            words => words,
        };
        let today = self.today;
        let (answer, later) = (prompt.taken(Some(&offer), today), offer.later);
        let effects = self.change(hive, |entry| offer.log(answer, entry, today))?;
        Ok(Done::saying(match later {
            Some(days) => {
                let until = wording::day(self.book.units, days_after(today, days));
                format!("Put off to {until}: {words}.")
            }
            None => format!("Logged: {words}."),
        })
        .with(effects))
    }

    fn done_words(&self, actions: &[Action]) -> String {
        let words: Vec<String> = actions.iter().map(|a| a.words(self.book.units)).collect();
        words.join(", ")
    }

    /// Before the first treatment of a day the cautions are read, once.
    pub(super) fn cautions_first(&mut self, actions: &[Action]) -> Result<(), Refusal> {
        let treats = |a: &Action| matches!(a, Action::Treat { .. });
        let entries = self.visit.iter().flat_map(|v| &v.visit.entries);
        let is_known = self.cautioned == Some(self.today) || entries.flat_map(|e| &e.actions).any(treats);
        if is_known || !actions.iter().any(treats) {
            return Ok(());
        }
        self.cautioned = Some(self.today);
        Err(Refusal::ReadCautions)
    }

    pub(super) fn put_off(
        &mut self,
        hive: &HiveId,
        rule: &RuleId,
        reason: &str,
        until: NaiveDate,
    ) -> Result<Done, Refusal> {
        let (_, prompt) = self.prompt_at(hive, rule)?;
        let reason = reason.trim();
        if reason.is_empty() {
            return Err(Refusal::Cannot("Say why in a few words, or choose a reason.".to_owned()));
        }
        if until <= self.today {
            return Err(Refusal::Cannot("Put it off to a day after today.".to_owned()));
        }
        let reply = Reply::PutOff { reason: reason.to_owned(), until };
        let effects = self.change(hive, |entry| entry.answer(prompt.answered(reply)))?;
        let units = self.book.units;
        let late = if until > prompt.due.latest {
            format!(", after its last day, {}", wording::day(units, prompt.due.latest))
        } else {
            String::new()
        };
        Ok(Done::saying(format!("Put off to {}{late}.", wording::day(units, until))).with(effects))
    }

    pub(super) fn not_needed(&mut self, hive: &HiveId, rule: &RuleId) -> Result<Done, Refusal> {
        let (_, prompt) = self.prompt_at(hive, rule)?;
        let effects = self.change(hive, |entry| entry.answer(prompt.answered(Reply::NotNeeded)))?;
        Ok(Done::saying("Noted as not needed.").with(effects))
    }

    pub(super) fn log_actions(
        &mut self,
        hive: &HiveId,
        actions: Vec<Action>,
        answers: Option<&Answers>,
        instead: bool,
    ) -> Result<Done, Refusal> {
        self.open_visit()?;
        if let Some(fault) = actions.iter().find_map(Action::fault) {
            return Err(Refusal::Cannot(wording::sentence(&fault)));
        }
        self.cautions_first(&actions)?;
        let words = self.done_words(&actions);
        let mut effects = Vec::new();
        for action in &actions {
            if let Action::Joined { hive: other } = action {
                let into = Action::JoinInto { hive: hive.clone() };
                effects.extend(self.change(other, |entry| entry.actions.push(into))?);
            }
        }
        let today = self.today;
        effects.extend(self.change(hive, |entry| {
            if instead {
                entry.actions.pop();
            }
            match answers {
                Some(Answers { answer, promises }) => {
                    let offer = Offer { promises: promises.clone(), ..Offer::doing("", actions) };
                    offer.log(answer.clone(), entry, today);
                }
                None => entry.actions.extend(actions),
            }
        })?);
        if let Some(open) = &mut self.visit {
            open.stand_at(hive);
        }
        Ok(Done::saying(format!("Logged: {words}.")).with(effects))
    }

    /// What was logged at the hive before this one in the queue, and which hive that is. A split, a union or a queen is
    /// one hive's own and is not done again.
    pub fn last_logged(&self, here: &HiveId) -> Option<(HiveId, Vec<Action>)> {
        let open = self.visit.as_ref()?;
        let at = open.queue.iter().position(|h| h == here)?;
        open.queue.iter().take(at).rev().find_map(|hive| {
            let actions: Vec<Action> = open.entry(hive).actions.into_iter().filter(is_done_again).collect();
            (!actions.is_empty()).then(|| (hive.clone(), actions))
        })
    }

    pub(super) fn like_last(&mut self, hive: &HiveId) -> Result<Done, Refusal> {
        let Some((from, actions)) = self.last_logged(hive) else {
            return Err(Refusal::NotHere("Nothing was logged at a hive before this one today.".to_owned()));
        };
        self.cautions_first(&actions)?;
        let words = self.done_words(&actions);
        let effects = self.change(hive, |entry| entry.actions.extend(actions))?;
        Ok(Done::saying(format!("Logged as at {from}: {words}.")).with(effects))
    }

    /// The hives after this one in the queue that are due and not done.
    pub fn next_hives(&self, hive: &HiveId) -> Vec<HiveId> {
        let Some(open) = &self.visit else { return Vec::new() };
        let at = open.queue.iter().position(|h| h == hive).map_or(0, |at| at + 1);
        let due = open.queue.iter().take(open.due).skip(at);
        due.filter(|h| !open.finished.contains(*h)).cloned().collect()
    }

    pub(super) fn copy_on(&mut self, hive: &HiveId, count: usize) -> Result<Done, Refusal> {
        let action = self.open_visit()?.entry(hive).actions.last().cloned();
        let Some(action) = action else {
            return Err(Refusal::NotHere(
                "Nothing was logged here yet that the next hives could have too.".to_owned(),
            ));
        };
        let next = self.next_hives(hive);
        if count > next.len() {
            let left = wording::count(next.len(), "hive");
            return Err(Refusal::Cannot(format!("There are {left} left that are due.")));
        }
        let mut effects = Vec::new();
        for other in next.iter().take(count) {
            let action = action.clone();
            effects.extend(self.change(other, |entry| entry.actions.push(action))?);
        }
        if let Some(open) = &mut self.visit {
            open.stand_at(hive);
        }
        let words = action.words(self.book.units);
        let others = wording::count(count, "more hive");
        Ok(Done::saying(format!("Logged at {others}: {words}.")).with(effects))
    }

    pub(super) fn note(&mut self, hive: &HiveId, text: &str) -> Result<Done, Refusal> {
        let note = text.trim().to_owned();
        let effects = self.change(hive, |entry| entry.note = note)?;
        Ok(Done::default().with(effects))
    }

    /// Undone or done again: the keeper stands at the hive it happened at.
    pub(super) fn stepped(&mut self, step: DraftStep, words: &str) -> Done {
        let hive = self.visit.as_ref().and_then(|v| v.hive().cloned());
        let done = Done::saying(words).with([Effect::Draft(step)]);
        match hive {
            Some(hive) => done.and_then(self.arrive_at(&hive, None)),
            None => done,
        }
    }

    /// The other living hives of a hive's yard.
    pub fn neighbours(&self, hive: &HiveId) -> Vec<HiveId> {
        let yard = self.folded.hive(hive).map(|s| &s.yard);
        let all = self.folded.hives();
        all.filter(|s| s.id != *hive && s.is_alive() && Some(&s.yard) == yard).map(|s| s.id.clone()).collect()
    }

    /// The day a treatment begun today comes out or ends, by its label's days.
    pub fn treatment_ends(&self, treatment: Treatment) -> NaiveDate {
        days_after(self.today, limits(treatment, &self.book.practice).days.value)
    }

    /// What the fields of an action at a hive are read with.
    pub fn about<'a>(&self, neighbours: &'a [HiveId], asking: Asking) -> About<'a> {
        About { units: self.book.units, today: self.today, neighbours, asking }
    }

    /// Everything that can be logged at a hive, with what is likely filled in.
    pub fn offered(&self, hive: &HiveId) -> Vec<Offered> {
        let Some(view) = self.view(hive) else { return Vec::new() };
        Action::offered(&Around {
            state: &view.state,
            today: self.today,
            free_name: HiveId::new(self.next_name(&view.state.yard)),
            neighbour: self.neighbours(hive).into_iter().next(),
        })
    }
}

pub(super) fn no_hive(hive: &HiveId) -> Refusal {
    Refusal::NotHere(format!("There is no hive {hive} today."))
}

fn is_done_again(action: &Action) -> bool {
    !matches!(
        action,
        Action::SplitInto { .. }
            | Action::Joined { .. }
            | Action::JoinInto { .. }
            | Action::SetQueen { .. }
            | Action::SetBoxes { .. }
            | Action::Retire { .. }
    )
}
