//! A theme: templates and assets, embedded in the binary and laid over from the workshop.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::Arc;

use include_dir::{Dir, include_dir};
use serde::Serialize;
use tera::{Context, Tera};

mod assets;
mod choice;
mod say;

use super::RenderError;
use crate::source::Tree;
use crate::unit::legible::without_unseen;
use crate::view::Page;
use crate::words::{Language, Languages};

pub use assets::TreeKind;
pub use choice::{Colour, LabelInks, PaperInks, ThemeChoice, ThemeFile};

/// The themes that are built in, a folder each.
static THEMES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/themes");

/// Templates that are ready to render, and the files that trees carry.
pub struct Theme {
    /// The pages' templates for each language, by its tag.
    pages: BTreeMap<String, Tera>,
    /// The languages that pages and papers are written in.
    languages: Vec<Arc<Language>>,
    label: LabelInks,
    inks: PaperInks,
    assets: BTreeMap<String, Vec<u8>>,
    /// Which of them each tree carries.
    carried: BTreeMap<TreeKind, BTreeSet<String>>,
    papers: BTreeMap<String, Vec<u8>>,
}

impl Theme {
    /// The theme that was chosen, with the files of the workshop's own `theme/` folder laid over it.
    ///
    /// # Errors
    /// [`RenderError::Template`] where a template does not read; it names the template and the line.
    pub fn load(tree: &Tree, choice: &ThemeChoice, languages: &Languages) -> Result<Theme, RenderError> {
        let mut files: BTreeMap<String, Vec<u8>> = BTreeMap::new();
        gather(choice.built_in, choice.built_in.path(), &mut files);
        for path in tree.below("theme") {
            let name = path.strip_prefix("theme/").unwrap_or(path).to_owned();
            let bytes = tree
                .bytes(path)
                .map_err(|fault| RenderError::File { path: path.to_owned(), source: fault.into() })?;
            files.insert(name, bytes);
        }
        let mut templates: Vec<(String, String)> = Vec::new();
        let (mut assets, mut papers) = (BTreeMap::new(), BTreeMap::new());
        for (path, bytes) in files {
            if let Some(name) = path.strip_prefix("pages/").filter(|name| name.ends_with(".html")) {
                let text = String::from_utf8(bytes).map_err(|_| RenderError::NotText(path.clone()))?;
                templates.push((name.to_owned(), text));
            } else if path.starts_with("assets/") {
                assets.insert(path, bytes);
            } else if path.starts_with("papers/") {
                papers.insert(path, bytes);
            }
        }
        papers.insert("papers/theme.toml".to_owned(), choice.text.clone().into_bytes());
        let languages: Vec<Arc<Language>> = languages.all().cloned().collect();
        let mut pages = BTreeMap::new();
        for language in &languages {
            let mut tera = Tera::default();
            tera.register_function("say", say::function(language.clone()));
            tera.add_raw_templates(templates.clone()).map_err(RenderError::Template)?;
            pages.insert(language.tag().to_owned(), tera);
        }
        let carried = assets::carried(&templates, &assets);
        let (label, inks) = (choice.file.label.value.clone(), choice.file.papers.value.clone());
        Ok(Theme { pages, languages, label, inks, assets, carried, papers })
    }

    /// The built-in theme in British English, with a workshop's own files laid over it.
    #[cfg(test)]
    pub(crate) fn built_in(tree: &Tree) -> Result<Theme, RenderError> {
        let folder = crate::record::read(tree).0;
        Theme::load(tree, &ThemeChoice::of(tree, None).0, &Languages::of(tree, &folder).0)
    }

    /// Renders one page with one template, without characters that nobody sees.
    ///
    /// # Errors
    /// [`RenderError::Template`] where the template asks for what the page does not have.
    pub fn page<T: Serialize>(&self, template: &str, page: &Page<'_, T>) -> Result<Vec<u8>, RenderError> {
        let context = Context::from_serialize(page).map_err(RenderError::Template)?;
        let tera = self.pages.get(page.language).or_else(|| self.pages.values().next());
        let tera = tera.expect("a theme is loaded with a language");
        let page = tera.render(template, &context).map_err(RenderError::Template)?;
        // Left out here and not of the texts that go in, since Markdown can spell a character by its number, too.
        Ok(without_unseen(&page).into_owned().into_bytes())
    }

    /// The languages that pages and papers are written in.
    pub fn languages(&self) -> &[Arc<Language>] {
        &self.languages
    }

    /// The inks and letters of the label that is drawn for the web.
    pub fn label(&self) -> &LabelInks {
        &self.label
    }

    /// The inks and letters of the papers to print.
    pub fn inks(&self) -> &PaperInks {
        &self.inks
    }

    /// The assets that trees of a kind carry, by their path in it.
    pub fn assets(&self, kind: TreeKind) -> impl Iterator<Item = (&str, &[u8])> {
        self.all_assets().filter(move |(path, _)| self.carried[&kind].contains(*path))
    }

    /// All assets by their path in a tree, whichever carries them.
    pub fn all_assets(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.assets.iter().map(|(path, bytes)| (path.as_str(), bytes.as_slice()))
    }

    /// Templates and fonts of the papers by their path in the theme, and `theme.toml` beside the templates.
    pub fn papers(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.papers.iter().map(|(path, bytes)| (path.as_str(), bytes.as_slice()))
    }
}

/// A file of the default theme as it is built in, by its path in the theme.
pub fn built_in(path: &str) -> Option<&'static [u8]> {
    THEMES.get_file(format!("{}/{path}", choice::DEFAULT)).map(include_dir::File::contents)
}

/// Lists an embedded folder's files by their path below `root`.
fn gather(folder: &Dir<'_>, root: &Path, files: &mut BTreeMap<String, Vec<u8>>) {
    for file in folder.files() {
        // Embedded paths come from this repository and are plain.
        let path = file.path().strip_prefix(root).unwrap_or(file.path());
        files.insert(path.to_string_lossy().replace('\\', "/"), file.contents().to_vec());
    }
    for folder in folder.dirs() {
        gather(folder, root, files);
    }
}
