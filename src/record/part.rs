//! Parts of a piece and their standing.

use super::{Answer, PartId, StockId};
use crate::fields::shape::{choices, table, words};
use crate::fields::{Brief, Count, OneOrMore, Said, Text};
use crate::unit::{Edtf, Length};

words! {
    /// What a part is to the piece as first made.
    pub enum Standing {
        /// As first made; say how that is known.
        Original = "original",
        /// An old repair or replacement, long settled, date not known.
        OldRepair = "old-repair",
        /// Added or changed after making and before this workshop.
        Later = "later",
        /// An old part from elsewhere, fitted by this workshop.
        Salvaged = "salvaged",
        /// Made or bought new by this workshop.
        New = "new",
        /// Taken away by this workshop.
        Removed = "removed",
        /// Absent when found and not replaced.
        Missing = "missing",
    }
}

words! {
    /// How a part is built.
    pub enum Construction {
        /// Solid timber.
        Solid = "solid",
        /// Veneer on a ground.
        Veneered = "veneered",
        /// A panel product such as plywood or fibreboard.
        Panel = "panel",
        /// Turned on a lathe.
        Turned = "turned",
        /// Steamed or laminated to a curve.
        Bent = "bent",
        /// Metal.
        Metal = "metal",
        /// Glass.
        Glass = "glass",
        /// Stone.
        Stone = "stone",
        /// Textile, cord, rush or cane.
        Textile = "textile",
        /// Leather.
        Leather = "leather",
    }
}

words! {
    /// Which dimension the grain follows.
    pub enum Grain {
        /// The grain runs along the length.
        Length = "length",
        /// The grain runs along the width.
        Width = "width",
    }
}

words! {
    /// How a board was sawn from the log.
    pub enum Sawn {
        /// Growth rings roughly parallel to the face.
        FlatSawn = "flat-sawn",
        /// Growth rings roughly square to the face.
        QuarterSawn = "quarter-sawn",
    }
}

words! {
    /// How a wide part is held across its grain.
    pub enum Held {
        /// It can swell and shrink.
        Free = "free",
        /// It is screwed or glued across the grain.
        FixedAcross = "fixed-across",
    }
}

choices! {
    /// How a part opens towards whoever stands before the piece.
    pub enum Opening {
        /// It slides out.
        Drawer = "drawer",
        /// It swings on upright hinges, or falls forward as a flap.
        Door = "door",
    }
}

choices! {
    /// How a shelf's ends are held.
    pub enum Ends {
        /// Resting on pins, cleats or in loose housings.
        Supported = "supported",
        /// Glued or screwed so that they cannot turn.
        Fixed = "fixed",
        /// Held at one end alone.
        OneEnd = "one-end",
    }
}

table! {
    /// A part's dimensions.
    pub struct PartSize ("size") {
        /// Length in millimetres.
        "length" => length: Option<Said<Length>>,
        /// Width in millimetres.
        "width" => width: Option<Said<Length>>,
        /// Thickness in millimetres.
        "thick" => thick: Option<Said<Length>>,
        /// Diameter of a round part in millimetres.
        "diameter" => diameter: Option<Said<Length>>,
        /// How thick the walls are where it is hollow, such as a drawer or a box, in millimetres.
        "wall" => wall: Option<Said<Length>>,
    }
}

table! {
    /// How a part opens, for the check of what could pull the piece over.
    pub struct Opens ("opens") {
        /// Whether it slides or swings.
        "as" => r#as: Said<Opening>,
        /// How far it then reaches in front of the piece, in millimetres: a drawer's way, a door's width.
        "by" => by: Option<Said<Length>>,
    }
}

choices! {
    /// Along which edges of a shelf a strip is glued.
    pub enum LippedEdges {
        /// The front edge.
        Front = "front",
        /// The front and the back edge, a strip each.
        Both = "both",
    }
}

table! {
    /// A strip glued to a shelf's edge.
    pub struct Lipping ("lipping") {
        /// Its timber.
        "timber" => timber: Said<Answer>,
        /// How deep it stands, in millimetres.
        "depth" => depth: Said<Length>,
        /// How thick one is from front to back, in millimetres; the shelf's width counts it in.
        "thick" => thick: Said<Length>,
        /// Along which edges it is glued; the front edge if not said.
        "edges" => edges: Option<Said<LippedEdges>>,
    }
}

impl Lipping {
    /// How many such strips the shelf has.
    pub fn how_many(&self) -> u32 {
        match self.edges.as_ref().map(|edges| edges.value) {
            Some(LippedEdges::Both) => 2,
            Some(LippedEdges::Front) | None => 1,
        }
    }
}

table! {
    /// A component of the piece.
    pub struct Part ("[[part]]") {
        /// Short name that the rest of the record calls it by.
        "id" => id: Said<PartId>,
        /// What the papers call it.
        "name" => name: Said<Brief<200>>,
        /// What it is to the piece as first made.
        "standing" => standing: Said<Standing>,
        /// How its standing is known.
        "how-known" => how_known: Option<Said<Text>>,
        /// When it was added, if not with the piece; EDTF.
        "since" => since: Option<Said<Edtf>>,
        /// Its timber, or `unknown`.
        "timber" => timber: Option<Said<Answer>>,
        /// How it is built.
        "build" => build: Option<Said<Construction>>,
        /// What a veneer lies on.
        "ground" => ground: Option<Said<Answer>>,
        /// What it is of where it is neither timber nor board, such as `steel`, `marble` or `cane`.
        "material" => material: Option<Said<Answer>>,
        /// The veneer's timber.
        "veneer" => veneer: Option<Said<Answer>>,
        /// A strip along a shelf's front edge, or both.
        "lipping" => lipping: Option<Said<Lipping>>,
        /// How many alike; one if not said.
        "count" => count: Option<Said<Count>>,
        /// Its dimensions.
        "size" => size: Option<Said<PartSize>>,
        /// Which dimension the grain follows.
        "grain" => grain: Option<Said<Grain>>,
        /// How it was sawn.
        "sawn" => sawn: Option<Said<Sawn>>,
        /// How it is held across the grain.
        "held" => held: Option<Said<Held>>,
        /// How it opens, where it is a drawer or a door.
        "opens" => opens: Option<Said<Opens>>,
        /// The stock it was made from.
        "from-stock" => from_stock: Option<Said<StockId>>,
        /// What it replaces.
        "instead-of" => instead_of: Option<Said<Text>>,
        /// How it comes off again.
        "undo" => undo: Option<Said<Text>>,
        /// Anything else worth printing.
        "note" => note: Option<Said<Text>>,
    }
}

impl Part {
    /// Whether the piece has it today: neither removed nor missing.
    pub fn present(&self) -> bool {
        ![Standing::Removed, Standing::Missing].contains(&self.standing.value)
    }

    /// How many alike it stands for.
    pub fn how_many(&self) -> u32 {
        self.count.as_ref().map_or(1, |count| count.0)
    }
}

table! {
    /// Screws, nails, hinges, glues and fittings of one kind.
    pub struct Fixing ("[[fixing]]") {
        /// The parts it holds.
        "part" => part: OneOrMore<PartId>,
        /// Its kind, such as `screw-crosshead`, or free words.
        "kind" => kind: Said<Text>,
        /// How many.
        "count" => count: Option<Said<Count>>,
        /// What it is to the piece as first made.
        "standing" => standing: Said<Standing>,
        /// What it replaces.
        "instead-of" => instead_of: Option<Said<Text>>,
        /// Why it was chosen.
        "why" => why: Option<Said<Text>>,
        /// How it comes out again.
        "undo" => undo: Option<Said<Text>>,
        /// Anything else worth printing.
        "note" => note: Option<Said<Text>>,
    }
}
