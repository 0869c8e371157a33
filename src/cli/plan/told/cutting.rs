//! What the parts of a plan are cut from, what is left, and what must pass an opening.

use super::{Told, number};
use crate::cli::sheet::{Cell, Row, Table};
use crate::derive::plan::{CutBoard, Lack, Laid, Opening, Passes, Passing, Rectangle};
use crate::record::Part;
use crate::unit::capital;
use crate::unit::legible::one_line;

impl Told<'_> {
    /// The cutting list, with what lacks and what moves.
    pub(super) fn cutting(&self) -> Table {
        let cutting = &self.planned.cutting;
        let mut rows: Vec<Row> = cutting.boards.iter().flat_map(|board| self.cut_from(board)).collect();
        let note = |part: &Part, told: String| Row {
            cells: vec![
                Cell::Nothing,
                Cell::Nothing,
                Cell::Text(one_line(&part.name)),
                Cell::Nothing,
                Cell::Nothing,
                Cell::Nothing,
                Cell::Nothing,
                Cell::Text(told.clone()),
            ],
            told: vec![format!("{}: {told}", one_line(&part.name))],
        };
        rows.extend(cutting.in_turns.iter().map(|turns| {
            let told = format!(
                "{} pieces are too many that differ to be laid out all at once, and were laid out in turns: they take {} boards, \
                 and by what they measure no way takes fewer than {}",
                turns.pieces, turns.boards, turns.at_least
            );
            Row {
                cells: [[(); 7].map(|()| Cell::Nothing).into(), vec![Cell::Text(told.clone())]].concat(),
                told: vec![capital(&told)],
            }
        }));
        rows.extend(cutting.lacking.iter().map(|(part, many, lack)| {
            let of =
                if part.how_many() > 1 { format!("{many} of {}: ", part.how_many()) } else { String::new() };
            note(part, format!("{of}{}", lacks(*lack)))
        }));
        rows.extend(
            cutting.grain_taken.iter().map(|part| {
                note(part, "its `grain` is not told, and taken to run along its length".to_owned())
            }),
        );
        rows.extend(self.planned.moving.iter().filter(|(_, moves)| moves.most >= 0.1).map(|(part, moves)| {
            let told = format!(
                "moves by {:.1} to {:.1} mm across its grain between the driest and the dampest season of the \
                 buyer’s room: leave it that much free",
                moves.least, moves.most
            );
            note(part, told)
        }));
        Table {
            name: "cut",
            heading: "Cut from stock, larger by what planing takes; all cuts go from edge to edge".to_owned(),
            columns: &["stock", "board", "part", "along", "across", "from-end", "from-edge", "note"],
            rows,
            shown: &[],
        }
    }

    fn cut_from(&self, board: &CutBoard) -> Vec<Row> {
        let id = one_line(&board.item.id.0);
        let doubt = if board.is_sure {
            ""
        } else {
            "; neither `timber` nor `what` says surely that it is the timber wanted"
        };
        let head = format!(
            "`{id}`, number {}: {} × {:.0} mm, grain along its length{doubt}",
            board.which,
            crossed(board.size),
            board.thick
        );
        let row = |(at, (part, laid)): (usize, &(_, Laid))| {
            let part: &crate::fields::Row<Part> = part;
            let name = one_line(&part.name);
            let place = format!(
                "{name}: {} mm, {:.0} mm from the end, {:.0} mm from the edge",
                crossed(laid.size),
                laid.from_end,
                laid.from_edge
            );
            Row {
                cells: vec![
                    Cell::Text(id.clone()),
                    Cell::Count(board.which),
                    Cell::Text(name),
                    number(laid.size.along),
                    number(laid.size.across),
                    number(laid.from_end),
                    number(laid.from_edge),
                    Cell::Nothing,
                ],
                told: if at == 0 { vec![head.clone(), place] } else { vec![place] },
            }
        };
        board.pieces.iter().enumerate().map(row).collect()
    }

    /// What is left of the boards that are cut.
    pub(super) fn left_over(&self) -> Table {
        let rows = self.planned.cutting.boards.iter().flat_map(|board| {
            board.left.iter().map(|left| {
                let Rectangle { along, across } = left.size;
                let size = format!(
                    "size = {{ length = {along:.0}, width = {across:.0}, thick = {:.0} }}",
                    board.thick
                );
                let id = one_line(&board.item.id.0);
                Row {
                    cells: vec![
                        Cell::Text(id.clone()),
                        Cell::Count(board.which),
                        number(along),
                        number(across),
                        number(board.thick),
                    ],
                    told: vec![format!("of `{id}`, number {}: {size}", board.which)],
                }
            })
        });
        Table {
            name: "left",
            heading: "Left over: a row each for stock.toml, once it is cut".to_owned(),
            columns: &["stock", "board", "length", "width", "thick"],
            rows: rows.collect(),
            shown: &[],
        }
    }

    /// What must pass an opening, and how it does.
    pub(super) fn openings(&self) -> Table {
        openings(&self.planned.openings)
    }
}

/// What must pass an opening, and how it does.
pub(in crate::cli::plan) fn openings(openings: &[Opening]) -> Table {
    let mut rows = Vec::new();
    for Opening { opening, passing } in openings {
        let what = one_line(&opening.what);
        for (at, (of, passes)) in passing.iter().enumerate() {
            let name = match of {
                Passing::Piece => "the whole piece".to_owned(),
                Passing::Folded => "the whole piece, folded".to_owned(),
                Passing::Part(part) => one_line(&part.name),
            };
            let told = how(*passes);
            let mut lines = vec![format!("{name}: {told}")];
            if at == 0 {
                let (width, height) = (opening.width.mm(), opening.height.mm());
                lines.insert(0, format!("{what}, {width:.0} × {height:.0} mm"));
            }
            let spare = match passes {
                Some(Passes::Straight(spare)) => Some(*spare),
                _ => None,
            };
            rows.push(Row {
                cells: vec![
                    Cell::Text(what.clone()),
                    Cell::Text(name),
                    Cell::maybe(*passes, |passes| Cell::Is(passes != Passes::Not)),
                    Cell::maybe(spare, number),
                    Cell::Text(told),
                ],
                told: lines,
            });
        }
        if !passing.is_empty() && passing.iter().all(|(_, passes)| *passes == Some(Passes::Not)) {
            let told = format!("{what} is smaller than all that has to pass it");
            rows.push(Row {
                cells: vec![
                    Cell::Text(what),
                    Cell::Nothing,
                    Cell::Is(false),
                    Cell::Nothing,
                    Cell::Text(told.clone()),
                ],
                told: vec![format!("\t{told}")],
            });
        }
    }
    Table {
        name: "openings",
        heading: "Through the openings, moved straight on; corners and stairs are not reckoned".to_owned(),
        columns: &["opening", "what", "passes", "to-spare", "note"],
        rows,
        shown: &[],
    }
}

fn how(passes: Option<Passes>) -> String {
    match passes {
        Some(Passes::Straight(spare)) => format!("passes, with {spare:.0} mm to spare"),
        Some(Passes::Tilted) => "passes only tilted from corner to corner: measure again".to_owned(),
        Some(Passes::Not) => "does not pass".to_owned(),
        None => "no size of it is told".to_owned(),
    }
}

/// Why a part is cut from no stock, and what to do.
fn lacks(lack: Lack) -> String {
    match lack {
        Lack::Size => {
            "write its `size` with length, width and thick, and it is laid out on the stock".to_owned()
        }
        Lack::Material => "write its `timber` (or `ground`), and it is laid out on the stock".to_owned(),
        Lack::NoStock => {
            "nothing in stock.toml is of its material with a `size`, and left: buy it, or write it there"
                .to_owned()
        }
        Lack::Thin(thick) => {
            format!("the thickest of its material in stock has {thick:.0} mm, too little to plane")
        }
        Lack::Small(size) => format!("nothing in stock gives {} mm of it in one piece", crossed(size)),
        Lack::Few => "there is not enough of it in stock, with those cut that come first".to_owned(),
    }
}

fn crossed(size: Rectangle) -> String {
    format!("{:.0} × {:.0}", size.along, size.across)
}
