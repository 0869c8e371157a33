//! From bytes to pixels, as the camera held them and in the camera's own colours.

use image::{ColorType, ExtendedColorType, ImageDecoder};
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

use super::bounds::allowance;
use super::colour::Profile;
use super::header::{self, FirstBytes, Header, Store};
use super::jpeg::{BUFFER_STOP, END, Icc, Outline};
use super::opacity::on_white;
use super::upright::Turn;
use super::{Defect, Fault, Ink, Raster};

/// A decoded photograph before it is turned and its colours are brought to sRGB.
pub(super) struct Negative {
    pub(super) header: Header,
    pub(super) turn: Turn,
    pub(super) raster: Raster,
    pub(super) profile: Profile,
    pub(super) defects: Vec<Defect>,
}

/// Decodes a photograph wholly.
pub(super) fn decode(bytes: &[u8], max_pixels: u64) -> Result<Negative, Fault> {
    let FirstBytes { header, turn, adobe_rgb, mut defects, store } = header::read(bytes, max_pixels)?;
    let size = turn.size((header.width, header.height));
    let (raster, profile) = match store {
        Store::Jpeg(outline) => {
            let (raster, defect) = jpeg(bytes, &outline)?;
            defects.extend(defect);
            let profile = match outline.icc(bytes) {
                Icc::None if adobe_rgb => Profile::AdobeRgb,
                Icc::None => Profile::Unmarked,
                Icc::Whole(profile) => Profile::Embedded(profile),
                Icc::Broken => Profile::Broken,
            };
            (raster, profile)
        }
        #[cfg(feature = "heic")]
        Store::Heic(raster) => (raster, Profile::Unmarked),
        Store::Other(mut decoder) => {
            let profile = decoder.icc_profile().ok().flatten();
            let inks =
                matches!(decoder.original_color_type(), ExtendedColorType::Cmyk8 | ExtendedColorType::Cmyk16);
            let (raster, defect) = other(decoder, size)?;
            defects.extend(defect);
            if inks {
                // The decoder turns inks into light by itself, so that their profile fits no more.
                defects.push(Defect::ApproximateColours);
                (raster, Profile::Unmarked)
            } else {
                (raster, profile.map_or(Profile::Unmarked, Profile::Embedded))
            }
        }
    };
    Ok(Negative { header, turn, raster, profile, defects })
}

/// Decodes a JPEG with the decoder that does its variant right.
fn jpeg(bytes: &[u8], outline: &Outline) -> Result<(Raster, Option<Defect>), Fault> {
    let ending = outline.ending(bytes)?;
    let mut bare = outline.bare(bytes, &ending);
    if !outline.progressive {
        bare.extend(BUFFER_STOP);
    }
    // A progressive file that was cut short must stay so, since a strict decoder knows it by the missing mark.
    if !outline.progressive || ending.marked {
        bare.extend(END);
    }
    if outline.components == 4 || outline.one_component_a_scan() {
        return uncommon(&bare, outline).map(|raster| (raster, (!ending.marked).then_some(ENDED_EARLY)));
    }
    match common(&bare, outline, true) {
        Ok(raster) => Ok((raster, (!ending.marked).then_some(ENDED_EARLY))),
        Err(words) => remains(&bare, outline, if ending.marked { Some(words) } else { None }),
    }
}

/// The defect of a file without an end mark of which nothing else is known to be missing.
const ENDED_EARLY: Defect = Defect::CutShort { missing: 0 };

/// Percent of the height that may be missing at the bottom: what is left of less is no use to anybody.
const MOST_MISSING: u8 = 90;

/// Decodes what is left of a damaged JPEG. `words` are those of the strict decoder; without them it was cut short.
fn remains(bare: &[u8], outline: &Outline, words: Option<String>) -> Result<(Raster, Option<Defect>), Fault> {
    let unreadable = |words: Option<String>| {
        Fault::Unreadable(words.unwrap_or_else(|| "the file is cut short and too little is left".to_owned()))
    };
    let Ok(raster) = common(bare, outline, false) else { return Err(unreadable(words)) };
    let missing = missing(&raster);
    if missing > MOST_MISSING || is_uniform(&raster) {
        return Err(unreadable(words));
    }
    let defect = match words {
        Some(words) => Defect::Damaged { words, missing },
        None => Defect::CutShort { missing },
    };
    Ok((raster, Some(defect)))
}

/// The fast decoder, for grey and three components.
fn common(bare: &[u8], outline: &Outline, strict: bool) -> Result<Raster, String> {
    let (ink, colours) = match outline.components {
        1 => (Ink::Grey, ColorSpace::Luma),
        _ => (Ink::Rgb, ColorSpace::RGB),
    };
    let options = DecoderOptions::default()
        .set_strict_mode(strict)
        .set_max_width(usize::from(u16::MAX))
        .set_max_height(usize::from(u16::MAX))
        .jpeg_set_out_colorspace(colours);
    let samples = JpegDecoder::new_with_options(ZCursor::new(bare), options)
        .decode()
        // Some of the decoder's messages come in quotation marks.
        .map_err(|error| error.to_string().trim_matches('"').to_owned())?;
    raster(outline, ink, samples)
        .ok_or_else(|| "the decoder gave another size than the header has".to_owned())
}

/// The slower decoder, for inks and for components in scans of their own. It is always strict.
fn uncommon(bare: &[u8], outline: &Outline) -> Result<Raster, Fault> {
    let mut decoder = jpeg_decoder::Decoder::new(bare);
    if outline.components == 4 {
        let inks = if outline.adobe == Some(2) {
            jpeg_decoder::ColorTransform::YCCK
        } else {
            jpeg_decoder::ColorTransform::CMYK
        };
        decoder.set_color_transform(inks);
    }
    let mut samples = decoder.decode().map_err(|error| Fault::Unreadable(error.to_string()))?;
    let ink = match outline.components {
        1 => Ink::Grey,
        3 => Ink::Rgb,
        _ => Ink::Cmyk,
    };
    // Files with the Adobe segment hold the inks inverted, and the decoder takes every file for such a one.
    if ink == Ink::Cmyk && outline.adobe.is_none() {
        samples.iter_mut().for_each(|sample| *sample = 255 - *sample);
    }
    raster(outline, ink, samples)
        .ok_or_else(|| Fault::Unreadable("the decoder gave another size than the header has".to_owned()))
}

/// The samples as a raster, if there are as many as the header promised.
fn raster(outline: &Outline, ink: Ink, samples: Vec<u8>) -> Option<Raster> {
    let (width, height) = (u32::from(outline.width), u32::from(outline.height));
    let whole = samples.len() == width as usize * height as usize * ink.channels();
    whole.then(|| Raster::new(width, height, ink, samples))
}

/// Whether every pixel is the same: all that a forgiving decoder returns when nothing could be decoded.
fn is_uniform(raster: &Raster) -> bool {
    let samples = raster.samples();
    samples[raster.ink().channels()..] == samples[..samples.len() - raster.ink().channels()]
}

/// Percent of the rows, at the bottom, that hold only the grey which stands for no data.
fn missing(raster: &Raster) -> u8 {
    let stride = raster.width() as usize * raster.ink().channels();
    let grey =
        raster.samples().chunks_exact(stride).rev().take_while(|row| row.iter().all(|&sample| sample == 128));
    let percent = grey.count() * 100 / raster.height() as usize;
    u8::try_from(percent).expect("a part of the rows is at most 100 percent of them")
}

/// Decodes PNG, WebP and TIFF: 16 bits become 8, and transparency lies on white.
///
/// The decoders of PNG and TIFF write row by row, so that what came before the damage is kept; that of WebP writes all
/// or nothing.
fn other(
    mut decoder: Box<dyn ImageDecoder + '_>,
    size: (u32, u32),
) -> Result<(Raster, Option<Defect>), Fault> {
    let colours = decoder.color_type();
    let deep = match colours {
        ColorType::L8 | ColorType::La8 | ColorType::Rgb8 | ColorType::Rgba8 => false,
        ColorType::L16 | ColorType::La16 | ColorType::Rgb16 | ColorType::Rgba16 => true,
        _ => return Err(Fault::Unsupported(format!("a picture of {colours:?} samples"))),
    };
    let mut limits = image::Limits::no_limits();
    limits.max_alloc = Some(allowance(size));
    let refusal = |error| header::refusal(&error);
    decoder.set_limits(limits).map_err(refusal)?;
    let pixel = usize::from(colours.bytes_per_pixel());
    // The grey that stands for no data, in one byte and in two, and opaque.
    let mut samples = vec![128; size.0 as usize * size.1 as usize * pixel];
    if colours.has_alpha() {
        let opacity = pixel - pixel / usize::from(colours.channel_count());
        samples.chunks_exact_mut(pixel).for_each(|samples| samples[opacity..].fill(255));
    }
    let broken = decoder.read_image_boxed(&mut samples).err().map(|error| header::refusal(&error));
    if deep {
        samples = eight_bits(samples);
    }
    let (ink, samples) = match colours.channel_count() {
        1 => (Ink::Grey, samples),
        2 => (Ink::Grey, on_white::<2>(samples)),
        3 => (Ink::Rgb, samples),
        _ => (Ink::Rgb, on_white::<4>(samples)),
    };
    let raster = Raster::new(size.0, size.1, ink, samples);
    match broken {
        None => Ok((raster, None)),
        Some(Fault::Unreadable(words)) if !is_uniform(&raster) && missing(&raster) <= MOST_MISSING => {
            let missing = missing(&raster);
            Ok((raster, Some(Defect::Damaged { words, missing })))
        }
        Some(fault) => Err(fault),
    }
}

/// 16-bit samples in the order of this machine's bytes, rounded to 8 bits in place: these are the largest pictures.
fn eight_bits(mut samples: Vec<u8>) -> Vec<u8> {
    let half = samples.len() / 2;
    for place in 0..half {
        let deep = u16::from_ne_bytes([samples[place * 2], samples[place * 2 + 1]]);
        let rounded = (u32::from(deep) * 255 + 32_767) / 65_535;
        samples[place] = u8::try_from(rounded).expect("65,535 becomes 255");
    }
    samples.truncate(half);
    samples
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sixteen_bits_round_to_the_nearest_eight() {
        for (deep, flat) in [
            (0_u16, 0),
            (128, 0),
            (129, 1),
            (257, 1),
            (32_768, 128),
            (65_406, 254),
            (65_407, 255),
            (65_535, 255),
        ] {
            assert_eq!(eight_bits(deep.to_ne_bytes().to_vec()), [flat], "{deep}");
        }
    }
}
