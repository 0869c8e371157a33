//! Photographs: from the bytes of a file to upright pictures in sRGB that carry nothing but the picture.
//!
//! The journey of one photograph, each step in the file named beside it:
//!
//! 1. the kind is sniffed from the bytes, never from a name, and the header is read: size, orientation, capture time
//!    (`kind`, `header`, and `jpeg` for the markers of a JPEG); too many pixels are refused here, before any is decoded
//!    (`bounds`);
//! 2. the pixels are decoded into a [`Raster`], still as the camera held it and in its own colours (`decode`),
//!    and transparency laid on white (`opacity`);
//! 3. it is scaled down to the widest size wanted (`develop`, `raster`);
//! 4. its colours are brought to sRGB (`colour`);
//! 5. it is turned upright (`upright`);
//! 6. each smaller size is made from the one before it, and written as a JPEG without any metadata.
//!
//! Before and after of one view are laid onto each other where the record names landmarks (`overlay`): the picture before
//! is drawn as the camera of the other saw the same plane (`homography`, `warp`), both are cut to what both show
//! (`common`), and the picture before is brought to the other's light (`tone`).
//!
//! Pictures for sharing are cut from those to a shape that others prescribe (`frame`).
//!
//! HEIC is the exception (`heic`, with the feature of that name): its container says how it is turned and what its colours
//! are, and the decoder does both, so that steps 4 and 5 find nothing left to do.
//!
//! Colours come after the first scaling down because a 12 megapixel photograph then has a sixth of its pixels left.
//! Scaling the gamma-encoded values of the camera rather than linear light differs by a mean dE00 of 0.36 to 0.68 over
//! seven photographs measured: fine for viewing. Colours are measured on [`open`], which scales nothing (`patch`).
//!
//! This floor is pure: bytes in, values out. It never touches a file, never prints and never asks the time; the same
//! bytes give the same bytes on any number of threads and any processor. It never panics on any input: what cannot be
//! used is a [`Fault`], what can be used in spite of something is listed as [`Defect`]s.
//!
//! Memory is bounded by the pixel limit. Measured at 48 megapixels, in bytes a pixel: progressive JPEG 6, PNG and WebP
//! 4 to 5, TIFF 8, 16-bit PNG with transparency 10; the most a header can ask for is about 24 (16-bit TIFF with
//! transparency in one strip). Profiles and other side data are bounded to 32 MiB. DEVELOPERS.md has what was measured
//! of speed, bytes and quality.

mod bounds;
mod colour;
mod common;
mod decode;
mod develop;
mod fault;
mod frame;
mod header;
#[cfg(feature = "heic")]
mod heic;
mod homography;
mod jpeg;
mod kind;
mod opacity;
mod overlay;
mod patch;
mod rare_tiff;
mod raster;
mod tone;
mod upright;
mod warp;
mod whole;

/// The version of the developing. Pictures that were developed before are taken from the darkroom where it is the same,
/// so raise it with every change by which the same photograph gives other bytes, another header, other defects or
/// another fault: of this floor, or of the libraries below it. A test that pins developed pictures asks for it.
pub const VERSION: u32 = 2;

/// The version of the measuring: raised with every change by which the same patch measures differently, of [`measure`]
/// or of what it is measured on.
pub const MEASURING: u32 = 1;

/// The version of the framing: raised with every change by which the same pictures give other bytes in a frame.
pub const FRAMING: u32 = 1;

pub use common::{Crop, common, corners};
pub use develop::{Checked, Developed, Opened, Settings, check, develop, open, patches, sizes};
pub use fault::{Defect, Fault};
pub use frame::{Frame, Keep, framed};
pub use header::{Header, header};
pub use homography::{Homography, Spot};
pub use kind::{FIRST, Format, sniff};
pub use overlay::{Overlaid, Overlay, overlay};
pub use patch::{Block, Patch, measure};
pub use raster::{Ink, Picture, Raster};
pub use tone::{Light, Tone};
pub use warp::warp;
pub use whole::is_whole;
