//! Hazards that a record implies, for the bench and for the buyer.
//!
//! The table of hazards says in which state of a record each arises; this file knows the states. A hazard
//! is a possibility that the record does not rule out, never a finding: where a test cleared it it is
//! not raised, and the test is carried so that it can be said.

use super::mention::{mentions, runs, speaks_of};
use super::old_coat::{OldCoat, OldCoatKind, OldCoats};
use super::result::{TestReading, together};
use super::tested::{TestPlace, Tested, concerns, place, tested, tested_in_step};
use super::told::{fixing_texts, is_board, is_build, is_glass, part_says, part_texts, row_names, says};
use crate::derive::finish::stratigraphy::{Stratum, coating};
use crate::derive::finish::surface::SurfaceFacts;
use crate::derive::mended::{Mending, mending};
use crate::derive::years::ABOUT;
use crate::fields::{Id, Row, Said, Text};
use crate::record::{
    Act, Construction, Finding, Fixing, Folder, Part, PartId, Record, Region, Standing, Step, Surface, Tin,
    Undone, Work,
};
use crate::trade::{
    Finish, Group, Hazard, HazardPlace, HazardRegion, HazardSigns, HazardState, Listing, Taken, Timber,
    Trade, Treatment,
};
use crate::unit::Length;
use crate::unit::edtf::Bound;

/// Where the record tells of something that was used.
#[derive(Debug, Clone, PartialEq)]
pub enum UsedIn {
    /// In a step on this surface.
    Step(Row<Surface>, Row<Step>),
    /// In a work.
    Work(Row<Work>),
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
    /// A finish of this name lies on this surface today.
    Lies {
        /// The finish.
        finish: String,
        /// The surface.
        surface: Row<Surface>,
    },
    /// There is, or was, an old coat.
    Coat(OldCoat),
    /// A surface was abraded.
    Abraded {
        /// The surface.
        surface: Row<Surface>,
    },
    /// The work or its means mention this.
    Used {
        /// The word.
        word: String,
        /// Where.
        by: UsedIn,
    },
    /// A part's build or name says so.
    Part {
        /// The part's id.
        part: PartId,
    },
    /// A fixing's words say so.
    Fixing(Row<Fixing>),
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
    /// The kind of piece, or its title, says so.
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
    /// Those of them whose rule holds in the workshop's region.
    pub rules: Vec<String>,
    /// Why it is raised, each reason once: what was used and done, too, and what was taken off again.
    pub because: Vec<Because>,
    /// The reasons that hold of the piece as it stands.
    pub today: Vec<Because>,
    /// The tests that concern it, but for those of parts that are gone.
    pub tests: Vec<Tested>,
    /// What the tests show: a hazard that is `Negative` is cleared.
    pub reading: TestReading,
    /// The workshop's own cautions that speak of it.
    pub cautions: Vec<Said<Text>>,
    /// What the workshop says of its effect on the buyer, in the words of what was left.
    pub effects: Vec<Said<Text>>,
}

/// The hazards that a record implies, in the order of the table.
///
/// # Source
/// The rows of the table name theirs; which record implies which row is common practice, no source.
pub(in crate::derive) fn hazards(
    folder: &Folder,
    record: &Record,
    surfaces: &[SurfaceFacts],
    trade: &Trade,
) -> Vec<Implied> {
    let workshop = folder.workshop.as_ref();
    let tins = workshop.map_or(&[][..], |workshop| &workshop.tins);
    let region = region(folder);
    let (coats, bench, treated) = (Vec::new(), Vec::new(), Vec::new());
    let mut scene = HazardContext { record, surfaces, trade, tins, coats, bench, treated };
    scene.coats = scene.old_coats();
    scene.bench = scene.bench_texts().collect();
    scene.treated = scene
        .bench
        .iter()
        .filter_map(|(text, by)| Some((*text, by.clone(), trade.treatment(text)?)))
        .collect();
    let mut found: Vec<Implied> = Vec::new();
    for row in trade.hazards.rows.iter().filter(|row| holds_in(row, region, trade)) {
        let Some(implied) = scene.implied(row, region) else { continue };
        match found.iter_mut().find(|known| known.subject == implied.subject) {
            Some(known) => known.join(implied),
            None => found.push(implied),
        }
    }
    found
}

/// The region of the workshop, where it names one.
pub(in crate::derive) fn region(folder: &Folder) -> Option<Region> {
    folder.workshop.as_ref()?.region.as_ref().map(|region| region.value)
}

impl Implied {
    /// Takes in another row of the same hazard.
    fn join(&mut self, other: Implied) {
        fn add<T: PartialEq>(to: &mut Vec<T>, more: Vec<T>) {
            for one in more {
                if !to.contains(&one) {
                    to.push(one);
                }
            }
        }
        self.rows.extend(other.rows);
        self.rules.extend(other.rules);
        add(&mut self.because, other.because);
        add(&mut self.today, other.today);
        add(&mut self.tests, other.tests);
        add(&mut self.cautions, other.cautions);
        add(&mut self.effects, other.effects);
        self.reading = together([self.reading, other.reading]);
    }

    /// The old coats that raise it.
    pub fn coats(&self) -> impl Iterator<Item = &OldCoat> {
        self.because.iter().filter_map(|because| match because {
            Because::Coat(coat) => Some(coat),
            _ => None,
        })
    }
}

/// Whether a row is to be read in a workshop's region.
///
/// Without a region all are. Where no row of a hazard is of the region, all its rows are read: a
/// hazard does not end at a border, only the rule about it does.
fn holds_in(row: &Hazard, region: Option<Region>, trade: &Trade) -> bool {
    let Some(region) = region else { return true };
    let state = |row: &Hazard| row.implied_by.as_ref().map(|state| state.value);
    let alike = |other: &Hazard| other.subject() == row.subject() && state(other) == state(row);
    is_of(row, region) || !trade.hazards.rows.iter().any(|other| alike(other) && is_of(other, region))
}

/// Whether a row is about a region.
fn is_of(row: &Hazard, region: Region) -> bool {
    match row.region.value {
        HazardRegion::All => true,
        HazardRegion::UnitedKingdom => region == Region::UnitedKingdom,
        HazardRegion::Europe => region == Region::Europe,
        HazardRegion::UnitedKingdomAndEurope => [Region::UnitedKingdom, Region::Europe].contains(&region),
        HazardRegion::UnitedStates => region == Region::UnitedStates,
    }
}

/// What is looked at.
struct HazardContext<'a> {
    record: &'a Record,
    surfaces: &'a [SurfaceFacts],
    trade: &'a Trade,
    tins: &'a [Said<Tin>],
    coats: Vec<OldCoat>,
    /// What was used and done, in the record's words.
    bench: Vec<(&'a str, UsedIn)>,
    /// Those of them that a treatment is called by.
    treated: Vec<(&'a str, UsedIn, &'a Treatment)>,
}

impl<'a> HazardContext<'a> {
    /// What a row comes to; `None` where it does not apply.
    fn implied(&self, row: &Hazard, region: Option<Region>) -> Option<Implied> {
        let state = row.implied_by.as_ref().map(|state| state.value);
        let of_coats = [HazardState::OldCoating, HazardState::OldClearCoating];
        let is_of_coats = state.is_some_and(|state| of_coats.contains(&state));
        let mut because = match state {
            Some(state) => self.state(row, state),
            None => self.mentioned(row),
        };
        because.extend(self.finishes(row));
        because.extend(self.treatments(row));
        because.retain(|one| self.years_fit(row, one));
        let mut today: Vec<Because> = because.iter().filter(|one| self.is_of_today(one)).cloned().collect();
        if state == Some(HazardState::FlightHoles) {
            today.retain(|one| !self.was_mended(one));
        }
        if state == Some(HazardState::DryingOil) {
            today = self.renewed();
        }
        let tests: Vec<Tested> = self.tests(row).into_iter().map(|(_, test)| test).collect();
        let found = tests.iter().any(|test| test.reading == TestReading::Positive);
        // A test that was positive says more than any state or year.
        if because.is_empty() && found && state != Some(HazardState::OldClearCoating) {
            because.push(Because::Tested);
            today.push(Because::Tested);
        }
        if because.is_empty() && today.is_empty() {
            return None;
        }
        let reading = match is_of_coats {
            _ if found => TestReading::Positive,
            true => together(because.iter().filter_map(|one| match one {
                Because::Coat(coat) => Some(coat.reading),
                _ => None,
            })),
            // That nothing living was seen takes no holes away.
            false if state == Some(HazardState::FlightHoles) => TestReading::Open,
            false => together(tests.iter().map(|test| match test.clears(row) {
                true => TestReading::Negative,
                false => TestReading::Open,
            })),
        };
        let once = |all: Vec<Because>| {
            all.into_iter().fold(Vec::new(), |mut once, one| {
                if !once.contains(&one) {
                    once.push(one);
                }
                once
            })
        };
        let cautions = self.record.r#use.iter().flat_map(|used| &used.cautions);
        let effects = self.record.undone.iter().filter_map(|undone| undone.effect.as_ref());
        let holds = region.is_some_and(|region| is_of(row, region)) || row.region.value == HazardRegion::All;
        Some(Implied {
            subject: row.subject().to_owned(),
            rows: vec![row.id.0.clone()],
            rules: holds.then(|| row.id.0.clone()).into_iter().collect(),
            because: once(because),
            today: once(today),
            tests,
            reading,
            cautions: cautions.filter(|text| self.is_about(row, text)).cloned().collect(),
            effects: effects.filter(|text| self.is_about(row, text)).cloned().collect(),
        })
    }

    /// Whether a workshop's own words to the buyer speak of what a row is about.
    fn is_about(&self, row: &Hazard, text: &str) -> bool {
        let signs = row.implied_by.as_ref().and_then(|state| self.trade.hazards.signs(state.value));
        let terms = signs.iter().flat_map(|signs| &signs.terms).filter_map(|id| self.trade.term(&id.0));
        let treatments = row.treatments.iter().filter_map(|id| self.trade.treatment(&id.0));
        let names_kind = row.places.iter().all(|place| place.value == HazardPlace::Kind);
        let own = if names_kind { &[][..] } else { &row.words[..] };
        let words = own.iter().chain(&row.tests).chain(&row.said);
        let words = words.chain(signs.iter().flat_map(|signs| &signs.words));
        let words = words.map(|word| &*word.value);
        let of_terms = terms.flat_map(|term| [&term.label].into_iter().chain(&term.also));
        let of_treatments = treatments.flat_map(|one| [&one.label].into_iter().chain(&one.also));
        words.chain(of_terms.chain(of_treatments).map(|word| &*word.value)).any(|word| speaks_of(text, word))
    }

    /// Whether the years of making, as far as they are known, let a reason raise a row.
    ///
    /// A date of which any part is in doubt rules nothing out, as in the date check, and "about" reaches as far as there.
    fn years_fit(&self, row: &Hazard, because: &Because) -> bool {
        let Some(made) = self.record.made.as_ref().filter(|made| !made.is_uncertain()) else { return true };
        let span = made.years_allowing(ABOUT);
        let before = match (&row.made_before, span.earliest) {
            (Some(year), Bound::Year(earliest)) => earliest < year.0,
            _ => true,
        };
        let from = match (&row.made_from, span.latest) {
            (Some(year), Bound::Year(latest)) => latest >= year.0,
            _ => true,
        };
        // What came from elsewhere may be older than the piece.
        from && (before || self.parts_of(because).iter().any(|id| self.is_salvaged(id)))
    }

    fn is_salvaged(&self, id: &PartId) -> bool {
        self.part(id).is_some_and(|part| part.standing.value == Standing::Salvaged)
    }

    /// The parts that a reason is about; none where it is about the piece.
    fn parts_of(&self, because: &Because) -> Vec<PartId> {
        let ids = |said: &[Said<PartId>]| said.iter().map(|id| id.value.clone()).collect();
        match because {
            Because::Applied { surface, .. }
            | Because::Lies { surface, .. }
            | Because::Abraded { surface }
            | Because::Used { by: UsedIn::Step(surface, _), .. } => ids(&surface.parts),
            Because::Coat(coat) => coat.parts.clone(),
            Because::Used { by: UsedIn::Work(work), .. } => ids(&work.part),
            Because::Part { part } | Because::Timber { part, .. } => vec![part.clone()],
            Because::Fixing(fixing) => ids(&fixing.part),
            Because::Finding { finding } => ids(&finding.part),
            Because::Kind | Because::Height(_) | Because::HeightNotRecorded | Because::Tested => Vec::new(),
        }
    }

    /// Whether a reason holds of the piece as it stands: what it is about is still there.
    fn is_of_today(&self, because: &Because) -> bool {
        let parts = self.parts_of(because);
        let there = parts.is_empty() || parts.iter().any(|id| self.part(id).is_none_or(Part::present));
        let lies = match because {
            Because::Applied { finish, surface } => {
                self.surfaces.iter().filter(|facts| facts.surface.is(surface)).any(|facts| {
                    facts.today.layers.iter().any(|layer| {
                        self.family(layer).is_some_and(|family| *family.name.value.0 == **finish)
                    })
                })
            }
            _ => true,
        };
        there && lies
    }

    /// Whether it is a fault that work did away with, and of which nothing was left.
    fn was_mended(&self, because: &Because) -> bool {
        let Because::Finding { finding } = because else { return false };
        let left = |undone: &Row<Undone>| undone.leaves.iter().any(|id| id.value == finding.id.value);
        mending(self.record, finding).1 == Some(Mending::Held) && !self.record.undone.iter().any(left)
    }

    fn part(&self, id: &PartId) -> Option<&'a Part> {
        self.record.parts.iter().map(|part| &part.value).find(|part| part.id.value == *id)
    }

    fn family(&self, layer: &Stratum) -> Option<&'a Finish> {
        self.trade.finish(layer.coat.finish.as_deref()?)
    }

    /// The finishes on it today whose cloths heat up and with which its owner may renew it: what this workshop laid and
    /// is renewed, and oil that was found.
    fn renewed(&self) -> Vec<Because> {
        let oil = |finish: &Finish| [Group::Oil, Group::OilVarnish].contains(&finish.group.value);
        let laid = |finish: &Finish| oil(finish) || finish.renew_months.is_some();
        let mut renewed = Vec::new();
        for facts in self.surfaces {
            let there = facts.surface.parts.is_empty()
                || facts.surface.parts.iter().any(|id| self.part(&id.value).is_none_or(Part::present));
            for layer in facts.today.layers.iter().filter(|_| there) {
                let Some(finish) = self.family(layer) else { continue };
                let heats = |finish: &Finish| finish.rags_self_heat.value;
                let is = match layer.coat.step {
                    Some(_) => self.trade.finishes_meant(finish).any(|one| heats(one) && laid(one)),
                    None => heats(finish) && oil(finish),
                };
                if is {
                    let finish = finish.name.to_string();
                    renewed.push(Because::Lies { finish, surface: facts.surface.clone() });
                }
            }
        }
        renewed
    }

    /// Why a state raises a row.
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
                parts(&|part| is_glass(part) && !part_says(part, safe) && row_names(row, part))
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
                holes.chain(self.mentioned(row)).collect()
            }
            HazardState::Asked => {
                let named = self.mentioned(row);
                // A test that was declared not made says that the question was asked.
                match named.is_empty() && !self.tests(row).is_empty() {
                    true => vec![Because::Tested],
                    false => named,
                }
            }
            HazardState::OldCoating => self.coats(|kind| kind != OldCoatKind::Clear),
            HazardState::OldClearCoating => self.coats(|kind| kind == OldCoatKind::Clear),
        }
    }

    // ---- What was done ----

    fn steps(&self) -> impl Iterator<Item = (&'a Row<Surface>, &'a Row<Step>)> {
        let surfaces = self.record.surfaces.iter();
        surfaces.flat_map(|surface| surface.steps.iter().map(move |step| (surface, step)))
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
        let of_row = |named: &Treatment| {
            let mut meant = std::iter::once(&named.id.value).chain(named.may_be.iter().map(|id| &id.value));
            meant.any(|id| row.treatments.iter().any(|of| of.value == *id))
        };
        let used = self.treated.iter().filter(|(_, _, named)| of_row(named));
        used.map(|(text, by, _)| Because::Used { word: (*text).to_owned(), by: by.clone() }).collect()
    }

    fn abraded(&self) -> impl Iterator<Item = Because> {
        self.steps()
            .filter(|(_, step)| !step.abrade.is_empty() || step.abrade_between.is_some())
            .map(|(surface, _)| Because::Abraded { surface: surface.clone() })
    }

    // ---- Old coats ----

    /// The old coats of the record, judged by the tests for lead.
    fn old_coats(&self) -> Vec<OldCoat> {
        let Some(row) = self.trade.hazards.rows.iter().find(|row| row.is_of(HazardState::OldCoating)) else {
            return Vec::new();
        };
        let (record, surfaces, tins, trade) = (self.record, self.surfaces, self.tins, self.trade);
        OldCoats { record, surfaces, tins, trade, row, tests: self.tests(row) }.all()
    }

    fn coats(&self, of: impl Fn(OldCoatKind) -> bool) -> Vec<Because> {
        self.coats.iter().filter(|coat| of(coat.kind)).cloned().map(Because::Coat).collect()
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

    /// The listed timbers that parts are of: by the fields for it, and else by whatever names one.
    fn listed_timbers(&self) -> Vec<Because> {
        let mut named = Vec::new();
        for part in self.record.parts.iter().filter(|part| part.present()) {
            let lipping = part.lipping.as_ref().map(|lipping| &lipping.timber);
            let fields = [part.timber.as_ref(), part.veneer.as_ref(), lipping];
            let told = fields.into_iter().flatten().filter_map(|name| name.known().map(|name| &**name));
            let mut here: Vec<Because> = told.filter_map(|name| self.listed(part, name)).collect();
            if here.is_empty() {
                here = self.mentioned_timbers(part);
            }
            named.extend(here);
        }
        named
    }

    /// A part of a timber that is listed, or may be, by the word in a field for it.
    fn listed(&self, part: &Part, word: &str) -> Option<Because> {
        let (timber, listing) = match self.trade.timber_words().taken(word) {
            Taken::Row(timber) => {
                let told = if timber.is_generic() { word.to_owned() } else { timber.name.to_string() };
                (told, self.trade.listing(timber)?)
            }
            Taken::Asked(several) => (word.to_owned(), self.doubtful(&self.meant(&several.may_be))?),
            Taken::Between(rows) => (word.to_owned(), self.doubtful(&rows)?),
            Taken::Elsewhere(_) | Taken::Unknown => return None,
        };
        Some(Because::Timber { part: part.id.value.clone(), timber, listing })
    }

    /// The strictest listing of what a word may mean.
    fn doubtful(&self, rows: &[&Timber]) -> Option<Listing> {
        let listings = rows.iter().filter_map(|row| self.trade.listing(row));
        listings.min_by_key(|listing| listing.appendix).map(|listing| Listing { certain: false, ..listing })
    }

    fn meant(&self, ids: &[Said<Id>]) -> Vec<&'a Timber> {
        ids.iter().filter_map(|id| self.trade.timber(&id.0)).collect()
    }

    /// The listed timbers that the words of a part mention, each by the longest of its names there.
    fn mentioned_timbers(&self, part: &Part) -> Vec<Because> {
        let words = self.trade.timber_words();
        let mut found: Vec<(String, Listing)> = Vec::new();
        for run in part_texts(part).flat_map(|text| runs(text, 3)) {
            let listing = match words.form(&run) {
                Some(timber) => self.trade.listing(timber),
                None => words.question(&run).and_then(|row| self.doubtful(&self.meant(&row.may_be))),
            };
            found.extend(listing.map(|listing| (run, listing)));
        }
        // A name that runs on is the better one: Brazilian rosewood, and not rosewood.
        let all: Vec<String> = found.iter().map(|(name, _)| name.clone()).collect();
        found.retain(|(name, _)| !all.iter().any(|other| other != name && mentions(other, name)));
        let because = |(timber, listing): (String, Listing)| Because::Timber {
            part: part.id.value.clone(),
            timber,
            listing,
        };
        found.into_iter().map(because).collect()
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
                    let absent = [Standing::Removed, Standing::Missing];
                    let fixings =
                        self.record.fixings.iter().filter(|fixing| !absent.contains(&fixing.standing.value));
                    let fixings = fixings.filter(|fixing| fixing_texts(fixing).any(&has));
                    because.extend(fixings.map(|fixing| Because::Fixing(fixing.clone())));
                }
                HazardPlace::Findings => because.extend(self.findings(&has)),
                HazardPlace::Bench => because.extend(self.used(&row.words)),
            }
        }
        because.extend(self.used(&row.done));
        because
    }

    /// What was used, by these words.
    fn used(&self, words: &[Said<Text>]) -> Vec<Because> {
        let mut used = Vec::new();
        for (text, by) in &self.bench {
            let told: Vec<&Said<Text>> = words.iter().filter(|word| mentions(text, word)).collect();
            // White spirit is spirit too, and is said once.
            let longer = |word: &Text| told.iter().any(|other| other.value != *word && mentions(other, word));
            let told = told.iter().filter(|word| !longer(&word.value));
            used.extend(told.map(|word| Because::Used { word: word.to_string(), by: by.clone() }));
        }
        used
    }

    /// Findings whose words, terms or extent tell something, and do not take it back.
    fn findings(&self, tells: impl Fn(&str) -> bool) -> impl Iterator<Item = Because> {
        let tells = move |finding: &Finding| {
            tells(&finding.seen) || finding.extent.as_ref().is_some_and(|extent| tells(extent))
        };
        let findings = self.record.findings.iter().filter(move |finding| tells(finding));
        findings.map(|finding| Because::Finding { finding: finding.clone() })
    }

    /// Whether what was seen tells of a state.
    fn is_told(&self, state: HazardState, seen: &str) -> bool {
        let signs = self.signs(state);
        let term = self.trade.term(seen);
        let by_term = term.is_some_and(|term| signs.terms.iter().any(|id| id.0 == term.id.0));
        by_term || says(seen, &signs.words)
    }

    fn signs(&self, state: HazardState) -> &'a HazardSigns {
        self.trade.hazards.signs(state).expect("the table tells of the state, and a test looks")
    }

    /// What was used and done, in the record's words.
    fn bench_texts(&self) -> impl Iterator<Item = (&'a str, UsedIn)> {
        let steps = self.steps().flat_map(|(surface, step)| {
            let clean = step.clean.iter().map(|text| &***text);
            let remove = step.remove.iter().map(|what| &***what);
            let by = step.by.iter().map(|text| &***text);
            let mixed = step.mix.iter().map(|mix| &**mix.of);
            // What is applied and is no finish was used.
            let applied = step
                .apply
                .iter()
                .filter(|what| what.tin().is_none() && self.trade.treatment_for_finish(what).is_some());
            let texts = clean.chain(remove).chain(by).chain(mixed).chain(applied.map(|what| &***what));
            texts.map(move |text| (text, UsedIn::Step(surface.clone(), step.clone())))
        });
        let works = self.record.works.iter().flat_map(|work| {
            let texts = [Some(&work.did), work.by.as_ref()].into_iter().flatten();
            texts.map(move |text| (&***text, UsedIn::Work(work.clone())))
        });
        steps.chain(works)
    }

    // ---- Tests ----

    /// The tests that concern a row, and where they were made; those of parts that are gone tell nothing of the piece.
    fn tests(&self, row: &Hazard) -> Vec<(TestPlace, Tested)> {
        let text = |text: Option<&str>| text.unwrap_or_default().to_owned();
        let concerning =
            |of: &str, by: Option<&str>, result: Option<&str>| concerns(row, of, &text(by), &text(result));
        let tests = self
            .record
            .tests
            .iter()
            .filter(|test| concerning(&test.of, test.by.as_ref().map(|by| &***by), Some(&test.result)));
        let tests = tests.map(|test| (place(test), tested(test, row, self.trade)));
        let steps = self.steps().filter_map(|(surface, step)| match step.act() {
            Some(Act::Test(of))
                if concerning(
                    of,
                    step.by.as_ref().map(|by| &***by),
                    step.result.as_ref().map(|result| &***result),
                ) =>
            {
                let test = tested_in_step(of, step, surface, row, self.trade);
                Some((TestPlace::Surface(surface.clone()), test))
            }
            _ => None,
        });
        let there = |test: &Tested| {
            test.parts.is_empty() || test.parts.iter().any(|id| self.part(id).is_none_or(Part::present))
        };
        tests.chain(steps).filter(|(_, test)| there(test)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record;
    use crate::source::Tree;

    /// The means of a test, where it has any.
    fn means(by: &str) -> String {
        if by.is_empty() { String::new() } else { format!("by = \"{by}\", ") }
    }

    /// What a record implies, a line each: subject and verdict.
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
        let piece = &folder.pieces[0];
        let record = piece.record.as_ref().expect("it was read");
        let facts = crate::derive::facts(&folder, piece, record, None, Trade::built_in());
        facts.hazards.iter().map(|found| format!("{} {:?}", found.subject, found.reading)).collect()
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
        // Whoever renews an oil that was found wets cloths with it; an old finish may be anything.
        case(&surface("found = \"boiled-linseed-oil\",", ""), "rags", Some(TestReading::Open));
        case(&surface("found = \"old-finish\",", ""), "rags", None);
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
        let tested = |by: &str, result: &str| {
            let step = format!("{{ test = \"lead\", {}result = \"{result}\" }}", means(by));
            surface("found = \"oil-paint\",", &step)
        };
        let chip = "laboratory, a chip through all coats";
        case(&tested(chip, "negative"), "lead", Some(TestReading::Negative));
        case(&tested(chip, "not above the limit"), "lead", Some(TestReading::Negative));
        case(&tested(chip, "positive in the oldest coat"), "lead", Some(TestReading::Positive));
        case(&tested("swab", "positive in the oldest coat"), "lead", Some(TestReading::Positive));
        case(&tested("", "not-tested"), "lead", Some(TestReading::Open));
        let two = "part = [{ id = \"a\", name = \"A\", standing = \"original\" }, { id = \"b\", name = \"B\", standing = \"original\" }]
surface = [{ parts = \"a\", found = \"oil-paint\" }, { parts = \"b\", found = \"oil-paint\" }]
";
        let trial = |rest: &str| {
            format!("{two}test = [{{ of = \"lead\", by = \"{chip}\", {rest} result = \"negative\" }}]")
        };
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

    /// A test of an old coat of this name, by these means, that found nothing.
    fn found_none(coat: &str, by: &str) -> String {
        let test = format!("{{ test = \"lead\", {}result = \"negative\" }}", means(by));
        surface(&format!("found = \"{coat}\","), &test)
    }

    #[test]
    fn only_a_laboratory_or_an_instrument_through_all_coats_clears() {
        // "None of the kits consistently detected lead in products if the lead was covered" (US Consumer Product Safety
        // Commission, news release of 22 October 2007).
        for by in ["swab", "rub test", "lead test kit, three places", "wipe sent to a laboratory", ""] {
            case(&found_none("oil-paint", by), "lead", Some(TestReading::Open));
        }
        for by in ["laboratory", "laboratory, chip of the top coat", "XRF", "X-ray, not through all coats"] {
            case(&found_none("oil-paint", by), "lead", Some(TestReading::Open));
        }
        for by in ["laboratory, chip to bare wood", "X-ray fluorescence through all coats", "lab, every coat"]
        {
            case(&found_none("oil-paint", by), "lead", Some(TestReading::Negative));
        }
        // "no lead in varnish samples exceeded 1.0 mg/cm2, but 52% exceeded 5000 ppm" (J Occup Environ Hyg 9 (2012),
        // 280-287, abstract).
        let area = "X-ray through all coats, below 1.0 mg/cm2";
        for coat in ["oleoresinous-varnish", "old-finish", "unknown"] {
            case(&found_none(coat, area), "lead", Some(TestReading::Open));
            case(
                &found_none(coat, "X-ray through all coats, 40 ppm by weight"),
                "lead",
                Some(TestReading::Negative),
            );
        }
    }

    #[test]
    fn two_tests_that_disagree_leave_the_worse() {
        let chip = "laboratory, chip through all coats";
        let both = format!(
            "{{ test = \"lead\", by = \"{chip}\", result = \"negative\" }}, \
             {{ test = \"lead\", by = \"swab\", result = \"positive\" }}"
        );
        case(&surface("found = \"oil-paint\",", &both), "lead", Some(TestReading::Positive));
        // One that could not be read takes nothing back from one that could.
        let unread = both.replace("positive", "not-tested");
        case(&surface("found = \"oil-paint\",", &unread), "lead", Some(TestReading::Negative));
        let nonsense = both.replace("negative", "see sheet 4").replace("positive", "pinkish?");
        case(&surface("found = \"oil-paint\",", &nonsense), "lead", Some(TestReading::Open));
    }

    #[test]
    fn paint_that_only_a_finding_or_a_work_tells() {
        let seen = |seen: &str| {
            format!(
                "{}finding = [{{ id = \"f\", part = \"a\", seen = \"{seen}\" }}]\n",
                part("name = \"Top\"")
            )
        };
        for text in
            ["flaking paint", "painted over", "three coats of paint, the lowest white", "lead-paint-risk"]
        {
            case(&seen(text), "lead", Some(TestReading::Open));
        }
        for text in ["no paint left", "scratch", "paint spots", "smells of paint"] {
            case(&seen(text), "lead", None);
        }
        case(&format!("made = \"1995\"\n{}", seen("flaking paint")), "lead", None);
        case(&seen("flaking paint").replace("original", "removed"), "lead", None);
        case(&seen("flaking paint").replace("original", "new"), "lead", None);
        let did =
            |did: &str| format!("{}work = [{{ did = \"{did}\", part = \"a\" }}]\n", part("name = \"Top\""));
        for text in
            ["sanded off the old paint", "stripped the thick green paint", "the veneer was painted over"]
        {
            case(&did(text), "lead", Some(TestReading::Open));
        }
        for text in ["two coats of milk paint", "painted the top", "sanded it, then brushed on white paint"] {
            case(&did(text), "lead", None);
        }
    }

    #[test]
    fn old_clear_coats_count_by_age_and_kind() {
        let made = |made: &str, coat: &str| {
            format!("made = \"{made}\"\n{}", surface(&format!("found = \"{coat}\","), ""))
        };
        case(&made("1890", "oleoresinous-varnish"), "lead", Some(TestReading::Open));
        case(&made("1890", "boiled-linseed-oil"), "lead", Some(TestReading::Open));
        case(&made("1975", "oleoresinous-varnish"), "lead", None);
        case(&made("1890", "shellac"), "lead", None);
        case(&made("1890", "paste-wax"), "lead", None);
    }

    #[test]
    fn what_came_from_elsewhere_may_be_older_and_what_is_gone_is_history() {
        let old = |standing: &str| {
            let record = format!("made = \"2015\"\n{}", surface("found = \"oil-paint\",", ""));
            record.replace("original", standing)
        };
        case(&old("salvaged"), "lead", Some(TestReading::Open));
        case(&old("original"), "lead", None);
        let gone = surface("found = \"oil-paint\",", "").replace("original", "removed");
        case(&gone, "lead", None);
        // A test of a part that is gone tells nothing of the piece.
        let positive = "test = [{ of = \"lead\", part = \"a\", result = \"positive\" }]";
        case(&format!("{gone}{positive}"), "lead", None);
        case(
            &format!("made = \"2015?\"\n{}", surface("found = \"oil-paint\",", "")),
            "lead",
            Some(TestReading::Open),
        );
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
        case("work = [{ did = \"stripped it in hot lye\" }]", "caustic-stripping", Some(TestReading::Open));
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
        let label = "test = [{ of = \"fire label\", result = \"present\" }]";
        case(
            &format!("{}{label}", part("name = \"Foam cushion\"")),
            "upholstery",
            Some(TestReading::Negative),
        );
        let label = "test = [{ of = \"fire label\", result = \"none found\" }]";
        case(&format!("{}{label}", part("name = \"Foam cushion\"")), "upholstery", Some(TestReading::Open));
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
        case(&part("name = \"Rosewood stringing\""), "cites-wood", Some(TestReading::Open));
        case(&part("name = \"Banding\", note = \"tulipwood\""), "cites-wood", Some(TestReading::Open));
        case(&part("name = \"Banding\", veneer = \"tulipwood\""), "cites-wood", Some(TestReading::Open));
        case(&part("name = \"Top\", note = \"no rosewood, but stained birch\""), "cites-wood", None);
        case(&part("name = \"Top\", note = \"rosewood graining\""), "cites-wood", None);
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
        let finding = |seen: &str| format!("finding = [{{ id = \"f\", seen = \"{seen}\" }}]\n");
        let holes = finding("flight holes");
        // Holes alone do not say that anybody treated them.
        case(&holes, "old-woodworm-treatment", None);
        case(&holes, "woodworm", Some(TestReading::Open));
        case(&finding("no flight holes"), "woodworm", None);
        case(&finding("smell of old insecticide"), "old-woodworm-treatment", Some(TestReading::Open));
        let late = format!("made = \"1995\"\n{}", finding("smell of old insecticide"));
        case(&late, "old-woodworm-treatment", None);
        case(&finding("scratch"), "woodworm", None);
        for seen in ["worm", "woodworm, looked dead", "wormed foot"] {
            case(&finding(seen), "woodworm", Some(TestReading::Open));
        }
        // A wormed board is one that worms were in.
        let cut = "work = [{ did = \"cut out the wormed board\" }]";
        case(cut, "insecticide-used", None);
        let treated = |by: &str, result: &str| {
            format!(
                "test = [{{ of = \"old treatment against beetle\", {}result = \"{result}\" }}]",
                means(by)
            )
        };
        case(&treated("", "not-tested"), "old-woodworm-treatment", Some(TestReading::Open));
        let smell = finding("smell of old insecticide");
        case(
            &format!("{smell}{}", treated("laboratory", "negative")),
            "old-woodworm-treatment",
            Some(TestReading::Negative),
        );
        case(
            &format!("{smell}{}", treated("nose", "negative")),
            "old-woodworm-treatment",
            Some(TestReading::Open),
        );
        let living = "test = [{ of = \"living beetle\", result = \"none seen over a summer\" }]";
        case(&format!("{holes}{living}"), "woodworm", Some(TestReading::Open));
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
    fn beds_boards_for_food_and_what_is_named_anywhere() {
        case("kind = \"bed/bunk\"", "bunk-bed", Some(TestReading::Open));
        case("kind = \"bed/cot\"", "cot", Some(TestReading::Open));
        case("kind = \"kitchen/bread board\"", "food-contact", Some(TestReading::Open));
        case(&part("name = \"Asbestos board\""), "asbestos", Some(TestReading::Open));
        case(&part("name = \"Lining\", material = \"millboard\""), "asbestos", Some(TestReading::Open));
        case(
            &format!("made = \"1890\"\n{}", part("name = \"Looking glass\"")),
            "tin-mercury-mirror",
            Some(TestReading::Open),
        );
        case("work = [{ did = \"bleached it with oxalic acid\" }]", "oxalic-acid", Some(TestReading::Open));
        case("work = [{ did = \"sprayed with permethrin\" }]", "insecticide-used", Some(TestReading::Open));
        case("work = [{ did = \"no insecticide was used\" }]", "insecticide-used", None);
        case("work = [{ did = \"fitted new mains flex\" }]", "electrics", Some(TestReading::Open));
        case("work = [{ did = \"drilled it with an electric drill\" }]", "electrics", None);
        case("work = [{ did = \"laid foam under the clamp\" }]", "flame-retardant-foam", None);
        case("work = [{ did = \"painted it ivory\" }]", "ivory-uk", None);
        case("work = [{ did = \"filled with epoxy\" }]", "epoxy", Some(TestReading::Open));
        case(
            "finding = [{ id = \"f\", seen = \"old foam, crumbling\" }]",
            "flame-retardant-foam",
            Some(TestReading::Open),
        );
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
