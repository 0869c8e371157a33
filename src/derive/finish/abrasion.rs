//! Abrasives by the size of their grain, and whether each grade could take out the scratches of the one before.

use crate::fields::{Said, Text};
use crate::record::{Act, PartId, Step, Surface, UNKNOWN};
use crate::trade::{AbrasiveTable, GritScale, GritWord, Trade};

/// What a grade is, as a record writes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GrainSize {
    /// GrainSize of a size in micrometres; a span where the scale is not said.
    Sized {
        /// The smallest it may be.
        fine: f64,
        /// The largest.
        coarse: f64,
    },
    /// An abrasive whose grain cannot be compared, such as a pad or steel wool.
    WithoutSize,
    /// Declared as not known.
    NotKnown,
    /// No grade of either scale and no other abrasive that is known.
    NoGrade,
}

/// Reads a grade as a record writes it.
///
/// `P120` is a FEPA P grade; `CAMI 120` or `ANSI 120` one of the CAMI scale; of a bare `120` it is not said which
/// of the two it is, so that both sizes count. The scales agree to about 220 and then part: a bare 400 may be
/// 23 or 35 µm.
///
/// # Source
/// FEPA P grain sizes (ISO 6344) and CAMI grit sizes (ANSI B74.18), as read in comparison tables.
pub fn grain(written: &str, table: &AbrasiveTable) -> GrainSize {
    let written = written.to_lowercase();
    if written == UNKNOWN {
        return GrainSize::NotKnown;
    }
    let words: Vec<&str> =
        written.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let wool = |word: &&str| word.chars().all(|c| c == '0');
    if words.iter().any(|word| table.says(GritWord::WithoutSize, word) || wool(word)) {
        return GrainSize::WithoutSize;
    }
    let of = |scale: GritScale, grade: Option<u32>| grade.and_then(|grade| table.size(scale, grade));
    let (fepa, cami) = match grade(&words, table) {
        (Some(GritScale::FepaP), grade) => (of(GritScale::FepaP, grade), None),
        (Some(GritScale::Cami), grade) => (None, of(GritScale::Cami, grade)),
        (None, grade) => (of(GritScale::FepaP, grade), of(GritScale::Cami, grade)),
    };
    let sizes = || [fepa, cami].into_iter().flatten();
    match sizes().reduce(f64::min).zip(sizes().reduce(f64::max)) {
        Some((fine, coarse)) => GrainSize::Sized { fine, coarse },
        None => GrainSize::NoGrade,
    }
}

/// The scale that the words name and their one number.
fn grade(words: &[&str], table: &AbrasiveTable) -> (Option<GritScale>, Option<u32>) {
    let (mut scale, mut grade) = (None, None);
    for word in words {
        match (*word, word.strip_prefix('p').and_then(|number| number.parse().ok()), word.parse().ok()) {
            ("p" | "fepa", _, _) => scale = Some(GritScale::FepaP),
            ("cami" | "ansi", _, _) => scale = Some(GritScale::Cami),
            (_, Some(number), _) if grade.is_none() => {
                (scale, grade) = (Some(GritScale::FepaP), Some(number))
            }
            (_, _, Some(number)) if grade.is_none() => grade = Some(number),
            (word, None, None) if table.says(GritWord::BesideNumber, word) => {}
            // Two numbers, or a word that may change what the number means.
            _ => return (scale, None),
        }
    }
    (scale, grade)
}

/// The P grades on both sides of a number that is none, as printed.
pub fn nearest(written: &str, table: &AbrasiveTable) -> Vec<String> {
    let number: String = written.chars().filter(char::is_ascii_digit).take(6).collect();
    let Ok(number) = number.parse::<u32>() else { return Vec::new() };
    let mut grades: Vec<u32> = table
        .grades
        .iter()
        .filter(|row| row.scale.value == GritScale::FepaP)
        .map(|row| row.grade.0)
        .collect();
    grades.sort_unstable();
    let below = grades.iter().copied().rfind(|grade| *grade < number);
    let above = grades.iter().copied().find(|grade| *grade > number);
    [below, above].into_iter().flatten().map(|grade| format!("P{grade}")).collect()
}

/// How a grade follows the one before it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stride {
    /// Near enough, or not to be compared.
    Steady,
    /// So many times finer that scratches may be left.
    Wide(f64),
    /// So many times finer that scratches are likely left.
    Jump(f64),
    /// Coarser than the one before.
    Back,
}

/// Compares a grade with the next; both as sizes that are spans where the scale is not said.
///
/// The ratio is that of the sizes of grain, the coarse over the fine; where the scale is not said, the smallest
/// that it can be, so that nothing is said which may not be so.
///
/// # Source
/// Our own choice: up to 1.70 times passes, up to 2.05 times is wide, above that it is a jump.
pub fn stride(before: GrainSize, after: GrainSize, table: &AbrasiveTable) -> Stride {
    let (GrainSize::Sized { fine, coarse }, GrainSize::Sized { fine: next_fine, coarse: next_coarse }) =
        (before, after)
    else {
        return Stride::Steady;
    };
    let least = fine / next_coarse;
    match least {
        _ if next_fine > coarse => Stride::Back,
        _ if least <= table.threshold("pass") => Stride::Steady,
        _ if least <= table.threshold("warn") => Stride::Wide(least),
        _ => Stride::Jump(least),
    }
}

/// A grade of a surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Graded {
    /// The grade as it was written, in a step's `abrade` or `abrade-between`.
    pub written: Said<Text>,
    /// What it is.
    pub grain: GrainSize,
    /// The sized grade of the same run that it follows.
    pub after: Option<Said<Text>>,
    /// How it follows it; steady where it follows none.
    pub stride: Stride,
    /// Whether it is used between coats and coarser than suits most finishes.
    pub harsh: bool,
}

/// Grades of a surface, in the order of its steps.
///
/// A run goes on through abrading steps that follow each other on the same parts; anything else between, a
/// washing that raises the grain above all, begins a new one. A pad or wool in a run is passed over.
pub(in crate::derive) fn abrasion(surface: &Surface, trade: &Trade) -> Vec<Graded> {
    let table = &trade.abrasives;
    let mut graded = Vec::new();
    let mut last: Option<(&Said<Text>, GrainSize, &Step)> = None;
    for step in &surface.steps {
        let step: &Step = step;
        if let Some(between) = &step.abrade_between {
            let grain = grain(between, table);
            graded.push(Graded {
                written: between.clone(),
                grain,
                after: None,
                stride: Stride::Steady,
                harsh: is_harsh(grain, table),
            });
        }
        let Some(Act::Abrade(grades)) = step.act() else {
            last = None;
            continue;
        };
        last = last.filter(|(_, _, before)| on_the_same(before, step));
        for written in grades {
            let grain = grain(written, table);
            graded.push(Graded {
                written: written.clone(),
                grain,
                after: last.map(|(before, ..)| before.clone()),
                stride: last.map_or(Stride::Steady, |(_, before, _)| stride(before, grain, table)),
                harsh: false,
            });
            if matches!(grain, GrainSize::Sized { .. }) {
                last = Some((written, grain, step));
            }
        }
    }
    graded
}

fn on_the_same(one: &Step, other: &Step) -> bool {
    let parts = |step: &Step| step.only.iter().map(|part| part.value.clone()).collect::<Vec<PartId>>();
    parts(one) == parts(other)
}

/// Whether a grade between coats is coarser than 220 on either scale.
///
/// # Source
/// common practice, no source: 220 to 320 suits most finishes.
fn is_harsh(grain: GrainSize, table: &AbrasiveTable) -> bool {
    let limit = [GritScale::FepaP, GritScale::Cami]
        .into_iter()
        .filter_map(|scale| table.size(scale, 220))
        .reduce(f64::max);
    matches!((grain, limit), (GrainSize::Sized { fine, .. }, Some(limit)) if fine > limit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::folder;
    use proptest::prelude::*;

    fn table() -> &'static AbrasiveTable {
        &Trade::built_in().abrasives
    }

    #[track_caller]
    fn case(written: &str, wanted: GrainSize) {
        assert_eq!(grain(written, table()), wanted, "{written}");
    }

    fn sized(fine: f64, coarse: f64) -> GrainSize {
        GrainSize::Sized { fine, coarse }
    }

    // Sizes of FEPA P (ISO 6344) and CAMI (ANSI B74.18) as in abrasive.toml.
    #[test]
    fn the_scale_is_told_by_how_it_is_written() {
        for written in ["P120", "p120", "P 120", "P-120", "P120 paper", "FEPA 120", "P120 by hand"] {
            case(written, sized(125.0, 125.0));
        }
        for written in ["CAMI 120", "ansi 120", "120 grit CAMI"] {
            case(written, sized(115.0, 115.0));
        }
        for written in ["120", "120 grit", "#120", "120-grit"] {
            case(written, sized(115.0, 125.0));
        }
        case("400", sized(23.0, 35.0));
        case("P400", sized(35.0, 35.0));
    }

    #[test]
    fn some_abrasives_have_no_size_and_some_words_are_none() {
        for written in ["grey pad", "0000 steel wool", "0000", "pumice and oil", "card scraper"] {
            case(written, GrainSize::WithoutSize);
        }
        for written in ["P130", "fine", "P120/P180", "120 180", "F120", "P", ""] {
            case(written, GrainSize::NoGrade);
        }
        case("unknown", GrainSize::NotKnown);
    }

    #[track_caller]
    fn step(before: &str, after: &str, wanted: &str) {
        let stride = stride(grain(before, table()), grain(after, table()), table());
        let told = match stride {
            Stride::Steady => "steady".to_owned(),
            Stride::Wide(ratio) => format!("wide {ratio:.2}"),
            Stride::Jump(ratio) => format!("jump {ratio:.2}"),
            Stride::Back => "back".to_owned(),
        };
        assert_eq!(told, wanted, "{before} to {after}");
    }

    // Ratios computed by hand from the rows; the head of abrasive.toml prints the same.
    #[test]
    fn grades_are_compared_by_their_grain() {
        step("P80", "P120", "steady");
        step("P60", "P100", "steady");
        step("P120", "P180", "steady");
        step("P180", "P240", "steady");
        step("P80", "P150", "wide 2.01");
        step("P40", "P80", "jump 2.11");
        step("P120", "P240", "jump 2.14");
        step("P80", "P180", "jump 2.45");
        step("P240", "P120", "back");
        step("P120", "P120", "steady");
        step("P240", "CAMI 320", "steady");
        step("P240", "grey pad", "steady");
    }

    #[test]
    fn a_bare_number_is_given_the_benefit_of_the_doubt() {
        // 58.5 or 53 µm to 35 or 23 µm: between 1.51 and 2.54.
        step("240", "400", "steady");
        // As P grades and as CAMI grades the same, and the other way they could not be told apart.
        step("P240", "CAMI 240", "steady");
        step("P400", "400", "steady");
        step("CAMI 240", "240", "steady");
    }

    #[test]
    fn the_grades_beside_a_wrong_one_are_proposed() {
        assert_eq!(nearest("P130", table()), ["P120", "P150"]);
        assert_eq!(nearest("P9000", table()), ["P2500"]);
        assert_eq!(nearest("fine", table()), [""; 0]);
    }

    /// The strides that are not steady, by their grade.
    fn strides(steps: &str) -> String {
        let folder = folder(&format!("[[surface]]\nparts = \"a\"\nsteps = [{steps}]"), "");
        let graded = abrasion(&folder.pieces[0].record.as_ref().unwrap().surfaces[0], Trade::built_in());
        let told = graded.iter().filter(|one| one.stride != Stride::Steady || one.harsh);
        told.map(|one| format!("{} {:?} {}", one.written.value, one.stride, one.harsh))
            .collect::<Vec<_>>()
            .join("; ")
    }

    #[test]
    fn a_run_goes_on_until_something_else_is_done() {
        assert_eq!(strides("{ abrade = [\"P180\", \"P120\"] }"), "P120 Back false");
        assert_eq!(strides("{ abrade = \"P180\" }, { abrade = \"P120\" }"), "P120 Back false");
        assert_eq!(strides("{ abrade = [\"P180\", \"grey pad\", \"P120\"] }"), "P120 Back false");
        assert_eq!(
            strides(
                "{ abrade = \"P180\" }, { clean = \"water, to raise the grain\" }, { abrade = \"P120\" }"
            ),
            ""
        );
        assert_eq!(strides("{ abrade = \"P180\" }, { abrade = \"P120\", only = \"a\" }"), "");
        assert_eq!(strides("{ abrade = \"P180\" }, { apply = \"shellac\" }, { abrade = \"P120\" }"), "");
    }

    #[test]
    fn between_coats_220_is_coarse_enough() {
        assert_eq!(strides("{ apply = \"shellac\", coats = 2, abrade-between = \"P220\" }"), "");
        assert_eq!(strides("{ apply = \"shellac\", coats = 2, abrade-between = \"grey pad\" }"), "");
        assert_eq!(
            strides("{ apply = \"shellac\", coats = 2, abrade-between = \"P180\" }"),
            "P180 Steady true"
        );
    }

    fn grades() -> Vec<u32> {
        let mut grades: Vec<u32> = table()
            .grades
            .iter()
            .filter(|row| row.scale.value == GritScale::FepaP)
            .map(|row| row.grade.0)
            .collect();
        grades.sort_unstable();
        grades
    }

    proptest! {
        #[test]
        fn a_longer_stride_is_never_milder(mut places in prop::collection::vec(0_usize..grades().len(), 3)) {
            places.sort_unstable();
            let of = |place: usize| grain(&format!("P{}", grades()[place]), table());
            let weight = |stride: Stride| match stride {
                Stride::Steady => 0,
                Stride::Wide(_) => 1,
                Stride::Jump(_) => 2,
                Stride::Back => 3,
            };
            let near = weight(stride(of(places[0]), of(places[1]), table()));
            let far = weight(stride(of(places[0]), of(places[2]), table()));
            prop_assert!(near <= far && far <= 2);
        }

        #[test]
        fn one_way_is_never_both_a_jump_and_back(one in 0_usize..grades().len(), other in 0_usize..grades().len()) {
            let of = |place: usize| grain(&format!("P{}", grades()[place]), table());
            let back = stride(of(one), of(other), table()) == Stride::Back;
            prop_assert_eq!(back, grades()[other] < grades()[one]);
        }

        #[test]
        fn any_text_is_read(written in any::<String>()) {
            if let GrainSize::Sized { fine, coarse } = grain(&written, table()) {
                prop_assert!(0.0 < fine && fine <= coarse && coarse.is_finite());
            }
            prop_assert!(nearest(&written, table()).len() <= 2);
        }
    }
}
