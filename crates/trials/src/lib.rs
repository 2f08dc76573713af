//! Learning from boards. [`causes`] weighs why a single board failed from what its painter saw.
#![forbid(unsafe_code)]

pub mod causes;
