//! What the words of the record and of the trade's tables mean, in plain English.

use crate::record::{
    Confidence, Construction, FindingSeverity, Held, Level, Outcome, PhotoStage, Standing, Undoable, Why,
};
use crate::trade::{Era, Layer};

pub(crate) fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Original => "original",
        Standing::OldRepair => "old repair",
        Standing::Later => "later",
        Standing::Salvaged => "salvaged",
        Standing::New => "new",
        Standing::Removed => "removed",
        Standing::Missing => "missing",
        Standing::Unknown => "not known",
    }
}

pub(crate) fn standing_meaning(standing: Standing) -> &'static str {
    match standing {
        Standing::Original => "as first made, as far as is known",
        Standing::OldRepair => "repaired or replaced long ago, date not known",
        Standing::Later => "added or changed after making, before this workshop",
        Standing::Salvaged => "an old part from elsewhere, fitted by this workshop",
        Standing::New => "made or bought new by this workshop",
        Standing::Removed => "taken away by this workshop",
        Standing::Missing => "absent when found, and not replaced",
        Standing::Unknown => "it cannot be told",
    }
}

pub(crate) fn level(level: Level) -> (&'static str, &'static str) {
    match level {
        Level::Stabilise => ("Stabilised", "present damage was stopped, and nothing more was done"),
        Level::Restore => ("Restored", "it was brought back to a known earlier look or use"),
        Level::Repair => ("Repaired", "it was made sound and usable; looks came second"),
        Level::Refurbish => ("Refurbished", "it was made good for use today"),
        Level::Refinish => ("Refinished", "the surface coating was removed and renewed"),
        Level::Adapt => ("Adapted", "it was changed for another use"),
        Level::Unknown => ("Worked on", "how far the work went is not known"),
    }
}

pub(crate) fn severity(severity: FindingSeverity) -> &'static str {
    match severity {
        FindingSeverity::Trace => "a trace",
        FindingSeverity::Minor => "minor",
        FindingSeverity::Moderate => "moderate",
        FindingSeverity::Major => "major",
        FindingSeverity::Unknown => "how serious is not known",
    }
}

pub(crate) fn confidence(confidence: Confidence) -> &'static str {
    match confidence {
        Confidence::Low => "a guess",
        Confidence::Fair => "more likely than not",
        Confidence::High => "hardly in doubt",
        Confidence::Unknown => "how sure is not known",
    }
}

pub(crate) fn undoable(undoable: Undoable) -> &'static str {
    match undoable {
        Undoable::Yes => "can be undone",
        Undoable::Partly => "can be undone in part",
        Undoable::No => "cannot be undone",
        Undoable::Unknown => "whether it can be undone is not known",
    }
}

pub(crate) fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Well => "turned out as intended",
        Outcome::Partly => "turned out only in part",
        Outcome::Failed => "failed",
        Outcome::Unknown => "how it turned out is not known",
    }
}

pub(crate) fn why_undone(why: Why) -> &'static str {
    match why {
        Why::NotNeeded => "no mending was needed",
        Why::WouldCostOriginal => "mending it would have cost original material",
        Why::NoPart => "no fitting part could be found",
        Why::NoSkill => "it is beyond this workshop's skill or tools",
        Why::NotWorth => "it would have cost more than it gives",
        Why::Unsafe => "opening it up would have done harm",
        Why::TooWorn => "nothing sound is left to fix to",
        Why::Unknown => "the reason was not recorded",
    }
}

pub(crate) fn build(build: Construction) -> &'static str {
    match build {
        Construction::Solid => "solid",
        Construction::Veneered => "veneered",
        Construction::Panel => "panel",
        Construction::Turned => "turned",
        Construction::Bent => "bent",
        Construction::Metal => "metal",
        Construction::Glass => "glass",
        Construction::Stone => "stone",
        Construction::Textile => "textile",
        Construction::Leather => "leather",
        Construction::Unknown => "build not known",
    }
}

pub(crate) fn held(held: Held) -> &'static str {
    match held {
        Held::Free => "free to swell and shrink",
        Held::FixedAcross => "held fast across the grain",
        Held::Unknown => "how it is held is not known",
    }
}

pub(crate) fn stage(stage: Option<PhotoStage>) -> &'static str {
    match stage {
        Some(PhotoStage::Before) => "Before",
        Some(PhotoStage::During) => "At work",
        Some(PhotoStage::Hidden) => "Now hidden",
        Some(PhotoStage::After) => "After",
        Some(PhotoStage::Handover) => "At handover",
        None => "Undated",
    }
}

pub(crate) fn era(era: Era) -> &'static str {
    match era {
        Era::Traditional => "traditional",
        Era::Modern => "modern",
        Era::Either => "old or modern",
    }
}

pub(crate) fn layer(layer: Option<Layer>) -> &'static str {
    match layer {
        Some(Layer::InWood) => "in the wood",
        Some(Layer::ThinFilm) => "a thin film",
        Some(Layer::Film) => "a film",
        Some(Layer::Colour) => "colour",
        Some(Layer::Preparation) => "preparation",
        Some(Layer::Surface) => "the bare material",
        None => "where it lies is not known",
    }
}
