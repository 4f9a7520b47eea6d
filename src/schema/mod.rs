//! The vocabulary: every block, field and result, each once, known by its id.
//!
//! Readers, checks, overrides, lists, completion, machine output and `why` all read these tables. Nothing here
//! knows of recipes or of how anything is computed.

mod block;
mod example;
mod field;
mod fields;
mod result;
mod results;
mod subject;
mod takes;

pub use block::{BlockId, Naming};
pub use example::example;
pub use field::{
    Field, find, find_in_blocks, held_by, held_in_block, held_in_blocks, held_under, matching,
    of_band, of_blocks,
};
pub(crate) use field::{PLACED, Under};
pub use fields::{FORMS, FieldId, PROFILES};
pub use result::{Need, ResultRow, Room, find_result, matching_results};
pub use results::{RESULTS, ResultId};
pub use subject::{Subject, find_subject};
pub use takes::Takes;
