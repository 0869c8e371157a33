//! `witnessmark words`

use crate::fixture::Bench;

#[test]
fn a_spoken_word_is_told_by_its_row() {
    Bench::new().args(["words", "French", "polish"]).stdout_has("as a finish\n  shellac\n").status(0);
    Bench::new().args(["words", "PVA"]).stdout_has("as a fixing\n  pva-glue\n").status(0);
}

#[test]
fn a_word_of_several_meanings_is_asked_about_and_one_in_the_wrong_place_is_told_where_it_belongs() {
    Bench::new().args(["words", "catalysed lacquer"]).stdout_has("as a finish\n  Was the catalyst").status(0);
    Bench::new().args(["words", "oxalic acid"]).stdout_has("Oxalic acid is a wash").status(0);
    Bench::new().args(["words", "oxalic acid"]).stdout_has("as a treatment\n  oxalic-acid\n").status(0);
    Bench::new().args(["words", "dark", "oak"]).stdout_has("That is a colour").status(1);
}

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
