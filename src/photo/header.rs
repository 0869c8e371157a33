//! What the header says: size, orientation, capture time. No pixel is decoded.

use std::io::Cursor;

use chrono::{NaiveDate, NaiveDateTime};
use exif::{Context, Exif, In, Tag, Value};
use image::ImageDecoder;
use image::codecs::{
    bmp::BmpDecoder, gif::GifDecoder, png::PngDecoder, tiff::TiffDecoder, webp::WebPDecoder,
};
use serde::{Deserialize, Serialize};

use super::bounds::{SIDE_DATA, check_size};
use super::jpeg::JpegHeader;
use super::kind::{self, Format};
use super::rare_tiff::RareTiff;
use super::upright::Turn;
use super::{Defect, Fault};

/// What the header of a photograph says.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Header {
    /// Width of the upright photograph in pixels.
    pub width: u32,
    /// Height of the upright photograph in pixels.
    pub height: u32,
    /// When it was taken by the camera's clock (EXIF `DateTimeOriginal`), without a time zone.
    pub taken: Option<NaiveDateTime>,
    /// The form it is stored in.
    pub format: Format,
}

/// Reads the header of a photograph; cheap, since no pixel is decoded.
///
/// `max_pixels` bounds width times height.
///
/// # Errors
/// Any [`Fault`]; a photograph that passes may still prove unreadable when it is decoded.
pub fn header(bytes: &[u8], max_pixels: u64) -> Result<Header, Fault> {
    read(bytes, max_pixels).map(|front| front.header)
}

/// The front matter of a photograph: the header, and what decoding needs to know.
pub(super) struct FirstBytes<'a> {
    pub(super) header: Header,
    /// How to turn the stored picture upright.
    pub(super) turn: Turn,
    /// Whether the camera says Adobe RGB without embedding a profile.
    pub(super) adobe_rgb: bool,
    pub(super) defects: Vec<Defect>,
    pub(super) store: StoredPicture<'a>,
}

/// The stored picture, ready to be decoded.
pub(super) enum StoredPicture<'a> {
    /// A JPEG and its outline.
    Jpeg(JpegHeader),
    /// Any other form, by its decoder.
    Other(Box<dyn ImageDecoder + 'a>),
    /// A HEIC, whose size is known for certain only once it is decoded.
    #[cfg(feature = "heic")]
    Heic(super::Raster),
}

/// Reads everything before the pixels.
pub(super) fn read(bytes: &[u8], max_pixels: u64) -> Result<FirstBytes<'_>, Fault> {
    let format = kind::sniff(bytes)?;
    let (store, size, exif) = match format {
        Format::Jpeg => {
            let outline = JpegHeader::read(bytes)?;
            let size = (u32::from(outline.width), u32::from(outline.height));
            let exif = outline.exif(bytes).map(<[u8]>::to_vec);
            (StoredPicture::Jpeg(outline), size, exif)
        }
        #[cfg(feature = "heic")]
        Format::Heic => {
            let super::heic::Heic { raster, exif } = super::heic::read(bytes, max_pixels)?;
            let size = (raster.width(), raster.height());
            (StoredPicture::Heic(raster), size, exif)
        }
        _ => {
            let mut decoder = decoder(bytes, format)?;
            let size = decoder.dimensions();
            // A TIFF is itself the structure that the notes of the other forms are made of.
            let exif = if format == Format::Tiff {
                Some(bytes.to_vec())
            } else {
                decoder.exif_metadata().ok().flatten()
            };
            (StoredPicture::Other(decoder), size, exif)
        }
    };
    check_size(size, max_pixels)?;
    let mut notes = exif.map(Notes::read).unwrap_or_default();
    if format == Format::Heic {
        // The container turns the picture itself; the notes often repeat it, and it must not be turned twice.
        notes.turn = Turn::default();
    }
    if format == Format::Tiff && notes.raw {
        return Err(Fault::ExportFirst(kind::RAW));
    }
    let mut defects = Vec::new();
    if notes.damaged {
        defects.push(Defect::NotesDamaged);
    }
    if matches!(&store, StoredPicture::Jpeg(outline) if outline.stray) {
        defects.push(Defect::StrayBytes);
    }
    let (width, height) = notes.turn.size(size);
    let header = Header { width, height, taken: notes.taken, format };
    Ok(FirstBytes { header, turn: notes.turn, adobe_rgb: notes.adobe_rgb, defects, store })
}

/// The decoder of a form other than JPEG, with its header read and its memory bounded.
fn decoder(bytes: &[u8], format: Format) -> Result<Box<dyn ImageDecoder + '_>, Fault> {
    let input = Cursor::new(bytes);
    let mut limits = image::Limits::no_limits();
    limits.max_alloc = Some(SIDE_DATA);
    let decoder: Result<Box<dyn ImageDecoder + '_>, image::ImageError> = match format {
        Format::Png => PngDecoder::with_limits(input, limits).map(|it| Box::new(it) as _),
        Format::Bmp => BmpDecoder::new(input).map(|it| Box::new(it) as _),
        Format::Gif => GifDecoder::new(input).map(|it| Box::new(it) as _),
        Format::WebP => WebPDecoder::new(input).map(|it| Box::new(it) as _),
        _ => match TiffDecoder::new(input) {
            Err(image::ImageError::Unsupported(_)) => RareTiff::new(bytes).map(|it| Box::new(it) as _),
            read => read.map(|it| Box::new(it) as _),
        },
    };
    decoder.map_err(|error| refusal(&error))
}

/// A decoder's refusal as a fault.
pub(super) fn refusal(error: &image::ImageError) -> Fault {
    match error {
        image::ImageError::Unsupported(_) => Fault::Unsupported(format!("this variant ({error})")),
        _ => Fault::Unreadable(error.to_string()),
    }
}

/// What is used of the camera's notes (EXIF).
#[derive(Default)]
struct Notes {
    turn: Turn,
    taken: Option<NaiveDateTime>,
    adobe_rgb: bool,
    raw: bool,
    damaged: bool,
}

impl Notes {
    fn read(exif: Vec<u8>) -> Notes {
        let mut damaged = false;
        let read = exif::Reader::new()
            .continue_on_error(true)
            .read_raw(exif)
            .or_else(|error| error.distill_partial_result(|_| damaged = true));
        let Ok(exif) = read else {
            return Notes { damaged: true, ..Notes::default() };
        };
        Notes {
            turn: Turn::from_exif(number(&exif, Tag::Orientation).unwrap_or(1)),
            taken: text(&exif, Tag::DateTimeOriginal).and_then(moment),
            // DCF 2.0 (CIPA DC-009): a file in the optional colour space has interoperability index R03. From memory.
            adobe_rgb: text(&exif, Tag::InteroperabilityIndex).is_some_and(|index| index.starts_with(b"R03")),
            raw: holds_a_preview(&exif),
            damaged,
        }
    }
}

/// Whether the first picture of a TIFF is only a preview, as in camera raw files: decoding would take it for the
/// photograph. Tags 254 (bit 0: reduced resolution) and 50706 (version of the open raw format), from memory.
fn holds_a_preview(exif: &Exif) -> bool {
    let reduced = number(exif, Tag(Context::Tiff, 254)).is_some_and(|kind| kind & 1 == 1);
    reduced || exif.get_field(Tag(Context::Tiff, 50706), In::PRIMARY).is_some()
}

fn number(exif: &Exif, tag: Tag) -> Option<u32> {
    exif.get_field(tag, In::PRIMARY)?.value.get_uint(0)
}

fn text(exif: &Exif, tag: Tag) -> Option<&[u8]> {
    match &exif.get_field(tag, In::PRIMARY)?.value {
        Value::Ascii(lines) => lines.first().map(Vec::as_slice),
        _ => None,
    }
}

/// A moment as EXIF writes it, `2026:03:11 14:05:00`; blank or impossible ones are none.
fn moment(text: &[u8]) -> Option<NaiveDateTime> {
    let at = exif::DateTime::from_ascii(text).ok()?;
    NaiveDate::from_ymd_opt(at.year.into(), at.month.into(), at.day.into())
        // A camera whose clock was never set writes the year 0.
        .filter(|_| at.year > 0)?
        .and_hms_opt(at.hour.into(), at.minute.into(), at.second.into())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moments_that_are_none() {
        for text in ["    :  :     :  :  ", "0000:00:00 00:00:00", "2026:02:30 10:00:00", "2026:03:11", ""] {
            assert_eq!(moment(text.as_bytes()), None, "{text}");
        }
        assert_eq!(
            moment(b"2026:03:11 14:05:00").map(|at| at.to_string()),
            Some("2026-03-11 14:05:00".to_owned())
        );
    }
}
