//! One picture drawn as the camera of another saw the same plane.

use super::homography::Homography;
use super::{Ink, Raster};

/// How far the filter reaches to each side, in pixels of the picture or of the outcome, whichever are larger.
const REACH: f64 = 2.0;

/// The weight of a sample at a distance of `x` pixels.
///
/// # Source
/// R. G. Keys, "Cubic convolution interpolation for digital image processing", IEEE Transactions on Acoustics, Speech,
/// and Signal Processing 29 (1981), with the parameter of -1/2 that reproduces parabolas; from memory.
fn weight(x: f32) -> f32 {
    let x = x.abs();
    if x < 1.0 {
        (1.5 * x - 2.5) * x * x + 1.0
    } else if x < 2.0 {
        ((-0.5 * x + 2.5) * x - 4.0) * x + 2.0
    } else {
        0.0
    }
}

/// A picture of `size` whose every place shows what `map` brings there.
///
/// `map` leads from pixels of the picture to pixels of the outcome. Each pixel of the outcome looks back to its place in
/// the picture and takes the samples around it, by Keys' cubic. Where the outcome is the coarser of the two, the filter
/// grows with the spacing of its pixels along each axis, so that nothing finer than they can show is left to flicker.
/// Beyond its edges the picture goes on as its last pixels. Places that `map` does not reach are black.
///
/// # Panics
/// If a side of `size` is 0 or above 65,500, or the samples are amounts of ink.
#[must_use]
pub fn warp(picture: &Raster, map: &Homography, size: (u32, u32)) -> Raster {
    match picture.ink() {
        Ink::Grey => warped::<1>(picture, map, size),
        Ink::Rgb => warped::<3>(picture, map, size),
        Ink::Cmyk => panic!("inks are turned into light before they are warped"),
    }
}

fn warped<const CHANNELS: usize>(picture: &Raster, map: &Homography, (width, height): (u32, u32)) -> Raster {
    let back = map.inverse();
    let (pixels, _) = picture.samples().as_chunks::<CHANNELS>();
    let size = (picture.width() as usize, picture.height() as usize);
    let mut samples = Vec::with_capacity(width as usize * height as usize * CHANNELS);
    let (mut across, mut down) = (Taps::default(), Taps::default());
    for y in 0..height {
        for x in 0..width {
            let at = [f64::from(x) + 0.5, f64::from(y) + 0.5];
            let (Some(place), Some([along, aside])) = (back.apply(at), back.slope(at)) else {
                samples.extend([0; CHANNELS]);
                continue;
            };
            across.set(place[0], length(along[0], aside[0]), size.0);
            down.set(place[1], length(along[1], aside[1]), size.1);
            let mut sums = [0.0_f32; CHANNELS];
            for (row, by) in &down.0 {
                let row = &pixels[row * size.0..(row + 1) * size.0];
                let mut sum = [0.0_f32; CHANNELS];
                for (column, by) in &across.0 {
                    for (sum, sample) in sum.iter_mut().zip(row[*column]) {
                        *sum += by * f32::from(sample);
                    }
                }
                for (all, sum) in sums.iter_mut().zip(sum) {
                    *all += by * sum;
                }
            }
            samples.extend(sums.map(|sum| (sum + 0.5) as u8));
        }
    }
    Raster::new(width, height, picture.ink(), samples)
}

fn length(x: f64, y: f64) -> f64 {
    (x * x + y * y).sqrt()
}

/// The samples along one axis that make up one pixel, and the weight of each.
#[derive(Default)]
struct Taps(Vec<(usize, f32)>);

impl Taps {
    /// `place` is where the pixel lies and `spacing` how far its neighbours are, both in samples, of which there are `count`.
    fn set(&mut self, place: f64, spacing: f64, count: usize) {
        self.0.clear();
        let end = count as f64;
        let wide = spacing.clamp(1.0, end);
        let reach = REACH * wide;
        // Centres of samples lie at halves. Farther out than the filter reaches, all samples are the last one.
        let centre = place.clamp(-reach, end + reach) - 0.5;
        let mut sum = 0.0;
        let mut at = (centre - reach).floor() + 1.0;
        while at < centre + reach {
            let by = weight(((at - centre) / wide) as f32);
            sum += by;
            self.0.push((at.clamp(0.0, end - 1.0) as usize, by));
            at += 1.0;
        }
        for (_, by) in &mut self.0 {
            *by /= sum;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn picture(width: u32, height: u32, ink: Ink, at: impl Fn(u32, u32, usize) -> u8) -> Raster {
        let pixels = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
        let samples = pixels.flat_map(|(x, y)| (0..ink.channels()).map(move |channel| (x, y, channel)));
        Raster::new(width, height, ink, samples.map(|(x, y, channel)| at(x, y, channel)).collect())
    }

    #[test]
    fn left_as_it_is() {
        let plain = picture(31, 17, Ink::Rgb, |x, y, channel| (x * 7 + y * 11 + channel as u32 * 50) as u8);
        assert_eq!(warp(&plain, &Homography::shift(0.0, 0.0), (31, 17)), plain);
    }

    #[test]
    fn moved_by_whole_pixels() {
        let plain = picture(31, 17, Ink::Grey, |x, y, _| (x * 7 + y * 11) as u8);
        let moved = warp(&plain, &Homography::shift(-4.0, -3.0), (20, 10));
        assert_eq!(moved, picture(20, 10, Ink::Grey, |x, y, _| ((x + 4) * 7 + (y + 3) * 11) as u8));
    }

    #[test]
    fn a_slope_stays_a_slope_when_it_is_drawn_larger() {
        let slope = picture(40, 30, Ink::Grey, |x, _, _| (x * 6) as u8);
        let larger = warp(&slope, &Homography::scaling(3.0, 3.0), (120, 90));
        for x in 9..110 {
            let expected = (f64::from(x) + 0.5) / 3.0 * 6.0 - 3.0;
            let sample = larger.samples()[45 * 120 + x as usize];
            assert!((f64::from(sample) - expected).abs() <= 0.5001, "{x}: {sample}, {expected}");
        }
    }

    /// Every second column white is grey from far away; without a growing filter some would be white and some black.
    #[test]
    fn a_fine_grain_does_not_flicker_when_it_is_drawn_smaller() {
        let stripes = picture(400, 40, Ink::Grey, |x, _, _| if x % 2 == 0 { 255 } else { 0 });
        for scale in [0.2, 0.23, 0.31, 0.37] {
            let width = (400.0 * scale) as u32;
            let smaller = warp(&stripes, &Homography::scaling(scale, 1.0), (width, 40));
            let row = &smaller.samples()[20 * width as usize..21 * width as usize];
            let inner = &row[3..row.len() - 3];
            assert!(inner.iter().all(|sample| sample.abs_diff(128) <= 12), "{scale}: {inner:?}");
        }
    }

    #[test]
    fn what_the_map_does_not_reach_is_black() {
        let white = picture(10, 10, Ink::Grey, |_, _, _| 255);
        let tilted = Homography::new([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.2, 0.0, 1.0]]).unwrap();
        // All that lies right of 5 comes from beyond the horizon.
        let warped = warp(&white, &tilted, (10, 1));
        assert_eq!(warped.samples(), [255, 255, 255, 255, 255, 0, 0, 0, 0, 0]);
    }

    proptest! {
        #[test]
        fn any_map_of_any_picture_is_drawn(
            rows in prop::array::uniform3(prop::array::uniform3(-3.0..3.0f64)), width in 1..30u32, height in 1..30u32,
        ) {
            if let Some(map) = Homography::new(rows) {
                let plain = picture(width, height, Ink::Rgb, |x, y, _| (x + y) as u8);
                prop_assert_eq!(warp(&plain, &map, (13, 7)).width(), 13);
            }
        }

        /// One colour stays that colour, whatever the map.
        #[test]
        fn weights_add_up(level in 0..=255u8, scale in 0.05..5.0f64, shift in -3.0..3.0f64) {
            let plain = picture(9, 9, Ink::Grey, |_, _, _| level);
            let map = Homography::scaling(scale, 1.0).then(&Homography::shift(shift, 0.0));
            prop_assert!(warp(&plain, &map, (12, 4)).samples().iter().all(|sample| *sample == level));
        }
    }
}
