//! What the papers say of wood that moves, shelves, weight and tipping: from a record's text to the sentences printed.

use serde_json::Value;
use witnessmark::derive::Workpiece;
use witnessmark::record;
use witnessmark::trade::Trade;
use witnessmark::view::{HouseStyle, PieceContext, archive, buyer};
use witnessmark::words::Sentence;

use crate::fixture::Workshop;

/// The sheets of one piece, and its page in the archive, as a theme gets them.
#[track_caller]
fn shown(workshop: &str, record: &str) -> (Value, Value) {
    let workshop = Workshop::new(workshop).piece("one", "Chest", "C-1", record);
    let (folder, problems) = record::read(&workshop.tree());
    assert_eq!(problems, [], "the fixture cannot be read");
    let trade = Trade::built_in();
    let workpiece = Workpiece::unopened(&folder, &folder.pieces[0], trade).expect("it reads");
    let house = HouseStyle::of(
        folder.workshop.as_ref().expect("it reads"),
        &witnessmark::words::Language::british(),
        crate::fixture::today(),
    );
    let context = PieceContext::of(&folder, &workpiece, trade, &house);
    let papers = buyer::papers(&context);
    let archive = serde_json::to_value(archive::piece_page(&context, &papers, ""));
    let papers = serde_json::to_value(papers).expect("papers are plain data");
    (papers, archive.expect("a page is plain data"))
}

/// The claims of a subject in whole sentences.
#[track_caller]
fn told(workshop: &str, record: &str, subject: &str) -> Vec<String> {
    let workshop = Workshop::new(workshop).piece("one", "Chest", "C-1", record);
    let (folder, _) = record::read(&workshop.tree());
    let workpiece = Workpiece::unopened(&folder, &folder.pieces[0], Trade::built_in()).expect("it reads");
    let house = HouseStyle::of(
        folder.workshop.as_ref().expect("it reads"),
        &witnessmark::words::Language::british(),
        crate::fixture::today(),
    );
    let claims = &workpiece.claims;
    let claims = match subject {
        "movement" => &claims.movement,
        "weight" => &claims.lifting,
        "stability" => &claims.stability,
        "substances" => &claims.substances,
        "shelves" => &claims.shelves,
        "room" => &claims.care.room,
        "shares" => &claims.shares,
        other => panic!("{other} is no subject"),
    };
    house.words().sentences(claims).iter().map(Sentence::whole).collect()
}

/// How a figure was reckoned, as the archive tells it.
#[track_caller]
fn reckoned(workshop: &str, record: &str, name: &str) -> String {
    let (_, archive) = shown(workshop, record);
    let all = archive["reckoned"].as_array().expect("a list");
    let found = all.iter().find(|found| found["name"] == name);
    found.unwrap_or_else(|| panic!("{name} is not in {all:#?}"))["rows"].to_string()
}

const CHEST: &str = r#"
kind = "case/chest-of-drawers"
size = { width = 800, depth = 440, height = 900 }
part = [
    { id = "top", name = "Top", standing = "original", build = "solid", timber = "white-oak", grain = "length", sawn = "flat-sawn", held = "fixed-across", size = { length = 800, width = 440, thick = 20 } },
    { id = "side", name = "Side", standing = "original", build = "solid", timber = "white-oak", grain = "length", count = 2, size = { length = 880, width = 440, thick = 18 } },
    { id = "drawer", name = "Drawer", standing = "later", build = "solid", timber = "scots-pine", count = 3, size = { length = 700, width = 400, thick = 200, wall = 10 }, opens = { as = "drawer", by = 300 } },
    { id = "knob", name = "Knob", standing = "new", build = "metal", material = "brass", count = 6, size = { length = 25, diameter = 25 } },
    { id = "till", name = "Till", standing = "unknown", build = "solid", timber = "unknown", size = { length = 200, width = 100, thick = 80, wall = 8 } },
    { id = "lost", name = "Lost stop", standing = "missing", build = "solid", timber = "white-oak" },
]
"#;

#[track_caller]
fn says(lines: &[String], words: &str) {
    assert!(lines.iter().any(|line| line.contains(words)), "{words:?} is not in {lines:#?}");
}

#[test]
fn movement_is_a_range_and_is_told_where_it_is_noticed() {
    let air = "climate = { humidity-low = 35, humidity-high = 65, temperature = 20 }";
    // 440 mm x 0.00365 to 0.003763 (what 10.5 % of shrinkage gives) x 5.033 %; 200 mm x 0.0036 x 5.033 %.
    assert_eq!(
        told(air, CHEST, "movement"),
        [
            "Fixed across its grain: Top. It wants to move by about 8.1 to 8.3 mm through the year: it may split or \
             bow, above all in dry air.",
            "Drawer (× 3). About 1.3 to 3.6 mm higher in damp air than in dry air.",
            "These are guides for a whole season in the room named here, not limits; boards differ.",
        ]
    );
    let top = reckoned(air, CHEST, "Movement: Top");
    assert!(top.contains("along the rings 0.00365 to 0.00376 for 1 %"), "{top}");
    // From 0.0018 along the rays to 0.003763 along the rings.
    assert!(reckoned(air, CHEST, "Movement: Side (× 2)").contains("4 to 8.3 mm"));
    let (_, archive) = shown(air, CHEST);
    assert!(!archive["reckoned"].to_string().contains("Lost stop"), "what is missing does not move");
}

#[test]
fn an_assumed_room_and_an_impossible_one_are_said() {
    assert!(reckoned("", CHEST, "The room's air").contains("our own choice of a heated home"));
    let flooded = told("climate = { humidity-low = 35, humidity-high = 100 }", CHEST, "movement");
    says(&flooded, "Top. Not reckoned, as the room's humidity lies outside 5 to 95 %");
    assert!(!flooded.concat().contains("mm"), "{flooded:?}");
}

#[test]
fn weight_people_and_what_comes_out_first() {
    let weight = |record: &str| told("", record, "weight");
    let lines = weight(CHEST);
    says(&lines, "It weighs at least ");
    says(&lines, "reckoned from the sizes of its parts; 1 part is left out: ");
    says(&lines, "Take out first: Drawer. What is left weighs ");
    says(&lines, "stairs, corners and a bad back ask for more people");
    assert!(reckoned("", CHEST, "Weight").contains("INDG143"));
    // A part without a size may be too much of it to say what the whole weighs.
    let unsaid = CHEST.replace(", size = { length = 200, width = 100, thick = 80, wall = 8 }", "");
    says(
        &weight(&unsaid),
        "Its weight is not given: the parts of which size and material are known may be less than nine tenths of it.",
    );
    says(
        &weight(&format!("weighs = 15.5\n{CHEST}")),
        "It weighs 15.5 kg, put on a scale: one person lifts it.",
    );
    let bare = "kind = \"seat/stool\"";
    says(&weight(bare), "Its weight is not given: of no part both size and material are known.");
    for subject in ["movement", "stability", "shares"] {
        assert_eq!(told("", bare, subject), [""; 0]);
    }
}

#[test]
fn a_clock_is_not_filled_and_a_garden_table_has_no_room() {
    let clock =
        "kind = \"clock/longcase\"\nsize = { width = 480, depth = 240, height = 2130 }\nweighs = 38\n";
    assert_eq!(
        told("", clock, "stability")[0],
        "Anchor it to the wall. It is 2130 mm high and only 240 mm deep."
    );
    let moved = told("", clock, "weight").join(" ");
    assert!(moved.contains("Stop the clock") && !moved.contains("Empty it"), "{moved}");
    let outdoors = "Out of doors, wood moves more than figures for a room say, and finishes wear sooner.";
    assert_eq!(told("", "kind = \"table/garden\"", "room"), [outdoors]);
    assert!(!told("", "kind = \"table/side\"", "room").contains(&outdoors.to_owned()));
}

#[test]
fn a_tall_chest_is_to_be_anchored_and_nothing_is_claimed() {
    let lines = told("", CHEST, "stability");
    assert_eq!(lines[0], "Anchor it to the wall before it is filled. It is 900 mm high.");
    says(
        &lines,
        "Drawer (× 3). One of them open by 300 mm, with a young child's weight on its outer edge, the piece tips over.",
    );
    says(&lines, "With all of them open and empty, the piece tips over.");
    says(&lines, "A child that climbs or pulls can tip it");
    says(&lines, "no conformity is claimed");
    let text = lines.concat().to_lowercase();
    for claim in ["complies", "conforms", "is safe", "certified", "passes", "stays", "does not pull"] {
        assert!(!text.contains(claim), "{claim}");
    }
    let substances = told("", CHEST, "substances").concat();
    assert!(!substances.contains("tip over"), "it is told once: {substances}");
}

#[test]
fn a_low_one_is_told_no_more_than_its_height_asks_for() {
    let low =
        CHEST.replace("height = 900", "height = 400").replace(", opens = { as = \"drawer\", by = 300 }", "");
    let lines = told("", &low, "stability");
    assert!(lines[0].starts_with("It is low; in a home with young children"), "{lines:?}");
    assert!(!lines.concat().contains("landlord"), "{lines:?}");
}

#[test]
fn a_share_of_the_whole_needs_the_whole() {
    let shares = |keys: &str| told("", &format!("{keys}\n{CHEST}"), "shares");
    assert_eq!(
        shares(""),
        [
            "Original. 2 parts.",
            "Later. 1 part.",
            "New. 1 part.",
            "Not known. 1 part.",
            "By mass. No share is given, as of 1 part size or material is not known.",
        ]
    );
    let told = shares("rest = \"original\"");
    assert!(told[0].starts_with("Original. 2 parts, at least 40 % of the parts, "), "{told:?}");
    assert!(told[1..4].iter().all(|line| line.contains("at most 20 % of the parts")), "{told:?}");
    assert_eq!(
        told[4],
        "By mass. The shares cover the parts of which that is known: at least 90 % of the piece."
    );
}

/// A piece with one shelf, 800 by 250 by 18 mm of oak.
fn shelf(keys: &str) -> String {
    let part = r#"{ id = "s", name = "Shelf", standing = "new", build = "solid", timber = "white-oak", grain = "length", size = { length = 800, width = 250, thick = 18 } }"#;
    format!("kind = \"case/bookcase\"\nuse = {{ shelves = [{{ part = \"s\", {keys} }}] }}\npart = [{part}]")
}

/// What is told of that shelf.
fn shelves(keys: &str) -> Vec<String> {
    told("", &shelf(keys), "shelves")
}

#[test]
fn a_shelf_s_load_is_rounded_down_and_stands_with_its_caution() {
    let lines = shelves("ends = \"supported\"");
    // 7.829 GPa / 1.6, 121 500 mm⁴, 2.083 mm: 18.9 kg in all, of which 3.0 kg are its own; books weigh 23.8 kg.
    assert_eq!(
        lines[0],
        "Shelf: half a row of average books spread along it, but no full row. It was reckoned to bear \
         15 kg spread evenly, or 9 kg in the middle. A full row of average books this long weighs about 24 kg. To bear \
         it, it would need a span of 710 mm or a board 21 mm thick."
    );
    says(&lines, "pins, screws, joints and the carcase were not tested");
    let how = reckoned("", &shelf("ends = \"supported\""), "Load: Shelf");
    assert!(how.contains("EN 1995-1-1") && how.contains("between supports, ends resting"), "{how}");
    let fixed = reckoned("", &shelf("ends = \"fixed\""), "Load: Shelf");
    assert!(fixed.contains("only if its ends indeed cannot turn; not promised"), "{fixed}");
    says(&shelves("ends = \"fixed\""), "It was reckoned to bear 15 kg");
}

#[test]
fn the_smaller_of_what_is_said_and_reckoned_is_printed() {
    says(&shelves("ends = \"supported\", load = 12"), "It was reckoned to bear 12 kg");
    says(&shelves("ends = \"supported\", load = 60"), "It was reckoned to bear 15 kg");
    says(
        &shelves("ends = \"one-end\", load = 5"),
        "5 kg by the workshop's own judgement. No load was reckoned: it is held at one end",
    );
}
