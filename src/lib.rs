//! Witnessmark: from a folder per piece of furniture to honest papers.
//!
//! Each folder of `src` is a floor and uses only the floors below it. From the top:
//!
//! - [`cli`]: one file per command, and the only printing;
//! - [`journey`]: the whole ways: surveying, writing up, handing over;
//! - [`viewing`]: serves what was written and writes picked points into records, on this computer only; and takes what a
//!   phone at home brings in;
//! - [`intake`]: what comes into a workshop: a new piece, photographs, a jotted line;
//! - [`write`](mod@write): puts finished files in place of the old ones in one step, and keeps what was made once; the only writing;
//! - [`render`]: views and a theme become files in memory;
//! - [`words`]: claims and quantities in a language;
//! - [`view`]: what each reader may see, ready to print;
//! - [`archive`]: typed entries of every piece, one database of them, and the questions that it is asked;
//! - [`inspect`]: rules that look at a record and never change it;
//! - [`derive`](mod@derive): what follows from a record; pure functions;
//! - [`daybook`]: which jotted lines are work, and what rows they propose;
//! - [`claim`]: what papers say, as values with what they rest on;
//! - [`photo`]: photographs from bytes to pictures;
//! - [`record`]: what a workshop's folder says;
//! - [`trade`]: what the trade knows, with sources;
//! - [`fields`]: reads one TOML table and remembers every mistake;
//! - [`pack`](mod@pack): bags of files with fingerprints and signatures;
//! - [`source`]: the folder as found; the only door for files;
//! - [`diag`] and [`unit`](mod@unit): diagnostics and quantities.

pub mod archive;
pub mod claim;
pub mod cli;
pub mod daybook;
pub mod derive;
pub mod diag;
pub mod fields;
pub mod inspect;
pub mod intake;
pub mod journey;
pub mod pack;
pub mod photo;
pub mod record;
pub mod render;
pub mod source;
pub mod trade;
pub mod unit;
pub mod view;
pub mod viewing;
pub mod words;
pub mod write;
