//! Something called old that did not exist yet at the time that is claimed for it.

use super::{Case, Check, Rule};
use crate::derive::dating::{Against, Dated, Evidence, Verdict};
use crate::diag::{Code, Diagnostic, Severity};
use crate::record::Standing;
use crate::unit::Edtf;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "part-before-its-time",
    severity: Severity::Warning,
    why: "A part or fixing cannot be older than the first of its kind, so it, or the date, is later than said; buyers and dealers look for just this.",
    fix: "Look again at the part: `later` or `old-repair` may be the truth. Or widen `made`, or `since`, if the date was only a guess.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    doubts(case, &CODE, Verdict::Impossible, seen);
}

/// Reports what is called old and weighs so against its date.
///
/// Of unknown standing nothing is claimed, and a found finish has no standing of its own: both are told in the
/// papers alone.
pub(super) fn doubts(case: &Case<'_>, code: &'static Code, verdict: Verdict, seen: &mut Vec<Diagnostic>) {
    let claimed = [Standing::Original, Standing::OldRepair];
    let doubted = |evidence: &&Evidence| evidence.verdict == verdict && claimed.contains(&evidence.standing);
    for evidence in case.facts.dating.iter().filter(doubted) {
        let (span, whose) = match evidence.of {
            Dated::Part(part) => {
                let part = &case.record.parts[part];
                (&part.standing.span, format!(" in `{}`", part.id.0))
            }
            Dated::Fixing(fixing) => (&case.record.fixings[fixing].standing.span, String::new()),
            Dated::Found(..) => continue,
        };
        let Some((claim, which)) = claim(case, evidence) else { continue };
        let known = evidence.known;
        let since = match verdict {
            Verdict::Impossible => format!("not known before {}", known.not_before),
            _ => format!("first known in {} and not common before {}", known.not_before, known.common_from),
        };
        let what = &evidence.what;
        let message =
            format!("{what}{whose}: {since}, and `{which}` says {claim}; evidence about the part alone");
        let help = format!("write `standing = \"later\"`, or correct `{which}` if the part is beyond doubt");
        seen.push(case.at(code, span, message).help(help));
    }
}

/// The date that something was held against, as written, and its key.
fn claim<'a>(case: &Case<'a>, evidence: &Evidence) -> Option<(&'a Edtf, &'static str)> {
    match (evidence.against?, evidence.of) {
        (Against::Made, _) => Some((&case.record.made.as_ref()?.value, "made")),
        (Against::Since, Dated::Part(part)) => {
            Some((&case.record.parts[part].since.as_ref()?.value, "since"))
        }
        (Against::Since, _) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn part(more: &str) -> String {
        sees(&RULE, &format!("made = \"1900/1924~\"\npart = [{{ id = \"back\", name = \"Back\", {more} }}]"))
    }

    fn screws(made: &str, standing: &str) -> String {
        sees(
            &RULE,
            &format!(
                "made = \"{made}\"\nfixing = [{{ kind = \"screw-crosshead\", standing = \"{standing}\" }}]"
            ),
        )
    }

    #[test]
    fn screws_of_1936_in_a_piece_of_1935() {
        assert_eq!(
            screws("1935", "original"),
            "2: cross-head screws: not known before 1936, and `made` says 1935; evidence about the part alone \
             [write `standing = \"later\"`, or correct `made` if the part is beyond doubt]"
        );
        assert_eq!(screws("1936", "original"), "");
        assert_eq!(screws("1935?", "original"), "");
        assert_eq!(screws("1900/..", "original"), "");
    }

    #[test]
    fn only_what_is_called_old_is_doubted() {
        for standing in ["later", "new", "salvaged", "unknown", "old-repair"] {
            assert_eq!(screws("1935", standing), "", "{standing}");
        }
    }

    #[test]
    fn boards_behind_an_old_mirror() {
        assert_eq!(
            part("standing = \"original\", ground = \"mdf\""),
            "2: MDF in `back`: not known before 1965, and `made` says 1900/1924~; evidence about the part alone \
             [write `standing = \"later\"`, or correct `made` if the part is beyond doubt]"
        );
        // Hardboard is of 1924, and about 1924 reaches to 1934.
        assert_eq!(part("standing = \"original\", ground = \"hardboard\""), "");
    }

    #[test]
    fn an_old_repair_is_held_against_its_own_year() {
        let repair =
            |since: &str| part(&format!("standing = \"old-repair\", since = \"{since}\", ground = \"mdf\""));
        assert_eq!(
            repair("1964"),
            "2: MDF in `back`: not known before 1965, and `since` says 1964; evidence about the part alone \
             [write `standing = \"later\"`, or correct `since` if the part is beyond doubt]"
        );
        assert_eq!(repair("1965"), "");
    }
}
