//! The parts of the bee year.

/// What the year is at, in words for the screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Phase {
    /// In the cluster.
    Winter,
    /// From the heft to the day frames may be lifted.
    LateWinter,
    /// Swarm season.
    Swarming,
    /// The main flow.
    MainFlow,
    /// After it, before the fall flow.
    LateSummer,
    /// Fall flow and feeding.
    Fall,
    /// Feeding over, before the cluster.
    WrapUp,
}

impl Phase {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Self::Winter => "winter cluster",
            Self::LateWinter => "late winter",
            Self::Swarming => "swarm season",
            Self::MainFlow => "main flow",
            Self::LateSummer => "late summer",
            Self::Fall => "fall flow and feeding",
            Self::WrapUp => "wrap-up for winter",
        }
    }
}
