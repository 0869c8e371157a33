//! Addresses of pages, and what kind of file stands there.

/// What a request asks for: a path without its first slash, and a query.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Address {
    /// Decoded once; with forward slashes, without empty parts, `.` or `..`.
    pub(super) path: String,
    /// Decoded pairs of the query.
    query: Vec<(String, String)>,
}

impl Address {
    /// Reads the target of a request; `None` where it names nothing that could be handed out.
    pub(super) fn of(target: &str) -> Option<Address> {
        let (path, query) = target.split_once('?').unwrap_or((target, ""));
        let mut path = decoded(path.strip_prefix('/')?)?;
        if path.contains(['\\', '\0']) {
            return None;
        }
        // A folder is its front page.
        if path.is_empty() || path.ends_with('/') {
            path.push_str("index.html");
        }
        if path.split('/').any(|part| matches!(part, "" | "." | "..")) {
            return None;
        }
        Some(Address { path, query: pairs(query)? })
    }

    /// A value of the query.
    pub(super) fn asked(&self, name: &str) -> Option<&str> {
        self.query.iter().find(|(known, _)| known == name).map(|(_, value)| value.as_str())
    }
}

/// The names and values of a query, or of a form that is sent; `None` where one of them is no text.
pub(super) fn pairs(query: &str) -> Option<Vec<(String, String)>> {
    let pair = |pair: &str| {
        let (name, value) = pair.split_once('=').unwrap_or((pair, ""));
        Some((decoded(&name.replace('+', " "))?, decoded(&value.replace('+', " "))?))
    };
    query.split('&').filter(|pair| !pair.is_empty()).map(pair).collect()
}

/// Text with its percent signs resolved, once; `None` where one is not followed by two digits, or the bytes are no text.
fn decoded(text: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.as_bytes();
    while let [first, after @ ..] = rest {
        rest = after;
        if *first == b'%' {
            let [high, low, after @ ..] = after else { return None };
            let digit = |byte: &u8| char::from(*byte).to_digit(16);
            bytes.push(u8::try_from(digit(high)? * 16 + digit(low)?).ok()?);
            rest = after;
        } else {
            bytes.push(*first);
        }
    }
    String::from_utf8(bytes).ok()
}

/// Text as one part of an address.
pub(super) fn encoded(text: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-._~".contains(&byte);
    let sign = |byte: u8| if plain(byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") };
    text.bytes().map(sign).collect()
}

/// The media type of a file, by the end of its name.
///
/// # Source
/// IANA, Media Types; from memory.
pub(super) fn media_type(path: &str) -> &'static str {
    let ending = path.rsplit_once('.').map_or("", |(_, ending)| ending).to_ascii_lowercase();
    match ending.as_str() {
        "html" => "text/html; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "js" | "mjs" => "text/javascript; charset=utf-8",
        "json" => "application/json",
        "jsonld" => "application/ld+json",
        "xml" => "application/xml",
        "atom" => "application/atom+xml",
        "ics" => "text/calendar; charset=utf-8",
        "txt" | "md" => "text/plain; charset=utf-8",
        "svg" => "image/svg+xml",
        "jpg" | "jpeg" => "image/jpeg",
        "png" => "image/png",
        "webp" => "image/webp",
        "ico" => "image/vnd.microsoft.icon",
        "woff2" => "font/woff2",
        "wasm" => "application/wasm",
        "pdf" => "application/pdf",
        "zip" => "application/zip",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(target: &str, path: Option<&str>) {
        assert_eq!(Address::of(target).map(|address| address.path).as_deref(), path, "{target}");
    }

    #[test]
    fn a_target_is_decoded_once_and_names_a_file_below_the_root() {
        case("/", Some("index.html"));
        case("/showroom/", Some("showroom/index.html"));
        case("/archive/a%20b.html?x=1", Some("archive/a b.html"));
        case("/archive/%C3%A4.html", Some("archive/ä.html"));
        case("/a%252e%252e/b", Some("a%2e%2e/b"));
        for target in [
            "",
            "archive",
            "*",
            "http://elsewhere/",
            "//elsewhere",
            "/a//b",
            "/../a",
            "/a/../b",
            "/a/..",
            "/./a",
            "/%2e%2e/a",
            "/a/%2e%2e%2fb",
            "/..%2fa",
            "/a%5c..%5cb",
            "/a\\b",
            "/a%00",
            "/%",
            "/%4",
            "/%zz",
            "/%ff",
        ] {
            case(target, None);
        }
    }

    #[test]
    fn a_query_is_read_by_name() {
        let address = Address::of("/viewing/picker?piece=oak+table&photo=a%26b.jpg&empty").unwrap();
        assert_eq!(address.asked("piece"), Some("oak table"));
        assert_eq!(address.asked("photo"), Some("a&b.jpg"));
        assert_eq!(address.asked("empty"), Some(""));
        assert_eq!(address.asked("other"), None);
    }

    #[test]
    fn what_is_encoded_decodes_to_itself() {
        for text in ["", "a b", "ä/%&?#+", "before-front.jpg"] {
            assert_eq!(decoded(&encoded(text)).as_deref(), Some(text));
        }
    }
}
