//! One hive on one day, as the cases tell it.

use chrono::NaiveDate;
use yardwalk::advice::{Advice, Day, Deed, Prompt, Situation, Urgency, advise};
use yardwalk::model::{
    Action, DayOfYear, Depth, Elevation, Entry, Findings, FreezeDates, Hive, HiveBox, HiveId, HiveState,
    Level, Origin, Place, Practice, Queen, QueenStatus, Role, Temperature, Treatment, Units, Weather, Yard,
    YardId,
};
use yardwalk::season::Calendar;

/// A place the cases name.
#[derive(Debug, Clone, Copy)]
pub(crate) enum At {
    Lakes,
    Prairie,
    Hills,
    Piedmont,
    /// Known by its place only.
    Valley,
    /// The same by its freeze dates.
    ValleyByFreezes,
    HighPark,
    FrontRange,
    Isle,
}

impl At {
    fn place(self) -> Place {
        let (latitude, longitude, feet) = match self {
            Self::Lakes => (43.0, -86.0, 650.0),
            Self::Prairie => (45.0, -93.0, 900.0),
            Self::Hills => (44.5, -73.0, 330.0),
            Self::Piedmont => (34.0, -83.0, 700.0),
            Self::Valley | Self::ValleyByFreezes => (50.0, 9.0, 360.0),
            Self::HighPark => (39.0, -106.0, 9_000.0),
            Self::FrontRange => (40.0, -105.0, 5_400.0),
            Self::Isle => (-43.0, 147.0, 164.0),
        };
        Place { latitude, longitude, elevation: Elevation::from_feet(feet) }
    }

    fn freezes(self) -> Option<FreezeDates> {
        let day = |month, day| DayOfYear::new(month, day).unwrap();
        matches!(self, Self::ValleyByFreezes)
            .then(|| FreezeDates { last_spring: day(4, 28), first_autumn: day(10, 15) })
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
    practice: Practice,
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
            practice: Practice::default(),
        }
    }

    /// The keeper's own practice.
    pub(crate) fn practice(mut self, set: impl FnOnce(&mut Practice)) -> Self {
        set(&mut self.practice);
        self
    }

    /// Said of the hive as it is set up.
    pub(crate) fn with(mut self, set: impl FnOnce(&mut HiveState)) -> Self {
        set(&mut self.state);
        self
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

    /// Another hive of the yard, with what was seen there today.
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

    /// What is advised at the hive, and what the plan of the same day says of it.
    pub(crate) fn advice(&self) -> Told {
        Told { live: self.told(true), plan: self.told(false) }
    }

    fn told(&self, is_live: bool) -> Advice {
        let yard = Yard {
            place: Some(self.at.place()),
            freezes: self.at.freezes(),
            ..Yard::named(YardId::new("Y"))
        };
        let calendar = Calendar::of(&yard, &self.practice, &[], self.today);
        let mut now = self.state.clone();
        now.apply(&self.entry, self.today);
        let stands: Vec<&HiveState> = self.beside.iter().chain([&self.state]).collect();
        let temperature = self.fahrenheit.filter(|_| is_live).map(Temperature::from_fahrenheit);
        let day = Day {
            today: self.today,
            calendar: &calendar,
            weather: Weather { temperature, ..Weather::default() },
            practice: &self.practice,
            units: Units::Us,
            stands: &stands,
        };
        advise(&Situation::of(&now, is_live.then_some(&self.entry), day))
    }
}

/// What was advised, with questions a case asks.
#[derive(Debug)]
pub(crate) struct Told {
    /// At the hive, with what was seen and the air.
    pub(crate) live: Advice,
    /// In the plan, from the log alone.
    pub(crate) plan: Advice,
}

impl Told {
    /// The prompt of a rule, if it stands.
    pub(crate) fn by(&self, rule: &str) -> Option<&Prompt> {
        self.live.prompts.iter().find(|p| p.rule == rule)
    }

    /// Whether a rule's prompt waits, and why.
    pub(crate) fn waits(&self, rule: &str) -> Option<&str> {
        self.live.held.iter().find(|h| h.prompt.rule == rule).map(|h| h.because.as_str())
    }

    /// A prompt that must stand at the hive with this urgency, and that the plan knows of: it stands or waits there.
    pub(crate) fn says(&self, rule: &str, urgency: Urgency) -> &Prompt {
        let is_planned = self.plan.prompts.iter().chain(self.plan.held.iter().map(|h| &h.prompt));
        assert!(
            is_planned.into_iter().any(|p| p.rule == rule),
            "{rule} is not in the plan: {}",
            list(&self.plan)
        );
        self.says_today(rule, urgency)
    }

    /// The same where only the day's temperature can say it.
    pub(crate) fn says_today(&self, rule: &str, urgency: Urgency) -> &Prompt {
        let prompt = self.by(rule).unwrap_or_else(|| panic!("{rule} is silent: {}", self.list()));
        assert_eq!(prompt.urgency, urgency, "{}", prompt.title);
        prompt
    }

    /// Every prompt that stands, at the hive and in the plan.
    pub(crate) fn all(&self) -> impl Iterator<Item = &Prompt> {
        self.live.prompts.iter().chain(&self.plan.prompts)
    }

    /// Those that stand at the hive and do one of these.
    pub(crate) fn doing(&self, deeds: &[Deed]) -> Vec<&Prompt> {
        self.live.prompts.iter().filter(|p| p.deeds.iter().any(|d| deeds.contains(d))).collect()
    }

    /// The one prompt that feeds.
    pub(crate) fn food(&self) -> &Prompt {
        let food = self.doing(&[Deed::GivesSyrup, Deed::FeedsSolid]);
        assert_eq!(food.len(), 1, "one way to feed: {}", self.list());
        food.first().unwrap()
    }

    /// Every word of every prompt that stands at the hive.
    pub(crate) fn text(&self) -> String {
        self.live.prompts.iter().map(words).collect()
    }

    /// Every word of what stands or waits at the hive.
    pub(crate) fn text_of_all(&self) -> String {
        self.live.prompts.iter().chain(self.live.held.iter().map(|h| &h.prompt)).map(words).collect()
    }

    /// No prompt that stands, at the hive or in the plan, does one of these.
    pub(crate) fn never(&self, deeds: &[Deed]) {
        for prompt in self.all() {
            let does: Vec<_> = prompt.deeds.iter().filter(|d| deeds.contains(d)).collect();
            assert!(does.is_empty(), "`{}` would {does:?}", prompt.title);
        }
    }

    /// The same at the hive alone, where only the day's temperature can say it.
    pub(crate) fn never_today(&self, deeds: &[Deed]) {
        let told = self.doing(deeds);
        assert!(told.is_empty(), "{}", self.list());
    }

    /// No prompt that stands, at the hive or in the plan, holds one of these words.
    pub(crate) fn never_in_words(&self, unsaid: &[&str]) {
        for prompt in self.all() {
            let text = words(prompt).to_lowercase();
            for word in unsaid {
                assert!(!text.contains(&word.to_lowercase()), "`{word}` in {text}");
            }
        }
    }

    /// The same of its words.
    pub(crate) fn mentions(&self, said: &[&str]) {
        let text = self.text().to_lowercase();
        for word in said {
            assert!(text.contains(&word.to_lowercase()), "no `{word}`: {}\n{text}", self.list());
        }
    }

    pub(crate) fn list(&self) -> String {
        list(&self.live)
    }
}

fn words(p: &Prompt) -> String {
    format!("{}\n{}\n{}\n", p.title, p.why, p.how.join("\n"))
}

fn list(advice: &Advice) -> String {
    let stands: Vec<String> =
        advice.prompts.iter().map(|p| format!("{} {}", p.urgency.word(), p.title)).collect();
    let held: Vec<String> =
        advice.held.iter().map(|h| format!("({}: {})", h.prompt.title, h.because)).collect();
    format!("{} | {}", stands.join("; "), held.join("; "))
}
