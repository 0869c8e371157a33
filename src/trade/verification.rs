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
