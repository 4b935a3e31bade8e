//! The keeper's practice as text and as JSON: each threshold and date with its value and where that came from.

use std::fmt::Write as _;

use schemars::JsonSchema;
use serde::Serialize;

use super::json;
use crate::model::{DateId, DayOfYear, Practice, Threshold, Units};

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct PracticeOut {
    thresholds: Vec<ThresholdOut>,
    dates: Vec<DateOut>,
    labels: usize,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct ThresholdOut {
    field: &'static str,
    name: &'static str,
    value: f64,
    unit: &'static str,
    from: &'static str,
    default: f64,
    least: f64,
    most: f64,
    source: &'static str,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct DateOut {
    id: &'static str,
    name: &'static str,
    opens: String,
    opens_from: &'static str,
    closes: String,
    closes_from: &'static str,
    source: &'static str,
}

/// Where a reference date is from.
pub const DATES_SOURCE: &str = "common practice for 43 N, 86 W, 650 ft, no single source; moved to each yard";

/// Where a value came from: the book, or the program.
pub fn from_word(is_own: bool) -> &'static str {
    if is_own { "yours" } else { "default" }
}

/// One threshold's value in words: `2 mites per 100 bees`.
pub fn threshold_words(practice: &Practice, threshold: &Threshold, units: Units) -> String {
    threshold.words(practice.own(threshold.field).unwrap_or(threshold.default), units)
}

/// An end of a date: the keeper's own, or the reference's.
pub fn end_of(practice: &Practice, id: DateId, is_opening: bool) -> (DayOfYear, bool) {
    let own = practice.date(id).and_then(|d| if is_opening { d.opens } else { d.closes });
    let reference = id.reference();
    (own.unwrap_or(if is_opening { reference.opens } else { reference.closes }), own.is_some())
}

/// The practice as JSON: `{"thresholds":[{"field","name","value","unit","from","default","least","most","source"}],
/// "dates":[{"id","name","opens","opens_from","closes","closes_from","source"}], "labels"}`.
///
/// # Errors
/// None in practice; serde's own are passed on.
pub fn practice_json(practice: &Practice) -> Result<String, serde_json::Error> {
    let thresholds = Practice::THRESHOLDS.iter().map(|t| {
        let own = practice.own(t.field);
        ThresholdOut {
            field: t.field,
            name: t.words,
            value: own.unwrap_or(t.default),
            unit: t.unit,
            from: from_word(own.is_some()),
            default: t.default,
            least: t.least,
            most: t.most,
            source: t.source,
        }
    });
    let dates = DateId::ALL.iter().map(|id| {
        let ((opens, own_opens), (closes, own_closes)) =
            (end_of(practice, *id, true), end_of(practice, *id, false));
        DateOut {
            id: id.word(),
            name: id.reference().name,
            opens: opens.to_string(),
            opens_from: from_word(own_opens),
            closes: closes.to_string(),
            closes_from: from_word(own_closes),
            source: DATES_SOURCE,
        }
    });
    let out = PracticeOut {
        thresholds: thresholds.collect(),
        dates: dates.collect(),
        labels: practice.labels.len(),
    };
    json::text(&out)
}

/// The practice as a table, to read or print.
pub fn practice_text(practice: &Practice, units: Units) -> String {
    let mut out = String::from("Thresholds (set them in the program, or under `practice` in yard.ron)\n");
    for t in Practice::THRESHOLDS {
        let own = practice.own(t.field).is_some();
        let _ = writeln!(
            out,
            "  {:<38} {:<28} {:<8} {}; default {}",
            t.words,
            threshold_words(practice, t, units),
            from_word(own),
            t.range(units),
            t.words(t.default, units)
        );
        let _ = writeln!(out, "    {}: {}", t.field, t.source);
    }
    let _ = writeln!(
        out,
        "\nDates (month-day; yours hold as written at every yard, the others move to each yard's place)"
    );
    for id in DateId::ALL {
        let ((opens, own_opens), (closes, own_closes)) =
            (end_of(practice, *id, true), end_of(practice, *id, false));
        let _ = writeln!(
            out,
            "  {:<38} {opens} {:<8} to {closes} {:<8}",
            id.reference().name,
            from_word(own_opens),
            from_word(own_closes)
        );
    }
    let _ = writeln!(out, "    source: {DATES_SOURCE}");
    for label in &practice.labels {
        let _ = writeln!(out, "\nLabel in hand: {} has limits of your own", label.treatment.word());
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_threshold_and_date_is_listed_with_where_it_came_from() {
        let mut practice = Practice::default();
        practice.set("mite_limit", Some(3.0));
        let closes = "08-20".parse().ok();
        practice
            .set_date(crate::model::OwnDate { date: DateId::HoneyBoxesOff, opens: None, closes })
            .unwrap();
        let text = practice_text(&practice, Units::Us);
        for t in Practice::THRESHOLDS {
            assert!(text.contains(t.words) && text.contains(t.source), "{}", t.field);
        }
        assert!(text.contains("3 mites per 100 bees         yours"), "{text}");
        let row = text.lines().find(|l| l.contains("Honey boxes off")).unwrap();
        assert!(row.contains("08-15 default  to 08-20 yours"), "{row}");
        let json: serde_json::Value = serde_json::from_str(&practice_json(&practice).unwrap()).unwrap();
        assert_eq!(json["dates"].as_array().unwrap().len(), 14);
        assert_eq!(json["thresholds"][0]["from"], "yours");
        assert_eq!(json["thresholds"][1]["from"], "default");
    }
}
