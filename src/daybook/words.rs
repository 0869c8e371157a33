//! `words.toml`: the words that hold a jotted line together.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::{Deserialize, Deserializer};

/// A word, or several that stand beside each other.
type Word = &'static str;

/// Words, or several words that stand beside each other.
type List = Vec<Word>;

/// Words with what each stands for.
type Pairs = BTreeMap<Word, Word>;

/// Words, with the row of a table that they are.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Meant {
    #[serde(deserialize_with = "word")]
    pub(super) is: Word,
    #[serde(deserialize_with = "list")]
    pub(super) words: List,
}

/// A text that lives as long as the program: the table is read once.
fn word<'de, D: Deserializer<'de>>(from: D) -> Result<&'static str, D::Error> {
    String::deserialize(from).map(|text| &*text.leak())
}

fn list<'de, D: Deserializer<'de>>(from: D) -> Result<List, D::Error> {
    Ok(Vec::<String>::deserialize(from)?.into_iter().map(|text| &*text.leak()).collect())
}

fn pairs<'de, D: Deserializer<'de>>(from: D) -> Result<Pairs, D::Error> {
    let texts = BTreeMap::<String, String>::deserialize(from)?;
    Ok(texts.into_iter().map(|(one, other)| (&*one.leak(), &*other.leak())).collect())
}

/// Declares the groups of the table, each with its lists; what they are for stands in the table.
macro_rules! groups {
    ($($group:ident { $($list:ident),+ $(,)? })+) => {
        $(
            #[derive(Debug, Deserialize)]
            #[serde(deny_unknown_fields, rename_all = "kebab-case")]
            #[allow(non_camel_case_types)]
            pub(super) struct $group {
                $(#[serde(deserialize_with = "list")] pub(super) $list: List,)+
            }
        )+

        /// The table.
        #[derive(Debug, Deserialize)]
        #[serde(deny_unknown_fields, rename_all = "kebab-case")]
        pub(super) struct Words {
            $(pub(super) $group: $group,)+
            #[serde(deserialize_with = "pairs")]
            pub(super) short: Pairs,
            #[serde(deserialize_with = "pairs")]
            pub(super) sides: Pairs,
            #[serde(deserialize_with = "pairs")]
            pub(super) plurals: Pairs,
            #[serde(deserialize_with = "pairs")]
            pub(super) means: Pairs,
            #[serde(deserialize_with = "pairs")]
            pub(super) solvent_results: Pairs,
            pub(super) replaced: Vec<Meant>,
            pub(super) loose_part: Vec<Meant>,
            pub(super) broken_part: Vec<Meant>,
        }
    };
}

groups! {
    line { before_glue, often, tools, no_deed, denies_nothing, denies, doubts, joins }
    clause { is, found_so, found_how }
    parts { of_it, not_before, not_after, stuff, ambiguous, no_ends, before_inside, held, counts, numbered, which, names }
    deeds {
        apply, clean, strip, abrade, glue, ease, replace, fit, splice, fill, take_off, see, keep, other,
    }
    outcomes { failed, partly, well }
    finish {
        whither, state, trial, elsewhere, no_film, goes, old, over, there, its, only, beside, took, apart,
        sheens, not_yet, by_others,
    }
    coats { kinds, which }
    abrasion { no_grit, no_grit_before, series, papers }
    clean { thins, thinned }
    removal { thrown, for_good, no_finish }
    test { substances, negative, positive }
    fault {
        ours, looked, elsewhere, drawers, deed_after, too_general, not_asked, loose, broken, gone, taken, worm_old, worm_live, states, tool_after,
        tool_before, candled, after_length, extents,
    }
    fixing {
        by_others, changed, glue_there, glue_off, pressed, was_held, no_count, no_count_before, instead,
        instead_skip, place, tools, salvaged, salvaged_from,
    }
    timber { from_stock, stuff, of, no_timber, new }
    work {
        raises, dents, makes, candled, unmendable, cleaned_away, told_elsewhere, veneer_laid, cracks,
        runners_made, keys, no_part, no_work, states, passive, how, smells, stands, relaid, lubricated,
    }
    left { left, waiting, kept, refused, decided, fetching, planning, irregular }
    written { marks, found, ours, labels, people, says, inscribed }
    money { units, grits, no_money, piece, bought, each, asking, no_thing }
    measure { loads }
    tables { states, nouns, noun_after, noun_before }
    otherwise { finish, treatment, term, fixing, repair, timber }
}

/// The words that hold a line together.
pub(super) fn lists() -> &'static Words {
    static WORDS: LazyLock<Words> = LazyLock::new(|| {
        toml::from_str(include_str!("words.toml")).expect("the table is compiled in and tested")
    });
    &WORDS
}

#[cfg(test)]
mod tests {
    use super::lists;

    #[test]
    fn the_table_reads() {
        assert!(lists().parts.names.contains(&"drawer"));
        assert_eq!(lists().short.get("meths"), Some(&"methylated spirit"));
    }
}
