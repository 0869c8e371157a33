//! `witnessmark why`

use crate::fixture::{Bench, Workshop};

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

#[test]
fn each_sentence_of_a_piece_is_told_with_the_lines_that_it_rests_on() {
    let bench = || Bench::new().lay(&Workshop::example_in_small());
    bench().args(["why", "WT-011"]).stdout_has("pieces/writing-table/record.toml:").stderr("").status(0);
    let args = ["why", "WT-011", "--sheet", "disclosure", "--as", "json"];
    let (bench, told) = bench().args(args).output(0);
    let told: Vec<serde_json::Value> = serde_json::from_str(&told).unwrap();
    assert!(told.len() > 20, "{}", told.len());
    let record = String::from_utf8(bench.read("pieces/writing-table/record.toml")).unwrap();
    let lines: Vec<&str> = record.lines().collect();
    for sentence in &told {
        let basis = sentence["basis"].as_array().unwrap();
        assert!(!basis.is_empty(), "{sentence}");
        for on in basis.iter().filter(|on| on["file"] == "pieces/writing-table/record.toml") {
            let Some(line) = on["line"].as_u64() else { continue };
            let key = on["key"].as_str().unwrap().rsplit('.').next().unwrap();
            let line = lines[line as usize - 1];
            // A row of a list that goes over several lines begins with its own brace.
            assert!(line.contains(key) || line.trim_start().starts_with('{'), "{on}: {line}");
        }
    }
    let bench = Bench::workshop().sound_piece("chair", "CH-001");
    let (_, told) = bench.args(["why", "CH-001", "--as", "json"]).output(0);
    assert!(told.contains("\"line\": null"), "some sentences rest on what the record leaves out: {told}");
}

#[test]
fn a_piece_that_is_not_there_is_said_and_a_code_is_a_code_in_a_workshop_too() {
    let bench = || Bench::new().lay(&Workshop::example_in_small());
    bench().args(["why", "empty-text"]).stdout_has("Why: An empty text").status(0);
    bench().args(["why", "writing-tabel"]).stderr_has("there is no piece `writing-tabel`").status(2);
    bench().args(["why", "no-such", "--sheet", "disclosure"]).stderr_has("there is no piece").status(2);
}
