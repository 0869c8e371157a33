//! Names that one place gives and another uses: ids of the record, and words of the tables.

mod names;

rules! {
    duplicate_id,
    fixing_kind_unknown,
    term_unknown,
    unknown_finding,
    unknown_finish,
    unknown_material,
    unknown_part,
    unknown_patch,
    unknown_stock,
    unknown_timber,
    unknown_tin,
    unknown_work,
    word_of_several_kinds,
}
