//! A hive's card as text and as JSON.

use std::fmt::Write as _;

use chrono::NaiveDate;
use schemars::JsonSchema;
use serde::Serialize;

use super::json;
use super::plan::prompt_line;
use super::what_if::{Asked, WhatIf, of_hive};
use super::{facts, worked_out};
use crate::advice::{Advice, Due, Urgency, rule_name};
use crate::model::fold::whole_history;
use crate::model::{Book, HiveState, Reply, visible};
use crate::plan::{DateStatus, HiveDate, NextDue};
use crate::season::Calendar;
use crate::wording;

/// All that stands on a card.
#[derive(Debug)]
pub struct Card<'a> {
    /// The book.
    pub book: &'a Book,
    /// The hive.
    pub state: &'a HiveState,
    /// The yard's dates.
    pub calendar: &'a Calendar,
    /// What it needs.
    pub advice: &'a Advice,
    /// How it stands against its dates.
    pub standing: &'a [HiveDate],
    /// What it needs next.
    pub next: Option<&'a NextDue>,
    /// The day.
    pub today: NaiveDate,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct CardOut<'a> {
    date: NaiveDate,
    hive: &'a str,
    yard: &'a str,
    alive: bool,
    boxes: String,
    queen: &'static str,
    queen_year: Option<i32>,
    last_visit: Option<NaiveDate>,
    prompts: Vec<PromptOut<'a>>,
    waits: Vec<WaitsOut<'a>>,
    dates: Vec<DateOut>,
    next: Option<NextOut<'a>>,
    worked_out: Vec<String>,
    what_if: Vec<WhatIf>,
    history: Vec<EntryOut>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct PromptOut<'a> {
    rule: &'a str,
    title: &'a str,
    why: &'a str,
    how: &'a [String],
    urgency: Urgency,
    due: Due,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct WaitsOut<'a> {
    rule: &'a str,
    title: &'a str,
    because: &'a str,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct DateOut {
    id: &'static str,
    what: &'static str,
    by: NaiveDate,
    stand: &'static str,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct NextOut<'a> {
    on: NaiveDate,
    rule: &'a str,
    title: &'a str,
    why: &'a str,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct EntryOut {
    visit: String,
    on: NaiveDate,
    stand: &'static str,
    minutes: Option<u16>,
    found: String,
    did: Vec<String>,
    put_off: Vec<String>,
    note: String,
}

fn status_word(status: DateStatus) -> &'static str {
    match status {
        DateStatus::Met => "met",
        DateStatus::InHand => "in hand",
        DateStatus::Open => "not yet",
        DateStatus::Late => "late",
    }
}

fn entries(card: &Card<'_>) -> Vec<EntryOut> {
    let units = card.book.units;
    whole_history(card.book, &card.state.id, card.today)
        .into_iter()
        .map(|(visit, entry, stand)| EntryOut {
            visit: visit.id.to_string(),
            on: visit.on,
            stand: stand.words(),
            minutes: entry.minutes,
            found: facts::findings_words(&entry.findings, units),
            did: entry.actions.iter().map(|a| a.words(units)).collect(),
            put_off: entry
                .answers
                .iter()
                .filter_map(|a| match &a.reply {
                    Reply::PutOff { reason, until } => {
                        Some(format!("{} to {until}: {}", rule_name(&a.rule), visible(reason)))
                    }
                    Reply::Done | Reply::NotNeeded => None,
                })
                .collect(),
            note: visible(&entry.note),
        })
        .collect()
}

fn what_if(card: &Card<'_>) -> Vec<WhatIf> {
    of_hive(&Asked {
        hive: card.state,
        calendar: card.calendar,
        practice: &card.book.practice,
        units: card.book.units,
        today: card.today,
    })
}

/// The card as JSON: `{"date", "hive", "yard", "alive", "boxes", "queen", "queen_year", "last_visit", "prompts":[{"rule",
/// "title", "why", "how", "urgency", "due"}], "waits":[{"rule", "title", "because"}], "dates":[{"id", "what", "by",
/// "stand"}], "next", "worked_out", "what_if":[{"topic", "columns", "rows":[{"choice",
/// "comes_to"}], "held"}], "history":[{"visit", "on", "stand", "minutes", "found", "did", "put_off", "note"}]}`.
///
/// # Errors
/// None in practice; serde's own are passed on.
pub fn card_json(card: &Card<'_>) -> Result<String, serde_json::Error> {
    let state = card.state;
    let out = CardOut {
        date: card.today,
        hive: state.id.as_str(),
        yard: state.yard.as_str(),
        alive: state.is_alive(),
        boxes: state.stack_words(),
        queen: state.queen.status.word(),
        queen_year: state.queen.year,
        last_visit: state.last_visit,
        prompts: card
            .advice
            .prompts
            .iter()
            .map(|p| PromptOut {
                rule: p.rule,
                title: &p.title,
                why: &p.why,
                how: &p.how,
                urgency: p.urgency,
                due: p.due,
            })
            .collect(),
        waits: card
            .advice
            .held
            .iter()
            .map(|h| WaitsOut { rule: h.prompt.rule, title: &h.prompt.title, because: &h.because })
            .collect(),
        dates: card
            .standing
            .iter()
            .map(|s| DateOut { id: s.date.word(), what: s.what, by: s.by, stand: status_word(s.status) })
            .collect(),
        next: card.next.map(|n| NextOut { on: n.on, rule: n.rule, title: &n.title, why: &n.why }),
        what_if: what_if(card),
        worked_out: worked_out(state, card.calendar, &card.book.practice, card.book.units, card.today),
        history: entries(card),
    };
    json::text(&out)
}

/// The card as text, to read or print.
pub fn card_text(card: &Card<'_>) -> String {
    let (state, units) = (card.state, card.book.units);
    let mut out = format!(
        "{} at {}, {}\n",
        visible(state.id.as_str()),
        visible(state.yard.as_str()),
        wording::whole_day(units, card.today)
    );
    for line in [
        facts::stack_and_queen(state, units),
        facts::last(state, units),
        facts::fittings(state, card.today, units),
    ] {
        let _ = writeln!(out, "  {}", visible(&line));
    }
    for prompt in &card.advice.prompts {
        let _ = writeln!(out, "  {}\n         {}", prompt_line(prompt, card.today, units), prompt.why);
    }
    for held in &card.advice.held {
        let _ = writeln!(out, "  waits  {} ({})", held.prompt.title, held.because);
    }
    if let Some(next) = card.next {
        let _ = writeln!(
            out,
            "  next   {}: {}\n         {}",
            wording::day_and_year(units, next.on),
            next.title,
            next.why
        );
    }
    for s in card.standing {
        let _ =
            writeln!(out, "  date   {} by {}: {}", s.what, wording::day(units, s.by), status_word(s.status));
    }
    for line in worked_out(state, card.calendar, &card.book.practice, units, card.today) {
        let _ = writeln!(out, "  {line}");
    }
    for what_if in what_if(card) {
        let _ = writeln!(out, "what if");
        for line in what_if.lines() {
            let _ = writeln!(out, "  {line}");
        }
        let _ = writeln!(out, "  in brackets what holds 9 of 10; {}", what_if.held);
    }
    let _ = writeln!(out, "history, the newest first");
    for entry in entries(card) {
        let minutes = entry.minutes.map_or_else(String::new, |m| format!(", {m} min"));
        let stand = if entry.stand.is_empty() { String::new() } else { format!(", {}", entry.stand) };
        let _ = writeln!(out, "  {}{minutes}{stand}", wording::day_and_year(units, entry.on));
        let lines = [entry.found].into_iter().chain(entry.did.into_iter().map(|d| format!("did: {d}")));
        let put_off = entry.put_off.into_iter().map(|p| format!("put off: {p}"));
        for line in lines.chain(put_off).chain([entry.note]).filter(|l| !l.is_empty()) {
            let _ = writeln!(out, "    {line}");
        }
    }
    out
}
