//! Themes: a style for each meaning. A theme paints every cell or none; colour is never the only sign.

use ratatui::style::{Color, Modifier, Style};
use serde::Deserialize;

/// A theme as written in `themes/`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ThemeFile {
    ground: Color,
    text: Ink,
    muted: Ink,
    title: Ink,
    key: Ink,
    focus: Ink,
    stop: Ink,
    must: Ink,
    should: Ink,
    may: Ink,
    done: Ink,
    caution: Ink,
}

/// One meaning's colours; without a ground of its own it stands on the theme's.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
struct Ink {
    fg: Color,
    #[serde(default)]
    bg: Option<Color>,
    #[serde(default)]
    bold: bool,
}

/// A style for each meaning.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Theme {
    pub(crate) name: &'static str,
    pub(crate) text: Style,
    pub(crate) muted: Style,
    pub(crate) title: Style,
    pub(crate) key: Style,
    pub(crate) focus: Style,
    pub(crate) stop: Style,
    pub(crate) must: Style,
    pub(crate) should: Style,
    pub(crate) may: Style,
    pub(crate) done: Style,
    pub(crate) caution: Style,
}

/// The themes that are built in, by name.
pub(crate) const BUILT_IN: &[(&str, &str)] =
    &[("dark", include_str!("../../themes/dark.ron")), ("sun", include_str!("../../themes/sun.ron"))];

impl Theme {
    /// No colour at all: only bold and reversed.
    pub(crate) fn none() -> Self {
        let plain = Style::new();
        let bold = plain.add_modifier(Modifier::BOLD);
        let reversed = plain.add_modifier(Modifier::REVERSED);
        Self {
            name: "none",
            text: plain,
            muted: plain,
            title: reversed,
            key: bold,
            focus: reversed,
            stop: reversed,
            must: bold,
            should: bold,
            may: plain,
            done: plain,
            caution: bold,
        }
    }

    /// A theme from its file's text.
    pub(crate) fn parse(name: &'static str, text: &str) -> Result<Self, ron::error::SpannedError> {
        let file: ThemeFile = ron::Options::default()
            .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME)
            .from_str(text)?;
        let style = |ink: Ink| {
            let style = Style::new().fg(ink.fg).bg(ink.bg.unwrap_or(file.ground));
            if ink.bold { style.add_modifier(Modifier::BOLD) } else { style }
        };
        Ok(Self {
            name,
            text: style(file.text),
            muted: style(file.muted),
            title: style(file.title),
            key: style(file.key),
            focus: style(file.focus),
            stop: style(file.stop),
            must: style(file.must),
            should: style(file.should),
            may: style(file.may),
            done: style(file.done),
            caution: style(file.caution),
        })
    }

    /// A built-in theme by its name; without colour where there is none of that name.
    pub(crate) fn built_in(name: &str) -> Self {
        BUILT_IN
            .iter()
            .find(|(known, _)| *known == name)
            .and_then(|(known, text)| Self::parse(known, text).ok())
            .unwrap_or_else(Self::none)
    }

    /// The other of day and night.
    pub(crate) fn switched(self) -> Self {
        match self.name {
            "dark" => Self::built_in("sun"),
            "sun" => Self::built_in("dark"),
            _ => self,
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
mod tests {
    use super::*;

    /// Relative luminance, W3C Web Content Accessibility Guidelines 2.1.
    fn luminance(color: Color) -> f64 {
        let Color::Rgb(r, g, b) = color else { panic!("{color:?} is no RGB colour") };
        let channel = |value: u8| {
            let c = f64::from(value) / 255.0;
            if c <= 0.03928 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * channel(r) + 0.7152 * channel(g) + 0.0722 * channel(b)
    }

    /// Contrast ratio, W3C Web Content Accessibility Guidelines 2.1.
    fn contrast(style: Style) -> f64 {
        let (a, b) = (luminance(style.fg.unwrap()), luminance(style.bg.unwrap()));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn every_pair_of_every_theme_can_be_read() {
        for (name, text) in BUILT_IN {
            let t = Theme::parse(name, text).unwrap();
            let least = if *name == "sun" { 7.0 } else { 4.5 };
            for (meaning, style) in [
                ("text", t.text),
                ("muted", t.muted),
                ("title", t.title),
                ("key", t.key),
                ("focus", t.focus),
                ("stop", t.stop),
                ("must", t.must),
                ("should", t.should),
                ("may", t.may),
                ("done", t.done),
                ("caution", t.caution),
            ] {
                assert!(contrast(style) >= least, "{name} {meaning}: {:.1}", contrast(style));
            }
        }
    }

    #[test]
    fn the_contrast_formula_gives_21_for_black_on_white() {
        let style = Style::new().fg(Color::Rgb(0, 0, 0)).bg(Color::Rgb(255, 255, 255));
        assert!((contrast(style) - 21.0).abs() < 1e-9);
    }

    #[test]
    fn without_colour_no_colour_is_set() {
        let t = Theme::none();
        for style in [t.text, t.title, t.focus, t.stop, t.must, t.may] {
            assert_eq!((style.fg, style.bg), (None, None));
        }
        assert_eq!(Theme::built_in("dark").switched().name, "sun");
        assert_eq!(Theme::built_in("sun").switched().name, "dark");
        assert_eq!(t.switched().name, "none");
    }
}
