//! Findings that tell of no fault: what was looked for is not there, or nobody looked.

use crate::trade::{Taken, Trade};

/// What is said of a thing that has no fault, in small letters.
const WELL: [&str; 16] = [
    "all fine",
    "all good",
    "all sound",
    "all well",
    "clean",
    "fine",
    "good",
    "in good order",
    "intact",
    "none",
    "nothing",
    "ok",
    "okay",
    "solid",
    "sound",
    "tight",
];

/// Words before what is not there.
const LACKING: [&str; 7] =
    ["no", "none of", "no sign of", "no signs of", "no trace of", "nothing", "without"];

/// What may be absent besides the faults of the table.
const FAULTS: [&str; 16] = [
    "change",
    "damage",
    "defect",
    "defects",
    "fault",
    "faults",
    "found",
    "issues",
    "loose",
    "missing",
    "problem",
    "problems",
    "seen",
    "to report",
    "to see",
    "wrong",
];

/// Words before what nobody did.
const NOBODY_LOOKED: [&str; 7] =
    ["could not see", "not checked", "not examined", "not inspected", "not looked", "not opened", "not seen"];

/// Whether a finding says that all is well: "no worm", "nothing wrong", "sound"; not "no key", which is a thing missed.
///
/// # Source
/// Common practice, no source.
pub(crate) fn all_is_well(seen: &str, trade: &Trade) -> bool {
    let said = seen.to_lowercase();
    let mut clauses =
        said.split([',', ';', '.', ':', '(', ')']).map(str::trim).filter(|clause| !clause.is_empty());
    let Some(first) = clauses.next() else { return false };
    let well = |clause: &str| {
        WELL.contains(&clause)
            || LACKING.iter().filter_map(|word| after(clause, word)).any(|rest| is_fault(rest, trade))
    };
    // What is told behind it may be a fault all the same: "sound, but one leg is loose".
    well(first)
        && clauses.all(|clause| well(clause) || matches!(trade.term_words().taken(clause), Taken::Unknown))
}

/// Whether a finding says that nobody looked.
pub(crate) fn nobody_looked(seen: &str) -> bool {
    let said = seen.trim().to_lowercase();
    NOBODY_LOOKED.iter().any(|words| said == *words || after(&said, words).is_some())
}

fn after<'a>(text: &'a str, word: &str) -> Option<&'a str> {
    let rest = text.strip_prefix(word)?;
    rest.strip_prefix(' ').map(str::trim)
}

fn is_fault(words: &str, trade: &Trade) -> bool {
    let listed = words.split_whitespace().any(|word| FAULTS.contains(&word)) || FAULTS.contains(&words);
    listed || !matches!(trade.term_words().taken(words), Taken::Unknown | Taken::Elsewhere(_))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn that_nothing_is_wrong_is_no_fault() {
        let trade = Trade::built_in();
        for seen in [
            "no worm",
            "No woodworm",
            "nothing wrong",
            "sound",
            "Sound, dry",
            "no cracks",
            "no sign of rot",
            "no other damage",
        ] {
            assert!(all_is_well(seen, trade), "{seen}");
        }
        let faults = [
            "no key",
            "no knob",
            "worm",
            "not level",
            "nothing holds",
            "sound, but split at the end",
            "no back",
            "split",
            "",
        ];
        for seen in faults {
            assert!(!all_is_well(seen, trade), "{seen}");
        }
        assert!(nobody_looked("Not looked at") && nobody_looked("not opened") && !nobody_looked("not level"));
    }
}
