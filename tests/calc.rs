//! `yardwalk calc`: each sum against a figure worked out elsewhere, its unit beside it, and bad input refused in words.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

mod support;

use serde_json::Value;
use support::run;

fn json(args: &[&str]) -> Value {
    let home = tempfile::tempdir().unwrap();
    let (code, out, err) = run(home.path(), &[&["calc"], args, &["--json"]].concat());
    assert_eq!(code, 0, "{err}");
    serde_json::from_str(&out).unwrap()
}

fn close(sum: &Value, key: &str, expected: f64, within: f64) {
    let got = sum[key].as_f64().unwrap_or_else(|| panic!("no {key} in {sum}"));
    assert!((got - expected).abs() <= within, "{key}: {got}, expected {expected}");
    assert!(sum["units"][key].is_string(), "{key} has no unit");
}

/// 6 of 300: Wilson's interval by hand 0.92 to 4.29 % (`scipy.stats.binomtest(6, 300).proportion_ci(method="wilson")`).
#[test]
fn a_wash_has_its_interval_and_its_chance() {
    let sum = json(&["wash", "--mites", "6", "--bees", "300", "--limit", "2"]);
    close(&sum, "percent", 2.0, 1e-9);
    close(&sum, "low", 0.92, 0.01);
    close(&sum, "high", 4.29, 0.01);
    assert!((0.4..0.6).contains(&sum["p_over_limit"].as_f64().unwrap()));
    assert!(sum["verdict"].as_str().unwrap().contains("limit"));
    let grown = json(&["wash", "--mites", "6", "--on", "2026-07-01", "--by", "2026-07-31"]);
    // By hand: 6.5 of 301 are 5.81 % after 30 days at 0.033; spread sqrt(1/6.5 + 0.09 + 0.39^2) = 0.63.
    close(&grown, "by", 5.81, 0.01);
    close(&grown, "low_by", 2.06, 0.01);
    close(&grown, "high_by", 16.4, 0.1);
    close(&grown, "p_over_limit_by", 0.955, 0.005);
    // The next jar: sqrt(0.396 + 1/17.9 + 0.09) = 0.736; 17.4 mites over and times e^1.21.
    close(&grown, "next_count_low", 5.0, 0.5);
    close(&grown, "next_count_high", 58.5, 1.0);
}

/// 10 lb of sugar 1:1 by weight: 10 lb of water, 1.2 gal of it at 8.33 lb, and 50 Brix. Density 1.2296 at 20 C (sucrose
/// tables, ICUMSA).
#[test]
fn a_syrup_has_its_water_and_its_brix() {
    let sum = json(&["syrup", "--sugar", "10lb", "--mix", "1:1"]);
    close(&sum, "water_gal", 1.2, 0.01);
    close(&sum, "brix", 50.0, 0.05);
    close(&sum, "density", 1.2296, 0.001);
    close(&sum, "syrup_gal", 1.95, 0.01);
    let by_volume = json(&["syrup", "--sugar", "5 kg", "--mix", "2:1", "--by", "volume"]);
    assert!((60.0..66.7).contains(&by_volume["brix"].as_f64().unwrap()));
}

/// Two deeps: 40 lb of boxes, 16 of floor and lids, 6 of bees; 93 lb in all leaves 31.
#[test]
fn stores_are_the_weight_less_boxes_lids_and_bees() {
    let sum = json(&["stores", "--left", "45lb", "--right", "48lb", "--boxes", "deep,deep"]);
    close(&sum, "weight_lb", 93.0, 1e-9);
    close(&sum, "tare_lb", 62.0, 0.1);
    close(&sum, "honey_lb", 31.0, 0.5);
}

/// The honey commission's table, as `tests/published` has it: 1.4890 at 20 C is 19.0 % water; grade A and B end at 18.6 %
/// (US 1985).
#[test]
fn moisture_is_that_of_the_published_table() {
    let sum = json(&["moisture", "--nd", "1.4890", "--at", "20C"]);
    close(&sum, "percent", 19.0, 0.05);
    assert!(sum["grade"].as_str().unwrap().contains("grade C"));
    let dry = json(&["moisture", "--nd", "1.4930"]);
    assert!(dry["grade"].as_str().unwrap().contains("A or B"));
    let wet = json(&["moisture", "--brix", "76"]);
    assert!(wet["grade"].as_str().unwrap().contains("too wet"));
}

#[test]
fn a_queens_days_are_dated_from_how_she_begins() {
    let sum = json(&["queen", "--event", "split", "--date", "2026-05-20"]);
    assert_eq!(sum["failed_by"], "2026-06-19");
    assert_eq!(sum["eggs"]["earliest"], "2026-06-08");
    for event in ["cell", "ripe-cell", "virgin", "cage", "swarm", "package"] {
        let sum = json(&["queen", "--event", event, "--date", "2026-05-20"]);
        assert!(sum["eggs"]["usual"].is_string(), "{event}");
    }
}

#[test]
fn strength_grows_in_spring_and_has_a_range() {
    let sum = json(&["strength", "--bees", "5", "--brood", "3", "--days", "21", "--from", "2026-05-01"]);
    let [low, mid, high] = ["frames_low", "frames", "frames_high"].map(|key| sum[key].as_f64().unwrap());
    assert!(low <= mid && mid <= high && mid > 5.0, "{low} {mid} {high}");
}

#[test]
fn what_cannot_be_is_refused_in_words_and_text_is_for_reading() {
    let home = tempfile::tempdir().unwrap();
    let calc = |args: &[&str]| run(home.path(), &[&["calc"], args].concat());
    let (code, _, err) = calc(&["wash", "--mites", "900", "--bees", "300"]);
    assert!(code == 1 && err.contains("cannot be a wash"), "{code} {err}");
    let (code, _, err) = calc(&["moisture", "--nd", "1.7"]);
    assert!(code == 1 && err.contains("outside the range"), "{code} {err}");
    let (code, _, err) = calc(&["syrup", "--sugar", "10", "--mix", "thick"]);
    assert!(code == 2 && !err.is_empty(), "{code} {err}");
    let (code, out, _) = calc(&["syrup", "--sugar", "10lb"]);
    assert!(code == 0 && out.contains("US gal") && out.contains("Brix"), "{out}");
    assert!(home.path().read_dir().unwrap().next().is_none(), "no book is made");
}
