//! The best order of a day for one pair of hands.
//!
//! One machine, chains of jobs with least and longest waits between them, the last end as early as can be: 1 | chains, l_ij | C_max
//! (Wikum, Llewellyn and Nemhauser 1994, "One-machine generalized precedence constrained scheduling problems"; Brucker, "Scheduling
//! Algorithms"). A chain is a pot: preparations, mixing, one block a round. A sequence of blocks fixes a graph of differences, and the
//! earliest times in it are longest paths; a longest wait may push an earlier block later, so a pot is mixed late enough to stay young.

pub(crate) mod after;
pub(crate) mod net;
pub(crate) mod polish;
pub(crate) mod search;
pub(crate) mod times;
