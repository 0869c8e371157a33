//! A piece that leaves, and what it is not ready for.

use crate::diag::{Diagnostic, Place};
use crate::record::Record;

rules! {
    handover_before_last_work,
    handover_before_light_use,
    open_at_handover,
}

/// What to do with something that is still open.
const SETTLE: &str = "record the work that settled it, or move it to `[[undone]]`";

/// What is still open in a record, for a handover that is to come.
pub fn still_open(path: &str, record: &Record) -> Vec<Diagnostic> {
    let code = open_at_handover::RULE.code;
    let open = record.open.iter().map(|open| {
        let message = format!("\"{}\" is still open", open.what.0);
        Diagnostic::new(code, Place::at(path, &open.what.span), message).help(SETTLE)
    });
    open.collect()
}
