//! Binder: what the fridge gives, the jars that were begun, and the road of one jar.

pub(crate) mod ahead;
pub(crate) mod list;
pub(crate) mod road;
