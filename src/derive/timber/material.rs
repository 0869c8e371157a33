//! What a part is made of, as the tables know it: its density and its stiffness.

use crate::claim::{Message, Value, says};
use crate::derive::climate::Seasons;
use crate::derive::missing_input::MissingInput;
use crate::fields::{Id, Said};
use crate::record::{Answer, Construction, Grain, Part, PartSize};
use crate::trade::{Board, MaterialDensity, Timber, Trade};
use crate::unit::Length;

/// A body at least this thick and [`BOX_WIDE`] wide in its two smaller dimensions reads as a box, in millimetres.
///
/// Source: our own choice; boards are thinner and posts narrower.
const BOX_THICK: f64 = 75.0;

/// See [`BOX_THICK`].
const BOX_WIDE: f64 = 150.0;

/// What a part is made of.
#[derive(Debug, Clone, Copy)]
pub(in crate::derive) enum Substance<'a> {
    Timber(&'a Timber),
    Board(&'a Board),
    Other(&'a MaterialDensity),
}

/// A figure from its low to its high end, and what it rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct Figured {
    /// The low end.
    pub low: f64,
    /// The high end.
    pub high: f64,
    /// What it is the figure of, as the table calls it.
    pub of: String,
    /// How it was come by.
    pub how: Message,
    /// Where it comes from.
    pub source: Vec<Message>,
}

impl Figured {
    /// What it is the figure of, and in brackets how it was come by.
    pub fn told(&self) -> Message {
        says!("figured-of", of = Value::Name(self.of.clone()), how = self.how.clone())
    }
}

/// The timber that a text names.
pub(in crate::derive) fn timber<'a>(
    said: Option<&Said<Answer>>,
    trade: &'a Trade,
) -> Result<&'a Timber, MissingInput> {
    let word = said.and_then(|word| word.known()).ok_or(MissingInput::Timber)?;
    trade.timber(word).ok_or_else(|| MissingInput::OtherTimber(word.to_string()))
}

/// Whether a size has the outline of a box rather than of a board or a post.
pub(in crate::derive) fn like_a_box(size: &PartSize) -> bool {
    let sides =
        [&size.length, &size.width, &size.thick].map(|side| side.as_ref().map_or(0.0, |side| side.mm()));
    let mut sides = sides;
    sides.sort_by(f64::total_cmp);
    sides[0] >= BOX_THICK && sides[1] >= BOX_WIDE
}

/// What a part is made of, as far as its weight and stiffness go: for a veneered part, its ground.
pub(in crate::derive) fn substance<'a>(part: &Part, trade: &'a Trade) -> Result<Substance<'a>, MissingInput> {
    match part.build.as_ref().map(|build| build.value) {
        Some(Construction::Solid | Construction::Turned | Construction::Bent) => {
            timber(part.timber.as_ref(), trade).map(Substance::Timber)
        }
        Some(Construction::Panel) => board(part.ground.as_ref().or(part.timber.as_ref()), trade),
        Some(Construction::Veneered) => board(part.ground.as_ref(), trade),
        Some(Construction::Metal | Construction::Stone) => material(part.material.as_ref(), trade),
        Some(Construction::Glass) => match &part.material {
            Some(_) => material(part.material.as_ref(), trade),
            None => trade.material("glass").map(Substance::Other).ok_or(MissingInput::Material),
        },
        Some(Construction::Textile | Construction::Leather) => Err(MissingInput::Soft),
        Some(Construction::Unknown) | None => match (&part.material, &part.timber) {
            (Some(_), _) => material(part.material.as_ref(), trade),
            (None, Some(_)) => timber(part.timber.as_ref(), trade).map(Substance::Timber),
            (None, None) => Err(MissingInput::Build),
        },
    }
}

/// A board, or the solid timber that a veneer lies on.
fn board<'a>(said: Option<&Said<Answer>>, trade: &'a Trade) -> Result<Substance<'a>, MissingInput> {
    let word = said.and_then(|word| word.known()).ok_or(MissingInput::Board)?;
    let board = trade.board(word).map(Substance::Board);
    board
        .or_else(|| trade.timber(word).map(Substance::Timber))
        .ok_or_else(|| MissingInput::OtherBoard(word.to_string()))
}

fn material<'a>(said: Option<&Said<Answer>>, trade: &'a Trade) -> Result<Substance<'a>, MissingInput> {
    let word = said.and_then(|word| word.known()).ok_or(MissingInput::Material)?;
    let soft = || trade.covering(word).map(|_| MissingInput::Soft);
    let unknown = || soft().unwrap_or_else(|| MissingInput::OtherMaterial(word.to_string()));
    trade.material(word).map(Substance::Other).ok_or_else(unknown)
}

/// The specific gravity of wood over its volume at a moisture content, from that over its green volume.
///
/// `green` is oven-dry mass over green volume, relative to water; `moisture` is percent, at most 30.
///
/// # Source
/// Wood Handbook, FPL-GTR-190 (2010), chapter 4: G / (1 - 0.265 a G) with a = (30 - M) / 30. From memory.
pub fn gravity_from_green(green: f64, moisture: f64) -> f64 {
    green / (1.0 - 0.265 * (30.0 - moisture) / 30.0 * green)
}

/// The density of what a part is made of, in kg/m³ with the moisture of the room.
pub(in crate::derive) fn density(
    substance: Substance<'_>,
    seasons: &Seasons,
    trade: &Trade,
) -> Result<Figured, MissingInput> {
    Ok(match substance {
        Substance::Timber(timber) => {
            let missing = || MissingInput::DensityOf(timber.name.to_string());
            over(timber, trade, |timber| timber_density(timber, seasons, trade)).ok_or_else(missing)?
        }
        Substance::Board(board) => figured(
            board.density.low,
            board.density.high,
            &board.name,
            Message::cited(board.seen.value, &board.source),
        ),
        Substance::Other(other) => figured(
            other.density.low,
            other.density.high,
            &other.name,
            Message::cited(other.seen.value, &other.source),
        ),
    })
}

/// The density of one timber, where the table has it.
///
/// It strays from its mean by the table's coefficient of variation, and is heavier in the damp season.
fn timber_density(timber: &Timber, seasons: &Seasons, trade: &Trade) -> Option<Figured> {
    let printed = timber.specific_gravity.as_ref()?.0;
    let green = timber.green_volume.as_ref().is_some_and(|green| green.value);
    let gravity = if green { gravity_from_green(printed, 12.0) } else { printed };
    let spread = trade.spread("density");
    // Without a room the mass at 12 % stands for both seasons.
    let room = seasons.moisture.ok().map(|(dry, damp)| (dry.percent(), damp.percent()));
    let (dry, damp) = room.unwrap_or((12.0, 12.0));
    let water = if room.is_some() { says!("water-of-room") } else { says!("water-as-tested") };
    let (said, spread_said) = (Value::Number(printed, 3), Value::Number(spread * 100.0, 0));
    let at = |moisture: f64, spread: f64| 1000.0 * gravity * (1.0 + spread) * (1.0 + moisture / 100.0);
    Some(Figured {
        low: at(dry, -spread),
        high: at(damp, spread),
        of: timber.name.to_string(),
        how: match green {
            true => says!("density-from-green", gravity = said, water = water, percent = spread_said),
            false => says!("density-from-dry", gravity = said, water = water, percent = spread_said),
        },
        source: vec![Message::cited(timber.seen.value, &timber.source)],
    })
}

/// The figure of a timber, or of a word that tells no species: from the lowest to the highest of what it may be, and
/// none where one of those has none.
fn over(timber: &Timber, trade: &Trade, figure: impl Fn(&Timber) -> Option<Figured>) -> Option<Figured> {
    let each: Vec<Figured> = trade.timbers_of(timber).into_iter().map(figure).collect::<Option<_>>()?;
    let lowest = each.iter().min_by(|one, other| one.low.total_cmp(&other.low))?;
    let highest = each.iter().max_by(|one, other| one.high.total_cmp(&other.high))?;
    if each.len() == 1 {
        return each.into_iter().next();
    }
    Some(Figured {
        low: lowest.low,
        high: highest.high,
        of: timber.name.to_string(),
        how: says!("figure-of-any", count = each.len(), least = lowest.told(), most = highest.told()),
        source: [lowest, highest].into_iter().flat_map(|figured| figured.source.clone()).collect(),
    })
}

fn figured(low: f64, high: f64, of: &str, source: Message) -> Figured {
    Figured { low, high, of: of.to_owned(), how: says!("density-from-table"), source: vec![source] }
}

/// A timber's stiffness across its grain and its rigidity in its plane, as fractions of its stiffness along the grain.
///
/// # Source
/// Wood Handbook, FPL-GTR-190 (2010), table 5-1 (from memory): both about the least that it gives for timbers of
/// furniture. How far a timber narrows as it stretches is left out, since it is small.
const TIMBER_ACROSS: f64 = 0.04;

/// See [`TIMBER_ACROSS`].
pub(in crate::derive) const TIMBER_SHEAR: f64 = 0.06;

/// The rigidity of plywood in its plane, as a fraction of its stiffness along the stiffer way.
///
/// # Source
/// our own choice, on the low side: tables of birch and softwood plywood give about 0.06 to 0.07 (from memory).
const PLYWOOD_SHEAR: f64 = 0.05;

/// How far a board of fibres or chips narrows as it stretches.
///
/// # Source
/// common practice, no source: 0.2 to 0.3 is usual.
const BOARD_POISSON: f64 = 0.25;

/// How stiff a shelf's board is.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::derive) struct Stiffness<'a> {
    /// Along its span, in N/mm².
    pub along: Figured,
    /// From front to back, as a fraction of that.
    pub across: f64,
    /// Its rigidity in its plane, as a fraction of that.
    pub shear: f64,
    /// The strain across for a stress along.
    pub poisson: f64,
    /// The id of how it creeps.
    pub creep: &'a str,
}

/// The stiffness of what a shelf is made of.
///
/// A timber's low end is that of [`LOW_QUANTILE`]; a board whose face grain is not recorded is taken as lying across
/// the span, where it is weaker. A veneer's own stiffness is left out.
pub(in crate::derive) fn stiffness<'a>(
    substance: Substance<'a>,
    part: &Part,
    thick: Length,
    trade: &'a Trade,
) -> Result<Stiffness<'a>, MissingInput> {
    match substance {
        Substance::Timber(timber) => Ok(Stiffness {
            along: timber_stiffness(timber, trade)?,
            across: TIMBER_ACROSS,
            shear: TIMBER_SHEAR,
            poisson: 0.0,
            creep: "solid-timber",
        }),
        Substance::Board(board) => {
            let spans_face = part.grain.as_ref().is_some_and(|grain| grain.value == Grain::Length);
            let (rows, others) = match board.across.is_empty() || spans_face {
                true => (&board.along, &board.across),
                false => (&board.across, &board.along),
            };
            let figure = |rows: &[Said<Id>]| {
                let mut rows = rows.iter().filter_map(|id| trade.panel.panel(&id.0));
                rows.find_map(|row| Some((row, row.moe.as_ref().filter(|_| row.admits(thick))?)))
            };
            let (panel, moe) =
                figure(rows).ok_or_else(|| MissingInput::StiffnessOf(board.name.to_string()))?;
            let creep = board.creep.as_ref().ok_or_else(|| MissingInput::CreepOf(board.name.to_string()))?;
            let other = figure(others).map(|(_, other)| other.low / moe.low);
            let (across, shear, poisson) = match (others.is_empty(), other) {
                (true, _) => (1.0, 1.0 / (2.0 * (1.0 + BOARD_POISSON)), BOARD_POISSON),
                (false, Some(other)) => (other, PLYWOOD_SHEAR * other.max(1.0), 0.0),
                (false, None) => (TIMBER_ACROSS, PLYWOOD_SHEAR, 0.0),
            };
            let name = panel.name.value.to_string();
            let figure = Message::word("panel-figure", panel.basis.word());
            let along = Figured {
                low: moe.low * 1000.0,
                high: moe.high * 1000.0,
                of: board.name.to_string(),
                how: match (board.across.is_empty(), spans_face) {
                    (true, _) => says!("stiffness-of-board", board = name, figure = figure),
                    (false, true) => says!("stiffness-of-board-along", board = name, figure = figure),
                    (false, false) => says!("stiffness-of-board-across", board = name, figure = figure),
                },
                source: vec![Message::cited(panel.seen.value, &panel.source)],
            };
            Ok(Stiffness { along, across, shear, poisson, creep: &creep.0 })
        }
        Substance::Other(other) => Err(MissingInput::StiffnessOf(other.name.to_string())),
    }
}

/// How many standard deviations below the mean the low end of a timber's stiffness lies: nineteen pieces in twenty are
/// stiffer.
///
/// # Source
/// The 5 % quantile of a normal distribution. That clear wood strays so: Wood Handbook, FPL-GTR-190 (2010), table 5-6
/// (from memory), which gives the coefficient of variation.
const LOW_QUANTILE: f64 = 1.645;

/// The stiffness of a timber along its grain, in N/mm².
pub(in crate::derive) fn timber_stiffness(timber: &Timber, trade: &Trade) -> Result<Figured, MissingInput> {
    let spread = LOW_QUANTILE * trade.spread("moe");
    let figure = |timber: &Timber| {
        let mean = timber.moe.as_ref()?.0;
        Some(Figured {
            low: mean * 1000.0 * (1.0 - spread),
            high: mean * 1000.0 * (1.0 + spread),
            of: timber.name.to_string(),
            how: says!(
                "stiffness-of-clear-wood",
                mean = Value::Number(mean, 2),
                percent = Value::Number(spread * 100.0, 0)
            ),
            source: vec![Message::cited(timber.seen.value, &timber.source)],
        })
    };
    over(timber, trade, figure).ok_or_else(|| MissingInput::TimberStiffness(timber.name.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::climate::seasons;
    use crate::words::Words;

    fn seen(word: &str) -> Figured {
        let trade = Trade::built_in();
        let timber = trade.timber(word).expect("it is in the table");
        density(Substance::Timber(timber), &seasons(None, false, trade), trade)
            .expect("its figures are known")
    }

    #[test]
    fn a_word_that_tells_no_species_goes_from_the_lightest_to_the_heaviest() {
        let (oak, european, white) = (seen("oak"), seen("european-oak"), seen("white-oak"));
        // European and red oak are the lighter ones, white oak the heaviest.
        assert_eq!((oak.low, oak.high), (european.low, white.high));
        assert_eq!(oak.of, "Oak");
        let how = Words::for_diagnostics().say(&oak.how);
        assert!(how.contains("any of 3 timbers, from European oak"), "{how}");
        let trade = Trade::built_in();
        let hardwood = Substance::Timber(trade.timber("hardwood").expect("it is in the table"));
        let none = density(hardwood, &seasons(None, false, trade), trade);
        assert_eq!(none, Err(MissingInput::DensityOf("Hardwood".to_owned())));
    }

    #[test]
    fn nineteen_pieces_in_twenty_are_stiffer() {
        let trade = Trade::built_in();
        let stiff = |word: &str| timber_stiffness(trade.timber(word).expect("a row"), trade);
        // 12.27 GPa on average, 22 % of it to a standard deviation, 1.645 of those.
        let oak = stiff("white-oak").expect("its stiffness is known");
        assert!((oak.low - 12_270.0 * (1.0 - 1.645 * 0.22)).abs() < 1e-6, "{oak:?}");
        let birch = stiff("birch").expect("of all three it is known");
        assert_eq!(birch.low, stiff("paper-birch").expect("its stiffness is known").low);
        assert_eq!(stiff("rubberwood"), Err(MissingInput::TimberStiffness("Rubberwood".to_owned())));
    }

    #[test]
    fn a_timber_holds_the_water_of_the_room() {
        let oak = seen("white-oak");
        // 0.68 with 6.96 % of water less a tenth, and with 12.00 % more a tenth.
        assert!((oak.low - 680.0 * 0.9 * 1.0696).abs() < 0.1, "{oak:?}");
        assert!((oak.high - 680.0 * 1.1 * 1.1200).abs() < 0.1, "{oak:?}");
    }

    #[test]
    fn green_volumes_are_reckoned_to_dry_ones() {
        // Teak at 12 % is usually given about 630 to 680 kg/m³ (from memory); 0.55 on the green volume is 0.6027.
        assert!((gravity_from_green(0.55, 12.0) - 0.60267).abs() < 1e-4);
        let teak = seen("teak");
        assert!(teak.low < 640.0 && teak.high > 675.0 && teak.how.name == "density-from-green", "{teak:?}");
        // At the fibre saturation point nothing has shrunk yet.
        assert_eq!(gravity_from_green(0.55, 30.0), 0.55);
    }
}
