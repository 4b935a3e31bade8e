//! The bee year as a strip: the months, a letter a few days for what the bees do, and each date's window under it.

use chrono::{Months, NaiveDate};
use ratatui::text::Span;

use crate::model::{Hemisphere, days_after};
use crate::season::{Calendar, Phase};
use crate::tui::theme::Theme;
use crate::wording;

/// A year on so many columns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Strip {
    first: NaiveDate,
    days: i64,
    columns: usize,
    today: NaiveDate,
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
pub(super) const LEGEND: &str = ". cluster  h late winter  s swarm season  F main flow  l late summer  f fall, feeding  w wrap-up  | today";

impl Strip {
    /// The year of a calendar in so many columns, at least 12.
    pub(super) fn of(calendar: &Calendar, today: NaiveDate, columns: usize) -> Self {
        let first = match calendar.side {
            Hemisphere::North => NaiveDate::from_ymd_opt(calendar.year, 1, 1),
            Hemisphere::South => NaiveDate::from_ymd_opt(calendar.year, 7, 1),
        }
        .unwrap_or(today);
        let next = first.checked_add_months(Months::new(12)).unwrap_or(today);
        Self { first, days: (next - first).num_days().max(1), columns: columns.max(12), today }
    }

    /// The column of a day; of one beyond the year the one at its end.
    fn column(&self, day: NaiveDate) -> usize {
        let wide = i64::try_from(self.columns).unwrap_or(i64::MAX);
        let at = ((day - self.first).num_days() * wide).div_euclid(self.days);
        usize::try_from(at).unwrap_or(0).min(self.columns - 1)
    }

    /// Month names where they begin.
    pub(super) fn months(&self) -> String {
        let mut months = vec![' '; self.columns];
        // On a narrow strip every other month has room.
        let every = if self.columns >= 12 * 4 { 1 } else { 2 };
        for step in (0..12).step_by(every) {
            let begins = self.first.checked_add_months(Months::new(step)).unwrap_or(self.first);
            let name = wording::month(begins);
            let at = self.column(begins);
            for (cell, c) in months.iter_mut().skip(at).zip(name.chars()) {
                *cell = c;
            }
        }
        months.into_iter().collect()
    }

    /// A letter for what the bees do in each few days, with today's line over it.
    pub(super) fn phases(&self, calendar: &Calendar, theme: &Theme) -> Vec<Span<'static>> {
        let wide = i64::try_from(self.columns).unwrap_or(i64::MAX);
        let here = self.column(self.today);
        (0..wide)
            .zip(0_usize..)
            .map(|(at, column)| {
                let day = days_after(self.first, (2 * at + 1) * self.days / (2 * wide));
                let phase = calendar.phase(day);
                let style = match phase {
                    Phase::Winter | Phase::LateWinter | Phase::WrapUp => theme.muted,
                    Phase::Swarming => theme.brood,
                    Phase::MainFlow => theme.honey,
                    Phase::LateSummer | Phase::Fall => theme.text,
                };
                if column == here { today(theme) } else { Span::styled(letter(phase).to_string(), style) }
            })
            .collect()
    }

    /// A window as a bar in its year, with today's line over it. One that runs over the end of the year is drawn at both ends.
    pub(super) fn window(&self, opens: NaiveDate, closes: NaiveDate, theme: &Theme) -> Vec<Span<'static>> {
        let end = days_after(self.first, self.days - 1);
        let ranges = if closes > end {
            let over = days_after(closes, -self.days);
            vec![(self.column(opens), self.columns - 1), (0, self.column(over))]
        } else {
            vec![(self.column(opens), self.column(closes))]
        };
        let here = self.column(self.today);
        let is_now = (opens..=closes).contains(&self.today);
        let style = match (is_now, closes < self.today) {
            (true, _) => theme.heading,
            (false, true) => theme.rule,
            (false, false) => theme.muted,
        };
        (0..self.columns)
            .map(|column| {
                let is_in = ranges.iter().any(|(from, to)| (*from..=*to).contains(&column));
                match (is_in, column == here) {
                    (true, true) => Span::styled("█", theme.heading),
                    (true, false) => Span::styled(if is_now { "▓" } else { "▒" }, style),
                    (false, true) => today(theme),
                    (false, false) => Span::styled(" ", theme.text),
                }
            })
            .collect()
    }
}

/// The line of today.
fn today(theme: &Theme) -> Span<'static> {
    Span::styled("│", theme.heading)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season::Shift;

    fn calendar() -> Calendar {
        Calendar::shifted(Shift::none(), 2026)
    }

    fn text(spans: &[Span<'_>]) -> String {
        spans.iter().map(|s| s.content.as_ref()).collect()
    }

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn the_year_runs_from_cluster_to_cluster_with_today_in_its_place() {
        let strip = Strip::of(&calendar(), day("2026-08-08"), 73);
        assert!(strip.months().starts_with("Jan   Feb"), "{}", strip.months());
        let phases = text(&strip.phases(&calendar(), &Theme::none()));
        assert_eq!(phases.chars().count(), 73);
        assert!(phases.starts_with("....") && phases.ends_with("...."), "{phases}");
        // 8 August is day 219 of 365, from 0: column 43 of 73.
        assert_eq!(phases.chars().position(|c| c == '│'), Some(43));
    }

    #[test]
    fn at_either_end_today_stays_on_the_strip() {
        for (today, at) in [("2026-01-01", 0), ("2026-12-31", 72)] {
            let phases = text(&Strip::of(&calendar(), day(today), 73).phases(&calendar(), &Theme::none()));
            assert_eq!(phases.chars().position(|c| c == '│'), Some(at), "{today}");
        }
    }

    #[test]
    fn a_window_is_drawn_in_its_days_and_at_both_ends_where_it_runs_over_the_year() {
        let strip = Strip::of(&calendar(), day("2026-08-08"), 73);
        let drawn = |opens, closes| text(&strip.window(day(opens), day(closes), &Theme::none()));
        let in_august = drawn("2026-08-01", "2026-08-15");
        assert_eq!(in_august.find(|c| c != ' '), Some(42), "{in_august}");
        assert!(in_august.contains("▓█▓"), "today is in it: {in_august}");
        let winter = drawn("2026-11-10", "2027-03-15");
        assert!(winter.starts_with('▒') && winter.ends_with('▒') && winter.contains("  │  "), "{winter}");
    }
}
