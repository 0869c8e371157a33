//! How much a shelf carries before it sags for all to see.

use super::part::PartFacts;
use super::plate::{Lip, Plate, Sags, sags};
use crate::claim::Message;
use crate::derive::missing_input::MissingInput;
use crate::derive::timber::material::{self, Figured};
use crate::fields::Row;
use crate::record::{Ends, Grain, Part, Record, Shelf};
use crate::trade::Trade;
use crate::unit::{GRAVITY, Length, Mass};

/// A shelf must be at least so many times as long as it is deep, or bending is not what limits it.
///
/// Source: common practice, no source; at ten times, shear adds some 15 % to the sag of solid timber, at twenty 4 %.
const SLENDER: f64 = 10.0;

/// How the ends of a beam are held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Support {
    /// Resting, free to turn.
    Resting,
    /// Held so that they cannot turn.
    Fixed,
}

/// How a load lies on a beam.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Loading {
    /// Spread evenly.
    Spread,
    /// All in the middle.
    Middle,
}

/// The factor of a beam's sag: sag = factor x load x span³ / stiffness.
///
/// # Source
/// Wood Handbook, FPL-GTR-190 (2010), chapter 9, table 9-1 (from memory); the same in common tables of beams.
pub fn sag_factor(support: Support, loading: Loading) -> f64 {
    match (support, loading) {
        (Support::Resting, Loading::Spread) => 5.0 / 384.0,
        (Support::Fixed, Loading::Spread) => 1.0 / 384.0,
        (Support::Resting, Loading::Middle) => 1.0 / 48.0,
        (Support::Fixed, Loading::Middle) => 1.0 / 192.0,
    }
}

/// The sag in the middle of a beam, in millimetres, unrounded.
///
/// `load` is the whole load in newtons, `span` in millimetres, `stiffness` is E x I in N mm². Shear is left out. `None`
/// where one of them is not above zero and finite, or the sag would not be finite.
pub fn sag(load: f64, span: f64, stiffness: f64, support: Support, loading: Loading) -> Option<f64> {
    let sound = [load, span, stiffness].iter().all(|number| number.is_finite() && *number > 0.0);
    let sag = sag_factor(support, loading) * load * span * span * span / stiffness;
    (sound && sag.is_finite()).then_some(sag)
}

/// Why no load is given for a shelf, in words for a diagnostic.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NoLoad {
    /// Something is not recorded or not in a table.
    #[error("something that it takes is not recorded")]
    Missing(MissingInput),
    /// It is held at one end alone.
    #[error("it is held at one end alone, and there the fixing decides, which is not reckoned here")]
    OneEnd,
    /// It is short and thick.
    #[error("it is so short for its thickness that something else gives way before it sags")]
    Stout,
    /// Its grain runs across the span.
    #[error("its grain runs across the span, where timber is weak and splits")]
    AcrossGrain,
    /// It sags too far under its own weight.
    #[error(
        "with the least stiffness such a board may have, it sags visibly in the end under its own weight alone"
    )]
    OwnWeight,
    /// The numbers lead nowhere.
    #[error("its figures are out of the range of the formula")]
    Figures,
}

impl From<MissingInput> for NoLoad {
    fn from(why: MissingInput) -> NoLoad {
        NoLoad::Missing(why)
    }
}

/// How much a shelf carries.
#[derive(Debug, Clone, PartialEq)]
pub struct ShelfCapacity {
    /// The free span.
    pub span: Length,
    /// From front to back, lippings counted in.
    pub width: Length,
    /// The thickness of the board.
    pub thick: Length,
    /// The stiffness of the board, and what it rests on; the low end was used.
    pub board: Figured,
    /// The same of the lipping, where there is one.
    pub lipping: Option<Figured>,
    /// Whether both edges have one.
    pub both_edges: bool,
    /// How the board gives way over the years: factor, material of the table, and why that stands in.
    pub creep: Creeping,
    /// The same of the lipping.
    pub lipping_creep: Option<Creeping>,
    /// Where it sags most from front to back.
    pub sags_most: SagsMost,
    /// How far it may sag in the end, in millimetres.
    pub limit: f64,
    /// How far it sags in the end under its own weight, in millimetres, where it sags most.
    pub own_sag: f64,
    /// The load, spread evenly, that takes it to the limit in the end with its ends resting.
    pub spread: Mass,
    /// The same, all in the middle.
    pub middle: Mass,
    /// The spread load of a shelf without lippings whose ends are said to be fixed and indeed cannot turn.
    pub if_fixed: Option<Mass>,
    /// The heaviest usual load of such a span, beyond which nothing is promised whatever the sag.
    pub usual_most: Mass,
    /// What would let it bear a full row of average books; `None` where it does.
    pub for_books: Option<ForBooks>,
    /// What the workshop lets it carry, where it says so.
    pub said: Option<Mass>,
    /// How the record says its ends are held; `None` where it does not, and resting is taken.
    pub ends: Option<Ends>,
}

/// Where a shelf sags most from front to back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SagsMost {
    /// Everywhere alike, as it has no lipping.
    Alike,
    /// At its back edge, which has none.
    Back,
    /// Elsewhere, as both edges have one, or a lipping that is no stiffer than the board.
    Between,
}

/// What would let a shelf bear a full row of average books; each by itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ForBooks {
    /// A shorter span, in whole centimetres.
    pub span: Option<Length>,
    /// A thicker board, in whole millimetres.
    pub thick: Option<Length>,
    /// A second lipping like the first, along its back edge.
    pub second_lipping: bool,
}

/// How a material gives way over the years.
#[derive(Debug, Clone, PartialEq)]
pub struct Creeping {
    /// The sag in the end is that at once times one and this.
    pub factor: f64,
    /// The material of the table.
    pub material: String,
    /// Why that stands in for the shelf's own; empty where it is its own.
    pub stand_in: String,
    /// Where it comes from.
    pub source: Message,
}

impl ShelfCapacity {
    /// What can be promised: never more than the heaviest usual load.
    pub fn promised(&self) -> Mass {
        if self.spread > self.usual_most { self.usual_most } else { self.spread }
    }

    /// The load that is told: what the workshop says, where that is no more than can be promised.
    pub fn load(&self) -> Mass {
        self.said.filter(|said| *said <= self.promised()).unwrap_or(self.promised())
    }
}

/// One of the record's shelves, and what it carries.
#[derive(Debug)]
pub struct ShelfFacts {
    /// The shelf.
    pub shelf: Row<Shelf>,
    /// The part that it is, where the record has it.
    pub part: Option<Row<Part>>,
    /// What it carries; `None` where the piece does not have it.
    pub capacity: Option<Result<ShelfCapacity, NoLoad>>,
}

/// What each of the record's shelves carries.
pub(in crate::derive) fn shelves(record: &Record, parts: &[PartFacts], trade: &Trade) -> Vec<ShelfFacts> {
    let facts = |shelf: &Row<Shelf>| {
        let facts = parts.iter().find(|facts| facts.part.id.value == shelf.part.value);
        let there = facts.filter(|facts| facts.part.present());
        ShelfFacts {
            shelf: shelf.clone(),
            part: facts.map(|facts| facts.part.clone()),
            capacity: there.map(|facts| capacity(shelf, facts, trade)),
        }
    };
    record.r#use.iter().flat_map(|used| &used.shelves).map(facts).collect()
}

/// No thicker board is thought of, in millimetres.
///
/// Source: our own choice; shelves of furniture are not thicker.
const THICKEST: f64 = 50.0;

/// A shelf as it bends after years, with its ends resting.
#[derive(Debug, Clone, Copy)]
struct Bent {
    plate: Plate,
    front: Option<Lip>,
    back: Option<Lip>,
    /// Its own weight, in newtons for each millimetre of its span.
    own: f64,
    /// The span is divided by this for the sag it may have.
    ratio: f64,
}

impl Bent {
    fn limit(&self) -> f64 {
        self.plate.span / self.ratio
    }

    /// How it sags under a load. Without a lip it is a beam; how its edges curl up is left out, some 1 % of the sag.
    fn sags(&self, load: f64, loading: Loading) -> Option<Sags> {
        if self.front.is_some() || self.back.is_some() {
            return sags(self.plate, self.front, self.back, load, loading == Loading::Spread);
        }
        let sag = sag(load, self.plate.span, self.beam(), Support::Resting, loading)?;
        Some(Sags { front: sag, back: sag, most: sag })
    }

    /// The bending stiffness of the board alone, in N mm².
    fn beam(&self) -> f64 {
        let Plate { depth, thick, along, .. } = self.plate;
        along * depth * thick * thick * thick / 12.0
    }

    /// How it sags under a load of one newton; under any other so many times as far.
    fn sags_under_one(&self, loading: Loading) -> Result<Sags, NoLoad> {
        self.sags(1.0, loading).ok_or(NoLoad::Figures)
    }

    /// How far its own weight bends it, as one newton spread over it does.
    fn own_sag(&self, under_one: Sags) -> Result<f64, NoLoad> {
        let own = self.own * self.plate.span * under_one.most;
        match own {
            own if !own.is_finite() || own <= 0.0 => Err(NoLoad::Figures),
            own if own >= self.limit() => Err(NoLoad::OwnWeight),
            own => Ok(own),
        }
    }

    /// The load that takes it to its limit, which bends it as one newton does, beside its own weight.
    fn bears(&self, under_one: Sags, own_sag: f64) -> Result<Mass, NoLoad> {
        let room = self.limit() - own_sag;
        Mass::from_kg((room / under_one.most / GRAVITY).min(Mass::MOST)).ok_or(NoLoad::Figures)
    }

    /// The shortest span at which bending is what limits it.
    fn least_span(&self) -> f64 {
        let heights = [self.front, self.back].into_iter().flatten().map(|lip| lip.height);
        SLENDER * heights.fold(self.plate.thick, f64::max)
    }

    /// Whether it bears a full row of things that weigh so many kilograms a metre, and is slender enough to say so.
    fn bears_row(&self, kg_per_m: f64) -> bool {
        let row = kg_per_m * self.plate.span / 1000.0;
        let bears = || {
            let spread = self.sags_under_one(Loading::Spread)?;
            self.bears(spread, self.own_sag(spread)?)
        };
        self.plate.span >= self.least_span() && bears().is_ok_and(|bears| bears.kg() >= row)
    }

    fn of_span(self, span: f64) -> Bent {
        Bent { plate: Plate { span, ..self.plate }, ..self }
    }

    /// With a thicker board; all of it is taken to grow heavier with it.
    fn of_thickness(self, thick: f64) -> Bent {
        let higher = |lip: Lip| Lip { height: lip.height.max(thick), ..lip };
        Bent {
            plate: Plate { thick, ..self.plate },
            front: self.front.map(higher),
            back: self.back.map(higher),
            own: self.own * thick / self.plate.thick,
            ..self
        }
    }

    /// With a lip like that at its front along its back as well, whose wood is no heavier than water.
    fn lipped_twice(self) -> Option<Bent> {
        let lip = self.front.filter(|_| self.back.is_none())?;
        let depth = self.plate.depth - lip.width;
        let own = self.own + lip.width * lip.height * 1e-6 * GRAVITY;
        (depth > 0.0).then_some(Bent { plate: Plate { depth, ..self.plate }, back: Some(lip), own, ..self })
    }

    /// What would let it bear a full row; `None` where it does.
    fn for_row(self, kg_per_m: f64) -> Option<ForBooks> {
        if self.bears_row(kg_per_m) {
            return None;
        }
        // A shorter span bears more, and so does a thicker board as long as it is slender: the first that bears enough is
        // found by halving.
        let spans = (1..).map(|step| (self.plate.span / 10.0).ceil() * 10.0 - f64::from(step) * 10.0);
        let spans: Vec<f64> = spans.take_while(|span| *span >= self.least_span()).collect();
        let shorter = spans.partition_point(|span| !self.of_span(*span).bears_row(kg_per_m));
        let boards = (1..).map(|step| self.plate.thick.floor() + f64::from(step));
        let slender = |thick: &f64| *thick <= THICKEST && self.plate.span >= SLENDER * *thick;
        let boards: Vec<f64> = boards.take_while(slender).collect();
        let thicker = boards.partition_point(|thick| !self.of_thickness(*thick).bears_row(kg_per_m));
        Some(ForBooks {
            span: spans.get(shorter).copied().and_then(Length::from_mm),
            thick: boards.get(thicker).copied().and_then(Length::from_mm),
            second_lipping: self.lipped_twice().is_some_and(|twice| twice.bears_row(kg_per_m)),
        })
    }
}

fn capacity(
    shelf: &Shelf,
    PartFacts { part, mass, .. }: &PartFacts,
    trade: &Trade,
) -> Result<ShelfCapacity, NoLoad> {
    let ends = shelf.ends.as_ref().map(|ends| ends.value);
    if ends == Some(Ends::OneEnd) {
        return Err(NoLoad::OneEnd);
    }
    let size = part.size.as_ref().ok_or(MissingInput::Dimension("size"))?;
    let length = size.length.as_ref().map(|length| length.value);
    let span =
        shelf.span.as_ref().map(|span| span.value).or(length).ok_or(MissingInput::Dimension("span"))?;
    let width = size.width.as_ref().ok_or(MissingInput::Dimension("width"))?.value;
    let thick = size.thick.as_ref().ok_or(MissingInput::Dimension("thickness"))?.value;
    let strip = part.lipping.as_ref();
    let deepest = strip.map_or(thick.mm(), |strip| strip.depth.mm().max(thick.mm()));
    if span.mm() < SLENDER * deepest {
        return Err(NoLoad::Stout);
    }
    let substance = material::substance(part, trade)?;
    let across = part.grain.as_ref().is_some_and(|grain| grain.value == Grain::Width);
    if across && matches!(substance, material::Substance::Timber(_)) {
        return Err(NoLoad::AcrossGrain);
    }
    let board = material::stiffness(substance, part, thick, trade)?;
    let creep = creeping(board.creep, trade).ok_or_else(|| MissingInput::CreepOf(board.along.of.clone()))?;
    // In the end each material is softer by its own creep (EN 1995-1-1, 2.3.2.2).
    let softened = board.along.low / (1.0 + creep.factor);
    let timber = strip.map(|strip| material::timber(Some(&strip.timber), trade)).transpose()?;
    let lipping = timber.map(|timber| material::timber_stiffness(timber, trade)).transpose()?;
    let solid =
        creeping("solid-timber", trade).ok_or_else(|| MissingInput::CreepOf("solid-timber".to_owned()))?;
    let lip = strip.zip(lipping.as_ref()).map(|(strip, figured)| {
        let along = figured.low / (1.0 + solid.factor);
        Lip {
            width: strip.thick.mm(),
            height: strip.depth.mm(),
            along,
            shear: material::TIMBER_SHEAR * along,
        }
    });
    let twice = strip.is_some_and(|strip| strip.how_many() == 2);
    let strips = lip.map_or(0.0, |lip| lip.width) * if twice { 2.0 } else { 1.0 };
    // Of a shelf longer than its span only what hangs free bends it.
    let own = mass.as_ref().map_err(Clone::clone)?.each.high.newtons();
    let bent = Bent {
        plate: Plate {
            span: span.mm(),
            depth: width.mm() - strips,
            thick: thick.mm(),
            along: softened,
            across: softened * board.across,
            shear: softened * board.shear,
            poisson: board.poisson,
        },
        front: lip,
        back: lip.filter(|_| twice),
        own: own / length.map_or(span.mm(), |length| length.mm().max(span.mm())),
        ratio: trade.shelf.limit("long-term-visible").map_or(f64::INFINITY, |limit| limit.ratio.0),
    };
    if bent.plate.depth <= 0.0 {
        return Err(NoLoad::Figures);
    }
    let of_one = bent.sags_under_one(Loading::Spread)?;
    let own_sag = bent.own_sag(of_one)?;
    let spread = bent.bears(of_one, own_sag)?;
    let fixed = || {
        let of_one =
            sag(1.0, span.mm(), bent.beam(), Support::Fixed, Loading::Spread).ok_or(NoLoad::Figures)?;
        let load = (bent.limit() / of_one - bent.own * span.mm()) / GRAVITY;
        Mass::from_kg(load.clamp(0.0, Mass::MOST)).ok_or(NoLoad::Figures)
    };
    let row = |id: &str| trade.shelf.load(id).and_then(|load| load.kg_per_m.as_ref()).map(|load| load.0);
    Ok(ShelfCapacity {
        span,
        width,
        thick,
        board: board.along,
        lipping_creep: lipping.is_some().then_some(solid),
        lipping,
        both_edges: twice,
        creep,
        sags_most: match lip {
            None => SagsMost::Alike,
            Some(_) if of_one.back >= of_one.most && of_one.back > of_one.front => SagsMost::Back,
            Some(_) => SagsMost::Between,
        },
        limit: bent.limit(),
        own_sag,
        spread,
        middle: bent.bears(bent.sags_under_one(Loading::Middle)?, own_sag)?,
        if_fixed: (ends == Some(Ends::Fixed) && lip.is_none()).then(fixed).transpose()?,
        usual_most: Mass::from_kg(row("large-format-magazines").unwrap_or(0.0) * span.mm() / 1000.0)
            .unwrap_or_default(),
        for_books: row("average-books").and_then(|kg_per_m| bent.for_row(kg_per_m)),
        said: shelf.load.as_ref().map(|load| load.value),
        ends,
    })
}

fn creeping(id: &str, trade: &Trade) -> Option<Creeping> {
    let (creep, stand_in) = trade.shelf.creep(id)?;
    Some(Creeping {
        factor: creep.heated.0,
        material: creep.material.to_string(),
        stand_in: stand_in.map_or(String::new(), |row| row.why.to_string()),
        source: Message::cited(creep.seen.value, &creep.source),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::{facts, workshop};
    use proptest::prelude::*;
    use std::collections::BTreeMap;

    /// The rows of `tests/data/shelf.toml`: computed from the formulas of the Wood Handbook, FPL-GTR-190, table 9-1, and
    /// checked by numerical integration.
    fn rows() -> BTreeMap<String, toml::Table> {
        let table: toml::Table = include_str!("../../../tests/data/shelf.toml").parse().expect("it is TOML");
        let rows = table["shelf"].as_array().expect("rows").iter();
        rows.map(|row| {
            (row["id"].as_str().expect("an id").to_owned(), row.as_table().expect("a row").clone())
        })
        .collect()
    }

    #[track_caller]
    fn near(computed: f64, row: &toml::Table, key: &str, tolerance: f64) {
        let wanted = row[key].as_float().expect("a number");
        assert!((computed - wanted).abs() <= tolerance * wanted, "{key}: {computed}, wanted {wanted}");
    }

    fn bent(load: f64, span: f64, stiffness: f64, support: Support, loading: Loading) -> f64 {
        sag(load, span, stiffness, support, loading).expect("sound numbers")
    }

    /// E x I of a board.
    fn stiffness(width: f64, height: f64, elasticity: f64) -> f64 {
        elasticity * width * height * height * height / 12.0
    }

    #[test]
    fn white_oak_in_inches() {
        let row = &rows()["a-white-oak-inch"];
        let stiff = stiffness(10.0, 0.75, 1_780_000.0);
        near(stiff / 1_780_000.0, row, "i-in4", 1e-9);
        let load = 2.08333 * 36.0;
        near(
            bent(load, 36.0, stiff, Support::Resting, Loading::Spread),
            row,
            "sag-simply-supported-in",
            1e-4,
        );
        near(bent(load, 36.0, stiff, Support::Fixed, Loading::Spread), row, "sag-fixed-in", 3e-4);
        near(
            1.6 * bent(load, 36.0, stiff, Support::Resting, Loading::Spread),
            row,
            "final-kdef-0-6-in",
            1e-4,
        );
    }

    #[test]
    fn fibreboard_in_millimetres() {
        let row = &rows()["b-mdf"];
        let stiff = stiffness(250.0, 18.0, 2200.0);
        let load = 0.333097 * 800.0;
        near(
            bent(load, 800.0, stiff, Support::Resting, Loading::Spread),
            row,
            "sag-simply-supported-mm",
            1e-4,
        );
        near(
            bent(300.0 * 0.8, 800.0, stiff, Support::Resting, Loading::Spread),
            row,
            "sag-books-only-mm",
            1e-4,
        );
        near(bent(load, 800.0, stiff, Support::Fixed, Loading::Spread), row, "sag-fixed-mm", 1e-4);
        near(
            3.25 * bent(load, 800.0, stiff, Support::Resting, Loading::Spread),
            row,
            "final-kdef-2-25-mm",
            1e-4,
        );
    }

    #[test]
    fn a_load_in_the_middle() {
        let row = &rows()["d-pine-centre-load"];
        let stiff = stiffness(200.0, 19.0, 8500.0);
        near(
            bent(100.0, 900.0, stiff, Support::Resting, Loading::Middle),
            row,
            "sag-simply-supported-mm",
            1e-4,
        );
        near(bent(100.0, 900.0, stiff, Support::Fixed, Loading::Middle), row, "sag-fixed-mm", 1e-4);
        near(bent(100.0, 900.0, stiff, Support::Resting, Loading::Spread), row, "same-load-spread-mm", 1e-4);
    }

    /// The sag in the middle by integrating the bending moment over the stiffness twice, by the trapezoidal rule: the
    /// line is clamped at the left with a slope of its own, which the other end's height then decides.
    fn integrated(moment: impl Fn(f64) -> f64, span: f64, stiffness: f64, fixed: bool) -> f64 {
        const STEPS: usize = 20_000;
        let step = span / STEPS as f64;
        let (mut slope, mut deep) = (vec![0.0_f64], vec![0.0_f64]);
        for place in 1..=STEPS {
            let [before, here] = [place - 1, place].map(|place| moment(place as f64 * step) / stiffness);
            slope.push(slope[place - 1] + (before + here) / 2.0 * step);
            deep.push(deep[place - 1] + (slope[place - 1] + slope[place]) / 2.0 * step);
        }
        let tilt = if fixed { 0.0 } else { deep[STEPS] / span };
        (deep[STEPS / 2] - tilt * span / 2.0).abs()
    }

    #[test]
    fn the_formulas_agree_with_integrating_moment_over_stiffness() {
        let (load, span, stiff) = (240.0, 800.0, 2_009_487_324.0);
        let w = load / span;
        let resting = |x: f64| w * x * (span - x) / 2.0;
        let fixed = |x: f64| w * x * (span - x) / 2.0 - w * span * span / 12.0;
        let middle = |x: f64| load / 2.0 * x.min(span - x);
        let middle_fixed = |x: f64| load / 2.0 * x.min(span - x) - load * span / 8.0;
        for (support, loading, by_hand) in [
            (Support::Resting, Loading::Spread, integrated(resting, span, stiff, false)),
            (Support::Fixed, Loading::Spread, integrated(fixed, span, stiff, true)),
            (Support::Resting, Loading::Middle, integrated(middle, span, stiff, false)),
            (Support::Fixed, Loading::Middle, integrated(middle_fixed, span, stiff, true)),
        ] {
            let formula = bent(load, span, stiff, support, loading);
            assert!(
                (formula - by_hand).abs() / by_hand < 1e-6,
                "{support:?} {loading:?}: {formula}, {by_hand}"
            );
        }
    }

    #[test]
    fn another_program_s_answers() {
        // tests/data/shelf_check.py solves the beams' differential equation with SciPy; its output lies beside it.
        let answers: toml::Table =
            include_str!("../../../tests/data/shelf_check.toml").parse().expect("it is TOML");
        let cases = answers["beam"].as_array().expect("answers");
        assert_eq!(cases.len(), 12);
        for case in cases {
            let number = |key: &str| case[key].as_float().expect("a number");
            let support =
                if case["fixed"].as_bool() == Some(true) { Support::Fixed } else { Support::Resting };
            let loading =
                if case["middle"].as_bool() == Some(true) { Loading::Middle } else { Loading::Spread };
            let stiff = stiffness(number("width"), number("height"), number("elasticity"));
            let computed = bent(number("load"), number("span"), stiff, support, loading);
            assert!((computed - number("sag")).abs() / number("sag") < 1e-6, "{case}: {computed}");
        }
    }

    fn shelf(part: &str, shelf: &str) -> Result<ShelfCapacity, NoLoad> {
        let record = format!(
            "use = {{ shelves = [{{ part = \"s\", {shelf} }}] }}\n\
             part = [{{ id = \"s\", name = \"S\", standing = \"new\", {part} }}]"
        );
        facts(&record, &workshop(40.0, 60.0)).shelves.remove(0).capacity.expect("the piece has it")
    }

    const OAK: &str = "build = \"solid\", timber = \"white-oak\", grain = \"length\", \
                       size = { length = 900, width = 250, thick = 20 }";

    #[test]
    fn the_load_takes_it_to_the_limit_and_no_further() {
        let found = shelf(OAK, "ends = \"supported\"").expect("everything is said");
        assert!((found.limit - 900.0 / 384.0).abs() < 1e-9);
        // By hand: E 12.27 GPa less 1.645 x 22 %, softened by 0.6; I = 250 x 20³ / 12.
        let stiff = 12_270.0 * (1.0 - 1.645 * 0.22) / 1.6 * 250.0 * 8000.0 / 12.0;
        let whole = found.limit * 384.0 * stiff / (5.0 * 900.0 * 900.0 * 900.0) / GRAVITY;
        let own = 0.9 * 0.25 * 0.02 * 680.0 * 1.1 * 1.110_05;
        assert!((found.spread.kg() - (whole - own)).abs() < 0.01, "{found:?}, by hand {}", whole - own);
        assert!((found.middle.kg() - 0.625 * found.spread.kg()).abs() < 1e-9);
        let load = (found.spread.kg() + own) * GRAVITY;
        assert!((bent(load, 900.0, stiff, Support::Resting, Loading::Spread) - found.limit).abs() < 1e-3);
    }

    #[test]
    fn fixed_ends_are_quoted_beside_resting_ones_and_never_promised() {
        let (resting, fixed) = (shelf(OAK, "ends = \"supported\""), shelf(OAK, "ends = \"fixed\""));
        let (resting, fixed) = (resting.expect("everything is said"), fixed.expect("everything is said"));
        assert_eq!((resting.if_fixed, resting.spread), (None, fixed.spread));
        assert!(fixed.if_fixed.expect("its ends are fixed").kg() > 5.0 * fixed.spread.kg());
        assert_eq!(shelf(OAK, "").expect("resting is taken").spread, resting.spread);
    }

    #[test]
    fn nothing_is_promised_beyond_the_heaviest_usual_load() {
        let stout = OAK.replace("thick = 20", "thick = 40");
        let found = shelf(&stout, "ends = \"supported\"").expect("everything is said");
        assert!(found.spread > found.usual_most);
        assert_eq!(found.promised(), found.usual_most);
        assert!((found.usual_most.kg() - 59.5 * 0.9).abs() < 1e-9);
    }

    #[test]
    fn boards_by_grade_thickness_and_face_grain() {
        let board = |ground: &str, more: &str| {
            let part = format!(
                "build = \"panel\", ground = \"{ground}\", size = {{ length = 600, width = 250, thick = 18 }}{more}"
            );
            shelf(&part, "ends = \"supported\"")
                .map(|found| (found.board.low, found.creep.factor, found.creep.stand_in.is_empty()))
        };
        assert_eq!(board("mdf", ""), Ok((2200.0, 2.25, false)));
        assert_eq!(board("chipboard", ""), Ok((1600.0, 2.25, false)));
        assert_eq!(board("birch-plywood", ", grain = \"length\""), Ok((8500.0, 0.8, true)));
        assert_eq!(board("birch-plywood", ""), Ok((4000.0, 0.8, true)));
        assert_eq!(
            board("hardboard", ""),
            Err(NoLoad::Missing(MissingInput::StiffnessOf("Hardboard".to_owned())))
        );
        assert_eq!(
            board("pasteboard", ""),
            Err(NoLoad::Missing(MissingInput::OtherBoard("pasteboard".to_owned())))
        );
    }

    const CHIPBOARD: &str =
        "build = \"panel\", ground = \"chipboard\", size = { length = 800, width = 270, thick = 18 }";

    fn lipped(edges: &str) -> ShelfCapacity {
        let lipping = format!("lipping = {{ timber = \"white-oak\", depth = 40, thick = 20{edges} }}");
        shelf(&format!("{CHIPBOARD}, {lipping}"), "ends = \"supported\"").expect("everything is said")
    }

    #[test]
    fn a_lipping_is_counted_in_the_width_and_the_soft_edge_decides() {
        let found = lipped("");
        assert_eq!(found.sags_most, SagsMost::Back);
        let along = 12_270.0 * (1.0 - 1.645 * 0.22) / 1.6;
        let lip = Lip { width: 20.0, height: 40.0, along, shear: 0.06 * along };
        let along = 1600.0 / 3.25;
        let plate = Plate {
            span: 800.0,
            depth: 250.0,
            thick: 18.0,
            along,
            across: along,
            shear: 0.4 * along,
            poisson: 0.25,
        };
        let of_one = sags(plate, Some(lip), None, 1.0, true).expect("sound numbers");
        assert!((found.spread.newtons() - (found.limit - found.own_sag) / of_one.most).abs() < 1e-6);
        // At its front edge alone it would bear more than twice as much.
        assert!(of_one.most > 2.0 * of_one.front);
        let both = lipped(", edges = \"both\"");
        assert!(both.spread.kg() > 2.0 * found.spread.kg(), "{both:?}");
        assert_eq!(both.sags_most, SagsMost::Between);
    }

    #[test]
    fn a_full_row_of_books_asks_for_a_shorter_span_a_thicker_board_or_a_second_lipping() {
        let found = shelf(OAK, "ends = \"supported\"").expect("everything is said");
        let needs = found.for_books.expect("26.8 kg are more than the 16.8 it bears");
        let bears = |part: &str| shelf(part, "ends = \"supported\"").expect("everything is said");
        let (span, thick) = (needs.span.expect("a span").mm(), needs.thick.expect("a thickness").mm());
        for (part, row) in [
            (OAK.replace("length = 900", &format!("length = {span}")), 29.8 * span / 1000.0),
            (OAK.replace("thick = 20", &format!("thick = {thick}")), 29.8 * 0.9),
        ] {
            let found = bears(&part);
            assert!(found.spread.kg() >= row && found.for_books.is_none(), "{found:?}");
        }
        for part in [
            OAK.replace("length = 900", &format!("length = {}", span + 10.0)),
            OAK.replace("thick = 20", &format!("thick = {}", thick - 1.0)),
        ] {
            assert!(bears(&part).for_books.is_some(), "{part}");
        }
        assert!(!needs.second_lipping, "it has no first one");
        let chipboard = lipped("").for_books.expect("its back edge sags");
        assert_eq!(chipboard.second_lipping, lipped(", edges = \"both\"").for_books.is_none());
    }

    #[test]
    fn refusals_say_why() {
        assert_eq!(shelf(OAK, "ends = \"one-end\"").err(), Some(NoLoad::OneEnd));
        assert_eq!(shelf(OAK, "ends = \"supported\", span = 199").err(), Some(NoLoad::Stout));
        assert!(shelf(OAK, "ends = \"supported\", span = 200").is_ok());
        let across = OAK.replace("grain = \"length\"", "grain = \"width\"");
        assert_eq!(shelf(&across, "").err(), Some(NoLoad::AcrossGrain));
        let unknown = OAK.replace("white-oak", "unknown");
        assert_eq!(shelf(&unknown, "").err(), Some(NoLoad::Missing(MissingInput::Timber)));
        let glass = "build = \"glass\", size = { length = 600, width = 200, thick = 6 }";
        assert_eq!(
            shelf(glass, "").err(),
            Some(NoLoad::Missing(MissingInput::StiffnessOf("Glass".to_owned())))
        );
        let long = "build = \"panel\", ground = \"mdf\", size = { length = 2400, width = 250, thick = 18 }";
        assert_eq!(shelf(long, "").err(), Some(NoLoad::OwnWeight));
        assert_eq!(sag(f64::NAN, 1.0, 1.0, Support::Resting, Loading::Spread), None);
        assert_eq!(sag(1.0, 1.0, 0.0, Support::Resting, Loading::Spread), None);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        #[test]
        fn halving_finds_the_first_that_bears_a_row(
            span in 300.0..1400.0_f64, depth in 150.0..400.0_f64, thick in 12.0..30.0_f64,
            along in 400.0..9000.0_f64, heavy in 0.001..0.2_f64, lip in proptest::option::of(1.0..40.0_f64)
        ) {
            let plate =
                Plate { span, depth, thick, along, across: along / 10.0, shear: along / 16.0, poisson: 0.1 };
            let front =
                lip.map(|deeper| Lip { width: 20.0, height: thick + deeper, along: 6000.0, shear: 400.0 });
            let bent = Bent { plate, front, back: None, own: heavy, ratio: 500.0 };
            prop_assume!(!bent.bears_row(29.8));
            let found = bent.for_row(29.8).expect("it bears too little");
            let spans = (1..200).map(|step| (span / 10.0).ceil() * 10.0 - 10.0 * f64::from(step));
            let first = spans.take_while(|span| *span > 0.0).find(|span| bent.of_span(*span).bears_row(29.8));
            prop_assert_eq!(found.span.map(Length::mm), first);
            let boards = (1..).map(|step| thick.floor() + f64::from(step)).take_while(|thick| *thick <= THICKEST);
            let first = boards.into_iter().find(|thick| bent.of_thickness(*thick).bears_row(29.8));
            prop_assert_eq!(found.thick.map(Length::mm), first);
        }
    }

    proptest! {
        #[test]
        fn twice_the_span_sags_eight_times_as_far_and_twice_the_load_twice(
            load in 1.0..2000.0_f64, span in 100.0..3000.0_f64, stiff in 1e7..1e11_f64
        ) {
            let one = bent(load, span, stiff, Support::Resting, Loading::Spread);
            let long = bent(load, 2.0 * span, stiff, Support::Resting, Loading::Spread);
            let heavy = bent(2.0 * load, span, stiff, Support::Resting, Loading::Spread);
            prop_assert!((long / one - 8.0).abs() < 1e-9 && (heavy / one - 2.0).abs() < 1e-9);
            let middle = bent(load, span, stiff, Support::Resting, Loading::Middle);
            let fixed = bent(load, span, stiff, Support::Fixed, Loading::Spread);
            prop_assert!((middle / one - 1.6).abs() < 1e-9 && (one / fixed - 5.0).abs() < 1e-9);
        }

        #[test]
        fn a_longer_shelf_carries_less_and_a_thicker_one_more(span in 600.0..1200.0_f64, thick in 18.0..30.0_f64) {
            let load = |span: f64, thick: f64| {
                let part = OAK.replace("length = 900", &format!("length = {span}")).replace("thick = 20", &format!("thick = {thick}"));
                shelf(&part, "ends = \"supported\"").map_or(0.0, |found| found.spread.kg())
            };
            prop_assert!(load(span + 10.0, thick) < load(span, thick));
            prop_assert!(load(span, thick + 1.0) > load(span, thick));
        }
    }
}
