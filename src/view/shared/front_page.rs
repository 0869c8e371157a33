//! What a buyer reads on one page: what it is, what to know, what is old and what is not, and a line for everything else.
//!
//! Nothing is dropped: what has no room here is counted, and stands whole in the build record.

use serde::Serialize;

use super::identity;
use super::photograph::{Gallery, StandingDrawing};
use super::seal::{SealFor, seal_view};
use super::summing::{fitted, wide};
use crate::claim::{Claim, Message, Value, says};
use crate::record::{PartId, Standing};
use crate::view::context::PieceContext;
use crate::view::names::finding_anchor;
use crate::words::{Words, shortened};

/// Letters of a title that have room.
const TITLE: usize = 70;

/// Letters of the sentence that says what it is.
const SAYS: usize = 190;

/// Letters of what a line to know begins with, and of what follows.
const KNOW: (usize, usize) = (95, 190);

/// Letters of the name and of the rest of a part's line.
const PART: (usize, usize) = (34, 62);

/// Letters of a line of the list below, and of all but the most important of them where room is scarce.
const LINE: usize = 210;

/// Changes since the seal that have room.
const CORRECTED: usize = 2;

/// One thing to know.
#[derive(Debug, Clone, Serialize)]
pub struct KnowLine {
    /// What it is, in a few words.
    pub lead: String,
    /// What to do, or what follows; may be empty.
    pub text: String,
    /// Where the build record tells more: `finding 2`; may be empty.
    pub place: String,
    /// The id of the first finding named there; empty where none is.
    pub anchor: String,
    /// How much it matters, in a word.
    pub weight: &'static str,
}

/// A part, or several of one standing.
#[derive(Debug, Clone, Serialize)]
pub struct PartRowShort {
    /// Its number in the list and on the photograph.
    pub number: usize,
    /// Its standing as the record writes it, for a theme's patterns.
    pub standing_word: &'static str,
    /// Its name.
    pub name: String,
    /// Its standing, and shortly what else matters.
    pub text: String,
}

/// One line of the list at the foot.
#[derive(Debug, Clone, Serialize)]
pub struct LedgerRow {
    /// What it is about.
    pub label: String,
    /// What is told.
    pub text: String,
}

/// The page.
#[derive(Debug, Clone, Serialize)]
pub struct FrontPage {
    /// What it is called, cut where it is very long.
    pub title: String,
    /// Type, timbers and years.
    pub kind: String,
    /// Its size; may be empty.
    pub size: String,
    /// How far the work went, and the piece in a sentence.
    pub says: String,
    /// What to know, the worst first.
    pub know: Vec<KnowLine>,
    /// How many parts are as first made.
    pub count: String,
    /// The parts, in eight lines at most.
    pub parts: Vec<PartRowShort>,
    /// The standings drawn on a photograph; none where no part is outlined.
    pub drawing: Option<StandingDrawing>,
    /// Everything else, a line each.
    pub ledger: Vec<LedgerRow>,
    /// What was changed since it was sealed: the first changes, and how many more there are.
    pub corrected: Vec<String>,
}

/// Builds the page.
pub(crate) fn front_page(context: &PieceContext<'_>, gallery: &Gallery<'_>) -> FrontPage {
    let (words, claims) = (context.house.words(), context.claims);
    let parts = claims.part_lines.iter().zip(1..).map(|(line, number)| {
        let said = words.sentence(&line.claim);
        PartRowShort {
            number,
            standing_word: line.standing.word(),
            name: shortened(&said.lead, PART.0),
            text: shortened(
                &words.say(&line.claim.message),
                if line.parts.len() > 1 { 2 * PART.1 } else { PART.1 },
            ),
        }
    });
    let listed = |part: &PartId| -> Option<(usize, Standing)> {
        let (at, line) = claims.part_lines.iter().enumerate().find(|(_, line)| line.parts.contains(part))?;
        Some((at + 1, line.standing))
    };
    FrontPage {
        title: shortened(context.bare_title(), TITLE),
        kind: shortened(&kind(context), TITLE * 2),
        size: identity::fact(context, "fact-size")
            .or_else(|| identity::fact(context, "fact-size-folded"))
            .unwrap_or_default(),
        says: shortened(&says(context), SAYS),
        know: know(context),
        count: claims.verdict.first().map_or(String::new(), |claim| words.sentence(claim).whole()),
        parts: parts.collect(),
        drawing: gallery.standing(&listed),
        ledger: ledger(context),
        corrected: corrected(context),
    }
}

/// What was changed since the seal, so much of it as has room.
fn corrected(context: &PieceContext<'_>) -> Vec<String> {
    let all = seal_view(context, SealFor::Buyer).amendments;
    let mut told: Vec<String> = all.iter().take(CORRECTED).map(|change| shortened(change, LINE)).collect();
    if all.len() > CORRECTED {
        let more = says!("ledger-more", count = all.len() - CORRECTED);
        told.push(crate::words::sentence(&context.house.words().say(&more)));
    }
    told
}

/// What to know before buying, the worst first.
pub(crate) fn know(context: &PieceContext<'_>) -> Vec<KnowLine> {
    context.claims.know.iter().map(|claim| know_line(context, claim)).collect()
}

fn kind(context: &PieceContext<'_>) -> String {
    let made = context.record.made.as_ref().map(|_| identity::made(context));
    let known = [Some(identity::kind(context)), Some(identity::materials(context)), made];
    let known = known.into_iter().flatten().filter(|said| !said.is_empty());
    known.map(|said| crate::words::capital(&said)).collect::<Vec<_>>().join(" · ")
}

/// How far the work went in a word, and the maker's sentence.
fn says(context: &PieceContext<'_>) -> String {
    let words = context.house.words();
    let level = context.claims.level.first().map(|claim| words.sentence(claim));
    let summary = context.record.summary.as_ref().map(|summary| crate::words::sentence(summary));
    match (level, summary) {
        (Some(level), Some(summary)) => format!("{} {summary}", crate::words::sentence(&level.lead)),
        (Some(level), None) => level.whole(),
        (None, summary) => summary.unwrap_or_default(),
    }
}

/// One of these lines.
pub(crate) fn know_line(context: &PieceContext<'_>, claim: &Claim) -> KnowLine {
    let said = context.house.words().sentence(claim);
    let (lead, text) = said.parted();
    let numbers = findings(context, claim);
    KnowLine {
        anchor: numbers.first().map_or(String::new(), |number| finding_anchor(*number)),
        lead: shortened(&lead, KNOW.0),
        text: fitted(&text, KNOW.1).0,
        place: match numbers.is_empty() {
            true => tested(context, claim),
            false => place(context, &numbers),
        },
        weight: claim.weight.word(),
    }
}

/// The numbers of the findings that a claim rests on.
fn findings(context: &PieceContext<'_>, claim: &Claim) -> Vec<usize> {
    let ground = crate::claim::Ground::of(context.piece.record_path());
    let numbers = context.record.findings.iter().zip(1..);
    let rests = |(finding, _): &(&crate::fields::Row<crate::record::Finding>, usize)| {
        claim.basis().contains(&ground.row(finding, "finding"))
    };
    numbers.filter(rests).map(|(_, number)| number).collect()
}

/// Where the build record tells more: the numbers of findings, in words.
fn place(context: &PieceContext<'_>, numbers: &[usize]) -> String {
    let numbers: Vec<Value> = numbers.iter().map(|number| Value::from(*number)).collect();
    context.house.words().say(&says!("place-finding", numbers = Value::Series(numbers)))
}

/// The day of the test that a claim rests on, in words; empty where there is none, or its day is not recorded.
fn tested(context: &PieceContext<'_>, claim: &Claim) -> String {
    let ground = crate::claim::Ground::of(context.piece.record_path());
    let by_themselves = context.record.tests.iter();
    let by_themselves =
        by_themselves.filter_map(|test| Some((ground.row(test, "test"), test.on.as_ref()?.value)));
    let steps = context.record.surfaces.iter().flat_map(|surface| &surface.steps);
    let steps =
        steps.filter_map(|step| Some((ground.row(step, "surface.steps.test"), step.on.as_ref()?.value)));
    let day = by_themselves.chain(steps).find(|(row, _)| claim.basis().contains(row)).map(|(_, on)| on);
    day.map_or(String::new(), |on| context.house.words().say(&says!("place-test", on = on)))
}

/// Everything that has a line of its own; what `know` tells already is not told again.
fn ledger(context: &PieceContext<'_>) -> Vec<LedgerRow> {
    let words = context.house.words();
    let row =
        |(label, claims, told)| LedgerRow { label: words.heading(&label), text: joined(words, claims, told) };
    ledger_lists(context).into_iter().map(row).collect()
}

/// Tenths of a millimetre that a page has where everything is set as tightly as it may be, by its paper, and that a line
/// takes there; and letters of a line beside a label, and in the list of parts.
const HIGH: (usize, usize) = (2760, 2584);
const TIGHT: usize = 38;
const BESIDE: usize = 86;
const PARTS: usize = 64;

/// Letters that a text keeps where even that is not enough.
const CUT: usize = 90;

/// Where the page is too full even when it is set as tightly as it may be: how many texts each of its lists has cut.
pub(crate) fn summed_up(context: &PieceContext<'_>) -> Vec<(Message, usize)> {
    let (words, claims) = (context.house.words(), context.claims);
    let lines = |text: &str, letters: usize| wide(text).div_ceil(letters).max(1);
    let rows: Vec<(Message, String)> =
        ledger_lists(context).into_iter().map(|(label, of, told)| (label, joined(words, of, told))).collect();
    let know = know(context);
    let head = 330 + 56 * lines(&says(context), 56);
    let known: usize = know.iter().map(|line| lines(&line.lead, 84) * TIGHT + 20).sum();
    let parts = claims.part_lines.iter().map(|line| {
        let said = words.sentence(&line.claim);
        let room = if line.parts.len() > 1 { 2 * PART.1 } else { PART.1 };
        let letters =
            wide(&shortened(&said.lead, PART.0)) + wide(&shortened(&words.say(&line.claim.message), room));
        letters.div_ceil(PARTS).max(1) * TIGHT + 8
    });
    let count =
        claims.verdict.first().map_or(0, |claim| lines(&words.sentence(claim).whole(), PARTS) * TIGHT);
    let listed = parts.sum::<usize>() + count + 110;
    let ledger: usize = rows.iter().map(|(_, text)| lines(text, BESIDE) * TIGHT + 14).sum();
    let corrected: usize = corrected(context).iter().map(|text| lines(text, BESIDE) * TIGHT + 14).sum();
    let room = if context.house.view().paper == "letter" { HIGH.1 } else { HIGH.0 };
    if head + known + 150 + listed + ledger + corrected + 260 <= room {
        return Vec::new();
    }
    let cut = |text: &str| wide(text) > CUT;
    let mut all = vec![(says!("heading-know"), know.iter().filter(|line| cut(&line.lead)).count())];
    all.extend(rows.into_iter().map(|(label, text)| (label, usize::from(cut(&text)))));
    all.retain(|(_, count)| *count > 0);
    all
}

/// The lists that have a line each, with what of their claims stands there.
fn ledger_lists<'a>(context: &PieceContext<'a>) -> Vec<(Message, &'a [Claim], Told)> {
    let claims = context.claims;
    let rows: [(Message, &'a [Claim], Told); 11] = [
        (says!("ledger-further"), &claims.further, Told::First),
        (says!("ledger-finish"), &claims.finish_lines, Told::Whole),
        (says!("ledger-lost"), &claims.lost_lines, Told::Whole),
        (says!("ledger-patches"), &claims.patches, Told::Lead),
        (says!("ledger-fixings"), &claims.fixing_lines, Told::Whole),
        (says!("ledger-tests"), &claims.tests_made, Told::LeadAndText),
        (says!("ledger-not-tested"), &claims.tests_not_made, Told::Lead),
        (says!("ledger-left"), &claims.left, Told::Lead),
        (says!("ledger-open"), &claims.open, Told::Whole),
        (says!("ledger-unknown"), &claims.unknown, Told::Whole),
        (says!("ledger-given"), &claims.given, Told::Whole),
    ];
    rows.into_iter().filter(|(_, claims, _)| !claims.is_empty()).collect()
}

/// What of a claim stands in a line with others.
#[derive(Debug, Clone, Copy)]
enum Told {
    /// All of it.
    Whole,
    /// What it begins with.
    Lead,
    /// Both, with a colon.
    LeadAndText,
    /// Its first sentence.
    First,
}

/// Whether all that is told of these claims stands on the page: none is cut or counted.
pub(crate) fn tells_whole(context: &PieceContext<'_>, claims: &[Claim]) -> bool {
    let is_whole = |(_, of, told): &(Message, &[Claim], Told)| {
        let texts = texts(context.house.words(), of, *told);
        let letters: usize = texts.iter().map(|text| text.chars().count() + 2).sum();
        std::ptr::eq(*of, claims) && matches!(told, Told::Whole) && letters < LINE
    };
    ledger_lists(context).iter().any(is_whole) && summed_up(context).is_empty()
}

/// What is told of each claim of a line; what is told of several things in the same words is told once.
fn texts(words: &Words, claims: &[Claim], told: Told) -> Vec<String> {
    let one = |claim: &Claim| {
        let lead = words.sentence(claim).lead;
        match told {
            Told::Whole => shortened(&words.short(&claim.message), LINE),
            Told::Lead => shortened(&lead, LINE),
            Told::LeadAndText => shortened(&format!("{lead}: {}", words.say(&claim.message)), LINE),
            Told::First => shortened(words.sentence(claim).parted().0.trim_end_matches('.'), LINE),
        }
    };
    let mut texts: Vec<String> = Vec::new();
    for text in claims.iter().map(one) {
        if !texts.contains(&text) {
            texts.push(text);
        }
    }
    texts
}

/// Several claims in a line: so many as have room, and how many more there are.
fn joined(words: &Words, claims: &[Claim], told: Told) -> String {
    let texts = texts(words, claims, told);
    let mut room = LINE;
    let fits = |text: &&String| {
        let had = room;
        room = room.saturating_sub(text.chars().count() + 2);
        had == LINE || room > 0
    };
    let mut said: Vec<String> = texts.iter().take_while(fits).cloned().collect();
    let left = texts.len() - said.len();
    if left > 0 {
        said.push(words.say(&says!("ledger-more", count = left)));
    }
    crate::words::sentence(&said.join("; "))
}
