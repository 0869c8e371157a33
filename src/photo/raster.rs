//! A picture as rows of samples, and scaling it.

use fast_image_resize::images::{Image, ImageRef};
use fast_image_resize::{Filter, FilterType, PixelType, ResizeAlg, ResizeOptions, Resizer};

use super::common::Crop;

/// What the samples of a picture are amounts of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// Grey: one channel, 255 is white.
    Grey,
    /// Red, green, blue light: 255 is full light.
    Rgb,
    /// Cyan, magenta, yellow, black ink: 255 is full ink. Never leaves this floor.
    Cmyk,
}

impl Ink {
    /// Samples a pixel.
    #[must_use]
    pub fn channels(self) -> usize {
        match self {
            Ink::Grey => 1,
            Ink::Rgb => 3,
            Ink::Cmyk => 4,
        }
    }

    fn pixel_type(self) -> PixelType {
        match self {
            Ink::Grey => PixelType::U8,
            Ink::Rgb => PixelType::U8x3,
            Ink::Cmyk => PixelType::U8x4,
        }
    }
}

/// A JPEG file with nothing in it but the picture: upright, in sRGB, without any metadata.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// The file.
    pub bytes: Vec<u8>,
}

/// A picture of 8-bit samples, row by row from the top, pixels from the left, channels together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Raster {
    width: u32,
    height: u32,
    ink: Ink,
    samples: Vec<u8>,
}

impl Raster {
    /// A picture of `width` by `height` pixels.
    ///
    /// # Panics
    /// If a side is 0 or above 65,500, or there are not exactly `width * height * channels` samples.
    #[must_use]
    pub fn new(width: u32, height: u32, ink: Ink, samples: Vec<u8>) -> Raster {
        assert!(
            (1..=65_500).contains(&width) && (1..=65_500).contains(&height),
            "a side of 1 to 65,500 pixels"
        );
        assert_eq!(
            samples.len(),
            width as usize * height as usize * ink.channels(),
            "samples for every pixel"
        );
        Raster { width, height, ink, samples }
    }

    /// Width in pixels.
    #[must_use]
    pub fn width(&self) -> u32 {
        self.width
    }

    /// Height in pixels.
    #[must_use]
    pub fn height(&self) -> u32 {
        self.height
    }

    /// What the samples are amounts of.
    #[must_use]
    pub fn ink(&self) -> Ink {
        self.ink
    }

    /// All samples.
    #[must_use]
    pub fn samples(&self) -> &[u8] {
        &self.samples
    }

    /// All samples, giving the picture up.
    #[must_use]
    pub fn into_samples(self) -> Vec<u8> {
        self.samples
    }

    /// The picture scaled to another size by a Lanczos filter of three lobes.
    ///
    /// # Panics
    /// If a side is 0 or above 65,500.
    #[must_use]
    pub fn scaled(&self, width: u32, height: u32) -> Raster {
        self.part_scaled(&Crop { left: 0, top: 0, width: self.width, height: self.height }, width, height)
    }

    /// A part of the picture scaled to another size by a Lanczos filter of three lobes.
    ///
    /// # Panics
    /// If a side is 0 or above 65,500, or the part does not lie within the picture.
    #[must_use]
    pub fn part_scaled(&self, part: &Crop, width: u32, height: u32) -> Raster {
        let from = ImageRef::new(self.width, self.height, &self.samples, self.ink.pixel_type())
            .expect("`new` saw to it that the samples fit the size");
        let mut to = Image::new(width, height, self.ink.pixel_type());
        let [left, top, across, down] = [part.left, part.top, part.width, part.height].map(f64::from);
        // The fourth channel is black ink, which the filter must not take for transparency.
        let options = ResizeOptions::new()
            .resize_alg(ResizeAlg::Convolution(FilterType::Custom(lanczos())))
            .crop(left, top, across, down)
            .use_alpha(false);
        Resizer::new()
            .resize(&from, &mut to, &options)
            .expect("both pictures have the same pixel type, and the part lies within the picture");
        Raster::new(width, height, self.ink, to.into_vec())
    }

    /// The picture as a JPEG of the given quality, 1 to 100, with nothing in it but the picture.
    ///
    /// # Panics
    /// If the samples are amounts of ink: those have no place in a page.
    #[must_use]
    pub fn to_jpeg(&self, quality: u8) -> Picture {
        let colours = match self.ink {
            Ink::Grey => jpeg_encoder::ColorType::Luma,
            Ink::Rgb => jpeg_encoder::ColorType::Rgb,
            Ink::Cmyk => panic!("inks are turned into light before they are written"),
        };
        let side =
            |pixels: u32| u16::try_from(pixels).expect("`new` saw to it that a side is at most 65,500");
        let mut bytes = Vec::new();
        let mut encoder = jpeg_encoder::Encoder::new(&mut bytes, quality.clamp(1, 100));
        // Averaging keeps colour where it is; the default takes the corner of each block and shifts it by half a pixel.
        encoder.set_chroma_subsampling_method(jpeg_encoder::ChromaSubsamplingMethod::Average);
        // Codes chosen for the picture save 1 to 7 % of its bytes. Sequential files with such codes come with one
        // component a scan, which some decoders get wrong, so the file is progressive, in the fewest scans there are.
        encoder.set_progressive_scans(2);
        encoder.set_optimized_huffman_tables(true);
        encoder
            .encode(&self.samples, side(self.width), side(self.height), colours)
            .expect("memory takes every byte, and the samples fit the size");
        Picture { width: self.width, height: self.height, bytes }
    }
}

/// The Lanczos filter of three lobes. Its sines are those of `libm` and not of the system, whose last digit differs
/// from machine to machine.
fn lanczos() -> Filter {
    fn sinc(x: f64) -> f64 {
        if x == 0.0 { 1.0 } else { libm::sin(x) / x }
    }
    fn lanczos(x: f64) -> f64 {
        let x = x * std::f64::consts::PI;
        if x.abs() < 3.0 * std::f64::consts::PI { sinc(x) * sinc(x / 3.0) } else { 0.0 }
    }
    Filter::new("lanczos", lanczos, 3.0).expect("three lobes are a finite width above 0")
}
