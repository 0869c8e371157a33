//! Rules that look at a record and never change it.
//!
//! One file per rule; [`RULES`] lists them all, and `explain`, the table in the docs and
//! the tests walk that list. A rule gets one piece with its facts, or the workshop as a
//! whole, and says what it sees. It is quiet where `unknown` was declared.

mod additions;
mod amendment_unexplained;
mod area_without_size;
mod asking_after_handover;
mod asking_without_currency;
mod box_without_wall;
mod case;
mod changed_since_seal;
mod choice_not_offered;
mod climate_out_of_reach;
mod climate_upside_down;
mod coarse_between_coats;
mod cost_said_twice;
mod cost_without_amount;
mod costs_without_price;
mod date_in_the_future;
mod decision_without_options;
mod decision_without_reason;
mod duplicate_id;
mod duplicate_number;
mod finding_left_open;
mod finding_without_part;
mod finding_without_severity;
mod finish_over_doubtful_layer;
mod finish_over_wrong_layer;
mod fixing_kind_unknown;
mod grit_goes_back;
mod grit_jump;
mod grit_step_wide;
mod grit_unknown;
mod handover_before_last_work;
mod handover_before_light_use;
mod hazard_without_caution;
mod hours_twice;
mod kind_in_one_level;
mod landmarks_do_not_fit;
mod landmarks_refused;
mod landmarks_untested;
mod link_dropped;
mod made_after_found;
mod mark_in_two_places;
mod mark_without_meaning;
mod mark_without_place;
mod modern_fixing_unexplained;
mod names;
mod no_after_photograph;
mod no_alternative_text;
mod no_before_photograph;
mod no_climate;
mod no_level;
mod no_size;
mod no_stance;
mod no_story;
mod no_summary;
mod no_years_of_making;
mod number_without_letters;
mod open_at_handover;
mod opens_without_reach;
mod original_since;
mod original_without_how_known;
mod overhead_twice;
mod pair_of_unlike;
mod pair_shares_little;
mod part_before_its_time;
mod part_early_for_its_time;
mod part_longer_than_piece;
mod part_unaccounted;
mod part_without_surface;
mod part_without_timber;
mod photograph_damaged;
mod photograph_imperfect;
mod photograph_missing;
mod photograph_outside;
mod photograph_said_twice;
mod photograph_unreadable;
mod photograph_unused;
mod photograph_without_stage;
mod raw_html_in_story;
mod recoat_window_missed;
mod recoated_too_soon;
mod redone_before_done;
mod removal_of_nothing;
mod replacement_without_old;
mod scale_without_outline;
mod season_for_span;
mod shelf_not_there;
mod shelf_outside_theory;
mod shelf_overloaded;
mod since_before_made;
mod sold_below_cost;
mod step_on_other_part;
mod step_with_two_acts;
mod step_without_act;
mod step_without_date;
mod surface_step_out_of_order;
mod surface_without_layers;
mod surface_without_parts;
mod swatch_clipped;
mod swatch_grey_not_neutral;
mod swatch_grey_too_dark;
mod swatch_patches_overlap;
mod swatch_surface_missing;
mod swatch_too_small;
mod swatch_uneven;
mod swatch_without_grey;
mod swatch_without_recipe;
mod term_unknown;
mod test_not_declared;
mod test_without_result;
#[cfg(test)]
mod testing;
mod tin_share_above_one;
mod tin_times_upside_down;
mod tipping_without_caution;
mod too_few_landmarks;
mod undoable_without_how;
mod undone_without_effect;
mod unknown_finding;
mod unknown_finish;
mod unknown_material;
mod unknown_part;
mod unknown_stock;
mod unknown_timber;
mod unknown_tin;
mod unknown_work;
mod unsafe_left_undone;
mod unsound_currency;
mod unsound_signing_key;
mod weighs_less_than_its_parts;
mod wide_part_held_fast;
mod work_before_found;
mod work_failed_and_left;
mod work_without_date;
mod work_without_hours;
mod years_without_basis;

use chrono::NaiveDate;

use crate::derive::Facts;
use crate::diag::{self, Code, Diagnostic};
use crate::fields::code;
use crate::record::{Folder, NO_RECORD, SEAL_BROKEN};
use crate::trade::{self, Trade};

pub use additions::{Addition, additions};
pub use case::{Case, Looks, Shop, size};
pub use open_at_handover::still_open;

/// A rule: the fault it names, and how it looks for it.
pub struct Rule {
    /// The fault.
    pub code: &'static Code,
    /// How it looks.
    pub check: Check,
    /// Whether it would see a fault where a table was left out that could not be read.
    ///
    /// Such a rule is not asked about a piece whose record was read in part.
    pub needs_whole: bool,
}

/// Looks at one piece, and pushes what it sees.
pub type LookAtPiece = fn(&Case<'_>, &mut Vec<Diagnostic>);

/// Looks at the workshop, and pushes what it sees.
pub type LookAtWorkshop = fn(&Shop<'_>, &mut Vec<Diagnostic>);

/// What a rule looks at.
pub enum Check {
    /// Each piece by itself.
    Piece(LookAtPiece),
    /// The workshop's own files, or all pieces beside each other.
    Workshop(LookAtWorkshop),
    /// Both.
    Both(LookAtPiece, LookAtWorkshop),
}

/// Every rule, by name.
pub static RULES: &[&Rule] = &[
    &amendment_unexplained::RULE,
    &area_without_size::RULE,
    &asking_after_handover::RULE,
    &asking_without_currency::RULE,
    &box_without_wall::RULE,
    &changed_since_seal::RULE,
    &choice_not_offered::RULE,
    &climate_out_of_reach::RULE,
    &climate_upside_down::RULE,
    &coarse_between_coats::RULE,
    &cost_said_twice::RULE,
    &cost_without_amount::RULE,
    &costs_without_price::RULE,
    &date_in_the_future::RULE,
    &decision_without_options::RULE,
    &decision_without_reason::RULE,
    &duplicate_id::RULE,
    &duplicate_number::RULE,
    &finding_left_open::RULE,
    &finding_without_part::RULE,
    &finding_without_severity::RULE,
    &finish_over_doubtful_layer::RULE,
    &finish_over_wrong_layer::RULE,
    &fixing_kind_unknown::RULE,
    &grit_goes_back::RULE,
    &grit_jump::RULE,
    &grit_step_wide::RULE,
    &grit_unknown::RULE,
    &handover_before_last_work::RULE,
    &handover_before_light_use::RULE,
    &hazard_without_caution::RULE,
    &hours_twice::RULE,
    &kind_in_one_level::RULE,
    &landmarks_do_not_fit::RULE,
    &landmarks_refused::RULE,
    &landmarks_untested::RULE,
    &link_dropped::RULE,
    &made_after_found::RULE,
    &mark_in_two_places::RULE,
    &mark_without_meaning::RULE,
    &mark_without_place::RULE,
    &modern_fixing_unexplained::RULE,
    &no_after_photograph::RULE,
    &no_alternative_text::RULE,
    &no_before_photograph::RULE,
    &no_climate::RULE,
    &no_level::RULE,
    &no_size::RULE,
    &no_stance::RULE,
    &no_story::RULE,
    &no_summary::RULE,
    &no_years_of_making::RULE,
    &number_without_letters::RULE,
    &open_at_handover::RULE,
    &opens_without_reach::RULE,
    &original_since::RULE,
    &original_without_how_known::RULE,
    &overhead_twice::RULE,
    &pair_of_unlike::RULE,
    &pair_shares_little::RULE,
    &part_before_its_time::RULE,
    &part_early_for_its_time::RULE,
    &part_longer_than_piece::RULE,
    &part_unaccounted::RULE,
    &part_without_surface::RULE,
    &part_without_timber::RULE,
    &photograph_damaged::RULE,
    &photograph_imperfect::RULE,
    &photograph_missing::RULE,
    &photograph_outside::RULE,
    &photograph_said_twice::RULE,
    &photograph_unreadable::RULE,
    &photograph_unused::RULE,
    &photograph_without_stage::RULE,
    &raw_html_in_story::RULE,
    &recoat_window_missed::RULE,
    &recoated_too_soon::RULE,
    &redone_before_done::RULE,
    &removal_of_nothing::RULE,
    &replacement_without_old::RULE,
    &scale_without_outline::RULE,
    &season_for_span::RULE,
    &shelf_not_there::RULE,
    &shelf_outside_theory::RULE,
    &shelf_overloaded::RULE,
    &since_before_made::RULE,
    &sold_below_cost::RULE,
    &step_on_other_part::RULE,
    &step_with_two_acts::RULE,
    &step_without_act::RULE,
    &step_without_date::RULE,
    &surface_step_out_of_order::RULE,
    &surface_without_layers::RULE,
    &surface_without_parts::RULE,
    &swatch_clipped::RULE,
    &swatch_grey_not_neutral::RULE,
    &swatch_grey_too_dark::RULE,
    &swatch_patches_overlap::RULE,
    &swatch_surface_missing::RULE,
    &swatch_too_small::RULE,
    &swatch_uneven::RULE,
    &swatch_without_grey::RULE,
    &swatch_without_recipe::RULE,
    &term_unknown::RULE,
    &test_not_declared::RULE,
    &test_without_result::RULE,
    &tin_share_above_one::RULE,
    &tin_times_upside_down::RULE,
    &tipping_without_caution::RULE,
    &too_few_landmarks::RULE,
    &undoable_without_how::RULE,
    &undone_without_effect::RULE,
    &unknown_finding::RULE,
    &unknown_finish::RULE,
    &unknown_material::RULE,
    &unknown_part::RULE,
    &unknown_stock::RULE,
    &unknown_timber::RULE,
    &unknown_tin::RULE,
    &unknown_work::RULE,
    &unsafe_left_undone::RULE,
    &unsound_currency::RULE,
    &unsound_signing_key::RULE,
    &weighs_less_than_its_parts::RULE,
    &wide_part_held_fast::RULE,
    &work_before_found::RULE,
    &work_failed_and_left::RULE,
    &work_without_date::RULE,
    &work_without_hours::RULE,
    &years_without_basis::RULE,
];

impl Rule {
    fn for_piece(&self) -> Option<LookAtPiece> {
        match self.check {
            Check::Piece(look) | Check::Both(look, _) => Some(look),
            Check::Workshop(_) => None,
        }
    }

    fn for_workshop(&self) -> Option<LookAtWorkshop> {
        match self.check {
            Check::Workshop(look) | Check::Both(_, look) => Some(look),
            Check::Piece(_) => None,
        }
    }
}

/// Asks every rule about the workshop and about every piece whose record was read.
///
/// `facts` and `looks` run parallel to the folder's pieces. The most serious comes first,
/// then by file and place.
pub fn inspect(
    folder: &Folder,
    facts: &[Option<Facts>],
    looks: &[Looks],
    trade: &Trade,
    today: NaiveDate,
) -> Vec<Diagnostic> {
    let mut seen = Vec::new();
    let shop = Shop { folder, trade };
    for look in RULES.iter().filter_map(|rule| rule.for_workshop()) {
        look(&shop, &mut seen);
    }
    for ((piece, facts), looks) in folder.pieces.iter().zip(facts).zip(looks) {
        if let (Some(record), Some(facts)) = (&piece.record, facts) {
            let path = piece.record_path();
            look_at(&Case { folder, piece, record, facts, looks, trade, today, path }, &mut seen);
        }
    }
    diag::sort(&mut seen);
    seen
}

/// Asks every rule about one piece.
fn look_at(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let asked = RULES.iter().filter(|rule| !(rule.needs_whole && case.piece.partial));
    for look in asked.filter_map(|rule| rule.for_piece()) {
        look(case, seen);
    }
}

/// Every kind of fault that reading and inspecting can find, by name.
pub fn codes() -> Vec<&'static Code> {
    let reading =
        code::CODES.iter().copied().chain([&NO_RECORD, &SEAL_BROKEN]).chain(trade::CODES.iter().copied());
    let mut codes: Vec<_> = reading.chain(RULES.iter().map(|rule| rule.code)).collect();
    codes.sort_by_key(|code| code.name);
    codes
}

/// A Markdown table of every kind of fault.
pub fn table() -> String {
    let rows = codes().into_iter().map(|code| {
        format!("| `{}` | {} | {} |\n", code.name, code.severity.word(), code.why.replace('|', "\\|"))
    });
    format!("| code | weight | why |\n| --- | --- | --- |\n{}", rows.collect::<String>())
}

#[cfg(test)]
mod tests {
    use super::testing::{bench, check};
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn every_code_is_kebab_case_and_stands_once() {
        let codes = codes();
        for pair in codes.windows(2) {
            assert!(pair[0].name < pair[1].name, "{} and {}", pair[0].name, pair[1].name);
        }
        for code in codes {
            let name = code.name;
            let sound = |word: &str| !word.is_empty() && word.bytes().all(|b| b.is_ascii_lowercase());
            assert!(name.split('-').all(sound), "{name}");
        }
    }

    #[test]
    fn every_code_says_why_and_what_to_do() {
        for code in codes() {
            for text in [code.why, code.fix] {
                assert!(
                    text.trim_start_matches('"').starts_with(char::is_uppercase) && text.ends_with('.'),
                    "{}: {text}",
                    code.name
                );
            }
            assert_ne!(code.why, code.fix);
        }
    }

    #[test]
    fn the_rules_are_listed_by_name() {
        let names: Vec<&str> = RULES.iter().map(|rule| rule.code.name).collect();
        assert!(names.is_sorted(), "{names:?}");
        assert!(names.len() >= 40);
    }

    #[test]
    fn a_record_that_cannot_be_read_is_not_judged() {
        assert_eq!(check("part = [").lines().count(), 1);
    }

    const LINES: &[&str] = &[
        "made = \"1920-22\"",
        "made = \"../1850~\"",
        "cover = \"\\u0301/é.jpg\"",
        "hours = 3",
        "asking = 10.00",
        "[[part]]\nid = \"a\"\nname = \"A\"\nstanding = \"new\"\ntimber = \"Öak\"\nsince = \"1700/..\"",
        "[[part]]\nid = \"a\"\nname = \"A\"\nstanding = \"original\"\nbuild = \"solid\"\nfrom-stock = \"x\"",
        "[[part]]\nid = \"b\"\nname = \"B\"\nstanding = \"missing\"",
        "[[finding]]\nid = \"f\"\npart = [\"a\", \"z\"]\nseen = \"splitt\"\nseverity = \"major\"",
        "[[decision]]\nask = \"?\"\nchose = \"é\"\noptions = [{ plan = \"e\" }]",
        "[[work]]\nid = \"w\"\non = 2027-01-01\ndid = \"x\"\nredoes = \"w\"\nturned-out = \"failed\"\nhours = 1",
        "[[work]]\ndid = \"y\"\nundoable = \"yes\"\nmends = \"f\"",
        "[[fixing]]\npart = \"a\"\nkind = \"epoxy\"\nstanding = \"new\"",
        "[[surface]]\nparts = \"a\"\nfound = \"old-finish\"\nsteps = [{ abrade = \"P80\" }, { on = 2026-01-01, remove = \"tin:x\" }]",
        "[[surface]]\nsteps = [{ on = 2026-02-01, apply = \"é\", clean = \"x\" }, { on = 2025-01-01, test = \"lead\" }, {}]",
        "[[undone]]\nwhat = \"x\"\nwhy = \"unsafe\"\nleaves = \"f\"",
        "[[open]]\nwhat = \"x\"",
        "[[photo]]\nfile = \"ß:\"\nmarks = [{ at = [0.5, 0.5] }]",
        "[[pair]]\nbefore = \"a.jpg\"\nafter = \"a.jpg\"\nlandmarks = [[0, 0, 1, 1]]",
        "[[swatch]]\nphoto = \"a.jpg\"\ntarget = [0, 0, 1, 1]\nresult = [0, 0, 1, 1]\nsurface = 9",
        "[use]\nshelves = [{ part = \"b\" }]",
        "[use]\nshelves = [{ part = \"a\", load = 0.001, span = 20000 }, { part = \"c\", ends = \"fixed\" }]",
        "[[part]]\nid = \"a\"\nname = \"A\"\nstanding = \"new\"\nbuild = \"panel\"\nground = \"mdf\"\nsize = { length = 20000, width = 1e-9, thick = 0.0001 }\nlipping = { timber = \"oak\", depth = 1, thick = 1 }",
        "[[part]]\nid = \"c\"\nname = \"C\"\nstanding = \"new\"\nbuild = \"solid\"\ntimber = \"oak\"\ngrain = \"width\"\ncount = 100000\nsize = { length = 20000, width = 20000, thick = 20000, wall = 19000, diameter = 1e-300 }\nopens = { as = \"drawer\", by = 20000 }",
        "weighs = 1e-300",
        "size = { width = 1e-300, depth = 20000, height = 1e-300 }",
        "[handover]\non = 2020-02-30",
        "[handover]\non = 2020-02-29\nprice = 1",
        "[found]\non = 2026-02-28",
        "part = 3",
        "é = \"",
    ];

    /// Reads, derives, inspects, proposes additions and prints it all; none of it may panic.
    fn survives(record: &str) {
        check(record);
        bench(record).additions();
    }

    proptest! {
        #[test]
        fn any_text_is_inspected(record in any::<String>()) {
            survives(&record);
        }

        #[test]
        fn lines_of_records_in_any_order_are_inspected(
            lines in prop::collection::vec(prop::sample::select(LINES), 0..12)
        ) {
            survives(&lines.join("\n"));
        }

        #[test]
        fn any_story_is_inspected(story in any::<String>()) {
            survives(&format!("#- story.md\n{story}"));
        }
    }
}
