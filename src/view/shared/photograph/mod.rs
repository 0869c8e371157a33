//! Photographs as pages show them, with the marks and patches that lie over them.

mod cut;
mod gallery;
mod mark;
mod pair;
mod patch;
mod picture;
mod plate;
mod pointers;
mod sees;
mod standing;

pub use cut::{Cut, SharePicture, post_cuts, share_cut};
pub use gallery::{all_pictures, public_pictures};
pub use mark::MarkView;
pub use pair::{PairEnd, PairView, pair_picture_name};
pub use patch::PatchView;
pub use picture::{PhotoView, PictureFile, StageView, picture_name};
pub use plate::{DiscView, PlateNote, PlateView};
pub use standing::StandingDrawing;

pub(crate) use gallery::Gallery;
pub(crate) use pointers::Pointers;
pub(crate) use sees::Sees;
