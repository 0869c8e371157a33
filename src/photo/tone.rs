//! The light of one photograph brought to that of another.
//!
//! Two photographs of one view differ in exposure and in the colour of the light, and the piece in them differs in its
//! finish. Only the first may be evened out. So the light is read off the surroundings, which are the same walls and
//! floors in both, and never off the piece; it is one factor for each of red, green and blue, the same everywhere; and
//! where the surroundings are too few or do not agree, nothing is changed at all.

use serde::{Deserialize, Serialize};

use super::{Ink, Raster, Spot};

/// What was done about the light of the picture before.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Tone {
    /// The record wants it left as it is.
    Off,
    /// It was brought to that of the picture after.
    Matched(Light),
    /// Both were taken in the same light; nothing was changed.
    Alike,
    /// Too little of the surroundings shows, or they differ too much; nothing was changed.
    Unknown,
}

/// How much more light the picture after has, by channel: red, green, blue.
///
/// # Source
/// A change of exposure multiplies linear light, and a change of the light's colour multiplies each channel by itself:
/// the model of von Kries, here in the primaries of sRGB. From memory.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Light(pub [f64; 3]);

/// Light is compared on pictures of about this width: grain and small shifts are averaged away.
const WIDTH: u32 = 128;
/// Samples darker or lighter than these are mostly noise or burnt out.
const TELLING: std::ops::RangeInclusive<u8> = 10..=245;
/// The least share of the picture that has to be surroundings.
const ENOUGH: f64 = 0.15;
/// The upper quartile of the surroundings' factors may be so many times the lower one; more is no single light.
const AGREEING: f64 = 1.6;
/// No channel is made lighter than this, nor darker than one over it: one and a third stops.
const MOST: f64 = 2.5;
/// Factors nearer to 1 than this cannot be seen.
const SEEN: f64 = 0.015;
/// Light that is multiplied bends towards white from here on, so that nothing burns out.
const SHOULDER: f64 = 0.7;

/// Compares the light of two pictures that lie onto each other.
///
/// `piece` are places on the piece, in pixels; the upright rectangle about them, grown by a tenth to each side, is left
/// out. The factor of a channel is the median over the rest: up to half of it may be parts of the piece, things that
/// were moved, or shadows without any effect.
#[must_use]
pub fn compare(before: &Raster, after: &Raster, piece: &[Spot]) -> Tone {
    let width = WIDTH.min(before.width());
    let height =
        (f64::from(before.height()) * f64::from(width) / f64::from(before.width())).round().max(1.0) as u32;
    let scale =
        [f64::from(width) / f64::from(before.width()), f64::from(height) / f64::from(before.height())];
    let (before, after) = (before.scaled(width, height), after.scaled(width, height));
    let (Ink::Rgb, Ink::Rgb) = (before.ink(), after.ink()) else { return Tone::Unknown };
    let left_out = [0, 1].map(|axis| {
        let along = piece.iter().map(|spot| spot[axis] * scale[axis]);
        let (low, high) =
            along.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
        (low - 0.1 * (high - low), high + 0.1 * (high - low))
    });
    let light = linear();
    let mut factors: [Vec<f64>; 3] = Default::default();
    let pixels = before.samples().as_chunks::<3>().0.iter().zip(after.samples().as_chunks::<3>().0);
    for (index, (one, other)) in pixels.enumerate() {
        let at = [index as u32 % width, index as u32 / width].map(|place| f64::from(place) + 0.5);
        let on_the_piece =
            [0, 1].into_iter().all(|axis| left_out[axis].0 <= at[axis] && at[axis] <= left_out[axis].1);
        if on_the_piece || !one.iter().chain(other).all(|sample| TELLING.contains(sample)) {
            continue;
        }
        for channel in 0..3 {
            factors[channel].push(light[usize::from(other[channel])] / light[usize::from(one[channel])]);
        }
    }
    if (factors[0].len() as f64) < ENOUGH * f64::from(width) * f64::from(height) {
        return Tone::Unknown;
    }
    let mut gains = [1.0; 3];
    for (gain, factors) in gains.iter_mut().zip(&mut factors) {
        factors.sort_unstable_by(f64::total_cmp);
        let at = |share: f64| factors[((factors.len() - 1) as f64 * share).round() as usize];
        if at(0.75) > at(0.25) * AGREEING {
            return Tone::Unknown;
        }
        *gain = at(0.5).clamp(1.0 / MOST, MOST);
    }
    if gains.iter().all(|gain| (gain - 1.0).abs() < SEEN) { Tone::Alike } else { Tone::Matched(Light(gains)) }
}

impl Light {
    /// The picture in the other light.
    ///
    /// # Panics
    /// If the picture is not red, green and blue.
    #[must_use]
    pub fn on(&self, picture: Raster) -> Raster {
        assert_eq!(picture.ink(), Ink::Rgb, "light is matched by channel");
        let curves = self.0.map(curve);
        let (width, height) = (picture.width(), picture.height());
        let mut samples = picture.into_samples();
        for pixel in samples.as_chunks_mut::<3>().0 {
            for (sample, curve) in pixel.iter_mut().zip(&curves) {
                *sample = curve[usize::from(*sample)];
            }
        }
        Raster::new(width, height, Ink::Rgb, samples)
    }
}

/// What each level of a channel becomes: never falling, black to black.
fn curve(gain: f64) -> [u8; 256] {
    let light = linear();
    std::array::from_fn(|level| level_of(brighter(light[level], gain)))
}

/// Light multiplied, and bent towards white above the shoulder where it would pass it.
fn brighter(light: f64, gain: f64) -> f64 {
    let knee = SHOULDER / gain;
    if gain <= 1.0 || light <= knee {
        return light * gain;
    }
    // From the knee to white by a hyperbola that leaves with the slope `gain`.
    let along = (light - knee) / (1.0 - knee);
    let steep = gain * (1.0 - knee) / (1.0 - SHOULDER);
    SHOULDER + (1.0 - SHOULDER) * steep * along / (1.0 + (steep - 1.0) * along)
}

/// The linear light of each level.
///
/// # Source
/// IEC 61966-2-1:1999, the transfer function of sRGB; from memory.
fn linear() -> [f64; 256] {
    std::array::from_fn(|level| {
        let value = level as f64 / 255.0;
        if value <= 0.04045 { value / 12.92 } else { libm::pow((value + 0.055) / 1.055, 2.4) }
    })
}

/// The level of some linear light, by the same source.
fn level_of(light: f64) -> u8 {
    let value =
        if light <= 0.003_130_8 { light * 12.92 } else { 1.055 * libm::pow(light, 1.0 / 2.4) - 0.055 };
    (value * 255.0).round() as u8
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// A wall above a floor, and a piece in the middle of a colour of its own.
    fn room(piece: [u8; 3], light: Light) -> Raster {
        let plain = (0..90_u32).flat_map(|y| (0..120_u32).map(move |x| (x, y))).flat_map(|(x, y)| {
            let grain = ((x * 13 + y * 7) % 9) as u8;
            match (x, y) {
                (40..80, 30..70) => piece,
                (_, 0..50) => [180 + grain, 176 + grain, 168 + grain],
                _ => [120 + grain, 96 + grain, 70 + grain],
            }
        });
        light.on(Raster::new(120, 90, Ink::Rgb, plain.collect()))
    }

    const SAME: Light = Light([1.0, 1.0, 1.0]);
    const PIECE: [Spot; 4] = [[42.0, 32.0], [78.0, 32.0], [78.0, 68.0], [42.0, 68.0]];

    #[test]
    fn the_light_of_the_room_is_found_whatever_became_of_the_piece() {
        let dim = Light([0.8, 0.7, 0.6]);
        let after = room([200, 120, 60], SAME);
        let Tone::Matched(Light(found)) = compare(&room([60, 60, 60], dim), &after, &PIECE) else {
            panic!("not matched")
        };
        for (found, dimmed) in found.iter().zip(dim.0) {
            assert!((found * dimmed - 1.0).abs() < 0.02, "{found} and {dimmed}");
        }
    }

    /// The new colour of a piece in unchanged light is news, not light.
    #[test]
    fn a_new_finish_alone_changes_nothing() {
        assert_eq!(compare(&room([60, 60, 60], SAME), &room([220, 140, 70], SAME), &PIECE), Tone::Alike);
    }

    #[test]
    fn nothing_is_said_without_surroundings() {
        let (before, after) = (room([60, 60, 60], SAME), room([220, 140, 70], Light([0.5, 0.5, 0.5])));
        let everywhere = [[0.0, 0.0], [120.0, 90.0]];
        assert_eq!(compare(&before, &after, &everywhere), Tone::Unknown);
    }

    #[test]
    fn nothing_is_said_where_the_surroundings_do_not_agree() {
        let half = |left: u8, right: u8| {
            let row = (0..100).flat_map(|x| [if x < 50 { left } else { right }; 3]);
            Raster::new(100, 100, Ink::Rgb, std::iter::repeat_n(row, 100).flatten().collect())
        };
        assert_eq!(compare(&half(90, 180), &half(180, 90), &[[0.0, 0.0]; 4]), Tone::Unknown);
    }

    #[test]
    fn a_grey_picture_has_no_channels_to_match() {
        let grey = Raster::new(4, 4, Ink::Grey, vec![100; 16]);
        assert_eq!(compare(&grey, &grey, &[]), Tone::Unknown);
    }

    proptest! {
        /// What was darker stays darker, black stays black, and white is never passed.
        #[test]
        fn the_curve_never_falls(gain in (1.0 / MOST)..MOST) {
            let curve = curve(gain);
            prop_assert!(curve.is_sorted() && curve[0] == 0);
            prop_assert!(gain < 1.0 || curve[255] == 255);
            let light: Vec<f64> = (0..1000).map(|step| brighter(f64::from(step) / 999.0, gain)).collect();
            prop_assert!(light.windows(2).all(|pair| pair[0] < pair[1]) && light[999] <= 1.0 + 1e-12);
        }
    }
}
