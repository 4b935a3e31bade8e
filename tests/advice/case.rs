//! One hive on one day, as the cases tell it.

use chrono::NaiveDate;
use yardwalk::advice::{Advice, Day, Prompt, Situation, Urgency, advise};
use yardwalk::model::{
    Action, Depth, Elevation, Entry, Findings, Hive, HiveBox, HiveId, HiveState, Level, Origin, Place,
    Practice, Queen, QueenStatus, Role, Temperature, Treatment, Units, Weather, Yard, YardId,
};
use yardwalk::season::Calendar;

/// A place the cases name.
#[derive(Debug, Clone, Copy)]
pub(crate) enum At {
    Lakes,
    Hills,
    Piedmont,
}

impl At {
    fn place(self) -> Place {
        let (latitude, longitude, feet) = match self {
            Self::Lakes => (43.0, -86.0, 650.0),
            Self::Hills => (44.5, -73.0, 330.0),
            Self::Piedmont => (34.0, -83.0, 700.0),
        };
        Place { latitude, longitude, elevation: Elevation::from_feet(feet) }
    }
}

pub(crate) fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// A hive with its log and the yard around it.
#[derive(Debug, Clone)]
pub(crate) struct Case {
    at: At,
    state: HiveState,
    beside: Vec<HiveState>,
    today: NaiveDate,
    fahrenheit: Option<f64>,
    entry: Entry,
}

impl Case {
    /// So many boxes of ten deep frames, overwintered, queen laying, on a day.
    pub(crate) fn deeps(boxes: usize, today: &str) -> Self {
        Self::of(
            vec![HiveBox::new(Depth::Deep, 10, Role::Nest); boxes],
            Origin::Overwintered,
            "2025-05-01",
            today,
        )
    }

    /// A stack, how and when its colony came, and the day.
    pub(crate) fn of(boxes: Vec<HiveBox>, origin: Origin, came: &str, today: &str) -> Self {
        let hive = Hive::new(
            HiveId::new("H"),
            origin,
            day(came),
            boxes,
            Queen::of_status(QueenStatus::Laying, None),
        );
        Self {
            at: At::Lakes,
            state: HiveState::start(&hive, &YardId::new("Y")),
            beside: Vec::new(),
            today: day(today),
            fahrenheit: None,
            entry: Entry::blank(HiveId::new("H")),
        }
    }

    pub(crate) fn at(mut self, at: At) -> Self {
        self.at = at;
        self
    }

    pub(crate) fn air(mut self, fahrenheit: f64) -> Self {
        self.fahrenheit = Some(fahrenheit);
        self
    }

    /// Done on an earlier day.
    pub(crate) fn did(mut self, on: &str, actions: &[Action]) -> Self {
        let mut entry = Entry::blank(HiveId::new("H"));
        entry.actions = actions.to_vec();
        self.state.apply(&entry, day(on));
        self
    }

    /// Seen on an earlier day.
    pub(crate) fn saw(mut self, on: &str, set: impl FnOnce(&mut Findings)) -> Self {
        let mut entry = Entry::blank(HiveId::new("H"));
        set(&mut entry.findings);
        self.state.apply(&entry, day(on));
        self
    }

    /// Seen today.
    pub(crate) fn sees(mut self, set: impl FnOnce(&mut Findings)) -> Self {
        set(&mut self.entry.findings);
        self
    }

    /// A medium honey box since a day.
    pub(crate) fn honey_box(self, since: &str) -> Self {
        self.did(
            since,
            &[Action::AddBox {
                depth: Depth::Medium,
                frames: 10,
                role: Role::Super,
                drawn: 10,
                level: Level::Top,
            }],
        )
    }

    /// A course of treatment.
    pub(crate) fn treated(self, treatment: Treatment, from: &str, until: &str, ended: Option<&str>) -> Self {
        let begun = self.did(from, &[Action::Treat { treatment, until: day(until) }]);
        match ended {
            Some(on) => begun.did(on, &[Action::EndTreatment { treatment }]),
            None => begun,
        }
    }

    /// Another hive of the yard.
    pub(crate) fn beside(mut self, name: &str, set: impl FnOnce(&mut Findings)) -> Self {
        let hive = Hive::new(
            HiveId::new(name),
            Origin::Overwintered,
            day("2025-05-01"),
            vec![HiveBox::new(Depth::Deep, 10, Role::Nest)],
            Queen::of_status(QueenStatus::Laying, None),
        );
        let mut state = HiveState::start(&hive, &YardId::new("Y"));
        let mut entry = Entry::blank(HiveId::new(name));
        set(&mut entry.findings);
        state.apply(&entry, self.today);
        self.beside.push(state);
        self
    }

    /// What is advised.
    pub(crate) fn advice(&self) -> Told {
        let yard = Yard {
            name: YardId::new("Y"),
            place: Some(self.at.place()),
            formerly: Vec::new(),
            freezes: None,
            note: String::new(),
            hives: Vec::new(),
        };
        let practice = Practice::default();
        let calendar = Calendar::of(&yard, &practice, &[], self.today);
        let mut now = self.state.clone();
        now.apply(&self.entry, self.today);
        let stands: Vec<&HiveState> = self.beside.iter().chain([&self.state]).collect();
        let day = Day {
            today: self.today,
            calendar: &calendar,
            weather: Weather {
                temperature: self.fahrenheit.map(Temperature::from_fahrenheit),
                ..Weather::default()
            },
            practice: &practice,
            units: Units::Us,
            stands: &stands,
        };
        Told(advise(&Situation::of(&now, Some(&self.entry), day)))
    }
}

/// What was advised, with questions a case asks.
#[derive(Debug)]
pub(crate) struct Told(pub(crate) Advice);

impl Told {
    /// The prompt of a rule, if it stands.
    pub(crate) fn by(&self, rule: &str) -> Option<&Prompt> {
        self.0.prompts.iter().find(|p| p.rule == rule)
    }

    /// Whether a rule's prompt waits, and why.
    pub(crate) fn waits(&self, rule: &str) -> Option<&str> {
        self.0.held.iter().find(|h| h.prompt.rule == rule).map(|h| h.because.as_str())
    }

    /// A prompt that must stand with this urgency.
    pub(crate) fn says(&self, rule: &str, urgency: Urgency) -> &Prompt {
        let prompt = self.by(rule).unwrap_or_else(|| panic!("{rule} is silent: {}", self.list()));
        assert_eq!(prompt.urgency, urgency, "{}", prompt.title);
        prompt
    }

    /// Every word of every prompt that stands.
    pub(crate) fn text(&self) -> String {
        let all = |p: &Prompt| format!("{}\n{}\n{}\n", p.title, p.why, p.how.join("\n"));
        self.0.prompts.iter().map(all).collect()
    }

    /// No prompt that stands does one of these.
    pub(crate) fn never(&self, deeds: &[yardwalk::advice::Deed]) {
        for prompt in &self.0.prompts {
            let does: Vec<_> = prompt.deeds.iter().filter(|d| deeds.contains(d)).collect();
            assert!(does.is_empty(), "`{}` would {does:?}", prompt.title);
        }
    }

    pub(crate) fn list(&self) -> String {
        let stands: Vec<String> =
            self.0.prompts.iter().map(|p| format!("{} {}", p.urgency.word(), p.title)).collect();
        let held: Vec<String> =
            self.0.held.iter().map(|h| format!("({}: {})", h.prompt.title, h.because)).collect();
        format!("{} | {}", stands.join("; "), held.join("; "))
    }
}
