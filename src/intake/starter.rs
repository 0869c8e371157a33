//! The first files of a workshop and of a piece: written once, then the workshop's own.

use chrono::NaiveDate;

use crate::unit::legible::unseen;

/// The prompt for a story; none of its lines is printed, since Markdown takes them for definitions of links.
pub(super) const STORY: &str = include_str!("story.md");

/// What a new record says.
pub(super) struct Starter<'a> {
    pub(super) title: &'a str,
    pub(super) number: &'a str,
    pub(super) kind: &'a str,
    /// The folder of the set that it is of.
    pub(super) set: Option<&'a str>,
    /// The day that the examples carry.
    pub(super) today: NaiveDate,
}

impl Starter<'_> {
    /// The text of the record.
    pub(super) fn text(&self) -> String {
        filled(
            include_str!("record.toml"),
            &[
                ("{title}", &quoted(self.title)),
                ("{number}", &quoted(self.number)),
                ("{kind}", &quoted(self.kind)),
                ("{set}", &self.set.map_or_else(String::new, set_line)),
                ("{today}", &self.today.to_string()),
            ],
        )
    }
}

/// The line by which a record says of which set its piece is.
fn set_line(set: &str) -> String {
    format!("set    = {}   # what it shares with the others is in pieces/{set}/record.toml\n", quoted(set))
}

/// The text of a new `workshop.toml`.
pub fn workshop(name: &str) -> String {
    filled(include_str!("workshop.toml"), &[("{name}", &quoted(name))])
}

/// Text as a TOML value, whatever is in it; what nobody sees is escaped.
fn quoted(text: &str) -> String {
    if unseen(text).next().is_none() {
        return toml::Value::from(text).to_string();
    }
    // TOML takes every escape of JSON that is written there.
    let escaped = |text: String, (_, c)| text.replace(c, &format!("\\U{:08X}", u32::from(c)));
    unseen(text).fold(serde_json::Value::from(text).to_string(), escaped)
}

/// The template with its blanks filled, in one pass, so that what is filled in is not searched for blanks.
fn filled(template: &str, blanks: &[(&str, &str)]) -> String {
    let mut text = String::new();
    let mut rest = template;
    while let Some((at, (blank, value))) =
        blanks.iter().filter_map(|blank| Some((rest.find(blank.0)?, blank))).min_by_key(|(at, _)| *at)
    {
        text.push_str(&rest[..at]);
        text.push_str(value);
        rest = &rest[at + blank.len()..];
    }
    text + rest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::Rank;
    use crate::record;
    use crate::source::Tree;

    fn record(title: &str) -> String {
        let today = NaiveDate::from_ymd_opt(2026, 3, 4).unwrap();
        Starter { title, number: "TB-001", kind: "table/gateleg", set: None, today }.text()
    }

    /// The template with every example in use.
    fn with_examples(text: &str) -> String {
        let used = |line: &str| match line.strip_prefix('#') {
            Some(example) if !example.starts_with([' ', ':']) || example.starts_with("  ") => {
                example.to_owned()
            }
            _ => line.to_owned(),
        };
        text.lines().map(|line| used(line) + "\n").collect()
    }

    #[track_caller]
    fn reads_cleanly(workshop: &str, record: &str) -> record::Folder {
        let tree = Tree::of([("workshop.toml", workshop), ("pieces/a/record.toml", record)]);
        let (folder, mut problems) = record::read(&tree);
        // Characters that nobody sees are warned of, and still read.
        problems.retain(|problem| problem.rank() == Rank::Mistake);
        assert!(problems.is_empty(), "{problems:#?}\n{record}\n{workshop}");
        folder
    }

    #[test]
    fn starters_read_cleanly_as_they_are_and_with_every_example_in_use() {
        let (workshop, record) = (workshop("Bench"), record("Table"));
        let folder = reads_cleanly(&workshop, &record);
        assert!(folder.pieces[0].record.as_ref().unwrap().parts.is_empty(), "examples are not read");
        let folder = reads_cleanly(&with_examples(&workshop), &with_examples(&record));
        let piece = folder.pieces[0].record.as_ref().unwrap();
        assert_eq!((piece.parts.len(), piece.surfaces.len(), piece.open.len()), (1, 1, 1));
        assert_eq!(folder.workshop.unwrap().tins.len(), 1);
    }

    #[test]
    fn any_title_survives() {
        for title in [
            "Plain",
            "\"quoted\" 'both' \"\"\" '''",
            "back\\slash {number} {today}",
            "two\nlines\r\nand a tab\t",
            "bell \u{7} and escape \u{1b}[31m",
            "C1 \u{9b}, 'turned' \u{202e}, \"tag\" \u{e0041}, cr \r and \u{7f}",
            "كرسي من خشب",
            "🪑",
            "#:schema",
        ] {
            let folder = reads_cleanly(&workshop(title), &record(title));
            assert!(!record(title).contains(['\u{9b}', '\u{202e}', '\u{e0041}', '\u{7f}']), "{title:?}");
            let found = folder.pieces[0].record.as_ref().unwrap().title.to_string();
            // A line feed is how TOML ends lines, so that is what the other line endings become.
            assert_eq!(found.replace("\r\n", "\n"), title.replace("\r\n", "\n").trim(), "{title:?}");
            assert_eq!(
                folder.workshop.unwrap().name.to_string().replace("\r\n", "\n"),
                found.replace("\r\n", "\n")
            );
        }
    }

    #[test]
    fn the_prompt_of_a_story_is_not_printed() {
        let printed = |story: &str| -> Vec<String> {
            let text = |event| match event {
                pulldown_cmark::Event::Text(text) => Some(text.to_string()),
                _ => None,
            };
            pulldown_cmark::Parser::new(story).filter_map(text).collect()
        };
        assert_eq!(pulldown_cmark::Parser::new(STORY).count(), 0);
        assert_eq!(
            printed(&format!("{STORY}It came with one leg tied on.\n")),
            ["It came with one leg tied on."]
        );
    }
}
