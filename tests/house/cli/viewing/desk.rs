//! The record's page: forms that show their change, write it, undo it, or are refused.

use super::*;

/// A form as a browser sends it.
fn form(pairs: &[(&str, &str)]) -> String {
    let sign = |byte: u8| match byte {
        b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' => char::from(byte).to_string(),
        b' ' => "+".to_owned(),
        byte => format!("%{byte:02X}"),
    };
    let encoded = |text: &str| text.bytes().map(sign).collect::<String>();
    let pairs: Vec<String> =
        pairs.iter().map(|(name, value)| format!("{}={}", encoded(name), encoded(value))).collect();
    pairs.join("&")
}

impl Running {
    fn form_token(&self) -> String {
        self.token().trim_start_matches("X-Token: ").to_owned()
    }

    fn sends(&self, pairs: &[(&str, &str)]) -> Answer {
        let token = self.form_token();
        let pairs = [&[("token", token.as_str()), ("piece", "chair")], pairs].concat();
        let kind = "Content-Type: application/x-www-form-urlencoded".to_owned();
        self.ask("POST", "/viewing/desk", &[self.host(), self.origin(), kind], &form(&pairs))
    }
}

/// What a hidden field of the page holds.
#[track_caller]
fn hidden(page: &str, name: &str) -> String {
    let rest = page.split(&format!("name=\"{name}\" value=\"")).nth(1);
    rest.and_then(|rest| rest.split('"').next()).unwrap_or_else(|| panic!("no {name} in {page}")).to_owned()
}

const FINDING: [(&str, &str); 12] = [
    ("at", "finding.new"),
    ("o:id", ""),
    ("v:id", ""),
    ("o:part", ""),
    ("o:seen", ""),
    ("v:seen", "split"),
    ("o:extent", ""),
    ("v:extent", "310 mm, \"open\""),
    ("o:severity", ""),
    ("v:severity", "moderate"),
    ("o:cause.guess", ""),
    ("v:cause.guess", ""),
];

#[test]
fn a_form_shows_its_change_and_writes_and_undoes_it() {
    let running = Running::start(workshop());
    let page = running.get("/viewing/desk?piece=chair&open=finding.new").text();
    for words in [
        "What was observed",
        "name=\"v:seen\"",
        "list=\"words-term\"",
        "Fit to hand over",
        "Ladder-back chair: the record",
    ] {
        assert!(
            page.contains(words) || words.starts_with("Fit") && page.contains("Not yet"),
            "{words}\n{page}"
        );
    }
    let shown = running.sends(&[&FINDING[..], &[("do", "show")]].concat());
    assert_eq!(shown.status, 200);
    let shown = shown.text();
    assert!(shown.contains("<ins>[[finding]]</ins>") && shown.contains("taken as "), "{shown}");
    assert_eq!(running.record(), RECORD, "nothing is written before it was seen");

    let (was, becomes) = (hidden(&shown, "seen-was"), hidden(&shown, "seen-becomes"));
    let seen = [("seen-was", was.as_str()), ("seen-becomes", becomes.as_str()), ("do", "write")];
    let other = [&FINDING[..], &[("v:extent", "and more")], &seen].concat();
    assert_eq!(running.sends(&other).status, 409, "another change than the one that was seen");
    assert_eq!(running.record(), RECORD);
    let written = running.sends(&[&FINDING[..], &seen].concat());
    assert_eq!(written.status, 303, "{}", written.text());
    assert!(written.head.to_lowercase().contains("location: "), "{}", written.head);
    let expected = format!(
        "{RECORD}\n[[finding]]\nid = \"split\"\nseen = \"split\"\nextent = '310 mm, \"open\"'\nseverity = \"moderate\"\n"
    );
    assert_eq!(running.record(), expected);
    assert_eq!(running.sends(&[&FINDING[..], &seen].concat()).status, 409, "the same once more");
    assert_eq!(running.record(), expected);

    let page = running.get("/viewing/desk?piece=chair&said=written").text();
    assert!(page.contains("Written into the record.") && page.contains("Undo the last change"), "{page}");
    // Whoever has changed the record meanwhile loses nothing.
    running.save(&format!("{expected}# mine\n"));
    assert_eq!(running.sends(&[("was", &was), ("do", "undo")]).status, 409);
    assert!(running.record().ends_with("# mine\n"));
    running.save(&expected);
    let now = hidden(&running.get("/viewing/desk?piece=chair").text(), "was");
    assert_eq!(running.sends(&[("was", &now), ("do", "undo")]).status, 303);
    assert_eq!(running.record(), RECORD);
    assert!(!running.get("/viewing/desk?piece=chair").text().contains("Undo the last change"));
}

#[test]
fn an_entry_that_was_changed_meanwhile_is_not_written_over() {
    let record = format!("{RECORD}\n[[work]]\ndid = \"glued it\"\n\n[[work]]\ndid = \"waxed it\"\n");
    let running = Running::start(workshop().write("pieces/chair/record.toml", &record));
    let page = running.get("/viewing/desk?piece=chair&open=work.1").text();
    let row = hidden(&page, "row");
    let fields =
        [("at", "work.1"), ("row", row.as_str()), ("o:did", "waxed it"), ("v:did", "waxed it twice")];
    // The row that stands in its place now is another one.
    running.save(&record.replace("[[work]]\ndid = \"glued it\"\n\n", ""));
    let refused = running.sends(&[&fields[..], &[("do", "show")]].concat()).text();
    assert!(refused.contains("changed meanwhile"), "{refused}");
    // Elsewhere it may change: the comparison is then made anew.
    running.save(&format!("# more\n{record}"));
    let shown = running.sends(&[&fields[..], &[("do", "show")]].concat()).text();
    assert!(shown.contains("<del>did = &quot;waxed it&quot;</del>"), "{shown}");
}

#[test]
fn only_the_own_page_changes_a_record() {
    let running = Running::start(workshop());
    let token = running.form_token();
    let body =
        form(&[&[("token", token.as_str()), ("piece", "chair")], &FINDING[..], &[("do", "show")]].concat());
    let sends = |headers: &[String], body: &str| running.ask("POST", "/viewing/desk", headers, body).status;
    assert_eq!(sends(&[running.host(), running.origin()], &body), 200);
    assert_eq!(sends(&[running.host()], &body), 403);
    assert_eq!(sends(&[running.host(), "Origin: http://elsewhere.example".to_owned()], &body), 403);
    assert_eq!(sends(&[running.host(), running.origin()], &body.replace(&token, "guessed")), 403);
    for (body, status) in
        [("", 400), ("do=show", 403), ("%", 400), ("token=a&piece=chair&at=nothing.new&do=show", 400)]
    {
        assert_eq!(sends(&[running.host(), running.origin()], body), status, "{body}");
    }
    let other = form(&[("token", token.as_str()), ("piece", "../chair"), ("do", "show")]);
    assert_eq!(sends(&[running.host(), running.origin()], &other), 404);
    assert_eq!(running.record(), RECORD);
}

#[test]
fn a_record_with_mistakes_opens_and_its_broken_rows_are_left_alone() {
    let record =
        format!("{RECORD}\n[[part]]\nid = \"seat\nname = Seat\n\n[[work]]\ndid = \"glued it\"\nwhen = 3\n");
    let running = Running::start(workshop().write("pieces/chair/record.toml", &record));
    let page = running.get("/viewing/desk?piece=chair&open=work.0").text();
    assert!(page.contains("Some lines are no TOML") && page.contains("name = Seat"), "{page}");
    let row = hidden(&page, "row");
    let fields =
        [("at", "work.0"), ("row", row.as_str()), ("o:did", "glued it"), ("v:did", "glued it again")];
    let shown = running.sends(&[&fields[..], &[("do", "show")]].concat()).text();
    let (was, becomes) = (hidden(&shown, "seen-was"), hidden(&shown, "seen-becomes"));
    let seen = [("seen-was", was.as_str()), ("seen-becomes", becomes.as_str()), ("do", "write")];
    assert_eq!(running.sends(&[&fields[..], &seen].concat()).status, 303);
    assert_eq!(running.record(), record.replace("\"glued it\"", "\"glued it again\""));
}

#[test]
fn what_the_day_book_proposes_is_entered_from_the_page() {
    let record = format!(
        "{RECORD}\n[[part]]\nid = \"seat\"\nname = \"Seat\"\nstanding = \"original\"\n\n[[surface]]\nparts = \"seat\"\n"
    );
    let bench = workshop()
        .write("pieces/chair/record.toml", &record)
        .write("pieces/chair/daybook.txt", "2026-03-11 2 coats shellac on the seat\n");
    let running = Running::start(bench);
    let page = running.get("/viewing/desk?piece=chair").text();
    assert!(page.contains("2026-03-11 2 coats shellac on the seat"), "{page}");
    let toml = page
        .split("<textarea name=\"toml\" hidden>")
        .nth(1)
        .and_then(|rest| rest.split("</textarea>").next());
    let toml = toml.unwrap_or_else(|| panic!("{page}")).replace("&quot;", "\"");
    let line = [("line", "2026-03-11 2 coats shellac on the seat"), ("toml", toml.as_str())];
    let shown = running.sends(&[&line[..], &[("do", "show")]].concat()).text();
    let (was, becomes) = (hidden(&shown, "seen-was"), hidden(&shown, "seen-becomes"));
    assert_eq!(running.record(), record);
    let seen = [("seen-was", was.as_str()), ("seen-becomes", becomes.as_str()), ("do", "write")];
    assert_eq!(running.sends(&[&line[..], &seen].concat()).status, 303);
    assert!(running.record().contains("apply = \"shellac\", coats = 2"), "{}", running.record());
}
