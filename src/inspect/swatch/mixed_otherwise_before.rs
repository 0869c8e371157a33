//! A mix on a timber on which the same was mixed otherwise before.

use std::collections::BTreeSet;

use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::fields::Said;
use crate::inspect::case::at_the_bench;
use crate::inspect::{Check, Rule, Shop};
use crate::record::{Ingredient, Piece, Record, Surface};
use crate::unit::fold::folded;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "mixed-otherwise-before",
    rank: Rank::Hint,
    why: "The same was mixed for the same timber before, and what came of that is known or can be looked at.",
    fix: "Hold the two against each other; `witnessmark consult colour --on TIMBER` tells how near the other came. A `[[swatch]]` of the new one measures it, and ends this.",
};

/// How many earlier mixes are told.
const TOLD: usize = 3;

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let mixes = mixes(shop);
    for mix in mixes.iter().filter(|mix| mix.new) {
        let mut before: Vec<&Mix<'_>> = mixes.iter().filter(|other| mix.was_otherwise(other)).collect();
        before.sort_by_key(|other| (std::cmp::Reverse(mix.shared(other)), other.number));
        let Some(nearest) = before.first() else { continue };
        let timber = mix.timbers.intersection(&nearest.timbers).next().map_or("", String::as_str);
        let mut told: Vec<String> =
            before.iter().map(|other| format!("{} ({})", other.words(), other.number)).collect();
        told.dedup();
        let more = if told.len() > TOLD { format!(" and {} more", told.len() - TOLD) } else { String::new() };
        told.truncate(TOLD);
        let message =
            format!("mixed for {timber} as {}, and before as {}{more}", mix.words(), told.join(", "));
        let help = format!("`witnessmark consult colour --on {timber}` has what came of it");
        let place = Place::at(&mix.of.record_path(), &mix.mixed[0].span);
        seen.push(Diagnostic::new(&CODE, place, message).help(help));
    }
}

/// What was mixed for a step.
struct Mix<'a> {
    of: &'a Piece,
    number: &'a str,
    timbers: BTreeSet<String>,
    mixed: &'a [Said<Ingredient>],
    /// What it is made of, by the form of the words.
    made_of: BTreeSet<String>,
    /// Whether its piece is still at the bench, and no swatch measures what came of it.
    new: bool,
}

impl Mix<'_> {
    /// Whether another piece had some of it in other parts on the same timber.
    fn was_otherwise(&self, other: &Mix<'_>) -> bool {
        self.of.folder != other.of.folder
            && !self.of.is_set_with(other.of)
            && !self.timbers.is_disjoint(&other.timbers)
            && self.shared(other) > 0
            && self.proportions() != other.proportions()
    }

    /// How many things are in both.
    fn shared(&self, other: &Mix<'_>) -> usize {
        self.made_of.intersection(&other.made_of).count()
    }

    /// Each thing in it with its share of the whole, rounded so that 1 to 2 is as 2 to 4.
    fn proportions(&self) -> BTreeSet<(String, i64, i64)> {
        let all: f64 = self.mixed.iter().map(|one| one.parts.low + one.parts.high).sum();
        let share = |parts: f64| (parts / all * 1e4).round() as i64;
        self.mixed.iter().map(|one| (folded(&one.of), share(one.parts.low), share(one.parts.high))).collect()
    }

    /// It, as `3 garnet : 1 pale`.
    fn words(&self) -> String {
        let one = |one: &Said<Ingredient>| match one.parts.low == one.parts.high {
            true => format!("{} {}", one.parts.low, *one.of),
            false => format!("{} to {} {}", one.parts.low, one.parts.high, *one.of),
        };
        self.mixed.iter().map(one).collect::<Vec<_>>().join(" : ")
    }
}

/// Every mix on a timber that is known.
fn mixes<'a>(shop: &'a Shop<'_>) -> Vec<Mix<'a>> {
    let mut mixes = Vec::new();
    for piece in &shop.folder.pieces {
        let Some(record) = piece.record.as_deref() else { continue };
        for (surface, number) in record.surfaces.iter().zip(1_u32..) {
            let timbers = timbers(shop, record, surface);
            let mixed = surface.steps.iter().map(|step| step.mix.as_slice()).filter(|mix| mix.len() > 1);
            if timbers.is_empty() {
                continue;
            }
            let measured = record.swatches.iter().any(|swatch| match &swatch.surface {
                Some(of) => of.0 == number,
                None => {
                    swatch.part.iter().any(|part| surface.parts.iter().any(|own| own.value == part.value))
                }
            });
            mixes.extend(mixed.map(|mixed| Mix {
                of: piece,
                number: &record.number,
                timbers: timbers.clone(),
                mixed,
                made_of: mixed.iter().map(|one| folded(&one.of)).filter(|form| !form.is_empty()).collect(),
                new: !measured && at_the_bench(piece, record),
            }));
        }
    }
    mixes
}

/// The timbers of a surface, by their ids.
fn timbers(shop: &Shop<'_>, record: &Record, surface: &Surface) -> BTreeSet<String> {
    let parts = record.parts.iter().filter(|part| surface.parts.iter().any(|id| id.value == part.id.value));
    let said = parts.filter_map(|part| part.veneer.as_ref().or(part.timber.as_ref())?.known());
    said.filter_map(|word| shop.trade.timber(word)).map(|timber| timber.id.0.clone()).collect()
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn record(timber: &str, mix: &str, more: &str) -> String {
        format!(
            "part = [{{ id = \"top\", name = \"Top\", standing = \"original\", timber = \"{timber}\" }}]\n\
             surface = [{{ parts = \"top\", steps = [{{ apply = \"shellac\", mix = [{mix}] }}] }}]\n{more}"
        )
    }

    const BEFORE: &str = "{ of = \"garnet\", parts = 3 }, { of = \"pale\", parts = 1 }";

    fn now(timber: &str, mix: &str, more: &str) -> String {
        let chair = "title = \"Chair\"\nnumber = \"CH-7\"\nkind = \"chair/side\"\n";
        let before = record("european-oak", BEFORE, "handover = { on = 2026-01-05 }");
        sees(&RULE, &format!("{}\n#- pieces/chair/record.toml\n{chair}{before}", record(timber, mix, more)))
    }

    #[test]
    fn other_parts_of_the_same_on_the_same_timber() {
        let mix = "{ of = \"Garnet\", parts = 2 }, { of = \"pale\", parts = [1, 2] }";
        assert_eq!(
            now("european-oak", mix, ""),
            "2: mixed for european-oak as 2 Garnet : 1 to 2 pale, and before as 3 garnet : 1 pale (CH-7) \
             [`witnessmark consult colour --on european-oak` has what came of it]"
        );
        assert_eq!(now("european-beech", mix, ""), "", "another timber");
        assert_eq!(now("european-oak", "{ of = \"umber\", parts = 2 }, { of = \"oil\", parts = 1 }", ""), "");
        assert_eq!(now("european-oak", mix, "handover = { on = 2026-05-01 }"), "");
    }

    #[test]
    fn the_same_proportions_or_a_colour_that_was_measured() {
        assert_eq!(
            now("european-oak", "{ of = \"pale\", parts = 2 }, { of = \"garnet\", parts = 6 }", ""),
            ""
        );
        let swatch = "swatch = [{ photo = \"a.jpg\", target = [0, 0, 0.4, 1], result = [0.5, 0, 0.5, 1], surface = 1 }]";
        let mix = "{ of = \"garnet\", parts = 2 }, { of = \"pale\", parts = 1 }";
        assert_ne!(now("european-oak", mix, ""), "");
        assert_eq!(now("european-oak", mix, &format!("{swatch}\n")), "");
    }
}
