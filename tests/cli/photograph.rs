//! Small photographs to work with.

use jpeg_encoder::{ColorType, Encoder};

/// A JPEG of 8 by 8 pixels in one grey, without notes of a camera.
pub(crate) fn plain(grey: u8) -> Vec<u8> {
    jpeg(grey, None)
}

/// The same, with the moment it was taken, such as `2026:03:11 14:05:00`.
pub(crate) fn taken(grey: u8, moment: &str) -> Vec<u8> {
    jpeg(grey, Some(moment))
}

fn jpeg(grey: u8, moment: Option<&str>) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, 90);
    if let Some(moment) = moment {
        encoder.add_app_segment(1, notes(moment)).unwrap();
    }
    encoder.encode(&[grey; 64], 8, 8, ColorType::Luma).unwrap();
    bytes
}

/// The notes of a camera (Exif 2.32, CIPA DC-008) with nothing in them but `DateTimeOriginal`; the layout from memory.
fn notes(moment: &str) -> Vec<u8> {
    assert_eq!(moment.len(), 19, "year:month:day hour:minute:second");
    let mut notes = b"Exif\0\0II*\0\x08\0\0\0".to_vec();
    // The first directory holds one entry: where the directory of the photograph lies.
    notes.extend(b"\x01\0\x69\x87\x04\0\x01\0\0\0\x1a\0\0\0\0\0\0\0");
    // That one holds the moment, 20 bytes of text that lie behind it.
    notes.extend(b"\x01\0\x03\x90\x02\0\x14\0\0\0\x2c\0\0\0\0\0\0\0");
    notes.extend(moment.as_bytes());
    notes.push(0);
    notes
}
