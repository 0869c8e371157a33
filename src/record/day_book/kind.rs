//! Whether a jotted line tells work, a plan, or asks.

use super::spent::{Whose, durations};
use super::token::{Token, clauses, tokens};
use crate::unit::calendar::weekday;

/// What a jotted line is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// It tells what was done or seen.
    Work,
    /// It tells what is still to be done.
    Plan,
    /// It only asks.
    Question,
}

/// Words with which a plan begins, alone.
const BEGINS: &[&str] = &[
    "todo", "tomorrow", "tmrw", "must", "next", "order", "buy", "get", "ask", "check", "remember", "need",
    "needs", "find", "see", "ring", "try", "fetch", "pick", "bring", "make", "fit", "do", "finish",
    "collect", "measure", "think", "look", "source", "should", "dont", "plan", "planning", "want", "wants",
    "still", "ordered", "later", "book", "borrow",
];

/// Words behind `still` that make a plan of it; else it tells how something is.
const STILL_OPEN: &[&str] = &[
    "to", "need", "needs", "have", "has", "must", "want", "wants", "got", "the", "both", "one", "all", "do",
    "fit", "make", "find", "get", "order", "wax", "sand", "glue", "clean", "paint", "varnish", "oil",
];

/// Words anywhere in a clause that make a plan of it.
const WITHIN: &[&str] = &[
    "tomorrow", "tmrw", "todo", "must", "needs", "need", "should", "gonna", "ordered", "shall", "coming",
    "wants",
];

/// Words by which a clause tells how something is, or asks it.
const IS: &[&str] = &["is", "was", "were", "had"];

/// Two words that make a plan of what stands with them.
const PAIRS: &[(&str, &str)] = &[
    ("to", "do"),
    ("next", "time"),
    ("next", "week"),
    ("next", "day"),
    ("next", "job"),
    ("have", "to"),
    ("has", "to"),
    ("got", "to"),
    ("going", "to"),
    ("will", "need"),
    ("ought", "to"),
    ("plan", "to"),
    ("planning", "to"),
    ("want", "to"),
    ("wants", "to"),
    ("needs", "to"),
    ("could", "do"),
    ("on", "order"),
    ("still", "to"),
    ("yet", "to"),
    ("to", "check"),
    ("to", "look"),
    ("to", "come"),
    ("to", "order"),
    ("to", "buy"),
    ("to", "collect"),
];

/// What a line is: one that asks tells nothing, one that plans and tells nothing done is a plan, and every other is work.
pub fn kind(words: &str) -> Kind {
    let tokens = tokens(words);
    let spent = durations(&tokens).iter().any(|one| one.whose == Whose::Own);
    if spent {
        return Kind::Work;
    }
    let clauses = clauses(&tokens);
    let told = clauses.iter().map(|clause| {
        let end = tokens.get(clause.end).is_some_and(|sign| sign.is("?"));
        let asked = end || tokens[clause.clone()].iter().any(|token| token.is("?"));
        (&tokens[clause.clone()], asked)
    });
    let (mut asks, mut plans, mut tells) = (false, false, false);
    let mut planning = false;
    for (clause, asked) in told {
        let done = clause.iter().any(is_done);
        let plan = is_plan(clause) || planning && !done;
        planning = plan && !asked && !clause.iter().any(|token| token.is("now"));
        match (plan, asked) {
            (_, true) if !clause.iter().any(|token| is_done(token) && !token.is_any(IS)) => asks = true,
            (true, _) => plans = true,
            _ => tells = true,
        }
    }
    match (tells, plans, asks) {
        (true, _, _) => Kind::Work,
        (false, true, _) => Kind::Plan,
        (false, false, true) => Kind::Question,
        (false, false, false) => Kind::Work,
    }
}

/// Whether a clause tells a plan.
pub fn is_plan(clause: &[Token]) -> bool {
    let Some(first) = clause.iter().find(|token| token.is_word()) else { return false };
    let alone = first.is_any(&["todo", "next", "tomorrow", "tmrw", "later"]);
    // `see tues` points at another line.
    let day = first.is("see") && clause.get(1).is_some_and(|next| weekday(&next.word).is_some());
    // `still too light` tells how it is, and so does `still` before all that asks for nothing.
    let is_so = first.is("still") && clause.get(1).is_some_and(|next| !next.is_any(STILL_OPEN));
    // `do not polish the brass` decides.
    let refuses = first.is("do") && clause.get(1).is_some_and(|next| next.is("not"));
    let begins = !day
        && !is_so
        && !refuses
        && first.is_any(BEGINS)
        && !clause.iter().skip(1).any(is_done)
        && (clause.len() > 1 || alone);
    begins || clause.iter().any(|token| token.is_any(WITHIN)) || has_pair(clause) || will(clause)
}

fn has_pair(clause: &[Token]) -> bool {
    let denied = |at: usize| at > 0 && clause[at - 1].is_any(&["not", "isnt", "arent", "never", "wasnt"]);
    let pair = |two: &[Token]| PAIRS.iter().any(|(first, second)| two[0].is(first) && two[1].is(second));
    // `not going to flatten it` is decided.
    // Nor is what was done `to look like mahogany` planned.
    let alike = |at: usize| clause.get(at + 2).is_some_and(|next| next.is("like"));
    clause.windows(2).enumerate().any(|(at, two)| pair(two) && !denied(at) && !alike(at))
}

/// Whether a clause says what will be: `will leave`, `ill do`, `wont` is none.
fn will(clause: &[Token]) -> bool {
    clause.windows(2).any(|two| two[0].is_any(&["will", "ill"]) && two[1].is_word())
}

/// Whether a word tells something done: it ends so, or is one of those that do not.
pub fn is_done(token: &Token) -> bool {
    const DONE: &[&str] = &[
        "took", "put", "cut", "made", "gave", "found", "did", "done", "went", "came", "broke", "kept", "set",
        "laid", "let", "got", "held", "ran", "drew", "dug", "hung", "swept", "tore", "wound", "bent",
        "built", "drove", "stuck", "wove", "sold", "spent", "lost", "cleand", "gone", "taken", "broken",
        "rplcd", "was", "were", "is", "had", "undid",
    ];
    const NOT_DONE: &[&str] = &[
        "need", "red", "bed", "feed", "seed", "reed", "weed", "shed", "aged", "need", "ordered", "old",
        "planned", "wanted", "needed", "veneered", "required", "speed", "deed", "exceed", "limed", "kiln",
    ];
    let word = token.word.as_str();
    DONE.contains(&word) || word.len() > 3 && word.ends_with("ed") && !NOT_DONE.contains(&word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plans_are_told_from_work_and_questions_from_both() {
        for line in [
            "tomorrow: wax",
            "need to fit felt under the feet",
            "must order glides",
            "to do: ask about the escutcheons",
            "ordered 8 feet glides coming thurs",
            "order hinges",
            "next: second coat",
            "still to do: left door",
            "buyer coming thurs wants delivery",
            "after pics tomorrow",
            "seat needs new webbing",
        ] {
            assert_eq!(kind(line), Kind::Plan, "{line}");
        }
        for line in ["is it oak?", "which glue here?", "SS screws?"] {
            assert_eq!(kind(line), Kind::Question, "{line}");
        }
        for line in [
            "glued the leaf",
            "2 coats of shellac",
            "wax, first coat",
            "before pics done, after pics tomorrow",
            "seat needs new webbing so rewebbed it, 1h",
            "made a new batten",
            "get the back off, 1h",
            "found the old label",
            "clamp off, diagonals the same",
            "lead swab top neg",
            "left drawer sticks",
            "SS screws? no - brass",
        ] {
            assert_eq!(kind(line), Kind::Work, "{line}");
        }
    }
}
