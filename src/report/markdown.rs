//! A visit's report and an inspector's list as Markdown, to print or mail.

use std::fmt::Write as _;

use chrono::NaiveDate;

use super::facts::{findings_words, stack_and_queen};
use crate::advice::rule_name;
use crate::model::{Book, Disease, Folded, Reply, Visit, visible};
use crate::wording;

/// Text that Markdown takes as it stands: what would be markup is made plain, and it stays on one line.
fn plain(text: &str) -> String {
    let mut out = String::new();
    for c in visible(text).chars() {
        if "\\`*_{}[]<>#|!~".contains(c) {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

/// A visit's report: the weather, then each hive with what was found, done and put off.
pub fn visit_report(book: &Book, visit: &Visit) -> String {
    let units = book.units;
    let mut out = format!(
        "# Visit to {}, {}\n\nKeeper: {}\n\n",
        plain(visit.yard.as_str()),
        wording::whole_day(book.units, visit.on),
        plain(&book.keeper)
    );
    let weather = [
        visit.weather.temperature.map(|t| units.temperature(t)),
        visit.weather.wind.map(|w| format!("wind {}", units.wind(w))),
        visit.weather.rain.map(|r| if r { "rain".to_owned() } else { "dry".to_owned() }),
    ];
    let mut about: Vec<String> = weather.into_iter().flatten().collect();
    about.extend(visit.in_bloom().iter().map(|seen| {
        let since = seen.since.map(|day| format!(" since {}", wording::day(units, day)));
        format!("{} in bloom{}", seen.bloom.word(), since.unwrap_or_default())
    }));
    if !about.is_empty() {
        let _ = writeln!(out, "Weather: {}\n", about.join(", "));
    }
    if !visit.note.is_empty() {
        let _ = writeln!(out, "{}\n", plain(&visit.note));
    }
    for entry in &visit.entries {
        let minutes = entry.minutes.map_or_else(String::new, |m| format!(" ({m} min)"));
        let _ = writeln!(out, "## {}{minutes}\n", plain(entry.hive.as_str()));
        let found = findings_words(&entry.findings, units);
        if !found.is_empty() {
            let _ = writeln!(out, "- Found: {}", plain(&found));
        }
        for action in &entry.actions {
            let _ = writeln!(out, "- Done: {}", plain(&action.words(units)));
        }
        for answer in &entry.answers {
            if let Reply::PutOff { reason, until } = &answer.reply {
                let _ =
                    writeln!(out, "- Put off to {until}: {} ({})", rule_name(&answer.rule), plain(reason));
            }
        }
        for promise in &entry.promises {
            let _ = writeln!(out, "- Next on {}: {}", promise.on, plain(&promise.what));
        }
        if !entry.note.is_empty() {
            let _ = writeln!(out, "- Note: {}", plain(&entry.note));
        }
        let _ = writeln!(out);
    }
    out
}

/// An inspector's list: each yard with its hives, treatments of two years, and what was seen of disease.
pub fn inspectors_list(book: &Book, folded: &Folded, as_of: NaiveDate) -> String {
    let mut out =
        format!("# Hives of {}, {}\n\n", plain(&book.keeper), wording::day_and_year(book.units, as_of));
    for yard in &book.yards {
        let stands: Vec<_> = yard.hives.iter().filter_map(|h| folded.hive(&h.id)).collect();
        let living = stands.iter().filter(|h| h.is_alive()).count();
        let _ =
            writeln!(out, "## {}: {living} colonies on {} stands\n", plain(yard.name.as_str()), stands.len());
        if let Some(place) = yard.place {
            let _ = writeln!(out, "Place: {:.4}, {:.4}\n", place.latitude, place.longitude);
        }
        let _ = writeln!(out, "| Hive | Colony | Disease seen | Last mite count | Treatments of two years |");
        let _ = writeln!(out, "|---|---|---|---|---|");
        for hive in stands {
            let disease = match (hive.disease_suspected, hive.seen.disease) {
                (Some((on, kind)), _) => format!("SUSPECTED {} on {on}", kind.word()),
                (None, Some(d)) if d.value != Disease::None => format!("{} on {}", d.value.word(), d.on),
                (None, Some(d)) => format!("none on {}", d.on),
                (None, None) => "not looked".to_owned(),
            };
            let count = hive
                .last_wash()
                .map_or_else(|| "none".to_owned(), |w| format!("{} on {} bees, {}", w.mites, w.bees, w.on));
            let recent: Vec<String> = hive
                .former
                .iter()
                .flat_map(|colony| &colony.courses)
                .chain(&hive.courses)
                .filter(|c| (as_of - c.began).num_days() <= 731)
                .map(|c| {
                    let to = c.ended.map_or_else(|| format!("in until {}", c.until), |on| format!("to {on}"));
                    format!("{}, {} {to}", c.treatment.word(), c.began)
                })
                .collect();
            let recent = if recent.is_empty() { "none".to_owned() } else { recent.join("; ") };
            let _ = writeln!(
                out,
                "| {} | {} | {disease} | {count} | {recent} |",
                plain(hive.id.as_str()),
                plain(&stack_and_queen(hive, book.units))
            );
        }
        let _ = writeln!(out);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_in_a_name_is_no_markup() {
        assert_eq!(plain("a|b *c* <script>"), "a\\|b \\*c\\* \\<script\\>");
        assert_eq!(plain("two\nlines"), plain("two\nlines").replace('\n', ""));
    }
}
