//! The table of actions.
//!
//! A row reads: name, fields (`field: Type = "label", "help"`, with `range` where it is a whole number), then the
//! words under which it is offered with its likely amounts, what it is called once done, what it takes from the truck,
//! what cannot be, and what it changes in the hive's state. A row that lacks one of these does not compile.

use std::slice::Iter;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::field::{Askable, Spec, spec};
use super::{About, Around, Asked, Authority, Given, Level, Loss, Mix, Offered, Treatment, box_word};
use crate::model::days_after;
use crate::model::fold::HiveState;
use crate::model::hive::{Depth, Entrance, FeederKind, HiveBox, Origin, Queen, Role, stack_faults};
use crate::model::medicine::Medicine;
use crate::model::names::{HiveId, visible};
use crate::model::stack::stack_words;
use crate::model::supply::Supply;
use crate::model::units::{Mass, Units, Volume};

macro_rules! actions {
    ($(
        $(#[$doc:meta])*
        $variant:ident $({ $( $(#[$field_doc:meta])* $field:ident: $ty:ty = $label:literal, $help:literal $(, $key:ident $of:expr)*; )+ })?
            $( offered $offer:literal |$around:ident| $likely:expr; )*
            done |$units:ident| $done:expr;
            uses $uses:expr;
            fault $fault:expr;
            takes |$state:ident, $on:ident| $takes:expr;
    )+) => {
        /// Something done at a hive.
        #[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
        #[serde(deny_unknown_fields)]
        pub enum Action { $( $(#[$doc])* $variant $({ $( $(#[$field_doc])* $field: $ty ),+ })? ),+ }

        impl Action {
            /// Everything that can be logged at a hive, with what is likely filled in.
            pub fn offered(around: &Around<'_>) -> Vec<Offered> {
                let mut all = Vec::new();
                $( $( {
                    let $around = around;
                    all.push(Offered { words: $offer, action: $likely });
                } )* )+
                all
            }

            /// What was done, in words and the book's units.
            pub fn words(&self, units: Units) -> String {
                match self { $( Self::$variant $({ $($field),+ })? => {
                    let $units = units;
                    $($( let _ = $field; )+)?
                    let _ = $units;
                    $done
                } )+ }
            }

            /// What it takes from the truck: the supply, and pieces, liters or kilograms of it.
            pub fn uses(&self) -> Option<(Supply, f64)> {
                match self { $( Self::$variant $({ $($field),+ })? => { $($( let _ = $field; )+)? $uses } )+ }
            }

            /// What cannot be, in words.
            pub fn fault(&self) -> Option<String> {
                match self { $( Self::$variant $({ $($field),+ })? => {
                    $($( if let Some(fault) = $field.out_of_range(&Spec { $($key: $of,)* ..spec($label, $help) }) {
                        return Some(fault);
                    } )+)?
                    $fault
                } )+ }
            }

            /// The fields that ask for its amounts, with these proposed.
            pub fn asks(&self, about: &About<'_>) -> Vec<Asked> {
                let mut asks = Vec::new();
                match self { $( Self::$variant $({ $($field),+ })? => {
                    $($( {
                        let spec = Spec { $($key: $of,)* ..spec($label, $help) };
                        asks.extend(spec.opened($field.asks(&spec, about), about));
                    } )+)?
                } )+ }
                let _ = about;
                asks
            }

            /// The same action with the amounts that were given for [`asks`](Self::asks), in its order.
            ///
            /// # Errors
            /// Says which field cannot be read, and how it is written.
            pub fn given(&self, about: &About<'_>, given: &mut Iter<'_, Given>) -> Result<Self, String> {
                let action = match self { $( Self::$variant $({ $($field),+ })? => Self::$variant $({
                    $( $field: $field.given(&Spec { $($key: $of,)* ..spec($label, $help) }, about, given)? ),+
                })? ),+ };
                let _ = (about, &given);
                action.fault().map_or(Ok(action), Err)
            }

            /// Takes it into a hive's state. Total: whatever it says, a state comes out.
            pub(in crate::model) fn change(&self, state: &mut HiveState, on: NaiveDate) {
                match self { $( Self::$variant $({ $($field),+ })? => {
                    let ($state, $on) = (state, on);
                    $($( let _ = $field; )+)?
                    let _ = (&$state, $on);
                    $takes
                } )+ }
            }

            /// The hives it names besides the one it was done at.
            pub(in crate::model) fn named_hives(&mut self) -> Vec<&mut HiveId> {
                match self { $( Self::$variant $({ $($field),+ })? => {
                    let hives: Vec<Option<&mut HiveId>> = vec![ $($( $field.named_hive() ),+)? ];
                    hives.into_iter().flatten().collect()
                } )+ }
            }

            /// Its name in a visit file.
            pub fn name(&self) -> &'static str {
                match self { $( Self::$variant $({ $($field: _),+ })? => stringify!($variant) ),+ }
            }

            /// The name of every action, in the order of the table.
            pub const NAMES: &'static [&'static str] = &[ $( stringify!($variant) ),+ ];
        }
    };
}

actions! {
    /// A box was put on.
    AddBox {
        /// Its depth.
        depth: Depth = "Depth", "of the box";
        /// Frames it takes.
        frames: u8 = "Frames it takes", "2 to 14", range 2..=14;
        /// Nest or super.
        role: Role = "For", "nest or super";
        /// Frames of it that are drawn.
        drawn: u8 = "Drawn frames", "the rest are foundation", range 0..=14, own true;
        /// Where it went.
        level: Level = "Goes", "where in the stack";
    }
        offered "put on a super" |a| Action::AddBox {
            depth: a.super_depth(), frames: 10, role: Role::Super, drawn: 10, level: Level::AboveNest
        };
        offered "put on a nest box" |a| Action::AddBox {
            depth: a.state.nest_depth(), frames: 10, role: Role::Nest, drawn: 10, level: Level::AboveNest
        };
        done |_units| {
            let comb = match (*drawn, *frames) {
                (0, _) => "foundation".to_owned(),
                (drawn, frames) if drawn >= frames => "drawn".to_owned(),
                (drawn, frames) => format!("{drawn} of {frames} drawn"),
            };
            format!("added a {} {}, {comb}, {}", depth.word(), box_word(*role), level.word())
        };
        uses Some((Supply::Box { depth: *depth, frames: *frames, role: *role }, 1.0));
        fault (drawn > frames).then(|| format!("a box of {frames} frames cannot hold {drawn} drawn ones"));
        takes |state, on| state.add_box(HiveBox::with_drawn(*depth, *frames, *role, *drawn), *level, on);

    /// A box was taken off: the lowest nest box, or the topmost box of a role.
    RemoveBox {
        /// Nest or super.
        role: Role = "Which", "nest box or super";
        /// From where.
        level: Level = "From", "where in the stack";
    }
        offered "took off a box" |_a| Action::RemoveBox { role: Role::Super, level: Level::Top };
        done |_units| format!("took off the {} {}", box_word(*role), level.word());
        uses None;
        fault None;
        takes |state, on| state.remove_box(*role, *level, on);

    /// The whole stack was found or made to be this, bottom to top.
    SetBoxes {
        /// The boxes.
        boxes: Vec<HiveBox> = "Boxes", "as they stand";
    }
        offered "set the boxes as they are now" |a| Action::SetBoxes { boxes: a.state.boxes.clone() };
        done |_units| format!("the boxes are {}", stack_words(boxes));
        uses None;
        fault stack_faults(boxes).into_iter().next().map(|fault| format!("the stack {fault}"));
        takes |state, on| state.set_boxes(boxes, on);

    /// The two lowest nest boxes changed places.
    ReverseBoxes
        offered "reversed the two lowest boxes" |_a| Action::ReverseBoxes;
        done |_units| "reversed the two lowest boxes".to_owned();
        uses None;
        fault None;
        takes |state, on| state.reverse_boxes(on);

    /// Syrup was given.
    FeedSyrup {
        /// How thick.
        mix: Mix = "Syrup", "sugar to water by weight", own true;
        /// How much.
        volume: Volume = "How much", "as 1.5 gal or 4 l", own true;
    }
        offered "fed syrup" |_a| Action::FeedSyrup { mix: Mix::Thin, volume: Volume::from_gallons(1.0) };
        done |units| format!("fed {} of {} syrup", units.volume(*volume), mix.word());
        uses Some((Supply::Syrup(*mix), volume.litres()));
        fault None;
        takes |state, on| state.feed_syrup(*mix, *volume, on);

    /// Dry sugar or fondant was laid over the frames.
    FeedSugar {
        /// How much.
        mass: Mass = "Dry sugar", "as 4 lb or 2 kg", own true;
    }
        offered "fed dry sugar" |_a| Action::FeedSugar { mass: Mass::from_pounds(4.0) };
        done |units| format!("fed {} of dry sugar", units.mass(*mass));
        uses Some((Supply::DrySugar, mass.kilograms()));
        fault None;
        takes |state, on| state.feed_sugar(*mass, on);

    /// Frames of capped honey were given.
    GiveHoney {
        /// How many.
        frames: u8 = "Frames of honey", "from a healthy hive", range 1..=20, own true;
    }
        offered "gave frames of honey" |_a| Action::GiveHoney { frames: 1 };
        done |_units| format!("gave {frames} frame{} of honey", if *frames == 1 { "" } else { "s" });
        uses None;
        fault None;
        takes |state, on| state.give_honey(*frames, on);

    /// Frames of brood with eggs were given: to a weak colony, or as the test whether there is a queen.
    GiveEggs {
        /// How many.
        frames: u8 = "Frames with eggs", "from a healthy hive, without its queen", range 1..=20, own true;
    }
        offered "gave a frame with eggs" |_a| Action::GiveEggs { frames: 1 };
        done |_units| format!("gave {frames} frame{} with eggs", if *frames == 1 { "" } else { "s" });
        uses None;
        fault None;
        takes |state, on| state.eggs_given = Some(on);

    /// A feeder was put on, changed or, with none, taken off.
    SetFeeder {
        /// The feeder now on.
        feeder: Option<FeederKind> = "Feeder now on", "none if it came off", open true;
    }
        offered "put on or took off the feeder" |a| Action::SetFeeder {
            feeder: if a.state.feeder.is_some() { None } else { Some(FeederKind::Frame) }
        };
        done |_units| match feeder {
            Some(kind) => format!("put on a {}", kind.word()),
            None => "took off the feeder".to_owned(),
        };
        uses feeder.map(|kind| (Supply::Feeder(kind), 1.0));
        fault None;
        takes |state, _on| state.set_feeder(*feeder);

    /// The lower entrance was set.
    SetEntrance {
        /// Its width now.
        entrance: Entrance = "Entrance now", "open, reduced or small", own true;
    }
        offered "set the entrance" |a| Action::SetEntrance {
            entrance: if a.state.entrance == Entrance::Open { Entrance::Reduced } else { Entrance::Open }
        };
        done |_units| format!("set the entrance {}", entrance.word());
        uses (*entrance != Entrance::Open).then_some((Supply::Reducer, 1.0));
        fault None;
        takes |state, _on| state.entrance = *entrance;

    /// The upper entrance was opened or closed.
    SetUpperEntrance {
        /// Open now.
        open: bool = "Upper entrance open", "yes or no";
    }
        offered "opened or closed the upper entrance" |a| Action::SetUpperEntrance { open: !a.state.upper_entrance };
        done |_units| format!("{} the upper entrance", if *open { "opened" } else { "closed" });
        uses None;
        fault None;
        takes |state, _on| state.upper_entrance = *open;

    /// The mouse guard was put on or taken off.
    SetMouseGuard {
        /// On now.
        on: bool = "Mouse guard on", "yes or no";
    }
        offered "put on or took off the mouse guard" |a| Action::SetMouseGuard { on: !a.state.mouse_guard };
        done |_units| format!("{} the mouse guard", if *on { "put on" } else { "took off" });
        uses on.then_some((Supply::MouseGuard, 1.0));
        fault None;
        takes |state, _day| state.mouse_guard = *on;

    /// Nest frames full of nectar or honey were changed for drawn ones.
    SwapFrames {
        /// How many.
        frames: u8 = "Frames changed", "full ones for drawn ones", range 1..=60, own true;
    }
        offered "swapped full frames for drawn ones" |_a| Action::SwapFrames { frames: 2 };
        done |_units| format!("swapped {frames} full frame{} for drawn", if *frames == 1 { "" } else { "s" });
        uses Some((Supply::DrawnFrame, f64::from(*frames)));
        fault None;
        takes |state, on| state.swap_frames(on);

    /// Old brood combs were changed for new ones.
    RenewComb {
        /// How many.
        frames: u8 = "Old combs changed", "for foundation or new comb", range 1..=40, own true;
    }
        offered "changed old brood combs for new" |_a| Action::RenewComb { frames: 2 };
        done |_units| format!("changed {frames} old brood comb{}", if *frames == 1 { "" } else { "s" });
        uses Some((Supply::DrawnFrame, f64::from(*frames)));
        fault None;
        takes |state, on| state.comb_renewed = Some(on);

    /// A drone comb against mites was given or taken out.
    DroneComb {
        /// In the hive now.
        given: bool = "Drone comb in", "yes when given, no when taken out";
    }
        offered "gave or took out a drone comb" |a| Action::DroneComb { given: a.state.drone_comb.is_none() };
        done |_units| format!("{} a drone comb", if *given { "gave" } else { "took out" });
        uses None;
        fault None;
        takes |state, on| state.drone_comb = given.then_some(on);

    /// Queen cells were cut out.
    CutCells
        offered "cut out queen cells" |_a| Action::CutCells;
        done |_units| "cut out queen cells".to_owned();
        uses None;
        fault None;
        takes |state, _on| state.forget_cells();

    /// A mite treatment was begun.
    Treat {
        /// What.
        treatment: Treatment = "Treatment", "the label in hand decides", own true;
        /// When it is to come out or end.
        until: NaiveDate = "Out on", "the day it comes out";
    }
        offered "began a treatment" |a| Action::Treat {
            treatment: Treatment::FormicStrips, until: days_after(a.today, 14)
        };
        done |units| format!("began {}, out on {}", treatment.word(), units.day(*until));
        uses Some((Supply::Treatment(*treatment), 1.0));
        fault None;
        takes |state, on| state.begin_treatment(*treatment, *until, on);

    /// What the package of a treatment says and who gave it was written down.
    RecordMedicine {
        /// Of which treatment.
        treatment: Treatment = "Record of", "the treatment it belongs to", own true;
        /// What was written down.
        record: Medicine = "Record", "product, amount, lot, honey held back, by whom";
    }
        offered "wrote down a treatment's record" |a| Action::RecordMedicine {
            treatment: a.running_treatment(), record: Medicine::default()
        };
        done |_units| format!("record of {}: {}", treatment.word(), record.words());
        uses None;
        fault record.fault();
        takes |_state, _on| ();

    /// A mite treatment was taken out or ended.
    EndTreatment {
        /// What.
        treatment: Treatment = "Treatment taken out", "which";
    }
        offered "took out a treatment" |a| Action::EndTreatment { treatment: a.running_treatment() };
        done |_units| format!("ended {}", treatment.word());
        uses None;
        fault None;
        takes |state, on| state.end_treatment(*treatment, on);

    /// Another queen is known or was given.
    SetQueen {
        /// The queen now.
        queen: Queen = "Queen", "what you know of her";
    }
        offered "gave it another queen, or know more of her" |a| Action::SetQueen { queen: a.state.queen.clone() };
        done |_units| format!("queen: {}", queen.status.word());
        uses None;
        fault None;
        takes |state, on| state.set_queen(queen, on);

    /// Part of the colony became another hive.
    SplitInto {
        /// That hive.
        hive: HiveId = "New hive's name", "it joins the yard at the end of its stands", new true;
    }
        offered "split it into a new hive" |a| Action::SplitInto { hive: a.free_name.clone() };
        done |_units| format!("split into {hive}");
        uses None;
        fault None;
        takes |state, on| state.part(on);

    /// Another colony was united with this one.
    Joined {
        /// The colony that is no more.
        hive: HiveId = "United with this hive", "its stand is empty afterwards";
    }
        offered "united another hive with it" |a| Action::Joined {
            hive: a.neighbour.clone().unwrap_or_else(|| HiveId::new(""))
        };
        done |_units| format!("united {hive} with this hive");
        uses None;
        fault hive.fault().map(|_| "there is no other living hive in this yard".to_owned());
        takes |state, _on| state.forget_cells();

    /// This colony was united with another: the stand is empty.
    JoinInto {
        /// The hive that took it in.
        hive: HiveId = "United into", "the hive that took it in";
    }
        done |_units| format!("united into {hive}");
        uses None;
        fault None;
        takes |state, on| state.lost = Some((on, Loss::GivenUp));

    /// Honey was taken.
    TakeHoney {
        /// Frames taken.
        frames: u8 = "Frames taken", "0 to 60", range 0..=60, own true;
        /// Honey, if weighed.
        mass: Option<Mass> = "Honey", "if weighed, as 60 lb or 27 kg";
    }
        offered "took honey" |_a| Action::TakeHoney { frames: 10, mass: None };
        done |units| {
            let weighed = mass.map_or_else(String::new, |mass| format!(", {}", units.mass(mass)));
            format!("took {frames} frame{} of honey{weighed}", if *frames == 1 { "" } else { "s" })
        };
        uses None;
        fault None;
        takes |state, on| state.take_honey(*frames, on);

    /// The inspector or a laboratory was called.
    CallInspector
        offered "called the inspector" |_a| Action::CallInspector;
        done |_units| "called the inspector".to_owned();
        uses None;
        fault None;
        takes |state, on| state.inspector_called = Some(on);

    /// The disease doubt was cleared by the inspector, a laboratory or time.
    ///
    /// By whom was not asked before format 4; since then it is [`Action::DiseaseCleared`].
    ClearDisease
        done |_units| "disease cleared".to_owned();
        uses None;
        fault None;
        takes |state, on| state.clear_disease(None, on);

    /// The disease doubt was cleared: by whom, and on which day.
    DiseaseCleared {
        /// By whom.
        by: Authority = "Cleared by", "who said so, or what was done with the gear", open true;
        /// The day.
        on: NaiveDate = "Cleared on", "the day on the report", open true;
    }
        offered "had the disease cleared" |a| Action::DiseaseCleared { by: Authority::Inspector, on: a.today };
        done |units| format!("disease cleared: {}, {}", by.word(), units.day(*on));
        uses None;
        fault None;
        takes |state, _on| state.clear_disease(Some(*by), *on);

    /// The stand is empty: the colony is gone.
    Retire {
        /// Why.
        loss: Loss = "The colony is gone", "why";
    }
        offered "found the colony gone" |_a| Action::Retire { loss: Loss::Unknown };
        done |_units| format!("stand empty: {}", loss.word());
        uses None;
        fault None;
        takes |state, on| state.lose(*loss, on);

    /// A new colony came onto this stand.
    Restock {
        /// How it came.
        origin: Origin = "A new colony", "how it came", own true;
    }
        offered "put a new colony on this stand" |_a| Action::Restock { origin: Origin::Package };
        done |_units| format!("new colony: {}", origin.word());
        uses None;
        fault None;
        takes |state, on| state.restock(*origin, on);

    /// Anything else, in the keeper's words.
    Other {
        /// The words.
        what: String = "What was done", "in your words";
    }
        offered "did something else" |_a| Action::Other { what: String::new() };
        done |_units| visible(what);
        uses None;
        fault None;
        takes |_state, _on| ();
}
