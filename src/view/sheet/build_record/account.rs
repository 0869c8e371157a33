//! The build record as it is read: the piece after and before, what was found, the work, plates, cuts through the
//! surfaces, and the annex for whoever works on it next.

use serde::Serialize;

use super::timeline::{Timeline, timeline};
use crate::claim::{Claim, Message, says};
use crate::derive::{Cut, Doing, Found, LogEntry, Stratum};
use crate::fields::Row;
use crate::record::{Act, Step};
use crate::trade::Layer;
use crate::view::context::PieceContext;
use crate::view::names::finding_anchor;
use crate::view::shared::care_card::card;
use crate::view::shared::fact::Fact;
use crate::view::shared::front_page::tells_whole;
use crate::view::shared::photograph::{Gallery, PlateView};
use crate::view::shared::section::{Arranged, Form, Section, worded};
use crate::view::shared::story::{
    SoundEvent, StoryBlock, StoryPicture, first_paragraph, sound, story_blocks, story_html,
};
use crate::view::shared::surface::{ground_of, surface_name};
use crate::words::{self, Sentence};

/// Letters of a title that a printed page has room for.
const TITLE: usize = 170;

/// Letters of the sentence that says what it is, and of a fact beside it.
const SAYS: (usize, usize) = (260, 150);

/// Letters of a first paragraph that may stand at the front.
const OPENING: usize = 560;

/// Findings and decisions that have room before the annex, and cuts that are drawn.
const ROOM: (usize, usize, usize) = (12, 4, 4);

/// What is told of the piece at its front, in this order, as far as it is known; three of them have room.
const FACTS: [&str; 9] = [
    "fact-of-set",
    "fact-made-by",
    "fact-made",
    "fact-size-folded",
    "fact-size",
    "fact-told-by",
    "fact-materials",
    "fact-inscriptions",
    "fact-kind",
];

/// A finding as the papers number it.
#[derive(Debug, Clone, Serialize)]
pub struct FoundRow {
    /// Its number.
    pub number: usize,
    /// Its id on the page.
    pub anchor: String,
    /// What was seen, and where.
    pub seen: String,
    /// How far it goes, and what may have caused it; may be empty.
    pub text: String,
    /// What became of it.
    pub became: String,
}

/// A question, the way taken, and the others.
#[derive(Debug, Clone, Serialize)]
pub struct DecidedRow {
    /// The question.
    pub ask: String,
    /// The way taken, and why.
    pub chosen: String,
    /// What spoke for and against the others, a line each.
    pub others: Vec<String>,
}

/// One layer of a cut.
#[derive(Debug, Clone, Serialize)]
pub struct CutLayer {
    /// What it is.
    pub name: String,
    /// Since when, or where.
    pub text: String,
    /// The kind of layer as a word for a theme: `film`, `in-wood`, …, `unknown`; `lost` for one that came off.
    pub kind: &'static str,
    /// How many coats, drawn up to six.
    pub coats: u32,
}

/// A cut through a surface.
#[derive(Debug, Clone, Serialize)]
pub struct CutView {
    /// The surface.
    pub name: String,
    /// What came off, and below that the layers of today, topmost first.
    pub layers: Vec<CutLayer>,
    /// What they lie on.
    pub ground: String,
    /// Whether that has a grain.
    pub grain: bool,
}

/// The build record as it is read.
#[derive(Debug, Clone, Serialize)]
pub struct Account {
    /// What it is, cut where it is very long.
    pub title: String,
    /// The whole of a title that was cut; else empty.
    pub whole_title: String,
    /// The piece in a sentence; may be empty.
    pub says: String,
    /// The story's first paragraph, where it is short enough for the front.
    pub opening: Vec<StoryBlock>,
    /// The same as HTML.
    pub opening_html: String,
    /// Three facts.
    pub facts: Vec<Fact>,
    /// The piece after the work.
    pub after: Option<PlateView>,
    /// The same view before.
    pub before: Option<PlateView>,
    /// How the one before was laid onto the other; empty where it was not.
    pub laid: String,
    /// What was found: the gravest, in the order of their numbers.
    pub findings: Vec<FoundRow>,
    /// The others.
    pub further: Vec<FoundRow>,
    /// The work day by day.
    pub timeline: Option<Timeline>,
    /// The story after its opening.
    pub story: Vec<StoryBlock>,
    /// The same as HTML.
    pub story_html: String,
    /// What was decided.
    pub decisions: Vec<DecidedRow>,
    /// The other photographs.
    pub plates: Vec<PlateView>,
    /// How many of them only a page has room for; empty where print has room for all.
    pub plates_more: String,
    /// What lies on it today.
    pub cuts: Vec<CutView>,
    /// The annex, section by section.
    pub annex: Vec<Section>,
    /// How everything comes off again, section by section; the annex begins with it.
    pub undo: Vec<Section>,
    /// Surfaces of which no cut is drawn.
    pub further_cuts: Vec<CutView>,
}

/// Builds it.
pub(super) fn account(context: &PieceContext<'_>, gallery: &Gallery<'_>) -> Account {
    let words = context.house.words();
    let events = sound(&context.piece.story);
    let plates = gallery
        .plates(&events.iter().filter_map(|event| event.picture().map(str::to_owned)).collect::<Vec<_>>());
    let (opening, rest) = opening(&events);
    let all = || [&plates.after, &plates.before].into_iter().flatten().chain(&plates.others);
    let named = |file: &str| gallery.named(file);
    let on_page = |file: &str| {
        let photo = gallery.named(file)?;
        let plate = all().find(|plate| plate.photo.shows(photo))?;
        let words = words.say(&says!("plate-reference", number = plate.number));
        Some(StoryPicture::Plate { anchor: plate.anchor.clone(), words })
    };
    let title = words::shortened(&context.record.title, TITLE);
    let (findings, further) = findings(context);
    let decided = context.claims.decisions.iter().take(ROOM.1);
    let decided = decided.map(|decided| {
        let chosen = words.sentence(&decided.chosen);
        let others = words.sentences(&decided.others);
        DecidedRow {
            ask: chosen.lead,
            chosen: chosen.text,
            others: others.into_iter().map(|one| one.text).collect(),
        }
    });
    let more = plates.others.iter().filter(|plate| !plate.printed).count();
    let laid = match (plates.laid, &plates.after) {
        (Some(true), Some(after)) => words.sentence_of(&says!("plate-laid-and-lit", number = after.number)),
        (Some(false), Some(after)) => words.sentence_of(&says!("plate-laid", number = after.number)),
        _ => String::new(),
    };
    Account {
        whole_title: if title == context.record.title.to_string() {
            String::new()
        } else {
            context.record.title.to_string()
        },
        title,
        says: context
            .record
            .summary
            .as_ref()
            .map_or(String::new(), |says| words::shortened(&words::sentence(says), SAYS.0)),
        opening: story_blocks(opening.to_vec(), &named),
        opening_html: story_html(opening, on_page),
        facts: facts(context),
        laid,
        findings,
        further,
        timeline: timeline(context, &[]),
        story: story_blocks(rest.to_vec(), &named),
        story_html: story_html(rest, on_page),
        decisions: decided.collect(),
        plates_more: if more > 0 {
            words.sentence_of(&says!("plates-more", count = more))
        } else {
            String::new()
        },
        cuts: cuts(context, &drawn(context).0),
        further_cuts: cuts(context, &drawn(context).1),
        undo: worded(context, &undo(context)),
        annex: worded(context, &annex(context)),
        after: plates.after,
        before: plates.before,
        plates: plates.others,
    }
}

/// The first paragraph, where it is short enough to stand at the front by itself, and the rest.
fn opening(story: &[SoundEvent]) -> (&[SoundEvent], &[SoundEvent]) {
    match first_paragraph(story) {
        Some((end, letters)) if letters <= OPENING => story.split_at(end),
        _ => story.split_at(0),
    }
}

/// What the front tells of the piece, and whether the whole of it stands there.
fn told<'a>(context: &PieceContext<'a>) -> Vec<(&'a Claim, Fact, bool)> {
    let words = context.house.words();
    let claims = FACTS
        .iter()
        .filter_map(|name| context.claims.identity.iter().find(|claim| claim.message.name == *name));
    let told = claims.take(3).map(|claim| {
        let Sentence { lead, text, .. } = words.sentence(claim);
        let bare = text.strip_suffix('.').map(str::to_owned).unwrap_or(text);
        let short = words::shortened(&bare, SAYS.1);
        let whole = short == bare;
        (claim, Fact { label: lead, text: short }, whole)
    });
    told.collect()
}

fn facts(context: &PieceContext<'_>) -> Vec<Fact> {
    told(context).into_iter().map(|(_, fact, _)| fact).collect()
}

/// The gravest findings, in the order of their numbers, and the others.
fn gravest<'a>(context: &PieceContext<'a>) -> (Vec<&'a Found>, Vec<&'a Found>) {
    let mut ranked: Vec<&Found> = context.claims.found.iter().collect();
    ranked.sort_by_key(|found| found.rank);
    let mut others = ranked.split_off(ranked.len().min(ROOM.0));
    ranked.sort_by_key(|found| found.number);
    others.sort_by_key(|found| found.number);
    (ranked, others)
}

fn findings(context: &PieceContext<'_>) -> (Vec<FoundRow>, Vec<FoundRow>) {
    let words = context.house.words();
    // What became of several at once is told at the first of them.
    let told_at = |found: &Found| {
        let alike = |other: &&Found| other.became.message == found.became.message;
        let first = context.claims.found.iter().find(alike).map_or(found.number, |first| first.number);
        let telling = found.became.message.values.iter().any(|(key, _)| *key == "did");
        (telling && first != found.number).then(|| says!("became-as-at", number = first))
    };
    let row = |found: &&Found| {
        let seen = words.sentence(&found.seen);
        FoundRow {
            number: found.number,
            anchor: finding_anchor(found.number),
            seen: seen.lead,
            text: seen.text,
            became: told_at(found)
                .map_or_else(|| words.sentence(&found.became).text, |at| words.sentence_of(&at)),
        }
    };
    let (first, others) = gravest(context);
    (first.iter().map(row).collect(), others.iter().map(row).collect())
}

/// The cuts that are drawn, and the others: surfaces that lost something come first, since that is told best by a drawing.
/// Of one on which nothing lies but its own material its care tells as much.
fn drawn<'a>(context: &PieceContext<'a>) -> (Vec<&'a Cut>, Vec<&'a Cut>) {
    let has_layers = |cut: &&Cut| {
        let today = context.facts.surfaces.iter().find(|facts| facts.number == cut.number);
        let own = |layer: &Stratum| layer.coat.layer == Some(Layer::Surface);
        !cut.lost.is_empty() || today.is_some_and(|facts| !facts.today.layers.iter().all(own))
    };
    let mut some: Vec<&Cut> = context.claims.cuts.iter().filter(has_layers).collect();
    some.sort_by_key(|cut| (cut.lost.is_empty(), std::cmp::Reverse(cut.layers.len())));
    let mut others = some.split_off(some.len().min(ROOM.2));
    some.sort_by_key(|cut| cut.number);
    others.sort_by_key(|cut| cut.number);
    (some, others)
}

fn cuts(context: &PieceContext<'_>, cuts: &[&Cut]) -> Vec<CutView> {
    let words = context.house.words();
    let layer = |claim: &Claim, kind: &'static str, coats: u32| {
        let Sentence { lead, text, .. } = words.sentence(claim);
        CutLayer { name: lead, text, kind, coats: coats.min(6) }
    };
    let cut = |cut: &Cut| {
        let facts = context.facts.surfaces.iter().find(|facts| facts.number == cut.number)?;
        let ground = ground_of(context, &facts.surface);
        let today = facts.today.layers.iter().rev().zip(&cut.layers);
        let today = today.map(|(stratum, claim)| {
            let kind = stratum.coat.layer.map_or("unknown", Layer::word);
            layer(claim, kind, stratum.coat.coats)
        });
        let lost = cut.lost.iter().map(|claim| layer(claim, "lost", 1));
        Some(CutView {
            name: surface_name(context, &facts.surface),
            layers: lost.chain(today).collect(),
            ground: ground.name,
            grain: ground.grain,
        })
    };
    cuts.iter().filter_map(|one| cut(one)).collect()
}

fn section<'a>(
    name: &'static str,
    heading: Message,
    claims: impl IntoIterator<Item = &'a Claim>,
) -> Arranged<'a> {
    Arranged { name: name.into(), heading, form: Form::Columns, claims: claims.into_iter().collect() }
}

/// What comes before the annex.
fn front<'a>(context: &PieceContext<'a>) -> Vec<Arranged<'a>> {
    let claims = context.claims;
    let found = gravest(context).0.into_iter().flat_map(|found| [&found.seen, &found.became]);
    let decided = claims.decisions.iter().take(ROOM.1);
    let cut = drawn(context).0.into_iter().flat_map(|cut| cut.layers.iter().chain(&cut.lost));
    vec![
        section("piece", says!("heading-piece"), told(context).into_iter().map(|(claim, ..)| claim)),
        section("level", says!("heading-level"), &claims.level),
        section("findings", says!("heading-findings"), found),
        section(
            "decisions",
            says!("heading-decisions"),
            decided.flat_map(|decided| [&decided.chosen].into_iter().chain(&decided.others)),
        ),
        section("cuts", says!("heading-cuts"), cut),
    ]
}

/// How everything comes off again.
fn undo<'a>(context: &PieceContext<'a>) -> Vec<Arranged<'a>> {
    let undo = &context.claims.undo;
    vec![
        section("beware", says!("heading-beware"), &undo.beware),
        section("undo", says!("heading-undo"), &undo.ways),
        section("undo-lost", says!("heading-undo-lost"), &undo.lost),
        section("mixes", says!("heading-mixes"), &undo.mixes),
    ]
}

/// The rest of the annex: what the front has no room for, and everything that the other papers sum up.
fn annex<'a>(context: &PieceContext<'a>) -> Vec<Arranged<'a>> {
    let claims = context.claims;
    let whole: Vec<&Claim> =
        told(context).into_iter().filter(|(.., whole)| *whole).map(|(claim, ..)| claim).collect();
    // That its maker is not known stands with the rest that is not.
    let identity = claims.identity.iter().filter(|claim| !whole.contains(claim));
    let identity = identity.filter(|claim| claim.message.name != "fact-maker-not-known");
    let further = gravest(context).1.into_iter().flat_map(|found| [&found.seen, &found.became]);
    let decided = claims.decisions.iter().skip(ROOM.1);
    let cuts = drawn(context).1.into_iter().flat_map(|cut| cut.layers.iter().chain(&cut.lost));
    let reckoned = claims.weight.iter().chain(&claims.colours).chain(&claims.sources);
    // What the disclosure tells whole is not told again.
    let untold = |claims: &'a [Claim]| if tells_whole(context, claims) { &[][..] } else { claims };
    vec![
        section("parts", says!("heading-all-parts"), claims.parts_usual.iter().chain(&claims.parts)),
        section("patches", says!("heading-patches"), &claims.patches),
        section("fixings", says!("heading-all-fixings"), &claims.fixings),
        section("tests", says!("heading-tests"), claims.tests_made.iter().chain(&claims.tests_not_made)),
        section("further", says!("heading-more-findings"), further),
        section(
            "causes",
            says!("heading-causes"),
            claims.found.iter().filter_map(|found| found.cause.as_ref()),
        ),
        section(
            "log",
            says!("heading-log"),
            claims.log.iter().filter(|entry| !in_cuts(context, entry)).map(|entry| &entry.claim),
        ),
        section(
            "further-decisions",
            says!("heading-more-decisions"),
            decided.flat_map(|decided| [&decided.chosen].into_iter().chain(&decided.others)),
        ),
        section("further-cuts", says!("heading-more-cuts"), cuts),
        section("left", says!("heading-undone"), &claims.left_and_why),
        section("open", says!("ledger-open"), untold(&claims.open)),
        section("unknown", says!("heading-unknown"), untold(&claims.unknown)),
        section("given", says!("heading-given"), untold(&claims.given)),
        section("identity", says!("heading-identity"), identity),
        section("shares", says!("heading-shares"), &claims.shares),
        section("dating", says!("heading-dating"), &claims.dating),
        section("reckoned", says!("heading-reckoned"), reckoned),
    ]
    .into_iter()
    .chain(card(context).rest)
    .collect()
}

/// Whether all that is told of a coat stands in the cut through its surface: what it is, and on what day it was laid.
fn in_cuts(context: &PieceContext<'_>, entry: &LogEntry) -> bool {
    let Doing::Steps(steps) = &entry.doing else { return false };
    let plain = |step: &Step| {
        matches!(step.act(), Some(Act::Apply(_)))
            && step.mix.is_empty()
            && step.only.is_empty()
            && step.by.is_none()
            && step.abrade_between.is_none()
    };
    let lies = |number: usize, step: &Row<Step>| {
        let of = context.facts.surfaces.iter().find(|facts| facts.number == number);
        of.is_some_and(|facts| facts.today.layers.iter().any(|layer| layer.coat.laid_by(step)))
    };
    entry.on.is_some() && steps.iter().all(|(number, step)| plain(step) && lies(*number, step))
}

/// What the record says, section by section.
pub(super) fn arranged<'a>(context: &PieceContext<'a>) -> Vec<Arranged<'a>> {
    front(context).into_iter().chain(undo(context)).chain(annex(context)).collect()
}
