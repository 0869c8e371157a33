//! Patches: places of a part that are not what the part is, and how much of its face they are.

use super::opened::PhotographFacts;
use crate::fields::Row;
use crate::record::{Mark, Part, Patch, PatchSize, Record};
use crate::unit::Area;

/// What follows from one patch on a part that the piece has today.
#[derive(Debug, Clone, PartialEq)]
pub struct PatchFacts {
    /// The patch.
    pub patch: Row<Patch>,
    /// The part it is on.
    pub part: Row<Part>,
    /// How large it is on the face, where that is told or outlined.
    pub area: Option<Area>,
    /// The outline that tells its size, where nothing else does.
    pub outline: Option<Row<Mark>>,
    /// Its share of the part's face, from 0 to 1, where both sizes are known and agree.
    pub share: Option<f64>,
}

/// The patches on the parts that a piece has today, in the order of the record.
pub(in crate::derive) fn patches(record: &Record, photographs: &[PhotographFacts]) -> Vec<PatchFacts> {
    let facts = |patch: &Row<Patch>| {
        let part = record.parts.iter().find(|part| part.id.value == patch.part.value && part.present())?;
        let outlined = if said_area(patch).is_none() { outlined(patch, photographs) } else { None };
        let (area, outline) = match outlined {
            Some((area, mark)) => (Some(area), Some(mark)),
            None => (said_area(patch), None),
        };
        let share = area.and_then(|area| share(area, face(part)?));
        Some(PatchFacts { patch: patch.clone(), part: part.clone(), area, outline, share })
    };
    let mut found: Vec<PatchFacts> = record.patches.iter().filter_map(facts).collect();
    let together = |found: &[PatchFacts], part: &Part| -> f64 {
        let on = found.iter().filter(|facts| facts.part.id.value == part.id.value);
        on.filter_map(|facts| facts.share).sum()
    };
    // Patches that are together larger than their part have sizes that cannot be right.
    let wrong: Vec<bool> = found.iter().map(|facts| together(&found, &facts.part) > 1.0).collect();
    for (facts, _) in found.iter_mut().zip(wrong).filter(|(_, wrong)| *wrong) {
        facts.share = None;
    }
    found
}

/// The share of a face; `None` where the patch is said to be larger than that.
fn share(patch: Area, face: Area) -> Option<f64> {
    let share = patch.m2() / face.m2();
    (share.is_finite() && share <= 1.0).then_some(share)
}

/// How large a patch is by the record's own figures.
pub fn said_area(patch: &Patch) -> Option<Area> {
    let of_size = |size: &PatchSize| match (&size.length, &size.width, &size.diameter) {
        (Some(length), Some(width), _) => Area::from_m2(length.mm() * width.mm() / 1e6),
        (None, None, Some(diameter)) => disc(diameter.mm()),
        _ => None,
    };
    let area = patch.area.as_ref().map(|area| area.value);
    area.or_else(|| patch.size.as_ref().and_then(|size| of_size(size)))
}

/// How large a patch is by the first outline of it that has a known length.
fn outlined(patch: &Patch, photographs: &[PhotographFacts]) -> Option<(Area, Row<Mark>)> {
    let id = &patch.id.as_ref()?.value;
    let marks = photographs.iter().filter(|facts| !facts.photograph.private).flat_map(|facts| &facts.marks);
    let mut of_patch = marks.filter(|marked| marked.mark.patch.as_ref().is_some_and(|of| of.value == *id));
    of_patch.find_map(|marked| Some((marked.area?.ok()?, marked.mark.clone())))
}

/// The face of a part that a patch may be a share of: a board's or a disc's.
///
/// Of several alike it is not told which has the patch, and of a box or a turned leg not what its face is.
pub fn face(part: &Part) -> Option<Area> {
    let size = part.size.as_ref()?;
    if part.how_many() > 1 || size.wall.is_some() {
        return None;
    }
    match (&size.length, &size.width, &size.diameter) {
        (Some(length), Some(width), None) => Area::from_m2(length.mm() * width.mm() / 1e6),
        (None, None, Some(diameter)) => disc(diameter.mm()),
        _ => None,
    }
}

fn disc(diameter: f64) -> Option<Area> {
    Area::from_m2(std::f64::consts::PI / 4.0 * diameter * diameter / 1e6)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::folder;

    fn shares(part: &str, patch: &str) -> Vec<Option<f64>> {
        let record = format!(
            "part = [{{ id = \"top\", name = \"Top\", {part} }}]\n\
             patch = [{{ part = \"top\", what = \"filled hole\", standing = \"new\", {patch} }}]"
        );
        let folder = folder(&record, "");
        let record = folder.pieces[0].record.as_ref().expect("it was read");
        let round = |share: f64| (share * 1e4).round() / 1e4;
        patches(record, &[]).into_iter().map(|facts| facts.share.map(round)).collect()
    }

    #[test]
    fn a_patch_is_a_share_of_its_part_s_face() {
        let board = "standing = \"original\", size = { length = 1000, width = 400, thick = 18 }";
        assert_eq!(shares(board, "size = { length = 100, width = 40 }"), [Some(0.01)]);
        assert_eq!(shares(board, "area = 100"), [Some(0.025)]);
        assert_eq!(shares(board, "size = { diameter = 100 }"), [Some(0.0196)]);
        let disc = "standing = \"original\", size = { diameter = 1000, thick = 18 }";
        assert_eq!(shares(disc, "size = { diameter = 100 }"), [Some(0.01)]);
    }

    #[test]
    fn no_share_where_a_size_is_missing_or_they_contradict_each_other() {
        let board = "standing = \"original\", size = { length = 100, width = 40 }";
        assert_eq!(shares(board, "size = { length = 20 }"), [None]);
        assert_eq!(shares(board, "area = 41"), [None]);
        assert_eq!(shares("standing = \"original\"", "area = 1"), [None]);
        assert_eq!(shares(&format!("{board}, count = 2"), "area = 1"), [None]);
    }

    #[test]
    fn a_patch_on_a_part_that_is_gone_is_history() {
        assert_eq!(shares("standing = \"removed\"", "area = 1"), []);
    }
}
