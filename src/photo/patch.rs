//! Measuring a patch of a photograph: how much light of each colour it sends, and how sure that is.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::{Ink, Raster};
use crate::unit::Rectangle;

/// A patch is measured in so many rows and as many columns of blocks.
pub const SIDE: u32 = 4;

/// The share of the pixels that is left out at each end of lightness: hairs, dust, pinholes and reflections.
///
/// A tenth at either end keeps the patch's own grain and drops a fault of up to a tenth of it. Common practice, no
/// source.
pub const TRIMMED: f64 = 0.1;

/// Steps of lightness by which the ends are found; 8-bit samples have fewer.
const STEPS: usize = 4096;

/// One block of a patch: sums over its pixels, each counted by how much of it is kept.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Block {
    /// How many pixels were kept; not whole, since the ends are cut to the exact share.
    pub weight: f64,
    /// Their linear red, green and blue light, summed; 1 a pixel is the whitest.
    pub light: [f64; 3],
}

impl Block {
    /// The mean linear light; `None` where no pixel was kept.
    pub fn mean(&self) -> Option<[f64; 3]> {
        (self.weight > 0.0).then(|| self.light.map(|sum| sum / self.weight))
    }

    fn add(&mut self, weight: f64, light: [f64; 3]) {
        self.weight += weight;
        for (sum, one) in self.light.iter_mut().zip(light) {
            *sum += weight * one;
        }
    }

    fn sum<'b>(blocks: impl IntoIterator<Item = &'b Block>) -> Block {
        let mut sum = Block::default();
        for block in blocks {
            sum.weight += block.weight;
            sum.light = std::array::from_fn(|channel| sum.light[channel] + block.light[channel]);
        }
        sum
    }
}

/// A measured rectangle of a photograph.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Patch {
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// The share of its pixels, 0 to 1, with a channel at the very end of its range, whose true colour is not known.
    pub clipped: f64,
    /// Its blocks, four rows of four, from the top left.
    pub blocks: Vec<Block>,
}

impl Patch {
    /// The trimmed mean of linear red, green and blue light, 0 to 1.
    pub fn mean(&self) -> [f64; 3] {
        Block::sum(&self.blocks).mean().unwrap_or_default()
    }

    /// The same mean, with each of the blocks left out in turn: what chance did to it shows in how they differ.
    pub fn means_without_one(&self) -> Vec<[f64; 3]> {
        let others = |left_out: usize| {
            let rest = self.blocks.iter().enumerate().filter(move |(place, _)| *place != left_out);
            Block::sum(rest.map(|(_, block)| block)).mean()
        };
        let filled = self.blocks.iter().enumerate().filter(|(_, block)| block.weight > 0.0);
        filled.filter_map(|(place, _)| others(place)).collect()
    }

    /// The mean light of each row of blocks and of each column.
    pub fn rows_and_columns(&self) -> (Vec<[f64; 3]>, Vec<[f64; 3]>) {
        let side = SIDE as usize;
        let row = |row: usize| Block::sum(&self.blocks[row * side..][..side]).mean();
        let column = |column: usize| Block::sum(self.blocks[column..].iter().step_by(side)).mean();
        ((0..side).filter_map(row).collect(), (0..side).filter_map(column).collect())
    }
}

/// Measures a rectangle of an upright photograph in sRGB, in linear light.
///
/// `None` where it covers fewer pixels than there are blocks in a row or a column. Values of sRGB are taken to
/// light by the curve of IEC 61966-2-1:1999.
///
/// # Panics
/// If the photograph is in inks, which [`super::open`] never returns.
pub fn measure(raster: &Raster, rectangle: &Rectangle) -> Option<Patch> {
    assert_ne!(raster.ink(), Ink::Cmyk, "opened photographs are light, not ink");
    let bounds = Bounds::of(raster, rectangle)?;
    let mut counts = vec![0_u64; STEPS];
    let (mut clipped, mut pixels) = (0_u64, 0_u64);
    bounds.each(raster, |_, samples| {
        counts[step(samples.map(light))] += 1;
        clipped += u64::from(samples.iter().any(|&sample| sample == 0 || sample == 255));
        pixels += 1;
    });
    let kept = kept(&counts, pixels);
    let mut blocks = vec![Block::default(); (SIDE * SIDE) as usize];
    bounds.each(raster, |block, samples| {
        let light = samples.map(light);
        blocks[block].add(kept[step(light)], light);
    });
    let (width, height) = (bounds.right - bounds.left, bounds.bottom - bounds.top);
    Some(Patch { width, height, clipped: clipped as f64 / pixels as f64, blocks })
}

/// A rectangle in whole pixels.
struct Bounds {
    left: u32,
    top: u32,
    right: u32,
    bottom: u32,
}

impl Bounds {
    fn of(raster: &Raster, rectangle: &Rectangle) -> Option<Bounds> {
        let pixel =
            |fraction: f64, side: u32| (fraction * f64::from(side)).round().min(f64::from(side)) as u32;
        let (x, y) = (rectangle.corner.x.value(), rectangle.corner.y.value());
        let bounds = Bounds {
            left: pixel(x, raster.width()),
            top: pixel(y, raster.height()),
            right: pixel(x + rectangle.width.value(), raster.width()),
            bottom: pixel(y + rectangle.height.value(), raster.height()),
        };
        let wide = bounds.right >= bounds.left + SIDE && bounds.bottom >= bounds.top + SIDE;
        wide.then_some(bounds)
    }

    /// Calls with each pixel's block and samples, in the order of the rows.
    fn each(&self, raster: &Raster, mut see: impl FnMut(usize, [u8; 3])) {
        let channels = raster.ink().channels();
        let (width, height) = (self.right - self.left, self.bottom - self.top);
        for y in 0..height {
            let row = (u64::from(y) * u64::from(SIDE) / u64::from(height)) as usize;
            for x in 0..width {
                let column = (u64::from(x) * u64::from(SIDE) / u64::from(width)) as usize;
                let at = (self.top + y) as usize * raster.width() as usize + (self.left + x) as usize;
                let samples = &raster.samples()[at * channels..][..channels];
                let samples = match samples {
                    [red, green, blue] => [*red, *green, *blue],
                    other => [other[0]; 3],
                };
                see(row * SIDE as usize + column, samples);
            }
        }
    }
}

/// How much of the pixels of each step of lightness is kept: all in the middle, none at the ends, and at the two
/// borders just the part that makes the shares exact.
fn kept(counts: &[u64], pixels: u64) -> Vec<f64> {
    let (low, high) = (TRIMMED * pixels as f64, (1.0 - TRIMMED) * pixels as f64);
    let mut before = 0.0;
    let share = |&count: &u64| {
        let (start, end) = (before, before + count as f64);
        before = end;
        if count == 0 { 0.0 } else { (end.min(high) - start.max(low)).max(0.0) / count as f64 }
    };
    counts.iter().map(share).collect()
}

/// The step of lightness of some light, by its luminance (ITU-R BT.709 weights).
fn step([red, green, blue]: [f64; 3]) -> usize {
    let luminance = 0.2126 * red + 0.7152 * green + 0.0722 * blue;
    ((luminance * STEPS as f64) as usize).min(STEPS - 1)
}

/// Linear light from a sample of sRGB.
fn light(sample: u8) -> f64 {
    static LIGHT: LazyLock<[f64; 256]> =
        LazyLock::new(|| std::array::from_fn(|sample| linear(sample as f64 / 255.0)));
    LIGHT[usize::from(sample)]
}

/// The curve of sRGB, from a value to light, both 0 to 1 (IEC 61966-2-1:1999).
fn linear(value: f64) -> f64 {
    if value <= 0.040_45 { value / 12.92 } else { libm::pow((value + 0.055) / 1.055, 2.4) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unit::{Fraction, Point};
    use proptest::prelude::*;

    fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Rectangle {
        let of = |value| Fraction::new(value).expect("a fraction");
        Rectangle { corner: Point { x: of(x), y: of(y) }, width: of(width), height: of(height) }
    }

    fn painted(width: u32, height: u32, paint: impl Fn(u32, u32) -> [u8; 3]) -> Raster {
        let samples = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
        Raster::new(width, height, Ink::Rgb, samples.flat_map(|(x, y)| paint(x, y)).collect())
    }

    const BROWN: [u8; 3] = [150, 100, 60];

    #[track_caller]
    fn near(one: [f64; 3], other: [f64; 3], within: f64) {
        assert!(one.iter().zip(other).all(|(one, other)| (one - other).abs() <= within), "{one:?} {other:?}");
    }

    #[test]
    fn a_flat_patch_measures_as_its_light_without_doubt() {
        let patch = measure(&painted(80, 60, |_, _| BROWN), &rectangle(0.25, 0.25, 0.5, 0.5)).unwrap();
        assert_eq!((patch.width, patch.height, patch.clipped), (40, 30, 0.0));
        near(patch.mean(), BROWN.map(light), 1e-12);
        assert_eq!(patch.means_without_one().len(), 16);
        for mean in patch.means_without_one() {
            near(mean, patch.mean(), 1e-12);
        }
    }

    #[test]
    fn only_the_rectangle_is_measured() {
        let raster = painted(100, 100, |x, y| {
            if (20..60).contains(&x) && (30..80).contains(&y) { BROWN } else { [255, 255, 255] }
        });
        let patch = measure(&raster, &rectangle(0.2, 0.3, 0.4, 0.5)).unwrap();
        near(patch.mean(), BROWN.map(light), 1e-12);
        assert_eq!(patch.clipped, 0.0);
        let wider = measure(&raster, &rectangle(0.1, 0.3, 0.5, 0.5)).unwrap();
        assert_eq!(wider.clipped, 0.2);
    }

    #[test]
    fn a_tenth_of_dirt_is_left_out_and_more_is_not() {
        let dirty = |rows: u32| {
            let raster = painted(40, 40, |_, y| if y < rows { [5, 5, 5] } else { BROWN });
            measure(&raster, &rectangle(0.0, 0.0, 1.0, 1.0)).unwrap().mean()
        };
        near(dirty(4), BROWN.map(light), 1e-12);
        // Of 12 in 40 rows, 8 are left, beside the 28 clean ones less the 4 lightest.
        let [dark, clean] = [5, BROWN[0]].map(light);
        near([dirty(12)[0]; 3], [(8.0 * dark + 24.0 * clean) / 32.0; 3], 1e-12);
    }

    #[test]
    fn light_is_averaged_and_not_the_numbers_that_stand_for_it() {
        let chequered = painted(40, 40, |x, y| [if (x + y) % 2 == 0 { 40 } else { 220 }; 3]);
        let patch = measure(&chequered, &rectangle(0.0, 0.0, 1.0, 1.0)).unwrap();
        near(patch.mean(), [(light(40) + light(220)) / 2.0; 3], 1e-12);
    }

    #[test]
    fn rows_and_columns_show_a_slope() {
        let raster = painted(40, 40, |x, _| [100 + u8::try_from(x).unwrap(); 3]);
        let (rows, columns) = measure(&raster, &rectangle(0.0, 0.0, 1.0, 1.0)).unwrap().rows_and_columns();
        assert_eq!((rows.len(), columns.len()), (4, 4));
        assert!(columns.windows(2).all(|pair| pair[0][0] < pair[1][0]), "{columns:?}");
        near(rows[0], rows[3], 1e-12);
    }

    #[test]
    fn a_patch_needs_a_pixel_for_each_block() {
        let raster = painted(40, 40, |_, _| BROWN);
        assert!(measure(&raster, &rectangle(0.0, 0.0, 0.1, 0.1)).is_some());
        assert_eq!(measure(&raster, &rectangle(0.0, 0.0, 0.08, 0.5)), None);
        assert_eq!(measure(&raster, &rectangle(1.0, 1.0, 0.0, 0.0)), None);
    }

    #[test]
    fn a_grey_photograph_measures_as_neutral() {
        let raster = Raster::new(20, 20, Ink::Grey, vec![119; 400]);
        near(measure(&raster, &rectangle(0.0, 0.0, 1.0, 1.0)).unwrap().mean(), [light(119); 3], 1e-12);
    }

    #[test]
    fn a_patch_that_was_kept_is_the_same_to_the_last_digit() {
        let raster = painted(37, 41, |x, y| [(x * 7 % 251) as u8, (y * 13 % 241) as u8, (x * y % 239) as u8]);
        let patch = measure(&raster, &rectangle(0.0, 0.0, 1.0, 1.0)).unwrap();
        let kept: Patch = serde_json::from_str(&serde_json::to_string(&patch).unwrap()).unwrap();
        assert_eq!(kept, patch);
    }

    proptest! {
        #[test]
        fn the_mean_lies_within_the_samples_and_the_kept_share_is_exact(
            samples in prop::collection::vec(any::<u8>(), 8 * 8 * 3)
        ) {
            let raster = Raster::new(8, 8, Ink::Rgb, samples.clone());
            let patch = measure(&raster, &rectangle(0.0, 0.0, 1.0, 1.0)).unwrap();
            let kept: f64 = patch.blocks.iter().map(|block| block.weight).sum();
            prop_assert!((kept - 64.0 * (1.0 - 2.0 * TRIMMED)).abs() < 1e-9);
            for channel in 0..3 {
                let all = samples.iter().skip(channel).step_by(3).map(|&sample| light(sample));
                let (low, high) = all.fold((1.0_f64, 0.0_f64), |(low, high), one| (low.min(one), high.max(one)));
                let mean = patch.mean()[channel];
                prop_assert!(low - 1e-9 <= mean && mean <= high + 1e-9);
            }
        }
    }
}
