//! `witnessmark words`

use crate::fixture::Bench;

#[test]
fn a_spoken_word_is_told_by_its_row() {
    Bench::new().args(["words", "French", "polish"]).stdout_has("as a finish\n  shellac\n").status(0);
    Bench::new().args(["words", "PVA"]).stdout_has("as a fixing\n  pva-glue\n").status(0);
}

#[test]
fn a_word_of_several_meanings_is_asked_about_and_one_in_the_wrong_place_is_told_where_it_belongs() {
    Bench::new().args(["words", "catalysed lacquer"]).stdout_has("Was the catalyst").status(0);
    Bench::new().args(["words", "oxalic acid"]).stdout_has("Oxalic acid is a wash").status(0);
    Bench::new().args(["words", "oxalic acid"]).stdout_has("as a treatment\n  oxalic-acid\n").status(0);
    Bench::new().args(["words", "dark", "oak"]).stdout_has("That is a colour").status(1);
}

#[test]
fn a_phrase_is_told_by_its_telling_words() {
    let told = |phrase: &str| Bench::new().args(["words", phrase]).output(0).1;
    let ring = told("nasty black water ring on the top");
    assert!(
        ring.contains("as something seen\n  By the words: black, water, ring.\n  black-ring\n"),
        "{ring}"
    );
    let either = told("oak or chestnut");
    assert!(
        either.contains("as a timber\n  By the words: oak, chestnut.\n  It tells of several: "),
        "{either}"
    );
    let doubted = told("maybe hide glue");
    assert!(
        doubted.contains("as a fixing\n  By the words: hide, glue.\n  Perhaps hide-glue: is it that?"),
        "{doubted}"
    );
    Bench::new().args(["words", "no", "worm"]).stdout_has("no table knows `no worm`").status(1);
}

#[test]
fn rows_of_a_workshops_own_are_told_as_such_and_may_take_a_word_over() {
    let row = |id: &str| format!("[[finish]]\nid = \"{id}\"\n{HOUSE_OIL}\n");
    let bench = Bench::new().write("workshop.toml", "name = \"Bench\"\n");
    let bench = bench.write("trade/finish.toml", row("house-oil"));
    let (bench, told) = bench.args(["words", "danish oil"]).output(0);
    assert!(told.contains("as a finish\n  house-oil (this workshop's own row)\n"), "{told}");
    assert!(told.contains("it was for wiping-oil-blend."), "{told}");
    let (bench, told) = bench.args(["words", "our oil, two coats"]).output(0);
    assert!(told.contains("By the words: our, oil.\n  house-oil"), "{told}");
    let twice = bench.write("trade/finish.toml", row("house-oil") + &row("shed-oil"));
    twice.args(["inspect"]).stderr_has("for `house-oil` already, and here for `shed-oil`").status(1);
}

/// All but the id of a finish of a workshop's own.
const HOUSE_OIL: &str = r#"name = "House oil"
also = ["danish oil", "our oil"]
plain = "an oil that we mix"
group = "oil"
layer = "in-wood"
protective = true
dust = "Dust it."
clean = "Wipe it."
spill = "Dry it."
ring = "Oil it."
renew = "Oil it."
never = []
undo = "It stays in the wood."
owner-repair = "yes"
bench-hazards = []
rags-self-heat = true
facts = []
source = "our own book"
"#;

#[test]
fn a_word_for_nothing_is_a_mistake() {
    Bench::new().args(["words", "quaternion"]).stdout_has("no table knows `quaternion`").status(1);
    Bench::new().args(["words", "shelllac"]).stdout_has("as a finish, perhaps shellac").status(1);
}

#[test]
fn without_a_word_all_are_listed() {
    let (_, list) = Bench::new().args(["words"]).output(0);
    for known in ["as a board", "danish oil", "loose-joint", "Scots pine", "brass"] {
        assert!(list.contains(known), "{known}");
    }
    assert!(list.lines().all(|line| line.chars().count() <= 80));
}
