//! Learning from boards. [`causes`] weighs why a single board failed from what its painter saw; [`answer`] reads what the boards of
//! a trial say together.
#![forbid(unsafe_code)]

pub mod answer;
pub mod causes;
