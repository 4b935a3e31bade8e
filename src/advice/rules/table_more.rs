//! More rows of the table: signs a keeper can tell, what a new colony and the year ask for.

use super::table::{Row, on, with};
use super::testing::Case;
use crate::advice::Urgency;
use crate::model::fold::Answered;
use crate::model::testing::{day, frames, hive, seen};
use crate::model::{
    Course, Cover, Depth, Disease, HiveBox, HiveId, HiveState, MiteCount, Origin, Pattern, Pests, Reply,
    Role, RuleId, Temper, Treatment,
};

fn of_seen(set: impl FnOnce(&mut HiveState)) -> HiveState {
    with(hive(1), set)
}

fn row(
    id: &'static str,
    urgency: Urgency,
    speaks: (HiveState, &str),
    silent: (HiveState, &str),
    boundary: [(HiveState, &str); 2],
) -> Row {
    let [inside, outside] = boundary.map(|(state, today)| on(state, today));
    Row {
        id,
        speaks: on(speaks.0, speaks.1),
        silent: on(silent.0, silent.1),
        boundary: (inside, outside),
        urgency,
        after: None,
    }
}

pub(super) fn rows() -> Vec<Row> {
    [signs(), colonies(), mites(), year()].into_iter().flatten().collect()
}

/// Signs: each stands as long as the look it comes from.
fn signs() -> Vec<Row> {
    let chalk = || of_seen(|h| h.seen.disease = seen("2026-05-03", Disease::Chalk));
    let moth = || of_seen(|h| h.seen.pests = seen("2026-05-03", Pests::Moth));
    let streaks = |yes| of_seen(|h| h.seen.droppings = seen("2026-03-20", yes));
    let heap = || of_seen(|h| h.seen.dying = seen("2026-05-03", true));
    let damp = || of_seen(|h| h.seen.cover = seen("2026-05-03", Cover::Damp));
    let (none, spotty) = (
        of_seen(|h| h.seen.disease = seen("2026-05-03", Disease::None)),
        of_seen(|h| h.seen.pattern = seen("2026-05-03", Pattern::Spotty)),
    );
    vec![
        row(
            "brood.signs",
            Urgency::Should,
            (spotty, "2026-05-03"),
            (none, "2026-05-03"),
            [(chalk(), "2026-05-24"), (chalk(), "2026-05-25")],
        ),
        row(
            "pests",
            Urgency::Should,
            (moth(), "2026-05-03"),
            (of_seen(|h| h.seen.pests = seen("2026-05-03", Pests::None)), "2026-05-03"),
            [(moth(), "2026-05-17"), (moth(), "2026-05-18")],
        ),
        row(
            "droppings",
            Urgency::Should,
            (streaks(true), "2026-03-20"),
            (streaks(false), "2026-03-20"),
            [(streaks(true), "2026-04-03"), (streaks(true), "2026-04-04")],
        ),
        row(
            "poisoning",
            Urgency::Must,
            (heap(), "2026-05-03"),
            (hive(1), "2026-05-03"),
            [(heap(), "2026-05-10"), (heap(), "2026-05-11")],
        ),
        row(
            "cover.state",
            Urgency::Should,
            (damp(), "2026-05-03"),
            (of_seen(|h| h.seen.cover = seen("2026-05-03", Cover::Sound)), "2026-05-03"),
            [(damp(), "2026-07-02"), (damp(), "2026-07-03")],
        ),
        Row {
            id: "heat",
            speaks: on(hive(2), "2026-07-25").fahrenheit(99.0),
            silent: on(hive(2), "2026-07-25"),
            boundary: (
                on(hive(2), "2026-07-25").fahrenheit(95.0),
                on(hive(2), "2026-07-25").fahrenheit(94.0),
            ),
            urgency: Urgency::Should,
            after: None,
        },
    ]
}

fn colonies() -> Vec<Row> {
    let small = |bees| {
        of_seen(|h| {
            h.boxes = vec![HiveBox::new(Depth::Deep, 5, Role::Nest)];
            h.seen.bees = frames("2026-07-01", bees);
        })
    };
    let package = || {
        of_seen(|h| {
            h.origin = Origin::Package;
            h.came = day("2026-05-01");
        })
    };
    let old = |year| of_seen(|h| h.queen.year = Some(year));
    let formic = || {
        of_seen(|h| {
            h.courses.push(Course {
                treatment: Treatment::FormicStrips,
                began: day("2026-07-18"),
                until: day("2026-08-01"),
                ended: Some(day("2026-08-01")),
            });
        })
    };
    vec![
        row(
            "nest.nuc",
            Urgency::Must,
            (small(5.0), "2026-07-01"),
            (hive(1), "2026-07-01"),
            [(small(4.0), "2026-07-01"), (small(3.75), "2026-07-01")],
        ),
        row(
            "mites.new-colony",
            Urgency::May,
            (package(), "2026-05-06"),
            (hive(1), "2026-05-06"),
            [(package(), "2026-05-13"), (package(), "2026-05-14")],
        ),
        row(
            "queen.renew",
            Urgency::Should,
            (with(old(2023), |h| h.seen.temper = seen("2026-07-01", Temper::Hot)), "2026-07-05"),
            (hive(1), "2026-07-05"),
            [(old(2023), "2026-07-05"), (old(2024), "2026-07-05")],
        ),
        row(
            "queen.after-treatment",
            Urgency::Should,
            (formic(), "2026-08-29"),
            (hive(1), "2026-08-29"),
            [(formic(), "2026-08-22"), (formic(), "2026-08-21")],
        ),
    ]
}

fn mites() -> Vec<Row> {
    let refused = || {
        of_seen(|h| {
            let answer = Answered { on: day("2026-05-03"), reply: Reply::NotNeeded };
            h.answers.insert(RuleId::new("mites.wash"), answer);
        })
    };
    let vapor = || {
        of_seen(|h| {
            let began = day("2026-08-20");
            let ended = Some(began);
            h.courses.push(Course { treatment: Treatment::OxalicVapour, began, until: began, ended });
        })
    };
    let drones = || of_seen(|h| h.drone_comb = Some(day("2026-05-01")));
    let mut counted = hive(1);
    counted.washes.push(MiteCount { on: day("2026-05-05"), mites: 1, bees: 300 });
    vec![
        row(
            "mites.other-count",
            Urgency::Should,
            (refused(), "2026-05-10"),
            (counted, "2026-05-10"),
            [(refused(), "2026-05-04"), (refused(), "2026-05-03")],
        ),
        row(
            "mites.repeat",
            Urgency::Should,
            (vapor(), "2026-08-27"),
            (hive(1), "2026-08-27"),
            [(vapor(), "2026-08-25"), (vapor(), "2026-08-24")],
        ),
        row(
            "mites.drone-comb",
            Urgency::Must,
            (drones(), "2026-05-22"),
            (hive(1), "2026-05-22"),
            [(drones(), "2026-05-19"), (drones(), "2026-05-18")],
        ),
    ]
}

fn year() -> Vec<Row> {
    let second = || {
        let mut state = hive(1);
        state.id = HiveId::new("T2");
        state
    };
    vec![
        row(
            "comb.renew",
            Urgency::May,
            (hive(1), "2026-05-03"),
            (hive(1), "2026-07-03"),
            [(hive(1), "2026-04-25"), (hive(1), "2026-04-24")],
        ),
        row(
            "registration",
            Urgency::May,
            (hive(1), "2026-04-10"),
            (hive(1), "2026-07-10"),
            [(hive(1), "2026-04-30"), (hive(1), "2026-05-01")],
        ),
        Row {
            id: "dates.unknown",
            speaks: Case::of(hive(1)).guessed(),
            silent: Case::of(hive(1)),
            boundary: (Case::of(hive(1)).guessed(), Case::of(second()).beside(vec![hive(1)]).guessed()),
            urgency: Urgency::Should,
            after: None,
        },
    ]
}
