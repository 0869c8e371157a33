//! `workshop.toml`: who does the work, in which money and units, with which tins.

use chrono::Weekday;

use super::{Answer, PartSize, StockId, TinId};
use crate::fields::shape::{choices, table};
use crate::fields::{
    Brief, Celsius, Count, Figure, Id, Litres, Percent, Private, Range, Said, Surcharge, Text,
};
use crate::unit::{Hours, Money};

choices! {
    /// The units that papers print lengths, weights and temperatures in.
    pub enum Units {
        /// Millimetres alone.
        Millimetres = "mm" ["metric", "millimetre"],
        /// Millimetres, with inches after them.
        MillimetresAndInches = "mm-and-inches" ["both", "millimetres and inches"],
        /// Inches, pounds and degrees Fahrenheit alone.
        Inches = "inches" ["imperial", "us customary"],
    }
}

choices! {
    /// The size of printed papers.
    pub enum Paper {
        /// ISO 216 A4, 210 by 297 mm.
        A4 = "A4",
        /// US letter, 8.5 by 11 inches.
        Letter = "letter" ["us letter"],
    }
}

choices! {
    /// Whose rules the workshop works under.
    pub enum Region {
        /// Those of the United Kingdom.
        UnitedKingdom = "united-kingdom" [
            "britain", "england", "gb", "great britain", "northern ireland", "scotland", "uk", "wales",
        ],
        /// Those of the European Union.
        Europe = "europe" ["eu", "european union"],
        /// Those of the United States.
        UnitedStates = "united-states" ["america", "united states of america", "us", "usa"],
        /// Those of another country.
        Elsewhere = "elsewhere" ["another", "other"],
    }
}

table! {
    /// The room that the buyer is assumed to have, through the year.
    pub struct Climate ("[climate]") {
        /// Lowest relative humidity of a year in percent, usually in the heating season.
        "humidity-low" => humidity_low: Said<Percent>,
        /// Highest relative humidity of a year in percent.
        "humidity-high" => humidity_high: Said<Percent>,
        /// Temperature in degrees Celsius.
        "temperature" => temperature: Option<Said<Celsius>>,
    }
}

table! {
    /// The air in which coats dried. No date is worked out from it: the papers say what it means in words.
    pub struct Drying ("drying") {
        /// Temperature in degrees Celsius.
        "temperature" => temperature: Option<Said<Celsius>>,
        /// Relative humidity in percent.
        "humidity" => humidity: Option<Said<Percent>>,
    }
}

table! {
    /// How many hours a day there usually are at the bench; a day that is not named has none.
    pub struct Week ("[week]") {
        /// On a Monday.
        "monday" => monday: Option<Said<Hours>>,
        /// On a Tuesday.
        "tuesday" => tuesday: Option<Said<Hours>>,
        /// On a Wednesday.
        "wednesday" => wednesday: Option<Said<Hours>>,
        /// On a Thursday.
        "thursday" => thursday: Option<Said<Hours>>,
        /// On a Friday.
        "friday" => friday: Option<Said<Hours>>,
        /// On a Saturday.
        "saturday" => saturday: Option<Said<Hours>>,
        /// On a Sunday.
        "sunday" => sunday: Option<Said<Hours>>,
    }
    example = "saturday = 6";
}

impl Week {
    /// The hours of a day.
    pub fn on(&self, day: Weekday) -> Option<Hours> {
        let said = match day {
            Weekday::Mon => &self.monday,
            Weekday::Tue => &self.tuesday,
            Weekday::Wed => &self.wednesday,
            Weekday::Thu => &self.thursday,
            Weekday::Fri => &self.friday,
            Weekday::Sat => &self.saturday,
            Weekday::Sun => &self.sunday,
        };
        said.as_ref().map(|hours| hours.value)
    }
}

table! {
    /// A product that the workshop really uses; its label times override the family's.
    pub struct Tin ("[[tin]]") {
        /// The name that a surface's steps call it by, as `tin:id`.
        "id" => id: Said<TinId>,
        /// The finish family it belongs to.
        "is" => is: Said<Text>,
        /// What the papers call it; generic words, or the label's if the workshop wants it named.
        "name" => name: Option<Said<Text>>,
        /// Hours until dust no longer sticks, as the label says.
        "dust-dry-hours" => dust_dry_hours: Option<Said<Range>>,
        /// Hours until the next coat, as the label says; the low end is the least.
        "recoat-hours" => recoat_hours: Option<Said<Range>>,
        /// Hours within which the next coat goes on without dulling, where the label sets such a limit.
        "recoat-within-hours" => recoat_within_hours: Option<Said<Figure>>,
        /// Days until light use, as the label says.
        "light-use-days" => light_use_days: Option<Said<Range>>,
        /// Days until it is fully hard, as the label says.
        "full-cure-days" => full_cure_days: Option<Said<Range>>,
        /// Square metres that a litre covers in one coat, as the label says.
        "covers" => covers: Option<Said<Range>>,
        /// Solids by volume in percent, as the data sheet says; with the dry film it stands in for `covers`.
        "solids" => solids: Option<Said<Percent>>,
        /// Dry film of one coat in micrometres, as the data sheet says.
        "dry-film" => dry_film: Option<Said<Range>>,
        /// What the tin held when full, in litres.
        "litres" => litres: Option<Said<Litres>>,
        /// What the full tin cost.
        "price" => price: Private<Option<Said<Money>>>,
        /// Anything else on the label worth keeping.
        "note" => note: Private<Option<Said<Text>>>,
    }
}

table! {
    /// How a piece is bought, in short sentences for the showroom.
    pub struct HowToBuy ("[how-to-buy]") {
        /// How it can be seen before.
        "viewing" => viewing: Option<Said<Brief<300>>>,
        /// How it is paid for.
        "payment" => payment: Option<Said<Brief<300>>>,
        /// How it is fetched.
        "collection" => collection: Option<Said<Brief<300>>>,
        /// Whether it is brought, where to and for how much.
        "delivery" => delivery: Option<Said<Brief<300>>>,
        /// Whether it may come back.
        "returns" => returns: Option<Said<Brief<300>>>,
    }
    example = "{ viewing = \"At the workshop, by arrangement.\" }";
}

table! {
    /// The workshop: its name on the papers, its money and units, its tins.
    pub struct Workshop ("workshop.toml") {
        /// The name that stands on the papers.
        "name" => name: Said<Brief<200>>,
        /// Town or region, as printed.
        "place" => place: Option<Said<Text>>,
        /// How a buyer reaches the workshop, as printed: a mail address, a telephone number or the address of a form.
        "contact" => contact: Option<Said<Text>>,
        /// A sentence or two for the showroom's front page.
        "about" => about: Option<Said<Text>>,
        /// The number of the piece that the showroom begins with, while it is for sale; the newest one if not said.
        "lead" => lead: Option<Said<Brief<60>>>,
        /// How a piece is bought.
        "how-to-buy" => how_to_buy: Option<Said<HowToBuy>>,
        /// The workshop's own terms of sale, line by line, for its receipts.
        "terms" => terms: Option<Said<Text>>,
        /// A notice for every public page, such as that pictures are renderings.
        "notice" => notice: Option<Said<Text>>,
        /// The language of showroom, archive and papers, such as `en-GB` or `en-US`, or one of your own in `words/`.
        "language" => language: Option<Said<Text>>,
        /// Whose rules the cautions quote; the rules of several regions are quoted if not said.
        "region" => region: Option<Said<Region>>,
        /// The currency's three letters (ISO 4217), such as `GBP`.
        "currency" => currency: Option<Said<Text>>,
        /// Units on the papers; those of the language if not said.
        "units" => units: Option<Said<Units>>,
        /// Paper size; that of the language if not said.
        "paper" => paper: Option<Said<Paper>>,
        /// What an hour of work is reckoned at; archive only.
        "hourly-rate" => hourly_rate: Private<Option<Said<Money>>>,
        /// What rent, heat, tools and the like come to for an hour of work; archive only.
        "overhead-per-hour" => overhead_per_hour: Private<Option<Said<Money>>>,
        /// The same as a percentage of what was spent on a piece, instead; archive only.
        "overhead-percent" => overhead_percent: Private<Option<Said<Surcharge>>>,
        /// How many hours there are at the bench, for plans; archive only.
        "week" => week: Private<Option<Said<Week>>>,
        /// After how many days a piece that is still for sale is called to mind; 90 if not said.
        "unsold-after-days" => unsold_after_days: Option<Said<Count>>,
        /// Where the showroom will stand on the web, if anywhere, such as `https://www.example.org/furniture/`.
        "address" => address: Option<Said<Text>>,
        /// Where the buyers' papers will stand on the web, if anywhere; labels lead to the piece's folder below it.
        "papers-address" => papers_address: Option<Said<Text>>,
        /// The public key that packs are signed with, in minisign's format, as printed on the papers.
        "signing-key" => signing_key: Option<Said<Text>>,
        /// The theme's name.
        "theme" => theme: Option<Said<Id>>,
        /// Widths of the pictures in pixels, such as `[1600, 960, 480]`.
        "photo-widths" => photo_widths: Vec<Said<Count>>,
        /// The largest photograph that is opened, in megapixels.
        "photo-megapixels" => photo_megapixels: Option<Said<Count>>,
        /// The room to assume for buyers.
        "climate" => climate: Option<Said<Climate>>,
        /// The air at the bench while coats dry, where a surface says nothing of its own.
        "drying" => drying: Option<Said<Drying>>,
        /// The workshop's real products.
        "tin" => tins: Vec<Said<Tin>>,
    }
}

table! {
    /// Material kept for later pieces, and where it came from.
    pub struct StockItem ("[[stock]]") {
        /// The name that a part's `from-stock` calls it by.
        "id" => id: Said<StockId>,
        /// What it is, as printed.
        "what" => what: Said<Text>,
        /// Where it came from, as printed.
        "origin" => origin: Option<Said<Text>>,
        /// What it cost.
        "paid" => paid: Private<Option<Said<Money>>>,
        /// Its timber, or the board product that it is; told from `what` if not said.
        "timber" => timber: Private<Option<Said<Answer>>>,
        /// The dimensions of one.
        "size" => size: Private<Option<Said<PartSize>>>,
        /// How much there was to begin with.
        "count" => count: Private<Option<Said<Figure>>>,
        /// What it is counted in; pieces if not said.
        "unit" => unit: Private<Option<Said<Text>>>,
        /// Anything else.
        "note" => note: Private<Option<Said<Text>>>,
    }
}

table! {
    /// `stock.toml`: everything kept for later.
    pub struct Stock ("stock.toml") {
        /// The items.
        "stock" => items: Vec<Said<StockItem>>,
    }
}
