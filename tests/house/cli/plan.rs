//! `witnessmark plan`

use crate::fixture::{Bench, Workshop};

const WASHSTAND: &str = r#"
kind = "table/washstand"
made = "1905~"
[[part]]
id = "top"
name = "Top"
standing = "original"
size = { length = 900, width = 450, thick = 20 }
[[part]]
id = "runner"
name = "Runner"
standing = "original"
under = "top"
[[part]]
id = "knob"
name = "Knob"
standing = "new"
planned = true
from-stock = "knobs"
[[work]]
part = "runner"
did = "glue the runner back"
planned = true
hours = 1.5
undoable = "no"
[[surface]]
name = "Outside"
parts = "top"
found = "unknown"
steps = [
  { clean = "white spirit" },
  { remove = "all", by = "stripper", planned = true },
  { apply = "tin:satin", coats = 2, planned = true },
]
"#;

const WORKSHOP: &str = r#"
week = { saturday = 6, sunday = 4 }
[[tin]]
id = "satin"
is = "oil-polyurethane"
recoat-hours = [4, 6]
covers = 10
litres = 1.0
"#;

fn workshop() -> Workshop {
    let stock = "[[stock]]\nid = \"knobs\"\nwhat = \"Turned knobs\"\ncount = 6\n";
    Workshop::new(WORKSHOP).piece("washstand", "Washstand", "WS-001", WASHSTAND).write("stock.toml", stock)
}

fn plan() -> (Bench, String) {
    Bench::new()
        .lay(&workshop())
        .args(["plan", "WS-001", "--from", "2026-12-05", "--workshop", "."])
        .output(0)
}

#[test]
fn what_comes_first_when_and_what_it_takes() {
    let (_, told) = plan();
    let order: Vec<&str> = told
        .lines()
        .skip_while(|line| *line != "In this order")
        .skip(1)
        .take_while(|line| !line.is_empty())
        .filter(|line| line.trim_start().starts_with(|first: char| first.is_ascii_digit()))
        .filter_map(|line| line.trim_start().split_once(' '))
        .map(|(_, task)| task.trim_start())
        .collect();
    assert_eq!(
        order,
        [
            "Take off Top",
            "Test the old coat for lead: Outside",
            "Try on a hidden spot what dissolves the old coat: Outside",
            "Make or get Knob",
            "glue the runner back, 1.5 h",
            "Strip to the wood, stripper: Outside",
            "2 coats of satin (tin): Outside",
            "Put back Top",
        ]
    );
    // 900 by 450 mm, two coats, 10 m2 to the litre: 0.081 l, with the edges 0.092 l.
    for said in [
        "Sat 5 Dec",
        "satin (tin), coat 1 of 2: Outside; then 6 h to dry",
        ": 0.08 to 0.09 l",
        "Knob; from `knobs`, of which 6 pieces are left",
        "Runner lies under it",
    ] {
        assert!(told.contains(said), "{said}\n{told}");
    }
    let lasting = told.split("Cannot be undone").nth(1).expect("there is a list of it");
    assert!(lasting.contains("glue the runner back") && lasting.contains("Strip to the wood"), "{told}");
}

#[test]
fn papers_and_sums_know_nothing_of_a_plan_and_the_archive_has_it() {
    let writing = workshop().writeup();
    for (path, bytes) in &writing.files {
        let text = String::from_utf8_lossy(bytes);
        let told = ["glue the runner back", "Knob"].iter().any(|words| text.contains(words));
        assert!(!told || path == "archive/pieces/ws-001/index.html", "{path}");
    }
    let page = writing.page("archive/pieces/ws-001/index.html");
    for planned in ["<li>glue the runner back</li>", "<li>Outside: 2 steps</li>", "<li>Knob</li>"] {
        assert!(page.contains(planned), "{planned}");
    }
}

#[test]
fn circles_are_named_and_nothing_is_no_plan() {
    let round = WASHSTAND.replace("id = \"top\"", "id = \"top\"\nunder = \"runner\"");
    let workshop = Workshop::new(WORKSHOP).piece("washstand", "Washstand", "WS-001", &round);
    let workshop = workshop.write("stock.toml", "[[stock]]\nid = \"knobs\"\nwhat = \"Turned knobs\"\n");
    Bench::new()
        .lay(&workshop)
        .args(["plan", "washstand"])
        .stdout_has("wait for each other in a circle")
        .stdout_has("Take off Top")
        .status(1);
    Bench::new()
        .lay(&Workshop::new("").piece("stool", "Stool", "ST-001", "kind = \"chair/stool\"\n"))
        .args(["plan", "stool"])
        .stdout_has("Nothing is planned.")
        .status(0)
        .args(["plan", "stoll"])
        .stderr_has("stool")
        .status(2);
}

#[test]
fn other_programs_get_the_same() {
    let (_, json) = Bench::new()
        .lay(&workshop())
        .args(["plan", "WS-001", "--from", "2026-12-05", "--as", "json"])
        .output(0);
    let plan: serde_json::Value = serde_json::from_str(&json).expect("it is JSON");
    assert_eq!(plan["order"].as_array().map(Vec::len), Some(8));
    assert_eq!(plan["days"][0]["day"], "2026-12-05");
}
