//! The bench page of `viewing --home`, asked in the bare words of HTTP.

use super::*;
use crate::fixture::{noisy, plain, taken};

/// A viewing whose bench page is heard on the loopback address, so that no test depends on a network.
struct Home {
    running: Running,
    phone: Phone,
}

/// Who has the address of the bench page.
#[derive(Default)]
struct Phone {
    port: u16,
    path: String,
}

impl std::ops::Deref for Home {
    type Target = Phone;

    fn deref(&self) -> &Phone {
        &self.phone
    }
}

/// A field of a form, or a file with its name.
enum Sent<'a> {
    Field(&'a str, &'a str),
    Photo(&'a str, &'a [u8]),
}

use Sent::{Field, Photo};

const BOUNDARY: &str = "----between-the-fields";

fn form(fields: &[Sent<'_>]) -> Vec<u8> {
    let mut body = Vec::new();
    for field in fields {
        let (head, bytes) = match field {
            Field(name, value) => (format!("name=\"{name}\""), value.as_bytes()),
            Photo(name, bytes) => {
                (format!("name=\"photo\"; filename=\"{name}\"\r\nContent-Type: image/jpeg"), *bytes)
            }
        };
        body.extend_from_slice(
            format!("--{BOUNDARY}\r\nContent-Disposition: form-data; {head}\r\n\r\n").as_bytes(),
        );
        body.extend_from_slice(bytes);
        body.extend_from_slice(b"\r\n");
    }
    body.extend_from_slice(format!("--{BOUNDARY}--\r\n").as_bytes());
    body
}

impl Home {
    #[track_caller]
    fn start(bench: Bench) -> Home {
        let mut home = Home::begin(bench);
        home.running.find();
        home
    }

    /// As soon as the bench page is heard, which is before anything is written.
    #[track_caller]
    fn begin(bench: Bench) -> Home {
        let bench = bench.args(["viewing", "--port", "0", "--home=127.0.0.1"]);
        let (child, out, err) = Running::spawn(&bench);
        let running = Running { bench, child, port: 0, home: String::new(), out, err };
        let mut home = Home { running, phone: Phone::default() };
        home.find();
        home
    }

    #[track_caller]
    fn find(&mut self) {
        let line = self.running.line("Bench page at http://127.0.0.1:");
        let (port, path) = line.split("127.0.0.1:").nth(1).and_then(|rest| rest.split_once('/')).unwrap();
        self.phone = Phone { port: port.parse().unwrap(), path: format!("/{path}") };
    }

    fn book(&self) -> String {
        String::from_utf8(self.running.bench.read("pieces/chair/daybook.txt")).unwrap()
    }

    fn photos(&self) -> Vec<String> {
        self.running.bench.names("pieces/chair/photos")
    }
}

impl Phone {
    fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        stream
    }

    #[track_caller]
    fn raw(&self, head: &str, body: &[u8]) -> Answer {
        let mut stream = self.connect();
        stream.write_all(head.as_bytes()).unwrap();
        // What is refused is not read to its end.
        let _ = stream.write_all(body);
        Answer::from(stream)
    }

    fn proofs(&self) -> Vec<String> {
        vec![
            format!("Host: 127.0.0.1:{}", self.port),
            format!("Origin: http://127.0.0.1:{}", self.port),
            "Accept: application/json".to_owned(),
            format!("Content-Type: multipart/form-data; boundary={BOUNDARY}"),
        ]
    }

    #[track_caller]
    fn get(&self, path: &str) -> Answer {
        self.raw(&head("GET", &format!("{}{path}", self.path), &self.proofs()[..1]), b"")
    }

    #[track_caller]
    fn post(&self, path: &str, fields: &[Sent<'_>]) -> (u16, serde_json::Value) {
        let body = form(fields);
        let headers = [&self.proofs()[..], &[format!("Content-Length: {}", body.len())]].concat();
        let answer = self.raw(&head("POST", &format!("{}{path}", self.path), &headers), &body);
        (answer.status, serde_json::from_slice(&answer.body).unwrap_or_else(|_| panic!("{}", answer.text())))
    }
}

#[test]
fn nothing_is_read_or_written_without_the_key() {
    let mut home = Home::start(workshop());
    let old = home.path.clone();
    home.running.kill();
    (home.running.child, home.running.out, home.running.err) = Running::spawn(&home.running.bench);
    home.find();
    home.running.find();
    assert_ne!(home.path, old, "each start has a key of its own");
    let before = home.running.bench.files("pieces");
    let body =
        form(&[Field("entry", "a-mark-of-its-own"), Field("piece", "chair"), Field("did", "glued it")]);
    let length = format!("Content-Length: {}", body.len());
    let (key, viewing) = (home.path.trim_end_matches('/').to_owned(), home.running.home.clone());
    let nothing = |status: u16, answer: &Answer, told: &str| {
        assert_eq!((answer.status, answer.text().trim()), (status, told), "{}", answer.head);
    };
    const NOTHING: &str = "There is nothing at this address.";
    const STRANGER: &str = "This server answers only pages of its own.";
    // The address, what is sent there, and what is said.
    for path in [
        "/".to_owned(),
        "/today".to_owned(),
        "/entry".to_owned(),
        "/piece".to_owned(),
        "/bench.js".to_owned(),
        "/archive/".to_owned(),
        "/viewing/picker?piece=chair".to_owned(),
        "/pieces/chair/record.toml".to_owned(),
        format!("/{}/", "a".repeat(32)),
        format!("{key}x/"),
        key[..key.len() - 1].to_owned() + "/",
        key.to_uppercase() + "/",
        old.clone(),
        format!("{old}today"),
        format!("{old}entry"),
        viewing.clone(),
        format!("{viewing}archive/"),
    ] {
        nothing(404, &home.raw(&head("GET", &path, &home.proofs()), b""), NOTHING);
        let sent = [&home.proofs()[..], std::slice::from_ref(&length)].concat();
        nothing(404, &home.raw(&head("POST", &path, &sent), &body), NOTHING);
        // Answered while all of it is still to come.
        let endless = [&home.proofs()[..], &["Content-Length: 50000000".to_owned()]].concat();
        nothing(404, &home.raw(&head("POST", &path, &endless), b"--"), NOTHING);
    }
    // With the key, and nothing but the bench page: no page of the viewing, no file, no folder above.
    for path in [
        "archive/",
        "showroom/",
        "viewing/picker?piece=chair",
        "viewing/piece?piece=chair",
        "viewing/events",
        "viewing/photograph?piece=chair&photo=after-front.jpg",
        "pieces/chair/record.toml",
        "workshop.toml",
        "buyers-secret.txt",
        ".bench-entries",
        "../workshop.toml",
        "%2e%2e/workshop.toml",
        "theme/theme.toml",
        "theme/assets/../theme.toml",
        "theme/pages/archive-front.html",
        "entry/",
        "index.htm",
    ] {
        nothing(404, &home.get(path), NOTHING);
    }
    // By another name, from another page, or from none.
    let all = home.proofs();
    let (host, origin) = (all[0].clone(), all[1].clone());
    let [elsewhere, rebound] = ["Origin: http://elsewhere.example", "Host: bench.example"].map(str::to_owned);
    let rebound = format!("{rebound}:{}", home.port);
    for (method, path, headers, status) in [
        ("GET", "", vec![rebound.clone()], 403),
        ("GET", "today", vec!["Host: 127.0.0.1".to_owned()], 403),
        ("GET", "today", vec![], 403),
        ("GET", "today", vec![host.clone(), elsewhere.clone()], 403),
        ("POST", "entry", vec![rebound, origin.clone()], 403),
        ("POST", "entry", vec![host.clone(), elsewhere], 403),
        ("POST", "entry", vec![host.clone(), "Origin: null".to_owned()], 403),
        ("POST", "entry", vec![host.clone()], 403),
        ("POST", "", vec![host.clone(), origin.clone()], 405),
        ("POST", "today", vec![host.clone(), origin.clone()], 405),
        ("PUT", "entry", vec![host.clone(), origin.clone()], 405),
        ("DELETE", "entry", vec![host, origin], 405),
    ] {
        let headers = [&headers[..], &all[3..], std::slice::from_ref(&length)].concat();
        nothing(status, &home.raw(&head(method, &format!("{}{path}", home.path), &headers), &body), STRANGER);
    }
    // And the viewing knows nothing of the bench page.
    for target in ["/entry", "/today", "/bench.js", "/viewing/bench.js"] {
        assert_eq!(home.running.get(target).status, 404, "{target}");
    }
    assert!(home.running.bench.files("pieces") == before, "something was written");
}

#[test]
fn a_photograph_and_a_line_come_in_once_however_often_they_are_sent() {
    let mut home = Home::start(workshop());
    let shot = taken(60, "2026:03:11 14:05:00");
    let photo = || {
        [
            Field("entry", "mark-of-the-photo"),
            Field("piece", "chair"),
            Field("stage", "hidden"),
            Photo("image.jpg", &shot),
        ]
    };
    let line = || {
        [
            Field("entry", "mark-of-the-line"),
            Field("piece", "chair"),
            Field("did", "glued the rung"),
            Field("spent", "1 h 15"),
        ]
    };
    let (status, told) = home.post("entry", &photo());
    assert_eq!(
        (status, &told["taken"]["photographs"]),
        (200, &serde_json::json!(["hidden-01.jpg"])),
        "{told}"
    );
    let (status, told) = home.post("entry", &line());
    assert_eq!((status, &told["saved"], &told["sum"]), (200, &true.into(), &"1 h 15 min".into()), "{told}");
    assert_eq!(told["entries"][0]["words"], "glued the rung", "{told}");
    for _ in 0..2 {
        assert_eq!(home.post("entry", &photo()).0, 200);
        let (status, told) = home.post("entry", &line());
        assert_eq!((status, &told["taken"]["again"]), (200, &true.into()), "{told}");
        // Also by a viewing that was started anew, to which the phone comes with what it kept.
        home.running.kill();
        (home.running.child, home.running.out, home.running.err) = Running::spawn(&home.running.bench);
        home.find();
        home.running.find();
    }
    // The same photograph by another entry, under another name and stage.
    let again = [
        Field("entry", "another-mark"),
        Field("piece", "chair"),
        Field("stage", "after"),
        Photo("after-side.jpg", &shot),
    ];
    assert_eq!(home.post("entry", &again).1["taken"]["photographs"], serde_json::json!(["hidden-01.jpg"]));
    assert_eq!(home.photos(), ["after-front.jpg", "before-front.jpg", "hidden-01.jpg"]);
    assert_eq!(home.running.bench.read("pieces/chair/photos/hidden-01.jpg"), shot);
    let book = home.book();
    assert!(book.lines().count() == 1 && book.ends_with(" glued the rung, 1 h 15 min\n"), "{book}");
    assert_eq!(home.running.record(), RECORD);
}

#[test]
fn a_line_that_was_cut_short_after_it_was_written_is_not_written_again() {
    let home = Home::start(workshop());
    let line = [Field("entry", "mark-of-the-line"), Field("piece", "chair"), Field("did", "glued the rung")];
    assert_eq!(home.post("entry", &line).0, 200);
    let marks = String::from_utf8(home.running.bench.read(".bench-entries")).unwrap();
    assert_eq!(marks, "mark-of-the-line 0\nmark-of-the-line done\n");
    // As a run leaves it that ends between the two.
    std::fs::write(home.running.bench.path(".bench-entries"), "mark-of-the-line 0\n").unwrap();
    assert_eq!(home.post("entry", &line).1["taken"]["again"], true);
    assert_eq!(home.book().lines().count(), 1);
    // And one that ends before: the same words on another entry are another line.
    std::fs::write(
        home.running.bench.path(".bench-entries"),
        format!("other-mark-of-it {}\n", home.book().len()),
    )
    .unwrap();
    let other = [Field("entry", "other-mark-of-it"), Field("piece", "chair"), Field("did", "glued the rung")];
    assert_eq!(home.post("entry", &other).0, 200);
    assert_eq!(home.book().lines().count(), 2);
}

#[test]
fn what_is_no_whole_photograph_is_named_and_the_rest_is_saved() {
    let home = Home::start(workshop());
    let sound = noisy(70, 200);
    let half = &sound[..sound.len() / 2];
    let film = b"\0\0\0\x18ftypmp42\0\0\0\0isommp42 and so on";
    let large = [&sound[..], &vec![0; 40_000_001 - sound.len()]].concat();
    let why = |name: &str, bytes: &[u8]| {
        let (status, told) = home.post(
            "entry",
            &[Field("entry", "some-mark-or-other"), Field("piece", "chair"), Photo(name, bytes)],
        );
        assert_eq!(status, 422, "{told}");
        told["why"].as_str().unwrap().to_owned()
    };
    assert_eq!(
        why("a.jpg", half),
        "“a.jpg” is cut short: only part of it arrived. Take or choose it once more."
    );
    assert_eq!(why("b.jpg", film), "“b.jpg” is a film. Photographs alone are taken here.");
    assert_eq!(
        why("c.jpg", &large),
        "“c.jpg” is too large: at most 40 MB are taken from a phone. Bring it in at the desk."
    );
    assert!(why("d.jpg", b"oak?").starts_with("“d.jpg”: not a photograph"));
    assert!(why("e.jpg", b"").starts_with("“e.jpg”: the file is empty"));
    let (status, told) = home.post(
        "entry",
        &[
            Field("entry", "a-mark-of-its-own"),
            Field("piece", "chair"),
            Field("did", "waxed it"),
            Photo("half.jpg", half),
            Photo("../../whole.jpg", &sound),
        ],
    );
    assert_eq!((status, told["taken"]["left"].as_array().unwrap().len()), (200, 1), "{told}");
    assert_eq!(home.photos(), ["after-front.jpg", "before-front.jpg", "during-01.jpg"]);

    // A film of 200 MB is refused before it is read.
    let headers = [&home.proofs()[..], &["Content-Length: 200000000".to_owned()]].concat();
    let answer = home.raw(&head("POST", &format!("{}entry", home.path), &headers), b"--");
    assert_eq!(answer.status, 413, "{}", answer.text());
    // Half of what was said to come.
    let body = form(&[
        Field("entry", "another-mark"),
        Field("piece", "chair"),
        Field("did", "never"),
        Photo("a.jpg", &sound),
    ]);
    for length in [10, body.len() / 2, body.len() - 5] {
        let said = [&home.proofs()[..], &[format!("Content-Length: {}", body.len())]].concat();
        let mut stream = home.connect();
        stream.write_all(head("POST", &format!("{}entry", home.path), &said).as_bytes()).unwrap();
        stream.write_all(&body[..length]).unwrap();
        stream.shutdown(std::net::Shutdown::Write).unwrap();
        let mut answer = Vec::new();
        let _ = stream.read_to_end(&mut answer);
        assert!(!answer.starts_with(b"HTTP/1.1 200"), "{}", String::from_utf8_lossy(&answer));
        let said = [&home.proofs()[..], &[format!("Content-Length: {length}")]].concat();
        let answer = home.raw(&head("POST", &format!("{}entry", home.path), &said), &body[..length]);
        assert_eq!(answer.status, 400, "{}", answer.text());
    }
    assert!(!home.book().contains("never"), "{}", home.book());
    assert_eq!(home.photos().len(), 3);
}

#[test]
fn what_makes_no_sense_is_said_and_nothing_comes_of_it() {
    let home = Home::start(workshop());
    let before = home.running.bench.files("pieces");
    let mark = || Field("entry", "a-mark-of-its-own");
    for (fields, status, words) in [
        (vec![mark(), Field("piece", "chair")], 422, "Nothing to save yet"),
        (vec![mark(), Field("piece", "chair"), Field("spent", "1 h")], 422, "Say what the time was spent on"),
        (
            vec![mark(), Field("piece", "chair"), Field("did", "x"), Field("spent", "long")],
            422,
            "is not understood as a time",
        ),
        (
            vec![mark(), Field("piece", "chair"), Field("did", "x"), Field("stage", "later")],
            422,
            "This stage is not known",
        ),
        (vec![mark(), Field("piece", ""), Field("did", "x")], 422, "Choose a piece"),
        (vec![mark(), Field("piece", "stool"), Field("did", "x")], 422, "This piece is not there any more"),
        (vec![mark(), Field("piece", "../pieces/chair"), Field("did", "x")], 422, "Choose a piece"),
        (vec![mark(), Field("piece", ".."), Field("did", "x")], 422, "Choose a piece"),
        (vec![Field("piece", "chair"), Field("did", "x")], 422, "The page is of an earlier run"),
        (
            vec![Field("entry", "a mark\nx done"), Field("piece", "chair"), Field("did", "x")],
            422,
            "The page is of an earlier run",
        ),
    ] {
        let (found, told) = home.post("entry", &fields);
        assert!(
            found == status && told["why"].as_str().unwrap().contains(words),
            "{found}: {told}, not {words}"
        );
    }
    let long = "x".repeat(1001);
    assert_eq!(home.post("entry", &[mark(), Field("piece", "chair"), Field("did", &long)]).0, 422);
    assert!(home.running.bench.files("pieces") == before);
    std::fs::write(home.running.bench.path("pieces/chair/daybook.txt"), b"caf\xe9\n").unwrap();
    let (status, told) = home.post("entry", &[mark(), Field("piece", "chair"), Field("did", "x")]);
    assert!(status == 503 && told["why"].as_str().unwrap().contains("not UTF-8"), "{told}");
}

#[test]
fn several_writers_at_once_lose_nothing_and_double_nothing() {
    let home = Home::start(workshop());
    let shot = plain(80);
    std::thread::scope(|scope| {
        for phone in 0..2 {
            let (home, shot) = (&home.phone, &shot);
            scope.spawn(move || {
                for entry in 0..8 {
                    let mark = format!("phone-{phone}-entry-{entry}");
                    let did = format!("phone {phone} line {entry}");
                    let fields = [
                        Field("entry", &mark),
                        Field("piece", "chair"),
                        Field("did", &did),
                        Photo("image.jpg", shot),
                    ];
                    assert_eq!(home.post("entry", &fields).0, 200);
                }
            });
        }
        for entry in 0..8 {
            let did = format!("desk line {entry}");
            let mut jot = std::process::Command::new(crate::fixture::PROGRAM);
            home.running.bench.surround(&mut jot);
            assert!(jot.args(["jot", "chair", &did]).output().unwrap().status.success());
        }
    });
    let book = home.book();
    let mut lines: Vec<&str> = book.lines().collect();
    lines.sort_unstable();
    lines.dedup();
    assert_eq!((lines.len(), book.lines().count()), (24, 24), "{book}");
    assert_eq!(home.photos(), ["after-front.jpg", "before-front.jpg", "during-01.jpg"]);
}

#[test]
fn a_new_piece_is_the_one_that_intake_opens_and_one_that_is_there_stays() {
    let home = Home::start(workshop());
    let open = |title: &str| home.post("piece", &[Field("title", title), Field("kind", "table/gateleg")]);
    let (status, told) = open("Oak gateleg table");
    assert_eq!(
        (status, &told["opened"], &told["chosen"]),
        (200, &true.into(), &"oak-gateleg-table".into()),
        "{told}"
    );
    let other = workshop().args(["intake", "Oak gateleg table", "--kind", "table/gateleg"]).status(0);
    for file in ["record.toml", "story.md"] {
        let path = format!("pieces/oak-gateleg-table/{file}");
        assert_eq!(home.running.bench.read(&path), other.read(&path), "{file}");
    }
    let before = home.running.bench.files("pieces");
    for title in ["Oak gateleg table", "OAK gateleg   table!", "Ladder-back chair", "chair"] {
        let (status, told) = open(title);
        assert_eq!(
            (status, &told["opened"], &told["there"]),
            (200, &false.into(), &true.into()),
            "{title}: {told}"
        );
    }
    assert_eq!(open(" ").0, 422);
    assert_eq!(open(&"x".repeat(201)).0, 422);
    assert!(home.running.bench.files("pieces") == before);
    // As a plain form, without script.
    let body = form(&[Field("title", "Stool")]);
    let headers =
        [&home.proofs()[..2], &home.proofs()[3..], &[format!("Content-Length: {}", body.len())]].concat();
    let answer = home.raw(&head("POST", &format!("{}piece", home.path), &headers), &body);
    assert_eq!(answer.status, 303);
    answer.has(&format!("Location: {}?piece=stool&opened", home.path));
    assert!(home.get("?piece=stool&opened").text().contains("<option value=\"stool\" selected>"));
}

#[test]
fn the_page_is_a_plain_form_and_tells_nothing_of_records() {
    let private = "asking = 987\n\n[found]\non = 2026-03-01\nfrom = \"Somebody Secret\"\npaid = 654\n\n[handover]\non = 2026-03-05\nto = \"Nobody\"\n";
    let home = Home::start(
        workshop()
            .write(
                "pieces/sold/record.toml",
                format!("title = \"Gone table\"\nnumber = \"TB-001\"\nkind = \"table\"\n{private}"),
            )
            .write("pieces/chair/daybook.txt", "2026-03-01 earlier words\n"),
    );
    let page = home.get("");
    page.has("Content-Security-Policy: default-src 'none'; img-src 'self' blob:; style-src 'self'; font-src 'self'; \
              script-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'");
    page.has("Cache-Control: no-store");
    page.has("X-Frame-Options: DENY");
    // A form from a page that tells nobody where it is would come from nowhere.
    page.has("Referrer-Policy: same-origin");
    let text = page.text();
    for told in [
        "Ladder-back chair, CH-001",
        "enctype=\"multipart/form-data\"",
        "name=\"photo\"",
        "value=\"handover\"",
    ] {
        assert!(text.contains(told), "{told} in {text}");
    }
    for untold in
        ["987", "Somebody", "654", "Nobody", "Gone", "rungs", "before-front", "earlier words", "ladder-back"]
    {
        assert!(!text.contains(untold) && !home.get("today").text().contains(untold), "{untold} in {text}");
    }
    let mark = text.split("name=\"entry\" value=\"").nth(1).and_then(|rest| rest.split('"').next()).unwrap();
    let shot = plain(90);
    let body = form(&[
        Field("entry", mark),
        Field("piece", "chair"),
        Field("stage", "after"),
        Photo("", b""),
        Photo("x.jpg", &shot),
        Field("did", "<b>waxed</b>"),
        Field("quick", "30 min"),
    ]);
    let headers =
        [&home.proofs()[..2], &home.proofs()[3..], &[format!("Content-Length: {}", body.len())]].concat();
    let answer = home.raw(&head("POST", &format!("{}entry", home.path), &headers), &body);
    let text = answer.text();
    assert_eq!(answer.status, 200, "{text}");
    assert!(
        text.contains("<h2>Saved</h2>") && text.contains("after-01.jpg") && !text.contains("<b>waxed"),
        "{text}"
    );
    // Nothing was chosen and nothing was said.
    let body = form(&[Field("entry", mark), Field("piece", "chair"), Photo("", b"")]);
    let headers =
        [&home.proofs()[..2], &home.proofs()[3..], &[format!("Content-Length: {}", body.len())]].concat();
    let answer = home.raw(&head("POST", &format!("{}entry", home.path), &headers), &body);
    assert!(answer.status == 422 && answer.text().contains("Nothing to save yet"), "{}", answer.text());
}

#[test]
fn it_takes_entries_while_papers_are_being_written() {
    let mut home = Home::begin(workshop());
    let line = [Field("entry", "mark-of-the-line"), Field("piece", "chair"), Field("did", "glued the rung")];
    assert_eq!(home.post("entry", &line).0, 200);
    home.running.find();
    let mut ear = Ear::at(&home.running);
    ear.news(|news| news["written"].as_u64() >= Some(1));
    let end = Instant::now() + PATIENCE;
    while !home.running.get("/archive/pieces/ch-001/").text().contains("glued the rung") {
        assert!(Instant::now() < end, "the line is not on the papers");
        std::thread::sleep(Duration::from_millis(50));
    }
}

#[test]
fn slow_and_endless_forms_keep_nobody_waiting() {
    let home = Home::start(workshop());
    let said = [&home.proofs()[..], &["Content-Length: 50000000".to_owned()]].concat();
    let slow = head("POST", &format!("{}entry", home.path), &said);
    let streams: Vec<TcpStream> = (0..80)
        .map(|_| {
            let mut stream = home.connect();
            stream.write_all(slow.as_bytes()).unwrap();
            stream
        })
        .collect();
    assert_eq!(home.get("").status, 200);
    assert_eq!(home.running.get("/").status, 200, "the viewing has a door of its own");
    drop(streams);
    let line = [Field("entry", "mark-of-the-line"), Field("piece", "chair"), Field("did", "glued the rung")];
    assert_eq!(home.post("entry", &line).0, 200);
}

#[test]
fn it_hears_at_home_alone_and_only_where_it_was_asked_to() {
    Bench::sound()
        .args(["viewing", "--home=203.0.113.7"])
        .stderr_has("203.0.113.7 is no address of a home network")
        .status(2);
    Bench::sound()
        .args(["viewing", "--home=10.254.254.254", "--port", "0"])
        .stderr_has("the bench page cannot be served at 10.254.254.254")
        .status(2);
    Bench::sound().args(["viewing", "--home=bench.example"]).stderr_has("--home").status(2);
    let running = Running::start(workshop());
    // The lines before the address, which are already read, had none of it either: see `find`.
    assert!(!running.err.lock().unwrap().contains("Bench"));
    #[cfg(target_os = "linux")]
    {
        // Of all that listens at the port, nothing does but at the one address.
        let hexadecimal = format!(":{:04X} ", running.port);
        let listening: Vec<String> = ["/proc/net/tcp", "/proc/net/tcp6"]
            .iter()
            .flat_map(|file| {
                std::fs::read_to_string(file)
                    .unwrap_or_default()
                    .lines()
                    .map(str::to_owned)
                    .collect::<Vec<_>>()
            })
            .filter(|line| line.contains(" 0A ") && line.contains(&hexadecimal))
            .collect();
        assert!(listening.len() == 1 && listening[0].contains("0100007F:"), "{listening:?}");
    }
    assert!(!running.bench.path(".bench-entries").exists());
}

#[test]
fn it_says_how_a_phone_comes_in_and_that_the_network_is_not_private() {
    let home = Home::begin(workshop());
    let mut code = 0;
    loop {
        let line = home.running.out.recv_timeout(PATIENCE).unwrap();
        code += usize::from(line.contains('█'));
        if line.contains("A home network is not private") {
            break;
        }
    }
    assert!(code >= 15, "{code} lines of a code");
}
