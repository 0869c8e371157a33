//! What the words of a test's result come to.

use super::mention::{denies, mentions};
use crate::record::{NOT_TESTED, UNKNOWN};

/// What a test showed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TestReading {
    /// It is there, or it failed.
    Positive,
    /// It was not tested, or the words do not tell.
    Open,
    /// It is not there, or it passed.
    Negative,
}

/// Words that settle it, whatever stands beside them.
const OUTRIGHT: [&str; 9] = [
    "positive",
    "failed",
    "fail",
    "above the limit",
    "over the limit",
    "turned red",
    "turned pink",
    "turned black",
    "turned brown",
];

/// Words that say that something is there, unless another word of the result says that it is not.
const THERE: [&str; 5] = ["present", "detected", "found", "contains", "holds"];

/// Words that say that nothing is there, or that all is well.
const NEGATIVE: [&str; 9] = [
    "negative",
    "none",
    "nothing",
    "absent",
    "passed",
    "pass",
    "below the limit",
    "under the limit",
    "no change",
];

/// Words that say that what a test looked for failed it.
const FAILED: [&str; 2] = ["failed", "fail"];

/// Reads a test's result.
///
/// One positive clause outweighs any number of negative ones: "negative on top, positive below" is
/// positive. Whatever the words do not tell is open, never negative.
pub(in crate::derive) fn reading(result: &str) -> TestReading {
    let result = result.trim();
    if [NOT_TESTED, UNKNOWN].contains(&result) {
        return TestReading::Open;
    }
    let any = |words: &[&str]| words.iter().any(|word| mentions(result, word));
    let denied = OUTRIGHT.iter().chain(&THERE).any(|word| denies(result, word));
    if any(&OUTRIGHT) {
        TestReading::Positive
    } else if any(&NEGATIVE) || denied {
        TestReading::Negative
    } else if any(&THERE) {
        TestReading::Positive
    } else {
        TestReading::Open
    }
}

/// Reads the result of a test that looked for what makes a thing safe, such as a label: it is well where that is there,
/// and where it is not nothing is known.
pub(in crate::derive) fn reading_of_sought(result: &str) -> TestReading {
    let any = |words: &[&str]| words.iter().any(|word| mentions(result, word));
    match reading(result) {
        _ if any(&FAILED) => TestReading::Positive,
        TestReading::Positive => TestReading::Negative,
        TestReading::Negative if any(&["passed", "pass"]) => TestReading::Negative,
        _ => TestReading::Open,
    }
}

/// What several tests of one thing come to: positive where any is, negative where all are.
pub(in crate::derive) fn together(readings: impl IntoIterator<Item = TestReading>) -> TestReading {
    // The order of the readings is that of their weight, and no test at all leaves the question open.
    readings.into_iter().min().unwrap_or(TestReading::Open)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(result: &str, expected: TestReading) {
        assert_eq!(reading(result), expected, "{result}");
    }

    #[test]
    fn plain_words_are_understood() {
        case("negative", TestReading::Negative);
        case("Negative on all three coats", TestReading::Negative);
        case("none found", TestReading::Negative);
        case("no lead found", TestReading::Negative);
        case("not detected", TestReading::Negative);
        case("passed", TestReading::Negative);
        case("nothing found", TestReading::Negative);
        case("below the limit of 90 ppm", TestReading::Negative);
        case("not above the limit", TestReading::Negative);
        case("1.4 mg/cm2, above the limit", TestReading::Positive);
        case("found to be negative", TestReading::Negative);
        case("did not fail", TestReading::Negative);
        case("positive", TestReading::Positive);
        case("positive in the oldest coat", TestReading::Positive);
        case("lead present, about 2 %", TestReading::Positive);
        case("failed: no earth", TestReading::Positive);
    }

    #[test]
    fn the_worse_of_two_clauses_counts() {
        case("negative on the top coat, positive in the oldest", TestReading::Positive);
    }

    #[test]
    fn what_is_not_told_is_open() {
        case("not-tested", TestReading::Open);
        case("unknown", TestReading::Open);
        case("the laboratory has not answered", TestReading::Open);
        case("no softening: not shellac; what it is we do not know", TestReading::Open);
    }

    #[test]
    fn a_label_that_is_there_is_well() {
        assert_eq!(reading_of_sought("present, sewn to the frame"), TestReading::Negative);
        assert_eq!(reading_of_sought("passed"), TestReading::Negative);
        assert_eq!(reading_of_sought("none found"), TestReading::Open);
        assert_eq!(reading_of_sought("not-tested"), TestReading::Open);
        assert_eq!(reading_of_sought("failed the match test"), TestReading::Positive);
    }

    #[test]
    fn tests_together_are_as_good_as_their_worst() {
        assert_eq!(together([]), TestReading::Open);
        assert_eq!(together([TestReading::Negative, TestReading::Negative]), TestReading::Negative);
        assert_eq!(together([TestReading::Negative, TestReading::Open]), TestReading::Open);
        assert_eq!(together([TestReading::Open, TestReading::Positive]), TestReading::Positive);
    }
}
