//! The papers as PDF: the same views as the pages, set by a typesetter in this process.
//!
//! A sheet is one template of the theme's `papers/` folder and one file of data, `data.json`; pictures
//! stand beside it by fixed names. Nothing is fetched, no clock is read, and every text of the data is plain text
//! to the templates, so that markup in a title prints as it was typed.

mod data;
mod fault;
mod fonts;
mod letters;
mod spoken;
mod world;

pub use data::{Sheet, look_over, receipts, sheets};
pub use fault::{PaperFault, PaperProblem};

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use rayon::{ThreadPool, ThreadPoolBuilder};
use sha2::{Digest, Sha256};
use typst::diag::{SourceDiagnostic, Warned};
use typst::foundations::{Bytes, Smart};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use super::{RenderError, Theme};
use crate::words::Language;
use fonts::Fonts;
use world::Desk;

/// The stack of the thread that sets a sheet. Layout recurses deeply, and a smaller stack overflows.
const STACK: usize = 16 << 20;

/// The pictures of a sheet: bytes of a JPEG by its address in the piece's folder; `None` where there is none.
pub type PictureBytes<'a> = &'a (dyn Fn(&str) -> Option<Vec<u8>> + Sync);

/// What a sheet promises of itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PdfProfile {
    /// Tagged for readers, and kept for long: PDF/UA-1 (ISO 14289-1) and PDF/A-2a (ISO 19005-2).
    TaggedArchive,
    /// PDF/A-1b (ISO 19005-1), without tags and bookmarks: what older validators can check.
    PlainArchive,
}

/// The template of every sheet that has none of its own.
const SHEET: &str = "sheet.typ";

/// A theme's templates and fonts, ready to set sheets.
pub struct Press<'t> {
    templates: BTreeMap<String, Vec<u8>>,
    /// The family of the letters in drawings.
    letters: &'t str,
    /// The fonts as the theme has them, by their paths.
    font_files: Vec<(&'t str, &'t [u8])>,
    /// The same unpacked, as soon as a sheet is set.
    fonts: OnceLock<Fonts>,
    /// The languages of the papers, and their messages as the templates read them, as soon as a sheet is set in one.
    languages: &'t [Arc<Language>],
    words: Mutex<BTreeMap<(String, bool), Bytes>>,
    digest: [u8; 32],
    /// The typesetter works in parallel inside and asks for a deep stack, so it gets a pool of one thread: called from
    /// within another pool it could neither overflow that one's stacks nor wait for itself.
    pool: ThreadPool,
}

impl<'t> Press<'t> {
    /// Makes templates and fonts of a theme ready.
    ///
    /// # Errors
    /// [`RenderError::Thread`] where the system gives no thread.
    pub fn of(theme: &'t Theme) -> Result<Press<'t>, RenderError> {
        let mut digest = Sha256::new();
        digest.update(env!("CARGO_PKG_VERSION"));
        let is_font = |path: &str| [".woff2", ".ttf", ".otf"].iter().any(|end| path.ends_with(end));
        let (fonts, templates): (Vec<_>, Vec<_>) = theme.papers().partition(|(path, _)| is_font(path));
        // The web's own fonts come first; those that only papers have fill the gaps.
        let web = theme.all_assets().filter(|(path, _)| is_font(path));
        let fonts: Vec<(&str, &[u8])> = web.chain(fonts).collect();
        for (path, bytes) in fonts.iter().chain(&templates) {
            digest.update(path);
            digest.update([0]);
            digest.update(Sha256::digest(bytes));
        }
        for language in theme.languages() {
            digest.update(language.digest());
        }
        let pool = ThreadPoolBuilder::new().num_threads(1).stack_size(STACK).build();
        Ok(Press {
            letters: &theme.inks().sans,
            font_files: fonts,
            fonts: OnceLock::new(),
            languages: theme.languages(),
            words: Mutex::default(),
            templates: templates
                .into_iter()
                .map(|(path, bytes)| (path.trim_start_matches("papers/").to_owned(), bytes.to_vec()))
                .collect(),
            digest: digest.finalize().into(),
            pool: pool.map_err(|error| RenderError::Thread(error.to_string()))?,
        })
    }

    /// What a sheet's bytes follow from, as a hexadecimal SHA-256: program, templates, fonts, data and pictures.
    ///
    /// `fingerprint` tells the pictures apart by their addresses: a digest of their bytes, or anything as good.
    pub fn key(&self, sheet: &Sheet, fingerprint: &dyn Fn(&str) -> Option<String>) -> String {
        let mut digest = Sha256::new();
        digest.update(self.digest);
        digest.update(&sheet.template);
        digest.update([0]);
        digest.update(&sheet.language);
        digest.update([0]);
        digest.update(sheet.data.to_string());
        for address in sheet.pictures.keys() {
            digest.update([0]);
            digest.update(address);
            digest.update(fingerprint(address).unwrap_or_default());
        }
        digest.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
    }

    /// Sets a sheet, tagged and archival.
    ///
    /// # Errors
    /// [`RenderError::Font`] where a font cannot be read, [`RenderError::Paper`] where a template is at fault; it names
    /// the template and the line.
    pub fn set(&self, sheet: &Sheet, pictures: PictureBytes<'_>) -> Result<Vec<u8>, RenderError> {
        self.set_as(sheet, pictures, PdfProfile::TaggedArchive)
    }

    /// Sets a sheet that promises something else.
    ///
    /// # Errors
    /// As [`Press::set`].
    pub fn set_as(
        &self,
        sheet: &Sheet,
        pictures: PictureBytes<'_>,
        promise: PdfProfile,
    ) -> Result<Vec<u8>, RenderError> {
        let mut sheet = sheet.clone();
        sheet.data["bookmarks"] = (promise == PdfProfile::TaggedArchive).into();
        let fonts = self.fonts()?;
        printable(&mut sheet, &|letter| fonts.covers(letter));
        let words = self.words(&sheet.language, fonts, false);
        match self.print(&sheet, words, pictures, promise) {
            // A font may list a letter and still fail to draw it in its place: then only plain letters are left
            // as they are, so that one odd word never costs the owner a paper.
            Err(RenderError::Paper(fault)) if fault.is_of_letters() => {
                printable(&mut sheet, &letters::plain);
                let words = self.words(&sheet.language, fonts, true);
                self.print(&sheet, words, pictures, promise)
            }
            printed => printed,
        }
    }

    /// How many pages a sheet takes, without its pictures.
    #[cfg(test)]
    pub(crate) fn pages(&self, sheet: &Sheet) -> Result<usize, RenderError> {
        let mut sheet = sheet.clone();
        let fonts = self.fonts()?;
        printable(&mut sheet, &|letter| fonts.covers(letter));
        let desk = Desk::new(self, &sheet, self.words(&sheet.language, fonts, false), &|_| None)?;
        let laid = self.pool.install(|| lay_out(&desk));
        match laid {
            Ok(document) => Ok(document.pages().len()),
            Err(problems) => Err(RenderError::Paper(Box::new(PaperFault::of(&desk, &sheet, &problems)))),
        }
    }

    /// A language by its tag; the workshop's own where there is none of it.
    fn language(&self, tag: &str) -> &Language {
        let chosen = self.languages.iter().find(|language| language.tag() == tag);
        chosen.or(self.languages.first()).expect("a theme has a language")
    }

    /// The messages of a language as the templates read them, in letters that the fonts have; `plain` in plain ones.
    fn words(&self, language: &str, fonts: &Fonts, plain: bool) -> Bytes {
        let mut words = self.words.lock().unwrap_or_else(PoisonError::into_inner);
        let make = || {
            let mut spoken = spoken::spoken(self.language(language));
            match plain {
                true => letters::printable(&mut spoken, &letters::plain),
                false => letters::printable(&mut spoken, &|letter| fonts.covers(letter)),
            }
            Bytes::from_string(spoken.to_string())
        };
        words.entry((language.to_owned(), plain)).or_insert_with(make).clone()
    }

    fn fonts(&self) -> Result<&Fonts, RenderError> {
        if let Some(fonts) = self.fonts.get() {
            return Ok(fonts);
        }
        let fonts = Fonts::read(&self.font_files)?;
        Ok(self.fonts.get_or_init(|| fonts))
    }

    /// Prints on the press's own thread.
    fn print(
        &self,
        sheet: &Sheet,
        words: Bytes,
        pictures: PictureBytes<'_>,
        promise: PdfProfile,
    ) -> Result<Vec<u8>, RenderError> {
        // What a sheet does to the typesetter must not end the program: the other papers are still to be set.
        let compile = || catch_unwind(AssertUnwindSafe(|| self.compile(sheet, words, pictures, promise)));
        let printed = self.pool.install(compile).unwrap_or_else(|_| {
            let message = "the typesetter broke off over something in this sheet".to_owned();
            Err(RenderError::Paper(Box::new(PaperFault::without_place(sheet, message))))
        });
        // What the typesetter remembers of this document would pile up over hundreds of them.
        comemo::evict(0);
        printed
    }

    fn compile(
        &self,
        sheet: &Sheet,
        words: Bytes,
        pictures: PictureBytes<'_>,
        promise: PdfProfile,
    ) -> Result<Vec<u8>, RenderError> {
        let desk = Desk::new(self, sheet, words, pictures)?;
        let fault = |problems: &[SourceDiagnostic]| {
            RenderError::Paper(Box::new(PaperFault::of(&desk, sheet, problems)))
        };
        let document = lay_out(&desk).map_err(|problems| fault(&problems))?;
        let standards = match promise {
            PdfProfile::TaggedArchive => [PdfStandard::A_2a, PdfStandard::Ua_1].as_slice(),
            PdfProfile::PlainArchive => [PdfStandard::A_1b].as_slice(),
        };
        let options = PdfOptions {
            ident: Smart::Custom(sheet.identity.clone()),
            creator: Smart::Custom(Some(format!("Witnessmark {}", env!("CARGO_PKG_VERSION")))),
            standards: PdfStandards::new(standards).expect("these standards go together"),
            tagged: promise == PdfProfile::TaggedArchive,
            ..PdfOptions::default()
        };
        typst_pdf::pdf(&document, &options).map_err(|problems| fault(&problems))
    }
}

/// Lays a sheet out on pages.
fn lay_out(desk: &Desk<'_>) -> Result<PagedDocument, Vec<SourceDiagnostic>> {
    let Warned { output, warnings } = typst::compile::<PagedDocument>(desk);
    let document = output.map_err(|problems| problems.to_vec())?;
    // To the typesetter this is a warning; a paper in the wrong letters is not what the theme asked for.
    let unknown: Vec<SourceDiagnostic> =
        warnings.into_iter().filter(|warning| warning.message.starts_with("unknown font family")).collect();
    if unknown.is_empty() { Ok(document) } else { Err(unknown) }
}

/// Makes every text of a sheet printable, those in its drawings included.
fn printable(sheet: &mut Sheet, covered: &dyn Fn(char) -> bool) {
    letters::printable(&mut sheet.data, covered);
    for drawing in sheet.drawings.values_mut() {
        *drawing = letters::spelt(drawing, covered);
    }
}

#[cfg(test)]
mod tests;
