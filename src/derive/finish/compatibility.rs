//! Layer over layer: whether each coat could hold on what lay below it, and whether it was given its time.

use super::cure::{Days, Times, last_coat, times};
use super::stratigraphy::{Stratigraphy, Stratum, coating, fold, parts_of};
use crate::fields::{Range, Row, Said};
use crate::record::{Act, PartId, Step, Surface, Tin};
use crate::trade::{AbrasiveTable, BARE_WOOD, Compatibility, DEWAXED_SHELLAC, GritWord, Trade};

/// Hours by which the hour of the day can make a step earlier or later than its date alone says.
///
/// # Source
/// Our own choice: a working day of twelve hours.
const WORKING_DAY: f64 = 12.0;

/// Why a coat may not hold on the layer below it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unmet {
    /// The two do not go together.
    Forbidden,
    /// The shellac below is not known to be free of wax.
    NotDewaxed,
    /// Nothing was washed off between.
    NotCleaned,
    /// No barrier coat lies between.
    NotSealed,
    /// Nothing was dulled between.
    NotDulled,
    /// The layer below had not dried: at most so many hours lay between, and so many are the least it takes.
    NotDry {
        /// Hours that can have lain between at most.
        most: f64,
        /// Hours it takes at least.
        least: f64,
    },
    /// The layer below had not fully cured, in the same terms but days.
    NotCured {
        /// Days that can have lain between at most.
        most: f64,
        /// Days it takes at least.
        least: f64,
    },
    /// It sometimes holds, and no test or reason is recorded.
    Untried,
}

/// One coat over one lower layer, where it may not hold.
#[derive(Debug, Clone, PartialEq)]
pub struct Incompatibility {
    /// The applying step.
    pub step: Row<Step>,
    /// What was laid, as printed.
    pub over: String,
    /// What it was laid on, as printed.
    pub under: String,
    /// What speaks against it.
    pub unmet: Unmet,
    /// Why, in a sentence of the table.
    pub why: String,
    /// Where the ruling comes from.
    pub source: String,
}

/// A coat that came too soon or too late after the one before.
#[derive(Debug, Clone, PartialEq)]
pub struct RecoatTiming {
    /// The applying step.
    pub step: Row<Step>,
    /// The step of the coat before; the same where it was a coat of the step itself.
    pub after: Row<Step>,
    /// Hours that lay between, at least and at most.
    pub waited: Range,
    /// What is wrong with that.
    pub fault: Untimely,
    /// Whether the tin's label says so; else it is the family's time.
    pub label: bool,
}

/// What is wrong with the time between two coats.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Untimely {
    /// Fewer hours than the least.
    TooSoon {
        /// The least.
        least: f64,
    },
    /// More hours than the label allows without dulling, and nothing was dulled.
    TooLate {
        /// The most.
        most: f64,
    },
}

/// What is doubtful about a surface's layers.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LayerDoubts {
    /// Coats over layers that may not bear them.
    pub incompatible: Vec<Incompatibility>,
    /// Coats that came too soon or too late.
    pub untimely: Vec<RecoatTiming>,
}

/// Looks at every coat that is still there, and at the layer it was laid on.
///
/// Rework is left out: what came off again did its harm and is told elsewhere. A step with a `why` is taken to
/// be considered. What is not known to lie below is not judged, and neither is what was found on the piece for
/// its age: it had its time. The most general ruling, any coat over any other, is advice and no fault.
///
/// # Source
/// The rulings carry their own; how far dates without hours can tell is our own choice.
pub(in crate::derive) fn doubts(
    surface: &Surface,
    today: &Stratigraphy,
    tins: &[Said<Tin>],
    trade: &Trade,
) -> LayerDoubts {
    let mut found = LayerDoubts::default();
    let look = Look { surface, tins, trade };
    fold(surface, tins, trade, |step, below| {
        let stands = today.layers.iter().any(|layer| layer.coat.laid_by(step));
        if stands && step.why.is_none() {
            look.at(step, below, &mut found);
        }
        if stands {
            found.untimely.extend(look.between_coats(step));
        }
    });
    found
}

struct Look<'a> {
    surface: &'a Surface,
    tins: &'a [Said<Tin>],
    trade: &'a Trade,
}

impl Look<'_> {
    /// Looks at the layers that a step was laid on, each once.
    fn at(&self, step: &Row<Step>, below: &Stratigraphy, found: &mut LayerDoubts) {
        let targets = match step.only.is_empty() {
            true => parts_of(self.surface),
            false => step.only.iter().map(|part| part.value.clone()).collect(),
        };
        let mut seen: Vec<Option<usize>> = Vec::new();
        for part in &targets {
            let under = below.layers.iter().rposition(|layer| layer.covers(part));
            if seen.contains(&under) {
                continue;
            }
            seen.push(under);
            let under = under.map(|under| &below.layers[under]);
            found.incompatible.extend(self.incompatibility(step, part, under, below));
            found.untimely.extend(under.and_then(|under| self.after_step(step, part, under)));
        }
    }

    fn incompatibility(
        &self,
        step: &Row<Step>,
        part: &PartId,
        under: Option<&Stratum>,
        below: &Stratigraphy,
    ) -> Option<Incompatibility> {
        let over = self.applied(step)?.finish;
        let bare = || self.trade.finish(BARE_WOOD).filter(|_| was_stripped(below, part));
        let lower = match under {
            Some(layer) => self.trade.finish(layer.coat.finish.as_deref()?)?,
            None => bare()?,
        };
        let ruling = self.trade.ruling(&over.id.0, &lower.id.0).filter(|ruling| !ruling.is_general())?;
        let between = self.between(step, part, under);
        let unmet = match ruling.compatibility.value {
            Compatibility::Good => None,
            Compatibility::No => Some(Unmet::Forbidden),
            Compatibility::SealFirst => Some(Unmet::NotSealed),
            Compatibility::DewaxedOnly => (lower.id.0 != DEWAXED_SHELLAC).then_some(Unmet::NotDewaxed),
            Compatibility::CleanFirst => (!between.cleaned).then_some(Unmet::NotCleaned),
            Compatibility::ScuffFirst => (!between.dulled).then_some(Unmet::NotDulled),
            Compatibility::Risky => (!between.tested).then_some(Unmet::Untried),
            Compatibility::WhenDry | Compatibility::AfterCure => {
                self.unready(step, under?, ruling.compatibility.value)
            }
        };
        Some(Incompatibility {
            step: step.clone(),
            over: self.name(step),
            under: under.map_or_else(|| lower.name.to_string(), |under| under.coat.name.clone()),
            unmet: unmet?,
            why: ruling.why.to_string(),
            source: ruling.source.to_string(),
        })
    }

    /// Whether the layer below cannot have had its time; quiet where a date or a time is missing.
    fn unready(&self, step: &Step, under: &Stratum, compatibility: Compatibility) -> Option<Unmet> {
        let (_, laid, times) = self.laid(under)?;
        let waited = waited(laid, step.on.as_ref()?.value);
        if compatibility == Compatibility::WhenDry {
            let least = times.recoat?.range.low;
            return (waited.high < least).then_some(Unmet::NotDry { most: waited.high, least });
        }
        let (most, least) = (waited.high / 24.0, times.full_cure?.range.low);
        (most < least).then_some(Unmet::NotCured { most, least })
    }

    /// A step over an earlier one of the same family, with nothing between.
    fn after_step(&self, step: &Row<Step>, part: &PartId, under: &Stratum) -> Option<RecoatTiming> {
        let over = self.applied(step)?.finish;
        if under.coat.finish.as_deref() != Some(&over.id.0) {
            return None;
        }
        let (after, laid, times) = self.laid(under)?;
        let waited = waited(laid, step.on.as_ref()?.value);
        let dulled = self.between(step, part, Some(under)).dulled;
        self.untimely(step, after, waited, dulled, &times)
    }

    /// The coats of one step, by its `every-hours`.
    fn between_coats(&self, step: &Row<Step>) -> Option<RecoatTiming> {
        let every = step.every_hours.as_ref().filter(|_| step.coat_count() > 1)?.value;
        let times = times(self.applied(step)?);
        self.untimely(step, step, every, step.abrade_between.is_some(), &times)
    }

    fn untimely(
        &self,
        step: &Row<Step>,
        after: &Row<Step>,
        waited: Range,
        dulled: bool,
        times: &Times,
    ) -> Option<RecoatTiming> {
        let least = times.recoat.filter(|recoat| waited.high < recoat.range.low);
        let most = times.recoat_within.filter(|most| waited.low > *most && !dulled && !self.melts_in(step));
        let (fault, label) = match (least, most) {
            (Some(recoat), _) => (Untimely::TooSoon { least: recoat.range.low }, recoat.label),
            (None, Some(most)) => (Untimely::TooLate { most }, true),
            (None, None) => return None,
        };
        Some(RecoatTiming { step: step.clone(), after: after.clone(), waited, fault, label })
    }

    /// Whether each coat takes hold of the one below at any time, as shellac does.
    fn melts_in(&self, step: &Step) -> bool {
        let family = self.applied(step).map(|known| known.finish.id.0.as_str()).unwrap_or_default();
        self.trade
            .ruling(family, family)
            .is_some_and(|ruling| ruling.compatibility.value == Compatibility::Good)
    }

    /// What was done on a part between a layer and a step over it.
    fn between(&self, over: &Row<Step>, part: &PartId, under: Option<&Stratum>) -> Between {
        let laid = under.and_then(|under| under.coat.step.as_ref());
        // The steps from the one that laid the layer, which is left out, to the one over it.
        let before = self.surface.steps.iter().take_while(|step| !step.is(over));
        let since = before.skip_while(|step| laid.is_some_and(|laid| !step.is(laid)));
        let steps = since.skip(usize::from(laid.is_some()));
        let mut between = Between::default();
        for step in
            steps.filter(|step| step.only.is_empty() || step.only.iter().any(|only| only.value == *part))
        {
            match step.act() {
                Some(Act::Clean(_)) => {
                    between.cleaned = true;
                    between.dulled |= by_abrasive(step, &self.trade.abrasives);
                }
                Some(Act::Abrade(_)) => between.dulled = true,
                Some(Act::Test(_)) => between.tested = true,
                // A removal leaves the marks of its scraper or paper.
                Some(Act::Remove(_)) => (between.cleaned, between.dulled) = (true, true),
                _ => {}
            }
        }
        between
    }

    /// The step that laid a layer, the day of its last coat, and its times.
    fn laid<'l>(&self, layer: &'l Stratum) -> Option<(&'l Row<Step>, Days, Times)> {
        let step = layer.coat.step.as_ref()?;
        let times = times(self.applied(step)?);
        Some((step, last_coat(step, &times).ok()?, times))
    }

    fn applied(&self, step: &Step) -> Option<super::stratigraphy::Coating<'_>> {
        coating(step.apply.as_ref()?, self.tins, self.trade)
    }

    fn name(&self, step: &Step) -> String {
        let Some(known) = self.applied(step) else { return String::new() };
        match (known.tin.map(|tin| &tin.name), &step.apply) {
            (Some(Some(name)), _) => name.to_string(),
            (None, Some(written)) => self.trade.finish_name(written),
            _ => known.finish.name.to_string(),
        }
    }
}

/// What was done between two layers.
#[derive(Debug, Clone, Copy, Default)]
struct Between {
    cleaned: bool,
    dulled: bool,
    tested: bool,
}

/// Whether a part is bare because something was taken off it; with nothing recorded nothing is known.
fn was_stripped(below: &Stratigraphy, part: &PartId) -> bool {
    let gone = below.layers.iter().any(|layer| layer.gone_from.contains(part));
    gone || !below.removed.is_empty() || !below.undone.is_empty()
}

/// Whether a cleaning was done with something that dulls.
fn by_abrasive(step: &Step, table: &AbrasiveTable) -> bool {
    let by = step.by.as_ref().map(|by| by.to_lowercase()).unwrap_or_default();
    by.split(|c: char| !c.is_alphanumeric()).any(|word| table.says(GritWord::Dulls, word))
}

/// Hours between a last coat and a later day: at least and at most, as neither hour is recorded.
fn waited(laid: Days, on: chrono::NaiveDate) -> Range {
    let days = |from: chrono::NaiveDate| on.signed_duration_since(from).num_days() as f64;
    Range {
        low: (days(laid.last) * 24.0 - WORKING_DAY).max(0.0),
        high: (days(laid.first) * 24.0 + WORKING_DAY).max(0.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::finish::stratigraphy::stratigraphy;
    use crate::derive::testing::folder;
    use proptest::prelude::*;

    /// What is doubtful, a word each.
    fn doubted(found: &str, steps: &str) -> String {
        let tins = "[[tin]]\nid = \"satin\"\nis = \"oil-polyurethane\"\nrecoat-hours = [12, 24]\nrecoat-within-hours = 72\n\
                    [[tin]]\nid = \"slow-stain\"\nis = \"oil-pigment-stain\"\nrecoat-hours = [48, 72]";
        let folder =
            folder(&format!("[[surface]]\nparts = [\"a\", \"b\"]\nfound = {found}\nsteps = [{steps}]"), tins);
        let tins = &folder.workshop.as_ref().unwrap().tins;
        let surface = &folder.pieces[0].record.as_ref().unwrap().surfaces[0];
        let trade = Trade::built_in();
        let place = |step: &Row<Step>| surface.steps.iter().position(|one| one.is(step)).unwrap();
        let found = doubts(surface, &stratigraphy(surface, tins, trade), tins, trade);
        let incompatible =
            found.incompatible.iter().map(|one| format!("{} {:?}", place(&one.step), one.unmet));
        let untimely = found.untimely.iter().map(|one| format!("{} {:?}", place(&one.step), one.fault));
        incompatible.chain(untimely).collect::<Vec<_>>().join("; ")
    }

    #[track_caller]
    fn case(found: &str, steps: &str, wanted: &str) {
        assert_eq!(doubted(found, steps), wanted, "{found}: {steps}");
    }

    const WHEN: &str = "on = 2026-03-10";

    #[test]
    fn wax_has_to_be_washed_off() {
        case("\"paste-wax\"", "{ apply = \"tin:satin\" }", "0 NotCleaned");
        case("\"paste-wax\"", "{ clean = \"naphtha\" }, { apply = \"tin:satin\" }", "");
        case(
            "\"paste-wax\"",
            "{ clean = \"naphtha\", only = \"b\" }, { apply = \"tin:satin\" }",
            "1 NotCleaned",
        );
        case("\"paste-wax\"", "{ remove = \"paste-wax\" }, { apply = \"tin:satin\" }", "");
        case("\"paste-wax\"", "{ apply = \"tin:satin\", why = \"a trial held\" }", "");
        case("\"paste-wax\"", "{ apply = \"paste-wax\" }", "");
    }

    #[test]
    fn shellac_below_varnish_has_to_be_dewaxed() {
        case("\"shellac\"", "{ apply = \"tin:satin\" }", "0 NotDewaxed");
        case("\"dewaxed-shellac\"", "{ apply = \"tin:satin\" }", "");
        case("\"shellac\"", "{ apply = \"dewaxed-shellac\" }, { apply = \"tin:satin\" }", "");
    }

    #[test]
    fn a_film_has_to_be_dulled() {
        case("\"oil-polyurethane\"", "{ apply = \"chalk-paint\" }", "0 NotDulled");
        case("\"oil-polyurethane\"", "{ abrade = \"P240\" }, { apply = \"chalk-paint\" }", "");
        case(
            "\"oil-polyurethane\"",
            "{ clean = \"soap\", by = \"grey pad\" }, { apply = \"chalk-paint\" }",
            "",
        );
        case(
            "\"oil-polyurethane\"",
            "{ clean = \"soap\" }, { apply = \"chalk-paint\" }",
            "0 NotDulled".replace('0', "1").as_str(),
        );
    }

    #[test]
    fn some_never_go_together_and_some_sometimes() {
        case("\"oil-polyurethane\"", "{ abrade = \"P240\" }, { apply = \"tung-oil\" }", "");
        case("\"shellac\"", "{ apply = \"tung-oil\" }", "0 Forbidden");
        case("\"ebonising\"", "{ apply = \"water-polyurethane\" }", "0 NotSealed");
        case("\"bare-wood\"", "{ apply = \"paste-wax\" }", "0 Untried");
        case("\"bare-wood\"", "{ test = \"patch\", result = \"good\" }, { apply = \"paste-wax\" }", "");
    }

    #[test]
    fn stripped_wood_is_bare_and_unrecorded_wood_is_not_judged() {
        case("\"old-finish\"", "{ remove = \"all\" }, { apply = \"acrylic-paint\" }", "1 NotSealed");
        case("[]", "{ apply = \"acrylic-paint\" }", "");
        case("\"unknown\"", "{ apply = \"acrylic-paint\" }", "");
        case(
            "\"old-finish\"",
            "{ remove = \"all\", only = \"b\" }, { apply = \"acrylic-paint\" }",
            "1 NotSealed",
        );
    }

    #[test]
    fn a_layer_has_to_have_its_time() {
        // Oil stain takes 8 h at least; on the next day it may have had 12 to 36.
        case(
            "[]",
            &format!(
                "{{ {WHEN}, apply = \"oil-pigment-stain\" }}, {{ on = 2026-03-10, apply = \"tin:satin\" }}"
            ),
            "",
        );
        // Gel stain takes 12 h, which one working day just holds.
        case(
            "[]",
            &format!("{{ {WHEN}, apply = \"gel-stain\" }}, {{ on = 2026-03-10, apply = \"tin:satin\" }}"),
            "",
        );
        // A stain whose label says 48 h: a day and a working day are 36.
        let stain =
            |on: &str| format!("{{ {WHEN}, apply = \"tin:slow-stain\" }}, {{ {on}, apply = \"tin:satin\" }}");
        case("[]", &stain("on = 2026-03-11"), "1 NotDry { most: 36.0, least: 48.0 }");
        case("[]", &stain("on = 2026-03-12"), "");
        // Boiled oil cures in 14 days at least: 13 days and a working day fall short by half a day.
        let oil = |on: &str| {
            format!("{{ {WHEN}, apply = \"boiled-linseed-oil\" }}, {{ {on}, apply = \"tin:satin\" }}")
        };
        case("[]", &oil("on = 2026-03-23"), "1 NotCured { most: 13.5, least: 14.0 }");
        case("[]", &oil("on = 2026-03-24"), "");
        case("\"boiled-linseed-oil\"", "{ apply = \"tin:satin\" }", "");
        case("[]", "{ apply = \"boiled-linseed-oil\" }, { apply = \"tin:satin\" }", "");
    }

    #[test]
    fn coats_of_one_step_keep_their_distance() {
        let coats = |more: &str| format!("{{ {WHEN}, apply = \"tin:satin\", coats = 2, {more} }}");
        case("[]", &coats("every-hours = 11"), "0 TooSoon { least: 12.0 }");
        case("[]", &coats("every-hours = 12"), "");
        case("[]", &coats("every-hours = [8, 12]"), "");
        case("[]", &coats("every-hours = 72"), "");
        case("[]", &coats("every-hours = 73"), "0 TooLate { most: 72.0 }");
        case("[]", &coats("every-hours = 73, abrade-between = \"P320\""), "");
        case("[]", "{ apply = \"tin:satin\", every-hours = 1 }", "");
    }

    #[test]
    fn a_family_has_a_least_and_no_most() {
        case(
            "[]",
            "{ apply = \"oil-polyurethane\", coats = 2, every-hours = 11 }",
            "0 TooSoon { least: 12.0 }",
        );
        case("[]", "{ apply = \"oil-polyurethane\", coats = 2, every-hours = 9999 }", "");
    }

    #[test]
    fn steps_of_one_family_keep_their_distance_too() {
        let two = |coats: u32, between: &str, on: &str| {
            format!(
                "{{ {WHEN}, apply = \"tin:satin\", coats = {coats}, every-hours = 24 }}, {between} {{ on = {on}, apply = \"tin:satin\" }}"
            )
        };
        case("[]", &two(1, "", "2026-03-10"), "");
        case("[]", &two(1, "", "2026-03-13"), "");
        // Four days less a working day are 84 hours.
        case("[]", &two(1, "", "2026-03-14"), "1 TooLate { most: 72.0 }");
        case("[]", &two(2, "", "2026-03-14"), "");
        case("[]", &two(1, "{ abrade = \"P320\" },", "2026-03-14"), "");
        // Raw oil takes 72 h between coats; two days and a working day are 60.
        let oil = |on: &str| {
            format!("{{ {WHEN}, apply = \"raw-linseed-oil\" }}, {{ on = {on}, apply = \"raw-linseed-oil\" }}")
        };
        case("[]", &oil("2026-03-12"), "1 TooSoon { least: 72.0 }");
        case("[]", &oil("2026-03-13"), "");
    }

    #[test]
    fn rework_is_not_judged() {
        case(
            "\"paste-wax\"",
            "{ apply = \"tin:satin\", coats = 2, every-hours = 1 }, { remove = \"all\" }",
            "",
        );
    }

    proptest! {
        #[test]
        fn a_longer_wait_never_becomes_too_soon(hours in 0_u32..100, more in 0_u32..100) {
            let soon = |hours: u32| {
                doubted("[]", &format!("{{ apply = \"oil-polyurethane\", coats = 2, every-hours = {hours} }}")).contains("TooSoon")
            };
            prop_assert!(soon(hours) || !soon(hours + more));
            prop_assert_eq!(soon(hours), hours < 12);
        }

        #[test]
        fn what_lies_between_days_is_a_range(first in 0_u64..50, spread in 0_u64..10, on in 0_u64..80) {
            let day = |days: u64| chrono::NaiveDate::from_ymd_opt(2026, 1, 1).unwrap() + chrono::Days::new(days);
            let waited = waited(Days { first: day(first), last: day(first + spread) }, day(on));
            prop_assert!(0.0 <= waited.low && waited.low <= waited.high);
        }
    }
}
