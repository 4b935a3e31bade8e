//! Themes: a style for each meaning. A theme paints every cell or none; color is never the only sign.

use ratatui::style::{Color, Modifier, Style};
use serde::Deserialize;

/// A theme as written in `themes/`. A meaning that is left out looks like text; a title or what has the focus is then
/// turned about, so that it still shows.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ThemeFile {
    ground: Color,
    text: Ink,
    muted: Option<Ink>,
    title: Option<Ink>,
    key: Option<Ink>,
    focus: Option<Ink>,
    stop: Option<Ink>,
    must: Option<Ink>,
    should: Option<Ink>,
    may: Option<Ink>,
    done: Option<Ink>,
    caution: Option<Ink>,
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

/// A style for each meaning.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Theme {
    pub(crate) name: String,
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
pub(crate) const BUILT_IN: &[(&str, &str)] = &[
    ("sun", include_str!("../../themes/sun.ron")),
    ("dark", include_str!("../../themes/dark.ron")),
    ("red", include_str!("../../themes/red.ron")),
    ("clear", include_str!("../../themes/clear.ron")),
    ("sixteen", include_str!("../../themes/sixteen.ron")),
];

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

    /// A theme from its file.
    pub(crate) fn of(name: &str, file: &ThemeFile) -> Self {
        let ink = |ink: Ink| {
            let style = Style::new().fg(ink.fg).bg(ink.bg.unwrap_or(file.ground));
            if ink.bold { style.add_modifier(Modifier::BOLD) } else { style }
        };
        let text = ink(file.text);
        let plain = |meaning: Option<Ink>| meaning.map_or(text, ink);
        let turned = |meaning: Option<Ink>| meaning.map_or(text.add_modifier(Modifier::REVERSED), ink);
        Self {
            name: name.to_owned(),
            text,
            muted: plain(file.muted),
            title: turned(file.title),
            key: plain(file.key),
            focus: turned(file.focus),
            stop: turned(file.stop),
            must: plain(file.must),
            should: plain(file.should),
            may: plain(file.may),
            done: plain(file.done),
            caution: plain(file.caution),
        }
    }

    /// The themes that are built in, the one without color last.
    pub(crate) fn built_in() -> Vec<Self> {
        let options =
            ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
        let read =
            |(name, text): &(&str, &str)| options.from_str(text).ok().map(|file| Self::of(name, &file));
        BUILT_IN.iter().filter_map(read).chain([Self::none()]).collect()
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

    /// Every pair of colors, with what it means.
    #[cfg(test)]
    pub(crate) fn pairs(&self) -> [(&'static str, Style); 11] {
        [
            ("text", self.text),
            ("muted", self.muted),
            ("title", self.title),
            ("key", self.key),
            ("focus", self.focus),
            ("stop", self.stop),
            ("must", self.must),
            ("should", self.should),
            ("may", self.may),
            ("done", self.done),
            ("caution", self.caution),
        ]
    }
}

/// The red, green and blue of a color; of the sixteen, those of xterm's default palette (its manual page; from memory).
#[cfg(test)]
pub(crate) fn rgb(color: Color) -> Option<(u8, u8, u8)> {
    Some(match color {
        Color::Rgb(r, g, b) => (r, g, b),
        Color::Black => (0, 0, 0),
        Color::Red => (205, 0, 0),
        Color::Green => (0, 205, 0),
        Color::Yellow => (205, 205, 0),
        Color::Blue => (0, 0, 238),
        Color::Magenta => (205, 0, 205),
        Color::Cyan => (0, 205, 205),
        Color::Gray => (229, 229, 229),
        Color::DarkGray => (127, 127, 127),
        Color::LightRed => (255, 0, 0),
        Color::LightGreen => (0, 255, 0),
        Color::LightYellow => (255, 255, 0),
        Color::LightBlue => (92, 92, 255),
        Color::LightMagenta => (255, 0, 255),
        Color::LightCyan => (0, 255, 255),
        Color::White => (255, 255, 255),
        Color::Reset | Color::Indexed(_) => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_meaning_left_out_looks_like_text_and_what_has_the_focus_still_shows() {
        let file: ThemeFile = ron::from_str("(ground: \"#000000\", text: (fg: \"#ffffff\"))").unwrap();
        let theme = Theme::of("short", &file);
        assert_eq!((theme.must, theme.muted, theme.caution), (theme.text, theme.text, theme.text));
        assert!(theme.focus != theme.text && theme.title != theme.text && theme.stop != theme.text);
    }

    #[test]
    fn every_built_in_theme_has_a_style_for_every_meaning() {
        for (name, text) in BUILT_IN {
            for (meaning, _) in Theme::none().pairs() {
                assert!(text.contains(&format!("{meaning}:")), "{name} has no `{meaning}`");
            }
        }
    }

    /// Relative luminance, W3C Web Content Accessibility Guidelines 2.1.
    fn luminance(color: Color) -> f64 {
        let (r, g, b) = rgb(color).unwrap_or_else(|| panic!("{color:?} has no known red, green and blue"));
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
        let themes = Theme::built_in();
        assert_eq!(themes.len(), BUILT_IN.len() + 1, "each file is read");
        for theme in themes.iter().filter(|t| t.name != "none") {
            let least = if theme.name == "sun" { 7.0 } else { 4.5 };
            for (meaning, style) in theme.pairs() {
                assert!(contrast(style) >= least, "{} {meaning}: {:.1}", theme.name, contrast(style));
            }
        }
    }

    #[test]
    fn the_red_theme_spares_eyes_used_to_the_dark_and_the_sixteen_are_the_sixteen() {
        for theme in Theme::built_in() {
            for (meaning, style) in theme.pairs() {
                for color in [style.fg, style.bg].into_iter().flatten() {
                    let (r, g, b) = rgb(color).unwrap();
                    assert!(theme.name != "red" || (g <= r / 2 && b <= r / 2), "red {meaning}: {color:?}");
                    let is_rgb = matches!(color, Color::Rgb(..));
                    assert_eq!(is_rgb, theme.name != "sixteen", "{} {meaning}", theme.name);
                }
            }
        }
    }

    #[test]
    fn the_contrast_formula_gives_21_for_black_on_white() {
        let style = Style::new().fg(Color::Rgb(0, 0, 0)).bg(Color::Rgb(255, 255, 255));
        assert!((contrast(style) - 21.0).abs() < 1e-9);
    }

    #[test]
    fn a_theme_paints_every_cell_or_none() {
        for theme in Theme::built_in() {
            for (meaning, style) in theme.pairs() {
                let painted = style.fg.is_some() && style.bg.is_some();
                let bare = style.fg.is_none() && style.bg.is_none();
                assert!(if theme.name == "none" { bare } else { painted }, "{} {meaning}", theme.name);
            }
        }
    }
}
