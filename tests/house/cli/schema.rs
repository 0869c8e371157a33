//! `witnessmark schema`

use std::process::Stdio;

use crate::fixture::Bench;

#[test]
fn each_file_has_a_schema_and_intake_writes_the_same() {
    let mut bench = Bench::new().args(["intake", "Chair"]).status(0);
    for file in ["record", "workshop"] {
        let schema;
        (bench, schema) = bench.args(["schema", file]).stderr("").output(0);
        let parsed: serde_json::Value = serde_json::from_str(&schema).unwrap();
        assert_eq!(parsed["additionalProperties"], false, "{file}");
        assert_eq!(bench.read(&format!("schema/{file}.schema.json")), schema.as_bytes());
    }
}

#[test]
fn a_closed_pipe_is_no_error() {
    // The reader leaves before the program has even started, so its first line finds the pipe closed.
    let bench = Bench::new().args(["schema", "record"]);
    let mut child = bench.process().stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!((output.status.code(), output.stderr.as_slice()), (Some(0), &b""[..]));
}

#[cfg(target_os = "linux")]
#[test]
fn an_output_that_takes_no_more_is_an_error() {
    let full = std::fs::File::options().write(true).open("/dev/full").unwrap();
    let output = Bench::new().args(["schema", "record"]).process().stdout(full).output().unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stderr.starts_with(b"cannot go on: the output cannot be written\n  because: "));
}
