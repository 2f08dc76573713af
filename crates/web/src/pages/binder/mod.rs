//! I want binder from what is in the fridge.

pub(crate) mod ahead;
