//! The review of a rehearsal, as text in Markdown: what really was, against what was seen and done.

use std::fmt::Write as _;

use super::wrap_up::wrapped;
use crate::model::{Mass, Units};
use crate::rehearsal::{CameTo, HiveReview, Review, Truth, cause_words};
use crate::wording;

/// The review as text.
pub fn review_text(review: &Review, units: Units) -> String {
    let mut out = String::new();
    let rehearsal = &review.rehearsal;
    let title = rehearsal.scenario.as_ref().map_or("A year", |scenario| scenario.title.as_str());
    let day = |on| wording::day_and_year(units, on);
    let _ = writeln!(out, "# Rehearsal: {title}\n");
    let _ = writeln!(
        out,
        "{} to {}, {}, seed {}. Simulated colonies: nothing is claimed of real ones.\n",
        day(rehearsal.began),
        day(rehearsal.until),
        wording::count(review.hives.len(), "hive"),
        rehearsal.seed
    );
    verdicts(review, units, &mut out);
    better(review, &mut out);
    for hive in &review.hives {
        one(hive, units, &mut out);
    }
    out
}

fn verdicts(review: &Review, units: Units, out: &mut String) {
    if review.verdicts.is_empty() {
        let dead = review.hives.iter().filter(|hive| hive.came_to.died.is_some()).count();
        let living = review.hives.len() - dead;
        let _ = writeln!(out, "{living} of {} came to the end alive.\n", review.hives.len());
        return;
    }
    let ending = if review.is_good() { "A good ending." } else { "Not a good ending." };
    let _ = writeln!(out, "{ending}\n");
    for verdict in &review.verdicts {
        let (mark, why) =
            if verdict.is_good { ("[x]", &verdict.judged.good) } else { ("[ ]", &verdict.judged.bad) };
        let figure = wording::measure(verdict.judged.what, verdict.figure, units);
        let _ = writeln!(out, "- {mark} {}: {figure}: {why}", verdict.hive);
    }
    out.push('\n');
}

fn better(review: &Review, out: &mut String) {
    if review.better.is_empty() {
        return;
    }
    let _ = writeln!(out, "## What to do better\n");
    for (at, words) in review.better.iter().enumerate() {
        let _ = writeln!(out, "{}. {words}", at + 1);
    }
    out.push('\n');
}

/// What became of a colony, in a few words.
fn end_words(came: &CameTo, units: Units) -> String {
    match came.died {
        Some((on, of)) => format!("died {}: {}", wording::day_and_year(units, on), cause_words(of)),
        None if came.is_united => "united with another hive".to_owned(),
        None => "alive".to_owned(),
    }
}

fn one(hive: &HiveReview, units: Units, out: &mut String) {
    let _ = writeln!(out, "## {}: {}\n", hive.hive, end_words(&hive.came_to, units));
    if let Some((on, words)) = hive.decisive() {
        let _ = writeln!(out, "Decisive: {}: {words}.\n", wording::day_and_year(units, on));
    }
    for (on, entry) in &hive.entries {
        let seen = wrapped(entry, None, None, (*on, units));
        let really = hive.days.iter().find(|day| day.on == *on).map(|day| truth(day, units));
        let _ = writeln!(out, "{}", wording::day_and_year(units, *on));
        if !seen.found.is_empty() {
            let _ = writeln!(out, "- seen: {}", seen.found);
        }
        let _ = writeln!(out, "- really: {}", really.unwrap_or_default());
        if !seen.done.is_empty() {
            let _ = writeln!(out, "- done: {}", seen.done);
        }
    }
    if hive.entries.is_empty() {
        let _ = writeln!(out, "Nothing was seen or done here.");
    }
    let _ = writeln!(out, "- at the end: {}\n", truth(&hive.came_to.last, units));
    table(hive, units, out);
}

fn truth(day: &Truth, units: Units) -> String {
    if day.bees <= 0.0 {
        return "dead".to_owned();
    }
    let food = units.mass(Mass::from_pounds(day.food.round()));
    format!(
        "{:.1} frames of bees, {:.1} of brood, mites {:.1} %, {food} of food",
        day.bees, day.brood, day.mites
    )
}

/// One line of the table.
type Line = (&'static str, fn(&CameTo, Units) -> String);

const LINES: &[Line] = &[
    ("the end", end_words),
    ("mites on Sep 25", |came, _| came.in_fall.map_or("-".to_owned(), |percent| format!("{percent:.1} %"))),
    ("most mites", |came, units| {
        format!("{:.1} %, {}", came.most_mites.0, wording::day(units, came.most_mites.1))
    }),
    ("swarms", |came, _| came.swarms.to_string()),
    ("honey taken", |came, units| units.mass(Mass::from_pounds(came.honey.round()))),
    ("sugar given", |came, units| units.mass(Mass::from_pounds(came.sugar.round()))),
    ("treatments", |came, _| came.treatments.to_string()),
];

/// The same colony in other hands.
fn table(hive: &HiveReview, units: Units, out: &mut String) {
    if hive.others.is_empty() {
        return;
    }
    let heads: Vec<&str> = hive.others.iter().map(|(name, _)| *name).collect();
    let _ = writeln!(out, "| the same colony | you | {} |", heads.join(" | "));
    let _ = writeln!(out, "|---|---{}|", "|---".repeat(heads.len()));
    for (name, of) in LINES {
        let others: Vec<String> = hive.others.iter().map(|(_, came)| of(came, units)).collect();
        let _ = writeln!(out, "| {name} | {} | {} |", of(&hive.came_to, units), others.join(" | "));
    }
    out.push('\n');
}

/// Its lines, and whether each is a heading, for the screen.
pub fn review_lines(review: &Review, units: Units) -> Vec<(bool, String)> {
    review_text(review, units)
        .lines()
        .map(|line| match line.trim_start_matches('#') {
            head if head.len() < line.len() => (true, head.trim().to_owned()),
            _ => (false, line.to_owned()),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::NaiveDate;

    use crate::model::{Book, Start};
    use crate::rehearsal::plot;

    fn review(book: impl Fn(&mut Book)) -> Review {
        let mut rehearsal = plot::whole_year(7, 2, Start::Overwintered, None, 2026);
        let mut kept = plot::book_of(&rehearsal, Units::Us);
        book(&mut kept);
        assert_eq!(Review::of(&rehearsal, &kept), None, "the truth is not told before the end");
        rehearsal.today = rehearsal.until;
        Review::of(&rehearsal, &kept).unwrap()
    }

    #[test]
    fn the_review_tells_of_every_hive_and_of_the_same_colony_in_other_hands() {
        let review = review(|_| {});
        let text = review_text(&review, Units::Us);
        for hive in &review.hives {
            assert!(text.contains(&format!("## {}: {}", hive.hive, end_words(&hive.came_to, Units::Us))));
            assert_eq!(hive.others.len(), 3);
        }
        assert!(text.contains("| the same colony | you | the advice | fixed dates | left alone |"), "{text}");
        assert!(text.contains("Nothing was seen or done here."));
    }

    #[test]
    fn every_day_is_told_and_the_last_is_the_end() {
        let review = review(|_| {});
        for hive in &review.hives {
            let days: Vec<NaiveDate> = hive.days.iter().map(|day| day.on).collect();
            assert_eq!(days.first(), Some(&review.rehearsal.began));
            assert_eq!(days.last(), Some(&review.rehearsal.until));
            assert_eq!(hive.days.last(), Some(&hive.came_to.last));
        }
    }
}
