//! When the finish may be dusted and used, and when it is fully hard, ready to print.

use chrono::Datelike;
use serde::Serialize;

use super::basis::Basis;
use crate::derive::cure::{Air, Cure, Hardening, Milestone};
use crate::derive::{Coat, SurfaceFacts};
use crate::fields::{Range, Row};
use crate::record::Step;
use crate::view::context::PieceContext;
use crate::view::shared::surface::surface_name;
use crate::words;

/// One surface's days.
#[derive(Debug, Clone, Serialize)]
pub struct SurfaceCure {
    /// The surface's name.
    pub name: String,
    /// Between which days dust stops sticking; empty where not known or nothing was laid.
    pub dust: String,
    /// Between which days it comes to bear light use; the same.
    pub light: String,
    /// Between which days it is fully hard; the same, and empty where it does not harden after it has dried.
    pub full: String,
    /// The days in a sentence that counts on the late ones, or why there are none.
    pub sentence: String,
    /// What cold or damp air means for these days; empty where none is recorded.
    pub air: String,
}

/// The days of a piece.
#[derive(Debug, Clone, Serialize)]
pub struct CureView {
    /// Each surface, in the order of the record.
    pub surfaces: Vec<SurfaceCure>,
    /// The piece in a sentence; empty where nothing was laid on it.
    pub piece: String,
    /// What all the days hold for; empty where there are none.
    pub holds_for: String,
    /// Why the days are what they are.
    pub basis: Vec<Basis>,
}

/// Below this many degrees Celsius, and above this much relative humidity, the air is spoken of.
///
/// # Source
/// common practice, no source: 18 °C is where the table of coating arithmetic begins to speak of slow drying,
/// 65 % where a room counts as damp.
const COOL: f64 = 18.0;
const DAMP: f64 = 65.0;

/// Prints the days of a piece.
pub(crate) fn cure(context: &PieceContext<'_>) -> CureView {
    let surfaces: Vec<SurfaceCure> =
        context.facts.surfaces.iter().map(|facts| surface_cure(context, facts)).collect();
    let dated = surfaces.iter().any(|surface| !surface.light.is_empty());
    CureView {
        piece: piece(context),
        holds_for: match dated {
            true => "The days hold for thin coats that dried at about 20 °C and 50 % relative humidity. They are \
                     counted from the days of the coats, and are no promise: where it still feels soft or smells, wait."
                .to_owned(),
            false => String::new(),
        },
        basis: context.facts.surfaces.iter().flat_map(|facts| basis(context, facts)).collect(),
        surfaces,
    }
}

fn surface_cure(context: &PieceContext<'_>, facts: &SurfaceFacts) -> SurfaceCure {
    let name = surface_name(context, &facts.surface);
    let span = |milestone: &Milestone<Coat>| words::days(milestone.days.first, milestone.days.last);
    match &facts.hardening {
        Hardening::By(cure) => SurfaceCure {
            name,
            dust: span(&cure.dust_dry),
            light: span(&cure.light_use),
            full: cure.full_cure.as_ref().map_or(String::new(), span),
            sentence: sentence(cure),
            air: air_words(context, cure, facts.air),
        },
        other => SurfaceCure {
            name,
            dust: String::new(),
            light: String::new(),
            full: String::new(),
            sentence: match other {
                Hardening::NotKnown { coat, why } => {
                    format!("No days can be given: of {}, {why}.", coat.name)
                }
                _ => "No protective finish was laid on it here, so there is nothing to wait for.".to_owned(),
            },
            air: String::new(),
        },
    }
}

/// `From 23 March it may be dusted; from 27 March used gently, with mats; it is fully hard about 19 April 2026.`
///
/// The late end of every span is taken, so that nobody begins too soon.
fn sentence(cure: &Cure<Coat>) -> String {
    let over = cure.over();
    let [dust, light] = [&cure.dust_dry, &cure.light_use].map(|milestone| day_until(milestone, over));
    match &cure.full_cure {
        Some(full) => format!(
            "From {dust} it may be dusted; from {light} used gently, with mats; it is fully hard about {}.",
            words::day(full.days.last)
        ),
        None => format!(
            "From {dust} it may be dusted, and from {} used gently, with mats; wax does not harden after that.",
            words::day(over)
        ),
    }
}

/// A milestone's last day, with its year where that is not the year of the last day of all.
fn day_until<W>(milestone: &Milestone<W>, over: chrono::NaiveDate) -> String {
    match milestone.days.last.year() == over.year() {
        true => words::day_of_year(milestone.days.last),
        false => words::day(milestone.days.last),
    }
}

/// The piece in one pair of days, and what it waits for.
fn piece(context: &PieceContext<'_>) -> String {
    let surfaces = &context.facts.surfaces;
    if let Some(cure) = &context.facts.cure {
        let full = cure.full_cure.as_ref();
        let days = match full {
            Some(full) => format!(
                "From {} the piece as a whole may be used gently, with mats; it is fully hard about {}.",
                day_until(&cure.light_use, cure.over()),
                words::day(full.days.last)
            ),
            None => format!(
                "From {} the piece as a whole may be used gently, with mats; wax does not harden after that.",
                words::day(cure.over())
            ),
        };
        let waits_for = &full.unwrap_or(&cure.light_use).waits_for;
        let coat = surfaces.iter().find(|facts| facts.surface == *waits_for).and_then(|facts| {
            let Hardening::By(cure) = &facts.hardening else { return None };
            Some(&cure.full_cure.as_ref().unwrap_or(&cure.light_use).waits_for.name)
        });
        let coat = coat.map_or(String::new(), |coat| format!(" for {coat}"));
        let surface = match surfaces.len() {
            1 => String::new(),
            _ => format!(" on this surface: {}", surface_name(context, waits_for)),
        };
        return format!("{days} It waits longest{coat}{surface}.");
    }
    let unknown: Vec<String> = surfaces
        .iter()
        .filter(|facts| matches!(facts.hardening, Hardening::NotKnown { .. }))
        .map(|facts| surface_name(context, &facts.surface))
        .collect();
    match unknown.is_empty() {
        true => String::new(),
        false => format!(
            "No days can be given for the piece as a whole, since some are not known: {}.",
            words::list(&unknown)
        ),
    }
}

/// What cold or damp means. No rule turns either into days, so none are added.
fn air_words(context: &PieceContext<'_>, cure: &Cure<Coat>, air: Air) -> String {
    let cool = air.celsius.filter(|celsius| *celsius < COOL);
    let damp = air.humidity.filter(|humidity| *humidity > DAMP);
    let said: Vec<String> = [
        cool.map(|celsius| format!("{} °C", words::trimmed(celsius, 1))),
        damp.map(|humidity| format!("{} % relative humidity", words::trimmed(humidity, 0))),
    ]
    .into_iter()
    .flatten()
    .collect();
    if said.is_empty() {
        return String::new();
    }
    let family = cure.full_cure.as_ref().unwrap_or(&cure.light_use).waits_for.finish.as_deref();
    let of_its_kind = cool.filter(|_| family == Some("oil-polyurethane")).and_then(|celsius| {
        let rows = context.trade.coverage.cold.iter();
        rows.filter(|row| row.celsius.low <= celsius && celsius < row.celsius.high)
            .map(|row| format!(" {}", row.text.0))
            .next()
    });
    format!(
        "It dried at {}, which makes a finish slower.{} We know of no rule that turns this into days, so none were \
         added: allow more time than the days say.",
        words::list(&said),
        of_its_kind.unwrap_or_default()
    )
}

fn basis(context: &PieceContext<'_>, facts: &SurfaceFacts) -> Vec<Basis> {
    let Hardening::By(cure) = &facts.hardening else { return Vec::new() };
    let surface = surface_name(context, &facts.surface);
    let row = |what: &str, milestone: &Milestone<Coat>, unit: (&str, &str)| {
        let coat = &milestone.waits_for;
        let time = words::span(&milestone.time.range, unit.0, unit.1);
        let laid = words::days(milestone.laid.first, milestone.laid.last);
        let family = coat.finish.as_deref().and_then(|id| context.trade.finish(id));
        Basis {
            figure: format!("{surface}, {what}: {}", words::days(milestone.days.first, milestone.days.last)),
            how: format!("{}, last coat {laid}{}, and {time} after it", coat.name, coats(coat.step.as_ref())),
            source: match (milestone.time.label, family) {
                (true, _) => "the tin's label".to_owned(),
                (false, Some(family)) => family.source.to_string(),
                (false, None) => String::new(),
            },
        }
    };
    let mut rows = vec![
        row("dust-dry", &cure.dust_dry, ("hour", "hours")),
        row("light use", &cure.light_use, ("day", "days")),
    ];
    rows.extend(cure.full_cure.as_ref().map(|full| row("fully hard", full, ("day", "days"))));
    rows
}

/// ` (3 coats from 20 March 2026, 24 hours apart)`, or nothing for a single coat.
fn coats(step: Option<&Row<Step>>) -> String {
    let Some(step) = step.filter(|step| step.coat_count() > 1) else { return String::new() };
    let from = step.on.as_ref().map_or(String::new(), |on| format!(" from {}", words::day(on.value)));
    let apart = match &step.every_hours {
        Some(every) => {
            let every: &Range = every;
            format!("{} apart", words::span(every, "hour", "hours"))
        }
        None => "their distance taken from the time until the next coat".to_owned(),
    };
    format!(" ({} coats{from}, {apart})", step.coat_count())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;

    const SATIN: &str = "[[tin]]\nid = \"satin\"\nis = \"oil-polyurethane\"\nname = \"Satin varnish\"\n\
                         dust-dry-hours = [4, 6]\nlight-use-days = [3, 5]\nfull-cure-days = [21, 28]";

    const TOP: &str = "[[surface]]\nname = \"Top\"\nsteps = [\
                       { on = 2026-03-20, apply = \"tin:satin\", coats = 3, every-hours = 24 }]\n";

    #[test]
    fn the_days_read_as_a_sentence() {
        let view = shown(TOP, SATIN, cure);
        assert_eq!(
            view.surfaces[0].sentence,
            "From 23 March it may be dusted; from 27 March used gently, with mats; it is fully hard about 19 April 2026."
        );
        assert_eq!(view.surfaces[0].full, "12 to 19 April 2026");
        assert_eq!(
            view.piece,
            "From 27 March the piece as a whole may be used gently, with mats; it is fully hard about 19 April 2026. It \
             waits longest for Satin varnish."
        );
        let why = &view.basis[2];
        assert_eq!(why.figure, "Top, fully hard: 12 to 19 April 2026");
        assert_eq!(
            why.how,
            "Satin varnish, last coat 22 March 2026 (3 coats from 20 March 2026, 24 hours apart), and 21 to 28 days after it"
        );
        assert_eq!(why.source, "the tin's label");
    }

    #[test]
    fn a_day_of_another_year_says_so() {
        let late = TOP.replace("2026-03-20", "2025-12-20");
        assert_eq!(
            shown(&late, SATIN, cure).surfaces[0].sentence,
            "From 23 December 2025 it may be dusted; from 27 December 2025 used gently, with mats; it is fully hard \
             about 19 January 2026."
        );
    }

    #[test]
    fn the_piece_names_the_coat_and_the_surface_it_waits_for() {
        let legs =
            "[[surface]]\nname = \"Legs\"\nsteps = [{ on = 2026-04-18, apply = \"raw-linseed-oil\" }]\n";
        let view = shown(&format!("{TOP}{legs}"), SATIN, cure);
        assert!(
            view.piece.ends_with(
                "fully hard about 16 August 2026. It waits longest for Raw linseed oil on this surface: Legs."
            ),
            "{}",
            view.piece
        );
    }

    #[test]
    fn wax_does_not_harden() {
        let waxed = "[[surface]]\nname = \"Top\"\nsteps = [{ on = 2026-04-18, apply = \"paste-wax\" }]\n";
        let view = shown(waxed, "", cure);
        assert_eq!(
            view.surfaces[0].sentence,
            "From 19 April it may be dusted, and from 20 April 2026 used gently, with mats; wax does not harden after that."
        );
        assert_eq!((view.surfaces[0].full.as_str(), view.basis.len()), ("", 2));
        assert!(view.piece.ends_with("It waits longest for Paste wax."), "{}", view.piece);
    }

    #[test]
    fn what_is_not_known_is_said() {
        let undated = "[[surface]]\nname = \"Legs\"\nsteps = [{ apply = \"paste-wax\" }]\n";
        let view = shown(&format!("{TOP}{undated}"), SATIN, cure);
        assert_eq!(
            view.surfaces[1].sentence,
            "No days can be given: of Paste wax, the day it was laid is not recorded."
        );
        assert_eq!(
            view.piece,
            "No days can be given for the piece as a whole, since some are not known: Legs."
        );
        let nothing = shown("[[surface]]\nname = \"Top\"\nfound = \"shellac\"\n", "", cure);
        assert_eq!(
            nothing.surfaces[0].sentence,
            "No protective finish was laid on it here, so there is nothing to wait for."
        );
        assert_eq!((nothing.piece.as_str(), nothing.holds_for.as_str()), ("", ""));
    }

    #[test]
    fn cold_and_damp_are_put_into_words_and_not_into_days() {
        let air =
            |drying: &str| shown(TOP, &format!("drying = {{ {drying} }}\n{SATIN}"), cure).surfaces[0].clone();
        let cold = air("temperature = 11, humidity = 70");
        assert_eq!(
            cold.air,
            "It dried at 11 °C and 70 % relative humidity, which makes a finish slower. Below about 13 °C oil-modified \
             polyurethane may not set at all. We know of no rule that turns this into days, so none were added: allow \
             more time than the days say."
        );
        assert_eq!(cold.full, air("temperature = 20").full);
        assert_eq!(air("temperature = 18, humidity = 65").air, "");
    }
}
