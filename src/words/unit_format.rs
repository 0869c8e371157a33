//! Quantities as a workshop prints them: millimetres or inches too, kilograms or pounds too, and its currency.

use rust_decimal::RoundingStrategy;

use super::number::trimmed;
use crate::record::{Units, Workshop};
use crate::unit::{Area, Length, Mass, MassSpan, Money};

/// A pound, in kilograms.
const POUND: f64 = 0.453_592_37;

/// How a workshop prints quantities.
#[derive(Debug, Clone)]
pub(crate) struct UnitFormat {
    inches: bool,
    currency: String,
}

impl UnitFormat {
    /// The habits of a workshop; millimetres and no currency where it says nothing.
    pub(crate) fn of(workshop: &Workshop) -> UnitFormat {
        UnitFormat {
            inches: workshop.units.as_ref().is_some_and(|units| units.value == Units::MillimetresAndInches),
            currency: workshop.currency.as_ref().map_or(String::new(), |currency| currency.to_string()),
        }
    }

    /// Millimetres and this currency; none where it is empty.
    pub(crate) fn with_currency(currency: &str) -> UnitFormat {
        UnitFormat { inches: false, currency: currency.to_owned() }
    }

    /// Several lengths of one thing: `910 × 1200 × 735 mm`, with inches where the workshop wants them.
    pub(crate) fn lengths(&self, lengths: &[Length]) -> String {
        let mm: Vec<String> = lengths.iter().map(|length| trimmed(length.mm(), 1)).collect();
        let metric = format!("{} mm", mm.join(" × "));
        if !self.inches {
            return metric;
        }
        let inches: Vec<String> = lengths.iter().map(|length| trimmed(length.inches(), 1)).collect();
        format!("{metric} ({} in)", inches.join(" × "))
    }

    /// An area outlined by eye, to two figures: `about 77 cm²`.
    pub(crate) fn about_cm2(&self, area: Area) -> String {
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

    /// An amount with two decimals and its currency; half a penny is rounded away from zero.
    pub(crate) fn money(&self, money: Money) -> String {
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

    /// A price as a showroom writes it: as an amount of money, and without decimals where there are none.
    pub(crate) fn price(&self, money: Money) -> String {
        let written = self.money(money);
        written.strip_suffix(".00").map(str::to_owned).unwrap_or(written)
    }

    /// A mass that is not known exactly: `24 to 31 kg`, its ends rounded away from each other.
    pub(crate) fn mass(&self, mass: MassSpan) -> String {
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
    pub(crate) fn load(&self, load: Mass) -> Option<String> {
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
    pub(crate) fn small(&self, least: f64, most: f64) -> String {
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

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;

    use super::*;

    #[test]
    fn lengths_print_in_inches_only_where_wanted() {
        let metric = UnitFormat { inches: false, currency: String::new() };
        let both = UnitFormat { inches: true, currency: String::new() };
        let lengths: Vec<Length> = [910.0, 12.7].into_iter().filter_map(Length::from_mm).collect();
        assert_eq!(metric.lengths(&lengths), "910 × 12.7 mm");
        assert_eq!(both.lengths(&lengths), "910 × 12.7 mm (35.8 × 0.5 in)");
    }

    #[test]
    fn areas_have_two_figures() {
        let format = |inches| UnitFormat { inches, currency: String::new() };
        let about = |cm2: f64| format(false).about_cm2(Area::from_m2(cm2 / 1e4).expect("an area"));
        assert_eq!(
            [0.4444, 7.66, 76.6, 766.4, 12_345.0].map(about),
            ["about 0.44 cm²", "about 7.7 cm²", "about 77 cm²", "about 770 cm²", "about 12000 cm²"]
        );
        assert_eq!(format(true).about_cm2(Area::from_m2(0.00645).expect("an area")), "about 65 cm² (10 in²)");
    }

    #[test]
    fn masses_are_rounded_outwards_and_loads_down() {
        let format = |inches| UnitFormat { inches, currency: String::new() };
        let kg = |kg: f64| Mass::from_kg(kg).expect("a mass");
        let span = |low: f64, high: f64| MassSpan::between(kg(low), kg(high));
        assert_eq!(format(false).mass(span(24.9, 30.1)), "24 to 31 kg");
        assert_eq!(format(true).mass(span(24.9, 30.1)), "24 to 31 kg (52 to 69 lb)");
        assert_eq!(format(false).mass(span(2.6, 3.1)), "2.5 to 3.5 kg");
        assert_eq!(format(false).mass(span(20.5, 20.5)), "20.5 kg");
        assert_eq!(format(true).mass(span(0.2, 0.3)), "under 0.5 kg (2 lb)");
        let load = |load: f64| format(false).load(kg(load));
        assert_eq!(load(0.99), None);
        assert_eq!(
            [19.99, 24.9, 99.9, 119.0].map(|kg| load(kg).expect("a load")),
            ["19 kg", "20 kg", "95 kg", "110 kg"]
        );
        assert_eq!(format(true).load(kg(24.9)).as_deref(), Some("20 kg (44 lb)"));
        assert_eq!(format(false).small(4.06, 8.04), "4.1 to 8 mm");
        assert_eq!(format(true).small(6.6, 6.6), "6.6 mm (0.26 in)");
    }

    #[test]
    fn money_always_has_two_decimals() {
        let format = UnitFormat { inches: false, currency: "GBP".to_owned() };
        assert_eq!(format.money(Money(Decimal::new(24, 1))), "£2.40");
        assert_eq!(format.money(Money(Decimal::new(2225, 3))), "£2.23");
        assert_eq!(format.money(Money(Decimal::new(-2225, 3))), "−£2.23");
        assert_eq!(format.money(Money(Decimal::new(-1, 3))), "£0.00");
    }

    #[test]
    fn a_whole_price_has_no_decimals() {
        let format = UnitFormat { inches: false, currency: "GBP".to_owned() };
        assert_eq!(format.price(Money(Decimal::new(240, 0))), "£240");
        assert_eq!(format.price(Money(Decimal::new(2405, 1))), "£240.50");
    }
}
