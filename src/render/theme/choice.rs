//! Which theme a workshop takes, and what that theme says of itself.

use std::borrow::Cow;

use include_dir::Dir;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use toml::Spanned;
use toml::de::DeValue;

use super::THEMES;
use crate::diag::{Diagnostic, Place, nearest};
use crate::fields::shape::table;
use crate::fields::{Id, Reader, Said, Text, Value, code, read_text, wrong_kind};
use crate::record::Workshop;
use crate::source::Tree;

/// The theme of a workshop that names none.
pub(super) const DEFAULT: &str = "flitch";

/// What a theme says of itself, by its path in the theme.
const THEME_FILE: &str = "theme.toml";

/// The same in a workshop.
const OWN_THEME_FILE: &str = "theme/theme.toml";

/// A colour, as three bytes of red, green and blue in hexadecimal digits after a `#`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Colour(pub String);

impl Value for Colour {
    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref() {
            DeValue::String(text) if is_colour(text) => Some(Colour(text.to_string())),
            _ => wrong_kind(value, "a colour", "write it as \"#5b2350\"", reader),
        }
    }
}

impl JsonSchema for Colour {
    fn schema_name() -> Cow<'static, str> {
        "Colour".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "pattern": "^#[0-9a-fA-F]{6}$" })
    }

    fn inline_schema() -> bool {
        true
    }
}

fn is_colour(text: &str) -> bool {
    text.strip_prefix('#')
        .is_some_and(|digits| digits.len() == 6 && digits.bytes().all(|digit| digit.is_ascii_hexdigit()))
}

table! {
    /// The inks and letters of the papers to print; black is the ink of their text.
    pub struct PaperInks ("[papers]") {
        /// The one colour.
        "dye" => dye: Said<Colour>,
        /// The same, halfway to the paper.
        "dye-half" => dye_half: Said<Colour>,
        /// Small print.
        "soft" => soft: Said<Colour>,
        /// Hairlines.
        "hair" => hair: Said<Colour>,
        /// Numbers and words upon photographs.
        "plate" => plate: Said<Colour>,
        /// The family of the text, as its font names itself.
        "serif" => serif: Said<Text>,
        /// The family of small print, as its font names itself.
        "sans" => sans: Said<Text>,
    }
}

table! {
    /// The inks and letters of the label that is drawn for the web; it carries no font.
    pub struct LabelInks ("[label]") {
        /// Text.
        "ink" => ink: Said<Colour>,
        /// The workshop's name.
        "dye" => dye: Said<Colour>,
        /// Families for the text, the reader's first that is there.
        "serif" => serif: Said<Text>,
        /// Families for the workshop's name.
        "sans" => sans: Said<Text>,
    }
}

table! {
    /// What a theme says of itself.
    pub struct ThemeFile ("theme.toml") {
        /// What `workshop.toml` calls it by.
        "name" => name: Said<Id>,
        /// What it is like, in a sentence.
        "about" => about: Option<Said<Text>>,
        /// The papers to print.
        "papers" => papers: Said<PaperInks>,
        /// The label that is drawn for the web.
        "label" => label: Said<LabelInks>,
    }
}

/// The theme that a workshop takes: one that is built in, with what the workshop's own `theme/` folder says instead.
#[derive(Debug)]
pub struct ThemeChoice {
    pub(super) built_in: &'static Dir<'static>,
    /// What the theme says of itself.
    pub(super) file: ThemeFile,
    /// The same as text, for the templates of papers.
    pub(super) text: String,
}

impl ThemeChoice {
    /// The theme that `workshop.toml` names, and what is wrong with the name or with the workshop's own `theme.toml`.
    ///
    /// A name is that of a theme that is built in, or the one that the workshop's own `theme/theme.toml` gives itself.
    /// Where it is neither, and where none is named, the default is taken.
    pub fn of(tree: &Tree, workshop: Option<&Workshop>) -> (ThemeChoice, Vec<Diagnostic>) {
        let mut problems = Vec::new();
        let named = workshop.and_then(|workshop| workshop.theme.as_ref());
        let built_in = |name: &str| THEMES.get_dir(name);
        let folder = named.and_then(|named| built_in(&named.0)).or_else(|| built_in(DEFAULT));
        let folder = folder.expect("the default theme is built in");
        let own = own_file(tree, &mut problems);
        if let Some(named) = named {
            let own_name = own.as_ref().map(|(file, _)| file.name.0.as_str());
            let mut known: Vec<&str> = names().collect();
            known.extend(own_name);
            // A mistake in the workshop's own file is told already, and may have hidden the name.
            if problems.is_empty() && !known.contains(&named.0.as_str()) {
                let help = match nearest(&named.0, known.iter().copied()) {
                    Some(near) => format!("write \"{near}\""),
                    None => {
                        format!("write \"{DEFAULT}\", or give your own theme that name in `{OWN_THEME_FILE}`")
                    }
                };
                let message = format!("`{}` is no theme that is known here", named.0);
                let place = Place::at("workshop.toml", &named.span);
                problems.push(Diagnostic::new(&code::UNKNOWN_WORD, place, message).help(help));
            }
        }
        let (file, text) = own.unwrap_or_else(|| built_in_file(folder));
        (ThemeChoice { built_in: folder, file, text }, problems)
    }
}

/// The names of the themes that are built in.
fn names() -> impl Iterator<Item = &'static str> {
    THEMES.dirs().filter_map(|folder| folder.path().to_str())
}

/// What a theme that is built in says of itself, with the text.
fn built_in_file(folder: &Dir<'_>) -> (ThemeFile, String) {
    let file = folder.get_file(folder.path().join(THEME_FILE));
    let text = file.and_then(|file| file.contents_utf8()).expect("every theme has its file");
    let read = read_text(THEME_FILE, text, ThemeFile::read_table);
    (read.table.expect("the themes that are built in are sound"), text.to_owned())
}

/// What the workshop's own theme says of itself, with the text; `None` where it says nothing, or nothing sound.
fn own_file(tree: &Tree, problems: &mut Vec<Diagnostic>) -> Option<(ThemeFile, String)> {
    if !tree.has(OWN_THEME_FILE) {
        return None;
    }
    let text = match tree.read_text(OWN_THEME_FILE) {
        Ok(text) => text,
        Err(fault) => {
            let message = format!("this file {fault}");
            let told = Diagnostic::new(&code::UNREADABLE_TEXT, Place::file(OWN_THEME_FILE), message);
            problems.push(told.help(fault.remedy()));
            return None;
        }
    };
    let mut read = read_text(OWN_THEME_FILE, &text, ThemeFile::read_table);
    problems.append(&mut read.problems);
    read.table.map(|file| (file, text))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record;

    fn chosen(theme: &str, own: Option<&str>) -> (String, Vec<String>) {
        let workshop = format!("name = \"Bench\"\n{theme}");
        let own = own.map(|own| (OWN_THEME_FILE.to_owned(), own.to_owned()));
        let tree = Tree::of([("workshop.toml".to_owned(), workshop)].into_iter().chain(own));
        let (folder, _) = record::read(&tree);
        let (choice, problems) = ThemeChoice::of(&tree, folder.workshop.as_ref());
        let told = problems
            .iter()
            .map(|problem| format!("{}: {} [{}]", problem.place.path, problem.message, problem.help));
        (choice.file.name.0.clone(), told.collect())
    }

    fn own(name: &str) -> String {
        let (_, text) = built_in_file(THEMES.get_dir(DEFAULT).unwrap());
        text.replace("name = \"flitch\"", &format!("name = \"{name}\""))
    }

    #[test]
    fn a_theme_is_taken_by_its_name() {
        let none: [String; 0] = [];
        assert_eq!(chosen("", None), ("flitch".to_owned(), none.to_vec()));
        assert_eq!(chosen("theme = \"flitch\"", None), ("flitch".to_owned(), none.to_vec()));
        assert_eq!(chosen("theme = \"barn\"", Some(&own("barn"))), ("barn".to_owned(), none.to_vec()));
        assert_eq!(chosen("", Some(&own("barn"))), ("barn".to_owned(), none.to_vec()));
    }

    #[test]
    fn a_name_that_no_theme_has_is_a_mistake() {
        let told = |theme: &str, own: Option<&str>| chosen(theme, own).1.join("\n");
        assert_eq!(
            told("theme = \"no-such-theme\"", None),
            "workshop.toml: `no-such-theme` is no theme that is known here [write \"flitch\", or give your own \
             theme that name in `theme/theme.toml`]"
        );
        assert_eq!(
            told("theme = \"flich\"", None),
            "workshop.toml: `flich` is no theme that is known here [write \"flitch\"]"
        );
        assert!(told("theme = \"bran\"", Some(&own("barn"))).ends_with("[write \"barn\"]"));
    }

    #[test]
    fn mistakes_in_an_own_theme_file_are_told_where_they_stand() {
        let (name, told) = chosen("", Some(&own("barn").replace("dye = \"#4a1c41\"", "dye = \"plum\"")));
        assert_eq!(name, "flitch", "the built-in file is taken instead");
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(told[0].starts_with("theme/theme.toml: ") && told[0].contains("#5b2350"), "{told:?}");
        let (_, told) = chosen("", Some("name = \"barn\"\ncolor = 1\n"));
        assert!(told.iter().any(|told| told.contains("color")), "{told:?}");
        assert!(told.iter().any(|told| told.contains("papers")), "{told:?}");
    }

    #[test]
    fn every_theme_that_is_built_in_is_sound_and_named_as_its_folder() {
        for name in names() {
            assert_eq!(built_in_file(THEMES.get_dir(name).unwrap()).0.name.0, name);
        }
    }

    /// The pages in print have the inks of the papers.
    #[test]
    fn pages_and_papers_share_their_inks() {
        let folder = THEMES.get_dir(DEFAULT).unwrap();
        let (file, _) = built_in_file(folder);
        let style = folder.get_file(folder.path().join("assets/style.css")).unwrap();
        let style = style.contents_utf8().unwrap();
        for (name, ink) in [
            ("ink", &file.label.ink),
            ("dye", &file.label.dye),
            ("dye", &file.papers.dye),
            ("dye-half", &file.papers.dye_half),
        ] {
            let line = format!("--{name}: {};", ink.0);
            assert!(style.contains(&line), "{line}");
        }
    }
}
