//! How much of what lines say is proposed, and how much is proposed that they do not say.

use std::fmt::Write;

use toml_edit::Value;

use super::Bench;
use crate::record::Jotting;
use crate::record::day_book::{Calendar, Whose, durations, tokens};
use crate::trade::Trade;

/// The lines of a file with what is to be taken from each.
struct Lines(Vec<(String, Vec<String>, Vec<String>)>);

impl Lines {
    fn of(text: &str) -> Lines {
        let file: toml::Table = text.parse().expect("the lines read");
        let list = |row: &toml::Value, key: &str| -> Vec<String> {
            let list = row.get(key).and_then(toml::Value::as_array);
            list.into_iter().flatten().map(|one| one.as_str().expect("a text").to_owned()).collect()
        };
        let row = |row: &toml::Value| {
            let words = row["words"].as_str().expect("every line has words").to_owned();
            (words, list(row, "take"), list(row, "may"))
        };
        Lines(file["line"].as_array().expect("there are lines").iter().map(row).collect())
    }
}

/// What came of reading lines.
#[derive(Debug, Default)]
struct Count {
    wanted: usize,
    proposed: usize,
    told: usize,
    wrong: usize,
    report: String,
}

/// The line as the reader of the file sees it: written on Friday 27 November 2026.
fn jotting(words: &str) -> Jotting {
    let calendar =
        Calendar { month_first: false, order_known: true, from: None, until: "2026-11-27".parse().ok() };
    Jotting::alone(words, calendar)
}

/// What a line proposes, a short phrase each, as the file has them.
fn facts(bench: &Bench<'_>, jotting: &Jotting) -> Vec<String> {
    let words = jotting.words.for_archive();
    let mut facts: Vec<String> = Vec::new();
    let text = |value: &Value| match value {
        Value::String(text) => text.value().clone(),
        other => other.to_string().trim().to_owned(),
    };
    let proposals = bench.proposals(jotting);
    for one in &proposals {
        for part in &one.parts {
            facts.push(format!("part {}", part.said));
        }
        for deed in &one.deeds {
            facts.push(format!("did {deed}"));
        }
        for (key, value) in &one.keys {
            match (one.table, *key) {
                (_, "on") => facts.push(format!("on {}", text(value))),
                ("work", "turned-out") => facts.push(format!("outcome {}", text(value))),
                ("surface.steps", "note") => facts.push(format!("sheen {}", text(value))),
                ("surface.steps", "abrade-between") => facts.push(format!("between {}", text(value))),
                (_, "mix") => {
                    for one in value.as_array().expect("a list").iter().filter_map(Value::as_inline_table) {
                        facts.push(format!(
                            "mix {} {}",
                            one["of"].as_str().unwrap_or(""),
                            one["parts"].to_string().trim()
                        ));
                    }
                }
                (_, "abrade") => match value.as_array() {
                    Some(list) => facts.extend(list.iter().map(|one| format!("abrade {}", text(one)))),
                    None => facts.push(format!("abrade {}", text(value))),
                },
                ("test", "of") => facts.push(format!("test {}", text(value))),
                ("fixing", "kind") => facts.push(format!("fixing {}", text(value))),
                ("cost", "amount") => facts.push(format!("cost {}", text(value))),
                ("open", "what") => facts.push("open".to_owned()),
                ("decision", "chose") => facts.push("keep".to_owned()),
                ("undone", "what") => facts.push("undone".to_owned()),
                ("", "inscriptions") => facts.push("inscription".to_owned()),
                ("found", "note") => facts.push("provenance".to_owned()),
                ("", "made") => facts.push(format!("made {}", text(value).trim_end_matches('?'))),
                ("", "size") => {
                    let size = value.as_inline_table().expect("a table");
                    let side = |key: &str| size[key].to_string().trim().to_owned();
                    facts.push(format!("size {} {} {}", side("width"), side("depth"), side("height")));
                }
                ("patch", "what") => facts.push(format!("patch {}", text(value))),
                ("part", "standing") if text(value) == "removed" => {
                    facts.extend(one.parts.iter().map(|part| format!("removed {}", part.said)));
                }
                ("part", "from-stock") => facts.push(format!("stock {}", text(value))),
                ("part", "size") => facts.push(format!(
                    "thick {}",
                    value.as_inline_table().expect("a table")["thick"].to_string().trim()
                )),
                ("surface", "drying") => {
                    for (key, value) in value.as_inline_table().expect("a table").iter() {
                        facts.push(format!("{key} {}", value.to_string().trim()));
                    }
                }
                (
                    "surface.steps" | "test" | "fixing" | "finding" | "part" | "surface" | "found"
                    | "handover" | "",
                    key,
                ) if [
                    "apply",
                    "clean",
                    "remove",
                    "found",
                    "test",
                    "result",
                    "by",
                    "coats",
                    "every-hours",
                    "count",
                    "standing",
                    "instead-of",
                    "seen",
                    "timber",
                    "paid",
                    "price",
                    "asking",
                    "weighs",
                ]
                .contains(&key)
                    && !(one.table == "part" && key == "standing") =>
                {
                    facts.push(format!("{key} {}", text(value)));
                }
                _ => {}
            }
        }
    }
    for one in durations(&tokens(words)) {
        match one.whose {
            Whose::Wait => facts.push(format!("wait {}", one.minutes)),
            Whose::Total => facts.push(format!("total {}", one.minutes)),
            _ => {}
        }
    }
    facts.extend(jotting.minutes.for_archive().map(|minutes| format!("minutes {minutes}")));
    facts.sort();
    // Two rows may well say the same; of parts and days once is enough.
    let mut once: Vec<String> = Vec::new();
    for fact in facts {
        let often = fact.starts_with("cost ") || fact.starts_with("coats ");
        if often || !once.contains(&fact) {
            once.push(fact);
        }
    }
    once
}

fn count(lines: &Lines) -> Count {
    let bench = Bench::of(Trade::built_in(), None);
    let mut count = Count::default();
    for (words, take, may) in &lines.0 {
        let jotting = jotting(words);
        let mut proposed = facts(&bench, &jotting);
        // Every row has the day of its line, which is told only where the line tells it.
        let dated = take.iter().any(|fact| fact.starts_with("on "));
        proposed.retain(|fact| dated || !fact.starts_with("on "));
        let mut left = take.clone();
        let mut wrong = Vec::new();
        count.told += proposed.len();
        for fact in proposed {
            if let Some(at) = left.iter().position(|wanted| *wanted == fact) {
                left.remove(at);
            } else if !may.contains(&fact) && !fact.starts_with("wait ") {
                wrong.push(fact);
            }
        }
        count.wanted += take.len();
        count.proposed += take.len() - left.len();
        count.wrong += wrong.len();
        if !left.is_empty() || !wrong.is_empty() {
            let _ = writeln!(count.report, "{words}\n    missed {left:?}\n    wrong  {wrong:?}");
        }
    }
    count
}

#[test]
#[allow(clippy::print_stdout)]
#[ignore = "measures lines of one's own: LINES=FILE FROM=0 TO=99 cargo test --lib -- --ignored --nocapture lines_of"]
fn lines_of_a_file_of_one_s_own_are_counted() {
    let path = std::env::var("LINES").expect("LINES names a file");
    let number = |name: &str| std::env::var(name).ok().and_then(|number| number.parse::<usize>().ok());
    let mut lines = Lines::of(&std::fs::read_to_string(path).expect("it reads"));
    let to = number("TO").unwrap_or(usize::MAX).min(lines.0.len());
    lines.0 = lines.0[number("FROM").unwrap_or(0).min(to)..to].to_vec();
    let count = count(&lines);
    println!("{}", count.report);
    println!(
        "{} of {} facts proposed ({:.1} %); {} of {} proposed are wrong ({:.1} %)",
        count.proposed,
        count.wanted,
        100.0 * count.proposed as f64 / count.wanted.max(1) as f64,
        count.wrong,
        count.told,
        100.0 * count.wrong as f64 / count.told.max(1) as f64
    );
}

/// The files of lines, with how many facts in a hundred are proposed at least, and how many proposals are wrong at most.
const HELD: [(&str, usize, usize); 7] = [
    (include_str!("../../tests/data/daybook.toml"), 85, 2),
    (include_str!("../../tests/data/daybook_more.toml"), 85, 2),
    (include_str!("../../tests/data/daybook_fresh.toml"), 88, 2),
    (include_str!("../../tests/data/daybook_unseen.toml"), 80, 9),
    (include_str!("../../tests/data/daybook_blind.toml"), 62, 21),
    (include_str!("../../tests/data/daybook_worked.toml"), 77, 3),
    (include_str!("../../tests/data/daybook_mended.toml"), 85, 2),
];

#[test]
fn most_of_what_lines_say_is_proposed_and_little_else() {
    for (file, least, most) in HELD {
        let count = count(&Lines::of(file));
        assert!(
            count.proposed * 100 >= count.wanted * least && count.wrong * 100 <= count.told * most,
            "{} of {} proposed, {} of {} wrong\n{}",
            count.proposed,
            count.wanted,
            count.wrong,
            count.told,
            count.report
        );
    }
}
