//! Witnessmark: from a folder per piece of furniture to honest papers.

pub mod diag;
pub mod fields;
pub mod photo;
pub mod record;
pub mod source;
pub mod unit;
