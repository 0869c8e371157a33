//! Coating arithmetic: films, losses, and what cold does to drying.

use super::finish::Group;
use super::table::{by_id, trade_row, trade_table};
use super::verification::Verification;
use crate::fields::{Id, Range, Said, Text};

trade_row! {
    /// The dry film that one coat leaves.
    pub struct DryFilm ("[[film]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// Micrometres of dry film.
        "dry-um" => dry_um: Said<Range>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Verification>,
    }
    retired = ["name"];
}

trade_row! {
    /// The share of a coating that misses, or stays in the tool.
    pub struct Loss ("[[loss]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// The share, from 0 to below 1.
        "loss" => loss: Said<Range>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Verification>,
    }
    retired = ["name"];
}

trade_row! {
    /// The dry film that a coat of one chemistry usually leaves.
    pub struct UsualFilm ("[[usual-film]]") {
        /// The chemistry, as in the table of finishes.
        "id" => group: Said<Group>,
        /// The row of films.
        "film" => film: Said<Id>,
        /// Words of a means that leaves another film, in small letters.
        "not-by" => not_by: Vec<Said<Text>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Verification>,
    }
    key = |row| row.group.word();
}

trade_row! {
    /// A tool with a loss of its own.
    pub struct LossyTool ("[[tool]]") {
        /// A word of it in small letters; part of a longer word will do.
        "id" => id: Said<Id>,
        /// The row of losses.
        "loss" => loss: Said<Id>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Verification>,
    }
}

trade_row! {
    /// What a workshop's temperature does to drying, in words.
    pub struct Cold ("[[cure]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// What happens.
        "text" => text: Said<Text>,
        /// From which to which temperature, in degrees Celsius.
        "c" => celsius: Said<Range>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Verification>,
    }
}

trade_table! {
    /// The table of coating arithmetic.
    pub struct CoverageTable ("coverage.toml") {
        /// Dry films.
        "film" => films: Vec<Said<DryFilm>>,
        /// The films of chemistries.
        "usual-film" => usual_films: Vec<Said<UsualFilm>>,
        /// Losses.
        "loss" => losses: Vec<Said<Loss>>,
        /// Tools with losses of their own; of several that a text names, the first counts.
        "tool" => tools: Vec<Said<LossyTool>>,
        /// What cold does.
        "cure" => cold: Vec<Said<Cold>>,
    }
    retired = ["shellac-cut", "voc-limit"];
}

impl CoverageTable {
    /// The dry film that a coat usually leaves, by its chemistry and the means in small letters.
    pub fn usual_film(&self, group: Group, by: &str) -> Option<&DryFilm> {
        let usual = by_id(&self.usual_films, group.word())?;
        let other = usual.not_by.iter().any(|word| by.contains(word.value.0.as_str()));
        if other { None } else { by_id(&self.films, &usual.film.0) }
    }

    /// What is lost by a means in small letters.
    pub fn usual_loss(&self, by: &str) -> Option<&Loss> {
        let tool = self.tools.iter().find(|tool| by.contains(tool.id.0.as_str()))?;
        by_id(&self.losses, &tool.loss.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::Trade;

    #[test]
    fn films_and_losses_are_found_by_chemistry_and_tool() {
        let table = &Trade::built_in().coverage;
        let film = |group, by: &str| table.usual_film(group, by).map(|row| row.id.0.as_str());
        assert_eq!(film(Group::Varnish, ""), Some("brushed-varnish"));
        assert_eq!(film(Group::Paint, "a spray gun"), None);
        assert_eq!(film(Group::Lacquer, "spray"), Some("sprayed-lacquer"));
        assert_eq!(film(Group::Wax, "cloth"), None);
        let loss = |by: &str| table.usual_loss(by).map(|row| row.id.0.as_str());
        assert_eq!(loss("airless sprayer"), Some("airless"));
        assert_eq!(loss("sprayed, then rolled with a foam roller"), Some("roller"));
        assert_eq!([loss("brush"), loss("")], [None, None]);
    }

    #[test]
    fn every_film_and_loss_that_is_named_is_there() {
        let table = &Trade::built_in().coverage;
        assert!(table.usual_films.iter().all(|row| by_id(&table.films, &row.film.0).is_some()));
        assert!(table.tools.iter().all(|row| by_id(&table.losses, &row.loss.0).is_some()));
    }
}
