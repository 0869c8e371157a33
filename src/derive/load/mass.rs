//! What the parts of a piece weigh, from their sizes and what they are made of.

use crate::derive::climate::Seasons;
use crate::derive::missing_input::MissingInput;
use crate::derive::timber::material::{self, Figured};
use crate::fields::Said;
use crate::record::{Construction, Opening, Part};
use crate::trade::Trade;
use crate::unit::{Length, Mass, MassSpan};

/// What one row of parts weighs.
#[derive(Debug, Clone, PartialEq)]
pub struct PartMass {
    /// One of them.
    pub each: MassSpan,
    /// All that the row counts.
    pub all: MassSpan,
    /// The density it was reckoned with, in kg/m³.
    pub density: Figured,
}

/// What a row of parts weighs; those that are gone are reckoned too.
pub(in crate::derive) fn mass(
    part: &Part,
    seasons: &Seasons,
    trade: &Trade,
) -> Result<PartMass, MissingInput> {
    let density = material::density(material::substance(part, trade)?, seasons, trade)?;
    let (low, high) = volume(part, trade)?;
    // Cubic millimetres times kg/m³ are a thousand millionth of a kilogram.
    let mut each = span(low * density.low / 1e9, high * density.high / 1e9);
    if let Some((timber, bulk)) = lipping(part, trade) {
        let strip = material::density(material::Substance::Timber(timber), seasons, trade)?;
        each = each + span(bulk * strip.low / 1e9, bulk * strip.high / 1e9);
    }
    Ok(PartMass { each, all: each.times(f64::from(part.how_many())), density })
}

fn span(low: f64, high: f64) -> MassSpan {
    let mass = |kg: f64| Mass::from_kg(kg.clamp(0.0, Mass::MOST)).unwrap_or_default();
    MassSpan::between(mass(low), mass(high))
}

/// The timber of a part's lippings and their bulk in cubic millimetres, where all of that is known.
fn lipping<'a>(part: &Part, trade: &'a Trade) -> Option<(&'a crate::trade::Timber, f64)> {
    let lipping = part.lipping.as_ref()?;
    let length = part.size.as_ref()?.length.as_ref()?;
    let timber = material::timber(Some(&lipping.timber), trade).ok()?;
    let strip = length.mm() * lipping.depth.mm() * lipping.thick.mm();
    Some((timber, strip * f64::from(lipping.how_many())))
}

/// The volume of a part in cubic millimetres, from its least to its most.
///
/// A turned part fills its enclosing body in part only; a hollow one has four walls and perhaps a bottom.
pub(super) fn volume(part: &Part, trade: &Trade) -> Result<(f64, f64), MissingInput> {
    let size = part.size.as_ref().ok_or(MissingInput::Dimension("size"))?;
    let turned = part.build.as_ref().is_some_and(|build| build.value == Construction::Turned);
    let fill = trade
        .density
        .shape("turned")
        .filter(|_| turned)
        .map_or((1.0, 1.0), |shape| (shape.fill.low, shape.fill.high));
    if let Some(diameter) = &size.diameter {
        let length = size.length.as_ref().or(size.thick.as_ref()).ok_or(MissingInput::Dimension("length"))?;
        let bore = size.wall.as_ref().map_or(0.0, |wall| (diameter.mm() - 2.0 * wall.mm()).max(0.0));
        let round = cylinder(diameter.mm(), length.mm()) - cylinder(bore, length.mm());
        return Ok((round * fill.0, round * fill.1));
    }
    let side = |side: &Option<Said<Length>>, name| {
        side.as_ref().map(|side| side.mm()).ok_or(MissingInput::Dimension(name))
    };
    let (length, width, thick) =
        (side(&size.length, "length")?, side(&size.width, "width")?, side(&size.thick, "thickness")?);
    match &size.wall {
        Some(wall) => {
            let inner = (length - 2.0 * wall.mm()).max(0.0) * (width - 2.0 * wall.mm()).max(0.0);
            let walls = (length * width - inner) * thick;
            Ok((walls, (walls + inner * wall.mm()).min(length * width * thick)))
        }
        None if material::like_a_box(size) || slides(part) => Err(MissingInput::Wall),
        None => {
            let strips = lipping(part, trade)
                .and(part.lipping.as_ref())
                .map_or(0.0, |lipping| lipping.thick.mm() * f64::from(lipping.how_many()));
            let bulk = length * (width - strips).max(0.0) * thick;
            Ok((bulk * fill.0, bulk * fill.1))
        }
    }
}

fn slides(part: &Part) -> bool {
    part.opens.as_ref().is_some_and(|opens| opens.r#as.value == Opening::Drawer)
}

fn cylinder(diameter: f64, length: f64) -> f64 {
    std::f64::consts::PI / 4.0 * diameter * diameter * length
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::{facts, workshop};
    use proptest::prelude::*;

    /// The mass of a part in a room where oak holds 7.72 to 11.00 % of water.
    fn weigh(part: &str) -> Result<PartMass, MissingInput> {
        let record = format!("part = [{{ id = \"a\", name = \"A\", standing = \"original\", {part} }}]");
        facts(&record, &workshop(40.0, 60.0)).parts.remove(0).mass
    }

    #[track_caller]
    fn case(part: &str, low: f64, high: f64) {
        let mass = weigh(part).expect("everything is said").all;
        let near = |computed: f64, wanted: f64| (computed - wanted).abs() <= 0.002 * wanted;
        assert!(near(mass.low.kg(), low) && near(mass.high.kg(), high), "{mass:?}, wanted {low} to {high}");
    }

    #[test]
    fn by_hand() {
        // 0.9 x 0.4 x 0.018 m of white oak: 0.00648 m³ at 612 x 1.0772 and 748 x 1.1100 kg/m³.
        case("timber = \"white-oak\", size = { length = 900, width = 400, thick = 18 }", 4.272, 5.380);
        // Four cylinders 45 mm across and 700 long, of which turning leaves 0.7 to 1.
        let legs =
            "build = \"turned\", timber = \"white-oak\", count = 4, size = { length = 700, diameter = 45 }";
        case(legs, 0.7 * 4.0 * 0.001_113_3 * 659.2, 4.0 * 0.001_113_3 * 830.3);
        // A sheet of glass 1 m² and 4 mm thick weighs 10 kg.
        case("build = \"glass\", size = { length = 1000, width = 1000, thick = 4 }", 10.0, 10.2);
        // MDF 18 mm, 0.2 m².
        case(
            "build = \"panel\", ground = \"MDF\", size = { length = 800, width = 250, thick = 18 }",
            0.0036 * 680.0,
            0.0036 * 800.0,
        );
        // A drawer of 10 mm walls, 400 x 300 x 100: 0.00136 m³ of walls and 0.001064 m³ of bottom.
        let drawer = "timber = \"white-oak\", size = { length = 400, width = 300, thick = 100, wall = 10 }";
        case(drawer, 0.001_36 * 659.2, (0.001_36 + 0.001_064) * 830.3);
    }

    #[test]
    fn a_lipping_is_counted_in_the_width_and_weighs_as_its_own_timber() {
        let shelf = "build = \"panel\", ground = \"plywood\", size = { length = 856, width = 270, thick = 18 }, \
                     lipping = { timber = \"white-oak\", depth = 40, thick = 20 }";
        let board = 0.856 * 0.250 * 0.018;
        let strip = 0.856 * 0.040 * 0.020;
        case(shelf, board * 450.0 + strip * 659.2, board * 700.0 + strip * 830.3);
    }

    #[test]
    fn what_is_missing_is_said() {
        let size = "size = { length = 400, width = 300, thick = 18 }";
        for (part, missing) in [
            ("timber = \"white-oak\"".to_owned(), MissingInput::Dimension("size")),
            ("timber = \"white-oak\", size = { length = 1 }".to_owned(), MissingInput::Dimension("width")),
            (size.to_owned(), MissingInput::Build),
            (format!("build = \"solid\", {size}"), MissingInput::Timber),
            (format!("build = \"veneered\", veneer = \"paper-birch\", {size}"), MissingInput::Board),
            (
                format!("build = \"panel\", ground = \"pasteboard\", {size}"),
                MissingInput::OtherBoard("pasteboard".into()),
            ),
            (format!("build = \"metal\", {size}"), MissingInput::Material),
            (
                format!("build = \"metal\", material = \"unobtainium\", {size}"),
                MissingInput::OtherMaterial("unobtainium".into()),
            ),
            (format!("build = \"textile\", {size}"), MissingInput::Soft),
            (
                "timber = \"white-oak\", size = { length = 400, width = 300, thick = 100 }".to_owned(),
                MissingInput::Wall,
            ),
            (
                format!("timber = \"white-oak\", opens = {{ as = \"drawer\", by = 200 }}, {size}"),
                MissingInput::Wall,
            ),
        ] {
            assert_eq!(weigh(&part), Err(missing), "{part}");
        }
    }

    #[test]
    fn a_post_is_no_box_and_a_veneer_weighs_as_its_ground() {
        assert!(weigh("timber = \"white-oak\", size = { length = 700, width = 80, thick = 80 }").is_ok());
        let ground = weigh(
            "build = \"veneered\", ground = \"scots-pine\", veneer = \"black-walnut\", \
             size = { length = 400, width = 300, thick = 18 }",
        );
        assert_eq!(ground.expect("pine is in the table").density.of, "Scots pine");
    }

    proptest! {
        #[test]
        fn mass_grows_with_size_and_never_runs_backwards(
            length in 1.0..3000.0_f64, width in 1.0..140.0_f64, thick in 1.0..60.0_f64, count in 1..20_u32
        ) {
            let part = |length: f64| weigh(&format!(
                "timber = \"european-beech\", count = {count}, size = {{ length = {length}, width = {width}, thick = {thick} }}"
            )).expect("everything is said");
            let (one, two) = (part(length), part(2.0 * length));
            prop_assert!(one.each.low <= one.each.high);
            prop_assert!((two.all.middle().kg() - 2.0 * one.all.middle().kg()).abs() < 1e-6);
            prop_assert!((one.all.low.kg() - f64::from(count) * one.each.low.kg()).abs() < 1e-9);
        }
    }
}
