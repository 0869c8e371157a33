//! What the words of a test's result come to.

use super::mention::{denies, mentions};
use crate::record::{NOT_TESTED, UNKNOWN};

/// What a test showed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// It is there, or it failed.
    Positive,
    /// It was not tested, or the words do not tell.
    Open,
    /// It is not there, or it passed.
    Negative,
}

/// Words that settle it, whatever stands beside them.
const OUTRIGHT: [&str; 3] = ["positive", "failed", "fail"];

/// Words that say that something is there, unless another word of the result says that it is not.
const THERE: [&str; 5] = ["present", "detected", "found", "contains", "holds"];

/// Words that say that nothing is there, or that all is well.
const NEGATIVE: [&str; 6] = ["negative", "none", "nothing", "absent", "passed", "pass"];

/// Reads a test's result.
///
/// One positive clause outweighs any number of negative ones: "negative on top, positive below" is
/// positive. Whatever the words do not tell is open, never negative.
pub(super) fn verdict(result: &str) -> Verdict {
    let result = result.trim();
    if [NOT_TESTED, UNKNOWN].contains(&result) {
        return Verdict::Open;
    }
    let any = |words: &[&str]| words.iter().any(|word| mentions(result, word));
    let denied = OUTRIGHT.iter().chain(&THERE).any(|word| denies(result, word));
    if any(&OUTRIGHT) {
        Verdict::Positive
    } else if any(&NEGATIVE) || denied {
        Verdict::Negative
    } else if any(&THERE) {
        Verdict::Positive
    } else {
        Verdict::Open
    }
}

/// What several tests of one thing come to: positive where any is, negative where all are.
pub(super) fn together(verdicts: impl IntoIterator<Item = Verdict>) -> Verdict {
    // The order of the verdicts is that of their weight, and no test at all leaves the question open.
    verdicts.into_iter().min().unwrap_or(Verdict::Open)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(result: &str, expected: Verdict) {
        assert_eq!(verdict(result), expected, "{result}");
    }

    #[test]
    fn plain_words_are_understood() {
        case("negative", Verdict::Negative);
        case("Negative on all three coats", Verdict::Negative);
        case("none found", Verdict::Negative);
        case("no lead found", Verdict::Negative);
        case("not detected", Verdict::Negative);
        case("passed", Verdict::Negative);
        case("nothing found", Verdict::Negative);
        case("found to be negative", Verdict::Negative);
        case("did not fail", Verdict::Negative);
        case("positive", Verdict::Positive);
        case("positive in the oldest coat", Verdict::Positive);
        case("lead present, about 2 %", Verdict::Positive);
        case("failed: no earth", Verdict::Positive);
    }

    #[test]
    fn the_worse_of_two_clauses_counts() {
        case("negative on the top coat, positive in the oldest", Verdict::Positive);
    }

    #[test]
    fn what_is_not_told_is_open() {
        case("not-tested", Verdict::Open);
        case("unknown", Verdict::Open);
        case("the laboratory has not answered", Verdict::Open);
        case("no softening: not shellac; what it is we do not know", Verdict::Open);
    }

    #[test]
    fn tests_together_are_as_good_as_their_worst() {
        assert_eq!(together([]), Verdict::Open);
        assert_eq!(together([Verdict::Negative, Verdict::Negative]), Verdict::Negative);
        assert_eq!(together([Verdict::Negative, Verdict::Open]), Verdict::Open);
        assert_eq!(together([Verdict::Open, Verdict::Positive]), Verdict::Positive);
    }
}
