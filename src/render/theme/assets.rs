//! Which of a theme's assets a tree carries: those that its pages name, and those that these name in turn.
//!
//! A tree is uploaded alone, and loads nothing that lies elsewhere. What its pages never ask for would only be carried
//! about: the fonts of another tree, or a script for tables that it does not have.

use std::collections::{BTreeMap, BTreeSet};

/// A kind of tree, by whom it is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TreeKind {
    /// The public.
    Showroom,
    /// The buyer of one piece.
    Buyer,
    /// The workshop.
    Archive,
}

impl TreeKind {
    const ALL: [TreeKind; 3] = [TreeKind::Showroom, TreeKind::Buyer, TreeKind::Archive];

    /// What the names of its pages' templates begin with.
    fn templates(self) -> &'static str {
        match self {
            TreeKind::Showroom => "showroom-",
            TreeKind::Buyer => "buyer-",
            TreeKind::Archive => "archive-",
        }
    }
}

/// The assets that each tree carries, by their path in it.
pub(super) fn carried(
    templates: &[(String, String)],
    assets: &BTreeMap<String, Vec<u8>>,
) -> BTreeMap<TreeKind, BTreeSet<String>> {
    TreeKind::ALL.into_iter().map(|kind| (kind, of_kind(kind, templates, assets))).collect()
}

fn of_kind(
    kind: TreeKind,
    templates: &[(String, String)],
    assets: &BTreeMap<String, Vec<u8>>,
) -> BTreeSet<String> {
    // Components are called by names of their own, so that every page may use those of any file.
    let first = |(name, text): &&(String, String)| {
        name.starts_with(kind.templates()) || text.contains("{% component ")
    };
    let mut texts: Vec<&str> = Vec::new();
    let mut read: BTreeSet<&str> = BTreeSet::new();
    for (name, text) in templates.iter().filter(first) {
        read.insert(name);
        texts.push(text);
    }
    let mut found = BTreeSet::new();
    while let Some(text) = texts.pop() {
        for (name, other) in templates {
            if text.contains(&format!("\"{name}\"")) && read.insert(name) {
                texts.push(other);
            }
        }
        for (path, bytes) in assets {
            let file = path.rsplit('/').next().unwrap_or(path);
            if text.contains(file) && found.insert(path.clone()) {
                texts.extend(std::str::from_utf8(bytes));
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The assets of a tree, joined by blanks.
    fn of(kind: TreeKind, templates: &[(&str, &str)], assets: &[(&str, &str)]) -> String {
        let owned = |(name, text): &(&str, &str)| ((*name).to_owned(), (*text).to_owned());
        let templates: Vec<_> = templates.iter().map(owned).collect();
        let assets =
            assets.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec())).collect();
        let carried = carried(&templates, &assets);
        carried[&kind].iter().map(String::as_str).collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn a_tree_carries_what_its_pages_name_and_what_that_names() {
        let templates = [
            ("showroom-front.html", "{% extends \"parts/frame.html\" %}"),
            ("archive-front.html", "{{ root }}assets/tables.js"),
            ("parts/frame.html", "{{ root }}assets/look.css"),
        ];
        let assets = [
            ("assets/look.css", "url(\"fonts/one.woff2\")"),
            ("assets/tables.js", "import './sort.js'"),
            ("assets/sort.js", ""),
            ("assets/fonts/one.woff2", ""),
            ("assets/fonts/two.woff2", ""),
        ];
        let of = |kind| of(kind, &templates, &assets);
        assert_eq!(of(TreeKind::Showroom), "assets/fonts/one.woff2 assets/look.css");
        assert_eq!(of(TreeKind::Archive), "assets/sort.js assets/tables.js");
        assert_eq!(of(TreeKind::Buyer), "");
    }

    #[test]
    fn every_tree_carries_what_components_name() {
        let templates = [("parts/all.html", "{% component sign() %}assets/sign.svg{% endcomponent sign %}")];
        for kind in TreeKind::ALL {
            assert_eq!(of(kind, &templates, &[("assets/sign.svg", "")]), "assets/sign.svg");
        }
    }

    #[test]
    fn assets_that_name_each_other_end() {
        let templates = [("buyer-front.html", "a.css")];
        assert_eq!(
            of(TreeKind::Buyer, &templates, &[("assets/a.css", "b.css"), ("assets/b.css", "a.css")]),
            "assets/a.css assets/b.css"
        );
    }
}
