//! What a rule is, and how rules are listed: each once, where its module is declared.

use super::{Case, Shop};
use crate::diag::{Code, Diagnostic};

/// A rule: the fault it names, and how it looks for it.
pub struct Rule {
    /// The fault.
    pub code: &'static Code,
    /// How it looks.
    pub check: Check,
    /// Whether it would see a fault where a table was left out that could not be read.
    ///
    /// Such a rule is not asked about a piece whose record was read in part.
    pub needs_whole: bool,
}

/// Looks at one piece, and pushes what it sees.
pub type LookAtPiece = fn(&Case<'_>, &mut Vec<Diagnostic>);

/// Looks at the workshop, and pushes what it sees.
pub type LookAtWorkshop = fn(&Shop<'_>, &mut Vec<Diagnostic>);

/// What a rule looks at.
pub enum Check {
    /// Each piece by itself.
    Piece(LookAtPiece),
    /// The workshop's own files, or all pieces beside each other.
    Workshop(LookAtWorkshop),
    /// Both.
    Both(LookAtPiece, LookAtWorkshop),
}

impl Rule {
    pub(super) fn for_piece(&self) -> Option<LookAtPiece> {
        match self.check {
            Check::Piece(look) | Check::Both(look, _) => Some(look),
            Check::Workshop(_) => None,
        }
    }

    pub(super) fn for_workshop(&self) -> Option<LookAtWorkshop> {
        match self.check {
            Check::Workshop(look) | Check::Both(_, look) => Some(look),
            Check::Piece(_) => None,
        }
    }
}

/// Declares the rules of a family, each a file beside it, and lists them as `RULES`.
///
/// `cargo fmt` does not see modules that a macro declares: `rustfmt --edition 2024 src/inspect/*/*.rs` formats them.
macro_rules! rules {
    ($($rule:ident),+ $(,)?) => {
        $(mod $rule;)+

        /// The rules of this family.
        pub(super) static RULES: &[&$crate::inspect::Rule] = &[$(&$rule::RULE),+];
    };
}

/// Declares the families of rules, each a folder, and lists them as `FAMILIES`.
macro_rules! families {
    ($($family:ident),+ $(,)?) => {
        $(mod $family;)+

        /// The rules of each family.
        static FAMILIES: &[&[&Rule]] = &[$($family::RULES),+];
    };
}
