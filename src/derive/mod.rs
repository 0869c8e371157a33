//! Facts that follow from the record: pure functions, no files, no clock.
//!
//! Everything is computed here once and carried; `inspect`, `view` and `render` never compute it again.

mod amendment;
mod claims;
mod climate;
mod facts;
pub mod finish;
mod hazard;
pub mod identity;
mod load;
mod looked_for;
mod mended;
mod missing_input;
mod money;
mod name;
mod nature;
mod offer;
pub mod photograph;
pub mod plan;
mod reach;
#[cfg(test)]
mod testing;
mod timber;
mod workpiece;
mod years;

pub use amendment::changes::{Amendment, Digests, amendments};
pub use claims::{
    CareClaims, CareRow, Claims, Cut, DayKept, Decided, Doing, FaceCare, Found, FromDay, LogEntry, PartLine,
    UndoClaims,
};
pub use climate::{ClimateError, RoomAir, Seasons, equilibrium};
pub use finish::stratigraphy::{Coat, Coating, Stratigraphy, Stratum, coating, laid};
pub use finish::surface::SurfaceFacts;
pub use finish::upkeep::{Due, Upkeep, UpkeepTask};
pub use finish::{abrasion, compatibility, coverage, cure, face};

pub use facts::{Facts, facts};
pub use hazard::implied::{Because, Implied, UsedIn};
pub use hazard::old_coat::{OldCoat, OldCoatKind, OldCoatName, OldCoatTold};
pub use hazard::result::TestReading;
pub use hazard::tested::{TestRow, Tested};
pub use identity::completeness::{Addition, Completeness, Heading};
pub use identity::dating;
pub use identity::level::{NOTHING_DONE, level_word};
pub use identity::originality::{Originality, StandingShare, percent};
pub use identity::standing::{Standings, standing_of, standing_of_fixing, standing_of_patch, taken_away};
pub use load::lifting::{Lifting, Load, TeamSize, team};
pub use load::mass::PartMass;
pub use load::part::PartFacts;
pub use load::shelf::{
    Creeping, ForBooks, Loading, NoLoad, SagsMost, ShelfCapacity, ShelfFacts, Support, sag, sag_factor,
};
pub use load::stability::{Balance, OpenedPart, Prompt, Stability, StabilityCheck, Verdict, balance};
pub(crate) use looked_for::{all_is_well, nobody_looked};
pub use mended::{Mending, mending};
pub use missing_input::MissingInput;
pub use money::ledger::{CostOrigin, Ledger, LedgerGap, MaterialCost, Overhead, Price, Task};
pub use name::{fixing_name, part_name, seen, timber_name};
pub use offer::{Offer, OfferState, offer};
pub use photograph::alignment::{Alignment, NEEDED, Unfit};
pub use photograph::facts::{PairFacts, PhotoFacts, alignment, overlay};
pub use photograph::listing::{Pairing, Photograph, Photographs, stage_and_view};
pub use photograph::marks::{Marked, NoArea, area, number_at};
pub use photograph::opened::{PhotoCheck, PhotographFacts};
pub use photograph::patch::{PatchFacts, face, said_area};
pub use photograph::swatch::{Match, Measured, SwatchFacts, Unmeasured, Which};
pub use photograph::{colour, swatch};
pub use reach::{Contact, NoAddress, ShowroomAddress, web_address};
pub use timber::material::{Figured, gravity_from_green};
pub use timber::movement::{
    Factor, Movement, MovementError, Moving, change, change_by_shrinkage, coefficient, factor, shrinkage,
};
pub use workpiece::Workpiece;
