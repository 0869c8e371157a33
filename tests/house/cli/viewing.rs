//! `witnessmark viewing`, asked in the bare words of HTTP.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use crate::fixture::Bench;

/// Far longer than anything takes, even on a machine that does much else.
const PATIENCE: Duration = Duration::from_secs(120);

/// A server that runs, and ends with the test.
struct Running {
    bench: Bench,
    child: Child,
    port: u16,
    out: Receiver<String>,
    err: Arc<Mutex<String>>,
}

struct Answer {
    status: u16,
    head: String,
    body: Vec<u8>,
}

impl Answer {
    fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    #[track_caller]
    fn has(&self, header: &str) {
        assert!(
            self.head.lines().any(|line| line.eq_ignore_ascii_case(header)),
            "{header} in\n{}",
            self.head
        );
    }
}

impl Running {
    #[track_caller]
    fn start(bench: Bench) -> Running {
        let bench = bench.args(["viewing", "--port", "0"]);
        let mut child = bench.process().stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        let (send, out) = channel();
        let lines = BufReader::new(child.stdout.take().unwrap()).lines();
        std::thread::spawn(move || lines.map_while(Result::ok).try_for_each(|line| send.send(line)));
        let err = Arc::new(Mutex::new(String::new()));
        let (mut pipe, heard) = (child.stderr.take().unwrap(), Arc::clone(&err));
        std::thread::spawn(move || {
            let mut bytes = [0; 4096];
            while let Ok(length @ 1..) = pipe.read(&mut bytes) {
                heard.lock().unwrap().push_str(&String::from_utf8_lossy(&bytes[..length]));
            }
        });
        let mut running = Running { bench, child, port: 0, out, err };
        let address = running.line("Viewing at http://127.0.0.1:");
        let port = address.split("127.0.0.1:").nth(1).and_then(|rest| rest.split('/').next());
        running.port = port.and_then(|port| port.parse().ok()).unwrap_or_else(|| panic!("{address}"));
        running
    }

    /// The next line of the standard output that holds these words.
    #[track_caller]
    fn line(&self, words: &str) -> String {
        let end = Instant::now() + PATIENCE;
        let mut heard = String::new();
        while let Ok(line) = self.out.recv_timeout(end.saturating_duration_since(Instant::now())) {
            if line.contains(words) {
                return line;
            }
            heard.push_str(&line);
        }
        panic!("waited for {words:?} and heard {heard:?}, {:?}", self.err.lock().unwrap());
    }

    /// Sends bytes, and reads until the server ends the connection.
    #[track_caller]
    fn raw(&self, request: &str) -> Answer {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        stream.write_all(request.as_bytes()).unwrap();
        let mut bytes = Vec::new();
        stream.read_to_end(&mut bytes).unwrap();
        let end = bytes.windows(4).position(|four| four == b"\r\n\r\n").expect("an answer has a head");
        let head = String::from_utf8(bytes[..end].to_vec()).unwrap();
        let status = head.split(' ').nth(1).unwrap().parse().unwrap();
        Answer { status, head, body: bytes[end + 4..].to_vec() }
    }

    #[track_caller]
    fn ask(&self, method: &str, target: &str, headers: &[String], body: &str) -> Answer {
        let headers: String = headers.iter().map(|header| format!("{header}\r\n")).collect();
        let length = body.len();
        self.raw(&format!(
            "{method} {target} HTTP/1.1\r\n{headers}Connection: close\r\nContent-Length: {length}\r\n\r\n{body}"
        ))
    }

    #[track_caller]
    fn get(&self, target: &str) -> Answer {
        self.ask("GET", target, &[self.host()], "")
    }

    fn host(&self) -> String {
        format!("Host: 127.0.0.1:{}", self.port)
    }

    fn origin(&self) -> String {
        format!("Origin: http://127.0.0.1:{}", self.port)
    }

    /// The token that the picker's page holds.
    #[track_caller]
    fn token(&self) -> String {
        let page = self.get("/viewing/picker?piece=chair").text();
        let token = page.split("name=\"token\" content=\"").nth(1).and_then(|rest| rest.split('"').next());
        format!("X-Token: {}", token.unwrap_or_else(|| panic!("{page}")))
    }

    #[track_caller]
    fn change(&self, body: &str) -> (u16, serde_json::Value) {
        let answer = self.ask("POST", "/viewing/change", &[self.host(), self.origin(), self.token()], body);
        (answer.status, serde_json::from_slice(&answer.body).unwrap_or_else(|_| panic!("{}", answer.text())))
    }

    fn record(&self) -> String {
        String::from_utf8(self.bench.read("pieces/chair/record.toml")).unwrap()
    }

    fn save(&self, text: &str) {
        std::fs::write(self.bench.path("pieces/chair/record.toml"), text).unwrap();
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A page's ear: the events that the server sends.
struct Ear(BufReader<TcpStream>);

impl Ear {
    fn at(running: &Running) -> Ear {
        let mut stream = TcpStream::connect(("127.0.0.1", running.port)).unwrap();
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        write!(stream, "GET /viewing/events HTTP/1.1\r\n{}\r\n\r\n", running.host()).unwrap();
        Ear(BufReader::new(stream))
    }

    /// The next news for which something holds.
    #[track_caller]
    fn news(&mut self, wanted: impl Fn(&serde_json::Value) -> bool) -> serde_json::Value {
        // The server sends signs of life, so that reading alone would never give up.
        let end = Instant::now() + PATIENCE;
        loop {
            assert!(Instant::now() < end, "this news does not come");
            let mut line = String::new();
            assert_ne!(self.0.read_line(&mut line).expect("the server goes on sending"), 0, "it ended");
            if let Some(data) = line.strip_prefix("data: ") {
                let news = serde_json::from_str(data).unwrap();
                if wanted(&news) {
                    return news;
                }
            }
        }
    }
}

const RECORD: &str = "# The chair of the bench\ntitle = \"Ladder-back chair\"  # as on the label\nnumber = \"CH-001\"\nkind = \"chair/ladder-back\"\n\n\
    [[photo]]\nfile = \"before-front.jpg\"\nalt = \"The chair from the front, two rungs loose.\"\n\n\
    [[photo]]\nfile = \"after-front.jpg\"\nalt = \"The chair from the front, all rungs in place.\"\n";

fn workshop() -> Bench {
    Bench::workshop().write("pieces/chair/record.toml", RECORD).photographed("chair")
}

const MARK: &str = r#"{"kind": "marks", "photo": "after-front.jpg", "marks": [{"shape": "point", "points": [[0.5, 0.25]], "note": "the rung"}]}"#;

#[test]
fn written_files_are_served_with_their_types_and_pages_refresh_themselves() {
    let running = Running::start(workshop());
    let page = running.get("/archive/pieces/ch-001/index.html");
    assert_eq!(page.status, 200);
    page.has("Content-Type: text/html; charset=utf-8");
    page.has("Cache-Control: no-store");
    page.has("X-Content-Type-Options: nosniff");
    let text = page.text();
    assert!(
        text.contains("<script src=\"/viewing/refresh.js\" data-turn=\"")
            && text.contains("data-written=\"1\" defer>")
    );
    assert!(text.contains("connect-src 'self'"));
    let written = String::from_utf8(running.bench.read("written/archive/pieces/ch-001/index.html")).unwrap();
    assert!(
        !written.contains("/viewing/") && !written.contains("connect-src"),
        "the written page stays as it is"
    );

    running.get("/showroom/assets/style.css").has("Content-Type: text/css; charset=utf-8");
    running.get("/showroom/assets/favicon.svg").has("Content-Type: image/svg+xml");
    running.get("/viewing/refresh.js").has("Content-Type: text/javascript; charset=utf-8");
    let font = running.get("/viewing/theme/assets/fonts/commissioner-latin.woff2");
    font.has("Content-Type: font/woff2");
    let picture = running.get("/viewing/photograph?piece=chair&photo=before-front.jpg");
    picture.has("Content-Type: image/jpeg");
    assert_eq!(picture.body[..3], [0xff, 0xd8, 0xff]);

    let head = running.ask("HEAD", "/archive/", &[running.host()], "");
    assert_eq!((head.status, head.body.len()), (200, 0));
    let folder = running.get("/archive");
    assert_eq!(folder.status, 308);
    folder.has("Location: /archive/");
    let front = running.get("/").text();
    for words in
        ["Ladder-back chair", "/viewing/picker?piece=chair&amp;photo=after-front.jpg", "Nothing is wrong"]
    {
        assert!(front.contains(words), "{words} in {front}");
    }
}

#[test]
fn no_path_leaves_the_written_folder() {
    let running = Running::start(workshop().write("outside.txt", "kept apart"));
    #[cfg(unix)]
    std::os::unix::fs::symlink(running.bench.path("outside.txt"), running.bench.path("written/link.txt"))
        .unwrap();
    for target in [
        "/../outside.txt",
        "/archive/../../outside.txt",
        "/%2e%2e/outside.txt",
        "/..%2foutside.txt",
        "/archive/%2e%2e/%2e%2e/outside.txt",
        "/..%5coutside.txt",
        "/..\\outside.txt",
        "/%252e%252e/outside.txt",
        "//etc/passwd",
        "/archive//etc/passwd",
        "/archive/%00",
        "/%",
        "/.witnessmark",
        "/link.txt",
        "/archive/pieces/",
        "/viewing/../outside.txt",
        "/viewing/theme/theme.toml",
        "/viewing/theme/../page.rs",
        "/viewing/photograph?piece=chair&photo=../record.toml",
        "/viewing/photograph?piece=..&photo=workshop.toml",
        "/viewing/picker?piece=../chair",
        "/viewing/",
        "http://elsewhere.example/",
        "*",
    ] {
        let answer = running.get(target);
        assert_eq!(answer.status, 404, "{target}: {}", answer.text());
        assert!(!answer.text().contains("kept apart"), "{target}");
    }
}

#[test]
fn strangers_are_not_answered() {
    let running = Running::start(workshop());
    let port = running.port;
    for host in
        ["Host: elsewhere.example".to_owned(), format!("Host: elsewhere.example:{port}"), "X: y".to_owned()]
    {
        let answer = running.ask("GET", "/archive/", std::slice::from_ref(&host), "");
        assert_eq!(answer.status, 403, "{host}");
        assert!(!answer.text().contains("<html"), "{host}");
    }
    let embedded =
        [running.host(), "Sec-Fetch-Site: cross-site".to_owned(), "Sec-Fetch-Mode: no-cors".to_owned()];
    assert_eq!(running.ask("GET", "/archive/", &embedded, "").status, 403);
    for name in ["localhost", "[::1]"] {
        assert_eq!(running.ask("GET", "/", &[format!("Host: {name}:{port}")], "").status, 200, "{name}");
    }
    for method in ["PUT", "DELETE", "OPTIONS", "POST"] {
        assert_eq!(
            running.ask(method, "/archive/", &[running.host(), running.origin()], "").status,
            405,
            "{method}"
        );
    }
}

#[test]
fn a_change_is_shown_then_written_with_every_other_byte_kept() {
    let running = Running::start(workshop());
    let (status, told) = running.change(&format!(r#"{{"piece": "chair", "change": {MARK}}}"#));
    assert_eq!(status, 200, "{told}");
    assert_eq!(
        told["toml"],
        "[[photo]]\nfile = \"after-front.jpg\"\nmarks = [{ at = [0.5000, 0.2500], note = \"the rung\" }]\n"
    );
    let lines = told["proposal"]["lines"].as_array().unwrap();
    let added: Vec<&serde_json::Value> = lines.iter().filter(|line| line["sign"] == "+").collect();
    assert_eq!(added.len(), 1, "{told}");
    assert_eq!(running.record(), RECORD, "nothing is written before it was seen");

    let mut ear = Ear::at(&running);
    let seen = format!(
        r#"{{"piece": "chair", "change": {MARK}, "seen": {{"was": {}, "becomes": {}}}}}"#,
        told["proposal"]["was"], told["proposal"]["becomes"]
    );
    let (status, told) = running.change(&seen);
    assert_eq!((status, &told["written"]), (200, &true.into()), "{told}");
    assert_eq!(
        running.record(),
        format!("{RECORD}marks = [{{ at = [0.5000, 0.2500], note = \"the rung\" }}]\n")
    );
    ear.news(|news| news["written"].as_u64() > Some(1));
    assert!(running.get("/archive/pieces/ch-001/").text().contains("the rung"));

    // The same once more: the record is another one now.
    let (status, told) = running.change(&seen);
    assert_eq!(status, 409);
    assert_eq!(told["why"], "`pieces/chair/record.toml` was changed meanwhile; look at it again");
}

#[test]
fn an_area_with_a_known_length_has_the_size_that_its_papers_then_say() {
    let running = Running::start(workshop());
    let area = |scale: &str| {
        format!(
            r#"{{"kind": "marks", "photo": "after-front.jpg", "marks": [{{"shape": "area",
                "points": [[0, 0], [1, 0], [1, 1], [0, 1]], "scale": {scale}, "note": "the seat"}}]}}"#
        )
    };
    let shown = |change: &str| running.change(&format!(r#"{{"piece": "chair", "change": {change}}}"#)).1;
    for (scale, why) in [
        (r#"{"points": [[0, 1], [1, 1]], "mm": null}"#, "say how long the known length is, in millimetres"),
        (
            r#"{"points": [[0, 1], [1, 1]], "mm": 0}"#,
            "0 cannot be a length in millimetres, above 0 and at most 20 000",
        ),
        (
            r#"{"points": [[0, 1], [0, 1]], "mm": 200}"#,
            "the ends of a known length lie on each other: move one of them",
        ),
    ] {
        let told = shown(&area(scale));
        assert_eq!((&told["why"], &told["proposal"]), (&why.into(), &serde_json::Value::Null), "{told}");
    }
    let told = shown(&area(r#"{"points": [[0, 1], [0.1, 1]], "mm": 20}"#));
    assert_eq!(
        told["sizes"],
        serde_json::json!([
            "no size can be given: the known length is less than a tenth of the way across the area; \
            measure something longer in the picture, in the plane of the area"
        ])
    );
    assert_eq!(shown(&area("null"))["sizes"], serde_json::json!([null]));

    let change = area(r#"{"points": [[0, 1], [1, 1]], "mm": 200}"#);
    let told = shown(&change);
    assert_eq!(told["sizes"], serde_json::json!(["about 400 cm²"]), "{told}");
    let mut ear = Ear::at(&running);
    let (status, told) = running.change(&format!(
        r#"{{"piece": "chair", "change": {change}, "seen": {{"was": {}, "becomes": {}}}}}"#,
        told["proposal"]["was"], told["proposal"]["becomes"]
    ));
    assert_eq!((status, &told["written"]), (200, &true.into()), "{told}");
    assert_eq!(
        running.record(),
        format!(
            "{RECORD}marks = [{{ area = [[0.0000, 0.0000], [1.0000, 0.0000], [1.0000, 1.0000], [0.0000, 1.0000]], \
             scale = {{ from = [0.0000, 1.0000], to = [1.0000, 1.0000], mm = 200 }}, note = \"the seat\" }}]\n"
        )
    );
    ear.news(|news| news["written"].as_u64() > Some(1));
    assert!(running.get("/archive/pieces/ch-001/").text().contains("about 400 cm²"));
}

#[test]
fn a_change_without_proof_or_sense_is_refused() {
    let running = Running::start(workshop());
    let body = format!(r#"{{"piece": "chair", "change": {MARK}}}"#);
    let post = |headers: &[String], body: &str| running.ask("POST", "/viewing/change", headers, body).status;
    let (host, origin, token) = (running.host(), running.origin(), running.token());
    assert_eq!(post(&[host.clone(), origin.clone()], &body), 403, "no token");
    assert_eq!(post(&[host.clone(), token.clone()], &body), 403, "no origin");
    assert_eq!(post(&[host.clone(), origin.clone(), "X-Token: 0".to_owned()], &body), 403, "another token");
    let foreign = "Origin: http://elsewhere.example".to_owned();
    assert_eq!(post(&[host.clone(), foreign, token.clone()], &body), 403, "another origin");
    let all = [host, origin, token];
    assert_eq!(post(&all, "{"), 400);
    assert_eq!(post(&all, &body.replace("chair", "stool")), 404);
    let (status, told) = running.change(&body.replace("0.25", "1.25"));
    assert_eq!((status, &told["why"]), (200, &"1.25 lies outside the picture".into()));
    assert_eq!(post(&all, &" ".repeat(1_000_001)), 413);

    running.save("title = \n");
    let (_, told) = running.change(&body);
    assert_eq!(
        told["why"],
        "the record breaks the grammar of TOML in line 1, and has to be mended by hand first"
    );
    assert_eq!(running.record(), "title = \n");
}

#[cfg(unix)]
#[test]
fn a_record_that_is_a_link_is_not_written_through() {
    let running = Running::start(workshop());
    let mut ear = Ear::at(&running);
    let path = running.bench.path("pieces/chair/record.toml");
    std::fs::rename(&path, running.bench.path("elsewhere.toml")).unwrap();
    std::os::unix::fs::symlink(running.bench.path("elsewhere.toml"), &path).unwrap();
    let (status, told) = running.change(&format!(
        r#"{{"piece": "chair", "change": {MARK}, "seen": {{"was": "x", "becomes": "y"}}}}"#
    ));
    assert!(matches!(status, 404 | 409), "{told}");
    assert_eq!(running.record(), RECORD);
    ear.news(|news| news["grave"] == true);
}

#[test]
fn a_saved_record_is_written_again_and_open_pages_hear_of_it() {
    let running = Running::start(workshop());
    let mut ear = Ear::at(&running);
    ear.news(|news| news["written"] == 1 && news["words"] == "");
    // As many editors save: beside the file, then over it.
    std::fs::write(
        running.bench.path("pieces/chair/new~"),
        RECORD.replace("Ladder-back chair", "Chair with five rungs"),
    )
    .unwrap();
    std::fs::rename(running.bench.path("pieces/chair/new~"), running.bench.path("pieces/chair/record.toml"))
        .unwrap();
    ear.news(|news| news["written"].as_u64() > Some(1));
    assert!(running.get("/showroom/pieces/ch-001/").text().contains("Chair with five rungs"));
    running.line("pieces/chair/record.toml: 1 piece, ");
}

/// The pages come first, since setting papers takes its time; but they come.
#[cfg(feature = "papers")]
#[test]
fn the_papers_to_print_follow_the_pages() {
    let running = Running::start(workshop());
    let paper = || {
        let papers = running.bench.names("written/buyers");
        let care = papers.iter().find(|path| path.ends_with("/care.pdf"))?;
        Some(std::fs::read(running.bench.path("written/buyers").join(care)).unwrap())
    };
    let other_than = |before: &[u8]| {
        let looks = (0..600).filter_map(|_| {
            std::thread::sleep(Duration::from_millis(100));
            paper()
        });
        looks.into_iter().find(|now| now != before).expect("the paper is printed")
    };
    let first = other_than(&[]);
    let mut ear = Ear::at(&running);
    running.save(&RECORD.replace("Ladder-back chair", "Chair with five rungs"));
    let pages = ear.news(|news| news["written"].as_u64() > Some(1));
    other_than(&first);
    // Whoever waits for a paper is told; pages that stand are not loaded again.
    let later = ear.news(|news| news["turn"].as_u64() > pages["turn"].as_u64());
    assert_eq!(later["written"], pages["written"]);
}

#[test]
fn a_mistake_is_told_in_the_same_words_on_the_page_and_in_the_terminal() {
    let running = Running::start(workshop());
    let mut ear = Ear::at(&running);
    running.save(&RECORD.replace("kind = ", "kidn = "));
    let news = ear.news(|news| news["words"] != "");
    let words = news["words"].as_str().unwrap();
    assert!(words.starts_with("error[unknown-key]") && words.ends_with("1 error."), "{words}");
    assert_eq!((&news["grave"], &news["closing"]), (&true.into(), &"1 error.".into()));
    let end = Instant::now() + PATIENCE;
    while !running.err.lock().unwrap().contains(words) {
        assert!(Instant::now() < end, "not in the terminal:\n{words}\n---\n{}", running.err.lock().unwrap());
        std::thread::sleep(Duration::from_millis(20));
    }
    // The piece is left out, and its page says why.
    let page = running.get("/archive/pieces/ch-001/");
    assert_eq!(page.status, 404);
    assert!(page.text().contains("error[unknown-key]"), "{}", page.text());
    running.save(RECORD);
    ear.news(|news| news["words"] == "");
    assert_eq!(running.get("/archive/pieces/ch-001/").status, 200);
}

#[test]
fn what_keeps_everything_from_being_written_is_told_and_waited_for() {
    let running = Running::start(workshop());
    let mut ear = Ear::at(&running);
    std::fs::write(running.bench.path("written/mine.txt"), "mine").unwrap();
    running.save(&RECORD.replace("chair\"  #", "stool\"  #"));
    let news = ear.news(|news| news["words"] != "");
    let words = news["words"].as_str().unwrap();
    assert!(words.contains("holds files that witnessmark did not write: `mine.txt`"), "{words}");
    assert!(words.ends_with("Nothing was written."), "{words}");
    assert_eq!(running.bench.read("written/mine.txt"), b"mine");
    std::fs::write(running.bench.path("workshop.toml"), "name = 1\n").unwrap();
    std::fs::remove_file(running.bench.path("written/mine.txt")).unwrap();
    let news = ear.news(|news| news["words"].as_str().unwrap().contains("wrong-kind"));
    assert!(news["words"].as_str().unwrap().ends_with("workshop.toml has to be mended first."), "{news}");
    std::fs::write(running.bench.path("workshop.toml"), "name = \"Bench\"\n").unwrap();
    ear.news(|news| news["words"] == "");
}

#[test]
fn it_does_not_start_where_nothing_may_be_written() {
    let bench = workshop().write("written/mine.txt", "mine").args(["viewing", "--port", "0"]);
    let bench = bench.stderr_has("is not empty and was not written by witnessmark").status(2);
    assert_eq!(bench.read("written/mine.txt"), b"mine");
    Bench::new().args(["viewing", "--port", "0"]).stderr_has("is not a workshop").status(2);
    let taken = std::net::TcpListener::bind(("127.0.0.1", 0)).unwrap();
    let port = taken.local_addr().unwrap().port().to_string();
    workshop()
        .args(["viewing", "--port", &port])
        .stderr_has(&format!(
            "cannot go on: port {port} of this computer cannot be used; name another with --port"
        ))
        .status(2);
}
