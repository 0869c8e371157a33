//! Whether a text mentions something, as a whole word and not in passing or in denial.

/// Words that deny, within the three words before a mention and in the same clause.
const DENIALS: [&str; 13] = [
    "no",
    "not",
    "without",
    "never",
    "none",
    "nothing",
    "free",
    "nor",
    "imitation",
    "faux",
    "mock",
    "artificial",
    "simulated",
];

/// Words after a mention that make it a manner of speaking: ivory-coloured, lead-free.
const MANNERS: [&str; 18] = [
    "coloured",
    "colored",
    "colour",
    "color",
    "effect",
    "style",
    "free",
    "look",
    "white",
    "paint",
    "painted",
    "tone",
    "graining",
    "grained",
    "brush",
    "roller",
    "pad",
    "applicator",
];

/// Words before a mention at the end of its clause that make it a colour: "painted it ivory".
const COLOURING: [&str; 7] = ["painted", "paint", "stained", "dyed", "coloured", "colored", "tinted"];

/// Words that deny that something is there, next but one before it at the furthest: `no` in "no lead", though not in
/// "do not sand the lead paint".
const ABSENCE: [&str; 6] = ["no", "without", "none", "nothing", "never", "free"];

/// Whether a text mentions a word or phrase: `ivory` in "ivory escutcheons", but not in "no ivory" or
/// "ivory-coloured". Case does not matter, and a plural in `s` counts.
pub(in crate::derive) fn mentions(text: &str, phrase: &str) -> bool {
    let (said, places) = heard(text, phrase);
    places.into_iter().any(|Occurrence { place, end }| {
        let after = said.get(end).map_or("", String::as_str);
        !is_denied(&said, place) && !MANNERS.contains(&after) && !is_colour(&said, place, end)
    })
}

/// Whether a text denies a word or phrase wherever it has it: `found` in "no lead found".
pub(in crate::derive) fn denies(text: &str, phrase: &str) -> bool {
    let (said, places) = heard(text, phrase);
    !places.is_empty() && places.iter().all(|found| is_denied(&said, found.place))
}

/// Whether a text speaks of a word or phrase, though it be to ask for it or to forbid it: `lead` in "do not sand the lead
/// paint" and in "lead swab", but not in "no lead" or "lead-free".
pub(in crate::derive) fn speaks_of(text: &str, phrase: &str) -> bool {
    let (said, places) = heard(text, phrase);
    places.into_iter().any(|Occurrence { place, end }| {
        let before = said[place.saturating_sub(2)..place].iter();
        let absent = before.rev().take_while(|word| *word != CLAUSE).any(|word| ABSENCE.contains(&&**word));
        !absent && said.get(end).is_none_or(|after| after != "free")
    })
}

/// Whether a text says that there is none of a word or phrase: `fresh dust` in "no fresh dust", but not in "no word yet on
/// fresh dust".
pub(in crate::derive) fn lacks(text: &str, phrase: &str) -> bool {
    names(text, phrase) && !speaks_of(text, phrase)
}

/// Whether a text has a word or phrase at all, denied or not.
pub(in crate::derive) fn names(text: &str, phrase: &str) -> bool {
    !heard(text, phrase).1.is_empty()
}

/// Whether a text mentions a word or phrase with one of these words close to it in the same clause: `old` and `paint` in
/// "sanded off the old green paint".
pub(in crate::derive) fn mentions_beside(text: &str, phrase: &str, near: &[impl AsRef<str>]) -> bool {
    let (said, places) = heard(text, phrase);
    places.into_iter().any(|Occurrence { place, end }| {
        let before = said[..place].iter().rev().take(CLOSE).take_while(|word| *word != CLAUSE);
        let after = said[end..].iter().take(CLOSE).take_while(|word| *word != CLAUSE);
        !is_denied(&said, place)
            && before.chain(after).any(|word| near.iter().any(|near| near.as_ref() == word))
    })
}

/// The runs of so many words at most that a text mentions, none across clauses, denied, or a manner of speaking.
pub(in crate::derive) fn runs(text: &str, most: usize) -> Vec<String> {
    let said = words(text);
    let mut runs = Vec::new();
    for place in 0..said.len() {
        for length in 1..=most.min(said.len() - place) {
            let run = &said[place..place + length];
            let after = said.get(place + length).map_or("", String::as_str);
            if run.iter().all(|word| word != CLAUSE) && !is_denied(&said, place) && !MANNERS.contains(&after)
            {
                runs.push(run.join(" "));
            }
        }
    }
    runs
}

/// How many words may stand between two that belong together.
const CLOSE: usize = 4;

/// Where a phrase stands among words.
struct Occurrence {
    place: usize,
    end: usize,
}

/// The words of a text and where a phrase stands among them; none of either where it cannot stand there.
fn heard(text: &str, phrase: &str) -> (Vec<String>, Vec<Occurrence>) {
    if !may_have(text, phrase) {
        return (Vec::new(), Vec::new());
    }
    let said = words(text);
    let places = places(&said, &words(phrase));
    (said, places)
}

/// Whether the letters of a phrase's first word stand in a text: in most they do not, and it need not be cut into words.
fn may_have(text: &str, phrase: &str) -> bool {
    let (text, phrase) = (text.to_lowercase(), phrase.to_lowercase());
    let first = phrase.split(|letter: char| !letter.is_alphanumeric()).find(|word| !word.is_empty());
    // A sign may stand for the word.
    text.contains('%') || first.is_none_or(|first| text.contains(first))
}

fn places(said: &[String], wanted: &[String]) -> Vec<Occurrence> {
    let is = |said: &str, wanted: &str| said == wanted || said.strip_suffix('s') == Some(wanted);
    let found = |window: &[String]| window.iter().zip(wanted).all(|(said, wanted)| is(said, wanted));
    if wanted.is_empty() {
        return Vec::new();
    }
    let windows = said.windows(wanted.len()).enumerate().filter(|(_, window)| found(window));
    windows.map(|(place, _)| Occurrence { place, end: place + wanted.len() }).collect()
}

/// Whether one of the three words before a place denies it, in the same clause.
fn is_denied(said: &[String], place: usize) -> bool {
    let clause = said[..place].iter().rposition(|word| word == CLAUSE).map_or(0, |end| end + 1);
    let before = &said[clause.max(place.saturating_sub(3))..place];
    before.iter().any(|word| DENIALS.contains(&word.as_str()))
}

/// Whether it ends a clause in which something is given that colour, by one of the three words before it.
fn is_colour(said: &[String], place: usize, end: usize) -> bool {
    let ends = said.get(end).is_none_or(|after| after == CLAUSE);
    let before = said[..place].iter().rev().take(3).take_while(|word| *word != CLAUSE);
    ends && before.into_iter().any(|word| COLOURING.contains(&word.as_str()))
}

/// Stands between clauses, so that a denial in one says nothing of the next.
const CLAUSE: &str = "|";

/// A text's words in small letters, with a mark between clauses.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = vec![String::new()];
    for letter in text.to_lowercase().replace('%', " percent ").chars() {
        match letter {
            ',' | ';' | '.' | ':' | '(' | ')' => words.extend([CLAUSE.to_owned(), String::new()]),
            letter if letter.is_alphanumeric() => {
                words.last_mut().expect("there is always a last word").push(letter);
            }
            _ => words.push(String::new()),
        }
    }
    words.retain(|word| !word.is_empty());
    // A comma at the very end separates nothing.
    if words.last().is_some_and(|word| word == CLAUSE) {
        words.pop();
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn case(text: &str, phrase: &str, mentioned: bool) {
        assert_eq!(mentions(text, phrase), mentioned, "{phrase} in {text}");
    }

    #[test]
    fn whole_words_that_are_meant() {
        case("Ivory escutcheons", "ivory", true);
        case("bone, or perhaps ivory", "ivory", true);
        case("two electric lamps", "lamp", true);
        case("White spirit and a grey pad", "white spirit", true);
        case("tortoise-shell", "tortoise shell", true);
    }

    #[test]
    fn not_parts_of_words_nor_manners_of_speaking() {
        case("clamp", "lamp", false);
        case("ivory-coloured knobs", "ivory", false);
        case("imitation tortoiseshell", "tortoiseshell", false);
        case("lead-free", "lead", false);
        case("Painted it ivory, two coats", "ivory", false);
        case("painted the ivory knob", "ivory", true);
        case("laid on with a foam brush", "foam", false);
        case("spiritual", "spirit", false);
        case("white, spirit", "white spirit", false);
    }

    #[test]
    fn not_in_denial_but_after_another_clause() {
        case("musty; no mould to be seen", "mould", false);
        case("no trace of mould", "mould", false);
        case("no holes, mould below", "mould", true);
        case("not old: mould", "mould", true);
    }

    #[test]
    fn what_is_spoken_of_though_it_be_to_forbid_it() {
        for text in ["Do not sand the lead paint.", "lead swab", "lead, by laboratory", "Mind: lead"] {
            assert!(speaks_of(text, "lead"), "{text}");
        }
        for text in ["There is no lead in it.", "without any lead", "lead-free", "misleading"] {
            assert!(!speaks_of(text, "lead"), "{text}");
        }
        assert!(names("no lead found", "lead") && !names("leads", "glass"));
        assert!(lacks("no fresh dust", "fresh dust") && !lacks("no word yet on fresh dust", "fresh dust"));
    }

    #[test]
    fn words_that_stand_close_together() {
        let old = ["old", "off"];
        assert!(mentions_beside("sanded off the thick green paint", "paint", &old));
        assert!(mentions_beside("took the paint off", "paint", &old));
        assert!(!mentions_beside("wiped the dust off, then two coats of milk paint", "paint", &old));
        assert!(!mentions_beside("there was no old paint", "paint", &old));
        assert_eq!(
            runs("no oak, rosewood banding", 2),
            ["no", "no oak", "rosewood", "rosewood banding", "banding"]
        );
    }

    proptest! {
        #[test]
        fn any_text_is_looked_through(text in any::<String>(), phrase in any::<String>()) {
            mentions(&text, &phrase);
            prop_assert!(!mentions(&text, ""));
        }

        #[test]
        fn a_word_by_itself_is_mentioned(word in "[a-z]{1,12}") {
            prop_assume!(!DENIALS.contains(&word.as_str()));
            prop_assert!(mentions(&word, &word));
            let (said, denied) = (format!("An old {word}."), format!("no {word}"));
            prop_assert!(mentions(&said, &word));
            prop_assert!(!mentions(&denied, &word));
        }
    }
}
