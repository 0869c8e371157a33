//! `witnessmark why`

use crate::fixture::Bench;

#[test]
fn a_code_says_its_rank_why_and_what_to_do() {
    Bench::new()
        .args(["why", "empty-text"])
        .stdout(
            "\
empty-text
  Mistake: what it touches is not in the papers until it is mended.
  Why: An empty text would print as an empty line, which a buyer may read as
  \"nothing to report\".
  To mend: Say it, or leave the key out.
",
        )
        .stderr("")
        .status(0);
}

#[test]
fn a_code_may_be_copied_with_what_is_around_it() {
    for copied in ["(why empty-text)", "why empty-text", " empty-text)"] {
        Bench::new().args(["why", copied]).stdout_has("empty-text\n  Mistake: ").status(0);
    }
}

#[test]
fn an_unknown_code_is_answered_with_the_nearest() {
    Bench::new()
        .args(["why", "emptytext"])
        .stdout("")
        .stderr(
            "cannot go on: there is no diagnostic `emptytext` (perhaps `empty-text`); \
             `witnessmark why` lists all\n",
        )
        .status(2);
    Bench::new().args(["why", "zzz"]).stderr_has("no diagnostic `zzz`; `witnessmark").status(2);
}

#[test]
fn without_a_code_all_are_listed_and_each_can_be_asked_about() {
    let (bench, list) = Bench::new().args(["why"]).output(0);
    let codes: Vec<&str> =
        list.lines().filter_map(|line| line.strip_prefix("  ")?.split_whitespace().next()).collect();
    assert!(codes.contains(&"no-record") && codes.len() > 10, "{codes:?}");
    let mut bench = bench;
    for code in codes {
        bench = bench
            .args(["why", code])
            .stdout_has(&format!("{code}\n  "))
            .stdout_has("\n  To mend: ")
            .status(0);
    }
}
