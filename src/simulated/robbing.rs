//! Boxes turned about and honey carried off: what only a scenario makes of a colony.
//!
//! Its shares are guesses, made so that what extension guides say holds: a narrowed entrance ends a robbing within days, an
//! open one ends a weak colony within a week or two, and a nest that is parted loses the brood at its edge.

use super::colony::{Colony, Nest};
use super::weather::Weather;
use crate::model::Entrance;

/// Share of the brood that is chilled where one nest is parted, and where boxes are turned about on a cold day.
const CHILLED: (f64, f64) = (0.5, 0.3);
/// C under which brood that is lifted is chilled.
const COLD: f64 = 10.0;
/// Share of the bees that die of the fighting on a full day's flight at an open entrance.
const FOUGHT: f64 = 0.04;
/// By how much robbers grow in a day when they got something, and shrink when they did not.
const MORE_AND_FEWER: (f64, f64) = (1.3, 0.55);
/// Honey that many robbers carry in a day at most, and that is none, kg.
const MOST_AND_NONE: (f64, f64) = (4.0, 0.05);

impl Colony {
    /// Whether robbers can be seen at it today.
    pub(super) fn is_robbed(&self, weather: &Weather) -> bool {
        self.robbers > MOST_AND_NONE.1 && weather.flight() > 0.1
    }

    /// Robbers fly; gives whether they have taken all.
    pub(super) fn rob(&mut self, weather: &Weather) -> bool {
        if !self.is_robbed(weather) {
            return false;
        }
        let way = weather.flight()
            * match self.entrance {
                Entrance::Open => 1.0,
                Entrance::Reduced => 0.4,
                Entrance::Small => 0.04,
            };
        let taken = (self.robbers * way).min(self.honey());
        self.take_from_nest(taken);
        for bees in self.bees.summer.iter_mut().chain(&mut self.bees.winter) {
            *bees *= 1.0 - FOUGHT * way;
        }
        let (more, fewer) = MORE_AND_FEWER;
        self.robbers = (self.robbers * if taken > 0.15 { more } else { fewer }).min(MOST_AND_NONE.0);
        self.honey() < 0.2 && way > 0.2
    }

    /// The boxes are turned about.
    pub(super) fn reverse(&mut self, weather: &Weather) {
        let share = match self.nest {
            Nest::Across => CHILLED.0,
            Nest::Above if weather.high < COLD => CHILLED.1,
            Nest::Above | Nest::Used => 0.0,
        };
        for cells in self.bees.workers.iter_mut().chain(&mut self.bees.drones) {
            *cells *= 1.0 - share;
        }
        self.nest = Nest::Used;
        self.room_given();
    }
}
