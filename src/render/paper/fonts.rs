//! The fonts of a theme: the web's own, unpacked, and those that only papers have.

use typst::foundations::Bytes;
use typst::text::{Font, FontBook, FontInfo};
use typst::utils::LazyHash;

use super::RenderError;

/// Fonts in the order in which they are asked.
pub(super) struct Fonts {
    fonts: Vec<Font>,
    book: LazyHash<FontBook>,
}

impl Fonts {
    /// Reads fonts; those packed for the web are unpacked.
    ///
    /// The web splits a family by scripts into several files. Here only one file can answer for a family and a
    /// style, so that the later ones get a name with a number; the typesetter finds them for the letters that
    /// the first one lacks, since their names begin alike.
    pub(super) fn read(files: &[(&str, &[u8])]) -> Result<Fonts, RenderError> {
        let mut fonts: Vec<Font> = Vec::new();
        let mut infos: Vec<FontInfo> = Vec::new();
        for (path, bytes) in files {
            let fault = |why: &str| RenderError::Font { path: (*path).to_owned(), why: why.to_owned() };
            let bytes = match path.ends_with(".woff2") {
                true => wuff::decompress_woff2(bytes).map_err(|error| fault(&format!("{error:?}")))?,
                false => bytes.to_vec(),
            };
            let font = Font::new(Bytes::new(bytes), 0).ok_or_else(|| fault("it is no OpenType font"))?;
            let mut info = font.info().clone();
            let taken = |name: &str| {
                infos.iter().any(|known| {
                    let variable = !known.axes.is_empty() && !info.axes.is_empty();
                    let alike = variable || known.variant == info.variant;
                    known.family == name && known.variant.style == info.variant.style && alike
                })
            };
            let names = (1..).map(|number| match number {
                1 => info.family.clone(),
                number => format!("{} {number}", info.family),
            });
            let mut names = names.skip_while(|name| taken(name));
            let name = names.next().expect("numbers do not end");
            info.family = name;
            infos.push(info);
            fonts.push(font);
        }
        Ok(Fonts { fonts, book: LazyHash::new(FontBook::from_infos(infos)) })
    }

    pub(super) fn book(&self) -> &LazyHash<FontBook> {
        &self.book
    }

    pub(super) fn font(&self, index: usize) -> Option<Font> {
        self.fonts.get(index).cloned()
    }

    /// Whether some font can draw a letter.
    pub(super) fn covers(&self, letter: char) -> bool {
        self.fonts.iter().any(|font| font.info().coverage.contains(u32::from(letter)))
    }
}
