//! Whether a piece may be handed over, in words.

use crate::cli::words::count;
use crate::inspect::{Hindrance, Verdict};
use crate::unit::legible::one_line;

/// The word for it by which other programs ask.
pub(super) fn word(verdict: Option<&Verdict>) -> &'static str {
    match verdict {
        Some(Verdict::Gone(_)) => "gone",
        Some(Verdict::Fit { gaps: 0 }) => "fit",
        Some(Verdict::Fit { .. }) => "fit-with-gaps",
        Some(Verdict::NotYet(_)) | None => "not-yet",
    }
}

/// What keeps the piece, a clause each.
pub(super) fn reasons(verdict: Option<&Verdict>) -> Vec<String> {
    match verdict {
        Some(Verdict::NotYet(hindrances)) => hindrances.iter().map(reason).collect(),
        None => vec!["its record cannot be read".to_owned()],
        Some(_) => Vec::new(),
    }
}

fn reason(hindrance: &Hindrance) -> String {
    match hindrance {
        Hindrance::Mistakes(number) => {
            format!("{} to be mended first", count(*number, "mistake is", "mistakes are"))
        }
        Hindrance::NoWork => "nothing tells what was done to it".to_owned(),
        Hindrance::NoStandings => "nothing tells which of its parts are original".to_owned(),
        Hindrance::NoSurfaces => "nothing tells what is on its surfaces".to_owned(),
        Hindrance::Open(number) => format!("{} still open", count(*number, "thing is", "things are")),
        Hindrance::Soft { surface, from } => {
            format!("{} bears no use before {from}", one_line(surface))
        }
    }
}

/// The line that stands before the additions that would help most, or alone where there are none.
pub(in crate::cli) fn line(verdict: Option<&Verdict>, additions: usize) -> String {
    let help = match additions {
        0 => "",
        1 => "One addition that would help most:",
        2 => "Two additions that would help most:",
        3 => "Three additions that would help most:",
        _ => "Additions that would help most:",
    };
    let behind = |says: String| if help.is_empty() { says } else { format!("{says}\n{help}") };
    match verdict {
        Some(Verdict::Fit { .. }) => match additions {
            0 => "Fit to hand over.".to_owned(),
            1 => "Fit to hand over, with this gap:".to_owned(),
            2 => "Fit to hand over, with these two gaps:".to_owned(),
            3 => "Fit to hand over, with these three gaps:".to_owned(),
            _ => "Fit to hand over, with these gaps:".to_owned(),
        },
        Some(Verdict::Gone(on)) => behind(format!("It left on {on}.")),
        Some(Verdict::NotYet(_)) | None => {
            behind(format!("Not yet to be handed over: {}.", reasons(verdict).join("; ")))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_says_whether_and_why_not() {
        assert_eq!(line(Some(&Verdict::Fit { gaps: 0 }), 0), "Fit to hand over.");
        assert_eq!(line(Some(&Verdict::Fit { gaps: 3 }), 3), "Fit to hand over, with these three gaps:");
        let not_yet = Verdict::NotYet(vec![Hindrance::Mistakes(1), Hindrance::Open(2)]);
        assert_eq!(
            line(Some(&not_yet), 1),
            "Not yet to be handed over: 1 mistake is to be mended first; 2 things are still open.\n\
             One addition that would help most:"
        );
        assert_eq!(line(None, 0), "Not yet to be handed over: its record cannot be read.");
        assert_eq!((word(Some(&not_yet)), word(None)), ("not-yet", "not-yet"));
    }
}
