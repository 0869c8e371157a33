//! Changes to a record: shown first, then written, or refused.

use super::*;

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

#[cfg(unix)]
#[test]
fn a_record_that_is_protected_or_has_a_second_name_says_what_to_do() {
    use std::os::unix::fs::PermissionsExt;
    let running = Running::start(workshop());
    let path = running.bench.path("pieces/chair/record.toml");
    let written = || {
        let change = format!(r#"{{"piece": "chair", "change": {MARK}"#);
        let (_, told) = running.change(&format!("{change}}}"));
        let (was, becomes) = (&told["proposal"]["was"], &told["proposal"]["becomes"]);
        running.change(&format!(r#"{change}, "seen": {{"was": {was}, "becomes": {becomes}}}}}"#))
    };
    let refused = |why: &str| {
        let (status, told) = written();
        let told = told["why"].as_str().unwrap();
        assert!(status == 409 && told.ends_with(why), "{status}: {told}");
        assert_eq!(running.record(), RECORD);
    };
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o444)).unwrap();
    refused(
        "is protected from writing, so it is left as it is; allow writing to it, then send the change again",
    );
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o640)).unwrap();
    std::fs::hard_link(&path, running.bench.path("second.toml")).unwrap();
    refused("change it by hand, or put a copy of its own in its place");
    std::fs::remove_file(running.bench.path("second.toml")).unwrap();
    assert_eq!(written().0, 200);
    assert_eq!(std::fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o640);
}
