//! Photographs through the store: developed once, and taken from there as long as nothing about them changes.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};

use crate::derive::{self, Photograph};
use crate::photo::{self, Checked, Fault, Overlay, Patch, Picture, Settings, Tone};
use crate::record::Piece;
use crate::source::Tree;
use crate::unit::Rectangle;
use crate::write::{Kept, KeptFile, Key, Store, WriteError, fingerprint};

/// What is learnt of a photograph by decoding it, as the store keeps it.
type Look = Result<Checked, Fault>;

/// A photograph that was looked at or developed.
pub(super) struct Shot {
    /// How it answered.
    pub(super) look: Look,
    /// Its pictures with their widths, widest first; none where it was only looked at.
    pub(super) pictures: Vec<(u32, KeptFile)>,
}

impl Shot {
    pub(super) fn without_pictures(look: Look) -> Shot {
        Shot { look, pictures: Vec::new() }
    }
}

/// Two photographs that were laid onto each other.
pub(super) struct Laid {
    /// What was done about the light of the one before.
    pub(super) tone: Tone,
    /// The pictures before with their widths, widest first.
    pub(super) before: Vec<(u32, KeptFile)>,
    /// The pictures after, of the same sizes.
    pub(super) after: Vec<(u32, KeptFile)>,
}

/// Where a workshop's photographs are developed.
pub(super) struct Darkroom<'a> {
    tree: &'a Tree,
    store: &'a Store,
    settings: Settings,
    /// Goes into every key, so that other settings make other entries.
    habits: Vec<u8>,
    developed: AtomicUsize,
    taken: AtomicUsize,
}

impl<'a> Darkroom<'a> {
    pub(super) fn new(tree: &'a Tree, store: &'a Store, settings: Settings) -> Darkroom<'a> {
        let habits = serde_json::to_vec(&settings).expect("numbers are always JSON");
        Darkroom { tree, store, settings, habits, developed: 0.into(), taken: 0.into() }
    }

    /// How many photographs were developed, and how many were taken from the store.
    pub(super) fn counts(&self) -> (usize, usize) {
        (self.developed.load(Ordering::Relaxed), self.taken.load(Ordering::Relaxed))
    }

    /// Looks at a photograph, and decodes it only where the store does not know it.
    pub(super) fn look(&self, piece: &Piece, photograph: &Photograph) -> Look {
        let negative = self.fetch(piece, photograph)?;
        if let Some(shot) = self.taken(&negative.print) {
            return shot.look;
        }
        photo::check(&negative.bytes(self.tree)?, self.settings.max_pixels)
    }

    /// Develops a photograph, or takes its pictures from the store.
    ///
    /// # Errors
    /// [`WriteError`] where the pictures cannot be kept; a photograph that cannot be developed is no error.
    pub(super) fn develop(&self, piece: &Piece, photograph: &Photograph) -> Result<Shot, WriteError> {
        let negative = match self.fetch(piece, photograph) {
            Ok(negative) => negative,
            Err(fault) => return Ok(Shot::without_pictures(Err(fault))),
        };
        if let Some(shot) = self.taken(&negative.print) {
            if shot.look.is_ok() {
                self.taken.fetch_add(1, Ordering::Relaxed);
            }
            return Ok(shot);
        }
        let bytes = match negative.bytes(self.tree) {
            Ok(bytes) => bytes,
            Err(fault) => return Ok(Shot::without_pictures(Err(fault))),
        };
        // The file may have changed since it was remembered.
        let key = self.key(&fingerprint(&bytes));
        match photo::develop(&bytes, &self.settings) {
            Ok(developed) => {
                let look = Checked { header: developed.header, defects: developed.defects, patches: vec![] };
                let pictures = developed.pictures.into_iter();
                let files: Vec<_> =
                    pictures.map(|picture| (format!("{}.jpg", picture.width), picture.bytes)).collect();
                let kept = self.store.keep(&key, Ok::<_, Fault>(look.clone()), &files)?;
                self.developed.fetch_add(1, Ordering::Relaxed);
                Ok(Shot { pictures: self.widths(&look).zip(kept.files).collect(), look: Ok(look) })
            }
            Err(fault) => {
                // What the first bytes tell is not worth an entry.
                if matches!(fault, Fault::Unsupported(_) | Fault::Unreadable(_)) {
                    self.store.keep(&key, Look::Err(fault.clone()), &[])?;
                }
                Ok(Shot::without_pictures(Err(fault)))
            }
        }
    }

    /// Lays one photograph onto another, or takes the pictures from the store; `None` where one of them cannot be read.
    ///
    /// # Errors
    /// [`WriteError`] where the pictures cannot be kept.
    pub(super) fn overlay(
        &self,
        piece: &Piece,
        before: &Photograph,
        after: &Photograph,
        overlay: &Overlay,
    ) -> Result<Option<Laid>, WriteError> {
        let (Ok(before), Ok(after)) = (self.fetch(piece, before), self.fetch(piece, after)) else {
            return Ok(None);
        };
        let how = serde_json::to_vec(overlay).expect("numbers are always JSON");
        let key = |before: &str, after: &str| {
            let prints = [before.as_bytes(), after.as_bytes()];
            Key::of("overlaid", &[prints[0], prints[1], &how, &self.habits, &photo::VERSION.to_le_bytes()])
        };
        let sizes = overlay.sizes(&self.settings.widths);
        let laid = |kept: Kept<Tone>| {
            let mut files = kept.files.into_iter();
            let mut pictures = || sizes.iter().map(|(width, _)| *width).zip(files.by_ref()).collect();
            Laid { tone: kept.note, before: pictures(), after: pictures() }
        };
        if let Some(kept) = self.store.get(&key(&before.print, &after.print)) {
            return Ok(Some(laid(kept)));
        }
        let (Ok(before), Ok(after)) = (before.bytes(self.tree), after.bytes(self.tree)) else {
            return Ok(None);
        };
        // A photograph that fails now was read a moment ago; the two then stand side by side.
        let Ok(overlaid) = photo::overlay(&before, &after, overlay, &self.settings) else { return Ok(None) };
        let file = |end: &str, picture: Picture| (format!("{end}-{}.jpg", picture.width), picture.bytes);
        let befores = overlaid.before.into_iter().map(|picture| file("before", picture));
        let afters = overlaid.after.into_iter().map(|picture| file("after", picture));
        let files: Vec<_> = befores.chain(afters).collect();
        // The files may have changed since they were remembered.
        let key = key(&fingerprint(&before), &fingerprint(&after));
        Ok(Some(laid(self.store.keep(&key, overlaid.tone, &files)?)))
    }

    /// Adds to what was learnt of a photograph the patches that the record's swatches name on it; mostly there are none.
    ///
    /// Measuring needs every pixel, so what it gave is kept too. A photograph that answered before and does not answer
    /// now stays unmeasured, as does one whose measures cannot be kept in a store that is only read: they are taken anew.
    pub(super) fn measure(&self, piece: &Piece, photograph: &Photograph, look: &mut Look) {
        let (Some(record), Ok(checked)) = (&piece.record, look) else { return };
        let rectangles = derive::swatch::rectangles(record, &photograph.file);
        if rectangles.is_empty() {
            return;
        }
        let Ok(negative) = self.fetch(piece, photograph) else { return };
        let key = Key::of(
            "measured",
            &[negative.print.as_bytes(), &places(&rectangles), &photo::MEASURING.to_le_bytes()],
        );
        let patches = match self.store.get::<Vec<Option<Patch>>>(&key) {
            Some(kept) => kept.note,
            None => {
                let measured = negative
                    .bytes(self.tree)
                    .and_then(|bytes| photo::patches(&bytes, self.settings.max_pixels, &rectangles));
                let Ok(patches) = measured else { return };
                // Nothing is lost where it cannot be kept but the time to measure once more.
                let _ = self.store.keep(&key, &patches, &[]);
                patches
            }
        };
        checked.patches = rectangles.into_iter().zip(patches).collect();
    }

    /// What the store has of a content.
    fn taken(&self, print: &str) -> Option<Shot> {
        let kept = self.store.get::<Look>(&self.key(print))?;
        let pictures = match &kept.note {
            Ok(checked) => self.widths(checked).zip(kept.files).collect(),
            Err(_) => Vec::new(),
        };
        Some(Shot { look: kept.note, pictures })
    }

    fn key(&self, print: &str) -> Key {
        Key::of("developed", &[print.as_bytes(), &self.habits, &photo::VERSION.to_le_bytes()])
    }

    fn widths(&self, checked: &Checked) -> impl Iterator<Item = u32> + use<> {
        let sizes = photo::sizes(checked.header.width, checked.header.height, &self.settings.widths);
        sizes.into_iter().map(|(width, _)| width)
    }

    /// The fingerprint of a photograph, from its identity where it was seen before, else from its bytes.
    fn fetch(&self, piece: &Piece, photograph: &Photograph) -> Result<Negative, Fault> {
        Negative::fetch(self.tree, self.store, piece.photo_path(&photograph.file))
    }
}

/// The fingerprints of a piece's public photographs, by file; those that cannot be read have none.
pub(super) fn prints(tree: &Tree, store: &Store, piece: &Piece) -> BTreeMap<String, String> {
    let print = |file: String| {
        let negative = Negative::fetch(tree, store, piece.photo_path(&file)).ok()?;
        Some((file, negative.print))
    };
    piece.public_photographs().into_iter().filter_map(print).collect()
}

/// The same from the bytes as they are now, whatever the store remembers.
pub(super) fn prints_afresh(tree: &Tree, piece: &Piece) -> BTreeMap<String, String> {
    let print = |file: String| {
        let bytes = read(tree, &piece.photo_path(&file)).ok()?;
        Some((file, fingerprint(&bytes)))
    };
    piece.public_photographs().into_iter().filter_map(print).collect()
}

/// Rectangles as part of a key: their numbers to the last digit.
fn places(rectangles: &[Rectangle]) -> Vec<u8> {
    let numbers = rectangles
        .iter()
        .flat_map(|rectangle| [rectangle.corner.x, rectangle.corner.y, rectangle.width, rectangle.height]);
    numbers.flat_map(|number| number.value().to_le_bytes()).collect()
}

/// A photograph's content: its fingerprint, and its bytes where they had to be read for it.
struct Negative {
    path: String,
    print: String,
    bytes: Option<Vec<u8>>,
}

impl Negative {
    fn fetch(tree: &Tree, store: &Store, path: String) -> Result<Negative, Fault> {
        let identity = tree.identity(&path);
        if let Some(print) = identity.and_then(|identity| store.recall(&path, &identity)) {
            return Ok(Negative { path, print, bytes: None });
        }
        let bytes = read(tree, &path)?;
        let print = fingerprint(&bytes);
        if let Some(identity) = identity {
            store.remember(&path, &identity, &print);
        }
        Ok(Negative { path, print, bytes: Some(bytes) })
    }

    fn bytes(self, tree: &Tree) -> Result<Vec<u8>, Fault> {
        self.bytes.map_or_else(|| read(tree, &self.path), Ok)
    }
}

/// The bytes of a photograph; a file that cannot be read is a photograph that cannot.
fn read(tree: &Tree, path: &str) -> Result<Vec<u8>, Fault> {
    tree.bytes(path).map_err(|error| Fault::Unreadable(error.to_string()))
}

/// The pictures that may be hung into the papers: by the piece's folder, and by the name on the piece's pages.
#[derive(Default)]
pub(super) struct Album(BTreeMap<String, BTreeMap<String, KeptFile>>);

impl Album {
    pub(super) fn add(&mut self, piece: &str, name: String, picture: KeptFile) {
        self.0.entry(piece.to_owned()).or_default().insert(name, picture);
    }

    pub(super) fn get(&self, piece: &str, name: &str) -> Option<&KeptFile> {
        self.0.get(piece)?.get(name)
    }
}
