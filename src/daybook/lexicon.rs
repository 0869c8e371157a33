//! What the words of the bench tell: deeds, parts, grits.

use super::hits::Table;
use super::words::lists;

/// How something was done to a surface, or with a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Deed {
    /// A finish was laid.
    Apply,
    /// Dirt was taken off.
    Clean,
    /// A finish was taken off.
    Strip,
    /// It was rubbed with an abrasive.
    Abrade,
    /// It was glued.
    Glue,
    /// It was made to run or close.
    Ease,
    /// Something was put in another's place.
    Replace,
    /// Something was fitted.
    Fit,
    /// New wood was let in.
    Splice,
    /// A hole or a crack was filled.
    Fill,
    /// It was taken off or apart.
    TakeOff,
    /// Something was found or seen.
    See,
    /// It was kept.
    Keep,
    /// Anything else that was done.
    Other,
}

impl Deed {
    pub(super) const ALL: [Deed; 14] = [
        Deed::Apply,
        Deed::Clean,
        Deed::Strip,
        Deed::Abrade,
        Deed::Glue,
        Deed::Ease,
        Deed::Replace,
        Deed::Fit,
        Deed::Splice,
        Deed::Fill,
        Deed::TakeOff,
        Deed::See,
        Deed::Keep,
        Deed::Other,
    ];

    /// The words that tell it.
    pub(super) fn words(self) -> &'static [&'static str] {
        let deeds = &lists().deeds;
        match self {
            Deed::Apply => &deeds.apply,
            Deed::Clean => &deeds.clean,
            Deed::Strip => &deeds.strip,
            Deed::Abrade => &deeds.abrade,
            Deed::Glue => &deeds.glue,
            Deed::Ease => &deeds.ease,
            Deed::Replace => &deeds.replace,
            Deed::Fit => &deeds.fit,
            Deed::Splice => &deeds.splice,
            Deed::Fill => &deeds.fill,
            Deed::TakeOff => &deeds.take_off,
            Deed::See => &deeds.see,
            Deed::Keep => &deeds.keep,
            Deed::Other => &deeds.other,
        }
    }
}

/// How work turned out, the worst first, with the words that tell it.
pub(super) fn outcomes() -> [(&'static str, &'static [&'static str]); 3] {
    let outcomes = &lists().outcomes;
    [("failed", &outcomes.failed), ("partly", &outcomes.partly), ("well", &outcomes.well)]
}

/// Single words that a day book has in other senses than a table.
pub(super) fn otherwise(table: Table) -> &'static [&'static str] {
    let otherwise = &lists().otherwise;
    match table {
        Table::Finish => &otherwise.finish,
        Table::Treatment => &otherwise.treatment,
        Table::Term => &otherwise.term,
        Table::Fixing => &otherwise.fixing,
        Table::Repair => &otherwise.repair,
        Table::Timber => &otherwise.timber,
        Table::Edging => &[],
    }
}

/// Numbers of abrasive papers.
pub(super) const GRITS: &[u32] = &[
    36, 40, 50, 60, 80, 100, 120, 150, 180, 220, 240, 280, 320, 360, 400, 500, 600, 800, 1000, 1200, 1500,
    2000, 2500, 3000,
];

/// The part that a word names, in the singular.
pub(super) fn part(word: &str) -> Option<&'static str> {
    let plural = lists().plurals.get(word).copied();
    let single = word.strip_suffix('s').unwrap_or(word);
    lists().parts.names.iter().copied().find(|part| *part == word || *part == single || Some(*part) == plural)
}
