//! What the archive keeps of a piece: one type for each table, in files by subject.

mod care;
mod colour;
mod done;
mod made;
mod money;
mod piece;
mod seen;
mod settled;

pub use care::{FaceEntry, UpkeepEntry};
pub use colour::ColourEntry;
pub use done::{
    DayBookEntry, FixingEntry, LayerEntry, MendEntry, MixEntry, StepEntry, SurfaceEntry, WorkEntry,
};
pub use made::{PartEntry, PatchEntry};
pub use money::{CostEntry, ReceiptEntry, StockEntry, StockUseEntry, TinEntry, TinUseEntry};
pub use piece::PieceEntry;
pub use seen::{FindingEntry, PhotographEntry, TestEntry};
pub use settled::{
    AfterEntry, AmendmentEntry, CallBackEntry, DecisionEntry, LessonEntry, LessonForEntry, OpenEntry,
    OptionEntry, SealEntry, UndoneEntry, UndoneFindingEntry,
};

use super::table::{Entry, Table};

/// The tables of a piece's entries, in the order in which they are made and documented; `piece` stands before them.
pub const TABLES: [&Table; 31] = [
    PartEntry::TABLE,
    PatchEntry::TABLE,
    FindingEntry::TABLE,
    TestEntry::TABLE,
    PhotographEntry::TABLE,
    DecisionEntry::TABLE,
    OptionEntry::TABLE,
    WorkEntry::TABLE,
    MendEntry::TABLE,
    DayBookEntry::TABLE,
    SurfaceEntry::TABLE,
    StepEntry::TABLE,
    MixEntry::TABLE,
    LayerEntry::TABLE,
    FaceEntry::TABLE,
    UpkeepEntry::TABLE,
    ColourEntry::TABLE,
    FixingEntry::TABLE,
    CostEntry::TABLE,
    ReceiptEntry::TABLE,
    TinUseEntry::TABLE,
    StockUseEntry::TABLE,
    UndoneEntry::TABLE,
    UndoneFindingEntry::TABLE,
    OpenEntry::TABLE,
    CallBackEntry::TABLE,
    AfterEntry::TABLE,
    LessonEntry::TABLE,
    LessonForEntry::TABLE,
    SealEntry::TABLE,
    AmendmentEntry::TABLE,
];
