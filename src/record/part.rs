//! Parts of a piece and their standing.

use super::{Answer, PartId, PatchId, StockId};
use crate::fields::shape::{choices, table, words};
use crate::fields::{Brief, Count, Figure, OneOrMore, Private, Said, Text};
use crate::unit::{Area, Edtf, Length};

words! {
    /// What a part is to the piece as first made.
    pub enum Standing {
        /// As first made; say how that is known.
        Original = "original" [
            "always been there", "as first made", "as made", "first made", "orig", "the original one",
        ],
        /// An old repair or replacement, long settled, date not known.
        OldRepair = "old-repair" [
            "early repair", "historic repair", "historic replacement", "long settled repair", "old mend",
            "old replacement", "period repair", "repaired long ago",
        ],
        /// Added or changed after making and before this workshop.
        Later = "later" [
            "added later", "changed later", "later addition", "later alteration",
            "modern replacement before us", "replaced before us", "subsequent",
        ],
        /// An old part from elsewhere, fitted by this workshop.
        Salvaged = "salvaged" [
            "donor", "donor part", "from a breaker", "from a donor", "from another piece",
            "off a scrapper", "reclaimed", "reclaimed part", "recycled", "recycled part",
            "robbed from another", "second hand", "second hand part",
        ],
        /// Made or bought new by this workshop.
        New = "new" [
            "bought new", "brand new", "made by us", "made new", "new made", "newly made", "renewed by us",
            "replaced by us", "replacement by us", "we made it",
        ],
        /// Taken away by this workshop.
        Removed = "removed" [
            "binned", "chucked", "discarded", "got rid of", "removed by us", "scrapped", "stripped out",
            "taken away", "taken off", "taken out", "thrown away",
        ],
        /// Absent when found and not replaced.
        Missing = "missing" [
            "absent", "gone", "lacking", "lost", "never found", "not present", "not there", "wanting",
            "was not with it",
        ],
    }
}

words! {
    /// What holds for all parts that a record does not list.
    pub enum Rest {
        /// They are as first made, as far as is known.
        Original = "original" [
            "all original", "as first made", "as made", "everything else is original", "first made",
            "rest is original",
        ],
        /// Nobody looked at them.
        NotLookedAt = "not-looked-at" [
            "did not look", "not checked", "not examined", "not inspected", "not looked", "unchecked",
            "unexamined",
        ],
    }
}

words! {
    /// How a part is built.
    pub enum Construction {
        /// Solid timber.
        Solid = "solid" ["solid board", "solid timber", "solid wood"],
        /// Veneer on a ground.
        Veneered = "veneered" [
            "faced with veneer", "veneer", "veneer on chipboard", "veneer on ply", "veneered board",
            "with a veneer", "wood veneer",
        ],
        /// A panel product such as plywood or fibreboard.
        Panel = "panel" [
            "chipboard", "composite board", "fibreboard", "hardboard", "man made board", "mdf",
            "panel product", "ply", "plywood", "plywood or fibreboard", "sheet goods", "sheet material",
        ],
        /// Turned on a lathe.
        Turned = "turned" [
            "bobbin turned", "lathe turned", "on the lathe", "spindle turned", "turned on a lathe",
            "turned on the lathe", "turnery",
        ],
        /// Steamed or laminated to a curve.
        Bent = "bent" [
            "bent ply", "bent plywood", "bentwood", "cold bent", "curved lamination", "laminated bend",
            "moulded plywood", "steam bent", "steamed",
        ],
        /// Metal.
        Metal = "metal" [
            "aluminium", "brass", "cast iron", "iron", "metal frame", "metalwork", "steel",
            "tubular steel", "wrought iron",
        ],
        /// Glass.
        Glass = "glass" ["glazed", "glazing", "mirror", "mirror plate", "pane"],
        /// Stone.
        Stone = "stone" ["alabaster", "granite", "marble", "marble top", "onyx", "slate"],
        /// Textile, cord, rush or cane.
        Textile = "textile" [
            "cane", "cloth", "cord", "fabric", "hessian", "paper cord", "rush", "seagrass", "string",
            "upholstery", "webbing", "woven",
        ],
        /// Leather.
        Leather = "leather" ["cowhide", "hide", "real leather", "saddle leather", "skiver"],
    }
}

words! {
    /// Which dimension the grain follows.
    pub enum Grain {
        /// The grain runs along the length.
        Length = "length" [
            "along", "along the length", "grain along length", "grain runs long", "lengthways",
            "lengthwise", "long grain",
        ],
        /// The grain runs along the width.
        Width = "width" [
            "across", "across the length", "cross grain", "grain across", "grain runs across", "widthways",
            "widthwise",
        ],
    }
}

words! {
    /// How a board was sawn from the log.
    pub enum Sawn {
        /// Growth rings roughly parallel to the face.
        FlatSawn = "flat-sawn" ["backsawn", "crown cut", "plain sawn", "slash sawn", "tangentially sawn"],
        /// Growth rings roughly square to the face.
        QuarterSawn = "quarter-sawn" [
            "medullary ray figure", "on the quarter", "quarter cut", "quartered", "radially sawn",
            "silver figure",
        ],
    }
}

words! {
    /// How a wide part is held across its grain.
    pub enum Held {
        /// It can swell and shrink.
        Free = "free" [
            "allowed to move", "buttoned", "can move", "dry in groove", "floating", "floats",
            "loose in groove", "on buttons", "on slotted plates", "slotted screws",
        ],
        /// It is screwed or glued across the grain.
        FixedAcross = "fixed-across" [
            "battened tight", "cannot move", "fixed", "glued across", "glued all round", "held fast",
            "nailed across", "pinned across", "screwed across",
        ],
    }
}

choices! {
    /// How a part opens towards whoever stands before the piece.
    pub enum Opening {
        /// It slides out.
        Drawer = "drawer" [
            "brushing slide", "candle slide", "pull out", "pull out shelf", "slide", "slides out",
            "tray slide",
        ],
        /// It swings on upright hinges, or falls forward as a flap.
        Door = "door" [
            "drop front", "fall", "fall flap", "fall front", "flap", "flap down", "lid at front",
            "swing door",
        ],
    }
}

choices! {
    /// How a shelf's ends are held.
    pub enum Ends {
        /// Resting on pins, cleats or in loose housings.
        Supported = "supported" [
            "adjustable", "in loose housings", "loose", "on battens", "on cleats", "on pegs", "on pins",
            "on shelf pins", "on studs", "resting", "rests on ledgers",
        ],
        /// Glued or screwed so that they cannot turn.
        Fixed = "fixed" [
            "glued", "glued in", "housed and glued", "let in and glued", "screwed", "screwed through",
        ],
        /// Held at one end alone.
        OneEnd = "one-end" ["bracket at one end", "cantilever", "cantilevered", "held at one end"],
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
    order = &["length", "width", "thick"];
}

table! {
    /// How a part opens, for the check of what could pull the piece over.
    pub struct Opens ("opens") {
        /// Whether it slides or swings.
        "as" => r#as: Said<Opening>,
        /// How far it then reaches in front of the piece, in millimetres: a drawer's way, a door's width.
        "by" => by: Option<Said<Length>>,
        /// Whether it can be taken out by hand; a drawer can if not said.
        "comes-out" => comes_out: Option<Said<bool>>,
    }
}

choices! {
    /// Along which edges of a shelf a strip is glued.
    pub enum LippedEdges {
        /// The front edge.
        Front = "front" ["front alone", "front edge", "front only"],
        /// The front and the back edge, a strip each.
        Both = "both" ["back and front", "both edges", "front and back"],
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
        /// The parts that lie over it and come off first.
        "under" => under: OneOrMore<PartId>,
        /// The parts that stand in front of it and come off first.
        "behind" => behind: OneOrMore<PartId>,
        /// The parts that hold it and come off first.
        "fixed-by" => fixed_by: OneOrMore<PartId>,
        /// Whether it is still to be made or bought; papers tell nothing of it.
        "planned" => planned: Option<Said<bool>>,
        /// The way of a decision that it is planned for, as `plan` of the option says it; for the archive alone.
        "option" => option: Private<Option<Said<Text>>>,
        /// The stock it was made from.
        "from-stock" => from_stock: Option<Said<StockId>>,
        /// How much of the stock it took, in the stock's unit; its count where that is pieces, if not said.
        "used" => used: Private<Option<Said<Figure>>>,
        /// What it replaces.
        "instead-of" => instead_of: Option<Said<Text>>,
        /// How it comes off again.
        "undo" => undo: Option<Said<Text>>,
        /// Anything else worth printing.
        "note" => note: Option<Said<Text>>,
        /// The lines of the day book that it was entered from; for the archive alone.
        "from-daybook" => from_daybook: Private<OneOrMore<Text>>,
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
    /// How large a patch is on the face.
    pub struct PatchSize ("size") {
        /// Length in millimetres.
        "length" => length: Option<Said<Length>>,
        /// Width in millimetres.
        "width" => width: Option<Said<Length>>,
        /// Diameter of a round one in millimetres.
        "diameter" => diameter: Option<Said<Length>>,
    }
}

table! {
    /// A place of a part that is not what the part is: let in, filled, cut away. The part keeps its standing.
    pub struct Patch ("[[patch]]") {
        /// Short name that an outline on a photograph calls it by.
        "id" => id: Option<Said<PatchId>>,
        /// The part it is on.
        "part" => part: Said<PartId>,
        /// What it is, such as `veneer patch` or `filled hole`.
        "what" => what: Said<Brief<200>>,
        /// How large it is on the face; or, instead, `area`, or an outline with a known length on a photograph.
        "size" => size: Option<Said<PatchSize>>,
        /// How large it is on the face, in square centimetres.
        "area" => area: Option<Said<Area>>,
        /// What it is to the piece as first made.
        "standing" => standing: Said<Standing>,
        /// What it was made with.
        "with" => with: Option<Said<Text>>,
        /// What it replaces.
        "instead-of" => instead_of: Option<Said<Text>>,
        /// How it comes out again.
        "undo" => undo: Option<Said<Text>>,
        /// Anything else worth printing.
        "note" => note: Option<Said<Text>>,
        /// The lines of the day book that it was entered from; for the archive alone.
        "from-daybook" => from_daybook: Private<OneOrMore<Text>>,
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
        /// Whether it is still to be bought or fitted; papers tell nothing of it.
        "planned" => planned: Option<Said<bool>>,
        /// The way of a decision that it is planned for, as `plan` of the option says it; for the archive alone.
        "option" => option: Private<Option<Said<Text>>>,
        /// Why it was chosen.
        "why" => why: Option<Said<Text>>,
        /// How it comes out again.
        "undo" => undo: Option<Said<Text>>,
        /// Anything else worth printing.
        "note" => note: Option<Said<Text>>,
        /// The lines of the day book that it was entered from; for the archive alone.
        "from-daybook" => from_daybook: Private<OneOrMore<Text>>,
    }
}
