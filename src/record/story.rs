//! How stories are read: the Markdown that is taken, and the links that may stand.

use pulldown_cmark::{Options, Parser};

/// A story's events: Markdown with tables, footnotes, strikethrough and smart punctuation.
pub fn parser(story: &str) -> Parser<'_> {
    let options = Options::ENABLE_TABLES
        | Options::ENABLE_FOOTNOTES
        | Options::ENABLE_SMART_PUNCTUATION
        | Options::ENABLE_STRIKETHROUGH;
    Parser::new_ext(story, options)
}

/// Whether a link leads to a web page, a mail address or a place of the page itself; no other may stand.
pub fn may_link(address: &str) -> bool {
    let begins =
        |scheme: &str| address.get(..scheme.len()).is_some_and(|head| head.eq_ignore_ascii_case(scheme));
    address.starts_with('#') || ["http://", "https://", "mailto:"].into_iter().any(begins)
}
