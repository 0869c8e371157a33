//! What a jotted line proposes for the record: rows, with the words that they rest on and what they leave open.

use toml_edit::Value;

/// A row that a line proposes.
#[derive(Debug, Clone)]
pub struct Proposal {
    /// The table of the record, such as `work` or `surface.steps`; empty for keys of the record itself.
    pub table: &'static str,
    /// Its keys, in the order in which they are written.
    pub keys: Vec<(&'static str, Value)>,
    /// The parts that it is about, as the line calls them, with the ids that the record has for them.
    pub parts: Vec<PartSaid>,
    /// The words of the line that it rests on.
    pub words: String,
    /// What it is unsure of, a short question each.
    pub unsure: Vec<String>,
    /// The deeds that it tells, by the rows of the trade's tables.
    pub deeds: Vec<String>,
}

/// A part as a line calls it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartSaid {
    /// Its words.
    pub said: String,
    /// The ids of the parts of the record that it may be; none where the record has none.
    pub ids: Vec<String>,
}

impl Proposal {
    /// A row of a table, resting on these words.
    pub(super) fn new(table: &'static str, words: &str) -> Proposal {
        Proposal {
            table,
            keys: Vec::new(),
            parts: Vec::new(),
            words: words.to_owned(),
            unsure: Vec::new(),
            deeds: Vec::new(),
        }
    }

    /// The same with one more key.
    pub(super) fn with(mut self, key: &'static str, value: impl Into<Value>) -> Proposal {
        self.keys.push((key, value.into()));
        self
    }

    /// The same with one more key, where it has a value.
    pub(super) fn with_some(self, key: &'static str, value: Option<impl Into<Value>>) -> Proposal {
        match value {
            Some(value) => self.with(key, value),
            None => self,
        }
    }

    /// The same, asking this too.
    pub(super) fn asking(mut self, question: impl Into<String>) -> Proposal {
        let question = question.into();
        if !self.unsure.contains(&question) {
            self.unsure.push(question);
        }
        self
    }

    /// Whether it asks nothing.
    pub fn is_sure(&self) -> bool {
        self.unsure.is_empty()
    }

    /// Whether it puts words of the line where others read them.
    pub(super) fn repeats_words(&self) -> bool {
        let repeated = ["chose", "did", "extent", "inscriptions", "instead-of", "name", "note", "what"];
        !["cost", "found"].contains(&self.table) && self.keys.iter().any(|(key, _)| repeated.contains(key))
    }

    /// The parts that it is about and that the record does not have, as the line calls them; none where it is the row
    /// of such a part itself.
    pub fn lacks(&self) -> Vec<&str> {
        if self.table == "part" && self.value("name").is_some() {
            return Vec::new();
        }
        self.parts.iter().filter(|part| part.ids.is_empty()).map(|part| part.said.as_str()).collect()
    }

    /// What it says at a key.
    pub fn value(&self, key: &str) -> Option<&Value> {
        self.keys.iter().find(|(known, _)| *known == key).map(|(_, value)| value)
    }

    /// The row as a record has it.
    pub fn toml(&self) -> String {
        let lines: String =
            self.keys.iter().map(|(key, value)| format!("{key} = {}\n", value.to_string().trim())).collect();
        match self.table {
            "" => lines,
            "surface.steps" => {
                let keys =
                    self.keys.iter().map(|(key, value)| format!("{key} = {}", value.to_string().trim()));
                format!("{{ {} }}\n", keys.collect::<Vec<_>>().join(", "))
            }
            table => format!("[[{table}]]\n{lines}"),
        }
    }
}
