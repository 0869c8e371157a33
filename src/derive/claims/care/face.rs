//! How each face is looked after: by all that lies on it, and not by the uppermost alone.

use super::super::finishes::{laid_or_found, surface_name};
use super::super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::derive::face::{Face, Lying, ReadFrom, Refusal, Soundness};
use crate::derive::finish::stratigraphy::Coat;
use crate::derive::finish::surface::SurfaceFacts;
use crate::derive::hazard::implied::Because;
use crate::derive::hazard::result::TestReading;
use crate::derive::name::{part_by_id, seen};
use crate::record::{FinishName, PartId};
use crate::trade::{Agent, BARE_WOOD, DampCloth, Finish, Rating, Trade};

/// What is asked of a face; the order is that of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CareRow {
    /// What lies on it.
    On,
    /// How to dust it.
    Dust,
    /// How to clean it.
    Clean,
    /// What to do about a spill.
    Spill,
    /// Hot things, and the rings of wet ones.
    Heat,
    /// How to renew it.
    Renew,
    /// What is never used on it.
    Never,
}

/// How faces that are looked after alike are.
#[derive(Debug, Clone)]
pub struct FaceCare {
    /// What they are called.
    pub heading: Message,
    /// Whether nothing lies on them: the material is its own surface.
    pub is_bare: bool,
    /// What is on them, and what to do with it, row by row.
    pub claims: Vec<(CareRow, Claim)>,
}

/// The faces of all surfaces; those that are looked after alike stand together.
pub(super) fn faces(telling: &Telling<'_>) -> Vec<FaceCare> {
    let mut told: Vec<(Vec<Value>, FaceCare)> = Vec::new();
    for (facts, face) in all(telling) {
        let name = match facts.faces.len() {
            1 => surface_name(telling, facts),
            _ => Value::from(part_names(telling, &face.parts)),
        };
        let claims = Looked { telling, facts, face }.claims();
        let alike = |(_, other): &&mut (Vec<Value>, FaceCare)| {
            let messages = |claims: &[(CareRow, Claim)]| -> Vec<Message> {
                claims.iter().map(|(_, claim)| claim.message.clone()).collect()
            };
            messages(&other.claims) == messages(&claims)
        };
        match told.iter_mut().find(alike) {
            Some((names, other)) => {
                names.push(name);
                for ((_, one), (_, same)) in other.claims.iter_mut().zip(claims) {
                    *one = one.clone().and_all(same.basis().iter().cloned());
                }
            }
            None => {
                let is_bare = face.own_material.is_some();
                let heading = says!("heading-face", faces = Value::All(Vec::new()));
                told.push((vec![name], FaceCare { heading, is_bare, claims }));
            }
        }
    }
    let named = |(names, face): (Vec<Value>, FaceCare)| FaceCare {
        heading: says!("heading-face", faces = Value::All(names)),
        ..face
    };
    told.into_iter().map(named).collect()
}

/// Every face with its surface.
fn all<'a>(telling: &'a Telling<'_>) -> impl Iterator<Item = (&'a SurfaceFacts, &'a Face)> {
    telling.facts.surfaces.iter().flat_map(|facts| facts.faces.iter().map(move |face| (facts, face)))
}

/// What an owner renews that makes cloths catch fire, once for the piece.
pub(super) fn cloths(telling: &Telling<'_>) -> Vec<Claim> {
    let renewed = all(telling).filter_map(|(facts, face)| {
        let looked = Looked { telling, facts, face };
        let finish = looked.renewed_by().filter(|finish| finish.rags_self_heat.value)?;
        Some(looked.of_table(says!("care-cloths"), finish))
    });
    renewed.reduce(|one, other| one.and_all(other.basis().iter().cloned())).into_iter().collect()
}

fn part_names(telling: &Telling<'_>, parts: &[PartId]) -> Vec<String> {
    parts.iter().map(|part| part_by_id(telling.record, part)).collect()
}

/// One face with what its claims are made from.
struct Looked<'a> {
    telling: &'a Telling<'a>,
    facts: &'a SurfaceFacts,
    face: &'a Face,
}

impl Looked<'_> {
    fn claims(&self) -> Vec<(CareRow, Claim)> {
        let rows = [
            (CareRow::On, Some(self.on())),
            (CareRow::Dust, Some(self.dust())),
            (CareRow::Clean, Some(self.clean())),
            (CareRow::Spill, Some(self.spill())),
            (CareRow::Heat, self.ring()),
            (self.row_of_alcohol(), self.alcohol()),
            (CareRow::Heat, self.heat()),
            (CareRow::Renew, Some(self.renew())),
            (CareRow::Never, self.never()),
        ];
        let mut claims: Vec<(CareRow, Claim)> =
            rows.into_iter().filter_map(|(row, claim)| Some((row, claim?))).collect();
        claims.sort_by_key(|(row, _)| *row);
        claims
    }

    fn trade(&self) -> &Trade {
        self.telling.trade
    }

    fn coat(&self, place: usize) -> &Coat {
        &self.facts.today.layers[place].coat
    }

    /// The finish whose texts hold whole for this face: the material itself, or the exposed layer where nothing that can
    /// be reached below is more delicate.
    fn exposed(&self) -> Option<&Finish> {
        let exposed = self.face.exposed()?;
        self.trade().finish(self.coat(exposed.place?).finish.as_deref()?)
    }

    fn own(&self) -> Option<&Finish> {
        self.trade().finish(self.face.own_material.as_deref()?)
    }

    /// A layer as it stands within a sentence.
    fn name(&self, place: usize) -> Message {
        layer_name(self.coat(place), self.trade())
    }

    fn names<'b>(&self, layers: impl IntoIterator<Item = &'b Lying>) -> Value {
        let mut names: Vec<Message> =
            layers.into_iter().filter_map(|layer| layer.place).map(|place| self.name(place)).collect();
        names.dedup();
        Value::All(names.into_iter().map(Value::from).collect())
    }

    /// What a layer is known by: where it was laid or found, and what a test told of it.
    fn known_by(&self, layer: &Lying) -> Vec<Basis> {
        let telling = self.telling;
        let Some(place) = layer.place else { return vec![telling.ground.unsaid("surface.found")] };
        let coat = self.coat(place);
        let mut basis = vec![laid_or_found(telling, self.facts, coat)];
        basis.extend(layer.read.iter().map(|(_, from)| match from {
            ReadFrom::Step(step) => telling.row(step, "surface.steps.test"),
            ReadFrom::Test(test) => telling.row(test, "test"),
        }));
        if let Soundness::Opened(finding) = &layer.soundness {
            basis.push(telling.row(finding, "finding"));
        }
        basis
    }

    /// A claim that rests on layers, and on what the table says of how they bear what they meet.
    fn resting<'b>(&self, message: Message, layers: impl IntoIterator<Item = &'b Lying>) -> Claim {
        let mut claim = Claim::new(message, self.telling.row(&self.facts.surface, "surface"));
        for layer in layers {
            claim = claim.and_all(self.known_by(layer));
            let finish = layer.place.and_then(|place| self.coat(place).finish.as_ref());
            claim = match (&layer.read, finish) {
                (Some((reading, _)), _) => claim.and(Basis::table("reading", reading.clone())),
                (None, Some(finish)) => claim.and(Basis::table("resistance", finish.clone())),
                (None, None) => claim,
            };
        }
        claim
    }

    /// A claim in the words of the table.
    fn of_table(&self, message: Message, finish: &Finish) -> Claim {
        self.resting(message, self.face.exposed()).and(Basis::table("finish", finish.id.0.clone()))
    }

    fn on(&self) -> Claim {
        let face = self.face;
        let named: Vec<&Lying> = face.layers.iter().filter(|layer| layer.place.is_some()).collect();
        let mut said = vec![match named.as_slice() {
            [] if face.own_material.as_deref() == Some(BARE_WOOD) => says!("care-bare-wood"),
            [] => says!("care-nothing-recorded"),
            [only] => says!("care-coat", coat = self.names([*only])),
            several => {
                let names = several.iter().filter_map(|layer| layer.place);
                let names: Vec<Value> = names.map(|place| Value::from(self.name(place))).collect();
                says!("care-coats", coats = Value::Series(names))
            }
        }];
        for layer in &named {
            let place = layer.place.expect("it is one that is recorded");
            if let Some((reading, _)) = &layer.read
                && let Some(row) = self.trade().reading_by_id(reading)
            {
                said.push(says!("care-read", coat = self.name(place), says = &row.says));
            }
            if let Soundness::Opened(finding) = &layer.soundness {
                let seen = seen(&finding.seen, self.trade());
                said.push(says!("care-opened", coat = self.name(place), seen = seen));
            }
        }
        let unidentified =
            named.iter().copied().filter(|layer| layer.read.is_none() && self.is_generic(layer));
        let unidentified: Vec<&Lying> = unidentified.collect();
        if !unidentified.is_empty() {
            said.push(says!("care-not-identified", coats = self.names(unidentified)));
        }
        if !named.is_empty() && face.layers.iter().any(|layer| layer.place.is_none()) {
            said.push(says!("care-below-not-recorded"));
        }
        let message = says!("care-on", said = Value::Sentences(said), brief = self.stack());
        self.resting(message, &face.layers)
    }

    /// The layers in a few words, the uppermost first.
    fn stack(&self) -> Message {
        let name = |layer: &Lying| layer.place.map_or(says!("coat-not-recorded"), |place| self.name(place));
        let mut names: Vec<Message> = self.face.layers.iter().map(name).collect();
        names.dedup();
        match names.as_slice() {
            [] if self.face.own_material.as_deref() == Some(BARE_WOOD) => says!("care-bare-wood"),
            [] => says!("care-nothing-recorded"),
            [only] => says!("care-coat", coat = only.clone()),
            [top, below @ ..] => {
                let below = below.iter().cloned().map(Value::from).collect();
                says!("care-stack", top = top.clone(), below = Value::Series(below))
            }
        }
    }

    fn is_generic(&self, layer: &Lying) -> bool {
        let Some(place) = layer.place else { return false };
        let finish = self.coat(place).finish.as_deref().and_then(|id| self.trade().finish(id));
        finish.is_none_or(|finish| finish.is_generic() || finish.is_old())
    }

    /// Whether the exposed layer bears as much as the face as a whole does, so that its own advice on cloths holds.
    fn exposed_decides(&self) -> Option<&Finish> {
        let exposed = self.face.exposed()?;
        let holds = exposed.soundness == Soundness::Whole
            && exposed.read.is_none()
            && exposed.bears.damp_cloth == self.face.damp_cloth()
            && !self.face.brush_only();
        self.exposed().filter(|_| holds)
    }

    fn dust(&self) -> Claim {
        if let Some(finish) = self.own().or_else(|| self.exposed_decides()) {
            return self.of_table(says!("care-dust", text = &finish.dust), finish);
        }
        let message = match self.face.brush_only() {
            true => says!("care-dust-brush"),
            false => says!("care-dust-dry"),
        };
        self.resting(message, self.face.reached(Agent::Abrasion))
    }

    fn clean(&self) -> Claim {
        if let Some(finish) = self.own().or_else(|| self.exposed_decides()) {
            return self.of_table(says!("care-clean", text = &finish.clean, brief = self.cloth()), finish);
        }
        self.resting(self.cloth(), self.face.reached(Agent::Water))
    }

    /// How damp a cloth may be, in words.
    fn cloth(&self) -> Message {
        match self.face.damp_cloth() {
            _ if self.face.brush_only() => says!("care-clean-not"),
            DampCloth::Yes => says!("care-clean-yes"),
            DampCloth::Barely => says!("care-clean-barely"),
            DampCloth::No => says!("care-clean-no"),
        }
    }

    fn spill(&self) -> Claim {
        let face = self.face;
        if let Some(finish) = self.own() {
            let said = says!("care-spill-text", text = &finish.spill);
            let message = says!("care-spill", said = Value::Sentences(vec![said]));
            return self.of_table(message, finish);
        }
        let tenderest = face.tenderest(Agent::Water);
        let mut said = vec![match face.worst(Agent::Water) {
            _ if face.brush_only() => says!("care-spill-not-touched"),
            Rating::None => says!("care-spill-none"),
            Rating::Low => says!("care-spill-low"),
            Rating::High if not_known(&tenderest) => says!("care-spill-not-known"),
            Rating::High => says!("care-spill-high", coats = self.names(tenderest)),
        }];
        if face.reaches_wood(Agent::Water) && !face.brush_only() {
            said.push(says!("care-spill-wood"));
        }
        let message = says!("care-spill", said = Value::Sentences(said));
        self.resting(message, face.reached(Agent::Water))
    }

    /// What alcohol marks is kept away from it; what it marks only after a while is a spill.
    fn row_of_alcohol(&self) -> CareRow {
        if self.face.worst(Agent::Alcohol) == Rating::High { CareRow::Never } else { CareRow::Spill }
    }

    /// Rings are spoken of where the material is its own surface: what to do about one in a coat is asked.
    fn ring(&self) -> Option<Claim> {
        let finish = self.own()?;
        Some(self.of_table(says!("care-ring", text = &finish.ring), finish))
    }

    fn alcohol(&self) -> Option<Claim> {
        let face = self.face;
        let tenderest = face.tenderest(Agent::Alcohol);
        let message = match face.worst(Agent::Alcohol) {
            _ if self.own().is_some() => return None,
            Rating::None => return None,
            Rating::Low => says!("care-alcohol-low"),
            Rating::High if not_known(&tenderest) => says!("care-alcohol-not-known"),
            Rating::High => match face.exposed().filter(|exposed| !tenderest.contains(exposed)) {
                Some(over) => {
                    says!("care-alcohol-through", over = self.names([over]), coats = self.names(tenderest))
                }
                None => says!("care-alcohol-high", coats = self.names(tenderest)),
            },
        };
        Some(self.resting(message, face.reached(Agent::Alcohol)))
    }

    fn heat(&self) -> Option<Claim> {
        let face = self.face;
        let by = [Agent::DryHeat, Agent::WetHeat];
        let worst = by.map(|agent| face.worst(agent)).into_iter().max()?;
        let tenderest: Vec<&Lying> = face
            .layers
            .iter()
            .filter(|layer| by.iter().any(|agent| layer.bears.marks(*agent) == worst))
            .collect();
        let message = match worst {
            _ if self.own().is_some() => return None,
            Rating::None => return None,
            Rating::Low => says!("care-heat-low"),
            Rating::High if not_known(&tenderest) => says!("care-heat-not-known"),
            Rating::High => says!("care-heat-high", coats = self.names(tenderest)),
        };
        Some(self.resting(message, &face.layers))
    }

    /// The finish that its owner renews it by; none where nothing may be put on it.
    fn renewed_by(&self) -> Option<&Finish> {
        let finish = match &self.face.renewal {
            Err(Refusal::MayHoldLead(_)) if self.cleared_of_lead() => self.exposed()?.id.0.as_str(),
            Ok(finish) => finish.as_str(),
            Err(_) => return None,
        };
        self.trade().finish(finish)
    }

    fn renew(&self) -> Claim {
        let face = self.face;
        let message = match (self.renewed_by(), &face.renewal) {
            (Some(finish), _) => {
                let mut said = vec![says!("care-renew-text", text = &finish.renew)];
                let few = finish.renew_brief.as_ref().unwrap_or(&finish.renew);
                let brief = match &finish.renew_months {
                    Some(months) => {
                        said.push(says!("care-renew-every", months = Value::Months(months.value)));
                        says!("care-renew-about", text = few, months = Value::Months(months.value))
                    }
                    None => says!("care-renew-text", text = few),
                };
                let message = says!("care-renew", said = Value::Sentences(said), brief = brief);
                let claim = self.of_table(message, finish);
                return claim.and_all(face.layers.iter().flat_map(|layer| self.known_by(layer)));
            }
            (None, Ok(_) | Err(Refusal::NotIdentified)) => says!("care-renew-not-identified"),
            (_, Err(Refusal::MayHoldLead(place))) => says!("care-renew-lead", coat = self.name(*place)),
            (_, Err(Refusal::Marked(place))) => says!("care-renew-marked", coat = self.name(*place)),
            (_, Err(Refusal::Opened(place))) => says!("care-renew-opened", coat = self.name(*place)),
            (_, Err(Refusal::BrushOnly)) => says!("care-renew-not-touched"),
        };
        self.resting(message, &face.layers)
    }

    /// Whether a test through all coats found no lead in any old coat of these parts.
    fn cleared_of_lead(&self) -> bool {
        let coats =
            self.telling.facts.hazards.iter().flat_map(|implied| &implied.today).filter_map(|because| {
                match because {
                    Because::Coat(coat) => Some(coat),
                    _ => None,
                }
            });
        let here = coats.filter(|coat| coat.parts.iter().any(|part| self.face.parts.contains(part)));
        let readings: Vec<TestReading> = here.map(|coat| coat.reading).collect();
        !readings.is_empty() && readings.iter().all(|reading| *reading == TestReading::Negative)
    }

    /// What is never used: by the layers that are reached, and not by the uppermost alone. What has a line of its own is
    /// not told again.
    fn never(&self) -> Option<Claim> {
        if let Some(finish) = self.own() {
            let texts: Vec<Message> =
                finish.never.iter().map(|text| says!("care-never-text", text = text)).collect();
            let message = says!("care-never-texts", said = Value::Sentences(texts));
            return (!finish.never.is_empty()).then(|| self.of_table(message, finish));
        }
        let face = self.face;
        let high = |agent: Agent| face.worst(agent) == Rating::High;
        let mut things = Vec::new();
        if face.may_hold_lead && !self.cleared_of_lead() {
            things.push(Value::from(says!("agent-sanding")));
        }
        for agent in [Agent::Alkali, Agent::Acid, Agent::Hydrocarbon, Agent::Abrasion, Agent::Light] {
            if high(agent) {
                things.push(Value::from(Message::word("agent", agent.word())));
            }
        }
        if face.exposed().is_some_and(|exposed| exposed.bears.sticks) {
            things.push(Value::from(says!("agent-sticking")));
        }
        things.push(Value::from(says!("agent-silicone")));
        Some(self.resting(says!("care-never", things = Value::Series(things)), &face.layers))
    }
}

/// Whether one of these layers is not known, so that it has no name to be called by.
fn not_known(layers: &[&Lying]) -> bool {
    layers.iter().any(|layer| layer.soundness == Soundness::NotKnown)
}

/// A layer as it stands within a sentence: the workshop's own name for its tin, or else the family's.
pub(in crate::derive::claims) fn layer_name(coat: &Coat, trade: &Trade) -> Message {
    let family = coat.finish.as_deref().and_then(|id| trade.finish(id));
    match (&coat.written, family) {
        (FinishName::Unknown, _) => says!("coat-unidentified"),
        (_, Some(finish)) if finish.is_old() => says!("coat-earlier"),
        (_, Some(finish)) if *finish.name.value.0 == coat.name => {
            says!("coat", name = Value::Name(coat.name.clone()))
        }
        _ => says!("coat", name = coat.name.clone()),
    }
}
