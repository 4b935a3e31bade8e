//! One row a rule: a hive it speaks to, one it is silent to, both sides of a boundary, and its place among the others.
//!
//! A new rule joins with one row; `every_rule_has_its_row` holds that none is without.

#![allow(clippy::too_many_lines, reason = "a table is as long as its rows")]

use super::testing::Case;
use super::{ALL, Rule, rule};
use crate::advice::Urgency;
use crate::model::testing::{day, frames, hive, seen, with_super};
use crate::model::{
    Backfill, Disease, Entrance, Flight, Heft, HiveState, Loss, MiteCount, Origin, Percent, QueenStatus,
    Robbing,
};

/// A rule and the cases by which it is known.
pub(super) struct Row {
    pub(super) id: &'static str,
    /// It speaks to this hive.
    pub(super) speaks: Case,
    /// It has nothing to say to this one.
    pub(super) silent: Case,
    /// Two cases a step apart: it speaks to the first, and to the second it is silent or says another thing.
    pub(super) boundary: (Case, Case),
    /// How pressing it is where it speaks.
    pub(super) urgency: Urgency,
    /// A rule that stands before it in the list, where the two speak to one hive.
    pub(super) after: Option<&'static str>,
}

pub(super) fn with(mut state: HiveState, change: impl FnOnce(&mut HiveState)) -> HiveState {
    change(&mut state);
    state
}

pub(super) fn counted(on: &str, mites: u16) -> impl FnOnce(&mut HiveState) {
    move |h| h.washes.push(MiteCount { on: day(on), mites, bees: 300 })
}

pub(super) fn on(state: HiveState, today: &str) -> Case {
    Case::of(state).on(today)
}

fn raising(since: &str) -> HiveState {
    with(hive(1), |h| {
        h.queen.status = QueenStatus::Cell;
        h.queen.since = Some(day(since));
    })
}

fn strong(on: &str) -> HiveState {
    with(hive(2), |h| {
        h.seen.bees = frames(on, 16.0);
        h.seen.brood = frames(on, 8.0);
    })
}

fn early() -> Vec<Row> {
    let light = |on| with(hive(1), |h| h.seen.heft = seen(on, Heft::Light));
    let pollen = |h: &mut HiveState| {
        h.seen.flight = seen("2026-04-05", Flight::Many);
        h.seen.pollen = seen("2026-04-05", true);
        h.seen.honey = frames("2026-04-05", 1.0);
    };
    let package = with(hive(1), |h| {
        h.origin = Origin::Package;
        h.came = day("2026-04-20");
    });
    vec![
        Row {
            id: "heft.late-winter",
            speaks: on(light("2026-03-20"), "2026-03-20"),
            silent: on(with(hive(1), |h| h.seen.heft = seen("2026-03-20", Heft::Heavy)), "2026-03-20"),
            boundary: (on(hive(1), "2026-03-15"), on(hive(1), "2026-03-14")),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "feed.starving",
            speaks: on(light("2026-05-20"), "2026-05-20"),
            silent: on(with(hive(1), |h| h.seen.heft = seen("2026-05-20", Heft::Fair)), "2026-05-20"),
            boundary: (
                on(with(hive(1), |h| h.seen.honey = frames("2026-07-20", 1.0)), "2026-07-20"),
                on(with(hive(1), |h| h.seen.honey = frames("2026-07-20", 1.25)), "2026-07-20"),
            ),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "feed.first-syrup",
            speaks: on(with(hive(1), pollen), "2026-04-05"),
            silent: on(hive(1), "2026-01-05"),
            boundary: (
                on(with(hive(1), pollen), "2026-04-05"),
                on(
                    with(hive(1), |h| {
                        pollen(h);
                        h.seen.pollen = seen("2026-04-05", false);
                    }),
                    "2026-04-05",
                ),
            ),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "nest.bottom-box",
            speaks: on(hive(2), "2026-05-03"),
            silent: on(hive(1), "2026-05-03"),
            boundary: (on(hive(2), "2026-03-15"), on(hive(2), "2026-03-14")),
            urgency: Urgency::Should,
            after: None,
        },
        Row {
            id: "space.nest",
            speaks: on(
                with(hive(1), |h| {
                    h.seen.bees = frames("2026-05-10", 8.0);
                    h.seen.brood = frames("2026-05-10", 6.0);
                }),
                "2026-05-10",
            ),
            silent: on(with(hive(2), |h| h.seen.bees = frames("2026-05-10", 8.0)), "2026-05-10"),
            boundary: (
                on(with(hive(1), |h| h.seen.bees = frames("2026-05-10", 7.5)), "2026-05-10"),
                on(with(hive(1), |h| h.seen.bees = frames("2026-05-10", 1.0)), "2026-05-10"),
            ),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "swarm.check",
            speaks: on(strong("2026-05-03"), "2026-05-03"),
            silent: on(raising("2026-05-01"), "2026-05-03"),
            boundary: (on(strong("2026-06-25"), "2026-06-25"), on(strong("2026-06-25"), "2026-06-26")),
            urgency: Urgency::Should,
            after: None,
        },
        Row {
            id: "feed.new-colony",
            speaks: on(package.clone(), "2026-05-01"),
            silent: on(hive(1), "2026-05-01"),
            boundary: (
                on(with(package.clone(), |h| h.seen.drawn = frames("2026-05-01", 7.75)), "2026-05-01"),
                on(with(package, |h| h.seen.drawn = frames("2026-05-01", 8.0)), "2026-05-01"),
            ),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "queen.timeline",
            speaks: on(raising("2026-06-01"), "2026-06-15"),
            silent: on(hive(1), "2026-06-15"),
            boundary: (on(raising("2026-06-01"), "2026-06-06"), on(raising("2026-06-01"), "2026-06-05")),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "queen.missing",
            speaks: on(
                with(hive(1), |h| {
                    h.seen.eggs = seen("2026-06-22", false);
                    h.seen.larvae = seen("2026-06-22", false);
                    h.seen.sealed = seen("2026-06-22", true);
                }),
                "2026-06-22",
            ),
            silent: on(with(hive(1), |h| h.seen.eggs = seen("2026-06-22", true)), "2026-06-22"),
            boundary: (
                on(
                    with(hive(1), |h| {
                        h.seen.eggs = seen("2026-06-15", false);
                        h.seen.larvae = seen("2026-06-15", false);
                        h.seen.sealed = seen("2026-06-15", true);
                    }),
                    "2026-06-22",
                ),
                on(with(hive(1), |h| h.seen.eggs = seen("2026-06-14", false)), "2026-06-22"),
            ),
            urgency: Urgency::Must,
            after: None,
        },
    ]
}

/// Mites, and what comes first whatever the season.
fn always() -> Vec<Row> {
    let washed = |mites| with(hive(2), counted("2026-08-01", mites));
    vec![
        Row {
            id: "weather.guard",
            speaks: on(hive(1), "2026-05-03").fahrenheit(50.0),
            silent: on(hive(1), "2026-05-03").fahrenheit(70.0),
            boundary: (
                on(hive(1), "2026-05-03").fahrenheit(59.0),
                on(hive(1), "2026-05-03").fahrenheit(60.0),
            ),
            urgency: Urgency::May,
            after: None,
        },
        Row {
            id: "disease.suspect",
            speaks: on(
                with(hive(1), |h| {
                    h.disease_suspected = Some((day("2026-06-01"), Disease::Sunken));
                    h.seen.disease = seen("2026-06-01", Disease::Sunken);
                }),
                "2026-06-01",
            ),
            silent: on(with(hive(1), |h| h.seen.disease = seen("2026-06-01", Disease::None)), "2026-06-01"),
            boundary: (
                on(
                    with(hive(1), |h| h.disease_suspected = Some((day("2026-06-01"), Disease::Twisted))),
                    "2026-06-01",
                ),
                on(hive(1), "2026-06-01"),
            ),
            urgency: Urgency::Stop,
            after: None,
        },
        Row {
            id: "dead-out",
            speaks: on(with(hive(1), |h| h.lost = Some((day("2026-04-01"), Loss::Unknown))), "2026-04-01"),
            silent: on(hive(1), "2026-04-01"),
            boundary: (
                on(with(hive(1), |h| h.lost = Some((day("2026-04-01"), Loss::Unknown))), "2026-05-01"),
                on(
                    with(hive(1), |h| {
                        h.lost = Some((day("2026-04-01"), Loss::Starved));
                        h.seen.disease = seen("2026-04-01", Disease::None);
                    }),
                    "2026-05-01",
                ),
            ),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "robbing.signs",
            speaks: on(with(hive(1), |h| h.seen.robbing = seen("2026-08-20", Robbing::Robbed)), "2026-08-20"),
            silent: on(with(hive(1), |h| h.seen.robbing = seen("2026-08-20", Robbing::None)), "2026-08-20"),
            boundary: (
                on(with(hive(1), |h| h.seen.robbing = seen("2026-08-20", Robbing::Probing)), "2026-08-20"),
                on(with(hive(1), |h| h.seen.robbing = seen("2026-07-01", Robbing::None)), "2026-08-20"),
            ),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "followup",
            speaks: on(promised("2026-06-10"), "2026-06-10"),
            silent: on(hive(1), "2026-06-10"),
            boundary: (on(promised("2026-06-10"), "2026-06-10"), on(promised("2026-06-11"), "2026-06-10")),
            urgency: Urgency::Should,
            after: None,
        },
        Row {
            id: "mites.wash",
            speaks: on(hive(1), "2026-07-15"),
            silent: on(with(hive(1), counted("2026-07-10", 1)), "2026-07-15"),
            boundary: (
                on(with(hive(1), counted("2026-06-19", 0)), "2026-07-15"),
                on(with(hive(1), counted("2026-06-20", 0)), "2026-07-15"),
            ),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "mites.treat",
            speaks: on(washed(20), "2026-08-01"),
            silent: on(washed(2), "2026-08-01"),
            boundary: (on(washed(20), "2026-08-31"), on(washed(20), "2026-09-01")),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "mites.winter-bees",
            speaks: on(with(hive(1), counted("2026-07-25", 5)), "2026-07-25"),
            silent: on(with(hive(1), counted("2026-07-25", 0)), "2026-07-25"),
            boundary: (
                on(with(hive(1), counted("2026-08-01", 0)), "2026-08-01"),
                on(with(hive(1), counted("2026-07-31", 0)), "2026-07-31"),
            ),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "mites.broodless",
            speaks: on(with(hive(1), counted("2026-10-15", 9)), "2026-11-20"),
            silent: on(with(hive(1), counted("2026-10-15", 0)), "2026-11-20"),
            boundary: (on(hive(1), "2026-11-17"), on(hive(1), "2026-11-16")),
            urgency: Urgency::Should,
            after: None,
        },
    ]
}

fn promised(on: &str) -> HiveState {
    with(hive(1), |h| {
        h.promises.push(crate::model::fold::OpenPromise {
            made: day("2026-06-01"),
            on: day(on),
            what: "look again".to_owned(),
        });
    })
}

fn filled(full: f64, capped: f64) -> HiveState {
    with(with_super(), |h| {
        h.seen.super_full = seen("2026-07-01", Percent(full));
        h.seen.capped = seen("2026-07-01", Percent(capped));
        h.seen.bees = frames("2026-07-01", 15.0);
    })
}

fn summer() -> Vec<Row> {
    let backfilled = |b| with(hive(2), |h| h.seen.backfill = seen("2026-06-20", b));
    vec![
        Row {
            id: "super.add",
            speaks: on(filled(70.0, 90.0), "2026-07-01"),
            silent: on(filled(30.0, 0.0), "2026-07-01"),
            boundary: (on(filled(70.0, 0.0), "2026-07-01"), on(filled(69.0, 0.0), "2026-07-01")),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "nest.backfilled",
            speaks: on(backfilled(Backfill::Choked), "2026-06-20"),
            silent: on(backfilled(Backfill::None), "2026-06-20"),
            boundary: (
                on(backfilled(Backfill::Patch), "2026-06-30"),
                on(backfilled(Backfill::Patch), "2026-07-01"),
            ),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "cover.prop",
            speaks: on(filled(80.0, 40.0), "2026-07-01"),
            silent: on(filled(80.0, 90.0), "2026-07-01"),
            boundary: (on(filled(60.0, 79.0), "2026-07-01"), on(filled(60.0, 80.0), "2026-07-01")),
            urgency: Urgency::May,
            after: Some("super.add"),
        },
        Row {
            id: "honey.pull",
            speaks: on(filled(100.0, 90.0), "2026-07-01"),
            silent: on(filled(100.0, 40.0), "2026-07-01"),
            boundary: (on(filled(100.0, 80.0), "2026-07-01"), on(filled(100.0, 79.0), "2026-07-01")),
            urgency: Urgency::Should,
            after: Some("super.add"),
        },
        Row {
            id: "split.last",
            speaks: on(strong("2026-07-10"), "2026-07-10"),
            silent: on(hive(2), "2026-07-10"),
            boundary: (on(strong("2026-07-31"), "2026-07-31"), on(strong("2026-07-31"), "2026-08-01")),
            urgency: Urgency::May,
            after: Some("mites.wash"),
        },
    ]
}

fn late() -> Vec<Row> {
    let honey = |count| with(hive(1), |h| h.seen.honey = frames("2026-09-01", count));
    let weak = |on: &str, bees| with(hive(1), |h| h.seen.bees = frames(on, bees));
    let narrow = with(hive(1), |h| h.entrance = Entrance::Reduced);
    vec![
        Row {
            id: "super.off",
            speaks: on(with_super(), "2026-09-01"),
            silent: on(hive(2), "2026-09-01"),
            boundary: (on(with_super(), "2026-08-15"), on(with_super(), "2026-08-14")),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "nest.size",
            speaks: on(with(hive(2), |h| h.seen.bees = frames("2026-08-20", 7.0)), "2026-08-20"),
            silent: on(with(hive(2), |h| h.seen.bees = frames("2026-08-20", 14.0)), "2026-08-20"),
            boundary: (on(hive(2), "2026-08-01"), on(hive(2), "2026-07-31")),
            urgency: Urgency::Should,
            after: Some("mites.wash"),
        },
        Row {
            id: "combine.weak",
            speaks: on(weak("2026-08-20", 3.0), "2026-08-20"),
            silent: on(weak("2026-08-20", 9.0), "2026-08-20"),
            boundary: (on(weak("2026-08-20", 4.75), "2026-08-20"), on(weak("2026-08-20", 5.0), "2026-08-20")),
            urgency: Urgency::Should,
            after: Some("entrance.narrow"),
        },
        Row {
            id: "feed.winter-weight",
            speaks: on(honey(3.0), "2026-09-01"),
            silent: on(honey(9.0), "2026-09-01"),
            boundary: (on(honey(7.25), "2026-09-01"), on(honey(7.5), "2026-09-01")),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "entrance.narrow",
            speaks: on(hive(1), "2026-09-02"),
            silent: on(narrow, "2026-09-02"),
            boundary: (on(hive(1), "2026-08-25"), on(hive(1), "2026-08-24")),
            urgency: Urgency::Must,
            after: None,
        },
        Row {
            id: "entrance.open",
            speaks: on(narrowed(12.0), "2026-06-12"),
            silent: on(narrowed(5.0), "2026-06-12"),
            boundary: (on(narrowed(10.0), "2026-06-12"), on(narrowed(9.75), "2026-06-12")),
            urgency: Urgency::Should,
            after: None,
        },
        Row {
            id: "mouse-guard",
            speaks: on(hive(1), "2026-09-25"),
            silent: on(with(hive(1), |h| h.mouse_guard = true), "2026-09-25"),
            boundary: (on(hive(1), "2026-09-20"), on(hive(1), "2026-09-19")),
            urgency: Urgency::Should,
            after: None,
        },
        Row {
            id: "upper-entrance",
            speaks: on(hive(1), "2026-10-15"),
            silent: on(with(hive(1), |h| h.upper_entrance = true), "2026-10-15"),
            boundary: (on(hive(1), "2026-10-10"), on(hive(1), "2026-10-09")),
            urgency: Urgency::Should,
            after: None,
        },
        Row {
            id: "wind-sun-cracks",
            speaks: on(hive(1), "2026-10-15"),
            silent: on(with(hive(1), |h| h.seen.cracks = seen("2026-10-11", false)), "2026-10-15"),
            boundary: (on(hive(1), "2026-11-09"), on(hive(1), "2026-11-10")),
            urgency: Urgency::Should,
            after: None,
        },
        Row {
            id: "leave-alone",
            speaks: on(hive(1), "2026-01-10"),
            silent: on(with(hive(1), |h| h.seen.heft = seen("2026-01-05", Heft::Light)), "2026-01-10"),
            boundary: (on(hive(1), "2026-03-14"), on(hive(1), "2026-03-15")),
            urgency: Urgency::May,
            after: None,
        },
    ]
}

fn narrowed(bees: f64) -> HiveState {
    with(hive(2), |h| {
        h.entrance = crate::model::Entrance::Small;
        h.seen.bees = frames("2026-06-12", bees);
    })
}

fn rows() -> Vec<Row> {
    [early(), always(), summer(), late(), super::table_more::rows()].into_iter().flatten().collect()
}

fn the(row: &Row) -> &'static Rule {
    rule(row.id).unwrap()
}

#[test]
fn every_rule_has_its_row() {
    let rows = rows();
    for rule in ALL {
        assert_eq!(rows.iter().filter(|r| r.id == rule.id).count(), 1, "{}", rule.id);
    }
    assert_eq!(rows.len(), ALL.len());
}

#[test]
fn each_speaks_where_it_should_and_as_pressingly() {
    for row in rows() {
        let said = row.speaks.speak(the(&row));
        assert_eq!(said.map(|p| p.urgency), Some(row.urgency), "{}", row.id);
    }
}

#[test]
fn each_is_silent_where_it_should_be() {
    for row in rows() {
        assert_eq!(row.silent.speak(the(&row)).map(|p| p.title), None, "{}", row.id);
    }
}

#[test]
fn each_keeps_to_its_boundary() {
    for row in rows() {
        let [inside, outside] = [&row.boundary.0, &row.boundary.1].map(|case| case.speak(the(&row)));
        assert!(inside.is_some(), "{} is silent inside", row.id);
        assert_eq!(outside.map(|p| p.title), None, "{} speaks outside", row.id);
    }
}

#[test]
fn each_has_its_place_among_the_others() {
    for row in rows() {
        let prompts = row.speaks.advise().prompts;
        let at = |id: &str| prompts.iter().position(|p| p.rule == id);
        if let Some(before) = row.after {
            let (first, then) = (at(before), at(row.id));
            assert!(first.is_some() && first < then, "{} after {before}: {first:?} {then:?}", row.id);
        }
        // Whatever speaks, the more pressing stands first.
        assert!(prompts.windows(2).all(|w| w[0].urgency <= w[1].urgency), "{}", row.id);
    }
}
