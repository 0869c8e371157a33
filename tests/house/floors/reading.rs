//! What one source text says once its tests are left out: its modules, what they define, and what they name.

use std::collections::BTreeSet;

use proc_macro2::{Delimiter, TokenStream, TokenTree};
use quote::ToTokens;
use syn::visit_mut::{self, VisitMut};
use syn::{
    Attribute, Block, Expr, File, Item, ItemImpl, ItemMacro, ItemMod, ItemTrait, Lit, Meta, Stmt, Visibility,
};

use super::tokens::{Named, Tokens};

/// What a text says outside its tests.
#[derive(Debug, Clone, Default)]
pub(super) struct Reading {
    /// The file's own module, then those that are written out inside it.
    pub(super) scopes: Vec<Scope>,
    /// The modules that lie in files of their own.
    pub(super) children: Vec<Child>,
    /// The words in calls of macros that make items: each may be such a module too.
    pub(super) listed: Vec<Child>,
}

/// One module of a file.
#[derive(Debug, Clone, Default)]
pub(super) struct Scope {
    /// Its path below the module of the file.
    pub(super) inner: Vec<String>,
    /// The names that it defines.
    pub(super) defines: BTreeSet<String>,
    /// What its code names, in macros too.
    pub(super) code: Tokens,
    /// What its `pub use` hands on.
    pub(super) hands_on: Vec<Named>,
}

/// A module that lies in a file of its own.
#[derive(Debug, Clone)]
pub(super) struct Child {
    /// The module that declares it, below the module of the file.
    pub(super) inner: Vec<String>,
    pub(super) name: String,
    /// The file that an attribute names for it.
    pub(super) file: Option<String>,
    /// Whether there are only tests in it.
    pub(super) tests: bool,
}

impl Reading {
    /// Reads a text; it must be Rust.
    pub(super) fn of(text: &str) -> Reading {
        let mut file = syn::parse_file(text).expect("what is compiled can be parsed");
        let mut tests = Tests::default();
        tests.visit_file_mut(&mut file);
        let mut reading = Reading { children: tests.files, ..Reading::default() };
        reading.scope(Vec::new(), &file.items);
        reading
    }

    fn scope(&mut self, inner: Vec<String>, items: &[Item]) {
        let place = self.scopes.len();
        self.scopes.push(Scope { inner: inner.clone(), ..Scope::default() });
        let mut rest = TokenStream::new();
        for item in items {
            match item {
                Item::Mod(module) => self.module(&inner, module),
                Item::Macro(ItemMacro { ident: None, mac, .. }) => {
                    let child = |name| Child { inner: inner.clone(), name, file: None, tests: false };
                    self.listed.extend(words(mac.tokens.clone()).into_iter().map(child));
                    item.to_tokens(&mut rest);
                }
                Item::Use(used) if !matches!(used.vis, Visibility::Inherited) => {
                    self.scopes[place].hands_on.extend(Tokens::of(used.to_token_stream()).imports);
                }
                _ => item.to_tokens(&mut rest),
            }
            self.scopes[place].defines.extend(name(item));
        }
        self.scopes[place].code = Tokens::of(rest);
    }

    fn module(&mut self, inner: &[String], module: &ItemMod) {
        match &module.content {
            Some((_, items)) => self.scope([inner, &[module.ident.to_string()]].concat(), items),
            None => self.children.push(Child::of(inner, module)),
        }
    }
}

impl Child {
    fn of(inner: &[String], module: &ItemMod) -> Child {
        let file = module.attrs.iter().find_map(named_file);
        Child { inner: inner.to_vec(), name: module.ident.to_string(), file, tests: false }
    }
}

/// All words of a stretch of source.
fn words(tokens: TokenStream) -> Vec<String> {
    let words = |token| match token {
        TokenTree::Ident(word) => vec![word.to_string()],
        TokenTree::Group(group) => words(group.stream()),
        _ => Vec::new(),
    };
    tokens.into_iter().flat_map(words).collect()
}

/// The file that `#[path = "…"]` names.
fn named_file(attribute: &Attribute) -> Option<String> {
    let Meta::NameValue(meta) = &attribute.meta else { return None };
    match &meta.value {
        Expr::Lit(value) if meta.path.is_ident("path") => match &value.lit {
            Lit::Str(text) => Some(text.value()),
            _ => None,
        },
        _ => None,
    }
}

/// The name that an item defines; a module has its own place.
fn name(item: &Item) -> Option<String> {
    let name = match item {
        Item::Const(item) => &item.ident,
        Item::Enum(item) => &item.ident,
        Item::Fn(item) => &item.sig.ident,
        Item::Macro(item) => item.ident.as_ref()?,
        Item::Static(item) => &item.ident,
        Item::Struct(item) => &item.ident,
        Item::Trait(item) => &item.ident,
        Item::Type(item) => &item.ident,
        _ => return None,
    };
    Some(name.to_string())
}

/// Takes the tests out of a file: whatever stands under `#[cfg(test)]`.
#[derive(Default)]
struct Tests {
    /// The modules among them that lie in files of their own.
    files: Vec<Child>,
}

impl Tests {
    fn keep_item(&mut self, item: &Item) -> bool {
        let kept = !is_test(item);
        if let (false, Item::Mod(module @ ItemMod { content: None, .. })) = (kept, item) {
            self.files.push(Child { tests: true, ..Child::of(&[], module) });
        }
        kept
    }
}

impl VisitMut for Tests {
    fn visit_file_mut(&mut self, file: &mut File) {
        file.items.retain(|item| self.keep_item(item));
        visit_mut::visit_file_mut(self, file);
    }

    fn visit_item_mod_mut(&mut self, module: &mut ItemMod) {
        if let Some((_, items)) = &mut module.content {
            items.retain(|item| self.keep_item(item));
        }
        visit_mut::visit_item_mod_mut(self, module);
    }

    fn visit_item_impl_mut(&mut self, block: &mut ItemImpl) {
        block.items.retain(|item| !is_test(item));
        visit_mut::visit_item_impl_mut(self, block);
    }

    fn visit_item_trait_mut(&mut self, block: &mut ItemTrait) {
        block.items.retain(|item| !is_test(item));
        visit_mut::visit_item_trait_mut(self, block);
    }

    fn visit_block_mut(&mut self, block: &mut Block) {
        block.stmts.retain(|statement| !matches!(statement, Stmt::Item(item) if !self.keep_item(item)));
        visit_mut::visit_block_mut(self, block);
    }
}

/// Whether an item stands under a test. It is asked by its tokens, since every kind of item begins with its attributes.
fn is_test(item: &impl ToTokens) -> bool {
    let tokens: Vec<TokenTree> = item.to_token_stream().into_iter().collect();
    let mut attributes = tokens.chunks(2).map_while(|pair| match pair {
        [TokenTree::Punct(mark), TokenTree::Group(attribute)] if mark.as_char() == '#' => Some(attribute),
        _ => None,
    });
    attributes.any(|attribute| is_for_tests(attribute.stream()))
}

/// Whether an attribute is `cfg(test)`, or `cfg(all(…))` with `test` in it. `any` and `not` hold for the program too.
fn is_for_tests(attribute: TokenStream) -> bool {
    let tokens: Vec<TokenTree> = attribute.into_iter().collect();
    match &tokens[..] {
        [TokenTree::Ident(name), TokenTree::Group(condition)] if name == "cfg" => {
            needs_test(&condition.stream().into_iter().collect::<Vec<_>>())
        }
        _ => false,
    }
}

fn needs_test(condition: &[TokenTree]) -> bool {
    match condition {
        [TokenTree::Ident(name)] => name == "test",
        [TokenTree::Ident(all), TokenTree::Group(several)]
            if all == "all" && several.delimiter() == Delimiter::Parenthesis =>
        {
            let tokens: Vec<TokenTree> = several.stream().into_iter().collect();
            let mut several =
                tokens.split(|token| matches!(token, TokenTree::Punct(sign) if sign.as_char() == ','));
            several.any(needs_test)
        }
        _ => false,
    }
}
