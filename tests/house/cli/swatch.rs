//! Colour matches and marks, from a record and a photograph to the papers.

use image::ExtendedColorType;

use crate::fixture::{Bench, paint, png};

const RECORD: &str = r#"
title = "Oak stool"
number = "ST-001"
kind = "seating/stool"

[[part]]
id = "seat"
name = "Seat"
standing = "original"
timber = "white-oak"

[[finding]]
id = "f-ring"
part = "seat"
seen = "ring"

[[surface]]
name = "Seat"
parts = ["seat"]
steps = [
  { abrade = ["P180", "P240"] },
  { apply = "oil-pigment-stain", mix = [{ of = "medium oak", parts = 2 }, { of = "umber", parts = 1 }] },
  { apply = "paste-wax", coats = 2 },
]

[[swatch]]
photo = "during-colour.png"
grey = [0.0, 0.75, 1.0, 0.25]
grey-reflectance = 18
target = TARGET
result = [0.5, 0.0, 0.5, 0.75]
surface = 1

[[photo]]
file = "during-colour.png"
alt = "Two stained boards above a grey card"
marks = [
  { at = [0.9, 0.9], note = "the card" },
  { line = [[0.1, 0.1], [0.4, 0.3]], finding = "f-ring" },
  { area = [[0.5, 0.0], [1.0, 0.0], [1.0, 0.75], [0.5, 0.75]], scale = { from = [0.0, 0.75], to = [1.0, 0.75], mm = 200 }, part = "seat" },
]
"#;

/// 200 by 160 pixels: target and result beside each other above a card, all in warm light.
fn picture() -> Vec<u8> {
    let colour = |x: u32, y: u32| match (x < 100, y < 120) {
        (true, true) => [150, 100, 60],
        (false, true) => [158, 104, 57],
        (_, false) => [130, 118, 100],
    };
    png(200, 160, &paint(200, 160, colour), ExtendedColorType::Rgb8, None)
}

fn stool(target: &str) -> Bench {
    Bench::workshop()
        .write("pieces/stool/record.toml", RECORD.replace("TARGET", target))
        .write("pieces/stool/photos/during-colour.png", picture())
}

const LEFT: &str = "[0.0, 0.0, 0.5, 0.75]";

#[test]
fn a_match_is_printed_with_its_recipe_as_another_library_measures_it() {
    let bench = stool(LEFT).args(["writeup"]).status(1);
    // The public reads it in words.
    let page = |tree: &str| {
        std::fs::read_to_string(bench.path("written").join(tree).join("pieces/st-001/index.html")).unwrap()
    };
    assert!(page("showroom").contains("Visible side by side"));
    for printed in [
        // colour-science 0.4.7: 45.861, 12.546, 21.202 and 47.766, 13.247, 25.450; CIEDE2000 2.870, and 3.737
        // with 5 % more light on the result.
        "L* 45.9, a* 12.5, b* 21.2",
        "L* 47.8, a* 13.2, b* 25.4",
        "ΔE00 2.9 ± 0.9",
        "Visible side by side",
        "L* 49.5, a* 0.0, b* 0.0",
        "which reflects 18 %",
        "Abraded to P240",
        "2 parts medium oak and 1 part umber",
        "On white oak",
    ] {
        assert!(page("archive").contains(printed), "{printed}");
    }
    let front = std::fs::read_to_string(bench.path("written/archive/recipes.html")).unwrap();
    assert!(front.contains("ΔE00 2.9 ± 0.9") && front.contains("pieces/st-001/index.html#swatch-1"));
}

#[test]
fn marks_are_numbered_as_they_are_read_and_linked_both_ways() {
    let bench = stool(LEFT).args(["writeup"]).status(1);
    let page = std::fs::read_to_string(bench.path("written/archive/pieces/st-001/index.html")).unwrap();
    // The area reaches the upper edge, and the line begins a tenth below it: another row.
    for printed in [
        "1: an outlined area, Seat, about 120 cm².",
        "2: a line with an arrow, Ring.",
        "3: a point, the card.",
        "<li id=\"mark-1-2\"><span><a href=\"#finding-1\">Ring</a></span></li>",
        "<a href=\"#mark-1-2\">",
        "<a href=\"#part-1\">Seat</a>, about 120 cm²",
        "<a href=\"#mark-1-1\">",
        "id=\"part-1\"",
    ] {
        assert!(page.contains(printed), "{printed}");
    }
}

#[test]
fn measures_out_of_the_darkroom_print_the_same_and_a_moved_patch_is_measured_anew() {
    let bench = stool(LEFT).args(["writeup"]).status(1);
    let first = bench.files("written");
    let bench = bench.args(["writeup"]).status(1);
    assert!(bench.files("written") == first);
    let bench = bench
        .write("pieces/stool/record.toml", RECORD.replace("TARGET", "[0.2, 0.0, 0.6, 0.75]"))
        .args(["writeup"])
        .status(1);
    let front = std::fs::read_to_string(bench.path("written/archive/recipes.html")).unwrap();
    assert!(front.contains("ΔE00") && !front.contains("ΔE00 2.9"));
}

#[test]
fn what_makes_a_measure_doubtful_is_said_with_its_line() {
    stool("[0.2, 0.7, 0.6, 0.3]")
        .args(["inspect"])
        .stderr_has("  Doubt: `grey` and `target` lie over each other")
        .stderr_has("pieces/stool/record.toml, line 30\n")
        .status(1);
    let sound = stool(LEFT).args(["inspect"]).command().output().unwrap();
    let told = String::from_utf8(sound.stderr).unwrap();
    assert!(!told.contains("[swatch-") && told.contains("finding-left-open"), "{told}");
}
