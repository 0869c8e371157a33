//! The date check, ready to print: what speaks for or against the claimed years, always as evidence about a part.

use serde::Serialize;

use super::identity::made;
use super::surface::surface_name;
use crate::derive::dating::{ABOUT, Against, DatedThing, Evidence, Plausibility};
use crate::record::Standing;
use crate::trade::Era;
use crate::unit::edtf::Bound;
use crate::view::context::PieceContext;
use crate::words;

/// One thing that can be dated.
#[derive(Debug, Clone, Serialize)]
pub struct DatingRow {
    /// What it is and where.
    pub what: String,
    /// Its standing, in words; empty for a finish, which has none of its own.
    pub standing: String,
    /// When such a thing came up.
    pub years: String,
    /// `impossible`, `unlikely` or `quiet`, for a theme's marks.
    pub verdict: String,
    /// What follows for this part.
    pub text: String,
    /// Where the years come from.
    pub source: String,
}

/// Fixings of one era.
#[derive(Debug, Clone, Serialize)]
pub struct EraRow {
    /// The era, in words.
    pub era: String,
    /// The fixings, each with its standing.
    pub fixings: String,
}

/// The date check of a piece.
#[derive(Debug, Clone, Serialize)]
pub struct DatingView {
    /// What came of it, in a sentence or two.
    pub sentence: String,
    /// What can be dated, the most telling first.
    pub rows: Vec<DatingRow>,
    /// Fixings by the era they belong to.
    pub eras: Vec<EraRow>,
    /// How the check reads the years of making; empty where nothing could be checked.
    pub reading: String,
    /// What the check cannot do; empty where nothing could be checked.
    pub caution: String,
}

/// Prints the date check.
pub(crate) fn dating(context: &PieceContext<'_>) -> DatingView {
    let mut evidence: Vec<&Evidence> = context.facts.dating.iter().collect();
    evidence.sort_by_key(|evidence| std::cmp::Reverse(evidence.plausibility));
    let checked = !evidence.is_empty();
    let said = |text: String| if checked { text } else { String::new() };
    DatingView {
        sentence: sentence(context, &evidence),
        rows: evidence.iter().map(|evidence| row(context, evidence)).collect(),
        eras: eras(context),
        reading: said(format!(
            "The last year that the claimed date allows is compared. \u{201c}About\u{201d} is taken as {ABOUT} years either \
             way, which is our own choice; against a date that is itself in doubt nothing is called impossible."
        )),
        caution: said(
            "Such dates are those of first and of common use anywhere. They say something about the part and never \
             prove anything of the piece: repairs are normal, and old stock and hand work outlive their time."
                .to_owned(),
        ),
    }
}

fn sentence(context: &PieceContext<'_>, evidence: &[&Evidence]) -> String {
    if evidence.is_empty() {
        return "Nothing old that is recorded of it can be dated by its material or kind.".to_owned();
    }
    if context.record.made.is_none() {
        return "No years of making are recorded, so nothing could be held against them.".to_owned();
    }
    let of = |weighed: Plausibility| {
        evidence.iter().filter(|evidence| evidence.plausibility == weighed).count() as u32
    };
    let (impossible, unlikely) = (of(Plausibility::Impossible), of(Plausibility::Unlikely));
    let dated = words::count(evidence.len() as u32, "thing that can be dated", "things that can be dated");
    match (impossible, unlikely) {
        (0, 0) => format!("Of {dated}, none speaks against the years that are claimed."),
        (later, 0) => format!("Of {dated}, {later} cannot be as old as the years that are claimed."),
        (0, rare) => format!("Of {dated}, {rare} would be unusually early for the years that are claimed."),
        (later, rare) => format!(
            "Of {dated}, {later} cannot be as old as the years that are claimed, and {rare} would be unusually early."
        ),
    }
}

fn row(context: &PieceContext<'_>, evidence: &Evidence) -> DatingRow {
    let (what, standing) = match &evidence.of {
        DatedThing::Part(part) => {
            (format!("{}: {}", part.name.0, evidence.what), words::standing(evidence.standing))
        }
        DatedThing::Fixing(fixing) => {
            let parts = context.names.parts(&fixing.part);
            let what = words::capital(&evidence.what);
            let what = if parts.is_empty() { what } else { format!("{what} ({parts})") };
            (what, words::standing(evidence.standing))
        }
        DatedThing::Found(surface, _) => {
            let surface = surface_name(context, surface);
            (format!("{}, found on {surface}", evidence.what), "")
        }
    };
    let verdict = match evidence.plausibility {
        Plausibility::Impossible => "impossible",
        Plausibility::Unlikely => "unlikely",
        Plausibility::Quiet => "quiet",
    };
    DatingRow {
        what,
        standing: standing.to_owned(),
        years: years(evidence),
        verdict: verdict.to_owned(),
        text: text(context, evidence),
        source: evidence.source.clone(),
    }
}

/// `first known in 1936, common from 1938`
fn years(evidence: &Evidence) -> String {
    let year = |year: i32| if year > 0 { year.to_string() } else { format!("{} BC", 1 - i64::from(year)) };
    let known = evidence.known;
    match known.not_before == known.common_from {
        true => format!("known from {}", year(known.not_before)),
        false => {
            format!("first known in {}, common from {}", year(known.not_before), year(known.common_from))
        }
    }
}

/// What follows for the part, in a sentence.
fn text(context: &PieceContext<'_>, evidence: &Evidence) -> String {
    let first = evidence.known.not_before;
    let found = matches!(evidence.of, DatedThing::Found(..));
    let claim = match evidence.against {
        Some(Against::Made) => {
            format!("the piece is said to be from {}", made(context))
        }
        Some(Against::Since) => match &evidence.of {
            DatedThing::Part(part) => {
                let since = part.since.as_ref();
                format!("it is said to be there since {}", since.map_or(String::new(), |since| since.words()))
            }
            _ => String::new(),
        },
        None => String::new(),
    };
    match (evidence.plausibility, evidence.against) {
        (Plausibility::Impossible, _) if found => {
            format!("It is later than the piece, which was then finished anew: {claim}.")
        }
        (Plausibility::Unlikely, _) if found => {
            format!("It would be an early example, so the piece may have been finished anew: {claim}.")
        }
        (Plausibility::Impossible, _) => format!("This part, or the date, is later than said: {claim}."),
        (Plausibility::Unlikely, _) => {
            format!(
                "This would be an early example; either that, or the part or the date is later than said: {claim}."
            )
        }
        (Plausibility::Quiet, None) if is_later(evidence) => format!("As such, it is from {first} or later."),
        (Plausibility::Quiet, None) => "There is no date to hold it against.".to_owned(),
        (Plausibility::Quiet, Some(_)) => {
            narrows(context, evidence).unwrap_or_else(|| "It fits the date that is claimed.".to_owned())
        }
    }
}

fn is_later(evidence: &Evidence) -> bool {
    matches!(evidence.standing, Standing::OldRepair | Standing::Later)
}

/// Where the claimed years begin before the thing existed: what it says of the date, if it is as old as said.
fn narrows(context: &PieceContext<'_>, evidence: &Evidence) -> Option<String> {
    let original = evidence.standing == Standing::Original && !matches!(evidence.of, DatedThing::Found(..));
    let made =
        context.record.made.as_ref().filter(|_| original && evidence.against == Some(Against::Made))?;
    let first = evidence.known.not_before;
    match made.years().earliest {
        Bound::Year(earliest) if earliest < first => {
            Some(format!("It fits the date that is claimed; if it is original, nothing before {first} is."))
        }
        _ => None,
    }
}

/// Fixings by era, the traditional ones first; those of no known kind last.
fn eras(context: &PieceContext<'_>) -> Vec<EraRow> {
    let era_of = |kind: &str| context.trade.fixing(kind).map(|kind| kind.era.value);
    let eras = [Some(Era::Traditional), Some(Era::Either), Some(Era::Modern), None];
    let rows = eras.map(|era| {
        let of_era = context.record.fixings.iter().filter(|fixing| era_of(&fixing.kind) == era);
        let named: Vec<String> = of_era.map(|fixing| fixing_words(context, fixing)).collect();
        EraRow { era: words::capital(era.map_or("era not known", words::era)), fixings: named.join("; ") }
    });
    rows.into_iter().filter(|row| !row.fixings.is_empty()).collect()
}

/// `6 cross-head screws (new)`
fn fixing_words(context: &PieceContext<'_>, fixing: &crate::record::Fixing) -> String {
    let count = fixing.count.as_ref().map(|count| count.0);
    let label = match (context.trade.fixing_words().called(&fixing.kind), count) {
        (Some(kind), Some(1)) => kind.label.to_string(),
        (Some(kind), _) if kind.sort.value == crate::trade::Sort::Glue => kind.label.to_string(),
        (Some(kind), _) => kind.label_plural.to_string(),
        (None, _) => words::said(&fixing.kind).replace('-', " "),
    };
    let count = count.map_or(String::new(), |count| format!("{count} "));
    format!("{count}{label} ({})", words::standing(fixing.standing.value))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;

    fn first(record: &str) -> DatingRow {
        shown(record, "", dating).rows.remove(0)
    }

    #[test]
    fn what_cannot_be_so_old_is_told_of_the_part() {
        let row = first(
            "made = \"1920/1930\"\npart = [{ id = \"a\", name = \"Leaf\", standing = \"original\" }]\n\
             fixing = [{ kind = \"screw-crosshead\", part = \"a\", count = 6, standing = \"original\" }]",
        );
        assert_eq!(row.what, "Cross-head screws (Leaf)");
        assert_eq!(row.years, "first known in 1936, common from 1938");
        assert_eq!((row.verdict.as_str(), row.standing.as_str()), ("impossible", "original"));
        assert_eq!(
            row.text,
            "This part, or the date, is later than said: the piece is said to be from 1920 to 1930."
        );
    }

    #[test]
    fn an_old_repair_without_a_year_is_given_one() {
        let row = first(
            "made = \"1880\"\npart = [{ id = \"a\", name = \"Back\", standing = \"old-repair\", ground = \"hardboard\" }]",
        );
        assert_eq!(row.what, "Back: Hardboard");
        assert_eq!(row.text, "As such, it is from 1924 or later.");
    }

    #[test]
    fn a_later_finish_says_that_the_piece_was_refinished() {
        let row = first(
            "made = \"188X\"\npart = [{ id = \"a\", name = \"Top\", standing = \"original\" }]\n\
             surface = [{ parts = \"a\", found = \"nitrocellulose-lacquer\" }]",
        );
        assert_eq!(row.what, "Nitrocellulose lacquer, found on Top");
        assert_eq!(
            row.text,
            "It is later than the piece, which was then finished anew: the piece is said to be from the 1880s."
        );
    }

    #[test]
    fn an_original_fixing_may_narrow_the_date() {
        let row =
            first("made = \"1900/1950\"\nfixing = [{ kind = \"screw-crosshead\", standing = \"original\" }]");
        assert_eq!(row.text, "It fits the date that is claimed; if it is original, nothing before 1936 is.");
    }

    #[test]
    fn the_check_says_what_came_of_it() {
        let said = |record: &str| shown(record, "", dating).sentence;
        assert_eq!(said(""), "Nothing old that is recorded of it can be dated by its material or kind.");
        let screws = "fixing = [{ kind = \"screw-crosshead\", standing = \"original\" }, { kind = \"nail-wire\", standing = \"original\" }]";
        assert_eq!(said(screws), "No years of making are recorded, so nothing could be held against them.");
        assert_eq!(
            said(&format!("made = \"1935\"\n{screws}")),
            "Of 2 things that can be dated, 1 cannot be as old as the years that are claimed."
        );
        assert_eq!(
            said(&format!("made = \"1937\"\n{screws}")),
            "Of 2 things that can be dated, 1 would be unusually early for the years that are claimed."
        );
        assert_eq!(
            said(&format!("made = \"1938\"\n{screws}")),
            "Of 2 things that can be dated, none speaks against the years that are claimed."
        );
    }

    #[test]
    fn fixings_stand_by_era() {
        let view = shown(
            "fixing = [{ kind = \"screw-crosshead\", count = 6, standing = \"new\" }, { kind = \"hide-glue\", standing = \"original\" }, \
             { kind = \"a bent hairpin\", standing = \"later\" }]",
            "",
            dating,
        );
        let rows: Vec<String> = view.eras.iter().map(|row| format!("{}: {}", row.era, row.fixings)).collect();
        assert_eq!(
            rows,
            [
                "Traditional: hide glue (original)",
                "Modern: 6 cross-head screws (new)",
                "Era not known: a bent hairpin (later)"
            ]
        );
    }
}
