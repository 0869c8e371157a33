//! What the papers say of wood that moves, shelves, weight and tipping: from a record's text to the sentences printed.

use serde_json::Value;
use witnessmark::derive::Workpiece;
use witnessmark::record;
use witnessmark::trade::Trade;
use witnessmark::view::{HouseStyle, PieceContext, buyer};

use crate::fixture::Workshop;

/// The papers of one piece, as a theme gets them.
#[track_caller]
fn papers(workshop: &str, record: &str) -> Value {
    let workshop = Workshop::new(workshop).piece("one", "Chest", "C-1", record);
    let (folder, problems) = record::read(&workshop.tree());
    assert_eq!(problems, [], "the fixture cannot be read");
    let trade = Trade::built_in();
    let workpiece = Workpiece::unopened(&folder, &folder.pieces[0], trade).expect("it reads");
    let house = HouseStyle::of(folder.workshop.as_ref().expect("it reads"));
    let context = PieceContext::of(&folder, &workpiece, trade, &house);
    serde_json::to_value(buyer::papers(&context)).expect("papers are plain data")
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
fn says(value: &Value, words: &str) {
    assert!(value.to_string().contains(words), "{words:?} is not in {value:#}");
}

#[test]
fn movement_is_a_range_with_its_reasons_and_a_caution_where_it_is_held() {
    let papers = papers("climate = { humidity-low = 35, humidity-high = 65, temperature = 20 }", CHEST);
    let movement = &papers["care"]["movement"];
    says(&movement["room"], "the workshop assumes air between 35 % relative humidity");
    let top = &movement["rows"][0];
    // 440 mm x 0.00365 to 0.003763 (what 10.5 % of shrinkage gives) x 5.033 %.
    assert_eq!(top["amount"], "8.1 to 8.3 mm");
    assert_eq!((top["dry"].as_str(), top["damp"].as_str()), (Some("440 mm"), Some("448.1 to 448.3 mm")));
    says(&top["caution"], "held fast across its grain and wants to move by about 8.1 to 8.3 mm");
    says(&top["basis"], "along the rings 0.00365 to 0.00376 for 1 %");
    assert!(!movement.to_string().contains("the most"));
    let side = &movement["rows"][1];
    // From 0.0018 along the rays to 0.003763 along the rings.
    assert_eq!(side["amount"], "4 to 8.3 mm");
    assert_eq!(side["caution"], "");
    says(&side["text"], "Side (× 2): 4 to 8.3 mm wider in the damp season");
    let drawer = &movement["rows"][2];
    says(&drawer["text"], "higher in the damp season");
    assert_eq!(movement["without"][0]["name"], "Till");
    says(&movement["without"], "its timber is not known");
    assert_eq!(movement["rows"].as_array().map(Vec::len), Some(3), "what is missing does not move");
}

#[test]
fn an_assumed_room_and_an_impossible_one_are_said() {
    let assumed = papers("", CHEST);
    says(&assumed["care"]["movement"]["room"], "we assume, as nothing else is known,");
    says(&assumed["care"]["movement"]["basis"], "our own choice of a heated home");
    let flooded = papers("climate = { humidity-low = 35, humidity-high = 100 }", CHEST);
    let movement = &flooded["care"]["movement"];
    assert_eq!(movement["rows"], Value::Array(Vec::new()));
    says(&movement["without"], "humidity lies outside 5 to 95 %");
}

#[test]
fn weight_people_and_what_comes_out_first() {
    let papers = papers("", CHEST);
    let lifting = &papers["care"]["lifting"];
    says(&lifting["weight"], "at least ");
    says(&lifting["counted"], "1 part is left out, as size or material is not known");
    says(&lifting["emptied"], "Take out first: drawer. What is left weighs at least ");
    says(&lifting["basis"], "INDG143");
    // A part without a size may be too much of it to say what the whole weighs.
    let unsaid = CHEST.replace(", size = { length = 200, width = 100, thick = 80, wall = 8 }", "");
    let missing = &self::papers("", &unsaid)["care"]["lifting"]["missing"];
    says(
        missing,
        "No weight is given: the parts of which size and material are known may be less than nine tenths of it.",
    );
    let weighed = self::papers("", &format!("weighs = 15.5\n{CHEST}"));
    let lifting = &weighed["care"]["lifting"];
    assert_eq!(
        (lifting["weight"].as_str(), lifting["people"].as_str()),
        (Some("15.5 kg"), Some("One person."))
    );
    let bare = self::papers("", "kind = \"seat/stool\"");
    says(&bare["care"]["lifting"]["missing"], "of no part both size and material are known");
    assert_eq!(bare["care"]["movement"], Value::Null);
    assert_eq!(bare["disclosure"]["stability"], Value::Null);
    assert_eq!(bare["disclosure"]["originality"], Value::Null);
}

#[test]
fn a_tall_chest_is_to_be_anchored_and_nothing_is_claimed() {
    let papers = papers("", CHEST);
    let stability = &papers["disclosure"]["stability"];
    assert_eq!(stability["anchor"], true);
    says(&stability["reasons"], "rules of some countries begin at 686 mm");
    says(
        &stability["checks"],
        "Drawer (× 3): one of them open by 300 mm and empty, it does not pull the piece over; with a young child's weight on its outer edge the piece tips over.",
    );
    says(&stability["checks"], "With all of them open and empty, the piece tips over.");
    says(&stability["limits"], "A child that climbs or pulls can tip it");
    says(&stability["limits"], "no conformity is claimed");
    let text = stability.to_string().to_lowercase();
    for claim in ["complies", "conforms", "is safe", "certified", "passes", "stays,"] {
        assert!(!text.contains(claim), "{claim}");
    }
}

#[test]
fn a_share_of_the_whole_needs_the_whole() {
    let originality =
        |keys: &str| papers("", &format!("{keys}\n{CHEST}"))["disclosure"]["originality"].clone();
    let silent = originality("");
    let shares = |of: &Value, key: &str| -> Vec<String> {
        let rows = of["rows"].as_array().expect("rows");
        rows.iter().map(|row| row[key].as_str().expect("text").to_owned()).collect()
    };
    assert_eq!(shares(&silent, "by_count").concat() + &shares(&silent, "by_mass").concat(), "");
    says(&silent["left_out"], "No share of the whole is given by count");
    says(&silent["left_out"], "No share is given by mass, as of 1 part size or material is not known.");
    let told = originality("rest = \"original\"");
    assert!(shares(&told, "by_count").iter().all(|share| share.ends_with(" %")));
    assert!(shares(&told, "by_mass").iter().all(|share| share.ends_with(" %") || share == "not known"));
    says(
        &told["left_out"],
        "By mass it covers the parts of which that is known: at least 90 % of the piece.",
    );
    let papers = papers("", CHEST);
    assert_eq!(papers["disclosure"]["originality"], papers["record"]["originality"]);
    let drawn = silent["bars_svg_html"].as_str().expect("a drawing");
    assert!(drawn.starts_with("<svg ") && drawn.ends_with("</svg>"));
    assert!(!drawn.contains("style") && drawn.contains("aria-label="));
}

/// The papers of a piece with one shelf, 800 by 250 by 18 mm of oak.
fn shelf(keys: &str) -> Value {
    let part = r#"{ id = "s", name = "Shelf", standing = "new", build = "solid", timber = "white-oak", grain = "length", size = { length = 800, width = 250, thick = 18 } }"#;
    let record = format!(
        "kind = \"case/bookcase\"\nuse = {{ shelves = [{{ part = \"s\", {keys} }}] }}\npart = [{part}]"
    );
    papers("", &record)["care"]["loads"].clone()
}

#[test]
fn a_shelf_s_load_is_rounded_down_and_stands_with_its_caution() {
    let loads = shelf("ends = \"supported\"");
    // 7.829 GPa / 1.6, 121 500 mm⁴, 2.083 mm: 18.9 kg in all, of which 3.0 kg are its own; books weigh 23.8 kg.
    assert_eq!(loads["rows"][0]["load"], "15 kg");
    says(
        &loads["rows"][0]["text"],
        "half a row of average books may stand on it, spread along it, but no full row",
    );
    says(
        &loads["rows"][0]["books"],
        "weighs about 24 kg. To bear it, it would need a span of 710 mm or a board 21 mm thick.",
    );
    assert!(!loads.to_string().contains("at most"));
    says(&loads["rows"][0]["span"], "800 mm between supports, ends resting");
    says(&loads["rows"][0]["basis"], "EN 1995-1-1");
    says(&loads["cautions"], "may give way before a shelf sags");
    assert_eq!(loads["rows"][0]["fixed"], "");
    says(&shelf("ends = \"fixed\"")["rows"][0]["fixed"], "we do not promise it");
    assert_eq!(shelf("ends = \"fixed\"")["rows"][0]["load"], "15 kg");
}

#[test]
fn the_smaller_of_what_is_said_and_reckoned_is_printed() {
    assert_eq!(shelf("ends = \"supported\", load = 12")["rows"][0]["load"], "12 kg");
    assert_eq!(shelf("ends = \"supported\", load = 60")["rows"][0]["load"], "15 kg");
    let held = shelf("ends = \"one-end\", load = 5");
    assert_eq!(held["rows"], Value::Array(Vec::new()));
    says(&held["without"], "the workshop lets it carry 5 kg, on its own judgement");
}
