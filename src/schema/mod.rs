//! The vocabulary: every block, field and result, each once, known by its id.
//!
//! Readers, checks, overrides, lists, completion, machine output and `why` all read these tables. Nothing here
//! knows of recipes or of how anything is computed.

mod block;
mod cuts;
mod example;
mod field;
mod fields;
mod find;
mod order_results;
mod result;
mod results;
mod room;
mod rows;
mod subject;
mod takes;

pub use block::{BlockId, Naming};
pub use cuts::{CutKind, DRAWS};
pub use example::example;
pub use fields::{CUTTERS, FORMS, Field, FieldId, PROFILES};
pub(crate) use find::{PLACED, Under};
pub use find::{
    find, find_in_blocks, held_by, held_in_block, held_in_blocks, held_under, matching, named_cut,
};
pub use order_results::{ORDER_RESULTS, OrderResult, OrderRow, find_of_order};
pub use result::{find_result, matching_results};
pub use results::{RESULTS, RestsOn, ResultId, ResultRow};
pub use room::Room;
pub use rows::{of_band, of_blocks};
pub use subject::{Subject, find_subject};
pub use takes::Takes;
