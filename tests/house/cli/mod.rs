//! The program as its users see it: what is typed, what is printed, what lies in the folder afterwards.
//!
//! One file per command, all through one [`Bench`](crate::fixture::Bench).

mod after;
mod completions;
mod consult;
mod darkroom;
mod daybook;
mod forget;
mod handover;
mod help;
mod inspect;
mod intake;
mod keys;
mod look_over;
mod manual;
mod pairs;
mod plan;
mod receipts;
mod schema;
mod set;
#[cfg(unix)]
mod strange_files;
mod swatch;
mod verify;
mod viewing;
mod vocabulary;
mod why;
mod writeup;
