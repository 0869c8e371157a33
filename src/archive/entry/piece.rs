//! The piece itself.

use chrono::NaiveDate;

use crate::archive::table::entry;
use crate::unit::{Hours, Money};

entry! {
    /// One piece of furniture.
    pub struct PieceEntry ("piece") {
        /// Its folder below `pieces/`.
        folder: String,
        /// The workshop's number for it.
        number: String,
        /// What it is, in a few words.
        title: String,
        /// What it is, in two levels such as `table/gateleg`.
        kind: String,
        /// The first level of `kind`.
        sort: String,
        /// The folder of the record of its set, where its pieces are sold apart. What they share is in the rows of each, with
        /// its share of hours and costs; lines of it are searched once.
        of_set: Option<String>,
        /// Years of making, as written (EDTF).
        made: Option<String>,
        /// The first year that it can be of.
        made_from: Option<i64>,
        /// The last year that it can be of.
        made_until: Option<i64>,
        /// What the years rest on.
        basis: Option<String>,
        /// Who made it, or `unknown`.
        maker: Option<String>,
        /// How far the work went.
        level: Option<String>,
        /// The piece in a sentence.
        summary: Option<String>,
        /// How far the work went and why.
        stance: Option<String>,
        /// By what it can be told from others of its kind.
        told_by: Option<String>,
        /// Labels, stamps, pencil marks.
        inscriptions: Option<String>,
        /// Notes for the archive alone.
        notes: Option<String>,
        /// Width in millimetres.
        width: Option<f64>,
        /// Depth in millimetres.
        depth: Option<f64>,
        /// Height in millimetres.
        height: Option<f64>,
        /// What it weighs in kilograms, where it was put on a scale.
        weighs: Option<f64>,
        /// The timbers of its parts that are there today, by id or as written, joined by commas.
        timbers: String,
        /// Whether the showroom may show it: 1 or 0.
        published: bool,
        /// Its page, from the archive's folder.
        page: String,
        /// The day it was come by.
        found_on: Option<NaiveDate>,
        /// From where.
        found_from: Option<String>,
        /// What was paid for it; empty where that is not recorded.
        paid: Option<Money>,
        /// The price asked.
        asking: Option<Money>,
        /// Since when it is for sale: as recorded.
        for_sale_since: Option<NaiveDate>,
        /// Since when it is kept for somebody.
        reserved_on: Option<NaiveDate>,
        /// The last day on which it is kept for somebody.
        reserved_until: Option<NaiveDate>,
        /// For whom; `somebody` where that is not recorded.
        reserved_for: Option<String>,
        /// What was paid down.
        deposit: Option<Money>,
        /// The day it left, or is to leave; empty for one that came back.
        handed_over: Option<NaiveDate>,
        /// The day it came back, where it has not left again since.
        came_back: Option<NaiveDate>,
        /// Who has it.
        buyer: Option<String>,
        /// For how much it went; empty where that is not recorded.
        price: Option<Money>,
        /// All hours; empty where none are recorded.
        hours: Option<Hours>,
        /// Whether the hours are one estimate and no sum of dated work: 1 or 0.
        estimated: bool,
        /// Everything that is known to have been spent.
        spent: Money,
        /// Whether that is all: 0 where a cost is not known.
        spent_is_all: bool,
        /// Paid, materials and overhead; empty where something that it needs is not recorded.
        cost: Option<Money>,
        /// What is left of the price, or of that asked, for the hours; empty where that cannot be known.
        margin: Option<Money>,
        /// The same for each hour.
        earned_per_hour: Option<Money>,
        /// The day of the first work or step.
        first_work: Option<NaiveDate>,
        /// The day of the last work or step.
        last_work: Option<NaiveDate>,
        /// How many seals it has.
        seals: usize,
    }
}
