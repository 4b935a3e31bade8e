//! What a table from elsewhere is like: what stands between its cells, and in which order its days are written.

use chrono::NaiveDate;

/// What stands between the cells of a table: what its first line has most of, outside of quotes.
pub fn delimiter_of(text: &str) -> u8 {
    let line = text.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
    let count = |wanted: char| {
        let mut is_quoted = false;
        line.chars()
            .filter(|c| {
                is_quoted ^= *c == '"';
                *c == wanted && !is_quoted
            })
            .count()
    };
    [(',', b','), (';', b';'), ('\t', b'\t'), ('|', b'|')]
        .into_iter()
        .map(|(sign, byte)| (count(sign), byte))
        .rev()
        .max_by_key(|(count, _)| *count)
        .filter(|(count, _)| *count > 0)
        .map_or(b',', |(_, byte)| byte)
}

/// In which order a day of numbers is written where its year comes last.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DayOrder {
    /// Day, month, year.
    DayFirst,
    /// Month, day, year.
    MonthFirst,
}

/// What the days of a table say of their order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Orders {
    /// This one, or none is needed.
    Told(DayOrder),
    /// Each day can be read both ways.
    Either,
    /// Some are of one order and some of the other.
    Mixed,
}

impl Orders {
    /// Of the days of a table, as they stand in its cells.
    pub fn of<'a>(cells: impl Iterator<Item = &'a str>) -> Self {
        let (mut day_first, mut month_first, mut either) = (false, false, false);
        for cell in cells {
            let Some((a, b, _, sign)) = parts(cell) else { continue };
            // A point between is written with the day first wherever it is written.
            match (a > 12 || sign == '.', b > 12) {
                (true, _) => day_first = true,
                (false, true) => month_first = true,
                (false, false) if a != b => either = true,
                (false, false) => {}
            }
        }
        match (day_first, month_first, either) {
            (true, true, _) => Self::Mixed,
            (_, true, _) => Self::Told(DayOrder::MonthFirst),
            (true, _, _) | (_, _, false) => Self::Told(DayOrder::DayFirst),
            (false, false, true) => Self::Either,
        }
    }
}

/// Three numbers with the year last, and what stands between them.
fn parts(text: &str) -> Option<(u32, u32, i32, char)> {
    let text = text.split_whitespace().next()?;
    let sign = text.chars().find(|c| ['/', '.', '-'].contains(c))?;
    let mut numbers = text.split(sign);
    let (a, b, year) = (numbers.next()?, numbers.next()?, numbers.next()?);
    if numbers.next().is_some() || a.len() > 2 || b.len() > 2 {
        return None;
    }
    let full = match year.len() {
        4 => year.parse().ok()?,
        // Of this century: no one's bees are logged further back by two figures.
        2 => 2000 + year.parse::<i32>().ok()?,
        _ => return None,
    };
    Some((a.parse().ok()?, b.parse().ok()?, full, sign))
}

/// A day as tables have it: the year first, or numbers in an order, or with the month by its English name; a time after it is
/// left out.
pub fn day_of_cell(text: &str, order: DayOrder) -> Option<NaiveDate> {
    let text = text.trim();
    let date = text.split(['T', ' ']).next().unwrap_or_default();
    if let Ok(day) = date.parse() {
        return Some(day);
    }
    // Four figures of a year before all else: 03.05.25 is none.
    if date.chars().take_while(char::is_ascii_digit).count() >= 4 {
        let forms = ["%Y/%m/%d", "%Y.%m.%d", "%Y%m%d"];
        return forms.into_iter().find_map(|form| NaiveDate::parse_from_str(date, form).ok());
    }
    if let Some((a, b, year, sign)) = parts(text) {
        let is_day_first = order == DayOrder::DayFirst || sign == '.';
        let (day, month) = if is_day_first { (a, b) } else { (b, a) };
        return NaiveDate::from_ymd_opt(year, month, day);
    }
    let plain = text.replace(',', " ").split_whitespace().collect::<Vec<_>>().join(" ");
    ["%d %b %Y", "%d %B %Y", "%b %d %Y", "%B %d %Y", "%d-%b-%Y"]
        .into_iter()
        .find_map(|form| NaiveDate::parse_from_str(&plain, form).ok())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_stands_between_cells_is_what_the_head_has_most_of() {
        assert_eq!(delimiter_of("hive,bees,note\n"), b',');
        assert_eq!(delimiter_of("hive;bees;note, long\nA;1,5;x"), b';');
        assert_eq!(delimiter_of("\n\"a;b;c\"\tbees\n"), b'\t');
        assert_eq!(delimiter_of("hive\n"), b',');
    }

    #[test]
    fn the_order_of_days_is_told_by_those_that_can_be_read_in_one_way() {
        let of = |cells: &[&str]| Orders::of(cells.iter().copied());
        assert_eq!(of(&["3/4/2025", "13/4/2025"]), Orders::Told(DayOrder::DayFirst));
        assert_eq!(of(&["3/4/2025", "4/13/25"]), Orders::Told(DayOrder::MonthFirst));
        assert_eq!(of(&["3/4/2025", "5/6/2025"]), Orders::Either);
        assert_eq!(of(&["13/4/2025", "4/13/2025"]), Orders::Mixed);
        assert_eq!(of(&["2025-04-03", "3.4.2025", "May 3, 2025"]), Orders::Told(DayOrder::DayFirst));
        assert_eq!(of(&["3/3/2025"]), Orders::Told(DayOrder::DayFirst));
    }

    #[test]
    fn a_day_is_read_in_its_usual_forms() {
        let wanted = NaiveDate::from_ymd_opt(2025, 5, 3);
        for text in [
            "2025-05-03",
            "2025/05/03",
            "20250503",
            "2025-05-03T14:00",
            "2025-05-03 14:00",
            "3/5/2025",
            "03.05.25",
            "3-5-2025",
            "May 3, 2025",
            "3 May 2025",
            "3-May-2025",
        ] {
            assert_eq!(day_of_cell(text, DayOrder::DayFirst), wanted, "{text}");
        }
        assert_eq!(day_of_cell("5/3/2025", DayOrder::MonthFirst), wanted);
        for text in ["", "soon", "31/2/2025", "2025-13-01"] {
            assert_eq!(day_of_cell(text, DayOrder::DayFirst), None, "{text}");
        }
    }
}
