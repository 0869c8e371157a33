//! What a theme may see, per audience, ready to print.
//!
//! These are the only types that are serialised for pages. A theme cannot name a private
//! field in the showroom, because the showroom's types do not have it. Texts are plain text
//! unless their name ends in `_html`; empty text means that there is nothing to print.
//!
//! From the ground up: `words` puts values into words, and `names` what ids stand for; `context` is what a
//! piece's views are made from; `shared` holds what several papers show, `sheet` the papers, and `tree` the pages of
//! each reader. Each uses only those before it.

mod context;
mod names;
mod page;
mod shared;
mod sheet;
#[cfg(test)]
mod testing;
mod tree;

pub use context::{HouseStyle, PieceContext, WIDTHS, slug, widths};
pub use page::{Page, WorkshopView};
pub use shared::fact::Fact;
pub use shared::hazards::{BenchSheet, Caution, Cleared, FinishHazards, HazardSheet, LawRow};
pub use shared::link::Link;
pub(crate) use shared::markup::escaped;
pub use shared::photograph::{
    Cut, DiscView, MarkView, PairEnd, PairView, PatchView, PhotoView, PictureFile, PlateNote, PlateView,
    SharePicture, StageView, all_pictures, pair_picture_name, picture_name, post_cuts, public_pictures,
    share_cut,
};
pub use shared::reckoning::Reckoning;
pub use shared::row::{
    ChoiceRow, DecisionRow, FindingRow, FixingRow, PartRow, Settled, StandingRow, TestRow, UndoneRow, WorkRow,
};
pub use shared::seal::{SealFor, SealView, seal_view};
pub use shared::section::{Form, Section};
pub use shared::story::{StoryBlock, StoryInline};
pub use shared::surface::{LayerRow, StepRow, SurfaceView};
pub use shared::swatch::{ColourView, SwatchView};
pub use sheet::build_record::{
    Account, BuildRecord, Column, CutLayer, CutView, DecidedRow, FoundRow, Lane, Point, Run, Timeline,
};
pub use sheet::calendar::{Calendar, Event};
pub use sheet::care::Care;
pub use sheet::disclosure::Disclosure;
pub use sheet::label::Label;
pub use sheet::look_over::{LookOver, LookPart, LookRow};
pub use sheet::{ClaimSheet, SHEETS, SheetKind, SheetName, SheetViews, SummedUp, said, summed_up};
pub use tree::archive::{
    AdditionRow, CompletenessView, CoverageRow, CoverageView, HeadingRow, LedgerLine, LedgerSheet, Reckoned,
    TaskShare,
};
pub use tree::{archive, buyer, showroom};
