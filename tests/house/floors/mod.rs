//! The floors of the house and the rooms of each floor: who may use whom, who opens what is private, who prints and writes.
//!
//! All source is parsed and read, but for what stands under `#[cfg(test)]`: what tests use does not hold the house up.

mod circle;
mod doors;
mod house;
mod planted;
mod reading;
mod rooms;
mod tokens;

use std::sync::LazyLock;

use circle::{circles, told};
use doors::{opened, openings, reached_out};
use house::House;
use rooms::{homeless, out_of_room, upward};

/// The floors, from the ground up. A floor may use those before it in this list.
const FLOORS: [&str; 19] = [
    "unit", "diag", "pack", "source", "fields", "trade", "record", "daybook", "claim", "photo", "derive",
    "words", "inspect", "archive", "view", "render", "write", "intake", "viewing",
];

/// Above all floors: the journey, the commands, and what declares the floors.
const ROOF: [&str; 4] = ["journey", "cli", "lib", "main"];

/// The floors that have rooms.
const ROOMS: [(&str, Rooms); 3] = [
    ("view", Rooms::Stacked(&["names", "page", "context", "shared", "sheet", "tree"])),
    (
        "derive",
        Rooms::Stacked(&[
            "climate",
            "missing_input",
            "years",
            "name",
            "mended",
            "looked_for",
            "nature",
            "timber",
            "load",
            "finish",
            "hazard",
            "photograph",
            "money",
            "identity",
            "amendment",
            "reach",
            "offer",
            "facts",
            "claims",
            "workpiece",
            "plan",
        ]),
    ),
    ("inspect", Rooms::Apart),
];

/// How the rooms of a floor stand to each other.
enum Rooms {
    /// From the ground up: a room may use those before it in this list. A room is a folder or a single file.
    Stacked(&'static [&'static str]),
    /// Side by side: a room uses what lies in none, which uses no room. No rule uses another one.
    Apart,
}

/// The floors in which no files may need each other in a circle.
const WITHOUT_CIRCLES: [&str; 4] = ["photo", "derive", "inspect", "view"];

/// What opens a closed field, and the floors, folders and files that may: what reckons with money, the rules, which speak
/// to the workshop alone, and the papers of those who may read it.
const OPENINGS: [(&str, &[&str]); 2] = [
    (
        "for_archive",
        &[
            "archive",
            "record/after",
            "record/buyer",
            "record/day_book",
            "record/set",
            "daybook",
            "derive/finish/coverage",
            "derive/money",
            "derive/plan",
            "inspect",
            "view/tree/archive",
        ],
    ),
    ("for_buyer", &["archive", "record/buyer", "view/sheet/disclosure", "view/tree/archive"]),
];

/// Who prints, who writes files, and who touches the disk at all.
const PRINTERS: [&str; 1] = ["cli"];
const WRITERS: [&str; 1] = ["write"];
/// The files through which files are opened: what is there already by the first, what is new by the second.
const DOORS: [&str; 2] = ["source/plain", "write/half"];
const ASKERS: [&str; 2] = ["source/plain", "write"];
const AT_THE_DISK: [&str; 3] = ["source", "write", "cli"];

static HOUSE: LazyLock<House> = LazyLock::new(House::read);

/// The floor that a file of `src` is on: its folder, or its name where it is in none.
fn floor(file: &str) -> &str {
    step(file, 0)
}

/// A step of a file's path, without its ending.
fn step(file: &str, place: usize) -> &str {
    file.split('/').nth(place).unwrap_or_default().trim_end_matches(".rs")
}

/// Whether a file is, or lies in, one of these floors, folders and files.
fn lies_in(file: &str, places: &[&str]) -> bool {
    let stem = file.trim_end_matches(".rs");
    places
        .iter()
        .any(|place| stem.strip_prefix(place).is_some_and(|rest| rest.is_empty() || rest.starts_with('/')))
}

/// The file and the line, for messages.
fn at(file: &str, line: usize) -> String {
    format!("{file}:{line}")
}

/// What a check finds in all files.
fn everywhere(check: fn(&House, &str) -> Vec<String>) -> Vec<String> {
    HOUSE.files().flat_map(|file| check(&HOUSE, file)).collect()
}

const NOTHING: [&str; 0] = [];

#[test]
fn every_file_is_read_and_stands_on_a_floor() {
    assert_eq!(HOUSE.strays(), NOTHING, "no module leads to these");
    let on_no_floor: Vec<&str> =
        HOUSE.files().filter(|file| !FLOORS.contains(&floor(file)) && !ROOF.contains(&floor(file))).collect();
    assert_eq!(on_no_floor, NOTHING);
    assert_eq!(homeless(&HOUSE), NOTHING, "these are in no room of their floor");
    assert!(HOUSE.files().count() > 300, "all of the source is read");
}

#[test]
fn no_floor_uses_one_above_it() {
    assert_eq!(everywhere(upward), NOTHING);
}

#[test]
fn no_room_uses_one_above_it_and_no_rule_another() {
    assert_eq!(everywhere(out_of_room), NOTHING);
}

#[test]
fn no_files_of_a_floor_need_each_other_in_a_circle() {
    let found: Vec<String> = WITHOUT_CIRCLES
        .iter()
        .flat_map(|floor| circles(&HOUSE, floor))
        .flat_map(|circle| told(&HOUSE, &circle))
        .collect();
    assert_eq!(found, NOTHING);
}

#[test]
fn only_those_who_may_open_private_fields() {
    assert_eq!(everywhere(opened), NOTHING);
    for (opening, places) in OPENINGS {
        for place in places {
            let opens = |file: &&str| openings(&HOUSE, file).iter().any(|(name, _)| name == opening);
            let mut files = HOUSE.files().filter(|file| lies_in(file, &[place]));
            assert!(files.any(|file| opens(&file)), "{place} may call {opening}, and never does");
        }
    }
}

#[test]
fn only_the_commands_print_only_write_writes_and_files_are_opened_at_the_doors() {
    assert_eq!(everywhere(reached_out), NOTHING);
    for door in DOORS {
        assert!(HOUSE.files().any(|file| lies_in(file, &[door])), "{door} is no file of the house");
    }
}
