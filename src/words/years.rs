//! Years of making in words.

use super::{Language, Words};
use crate::claim::{Message, says};
use crate::unit::edtf::{Date, Edtf, End, Within};

impl Words {
    /// Years of making, to follow "made": `about 1920`, `the 1880s`, `1900–1999`, `1920 to about 1935`.
    ///
    /// An open end takes in the year itself, so `../1935` is `1935 or earlier`, not "before 1935".
    pub fn years(&self, made: &Edtf) -> String {
        let within = |date: &Date| self.date(date, true);
        match (made.start(), made.span_end()) {
            (End::Date(date), None) => match made.time() {
                Some((clock, shift)) => {
                    let clock = match shift {
                        "" => clock.to_owned(),
                        "Z" => self.say(&says!("made-clock-utc", clock = clock)),
                        shift => self.say(&says!("made-clock-shifted", clock = clock, shift = shift)),
                    };
                    self.say(&says!("made-at", date = self.date(date, false), clock = clock))
                }
                None => self.date(date, false),
            },
            (End::Date(first), Some(End::Date(last))) => self.both_ends(first, last),
            (End::Date(first), Some(End::Open)) => self.say(&says!("made-or-later", first = within(first))),
            (End::Date(first), Some(End::Unknown)) => {
                self.say(&says!("made-end-not-known", first = within(first)))
            }
            (start, end) => {
                let last = match end {
                    Some(End::Date(last)) => within(last),
                    _ => String::new(),
                };
                match start {
                    End::Open => self.say(&says!("made-or-earlier", last = last)),
                    _ => self.say(&says!("made-start-not-known", last = last)),
                }
            }
        }
    }

    /// From one date to another: years that are marked alike are joined, as `about 1920–35`.
    fn both_ends(&self, first: &Date, last: &Date) -> String {
        let plain = |date: &Date| {
            let one_year =
                date.years.0 == date.years.1 && date.years.0 >= 1000 && date.within == Within::Year;
            (one_year && !date.uncertain).then_some(date.years.0)
        };
        match (plain(first), plain(last)) {
            (Some(from), Some(to)) if first.approximate == last.approximate && from < to => {
                let short = from / 100 == to / 100;
                let to = if short { format!("{:02}", to % 100) } else { to.to_string() };
                let years = self.say(&says!("years-between", first = from.to_string(), last = to));
                self.about(first, years)
            }
            _ => {
                let [first, last] = [first, last].map(|date| self.date(date, true));
                self.say(&says!("made-from-to", first = first, last = last))
            }
        }
    }

    fn about(&self, of: &Date, date: String) -> String {
        if of.approximate { self.say(&says!("made-about", date = date)) } else { date }
    }

    /// A date with what is to be said of it, which stands in brackets where it is `within` a span.
    fn date(&self, of: &Date, within: bool) -> String {
        let years = self.within_years(of.years);
        let month = |month: u32| self.language().month(month);
        let (date, missing) = match of.within {
            Within::Year => (years, None),
            Within::Season(season) => {
                let season = self.language().season(season);
                (self.say(&says!("season-form", season = season, year = years)), None)
            }
            Within::Month(None) => (years, Some(says!("made-no-month"))),
            Within::Month(Some(m)) => (self.say(&says!("month-form", month = month(m), year = years)), None),
            Within::Day(None) => (years, Some(says!("made-no-month-and-day"))),
            Within::Day(Some((m, None))) => {
                let date = self.say(&says!("month-form", month = month(m), year = years));
                (date, Some(says!("made-no-day")))
            }
            Within::Day(Some((m, Some(day)))) => {
                let day = day.to_string();
                (self.say(&says!("day-form", day = day, month = month(m), year = years)), None)
            }
        };
        let date = self.about(of, date);
        let uncertain = of.uncertain.then(|| says!("made-not-certain"));
        let notes: Vec<String> = uncertain.into_iter().chain(missing).map(|note| self.say(&note)).collect();
        match (notes.is_empty(), within) {
            (true, _) => date,
            (false, false) => self.say(&says!("made-noted", date = date, notes = self.series(&notes))),
            (false, true) => self.say(&says!("made-noted-within", date = date, notes = self.series(&notes))),
        }
    }

    /// One year, or several of which it is one. "The 1900s" could be a decade or a century, so only the other decades are
    /// named that way.
    fn within_years(&self, (first, last): (i32, i32)) -> String {
        let year = |year: i32| year.to_string();
        let bc = |year: i32| (1 - i64::from(year)).to_string();
        let message = match (first, last) {
            _ if first == last && first >= 1000 => return year(first),
            _ if first == last && first > 0 => says!("years-ad", year = year(first)),
            _ if first == last => says!("years-bc", year = bc(first)),
            _ if first >= 1000 && last - first == 9 && first % 100 != 0 => {
                says!("years-decade", first = year(first))
            }
            _ if first >= 1000 => says!("years-between", first = year(first), last = year(last)),
            _ if first > 0 => says!("years-between-ad", first = year(first), last = year(last)),
            _ if last > 0 => says!("years-bc-to-ad", first = bc(first), last = year(last)),
            _ => says!("years-between-bc", first = bc(first), last = bc(last)),
        };
        self.say(&message)
    }
}

impl Language {
    /// The name of a month, from January as 1.
    pub(super) fn month(&self, month: u32) -> String {
        self.text(&Message::word("month", &month.to_string()).name)
    }

    /// The name of a season, from spring as 0.
    fn season(&self, season: usize) -> String {
        self.text(&Message::word("season", &(season + 1).to_string()).name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn years_in_words() {
        let words = Words::with_currency("GBP");
        let table = "
            1926 = 1926
            1920~ = about 1920
            1922? = 1922, not certain
            1922% = about 1922, not certain
            188X = the 1880s
            190X~ = about 1900–1909
            19XX = 1900–1999
            1926-21 = spring 1926
            1926-XX = 1926, month not known
            1926-03-XX? = March 1926, not certain, day not known
            1926-XX-XX = 1926, month and day not known
            1926-03-12 = 12 March 1926
            1926-03-12T09:05:00 = 12 March 1926 at 09:05:00
            1926-03-12T09:05:00-04 = 12 March 1926 at 09:05:00 (UTC-04)
            1920/1935 = 1920–35
            1920~/1935~ = about 1920–35
            1895/1905 = 1895–1905
            1920~/1935 = about 1920 to 1935
            1920?/1935~ = 1920 (not certain) to about 1935
            18XX/192X = 1800–1899 to the 1920s
            ../1935 = 1935 or earlier
            1920/.. = 1920 or later
            /1935 = until 1935, start not known
            1920-03/ = from March 1920, end not known
            0985 = AD 985
            0000 = 1 BC
            -198X = 1990–1981 BC
            000X = 1 BC–AD 9
            Y-2147483648 = 2147483649 BC";
        for row in table.lines().filter(|row| !row.trim().is_empty()) {
            let (text, said) = row.trim().split_once(" = ").unwrap();
            assert_eq!(words.years(&Edtf::parse(text).unwrap()), said, "{text}");
        }
    }
}
