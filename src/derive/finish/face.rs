//! How one face of a piece bears what it meets: worked out from all the layers on it, and not from the uppermost alone.
//!
//! The exposed layer decides how a face is dusted and wiped; the tenderest layer that can be reached decides spills,
//! alcohol, heat and what is never used. A layer is reached by an agent unless a whole layer above keeps that out for
//! hours; keeping it out for minutes only buys time.
//!
//! # Source
//! The rules are our own, drawn from the rows of the table of resistance; that of damp cloths after *CCI Technical
//! Bulletin 8, The Care of Wooden Objects*, Canadian Conservation Institute.

use super::abrasion::{GrainSize, grain};
use super::stratigraphy::{Stratigraphy, Stratum, fold, parts_of};
use crate::fields::{Row, Said};
use crate::record::{
    Act, Construction, Finding, PartId, Record, Removal, Standing, Step, Surface, Test, Tin,
};
use crate::trade::{Agent, BARE_WOOD, DampCloth, Finish, Group, Layer, Rating, Resistance, Trade};

/// Whether a layer still lies whole.
#[derive(Debug, Clone, PartialEq)]
pub enum Soundness {
    /// As far as anybody saw.
    Whole,
    /// This finding opens it, and stands.
    Opened(Row<Finding>),
    /// Nobody can tell: what it is, or whether it is there at all, is not recorded.
    NotKnown,
}

/// A test that tells what a layer probably is.
#[derive(Debug, Clone, PartialEq)]
pub enum ReadFrom {
    /// A step of the surface.
    Step(Row<Step>),
    /// A test of the piece.
    Test(Row<Test>),
}

/// One layer of a face.
#[derive(Debug, Clone, PartialEq)]
pub struct Lying {
    /// Its place among the layers of the surface; `None` for what may lie below them all, of which nothing is recorded.
    pub place: Option<usize>,
    /// Whether it is whole.
    pub soundness: Soundness,
    /// The reading by which a test tells what it probably is, and the test.
    pub read: Option<(String, ReadFrom)>,
    /// What it bears, and keeps from the layers below.
    pub bears: Resistance,
}

/// Why an owner puts nothing on a face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refusal {
    /// A layer was not identified, or is not recorded.
    NotIdentified,
    /// Old paint or varnish that may hold lead lies there, and renewing begins with rubbing down.
    MayHoldLead(usize),
    /// What thins the product would mark this layer.
    Marked(usize),
    /// The exposed layer is not whole.
    Opened(usize),
    /// Something there is not to be touched at all.
    BrushOnly,
}

/// One face: parts of a surface that carry the same layers.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// Its parts; empty where the surface names none.
    pub parts: Vec<PartId>,
    /// Its layers, the exposed one first.
    pub layers: Vec<Lying>,
    /// Whether wood lies below.
    pub on_wood: bool,
    /// The finish whose own advice holds whole, where the material is its own surface and nothing lies on it.
    pub own_material: Option<String>,
    /// The finish that the owner may renew the face by, or why none.
    pub renewal: Result<String, Refusal>,
    /// Whether a layer was there when the piece came and may hold lead.
    pub may_hold_lead: bool,
}

impl Face {
    /// The layers that an agent reaches.
    pub fn reached(&self, agent: Agent) -> impl Iterator<Item = &Lying> {
        let mut open = true;
        self.layers.iter().take_while(move |layer| {
            let reached = open;
            open = open && !keeps_out(layer, agent);
            reached
        })
    }

    /// The worst that an agent does to a layer that it reaches.
    pub fn worst(&self, agent: Agent) -> Rating {
        self.reached(agent).map(|layer| layer.bears.marks(agent)).max().unwrap_or(Rating::None)
    }

    /// The layers that an agent reaches and does its worst to.
    pub fn tenderest(&self, agent: Agent) -> Vec<&Lying> {
        let worst = self.worst(agent);
        self.reached(agent).filter(|layer| layer.bears.marks(agent) == worst).collect()
    }

    /// Whether an agent gets through to the wood.
    pub fn reaches_wood(&self, agent: Agent) -> bool {
        self.on_wood && !self.layers.iter().any(|layer| keeps_out(layer, agent))
    }

    /// How damp a cloth may be: the least over the exposed layer and every one that water reaches; none where a layer
    /// that shows is not whole.
    pub fn damp_cloth(&self) -> DampCloth {
        let reached = || self.reached(Agent::Water);
        let least = reached().map(|layer| layer.bears.damp_cloth).min();
        match reached().any(|layer| layer.soundness != Soundness::Whole) {
            true => DampCloth::No,
            false => least.unwrap_or(DampCloth::No),
        }
    }

    /// Whether something that lies open, or that moist hands and cloths get at, bears no cloth at all.
    pub fn brush_only(&self) -> bool {
        self.reached(Agent::Water).any(|layer| layer.bears.brush_only)
    }

    /// The layer that lies open.
    pub fn exposed(&self) -> Option<&Lying> {
        self.layers.first()
    }
}

/// Whether a layer keeps an agent out for hours.
fn keeps_out(layer: &Lying, agent: Agent) -> bool {
    layer.soundness == Soundness::Whole && layer.bears.shields(agent) == Rating::High
}

/// The faces of a surface: that of most parts first, then the others in the order of its parts.
pub(in crate::derive) fn faces(
    record: &Record,
    surface: &Surface,
    today: &Stratigraphy,
    tins: &[Said<Tin>],
    trade: &Trade,
) -> Vec<Face> {
    let looking =
        Looking { record, surface, today, trade, read: readings(record, surface, today, tins, trade) };
    let mut faces: Vec<Face> = Vec::new();
    for part in parts_of(surface) {
        let face = looking.face(&part);
        match faces.iter_mut().find(|known| Face { parts: face.parts.clone(), ..(*known).clone() } == face) {
            Some(known) => known.parts.push(part),
            None => faces.push(face),
        }
    }
    // Of those with as many parts the one that was named first stays first.
    faces.sort_by_key(|face| std::cmp::Reverse(face.parts.len()));
    for face in &mut faces {
        face.parts.retain(|part| !part.0.is_empty());
    }
    faces
}

/// What faces are made from.
struct Looking<'a> {
    record: &'a Record,
    surface: &'a Surface,
    today: &'a Stratigraphy,
    trade: &'a Trade,
    /// What a test tells of the layer at a place.
    read: Vec<(usize, String, ReadFrom)>,
}

impl Looking<'_> {
    /// The face of one part.
    fn face(&self, part: &PartId) -> Face {
        let opened = self.opened(part);
        let places: Vec<usize> =
            (0..self.today.layers.len()).rev().filter(|at| self.today.layers[*at].covers(part)).collect();
        let is_wood = |at: &usize| self.today.layers[*at].coat.finish.as_deref() == Some(BARE_WOOD);
        let mut layers: Vec<Lying> =
            places.iter().filter(|at| !is_wood(at)).map(|at| self.lying(*at, opened)).collect();
        if !self.is_known_below(part, &places) {
            layers.push(Lying {
                place: None,
                soundness: Soundness::NotKnown,
                read: None,
                bears: Resistance::UNKNOWN,
            });
        }
        let lowest = places.last().and_then(|at| self.today.layers[*at].coat.layer);
        let of_wood = self.of_wood(part);
        let mut face = Face {
            parts: vec![part.clone()],
            on_wood: of_wood && (lowest != Some(Layer::Surface) || places.last().is_some_and(is_wood)),
            own_material: None,
            renewal: Err(Refusal::NotIdentified),
            may_hold_lead: layers.iter().any(|layer| self.may_hold_lead(layer)),
            layers,
        };
        face.own_material = self.own_material(&face, of_wood);
        face.renewal = self.renewal(&face);
        face
    }

    fn finish(&self, layer: &Lying) -> Option<&Finish> {
        self.trade.finish(self.stratum(layer)?.coat.finish.as_deref()?)
    }

    fn stratum(&self, layer: &Lying) -> Option<&Stratum> {
        self.today.layers.get(layer.place?)
    }

    /// A layer as it lies; a finding opens the uppermost of those that were there when it was seen.
    fn lying(&self, place: usize, opened: Option<&Row<Finding>>) -> Lying {
        let stratum = &self.today.layers[place];
        let read = self.read.iter().find(|(at, ..)| *at == place);
        let finish = stratum.coat.finish.as_deref().and_then(|id| self.trade.finish(id));
        let bears = match read.and_then(|(_, id, _)| self.trade.reading_by_id(id)) {
            Some(reading) => {
                self.trade.resistance(reading.may_be.iter().filter_map(|id| self.trade.finish(&id.0)))
            }
            None => self.trade.resistance(finish),
        };
        let is_topmost_found = || {
            let found = |at: &usize| self.today.layers[*at].coat.step.is_none();
            (0..self.today.layers.len()).rev().find(found) == Some(place)
        };
        Lying {
            place: Some(place),
            soundness: match opened.filter(|_| stratum.coat.step.is_none() && is_topmost_found()) {
                Some(finding) => Soundness::Opened(finding.clone()),
                None if read.is_none() && finish.is_none_or(Finish::is_old) => Soundness::NotKnown,
                None => Soundness::Whole,
            },
            read: read.map(|(_, id, from)| (id.clone(), from.clone())),
            bears,
        }
    }

    /// A finding on a part that opens a coat and stands today.
    fn opened(&self, part: &PartId) -> Option<&Row<Finding>> {
        let stands = |finding: &Finding| {
            let id = &finding.id.value;
            let left = self.record.undone.iter().flat_map(|undone| undone.leaves.iter());
            let mended = self.record.works.iter().flat_map(|work| work.mends.iter());
            left.map(|left| &left.value).any(|left| left == id)
                || !mended.map(|done| &done.value).any(|done| done == id)
        };
        let here = |finding: &Finding| finding.part.iter().any(|on| on.value == *part);
        let opens = |finding: &&Row<Finding>| {
            here(finding) && self.trade.opens_coat(&finding.seen) && stands(finding)
        };
        self.record.findings.iter().find(opens)
    }

    /// Whether the record tells down to the wood what lies on a part: by what was found, by taking everything or the
    /// old finish off, by a coarse abrasive before the first coat, or because the part is new or not of wood.
    fn is_known_below(&self, part: &PartId, places: &[usize]) -> bool {
        let surface = self.surface;
        let here = |step: &&Row<Step>| step.only.is_empty() || step.only.iter().any(|on| on.value == *part);
        let first_coat = surface.steps.iter().position(|step| matches!(step.act(), Some(Act::Apply(_))));
        let before = &surface.steps[..first_coat.unwrap_or(surface.steps.len())];
        let coarse = |grit: &str| matches!(grain(grit, &self.trade.abrasives), GrainSize::Sized { fine, .. } if fine >= COARSE);
        let bares = |step: &Row<Step>| match step.act() {
            Some(Act::Remove(what)) => match &what.value {
                Removal::All => true,
                Removal::Layer(name) => self.trade.finish(name).is_some_and(Finish::is_old),
            },
            _ => false,
        };
        let sanded = |step: &Row<Step>| match step.act() {
            Some(Act::Abrade(grits)) => grits.iter().any(|grit| coarse(grit)),
            _ => false,
        };
        let own_surface = |at: &usize| self.today.layers[*at].coat.layer == Some(Layer::Surface);
        !surface.found.is_empty()
            || surface.steps.iter().filter(here).any(bares)
            || before.iter().filter(here).any(sanded)
            || places.last().is_some_and(own_surface)
            || self.part(part).is_some_and(|part| part.standing.value == Standing::New)
                && surface.steps.iter().any(|step| here(&step))
            || !self.of_wood(part)
    }

    fn part(&self, id: &PartId) -> Option<&crate::record::Part> {
        self.record.parts.iter().map(|part| &part.value).find(|part| part.id.value == *id)
    }

    /// Whether a part is of wood, as it is unless the record says otherwise.
    fn of_wood(&self, part: &PartId) -> bool {
        let other = [
            Construction::Metal,
            Construction::Glass,
            Construction::Stone,
            Construction::Textile,
            Construction::Leather,
        ];
        let build = self.part(part).and_then(|part| part.build.as_ref());
        !build.is_some_and(|build| other.contains(&build.value))
    }

    /// The finish that is the bare material itself.
    fn own_material(&self, face: &Face, of_wood: bool) -> Option<String> {
        match face.layers.as_slice() {
            [] => of_wood.then(|| BARE_WOOD.to_owned()),
            [only] => {
                let finish = self.finish(only)?;
                (finish.layer.value == Layer::Surface).then(|| finish.id.0.clone())
            }
            _ => None,
        }
    }

    fn may_hold_lead(&self, layer: &Lying) -> bool {
        let Some(stratum) = self.stratum(layer) else { return true };
        stratum.coat.step.is_none()
            && self.finish(layer).is_none_or(|finish| self.trade.may_hold_lead(finish))
    }

    /// Whether the owner may renew a face, and by which finish: only with what marks no layer that it reaches, other than
    /// the one that is renewed.
    fn renewal(&self, face: &Face) -> Result<String, Refusal> {
        if let Some(own) = &face.own_material {
            return Ok(own.clone());
        }
        if face.brush_only() {
            return Err(Refusal::BrushOnly);
        }
        let exposed = face.exposed().ok_or(Refusal::NotIdentified)?;
        let (place, finish) = exposed.place.zip(self.finish(exposed)).ok_or(Refusal::NotIdentified)?;
        match exposed.soundness {
            Soundness::Whole => {}
            Soundness::Opened(_) => return Err(Refusal::Opened(place)),
            Soundness::NotKnown => return Err(Refusal::NotIdentified),
        }
        // An oil takes up the oil below it, and a wax the wax.
        let soaks = |group: Group| match group {
            Group::Oil | Group::OilVarnish => Some(Group::Oil),
            Group::Wax => Some(Group::Wax),
            _ => None,
        };
        let own = soaks(finish.group.value);
        let alike = |layer: &Lying| {
            own.is_some() && self.finish(layer).is_some_and(|other| soaks(other.group.value) == own)
        };
        for agent in brought(finish.group.value) {
            for layer in face.reached(*agent).skip(1) {
                match (&layer.soundness, layer.place) {
                    (Soundness::NotKnown, _) | (_, None) => return Err(Refusal::NotIdentified),
                    (_, Some(place)) if !alike(layer) && layer.bears.marks(*agent) == Rating::High => {
                        return Err(Refusal::Marked(place));
                    }
                    _ => {}
                }
            }
        }
        if let Some(lead) = face.layers.iter().find(|layer| self.may_hold_lead(layer))
            && rubbed_down(finish.group.value)
        {
            return Err(lead.place.map_or(Refusal::NotIdentified, Refusal::MayHoldLead));
        }
        Ok(finish.id.0.clone())
    }
}

/// The finest grain that is taken to go through a coat down to the wood, in micrometres: that of P150.
///
/// # Source
/// common practice, no source.
const COARSE: f64 = 90.0;

/// What a finish of this kind brings with it when it is renewed: its own thinner, or that of the wax that is put on it.
///
/// # Source
/// common practice, no source.
fn brought(group: Group) -> &'static [Agent] {
    match group {
        Group::Waterborne => &[Agent::Water],
        Group::Paint => &[Agent::Water, Agent::Hydrocarbon],
        Group::Other => &[Agent::Water, Agent::Alkali],
        _ => &[Agent::Hydrocarbon],
    }
}

/// Whether renewing a finish of this kind begins with dulling or rubbing down what is there.
///
/// # Source
/// common practice, no source.
fn rubbed_down(group: Group) -> bool {
    !matches!(group, Group::Oil | Group::OilVarnish | Group::Shellac | Group::Wax)
}

/// What tests tell of layers that were there when the piece came and were not identified: each of the layer that lay
/// open at that time. A test of some parts alone leaves the others open, so that it tells nothing.
fn readings(
    record: &Record,
    surface: &Surface,
    today: &Stratigraphy,
    tins: &[Said<Tin>],
    trade: &Trade,
) -> Vec<(usize, String, ReadFrom)> {
    let mut read: Vec<(usize, String, ReadFrom)> = Vec::new();
    let mut note = |place: Option<usize>, test: &str, result: Option<&str>, from: ReadFrom| {
        let not_identified = |place: &usize| {
            let coat = today.layers.get(*place).map(|layer| &layer.coat).filter(|coat| coat.step.is_none());
            coat.is_some_and(|coat| {
                let finish = coat.finish.as_deref().and_then(|id| trade.finish(id));
                finish.is_none_or(|finish| finish.is_old() || finish.is_generic())
            })
        };
        let reading = result.and_then(|result| trade.reading(test, result));
        if let Some((place, reading)) = place.filter(not_identified).zip(reading) {
            // Two tests that disagree leave it open, as none does.
            match read.iter().position(|(at, ..)| *at == place) {
                None => read.push((place, reading.id.0.clone(), from)),
                Some(at) if read[at].1 != reading.id.0 => read[at].1.clear(),
                Some(_) => {}
            }
        }
    };
    fold(surface, tins, trade, |step, before| {
        if let (Some(Act::Test(test)), true) = (step.act(), step.only.is_empty()) {
            // Layers that were found keep their places for as long as they are there.
            let place = before.layers.len().checked_sub(1);
            let same = place.filter(|at| {
                let written = |of: &Stratigraphy| of.layers.get(*at).map(|layer| layer.coat.written.clone());
                written(before) == written(today)
            });
            let by = step.by.as_ref().map_or(String::new(), |by| by.to_string());
            let test = format!("{} {by}", test.value);
            note(
                same,
                &test,
                step.result.as_ref().map(|result| &*result.value),
                ReadFrom::Step(step.clone()),
            );
        }
    });
    let untouched = today.removed.is_empty();
    let topmost = today.layers.iter().rposition(|layer| layer.coat.step.is_none());
    let here = |test: &&Row<Test>| {
        let on = |part: &Said<PartId>| surface.parts.iter().any(|own| own.value == part.value);
        !test.part.is_empty() && test.part.iter().all(on)
    };
    for test in record.tests.iter().filter(here).filter(|_| untouched) {
        let by = test.by.as_ref().map_or(String::new(), |by| by.to_string());
        let what = format!("{} {by}", test.of.value);
        note(topmost, &what, Some(&*test.result.value), ReadFrom::Test(test.clone()));
    }
    read.retain(|(_, id, _)| !id.is_empty());
    read
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::facts;
    use proptest::prelude::*;

    fn layer(trade: &Trade, id: &str, whole: bool) -> Lying {
        let soundness = if whole { Soundness::Whole } else { Soundness::NotKnown };
        Lying {
            place: Some(0),
            soundness,
            read: None,
            bears: trade.resistance(Some(trade.finish(id).expect(id))),
        }
    }

    fn stack(layers: Vec<Lying>, on_wood: bool) -> Face {
        let renewal = Err(Refusal::NotIdentified);
        Face { parts: Vec::new(), layers, on_wood, own_material: None, renewal, may_hold_lead: false }
    }

    #[test]
    fn stacks_that_were_worked_out_by_hand_come_out_so() {
        let trade = Trade::built_in();
        let table: toml::Table = include_str!("../../../tests/data/stacks.toml").parse().expect("it is TOML");
        let stacks = table["stack"].as_array().expect("stacks");
        assert_eq!(stacks.len(), 20);
        let words = |value: &toml::Value| -> Vec<String> {
            value
                .as_array()
                .expect("a list")
                .iter()
                .map(|word| word.as_str().expect("a word").to_owned())
                .collect()
        };
        for worked in stacks {
            let names = words(&worked["layers"]);
            let layers: Vec<Lying> =
                names.iter().map(|name| layer(trade, &name[1..], name.starts_with('+'))).collect();
            let own_surface =
                names.len() == 1 && trade.finish(&names[0][1..]).unwrap().layer.value == Layer::Surface;
            let face = stack(layers, !own_surface);
            let worst: Vec<&str> = Agent::ALL.iter().map(|agent| face.worst(*agent).word()).collect();
            assert_eq!(worst, words(&worked["worst"]), "{names:?}");
            assert_eq!(face.damp_cloth().word(), worked["damp-cloth"].as_str().expect("a word"), "{names:?}");
            let reaches: Vec<&str> = [Agent::Water, Agent::Alkali, Agent::Acid, Agent::Light]
                .into_iter()
                .filter(|agent| face.reaches_wood(*agent))
                .map(Agent::word)
                .collect();
            assert_eq!(reaches, words(&worked["reaches"]), "{names:?}");
        }
    }

    /// The faces of a surface of the parts `a` and `b`: layers from the top, the cloth, and who renews.
    fn told(record: &str) -> Vec<String> {
        let parts = "part = [{ id = \"a\", name = \"Top\", standing = \"original\" }, \
                     { id = \"b\", name = \"Leaf\", standing = \"original\" }]\n";
        let facts = facts(&format!("{parts}{record}"), "name = \"Bench\"\n");
        let surface = &facts.surfaces[0];
        let name = |layer: &Lying| match layer.place {
            Some(place) => {
                let coat = &surface.today.layers[place].coat;
                let sound = if layer.soundness == Soundness::Whole { "" } else { "?" };
                let read = layer.read.as_ref().map_or(String::new(), |(id, _)| format!("={id}"));
                format!("{}{sound}{read}", coat.finish.as_deref().unwrap_or(&coat.name))
            }
            None => "not-recorded".to_owned(),
        };
        let face = |face: &Face| {
            let layers: Vec<String> = face.layers.iter().map(name).collect();
            let parts: Vec<&str> = face.parts.iter().map(|part| part.0.as_str()).collect();
            let renewal = match &face.renewal {
                Ok(finish) => finish.clone(),
                Err(refusal) => format!("{refusal:?}"),
            };
            let own = face.own_material.as_deref().unwrap_or("coated");
            format!(
                "{}: {} | {} | {own} | {renewal}",
                parts.join(" "),
                layers.join(" / "),
                face.damp_cloth().word()
            )
        };
        surface.faces.iter().map(face).collect()
    }

    #[track_caller]
    fn case(found: &str, steps: &str, wanted: &str) {
        let record = format!("surface = [{{ parts = [\"a\"], found = {found}, steps = [{steps}] }}]");
        assert_eq!(told(&record), [wanted], "{found}, {steps}");
    }

    #[test]
    fn an_owner_renews_only_with_what_marks_nothing_below() {
        let wax = "{ apply = \"paste-wax\" }";
        case("\"shellac\"", wax, "a: paste-wax / shellac | no | coated | paste-wax");
        case("\"old-finish\"", wax, "a: paste-wax / old-finish? | no | coated | NotIdentified");
        case("\"unknown\"", wax, "a: paste-wax / unknown? | no | coated | NotIdentified");
        case("\"oil-gilding\"", wax, "a: paste-wax / oil-gilding | no | coated | BrushOnly");
        case("\"oil-pigment-stain\"", wax, "a: paste-wax / oil-pigment-stain | no | coated | Marked(0)");
        case("\"bare-wood\"", wax, "a: paste-wax | no | coated | paste-wax");
        case(
            "\"old-paint\"",
            "{ apply = \"acrylic-paint\" }",
            "a: acrylic-paint / old-paint | barely | coated | MayHoldLead(0)",
        );
        case("\"laminate\"", "", "a: laminate | yes | laminate | laminate");
        case("\"bare-wood\"", "", "a:  | no | bare-wood | bare-wood");
    }

    #[test]
    fn what_lies_below_is_known_only_where_the_record_tells_it() {
        let wax = "{ apply = \"paste-wax\" }";
        case("[]", wax, "a: paste-wax / not-recorded | no | coated | NotIdentified");
        case("[]", "", "a: not-recorded | no | coated | NotIdentified");
        for before in
            ["{ remove = \"all\" }", "{ abrade = [\"P80\", \"P180\"] }", "{ remove = \"old-finish\" }"]
        {
            case("[]", &format!("{before}, {wax}"), "a: paste-wax | no | coated | paste-wax");
        }
        case(
            "[]",
            &format!("{{ abrade = [\"P320\"] }}, {wax}"),
            "a: paste-wax / not-recorded | no | coated | NotIdentified",
        );
    }

    #[test]
    fn a_test_makes_an_old_coat_known_and_a_doubt_leaves_it() {
        let spirit = |result: &str| {
            format!("{{ test = \"drop of spirit\", result = \"{result}\" }}, {{ apply = \"paste-wax\" }}")
        };
        case(
            "\"old-finish\"",
            &spirit("it softened"),
            "a: paste-wax / old-finish=softened-by-spirit | no | coated | paste-wax",
        );
        case(
            "\"old-finish\"",
            &spirit("no softening"),
            "a: paste-wax / old-finish? | no | coated | NotIdentified",
        );
        case(
            "\"nitrocellulose-lacquer\"",
            &spirit("it softened"),
            "a: paste-wax / nitrocellulose-lacquer | no | coated | paste-wax",
        );
        let test = "surface = [{ parts = [\"a\"], found = \"varnish-unknown\" }]\n\
                    test = [{ of = \"finish, lacquer thinner\", part = \"a\", result = \"softened\" }]";
        assert_eq!(
            told(test),
            ["a: varnish-unknown=softened-by-lacquer-thinner | barely | coated | MayHoldLead(0)"]
        );
    }

    #[test]
    fn parts_that_carry_other_layers_or_an_open_coat_are_faces_of_their_own() {
        let two = "surface = [{ parts = [\"a\", \"b\"], found = \"shellac\", steps = [{ apply = \"paste-wax\" }, \
                   { remove = \"all\", only = \"b\" }] }]";
        assert_eq!(
            told(two),
            ["a: paste-wax / shellac | no | coated | paste-wax", "b:  | no | bare-wood | bare-wood"]
        );
        let worn = "surface = [{ parts = [\"a\", \"b\"], found = \"oil-polyurethane\" }]\n\
                    finding = [{ id = \"f\", part = \"b\", seen = \"flaking\" }]\n";
        assert_eq!(
            told(worn),
            [
                "a: oil-polyurethane | yes | coated | oil-polyurethane",
                "b: oil-polyurethane? | no | coated | Opened(0)"
            ]
        );
        let mended = format!("{worn}work = [{{ did = \"fixed it down\", mends = \"f\" }}]");
        assert_eq!(told(&mended).len(), 1);
    }

    const KINDS: &[&str] = &[
        "shellac",
        "paste-wax",
        "oil-polyurethane",
        "milk-paint",
        "old-finish",
        "boiled-linseed-oil",
        "water-stain",
        "two-pack-polyurethane",
        "varnish-unknown",
        "water-gilding",
    ];

    proptest! {
        #[test]
        fn a_layer_more_below_never_makes_a_face_hardier(
            ids in prop::collection::vec(prop::sample::select(KINDS), 1..5), below in prop::sample::select(KINDS),
        ) {
            let trade = Trade::built_in();
            let layers = |ids: &[&str]| ids.iter().map(|id| layer(trade, id, true)).collect::<Vec<_>>();
            let fewer = stack(layers(&ids), true);
            let more = stack(layers(&[&ids[..], &[below]].concat()), true);
            for agent in Agent::ALL {
                prop_assert!(more.worst(*agent) >= fewer.worst(*agent));
            }
            prop_assert!(more.damp_cloth() <= fewer.damp_cloth());
        }

        #[test]
        fn an_opened_coat_never_keeps_more_out(ids in prop::collection::vec(prop::sample::select(KINDS), 1..5)) {
            let trade = Trade::built_in();
            let whole = stack(ids.iter().map(|id| layer(trade, id, true)).collect(), true);
            let mut opened = whole.clone();
            opened.layers[0].soundness = Soundness::NotKnown;
            for agent in Agent::ALL {
                prop_assert!(opened.worst(*agent) >= whole.worst(*agent));
            }
            prop_assert_eq!(opened.damp_cloth(), DampCloth::No);
        }
    }
}
