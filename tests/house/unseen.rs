//! No character that a terminal would obey, or that nobody sees, comes out of the program, whatever field it stands in.

use crate::fixture::{Bench, below};
use crate::leaks;

/// What is put behind every text of the records, as TOML spells it: ESC, BEL, backspace, CR, C1, marks of direction, a
/// zero-width space, a tag.
const SPELT: &str = r"\u001B[31m\u0007\b\rx\u009B2J\u202Ey\u2066\u200E\u200Bz\U000E0041";

/// The same in an argument or in the name of a file.
const HOSTILE: &str = "\u{1b}[31m\u{7}\u{8}\rx\u{9b}2J\u{202e}y\u{2066}\u{200e}\u{200b}z\u{e0041}";

/// The first hostile character of a text, with what stands around it.
fn hostile(text: &str) -> Option<String> {
    let is_hostile = |letter: char| match letter {
        '\n' | '\t' => false,
        letter => {
            letter.is_control()
                || matches!(
                    letter,
                    '\u{61c}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}'
                )
                || matches!(letter, '\u{2066}'..='\u{2069}' | '\u{e0000}'..='\u{e0fff}')
        }
    };
    let place = text.find(is_hostile)?;
    let around: Vec<char> = text[..place].chars().rev().take(60).collect();
    let after: String = text[place..].chars().take(30).collect();
    Some(format!("{:?}", around.into_iter().rev().collect::<String>() + &after))
}

/// A folder with a workshop whose every text is hostile.
fn workshop() -> Bench {
    let (workshop, _) = leaks::workshop(|record| record);
    let workshop = workshop.edit(".toml", |text| text.replace("q7\"", &format!("q7{SPELT}\"")));
    let story =
        format!("A story of *oak*{HOSTILE} and &#x1b;[31m&#x202e;.\n\n| a{HOSTILE} |\n| - |\n| b |\n");
    Bench::new().lay(&workshop).write("pieces/one/story.md", story)
}

/// Calls the program and looks at all that it prints.
#[track_caller]
fn call(bench: Bench, args: &[&str]) -> (Bench, Option<i32>, String) {
    let output = bench.command().args(args).write_stdin("pear wood\n").output().unwrap();
    let mut told = String::new();
    for (stream, bytes) in [("stdout", output.stdout), ("stderr", output.stderr)] {
        let text = String::from_utf8(bytes).unwrap();
        assert_eq!(hostile(&text), None, "{stream} of {args:?}");
        told.push_str(&text);
    }
    (bench, output.status.code(), told)
}

/// Looks at every file of text below a folder.
#[track_caller]
fn look(bench: &Bench, folder: &str) -> usize {
    let texts = [".html", ".json", ".ics", ".toml", ".txt", ".svg", ".xml", ".minisig"];
    let mut seen = 0;
    for (path, bytes) in below(&bench.path(folder)) {
        assert_eq!(hostile(&path), None, "the name of a file in {folder}");
        if texts.iter().any(|ending| path.ends_with(ending)) {
            let text = String::from_utf8(bytes).unwrap();
            let text = if path.ends_with(".ics") { text.replace("\r\n", "\n") } else { text };
            assert_eq!(hostile(&text), None, "{folder}/{path}");
            seen += 1;
        }
    }
    seen
}

#[test]
fn no_command_prints_or_writes_them_from_any_field() {
    let bench = workshop();
    let (bench, code, told) = call(bench, &["inspect"]);
    assert_eq!(code, Some(1));
    assert!(told.contains("(why unseen-character)") && told.contains("(why unseen-in-story)"), "{told}");
    assert!(told.contains("‹U+001B›") || told.contains("\\u001B"), "the line of the record shows it: {told}");
    let (bench, _, json) = call(bench, &["inspect", "--as", "json"]);
    assert!(json.contains("\\u001b") && json.contains("\\u202e"), "they are escaped, and not lost");
    serde_json::from_str::<serde_json::Value>(&json[..json.rfind('}').unwrap() + 1]).unwrap();
    let (bench, code, told) = call(bench, &["writeup"]);
    assert_eq!(code, Some(1));
    assert!(look(&bench, "written") > 15, "{told}");
    let (bench, _, _) = call(bench, &["keys", "--to", "kept", "--without-password", "--inside-workshop"]);
    let sign = ["handover", "one", "--with-open-questions", "--sign", "--key", "kept"];
    let (bench, code, told) = call(bench, &sign);
    assert_eq!(code, Some(0), "{told}");
    assert!(look(&bench, "pieces/one/sealed") > 15);
    let pack = bench.path("pieces/one/sealed/zz-001-001.zip").display().to_string();
    let (bench, code, told) = call(bench, &["verify", &pack]);
    assert_eq!(code, Some(0), "{told}");
    // What was sealed is what is read again.
    let (bench, _, told) = call(bench, &["inspect"]);
    assert!(!told.contains("seal-broken") && !told.contains("changed-since-seal"), "{told}");
    call(bench, &["writeup"]);
}

#[test]
fn no_command_repeats_them_from_its_arguments() {
    let argument = format!("a{HOSTILE}");
    let long = format!("--a{HOSTILE}");
    let mut bench = workshop();
    for command in [
        "intake",
        "inspect",
        "writeup",
        "viewing",
        "handover",
        "verify",
        "keys",
        "why",
        "schema",
        "completions",
        "manual",
    ] {
        let workshops = format!("{argument}/nowhere");
        for args in [
            &[command, &argument][..],
            &[command, &long],
            &[command, &argument, &argument, &argument],
            &[command, "--key", &argument, &argument],
            &[command, "--to", "/proc/nowhere", &workshops],
            &[command, "--on", &argument, "one"],
            &[command, "--only", &argument],
            &[command, "--as", &argument],
            &[command, "--port", &argument],
            &[command, "--in", &workshops, "--photos", &argument, &argument],
        ] {
            (bench, _, _) = call(bench, args);
        }
    }
    assert!(bench.path("pieces").read_dir().unwrap().count() > 1, "a piece was opened under that name");
    let records = below(&bench.path("pieces")).into_iter().filter(|(path, _)| !path.starts_with("one/"));
    for (path, bytes) in records.filter(|(path, _)| path.ends_with(".toml")) {
        assert_eq!(hostile(&String::from_utf8(bytes).unwrap()), None, "{path}");
    }
    let (bench, code, _) = call(bench, &[&argument]);
    assert_eq!(code, Some(2));
    let (bench, code, told) = call(bench, &["--help"]);
    assert_eq!(code, Some(0));
    assert!(told.contains("Usage:"), "{told}");
    call(bench, &[&long]);
}

#[cfg(unix)]
#[test]
fn no_command_repeats_them_from_names_of_files() {
    let name = format!("a{HOSTILE}");
    let bench = Bench::sound()
        .piece(&name, "Table", "T-1")
        .photographed(&name)
        .write(&format!("pieces/{name}/photos/{name}.jpg"), crate::fixture::even())
        .write(&format!("pieces/{name}b/record.toml"), "title = 3\nx = ")
        .write(&format!("pieces/{name}c/story.md"), "no record")
        .write(&format!("pieces/chair/photos/{name}.jpg"), crate::fixture::even())
        .write(&format!("pieces/chair/photos/{name}.txt"), "notes")
        .write(&format!("trade/{name}.toml"), "x")
        .write(&format!("camera/{name}.jpg"), crate::fixture::plain(30))
        .write(&format!("pack/bagit.txt{name}"), "x")
        .write(&format!("pack/{name}/bagit.txt"), format!("x: {HOSTILE}\n{HOSTILE}"))
        .write(
            &format!("pack/{name}/bag-info.txt"),
            format!("External-Description: {HOSTILE}\nRecord-Seal: {HOSTILE}\n"),
        )
        .write(&format!("pack/{name}/data/{name}"), "x");
    let (bench, code, _) = call(bench, &["inspect"]);
    assert_eq!(code, Some(1));
    let (bench, _, _) = call(bench, &["inspect", "--as", "json"]);
    let (bench, _, told) = call(bench, &["intake", "Chair", "--photos", "camera"]);
    assert!(told.contains("copied"), "{told}");
    // Its mistake would keep the piece from being handed over.
    std::fs::remove_dir_all(bench.path("trade")).unwrap();
    let (bench, code, told) = call(bench, &["handover", "T-1", "--with-open-questions"]);
    assert_eq!(code, Some(0), "{told}");
    let (bench, _, told) = call(bench, &["writeup"]);
    assert!(told.contains("Written to"), "{told}");
    look(&bench, "written");
    look(&bench, &format!("pieces/{name}/sealed"));
    let (bench, code, _) = call(bench, &["verify", "pack"]);
    assert_eq!(code, Some(1));
    call(bench, &["verify", &name]);
}
