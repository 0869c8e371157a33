//! Treatments: what is used on a piece and leaves no layer of its own, or fills a hole.

use super::Trade;
use super::lookup::{Taken, Words};
use super::spoken::WordTable;
use super::table::{trade_row, trade_table};
use crate::fields::shape::choices;
use crate::fields::{Id, Said, Text};

choices! {
    /// What a treatment is used for.
    pub enum TreatmentGroup {
        /// Rubbing or scraping a surface.
        Abrading = "abrading",
        /// Making new work look old.
        Ageing = "ageing",
        /// Taking colour out of wood.
        Bleach = "bleach",
        /// Taking dirt off.
        Cleaning = "cleaning",
        /// Colouring a small place.
        Colouring = "colouring",
        /// Filling holes and cracks.
        Filling = "filling",
        /// Bringing a coat to its sheen.
        Finishing = "finishing",
        /// Leather.
        Leather = "leather",
        /// Making parts slide.
        Lubricant = "lubricant",
        /// Metal.
        Metal = "metal",
        /// Smells.
        Odour = "odour",
        /// Insects.
        Pest = "pest",
        /// Taking coats off.
        Removal = "removal",
        /// Dissolving, thinning and cleaning.
        Solvent = "solvent",
        /// Making weak wood firm.
        Stabilising = "stabilising",
        /// Cloth and stuffing.
        Upholstery = "upholstery",
    }
}

trade_row! {
    /// One treatment.
    pub struct Treatment ("[[treatment]]") {
        /// The id that a record calls it by.
        "id" => id: Said<Id>,
        /// Its name, as printed.
        "label" => label: Said<Text>,
        /// The ways people say it.
        "also" => also: Vec<Said<Text>>,
        /// The rows that it stands for, where it is a word for several kinds.
        "may-be" => may_be: Vec<Said<Id>>,
        /// What it is.
        "meaning" => meaning: Said<Text>,
        /// What it is used for.
        "group" => group: Said<TreatmentGroup>,
        /// What the owner should know of it.
        "owner" => owner: Option<Said<Text>>,
        /// How it comes out again, where it does.
        "undo" => undo: Option<Said<Text>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
    words = |row| [&row.label].into_iter().chain(&row.also);
    may_be = |row| &row.may_be;
}

trade_table! {
    /// The table of treatments.
    pub struct TreatmentTable ("treatment.toml") {
        /// The rows.
        "treatment" => rows: Vec<Said<Treatment>>,
    }
}

impl Treatment {
    /// Where a record names it, to follow "write it".
    pub fn belongs(&self) -> String {
        let label = &**self.label;
        match self.group.value {
            TreatmentGroup::Bleach | TreatmentGroup::Cleaning | TreatmentGroup::Solvent => {
                format!("as a step of its own, clean = \"{label}\"")
            }
            TreatmentGroup::Removal => {
                format!("as the means of a step that takes a layer off: remove = …, by = \"{label}\"")
            }
            TreatmentGroup::Abrading => "as a step of its own, abrade, with the grits or the tool".to_owned(),
            _ => format!("in the work that it was used for, by = \"{label}\""),
        }
    }
}

impl Trade {
    /// Where words for a treatment are looked up.
    pub fn treatment_words(&self) -> Words<'_, Treatment> {
        self.words_of(WordTable::Treatment, &self.treatments.rows)
    }

    /// The treatment that a word names where a finish should stand; `None` where it may be a finish too.
    pub fn treatment_for_finish(&self, word: &str) -> Option<&Treatment> {
        match self.finish_words().taken(word) {
            Taken::Row(_) | Taken::Asked(_) | Taken::Between(_) => None,
            Taken::Elsewhere(_) => self.treatment(word),
            // Of a phrase that tells of no finish nobody can say that it left no layer.
            Taken::Unknown => self.treatment_words().form(word),
        }
    }

    /// The treatment of this id, name or spoken word.
    pub fn treatment(&self, word: &str) -> Option<&Treatment> {
        self.treatment_words().taken(word).row()
    }
}

#[cfg(test)]
mod tests {
    use crate::trade::Trade;

    #[test]
    fn what_leaves_no_layer_is_told_from_a_finish() {
        let trade = Trade::built_in();
        let id = |word: &str| trade.treatment_for_finish(word).map(|row| row.id.0.as_str());
        assert_eq!(id("Oxalic acid"), Some("oxalic-acid"));
        assert_eq!(id("wood filler"), Some("wood-filler"));
        assert_eq!(id("lye bath"), Some("caustic-stripping"));
        // These may be, or are, a layer.
        for word in ["shellac", "polish", "grain filler", "wax", "dark oak", "Gran's special", ""] {
            assert_eq!(id(word), None, "{word}");
        }
    }

    #[test]
    fn no_word_for_a_finish_is_one_for_a_treatment() {
        let trade = Trade::built_in();
        for row in &trade.finishes.rows {
            for word in std::iter::once(&row.name).chain(&row.also) {
                let both = trade.treatment_words().form(word).map(|treatment| &treatment.id.0);
                assert_eq!(both, None, "{}: {}", row.id.0, word.value.0);
            }
        }
    }

    #[test]
    fn a_treatment_says_where_a_record_names_it() {
        let belongs = |id: &str| Trade::built_in().treatment(id).map(|row| row.belongs()).unwrap();
        assert_eq!(belongs("white-spirit"), "as a step of its own, clean = \"white spirit\"");
        assert!(belongs("solvent-stripper").contains("by = \"paint stripper\""));
        assert!(belongs("sanding").contains("abrade"));
        assert!(belongs("wood-filler").starts_with("in the work"));
    }
}
