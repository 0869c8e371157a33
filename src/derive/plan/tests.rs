//! Plans worked out by hand, from the rules that the stages name: common practice, no source.

use super::*;
use crate::derive::testing::folder;
use crate::trade::Trade;

/// The plan of a record, in words; its circles stand behind a bar.
fn planned(record: &str) -> String {
    let (plan, _) = plan(record, "");
    let circles: Vec<String> = plan.circles.iter().map(|circle| told(circle)).collect();
    let order = told(&plan.tasks);
    if circles.is_empty() { order } else { format!("{order} | {}", circles.join(" | ")) }
}

fn plan(record: &str, workshop: &str) -> (Plan, Folder) {
    let folder = folder(record, workshop);
    let piece = &folder.pieces[0];
    let intended = piece.intended.clone().expect("something is planned");
    let facts = crate::derive::facts(&folder, piece, &intended, None, Trade::built_in());
    let plan = Plan::of(&folder, &intended, &facts, Trade::built_in());
    (plan, folder)
}

fn told(tasks: &[Task]) -> String {
    tasks.iter().map(word).collect::<Vec<_>>().join(", ")
}

fn word(task: &Task) -> String {
    match &task.deed {
        Deed::TakeOff(part) => format!("off {}", part.id.value.0),
        Deed::PutBack(part) => format!("back {}", part.id.value.0),
        Deed::Make(part) => format!("make {}", part.id.value.0),
        Deed::Test(TestFor::Lead, _) => "lead?".to_owned(),
        Deed::Test(TestFor::Solubility, _) => "spirit?".to_owned(),
        Deed::Work(work) => work.did.to_string(),
        Deed::Step(_, step) => match (&step.clean, &step.remove, &step.apply) {
            (Some(_), ..) => "clean".to_owned(),
            (_, Some(_), _) => "strip".to_owned(),
            (.., Some(what)) => what.value.to_string(),
            _ => "rub".to_owned(),
        },
    }
}

/// A chest of drawers whose top covers the runners, worked out by hand: the top comes off before the runner is glued,
/// the runner before anything is coated, and the top goes back when its own coats are on.
#[test]
fn a_top_that_covers_a_runner() {
    let record = r#"
part = [
  { id = "top", name = "Top", standing = "original" },
  { id = "runner", name = "Runner", standing = "original", under = "top" },
]
work = [{ part = "runner", did = "glue the runner back", planned = true }]
[[surface]]
name = "Outside"
found = "shellac"
parts = "top"
steps = [{ clean = "white spirit", planned = true }, { apply = "shellac", coats = 2, planned = true }]
"#;
    assert_eq!(planned(record), "off top, clean, glue the runner back, shellac, back top");
}

/// A painted chest, worked out by hand: the lead test before the first rubbing, stripping before any coat, the inside
/// before the outside.
#[test]
fn a_painted_chest() {
    let record = r#"
made = "1900~"
part = [{ id = "carcase", name = "Carcase", standing = "original" }, { id = "till", name = "Till", standing = "original" }]
work = [{ part = "carcase", did = "glue the split", planned = true }]
[[surface]]
name = "Outside"
found = "oil-paint"
parts = "carcase"
steps = [{ abrade = "P120", planned = true }, { apply = "alkyd-eggshell", planned = true }]
[[surface]]
name = "Inside"
found = "bare-wood"
parts = "till"
steps = [{ apply = "shellac", planned = true }]
"#;
    assert_eq!(planned(record), "lead?, glue the split, rub, shellac, alkyd-eggshell");
}

/// A table with an old finish that nobody knows, worked out by hand: spirit before the stripper.
#[test]
fn an_unknown_finish_is_tried_before_it_is_stripped() {
    let record = r#"
made = "1995"
part = [{ id = "top", name = "Top", standing = "original" }]
[[surface]]
found = "unknown"
parts = "top"
steps = [{ remove = "all", planned = true }, { apply = "shellac", planned = true }]
"#;
    assert_eq!(planned(record), "spirit?, strip, shellac");
    let tried = record.replace("steps = [", "steps = [{ test = \"alcohol\", result = \"softens\" }, ");
    assert_eq!(planned(&tried), "strip, shellac");
}

#[test]
fn what_is_off_is_not_taken_off_again() {
    let record = r#"
part = [
  { id = "back", name = "Back board", standing = "original" },
  { id = "shelf", name = "Shelf", standing = "original", behind = "back" },
]
work = [
  { on = 2026-03-01, part = "back", did = "took the back board off" },
  { part = "shelf", did = "glue the shelf", planned = true },
]
"#;
    assert_eq!(planned(record), "glue the shelf, back back");
    let both = record.replace(
        "work = [",
        "work = [{ part = \"back\", did = \"screw back the back board\", planned = true },",
    );
    assert_eq!(planned(&both), "glue the shelf, screw back the back board");
}

#[test]
fn every_circle_is_named() {
    let record = r#"
part = [
  { id = "a", name = "A", standing = "original", under = "b" },
  { id = "b", name = "B", standing = "original", behind = "a" },
]
work = [
  { part = "a", did = "glue it", planned = true },
  { id = "one", follows = "two", did = "cut it", planned = true },
  { id = "two", follows = "one", did = "measure it", planned = true },
  { did = "sweep up", planned = true },
]
"#;
    let told = planned(record);
    assert!(told.starts_with("sweep up | "), "{told}");
    assert!(told.contains("off a, off b") || told.contains("off b, off a"), "{told}");
    assert!(told.contains("cut it, measure it") || told.contains("measure it, cut it"), "{told}");
}

/// Against the recoat hours of the tin, by hand: three coats, six hours apart at the long end, on a day of four hours
/// at the bench, take three days, and what waits for nothing is done meanwhile.
#[test]
fn coats_wait_for_the_tin() {
    let record = r#"
part = [{ id = "top", name = "Top", standing = "original" }, { id = "leg", name = "Leg", standing = "original" }]
work = [{ part = "leg", did = "refit the castors", planned = true, hours = 2 }]
[[surface]]
found = "bare-wood"
parts = "top"
steps = [{ apply = "tin:satin", coats = 3, planned = true }]
"#;
    let workshop = "week = { monday = 4, tuesday = 4, wednesday = 4 }\n[[tin]]\nid = \"satin\"\nis = \"oil-polyurethane\"\nrecoat-hours = [4, 6]";
    let (plan, folder) = plan(record, workshop);
    // 30 November 2026 is a Monday.
    let from = NaiveDate::from_ymd_opt(2026, 11, 30).unwrap();
    let hours: Vec<Option<f64>> =
        plan.tasks.iter().map(|task| if task.work().is_some() { Some(2.0) } else { Some(3.0) }).collect();
    let calendar = plan.calendar(from, (&folder, Trade::built_in()), &hours);
    let told = calendar.sessions.iter().map(|session| {
        let coat = session.coat.map_or(String::new(), |(coat, of)| format!(" {coat}/{of}"));
        format!("{} {}{coat}", session.on.format("%d"), word(&plan.tasks[session.task]))
    });
    assert_eq!(
        told.collect::<Vec<_>>(),
        ["30 tin:satin 1/3", "30 refit the castors", "01 tin:satin 2/3", "02 tin:satin 3/3"]
    );
    assert_eq!(calendar.undated, []);
}

/// A coat on one laid before the plan waits for that one.
#[test]
fn what_was_laid_yesterday_has_to_dry() {
    let record = r#"
part = [{ id = "top", name = "Top", standing = "original" }]
[[surface]]
found = "bare-wood"
parts = "top"
steps = [{ on = 2026-11-29, apply = "tin:oil" }, { apply = "tin:oil", planned = true }]
"#;
    let workshop = "[[tin]]\nid = \"oil\"\nis = \"hardwax-oil\"\nrecoat-hours = [12, 60]";
    let (plan, folder) = plan(record, workshop);
    let from = NaiveDate::from_ymd_opt(2026, 11, 30).unwrap();
    let calendar = plan.calendar(from, (&folder, Trade::built_in()), &[None]);
    // Laid by noon of the 29th, and 60 hours later is midnight of the 1st.
    assert_eq!(calendar.begins(0), NaiveDate::from_ymd_opt(2026, 12, 2));
    let late = plan.done_by(folder.pieces[0].intended.as_ref().unwrap(), &calendar);
    assert_eq!(late.surfaces[0].steps[1].on.as_ref().map(|on| on.value), calendar.begins(0));
}

#[test]
fn no_week_at_the_bench_and_no_times() {
    let record = r#"
part = [{ id = "top", name = "Top", standing = "original" }]
work = [{ part = "top", did = "glue it", planned = true }]
[[surface]]
parts = "top"
steps = [{ apply = "gran's special", coats = 2, planned = true }]
"#;
    let from = NaiveDate::from_ymd_opt(2026, 11, 30).unwrap();
    let undated = |workshop: &str| {
        let (plan, folder) = plan(record, workshop);
        plan.calendar(from, (&folder, Trade::built_in()), &[None, None]).undated
    };
    assert_eq!(undated(""), [(1, Undated::Times)]);
    assert_eq!(undated("week = { monday = 0 }"), [(1, Undated::Times), (0, Undated::TooFar)]);
}
