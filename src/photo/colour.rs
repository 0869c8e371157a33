//! From the colours of a camera, a scanner or a printing press to sRGB.

use std::sync::Arc;

use moxcms::{ColorProfile, DataColorSpace, Layout, Transform8BitExecutor, TransformOptions};

use super::{Defect, Ink, Raster};

/// What a photograph says of its colours.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Profile {
    /// Nothing: taken as sRGB, as everybody does.
    Unmarked,
    /// An ICC profile.
    Embedded(Vec<u8>),
    /// Adobe RGB (1998), by a word in the camera's notes.
    AdobeRgb,
    /// An ICC profile of which parts are missing.
    Broken,
}

/// How the samples of one photograph become sRGB.
pub(super) enum Conversion {
    /// They are sRGB.
    None,
    /// Each grey has one other grey.
    Grey(Box<[u8; 256]>),
    /// Through the profile, to red, green and blue.
    Profile(Arc<Transform8BitExecutor>),
    /// Inks without a profile.
    PlainInks,
}

/// The conversion for a photograph of `ink` with `profile`, and what is wrong with it.
///
/// A profile that cannot be applied is a defect, not a fault: the photograph still shows what it shows.
pub(super) fn conversion(ink: Ink, profile: &Profile) -> (Conversion, Vec<Defect>) {
    let read = match profile {
        Profile::Unmarked => return without_profile(ink, None),
        Profile::Broken => Err("parts of it are missing".to_owned()),
        Profile::AdobeRgb => Ok(ColorProfile::new_adobe_rgb()),
        Profile::Embedded(bytes) => ColorProfile::new_from_slice(bytes).map_err(|error| error.to_string()),
    };
    match read.and_then(|profile| through(ink, &profile)) {
        Ok(conversion) => (conversion, Vec::new()),
        Err(why) => without_profile(ink, Some(why)),
    }
}

fn without_profile(ink: Ink, why: Option<String>) -> (Conversion, Vec<Defect>) {
    let ignored = why.map(Defect::ProfileIgnored);
    match ink {
        Ink::Cmyk => {
            (Conversion::PlainInks, ignored.into_iter().chain([Defect::ApproximateColours]).collect())
        }
        _ => (Conversion::None, ignored.into_iter().collect()),
    }
}

fn through(ink: Ink, profile: &ColorProfile) -> Result<Conversion, String> {
    let layout = match (ink, profile.color_space) {
        (Ink::Grey, DataColorSpace::Gray) => Layout::Gray,
        // Grey photographs that carry the profile of a colour space are common: equal red, green and blue are meant.
        (Ink::Grey | Ink::Rgb, DataColorSpace::Rgb) => Layout::Rgb,
        // Four samples a pixel: the crate has no layout of its own for inks.
        (Ink::Cmyk, DataColorSpace::Cmyk) => Layout::Rgba,
        (_, space) => return Err(format!("it is for {space:?}")),
    };
    let transform = profile
        .create_transform_8bit(layout, &ColorProfile::new_srgb(), Layout::Rgb, TransformOptions::default())
        .map_err(|error| error.to_string())?;
    match ink {
        Ink::Grey => grey(&*transform, layout),
        Ink::Rgb if is_srgb(&*transform)? => Ok(Conversion::None),
        _ => Ok(Conversion::Profile(transform)),
    }
}

/// The table of greys: a grey stays grey, so one channel of the outcome tells all.
fn grey(transform: &Transform8BitExecutor, layout: Layout) -> Result<Conversion, String> {
    let from: Vec<u8> = (0..=255).flat_map(|level| vec![level; layout.channels()]).collect();
    let to = transformed(transform, &from, 256)?;
    let mut table = Box::new([0; 256]);
    for (entry, pixel) in table.iter_mut().zip(to.as_chunks::<3>().0) {
        *entry = pixel[1];
    }
    Ok(Conversion::Grey(table))
}

/// Whether a profile is sRGB under whatever name: no colour of a lattice moves by more than one step.
fn is_srgb(transform: &Transform8BitExecutor) -> Result<bool, String> {
    let levels = || (0..=255_u8).step_by(15);
    let mut from = Vec::new();
    for red in levels() {
        for green in levels() {
            for blue in levels() {
                from.extend([red, green, blue]);
            }
        }
    }
    let to = transformed(transform, &from, from.len() / 3)?;
    Ok(from.iter().zip(&to).all(|(from, to)| from.abs_diff(*to) <= 1))
}

fn transformed(transform: &Transform8BitExecutor, from: &[u8], pixels: usize) -> Result<Vec<u8>, String> {
    let mut to = vec![0; pixels * 3];
    transform.transform(from, &mut to).map_err(|error| error.to_string())?;
    Ok(to)
}

impl Conversion {
    /// The picture in sRGB: grey stays one channel, inks become red, green and blue.
    pub(super) fn apply(&self, raster: Raster) -> Raster {
        let (width, height, ink) = (raster.width(), raster.height(), raster.ink());
        let pixels = width as usize * height as usize;
        let (ink, samples) = match self {
            Conversion::None => return raster,
            Conversion::Grey(table) => {
                let samples = raster.samples().iter().map(|&level| table[usize::from(level)]).collect();
                (ink, samples)
            }
            Conversion::Profile(transform) => {
                let samples = transformed(&**transform, raster.samples(), pixels)
                    .expect("the transform was made for this many channels, and whole pixels are given");
                (Ink::Rgb, samples)
            }
            Conversion::PlainInks => {
                let (inks, _) = raster.samples().as_chunks::<4>();
                (Ink::Rgb, inks.iter().flat_map(|&inks| plain(inks)).collect())
            }
        };
        Raster::new(width, height, ink, samples)
    }
}

/// Light from ink where nothing is known of the press: each ink takes its share of one light, black of all three.
///
/// This is the conversion of PostScript's colour model without undercolour (PostScript Language Reference, third
/// edition, section 7.2.4, from memory) with products for sums, so that dark colours keep their differences. Real inks
/// are duller: expect the result too bright and too saturated.
fn plain([cyan, magenta, yellow, black]: [u8; 4]) -> [u8; 3] {
    let light = |ink: u8| {
        let product = u32::from(255 - ink) * u32::from(255 - black);
        u8::try_from((product + 127) / 255).expect("a product of two parts of 255 over 255 is at most 255")
    };
    [light(cyan), light(magenta), light(yellow)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inks_without_a_profile() {
        assert_eq!(plain([0, 0, 0, 0]), [255, 255, 255]);
        assert_eq!(plain([0, 0, 0, 255]), [0, 0, 0]);
        assert_eq!(plain([255, 0, 0, 0]), [0, 255, 255]);
        assert_eq!(plain([0, 128, 255, 51]), [204, 102, 0]);
    }

    #[test]
    fn a_profile_for_other_inks_is_a_defect() {
        let grey = ColorProfile::new_gray_with_gamma(1.8).encode().unwrap();
        let (conversion, defects) = conversion(Ink::Rgb, &Profile::Embedded(grey));
        assert!(matches!(conversion, Conversion::None));
        assert_eq!(defects, [Defect::ProfileIgnored("it is for Gray".to_owned())]);
    }
}
