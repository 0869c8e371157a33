//! What a piece weighs in all, and how many people that asks for.

use super::covered::covered;
use super::part::PartFacts;
use crate::derive::missing_input::MissingInput;
use crate::fields::Row;
use crate::record::{Ends, Opening, Part, Record, Shelf};
use crate::trade::{LiftingTable, Trade};
use crate::unit::{Mass, MassSpan};

/// How many people a lift asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TeamSize {
    /// So many.
    People(u32),
    /// More than any team for which guidance gives a figure.
    Beyond,
}

/// A weight to be lifted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// The mass.
    pub mass: MassSpan,
    /// The team by the source's figure for men.
    pub men: TeamSize,
    /// The team by its figure for women, the more careful of the two.
    pub women: TeamSize,
}

/// What a piece weighs and how many people that asks for.
#[derive(Debug, Clone, PartialEq)]
pub struct Lifting {
    /// The piece as it stands.
    pub whole: Load,
    /// The piece without what comes out by hand; `None` where nothing does.
    pub emptied: Option<Load>,
    /// The parts that come out by hand: drawers, and shelves that rest.
    pub come_out: Vec<Row<Part>>,
    /// Whether it was put on a scale; else it is reckoned from its parts.
    pub weighed: bool,
    /// How many parts are left out, as their size or material is not known; parts alike count once.
    pub left_out: u32,
}

/// The smallest team that lifts a mass, where one person alone lifts `figure`.
///
/// # Source
/// *Manual handling*, guidance L23, Health and Safety Executive, paragraph 120: two people lift two thirds and three
/// half of the sum of what each lifts alone.
pub fn team(mass: Mass, figure: Mass, table: &LiftingTable) -> TeamSize {
    let mut teams: Vec<(u32, f64)> = table.teams.iter().map(|team| (team.people.0, team.share.0)).collect();
    teams.sort_by_key(|(people, _)| *people);
    let enough = |(people, share): &(u32, f64)| mass <= figure.times(f64::from(*people) * share);
    teams.into_iter().find(enough).map_or(TeamSize::Beyond, |(people, _)| TeamSize::People(people))
}

/// What the piece weighs.
pub(in crate::derive) fn lifting(
    record: &Record,
    parts: &[PartFacts],
    trade: &Trade,
) -> Result<Lifting, MissingInput> {
    let there: Vec<&PartFacts> = parts.iter().filter(|facts| facts.part.present()).collect();
    let known = || there.iter().filter_map(|facts| Some((&facts.part, facts.mass.as_ref().ok()?.all)));
    let scale = record.weighs.as_ref().map(|mass| MassSpan::between(mass.value, mass.value));
    if scale.is_none() {
        covered(parts, trade)?;
    }
    let whole = scale.unwrap_or_else(|| known().map(|(_, mass)| mass).sum());
    let taken: MassSpan = known().filter(|(part, _)| comes_out(record, part)).map(|(_, mass)| mass).sum();
    let left = match scale {
        // What is taken out is reckoned, so the least is taken from the most.
        Some(scale) => MassSpan::between(less(scale.low, taken.high), less(scale.high, taken.low)),
        None => known().filter(|(part, _)| !comes_out(record, part)).map(|(_, mass)| mass).sum(),
    };
    let come_out = there.iter().map(|facts| &facts.part).filter(|part| comes_out(record, part));
    let unknown = there.iter().filter(|facts| facts.mass.is_err()).count();
    Ok(Lifting {
        whole: load(whole, trade),
        emptied: (taken.high > Mass::default() && left.high > Mass::default()).then(|| load(left, trade)),
        come_out: come_out.cloned().collect(),
        weighed: scale.is_some(),
        left_out: unknown as u32,
    })
}

fn less(mass: Mass, taken: Mass) -> Mass {
    Mass::from_kg((mass.kg() - taken.kg()).max(0.0)).unwrap_or_default()
}

/// A drawer that is not said to stay, or a shelf that only rests on something.
fn comes_out(record: &Record, part: &Part) -> bool {
    let drawer = part.opens.as_ref().is_some_and(|opens| match &opens.comes_out {
        Some(said) => said.value,
        None => opens.r#as.value == Opening::Drawer,
    });
    let rests = |shelf: &Shelf| {
        shelf.part.value == part.id.value
            && shelf.ends.as_ref().is_some_and(|ends| ends.value == Ends::Supported)
    };
    drawer || record.r#use.iter().flat_map(|used| &used.shelves).any(|shelf| rests(shelf))
}

/// A weight with its teams, by its heavy end.
fn load(mass: MassSpan, trade: &Trade) -> Load {
    let figure = |id: &str| {
        let row = trade.lifting.figure(id).expect("the table has the figure, and a test looks");
        team(mass.high, Mass::from_kg(row.kg.0).unwrap_or_default(), &trade.lifting)
    };
    Load { mass, men: figure("men"), women: figure("women") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::facts;
    use proptest::prelude::*;

    #[track_caller]
    fn case(kg: f64, women: TeamSize, men: TeamSize) {
        let mass = Mass::from_kg(kg).expect("a mass");
        let load = load(MassSpan::between(mass, mass), Trade::built_in());
        assert_eq!((load.women, load.men), (women, men), "{kg} kg");
    }

    #[test]
    fn teams_by_the_two_figures() {
        // 16 and 25 kg alone; two lift two thirds of 32 and 50, three half of 48 and 75.
        case(16.0, TeamSize::People(1), TeamSize::People(1));
        case(16.1, TeamSize::People(2), TeamSize::People(1));
        case(21.3, TeamSize::People(2), TeamSize::People(1));
        case(21.4, TeamSize::People(3), TeamSize::People(1));
        case(24.1, TeamSize::Beyond, TeamSize::People(1));
        case(33.3, TeamSize::Beyond, TeamSize::People(2));
        case(37.5, TeamSize::Beyond, TeamSize::People(3));
        case(37.6, TeamSize::Beyond, TeamSize::Beyond);
    }

    const BOARD: &str = "timber = \"european-oak\", size = { length = 1000, width = 300, thick = 20 }";

    /// Three boards alike, a shelf, some more boards, one that is gone, and two alike that nothing is known of.
    fn piece(more: &str, boards: u32) -> Result<Lifting, MissingInput> {
        let others =
            (0..boards).map(|n| format!("{{ id = \"b{n}\", name = \"B\", standing = \"new\", {BOARD} }}, "));
        facts(
            &format!(
                "{more}\npart = [{{ id = \"a\", name = \"A\", standing = \"original\", count = 3, {BOARD} }}, \
                 {}{{ id = \"s\", name = \"S\", standing = \"new\", {BOARD} }}, \
                 {{ id = \"old\", name = \"O\", standing = \"removed\", {BOARD} }}, \
                 {{ id = \"x\", name = \"X\", standing = \"later\", count = 2 }}]",
                others.collect::<String>()
            ),
            "name = \"Bench\"",
        )
        .lifting
    }

    #[test]
    fn what_is_not_known_is_counted_and_what_is_gone_weighs_nothing() {
        let lifting = piece("", 8).expect("ten rows of eleven have sizes");
        assert_eq!((lifting.left_out, lifting.weighed), (1, false));
        assert_eq!((lifting.emptied, lifting.come_out.len()), (None, 0));
        // Twelve boards of 0.006 m³ of European oak at 0.627.
        let board = 0.006 * 627.0 * 0.9 * 1.069_63;
        assert!((lifting.whole.mass.low.kg() - 12.0 * board).abs() < 0.01, "{lifting:?}");
        // With eight boards to the two of unknown size it is too little.
        assert_eq!(piece("", 4), Err(MissingInput::Coverage));
        assert!(piece("weighs = 12", 6).is_ok());
    }

    #[test]
    fn a_small_part_of_unknown_material_does_not_hide_the_weight() {
        let with = |part: &str| {
            let board = format!("{{ id = \"a\", name = \"A\", standing = \"original\", {BOARD} }}");
            let other =
                format!("{{ id = \"b\", name = \"B\", standing = \"later\", timber = \"unknown\"{part} }}");
            facts(&format!("part = [{board}, {other}]"), "name = \"Bench\"").lifting
        };
        // A knob of 30 mm may weigh 60 g beside 4 kg; of unknown size it counts like the board.
        assert!(with(", size = { length = 30, diameter = 30 }").is_ok_and(|found| found.left_out == 1));
        assert_eq!(with(""), Err(MissingInput::Coverage));
        assert_eq!(with(", size = { length = 1000, width = 300, thick = 20 }"), Err(MissingInput::Coverage));
    }

    #[test]
    fn shelves_that_rest_come_out() {
        let shelf = "use = { shelves = [{ part = \"s\", ends = \"supported\" }] }";
        let lifting = piece(shelf, 8).expect("boards have sizes");
        let names: Vec<&str> = lifting.come_out.iter().map(|part| part.id.0.as_str()).collect();
        assert_eq!(names, ["s"]);
        let emptied = lifting.emptied.expect("a shelf comes out").mass;
        assert!((emptied.low.kg() - 11.0 / 12.0 * lifting.whole.mass.low.kg()).abs() < 1e-9);
        assert_eq!(piece(&shelf.replace("supported", "fixed"), 8).expect("boards have sizes").come_out, []);
    }

    #[test]
    fn a_scale_knows_better() {
        let lifting = piece("weighs = 20.5", 0).expect("it was weighed");
        assert!(
            lifting.weighed && lifting.whole.mass.low.kg() == 20.5 && lifting.whole.mass.high.kg() == 20.5
        );
        assert_eq!(facts("", "name = \"Bench\"").lifting, Err(MissingInput::Parts));
        assert!(facts("weighs = 3", "name = \"Bench\"").lifting.is_ok());
    }

    proptest! {
        #[test]
        fn heavier_never_asks_for_fewer_people(kg in 0.0..60.0_f64, more in 0.0..20.0_f64) {
            let people = |kg: f64| {
                let mass = Mass::from_kg(kg).expect("a mass");
                match load(MassSpan::between(mass, mass), Trade::built_in()).women {
                    TeamSize::People(people) => people,
                    TeamSize::Beyond => u32::MAX,
                }
            };
            prop_assert!(people(kg + more) >= people(kg));
        }
    }
}
