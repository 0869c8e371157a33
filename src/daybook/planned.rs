//! What a line that plans will say once it is done: `need to reglue the leg` as `reglued the leg`.

use super::lexicon::Deed;
use super::words::lists;
use crate::unit::calendar::weekday;

/// The words of a plan as they are jotted when it is done.
pub(super) fn as_done(words: &str) -> String {
    let planning = &lists().left.planning;
    let (mut done, mut begins): (Vec<String>, bool) = (Vec::new(), true);
    for said in words.split_whitespace() {
        let is_word = |c: &char| c.is_alphanumeric() || *c == '\'' || *c == '’';
        let bare: String = said.chars().filter(is_word).collect::<String>().to_lowercase();
        let bare = bare.replace(['\'', '’'], "");
        let is_plan = planning.contains(&bare.as_str()) || begins && weekday(&bare).is_some();
        if bare.is_empty() && begins || is_plan {
            continue;
        }
        match deed_of(&bare).filter(|_| begins) {
            Some(deed) => done.push(said.to_lowercase().replacen(&bare, deed, 1)),
            None => done.push(said.to_owned()),
        }
        begins = ["and", "then", "or"].contains(&bare.as_str()) || said.ends_with([',', ';', ':', '.']);
    }
    done.join(" ")
}

/// The word of a deed that is done, by that of one to be done.
fn deed_of(word: &str) -> Option<&'static str> {
    let words = Deed::ALL.into_iter().flat_map(Deed::words);
    let mut firsts = words.map(|words| words.split_once(' ').map_or(*words, |(first, _)| first));
    let irregular = lists().left.irregular.iter().find_map(|pair| {
        let (plain, done) = pair.split_once(' ')?;
        (plain == word).then_some(done)
    });
    irregular.or_else(|| firsts.find(|done| is_done_of(done, word)))
}

/// Whether a regular verb is that of a deed: `strip` of `stripped`, `glue` of `glued`, `tidy` of `tidied`.
fn is_done_of(done: &str, plain: &str) -> bool {
    let Some(stem) = done.strip_suffix("ed").filter(|stem| stem.len() > 1 && plain.len() > 2) else {
        return false;
    };
    let doubled = plain.chars().last().is_some_and(|last| stem.strip_suffix(last) == Some(plain));
    let in_y = plain.strip_suffix('y').is_some_and(|plain| stem.strip_suffix('i') == Some(plain));
    stem == plain || doubled || in_y || plain.strip_suffix('e') == Some(stem)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plans_are_said_as_what_was_done() {
        for (plan, done) in [
            ("tomorrow: strip the top", "stripped the top"),
            ("need to reglue the left front leg", "reglued the left front leg"),
            ("still to do: 3 coats of shellac on the top", "3 coats of shellac on the top"),
            ("todo: sand the top 180, 240", "sanded the top 180, 240"),
            ("must take off the moulding and strip it", "took off the moulding and stripped it"),
            ("Mon - clean, then wax the sides", "cleaned, then waxed the sides"),
            ("drawer needs waxing", "drawer waxing"),
            ("legs should be sanded tomorrow", "legs sanded"),
        ] {
            assert_eq!(as_done(plan), done, "{plan}");
        }
    }
}
