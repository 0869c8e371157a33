//! The viewing is killed while it writes a record.

use std::path::Path;

use super::*;

/// How often it is killed: at moments spread over a writing, and at the first sign of one.
const SPREAD: u32 = 40;
const AT_SIGHT: u32 = 20;

/// The names of what lies in a folder, but for the photographs.
fn beside(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).unwrap();
    let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    names.filter(|name| name != "photos").collect()
}

/// The request by which what was shown is written.
fn writing(running: &Running, told: &serde_json::Value) -> String {
    let body = format!(
        r#"{{"piece": "chair", "change": {MARK}, "seen": {{"was": {}, "becomes": {}}}}}"#,
        told["proposal"]["was"], told["proposal"]["becomes"]
    );
    running.request("POST", "/viewing/change", &running.proofs(), &body)
}

#[test]
fn a_record_is_the_old_or_the_new_one_whenever_the_viewing_is_killed() {
    // Long enough that writing it takes a moment.
    let old = format!("{RECORD}{}", "# a remark of the workshop\n".repeat(8000));
    let mut running = Running::start(workshop().write("pieces/chair/record.toml", &old));
    let folder = running.bench.path("pieces/chair");
    let path = folder.join("record.toml");
    let shown = format!(r#"{{"piece": "chair", "change": {MARK}}}"#);
    let (_, told) = running.change(&shown);
    let request = writing(&running, &told);
    let start = Instant::now();
    assert_eq!(running.raw(request.as_bytes()).status, 200);
    let whole = start.elapsed();
    let new = running.record();
    assert!(new.len() > old.len() && new != old);

    let (mut before, mut after, mut halves) = (0, 0, 0);
    for kill in 0..SPREAD + AT_SIGHT {
        running.kill();
        running.save(&old);
        running.again();
        assert_eq!(beside(&folder), ["record.toml"], "the next start clears away what was left");
        let request = writing(&running, &running.change(&shown).1);
        let mut stream = running.connect();
        stream.write_all(request.as_bytes()).unwrap();
        if kill + 1 == SPREAD + AT_SIGHT {
            assert_eq!(Answer::from(stream).status, 200, "once it is answered, it is written");
        } else if kill < SPREAD {
            std::thread::sleep(whole * kill * 5 / (4 * SPREAD));
        } else {
            let stands = |length: usize| {
                beside(&folder).len() == 1 && std::fs::metadata(&path).unwrap().len() == length as u64
            };
            let end = Instant::now() + PATIENCE;
            while stands(old.len()) && Instant::now() < end {}
            std::thread::sleep(Duration::from_micros(u64::from(kill - SPREAD) * 50));
        }
        running.kill();
        let found = running.record();
        assert!(found == old || found == new, "kill {kill}: {} of {} bytes", found.len(), new.len());
        *(if found == old { &mut before } else { &mut after }) += 1;
        halves += beside(&folder).len() - 1;
    }
    // Else nothing of this was tried.
    assert!(before > 0 && after > 0, "{before} old, {after} new, {halves} halves in {whole:?}");
}
