//! The day's plan as text and as JSON.

use std::fmt::Write as _;

use schemars::JsonSchema;
use serde::Serialize;

use super::json;
use crate::advice::{Due, Prompt};
use crate::model::{Units, visible};
use crate::plan::{DayPlan, Gain, Stop, Telling, Trip, Weeks};
use crate::wording;

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct PlanOut<'a> {
    date: chrono::NaiveDate,
    yards: Vec<YardOut<'a>>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct YardOut<'a> {
    yard: &'a str,
    queue: Vec<StopOut<'a>>,
    trips: Vec<TripOut<'a>>,
    gains: Vec<GainOut<'a>>,
    telling: Vec<TellingOut<'a>>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct GainOut<'a> {
    hive: &'a str,
    rule: &'a str,
    title: &'a str,
    winter: f64,
    then: f64,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct TellingOut<'a> {
    hive: &'a str,
    look: &'a str,
    share: f64,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct TripOut<'a> {
    on: chrono::NaiveDate,
    until: chrono::NaiveDate,
    minutes: u32,
    needs: Vec<NeedOut<'a>>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct NeedOut<'a> {
    hive: &'a str,
    rule: &'a str,
    title: &'a str,
    urgency: crate::advice::Urgency,
    due: Due,
    late: bool,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct StopOut<'a> {
    hive: &'a str,
    minutes: u32,
    place: &'a str,
    prompts: Vec<PromptOut<'a>>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct PromptOut<'a> {
    rule: &'a str,
    title: &'a str,
    why: &'a str,
    urgency: crate::advice::Urgency,
    due: Due,
}

/// The plan as JSON: `{"date", "yards":[{"yard", "queue":[{"hive", "minutes", "prompts":[{"rule", "title", "why",
/// "urgency", "due":{"opens","aim","latest"}}]}], "trips":[{"on", "until", "minutes", "needs":[{"hive", "rule", "title",
/// "urgency", "due", "late"}]}], "gains":[{"hive", "rule", "title", "winter", "then"}], "telling":[{"hive", "look",
/// "share"}]}]}`: chances of coming through the winter as it is and once that is done, and the share of doubt a look takes
/// away, 0 to 1. A stop's `place` says why it stands where it does. `trips` are those of the yards in
/// the order of the plan.
///
/// # Errors
/// None in practice; serde's own are passed on.
pub fn plan_json(plan: &DayPlan, ahead: &[Weeks]) -> Result<String, serde_json::Error> {
    let yards = plan
        .yards
        .iter()
        .enumerate()
        .map(|(at, yard)| YardOut {
            yard: yard.yard.as_str(),
            queue: yard.queue.iter().map(stop_out).collect(),
            trips: ahead.get(at).into_iter().flat_map(|weeks| &weeks.trips).map(trip_out).collect(),
            gains: ahead.get(at).into_iter().flat_map(|weeks| &weeks.best.gains).map(gain_out).collect(),
            telling: ahead
                .get(at)
                .into_iter()
                .flat_map(|weeks| &weeks.best.telling)
                .map(telling_out)
                .collect(),
        })
        .collect();
    json::text(&PlanOut { date: plan.date, yards })
}

/// To the hundredth: finer would say more than is known.
fn hundredths(share: f64) -> f64 {
    (100.0 * share).round() / 100.0
}

fn gain_out(gain: &Gain) -> GainOut<'_> {
    let (winter, then) = (hundredths(gain.winter), hundredths(gain.then));
    GainOut { hive: gain.hive.as_str(), rule: gain.rule, title: &gain.title, winter, then }
}

fn telling_out(telling: &Telling) -> TellingOut<'_> {
    let share = hundredths(telling.share);
    TellingOut { hive: telling.hive.as_str(), look: telling.look.word(), share }
}

fn trip_out(trip: &Trip) -> TripOut<'_> {
    let needs = trip
        .needs
        .iter()
        .map(|n| NeedOut {
            hive: n.hive.as_str(),
            rule: n.rule,
            title: &n.title,
            urgency: n.urgency,
            due: n.window,
            late: n.is_late,
        })
        .collect();
    TripOut { on: trip.on, until: trip.until, minutes: trip.minutes, needs }
}

fn stop_out(stop: &Stop) -> StopOut<'_> {
    let prompts = stop
        .advice
        .prompts
        .iter()
        .map(|p| PromptOut { rule: p.rule, title: &p.title, why: &p.why, urgency: p.urgency, due: p.due })
        .collect();
    StopOut { hive: stop.hive.as_str(), minutes: stop.minutes, place: &stop.reason, prompts }
}

/// Until when a trip still meets its windows, in words: ` or by May 6`; nothing where it is its one day.
pub fn or_by(trip: &Trip, units: Units) -> String {
    if trip.until > trip.on { format!(" or by {}", wording::day(units, trip.until)) } else { String::new() }
}

/// The plan as text, to read or print.
pub fn plan_text(plan: &DayPlan, ahead: &[Weeks], units: Units) -> String {
    let mut out = format!("Plan for {}\n", wording::whole_day(units, plan.date));
    for (at, yard) in plan.yards.iter().enumerate() {
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
            let _ =
                writeln!(out, "  {} ({} min; {})", visible(stop.hive.as_str()), stop.minutes, stop.reason);
            for prompt in &stop.advice.prompts {
                let _ = writeln!(out, "    {}", prompt_line(prompt, plan.date, units));
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
        for words in ahead.get(at).map_or_else(Vec::new, |weeks| weeks.best.words()) {
            let _ = writeln!(out, "  {words}");
        }
        let trips = ahead.get(at).map_or(&[][..], |weeks| weeks.trips.as_slice());
        if !trips.is_empty() {
            let _ = writeln!(out, "  trips in the next eight weeks");
        }
        for trip in trips {
            let hives: Vec<String> = trip.hives().iter().map(|h| visible(h.as_str())).collect();
            let late = if trip.needs.iter().any(|n| n.is_late) { ", some LATE" } else { "" };
            let _ = writeln!(
                out,
                "    {}{}: {} min, {}{late}",
                wording::weekday_and_day(units, trip.on),
                or_by(trip, units),
                trip.minutes,
                hives.join(" ")
            );
        }
    }
    out
}

/// A prompt in a line: how pressing, what, by when and by which rule.
pub(super) fn prompt_line(prompt: &Prompt, today: chrono::NaiveDate, units: Units) -> String {
    format!("{:<6} {} [{}]", prompt.urgency.word(), prompt.by_when(today, units), prompt.rule)
}
