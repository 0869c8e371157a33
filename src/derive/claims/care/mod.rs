//! How a piece is looked after: each face by all of its layers, and the piece by its parts and its record.

mod days;
mod face;
mod from;
mod label_finish;
mod materials;
mod room;

use super::lead::test_basis;
use super::telling::Telling;
use super::twice::twice;
use crate::claim::{Claim, Weight, says};
use crate::derive::hazard::implied::Because;
use crate::derive::hazard::result::TestReading;
use crate::fields::{Row, Said, Text};
use crate::record::{Undone, Use};

pub use days::DayKept;
pub use face::{CareRow, FaceCare};
pub use from::FromDay;

pub(super) use face::layer_name;

/// How a piece is looked after.
#[derive(Debug, Clone, Default)]
pub struct CareClaims {
    /// What it is for.
    pub purpose: Vec<Claim>,
    /// What its maker says to beware of.
    pub cautions: Vec<Claim>,
    /// From when it may be used, day by day, three at most.
    pub from: Vec<FromDay>,
    /// That all these days were over when it left.
    pub hard: Vec<Claim>,
    /// What the days wait for and do not promise, or why there are none.
    pub from_notes: Vec<Claim>,
    /// Each face, or several that are looked after alike.
    pub faces: Vec<FaceCare>,
    /// What makes cloths catch fire.
    pub cloths: Vec<Claim>,
    /// Seats, cloth, leather, glass and metal that lie on no surface.
    pub materials: Vec<Claim>,
    /// What was left unmended, as it shows in use, where no warning tells it.
    pub in_use: Vec<Claim>,
    /// What keeps it standing, where no warning tells it.
    pub standing: Vec<Claim>,
    /// Putting it up, step by step.
    pub assembly: Vec<Claim>,
    /// Moving it and taking it apart, step by step.
    pub moving: Vec<Claim>,
    /// The room that suits it.
    pub room: Vec<Claim>,
    /// The room that its figures are for; empty where there are none.
    pub room_of_figures: Vec<Claim>,
    /// Whom to ask.
    pub ask: Vec<Claim>,
    /// The days that its owner keeps.
    pub days: Vec<DayKept>,
    /// Its finish in a few words, as a label has room for: the first that fits.
    pub label_finish: Vec<Claim>,
}

/// How a piece is looked after; what shows in use and what keeps it standing follow only
/// from what to know. The room of the figures is told where there are figures.
pub(super) fn care(telling: &Telling<'_>, reckoned_for_a_room: bool) -> CareClaims {
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
        cautions: used.iter().flat_map(|used| &used.cautions).map(|text| caution(telling, text)).collect(),
        from: from::days(telling),
        hard: from::over(telling),
        from_notes: from::notes(telling),
        faces: face::faces(telling),
        cloths: face::cloths(telling),
        materials: materials::materials(telling),
        in_use: Vec::new(),
        standing: Vec::new(),
        assembly: own("use.assembly", |used| &used.assembly),
        moving: own("use.moving", |used| &used.moving),
        room: room::room(telling),
        room_of_figures: reckoned_for_a_room.then(|| room::of_figures(telling)).into_iter().collect(),
        ask: room::ask(telling),
        days: days::days(telling),
        label_finish: label_finish::label_finish(telling),
    }
}

fn own_words(telling: &Telling<'_>, text: &Said<Text>, key: &str) -> Claim {
    Claim::new(says!("own-words", said = text), telling.ground.said(text, key))
}

/// What its maker says to beware of, with the findings and tests that tell of the same; what a test found and is still
/// there weighs most.
fn caution(telling: &Telling<'_>, text: &Said<Text>) -> Claim {
    let mut claim = own_words(telling, text, "use.cautions").weighing(Weight::DangerInUse);
    for implied in telling.facts.hazards.iter().filter(|implied| implied.cautions.contains(text)) {
        let lies = |because: &Because| match because {
            Because::Coat(coat) => coat.reading == TestReading::Positive && !coat.gone,
            _ => true,
        };
        if implied.reading == TestReading::Positive && implied.today.iter().any(lies) {
            let found = implied.tests.iter().filter(|test| test.reading == TestReading::Positive);
            claim = claim.and_all(found.map(|test| test_basis(telling, test))).weighing(Weight::Danger);
        }
        let seen = implied.today.iter().filter_map(|because| match because {
            Because::Finding { finding } => Some(telling.row(finding, "finding")),
            _ => None,
        });
        claim = claim.and_all(seen);
    }
    claim
}

/// What was left unmended, as it shows in use, the gravest first, but for what warns a buyer; `undone` has a claim for
/// each row.
pub(super) fn in_use(telling: &Telling<'_>, undone: &[Claim], know: &[Claim]) -> Vec<Claim> {
    let rows = telling.record.undone.iter().zip(undone);
    let told = |row: &Undone, claim: &Claim| {
        claim.weight.warns() && know.contains(claim) || twice(telling, row).effect
    };
    let mut untold: Vec<(&Row<Undone>, &Claim)> = rows.filter(|(row, claim)| !told(row, claim)).collect();
    untold.sort_by_key(|(_, claim)| claim.weight);
    untold
        .into_iter()
        .filter_map(|(row, _)| {
            let effect = row.effect.as_ref()?;
            // What a caution begins with is not said again.
            let cautions = telling.record.r#use.iter().flat_map(|used| &used.cautions);
            let begins = row.what.to_lowercase();
            let said = cautions.into_iter().any(|caution| caution.to_lowercase().starts_with(&begins));
            let message = match said {
                true => says!("own-words", said = effect),
                false => says!("in-use", what = &row.what, effect = effect),
            };
            let claim = Claim::new(message, telling.ground.said(effect, "undone.effect"));
            Some(claim.and(telling.ground.said(&row.what, "undone.what")))
        })
        .collect()
}
