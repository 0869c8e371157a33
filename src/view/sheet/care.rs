//! The care sheet: a card that folds, with how each surface is looked after by all that lies on it, and when and where
//! the piece may be used.

use crate::claim::Message;
use crate::view::context::PieceContext;
use crate::view::shared::care_card::card;
use crate::view::shared::section::Said;

pub use crate::view::shared::care_card::CareCard as Care;

/// What the sheet says, in the order in which it is read; what it only counts comes last, as it stands in the build
/// record.
pub(crate) fn said<'a>(context: &PieceContext<'a>) -> Vec<Said<'a>> {
    let words = context.house.words();
    let card = card(context);
    let rest = card.rest.into_iter().flat_map(|section| {
        let heading = section.heading;
        section.claims.into_iter().map(move |claim| Said {
            heading: heading.clone(),
            claim,
            sentence: words.sentence(claim).whole(),
            is_elsewhere: true,
        })
    });
    card.said.into_iter().chain(rest).collect()
}

/// How many texts of its maker's each list has no room for.
pub(crate) fn summed_up(context: &PieceContext<'_>) -> Vec<(Message, usize)> {
    card(context).summed_up
}

/// Builds the care sheet.
pub(crate) fn care(context: &PieceContext<'_>) -> Care {
    card(context).view
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::claim::Claim;
    use crate::view::testing::shown;

    fn sheet(record: &str, workshop: &str) -> Care {
        shown(record, workshop, care)
    }

    /// What is told of the faces in whole sentences, each with what it begins with.
    fn whole(record: &str) -> Vec<String> {
        shown(record, "", |context| {
            let faces = context.claims.care.faces.iter().flat_map(|face| &face.claims);
            let whole = |claim: &Claim| context.house.words().sentence(claim).whole();
            faces.map(|(_, claim)| whole(claim)).collect()
        })
    }

    const PART: &str = "part = [{ id = \"a\", name = \"Top\", standing = \"original\" }]\n";

    fn record_of_top(found: &str, steps: &str) -> String {
        format!("{PART}surface = [{{ parts = \"a\", found = {found}, steps = [{steps}] }}]")
    }

    /// What is told of a top with these layers.
    fn top(found: &str, steps: &str) -> Vec<String> {
        whole(&record_of_top(found, steps))
    }

    /// A cell of the first column.
    fn cell(record: &str, label: &str) -> String {
        let rows = sheet(record, "").rows.into_iter();
        rows.filter(|row| row.label == label).map(|row| row.cells[0].clone()).collect()
    }

    fn line<'a>(lines: &'a [String], lead: &str) -> &'a str {
        lines.iter().find_map(|line| line.strip_prefix(&format!("{lead}. "))).unwrap_or_default()
    }

    /// The lines under a heading, each with what it begins with.
    fn lines(sheet: &Care, name: &str) -> Vec<String> {
        let list = sheet.lists.iter().chain([&sheet.others]).find(|list| list.name == name);
        let lines = list.iter().flat_map(|list| &list.lines);
        lines.map(|line| format!("{} {}", line.lead, line.text).trim().to_owned()).collect()
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
    fn the_table_says_the_same_in_few_words() {
        let record = record_of_top("\"shellac\"", WAX);
        let told = sheet(&record, "");
        assert_eq!((told.surfaces.len(), told.surfaces[0].on.as_str()), (1, "Paste wax over shellac"));
        assert_eq!(cell(&record, "Spill"), "Blot at once, do not rub.");
        assert_eq!(cell(&record, "Heat, rings"), "Nothing hot; a mat under what is warm or wet.");
        assert!(cell(&record, "Never").starts_with("Alcohol, perfume, hand gel, "), "{:?}", told.rows);
        assert_eq!(
            cell(&record, "Renew"),
            "Buff. A thin coat, buffed, only when that brings no sheen (1 to 4 years)."
        );
        assert!(told.rows.iter().flat_map(|row| &row.cells).all(|cell| cell.chars().count() <= 170));
    }

    #[test]
    fn a_record_without_surfaces_or_figures_says_so_and_reckons_nothing() {
        let told = sheet("weighs = 4", "");
        assert!(told.from_notes[0].contains("Its finish is not recorded"), "{told:?}");
        let all = format!("{told:?}");
        assert!(!all.contains("simple statics") && !all.contains("Our figures"), "{all}");
        assert!(!all.contains("On stairs"), "nobody needs help with four kilograms: {all}");
    }

    #[test]
    fn surfaces_alike_share_a_column_and_answers_alike_a_cell() {
        let parts = "part = [{ id = \"a\", name = \"Top\", standing = \"original\" }, \
                     { id = \"b\", name = \"Leaf\", standing = \"original\" }, \
                     { id = \"c\", name = \"Runner\", standing = \"original\" }]\n";
        let told = |surfaces: &str| sheet(&format!("{parts}surface = [{surfaces}]"), "");
        let alike = told("{ parts = \"a\", found = \"shellac\" }, { parts = \"b\", found = \"shellac\" }");
        assert_eq!(
            alike.surfaces.iter().map(|head| head.name.as_str()).collect::<Vec<_>>(),
            ["Top and Leaf"]
        );
        let two = told(
            "{ parts = \"a\", found = \"shellac\" }, { parts = \"b\", found = \"two-pack-polyurethane\" }, \
             { parts = \"c\", found = \"bare-wood\" }",
        );
        assert_eq!(two.surfaces.len(), 2);
        let cells = |label: &str| two.rows.iter().find(|row| row.label == label).unwrap().cells.len();
        assert_eq!((cells("Clean"), cells("Spill")), (2, 2));
        assert_eq!(
            lines(&two, "others"),
            ["Runner. Bare wood. Brush it dry; do not wipe it damp and do not scrub it."],
            "bare wood needs no column"
        );
        assert_eq!(two.others.more, "More on one of these in the build record.");
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
        let fire = |found: &str, steps: &str| {
            let told = sheet(&record_of_top(found, steps), "");
            lines(&told, "others").iter().any(|line| line.contains("catch fire"))
        };
        assert!(fire("\"bare-wood\"", "{ apply = \"tung-oil\" }"));
        assert!(!fire("\"tung-oil\"", "{ apply = \"shellac\" }, { apply = \"paste-wax\" }"));
        assert!(!fire("\"old-finish\"", "{ apply = \"tung-oil\" }"), "it is not renewed by the owner");
    }

    #[test]
    fn bare_wood_is_never_wiped_damp() {
        let lines = top("\"bare-wood\"", "");
        assert_eq!(line(&lines, "What is on it"), "Bare wood.");
        assert_eq!(line(&lines, "Clean"), "Brush it dry; do not wipe it damp and do not scrub it.");
    }

    #[test]
    fn what_lies_on_no_surface_has_a_line() {
        let covered = |build: &str, material: &str, rest: &str| {
            let record = format!(
                "part = [{{ id = \"seat\", name = \"Seat\", standing = \"original\", build = \"{build}\"{material} }}]\n{rest}"
            );
            lines(&sheet(&record, ""), "others")
        };
        let cane = covered("textile", ", material = \"Caned seat\"", "");
        assert!(cane[0].starts_with("Seat. Draw dust off") && cane[0].contains("do not wet it"), "{cane:?}");
        for (build, name) in
            [("textile", "Cloth. "), ("leather", "Leather. "), ("glass", "Glass. "), ("metal", "Metal. ")]
        {
            let line = covered(build, "", "");
            assert!(line.len() == 1 && line[0].starts_with(name) && line[0].contains("Never "), "{line:?}");
        }
        assert_eq!(covered("solid", "", ""), [""; 0]);
        let surface = "surface = [{ parts = [\"seat\"], found = \"baize\" }]";
        assert_eq!(covered("textile", ", material = \"cloth\"", surface), [""; 0]);
    }

    const SATIN: &str = "[[tin]]\nid = \"satin\"\nis = \"oil-polyurethane\"\nname = \"Satin varnish\"\n\
                         dust-dry-hours = [4, 6]\nlight-use-days = [3, 5]\nfull-cure-days = [21, 28]";

    const TOP: &str = "[[surface]]\nname = \"Top\"\nsteps = [\
                       { on = 2026-03-20, apply = \"tin:satin\", coats = 3, every-hours = 24 }]\n";

    /// The days, each with what may be done.
    fn from(record: &str, workshop: &str) -> Vec<String> {
        let sheet = sheet(record, workshop);
        sheet.from.iter().map(|day| format!("{}: {}", day.day, day.text)).collect()
    }

    #[test]
    fn three_days_stand_for_the_piece_and_what_is_past_is_a_sentence() {
        let legs = "[[surface]]\nname = \"Legs\"\nsteps = [{ on = 2026-03-18, apply = \"tin:satin\" }]\n";
        let both = format!("{TOP}{legs}");
        assert_eq!(
            from(&both, SATIN),
            [
                "23 March 2026: may be dusted",
                "27 March 2026: gentle use, with mats",
                "19 April 2026: fully hard"
            ]
        );
        assert_eq!(
            sheet(&both, SATIN).from_notes,
            [
                "No promise: where it still feels soft or smells, wait.",
                "It waits for Top: Satin varnish, last coated 22 March 2026."
            ]
        );
        let sold = |day: &str| format!("{both}\n[handover]\non = {day}\n");
        assert_eq!(from(&sold("2026-03-30"), SATIN), ["19 April 2026: fully hard"]);
        assert_eq!(from(&sold("2026-05-01"), SATIN), [""; 0]);
        assert_eq!(
            sheet(&sold("2026-05-01"), SATIN).from_notes,
            ["Its finish has been fully hard since 19 April 2026."]
        );
    }

    #[test]
    fn what_is_not_known_of_the_days_is_said_and_cold_is_put_into_words() {
        let undated = "[[surface]]\nname = \"Legs\"\nsteps = [{ apply = \"paste-wax\" }]\n";
        let told = sheet(&format!("{TOP}{undated}"), SATIN);
        assert!(told.from.is_empty());
        assert_eq!(told.from_notes, ["No day can be given: for paste wax on Legs, the day is not recorded."]);
        let notes = |drying: &str| sheet(TOP, &format!("drying = {{ {drying} }}\n{SATIN}")).from_notes;
        assert_eq!(
            notes("temperature = 11, humidity = 70")[0],
            "It dried at 11 °C and 70 % relative humidity: allow more time."
        );
        assert_eq!(notes("temperature = 18, humidity = 65").len(), 2);
        let nothing = sheet("[[surface]]\nname = \"Top\"\nfound = \"shellac\"\n", "");
        assert!(nothing.from.is_empty() && nothing.from_notes.is_empty());
    }

    #[test]
    fn the_room_is_the_one_that_the_figures_are_for() {
        let fixed = "part = [{ id = \"a\", name = \"Top\", standing = \"original\", timber = \"red-oak\", build = \"solid\", \
                     size = { length = 1200, width = 800, thick = 20 }, grain = \"length\", held = \"fixed-across\" }]";
        let room = |workshop: &str| lines(&sheet(fixed, workshop), "room").pop().unwrap_or_default();
        assert_eq!(room(""), "Our figures assume a room of 35 to 65 % relative humidity at 20 °C.");
        assert_eq!(
            room("climate = { humidity-low = 45, humidity-high = 60, temperature = 18 }"),
            "Our figures are for a room of 45 to 60 % relative humidity at 18 °C."
        );
    }

    #[test]
    fn what_has_no_room_is_counted_and_whole_in_the_build_record() {
        let texts: Vec<String> = (0..40).map(|at| format!("\"Turn screw {at} by hand.\"")).collect();
        let record =
            format!("use = {{ assembly = [{}], cautions = [{}] }}", texts.join(", "), texts.join(", "));
        let told = sheet(&record, "");
        assert_eq!(told.warnings.len(), 5, "what to know has five lines");
        let moving = told.lists.iter().find(|list| list.name == "moving").unwrap();
        assert!(moving.lines.len() < 40 && moving.more.ends_with(" more in the build record."), "{moving:?}");
        let said = shown(&record, "", |context| {
            let said = super::said(context);
            said.iter().map(|said| (said.sentence.clone(), said.is_elsewhere)).collect::<Vec<_>>()
        });
        for at in 0..40 {
            let told = said.iter().filter(|(sentence, _)| *sentence == format!("Turn screw {at} by hand."));
            assert_eq!(told.count(), 2, "as a step and as a caution, each told or counted: {at}");
        }
        let doubts = shown(&record, "", super::summed_up);
        assert_eq!(
            doubts.iter().map(|(_, count)| count).sum::<usize>(),
            said.iter().filter(|(sentence, elsewhere)| *elsewhere && sentence.starts_with("Turn")).count()
        );
    }

    #[test]
    fn days_to_keep_have_a_box_for_each_year_in_which_they_come() {
        let record = format!(
            "{}\nhandover = {{ on = 2026-04-20 }}",
            "surface = [{ found = \"bare-wood\", steps = [{ on = 2026-03-16, apply = \"oil-polyurethane\" }] }]"
        );
        let days = sheet(&record, "").days.unwrap();
        assert_eq!(days.years, ["2027", "2028", "2029", "2030", "2031"]);
        assert_eq!(days.rows[0].day, "20 April");
        assert_eq!(days.rows[0].what, "Screws, hinges, joints: firm?");
        assert_eq!(days.rows[0].boxes, [true; 5]);
        let renew = days.rows.iter().find(|row| row.what.contains("renew")).unwrap();
        assert_eq!(renew.boxes.iter().filter(|ticked| **ticked).count(), 1, "{renew:?}");
        assert!(renew.what.contains("every 5 years"), "{renew:?}");
    }
}
