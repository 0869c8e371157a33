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
        Taken::Between(rows) => match words.near(word).as_slice() {
            [] => between(word, &rows, kind, unknown),
            near => Some((format!("`{word}` is no {kind} that is known here"), write_one(near))),
        },
        Taken::Elsewhere(row) => Some((format!("`{word}` is no {kind}"), row.say.value.0.clone())),
        Taken::Unknown => Some((format!("`{word}` is no {kind} that is known here"), unknown.to_owned())),
    }
}

/// What to write in place of a word with a slip of the finger.
fn write_one(near: &[String]) -> String {
    match near {
        [one] => format!("write \"{one}\""),
        several => format!("perhaps one of {}", quoted(several.iter().map(String::as_str))),
    }
}

/// What to say of a phrase that tells of several rows, or of one in doubt; nothing of that where free words are as good.
fn between<R: TradeRow>(word: &str, rows: &[&R], kind: &str, unknown: &str) -> Option<(String, String)> {
    let ids: Vec<String> = rows.iter().map(|row| row.key().into_owned()).collect();
    match ids.as_slice() {
        [_] if unknown.is_empty() => None,
        [one] => Some((
            format!("`{word}` may be the {kind} `{one}`, and is not taken for it"),
            format!("if it is, write \"{one}\"; else it is printed as typed"),
        )),
        several => Some((
            format!("`{word}` tells of more than one {kind}"),
            format!(
                "write which: {}; else it is printed as typed",
                quoted(several.iter().map(String::as_str))
            ),
        )),
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
            told("moonshine").as_deref(),
            Some("`moonshine` is no finish that is known here: say more")
        );
        assert!(told("gold lief").unwrap().starts_with("`gold lief` may mean more than one finish: "));
        assert!(
            told("Oxalic-acid").unwrap().starts_with("`Oxalic-acid` is no finish: Oxalic acid is a wash")
        );
        assert!(
            told("eggshell")
                .unwrap()
                .starts_with("`eggshell` may mean more than one finish: That word tells")
        );
        assert_eq!(
            told("maybe shellac").as_deref(),
            Some(
                "`maybe shellac` may be the finish `shellac`, and is not taken for it: \
                 if it is, write \"shellac\"; else it is printed as typed"
            )
        );
        assert_eq!(
            told("shellac or danish oil").as_deref(),
            Some(
                "`shellac or danish oil` tells of more than one finish: \
                 write which: `shellac`, `wiping-oil-blend`; else it is printed as typed"
            )
        );
    }
}
