//! The care sheet: how each face is looked after by all that lies on it, and when and where the piece may be used.

use serde::Serialize;

use crate::claim::{Claim, says};
use crate::view::context::PieceContext;
use crate::view::shared::section::{Arranged, Form, Section, worded};
use crate::words::Sentence;

/// The care sheet of one piece.
#[derive(Debug, Clone, Serialize)]
pub struct Care {
    /// What it is for; may be empty.
    pub purpose: String,
    /// Whom to ask.
    pub ask: String,
    /// What it says, in the order in which it is read.
    pub sections: Vec<Section>,
}

/// What the sheet says, section by section.
pub(crate) fn arranged<'a>(context: &PieceContext<'a>) -> Vec<Arranged<'a>> {
    let care = &context.claims.care;
    let section = Arranged::new;
    let faces = care.faces.iter().zip(1..).map(|(face, number)| {
        let name = format!("face-{number}");
        Arranged::new(name, face.heading.clone(), Form::Columns, &face.claims)
    });
    let first = [
        section("cautions", says!("heading-cautions"), Form::Lines, &care.cautions),
        section("stability", says!("heading-stability"), Form::Lines, &context.claims.stability),
        section("substances", says!("heading-substances"), Form::Lines, &context.claims.substances),
        section("use-from", says!("heading-use-from"), Form::Lines, &care.use_from),
    ];
    let last = [
        section("coverings", says!("heading-coverings"), Form::Columns, &care.coverings),
        section("shelves", says!("heading-shelves"), Form::Lines, &context.claims.shelves),
        section("movement", says!("heading-movement"), Form::Lines, &context.claims.movement),
        section("in-use", says!("heading-in-use"), Form::Lines, &care.in_use),
        section("assembly", says!("heading-assembly"), Form::Steps, &care.assembly),
        section("weight", says!("heading-weight"), Form::Lines, &context.claims.lifting),
        section("moving", says!("heading-moving"), Form::Steps, &care.moving),
        section("room", says!("heading-room"), Form::Lines, &care.room),
        section("ask", says!("heading-ask"), Form::Lines, &care.ask),
    ];
    first.into_iter().chain(faces).chain(last).collect()
}

/// Builds the care sheet.
pub(crate) fn care(context: &PieceContext<'_>) -> Care {
    let words = context.house.words();
    let whole = |claims: &[Claim]| -> String {
        words.sentences(claims).iter().map(Sentence::whole).collect::<Vec<_>>().join(" ")
    };
    Care {
        purpose: whole(&context.claims.care.purpose),
        ask: whole(&context.claims.care.ask),
        sections: worded(context, &arranged(context)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;

    /// What stands under a heading, each line with what it begins with.
    fn told(record: &str, workshop: &str, name: &str) -> Vec<String> {
        let sheet = shown(record, workshop, care);
        let section = sheet.sections.iter().find(|section| section.name == name);
        section.iter().flat_map(|section| &section.lines).map(Sentence::whole).collect()
    }

    /// What is told of a top with these layers.
    fn top(found: &str, steps: &str) -> Vec<String> {
        let part = "part = [{ id = \"a\", name = \"Top\", standing = \"original\" }]\n";
        told(
            &format!("{part}surface = [{{ parts = \"a\", found = {found}, steps = [{steps}] }}]"),
            "",
            "face-1",
        )
    }

    fn line<'a>(lines: &'a [String], lead: &str) -> &'a str {
        lines.iter().find_map(|line| line.strip_prefix(&format!("{lead}. "))).unwrap_or_default()
    }

    const WAX: &str = "{ apply = \"paste-wax\" }";

    #[test]
    fn wax_over_shellac_speaks_of_alcohol_and_of_heat() {
        let lines = top("\"shellac\"", WAX);
        assert_eq!(
            line(&lines, "Alcohol"),
            "Keep drinks, perfume and hand gel away: alcohol goes through the paste wax and marks the shellac."
        );
        assert!(line(&lines, "Heat").ends_with("heat marks the paste wax and shellac."), "{lines:?}");
        assert_eq!(line(&lines, "What is on it"), "Paste wax, shellac, the uppermost first.");
        assert!(line(&lines, "Renew").starts_with("Buff first."), "{lines:?}");
        assert!(!lines.concat().contains("no other finish"), "{lines:?}");
    }

    #[test]
    fn wax_over_what_may_hold_lead_invites_to_no_mending() {
        let lines = top("\"old-paint\"", WAX);
        assert!(line(&lines, "Never").contains("sanding, scraping or burning"), "{lines:?}");
        assert!(!lines.concat().contains("mend"), "{lines:?}");
    }

    #[test]
    fn a_coat_that_nobody_identified_is_dusted_dry_and_nothing_is_put_on_it() {
        for lines in [
            top("\"old-finish\"", WAX),
            top("\"unknown\"", ""),
            top("[]", "{ apply = \"teak oil\" }"),
            top("[]", ""),
        ] {
            assert!(!line(&lines, "Clean").contains("barely damp"), "{lines:?}");
            assert_eq!(line(&lines, "Renew"), "Put nothing on it before its finishes are known; ask us.");
        }
        assert_eq!(line(&top("\"unknown\"", ""), "Clean"), "Dry only: use no water and no damp cloth.");
        let read = top("\"old-finish\"", "{ test = \"meths\", result = \"softened\" }");
        assert!(line(&read, "What is on it").ends_with("to be probably shellac."), "{read:?}");
    }

    #[test]
    fn cloths_are_spoken_of_where_the_owner_renews_with_what_heats_them() {
        let fire = |lines: &[String]| line(lines, "Renew").contains("catch fire");
        assert!(fire(&top("\"bare-wood\"", "{ apply = \"tung-oil\" }")));
        assert!(!fire(&top("\"tung-oil\"", "{ apply = \"shellac\" }, { apply = \"paste-wax\" }")));
        assert!(!fire(&top("\"old-finish\"", "{ apply = \"tung-oil\" }")), "it is not renewed by the owner");
    }

    #[test]
    fn bare_wood_is_never_wiped_damp() {
        let lines = top("\"bare-wood\"", "");
        assert_eq!(line(&lines, "What is on it"), "Bare wood.");
        assert_eq!(line(&lines, "Clean"), "Brush it dry; do not wipe it damp and do not scrub it.");
    }

    #[test]
    fn parts_with_other_layers_have_their_own_advice_and_faces_alike_share_one() {
        let parts = "part = [{ id = \"a\", name = \"Top\", standing = \"original\" }, \
                     { id = \"b\", name = \"Leaf\", standing = \"original\" }]\n";
        let headings = |rest: &str| {
            let sections = shown(&format!("{parts}{rest}"), "", care).sections;
            let faces = sections.into_iter().filter(|section| section.name.starts_with("face"));
            faces.map(|section| section.heading).collect::<Vec<_>>()
        };
        let taken = format!(
            "surface = [{{ parts = [\"a\", \"b\"], found = \"shellac\", steps = [{WAX}, {{ remove = \"all\", only = \"b\" }}] }}]"
        );
        assert_eq!(headings(&taken), ["Top", "Leaf"]);
        let alike =
            "surface = [{ parts = \"a\", found = \"shellac\" }, { parts = \"b\", found = \"shellac\" }]";
        assert_eq!(headings(alike), ["Top and Leaf"]);
    }

    #[test]
    fn a_covering_that_the_record_names_is_looked_after() {
        let covered = |material: &str, rest: &str| {
            let record = format!(
                "part = [{{ id = \"seat\", name = \"Seat\", standing = \"original\", build = \"textile\"{material} }}]\n{rest}"
            );
            told(&record, "", "coverings")
        };
        let cane = covered(", material = \"Caned seat\"", "");
        assert!(cane[0].starts_with("Seat. Draw dust off") && cane[0].contains("do not wet it"), "{cane:?}");
        assert_eq!(covered("", ""), [""; 0]);
        assert_eq!(covered(", material = \"unknown\"", ""), [""; 0]);
        assert_eq!(covered(", material = \"moon cloth\"", ""), [""; 0]);
        let surface = "surface = [{ parts = [\"seat\"], found = \"baize\" }]";
        assert_eq!(covered(", material = \"cloth\"", surface), [""; 0]);
    }

    const SATIN: &str = "[[tin]]\nid = \"satin\"\nis = \"oil-polyurethane\"\nname = \"Satin varnish\"\n\
                         dust-dry-hours = [4, 6]\nlight-use-days = [3, 5]\nfull-cure-days = [21, 28]";

    const TOP: &str = "[[surface]]\nname = \"Top\"\nsteps = [\
                       { on = 2026-03-20, apply = \"tin:satin\", coats = 3, every-hours = 24 }]\n";

    #[test]
    fn one_pair_of_days_stands_for_the_piece_with_its_reason() {
        let legs = "[[surface]]\nname = \"Legs\"\nsteps = [{ on = 2026-03-18, apply = \"tin:satin\" }]\n";
        let lines = told(&format!("{TOP}{legs}"), SATIN, "use-from");
        assert_eq!(
            lines,
            [
                "From 27 March 2026 it may be used gently; it is fully hard about 19 April 2026.",
                "It waits for Top: Satin varnish, last coated 22 March 2026.",
                "The days are no promise: where it still feels soft or smells, wait."
            ]
        );
        let sold = format!("{TOP}\n[handover]\non = 2026-05-01\n");
        assert_eq!(told(&sold, SATIN, "use-from"), ["Its finish is fully hard."]);
    }

    #[test]
    fn what_is_not_known_of_the_days_is_said_and_cold_is_put_into_words() {
        let undated = "[[surface]]\nname = \"Legs\"\nsteps = [{ apply = \"paste-wax\" }]\n";
        assert_eq!(
            told(&format!("{TOP}{undated}"), SATIN, "use-from"),
            ["No day can be given: for paste wax on Legs, the day is not recorded."]
        );
        let air = |drying: &str| told(TOP, &format!("drying = {{ {drying} }}\n{SATIN}"), "use-from");
        assert_eq!(
            air("temperature = 11, humidity = 70").last().unwrap(),
            "Top dried at 11 °C and 70 % relative humidity, which makes a finish slower: allow more time."
        );
        assert_eq!(air("temperature = 18, humidity = 65").len(), 3);
        let nothing = "[[surface]]\nname = \"Top\"\nfound = \"shellac\"\n";
        assert_eq!(told(nothing, "", "use-from"), [""; 0]);
    }

    #[test]
    fn the_room_is_the_one_that_the_figures_are_for() {
        let room = |workshop: &str| told("", workshop, "room")[0].clone();
        assert_eq!(room(""), "Our figures assume a room of 35 to 65 % relative humidity at 20 °C.");
        assert_eq!(
            room("climate = { humidity-low = 45, humidity-high = 60, temperature = 18 }"),
            "Our figures are for a room of 45 to 60 % relative humidity at 18 °C."
        );
    }
}
