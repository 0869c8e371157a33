//! Whether a piece that can tip is to be anchored, and what was reckoned to pull it over.

use super::missing::missing;
use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, Weight, says};
use crate::derive::load::stability::{OpenedPart, Prompt, Stability, StabilityCheck, Verdict};
use crate::derive::name::part_name;
use crate::fields::Row;
use crate::record::Part;
use crate::unit::{GRAVITY, Mass};

/// The least pull of which a figure is given, as the mass that weighs as much, in kilograms.
///
/// Source: our own choice; the figures before it are not good to less.
const LEAST_PULL: f64 = 1.0;

/// Whether to anchor it, what pulls it over, how to anchor it, and what this is not; nothing for a piece that does not tip.
///
/// It is never said that a piece stays.
pub(super) fn stability(telling: &Telling<'_>) -> Vec<Claim> {
    let Some(found) = &telling.facts.stability else { return Vec::new() };
    let mut claims = vec![anchor(telling, found)];
    match &found.checked {
        Ok(checked) => claims.extend(checks(telling, checked)),
        Err(why) => claims.push(resting(telling, says!("tip-not-reckoned", why = missing(why)))),
    }
    if !found.prompts.is_empty() {
        claims.extend(how(telling));
    }
    claims.push(resting(
        telling,
        match found.checked {
            Ok(_) => says!("tip-limits"),
            Err(_) => says!("tip-limits-not-reckoned"),
        },
    ));
    claims
}

/// How to anchor and use it.
fn how<'a>(telling: &'a Telling<'_>) -> impl Iterator<Item = Claim> + 'a {
    let opens = telling.record.parts.iter().any(|part| part.present() && part.opens.is_some());
    let table = &telling.trade.stability;
    let how = table
        .advice
        .iter()
        .filter(move |row| row.id.0 != "anchor-height" && (opens || row.id.0 != "one-drawer"));
    how.map(|row| {
        Claim::new(
            says!("own-words", said = row.text.to_string()),
            Basis::table("stability", row.id.0.clone()),
        )
    })
}

/// Whether to anchor it, and why.
fn anchor(telling: &Telling<'_>, found: &Stability) -> Claim {
    let size = telling.record.size.as_ref();
    let height = || Value::Lengths(size.iter().map(|size| size.height.value).collect());
    let depth = || Value::Lengths(size.iter().map(|size| size.depth.value).collect());
    let holds = usize::from(telling.facts.nature.holds_things);
    let has = |prompt: Prompt| found.prompts.contains(&prompt);
    let (message, weight) = match () {
        () if has(Prompt::Shallow) => {
            (says!("anchor-shallow", height = height(), depth = depth(), holds = holds), Weight::DangerInUse)
        }
        () if has(Prompt::High) => {
            (says!("anchor-high", height = height(), holds = holds), Weight::DangerInUse)
        }
        () if has(Prompt::Kind) => (says!("anchor-screen"), Weight::DangerInUse),
        () if has(Prompt::Falls) || has(Prompt::NearlyFalls) => {
            (says!("anchor", holds = holds), Weight::DangerInUse)
        }
        () if size.is_none() => (says!("anchor-size-not-recorded"), Weight::UntestedDanger),
        () => (says!("anchor-low"), Weight::Plain),
    };
    resting(telling, message).weighing(weight)
}

fn resting(telling: &Telling<'_>, message: Message) -> Claim {
    let claim = Claim::new(message, telling.ground.said(&telling.record.kind, "kind"));
    claim
        .and(telling.ground.either(telling.record.size.as_ref(), "size"))
        .and(Basis::table("stability", "anchor-height"))
}

/// What pulls it over, or nearly does.
fn checks(telling: &Telling<'_>, checked: &StabilityCheck) -> Vec<Claim> {
    let mut claims = vec![{
        let least = Mass::from_kg(LEAST_PULL).expect("it is within a mass's bounds");
        let pull = Mass::from_kg(checked.pull / GRAVITY).filter(|pull| *pull >= least);
        let message = match pull {
            Some(pull) => says!("tip-pull", pull = Value::Load(pull)),
            None => says!("tip-pull-least", least = Value::Load(least)),
        };
        weighed(telling, checked, resting(telling, message))
    }];
    for (part, opened) in &checked.opened {
        let claim = match opened {
            Err(why) => Some(says!("tip-part-not-reckoned", part = part_name(part), why = missing(why)))
                .map(|message| resting(telling, message)),
            Ok(opened) => tips(part, opened)
                .map(|message| resting(telling, message).weighing(Weight::DangerInUse))
                .map(|claim| claim.and(Basis::table("stability", "child"))),
        };
        claims.extend(claim.map(|claim| weighed(telling, checked, claim).and(telling.row(part, "part"))));
    }
    let all = checked.all_open.map_or(Verdict::Far, |all| all.verdict());
    if let Some(comes_to) = comes_to(all) {
        let claim = resting(telling, says!("tip-all-open", comes = comes_to)).weighing(Weight::DangerInUse);
        let opened = checked.opened.iter().map(|(part, _)| telling.row(part, "part"));
        claims.push(weighed(telling, checked, claim).and_all(opened));
    }
    if !checked.weighed && checked.left_out > 0 {
        claims.push(resting(telling, says!("tip-left-out", left = checked.left_out)));
    }
    claims
}

/// What an open drawer or door does, empty and with a child's weight on it; nothing where it is far from tipping.
fn tips(part: &Row<Part>, opened: &OpenedPart) -> Option<Message> {
    let part_named = part_name(part);
    let open = match part.how_many() {
        1 => says!("tip-open", by = opened.by),
        _ => says!("tip-one-open", by = opened.by),
    };
    let (empty, child) = (comes_to(opened.empty.verdict()), comes_to(opened.with_child.verdict()));
    match (empty, child) {
        (Some(empty), Some(child)) => {
            Some(says!("tip-empty-and-child", part = part_named, open = open, empty = empty, child = child))
        }
        (None, Some(child)) => Some(says!("tip-child", part = part_named, open = open, child = child)),
        (Some(empty), None) => Some(says!("tip-empty", part = part_named, open = open, empty = empty)),
        (None, None) => None,
    }
}

fn comes_to(verdict: Verdict) -> Option<Message> {
    match verdict {
        Verdict::Tips => Some(says!("tips-over")),
        Verdict::Near => Some(says!("tips-nearly")),
        Verdict::Far => None,
    }
}

/// The claim, resting on what the piece weighs too.
fn weighed(telling: &Telling<'_>, checked: &StabilityCheck, claim: Claim) -> Claim {
    let parts = telling.facts.parts.iter().filter(|facts| facts.part.present() && facts.mass.is_ok());
    let parts = parts.filter(|_| !checked.weighed).map(|facts| telling.row(&facts.part, "part"));
    claim
        .and_all(telling.record.weighs.as_ref().map(|weighs| telling.ground.said(weighs, "weighs")))
        .and_all(parts)
}
