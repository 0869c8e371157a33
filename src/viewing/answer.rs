//! Answers, and what each of them says to the browser.

use http_body_util::{Either, Full};
use hyper::Response;
use hyper::body::Bytes;
use hyper::header::{CONTENT_TYPE, HeaderName, HeaderValue, LOCATION};
use serde::Serialize;

use super::events::Listening;
use crate::unit::legible::escaped_json;

/// What is sent after the head of an answer: all at once, or news as it comes.
pub(super) type Content = Either<Full<Bytes>, Listening>;

/// An answer that is ready to be sent.
pub(super) struct Answer {
    pub(super) status: u16,
    pub(super) kind: &'static str,
    pub(super) bytes: Vec<u8>,
    /// Where to look instead, as an address that is encoded.
    pub(super) to: Option<String>,
}

impl Answer {
    pub(super) fn html(page: Vec<u8>) -> Answer {
        Answer { status: 200, kind: "text/html; charset=utf-8", bytes: page, to: None }
    }

    pub(super) fn words(status: u16, words: &str) -> Answer {
        Answer { status, kind: "text/plain; charset=utf-8", bytes: format!("{words}\n").into(), to: None }
    }

    pub(super) fn json<T: Serialize>(status: u16, value: &T) -> Answer {
        Answer { status, kind: "application/json", bytes: json(value).into(), to: None }
    }

    /// The one answer to all that is not here, and to all that is asked without the key: it tells nothing.
    pub(super) fn nothing() -> Answer {
        Answer::words(404, "There is nothing at this address.")
    }

    pub(super) fn response(self) -> Response<Content> {
        let Answer { status, kind, bytes, to } = self;
        let mut response = response(status, kind, Either::Left(Full::new(bytes.into())));
        if let Some(to) = to {
            let to = HeaderValue::try_from(to).expect("an encoded address is ASCII");
            response.headers_mut().insert(LOCATION, to);
        }
        response
    }
}

/// The answer to a page that listens.
pub(super) fn news(listening: Listening) -> Response<Content> {
    response(200, "text/event-stream", Either::Right(listening))
}

fn response(status: u16, kind: &'static str, content: Content) -> Response<Content> {
    let mut response = Response::new(content);
    *response.status_mut() = status.try_into().expect("the statuses of this server are plain numbers");
    let headers = response.headers_mut();
    headers.insert(CONTENT_TYPE, HeaderValue::from_static(kind));
    for (name, value) in ALWAYS {
        headers.insert(HeaderName::from_static(name), HeaderValue::from_static(value));
    }
    response
}

/// What every answer says. What is written next must be seen, the archive must not stay in the browser, and no other
/// site must learn of the address.
const ALWAYS: [(&str, &str); 6] = [
    ("cache-control", "no-store"),
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    ("cross-origin-resource-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("referrer-policy", "no-referrer"),
];

pub(super) fn json<T: Serialize>(value: &T) -> String {
    escaped_json(&serde_json::to_string(value).expect("texts and numbers are JSON")).into_owned()
}
