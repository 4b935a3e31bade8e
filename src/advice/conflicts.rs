//! Which two deeds may not stand together at one hive on one day, and which of them wins.
//!
//! Each prompt says by its [`Deed`]s what doing it would do to the hive. The first of a pair stands; a prompt that
//! wants the second waits, and says why.

use super::prompt::Deed;

/// Two deeds of which one waits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Conflict {
    /// What is done.
    pub first: Deed,
    /// What waits.
    pub waits: Deed,
    /// Why.
    pub because: &'static str,
}

const fn pair(first: Deed, waits: Deed, because: &'static str) -> Conflict {
    Conflict { first, waits, because }
}

/// The pairs, in the order they are settled (common practice, no single source).
pub const PAIRS: &[Conflict] = &[
    pair(Deed::FeedsSolid, Deed::GivesSyrup, "solid food first: not two ways to feed on one day"),
    pair(Deed::FeedsThick, Deed::FeedsThin, "one syrup at a time: thick, for there is winter to come"),
    pair(Deed::TakesSupers, Deed::AddsSuper, "the honey boxes come off"),
    pair(Deed::TakesSupers, Deed::TakesHoney, "the honey boxes come off whole"),
    pair(Deed::TakesNestBox, Deed::AddsSuper, "it is being brought together: no room on top of that"),
    pair(Deed::TakesNestBox, Deed::GivesSyrup, "it is being brought together: reckon its food then"),
    pair(Deed::TakesNestBox, Deed::AddsNestBox, "it is being brought together"),
    pair(Deed::Reverses, Deed::AddsNestBox, "boxes are reversed first: that alone gives room"),
    pair(Deed::AddsNestBox, Deed::AddsSuper, "room in the nest first"),
    pair(Deed::Narrows, Deed::Widens, "it is being made smaller: not two widths"),
    pair(Deed::Unites, Deed::GivesSyrup, "it is to be united: feed what comes of it"),
    pair(Deed::Unites, Deed::BringsQueen, "it is to be united: one queen only"),
    pair(Deed::Unites, Deed::Treats, "it is to be united: treat what comes of it"),
    pair(Deed::BringsQueen, Deed::Treats, "a new queen first: a treatment when she lays"),
    pair(Deed::BringsQueen, Deed::Splits, "it gets a queen first"),
    pair(Deed::Splits, Deed::Reverses, "it is to be split"),
    pair(Deed::Splits, Deed::AddsNestBox, "splitting makes room"),
    pair(Deed::Unites, Deed::Splits, "it is to be united"),
    pair(Deed::Unites, Deed::AddsNestBox, "it is to be united"),
    pair(Deed::Unites, Deed::AddsSuper, "it is to be united"),
    pair(Deed::Treats, Deed::Washes, "treat first; wash again when the course is over"),
];
