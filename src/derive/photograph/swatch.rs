//! Colour matches: what the patches of a photograph measure, how far apart they are, and by what recipe.

use super::colour::{Lab, Neutral, Triple, difference, lab, xyz};
use crate::derive::finish::surface::SurfaceFacts;
use crate::fields::Row;
use crate::photo::{Checked, Patch};
use crate::record::{Record, Step, Surface, Swatch};
use crate::trade::Layer;
use crate::unit::Rectangle;

/// One of the patches that a swatch names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Which {
    /// The grey card.
    Grey,
    /// The colour aimed at.
    Target,
    /// The colour reached.
    Result,
}

impl Which {
    /// Its rectangle, where the swatch has one.
    pub fn of(self, swatch: &Swatch) -> Option<&crate::fields::Said<Rectangle>> {
        match self {
            Which::Grey => swatch.grey.as_ref(),
            Which::Target => Some(&swatch.target),
            Which::Result => Some(&swatch.result),
        }
    }

    /// Its key in the record.
    pub fn word(self) -> &'static str {
        match self {
            Which::Grey => "grey",
            Which::Target => "target",
            Which::Result => "result",
        }
    }

    /// All of them, in the order of a swatch.
    pub const ALL: [Which; 3] = [Which::Grey, Which::Target, Which::Result];
}

/// Why a swatch could not be measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unmeasured {
    /// Its photograph is not there, or could not be opened.
    NoPhotograph,
    /// A patch covers next to no pixels.
    TooSmall(Which),
    /// The grey card is black, so that nothing can be scaled by it.
    BlackCard,
}

/// A patch as measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// Which of the swatch's.
    pub which: Which,
    /// Its colour as the camera saw it.
    pub seen: Lab,
    /// Its XYZ with the grey card made neutral; as seen where there is no card.
    pub xyz: Triple,
    /// The same in CIELAB.
    pub lab: Lab,
    /// The shorter side in pixels.
    pub side: u32,
    /// The share of its pixels, 0 to 1, at the end of their range.
    pub clipped: f64,
    /// How far lightness changes between the rows, or the columns, of its blocks, in L* as seen.
    pub slope: f64,
}

/// A target and a result that were measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Match {
    /// The colour aimed at.
    pub target: Measured,
    /// The colour reached.
    pub result: Measured,
    /// The grey card.
    pub grey: Option<Measured>,
    /// The card's reflectance, 0 to 1, where it is stated.
    pub reflectance: Option<f64>,
    /// CIEDE2000 between target and result.
    pub difference: f64,
    /// How far the difference may be off: the noise and the light together.
    pub uncertainty: f64,
    /// Twice the standard error of the difference, from how the blocks of the patches differ.
    pub from_noise: f64,
    /// How far it goes where one patch has a little more light than the other.
    pub from_light: f64,
}

/// How much more light one patch may have than another in one picture, as a fraction, even where nobody sees it.
///
/// Source: our own choice; light from a window or from lamps at the bench seldom lies more evenly over a picture.
pub const UNEVEN_LIGHT: f64 = 0.05;

impl Match {
    /// Every patch that was measured, in the order of a swatch.
    pub fn patches(&self) -> impl Iterator<Item = &Measured> {
        self.grey.iter().chain([&self.target, &self.result])
    }
}

/// What follows from one swatch.
#[derive(Debug, Clone, PartialEq)]
pub struct SwatchFacts {
    /// The swatch.
    pub swatch: Row<Swatch>,
    /// The surface it is for; the first that has one of its parts where it names none.
    pub surface: Option<Row<Surface>>,
    /// The steps of that surface whose layers lie on it today and colour it.
    pub recipe: Vec<Row<Step>>,
    /// The steps that laid what lies over them.
    pub over: Vec<Row<Step>>,
    /// The match itself.
    pub colours: Result<Match, Unmeasured>,
}

/// The rectangles that a record's swatches name on one photograph, each once.
pub fn rectangles(record: &Record, file: &str) -> Vec<Rectangle> {
    let mut named: Vec<Rectangle> = Vec::new();
    for swatch in record.swatches.iter().filter(|swatch| **swatch.photo == *file) {
        for rectangle in Which::ALL.into_iter().filter_map(|which| which.of(swatch)) {
            if !named.contains(&rectangle.value) {
                named.push(rectangle.value);
            }
        }
    }
    named
}

/// What follows from a record's swatches, in its order; `checked` gives what was learnt of a photograph, by its file.
pub(in crate::derive) fn swatches<'c>(
    record: &Record,
    surfaces: &[SurfaceFacts],
    checked: impl Fn(&str) -> Option<&'c Checked>,
) -> Vec<SwatchFacts> {
    let facts = |swatch: &Row<Swatch>| {
        let surface = surface(swatch, surfaces);
        let (recipe, over) = surface.map_or_else(Default::default, steps);
        SwatchFacts {
            swatch: swatch.clone(),
            surface: surface.map(|facts| facts.surface.clone()),
            recipe,
            over,
            colours: colours(swatch, checked(&swatch.photo)),
        }
    };
    record.swatches.iter().map(facts).collect()
}

/// The surface that a swatch is for.
fn surface<'f>(swatch: &Swatch, surfaces: &'f [SurfaceFacts]) -> Option<&'f SurfaceFacts> {
    let has_its_part = |facts: &&SurfaceFacts| {
        facts.surface.parts.iter().any(|part| swatch.part.iter().any(|named| named.value == part.value))
    };
    match &swatch.surface {
        Some(count) => surfaces.iter().find(|facts| facts.number == count.0 as usize),
        None => surfaces.iter().find(has_its_part),
    }
}

/// The steps that colour a surface today, and those that lie over the last of them.
///
/// What was mixed colours by intention, and so does what sinks in or is laid as a colour; a clear coat that lies below
/// a colour is part of its recipe too.
fn steps(surface: &SurfaceFacts) -> (Vec<Row<Step>>, Vec<Row<Step>>) {
    let colours = |step: &Step, layer: Option<Layer>| {
        !step.mix.is_empty() || matches!(layer, Some(Layer::InWood | Layer::Colour))
    };
    let layers = surface.today.layers.iter().map(|layer| &layer.coat);
    let laid: Vec<(&Row<Step>, bool)> =
        layers.filter_map(|coat| coat.step.as_ref().map(|step| (step, colours(step, coat.layer)))).collect();
    let below = laid.iter().rposition(|(_, colours)| *colours).map_or(0, |last| last + 1);
    let of = |laid: &[(&Row<Step>, bool)]| laid.iter().map(|(step, _)| (*step).clone()).collect();
    (of(&laid[..below]), of(&laid[below..]))
}

fn colours(swatch: &Swatch, checked: Option<&Checked>) -> Result<Match, Unmeasured> {
    let checked = checked.ok_or(Unmeasured::NoPhotograph)?;
    let patch = |which: Which| -> Result<Option<&Patch>, Unmeasured> {
        let Some(rectangle) = which.of(swatch) else { return Ok(None) };
        let measured = checked.patches.iter().find(|(measured, _)| *measured == rectangle.value);
        let (_, patch) = measured.ok_or(Unmeasured::NoPhotograph)?;
        patch.as_ref().map(Some).ok_or(Unmeasured::TooSmall(which))
    };
    let reflectance = swatch.grey_reflectance.as_ref().map(|percent| percent.0 / 100.0);
    let grey = patch(Which::Grey)?;
    let target = patch(Which::Target)?.expect("a swatch without a target is not read");
    let result = patch(Which::Result)?.expect("a swatch without a result is not read");
    matched(grey, reflectance, target, result).ok_or(Unmeasured::BlackCard)
}

/// Compares two patches of one photograph, corrected by a third; `None` where the card is black.
///
/// `reflectance`, 0 to 1, is that of the grey card.
pub fn matched(
    grey: Option<&Patch>,
    reflectance: Option<f64>,
    target: &Patch,
    result: &Patch,
) -> Option<Match> {
    let at = |grey: Option<Triple>, target: Triple, result: Triple| {
        let neutral = match grey {
            Some(card) => Some(Neutral::of(card, reflectance)?),
            None => None,
        };
        let seen = |light| neutral.map_or(xyz(light), |neutral| neutral.apply(xyz(light)));
        Some((neutral, difference(lab(seen(target)), lab(seen(result)))))
    };
    let means = (grey.map(Patch::mean), target.mean(), result.mean());
    let (neutral, whole) = at(means.0, means.1, means.2)?;

    let of = |at: Option<(Option<Neutral>, f64)>| at.map(|(_, difference)| difference);
    let without = |patch: &Patch, of: &dyn Fn(Triple) -> Option<f64>| {
        variance(&patch.means_without_one().into_iter().filter_map(of).collect::<Vec<f64>>())
    };
    let variance = without(target, &|target| of(at(means.0, target, means.2)))
        + without(result, &|result| of(at(means.0, means.1, result)))
        + grey.map_or(0.0, |grey| without(grey, &|grey| of(at(Some(grey), means.1, means.2))));

    // A grey card is one colour, so that what changes across it is light.
    let uneven = grey.map_or(UNEVEN_LIGHT, |grey| across(grey).max(UNEVEN_LIGHT));
    let lit = |more: f64| of(at(means.0, means.1, means.2.map(|light| light * (1.0 + more))));
    let off = |more: f64| lit(more).map_or(0.0, |difference| (difference - whole).abs());
    let from_noise = 2.0 * libm::sqrt(variance);
    let from_light = off(uneven).max(off(-uneven));

    let measured = |which: Which, patch: &Patch| {
        let seen = xyz(patch.mean());
        let corrected = neutral.map_or(seen, |neutral| neutral.apply(seen));
        Measured {
            which,
            seen: lab(seen),
            xyz: corrected,
            lab: lab(corrected),
            side: patch.width.min(patch.height),
            clipped: patch.clipped,
            slope: slope(patch),
        }
    };
    Some(Match {
        target: measured(Which::Target, target),
        result: measured(Which::Result, result),
        grey: grey.map(|grey| measured(Which::Grey, grey)),
        reflectance: reflectance.filter(|_| grey.is_some()),
        difference: whole,
        uncertainty: libm::hypot(from_noise, from_light),
        from_noise,
        from_light,
    })
}

/// The colour of one patch, corrected by a grey card where there is one, and how far it may be off in CIEDE2000: the noise
/// and the light together, as in [`Match`]. `None` where the card is black.
pub fn read_colour(grey: Option<&Patch>, reflectance: Option<f64>, patch: &Patch) -> Option<(Lab, f64)> {
    let neutral = match grey {
        Some(card) => Some(Neutral::of(card.mean(), reflectance)?),
        None => None,
    };
    let seen = |light: Triple| lab(neutral.map_or(xyz(light), |neutral| neutral.apply(xyz(light))));
    let whole = seen(patch.mean());
    let off: Vec<f64> =
        patch.means_without_one().into_iter().map(|light| difference(whole, seen(light))).collect();
    let count = off.len() as f64;
    // As far as the mean would stray by the blocks that it is made from.
    let noise = off.iter().map(|off| off * off).sum::<f64>() * (count - 1.0).max(0.0) / count.max(1.0);
    let uneven = grey.map_or(UNEVEN_LIGHT, |grey| across(grey).max(UNEVEN_LIGHT));
    let lit = |more: f64| difference(whole, seen(patch.mean().map(|light| light * (1.0 + more))));
    Some((whole, libm::hypot(2.0 * libm::sqrt(noise), lit(uneven).max(lit(-uneven)))))
}

/// The variance of a figure, from what it comes to with each block left out in turn.
///
/// This is the jackknife: it needs no model of how the channels hang together, and blocks of a quarter of the side are
/// wide enough to hold the grain that makes neighbouring pixels alike (Efron and Tibshirani, An Introduction to the
/// Bootstrap, chapter 11; from memory).
fn variance(without_one: &[f64]) -> f64 {
    let count = without_one.len() as f64;
    if without_one.len() < 2 {
        return 0.0;
    }
    let mean = without_one.iter().sum::<f64>() / count;
    (count - 1.0) / count * without_one.iter().map(|one| (one - mean) * (one - mean)).sum::<f64>()
}

/// How far lightness differs between the rows of a patch, or between its columns, whichever is more.
fn slope(patch: &Patch) -> f64 {
    let (rows, columns) = patch.rows_and_columns();
    let spread = |means: Vec<Triple>| {
        let lightness = means.into_iter().map(|light| lab(xyz(light)).l);
        let ends =
            lightness.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), l| (low.min(l), high.max(l)));
        (ends.1 - ends.0).max(0.0)
    };
    spread(rows).max(spread(columns))
}

/// How much luminance differs between the rows of a patch, or between its columns, whichever is more, as a fraction.
fn across(patch: &Patch) -> f64 {
    let (rows, columns) = patch.rows_and_columns();
    let whole = xyz(patch.mean())[1];
    let spread = |means: Vec<Triple>| {
        let lit = means.into_iter().map(|light| xyz(light)[1]);
        let ends = lit.fold((f64::INFINITY, 0.0_f64), |(low, high), y| (low.min(y), high.max(y)));
        (ends.1 - ends.0).max(0.0)
    };
    if whole > 0.0 { spread(rows).max(spread(columns)) / whole } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::photograph::colour::srgb;
    use crate::photo::{Ink, Raster, measure};
    use crate::unit::{Fraction, Point};

    fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Rectangle {
        let of = |value| Fraction::new(value).expect("a fraction");
        Rectangle { corner: Point { x: of(x), y: of(y) }, width: of(width), height: of(height) }
    }

    /// A picture of three fields side by side, each with its own noise: grey card, target, result.
    fn picture(fields: [[u8; 3]; 3], noise: i32) -> Raster {
        let (width, height) = (300_u32, 100_u32);
        let mut state = 12_345_u32;
        let mut samples = Vec::new();
        for _ in 0..height {
            for x in 0..width {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                let off = if noise == 0 { 0 } else { ((state >> 16) as i32) % (2 * noise + 1) - noise };
                let field = fields[(x / 100) as usize];
                samples.extend(field.map(|sample| (i32::from(sample) + off).clamp(0, 255) as u8));
            }
        }
        Raster::new(width, height, Ink::Rgb, samples)
    }

    fn patches(raster: &Raster) -> [Patch; 3] {
        [0.0, 1.0, 2.0]
            .map(|field| measure(raster, &rectangle(field / 3.0, 0.0, 0.3, 1.0)).expect("it is wide enough"))
    }

    const GREY: [u8; 3] = [118, 118, 118];
    const OAK: [u8; 3] = [166, 120, 82];
    const OTHER: [u8; 3] = [168, 119, 80];

    #[test]
    fn flat_patches_differ_without_doubt() {
        let [grey, target, result] = patches(&picture([GREY, OAK, OTHER], 0));
        let found = matched(Some(&grey), Some(0.18), &target, &result).unwrap();
        assert!(found.from_noise < 1e-6 && found.uncertainty > 0.1, "{found:?}");
        assert!((found.uncertainty - found.from_light).abs() < 1e-9);
        assert!(found.difference > 0.5 && found.difference < 3.0, "{found:?}");
        assert!((found.grey.unwrap().lab.l - 49.496).abs() < 1e-3);
        assert_eq!(matched(Some(&grey), None, &target, &target).unwrap().difference, 0.0);
    }

    /// The printed doubt is held against what repeating the measurement gives: 200 pictures that differ by chance
    /// alone.
    #[test]
    fn noise_gives_the_doubt_that_repeating_shows() {
        let mut found = Vec::new();
        for seed in 0..200_u32 {
            let mut state = seed.wrapping_mul(2_654_435_761).wrapping_add(1);
            let mut samples = Vec::new();
            for _ in 0..40 {
                for x in 0..80 {
                    state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                    let off = ((state >> 16) as i32) % 41 - 20;
                    let field = if x < 40 { OAK } else { [176, 116, 74] };
                    samples.extend(field.map(|sample| (i32::from(sample) + off).clamp(0, 255) as u8));
                }
            }
            let raster = Raster::new(80, 40, Ink::Rgb, samples);
            let [target, result] =
                [0.0, 0.5].map(|x| measure(&raster, &rectangle(x, 0.0, 0.5, 1.0)).unwrap());
            let one = matched(None, None, &target, &result).unwrap();
            found.push((one.difference, one.from_noise / 2.0));
        }
        let count = found.len() as f64;
        let mean = found.iter().map(|(difference, _)| difference).sum::<f64>() / count;
        let spread =
            found.iter().map(|(difference, _)| (difference - mean).powi(2)).sum::<f64>() / (count - 1.0);
        let said = found.iter().map(|(_, error)| error * error).sum::<f64>() / count;
        let ratio = (said / spread).sqrt();
        assert!((0.8..1.25).contains(&ratio), "{ratio}");
    }

    #[test]
    fn a_card_takes_the_colour_of_the_light_away() {
        // The same scene in warm light: each cone's light is scaled, so that the card undoes it exactly but for rounding.
        let plain = picture([GREY, OAK, OTHER], 0);
        let warm = Neutral::of([0.24, 0.18, 0.11], Some(0.18)).unwrap();
        let cold = |sample: [u8; 3]| {
            let light = sample.map(|sample| {
                let value = f64::from(sample) / 255.0;
                libm::pow((value + 0.055) / 1.055, 2.4)
            });
            srgb(warm.apply(xyz(light)))
        };
        let tinted = picture([cold(GREY), cold(OAK), cold(OTHER)], 0);
        let of = |raster: &Raster| {
            let [grey, target, result] = patches(raster);
            matched(Some(&grey), Some(0.18), &target, &result).unwrap()
        };
        let (plain, tinted) = (of(&plain), of(&tinted));
        assert!(difference(plain.target.lab, tinted.target.lab) < 0.6, "{plain:?} {tinted:?}");
        assert!(difference(plain.target.seen, tinted.target.seen) > 8.0);
        assert!((plain.difference - tinted.difference).abs() < 0.6);
    }

    #[test]
    fn light_that_lies_unevenly_is_part_of_the_doubt() {
        let light = |sample: [u8; 3], more: f64| {
            sample.map(|sample| (f64::from(sample) * more).round().clamp(0.0, 255.0) as u8)
        };
        // The same oak twice, once with 5 % more light, which is 2.2 % more of the encoded value.
        let [grey, one, other] = patches(&picture([GREY, OAK, light(OAK, 1.022)], 0));
        let found = matched(Some(&grey), Some(0.18), &one, &other).unwrap();
        assert!(found.difference <= found.uncertainty + 0.1, "{found:?}");
        // A card with a fall of light across it says that there is more to doubt.
        let (width, height) = (300_u32, 100_u32);
        let lit = |x: u32| {
            let field = [GREY, OAK, OTHER][(x / 100) as usize];
            if x < 100 { light(field, 0.9 + 0.2 * f64::from(x) / 100.0) } else { field }
        };
        let samples: Vec<u8> = (0..height).flat_map(|_| (0..width).flat_map(lit)).collect();
        let [fallen, target, result] = patches(&Raster::new(width, height, Ink::Rgb, samples));
        let [even, ..] = patches(&picture([GREY, OAK, OTHER], 0));
        let doubt = |grey| matched(Some(grey), Some(0.18), &target, &result).unwrap().from_light;
        assert!(doubt(&fallen) > 2.0 * doubt(&even));
    }

    #[test]
    fn a_black_card_is_no_card() {
        let [black, target, result] = patches(&picture([[0; 3], OAK, OTHER], 0));
        assert_eq!(matched(Some(&black), Some(0.18), &target, &result), None);
        assert!(matched(None, None, &target, &result).is_some());
    }
}
