//! What a form sends: named fields, some of them files.

use std::collections::BTreeMap;

use memchr::memmem;

/// The most fields of a form, files among them.
const MOST_FIELDS: usize = 64;

/// The longest head of a field in bytes.
const LONGEST_HEAD: usize = 4_000;

/// A file that was sent.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct SentFile {
    /// Its name on the phone, without the folders that some browsers put before it.
    pub(super) name: String,
    pub(super) bytes: Vec<u8>,
}

/// A form that was sent.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Form {
    fields: BTreeMap<String, String>,
    pub(super) files: Vec<SentFile>,
}

impl Form {
    /// Reads what was sent, by the content type that was said of it; `None` where it is no whole form.
    ///
    /// # Source
    /// RFC 7578, section 4; RFC 2046, section 5.1.1.
    pub(super) fn of(kind: &str, body: &[u8]) -> Option<Form> {
        let boundary = boundary(kind)?;
        let line = format!("\r\n--{boundary}");
        // The first line has no line end before it where nothing stands before the fields.
        let first = format!("--{boundary}");
        let mut rest = body.strip_prefix(first.as_bytes())?;
        let mut form = Form::default();
        for _ in 0..=MOST_FIELDS {
            if rest.starts_with(b"--") {
                return Some(form);
            }
            rest = rest.strip_prefix(b"\r\n")?;
            let end = memmem::find(&rest[..rest.len().min(LONGEST_HEAD)], b"\r\n\r\n")?;
            let head = std::str::from_utf8(&rest[..end]).ok()?;
            rest = &rest[end + 4..];
            let end = memmem::find(rest, line.as_bytes())?;
            form.field(head, &rest[..end])?;
            rest = &rest[end + line.len()..];
        }
        None
    }

    fn field(&mut self, head: &str, bytes: &[u8]) -> Option<()> {
        let disposition = head.split("\r\n").find_map(|line| {
            let (name, value) = line.split_once(':')?;
            name.eq_ignore_ascii_case("content-disposition").then_some(value.trim())
        })?;
        let name = parameter(disposition, "name")?;
        match parameter(disposition, "filename") {
            // A form without a file chosen sends one without a name.
            Some(file) if file.is_empty() && bytes.is_empty() => {}
            Some(file) => {
                let name = file.rsplit(['/', '\\']).next().unwrap_or_default().to_owned();
                self.files.push(SentFile { name, bytes: bytes.to_vec() });
            }
            None => _ = self.fields.insert(name, std::str::from_utf8(bytes).ok()?.to_owned()),
        }
        Some(())
    }

    /// A field's text without white space around it; empty where it was not sent.
    pub(super) fn said(&self, name: &str) -> &str {
        self.fields.get(name).map_or("", |text| text.trim())
    }
}

/// What stands between the fields, as the content type says.
fn boundary(kind: &str) -> Option<&str> {
    let (essence, rest) = kind.split_once(';')?;
    if !essence.trim().eq_ignore_ascii_case("multipart/form-data") {
        return None;
    }
    let (_, value) = rest.split_once("boundary=")?;
    let value = value.split(';').next().unwrap_or_default().trim().trim_matches('"');
    (1..=70).contains(&value.len()).then_some(value)
}

/// A parameter of a disposition; browsers write `"` in it as `%22`.
fn parameter(disposition: &str, name: &str) -> Option<String> {
    let start = format!("; {name}=\"");
    let at = disposition.find(&start)? + start.len();
    let value = &disposition[at..];
    Some(value[..value.find('"')?].replace("%22", "\"").replace("%0D", "").replace("%0A", ""))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const KIND: &str = "multipart/form-data; boundary=----line";

    fn body(fields: &[(&str, &str)]) -> Vec<u8> {
        let field = |(head, value): &(&str, &str)| {
            format!("------line\r\nContent-Disposition: form-data; {head}\r\n\r\n{value}\r\n")
        };
        format!("{}------line--\r\n", fields.iter().map(field).collect::<String>()).into_bytes()
    }

    #[test]
    fn fields_and_files_are_told_apart() {
        let sent = body(&[
            ("name=\"did\"", " glued it\r\nagain "),
            ("name=\"photo\"; filename=\"C:\\pictures\\IMG 1.jpg\"\r\nContent-Type: image/jpeg", "x\r\n--y"),
            ("name=\"photo\"; filename=\"\"\r\nContent-Type: application/octet-stream", ""),
        ]);
        let form = Form::of(KIND, &sent).unwrap();
        assert_eq!(form.said("did"), "glued it\r\nagain");
        assert_eq!(form.said("other"), "");
        let file = SentFile { name: "IMG 1.jpg".to_owned(), bytes: b"x\r\n--y".to_vec() };
        assert_eq!(form.files, [file]);
    }

    #[test]
    fn half_a_form_is_none() {
        let sent = body(&[("name=\"did\"", "glued it"), ("name=\"photo\"; filename=\"a.jpg\"", "bytes")]);
        assert!(Form::of(KIND, &sent).is_some());
        // The line end behind the last line may be missing.
        for length in 0..sent.len() - 2 {
            assert_eq!(Form::of(KIND, &sent[..length]), None, "{length}");
        }
        for kind in [
            "",
            "text/plain",
            "multipart/form-data",
            "multipart/form-data; boundary=",
            "multipart/mixed; boundary=----line",
        ] {
            assert_eq!(Form::of(kind, &sent), None, "{kind}");
        }
        let many: Vec<(&str, &str)> = vec![("name=\"a\"", "b"); MOST_FIELDS + 1];
        assert_eq!(Form::of(KIND, &body(&many)), None);
    }

    proptest! {
        #[test]
        fn nothing_that_is_sent_breaks_it(sent in prop::collection::vec(any::<u8>(), 0..300)) {
            let _ = Form::of(KIND, &sent);
            let _ = Form::of(KIND, &[b"------line\r\n", &sent[..]].concat());
        }
    }
}
