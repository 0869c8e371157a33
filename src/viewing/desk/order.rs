//! In which order the page shows what a record may say: that of the record that `intake` makes, and what stands there
//! of each table is what most people tell of it. A key that does not stand there comes after the one before it in the
//! schema.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use crate::fields::Key;
use crate::record::Record;

/// The record that `intake` makes.
const STARTER: &str = include_str!("../../intake/record.toml");

/// Keys that belong together under a heading.
pub(super) struct Group {
    /// The heading.
    pub(super) heading: String,
    /// The keys.
    pub(super) keys: Vec<&'static Key>,
}

/// What stands above the first heading.
const FIRST: &str = "The piece";

/// What a starting record has no heading for.
const LAST: (&str, &[&str]) = (
    "For whoever buys it, and the day it leaves",
    &["use", "handover", "after", "day-book-read", "amendment"],
);

/// The groups, in their order.
pub(super) static GROUPS: LazyLock<Vec<Group>> = LazyLock::new(|| {
    let mut groups: Vec<(String, Vec<&str>)> = vec![(FIRST.to_owned(), Vec::new())];
    for line in statements() {
        match line {
            Line::Heading(heading) => groups.push((heading.to_owned(), Vec::new())),
            Line::Key("", name) | Line::Section(name) => {
                groups.last_mut().expect("one is there").1.push(name)
            }
            Line::Key(..) => {}
        }
    }
    groups.push((LAST.0.to_owned(), LAST.1.to_vec()));
    let known: Vec<&str> = groups.iter().flat_map(|(_, names)| names.iter().copied()).collect();
    let mut before = known[0];
    for key in Record::KEYS {
        if !known.contains(&key.name) {
            let names = groups.iter_mut().map(|(_, names)| names).find(|names| names.contains(&before));
            let names = names.expect("every key before it has its place");
            let at = names.iter().position(|name| *name == before).expect("it is one of them");
            names.insert(at + 1, key.name);
        }
        before = key.name;
    }
    let key = |name: &&str| Record::KEYS.iter().find(|key| key.name == *name);
    let group = |(heading, names): (String, Vec<&str>)| Group {
        heading,
        keys: names.iter().filter_map(key).collect(),
    };
    groups.into_iter().map(group).filter(|group| !group.keys.is_empty()).collect()
});

static USUAL: LazyLock<BTreeMap<&'static str, Vec<&'static str>>> = LazyLock::new(|| {
    let mut usual: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for line in statements() {
        if let Line::Key(table, name) = line {
            usual.entry(table).or_default().push(name);
        }
    }
    usual
});

/// Whether most people tell this of a table; of one that the starting record does not have, everything.
pub(super) fn is_usual(table: &str, key: &Key) -> bool {
    key.required || USUAL.get(table).is_none_or(|usual| usual.contains(&key.name))
}

/// A line of the starting record that says something.
enum Line {
    Heading(&'static str),
    Section(&'static str),
    /// A key of a section, or of none.
    Key(&'static str, &'static str),
}

/// What the starting record says, examples included.
fn statements() -> Vec<Line> {
    let mut lines = Vec::new();
    let mut section = "";
    for line in STARTER.lines() {
        if let Some(heading) = line.strip_prefix("# ----") {
            let heading = heading.trim_matches(['-', ' ']);
            lines.push(Line::Heading(heading.split([';', ':']).next().unwrap_or(heading)));
        }
        let line = line.strip_prefix('#').unwrap_or(line);
        if line.is_empty() {
            section = "";
        }
        let name = line.strip_prefix("[[").and_then(|line| line.strip_suffix("]]"));
        let name = name.or_else(|| line.strip_prefix('[').and_then(|line| line.strip_suffix(']')));
        if let Some(name) = name {
            section = name;
            lines.push(Line::Section(name));
            continue;
        }
        let name = line.split('=').next().filter(|name| name.len() < line.len()).map_or("", str::trim_end);
        if !name.is_empty() && name.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'-') {
            lines.push(Line::Key(section, name));
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_of_the_schema_stands_in_one_group() {
        let mut names: Vec<&str> = GROUPS.iter().flat_map(|group| &group.keys).map(|key| key.name).collect();
        assert_eq!(names.first(), Some(&"title"));
        let place = |name: &str| names.iter().position(|known| *known == name).unwrap();
        assert!(
            place("part") < place("finding")
                && place("finding") < place("work")
                && place("work") < place("undone")
        );
        assert!(place("weighs") == place("size") + 1, "{names:?}");
        names.sort_unstable();
        let mut all: Vec<&str> = Record::KEYS.iter().map(|key| key.name).collect();
        all.sort_unstable();
        assert_eq!(names, all);
    }

    #[test]
    fn what_a_starting_record_shows_of_a_table_is_usual() {
        let part = Record::KEYS.iter().find(|key| key.name == "part").unwrap().about.keys;
        let usual = |name: &str| is_usual("part", part.iter().find(|key| key.name == name).unwrap());
        assert!(
            usual("timber") && usual("size") && usual("id") && !usual("veneer") && !usual("from-daybook")
        );
    }
}
