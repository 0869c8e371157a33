//! What a piece's papers should tell: a checklist merged from published guidance and our own.

use super::table::{trade_row, trade_table};
use crate::fields::OneOrMore;
use crate::fields::shape::choices;
use crate::fields::{Count, Id, Said, Text};

choices! {
    /// What a record holds that tells something.
    pub enum Requirement {
        /// `kind`.
        Kind = "kind",
        /// `title`.
        Title = "title",
        /// A public photograph of the stage `before`.
        BeforePhotograph = "before-photograph",
        /// A public photograph of the stage `after` or `handover`.
        AfterPhotograph = "after-photograph",
        /// An alternative text for every public photograph.
        DescribedPhotographs = "described-photographs",
        /// `[[part]]`.
        Parts = "part",
        /// A part's `timber` or `veneer`.
        Timber = "timber",
        /// `size`.
        Size = "size",
        /// `inscriptions`.
        Inscriptions = "inscriptions",
        /// `told-by`.
        ToldBy = "told-by",
        /// `subject`.
        Subject = "subject",
        /// `made`.
        Made = "made",
        /// `basis`.
        Basis = "basis",
        /// `maker`.
        Maker = "maker",
        /// `summary`.
        Summary = "summary",
        /// `story.md`.
        Story = "story",
        /// `[[finding]]`.
        Findings = "finding",
        /// `[[decision]]`.
        Decisions = "decision",
        /// `stance`.
        Stance = "stance",
        /// `level`.
        Level = "level",
        /// `[[work]]`, or a surface with steps.
        Work = "work",
        /// `undo` or `undoable` of some work.
        Undo = "undo",
        /// `[[undone]]`.
        Undone = "undone",
        /// `[[test]]`, or a surface step that tests.
        Tests = "test",
        /// `[[surface]]`.
        Surfaces = "surface",
        /// `[use]`.
        Use = "use",
    }
}

choices! {
    /// From when on something is asked for.
    pub enum Asked {
        /// From the first day.
        Always = "always",
        /// Once some work is recorded.
        Worked = "once-worked",
        /// Once some part is recorded.
        Parts = "once-parts",
        /// Once the years of making are recorded.
        Dated = "once-dated",
        /// Once there is a public photograph.
        Photographed = "once-photographed",
    }
}

trade_row! {
    /// One line of the checklist.
    pub struct Item ("[[item]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// The heading it stands under, as printed.
        "category" => category: Said<Text>,
        /// The standard whose category this is, by name; none where it is our own.
        "standard" => standard: Option<Said<Text>>,
        /// What the record has to hold; any one of them is enough.
        "counts" => counts: OneOrMore<Requirement>,
        /// From when on it is asked for; it counts from the first day.
        "asked" => asked: Said<Asked>,
        /// What to do, in lower case and without a full stop.
        "say" => say: Said<Text>,
        /// What to write, where `{folder}`, `{part}` and `{photograph}` stand for the piece's own.
        "write" => write: Said<Text>,
        /// How much it adds, by our own reckoning.
        "weight" => weight: Said<Count>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
}

trade_table! {
    /// The checklist.
    pub struct DocumentationTable ("documentation.toml") {
        /// The rows, in the order they are printed.
        "item" => rows: Vec<Said<Item>>,
    }
}

#[cfg(test)]
mod tests {
    use crate::trade::Trade;

    #[test]
    fn the_checklist_has_the_categories_of_object_id_and_no_weight_twice() {
        let items = &Trade::built_in().documentation.rows;
        let mut named: Vec<&str> = items
            .iter()
            .filter(|item| item.standard.as_ref().is_some_and(|standard| &***standard == "Object ID"))
            .map(|item| &**item.category)
            .collect();
        named.dedup();
        let categories = [
            "photographs",
            "type of object",
            "materials and techniques",
            "measurements",
            "inscriptions and markings",
            "distinguishing features",
            "title",
            "subject",
            "date or period",
            "maker",
            "description",
        ];
        assert_eq!(named, categories);
        let mut weights: Vec<u32> = items.iter().map(|item| item.weight.0).collect();
        weights.sort_unstable();
        assert!(weights.windows(2).all(|pair| pair[0] < pair[1]), "{weights:?}");
        assert!(items.iter().all(|item| !item.counts.is_empty()));
    }
}
