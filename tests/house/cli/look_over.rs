//! `witnessmark look-over`

use crate::fixture::{Bench, Workshop};

#[test]
fn dangers_come_first_and_what_the_kind_has_follows() {
    let (bench, told) = Bench::new().args(["look-over", "painted", "chest", "of", "drawers"]).output(0);
    let place = |part: &str| told.find(part).unwrap_or_else(|| panic!("{part}\n{told}"));
    assert!(
        place("Danger signs") < place("One hand on top") && place("One hand on top") < place("All of it")
    );
    assert!(place("All of it") < place("Drawers") && place("Drawers") < place("A chip: how many coats"));
    assert!(told.contains("The list is for: chest of drawers, with: paint"), "{told}");
    assert!(!told.contains("Springs"), "{told}");
    bench
        .args(["look-over", "wardrob"])
        .stdout_has("perhaps you mean: wardrobe")
        .stdout_has("Springs and webbing")
        .status(0)
        .args(["look-over"])
        .stderr_has("KIND")
        .status(2);
}

#[test]
fn what_such_pieces_had_before_stands_beside() {
    let finding =
        "[[finding]]\nid = \"f\"\nseen = \"loose joint\"\nextent = \"all four\"\nseverity = \"minor\"\n";
    let lesson = "[[lesson]]\ntext = \"Look under the leaves.\"\nfor = \"gateleg\"\n";
    let first = format!("kind = \"table/gateleg\"\n{finding}{lesson}");
    let workshop = Workshop::new("")
        .piece("one", "One", "TL-001", &first)
        .piece("two", "Two", "TL-002", "kind = \"table/drop-leaf-table\"\n")
        .piece("three", "Three", "ST-001", &format!("kind = \"seating/stool\"\n{finding}"));
    let bench = Bench::new().lay(&workshop);
    bench
        .args(["look-over", "gateleg"])
        .stdout_has("oose joint: 1 of 2")
        .stdout_has("Look under the leaves (TL-001)")
        .stdout_has("Rests on 2 pieces: TL-001, TL-002.")
        .status(0)
        .args(["look-over", "gateleg", "--as", "json"])
        .stdout_has("\"do\": \"Turn over\"")
        .status(0);
}

#[test]
fn it_is_printed_to_a_file_that_was_not_there() {
    let bench = Bench::new()
        .args(["look-over", "Kitchen", "table", "--print"])
        .stdout("To print look-over-kitchen-table.pdf\n")
        .status(0);
    assert!(std::fs::read(bench.path("look-over-kitchen-table.pdf")).unwrap().starts_with(b"%PDF"));
    let bench = bench
        .write("mine.pdf", "mine")
        .args(["look-over", "stool", "--print=mine.pdf", "--paper", "letter"])
        .stderr_has("`mine.pdf` is there already and stays as it is")
        .status(2)
        .args(["look-over", "stool", "--print=new/stool.pdf"])
        .status(0)
        .args(["look-over", "stool", "--workshop", "."])
        .stderr_has("is not a workshop")
        .status(2);
    assert_eq!(std::fs::read(bench.path("mine.pdf")).unwrap(), b"mine");
}
