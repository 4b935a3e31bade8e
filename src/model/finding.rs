//! Findings: what was seen at a hive. Each is optional, for not looked is not none.
//!
//! One row of the table below makes a finding: its field in a visit file, its place on the screen, its range
//! check, and its last seen value in the folded state. The order is the order a hive is opened in.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::answerable::{Answerable, Bees, Cells, Frames, Kind, Mites, MitesADay, Percent, Value, choice};
use super::units::{Mass, Temperature};

choice! {
    /// How the bees fly, from the entrance.
    Flight {
        /// No bee in the air.
        #[serde(rename = "NoneSeen", alias = "None")]
        None => "none",
        /// A few.
        Few => "few",
        /// A steady stream.
        Many => "many",
    }
}
choice! {
    /// Whether other bees steal here.
    Robbing {
        /// No sign.
        #[serde(rename = "NoneSeen", alias = "None")]
        None => "none",
        /// Probing at cracks, a nervous entrance.
        Probing => "probing",
        /// Fighting, wax crumbs, bees leaving heavy from a weak hive.
        Robbed => "robbing",
    }
}
choice! {
    /// What lifting the back of the hive says.
    Heft {
        /// Comes up with two fingers.
        Light => "light",
        /// Takes a hand.
        Fair => "fair",
        /// Nailed to the ground.
        Heavy => "heavy",
    }
}
choice! {
    /// How a hive was found where nothing about it needed writing down.
    Fine {
        /// Nothing wrong from outside; it stayed closed.
        NotOpened => "not opened",
        /// Nothing wrong; the frames were looked through.
        LookedThrough => "looked through",
    }
}
choice! {
    /// What the lowest nest box holds.
    BottomBox {
        /// Drawn comb with neither brood nor food, and hardly a bee.
        Empty => "empty",
        /// Foundation, or no comb worth the name.
        Bare => "bare",
        /// Food but no brood.
        Stores => "stores only",
        /// Brood, all of it here or the nest mainly here.
        Brood => "brood",
        /// One brood nest on both sides of the joint between the boxes.
        Joint => "brood across the joint",
    }
}
choice! {
    /// The look of the sealed brood.
    Pattern {
        /// Few empty cells.
        Solid => "solid",
        /// Many empty cells.
        Spotty => "spotty",
        /// Domed drone caps in worker cells.
        Drone => "drone only",
    }
}
choice! {
    /// How far nectar has taken the brood's cells.
    Backfill {
        /// None to speak of.
        #[serde(rename = "NoneSeen", alias = "None")]
        None => "none",
        /// Some cells, brood still laid around them.
        Patch => "a patch",
        /// The queen has hardly a cell left to lay in.
        Choked => "choked",
    }
}
choice! {
    /// The kind of queen cells seen.
    CellKind {
        /// Empty cups only.
        Cups => "cups only",
        /// Many, on edges and bottoms, fed or sealed.
        Swarm => "swarm",
        /// One to three on the face of a comb.
        Supersedure => "supersedure",
        /// Drawn from worker cells after the queen was lost.
        Emergency => "emergency",
    }
}
choice! {
    /// Signs of disease in the brood or on the bees.
    Disease {
        /// None seen.
        #[serde(rename = "NoneSeen", alias = "None")]
        None => "none",
        /// Chalk mummies.
        Chalk => "chalk mummies",
        /// Twisted, yellowed larvae in open cells.
        Twisted => "twisted larvae",
        /// Sunken, holed caps or larvae that rope.
        Sunken => "sunken or ropy",
        /// Crumpled wings.
        Wings => "crumpled wings",
        /// Larvae dead on their backs as in a sac, under holed caps.
        Sac => "sacbrood",
    }
}
choice! {
    /// What preys on the hive or lives in it.
    Pests {
        /// None seen.
        #[serde(rename = "NoneSeen", alias = "None")]
        None => "none",
        /// Small hive beetles.
        Beetles => "hive beetles",
        /// Wax moth.
        Moth => "wax moth",
        /// Mice.
        Mice => "mice",
        /// Wasps or hornets.
        Wasps => "wasps",
        /// A bear, skunk or other that scratches and overturns.
        Bear => "bear or skunk",
    }
}
choice! {
    /// The state of the cover and of what lies under it.
    Cover {
        /// Dry and tight.
        Sound => "sound",
        /// Wet or moldy inside.
        Damp => "damp inside",
        /// Cracked, rotten or warped.
        Broken => "old or broken",
    }
}
choice! {
    /// How mites on bees were counted.
    CountBy {
        /// In alcohol.
        Wash => "alcohol wash",
        /// In powdered sugar: it finds fewer.
        Roll => "sugar roll",
    }
}

impl Disease {
    /// Whether it is a sign of a foulbrood: a reason to close the hive and call the inspector.
    pub fn is_brood_disease(self) -> bool {
        match self {
            Self::Twisted | Self::Sunken => true,
            Self::None | Self::Chalk | Self::Wings | Self::Sac => false,
        }
    }
}

choice! {
    /// How the colony takes being opened.
    Temper {
        /// Stays on the combs.
        Calm => "calm",
        /// Runs and flies up.
        Lively => "lively",
        /// Follows and stings.
        Hot => "hot",
    }
}
choice! {
    /// What is left in the feeder.
    FeederLevel {
        /// Dry.
        Empty => "empty",
        /// Some.
        Part => "part full",
        /// Untouched or nearly.
        Full => "full",
    }
}

choice! {
    /// Where on the hive a finding is made, in the order a hive is opened.
    Part {
        /// Before the lid comes off.
        Outside => "Outside",
        /// Lid off, no frame lifted.
        Lid => "Lid",
        /// The honey boxes.
        Supers => "Supers",
        /// The brood boxes: frames are lifted.
        Nest => "Nest",
        /// The lowest box and the floor.
        Bottom => "Bottom",
    }
}

/// A value and the day it was seen.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Seen<T> {
    /// The day.
    pub on: NaiveDate,
    /// What was seen.
    pub value: T,
}

/// A finding one of whose answers is that there was none of it.
trait NoneSeen {
    const NONE: Self;
}

macro_rules! none_seen {
    ($($ty:ident),+) => { $( impl NoneSeen for $ty { const NONE: Self = Self::None; } )+ };
}
none_seen!(Flight, Robbing, Backfill, Disease, Pests);

/// Reads a field that stands in the file: a `None` written by hand means none seen, for what was not looked at is
/// left out.
fn none_seen<'de, D, T>(deserializer: D) -> Result<Option<T>, D::Error>
where
    D: serde::Deserializer<'de>,
    T: NoneSeen + Deserialize<'de>,
{
    Option::<T>::deserialize(deserializer).map(|answer| Some(answer.unwrap_or(T::NONE)))
}

macro_rules! findings {
    ($( $(#[$doc:meta])* $field:ident, $variant:ident: $ty:ty $(= $none:ident)?, $part:ident, $label:literal, $help:literal, $well:expr; )+) => {
        /// What was seen at one hive in one visit.
        #[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
        #[serde(deny_unknown_fields, default)]
        pub struct Findings {
            $(
                $(#[$doc])*
                $(
                    #[doc = concat!("\n\n`", stringify!($none), "` written by hand is an answer: none seen.")]
                    #[serde(deserialize_with = "none_seen")]
                )?
                #[serde(skip_serializing_if = "Option::is_none")]
                pub $field: Option<$ty>,
            )+
        }

        /// The name of a finding.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub enum Finding { $( $(#[$doc])* $variant ),+ }

        /// For each finding, the last value seen and when.
        #[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
        #[serde(deny_unknown_fields, default)]
        pub struct LastSeen {
            $( $(#[$doc])* #[serde(skip_serializing_if = "Option::is_none")] pub $field: Option<Seen<$ty>>, )+
        }

        impl Finding {
            /// Every finding, in the order a hive is opened.
            pub const ALL: &'static [Self] = &[ $( Self::$variant ),+ ];

            /// The words beside the field.
            pub fn label(self) -> &'static str { match self { $( Self::$variant => $label ),+ } }

            /// One line on how to look.
            pub fn help(self) -> &'static str { match self { $( Self::$variant => $help ),+ } }

            /// Where on the hive it is found.
            pub fn part(self) -> Part { match self { $( Self::$variant => Part::$part ),+ } }

            /// How it is answered.
            pub fn kind(self) -> Kind { match self { $( Self::$variant => <$ty as Answerable>::KIND ),+ } }

            /// What a look finds where all is well and nothing was known before; none where that cannot be guessed.
            pub fn all_well(self) -> Option<Value> { match self { $( Self::$variant => $well ),+ } }

            /// Its field in a visit file.
            pub fn field(self) -> &'static str { match self { $( Self::$variant => stringify!($field) ),+ } }
        }

        impl Findings {
            /// The value of a finding, if it was made.
            pub fn get(&self, finding: Finding) -> Option<Value> {
                match finding { $( Finding::$variant => self.$field.map(Answerable::value) ),+ }
            }

            /// Each finding that was made, with its value. Quicker than asking for one after the other: most were not.
            pub(super) fn each_made(&self, mut take: impl FnMut(Finding, Value)) {
                $( if let Some(value) = self.$field { take(Finding::$variant, value.value()); } )+
            }

            /// Sets or clears a finding; `false` where the value is of another kind or out of range.
            pub fn set(&mut self, finding: Finding, value: Option<Value>) -> bool {
                if value.is_some_and(|v| !finding.kind().admits(v)) { return false; }
                match finding {
                    $( Finding::$variant => self.$field = value.and_then(Answerable::from_value), )+
                }
                true
            }
        }

        impl LastSeen {
            /// Takes in what was found on a day; findings not made leave the older ones standing.
            pub fn absorb(&mut self, findings: &Findings, on: NaiveDate) {
                $( if let Some(value) = findings.$field { self.$field = Some(Seen { on, value }); } )+
            }

            /// The last value of a finding and its day.
            pub fn get(&self, finding: Finding) -> Option<(NaiveDate, Value)> {
                match finding { $( Finding::$variant => self.$field.map(|s| (s.on, s.value.value())) ),+ }
            }
        }
    };
}

findings! {
    /// Found fine.
    fine, Fine: Fine, Outside, "Fine", "All as it should be: not opened, or looked through.", None;
    /// Whether the colony is dead.
    dead, Dead: bool, Outside, "Colony dead", "No bee alive, or a handful without a queen.", None;
    /// Flight at the entrance.
    flight, Flight: Flight = None, Outside, "Flight", "Watch the entrance for a minute before the smoke.", None;
    /// Whether pollen comes in.
    pollen, Pollen: bool, Outside, "Pollen coming in", "Colored loads on the legs of homing bees.", None;
    /// Signs of robbing.
    robbing, Robbing: Robbing = None, Outside, "Robbing", "Fighting, bees at the cracks, wax crumbs on the board.", Some(Value::Choice(0));
    /// Whether the entrance is free.
    entrance_clear, EntranceClear: bool, Outside, "Entrance clear", "Rake out dead bees and snow with a bent wire.", None;
    /// Cracks and gaps bees or wind pass through.
    cracks, Cracks: bool, Outside, "Cracks or gaps", "Where wind, rain or robbers get in.", Some(Value::YesNo(false));
    /// The back of the hive, lifted.
    heft, Heft: Heft, Outside, "Heft", "Lift the back edge an inch. Bend the knees; ask for help over 50 lb (23 kg).", None;
    /// The whole hive, weighed.
    weight, Weight: Mass, Outside, "Weight, whole hive", "Both sides by luggage scale, added.", None;
    /// Brown streaks on the front.
    droppings, Droppings: bool, Outside, "Droppings", "Brown streaks on the front or over the combs.", Some(Value::YesNo(false));
    /// Bees dying in a heap.
    dying, Dying: bool, Outside, "Heap of dead bees", "Many at once before the hive, trembling, tongues out.", Some(Value::YesNo(false));
    /// What preys on it.
    pests, Pests: Pests = None, Outside, "Pests", "Beetles, moth, mice, wasps, or claw marks and torn sod.", Some(Value::Choice(0));
    /// Mites on a board under the hive.
    board, Board: MitesADay, Outside, "Board, mites a day", "Mites on a sticky board, by the days it lay under the hive.", None;
    /// The highest temperature of the day, by the forecast.
    high_today, HighToday: Temperature, Outside, "High today", "The highest of the day by the forecast; a treatment asks for it.", None;
    /// The highest temperature of the next three days, by the forecast.
    high_soon, HighSoon: Temperature, Outside, "High, next 3 days", "The highest of the next three days by the forecast.", None;
    /// Cover.
    cover, Cover: Cover, Lid, "Cover", "Dry and tight, or wet, moldy, cracked.", Some(Value::Choice(0));
    /// Temper.
    temper, Temper: Temper, Lid, "Temper", "How they took the lid coming off.", None;
    /// Feeder.
    feeder, Feeder: FeederLevel, Lid, "Feeder", "What is left in it.", None;
    /// Seams of bees seen from above.
    seams, Seams: Frames, Lid, "Seams of bees", "Gaps between frames filled with bees, from above.", None;
    /// Share of super frames filled.
    super_full, SuperFull: Percent, Supers, "Super filled", "Share of the top honey box that is drawn and filled.", Some(Value::Percent(50.0));
    /// Share of honey capped.
    capped, Capped: Percent, Supers, "Honey capped", "Share of the honey in the boxes that is under wax.", Some(Value::Percent(0.0));
    /// Moisture of the honey.
    moisture, Moisture: Percent, Supers, "Honey moisture", "Refractometer, corrected to 20 C.", None;
    /// Frames of bees.
    bees, Bees: Frames, Nest, "Frames of bees", "Frames covered on both sides, all boxes.", None;
    /// Frames of brood.
    brood, Brood: Frames, Nest, "Frames of brood", "Frames with brood, whole ones: two halves are one.", None;
    /// Eggs.
    eggs, Eggs: bool, Nest, "Eggs", "Standing in the cell: laid in the last three days.", Some(Value::YesNo(true));
    /// Open brood.
    larvae, Larvae: bool, Nest, "Open brood", "White larvae: laid four to nine days ago.", None;
    /// Sealed worker brood.
    sealed, Sealed: bool, Nest, "Sealed brood", "Under flat tan caps: laid nine to twenty-one days ago.", None;
    /// The queen herself.
    queen_seen, QueenSeen: bool, Nest, "Queen seen", "Not needed where there are eggs.", None;
    /// Brood pattern.
    pattern, Pattern: Pattern, Nest, "Brood pattern", "Few gaps, many gaps, or drone caps in worker cells.", None;
    /// Queen cells by number.
    cells, Cells: Cells, Nest, "Queen cells", "Tip the box and look along the bottom bars; then the faces.", Some(Value::Count(0));
    /// Queen cells by kind.
    cell_kind, CellKind: CellKind, Nest, "Kind of cells", "By number and place: many on edges, or few on a face.", None;
    /// Honey in the nest.
    honey, Honey: Frames, Nest, "Frames of honey", "Whole frames of stores in the nest boxes.", None;
    /// Nectar in the brood's cells.
    backfill, Backfill: Backfill = None, Nest, "Nectar in the nest", "Shining cells where eggs should be.", Some(Value::Choice(0));
    /// Frames of the nest that are drawn.
    drawn, Drawn: Frames, Nest, "Frames drawn", "Nest frames with comb built out, not foundation.", None;
    /// Drawn frames on the truck for this hive.
    spare_drawn, SpareDrawn: Frames, Nest, "Drawn frames left", "Drawn, empty frames on the truck that could go in.", None;
    /// Signs of disease.
    disease, Disease: Disease = None, Nest, "Disease signs", "Sunken caps, larvae off-color or off-shape, smell.", Some(Value::Choice(0));
    /// Mites in the wash.
    mites, Mites: Mites, Nest, "Mites in the wash", "Half a cup of bees from open brood, queen found first.", Some(Value::Count(0));
    /// Bees in the wash.
    wash_bees, WashBees: Bees, Nest, "Bees in the wash", "Half a US cup (118 mL) is about 300.", None;
    /// How they were counted.
    count_by, CountBy: CountBy, Nest, "Counted by", "Alcohol unless you say otherwise; a sugar roll finds fewer.", None;
    /// The lowest nest box.
    bottom_box, BottomBox: BottomBox, Bottom, "Bottom box", "Tip the upper box and look down before any frame is lifted.", Some(Value::Choice(3));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_finding_can_be_set_read_and_cleared() {
        for finding in Finding::ALL {
            let value = match finding.kind() {
                Kind::YesNo => Value::YesNo(true),
                Kind::Choice(words) => Value::Choice(words.len() - 1),
                Kind::Count(most) => Value::Count(most),
                Kind::Frames(most) => Value::Frames(most),
                Kind::Percent => Value::Percent(50.0),
                Kind::Mass => Value::Mass(Mass::from_kilograms(40.0)),
                Kind::Temperature => Value::Temperature(Temperature::from_fahrenheit(75.0)),
            };
            let mut findings = Findings::default();
            assert!(findings.set(*finding, Some(value)), "{finding:?}");
            assert_eq!(findings.get(*finding), Some(value));
            let mut last = LastSeen::default();
            let on = NaiveDate::from_ymd_opt(2026, 5, 1).unwrap();
            last.absorb(&findings, on);
            assert_eq!(last.get(*finding), Some((on, value)));
            assert!(findings.set(*finding, None));
            assert!(findings.is_empty());
        }
    }

    #[test]
    fn labels_and_help_fit_the_panel_at_80_columns() {
        for finding in Finding::ALL {
            assert!(finding.label().len() <= 18, "{}", finding.label());
            assert!(finding.help().len() <= 76, "{}", finding.help());
        }
    }

    #[test]
    fn findings_stand_in_the_order_a_hive_is_opened() {
        assert!(Finding::ALL.windows(2).all(|pair| pair[0].part() <= pair[1].part()));
    }

    #[test]
    fn absurd_findings_are_named() {
        let wash = |mites, bees| Findings {
            mites: Some(Mites(mites)),
            wash_bees: Some(Bees(bees)),
            ..Findings::default()
        };
        assert!(wash(600, 300).faults().is_empty());
        assert_eq!(wash(601, 300).faults().len(), 1);
        assert_eq!(wash(9_000, 300).faults().len(), 2);
        assert_eq!(wash(0, 0).faults().len(), 1);
        let frames = Findings { bees: Some(Frames(400.0)), ..Findings::default() };
        assert!(frames.faults()[0].contains("0 to 60 frames"));
        let cold =
            |brood| Findings { bees: Some(Frames(1.0)), brood: Some(Frames(brood)), ..Findings::default() };
        assert!(cold(4.0).faults().is_empty());
        assert_eq!(cold(4.25).faults().len(), 1);
    }
}
