//! Findings that tell of no fault: what was looked for is not there, or nobody looked.

use crate::trade::{Taken, Trade};

/// What is said of a thing that has no fault.
const WELL: [&str; 12] =
    ["clean", "dry", "fine", "good", "intact", "none", "nothing", "ok", "okay", "solid", "sound", "well"];

/// What stands beside it: `all in good order`.
const BESIDE: [&str; 8] = ["all", "in", "is", "it", "looks", "order", "still", "very"];

/// Words before what is not there, and what may stand between: `no sign of rot`.
const LACKING: [&str; 4] = ["no", "none", "nothing", "without"];
const BETWEEN: [&str; 5] = ["any", "of", "sign", "signs", "trace"];

/// What may be absent besides the faults of the table.
const FAULTS: [&str; 15] = [
    "change", "damage", "defect", "defects", "fault", "faults", "found", "issues", "loose", "missing",
    "problem", "problems", "report", "see", "wrong",
];

/// What nobody did.
const UNDONE: [&str; 6] = ["checked", "examined", "inspected", "looked", "opened", "seen"];

/// Whether a finding says that all is well: "no worm", "nothing wrong", "sound"; not "no key", which is a thing missed.
///
/// # Source
/// Common practice, no source.
pub(crate) fn all_is_well(seen: &str, trade: &Trade) -> bool {
    let said = seen.to_lowercase();
    let clauses = said.split([',', ';', '.', ':', '(', ')']);
    let clauses = clauses.map(|clause| clause.split_whitespace().collect::<Vec<&str>>());
    let mut clauses = clauses.filter(|clause| !clause.is_empty()).peekable();
    // Words that nobody knows may tell a fault, and a fault is never left out: "sound, wobbles at the back".
    clauses.peek().is_some() && clauses.all(|clause| is_well(&clause, trade))
}

fn is_well(clause: &[&str], trade: &Trade) -> bool {
    if clause.iter().any(|word| WELL.contains(word))
        && clause.iter().all(|word| WELL.contains(word) || BESIDE.contains(word))
    {
        return true;
    }
    let [first, rest @ ..] = clause else { return false };
    let from = rest.iter().position(|word| !BETWEEN.contains(word)).unwrap_or(rest.len());
    LACKING.contains(first) && is_fault(&rest[from..], trade)
}

/// Whether a finding says that nobody looked: "not looked at", "not opened".
pub(crate) fn nobody_looked(seen: &str) -> bool {
    let said = seen.to_lowercase();
    let mut words = said.split_whitespace();
    words.next() == Some("not") && words.next().is_some_and(|word| UNDONE.contains(&word))
}

fn is_fault(words: &[&str], trade: &Trade) -> bool {
    let known =
        || !matches!(trade.term_words().taken(&words.join(" ")), Taken::Unknown | Taken::Elsewhere(_));
    !words.is_empty() && (words.iter().any(|word| FAULTS.contains(word)) || known())
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
            "sound, wobbles at the back",
            "tight",
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
