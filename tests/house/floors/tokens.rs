//! The paths, methods and macros that stand in a stretch of source, be it code or the inside of a macro.
//!
//! Code and macros are read alike, token by token: what a macro makes of `crate::cli::run()` is its own affair, but it
//! was named.

use proc_macro2::{Delimiter, Ident, Spacing, TokenStream, TokenTree};

/// A path as it was written, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Named {
    /// Its parts; `*` stands for everything in what comes before it.
    pub(super) path: Vec<String>,
    /// What it is called from there on.
    pub(super) alias: String,
    pub(super) line: usize,
}

/// What a stretch of source names.
#[derive(Debug, Clone, Default)]
pub(super) struct Tokens {
    /// Paths of two parts or more.
    pub(super) paths: Vec<Named>,
    /// What `use` brings in.
    pub(super) imports: Vec<Named>,
    /// Methods that are called, with their lines.
    pub(super) methods: Vec<(String, usize)>,
    /// Macros that are called, with their lines.
    pub(super) macros: Vec<(String, usize)>,
}

impl Tokens {
    /// Reads a stretch of source.
    pub(super) fn of(stream: TokenStream) -> Tokens {
        let mut read = Tokens::default();
        read.read(stream);
        read
    }

    fn read(&mut self, stream: TokenStream) {
        let tokens: Vec<TokenTree> = stream.into_iter().collect();
        let mut at = 0;
        while at < tokens.len() {
            match &tokens[at] {
                TokenTree::Group(group) => self.read(group.stream()),
                TokenTree::Ident(word) => {
                    at = self.word(&tokens, at, word);
                    continue;
                }
                _ => {}
            }
            at += 1;
        }
    }

    /// Reads what begins with a word, and gives the place behind it.
    fn word(&mut self, tokens: &[TokenTree], at: usize, word: &Ident) -> usize {
        let follows = |group: Option<&TokenTree>| matches!(group, Some(TokenTree::Group(_)));
        if word == "use" && !is(tokens.get(at + 1), '<') {
            let start = if joined(tokens, at + 1) { at + 3 } else { at + 1 };
            let from = self.imports.len();
            let end = path(tokens, start, &[], &mut self.imports);
            self.paths.extend(self.imports[from..].iter().filter(|named| named.path.len() > 1).cloned());
            return end.max(at + 1);
        }
        if at > 0 && is(tokens.get(at - 1), '.') {
            if follows(tokens.get(at + 1)) || joined(tokens, at + 1) {
                self.methods.push((word.to_string(), line(word)));
            }
            return at + 1;
        }
        let mut found = Vec::new();
        let end = path(tokens, at, &[], &mut found);
        if is(tokens.get(end), '!') && follows(tokens.get(end + 1)) {
            let name = found.last().and_then(|named| named.path.last()).cloned();
            self.macros.extend(name.map(|name| (name, line(word))));
        }
        self.paths.extend(found.into_iter().filter(|named| named.path.len() > 1));
        end
    }
}

/// Reads one path, or the paths that a group ends it in, and gives the place behind them.
fn path(tokens: &[TokenTree], start: usize, before: &[String], found: &mut Vec<Named>) -> usize {
    let (mut at, mut parts, mut at_line) = (start, before.to_vec(), 0);
    loop {
        match tokens.get(at) {
            Some(TokenTree::Ident(word)) => {
                at_line = line(word);
                parts.push(word.to_string());
            }
            Some(TokenTree::Punct(star)) if star.as_char() == '*' && (at > start || !before.is_empty()) => {
                at_line = star.span().start().line;
                parts.push("*".to_owned());
            }
            Some(TokenTree::Group(group)) if group.delimiter() == Delimiter::Brace => {
                let inner: Vec<TokenTree> = group.stream().into_iter().collect();
                let several = inner.split(|token| is(Some(token), ','));
                several.filter(|one| !one.is_empty()).for_each(|one| {
                    path(one, 0, &parts, found);
                });
                return at + 1;
            }
            _ => break,
        }
        at += 1;
        if !joined(tokens, at) {
            break;
        }
        at += 2;
    }
    // `a::{self}` is `a`.
    if parts.len() > 1 && parts.last().is_some_and(|last| last == "self") {
        parts.pop();
    }
    let mut alias = parts.last().cloned().unwrap_or_default();
    if let (Some(TokenTree::Ident(word)), Some(TokenTree::Ident(name))) = (tokens.get(at), tokens.get(at + 1))
        && word == "as"
    {
        alias = name.to_string();
    }
    if !parts.is_empty() {
        found.push(Named { path: parts, alias, line: at_line });
    }
    at.max(start + 1)
}

/// Whether `::` stands here.
fn joined(tokens: &[TokenTree], at: usize) -> bool {
    let first = matches!(tokens.get(at), Some(TokenTree::Punct(sign)) if sign.spacing() == Spacing::Joint);
    first && is(tokens.get(at), ':') && is(tokens.get(at + 1), ':')
}

fn is(token: Option<&TokenTree>, sign: char) -> bool {
    matches!(token, Some(TokenTree::Punct(found)) if found.as_char() == sign)
}

fn line(word: &Ident) -> usize {
    word.span().start().line
}
