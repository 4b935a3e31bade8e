//! What every theme is held to: it can be read, and its meanings are told apart with any color vision.

use palette::cam16::{Cam16UcsJab, Parameters};
use palette::color_difference::EuclideanDistance as _;
use palette::{LinSrgb, Srgb};

use super::*;
use crate::tui::contrast::rgb;

#[test]
fn a_theme_of_ones_own_may_say_little() {
    let read = |text: &str| {
        let options =
            ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
        Theme::of("mine", &options.from_str(text).unwrap(), &Theme::built_in())
    };
    let dark = Theme::built_in().into_iter().find(|t| t.name == "dark").unwrap();
    let mine = read("(must: (fg: \"#ff0000\"))");
    assert_eq!((mine.must.fg, mine.should), (Some(Color::Rgb(255, 0, 0)), dark.should));
    let mine = read("(ground: \"#fffff0\")");
    assert_eq!(mine.text.bg, Some(Color::Rgb(255, 255, 240)), "as the light one, on its own ground");
    for (meaning, style) in mine.pairs().into_iter().filter(|(meaning, _)| *meaning != "rule") {
        let ratio = contrast(style.fg.unwrap(), style.bg.unwrap()).unwrap();
        assert!(ratio >= WORDS, "{meaning}: {ratio:.1}");
    }
    // Yellow and cyan of the dark one cannot be read on white: they give way to text.
    let mine = read("(like: \"dark\", ground: \"#ffffff\")");
    assert_eq!((mine.should.fg, mine.text.fg), (mine.text.fg, Some(Color::Black)));
}

#[test]
fn every_built_in_theme_has_a_style_for_every_meaning() {
    for (name, text) in BUILT_IN {
        for (meaning, _) in Theme::none().pairs() {
            assert!(text.contains(&format!("{meaning}:")), "{name} has no `{meaning}`");
        }
    }
}

/// The themes as they are worn at a depth.
fn worn(depth: Depth) -> Vec<Theme> {
    let all = Theme::built_in();
    assert_eq!(all.len(), BUILT_IN.len() + 1, "each file is read");
    all.iter().filter(|t| t.name != "none").map(|t| t.clone().at(depth, &all)).collect()
}

const DEPTHS: [Depth; 3] = [Depth::Full, Depth::TwoHundredFiftySix, Depth::Sixteen];

#[test]
fn every_pair_of_every_theme_can_be_read_at_every_depth() {
    for depth in DEPTHS {
        for theme in worn(depth) {
            for (meaning, style) in theme.pairs() {
                let least = match meaning {
                    // Lines that are not read.
                    "rule" => continue,
                    // Shapes (1.4.11 of the guidelines).
                    "bees" | "brood" | "honey" => 3.0,
                    _ if theme.name == "sun" && depth != Depth::Sixteen => 7.0,
                    _ => WORDS,
                };
                let ratio = contrast(style.fg.unwrap(), style.bg.unwrap()).unwrap();
                assert!(ratio >= least, "{depth:?} {} {meaning}: {ratio:.1}", theme.name);
            }
        }
    }
}

/// A color as it is seen without one of the three kinds of cones: Machado, Oliveira and Fernandes 2009, "A Physiologically-based
/// Model for Simulation of Color Vision Deficiency", their matrices for severity 1.0 on linear RGB.
const VISIONS: [(&str, [[f32; 3]; 3]); 4] = [
    ("all cones", [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]),
    (
        "protanopia",
        [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
    ),
    (
        "deuteranopia",
        [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
    ),
    (
        "tritanopia",
        [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    ),
];

fn seen(color: Color, matrix: &[[f32; 3]; 3]) -> Cam16UcsJab<f32> {
    use palette::FromColor as _;
    use palette::cam16::Cam16;
    let (r, g, b) = rgb(color).unwrap();
    let linear: LinSrgb<f32> = Srgb::new(r, g, b).into_linear();
    let part =
        |row: [f32; 3]| (row[0] * linear.red + row[1] * linear.green + row[2] * linear.blue).clamp(0.0, 1.0);
    let linear = LinSrgb::new(part(matrix[0]), part(matrix[1]), part(matrix[2]));
    let xyz = palette::Xyz::from_color(linear);
    Cam16UcsJab::from_color(Cam16::from_xyz(xyz, Parameters::default_static_wp(40.0)))
}

/// Meanings that have a color of their own are at least 10 apart. Two may share one color outright: then words, bold and a
/// ground of their own tell them apart, as the theme's file says.
#[test]
fn meanings_are_told_apart_with_any_color_vision_at_every_depth() {
    for depth in DEPTHS {
        for theme in worn(depth).into_iter().filter(|t| t.name != "red") {
            let of_the_ground: Vec<_> = theme
                .pairs()
                .into_iter()
                .filter(|(meaning, style)| *meaning != "rule" && style.bg == theme.text.bg)
                .collect();
            for (at, (a, first)) in of_the_ground.iter().enumerate() {
                for (b, second) in of_the_ground.iter().skip(at + 1) {
                    if first.fg == second.fg {
                        continue;
                    }
                    for (vision, matrix) in &VISIONS {
                        let far = seen(first.fg.unwrap(), matrix).distance(seen(second.fg.unwrap(), matrix));
                        assert!(far >= 10.0, "{depth:?} {} {a}, {b}: {far:.1} with {vision}", theme.name);
                    }
                }
            }
        }
    }
}

/// Which meanings may share a color where there are plenty: none but those that mean the same.
#[test]
fn where_there_are_colors_enough_no_two_meanings_share_one() {
    let same = [("text", "heading"), ("must", "caution")];
    for theme in worn(Depth::TwoHundredFiftySix) {
        if !["sun", "dark", "clear"].contains(&theme.name.as_str()) {
            continue;
        }
        let pairs = theme.pairs();
        for (at, (a, first)) in pairs.iter().enumerate() {
            for (b, second) in pairs.iter().skip(at + 1) {
                let shares = first.fg == second.fg && first.bg == second.bg;
                assert!(!shares || same.contains(&(*a, *b)), "{} {a}, {b}", theme.name);
            }
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
                assert_eq!(is_rgb, !theme.name.starts_with("sixteen"), "{} {meaning}", theme.name);
            }
        }
    }
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
