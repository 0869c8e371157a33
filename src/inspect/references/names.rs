//! KnownIds that one place gives and another uses, and what a wrong one was probably meant to be.

use std::ops::Deref;

use crate::diag::{Code, Diagnostic, nearest};
use crate::fields::Said;
use crate::inspect::Case;
use crate::inspect::words::quoted;

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

/// What a word was probably meant to be: one a slip of the pen away, else at most four that share
/// most words with it, else the nearest.
pub(super) fn meant(typed: &str, known: &[&str]) -> Option<String> {
    let near = nearest(typed, known.iter().copied());
    let typed = typed.to_lowercase();
    if let Some(near) = near.filter(|near| strsim::damerau_levenshtein(&typed, near) <= 2) {
        return Some(format!("write \"{near}\""));
    }
    let words: Vec<&str> =
        typed.split(|c: char| !c.is_alphanumeric()).filter(|word| word.len() > 2).collect();
    let shared = |known: &str| {
        let known = known.to_lowercase();
        known.split(['-', ' ']).filter(|word| words.contains(word)).count()
    };
    let most = known.iter().map(|known| shared(known)).max().filter(|most| *most > 0);
    let alike = most.map(|most| known.iter().copied().filter(move |known| shared(known) == most).take(4));
    match alike.map(Iterator::collect::<Vec<_>>).as_deref() {
        Some([one]) => Some(format!("perhaps \"{one}\"")),
        Some(alike) => Some(format!("perhaps one of {}", quoted(alike.iter().copied()))),
        None => near.map(|near| format!("perhaps \"{near}\"")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_shared_is_a_hint_where_no_spelling_is_near() {
        let known = ["alkyd-varnish", "paste-wax", "spirit-varnish"];
        assert_eq!(meant("paste-waxx", &known).as_deref(), Some("write \"paste-wax\""));
        assert_eq!(
            meant("satin varnish", &known).as_deref(),
            Some("perhaps one of `alkyd-varnish`, `spirit-varnish`")
        );
        assert_eq!(meant("soft paste wax", &known).as_deref(), Some("perhaps \"paste-wax\""));
        assert_eq!(meant("gold leaf", &known), None);
    }
}
