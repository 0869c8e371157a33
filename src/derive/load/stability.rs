//! Whether a tall piece stands: a simple static check of what could pull it over its front feet.
//!
//! It prompts an anchor. It proves nothing, and is no test to any standard.

use super::part::PartFacts;
use crate::derive::missing_input::MissingInput;
use crate::fields::Row;
use crate::record::{Part, Record};
use crate::trade::Trade;
use crate::unit::{GRAVITY, Length, Mass, MassSpan};

/// Turning effects about the front feet, in newton metres, unrounded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Balance {
    /// What holds the piece down.
    pub holds: f64,
    /// What pulls it over.
    pub tips: f64,
}

/// A piece whose turning effects come this near to one another is near tipping: where its feet stand, where its
/// middle lies and what the floor is like are not known any better.
///
/// Source: our own choice.
const NEAR: f64 = 1.5;

/// What a balance comes to. What is far from tipping by this is no safer for it: it was not tested.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// It is far from tipping.
    Far,
    /// It is near tipping.
    Near,
    /// It tips over.
    Tips,
}

impl Balance {
    /// What it comes to.
    pub fn verdict(self) -> Verdict {
        match self.tips {
            tips if tips > self.holds => Verdict::Tips,
            tips if NEAR * tips > self.holds => Verdict::Near,
            _ => Verdict::Far,
        }
    }
}

/// The balance of a piece about its front feet.
///
/// `rest` is what stays in its place, with its centre `behind` the front feet in millimetres; each of `in_front` is a
/// mass and how far its centre lies in front of them, in millimetres.
///
/// # Source
/// Statics: it goes over where the turning effect of what is in front is greater than that of what is behind.
pub fn balance(rest: Mass, behind: f64, in_front: &[(Mass, f64)]) -> Balance {
    let turning = |mass: Mass, arm: f64| mass.newtons() * arm.max(0.0) / 1000.0;
    Balance {
        holds: turning(rest, behind),
        tips: in_front.iter().map(|(mass, arm)| turning(*mass, *arm)).sum(),
    }
}

/// One row of drawers or doors.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenedPart {
    /// How far one reaches in front.
    pub by: Length,
    /// One open and empty.
    pub empty: Balance,
    /// One open with a child's weight on its outer edge.
    pub with_child: Balance,
}

/// What the check of a piece gives.
#[derive(Debug, Clone, PartialEq)]
pub struct StabilityCheck {
    /// What it weighs.
    pub mass: MassSpan,
    /// Whether it was put on a scale.
    pub weighed: bool,
    /// How many parts are left out of its weight.
    pub left_out: u32,
    /// The forward pull at its top edge that begins to tip it, closed and empty, in newtons.
    pub pull: f64,
    /// Its drawers and doors.
    pub opened: Vec<(Row<Part>, Result<OpenedPart, MissingInput>)>,
    /// All of those that are known open at once, empty; `None` where there are fewer than two.
    pub all_open: Option<Balance>,
}

impl StabilityCheck {
    /// The worst of all that was looked at.
    pub fn worst(&self) -> Verdict {
        let opened = self.opened.iter().filter_map(|(_, opened)| opened.as_ref().ok());
        let balances = opened.flat_map(|opened| [opened.empty, opened.with_child]).chain(self.all_open);
        balances.map(Balance::verdict).max().unwrap_or(Verdict::Far)
    }
}

/// Why an anchor is prompted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Prompt {
    /// It is as high as rules of some countries begin.
    High,
    /// It is of a kind for which that goes at any height.
    Kind,
    /// It is tall for its depth.
    Shallow,
    /// Something that was looked at pulls it over.
    Falls,
    /// Something that was looked at nearly does.
    NearlyFalls,
}

/// Whether a piece stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Stability {
    /// Why an anchor is prompted; empty where it is not.
    pub prompts: Vec<Prompt>,
    /// The check, or what is missing for it.
    pub checked: Result<StabilityCheck, MissingInput>,
}

/// Checks a piece that can tip: one whose kind the table names, or that is tall for its depth; `None` for others.
///
/// Where its front feet are not recorded they are taken to stand at its outline. Its centre is taken to lie in the middle
/// of its depth, the middle of an open drawer or door half as far out as it reaches, and drawers to be empty. Of the
/// piece the light end is taken and of what is open the heavy end, which is then taken off the piece as well, so that
/// nothing weighs one thing behind the feet and another in front of them.
pub(in crate::derive) fn stability(
    record: &Record,
    parts: &[PartFacts],
    weight: &Result<super::lifting::Lifting, MissingInput>,
    trade: &Trade,
) -> Option<Stability> {
    let table = &trade.stability;
    let kind = table.kind(&record.kind);
    let size = record.size.as_ref();
    let ratio = table.limit("shallow").map_or(f64::INFINITY, |limit| limit.ratio.0);
    let shallow = size.is_some_and(|size| size.height.mm() >= ratio * size.depth.mm());
    if kind.is_none() && !shallow {
        return None;
    }
    let checked = check(record, parts, weight, trade);
    let from = table.advice("anchor-height").and_then(|advice| advice.height_mm.as_ref());
    let high = from.is_some_and(|from| size.is_some_and(|size| size.height.mm() >= from.0));
    let any = kind.is_some_and(|kind| kind.any_height.as_ref().is_some_and(|any| any.value));
    let worst = checked.as_ref().map_or(Verdict::Far, StabilityCheck::worst);
    let prompts = [
        (high, Prompt::High),
        (any, Prompt::Kind),
        (shallow, Prompt::Shallow),
        (worst == Verdict::Tips, Prompt::Falls),
        (worst == Verdict::Near, Prompt::NearlyFalls),
    ];
    let prompts = prompts.into_iter().filter(|(holds, _)| *holds).map(|(_, prompt)| prompt).collect();
    Some(Stability { prompts, checked })
}

fn check(
    record: &Record,
    parts: &[PartFacts],
    weight: &Result<super::lifting::Lifting, MissingInput>,
    trade: &Trade,
) -> Result<StabilityCheck, MissingInput> {
    let size = record.size.as_ref().ok_or(MissingInput::Outline)?;
    let weight = weight.as_ref().map_err(Clone::clone)?;
    let mass = weight.whole.mass;
    let feet_in = size.feet_in.as_ref().map_or(0.0, |feet_in| feet_in.mm());
    let behind = (size.depth.mm() / 2.0 - feet_in).max(0.0);
    let child = trade.stability.load("child").expect("the table has the load, and a test looks");
    let child = Mass::from_kg(child.kg.0).unwrap_or_default();
    let opens = parts.iter().filter(|facts| facts.part.present() && facts.part.opens.is_some());
    let open: Vec<(&Row<Part>, Result<OpenLeaf, MissingInput>)> =
        opens.map(|facts| (&facts.part, leaf(facts))).collect();
    let balanced = |out: &[(Mass, f64)], on_it: &[(Mass, f64)]| {
        let taken: f64 = out.iter().map(|(mass, _)| mass.kg()).sum();
        let rest = Mass::from_kg((mass.low.kg() - taken).max(0.0)).unwrap_or_default();
        let in_front: Vec<(Mass, f64)> = out.iter().chain(on_it).copied().collect();
        balance(rest, behind, &in_front)
    };
    let open_one = |leaf: &OpenLeaf| (leaf.heaviest, feet_in + leaf.by.mm() / 2.0);
    let opened = |leaf: &OpenLeaf| OpenedPart {
        by: leaf.by,
        empty: balanced(&[open_one(leaf)], &[]),
        with_child: balanced(&[open_one(leaf)], &[(child, feet_in + leaf.by.mm())]),
    };
    let known: Vec<&OpenLeaf> = open.iter().filter_map(|(_, leaf)| leaf.as_ref().ok()).collect();
    let several = known.iter().map(|leaf| leaf.count).sum::<u32>() > 1;
    let all = || {
        let alike = |leaf: &&OpenLeaf| {
            let (one, arm) = open_one(leaf);
            (one.times(f64::from(leaf.count)), arm)
        };
        balanced(&known.iter().map(alike).collect::<Vec<_>>(), &[])
    };
    Ok(StabilityCheck {
        mass,
        weighed: weight.weighed,
        left_out: weight.left_out,
        pull: mass.low.kg() * GRAVITY * behind / size.height.mm(),
        all_open: several.then(all),
        opened: open
            .iter()
            .map(|(part, leaf)| ((*part).clone(), leaf.as_ref().map(opened).map_err(Clone::clone)))
            .collect(),
    })
}

/// A drawer or door: what one weighs, how far it reaches, how many there are.
struct OpenLeaf {
    heaviest: Mass,
    by: Length,
    count: u32,
}

fn leaf(PartFacts { part, mass, .. }: &PartFacts) -> Result<OpenLeaf, MissingInput> {
    let by = part.opens.as_ref().and_then(|opens| opens.by.as_ref());
    let by = by.ok_or(MissingInput::Dimension("reach"))?.value;
    Ok(OpenLeaf { heaviest: mass.as_ref().map_err(Clone::clone)?.each.high, by, count: part.how_many() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::facts;
    use proptest::prelude::*;

    fn kg(kg: f64) -> Mass {
        Mass::from_kg(kg).expect("a mass")
    }

    #[test]
    fn the_worked_case_of_the_table() {
        // 25 kg 220 mm behind the feet; a drawer of 5 kg 150 mm and a child of 60 lb 300 mm in front of them.
        let found = balance(kg(25.0), 220.0, &[(kg(5.0), 150.0), (kg(27.2155), 300.0)]);
        assert!((found.holds - 53.94).abs() < 0.005 && (found.tips - 87.42).abs() < 0.005, "{found:?}");
        assert_eq!(found.verdict(), Verdict::Tips);
        assert_eq!(balance(kg(25.0), 220.0, &[(kg(5.0), 150.0)]).verdict(), Verdict::Far);
        // 53.94 N m hold, and two thirds of that are near.
        assert_eq!(balance(kg(25.0), 220.0, &[(kg(24.5), 150.0)]).verdict(), Verdict::Near);
        assert_eq!(balance(kg(25.0), 220.0, &[(kg(24.4), 150.0)]).verdict(), Verdict::Far);
    }

    /// A chest of `mass` kg on the scale, so high, with so many drawers of 10 mm oak that reach 300 mm.
    fn chest(mass: f64, height: u32, drawers: u32) -> Stability {
        let record = format!(
            "kind = \"case/chest-of-drawers\"\nweighs = {mass}\nsize = {{ width = 800, depth = 440, height = {height} }}\n\
             part = [{{ id = \"d\", name = \"D\", standing = \"original\", timber = \"european-oak\", count = {drawers}, \
             size = {{ length = 700, width = 400, thick = 150, wall = 12 }}, opens = {{ as = \"drawer\", by = 300 }} }}]"
        );
        facts(&record, "name = \"Bench\"").stability.expect("a chest of drawers can tip")
    }

    #[test]
    fn a_light_chest_falls_under_a_child_and_a_heavy_one_is_still_prompted_by_its_height() {
        let light = chest(30.0, 900, 3);
        let checked = light.checked.as_ref().expect("everything is said");
        let opened = checked.opened[0].1.as_ref().expect("its drawers are known");
        assert_eq!((opened.with_child.verdict(), opened.empty.verdict()), (Verdict::Tips, Verdict::Far));
        // By hand: 0.006924 m³ of oak at 772.4 kg/m³, 150 mm before the feet; 27.2 kg more at 300 mm.
        assert!((opened.empty.tips - 7.867).abs() < 0.01, "{opened:?}");
        assert!((opened.with_child.tips - 7.867 - 80.02).abs() < 0.02, "{opened:?}");
        assert_eq!(light.prompts, [Prompt::High, Prompt::Falls]);
        let heavy = chest(200.0, 900, 3);
        assert_eq!(heavy.checked.as_ref().expect("everything is said").worst(), Verdict::Far);
        assert_eq!(heavy.prompts, [Prompt::High]);
        assert_eq!(chest(200.0, 685, 3).prompts, []);
        assert_eq!(chest(200.0, 686, 3).prompts, [Prompt::High]);
    }

    #[test]
    fn a_drawer_weighs_the_same_on_both_sides_of_the_balance() {
        let opened = |mass: f64, feet: &str| {
            let record = format!(
                "kind = \"case/chest-of-drawers\"\nweighs = {mass}\n\
                 size = {{ width = 800, depth = 440, height = 900{feet} }}\n\
                 part = [{{ id = \"d\", name = \"D\", standing = \"original\", timber = \"european-oak\", \
                 size = {{ length = 700, width = 400, thick = 150, wall = 12 }}, opens = {{ as = \"drawer\", by = 300 }} }}]"
            );
            let found = facts(&record, "name = \"Bench\"").stability.expect("a chest of drawers can tip");
            found.checked.expect("everything is said").opened[0].1.clone().expect("it is known")
        };
        // The drawer is 4.06 to 5.35 kg. With the heavy end on both sides of a chest of 45.5 kg, 40.15 kg hold at
        // 220 mm, 86.62 N m, and 5.35 kg at 150 mm and 27.2 kg at 300 mm tip it, 87.89 N m: it goes over. Its light
        // end behind the feet would hold with 89.4 N m.
        let child = opened(45.5, "").with_child;
        assert!((child.holds - 86.62).abs() < 0.02 && (child.tips - 87.89).abs() < 0.02, "{child:?}");
        assert_eq!(child.verdict(), Verdict::Tips);
        assert_eq!(opened(46.5, "").with_child.verdict(), Verdict::Near);
        // Feet 40 mm in from the front: 180 mm of arm hold, and all in front reaches 40 mm further.
        let child = opened(45.5, ", feet-in = 40").with_child;
        assert!((child.holds - 70.87).abs() < 0.02, "{child:?}");
        assert!((child.tips - 87.89 - 9.80665 * 0.04 * 32.548).abs() < 0.02, "{child:?}");
    }

    #[test]
    fn all_drawers_at_once_pull_more_than_one() {
        let all = chest(30.0, 600, 5).checked.expect("everything is said").all_open.expect("there are five");
        let one = chest(30.0, 600, 1).checked.expect("everything is said");
        assert_eq!(one.all_open, None);
        let one = one.opened[0].1.as_ref().expect("it is known").empty;
        assert!((all.tips - 5.0 * one.tips).abs() < 1e-9 && all.holds < one.holds);
    }

    #[test]
    fn the_pull_that_tips_a_bookcase() {
        let record = "weighs = 30\nsize = { width = 900, depth = 300, height = 1750 }";
        let found = facts(record, "name = \"Bench\"").stability.expect("a bookcase can tip");
        // 30 kg x 9.80665 x 150 / 1750.
        assert!((found.checked.expect("everything is said").pull - 25.217).abs() < 0.001);
        assert_eq!(found.prompts, [Prompt::High, Prompt::Shallow]);
    }

    #[test]
    fn tables_are_left_alone_and_what_is_missing_is_said() {
        let table = "kind = \"table/gateleg\"\nsize = { width = 910, depth = 400, height = 735 }";
        assert_eq!(facts(table, "name = \"Bench\"").stability, None);
        let unsaid = facts("", "name = \"Bench\"").stability.expect("a bookcase can tip");
        assert_eq!((unsaid.prompts.as_slice(), unsaid.checked), (&[][..], Err(MissingInput::Outline)));
        let screen = "kind = \"stand/mirror\"\nsize = { width = 400, depth = 300, height = 900 }";
        let screen = facts(screen, "name = \"Bench\"").stability.expect("it is tall for its depth");
        assert_eq!(screen.checked, Err(MissingInput::Parts));
        assert_eq!(screen.prompts, [Prompt::High, Prompt::Shallow]);
        let set = "kind = \"case/television\"\nsize = { width = 1200, depth = 400, height = 450 }";
        let set = facts(set, "name = \"Bench\"").stability.expect("it can tip");
        assert_eq!(set.prompts, [Prompt::Kind]);
    }

    proptest! {
        #[test]
        fn a_heavier_piece_holds_better_and_a_longer_reach_tips_sooner(
            rest in 1.0..200.0_f64, more in 0.1..50.0_f64, arm in 1.0..800.0_f64, load in 0.1..60.0_f64
        ) {
            let one = balance(kg(rest), 200.0, &[(kg(load), arm)]);
            let heavier = balance(kg(rest + more), 200.0, &[(kg(load), arm)]);
            let longer = balance(kg(rest), 200.0, &[(kg(load), arm + more)]);
            prop_assert!(heavier.holds > one.holds && heavier.tips == one.tips);
            prop_assert!(longer.tips > one.tips && longer.holds == one.holds);
        }
    }
}
