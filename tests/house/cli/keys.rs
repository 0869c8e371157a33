//! `witnessmark keys`

use std::fs;

use crate::fixture::Bench;

#[cfg(unix)]
#[test]
fn a_pair_of_keys_is_made_outside_the_workshop_and_never_again() {
    use std::os::unix::fs::PermissionsExt;
    let (bench, told) = Bench::new()
        .write("shop/workshop.toml", "name = \"Bench\"\n")
        .args(["keys", "--to", "shop/../kept", "--without-password"])
        .stdout_has("signing-key = \"RW")
        .stdout_has("it is not locked")
        .stderr("")
        .output(0);
    let kept = bench.path("kept");
    let secret = kept.join("witnessmark.key");
    assert_eq!(fs::metadata(&secret).unwrap().permissions().mode() & 0o777, 0o600);
    let before = fs::read(&secret).unwrap();
    let public = fs::read_to_string(kept.join("witnessmark.pub")).unwrap();
    let key = public.lines().nth(1).unwrap().to_owned();
    assert!(told.contains(&key), "{told}");
    let bench = bench
        .args(["keys", "--to", "kept", "--without-password"])
        .stdout("")
        .stderr_has("is there already and stays as it is")
        .status(2);
    assert_eq!(fs::read(&secret).unwrap(), before);
    bench.args(["keys", "--to", "kept", "--show"]).stdout(&format!("{key}\n")).status(0);
}

#[test]
fn a_secret_key_in_the_workshop_is_refused_unless_it_is_wanted() {
    let bench = Bench::workshop()
        .args(["keys", "--to", "pieces/new/keys", "--without-password"])
        .stdout("")
        .stderr_has("would lie in the workshop")
        .stderr_has("--inside-workshop")
        .status(2);
    assert!(!bench.path("pieces").exists());
    let bench = bench
        .args(["keys", "--to", "pieces/new/keys", "--without-password", "--inside-workshop"])
        .stderr("")
        .status(0);
    assert!(bench.path("pieces/new/keys/witnessmark.key").exists());
}

#[test]
fn a_password_is_piped_in_and_an_empty_one_is_none() {
    let bench = Bench::new().args(["keys", "--to", "kept"]);
    let run = |bench: &Bench, input: &str| {
        let output = bench.command().write_stdin(input).output().unwrap();
        (
            output.status.code(),
            String::from_utf8(output.stdout).unwrap() + &String::from_utf8(output.stderr).unwrap(),
        )
    };
    let (code, told) = run(&bench, "\n");
    assert_eq!(code, Some(2));
    assert!(told.contains("a password is needed"), "{told}");
    assert!(!bench.path("kept").exists(), "nothing is made without");
    let (code, told) = run(&bench, "pear wood\n");
    assert_eq!(code, Some(0), "{told}");
    assert!(told.contains("locked with the password"), "{told}");
    let bench = bench.args(["keys", "--to", "kept", "--show"]);
    let (code, told) = run(&bench, "plum wood\n");
    assert_eq!(code, Some(2));
    assert!(told.contains("this is not the password of this secret key"), "{told}");
    let (code, told) = run(&bench, "pear wood\n");
    assert_eq!((code, told.len()), (Some(0), 57), "{told}");
}

#[test]
fn without_a_place_keys_lie_among_ones_own_settings() {
    let bench = Bench::new().args(["keys", "--without-password"]);
    let run = |settings: Option<std::path::PathBuf>| {
        let mut command = bench.command();
        command.env("HOME", bench.path("home")).env_remove("XDG_CONFIG_HOME");
        settings.map(|settings| command.env("XDG_CONFIG_HOME", settings));
        assert_eq!(command.output().unwrap().status.code(), Some(0));
    };
    run(Some(bench.path("settings")));
    assert!(bench.path("settings/witnessmark/witnessmark.key").exists());
    run(None);
    assert!(bench.path("home/.config/witnessmark/witnessmark.pub").exists());
}

#[test]
fn a_lost_or_wrong_secret_key_is_told() {
    Bench::new()
        .args(["keys", "--to", "nowhere.key", "--show"])
        .stdout("")
        .stderr_has("there is no secret key `nowhere.key`; `witnessmark keys` makes one")
        .status(2);
    Bench::new()
        .write("a.key", "not a key")
        .args(["keys", "--to", "a.key", "--show"])
        .stdout("")
        .stderr_has("`a.key` cannot be used: this is no secret key of minisign, or it is damaged")
        .status(2);
}
