//! Who may ask, and for what.
//!
//! The server hears this computer alone. That does not keep out the pages of other sites in the same browser: they can
//! send requests here, and with a name that they let point here they could read the answers too. So a request must call
//! the server by its own name, must not come from another site's page, and may change something only with the token
//! that the picker's page holds.

use tiny_http::{Header, Method};

/// The names of a server on this computer, and what a change must prove.
#[derive(Debug)]
pub(super) struct Guard {
    port: u16,
    token: String,
}

/// Why a request is refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Refusal {
    /// It calls the server by a name that is not its own, or comes from another site.
    Stranger,
    /// It wants to do what is not done here.
    Method,
    /// It wants to change something and does not have the token.
    NoToken,
}

impl Refusal {
    pub(super) fn status(self) -> u16 {
        match self {
            Refusal::Stranger | Refusal::NoToken => 403,
            Refusal::Method => 405,
        }
    }

    pub(super) fn words(self) -> &'static str {
        match self {
            Refusal::Stranger => "This server answers only pages of its own, on this computer.",
            Refusal::NoToken => "Only the picker's own page may change a record: load it again.",
            Refusal::Method => "Nothing else can be done here.",
        }
    }
}

impl Guard {
    pub(super) fn new(port: u16, token: String) -> Guard {
        Guard { port, token }
    }

    /// What the picker's page sends along with a change.
    pub(super) fn token(&self) -> &str {
        &self.token
    }

    /// Lets a request pass, or says why not. `changes` is whether a POST may come to this address.
    pub(super) fn check(&self, method: &Method, headers: &[Header], changes: bool) -> Result<(), Refusal> {
        let own: Vec<String> =
            ["127.0.0.1", "localhost", "[::1]"].map(|name| format!("{name}:{}", self.port)).into();
        let is_own = |host: &str| own.iter().any(|own| own.eq_ignore_ascii_case(host));
        let all = |name: &'static str| {
            headers.iter().filter(move |header| header.field.equiv(name)).map(|header| header.value.as_str())
        };
        let only = |name: &'static str| {
            let mut values = all(name);
            values.next().filter(|_| values.next().is_none())
        };
        if !only("Host").is_some_and(is_own) {
            return Err(Refusal::Stranger);
        }
        let own_page = |origin: &str| origin.strip_prefix("http://").is_some_and(is_own);
        if all("Origin").any(|origin| !own_page(origin)) {
            return Err(Refusal::Stranger);
        }
        // Browsers say whose page asks. Following a link from elsewhere is allowed, embedding is not.
        let foreign = all("Sec-Fetch-Site").any(|site| matches!(site, "cross-site" | "same-site"));
        if foreign && only("Sec-Fetch-Mode") != Some("navigate") {
            return Err(Refusal::Stranger);
        }
        match method {
            Method::Get | Method::Head => Ok(()),
            Method::Post if changes => {
                let proven = only("Origin").is_some()
                    && only("X-Token").is_some_and(|token| alike(token, &self.token));
                if proven { Ok(()) } else { Err(Refusal::NoToken) }
            }
            _ => Err(Refusal::Method),
        }
    }
}

/// Compares without telling by the time taken how much was right.
fn alike(one: &str, other: &str) -> bool {
    one.len() == other.len()
        && one.bytes().zip(other.bytes()).fold(0, |unlike, (one, other)| unlike | (one ^ other)) == 0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(method: Method, headers: &[&str], changes: bool, expected: Result<(), Refusal>) {
        let guard = Guard::new(61007, "secret".to_owned());
        let parsed: Vec<Header> = headers.iter().map(|header| header.parse().unwrap()).collect();
        assert_eq!(guard.check(&method, &parsed, changes), expected, "{method} {headers:?}");
    }

    const HOST: &str = "Host: 127.0.0.1:61007";
    const ORIGIN: &str = "Origin: http://127.0.0.1:61007";

    #[test]
    fn the_server_is_called_by_its_own_name() {
        for host in [HOST, "Host: localhost:61007", "host: LOCALHOST:61007", "Host: [::1]:61007"] {
            case(Method::Get, &[host], false, Ok(()));
        }
        for host in [
            "Host: 127.0.0.1",
            "Host: 127.0.0.1:80",
            "Host: elsewhere.example:61007",
            "Host: 127.0.0.1:61007.elsewhere.example",
            "Host: localhost",
            "Host: 0.0.0.0:61007",
            "X-Host: 127.0.0.1:61007",
        ] {
            case(Method::Get, &[host], false, Err(Refusal::Stranger));
        }
        case(Method::Get, &[HOST, "Host: elsewhere.example:61007"], false, Err(Refusal::Stranger));
        case(Method::Get, &[], false, Err(Refusal::Stranger));
    }

    #[test]
    fn pages_of_other_sites_are_not_answered() {
        case(Method::Get, &[HOST, "Origin: http://elsewhere.example"], false, Err(Refusal::Stranger));
        case(Method::Get, &[HOST, "Origin: null"], false, Err(Refusal::Stranger));
        case(Method::Get, &[HOST, "Origin: http://localhost:3000"], false, Err(Refusal::Stranger));
        case(
            Method::Get,
            &[HOST, "Sec-Fetch-Site: cross-site", "Sec-Fetch-Mode: no-cors"],
            false,
            Err(Refusal::Stranger),
        );
        case(Method::Get, &[HOST, "Sec-Fetch-Site: cross-site", "Sec-Fetch-Mode: navigate"], false, Ok(()));
        case(Method::Get, &[HOST, "Sec-Fetch-Site: same-origin", "Sec-Fetch-Mode: cors"], false, Ok(()));
    }

    #[test]
    fn a_change_needs_its_own_page_and_the_token() {
        case(Method::Post, &[HOST, ORIGIN, "X-Token: secret"], true, Ok(()));
        case(Method::Post, &[HOST, ORIGIN, "X-Token: secret"], false, Err(Refusal::Method));
        case(Method::Post, &[HOST, ORIGIN], true, Err(Refusal::NoToken));
        case(Method::Post, &[HOST, ORIGIN, "X-Token: secreT"], true, Err(Refusal::NoToken));
        case(Method::Post, &[HOST, ORIGIN, "X-Token: secret2"], true, Err(Refusal::NoToken));
        case(Method::Post, &[HOST, "X-Token: secret"], true, Err(Refusal::NoToken));
        case(
            Method::Post,
            &[HOST, "Origin: http://elsewhere.example", "X-Token: secret"],
            true,
            Err(Refusal::Stranger),
        );
        for method in [Method::Put, Method::Delete, Method::Options, Method::Patch] {
            case(method, &[HOST, ORIGIN, "X-Token: secret"], true, Err(Refusal::Method));
        }
    }
}
