//! What the typesetter may see: the theme's templates, one file of data, the sheet's pictures and the fonts.

use std::collections::BTreeMap;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

use super::fonts::Fonts;
use super::{PictureBytes, Press, RenderError, Sheet};

/// What stands in the place of a photograph that is lacking.
const NOT_FOUND: &str = "photograph-not-found";

/// One sheet on the desk, with everything that it is set from.
pub(super) struct Desk<'a> {
    press: &'a Press<'a>,
    fonts: &'a Fonts,
    library: LazyHash<Library>,
    main: FileId,
    files: BTreeMap<String, Bytes>,
}

impl<'a> Desk<'a> {
    /// Lays out a sheet's files. PictureBytes that are not there are left out: the data says which they are.
    pub(super) fn new(
        press: &'a Press<'a>,
        sheet: &Sheet,
        words: Bytes,
        pictures: PictureBytes<'_>,
    ) -> Result<Desk<'a>, RenderError> {
        let mut files: BTreeMap<String, Bytes> = BTreeMap::new();
        let mut data = sheet.data.clone();
        let mut lacking: Vec<String> = Vec::new();
        for (address, name) in &sheet.pictures {
            match pictures(address) {
                Some(bytes) => drop(files.insert(name.clone(), Bytes::new(bytes))),
                None => lacking.push(name.clone()),
            }
        }
        if !lacking.is_empty() {
            super::data::without(&mut data, &lacking, &press.language(&sheet.language).text(NOT_FOUND));
        }
        for (name, drawing) in &sheet.drawings {
            // The page's style sheet names the letters; here the drawing must do it itself.
            let letters = format!("<svg font-family=\"{}\" ", press.letters.replace(['"', '<', '&'], ""));
            files.insert(name.clone(), Bytes::from_string(drawing.replacen("<svg ", &letters, 1)));
        }
        files.insert("words.json".to_owned(), words);
        files.insert("data.json".to_owned(), Bytes::from_string(data.to_string()));
        Ok(Desk {
            press,
            fonts: press.fonts()?,
            library: LazyHash::new(Library::builder().build()),
            main: id(if press.templates.contains_key(&sheet.template) {
                &sheet.template
            } else {
                super::SHEET
            }),
            files,
        })
    }

    fn bytes(&self, id: FileId) -> FileResult<Bytes> {
        let path = id.vpath().get_without_slash();
        // Packages would come from the network.
        if !matches!(id.root(), VirtualRoot::Project) {
            return Err(FileError::Other(Some("papers use no packages".into())));
        }
        match (self.files.get(path), self.press.templates.get(path)) {
            (Some(bytes), _) => Ok(bytes.clone()),
            (None, Some(bytes)) => Ok(Bytes::new(bytes.clone())),
            (None, None) => Err(FileError::NotFound(path.into())),
        }
    }
}

/// The typesetter keeps every name that it ever met, so that there must be few of them.
fn id(path: &str) -> FileId {
    let path = VirtualPath::new(path).expect("templates have plain names");
    FileId::new(RootedPath::new(VirtualRoot::Project, path))
}

impl World for Desk<'_> {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        self.fonts.book()
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let bytes = self.bytes(id)?;
        let text = std::str::from_utf8(&bytes).map_err(|_| FileError::InvalidUtf8)?;
        Ok(Source::new(id, text.to_owned()))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.bytes(id)
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.fonts.font(index)
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}
