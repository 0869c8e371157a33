//! The README tells the truth: its records read cleanly, and its two commands are those that CI runs.

use witnessmark::record;

use crate::fixture::Workshop;

const README: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md"));

/// The fenced blocks of a language.
fn blocks(language: &str) -> Vec<&'static str> {
    let fence = format!("```{language}\n");
    README
        .match_indices(&fence)
        .map(|(at, _)| {
            let block = &README[at + fence.len()..];
            &block[..block.find("```").expect("every block ends")]
        })
        .collect()
}

#[test]
fn every_record_reads_cleanly() {
    let records = blocks("toml");
    assert!(records.len() >= 2);
    for record in records {
        let tree = Workshop::new("").write("pieces/a/record.toml", record).tree();
        let (_, problems) = record::read(&tree);
        assert_eq!(problems, [], "{record}");
    }
}

#[test]
fn the_first_two_commands_do_the_set_up() {
    let commands: Vec<&str> = blocks("sh").into_iter().map(str::trim).take(2).collect();
    assert_eq!(commands, ["cargo run -- writeup example-project", "cargo test"]);
}

#[test]
fn it_opens_with_one_paragraph_and_a_picture() {
    let mut paragraphs = README.split("\n\n").skip(1);
    assert!(paragraphs.next().is_some_and(|first| first.starts_with("Witnessmark turns a folder")));
    assert!(paragraphs.next().is_some_and(|second| second.starts_with("![")));
}
