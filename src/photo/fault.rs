//! What can be wrong with a photograph, in words for the person who took it.

use std::fmt;

use serde::{Deserialize, Serialize};

/// Why a photograph cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error, Serialize, Deserialize)]
pub enum Fault {
    /// The file holds nothing.
    #[error("the file is empty")]
    Empty,
    /// The file could not be read, or is too long to be; the words go on after "the file".
    #[error("the file {why}")]
    File {
        /// Why, such as "is a pipe".
        why: String,
        /// What to do about it.
        remedy: String,
    },
    /// The first bytes are those of no picture known here.
    #[error("not a photograph: JPEG, PNG, WebP, TIFF, BMP and GIF can be read")]
    NotAPhotograph,
    /// A photograph in a form that is not decoded here; the text names the form.
    /// The first bytes tell it, so it need not be remembered between runs.
    #[error("{0} is not read here; export the photograph as JPEG from the phone or the photo program")]
    #[serde(skip)]
    ExportFirst(#[serde(skip)] &'static str),
    /// A known form in a variant that is not decoded here; the text names the variant.
    #[error("{0} is not read here; save the photograph as an ordinary 8-bit JPEG from a photo program")]
    Unsupported(String),
    /// More pixels than allowed, as the header has it; no pixel was decoded.
    #[error("too large: {width} x {height} is {pixels} pixels, and {limit} is the most allowed",
        pixels = grouped(u64::from(*width) * u64::from(*height)), limit = grouped(*limit))]
    TooManyPixels {
        /// Width in pixels, as stored.
        width: u32,
        /// Height in pixels, as stored.
        height: u32,
        /// The most pixels allowed.
        limit: u64,
    },
    /// The file is damaged beyond use; the text is the decoder's.
    #[error("the photograph cannot be read: {0}")]
    Unreadable(String),
}

impl Fault {
    /// What to do about it.
    pub fn remedy(&self) -> &str {
        match self {
            Fault::File { remedy, .. } => remedy,
            Fault::TooManyPixels { .. } => "export it smaller, or raise `photo-megapixels` in workshop.toml",
            _ => "copy it again from the camera, or export it as JPEG",
        }
    }
}

/// What is wrong with a photograph that can be used all the same.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub enum Defect {
    /// The file ends before the picture does.
    CutShort {
        /// Percent of the height, at the bottom, of which nothing is left; 0 when every row is there at least coarsely.
        missing: u8,
    },
    /// The data is damaged somewhere in the middle.
    Damaged {
        /// What the decoder said.
        words: String,
        /// Percent of the height, at the bottom, of which nothing is left.
        missing: u8,
    },
    /// Stray bytes lie between the parts of the file; the picture itself is whole.
    StrayBytes,
    /// The camera's notes are damaged, so that orientation and capture time may be missing.
    NotesDamaged,
    /// The embedded colour profile could not be applied, so the colours were taken as sRGB; the text says why.
    ProfileIgnored(String),
    /// Printing inks without a usable profile: the colours follow a plain formula.
    ApproximateColours,
}

impl fmt::Display for Defect {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Defect::CutShort { missing: 0 } => {
                write!(
                    f,
                    "the file is cut short: the last rows may be wrong or the whole picture coarser than it was"
                )
            }
            Defect::CutShort { missing } => {
                write!(
                    f,
                    "the file is cut short: the lower {missing} % of the picture is missing and left grey"
                )
            }
            Defect::Damaged { words, missing: 0 } => {
                write!(f, "the data is damaged ({words}): parts of the picture may be wrong")
            }
            Defect::Damaged { words, missing } => {
                write!(
                    f,
                    "the data is damaged ({words}): the lower {missing} % of the picture is missing and left grey"
                )
            }
            Defect::StrayBytes => {
                write!(f, "stray bytes lie between the parts of the file; the picture is not affected")
            }
            Defect::NotesDamaged => {
                write!(f, "the camera's notes are damaged: orientation and capture time may be missing")
            }
            Defect::ProfileIgnored(why) => {
                write!(f, "the colour profile in the file cannot be used ({why}): the colours may be off")
            }
            Defect::ApproximateColours => {
                write!(f, "printing inks (CMYK) without a usable profile: the colours are approximate")
            }
        }
    }
}

/// A number with a comma between each three digits.
fn grouped(number: u64) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_grouped_by_three() {
        for (number, text) in [(0, "0"), (999, "999"), (1000, "1,000"), (4_294_836_225, "4,294,836,225")] {
            assert_eq!(grouped(number), text);
        }
    }
}
