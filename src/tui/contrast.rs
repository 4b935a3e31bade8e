//! How well a color reads on another, by the formula of the W3C's Web Content Accessibility Guidelines 2.1.

use anstyle::{Ansi256Color, RgbColor};
use anstyle_lossy::palette::Palette;
use ratatui::style::Color;

/// xterm's default sixteen, as its sources and manual page have them; from memory. Other terminals have others.
const XTERM: Palette = Palette([
    RgbColor(0, 0, 0),
    RgbColor(205, 0, 0),
    RgbColor(0, 205, 0),
    RgbColor(205, 205, 0),
    RgbColor(0, 0, 238),
    RgbColor(205, 0, 205),
    RgbColor(0, 205, 205),
    RgbColor(229, 229, 229),
    RgbColor(127, 127, 127),
    RgbColor(255, 0, 0),
    RgbColor(0, 255, 0),
    RgbColor(255, 255, 0),
    RgbColor(92, 92, 255),
    RgbColor(255, 0, 255),
    RgbColor(0, 255, 255),
    RgbColor(255, 255, 255),
]);

/// The red, green and blue of a color; of the sixteen, those of xterm's default palette.
pub(crate) fn rgb(color: Color) -> Option<(u8, u8, u8)> {
    if let Color::Rgb(r, g, b) = color {
        return Some((r, g, b));
    }
    let number = match color {
        Color::Black => 0,
        Color::Red => 1,
        Color::Green => 2,
        Color::Yellow => 3,
        Color::Blue => 4,
        Color::Magenta => 5,
        Color::Cyan => 6,
        Color::Gray => 7,
        Color::DarkGray => 8,
        Color::LightRed => 9,
        Color::LightGreen => 10,
        Color::LightYellow => 11,
        Color::LightBlue => 12,
        Color::LightMagenta => 13,
        Color::LightCyan => 14,
        Color::White => 15,
        Color::Indexed(number) => number,
        Color::Reset | Color::Rgb(..) => return None,
    };
    let RgbColor(r, g, b) = anstyle_lossy::xterm_to_rgb(Ansi256Color(number), XTERM);
    Some((r, g, b))
}

/// Relative luminance, 0 for black to 1 for white; `None` of the terminal's own color.
pub(crate) fn luminance(color: Color) -> Option<f64> {
    let (r, g, b) = rgb(color)?;
    let channel = |value: u8| {
        let c = f64::from(value) / 255.0;
        if c <= 0.03928 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    };
    Some(0.2126 * channel(r) + 0.7152 * channel(g) + 0.0722 * channel(b))
}

/// Contrast ratio of two colors, 1 to 21; `None` where one is the terminal's own.
pub(crate) fn contrast(a: Color, b: Color) -> Option<f64> {
    let (a, b) = (luminance(a)?, luminance(b)?);
    Some((a.max(b) + 0.05) / (a.min(b) + 0.05))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn black_on_white_is_21_to_1_and_a_color_on_itself_1() {
        let white = Color::Rgb(255, 255, 255);
        assert!((contrast(Color::Rgb(0, 0, 0), white).unwrap() - 21.0).abs() < 1e-9);
        assert!((contrast(white, white).unwrap() - 1.0).abs() < 1e-9);
        assert_eq!(contrast(Color::Reset, white), None);
    }
}
