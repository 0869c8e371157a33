//! Large pictures for the picker, developed when they are asked for.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

use crate::photo::{self, Fault, Settings};
use crate::write::fingerprint;

/// The widest that a picture is: on it, one of its pixels can still be pointed at.
const WIDTH: u32 = 4000;

/// How wide a picture is that only stands for its photograph.
const SMALL: u32 = 480;

/// How many bytes of pictures are kept.
const ROOM: usize = 48_000_000;

/// Developed pictures, the latest first; the oldest go where there is no room.
#[derive(Debug, Default)]
pub(super) struct Enlarger {
    kept: Mutex<VecDeque<(String, Arc<Vec<u8>>)>>,
    /// One photograph is developed at a time, since each takes the memory of its pixels.
    table: Mutex<()>,
}

impl Enlarger {
    /// The upright picture of a photograph in sRGB, as a JPEG.
    ///
    /// # Errors
    /// Any [`Fault`] of the photograph.
    pub(super) fn picture(&self, photograph: &[u8], max_pixels: u64) -> Result<Arc<Vec<u8>>, Fault> {
        self.developed(photograph, max_pixels, WIDTH)
    }

    /// The same, as small as it stands beside words.
    ///
    /// # Errors
    /// Any [`Fault`] of the photograph.
    pub(super) fn small(&self, photograph: &[u8], max_pixels: u64) -> Result<Arc<Vec<u8>>, Fault> {
        self.developed(photograph, max_pixels, SMALL)
    }

    fn developed(&self, photograph: &[u8], max_pixels: u64, width: u32) -> Result<Arc<Vec<u8>>, Fault> {
        let print = format!("{width} {}", fingerprint(photograph));
        if let Some(kept) = self.find(&print) {
            return Ok(kept);
        }
        let _busy = self.table.lock().unwrap_or_else(PoisonError::into_inner);
        // Another request may have asked for the same one meanwhile.
        if let Some(kept) = self.find(&print) {
            return Ok(kept);
        }
        let settings = Settings { widths: vec![width], quality: 88, max_pixels };
        let developed = photo::develop(photograph, &settings)?;
        let widest =
            developed.pictures.into_iter().next().expect("a photograph has a picture of one size at least");
        let picture = Arc::new(widest.bytes);
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        kept.push_front((print, Arc::clone(&picture)));
        while kept.len() > 1 && kept.iter().map(|(_, picture)| picture.len()).sum::<usize>() > ROOM {
            kept.pop_back();
        }
        Ok(picture)
    }

    fn find(&self, print: &str) -> Option<Arc<Vec<u8>>> {
        let kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        kept.iter().find(|(known, _)| known == print).map(|(_, picture)| Arc::clone(picture))
    }
}
