//! Lead in old coats: what was found, what was not tested, what was taken off, and what a test does not prove.
//!
//! Only a laboratory or an X-ray instrument through all coats clears a coat. A rub of the surface that found nothing is
//! told as what it is.
//!
//! # Source
//! Lead test kits: staff study, US Consumer Product Safety Commission, news release of 22 October 2007: of 104 results 56
//! missed lead that was there, and no kit dependably found lead under a coat without any. Lead Exposures from Varnished
//! Floor Refinishing, J Occup Environ Hyg 9 (2012), 280-287, abstract: no varnish above 1.0 mg/cm2, but 52 % above 5000
//! ppm. Morbidity and Mortality Weekly Report 50(13), 6 April 2001: people were poisoned by the dust of furniture that had
//! been stripped and was believed to be free of lead.

use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, Weight, says};
use crate::derive::hazard::implied::{Because, Implied};
use crate::derive::hazard::old_coat::{OldCoat, OldCoatKind, OldCoatName, OldCoatTold};
use crate::derive::hazard::result::TestReading;
use crate::derive::hazard::tested::{TestRow, Tested};
use crate::derive::name::part_by_id;
use crate::record::{FinishName, NOT_TESTED, PartId};
use crate::trade::{Hazard, HazardState, TestMeans};

/// What is told of a coat alike, the gravest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Told {
    Found,
    FoundElsewhere,
    FoundAndGone,
    Open,
    Clear,
    Gone,
    Cleared,
}

impl Told {
    fn of(coat: &OldCoat) -> Told {
        match (coat.reading, coat.gone, coat.kind) {
            (TestReading::Positive, false, _) => Told::Found,
            (TestReading::Positive, true, _) => Told::FoundAndGone,
            (TestReading::Negative, ..) => Told::Cleared,
            (TestReading::Open, true, _) => Told::Gone,
            (TestReading::Open, false, OldCoatKind::Clear) => Told::Clear,
            (TestReading::Open, false, _) => Told::Open,
        }
    }

    fn weight(self) -> Weight {
        match self {
            Told::Found | Told::FoundElsewhere => Weight::Danger,
            Told::FoundAndGone | Told::Open => Weight::UntestedDanger,
            Told::Clear | Told::Gone | Told::Cleared => Weight::Plain,
        }
    }
}

/// Coats of which the same is told.
struct Alike<'a> {
    told: Told,
    coats: Vec<&'a OldCoat>,
    tests: Vec<&'a Tested>,
}

/// Everything about lead in one line: it begins with the gravest, and goes on with the rest.
pub(super) fn lead(telling: &Telling<'_>, implied: &Implied, rows: &[&Hazard]) -> Option<Claim> {
    let mut alike: Vec<Alike<'_>> = Vec::new();
    for because in &implied.today {
        let Because::Coat(coat) = because else { continue };
        let told = Told::of(coat);
        let known = alike.iter_mut().find(|alike| alike.told == told);
        let alike = match known {
            Some(known) => known,
            None => {
                alike.push(Alike { told, coats: Vec::new(), tests: Vec::new() });
                alike.last_mut()?
            }
        };
        alike.coats.push(coat);
        add(&mut alike.tests, coat.tests.iter());
    }
    // A test that met no coat of the record tells of one all the same where it was positive.
    let met = |test: &Tested| alike.iter().any(|alike| alike.tests.contains(&test));
    let elsewhere: Vec<&Tested> = implied.tests.iter().filter(|test| !met(test)).collect();
    if elsewhere.iter().any(|test| test.reading == TestReading::Positive) {
        alike.push(Alike { told: Told::FoundElsewhere, coats: Vec::new(), tests: elsewhere });
    }
    alike.sort_by_key(|alike| alike.told);
    let gravest = alike.first()?.told;
    let row = rows.iter().find(|row| {
        let clear = row.is_of(HazardState::OldClearCoating);
        clear == (gravest == Told::Clear)
    });
    let row = row.or(rows.first())?;
    let mut basis: Vec<Basis> = Vec::new();
    let mut said = Vec::new();
    let mut begins = None;
    for alike in &alike {
        let statement = alike.statement(telling);
        match begins {
            None => begins = Some(statement),
            Some(_) => said.push(statement),
        }
        said.extend(alike.tested(telling));
        said.extend(alike.lies_under(telling));
        if alike.told == gravest && gravest != Told::Cleared {
            said.extend(row.then.as_ref().map(|then| says!("own-words", said = then)));
        }
        basis.extend(alike.coats.iter().map(|coat| told(telling, coat)));
        basis.extend(alike.tests.iter().map(|test| test_basis(telling, test)));
        if alike.tests.is_empty() && telling.record.tests.is_empty() {
            basis.push(telling.ground.unsaid("test"));
        }
    }
    basis.push(Basis::table("hazard", row.id.0.clone()));
    let message = says!("lead", begins = begins?, said = Value::Sentences(said));
    let mut basis = basis.into_iter();
    Some(Claim::new(message, basis.next()?).and_all(basis).weighing(gravest.weight()))
}

fn add<'a>(to: &mut Vec<&'a Tested>, tests: impl Iterator<Item = &'a Tested>) {
    for test in tests {
        if !to.contains(&test) {
            to.push(test);
        }
    }
}

/// Where the record tells of an old coat.
pub(super) fn told(telling: &Telling<'_>, coat: &OldCoat) -> Basis {
    match &coat.told {
        OldCoatTold::Surface(surface) => match surface
            .found
            .iter()
            .find(|found| matches!(&coat.name, OldCoatName::Named(name) if found.value == *name))
        {
            Some(found) => telling.ground.said(found, "surface.found"),
            None => telling.row(surface, "surface"),
        },
        OldCoatTold::Finding(finding) => telling.row(finding, "finding"),
        OldCoatTold::Work(work) => telling.row(work, "work"),
    }
}

/// The row that tells a test.
pub(super) fn test_basis(telling: &Telling<'_>, test: &Tested) -> Basis {
    match &test.row {
        TestRow::Test(row) => telling.row(row, "test"),
        TestRow::Step(row) => telling.row(row, "surface.steps.test"),
    }
}

impl Alike<'_> {
    /// What is told of them, as it begins the line or stands within it.
    fn statement(&self, telling: &Telling<'_>) -> Message {
        let (coats, count) = self.names(telling);
        let on = self.on(telling);
        match self.told {
            Told::Found => says!("lead-found", coats = coats, on = on),
            Told::FoundElsewhere => says!("lead-found-there", on = on),
            Told::FoundAndGone => says!("lead-found-and-gone", coats = coats, on = on),
            Told::Open if self.tests.iter().all(|test| test.result == NOT_TESTED) => {
                says!("lead-not-tested", coats = coats, count = count, on = on)
            }
            Told::Open => says!("lead-not-cleared", coats = coats, on = on),
            Told::Clear => says!("lead-in-clear", coats = coats, on = on),
            Told::Gone => says!("lead-taken-off", coats = coats, count = count, on = on),
            Told::Cleared => says!("lead-none", coats = coats, on = on),
        }
    }

    /// Their names, each once, and how many names those are.
    fn names(&self, telling: &Telling<'_>) -> (Value, usize) {
        let mut names: Vec<Message> = Vec::new();
        for coat in &self.coats {
            let name = name(telling, coat);
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let count = names.len();
        (Value::All(names.into_iter().map(Value::from).collect()), count)
    }

    /// Where they are: the parts, or the piece.
    fn on(&self, telling: &Telling<'_>) -> Value {
        let whole = match self.coats.is_empty() {
            true => self.tests.iter().any(|test| test.parts.is_empty()),
            false => self.coats.iter().any(|coat| coat.parts.is_empty()),
        };
        if whole {
            return Value::from(says!("this-piece"));
        }
        telling.on(&self.parts())
    }

    /// Their parts, each once; where no coat is told, the parts on which a test was positive.
    fn parts(&self) -> Vec<PartId> {
        let positive = |test: &&&Tested| test.reading == TestReading::Positive;
        let of_tests = self.tests.iter().filter(positive).flat_map(|test| &test.parts);
        let of_coats = self.coats.iter().flat_map(|coat| &coat.parts);
        let all: Vec<&PartId> = if self.coats.is_empty() { of_tests.collect() } else { of_coats.collect() };
        all.into_iter().fold(Vec::new(), |mut once, id| {
            if !once.contains(id) {
                once.push(id.clone());
            }
            once
        })
    }

    /// What each test showed, and what it does not prove.
    fn tested(&self, telling: &Telling<'_>) -> Vec<Message> {
        let parts = self.parts();
        let clear = self.coats.iter().any(|coat| coat.kind != OldCoatKind::Paint);
        let made = self.tests.iter().filter(|test| test.result != NOT_TESTED);
        made.map(|test| {
            let word = test.means.map_or("not-known", TestMeans::word);
            let mut means = Message::word("means", word);
            // Where it reached all of them, that need not be said again; new parts were never in question.
            let on: Vec<&PartId> = test.parts.iter().filter(|id| parts.contains(id)).collect();
            if !on.is_empty() && on.len() < parts.len() {
                let on: Vec<String> = on.into_iter().map(|id| part_by_id(telling.record, id)).collect();
                means = says!("means-on", means = means, on = on);
            }
            let when = match test.on {
                Some(on) => says!("test-of-day", on = on),
                None => says!("test-without-day"),
            };
            let result = test.result.clone();
            match (test.reading, test.means) {
                (TestReading::Positive, _) => {
                    says!("lead-test-result", means = means, when = when, result = result)
                }
                (TestReading::Open, _) if result.is_empty() => {
                    says!("lead-test-no-result", means = means, when = when)
                }
                (TestReading::Open, _) => {
                    says!("lead-test-result", means = means, when = when, result = result)
                }
                (TestReading::Negative, Some(TestMeans::Rub)) => {
                    says!("lead-test-rub", means = means, when = when)
                }
                (TestReading::Negative, None) => says!("lead-test-unknown-means", means = means, when = when),
                (TestReading::Negative, Some(_)) if !test.through => {
                    says!("lead-test-not-through", means = means, when = when)
                }
                (TestReading::Negative, Some(TestMeans::XRay)) if clear && !test.by_weight => {
                    says!("lead-test-by-area", means = means, when = when)
                }
                (TestReading::Negative, Some(_)) => says!("lead-test-through", means = means, when = when),
            }
        })
        .collect()
    }

    /// What lies today over a coat in which lead was found.
    fn lies_under(&self, telling: &Telling<'_>) -> Option<Message> {
        if self.told != Told::Found {
            return None;
        }
        let mut over: Vec<Value> = Vec::new();
        for coat in &self.coats {
            let OldCoatTold::Surface(surface) = &coat.told else { continue };
            let facts = telling.facts.surfaces.iter().filter(|facts| facts.surface.is(surface));
            for layer in facts.flat_map(|facts| facts.today.layers.iter().rev()) {
                let name = Value::Name(layer.coat.name.clone());
                let on_it = coat.parts.is_empty() || coat.parts.iter().any(|part| layer.covers(&part.0));
                if layer.coat.step.is_some() && on_it && !over.contains(&name) {
                    over.push(name);
                }
            }
        }
        (!over.is_empty()).then(|| says!("lead-lies-under", layers = Value::All(over)))
    }
}

/// An old coat by its name, within a sentence.
fn name(telling: &Telling<'_>, coat: &OldCoat) -> Message {
    match &coat.name {
        OldCoatName::NotRecorded => says!("old-coat-not-recorded"),
        OldCoatName::Paint => says!("old-coat-paint"),
        OldCoatName::All | OldCoatName::Named(FinishName::Unknown) => says!("old-coat"),
        OldCoatName::Named(name) => match telling.trade.finish(name) {
            Some(finish) if finish.is_old() => says!("old-coat"),
            // What was written in the record's own words may be no noun: "painted", "some kind of varnish".
            Some(_) if telling.trade.finish_words().called(name).is_none() => {
                says!("old-coat-called", name = name.to_string())
            }
            Some(finish) => {
                let called = Value::Name(telling.trade.finish_name(name));
                match finish.id.0.starts_with("old-") {
                    true => says!("old-coat-so-named", name = called),
                    false => says!("old-coat-named", name = called),
                }
            }
            None => says!("old-coat-called", name = name.to_string()),
        },
    }
}
