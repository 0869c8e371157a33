//! Shows that the house is really held: what must not be is planted in memory, and found.

use std::collections::BTreeMap;

use super::*;

/// Ways to use a floor above; `UP` leads from the file's module to the root of the house.
const UPWARD: [&str; 5] = [
    "use crate::{cli::{self as planted}};",
    "fn by_name() { planted::run() }",
    "fn by_path() -> crate::cli::Outcome { todo() }",
    "fn by_climbing() { UP cli::run() }",
    "fn in_a_macro() { assert!([1, crate::cli::run()].len() == 2) }",
];

/// Ways to open what is private, each of them once for the archive and once for the buyer.
const OPENING: [&str; 3] = [
    "fn by_method(x: X) { x.for_archive(); x.for_buyer() }",
    "fn by_function(x: X) { x.map(Private::for_archive).map(Personal::for_buyer) }",
    "fn opened_in_a_macro(x: X) { format!(\"{}{}\", x.for_archive(), x.for_buyer()) }",
];

/// Ways to print, and ways to write.
const PRINTING: [&str; 2] =
    ["fn prints() { println!(\"x\") }", "fn prints_in_a_macro() { assert!(std::io::stdout().lock()) }"];
const WRITING: [&str; 2] = [
    "use std::fs::{self as disk, File as Planted}; fn writes() { disk::write() }",
    "fn creates() { vec![Planted::create()] }",
];

/// Ways to open a file.
const OPENING_FILES: [&str; 4] = [
    "fn opens() { std::fs::File::open(path) }",
    "fn opens_with() { let _ = std::fs::OpenOptions::new(); }",
    "use std::fs::{read as planted_read}; fn reads() { planted_read(path) }",
    "fn reads_text() { vec![std::fs::read_to_string(path)] }",
];

/// Plants lines at the end of a file, and gives for each how many faults a check finds in it.
fn found<const N: usize>(
    house: &mut House,
    file: &str,
    weeds: [&str; N],
    check: fn(&House, &str) -> Vec<String>,
) -> [usize; N] {
    let up = "super::".repeat(house.module(file).len());
    let faults = house.planted(file, &weeds.join("\n").replace("UP ", &up), |house| check(house, file));
    let first = house.last_line(file) + 1;
    std::array::from_fn(|place| {
        let start = format!("{} ", at(file, first + place));
        faults.iter().filter(|fault| fault.starts_with(&start)).count()
    })
}

/// The files that went on after their first test were once read no further than that: they are among these.
#[test]
fn nothing_is_overlooked_in_any_file() {
    let mut house = HOUSE.clone();
    for file in HOUSE.files() {
        if FLOORS.contains(&floor(file)) {
            assert_eq!(found(&mut house, file, UPWARD, upward), [1; 5], "{file}");
        }
        let closed = OPENINGS.iter().filter(|(_, places)| !lies_in(file, places)).count();
        assert_eq!(found(&mut house, file, OPENING, opened), [closed; 3], "{file}");
        let prints = usize::from(!lies_in(file, &PRINTERS));
        assert_eq!(found(&mut house, file, PRINTING, reached_out), [prints; 2], "{file}");
        if !lies_in(file, &WRITERS) {
            let writes = found(&mut house, file, WRITING, reached_out);
            assert!(writes.iter().all(|faults| *faults > 0), "{file}: {writes:?}");
        }
        if !lies_in(file, &DOORS) {
            let opens = found(&mut house, file, OPENING_FILES, reached_out);
            assert!(opens.iter().all(|faults| *faults > 0), "{file}: {opens:?}");
        }
    }
}

#[test]
fn no_room_is_overlooked() {
    let mut house = HOUSE.clone();
    for file in HOUSE.files().filter(|file| !file.ends_with("/mod.rs")) {
        let climb = "super::".repeat(HOUSE.module(file).len());
        let weeds: Vec<String> = barred(file).iter().flat_map(|other| uses(other, &climb)).collect();
        let found = house.planted(file, &weeds.join("\n"), |house| out_of_room(house, file));
        for (weed, line) in weeds.iter().zip(HOUSE.last_line(file) + 1..) {
            let place = format!("{} ", at(file, line));
            assert!(found.iter().any(|fault| fault.starts_with(&place)), "{file}: {weed}: {found:?}");
        }
    }
}

/// One file of each folder of the floor that a file may not use.
fn barred(file: &str) -> Vec<&'static str> {
    let mut one_of_each = BTreeMap::new();
    for other in HOUSE.files().filter(|other| is_barred(file, other)) {
        one_of_each.entry(other.rsplit_once('/').map(|(folder, _)| folder)).or_insert(other);
    }
    one_of_each.into_values().collect()
}

/// Three ways to use a file.
fn uses(file: &str, climb: &str) -> [String; 3] {
    let path = HOUSE.module(file).join("::");
    [
        format!("use crate::{path}::Planted;"),
        format!("fn by_climbing() {{ {climb}{path}::planted() }}"),
        format!("fn in_a_macro() {{ assert!(crate::{path}::planted()) }}"),
    ]
}

/// Whether a file may not use another one of the same floor, by where they lie.
fn is_barred(file: &str, other: &str) -> bool {
    let rooms = ROOMS.iter().find(|(name, _)| *name == floor(file) && *name == floor(other));
    let depth = |file: &str| file.split('/').count();
    match rooms {
        Some((_, Rooms::Stacked(rooms))) => {
            let place = |file: &str| rooms.iter().position(|room| *room == step(file, 1));
            place(file).zip(place(other)).is_some_and(|(own, other)| own < other)
        }
        Some((_, Rooms::Apart)) => {
            file != other && HOUSE.defines(other, "RULE")
                || depth(other) > 2 && (depth(file) == 2 || step(file, 1) != step(other, 1))
        }
        None => false,
    }
}

#[test]
fn a_circle_is_found() {
    let mut house = HOUSE.clone();
    for floor_name in WITHOUT_CIRCLES {
        // Some file uses another one: the other one is made to use it too.
        let files = HOUSE.files().filter(|file| floor(file) == floor_name && !file.ends_with("/mod.rs"));
        let used = |file: &str| {
            let mentions = HOUSE.mentions(file).into_iter().filter_map(|mention| mention.file);
            let mut others = mentions.filter(|other| floor(other) == floor_name && other != file);
            others.find(|other| !other.ends_with("/mod.rs")).map(|other| (file.to_owned(), other))
        };
        let (user, used) = files.into_iter().find_map(used).expect("some file uses another one");
        let weed = format!("fn planted() {{ crate::{}::planted() }}", HOUSE.module(&user).join("::"));
        let found = house.planted(&used, &weed, |house| circles(house, floor_name));
        assert!(
            found.iter().any(|circle| circle.contains(&user) && circle.contains(&used)),
            "{user} and {used}: {found:?}"
        );
    }
}

/// A small house with every kind of room, in which all is well.
const SMALL: [(&str, &str); 19] = [
    ("lib.rs", "pub mod cli; pub mod inspect; pub mod unit; pub mod view;"),
    ("cli/mod.rs", "pub fn run() { println!(\"{}\", crate::view::page()) }"),
    ("unit/mod.rs", "pub struct Length;"),
    ("view/mod.rs", "mod context; mod shared; mod sheet; mod tree;\npub use tree::page; use shared::Words;"),
    ("view/context.rs", "pub struct Context { pub length: crate::unit::Length }"),
    ("view/shared/mod.rs", "mod words; pub use words::Words;"),
    ("view/shared/words.rs", "use crate::view::context::Context;\npub struct Words(Context);"),
    ("view/sheet/mod.rs", "pub(super) mod care; pub mod label;"),
    ("view/sheet/care.rs", "use super::super::Words;\npub fn care(words: Words) {}"),
    ("view/sheet/label.rs", "pub fn label() {}"),
    ("view/tree/mod.rs", "use super::sheet;\npub fn page() { sheet::care::care(todo!()) }"),
    (
        "inspect/mod.rs",
        "mod case; mod dates; mod money; pub use case::Case;\nconst ALL: [u8; 2] = dates::ALL;",
    ),
    ("inspect/case.rs", "pub struct Case;"),
    (
        "inspect/dates/mod.rs",
        "mod late; mod early; mod shared;\npub const ALL: [u8; 2] = [late::RULE, early::RULE];",
    ),
    ("inspect/dates/shared.rs", "use crate::inspect::Case;\npub fn day(_: Case) -> u8 { 1 }"),
    ("inspect/dates/late.rs", "use super::shared::day;\npub const RULE: u8 = day(super::super::Case);"),
    ("inspect/dates/early.rs", "pub const RULE: u8 = 2;"),
    ("inspect/money/mod.rs", "mod cost;"),
    ("inspect/money/cost.rs", "pub const RULE: u8 = 3; pub fn amount() {}"),
];

fn small() -> House {
    House::of(SMALL)
}

/// The small house with other texts in some files, and with more files.
fn small_but(others: &[(&'static str, &'static str)]) -> House {
    House::of(SMALL.into_iter().chain(others.iter().copied()))
}

#[track_caller]
fn says(file: &str, weed: &str, check: fn(&House, &str) -> Vec<String>, wanted: &[&str]) {
    assert_eq!(small().planted(file, weed, |house| check(house, file)), wanted, "{file}: {weed}");
}

#[test]
fn the_small_house_is_sound() {
    let house = small();
    assert_eq!(house.strays(), NOTHING);
    assert_eq!(homeless(&house), NOTHING);
    for check in [upward, out_of_room, opened, reached_out] {
        let found: Vec<String> = house.files().flat_map(|file| check(&house, file)).collect();
        assert_eq!(found, NOTHING);
    }
    assert_eq!(circles(&house, "view"), Vec::<Vec<String>>::new());
    assert_eq!(circles(&house, "inspect"), Vec::<Vec<String>>::new());
}

#[test]
fn a_name_that_is_handed_on_counts_for_the_room_it_comes_from() {
    says("view/context.rs", "use super::Words;", out_of_room, &["view/context.rs:2 uses shared"]);
    says(
        "view/context.rs",
        "use super::super::view::page as x;",
        out_of_room,
        &["view/context.rs:2 uses tree"],
    );
    says(
        "view/sheet/care.rs",
        "fn x() { super::super::page() }",
        out_of_room,
        &["view/sheet/care.rs:3 uses tree"],
    );
    says("view/tree/mod.rs", "use super::Words;", out_of_room, &[]);
    says("view/sheet/care.rs", "use super::label::label;", out_of_room, &[]);
    says("unit/mod.rs", "fn x() { vec![super::view::page()] }", upward, &["unit/mod.rs:2 uses view"]);
}

#[test]
fn rules_stand_apart() {
    let own = "inspect/dates/late.rs";
    says(
        own,
        "use super::early;\nfn x() { early::RULE }",
        out_of_room,
        &["inspect/dates/late.rs:4 uses inspect/dates/early.rs"],
    );
    says(
        own,
        "use crate::inspect::money::cost::amount;",
        out_of_room,
        &["inspect/dates/late.rs:3 uses inspect/money/cost.rs"],
    );
    says(
        "inspect/case.rs",
        "use super::dates::shared;\nfn x() { shared::day(Case) }",
        out_of_room,
        &["inspect/case.rs:3 uses inspect/dates/shared.rs"],
    );
    says(
        "inspect/dates/mod.rs",
        "fn x() { shared::day(); super::money::cost::amount() }",
        out_of_room,
        &["inspect/dates/mod.rs:3 uses inspect/money/cost.rs"],
    );
}

#[test]
fn circles_are_seen_through_names_that_are_handed_on() {
    let circle = |file: &str, weed: &str| small().planted(file, weed, |house| circles(house, floor(file)));
    assert_eq!(circle("view/context.rs", "use super::Words;"), [["view/context.rs", "view/shared/words.rs"]]);
    assert_eq!(
        circle("view/context.rs", "fn x() { vec![super::page()] }"),
        [["view/context.rs", "view/shared/words.rs", "view/sheet/care.rs", "view/tree/mod.rs"]]
    );
    assert_eq!(circle("view/sheet/label.rs", "use super::care::care;"), Vec::<Vec<String>>::new());
    // A list that has code of its own is a file like any other.
    let listed = small_but(&[
        ("view/sheet/mod.rs", "mod care; mod label;\npub fn all() { care::care() }"),
        ("view/sheet/label.rs", "pub fn label() { super::all() }"),
        ("view/sheet/care.rs", "pub fn care() { super::label::label() }"),
    ]);
    let files = ["view/sheet/care.rs", "view/sheet/label.rs", "view/sheet/mod.rs"];
    assert_eq!(circles(&listed, "view"), [files]);
}

#[test]
fn a_file_in_no_room_and_one_that_no_module_opens_are_found() {
    let lost = small_but(&[("view/mod.rs", "mod shared; mod lost;"), ("view/lost.rs", "pub fn lost() {}")]);
    assert_eq!(homeless(&lost), ["view/lost.rs"]);
    assert_eq!(small_but(&[("view/shared/lost.rs", "")]).strays(), ["view/shared/lost.rs"]);
}

#[test]
fn modules_are_found_however_they_are_declared() {
    for (declared, file) in [
        ("mod view { pub mod page; }", "view/page.rs"),
        ("#[path = \"other/place.rs\"] mod view;", "other/place.rs"),
        ("#[cfg(unix)] mod view;", "view/mod.rs"),
        ("floors! { view, unit }", "view.rs"),
    ] {
        let house = House::of([("lib.rs", declared), (file, "fn x() { crate::view::page::show() }")]);
        assert_eq!(house.strays(), NOTHING, "{declared}");
        assert_eq!(house.mentions(file).len(), 1, "{declared}");
    }
    let tests = House::of([("lib.rs", "#[cfg(test)] mod tests;"), ("tests.rs", "use crate::cli::run;")]);
    assert_eq!((tests.strays(), tests.files().collect()), (vec![], vec!["lib.rs"]));
}

#[test]
fn only_what_stands_under_a_test_is_left_out() {
    let found = |text: &str| {
        let house = House::of([("lib.rs", "mod view; mod cli;"), ("cli.rs", ""), ("view.rs", text)]);
        upward(&house, "view.rs").len()
    };
    for left_out in [
        "#[cfg(test)] mod tests { use crate::cli::run; }",
        "/// Doubly. \n#[cfg(test)] #[allow(unused)] fn x() { crate::cli::run() }",
        "struct X; impl X { #[cfg(test)] fn x() { crate::cli::run() } }",
        "trait X { #[cfg(test)] fn x() { crate::cli::run() } }",
        "fn x() { #[cfg(test)] use crate::cli::run; }",
        "#[cfg(all(test, unix))] use crate::cli::run;",
        "/// As [`crate::cli::run`] does.\nfn x() { \"crate::cli::run()\"; /* crate::cli::run() */ }",
    ] {
        assert_eq!(found(left_out), 0, "{left_out}");
    }
    for read in [
        "#[cfg(test)] mod tests {} fn x() { crate::cli::run() }",
        "#[cfg(not(test))] use crate::cli::run;",
        "#[cfg(any(test, unix))] use crate::cli::run;",
        "macro_rules! x { () => { $crate::cli::run() } }",
        "mod inner { fn x() { super::super::cli::run() } }",
        "fn x() { let y = a as crate::cli::Count; }",
        "impl From<crate::cli::Count> for X {}",
        "fn x() { let y: Vec<X> = z.collect::<Vec<crate::cli::Count>>(); }",
    ] {
        assert_eq!(found(read), 1, "{read}");
    }
}
