//! What follows from one photograph once it has been opened.

use std::sync::Arc;

use super::listing::Photograph;
use super::marks::{Marked, marks};
use crate::fields::Row;
use crate::photo::{Checked, Fault};
use crate::record::Mark;

/// How a photograph answered when it was opened; `None` where nobody opened it.
pub type PhotoCheck = Option<Result<Checked, Fault>>;

/// What follows from one photograph.
#[derive(Debug, Clone, PartialEq)]
pub struct PhotographFacts {
    /// The photograph.
    pub photograph: Arc<Photograph>,
    /// How it answered when it was opened.
    pub check: PhotoCheck,
    /// The marks on it, in the order of reading.
    pub marks: Vec<Marked>,
    /// The outlines of parts on it, in the order of the record.
    pub outlines: Vec<Row<Mark>>,
}

impl PhotographFacts {
    /// Derives everything about a photograph that answered so when it was opened.
    pub fn of(photograph: &Arc<Photograph>, check: PhotoCheck) -> PhotographFacts {
        let (outlines, others): (Vec<Row<Mark>>, Vec<Row<Mark>>) =
            photograph.marks().iter().cloned().partition(|mark| mark.outlines_part());
        let marks = marks(&others, size(&check));
        PhotographFacts { photograph: photograph.clone(), check, marks, outlines }
    }

    /// What was learnt of it, where it could be opened.
    pub fn checked(&self) -> Option<&Checked> {
        self.check.as_ref()?.as_ref().ok()
    }

    /// The size of the upright photograph in pixels, where it could be opened.
    pub fn size(&self) -> Option<(u32, u32)> {
        size(&self.check)
    }
}

fn size(check: &PhotoCheck) -> Option<(u32, u32)> {
    let header = &check.as_ref()?.as_ref().ok()?.header;
    Some((header.width, header.height))
}
