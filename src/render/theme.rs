//! A theme: templates and assets, embedded in the binary and laid over from the workshop.

use std::collections::BTreeMap;

use include_dir::{Dir, include_dir};
use serde::Serialize;
use tera::{Context, Tera};

use super::RenderError;
use crate::source::Tree;
use crate::view::Page;

static FLITCH: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/themes/flitch");

/// The default theme's name.
pub const DEFAULT: &str = "flitch";

/// Templates that are ready to render, and the files that every tree carries.
pub struct Theme {
    tera: Tera,
    assets: BTreeMap<String, Vec<u8>>,
    papers: BTreeMap<String, Vec<u8>>,
}

impl Theme {
    /// The default theme, with the files of the workshop's own `theme/` folder laid over it.
    ///
    /// # Errors
    /// [`RenderError::Template`] where a template does not read; it names the template and the line.
    pub fn load(tree: &Tree) -> Result<Theme, RenderError> {
        let mut files: BTreeMap<String, Vec<u8>> = BTreeMap::new();
        gather(&FLITCH, &mut files);
        for path in tree.below("theme") {
            let name = path.strip_prefix("theme/").unwrap_or(path).to_owned();
            let bytes =
                tree.bytes(path).map_err(|source| RenderError::File { path: path.to_owned(), source })?;
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
        let mut tera = Tera::default();
        tera.add_raw_templates(templates).map_err(RenderError::Template)?;
        Ok(Theme { tera, assets, papers })
    }

    /// Renders one page with one template.
    ///
    /// # Errors
    /// [`RenderError::Template`] where the template asks for what the page does not have.
    pub fn page<T: Serialize>(&self, template: &str, page: &Page<'_, T>) -> Result<Vec<u8>, RenderError> {
        let context = Context::from_serialize(page).map_err(RenderError::Template)?;
        Ok(self.tera.render(template, &context).map_err(RenderError::Template)?.into_bytes())
    }

    /// The files that every tree carries, by their path in it.
    pub fn assets(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.assets.iter().map(|(path, bytes)| (path.as_str(), bytes.as_slice()))
    }

    /// Templates and fonts of the papers, by their path in the theme.
    pub fn papers(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.papers.iter().map(|(path, bytes)| (path.as_str(), bytes.as_slice()))
    }
}

/// A file of the default theme as it is built in, by its path in the theme.
pub fn built_in(path: &str) -> Option<&'static [u8]> {
    FLITCH.get_file(path).map(include_dir::File::contents)
}

/// Lists an embedded folder's files by their path in the theme.
fn gather(folder: &Dir<'_>, files: &mut BTreeMap<String, Vec<u8>>) {
    for file in folder.files() {
        // Embedded paths come from this repository and are plain.
        let path = file.path().to_string_lossy().replace('\\', "/");
        files.insert(path, file.contents().to_vec());
    }
    for folder in folder.dirs() {
        gather(folder, files);
    }
}
