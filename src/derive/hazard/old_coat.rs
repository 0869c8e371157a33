//! Old coats that may hold lead: where they lie or lay, and what tests say of each.

use super::mention::mentions_beside;
use super::result::TestReading;
use super::tested::{TestPlace, TestRow, Tested};
use super::told::says;
use crate::derive::finish::stratigraphy::{Coat, laid};
use crate::derive::finish::surface::SurfaceFacts;
use crate::fields::{Row, Said};
use crate::record::{Act, Finding, FinishName, PartId, Record, Removal, Standing, Step, Surface, Tin, Work};
use crate::trade::{Group, Hazard, HazardSigns, HazardState, Layer, TestMeans, Trade};

/// What the record calls an old coat.
#[derive(Debug, Clone, PartialEq)]
pub enum OldCoatName {
    /// A name.
    Named(FinishName),
    /// Whatever lay there: everything was taken off.
    All,
    /// Nothing: the surface was worked on, and what lay there before is not recorded.
    NotRecorded,
    /// Paint, in a finding or a work.
    Paint,
}

/// What an old coat is, as far as lead goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum OldCoatKind {
    /// Paint, or another coat with pigment.
    Paint,
    /// Nobody said whether it is paint.
    NotTold,
    /// A clear coat.
    Clear,
}

/// Where the record tells of an old coat.
#[derive(Debug, Clone, PartialEq)]
pub enum OldCoatTold {
    /// On a surface.
    Surface(Row<Surface>),
    /// In a finding.
    Finding(Row<Finding>),
    /// In a work.
    Work(Row<Work>),
}

/// An old coat that may hold lead.
#[derive(Debug, Clone, PartialEq)]
pub struct OldCoat {
    /// What the record calls it.
    pub name: OldCoatName,
    /// What it is.
    pub kind: OldCoatKind,
    /// The parts that it lies on, or was taken off, of those that are there; empty where the record names none.
    pub parts: Vec<PartId>,
    /// Whether it was taken off.
    pub gone: bool,
    /// Where the record tells of it.
    pub told: OldCoatTold,
    /// The tests that were made on it.
    pub tests: Vec<Tested>,
    /// What they show: negative only where it is cleared on all of its parts.
    pub reading: TestReading,
    /// The step that takes it off or abrades it.
    pub disturbed_by: Option<Row<Step>>,
}

/// What old coats are looked for in.
pub(super) struct OldCoats<'a> {
    pub(super) record: &'a Record,
    pub(super) surfaces: &'a [SurfaceFacts],
    pub(super) tins: &'a [Said<Tin>],
    pub(super) trade: &'a Trade,
    /// A row about lead in old paint, by whose means of test a coat is cleared.
    pub(super) row: &'a Hazard,
    pub(super) tests: Vec<(TestPlace, Tested)>,
}

impl OldCoats<'_> {
    /// The old coats of a record: those that surfaces tell, and paint that only a finding or a work tells.
    pub(super) fn all(&self) -> Vec<OldCoat> {
        let mut coats: Vec<OldCoat> = self.surfaces.iter().flat_map(|facts| self.on_surface(facts)).collect();
        let told: Vec<OldCoat> = self.in_findings().chain(self.in_works()).collect();
        for coat in told {
            // What surfaces tell of the same parts is the same paint, and told better.
            let same = |known: &OldCoat| {
                known.kind != OldCoatKind::Clear
                    && (coat.parts.is_empty()
                        || known.parts.is_empty()
                        || coat.parts.iter().any(|part| known.parts.contains(part)))
            };
            if !coats.iter().any(same) {
                coats.push(coat);
            }
        }
        coats
    }

    // ---- On surfaces ----

    fn on_surface(&self, facts: &SurfaceFacts) -> Vec<OldCoat> {
        let surface = &facts.surface;
        let Some(parts) = self.old_parts(surface.parts.iter().map(|part| &part.value)) else {
            return Vec::new();
        };
        let of = |name: OldCoatName, kind: OldCoatKind, parts: Vec<PartId>, gone: bool| {
            let told = OldCoatTold::Surface(surface.clone());
            OldCoat { disturbed_by: self.disturbed_by(surface), ..self.coat(name, kind, parts, gone, told) }
        };
        let named = |coat: &Coat| OldCoatName::Named(coat.written.clone());
        let mut coats = Vec::new();
        for layer in facts.today.layers.iter().filter(|layer| layer.coat.step.is_none()) {
            let Some(kind) = self.kind(&layer.coat.written) else { continue };
            let (there, gone): (Vec<PartId>, Vec<PartId>) =
                parts.iter().cloned().partition(|part| layer.covers(part));
            if !there.is_empty() || parts.is_empty() {
                coats.push(of(named(&layer.coat), kind, there, false));
            }
            if !gone.is_empty() {
                coats.push(of(named(&layer.coat), kind, gone, true));
            }
        }
        for coat in &facts.today.removed {
            if let Some(kind) = self.kind(&coat.written) {
                coats.push(of(named(coat), kind, parts.clone(), true));
            }
        }
        if coats.is_empty()
            && surface.found.is_empty()
            && facts.today.removed.is_empty()
            && let Some((name, kind, gone)) = self.before_the_first_coat(surface)
        {
            coats.push(of(name, kind, parts, gone));
        }
        coats
    }

    /// What the steps before the first new coat say of one that the record does not name as found.
    fn before_the_first_coat(&self, surface: &Surface) -> Option<(OldCoatName, OldCoatKind, bool)> {
        let first = surface.steps.iter().position(|step| laid(step, self.trade).is_some());
        let before = &surface.steps[..first.unwrap_or(surface.steps.len())];
        // Naming what was taken off says what was there.
        let removed = before.iter().find_map(|step| match step.act() {
            Some(Act::Remove(what)) => Some(&what.value),
            _ => None,
        });
        match removed {
            Some(Removal::All) => Some((OldCoatName::All, OldCoatKind::NotTold, true)),
            Some(Removal::Layer(name)) => Some((OldCoatName::Named(name.clone()), self.kind(name)?, true)),
            None => {
                let abraded = before.iter().any(|step| matches!(step.act(), Some(Act::Abrade(_))));
                abraded.then_some((OldCoatName::NotRecorded, OldCoatKind::NotTold, false))
            }
        }
    }

    /// The first step that takes off or abrades a coat that may be old.
    fn disturbed_by(&self, surface: &Surface) -> Option<Row<Step>> {
        let mut applied: Vec<&FinishName> = Vec::new();
        for step in &surface.steps {
            match step.act() {
                Some(Act::Apply(_)) => applied.extend(laid(step, self.trade).map(|what| &what.value)),
                // The workshop knows what it laid itself.
                Some(Act::Remove(what)) if what.layer().is_some_and(|name| applied.contains(&name)) => {}
                Some(Act::Remove(what)) if what.layer().is_none_or(|name| self.kind(name).is_some()) => {
                    return Some(step.clone());
                }
                // From the first new coat on, abrading meets that coat.
                Some(Act::Abrade(_)) if applied.is_empty() => return Some(step.clone()),
                _ => {}
            }
        }
        None
    }

    /// What an old coat of this name is; `None` where it is known to hold no lead, or came out of one of the workshop's
    /// own tins.
    fn kind(&self, name: &FinishName) -> Option<OldCoatKind> {
        if name.tin().is_some_and(|id| self.tins.iter().any(|tin| tin.id.value == *id)) {
            return None;
        }
        let Some(finish) = self.trade.finish(name) else { return Some(OldCoatKind::NotTold) };
        if finish.is_old() {
            return Some(OldCoatKind::NotTold);
        }
        if !self.trade.may_hold_lead(finish) {
            return None;
        }
        let coloured = |group: Group, layer: Layer| group == Group::Paint || layer == Layer::Colour;
        let meant = || self.trade.finishes_meant(finish);
        let painted = |all: bool| {
            let one = |finish: &crate::trade::Finish| coloured(finish.group.value, finish.layer.value);
            if all { meant().all(one) } else { meant().any(one) }
        };
        Some(match (painted(true), painted(false)) {
            (true, _) => OldCoatKind::Paint,
            (false, true) => OldCoatKind::NotTold,
            (false, false) => OldCoatKind::Clear,
        })
    }

    // ---- In findings and works ----

    fn in_findings(&self) -> impl Iterator<Item = OldCoat> + '_ {
        let signs = self.signs();
        let tells = |finding: &Finding| {
            let texts = [Some(&finding.seen), finding.extent.as_ref()];
            let term = self.trade.term(&finding.seen);
            let by_term = term.is_some_and(|term| signs.terms.iter().any(|id| id.0 == term.id.0));
            let by_words = texts.into_iter().flatten().any(|text| {
                (says(text, &signs.words) || says(text, &signs.found)) && !says(text, &signs.except)
            });
            by_term || by_words
        };
        self.record.findings.iter().filter(move |finding| tells(finding)).filter_map(|finding| {
            let parts = self.old_parts(finding.part.iter().map(|part| &part.value))?;
            let told = OldCoatTold::Finding(finding.clone());
            Some(self.coat(OldCoatName::Paint, OldCoatKind::Paint, parts, false, told))
        })
    }

    fn in_works(&self) -> impl Iterator<Item = OldCoat> + '_ {
        let signs = self.signs();
        let near: Vec<&str> = signs.near.iter().map(|word| &*word.value).collect();
        let gone: Vec<&str> = signs.gone.iter().map(|word| &*word.value).collect();
        let beside = move |text: &str, words: &[&str]| {
            signs.found.iter().any(|word| mentions_beside(text, word, words)) && !says(text, &signs.except)
        };
        self.record.works.iter().filter_map(move |work| {
            let text = &**work.did;
            if !says(text, &signs.words) && !beside(text, &near) {
                return None;
            }
            let parts = self.old_parts(work.part.iter().map(|part| &part.value))?;
            let told = OldCoatTold::Work(work.clone());
            Some(self.coat(OldCoatName::Paint, OldCoatKind::Paint, parts, beside(text, &gone), told))
        })
    }

    fn signs(&self) -> &HazardSigns {
        let signs = self.trade.hazards.signs(HazardState::OldCoating);
        signs.expect("the table tells of the state, and a test looks")
    }

    // ---- Parts and tests ----

    /// Those of some parts that are there and not new; `None` where parts are named and none is.
    fn old_parts<'b>(&self, ids: impl Iterator<Item = &'b PartId>) -> Option<Vec<PartId>> {
        let ids: Vec<&PartId> = ids.collect();
        let old = |id: &&PartId| {
            let part = self.record.parts.iter().find(|part| part.id.value == **id);
            part.is_none_or(|part| part.present() && part.standing.value != Standing::New)
        };
        let named = !ids.is_empty();
        let old: Vec<PartId> = ids.into_iter().filter(old).cloned().collect();
        (!named || !old.is_empty()).then_some(old)
    }

    fn coat(
        &self,
        name: OldCoatName,
        kind: OldCoatKind,
        parts: Vec<PartId>,
        gone: bool,
        told: OldCoatTold,
    ) -> OldCoat {
        let here = |place: &TestPlace| match (place, &told) {
            (TestPlace::Whole, _) => true,
            (TestPlace::Surface(tested), OldCoatTold::Surface(surface)) if parts.is_empty() => {
                tested.is(surface)
            }
            (TestPlace::Surface(tested), OldCoatTold::Surface(surface)) if !tested.is(surface) => false,
            (TestPlace::Surface(tested), _) => {
                parts.is_empty() || tested.parts.iter().any(|part| parts.contains(&part.value))
            }
            // Whether a surface of which no part is named lies on a part that was tested, nobody knows.
            (TestPlace::Parts(_), OldCoatTold::Surface(_)) if parts.is_empty() => false,
            (TestPlace::Parts(tested), _) => {
                parts.is_empty() || tested.iter().any(|part| parts.contains(part))
            }
        };
        let tests: Vec<Tested> = self
            .tests
            .iter()
            .filter(|(place, test)| {
                // A step may have tested some of its surface's parts alone.
                here(place)
                    && (test.parts.is_empty()
                        || parts.is_empty()
                        || test.parts.iter().any(|part| parts.contains(part)))
            })
            .map(|(_, test)| test.clone())
            .collect();
        let reading = self.reading(kind, &parts, &tests, &told);
        OldCoat { name, kind, parts, gone, told, tests, reading, disturbed_by: None }
    }

    /// What tests of a coat come to: positive where one is, and negative where those that clear it reach all its parts.
    fn reading(
        &self,
        kind: OldCoatKind,
        parts: &[PartId],
        tests: &[Tested],
        told: &OldCoatTold,
    ) -> TestReading {
        if tests.iter().any(|test| test.reading == TestReading::Positive) {
            return TestReading::Positive;
        }
        let by_area = |test: &Tested| {
            test.means == Some(TestMeans::XRay) && kind != OldCoatKind::Paint && !test.by_weight
        };
        let clears = |test: &&Tested| test.clears(self.row) && test.through && !by_area(test);
        let clearing: Vec<&Tested> = tests.iter().filter(clears).collect();
        let on_surface = matches!(told, OldCoatTold::Surface(_));
        let reached =
            |part: &PartId| clearing.iter().any(|test| test.parts.is_empty() || test.parts.contains(part));
        let cleared = match parts.is_empty() {
            // Where no part is named, a test of some part need not have met the coat.
            true => clearing
                .iter()
                .any(|test| test.parts.is_empty() || on_surface && matches!(test.row, TestRow::Step(_))),
            false => parts.iter().all(reached),
        };
        if cleared { TestReading::Negative } else { TestReading::Open }
    }
}
