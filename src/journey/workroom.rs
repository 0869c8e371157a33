//! Photographs through the darkroom: developed once, and taken from there as long as nothing about them changes.

use std::collections::BTreeMap;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;

use super::Progress;
use crate::derive::{self, Digests, Facts, PairFacts, Pairing, PhotoFacts, Photograph, PhotographFacts};
use crate::photo::{self, Checked, Fault, Overlay, Patch, Picture, Settings, Tone};
use crate::record::{Piece, Record};
use crate::source::{FileFault, Tree};
use crate::unit::Rectangle;
use crate::view::{PairEnd, pair_picture_name, picture_name};
use crate::write::{Darkroom, Kept, KeptFile, Key, WriteError, fingerprint};

/// What is learnt of a photograph by decoding it, as the darkroom keeps it.
type PhotoLook = Result<Checked, Fault>;

/// A photograph that was looked at or developed.
struct DevelopedPhoto {
    /// How it answered.
    check: PhotoLook,
    /// Its pictures with their widths, widest first; none where it was only looked at.
    pictures: Vec<(u32, KeptFile)>,
}

impl DevelopedPhoto {
    fn without_pictures(check: PhotoLook) -> DevelopedPhoto {
        DevelopedPhoto { check, pictures: Vec::new() }
    }
}

/// Two photographs that were laid onto each other.
struct Laid {
    /// What was done about the light of the one before.
    tone: Tone,
    /// The pictures before with their widths, widest first.
    before: Vec<(u32, KeptFile)>,
    /// The pictures after, of the same sizes.
    after: Vec<(u32, KeptFile)>,
}

/// The pictures of one piece that may be hung into its papers, by their names there.
#[derive(Debug, Default)]
pub(super) struct Pictures(BTreeMap<String, KeptFile>);

impl Pictures {
    /// The picture of this name.
    pub(super) fn get(&self, name: &str) -> Option<&KeptFile> {
        self.0.get(name)
    }
}

/// Where a workshop's photographs are looked at and developed.
pub(super) struct Workroom<'a> {
    tree: &'a Tree,
    darkroom: &'a Darkroom,
    settings: Settings,
    /// Goes into every key, so that other settings make other entries.
    settings_key: Vec<u8>,
    /// The digest of each photograph, by its path, that everything about it is made from: what comes after another
    /// content took its place would not fit what came before.
    contents: Mutex<BTreeMap<String, String>>,
    developed: AtomicUsize,
    taken: AtomicUsize,
}

/// What is done with the photographs of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Handling {
    /// They are looked at: what can be said of them is learnt.
    Look,
    /// They are developed too, and those of each pair laid onto each other.
    Develop,
}

impl<'a> Workroom<'a> {
    pub(super) fn new(tree: &'a Tree, darkroom: &'a Darkroom, settings: Settings) -> Workroom<'a> {
        let settings_key = serde_json::to_vec(&settings).expect("numbers are always JSON");
        let contents = Mutex::default();
        Workroom { tree, darkroom, settings, settings_key, contents, developed: 0.into(), taken: 0.into() }
    }

    /// Has photographs of a piece, by file, only with these contents.
    pub(super) fn expect(&self, piece: &Piece, digests: &Digests) {
        let paths = digests.iter().map(|(file, digest)| (piece.photo_path(file), digest.clone()));
        self.contents.lock().expect("no thread panics while it holds the list").extend(paths);
    }

    /// How many photographs were developed, and how many were taken from the darkroom.
    pub(super) fn counts(&self) -> (usize, usize) {
        (self.developed.load(Ordering::Relaxed), self.taken.load(Ordering::Relaxed))
    }

    /// Handles the photographs of one piece, several at once: what follows from them, and their pictures.
    ///
    /// A pair that cannot be laid onto each other stands side by side.
    ///
    /// # Errors
    /// [`WriteError`] where pictures cannot be kept; a photograph that cannot be developed is no error.
    pub(super) fn photographs(
        &self,
        piece: &Piece,
        record: &Record,
        facts: &Facts,
        handling: Handling,
        progress: &dyn Progress,
    ) -> Result<(PhotoFacts, Pictures), WriteError> {
        let handle = |photograph| {
            let developed = self.photograph(piece, record, photograph, handling)?;
            progress.tick();
            Ok(developed)
        };
        let developed: Vec<DevelopedPhoto> =
            facts.photographs.all.par_iter().map(|one| handle(one)).collect::<Result<_, WriteError>>()?;
        let mut pictures = Pictures::default();
        let mut all = Vec::new();
        for (photograph, DevelopedPhoto { check, pictures: made }) in
            facts.photographs.all.iter().zip(developed)
        {
            let named = made.into_iter().map(|(width, file)| (picture_name(photograph, width), file));
            pictures.0.extend(named);
            all.push(PhotographFacts::of(photograph, Some(check)));
        }
        let pair = |pairing| self.pair(piece, pairing, &all, handling);
        let laid: Vec<(PairFacts, Option<Laid>)> =
            facts.photographs.pairs.par_iter().map(pair).collect::<Result<_, WriteError>>()?;
        let mut pairs = Vec::new();
        for (facts, laid) in laid {
            if let Some(laid) = laid {
                for (end, made) in [(PairEnd::Before, laid.before), (PairEnd::After, laid.after)] {
                    let name = |width| pair_picture_name(&facts.pairing, end, width);
                    pictures.0.extend(made.into_iter().map(|(width, file)| (name(width), file)));
                }
            }
            pairs.push(facts);
        }
        Ok((PhotoFacts::of(record, &facts.surfaces, all, pairs), pictures))
    }

    fn photograph(
        &self,
        piece: &Piece,
        record: &Record,
        photograph: &Photograph,
        handling: Handling,
    ) -> Result<DevelopedPhoto, WriteError> {
        let mut developed = match handling {
            Handling::Develop => self.develop(piece, photograph)?,
            Handling::Look => DevelopedPhoto::without_pictures(self.look(piece, photograph)),
        };
        self.measure(piece, record, photograph, &mut developed.check);
        Ok(developed)
    }

    fn pair(
        &self,
        piece: &Piece,
        pairing: &Pairing,
        all: &[PhotographFacts],
        handling: Handling,
    ) -> Result<(PairFacts, Option<Laid>), WriteError> {
        let size = |photograph: &Photograph| {
            all.iter().find(|facts| facts.photograph.number == photograph.number)?.size()
        };
        let alignment = derive::alignment(pairing, size);
        let overlay = derive::overlay(pairing, alignment.as_ref()).filter(|_| handling == Handling::Develop);
        let laid = match overlay {
            Some(overlay) => self.overlay(piece, &pairing.before, &pairing.after, &overlay)?,
            None => None,
        };
        let tone = laid.as_ref().map(|laid| laid.tone);
        Ok((PairFacts { pairing: pairing.clone(), alignment, tone }, laid))
    }

    /// Looks at a photograph, and decodes it only where the darkroom does not know it.
    fn look(&self, piece: &Piece, photograph: &Photograph) -> PhotoLook {
        let content = self.fetch(piece, photograph)?;
        if let Some(known) = self.taken(&content.digest) {
            return known.check;
        }
        photo::check(&content.bytes(self.tree, self.darkroom)?, self.settings.max_pixels)
    }

    /// Develops a photograph, or takes its pictures from the darkroom.
    ///
    /// # Errors
    /// [`WriteError`] where the pictures cannot be kept; a photograph that cannot be developed is no error.
    fn develop(&self, piece: &Piece, photograph: &Photograph) -> Result<DevelopedPhoto, WriteError> {
        let content = match self.fetch(piece, photograph) {
            Ok(content) => content,
            Err(fault) => return Ok(DevelopedPhoto::without_pictures(Err(fault))),
        };
        if let Some(known) = self.taken(&content.digest) {
            if known.check.is_ok() {
                self.taken.fetch_add(1, Ordering::Relaxed);
            }
            return Ok(known);
        }
        let key = self.key(&content.digest);
        let bytes = match content.bytes(self.tree, self.darkroom) {
            Ok(bytes) => bytes,
            Err(fault) => return Ok(DevelopedPhoto::without_pictures(Err(fault))),
        };
        match photo::develop(&bytes, &self.settings) {
            Ok(developed) => {
                let check = Checked { header: developed.header, defects: developed.defects, patches: vec![] };
                let pictures = developed.pictures.into_iter();
                let files: Vec<_> =
                    pictures.map(|picture| (format!("{}.jpg", picture.width), picture.bytes)).collect();
                let kept = self.darkroom.keep(&key, Ok::<_, Fault>(check.clone()), &files)?;
                self.developed.fetch_add(1, Ordering::Relaxed);
                Ok(DevelopedPhoto {
                    pictures: self.widths(&check).zip(kept.files).collect(),
                    check: Ok(check),
                })
            }
            Err(fault) => {
                // What the first bytes tell is not worth an entry.
                if matches!(fault, Fault::Unsupported(_) | Fault::Unreadable(_)) {
                    self.darkroom.keep(&key, PhotoLook::Err(fault.clone()), &[])?;
                }
                Ok(DevelopedPhoto::without_pictures(Err(fault)))
            }
        }
    }

    /// Lays one photograph onto another, or takes the pictures from the darkroom; `None` where one of them cannot be
    /// read.
    ///
    /// # Errors
    /// [`WriteError`] where the pictures cannot be kept.
    fn overlay(
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
            Key::of(
                "overlaid",
                &[
                    before.as_bytes(),
                    after.as_bytes(),
                    &how,
                    &self.settings_key,
                    &photo::VERSION.to_le_bytes(),
                ],
            )
        };
        let sizes = overlay.sizes(&self.settings.widths);
        let laid = |kept: Kept<Tone>| {
            let mut files = kept.files.into_iter();
            let mut pictures = || sizes.iter().map(|(width, _)| *width).zip(files.by_ref()).collect();
            Laid { tone: kept.note, before: pictures(), after: pictures() }
        };
        let key = key(&before.digest, &after.digest);
        if let Some(kept) = self.darkroom.get(&key) {
            return Ok(Some(laid(kept)));
        }
        let bytes = |content: Content| content.bytes(self.tree, self.darkroom);
        let (Ok(before), Ok(after)) = (bytes(before), bytes(after)) else { return Ok(None) };
        // A photograph that fails now was read a moment ago; the two then stand side by side.
        let Ok(overlaid) = photo::overlay(&before, &after, overlay, &self.settings) else { return Ok(None) };
        let file = |end: &str, picture: Picture| (format!("{end}-{}.jpg", picture.width), picture.bytes);
        let befores = overlaid.before.into_iter().map(|picture| file("before", picture));
        let afters = overlaid.after.into_iter().map(|picture| file("after", picture));
        let files: Vec<_> = befores.chain(afters).collect();
        Ok(Some(laid(self.darkroom.keep(&key, overlaid.tone, &files)?)))
    }

    /// Adds to what was learnt of a photograph the patches that the record's swatches name on it; mostly there are none.
    ///
    /// Measuring needs every pixel, so what it gave is kept too. A photograph that answered before and does not answer
    /// now stays unmeasured, as does one whose measures cannot be kept in a darkroom that is only read: they are taken
    /// anew.
    fn measure(&self, piece: &Piece, record: &Record, photograph: &Photograph, check: &mut PhotoLook) {
        let Ok(checked) = check else { return };
        let rectangles = derive::swatch::rectangles(record, &photograph.file);
        if rectangles.is_empty() {
            return;
        }
        let Ok(content) = self.fetch(piece, photograph) else { return };
        let key = Key::of(
            "measured",
            &[content.digest.as_bytes(), &places(&rectangles), &photo::MEASURING.to_le_bytes()],
        );
        let patches = match self.darkroom.get::<Vec<Option<Patch>>>(&key) {
            Some(kept) => kept.note,
            None => {
                let measured = content
                    .bytes(self.tree, self.darkroom)
                    .and_then(|bytes| photo::patches(&bytes, self.settings.max_pixels, &rectangles));
                let Ok(patches) = measured else { return };
                // Nothing is lost where it cannot be kept but the time to measure once more.
                let _ = self.darkroom.keep(&key, &patches, &[]);
                patches
            }
        };
        checked.patches = rectangles.into_iter().zip(patches).collect();
    }

    /// What the darkroom has of a content.
    fn taken(&self, digest: &str) -> Option<DevelopedPhoto> {
        let kept = self.darkroom.get::<PhotoLook>(&self.key(digest))?;
        let pictures = match &kept.note {
            Ok(checked) => self.widths(checked).zip(kept.files).collect(),
            Err(_) => Vec::new(),
        };
        Some(DevelopedPhoto { check: kept.note, pictures })
    }

    fn key(&self, digest: &str) -> Key {
        Key::of("developed", &[digest.as_bytes(), &self.settings_key, &photo::VERSION.to_le_bytes()])
    }

    fn widths(&self, checked: &Checked) -> impl Iterator<Item = u32> + use<> {
        let sizes = photo::sizes(checked.header.width, checked.header.height, &self.settings.widths);
        sizes.into_iter().map(|(width, _)| width)
    }

    /// The digest of a photograph, from its identity where it was seen before, else from its bytes.
    /// One that has another content by now than before is a photograph that cannot be read.
    fn fetch(&self, piece: &Piece, photograph: &Photograph) -> Result<Content, Fault> {
        let content = Content::fetch(self.tree, self.darkroom, piece.photo_path(&photograph.file))?;
        let mut contents = self.contents.lock().expect("no thread panics while it holds the list");
        let first = contents.entry(content.path.clone()).or_insert_with(|| content.digest.clone());
        if *first == content.digest { Ok(content) } else { Err(unread(FileFault::Meanwhile)) }
    }
}

/// The digests of a piece's public photographs, by file; those that cannot be read have none.
pub(super) fn digests(tree: &Tree, darkroom: &Darkroom, piece: &Piece) -> Digests {
    let digest = |file: String| {
        let content = Content::fetch(tree, darkroom, piece.photo_path(&file)).ok()?;
        Some((file, content.digest))
    };
    piece.public_photographs().into_iter().filter_map(digest).collect()
}

/// The same from the bytes as they are now, whatever the darkroom remembers.
pub(super) fn digests_afresh(tree: &Tree, piece: &Piece) -> Digests {
    let digest = |file: String| {
        let bytes = tree.bytes(&piece.photo_path(&file)).ok()?;
        Some((file, fingerprint(&bytes)))
    };
    piece.public_photographs().into_iter().filter_map(digest).collect()
}

/// Rectangles as part of a key: their numbers to the last digit.
fn places(rectangles: &[Rectangle]) -> Vec<u8> {
    let numbers = rectangles
        .iter()
        .flat_map(|rectangle| [rectangle.corner.x, rectangle.corner.y, rectangle.width, rectangle.height]);
    numbers.flat_map(|number| number.value().to_le_bytes()).collect()
}

/// A photograph's content: its digest, and its bytes where they had to be read for it.
struct Content {
    path: String,
    digest: String,
    bytes: Option<Vec<u8>>,
}

impl Content {
    fn fetch(tree: &Tree, darkroom: &Darkroom, path: String) -> Result<Content, Fault> {
        let digest = tree.identity(&path).and_then(|identity| darkroom.recall(&path, &identity));
        if let Some(digest) = digest {
            return Ok(Content { path, digest, bytes: None });
        }
        Content::read(tree, darkroom, path)
    }

    /// Reads it, whatever the darkroom remembers, and has that remembered.
    fn read(tree: &Tree, darkroom: &Darkroom, path: String) -> Result<Content, Fault> {
        let (bytes, identity) = tree.bytes_and_identity(&path).map_err(unread)?;
        let digest = fingerprint(&bytes);
        if let Some(identity) = identity {
            darkroom.remember(&path, &identity, &digest);
        }
        Ok(Content { path, digest, bytes: Some(bytes) })
    }

    /// The bytes of just this content, read now where they were not before.
    fn bytes(self, tree: &Tree, darkroom: &Darkroom) -> Result<Vec<u8>, Fault> {
        if let Some(bytes) = self.bytes {
            return Ok(bytes);
        }
        let Content { digest, bytes, .. } = Content::read(tree, darkroom, self.path)?;
        bytes.filter(|_| digest == self.digest).ok_or_else(|| unread(FileFault::Meanwhile))
    }
}

/// A file that cannot be read is a photograph that cannot.
fn unread(fault: FileFault) -> Fault {
    Fault::File { why: fault.to_string(), remedy: fault.remedy().to_owned() }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;
    use crate::record;

    #[test]
    fn everything_about_a_photograph_is_made_from_one_content() {
        let home = tempfile::tempdir().unwrap();
        let photo = home.path().join("pieces/chair/photos/after.jpg");
        fs::create_dir_all(photo.parent().unwrap()).unwrap();
        let record = "title = \"Chair\"\nnumber = \"CH-1\"\nkind = \"chair\"\n";
        for (file, text) in [("workshop.toml", "name = \"Bench\"\n"), ("pieces/chair/record.toml", record)] {
            fs::write(home.path().join(file), text).unwrap();
        }
        fs::write(&photo, "first").unwrap();
        let tree = Tree::open(home.path()).unwrap();
        let darkroom = Darkroom::reading(None);
        let room = Workroom::new(&tree, &darkroom, Settings::default());
        let folder = record::read(&tree).0;
        let piece = &folder.pieces[0];
        let facts = crate::derive::facts(
            &folder,
            piece,
            piece.record.as_ref().unwrap(),
            None,
            crate::trade::Trade::built_in(),
        );
        let photograph = &facts.photographs.all[0];
        let first = room.fetch(piece, photograph).unwrap();
        assert!(room.fetch(piece, photograph).is_ok());
        fs::write(&photo, "second").unwrap();
        let meanwhile = unread(FileFault::Meanwhile);
        assert_eq!(room.fetch(piece, photograph).err(), Some(meanwhile.clone()));
        let recalled = Content { bytes: None, ..first };
        assert_eq!(recalled.bytes(&tree, &darkroom), Err(meanwhile));
    }
}
