//! Measured patches, outlined on the photograph that they were measured on.

use serde::Serialize;

use crate::claim::says;
use crate::words::Words;

use super::mark::Canvas;
use crate::derive::Which;
use crate::record::Swatch;

/// A patch outlined on its photograph, in the pixels of the largest size.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PatchView {
    /// Distance from the left edge.
    pub x: f64,
    /// Distance from the top edge.
    pub y: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// Height of its letters.
    pub letters: f64,
    /// `target`, `result` or `grey card`.
    pub label: String,
}

/// The patches of a swatch, outlined on its photograph.
pub(super) fn patches(words: &Words, swatch: &Swatch, width: u32, height: u32) -> Vec<PatchView> {
    let pixels = |fraction: f64, side: u32| (fraction * f64::from(side)).round();
    let patch = |which: Which| {
        let rectangle = &which.of(swatch)?.value;
        Some(PatchView {
            x: pixels(rectangle.corner.x.value(), width),
            y: pixels(rectangle.corner.y.value(), height),
            width: pixels(rectangle.width.value(), width),
            height: pixels(rectangle.height.value(), height),
            letters: Canvas::radius(width, height) * 1.15,
            label: words.say(&match which {
                Which::Grey => says!("patch-grey"),
                Which::Target => says!("patch-target"),
                Which::Result => says!("patch-result"),
            }),
        })
    };
    Which::ALL.into_iter().filter_map(patch).collect()
}
