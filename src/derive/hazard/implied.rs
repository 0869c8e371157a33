//! Hazards that a record implies, for the bench and for the buyer.
//!
//! The table of hazards says in which state of a record each arises; this file knows the states. A hazard
//! is a possibility that the record does not rule out, never a finding: where a test was negative it is
//! not raised, and the test is carried so that it can be said.

use super::mention::mentions;
use super::result::{TestReading, together};
use super::tested::{TestPlace, Tested, place, tested, tested_in_step};
use super::told::{fixing_texts, is_board, is_build, part_says, part_texts, row_names, says};
use crate::derive::finish::stratigraphy::{coating, laid};
use crate::fields::{Row, Said, Text};
use crate::record::{
    Act, Construction, Finding, FinishName, Folder, Part, PartId, Record, Region, Removal, Standing, Step,
    Surface, Tin,
};
use crate::trade::{
    Finish, Group, Hazard, HazardPlace, HazardRegion, HazardSigns, HazardState, Listing, Trade,
};
use crate::unit::Length;
use crate::unit::edtf::Bound;

/// How far around the years of making a date that is approximate or uncertain may be off, in years.
///
/// # Source
/// our own choice: `~` and `?` have no width in EDTF (ISO 8601-2:2019).
const ABOUT: i32 = 10;

/// A coat that may be old paint.
#[derive(Debug, Clone, PartialEq)]
pub enum OldCoat {
    /// What the record calls it.
    Named(FinishName),
    /// Whatever lay there: everything was taken off.
    All,
}

/// Why a hazard is raised: something that the record says.
#[derive(Debug, Clone, PartialEq)]
pub enum Because {
    /// A finish of this name was applied to this surface.
    Applied {
        /// The finish.
        finish: String,
        /// The surface.
        surface: Row<Surface>,
    },
    /// A coat of this name was found on a surface.
    Coat {
        /// The coat, as the record calls it.
        coat: OldCoat,
        /// The surface.
        surface: Row<Surface>,
    },
    /// What was on a surface before it was disturbed is not recorded.
    CoatNotRecorded {
        /// The surface.
        surface: Row<Surface>,
    },
    /// A surface was abraded.
    Abraded {
        /// The surface.
        surface: Row<Surface>,
    },
    /// The work or its means mention this.
    Used {
        /// The word.
        word: String,
    },
    /// A part's build or name says so.
    Part {
        /// The part's id.
        part: PartId,
    },
    /// A fixing's words say so.
    Fixing {
        /// The fixing, as the record calls it.
        kind: String,
    },
    /// A part is of a listed timber.
    Timber {
        /// The part's id.
        part: PartId,
        /// The timber's name.
        timber: String,
        /// How trade in it is controlled, as recalled.
        listing: Listing,
    },
    /// Something was found.
    Finding {
        /// The finding.
        finding: Row<Finding>,
    },
    /// The kind of piece says so.
    Kind,
    /// It is this high.
    Height(Length),
    /// It is of a kind that can be high, and its size is not recorded.
    HeightNotRecorded,
    /// A test for it is recorded.
    Tested,
}

/// A hazard that the record implies.
#[derive(Debug, Clone, PartialEq)]
pub struct Implied {
    /// What it is about, such as `lead`.
    pub subject: String,
    /// The ids of the rows of the table that apply, in the table's order.
    pub rows: Vec<String>,
    /// Why it is raised, each reason once.
    pub because: Vec<Because>,
    /// The tests that concern it.
    pub tests: Vec<Tested>,
    /// What the tests show: a hazard that is `Negative` is not raised.
    pub reading: TestReading,
}

/// The hazards that a record implies, in the order of the table.
///
/// # Source
/// The rows of the table name theirs; which record implies which row is common practice, no source.
pub(in crate::derive) fn hazards(folder: &Folder, record: &Record, trade: &Trade) -> Vec<Implied> {
    let workshop = folder.workshop.as_ref();
    let tins = workshop.map_or(&[][..], |workshop| &workshop.tins);
    let region = workshop.and_then(|workshop| workshop.region.as_ref()).map(|region| region.value);
    let scene = HazardContext { record, trade, tins };
    let mut found: Vec<Implied> = Vec::new();
    for row in trade.hazards.rows.iter().filter(|row| holds_in(row, region, trade)) {
        let Some((because, reading)) = scene.implies(row) else { continue };
        let tests = scene.tests(row).into_iter().map(|(_, test)| test).collect();
        match found.iter_mut().find(|implied| implied.subject == row.subject()) {
            Some(known) => known.join(row, because, reading),
            None => found.push(Implied {
                subject: row.subject().to_owned(),
                rows: vec![row.id.0.clone()],
                because,
                tests,
                reading,
            }),
        }
    }
    found
}

impl Implied {
    /// Takes in another row of the same hazard.
    fn join(&mut self, row: &Hazard, because: Vec<Because>, reading: TestReading) {
        self.rows.push(row.id.0.clone());
        let new: Vec<Because> = because.into_iter().filter(|one| !self.because.contains(one)).collect();
        self.because.extend(new);
        self.reading = together([self.reading, reading]);
    }
}

/// Whether a row is to be read in a workshop's region.
///
/// Without a region all are. Where no row of a hazard is of the region, all its rows are read: a
/// hazard does not end at a border, only the rule about it does.
fn holds_in(row: &Hazard, region: Option<Region>, trade: &Trade) -> bool {
    let Some(region) = region else { return true };
    let of = |row: &Hazard| match row.region.value {
        HazardRegion::All => true,
        HazardRegion::UnitedKingdom => region == Region::UnitedKingdom,
        HazardRegion::UnitedKingdomAndEurope => [Region::UnitedKingdom, Region::Europe].contains(&region),
        HazardRegion::UnitedStates => region == Region::UnitedStates,
    };
    of(row) || !trade.hazards.rows.iter().any(|other| other.subject() == row.subject() && of(other))
}

/// What is looked at.
struct HazardContext<'a> {
    record: &'a Record,
    trade: &'a Trade,
    tins: &'a [Said<Tin>],
}

impl<'a> HazardContext<'a> {
    /// Why a row applies and what tests say of it; `None` where it does not apply.
    fn implies(&self, row: &Hazard) -> Option<(Vec<Because>, TestReading)> {
        let (mut because, mut reading) = match row.implied_by.as_ref().map(|state| state.value) {
            Some(HazardState::OldCoating) => self.old_coating(row),
            Some(state) => (self.state(row, state), self.tested(row)),
            None => (self.mentioned(row), self.tested(row)),
        };
        because.extend(self.finishes(row));
        because.extend(self.treatments(row));
        if !self.years_fit(row) {
            because.clear();
        }
        // A test that was positive says more than any state or year.
        if because.is_empty() && self.tested(row) == TestReading::Positive {
            (because, reading) = (vec![Because::Tested], TestReading::Positive);
        }
        let mut once: Vec<Because> = Vec::new();
        for one in because {
            if !once.contains(&one) {
                once.push(one);
            }
        }
        (!once.is_empty()).then_some((once, reading))
    }

    /// Whether the years of making, as far as they are known, let a row apply.
    fn years_fit(&self, row: &Hazard) -> bool {
        let Some(made) = &self.record.made else { return true };
        let about = if made.is_approximate() || made.is_uncertain() { ABOUT } else { 0 };
        let span = made.years();
        let before = match (&row.made_before, span.earliest) {
            (Some(year), Bound::Year(earliest)) => earliest.saturating_sub(about) < year.0,
            _ => true,
        };
        let from = match (&row.made_from, span.latest) {
            (Some(year), Bound::Year(latest)) => latest.saturating_add(about) >= year.0,
            _ => true,
        };
        before && from
    }

    /// Why a state other than an old coat raises a row.
    fn state(&self, row: &Hazard, state: HazardState) -> Vec<Because> {
        let parts = |holds: &dyn Fn(&Part) -> bool| -> Vec<Because> {
            self.parts(row)
                .filter(|part| holds(part))
                .map(|part| Because::Part { part: part.id.value.clone() })
                .collect()
        };
        match state {
            HazardState::DryingOil => self.applied(|finish| finish.rags_self_heat.value),
            HazardState::Abraded => self.abraded().chain(self.mentioned(row)).collect(),
            HazardState::Solvent => {
                let wet = [Group::Lacquer, Group::Shellac];
                let applied = self.applied(|finish| wet.contains(&finish.group.value));
                applied.into_iter().chain(self.mentioned(row)).collect()
            }
            HazardState::Glass => {
                // The record itself may say that a part's glass is of a safe kind.
                let safe = &self.signs(state).except;
                parts(&|part| {
                    is_build(part, &[Construction::Glass]) && !part_says(part, safe) && row_names(row, part)
                })
            }
            HazardState::Board => parts(&|part| is_board(part, &self.signs(state).words)),
            HazardState::Upholstery => parts(&|part| self.is_upholstered(row, part)),
            HazardState::Lid => match self.is_kind(&row.words) {
                true => parts(&|part| says(&part.name, &self.signs(state).words)),
                false => Vec::new(),
            },
            HazardState::Tall => self.tall(row).into_iter().collect(),
            HazardState::ListedTimber => self.listed_timbers(),
            HazardState::FlightHoles => {
                let holes = self.findings(|seen| self.is_told(state, seen));
                let named: Vec<Because> = holes.chain(self.mentioned(row)).collect();
                // A test that was declared not made says that the question was asked.
                match named.is_empty() && !self.tests(row).is_empty() {
                    true => vec![Because::Tested],
                    false => named,
                }
            }
            HazardState::OldCoating => self.old_coating(row).0,
        }
    }

    // ---- What was done ----

    fn steps(&self) -> impl Iterator<Item = (&'a Row<Surface>, &'a Step)> {
        let surfaces = self.record.surfaces.iter();
        surfaces.flat_map(|surface| surface.steps.iter().map(move |step| (surface, &step.value)))
    }

    /// Finishes that this workshop applied and that are, or may be, of a kind.
    fn applied(&self, of: impl Fn(&Finish) -> bool) -> Vec<Because> {
        let applied = self.steps().filter_map(|(surface, step)| match step.act() {
            Some(Act::Apply(name)) => Some((surface, coating(name, self.tins, self.trade)?.finish)),
            _ => None,
        });
        applied
            .filter(|(_, finish)| self.trade.finishes_meant(finish).any(&of))
            .map(|(surface, finish)| Because::Applied {
                finish: finish.name.to_string(),
                surface: surface.clone(),
            })
            .collect()
    }

    fn finishes(&self, row: &Hazard) -> Vec<Because> {
        self.applied(|finish| row.finishes.iter().any(|id| id.value == finish.id.value))
    }

    /// Treatments of a row that a step or a work names.
    fn treatments(&self, row: &Hazard) -> Vec<Because> {
        let of_row = |text: &&str| {
            let named = self.trade.treatment(text);
            named.is_some_and(|named| {
                let meant = std::iter::once(&named.id.value).chain(named.may_be.iter().map(|id| &id.value));
                meant.into_iter().any(|id| row.treatments.iter().any(|of| of.value == *id))
            })
        };
        self.bench_texts().filter(of_row).map(|text| Because::Used { word: text.to_owned() }).collect()
    }

    fn abraded(&self) -> impl Iterator<Item = Because> {
        self.steps()
            .filter(|(_, step)| !step.abrade.is_empty() || step.abrade_between.is_some())
            .map(|(surface, _)| Because::Abraded { surface: surface.clone() })
    }

    // ---- Old coats ----

    /// The surfaces with a coat that may be old paint, and what tests on just these surfaces say.
    fn old_coating(&self, row: &Hazard) -> (Vec<Because>, TestReading) {
        let tests = self.tests(row);
        let (mut because, mut readings) = (Vec::new(), Vec::new());
        for surface in &self.record.surfaces {
            if self.is_all_new(surface) {
                continue;
            }
            let doubtful = self.doubtful_coats(surface);
            if doubtful.is_empty() {
                continue;
            }
            because.extend(doubtful);
            let here = |place: &TestPlace| match place {
                TestPlace::Surface(tested) => tested.is(surface),
                TestPlace::Whole => true,
                TestPlace::Parts(parts) => surface.parts.iter().any(|part| parts.contains(&part.value)),
            };
            let concern = tests.iter().filter(|(place, _)| here(place)).map(|(_, test)| test.reading);
            readings.push(together(concern));
        }
        let flaking = self.findings(|seen| self.is_told(HazardState::OldCoating, seen));
        let seen: Vec<Because> = flaking.collect();
        if because.is_empty() && !seen.is_empty() {
            readings.push(self.tested(row));
        }
        because.extend(seen);
        (because, together(readings))
    }

    /// The coats found on a surface that may be paint.
    ///
    /// A clear finish that the record names is no paint, and what the workshop laid itself is not old.
    fn doubtful_coats(&self, surface: &Row<Surface>) -> Vec<Because> {
        let doubtful = |name: &FinishName| match self.trade.finish(name) {
            Some(finish) => self.trade.may_hold_lead(finish),
            None => name.tin().is_none(),
        };
        let coat = |coat: OldCoat| Because::Coat { coat, surface: surface.clone() };
        let removed = |removed: &Removal| match removed {
            Removal::All => Some(OldCoat::All),
            Removal::Layer(name) => doubtful(name).then(|| OldCoat::Named(name.clone())),
        };
        if !surface.found.is_empty() {
            let doubtful = surface.found.iter().filter(|name| doubtful(name));
            return doubtful.map(|name| coat(OldCoat::Named(name.value.clone()))).collect();
        }
        let first_coat = surface.steps.iter().position(|step| laid(step, self.trade).is_some());
        let before = &surface.steps[..first_coat.unwrap_or(surface.steps.len())];
        for step in before {
            match step.act() {
                // Naming what was taken off says what was there.
                Some(Act::Remove(what)) => return removed(what).map(coat).into_iter().collect(),
                Some(Act::Abrade(_)) => return vec![Because::CoatNotRecorded { surface: surface.clone() }],
                _ => {}
            }
        }
        Vec::new()
    }

    fn is_all_new(&self, surface: &Surface) -> bool {
        let part = |id: &PartId| self.record.parts.iter().find(|part| part.id.value == *id);
        let new = |id: &PartId| part(id).is_some_and(|part| part.standing.value == Standing::New);
        !surface.parts.is_empty() && surface.parts.iter().all(|id| new(&id.value))
    }

    // ---- What it is ----

    /// The parts that are there and that a row is about.
    fn parts(&self, row: &Hazard) -> impl Iterator<Item = &'a Part> {
        let old_only = row.old_only.as_ref().is_some_and(|only| only.value);
        let parts = self.record.parts.iter().map(|part| &part.value);
        parts.filter(move |part| match part.standing.value {
            Standing::Removed | Standing::Missing => false,
            Standing::New => !old_only,
            _ => true,
        })
    }

    /// Whether the kind of piece or its title has one of these words.
    fn is_kind(&self, words: &[Said<Text>]) -> bool {
        says(&self.record.kind, words) || says(&self.record.title, words)
    }

    /// Whether a part is upholstered: cloth or leather on a seat that is not woven of cord, rush or cane,
    /// or words of the trade that say so.
    fn is_upholstered(&self, row: &Hazard, part: &Part) -> bool {
        let signs = self.signs(HazardState::Upholstery);
        let covered = is_build(part, &[Construction::Textile, Construction::Leather]);
        let covered = covered && self.is_kind(&signs.kinds);
        (covered || part_says(part, &row.words)) && !part_says(part, &signs.except)
    }

    fn tall(&self, row: &Hazard) -> Option<Because> {
        if !self.is_kind(&row.words) {
            return None;
        }
        let least = row.height_mm.as_ref().map_or(0.0, |height| height.0);
        match &self.record.size {
            Some(size) if size.height.mm() >= least => Some(Because::Height(size.height.value)),
            Some(_) => None,
            None => Some(Because::HeightNotRecorded),
        }
    }

    fn listed_timbers(&self) -> Vec<Because> {
        let absent = [Standing::Removed, Standing::Missing];
        let parts = self.record.parts.iter().filter(|part| !absent.contains(&part.standing.value));
        let named = parts.flat_map(|part| {
            let lipping = part.lipping.as_ref().map(|lipping| &lipping.timber);
            [part.timber.as_ref(), part.veneer.as_ref(), lipping]
                .into_iter()
                .flatten()
                .map(move |name| (part, name))
        });
        named
            .filter_map(|(part, name)| {
                let timber = self.trade.timber(name)?;
                let listing = self.trade.listing(timber)?;
                let told = if timber.is_generic() { name.to_string() } else { timber.name.to_string() };
                Some(Because::Timber { part: part.id.value.clone(), timber: told, listing })
            })
            .collect()
    }

    // ---- Words ----

    /// What mentions a row's words, in the places that the row names.
    fn mentioned(&self, row: &Hazard) -> Vec<Because> {
        let has = |text: &str| says(text, &row.words);
        let mut because = Vec::new();
        for place in &row.places {
            match place.value {
                HazardPlace::Kind => because.extend(self.is_kind(&row.words).then_some(Because::Kind)),
                HazardPlace::Parts => {
                    let parts = self.parts(row).filter(|part| part_texts(part).any(&has));
                    because.extend(parts.map(|part| Because::Part { part: part.id.value.clone() }));
                    let fixings = self.record.fixings.iter().filter(|fixing| fixing_texts(fixing).any(&has));
                    because.extend(fixings.map(|fixing| Because::Fixing { kind: fixing.kind.to_string() }));
                }
                HazardPlace::Findings => because.extend(self.findings(&has)),
                HazardPlace::Bench => {
                    let texts: Vec<&str> = self.bench_texts().collect();
                    let used = |word: &&Said<Text>| texts.iter().any(|text| mentions(text, word));
                    let words: Vec<&Said<Text>> = row.words.iter().filter(used).collect();
                    // White spirit is spirit too, and is said once.
                    let longer =
                        |word: &Text| words.iter().any(|other| other.value != *word && mentions(other, word));
                    let said = words.iter().filter(|word| !longer(&word.value));
                    because.extend(said.map(|word| Because::Used { word: word.to_string() }));
                }
            }
        }
        because
    }

    /// Findings whose words, terms or extent tell something.
    fn findings(&self, tells: impl Fn(&str) -> bool) -> impl Iterator<Item = Because> {
        let tells = move |finding: &crate::record::Finding| {
            tells(&finding.seen) || finding.extent.as_ref().is_some_and(|extent| tells(extent))
        };
        let findings = self.record.findings.iter().filter(move |finding| tells(finding));
        findings.map(|finding| Because::Finding { finding: finding.clone() })
    }

    /// Whether what was seen tells of a state.
    fn is_told(&self, state: HazardState, seen: &str) -> bool {
        let signs = self.signs(state);
        let term = self.trade.term(seen);
        says(seen, &signs.words) || term.is_some_and(|term| signs.terms.iter().any(|id| id.0 == term.id.0))
    }

    fn signs(&self, state: HazardState) -> &'a HazardSigns {
        self.trade.hazards.signs(state).expect("the table tells of the state, and a test looks")
    }

    /// What was used and done, in the record's words.
    fn bench_texts(&self) -> impl Iterator<Item = &'a str> {
        let steps = self.steps().flat_map(|(_, step)| {
            let clean = step.clean.iter().map(|text| &***text);
            let remove = step.remove.iter().map(|what| &***what);
            let by = step.by.iter().map(|text| &***text);
            let mixed = step.mix.iter().map(|mix| &**mix.of);
            // What is applied and is no finish was used.
            let applied = step.apply.iter().filter(|what| self.trade.treatment_for_finish(what).is_some());
            clean.chain(remove).chain(by).chain(mixed).chain(applied.map(|what| &***what))
        });
        let works = self
            .record
            .works
            .iter()
            .flat_map(|work| [Some(&work.did), work.by.as_ref()].into_iter().flatten());
        steps.chain(works.map(|text| &***text))
    }

    // ---- Tests ----

    /// The tests that concern a row, and where they were made.
    fn tests(&self, row: &Hazard) -> Vec<(TestPlace, Tested)> {
        let concerns = |of: &str| says(of, &row.tests);
        let tests = self.record.tests.iter().filter(|test| concerns(&test.of));
        let tests = tests.map(|test| (place(test), tested(test)));
        let steps = self.steps().filter_map(|(surface, step)| match step.act() {
            Some(Act::Test(of)) if concerns(of) => {
                Some((TestPlace::Surface(surface.clone()), tested_in_step(of, step, surface)))
            }
            _ => None,
        });
        tests.chain(steps).collect()
    }

    fn tested(&self, row: &Hazard) -> TestReading {
        together(self.tests(row).into_iter().map(|(_, test)| test.reading))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record;
    use crate::source::Tree;

    /// What a record implies, a line each: subject, verdict and the number of reasons.
    fn implied(text: &str) -> Vec<String> {
        let (record, workshop) = text.split_once("#- workshop\n").unwrap_or((text, ""));
        let kind = if record.lines().any(|line| line.starts_with("kind =")) {
            ""
        } else {
            "kind = \"table/gateleg\"\n"
        };
        let tree = Tree::of([
            ("workshop.toml".to_owned(), format!("name = \"Bench\"\n{workshop}")),
            (
                "pieces/a/record.toml".to_owned(),
                format!("title = \"Oak piece\"\nnumber = \"T-1\"\n{kind}{record}"),
            ),
        ]);
        let (folder, problems) = record::read(&tree);
        assert_eq!(problems, [], "{text}");
        let record = folder.pieces[0].record.as_ref().expect("it was read");
        let hazards = hazards(&folder, record, Trade::built_in());
        hazards.iter().map(|found| format!("{} {:?}", found.subject, found.reading)).collect()
    }

    #[track_caller]
    fn case(text: &str, subject: &str, reading: Option<TestReading>) {
        let found = implied(text);
        let wanted = reading.map(|reading| format!("{subject} {reading:?}"));
        let here: Vec<&String> =
            found.iter().filter(|line| line.starts_with(&format!("{subject} "))).collect();
        assert_eq!(here, wanted.iter().collect::<Vec<_>>(), "{text}: {found:?}");
    }

    #[test]
    fn a_bare_record_raises_nothing() {
        assert_eq!(implied(""), Vec::<String>::new());
    }

    fn part(rest: &str) -> String {
        format!("part = [{{ id = \"a\", standing = \"original\", {rest} }}]\n")
    }

    fn surface(found: &str, steps: &str) -> String {
        format!("{}surface = [{{ parts = \"a\", {found} steps = [{steps}] }}]\n", part("name = \"Top\""))
    }

    #[test]
    fn drying_oils_and_their_cloths() {
        case(&surface("", "{ apply = \"boiled-linseed-oil\" }"), "rags", Some(TestReading::Open));
        case(&surface("", "{ apply = \"shellac\" }"), "rags", None);
        let tin = "#- workshop\ntin = [{ id = \"o\", is = \"hardwax-oil\" }]";
        case(&format!("{}{tin}", surface("", "{ apply = \"tin:o\" }")), "rags", Some(TestReading::Open));
        // An oil that was found is nothing that this workshop's cloths hold.
        case(&surface("found = \"boiled-linseed-oil\",", ""), "rags", None);
    }

    #[test]
    fn old_coats_that_may_hold_lead() {
        let old = |made: &str| format!("made = \"{made}\"\n{}", surface("found = \"old-finish\",", ""));
        case(&old("1920/1935~"), "lead", Some(TestReading::Open));
        case(&old("1991"), "lead", Some(TestReading::Open));
        case(&old("1992"), "lead", None);
        case(&old("1995~"), "lead", Some(TestReading::Open));
        case(&old("2002~"), "lead", None);
        case(&surface("found = \"unknown\",", ""), "lead", Some(TestReading::Open));
        case(&surface("found = [\"shellac\"],", "{ abrade = \"P180\" }"), "lead", None);
        case(&surface("found = \"old varnish\",", ""), "lead", Some(TestReading::Open));
        case(&surface("found = \"old wax\",", ""), "lead", None);
        case(&surface("", "{ remove = \"old-finish\" }"), "lead", Some(TestReading::Open));
        case(&surface("", "{ abrade = \"P80\" }"), "lead", Some(TestReading::Open));
        case(&surface("", "{ apply = \"milk-paint\" }, { abrade = \"P180\" }"), "lead", None);
        let new = surface("found = \"unknown\",", "").replace("original", "new");
        case(&new, "lead", None);
    }

    #[test]
    fn the_local_year_decides() {
        let made = |region: &str| {
            let record = format!("made = \"1985\"\n{}", surface("found = \"old-finish\",", ""));
            format!("{record}#- workshop\nregion = \"{region}\"")
        };
        case(&made("united-kingdom"), "lead", Some(TestReading::Open));
        case(&made("united-states"), "lead", None);
        // Where the table has no year of the region, every year that it has counts.
        case(&made("elsewhere"), "lead", Some(TestReading::Open));
    }

    #[test]
    fn a_test_settles_only_what_it_was_made_on() {
        let tested = |result: &str| {
            surface("found = \"old-finish\",", &format!("{{ test = \"lead swab\", result = \"{result}\" }}"))
        };
        case(&tested("negative"), "lead", Some(TestReading::Negative));
        case(&tested("positive in the oldest coat"), "lead", Some(TestReading::Positive));
        case(&tested("not-tested"), "lead", Some(TestReading::Open));
        let two = "part = [{ id = \"a\", name = \"A\", standing = \"original\" }, { id = \"b\", name = \"B\", standing = \"original\" }]
surface = [{ parts = \"a\", found = \"old-finish\" }, { parts = \"b\", found = \"old-finish\" }]
";
        let trial = |rest: &str| format!("{two}test = [{{ of = \"lead\", {rest} result = \"negative\" }}]");
        case(&trial(""), "lead", Some(TestReading::Negative));
        case(&trial("part = \"a\","), "lead", Some(TestReading::Open));
        case(&trial("part = [\"a\", \"b\"],"), "lead", Some(TestReading::Negative));
        // A positive test is a hazard though no coat and no year speak for one.
        case(
            "made = \"2010\"\ntest = [{ of = \"lead\", result = \"positive\" }]",
            "lead",
            Some(TestReading::Positive),
        );
        case("made = \"2010\"\ntest = [{ of = \"lead\", result = \"negative\" }]", "lead", None);
    }

    #[test]
    fn dust_and_solvent_at_the_bench() {
        case(&surface("", "{ abrade = \"P120\" }"), "wood-dust", Some(TestReading::Open));
        case("work = [{ did = \"sanded the top\" }]", "wood-dust", Some(TestReading::Open));
        case("work = [{ did = \"wrote it down\" }]", "wood-dust", None);
        case(&surface("", "{ clean = \"white spirit\" }"), "solvent-fire", Some(TestReading::Open));
        case(&surface("", "{ apply = \"nitrocellulose-lacquer\" }"), "solvent-fire", Some(TestReading::Open));
        case(&surface("", "{ clean = \"water and soap\" }"), "solvent-fire", None);
        case(
            &surface("", "{ remove = \"all\", by = \"methylene chloride\" }"),
            "dichloromethane",
            Some(TestReading::Open),
        );
        case(&surface("", "{ apply = \"two-pack-polyurethane\" }"), "isocyanate", Some(TestReading::Open));
    }

    #[test]
    fn what_was_used_on_it() {
        case(&surface("", "{ clean = \"oxalic\" }"), "oxalic-acid", Some(TestReading::Open));
        case(&surface("", "{ apply = \"oxalic acid\" }"), "oxalic-acid", Some(TestReading::Open));
        case(&surface("", "{ clean = \"bleach\" }"), "oxalic-acid", Some(TestReading::Open));
        case(&surface("", "{ clean = \"soap and water\" }"), "oxalic-acid", None);
        case(
            &surface("", "{ remove = \"all\", by = \"lye bath\" }"),
            "caustic-stripping",
            Some(TestReading::Open),
        );
        case(
            "work = [{ did = \"treated the back rail\", by = \"woodworm killer\" }]",
            "insecticide-used",
            Some(TestReading::Open),
        );
        case("work = [{ did = \"mended the dipped seat\" }]", "caustic-stripping", None);
        case(&surface("", "{ apply = \"some sort of varnish\" }"), "isocyanate", Some(TestReading::Open));
        case(&surface("", "{ apply = \"some sort of varnish\" }"), "rags", Some(TestReading::Open));
    }

    #[test]
    fn glass_and_mirrors() {
        let glass = |name: &str| part(&format!("name = \"{name}\", build = \"glass\""));
        case(&glass("Door pane"), "glass", Some(TestReading::Open));
        case(&glass("Door pane, toughened"), "glass", None);
        case(&glass("Glass shelf"), "glass-edges", Some(TestReading::Open));
        case(&glass("Door pane"), "glass-edges", None);
        case(
            &format!("made = \"1890\"\n{}", glass("Mirror plate")),
            "tin-mercury-mirror",
            Some(TestReading::Open),
        );
        case(&format!("made = \"1925\"\n{}", glass("Mirror plate")), "tin-mercury-mirror", None);
        case(&glass("Door pane").replace("original", "missing"), "glass", None);
    }

    #[test]
    fn tall_cases_can_tip() {
        let size = |kind: &str, height: u32| {
            format!("kind = \"{kind}\"\nsize = {{ width = 900, depth = 300, height = {height} }}")
        };
        case(&size("case/bookcase", 686), "tip-over", Some(TestReading::Open));
        case(&size("case/bookcase", 685), "tip-over", None);
        case(&size("table/gateleg", 735), "tip-over", None);
        case("kind = \"case/bookcase\"", "tip-over", Some(TestReading::Open));
    }

    #[test]
    fn upholstery_is_not_a_woven_seat() {
        let seat = |made: &str, name: &str| {
            format!(
                "kind = \"seating/chair\"\nmade = \"{made}\"\n{}",
                part(&format!("name = \"{name}\", build = \"textile\""))
            )
        };
        let uk = "#- workshop\nregion = \"united-kingdom\"";
        case(&format!("{}{uk}", seat("1960", "Seat cover")), "upholstery", Some(TestReading::Open));
        case(&format!("{}{uk}", seat("1949", "Seat cover")), "upholstery", None);
        case(&seat("1960", "Woven seat"), "upholstery", None);
        case(&seat("1960", "Cord seat"), "upholstery", None);
        case(&part("name = \"Drawer lining\", build = \"textile\""), "upholstery", None);
        case(&part("name = \"Foam cushion\""), "upholstery", Some(TestReading::Open));
    }

    #[test]
    fn electrics_are_said_by_parts_and_fixings() {
        case(&part("name = \"Picture lamp\""), "electrics", Some(TestReading::Open));
        case(
            "fixing = [{ kind = \"flex and switch\", standing = \"later\" }]",
            "electrics",
            Some(TestReading::Open),
        );
        case(&part("name = \"Clamp block\""), "electrics", None);
        let tested = "test = [{ of = \"earth continuity\", result = \"passed\" }]";
        case(
            &format!("{}{tested}", part("name = \"Picture lamp\"")),
            "electrics",
            Some(TestReading::Negative),
        );
    }

    #[test]
    fn listed_timbers_ivory_and_shell() {
        case(&part("name = \"Top\", timber = \"rosewood-brazilian\""), "cites-wood", Some(TestReading::Open));
        case(&part("name = \"Top\", veneer = \"rosewood-indian\""), "cites-wood", Some(TestReading::Open));
        case(&part("name = \"Top\", veneer = \"rosewood\""), "cites-wood", Some(TestReading::Open));
        case(&part("name = \"Top\", timber = \"white-oak\""), "cites-wood", None);
        case(&part("name = \"Ivory escutcheon\""), "ivory-uk", Some(TestReading::Open));
        case(&part("name = \"Ivory-coloured knob\""), "ivory-uk", None);
        case(
            "fixing = [{ kind = \"tortoiseshell knob\", standing = \"original\" }]",
            "tortoiseshell",
            Some(TestReading::Open),
        );
        case(&part("name = \"Imitation tortoiseshell knob\""), "tortoiseshell", None);
    }

    #[test]
    fn beetles_and_what_was_used_against_them() {
        let holes = "finding = [{ id = \"f\", seen = \"flight holes\" }]\n";
        case(holes, "old-woodworm-treatment", Some(TestReading::Open));
        case(holes, "woodworm", Some(TestReading::Open));
        case(&format!("made = \"1995\"\n{holes}"), "old-woodworm-treatment", None);
        case("finding = [{ id = \"f\", seen = \"scratch\" }]", "woodworm", None);
        let treated = |result: &str| {
            format!("test = [{{ of = \"old treatment against beetle\", result = \"{result}\" }}]")
        };
        case(&treated("not-tested"), "old-woodworm-treatment", Some(TestReading::Open));
        case(
            &format!("{holes}{}", treated("negative")),
            "old-woodworm-treatment",
            Some(TestReading::Negative),
        );
        let living = "test = [{ of = \"living beetle\", result = \"none seen over a summer\" }]";
        case(&format!("{holes}{living}"), "woodworm", Some(TestReading::Negative));
    }

    #[test]
    fn a_chest_with_a_lid() {
        let chest =
            |name: &str| format!("kind = \"chest/blanket-chest\"\n{}", part(&format!("name = \"{name}\"")));
        case(&chest("Lid"), "lid-entrapment", Some(TestReading::Open));
        case(&chest("Front"), "lid-entrapment", None);
        case(&part("name = \"Lid\""), "lid-entrapment", None);
    }

    #[test]
    fn smells_moulds_and_boards() {
        let finding = |seen: &str, extent: &str| {
            format!("finding = [{{ id = \"f\", seen = \"{seen}\", extent = \"{extent}\" }}]")
        };
        case(&finding("mould", "inside"), "mould", Some(TestReading::Open));
        case(&finding("musty smell", "inside; no mould to be seen"), "mould", None);
        case(
            &part("name = \"Back\", build = \"panel\", ground = \"plywood\""),
            "formaldehyde",
            Some(TestReading::Open),
        );
        case(
            &part("name = \"Back\", build = \"panel\"").replace("original", "removed"),
            "formaldehyde",
            None,
        );
    }

    #[test]
    fn every_row_can_be_raised_or_is_kept_for_reading() {
        // Nothing in a record could raise a rule for work on site, or one that holds for all that is sold.
        let silent = Trade::built_in().hazards.rows.iter().filter(|row| {
            row.implied_by.is_none()
                && row.finishes.is_empty()
                && row.treatments.is_empty()
                && (row.words.is_empty() || row.places.is_empty())
        });
        assert_eq!(
            silent.map(|row| row.id.0.as_str()).collect::<Vec<_>>(),
            ["general-safety-uk", "lead-paint-rrp"]
        );
    }
}
