//! Planning a trial of boards, and checking it for tangles before anything is mixed.
//!
//! A trial is typed as text ([`TrialText`]) or wished for by a page ([`StairWish`], [`TwoByTwoWish`], [`CrossedWish`]); either becomes a
//! [`Plan`]: boards with day, pot, sheet, turn and place, in an order drawn from a seed. [`tangles`] then says what the boards can
//! answer, what they can't, and which few boards would mend it.

mod crossed;
mod draft;
mod error;
mod factors;
pub mod limits;
mod model;
mod ready;
mod sheets;
mod tangles;
mod text;
mod typed;

pub use crossed::{CrossedWish, crossed};
pub use draft::About;
pub use error::{PlanError, TextFault, TextFaults};
pub use model::{Better, BoardKind, Control, Job, Note, Often, Part, PartKind, Per, Plan, PlannedBoard, Ready, Setting, Shape, Value, Way};
pub use ready::{StairWish, TwoByTwoWish, stair, two_by_two};
pub use tangles::{Criterion, ExtraBoard, Least, Reading, Table, Tangle, TangleKind, Tangles, tangles};
pub use text::{Limit, Limited, Size, TrialText, TypedBoard};
pub use typed::{USUAL_SEED, typed};
