//! The bee year as a strip of letters, one for some days each, under the months.

use chrono::{Months, NaiveDate};

use crate::model::{Hemisphere, Units, days_after};
use crate::season::{Calendar, Phase};
use crate::wording;

/// The strip of a year: months above, a letter a few days each, and where today is.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Strip {
    /// Month names where they begin.
    pub(super) months: String,
    pub(super) phases: String,
    /// A mark under today.
    pub(super) today: String,
}

/// The letter of a phase.
pub(super) fn letter(phase: Phase) -> char {
    match phase {
        Phase::Winter => '.',
        Phase::LateWinter => 'h',
        Phase::Swarming => 's',
        Phase::MainFlow => 'F',
        Phase::LateSummer => 'l',
        Phase::Fall => 'f',
        Phase::WrapUp => 'w',
    }
}

/// What the letters mean.
pub(super) const LEGEND: &str =
    ". cluster  h late winter  s swarm season  F main flow  l late summer  f fall, feeding  w wrap-up";

/// A year's strip in so many columns, at least 12.
pub(super) fn strip(calendar: &Calendar, today: NaiveDate, units: Units, columns: usize) -> Strip {
    let columns = columns.max(12);
    let first = match calendar.side {
        Hemisphere::North => NaiveDate::from_ymd_opt(calendar.year, 1, 1),
        Hemisphere::South => NaiveDate::from_ymd_opt(calendar.year, 7, 1),
    }
    .unwrap_or(today);
    let next = first.checked_add_months(Months::new(12)).unwrap_or(today);
    let days = (next - first).num_days().max(1);
    let wide = i64::try_from(columns).unwrap_or(i64::MAX);
    let column = |day: NaiveDate| {
        usize::try_from((day - first).num_days() * wide / days).unwrap_or(0).min(columns - 1)
    };
    let phases = (0..wide)
        .map(|at| letter(calendar.phase(days_after(first, (2 * at + 1) * days / (2 * wide)))))
        .collect();
    let mut months = vec![' '; columns];
    for step in 0..12 {
        let begins = first.checked_add_months(Months::new(step)).unwrap_or(first);
        let name = wording::month(begins);
        for (at, c) in name.chars().enumerate() {
            if let Some(cell) = months.get_mut(column(begins) + at) {
                *cell = c;
            }
        }
    }
    let here = column(today);
    let name = format!("today {}", wording::day(units, today));
    // The name stands to the left of the mark where it would run over the end.
    let today = if here + 2 + name.len() <= columns {
        format!("{}^ {name}", " ".repeat(here))
    } else {
        format!("{}{name} ^", " ".repeat(here.saturating_sub(name.len() + 1)))
    };
    Strip { months: months.into_iter().collect(), phases, today }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season::Shift;

    fn of(today: &str) -> Strip {
        strip(&Calendar::shifted(Shift::none(), 2026), today.parse().unwrap(), Units::Us, 73)
    }

    #[test]
    fn the_year_runs_from_cluster_to_cluster_with_today_under_its_day() {
        let year = of("2026-08-08");
        assert!(year.months.starts_with("Jan   Feb"), "{}", year.months);
        assert_eq!(year.phases.len(), 73);
        assert!(year.phases.starts_with("....") && year.phases.ends_with("...."), "{}", year.phases);
        let at = year.today.find('^').unwrap();
        // 8 August is day 219 of 365, from 0: column 43 of 73.
        assert_eq!(at, 43);
        assert_eq!(year.phases.as_bytes()[at], b'l');
    }

    #[test]
    fn at_either_end_the_mark_stays_on_the_strip() {
        for (today, at) in [("2026-01-01", 0), ("2026-12-31", 72)] {
            let year = of(today);
            assert_eq!(year.today.find('^'), Some(at), "{today}");
            assert!(year.today.len() <= 73);
        }
    }
}
