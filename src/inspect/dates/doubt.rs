//! What is called old and weighs against its date, which two rules report by how much it weighs.

use crate::derive::dating::{Against, DatedThing, Evidence, Plausibility};
use crate::diag::{Code, Diagnostic};
use crate::inspect::Case;
use crate::record::Standing;
use crate::unit::Edtf;

/// Reports what is called old and weighs so against its date.
///
/// Of unknown standing nothing is claimed, and a found finish has no standing of its own: both are told in the
/// papers alone.
pub(super) fn doubts(
    case: &Case<'_>,
    code: &'static Code,
    plausibility: Plausibility,
    seen: &mut Vec<Diagnostic>,
) {
    let claimed = [Standing::Original, Standing::OldRepair];
    let doubted =
        |evidence: &&Evidence| evidence.plausibility == plausibility && claimed.contains(&evidence.standing);
    for evidence in case.facts.dating.iter().filter(doubted) {
        let (span, whose) = match &evidence.of {
            DatedThing::Part(part) => (&part.standing.span, format!(" in `{}`", part.id.0)),
            DatedThing::Fixing(fixing) => (&fixing.standing.span, String::new()),
            DatedThing::Found(..) => continue,
        };
        let Some((claim, which)) = claim(case, evidence) else { continue };
        let known = evidence.known;
        let since = match plausibility {
            Plausibility::Impossible => format!("not known before {}", known.not_before),
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
fn claim<'a>(case: &Case<'a>, evidence: &'a Evidence) -> Option<(&'a Edtf, &'static str)> {
    match (evidence.against?, &evidence.of) {
        (Against::Made, _) => Some((&case.record.made.as_ref()?.value, "made")),
        (Against::Since, DatedThing::Part(part)) => Some((&part.since.as_ref()?.value, "since")),
        (Against::Since, _) => None,
    }
}
