//! The source as a whole: its files, their modules, and where a path leads.

use std::collections::{BTreeMap, BTreeSet};
use std::mem;

use super::reading::{Child, Reading, Scope};
use super::tokens::Named;
use crate::fixture::{below, project};

/// The name by which the program calls the library.
const LIBRARY: &str = env!("CARGO_PKG_NAME");

/// The files of `src` that hold more than tests, by their paths, and the modules in them.
#[derive(Debug, Clone)]
pub(super) struct House {
    texts: BTreeMap<String, String>,
    files: BTreeMap<String, File>,
    /// Where each module is written; one that has a stand-in is written in two files.
    modules: BTreeMap<Vec<String>, Vec<Address>>,
    /// The files of nothing but tests.
    tests: BTreeSet<String>,
}

#[derive(Debug, Clone)]
struct File {
    module: Vec<String>,
    reading: Reading,
}

/// A scope of a file.
#[derive(Debug, Clone)]
struct Address {
    file: String,
    scope: usize,
}

/// Something that a file names.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Mention {
    /// Its whole path: from `crate` on, or from the name of a library on.
    pub(super) path: Vec<String>,
    /// The file that it lies in, where it is the house's own and no whole module.
    pub(super) file: Option<String>,
    pub(super) line: usize,
    /// Whether it is only handed on.
    pub(super) handed_on: bool,
}

impl House {
    /// Reads the source as it lies on the disk.
    pub(super) fn read() -> House {
        let text = |bytes| String::from_utf8(bytes).expect("source is text");
        let files = below(&project("src")).into_iter().filter(|(path, _)| path.ends_with(".rs"));
        House::of(files.map(|(path, bytes)| (path, text(bytes))))
    }

    /// Reads source texts by their paths in `src`.
    pub(super) fn of<P: Into<String>, T: Into<String>>(texts: impl IntoIterator<Item = (P, T)>) -> House {
        let texts = texts.into_iter().map(|(path, text)| (path.into(), text.into())).collect();
        let mut house =
            House { texts, files: BTreeMap::new(), modules: BTreeMap::new(), tests: BTreeSet::new() };
        for root in ["lib.rs", "main.rs"] {
            house.enter(root.to_owned(), Vec::new());
        }
        house
    }

    /// What is seen of the house while a file goes on with this, on a line of its own.
    pub(super) fn planted<T>(&mut self, path: &str, more: &str, look: impl FnOnce(&House) -> T) -> T {
        let reading = Reading::of(&format!("{}\n{more}", self.texts[path].trim_end()));
        let sound = mem::replace(&mut self.file(path).reading, reading);
        let seen = look(self);
        self.file(path).reading = sound;
        seen
    }

    fn file(&mut self, path: &str) -> &mut File {
        self.files.get_mut(path).expect("the file is read")
    }

    /// Reads a file and all that it opens.
    fn enter(&mut self, path: String, module: Vec<String>) {
        let Some(text) = self.texts.get(&path) else { return };
        let reading = Reading::of(text);
        for (scope, written) in reading.scopes.iter().enumerate() {
            let name = [&module[..], &written.inner].concat();
            self.modules.entry(name).or_default().push(Address { file: path.clone(), scope });
        }
        let mut children = reading.children.clone();
        // What a macro makes of a word is not seen, but where there is a file of that name, it is its module.
        let known: BTreeSet<String> = children.iter().map(|child| self.place(&path, child)).collect();
        let listed = reading.listed.iter().filter(|child| {
            let place = self.place(&path, child);
            self.texts.contains_key(&place) && !known.contains(&place)
        });
        children.extend(listed.cloned());
        self.files.insert(path.clone(), File { module: module.clone(), reading });
        for child in children {
            let place = self.place(&path, &child);
            match child.tests {
                true => drop(self.tests.insert(place)),
                false => self.enter(place, [&module[..], &child.inner, &[child.name]].concat()),
            }
        }
    }

    /// Where a module lies that a file declares.
    fn place(&self, parent: &str, child: &Child) -> String {
        let (folder, file) = parent.rsplit_once('/').unwrap_or(("", parent));
        let mut steps: Vec<&str> = folder.split('/').filter(|step| !step.is_empty()).collect();
        if let Some(named) = &child.file {
            steps.push(named);
            return steps.join("/");
        }
        let own = file.trim_end_matches(".rs");
        if !["mod", "lib", "main"].contains(&own) {
            steps.push(own);
        }
        steps.extend(child.inner.iter().map(String::as_str));
        steps.push(&child.name);
        let stem = steps.join("/");
        let beside = format!("{stem}.rs");
        if self.texts.contains_key(&beside) { beside } else { format!("{stem}/mod.rs") }
    }

    /// The paths of all files that hold more than tests.
    pub(super) fn files(&self) -> impl Iterator<Item = &str> {
        self.files.keys().map(String::as_str)
    }

    /// The files that no module reaches.
    pub(super) fn strays(&self) -> Vec<&str> {
        let known = |path: &&String| self.files.contains_key(*path) || self.tests.contains(*path);
        self.texts.keys().filter(|path| !known(path)).map(String::as_str).collect()
    }

    /// The last line of a file.
    pub(super) fn last_line(&self, path: &str) -> usize {
        self.texts[path].trim_end().lines().count()
    }

    /// The module that a file is, from the root of the house.
    pub(super) fn module(&self, path: &str) -> &[String] {
        &self.files[path].module
    }

    /// Whether a file defines something of this name.
    pub(super) fn defines(&self, path: &str, name: &str) -> bool {
        self.files[path].reading.scopes.iter().any(|scope| scope.defines.contains(name))
    }

    /// Whether a file has any code of its own, and does not only declare modules and hand their names on.
    pub(super) fn has_code(&self, path: &str) -> bool {
        self.files[path].reading.scopes.iter().any(|scope| !scope.defines.is_empty())
    }

    /// All methods that a file calls, with their lines.
    pub(super) fn methods(&self, path: &str) -> impl Iterator<Item = &(String, usize)> {
        self.files[path].reading.scopes.iter().flat_map(|scope| &scope.code.methods)
    }

    /// All macros that a file calls, with their lines.
    pub(super) fn macros(&self, path: &str) -> impl Iterator<Item = &(String, usize)> {
        self.files[path].reading.scopes.iter().flat_map(|scope| &scope.code.macros)
    }

    /// All that a file names with a path.
    pub(super) fn mentions(&self, path: &str) -> Vec<Mention> {
        let file = &self.files[path];
        let mut found = Vec::new();
        for scope in &file.reading.scopes {
            let module = [&file.module[..], &scope.inner].concat();
            let mention = |named: &Named, handed_on| {
                let whole = self.whole(&module, &named.path, 0);
                let file = self.home(&whole, 0);
                Mention { path: whole, file, line: named.line, handed_on }
            };
            found.extend(scope.code.paths.iter().map(|named| mention(named, false)));
            found.extend(scope.hands_on.iter().map(|named| mention(named, true)));
        }
        found
    }

    fn scopes(&self, module: &[String]) -> impl Iterator<Item = (&str, &Scope)> {
        let addresses = self.modules.get(module).into_iter().flatten();
        addresses
            .map(|address| (address.file.as_str(), &self.files[&address.file].reading.scopes[address.scope]))
    }

    /// The whole path of what is called `path` in a module.
    fn whole(&self, module: &[String], path: &[String], depth: usize) -> Vec<String> {
        let Some((first, rest)) = path.split_first() else { return Vec::new() };
        let from_root =
            |module: &[String], rest: &[String]| [&["crate".to_owned()][..], module, rest].concat();
        match first.as_str() {
            "crate" => from_root(&[], rest),
            library if library == LIBRARY => from_root(&[], rest),
            "self" => from_root(module, rest),
            "super" => {
                let parent = &module[..module.len().saturating_sub(1)];
                match rest.first().is_some_and(|next| next == "super") {
                    true => self.whole(parent, rest, depth),
                    false => from_root(parent, rest),
                }
            }
            _ if self.modules.contains_key(&[module, std::slice::from_ref(first)].concat()) => {
                from_root(module, path)
            }
            name if self.scopes(module).any(|(_, scope)| scope.defines.contains(name)) => {
                from_root(module, path)
            }
            // A name that was brought in stands for what it was brought in by; libraries are brought in by themselves.
            name => match self.imported(module, name) {
                Some(import) if depth < DEEPEST => {
                    [self.whole(module, &import.path, depth + 1), rest.to_vec()].concat()
                }
                _ => path.to_vec(),
            },
        }
    }

    fn imported(&self, module: &[String], name: &str) -> Option<&Named> {
        let brought = |scope| -> Vec<&Named> {
            let scope: &Scope = scope;
            scope.code.imports.iter().chain(&scope.hands_on).collect()
        };
        self.scopes(module)
            .flat_map(|(_, scope)| brought(scope))
            .find(|import| import.alias == name && import.path != [name])
    }

    /// The file in which that lies which has this whole path, through every name that is only handed on.
    fn home(&self, whole: &[String], depth: usize) -> Option<String> {
        let (root, steps) = whole.split_first()?;
        if root != "crate" || depth > DEEPEST {
            return None;
        }
        let length = (0..=steps.len()).rev().find(|length| self.modules.contains_key(&steps[..*length]))?;
        let (module, rest) = steps.split_at(length);
        let name = rest.first()?;
        if let Some((file, _)) = self.scopes(module).find(|(_, scope)| scope.defines.contains(name)) {
            return Some(file.to_owned());
        }
        if let Some(import) = self.imported(module, name) {
            let whole = [self.whole(module, &import.path, 0), rest[1..].to_vec()].concat();
            return self.home(&whole, depth + 1);
        }
        // What a macro defines is not seen, and lies where the macro is called.
        self.scopes(module).next().map(|(file, _)| file.to_owned())
    }
}

/// The most names that a name is followed through; a longer chain is one that leads back to itself.
const DEEPEST: usize = 12;
