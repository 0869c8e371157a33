//! What is served, and to whom.

use super::*;
use crate::fixture::even;

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
        text.contains(&format!("<script src=\"{}viewing/refresh.js\" data-turn=\"", running.home))
            && text.contains("data-written=\"1\" defer>")
    );
    assert!(text.contains("connect-src 'self'"));
    let written = String::from_utf8(running.bench.read("written/archive/pieces/ch-001/index.html")).unwrap();
    assert!(
        !written.contains("viewing/") && !written.contains("connect-src"),
        "the written page stays as it is"
    );

    running.get("/showroom/assets/showroom.css").has("Content-Type: text/css; charset=utf-8");
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
    folder.has(&format!("Location: {}archive/", running.home));
    let front = running.get("/").text();
    for words in
        ["Ladder-back chair", "viewing/picker?piece=chair&amp;photo=after-front.jpg", "Nothing is wrong"]
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
    ] {
        let answer = running.get(target);
        // Some are no addresses at all.
        assert!(matches!(answer.status, 400 | 404), "{target}: {} {}", answer.status, answer.text());
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

/// Any user of this computer can connect; whoever does not have the address learns nothing, not even what there is.
#[test]
fn without_the_key_there_is_nothing() {
    let mut running = Running::start(workshop());
    let key = running.home.trim_matches('/').to_owned();
    assert!(key.len() >= 26 && key.bytes().all(|letter| letter.is_ascii_lowercase()), "{key}");
    let token = running.token();
    let asked = |running: &Running, method: &str, target: &str| {
        let headers = [running.host(), running.origin(), token.clone(), "Content-Length: 0".to_owned()];
        let answer = running.raw(head(method, target, &headers).as_bytes());
        let head: Vec<&str> = answer.head.lines().filter(|line| !line.starts_with("date: ")).collect();
        (answer.status, head.join("\n"), answer.text())
    };
    let nothing = asked(&running, "GET", "/");
    assert_eq!((nothing.0, nothing.2.as_str()), (404, "There is nothing at this address.\n"));
    let paths = [
        "archive/",
        "archive/pieces/ch-001/",
        "viewing/picker?piece=chair",
        "viewing/events",
        "viewing/change",
    ];
    let other: String = key.chars().rev().collect();
    let wrong = [&other, &key[..key.len() - 1], &format!("{key}a"), &key.to_uppercase(), "", "%61"];
    let targets = paths.iter().flat_map(|path| {
        let keyed = wrong.iter().map(move |key| format!("/{key}/{path}"));
        keyed.chain([format!("/{path}")])
    });
    for target in targets.chain([
        format!("/?{key}"),
        format!("/{other}"),
        format!("/./{key}/"),
        format!("/a/../{key}/"),
    ]) {
        for method in ["GET", "POST", "DELETE"] {
            assert_eq!(asked(&running, method, &target), nothing, "{method} {target}");
        }
    }
    for target in [format!("http://127.0.0.1:{}/{key}/", running.port), "*".to_owned()] {
        assert_eq!(asked(&running, "GET", &target), nothing, "{target}");
    }
    // The address goes nowhere else with a click.
    for target in ["/", "/archive/pieces/ch-001/", "/viewing/refresh.js", "/nothing"] {
        running.get(target).has("Referrer-Policy: no-referrer");
    }
    // Another start, another key.
    running.again();
    assert_eq!(asked(&running, "GET", &format!("/{key}/")).0, 404);
    assert_eq!(running.get("/").status, 200);
}

#[test]
fn the_search_and_the_picker_ask_the_database() {
    let stained = "title = \"Stool\"\nnumber = \"ST-1\"\nkind = \"seating/stool\"\n\
        part = [{ id = \"seat\", name = \"Seat\", standing = \"original\", timber = \"beech\" }]\n\
        work = [{ did = \"set the rung with white glue\" }]\n\
        surface = [{ parts = \"seat\", steps = [{ apply = \"shellac\", coats = 2, mix = [{ of = \"garnet\", parts = 3 }, { of = \"pale\", parts = 1 }] }] }]\n\
        swatch = [{ photo = \"after-front.jpg\", target = [0.1, 0.1, 0.3, 0.3], result = [0.5, 0.5, 0.3, 0.3], surface = 1 }]\n";
    let measured = ["chair", "stool"].map(|piece| format!("pieces/{piece}/photos/after-front.jpg"));
    let workshop = measured.iter().fold(workshop(), |workshop, photo| workshop.write(photo, even()));
    let running = Running::start(workshop.write("pieces/stool/record.toml", stained));
    let found = running.get("/viewing/words?words=PVA");
    found.has("Content-Type: application/json");
    let text = found.text();
    for words in ["\"all\":true,\"pieces\":1", "\"page\":\"pieces/st-1/index.html\"", "set the rung with "] {
        assert!(text.contains(words), "{words} in {text}");
    }
    let nothing = running.get("/viewing/words?words=quaternion").text();
    assert!(nothing.contains("\"pieces\":0,\"more\":false,\"hits\":[]"), "{nothing}");
    assert!(running.get("/viewing/words?words=%22%20OR%20*").text().contains("\"pieces\":0"));

    let at = |place: &str, file: &str| {
        running.get(&format!("/viewing/recipes?piece=chair&photo={file}&at={place}"))
    };
    let near = at("0.5,0.5,0.3,0.3", "after-front.jpg").text();
    for words in ["\"number\":\"ST-1\"", "\"mix\":\"3 garnet : 1 pale\"", "\"coats\":2", "\"difference\":"] {
        assert!(near.contains(words), "{words} in {near}");
    }
    let odd = [
        at("0.5,0.5,0.9,0.3", "after-front.jpg"),
        at("", "after-front.jpg"),
        at("0,0,1,1", "../record.toml"),
    ];
    for odd in odd {
        assert_eq!(odd.status, 422, "{}", odd.text());
    }
}
