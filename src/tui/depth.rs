//! What the terminal can show: how many colors, and which signs. Told by the environment, or by the keeper.

use ratatui::style::Color;

/// How many colors are drawn with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Depth {
    /// None: bold and reversed only.
    Never,
    /// The sixteen that have names.
    Sixteen,
    /// The 256 of xterm's palette.
    TwoHundredFiftySix,
    /// Any, of 24 bits.
    Full,
}

/// Terminals, by how their `TERM` begins, that draw any color though they may not say so in `COLORTERM`.
const FULL: &[&str] = &["alacritty", "contour", "foot", "wezterm", "xterm-ghostty", "xterm-kitty"];
/// Terminals without color, by how their `TERM` begins.
const NEVER: &[&str] = &["dumb", "vt1", "vt2", "vt3", "vt4", "vt5"];
/// Terminals whose font has letters and little else, by how their `TERM` begins.
const LETTERS_ONLY: &[&str] = &["ansi", "cygwin", "linux", "vt1", "vt2", "vt3", "vt4", "vt5"];

fn begins_with_any(name: &str, list: &[&str]) -> bool {
    list.iter().any(|each| name.starts_with(each))
}

impl Depth {
    /// What the environment says: `NO_COLOR`, `COLORTERM`, `TERM`; `variable` gives one of its variables.
    ///
    /// In doubt it is sixteen: a terminal that knows more still shows those.
    pub fn of_environment(variable: &dyn Fn(&str) -> Option<String>) -> Self {
        let set = |name: &str| variable(name).filter(|value| !value.is_empty());
        if set("NO_COLOR").is_some() {
            return Self::Never;
        }
        // The terminal of Windows says neither.
        if set("WT_SESSION").is_some() {
            return Self::Full;
        }
        let term = set("TERM").unwrap_or_default();
        if begins_with_any(&term, NEVER) {
            return Self::Never;
        }
        let says_full = set("COLORTERM").is_some_and(|c| c == "truecolor" || c == "24bit");
        let is_256 = term.contains("256color");
        // A multiplexer hands on the variable of the terminal it was begun in, and not always the color.
        if term.starts_with("screen") {
            return if is_256 || says_full { Self::TwoHundredFiftySix } else { Self::Sixteen };
        }
        if says_full || term.ends_with("-direct") || begins_with_any(&term, FULL) {
            return Self::Full;
        }
        if is_256 { Self::TwoHundredFiftySix } else { Self::Sixteen }
    }

    /// The color of this depth that is nearest. What has a name, or is the terminal's own, stays.
    pub(crate) fn nearest(self, color: Color) -> Color {
        match (self, color) {
            (Self::TwoHundredFiftySix, Color::Rgb(r, g, b)) => {
                Color::Indexed(anstyle_lossy::rgb_to_xterm(anstyle::RgbColor(r, g, b)).0)
            }
            _ => color,
        }
    }
}

/// Whether the environment says that the terminal has letters and little else: its kind, or a locale without UTF-8.
pub fn has_letters_only(variable: &dyn Fn(&str) -> Option<String>) -> bool {
    let set = |name: &str| variable(name).filter(|value| !value.is_empty());
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(set);
    let is_other = locale.is_some_and(|l| !l.to_ascii_lowercase().replace('-', "").contains("utf8"));
    is_other || set("TERM").is_some_and(|term| begins_with_any(&term, LETTERS_ONLY))
}

/// Whether the environment says that the terminal's ground is dark: `COLORFGBG`, whose last part is the ground's number.
pub fn is_dark(variable: &dyn Fn(&str) -> Option<String>) -> Option<bool> {
    let ground: u8 = variable("COLORFGBG")?.rsplit(';').next()?.parse().ok()?;
    Some(ground <= 6 || ground == 8)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(pairs: &[(&str, &str)]) -> impl Fn(&str) -> Option<String> + use<> {
        let pairs: Vec<(String, String)> =
            pairs.iter().map(|(n, v)| ((*n).to_owned(), (*v).to_owned())).collect();
        move |name: &str| pairs.iter().find(|(n, _)| n == name).map(|(_, v)| v.clone())
    }

    #[test]
    fn the_depth_is_what_the_environment_says_and_sixteen_in_doubt() {
        use Depth::{Full, Never, Sixteen, TwoHundredFiftySix};
        for (pairs, depth) in [
            (vec![("TERM", "xterm-256color")], TwoHundredFiftySix),
            (vec![("TERM", "xterm-256color"), ("COLORTERM", "truecolor")], Full),
            (vec![("TERM", "xterm-256color"), ("COLORTERM", "truecolor"), ("NO_COLOR", "1")], Never),
            (vec![("TERM", "xterm-256color"), ("NO_COLOR", "")], TwoHundredFiftySix),
            (vec![("TERM", "screen"), ("COLORTERM", "truecolor")], TwoHundredFiftySix),
            (vec![("TERM", "screen")], Sixteen),
            (vec![("TERM", "linux")], Sixteen),
            (vec![("TERM", "xterm-kitty")], Full),
            (vec![("TERM", "vt100"), ("COLORTERM", "truecolor")], Never),
            (vec![("TERM", "dumb")], Never),
            (vec![("WT_SESSION", "x")], Full),
            (vec![], Sixteen),
        ] {
            assert_eq!(Depth::of_environment(&of(&pairs)), depth, "{pairs:?}");
        }
    }

    #[test]
    fn letters_only_where_the_locale_or_the_kind_of_terminal_says_so() {
        for (pairs, only) in [
            (vec![("TERM", "xterm-256color")], false),
            (vec![("TERM", "xterm-256color"), ("LANG", "C")], true),
            (vec![("TERM", "xterm-256color"), ("LANG", "C"), ("LC_ALL", "en_US.UTF-8")], false),
            (vec![("TERM", "xterm"), ("LANG", "de_DE.utf8")], false),
            (vec![("TERM", "linux"), ("LANG", "en_US.UTF-8")], true),
        ] {
            assert_eq!(has_letters_only(&of(&pairs)), only, "{pairs:?}");
        }
    }

    #[test]
    fn the_ground_is_dark_or_light_where_that_is_said() {
        assert_eq!(is_dark(&of(&[("COLORFGBG", "15;0")])), Some(true));
        assert_eq!(is_dark(&of(&[("COLORFGBG", "0;default;15")])), Some(false));
        assert_eq!(is_dark(&of(&[])), None);
        assert_eq!(is_dark(&of(&[("COLORFGBG", "what")])), None);
    }

    #[test]
    fn a_color_of_the_256_stays_what_it_is() {
        let near = Depth::TwoHundredFiftySix.nearest(Color::Rgb(0x5f, 0xd7, 0xff));
        assert_eq!(crate::tui::contrast::rgb(near), Some((0x5f, 0xd7, 0xff)));
        assert_eq!(Depth::Full.nearest(Color::Rgb(1, 2, 3)), Color::Rgb(1, 2, 3));
    }
}
