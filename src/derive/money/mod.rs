//! Hours, costs and earnings; for the archive alone.

pub(super) mod ledger;
