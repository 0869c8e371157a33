//! Finish families: what a surface may carry, and how its owner looks after it.

use super::Trade;
use super::lookup::Words;
use super::spoken::WordTable;
use super::table::{by_id, trade_row, trade_table};
use super::verification::Verification;
use crate::fields::shape::{choices, table};
use crate::fields::{Id, Range, Said, Text};

/// The id of the row that stands for wood with nothing on it.
pub const BARE_WOOD: &str = "bare-wood";

/// The id of the row that stands for an old finish of which nothing more is said.
const OLD_FINISH: &str = "old-finish";

/// The id of shellac that is free of wax.
pub const DEWAXED_SHELLAC: &str = "dewaxed-shellac";

choices! {
    /// The chemistry of a finish, as a workshop sorts its shelf.
    pub enum Group {
        /// Drying oils.
        Oil = "oil",
        /// Oil with varnish or resin in it.
        OilVarnish = "oil-varnish",
        /// Waxes.
        Wax = "wax",
        /// Shellac.
        Shellac = "shellac",
        /// Solvent lacquers.
        Lacquer = "lacquer",
        /// Oil and resin varnishes.
        Varnish = "varnish",
        /// Water-borne clear finishes.
        Waterborne = "waterborne",
        /// Paints.
        Paint = "paint",
        /// Stains and dyes.
        Stain = "stain",
        /// Sealers.
        Sealer = "sealer",
        /// Everything else, such as a material that is its own surface.
        Other = "other",
    }
}

choices! {
    /// Where a finish lies.
    pub enum Layer {
        /// In the wood's pores.
        InWood = "in-wood",
        /// As a very thin film on it.
        ThinFilm = "thin-film",
        /// As a film on it.
        Film = "film",
        /// As colour in or on it.
        Colour = "colour",
        /// As preparation for what follows.
        Preparation = "preparation",
        /// Nowhere: the material is its own surface.
        Surface = "surface",
    }
}

choices! {
    /// Whether the owner can mend a small fault alone.
    pub enum OwnerRepair {
        /// With care, yes.
        Yes = "yes",
        /// Small faults only.
        Partly = "partly",
        /// It is work for a finisher.
        No = "no",
    }
}

table! {
    /// A fact about a finish, with its own source.
    pub struct FinishFact ("fact") {
        /// The fact.
        "text" => text: Said<Text>,
        /// Title, edition and table; or `common practice, no source`.
        "source" => source: Said<Text>,
        /// How it came to be known.
        "seen" => seen: Said<Verification>,
    }
}

trade_row! {
    /// One finish family.
    pub struct Finish ("[[finish]]") {
        /// The id that steps call it by.
        "id" => id: Said<Id>,
        /// Its name, as printed.
        "name" => name: Said<Text>,
        /// The ways people say it.
        "also" => also: Vec<Said<Text>>,
        /// The rows that it stands for, where it is a word for several kinds.
        "may-be" => may_be: Vec<Said<Id>>,
        /// What it is, in everyday words.
        "plain" => plain: Said<Text>,
        /// Its chemistry.
        "group" => group: Said<Group>,
        /// Where it lies.
        "layer" => layer: Said<Layer>,
        /// Whether it protects what lies below.
        "protective" => protective: Said<bool>,
        /// Editorial rating from 1 to 5, 0 where it means nothing: water.
        "water" => water: Option<Said<Range>>,
        /// The same: dry heat.
        "dry-heat" => dry_heat: Option<Said<Range>>,
        /// The same: wet heat.
        "wet-heat" => wet_heat: Option<Said<Range>>,
        /// The same: alcohol.
        "alcohol" => alcohol: Option<Said<Range>>,
        /// The same: rubbing.
        "abrasion" => abrasion: Option<Said<Range>>,
        /// The same: sunlight.
        "sunlight" => sunlight: Option<Said<Range>>,
        /// Hours until dust no longer sticks, at 20 °C and about 50 % RH.
        "dust-dry-hours" => dust_dry_hours: Option<Said<Range>>,
        /// Hours until the next coat.
        "recoat-hours" => recoat_hours: Option<Said<Range>>,
        /// Days until light use with mats.
        "light-use-days" => light_use_days: Option<Said<Range>>,
        /// Days until it is fully hard.
        "full-cure-days" => full_cure_days: Option<Said<Range>>,
        /// How to dust it.
        "dust" => dust: Said<Text>,
        /// How to clean it.
        "clean" => clean: Said<Text>,
        /// What to do about a spill.
        "spill" => spill: Said<Text>,
        /// What to do about a ring.
        "ring" => ring: Said<Text>,
        /// How to renew it.
        "renew" => renew: Said<Text>,
        /// The same in few words, where it takes many.
        "renew-brief" => renew_brief: Option<Said<Text>>,
        /// Months between renewals.
        "renew-months" => renew_months: Option<Said<Range>>,
        /// What never to do; each follows the word "Never".
        "never" => never: Vec<Said<Text>>,
        /// How it comes off, for the next restorer.
        "undo" => undo: Said<Text>,
        /// Whether the owner can mend a small fault.
        "owner-repair" => owner_repair: Said<OwnerRepair>,
        /// Hazards of applying it.
        "bench-hazards" => bench_hazards: Vec<Said<Text>>,
        /// Whether its rags can heat up and ignite by themselves.
        "rags-self-heat" => rags_self_heat: Said<bool>,
        /// Whether an old coat of it may hold lead though it is no paint, as of oil varnish that was dried with lead.
        "may-hold-lead" => may_hold_lead: Option<Said<bool>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// The row of the table of introductions that tells its age, where there is one.
        "introduced" => introduced: Option<Said<Id>>,
        /// Facts with sources of their own.
        "facts" => facts: Vec<Said<FinishFact>>,
    }
    words = |row| [&row.name].into_iter().chain(&row.also);
    may_be = |row| &row.may_be;
}

trade_table! {
    /// The table of finishes.
    pub struct FinishTable ("finish.toml") {
        /// The rows.
        "finish" => rows: Vec<Said<Finish>>,
    }
}

impl Finish {
    /// Whether it is an old finish of which nothing more is said, and so may be any, lead paint too.
    pub fn is_old(&self) -> bool {
        self.id.0 == OLD_FINISH
    }

    /// Whether it is a word for several kinds, so that a coat of this name is not identified.
    pub fn is_generic(&self) -> bool {
        !self.may_be.is_empty()
    }

    /// Whether an old coat of it may hold lead, as far as its own kind goes.
    fn held_lead(&self) -> bool {
        let clear = self.may_hold_lead.as_ref().is_some_and(|may| may.value);
        self.group.value == Group::Paint || self.is_old() || clear
    }
}

impl Trade {
    /// Where words for a finish are looked up.
    pub fn finish_words(&self) -> Words<'_, Finish> {
        self.words_of(WordTable::Finish, &self.finishes.rows)
    }

    /// A finish and every other that its name may stand for; cautions hold for all of them.
    pub fn finishes_meant<'a>(&'a self, finish: &'a Finish) -> impl Iterator<Item = &'a Finish> {
        let others = finish.may_be.iter().filter_map(|id| by_id(&self.finishes.rows, &id.0));
        std::iter::once(finish).chain(others)
    }

    /// Whether an old coat of this name may hold lead.
    pub fn may_hold_lead(&self, finish: &Finish) -> bool {
        self.finishes_meant(finish).any(Finish::held_lead)
    }

    /// Whether the names of two finishes may mean one and the same.
    pub fn may_be_one(&self, one: &Finish, other: &Finish) -> bool {
        self.finishes_meant(one).any(|one| self.finishes_meant(other).any(|other| one.id.0 == other.id.0))
    }

    /// What the papers call a finish that was written so: by its family's name, or as typed where that says more or less.
    pub fn finish_name(&self, word: &str) -> String {
        let family = self.finish_words().called(word);
        family.map_or_else(|| word.to_owned(), |family| family.name.to_string())
    }

    /// The finish family of this id, name or spoken word.
    pub fn finish(&self, word: &str) -> Option<&Finish> {
        self.finish_words().taken(word).row()
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    /// Against what the entries of `never` speak, each with words that tell it.
    const AGAINST: &[(&str, &[&str])] = &[
        ("acid", &["acid", "vinegar", "lemon"]),
        (
            "alcohol and solvent",
            &["alcohol", "acetone", "perfume", "hand gel", "nail varnish remover", "solvent"],
        ),
        ("cleaners", &["ammonia", "alkaline", "bleach", "cleaner", "dressing", "silicone", "soap", "soda"]),
        ("dust", &["lead test", "sand it dry", "scrape", "strip", "without breathing"]),
        ("food", &["food"]),
        ("handling", &["bare hands", "carry it flat", "fire label", "knock", "lean or sit"]),
        ("heat", &["anything hot", "hot ", "kettle", "radiator", "steam"]),
        (
            "laying it on",
            &["cured", "dry to the touch", "heavy coat", "same name", "surplus", "thick", "unwiped"],
        ),
        ("light", &["stay pale", "stay white", "sun"]),
        ("pressure", &["books", "feet", "heavy", "mats", "shut on it"]),
        ("rags", &["rags"]),
        (
            "rubbing",
            &[
                "abrasive",
                "beat",
                "cloth rub",
                "metal polish",
                "polish on",
                "rub,",
                "sand a spot",
                "scour",
                "scrub",
                "steel wool",
            ],
        ),
        ("wet", &["soak", "wash", "water", "wet "]),
        (
            "what is laid on it",
            &[
                "another coat",
                "brown",
                "clear coat",
                "clear finish",
                "coat over",
                "gold paint",
                "last coat",
                "more oil",
                "new coat",
                "oil over",
                "ordinary lacquer",
                "recoat",
                "silvered",
                "unsealed",
                "varnish over",
                "wax",
            ],
        ),
    ];

    /// Of what the hazards at the bench speak, each with words that tell it.
    const OF: &[(&str, &[&str])] = &[
        ("allergy", &["allergy", "nut oil"]),
        ("dust", &["asbestos", "dust", "powder"]),
        ("fire", &["burn", "flammable"]),
        ("formaldehyde", &["formaldehyde"]),
        (
            "handling",
            &["ammonia", "caustic", "glass", "gloves", "irritate", "metal salts", "slab", "slippery"],
        ),
        ("isocyanate", &["isocyanate"]),
        ("lead", &["lead"]),
        ("rags", &["fire by themselves"]),
        ("setting", &["film thickness", "hardens badly", "keep overnight", "never harden", "not set"]),
        ("vapour", &["fumes", "lungs", "mercury", "poisonous", "smell", "vapour"]),
    ];

    /// Of which of these things the sentences speak.
    fn told<'a>(sentences: &[Said<Text>], things: &[(&'a str, &[&str])]) -> BTreeSet<&'a str> {
        let sentences: Vec<String> = sentences.iter().map(|text| text.to_lowercase()).collect();
        let tells = |words: &[&str]| {
            sentences.iter().any(|sentence| words.iter().any(|word| sentence.contains(word)))
        };
        things.iter().filter(|(_, words)| tells(words)).map(|(thing, _)| *thing).collect()
    }

    #[test]
    fn it_is_known_what_every_warning_is_about() {
        for row in &Trade::built_in().finishes.rows {
            for (warnings, things) in [(&row.never, AGAINST), (&row.bench_hazards, OF)] {
                for warning in warnings {
                    let about = told(std::slice::from_ref(warning), things);
                    assert!(!about.is_empty(), "{}: {}", row.id.0, warning.value.0);
                }
            }
        }
    }

    #[test]
    fn a_word_for_several_finishes_is_no_milder_than_any_of_them() {
        let trade = Trade::built_in();
        for row in trade.finishes.rows.iter().filter(|row| row.is_generic()) {
            let (id, ids) = (&row.id.0, row.may_be.iter().map(|id| &id.0));
            let meant: Vec<&Finish> = ids.map(|id| by_id(&trade.finishes.rows, id).expect(id)).collect();
            for (name, of) in RATINGS {
                let least = meant.iter().filter_map(|one| of(one).as_ref()).map(|range| range.low);
                let least = least.filter(|rating| *rating > 0.0).reduce(f64::min);
                assert_eq!(of(row).as_ref().map(|range| range.low), least, "{id}: {name}");
            }
            for (name, of) in SPANS {
                let spans: Option<Vec<_>> = meant.iter().map(|one| of(one).as_ref()).collect();
                let widest = spans.map(|spans| {
                    let low = spans.iter().map(|span| span.low).fold(f64::INFINITY, f64::min);
                    (low, spans.iter().map(|span| span.high).fold(0.0, f64::max))
                });
                assert_eq!(of(row).as_ref().map(|span| (span.low, span.high)), widest, "{id}: {name}");
            }
            for one in meant {
                assert!(!one.is_generic(), "{id} may be {}, which is a word itself", one.id.0);
                assert!(row.owner_repair.value >= one.owner_repair.value, "{id}: {}", one.id.0);
                assert!(row.rags_self_heat.value || !one.rags_self_heat.value, "{id}: {}", one.id.0);
                for (ours, theirs, things) in
                    [(&row.never, &one.never, AGAINST), (&row.bench_hazards, &one.bench_hazards, OF)]
                {
                    let (ours, theirs) = (told(ours, things), told(theirs, things));
                    let lacking: Vec<_> = theirs.difference(&ours).collect();
                    assert!(lacking.is_empty(), "{id} says nothing of {lacking:?}, as {} does", one.id.0);
                }
            }
        }
    }

    type Column = (&'static str, fn(&Finish) -> &Option<Said<Range>>);

    const RATINGS: [Column; 6] = [
        ("water", |row| &row.water),
        ("dry heat", |row| &row.dry_heat),
        ("wet heat", |row| &row.wet_heat),
        ("alcohol", |row| &row.alcohol),
        ("abrasion", |row| &row.abrasion),
        ("sunlight", |row| &row.sunlight),
    ];

    const SPANS: [Column; 5] = [
        ("dust-dry", |row| &row.dust_dry_hours),
        ("recoat", |row| &row.recoat_hours),
        ("light use", |row| &row.light_use_days),
        ("full cure", |row| &row.full_cure_days),
        ("renewal", |row| &row.renew_months),
    ];
}
