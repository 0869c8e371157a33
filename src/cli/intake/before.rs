//! What the archive knows of pieces like a new one: their hours, and what was to be remembered.

use std::path::Path;

use crate::archive::{Asking, Lesson, Spread};
use crate::cli::today;
use crate::cli::voice::Voice;
use crate::cli::words::count;
use crate::journey;
use crate::unit::legible::one_line;
use crate::unit::wrapped;

/// How many lessons are told.
const TOLD: usize = 6;

/// What is known of pieces of this kind, in lines; `None` where that is nothing.
pub(super) fn known(workshop: &Path, kind: &str, name: &str, voice: &Voice) -> Option<String> {
    let opened = journey::archive_at_hand(workshop, &workshop.join("written"))?;
    let asking = Asking { archive: &opened.archive, trade: &opened.trade, today: today() };
    // A new piece is opened all the same where the archive cannot answer.
    let begun = asking.begun(kind, name).ok()?;
    let (lessons, mut lines) = (begun.lessons, Vec::new());
    if let Some((by, hours)) = begun.hours {
        lines.push(wrapped(&one_line(&took(&by, &hours)), voice.text_width() - 2, "  "));
    }
    for Lesson { lesson, piece, .. } in lessons.iter().take(TOLD) {
        let lesson = format!("{lesson} ({})", piece.number);
        lines.push(wrapped(&one_line(&lesson), voice.text_width() - 2, "  "));
    }
    if lessons.len() > TOLD {
        lines.push(format!(
            "and {}: `witnessmark consult lessons`",
            count(lessons.len() - TOLD, "more", "more")
        ));
    }
    if lines.is_empty() {
        return None;
    }
    Some(format!("\n{}\n  {}", voice.strong("Before you begin"), lines.join("\n  ")))
}

/// How long pieces of a kind took.
fn took(kind: &str, hours: &Spread) -> String {
    let shown = |hours: rust_decimal::Decimal| hours.round_dp(2).normalize().to_string();
    let (low, high) = hours.likely();
    match hours.count {
        1 => format!("One piece of the kind {kind} took {} hours.", shown(hours.median)),
        several => format!(
            "{} of the kind {kind} took {} to {} hours, {} in the middle.",
            count(several, "piece", "pieces"),
            shown(low),
            shown(high),
            shown(hours.median)
        ),
    }
}
