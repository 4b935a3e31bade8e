//! A sheet to print and fill in by pencil: the day's queue with the load list, or one hive, as a page of HTML.
//!
//! No script and nothing from elsewhere: it prints from any browser without a network.

use chrono::NaiveDate;
use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::facts;
use super::load::YardLoad;
use crate::advice::Advice;
use crate::model::{Book, Finding, Folded, HiveState, Units, visible};
use crate::plan::{DayPlan, Stop};
use crate::wording;

/// How it prints: black on white, rows that do not break over pages, lines to write on.
const STYLE: &str = "\
@page { margin: 12mm; }
body { font: 11pt/1.35 system-ui, sans-serif; color: #000; background: #fff; margin: 0 auto; max-width: 190mm; }
h1 { font-size: 16pt; margin: 0 0 2mm; }
h2 { font-size: 13pt; margin: 6mm 0 2mm; border-bottom: 1pt solid #000; }
table { border-collapse: collapse; width: 100%; }
th { text-align: left; font-size: 9pt; font-weight: normal; border-bottom: 0.5pt solid #000; }
td { vertical-align: top; padding: 1mm 2mm 1mm 0; border-bottom: 0.3pt solid #999; }
tr, .hive { break-inside: avoid; }
.must { font-weight: bold; }
.why, .small { font-size: 9pt; }
.blank { white-space: nowrap; font-size: 9pt; }
.line { display: inline-block; border-bottom: 0.5pt solid #000; min-width: 14mm; height: 4mm; }
.long { min-width: 100%; height: 6mm; display: block; border-bottom: 0.5pt solid #000; }
ul { margin: 0; padding-left: 5mm; }
";

/// What is asked at every hive, to be filled in.
const BLANKS: [&str; 8] =
    ["bees", "brood", "eggs", "queen cells", "honey", "mites", "of bees", "disease signs"];

/// The day's sheet of some yards: for each the hives in the order to see them, what they need and blanks; the load list.
pub fn day_sheet(book: &Book, folded: &Folded, plan: &DayPlan, loads: &[YardLoad]) -> String {
    let (units, today) = (book.units, plan.date);
    page(
        &format!("Bees on {}", wording::whole_day(units, today)),
        &html! {
            h1 { "Bees on " (wording::whole_day(units, today)) }
            p.small { "Book of " (visible(&book.keeper)) ". Began ______  Ended ______  Temperature ______  Wind ______" }
            @for yard in &plan.yards {
                h2 { (visible(yard.yard.as_str())) }
                @if yard.queue.is_empty() { p { "Nothing is due here today." } }
                @else {
                    table {
                        thead { tr { th { "Hive" } th { "Needs" } th { "Found" } } }
                        tbody { @for stop in &yard.queue { (row(stop, folded, units, today)) } }
                    }
                }
                @if !yard.rest.is_empty() {
                    p.small {
                        "Need nothing today: "
                        (yard.rest.iter().map(|stop| visible(stop.hive.as_str())).collect::<Vec<_>>().join(", "))
                    }
                }
                @for load in loads.iter().filter(|load| load.yard == yard.yard) {
                    h2 { "To load for " (visible(load.yard.as_str())) }
                    ul { @for line in load.lines_in_words(units) { li { "☐ " (line) } } }
                }
            }
            (cautions())
        },
    )
}

/// One hive's sheet: who it is, what it needs and why, and blanks for every finding.
pub fn hive_sheet(book: &Book, state: &HiveState, advice: &Advice, today: NaiveDate) -> String {
    let units = book.units;
    let name = visible(state.id.as_str());
    page(
        &format!("Hive {name}, {}", wording::day_and_year(units, today)),
        &html! {
            h1 { "Hive " (name) ", " (visible(state.yard.as_str())) ", " (wording::day_and_year(units, today)) }
            p { (facts::stack_and_queen(state, units)) br; (facts::last(state, units)) br; (facts::fittings(state, today, units)) }
            h2 { "Needs" }
            @if advice.prompts.is_empty() { p { "Nothing today." } }
            @for prompt in &advice.prompts {
                div.hive {
                    p { span.must { (prompt.urgency.word()) } " " (prompt.by_when(today, units)) br; span.why { (prompt.why) } }
                    @if !prompt.how.is_empty() { ol { @for step in &prompt.how { li.small { (step) } } } }
                }
            }
            h2 { "Found" }
            table {
                tbody {
                    @for finding in Finding::ALL {
                        tr {
                            td { (finding.label()) }
                            td.small { (finding.help()) }
                            td.small {
                                @if let Some((on, value)) = state.seen.get(*finding) {
                                    (value.words(finding.kind(), units)) ", " (wording::day(units, on))
                                }
                            }
                            td { span.line {} }
                        }
                    }
                }
            }
            h2 { "Done, and notes" }
            @for _ in 0..6 { span.long {} }
            (cautions())
        },
    )
}

fn row(stop: &Stop, folded: &Folded, units: Units, today: NaiveDate) -> Markup {
    html! {
        tr {
            td {
                strong { (visible(stop.hive.as_str())) } br;
                span.small { (stop.minutes) " min" }
                @if let Some(state) = folded.hive(&stop.hive) { br; span.small { (state.stack_words()) } }
            }
            td {
                @for prompt in &stop.advice.prompts {
                    div {
                        "☐ " span.must { (prompt.urgency.word()) } " " (prompt.by_when(today, units)) br;
                        span.why { (prompt.why) }
                    }
                }
            }
            td {
                @for blank in BLANKS { span.blank { (blank) " " span.line {} " " } " " }
                span.long {}
            }
        }
    }
}

fn cautions() -> Markup {
    html! {
        p.small {
            "Bees sting, and a sting can kill: know who is allergic, and carry the epinephrine pen. Acids burn: gloves, goggles, \
             respirator. Alcohol and smokers set things on fire. Lift full boxes with two. The label, local law, the inspector and \
             the veterinarian come before this sheet; brood disease is notifiable in most places."
        }
    }
}

fn page(title: &str, body: &Markup) -> String {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body { (body) }
        }
    }
    .into_string()
}
