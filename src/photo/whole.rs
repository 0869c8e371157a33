//! Whether a file goes on to the end of its picture, told without decoding it.

use memchr::memmem;

use super::jpeg::JpegHeader;
use super::kind::{self, Format};

/// Whether the end mark of a photograph is there. A form whose end is not marked is taken to be whole.
///
/// # Source
/// ISO/IEC 10918-1, B.2.1 (EOI); ISO/IEC 15948, 5.6 (IEND comes last); RFC 9649, 2.4 (the file size of RIFF).
pub fn is_whole(bytes: &[u8]) -> bool {
    match kind::sniff(bytes) {
        Ok(Format::Jpeg) => {
            let ending = JpegHeader::read(bytes).and_then(|outline| outline.ending(bytes));
            ending.is_ok_and(|ending| ending.marked)
        }
        // The word is followed by four bytes of its checksum.
        Ok(Format::Png) => memmem::rfind(bytes, b"IEND").is_some_and(|at| at + 8 <= bytes.len()),
        Ok(Format::WebP) => {
            let length = [bytes[4], bytes[5], bytes[6], bytes[7]];
            bytes.len() as u64 >= u64::from(u32::from_le_bytes(length)) + 8
        }
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_a_file_is_not_whole() {
        let picture = image::DynamicImage::new_rgb8(16, 16);
        let written = |format| {
            let mut bytes = std::io::Cursor::new(Vec::new());
            picture.write_to(&mut bytes, format).unwrap();
            bytes.into_inner()
        };
        for format in [image::ImageFormat::Png, image::ImageFormat::WebP] {
            let bytes = written(format);
            assert!(is_whole(&bytes), "{format:?}");
            for part in [bytes.len() / 2, bytes.len() - 1] {
                assert!(!is_whole(&bytes[..part]), "{format:?}, {part} of {}", bytes.len());
            }
        }
        let mut jpeg = Vec::new();
        let encoder = jpeg_encoder::Encoder::new(&mut jpeg, 90);
        encoder.encode(&[90; 16 * 16 * 3], 16, 16, jpeg_encoder::ColorType::Rgb).unwrap();
        assert!(is_whole(&jpeg) && is_whole(&[&jpeg[..], b"behind it"].concat()));
        for part in [jpeg.len() / 2, jpeg.len() - 1] {
            assert!(!is_whole(&jpeg[..part]), "{part} of {}", jpeg.len());
        }
    }
}
