//! Pictures cut to shapes for sharing and for posts, through the darkroom.

use super::MOST_PIXELS;
use super::workroom::Pictures;
use crate::photo::{self, Fault};
use crate::view::Cut;
use crate::write::{Darkroom, KeptFile, Key, WriteError};

/// Cuts a picture from those that a piece shows, or takes it from the darkroom; `None` where one of them is not there.
///
/// # Errors
/// [`WriteError`] where a picture cannot be read or kept.
pub(super) fn cut(
    darkroom: &Darkroom,
    pictures: &Pictures,
    wanted: &Cut,
) -> Result<Option<KeptFile>, WriteError> {
    let from: Option<Vec<&KeptFile>> = wanted.from.iter().map(|name| pictures.get(name)).collect();
    let Some(from) = from else { return Ok(None) };
    let shape = serde_json::to_vec(&(wanted.frame, wanted.keep)).expect("numbers are always JSON");
    let version = photo::FRAMING.to_le_bytes();
    let mut parts: Vec<&[u8]> = vec![&shape, &version];
    parts.extend(from.iter().map(|file| file.digest.as_bytes()));
    let key = Key::of("framed", &parts);
    if let Some(kept) = darkroom.get::<()>(&key) {
        return Ok(kept.files.into_iter().next());
    }
    let bytes = from.into_iter().map(KeptFile::bytes).collect::<Result<Vec<_>, _>>()?;
    // They were developed here, so that one that is no picture was spoilt since, and is made anew by and by.
    let framed: Result<_, Fault> = photo::framed(&bytes, wanted.frame, wanted.keep, MOST_PIXELS);
    let Ok(picture) = framed else { return Ok(None) };
    let kept = darkroom.keep(&key, (), &[("framed.jpg".to_owned(), picture.bytes)])?;
    Ok(kept.files.into_iter().next())
}
