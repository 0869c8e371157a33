//! `witnessmark manual`

use crate::fixture::Bench;

#[test]
fn the_page_names_every_command_with_its_options() {
    let (_, page) = Bench::new().args(["manual"]).stderr("").output(0);
    assert!(page.contains(".TH witnessmark 1"), "{page}");
    for command in
        ["intake", "inspect", "writeup", "verify", "keys", "why", "schema", "completions", "manual"]
    {
        assert!(page.contains(&format!(".SS {command}\n")), "{command}");
    }
    for word in ["\\fB\\-\\-only\\fR \\fIPIECE\\fR", ".SH \"EXIT STATUS\"", "Takes text or json."] {
        assert!(page.contains(word), "{word}");
    }
    assert!(page.is_ascii(), "older readers take nothing else");
}
