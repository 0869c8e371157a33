//! The program from outside, and the rules of the house that it is built by.
//!
//! All of it is one crate, so that the typesetter is linked once. `cargo test --test house WORD` runs the tests that have
//! the word in their names, of which the first part is the name of their file.

mod alignment;
mod cli;
mod contrast;
mod developing;
mod example;
mod figures;
mod fixture;
mod floors;
mod hostile;
mod leaks;
mod photo;
mod readme;
mod rules;
mod showroom;
mod standing;
mod timberwork;
mod toml;
mod typed;
mod unseen;
mod words;
