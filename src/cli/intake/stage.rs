//! When in the work photographs were taken, as somebody says.

use clap::ValueEnum;

use crate::record::PhotoStage;

/// When in the work photographs were taken, as it is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum Stage {
    /// As found
    Before,
    /// At work
    During,
    /// Seen once, and covered now
    Hidden,
    /// As finished
    After,
    /// On the day it left
    Handover,
}

impl Stage {
    pub(super) fn of_photographs(self) -> PhotoStage {
        match self {
            Stage::Before => PhotoStage::Before,
            Stage::During => PhotoStage::During,
            Stage::Hidden => PhotoStage::Hidden,
            Stage::After => PhotoStage::After,
            Stage::Handover => PhotoStage::Handover,
        }
    }
}
