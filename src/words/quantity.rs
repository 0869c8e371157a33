//! Quantities as a workshop prints them: in millimetres and kilograms, in inches and pounds, or in both, and its currency.
//!
//! Rounding happens here and nowhere else.

use rust_decimal::RoundingStrategy;

use super::Words;
use super::number::trimmed;
use crate::claim::{Message, says};
use crate::record::Units;
use crate::unit::{Area, Length, Mass, MassSpan, Money};

/// A pound, in kilograms (international yard and pound agreement, 1959).
const POUND: f64 = 0.453_592_37;

/// An inch, in millimetres (the same agreement).
const INCH: f64 = 25.4;

/// The parts of an inch that rulers have.
const SIXTEENTHS: f64 = 16.0;

impl Words {
    /// A figure as the units want it: in one unit, or in the one and behind it in the other.
    fn in_units(&self, metric: impl Fn() -> Message, other: impl Fn() -> Message) -> String {
        match self.units() {
            Units::Millimetres => self.say(&metric()),
            Units::Inches => self.say(&other()),
            Units::MillimetresAndInches => {
                self.say(&says!("unit-both", first = self.say(&metric()), second = self.say(&other())))
            }
        }
    }

    /// Several lengths of one thing: `910 × 1200 × 735 mm`.
    pub fn lengths(&self, lengths: &[Length]) -> String {
        let across = |figures: Vec<String>| figures.join(" × ");
        let mm = || across(lengths.iter().map(|length| self.number(length.mm(), 1)).collect());
        let inches = || {
            let alone = self.units() == Units::Inches;
            let figure = |length: &Length| match alone {
                true => self.marked(ruled(length.mm() / INCH)),
                false => self.number(length.mm() / INCH, 1),
            };
            across(lengths.iter().map(figure).collect())
        };
        self.in_units(|| says!("unit-mm", figure = mm()), || says!("unit-in", figure = inches()))
    }

    /// The same in one unit alone, where many stand in a list: in inches where the workshop wants nothing else.
    pub(super) fn listed(&self, lengths: &[Length]) -> String {
        if self.units() == Units::Inches {
            return self.lengths(lengths);
        }
        let mm: Vec<String> = lengths.iter().map(|length| self.number(length.mm(), 1)).collect();
        self.say(&says!("unit-mm", figure = mm.join(" × ")))
    }

    /// An area outlined by eye, to two figures: `about 77 cm²`.
    pub fn area(&self, area: Area) -> String {
        let rounded = |area: f64| {
            let step = libm::pow(10.0, libm::floor(libm::log10(area.max(0.01))) - 1.0);
            self.number((area / step).round() * step, 3)
        };
        let cm2 = area.m2() * 1e4;
        let in2 = cm2 / (INCH / 10.0 * (INCH / 10.0));
        let area = self.in_units(
            || says!("unit-cm2", figure = rounded(cm2)),
            || says!("unit-in2", figure = rounded(in2)),
        );
        self.say(&says!("about-area", area = area))
    }

    /// An amount with two decimals and its currency; half a penny is rounded away from zero.
    pub fn money(&self, money: Money) -> String {
        self.amount(money, false)
    }

    /// A price: an amount that is said without pence where there are none.
    pub fn price(&self, money: Money) -> String {
        self.amount(money, true)
    }

    fn amount(&self, money: Money, short: bool) -> String {
        let rounded = money.0.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero);
        let below = rounded.is_sign_negative() && !rounded.is_zero();
        let amount = match short && rounded.fract().is_zero() {
            true => format!("{:.0}", rounded.abs()),
            false => format!("{:.2}", rounded.abs()),
        };
        let amount = self.in_thousands(self.marked(amount));
        let code = self.currency();
        let known = Message::word("money", code);
        let said = match code {
            "" => self.say(&says!("money-none", amount = amount)),
            _ if self.has(&known) => self.say(&Message { values: vec![("amount", amount.into())], ..known }),
            code => self.say(&says!("money-other", code = code, amount = amount)),
        };
        if below { format!("{}{said}", self.language().marks().minus) } else { said }
    }

    /// An amount with its thousands apart; as it is where the language's sign for that could be taken for a decimal mark.
    fn in_thousands(&self, amount: String) -> String {
        let marks = self.language().marks();
        let whole = amount.find(|letter: char| !letter.is_ascii_digit()).unwrap_or(amount.len());
        if marks.thousands == marks.decimal {
            return amount;
        }
        let mut apart = amount;
        for at in (1..whole).rev().filter(|at| (whole - at).is_multiple_of(3)) {
            apart.insert_str(at, &marks.thousands);
        }
        apart
    }

    /// A mass that is not known exactly: `24 to 31 kg`, its ends rounded away from each other.
    pub fn mass(&self, mass: MassSpan) -> String {
        let (low, high) = (mass.low.kg(), mass.high.kg());
        let step = if high < 10.0 { 0.5 } else { 1.0 };
        // A weighing is printed as it was written down.
        let (low, high) = match low == high {
            true => (low, high),
            false => ((low / step).floor() * step, (high / step).ceil() * step),
        };
        let kg = || says!("unit-kg", figure = self.one_or_both(self.number(low, 1), self.number(high, 1)));
        let pounds = || {
            let (low, high) = ((low / POUND).floor(), (high / POUND).ceil());
            let low = if high - low <= 1.0 { high } else { low };
            says!("unit-lb", figure = self.one_or_both(self.number(low, 0), self.number(high, 0)))
        };
        if low > 0.0 {
            return self.in_units(kg, pounds);
        }
        let under = self.in_units(
            || says!("unit-kg", figure = self.number(high, 1)),
            || says!("unit-lb", figure = self.number((high / POUND).ceil(), 0)),
        );
        self.say(&says!("under-mass", figure = under))
    }

    fn one_or_both(&self, low: String, high: String) -> String {
        if low == high { low } else { self.say(&says!("span", low = low, high = high)) }
    }

    /// A load that may be put on something, rounded down to a step that nobody takes for a measurement; `None` where
    /// less than a kilogram is left.
    pub fn load(&self, load: Mass) -> Option<String> {
        // What was said as 20 kg must not come out as 19 for a rounding of the last binary digit.
        let stepped = |load: f64, steps: [f64; 3]| {
            let step = match load {
                load if load < 20.0 => steps[0],
                load if load < 100.0 => steps[1],
                _ => steps[2],
            };
            (load / step + 1e-9).floor() * step
        };
        let kg = stepped(load.kg(), [1.0, 5.0, 10.0]);
        let pounds = match self.units() {
            Units::Inches => stepped(load.kg() / POUND, [1.0, 5.0, 10.0]),
            _ => (kg / POUND).floor(),
        };
        let said = self.in_units(
            || says!("unit-kg", figure = self.number(kg, 0)),
            || says!("unit-lb", figure = self.number(pounds, 0)),
        );
        (kg >= 1.0).then_some(said)
    }

    /// Millimetres to a tenth: `6.6 mm`, or `4.1 to 8 mm` where both ends differ.
    pub fn small(&self, least: f64, most: f64) -> String {
        let span = |unit: f64, decimals| {
            self.one_or_both(self.number(least / unit, decimals), self.number(most / unit, decimals))
        };
        self.in_units(|| says!("unit-mm", figure = span(1.0, 1)), || says!("unit-in", figure = span(INCH, 2)))
    }

    /// A temperature, in whole degrees: `20 °C`.
    pub fn temperature(&self, celsius: f64) -> String {
        let figure = |degrees: f64| self.number(degrees.round(), 0);
        self.in_units(
            || says!("unit-celsius", figure = self.number(celsius, 1)),
            || says!("unit-fahrenheit", figure = figure(celsius * 1.8 + 32.0)),
        )
    }
}

/// Inches as a ruler has them, to the nearest sixteenth: `35 3/4`; in decimals where that would be far off.
fn ruled(inches: f64) -> String {
    let parts = (inches * SIXTEENTHS).round();
    if (parts / SIXTEENTHS - inches).abs() > inches.abs() * 0.1 {
        return trimmed(inches, 2);
    }
    let (whole, mut over, mut of) = ((parts / SIXTEENTHS).floor(), parts % SIXTEENTHS, SIXTEENTHS);
    while over > 0.0 && over % 2.0 == 0.0 {
        (over, of) = (over / 2.0, of / 2.0);
    }
    match (whole, over) {
        (whole, 0.0) => trimmed(whole, 0),
        (0.0, over) => format!("{over}/{of}"),
        (whole, over) => format!("{whole} {over}/{of}"),
    }
}

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;

    use super::*;

    fn kg(kg: f64) -> Mass {
        Mass::from_kg(kg).expect("a mass")
    }

    #[test]
    fn lengths_print_in_the_units_that_are_wanted() {
        let lengths: Vec<Length> = [910.0, 12.7].into_iter().filter_map(Length::from_mm).collect();
        let said = Units::ALL.iter().map(|units| Words::with_units(*units).lengths(&lengths));
        assert_eq!(
            said.collect::<Vec<_>>(),
            ["910 × 12.7 mm", "910 × 12.7 mm (35.8 × 0.5 in)", "35 13/16 × 1/2 in"]
        );
        assert_eq!(
            [0.6, 6.0, 19.0, 25.4, 1200.0].map(|mm| ruled(mm / INCH)),
            ["0.02", "1/4", "3/4", "1", "47 1/4"]
        );
    }

    #[test]
    fn areas_have_two_figures() {
        let about = |units: Units, cm2: f64| {
            Words::with_units(units).area(Area::from_m2(cm2 / 1e4).expect("an area"))
        };
        let metric = |cm2| about(Units::Millimetres, cm2);
        assert_eq!(
            [0.4444, 7.66, 76.6, 766.4, 12_345.0].map(metric),
            ["about 0.44 cm²", "about 7.7 cm²", "about 77 cm²", "about 770 cm²", "about 12000 cm²"]
        );
        assert_eq!(about(Units::MillimetresAndInches, 64.5), "about 65 cm² (10 in²)");
    }

    #[test]
    fn masses_are_rounded_outwards_and_loads_down() {
        let [metric, both, pounds] =
            [Units::Millimetres, Units::MillimetresAndInches, Units::Inches].map(Words::with_units);
        let span = |low: f64, high: f64| MassSpan::between(kg(low), kg(high));
        assert_eq!(metric.mass(span(24.9, 30.1)), "24 to 31 kg");
        assert_eq!(both.mass(span(24.9, 30.1)), "24 to 31 kg (52 to 69 lb)");
        assert_eq!(pounds.mass(span(24.9, 30.1)), "52 to 69 lb");
        assert_eq!(metric.mass(span(2.6, 3.1)), "2.5 to 3.5 kg");
        assert_eq!(metric.mass(span(20.5, 20.5)), "20.5 kg");
        assert_eq!(both.mass(span(0.2, 0.3)), "under 0.5 kg (2 lb)");
        assert_eq!(metric.load(kg(0.99)), None);
        assert_eq!(
            [19.99, 24.9, 99.9, 119.0].map(|load| metric.load(kg(load)).expect("a load")),
            ["19 kg", "20 kg", "95 kg", "110 kg"]
        );
        assert_eq!(both.load(kg(24.9)).as_deref(), Some("20 kg (44 lb)"));
        assert_eq!(pounds.load(kg(24.9)).as_deref(), Some("50 lb"));
        assert_eq!(metric.small(4.06, 8.04), "4.1 to 8 mm");
        assert_eq!(both.small(6.6, 6.6), "6.6 mm (0.26 in)");
    }

    #[test]
    fn degrees_are_those_of_the_units() {
        let said = Units::ALL.iter().map(|units| Words::with_units(*units).temperature(20.0));
        assert_eq!(said.collect::<Vec<_>>(), ["20 °C", "20 °C (68 °F)", "68 °F"]);
    }

    #[test]
    fn money_has_two_decimals_and_a_whole_price_none() {
        let words = Words::with_currency("GBP");
        let money = |amount, decimals| Money(Decimal::new(amount, decimals));
        assert_eq!(words.money(money(24, 1)), "£2.40");
        assert_eq!(words.money(money(2225, 3)), "£2.23");
        assert_eq!(words.money(money(-2225, 3)), "−£2.23");
        assert_eq!(words.money(money(-1, 3)), "£0.00");
        assert_eq!([words.price(money(240, 0)), words.price(money(2405, 1))], ["£240", "£240.50"]);
        assert_eq!(
            [words.price(money(1250, 0)), words.price(money(-1_234_567, 0))],
            ["£1,250", "−£1,234,567"]
        );
        assert_eq!(words.money(money(100_000, 2)), "£1,000.00");
        assert_eq!(Words::with_currency("SEK").price(money(240, 0)), "SEK 240");
        assert_eq!(Words::with_currency("").money(money(240, 0)), "240.00");
    }
}
