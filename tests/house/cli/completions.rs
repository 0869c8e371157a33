//! `witnessmark completions`

use crate::fixture::Bench;

#[test]
fn every_shell_gets_a_script_that_knows_the_commands() {
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let (_, script) = Bench::new().args(["completions", shell]).stderr("").output(0);
        for word in ["intake", "writeup", "photos"] {
            assert!(script.contains(word), "{shell}: {word}");
        }
    }
}
