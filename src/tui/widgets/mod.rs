//! Parts that several screens share: the page around a body, lists of lines, the line of keys.

mod bar;
mod chart;
mod month;
mod page;
mod picture;
mod rows;
mod stack;
mod taps;
mod what_if;

pub(crate) use bar::{bar, parts};
pub(crate) use chart::{Marks, draw_trend};
pub(crate) use month::{MONTH_HIGH, draw_month};
pub(crate) use page::{Page, aside, ground, page, too_small};
pub(crate) use picture::Picture;
pub(crate) use rows::{Rows, Scroll, is_out_of_sight, row_after};
pub(crate) use stack::{stack_legend, stack_lines};
pub(crate) use taps::{Tap, Taps};
pub(crate) use what_if::what_if_rows;
