//! The inks of the pages can be told apart, in light and in dark.
//!
//! Contrast is reckoned as the Web Content Accessibility Guidelines (WCAG) 2.2 define *contrast ratio* and *relative
//! luminance*. Text asks for 4.5 to 1 (success criterion 1.4.3), whatever a drawing means by its tints for 3 to 1 against
//! what lies beside it (1.4.11).

use std::collections::BTreeMap;
use std::path::Path;

const TEXT: f64 = 4.5;
const DRAWN: f64 = 3.0;

/// Red, green and blue from 0 to 255.
type Colour = [f64; 3];

fn sheet(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("themes/flitch/assets").join(name);
    std::fs::read_to_string(path).unwrap()
}

fn hex(text: &str) -> Option<Colour> {
    let digits = text.trim().strip_prefix('#')?;
    let whole: String = match digits.len() {
        3 => digits.chars().flat_map(|digit| [digit, digit]).collect(),
        6 => digits.to_owned(),
        _ => return None,
    };
    let channel = |at: usize| Some(f64::from(u8::from_str_radix(whole.get(at..at + 2)?, 16).ok()?));
    Some([channel(0)?, channel(2)?, channel(4)?])
}

fn luminance(colour: Colour) -> f64 {
    let linear = |channel: f64| {
        let share = channel / 255.0;
        if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    };
    let [red, green, blue] = colour.map(linear);
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

fn contrast(one: Colour, other: Colour) -> f64 {
    let (one, other) = (luminance(one) + 0.05, luminance(other) + 0.05);
    one.max(other) / one.min(other)
}

/// A colour that covers so much of what lies below it.
fn over(colour: Colour, share: f64, below: Colour) -> Colour {
    std::array::from_fn(|channel| colour[channel] * share + below[channel] * (1.0 - share))
}

/// The colours named in the first `:root` after some words.
fn named(sheet: &str, after: &str) -> BTreeMap<String, Colour> {
    let rest = &sheet[sheet.find(after).unwrap_or_else(|| panic!("{after} is not there"))..];
    let rest = rest.split_once(":root {").expect("colours are named").1;
    let block = rest.split_once('}').expect("a block ends").0;
    let line = |line: &str| {
        let (name, value) = line.split_once(':')?;
        Some((name.trim().strip_prefix("--")?.to_owned(), hex(value)?))
    };
    block.split(';').filter_map(line).collect()
}

/// The colours of a style sheet in light, and those in dark.
fn schemes(name: &str) -> [(&'static str, BTreeMap<String, Colour>); 2] {
    let sheet = sheet(name);
    let light = named(&sheet, "");
    let mut dark = light.clone();
    dark.extend(named(&sheet, "prefers-color-scheme: dark"));
    [("light", light), ("dark", dark)]
}

/// What a rule says of a property.
fn property(sheet: &str, selector: &str, property: &str) -> String {
    let starts = |line: &&str| {
        let selectors = line.split_once('{').map_or("", |(selectors, _)| selectors);
        selectors.split(',').any(|one| one.trim() == selector)
    };
    let says = |line: &str| {
        let inside = line.split_once('{')?.1.split_once('}')?.0;
        let of = |one: &str| {
            Some(one.split_once(':').filter(|(name, _)| name.trim() == property)?.1.trim().to_owned())
        };
        inside.split(';').find_map(of)
    };
    let said = sheet.lines().filter(starts).find_map(says);
    said.unwrap_or_else(|| panic!("{selector} says nothing of {property}"))
}

#[track_caller]
fn apart(what: &str, one: Colour, other: Colour, least: f64) {
    let found = contrast(one, other);
    assert!(found >= least, "{what}: {found:.2} to 1, at least {least} is asked for");
}

#[test]
fn the_formula_gives_the_guidelines_own_figures() {
    // WCAG 2.2: black on white is 21 to 1; technique G18 has #767676 on white just above 4.5 to 1.
    assert!((contrast(hex("#000").unwrap(), hex("#fff").unwrap()) - 21.0).abs() < 1e-9);
    let grey = contrast(hex("#767676").unwrap(), hex("#ffffff").unwrap());
    assert!((4.5..4.6).contains(&grey), "{grey}");
}

#[test]
fn text_can_be_read_on_what_it_stands_on() {
    for name in ["style.css", "showroom.css"] {
        for (scheme, colours) in schemes(name) {
            for text in ["ink", "soft", "dye"] {
                for ground in ["paper", "plate"] {
                    apart(
                        &format!("{name}, {scheme}: {text} on {ground}"),
                        colours[text],
                        colours[ground],
                        TEXT,
                    );
                }
            }
        }
    }
}

#[test]
fn the_tints_of_a_drawing_are_told_from_each_other_and_from_the_paper() {
    for (scheme, colours) in schemes("style.css") {
        for (one, other) in [
            ("dye", "dye-half"),
            ("dye-half", "paper"),
            ("dye", "paper"),
            ("dye-pale", "paper"),
            ("wood", "paper"),
        ] {
            apart(&format!("{scheme}: {one} beside {other}"), colours[one], colours[other], DRAWN);
        }
    }
}

/// Standings lie over a greyed photograph, which is as dark or as light as a photograph may be.
#[test]
fn standings_are_told_apart_on_any_photograph() {
    let sheets = [
        ("style.css", ".standing-wash", ".outline-original"),
        ("showroom.css", ".wash", ".drawing .outline-original"),
    ];
    for (name, wash, kept) in sheets {
        let sheet = sheet(name);
        let colour = |selector: &str, of: &str| hex(&property(&sheet, selector, of)).expect("it is a colour");
        let share = |selector: &str| {
            property(&sheet, selector, "fill-opacity").parse::<f64>().expect("it is a share")
        };
        for photograph in ["#000", "#fff"].map(|grey| hex(grey).unwrap()) {
            let washed = over(colour(wash, "fill"), share(wash), photograph);
            let veiled = over(colour(".standing-veil", "fill"), share(".standing-veil"), washed);
            let original = over(colour(kept, "fill"), share(kept), washed);
            let new = over(colour(".outline-new", "fill"), share(".outline-new"), washed);
            let line = colour(".standing-line", "stroke");
            for (what, one, other) in [
                ("lines on their ground", line, veiled),
                ("dots on their ground", colour(".standing-dot", "fill"), veiled),
                ("what is new beside what is original", new, original),
                ("what is new beside the lines' ground", new, veiled),
                ("the outline of what is original", colour(kept, "stroke"), original),
            ] {
                apart(&format!("{name}: {what} on {photograph:?}"), one, other, DRAWN);
            }
        }
    }
}
