//! What a file is, from its first bytes: a name may lie, and often does after a transfer from a phone.

use serde::{Deserialize, Serialize};

use super::Fault;

/// How many first bytes tell what a file is.
pub const FIRST: u64 = 32;

/// The form a photograph is stored in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Format {
    /// JPEG, ISO/IEC 10918-1.
    Jpeg,
    /// PNG, ISO/IEC 15948.
    Png,
    /// WebP, RFC 9649.
    WebP,
    /// TIFF 6.0.
    Tiff,
    /// BMP, the bitmap of old programs.
    Bmp,
    /// GIF, of which the first picture is taken.
    Gif,
    /// HEIC, ISO/IEC 23008-12; read only with the feature `heic`.
    Heic,
}

/// The form of the photograph that begins with these bytes; [`FIRST`] of them are enough.
///
/// # Errors
/// [`Fault::Empty`], [`Fault::NotAPhotograph`], or [`Fault::ExportFirst`] for forms that are recognised but not read.
pub fn sniff(bytes: &[u8]) -> Result<Format, Fault> {
    match bytes {
        [] => Err(Fault::Empty),
        [0xFF, 0xD8, 0xFF, ..] => Ok(Format::Jpeg),
        [0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1A, b'\n', ..] => Ok(Format::Png),
        [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..] => Ok(Format::WebP),
        // One maker's raw files begin as a TIFF and sign themselves a few bytes later.
        [b'I', b'I', 42, 0, _, _, _, _, b'C', b'R', ..] => Err(Fault::ExportFirst(RAW)),
        [b'I', b'I', 42, 0, ..] | [b'M', b'M', 0, 42, ..] => Ok(Format::Tiff),
        [b'I', b'I', b'R' | b'U', ..] | [b'F', b'U', b'J', b'I', b'F', b'I', b'L', b'M', ..] => {
            Err(Fault::ExportFirst(RAW))
        }
        [_, _, _, _, b'f', b't', b'y', b'p', brand @ ..] => boxed(brand),
        [0xFF, 0x0A, ..] | [0, 0, 0, 12, b'J', b'X', b'L', b' ', ..] => Err(Fault::ExportFirst("JPEG XL")),
        [0, 0, 0, 12, b'j', b'P', b' ', b' ', ..] => Err(Fault::ExportFirst("JPEG 2000")),
        [b'G', b'I', b'F', b'8', b'7' | b'9', b'a', ..] => Ok(Format::Gif),
        [b'B', b'M', _, _, _, _, 0, 0, 0, 0, ..] => Ok(Format::Bmp),
        _ => Err(Fault::NotAPhotograph),
    }
}

/// How camera raw files are called in faults.
pub(super) const RAW: &str = "a camera raw file";

/// A file of the ISO base media family, by its brand (ISO/IEC 23008-12, annex B, from memory).
fn boxed(brand: &[u8]) -> Result<Format, Fault> {
    match brand.get(..4) {
        Some(b"heic" | b"heix" | b"heim" | b"heis" | b"hevc" | b"hevx" | b"mif1" | b"msf1") => {
            if cfg!(feature = "heic") { Ok(Format::Heic) } else { Err(Fault::ExportFirst("HEIC")) }
        }
        Some(b"avif" | b"avis") => Err(Fault::ExportFirst("AVIF")),
        Some(b"crx ") => Err(Fault::ExportFirst(RAW)),
        _ => Err(Fault::NotAPhotograph),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn forms_not_read_say_what_to_do() {
        if !cfg!(feature = "heic") {
            for bytes in [b"\0\0\0\x18ftypheic\0\0\0\0", b"\0\0\0\x18ftypmif1\0\0\0\0"] {
                assert_eq!(sniff(bytes), Err(Fault::ExportFirst("HEIC")));
            }
        }
        for (bytes, name) in
            [(&b"\0\0\0\x18ftypavif\0\0\0\0"[..], "AVIF"), (b"II*\0\x10\0\0\0CR\x02\0", "a camera raw file")]
        {
            let fault = sniff(bytes).unwrap_err();
            assert_eq!(fault, Fault::ExportFirst(name));
            assert!(fault.to_string().contains("export the photograph as JPEG"), "{fault}");
        }
    }

    #[test]
    fn a_film_or_a_text_is_no_photograph() {
        for bytes in [&b"\0\0\0\x18ftypqt  "[..], b"title = \"Chair\"", b"\xFF\xD8", b"%PDF-1.7"] {
            assert_eq!(sniff(bytes), Err(Fault::NotAPhotograph));
        }
        assert_eq!(sniff(b""), Err(Fault::Empty));
    }
}
