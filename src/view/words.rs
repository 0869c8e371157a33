//! Plain British English for what the record says in words of its own, and for quantities.
//!
//! Rounding happens here and nowhere else.

use chrono::{Datelike, NaiveDate};
use rust_decimal::{Decimal, RoundingStrategy};

use crate::fields::{Range, Text};
use crate::record::{
    Build, Confidence, Held, Level, NOT_TESTED, Outcome, Severity, Size, Stage, Standing, UNKNOWN, Undoable,
    Units, Why, Workshop,
};
use crate::trade::{Era, Layer, OwnerRepair};
use crate::unit::{Area, Hours, Length, Mass, MassSpan, Money, edtf};

/// A pound, in kilograms.
const POUND: f64 = 0.453_592_37;

/// How a workshop prints quantities.
#[derive(Debug, Clone)]
pub(super) struct House {
    inches: bool,
    currency: String,
}

impl House {
    /// The habits of a workshop; millimetres and no currency where it says nothing.
    pub(super) fn of(workshop: &Workshop) -> House {
        House {
            inches: workshop.units.as_ref().is_some_and(|units| units.value == Units::MillimetresAndInches),
            currency: workshop.currency.as_ref().map_or(String::new(), |currency| currency.to_string()),
        }
    }

    /// Millimetres and this currency, for tests.
    #[cfg(test)]
    pub(super) fn with_currency(currency: &str) -> House {
        House { inches: false, currency: currency.to_owned() }
    }

    /// Several lengths of one thing: `910 × 1200 × 735 mm`, with inches where the workshop wants them.
    pub(super) fn lengths(&self, lengths: &[Length]) -> String {
        let mm: Vec<String> = lengths.iter().map(|length| trimmed(length.mm(), 1)).collect();
        let metric = format!("{} mm", mm.join(" × "));
        if !self.inches {
            return metric;
        }
        let inches: Vec<String> = lengths.iter().map(|length| trimmed(length.inches(), 1)).collect();
        format!("{metric} ({} in)", inches.join(" × "))
    }

    /// An area outlined by eye, to two figures: `about 77 cm²`.
    pub(super) fn about_cm2(&self, area: Area) -> String {
        let rounded = |area: f64| {
            let step = libm::pow(10.0, libm::floor(libm::log10(area.max(0.01))) - 1.0);
            trimmed((area / step).round() * step, 3)
        };
        let cm2 = area.m2() * 1e4;
        match self.inches {
            true => format!("about {} cm² ({} in²)", rounded(cm2), rounded(cm2 / (2.54 * 2.54))),
            false => format!("about {} cm²", rounded(cm2)),
        }
    }

    /// Outer dimensions, said which is which.
    pub(super) fn size(&self, size: &Size) -> String {
        format!(
            "{} (width × depth × height)",
            self.lengths(&[size.width.value, size.depth.value, size.height.value])
        )
    }

    /// An amount with two decimals and its currency; half a penny is rounded away from zero.
    pub(super) fn money(&self, money: Money) -> String {
        let rounded = money.0.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero);
        let sign = if rounded.is_sign_negative() && !rounded.is_zero() { "−" } else { "" };
        let amount = format!("{:.2}", rounded.abs());
        match self.currency.as_str() {
            "GBP" => format!("{sign}£{amount}"),
            "EUR" => format!("{sign}€{amount}"),
            "" => format!("{sign}{amount}"),
            code => format!("{sign}{code} {amount}"),
        }
    }

    /// A mass that is not known exactly: `24 to 31 kg`, its ends rounded away from each other.
    pub(super) fn mass(&self, mass: MassSpan) -> String {
        let (low, high) = (mass.low.kg(), mass.high.kg());
        let step = if high < 10.0 { 0.5 } else { 1.0 };
        // A weighing is printed as it was written down.
        if low == high {
            return format!("{} kg{}", trimmed(low, 1), self.pounds(low, high));
        }
        let (low, high) = ((low / step).floor() * step, (high / step).ceil() * step);
        match low > 0.0 {
            true => format!("{} to {} kg{}", trimmed(low, 1), trimmed(high, 1), self.pounds(low, high)),
            false => format!("under {} kg{}", trimmed(high, 1), self.pounds(high, high)),
        }
    }

    /// Pounds in brackets (0.45359237 kg exactly: international yard and pound agreement, 1959), where wanted.
    fn pounds(&self, low: f64, high: f64) -> String {
        let (low, high) = ((low / POUND).floor(), (high / POUND).ceil());
        match self.inches {
            false => String::new(),
            true if high - low <= 1.0 => format!(" ({high:.0} lb)"),
            true => format!(" ({low:.0} to {high:.0} lb)"),
        }
    }

    /// A load that may be put on something, rounded down to a step that nobody takes for a measurement; `None` where
    /// less than a kilogram is left.
    pub(super) fn load(&self, load: Mass) -> Option<String> {
        let kg = load.kg();
        let step = match kg {
            kg if kg < 20.0 => 1.0,
            kg if kg < 100.0 => 5.0,
            _ => 10.0,
        };
        // What was said as 20 kg must not come out as 19 for a rounding of the last binary digit.
        let rounded = ((kg / step + 1e-9).floor()) * step;
        let pounds =
            if self.inches { format!(" ({:.0} lb)", (rounded / POUND).floor()) } else { String::new() };
        (rounded >= 1.0).then(|| format!("{rounded:.0} kg{pounds}"))
    }

    /// Millimetres to a tenth: `6.6 mm`, or `4.1 to 8 mm` where both ends differ.
    pub(super) fn small(&self, least: f64, most: f64) -> String {
        let span = |least: f64, most: f64, decimals: usize| match (
            trimmed(least, decimals),
            trimmed(most, decimals),
        ) {
            (least, most) if least == most => most,
            (least, most) => format!("{least} to {most}"),
        };
        match self.inches {
            false => format!("{} mm", span(least, most, 1)),
            true => format!("{} mm ({} in)", span(least, most, 1), span(least / 25.4, most / 25.4, 2)),
        }
    }
}

/// A number with at most so many decimals and no trailing zeros.
pub(super) fn trimmed(number: f64, decimals: usize) -> String {
    let text = format!("{number:.decimals$}");
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

/// Hours of work: `1 hour`, `3.5 hours`.
pub(super) fn hours(hours: Hours) -> String {
    let count = hours.count().normalize();
    if count == Decimal::ONE { "1 hour".to_owned() } else { format!("{count} hours") }
}

/// A day: `14 March 2026`.
pub(super) fn day(date: NaiveDate) -> String {
    format!("{} {}", date.day(), month(date))
}

/// A day's month: `March 2026`.
pub(super) fn month(date: NaiveDate) -> String {
    let month = edtf::MONTHS[date.month0() as usize];
    format!("{month} {}", date.year())
}

/// A day without its year: `14 March`.
pub(super) fn day_of_year(date: NaiveDate) -> String {
    day(date).rsplit_once(' ').map_or_else(String::new, |(day, _)| day.to_owned())
}

/// From one day to another, no more said twice than needed: `22 to 23 March 2026`.
pub(super) fn days(first: NaiveDate, last: NaiveDate) -> String {
    match (first.year() == last.year(), first.month() == last.month()) {
        _ if first == last => day(first),
        (true, true) => format!("{} to {}", first.day(), day(last)),
        (true, false) => format!("{} to {}", day_of_year(first), day(last)),
        (false, _) => format!("{} to {}", day(first), day(last)),
    }
}

/// Words joined as a sentence joins them: `a`, `a and b`, `a, b and c`.
pub(super) fn list<S: AsRef<str>>(words: &[S]) -> String {
    match words {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [start @ .., last] => {
            let start: Vec<&str> = start.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", start.join(", "), last.as_ref())
        }
    }
}

/// A count with its noun: `1 coat`, `3 coats`.
pub(super) fn count(number: u32, one: &str, several: &str) -> String {
    if number == 1 { format!("1 {one}") } else { format!("{number} {several}") }
}

/// A span of a unit of time: `12 to 24 months`.
pub(super) fn span(range: &Range, one: &str, several: &str) -> String {
    let (low, high) = (trimmed(range.low, 2), trimmed(range.high, 2));
    match low == high {
        true if low == "1" => format!("1 {one}"),
        true => format!("{low} {several}"),
        false => format!("{low} to {high} {several}"),
    }
}

/// The same text with a capital at its start.
pub(super) fn capital(text: &str) -> String {
    let mut characters = text.chars();
    match characters.next() {
        Some(first) => first.to_uppercase().chain(characters).collect(),
        None => String::new(),
    }
}

/// The text as a sentence: a capital at its start and a full stop at its end.
pub(super) fn sentence(text: &str) -> String {
    let text = capital(text.trim());
    if text.ends_with(['.', '!', '?', '…']) || text.is_empty() { text } else { format!("{text}.") }
}

/// Free text in which the two reserved words are printed plainly.
pub(super) fn said(text: &Text) -> String {
    match &**text {
        UNKNOWN => "not known".to_owned(),
        NOT_TESTED => "not tested".to_owned(),
        other => other.to_owned(),
    }
}

pub(super) fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Original => "original",
        Standing::OldRepair => "old repair",
        Standing::Later => "later",
        Standing::Salvaged => "salvaged",
        Standing::New => "new",
        Standing::Removed => "removed",
        Standing::Missing => "missing",
        Standing::Unknown => "not known",
    }
}

pub(super) fn standing_meaning(standing: Standing) -> &'static str {
    match standing {
        Standing::Original => "as first made, as far as is known",
        Standing::OldRepair => "repaired or replaced long ago, date not known",
        Standing::Later => "added or changed after making, before this workshop",
        Standing::Salvaged => "an old part from elsewhere, fitted by this workshop",
        Standing::New => "made or bought new by this workshop",
        Standing::Removed => "taken away by this workshop",
        Standing::Missing => "absent when found, and not replaced",
        Standing::Unknown => "it cannot be told",
    }
}

pub(super) fn level(level: Level) -> (&'static str, &'static str) {
    match level {
        Level::Stabilise => ("Stabilised", "present damage was stopped, and nothing more was done"),
        Level::Restore => ("Restored", "it was brought back to a known earlier look or use"),
        Level::Repair => ("Repaired", "it was made sound and usable; looks came second"),
        Level::Refurbish => {
            ("Refurbished", "it was made good for use today, with modern parts where that is practical")
        }
        Level::Refinish => ("Refinished", "the surface coating was removed and renewed"),
        Level::Adapt => ("Adapted", "it was changed for another use"),
        Level::Unknown => ("Worked on", "how far the work went is not known"),
    }
}

pub(super) fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Trace => "a trace",
        Severity::Minor => "minor",
        Severity::Moderate => "moderate",
        Severity::Major => "major",
        Severity::Unknown => "how serious is not known",
    }
}

pub(super) fn confidence(confidence: Confidence) -> &'static str {
    match confidence {
        Confidence::Low => "a guess",
        Confidence::Fair => "more likely than not",
        Confidence::High => "hardly in doubt",
        Confidence::Unknown => "how sure is not known",
    }
}

pub(super) fn undoable(undoable: Undoable) -> &'static str {
    match undoable {
        Undoable::Yes => "can be undone",
        Undoable::Partly => "can be undone in part",
        Undoable::No => "cannot be undone",
        Undoable::Unknown => "whether it can be undone is not known",
    }
}

pub(super) fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Well => "turned out as intended",
        Outcome::Partly => "turned out only in part",
        Outcome::Failed => "failed",
        Outcome::Unknown => "how it turned out is not known",
    }
}

pub(super) fn why_undone(why: Why) -> &'static str {
    match why {
        Why::NotNeeded => "it is sound and safe as it is",
        Why::WouldCostOriginal => "mending it would have cost original material",
        Why::NoPart => "no fitting part could be found",
        Why::NoSkill => "it is beyond this workshop's skill or tools",
        Why::NotWorth => "it would have cost more than it gives",
        Why::Unsafe => "opening it up would have done harm",
        Why::TooWorn => "nothing sound is left to fix to",
        Why::Unknown => "the reason was not recorded",
    }
}

pub(super) fn build(build: Build) -> &'static str {
    match build {
        Build::Solid => "solid",
        Build::Veneered => "veneered",
        Build::Panel => "panel",
        Build::Turned => "turned",
        Build::Bent => "bent",
        Build::Metal => "metal",
        Build::Glass => "glass",
        Build::Stone => "stone",
        Build::Textile => "textile",
        Build::Leather => "leather",
        Build::Unknown => "build not known",
    }
}

pub(super) fn held(held: Held) -> &'static str {
    match held {
        Held::Free => "free to swell and shrink",
        Held::FixedAcross => "held fast across the grain",
        Held::Unknown => "how it is held is not known",
    }
}

pub(super) fn stage(stage: Option<Stage>) -> &'static str {
    match stage {
        Some(Stage::Before) => "Before",
        Some(Stage::During) => "At work",
        Some(Stage::Hidden) => "Now hidden",
        Some(Stage::After) => "After",
        Some(Stage::Handover) => "At handover",
        None => "Undated",
    }
}

pub(super) fn era(era: Era) -> &'static str {
    match era {
        Era::Traditional => "traditional",
        Era::Modern => "modern",
        Era::Either => "old or modern",
    }
}

pub(super) fn layer(layer: Option<Layer>) -> &'static str {
    match layer {
        Some(Layer::InWood) => "in the wood",
        Some(Layer::ThinFilm) => "a thin film",
        Some(Layer::Film) => "a film",
        Some(Layer::Colour) => "colour",
        Some(Layer::Preparation) => "preparation",
        Some(Layer::Surface) => "the bare material",
        None => "where it lies is not known",
    }
}

pub(super) fn owner_repair(repair: OwnerRepair) -> &'static str {
    match repair {
        OwnerRepair::Yes => "You can mend small faults yourself.",
        OwnerRepair::Partly => "You can mend the smallest faults yourself; leave the rest to a finisher.",
        OwnerRepair::No => "Leave repairs to a finisher.",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_read_as_a_sentence_does() {
        assert_eq!(list(&["top"]), "top");
        assert_eq!(list(&["top", "leaf"]), "top and leaf");
        assert_eq!(list(&["top", "leaf", "gate"]), "top, leaf and gate");
    }

    #[test]
    fn lengths_print_in_inches_only_where_wanted() {
        let metric = House { inches: false, currency: String::new() };
        let both = House { inches: true, currency: String::new() };
        let lengths: Vec<Length> = [910.0, 12.7].into_iter().filter_map(Length::from_mm).collect();
        assert_eq!(metric.lengths(&lengths), "910 × 12.7 mm");
        assert_eq!(both.lengths(&lengths), "910 × 12.7 mm (35.8 × 0.5 in)");
    }

    #[test]
    fn areas_have_two_figures() {
        let house = |inches| House { inches, currency: String::new() };
        let about = |cm2: f64| house(false).about_cm2(Area::from_m2(cm2 / 1e4).expect("an area"));
        assert_eq!(
            [0.4444, 7.66, 76.6, 766.4, 12_345.0].map(about),
            ["about 0.44 cm²", "about 7.7 cm²", "about 77 cm²", "about 770 cm²", "about 12000 cm²"]
        );
        assert_eq!(house(true).about_cm2(Area::from_m2(0.00645).expect("an area")), "about 65 cm² (10 in²)");
    }

    #[test]
    fn days_say_no_more_twice_than_needed() {
        let date = |text: &str| text.parse::<NaiveDate>().unwrap();
        let days = |first: &str, last: &str| days(date(first), date(last));
        assert_eq!(days("2026-03-22", "2026-03-22"), "22 March 2026");
        assert_eq!(days("2026-03-22", "2026-03-23"), "22 to 23 March 2026");
        assert_eq!(days("2026-03-28", "2026-04-02"), "28 March to 2 April 2026");
        assert_eq!(days("2025-12-28", "2026-12-28"), "28 December 2025 to 28 December 2026");
        assert_eq!(day_of_year(date("2026-03-22")), "22 March");
    }

    #[test]
    fn masses_are_rounded_outwards_and_loads_down() {
        let house = |inches| House { inches, currency: String::new() };
        let kg = |kg: f64| Mass::from_kg(kg).expect("a mass");
        let span = |low: f64, high: f64| MassSpan::between(kg(low), kg(high));
        assert_eq!(house(false).mass(span(24.9, 30.1)), "24 to 31 kg");
        assert_eq!(house(true).mass(span(24.9, 30.1)), "24 to 31 kg (52 to 69 lb)");
        assert_eq!(house(false).mass(span(2.6, 3.1)), "2.5 to 3.5 kg");
        assert_eq!(house(false).mass(span(20.5, 20.5)), "20.5 kg");
        assert_eq!(house(true).mass(span(0.2, 0.3)), "under 0.5 kg (2 lb)");
        let load = |load: f64| house(false).load(kg(load));
        assert_eq!(load(0.99), None);
        assert_eq!(
            [19.99, 24.9, 99.9, 119.0].map(|kg| load(kg).expect("a load")),
            ["19 kg", "20 kg", "95 kg", "110 kg"]
        );
        assert_eq!(house(true).load(kg(24.9)).as_deref(), Some("20 kg (44 lb)"));
        assert_eq!(house(false).small(4.06, 8.04), "4.1 to 8 mm");
        assert_eq!(house(true).small(6.6, 6.6), "6.6 mm (0.26 in)");
    }

    #[test]
    fn money_always_has_two_decimals() {
        let house = House { inches: false, currency: "GBP".to_owned() };
        assert_eq!(house.money(Money(Decimal::new(24, 1))), "£2.40");
        assert_eq!(house.money(Money(Decimal::new(2225, 3))), "£2.23");
        assert_eq!(house.money(Money(Decimal::new(-2225, 3))), "−£2.23");
        assert_eq!(house.money(Money(Decimal::new(-1, 3))), "£0.00");
    }

    #[test]
    fn a_sentence_ends_once() {
        assert_eq!(sentence("open the gate"), "Open the gate.");
        assert_eq!(sentence("Really?"), "Really?");
    }
}
