//! What a long list can be narrowed by.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::claim::Message;
use crate::words::{Words, capital};

/// One thing that a list can be narrowed by.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Filter {
    /// The word by which a row of the list bears it.
    pub name: &'static str,
    /// What it is called.
    pub label: String,
    /// What can be chosen, each once.
    pub options: Vec<String>,
}

impl Filter {
    /// A filter by words that rows bear; `None` where there is nothing to choose between.
    pub(super) fn by<'t>(
        words: &Words,
        name: &'static str,
        label: Message,
        borne: impl Iterator<Item = &'t str>,
    ) -> Option<Filter> {
        let mut options: BTreeMap<String, String> = BTreeMap::new();
        for word in borne.filter(|word| !word.is_empty()) {
            options.entry(word.to_lowercase()).or_insert_with(|| word.to_owned());
        }
        let options: Vec<String> = options.into_values().collect();
        (options.len() > 1).then(|| Filter { name, label: capital(&words.say(&label)), options })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::claim::says;

    #[test]
    fn each_word_is_offered_once_and_a_single_one_not_at_all() {
        let words = Words::with_currency("GBP");
        let by = |borne: &[&str]| Filter::by(&words, "kind", says!("column-piece"), borne.iter().copied());
        assert_eq!(by(&["table", "chair", "", "Table", "🪑"]).unwrap().options, ["chair", "table", "🪑"]);
        assert_eq!(by(&["table", "", "table"]), None);
        assert_eq!(by(&[]), None);
    }
}
