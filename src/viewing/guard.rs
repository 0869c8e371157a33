//! Who may ask, and for what.
//!
//! The viewing hears this computer alone. That keeps out neither the other users of this computer nor the pages of other
//! sites in the same browser. The first can connect, so an address has a key in it, made anew at every start, and without
//! it there is nothing to see. The second can send requests here, and with a name that they let point here they could
//! read the answers too. So a request must also call the server by its own name, must not come from another site's page,
//! and may change something only with the token that the picker's page holds.
//!
//! The bench page is heard in the home network too, by the same rules, under the addresses that it hears on and with a key
//! of its own; its forms are proven by that key and by whose page sends them.

use std::net::SocketAddrV4;
use std::sync::{PoisonError, RwLock};

use hyper::header::{HOST, HeaderMap, HeaderValue, ORIGIN};
use hyper::{Method, Uri};

/// The names of a server, and what a request must know.
#[derive(Debug)]
pub(super) struct Guard {
    /// The names and addresses by which it may be called, each with its port; the first is told to people.
    names: RwLock<Vec<String>>,
    /// The path of the front page, which is the key between two slashes.
    home: String,
    token: String,
}

/// What may be changed at an address.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Changes {
    /// Nothing.
    Nothing,
    /// Something, by a script that sends the token as a header.
    ByScript,
    /// Something, by a form that has the token among its fields, which whoever reads them looks at.
    ByForm,
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
            Refusal::NoToken => "Only the viewing's own pages may change a record: load it again.",
            Refusal::Method => "Nothing else can be done here.",
        }
    }
}

impl Guard {
    /// That of a server on this computer alone.
    pub(super) fn new(port: u16, key: String, token: String) -> Guard {
        let names = ["127.0.0.1", "localhost", "[::1]"].map(|name| format!("{name}:{port}"));
        Guard { names: RwLock::new(names.into()), home: format!("/{key}/"), token }
    }

    /// That of a server at addresses of the home network, which has no names.
    pub(super) fn at(addresses: &[SocketAddrV4], key: String) -> Guard {
        let names = addresses.iter().map(ToString::to_string).collect();
        Guard { names: RwLock::new(names), home: format!("/{key}/"), token: String::new() }
    }

    /// Lets it be called by one more address, and gives that of the front page there.
    pub(super) fn also_at(&self, address: SocketAddrV4) -> String {
        self.names.write().unwrap_or_else(PoisonError::into_inner).push(address.to_string());
        format!("http://{address}{}", self.home)
    }

    /// The address of the front page.
    pub(super) fn address(&self) -> String {
        self.addresses().swap_remove(0)
    }

    /// The address of the front page by each of the server's names.
    pub(super) fn addresses(&self) -> Vec<String> {
        let names = self.names.read().unwrap_or_else(PoisonError::into_inner);
        names.iter().map(|name| format!("http://{name}{}", self.home)).collect()
    }

    /// The path of the front page, with a slash at its end.
    pub(super) fn home(&self) -> &str {
        &self.home
    }

    /// What the picker's page sends along with a change.
    pub(super) fn token(&self) -> &str {
        &self.token
    }

    /// What is asked for with the key, as a target of its own; `None` for an address without it, and for one that names
    /// a server as those of a proxy do.
    pub(super) fn opened<'a>(&self, uri: &'a Uri) -> Option<&'a str> {
        let target = uri.path_and_query().filter(|_| uri.authority().is_none())?.as_str();
        let (before, rest) = target.split_at_checked(self.home.len() - 1)?;
        if !alike(before, &self.home[..self.home.len() - 1]) {
            return None;
        }
        // The front page's address may have lost its last slash.
        if rest.is_empty() { Some("/") } else { rest.starts_with('/').then_some(rest) }
    }

    /// Lets a request pass, or says why not. `changes` is what a POST may do at this address.
    pub(super) fn check(
        &self,
        method: &Method,
        headers: &HeaderMap,
        changes: Changes,
    ) -> Result<(), Refusal> {
        self.pass(method, headers, changes != Changes::Nothing, |headers| match only(headers, "x-token") {
            Some(token) => alike(token, &self.token),
            None => changes == Changes::ByForm && !headers.contains_key("x-token"),
        })
    }

    /// The same for forms, which a page of the server's own proves by sending them.
    pub(super) fn check_form(&self, method: &Method, headers: &HeaderMap, sent: bool) -> Result<(), Refusal> {
        self.pass(method, headers, sent, |_| true)
    }

    fn pass(
        &self,
        method: &Method,
        headers: &HeaderMap,
        changes: bool,
        proves: impl Fn(&HeaderMap) -> bool,
    ) -> Result<(), Refusal> {
        let names = self.names.read().unwrap_or_else(PoisonError::into_inner);
        let is_own = |host: &str| names.iter().any(|own| own.eq_ignore_ascii_case(host));
        if !only(headers, HOST.as_str()).is_some_and(is_own) {
            return Err(Refusal::Stranger);
        }
        let own_page = |origin: &str| origin.strip_prefix("http://").is_some_and(is_own);
        if headers.get_all(ORIGIN).iter().any(|origin| !text(origin).is_some_and(own_page)) {
            return Err(Refusal::Stranger);
        }
        // Browsers say whose page asks. Following a link from elsewhere is allowed, embedding is not.
        let mut sites = headers.get_all("sec-fetch-site").iter();
        let foreign = sites.any(|site| !matches!(text(site), Some("same-origin" | "none")));
        if foreign && only(headers, "sec-fetch-mode") != Some("navigate") {
            return Err(Refusal::Stranger);
        }
        match *method {
            Method::GET | Method::HEAD => Ok(()),
            Method::POST if changes => {
                let proven = only(headers, ORIGIN.as_str()).is_some() && proves(headers);
                if proven { Ok(()) } else { Err(Refusal::NoToken) }
            }
            _ => Err(Refusal::Method),
        }
    }
}

/// The value of a header that stands there once.
fn only<'a>(headers: &'a HeaderMap, name: &str) -> Option<&'a str> {
    let mut values = headers.get_all(name).iter();
    text(values.next().filter(|_| values.next().is_none())?)
}

fn text(value: &HeaderValue) -> Option<&str> {
    value.to_str().ok()
}

/// Compares without telling by the time taken how much was right.
pub(super) fn alike(one: &str, other: &str) -> bool {
    one.len() == other.len()
        && one.bytes().zip(other.bytes()).fold(0, |unlike, (one, other)| unlike | (one ^ other)) == 0
}

#[cfg(test)]
mod tests {
    use super::Changes::{ByForm, ByScript, Nothing};
    use super::*;

    #[track_caller]
    fn case(method: Method, headers: &[&str], changes: Changes, expected: Result<(), Refusal>) {
        let guard = Guard::new(61007, "key".to_owned(), "secret".to_owned());
        let mut parsed = HeaderMap::new();
        for (name, value) in headers.iter().map(|header| header.split_once(": ").unwrap()) {
            let name: hyper::header::HeaderName = name.parse().unwrap();
            parsed.append(name, value.parse().unwrap());
        }
        assert_eq!(guard.check(&method, &parsed, changes), expected, "{method} {headers:?}");
    }

    const HOST: &str = "Host: 127.0.0.1:61007";
    const ORIGIN: &str = "Origin: http://127.0.0.1:61007";

    #[test]
    fn nothing_is_opened_without_the_key() {
        let guard = Guard::new(61007, "key".to_owned(), "secret".to_owned());
        let case =
            |target: &str, opened| assert_eq!(guard.opened(&target.parse().unwrap()), opened, "{target}");
        for (target, opened) in [
            ("/key/", "/"),
            ("/key", "/"),
            ("/key/a/b?c=d", "/a/b?c=d"),
            ("/key//a", "//a"),
            ("/key/key/", "/key/"),
        ] {
            case(target, Some(opened));
        }
        for target in [
            "/",
            "/?key",
            "/kex/",
            "/ke/",
            "/keys/",
            "/Key/",
            "//key/",
            "/k%65y/",
            "/archive/",
            "/a/../key/",
            "*",
            "key:80",
            "http://127.0.0.1:61007/key/",
        ] {
            case(target, None);
        }
    }

    #[test]
    fn the_server_is_called_by_its_own_name() {
        for host in [HOST, "Host: localhost:61007", "host: LOCALHOST:61007", "Host: [::1]:61007"] {
            case(Method::GET, &[host], Nothing, Ok(()));
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
            case(Method::GET, &[host], Nothing, Err(Refusal::Stranger));
        }
        case(Method::GET, &[HOST, "Host: elsewhere.example:61007"], Nothing, Err(Refusal::Stranger));
        case(Method::GET, &[], Nothing, Err(Refusal::Stranger));
    }

    #[test]
    fn pages_of_other_sites_are_not_answered() {
        case(Method::GET, &[HOST, "Origin: http://elsewhere.example"], Nothing, Err(Refusal::Stranger));
        case(Method::GET, &[HOST, "Origin: null"], Nothing, Err(Refusal::Stranger));
        case(Method::GET, &[HOST, "Origin: http://localhost:3000"], Nothing, Err(Refusal::Stranger));
        case(
            Method::GET,
            &[HOST, "Sec-Fetch-Site: cross-site", "Sec-Fetch-Mode: no-cors"],
            Nothing,
            Err(Refusal::Stranger),
        );
        case(Method::GET, &[HOST, "Sec-Fetch-Site: cross-site", "Sec-Fetch-Mode: navigate"], Nothing, Ok(()));
        case(Method::GET, &[HOST, "Sec-Fetch-Site: same-origin", "Sec-Fetch-Mode: cors"], Nothing, Ok(()));
    }

    #[test]
    fn a_form_is_sent_by_a_page_of_an_address_that_is_heard_on() {
        let addresses = ["192.168.7.20:61007", "10.0.0.3:61007"].map(|address| address.parse().unwrap());
        let guard = Guard::at(&addresses, "key".to_owned());
        let case = |method: Method, headers: [Option<&str>; 2], expected| {
            let mut parsed = HeaderMap::new();
            for (name, value) in ["host", "origin"].into_iter().zip(headers) {
                value.into_iter().for_each(|value| _ = parsed.append(name, value.parse().unwrap()));
            }
            assert_eq!(guard.check_form(&method, &parsed, true), expected, "{method} {headers:?}");
        };
        let (host, origin) = ("192.168.7.20:61007", "http://192.168.7.20:61007");
        assert_eq!(guard.addresses()[1], "http://10.0.0.3:61007/key/");
        case(Method::GET, [Some(host), None], Ok(()));
        case(Method::GET, [Some("10.0.0.3:61007"), None], Ok(()));
        case(Method::POST, [Some(host), Some(origin)], Ok(()));
        case(Method::POST, [Some(host), None], Err(Refusal::NoToken));
        case(Method::PUT, [Some(host), Some(origin)], Err(Refusal::Method));
        for stranger in [
            "bench.example:61007",
            "192.168.7.20",
            "192.168.7.20:80",
            "192.168.7.21:61007",
            "localhost:61007",
        ] {
            case(Method::GET, [Some(stranger), None], Err(Refusal::Stranger));
            case(Method::POST, [Some(host), Some(&format!("http://{stranger}"))], Err(Refusal::Stranger));
        }
        case(Method::POST, [Some(host), Some("null")], Err(Refusal::Stranger));
    }

    #[test]
    fn a_change_needs_its_own_page_and_the_token() {
        case(Method::POST, &[HOST, ORIGIN, "X-Token: secret"], ByScript, Ok(()));
        case(Method::POST, &[HOST, ORIGIN, "X-Token: secret"], Nothing, Err(Refusal::Method));
        case(Method::POST, &[HOST, ORIGIN], ByScript, Err(Refusal::NoToken));
        case(Method::POST, &[HOST, ORIGIN, "X-Token: secreT"], ByScript, Err(Refusal::NoToken));
        case(Method::POST, &[HOST, ORIGIN, "X-Token: secret2"], ByScript, Err(Refusal::NoToken));
        case(Method::POST, &[HOST, "X-Token: secret"], ByScript, Err(Refusal::NoToken));
        case(
            Method::POST,
            &[HOST, "Origin: http://elsewhere.example", "X-Token: secret"],
            ByScript,
            Err(Refusal::Stranger),
        );
        for method in [Method::PUT, Method::DELETE, Method::OPTIONS, Method::PATCH] {
            case(method, &[HOST, ORIGIN, "X-Token: secret"], ByScript, Err(Refusal::Method));
        }
    }
    #[test]
    fn a_form_brings_the_token_among_its_fields_and_comes_from_an_own_page() {
        case(Method::POST, &[HOST, ORIGIN], ByForm, Ok(()));
        case(Method::POST, &[HOST, ORIGIN, "X-Token: secret"], ByForm, Ok(()));
        case(Method::POST, &[HOST, ORIGIN, "X-Token: secreT"], ByForm, Err(Refusal::NoToken));
        case(Method::POST, &[HOST], ByForm, Err(Refusal::NoToken));
        case(Method::POST, &[HOST, "Origin: null"], ByForm, Err(Refusal::Stranger));
        case(Method::POST, &[HOST, "Origin: http://elsewhere.example"], ByForm, Err(Refusal::Stranger));
        case(Method::GET, &[HOST], ByForm, Ok(()));
    }
}
