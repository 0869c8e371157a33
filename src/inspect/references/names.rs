//! KnownIds that one place gives and another uses, and what a wrong one was probably meant to be.

use std::ops::Deref;

use crate::diag::{Code, Diagnostic, nearest};
use crate::fields::Said;
use crate::inspect::Case;
use crate::inspect::words::quoted;
use crate::trade::{Taken, TradeRow, Words};

/// The ids of one kind of thing that a record or the workshop gives.
pub(super) struct KnownIds<'a> {
    /// What they are ids of, such as `part`.
    pub(super) kind: &'static str,
    /// The ids.
    pub(super) known: Vec<&'a str>,
    /// The TOML that gives one.
    pub(super) example: &'static str,
}

impl KnownIds<'_> {
    /// Reports a used id that nothing gives.
    pub(super) fn look_up<I: Deref<Target = str>>(
        &self,
        case: &Case<'_>,
        code: &'static Code,
        used: &Said<I>,
        seen: &mut Vec<Diagnostic>,
    ) {
        let (kind, name): (_, &str) = (self.kind, &used.value);
        if self.known.contains(&name) {
            return;
        }
        let help = match (nearest(name, self.known.iter().copied()), self.known.as_slice()) {
            (Some(near), _) => format!("write \"{near}\""),
            (None, []) => format!("nothing gives a {kind} its id yet; add {}", self.example),
            (None, known) => format!("the ids are {}", quoted(known.iter().copied())),
        };
        seen.push(case.at(code, &used.span, format!("no {kind} has the id `{name}`")).help(help));
    }
}

/// What is wrong with a word of a record that names no row of a table, and what to do about it; `None` where it names
/// one. `kind` is what it should name, such as `timber`; `unknown` what to do where nobody can tell what was meant.
pub(super) fn not_taken<R: TradeRow>(
    word: &str,
    words: &Words<'_, R>,
    kind: &str,
    unknown: &str,
) -> Option<(String, String)> {
    match words.taken(word) {
        Taken::Row(_) => None,
        Taken::Asked(row) => {
            Some((format!("`{word}` may mean more than one {kind}"), row.ask.value.0.clone()))
        }
        Taken::Elsewhere(row) => Some((format!("`{word}` is no {kind}"), row.say.value.0.clone())),
        Taken::Unknown => {
            let near = words.near(word);
            let help = match near.as_slice() {
                [] => unknown.to_owned(),
                [one] => format!("write \"{one}\""),
                several => format!("perhaps one of {}", quoted(several.iter().map(String::as_str))),
            };
            Some((format!("`{word}` is no {kind} that is known here"), help))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::Trade;

    #[test]
    fn a_word_is_taken_asked_about_sent_elsewhere_or_put_right() {
        let words = Trade::built_in().finish_words();
        let told = |word: &str| {
            not_taken(word, &words, "finish", "say more").map(|(message, help)| format!("{message}: {help}"))
        };
        assert_eq!(told("French polish"), None);
        assert_eq!(
            told("shelllac").as_deref(),
            Some("`shelllac` is no finish that is known here: write \"shellac\"")
        );
        assert_eq!(
            told("gold lief").as_deref(),
            Some("`gold lief` is no finish that is known here: say more")
        );
        assert!(
            told("Oxalic-acid").unwrap().starts_with("`Oxalic-acid` is no finish: Oxalic acid is a wash")
        );
        assert!(
            told("satin varnish")
                .unwrap()
                .starts_with("`satin varnish` may mean more than one finish: Which")
        );
    }
}
