//! A calendar as the file that calendars of telephones and computers take.

use std::fmt::Write;

use crate::unit::legible::without_unseen;
use crate::view::Calendar;

/// The most bytes of a line, without its end.
const LINE: usize = 75;

/// A calendar in the format of RFC 5545. The same calendar gives the same bytes.
///
/// It names no method: `PUBLISH` asks for an organiser with a mail address (RFC 5546, section 3.2.1), which a workshop
/// may not have. Events come again without end, and a new issue replaces them by their ids.
///
/// # Source
/// RFC 5545, "Internet Calendaring and Scheduling Core Object Specification": sections 3.1 (lines), 3.3.11 (text),
/// 3.6.1 (events), 3.8.5.3 (recurrence), 3.8.7.4 (sequence). RFC 7986, section 5.1 (name).
pub fn calendar(calendar: &Calendar) -> Vec<u8> {
    let mut file = CalendarFile::default();
    file.line("BEGIN", "VCALENDAR");
    file.line("VERSION", "2.0");
    file.line("PRODID", &format!("-//Witnessmark//Care calendar {}//EN", env!("CARGO_PKG_VERSION")));
    file.line("CALSCALE", "GREGORIAN");
    let language = &calendar.language;
    file.line(&format!("NAME;LANGUAGE={language}"), &text(&calendar.name));
    for event in &calendar.events {
        file.line("BEGIN", "VEVENT");
        file.line("UID", &text(&event.id));
        file.line("DTSTAMP", &calendar.issued.format("%Y%m%dT000000Z").to_string());
        file.line("SEQUENCE", &calendar.edition.to_string());
        file.line("DTSTART;VALUE=DATE", &event.on.format("%Y%m%d").to_string());
        file.line("DTEND;VALUE=DATE", &event.until.format("%Y%m%d").to_string());
        match event.every_months {
            0 => {}
            months if months % 12 == 0 => {
                file.line("RRULE", &format!("FREQ=YEARLY;INTERVAL={}", months / 12))
            }
            months => file.line("RRULE", &format!("FREQ=MONTHLY;INTERVAL={months}")),
        }
        file.line(&format!("SUMMARY;LANGUAGE={language}"), &text(&event.heading));
        file.line(&format!("DESCRIPTION;LANGUAGE={language}"), &text(&event.text));
        // Nobody is busy because a varnish hardens.
        file.line("TRANSP", "TRANSPARENT");
        file.line("END", "VEVENT");
    }
    file.line("END", "VCALENDAR");
    file.0.into_bytes()
}

#[derive(Default)]
struct CalendarFile(String);

impl CalendarFile {
    /// One property, folded to lines of at most 75 bytes, never within a character.
    fn line(&mut self, name: &str, value: &str) {
        let mut bytes = 0;
        for character in name.chars().chain([':']).chain(value.chars()) {
            if bytes + character.len_utf8() > LINE {
                self.0.push_str("\r\n ");
                bytes = 1;
            }
            self.0.push(character);
            bytes += character.len_utf8();
        }
        self.0.push_str("\r\n");
    }
}

/// A text with what means something to the format escaped; signs that nobody sees are left out, controls among them,
/// which it forbids.
fn text(text: &str) -> String {
    let mut escaped = String::new();
    let lines = text.replace("\r\n", "\n").replace(['\r', '\u{2028}', '\u{2029}'], "\n");
    for character in without_unseen(&lines).chars() {
        match character {
            '\\' | ';' | ',' => write!(escaped, "\\{character}").expect("a text takes any text"),
            '\n' => escaped.push_str("\\n"),
            character => escaped.push(character),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;

    use super::*;
    use crate::view::Event;

    fn one(title: &str, every_months: u32) -> String {
        let day = |day| NaiveDate::from_ymd_opt(2026, 4, day).unwrap();
        let event = Event {
            id: "0123@witnessmark".to_owned(),
            on: day(20),
            until: day(21),
            every_months,
            day: String::new(),
            again: String::new(),
            title: String::new(),
            heading: title.to_owned(),
            text: "Look.\nThen wait.".to_owned(),
        };
        let whole = Calendar {
            name: "Care".to_owned(),
            language: "en-GB".to_owned(),
            issued: day(20),
            edition: 9606,
            events: vec![event],
        };
        String::from_utf8(calendar(&whole)).unwrap()
    }

    #[test]
    fn an_event_is_a_whole_day_with_all_that_it_must_have() {
        let expected = "BEGIN:VEVENT\r\nUID:0123@witnessmark\r\nDTSTAMP:20260420T000000Z\r\nSEQUENCE:9606\r\n\
             DTSTART;VALUE=DATE:20260420\r\nDTEND;VALUE=DATE:20260421\r\nRRULE:FREQ=YEARLY;INTERVAL=2\r\n\
             SUMMARY;LANGUAGE=en-GB:Table\r\nDESCRIPTION;LANGUAGE=en-GB:Look.\\nThen wait.\r\n\
             TRANSP:TRANSPARENT\r\nEND:VEVENT\r\n";
        assert!(one("Table", 24).contains(expected), "{}", one("Table", 24));
        assert!(one("Table", 6).contains("\r\nRRULE:FREQ=MONTHLY;INTERVAL=6\r\n"));
        assert!(!one("Table", 0).contains("RRULE"));
    }

    #[test]
    fn lines_are_folded_between_characters_and_texts_come_back() {
        for title in [
            "a; b, c \\ d \"e\": f\nEND:VEVENT",
            &"Stuhl mit 🪑 und كرسي, ".repeat(90),
            &"x".repeat(2000),
            "\r\n\u{b}\u{0}BEGIN:VEVENT\u{2028}",
        ] {
            let file = one(title, 0);
            assert!(file.split("\r\n").all(|line| line.len() <= LINE), "{title}");
            assert!(!file.replace("\r\n", "").contains(['\r', '\n']), "{title}");
            assert_eq!(file.matches("\r\nEND:VEVENT\r\n").count(), 1, "{title}");
            let unfolded = file.replace("\r\n ", "");
            let line =
                unfolded.split("\r\n").find_map(|line| line.strip_prefix("SUMMARY;LANGUAGE=en-GB:")).unwrap();
            assert_eq!(line, text(title), "{title}");
        }
    }
}
