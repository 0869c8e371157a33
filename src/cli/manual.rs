//! `manual`: the manual page, made from the same words as the help.

use clap::{Arg, Command, CommandFactory};
use clap_mangen::Man;
use clap_mangen::roff::{Inline, Roff, bold, italic, roman};

use super::voice::Voice;
use super::{Cli, Outcome, Trouble};

pub(super) fn run() -> Result<Outcome, Trouble> {
    Voice::out().print(&String::from_utf8_lossy(&page()?))?;
    Ok(Outcome::Clean)
}

fn page() -> Result<Vec<u8>, Trouble> {
    let mut program = Cli::command();
    program.build();
    let mut page = Vec::new();
    // No date: the same program gives the same page.
    let man = Man::new(program.clone()).manual("Witnessmark").date("");
    man.render_title(&mut page).map_err(Trouble::Output)?;
    man.render_name_section(&mut page).map_err(Trouble::Output)?;

    let mut roff = Roff::new();
    roff.control("SH", ["SYNOPSIS"]);
    roff.text([bold("witnessmark"), roman(" "), italic("command"), roman(" [...]")]);
    roff.control("SH", ["COMMANDS"]);
    for command in program.get_subcommands() {
        describe(command, &mut roff);
    }
    for (heading, entries) in SECTIONS {
        roff.control("SH", [*heading]);
        for (term, text) in *entries {
            roff.control("TP", []).text([bold(*term)]).text([roman(*text)]);
        }
    }
    roff.to_writer(&mut page).map_err(Trouble::Output)?;
    Ok(page)
}

/// Sections after the commands: a heading, then terms with what they mean.
const SECTIONS: &[(&str, &[(&str, &str)])] = &[
    (
        "EXIT STATUS",
        &[
            ("0", "Nothing is wrong; there may be hints."),
            (
                "1",
                "There are mistakes or doubts about the records, or a pack is not whole or not signed as it should be.",
            ),
            ("2", "The command could not run."),
        ],
    ),
    (
        "FILES",
        &[
            ("workshop.toml", "The workshop: its name, its money and units, its tins."),
            ("stock.toml", "Material kept for later pieces."),
            ("pieces/*/record.toml", "The record of one piece."),
            ("pieces/*/story.md", "Its story, in Markdown."),
            ("pieces/*/photos/", "Its photographs; names such as before-front.jpg say what they show."),
            (
                "written/",
                "The papers. Nothing in it is worth keeping a copy of: it is written anew each time.",
            ),
            (".darkroom/", "Pictures developed and papers set once. It may be deleted at any time."),
            (
                "$XDG_CONFIG_HOME/witnessmark/witnessmark.key",
                "The secret key that packs are signed with, for your eyes alone; witnessmark.pub beside it is the public one. \
                 Without XDG_CONFIG_HOME they lie in .config of your home.",
            ),
            ("written/.witnessmark", "What was written, in the form that sha256sum -c checks."),
        ],
    ),
    (
        "ENVIRONMENT",
        &[
            ("NO_COLOR", "Where set, nothing is coloured."),
            ("SOURCE_DATE_EPOCH", "Seconds since 1970 that stand for today, for repeatable writing."),
        ],
    ),
];

/// One command: how it is called, what it does, its arguments.
fn describe(command: &Command, roff: &mut Roff) {
    let mut call = vec![bold(command.get_name())];
    for argument in command.get_positionals() {
        let name = argument.get_value_names().map_or_else(String::new, |names| names.join(" "));
        let (open, close) = if argument.is_required_set() { (" ", "") } else { (" [", "]") };
        call.extend([roman(open), italic(name), roman(close)]);
    }
    for option in options(command) {
        call.push(roman(" ["));
        call.extend(spelling(option));
        call.push(roman("]"));
    }
    roff.control("SS", [command.get_name()]).text(call);
    roff.control("PP", []).text([roman(sentence(command.get_about()))]);
    for option in command.get_positionals().chain(options(command)) {
        let help = sentence(option.get_help()) + &choices(option);
        roff.control("TP", []).text(spelling(option)).text([roman(help)]);
    }
}

fn options(command: &Command) -> impl Iterator<Item = &Arg> {
    command.get_opts().filter(|option| !option.is_hide_set())
}

/// An argument as it is typed.
fn spelling(argument: &Arg) -> Vec<Inline> {
    let name = argument.get_value_names().map_or_else(String::new, |names| names.join(" "));
    match argument.get_long() {
        Some(long) => vec![bold(format!("--{long}")), roman(" "), italic(name)],
        None => vec![italic(name)],
    }
}

/// The words that an argument takes and what it is without any, as sentences with a space before them.
fn choices(argument: &Arg) -> String {
    let words: Vec<String> =
        argument.get_possible_values().iter().map(|value| value.get_name().to_owned()).collect();
    let usual: Vec<_> = argument.get_default_values().iter().map(|value| value.to_string_lossy()).collect();
    let takes = match words.as_slice() {
        [first @ .., last] if !first.is_empty() => format!(" Takes {} or {last}.", first.join(", ")),
        _ => String::new(),
    };
    takes
        + &match usual.join(" ").as_str() {
            "" => String::new(),
            "." => " If left out, the current folder.".to_owned(),
            usual => format!(" If left out, {usual}."),
        }
}

/// A help text as a sentence.
fn sentence(help: Option<&clap::builder::StyledStr>) -> String {
    help.map_or_else(String::new, |help| format!("{help}."))
}
