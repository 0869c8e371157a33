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

impl Balance {
    /// Whether it goes over.
    pub fn falls(self) -> bool {
        self.tips > self.holds
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
    /// Whether anything that was looked at pulls it over.
    pub fn falls(&self) -> bool {
        let one = |opened: &OpenedPart| opened.empty.falls() || opened.with_child.falls();
        self.opened.iter().any(|(_, opened)| opened.as_ref().is_ok_and(one))
            || self.all_open.is_some_and(Balance::falls)
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
/// The feet are taken to stand at its outline, its centre in the middle of its depth, drawers and doors to weigh
/// forward of the feet with the middle of how far they reach, and drawers to be empty. The light end of what stays and
/// the heavy end of what is open are taken.
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
    let falls = checked.as_ref().is_ok_and(StabilityCheck::falls);
    let prompts =
        [(high, Prompt::High), (any, Prompt::Kind), (shallow, Prompt::Shallow), (falls, Prompt::Falls)];
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
    let behind = size.depth.mm() / 2.0;
    let child = trade.stability.load("child").expect("the table has the load, and a test looks");
    let child = Mass::from_kg(child.kg.0).unwrap_or_default();
    let opens = parts.iter().filter(|facts| facts.part.present() && facts.part.opens.is_some());
    let open: Vec<(&Row<Part>, Result<OpenLeaf, MissingInput>)> =
        opens.map(|facts| (&facts.part, leaf(facts))).collect();
    let rest = |out: Mass| Mass::from_kg((mass.low.kg() - out.kg()).max(0.0)).unwrap_or_default();
    let opened = |leaf: &OpenLeaf| OpenedPart {
        by: leaf.by,
        empty: balance(rest(leaf.each.low), behind, &[(leaf.each.high, leaf.by.mm() / 2.0)]),
        with_child: balance(
            rest(leaf.each.low),
            behind,
            &[(leaf.each.high, leaf.by.mm() / 2.0), (child, leaf.by.mm())],
        ),
    };
    let known: Vec<&OpenLeaf> = open.iter().filter_map(|(_, leaf)| leaf.as_ref().ok()).collect();
    let several = known.iter().map(|leaf| leaf.count).sum::<u32>() > 1;
    let all = || {
        let out: MassSpan = known.iter().map(|leaf| leaf.each.times(f64::from(leaf.count))).sum();
        let in_front: Vec<(Mass, f64)> = known
            .iter()
            .map(|leaf| (leaf.each.high.times(f64::from(leaf.count)), leaf.by.mm() / 2.0))
            .collect();
        balance(rest(out.low), behind, &in_front)
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
    each: MassSpan,
    by: Length,
    count: u32,
}

fn leaf(PartFacts { part, mass, .. }: &PartFacts) -> Result<OpenLeaf, MissingInput> {
    let by = part.opens.as_ref().and_then(|opens| opens.by.as_ref());
    let by = by.ok_or(MissingInput::Dimension("reach when open"))?.value;
    Ok(OpenLeaf { each: mass.as_ref().map_err(Clone::clone)?.each, by, count: part.how_many() })
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
        assert!(found.falls());
        assert!(!balance(kg(25.0), 220.0, &[(kg(5.0), 150.0)]).falls());
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
        assert!(opened.with_child.falls() && !opened.empty.falls());
        // By hand: 0.006924 m³ of oak at 772.4 kg/m³, 150 mm before the feet; 27.2 kg more at 300 mm.
        assert!((opened.empty.tips - 7.867).abs() < 0.01, "{opened:?}");
        assert!((opened.with_child.tips - 7.867 - 80.02).abs() < 0.02, "{opened:?}");
        assert_eq!(light.prompts, [Prompt::High, Prompt::Falls]);
        let heavy = chest(200.0, 900, 3);
        assert!(!heavy.checked.as_ref().expect("everything is said").falls());
        assert_eq!(heavy.prompts, [Prompt::High]);
        assert_eq!(chest(200.0, 685, 3).prompts, []);
        assert_eq!(chest(200.0, 686, 3).prompts, [Prompt::High]);
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
