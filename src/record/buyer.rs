//! What a record holds of whoever bought the piece, or wants to.

use super::Record;
use crate::fields::{Said, Text};

/// A text of a record that names its buyer.
#[derive(Debug, Clone, Copy)]
pub struct OfBuyer<'a> {
    /// The table that it stands in.
    pub table: &'static str,
    /// Its key.
    pub key: &'static str,
    /// The text.
    pub said: &'a Said<Text>,
}

impl Record {
    /// What the record holds of its buyer, in the order of the record.
    pub fn of_its_buyer(&self) -> Vec<OfBuyer<'_>> {
        let kept = self.reserved.as_ref().and_then(|kept| kept.to.for_archive().as_ref());
        let sold = self.handover.as_ref().and_then(|handover| handover.to.for_buyer().as_ref());
        let of = |table, said: Option<_>| said.map(|said| OfBuyer { table, key: "to", said });
        let mut of: Vec<OfBuyer<'_>> = of("reserved", kept).into_iter().chain(of("handover", sold)).collect();
        of.sort_by_key(|of| of.said.span.start);
        of
    }
}

#[cfg(test)]
mod tests {
    use crate::fields::{Audience, Key};
    use crate::record::{self, Record};
    use crate::source::Tree;

    #[test]
    fn whoever_a_record_names_is_told_with_the_key() {
        let record = "title = \"Chair\"\nnumber = \"A-1\"\nkind = \"seating\"\n\
                      handover = { to = \"Ada\" }\nreserved = { to = \"Bea\" }\n";
        let tree = Tree::of([("workshop.toml", "name = \"W\""), ("pieces/a/record.toml", record)]);
        let (folder, _) = record::read(&tree);
        let record = folder.pieces[0].record.as_ref().unwrap();
        let told: Vec<String> = record
            .of_its_buyer()
            .iter()
            .map(|of| format!("{}.{} = {}", of.table, of.key, of.said.value.0))
            .collect();
        assert_eq!(told, ["handover.to = Ada", "reserved.to = Bea"]);
    }

    #[test]
    fn nothing_else_of_a_record_is_personal() {
        fn personal(keys: &'static [Key], within: &str, found: &mut Vec<String>) {
            for key in keys {
                let path = format!("{within}{}", key.name);
                if key.audience == Audience::Buyer {
                    found.push(path.clone());
                }
                personal(key.about.keys, &format!("{path}."), found);
            }
        }
        let mut found = Vec::new();
        personal(Record::KEYS, "", &mut found);
        assert_eq!(found, ["handover.to"]);
    }
}
