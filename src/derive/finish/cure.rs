//! When a coat is dry, may be used, and is fully hard: from the days in the record and the times of tin or family.
//!
//! Times hold for thin coats at 20 °C and about 50 % relative humidity, as the table of finishes says. Cold and
//! damp lengthen them, but no rule was found that says by how much, so that no date is ever moved for the air.

use chrono::{Days as DayCount, NaiveDate};

use super::stratigraphy::{Coat, Coating, Stratigraphy, coating};
use crate::fields::{Range, Row, Said};
use crate::record::{Drying, Step, Surface, Tin, Workshop};
use crate::trade::{Group, Trade};

/// A time, and who gives it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Timed {
    /// Hours or days, as its field says.
    pub range: Range,
    /// Whether the tin's label gives it; else it is the family's.
    pub label: bool,
}

/// The times of one coating; the tin's label overrides the family's, each by itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Times {
    /// Hours until dust no longer sticks.
    pub dust_dry: Option<Timed>,
    /// Hours until the next coat; the low end is the least.
    pub recoat: Option<Timed>,
    /// Hours within which the next coat needs no dulling; only a label sets such a limit.
    pub recoat_within: Option<f64>,
    /// Days until light use.
    pub light_use: Option<Timed>,
    /// Days until it is fully hard.
    pub full_cure: Option<Timed>,
    /// Whether it hardens at all after it has dried. Wax does not.
    pub hardens: bool,
}

/// The times of a coating.
pub fn times(coating: Coating<'_>) -> Times {
    let of = |label: Option<&Said<Range>>, family: &Option<Said<Range>>| {
        let label = label.map(|range| Timed { range: range.value, label: true });
        label.or_else(|| family.as_ref().map(|range| Timed { range: range.value, label: false }))
    };
    let (tin, finish) = (coating.tin, coating.finish);
    Times {
        dust_dry: of(tin.and_then(|tin| tin.dust_dry_hours.as_ref()), &finish.dust_dry_hours),
        recoat: of(tin.and_then(|tin| tin.recoat_hours.as_ref()), &finish.recoat_hours),
        recoat_within: tin.and_then(|tin| tin.recoat_within_hours.as_ref()).map(|hours| hours.0),
        light_use: of(tin.and_then(|tin| tin.light_use_days.as_ref()), &finish.light_use_days),
        full_cure: of(tin.and_then(|tin| tin.full_cure_days.as_ref()), &finish.full_cure_days),
        hardens: finish.group.value != Group::Wax,
    }
}

/// A first and a last day on which something may come about; never the wrong way round.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Days {
    /// The first.
    pub first: NaiveDate,
    /// The last.
    pub last: NaiveDate,
}

/// What is missing for a date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NoDate {
    /// The step has no date.
    #[error("the day it was laid is not recorded")]
    Day,
    /// Nothing says how far apart its coats were.
    #[error("the time between its coats is not recorded")]
    Interval,
    /// Neither label nor table gives its times.
    #[error("its drying times are not known")]
    Times,
    /// The times are so long that no calendar holds the day.
    #[error("its times lead beyond the calendar")]
    BeyondCalendar,
}

impl Days {
    /// So many days later, the low end rounded down and the high end up to whole days.
    ///
    /// # Errors
    /// [`NoDate::BeyondCalendar`] where the calendar ends before.
    pub fn after(self, low: f64, high: f64) -> Result<Days, NoDate> {
        let later = |day: NaiveDate, days: f64| {
            // Ranges of a record hold at most 100 000, so that a number of days fits by far; a product with coats may not.
            let whole = (0.0..=1e9).contains(&days).then_some(DayCount::new(days as u64));
            whole.and_then(|days| day.checked_add_days(days)).ok_or(NoDate::BeyondCalendar)
        };
        Ok(Days { first: later(self.first, low.floor())?, last: later(self.last, high.ceil())? })
    }

    /// The later of two spans, end by end.
    fn or_later(self, other: Days) -> Days {
        Days { first: self.first.max(other.first), last: self.last.max(other.last) }
    }
}

/// The day on which a step's last coat was laid.
///
/// A step's day is that of its first coat; each further coat follows after `every-hours`, or after the time
/// until the next coat of tin or family where the step does not say. Hours make whole days, the low end
/// rounded down and the high end up, as the hour of the first coat is not recorded.
///
/// # Errors
/// What is missing.
///
/// # Source
/// Arithmetic; the rounding is our own choice.
pub fn last_coat(step: &Step, times: &Times) -> Result<Days, NoDate> {
    let start = step.on.as_ref().ok_or(NoDate::Day)?.value;
    let start = Days { first: start, last: start };
    let further = f64::from(step.coat_count() - 1);
    if further == 0.0 {
        return Ok(start);
    }
    let every = step.every_hours.as_ref().map(|every| every.value);
    let every = every.or(times.recoat.map(|recoat| recoat.range)).ok_or(NoDate::Interval)?;
    start.after(further * every.low / 24.0, further * every.high / 24.0)
}

/// A day that something may be expected on, and what it waits for.
#[derive(Debug, Clone, PartialEq)]
pub struct Milestone<W> {
    /// Between which days.
    pub days: Days,
    /// The slowest coat of a surface, or the surface of a piece that it lies on.
    pub waits_for: W,
    /// The day of that layer's last coat.
    pub laid: Days,
    /// What was added to it: hours or days, and who says so.
    pub time: Timed,
}

/// When a surface or a piece can be dusted, used, and is fully hard.
#[derive(Debug, Clone, PartialEq)]
pub struct Cure<W> {
    /// Dust no longer sticks.
    pub dust_dry: Milestone<W>,
    /// Light use, with mats.
    pub light_use: Milestone<W>,
    /// Fully hard; `None` where nothing on it hardens after it has dried.
    pub full_cure: Option<Milestone<W>>,
}

/// What is known of how far a surface has hardened.
#[derive(Debug, Clone, PartialEq)]
pub enum Hardening {
    /// This workshop laid nothing on it that protects, so there is nothing to wait for.
    NothingLaid,
    /// A layer's dates are not known, so none are given for the surface.
    NotKnown {
        /// The coat.
        coat: Coat,
        /// What is missing.
        why: NoDate,
    },
    /// Between these days.
    By(Box<Cure<Coat>>),
}

/// The air at the bench, as far as it is recorded.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Air {
    /// Degrees Celsius.
    pub celsius: Option<f64>,
    /// Relative humidity in percent.
    pub humidity: Option<f64>,
}

/// The air that a surface dried in: its own where it says so, else that of the bench.
pub(in crate::derive) fn drying_air(surface: &Surface, workshop: Option<&Workshop>) -> Air {
    let bench = workshop.and_then(|workshop| workshop.drying.as_ref());
    air(surface.drying.as_ref().or(bench).map(|drying| &drying.value))
}

fn air(drying: Option<&Drying>) -> Air {
    Air {
        celsius: drying.and_then(|drying| drying.temperature.as_ref()).map(|celsius| celsius.0),
        humidity: drying.and_then(|drying| drying.humidity.as_ref()).map(|percent| percent.0),
    }
}

/// When a surface is dry and hard.
///
/// Every protective layer that this workshop laid and that is there today has to dry, each from its last coat;
/// the slowest decides, which is nearly always the one laid last. A layer that no table knows may protect and may take
/// any time, so that no days follow for its surface.
pub(in crate::derive) fn hardening(today: &Stratigraphy, tins: &[Said<Tin>], trade: &Trade) -> Hardening {
    let mut slowest: Option<Cure<Coat>> = None;
    for layer in &today.layers {
        let hardens = layer.coat.protective || layer.coat.finish.is_none();
        let Some(step) = layer.coat.step.as_ref().filter(|_| hardens) else { continue };
        match coat_cure(step, &layer.coat, tins, trade) {
            Ok(cure) => {
                slowest = Some(match slowest {
                    Some(slowest) => slowest.or_later(cure),
                    None => cure,
                });
            }
            Err(why) => return Hardening::NotKnown { coat: layer.coat.clone(), why },
        }
    }
    slowest.map_or(Hardening::NothingLaid, |cure| Hardening::By(Box::new(cure)))
}

fn coat_cure(step: &Step, coat: &Coat, tins: &[Said<Tin>], trade: &Trade) -> Result<Cure<Coat>, NoDate> {
    let applied = step.apply.as_ref().ok_or(NoDate::Times)?;
    let times = times(coating(applied, tins, trade).ok_or(NoDate::Times)?);
    let laid = last_coat(step, &times)?;
    let after = |timed: Option<Timed>, to_days: f64| {
        let timed = timed.ok_or(NoDate::Times)?;
        let days = laid.after(timed.range.low / to_days, timed.range.high / to_days)?;
        Ok(Milestone { days, waits_for: coat.clone(), laid, time: timed })
    };
    Ok(Cure {
        dust_dry: after(times.dust_dry, 24.0)?,
        light_use: after(times.light_use, 1.0)?,
        full_cure: match (times.full_cure, times.hardens) {
            (None, false) => None,
            (timed, _) => Some(after(timed, 1.0)?),
        },
    })
}

impl<W> Milestone<W> {
    /// The later of two; of those that end last the upper one is named as what is waited for.
    fn or_later(self, other: Milestone<W>) -> Milestone<W> {
        let days = self.days.or_later(other.days);
        let named = if other.days.last >= self.days.last { other } else { self };
        Milestone { days, ..named }
    }

    fn waiting_for<V>(&self, waits_for: V) -> Milestone<V> {
        Milestone { days: self.days, waits_for, laid: self.laid, time: self.time }
    }
}

impl<W> Cure<W> {
    /// The last day on which anything may still come about.
    pub fn over(&self) -> NaiveDate {
        self.full_cure.as_ref().unwrap_or(&self.light_use).days.last
    }

    fn or_later(self, other: Cure<W>) -> Cure<W> {
        Cure {
            dust_dry: self.dust_dry.or_later(other.dust_dry),
            light_use: self.light_use.or_later(other.light_use),
            full_cure: match (self.full_cure, other.full_cure) {
                (Some(one), Some(other)) => Some(one.or_later(other)),
                (one, other) => one.or(other),
            },
        }
    }
}

/// When a piece is dry and hard: the latest of its surfaces; `None` where nothing was laid, or some surface is not
/// known.
pub(in crate::derive) fn of_piece<'a>(
    surfaces: impl Iterator<Item = (&'a Row<Surface>, &'a Hardening)>,
) -> Option<Cure<Row<Surface>>> {
    let mut latest: Option<Cure<Row<Surface>>> = None;
    for (surface, hardening) in surfaces {
        let cure = match hardening {
            Hardening::NothingLaid => continue,
            Hardening::NotKnown { .. } => return None,
            Hardening::By(cure) => Cure {
                dust_dry: cure.dust_dry.waiting_for(surface.clone()),
                light_use: cure.light_use.waiting_for(surface.clone()),
                full_cure: cure.full_cure.as_ref().map(|full| full.waiting_for(surface.clone())),
            },
        };
        latest = Some(match latest {
            Some(latest) => latest.or_later(cure),
            None => cure,
        });
    }
    latest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::folder;
    use proptest::prelude::*;

    /// The tin's label times are those of a satin varnish: dust-dry 4 to 6 h, light use 3 to 5, hard 21 to 28 days.
    const SATIN: &str = "[[tin]]\nid = \"satin\"\nis = \"oil-polyurethane\"\ndust-dry-hours = [4, 6]\n\
                         recoat-hours = [12, 24]\nlight-use-days = [3, 5]\nfull-cure-days = [21, 28]";

    /// When each surface is hard, with its air, and when the piece is.
    #[allow(clippy::type_complexity)]
    fn hardened(surfaces: &str, workshop: &str) -> (Vec<(Hardening, Air)>, Option<Cure<Row<Surface>>>) {
        let folder = folder(surfaces, workshop);
        let record = folder.pieces[0].record.as_ref().unwrap();
        let facts =
            crate::derive::finish::surface::surfaces(record, folder.workshop.as_ref(), Trade::built_in());
        let piece = of_piece(facts.iter().map(|facts| (&facts.surface, &facts.hardening)));
        (facts.into_iter().map(|facts| (facts.hardening, facts.air)).collect(), piece)
    }

    fn told<W>(cure: Option<&Cure<W>>) -> String {
        cure.map_or("none".to_owned(), |cure| {
            let day = |m: &Milestone<W>| match m.days.first == m.days.last {
                true => m.days.first.to_string(),
                false => format!("{}/{}", m.days.first, m.days.last),
            };
            let full = cure.full_cure.as_ref().map_or("-".to_owned(), day);
            format!("{} {} {full}", day(&cure.dust_dry), day(&cure.light_use))
        })
    }

    #[track_caller]
    fn case(steps: &str, wanted: &str) {
        let (surfaces, _) = hardened(&format!("[[surface]]\nparts = \"a\"\nsteps = [{steps}]"), SATIN);
        let told = match &surfaces[0].0 {
            Hardening::By(cure) => told(Some(cure)),
            Hardening::NotKnown { why, .. } => why.to_string(),
            Hardening::NothingLaid => "nothing laid".to_owned(),
        };
        assert_eq!(told, wanted, "{steps}");
    }

    // Counted by hand on a calendar of 2026.
    #[test]
    fn days_are_counted_from_the_last_coat() {
        case(
            "{ on = 2026-03-20, apply = \"tin:satin\" }",
            "2026-03-20/2026-03-21 2026-03-23/2026-03-25 2026-04-10/2026-04-17",
        );
        case(
            "{ on = 2026-03-20, apply = \"tin:satin\", coats = 3, every-hours = 24 }",
            "2026-03-22/2026-03-23 2026-03-25/2026-03-27 2026-04-12/2026-04-19",
        );
        // Three coats four hours apart may end on the same day or on the next.
        case(
            "{ on = 2026-02-27, apply = \"tin:satin\", coats = 3, every-hours = 4 }",
            "2026-02-27/2026-03-01 2026-03-02/2026-03-05 2026-03-20/2026-03-28",
        );
        // Without `every-hours` the label's 12 to 24 hours stand in: one to two days for three coats.
        case(
            "{ on = 2026-03-20, apply = \"tin:satin\", coats = 3 }",
            "2026-03-21/2026-03-23 2026-03-24/2026-03-27 2026-04-11/2026-04-19",
        );
    }

    #[test]
    fn the_family_stands_in_where_there_is_no_label() {
        // oil-polyurethane in finish.toml: dust-dry 4 to 12 h, light use 3 to 7 days, fully hard 21 to 30 days.
        case(
            "{ on = 2026-03-20, apply = \"oil-polyurethane\" }",
            "2026-03-20/2026-03-21 2026-03-23/2026-03-27 2026-04-10/2026-04-19",
        );
    }

    #[test]
    fn wax_is_ready_when_it_is_buffed_and_does_not_harden() {
        case("{ on = 2026-03-10, apply = \"paste-wax\" }", "2026-03-10/2026-03-11 2026-03-11/2026-03-12 -");
        case(
            "{ on = 2026-03-01, apply = \"tin:satin\" }, { on = 2026-03-10, apply = \"paste-wax\" }",
            "2026-03-10/2026-03-11 2026-03-11/2026-03-12 2026-03-22/2026-03-29",
        );
    }

    #[test]
    fn the_slowest_layer_decides() {
        // Raw oil takes 30 to 120 days from 1 March; wax laid after it is ready a day or two after 10 March.
        case(
            "{ on = 2026-03-01, apply = \"raw-linseed-oil\" }, { on = 2026-03-10, apply = \"paste-wax\" }",
            "2026-03-10/2026-03-11 2026-03-11/2026-03-31 2026-03-31/2026-06-29",
        );
    }

    #[test]
    fn what_is_missing_is_named() {
        case("{ apply = \"tin:satin\" }", "the day it was laid is not recorded");
        case("{ on = 2026-03-01, apply = \"brass-lacquered\" }", "its drying times are not known");
        case(
            "{ on = 2026-03-01, apply = \"brass-lacquered\", coats = 2 }",
            "the time between its coats is not recorded",
        );
        case(
            "{ on = 2026-03-01, apply = \"tin:satin\", coats = 100000, every-hours = 100000 }",
            "its times lead beyond the calendar",
        );
        case(
            "{ on = 2026-03-01, apply = \"tin:satin\" }, { on = 2026-03-02, apply = \"house polish\" }",
            "its drying times are not known",
        );
        case("{ on = 2026-03-01, clean = \"soap\" }", "nothing laid");
        case("{ on = 2026-03-01, apply = \"gel-stain\" }", "nothing laid");
        case("{ on = 2026-03-01, apply = \"tin:satin\" }, { remove = \"all\" }", "nothing laid");
    }

    #[test]
    fn the_piece_waits_for_its_last_surface() {
        let one = "[[surface]]\nparts = \"a\"\nsteps = [{ on = 2026-03-20, apply = \"tin:satin\" }]\n";
        let two = "[[surface]]\nparts = \"b\"\nsteps = [{ on = 2026-03-26, apply = \"paste-wax\" }]\n";
        let (_, piece) = hardened(&format!("{one}{two}"), SATIN);
        assert_eq!(told(piece.as_ref()), "2026-03-26/2026-03-27 2026-03-27/2026-03-28 2026-04-10/2026-04-17");
        assert_eq!(piece.unwrap().light_use.waits_for.parts[0].0, "b");
        let undated = "[[surface]]\nparts = \"c\"\nsteps = [{ apply = \"paste-wax\" }]\n";
        assert_eq!(hardened(&format!("{one}{undated}"), SATIN).1, None);
    }

    #[test]
    fn a_surface_has_its_own_air_or_the_workshops() {
        let surfaces =
            "[[surface]]\nparts = \"a\"\ndrying = { temperature = 11 }\n[[surface]]\nparts = \"b\"\n";
        let (surfaces, _) = hardened(surfaces, "drying = { temperature = 18, humidity = 70 }");
        assert_eq!(surfaces[0].1, Air { celsius: Some(11.0), humidity: None });
        assert_eq!(surfaces[1].1, Air { celsius: Some(18.0), humidity: Some(70.0) });
    }

    proptest! {
        #[test]
        fn more_coats_or_hours_never_make_it_earlier(coats in 1_u32..9, hours in 1_u32..100, more in 0_u32..50) {
            let dated = |coats: u32, hours: u32| {
                let step = format!("{{ on = 2026-03-20, apply = \"tin:satin\", coats = {coats}, every-hours = {hours} }}");
                hardened(&format!("[[surface]]\nparts = \"a\"\nsteps = [{step}]"), SATIN).1.unwrap()
            };
            let early = dated(coats, hours);
            for late in [dated(coats + more, hours), dated(coats, hours + more)] {
                let [late, early] = [&late, &early].map(|cure| cure.full_cure.as_ref().unwrap().days);
                prop_assert!(late.first >= early.first && late.last >= early.last);
            }
            prop_assert!(early.light_use.days.first <= early.light_use.days.last);
        }

        #[test]
        fn a_start_so_much_later_ends_so_much_later(days in 0_u64..300) {
            let start = NaiveDate::from_ymd_opt(2026, 1, 1).unwrap();
            let cure = |start: NaiveDate| {
                let step = format!("{{ on = {start}, apply = \"tin:satin\", coats = 2, every-hours = 24 }}");
                hardened(&format!("[[surface]]\nparts = \"a\"\nsteps = [{step}]"), SATIN).1.unwrap().full_cure.unwrap().days
            };
            let later = DayCount::new(days);
            let (early, late) = (cure(start), cure(start + later));
            prop_assert_eq!((early.first + later, early.last + later), (late.first, late.last));
        }
    }
}
