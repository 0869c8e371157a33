//! What a change would make of a record, for looking at before it is written.

use serde::Serialize;

use super::Change;
use super::edit::{Refused, added};
use super::lines::{Line, difference};
use crate::diag::{Diagnostic, line_and_column};
use crate::record;
use crate::source::Tree;
use crate::write::fingerprint;

/// A record with a change in it, not written yet.
#[derive(Debug, Clone, Serialize)]
pub struct Proposal {
    /// The lines that differ, with a few around them.
    pub lines: Vec<Line>,
    /// The fingerprint of the record that it was made from.
    pub was: String,
    /// The fingerprint of the record as it would be.
    pub becomes: String,
    /// The record as it would be.
    #[serde(skip)]
    pub text: String,
}

impl Proposal {
    /// Puts a change into the text of a record.
    ///
    /// # Errors
    /// [`Refused`] where it does not go in, or where the record would have a mistake that it did not have.
    pub fn of(text: &str, change: &Change) -> Result<Proposal, Refused> {
        Proposal::between(text, added(text, change)?)
    }

    /// Takes a text as the record as it would be.
    ///
    /// # Errors
    /// [`Refused::Mistake`] where the record would have a mistake that it did not have.
    pub fn between(text: &str, new: String) -> Result<Proposal, Refused> {
        let mut before: Vec<String> = problems(text).into_iter().map(|(words, _)| words).collect();
        for (words, place) in problems(&new) {
            match before.iter().position(|known| *known == words) {
                Some(known) => drop(before.swap_remove(known)),
                None => return Err(Refused::Mistake(format!("line {place}: {words}"))),
            }
        }
        Ok(Proposal::back(text, new))
    }

    /// Takes a text that the record had before as the record as it would be, whatever is wrong with it.
    pub(super) fn back(text: &str, new: String) -> Proposal {
        Proposal {
            lines: difference(text, &new),
            was: fingerprint(text.as_bytes()),
            becomes: fingerprint(new.as_bytes()),
            text: new,
        }
    }
}

/// What a reader finds wrong with the text of a record, and in which lines.
fn problems(text: &str) -> Vec<(String, usize)> {
    const PATH: &str = "pieces/piece/record.toml";
    let tree = Tree::of([("workshop.toml", "name = \"W\""), (PATH, text)]);
    let told = |problem: Diagnostic| {
        let line = problem.place.span.map_or(1, |(start, _)| line_and_column(text, start).0);
        let help = if problem.help.is_empty() { String::new() } else { format!("; {}", problem.help) };
        (problem.message + &help, line)
    };
    record::read(&tree).1.into_iter().filter(|problem| problem.place.path == PATH).map(told).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAD: &str = "title = \"T\"\nnumber = \"T-1\"\nkind = \"chair/ladder-back\"\n";

    fn marked(file: &str) -> Change {
        let sent = format!(
            r#"{{"kind": "marks", "photo": "{file}", "marks": [{{"shape": "point", "points": [[0.5, 0.5]]}}]}}"#
        );
        Change::of(serde_json::from_str(&sent).unwrap()).unwrap()
    }

    #[test]
    fn it_shows_what_it_would_write() {
        let proposal = Proposal::of(HEAD, &marked("a.jpg")).unwrap();
        assert_eq!(proposal.text, format!("{HEAD}\n{}", marked("a.jpg").toml()));
        let signs: String = proposal.lines.iter().map(|line| line.sign).collect();
        assert_eq!(signs, "   ++++");
        assert_eq!(proposal.becomes, fingerprint(proposal.text.as_bytes()));
        assert_eq!(proposal.was, fingerprint(HEAD.as_bytes()));
    }

    #[test]
    fn a_reader_finds_nothing_wrong_with_a_known_length() {
        let sent = r#"{"kind": "marks", "photo": "a.jpg", "marks": [{"shape": "area", "points": [[0, 0], [1, 0], [1, 1]],
                       "scale": {"points": [[0, 0.5], [1, 0.5]], "mm": 20000}}]}"#;
        let change = Change::of(serde_json::from_str(sent).unwrap()).unwrap();
        let proposal = Proposal::of(HEAD, &change).unwrap();
        assert!(proposal.text.contains("to = [1.0000, 0.5000], mm = 20000 } }]"), "{}", proposal.text);
    }

    #[test]
    fn old_mistakes_are_no_hindrance_and_new_ones_are() {
        let sloppy = format!("{HEAD}sumary = \"x\"\n");
        assert!(Proposal::of(&sloppy, &marked("a.jpg")).is_ok());
        let refused = Proposal::of(HEAD, &marked("")).unwrap_err();
        assert_eq!(
            refused.to_string(),
            "the record would then have a mistake: line 6: this says nothing; write something, or leave the key out"
        );
    }
}
