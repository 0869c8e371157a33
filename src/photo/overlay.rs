//! Before laid onto after: both cut to what both show, so that every pixel of one is the same place in the other.

use serde::Serialize;

use super::common::{Crop, corners};
use super::homography::{Homography, Spot};
use super::tone::{self, Tone};
use super::{Fault, Picture, Raster, Settings, open, sizes, warp};

/// Below this the picture before is first scaled down as a whole, which is quicker than a filter that reaches far.
const SCALED_FIRST: f64 = 0.75;

/// How one photograph is to be laid onto another; all in pixels of the upright photographs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Overlay {
    /// Size of the photograph before.
    pub before: (u32, u32),
    /// Size of the photograph after.
    pub after: (u32, u32),
    /// From the photograph before to the one after.
    pub map: Homography,
    /// What both show, in the photograph after.
    pub crop: Crop,
    /// Places on the piece, in the photograph after; the light is compared beside them.
    pub piece: Vec<Spot>,
    /// Whether the light of the photograph before is brought to the other's.
    pub match_tone: bool,
}

/// Two photographs laid onto each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Overlaid {
    /// The pictures before, widest first.
    pub before: Vec<Picture>,
    /// The pictures after, of the same sizes.
    pub after: Vec<Picture>,
    /// What was done about the light of those before.
    pub tone: Tone,
}

impl Overlay {
    /// The sizes of the pictures, widest first: none wider than the crop is in the photograph after.
    #[must_use]
    pub fn sizes(&self, widths: &[u32]) -> Vec<(u32, u32)> {
        sizes(self.crop.width, self.crop.height, widths)
    }

    /// From pixels of the photograph before to those of a picture of this size.
    fn onto(&self, (width, height): (u32, u32)) -> Homography {
        let Crop { left, top, .. } = self.crop;
        let scale = |wanted: u32, had: u32| f64::from(wanted) / f64::from(had);
        self.map
            .then(&Homography::shift(-f64::from(left), -f64::from(top)))
            .then(&Homography::scaling(scale(width, self.crop.width), scale(height, self.crop.height)))
    }
}

/// Makes the pictures of two photographs that are laid onto each other, in the sizes of [`Overlay::sizes`].
///
/// The photograph after is opened, scaled and let go before the other is opened, so that memory holds one at a time.
///
/// # Errors
/// Any [`Fault`] of either photograph, and one where a photograph has another size than the overlay was made for.
pub fn overlay(before: &[u8], after: &[u8], lay: &Overlay, settings: &Settings) -> Result<Overlaid, Fault> {
    let sizes = lay.sizes(&settings.widths);
    let size = *sizes.first().unwrap_or(&(lay.crop.width, lay.crop.height));
    let after = opened(after, lay.after, settings)?.part_scaled(&lay.crop, size.0, size.1);
    let before = opened(before, lay.before, settings)?;
    let before = drawn(before, &lay.onto(size), size);
    let tone = if lay.match_tone {
        let scale = f64::from(size.0) / f64::from(lay.crop.width);
        let corner = [lay.crop.left, lay.crop.top].map(f64::from);
        let piece: Vec<Spot> =
            lay.piece.iter().map(|spot| [0, 1].map(|axis| (spot[axis] - corner[axis]) * scale)).collect();
        tone::compare(&before, &after, &piece)
    } else {
        Tone::Off
    };
    let before = if let Tone::Matched(light) = tone { light.on(before) } else { before };
    let pictures = |raster| pictures(raster, &sizes, settings.quality);
    Ok(Overlaid { before: pictures(before), after: pictures(after), tone })
}

fn opened(bytes: &[u8], size: (u32, u32), settings: &Settings) -> Result<Raster, Fault> {
    let raster = open(bytes, settings.max_pixels)?.raster;
    if (raster.width(), raster.height()) == size {
        Ok(raster)
    } else {
        Err(Fault::Unreadable("it has another size than a moment ago".to_owned()))
    }
}

/// The picture through a map, scaled down first where the outcome is much the coarser everywhere.
fn drawn(picture: Raster, map: &Homography, size: (u32, u32)) -> Raster {
    let most = magnification(map, size);
    if most >= SCALED_FIRST {
        return warp(&picture, map, size);
    }
    let less = |side: u32| ((f64::from(side) * most).ceil() as u32).clamp(1, side);
    let (width, height) = (less(picture.width()), less(picture.height()));
    let back = Homography::scaling(
        f64::from(picture.width()) / f64::from(width),
        f64::from(picture.height()) / f64::from(height),
    );
    warp(&picture.scaled(width, height), &back.then(map), size)
}

/// By how much a map enlarges at most, over a picture of this size: looked up at its corners, where a perspective has its
/// extremes.
fn magnification(map: &Homography, size: (u32, u32)) -> f64 {
    let back = map.inverse();
    let at = |corner: Spot| {
        let [[a, c], [b, d]] = map.slope(back.apply(corner)?)?;
        // The larger singular value of the slope.
        let (squares, determinant) = (a * a + b * b + c * c + d * d, a * d - b * c);
        Some(((squares + (squares * squares - 4.0 * determinant * determinant).max(0.0).sqrt()) / 2.0).sqrt())
    };
    corners(size).into_iter().filter_map(at).fold(0.0, f64::max)
}

fn pictures(mut raster: Raster, sizes: &[(u32, u32)], quality: u8) -> Vec<Picture> {
    let picture = |&(width, height): &(u32, u32)| {
        if (raster.width(), raster.height()) != (width, height) {
            raster = raster.scaled(width, height);
        }
        raster.to_jpeg(quality)
    };
    sizes.iter().map(picture).collect()
}
