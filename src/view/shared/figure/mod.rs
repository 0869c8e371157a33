//! Figures that were reckoned, in sentences, each with what it rests on.

mod basis;
mod lifting;
mod movement;
mod originality;
mod shelf;
mod stability;

pub use basis::{Basis, NoFigure};
pub use lifting::LiftingView;
pub use movement::{MovementRow, MovementView};
pub use originality::{OriginalityView, ShareRow};
pub use shelf::{LoadsView, ShelfRow};
pub use stability::StabilityView;

pub(crate) use lifting::lifting;
pub(crate) use movement::movement;
pub(crate) use originality::originality;
pub(crate) use shelf::loads;
pub(crate) use stability::stability;
