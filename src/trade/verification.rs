//! How a fact of the tables came to be known.

use crate::fields::shape::choices;

choices! {
    /// How a fact came to be known.
    pub enum Verification {
        /// Its wording was read.
        Read = "read",
        /// It is recalled and was not read.
        Memory = "memory",
        /// It is computed from rows beside it.
        Computed = "computed",
    }
}

impl Verification {
    /// A source as papers print it: said where some of it was recalled and not read.
    pub fn cite(self, source: &str) -> String {
        match self {
            Verification::Memory => format!("{source} (in part from memory)"),
            Verification::Read | Verification::Computed => source.to_owned(),
        }
    }
}
