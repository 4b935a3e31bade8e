//! Themes: a style for each meaning. A theme paints every cell or none; color is never the only sign.

use ratatui::style::{Color, Modifier, Style};
use serde::Deserialize;

use super::contrast::{contrast, luminance};
use super::depth::Depth;

/// Each meaning that has a color of its own, and what it falls back on where a theme of one's own leaves it out.
macro_rules! meanings {
    ($( $(#[$doc:meta])* $name:ident, )+) => {
        /// A theme as written in `themes/`. What is left out is as in the theme it is `like`.
        #[derive(Debug, Clone, Default, Deserialize)]
        #[serde(deny_unknown_fields, default)]
        pub(crate) struct ThemeFile {
            /// The theme this one differs from; else that of the built-in ones whose ground is nearest.
            like: Option<String>,
            ground: Option<Color>,
            $( $name: Option<Ink>, )+
        }

        /// A style for each meaning.
        #[derive(Debug, Clone, PartialEq)]
        pub(crate) struct Theme {
            pub(crate) name: String,
            $( $(#[$doc])* pub(crate) $name: Style, )+
        }

        impl Theme {
            /// Every meaning with its style.
            pub(crate) fn pairs(&self) -> Vec<(&'static str, Style)> {
                vec![ $( (stringify!($name), self.$name), )+ ]
            }

            /// The same with each style changed.
            pub(crate) fn each(&self, name: &str, mut change: impl FnMut(&'static str, Style) -> Style) -> Self {
                Self { name: name.to_owned(), $( $name: change(stringify!($name), self.$name), )+ }
            }
        }

        impl ThemeFile {
            fn ink(&self, meaning: &str) -> Option<Ink> {
                match meaning {
                    $( stringify!($name) => self.$name, )+
                    _ => None,
                }
            }
        }
    };
}

meanings! {
    /// What is read.
    text,
    /// What is read last.
    muted,
    /// The head of a group.
    heading,
    /// Lines that part groups: seen, not read.
    rule,
    /// The bar above.
    title,
    /// A key that may be pressed. Nothing else has its color.
    key,
    /// What the next key acts on.
    focus,
    /// STOP.
    stop,
    /// MUST, and whatever is late.
    must,
    should,
    may,
    /// What is done or met.
    done,
    /// What went wrong, or may hurt.
    caution,
    /// Bees, in a bar or a chart.
    bees,
    /// Brood, in a bar or a chart.
    brood,
    /// Honey and other food, in a bar or a chart.
    honey,
}

/// One meaning's colors; without a ground of its own it stands on the theme's.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
struct Ink {
    fg: Color,
    #[serde(default)]
    bg: Option<Color>,
    #[serde(default)]
    bold: bool,
}

impl Ink {
    fn on(self, ground: Color) -> Style {
        let style = Style::new().fg(self.fg).bg(self.bg.unwrap_or(ground));
        if self.bold { style.add_modifier(Modifier::BOLD) } else { style }
    }
}

/// The themes that are built in, by name.
pub(crate) const BUILT_IN: &[(&str, &str)] = &[
    ("sun", include_str!("../../themes/sun.ron")),
    ("dark", include_str!("../../themes/dark.ron")),
    ("red", include_str!("../../themes/red.ron")),
    ("clear", include_str!("../../themes/clear.ron")),
    ("sixteen", include_str!("../../themes/sixteen.ron")),
    ("sixteen-sun", include_str!("../../themes/sixteen-sun.ron")),
];

/// Least contrast of words on their ground (Web Content Accessibility Guidelines 2.1, 1.4.3).
pub(crate) const WORDS: f64 = 4.5;

impl Theme {
    /// No color at all: only bold and reversed.
    pub(crate) fn none() -> Self {
        let plain = Style::new();
        let bold = plain.add_modifier(Modifier::BOLD);
        let reversed = plain.add_modifier(Modifier::REVERSED);
        Self {
            name: "none".to_owned(),
            text: plain,
            muted: plain,
            heading: bold,
            rule: plain,
            title: reversed,
            key: bold,
            focus: reversed,
            stop: reversed,
            must: bold,
            should: bold,
            may: plain,
            done: plain,
            caution: bold,
            bees: plain,
            brood: plain,
            honey: plain,
        }
    }

    /// A theme from its file, on the one it is like: its own colors hold, and of the other's those that can be read on its
    /// ground.
    pub(crate) fn of(name: &str, file: &ThemeFile, others: &[Self]) -> Self {
        let named = |name: &str| others.iter().find(|theme| theme.name == name);
        let is_light = file.ground.and_then(luminance).is_some_and(|light| light > 0.3);
        let base = file.like.as_deref().and_then(named);
        let base = base.or_else(|| named(if is_light { "sun" } else { "dark" })).cloned();
        let base = base.unwrap_or_else(Self::none);
        let ground = file.ground.or(base.text.bg).unwrap_or(Color::Reset);
        let is_read = |style: Style, least: f64| {
            let (fg, bg) = (style.fg.unwrap_or(Color::Reset), style.bg.unwrap_or(Color::Reset));
            contrast(fg, bg).is_none_or(|ratio| ratio >= least)
        };
        let text = match file.text {
            Some(ink) => ink.on(ground),
            None if is_read(base.text.bg(ground), WORDS) => base.text.bg(ground),
            None => Style::new().fg(if is_light { Color::Black } else { Color::White }).bg(ground),
        };
        base.each(name, |meaning, style| {
            if let Some(ink) = file.ink(meaning) {
                return ink.on(ground);
            }
            let stands_on_the_ground = style.bg == base.text.bg;
            let style = if stands_on_the_ground { style.bg(ground) } else { style };
            let is_read = meaning == "rule" || is_read(style, WORDS);
            if is_read && meaning != "text" { style } else { text.add_modifier(style.add_modifier) }
        })
    }

    /// The themes that are built in, the one without color last.
    pub(crate) fn built_in() -> Vec<Self> {
        let options =
            ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
        let read =
            |(name, text): &(&str, &str)| options.from_str(text).ok().map(|file| Self::of(name, &file, &[]));
        let none = Self::none();
        BUILT_IN.iter().filter_map(read).chain([none]).collect()
    }

    /// The theme as a terminal of fewer colors shows it: with the nearest of its 256, or in the place of one of more colors
    /// than sixteen, that of sixteen with a ground as light.
    pub(crate) fn at(self, depth: Depth, all: &[Self]) -> Self {
        let has_names_only = self
            .pairs()
            .iter()
            .flat_map(|(_, style)| [style.fg, style.bg])
            .all(|color| !matches!(color, Some(Color::Rgb(..) | Color::Indexed(_))));
        match depth {
            Depth::Never => Self::none(),
            Depth::Sixteen if has_names_only => self,
            Depth::Sixteen => {
                let is_light = self.text.bg.and_then(luminance).is_some_and(|light| light > 0.3);
                let name = if is_light { "sixteen-sun" } else { "sixteen" };
                let stand_in = all.iter().find(|theme| theme.name == name).cloned();
                Self { name: self.name, ..stand_in.unwrap_or_else(Self::none) }
            }
            Depth::TwoHundredFiftySix | Depth::Full => {
                let near = |color: Option<Color>| color.map(|c| depth.nearest(c));
                let name = self.name.clone();
                self.each(&name, |_, style| Style { fg: near(style.fg), bg: near(style.bg), ..style })
            }
        }
    }

    /// The style of an urgency.
    pub(crate) fn urgency(&self, urgency: crate::advice::Urgency) -> Style {
        use crate::advice::Urgency;
        match urgency {
            Urgency::Stop => self.stop,
            Urgency::Must => self.must,
            Urgency::Should => self.should,
            Urgency::May => self.may,
        }
    }
}

#[cfg(test)]
mod tests;
