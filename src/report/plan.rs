//! The day's plan as text and as JSON.

use std::fmt::Write as _;

use serde::Serialize;

use crate::advice::Due;
use crate::model::{Units, visible};
use crate::plan::{DayPlan, Stop};

#[derive(Serialize)]
struct PlanOut<'a> {
    date: chrono::NaiveDate,
    yards: Vec<YardOut<'a>>,
}

#[derive(Serialize)]
struct YardOut<'a> {
    yard: &'a str,
    queue: Vec<StopOut<'a>>,
}

#[derive(Serialize)]
struct StopOut<'a> {
    hive: &'a str,
    minutes: u32,
    prompts: Vec<PromptOut<'a>>,
}

#[derive(Serialize)]
struct PromptOut<'a> {
    rule: &'a str,
    title: &'a str,
    why: &'a str,
    urgency: crate::advice::Urgency,
    due: Due,
}

/// The plan as JSON: `{"date", "yards":[{"yard", "queue":[{"hive", "minutes", "prompts":[{"rule", "title", "why",
/// "urgency", "due":{"opens","aim","latest"}}]}]}]}`.
///
/// # Errors
/// None in practice; serde's own are passed on.
pub fn plan_json(plan: &DayPlan) -> Result<String, serde_json::Error> {
    let yards = plan
        .yards
        .iter()
        .map(|yard| YardOut { yard: yard.yard.as_str(), queue: yard.queue.iter().map(stop_out).collect() })
        .collect();
    serde_json::to_string_pretty(&PlanOut { date: plan.date, yards }).map(|text| text + "\n")
}

fn stop_out(stop: &Stop) -> StopOut<'_> {
    let prompts = stop
        .advice
        .prompts
        .iter()
        .map(|p| PromptOut { rule: p.rule, title: &p.title, why: &p.why, urgency: p.urgency, due: p.due })
        .collect();
    StopOut { hive: stop.hive.as_str(), minutes: stop.minutes, prompts }
}

/// The plan as text, to read or print.
pub fn plan_text(plan: &DayPlan, units: Units) -> String {
    let mut out = format!("Plan for {}\n", plan.date.format("%A %-d %B %Y"));
    for yard in &plan.yards {
        let minutes: u32 = yard.queue.iter().map(|s| s.minutes).sum();
        let _ = writeln!(
            out,
            "\n{}: {} of {} hives, about {minutes} minutes",
            visible(yard.yard.as_str()),
            yard.queue.len(),
            yard.queue.len() + yard.rest.len()
        );
        if yard.queue.is_empty() {
            let _ = writeln!(out, "  nothing is due today");
        }
        for stop in &yard.queue {
            let _ = writeln!(out, "  {} ({} min)", visible(stop.hive.as_str()), stop.minutes);
            for prompt in &stop.advice.prompts {
                let _ = writeln!(
                    out,
                    "    {:<6} {}, by {} [{}]",
                    prompt.urgency.word(),
                    prompt.title,
                    prompt.due.latest.format("%-d %b"),
                    prompt.rule
                );
                let _ = writeln!(out, "           {}", prompt.why);
                if !prompt.needs.is_empty() {
                    let needs: Vec<_> = prompt.needs.iter().map(|n| n.words(units)).collect();
                    let _ = writeln!(out, "           bring: {}", needs.join(", "));
                }
            }
            for held in &stop.advice.held {
                let _ = writeln!(out, "    waits  {} ({})", held.prompt.title, held.because);
            }
        }
    }
    out
}
