//! Places of an invented keeper, by their freeze dates and flows.

use chrono::NaiveDate;
use yardwalk::model::{Flow, FreezeDates, Hemisphere, Yard, YardId, days_after};
use yardwalk::season::Calendar;

/// The first day of a run, at the reference.
pub(crate) const FIRST: &str = "2026-03-02";

/// A place to keep bees: by its freeze dates and its flows, with the mean highs of its months, Fahrenheit.
///
/// The figures are those of an invented yard in such a climate; nothing is claimed of a real one.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Climate {
    pub(crate) name: &'static str,
    pub(crate) freezes: Option<(&'static str, &'static str)>,
    pub(crate) flows: &'static [(&'static str, &'static str)],
    pub(crate) highs: [f64; 12],
    pub(crate) hives: usize,
    pub(crate) weeks: i64,
}

/// The reference year itself.
pub(crate) const REFERENCE: Climate = Climate {
    name: "reference",
    freezes: None,
    flows: &[],
    highs: [28.0, 31.0, 45.0, 60.0, 70.0, 78.0, 82.0, 80.0, 73.0, 62.0, 48.0, 34.0],
    hives: 200,
    weeks: 40,
};

pub(crate) const CLIMATES: [Climate; 6] = [
    Climate {
        name: "Minnesota",
        freezes: Some(("05-10", "09-28")),
        flows: &[("06-15", "08-05")],
        highs: [23.0, 28.0, 41.0, 57.0, 69.0, 79.0, 83.0, 80.0, 72.0, 58.0, 41.0, 27.0],
        ..SMALL
    },
    Climate {
        name: "Georgia",
        freezes: Some(("03-28", "11-08")),
        flows: &[("04-05", "06-05"), ("08-25", "10-05")],
        highs: [52.0, 57.0, 65.0, 73.0, 80.0, 87.0, 90.0, 89.0, 83.0, 73.0, 63.0, 54.0],
        weeks: 46,
        ..SMALL
    },
    Climate {
        name: "Vermont",
        freezes: Some(("05-18", "09-25")),
        flows: &[("06-12", "07-31")],
        highs: [28.0, 31.0, 41.0, 55.0, 68.0, 77.0, 81.0, 79.0, 71.0, 58.0, 45.0, 33.0],
        ..SMALL
    },
    Climate {
        name: "western Germany",
        freezes: Some(("04-28", "10-15")),
        flows: &[("04-25", "05-25"), ("06-10", "07-15")],
        highs: [39.0, 42.0, 51.0, 60.0, 67.0, 73.0, 77.0, 76.0, 68.0, 57.0, 46.0, 40.0],
        weeks: 44,
        ..SMALL
    },
    Climate {
        name: "high Colorado",
        freezes: Some(("06-10", "09-05")),
        flows: &[("06-25", "08-10")],
        highs: [30.0, 33.0, 41.0, 49.0, 60.0, 71.0, 77.0, 74.0, 67.0, 55.0, 40.0, 31.0],
        ..SMALL
    },
    Climate {
        name: "Tasmania",
        freezes: Some(("10-15", "05-05")),
        flows: &[("12-01", "02-10")],
        highs: [72.0, 72.0, 69.0, 63.0, 58.0, 54.0, 53.0, 55.0, 59.0, 62.0, 66.0, 69.0],
        weeks: 44,
        ..SMALL
    },
];

const SMALL: Climate =
    Climate { name: "", freezes: None, flows: &[], highs: [0.0; 12], hives: 40, weeks: 42 };

impl Climate {
    pub(crate) fn yard(&self, name: YardId) -> Yard {
        let day = |text: &str| text.parse().unwrap();
        Yard {
            freezes: self
                .freezes
                .map(|(last, first)| FreezeDates { last_spring: day(last), first_autumn: day(first) }),
            flows: self.flows.iter().map(|(o, c)| Flow { opens: day(o), closes: day(c) }).collect(),
            ..Yard::named(name)
        }
    }

    /// Days by which its spring comes after that of the reference: half a year in the south.
    fn spring(&self) -> i64 {
        let yard = self.yard(YardId::new("Y"));
        let turn = if yard.hemisphere() == Hemisphere::South { 184 } else { 0 };
        yardwalk::season::Shift::of(&yard).spring + turn
    }

    /// A day of the reference year as it falls here.
    pub(crate) fn at(&self, reference: &str) -> NaiveDate {
        days_after(reference.parse().unwrap(), self.spring())
    }
}

/// The month the bees would be in at the reference, 1 to 12.
pub(crate) fn month_of_the_bees(today: NaiveDate, calendar: &Calendar) -> u32 {
    let turned = |day: NaiveDate| u32::try_from(calendar.side.month0(day)).unwrap() + 1;
    if turned(today) <= 6 {
        turned(days_after(today, -calendar.shift.spring))
    } else {
        turned(days_after(today, calendar.shift.autumn))
    }
}
