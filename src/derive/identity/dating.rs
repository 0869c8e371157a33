//! The date check: could what a record calls old have existed when it says so?
//!
//! A date speaks about the part that carries it and never proves anything of the piece: repairs are normal,
//! and old stock and hand work outlive their time. So nothing here says more than "the part, or the date, is
//! later than said".

use crate::derive::finish::stratigraphy::coating;
use crate::fields::{Row, Said};
use crate::record::{Answer, Construction, FinishName, Fixing, Part, Record, Standing, Surface, Tin};
use crate::trade::{Introduced, Trade};
use crate::unit::Edtf;
use crate::unit::edtf::{Bound, YearSpan};

pub use crate::derive::years::ABOUT;

/// The years that matter of something that has not always existed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Known {
    /// The year of its first existence anywhere.
    pub not_before: i32,
    /// The year from which it is unremarkable; never before `not_before`.
    pub common_from: i32,
}

/// How a date agrees with what carries it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Plausibility {
    /// The claimed years allow it, or cannot be compared with it.
    Quiet,
    /// All claimed years lie before it was common.
    Unlikely,
    /// All claimed years lie before it first existed.
    Impossible,
}

/// Weighs claimed years of making against when something came up.
///
/// The last year that the claim allows decides. An end that is open (`1900/..`) or not known (`1900/`) may lie
/// as late as it likes, so nothing is said against it. Unspecified digits count as the last year they can mean;
/// `~` adds [`ABOUT`] years. Where any part of the date is marked `?`, the date itself is in doubt, so that
/// nothing is impossible against it, only unlikely.
///
/// # Source
/// Library of Congress, Extended Date/Time Format specification (2019), levels 0 and 1, for what the marks
/// mean; what follows from them here is our own choice.
pub fn weigh(claim: &Edtf, known: Known) -> Plausibility {
    let plausibility = compare(claim.years_allowing(ABOUT), known);
    match claim.is_uncertain() {
        true => plausibility.min(Plausibility::Unlikely),
        false => plausibility,
    }
}

fn compare(claim: YearSpan, known: Known) -> Plausibility {
    match claim.latest {
        Bound::Open | Bound::Unknown => Plausibility::Quiet,
        Bound::Year(latest) if latest < known.not_before => Plausibility::Impossible,
        Bound::Year(latest) if latest < known.common_from => Plausibility::Unlikely,
        Bound::Year(_) => Plausibility::Quiet,
    }
}

/// What was dated.
#[derive(Debug, Clone, PartialEq)]
pub enum DatedThing {
    /// A part's material.
    Part(Row<Part>),
    /// Fixings.
    Fixing(Row<Fixing>),
    /// A finish found on a surface.
    Found(Row<Surface>, Said<FinishName>),
}

/// The date that something was held against.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Against {
    /// The piece's years of making.
    Made,
    /// The year the part is said to have been added.
    Since,
}

/// What one material, fixing or finish says about its age.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    /// What carries it.
    pub of: DatedThing,
    /// What the record says it is to the piece.
    pub standing: Standing,
    /// What it is, as the trade calls it.
    pub what: String,
    /// When it came up.
    pub known: Known,
    /// The date it was held against; `None` where the record gives none that is meant for it.
    pub against: Option<Against>,
    /// What comes of it; quiet where there is no date.
    pub plausibility: Plausibility,
    /// The table that has the dates, and its row.
    pub row: (&'static str, String),
}

/// Dates everything in a record that the tables can date and that is not the workshop's own work.
///
/// An original part is held against the years of making. An old repair or later addition is later by its own
/// account, so it is held against its `since` alone, and only evidence where it has none. What was found as
/// finish is told with the standing of the oldest part it lay on; being later than the piece, it only says that
/// the piece was refinished.
pub(in crate::derive) fn dating(record: &Record, tins: &[Said<Tin>], trade: &Trade) -> Vec<Evidence> {
    let made = record.made.as_ref().map(|made| &made.value);
    let parts = record.parts.iter().flat_map(|part| {
        let since = part.since.as_ref().map(|since| &since.value);
        let held = Claim { standing: part.standing.value, made, since };
        let materials = materials(part, trade).into_iter();
        materials
            .filter_map(move |row| held.against(DatedThing::Part(part.clone()), Thing::introduced(row, None)))
    });
    let fixings = record.fixings.iter().filter_map(|fixing| {
        let held = Claim { standing: fixing.standing.value, made, since: None };
        held.against(DatedThing::Fixing(fixing.clone()), fixing_thing(fixing, trade)?)
    });
    let surfaces = record.surfaces.iter().flat_map(|surface| {
        let standing = oldest(surface, record);
        surface.found.iter().filter_map(move |found| {
            let finish = coating(found, tins, trade)?.finish;
            let row = trade.introduced(&finish.introduced.as_ref()?.0)?;
            let held = Claim { standing: standing?, made, since: None };
            let of = DatedThing::Found(surface.clone(), found.clone());
            held.against(of, Thing::introduced(row, Some(&finish.name)))
        })
    });
    parts.chain(fixings).chain(surfaces).collect()
}

/// Something datable.
struct Thing {
    what: String,
    known: Known,
    row: (&'static str, String),
}

impl Thing {
    fn introduced(row: &Introduced, called: Option<&str>) -> Thing {
        Thing {
            what: called.unwrap_or(&row.name).to_owned(),
            known: Known { not_before: row.not_before.0, common_from: row.common_from.0 },
            row: ("introduced", row.id.0.clone()),
        }
    }
}

/// What the record claims of the age of one thing.
struct Claim<'a> {
    standing: Standing,
    made: Option<&'a Edtf>,
    since: Option<&'a Edtf>,
}

impl Claim<'_> {
    /// `None` for what this workshop brought in, and for what is not there.
    fn against(&self, of: DatedThing, thing: Thing) -> Option<Evidence> {
        let (against, claim) = match self.standing {
            Standing::Original | Standing::Unknown => (Against::Made, self.made),
            Standing::OldRepair | Standing::Later => (Against::Since, self.since),
            Standing::New | Standing::Salvaged | Standing::Removed | Standing::Missing => return None,
        };
        Some(Evidence {
            of,
            standing: self.standing,
            what: thing.what,
            known: thing.known,
            against: claim.map(|_| against),
            plausibility: claim.map_or(Plausibility::Quiet, |claim| weigh(claim, thing.known)),
            row: thing.row,
        })
    }
}

/// The datable materials of a part, each once: what a veneer lies on, the timber and the veneer by their words.
fn materials<'t>(part: &Part, trade: &'t Trade) -> Vec<&'t Introduced> {
    let solid = part.build.as_ref().is_some_and(|build| build.value == Construction::Solid);
    // Solid timber has no date, whatever else its words mention.
    let named: [Option<&Said<Answer>>; 3] = if solid {
        [None, None, None]
    } else {
        [&part.ground, &part.timber, &part.veneer].map(Option::as_ref)
    };
    let mut rows: Vec<&Introduced> =
        named.into_iter().flatten().filter_map(|text| trade.introduced_as(text)).collect();
    rows.dedup_by_key(|row| row.id.0.as_str());
    rows
}

fn fixing_thing(fixing: &Fixing, trade: &Trade) -> Option<Thing> {
    let kind = trade.fixing(&fixing.kind)?;
    let not_before = kind.not_before.as_ref()?.0;
    let common_from = kind.common_from.as_ref().map_or(not_before, |year| year.0);
    Some(Thing {
        what: kind.label_plural.to_string(),
        known: Known { not_before, common_from },
        row: ("fixing", kind.id.0.clone()),
    })
}

/// The standing by which a found finish is told: the oldest of the parts it lay on.
fn oldest(surface: &Surface, record: &Record) -> Option<Standing> {
    let standings = surface.parts.iter().filter_map(|id| {
        let part = record.parts.iter().find(|part| part.id.value == id.value)?;
        Some(part.standing.value)
    });
    standings.min()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::folder;
    use proptest::prelude::*;

    const SCREW: Known = Known { not_before: 1936, common_from: 1938 };

    #[track_caller]
    fn case(claim: &str, wanted: Plausibility) {
        assert_eq!(weigh(&Edtf::parse(claim).unwrap(), SCREW), wanted, "{claim}");
    }

    // 1936 and 1938 are the years of the cross-recess screw in introduced.toml.
    #[test]
    fn the_last_year_of_the_claim_decides() {
        case("1935", Plausibility::Impossible);
        case("1936", Plausibility::Unlikely);
        case("1937", Plausibility::Unlikely);
        case("1938", Plausibility::Quiet);
        case("1900/1935", Plausibility::Impossible);
        case("1900/1937", Plausibility::Unlikely);
        case("1900/1938", Plausibility::Quiet);
        case("1920-05/1935-11", Plausibility::Impossible);
    }

    #[test]
    fn unspecified_digits_are_their_last_year() {
        case("192X", Plausibility::Impossible);
        case("193X", Plausibility::Quiet);
        case("18XX", Plausibility::Impossible);
        case("19XX", Plausibility::Quiet);
    }

    #[test]
    fn about_reaches_ten_years_at_the_end_it_marks() {
        case("1925~", Plausibility::Impossible);
        case("1926~", Plausibility::Unlikely);
        case("1928~", Plausibility::Quiet);
        case("1900/1928~", Plausibility::Quiet);
        case("1900~/1928", Plausibility::Impossible);
        case("192X~", Plausibility::Quiet);
    }

    #[test]
    fn a_date_in_doubt_makes_nothing_impossible() {
        case("1900?", Plausibility::Unlikely);
        case("1900?/1910", Plausibility::Unlikely);
        case("1900%", Plausibility::Unlikely);
        case("1940?", Plausibility::Quiet);
    }

    #[test]
    fn an_end_that_is_open_or_not_known_may_be_late() {
        case("1900/..", Plausibility::Quiet);
        case("1900/", Plausibility::Quiet);
        case("../1935", Plausibility::Impossible);
        case("/1935", Plausibility::Impossible);
    }

    /// Everything dated in a record: what, against what, verdict.
    fn told(record: &str) -> Vec<String> {
        let folder = folder(record, "");
        let evidence = dating(folder.pieces[0].record.as_ref().unwrap(), &[], Trade::built_in());
        evidence.iter().map(|e| format!("{} {:?} {:?}", e.what, e.against, e.plausibility)).collect()
    }

    #[test]
    fn a_part_is_dated_by_its_ground() {
        let part =
            |more: &str| told(&format!("made = \"1900\"\npart = [{{ id = \"a\", name = \"A\", {more} }}]"));
        assert_eq!(part("standing = \"original\", ground = \"MDF\""), ["MDF Some(Made) Impossible"]);
        assert_eq!(
            part("standing = \"original\", build = \"panel\", ground = \"birch plywood\""),
            ["Plywood Some(Made) Unlikely"]
        );
        assert_eq!(part("standing = \"unknown\", ground = \"mdf\""), ["MDF Some(Made) Impossible"]);
        assert_eq!(part("standing = \"old-repair\", ground = \"mdf\""), ["MDF None Quiet"]);
        assert_eq!(
            part("standing = \"old-repair\", since = \"1950\", ground = \"mdf\""),
            ["MDF Some(Since) Impossible"]
        );
        assert_eq!(part("standing = \"new\", ground = \"mdf\""), [""; 0]);
        assert_eq!(part("standing = \"salvaged\", ground = \"mdf\""), [""; 0]);
        assert_eq!(
            part("standing = \"original\", build = \"solid\", timber = \"oak, on a chipboard core?\""),
            [""; 0]
        );
    }

    #[test]
    fn fixings_are_dated_by_kind() {
        let fixing = |more: &str| told(&format!("made = \"1900/1930\"\nfixing = [{{ {more} }}]"));
        assert_eq!(
            fixing("kind = \"screw-crosshead\", standing = \"original\""),
            ["cross-head screws Some(Made) Impossible"]
        );
        assert_eq!(fixing("kind = \"nail-wire\", standing = \"original\""), ["wire nails Some(Made) Quiet"]);
        assert_eq!(fixing("kind = \"hide-glue\", standing = \"original\""), [""; 0]);
        assert_eq!(fixing("kind = \"screw-crosshead\", standing = \"new\""), [""; 0]);
    }

    #[test]
    fn a_found_finish_is_told_with_the_oldest_part_it_lay_on() {
        let found = |standing: &str| {
            told(&format!(
                "made = \"1880\"\npart = [{{ id = \"a\", name = \"A\", standing = \"{standing}\" }}]\n\
                 surface = [{{ parts = \"a\", found = [\"old-finish\", \"nitrocellulose-lacquer\"] }}]"
            ))
        };
        assert_eq!(found("original"), ["Nitrocellulose lacquer Some(Made) Impossible"]);
        assert_eq!(found("new"), [""; 0]);
    }

    fn claims() -> impl Strategy<Value = (i32, i32, &'static str)> {
        (1000_i32..2100, 0_i32..200, prop::sample::select(vec!["", "~", "?", "%"]))
            .prop_map(|(start, length, mark)| (start, start + length, mark))
    }

    proptest! {
        #[test]
        fn a_later_claim_is_never_judged_harder((start, end, mark) in claims(), later in 0_i32..300) {
            let weigh = |end: i32| weigh(&Edtf::parse(&format!("{start}/{end}{mark}")).unwrap(), SCREW);
            prop_assert!(weigh(end + later) <= weigh(end));
        }

        #[test]
        fn the_start_of_a_claim_does_not_matter((start, end, mark) in claims(), earlier in 0_i32..900) {
            let weigh = |start: i32| weigh(&Edtf::parse(&format!("{start:04}/{end}{mark}")).unwrap(), SCREW);
            prop_assert_eq!(weigh(start), weigh(start - earlier));
        }

        #[test]
        fn a_mark_never_makes_it_harder((start, end, mark) in claims()) {
            let bare = weigh(&Edtf::parse(&format!("{start}/{end}")).unwrap(), SCREW);
            let marked = weigh(&Edtf::parse(&format!("{start}/{end}{mark}")).unwrap(), SCREW);
            prop_assert!(marked <= bare);
        }

        #[test]
        fn moving_claim_and_date_together_changes_nothing((start, end, mark) in claims(), years in -500_i32..500) {
            let claim = |by: i32| Edtf::parse(&format!("{:04}/{:04}{mark}", start + by, end + by)).unwrap();
            let known = |by: i32| Known { not_before: 1936 + by, common_from: 1950 + by };
            prop_assert_eq!(weigh(&claim(0), known(0)), weigh(&claim(years), known(years)));
        }

        #[test]
        fn what_is_impossible_would_at_least_be_unlikely((start, end, mark) in claims(), spread in 0_i32..80) {
            let claim = Edtf::parse(&format!("{start}/{end}{mark}")).unwrap();
            let at_once = weigh(&claim, Known { not_before: 1936, common_from: 1936 });
            let slowly = weigh(&claim, Known { not_before: 1936, common_from: 1936 + spread });
            prop_assert!(slowly >= at_once);
        }
    }
}
