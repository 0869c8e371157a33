//! Witnessmark: from a folder per piece of furniture to honest papers.

pub mod photo;
