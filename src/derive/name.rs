//! What the papers call the things of a record: the trade's names for its words, and else the words themselves.

use crate::claim::{Value, says};
use crate::fields::{Said, Text};
use crate::record::{Answer, Fixing, Part, PartId, Record};
use crate::trade::Trade;

/// What is seen: by the label of its term where the record gives the term's id, and in the record's own words where it
/// does not, since `flaking paint` says more than `flaking`.
pub fn seen(seen: &Text, trade: &Trade) -> String {
    let term = trade.term(seen).filter(|term| term.id.0 == seen.0);
    term.map_or_else(|| seen.to_string(), |term| term.label.to_string())
}

/// A part; with a count where there are several alike.
pub fn part_name(part: &Part) -> String {
    match part.how_many() {
        1 => part.name.to_string(),
        several => format!("{} (× {several})", part.name.value),
    }
}

/// A timber, within a sentence: as typed where the table's name for it would say more, or less.
pub fn timber_name(timber: &Answer, trade: &Trade) -> Value {
    let Some(timber) = timber.known() else { return says!("timber-not-known").into() };
    match trade.timber_words().called(timber) {
        Some(known) if !known.is_generic() => Value::Name(known.name.to_string()),
        _ if trade.timber(timber).is_some() => Value::Name(timber.replace('-', " ")),
        _ => timber.replace('-', " ").into(),
    }
}

/// Fixings of one kind: count and kind.
pub fn fixing_name(fixing: &Fixing, trade: &Trade) -> Value {
    let several = fixing.count.as_ref().map(|count| count.0);
    let label = match (trade.fixing_words().called(&fixing.kind), several) {
        (Some(kind), Some(1) | None) => kind.label.to_string(),
        (Some(kind), Some(_)) => kind.label_plural.to_string(),
        (None, _) => fixing.kind.replace('-', " "),
    };
    match several {
        Some(count) => says!("fixing-counted", count = count, kind = label).into(),
        None => label.into(),
    }
}

/// The name of a part by its id; the id itself where there is no such part.
pub(in crate::derive) fn part_by_id(record: &Record, id: &PartId) -> String {
    let part = record.parts.iter().find(|part| part.id.value == *id);
    part.map_or_else(|| id.0.clone(), |part| part.name.to_string())
}

/// The names of several parts.
pub(in crate::derive) fn parts_by_id(record: &Record, ids: &[Said<PartId>]) -> Vec<String> {
    ids.iter().map(|id| part_by_id(record, id)).collect()
}

#[cfg(test)]
mod tests {
    use super::timber_name;
    use crate::fields::Text;
    use crate::record::Answer;
    use crate::trade::Trade;
    use crate::words::Words;

    #[test]
    fn a_word_that_tells_no_species_is_printed_as_typed() {
        let words = Words::for_diagnostics();
        let named = |typed: &str| {
            words.value(&timber_name(&Answer::Words(Text(typed.to_owned())), Trade::built_in()))
        };
        for (typed, printed) in [
            ("oak", "oak"),
            ("Old oak", "old oak"),
            ("hardwood", "hardwood"),
            ("mahogany-type", "mahogany type"),
            ("danish rosewood", "danish rosewood"),
            ("scotch-pine", "Scots pine"),
            ("rubberwood", "rubberwood"),
            ("gidgee", "gidgee"),
        ] {
            assert_eq!(named(typed), printed, "{typed}");
        }
    }
}
