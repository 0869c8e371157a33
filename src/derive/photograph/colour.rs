//! Colours as numbers: from linear sRGB light to CIELAB, the scaling by a grey card, and CIEDE2000.
//!
//! Everything is for D65 and the 2° observer. Powers and angles come from `libm`, so that the last digit is the same on
//! every machine.

use std::f64::consts::PI;

/// XYZ from linear sRGB light, by row: from the primaries and the white point of IEC 61966-2-1 themselves.
///
/// The standard's own matrix has four decimals, and white would get an a* of 0.008 with it. A test derives these.
const XYZ_FROM_SRGB: Matrix = [
    [0.412_390_799_265_959_34, 0.357_584_339_383_877_96, 0.180_480_788_401_834_3],
    [0.212_639_005_871_510_3, 0.715_168_678_767_755_9, 0.072_192_315_360_733_71],
    [0.019_330_818_715_591_82, 0.119_194_779_794_625_95, 0.950_532_152_249_660_6],
];

/// The responses of the eye's cones to XYZ, by row: Bradford (ICC.1, annex E; as in colour-science 0.4.7).
const CONES_FROM_XYZ: Matrix =
    [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]];

/// Three numbers of one colour: red, green and blue; X, Y and Z; or the three cones.
pub type Triple = [f64; 3];

type Matrix = [Triple; 3];

/// A colour in CIELAB (ISO/CIE 11664-4), under D65.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lab {
    /// Lightness: 0 is black, 100 the white of the picture.
    pub l: f64,
    /// Red above 0, green below.
    pub a: f64,
    /// Yellow above 0, blue below.
    pub b: f64,
}

impl Lab {
    /// How far it is from grey.
    pub fn chroma(self) -> f64 {
        libm::hypot(self.a, self.b)
    }
}

fn times(matrix: &Matrix, triple: Triple) -> Triple {
    matrix.map(|row| row[0] * triple[0] + row[1] * triple[1] + row[2] * triple[2])
}

fn inverse(m: &Matrix) -> Matrix {
    let minor = |row: usize, column: usize| {
        let (r, s) = ((row + 1) % 3, (row + 2) % 3);
        let (c, d) = ((column + 1) % 3, (column + 2) % 3);
        m[r][c] * m[s][d] - m[r][d] * m[s][c]
    };
    let determinant: f64 = (0..3).map(|column| m[0][column] * minor(0, column)).sum();
    std::array::from_fn(|row| std::array::from_fn(|column| minor(column, row) / determinant))
}

/// The white that CIELAB is reckoned from: full red, green and blue, which is D65 at a luminance of 1.
fn white() -> Triple {
    times(&XYZ_FROM_SRGB, [1.0; 3])
}

/// XYZ of linear sRGB light; 1 is full.
pub fn xyz(light: Triple) -> Triple {
    times(&XYZ_FROM_SRGB, light)
}

/// CIELAB of XYZ.
///
/// # Source
/// ISO/CIE 11664-4, with the exact constants 216/24389 and 24389/27.
pub fn lab(xyz: Triple) -> Lab {
    let white = white();
    let f = |place: usize| {
        let share = xyz[place] / white[place];
        if share > 216.0 / 24_389.0 { libm::cbrt(share) } else { (24_389.0 / 27.0 * share + 16.0) / 116.0 }
    };
    let (x, y, z) = (f(0), f(1), f(2));
    Lab { l: 116.0 * y - 16.0, a: 500.0 * (x - y), b: 200.0 * (y - z) }
}

/// XYZ of a colour in CIELAB, which [`lab`] makes the same colour of.
pub fn xyz_of(colour: Lab) -> Triple {
    let y = (colour.l + 16.0) / 116.0;
    let share = |f: f64| {
        let cubed = f * f * f;
        if cubed > 216.0 / 24_389.0 { cubed } else { (116.0 * f - 16.0) * 27.0 / 24_389.0 }
    };
    let shares = [y + colour.a / 500.0, y, y - colour.b / 200.0].map(share);
    let white = white();
    std::array::from_fn(|place| shares[place] * white[place])
}

/// sRGB of 8 bits from XYZ; what no screen of that space can show is cut to its nearest channel.
pub fn srgb(xyz: Triple) -> [u8; 3] {
    let encode = |light: f64| {
        let light = light.clamp(0.0, 1.0);
        if light <= 0.003_130_8 { 12.92 * light } else { 1.055 * libm::pow(light, 1.0 / 2.4) - 0.055 }
    };
    times(&inverse(&XYZ_FROM_SRGB), xyz).map(|light| (encode(light) * 255.0).round() as u8)
}

/// What makes a grey card neutral: a factor for each kind of cone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Neutral {
    factors: Triple,
}

impl Neutral {
    /// The scaling that makes a card of this linear sRGB light neutral, after von Kries.
    ///
    /// It is done on the responses of the cones and not on the channels of the camera, whose colours lie elsewhere.
    /// With a `reflectance`, 0 to 1, the card also gets that luminance, which sets the scale of lightness for the
    /// whole picture; without, it keeps the luminance it was exposed with.
    ///
    /// `None` for a card so dark that a cone sees nothing of it.
    pub fn of(card: Triple, reflectance: Option<f64>) -> Option<Neutral> {
        let card = xyz(card);
        let luminance = reflectance.unwrap_or(card[1]);
        let seen = times(&CONES_FROM_XYZ, card);
        let wanted = times(&CONES_FROM_XYZ, white().map(|part| part * luminance));
        let factors: Triple = std::array::from_fn(|cone| wanted[cone] / seen[cone]);
        let sound = seen.iter().all(|&cone| cone > 1e-6) && luminance > 0.0;
        sound.then_some(Neutral { factors })
    }

    /// XYZ as it would be in light under which the card is neutral.
    pub fn apply(&self, xyz: Triple) -> Triple {
        let seen = times(&CONES_FROM_XYZ, xyz);
        times(&inverse(&CONES_FROM_XYZ), std::array::from_fn(|cone| seen[cone] * self.factors[cone]))
    }
}

/// The CIEDE2000 difference of two colours, with all three weights 1; 0 for equal ones.
///
/// # Source
/// Sharma, Wu and Dalal, The CIEDE2000 Color-Difference Formula, Color Research and Application 30 (2005),
/// equations 2 to 22.
pub fn difference(one: Lab, other: Lab) -> f64 {
    let mean_chroma = (one.chroma() + other.chroma()) / 2.0;
    let seventh =
        |chroma: f64| libm::sqrt(libm::pow(chroma, 7.0) / (libm::pow(chroma, 7.0) + libm::pow(25.0, 7.0)));
    let g = 0.5 * (1.0 - seventh(mean_chroma));
    let [one, other] = [one, other].map(|colour| Lab { a: (1.0 + g) * colour.a, ..colour });
    let (c1, c2) = (one.chroma(), other.chroma());
    let (h1, h2) = (hue(one), hue(other));
    let grey = c1 * c2 == 0.0;

    let turn = match h2 - h1 {
        _ if grey => 0.0,
        turn if turn > 180.0 => turn - 360.0,
        turn if turn < -180.0 => turn + 360.0,
        turn => turn,
    };
    let mean_hue = match h1 + h2 {
        sum if grey => sum,
        sum if (h1 - h2).abs() <= 180.0 => sum / 2.0,
        sum if sum < 360.0 => (sum + 360.0) / 2.0,
        sum => (sum - 360.0) / 2.0,
    };
    let (dl, dc) = (other.l - one.l, c2 - c1);
    let dh = 2.0 * libm::sqrt(c1 * c2) * sine(turn / 2.0);
    let (l, c) = ((one.l + other.l) / 2.0, (c1 + c2) / 2.0);

    let t = 1.0 - 0.17 * cosine(mean_hue - 30.0)
        + 0.24 * cosine(2.0 * mean_hue)
        + 0.32 * cosine(3.0 * mean_hue + 6.0)
        - 0.20 * cosine(4.0 * mean_hue - 63.0);
    let bend = 30.0 * libm::exp(-libm::pow((mean_hue - 275.0) / 25.0, 2.0));
    let off_middle = (l - 50.0) * (l - 50.0);
    let sl = 1.0 + 0.015 * off_middle / libm::sqrt(20.0 + off_middle);
    let (sc, sh) = (1.0 + 0.045 * c, 1.0 + 0.015 * c * t);
    let turned = -sine(2.0 * bend) * 2.0 * seventh(c);
    let (dl, dc, dh) = (dl / sl, dc / sc, dh / sh);
    // Rounding may take a difference of nothing below nothing.
    libm::sqrt((dl * dl + dc * dc + dh * dh + turned * dc * dh).max(0.0))
}

/// The angle of a colour's hue in degrees, 0 to 360; 0 for grey.
fn hue(colour: Lab) -> f64 {
    if colour.a == 0.0 && colour.b == 0.0 {
        return 0.0;
    }
    let degrees = libm::atan2(colour.b, colour.a) * 180.0 / PI;
    if degrees < 0.0 { degrees + 360.0 } else { degrees }
}

fn sine(degrees: f64) -> f64 {
    libm::sin(degrees * PI / 180.0)
}

fn cosine(degrees: f64) -> f64 {
    libm::cos(degrees * PI / 180.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Computed by colour-science 0.4.7: `tests/data/colour_check.py` made it.
    fn checks(kind: &str) -> Vec<toml::Table> {
        let table: toml::Table =
            include_str!("../../../tests/data/colour_check.toml").parse().expect("it is TOML");
        let rows = table[kind].as_array().expect("a list of rows").clone();
        rows.into_iter().map(|row| row.as_table().expect("a row").clone()).collect()
    }

    fn triple(row: &toml::Table, key: &str) -> Triple {
        let number = |value: &toml::Value| value.as_float().or(value.as_integer().map(|whole| whole as f64));
        let numbers: Vec<f64> =
            row[key].as_array().expect("three numbers").iter().filter_map(number).collect();
        numbers.try_into().expect("three numbers")
    }

    fn colour([l, a, b]: Triple) -> Lab {
        Lab { l, a, b }
    }

    /// The greatest deviation of any of the three numbers.
    fn off(one: Lab, other: Lab) -> f64 {
        (one.l - other.l).abs().max((one.a - other.a).abs()).max((one.b - other.b).abs())
    }

    /// Linear light of sRGB of 8 bits, apart from the photograph floor's own.
    fn decoded(value: f64) -> f64 {
        let value = value / 255.0;
        if value <= 0.04045 { value / 12.92 } else { libm::pow((value + 0.055) / 1.055, 2.4) }
    }

    #[test]
    fn the_matrix_follows_from_the_primaries_and_the_white_point() {
        // x and y of red, green, blue and white: IEC 61966-2-1, table 1.
        let column = |x: f64, y: f64| [x / y, 1.0, (1.0 - x - y) / y];
        let primaries = [column(0.64, 0.33), column(0.30, 0.60), column(0.15, 0.06)];
        let across: Matrix = std::array::from_fn(|row| std::array::from_fn(|place| primaries[place][row]));
        let shares = times(&inverse(&across), column(0.3127, 0.3290));
        for row in 0..3 {
            for place in 0..3 {
                let derived = across[row][place] * shares[place];
                assert!((derived - XYZ_FROM_SRGB[row][place]).abs() < 1e-15, "{row} {place}: {derived}");
            }
        }
    }

    #[test]
    fn a_colour_comes_back_from_its_numbers() {
        for wanted in
            [[50.0, 12.0, 25.0], [3.0, 0.5, -1.0], [0.0, 0.0, 0.0], [100.0, 0.0, 0.0], [8.1, -4.0, 2.0]]
        {
            let wanted = colour(wanted);
            assert!(off(lab(xyz_of(wanted)), wanted) < 1e-9, "{wanted:?}");
        }
        assert_eq!(srgb(xyz_of(Lab { l: 100.0, a: 0.0, b: 0.0 })), [255; 3]);
    }

    #[test]
    fn the_standards_own_matrix_differs_by_rounding_alone() {
        // IEC 61966-2-1, equation 7, as in tests of the trade's libraries.
        let printed = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]];
        for (own, printed) in XYZ_FROM_SRGB.iter().flatten().zip(printed.iter().flatten()) {
            assert!((own - printed).abs() < 5.1e-5, "{own} {printed}");
        }
    }

    #[test]
    fn the_pairs_of_the_published_table() {
        let rows = include_str!("../../../tests/data/ciede2000.csv").lines().skip(2);
        let (mut pairs, mut worst) = (0, 0.0_f64);
        for row in rows {
            let numbers: Vec<f64> = row.split(',').map(|number| number.parse().expect("a number")).collect();
            let [l1, a1, b1, l2, a2, b2, is] = numbers[..] else { panic!("{row}") };
            let (one, other) = (colour([l1, a1, b1]), colour([l2, a2, b2]));
            for found in [difference(one, other), difference(other, one)] {
                assert!((found - is).abs() < 1e-4, "{row}: {found}");
                worst = worst.max((found - is).abs());
            }
            pairs += 1;
        }
        assert_eq!(pairs, 34);
        // Half of the last printed digit: nothing but the table's rounding is left.
        assert!(worst <= 5.1e-5, "{worst}");
    }

    #[test]
    fn differences_as_another_library_has_them() {
        let rows = checks("difference");
        assert_eq!(rows.len(), 400);
        for row in rows {
            let (one, other) = (colour(triple(&row, "one")), colour(triple(&row, "other")));
            let is = row["is"].as_float().expect("a number");
            assert!((difference(one, other) - is).abs() < 2e-9, "{row}: {}", difference(one, other));
        }
    }

    #[test]
    fn colours_as_another_library_has_them() {
        let rows = checks("lab");
        assert!(rows.len() > 100);
        for row in rows {
            let found = lab(xyz(triple(&row, "rgb").map(decoded)));
            assert!(off(found, colour(triple(&row, "lab"))) < 1e-8, "{row}: {found:?}");
        }
    }

    #[test]
    fn a_chart_comes_out_within_the_rounding_of_its_samples() {
        let rows = checks("chart");
        assert!(rows.len() >= 20);
        for row in rows {
            let found = lab(xyz(triple(&row, "rgb").map(decoded)));
            assert!(difference(found, colour(triple(&row, "lab"))) < 0.5, "{row}: {found:?}");
        }
    }

    #[test]
    fn a_grey_card_scales_as_another_library_does() {
        let rows = checks("neutral");
        assert_eq!(rows.len(), 60);
        for row in rows {
            let reflectance = row["reflectance"].as_float().expect("a number") / 100.0;
            let neutral = Neutral::of(triple(&row, "grey"), Some(reflectance)).expect("no dark card");
            let found = lab(neutral.apply(xyz(triple(&row, "light"))));
            assert!(off(found, colour(triple(&row, "lab"))) < 2e-6, "{row}: {found:?}");
        }
    }

    #[test]
    fn white_and_grey_have_no_colour_and_eighteen_percent_is_half_light() {
        let grey = lab(xyz([0.18; 3]));
        assert!(grey.chroma() < 1e-10 && (grey.l - 49.496).abs() < 1e-3, "{grey:?}");
        assert!(off(lab(white()), colour([100.0, 0.0, 0.0])) < 1e-10);
    }

    #[test]
    fn a_black_card_makes_nothing_neutral() {
        assert_eq!(Neutral::of([0.0; 3], Some(0.18)), None);
        assert_eq!(Neutral::of([0.0; 3], None), None);
    }

    proptest! {
        #[test]
        fn equal_colours_differ_by_nothing_and_order_does_not_matter(
            one in prop::array::uniform3(-100.0_f64..100.0), other in prop::array::uniform3(-100.0_f64..100.0)
        ) {
            let (one, other) = (colour(one), colour(other));
            prop_assert_eq!(difference(one, one), 0.0);
            let (there, back) = (difference(one, other), difference(other, one));
            prop_assert!(there.is_finite() && (there - back).abs() < 1e-9);
        }

        #[test]
        fn a_card_becomes_neutral_and_gets_its_reflectance(
            card in prop::array::uniform3(0.02_f64..0.9), reflectance in 0.03_f64..0.95
        ) {
            let neutral = Neutral::of(card, Some(reflectance)).unwrap();
            let seen = neutral.apply(xyz(card));
            prop_assert!(lab(seen).chroma() < 1e-7);
            prop_assert!((seen[1] - reflectance).abs() < 1e-9);
            let kept = Neutral::of(card, None).unwrap();
            prop_assert!((kept.apply(xyz(card))[1] - xyz(card)[1]).abs() < 1e-9);
        }

        #[test]
        fn samples_come_back(samples in prop::array::uniform3(any::<u8>())) {
            prop_assert_eq!(srgb(xyz(samples.map(|sample| decoded(f64::from(sample))))), samples);
        }
    }
}
