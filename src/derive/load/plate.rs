//! How far a shelf sags at its front and at its back, where a lip stiffens one edge and leaves the other soft.

use std::f64::consts::PI;

/// Terms along the span: half waves 1, 3, 5, 7, 9 and 11. The next one adds less than one part in ten thousand.
const HALF_WAVES: [i32; 6] = [1, 3, 5, 7, 9, 11];

/// Terms across the depth, of the sag and of the stretch along the span: a constant, straight, square and cubic one.
const ACROSS: usize = 4;

/// Where the one sideways movement of the whole board stands among the unknowns, and how many there are.
const SIDEWAYS: usize = 2 * ACROSS;
const UNKNOWNS: usize = SIDEWAYS + 1;

/// A linear form of the unknowns, and the matrix of a sum of their squares.
type Form = [f64; UNKNOWNS];
type Matrix = [Form; UNKNOWNS];

/// A board that rests at the two ends of its span; moduli in N/mm², as they are after years.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plate {
    /// The free span, in millimetres.
    pub span: f64,
    /// From front to back without lips, in millimetres.
    pub depth: f64,
    /// The thickness, in millimetres.
    pub thick: f64,
    /// Modulus of elasticity along the span.
    pub along: f64,
    /// Modulus of elasticity from front to back.
    pub across: f64,
    /// Modulus of rigidity in the plane of the board.
    pub shear: f64,
    /// The strain across for a stress along.
    pub poisson: f64,
}

/// A strip of wood along one edge, glued on with its top flush.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lip {
    /// From front to back, in millimetres.
    pub width: f64,
    /// From top to bottom, in millimetres.
    pub height: f64,
    /// Modulus of elasticity along the grain, in N/mm².
    pub along: f64,
    /// Modulus of rigidity, in N/mm².
    pub shear: f64,
}

/// How far a shelf sags in the middle of its span, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sags {
    /// At its front edge.
    pub front: f64,
    /// At its back edge.
    pub back: f64,
    /// Where it sags most from front to back.
    pub most: f64,
}

/// The sag of a board with a lip at its front, its back, both or neither.
///
/// `load` is the whole load in newtons: spread evenly over board and lips, or, where `spread` is false, on a line from
/// front to back in the middle of the span. `None` where a number is not above zero and finite.
///
/// # Source
/// The energy of an orthotropic plate in bending and in its plane, as in common textbooks of the theory of plates, with
/// beams along its edges, made least over a few terms (Ritz's method). `tests/reckoning/shelf_plate.py` does the same
/// with many terms of another kind, and the figures agree within 1 %.
pub fn sags(plate: Plate, front: Option<Lip>, back: Option<Lip>, load: f64, spread: bool) -> Option<Sags> {
    let lips = [(front, 1.0), (back, -1.0)];
    let lips: Vec<(Lip, f64)> = lips.into_iter().filter_map(|(lip, side)| Some((lip?, side))).collect();
    let mut numbers =
        vec![plate.span, plate.depth, plate.thick, plate.along, plate.across, plate.shear, load];
    numbers.extend(lips.iter().flat_map(|(lip, _)| [lip.width, lip.height, lip.along, lip.shear]));
    if !numbers.iter().all(|number| number.is_finite() && *number > 0.0) {
        return None;
    }
    let whole_depth = plate.depth + lips.iter().map(|(lip, _)| lip.width).sum::<f64>();
    let mut places = [0.0; 5];
    for wave in HALF_WAVES {
        let half_wave = f64::from(wave) * PI;
        let (stiffness, pressed) = system(plate, &lips, half_wave / plate.span);
        // The half wave's share in the load for each millimetre from front to back.
        let share = match spread {
            true => 4.0 / half_wave * load / (plate.span * whole_depth),
            false => 2.0 / plate.span * (half_wave / 2.0).sin() * load / whole_depth,
        };
        let solved = solve(stiffness, pressed.map(|pressed| pressed * share))?;
        for (place, sag) in places.iter_mut().enumerate() {
            *sag += apply(&sag_at(place as f64 / 4.0), &solved) * (half_wave / 2.0).sin();
        }
    }
    let sags = Sags { front: places[4], back: places[0], most: places.into_iter().fold(f64::MIN, f64::max) };
    (sags.most.is_finite() && sags.most > 0.0).then_some(sags)
}

/// The stiffness of the unknowns of one half wave, and what a load of one on each millimetre from front to back does to
/// each of them. `k` is the half wave in radians a millimetre.
fn system(plate: Plate, lips: &[(Lip, f64)], k: f64) -> (Matrix, Form) {
    let mut stiffness = [[0.0; UNKNOWNS]; UNKNOWNS];
    let mut pressed = [0.0; UNKNOWNS];
    let Plate { depth, thick, along, across, shear, poisson, .. } = plate;
    // Poisson's number the other way round is as much smaller as the board is softer across.
    let bent = thick * thick * thick / 12.0 / (1.0 - poisson * poisson * across / along);
    let twisted = thick * thick * thick / 12.0 * shear;
    for (place, weight) in GAUSS {
        let weight = weight * depth;
        let (sag, bow) = (sag_at(place), scaled(curve_at(place), 1.0 / (depth * depth)));
        let bend = scaled(sag, -k * k);
        add(&mut stiffness, along * bent * weight, &bend, &bend);
        add(&mut stiffness, across * bent * weight, &bow, &bow);
        add(&mut stiffness, poisson * across * bent * weight, &bend, &bow);
        add(&mut stiffness, poisson * across * bent * weight, &bow, &bend);
        let twist = scaled(slope_at(place), k / depth);
        add(&mut stiffness, 4.0 * twisted * weight, &twist, &twist);
        let stretch = scaled(stretch_at(place), k);
        add(&mut stiffness, along * thick * weight, &stretch, &stretch);
        let skew = plus(scaled(stretch_slope_at(place), 1.0 / depth), scaled(sideways(), k));
        add(&mut stiffness, shear * thick * weight, &skew, &skew);
        pressed = plus(pressed, scaled(sag, weight));
    }
    for (Lip { width, height, along, shear }, side) in lips.iter().copied() {
        let edge = if side > 0.0 { 1.0 } else { 0.0 };
        // The lip's own middle lies half its width beyond the edge and so far below the middle of the board.
        let below = (height - thick) / 2.0;
        let turn = scaled(slope_at(edge), 1.0 / depth);
        let sag = plus(sag_at(edge), scaled(turn, side * width / 2.0));
        let aside = plus(sideways(), scaled(turn, -below));
        let stretch =
            plus(stretch_at(edge), plus(scaled(aside, -side * width / 2.0 * k), scaled(sag, -below * k)));
        let (area, k2) = (width * height, k * k);
        add(&mut stiffness, along * area * k2, &stretch, &stretch);
        add(&mut stiffness, along * area * height * height / 12.0 * k2 * k2, &sag, &sag);
        add(&mut stiffness, along * area * width * width / 12.0 * k2 * k2, &aside, &aside);
        add(&mut stiffness, shear * torsion(width, height) * k2, &turn, &turn);
        pressed = plus(pressed, scaled(sag, width));
    }
    (stiffness, pressed)
}

/// The torsion constant of a rectangle.
///
/// # Source
/// The usual approximation of textbooks of the strength of materials, within half a percent.
fn torsion(width: f64, height: f64) -> f64 {
    let (narrow, wide) = (width.min(height), width.max(height));
    let slim = narrow / wide;
    wide * narrow.powi(3) * (1.0 / 3.0 - 0.21 * slim * (1.0 - slim.powi(4) / 12.0))
}

/// Places from back to front and their weights: Gauss's quadrature, sure up to the seventh power.
const GAUSS: [(f64, f64); 4] = [
    (0.069_431_844_202_973_71, 0.173_927_422_568_726_93),
    (0.330_009_478_207_571_87, 0.326_072_577_431_273_07),
    (0.669_990_521_792_428_1, 0.326_072_577_431_273_07),
    (0.930_568_155_797_026_3, 0.173_927_422_568_726_93),
];

/// The sag at a place from back, 0, to front, 1.
fn sag_at(place: f64) -> Form {
    powers(0, [1.0, place, place * place, place * place * place])
}

fn slope_at(place: f64) -> Form {
    powers(0, [0.0, 1.0, 2.0 * place, 3.0 * place * place])
}

fn curve_at(place: f64) -> Form {
    powers(0, [0.0, 0.0, 2.0, 6.0 * place])
}

/// The movement along the span at a place, which stretches the board by so much.
fn stretch_at(place: f64) -> Form {
    powers(ACROSS, [1.0, place, place * place, place * place * place])
}

fn stretch_slope_at(place: f64) -> Form {
    powers(ACROSS, [0.0, 1.0, 2.0 * place, 3.0 * place * place])
}

fn sideways() -> Form {
    let mut form = [0.0; UNKNOWNS];
    form[SIDEWAYS] = 1.0;
    form
}

fn powers(from: usize, values: [f64; ACROSS]) -> Form {
    let mut form = [0.0; UNKNOWNS];
    form[from..from + ACROSS].copy_from_slice(&values);
    form
}

fn scaled(form: Form, by: f64) -> Form {
    form.map(|value| value * by)
}

fn plus(one: Form, other: Form) -> Form {
    std::array::from_fn(|at| one[at] + other[at])
}

fn apply(form: &Form, to: &Form) -> f64 {
    form.iter().zip(to).map(|(factor, value)| factor * value).sum()
}

/// Adds the product of two forms, weighed, to a matrix.
fn add(matrix: &mut Matrix, weight: f64, one: &Form, other: &Form) {
    for (row, of_one) in matrix.iter_mut().zip(one).filter(|(_, of_one)| **of_one != 0.0) {
        for (cell, of_other) in row.iter_mut().zip(other) {
            *cell += weight * of_one * of_other;
        }
    }
}

/// Solves the linear equations by Gauss's elimination with the largest pivot; `None` where they have no one solution.
fn solve(mut matrix: Matrix, mut right: Form) -> Option<Form> {
    for at in 0..UNKNOWNS {
        let pivot = (at..UNKNOWNS)
            .max_by(|one, other| matrix[*one][at].abs().total_cmp(&matrix[*other][at].abs()))?;
        matrix.swap(at, pivot);
        right.swap(at, pivot);
        if matrix[at][at] == 0.0 || !matrix[at][at].is_finite() {
            return None;
        }
        for below in at + 1..UNKNOWNS {
            let factor = matrix[below][at] / matrix[at][at];
            let above = matrix[at];
            matrix[below] = plus(matrix[below], scaled(above, -factor));
            right[below] -= factor * right[at];
        }
    }
    let mut solved = [0.0; UNKNOWNS];
    for at in (0..UNKNOWNS).rev() {
        let known: f64 = (at + 1..UNKNOWNS).map(|next| matrix[at][next] * solved[next]).sum();
        solved[at] = (right[at] - known) / matrix[at][at];
    }
    Some(solved)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const CHIPBOARD: Plate = Plate {
        span: 800.0,
        depth: 250.0,
        thick: 18.0,
        along: 1600.0,
        across: 1600.0,
        shear: 640.0,
        poisson: 0.25,
    };
    const OAK: Lip = Lip { width: 20.0, height: 40.0, along: 12_300.0, shear: 738.0 };

    #[test]
    fn another_program_s_answers() {
        // tests/reckoning/shelf_plate.py prints them; see there for the method and how to run it.
        let answers: toml::Table =
            include_str!("../../../tests/reckoning/shelf_plate.toml").parse().expect("it is TOML");
        let cases = answers["plate"].as_array().expect("answers");
        assert!(cases.len() >= 10);
        for case in cases {
            let number = |key: &str| case[key].as_float().expect("a number");
            let list = |value: &toml::Value| -> Vec<f64> {
                value
                    .as_array()
                    .expect("a list")
                    .iter()
                    .map(|each| each.as_float().expect("a number"))
                    .collect()
            };
            let board = list(&case["board"]);
            let plate = Plate {
                span: number("span"),
                depth: number("depth"),
                thick: number("thick"),
                along: board[0],
                across: board[1],
                shear: board[2],
                poisson: board[3],
            };
            let lip = |key: &str| {
                let strip = list(case.get(key)?);
                Some(Lip { width: strip[0], height: strip[1], along: strip[2], shear: strip[3] })
            };
            let spread = case["spread"].as_bool().expect("yes or no");
            let found =
                sags(plate, lip("front"), lip("back"), number("load"), spread).expect("sound numbers");
            for (key, sag) in [("sag-front", found.front), ("sag-back", found.back), ("sag-most", found.most)]
            {
                assert!((sag - number(key)).abs() < 0.01 * number(key), "{}: {key} is {sag}", case["id"]);
            }
        }
    }

    #[test]
    fn without_a_lip_a_board_that_does_not_bow_is_a_beam() {
        let plate = Plate { poisson: 0.0, ..CHIPBOARD };
        // 5/384 x 240 N x 800³ / (1600 x 250 x 18³ / 12), and a 48th of it for a load in the middle.
        let beam = 240.0 * 800.0_f64.powi(3) / (1600.0 * 250.0 * 18.0_f64.powi(3) / 12.0);
        for (spread, factor) in [(true, 5.0 / 384.0), (false, 1.0 / 48.0)] {
            let found = sags(plate, None, None, 240.0, spread).expect("sound numbers");
            assert!((found.most - factor * beam).abs() < 0.0005 * factor * beam, "{found:?}");
            assert!((found.front - found.back).abs() < 1e-9 * found.most);
        }
    }

    #[test]
    fn the_edge_without_a_lip_sags_more_than_the_whole_section_would() {
        let found = sags(CHIPBOARD, Some(OAK), None, 267.2, true).expect("sound numbers");
        // As one beam, board and lip together would sag 0.89 mm.
        assert!(found.back > 2.5 && found.front < 1.1 && found.most == found.back, "{found:?}");
        let turned = sags(CHIPBOARD, None, Some(OAK), 267.2, true).expect("sound numbers");
        assert!((turned.front - found.back).abs() < 1e-6 && (turned.back - found.front).abs() < 1e-6);
        let both = sags(CHIPBOARD, Some(OAK), Some(OAK), 267.2, true).expect("sound numbers");
        assert!(both.most < found.most / 2.0, "{both:?}");
    }

    #[test]
    fn numbers_that_lead_nowhere_have_no_answer() {
        assert_eq!(sags(CHIPBOARD, None, None, f64::NAN, true), None);
        assert_eq!(sags(Plate { span: 0.0, ..CHIPBOARD }, None, None, 1.0, true), None);
        assert_eq!(sags(CHIPBOARD, Some(Lip { along: f64::INFINITY, ..OAK }), None, 1.0, true), None);
    }

    proptest! {
        #[test]
        fn a_lip_never_lets_an_edge_sag_further(
            span in 300.0..2000.0_f64, depth in 80.0..500.0_f64, thick in 10.0..40.0_f64,
            along in 1000.0..16000.0_f64, width in 5.0..40.0_f64, deeper in 1.0..50.0_f64
        ) {
            let plate =
                Plate { span, depth, thick, along, across: along / 20.0, shear: along / 16.0, poisson: 0.0 };
            let lip = Lip { width, height: thick + deeper, along, shear: along / 16.0 };
            let bare = sags(plate, None, None, 100.0, true).expect("sound numbers");
            let lipped = sags(plate, Some(lip), None, 100.0, true).expect("sound numbers");
            let twice = sags(plate, Some(lip), None, 200.0, true).expect("sound numbers");
            prop_assert!(lipped.front < bare.front * 1.0001, "{lipped:?} {bare:?}");
            prop_assert!((twice.most - 2.0 * lipped.most).abs() < 1e-6 * twice.most);
        }
    }
}
