//! A rehearsal: looks are answered by simulated colonies, and the keeper says when to come back.

use chrono::NaiveDate;

use super::{Done, Effect, Refusal, Session};
use crate::model::{Finding, HiveId, Rehearsal, Temperature, Weather, days_after};
use crate::plan;
use crate::rehearsal::{Review, Year};
use crate::wording;

impl Session {
    /// The rehearsal this book is of; none where its hives are real.
    pub fn rehearsal(&self) -> Option<&Rehearsal> {
        self.rehearsal.as_ref()
    }

    /// Says that this book is of a rehearsal.
    pub fn set_rehearsal(&mut self, rehearsal: Option<Rehearsal>) {
        self.follows_clock &= rehearsal.is_none();
        self.rehearsal = rehearsal;
    }

    /// What is said as a rehearsal is opened: that it is one, and where its story stands.
    pub(super) fn greeting(&self) -> Option<String> {
        let rehearsal = self.rehearsal.as_ref()?;
        Some(match &rehearsal.scenario {
            _ if rehearsal.is_over() => "This rehearsal is over: D shows what really was.".to_owned(),
            Some(scenario) => format!("{}. D tells the story and chooses when to come back.", scenario.title),
            None => "Simulated colonies. At a hive Enter looks; D here chooses when to come back.".to_owned(),
        })
    }

    /// The weather of the day in a rehearsal.
    pub fn rehearsed_weather(&self) -> Option<Weather> {
        let rehearsal = self.rehearsal.as_ref()?;
        let year = Year::on(rehearsal, &self.book, self.today);
        let weather = year.weather();
        Some(Weather {
            temperature: Some(Temperature::from_celsius(weather.at_visit().round())),
            wind: None,
            rain: Some(weather.rain),
        })
    }

    pub(super) fn look_at(&mut self, hive: &HiveId, finding: Finding) -> Result<Done, Refusal> {
        let Some(rehearsal) = &self.rehearsal else {
            return Err(Refusal::NotHere(
                "Only in a rehearsal do the bees answer: look, and type it.".to_owned(),
            ));
        };
        let open = self.visit.as_ref().ok_or_else(|| Refusal::NotHere("No visit is open.".to_owned()))?;
        let entry = open.entry(hive);
        match Year::on(rehearsal, &self.book, self.today).look(&self.book, &entry, finding) {
            Some(value) => self.find(hive, finding, Some(value)),
            None => Ok(Done::saying(format!("{}: there is nothing to see of it today.", finding.label()))),
        }
    }

    /// Lets the season go on to a day, to the last at most.
    pub(super) fn come_back(&mut self, day: NaiveDate) -> Result<Done, Refusal> {
        self.may_write()?;
        self.no_visit_open()?;
        let units = self.book.units;
        let Some(rehearsal) = &self.rehearsal else {
            return Err(Refusal::NotHere("Time goes on by itself: this is no rehearsal.".to_owned()));
        };
        if rehearsal.is_over() {
            return Err(Refusal::NotHere("This rehearsal is over: what really was stands here.".to_owned()));
        }
        if day <= self.today {
            let today = wording::day(units, self.today);
            return Err(Refusal::Cannot(format!("It is {today} already: choose a later day.")));
        }
        let today = day.min(rehearsal.until);
        let rehearsal = Box::new(Rehearsal { today, ..rehearsal.clone() });
        Ok(Done::default().with([Effect::SaveRehearsal(rehearsal)]))
    }

    pub(super) fn came_back(&mut self, rehearsal: Rehearsal) -> Done {
        let (day, is_over) = (rehearsal.today, rehearsal.is_over());
        self.rehearsal = Some(rehearsal);
        self.open_on(day);
        let day = wording::weekday_and_day(self.book.units, day);
        Done::saying(if is_over {
            format!("It is {day}: the rehearsal is over.")
        } else {
            format!("It is {day} now.")
        })
    }

    /// Days a keeper may choose to come back on, in words: tomorrow, a week, two, four, the end.
    pub fn days_to_come_back(&self) -> Vec<(String, NaiveDate)> {
        let Some(rehearsal) = &self.rehearsal else { return Vec::new() };
        let ahead = [(1, "tomorrow"), (7, "in a week"), (14, "in two weeks"), (28, "in four weeks")];
        let mut days: Vec<(String, NaiveDate)> = ahead
            .into_iter()
            .map(|(days, words)| (words.to_owned(), days_after(self.today, days)))
            .filter(|(_, day)| *day < rehearsal.until)
            .collect();
        days.push(("at the end, when what really was is told".to_owned(), rehearsal.until));
        days
    }

    /// The next trip of the plan: its day, and what it is for.
    pub fn next_trip(&self) -> Option<(NaiveDate, String)> {
        let rehearsal = self.rehearsal.as_ref()?;
        let yard = self.yard(&rehearsal.yard)?;
        let pace = plan::pace(&self.book, self.today);
        let tomorrow = days_after(self.today, 1);
        let trip = plan::trips(&mut self.outlook(yard), tomorrow, pace).into_iter().next()?;
        let words = trip.needs.first().map(|need| need.title.clone()).unwrap_or_default();
        Some((trip.on, words)).filter(|(day, _)| *day < rehearsal.until)
    }

    /// What really was, once the rehearsal is over.
    pub fn review(&self) -> Option<Review> {
        Review::of(self.rehearsal.as_ref()?, &self.book)
    }
}
