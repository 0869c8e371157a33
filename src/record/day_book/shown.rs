//! What of a jotted line a buyer and the public may read.
//!
//! Nobody is asked before a line is printed, so what may be private stays at home: a line that speaks of people, a clause
//! that speaks of money, and how long it took, which is the archive's as all hours are.

use std::ops::Range;

use super::spent::{Duration, Whose};
use super::token::{Token, clauses};

/// People: whose words, whose house, whose hands. A line that speaks of any is for the archive alone.
const PEOPLE: &[&str] = &[
    "client",
    "clients",
    "customer",
    "customers",
    "buyer",
    "buyers",
    "seller",
    "vendor",
    "owner",
    "owners",
    "dealer",
    "brother",
    "sister",
    "wife",
    "husband",
    "mum",
    "mom",
    "dad",
    "mother",
    "father",
    "son",
    "daughter",
    "uncle",
    "aunt",
    "auntie",
    "grandmother",
    "grandfather",
    "grandma",
    "grandad",
    "granny",
    "gran",
    "nan",
    "nephew",
    "niece",
    "cousin",
    "neighbour",
    "neighbor",
    "friend",
    "mate",
    "partner",
    "lady",
    "gentleman",
    "mr",
    "mrs",
    "ms",
    "dr",
    "she",
    "he",
    "her",
    "his",
    "him",
    "hers",
    "rang",
    "phoned",
    "phone",
    "email",
    "emailed",
    "texted",
    "postcode",
    "myself",
    "hospital",
    "sold",
    "apprentice",
];

/// Money. A clause that speaks of it is for the archive alone.
const MONEY: &[&str] = &[
    "quid",
    "pound",
    "pounds",
    "euro",
    "euros",
    "dollar",
    "dollars",
    "pence",
    "bucks",
    "gbp",
    "eur",
    "usd",
    "price",
    "priced",
    "cost",
    "costs",
    "costing",
    "paid",
    "pay",
    "pays",
    "asking",
    "asked",
    "bill",
    "billed",
    "invoice",
    "invoiced",
    "charge",
    "charged",
    "charging",
    "deposit",
    "auction",
    "receipt",
    "cash",
    "expensive",
    "profit",
    "discount",
    "offered",
    "refund",
    "vat",
];

/// Signs of money.
const SIGNS: &[&str] = &["£", "€", "$", "¥", "₹"];

/// Words by which a name before or after them is one of somebody.
const SAYS: &[&str] = &[
    "said",
    "says",
    "helped",
    "came",
    "brought",
    "wants",
    "wanted",
    "called",
    "collected",
    "thinks",
    "reckons",
    "told",
    "lent",
    "gave",
    "dropped",
    "visited",
    "bought",
    "owns",
    "owned",
    "collects",
    "picked",
];

/// Words with a capital that are names of nobody: of ways and woods, of ages and places, of days.
const NO_NAMES: &[&str] = &[
    "danish",
    "french",
    "english",
    "german",
    "dutch",
    "welsh",
    "irish",
    "scottish",
    "scots",
    "italian",
    "swedish",
    "american",
    "japanese",
    "chinese",
    "african",
    "brazilian",
    "indian",
    "cuban",
    "honduras",
    "baltic",
    "american",
    "victorian",
    "georgian",
    "edwardian",
    "regency",
    "tudor",
    "jacobean",
    "elizabethan",
    "deco",
    "art",
    "arts",
    "nouveau",
    "windsor",
    "pembroke",
    "phillips",
    "pozidriv",
    "pozi",
    "torx",
    "allen",
    "stanley",
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
    "christmas",
    "easter",
    "i",
    "parana",
];

/// What of a line others than the workshop may read; `None` where nothing is left of it.
pub(super) fn shown(line: &str, tokens: &[Token], durations: &[Duration]) -> Option<String> {
    if tokens.iter().any(|token| token.is_any(PEOPLE) || token.is("@")) || names_somebody(line, tokens) {
        return None;
    }
    if has_long_number(tokens) {
        return None;
    }
    let mut hidden: Vec<Range<usize>> = Vec::new();
    let all = clauses(tokens);
    for clause in &all {
        if tokens[clause.clone()].iter().any(|token| token.is_any(MONEY) || token.is_any(SIGNS))
            || has_amount(&tokens[clause.clone()])
        {
            hidden.push(clause.clone());
        }
    }
    for one in durations.iter().filter(|one| [Whose::Own, Whose::Helper, Whose::Total].contains(&one.whose)) {
        hidden.push(with_fillers(tokens, &one.at, &all));
    }
    let text = left(line, tokens, &hidden);
    text.chars().any(char::is_alphabetic).then_some(text)
}

/// A time with the words before it that say nothing without it: `took about`, `spent`.
fn with_fillers(tokens: &[Token], at: &Range<usize>, clauses: &[Range<usize>]) -> Range<usize> {
    const BEFORE: &[&str] = &[
        "about", "took", "me", "spent", "say", "approx", "roughly", "in", "for", "just", "over", "nearly",
        "only", "~", "prob", "probably", "+", "another", "all",
    ];
    let start = clauses.iter().find(|clause| clause.contains(&at.start)).map_or(0, |clause| clause.start);
    let mut from = at.start;
    while from > start && tokens[from - 1].is_any(BEFORE) {
        from -= 1;
    }
    from..at.end
}

/// The text without what is hidden, and without signs that are left over.
fn left(line: &str, tokens: &[Token], hidden: &[Range<usize>]) -> String {
    let is_hidden = |at: usize| hidden.iter().any(|range| range.contains(&at));
    let mut text = String::new();
    let mut last_kept: Option<usize> = None;
    for (at, token) in tokens.iter().enumerate() {
        if is_hidden(at) {
            continue;
        }
        let is_sign = !token.is_word() && token.number.is_none();
        let gap = match last_kept {
            Some(last) if last + 1 == at => &line[tokens[last].span.end..token.span.start],
            Some(_) if token.is_any(&[",", ";", ".", ":", ")", "!", "?"]) => "",
            Some(_) => " ",
            None => "",
        };
        // A sign behind what was hidden has nothing to part.
        let parts = token.is_any(&[",", ";", ":", "-", "–", "+", "&"]);
        let after_gap = last_kept.is_none_or(|last| last + 1 != at);
        if is_sign
            && parts
            && after_gap
            && (text.is_empty() || text.ends_with([',', ';', ':', '-', '–', '+', '.']))
        {
            continue;
        }
        text.push_str(gap);
        text.push_str(&line[token.span.clone()]);
        last_kept = Some(at);
    }
    let text = text.trim().trim_end_matches([',', ';', ':', '-', '–', '+', ' ', '(', '&']);
    text.trim_start_matches([',', ';', ':', '–', '+', ' ', ')', '&', '.']).to_owned()
}

/// An amount that has its unit glued to it: `40p`, `25e`.
fn has_amount(clause: &[Token]) -> bool {
    clause.windows(2).any(|two| {
        two[0].number.is_some() && two[1].glued && two[1].is("p") && {
            // `320p` is a grit to some.
            two[0].number.is_some_and(|number| number < rust_decimal::Decimal::from(40))
        }
    })
}

/// Whether a line holds what may be a telephone number: seven digits or more in a run.
fn has_long_number(tokens: &[Token]) -> bool {
    let digits = |token: &Token| token.word.bytes().filter(u8::is_ascii_digit).count();
    let mut run = 0;
    for token in tokens {
        run =
            if token.number.is_some() && !token.word.contains(['.', '/']) { run + digits(token) } else { 0 };
        if run >= 9 || digits(token) >= 7 {
            return true;
        }
    }
    false
}

/// Whether a line names somebody: a word with a capital inside it, beside a word by which it is a person's.
fn names_somebody(line: &str, tokens: &[Token]) -> bool {
    let is_name = |at: usize| {
        let Some(token) = tokens.get(at) else { return false };
        let text = &line[token.span.clone()];
        let mut letters = text.chars();
        let capital = letters.next().is_some_and(char::is_uppercase);
        capital
            && text.chars().count() > 2
            && letters.all(|c| c.is_lowercase() || c == '\'' || c == '’')
            && !NO_NAMES.contains(&token.word.trim_end_matches('s'))
            && !NO_NAMES.contains(&token.word.as_str())
    };
    let starts = |at: usize| at == 0 || tokens[at - 1].is_any(&[".", ":", "!", "?", ";", "-", "–"]);
    (0..tokens.len()).filter(|at| is_name(*at)).any(|at| {
        let after = tokens.get(at + 1).is_some_and(|next| next.is_any(SAYS));
        let before = at > 0
            && tokens[at - 1].is_any(&["with", "for", "from", "to", "by", "at", "ask", "tell", "ring"]);
        let owns = tokens[at].word.ends_with('s') && line[tokens[at].span.clone()].contains(['\'', '’']);
        after || (before || owns) && !starts(at)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::day_book::spent::durations;
    use crate::record::day_book::token::tokens;

    fn told(line: &str) -> Option<String> {
        let tokens = tokens(line);
        shown(line, &tokens, &durations(&tokens))
    }

    #[test]
    fn hours_and_money_are_left_out_and_the_rest_stays_as_it_was_written() {
        for (line, wanted) in [
            (
                "left leaf: closed the split, hide glue, two keys, 1.5h",
                "left leaf: closed the split, hide glue, two keys",
            ),
            ("2h sanding the top", "sanding the top"),
            ("new key cut, £9, fits well", "new key cut, fits well"),
            (
                "rewebbed it with black and white took about an hour and a quarter",
                "rewebbed it with black and white",
            ),
            ("hinges from auction 12 quid; fitted them, 45 min", "fitted them"),
            ("glued, clamped 24h, 0.5h", "glued, clamped 24h"),
            ("wax, first coat, 0.75h", "wax, first coat"),
            ("half an hour on the Danish oil", "on the Danish oil"),
        ] {
            assert_eq!(told(line).as_deref(), Some(wanted), "{line}");
        }
    }

    #[test]
    fn people_and_bare_times_and_money_are_for_the_archive() {
        for line in [
            "customer says it came from her grandmother",
            "1 1/2 hr",
            "£40 for hinges",
            "sold it 220 cash",
            "helped by Agnes, 2h",
            "fitted Dora's drawer",
            "Agnes helped with the top",
            "rang 01234 567890 about it",
            "ask x@example.org",
            "",
            "…",
        ] {
            assert_eq!(told(line), None, "{line}");
        }
    }
}
