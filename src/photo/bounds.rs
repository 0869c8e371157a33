//! How large a photograph may be, and how much memory its decoding may take.

use super::Fault;

/// The longest side, in pixels: the most that the common JPEG library writes and reads, and pictures end as JPEG.
const LONGEST_SIDE: u32 = 65_500;

/// What may be read beside the pixels, in bytes: profiles, notes and the like.
pub(super) const SIDE_DATA: u64 = 32 << 20;

/// How much a decoder may allocate for a picture of this size and its side data, in bytes.
pub(super) fn allowance((width, height): (u32, u32)) -> u64 {
    // Eight bytes a pixel is the deepest form read: four channels of 16 bits; decoders hold up to two copies.
    u64::from(width) * u64::from(height) * 16 + SIDE_DATA
}

/// Refuses a picture that has too many pixels, none, or a side longer than can be written.
pub(super) fn check_size((width, height): (u32, u32), limit: u64) -> Result<(), Fault> {
    if u64::from(width) * u64::from(height) > limit {
        return Err(Fault::TooManyPixels { width, height, limit });
    }
    if width == 0 || height == 0 {
        return Err(Fault::Unreadable(format!("its header says {width} x {height} pixels")));
    }
    if width.max(height) > LONGEST_SIDE {
        return Err(Fault::Unsupported(format!("a side longer than {LONGEST_SIDE} pixels")));
    }
    Ok(())
}
