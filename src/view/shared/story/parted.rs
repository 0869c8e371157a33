//! A long story in two: what is read at once, and the rest.

use pulldown_cmark::{Event, Tag};

use super::sound::SoundEvent;

/// Parts a story after the paragraph that brings it to so many letters, where at least half as many follow. A heading
/// stays with what it heads, and a story with footnotes stays whole, since these are numbered through.
pub(crate) fn parted(story: Vec<SoundEvent>, letters: usize) -> (Vec<SoundEvent>, Vec<SoundEvent>) {
    let has_notes = |said: &SoundEvent| {
        matches!(
            said,
            SoundEvent::Event(Event::FootnoteReference(_) | Event::Start(Tag::FootnoteDefinition(_)))
        )
    };
    let all: usize = story.iter().map(length).sum();
    if all < letters + letters / 2 || story.iter().any(has_notes) {
        return (story, Vec::new());
    }
    let (mut depth, mut read, mut cut) = (0_usize, 0, None);
    for (place, said) in story.iter().enumerate() {
        read += length(said);
        match said {
            SoundEvent::Event(Event::Start(_)) => depth += 1,
            SoundEvent::Event(Event::End(tag)) => {
                depth = depth.saturating_sub(1);
                let heads = matches!(tag, pulldown_cmark::TagEnd::Heading(_));
                if depth == 0 && read >= letters && !heads {
                    cut = Some(place + 1);
                    break;
                }
            }
            _ => {}
        }
    }
    let mut open = story;
    // What is left may be a line, or nothing: then all of it stands open.
    match cut.filter(|_| all - read >= letters / 2) {
        Some(cut) => {
            let rest = open.split_off(cut);
            (open, rest)
        }
        None => (open, Vec::new()),
    }
}

/// How many letters are read.
fn length(said: &SoundEvent) -> usize {
    match said {
        SoundEvent::Event(Event::Text(text) | Event::Code(text)) => text.chars().count(),
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{sound, story_html};
    use super::*;
    use crate::record::Story;

    #[track_caller]
    fn case(story: &str, open: usize, rest: usize) {
        let (one, two) = parted(sound(&Story::read(story.to_owned())), 100);
        let paragraphs = |story: &[SoundEvent]| story_html(story, |_| None).matches("<p>").count();
        assert_eq!((paragraphs(&one), paragraphs(&two)), (open, rest), "{story}");
    }

    #[test]
    fn only_a_long_story_is_parted_and_only_between_its_blocks() {
        let line = "Fifty letters of a story that goes on and on a bit.";
        let lines = |count: usize| vec![line; count].join("\n\n");
        case("", 0, 0);
        case(&lines(2), 2, 0);
        case(&lines(6), 2, 4);
        case(&format!("{}\n\n- {}", line, [line; 5].join("\n\n  ")), 6, 0);
        case(&format!("{}[^1]\n\n[^1]: note", lines(6)), 7, 0);
        case(&format!("{line}\n\n{line}\n\n# Then\n\n{}", lines(4)), 2, 4);
    }
}
