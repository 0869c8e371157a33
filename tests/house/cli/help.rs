//! What the program says about itself, and to arguments that it does not know.

use crate::fixture::Bench;

#[test]
fn help_fits_a_terminal_of_80_columns() {
    for command in [
        "enter",
        "forget",
        "jot",
        "look-over",
        "plan",
        "intake",
        "inspect",
        "writeup",
        "consult",
        "handover",
        "viewing",
        "verify",
        "keys",
        "why",
        "words",
        "schema",
        "completions",
        "manual",
    ] {
        let (_, help) = Bench::new().args([command, "--help"]).stderr("").output(0);
        for line in help.lines() {
            assert!(line.chars().count() <= 80, "{command}: {line}");
        }
    }
    let (_, help) = Bench::new().args(["--help"]).stderr("").output(0);
    assert!(help.contains("Exit code: 0 clean"), "{help}");
    for line in help.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

#[test]
fn what_is_not_understood_could_not_run() {
    Bench::new().args([]).stdout("").stderr_has("Usage: witnessmark").status(2);
    Bench::new().args(["inspekt"]).stdout("").stderr_has("inspect").status(2);
    Bench::new().args(["inspect", "--as", "yaml"]).stdout("").stderr_has("json").status(2);
}
