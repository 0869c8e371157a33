//! Huge, slow, endless and senseless requests: whatever is sent, pages are still answered.

use super::*;

/// A change that says of itself that it is so long.
fn change_of_length(running: &Running, length: &str) -> String {
    let headers = [&running.proofs()[..], &[format!("Content-Length: {length}")]].concat();
    head("POST", &format!("{}viewing/change", running.home), &headers)
}

/// The status of an answer, 0 where the connection ends without one.
fn status(mut stream: &TcpStream) -> u16 {
    let mut bytes = Vec::new();
    // Whoever sends what nobody reads may have the connection reset.
    let _ = stream.read_to_end(&mut bytes);
    let words = String::from_utf8_lossy(&bytes).into_owned();
    let status = words.strip_prefix("HTTP/1.1 ").and_then(|rest| rest.split(' ').next());
    status.map_or(0, |status| status.parse().unwrap())
}

/// Sends the same bytes for as long as they are taken, and says how many that were.
fn endlessly(mut stream: &TcpStream, first: &str, again: &[u8]) -> usize {
    let again = again.repeat(4096 / again.len());
    let mut sent = 0;
    stream.write_all(first.as_bytes()).unwrap();
    while stream.write_all(&again).is_ok() {
        sent += again.len();
        assert!(sent < 100_000_000, "all of it is read");
    }
    sent
}

#[track_caller]
fn still_answers(running: &mut Running) {
    assert_eq!(running.get("/").status, 200);
    assert_eq!(running.get("/archive/pieces/ch-001/").status, 200);
    assert!(running.child.try_wait().unwrap().is_none(), "it ended: {:?}", running.err.lock().unwrap());
}

#[test]
fn a_length_is_refused_before_anything_of_it_is_read() {
    let mut running = Running::start(workshop());
    for length in ["1000001", "99999999999", "9223372036854775807", "18446744073709551613"] {
        // Answered while the body is still to come.
        let mut stream = running.connect();
        stream.write_all(change_of_length(&running, length).as_bytes()).unwrap();
        assert_eq!(status(&stream), 413, "{length}");
        // And gone before it is answered.
        running.connect().write_all(change_of_length(&running, length).as_bytes()).unwrap();
        let stranger = format!("POST /viewing/change HTTP/1.1\r\nContent-Length: {length}\r\n\r\n");
        running.connect().write_all(stranger.as_bytes()).unwrap();
    }
    for length in ["18446744073709551616", "-1", "1, 2", "0x10", "", "1\r\nContent-Length: 2"] {
        let mut stream = running.connect();
        stream.write_all(change_of_length(&running, length).as_bytes()).unwrap();
        assert_eq!(status(&stream), 400, "{length}");
    }
    still_answers(&mut running);
}

#[test]
fn heads_and_bodies_that_never_come_keep_nobody_waiting() {
    let mut running = Running::start(workshop());
    let heads =
        ["", "G", "GET / HTTP/1.1\r\nHost: 127", "POST /viewing/change HTTP/1.1\r\nContent-Length: 5\r\n"];
    let heads = heads.map(str::to_owned);
    let bodies = ["10", "1000000"].map(|length| format!("{}{{", change_of_length(&running, length)));
    for waiting in [&heads[..], &bodies[..]] {
        let sent = waiting.iter().cycle().take(100).map(|text| {
            let mut stream = running.connect();
            stream.write_all(text.as_bytes()).unwrap();
            stream
        });
        let streams: Vec<TcpStream> = sent.collect();
        still_answers(&mut running);
        drop(streams);
    }
}

/// What nobody reads fills what the system keeps for a connection, and whoever writes it has to wait.
#[test]
fn answers_that_nobody_takes_keep_nobody_waiting() {
    let mut running = Running::start(workshop());
    let large = vec![b'x'; 16_000_000];
    std::fs::write(running.bench.path("written/showroom/large.txt"), &large).unwrap();
    let asked = (0..10).map(|_| {
        let mut stream = running.connect();
        let request = running.request("GET", "/showroom/large.txt", &[running.host()], "");
        stream.write_all(request.as_bytes()).unwrap();
        stream
    });
    let streams: Vec<TcpStream> = asked.collect();
    std::thread::sleep(Duration::from_millis(300));
    still_answers(&mut running);
    assert!(Answer::from(streams.into_iter().next_back().unwrap()).body == large);
}

#[test]
fn what_never_ends_is_cut_off() {
    let mut running = Running::start(workshop());
    let get = format!("GET {} HTTP/1.1\r\n", running.home);
    let change = head("POST", &format!("{}viewing/change", running.home), &running.proofs());
    let chunked = format!("{}Transfer-Encoding: chunked\r\n\r\n", change.strip_suffix("\r\n").unwrap());
    for (first, again) in [
        (get.as_str(), &b"X: y\r\n"[..]),
        (&get, b"X"),
        (&get, b"X: y\r\n y"),
        ("GET /", b"a"),
        ("", b"\r\n"),
        ("", &[0]),
        (&chunked, b"1\r\n{\r\n"),
        (&chunked, b"400\r\n"),
        (&format!("{chunked}1;"), b"a"),
        (&format!("{chunked}0\r\n"), b"X: y\r\n"),
    ] {
        let stream = running.connect();
        let sent = endlessly(&stream, first, again);
        assert!(sent < 50_000_000, "{sent} bytes were taken of {first:?} and {again:?} again and again");
    }
    still_answers(&mut running);
    let mut stream = running.connect();
    stream.write_all(format!("{chunked}f4241\r\n").as_bytes()).unwrap();
    stream.write_all(&vec![b' '; 1_000_001]).unwrap();
    assert_eq!(status(&stream), 413, "one byte too many, of which nothing was said before");
}

#[test]
fn senseless_bytes_are_no_request() {
    let mut running = Running::start(workshop());
    let hello = b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03".repeat(20);
    let noise: Vec<u8> =
        (0..20_000_u32).map(|place| (place.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
    let get = |rest: &str| format!("GET {} {rest}", running.home).into_bytes();
    for bytes in [
        hello,
        noise,
        vec![0; 1000],
        b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n".to_vec(),
        get("HTTP/2.0\r\n\r\n"),
        get("HTTP/9\r\n\r\n"),
        get("\r\n\r\n"),
        get("HTTP/1.1\r\nHost\r\n\r\n"),
        get("HTTP/1.1\r\nHo st: x\r\n\r\n"),
        get("HTTP/1.1\r\n: x\r\n\r\n"),
        get("HTTP/1.1\nHost: \0\n\n"),
    ] {
        let stream = running.connect();
        let _ = (&stream).write_all(&bytes);
        let status = status(&stream);
        assert!(
            status == 0 || (400..600).contains(&status),
            "{status}: {:?}",
            String::from_utf8_lossy(&bytes)
        );
    }
    still_answers(&mut running);
}

/// What stands behind a request is never read as another one: it may be somebody else's, who has no key.
#[test]
fn a_connection_carries_one_request() {
    let mut running = Running::start(workshop());
    let get = running.request("GET", "/", &[running.host()], "");
    let body = format!(r#"{{"piece": "chair", "change": {MARK}}}"#);
    let proofs = running.proofs();
    let post = |more: &str, body: &str| {
        let headers = [&proofs[..], &[more.to_owned()]].concat();
        format!("{}{body}", head("POST", &format!("{}viewing/change", running.home), &headers))
    };
    let length = body.len();
    let chunk = format!("{length:x}\r\n{body}\r\n0\r\n\r\n");
    for (request, status) in [
        (format!("{get}{get}"), 200),
        (get.replace("Content-Length: 0", "Connection: keep-alive") + &get, 200),
        (get.replace("Content-Length: 0", &format!("Content-Length: {}", get.len())) + &get, 200),
        (post(&format!("Content-Length: {length}"), &format!("{body}{get}")), 200),
        (post("Transfer-Encoding: chunked", &format!("{chunk}{get}")), 200),
        // Two ways to say where a request ends, and others that only some would understand.
        (post("Content-Length: 5\r\nTransfer-Encoding: chunked", &format!("{chunk}{get}")), 0),
        (post("Transfer-Encoding: chunked, identity", &format!("{chunk}{get}")), 400),
        (post("Transfer-Encoding: xchunked", &format!("{chunk}{get}")), 400),
        (post("Transfer-Encoding:\x0bchunked", &format!("{chunk}{get}")), 400),
        (post(&format!("Content-Length : {length}"), &format!("{body}{get}")), 400),
    ] {
        let answer = running.raw(request.as_bytes());
        assert!(answer.status == status || status == 0, "{} for\n{request}", answer.status);
        let after = answer.text();
        assert!(!after.contains("HTTP/1."), "a second answer to\n{request}\n{after}");
    }
    assert_eq!(running.record(), RECORD);
    still_answers(&mut running);
}

#[test]
fn what_browsers_seldom_send_is_understood() {
    let running = Running::start(workshop());
    let home = &running.home;
    let host = running.host();
    let hosts = std::slice::from_ref(&host);
    let old = running.raw(format!("GET {home} HTTP/1.0\r\n{host}\r\n\r\n").as_bytes());
    assert_eq!((old.status, old.text().contains("Ladder-back chair")), (200, true));
    let part = running.ask("GET", "/viewing/refresh.js", &[host.clone(), "Range: bytes=0-9".to_owned()], "");
    assert_eq!((part.status, part.body.len() > 10), (200, true), "a part may be answered with all of it");
    let bare = home.strip_suffix('/').unwrap();
    assert_eq!(running.raw(head("GET", bare, hosts).as_bytes()).status, 200);
    let (page, only) = (running.get("/archive/"), running.ask("HEAD", "/archive/", hosts, ""));
    only.has(&format!("Content-Length: {}", page.body.len()));
    for status in [("/archive", 308), ("/nothing", 404), ("/viewing/events", 200)] {
        assert_eq!(running.ask("HEAD", status.0, hosts, "").status, status.1, "{}", status.0);
    }
    let waits = change_of_length(&running, "2").replace("\r\n\r\n", "\r\nExpect: 100-continue\r\n\r\n");
    let mut stream = running.connect();
    stream.write_all(waits.as_bytes()).unwrap();
    let mut go_on = [0; 25];
    stream.read_exact(&mut go_on).unwrap();
    assert_eq!(&go_on, b"HTTP/1.1 100 Continue\r\n\r\n");
    stream.write_all(b"{}").unwrap();
    assert_eq!(status(&stream), 400);
}

#[test]
fn only_so_many_pages_listen_and_one_that_leaves_makes_room() {
    let running = Running::start(workshop());
    let mut ears: Vec<Ear> = (0..32).map(|_| Ear::at(&running)).collect();
    ears.iter_mut().for_each(|ear| _ = ear.news(|_| true));
    assert_eq!(running.get("/viewing/events").status, 503);
    assert_eq!(running.get("/").status, 200);
    drop(ears.pop());
    let end = Instant::now() + PATIENCE;
    while Ear::at(&running).0.fill_buf().is_ok_and(|bytes| bytes.starts_with(b"HTTP/1.1 503")) {
        assert!(Instant::now() < end, "nobody finds room");
    }
    ears.iter_mut().take(1).for_each(|ear| {
        running.save(&RECORD.replace("Ladder-back chair", "Chair with five rungs"));
        ear.news(|news| news["written"].as_u64() > Some(1));
    });
}

#[cfg(target_os = "linux")]
#[test]
fn pages_that_listened_leave_nothing_behind() {
    let mut running = Running::start(workshop());
    still_answers(&mut running);
    let process = std::path::PathBuf::from(format!("/proc/{}", running.child.id()));
    let count = |what: &str| std::fs::read_dir(process.join(what)).unwrap().count();
    let (files, threads) = (count("fd"), count("task"));
    // So few at a time that there is room while those before them leave.
    for _ in 0..30 {
        let mut ears: Vec<Ear> = (0..10).map(|_| Ear::at(&running)).collect();
        ears.iter_mut().for_each(|ear| _ = ear.news(|_| true));
    }
    // Some threads work answers out or set papers meanwhile.
    let end = Instant::now() + PATIENCE;
    while count("fd") > files || count("task") > threads + 16 {
        let now = (count("fd"), count("task"));
        assert!(Instant::now() < end, "{files} files and {threads} threads before, {now:?} now");
        std::thread::sleep(Duration::from_millis(50));
    }
    still_answers(&mut running);
}
