//! How one grade follows the other, as several rules report it.

use crate::derive::abrasion::{Graded, Stride};
use crate::diag::{Code, Diagnostic};
use crate::inspect::Case;

/// Reports each grade that is too much finer than the one before it: by how much says `ratio`, what follows `so`.
pub(super) fn finer(
    case: &Case<'_>,
    seen: &mut Vec<Diagnostic>,
    code: &'static Code,
    so: &str,
    ratio: fn(Stride) -> Option<f64>,
) {
    for facts in &case.facts.surfaces {
        for graded in &facts.grades {
            if let Some(ratio) = ratio(graded.stride) {
                strides(case, graded, code, &format!("is {ratio:.1} times finer than"), so, seen);
            }
        }
    }
}

/// Reports how a grade follows the one before it.
pub(super) fn strides(
    case: &Case<'_>,
    graded: &Graded,
    code: &'static Code,
    how: &str,
    so: &str,
    seen: &mut Vec<Diagnostic>,
) {
    let Some(before) = &graded.after else { return };
    let grade = &graded.written;
    let message = format!("`{}` {how} `{}`: {so}", grade.0, before.0);
    seen.push(case.at(code, &grade.span, message).help("add the grade between, or correct the order"));
}
