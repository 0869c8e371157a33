//! The text of a record of which some lines are no TOML: those lines are left out, and everything keeps its place.

use std::ops::Range;

use toml_edit::Document;

use crate::viewing::edit::{Refused, line_of};

/// A text that reads as TOML, of the same length and with the same lines as the one that it was made of.
pub(super) struct Sound {
    pub(super) text: String,
    /// The lines that were left out, by their places, with the number of the first.
    pub(super) broken: Vec<(Range<usize>, usize)>,
}

/// The most stretches that are left out.
const MOST: usize = 100;

impl Sound {
    /// Leaves out the sections, and the lines above the first one, that break the grammar.
    ///
    /// # Errors
    /// [`Refused::Broken`] where what is left breaks it still.
    pub(super) fn of(text: &str) -> Result<Sound, Refused> {
        let mut sound = Sound { text: text.to_owned(), broken: Vec::new() };
        for _ in 0..MOST {
            let Err(error) = Document::parse(sound.text.as_str()) else {
                sound.broken.sort_by_key(|(span, _)| span.start);
                return Ok(sound);
            };
            let at = error.span().map_or(0, |span| span.start).min(sound.text.len());
            let Some(span) = stretch(&sound.text, at) else { break };
            let blank: String = sound.text[span.clone()]
                .bytes()
                .map(|byte| if byte == b'\n' || byte == b'\r' { byte as char } else { ' ' })
                .collect();
            if blank == sound.text[span.clone()] {
                break;
            }
            sound.text.replace_range(span.clone(), &blank);
            let line = line_of(text, span.start);
            sound.broken.push((span, line));
        }
        let at = Document::parse(sound.text.as_str()).err().and_then(|error| error.span());
        Err(Refused::Broken(line_of(&sound.text, at.map_or(0, |span| span.start))))
    }
}

/// The section that holds a place, or the line where that is above the first section.
fn stretch(text: &str, at: usize) -> Option<Range<usize>> {
    let mut starts: Vec<usize> = Vec::new();
    let mut place = 0;
    for line in text.split_inclusive('\n') {
        if is_header(line) {
            starts.push(place);
        }
        place += line.len();
    }
    let mut at = at;
    // What a line lacks at its end is missed at the beginning of the next.
    while at > 0 && !text.is_char_boundary(at) {
        at -= 1;
    }
    let start_of_line = |at: usize| text[..at].rfind('\n').map_or(0, |end| end + 1);
    let end_of_line = |at: usize| text[at..].find('\n').map_or(text.len(), |end| at + end);
    match starts.iter().rposition(|start| *start <= at) {
        Some(section) => {
            let end = starts.get(section + 1).copied().unwrap_or(text.len());
            let span = starts[section]..end;
            // A section ends with its last line that says something.
            let said = text[span.clone()].trim_end().len();
            Some(span.start..span.start + said)
        }
        None => {
            let mut start = start_of_line(at);
            while start > 0 && text[start..end_of_line(start)].trim().is_empty() {
                start = start_of_line(start - 1);
            }
            Some(start..end_of_line(start))
        }
    }
}

/// Whether a line begins a section.
fn is_header(line: &str) -> bool {
    let line = line.split('#').next().unwrap_or("").trim();
    let inner = match line.strip_prefix("[[") {
        Some(rest) => rest.strip_suffix("]]").or(rest.strip_suffix(']')),
        None => line.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')),
    };
    inner.is_some_and(|name| {
        !name.trim().is_empty()
            && name.trim().chars().all(|c| c.is_alphanumeric() || "-_. ".contains(c))
            && !name.trim().starts_with(|c: char| c.is_ascii_digit())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn broken_sections_and_lines_are_left_out_and_the_rest_keeps_its_place() {
        let text = "title = \"T\"\nnumber = T 1\nkind = \"a/b\"\n\n[[part]]\nid = \"a\"\n\n[[part]]\nid = \"é\nname = 3\n\n[[work]]\ndid = \"x\"\n";
        let sound = Sound::of(text).unwrap();
        assert_eq!(sound.text.len(), text.len());
        assert_eq!(sound.broken.iter().map(|(_, line)| *line).collect::<Vec<_>>(), [2, 8]);
        let document = Document::parse(sound.text.as_str()).unwrap();
        assert!(document.as_table().contains_key("title") && !document.as_table().contains_key("number"));
        assert_eq!(sound.text.find("[[work]]"), text.find("[[work]]"));
        assert!(!sound.text.contains("[[part]]\nid = \"é"));
    }

    #[test]
    fn a_text_that_is_sound_is_left_as_it_is() {
        let text = "a = 1\r\n[[part]]\r\n";
        let sound = Sound::of(text).unwrap();
        assert_eq!((sound.text.as_str(), sound.broken.len()), (text, 0));
    }

    proptest::proptest! {
        #[test]
        fn any_text_keeps_its_length_and_its_lines(text in "([a\\[\\]=\"'#\né \r]|\\[\\[part\\]\\]\n|x = 1\n){0,30}") {
            if let Ok(sound) = Sound::of(&text) {
                proptest::prop_assert_eq!(sound.text.len(), text.len());
                proptest::prop_assert_eq!(sound.text.matches('\n').count(), text.matches('\n').count());
                proptest::prop_assert!(Document::parse(sound.text.as_str()).is_ok());
            }
        }
    }
}
