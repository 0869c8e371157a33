//! Whether a file goes on to the end of its picture, told without decoding it.

use memchr::memmem;

use super::jpeg::JpegHeader;
use super::kind::{self, Format};

/// Whether the end mark of a photograph is there. A form whose end is not marked is taken to be whole.
///
/// # Source
/// ISO/IEC 10918-1, B.2.1 (EOI); ISO/IEC 15948, 5.6 (IEND comes last); RFC 9649, 2.4 (the file size of RIFF);
/// ISO/IEC 14496-12, 4.2 (the sizes of boxes).
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
        Ok(Format::Heic) => boxes_end(bytes),
        _ => true,
    }
}

/// Whether the boxes that follow each other in a file end within it; one without a size goes on to the end.
fn boxes_end(bytes: &[u8]) -> bool {
    let mut at = 0;
    while let Some(head) = bytes.get(at..at + 8) {
        let short = u32::from_be_bytes([head[0], head[1], head[2], head[3]]);
        let size = match (short, bytes.get(at + 8..at + 16)) {
            (0, _) => return true,
            (1, Some(long)) => u64::from_be_bytes(long.try_into().expect("eight bytes were taken")),
            (1, None) => return false,
            (size, _) => u64::from(size),
        };
        let Some(next) =
            usize::try_from(size).ok().filter(|size| *size >= 8).map(|size| at.saturating_add(size))
        else {
            return false;
        };
        if next > bytes.len() {
            return false;
        }
        at = next;
    }
    at == bytes.len()
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

    #[test]
    fn boxes_end_where_their_sizes_say() {
        let long = [&[0, 0, 0, 1][..], b"mdat", &20_u64.to_be_bytes(), b"\0\0\0\0"].concat();
        let file = [&b"\0\0\0\x10ftypheic\0\0\0\0"[..], &long, b"\0\0\0\0free and on"].concat();
        assert!(boxes_end(&file) && boxes_end(&file[..36]) && boxes_end(&file[..16]));
        for part in [12, 20, 30, 35] {
            assert!(!boxes_end(&file[..part]), "{part}");
        }
        for wrong in [&b"\0\0\0\x04ftypheic"[..], b"\xFF\xFF\xFF\xFFftypheic", b"\0\0\0\x01ftyp"] {
            assert!(!boxes_end(wrong), "{wrong:?}");
        }
    }
}
