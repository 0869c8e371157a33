//! `witnessmark viewing`, asked in the bare words of HTTP.

mod bounds;
mod changes;
mod desk;
mod following;
mod home;
mod kills;
mod pages;

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
    /// The path of the front page, which nobody guesses.
    home: String,
    out: Receiver<String>,
    err: Arc<Mutex<String>>,
}

struct Answer {
    status: u16,
    head: String,
    body: Vec<u8>,
}

impl Answer {
    /// What a connection brings until the server ends it.
    #[track_caller]
    fn from(mut stream: TcpStream) -> Answer {
        let mut bytes = Vec::new();
        stream.read_to_end(&mut bytes).unwrap();
        let end = bytes.windows(4).position(|four| four == b"\r\n\r\n").expect("an answer has a head");
        let head = String::from_utf8(bytes[..end].to_vec()).unwrap();
        let status = head.split(' ').nth(1).unwrap().parse().unwrap();
        Answer { status, head, body: bytes[end + 4..].to_vec() }
    }

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
        let (child, out, err) = Running::spawn(&bench);
        let mut running = Running { bench, child, port: 0, home: String::new(), out, err };
        running.find();
        running
    }

    /// Kills the server, and starts another one in the same folder.
    #[track_caller]
    fn again(&mut self) {
        self.kill();
        (self.child, self.out, self.err) = Running::spawn(&self.bench);
        self.find();
    }

    fn kill(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }

    fn spawn(bench: &Bench) -> (Child, Receiver<String>, Arc<Mutex<String>>) {
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
        (child, out, err)
    }

    /// Waits for the address, and notes its port and its path.
    #[track_caller]
    fn find(&mut self) {
        let line = self.line("Viewing at http://127.0.0.1:");
        let address = line.split("127.0.0.1:").nth(1).and_then(|rest| rest.split_once('/'));
        let (port, rest) = address.unwrap_or_else(|| panic!("{line}"));
        self.port = port.parse().unwrap_or_else(|_| panic!("{line}"));
        self.home = format!("/{}", rest.strip_suffix(", until Ctrl-C").unwrap_or_else(|| panic!("{line}")));
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

    /// A connection that waits for answers as long as anything may take.
    #[track_caller]
    fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        stream.set_write_timeout(Some(PATIENCE)).unwrap();
        stream
    }

    /// Sends bytes, and reads until the server ends the connection.
    #[track_caller]
    fn raw(&self, request: &[u8]) -> Answer {
        let mut stream = self.connect();
        stream.write_all(request).unwrap();
        Answer::from(stream)
    }

    /// Asks for a target below the front page.
    #[track_caller]
    fn ask(&self, method: &str, target: &str, headers: &[String], body: &str) -> Answer {
        self.raw(self.request(method, target, headers, body).as_bytes())
    }

    fn request(&self, method: &str, target: &str, headers: &[String], body: &str) -> String {
        let home = self.home.strip_suffix('/').unwrap();
        let length = format!("Content-Length: {}", body.len());
        format!("{}{body}", head(method, &format!("{home}{target}"), &[headers, &[length]].concat()))
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

    /// All that a change has to prove.
    #[track_caller]
    fn proofs(&self) -> [String; 3] {
        [self.host(), self.origin(), self.token()]
    }

    #[track_caller]
    fn change(&self, body: &str) -> (u16, serde_json::Value) {
        let answer = self.ask("POST", "/viewing/change", &self.proofs(), body);
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
        self.kill();
    }
}

/// A page's ear: the events that the server sends.
struct Ear(BufReader<TcpStream>);

impl Ear {
    fn at(running: &Running) -> Ear {
        let mut stream = running.connect();
        stream
            .write_all(running.request("GET", "/viewing/events", &[running.host()], "").as_bytes())
            .unwrap();
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

/// The head of a request.
fn head(method: &str, target: &str, headers: &[String]) -> String {
    let headers: String = headers.iter().map(|header| format!("{header}\r\n")).collect();
    format!("{method} {target} HTTP/1.1\r\n{headers}\r\n")
}
