//! Scans as some programs store them in TIFF: brightness and two colours a pixel, and greys of two and four bits.
//!
//! The file's structure and its compression are read by the library below; what it hands out is spread to bytes here.
//! Source: TIFF 6.0 (1992), sections 8, 20 and 21, from memory.

use std::io::Cursor;

use image::error::{DecodingError, ImageFormatHint, UnsupportedError, UnsupportedErrorKind};
use image::{ColorType, ImageDecoder, ImageError, ImageFormat, ImageResult};
use tiff::decoder::{Decoder, DecodingResult, Limits};
use tiff::tags::Tag;

use super::bounds::{SIDE_DATA, allowance};

/// How the samples of a pixel are stored.
#[derive(Clone, Copy)]
enum Samples {
    /// One grey of so many bits, 2 or 4; rows begin at a byte.
    Grey(u8),
    /// Brightness, blueness and redness, a byte each.
    Colours,
}

/// Turns a row of samples to a row of pixels.
type Spread = fn(&[u8], &mut [u8]);

/// Decodes a TIFF of one of these kinds.
pub(super) struct RareTiff<'a> {
    inner: Decoder<Cursor<&'a [u8]>>,
    size: (u32, u32),
    samples: Samples,
}

impl<'a> RareTiff<'a> {
    /// Reads the header.
    ///
    /// # Errors
    /// The library's; also for any other kind of TIFF.
    pub(super) fn new(bytes: &'a [u8]) -> ImageResult<RareTiff<'a>> {
        let mut limits = Limits::default();
        limits.ifd_value_size = usize::try_from(SIDE_DATA).unwrap_or(usize::MAX);
        let mut inner = Decoder::new(Cursor::new(bytes)).map_err(refusal)?.with_limits(limits);
        let size = inner.dimensions().map_err(refusal)?;
        let samples = match inner.colortype().map_err(refusal)? {
            tiff::ColorType::Gray(bits @ (2 | 4)) => Samples::Grey(bits),
            tiff::ColorType::YCbCr(8) if has_usual_colours(&mut inner) => Samples::Colours,
            other => return Err(unsupported(format!("{other:?} in TIFF"))),
        };
        Ok(RareTiff { inner, size, samples })
    }
}

/// Whether brightness and colours are weighed as everywhere (ITU-R BT.601) and use the whole of a byte.
fn has_usual_colours(inner: &mut Decoder<Cursor<&[u8]>>) -> bool {
    let mut is = |tag: u16, usual: &[f64]| match inner.find_tag(Tag::Unknown(tag)) {
        Ok(None) => true,
        Ok(Some(value)) => value.into_f64_vec().is_ok_and(|found| {
            found.len() == usual.len()
                && found.iter().zip(usual).all(|(one, other)| (one - other).abs() < 0.002)
        }),
        Err(_) => false,
    };
    is(529, &[0.299, 0.587, 0.114]) && is(532, &[0.0, 255.0, 128.0, 255.0, 128.0, 255.0])
}

impl ImageDecoder for RareTiff<'_> {
    fn dimensions(&self) -> (u32, u32) {
        self.size
    }

    fn color_type(&self) -> ColorType {
        match self.samples {
            Samples::Grey(_) => ColorType::L8,
            Samples::Colours => ColorType::Rgb8,
        }
    }

    fn icc_profile(&mut self) -> ImageResult<Option<Vec<u8>>> {
        Ok(self.inner.get_tag_u8_vec(Tag::IccProfile).ok())
    }

    fn read_image(self, pixels: &mut [u8]) -> ImageResult<()> {
        let most = usize::try_from(allowance(self.size)).unwrap_or(usize::MAX);
        let mut limits = Limits::default();
        limits.decoding_buffer_size = most;
        limits.intermediate_buffer_size = most;
        let DecodingResult::U8(samples) = self.inner.with_limits(limits).read_image().map_err(refusal)?
        else {
            return Err(unsupported("samples that are no bytes, in TIFF".to_owned()));
        };
        let width = self.size.0 as usize;
        let (row, spread): (usize, Spread) = match self.samples {
            Samples::Grey(2) => (width.div_ceil(4), grey::<2>),
            Samples::Grey(_) => (width.div_ceil(2), grey::<4>),
            Samples::Colours => (width * 3, colours),
        };
        if samples.len() < row * self.size.1 as usize {
            return Err(unsupported("samples that lie apart, in TIFF".to_owned()));
        }
        let rows = pixels.chunks_exact_mut(pixels.len() / self.size.1 as usize);
        samples.chunks_exact(row).zip(rows).for_each(|(samples, pixels)| spread(samples, pixels));
        Ok(())
    }

    fn read_image_boxed(self: Box<Self>, pixels: &mut [u8]) -> ImageResult<()> {
        (*self).read_image(pixels)
    }
}

/// Spreads greys of a few bits, the first in the highest ones, to bytes.
fn grey<const BITS: usize>(samples: &[u8], pixels: &mut [u8]) {
    let (each, most) = (8 / BITS, (1_u8 << BITS) - 1);
    for (place, pixel) in pixels.iter_mut().enumerate() {
        let shift = 8 - BITS * (place % each + 1);
        *pixel = ((samples[place / each] >> shift) & most) * (255 / most);
    }
}

/// Turns brightness and colours to red, green and blue; the factors are in 65,536ths.
fn colours(samples: &[u8], pixels: &mut [u8]) {
    for (sample, pixel) in samples.chunks_exact(3).zip(pixels.chunks_exact_mut(3)) {
        let [brightness, blue, red] =
            [i32::from(sample[0]) << 16, i32::from(sample[1]) - 128, i32::from(sample[2]) - 128];
        let byte = |value: i32| u8::try_from(((value + 32_768) >> 16).clamp(0, 255)).expect("it was clamped");
        pixel[0] = byte(brightness + 91_881 * red);
        pixel[1] = byte(brightness - 22_554 * blue - 46_802 * red);
        pixel[2] = byte(brightness + 116_130 * blue);
    }
}

fn unsupported(words: String) -> ImageError {
    let kind = UnsupportedErrorKind::GenericFeature(words);
    ImageError::Unsupported(UnsupportedError::from_format_and_kind(ImageFormat::Tiff.into(), kind))
}

fn refusal(error: tiff::TiffError) -> ImageError {
    match error {
        tiff::TiffError::UnsupportedError(error) => unsupported(error.to_string()),
        error => ImageError::Decoding(DecodingError::new(ImageFormatHint::Exact(ImageFormat::Tiff), error)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn few_bits_are_spread_over_the_whole_range() {
        let mut pixels = [7; 5];
        grey::<2>(&[0b00_01_10_11, 0b11_00_00_00], &mut pixels);
        assert_eq!(pixels, [0, 85, 170, 255, 255]);
        let mut pixels = [7; 3];
        grey::<4>(&[0x0f, 0x80], &mut pixels);
        assert_eq!(pixels, [0, 255, 136]);
    }

    /// Values worked by hand from the definition.
    #[test]
    fn brightness_and_colours_become_light() {
        let mut pixels = [0; 12];
        colours(&[255, 128, 128, 0, 128, 128, 76, 85, 255, 29, 255, 107], &mut pixels);
        assert_eq!(pixels, [255, 255, 255, 0, 0, 0, 254, 0, 0, 0, 0, 254]);
    }
}
