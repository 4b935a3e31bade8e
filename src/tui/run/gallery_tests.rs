//! Every screen in four sizes on two grounds, to be looked at: `GALLERY=target/gallery cargo test --lib gallery` writes a
//! picture each and a page that shows them all.

use std::fmt::Write as _;
use std::path::Path;

use super::picture_tests::svg;
use super::tests::{drawn, screens};
use crate::tui::theme::Theme;

/// Columns and lines.
const SIZES: [(u16, u16); 4] = [(80, 24), (120, 40), (160, 50), (200, 60)];

#[test]
fn a_gallery_of_every_screen_is_made_where_one_is_asked_for() {
    // Without a folder one picture is made and thrown away, so that the gallery cannot break unseen.
    let folder = std::env::var_os("GALLERY");
    let grounds = ["dark", "sun"];
    let mut page = String::from("<!doctype html><meta charset=\"utf-8\"><title>yardwalk</title>\n");
    let shown = if folder.is_some() { usize::MAX } else { 1 };
    for (name, on, keys) in screens().into_iter().take(shown) {
        for (width, height) in SIZES {
            for ground in grounds {
                let theme = Theme::built_in().into_iter().find(|t| t.name == ground).unwrap();
                let title = format!("{name}, {width} by {height}, {ground}");
                let made = svg(&drawn(on, (width, height), &keys, &theme), &theme, &title);
                assert!(made.contains("<text"), "{title} is empty");
                let file = format!("{name}_{width}x{height}_{ground}.svg");
                let _ = writeln!(page, "<h2>{title}</h2><img src=\"{file}\" alt=\"{title}\">");
                if let Some(folder) = &folder {
                    crate::store::write_export(&Path::new(folder).join(file), &made).unwrap();
                }
            }
        }
    }
    if let Some(folder) = folder {
        crate::store::write_export(&Path::new(&folder).join("index.html"), &page).unwrap();
    }
}
