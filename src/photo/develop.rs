//! Developing: from a photograph to the pictures of a page.

use serde::{Deserialize, Serialize};

use super::colour;
use super::decode::{Decoded, decode};
use super::patch::{Patch, measure};
use super::{Defect, Fault, Header, Ink, Picture, Raster};
use crate::unit::Rectangle;

/// How photographs are developed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Settings {
    /// The widths of the pictures wanted, in pixels, in any order.
    pub widths: Vec<u32>,
    /// JPEG quality, 1 to 100.
    pub quality: u8,
    /// The most pixels a photograph may have.
    pub max_pixels: u64,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings { widths: vec![1600, 960, 480], quality: 80, max_pixels: 120_000_000 }
    }
}

/// A photograph that was decoded wholly.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Checked {
    /// What its header says.
    pub header: Header,
    /// What is wrong with it; empty for a sound photograph.
    pub defects: Vec<Defect>,
    /// The rectangles that were measured on it; `None` for one that covers next to no pixels. They depend on the record
    /// and not on the photograph alone, so they are kept apart.
    #[serde(skip)]
    pub patches: Vec<(Rectangle, Option<Patch>)>,
}

/// A whole photograph, for measuring and warping.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Opened {
    /// What its header says.
    pub header: Header,
    /// What is wrong with it.
    pub defects: Vec<Defect>,
    /// All its pixels, upright, in sRGB, always as red, green and blue.
    pub raster: Raster,
}

/// The pictures of a photograph.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Developed {
    /// What the header of the photograph says.
    pub header: Header,
    /// What is wrong with it.
    pub defects: Vec<Defect>,
    /// The pictures, widest first; never none.
    pub pictures: Vec<Picture>,
}

/// Decodes a photograph wholly, to prove that it is readable.
///
/// # Errors
/// Any [`Fault`]. What does not prevent use is in the defects, the same as [`develop`] would list.
pub fn check(bytes: &[u8], max_pixels: u64) -> Result<Checked, Fault> {
    let Decoded { header, raster, profile, mut defects, .. } = decode(bytes, max_pixels)?;
    defects.extend(colour::conversion(raster.ink(), &profile).1);
    Ok(Checked { header, defects, patches: Vec::new() })
}

/// Decodes a photograph wholly and keeps every pixel, upright and in sRGB.
///
/// # Errors
/// Any [`Fault`].
pub fn open(bytes: &[u8], max_pixels: u64) -> Result<Opened, Fault> {
    let Decoded { header, turn, raster, profile, mut defects } = decode(bytes, max_pixels)?;
    let (conversion, more) = colour::conversion(raster.ink(), &profile);
    defects.extend(more);
    let raster = coloured(turn.apply(conversion.apply(raster)));
    Ok(Opened { header, defects, raster })
}

/// Measures rectangles on a photograph, at its full size and in the order given; `None` for one that covers next to no
/// pixels.
///
/// # Errors
/// Any [`Fault`].
pub fn patches(bytes: &[u8], max_pixels: u64, rectangles: &[Rectangle]) -> Result<Vec<Option<Patch>>, Fault> {
    let Opened { raster, .. } = open(bytes, max_pixels)?;
    Ok(rectangles.iter().map(|rectangle| measure(&raster, rectangle)).collect())
}

/// Makes the pictures of a photograph, in the sizes of [`sizes`].
///
/// # Errors
/// Any [`Fault`].
pub fn develop(bytes: &[u8], settings: &Settings) -> Result<Developed, Fault> {
    let Decoded { header, turn, mut raster, profile, mut defects } = decode(bytes, settings.max_pixels)?;
    let (conversion, more) = colour::conversion(raster.ink(), &profile);
    defects.extend(more);
    let mut pictures = Vec::new();
    for (place, size) in sizes(header.width, header.height, &settings.widths).into_iter().enumerate() {
        if place == 0 {
            // Scaled first, while it still lies as the camera held it, so that colouring and turning touch few pixels.
            raster = turn.apply(conversion.apply(scaled(raster, turn.size(size))));
        } else {
            raster = scaled(raster, size);
        }
        pictures.push(raster.to_jpeg(settings.quality));
    }
    Ok(Developed { header, defects, pictures })
}

/// The sizes that [`develop`] makes of an upright photograph of `width` by `height` pixels, widest first.
///
/// `widths` bounds the width, of portrait pictures too. None is larger than the photograph, no size comes twice, and
/// there is always one: the photograph's own where `widths` names none. Heights are rounded to the nearest pixel.
#[must_use]
pub fn sizes(width: u32, height: u32, widths: &[u32]) -> Vec<(u32, u32)> {
    let mut widths: Vec<u32> =
        widths.iter().map(|&wanted| wanted.min(width)).filter(|&wanted| wanted > 0).collect();
    if widths.is_empty() {
        widths.push(width);
    }
    widths.sort_unstable_by(|one, other| other.cmp(one));
    widths.dedup();
    let height_at = |wanted: u32| {
        let whole = u64::from(width).max(1);
        let rounded = (u64::from(height) * u64::from(wanted) + whole / 2) / whole;
        u32::try_from(rounded)
            .expect("at most the height itself, since no width exceeds the photograph's")
            .max(1)
    };
    widths.into_iter().map(|wanted| (wanted, height_at(wanted))).collect()
}

fn scaled(raster: Raster, (width, height): (u32, u32)) -> Raster {
    if (raster.width(), raster.height()) == (width, height) { raster } else { raster.scaled(width, height) }
}

/// Grey as equal red, green and blue.
fn coloured(raster: Raster) -> Raster {
    match raster.ink() {
        Ink::Grey => {
            let samples = raster.samples().iter().flat_map(|&level| [level; 3]).collect();
            Raster::new(raster.width(), raster.height(), Ink::Rgb, samples)
        }
        _ => raster,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(size: (u32, u32), widths: &[u32], expected: &[(u32, u32)]) {
        assert_eq!(sizes(size.0, size.1, widths), expected);
    }

    #[test]
    fn a_plan_never_enlarges_and_never_repeats() {
        case((4000, 3000), &[1600, 960, 480], &[(1600, 1200), (960, 720), (480, 360)]);
        case((3000, 4000), &[480, 1600, 960], &[(1600, 2133), (960, 1280), (480, 640)]);
        case((1600, 1200), &[1600, 960], &[(1600, 1200), (960, 720)]);
        case((1000, 500), &[1600, 1200, 960], &[(1000, 500), (960, 480)]);
        case((300, 200), &[1600, 960, 480], &[(300, 200)]);
        case((300, 200), &[], &[(300, 200)]);
        case((300, 200), &[0, 150, 150], &[(150, 100)]);
        case((50_000, 3), &[100], &[(100, 1)]);
        case((1, 40_000), &[480], &[(1, 40_000)]);
        case((u32::MAX, u32::MAX), &[u32::MAX], &[(u32::MAX, u32::MAX)]);
    }
}
