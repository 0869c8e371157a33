//! How a piece is looked after: each face by all of its layers, and the piece by its parts and its record.

use super::finishes::{laid_or_found, surface_name};
use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, Weight, says};
use crate::derive::cure::{Hardening, NoDate};
use crate::derive::face::{Face, Lying, ReadFrom, Refusal, Soundness};
use crate::derive::finish::stratigraphy::Coat;
use crate::derive::finish::surface::SurfaceFacts;
use crate::derive::finish::upkeep::{Due, UpkeepTask};
use crate::derive::hazard::implied::Because;
use crate::derive::hazard::result::TestReading;
use crate::derive::name::{part_by_id, seen};
use crate::fields::{Row, Said, Text};
use crate::record::{FinishName, Part, PartId, Surface, Use};
use crate::trade::{Agent, BARE_WOOD, DampCloth, Finish, Layer, Rating, Trade, in_text};

/// How a piece is looked after.
#[derive(Debug, Clone, Default)]
pub struct CareClaims {
    /// What it is for.
    pub purpose: Vec<Claim>,
    /// What its maker says to beware of.
    pub cautions: Vec<Claim>,
    /// From when it may be used, and why then.
    pub use_from: Vec<Claim>,
    /// Each face, or several that are looked after alike.
    pub faces: Vec<FaceCare>,
    /// Coverings that lie on no surface.
    pub coverings: Vec<Claim>,
    /// What was left unmended, as it shows in use.
    pub in_use: Vec<Claim>,
    /// Putting it up, step by step.
    pub assembly: Vec<Claim>,
    /// Moving it and taking it apart, step by step.
    pub moving: Vec<Claim>,
    /// The room.
    pub room: Vec<Claim>,
    /// Whom to ask.
    pub ask: Vec<Claim>,
    /// The days that its owner keeps.
    pub days: Vec<DayKept>,
    /// Its finish in a few words, as a label has room for: the first that fits.
    pub label_finish: Vec<Claim>,
}

/// How faces that are looked after alike are.
#[derive(Debug, Clone)]
pub struct FaceCare {
    /// What they are called.
    pub heading: Message,
    /// What is on them, and what to do with it.
    pub claims: Vec<Claim>,
}

/// A day that an owner keeps, and what for.
#[derive(Debug, Clone)]
pub struct DayKept {
    /// The day.
    pub due: Due,
    /// What it is kept for.
    pub claim: Claim,
}

/// How a piece is looked after.
pub(super) fn care(telling: &Telling<'_>) -> CareClaims {
    let used = telling.record.r#use.as_ref();
    let own = |key: &str, texts: fn(&Use) -> &[Said<Text>]| -> Vec<Claim> {
        let texts = used.map_or(&[][..], |used| texts(used));
        texts.iter().map(|text| own_words(telling, text, key)).collect()
    };
    CareClaims {
        purpose: used
            .and_then(|used| used.r#for.as_ref())
            .map(|text| own_words(telling, text, "use.for"))
            .into_iter()
            .collect(),
        cautions: own("use.cautions", |used| &used.cautions)
            .into_iter()
            .map(|caution| caution.weighing(Weight::DangerInUse))
            .collect(),
        use_from: use_from(telling),
        faces: faces(telling),
        coverings: coverings(telling),
        in_use: telling
            .record
            .undone
            .iter()
            .filter_map(|undone| undone.effect.as_ref())
            .map(|effect| own_words(telling, effect, "undone.effect"))
            .collect(),
        assembly: own("use.assembly", |used| &used.assembly),
        moving: own("use.moving", |used| &used.moving),
        room: room(telling),
        ask: ask(telling),
        days: days(telling),
        label_finish: label_finish(telling),
    }
}

fn own_words(telling: &Telling<'_>, text: &Said<Text>, key: &str) -> Claim {
    Claim::new(says!("own-words", said = text), telling.ground.said(text, key))
}

/// The faces of all surfaces; those that are looked after alike stand together.
fn faces(telling: &Telling<'_>) -> Vec<FaceCare> {
    let mut told: Vec<(Vec<Value>, Vec<Claim>)> = Vec::new();
    for facts in &telling.facts.surfaces {
        for face in &facts.faces {
            let name = match facts.faces.len() {
                1 => surface_name(telling, facts),
                _ => Value::from(part_names(telling, &face.parts)),
            };
            let claims = Looked { telling, facts, face }.claims();
            let alike = |other: &[Claim]| {
                other.iter().map(|claim| &claim.message).eq(claims.iter().map(|claim| &claim.message))
            };
            match told.iter_mut().find(|(_, other)| alike(other)) {
                Some((names, other)) => {
                    names.push(name);
                    let joined = std::mem::take(other).into_iter().zip(claims);
                    *other = joined.map(|(one, same)| one.and_all(same.basis().iter().cloned())).collect();
                }
                None => told.push((vec![name], claims)),
            }
        }
    }
    told.into_iter()
        .map(|(names, claims)| FaceCare { heading: says!("heading-face", faces = Value::All(names)), claims })
        .collect()
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
    fn claims(&self) -> Vec<Claim> {
        let rows = [
            Some(self.on()),
            Some(self.dust()),
            Some(self.clean()),
            Some(self.spill()),
            self.ring(),
            self.alcohol(),
            self.heat(),
            Some(self.renew()),
            self.never(),
        ];
        rows.into_iter().flatten().collect()
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
        self.resting(says!("care-on", said = Value::Sentences(said)), &face.layers)
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
            return self.of_table(says!("care-clean", text = &finish.clean), finish);
        }
        let message = match self.face.damp_cloth() {
            _ if self.face.brush_only() => says!("care-clean-not"),
            DampCloth::Yes => says!("care-clean-yes"),
            DampCloth::Barely => says!("care-clean-barely"),
            DampCloth::No => says!("care-clean-no"),
        };
        self.resting(message, self.face.reached(Agent::Water))
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

    fn renew(&self) -> Claim {
        let face = self.face;
        let renewal = match &face.renewal {
            Err(Refusal::MayHoldLead(_)) if self.cleared_of_lead() => {
                self.exposed().map(|finish| finish.id.0.as_str())
            }
            Ok(finish) => Some(finish.as_str()),
            Err(_) => None,
        };
        let message = match (renewal.and_then(|finish| self.trade().finish(finish)), &face.renewal) {
            (Some(finish), _) => {
                let mut said = vec![says!("care-renew-text", text = &finish.renew)];
                if let Some(months) = &finish.renew_months {
                    said.push(says!("care-renew-every", months = Value::Months(months.value)));
                }
                if finish.rags_self_heat.value {
                    said.push(says!("care-renew-cloths"));
                }
                let claim = self.of_table(says!("care-renew", said = Value::Sentences(said)), finish);
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
        for agent in [Agent::Alkali, Agent::Acid, Agent::Hydrocarbon, Agent::Abrasion, Agent::Light] {
            if high(agent) {
                things.push(Value::from(Message::word("agent", agent.word())));
            }
        }
        if face.exposed().is_some_and(|exposed| exposed.bears.sticks) {
            things.push(Value::from(says!("agent-sticking")));
        }
        if face.may_hold_lead && !self.cleared_of_lead() {
            things.push(Value::from(says!("agent-sanding")));
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
pub(super) fn layer_name(coat: &Coat, trade: &Trade) -> Message {
    let family = coat.finish.as_deref().and_then(|id| trade.finish(id));
    match (&coat.written, family) {
        (FinishName::Unknown, _) => says!("coat-unidentified"),
        (_, Some(finish)) if finish.is_old() => says!("coat-earlier"),
        (_, Some(finish)) if *finish.name.value.0 == coat.name => says!("coat", name = in_text(&coat.name)),
        _ => says!("coat", name = coat.name.clone()),
    }
}

/// The coverings that parts are said to be of, but for parts that lie on a surface: that says how they are cared for.
fn coverings(telling: &Telling<'_>) -> Vec<Claim> {
    let record = telling.record;
    let on_surface = |part: &Part| {
        record.surfaces.iter().flat_map(|surface| surface.parts.iter()).any(|on| on.value == part.id.value)
    };
    let claim = |part: &Row<Part>| {
        let said = part.material.as_ref()?;
        let covering = telling.trade.covering(said.known()?)?;
        let message = says!("care-covering", name = &part.name, text = covering.owner.as_ref()?);
        let claim = Claim::new(message, telling.ground.said(said, "part.material"));
        Some(claim.and(Basis::table("covering", covering.id.0.clone())))
    };
    let parts = record.parts.iter().filter(|part| part.present() && !on_surface(part));
    parts.filter_map(claim).collect()
}

/// From when the piece may be used: one pair of days, the late end of each, so that nobody begins too soon, and what it
/// waits for.
fn use_from(telling: &Telling<'_>) -> Vec<Claim> {
    let mut claims = Vec::new();
    let surfaces = &telling.facts.surfaces;
    let of = |surface: &Row<Surface>| surfaces.iter().find(|facts| facts.surface.is(surface));
    if let Some(cure) = &telling.facts.cure
        && let Some(facts) = of(&cure.full_cure.as_ref().unwrap_or(&cure.light_use).waits_for)
        && let Hardening::By(own) = &facts.hardening
    {
        let slowest = own.full_cure.as_ref().unwrap_or(&own.light_use);
        let coat = &slowest.waits_for;
        let laid = laid_or_found(telling, facts, coat);
        let table = coat.finish.as_ref().filter(|_| !slowest.time.label);
        let resting = |message: Message| {
            let claim = Claim::new(message, laid.clone());
            claim.and_all(table.map(|finish| Basis::table("finish", finish.clone())))
        };
        let light = cure.light_use.days.last;
        let over = telling.handed_over.is_some_and(|day| day >= cure.over());
        let days = match &cure.full_cure {
            Some(_) if over => return vec![resting(says!("use-hard"))],
            Some(full) => says!("use-from", light = light, full = full.days.last),
            None => says!("use-from-dry", light = light),
        };
        claims.push(resting(days));
        claims.push(resting(says!(
            "use-waits-for",
            surface = surface_name(telling, facts),
            coat = layer_name(coat, telling.trade),
            laid = slowest.laid.last
        )));
        claims.push(resting(says!("use-holds-for")));
    }
    for facts in surfaces {
        if let Hardening::NotKnown { coat, why } = &facts.hardening {
            let why = match why {
                NoDate::Day => says!("no-date-day"),
                NoDate::Interval => says!("no-date-interval"),
                NoDate::Times => says!("no-date-times"),
                NoDate::BeyondCalendar => says!("no-date-beyond"),
            };
            let coat_name = layer_name(coat, telling.trade);
            let surface = surface_name(telling, facts);
            let message = says!("use-not-known", coat = coat_name, surface = surface, why = why);
            claims.push(Claim::new(message, laid_or_found(telling, facts, coat)));
        }
        claims.extend(slow_air(telling, facts));
    }
    claims
}

/// Below this many degrees Celsius, and above this much relative humidity, the air is spoken of.
///
/// # Source
/// common practice, no source: 18 °C is where the table of coating arithmetic begins to speak of slow drying,
/// 65 % where a room counts as damp.
const COOL: f64 = 18.0;
const DAMP: f64 = 65.0;

/// Cold or damp air that a surface hardened in.
fn slow_air(telling: &Telling<'_>, facts: &SurfaceFacts) -> Option<Claim> {
    let Hardening::By(_) = &facts.hardening else { return None };
    let cool = facts.air.celsius.filter(|celsius| *celsius < COOL);
    let damp = facts.air.humidity.filter(|humidity| *humidity > DAMP);
    let said: Vec<Value> = [
        cool.map(|celsius| says!("air-celsius", degrees = Value::Number(celsius, 1))),
        damp.map(|humidity| says!("air-humidity", percent = Value::Number(humidity, 0))),
    ]
    .into_iter()
    .flatten()
    .map(Value::from)
    .collect();
    let surface = surface_name(telling, facts);
    let own = facts.surface.drying.as_ref().map(|drying| telling.ground.said(drying, "surface.drying"));
    let basis = own.or_else(|| {
        let bench = telling.workshop?.drying.as_ref()?;
        Some(telling.workshop_ground.said(bench, "drying"))
    })?;
    (!said.is_empty()).then(|| Claim::new(says!("use-air", surface = surface, air = Value::All(said)), basis))
}

/// The room that the figures are for, and what suits wood.
///
/// # Source
/// *Conservation and Care of Collections*, Western Australian Museum (2017), wood; American Institute for Conservation,
/// leaflet on caring for furniture; *Furniture Care and Handling*, Smithsonian Museum Conservation Institute. The three
/// differ in their figures and agree that steadiness matters most.
fn room(telling: &Telling<'_>) -> Vec<Claim> {
    let room = &telling.facts.seasons.room;
    let whole = |number: f64| Value::Number(number, 0);
    let (dry, damp, degrees) = (whole(room.dry.0), whole(room.damp.0), whole(room.temperature.0));
    let climate = telling.workshop.and_then(|workshop| workshop.climate.as_ref());
    let mut claims = vec![match climate {
        Some(climate) => Claim::new(
            says!("room-said", dry = dry, damp = damp, degrees = degrees),
            telling.workshop_ground.said(climate, "climate"),
        ),
        None => Claim::new(
            says!("room-assumed", dry = dry, damp = damp, degrees = degrees),
            telling.workshop_ground.unsaid("climate"),
        )
        .and(Basis::table("climate", "assumed")),
    }];
    if let Some(row) = telling.trade.climate.room("print") {
        let message = says!("room-steady", low = whole(row.rh.low), high = whole(row.rh.high));
        claims.push(Claim::new(message, Basis::table("climate", "print")));
    }
    claims.push(Claim::new(says!("room-sun"), Basis::table("climate", "")));
    if let Some(row) = telling.trade.climate.limit("mould") {
        let message = says!("room-mould", percent = whole(row.value.0));
        claims.push(Claim::new(message, Basis::table("climate", "mould")));
    }
    claims
}

/// Whom to ask: the workshop.
fn ask(telling: &Telling<'_>) -> Vec<Claim> {
    let claim = |workshop: &crate::record::Workshop| {
        let ground = &telling.workshop_ground;
        let name = ground.said(&workshop.name, "name");
        match &workshop.contact {
            Some(contact) => Claim::new(says!("ask-whom", name = &workshop.name, contact = contact), name)
                .and(ground.said(contact, "contact")),
            None => Claim::new(says!("ask-name", name = &workshop.name), name),
        }
    };
    telling.workshop.map(claim).into_iter().collect()
}

/// The days that an owner keeps.
fn days(telling: &Telling<'_>) -> Vec<DayKept> {
    let surfaces = &telling.facts.surfaces;
    let of = |surface: &Row<Surface>| surfaces.iter().find(|facts| facts.surface.is(surface));
    let claim = |task: &UpkeepTask| {
        let claim = match task {
            UpkeepTask::LightUse(surface) | UpkeepTask::FullCure(surface) => {
                let name = surface_name(telling, of(surface)?);
                let said = Value::Sentences(vec![says!("day-no-promise")]);
                let message = match task {
                    UpkeepTask::LightUse(_) => says!("day-light-use", surface = name, said = said),
                    _ => says!("day-full-cure", surface = name, said = said),
                };
                telling.claim(message, surface, "surface")
            }
            UpkeepTask::Renewing(surface) => {
                let facts = of(surface)?;
                let finish = telling.trade.finish(facts.faces.first()?.renewal.as_deref().ok()?)?;
                let mut said = vec![says!("care-renew-text", text = &finish.renew)];
                if finish.rags_self_heat.value {
                    said.push(says!("care-renew-cloths"));
                }
                let name = surface_name(telling, facts);
                let message = says!("day-renewing", surface = name, said = Value::Sentences(said));
                telling.claim(message, surface, "surface").and(Basis::table("finish", finish.id.0.clone()))
            }
            UpkeepTask::Fixings => match &telling.record.handover {
                Some(handover) => Claim::new(says!("day-fixings"), telling.ground.said(handover, "handover")),
                None => Claim::new(says!("day-fixings"), telling.ground.unsaid("handover")),
            },
        };
        Some(claim)
    };
    let kept = |due: &Due| Some(DayKept { claim: claim(&due.task)?, due: due.clone() });
    telling.facts.upkeep.due.iter().filter_map(kept).collect()
}

/// The finish that is touched, in ever fewer words.
fn label_finish(telling: &Telling<'_>) -> Vec<Claim> {
    /// What is touched, what colours or fills the wood below it, and what both rest on.
    struct Top {
        name: Message,
        below: Option<Message>,
        basis: Vec<Basis>,
    }
    let mut tops: Vec<Top> = Vec::new();
    for facts in &telling.facts.surfaces {
        let Some(face) = facts.faces.first() else { continue };
        let mut places = face.layers.iter().filter_map(|layer| layer.place);
        let Some(top) = places.next() else { continue };
        let coat = |place: usize| &facts.today.layers[place].coat;
        let below = places.find(|place| matches!(coat(*place).layer, Some(Layer::Colour | Layer::InWood)));
        let name = layer_name(coat(top), telling.trade);
        if tops.iter().any(|known| known.name == name) {
            continue;
        }
        let basis = [Some(top), below].into_iter().flatten();
        tops.push(Top {
            name,
            below: below.map(|place| layer_name(coat(place), telling.trade)),
            basis: basis.map(|place| laid_or_found(telling, facts, coat(place))).collect(),
        });
    }
    let messages = match tops.as_slice() {
        [] => Vec::new(),
        [top] => {
            let both =
                |below: &Message| says!("label-finish-over", top = top.name.clone(), below = below.clone());
            let alone = says!("label-finish", top = top.name.clone());
            top.below.iter().map(both).chain([alone]).collect()
        }
        [top, other] => vec![
            says!("label-finish-two", top = top.name.clone(), other = other.name.clone()),
            says!("label-finish-another", top = top.name.clone()),
        ],
        [top, ..] => vec![says!("label-finish-others", top = top.name.clone())],
    };
    let basis: Vec<Basis> = tops.into_iter().flat_map(|top| top.basis).collect();
    let claim = |message: Message| {
        let first = basis.first().expect("each that is named rests on a line").clone();
        Claim::new(message, first).and_all(basis.iter().cloned())
    };
    messages.into_iter().map(claim).collect()
}
