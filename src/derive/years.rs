//! How years of making are read wherever something follows from them.

/// Years that are allowed before and after a date marked `~` or `%`.
///
/// # Source
/// Our own choice: EDTF leaves the reach of "about" open.
pub const ABOUT: u16 = 10;
