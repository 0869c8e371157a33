//! Witnessmark: from a folder per piece of furniture to honest papers.

pub mod derive;
pub mod diag;
pub mod fields;
pub mod inspect;
pub mod photo;
pub mod record;
pub mod source;
pub mod trade;
pub mod unit;
pub mod write;
