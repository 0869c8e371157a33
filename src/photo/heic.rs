//! HEIC, the form of many phones, through a decoder in Rust alone; it can be left out with the feature `heic`.

use heifer::heifer_isobmff::HeifFile;
use heifer::{Error, Options};

use super::bounds::check_size;
use super::opacity::on_white;
use super::{Fault, Ink, Raster};

/// A HEIC photograph: upright and in sRGB already, since the container says how, and the decoder does it.
pub(super) struct Heic {
    pub(super) raster: Raster,
    /// The camera's notes.
    pub(super) exif: Option<Vec<u8>>,
}

/// Decodes the main photograph of a HEIC file; others in it, such as previews and depth maps, are left alone.
///
/// # Errors
/// [`Fault::TooManyPixels`] before any pixel is decoded, [`Fault::Unsupported`] and [`Fault::Unreadable`].
pub(super) fn read(bytes: &[u8], max_pixels: u64) -> Result<Heic, Fault> {
    let unreadable = |words: String| Fault::Unreadable(words);
    let file = HeifFile::parse(bytes).map_err(|error| unreadable(error.to_string()))?;
    let size = file.image_size(file.primary_id).map_err(|error| unreadable(error.to_string()))?;
    check_size(size.ok_or_else(|| unreadable("its header names no size".to_owned()))?, max_pixels)?;
    // Photographs are already developed on every core.
    let options = Options { max_threads: 1, max_pixels };
    let image = heifer::decode_srgb_rgba8(bytes, &options).map_err(|error| match error {
        Error::Unsupported(words) => Fault::Unsupported(format!("this variant of HEIC ({words})")),
        other => unreadable(other.to_string()),
    })?;
    check_size((image.width, image.height), max_pixels)?;
    let exif = heifer::read_metadata(bytes).ok().and_then(|metadata| metadata.exif);
    let raster = Raster::new(image.width, image.height, Ink::Rgb, on_white::<4>(image.data));
    Ok(Heic { raster, exif })
}
