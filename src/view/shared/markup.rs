//! Plain text within markup.

/// The text with everything escaped that would be markup.
pub(super) fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    // A string never refuses text, so that the result cannot be an error.
    let _ = pulldown_cmark_escape::escape_html(&mut safe, text);
    safe
}
