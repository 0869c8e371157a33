//! Whether a piece, or a part of it, passes an opening.

use crate::fields::{Row, Said};
use crate::record::{Part, PartSize, Passage, Record, Size};
use crate::unit::Length;

/// How something passes an opening.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Passes {
    /// Straight, with so much to spare in the tighter direction, in millimetres.
    Straight(f64),
    /// Only when it is tilted.
    Tilted,
    /// Not at all.
    Not,
}

/// What is to pass an opening.
#[derive(Debug, Clone, PartialEq)]
pub enum Passing {
    /// The whole piece.
    Piece,
    /// The whole piece, folded.
    Folded,
    /// A part.
    Part(Row<Part>),
}

/// An opening with what passes it; `None` where a size is not known.
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// The opening.
    pub opening: Said<Passage>,
    /// What is to pass, and how it does.
    pub passing: Vec<(Passing, Option<Passes>)>,
}

/// What passes the openings of a record: the parts that each names, or else the piece, and where that does not pass, each
/// of its parts by itself.
pub fn passages(record: &Record) -> Vec<Opening> {
    let each = |opening: &Said<Passage>| {
        let through = |sides: Option<[f64; 3]>| Some(passes(sides?, opening.width.mm(), opening.height.mm()));
        let part =
            |part: &Row<Part>| (Passing::Part(part.clone()), through(part.size.as_deref().and_then(body)));
        let parts = record.parts.iter().filter(|part| part.present());
        let passing = if !opening.part.is_empty() {
            let named = |part: &&Row<Part>| opening.part.iter().any(|id| id.value == part.id.value);
            parts.filter(named).map(part).collect()
        } else {
            let size = record.size.as_deref();
            let mut passing = vec![(Passing::Piece, through(size.map(outline)))];
            if let Some(folded) = size.and_then(|size| size.folded.as_ref()) {
                let folded = [&folded.width, &folded.depth, &folded.height].map(|side| side.mm());
                passing.push((Passing::Folded, through(Some(folded))));
            }
            if !passing.iter().any(|(_, passes)| passes.is_some_and(|passes| passes != Passes::Not)) {
                passing.extend(parts.filter(|part| part.size.is_some()).map(part));
            }
            passing
        };
        Opening { opening: opening.clone(), passing }
    };
    record.openings.for_archive().iter().map(each).collect()
}

fn outline(size: &Size) -> [f64; 3] {
    [&size.width, &size.depth, &size.height].map(|side| side.mm())
}

/// The sides of the box around a part; `None` where one is not known.
fn body(size: &PartSize) -> Option<[f64; 3]> {
    let mm = |side: &Option<Said<Length>>| side.as_ref().map(|side| side.mm());
    let round = mm(&size.diameter);
    let thick = mm(&size.thick).or(round)?;
    Some([mm(&size.length).or(round)?, mm(&size.width).or(round)?, thick])
}

/// Whether a box passes a rectangular opening in a thin wall, moved straight on in one direction; it may be turned as it
/// is taken in hand, and tilted about that direction. Turning it while it passes, as around a corner, is not reckoned.
pub(super) fn passes(sides: [f64; 3], width: f64, height: f64) -> Passes {
    let mut sides = sides;
    sides.sort_by(f64::total_cmp);
    // With the longest side ahead, what has to pass is smallest.
    let (small, large) = (sides[0], sides[1]);
    let (low, high) = (width.min(height), width.max(height));
    let spare = (low - small).min(high - large);
    match spare >= 0.0 {
        true => Passes::Straight(spare),
        false if fits_tilted((large, small), (high, low)) => Passes::Tilted,
        false => Passes::Not,
    }
}

/// Whether a rectangle of `p` by `q`, the longer first, fits tilted into one of `a` by `b`, where it does not straight.
///
/// # Source
/// Carver, W. B. (1957), solution of problem E 1225, American Mathematical Monthly 64 (2), 114-116, from memory.
fn fits_tilted((p, q): (f64, f64), (a, b): (f64, f64)) -> bool {
    p > a && q <= b && {
        let square = p * p + q * q;
        let root = (square - a * a).max(0.0).sqrt();
        b * square >= 2.0 * p * q * a + (p * p - q * q) * root
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whether a rectangle fits into another, by turning it little by little and measuring the box around it.
    fn tried((p, q): (f64, f64), (a, b): (f64, f64)) -> bool {
        (0..=18_000).any(|step| {
            let (sin, cos) = (f64::from(step) / 18_000.0 * std::f64::consts::FRAC_PI_2).sin_cos();
            p * cos + q * sin <= a && p * sin + q * cos <= b
        })
    }

    #[test]
    fn what_fits_tilted_is_what_turning_finds() {
        let mut found = [0, 0];
        for p in (100..=1300).step_by(43) {
            for q in (20..=p.min(700)).step_by(37) {
                let (p, q) = (f64::from(p), f64::from(q));
                let (a, b) = (1000.0, 620.0);
                let passes = passes([p, q, 5000.0], b, a);
                assert_eq!(passes != Passes::Not, tried((p, q), (a, b)), "{p} by {q}");
                found[usize::from(passes == Passes::Tilted)] += 1;
            }
        }
        assert!(found[1] > 10, "{found:?}");
    }

    /// By hand: a panel of 1050 by 20 through 1000 by 400. Tilted by 20° its box is 994 by 378.
    #[test]
    fn a_panel_through_a_door_of_a_cupboard() {
        assert_eq!(passes([1050.0, 20.0, 1400.0], 400.0, 1000.0), Passes::Tilted);
        assert_eq!(passes([20.0, 300.0, 900.0], 1000.0, 400.0), Passes::Straight(380.0));
        assert_eq!(passes([1050.0, 380.0, 1400.0], 400.0, 1000.0), Passes::Not);
    }
}
