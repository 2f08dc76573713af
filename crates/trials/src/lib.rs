//! Learning from boards. [`plan`] lays out a trial of boards and checks it for tangles before anything is mixed, [`scales`] says how boards
//! are read, [`blind`] hides which board is which, [`looks`] says when to look again, [`answer`] reads what the boards say together, and
//! [`causes`] weighs why a single board failed.
#![forbid(unsafe_code)]

pub mod answer;
pub mod blind;
pub mod causes;
pub mod looks;
pub mod plan;
pub mod scales;
